"""Laws of every equilibrium: nothing is lost, every constant holds, and the way there does not matter."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from redoxlib.equilibria import SYSTEMS, Composition, System, equilibrium, system
from redoxlib.notation import Equation, Phase

INERT = ("Na^+(aq)", "ClO4^-(aq)")
NAMES = st.sampled_from(SYSTEMS)
AMOUNTS = st.one_of(st.just(0.0), st.floats(-6.0, 0.5).map(lambda x: 10.0**x))


def pot(name: str) -> System:
    return system(name).with_spectators(*INERT)


@st.composite
def feeds(draw: st.DrawFn) -> tuple[System, dict[str, float]]:
    """A system with any amounts of any of its species, made neutral by ions that do not react."""
    chosen = pot(draw(NAMES))
    feed = {str(s): draw(AMOUNTS) for s in chosen.species if str(s) not in ("H2O(l)", *INERT)}
    charge = sum(chosen.find(name).charge * x for name, x in feed.items())
    salt = 1e-3
    return chosen, {**feed, INERT[0]: salt + max(-charge, 0.0), INERT[1]: salt + max(charge, 0.0)}


def same(a: Composition, b: Composition, factor: float = 1.0) -> None:
    for s in a.system.species:
        whole = float(np.sum(a.mol))
        assert b.amount(s) == pytest.approx(factor * a.amount(s), rel=1e-6, abs=1e-11 * factor * whole), s


class TestNothingIsLost:
    @given(feeds())
    def test_elements_and_charge_close_to_1e_10(self, made: tuple[System, dict[str, float]]) -> None:
        chosen, feed = made
        assert equilibrium(chosen, feed).closure < 1e-10

    @given(feeds(), st.floats(0.0, 14.0))
    def test_also_when_a_buffer_holds_the_ph(self, made: tuple[System, dict[str, float]], ph: float) -> None:
        chosen, feed = made
        assert equilibrium(chosen, feed, fixed={"pH": ph}).closure < 1e-10

    @given(feeds())
    def test_elements_counted_apart_from_the_library_agree(
        self, made: tuple[System, dict[str, float]]
    ) -> None:
        chosen, feed = made
        found = equilibrium(chosen, feed)
        for element in {e for s in chosen.species for e in s.elements} - {"H", "O"}:
            before = sum(x * float(chosen.find(n).elements.get(element, 0)) for n, x in feed.items())
            assert found.atoms(element) == pytest.approx(before, rel=1e-10, abs=1e-20)


class TestEveryConstantHolds:
    @given(feeds(), st.sampled_from([0.0, 1.0]))
    def test_mass_action_and_saturation(self, made: tuple[System, dict[str, float]], space: float) -> None:
        chosen, feed = made
        found = equilibrium(chosen, feed, headspace_l=space, volume_l=0.7)
        logs = np.array([found.log10_activity_of(s) for s in chosen.species])
        for row, reaction in zip(chosen.stoichiometry, chosen.reactions, strict=True):
            assert float(np.array(row, dtype=float) @ logs) == pytest.approx(reaction.log10_k, abs=1e-8)
        bubbles = 0.0
        for s, log in zip(chosen.species, logs, strict=True):
            if s.phase is Phase.AQUEOUS and found.amount(s) > 1e-25:
                assert np.log10(found.concentration(s)) == pytest.approx(log, abs=1e-9)
            elif s.phase is Phase.SOLID or (s.phase is Phase.LIQUID and str(s) != "H2O(l)"):
                assert log < 1e-9
                assert log == pytest.approx(0.0, abs=1e-9) or found.amount(s) == 0.0
            elif s.phase is Phase.GAS and not space:
                bubbles += 10.0**log
        assert bubbles < 1.0 + 1e-9


class TestTheWayThereDoesNotMatter:
    @given(feeds())
    def test_what_came_out_put_in_again_comes_out_again(self, made: tuple[System, dict[str, float]]) -> None:
        chosen, feed = made
        first = equilibrium(chosen, feed)
        again = equilibrium(chosen, {str(s): first.amount(s) for s in chosen.species})
        same(first, again)

    @given(feeds(), st.floats(-3.0, 3.0))
    def test_more_of_everything_is_more_of_the_same(
        self, made: tuple[System, dict[str, float]], log_factor: float
    ) -> None:
        chosen, feed = made
        factor = 10.0**log_factor
        more = {name: factor * x for name, x in feed.items()}
        same(equilibrium(chosen, feed), equilibrium(chosen, more, volume_l=factor), factor)

    @given(feeds(), st.randoms())
    def test_order_and_direction_of_reactions_and_species(
        self, made: tuple[System, dict[str, float]], random: object
    ) -> None:
        chosen, feed = made
        reactions, species = list(chosen.reactions), list(chosen.species)
        random.shuffle(reactions)  # type: ignore[attr-defined]
        random.shuffle(species)  # type: ignore[attr-defined]
        back = reactions[0]
        reactions[0] = replace(
            back,
            equation=Equation.of(back.equation.products, back.equation.reactants),
            log10_k=-back.log10_k,
        )
        turned = replace(chosen, species=tuple(species), reactions=tuple(reactions))
        same(equilibrium(chosen, feed), equilibrium(turned, feed))

    @given(NAMES, st.integers(0, 10_000))
    def test_many_conditions_at_once_are_the_same_as_one_by_one(self, name: str, seed: int) -> None:
        chosen = pot(name)
        chance = np.random.default_rng(seed)
        feed = {
            str(s): 10.0 ** chance.uniform(-5, 0, 7) * (chance.random(7) < 0.5)
            for s in chosen.species
            if str(s) not in ("H2O(l)", *INERT)
        }
        charge = np.sum([chosen.find(n).charge * x for n, x in feed.items()], axis=0)
        feed |= {INERT[0]: 1e-3 + np.maximum(-charge, 0), INERT[1]: 1e-3 + np.maximum(charge, 0)}
        together = equilibrium(chosen, feed)
        for i in (0, 6):
            one = equilibrium(chosen, {n: float(x[i]) for n, x in feed.items()})
            for s in chosen.species:
                assert together.amount(s)[i] == pytest.approx(one.amount(s), rel=1e-6, abs=1e-11)


FORTY = System.from_formation(
    "forty species",
    [
        "H2O(l)",
        "H^+(aq)",
        "OH^-(aq)",
        "Cl^-(aq)",
        "Cl2(aq)",
        "Cl2(g)",
        "HClO(aq)",
        "ClO^-(aq)",
        "Br^-(aq)",
        "Br2(aq)",
        "Br2(l)",
        "Br3^-(aq)",
        "HBrO(aq)",
        "BrO^-(aq)",
        "BrCl(aq)",
        "BrCl2^-(aq)",
        "Br2Cl^-(aq)",
        "I^-(aq)",
        "I2(aq)",
        "I2(s)",
        "I3^-(aq)",
        "HIO(aq)",
        "IO^-(aq)",
        "ICl(aq)",
        "ICl2^-(aq)",
        "IO3^-(aq)",
        "SO4^2-(aq)",
        "HSO4^-(aq)",
        "Mn^2+(aq)",
        "MnO2(s)",
        "MnO4^-(aq)",
        "Mn(OH)2(s)",
        "O2(aq)",
        "O2(g)",
        "H2O2(aq)",
        "HO2^-(aq)",
        "CO2(aq)",
        "HCO3^-(aq)",
        "CO3^2-(aq)",
        "CO2(g)",
        "NH3(aq)",
        "NH4^+(aq)",
        "NH2Cl(aq)",
    ],
).with_spectators(*INERT)


class TestForFortySpecies:
    @given(st.integers(0, 10**9), st.booleans(), st.booleans())
    # Mixtures in which long steps and sweeps chase each other in a circle.
    @example(317185782, False, True)
    @example(649421745, False, False)
    @example(973694259, False, True)
    @example(1354862962, False, True)
    @example(1778837931, False, True)
    @example(2066938555, False, True)
    def test_any_mixture_of_oxidants_reductants_solids_and_gases_settles(
        self, seed: int, closed: bool, buffered: bool
    ) -> None:
        chance = np.random.default_rng(seed)
        feed = {
            str(s): 10.0 ** chance.uniform(-8, 0.5, 40) * (chance.random(40) < 0.3)
            for s in FORTY.species
            if str(s) not in ("H2O(l)", *INERT)
        }
        charge = np.sum([FORTY.find(n).charge * x for n, x in feed.items()], axis=0)
        feed |= {INERT[0]: 1e-3 + np.maximum(-charge, 0), INERT[1]: 1e-3 + np.maximum(charge, 0)}
        fixed = {"pH": chance.uniform(0, 14, 40)} if buffered else None
        found = equilibrium(FORTY, feed, fixed=fixed, headspace_l=0.5 * closed)
        assert found.closure < 1e-10
        assert found.steps < 150
        for s in FORTY.species:
            if s.phase in (Phase.SOLID, Phase.LIQUID) and str(s) != "H2O(l)":
                present = found.amount(s) > 0
                assert np.max(found.log10_activity_of(s)) < 1e-9
                assert np.all(np.abs(found.log10_activity_of(s)[present]) < 1e-9)
