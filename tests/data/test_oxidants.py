"""The oxidants, their reactions by pH, and what their bottles give."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict

import pytest

from redoxlib.data import OxidantReactionRow, shipped
from redoxlib.notation import Equation, Phase, Species

PROMISED = [
    "H2O2",
    "KMnO4",
    "NaOCl",
    "Ca(OCl)2",
    "Cl2",
    "Na2S2O8",
    "KHSO5",
    "K2Cr2O7",
    "NaBrO3",
    "KIO3",
    "NaClO2",
    "NaClO3",
    "ClO2",
    "O3",
    "O2",
    "HNO3",
    "MnO2",
    "Ce4+",
    "Fe3+",
    "TCCA",
    "NaBO3",
    "percarbonate",
    "peracetic",
    "anode",
]
SPECIAL = re.compile(r"^with (bromide|sulfate|concentrated acid)$")

TABLES = shipped()
REACTIONS = tuple(row for group in TABLES.oxidant_reactions.values() for row in group)


def _identifier(row: OxidantReactionRow) -> str:
    return f"{row.oxidant} {row.ph_min:g} to {row.ph_max:g} {row.note[:12]}".strip()


def _plain(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


def _check_digit_fits(cas: str) -> bool:
    digits = cas.replace("-", "")
    return sum(i * int(d) for i, d in enumerate(reversed(digits[:-1]), 1)) % 10 == int(digits[-1])


def test_every_promised_oxidant_is_there() -> None:
    keys = {row.key for row in TABLES.oxidants.values()}
    assert set(PROMISED) <= keys
    assert len(keys) >= 35


def test_every_oxidant_but_the_anode_has_a_formula_a_cas_number_and_a_reaction() -> None:
    reacting = {row.oxidant for row in REACTIONS}
    for row in TABLES.oxidants.values():
        if row.kind == "electricity":
            assert row.key not in reacting
            continue
        assert row.key in reacting
        assert _check_digit_fits(row.cas), f"{row.key}: {row.cas}"
        assert Species.parse(row.formula).charge == 0, row.key


@pytest.mark.parametrize("row", REACTIONS, ids=_identifier)
def test_half_reaction_takes_up_electrons_and_balances(row: OxidantReactionRow) -> None:
    half = Equation.parse(row.half_reaction)
    assert half.residual() == {}
    electron = Species.parse("e^-")
    assert [n for n, s in half.reactants if s == electron and n >= 1], "a reduction has electrons on the left"
    assert not [s for _, s in half.products if s == electron]


@pytest.mark.parametrize("row", REACTIONS, ids=_identifier)
def test_every_species_of_a_half_reaction_has_its_phase(row: OxidantReactionRow) -> None:
    half = Equation.parse(row.half_reaction)
    electron = Species.parse("e^-")
    for _, species in (*half.reactants, *half.products):
        if species == electron:
            continue
        # H^+ and OH^- only ever occur dissolved and are written short.
        if str(_plain(species)) in {"H^+", "OH^-"}:
            continue
        assert species.phase is not Phase.UNSTATED, species


@pytest.mark.parametrize("row", REACTIONS, ids=_identifier)
def test_bottle_gives_the_active_species_in_balance(row: OxidantReactionRow) -> None:
    release = Equation.parse(row.from_bottle)
    assert release.residual() == {}
    active = _plain(Species.parse(row.active))
    half = Equation.parse(row.half_reaction)
    assert active in {_plain(s) for _, s in half.reactants}
    assert active in {_plain(s) for _, s in release.products}
    bottle = Species.parse(TABLES.oxidants[row.oxidant].formula)
    assert _plain(bottle) in {_plain(s) for _, s in release.reactants}
    only = {"H^+", "H2O"}
    assert {str(_plain(s)) for _, s in release.reactants if _plain(s) != _plain(bottle)} <= only


def test_windows_follow_each_other_without_gap_or_overlap() -> None:
    windows: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in REACTIONS:
        if not SPECIAL.match(row.note):
            windows[row.oxidant].append((row.ph_min, row.ph_max))
    for oxidant, spans in windows.items():
        spans.sort()
        assert spans[0][0] == -1, oxidant
        for (_, end), (start, _) in itertools.pairwise(spans):
            assert end == start, f"{oxidant}: {end} to {start}"
        assert all(low < high <= 15 for low, high in spans), oxidant


def test_rows_for_special_circumstances_say_which() -> None:
    tagged = {(row.oxidant, row.note) for row in REACTIONS if row.note.startswith("with ")}
    assert all(SPECIAL.match(note) for _, note in tagged), tagged
    assert ("NaBrO3", "with bromide") in tagged
    assert ("PbO2", "with sulfate") in tagged
    assert ("HNO3", "with concentrated acid") in tagged


@pytest.mark.parametrize(
    ("oxidant", "ph", "active", "made"),
    [
        ("KMnO4", 0, "MnO4^-(aq)", "Mn^2+(aq)"),
        ("KMnO4", 7.5, "MnO4^-(aq)", "MnO2(s)"),
        ("NaOCl", 6, "HClO(aq)", "Cl^-(aq)"),
        ("NaOCl", 11, "ClO^-(aq)", "Cl^-(aq)"),
        ("Cl2", 0, "Cl2(aq)", "Cl^-(aq)"),
        ("K2Cr2O7", 0, "Cr2O7^2-(aq)", "Cr^3+(aq)"),
        ("K2Cr2O7", 12, "CrO4^2-(aq)", "Cr(OH)3(s)"),
        ("ClO2", 7, "ClO2(aq)", "ClO2^-(aq)"),
        ("ClO2", 1, "ClO2(aq)", "Cl^-(aq)"),
        ("Fe3+", 1, "Fe^3+(aq)", "Fe^2+(aq)"),
        ("Fe3+", 8, "Fe(OH)3(s)", "Fe(OH)2(s)"),
        ("H2O2", 13, "HO2^-(aq)", "OH^-(aq)"),
        ("KIO3", 0, "IO3^-(aq)", "I2(s)"),
        ("HNO3", 0, "NO3^-(aq)", "NO(g)"),
        ("peracetic", 3, "CH3COOOH(aq)", "CH3COOH(aq)"),
    ],
)
def test_the_species_that_acts_depends_on_the_ph(oxidant: str, ph: float, active: str, made: str) -> None:
    (row,) = [
        r
        for r in REACTIONS
        if r.oxidant == oxidant and r.ph_min <= ph < r.ph_max and not r.note.startswith("with ")
    ]
    assert row.active == active
    products = {_plain(s) for _, s in Equation.parse(row.half_reaction).products}
    assert _plain(Species.parse(made)) in products


@pytest.mark.parametrize(
    ("oxidant", "ph"), [("Ce4+", 4), ("HNO3", 7), ("I2", 11), ("NaNO2", 7), ("H2SO4", 2)]
)
def test_an_oxidant_has_no_row_where_it_does_not_act(oxidant: str, ph: float) -> None:
    assert not [r for r in REACTIONS if r.oxidant == oxidant and r.ph_min <= ph < r.ph_max]


def test_triple_salt_gives_two_peroxymonosulfate_and_trichlor_three_hypochlorous_acid() -> None:
    def yields(oxidant: str, ph: float) -> int:
        (row,) = [r for r in REACTIONS if r.oxidant == oxidant and r.ph_min <= ph < r.ph_max]
        active = _plain(Species.parse(row.active))
        return sum(int(n) for n, s in Equation.parse(row.from_bottle).products if _plain(s) == active)

    assert yields("KHSO5", 0) == 2
    assert yields("TCCA", 5) == 3
    assert yields("DCCNa", 5) == 2
    assert yields("percarbonate", 10.5) == 3
    assert yields("Ca(OCl)2", 11) == 2


def test_triple_salt_weighs_what_the_supplier_says() -> None:
    grams = Species.parse(TABLES.oxidants["KHSO5"].formula).molar_mass
    assert grams / 2 == pytest.approx(307.4, abs=0.1)
