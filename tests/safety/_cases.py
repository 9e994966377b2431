"""Situations for the gate: for every rule at every severity a case that calls it and a near miss.

The cases use other salts, other spellings and other acids than the teaching table does, because
the rules are keyed to what is in the pot.  The near miss differs in the one fact that matters.
"""

from __future__ import annotations

from typing import Any

Fields = dict[str, Any]

BROMIDE: Fields = {"feed": "KBr", "target": "Br2", "ph": 0, "acid": "H2SO4"}
IODIDE: Fields = {"feed": "KI", "target": "I2", "ph": 1, "acid": "H2SO4"}
CYANIDE: Fields = {"feed": "KCN", "target": "OCN^-", "ph": 11, "free_cyanide_g_L": 0.5}
SULFIDE: Fields = {"feed": "K2S", "target": "SO4^2-", "ph": 12}
PEROXIDE: Fields = {"oxidant": "H2O2", "oxidant_strength_w_w": 0.30}
ALCOHOL: Fields = {"feed": "propan-2-ol", "target": "acetone"}
CYCLO: Fields = {"feed": "cyclohexanol", "target": "cyclohexanone"}
WELL: Fields = {"feed": "Mn^2+", "ph": 7.5, "purpose": "remove", "concentration_mol_L": 1e-5}


def case(*parts: Fields, **more: Any) -> Fields:
    """Merge situations, later ones winning."""
    merged: Fields = {}
    for part in (*parts, more):
        merged.update(part)
    return merged


# (rule, severity): (a situation in which it must speak, the nearest one in which it must not)
PAIRS: dict[tuple[str, str], tuple[Fields, Fields]] = {
    ("G01", "stop"): (
        case(BROMIDE, oxidant="KClO3", acid="HCl"),
        case(BROMIDE, oxidant="KIO3", acid="HCl"),
    ),
    ("G01", "caution"): (
        case(feed="Fe^2+", oxidant="NaClO2", ph=4.5),
        case(feed="Fe^2+", oxidant="NaClO2", ph=7),
    ),
    ("G02", "stop"): (case(CYANIDE, PEROXIDE, ph=9.5), case(CYANIDE, PEROXIDE, ph=10)),
    ("G02", "unreviewed"): (case(CYANIDE, PEROXIDE, ph=None), case(CYANIDE, PEROXIDE)),
    ("G03", "stop"): (
        case(CYANIDE, feed="Zn(CN)2", oxidant="Ca(ClO)2", ph=10.2),
        case(CYANIDE, feed="Zn(CN)2", oxidant="Ca(ClO)2", ph=10.5),
    ),
    ("G04", "stop"): (
        case(SULFIDE, PEROXIDE, feed="CaS", acid="CH3COOH", ph=5),
        case(SULFIDE, PEROXIDE, feed="CaS", ph=9.2),
    ),
    ("G04", "caution"): (
        case(SULFIDE, PEROXIDE, feed="NaHS", ph=7.2, purpose="remove", total_sulfide_mmol_L=0.4),
        case(SULFIDE, PEROXIDE, feed="NaHS", ph=9.5, purpose="remove", total_sulfide_mmol_L=0.4),
    ),
    ("G04", "unreviewed"): (case(SULFIDE, PEROXIDE, ph=None), case(SULFIDE, PEROXIDE)),
    ("G05", "stop"): (
        case(ALCOHOL, PEROXIDE, acid="HCl", ph=1),
        case(ALCOHOL, PEROXIDE, acid=[], ph=7),
    ),
    ("G05", "caution"): (case(ALCOHOL, PEROXIDE, ph=7), case(ALCOHOL, oxidant="KMnO4", ph=7)),
    ("G06", "stop"): (
        case(CYCLO, oxidant="HNO3", oxidant_strength_w_w=0.5, ph=0),
        case(feed="Cu", oxidant="HNO3", oxidant_strength_w_w=0.5, ph=0),
    ),
    ("G07", "stop"): (
        case(feed="MnSO4", oxidant="NaMnO4", acid="H2SO4", acid_strength_w_w=0.96, acid_undiluted=True, ph=0),
        case(
            feed="MnSO4", oxidant="NaMnO4", acid="H2SO4", acid_strength_w_w=0.96, acid_undiluted=False, ph=0
        ),
    ),
    ("G07", "caution"): (
        case(feed="FeSO4", oxidant="KMnO4", acid="H2SO4", acid_strength_w_w=0.96, ph=0),
        case(feed="FeSO4", oxidant="KMnO4", acid="H2SO4", acid_strength_w_w=0.20, ph=0),
    ),
    ("G08", "stop"): (
        case(BROMIDE, feed="NH4Br", oxidant="C3Cl3N3O3"),
        case(BROMIDE, feed="NaBr", oxidant="C3Cl3N3O3"),
    ),
    ("G08", "caution"): (
        case(WELL, oxidant="NaClO", impurities="NH4^+"),
        case(WELL, oxidant="NaClO", impurities="Na^+"),
    ),
    ("G09", "stop"): (
        case(IODIDE, PEROXIDE, quench="NH3"),
        case(IODIDE, PEROXIDE, quench=["Na2S2O3", "NaHCO3"]),
    ),
    ("G09", "unreviewed"): (
        case(feed="NH4I", target="I2", oxidant="KIO3"),
        case(feed="KI", target="I2", oxidant="KIO3"),
    ),
    ("G09", "caution"): (
        case(IODIDE, PEROXIDE, feed="NH4I"),
        case(IODIDE, PEROXIDE, feed="NaI"),
    ),
    ("G10", "stop"): (
        case(BROMIDE, PEROXIDE, quench="CH4O"),
        case(BROMIDE, PEROXIDE, quench="Na2SO3"),
    ),
    ("G10", "caution"): (
        case(CYCLO, oxidant="KBrO3", acid="CH3COOH", ph=4),
        case(CYCLO, oxidant="KIO3", acid="CH3COOH", ph=4),
    ),
    ("G11", "caution"): (
        case(BROMIDE, PEROXIDE, quench="KOH"),
        case(BROMIDE, PEROXIDE, quench=["KOH", "Na2SO3"]),
    ),
    ("G12", "caution"): (
        case(IODIDE, PEROXIDE, quench="K2S2O3"),
        case(IODIDE, PEROXIDE, ph=6, acid=[], quench="K2S2O3"),
    ),
    ("G13", "caution"): (
        case(BROMIDE, oxidant="Ca(ClO)2", acid="HCl"),
        case(BROMIDE, oxidant="KIO3", acid="HCl"),
    ),
    ("G14", "stop"): (
        case(BROMIDE, oxidant="Ca(ClO)2", addition=["oxidant", "acid", "feed"]),
        case(BROMIDE, oxidant="Ca(ClO)2", addition=["feed", "acid", "oxidant"]),
    ),
    ("G15", "caution"): (
        case(BROMIDE, PEROXIDE, species="Ca(ClO)2"),
        case(BROMIDE, PEROXIDE, species="CaCl2"),
    ),
    ("G16", "stop"): (
        case(BROMIDE, oxidant="H2O2", oxidant_strength_w_w=0.5),
        case(BROMIDE, oxidant="H2O2", oxidant_strength_w_w=0.35),
    ),
    ("G16", "caution"): (case(BROMIDE, oxidant="H2O2"), case(BROMIDE, PEROXIDE)),
    ("G17", "caution"): (
        case(BROMIDE, oxidant="K5H3S4O18", impurities="KCl"),
        case(BROMIDE, oxidant="K5H3S4O18", impurities="K2SO4"),
    ),
    ("G18", "stop"): (case(WELL, oxidant="KBrO3", potable=True), case(WELL, oxidant="KMnO4", potable=True)),
    ("G18", "caution"): (
        case(WELL, oxidant="O3", potable=True, impurities="Br^-"),
        case(WELL, oxidant="O3", potable=True),
    ),
    ("G19", "stop"): (
        case(WELL, oxidant="ClO2", potable=True, dose_mg_L=18),
        case(WELL, oxidant="ClO2", potable=True, dose_mg_L=1.2),
    ),
    ("G19", "caution"): (
        case(WELL, oxidant="ClO2", potable=True, dose_mg_L=1.2),
        case(WELL, oxidant="ClO2", potable=False, dose_mg_L=1.2),
    ),
    ("G20", "stop"): (
        case(IODIDE, oxidant="(Na2CO3)2.3H2O2", vessel="sealed"),
        case(IODIDE, oxidant="(Na2CO3)2.3H2O2", vessel="vented"),
    ),
    ("G21", "caution"): (
        case(BROMIDE, oxidant="H2SO4", acid_strength_w_w=0.98, acid_undiluted=True, temperature_C=120),
        case(BROMIDE, oxidant="KIO3", acid_strength_w_w=0.98, acid_undiluted=False, temperature_C=120),
    ),
    ("G22", "caution"): (
        case(feed="FeSO4", oxidant="K2S2O8", ph=1, temperature_C=70, all_at_once=True),
        case(feed="FeSO4", oxidant="K2S2O8", ph=1, temperature_C=70, all_at_once=False),
    ),
    ("G23", "caution"): (
        case(CYANIDE, oxidant="NaClO", impurities="K4[Fe(CN)6]"),
        case(CYANIDE, oxidant="NaClO", impurities="K2CO3"),
    ),
    ("G24", "stop"): (
        case(feed="KCl", target="KClO4", oxidant_key="anode"),
        case(feed="KI", target="KIO3", oxidant_key="anode"),
    ),
    ("G25", "stop"): (
        case(feed="HCl", target="Cl2", oxidant="MnO2", ph=0),
        case(feed="HBr", target="Br2", oxidant="MnO2", ph=0),
    ),
    ("G26", "caution"): (case(feed="FeSO4", oxidant="CrO3", ph=0), case(feed="FeSO4", oxidant="KMnO4", ph=0)),
    ("G27", "caution"): (
        case(feed="ethanol", oxidant="O3", ph=7, temperature_C=45),
        case(feed="Fe^2+", oxidant="O3", ph=7, temperature_C=45),
    ),
    ("G28", "stop"): (
        case(WELL, oxidant=["C3Cl3N3O3", "Ca(ClO)2"]),
        case(WELL, oxidant="C3Cl3N3O3"),
    ),
    ("G29", "stop"): (
        case(CYCLO, oxidant="CH3COOOH", ph=3.5, distil=True),
        case(CYCLO, oxidant="CH3COOOH", ph=3.5, distil=False),
    ),
    ("G30", "caution"): (case(BROMIDE, PEROXIDE), case(BROMIDE, PEROXIDE, feed="KI", target="I2")),
    ("G34", "caution"): (
        case(feed="FeCl2", oxidant="KMnO4", acid="HCl", ph=0),
        case(feed="FeSO4", oxidant="KMnO4", acid="H2SO4", ph=0),
    ),
    ("G35", "caution"): (
        case(IODIDE, PEROXIDE, acid="CH3COOH", ph=3),
        case(IODIDE, PEROXIDE, acid="H3PO4", ph=2),
    ),
    ("G36", "stop"): (
        case(ALCOHOL, oxidant="Ca(ClO)2", ph=12),
        case(ALCOHOL, oxidant="Ca(ClO)2", acid="CH3COOH", ph=5),
    ),
    ("G36", "caution"): (
        case(feed="1-phenylethanol", oxidant="NaClO", acid="CH3COOH", ph=5),
        case(CYCLO, oxidant="NaClO", acid="CH3COOH", ph=5),
    ),
    ("G66", "stop"): (
        case(CYCLO, oxidant="Ca(ClO)2", base="KOH", ph=11),
        case(feed="benzyl alcohol", oxidant="Ca(ClO)2", base="KOH", ph=11),
    ),
    ("G66", "caution"): (
        case(CYCLO, oxidant="C3HCl2N3O3", acid="CH3COOH", ph=5),
        case(ALCOHOL, oxidant="C3HCl2N3O3", acid="CH3COOH", ph=5),
    ),
    ("G67", "caution"): (
        case(SULFIDE, oxidant="(NH4)2S2O8"),
        case(SULFIDE, oxidant="K2S2O8"),
    ),
    ("G37", "caution"): (case(feed="Ag", oxidant="HNO3", ph=0), case(feed="Ag", oxidant="FeCl3", ph=0)),
    ("G38", "stop"): (
        case(CYANIDE, PEROXIDE, free_cyanide_g_L=5.2),
        case(CYANIDE, PEROXIDE, free_cyanide_g_L=2.0),
    ),
    ("G38", "caution"): (case(CYANIDE, PEROXIDE), case(CYANIDE, PEROXIDE, feed="K2S", target="SO4^2-")),
    ("G39", "stop"): (
        case(CYANIDE, oxidant="FeCl3", ph=11),
        case(CYANIDE, oxidant="MnO2", ph=11),
    ),
    ("G39", "caution"): (
        case(SULFIDE, oxidant="(KHSO5)2.KHSO4.K2SO4", base="NaOH", ph=12),
        case(SULFIDE, oxidant="NaClO", base="NaOH", ph=12),
    ),
    ("G40", "stop"): (
        case(feed="glycerol", oxidant="NaMnO4", ph=7, concentration_mol_L=0.2),
        case(feed="ethanol", oxidant="NaMnO4", ph=7, concentration_mol_L=0.2),
    ),
    ("G40", "caution"): (case(CYCLO, oxidant="KMnO4", ph=9), case(CYCLO, oxidant="MnO2", ph=9)),
    ("G41", "stop"): (case(feed="N2H5Cl", oxidant="NaClO", ph=9), case(feed="Na2SO3", oxidant="NaClO", ph=9)),
    ("G42", "caution"): (case(feed="K2SO3", oxidant="KIO3", ph=2), case(feed="K2SO3", oxidant="KIO3", ph=8)),
    ("G43", "stop"): (
        case(feed="KNO2", oxidant="H2O2", species="NH4Cl", ph=6),
        case(feed="KNO2", oxidant="H2O2", species="KCl", ph=6),
    ),
    ("G43", "caution"): (
        case(feed="KNO2", oxidant="KMnO4", acid="H2SO4", ph=1),
        case(feed="KNO2", oxidant="KMnO4", ph=7),
    ),
    ("G44", "stop"): (case(IODIDE, feed="NH4I", oxidant="KBrO3"), case(IODIDE, feed="KI", oxidant="KBrO3")),
    ("G45", "stop"): (case(feed="Al", oxidant="KClO3", ph=7), case(feed="Al", oxidant="H2O2", ph=7)),
    ("G46", "stop"): (case(species=["AgNO3", "NH3"], ph=12), case(species=["AgNO3", "Na2S2O3"], ph=8)),
    ("G46", "caution"): (case(species="Ag(NH3)2NO3", ph=9), case(species="Cu(NH3)4SO4", ph=9)),
    ("G47", "stop"): (
        case(BROMIDE, PEROXIDE, amount_mol=5, cooling_W=50),
        case(BROMIDE, PEROXIDE, amount_mol=0.05, cooling_W=50),
    ),
    ("G47", "caution"): (
        case(BROMIDE, PEROXIDE, amount_mol=0.6, cooling_W=50),
        case(BROMIDE, PEROXIDE, amount_mol=0.2, cooling_W=50),
    ),
    ("G48", "caution"): (
        case(feed="CoSO4", oxidant="H2O2", ph=7, purpose="remove", concentration_mol_L=0.5),
        case(feed="CoSO4", oxidant="H2O2", ph=7, purpose="remove", concentration_mol_L=2e-5),
    ),
    ("G49", "caution"): (
        case(feed="Mn^2+", oxidant="(NH4)2S2O8", ph=1, temperature_C=80),
        case(feed="Mn^2+", oxidant="K2S2O8", ph=1, temperature_C=80),
    ),
    ("G50", "caution"): (
        case(BROMIDE, PEROXIDE, acid_strength_w_w=0.98, addition=["acid", "H2O", "feed", "oxidant"]),
        case(BROMIDE, PEROXIDE, acid_strength_w_w=0.98, addition=["H2O", "acid", "feed", "oxidant"]),
    ),
    ("G51", "stop"): (
        case(species="NH3", feed="Na2SO3", oxidant="O3", oxidant_form="gas", ph=9),
        case(species="NaCl", feed="Na2SO3", oxidant="O3", oxidant_form="gas", ph=9),
    ),
    ("G51", "caution"): (
        case(IODIDE, oxidant="ClO2", oxidant_form="solution"),
        case(IODIDE, oxidant="ClO2", oxidant_form="solution", purpose="remove"),
    ),
    ("G53", "stop"): (
        case(CYCLO, PEROXIDE, acid="H2SO4", acid_strength_w_w=0.98, acid_undiluted=True),
        case(
            feed="FeSO4",
            target="Fe^3+",
            oxidant="H2O2",
            oxidant_strength_w_w=0.3,
            acid="H2SO4",
            acid_strength_w_w=0.98,
            acid_undiluted=True,
        ),
    ),
    ("G53", "caution"): (
        case(
            feed="FeSO4",
            oxidant="H2O2",
            oxidant_strength_w_w=0.3,
            acid="H2SO4",
            acid_strength_w_w=0.98,
            acid_undiluted=True,
        ),
        case(
            feed="FeSO4",
            oxidant="H2O2",
            oxidant_strength_w_w=0.3,
            acid="H2SO4",
            acid_strength_w_w=0.1,
            acid_undiluted=True,
        ),
    ),
    ("G54", "stop"): (
        case(feed="S", oxidant="KClO2", oxidant_form="solid", ph=7),
        case(feed="Na2SO3", oxidant="KClO2", oxidant_form="solid", ph=9),
    ),
    ("G54", "caution"): (
        case(SULFIDE, oxidant="KClO2", oxidant_form="solution"),
        case(SULFIDE, oxidant="KMnO4", oxidant_form="solution"),
    ),
    ("G55", "caution"): (case(IODIDE, oxidant_key="anode"), case(IODIDE, oxidant="Fe2(SO4)3")),
    ("G56", "stop"): (
        case(feed="Na2SO3", oxidant="KClO2", ph=9, quench="HCl"),
        case(feed="Na2SO3", oxidant="KClO2", ph=9, quench="Na2SO3"),
    ),
    ("G57", "stop"): (
        case(feed="NaAsO2", oxidant="H2O2", species="Zn", ph=1),
        case(feed="NaAsO2", oxidant="H2O2", ph=8),
    ),
    ("G57", "caution"): (
        case(feed="Na3AsO3", oxidant="KMnO4", ph=7),
        case(feed="Na2SO3", oxidant="KMnO4", ph=7),
    ),
    ("G58", "stop"): (
        case(BROMIDE, PEROXIDE, room="garage, no hood"),
        case(BROMIDE, PEROXIDE, room="fume hood"),
    ),
    ("G59", "stop"): (case(feed="NH4SCN", oxidant="H2O2", ph=4), case(feed="KSCN", oxidant="H2O2", ph=11)),
    ("G60", "stop"): (
        case(feed="K4[Fe(CN)6]", oxidant="KMnO4", acid="H2SO4", ph=0),
        case(feed="K4[Fe(CN)6]", oxidant="KMnO4", ph=7),
    ),
    ("G61", "stop"): (
        case(feed="FeSO4", species="AgN3", oxidant="H2O2", ph=2),
        case(feed="FeSO4", species="AgNO3", oxidant="H2O2", ph=2),
    ),
    ("G62", "caution"): (
        case(feed="FeSO4", oxidant="KMnO4", acid="HClO4", ph=0),
        case(feed="FeSO4", oxidant="KMnO4", acid="H2SO4", ph=0),
    ),
    ("G63", "caution"): (
        case(IODIDE, feed="NH4I", oxidant="KMnO4"),
        case(IODIDE, feed="KI", oxidant="KMnO4"),
    ),
    ("G64", "caution"): (
        case(feed="FeSO4", oxidant="NaClO", acid="H2SO4", ph=1),
        case(feed="FeSO4", oxidant="NaClO", ph=7),
    ),
    ("G65", "caution"): (
        case(feed="Cu(s)", oxidant="H2SO4", acid="H2SO4", acid_strength_w_w=0.98, acid_undiluted=True),
        case(feed="Cu(s)", acid="H2SO4", acid_strength_w_w=0.98, acid_undiluted=False),
    ),
    ("G68", "stop"): (
        case(feed="Na2SO3", oxidant="Ca(ClO)2", impurities="KClO2", ph=8),
        case(feed="Na2SO3", oxidant="Ca(ClO)2", impurities="KCl", ph=8),
    ),
    ("G68", "caution"): (
        case(feed="Na2SO3", oxidant="Ca(ClO)2", impurities="KClO2", ph=11),
        case(feed="Na2SO3", oxidant="H2O2", impurities="KClO2", ph=11),
    ),
    ("G69", "stop"): (case(feed="K", oxidant="O2", ph=7), case(feed="Cu", oxidant="O2", ph=7)),
    ("U01", "unreviewed"): (
        case(IODIDE, feed="NiSO4", target="NiO(OH)", oxidant="Br2"),
        case(IODIDE, oxidant="Br2"),
    ),
    ("U02", "unreviewed"): (case(feed="KI", target="I2", oxidant="KIO3"), case(IODIDE, oxidant="KIO3")),
    ("U03", "unreviewed"): (
        case(IODIDE, PEROXIDE, species="glycerol"),
        case(IODIDE, PEROXIDE, species="Na2SO4"),
    ),
}

# Work that is done every day: none of it may be stopped.
SAFE: dict[str, Fields] = {
    "bromide, peroxide, within the cooling": case(
        BROMIDE, PEROXIDE, feed="NaBr", amount_mol=0.1, cooling_W=50, room="fume hood", vessel="open"
    ),
    "bromide, permanganate in dilute sulfuric acid": case(
        BROMIDE, oxidant="KMnO4", acid_undiluted=False, acid_strength_w_w=0.98
    ),
    "bromide, bleach dosed last": case(BROMIDE, oxidant="NaClO", addition=["feed", "acid", "oxidant"]),
    "bromide, dichromate": case(BROMIDE, oxidant="K2Cr2O7"),
    "bromide, bromate": case(BROMIDE, oxidant="NaBrO3"),
    "bromide at a platinum anode": case(BROMIDE, oxidant_key="anode"),
    "lithium bromide, isocyanurate": case(BROMIDE, feed="LiBr", oxidant="C3Cl3N3O3"),
    "iodide waste, peroxide": case(IODIDE, PEROXIDE),
    "iodide waste, exact bleach": case(IODIDE, oxidant="NaClO", addition=["feed", "acid", "oxidant"]),
    "iodide waste, iron(III)": case(IODIDE, oxidant="FeCl3"),
    "iodide, sulfite quench with carbonate": case(IODIDE, PEROXIDE, quench=["Na2SO3", "NaHCO3"]),
    "copper, peroxide and sulfuric acid": case(PEROXIDE, feed="Cu", target="Cu^2+", acid="H2SO4", ph=0),
    "copper, nitric acid": case(feed="Cu", target="Cu^2+", oxidant="HNO3", oxidant_strength_w_w=0.3, ph=0),
    "copper, air": case(feed="Cu", target="Cu^2+", oxidant="O2", acid="H2SO4", ph=0),
    "copper, ferric chloride etchant": case(feed="Cu", target="Cu^2+", oxidant="FeCl3", ph=1),
    "copper in dilute acid without oxidant": case(feed="Cu", acid="H2SO4", ph=0),
    "iron(III) chloride on bromide": case(BROMIDE, oxidant="FeCl3"),
    "air on bromide": case(BROMIDE, oxidant="O2"),
    "ferrous liquor, peroxide": case(PEROXIDE, feed="FeSO4", target="Fe^3+", acid="H2SO4", ph=1),
    "ferrous iron in a village well, bleach": case(WELL, feed="Fe^2+", oxidant="NaClO", potable=True),
    "manganese in a village well, permanganate": case(WELL, oxidant="KMnO4", potable=True),
    "manganese, chlorine at a works": case(WELL, oxidant="Cl2", potable=True, context="water works"),
    "manganese, ozone": case(WELL, oxidant="O3", potable=True),
    "manganese, chlorine dioxide 1 mg/L": case(WELL, oxidant="ClO2", potable=True, dose_mg_L=1.0),
    "alkaline sulfide, peroxide": case(SULFIDE, PEROXIDE, feed="Na2S", ph=9),
    "alkaline sulfide, bleach": case(SULFIDE, oxidant="NaClO", feed="NaHS"),
    "alkaline sulfide, air": case(SULFIDE, oxidant="O2", feed="Na2S"),
    "sulfide in a spring water": case(
        SULFIDE, oxidant="NaClO", feed="HS^-", ph=7, potable=True, purpose="remove", total_sulfide_mmol_L=0.1
    ),
    "cyanide rinse, bleach at pH 11": case(CYANIDE, oxidant="NaClO", feed="NaCN"),
    "cyanide rinse, peroxide at pH 10": case(CYANIDE, PEROXIDE, feed="NaCN", ph=10),
    "cyanide rinse, ozone": case(CYANIDE, oxidant="O3"),
    "cyanide rinse, chlorine gas into soda": case(CYANIDE, oxidant="Cl2", base="NaOH", ph=11),
    "propan-2-ol, bleach in acetic acid": case(
        ALCOHOL, oxidant="NaClO", acid="CH3COOH", ph=4.5, addition=["feed", "acid", "oxidant"]
    ),
    "cyclohexanol, bleach in acetic acid": case(CYCLO, oxidant="NaClO", acid="CH3COOH", ph=4.5),
    "cyclohexanol, peroxide without acid": case(CYCLO, PEROXIDE, ph=7),
    "benzyl alcohol, permanganate in soda": case(
        feed="benzyl alcohol",
        target="benzaldehyde",
        oxidant="KMnO4",
        ph=10,
        concentration_mol_L=0.2,
        oxidant_form="solid",
    ),
    "ethanol, dichromate in dilute acid": case(
        feed="ethanol", target="acetaldehyde", oxidant="K2Cr2O7", ph=0, acid="H2SO4", concentration_mol_L=0.1
    ),
    "1-phenylethanol, bleach in acetic acid": case(
        feed="1-phenylethanol", target="acetophenone", oxidant="NaClO", acid="CH3COOH", ph=4.5
    ),
    "oxalate titration, permanganate": case(
        feed="Na2C2O4", target="CO2", oxidant="KMnO4", acid="H2SO4", ph=0.5
    ),
    "thiosulfate titration, iodine": case(feed="Na2S2O3", target="S4O6^2-", oxidant="I2", ph=7),
    "sulfite dechlorination": case(feed="Na2SO3", target="SO4^2-", oxidant="NaClO", ph=8, purpose="remove"),
    "arsenite titration, bromate": case(feed="NaAsO2", oxidant="KBrO3", ph=1, acid="HCl"),
    "chlorine dioxide generator at a works": case(
        feed="NaClO2",
        target="ClO2(aq)",
        oxidant="NaClO2",
        acid="HCl",
        ph=2,
        acid_strength_w_w=0.09,
        context="water works chlorine dioxide generator, dilute",
    ),
    "propan-2-ol, bleach in acetic acid, medium called acid": case(
        ALCOHOL, oxidant="NaClO", acid="CH3COOH", acid_strength_w_w=0.998, acid_undiluted=True, ph=0
    ),
    "bromide and hot sulfuric acid as the oxidant": case(
        feed="KBr", target="Br2", oxidant="H2SO4", oxidant_strength_w_w=0.98, acid="H2SO4", ph=0
    ),
    "iodide and nitrite": case(IODIDE, oxidant="NaNO2"),
    "well water with ammonium and bleach": case(
        feed="Fe^2+", oxidant="NaClO", ph=7.5, purpose="remove", potable=True, impurities="NH4^+"
    ),
    "bromide, quench told in words": case(BROMIDE, PEROXIDE, context="quenched with Na2SO3 and NaHCO3"),
    "persulfate dosed warm": case(feed="FeSO4", oxidant="Na2S2O8", ph=1, temperature_C=60, all_at_once=False),
}

# Work that must be stopped; the rule that must be among the reasons.
DANGEROUS: dict[str, tuple[str, Fields]] = {
    "potassium chlorate on iodide in hydrochloric acid": ("G01", case(IODIDE, oxidant="KClO3", acid="HCl")),
    "barium chlorite with bisulfate": ("G01", case(feed="Fe^2+", oxidant="Ba(ClO2)2", acid="NaHSO4", ph=1)),
    "chlorate on cyclohexanol": ("G40", case(CYCLO, oxidant="NaClO3", ph=7)),
    "calcium cyanide, dichromate": ("G39", case(CYANIDE, feed="Ca(CN)2", oxidant="Na2Cr2O7")),
    "potassium cyanide, ferric sulfate at declared pH 11": ("G39", case(CYANIDE, oxidant="Fe2(SO4)3")),
    "cyanide, nitric acid": ("G02", case(CYANIDE, oxidant="HNO3", ph=2)),
    "cyanide, bleach at pH 8.5": ("G03", case(CYANIDE, oxidant="NaClO", ph=8.5)),
    "cyanide, isocyanurate without alkali": ("G39", case(CYANIDE, oxidant="C3Cl3N3O3", ph=11)),
    "cyanide, strong solution": ("G38", case(CYANIDE, PEROXIDE, free_cyanide_g_L=20)),
    "iron sulfide, acid peroxide": ("G04", case(PEROXIDE, feed="FeS", target="S", acid="HCl", ph=1)),
    "ammonium sulfide, cerium(IV)": ("G39", case(SULFIDE, feed="(NH4)2S", oxidant="Ce(SO4)2")),
    "sulfide, triple salt without alkali": ("G39", case(SULFIDE, oxidant="(KHSO5)2.KHSO4.K2SO4", ph=10)),
    "sulfide, triple salt at pH 11 with a base on the shelf": (
        "G39",
        case(SULFIDE, oxidant="K5H3S4O18", base="NaOH", ph=11),
    ),
    "sulfide, bleach at pH 8": ("G04", case(SULFIDE, oxidant="NaClO", ph=8)),
    "propan-2-ol, percarbonate and sulfuric acid": (
        "G05",
        case(ALCOHOL, oxidant="(Na2CO3)2.3H2O2", acid="H2SO4", ph=1),
    ),
    "acetone rinse in bromide, peroxide and acid": ("G05", case(BROMIDE, PEROXIDE, impurities="acetone")),
    "cyclohexanone beside perborate and hydrochloric acid": (
        "G05",
        case(IODIDE, oxidant="NaBO3.4H2O", acid="HCl", species="cyclohexanone"),
    ),
    "ethanol, nitric acid": ("G06", case(feed="ethanol", oxidant="HNO3", ph=0)),
    "nitrate and concentrated sulfuric acid on propan-2-ol": (
        "G06",
        case(ALCOHOL, oxidant="KNO3", acid="H2SO4", acid_undiluted=True, acid_strength_w_w=0.96),
    ),
    "ammonium sulfate in bromide, bleach": ("G08", case(BROMIDE, oxidant="NaClO", impurities="(NH4)2SO4")),
    "ammonium chloride at an anode": ("G08", case(IODIDE, species="NH4Cl", oxidant_key="anode")),
    "urea with calcium hypochlorite": ("G08", case(species=["urea", "Ca(ClO)2"])),
    "bromine quenched with ammonia": ("G09", case(BROMIDE, PEROXIDE, quench="NH3")),
    "iodine extracted, neutralised with ammonia": ("G09", case(IODIDE, oxidant="KIO3", base="NH3")),
    "iodine quenched, told in words": (
        "G09",
        case(IODIDE, PEROXIDE, context="the rest is quenched with NH3 solution"),
    ),
    "alum solution into bleach": ("G14", case(species=["NaClO", "KAl(SO4)2.12H2O"])),
    "triple salt with bleach": ("G14", case(species=["NaClO", "(KHSO5)2.KHSO4.K2SO4"])),
    "pool chlorine on glycerol": ("G40", case(feed="glycerol", oxidant="Ca(ClO)2", oxidant_form="solid")),
    "sodium peroxide on ethanol": ("G40", case(feed="ethanol", oxidant="Na2O2", ph=13)),
    "bromine quenched with acetone": ("G10", case(BROMIDE, oxidant="KMnO4", quench="acetone")),
    "bleach into vinegar first": (
        "G14",
        case(CYCLO, oxidant="NaClO", acid="CH3COOH", ph=4, addition=["oxidant", "acid", "feed"]),
    ),
    "bleach and hydrochloric acid on scrap copper": (
        "G14",
        case(feed="Cu", oxidant="NaClO", acid="HCl", ph=0),
    ),
    "peroxide 50 %": ("G16", case(IODIDE, oxidant="H2O2", oxidant_strength_w_w=0.5)),
    "dichromate in drinking water": ("G18", case(WELL, oxidant="K2Cr2O7", potable=True)),
    "chlorine dioxide 18 mg/L in drinking water": (
        "G19",
        case(WELL, oxidant="ClO2", potable=True, dose_mg_L=18),
    ),
    "sealed bottle of bleach and iodide": ("G20", case(IODIDE, oxidant="NaClO", vessel="closed")),
    "chlorate as the goal": ("G24", case(feed="NaCl", target="NaClO3", oxidant_key="anode")),
    "peroxodisulfate as the goal": ("G24", case(feed="KHSO4", target="K2S2O8", oxidant_key="anode", ph=0)),
    "cyanogen bromide as the goal": ("G25", case(CYANIDE, target="BrCN", oxidant="Br2")),
    "damp isocyanurate": ("G28", case(WELL, oxidant="C3Cl3N3O3", context="stored damp")),
    "peracetic acid distilled with the ketone": ("G29", case(CYCLO, oxidant="CH3COOOH", distil=True, ph=3)),
    "acetone with bleach in soda": ("G36", case(feed="acetone", oxidant="NaClO", base="NaOH", ph=13)),
    "azide with permanganate": ("G41", case(feed="NaN3", oxidant="KMnO4", ph=9)),
    "ammonium bromide and bromate": ("G44", case(BROMIDE, feed="NH4Br", oxidant="NaBrO3")),
    "magnesium powder and chlorate": ("G45", case(feed="Mg", oxidant="KClO3")),
    "5 mol at 50 W": ("G47", case(BROMIDE, PEROXIDE, amount_mol=5, cooling_W=50)),
    "acid on leftover bleach": ("G56", case(feed="Na2SO3", oxidant="NaClO", ph=9, quench="H2SO4")),
    "bromine in a kitchen": ("G58", case(BROMIDE, PEROXIDE, room="kitchen")),
    "chlorinated isocyanurate on glycerol": ("G40", case(species=["C3Cl3N3O3", "glycerol"])),
    "aluminium and sodium peroxide": ("G45", case(feed="Al", oxidant="Na2O2", oxidant_form="solid")),
    "lithium in a peroxide pot": ("G69", case(PEROXIDE, feed="Li", ph=7)),
    "thiocyanate and acid peroxide": ("G59", case(feed="KSCN", oxidant="H2O2", acid="H2SO4", ph=2)),
}
