"""What a quantity, an amount and a strength may look like as text."""

from __future__ import annotations

import pickle

import pytest

from redoxlib.errors import DomainError, RedoxlibError, UnitError
from redoxlib.quantity import Quantity, parse_amount, parse_strength


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("35 % w/w", 35.0, "% w/w"),
        ("35% (w/w)", 35.0, "% w/w"),
        ("35 wt%", 35.0, "% w/w"),
        ("125 g/L Cl2", 125.0, "g/L Cl2"),
        ("125 g/L available chlorine", 125.0, "g/L Cl2"),
        ("500 mL", 500.0, "mL"),
        ("0.80 mol", 0.8, "mol"),
        ("2.5 kg", 2.5, "kg"),
        ("298 K", 298.0, "K"),
        ("25 C", 25.0, "C"),
        ("25 °C", 25.0, "C"),
        ("12.5 % trade", 12.5, "% trade"),
        ("20 vol", 20.0, "vol"),
        ("20 volumes", 20.0, "vol"),
        ("1.2 mol/L", 1.2, "mol/L"),
        ("30 mg/L", 30.0, "mg/L"),
        ("50 W", 50.0, "W"),
        ("15 min", 15.0, "min"),
        ("2 L/min", 2.0, "L/min"),
        ("10 m3", 10.0, "m3"),
        ("66 °Bé", 66.0, "deg Be"),
        ("4.2e6 L/(mol s)", 4.2e6, "L/(mol s)"),
        ("0.92 mol/(m³ Pa)", 0.92, "mol/(m3 Pa)"),
    ],
)
def test_the_usual_spellings_are_read(text: str, value: float, unit: str) -> None:
    assert Quantity.parse(text) == Quantity(value, unit)


def test_an_uncertainty_is_read_with_either_sign() -> None:
    expected = Quantity(28.4, "% w/w", 0.2)
    assert Quantity.parse("28.4 ± 0.2 % w/w") == Quantity.parse("28.4 +/- 0.2 % w/w") == expected


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "35 %",
            "a percentage needs its basis\n"
            "  35 %\n"
            "     ^\n"
            "  write the basis: '35 % w/w' (mass), '35 % w/v' (g per 100 mL), '35 % v/v' or '35 % trade'",
        ),
        (
            "0.35",
            "a bare number has no unit\n"
            "  0.35\n"
            "  ^^^^\n"
            "  write a unit, for example '0.35 g', '0.35 mL' or '0.35 mol'; "
            "for a strength write a percentage with its basis, '35 % w/w'",
        ),
        (
            "5 ppm",
            "ppm needs its basis\n"
            "  5 ppm\n"
            "    ^^^\n"
            "  write '5 mg/L' for water, '5 ppm w/w' or '5 ppm v/v' (gas)",
        ),
        (
            "12,5 % w/w",
            "a comma inside a number has two readings\n"
            "  12,5 % w/w\n"
            "    ^\n"
            "  write a decimal point and no thousands mark",
        ),
        ("3 KG", "unknown unit 'KG'\n  3 KG\n    ^^\n  did you mean 'kg'?"),
        (
            "5 J/mol K",
            "'J/mol K' has two readings\n"
            "  5 J/mol K\n"
            "    ^^^^^^^\n"
            "  put what is divided by into parentheses, such as J/(mol K)",
        ),
        (
            "five g",
            "no number found\n  five g\n  ^^^^^^\n  a quantity is a number and a unit, for example '500 mL'",
        ),
    ],
)
def test_error_says_what_to_write_instead(text: str, message: str) -> None:
    with pytest.raises(UnitError) as caught:
        Quantity.parse(text)
    assert str(caught.value) == message
    assert caught.value.source == text
    assert caught.value.span is not None
    assert caught.value.hint is not None


def test_error_for_a_text_without_end() -> None:
    with pytest.raises(UnitError, match="at most 200 characters"):
        Quantity.parse("1" * 5000 + " g")


@pytest.mark.parametrize("text", ["0 g", "-5 mL", "−5 mL", "0.0 mol"])
def test_error_for_an_amount_that_is_none(text: str) -> None:
    with pytest.raises(DomainError, match="an amount must be above zero"):
        parse_amount(text)


@pytest.mark.parametrize("text", ["5 W", "25 C", "1.2 mol/L", "5 mg/L Fe"])
def test_error_for_a_unit_that_is_no_amount(text: str) -> None:
    with pytest.raises(UnitError, match="is no unit of amount"):
        parse_amount(text)


@pytest.mark.parametrize("text", ["2.5 kg", "500 mL", "0.80 mol", "10 m3"])
def test_an_amount_is_a_mass_a_volume_or_moles(text: str) -> None:
    assert parse_amount(text).value > 0


@pytest.mark.parametrize("text", ["101 % w/w", "1001 g/kg", "120 % v/v", "101 % trade"])
def test_error_for_a_strength_above_the_pure_substance(text: str) -> None:
    with pytest.raises(DomainError, match="a strength cannot exceed 100 %"):
        parse_strength(text)


@pytest.mark.parametrize("text", ["0 % w/w", "-1 mol/L"])
def test_error_for_a_strength_that_is_none(text: str) -> None:
    with pytest.raises(DomainError, match="a strength must be above zero"):
        parse_strength(text)


def test_error_for_a_unit_that_is_no_strength() -> None:
    with pytest.raises(UnitError, match="mL is no unit of strength"):
        parse_strength("5 mL")


def test_available_chlorine_may_exceed_the_mass() -> None:
    # ClO2 counts 2.5 Cl2 a formula, 263 % of its own mass.
    assert parse_strength("263 % available chlorine").unit == "% w/w Cl2"


@pytest.mark.parametrize("reader", [parse_amount, parse_strength, Quantity.parse])
@pytest.mark.parametrize("text", ["", " ", "g", "%", "1e999 g", "1 g/", "1 (g", "nan g", "1 g g^", "²"])
def test_error_and_nothing_else_for_broken_text(reader: object, text: str) -> None:
    assert callable(reader)
    with pytest.raises(RedoxlibError) as caught:
        reader(text)
    again = pickle.loads(pickle.dumps(caught.value))
    assert str(again) == str(caught.value)


@pytest.mark.parametrize("text", ["0 ± 666606660 g", "5 ± 2e12 mol", "1e-30 ± 2e-31 L", "-3e20 ± 1e19 J"])
def test_a_power_of_ten_over_both_numbers_reads_as_it_is_written(text: str) -> None:
    value = Quantity.parse(text)
    assert "e" in str(value)
    again = Quantity.parse(str(value))
    assert again.unit == value.unit
    assert again.value == pytest.approx(value.value, abs=value.uncertainty)
    assert again.uncertainty == pytest.approx(value.uncertainty, rel=0.1)


@pytest.mark.parametrize("text", ["5 1", "0¹", "5 12"])
def test_a_second_number_is_no_unit(text: str) -> None:
    with pytest.raises(UnitError):
        Quantity.parse(text)
