"""Molar masses against sums of the abridged IUPAC weights of 2021 and against a handbook."""

from __future__ import annotations

import pytest

from redoxlib.notation import Species

from ._read import counts, table

ROWS = table("molar_masses.csv")
WEIGHTS = {row["element"]: row for row in table("atomic_weights.csv")}


def test_there_are_twenty_species() -> None:
    assert len(ROWS) >= 20


@pytest.mark.parametrize("row", ROWS, ids=[row["formula"] for row in ROWS])
def test_molar_mass_is_the_sum_of_the_abridged_weights(row: dict[str, str]) -> None:
    atoms = counts(row["formula"])
    by_hand = sum(number * float(WEIGHTS[symbol]["weight"]) for symbol, number in atoms.items())
    rounding = sum(number * float(WEIGHTS[symbol]["uncertainty"]) for symbol, number in atoms.items())
    assert Species.parse(row["formula"]).molar_mass == pytest.approx(by_hand, abs=rounding)


@pytest.mark.parametrize("row", ROWS, ids=[row["formula"] for row in ROWS])
def test_molar_mass_is_the_handbook_one(row: dict[str, str]) -> None:
    assert Species.parse(row["formula"]).molar_mass == pytest.approx(
        float(row["value"]), abs=float(row["tolerance"])
    )
