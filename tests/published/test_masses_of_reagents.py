"""Atom economy, oxidant demand, available chlorine and active oxygen, all from balanced equations."""

from __future__ import annotations

import pytest

from ._balanced import amount, grams, solved
from ._read import ids, table

ECONOMY = table("atom_economy.csv")
DEMAND = table("oxidant_demand.csv")
CHLORINE = table("available_chlorine.csv")
OXYGEN = table("active_oxygen.csv")


@pytest.mark.parametrize("row", ECONOMY, ids=ids(ECONOMY))
def test_atom_economy_is_the_published_one(row: dict[str, str]) -> None:
    equation = solved(row["skeleton"])
    charged = sum(float(number) * species.molar_mass for number, species in equation.reactants)
    economy = 100 * float(amount(equation, row["product"])) * grams(row["product"]) / charged
    assert economy == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", DEMAND, ids=ids(DEMAND))
def test_mass_of_oxidant_per_mass_of_reductant(row: dict[str, str]) -> None:
    """Rows marked as not agreeing are design rules or misprints: they must go on disagreeing."""
    equation = solved(row["equation"])
    oxidant = float(amount(equation, row["oxidant"])) * grams(row["weighed_as"])
    reductant = float(amount(equation, row["reductant"])) * grams(row["counted_as"])
    within = float(row["tolerance_percent"]) / 100
    agrees = oxidant / reductant == pytest.approx(float(row["value"]), rel=within)
    assert agrees == (row["agrees"] == "yes"), f"{oxidant / reductant:.4f} from {equation}"


@pytest.mark.parametrize("row", CHLORINE, ids=ids(CHLORINE))
def test_available_chlorine_counts_the_iodine_set_free(row: dict[str, str]) -> None:
    """One I2 stands for one Cl2: that is what an iodometric strength means."""
    equation = solved(row["equation"])
    iodine = float(amount(equation, "I2") / amount(equation, row["formula"]))
    percent = 100 * iodine * grams("Cl2") / grams(row["formula"])
    assert percent == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", OXYGEN, ids=ids(OXYGEN))
def test_active_oxygen_counts_the_oxygen_set_free(row: dict[str, str]) -> None:
    equation = solved(row["equation"])
    oxygen = float(amount(equation, "O2") / amount(equation, row["formula"]))
    percent = 100 * oxygen * grams("O2") / grams(row["formula"])
    assert percent == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
