"""The HTML writer: one self-contained fragment of real tables, for notebooks.

May import: this package.
"""

from __future__ import annotations

from html import escape

from redoxlib.reports._document import (
    Block,
    Bullets,
    Caution,
    Document,
    Facts,
    Heading,
    Note,
    Paragraph,
    Table,
)

__all__ = ["html"]


def html(document: Document) -> str:
    """Write a document as a fragment of HTML that needs no style sheet and runs nothing."""
    return '<div class="redoxlib">\n' + "\n".join(_block(block) for block in document.blocks) + "\n</div>\n"


def _block(block: Block) -> str:
    match block:
        case Heading(text, level):
            return f"<h{level + 1}>{escape(text)}</h{level + 1}>"
        case Paragraph(text):
            return f"<p>{escape(text)}</p>"
        case Note(text):
            return f"<p><small>{escape(text)}</small></p>"
        case Caution(text):
            return f"<p><strong>Caution:</strong> {escape(text)}</p>"
        case Bullets(items, numbered):
            tag = "ol" if numbered else "ul"
            return f"<{tag}>" + "".join(f"<li>{escape(item)}</li>" for item in items) + f"</{tag}>"
        case Facts(pairs):
            rows = (
                f'<tr><th scope="row" align="left">{escape(label)}</th>'
                f'<td align="left">{escape(text)}</td></tr>'
                for label, text in pairs
            )
            return "<table>" + "".join(rows) + "</table>"
        case Table():
            return _table(block)


def _table(table: Table) -> str:
    units = table.units or ("",) * len(table.columns)
    heads = "".join(
        f'<th scope="col">{escape(column)}{f"<br><small>{escape(unit)}</small>" if unit else ""}</th>'
        for column, unit in zip(table.columns, units, strict=True)
    )
    lines = [f"<table><thead><tr>{heads}</tr></thead><tbody>"]
    for row in table.rows:
        cells = (
            f'<td align="{"right" if number in table.right else "left"}">{escape(cell)}</td>'
            for number, cell in enumerate(row.cells)
        )
        lines.append("<tr>" + "".join(cells) + "</tr>")
        for warning in row.warnings:
            lines.append(
                f'<tr><td></td><td colspan="{len(table.columns) - 1}" align="left">'
                f"<strong>Caution:</strong> {escape(warning)}</td></tr>"
            )
    lines.append("</tbody></table>")
    return "".join(lines)
