"""Hazard statements: what they are written like, and that what decides was read."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable

import pytest

from redoxlib import channels
from redoxlib.data import HazardRow, shipped
from redoxlib.notation import Phase, Species

CODE = re.compile(r"^(none|H[234]\d\d(i|D|d|F|f|FD|fd|Df|Fd)?|EUH\d{3})$")
RANGE = re.compile(r"^(?:(0\.\d+)<=w<(0\.\d+|1)|w(?:>=|<)(0\.\d+|1)|compressed gas)$")
TIER = {
    30: "H340 H350 H360",
    10: "H300 H310 H330 H341 H351 H361 H372 H400 H410 H271 H334 H362 H370 EUH031 EUH032 EUH071 H242",
    3: "H301 H311 H331 H314 H318 H317 H373 H411 H272 H220 H224 H225 H226 H270 H280 H290 H251 H371",
    1: "H302 H312 H332 H315 H319 H335 H412 H336 EUH066",
    0: "none",
}
TIER_OF = {code: tier for tier, codes in TIER.items() for code in codes.split()}

DECIDING = [
    "KMnO4",
    "H2O2",
    "NaClO",
    "Ca(ClO)2",
    "Cl2",
    "Br2",
    "I2",
    "K2Cr2O7",
    "CrO3",
    "Na2S2O8",
    "K2S2O8",
    "K5H3S4O18",
    "KBrO3",
    "NaClO2",
    "NaClO3",
    "C3Cl3N3O3",
    "HNO3",
    "MnO2",
    "MnSO4",
    "CuSO4",
    "FeSO4",
    "Ce2(SO4)3",
    "NO",
    "NO2",
    "H3BO3",
    "NaBO3.4H2O",
    "H2SO4",
    "HCl",
    "KI",
    "NaCN",
    "Na2S",
    "SO2",
    "C6H11OH",
    "C6H10O",
    "C3H3N3O3",
    "NaMnO4",
    "NaClO2",
    "NaClO3",
    "KClO3",
    "NaBrO3",
    "KIO3",
    "NaIO4",
    "Na2Cr2O7",
    "ClO2",
    "O3",
    "Na2CrO4",
    "PbSO4",
    "NH4Br",
    "NaBr",
    "KOH",
    "NH3",
    "H2C2O4",
    "CH3COOOH",
    "(Na2CO3)2.3H2O2",
    "CH4N2O.H2O2",
    "NaC3Cl2N3O3",
    "NaC7H7ClNO2S",
    "PbO2",
    "FeCl3",
    "NaNO2",
    "KHSO4",
    "NaHSO4",
    "NaOH",
    "HBr",
    "CH3COOH",
    "C6H5CHO",
    "CHCl3",
    "Ca(OH)2",
    "NaHCO3",
    "K2CO3",
    "C6H5COOH",
    "C2H5OH",
    "NaNO3",
    "KNO3",
    "NaCl",
    "CaCl2",
    "KCN",
    "HCN",
    "H2S",
    "Na2SO3",
    "NaHSO3",
    "Na2S2O5",
    "Na2S2O3",
    "(CH3)2CHOH",
    "(CH3)2CO",
]
RECALLED_ROWS = {("NaIO4", "H314"), ("NaIO4", "H372"), ("NaIO4", "H400"), ("NaC7H7ClNO2S", "EUH031")}
"""Warnings that no sheet found prints; each stands beside a worse or equal one that was read."""
UNREAD = ("Fe(OH)2", "Mn(OH)2", "Cr(OH)3", "Na2S4O6", "C7H9NO2S", "NH2Cl", "NCl3", "(NH4)2Ce(NO3)6")
"""Substances that a route or a quench makes and for which no sheet was found."""

ROWS = tuple(row for group in shipped().hazards.values() for row in group)
USED = tuple(row for row in ROWS if row.chosen)


def _plain(formula: str) -> Species:
    return Species.parse(formula).with_phase(Phase.UNSTATED)


BY_SUBSTANCE: dict[Species, list[HazardRow]] = defaultdict(list)
for _row in USED:
    BY_SUBSTANCE[_plain(_row.formula)].append(_row)


def _tier(code: str) -> int:
    return TIER_OF[re.sub(r"(?<=\d)[A-Za-z]+$", "", code)]


def test_every_code_is_a_public_statement_that_some_tier_lists() -> None:
    for row in ROWS:
        assert CODE.match(row.code), row
        assert _tier(row.code) >= 0


def test_every_condition_is_a_mass_fraction_range_or_a_cylinder() -> None:
    for row in ROWS:
        if not row.conditions:
            continue
        found = RANGE.match(row.conditions)
        assert found, row.conditions
        if found.group(1):
            assert float(found.group(1)) < float(found.group(2)), row.conditions


def test_no_statement_is_said_twice() -> None:
    seen = [(_plain(row.formula), row.code, row.conditions) for row in ROWS]
    assert len(seen) == len(set(seen))


def test_every_substance_has_a_statement_that_is_used() -> None:
    assert {_plain(row.formula) for row in ROWS} == set(BY_SUBSTANCE)


def test_what_is_not_used_says_why() -> None:
    for row in ROWS:
        assert row.chosen != ("not used: " in row.note), row


def test_the_bromides_share_one_decision() -> None:
    """The ion carries the hazard: one salt cannot be toxic for reproduction and the other not."""
    codes = {salt: {r.code for r in BY_SUBSTANCE[_plain(salt)]} for salt in ("NaBr", "KBr", "NH4Br")}
    assert "H360FD" in codes["NH4Br"]  # harmonised
    assert not any(c.startswith(("H360", "H361", "H362")) for s in ("NaBr", "KBr") for c in codes[s])
    kept = {(r.formula, r.code) for r in ROWS if not r.chosen}
    assert {("NaBr", "H360FD"), ("NaBr", "H360"), ("KBr", "H360FD")} <= kept
    assert channels.tier_of(_plain("NaBr"))[0] == 0  # what is not used does not count


def test_one_name_and_one_cas_number_for_each_formula() -> None:
    for rows in BY_SUBSTANCE.values():
        assert len({(row.substance, row.cas) for row in rows}) == 1
        digits = rows[0].cas.replace("-", "")
        body, check = digits[:-1], digits[-1]
        assert sum(i * int(d) for i, d in enumerate(reversed(body), 1)) % 10 == int(check), rows[0]


NOT_IN_THE_TABLE = {"K5H3S4O18", "K2FeO4", "NaC3Cl2N3O3", "NaBO3.4H2O", "NaB(OH)4"}
"""Substances whose number the identifier table of the property package does not hold."""
WRONG_IN_THE_TABLE = {"MnSO4"}
"""There the table counts two hydrogen atoms too many."""


def test_the_cas_number_belongs_to_the_composition() -> None:
    identifiers = pytest.importorskip("chemicals.identifiers", reason="a property package, test extra only")
    absent, wrong = set(), set()
    for row in (r for rows in BY_SUBSTANCE.values() for r in rows[:1]):
        try:
            entry = identifiers.pubchem_db.search_CAS(row.cas)
        except (KeyError, TypeError):
            entry = False
        if not entry:
            absent.add(row.formula)
        elif Species.parse(entry.formula).elements != Species.parse(row.formula).elements:
            wrong.add(row.formula)
    assert absent == NOT_IN_THE_TABLE
    assert wrong == WRONG_IN_THE_TABLE


def test_an_oxidant_has_the_cas_number_of_its_hazards() -> None:
    for oxidant in shipped().oxidants.values():
        if oxidant.kind != "electricity":
            assert {row.cas for row in BY_SUBSTANCE[_plain(oxidant.formula)]} == {oxidant.cas}, oxidant.key


def test_recalled_rows_never_claim_high_confidence() -> None:
    for row in ROWS:
        assert row.confidence in {"high", "medium", "low"}, row
        if row.source == "memory":
            assert row.confidence != "high", row


def test_unclassified_means_no_other_statement_under_the_same_condition() -> None:
    for rows in BY_SUBSTANCE.values():
        for row in rows:
            if row.code == "none":
                assert [r for r in rows if r.conditions == row.conditions] == [row]


def _worst(rows: Iterable[HazardRow]) -> int:
    return max((_tier(row.code) for row in rows), default=-1)


@pytest.mark.parametrize("formula", DECIDING)
def test_the_worst_statement_of_what_decides_was_read(formula: str) -> None:
    rows = BY_SUBSTANCE[_plain(formula)]
    assert rows, formula
    assert _worst([r for r in rows if r.source != "memory"]) == _worst(rows)


def test_a_recalled_statement_only_adds_a_warning() -> None:
    """What is remembered never clears a substance and never makes the worst statement of one."""
    recalled = [r for r in USED if "memory" in r.source.split(";")]
    assert {(r.formula, r.code) for r in recalled} == RECALLED_ROWS
    for rows in BY_SUBSTANCE.values():
        assert _worst([r for r in rows if r not in recalled]) == _worst(rows), rows[0].formula


def test_one_oxidant_rests_on_an_encyclopedia() -> None:
    kinds = shipped().sources
    weak = set()
    for rows in BY_SUBSTANCE.values():
        if _worst([r for r in rows if kinds[r.source.split(";")[0]].kind != "memory"]) < _worst(rows):
            weak.add(rows[0].formula)
    assert weak == {"K2FeO4"}


@pytest.mark.parametrize("formula", UNREAD)
def test_what_no_sheet_was_found_for_counts_as_unknown(formula: str) -> None:
    species = _plain(formula)
    assert species not in BY_SUBSTANCE
    assert channels.tier_of(species) == (None, (), ())
    assert channels.tier_of(species, strength=0.01) == (None, (), ())


@pytest.mark.parametrize(
    ("formula", "strength", "tier", "present", "absent"),
    [
        ("KOH", 0.45, 3, "H314", "H315"),
        ("KOH", 0.01, 3, "H319", "H314"),
        ("HClO4", 0.70, 10, "H271", "H272"),
        ("HClO4", 0.05, 3, "H315", "H314"),
        ("NiSO4", 0.005, 30, "H373", "H372"),
        ("CH3OH", 1.0, 10, "H370", "H226"),
        ("CH3OH", 0.05, 3, "H226", "H370"),
        ("CH2O", 0.37, 30, "H314", "H332"),
        ("N2H4", 0.05, 30, "H319", "H314"),
    ],
)
def test_a_specific_limit_changes_what_a_solution_is(
    formula: str, strength: float, tier: int, present: str, absent: str
) -> None:
    found, codes, _ = channels.tier_of(_plain(formula), strength=strength)
    assert found == tier
    assert present in codes
    assert absent not in codes


@pytest.mark.parametrize("formula", ["H2O2", "HNO3", "H2SO4", "HCl", "H3PO4", "CH3COOH", "NaOH"])
def test_the_lowest_strengths_of_an_acid_or_a_base_have_their_own_row(formula: str) -> None:
    assert channels.tier_of(_plain(formula), strength=0.001)[:2] == (0, ("none",))
    for percent in range(101):
        assert channels.tier_of(_plain(formula), strength=percent / 100)[0] is not None, percent


def test_a_strength_that_no_row_speaks_of_is_unknown_and_not_harmless() -> None:
    row = {"substance": "xenon trioxide", "formula": "XeO3", "cas": "13776-58-4", "code": "H314"}
    own = {**row, "conditions": "w>=0.10", "source": "clp_annex6", "confidence": "low", "chosen": 1}
    tables = shipped().with_rows(hazards=[own])
    species = _plain("XeO3")
    assert channels.tier_of(species, tables, strength=0.2)[:2] == (3, ("H314",))
    assert channels.tier_of(species, tables, strength=0.05) == (None, (), ())


def test_every_oxidant_and_every_reduced_form_with_a_bottle_is_classified() -> None:
    for oxidant in shipped().oxidants.values():
        if oxidant.kind != "electricity":
            assert BY_SUBSTANCE[_plain(oxidant.formula)], oxidant.key


@pytest.mark.parametrize(
    "salt",
    [
        "K2SO4",
        "Na2SO4",
        "NaCl",
        "KCl",
        "MnSO4",
        "Cr2(SO4)3",
        "FeSO4",
        "Fe2(SO4)3",
        "CuSO4",
        "KIO3",
        "Ce2(SO4)3",
        "NaClO2",
        "MnO2",
        "NaOH",
        "H2",
        "NO",
        "NO2",
        "Br2",
        "BrCl",
        "I2",
        "(CH3)2CO",
        "C3H3N3O3",
        "CH3COOH",
        "KHSO4",
        "NaBr",
        "NaI",
        "KI",
        "NaCN",
        "NaOCN",
        "Na2S",
        "S",
        "Fe(OH)3",
        "H3BO3",
        "CaCl2",
        "CaSO4",
        "PbSO4",
        "AgNO3",
        "Pb(NO3)2",
        "PbCl2",
        "CuCl",
        "ZnSO4",
        "ZnCl2",
        "NiSO4",
        "CoCl2",
        "SnCl4",
        "AlCl3",
        "HgCl2",
        "H3AsO4",
        "KClO4",
        "NH4NO3",
        "NaN3",
        "CH2O",
    ],
)
def test_what_routes_leave_behind_is_classified(salt: str) -> None:
    assert BY_SUBSTANCE[_plain(salt)]


def test_peroxide_gets_milder_with_dilution() -> None:
    rows = BY_SUBSTANCE[_plain("H2O2")]

    def holds(row: HazardRow, w: float) -> bool:
        found = re.match(r"^(?:(0\.\d+)<=)?w(?:(>=|<)(0\.\d+))?$", row.conditions)
        if not found:
            return False
        low = float(found.group(1)) if found.group(1) else 0.0
        sign, bound = found.group(2), found.group(3)
        if sign == ">=":
            return w >= float(bound)
        return low <= w < (float(bound) if bound else 1.0)

    at = {w: {r.code for r in rows if holds(r, w)} for w in (0.03, 0.06, 0.30, 0.60, 0.90)}
    assert at[0.03] == {"none"}
    assert at[0.06] == {"H319"}
    assert {"H302", "H318", "H332"} <= at[0.30]
    assert "H271" not in at[0.30]
    assert "H314" not in at[0.30]
    assert "H314" in at[0.60]
    assert "H271" not in at[0.60]
    assert "H271" in at[0.90]


def test_dichromate_is_a_carcinogen_a_mutagen_and_a_reproductive_poison() -> None:
    codes = {row.code for row in BY_SUBSTANCE[_plain("K2Cr2O7")]}
    assert {"H350", "H340", "H360FD"} <= codes
