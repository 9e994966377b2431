"""Thermochemistry answers for the equation as written and says what it does not know."""

from __future__ import annotations

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.errors import AmbiguousSpeciesError, DomainError, MissingDataError, NotationError
from redoxlib.notation import Equation, Species

PEROXIDE = "H2O2(aq) + 2 Br^- + 2 H^+ -> Br2(l) + 2 H2O"
PERMANGANATE = "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"
COUPLES = sorted(shipped().couples)


def _both_known(text: str) -> bool:
    try:
        thermo.gibbs(text)
        thermo.enthalpy(text)
        thermo.entropy(text)
    except MissingDataError:
        return False
    return True


TABULATED = [shipped().couples[name].half_reaction for name in COUPLES]
COMPLETE = [text for text in TABULATED if _both_known(text)]


def test_there_are_half_reactions_to_draw_from() -> None:
    assert len(COMPLETE) > 50


def test_unstated_phases_of_ions_and_water_need_no_asking() -> None:
    assert thermo.enthalpy("H^+ + OH^- -> H2O").value == pytest.approx(-55.8, abs=0.1)


def test_an_open_phase_is_asked_for_with_the_choices() -> None:
    with pytest.raises(AmbiguousSpeciesError) as caught:
        thermo.enthalpy("2 Br^- + H2O2(aq) + 2 H^+ -> Br2 + 2 H2O")
    assert {"Br2(l)", "Br2(aq)", "Br2(g)"} <= set(caught.value.choices)


def test_a_missing_number_says_what_and_where() -> None:
    with pytest.raises(MissingDataError) as caught:
        thermo.enthalpy("C3Cl3N3O3(s) + 3 H2O -> C3H3N3O3(s) + 3 HClO(aq)")
    assert "formation.csv" in caught.value.looked_in
    assert "C3Cl3N3O3" in caught.value.what


def test_an_unbalanced_equation_is_refused() -> None:
    with pytest.raises(NotationError, match="does not balance"):
        thermo.gibbs("Br^- + H2O2(aq) -> Br2(l) + H2O")


def test_a_species_on_both_sides_brings_no_uncertainty() -> None:
    plain = thermo.enthalpy(PEROXIDE)
    padded = thermo.enthalpy("H2O2(aq) + 2 Br^- + 2 H^+ + Cl^- -> Br2(l) + 2 H2O + Cl^-")
    assert padded.value == pytest.approx(plain.value)
    assert padded.uncertainty == pytest.approx(plain.uncertainty)


class TestScaling:
    """Scaling an equation scales its energies and leaves its potential alone."""

    @given(st.sampled_from(COMPLETE), st.integers(1, 9))
    def test_energies_scale(self, text: str, factor: int) -> None:
        equation = Equation.parse(text)
        for verb in (thermo.gibbs, thermo.enthalpy, thermo.entropy):
            assert verb(equation.scaled(factor)).value == pytest.approx(
                factor * verb(equation).value, abs=1e-6
            )

    @given(st.sampled_from(COMPLETE), st.integers(1, 9))
    def test_potentials_do_not(self, text: str, factor: int) -> None:
        equation = Equation.parse(text)
        assert thermo.potential(equation.scaled(factor)).value == pytest.approx(
            thermo.potential(equation).value
        )


class TestReversal:
    """A reversed equation has the opposite energy; a couple keeps its reduction potential."""

    @given(st.sampled_from(COMPLETE))
    def test_reversal(self, text: str) -> None:
        forward = Equation.parse(text)
        backward = Equation.of(forward.products, forward.reactants)
        assert thermo.gibbs(backward).value == pytest.approx(-thermo.gibbs(forward).value)
        assert thermo.potential(backward).value == pytest.approx(thermo.potential(forward).value)


class TestCyclesClose:
    """G = H - T S for every half-reaction, within the joint uncertainty of the rows."""

    @given(st.sampled_from(COMPLETE))
    def test_cycle(self, text: str) -> None:
        g, h, s = thermo.gibbs(text), thermo.enthalpy(text), thermo.entropy(text)
        gap = g.value - (h.value - thermo.T0 * s.value / 1000)
        allowed = 2 * ((g.uncertainty or 0) + (h.uncertainty or 0) + 0.3 * (s.uncertainty or 0)) + 1.0
        assert abs(gap) <= allowed


def test_a_couple_answers_by_name_and_by_half_reaction() -> None:
    name = next(k for k, c in shipped().couples.items() if c.half_reaction.startswith("MnO4^-(aq) + 8 H^+"))
    assert thermo.potential(name).value == thermo.potential(PERMANGANATE).value
    assert thermo.potential(name).alternatives


def test_the_nernst_slope_of_permanganate_in_ph() -> None:
    drop = thermo.potential(PERMANGANATE).value - thermo.potential(PERMANGANATE, ph=2).value
    assert drop == pytest.approx(2 * 8 / 5 * 0.05916, abs=1e-4)


def test_activities_move_a_potential_as_the_nernst_equation_says() -> None:
    tenfold = thermo.potential("Fe^3+ + e^- -> Fe^2+", activities={"Fe^3+": 0.1})
    assert tenfold.value == pytest.approx(thermo.potential("Fe^3+ + e^- -> Fe^2+").value - 0.05916, abs=1e-5)


@pytest.mark.parametrize("activities", [{"Fe^3+": 0.0}, {"Fe^3+": -1.0}, {"Cu^2+": 0.1}])
def test_an_activity_must_be_positive_and_take_part(activities: dict[str, float]) -> None:
    with pytest.raises(DomainError):
        thermo.potential("Fe^3+ + e^- -> Fe^2+", activities=activities)


def test_an_equilibrium_constant_keeps_its_logarithm() -> None:
    k = thermo.equilibrium_constant("5 Fe^2+ + MnO4^- + 8 H^+ -> 5 Fe^3+ + Mn^2+ + 4 H2O")
    g = thermo.gibbs("5 Fe^2+ + MnO4^- + 8 H^+ -> 5 Fe^3+ + Mn^2+ + 4 H2O")
    assert k.log10 == pytest.approx(-g.value / 5.708, rel=1e-3)


@pytest.mark.parametrize(
    ("species", "ph", "form"),
    [
        ("HClO", 5, "HClO(aq)"),
        ("HClO", 9, "ClO^-(aq)"),
        ("CN^-", 8, "HCN(aq)"),
        ("CN^-", 11, "CN^-(aq)"),
        ("S^2-", 11, "HS^-(aq)"),
        ("S^2-", 14, "HS^-(aq)"),
        ("Fe^3+", 0, "Fe^3+(aq)"),
        ("Fe^3+", 7, "Fe(OH)3(s)"),
        ("Mn^2+", 7, "Mn^2+(aq)"),
        ("Br^-", 7, "Br^-"),
    ],
)
def test_the_form_really_there_at_a_ph(species: str, ph: float, form: str) -> None:
    assert str(thermo.stable_form(Species.parse(species), ph)) == form


def test_dilution_keeps_a_metal_ion_dissolved_longer() -> None:
    manganese = Species.parse("Mn^2+")
    assert str(thermo.stable_form(manganese, 9.0)) == "Mn(OH)2(s)"
    assert str(thermo.stable_form(manganese, 9.0, activity=1e-5)) == "Mn^2+(aq)"


def test_the_uncertainty_of_a_constant_follows_that_of_its_gibbs_energy() -> None:
    text = "AgCl(s) -> Ag^+ + Cl^-"
    k, dg = thermo.equilibrium_constant(text), thermo.gibbs(text)
    spread = (dg.uncertainty or 0.0) * 1000 / (8.31446261815324 * 298.15 * log(10))
    assert k.log10_uncertainty == pytest.approx(spread, rel=1e-9)
    assert k.uncertainty == pytest.approx(k.value * log(10) * spread, rel=1e-9)
    assert str(k).startswith("log10 K = -9.7")


def test_a_temperature_may_be_text() -> None:
    assert thermo.gibbs("H2O(l) -> H2O(g)", temperature="50 C") == thermo.gibbs(
        "H2O(l) -> H2O(g)", temperature=323.15
    )


class TestWhatIsAssumedOfTheSpecies:
    """A phase that was left out and a salt in water are settled, and the answer says how."""

    def test_a_salt_in_water_is_its_ions(self) -> None:
        full = thermo.enthalpy("HCl(aq) + NaOH(aq) -> NaCl(aq) + H2O(l)")
        assert full.value == thermo.enthalpy("H^+ + OH^- -> H2O").value
        assert full.remarks == ("HCl(aq), NaOH(aq), NaCl(aq) counted as ions at infinite dilution",)

    def test_both_protons_of_sulfuric_acid(self) -> None:
        full = thermo.gibbs("2 NaBr(aq) + H2O2(aq) + H2SO4(aq) -> Br2(l) + 2 H2O(l) + Na2SO4(aq)")
        ionic = thermo.gibbs("2 Br^- + H2O2(aq) + 2 H^+ -> Br2(l) + 2 H2O")
        assert full.value == pytest.approx(ionic.value)
        assert full.uncertainty == pytest.approx(ionic.uncertainty)

    def test_a_hydrate_leaves_its_water(self) -> None:
        heat = thermo.enthalpy("CuSO4.5H2O(s) -> CuSO4.5H2O(aq)")
        ions = thermo.enthalpy("CuSO4.5H2O(s) -> Cu^2+ + SO4^2- + 5 H2O(l)")
        assert heat.value == pytest.approx(ions.value)

    @pytest.mark.parametrize("text", ["CH3COOH(aq)", "H2O2(aq)", "NH3(aq)", "HClO(aq)"])
    def test_what_the_tables_hold_in_water_stays_whole(self, text: str) -> None:
        assert thermo.enthalpy(f"{text} -> {text}").remarks == ()

    @pytest.mark.parametrize("text", ["HgCl2(aq) -> HgCl2(s)", "Al(OH)3(aq) -> Al(OH)3(s)"])
    def test_molecules_and_weak_bases_are_not_taken_apart(self, text: str) -> None:
        with pytest.raises(MissingDataError):
            thermo.enthalpy(text)

    def test_a_phase_that_was_chosen_is_told(self) -> None:
        heat = thermo.enthalpy("HCl + NaOH -> NaCl + H2O")
        assert heat.remarks == (
            "phase not stated: HCl read as HCl(g), NaOH read as NaOH(s), NaCl read as NaCl(s); "
            "the tables hold no other",
        )
