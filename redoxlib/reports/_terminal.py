"""The terminal writer and the one door to rich.

Everything enters rich as ``Text``, never as markup, so ``[cox1989]`` stays on the page.  Colour and weight
repeat what the words already say; without them nothing is lost.

May import: this package.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import StringIO

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

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
    Row,
    Table,
)

__all__ = ["terminal"]

NARROW, WIDE = 40, 110
_GAP = 2
_TALLEST_LABEL = 18
# A line never ends between a coefficient and its formula, a number and its unit, a plus and its term.
_GLUE = "\ue000"
_TIES = (
    (re.compile(r"(?<=[0-9]) (?=[A-Za-z%(\[])"), _GLUE),
    (re.compile(r"(?<= \+) (?=\S)"), _GLUE),
    (re.compile(r"(?<=->) (?=\S)"), _GLUE),
    (re.compile(r"(?<=\S) ± (?=\S)"), f"{_GLUE}±{_GLUE}"),
)


def terminal(document: Document, *, width: int = 80, colour: bool = False) -> str:
    """Write a document for a terminal *width* columns wide.

    Parameters
    ----------
    width : int
        Between 40 and 110; other values are drawn to the nearer end.
    colour : bool
        Whether to weigh headings and warnings by colour as well as by words.
    """
    width = min(WIDE, max(NARROW, width))
    page = StringIO()
    console = Console(
        file=page,
        width=width,
        force_terminal=colour,
        color_system="standard" if colour else None,
        markup=False,
        highlight=False,
        emoji=False,
        legacy_windows=False,
    )
    writer = _Writer(console, width)
    for number, block in enumerate(document.blocks):
        if number and _parted(document.blocks[number - 1], block):
            writer.put(Text(""))
        writer.block(block)
    return page.getvalue()


def _parted(before: Block, block: Block) -> bool:
    """Whether a blank line stands between two blocks."""
    if isinstance(before, Heading):
        return False
    return not (isinstance(block, Note | Caution) and isinstance(before, Note | Caution))


def _tied(text: str) -> str:
    for pattern, glue in _TIES:
        text = pattern.sub(glue, text)
    return text


class _Writer:
    def __init__(self, console: Console, width: int) -> None:
        self.console = console
        self.width = width

    def put(self, line: Text) -> None:
        plain = Text(line.plain.replace(_GLUE, " "), spans=line.spans, end="")
        plain.rstrip()
        self.console.print(plain, soft_wrap=True)

    def block(self, block: Block) -> None:
        match block:
            case Heading(text, level):
                self.heading(text, level)
            case Paragraph(text):
                self.hanging("", text)
            case Note(text):
                self.hanging("  ", text, style="dim")
            case Caution(text):
                self.hanging("  ! ", text, style="bold red")
            case Bullets(items, numbered):
                for place, item in enumerate(items, 1):
                    self.hanging(f"{place:>3}. " if numbered else "  - ", item)
            case Facts(pairs):
                self.facts(pairs)
            case Table():
                self.table(block)
            case Formulas(rows):
                self.facts([(label, plain) for label, plain, _, _ in rows])
            case Picture(_, caption, said):
                self.hanging("  ", f"{caption}: {said}")
            case Blanks(labels):
                self.facts([(label, 3 * BLANK) for label in labels])

    def heading(self, text: str, level: int) -> None:
        lines = self.wrapped(text, self.width)
        for line in lines:
            line.stylize("bold")
            self.put(line)
        if level < 3:
            mark = "=" if level == 1 else "-"
            self.put(Text(mark * min(self.width, max(cell_len(line.plain) for line in lines))))

    def wrapped(self, text: str, width: int) -> list[Text]:
        lines: list[Text] = []
        for paragraph in text.splitlines() or [""]:
            lines += Text(_tied(paragraph)).wrap(self.console, max(1, width), overflow="fold")
        return lines

    def hanging(
        self, head: str, text: str, *, style: str = "", width: int | None = None, indent: int = 0
    ) -> None:
        """Write text behind a mark, its further lines set under its first."""
        room = (width or self.width) - indent - cell_len(head)
        for place, line in enumerate(self.wrapped(text, room)):
            lead = head if not place else " " * cell_len(head)
            whole = Text(" " * indent + lead) + line
            if style:
                whole.stylize(style, indent)
            self.put(whole)

    def facts(self, pairs: Sequence[tuple[str, str]]) -> None:
        label_width = min(_TALLEST_LABEL, max((cell_len(label) for label, _ in pairs), default=0))
        for label, text in pairs:
            self.hanging(f"  {label:<{label_width}}  ", text)

    def table(self, table: Table) -> None:
        heads = [table.columns, table.units] if any(table.units) else [table.columns]
        lines = [tuple(head) for head in heads] + [row.cells for row in table.rows]
        gap = _GAP
        widths = _widths(lines, self.width - 2, gap)
        if any(
            width < max(map(cell_len, column))
            for width, column in zip(widths, zip(*lines, strict=True), strict=True)
        ):
            # A crowded table does better with narrow gaps than with broken cells.
            gap = 1
            widths = _widths(lines, self.width - 2, gap)
        for head in heads:
            self.cells(tuple(head), widths, table.right, gap, "bold")
        self.put(Text("  " + (" " * gap).join("-" * width for width in widths)))
        for row in table.rows:
            self.row(row, widths, table.right, gap)

    def row(self, row: Row, widths: Sequence[int], right: frozenset[int], gap: int) -> None:
        self.cells(row.cells, widths, right, gap)
        for warning in row.warnings:
            self.hanging("! ", warning, style="bold red", indent=2 + min(widths[0], 8) + gap)

    def cells(
        self, cells: Sequence[str], widths: Sequence[int], right: frozenset[int], gap: int, style: str = ""
    ) -> None:
        columns = [self.wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
        for place in range(max(len(lines) for lines in columns)):
            line = Text("  ")
            for number, (lines, width) in enumerate(zip(columns, widths, strict=True)):
                piece = lines[place].copy() if place < len(lines) else Text("")
                piece.rstrip()
                blanks = " " * max(0, width - cell_len(piece.plain))
                between = Text(" " * gap if number else "")
                line = line + between + (Text(blanks) + piece if number in right else piece + Text(blanks))
            if style:
                line.stylize(style)
            self.put(line)


def _widths(lines: Sequence[Sequence[str]], room: int, gap: int) -> list[int]:
    """Give each column what its longest cell needs; where that is too much, the widest give way first."""
    columns = list(zip(*lines, strict=True))
    widths = [max(1, max(cell_len(cell) for cell in column)) for column in columns]
    floors = [
        min(width, max(3, max((cell_len(w) for cell in column for w in _tied(cell).split()), default=1)))
        for width, column in zip(widths, columns, strict=True)
    ]
    room -= gap * (len(widths) - 1)
    while sum(widths) > room:
        spare = [width - floor for width, floor in zip(widths, floors, strict=True)]
        if max(spare) <= 0:
            widest = max(range(len(widths)), key=widths.__getitem__)
            if widths[widest] <= 1:
                break
            widths[widest] -= 1
            continue
        widths[max(range(len(widths)), key=lambda n: (spare[n] > 0, widths[n]))] -= 1
    return widths
