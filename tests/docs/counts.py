"""Counts what docs/data.md counts, from the tables: ``python -m tests.docs.counts`` writes it anew."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from importlib.resources import files
from pathlib import Path

from redoxlib.data import shipped

PAGE = Path(__file__).parents[2] / "docs" / "data.md"
_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NO_WORK = {"memory", "practice", "computed", "definition"}
_AUTHORITY = {"government", "standard"}
_NO_SHEET = {"memory", "practice", "eu2024_2564", "wiki_names"}
_BOOK = {"handbook", "textbook", "journal", "evaluated", "practice"}


def sentences() -> Mapping[str, Sequence[str]]:
    """The counted sentences of the page, a pair of braces for each number, and the numbers."""
    tables = shipped()
    listed = [row for group in tables.hazards.values() for row in group]
    hazards = [row for row in listed if row.chosen]
    limits = [row for group in tables.limits.values() for row in group]
    rests = Counter(_rests_on(row.source) for row in hazards)
    rows = {name: _rows(name) for name in _names()}
    works = sum(work.kind not in _NO_WORK for work in tables.sources.values())
    sheets = [row for row in tables.oxidants.values() if "chemicals_identifiers" not in row.source]
    return {
        "The tables hold more than {} rows and cite more than {} works.": (
            _grouped(sum(rows.values()) - rows["sources"], 100),
            _grouped(works, 10),
        ),
        "Of {} statements about {} substances, {} rest on a document of an authority, an insurer or the "
        "safety cards, {} on a handbook, a textbook or laboratory practice, {} on supplier sheets alone; "
        "{} are recalled, or rest on an encyclopedia.": (
            str(len(hazards)),
            str(len(tables.hazards)),
            *(str(rests[what]) for what in ("authority", "book", "supplier", "memory")),
        ),
        "{} more are kept and not used (`chosen` 0):": (str(len(listed) - len(hazards)),),
        "except perborate (the regulation), ferrate (an encyclopedia) and {} products (their sheets);": (
            _WORDS[sum(row.source not in _NO_SHEET for row in sheets)],
        ),
        "{} exposure limits are recalled.": (
            _WORDS[sum(_recalled(row.source) for row in limits)].capitalize(),
        ),
        "Of {} rate constants and bounds {} are recalled; of {} verdicts in words {} rest on memory alone "
        "and {} on common practice alone.": (
            str(len(tables.rates)),
            str(sum(_recalled(row.source) for row in tables.rates)),
            str(len(tables.kinetics)),
            str(sum(row.source == "memory" for row in tables.kinetics)),
            str(sum(row.source == "practice" for row in tables.kinetics)),
        ),
    }


def written(page: str) -> str:
    """The page with every counted number as the tables have it.

    Raises
    ------
    LookupError
        If a counted sentence is not on the page, or is there twice.
    """
    for template, numbers in sentences().items():
        found = list(_pattern(template).finditer(page))
        if len(found) != 1:
            raise LookupError(f"on the page {len(found)} times: {template}")
        for group in range(len(numbers), 0, -1):  # from the end, so that the spans before it stay true
            start, end = found[0].span(group)
            page = page[:start] + numbers[group - 1] + page[end:]
    return page


def _pattern(template: str) -> re.Pattern[str]:
    """Words of a template however the page breaks its lines, a group for each number."""
    words = (re.escape(word).replace(r"\{\}", r"(\d+(?: \d{3})*|[^\s;,.]+)") for word in template.split())
    return re.compile(r"\s+".join(words))


def _rests_on(source: str) -> str:
    """The strongest kind of work among the sources of a row."""
    kinds = {shipped().sources[key.strip()].kind for key in source.split(";")}
    if kinds & _AUTHORITY:
        return "authority"
    return "book" if kinds & _BOOK else "supplier" if "supplier" in kinds else "memory"


def _recalled(source: str) -> bool:
    return "memory" in (key.strip() for key in source.split(";"))


def _names() -> list[str]:
    folder = files("redoxlib") / "data"
    return sorted(entry.name[:-4] for entry in folder.iterdir() if entry.name.endswith(".csv"))


def _rows(name: str) -> int:
    text = (files("redoxlib") / "data" / f"{name}.csv").read_text(encoding="utf-8")
    return sum(1 for _ in csv.DictReader(io.StringIO(text)))


def _grouped(number: int, step: int) -> str:
    """Rounded down to a multiple of *step*, in groups of three digits."""
    return f"{number // step * step:,}".replace(",", " ")


if __name__ == "__main__":
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
