"""What water works, laboratories and industry prefer, for one job, stands higher in redoxlib's order.

Rows whose ``independence`` is *shared* come from papers that the kinetic notes of redoxlib also cite: they
show that the notes reach the ranking, and are no second opinion; *none* is practice without printed source.
``basis`` is *read* where the words were read for the row, *memory* where they were not.  A row with a
``miss`` is one that redoxlib gets wrong, with the reason; it fails here as soon as it is got right.
"""

from __future__ import annotations

import json
from functools import cache

import pytest

from redoxlib.compare import Comparison, Refusal, Setback, compare

from ._read import table

ROWS = table("preferences.csv")


@cache
def compared(conversions: str, fields: str) -> Comparison:
    texts = conversions.split("; ")
    amounts: str | list[str] = texts[0] if len(texts) == 1 else texts
    return compare(amounts, **json.loads(fields))


def test_there_are_enough_preferences_for_enough_jobs() -> None:
    read = [row for row in ROWS if (row["independence"], row["basis"]) == ("independent", "read")]
    assert len(read) >= 25
    assert len({row["conversions"] for row in read}) >= 7
    assert len({row["source"] for row in read}) >= 8
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["source"] and row["better"] != row["worse"] for row in ROWS)


def test_misses_are_few() -> None:
    assert sum(bool(row["miss"]) for row in ROWS) <= len(ROWS) // 10


PARAMETERS = [
    pytest.param(
        row,
        id=row["id"],
        marks=[pytest.mark.xfail(strict=True, reason=row["miss"], raises=AssertionError)]
        if row["miss"]
        else [],
    )
    for row in ROWS
]


@pytest.mark.parametrize("row", PARAMETERS)
def test_the_preferred_oxidant_stands_above_the_other(row: dict[str, str]) -> None:
    """The preferred one is ranked; the other comes later or has dropped out of the ranking."""
    comparison = compared(row["conversions"], row["fields"])
    order = [route.oxidant.key for route in comparison.routes]
    assert row["better"] in order, f"{row['better']} is not ranked: {order}"
    if row["worse"] in order:
        better, worse = comparison.place(row["better"]), comparison.place(row["worse"])
        assert better is not None
        assert worse is not None
        assert better < worse, f"{order}"
    else:
        dropped: list[Refusal | Setback] = [*comparison.refused, *comparison.infeasible]
        dropped += [*comparison.inert, *comparison.undecided]
        assert row["worse"] in [setback.oxidant.key for setback in dropped]


def alcohol(oxidant: str, *, medium: float | str) -> tuple[float, float]:
    """Weighted by-products [g per mol] and atom economy [1] of propan-2-ol to acetone."""
    route = compare("(CH3)2CHOH -> (CH3)2CO", medium=medium).route(oxidant)
    assert route.by_products is not None
    assert route.mass_efficiency is not None
    assert route.mass_efficiency.atom_economy is not None
    return route.by_products.weighted, route.mass_efficiency.atom_economy


def test_bleach_and_vinegar_beat_chromic_acid_each_in_its_own_medium() -> None:
    """Mohrig and others, J. Chem. Educ. 62, 519 (1985): salt water instead of chromium waste.

    Side by side in one medium the two never meet: bleach is stopped in mineral acid, dichromate needs it.
    """
    bleach, chromic = alcohol("NaOCl", medium=5.0), alcohol("K2Cr2O7", medium="acid")
    assert bleach[0] < chromic[0]
    assert bleach[1] > chromic[1]


def test_atom_economy_of_both_routes_is_that_of_the_printed_equations() -> None:
    """C3H8O + NaClO, and 3 C3H8O + K2Cr2O7 + 4 H2SO4: 58.08/134.54 and 174.24/866.8, by hand."""
    bleach, chromic = alcohol("NaOCl", medium=5.0), alcohol("K2Cr2O7", medium="acid")
    assert bleach[1] == pytest.approx(0.4317, abs=0.0005)
    assert chromic[1] == pytest.approx(0.2010, abs=0.0005)
