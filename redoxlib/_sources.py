"""Where the equations of a file stand.  Verb: equations_in.

Reads what ``verify`` reads (Markdown, reStructuredText, LaTeX with mhchem, CSV cells, Python strings and
docstrings, TOML) and notebooks besides; every equation comes with the line an editor would jump to.

May import: errors, notation, stoichiometry, _verify.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from redoxlib._verify import _ARROW, SKIP, _candidates, _read
from redoxlib.errors import DomainError
from redoxlib.stoichiometry import Check

__all__ = ["WRONG", "Found", "equations_in"]

WRONG = "redoxlib: wrong"
"""A line that holds these words shows an equation that is meant not to balance."""


_SOURCE = re.compile(r'(?<!\\)"source"\s*:\s*')
_BLANK = re.compile(r"[\s,]*")


@dataclass(frozen=True, slots=True)
class Found:
    """One equation of a file: its line (from 1), its text, its check, and whether it is meant to be wrong."""

    line: int
    text: str
    check: Check
    wrong: bool


def equations_in(path: Path) -> Iterator[Found]:
    """Yield every equation of a file in the order of its lines.

    Raises
    ------
    DomainError
        When the file cannot be read as text.
    """
    try:
        whole = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise DomainError(f"{path} cannot be read: {error}", hint="name UTF-8 text files") from None
    notebook = path.suffix == ".ipynb"
    lines = _notebook_lines(whole) if notebook else enumerate(whole.splitlines(), 1)
    for number, line in lines:
        if SKIP in line or not _ARROW.search(line):
            continue
        wrong = WRONG in line
        bare = _unmarked(line) if wrong else line
        for text in dict.fromkeys(_candidates(bare, ".md" if notebook else path.suffix)):
            found = _read(text)
            if found is not None:
                yield Found(number, text, found, wrong)


def _unmarked(line: str) -> str:
    """Drop the mark and the comment sign before it, so that it is not read as part of the equation."""
    head, _, _ = line.partition(WRONG)
    return head.rstrip().removesuffix("<!--").rstrip(" #%.")


def _notebook_lines(whole: str) -> Iterator[tuple[int, str]]:
    """Source lines of the cells with the line each has in the file; outputs are left alone.

    A cell source kept as one long string, or all in one line of the file, keeps the line it stands in.
    """
    try:
        json.loads(whole)
    except ValueError as error:
        raise DomainError(f"no notebook: {error}", hint="a notebook is a JSON file") from None
    decoder = json.JSONDecoder()
    for key in _SOURCE.finditer(whole):
        start = key.end()
        if whole[start] != "[":
            told, _ = decoder.raw_decode(whole, start)
            pieces = [(start, told)] if isinstance(told, str) else []
        else:
            pieces = []
            position = _BLANK.match(whole, start + 1).end()  # type: ignore[union-attr]
            while whole[position] == '"':
                told, end = decoder.raw_decode(whole, position)
                pieces.append((position, told))
                position = _BLANK.match(whole, end).end()  # type: ignore[union-attr]
        for position, told in pieces:
            number = whole.count("\n", 0, position) + 1
            yield from ((number, line) for line in told.splitlines())
