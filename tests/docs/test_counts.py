"""The numbers that docs/data.md counts are those of the tables."""

from __future__ import annotations

import pytest

from redoxlib.data import shipped

from . import counts

TEXT = counts.PAGE.read_text(encoding="utf-8")


def test_the_page_counts_as_the_tables_do() -> None:
    """Write them anew with ``python -m tests.docs.counts``."""
    assert counts.written(TEXT) == TEXT


def test_a_stale_number_is_seen_and_mended() -> None:
    count = str(sum(row.chosen for group in shipped().hazards.values() for row in group))
    stale = TEXT.replace(f"Of {count} statements", "Of 1 statements")
    assert stale != TEXT
    assert counts.written(stale) == TEXT


def test_a_sentence_that_went_missing_is_an_error() -> None:
    with pytest.raises(LookupError, match="exposure limits"):
        counts.written(TEXT.replace("exposure limits are recalled", "limits are recalled"))


def test_what_the_page_names_as_recalled_is_what_is_recalled() -> None:
    recalled = {row.key for row in shipped().oxidants.values() if row.source == "memory"}
    assert recalled == set()
