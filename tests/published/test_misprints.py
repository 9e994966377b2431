"""Misprints and impossible equations found in print: redoxlib says so, and by how much."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.errors import ImpossibleError
from redoxlib.stoichiometry import balance, check

from ._read import counts, ids, jsonl, left_over

ROWS = jsonl("misprints.jsonl")
UNBALANCED = [row for row in ROWS if row["verdict"] == "unbalanced"]
IMPOSSIBLE = [row for row in ROWS if row["verdict"] == "impossible"]
SUSPECT = [row for row in ROWS if row["verdict"] == "suspect"]
MENDABLE = [row for row in IMPOSSIBLE if row["meant"]]
MEANT = [row for row in ROWS if row["meant"]]


def sides(canonical: str) -> list[list[tuple[int, str]]]:
    read = []
    for half in canonical.split(" -> "):
        terms = [term.rpartition(" ") for term in half.split(" + ")]
        read.append([(int(number or 1), formula) for number, _, formula in terms])
    return read


def test_every_row_is_judged() -> None:
    assert len(ROWS) >= 15
    assert len(UNBALANCED) + len(IMPOSSIBLE) + len(SUSPECT) == len(ROWS)
    assert all(row["source"] for row in ROWS)


@pytest.mark.parametrize("row", UNBALANCED, ids=ids(UNBALANCED))
def test_the_misprint_is_off_by_what_it_is_off_by(row: dict[str, Any]) -> None:
    assert left_over(*sides(row["stands"])) == row["residual"]
    verdict = check(row["text"])
    assert not verdict.balanced
    assert dict(verdict.residual) == row["residual"]


@pytest.mark.parametrize("row", SUSPECT, ids=ids(SUSPECT))
def test_a_doubtful_print_is_not_passed_in_silence(row: dict[str, Any]) -> None:
    verdict = check(row["text"])
    assert not verdict.balanced or verdict.remarks


@pytest.mark.parametrize("row", IMPOSSIBLE, ids=ids(IMPOSSIBLE))
def test_the_impossible_is_refused_with_a_reason_and_a_certificate(row: dict[str, Any]) -> None:
    with pytest.raises(ImpossibleError) as caught:
        balance(row["text"])
    assert caught.value.reason
    weights = caught.value.certificate
    assert weights is not None
    left, right = sides(row["stands"])
    # weighted so, no reactant and no product helps to even out what another one brings
    sums = [
        sign * sum(weights.get(atom, 0) * number for atom, number in counts(formula).items())
        for terms, sign in ((left, 1), (right, -1))
        for _, formula in terms
    ]
    assert any(sums)
    assert all(total >= 0 for total in sums) or all(total <= 0 for total in sums)


@pytest.mark.parametrize("row", MENDABLE, ids=ids(MENDABLE))
def test_the_impossible_comes_with_a_repair(row: dict[str, Any]) -> None:
    with pytest.raises(ImpossibleError) as caught:
        balance(row["text"])
    assert caught.value.repairs


@pytest.mark.parametrize("row", MEANT, ids=ids(MEANT))
def test_what_was_meant_does_balance(row: dict[str, Any]) -> None:
    assert left_over(*sides(row["meant"])) == {}
    assert check(row["meant"]).balanced
