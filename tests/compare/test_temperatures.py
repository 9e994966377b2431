"""A rate constant is told with the temperature it was measured at, and never moved or mixed in silence."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib._laws import Law, at_one_temperature, laws_for, measured_at
from redoxlib.bench._rates import rate_terms
from redoxlib.channels import _elsewhere
from redoxlib.compare import compare
from redoxlib.data import shipped
from redoxlib.notation import Species
from redoxlib.reports._route import kinetics_text
from redoxlib.routes import Route

PEROXIDE, SULFIDE = Species.parse("H2O2"), Species.parse("HS^-")


def row(
    constant: float, celsius: float | None, law: str = "k*[MnO4^-]*[Ce^3+]", **other: Any
) -> dict[str, Any]:
    """A rate law made up for these tests, of a pair of which the tables say nothing."""
    made = {
        "oxidant_species": "MnO4^-",
        "reductant_species": "Ce^3+",
        "rate_law": law,
        "value": constant,
        "unit": f"M^-{law.count('[') - 1 + (1 if '^2' in law else 0)} s^-1",
        "uncertainty": constant / 4,
        "basis": "estimate",
        "temperature_C": "" if celsius is None else celsius,
        "ph_min": "",
        "ph_max": "",
        "direction": "exact",
        "source": "computed",
        "note": "made up",
        "locator": "",
        "ionic_strength": "",
    }
    return {**made, **other}


SQUARE = "k*[MnO4^-]*[Ce^3+]^2"


def route_of(*rows: dict[str, Any], temperature: str = "25 C") -> Route:
    tables = shipped().with_rows(rates=list(rows))
    return compare("Ce^3+ -> CeO2", oxidants=["KMnO4"], temperature=temperature, tables=tables).routes[0]


@pytest.mark.parametrize(
    ("celsius", "constant"), [(3.0, 0.2), (14.0, 0.2), (16.0, 0.603), (30.0, 0.603), (50.0, 3.52)]
)
def test_of_one_law_at_several_temperatures_the_nearest_counts(celsius: float, constant: float) -> None:
    """12.0, 36.2 and 211 per mol/L and minute at 5, 25 and 45 C (Millero and others 1989)."""
    (found,) = laws_for([PEROXIDE], SULFIDE, 9.0, shipped(), celsius)
    assert found.constant == pytest.approx(constant)


def test_sulfide_warm_is_quicker_than_cold() -> None:
    def half_life(temperature: str) -> float:
        (route,) = compare(
            "HS^- -> SO4^2-",
            feed="NaHS",
            amount="1 mol",
            concentration="0.2 mol/L",
            medium=9,
            oxidants=["H2O2"],
            temperature=temperature,
        ).routes
        assert route.half_life_s is not None
        assert f"at {temperature} and" in route.kinetics_note
        return route.half_life_s

    assert half_life("45 C") == pytest.approx(half_life("5 C") * 12.0 / 211, rel=0.01)


@pytest.mark.parametrize(
    ("celsius", "said"), [(20.0, "at 20 C and"), (70.0, "at 70 C and"), (25.0, "at 25 C and")]
)
def test_the_text_names_the_temperature_of_the_row(celsius: float, said: str) -> None:
    route = route_of(row(1.0, celsius), temperature=f"{celsius:g} C")
    assert said in route.kinetics_note
    assert "not corrected" not in route.kinetics_note
    assert said in kinetics_text(route)


@pytest.mark.parametrize(
    ("job", "told"),
    [("70 C", True), ("60 C", True), ("31 C", True), ("30 C", False), ("20 C", False), ("19 C", True)],
)
def test_a_job_further_than_five_kelvin_away_is_told_that_nothing_was_corrected(job: str, told: bool) -> None:
    route = route_of(row(1.0, 25.0), temperature=job)
    assert ("not corrected to" in route.kinetics_note) is told
    assert "at 25 C and the declared strength" in route.kinetics_note
    if told:
        assert f"not corrected to {job}" in route.kinetics_note


def test_terms_of_two_temperatures_are_added_and_both_are_said() -> None:
    route = route_of(row(1.0, 20.0), row(1.0, 70.0, SQUARE))
    assert "constants of 20 and 70 C added up" in route.kinetics_note
    assert "not corrected to 25 C" in route.kinetics_note
    one = route_of(row(1.0, 20.0)).half_life_s
    assert one is not None
    assert route.half_life_s is not None
    assert route.half_life_s < one


def test_a_term_that_does_not_matter_is_not_named() -> None:
    route = route_of(row(1.0, 25.0), row(1e-6, 70.0, SQUARE))
    assert "at 25 C and the declared strength" in route.kinetics_note
    assert "70 C" not in route.kinetics_note


def test_a_temperature_that_its_source_keeps_to_itself_is_called_that() -> None:
    assert "the temperature not stated" in route_of(row(1.0, None)).kinetics_note
    both = route_of(row(1.0, None), row(1.0, 20.0, SQUARE)).kinetics_note
    assert "constants of 20 C and of no stated temperature added up" in both


def test_what_was_read_is_not_pushed_out_by_what_is_recalled_nearer_by() -> None:
    read, recalled = row(1.0, 60.0), row(1e-9, 25.0, source="memory", note="made up, not re-read")
    route = route_of(read, recalled)
    assert route.kinetics == "fast"
    assert "at 60 C" in route.kinetics_note


def test_the_bench_names_the_temperature_too() -> None:
    tables = shipped().with_rows(rates=[row(1e-3, 20.0), row(5e-3, 45.0)])
    route = compare("Ce^3+ -> CeO2", oxidants=["KMnO4"], temperature="60 C", tables=tables).routes[0]
    (term,) = rate_terms(route, tables)
    assert term.k == pytest.approx(5e-3)
    assert term.text.endswith("k = 0.005 M^-1 s^-1 at 45 C, not corrected to 60 C")


def test_a_bound_is_printed_as_a_bound() -> None:
    below = route_of(row(0.01, 25.0, direction="lower", uncertainty=""))
    assert below.half_life_says == "at most"
    assert "half-life under" in kinetics_text(below)
    exact = route_of(row(0.01, 25.0))
    assert exact.half_life_says == "about"
    assert "half-life under" not in kinetics_text(exact)


def test_rows_of_the_tables_have_one_temperature_per_law_once_chosen() -> None:
    for celsius in (5.0, 25.0, 70.0):
        kept = at_one_temperature(shipped().rates, celsius)
        keys = [
            (r.oxidant_species, r.reductant_species, r.rate_law, r.direction, r.source == "memory")
            for r in kept
        ]
        assert len(keys) == len(set(keys))


def test_words_for_laws_alone() -> None:
    warm = Law(1.0, 1, None, "exact", "x", 70.0)
    assert measured_at([warm], 0.1, 70.0) == "at 70 C and the declared strength"
    assert measured_at([warm], 0.1, 25.0) == "at 70 C and the declared strength, not corrected to 25 C"


@pytest.mark.parametrize(
    ("measured", "job", "said"),
    [
        ((25.0,), 28.0, ""),
        ((None,), 60.0, ""),
        ((25.0,), 60.0, ", measured at 25 C and not corrected to 60 C"),
        ((45.0, 20.0), 30.0, ", measured at 20 and 45 C and not corrected to 30 C"),
    ],
)
def test_a_gate_tells_when_its_constants_come_from_another_temperature(
    measured: tuple[float | None, ...], job: float, said: str
) -> None:
    assert _elsewhere([Law(1.0, 1, None, "exact", "x", t) for t in measured], job) == said
