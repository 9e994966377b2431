"""Diagrams as tables for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

TYPE_CHECKING = False

if TYPE_CHECKING:
    from redoxlib.diagrams._frost import Frost
    from redoxlib.diagrams._predominance import Predominance
    from redoxlib.diagrams._speciation import Speciation


def columns(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Left-aligned columns with a rule under the head."""
    widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head))]

    def line(cells: Sequence[str]) -> str:
        return "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()

    return "\n".join([line(head), line(["-" * width for width in widths]), *map(line, rows)])


def _notes(remarks: Sequence[str], sources: Sequence[str]) -> str:
    lines = [f"note: {remark}" for remark in remarks]
    return "\n".join([*lines, f"sources: {', '.join(sources)}"])


def predominance_table(diagram: Predominance) -> str:
    """The boundaries, most oxidising first."""
    rows = [
        [
            f"{b.first} | {b.second}",
            f"{min(b.start[0], b.end[0]):.2f} to {max(b.start[0], b.end[0]):.2f}",
            str(b),
            f"{b.uncertainty:.2g}" if b.uncertainty else "0",
            str(b.equation),
        ]
        for b in sorted(diagram.boundaries, key=lambda b: -(b.start[1] + b.end[1]))
    ]
    title = (
        f"{diagram.element}: predominance at 25 C, dissolved species at {diagram.activity:g} mol/kg "
        "(potentials against the standard hydrogen electrode)"
    )
    alone = [f"only {diagram.regions[0].species} in this window"] if len(diagram.regions) == 1 else []
    absent = [f"nowhere lowest: {', '.join(map(str, diagram.absent))}"] if diagram.absent else []
    body = [columns(["between", "pH", "line", "+-", "equation"], rows)] if rows else alone
    return "\n".join([title, "", *body, "", *absent, _notes(diagram.remarks, diagram.sources)])


def frost_table(diagram: Frost) -> str:
    """The points of each trace with the potential to the state above."""
    parts = [f"{diagram.element}: Frost diagram at 25 C, dissolved species at 1 mol/kg"]
    for trace in diagram.traces:
        up = {low.state: volts for low, _, volts in trace.steps}
        apart = trace.disproportionating
        rows = [
            [
                _signed(float(p.state)),
                str(p.species),
                f"{p.volts.value:+.3f}",
                f"{up[p.state]:+.3f}" if p.state in up else "",
                "can disproportionate" if p in apart else "",
            ]
            for p in trace.points
        ]
        head = ["state", "species", "nE / V", "E to the next / V", ""]
        parts += ["", f"pH {trace.ph:g}", columns(head, rows)]
    return "\n".join([*parts, "", _notes(diagram.remarks, diagram.sources)])


def _signed(state: float) -> str:
    if not state:
        return "0"
    return f"{state:+g}" if state == floor(state) else f"{state:+.2f}"


def speciation_table(diagram: Speciation) -> str:
    """log10 of the molalities at whole pH values and where the largest form changes."""
    first, last = diagram.ph
    marks = [first + i for i in range(int(last - first) + 1)]
    rows = []
    for ph in marks:
        found = diagram.at(ph)
        cells = [f"{found.log10[s]:.2f}" for s in diagram.species]
        rows.append([f"{ph:g}", *cells, str(found.solid) if found.solid else ""])
    head = ["pH", *map(str, diagram.species), "solid"]
    title = (
        f"{diagram.element}({_signed(float(diagram.state))}): log10 of mol/kg at 25 C, "
        f"total {diagram.total:g} mol/kg, ideal"
    )
    changes = [f"pH {c.ph:.2f}: {c.below} | {c.above}" for c in diagram.crossings]
    return "\n".join([title, "", columns(head, rows), "", *changes, _notes(diagram.remarks, diagram.sources)])
