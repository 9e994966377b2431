"""Clear text is read to the letter and without remark."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.notation import Phase, Species

CLEAR = {
    # ASCII
    "H2O": ({"H": 2, "O": 1}, 0),
    "SO4^2-": ({"S": 1, "O": 4}, -2),
    "Fe^3+": ({"Fe": 1}, 3),
    "Na^+": ({"Na": 1}, 1),
    "[MnO]^4-": ({"Mn": 1, "O": 1}, -4),
    "Cu(OH)": ({"Cu": 1, "O": 1, "H": 1}, 0),
    "Fe4[Fe(CN)6]3": ({"Fe": 7, "C": 18, "N": 18}, 0),
    "CuSO4.5H2O": ({"Cu": 1, "S": 1, "O": 9, "H": 10}, 0),
    "CaSO4.0.5H2O": ({"Ca": 1, "S": 1, "O": Fraction(9, 2), "H": 1}, 0),
    "Fe0.95O": ({"Fe": Fraction(19, 20), "O": 1}, 0),
    "La1.85Sr0.15CuO4": ({"La": Fraction(37, 20), "Sr": Fraction(3, 20), "Cu": 1, "O": 4}, 0),
    "CH2=CH2": ({"C": 2, "H": 4}, 0),
    "CuI": ({"Cu": 1, "I": 1}, 0),
    # charge flattened onto the formula, one reading known
    "SO42-": ({"S": 1, "O": 4}, -2),
    "S2O82-": ({"S": 2, "O": 8}, -2),
    "MnO4-": ({"Mn": 1, "O": 4}, -1),
    "MnO42-": ({"Mn": 1, "O": 4}, -2),
    "Hg22+": ({"Hg": 2}, 2),
    "Hg2+": ({"Hg": 1}, 2),
    "NH4+": ({"N": 1, "H": 4}, 1),
    "Cr3+": ({"Cr": 1}, 3),
    "I3-": ({"I": 3}, -1),
    "Co(NH3)63+": ({"Co": 1, "N": 6, "H": 18}, 3),
    "Ag(S2O3)23-": ({"Ag": 1, "S": 4, "O": 6}, -3),
    "(SO4)2-": ({"S": 1, "O": 4}, -2),
    "[Fe(CN)6]3-": ({"Fe": 1, "C": 6, "N": 6}, -3),
    # other places for the charge
    "Fe+3": ({"Fe": 1}, 3),
    "SO4-2": ({"S": 1, "O": 4}, -2),
    "SO4 -2": ({"S": 1, "O": 4}, -2),
    "SO4 2-": ({"S": 1, "O": 4}, -2),
    "SO4(2-)": ({"S": 1, "O": 4}, -2),
    "Fe(+2)": ({"Fe": 1}, 2),
    "SO4--": ({"S": 1, "O": 4}, -2),
    "SO4^2^-": ({"S": 1, "O": 4}, -2),
    "Fe^2+^": ({"Fe": 1}, 2),
    "MnO 4 -": ({"Mn": 1, "O": 4}, -1),
    "VO 2+": ({"V": 1, "O": 1}, 2),
    # dashes and plus signs
    "SO42−": ({"S": 1, "O": 4}, -2),
    "SO42–": ({"S": 1, "O": 4}, -2),
    "SO42—": ({"S": 1, "O": 4}, -2),
    "SO42‐": ({"S": 1, "O": 4}, -2),
    "SO42¯": ({"S": 1, "O": 4}, -2),
    "Na＋": ({"Na": 1}, 1),
    # scripts
    "SO₄²⁻": ({"S": 1, "O": 4}, -2),
    "SO4²-": ({"S": 1, "O": 4}, -2),
    "SO42⁻": ({"S": 1, "O": 4}, -2),
    "VO2⁺": ({"V": 1, "O": 2}, 1),
    "VO²⁺": ({"V": 1, "O": 1}, 2),
    "N₃⁻": ({"N": 3}, -1),
    "N³⁻": ({"N": 1}, -3),
    "SO<sub>4</sub><sup>2&minus;</sup>": ({"S": 1, "O": 4}, -2),
    # LaTeX, mhchem, AsciiMath, plain-text books
    r"\ce{SO4^2-}": ({"S": 1, "O": 4}, -2),
    r"$\mathrm{SO}_{4}^{2-}$": ({"S": 1, "O": 4}, -2),
    r"\mathrm{SO^{2-}_4}": ({"S": 1, "O": 4}, -2),
    r"\mathrm{S}_2 \mathrm{O}_8{ }^{2-}": ({"S": 2, "O": 8}, -2),
    '"S"_2"O"_3^(2-)': ({"S": 2, "O": 3}, -2),
    "K_{2}Cr_{2}O_{7}": ({"K": 2, "Cr": 2, "O": 7}, 0),
    "MnO_(4)^(Θ)": ({"Mn": 1, "O": 4}, -1),
    "H^(⊕)": ({"H": 1}, 1),
    "Fe+²": ({"Fe": 1}, 2),
    "Fe⁺⁺": ({"Fe": 1}, 2),
    "Fe(0)": ({"Fe": 1}, 0),
    "Fe⁰": ({"Fe": 1}, 0),
    # hydrate dots
    "Na2S2O3•5H2O": ({"Na": 2, "S": 2, "O": 8, "H": 10}, 0),
    "Na2S2O3∙5H2O": ({"Na": 2, "S": 2, "O": 8, "H": 10}, 0),
    "Na2S2O3*5H2O": ({"Na": 2, "S": 2, "O": 8, "H": 10}, 0),
    "Na2S2O3 · 5 H2O": ({"Na": 2, "S": 2, "O": 8, "H": 10}, 0),
    "CaSO4·½H2O": ({"Ca": 1, "S": 1, "O": Fraction(9, 2), "H": 1}, 0),
    "Al2O3·2SiO2": ({"Al": 2, "O": 7, "Si": 2}, 0),
    # loose typesetting and capitals with a single reading
    "Al2(SO4 )3": ({"Al": 2, "S": 3, "O": 12}, 0),
    "Fe (CN)64-": ({"Fe": 1, "C": 6, "N": 6}, -4),
    "kmno4": ({"K": 1, "Mn": 1, "O": 4}, 0),
    "NACL": ({"Na": 1, "Cl": 1}, 0),
    "FE3+": ({"Fe": 1}, 3),
    "CuSo4": ({"Cu": 1, "S": 1, "O": 4}, 0),
    # factors are no part of a species
    "__2 FeSO4": ({"Fe": 1, "S": 1, "O": 4}, 0),
    "½O2": ({"O": 2}, 0),
    "5H2O2": ({"H": 2, "O": 2}, 0),
}


@pytest.mark.parametrize("text", CLEAR)
def test_clear_text_is_read_without_remark(text: str) -> None:
    elements, charge = CLEAR[text]
    species = Species.parse(text)
    assert dict(species.elements) == elements
    assert species.charge == charge
    assert species.assumptions == ()


@pytest.mark.parametrize(
    "text", ["e^-", "e-", "e−", "e–", "e⁻", "e^{-}", r"\mathrm{e}^-", "1e-", "ē", "electron"]
)
def test_the_electron_has_no_atoms(text: str) -> None:
    electron = Species.parse(text)
    assert electron.is_electron
    assert (dict(electron.elements), electron.charge, electron.assumptions) == ({}, -1, ())


PHASES = {
    "Cl2(g)": Phase.GAS,
    "H2O (l)": Phase.LIQUID,
    "H2O(ℓ)": Phase.LIQUID,
    "Br2(liq)": Phase.LIQUID,
    "I2(s).": Phase.SOLID,
    "AgCl↓": Phase.SOLID,
    "AgCl(ppt)": Phase.SOLID,
    "BaSO4 ppt": Phase.SOLID,
    "H2↑": Phase.GAS,
    "O2(g) ↑": Phase.GAS,
    "Cl2(ac)": Phase.AQUEOUS,
    "Cl2(a q)": Phase.AQUEOUS,
    "NaCl(aq.)": Phase.AQUEOUS,
    "Cr2O72-(aq": Phase.AQUEOUS,
    "HNO3 (dil.)": Phase.AQUEOUS,
    "Cl_{2(g)}": Phase.GAS,
    "HNO3(conc)": Phase.UNSTATED,
    "conc. HNO3": Phase.UNSTATED,
    "HNO3 (6 M)": Phase.UNSTATED,
    "KMnO4(in acidic solution)": Phase.UNSTATED,
    "NaCl": Phase.UNSTATED,
    "Conc.HNO3": Phase.UNSTATED,
    "KMnO4 (acidified)": Phase.UNSTATED,
    "Br2 water": Phase.AQUEOUS,
    "H2O(1)": Phase.LIQUID,
}


@pytest.mark.parametrize("text", PHASES)
def test_labels_state_the_phase_or_are_set_aside(text: str) -> None:
    species = Species.parse(text)
    assert species.phase is PHASES[text]
    assert species.assumptions == ()


def test_spelling_alone_is_not_identity() -> None:
    assert Species.parse("H2O2") == Species.parse("HOOH")
    assert hash(Species.parse("H2O2")) == hash(Species.parse("HOOH"))
    assert Species.parse("HOOH").formula == "HOOH"
    assert Species.parse("H2O(l)") != Species.parse("H2O(g)")
    assert Species.parse("Fe^2+") != Species.parse("Fe^3+")


def test_molar_mass_counts_every_atom() -> None:
    assert Species.parse("CuSO4.5H2O").molar_mass == pytest.approx(249.68, abs=0.01)
    assert Species.parse("KMnO4").molar_mass == pytest.approx(158.03, abs=0.01)
