"""Jobs in pairs: the dangerous one is stopped with its danger named, its twin is not stopped."""

from __future__ import annotations

import pytest

from redoxlib.compare import compare, review
from redoxlib.errors import UnsafeRouteError
from redoxlib.safety import Severity, Situation, review_situation

from ._jobs import POTS, SAID, SINGLE, TWINS, Fields

RUNS = (Severity.CLEAR, Severity.CAUTION)


def test_there_are_at_least_sixty_cases_half_of_them_safe() -> None:
    assert len(TWINS) + len(POTS) >= 60
    assert all(pair.change or pair.twin_conversion for pair in TWINS.values())


@pytest.mark.parametrize("name", TWINS)
def test_the_dangerous_job_is_stopped_and_the_first_reason_names_the_danger(name: str) -> None:
    pair = TWINS[name]
    verdict = review(pair.conversion, **pair.danger)
    assert verdict.decision is Severity.STOP, str(verdict)
    assert any(word in verdict.reasons[0].text for word in pair.says), verdict.reasons[0].text


@pytest.mark.parametrize("name", TWINS)
def test_the_twin_runs(name: str) -> None:
    pair = TWINS[name]
    verdict = review(pair.twin_conversion or pair.conversion, **pair.twin)
    allowed = (*RUNS, Severity.UNREVIEWED) if pair.unreviewed else RUNS
    assert verdict.decision in allowed, str(verdict)
    said = " ".join(reason.text for reason in verdict.reasons)
    assert not pair.warns or any(word in said for word in pair.warns), said


@pytest.mark.parametrize(("wanted", "conversion", "fields", "word"), [*SINGLE, *SAID])
def test_a_job_gets_what_a_safety_engineer_gives_it(
    wanted: str, conversion: str, fields: Fields, word: str
) -> None:
    verdict = review(conversion, **fields)
    assert verdict.stopped == (wanted == "stop"), str(verdict)
    assert verdict.decision is not Severity.UNREVIEWED, str(verdict)
    assert any(word in reason.text for reason in verdict.reasons) or not word, str(verdict)


@pytest.mark.parametrize("name", POTS)
def test_a_pot_that_no_job_can_state(name: str) -> None:
    danger, twin = POTS[name]
    assert review_situation(Situation.of(**danger)).decision is Severity.STOP
    found = review_situation(Situation.of(**twin))
    assert found.decision in RUNS, str(found)


@pytest.mark.parametrize("conversion", ["NH3 -> NCl3", "O2 -> NaClO4"])
def test_a_forbidden_goal_that_is_no_oxidation_is_still_answered_with_its_one_sentence(
    conversion: str,
) -> None:
    with pytest.raises(UnsafeRouteError) as caught:
        compare(conversion)
    assert str(caught.value).startswith("Out of scope")
    assert len(caught.value.reasons) == 1


@pytest.mark.parametrize(
    "goal", ["H2O -> H2O2", "BaO -> BaO2", "SO4^2- -> S2O8^2-", "Cl^- -> Cl2(g)", "KCl -> KClO3"]
)
def test_a_forbidden_goal_gets_one_plain_sentence_whatever_else_is_wrong(goal: str) -> None:
    stopped = compare(goal)
    assert stopped.routes == stopped.unreviewed == ()
    assert {refusal.rule for refusal in stopped.refused} <= {"G24", "G25"}
    assert len({refusal.reason for refusal in stopped.refused}) == 1
    assert all(len(verdict.reasons) == 1 for _, verdict in stopped.verdicts)
