"""The HTML writers: a bare fragment for notebooks, and the marks a whole page needs on top of it.

May import: this package.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from html import escape

from redoxlib.reports._document import (
    BLANK,
    TICK,
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

__all__ = ["Marks", "html"]


def html(document: Document) -> str:
    """Write a document as a fragment of HTML that needs no style sheet and runs nothing."""
    marks = Marks()
    return '<div class="redoxlib">\n' + "\n".join(map(marks.block, document.blocks)) + "\n</div>\n"


_SMALL = 8
"""Rows up to which a table is kept on one sheet of paper."""


@dataclass(slots=True)
class Marks:
    """Writes blocks as HTML.

    ``page``: the style sheet and the script of a whole page are there, so that headings begin at the first
    level, a table is named by the heading above it and its columns can be sorted.
    """

    page: bool = False
    above: str = ""
    places: list[tuple[str, str]] = field(default_factory=list)

    def block(self, block: Block) -> str:
        """One block."""
        match block:
            case Heading(text, level):
                return self._heading(text, level)
            case Paragraph(text):
                return f"<p>{escape(text)}</p>"
            case Note(text):
                return f"<p><small>{escape(text)}</small></p>"
            case Caution(text):
                return f"<p{self._class('caution')}><strong>Caution:</strong> {escape(text)}</p>"
            case Bullets(items, numbered):
                tag = "ol" if numbered else "ul"
                return f"<{tag}>" + "".join(f"<li>{escape(item)}</li>" for item in items) + f"</{tag}>"
            case Facts(pairs):
                return self._facts([(escape(label), escape(text)) for label, text in pairs])
            case Formulas(rows):
                return self._facts([(escape(label), escape(shown)) for label, _, shown, _ in rows])
            case Picture(svg, caption, said):
                more = f'<span class="said"> {escape(said)}</span>' if self.page else f" {escape(said)}"
                return f"<figure>{svg}<figcaption>{escape(caption)}:{more}</figcaption></figure>"
            case Blanks(labels):
                return self._facts([(escape(label), self._cell(BLANK)) for label in labels])
            case Table():
                return self._table(block)

    def _class(self, name: str) -> str:
        return f' class="{name}"' if self.page else ""

    def _align(self, right: bool) -> str:
        if self.page:
            return ' class="right"' if right else ""
        return f' align="{"right" if right else "left"}"'

    def _heading(self, text: str, level: int) -> str:
        if not self.page:
            return f"<h{level + 1}>{escape(text)}</h{level + 1}>"
        self.above = text
        place = f"part-{len(self.places) + 1}"
        if level == 2:
            self.places.append((place, text))
        mark = f' id="{place}"' if level == 2 else ""
        return f"<h{level}{mark}>{escape(text)}</h{level}>"

    def _cell(self, text: str) -> str:
        if self.page and text == TICK:
            return '<span class="tick" role="img" aria-label="box to tick"></span>'
        if self.page and text == BLANK:
            return '<span class="blank" role="img" aria-label="room to write"></span>'
        return escape(text)

    def _facts(self, pairs: list[tuple[str, str]]) -> str:
        if not self.page:
            lines = (
                f'<tr><th scope="row" align="left">{label}</th><td align="left">{text}</td></tr>'
                for label, text in pairs
            )
            return "<table>" + "".join(lines) + "</table>"
        lines = (
            f"<div><dt>{label}</dt><dd>{text}</dd></div>" if label else f"<div><dd>{text}</dd></div>"
            for label, text in _gathered(pairs)
        )
        return "<dl>" + "".join(lines) + "</dl>"

    def _table(self, table: Table) -> str:
        units = table.units or ("",) * len(table.columns)
        sortable = self.page and len(table.rows) > 2
        heads = "".join(
            self._head(column, unit, n in table.right, sortable)
            for n, (column, unit) in enumerate(zip(table.columns, units, strict=True))
        )
        if not self.page:
            rows = "".join(line for row in table.rows for line in self._row(row, table))
            return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
        bodies = "".join(f"<tbody>{''.join(self._row(row, table))}</tbody>" for row in table.rows)
        name = escape(self.above, quote=True)
        mark = ' class="sortable"' if sortable else ""
        small = " keep" if len(table.rows) <= _SMALL else ""
        region = (
            f'class="wide{small}" tabindex="0" role="region" aria-label="{name}, table {self._numbered()}"'
        )
        return (
            f"<div {region}><table{mark}><caption>{name}</caption>"
            f"<thead><tr>{heads}</tr></thead>{bodies}</table></div>"
        )

    def _numbered(self) -> int:
        self.places.append(("", ""))
        return sum(not place for place, _ in self.places)

    def _head(self, column: str, unit: str, right: bool, sortable: bool) -> str:
        below = f"<br><small>{escape(unit)}</small>" if unit else ""
        if self.page and not column:
            return f"<td>{below}</td>"  # a head that says nothing is none
        text = f'<button type="button">{escape(column)}</button>' if sortable else escape(column)
        return f'<th scope="col"{self._align(right) if self.page else ""}>{text}{below}</th>'

    def _row(self, row: Row, table: Table) -> list[str]:
        cells = "".join(
            f"<td{self._align(number in table.right)}>{self._cell(cell)}</td>"
            for number, cell in enumerate(row.cells)
        )
        lines = [f"<tr>{cells}</tr>"]
        wide = len(table.columns) - 1
        for warning in row.warnings:
            said = f"<strong>Caution:</strong> {escape(warning)}"
            if self.page:
                lines.append(f'<tr class="caution"><td colspan="{wide + 1}"><div>{said}</div></td></tr>')
            else:
                lines.append(f'<tr><td></td><td colspan="{wide}" align="left">{said}</td></tr>')
        return lines


def _gathered(pairs: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Put a pair without a label under the one before it."""
    found: list[tuple[str, str]] = []
    for label, text in pairs:
        if label or not found:
            found.append((label or "also", text))
        else:
            found[-1] = (found[-1][0], f"{found[-1][1]}<br>{text}")
    return found
