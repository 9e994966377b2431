"""Oxidation numbers as the IUPAC recommendations of 2016 and the textbooks give them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.stoichiometry import oxidation_numbers

from ._read import counts, ids, table

ROWS = table("oxidation_numbers.csv")
SITED = [row for row in ROWS if row["sites"]]


def test_there_are_enough_rows_each_with_a_source() -> None:
    assert len(ROWS) >= 60
    assert all(row["source"] and row["basis"] in {"read", "memory"} for row in ROWS)


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_the_average_number_is_the_published_one(row: dict[str, str]) -> None:
    assert oxidation_numbers(row["formula"]).average[row["element"]] == Fraction(row["average"])


@pytest.mark.parametrize("row", SITED, ids=ids(SITED))
def test_atoms_of_one_element_in_different_places_are_told_apart(row: dict[str, str]) -> None:
    wanted = {}
    for site in row["sites"].split(";"):
        number, count = site.split(":")
        wanted[Fraction(number)] = int(count)
    found = {Fraction(site.number): site.count for site in oxidation_numbers(row["formula"])[row["element"]]}
    assert found == wanted


@pytest.mark.parametrize("formula", sorted({row["formula"] for row in ROWS}))
def test_the_numbers_of_all_atoms_add_up_to_the_charge(formula: str) -> None:
    numbers = oxidation_numbers(formula)
    atoms = counts(formula)
    charge = atoms.pop("charge", 0)
    assert set(numbers) == set(atoms)
    assert sum(numbers.average[symbol] * atoms[symbol] for symbol in atoms) == charge
