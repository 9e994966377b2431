r"""The LaTeX writer: one file that any LaTeX with mhchem, longtable and amssymb can set.

May import: this package.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

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
    Table,
)

__all__ = ["latex"]

_SPECIAL = {
    "\\": r"\textbackslash{}",
    "{": r"\{",
    "}": r"\}",
    "$": r"\$",
    "&": r"\&",
    "#": r"\#",
    "%": r"\%",
    "_": r"\_",
    "^": r"\textasciicircum{}",
    "~": r"\textasciitilde{}",
    "<": r"\textless{}",
    ">": r"\textgreater{}",
    "|": r"\textbar{}",
    '"': r"\textquotedbl{}",
    "±": r"\ensuremath{\pm}",
    "°": r"\textdegree{}",
    "−": r"\ensuremath{-}",
    "→": r"\ensuremath{\rightarrow}",
    "·": r"\ensuremath{\cdot}",
    "×": r"\ensuremath{\times}",
    "µ": r"\textmu{}",
}
_ONE = re.compile("|".join(map(re.escape, _SPECIAL)))
_HEAD = r"""\documentclass[10pt]{article}
\usepackage[T1]{fontenc}
\usepackage[utf8]{inputenc}
\usepackage{textcomp,amssymb,array,longtable}
\usepackage[version=4]{mhchem}
\usepackage[margin=18mm]{geometry}
\setlength{\parindent}{0pt}
\setlength{\parskip}{4pt}
\setlength{\LTpre}{4pt}
\setlength{\LTpost}{4pt}
\raggedright
\newcommand{\blank}[1]{\rule[-2pt]{#1}{0.4pt}}
\begin{document}
"""
_SECTIONS = {1: "section*", 2: "subsection*", 3: "subsubsection*"}


def latex(document: Document) -> str:
    """Write a document as a complete LaTeX file; what LaTeX would take as a command is escaped."""
    return _HEAD + "\n\n".join(_block(block) for block in document.blocks) + "\n\\end{document}\n"


def _safe(text: str) -> str:
    return _ONE.sub(lambda found: _SPECIAL[found[0]], " ".join(text.split()))


def _cell(text: str) -> str:
    if text == TICK:
        return r"\ensuremath{\square}"
    return r"\blank{22mm}" if text == BLANK else _safe(text)


def _block(block: Block) -> str:
    match block:
        case Heading(text, level):
            return f"\\{_SECTIONS[level]}{{{_safe(text)}}}"
        case Paragraph(text):
            return _safe(text)
        case Note(text):
            return f"{{\\small {_safe(text)}\\par}}"
        case Caution(text):
            return f"\\fbox{{\\parbox{{0.97\\linewidth}}{{\\textbf{{Caution:}} {_safe(text)}}}}}"
        case Bullets(items, numbered):
            return _list("enumerate" if numbered else "itemize", map(_safe, items))
        case Facts(pairs):
            return _described((label, _safe(text)) for label, text in pairs)
        case Formulas(rows):
            return _described((label, typeset) for label, _, _, typeset in rows)
        case Picture(_, caption, said):
            return f"\\textit{{{_safe(caption)}.}} {_safe(said)}"
        case Blanks(labels):
            return _described((label, r"\blank{80mm}") for label in labels)
        case Table():
            return _table(block)


def _list(kind: str, items: Iterable[str]) -> str:
    lines = "\n".join(f"\\item {item}" for item in items)
    return f"\\begin{{{kind}}}\n{lines}\n\\end{{{kind}}}"


def _described(pairs: Iterable[tuple[str, str]]) -> str:
    lines = "".join(f"{_safe(label)} & {text} \\\\\n" for label, text in pairs)
    return "\\begin{longtable}{@{}p{0.26\\linewidth}p{0.7\\linewidth}@{}}\n" + lines + "\\end{longtable}"


def _table(table: Table) -> str:
    widths = _widths(table)
    columns = "".join(
        f">{{\\{'raggedleft' if number in table.right else 'raggedright'}\\arraybackslash}}"
        f"p{{{width:.3f}\\linewidth}}"
        for number, width in enumerate(widths)
    )
    units = table.units or ("",) * len(table.columns)
    heads = " & ".join(
        f"\\textbf{{{_safe(column)}}}{f' ({_safe(unit)})' if unit else ''}"
        for column, unit in zip(table.columns, units, strict=True)
    )
    lines = [
        f"{{\\small\\begin{{longtable}}{{@{{}}{columns}@{{}}}}",
        heads + r" \\ \hline \endhead",
    ]
    for row in table.rows:
        lines.append(" & ".join(_cell(cell) for cell in row.cells) + r" \\")
        lines += [
            f"\\multicolumn{{{len(table.columns)}}}{{p{{0.9\\linewidth}}}}"
            f"{{\\textbf{{Caution:}} {_safe(text)}}} \\\\"
            for text in row.warnings
        ]
    lines.append("\\hline\n\\end{longtable}}")
    return "\n".join(lines)


def _widths(table: Table) -> list[float]:
    """Share of the line for each column, by the square root of its longest cell."""
    rows = [table.columns, table.units or table.columns, *(row.cells for row in table.rows)]
    longest = [max(4, *(len(cell) for cell in column)) ** 0.5 for column in zip(*rows, strict=True)]
    room = 0.96 - 0.022 * (len(longest) - 1)
    return [room * one / sum(longest) for one in longest]
