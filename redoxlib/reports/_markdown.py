"""The Markdown writer: plain, with pipe tables.

May import: this package.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from redoxlib.reports._document import (
    BLANK,
    Blanks,
    Block,
    Bullets,
    Caution,
    Document,
    Facts,
    Formulas,
    Heading,
    Note,
    Paragraph,
    Picture,
    Table,
)

__all__ = ["markdown"]

_SPECIAL = re.compile(r"([\\`*_\[\]<|])")


def markdown(document: Document) -> str:
    """Write a document as Markdown; what Markdown would swallow is escaped."""
    return "\n\n".join(_block(block) for block in document.blocks) + "\n"


def _safe(text: str) -> str:
    return _SPECIAL.sub(r"\\\1", " ".join(text.split()))


def _block(block: Block) -> str:
    match block:
        case Heading(text, level):
            return f"{'#' * level} {_safe(text)}"
        case Paragraph(text):
            return _safe(text)
        case Note(text):
            return f"> {_safe(text)}"
        case Caution(text):
            return f"> **Caution:** {_safe(text)}"
        case Bullets(items, numbered):
            return "\n".join(
                f"{f'{n}.' if numbered else '-'} {_safe(item)}" for n, item in enumerate(items, 1)
            )
        case Facts(pairs):
            return "\n".join(
                f"- **{_safe(label)}:** {_safe(text)}" if label else f"  {_safe(text)}"
                for label, text in pairs
            )
        case Table():
            return _table(block)
        case Formulas(rows):
            return "\n".join(f"- **{_safe(label)}:** `{plain}`" for label, plain, _, _ in rows)
        case Picture(_, caption, said):
            return f"> **{_safe(caption)}:** {_safe(said)}"
        case Blanks(labels):
            return "\n".join(f"- {_safe(label)}: {_safe(3 * BLANK)}" for label in labels)


def _table(table: Table) -> str:
    units = table.units or ("",) * len(table.columns)
    heads = [
        f"{column} ({unit})" if unit else column for column, unit in zip(table.columns, units, strict=True)
    ]
    lines = [_line(heads), _rule(table)]
    for row in table.rows:
        lines.append(_line(row.cells))
        for warning in row.warnings:
            note = ["", f"Caution: {warning}", *[""] * (len(table.columns) - 2)]
            lines.append(_line(note[: len(table.columns)]))
    return "\n".join(lines)


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(_safe(cell) for cell in cells) + " |"


def _rule(table: Table) -> str:
    marks = ("---:" if number in table.right else "---" for number in range(len(table.columns)))
    return "| " + " | ".join(marks) + " |"
