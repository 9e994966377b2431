"""Concentrations with units, pressures, and the Davies equation with its limit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.errors import DomainError, UnitError
from redoxlib.quantity import Quantity

IRON = "Fe^3+ + e^- -> Fe^2+"
CHLORINE = "Cl2(g) + 2 e^- -> 2 Cl^-"


@pytest.mark.parametrize(
    "amount", [0.01, "0.01 mol/L", "10 mmol/L", "0.01 mol/kg", Quantity(10, "mmol/kg"), "0.01 M"]
)
def test_a_concentration_counts_in_any_unit(amount: float | str | Quantity) -> None:
    moved = thermo.potential(IRON, activities={"Fe^3+": amount})
    assert moved.value == pytest.approx(thermo.potential(IRON, activities={"Fe^3+": 0.01}).value)


@pytest.mark.parametrize("amount", [0.2, "0.2 bar", "20 kPa", "20000 Pa"])
def test_a_pressure_counts_in_any_unit(amount: float | str) -> None:
    expected = thermo.potential(CHLORINE).value + 0.0591597 / 2 * math.log10(0.2)
    assert thermo.potential(CHLORINE, activities={"Cl2(g)": amount}).value == pytest.approx(
        expected, abs=1e-6
    )


def test_what_was_taken_as_activity_is_said() -> None:
    plain = thermo.potential(IRON, activities={"Fe^3+": "1 mmol/L"})
    assert plain.remarks == ("concentrations taken as activities: no ionic strength was given",)
    model = thermo.potential(IRON, activities={"Fe^3+": "1 mmol/L"}, ionic_strength=0.1)
    assert "Davies" in model.remarks[0]
    assert "limit 0.5 mol/kg" in model.remarks[0]
    assert thermo.potential(IRON, activities={"Fe^3+": 0.001}).remarks == ()


def test_ionic_strength_moves_concentrations_and_leaves_activities_alone() -> None:
    both = {"Fe^3+": "1 mmol/L", "Fe^2+": "1 mmol/L"}
    moved = thermo.potential(IRON, activities=both, ionic_strength=0.1).value - thermo.potential(IRON).value
    gammas = [thermo.activity_coefficient(z, 0.1).value for z in (3, 2)]
    assert moved == pytest.approx(0.0591597 * math.log10(gammas[0] / gammas[1]), abs=1e-6)
    bare = {"Fe^3+": 0.001, "Fe^2+": 0.001}
    assert thermo.potential(IRON, activities=bare, ionic_strength=0.1).value == pytest.approx(
        thermo.potential(IRON).value
    )


@pytest.mark.parametrize(
    ("activities", "error", "says"),
    [
        ({"Cl2(g)": "0.1 mol/L"}, UnitError, "is a gas"),
        ({"Cl^-": "0.1 bar"}, UnitError, "is dissolved"),
        ({"Cl^-": "3 g"}, UnitError, "no concentration"),
        ({"Cl^-": "-1 mol/L"}, DomainError, "more than zero"),
        ({"Na^+": "1 mol/L"}, DomainError, "takes no part"),
    ],
)
def test_an_amount_of_the_wrong_kind_is_refused(
    activities: dict[str, str], error: type[Exception], says: str
) -> None:
    with pytest.raises(error, match=says):
        thermo.potential(CHLORINE, activities=activities)


def test_a_pure_phase_has_no_concentration() -> None:
    with pytest.raises(DomainError, match="pure phase"):
        thermo.potential("Cu^2+ + 2 e^- -> Cu(s)", activities={"Cu(s)": "1 mol/L"})


def test_a_ph_and_an_activity_of_protons_contradict_each_other() -> None:
    half = "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"
    with pytest.raises(DomainError, match="both given"):
        thermo.potential(half, ph=2, activities={"H^+": 0.1})
    by_activity = thermo.potential(half, activities={"H^+": 0.01})
    assert by_activity.value == pytest.approx(thermo.potential(half, ph=2).value)


@pytest.mark.parametrize("strength", [0.5001, 1.0, Quantity(0.6, "mol/kg"), -0.1, float("nan")])
def test_beyond_its_limit_the_model_refuses(strength: float | Quantity) -> None:
    with pytest.raises(DomainError):
        thermo.activity_coefficient(1, strength)
    with pytest.raises(DomainError):
        thermo.potential(IRON, activities={"Fe^3+": "1 mmol/L"}, ionic_strength=strength)
    with pytest.raises(DomainError):
        thermo.potential(IRON, ionic_strength=strength)


class TestDavies:
    """Limits and symmetry of the equation."""

    @given(st.integers(-4, 4), st.floats(0, 0.5))
    def test_sign_of_charge_does_not_matter_and_charge_counts_squared(self, z: int, strength: float) -> None:
        gamma = thermo.activity_coefficient(z, strength).value
        assert gamma == thermo.activity_coefficient(-z, strength).value
        assert math.log10(gamma) == pytest.approx(
            z * z * math.log10(thermo.activity_coefficient(1, strength).value), abs=1e-12
        )

    def test_infinite_dilution_and_neutral_species_are_ideal(self) -> None:
        assert thermo.activity_coefficient(3, 0.0).value == 1.0
        assert thermo.activity_coefficient(3, 0.0).uncertainty == 0.0
        assert thermo.activity_coefficient(0, 0.4).value == 1.0

    def test_very_dilute_solutions_follow_the_limiting_law(self) -> None:
        strength = 1e-6
        law = 10 ** (-0.509 * math.sqrt(strength))
        assert thermo.activity_coefficient(1, strength).value == pytest.approx(law, abs=2e-6)

    def test_warm_water_screens_less(self) -> None:
        cold, warm = (thermo.activity_coefficient(2, 0.1, temperature=t).value for t in (283.15, 343.15))
        assert warm < cold


def test_ionic_strength_of_a_mixture() -> None:
    found = thermo.ionic_strength({"Na^+": "0.2 mol/L", "SO4^2-": 0.1, "HClO": 0.5})
    assert found.value == pytest.approx(0.3)
    assert found.unit == "mol/kg"
    with pytest.raises(DomainError):
        thermo.ionic_strength({"Na^+": -0.2})


def test_a_fractional_half_reaction_has_the_potential_of_the_whole_one() -> None:
    whole = thermo.potential("Cl2(g) + 2 e^- -> 2 Cl^-")
    part = thermo.potential("1/4 Cl2(g) + 1/2 e^- -> 1/2 Cl^-")
    assert part.value == pytest.approx(whole.value)
    assert float(part.electrons) == 0.5


def test_a_cell_is_the_difference_of_its_couples_with_the_gibbs_energy_beside_it() -> None:
    cell = thermo.potential("Zn(s) + Cu^2+ -> Zn^2+ + Cu(s)", activities={"Zn^2+": 0.1})
    couples = (
        thermo.potential("Cu^2+ + 2 e^- -> Cu(s)").value
        - thermo.potential("Zn^2+ + 2 e^- -> Zn(s)", activities={"Zn^2+": 0.1}).value
    )
    assert cell.value == pytest.approx(couples)
    assert cell.alternatives[0].value == pytest.approx(couples, abs=0.01)
    assert cell.alternatives[0].value != cell.value
