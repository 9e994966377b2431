"""The document tree: what a report says, before anybody decides how it looks.

Blocks hold plain text and nothing else; a bracket is a bracket.  Writers turn a Document into a terminal
page, Markdown or HTML.

May import: nothing of redoxlib.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

__all__ = [
    "Block",
    "Bullets",
    "Caution",
    "Document",
    "Facts",
    "Heading",
    "Note",
    "Paragraph",
    "Row",
    "Table",
]


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


Block: TypeAlias = Heading | Paragraph | Facts | Table | Bullets | Note | Caution


@dataclass(frozen=True, slots=True)
class Document:
    """A report: blocks in reading order."""

    blocks: tuple[Block, ...]
