"""Every rule speaks on its danger, whatever the salt, and keeps quiet on the near miss."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.safety import Severity, Situation, review_situation, rules

from ._cases import DANGEROUS, PAIRS, SAFE
from ._pots import ASKED

ENTRIES = sorted((each.id, str(each.severity)) for each in rules())


def spoken(fields: dict[str, object]) -> set[tuple[str, str]]:
    verdict = review_situation(Situation.of(**fields))
    return {(reason.rule, str(reason.severity)) for reason in verdict.reasons}


def test_every_rule_at_every_severity_has_a_danger_and_a_near_miss() -> None:
    assert sorted(PAIRS) == ENTRIES


@pytest.mark.parametrize("entry", ENTRIES, ids="-".join)
def test_the_rule_speaks_on_its_danger(entry: tuple[str, str]) -> None:
    assert entry in spoken(PAIRS[entry][0])


@pytest.mark.parametrize("entry", ENTRIES, ids="-".join)
def test_the_rule_keeps_quiet_on_the_near_miss(entry: tuple[str, str]) -> None:
    assert entry not in spoken(PAIRS[entry][1])


@pytest.mark.parametrize("entry", [e for e in ENTRIES if e[1] == "stop"], ids="-".join)
def test_the_near_miss_of_a_stop_is_not_stopped_by_anything(entry: tuple[str, str]) -> None:
    verdict = review_situation(Situation.of(**PAIRS[entry][1]))
    assert not verdict.stopped, str(verdict)


@pytest.mark.parametrize("name", SAFE)
def test_everyday_work_is_neither_stopped_nor_unreviewed(name: str) -> None:
    verdict = review_situation(Situation.of(**SAFE[name]))
    assert verdict.decision in (Severity.CLEAR, Severity.CAUTION), str(verdict)


@pytest.mark.parametrize("name", DANGEROUS)
def test_dangerous_work_is_stopped_for_the_right_reason(name: str) -> None:
    rule, fields = DANGEROUS[name]
    verdict = review_situation(Situation.of(**fields))
    assert verdict.stopped, str(verdict)
    assert rule in {reason.rule for reason in verdict.reasons if reason.severity is Severity.STOP}


@pytest.mark.parametrize(("wanted", "fields"), ASKED)
def test_a_pot_gets_what_a_safety_engineer_gives_it(wanted: frozenset[str], fields: dict[str, Any]) -> None:
    verdict = review_situation(Situation.of(**fields))
    assert str(verdict.decision) in wanted, str(verdict)


def test_the_pots_hold_dangers_and_everyday_work() -> None:
    assert sum("stop" in wanted for wanted, _ in ASKED) >= 60
    assert sum("stop" not in wanted for wanted, _ in ASKED) >= 25
