"""A predominance diagram as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, floor, hypot, radians, sin

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
    number,
    say,
    tint,
)
from redoxlib.diagrams._predominance import Predominance, Region, is_solid, water_lines

_SIZES = (15.0, 13.0, 11.0)


def draw(diagram: Predominance) -> str:
    window = diagram.window
    x = Axis(*window.ph, LEFT, RIGHT, 1.0 if window.ph[1] - window.ph[0] <= 16 else 2.0)
    y = Axis(*window.volts, BOTTOM, TOP, 0.2 if window.volts[1] - window.volts[0] <= 2 else 0.4)
    activity = f"{diagram.activity:g} mol/kg"
    names = ", ".join(str(region.species) for region in diagram.regions)
    canvas = Canvas(
        f"predominance-{diagram.element}",
        f"{diagram.element} at 25 °C, dissolved species at {activity}",
        f"Potential-pH predominance diagram of {diagram.element}. Predominant somewhere between pH "
        f"{window.ph[0]:g} and {window.ph[1]:g} and {window.volts[0]:g} and {window.volts[1]:g} V against "
        f"the standard hydrogen electrode, the most oxidised first: {names}. Hatched regions are solids or "
        "liquids; dashed lines are the limits of water.",
    )
    canvas.add(
        f'<defs><pattern id="rlx-{canvas.name}-hatch" width="7" height="7" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="7" stroke="currentColor" '
        'stroke-width="1" stroke-opacity="0.16"/></pattern></defs>'
    )
    states = [region.state for region in diagram.regions]
    span = max(states) - min(states) or 1.0
    shapes = {r.species: [(x(ph), y(volts)) for ph, volts in r.corners] for r in diagram.regions}
    for region in diagram.regions:
        points = " ".join(f"{number(px)},{number(py)}" for px, py in shapes[region.species])
        colour = tint((region.state - min(states)) / span)
        canvas.add(f'<polygon points="{points}" fill="{colour}" fill-opacity="0.22"/>')
        if is_solid(region.species):
            canvas.add(f'<polygon points="{points}" fill="url(#rlx-{canvas.name}-hatch)"/>')
    for boundary in diagram.boundaries:
        canvas.line(
            (x(boundary.start[0]), y(boundary.start[1])),
            (x(boundary.end[0]), y(boundary.end[1])),
            width=1.3,
        )
    water = [(name, (x(a[0]), y(a[1])), (x(b[0]), y(b[1]))) for name, a, b in water_lines(window)]
    for _, start, end in water:
        canvas.line(start, end, width=1.0, dash="6 5", opacity=0.7)
        canvas.lines.append((start, end))
    canvas.frame(x, y, "pH", "E / V against SHE")
    homeless = [
        region
        for region in diagram.regions
        if _place(canvas, shapes[region.species], say(region.species)) is None
    ]
    margin = [(end, name.replace("2", "₂")) for name, _, end in water]
    margin += [(_deepest(shapes[r.species]), say(r.species)) for r in homeless]
    canvas.outside(margin)
    for region in sorted(diagram.regions, key=lambda r: _area(shapes[r.species])):
        if region in homeless:
            continue
        _write(canvas, shapes[region.species], region)
    _key(canvas)
    return canvas.document()


def _key(canvas: Canvas) -> None:
    """What the hatching and the dashes mean, at the foot of the margin."""
    canvas.text(
        LEFT, BOTTOM + 58, "hatched: solid or liquid · dashed: limits of water", size=11, anchor="start"
    )


def _write(canvas: Canvas, shape: Sequence[Spot], region: Region) -> None:
    words = say(region.species)
    found = _place(canvas, shape, words)
    if found is None:  # the hair lines of the margin took the only place
        canvas.outside([(_deepest(shape), words)])
        return
    spot, size, turned = found
    canvas.text(*spot, words, size=size, turned=turned)
    canvas.claim(_around(_corners(spot, words, size, turned)))


def _corners(spot: Spot, words: str, size: float, turned: float, room: float = 0.0) -> list[Spot]:
    """Corners of a label with some room around it, turned about its middle."""
    half, tall = extent(words, size) / 2 + room, size * 0.625 + room
    c, s = cos(radians(turned)), sin(radians(turned))
    return [
        (spot[0] + dx * c - dy * s, spot[1] + dx * s + dy * c)
        for dx, dy in ((-half, -tall), (half, -tall), (half, tall), (-half, tall))
    ]


def _around(corners: Sequence[Spot]) -> Box:
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _turns(shape: Sequence[Spot]) -> list[float]:
    """Level, along the longest slanting edge (a band between two lines), upright."""
    slanting = [
        (hypot(b[0] - a[0], b[1] - a[1]), degrees(atan2(b[1] - a[1], b[0] - a[0]))) for a, b in _edges(shape)
    ]
    turns = [(length, (angle + 90) % 180 - 90) for length, angle in slanting]
    leaning = [(length, angle) for length, angle in turns if 1 < abs(angle) < 60]
    return [0.0, *([max(leaning)[1]] if leaning else []), -90.0]


def _place(canvas: Canvas, shape: Sequence[Spot], words: str) -> tuple[Spot, float, float] | None:
    """The roomiest place in a convex region where a label fits: the largest letters, level if possible."""
    best: tuple[tuple[float, ...], Spot, float, float] | None = None
    spots = list(_grid(shape))
    for rank, (turned, size) in enumerate((t, s) for t in _turns(shape) for s in _SIZES):
        for spot in spots:
            corners = _corners(spot, words, size, turned, 2.5)
            if not all(_inside(shape, corner) for corner in corners):
                continue
            box = _around(corners)
            if not canvas.free(box):
                continue
            crossed = _crossings(canvas, corners) if turned else canvas.crossings(box)
            score = (-crossed, -rank, _room(shape, spot))
            if best is None or score > best[0]:
                best = (score, spot, size, turned)
        if best is not None and best[0][0] == 0:
            break
    return None if best is None else best[1:]


def _crossings(canvas: Canvas, corners: Sequence[Spot]) -> int:
    """How many strokes run through a turned label."""
    edges = _edges(corners)

    def enters(a: Spot, b: Spot) -> bool:
        if _inside(corners, a) or _inside(corners, b):
            return True
        return any(
            _side(a, b, p) * _side(a, b, q) < 0 and _side(p, q, a) * _side(p, q, b) < 0 for p, q in edges
        )

    return sum(enters(a, b) for a, b in canvas.lines)


def _grid(shape: Sequence[Spot], steps: int = 26) -> list[Spot]:
    xs, ys = [p[0] for p in shape], [p[1] for p in shape]
    return [
        (min(xs) + (max(xs) - min(xs)) * (i + 0.5) / steps, min(ys) + (max(ys) - min(ys)) * (j + 0.5) / steps)
        for i in range(steps)
        for j in range(steps)
    ]


def _edges(shape: Sequence[Spot]) -> list[tuple[Spot, Spot]]:
    return list(zip(shape, [*shape[1:], shape[0]], strict=True))


def _side(a: Spot, b: Spot, p: Spot) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _inside(shape: Sequence[Spot], p: Spot) -> bool:
    sides = [_side(a, b, p) for a, b in _edges(shape)]
    return all(s >= 0 for s in sides) or all(s <= 0 for s in sides)


def _room(shape: Sequence[Spot], p: Spot) -> float:
    """Distance to the nearest edge, whole pixels: ties are decided by the order of the grid."""
    reach = [
        abs(_side(a, b, p)) / length for a, b in _edges(shape) if (length := hypot(b[0] - a[0], b[1] - a[1]))
    ]
    return float(floor(min(reach, default=0.0)))


def _deepest(shape: Sequence[Spot]) -> Spot:
    """A spot well inside, towards the right, where the margin is."""
    inside = [p for p in _grid(shape) if _inside(shape, p)]
    if not inside:
        return sum(p[0] for p in shape) / len(shape), sum(p[1] for p in shape) / len(shape)
    deepest = max(_room(shape, p) for p in inside)
    return max((p for p in inside if _room(shape, p) >= 0.7 * deepest), key=lambda p: p[0])


def _area(shape: Sequence[Spot]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in _edges(shape))) / 2
