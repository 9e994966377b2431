"""A Frost diagram as SVG."""

from __future__ import annotations

from math import ceil, floor

from redoxlib.diagrams._canvas import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, Axis, Box, Canvas, number, say
from redoxlib.diagrams._frost import Frost

_DASHES = ("", "7 4", "2 3", "10 3 2 3")
_COLOURS = ("#c4502f", "#3d7ecb", "#7a8f3c", "#7d5ba6")


def draw(diagram: Frost) -> str:
    states = [float(p.state) for trace in diagram.traces for p in trace.points]
    volts = [p.volts.value for trace in diagram.traces for p in trace.points]
    step = _step(max(volts) - min(volts))
    room = 0.06 * (max(volts) - min(volts) or 1.0)
    low = floor((min(volts) - room) / step) * step
    high = ceil((max(volts) + room) / step) * step
    right = RIGHT + 120  # nothing goes into the margin unless a label finds no place at all
    x = Axis(min(states) - 0.45, max(states) + 0.45, LEFT, right, 1.0)
    y = Axis(low, high, BOTTOM, TOP, step)
    phs = " and ".join(f"{trace.ph:g}" for trace in diagram.traces)
    apart = [
        f"{', '.join(str(p.species) for p in trace.disproportionating) or 'none'} at pH {trace.ph:g}"
        for trace in diagram.traces
    ]
    canvas = Canvas(
        f"frost-{diagram.element}",
        f"{diagram.element}: Frost diagram at 25 °C, pH {phs}",
        f"Energy per atom against the element over oxidation state of {diagram.element} at pH {phs}. "
        f"Open to disproportionation: {'; '.join(apart)}.",
    )
    canvas.frame(x, y, "oxidation state", "nE / V", lambda v: f"{v:+g}" if v else "0")
    if low < 0 < high:
        canvas.line((x.start, y(0)), (x.end, y(0)), width=0.8, opacity=0.4)
    spots = []
    for index, trace in enumerate(diagram.traces):
        colour = _COLOURS[index % len(_COLOURS)]
        run = [(x(float(p.state)), y(p.volts.value)) for p in trace.points]
        canvas.path(run, width=1.6, dash=_DASHES[index % len(_DASHES)], colour=colour)
        hollow = set(trace.disproportionating)
        for point, (px, py) in zip(trace.points, run, strict=True):
            fill = "none" if point in hollow else colour
            canvas.add(
                f'<circle cx="{number(px)}" cy="{number(py)}" r="4" fill="{fill}" stroke="{colour}" '
                'stroke-width="1.6"/>'
            )
            canvas.claim(Box.around(px, py, 9, 9))
            spots.append(((px, py), say(point.species)))
    inside = Box(x.start + 2, y.end + 2, x.end - 2, y.start - 2)
    written: dict[tuple[int, int, str], None] = {}
    for spot, words in spots:
        at = (round(spot[0] / 3), round(spot[1] / 3), words)
        if at not in written:  # traces of two pH meet in one point: one label
            written[at] = None
            canvas.label_near(spot, words, within=inside)
    _key(canvas, diagram)
    return canvas.document()


def _step(span: float) -> float:
    return next(step for step in (0.2, 0.5, 1.0, 2.0, 5.0) if span / step <= 10 or step == 5.0)


def _key(canvas: Canvas, diagram: Frost) -> None:
    at = LEFT
    y = HEIGHT - 10
    for index, trace in enumerate(diagram.traces):
        colour = _COLOURS[index % len(_COLOURS)]
        dash = _DASHES[index % len(_DASHES)]
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        canvas.add(
            f'<line x1="{number(at)}" y1="{number(y)}" x2="{number(at + 30)}" y2="{number(y)}" '
            f'stroke="{colour}" stroke-width="1.6"{dashes}/>'
        )
        canvas.text(at + 38, y, f"pH {trace.ph:g}", size=12, anchor="start")
        at += 100
    canvas.text(at + 10, y, "open circle: can disproportionate", size=12, anchor="start")
