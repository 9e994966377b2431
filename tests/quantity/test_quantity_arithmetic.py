"""Units convert, unlike units do not add, uncertainties combine in quadrature."""

from __future__ import annotations

import math

import pytest

from redoxlib.errors import DomainError, UnitError
from redoxlib.quantity import (
    FARADAY,
    MOLAR_GAS_VOLUME,
    STANDARD_PRESSURE,
    STANDARD_TEMPERATURE,
    Quantity,
    R,
    Unknown,
)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("25 C", "K", 298.15),
        ("0 K", "C", -273.15),
        ("12.5 % trade", "g/L Cl2", 125.0),
        ("5 % w/v", "g/L", 50.0),
        ("1 atm", "Torr", 760.0),
        ("1 kWh", "MJ", 3.6),
        ("96.48533212331 kC/mol", "A h/mol", 26.801481145),
        ("30 mg/L", "g/m3", 30.0),
        ("1 M", "mol/m3", 1000.0),
        ("2.5 kJ/mol", "J/mol", 2500.0),
        ("1 kcal/mol", "kJ/mol", 4.184),
    ],
)
def test_known_conversions(text: str, unit: str, value: float) -> None:
    assert Quantity.parse(text).to(unit).value == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("here", "there"),
    [
        ("kJ/mol", "V"),
        ("% w/w", "% v/v"),
        ("g/L Cl2", "g/L"),
        ("vol", "mol/L"),
        ("deg Be", "g/mL"),
        ("mol/L", "mol/kg"),
    ],
)
def test_error_between_units_that_measure_different_things(here: str, there: str) -> None:
    with pytest.raises(UnitError) as caught:
        Quantity(1.0, here).to(there)
    assert here in str(caught.value)
    assert there in str(caught.value)
    with pytest.raises(UnitError) as caught:
        Quantity(1.0, here) + Quantity(1.0, there)
    assert str(caught.value) == f"cannot add {here} and {there}"


def test_sum_converts_and_combines_in_quadrature() -> None:
    total = Quantity(1.0, "kJ/mol", 0.3, ("a",)) + Quantity(500.0, "J/mol", 400.0, ("b",))
    assert total.value == pytest.approx(1.5)
    assert total.unit == "kJ/mol"
    assert total.uncertainty == pytest.approx(0.5)
    assert total.sources == ("a", "b")


def test_sum_with_an_unknown_uncertainty_has_none() -> None:
    assert (Quantity(1.0, "g", 0.1) + Quantity(1.0, "g")).uncertainty is None


def test_a_number_scales_value_and_uncertainty() -> None:
    assert -2 * Quantity(3.0, "g", 0.1) == Quantity(-6.0, "g", 0.2)
    assert Quantity(3.0, "g", 0.1) / 2 == Quantity(1.5, "g", 0.05)


def test_celsius_temperatures_have_a_difference_but_no_sum() -> None:
    warm, cold = Quantity(30.0, "C"), Quantity(20.0, "C")
    assert warm - cold == Quantity(10.0, "K")
    with pytest.raises(UnitError, match="have no sum"):
        warm + cold
    with pytest.raises(UnitError, match="cannot multiply"):
        2 * warm


def test_error_when_a_quantity_meets_a_bare_number() -> None:
    with pytest.raises(TypeError):
        Quantity(1.0, "g") + 1.0  # type: ignore[operator]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_error_for_a_value_that_is_no_number(value: float) -> None:
    with pytest.raises(DomainError):
        Quantity(value, "g")


def test_error_for_a_negative_uncertainty() -> None:
    with pytest.raises(DomainError):
        Quantity(1.0, "g", -0.1)


def test_agreement_looks_at_both_uncertainties() -> None:
    assert Quantity(1.00, "V", 0.01).agrees_with(Quantity(1.02, "V", 0.01))
    assert not Quantity(1.00, "V", 0.01).agrees_with(Quantity(1.05, "V", 0.01))
    assert not Quantity(1.00, "V").agrees_with(Quantity(1.02, "V"))


@pytest.mark.parametrize(
    ("quantity", "shown"),
    [
        (Quantity(-285.830, "kJ/mol", 0.040), "-285.83 ± 0.04 kJ/mol"),
        (Quantity(1.507, "V", 0.005), "1.507 ± 0.005 V"),
        (Quantity(9.8134, "mol/L", 0.0123), "9.813 ± 0.012 mol/L"),
        (Quantity(298.15, "K"), "298.15 K"),
        (Quantity(1.317834, "V"), "1.318 V"),
        (Quantity(0.0, "kJ/mol", 0.05), "0.00 ± 0.05 kJ/mol"),
        (Quantity(3.5e-9, "mol2/L2", 0.1e-9), "3.5e-09"),
        (Quantity(4.2e6, "L/(mol s)", 3e4), "4200000 ± 30000 L/(mol s)"),
        (Quantity(0.3, "1"), "0.3"),
        (Quantity(123456.7, "g"), "123500 g"),
    ],
)
def test_text_shows_the_figures_the_uncertainty_allows(quantity: Quantity, shown: str) -> None:
    text = str(quantity)
    assert text == shown or (shown == "3.5e-09" and text == "(3.5 ± 0.1)e-09 mol2/L2")


def test_gas_constant_and_faraday_follow_from_the_defining_constants() -> None:
    # SI 2019: k = 1.380649e-23 J/K, e = 1.602176634e-19 C, N_A = 6.02214076e23 /mol, all exact.
    assert pytest.approx(1.380649e-23 * 6.02214076e23, rel=1e-14) == R.value
    assert pytest.approx(1.602176634e-19 * 6.02214076e23, rel=1e-14) == FARADAY.value
    assert R.uncertainty == FARADAY.uncertainty == 0.0


def test_molar_gas_volume_is_that_of_25_celsius_and_one_bar() -> None:
    assert STANDARD_TEMPERATURE.value == 298.15
    assert STANDARD_PRESSURE.to("kPa").value == pytest.approx(100.0)
    assert MOLAR_GAS_VOLUME.value == pytest.approx(24.790, abs=5e-4)


def test_unknown_prints_unknown_and_keeps_where_it_looked() -> None:
    unknown = Unknown("density of FeCl3", ("solutions.csv",))
    assert str(unknown) == "unknown"
    assert unknown.looked_in == ("solutions.csv",)
