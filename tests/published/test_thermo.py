"""Enthalpies, Gibbs energies, entropies, constants and potentials against published ones.

``independence`` of a row in reactions.csv: *measured* is an experiment on the reaction itself (heat of
combustion or solution, vapour pressure, constant), *compiled* another compilation, *table* the same
compilation that redoxlib draws on, so that it tests the arithmetic and nothing more.
"""

from __future__ import annotations

import pytest

from redoxlib import thermo
from redoxlib.quantity import FARADAY

from ._read import ids, table

REACTIONS = table("reactions.csv")
COUPLES = table("potentials.csv")
AGREEING = [row for row in COUPLES if row["agrees"] == "yes" and not row["id"].startswith("H5IO6")]

# Couples whose published potential and whose energies of formation do not meet, and why.  Rows that
# come to agree must leave this list.
KNOWN_CONFLICTS = {
    "ClO3-HClO2-acid": "chlorate's and chlorous acid's Gibbs energies are unsettled by 5 kJ/mol",
    "ClO2-aq-ClO2-any": "dfG of ClO2(aq) and ClO2-(aq) in the NBS tables give 1.07 V, electrodes 0.94 V",
    "ClO4-ClO3-acid": "chlorate's Gibbs energy is unsettled",
    "ClO3-ClO2-base": "chlorate's and chlorite's Gibbs energies are unsettled",
    "ClO4-ClO3-base-base": "chlorate's Gibbs energy is unsettled",
    "Co3-Co2-acid": "the printed 1.808 V is an older value; newer tables give 1.92 V",
    "S2O8-2-SO4-2-any": "the Gibbs energy of peroxodisulfate is unsettled by more than 5 kJ/mol",
    "HNO2-NO-acid": "the Gibbs energies of HNO2(aq) and NO(g) come from different compilations",
}


def test_there_are_enough_rows_and_most_are_independent() -> None:
    assert len(REACTIONS) >= 40
    assert len(COUPLES) >= 40
    assert sum(row["independence"] == "table" for row in REACTIONS) < len(REACTIONS) / 4
    assert all(row["source"] for row in REACTIONS + COUPLES)


@pytest.mark.parametrize("row", REACTIONS, ids=ids(REACTIONS))
def test_a_published_reaction_quantity(row: dict[str, str]) -> None:
    published = pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
    if row["quantity"] == "log10 K":
        assert thermo.equilibrium_constant(row["equation"]).log10 == published
        return
    verb = {"enthalpy": thermo.enthalpy, "gibbs": thermo.gibbs, "entropy": thermo.entropy}[row["quantity"]]
    found = verb(row["equation"])
    assert found.unit == row["unit"]
    assert found.value == published


@pytest.mark.parametrize("row", COUPLES, ids=ids(COUPLES))
def test_a_published_potential(row: dict[str, str]) -> None:
    """Rows marked as not agreeing are misprints or superseded values: they must go on disagreeing."""
    found = thermo.potential(row["half_reaction"])
    assert found.unit == "V"
    agrees = found.value == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
    assert agrees == (row["agrees"] == "yes"), f"{found.value:.4f} V from {found.sources}"


@pytest.mark.parametrize("row", AGREEING, ids=ids(AGREEING))
def test_energies_of_formation_give_the_published_potential(row: dict[str, str]) -> None:
    """The couple's own row plays no part here: E = -dG / nF from the species' Gibbs energies."""
    electrons = thermo.potential(row["half_reaction"]).electrons
    volts = -1000 * thermo.gibbs(row["half_reaction"]).value / (electrons * FARADAY.value)
    agrees = volts == pytest.approx(float(row["value"]), abs=max(0.03, float(row["tolerance"])))
    couple = row["id"].rpartition("-")[0]
    assert agrees or couple in KNOWN_CONFLICTS, f"{volts:.4f} V"


@pytest.mark.parametrize("couple", sorted(KNOWN_CONFLICTS))
def test_a_known_conflict_is_still_one(couple: str) -> None:
    rows = [row for row in AGREEING if row["id"].rpartition("-")[0] == couple]
    assert rows
    off = []
    for row in rows:
        electrons = thermo.potential(row["half_reaction"]).electrons
        volts = -1000 * thermo.gibbs(row["half_reaction"]).value / (electrons * FARADAY.value)
        off.append(volts != pytest.approx(float(row["value"]), abs=max(0.03, float(row["tolerance"]))))
    assert any(off), "healed: take it off the list"


def test_a_worked_nernst_example() -> None:
    """OpenStax Chemistry 2e, section 17.4: Al | Al3+ (0.15 M) || Cu2+ (0.025 M) | Cu gives 1.97 V.

    Six electrons pass and the quotient printed is 1440; 0.337 V for copper makes the book's 1.999 V.
    """
    cell = thermo.potential(
        "2 Al(s) + 3 Cu^2+(aq) -> 2 Al^3+(aq) + 3 Cu(s)",
        activities={"Al^3+(aq)": 0.15, "Cu^2+(aq)": 0.025},
    )
    assert cell.electrons == 6
    assert cell.value == pytest.approx(1.97, abs=0.02)


def test_the_tin_and_copper_cell_of_the_textbook() -> None:
    """OpenStax Chemistry 2e, section 17.4: E = 0.291 V and K = 6.8e9, from -0.140 V and 0.153 V (rounded)."""
    cell = "Sn(s) + 2 Cu^2+(aq) -> Sn^2+(aq) + 2 Cu^+(aq)"
    assert thermo.potential(cell).value == pytest.approx(0.291, abs=0.015)
    assert thermo.equilibrium_constant(cell).log10 == pytest.approx(9.83, abs=0.5)
