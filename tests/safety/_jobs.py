"""Jobs as people state them, in pairs: one that a practising safety engineer stops, and its twin that runs.

The twin differs in the one fact that matters.  What each ought to get was written down from public
knowledge before the gate was asked.  ``says`` are words of which one must stand in the reason of the stop;
``warns`` are words of which one must stand in a caution printed with the twin (none: nothing is asked).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

Fields = dict[str, Any]


@dataclass(frozen=True)
class Twins:
    """One conversion, the fields that make it dangerous, and what has to change for the twin."""

    conversion: str
    danger: Fields
    change: Fields
    says: tuple[str, ...]
    warns: tuple[str, ...] = ()
    twin_conversion: str = ""
    unreviewed: bool = False
    """Whether nobody reviewed the twin: it must not be stopped, and nothing is dosed."""

    @property
    def twin(self) -> Fields:
        """Fields of the twin; None takes a field away."""
        merged = {**self.danger, **self.change}
        return {key: value for key, value in merged.items() if value is not None}


PEROXIDE = ["hydrogen peroxide 30 % w/w"]
ACETIC = "acetic acid 99.8 % w/w"

TWINS: dict[str, Twins] = {
    # ---------------------------------------------------------------- chlorine dioxide
    "calcium bromide and potassium chlorate in hydrochloric acid": Twins(
        "Br^- -> Br2",
        {"feed": "CaBr2", "oxidants": ["KClO3"], "acid": "hydrochloric acid 37 % w/w"},
        {"oxidants": ["KMnO4"], "acid": None},
        ("chlorine dioxide", "explo"),
        ("bromine", "Bromine"),
    ),
    "chlorite on ferrous chloride in acid": Twins(
        "Fe^2+ -> Fe^3+",
        {"feed": "FeCl2", "oxidants": ["NaClO2"], "medium": 1},
        {"oxidants": ["H2O2"], "bottles": PEROXIDE},
        ("chlorine dioxide",),
    ),
    "chlorate on iodine-free brine of magnesium iodide, acid from bisulfate": Twins(
        "I^- -> I2",
        {"feed": "MgI2", "oxidants": ["NaClO3"], "medium": 1, "acid": "sodium hydrogensulfate"},
        {"oxidants": ["KIO3"], "acid": None},
        ("chlorine dioxide",),
    ),
    # ---------------------------------------------------------------- cyanide
    "barium cyanide and peroxide at pH 9.6": Twins(
        "CN^- -> OCN^-",
        {
            "feed": "Ba(CN)2",
            "medium": 9.6,
            "concentration": "0.5 g/L",
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
        },
        {"medium": 10.4},
        ("HCN", "hydrogen cyanide"),
        ("2 g/L",),
    ),
    "lithium cyanide and pool chlorine at pH 10.1": Twins(
        "CN^- -> OCN^-",
        {
            "feed": "LiCN",
            "medium": 10.1,
            "concentration": "0.4 g/L",
            "oxidants": ["Ca(OCl)2"],
            "base": "NaOH 50 % w/w",
        },
        {"medium": 10.8},
        ("cyanogen chloride", "10.5"),
    ),
    "cyanide and chlorine gas at pH 9": Twins(
        "CN^- -> OCN^-",
        {"feed": "KCN", "medium": 9, "concentration": "0.4 g/L", "oxidants": ["Cl2"]},
        {"medium": 11.5, "base": "NaOH 50 % w/w"},
        ("cyanogen chloride", "HCN"),
    ),
    "silver-plating cyanide with permanganate at pH 8": Twins(
        "CN^- -> OCN^-",
        {"feed": "NaCN", "medium": 8, "concentration": "1 g/L", "oxidants": ["KMnO4"]},
        {"medium": 11},
        ("HCN", "hydrogen cyanide"),
    ),
    "cyanide at pH 11 with ferric chloride": Twins(
        "CN^- -> OCN^-",
        {"feed": "Ca(CN)2", "medium": 11, "concentration": "0.5 g/L", "oxidants": ["Fe3+"]},
        {"oxidants": ["O3"]},
        ("HCN", "hydrogen cyanide"),
    ),
    "cyanide at pH 11 with alum as an impurity of the feed": Twins(
        "CN^- -> OCN^-",
        {
            "feed": "NaCN",
            "medium": 11,
            "concentration": "0.5 g/L",
            "oxidants": ["NaOCl"],
            "impurities": {"Al2(SO4)3": "5 % w/w"},
        },
        {"impurities": {"Na2CO3": "5 % w/w"}},
        ("HCN", "hydrogen cyanide"),
    ),
    "cyanide at 8 g/L": Twins(
        "CN^- -> OCN^-",
        {"feed": "KCN", "medium": 12, "concentration": "8 g/L", "oxidants": ["NaOCl"]},
        {"concentration": "1.5 g/L"},
        ("2 g/L",),
    ),
    # ---------------------------------------------------------------- sulfide
    "lithium sulfide and peroxide in acid": Twins(
        "Li2S -> S",
        {"medium": "acid", "oxidants": ["H2O2"], "bottles": PEROXIDE},
        {"medium": 11},
        ("H2S", "hydrogen sulfide"),
    ),
    "strontium sulfide and bleach at pH 8.2": Twins(
        "S^2- -> SO4^2-",
        {"feed": "SrS", "medium": 8.2, "oxidants": ["NaOCl"]},
        {"medium": 12},
        ("H2S", "hydrogen sulfide"),
    ),
    "sulfide in sewage, 3 mmol/L, pH 7": Twins(
        "HS^- -> SO4^2-",
        {"purpose": "remove", "medium": 7, "concentration": "3 mmol/L", "oxidants": ["KMnO4"]},
        {"concentration": "0.3 mmol/L"},
        ("H2S", "hydrogen sulfide"),
        ("H2S",),
    ),
    "barium sulfide and the triple salt at pH 10": Twins(
        "S^2- -> SO4^2-",
        {"feed": "BaS", "medium": 10, "oxidants": ["KHSO5"]},
        {"oxidants": ["NaOCl"]},
        ("H2S", "hydrogen sulfide"),
    ),
    "sulfide and chromic acid at pH 12": Twins(
        "S^2- -> S",
        {"feed": "K2S", "medium": 12, "oxidants": ["CrO3"]},
        {"oxidants": ["O2"]},
        ("H2S", "hydrogen sulfide"),
    ),
    # ---------------------------------------------------------------- organic peroxides, runaway
    "butan-2-ol, peroxide and sulfuric acid": Twins(
        "butan-2-ol -> butanone",
        {"medium": "acid", "oxidants": ["H2O2"], "bottles": PEROXIDE},
        {"medium": 4.5, "oxidants": ["NaOCl"], "acid": ACETIC, "bottles": None},
        ("peroxide", "explo"),
        unreviewed=True,
    ),
    "ferrous liquor with acetone in it, peroxide and acid": Twins(
        "Fe^2+ -> Fe^3+",
        {
            "feed": "FeSO4",
            "medium": "acid",
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "impurities": {"acetone": "2 % w/w"},
        },
        {"impurities": {"sodium sulfate": "2 % w/w"}},
        ("peroxide", "explo"),
    ),
    "propan-2-ol, urea peroxide and hydrochloric acid": Twins(
        "propan-2-ol -> acetone",
        {"medium": "acid", "acid": "hydrochloric acid 37 % w/w", "oxidants": ["carbamide-peroxide"]},
        {"medium": 5, "acid": ACETIC, "oxidants": ["Ca(OCl)2"]},
        ("peroxide", "explo"),
    ),
    "benzyl alcohol and nitric acid": Twins(
        "benzyl alcohol -> benzaldehyde",
        {"medium": "acid", "oxidants": ["HNO3"]},
        {"medium": 7, "oxidants": ["KMnO4"], "concentration": "0.1 mol/L"},
        ("nitrogen oxides", "explo", "run"),
    ),
    "copper in nitric acid with methanol in it": Twins(
        "Cu -> Cu^2+",
        {"medium": "acid", "oxidants": ["HNO3"], "impurities": {"methanol": "2 % w/w"}},
        {"impurities": ()},
        ("nitrogen oxides", "explo", "run"),
        ("NOx", "nitrogen oxides"),
    ),
    "cyclohexanol and bleach in soda": Twins(
        "cyclohexanol -> cyclohexanone",
        {"medium": 12, "oxidants": ["NaOCl"]},
        {"medium": 5, "acid": ACETIC},
        ("hypochlorite",),
        ("pH 4 and 6", "acetic"),
    ),
    "ethanol and isocyanurate at pH 9": Twins(
        "ethanol -> acetaldehyde",
        {"medium": 9, "oxidants": ["DCCNa"]},
        {"medium": 5, "acid": ACETIC, "oxidants": ["NaOCl"]},
        ("chloroform",),
        ("chloroform",),
    ),
    "glycerol and permanganate": Twins(
        "glycerol -> CO2",
        {"medium": 7, "oxidants": ["KMnO4"]},
        {"medium": 1, "oxidants": ["KMnO4"]},
        ("ignite", "explode"),
        twin_conversion="oxalic acid -> CO2",
    ),
    "glucose and chlorate": Twins(
        "glucose -> CO2",
        {"medium": 7, "oxidants": ["KClO3"]},
        {"medium": 1, "oxidants": ["Ce4+"]},
        ("ignite", "explode"),
        twin_conversion="oxalic acid -> CO2",
    ),
    "peracetic acid warmed to 60 C": Twins(
        "cyclohexanol -> cyclohexanone",
        {"medium": 4, "acid": ACETIC, "oxidants": ["peracetic"], "temperature": "60 C"},
        {"temperature": "20 C"},
        ("explo", "organic peroxide"),
        ("peracid",),
    ),
    "iodide with peroxide in acetic acid, boiled down": Twins(
        "I^- -> I2",
        {
            "feed": "NaI",
            "medium": 3,
            "acid": ACETIC,
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "context": "then distilled",
        },
        {"context": None},
        ("explo", "organic peroxide"),
        ("peracid",),
    ),
    # ---------------------------------------------------------------- permanganate and strong acid
    "lithium bromide, permanganate, sulfuric acid as it comes": Twins(
        "Br^- -> Br2",
        {"feed": "LiBr", "oxidants": ["KMnO4"], "acid": "sulfuric acid 98 % w/w, undiluted"},
        {"acid": "sulfuric acid 20 % w/w"},
        ("Mn2O7", "manganese heptoxide"),
    ),
    # ---------------------------------------------------------------- nitrogen
    "Mohr's salt and bleach": Twins(
        "Fe^2+ -> Fe^3+",
        {"feed": "(NH4)2Fe(SO4)2", "medium": 1, "oxidants": ["NaOCl"]},
        {"oxidants": ["KMnO4"]},
        ("nitrogen trichloride", "chloramine"),
    ),
    "ammonium chloride in the iodide, isocyanurate": Twins(
        "I^- -> I2",
        {"feed": "KI", "medium": 2, "oxidants": ["DCCNa"], "impurities": {"NH4Cl": "3 % w/w"}},
        {"impurities": {"KCl": "3 % w/w"}},
        ("nitrogen trichloride", "chloramine"),
    ),
    "urea in the nitrite, bleach": Twins(
        "NO2^- -> NO3^-",
        {"feed": "NaNO2", "medium": 8, "oxidants": ["NaOCl"], "impurities": {"urea": "5 % w/w"}},
        {"impurities": {"NaCl": "5 % w/w"}},
        ("nitrogen trichloride", "chloramine", "nitrosamine"),
    ),
    "bromine from ammonium bromide at pH 8": Twins(
        "Br^- -> Br2",
        {"feed": "NH4Br", "medium": 7.5, "oxidants": ["Na2S2O8"]},
        {"medium": 1},
        ("ammonia", "explo"),
        ("alkaline", "ammonium"),
    ),
    "iodine quenched with ammonia": Twins(
        "I^- -> I2",
        {
            "feed": "NaI",
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "context": "quench with ammonia solution 25 %",
        },
        {"context": "quench with sodium sulfite and sodium bicarbonate"},
        ("nitrogen triiodide",),
    ),
    "bromine quenched with ethanol": Twins(
        "Br^- -> Br2",
        {"feed": "MgBr2", "oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "quenched with ethanol"},
        {"context": "quenched with sodium thiosulfate and sodium carbonate"},
        ("bromoacetone", "lachrymator", "violent"),
    ),
    "ammonium iodide and bromate": Twins(
        "I^- -> I2",
        {"feed": "NH4I", "medium": 1, "oxidants": ["KBrO3"]},
        {"feed": "LiI"},
        ("explode", "ammonium"),
    ),
    "hydrazine sulfate and permanganate": Twins(
        "N2H4 -> N2",
        {"feed": "hydrazine", "medium": 1, "oxidants": ["KMnO4"]},
        {"feed": "Na2SO3", "medium": 8},
        ("ignite", "explode"),
        twin_conversion="SO3^2- -> SO4^2-",
    ),
    "silver dissolved by peroxide in ammonia": Twins(
        "Ag -> Ag^+",
        {"medium": 11, "base": "ammonia 25 % w/w", "oxidants": ["H2O2"], "bottles": PEROXIDE},
        {"medium": "acid", "base": None, "oxidants": ["HNO3"], "bottles": None},
        ("silver nitride",),
        ("NOx", "nitrogen oxides"),
    ),
    # ---------------------------------------------------------------- chlorine
    "bleach and acid before the magnesium bromide": Twins(
        "Br^- -> Br2",
        {"feed": "MgBr2", "oxidants": ["NaOCl"], "addition": ["acid", "oxidant", "feed"]},
        {"addition": ["feed", "acid", "oxidant"]},
        ("chlorine",),
        ("BrCl", "chlorine"),
    ),
    "bleach in acid on manganese": Twins(
        "Mn^2+ -> MnO2",
        {"feed": "MnCl2", "medium": "acid", "oxidants": ["NaOCl"]},
        {"medium": 9},
        ("chlorine",),
    ),
    "bleach in acid on zinc": Twins(
        "Zn -> Zn^2+",
        {"medium": "acid", "oxidants": ["NaOCl"]},
        {"oxidants": ["H2O2"], "bottles": PEROXIDE},
        ("chlorine",),
    ),
    # ---------------------------------------------------------------- peroxide, vessels, heat, room
    "peroxide 49 % on copper": Twins(
        "Cu -> Cu^2+",
        {"oxidants": ["H2O2"], "bottles": ["hydrogen peroxide 49 % w/w"]},
        {"bottles": ["hydrogen peroxide 35 % w/w"]},
        ("35 %", "concentrated"),
    ),
    "perborate in a closed flask": Twins(
        "Fe^2+ -> Fe^3+",
        {"feed": "FeSO4", "medium": 1, "oxidants": ["NaBO3"], "vessel": "closed"},
        {"vessel": "open"},
        ("pressure", "vent"),
    ),
    "sulfite and bleach in a closed drum": Twins(
        "SO3^2- -> SO4^2-",
        {"feed": "K2SO3", "medium": 9, "oxidants": ["Ca(OCl)2"], "vessel": "closed"},
        {"vessel": "open"},
        ("pressure", "vent"),
    ),
    "four moles of iron at 40 W": Twins(
        "Fe^2+ -> Fe^3+",
        {"feed": "FeSO4", "oxidants": ["H2O2"], "bottles": PEROXIDE, "amount": "4 mol", "cooling": "40 W"},
        {"amount": "0.1 mol"},
        ("cooling", "heat"),
    ),
    "bromine without a hood": Twins(
        "Br^- -> Br2",
        {
            "feed": "CaBr2",
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "context": "storeroom without a fume hood",
        },
        {"context": "fume hood"},
        ("fume hood",),
    ),
    # ---------------------------------------------------------------- drinking water
    "dichromate in drinking water for iron": Twins(
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "medium": 7, "potable": True, "oxidants": ["Na2Cr2O7"]},
        {"oxidants": ["NaOCl"]},
        ("carcinogen",),
    ),
    "bromate in drinking water for arsenic": Twins(
        "H3AsO3 -> HAsO4^2-",
        {
            "purpose": "remove",
            "medium": 7.5,
            "potable": True,
            "oxidants": ["KBrO3"],
            "concentration": "0.1 mg/L",
        },
        {"oxidants": ["NaOCl"]},
        ("carcinogen",),
    ),
    "chlorine dioxide 5 mg/L for iron in drinking water": Twins(
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "medium": 7, "potable": True, "oxidants": ["ClO2"], "context": "dose 5 mg/L"},
        {"context": "dose 1.0 mg/L"},
        ("chlorite",),
        ("chlorite",),
    ),
    # ---------------------------------------------------------------- goals
    "chlorine as the goal": Twins(
        "Cl^- -> Cl2",
        {"oxidants": ["KMnO4"]},
        {"oxidants": ["KMnO4"]},
        ("scope",),
        twin_conversion="Br^- -> Br2",
    ),
    "cyanogen as the goal": Twins(
        "CN^- -> C2N2",
        {"medium": 11, "oxidants": ["NaOCl"], "concentration": "0.5 g/L"},
        {},
        ("scope",),
        twin_conversion="CN^- -> OCN^-",
    ),
    "chlorate as the goal": Twins(
        "Cl^- -> ClO3^-", {"oxidants": ["anode"]}, {"medium": 9}, ("scope",), twin_conversion="I^- -> IO3^-"
    ),
    "peroxodisulfate as the goal": Twins(
        "SO4^2- -> S2O8^2-",
        {"oxidants": ["anode"]},
        {"medium": 9, "oxidants": ["H2O2"], "bottles": PEROXIDE},
        ("scope",),
        twin_conversion="S2O3^2- -> SO4^2-",
    ),
    # ---------------------------------------------------------------- complexes, thiocyanate, powders
    "ferrocyanide and cerium(IV) in strong acid": Twins(
        "[Fe(CN)6]^4- -> [Fe(CN)6]^3-",
        {"feed": "Na4[Fe(CN)6]", "medium": "acid", "oxidants": ["Ce4+"]},
        {"medium": 8, "oxidants": ["KMnO4"]},
        ("HCN", "hydrogen cyanide"),
        unreviewed=True,
    ),
    "thiocyanate and bleach at pH 6": Twins(
        "SCN^- -> SO4^2-",
        {"feed": "KSCN", "medium": 6, "oxidants": ["H2O2"], "bottles": PEROXIDE},
        {"medium": 11},
        ("HCN", "hydrogen cyanide"),
        unreviewed=True,
    ),
    "sulfur and bromate": Twins(
        "S -> SO4^2-",
        {"oxidants": ["NaBrO3"], "medium": 1},
        {"medium": 9, "oxidants": ["H2O2"], "bottles": PEROXIDE},
        ("explosive",),
        unreviewed=True,
    ),
    "hydrochloric acid onto leftover chlorite": Twins(
        "SO3^2- -> SO4^2-",
        {
            "feed": "Na2SO3",
            "medium": 9,
            "oxidants": ["NaClO2"],
            "context": "neutralised with hydrochloric acid",
        },
        {"context": "quenched with sodium sulfite"},
        ("chlorine dioxide",),
    ),
    "nitrite in the ferrous ammonium liquor": Twins(
        "NO2^- -> NO3^-",
        {
            "feed": "NaNO2",
            "medium": 6,
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "impurities": {"ammonium sulfate": "10 % w/w"},
        },
        {"impurities": ()},
        ("ammonium",),
    ),
}

STOP, RUN = "stop", "run"
GARAGE = "garage, no extraction"
# More of the same without a twin: what it ought to get, the job, and a word that must be said ("" for none).
SINGLE: tuple[tuple[str, str, Fields, str], ...] = (
    (RUN, "Fe^2+ -> Fe^3+", {"feed": "FeCl2", "oxidants": ["KMnO4"], "medium": "acid"}, "chlorine"),
    (RUN, "Br^- -> Br2", {"oxidants": ["KMnO4"], "impurities": {"NaCl": "5 % w/w"}}, "BrCl"),
    (
        RUN,
        "Br^- -> Br2",
        {"oxidants": ["H2SO4"], "acid": "sulfuric acid 98 % w/w, undiluted", "temperature": "120 C"},
        "SO2",
    ),
    (
        RUN,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["K2S2O8"], "medium": 1, "temperature": "70 C", "context": "all at once"},
        "runaway",
    ),
    (
        RUN,
        "CN^- -> OCN^-",
        {
            "oxidants": ["NaOCl"],
            "medium": 11,
            "concentration": "0.5 g/L",
            "impurities": {"K4[Fe(CN)6]": "3 % w/w"},
        },
        "complex",
    ),
    (
        STOP,
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "potable": True, "medium": 7, "concentration": "10 mg/L", "oxidants": ["ClO2"]},
        "chlorite",
    ),
    (RUN, "propan-2-ol -> acetone", {"oxidants": ["O3"], "medium": 7, "temperature": "50 C"}, "flammable"),
    (
        RUN,
        "propan-2-ol -> acetone",
        {"oxidants": ["K2Cr2O7"], "medium": "acid", "concentration": "0.5 mol/L"},
        "Cr(VI)",
    ),
    (
        STOP,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "medium": "acid", "impurities": {"NaCN": "1 % w/w"}},
        "HCN",
    ),
    (STOP, "I^- -> I2", {"oxidants": ["KIO3"], "medium": 1, "impurities": {"Na2S": "1 % w/w"}}, "H2S"),
    (RUN, "CN^- -> OCN^-", {"oxidants": ["NaOCl"]}, ""),
    (RUN, "S^2- -> SO4^2-", {"oxidants": ["H2O2"], "bottles": PEROXIDE}, ""),
    (RUN, "Fe^2+ -> Fe^3+", {"oxidants": ["KMnO4"], "acid": "sulfuric acid 60 % w/w, undiluted"}, "Mn2O7"),
    (
        STOP,
        "Cu -> CuSO4",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "amount": "65 g", "cooling": "5 W"},
        "cooling",
    ),
    (
        RUN,
        "Cu -> CuSO4",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "amount": "6.5 g", "cooling": "50 W"},
        "",
    ),
    (
        STOP,
        "Br^- -> Br2",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "amount": "500 g", "cooling": "20 W"},
        "cooling",
    ),
    (
        STOP,
        "Br^- -> Br2",
        {
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "amount": "5 L",
            "concentration": "1 mol/L",
            "cooling": "20 W",
        },
        "cooling",
    ),
    (STOP, "Br^- -> Br2", {"oxidants": ["NaOCl"], "cooling": "1 W"}, "cooling"),
    (
        STOP,
        "CN^- -> OCN^-",
        {
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "medium": 10.5,
            "acid": "sodium hydrogensulfate",
            "concentration": "0.5 g/L",
        },
        "HCN",
    ),
    (
        STOP,
        "Fe^2+ -> Fe(OH)3",
        {
            "purpose": "remove",
            "medium": 7,
            "oxidants": ["NaOCl"],
            "impurities": {"NaClO2": "5 % w/w"},
            "concentration": "1 mol/L",
        },
        "chlorine dioxide",
    ),
    (STOP, "oxalic acid -> CO2", {"oxidants": ["NaOCl"], "medium": 1}, "chlorine"),
    (
        STOP,
        "ethanol -> acetaldehyde",
        {"oxidants": ["KMnO4"], "medium": 7, "concentration": "10 mol/L"},
        "ignite",
    ),
    (STOP, "NH3 -> NO3^-", {"oxidants": ["NaOCl"], "medium": 9}, "chloramine"),
    (STOP, "NH3 -> NO3^-", {"oxidants": ["O3"], "medium": 10}, ""),
    (
        STOP,
        "propan-2-ol -> acetone",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "medium": 2, "acid": "phosphoric acid 85 % w/w"},
        "peroxide",
    ),
    (
        STOP,
        "cyclohexanol -> cyclohexanone",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "medium": 4, "acid": ACETIC, "context": "distilled"},
        "explo",
    ),
    (
        STOP,
        "propan-2-ol -> acetone",
        {"oxidants": ["CrO3"], "medium": "acid", "concentration": "12 mol/L"},
        "",
    ),
    (
        RUN,
        "I^- -> I2",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "quenched with ascorbic acid"},
        "",
    ),
    (
        RUN,
        "I^- -> I2",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "quenched with sodium metabisulfite and soda"},
        "",
    ),
    (
        RUN,
        "SO3^2- -> SO4^2-",
        {"oxidants": ["NaOCl"], "medium": 9, "context": "quenched with sodium metabisulfite"},
        "",
    ),
    (
        RUN,
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "potable": True, "medium": 7, "oxidants": ["Ca(OCl)2"]},
        "",
    ),
    (RUN, "I^- -> I2", {"oxidants": ["NaOCl"], "medium": 7}, ""),
    (RUN, "Br^- -> Br2", {"oxidants": ["KHSO5"]}, ""),
    (
        RUN,
        "H3AsO3 -> HAsO4^2-",
        {
            "oxidants": ["KMnO4"],
            "purpose": "remove",
            "medium": 7,
            "concentration": "0.1 mg/L",
            "potable": True,
        },
        "",
    ),
    (
        RUN,
        "Mn^2+ -> MnO2",
        {
            "oxidants": ["Cl2"],
            "purpose": "remove",
            "medium": 9,
            "potable": True,
            "impurities": {"NH4^+": "0.2 mg/L"},
        },
        "",
    ),
    (RUN, "benzyl alcohol -> benzaldehyde", {"oxidants": ["MnO2"], "medium": 7}, ""),
    (RUN, "S2O3^2- -> SO4^2-", {"oxidants": ["H2O2"], "bottles": PEROXIDE, "medium": 8}, ""),
    (
        RUN,
        "CN^- -> OCN^-",
        {
            "oxidants": ["H2O2"],
            "bottles": PEROXIDE,
            "medium": 10.5,
            "concentration": "0.5 g/L",
            "impurities": {"CuSO4": "1 % w/w"},
        },
        "",
    ),
    (RUN, "Zn -> Zn^2+", {"oxidants": ["HNO3"], "medium": 1}, "NOx"),
    (RUN, "Sn^2+ -> Sn^4+", {"feed": "SnCl2", "oxidants": ["KIO3"], "medium": "acid"}, ""),
    (RUN, "Cr^3+ -> CrO4^2-", {"oxidants": ["H2O2"], "bottles": PEROXIDE, "medium": 13}, "Cr(VI)"),
    (RUN, "Ce^3+ -> Ce^4+", {"oxidants": ["Na2S2O8"], "medium": 0}, ""),
    (RUN, "Cu -> Cu^2+", {"oxidants": ["(NH4)2S2O8"], "medium": 1}, ""),
    (RUN, "Fe^2+ -> Fe^3+", {"feed": "(NH4)2Fe(SO4)2", "oxidants": ["K2Cr2O7"], "medium": 0}, "Cr(VI)"),
    (RUN, "I^- -> I2", {"feed": "NH4I", "oxidants": ["KIO3"], "medium": 1}, ""),
    (RUN, "I^- -> IO3^-", {"oxidants": ["NaOCl"], "medium": 9}, ""),
    (
        RUN,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "acid": "hydrochloric acid 37 % w/w"},
        "",
    ),
    (STOP, "Fe^2+ -> Fe^3+", {"oxidants": ["NaOCl"], "medium": "acid", "vessel": "closed"}, "pressure"),
    (STOP, "ethanol -> acetaldehyde", {"oxidants": ["HNO3"], "medium": 1}, ""),
    (STOP, "toluene -> benzoic acid", {"oxidants": ["NaMnO4"], "medium": 7}, ""),
    (STOP, "toluene -> benzoic acid", {"oxidants": ["HNO3"], "medium": 0}, ""),
    (STOP, "glucose -> CO2", {"oxidants": ["NaMnO4"], "medium": 7, "concentration": "0.05 mol/L"}, ""),
    (STOP, "S^2- -> S", {"feed": "(NH4)2S", "oxidants": ["NaOCl"], "medium": 11}, "chloramine"),
    (STOP, "I^- -> I2", {"feed": "NH4I", "oxidants": ["Cl2"], "medium": 1}, "chloramine"),
    (STOP, "acetone -> CO2", {"oxidants": ["NaOCl"], "medium": 12}, "chloroform"),
    (
        STOP,
        "Br^- -> Br2",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "rest quenched with acetone"},
        "bromoacetone",
    ),
    (
        STOP,
        "Br^- -> Br2",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "impurities": {"acetone": "3 % w/w"}},
        "",
    ),
    (STOP, "Fe^2+ -> Fe^3+", {"oxidants": ["peracetic"], "medium": 1, "temperature": "70 C"}, "explo"),
    (
        STOP,
        "CN^- -> OCN^-",
        {"oxidants": ["K2Cr2O7"], "medium": 12, "base": "NaOH 50 % w/w", "concentration": "0.5 g/L"},
        "",
    ),
    (STOP, "CN^- -> OCN^-", {"oxidants": ["HNO3"], "medium": 11, "concentration": "0.5 g/L"}, ""),
    (STOP, "CN^- -> OCN^-", {"oxidants": ["KHSO5"], "medium": 11, "concentration": "0.5 g/L"}, ""),
    (
        RUN,
        "CN^- -> OCN^-",
        {"oxidants": ["KHSO5"], "medium": 12.5, "base": "NaOH 50 % w/w", "concentration": "0.5 g/L"},
        "",
    ),
)

GENERATOR = "water works chlorine dioxide generator, dilute"
WATER: Fields = {"purpose": "remove", "medium": 7, "potable": True, "oxidants": ["ClO2"]}
SAID: tuple[tuple[str, str, Fields, str], ...] = (
    (STOP, "propan-2-ol -> acetone", {"oxidants": ["NaOCl"], "medium": 7}, "chloroform"),
    (RUN, "propan-2-ol -> acetone", {"oxidants": ["NaOCl"], "medium": 6, "acid": ACETIC}, "chloroform"),
    (STOP, "Mn^2+ -> MnO2", {**WATER, "context": "dose of 18 mg/L"}, "chlorite"),
    (
        STOP,
        "Mn^2+ -> MnO2",
        {**WATER, "context": "2.5 mg/L chlorine dioxide, dosed at the inlet"},
        "chlorite",
    ),
    (RUN, "Mn^2+ -> MnO2", {**WATER, "context": "chlorine dioxide dosed at 0.8 mg/L"}, "chlorite"),
    (STOP, "Fe^2+ -> Fe^3+", {"oxidants": ["KMnO4"], "acid": "neat sulfuric acid"}, "Mn2O7"),
    (
        RUN,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["K2S2O8"], "medium": 1, "temperature": "70 C", "context": "all charged at once"},
        "runaway",
    ),
    (RUN, "ClO2^- -> ClO2", {"oxidants": ["Cl2"], "medium": 4, "context": GENERATOR}, "vented"),
    (
        RUN,
        "ClO2^- -> ClO2",
        {"oxidants": ["NaOCl"], "medium": 3, "acid": "hydrochloric acid 9 % w/w", "context": GENERATOR},
        "vented",
    ),
    (STOP, "ClO2^- -> ClO2(g)", {"oxidants": ["Cl2"], "medium": 4, "context": GENERATOR}, "scope"),
    (STOP, "ClO2^- -> ClO2", {"oxidants": ["Cl2"], "medium": 4, "context": "bench"}, "scope"),
    (
        STOP,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "in a sealed bottle"},
        "vent",
    ),
    (
        RUN,
        "Fe^2+ -> Fe^3+",
        {"oxidants": ["H2O2"], "bottles": PEROXIDE, "context": "in a bottle, not sealed"},
        "",
    ),
    (STOP, "Fe^2+ -> Fe^3+", {"oxidants": ["KMnO4"], "vessel": "sealed"}, "vent"),
    (RUN, "Fe^2+ -> Fe^3+", {"oxidants": ["KMnO4"], "vessel": "vented"}, ""),
    (
        STOP,
        "Fe^2+ -> Fe(OH)3",
        {"oxidants": ["K2Cr2O7"], "purpose": "remove", "medium": 7, "context": "drinking water of a village"},
        "carcinogen",
    ),
    (
        RUN,
        "Fe^2+ -> Fe(OH)3",
        {
            "oxidants": ["K2Cr2O7"],
            "purpose": "remove",
            "medium": 7,
            "context": "rinse water, not for drinking",
        },
        "carcinogen",
    ),
    (STOP, "I^- -> I2", {"feed": "KI", "oxidants": ["O3"], "context": GARAGE}, "fume hood"),
    (STOP, "I^- -> I2", {"feed": "KI", "oxidants": ["ClO2"], "context": GARAGE}, "fume hood"),
    (RUN, "I^- -> I2", {"feed": "KI", "oxidants": ["H2O2"], "bottles": PEROXIDE, "context": GARAGE}, ""),
    (
        STOP,
        "SO3^2- -> SO4^2-",
        {"oxidants": ["NaOCl"], "medium": 9, "context": "afterwards acidified with vinegar"},
        "chlorine",
    ),
    (
        RUN,
        "SO3^2- -> SO4^2-",
        {"oxidants": ["NaOCl"], "medium": 9, "context": "the rest destroyed with sodium thiosulfate"},
        "",
    ),
)

# Situations that a job cannot state: two oxidants in one vessel, storage, gases.
POTS: dict[str, tuple[Fields, Fields]] = {
    "isocyanurate on top of pool chlorine": (
        {"species": ["NaC3Cl2N3O3", "Ca(ClO)2"]},
        {"species": ["NaC3Cl2N3O3", "CaCl2"], "feed": "KI", "ph": 5},
    ),
    "ozone into ammonia": (
        {"feed": "NH3", "oxidant": "O3", "oxidant_form": "gas", "ph": 11},
        {"feed": "NaI", "oxidant": "O3", "oxidant_form": "gas", "ph": 5},
    ),
    "zinc in an arsenic liquor, acid": (
        {"feed": "H3AsO3", "oxidant": "KMnO4", "species": "Zn", "ph": 1},
        {"feed": "H3AsO3", "oxidant": "KMnO4", "ph": 1},
    ),
    "sulfuric acid, peroxide and glycerol": (
        {
            "feed": "FeSO4",
            "species": "glycerol",
            "oxidant": "H2O2",
            "acid": "H2SO4",
            "acid_strength_w_w": 0.96,
            "acid_undiluted": True,
            "ph": 0,
            "oxidant_strength_w_w": 0.3,
        },
        {
            "feed": "FeSO4",
            "oxidant": "H2O2",
            "acid": "H2SO4",
            "acid_strength_w_w": 0.2,
            "acid_undiluted": True,
            "ph": 0,
            "oxidant_strength_w_w": 0.3,
        },
    ),
    "sodium azide waste and nitrite in acid": (
        {"feed": "KN3", "oxidant": "NaNO2", "acid": "H2SO4", "ph": 1},
        {"feed": "KI", "oxidant": "NaNO2", "acid": "H2SO4", "ph": 1},
    ),
    "hydroxylamine and bleach": (
        {"feed": "NH3OHCl", "oxidant": "NaClO", "ph": 8},
        {"feed": "Na2S2O3", "oxidant": "NaClO", "ph": 8},
    ),
}
