"""Three rounds of sixty cases, half of them safe, as they reach the gate: jobs, files, options, recipes, pots.

What each ought to get was written down from public knowledge before the gate was asked; the counts of that
first run stand in docs/safety.md.  Where the gate was wrong the rules were mended, not the cases.  The last
text of a case says where the danger, or the practice, is described.
"""

from __future__ import annotations

from typing import Any, NamedTuple

STOP = "stop"
"""Nothing is scaled."""
HELD = "held"
"""Stopped or unreviewed: nothing is dosed."""
RUN = "run"
"""Clear or a caution."""
FREE = "not stopped"
"""Clear, a caution or unreviewed: nobody may call it a danger."""


class Case(NamedTuple):
    name: str
    wanted: str
    way: str
    """job, file, options, recipe or pot."""
    body: Any
    says: str
    """A word that one reason has to hold; empty where nothing is asked."""
    source: str


def _job(name: str, wanted: str, says: str, source: str, conversion: str, **fields: Any) -> Case:
    return Case(name, wanted, "job", (conversion, fields), says, source)


def _file(name: str, wanted: str, says: str, source: str, text: str) -> Case:
    return Case(name, wanted, "file", text, says, source)


def _options(name: str, wanted: str, source: str, *arguments: str) -> Case:
    return Case(name, wanted, "options", arguments, "", source)


def _recipe(name: str, wanted: str, source: str, *lines: str) -> Case:
    text = "\n".join(("step,role,charge,amount,minutes", *lines)) + "\n"
    return Case(name, wanted, "recipe", text, "", source)


def _pot(name: str, wanted: str, source: str, **fields: Any) -> Case:
    return Case(name, wanted, "pot", fields, "", source)


PEROXIDE = ["hydrogen peroxide 30 % w/w"]
ACETIC = "acetic acid 99.8 % w/w"
NRC = "nrc2011"
BRETHERICK = "bretherick"
CYANIDE = "epa_cyanide2000"
WATER = "epa815r99014"
BOOK = "textbook_inorganic"
FIERZ = "stoessel2008"

FIRST: tuple[Case, ...] = (
    _job(
        "zinc plating cyanide, bleach at pH 10.4", STOP, "10.5", CYANIDE, "CN^- -> OCN^-",
        feed="Zn(CN)2", medium=10.4, concentration="0.3 g/L", oxidants=["NaOCl"],
    ),
    _job(
        "cyanide with citric acid in it", STOP, "HCN", NRC, "CN^- -> OCN^-",
        feed="NaCN", medium=10, concentration="0.3 g/L", oxidants=["H2O2"], bottles=PEROXIDE,
        impurities={"citric acid": "2 % w/w"},
    ),
    _job(
        "sodium sulfide nonahydrate and permanganate at pH 7.5", STOP, "H2S", NRC, "S^2- -> S",
        feed="Na2S.9H2O", medium=7.5, oxidants=["KMnO4"],
    ),
    _job(
        "potassium hydrosulfide and peroxide at pH 8.9", STOP, "H2S", NRC, "HS^- -> S",
        feed="KHS", medium=8.9, oxidants=["H2O2"], bottles=PEROXIDE,
    ),
    _job("iron sulfide in nitric acid", STOP, "H2S", NRC, "FeS -> SO4^2-", medium="acid", oxidants=["HNO3"]),
    _job(
        "methylammonium bromide and bleach", STOP, "chloramine", BRETHERICK, "Br^- -> Br2",
        feed="CH3NH3Br", oxidants=["NaOCl"],
    ),
    _job(
        "ammonium iodide and peroxide at pH 9", STOP, "nitrogen triiodide", BRETHERICK, "I^- -> I2",
        feed="NH4I", medium=9, oxidants=["H2O2"], bottles=PEROXIDE,
    ),
    _job(
        "Mohr's salt hexahydrate and isocyanurate", STOP, "NCl3", BRETHERICK, "Fe^2+ -> Fe^3+",
        feed="(NH4)2Fe(SO4)2.6H2O", medium=2, oxidants=["TCCA"],
    ),
    _job(
        "chlorate on manganous chloride in fuming hydrochloric acid", STOP, "chlorine dioxide", NRC,
        "Mn^2+ -> MnO2", feed="MnCl2.4H2O", oxidants=["NaClO3"], acid="hydrochloric acid 37 % w/w",
    ),
    _job(
        "chlorite on bromide in sulfuric acid", STOP, "chlorine dioxide", BRETHERICK, "Br^- -> Br2",
        feed="LiBr", oxidants=["NaClO2"], acid="sulfuric acid 50 % w/w",
    ),
    _job(
        "propan-2-ol, percarbonate, hydrochloric acid", STOP, "peroxide", "oxley2012", "propan-2-ol -> acetone",
        medium=1, oxidants=["percarbonate"], acid="hydrochloric acid 10 % w/w",
    ),
    _job(
        "cyclohexanol, peroxide, phosphoric acid", STOP, "peroxide", BRETHERICK, "cyclohexanol -> cyclohexanone",
        medium=1, oxidants=["H2O2"], bottles=PEROXIDE, acid="phosphoric acid 85 % w/w",
    ),
    _job(
        "1-phenylethanol and nitric acid", STOP, "run away", NRC, "1-phenylethanol -> acetophenone",
        medium="acid", oxidants=["HNO3"],
    ),
    _job(
        "sodium permanganate into neat sulfuric acid", STOP, "Mn2O7", BRETHERICK, "Fe^2+ -> Fe^3+",
        oxidants=["NaMnO4"], acid="neat sulfuric acid",
    ),
    _job(
        "iodine destroyed with household ammonia", STOP, "nitrogen triiodide", BRETHERICK, "I^- -> I2",
        oxidants=["H2O2"], bottles=PEROXIDE, context="leftover iodine destroyed with household ammonia",
    ),
    _job(
        "bromine quenched with isopropyl alcohol", STOP, "violent", BRETHERICK, "Br^- -> Br2",
        oxidants=["KMnO4"], context="excess bromine is quenched with isopropyl alcohol",
    ),
    _job(
        "bleach liquor neutralised with muriatic acid", STOP, "chlorine", NRC, "SO3^2- -> SO4^2-",
        oxidants=["NaOCl"], medium=9, context="then neutralised with muriatic acid",
    ),
    _job(
        "peroxide 59 %", STOP, "35 %", "schumb1955", "Fe^2+ -> Fe^3+",
        oxidants=["H2O2"], bottles=["hydrogen peroxide 59 % w/w"],
    ),
    _job(
        "peroxide 44 % w/v", STOP, "35 %", "schumb1955", "Fe^2+ -> Fe^3+",
        oxidants=["H2O2"], bottles=["hydrogen peroxide 44 % w/v"],
    ),
    _job(
        "chlorine dioxide on 2 mg/L manganese, to be drunk", STOP, "chlorite", WATER, "Mn^2+ -> MnO2",
        oxidants=["ClO2"], potable=True, purpose="remove", medium=7, concentration="2 mg/L",
    ),
    _job(
        "chromic acid in drinking water", STOP, "carcinogen", "who_gdwq", "Fe^2+ -> Fe(OH)3",
        oxidants=["CrO3"], potable=True, purpose="remove", medium=7,
    ),
    _job(
        "sodium bromate in drinking water", STOP, "carcinogen", "who_gdwq", "Mn^2+ -> MnO2",
        oxidants=["NaBrO3"], purpose="remove", medium=7, context="water for drinking, village supply",
    ),
    _job(
        "nitrite on iodide in a sealed flask", STOP, "vent", NRC, "I^- -> I2",
        oxidants=["NaNO2"], vessel="sealed",
    ),
    _job(
        "300 g of copper at 20 W", STOP, "cooling", FIERZ, "Cu -> CuSO4",
        oxidants=["H2O2"], bottles=PEROXIDE, amount="300 g", cooling="20 W",
    ),
    _job(
        "sulfide and ferric chloride at pH 11", STOP, "H2S", NRC, "S^2- -> S",
        feed="Na2S", medium=11, oxidants=["Fe3+"],
    ),
    _job(
        "cyanide and chromic acid in soda", STOP, "HCN", NRC, "CN^- -> OCN^-",
        medium=12, base="NaOH 50 % w/w", concentration="0.5 g/L", oxidants=["CrO3"],
    ),
    _job(
        "ammonium thiocyanate and bleach at pH 5", STOP, "", BRETHERICK, "SCN^- -> SO4^2-",
        feed="NH4SCN", medium=5, oxidants=["NaOCl"],
    ),
    _job("chlorine dioxide from brine at an anode", STOP, "scope", "scope", "Cl^- -> ClO2", oxidants=["anode"]),
    _job(
        "ammonium chloride liquor, 1 mol/L, with bleach", STOP, "chloramine", NRC, "NH4^+ -> N2",
        feed="NH4Cl", medium=7, oxidants=["NaOCl"],
    ),
    _job(
        "sucrose and permanganate", STOP, "", BRETHERICK, "sucrose -> CO2", medium=7, oxidants=["KMnO4"],
    ),
    # ------------------------------------------------------------------ ordinary practice
    _job(
        "chlorine dioxide generator at a works", RUN, "", WATER, "ClO2^- -> ClO2",
        oxidants=["Cl2"], medium=4, context="dilute chlorine dioxide generator, water works",
    ),
    _job(
        "cyanide rinse, bleach at pH 11", RUN, "", CYANIDE, "CN^- -> OCN^-",
        feed="KCN", medium=11, concentration="0.5 g/L", oxidants=["NaOCl"],
    ),
    _job(
        "propan-2-ol, bleach in acetic acid", RUN, "", "mohrig1985", "propan-2-ol -> acetone",
        medium=5, acid=ACETIC, oxidants=["NaOCl"],
    ),
    _job(
        "copper etched by 3 % peroxide in hydrochloric acid", RUN, "", BOOK, "Cu -> CuCl2",
        oxidants=["H2O2"], bottles=["hydrogen peroxide 3 % w/w"], acid="hydrochloric acid 10 % w/w",
    ),
    _job(
        "permanganate on well water", RUN, "", WATER, "Mn^2+ -> MnO2",
        oxidants=["KMnO4"], purpose="remove", potable=True, medium=7.5, concentration="1 mg/L",
    ),
    _job(
        "persulfate etch of copper at 40 C", RUN, "", BOOK, "Cu -> Cu^2+",
        oxidants=["Na2S2O8"], medium=2, temperature="40 C",
    ),
    _job(
        "iodine recovered with nitrite", RUN, "", BOOK, "I^- -> I2",
        oxidants=["NaNO2"], medium="acid", concentration="0.1 mol/L",
    ),
    _job(
        "dechlorination with sulfite", RUN, "", WATER, "SO3^2- -> SO4^2-",
        oxidants=["NaOCl"], purpose="remove", medium=7.5,
    ),
    _job(
        "Fenton's pair at pH 3", RUN, "", BOOK, "Fe^2+ -> Fe^3+",
        oxidants=["H2O2"], bottles=PEROXIDE, purpose="remove", medium=3, concentration="1 mmol/L",
    ),
    _job(
        "nitrite in water, bleach", RUN, "", WATER, "NO2^- -> NO3^-",
        oxidants=["NaOCl"], purpose="remove", medium=8, concentration="5 mg/L",
    ),
    _job(
        "sulfide in alkali, bleach", RUN, "", WATER, "S^2- -> SO4^2-",
        oxidants=["NaOCl"], medium=12, concentration="0.1 mol/L",
    ),
    _job(
        "chlorine water on iron", RUN, "", WATER, "Fe^2+ -> Fe(OH)3",
        oxidants=["Cl2"], purpose="remove", potable=True, medium=7.2,
    ),
    _job(
        "ozone on manganese", RUN, "", WATER, "Mn^2+ -> MnO2",
        oxidants=["O3"], purpose="remove", potable=True, medium=7.5,
    ),
    _job(
        "peroxide on sulfide odours", RUN, "", WATER, "HS^- -> SO4^2-",
        oxidants=["H2O2"], bottles=PEROXIDE, purpose="remove", medium=7.5, concentration="0.2 mmol/L",
    ),
    _job(
        "peracetic acid on bromide at pH 4", RUN, "peracid", BOOK, "Br^- -> Br2", oxidants=["peracetic"], medium=4,
    ),
    _job(
        "chlorine dioxide 0.5 mg/L on arsenic", RUN, "chlorite", WATER, "H3AsO3 -> HAsO4^2-",
        oxidants=["ClO2"], purpose="remove", potable=True, medium=7.5, concentration="0.05 mg/L",
        context="dosed at 0.5 mg/L",
    ),
    _job(
        "chromite and peroxide in soda", RUN, "Cr(VI)", BOOK, "Cr^3+ -> CrO4^2-",
        oxidants=["H2O2"], bottles=PEROXIDE, medium=13,
    ),
    _job(
        "ethanol assay by dichromate", RUN, "Cr(VI)", BOOK, "ethanol -> acetaldehyde",
        oxidants=["K2Cr2O7"], medium="acid", concentration="0.05 mol/L",
    ),
    _job(
        "stannous chloride dihydrate and iodine", RUN, "", BOOK, "Sn^2+ -> Sn^4+",
        feed="SnCl2.2H2O", oxidants=["I2"], medium="acid", acid="hydrochloric acid 37 % w/w",
    ),
    _job("thiosulfate titration", RUN, "", BOOK, "S2O3^2- -> S4O6^2-", oxidants=["I2"], medium=7),
    _job(
        "oxalic acid titration at 60 C", RUN, "", BOOK, "oxalic acid -> CO2",
        oxidants=["KMnO4"], medium=1, temperature="60 C", concentration="0.05 mol/L",
    ),
    _job(
        "sulfite aired with a copper ammine as catalyst", RUN, "", BOOK, "SO3^2- -> SO4^2-",
        feed="Na2SO3", oxidants=["O2"], medium=10, impurities={"[Cu(NH3)4]SO4": "0.1 % w/w"},
    ),
    _job(
        "ammonium bromide and permanganate in acid", RUN, "ammonium", BOOK, "Br^- -> Br2",
        feed="NH4Br", oxidants=["KMnO4"], medium=0,
    ),
    _job(
        "silver in nitric acid 30 %", RUN, "NOx", BOOK, "Ag -> Ag^+",
        oxidants=["HNO3"], bottles=["nitric acid 30 % w/w"], medium="acid",
    ),
    _job("ceric from cerous by ozone", RUN, "", BOOK, "Ce^3+ -> Ce^4+", oxidants=["O3"], medium=0),
    _job("iodate from iodide by permanganate", RUN, "", BOOK, "I^- -> IO3^-", oxidants=["KMnO4"], medium=10),
    _job(
        "iron removed by air", RUN, "", WATER, "Fe^2+ -> Fe(OH)3",
        oxidants=["O2"], purpose="remove", potable=True, medium=7,
    ),
    _job(
        "cyanide, peroxide and a copper catalyst", RUN, "", "lunn_sansone", "CN^- -> OCN^-",
        feed="KCN", oxidants=["H2O2"], bottles=PEROXIDE, medium=10.5, concentration="0.2 g/L",
        impurities={"CuSO4": "0.5 % w/w"},
    ),
    _job(
        "peroxide titrated with permanganate", RUN, "", BOOK, "H2O2 -> O2",
        oxidants=["KMnO4"], medium=1, concentration="0.1 mol/L",
    ),
    _job(
        "manganese beside a trace of ammonium, sodium permanganate", RUN, "", WATER, "Mn^2+ -> MnO2",
        oxidants=["NaMnO4"], purpose="remove", medium=8, impurities={"NH4^+": "0.5 mg/L"},
    ),
)  # fmt: skip

SECOND: tuple[Case, ...] = (
    _file(
        "vinegar and bleach before the alcohol", STOP, "chlorine", NRC,
        'conversions = "cyclohexanol -> cyclohexanone"\noxidants = ["NaOCl"]\nmedium = 4.5\n'
        'acid = "acetic acid 80 % w/w"\naddition = ["acid", "oxidant", "feed"]\n',
    ),
    _file(
        "copper(I) cyanide and chlorine at pH 10.2", STOP, "cyanogen chloride", CYANIDE,
        'conversions = "CN^- -> OCN^-"\nfeed = "copper(I) cyanide"\noxidants = ["Cl2"]\nmedium = 10.2\n'
        'concentration = "0.2 g/L"\n',
    ),
    _file(
        "chlorite 2 mg/L in drinking water", STOP, "chlorite", WATER,
        'conversions = "Mn^2+ -> MnO2"\npurpose = "remove"\npotable = true\noxidants = ["NaClO2"]\nmedium = 7\n'
        'context = "chlorite dosed at 2 mg/L"\n',
    ),
    _file(
        "peroxide 35.1 %", STOP, "35 %", "schumb1955",
        'conversions = "Fe^2+ -> Fe^3+"\nfeed = "FeSO4.7H2O"\noxidants = ["H2O2"]\n'
        'bottles = ["hydrogen peroxide 35.1 % w/w"]\n',
    ),
    _file(
        "sulfide and bleach at pH 8.99", STOP, "H2S", NRC,
        'conversions = "S^2- -> SO4^2-"\noxidants = ["NaOCl"]\nmedium = 8.99\n',
    ),
    _file(
        "iodine residue neutralized with ammonia water", STOP, "nitrogen triiodide", BRETHERICK,
        'conversions = "I^- -> I2"\noxidants = ["KIO3"]\nmedium = 1\n'
        'context = "residue neutralized with ammonia water"\n',
    ),
    _file(
        "bromine made in a closed vessel", STOP, "vent", NRC,
        'conversions = "Br^- -> Br2"\noxidants = ["H2O2"]\nbottles = ["hydrogen peroxide 30 % w/w"]\n'
        'vessel = "closed"\n',
    ),
    _file(
        "acetone, percarbonate and sulfuric acid", STOP, "peroxide", "oxley2012",
        'conversions = "acetone -> CO2"\noxidants = ["percarbonate"]\nmedium = 2\n'
        'acid = "sulfuric acid 50 % w/w"\n',
    ),
    _file(
        "propan-2-ol and pool chlorine at pH 8", STOP, "chloroform", "mohrig1985",
        'conversions = "propan-2-ol -> acetone"\noxidants = ["Ca(OCl)2"]\nmedium = 8\n',
    ),
    _file(
        "iron and ammonium share the bleach", STOP, "chloramine", NRC,
        'conversions = [["Fe^2+ -> Fe^3+", "0.1 mol"], ["NH4^+ -> N2", "0.01 mol"]]\noxidants = ["NaOCl"]\n'
        'medium = 2\n',
    ),
    _file(
        "nitrite with ammonium chloride in it", STOP, "ammonium", BRETHERICK,
        'conversions = "NO2^- -> NO3^-"\nfeed = "NaNO2"\nmedium = 5\noxidants = ["H2O2"]\n'
        'bottles = ["hydrogen peroxide 30 % w/w"]\n[impurities]\nNH4Cl = "5 % w/w"\n',
    ),
    _file(
        "azide in the bromide, acid", STOP, "azid", NRC,
        'conversions = "Br^- -> Br2"\noxidants = ["KMnO4"]\n[impurities]\nNaN3 = "1 % w/w"\n',
    ),
    _file(
        "chlorine gas on iodide in a kitchen", STOP, "fume hood", NRC,
        'conversions = "I^- -> I2"\noxidants = ["Cl2"]\ncontext = "home kitchen, no fume hood"\n',
    ),
    _options(
        "chlorate on bromide in acid", STOP, NRC,
        "compare", "Br^- -> Br2", "--oxidant", "KClO3", "--medium", "acid",
    ),
    _options(
        "cyanide and peroxide at pH 9.99", STOP, CYANIDE,
        "compare", "CN^- -> OCN^-", "--oxidant", "H2O2", "--medium", "9.99",
    ),
    _options(
        "bleach and acid before the iodide", STOP, NRC,
        "plan", "I^- -> I2", "--oxidant", "NaOCl", "--addition", "oxidant", "--addition", "acid",
        "--addition", "feed",
    ),
    _options(
        "cyanide 2.1 g/L", STOP, "lunn_sansone",
        "compare", "CN^- -> OCN^-", "--oxidant", "NaOCl", "--medium", "11", "--concentration", "2.1 g/L",
    ),
    _options(
        "peroxide 50 %", STOP, "schumb1955",
        "compare", "Fe^2+ -> Fe^3+", "--oxidant", "H2O2", "--bottle", "hydrogen peroxide 50 % w/w",
    ),
    _options(
        "glucose and bromate", STOP, BRETHERICK,
        "compare", "glucose -> CO2", "--oxidant", "KBrO3", "--medium", "7",
    ),
    _options(
        "perchlorate as the goal", STOP, "scope", "compare", "Cl^- -> ClO4^-", "--oxidant", "anode",
    ),
    _options(
        "sulfide and ceric sulfate at pH 12", STOP, NRC,
        "compare", "S^2- -> S", "--oxidant", "Ce4+", "--medium", "12",
    ),
    _options(
        "Mohr's salt and bleach", STOP, BRETHERICK,
        "compare", "Fe^2+ -> Fe^3+", "--oxidant", "NaOCl", "--feed", "(NH4)2Fe(SO4)2.6H2O",
    ),
    _options(
        "acetone in the bromide", STOP, "oxley2012",
        "compare", "Br^- -> Br2", "--oxidant", "H2O2", "--impurity", "acetone=1 % w/w",
    ),
    _options(
        "three moles of iron at 30 W", STOP, FIERZ,
        "compare", "Fe^2+ -> Fe^3+", "--oxidant", "H2O2", "--amount", "3 mol", "--cooling", "30 W",
    ),
    _recipe(
        "potassium sulfide into acid and peroxide", STOP, NRC,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,20 mL,5", "3,feed,K2S,11 g,",
        "4,oxidant,hydrogen peroxide 30 % w/w,12 mL,30", "5,product,S,,", "6,quench,Na2SO3,5 g,",
    ),
    _recipe(
        "ammonium bromide and bleach in acid", STOP, BRETHERICK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,80 mL,10", "3,feed,NH4Br,98 g,",
        "4,oxidant,NaOCl 12.5 % w/w,300 g,40", "5,product,Br2,,", "6,quench,Na2SO3,60 g,",
    ),
    _recipe(
        "chlorate on bromide in hydrochloric acid", STOP, NRC,
        "1,water,,1 L,", "2,acid,hydrochloric acid 37 % w/w,100 mL,10", "3,feed,NaBr,103 g,",
        "4,oxidant,NaClO3,20 g,40", "5,product,Br2,,", "6,quench,Na2SO3,60 g,",
    ),
    _recipe(
        "bromine liquor quenched with acetone", STOP, BRETHERICK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,80 mL,10", "3,feed,KBr,119 g,",
        "4,oxidant,hydrogen peroxide 30 % w/w,55 mL,40", "5,product,Br2,,", "6,quench,acetone,10 g,",
    ),
    _recipe(
        "iodine liquor quenched with ammonia", STOP, BRETHERICK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,20 mL,10", "3,feed,KI,83 g,",
        "4,oxidant,hydrogen peroxide 3 % w/w,300 mL,40", "5,product,I2,,", "6,quench,ammonia 25 % w/w,20 mL,",
    ),
    _recipe(
        "cyclohexanol into nitric acid", STOP, NRC,
        "1,water,,100 mL,", "2,feed,cyclohexanol,10 g,", "3,oxidant,nitric acid 65 % w/w,50 mL,30",
        "4,product,cyclohexanone,,", "5,quench,Na2CO3,20 g,",
    ),
    # ------------------------------------------------------------------ ordinary practice
    _file(
        "cyclohexanol, bleach dosed last into acetic acid", RUN, "", "stevens1980",
        'conversions = "cyclohexanol -> cyclohexanone"\noxidants = ["NaOCl"]\nmedium = 4.5\n'
        'acid = "acetic acid 80 % w/w"\naddition = ["feed", "acid", "oxidant"]\n',
    ),
    _file(
        "cyanide and bleach at pH 10.5", RUN, "", CYANIDE,
        'conversions = "CN^- -> OCN^-"\noxidants = ["NaOCl"]\nmedium = 10.5\nconcentration = "0.3 g/L"\n',
    ),
    _file(
        "cyanide and peroxide at pH 10", RUN, "", CYANIDE,
        'conversions = "CN^- -> OCN^-"\noxidants = ["H2O2"]\nbottles = ["hydrogen peroxide 30 % w/w"]\n'
        'medium = 10\nconcentration = "0.3 g/L"\n',
    ),
    _file(
        "sulfide and peroxide at pH 9", RUN, "", NRC,
        'conversions = "S^2- -> SO4^2-"\noxidants = ["H2O2"]\nbottles = ["hydrogen peroxide 30 % w/w"]\n'
        'medium = 9\n',
    ),
    _file(
        "peroxide 35 %", RUN, "", "schumb1955",
        'conversions = "Fe^2+ -> Fe^3+"\nfeed = "FeSO4.7H2O"\noxidants = ["H2O2"]\n'
        'bottles = ["hydrogen peroxide 35 % w/w"]\n',
    ),
    _file(
        "1 mmol/L of sulfide in water, permanganate", RUN, "H2S", WATER,
        'conversions = "HS^- -> SO4^2-"\noxidants = ["KMnO4"]\npurpose = "remove"\nmedium = 7\n'
        'concentration = "1 mmol/L"\n',
    ),
    _file(
        "chlorine dioxide 1.4 mg/L in drinking water", RUN, "chlorite", WATER,
        'conversions = "Mn^2+ -> MnO2"\npurpose = "remove"\npotable = true\noxidants = ["ClO2"]\nmedium = 7\n'
        'context = "dosed at 1.4 mg/L"\n',
    ),
    _file(
        "iodine residue, thiosulfate and carbonate", RUN, "", BOOK,
        'conversions = "I^- -> I2"\noxidants = ["KIO3"]\nmedium = 1\n'
        'context = "residue quenched with sodium thiosulfate and sodium carbonate"\n',
    ),
    _file(
        "iron and manganese in one well", RUN, "", WATER,
        'conversions = [["Fe^2+ -> Fe(OH)3", "3.1 mg/L"], ["Mn^2+ -> MnO2", "0.42 mg/L"]]\n'
        'purpose = "remove"\npotable = true\nmedium = 7.2\noxidants = ["KMnO4"]\n',
    ),
    _file(
        "percarbonate on ferrous in a vented vessel", RUN, "", BOOK,
        'conversions = "Fe^2+ -> Fe^3+"\nfeed = "FeSO4.7H2O"\noxidants = ["percarbonate"]\nvessel = "vented"\n'
        'medium = 1\n',
    ),
    _file(
        "spent fixer and bleach in alkali", RUN, "", BOOK,
        'conversions = "S2O3^2- -> SO4^2-"\nfeed = "Na2S2O3.5H2O"\noxidants = ["NaOCl"]\nmedium = 10\n',
    ),
    _file(
        "ammonium fixer and peroxide", RUN, "", BOOK,
        'conversions = "S2O3^2- -> SO4^2-"\nfeed = "(NH4)2S2O3"\noxidants = ["H2O2"]\n'
        'bottles = ["hydrogen peroxide 3 % w/w"]\nmedium = 8\nconcentration = "0.1 mol/L"\n',
    ),
    _file(
        "circuit boards in ferric chloride", RUN, "", BOOK,
        'conversions = "Cu -> Cu^2+"\noxidants = ["Fe3+"]\nmedium = 1\ncontext = "circuit board etching"\n',
    ),
    _options("bromide and bromate", RUN, BOOK, "compare", "Br^- -> Br2", "--oxidant", "KBrO3"),
    _options(
        "manganese and bleach at pH 9", RUN, WATER,
        "compare", "Mn^2+ -> MnO2", "--purpose", "remove", "--potable", "--oxidant", "NaOCl", "--medium", "9",
    ),
    _options(
        "a vessel that is not sealed", RUN, BOOK,
        "compare", "I^- -> I2", "--oxidant", "H2O2", "--context", "not in a sealed vessel, in a fume hood",
    ),
    _options(
        "cyanide 2 g/L", RUN, "lunn_sansone",
        "compare", "CN^- -> OCN^-", "--oxidant", "NaOCl", "--medium", "11", "--concentration", "2 g/L",
    ),
    _options(
        "a tenth of a mole of iron at 100 W", RUN, FIERZ,
        "compare", "Fe^2+ -> Fe^3+", "--oxidant", "H2O2", "--amount", "0.1 mol", "--cooling", "100 W",
    ),
    _options(
        "benzyl alcohol, bleach in acetic acid", RUN, "stevens1980",
        "compare", "benzyl alcohol -> benzaldehyde", "--oxidant", "NaOCl", "--medium", "5",
        "--acid", "acetic acid 99 % w/w",
    ),
    _options(
        "peracetic acid on bromide at pH 4", RUN, BOOK,
        "compare", "Br^- -> Br2", "--oxidant", "peracetic", "--medium", "4",
    ),
    _options(
        "nitrite and bleach at pH 8", RUN, BOOK, "compare", "NO2^- -> NO3^-", "--oxidant", "NaOCl", "--medium", "8",
    ),
    _options(
        "arsenic and ozone", RUN, WATER,
        "compare", "H3AsO3 -> HAsO4^2-", "--oxidant", "O3", "--medium", "7.5", "--purpose", "remove", "--potable",
    ),
    _options(
        "iron beside a trace of ammonium, bleach", RUN, WATER,
        "compare", "Fe^2+ -> Fe(OH)3", "--oxidant", "NaOCl", "--impurity", "NH4^+=0.3 mg/L",
        "--purpose", "remove", "--potable", "--medium", "7",
    ),
    _options(
        "sulfide aired at pH 11", RUN, WATER, "compare", "S^2- -> SO4^2-", "--oxidant", "O2", "--medium", "11",
    ),
    _recipe(
        "potassium bromide and peroxide", RUN, BOOK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,80 mL,10", "3,feed,KBr,119 g,",
        "4,oxidant,hydrogen peroxide 30 % w/w,55 mL,40", "5,product,Br2,,", "6,quench,Na2SO3,60 g,",
        "6,quench,NaHCO3,90 g,",
    ),
    _recipe(
        "potassium iodide and weak peroxide", RUN, BOOK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,50 mL,10", "3,feed,KI,83 g,",
        "4,oxidant,hydrogen peroxide 3 % w/w,300 mL,40", "5,product,I2,,", "6,quench,Na2SO3,20 g,",
        "6,quench,NaHCO3,60 g,",
    ),
    _recipe(
        "copperas and peroxide", RUN, BOOK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,50 mL,10", "3,feed,FeSO4.7H2O,139 g,",
        "4,oxidant,hydrogen peroxide 30 % w/w,28 mL,40", "5,product,Fe^3+,,", "6,quench,Na2SO3,5 g,",
        "6,quench,NaHCO3,60 g,",
    ),
    _recipe(
        "sulfite and bleach in soda", RUN, BOOK,
        "1,water,,1 L,", "2,base,NaOH 50 % w/w,10 mL,", "3,feed,Na2SO3,63 g,",
        "4,oxidant,NaOCl 12.5 % w/w,320 g,40", "5,product,Na2SO4,,", "6,quench,Na2S2O3,5 g,",
    ),
    _recipe(
        "copper and persulfate", RUN, BOOK,
        "1,water,,1 L,", "2,acid,sulfuric acid 50 % w/w,20 mL,10", "3,feed,Cu,6 g,",
        "4,oxidant,Na2S2O8,25 g,40", "5,product,Cu^2+,,", "6,quench,Na2SO3,5 g,", "6,quench,NaHCO3,40 g,",
    ),
    _recipe(
        "cyclohexanol and bleach in acetic acid", RUN, "stevens1980",
        "1,water,,100 mL,", "2,feed,cyclohexanol,10 g,", "3,acid,acetic acid 99.8 % w/w,20 mL,",
        "4,oxidant,NaOCl 12.5 % w/w,65 g,60", "5,product,cyclohexanone,,", "6,quench,Na2SO3,5 g,",
        "6,quench,Na2CO3,25 g,",
    ),
)  # fmt: skip

THIRD: tuple[Case, ...] = (
    _pot("bleach and sal ammoniac", STOP, NRC, species=["NaClO", "NH4Cl"]),
    _pot("pool chlorine and pool acid", STOP, NRC, species=["Ca(ClO)2", "NaHSO4"]),
    _pot("dichlor and pool chlorine", STOP, BRETHERICK, species=["C3HCl2N3O3", "Ca(ClO)2"]),
    _pot("silver plating bath into hydrochloric acid", STOP, NRC, species=["K[Ag(CN)2]", "HCl"], ph=1),
    _pot(
        "nickel cyanide and peroxide at pH 8", STOP, CYANIDE,
        feed="Ni(CN)2", oxidant="H2O2", oxidant_strength_w_w=0.3, ph=8,
    ),
    _pot("chlorate and antimony sulfide, dry", STOP, BRETHERICK, species=["KClO3", "Sb2S3"]),
    _pot("chlorate and potassium cyanide, dry", STOP, BRETHERICK, feed="KCN", oxidant="KClO3", oxidant_form="solid"),
    _pot("permanganate and glycerol", STOP, BRETHERICK, species=["KMnO4", "glycerol"]),
    _pot(
        "manganate into strong sulfuric acid", STOP, BRETHERICK,
        feed="FeSO4", oxidant="K2MnO4", acid="H2SO4", acid_strength_w_w=0.98, acid_undiluted=True,
    ),
    _pot(
        "chromic anhydride and methanol", STOP, BRETHERICK,
        feed="methanol", oxidant="CrO3", oxidant_form="solid", concentration_mol_L=20, ph=1,
    ),
    _pot("silver nitrate, ethanol and nitric acid", STOP, BRETHERICK, species=["AgNO3", "ethanol", "HNO3"]),
    _pot("silver ammine and soda lye", STOP, BRETHERICK, species=["Ag(NH3)2NO3", "NaOH"]),
    _pot("gold chloride and ammonia", STOP, BRETHERICK, species=["AuCl3", "NH3"]),
    _pot("azide and copper sulfate", STOP, NRC, species=["NaN3", "CuSO4.5H2O"]),
    _pot("ammonium nitrate and zinc dust", STOP, NRC, species=["NH4NO3", "Zn"]),
    _pot("saltpetre, sulfur and charcoal", STOP, BRETHERICK, species=["KNO3", "S", "C"]),
    _pot("peroxide, acetone and sulfuric acid", STOP, "oxley2012", species=["H2O2", "acetone", "H2SO4"]),
    _pot("carbide beside permanganate", STOP, NRC, species=["CaC2", "KMnO4"]),
    _pot(
        "bromine liquor quenched with lye and ammonia", STOP, BRETHERICK,
        feed="CaBr2", target="Br2", oxidant="KMnO4", acid="H2SO4", ph=0, quench=["NaOH", "NH4OH"],
    ),
    _pot(
        "cyanide liquor finished with bisulfate", STOP, NRC,
        feed="KCN", oxidant="H2O2", oxidant_strength_w_w=0.1, ph=11, quench="NaHSO4",
    ),
    _pot(
        "dichlor into hydrochloric acid before the iodide", STOP, NRC,
        feed="KI", target="I2", oxidant="NaC3Cl2N3O3", acid="HCl", ph=1, addition=["oxidant", "acid", "feed"],
    ),
    _pot("chlorite and ferric chloride", STOP, BRETHERICK, species=["NaClO2", "FeCl3"]),
    _pot("chlorite and pool chlorine at pH 7", STOP, BRETHERICK, species=["NaClO2", "Ca(ClO)2"], ph=7),
    _pot("ozone through ether", HELD, BRETHERICK, feed="diethyl ether", oxidant="O3", oxidant_form="gas"),
    _pot("silver nitrate and oxalate", STOP, BRETHERICK, species=["AgNO3", "Na2C2O4"]),
    _pot("perchloric acid and acetic anhydride", STOP, BRETHERICK, species=["HClO4", "acetic anhydride"]),
    _pot("hydrazine hydrate and peroxide", STOP, NRC, species=["N2H4.H2O", "H2O2"]),
    _pot("iodine and aluminium powder", STOP, BRETHERICK, feed="Al", oxidant="I2", oxidant_form="solid"),
    _pot("arsenic, zinc and sulfuric acid", STOP, NRC, species=["As2O3", "Zn", "H2SO4"]),
    _pot("zinc phosphide in acid", HELD, BRETHERICK, feed="Zn3P2", oxidant="H2O2", acid="HCl"),
    # ------------------------------------------------------------------ ordinary practice
    _pot(
        "copper ammine as catalyst", RUN, BOOK,
        feed="Na2SO3", oxidant="O2", species="[Cu(NH3)4]SO4.H2O", ph=10,
    ),
    _pot(
        "silver ammine destroyed by acid", FREE, BRETHERICK,
        feed="KI", oxidant="H2O2", oxidant_strength_w_w=0.03, species="Ag(NH3)2NO3", acid="HNO3", ph=1,
    ),
    _pot("iodide and a little nitrite", RUN, BOOK, feed="KI", oxidant="NaNO2", ph=2, concentration_mol_L=0.01),
    _pot("iodide at an anode", RUN, BOOK, feed="KI", target="I2", oxidant_key="anode", ph=3),
    _pot(
        "hard well water, permanganate", RUN, WATER,
        feed="Mn^2+", oxidant="KMnO4", impurities=["Ca^2+", "HCO3^-"], potable=True, purpose="remove", ph=7.6,
        concentration_mol_L=2e-5,
    ),
    _pot(
        "cyanide at the house limit", RUN, "lunn_sansone",
        feed="NaCN", oxidant="NaClO", base="NaOH", ph=11, free_cyanide_g_L=2.0,
    ),
    _pot(
        "ferrous liquor and peroxide 35 %", RUN, BOOK,
        feed="FeCl2", oxidant="H2O2", oxidant_strength_w_w=0.35, ph=2,
    ),
    _pot(
        "bromide, bromate, sulfite and soda", RUN, BOOK,
        feed="KBr", target="Br2", oxidant="NaBrO3", acid="H2SO4", ph=0, quench=["Na2SO3", "Na2CO3"],
    ),
    _pot(
        "cyclohexanol and dilute permanganate", RUN, BOOK,
        feed="cyclohexanol", oxidant="KMnO4", oxidant_form="solution", ph=8, concentration_mol_L=0.05,
    ),
    _pot("metabisulfite takes chlorine up", RUN, WATER, feed="Na2S2O5", oxidant="NaClO", ph=8),
    _pot(
        "bisulfite at a pool outlet", RUN, WATER,
        feed="NaHSO3", oxidant="NaClO", ph=7, purpose="remove", concentration_mol_L=1e-4,
    ),
    _pot(
        "copper brightened in vinegar and peroxide", RUN, BOOK,
        feed="Cu", oxidant="H2O2", oxidant_strength_w_w=0.03, acid="CH3COOH", ph=3,
    ),
    _pot(
        "spring water with sulfide, chlorinated", RUN, WATER,
        feed="H2S", oxidant="Cl2", ph=7, purpose="remove", potable=True, total_sulfide_mmol_L=0.05,
    ),
    _pot(
        "nitrite in tap water, bleach", RUN, WATER,
        feed="NO2^-", oxidant="NaClO", ph=7.5, purpose="remove", concentration_mol_L=1e-4,
    ),
    _pot(
        "arsenic chlorinated beside a ferric coagulant", RUN, WATER,
        feed="H3AsO3", oxidant="NaClO", species="FeCl3", ph=7, purpose="remove", potable=True,
        concentration_mol_L=1e-6,
    ),
    _pot(
        "manganese chlorinated beside alum", RUN, WATER,
        feed="Mn^2+", oxidant="NaClO", species="Al2(SO4)3", ph=7, purpose="remove", potable=True,
        concentration_mol_L=1e-5,
    ),
    _pot("iodine to iodate by chlorine in alkali", RUN, BOOK, feed="I2", target="IO3^-", oxidant="Cl2", ph=10),
    _pot("Mohr's salt titrated with ceric sulfate", RUN, BOOK, feed="(NH4)2Fe(SO4)2", oxidant="Ce(SO4)2", ph=0),
    _pot("stannous and ferric chloride", RUN, BOOK, feed="SnCl2", oxidant="FeCl3", acid="HCl", ph=0),
    _pot("nickel in nitric acid 30 %", RUN, BOOK, feed="Ni", oxidant="HNO3", oxidant_strength_w_w=0.3, ph=0),
    _pot(
        "benzyl alcohol and the triple salt", RUN, BOOK,
        feed="benzyl alcohol", oxidant="(KHSO5)2.KHSO4.K2SO4", ph=5,
    ),
    _pot(
        "propan-2-ol and bleach kept at pH 4.5, 20 C", RUN, "mohrig1985",
        feed="propan-2-ol", target="acetone", oxidant="NaClO", acid="CH3COOH", ph=4.5, temperature_C=20,
    ),
    _pot(
        "a trace of cyanide and ozone at pH 11", RUN, CYANIDE,
        feed="CN^-", oxidant="O3", ph=11, purpose="remove", concentration_mol_L=1e-4,
    ),
    _pot(
        "ferrocyanide titrated in dilute acid, cold", FREE, BOOK,
        feed="K4[Fe(CN)6].3H2O", oxidant="KMnO4", acid="H2SO4", ph=2, temperature_C=20,
    ),
    _pot(
        "percarbonate on sulfite", RUN, BOOK,
        feed="Na2SO3", oxidant="(Na2CO3)2.3H2O2", oxidant_form="solid", ph=10.5,
    ),
    _pot("chlorate on ferrous near neutral", RUN, BOOK, feed="FeSO4", oxidant="NaClO3", ph=6),
    _pot(
        "sulfite takes chlorine dioxide up in water", RUN, WATER,
        feed="Na2SO3", oxidant="ClO2", oxidant_form="solution", ph=8, purpose="remove", concentration_mol_L=1e-5,
    ),
    _pot("iodate on iodide in acetic acid", RUN, BOOK, feed="KI", oxidant="KIO3", acid="CH3COOH", ph=3),
    _pot(
        "sulfide in lye and bleach", RUN, WATER,
        feed="Na2S", oxidant="NaClO", base="NaOH", ph=12, concentration_mol_L=0.5,
    ),
    _pot(
        "pool water with iron and dichlor", RUN, WATER,
        feed="Fe^2+", oxidant="NaC3Cl2N3O3", ph=7.4, purpose="remove", concentration_mol_L=1e-5,
    ),
)  # fmt: skip

ROUNDS: dict[str, tuple[Case, ...]] = {"first": FIRST, "second": SECOND, "third": THIRD}
