"""Three rounds of sixty: every danger is stopped, no ordinary practice is."""

from __future__ import annotations

from pathlib import Path

import pytest

from redoxlib.bench import audit
from redoxlib.cli import main
from redoxlib.compare import review
from redoxlib.data import shipped
from redoxlib.safety import Severity, Situation, review_situation

from ._rounds import FREE, HELD, ROUNDS, RUN, STOP, Case

DANGERS = (STOP, HELD)
ALLOWED = {
    STOP: {"stop"},
    HELD: {"stop", "unreviewed"},
    RUN: {"clear", "caution"},
    FREE: {"clear", "caution", "unreviewed"},
}
CASES = [(name, case) for name, cases in ROUNDS.items() for case in cases]
IDS = [f"{name}: {case.name}" for name, case in CASES]
_GATE_STOPPED = 3


def judged(case: Case, folder: Path) -> tuple[str, str]:
    """The decision of the gate, and all that it says."""
    if case.way == "job":
        conversion, fields = case.body
        verdict = review(conversion, **fields)
    elif case.way == "file":
        file = folder / "job.toml"
        file.write_text(case.body, encoding="utf-8")
        verdict = review(file)
    elif case.way == "pot":
        verdict = review_situation(Situation.of(**case.body))
    elif case.way == "recipe":
        file = folder / "charges.csv"
        file.write_text(case.body, encoding="utf-8")
        found = audit(file)
        return str(found.decision), str(found)
    else:
        code = main(list(case.body))
        assert code in (0, _GATE_STOPPED)
        return ("stop" if code == _GATE_STOPPED else "caution"), ""
    return str(verdict.decision), str(verdict)


def test_each_round_has_sixty_cases_half_of_them_safe() -> None:
    for cases in ROUNDS.values():
        assert len(cases) == 60
        assert sum(case.wanted in DANGERS for case in cases) == 30
        assert len({case.name for case in cases}) == 60
    assert {case.way for _, case in CASES} == {"job", "file", "options", "recipe", "pot"}


def test_every_case_names_a_source_of_the_table() -> None:
    assert {case.source for _, case in CASES} <= set(shipped().sources)


@pytest.mark.parametrize(("_round", "case"), CASES, ids=IDS)
def test_the_gate_gives_what_a_safety_engineer_gives(_round: str, case: Case, tmp_path: Path) -> None:
    decision, told = judged(case, tmp_path)
    assert decision in ALLOWED[case.wanted], told
    assert case.says in told


def test_the_severities_are_the_words_used_here() -> None:
    assert set().union(*ALLOWED.values()) == {str(severity) for severity in Severity}
