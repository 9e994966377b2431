"""The document tree: what a report says, before anybody decides how it looks.

Blocks hold plain text (a picture also its SVG) and nothing else; a bracket is a bracket.  Writers turn a
Document into a terminal page, Markdown, HTML or LaTeX.

May import: nothing of redoxlib.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

__all__ = [
    "BLANK",
    "TICK",
    "Blanks",
    "Block",
    "Bullets",
    "Caution",
    "Document",
    "Facts",
    "Formulas",
    "Heading",
    "Note",
    "Paragraph",
    "Picture",
    "Row",
    "Table",
]


TICK = "[ ]"
"""A cell to tick by hand."""

BLANK = "________"
"""A cell to write into by hand."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A title; level 1 is the report, 2 a part, 3 one oxidant."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Labelled lines: what each is called, and what it is.

    A pair with an empty label goes on under the one before.
    """

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table with what must be read together with it."""

    cells: tuple[str, ...]
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows; ``units`` is the second line of the head, ``right`` the columns set flush right."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    units: tuple[str, ...] = ()
    right: frozenset[int] = field(default_factory=frozenset)


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list; ``numbered`` when the order is the message."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Note:
    """An aside: an assumption, a definition, a source."""

    text: str


@dataclass(frozen=True, slots=True)
class Caution:
    """What must not be overlooked."""

    text: str


@dataclass(frozen=True, slots=True)
class Formulas:
    """Equations: ``(label, ASCII, Unicode, LaTeX with mhchem)`` each; a writer takes what it can set."""

    rows: tuple[tuple[str, str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing as SVG, and in words what it shows for those who do not see it."""

    svg: str
    caption: str
    said: str


@dataclass(frozen=True, slots=True)
class Blanks:
    """Labels with room behind each to write by hand."""

    labels: tuple[str, ...]


Block: TypeAlias = (
    Heading | Paragraph | Facts | Table | Bullets | Note | Caution | Formulas | Picture | Blanks
)


@dataclass(frozen=True, slots=True)
class Document:
    """A report: blocks in reading order."""

    blocks: tuple[Block, ...]
