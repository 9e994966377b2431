"""How numbers and sources are written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.data import shipped
from redoxlib.quantity import Quantity, Unknown
from redoxlib.reports._figures import cited, degrees, duration, mass, number, shown, source_lines, volume


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (113.42, "113"),
        (1.005, "1.00"),
        (9.996, "10.0"),
        (0.99996, "1.00"),
        (999.6, "1000"),
        (0.0123456, "0.0123"),
        (-2.5, "-2.50"),
        (123456.0, "123456"),
        (1.5e9, "1.50e+09"),
        (float("inf"), "unknown"),
    ],
)
def test_three_figures_without_an_exponent_where_a_bench_uses_none(value: float, text: str) -> None:
    assert number(value) == text


@given(st.floats(1e-4, 1e6))
def test_rounding_costs_less_than_half_a_per_cent(value: float) -> None:
    assert float(number(value)) == pytest.approx(value, rel=5.1e-3)


def test_unknown_figures_say_what_is_missing() -> None:
    assert shown(Unknown("dfH FeO4^2-(aq)", ("formation.csv",))) == "unknown (dfH FeO4^2-(aq))"
    assert degrees(Unknown("boiling point", ())) == "unknown (boiling point)"


def test_temperatures_are_written_to_a_tenth() -> None:
    assert degrees(Quantity(12.0009672, "C", 1.8e-6)) == "12.0 C"
    assert degrees(Quantity(32.88, "C", 0.2)) == "32.9 ± 0.2 C"
    assert degrees(Quantity(0.00097, "K", 1e-6)) == "less than 0.1 K"
    assert degrees(Quantity(0.0, "K")) == "0.0 K"


def test_large_amounts_are_written_in_large_units() -> None:
    assert mass(113.4) == "113 g"
    assert mass(1_000_000) == "1000 kg"
    assert volume(92.66) == "92.7 mL"
    assert volume(1_000_000) == "1000 L"


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(1e-7, "under 1 s"), (1.7, "1.7 s"), (6120, "1.7 h"), (138_240, "1.6 d"), (4e9, "127 y")],
)
def test_times_are_written_in_the_unit_a_person_would_use(seconds: float, text: str) -> None:
    assert duration(seconds) == text


def test_each_source_stands_once_with_its_key() -> None:
    lines = source_lines(["cox1989", "cox1989; nbs1982", "nobody2099"])
    assert [line.split("]")[0] + "]" for line in lines] == ["[cox1989]", "[nbs1982]", "[nobody2099]"]
    assert lines[0].endswith(shipped().sources["cox1989"].citation)


def test_keys_are_found_behind_joined_citations() -> None:
    sources = shipped().sources
    joined = f"{sources['nrc2011'].citation}; {sources['bretherick'].citation}"
    assert [line.split("]")[0] for line in cited(joined)] == ["[nrc2011", "[bretherick"]
    assert cited("a book nobody has listed") == ("a book nobody has listed",)
    assert cited("") == ()
