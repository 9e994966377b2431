"""The same conversion with one circumstance changed: the order or the verdict must change with it.

A list sorted by standard potential gives the same answer to both halves of every pair below.  Each pair names
the chemical reason and where that reason is printed; ``recalled`` sources were not re-read for this file.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest

from redoxlib.compare import Comparison, compare

Fields = dict[str, Any]
PEROXIDE = ("hydrogen peroxide 30 % w/w",)
ACETIC = "acetic acid 99.8 % w/w"


@dataclass(frozen=True)
class Flip:
    """One conversion, what is common, what changes, and what must come of it.

    ``verdicts`` maps an oxidant to its state before and after; ``overtakes`` holds pairs of which the first
    stands strictly above the second before the change, and no longer does so after it.
    """

    conversion: str
    common: Fields
    before: Fields
    after: Fields
    why: str
    source: str
    verdicts: dict[str, tuple[str, str]]
    overtakes: tuple[tuple[str, str], ...] = ()


FLIPS: dict[str, Flip] = {
    # -------------------------------------------------------------- acidity
    "air on ferrous iron, pH 1 or 7.5": Flip(
        "Fe^2+ -> Fe^3+",
        {"purpose": "remove"},
        {"medium": 1},
        {"medium": 7.5},
        "the rate with oxygen grows with the square of hydroxide, and in acid it is nil",
        "Stumm and Lee, Ind. Eng. Chem. 53, 143 (1961); Singer and Stumm, Science 167, 1121 (1970); recalled",
        {"O2": ("inert", "ranked")},
        (("H2O2", "O2"),),
    ),
    "nitric acid on copper, pH 0 or 7": Flip(
        "Cu -> Cu^2+",
        {},
        {"medium": 0},
        {"medium": 7},
        "four protons go with each nitrate, so its potential falls below that of copper with the acid",
        "CRC Handbook, electrochemical series",
        {"HNO3": ("ranked", "infeasible"), "H2O2": ("ranked", "ranked")},
    ),
    "iron(III) on iodide, pH 1 or 7": Flip(
        "I^- -> I2",
        {"feed": "KI"},
        {"medium": 1},
        {"medium": 7},
        "near neutral iron(III) is hydroxide, whose potential lies far below that of iodine",
        "Bratsch, J. Phys. Chem. Ref. Data 18, 1 (1989); recalled",
        {"Fe3+": ("ranked", "infeasible"), "MnO2": ("ranked", "infeasible"), "H2O2": ("ranked", "ranked")},
    ),
    "iodate on iodide, pH 1 or 7": Flip(
        "I^- -> I2",
        {"feed": "KI"},
        {"medium": 1},
        {"medium": 7},
        "the rate carries the square of the hydrogen ion",
        "Agreda, Field and Lyons, J. Phys. Chem. A 104, 5269 (2000), abstract",
        {"KIO3": ("ranked", "inert")},
        (("KIO3", "H2O2"),),
    ),
    "pyrolusite on bromide, pH 0 or 5": Flip(
        "Br^- -> Br2",
        {},
        {"medium": 0},
        {"medium": 5},
        "0.118 V is lost per unit of pH, and at pH 0 there are only 0.15 V to lose",
        "CRC Handbook, electrochemical series; Nernst equation",
        {"MnO2": ("ranked", "infeasible"), "NaOCl": ("ranked", "ranked")},
    ),
    "peroxide or bleach on bromide, pH 0 or 5": Flip(
        "Br^- -> Br2",
        {},
        {"medium": 0},
        {"medium": 5},
        "peroxide needs the acid for its rate, k [H2O2][Br-][H+]; hypochlorous acid does not",
        "Bray and Livingston, J. Am. Chem. Soc. 45, 1251 (1923); recalled",
        {"H2O2": ("ranked", "inert")},
        (("H2O2", "NaOCl"),),
    ),
    "dichromate on propan-2-ol, pH 0 or 5": Flip(
        "propan-2-ol -> acetone",
        {"acid": ACETIC},
        {"medium": 0, "acid": "sulfuric acid 50 % w/w"},
        {"medium": 5},
        "the chromic ester forms and breaks in strong acid only",
        "Westheimer, Chem. Rev. 45, 419 (1949); recalled",
        {"K2Cr2O7": ("ranked", "inert"), "NaOCl": ("stopped", "ranked")},
    ),
    # -------------------------------------------------------------- the gate on poisons
    "cyanide and bleach, pH 8.5 or 11": Flip(
        "CN^- -> OCN^-",
        {"concentration": "0.5 g/L"},
        {"medium": 8.5},
        {"medium": 11},
        "below pH 10.5 cyanogen chloride forms faster than alkali destroys it",
        "US EPA, EPA/625/R-99/009 (2000); Lunn and Sansone; recalled",
        {"NaOCl": ("stopped", "ranked")},
    ),
    "cyanide and peroxide, pH 9.5 or 10.5": Flip(
        "CN^- -> OCN^-",
        {"concentration": "0.5 g/L", "bottles": PEROXIDE},
        {"medium": 9.5},
        {"medium": 10.5},
        "the acid constant of hydrogen cyanide is 9.2: below pH 10 much of it is the gas",
        "Lunn and Sansone, Destruction of Hazardous Chemicals; recalled",
        {"H2O2": ("stopped", "ranked")},
    ),
    "cyanide and bleach between the two limits": Flip(
        "CN^- -> OCN^-",
        {"concentration": "0.5 g/L", "bottles": PEROXIDE},
        {"medium": 10.2},
        {"medium": 10.6},
        "10 is enough without chlorine, 10.5 is needed with it",
        "US EPA, EPA/625/R-99/009 (2000); recalled",
        {"NaOCl": ("stopped", "ranked"), "H2O2": ("ranked", "ranked")},
    ),
    "free cyanide, 1.5 or 8 g/L": Flip(
        "CN^- -> OCN^-",
        {"medium": 11},
        {"concentration": "1.5 g/L"},
        {"concentration": "8 g/L"},
        "any slip of pH would free a lethal amount",
        "house limit of 2 g/L, docs/safety.md",
        {"NaOCl": ("ranked", "stopped")},
    ),
    "sulfide, pH 12 or 8": Flip(
        "S^2- -> SO4^2-",
        {},
        {"medium": 12},
        {"medium": 8},
        "the first acid constant of hydrogen sulfide is 7: below pH 9 it leaves an open vessel",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"NaOCl": ("ranked", "stopped"), "KMnO4": ("ranked", "stopped")},
    ),
    "sulfide in water at pH 7, 0.5 or 5 mmol/L": Flip(
        "HS^- -> SO4^2-",
        {"purpose": "remove", "medium": 7},
        {"concentration": "0.5 mmol/L"},
        {"concentration": "5 mmol/L"},
        "a trace of hydrogen sulfide is everyday water treatment, a liquor is not",
        "US EPA 815-R-99-014 (1999); house limit of 1 mmol/L, docs/safety.md",
        {"KMnO4": ("ranked", "stopped")},
    ),
    "isocyanurate on sulfide, pH 14 or 10": Flip(
        "S^2- -> SO4^2-",
        {},
        {"medium": 14},
        {"medium": 10},
        "its hydrolysis makes acid, which needs alkali in reserve beside sulfide",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"TCCA": ("ranked", "stopped"), "NaOCl": ("ranked", "ranked")},
    ),
    # -------------------------------------------------------------- chlorine, nitrogen, carbon
    "sodium or ammonium bromide with bleach": Flip(
        "Br^- -> Br2",
        {},
        {"feed": "NaBr"},
        {"feed": "NH4Br"},
        "active chlorine and ammonium give nitrogen trichloride",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"NaOCl": ("ranked", "stopped"), "TCCA": ("ranked", "stopped"), "H2O2": ("ranked", "ranked")},
    ),
    "propan-2-ol and bleach, acetic acid or alkali": Flip(
        "propan-2-ol -> acetone",
        {},
        {"medium": 5, "acid": ACETIC},
        {"medium": 12},
        "in alkali the acetone goes on to chloroform",
        "Stevens, Chapman and Weller, J. Org. Chem. 45, 2030 (1980); recalled",
        {"NaOCl": ("ranked", "stopped")},
    ),
    "cyclohexanol and bleach, acetic or sulfuric acid": Flip(
        "cyclohexanol -> cyclohexanone",
        {"acid": "sulfuric acid 50 % w/w"},
        {"medium": 5, "acid": ACETIC},
        {"medium": 0},
        "strong acid turns hypochlorite into chlorine gas before the alcohol takes it up",
        "Mohrig and others, J. Chem. Educ. 62, 519 (1985); recalled",
        {"NaOCl": ("ranked", "stopped")},
    ),
    "bromide and bleach, dosed last or met by acid first": Flip(
        "Br^- -> Br2",
        {},
        {"addition": ["feed", "acid", "oxidant"]},
        {"addition": ["acid", "oxidant", "feed"]},
        "without a reductant acid and hypochlorite give chlorine gas",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"NaOCl": ("ranked", "stopped"), "KMnO4": ("ranked", "ranked")},
    ),
    "permanganate, diluted or undiluted sulfuric acid": Flip(
        "Fe^2+ -> Fe^3+",
        {},
        {"acid": "sulfuric acid 96 % w/w"},
        {"acid": "sulfuric acid 96 % w/w, undiluted"},
        "undiluted acid makes manganese heptoxide",
        "Bretherick's Handbook of Reactive Chemical Hazards; recalled",
        {"KMnO4": ("ranked", "stopped")},
    ),
    "iodine quenched with sulfite or with ammonia": Flip(
        "I^- -> I2",
        {"feed": "KI", "bottles": PEROXIDE},
        {"context": "quenched with sodium sulfite and sodium carbonate"},
        {"context": "quenched with ammonia solution 25 %"},
        "nitrogen triiodide",
        "Bretherick's Handbook of Reactive Chemical Hazards; recalled",
        {"H2O2": ("ranked", "stopped")},
    ),
    # -------------------------------------------------------------- bottle, vessel, scale, room, time
    "five hundredths of a mole or five moles at 50 W": Flip(
        "Br^- -> Br2",
        {"bottles": PEROXIDE, "cooling": "50 W"},
        {"amount": "0.05 mol"},
        {"amount": "5 mol"},
        "the heat of the batch passes what the cooling carries in the hour of dosing",
        "Stoessel, Thermal Safety of Chemical Processes (2008); recalled",
        {"H2O2": ("ranked", "stopped")},
    ),
    "6 g or 600 g of copper at 50 W": Flip(
        "Cu -> CuSO4",
        {"bottles": PEROXIDE, "cooling": "50 W"},
        {"amount": "6 g"},
        {"amount": "600 g"},
        "the same limit, with the amount in grams",
        "Stoessel, Thermal Safety of Chemical Processes (2008); recalled",
        {"H2O2": ("ranked", "stopped")},
    ),
    "peroxide 30 % or aged to 18 % on sulfide": Flip(
        "S^2- -> SO4^2-",
        {"medium": 14, "concentration": "0.72 mol/L"},
        {"bottles": ("hydrogen peroxide 30 % w/w",)},
        {"bottles": ("hydrogen peroxide 18 % w/w",)},
        "the weaker bottle brings water that takes up heat, and heat is what holds peroxide back here",
        "energy balance; heats of formation of the tables",
        {"NaOCl": ("ranked", "ranked")},
        (("NaOCl", "H2O2"),),
    ),
    "sulfide liquor, 0.05 or 2 mol/L": Flip(
        "S^2- -> SO4^2-",
        {"medium": 14, "bottles": PEROXIDE},
        {"concentration": "0.05 mol/L"},
        {"concentration": "2 mol/L"},
        "peroxide gives the least waste and the most heat: the heat counts in a strong liquor",
        "energy balance; heats of formation of the tables",
        {},
        (("H2O2", "NaOCl"),),
    ),
    "peroxide of 35 or 50 %": Flip(
        "Br^- -> Br2",
        {},
        {"bottles": ("hydrogen peroxide 35 % w/w",)},
        {"bottles": ("hydrogen peroxide 50 % w/w",)},
        "above 35 % it detonates with organic matter",
        "Schumb, Satterfield and Wentworth, Hydrogen Peroxide (1955); recalled; house limit",
        {"H2O2": ("ranked", "stopped")},
    ),
    "open or closed vessel": Flip(
        "Fe^2+ -> Fe^3+",
        {"bottles": PEROXIDE},
        {"vessel": "open"},
        {"vessel": "closed"},
        "iron decomposes peroxide into oxygen, and the pressure has nowhere to go",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"H2O2": ("ranked", "stopped")},
    ),
    "bromine with or without a hood": Flip(
        "Br^- -> Br2",
        {"bottles": PEROXIDE},
        {"context": "fume hood"},
        {"context": "garage, no hood"},
        "bromine vapour",
        "NRC, Prudent Practices in the Laboratory (2011)",
        {"H2O2": ("ranked", "stopped")},
    ),
    "peracetic acid at 20 or 60 C": Flip(
        "I^- -> I2",
        {"feed": "KI", "medium": 4, "acid": ACETIC},
        {"temperature": "20 C"},
        {"temperature": "60 C"},
        "warm peracid decomposes by itself",
        "Peracetic Acid Registration Group, PAA Europe",
        {"peracetic": ("ranked", "stopped")},
    ),
    "bromide and peroxide, 24 hours or 2 minutes": Flip(
        "Br^- -> Br2",
        {"bottles": PEROXIDE},
        {"time": "24 h"},
        {"time": "2 min"},
        "its half-life is tens of minutes, that of bromate a matter of seconds",
        "Bray and Livingston, J. Am. Chem. Soc. 45, 1251 (1923); recalled",
        {"H2O2": ("ranked", "inert"), "NaBrO3": ("ranked", "ranked")},
        (("H2O2", "NaBrO3"),),
    ),
    "cyanide, an hour or a minute": Flip(
        "CN^- -> OCN^-",
        {"medium": 11, "concentration": "0.5 g/L", "bottles": PEROXIDE},
        {"time": "24 h"},
        {"time": "1 min"},
        "hypochlorite is instantaneous, peroxide takes hours without a copper catalyst",
        "environmental-expert.com, cyanide treatment with hydrogen peroxide, read",
        {"H2O2": ("ranked", "inert"), "NaOCl": ("ranked", "ranked")},
        (("H2O2", "NaOCl"),),
    ),
    "iodide, 1 mol/L or 10 micromol/L, iron(III)": Flip(
        "I^- -> I2",
        {"medium": 1},
        {"concentration": "1 mol/L"},
        {"concentration": "1e-5 mol/L"},
        "a rate of second or third order dies with dilution",
        "law of mass action; kinetics of the tables",
        {"Fe3+": ("ranked", "inert"), "NaOCl": ("ranked", "ranked")},
    ),
    # -------------------------------------------------------------- dose and company
    "0.5 or 0.6 mol hypochlorite per iodide": Flip(
        "I^- -> I2",
        {"feed": "KI"},
        {"excess": 0.0},
        {"excess": 0.20},
        "what goes beyond iodine goes to iodate at once",
        "Bichsel and von Gunten, Environ. Sci. Technol. 33, 4040 (1999); recalled",
        {},
        (("NaOCl", "KMnO4"),),
    ),
    "bromide with 5 % chloride, triple salt or bleach": Flip(
        "Br^- -> Br2",
        {},
        {},
        {"impurities": {"NaCl": "5 % w/w"}},
        "peroxymonosulfate oxidises chloride to chlorine; bleach brings chloride anyway",
        "CRC Handbook, electrochemical series",
        {},
        (("KHSO5", "NaOCl"),),
    ),
    "ferrous iron in sulfuric or hydrochloric acid": Flip(
        "Fe^2+ -> Fe^3+",
        {},
        {"feed": "FeSO4"},
        {"feed": "FeCl2", "acid": "hydrochloric acid 37 % w/w"},
        "peroxymonosulfate attacks chloride at once, peroxodisulfate hardly",
        "CRC Handbook, electrochemical series; kinetics of the tables",
        {},
        (("KHSO5", "Na2S2O8"),),
    ),
    "mass alone or waste alone": Flip(
        "Br^- -> Br2",
        {},
        {"weights": {"by_products": 0, "side_risk": 0, "exotherm": 0}},
        {"weights": {"mass": 0, "side_risk": 0, "exotherm": 0}},
        "bromate is light because its own bromine is product, but what is left over is a carcinogen",
        "CLP Regulation, Annex VI (potassium bromate H350)",
        {},
        (("NaBrO3", "H2O2"),),
    ),
    # -------------------------------------------------------------- drinking water
    "dichromate on iron, process water or drinking water": Flip(
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "medium": 7},
        {"potable": False},
        {"potable": True},
        "chromium(VI) is a carcinogen",
        "WHO, Guidelines for drinking-water quality",
        {"K2Cr2O7": ("ranked", "stopped")},
    ),
    "chlorine dioxide, 1.0 or 5 mg/L in drinking water": Flip(
        "Fe^2+ -> Fe(OH)3",
        {"purpose": "remove", "medium": 7, "potable": True},
        {"context": "dose 1.0 mg/L"},
        {"context": "dose 5 mg/L"},
        "50 to 70 % of it ends as chlorite, of which 1.0 mg/L is allowed",
        "US EPA 815-R-99-014 (1999), chapter 4, read",
        {"ClO2": ("ranked", "stopped")},
    ),
}


@cache
def compared(name: str, half: str) -> Comparison:
    flip = FLIPS[name]
    fields = {**flip.common, **getattr(flip, half)}
    keys = {*flip.verdicts, *(key for pair in flip.overtakes for key in pair)}
    return compare(flip.conversion, oxidants=sorted(keys), **fields)


def state(comparison: Comparison, key: str) -> str:
    """Where an oxidant ended: ranked, stopped, infeasible, inert, or other."""
    if comparison.place(key) is not None:
        return "ranked"
    for word, rows in (
        ("stopped", comparison.refused),
        ("infeasible", comparison.infeasible),
        ("inert", comparison.inert),
    ):
        if key in [row.oxidant.key for row in rows]:
            return word
    return "other"


def stands_above(comparison: Comparison, better: str, worse: str) -> bool:
    first, second = comparison.place(better), comparison.place(worse)
    return first is not None and (second is None or first < second)


def test_there_are_enough_flips_and_every_one_has_its_reason_and_source() -> None:
    assert len(FLIPS) >= 25
    for flip in FLIPS.values():
        assert flip.why
        assert flip.source
        assert flip.before != flip.after
        assert flip.overtakes or any(before != after for before, after in flip.verdicts.values())


@pytest.mark.parametrize("name", FLIPS)
def test_the_verdict_is_as_chemistry_has_it_on_both_sides(name: str) -> None:
    flip = FLIPS[name]
    before, after = compared(name, "before"), compared(name, "after")
    found = {key: (state(before, key), state(after, key)) for key in flip.verdicts}
    assert found == flip.verdicts, flip.why


@pytest.mark.parametrize(("name", "pair"), [(n, p) for n, f in FLIPS.items() for p in f.overtakes])
def test_the_order_turns(name: str, pair: tuple[str, str]) -> None:
    flip = FLIPS[name]
    before, after = compared(name, "before"), compared(name, "after")
    assert stands_above(before, *pair), flip.why
    assert not stands_above(after, *pair), flip.why
    assert stands_above(after, pair[1], pair[0]) or after.place(pair[0]) == after.place(pair[1])


def test_a_batch_above_the_cooling_is_told_the_largest_that_passes() -> None:
    """The share in the reason passes, and a tenth more of the batch does not."""
    fields: dict[str, Any] = {"cooling": "50 W", "oxidants": ["H2O2"]}
    (stopped,) = compare("Cu -> CuSO4", amount="5 mol", **fields).refused
    found = re.search(r"at most ([0-9.]+) % of this batch passes", stopped.reason)
    assert found is not None
    share = float(found[1]) / 100
    assert compare("Cu -> CuSO4", amount=f"{5 * share:.4g} mol", **fields).refused == ()
    assert compare("Cu -> CuSO4", amount=f"{5.5 * share:.4g} mol", **fields).refused != ()
