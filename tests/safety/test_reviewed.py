"""The oxidants of the tables on the feeds people bring: judged, one way or the other."""

from __future__ import annotations

import pytest

from redoxlib.safety import Severity, Situation, review_situation

from ._cases import Fields, case

OXIDANTS: dict[str, Fields] = {
    "H2O2": {"oxidant": "H2O2", "oxidant_strength_w_w": 0.3, "oxidant_form": "solution"},
    "KMnO4": {"oxidant": "KMnO4", "oxidant_form": "solid"},
    "NaOCl": {"oxidant": "NaClO", "oxidant_form": "solution"},
    "Ca(OCl)2": {"oxidant": "Ca(ClO)2", "oxidant_form": "solid"},
    "Cl2": {"oxidant": "Cl2", "oxidant_form": "gas"},
    "Na2S2O8": {"oxidant": "Na2S2O8", "oxidant_form": "solid"},
    "KHSO5": {"oxidant": "(KHSO5)2.KHSO4.K2SO4", "oxidant_form": "solid"},
    "K2Cr2O7": {"oxidant": "K2Cr2O7", "oxidant_form": "solid"},
    "NaBrO3": {"oxidant": "NaBrO3", "oxidant_form": "solid"},
    "KIO3": {"oxidant": "KIO3", "oxidant_form": "solid"},
    "NaClO2": {"oxidant": "NaClO2", "oxidant_form": "solid"},
    "NaClO3": {"oxidant": "NaClO3", "oxidant_form": "solid"},
    "ClO2": {"oxidant": "ClO2", "oxidant_form": "solution"},
    "O3": {"oxidant": "O3", "oxidant_form": "gas"},
    "O2": {"oxidant": "O2", "oxidant_form": "gas"},
    "HNO3": {"oxidant": "HNO3", "oxidant_form": "solution", "oxidant_strength_w_w": 0.68},
    "MnO2": {"oxidant": "MnO2", "oxidant_form": "solid"},
    "Ce4+": {"oxidant": "Ce(SO4)2", "oxidant_form": "solid"},
    "Fe3+": {"oxidant": "FeCl3", "oxidant_form": "solid"},
    "TCCA": {"oxidant": "C3Cl3N3O3", "oxidant_form": "solid"},
    "NaBO3": {"oxidant": "NaBO3.4H2O", "oxidant_form": "solid"},
    "percarbonate": {"oxidant": "(Na2CO3)2.3H2O2", "oxidant_form": "solid"},
    "peracetic": {"oxidant": "CH3COOOH", "oxidant_form": "solution", "oxidant_strength_w_w": 0.15},
    "anode": {"oxidant_key": "anode", "oxidant_form": "electricity"},
}
# feed -> (the situation, the oxidants the gate stops there)
FEEDS: dict[str, tuple[Fields, set[str]]] = {
    "bromide in acid": (case(feed="NaBr", target="Br2", acid="H2SO4", ph=0), {"NaClO2", "NaClO3"}),
    "iodide in acid": (case(feed="KI", target="I2", acid="H2SO4", ph=0), {"NaClO2", "NaClO3"}),
    "copper in acid": (
        case(feed="Cu", target="Cu^2+", acid="H2SO4", ph=0),
        {"NaClO2", "NaClO3", "NaOCl", "Ca(OCl)2", "TCCA"},
    ),
    "iron(II) in acid": (case(feed="FeSO4", target="Fe^3+", acid="H2SO4", ph=0), {"NaClO2", "NaClO3"}),
    "iron(II) in water": (case(feed="Fe^2+", ph=7, purpose="remove", concentration_mol_L=2e-5), set()),
    "manganese in water": (case(feed="Mn^2+", ph=7.5, purpose="remove", concentration_mol_L=2e-5), set()),
    "sulfide in alkali": (
        case(feed="Na2S", target="SO4^2-", ph=14),
        {"K2Cr2O7", "HNO3", "Ce4+", "Fe3+"},
    ),
    "cyanide at pH 11": (
        case(feed="NaCN", target="OCN^-", ph=11, base="NaOH"),
        {"K2Cr2O7", "HNO3", "Ce4+", "Fe3+", "KHSO5"},
    ),
    "propan-2-ol in acetic acid": (
        case(feed="propan-2-ol", target="acetone", acid="CH3COOH", ph=4.5),
        {"NaClO3", "HNO3"},
    ),
    "propan-2-ol in mineral acid": (
        case(feed="propan-2-ol", target="acetone", acid="H2SO4", ph=0),
        {
            "NaClO2",
            "NaClO3",
            "HNO3",
            "H2O2",
            "NaBO3",
            "percarbonate",
            "peracetic",
            "NaOCl",
            "Ca(OCl)2",
            "TCCA",
        },
    ),
    "cyclohexanol in acetic acid": (
        case(feed="cyclohexanol", target="cyclohexanone", acid="CH3COOH", ph=4.5),
        {"NaClO3", "HNO3"},
    ),
    "benzyl alcohol near neutral": (
        case(feed="benzyl alcohol", target="benzaldehyde", ph=7),
        {"NaClO3", "HNO3"},
    ),
    "sulfite": (case(feed="Na2SO3", target="SO4^2-", ph=9), set()),
    "thiosulfate": (case(feed="Na2S2O3", target="SO4^2-", ph=9), set()),
    "arsenic(III)": (case(feed="NaAsO2", target="AsO4^3-", ph=8), set()),
}


@pytest.mark.parametrize("feed", FEEDS)
def test_the_stops_on_a_feed_are_these_and_no_others(feed: str) -> None:
    fields, stopped = FEEDS[feed]
    found = {
        key
        for key, oxidant in OXIDANTS.items()
        if review_situation(Situation.of(**case(fields, oxidant))).decision is Severity.STOP
    }
    assert found == stopped


@pytest.mark.parametrize("feed", FEEDS)
def test_no_common_oxidant_is_left_unreviewed_on_a_common_feed(feed: str) -> None:
    fields, _ = FEEDS[feed]
    left = {
        key
        for key, oxidant in OXIDANTS.items()
        if review_situation(Situation.of(**case(fields, oxidant))).decision is Severity.UNREVIEWED
    }
    assert left == set()


def test_a_combination_nobody_reviewed_is_not_waved_through() -> None:
    verdict = review_situation(Situation.of(feed="NiSO4", target="NiO2", oxidant="NaClO", ph=12))
    assert verdict.decision is Severity.UNREVIEWED
    strange = review_situation(Situation.of(feed="glycerol", oxidant="H2O2", oxidant_strength_w_w=0.3, ph=7))
    assert strange.decision is Severity.UNREVIEWED
    assert strange.rules[0] in ("U01", "U03")
