"""Goals out of scope get one plain sentence, whatever the route."""

from __future__ import annotations

import pytest

from redoxlib.notation import Species
from redoxlib.safety import Severity, Situation, review_goal, review_situation

FORBIDDEN = {
    "G25": [
        "Cl2",
        "Cl2(g)",
        "ClO2(g)",
        "ClO2",
        "ClCN",
        "BrCN",
        "ICN",
        "HCN",
        "H2S",
        "COCl2",
        "AsH3",
        "PH3",
        "F2",
        "NO2",
    ],
    "G24": [
        "NaClO3",
        "KClO4",
        "HClO4",
        "ClO3^-",
        "NCl3",
        "NI3",
        "NaN3",
        "Pb(N3)2",
        "H2O2",
        "BaO2",
        "Na2S2O8",
        "HSO5^-",
        "CH3COOOH",
        "Mn2O7",
        "C3H5N3O9",
        "C7H5N3O6",
        "C9H18O6",
    ],
}
ALLOWED = [
    "Br2",
    "I2",
    "KIO3",
    "KBrO3",
    "Fe^3+",
    "MnO2",
    "KMnO4",
    "CuSO4.5H2O",
    "S",
    "Na2SO4",
    "OCN^-",
    "acetone",
    "cyclohexanone",
    "K2Cr2O7",
    "benzaldehyde",
    "Ce(SO4)2",
    "AsO4^3-",
    "NO3^-",
]


@pytest.mark.parametrize(("rule", "text"), [(r, t) for r, texts in FORBIDDEN.items() for t in texts])
def test_a_forbidden_goal_is_stopped_in_one_sentence(rule: str, text: str) -> None:
    verdict = review_goal(Species.parse(text))
    assert verdict.decision is Severity.STOP
    (reason,) = verdict.reasons
    assert reason.rule == rule
    assert reason.text.count(". ") == 0


@pytest.mark.parametrize("text", ALLOWED)
def test_an_ordinary_goal_is_clear(text: str) -> None:
    assert review_goal(Species.parse(text)).decision is Severity.CLEAR


def test_a_water_works_may_make_dilute_chlorine_dioxide_solution_but_no_gas() -> None:
    works = "water works chlorine dioxide generator, dilute"
    assert review_goal(Species.parse("ClO2(aq)"), context=works).decision is Severity.CLEAR
    assert review_goal(Species.parse("ClO2(g)"), context=works).decision is Severity.STOP
    assert review_goal(Species.parse("ClO2(aq)"), context="water works").decision is Severity.STOP


def test_a_forbidden_goal_stops_the_whole_situation() -> None:
    verdict = review_situation(Situation.of(feed="KBr", target=["Br2", "Cl2"], oxidant="KMnO4", ph=0))
    assert verdict.stopped
    assert "G25" in verdict.rules
