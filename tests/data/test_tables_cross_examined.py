"""The tables against each other: potentials, Gibbs energies, enthalpies, entropies.

A value and the value it is held against come from different works, or the comparison is left out.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from redoxlib.data import Couple, FormationRow, shipped
from redoxlib.notation import Equation, Species
from redoxlib.quantity import FARADAY as FARADAY_CONSTANT

FARADAY = FARADAY_CONSTANT.value  # C/mol
KELVIN = 298.15
MARGIN_V = 0.010  # handbook potentials of one couple commonly differ by this much
MARGIN_KJ = 0.35  # three values rounded to 0.1, and the older element entropies of some sources
MARGIN_SLOPE = 0.006  # mV/K; entropies rounded to 0.1 J/(mol K)
NOT_AN_ORIGIN = {"memory", "computed", "reference_state"}

KNOWN_CONFLICTS = {
    # couple: (chosen E0 in V, its source, E0 in V from the Gibbs energies, their source)
    "ClO2(aq)/ClO2-": (0.935, "armstrong2015", 1.067, "nbs1982"),
    "Ce4+/Ce3+": (1.72, "crc_potentials", 1.743, "crc_ions"),
    "S2O8^2-/SO4^2-": (2.01, "crc_potentials", 1.939, "crc_ions"),
    "S2O8^2-/HSO4-": (2.123, "crc_potentials", 2.057, "crc_ions"),
    "HNO2/NO": (0.983, "crc_potentials", 1.025, "nbs1982"),
    "NO3-/NO2-(base)": (0.01, "crc_potentials", -0.009, "crc_ions"),
    "Ni2+/Ni": (-0.257, "crc_potentials", -0.236, "crc_ions"),
    "Fe2+/Fe": (-0.447, "crc_potentials", -0.409, "crc_ions"),
}
"""Published values that disagree by more than they admit; docs/data.md says why each is kept."""

KNOWN_GAPS = {
    "BrO^-(aq)", "CH3CHO(l)", "CH3COOH(l)", "CS2(g)", "ClO^-(aq)", "Co3O4(s)", "Co^3+(aq)", "Fe(OH)2(s)",
    "FeSO4(s)", "H2C2O4(aq)", "K2CO3(s)", "K2SO4(s)", "KHCO3(s)", "KI(s)", "KIO4(s)",
    "KMnO4(s)", "KNO2(s)", "MnO4^2-(aq)", "MnOH^+(aq)", "N2O3(g)", "Na2CO3(s)", "Na2SO4(s)", "NaHCO3(s)",
    "NaI(s)", "V^3+(aq)",
}  # fmt: skip
"""Species whose three values do not close as their source prints them."""

KNOWN_SLOPES = {"HBrO/Br2(l)"}
"""Printed temperature coefficients that the entropies do not give."""


@cache
def net(text: str) -> dict[str, float]:
    """Products minus reactants by species text, electrons left out."""
    equation = Equation.parse(text)
    keys = shipped().formation_keys
    count: Counter[str] = Counter()
    for sign, side in ((1, equation.products), (-1, equation.reactants)):
        for number, species in side:
            if species.elements:
                count[keys.get(species, str(species))] += sign * float(number)  # type: ignore[assignment]
    return dict(count)


def chosen(species: str, name: str) -> FormationRow | None:
    rows = shipped().formation.get(species, {}).get(name)
    return rows[0] if rows else None


def energies(couple: Couple) -> dict[str, FormationRow] | None:
    """Gibbs energies of all species, or None where one is missing or shares the couple's origin."""
    found = {species: chosen(species, "dfG") for species in net(couple.half_reaction)}
    if not all(found.values()) or all(row.quantity != "E0" for row in couple.rows):
        return None
    origin = set(couple.row().sources) - NOT_AN_ORIGIN
    if not origin:
        return None
    rows = {species: row for species, row in found.items() if row is not None}
    return None if any(origin & set(row.sources) for row in rows.values()) else rows


COMPARED = [key for key, couple in shipped().couples.items() if energies(couple)]


@pytest.mark.parametrize("key", COMPARED)
def test_potential_agrees_with_gibbs_energies(key: str) -> None:
    couple = shipped().couples[key]
    rows = energies(couple)
    assert rows is not None
    change = net(couple.half_reaction)
    per_volt = couple.electrons * FARADAY / 1000
    computed = -sum(number * rows[species].value for species, number in change.items()) / per_volt
    doubt = sum(abs(number) * (rows[species].uncertainty or 0) for species, number in change.items())
    row = couple.row()
    agrees = abs(row.value - computed) <= (row.uncertainty or 0) + doubt / per_volt + MARGIN_V
    assert agrees != (key in KNOWN_CONFLICTS), f"{row.value} V tabulated, {computed:.4f} V from dfG"


def test_enough_couples_are_compared() -> None:
    assert len(COMPARED) >= 100


def test_known_conflicts_are_few_cited_and_current() -> None:
    assert len(KNOWN_CONFLICTS) <= 8
    assert set(KNOWN_CONFLICTS) <= set(COMPARED)
    for key, (tabulated, source, computed, other) in KNOWN_CONFLICTS.items():
        couple = shipped().couples[key]
        rows = energies(couple)
        assert rows is not None
        dG = sum(number * rows[species].value for species, number in net(couple.half_reaction).items())
        assert couple.row().value == tabulated
        assert source in couple.row().sources
        assert -dG / (couple.electrons * FARADAY / 1000) == pytest.approx(computed, abs=6e-4)
        assert any(other in row.sources for row in rows.values())


def test_the_page_lists_the_known_conflicts_and_no_others() -> None:
    page = (Path(__file__).parents[2] / "docs" / "data.md").read_text(encoding="utf-8")
    words = {8: "Eight", 7: "Seven", 6: "Six", 5: "Five", 4: "Four"}
    assert f"{words[len(KNOWN_CONFLICTS)]} couples fail" in page
    table = page.split("| from Gibbs energies, V |")[1].split("\n\n")[0]
    told = Counter(re.findall(r"^\|[^|]+\| (-?[\d.]+) \| (-?[\d.]+) \|", table, re.M))
    assert told == Counter((f"{row[0]:g}", f"{row[2]:.3f}") for row in KNOWN_CONFLICTS.values())


@pytest.mark.parametrize("key", list(shipped().couples))
def test_half_reaction_balances_and_counts_its_electrons(key: str) -> None:
    couple = shipped().couples[key]
    equation = Equation.parse(couple.half_reaction)
    assert {name: left for name, left in equation.residual().items() if left} == {}
    electrons = [number for number, species in equation.reactants if not species.elements]
    assert electrons == [couple.electrons]


ENTROPY_OF = {
    element: (species, number)
    for species, number, element in [
        ("H2(g)", 2, "H"), ("O2(g)", 2, "O"), ("N2(g)", 2, "N"), ("F2(g)", 2, "F"), ("Cl2(g)", 2, "Cl"),
        ("Br2(l)", 2, "Br"), ("I2(s)", 2, "I"), ("S(s)", 1, "S"), ("C(s)", 1, "C"), ("P(s)", 1, "P"),
        ("B(s)", 1, "B"), ("As(s)", 1, "As"), ("Li(s)", 1, "Li"), ("Na(s)", 1, "Na"), ("K(s)", 1, "K"),
        ("Mg(s)", 1, "Mg"), ("Ca(s)", 1, "Ca"), ("Ba(s)", 1, "Ba"), ("Al(s)", 1, "Al"), ("Sn(s)", 1, "Sn"),
        ("Pb(s)", 1, "Pb"), ("V(s)", 1, "V"), ("Cr(s)", 1, "Cr"), ("Mn(s)", 1, "Mn"), ("Fe(s)", 1, "Fe"),
        ("Co(s)", 1, "Co"), ("Ni(s)", 1, "Ni"), ("Cu(s)", 1, "Cu"), ("Ag(s)", 1, "Ag"), ("Zn(s)", 1, "Zn"),
        ("Cd(s)", 1, "Cd"), ("Ce(s)", 1, "Ce"),
    ]
}  # fmt: skip


def entropy_of_elements(species: Species) -> float:
    """Entropy of the elements a species forms from, H+ and half H2 taking the charge."""
    total = 0.0
    parts = {**species.elements}
    parts["H"] = parts.get("H", 0) - species.charge
    for element, number in parts.items():
        form, atoms = ENTROPY_OF[element]
        row = chosen(form, "S")
        assert row is not None
        total += float(number) * row.value / atoms
    return total


FULL = [
    species
    for species, properties in shipped().formation.items()
    if {"dfH", "dfG", "S"} <= set(properties) and species != "H^+(aq)"
]


@pytest.mark.parametrize("text", FULL)
def test_gibbs_energy_is_enthalpy_less_entropy(text: str) -> None:
    h, g, s = (shipped().formation[text][name][0] for name in ("dfH", "dfG", "S"))
    rest = abs(g.value - (h.value - KELVIN * (s.value - entropy_of_elements(Species.parse(text))) / 1000))
    assert (rest <= MARGIN_KJ) != (text in KNOWN_GAPS), f"dfG and dfH - T dfS differ by {rest:.2f} kJ/mol"
    assert rest <= max(g.uncertainty or 0, MARGIN_KJ) + 0.01, "the gap must be within the uncertainty given"


@pytest.mark.parametrize("form", sorted({form for form, _ in ENTROPY_OF.values()}))
def test_reference_elements_are_zero_by_definition(form: str) -> None:
    for name in ("dfH", "dfG"):
        row = chosen(form, name)
        assert row is not None
        assert (row.value, row.uncertainty, row.basis) == (0.0, 0.0, "definition")


SLOPES = [key for key, couple in shipped().couples.items() if any(r.quantity == "dEdT" for r in couple.rows)]


@pytest.mark.parametrize("key", SLOPES)
def test_temperature_coefficient_agrees_with_entropies(key: str) -> None:
    """Coefficients were printed for the whole cell against the hydrogen electrode at the same temperature."""
    couple = shipped().couples[key]
    row = couple.row("dEdT")
    hydrogen = chosen("H2(g)", "S")
    assert hydrogen is not None
    change = -couple.electrons * hydrogen.value / 2
    for species, number in net(couple.half_reaction).items():
        entropy = chosen(species, "S")
        assert entropy is not None
        change += number * entropy.value
    computed = change / (couple.electrons * FARADAY) * 1000
    assert (abs(row.value - computed) <= MARGIN_SLOPE) != (key in KNOWN_SLOPES), f"{computed:.4f} mV/K"


def test_enough_temperature_coefficients_are_compared() -> None:
    assert len(SLOPES) >= 25
