"""Mixtures that a bench meets by accident: the danger, and the nearest thing that is none."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.compare import review
from redoxlib.notation import Species
from redoxlib.safety import Situation, review_goal, review_situation
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._kinds import Kind

Fields = dict[str, Any]
AMMINE = "Ag(NH3)2NO3"

# rule, the danger, its twin
TWINS: list[tuple[str, Fields, Fields]] = [
    ("G46", {"species": AMMINE, "ph": 2, "quench": "NaOH"}, {"species": AMMINE, "ph": 2, "quench": "Na2SO3"}),
    (
        "G46",
        {"species": AMMINE, "ph": 9, "context": "stored overnight"},
        {"species": AMMINE, "ph": 9, "context": "used at once"},
    ),
    (
        "G46",
        {"species": AMMINE, "ph": 9, "context": "left standing"},
        {"species": AMMINE, "ph": 9, "context": "not stored"},
    ),
    ("G46", {"species": [AMMINE, "KOH"]}, {"species": [AMMINE, "KNO3"]}),
    ("G46", {"species": ["AgNO3", "NH4NO3", "KOH"]}, {"species": ["AgNO3", "NH4NO3"], "ph": 5}),
    ("G46", {"species": ["AgNO3", "NH4NO3"], "ph": 12}, {"species": ["AgNO3", "NH4NO3"], "ph": 9}),
    ("G46", {"species": ["AuCl3", "[Cu(NH3)4]SO4"]}, {"species": ["CuCl2", "[Cu(NH3)4]SO4"]}),
    ("G46", {"species": ["HAuCl4", "NH4Cl", "NaOH"]}, {"species": ["HAuCl4", "NH4Cl"], "ph": 1}),
    ("G46", {"species": ["[Au(OH)4]^-", "NH3"]}, {"species": ["KAu(CN)2", "NH3"], "ph": 11}),
    ("G46", {"species": ["HgO", "NH3"]}, {"species": ["K2HgI4", "KOH", "NH3"]}),
    ("G46", {"species": ["Hg", "NH3"]}, {"species": ["Cu", "NH3"]}),
    ("G46", {"species": "HgO", "quench": "NH3"}, {"species": "HgO", "quench": "Na2S2O3"}),
    (
        "G39",
        {"feed": "NaHS", "oxidant": "FeCl3", "purpose": "remove", "total_sulfide_mmol_L": 0.1},
        {"feed": "NaHS", "oxidant": "FeCl3", "purpose": "remove", "total_sulfide_mmol_L": 0.1, "ph": 7},
    ),
    (
        "G05",
        {"feed": "cyclohexanol", "oxidant": "H2O2", "ph": 7, "distil": True},
        {"feed": "benzyl alcohol", "oxidant": "H2O2", "ph": 7, "distil": True},
    ),
    ("G46", {"species": ["AgO", "NH3"]}, {"species": ["AgO", "Na2S2O3"], "ph": 8}),
    ("G61", {"species": ["AgNO3", "C2H2"]}, {"species": ["AgNO3", "N2"]}),
    ("G45", {"species": ["KNO3", "S", "C"]}, {"species": ["KNO3", "S", "C"], "ph": 7}),
    ("G45", {"species": ["KNO3", "S"]}, {"species": ["KNO3", "S"], "oxidant_form": "solution"}),
    ("G45", {"species": ["NaNO2", "P"]}, {"species": ["NaNO2", "K2SO4"]}),
    ("G45", {"species": ["NH4NO3", "Zn"]}, {"species": ["NH4NO3", "ZnO"]}),
    ("G45", {"species": ["KMnO4", "S"]}, {"species": ["KMnO4", "S"], "ph": 8}),
    ("G45", {"species": ["KIO3", "Al"]}, {"species": ["KIO3", "KI"]}),
    ("G45", {"species": ["NaIO4", "Mg"]}, {"species": ["NaIO4", "MgO"]}),
    ("G45", {"species": ["KNO3", "C"]}, {"species": ["KNO3", "C", "H3PO4"]}),
    ("G45", {"species": ["KNO3", "C"]}, {"species": ["KNO3", "C", "NaOH"]}),
    ("G45", {"species": ["KNO3", "C"]}, {"species": ["KNO3", "C", "CH3COOH"]}),
    ("G45", {"species": ["KClO3", "K4[Fe(CN)6]"]}, {"species": ["KClO3", "K4[Fe(CN)6]"], "ph": 9}),
    ("G45", {"species": ["NaNO2", "KCN"]}, {"species": ["NaNO2", "KCN"], "ph": 11}),
    ("G45", {"species": ["KNO3", "KSCN"]}, {"species": ["KCl", "KSCN"]}),
    ("G45", {"species": ["KClO3", "KSCN"]}, {"species": ["KClO3", "KSCN"], "ph": 11}),
    ("G45", {"feed": "Al", "oxidant": "I2"}, {"feed": "Al", "oxidant": "I2", "ph": 6}),
    (
        "G09",
        {"feed": "KI", "oxidant": "KIO3", "species": "[Cu(NH3)4]SO4", "ph": 9},
        {"feed": "KI", "oxidant": "KIO3", "species": "[Cu(NH3)4]SO4", "ph": 3},
    ),
    ("G69", {"species": ["CaH2", "KMnO4"]}, {"species": ["CaCl2", "KMnO4"]}),
    ("G69", {"species": ["NaH", "H2O2"]}, {"species": ["NaCl", "H2O2"]}),
    ("G40", {"species": ["Na2O2", "CH3COOH"]}, {"species": ["H2O2", "CH3COOH"]}),
    (
        "G36",
        {
            "feed": "propan-2-ol",
            "oxidant": "NaClO",
            "acid": "CH3COOH",
            "ph": 5,
            "addition": ["oxidant", "feed", "acid"],
        },
        {
            "feed": "propan-2-ol",
            "oxidant": "NaClO",
            "acid": "CH3COOH",
            "ph": 5,
            "addition": ["feed", "acid", "oxidant"],
        },
    ),
    (
        "G66",
        {
            "feed": "cyclohexanol",
            "oxidant": "NaClO",
            "acid": "CH3COOH",
            "ph": 5,
            "addition": ["feed", "oxidant", "acid"],
        },
        {
            "feed": "cyclohexanol",
            "oxidant": "NaClO",
            "acid": "CH3COOH",
            "ph": 5,
            "addition": ["acid", "feed", "oxidant"],
        },
    ),
]


def stops(fields: Fields) -> set[str]:
    verdict = review_situation(Situation.of(**fields))
    return {reason.rule for reason in verdict.reasons if reason.severity == "stop"}


@pytest.mark.parametrize(("rule", "danger", "twin"), TWINS, ids=[f"{t[0]}-{t[1]}"[:90] for t in TWINS])
def test_the_rule_stops_the_danger_and_not_its_twin(rule: str, danger: Fields, twin: Fields) -> None:
    assert rule in stops(danger)
    assert rule not in stops(twin)


@pytest.mark.parametrize(
    ("context", "stopped"),
    [
        ("dose 18 mg/l", True),
        ("dosed at 5 ppm", True),
        ("dose 3 g/m3", True),
        ("2 mg per litre added", True),
        ("dose 1500 ug/L", True),
        ("dose 1.5 parts per million", True),
        ("dose 0.002 g/L", True),
        ("dose 900 ug/L", False),
        ("dose 900 ppb", False),
        ("dose 1 ppm", False),
        ("0.5 mg/L at first, then a dose of 1.2 mg/L", False),
        ("1.2 mg/L at first, then a dose of 1.6 mg/L", True),
        ("1.6 mg/L at first, then a dose of 1.2 mg/L", True),
    ],
)
def test_a_dose_is_heard_in_any_unit(context: str, stopped: bool) -> None:
    fields: Fields = {"purpose": "remove", "medium": 7, "potable": True, "oxidants": ["ClO2"]}
    assert ("G19" in stops_of(fields, context)) is stopped


def stops_of(fields: Fields, context: str | None) -> set[str]:
    verdict = review("Mn^2+ -> MnO2", **fields, context=context)
    return {reason.rule for reason in verdict.reasons if reason.severity == "stop"}


@pytest.mark.parametrize(("strength", "stopped"), [("5 mg/L", True), ("0.3 mg/L", False)])
def test_a_told_dose_does_not_hide_the_charge_of_a_declared_water(strength: str, stopped: bool) -> None:
    fields: Fields = {"purpose": "remove", "medium": 7, "potable": True, "oxidants": ["ClO2"]}
    assert ("G19" in stops_of({**fields, "concentration": strength}, "dose 1 mg/L")) is stopped


@pytest.mark.parametrize("text", ["Hg(ONC)2", "AgONC", "AgCNO"])
def test_a_fulminate_is_no_goal_however_it_is_spelt(text: str) -> None:
    assert review_goal(Species.parse(text)).stopped


@pytest.mark.parametrize("text", ["KOCN", "NaOCN", "Pb(OCN)2"])
def test_a_cyanate_of_another_metal_is_none(text: str) -> None:
    assert not kinds_of(Species.parse(text)) & {Kind.FULMINATE, Kind.ENERGETIC}


def test_an_undeclared_ph_lets_chloride_become_chlorine() -> None:
    verdict = review_situation(Situation.of(feed="FeCl2", oxidant="KMnO4"))
    assert "G34" in verdict.rules
    assert "G34" not in review_situation(Situation.of(feed="FeCl2", oxidant="KMnO4", ph=7)).rules


@pytest.mark.parametrize(
    ("pot", "advice"),
    [
        ({"feed": "FeCl2", "acid": "HCl"}, "choose an oxidant that leaves chloride alone"),
        ({"feed": "Fe^2+", "target": "FeCl3", "acid": "HCl"}, "choose an oxidant that leaves chloride alone"),
        ({"feed": "FeSO4", "target": "Fe^3+", "acid": "HCl"}, "use sulfuric acid instead"),
        ({"feed": "FeSO4", "acid": "H2SO4", "impurities": "NaCl"}, "keep it out"),
    ],
)
def test_the_advice_on_chloride_fits_what_brings_it(pot: dict[str, str], advice: str) -> None:
    verdict = review_situation(Situation.of(oxidant="KMnO4", ph=0, **pot))
    (text,) = [each.text for each in verdict.reasons if each.rule == "G34"]
    assert advice in text
    assert ("sulfuric acid" in text) is (advice == "use sulfuric acid instead")


@pytest.mark.parametrize(("medium", "stopped"), [(4.9, True), (5.0, False)])
def test_the_bottle_of_acid_that_holds_the_medium_meets_the_chlorite(medium: float, stopped: bool) -> None:
    # So dilute that the acid of the hydroxide that falls out is no matter; at 1 mol/L that alone stops it.
    thin = review("Fe^2+ -> Fe^3+", oxidants=["NaClO2"], medium=medium, concentration="1 mmol/L")
    assert thin.stopped is stopped
    assert review("Fe^2+ -> Fe^3+", oxidants=["NaClO2"], medium=medium).stopped


FIXER: dict[str, Any] = {"purpose": "remove", "concentration": "25 g/L", "pot_mass": "10 kg"}


@pytest.mark.parametrize("oxidant", ["NaClO2", "NaClO3", "KClO3"])
def test_acid_that_the_reaction_itself_makes_stops_chlorite_and_chlorate(oxidant: str) -> None:
    # 25 g/L of thiosulfate, 112.1 g/mol, frees two H+ each
    verdict = review("thiosulfate -> sulfate", oxidants=[oxidant], **FIXER)
    (reason,) = [each for each in verdict.reasons if each.rule == "G01"]
    assert reason.severity == "stop"
    assert f"frees {2 * 25 / 112.1:.2g} mol/L of acid" in reason.text
    assert "bring in base first" in reason.text
    assert not review("thiosulfate -> sulfate", oxidants=[oxidant], medium=8, **FIXER).stopped


@pytest.mark.parametrize(("oxidant", "rule"), [("NaOCl", "G64"), ("H2O2", "G12")])
def test_acid_that_the_reaction_itself_makes_is_told_of_others(oxidant: str, rule: str) -> None:
    verdict = review("thiosulfate -> sulfate", oxidants=[oxidant], **FIXER)
    assert any(each.rule == rule and "the reaction itself frees" in each.text for each in verdict.reasons)
    assert rule not in review("thiosulfate -> sulfate", oxidants=[oxidant], medium=8, **FIXER).rules


def test_acid_that_a_water_holds_stops_nothing() -> None:
    spring: Fields = {"purpose": "remove", "medium": 7, "concentration": "6 mg/L", "pot_mass": "3000 kg"}
    assert "G01" not in review("Fe^2+ -> Fe(OH)3", oxidants=["NaClO2"], **spring).rules
