"""What is only recalled may hold a route back or widen an interval; it never makes one fast."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.bench._rates import rate_terms
from redoxlib.compare import Comparison, compare
from redoxlib.data import Tables, shipped
from redoxlib.routes import Route, recalled


def law(constant: float, source: str, direction: str = "exact") -> dict[str, Any]:
    """A rate law made up for these tests, of a pair of which the tables say nothing."""
    return {
        "oxidant_species": "MnO4^-",
        "reductant_species": "Ce^3+",
        "rate_law": "k*[MnO4^-]*[Ce^3+]",
        "value": constant,
        "unit": "M^-1 s^-1",
        "uncertainty": constant / 4 if direction == "exact" else "",
        "basis": "estimate",
        "temperature_C": 25,
        "ph_min": "",
        "ph_max": "",
        "direction": direction,
        "source": source,
        "note": "made up",
        "locator": "",
        "ionic_strength": "",
    }


def words(verdict: str, source: str) -> dict[str, Any]:
    return {
        "oxidant": "KMnO4",
        "reductant": "Ce^3+",
        "ph_min": "",
        "ph_max": "",
        "verdict": verdict,
        "conditions": "made up",
        "source": source,
        "note": "",
    }


def judged(rates: list[dict[str, Any]], kinetics: list[dict[str, Any]]) -> tuple[str, Route | None]:
    found = compare("Ce^3+ -> CeO2", oxidants=["KMnO4"], tables=with_own(rates, kinetics))
    if found.inert:
        return "inert", None
    return found.routes[0].kinetics, found.routes[0]


def with_own(rates: list[dict[str, Any]], kinetics: list[dict[str, Any]]) -> Tables:
    return shipped().with_rows(rates=rates, kinetics=kinetics)


FAST, SLOW, NEVER = 1e3, 1e-4, 1e-9


@pytest.mark.parametrize(
    ("constant", "told"),
    [(FAST, "fast"), (SLOW, "slow"), (NEVER, "inert")],
)
def test_a_rate_that_was_read_decides(constant: float, told: str) -> None:
    assert judged([law(constant, "computed")], [])[0] == told


@pytest.mark.parametrize(
    ("constant", "told"),
    [(FAST, "unknown"), (SLOW, "slow"), (NEVER, "inert")],
)
def test_a_recalled_rate_holds_back_but_never_promises(constant: float, told: str) -> None:
    assert judged([law(constant, "memory")], [])[0] == told


def test_a_recalled_lower_bound_promises_nothing_either() -> None:
    assert judged([law(FAST, "memory", "lower")], [])[0] == "unknown"
    assert judged([law(FAST, "computed", "lower")], [])[0] == "fast"


@pytest.mark.parametrize(("source", "told"), [("practice", "fast"), ("memory", "unknown")])
def test_words_count_only_if_somebody_wrote_them(source: str, told: str) -> None:
    assert judged([], [words("fast", source)])[0] == told


@pytest.mark.parametrize(
    ("constant", "word", "told"),
    [
        (FAST, "fast", "fast"),
        (FAST, "slow", "slow"),
        (SLOW, "fast", "slow"),
        (NEVER, "fast", "inert"),
        (FAST, "unknown", "unknown"),
    ],
)
def test_beside_words_that_were_read_the_slower_counts(constant: float, word: str, told: str) -> None:
    assert judged([law(constant, "memory")], [words(word, "practice")])[0] == told


def test_a_rate_that_was_read_goes_before_one_that_is_recalled() -> None:
    assert judged([law(FAST, "computed"), law(NEVER, "memory")], [])[0] == "fast"


def test_an_unreliable_pace_says_why() -> None:
    _, route = judged([law(FAST, "memory")], [])
    assert route is not None
    assert route.kinetics_note.startswith("only recalled, no source was read, so not relied on: half-life")
    assert route.half_life_s is None


class TestAtTheBench:
    def test_a_recalled_constant_is_taken_at_its_low_end_and_only_where_it_slows(self) -> None:
        tables = with_own([law(SLOW, "memory")], [])
        _, route = judged([law(SLOW, "memory")], [])
        assert route is not None
        (term,) = rate_terms(route, tables)
        assert term.k == pytest.approx(0.75 * SLOW)
        assert "recalled" in term.text

    def test_a_quick_recalled_constant_is_left_out(self) -> None:
        rates, kinetics = [law(FAST, "memory")], [words("slow", "practice")]
        _, route = judged(rates, kinetics)
        assert route is not None
        assert rate_terms(route, with_own(rates, kinetics)) == ()

    def test_a_constant_that_was_read_is_taken_as_it_stands(self) -> None:
        _, route = judged([law(FAST, "computed")], [])
        assert route is not None
        (term,) = rate_terms(route, with_own([law(FAST, "computed")], []))
        assert term.k == pytest.approx(FAST)


JOBS = ["Br^- -> Br2", "I^- -> I2", "Cu -> CuSO4", "Fe^2+ -> Fe^3+", "docs/examples/well.toml"]


@pytest.mark.parametrize("job", JOBS)
def test_no_route_of_the_examples_is_fast_on_memory_alone(job: str) -> None:
    found: Comparison = compare(job)
    tables = shipped()
    assert found.routes
    for route in found.routes:
        if route.kinetics == "fast" and route.oxidant.key != "anode":
            actives = {str(s) for p in route.parts for _, s in p.half_reactions[1].reactants}
            rated = any(not recalled(r.source) for r in tables.rates if f"{r.oxidant_species}(aq)" in actives)
            told = any(not recalled(r.source) for r in tables.kinetics if r.verdict == "fast")
            assert rated or told
            assert not route.kinetics_note.startswith("only recalled")
