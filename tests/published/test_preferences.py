"""What water works, laboratories and industry prefer, for one job, stands higher in redoxlib's order."""

from __future__ import annotations

import json
from functools import cache

import pytest

from redoxlib.compare import Comparison, Refusal, Setback, compare

from ._read import ids, table

ROWS = table("preferences.csv")


@cache
def compared(conversions: str, fields: str) -> Comparison:
    texts = conversions.split("; ")
    amounts: str | list[str] = texts[0] if len(texts) == 1 else texts
    return compare(amounts, **json.loads(fields))


def test_there_are_enough_preferences_for_enough_jobs() -> None:
    assert len(ROWS) >= 8
    assert len({row["conversions"] for row in ROWS}) >= 6
    assert all(row["source"] and row["better"] != row["worse"] for row in ROWS)


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
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
