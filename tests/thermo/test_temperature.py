"""Temperature: by heat capacity where every species has one, by constant enthalpy and entropy otherwise."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.quantity import Quantity, R

from ._own import americium

NEUTRALISATION = "H^+ + OH^- -> H2O"
WITH_CP = "MnO4^- + 8 H^+ + 5 Cl^- + 5 e^- -> Mn^2+ + 4 H2O + 5 Cl^-"
WITHOUT_CP = "H2O2(aq) + 2 Br^- + 2 H^+ -> Br2(l) + 2 H2O"


def _known(text: str) -> bool:
    try:
        for verb in (thermo.gibbs, thermo.enthalpy, thermo.entropy):
            verb(text)
    except MissingDataError:
        return False
    return True


COMPLETE = sorted(text for c in shipped().couples.values() if _known(text := c.half_reaction))
kelvins = st.floats(273.15, 373.15)


class TestThermodynamicIdentities:
    """What dG, dH, dS and K must obey between each other at any temperature."""

    @given(st.sampled_from(COMPLETE), kelvins)
    def test_gibbs_helmholtz(self, text: str, kelvin: float) -> None:
        """d(G/T)/d(1/T) = H, by a central difference."""
        step = 0.05
        low, high = max(kelvin - step, 273.1), min(kelvin + step, 373.2)
        slope = (
            thermo.gibbs(text, temperature=high).value / high
            - thermo.gibbs(text, temperature=low).value / low
        ) / (1 / high - 1 / low)
        middle = thermo.enthalpy(text, temperature=(low + high) / 2).value
        assert slope == pytest.approx(middle, abs=2e-2 + 1e-5 * abs(middle))

    @given(st.sampled_from(COMPLETE), kelvins)
    def test_log_k_is_the_gibbs_energy(self, text: str, kelvin: float) -> None:
        g = thermo.gibbs(text, temperature=kelvin).value
        k = thermo.equilibrium_constant(text, temperature=kelvin)
        assert k.log10 == pytest.approx(-g * 1000 / (R.value * kelvin * math.log(10)))

    @given(kelvins)
    def test_the_hydrogen_electrode_stays_at_zero(self, kelvin: float) -> None:
        half = "2 H^+ + 2 e^- -> H2(g)"
        assert thermo.gibbs(half, temperature=kelvin).value == pytest.approx(0, abs=1e-9)
        assert thermo.enthalpy(half, temperature=kelvin).value == pytest.approx(0, abs=1e-9)
        assert thermo.potential(half, temperature=kelvin).value == pytest.approx(0, abs=1e-9)

    @given(st.sampled_from(COMPLETE))
    def test_at_the_temperature_of_the_tables_nothing_moves(self, text: str) -> None:
        for verb in (thermo.gibbs, thermo.enthalpy, thermo.entropy):
            assert verb(text, temperature=298.15) == verb(text)


def test_a_cell_moves_with_its_entropy() -> None:
    """dE/dT = dS/nF for a small step."""
    cell = "Zn(s) + 2 Ag^+ -> Zn^2+ + 2 Ag(s)"
    moved = thermo.potential(cell, temperature=299.15).value - thermo.potential(cell).value
    s = (thermo.enthalpy(cell).value - thermo.gibbs(cell).value) / 298.15
    assert moved == pytest.approx(s * 1000 / (2 * 96485.33), rel=0.02)


def test_the_answer_says_how_it_got_to_its_temperature() -> None:
    by_cp = thermo.enthalpy(NEUTRALISATION, temperature=313.15)
    assert by_cp.temperature == 313.15
    assert by_cp.remarks == (
        "at 313.15 K by constant heat capacities of all species; good from 273 to 373 K; "
        "those of ions change, so a quarter of the step is in the uncertainty",
    )
    constant = thermo.enthalpy(WITHOUT_CP, temperature=313.15)
    assert constant.value == thermo.enthalpy(WITHOUT_CP).value
    assert "no heat capacity for H2O2(aq)" in constant.remarks[0]
    assert thermo.enthalpy(WITHOUT_CP).remarks == ()


@pytest.mark.parametrize(("celsius", "measured"), [(10, -59.48), (40, -53.12)])
def test_the_measured_heat_of_neutralisation_lies_within_the_uncertainty(
    celsius: float, measured: float
) -> None:
    """Christensen, Kimball, Johnston and Izatt, Thermochimica Acta 1972: 14.216 and 12.695 kcal/mol."""
    found = thermo.enthalpy(NEUTRALISATION, temperature=273.15 + celsius)
    assert found.uncertainty is not None
    assert abs(found.value - measured) < found.uncertainty < 1.0


@pytest.mark.parametrize(
    ("celsius", "published"), [(0, 14.95), (20, 14.17), (30, 13.83), (60, 13.02), (75, 12.70), (100, 12.26)]
)
def test_the_ion_product_of_water_lies_within_two_uncertainties(celsius: float, published: float) -> None:
    """CRC Handbook of Chemistry and Physics, ionization constant of water at saturation pressure."""
    found = thermo.equilibrium_constant("H2O(l) -> H^+ + OH^-", temperature=273.15 + celsius)
    assert -found.log10 == pytest.approx(published, abs=2 * found.log10_uncertainty)


def test_the_uncertainty_of_a_warm_potential_holds_that_of_the_way_there() -> None:
    """The enthalpy of Cr3+ is poorly known: 9 kJ/mol move the couple by 17 mV between 25 and 80 C."""
    cold, warm = (thermo.potential("Cr^3+ + e^- -> Cr^2+", temperature=t) for t in (298.15, 353.15))
    at_rest = cold.uncertainty or 0.0
    assert at_rest > 0
    assert (warm.uncertainty or 0.0) > 1.5 * at_rest


@pytest.mark.parametrize("temperature", [25.0, 272.0, 374.0, float("nan"), float("inf"), Quantity(200, "C")])
@pytest.mark.parametrize(
    "verb",
    [thermo.enthalpy, thermo.gibbs, thermo.entropy, thermo.equilibrium_constant, thermo.potential],
    ids=lambda verb: verb.__name__,
)
def test_a_temperature_out_of_range_is_refused(verb: object, temperature: float | Quantity) -> None:
    with pytest.raises(DomainError, match="273 to 373 K"):
        verb("Fe^3+ + e^- -> Fe^2+", temperature=temperature)  # type: ignore[operator]


def test_celsius_needs_its_unit_and_then_works() -> None:
    celsius = thermo.enthalpy(NEUTRALISATION, temperature=Quantity.parse("40 C"))
    assert celsius == thermo.enthalpy(NEUTRALISATION, temperature=313.15)


def test_a_couple_without_entropies_moves_by_its_published_coefficient() -> None:
    own = americium(coefficient_uncertainty=0.01)
    cold = thermo.potential("Am4+/Am3+", tables=own)
    warm = thermo.potential("Am4+/Am3+", temperature=308.15, tables=own)
    assert warm.value - cold.value == pytest.approx(0.015)
    assert "temperature coefficient +1.5 mV/K" in warm.remarks[0]


def test_hydroxide_follows_the_ion_product_of_water_with_temperature() -> None:
    half = "O2(g) + 2 H2O + 4 e^- -> 4 OH^-"
    acid = "O2(g) + 4 H^+ + 4 e^- -> 2 H2O"
    for kelvin in (298.15, 323.15):
        base = thermo.potential(half, ph=7, temperature=kelvin).value
        assert base == pytest.approx(thermo.potential(acid, ph=7, temperature=kelvin).value, abs=0.002)
