"""A log-concentration diagram as SVG."""

from __future__ import annotations

from math import floor, log10

from redoxlib.diagrams._canvas import (
    BOTTOM,
    LEFT,
    RIGHT,
    TOP,
    Axis,
    Box,
    Canvas,
    Spot,
    extent,
    holds,
    number,
    say,
)
from redoxlib.diagrams._speciation import Speciation

_COLOURS = ("#3d7ecb", "#c4502f", "#7a8f3c", "#7d5ba6", "#b5852a", "#3f8f8a", "#8a5a44")
_DECADES = 9.0
_SWATCH = 15.0


def draw(diagram: Speciation) -> str:
    top = floor(log10(diagram.total)) + 1.0
    x = Axis(*diagram.ph, LEFT, RIGHT + 120, 1.0)
    y = Axis(top - _DECADES, top, BOTTOM, TOP, 1.0)
    state = f"{float(diagram.state):+g}"
    canvas = Canvas(
        f"speciation-{diagram.element}-{str(diagram.state).replace('/', '-')}",
        f"{diagram.element}({state}) at 25 °C, total {diagram.total:g} mol/kg",
        f"log10 of the molality of each form of {diagram.element} at oxidation state {state} over pH. "
        + (
            "; ".join(f"{c.below} gives way to {c.above} at pH {c.ph:.2f}" for c in diagram.crossings)
            or "one form predominates throughout"
        )
        + ".",
    )
    marks = [diagram.ph[0] + (diagram.ph[1] - diagram.ph[0]) * i / 280 for i in range(281)]
    found = [diagram.at(ph) for ph in marks]
    canvas.add(
        f'<defs><clipPath id="rlx-{canvas.name}-plot"><rect x="{number(x.start)}" y="{number(y.end)}" '
        f'width="{number(x.end - x.start)}" height="{number(y.start - y.end)}"/></clipPath></defs>'
    )
    _saturated(canvas, x, y, [(c.ph, c.solid is not None) for c in found])
    canvas.add(f'<g clip-path="url(#rlx-{canvas.name}-plot)">')
    curves: list[tuple[str, str, list[Spot]]] = []
    for index, species in enumerate(diagram.species):
        colour = _COLOURS[index % len(_COLOURS)]
        curve = [(x(c.ph), y(max(c.log10[species], top - _DECADES - 3))) for c in found]
        canvas.path(curve, width=1.8, colour=colour)
        curves.append((say(species), colour, curve))
    level = y(log10(diagram.total))
    canvas.line((x.start, level), (x.end, level), width=0.8, dash="3 4", opacity=0.6)
    canvas.add("</g>")
    canvas.frame(x, y, "pH", "log₁₀(molality / mol kg⁻¹)")
    solids = list(dict.fromkeys(say(c.solid) for c in found if c.solid is not None))
    inside = Box(x.start + 3, y.end + 3, x.end - 3, y.start - 3)
    for words, colour, curve in curves:
        _label(canvas, words, colour, curve, inside)
    if solids:
        canvas.text(LEFT, BOTTOM + 58, f"shaded: saturated with {', '.join(solids)}", size=11, anchor="start")
    return canvas.document()


def _saturated(canvas: Canvas, x: Axis, y: Axis, marks: list[tuple[float, bool]]) -> None:
    """Shade the pH where a solid holds part of the total."""
    start: float | None = None
    for ph, solid in [*marks, (marks[-1][0], False)]:
        if solid and start is None:
            start = ph
        elif not solid and start is not None:
            canvas.add(
                f'<rect x="{number(x(start))}" y="{number(y.end)}" width="{number(x(ph) - x(start))}" '
                f'height="{number(y.start - y.end)}" fill="currentColor" fill-opacity="0.07"/>'
            )
            start = None


def _label(canvas: Canvas, words: str, colour: str, curve: list[Spot], inside: Box) -> None:
    """Write the name just above or below its curve, where the curve is high and nothing is in the way."""
    size = 12.5
    width, height = extent(words, size) + _SWATCH, size * 1.3
    best: tuple[float, Box] | None = None
    for index in range(4, len(curve) - 4, 3):
        spot = curve[index]
        if not (inside.x1 < spot[0] < inside.x2 and inside.y1 < spot[1] < inside.y2):
            continue
        for away in (4.0, 9.0, 15.0):
            for dx, dy in ((0, -1), (0, 1), (1, 0), (-1, 0)):
                box = Box.around(
                    spot[0] + dx * (width / 2 + away), spot[1] + dy * (height / 2 + away), width, height
                )
                if not canvas.free(box) or not holds(inside, box):
                    continue
                depth = (spot[1] - inside.y1) / (inside.y2 - inside.y1)
                cost = 4.0 * depth + 0.08 * away + (0.0 if dy < 0 else 0.4)
                # A curve that runs level reads best, with its name above.
                cost += 1.2 * min(3.0, abs(curve[index + 4][1] - curve[index - 4][1]) / 12)
                if best is None or cost < best[0]:  # counting what is crossed is the dear part
                    cost += 12.0 * canvas.crossings(box.grown(1))
                if best is None or cost < best[0]:
                    best = (cost, box)
    if best is None:
        return  # the curve lies below the window everywhere
    box = best[1]
    y = (box.y1 + box.y2) / 2
    # A dash of its colour tells two names apart where two curves run as one.
    canvas.add(
        f'<line x1="{number(box.x1)}" y1="{number(y)}" x2="{number(box.x1 + _SWATCH - 5)}" y2="{number(y)}" '
        f'stroke="{colour}" stroke-width="2.4"/>'
    )
    canvas.text((box.x1 + _SWATCH + box.x2) / 2, y, words, size=size)
    canvas.claim(box.grown(6))
