"""Pots small enough to work out by hand, the shape of results, and what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest

from redoxlib.equilibria import (
    SYSTEMS,
    Reaction,
    System,
    equilibrium,
    interhalogen_at_dose,
    interhalogen_fraction,
    system,
)
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.notation import Equation, Phase
from redoxlib.quantity import MOLAR_GAS_VOLUME


def made(*rows: tuple[str, float]) -> System:
    return System.of("made", [Reaction(Equation.parse(text), k) for text, k in rows])


WATER = ("H2O(l) -> H^+(aq) + OH^-(aq)", -14.0)
ACID = ("HCN(aq) -> H^+(aq) + CN^-(aq)", -9.0)


def test_a_weak_acid_follows_its_quadratic() -> None:
    found = equilibrium(made(ACID, WATER), {"HCN(aq)": 0.1})
    # h = cn + kw / h and cn = k (0.1 - cn) / h
    h = float(found.concentration("H^+"))
    assert h**3 + 1e-9 * h**2 - (1e-10 + 1e-14) * h - 1e-23 == pytest.approx(0.0, abs=1e-22)
    assert found.ph == pytest.approx(-math.log10(h), abs=1e-12)


def test_pure_water_is_neutral() -> None:
    found = equilibrium(made(WATER).with_spectators("Na^+(aq)", "Cl^-(aq)"), {"Na^+": 1.0, "Cl^-": 1.0})
    assert found.ph == pytest.approx(7.0, abs=1e-10)


def test_a_fixed_ph_is_held_and_what_the_buffer_gave_is_counted() -> None:
    found = equilibrium(made(ACID, WATER), {"CN^-(aq)": 0.1}, fixed={"pH": 9.0})
    assert found.ph == 9.0
    assert found.concentration("HCN") == pytest.approx(0.05, rel=1e-12)
    hydroxide = float(found.concentration("OH^-"))
    drawn = found.drawn[0, found.system.index("H^+")]
    assert drawn == pytest.approx(0.05 - hydroxide, rel=1e-9)
    assert found.drawn[0, found.system.index("H2O")] == pytest.approx(hydroxide, rel=1e-9)


def test_a_solid_stays_until_it_is_used_up() -> None:
    iodine = made(("I2(s) -> I2(aq)", -3.0))
    found = equilibrium(iodine, {"I2(s)": np.array([0.5e-3, 1e-3, 2e-3])})
    assert found.amount("I2(s)") == pytest.approx([0.0, 0.0, 1e-3], abs=1e-15)
    assert found.concentration("I2(aq)") == pytest.approx([0.5e-3, 1e-3, 1e-3], rel=1e-9)
    assert found.log10_activity_of("I2(s)")[0] == pytest.approx(math.log10(0.5))
    assert found.log10_activity_of("I2(s)")[2] == pytest.approx(0.0, abs=1e-12)


def test_two_gases_share_one_bar_of_bubbles() -> None:
    # Each alone stays dissolved (0.6 bar); together they exceed 1 bar and bubble.
    gases = made(("Cl2(g) -> Cl2(aq)", -1.0), ("CO2(g) -> CO2(aq)", -1.0))
    alone = equilibrium(gases, {"Cl2(aq)": 0.06})
    assert alone.amount("Cl2(g)") == 0.0
    both = equilibrium(gases, {"Cl2(aq)": 0.06, "CO2(aq)": 0.06})
    assert both.amount("Cl2(g)") == pytest.approx(0.01, rel=1e-9)
    assert both.amount("CO2(g)") == pytest.approx(0.01, rel=1e-9)
    assert 10 ** both.log10_activity_of("Cl2(g)") == pytest.approx(0.5, rel=1e-9)


def test_a_closed_gas_space_takes_its_share() -> None:
    gases = made(("Cl2(g) -> Cl2(aq)", -1.0))
    found = equilibrium(gases, {"Cl2(aq)": 0.01}, volume_l=0.5, headspace_l=2.0)
    pressure = 10 ** float(found.log10_activity_of("Cl2(g)"))
    assert found.amount("Cl2(g)") == pytest.approx(pressure * 2.0 / MOLAR_GAS_VOLUME.value, rel=1e-6)
    assert found.concentration("Cl2(aq)") == pytest.approx(0.1 * pressure, rel=1e-9)
    assert found.amount("Cl2(g)") + found.amount("Cl2(aq)") == pytest.approx(0.01, rel=1e-12)


def test_a_gas_supplied_from_outside_needs_no_feed() -> None:
    found = equilibrium("chlorine water, gas", {}, fixed={"Cl2(g)": 0.5})
    assert found.log10_activity_of("Cl2(g)") == pytest.approx(math.log10(0.5))
    given = found.drawn[0, found.system.index("Cl2(g)")]
    assert 2 * given == pytest.approx(found.atoms("Cl"), rel=1e-9)


def test_a_total_of_exactly_nothing_is_no_obstacle() -> None:
    found = equilibrium("bromine-chlorine", {"H^+": 0.1, "Cl^-": 0.1})
    assert found.ph == pytest.approx(1.0, abs=1e-9)
    assert found.amount("Br2(aq)") < 1e-20


def test_shapes_broadcast_and_one_condition_gives_plain_numbers() -> None:
    found = equilibrium(
        "bromine water", {"Br2(aq)": np.array([[0.01], [0.02]])}, fixed={"pH": np.array([2.0, 3.0, 4.0])}
    )
    assert np.shape(found.amount("HBrO")) == (2, 3)
    one = equilibrium("bromine water", {"Br2(aq)": 0.02}, fixed={"pH": 4.0})
    assert isinstance(one.amount("HBrO"), float)
    assert found.amount("HBrO")[1, 2] == pytest.approx(one.amount("HBrO"), rel=1e-10)


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_provided_system_names_its_sources_and_has_independent_reactions(name: str) -> None:
    from redoxlib.data import shipped

    found = system(name)
    assert found.sources
    assert all(key in shipped().sources for key in found.sources)
    rows = np.array([[float(x) for x in row] for row in found.stoichiometry])
    assert np.linalg.matrix_rank(rows) == len(found.reactions)
    assert all(s.phase is not Phase.UNSTATED for s in found.species)
    # No more is conserved than elements and charge: no constant is missing between two of its forms.
    elements = sorted({e for s in found.species for e in s.elements})
    counts = [[float(s.elements.get(e, 0)) for e in elements] + [float(s.charge)] for s in found.species]
    assert len(found.species) - np.linalg.matrix_rank(np.array(counts)) == len(found.reactions)
    assert all(not r.equation.residual() for r in found.reactions)


def test_leaving_a_species_out_keeps_the_other_constants() -> None:
    whole = system("bromine-chlorine")
    small = whole.without("BrCl(aq)", "BrCl2^-(aq)")
    assert len(small.reactions) == len(whole.reactions) - 2
    feed = {"Br2(aq)": 0.01, "H^+": 0.1, "Cl^-": 0.1}
    a, b = equilibrium(whole, feed), equilibrium(small, feed)
    for found in (a, b):
        bromine = found.log10_activity_of("Br3^-") - found.log10_activity_of("Br2(aq)")
        assert bromine - found.log10_activity_of("Br^-") == pytest.approx(math.log10(16.1), abs=1e-9)
    assert b.amount("Br2(aq)") != a.amount("Br2(aq)")


def test_constants_can_be_replaced_for_sampling() -> None:
    whole = system("bromine water")
    weaker = whole.with_log10_k(
        [r.log10_k - (1.0 if "HBrO" in str(r.equation) else 0.0) for r in whole.reactions]
    )
    feed = {"Br2(aq)": 0.01}
    assert equilibrium(weaker, feed).amount("HBrO") < equilibrium(whole, feed).amount("HBrO")
    with pytest.raises(DomainError, match="1 constants for 4 reactions"):
        whole.with_log10_k([1.0])


def test_excess_over_the_dose_turns_into_mixed_halogen() -> None:
    shares = interhalogen_at_dose(np.array([0.0, 0.1, 0.2]))
    assert list(shares) == sorted(shares)
    assert interhalogen_at_dose(0.1, chloride_molar=0.01) < interhalogen_at_dose(0.1, chloride_molar=3.0)
    with pytest.raises(DomainError, match="halogen must be Br or I, not 'Cl'"):
        interhalogen_at_dose(0.1, halogen="Cl")


def test_complexes_of_the_free_halogen_do_not_count_as_mixed() -> None:
    found = equilibrium("bromine-chlorine", {"Br2(aq)": 0.01, "H^+": 1.0, "Cl^-": 1.0})
    mixed = found.amount("BrCl(aq)") + found.amount("BrCl2^-")
    assert found.amount("Br2Cl^-") > 3 * mixed
    assert interhalogen_fraction(found) == pytest.approx(mixed / 0.02, rel=1e-9)
    with pytest.raises(DomainError, match="has no mixed halogen of Br"):
        interhalogen_fraction(equilibrium("bromine water", {"Br2(aq)": 0.01}))
    with pytest.raises(DomainError, match="no Br in the pot"):
        interhalogen_fraction(equilibrium("bromine-chlorine", {"H^+": 0.1, "Cl^-": 0.1}))


def test_a_composition_prints_what_is_there() -> None:
    lines = str(equilibrium("iodine water", {"I2(s)": 1.0})).splitlines()
    assert lines[0].split() == ["I2(s)", "9.987e-01", "mol"]
    assert lines[1].split() == ["I2(aq)", "1.340e-03", "mol/L"]
    assert not any(line.startswith("H2O") for line in lines)


class TestRefusals:
    def test_error_when_the_feed_is_charged(self) -> None:
        with pytest.raises(DomainError) as caught:
            equilibrium("bromine water", {"Br^-(aq)": 0.1})
        assert caught.value.message == "the feed carries a charge of -0.1 mol"

    @pytest.mark.parametrize("amount", [-1.0, float("nan"), float("inf")])
    def test_error_when_an_amount_is_none(self, amount: float) -> None:
        with pytest.raises(DomainError, match="every amount must be a number of mol, 0 or more"):
            equilibrium("bromine water", {"Br2(aq)": amount})

    def test_error_when_nothing_was_put_in(self) -> None:
        with pytest.raises(DomainError, match="nothing was put in"):
            equilibrium("bromine water", {})

    def test_error_when_a_species_is_not_of_the_system(self) -> None:
        with pytest.raises(DomainError) as caught:
            equilibrium("bromine water", {"Na^+(aq)": 0.1})
        assert caught.value.message == "Na^+(aq) is not in the system 'bromine water'"
        assert "with_spectators" in str(caught.value)

    def test_error_when_the_system_is_unknown(self) -> None:
        with pytest.raises(DomainError, match="no system 'bromine'"):
            system("bromine")

    def test_error_when_a_gibbs_energy_is_missing(self) -> None:
        with pytest.raises(MissingDataError, match="no Gibbs energy of IBr"):
            System.from_formation("x", ["IBr(aq)", "I2(aq)", "Br2(aq)"])

    def test_error_when_what_is_fixed_leaves_no_freedom(self) -> None:
        with pytest.raises(DomainError, match="are not independent"):
            equilibrium("bromine water", {"Br2(aq)": 0.1}, fixed={"pH": 7.0, "OH^-": 1e-7})

    def test_error_when_a_fixed_activity_is_not_positive(self) -> None:
        with pytest.raises(DomainError, match=r"activity of Br\^- must be above 0"):
            equilibrium("bromine water", {"Br2(aq)": 0.1}, fixed={"Br^-": 0.0})

    def test_error_when_volumes_make_no_sense(self) -> None:
        with pytest.raises(DomainError, match="volume_l must be above 0"):
            equilibrium("bromine water", {"Br2(aq)": 0.1}, volume_l=0.0)
        with pytest.raises(DomainError, match="for all conditions or for none"):
            equilibrium("cyanide", {"HCN(aq)": 0.1}, headspace_l=np.array([0.0, 1.0]))

    def test_error_when_a_reaction_does_not_balance(self) -> None:
        with pytest.raises(DomainError, match="does not balance"):
            made(("Br2(aq) -> Br^-(aq)", 1.0))
        with pytest.raises(DomainError, match="needs a phase"):
            made(("Br2 -> Br2(aq)", 1.0))
