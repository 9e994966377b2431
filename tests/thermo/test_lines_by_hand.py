"""Temperature, forms, unstated phases and uncertainties, against sums written out by hand."""

from __future__ import annotations

from math import log, log10

import pytest

from redoxlib import thermo
from redoxlib.data import Tables, shipped
from redoxlib.errors import AmbiguousSpeciesError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

from ._own import NOTEBOOK, americium


def _own(*rows: tuple[str, str, float, str]) -> Tables:
    return shipped().with_rows(
        sources=[NOTEBOOK],
        formation=[
            {
                "species": species,
                "property": prop,
                "value": value,
                "unit": unit,
                "uncertainty": 1.0,
                "basis": "estimate",
                "source": "mine",
                "family": "mine",
            }
            for species, prop, value, unit in rows
        ],
    )


def _cp(text: str) -> float:
    return thermo.value(Species.parse(text), "Cp").value


@pytest.mark.parametrize(
    ("kelvin", "exponent"),
    [
        # Relative permittivity 87.740 - 0.40008 t + 9.398e-4 t^2 - 1.410e-6 t^3, t in C: 78.3033 at 25,
        # 87.740 at 0, 69.9093 at 50, 59.6573 at 85.  The slope is 0.509 (78.3033 x 298.15 / (e T))^1.5:
        # 0.48938, 0.53473 and 0.58136; and 0.1^(1/2) / (1 + 0.1^(1/2)) - 0.03 is 0.210253.
        (273.15, -0.10289),
        (323.15, -0.11243),
        (358.15, -0.12223),
    ],
)
def test_the_davies_slope_moves_with_the_permittivity_of_water(kelvin: float, exponent: float) -> None:
    gamma = thermo.activity_coefficient(1, 0.1, temperature=kelvin)
    assert log10(gamma.value) == pytest.approx(exponent, abs=2e-5)
    assert gamma.sources == ("davies1962", "malmberg1956")


@pytest.mark.parametrize("kelvin", [278.15, 350.0])
def test_an_entropy_moves_by_the_heat_capacities_times_the_log_of_the_temperatures(kelvin: float) -> None:
    cold, warm = (thermo.entropy("H^+ + OH^- -> H2O", temperature=t).value for t in (298.15, kelvin))
    capacity = _cp("H2O(l)") - _cp("OH^-(aq)")
    assert capacity > 100
    assert warm - cold == pytest.approx(capacity * log(kelvin / 298.15))


def test_an_energy_whose_enthalpy_is_missing_falls_with_the_entropy() -> None:
    own = _own(("Mn^3+(aq)", "S", -290.0, "J/(mol K)"))
    half = "Mn^3+ + e^- -> Mn^2+"
    change = thermo.entropy(half, tables=own).value
    assert change > 100  # a smaller charge holds less water
    cold, warm = (thermo.gibbs(half, temperature=t, tables=own).value for t in (298.15, 318.15))
    assert warm - cold == pytest.approx(-20 * change / 1000)


@pytest.mark.parametrize(
    ("prop", "verb"), [("dfH", thermo.enthalpy), ("dfG", thermo.gibbs), ("S", thermo.entropy)]
)
def test_a_row_of_ones_own_is_what_a_verb_reads(prop: str, verb: object) -> None:
    unit = "J/(mol K)" if prop == "S" else "kJ/mol"
    before = thermo.value(Species.parse("Ag^+(aq)"), prop).value
    own = _own(("Ag^+(aq)", prop, before + 7.0, unit))
    half = "Ag^+ + e^- -> Ag(s)"
    moved = verb(half, tables=own).value - verb(half).value  # type: ignore[operator]
    assert moved == pytest.approx(-7.0)


def test_an_unstated_phase_is_the_one_the_tables_hold_or_is_asked_for() -> None:
    stated = thermo.gibbs("MnO2(s) + 4 H^+ + 2 e^- -> Mn^2+ + 2 H2O(l)")
    assert thermo.gibbs("MnO2 + 4 H^+ + 2 e^- -> Mn^2+ + 2 H2O").value == stated.value
    with pytest.raises(AmbiguousSpeciesError) as caught:
        thermo.gibbs("Br2 + 2 e^- -> 2 Br^-")
    assert "Br2(l)" in caught.value.choices


@pytest.mark.parametrize(
    ("equation", "together"),
    [
        ("HCN(aq) -> H^+ + CN^-", True),
        ("4 Fe^2+ + O2(g) + 4 H^+ -> 4 Fe^3+ + 2 H2O", True),
        ("Fe^3+ + 3 OH^- -> Fe(OH)3(s)", False),  # one of the pair alone, on the left
        ("Fe(OH)3(s) -> Fe^3+ + 3 OH^-", False),  # and on the right
    ],
)
def test_two_values_fixed_together_are_told_where_both_are_met(equation: str, together: bool) -> None:
    told = any("were fixed together" in remark for remark in thermo.gibbs(equation).remarks)
    assert told is together


def test_a_cell_with_the_hydrogen_electrode_is_as_uncertain_as_the_other_couple() -> None:
    zinc = thermo.potential("Zn2+/Zn")
    assert zinc.uncertainty
    cell = thermo.potential("Zn(s) + 2 H^+ -> Zn^2+ + H2(g)")
    assert cell.value == pytest.approx(-zinc.value)
    assert cell.uncertainty == pytest.approx(zinc.uncertainty)


class TestForms:
    """Shares from constants and energies, each step written out."""

    STEP = 8.314462618 * 298.15 * log(10) / 1000
    """RT ln10: 5.708 kJ for a unit of pH."""

    @pytest.mark.parametrize("ph", [0.0, 7.0, 14.0])
    def test_energies_give_the_shares_where_no_constant_does(self, ph: float) -> None:
        lost = thermo.gibbs("H3AsO4(aq) -> AsO4^3- + 3 H^+").value
        shares = {str(f.species): f.log10 for f in thermo.species_at("H3AsO4", ph).forms}
        apart = shares["AsO4^3-(aq)"] - shares["H3AsO4(aq)"]
        assert apart == pytest.approx(3 * ph - lost / self.STEP, abs=1e-6)

    def test_what_stands_alone_is_all_there_is(self) -> None:
        (alone,) = thermo.species_at("Br^-", 7).forms
        assert (alone.fraction, alone.log10) == (1.0, 0.0)

    def test_a_gas_is_not_taken_for_what_dissolves_of_it(self) -> None:
        gas = thermo.species_at("CO2(g)", 9)
        assert [str(f.species) for f in gas.forms] == ["CO2(g)"]
        assert gas.sources == ()
        assert len(thermo.species_at("CO2(aq)", 9).forms) > 1

    def test_a_relative_that_neither_a_constant_nor_an_energy_ties_on_is_left_out(self) -> None:
        # Cyanic acid and cyanate are tied by a constant; of the acid no energy is known, so that a third form
        # of the family, of which one is, cannot be set against it.
        form = {"family": "own", "competes": 1, "source": "mine"}
        own = _own(("C2N2(aq)", "dfG", 300.0, "kJ/mol")).with_rows(
            forms=[{**form, "species": "HOCN(aq)"}, {**form, "species": "C2N2(aq)"}]
        )
        (constant,) = [k for k in thermo.acid_constants() if str(k.acid) == "HOCN(aq)"]
        found = thermo.species_at("HOCN", constant.pka, tables=own)
        assert {str(f.species): f.fraction for f in found.forms} == pytest.approx(
            {"HOCN(aq)": 0.5, "OCN^-(aq)": 0.5}
        )
        assert not any("Gibbs" in remark for remark in found.remarks)


def test_a_temperature_in_celsius_is_the_same_in_kelvin() -> None:
    by_unit = thermo.activity_coefficient(1, 0.1, temperature=Quantity(50.0, "C"))
    assert by_unit.value == pytest.approx(thermo.activity_coefficient(1, 0.1, temperature=323.15).value)


def test_a_temperature_coefficient_brings_its_own_uncertainty() -> None:
    own = americium(coefficient_uncertainty=1.0)
    # 10 K at 1.0 mV/K are 10 mV beside the 10 mV of the couple.
    warm = thermo.potential("Am4+/Am3+", temperature=308.15, tables=own)
    assert warm.uncertainty == pytest.approx(0.01 * 2**0.5, rel=1e-5)


def test_rows_of_ones_own_decide_which_form_and_which_phases_there_are() -> None:
    bleach = Species.parse("ClO^-")
    assert str(thermo.stable_form(bleach, 9)) == "ClO^-(aq)"
    held = _own(("HClO(aq)", "dfG", -150.0, "kJ/mol"))  # 70 kJ lower: a dozen units of pH
    assert str(thermo.stable_form(bleach, 9, tables=held)) == "HClO(aq)"
    xenon = Species.parse("XeO3")
    assert thermo.phases_of(xenon) == ()
    dissolved = _own(("XeO3(aq)", "dfG", 500.0, "kJ/mol"))
    assert [phase.value for phase in thermo.phases_of(xenon, dissolved)] == ["aq"]


def test_a_hydrolysis_into_two_is_no_acid_constant_whatever_it_is_called() -> None:
    own = shipped().with_rows(
        sources=[NOTEBOOK],
        equilibria=[
            {
                "name": "own_hydrolysis",
                "equilibrium": "ICl(aq) + H2O(l) -> HIO(aq) + H^+(aq) + Cl^-(aq)",
                "quantity": "pKa",
                "value": 3.4,
                "unit": "1",
                "uncertainty": 0.1,
                "basis": "estimate",
                "temperature_C": 25,
                "ionic_strength": 0,
                "source": "mine",
            }
        ],
    )
    assert len(own.equilibria) == len(shipped().equilibria) + 1
    assert thermo.acid_constants(own) == thermo.acid_constants()
