"""Two drawings for a plan: dosing against time, and the temperatures between which the work has to stay.

May import: bench, diagrams and below, this package.
"""

from __future__ import annotations

from math import floor, log10

from redoxlib.bench import BenchPlan, Simulation
from redoxlib.diagrams import Axis, Canvas
from redoxlib.quantity import Quantity
from redoxlib.reports._document import Picture

__all__ = ["heat_picture", "window_picture"]

_LEFT, _END = 72.0, 720.0
_POT, _DOSED, _PILED = "#a8482a", "#2f6db5", "#6d4f99"
"""Temperature, share dosed, share accumulated: told apart by their dashes as well."""


def heat_picture(run: Simulation, boils_c: float | None) -> Picture:
    """Temperature above, shares dosed and accumulated below, against time."""
    caption = "Dosing against time"
    last = run.minutes[-1]
    said = (
        f"the pot starts at {run.celsius[0]:.1f} C and is hottest at {run.peak_c:.1f} C; at most "
        f"{100 * run.accumulation:.0f} % of the reaction is dosed and not yet done; dosing and reaction are "
        f"followed for {last:.3g} min; pace: {run.assumed}"
    )
    canvas = Canvas("dosing", caption, f"{said}.")
    x = Axis(0.0, last, _LEFT, _END, _step(last))
    low, high = min(run.celsius), max(run.celsius)
    if boils_c is not None and boils_c - high < 25.0:
        high = max(high, boils_c)
    room = max(2.0, 0.08 * (high - low))
    y = Axis(floor(low - room), high + room, 268.0, 48.0, _step(high - low + 2 * room))
    share = Axis(0.0, 1.0, 500.0, 320.0, 0.25)
    canvas.frame(x, y, "", "pot, °C")
    canvas.frame(x, share, "min", "share", titled=False)
    canvas.path([(x(t), y(c)) for t, c in _thinned(run, run.celsius)], width=2.0, colour=_POT)
    if boils_c is not None and boils_c <= y.high:
        canvas.line((x.start, y(boils_c)), (x.end, y(boils_c)), dash="8 4")
        canvas.text(x.end - 6, y(boils_c) - 9, "the mixture boils", size=12, anchor="end")
    canvas.path([(x(t), share(s)) for t, s in _thinned(run, run.dosed)], width=2.0, colour=_DOSED)
    canvas.path(
        [(x(t), share(s)) for t, s in _thinned(run, run.accumulated)], width=2.0, dash="6 3", colour=_PILED
    )
    canvas.text(
        x.start + 8, 308.0, "dosed: whole line; dosed and not yet reacted: dashes", size=12, anchor="start"
    )
    return Picture(canvas.document(), caption, f"{said}.")


def _thinned(run: Simulation, values: tuple[float, ...]) -> list[tuple[float, float]]:
    """At most some two hundred points: no screen or sheet shows more."""
    points = list(zip(run.minutes, values, strict=True))
    step = max(1, len(points) // 200)
    return [*points[:-1:step], points[-1]]


def _step(span: float) -> float:
    """A round distance between ticks that makes four to ten of them."""
    size = 10.0 ** floor(log10(max(span, 1e-9) / 4.0))
    return next(size * by for by in (1.0, 2.0, 5.0, 10.0) if span / (size * by) <= 10.0)


_ROWS = (
    ("pot while dosing", "start", "sim.peak.C"),
    ("pot if cooling fails, all in at once", "start", "heat.mtsr.C"),
    ("coolant that works", "condenser.coldest.C", "condenser.warmest.C"),
    ("the mixture boils", "heat.boiling.C", "heat.boiling.C"),
    ("product and water boil together", "distil.boiling.C", "distil.boiling.C"),
    ("the same once the product is gone", "distil.late.C", "distil.late.C"),
    ("TD24 must lie above, for class 1", "heat.td24_needed.C", "heat.td24_needed.C"),
)


def window_picture(plan: BenchPlan) -> Picture | None:
    """The temperatures of a plan on one scale; None where fewer than two of them are known."""
    start = plan.route.job.temperature.to("C").value
    found = []
    for label, low_key, high_key in _ROWS:
        low = start if low_key == "start" else _celsius(plan, low_key)
        high = _celsius(plan, high_key)
        if low is not None and high is not None:
            found.append((label, min(low, high), max(low, high)))
    if len(found) < 2:
        return None
    said = "; ".join(
        f"{label} {low:.0f} C" if high - low < 0.5 else f"{label} {low:.0f} to {high:.0f} C"
        for label, low, high in found
    )
    caption = "Temperature window"
    canvas = Canvas("window", caption, f"{said}.")
    span = max(high for _, _, high in found) - min(low for _, low, _ in found)
    x = Axis(
        floor(min(low for _, low, _ in found) - 0.05 * span - 1),
        max(high for _, _, high in found) + 0.05 * span + 1,
        300.0,
        _END,
        _step(1.1 * span + 2),
    )
    y = Axis(0.5, 1.5, 58.0 + 40.0 * len(found), 48.0, 10.0)  # no ticks: the rows have names
    canvas.frame(x, y, "°C", "")
    for place, (label, low, high) in enumerate(found):
        at = 74.0 + 40.0 * place
        canvas.text(288.0, at, label, size=13, anchor="end")
        if high - low < 0.5:
            canvas.line((x(low), at - 13), (x(low), at + 13), width=3.0)
        else:
            canvas.add(
                f'<rect x="{x(low):.2f}" y="{at - 8:.2f}" width="{x(high) - x(low):.2f}" '
                f'height="16" fill="currentColor" fill-opacity="0.35" stroke="currentColor"/>'
            )
    return Picture(canvas.document(height=130.0 + 40.0 * len(found)), caption, f"{said}.")


def _celsius(plan: BenchPlan, key: str) -> float | None:
    entry = plan.entries.get(key)
    return entry.value.value if entry is not None and isinstance(entry.value, Quantity) else None
