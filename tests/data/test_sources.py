"""The table of sources: nothing cited that is not in it, nothing in it that is not cited."""

from __future__ import annotations

import ast
import csv
import io
import re
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable

import pytest

from redoxlib.data import shipped

ROOT = files("redoxlib")


def _rows(name: str) -> list[dict[str, str]]:
    text = (ROOT / "data" / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(io.StringIO(text)))


def _keys(cell: str) -> list[str]:
    return [key.strip() for key in cell.split(";") if key.strip()]


def _modules(folder: Traversable = ROOT) -> Iterator[ast.Module]:
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _modules(entry)
        elif entry.name.endswith(".py"):
            yield ast.parse(entry.read_text(encoding="utf-8"))


NAMES = sorted(e.name[:-4] for e in (ROOT / "data").iterdir() if e.name.endswith(".csv"))
CITED_BY_ROWS = {
    key
    for name in NAMES
    if name != "sources"
    for row in _rows(name)
    for column in ("source", "sources")
    for key in _keys(row.get(column) or "")
}
TEXTS = {
    node.value
    for module in _modules()
    for node in ast.walk(module)
    if isinstance(node, ast.Constant) and isinstance(node.value, str)
}
KEYS = {row["key"] for row in _rows("sources")}


def test_every_source_is_cited_by_a_row_or_by_the_code() -> None:
    assert sorted(KEYS - CITED_BY_ROWS - TEXTS) == []


def test_every_key_cited_by_a_row_exists() -> None:
    assert sorted(CITED_BY_ROWS - KEYS) == []


def test_every_key_cited_by_a_constant_exists() -> None:
    """Numbers written into the code carry their keys as the fourth argument of a quantity."""
    cited = {
        key.value
        for module in _modules()
        for node in ast.walk(module)
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Quantity" and len(node.args) > 3
        for key in ast.walk(node.args[3])
        if isinstance(key, ast.Constant) and isinstance(key.value, str)
    }
    assert cited
    assert sorted(cited - KEYS) == []


def test_what_only_the_code_cites_says_so() -> None:
    for key in sorted(KEYS - CITED_BY_ROWS):
        assert re.search(r"\bcode\b", shipped().sources[key].note), key


@pytest.mark.parametrize("key", ["memory", "practice"])
def test_the_honest_keys_stay(key: str) -> None:
    assert shipped().sources[key].kind == key
