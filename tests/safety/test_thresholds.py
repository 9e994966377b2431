"""Every number in the gate is a line: what is allowed on one side is not on the other.

Each row names a rule at a severity, a situation, one fact of it, the last value at which the rule
keeps quiet and the first at which it speaks.
"""

from __future__ import annotations

import pytest

from redoxlib.safety import Situation, review_situation

from ._cases import ALCOHOL, BROMIDE, CYANIDE, CYCLO, IODIDE, PEROXIDE, SULFIDE, WELL, Fields, case

SPRING = case(SULFIDE, PEROXIDE, feed="NaHS", ph=8, purpose="remove", total_sulfide_mmol_L=0.4)
SULFURIC_POT = case(feed="FeSO4", oxidant="KMnO4", acid="H2SO4", ph=0)
TRIPLE_SALT = "(KHSO5)2.KHSO4.K2SO4"
HUNDRED_WATT = case(BROMIDE, PEROXIDE, cooling_W=100, all_at_once=False)

# rule, severity, situation, field, quiet at, speaks at
LINES: list[tuple[str, str, Fields, str, float, float]] = [
    ("G02", "stop", case(CYANIDE, PEROXIDE), "ph", 10.0, 9.99),
    ("G03", "stop", case(CYANIDE, oxidant="NaClO"), "ph", 10.5, 10.49),
    ("G38", "stop", case(CYANIDE, PEROXIDE), "free_cyanide_g_L", 2.0, 2.01),
    # 2 g/L of CN (26.02 g/mol) are 0.07687 mol/L
    (
        "G38",
        "stop",
        case(CYANIDE, PEROXIDE, free_cyanide_g_L=None),
        "concentration_mol_L",
        0.0768,
        0.0769,
    ),
    ("G04", "stop", case(SULFIDE, PEROXIDE), "ph", 9.0, 8.99),
    ("G04", "stop", SPRING, "total_sulfide_mmol_L", 1.0, 1.01),
    ("G04", "stop", SPRING, "ph", 5.0, 4.99),
    ("G04", "stop", case(SPRING, total_sulfide_mmol_L=None), "concentration_mol_L", 1e-3, 1.01e-3),
    ("G39", "stop", case(SULFIDE, oxidant=TRIPLE_SALT, base="NaOH"), "ph", 12.0, 11.99),
    ("G39", "stop", case(SULFIDE, oxidant=TRIPLE_SALT), "ph", 13.0, 12.99),
    ("G39", "stop", case(SULFIDE, oxidant="C3Cl3N3O3", base="NaOH"), "ph", 9.0, 8.99),
    ("G60", "stop", case(feed="K4[Fe(CN)6]", oxidant="H2O2", temperature_C=20), "ph", 1.0, 0.99),
    ("G60", "stop", case(feed="K4[Fe(CN)6]", oxidant="H2O2", ph=2), "temperature_C", 40.0, 40.5),
    ("G59", "stop", case(feed="KSCN", oxidant="H2O2"), "ph", 10.0, 9.99),
    ("G14", "stop", case(feed="Cu", oxidant="NaClO"), "ph", 4.0, 3.99),
    ("G14", "stop", case(WELL, oxidant="NaClO", ph=3.9), "concentration_mol_L", 1e-3, 1.01e-3),
    # an alcohol in a pot of weak acid takes chlorine up fast enough, in mineral acid it does not
    ("G14", "stop", case(feed="cyclohexanol", oxidant="NaClO"), "ph", 3.01, 3.0),
    ("G34", "caution", case(feed="FeSO4", oxidant="MnO2", species="NaCl"), "ph", 5.0, 4.99),
    ("G42", "caution", case(feed="Na2SO3", oxidant="H2O2"), "ph", 5.0, 4.99),
    ("G12", "caution", case(feed="Na2S2O3", oxidant="H2O2"), "ph", 4.0, 3.99),
    ("G43", "caution", case(feed="NaNO2", oxidant="H2O2"), "ph", 5.0, 4.99),
    ("G67", "caution", case(feed="NH4I", target="I2", oxidant="H2O2"), "ph", 8.99, 9.0),
    ("G01", "stop", case(feed="FeSO4", oxidant="NaClO2"), "ph", 4.0, 3.99),
    ("G01", "caution", case(feed="FeSO4", oxidant="NaClO2"), "ph", 6.0, 5.99),
    ("G01", "stop", case(feed="FeSO4", oxidant="NaClO2", acid="H2SO4"), "ph", 5.0, 4.99),
    ("G01", "stop", case(feed="FeSO4", oxidant="NaClO3"), "ph", 2.0, 1.99),
    ("G01", "caution", case(feed="FeSO4", oxidant="NaClO3"), "ph", 4.0, 3.99),
    ("G01", "stop", case(feed="Na2S2O3", oxidant="NaClO2", ph=7), "acid_made_mol_L", 5e-3, 5.1e-3),
    ("G01", "caution", case(feed="Na2S2O3", oxidant="NaClO3", ph=7), "acid_made_mol_L", 5e-3, 5.1e-3),
    ("G01", "stop", case(feed="Na2S2O3", oxidant="NaClO3", ph=7), "acid_made_mol_L", 0.0099, 0.01),
    ("G64", "caution", case(feed="Na2S2O3", oxidant="NaClO", ph=7), "acid_made_mol_L", 5e-3, 5.1e-3),
    ("G12", "caution", case(feed="Na2S2O3", oxidant="H2O2", ph=7), "acid_made_mol_L", 5e-3, 5.1e-3),
    ("G68", "stop", case(feed="Na2SO3", oxidant="Ca(ClO)2", impurities="KClO2"), "ph", 9.0, 8.99),
    ("G06", "stop", case(CYCLO, oxidant="HNO3", ph=0), "oxidant_strength_w_w", 0.02, 0.021),
    (
        "G06",
        "stop",
        case(feed="FeSO4", species="CH3COOH", oxidant="HNO3", ph=0),
        "oxidant_strength_w_w",
        0.30,
        0.31,
    ),
    ("G07", "caution", SULFURIC_POT, "acid_strength_w_w", 0.69, 0.70),
    ("G07", "caution", case(SULFURIC_POT, acid_undiluted=True), "acid_strength_w_w", 0.49, 0.50),
    ("G07", "stop", case(SULFURIC_POT, acid_undiluted=True), "acid_strength_w_w", 0.69, 0.70),
    ("G09", "stop", case(BROMIDE, PEROXIDE, feed="NH4Br"), "ph", 3.99, 4.0),
    ("G09", "stop", case(IODIDE, PEROXIDE, feed="NH4I"), "ph", 6.99, 7.0),
    ("G16", "stop", case(BROMIDE, oxidant="H2O2"), "oxidant_strength_w_w", 0.35, 0.351),
    (
        "G22",
        "caution",
        case(feed="FeSO4", oxidant="Na2S2O8", ph=1, all_at_once=True),
        "temperature_C",
        40.0,
        40.5,
    ),
    ("G29", "stop", case(CYCLO, oxidant="CH3COOOH", ph=4), "oxidant_strength_w_w", 0.40, 0.41),
    ("G29", "stop", case(CYCLO, oxidant="CH3COOOH", ph=4), "temperature_C", 40.0, 40.5),
    ("G29", "stop", case(IODIDE, PEROXIDE, acid="CH3COOH", ph=4), "temperature_C", 60.0, 60.5),
    ("G36", "stop", case(feed="acetone", oxidant="NaClO"), "ph", 6.99, 7.0),
    (
        "G40",
        "stop",
        case(feed="benzyl alcohol", oxidant="KMnO4", oxidant_form="solid", ph=10),
        "concentration_mol_L",
        3.0,
        3.01,
    ),
    ("G40", "stop", case(feed="glycerol", oxidant="Ca(ClO)2", ph=11), "concentration_mol_L", 0.1, 0.11),
    (
        "G40",
        "stop",
        case(feed="glycerol", oxidant="K2Cr2O7", oxidant_form="solid", ph=1),
        "concentration_mol_L",
        0.1,
        0.11,
    ),
    ("G41", "stop", case(feed="NaN3", species="Na2SO4"), "ph", 8.0, 7.99),
    ("G48", "caution", case(feed="FeSO4", oxidant="H2O2", ph=2), "oxidant_strength_w_w", 0.08, 0.081),
    ("G49", "caution", case(feed="NH4I", oxidant="K2S2O8", ph=1), "temperature_C", 40.0, 40.5),
    ("G30", "caution", case(IODIDE, PEROXIDE), "temperature_C", 40.0, 40.5),
    # 70 % of a chlorine dioxide dose ends as chlorite, of which 1 mg/L may be drunk
    ("G19", "stop", case(WELL, oxidant="ClO2", potable=True), "dose_mg_L", 1.44, 1.45),
    ("G19", "stop", case(WELL, oxidant="NaClO2", potable=True), "dose_mg_L", 1.01, 1.02),
    # two ClO2 (67.45 g/mol) for each manganese
    ("G19", "stop", case(WELL, oxidant="ClO2", potable=True), "concentration_mol_L", 1.06e-5, 1.08e-5),
    # 200 kJ/mol assumed; 500 kJ without cooling; 100 W for an hour carry 360 kJ away
    ("G47", "caution", case(BROMIDE, PEROXIDE), "amount_mol", 2.5, 2.51),
    ("G47", "caution", HUNDRED_WATT, "amount_mol", 0.9, 0.91),
    ("G47", "stop", HUNDRED_WATT, "amount_mol", 1.8, 1.81),
    ("G47", "stop", case(HUNDRED_WATT, heat_kJ_per_mol=100), "amount_mol", 3.6, 3.61),
    ("G47", "stop", case(HUNDRED_WATT, dosing_min=30), "amount_mol", 0.9, 0.91),
    ("G47", "stop", case(HUNDRED_WATT, all_at_once=True), "amount_mol", 0.3, 0.304),
    # traces of ammonium are water treatment up to 1 mmol/L
    ("G08", "stop", case(WELL, oxidant="NaClO", impurities="NH4^+"), "concentration_mol_L", 1e-3, 1.01e-3),
    # mineral acid: pH 3 and below, or below 4.5 with a strong acid in the pot
    ("G05", "stop", case(ALCOHOL, PEROXIDE), "ph", 3.01, 3.0),
    ("G05", "stop", case(ALCOHOL, PEROXIDE, acid="H2SO4"), "ph", 4.5, 4.49),
    ("G13", "caution", case(feed="KBr", oxidant="NaClO"), "ph", 7.0, 6.99),
    # ammoniacal silver: a caution while fresh, a stop in alkali; held in acid it is ammonium
    ("G46", "stop", case(species="Ag(NH3)2NO3"), "ph", 11.99, 12.0),
    ("G46", "stop", case(species=["AgNO3", "NH3"]), "ph", 6.99, 7.0),
    (
        "G43",
        "stop",
        case(WELL, feed="NO2^-", oxidant="O3", impurities="NH4^+"),
        "concentration_mol_L",
        1e-3,
        1.01e-3,
    ),
    # at the dose of a water works chlorine dioxide stays dissolved
    ("G51", "caution", case(WELL, oxidant="ClO2"), "concentration_mol_L", 1e-3, 1.001e-3),
    ("G11", "caution", case(IODIDE, PEROXIDE, acid=[], base="NaOH"), "ph", 7.0, 7.01),
]


@pytest.mark.parametrize(
    ("rule", "severity", "fields", "name", "quiet", "speaks"),
    LINES,
    ids=[f"{row[0]}-{row[1]}-{row[3]}-{row[4]:g}" for row in LINES],
)
def test_the_rule_speaks_from_its_line_on(
    rule: str, severity: str, fields: Fields, name: str, quiet: float, speaks: float
) -> None:
    assert (rule, severity) not in _spoken(case(fields, **{name: quiet}))
    assert (rule, severity) in _spoken(case(fields, **{name: speaks}))


@pytest.mark.parametrize(
    ("rule", "fields"),
    [
        ("G22", case(feed="FeSO4", oxidant="Na2S2O8", ph=1, all_at_once=True)),
        ("G49", case(feed="NH4I", oxidant="K2S2O8", ph=1)),
        ("G48", case(feed="FeSO4", oxidant="H2O2", ph=2)),
        ("G16", case(feed="FeSO4", oxidant="H2O2", ph=2)),
    ],
)
def test_a_fact_that_nobody_declared_counts_as_the_dangerous_one(rule: str, fields: Fields) -> None:
    assert (rule, "caution") in _spoken(fields)


def test_water_goes_first_when_sulfuric_acid_is_diluted() -> None:
    acid_first = case(BROMIDE, PEROXIDE, acid_strength_w_w=0.70, addition=["acid", "H2O", "feed", "oxidant"])
    water_first = case(acid_first, addition=["H2O", "acid", "feed", "oxidant"])
    assert ("G50", "caution") in _spoken(acid_first)
    assert ("G50", "caution") not in _spoken(water_first)
    assert ("G50", "caution") not in _spoken(case(acid_first, acid_strength_w_w=0.69))


@pytest.mark.parametrize(
    ("medium", "written"),
    [
        ({"acid": "H2SO4"}, "at pH 0 to 3"),
        ({"species": "Al2(SO4)3"}, "at pH 0 to 3"),
        ({"acid": "CH3COOH"}, "at pH 2 to 6"),
        ({"base": "NaOH"}, "at pH 8 to 14"),
        ({"ph": 4.5}, "at pH 4.5"),
    ],
)
def test_an_acid_or_a_base_stands_for_the_range_of_ph_that_it_can_make(medium: Fields, written: str) -> None:
    # permanganate is reviewed on nitrite from pH 5 to 11 only
    verdict = review_situation(Situation.of(feed="NaNO2", oxidant="KMnO4", **medium))
    told = [reason.text for reason in verdict.reasons if reason.rule == "U01"]
    assert [text for text in told if f"{written})" in text] == told != []


@pytest.mark.parametrize(
    ("first", "second"), [("NaOH", "H2SO4"), ("NaOH", "CH3COOH"), ("KOH", "Al2(SO4)3"), ("NaOH", "C3Cl3N3O3")]
)
def test_an_acid_beside_a_base_tells_no_ph(first: str, second: str) -> None:
    verdict = review_situation(Situation.of(feed="KI", oxidant="KIO3", species=[first, second]))
    assert "U02" in verdict.rules


@pytest.mark.parametrize("medium", [{"acid": "H2SO4"}, {"acid": "CH3COOH"}, {"base": "NaOH"}, {"ph": 5}])
def test_what_tells_the_ph_answers_the_question_for_it(medium: Fields) -> None:
    assert "U02" in review_situation(Situation.of(feed="KI", oxidant="KIO3")).rules
    assert "U02" not in review_situation(Situation.of(feed="KI", oxidant="KIO3", **medium)).rules


def _spoken(fields: Fields) -> set[tuple[str, str]]:
    verdict = review_situation(Situation.of(**fields))
    return {(reason.rule, str(reason.severity)) for reason in verdict.reasons}
