"""What a sentence of circumstance says, and what it denies."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.compare import review
from redoxlib.safety import Severity, Verdict

PEROXIDE = ["hydrogen peroxide 30 % w/w"]


def iodine(context: str) -> Verdict:
    return review("I^- -> I2", oxidants=["H2O2"], bottles=PEROXIDE, context=context)


def bromine(context: str) -> Verdict:
    return review("Br^- -> Br2", oxidants=["H2O2"], bottles=PEROXIDE, context=context)


@pytest.mark.parametrize(
    "context",
    [
        "in a sealed ampoule",
        "stoppered flask",
        "capped tightly",
        "lid screwed on",
        "corked bottle",
        "pressure vessel",
        "closed reactor",
        "hermetically closed",
        "in a bottle with the cap on",
        "under pressure",
        "closed system",
        "closed",
        "bolted reactor",
        "sealed with film",
        "the cap is on",
        "gas tight syringe",
        "not stirred, in a closed tube",
        "corked",
        "plugged neck",
        "kept closed",
        "closed tight",
    ],
)
def test_a_closed_vessel_is_heard(context: str) -> None:
    assert "G20" in iodine(context).rules


@pytest.mark.parametrize(
    "context",
    [
        "not closed",
        "unsealed",
        "the vessel is never closed",
        "closed loop cooling water",
        "loosely capped",
        "the fume hood sash closed",
        "vented cap",
        "sealed floor",
        "never seal the flask",
        "loosely closed bottle",
        "not in a sealed vessel",
        "no sealed vessel",
        "not kept in a stoppered flask",
        "under reduced pressure",
    ],
)
def test_an_open_vessel_is_not_taken_for_a_closed_one(context: str) -> None:
    assert iodine(context).decision in (Severity.CLEAR, Severity.CAUTION)


@pytest.mark.parametrize(
    "context",
    [
        "drinking water",
        "tap water for a village",
        "household water supply",
        "people will drink it",
        "municipal supply",
        "water to be drunk",
        "a school well",
        "mains water",
        "drinkable afterwards",
    ],
)
def test_water_that_people_drink_is_heard(context: str) -> None:
    found = review("Fe^2+ -> Fe(OH)3", oxidants=["K2Cr2O7"], purpose="remove", medium=7, context=context)
    assert "G18" in found.rules


@pytest.mark.parametrize(
    "context",
    [
        "not for drinking",
        "non-potable",
        "irrigation water",
        "not drinking water",
        "not intended for drinking",
        "no drinking water is touched",
        "undrinkable rinse",
        "plating rinse",
    ],
)
def test_water_that_nobody_drinks_is_not(context: str) -> None:
    found = review("Fe^2+ -> Fe(OH)3", oxidants=["K2Cr2O7"], purpose="remove", medium=7, context=context)
    assert not found.stopped


def test_a_word_of_drinking_makes_no_bench_dilute() -> None:
    fields: dict[str, Any] = {"oxidants": ["KBrO3"], "feed": "NH4I", "medium": 1}
    assert "G44" in review("I^- -> I2", **fields, context="drinking water").rules


@pytest.mark.parametrize(
    "context",
    [
        "no hood",
        "kitchen",
        "without ventilation",
        "no fumehood",
        "not in a fume hood",
        "outside the hood",
        "fume hood out of order",
        "the hood is broken",
        "open bench, no exhaust",
        "bedroom",
        "no fume cupboard",
        "extraction switched off",
        "bathroom",
    ],
)
def test_a_missing_hood_is_heard(context: str) -> None:
    assert "G58" in bromine(context).rules


@pytest.mark.parametrize("context", ["fume hood", "in the hood", "outdoors", "working fume cupboard"])
def test_a_hood_is_not_taken_for_a_missing_one(context: str) -> None:
    assert not bromine(context).stopped


@pytest.mark.parametrize(
    "context",
    [
        "quench: ammonia solution",
        "ammonia quench",
        "ammonia is added to the liquor",
        "add ammonia to the residue",
        "killed with ammonia",
        "made alkaline with ammonia",
        "ammonia as quench",
        "then ammonia until colourless",
        "quenched using ammonia",
        "leftover iodine reacted with ammonia",
        "pour into ammonia",
        "excess halogen treated with aqueous ammonia",
        "ammonium hydroxide to quench",
        "work up with ammonia",
        "the rest goes into ammonia",
        "quenched into aqueous ammonia",
        "quenched with NH3(aq)",
        "quenched with conc. ammonia",
        "quenched w/ ammonia",
        "ammonia to kill the iodine",
        "washed with ammonia",
        "neutralise (ammonia)",
        "finish with household ammonia",
        "quenched with NH4OH",
        "Ammonium hydroxide is added to the liquor",
        "Ammonium Hydroxide",
        "AMMONIUM HYDROXIDE until colourless",
        "Hydrazine Hydrate or Ammonium Hydroxide",
    ],
)
def test_ammonia_on_iodine_is_heard(context: str) -> None:
    assert "G09" in iodine(context).rules


@pytest.mark.parametrize(
    "context",
    [
        "never quench with ammonia",
        "not quenched with ammonia",
        "free of ammonia",
        "ammonia-free water",
        "keep away from ammonia",
        "quenched with sulfite and soda, never ammonia",
        "sulfite instead of ammonia",
        "a hood with an ammonia detector",
        "do not quench with ammonia",
    ],
)
def test_ammonia_that_is_denied_is_not(context: str) -> None:
    assert not iodine(context).stopped


@pytest.mark.parametrize(
    "context",
    [
        "quench: acetone",
        "acetone quench",
        "acetone is added to the liquor",
        "destroyed using methanol",
        "quenched in ethanol",
        "bromine destroyed with isopropanol",
        "quenched with IPA",
        "the rest of the bromine reacts with ethanol",
        "leftover bromine taken up in butanone",
    ],
)
def test_a_solvent_on_bromine_is_heard(context: str) -> None:
    assert "G10" in bromine(context).rules


@pytest.mark.parametrize(
    "context",
    [
        "glassware rinsed with acetone and dried",
        "cooled in an acetone bath",
        "condenser fed with ethanol",
        "never quench with acetone",
        "bromine kept away from acetone",
        "recrystallised from ethanol",
    ],
)
def test_a_solvent_elsewhere_is_not(context: str) -> None:
    assert not bromine(context).stopped


def test_the_alcohol_of_the_job_is_no_quench() -> None:
    found = review(
        "propan-2-ol -> acetone",
        oxidants=["NaOCl"],
        medium=5,
        acid="acetic acid 99.8 % w/w",
        context="the rest of the propan-2-ol reacts; acetone is left over",
    )
    assert not found.stopped


@pytest.mark.parametrize(
    "context",
    ["then distilled", "boiled down", "evaporated to dryness", "redistil it", "concentrated by boiling"],
)
def test_a_still_is_heard(context: str) -> None:
    fields: dict[str, Any] = {"oxidants": ["peracetic"], "medium": 4, "acid": "acetic acid 99.8 % w/w"}
    assert "G29" in review("cyclohexanol -> cyclohexanone", **fields, context=context).rules


@pytest.mark.parametrize(
    "context",
    [
        "in distilled water",
        "not distilled",
        "a concentration of 0.1 mol/L",
        "concentrated acetic acid",
        "peroxide destroyed with sodium sulfite, then distilled",
        "distilled H2O",
    ],
)
def test_distilled_water_is_no_still(context: str) -> None:
    fields: dict[str, Any] = {"oxidants": ["peracetic"], "medium": 4, "acid": "acetic acid 99.8 % w/w"}
    assert not review("cyclohexanol -> cyclohexanone", **fields, context=context).stopped


def test_a_reductant_after_the_still_comes_too_late() -> None:
    fields: dict[str, Any] = {"oxidants": ["peracetic"], "medium": 4, "acid": "acetic acid 99.8 % w/w"}
    late = "distilled, then quenched with sodium sulfite"
    assert "G29" in review("cyclohexanol -> cyclohexanone", **fields, context=late).rules


@pytest.mark.parametrize(
    ("context", "stopped"),
    [
        ("dilute chlorine dioxide generator", False),
        ("chlorine dioxide generator, diluted stream", False),
        ("chlorine dioxide generator, undiluted", True),
        ("not a dilute generator", True),
        ("dilute", True),
    ],
)
def test_a_generator_is_dilute_by_its_own_words(context: str, stopped: bool) -> None:
    assert review("ClO2^- -> ClO2", oxidants=["Cl2"], medium=4, context=context).stopped is stopped


@pytest.mark.parametrize(("context", "stopped"), [("kept damp", True), ("not damp", False), ("dry", False)])
def test_damp_isocyanurate_is_heard(context: str, stopped: bool) -> None:
    assert review("I^- -> I2", oxidants=["TCCA"], medium=5, context=context).stopped is stopped


@pytest.mark.parametrize(("context", "said"), [("all at once", True), ("not all at once", False)])
def test_a_single_charge_is_heard(context: str, said: bool) -> None:
    found = review("Fe^2+ -> Fe^3+", oxidants=["K2S2O8"], medium=1, temperature="70 C", context=context)
    assert ("G22" in found.rules) is said
