"""Formulas as people paste them: the clear is read without remark, the doubtful is read and says so."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.notation import Species

from ._read import counts, ids, jsonl

ROWS = jsonl("pasted.jsonl")


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_pasted_text_means_what_its_writer_meant(row: dict[str, Any]) -> None:
    species = Species.parse(row["text"])
    atoms = counts(row["means"])
    assert dict(species.elements) == dict(atoms)
    assert species.charge == row["charge"]


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_the_doubtful_is_flagged_and_the_clear_is_not(row: dict[str, Any]) -> None:
    assumptions = Species.parse(row["text"]).assumptions
    if not row["doubtful"]:
        assert assumptions == ()
        return
    assert assumptions
    assert all(one.why for one in assumptions)
    assert any(one.other for one in assumptions)


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_what_was_read_is_written_so_that_it_reads_back(row: dict[str, Any]) -> None:
    species = Species.parse(row["text"])
    again = Species.parse(str(species))
    assert again == species
    assert again.assumptions == ()


def test_electrons_and_rows_are_there() -> None:
    assert len(ROWS) >= 100
    assert sum(row["doubtful"] for row in ROWS) >= 20
    assert all(row["source"] for row in ROWS)
