"""Where a rule speaks of a family of substances it speaks of every member, each by itself."""

from __future__ import annotations

import pytest

from redoxlib.notation import Species
from redoxlib.safety import Reason, Severity, Situation, review_goal, review_situation

from ._cases import BROMIDE, CYANIDE, IODIDE, PEROXIDE, SULFIDE, WELL, Fields, case

NEAT_SULFURIC: Fields = {"acid": "H2SO4", "acid_undiluted": True, "acid_strength_w_w": 0.98, "ph": 0}
TRIPLE_SALT = "(KHSO5)2.KHSO4.K2SO4"
CHLORINE_MAKERS = (
    "KMnO4", "K2MnO4", "MnO2", "PbO2", "K2Cr2O7", "KBrO3", "Na2S2O8", TRIPLE_SALT, "Ce(SO4)2", "KIO4",
    "K2FeO4", "O3",
)  # fmt: skip

# rule, severity, situation without the member, role of the member, members that make it speak
FAMILIES: list[tuple[str, str, Fields, str, tuple[str, ...]]] = [
    ("G13", "caution", BROMIDE, "oxidant", ("NaClO", "Cl2", "C3Cl3N3O3", "NH2Cl")),
    (
        "G34",
        "caution",
        case(feed="FeSO4", species="NaCl", ph=1),
        "oxidant",
        (*CHLORINE_MAKERS, "KIO3", "HNO3"),
    ),
    ("G17", "caution", case(BROMIDE, impurities="KCl"), "oxidant", CHLORINE_MAKERS),
    ("G17", "caution", case(BROMIDE, oxidant="KMnO4"), "impurities", ("KCl",)),
    ("G17", "caution", case(BROMIDE, oxidant="KMnO4"), "species", ("KCl",)),
    ("G17", "caution", case(BROMIDE, oxidant="KMnO4"), "counter_ions", ("Cl^-",)),
    ("G17", "caution", case(BROMIDE, oxidant="KMnO4"), "acid", ("HCl",)),
    ("G17", "caution", case(IODIDE, oxidant="KMnO4"), "impurities", ("KCl",)),
    (
        "G37",
        "caution",
        case(oxidant="HNO3", ph=0),
        "feed",
        ("Zn", "Cu", "FeSO4", "NaBr", "KI", "NaCl", "Na2SO3", "Na2S2O3", "SnSO4", "NaAsO2", "S", "C", "P4"),
    ),
    ("G37", "caution", case(NEAT_SULFURIC, oxidant="KNO3"), "feed", ("Cu", "KI")),
    (
        "G56",
        "stop",
        case(quench="HCl", ph=11),
        "species",
        ("NaClO", "NaC3Cl2N3O3", "NaClO2", "NaClO3", "NaCN", "Na2S"),
    ),
    ("G56", "stop", case(species="NaClO", ph=11), "quench", ("H2SO4", "CH3COOH", "FeCl3")),
    ("G56", "stop", case(quench=["Na2SO3", "HCl"], ph=11), "species", ("NaCN", "Na2S")),
    ("G58", "stop", case(room="no hood", ph=11), "species", ("NaCN", "Cl2", "ClO2", "O3", "Na2S", "Br2")),
    ("G58", "stop", case(room="no hood", oxidant="HNO3", ph=0), "feed", ("Zn", "Cu", "FeSO4", "NaBr", "KI")),
    ("G43", "stop", case(species="NaNO2", ph=8), "impurities", ("NH4Cl", "NH3", "urea")),
    ("G43", "caution", case(species="NaNO2"), "acid", ("H2SO4", "CH3COOH")),
    ("G21", "caution", NEAT_SULFURIC, "feed", ("NaBr", "KI", "NaCl")),
    ("G65", "caution", NEAT_SULFURIC, "feed", ("Zn", "Cu", "S", "C")),
    ("G51", "caution", case(feed="FeSO4", ph=3), "oxidant", ("ClO2", "O3", "Cl2")),
    ("G51", "stop", case(oxidant="O3", oxidant_form="gas", ph=9), "feed", ("NH3", "H2(g)", "PH3", "H2S")),
    ("G51", "stop", case(feed="NH3", oxidant_form="gas", ph=9), "oxidant", ("O3", "ClO2")),
    ("G39", "caution", case(CYANIDE, base="NaOH"), "oxidant", ("Cl2", "Na2S2O8", "C7H5ClO3")),
    ("G39", "stop", SULFIDE, "oxidant", ("Fe2(SO4)3", "K2Cr2O7", "Ce(SO4)2")),
    ("G23", "caution", case(CYANIDE, PEROXIDE), "impurities", ("NiSO4", "FeSO4", "AlCl3", "K4[Fe(CN)6]")),
    (
        "G05",
        "stop",
        case(PEROXIDE, acid="H2SO4", ph=0),
        "feed",
        ("acetone", "butanone", "cyclohexanone", "cyclohexanol", "propan-2-ol"),
    ),
    ("G05", "caution", case(PEROXIDE, ph=7), "feed", ("acetaldehyde", "ethanol", "acetophenone")),
    ("G05", "stop", case(BROMIDE, PEROXIDE), "quench", ("acetone", "propan-2-ol")),
    ("G05", "caution", case(oxidant=TRIPLE_SALT, ph=7), "feed", ("acetone", "cyclohexanone")),
    ("G05", "stop", case(NEAT_SULFURIC, oxidant=TRIPLE_SALT), "feed", ("acetone", "cyclohexanone")),
    (
        "G10",
        "stop",
        case(species="Br2", ph=3),
        "quench",
        ("acetone", "cyclohexanone", "ethanol", "acetaldehyde"),
    ),
    (
        "G10",
        "stop",
        case(oxidant="Br2", ph=3),
        "feed",
        ("acetone", "cyclohexanone", "ethanol", "acetaldehyde"),
    ),
    (
        "G10",
        "caution",
        case(oxidant="KBrO3", ph=3),
        "feed",
        ("acetone", "cyclohexanone", "ethanol", "acetaldehyde"),
    ),
    ("G11", "caution", case(BROMIDE, PEROXIDE), "quench", ("NaOH", "Na2CO3", "NaHCO3")),
    ("G45", "stop", case(oxidant="KClO3", ph=7), "feed", ("Mg", "S", "P4", "C", "Fe")),
    ("G45", "stop", case(feed="S", ph=7), "oxidant", ("KClO3", "KClO4", "KBrO3", "Na2O2")),
    ("G45", "stop", case(feed="S", ph=7, oxidant_form="solid"), "oxidant", ("KMnO4", "Na2S2O8", "NaClO2")),
    ("G45", "stop", case(oxidant="Br2", ph=3), "feed", ("Mg", "Al", "Zn")),
    ("G45", "stop", case(feed="Fe", ph=7), "oxidant", ("KClO3", "KClO4")),
    ("G44", "stop", case(feed="NH4Cl", ph=7), "oxidant", ("KClO3", "KClO4", "KBrO3")),
    ("G44", "stop", case(oxidant="KClO3", ph=7), "feed", ("NH4Cl", "NH3")),
    ("G63", "caution", case(feed="NH4I", ph=1), "oxidant", ("KMnO4", "K2Cr2O7", "Na2S2O8")),
    ("G46", "stop", case(species="AgNO3", ph=11), "impurities", ("NH3", "Na2C2O4", "CaC2")),
    ("G46", "stop", case(species="Hg(NO3)2", ph=7), "impurities", ("Na2C2O4", "CaC2")),
    ("G46", "stop", case(species=["AgNO3", "NH4NO3"]), "base", ("NaOH",)),
    ("G46", "stop", case(species="AgNO3"), "quench", ("NH3",)),
    ("G48", "caution", case(PEROXIDE, ph=2), "feed", ("NiSO4", "Cu", "MnO2", "Ag")),
    (
        "G49",
        "caution",
        case(oxidant="Na2S2O8", temperature_C=60, ph=2),
        "impurities",
        ("NH4Cl", "NH3", "urea"),
    ),
    ("G53", "stop", case(NEAT_SULFURIC, feed="acetone"), "oxidant", ("H2O2", TRIPLE_SALT)),
    ("G53", "stop", case(NEAT_SULFURIC, oxidant="H2O2"), "species", ("acetone", "CH3COOH")),
    ("G53", "stop", case(NEAT_SULFURIC, oxidant="H2O2"), "quench", ("ethanol",)),
    ("G53", "caution", case(NEAT_SULFURIC, feed="NaBr"), "oxidant", ("H2O2", TRIPLE_SALT)),
    (
        "G54",
        "stop",
        case(oxidant="NaClO2", oxidant_form="solid"),
        "feed",
        ("glycerol", "S", "Na2S", "C", "P4"),
    ),
    ("G54", "caution", case(oxidant="NaClO2", oxidant_form="solid", ph=10), "feed", ("glycerol", "Na2S")),
    ("G54", "stop", case(oxidant="NaClO2", oxidant_form="solid", ph=10), "feed", ("S", "C", "P4")),
    ("G61", "stop", {}, "species", ("NCl3", "AgN3", "F2", "CaC2")),
    ("G61", "stop", {}, "quench", ("NCl3",)),
    ("G41", "stop", case(feed="NaN3", ph=9), "oxidant", ("H2O2", "KMnO4")),
    ("G41", "stop", case(feed="NaN3"), "acid", ("H2SO4", "CH3COOH")),
    ("G41", "stop", case(feed="NaN3", ph=9), "impurities", ("Pb(NO3)2", "NiSO4")),
    ("G41", "stop", case(oxidant="H2O2", ph=9), "feed", ("N2H4", "NH2OH")),
    ("G20", "stop", case(species="Na2CO3", vessel="sealed"), "acid", ("HCl", "CH3COOH")),
    ("G20", "stop", case(feed="KI", vessel="closed", ph=1), "oxidant", ("H2O2", "NaClO", "KIO3", "O2")),
    ("G27", "caution", case(feed="ethanol", ph=7), "oxidant", ("O2", "O3")),
    ("G27", "caution", case(oxidant="O2", ph=7), "feed", ("propan-2-ol", "benzyl alcohol", "acetophenone")),
    ("G28", "stop", case(oxidant="C3Cl3N3O3"), "species", ("Ca(ClO)2",)),
    ("G08", "stop", case(BROMIDE, oxidant="NaClO"), "impurities", ("NH4Cl", "NH3", "urea")),
    ("G08", "stop", case(BROMIDE, oxidant="NaClO"), "quench", ("NH4Cl", "NH3", "urea")),
    ("G08", "stop", case(BROMIDE, feed="NH4Br"), "oxidant", ("NaClO", "Cl2", "C3Cl3N3O3")),
    ("G09", "stop", case(species="NH3"), "impurities", ("I2", "Br2")),
    ("G09", "stop", case(feed="NH3"), "quench", ("I2", "Br2")),
    ("G36", "stop", case(oxidant="NaClO", ph=12), "feed", ("acetone", "propan-2-ol", "ethanol", "butanone")),
    ("G66", "stop", case(oxidant="NaClO", ph=12), "feed", ("cyclohexanol", "cyclohexanone", "methanol")),
    ("G66", "stop", case(feed="FeSO4", oxidant="NaClO", ph=3), "quench", ("methanol", "cyclohexanone")),
    ("G40", "stop", case(feed="ethanol", ph=7), "oxidant", ("KClO3", "KClO4", "Na2O2")),
    ("G40", "stop", case(oxidant="KClO3", ph=7), "feed", ("ethanol", "CH3COOH", "Na2C2O4")),
    ("G40", "caution", case(feed="ethanol", ph=3), "oxidant", ("KMnO4", "K2MnO4", "K2Cr2O7", "KBrO3")),
    ("G40", "stop", case(feed="glycerol", ph=7), "oxidant", ("Ca(ClO)2", "C3Cl3N3O3", "KMnO4", "K2MnO4")),
    ("G57", "stop", case(feed="NaAsO2", ph=1), "species", ("Zn", "NaBH4")),
    ("G55", "caution", case(acid="H2SO4", ph=0), "feed", ("Zn", "Al", "Mg")),
    ("G60", "stop", NEAT_SULFURIC, "feed", ("K4[Fe(CN)6]", "Zn(CN)2")),
    ("G59", "stop", case(feed="KSCN"), "oxidant", ("H2O2", "KMnO4", "NaClO")),
    ("G69", "stop", case(ph=7), "feed", ("Li", "Na", "K", "Ca", "Sr", "Ba")),
    ("G07", "stop", NEAT_SULFURIC, "oxidant", ("KMnO4", "K2MnO4")),
    ("G18", "stop", case(WELL, potable=True), "oxidant", ("KBrO3", "K2Cr2O7")),
    ("G68", "stop", case(feed="NaClO2", ph=6), "oxidant", ("Cl2", "NaClO", "C3Cl3N3O3")),
    ("G01", "stop", case(feed="FeSO4", oxidant="NaClO3"), "acid", ("H2SO4", "AlCl3")),
    ("G15", "caution", case(species="H2O2", ph=9), "oxidant", ("NaClO", "Cl2", "C3Cl3N3O3", "NH2Cl")),
]
EACH = [
    (rule, severity, fields, role, member)
    for rule, severity, fields, role, members in FAMILIES
    for member in members
]

# reductants in solution that take chlorine up as fast as acid sets it free
TAKE_CHLORINE_UP = ("NaBr", "KI", "FeSO4", "Na2SO3", "Na2S2O3", "SnCl2", "NaAsO2", "NaNO2")


def spoken(fields: Fields) -> set[tuple[str, str]]:
    verdict = review_situation(Situation.of(**fields))
    return {(reason.rule, str(reason.severity)) for reason in verdict.reasons}


@pytest.mark.parametrize(
    ("rule", "severity", "fields", "role", "member"),
    EACH,
    ids=[f"{row[0]}-{row[1]}-{row[3]}-{row[4]}-{place}" for place, row in enumerate(EACH)],
)
def test_the_rule_speaks_of_every_member_and_of_none_absent(
    rule: str, severity: str, fields: Fields, role: str, member: str
) -> None:
    assert (rule, severity) in spoken(case(fields, **{role: member}))
    assert (rule, severity) not in spoken({k: v for k, v in fields.items() if k != role})


@pytest.mark.parametrize("feed", TAKE_CHLORINE_UP)
def test_a_fast_reductant_takes_the_chlorine_up_in_acid(feed: str) -> None:
    pot = case(feed=feed, oxidant="NaClO", acid="H2SO4", ph=1)
    assert ("G14", "stop") not in spoken(pot)
    assert ("G14", "stop") in spoken(case(pot, feed="Cu"))
    assert ("G14", "stop") in spoken(case(pot, addition=["oxidant", "acid", "feed"]))


@pytest.mark.parametrize("reductant", ["Na2SO3", "Na2S2O3", "Na2C2O4", "NaNO2"])
def test_a_reductant_beside_the_alkali_spares_the_halate(reductant: str) -> None:
    pot = case(BROMIDE, PEROXIDE, quench=["NaOH", reductant])
    assert ("G11", "caution") not in spoken(pot)
    assert ("G11", "caution") in spoken(case(pot, quench=["NaOH"]))


@pytest.mark.parametrize("alkali", ["NaOH", "Na2CO3", "NaHCO3"])
def test_alkali_in_the_quench_keeps_thiosulfate_and_sulfite_out_of_acid(alkali: str) -> None:
    for rule, quench in (("G12", "Na2S2O3"), ("G42", "Na2SO3")):
        pot = case(IODIDE, PEROXIDE, quench=[quench, alkali])
        assert (rule, "caution") not in spoken(pot)
        assert (rule, "caution") in spoken(case(pot, quench=[quench]))


@pytest.mark.parametrize(
    "target",
    ["NCl3", "NaN3", "CaC2", "KClO3", "KClO4", "H2O2", "Na2S2O8", TRIPLE_SALT, "CH3COOOH", "N2H4", "Na2O2"],
)
def test_an_energetic_goal_is_out_of_scope(target: str) -> None:
    verdict = review_goal(Species.parse(target))
    assert verdict.stopped
    assert verdict.rules == ("G24",)


@pytest.mark.parametrize(
    "target", ["Cl2(g)", "HCN", "NaCN", "H2S", "NH2Cl", "CO(g)", "NO2(g)", "ClO2(g)", "SO2(g)"]
)
def test_a_toxic_goal_is_out_of_scope(target: str) -> None:
    verdict = review_goal(Species.parse(target))
    assert verdict.stopped
    assert verdict.rules == ("G25",)


@pytest.mark.parametrize("target", ["Br2", "I2", "Fe^3+", "SO2(aq)", "acetone", "CuSO4", "OCN^-"])
def test_an_everyday_goal_is_not(target: str) -> None:
    assert not review_goal(Species.parse(target)).stopped


def test_only_a_dilute_declared_generator_may_make_chlorine_dioxide_and_only_in_solution() -> None:
    dissolved, gas = Species.parse("ClO2(aq)"), Species.parse("ClO2(g)")
    words = "water works chlorine dioxide generator, dilute"
    assert not review_goal(dissolved, context=words).stopped
    assert review_goal(gas, context=words).stopped
    assert review_goal(dissolved, context="chlorine dioxide generator").stopped
    assert review_goal(dissolved, context="dilute").stopped


@pytest.mark.parametrize(
    "words",
    [
        "sealed", "stoppered flask", "screw-capped jar", "screw capped jar", "airtight", "gas-tight",
        "autoclave", "closed vessel", "closed bottle", "closed drum", "closed tank",
    ],
)  # fmt: skip
def test_a_vessel_that_the_context_calls_closed_is_closed(words: str) -> None:
    pot = case(IODIDE, PEROXIDE, vessel="open")
    assert ("G20", "stop") in spoken(case(pot, context=words))
    assert ("G20", "stop") not in spoken(case(pot, context=f"not {words}"))
    assert ("G20", "stop") not in spoken(pot)


@pytest.mark.parametrize(
    "room",
    [
        "no hood", "no fume hood", "no extraction", "without extraction", "no exhaust", "without exhaust",
        "without a hood", "without hood", "without fume hood", "without a fume hood", "unventilated shed",
        "no ventilation", "kitchen",
    ],
)  # fmt: skip
def test_a_room_without_a_hood_is_none_for_bromine(room: str) -> None:
    assert ("G58", "stop") in spoken(case(BROMIDE, PEROXIDE, room=room))
    assert ("G58", "stop") not in spoken(case(BROMIDE, PEROXIDE, room="fume hood"))


@pytest.mark.parametrize(
    "words", ["water treatment", "water works", "waterworks", "drinking water", "well water", "village well"]
)
def test_traces_of_ammonium_are_judged_as_water_treatment_where_the_context_says_so(words: str) -> None:
    pot = case(WELL, oxidant="NaClO", impurities="NH4^+", purpose="make")
    assert ("G08", "caution") in spoken(case(pot, context=words))
    assert ("G08", "stop") in spoken(pot)


@pytest.mark.parametrize("words", ["drinking water", "potable water", "for drinking"])
def test_water_that_the_context_calls_drinking_water_is_potable(words: str) -> None:
    pot = case(WELL, oxidant="KBrO3")
    assert ("G18", "stop") in spoken(case(pot, context=words))
    assert ("G18", "stop") not in spoken(case(pot, context=f"not {words}"))
    assert ("G18", "stop") not in spoken(pot)


def test_undiluted_acid_frees_the_cyanide_of_a_complex_whatever_the_ph_said() -> None:
    pot = case(feed="K4[Fe(CN)6]", acid="H2SO4", acid_undiluted=True, acid_strength_w_w=0.98)
    assert ("G60", "stop") in spoken(pot)
    assert ("G60", "stop") not in spoken(case(pot, acid_undiluted=False))


@pytest.mark.parametrize("feed", ["H2(g)", "KI", "FeSO4", "ethanol", "NH4Cl", "Na2SO3"])
def test_what_stands_beside_a_declared_feed_is_not_judged_as_the_feed(feed: str) -> None:
    alone = {reason.text for reason in _unreviewed(case(feed=feed, oxidant="O2", ph=9))}
    beside = {reason.text for reason in _unreviewed(case(feed=feed, oxidant="O2", ph=9, species="Ce(NO3)3"))}
    assert alone == beside
    assert _unreviewed(case(oxidant="O2", ph=9, species="Ce(NO3)3"))


def _unreviewed(fields: Fields) -> list[Reason]:
    verdict = review_situation(Situation.of(**fields))
    return [reason for reason in verdict.reasons if reason.severity is Severity.UNREVIEWED]


def test_warmth_alone_sets_no_halogen_free() -> None:
    pot = case(feed="FeSO4", oxidant="KMnO4", ph=1, temperature_C=60)
    assert ("G30", "caution") not in spoken(pot)
    assert ("G30", "caution") in spoken(case(pot, feed="KI"))
    assert ("G30", "caution") in spoken(case(pot, feed="KBr", temperature_C=20))


@pytest.mark.parametrize(
    ("feed", "oxidant", "ph"),
    [
        ("benzyl alcohol", "KMnO4", 10), ("propan-2-ol", "K2Cr2O7", 1), ("cyclohexanol", "K2Cr2O7", 1),
        ("ethanol", "K2Cr2O7", 1), ("1-phenylethanol", "K2Cr2O7", 1), ("KBr", "KMnO4", 0),
        ("KI", "KIO3", 1), ("Cu", "FeCl3", 1), ("FeSO4", "KMnO4", 1), ("MnSO4", "KMnO4", 7),
        ("Na2SO3", "KMnO4", 8), ("Na2S2O3", "I2", 7), ("NaAsO2", "KBrO3", 1), ("SnCl2", "FeCl3", 1),
        ("Na2C2O4", "KMnO4", 0), ("NaNO2", "KMnO4", 6), ("Ce2(SO4)3", "K2S2O8", 1), ("KCN", "KMnO4", 11),
        ("Na2S", "KMnO4", 12),
    ],
)  # fmt: skip
def test_a_reviewed_pair_is_known_whether_or_not_the_feed_is_called_one(
    feed: str, oxidant: str, ph: float
) -> None:
    assert not _unreviewed(case(feed=feed, oxidant=oxidant, ph=ph))
    assert not _unreviewed(case(species=feed, oxidant=oxidant, ph=ph))


def test_bleach_is_alkaline_unless_an_acid_says_otherwise() -> None:
    pot = case(feed="acetone", oxidant="NaClO")
    assert ("G36", "stop") in spoken(pot)
    assert ("G36", "stop") not in spoken(case(pot, acid="CH3COOH"))


def test_chlorine_dioxide_as_a_gas_is_toxic_in_a_water_works_too() -> None:
    assert ("G51", "caution") not in spoken(case(WELL, oxidant="ClO2"))
    assert ("G51", "caution") in spoken(case(WELL, oxidant="ClO2", oxidant_form="gas"))
    assert ("G51", "caution") in spoken(case(WELL, oxidant="ClO2", purpose="make"))


def test_bleach_without_a_word_on_acid_gives_no_chlorine_and_alum_makes_it_sour() -> None:
    pot = case(feed="Cu", oxidant="NaClO")
    assert ("G14", "stop") not in spoken(pot)
    assert ("G14", "stop") in spoken(case(pot, species="KAl(SO4)2.12H2O"))
    assert ("G14", "stop") not in spoken(case(pot, species="KAl(SO4)2.12H2O", ph=9))


def test_bromine_that_is_only_wanted_meets_the_solvent_too() -> None:
    pot = case(target="Br2", species="ethanol", oxidant_key="anode", ph=9)
    assert ("G10", "stop") in spoken(pot)
    assert ("G10", "stop") not in spoken(case(pot, target="I2"))


def test_bromide_in_alcohol_is_no_bromine_before_something_oxidises_it() -> None:
    pot = case(feed="KBr", species="ethanol", ph=9)
    assert ("G10", "stop") not in spoken(pot)
    assert ("G10", "stop") in spoken(case(pot, oxidant="KIO3", ph=1))


def test_a_stop_outweighs_what_is_only_unreviewed_whichever_rule_comes_first() -> None:
    verdict = review_situation(Situation.of(**case(CYANIDE, PEROXIDE, ph=None, free_cyanide_g_L=20)))
    assert {("G02", "unreviewed"), ("G38", "stop")} <= {(r.rule, str(r.severity)) for r in verdict.reasons}
    assert verdict.decision is Severity.STOP
    assert verdict.reasons[0].rule == "G38"


def test_water_onto_acid_from_the_bottle_is_told_without_its_strength() -> None:
    pot = case(BROMIDE, PEROXIDE, acid_undiluted=True, addition=["acid", "H2O", "feed", "oxidant"])
    assert ("G50", "caution") in spoken(pot)
    assert ("G50", "caution") not in spoken(case(pot, acid_undiluted=False))


def test_traces_in_a_well_make_no_ammonium_explosive_and_no_nitrate_no_nitrogen_oxides() -> None:
    trace = case(WELL, oxidant="KBrO3", impurities="NH4^+")
    assert ("G44", "stop") not in spoken(trace)
    assert ("G44", "stop") in spoken(case(trace, concentration_mol_L=0.1))
    assert ("G37", "caution") not in spoken(case(NEAT_SULFURIC, feed="Cu"))
    assert ("G37", "caution") in spoken(case(NEAT_SULFURIC, feed="Cu", impurities="KNO3"))


def test_iodine_in_the_pot_is_not_got_rid_of_with_alkali_alone() -> None:
    pot = case(species="I2", ph=5)
    assert ("G11", "caution") in spoken(case(pot, quench="NaOH"))
    assert ("G11", "caution") not in spoken(case(pot, quench="Na2S2O3"))
    assert ("G11", "caution") not in spoken(case(species="NaCl", ph=5, quench="NaOH"))
