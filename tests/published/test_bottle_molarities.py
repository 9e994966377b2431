"""Moles in a litre of what stands on the shelf, against handbook tables of concentrated reagents."""

from __future__ import annotations

import pytest

from redoxlib.bottles import read_bottle
from redoxlib.quantity import Quantity

from ._read import ids, table

ROWS = table("bottle_molarities.csv")


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_molarity_of_a_labelled_bottle(row: dict[str, str]) -> None:
    molarity = read_bottle(row["label"]).molarity
    assert isinstance(molarity, Quantity)
    assert molarity.unit == row["unit"]
    assert molarity.value == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
