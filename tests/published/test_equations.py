"""Published redox equations: the coefficients in print are the ones redoxlib finds.

Rows with ``basis`` "memory" were recalled from the work named, not re-read; all rows are checked
by arithmetic that does not use redoxlib.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from redoxlib import Equation, Species, balance, check, complete

from ._read import ids, jsonl, left_over

ROWS = jsonl("equations.jsonl")
BARE = [row for row in ROWS if row["bare"]]
PRINTED = [row for row in ROWS if row["printed"] == "full"]
SKELETON = [row for row in ROWS if row["printed"] == "skeleton"]
NOT_UNIQUE = [row for row in ROWS if not row["unique"]]

Side = frozenset[tuple[frozenset[tuple[str, int | Fraction]], int, Fraction]]


def side(terms: Any) -> Side:
    """One side as a set of (atoms, charge, coefficient): what an equation says, however it is spelled."""
    found = [(frozenset(of.elements.items()), of.charge, Fraction(number)) for number, of in terms]
    assert len(set(found)) == len(found)
    return frozenset(found)


def published(row: dict[str, Any]) -> tuple[Side, Side]:
    left, right = (
        side([(number, Species.parse(formula)) for number, formula in row[name]])
        for name in ("left", "right")
    )
    return left, right


def found(equation: Equation) -> tuple[Side, Side]:
    reduced = equation.reduced()
    return side(reduced.reactants), side(reduced.products)


def skeleton(row: dict[str, Any]) -> str:
    return " -> ".join(" + ".join(formula for _, formula in row[name]) for name in ("left", "right"))


def test_there_are_enough_equations_of_every_sort() -> None:
    assert len(ROWS) >= 90
    assert len(NOT_UNIQUE) >= 8
    assert {"acid", "base", "neutral"} <= {row["medium"] for row in ROWS}
    assert sum(any("e^-" in term for term in row["left"] + row["right"]) for row in ROWS) >= 5
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert all(row["source"] and row["basis"] in {"read", "memory"} for row in ROWS)


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_the_copied_coefficients_balance(row: dict[str, Any]) -> None:
    assert left_over(row["left"], row["right"]) == {}


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_balancing_the_skeleton_gives_the_published_coefficients(row: dict[str, Any]) -> None:
    answer = balance(skeleton(row))
    assert answer.unique == row["unique"]
    assert answer.dimension == row["dimension"]
    if row["unique"]:
        assert found(answer.equation) == published(row)
    else:
        assert answer.choice is not None
        assert found(answer.choice) == published(row)


@pytest.mark.parametrize("row", BARE, ids=ids(BARE))
def test_completing_the_bare_equation_gives_the_published_one(row: dict[str, Any]) -> None:
    answer = complete(row["bare"], medium=row["medium"])
    assert found(answer.equation) == published(row)


@pytest.mark.parametrize("row", PRINTED, ids=ids(PRINTED))
def test_the_equation_as_printed_is_read_and_found_balanced(row: dict[str, Any]) -> None:
    verdict = check(row["text"])
    assert verdict.residual == {}
    assert verdict.balanced
    assert found(Equation.parse(row["text"])) == published(row)


@pytest.mark.parametrize("row", SKELETON, ids=ids(SKELETON))
def test_the_skeleton_as_printed_is_read_and_solved(row: dict[str, Any]) -> None:
    if row["bare"]:
        answer = complete(row["text"], medium=row["medium"])
    else:
        answer = balance(row["text"])
    equation = answer.equation if answer.unique or row["bare"] else answer.choice
    assert equation is not None
    assert found(equation) == published(row)
