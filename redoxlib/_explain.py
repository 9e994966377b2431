"""Sentences that say why one oxidant stands above another, built from the figures.

May import: scoring and below; takes the comparison as an argument.
"""

from __future__ import annotations

from redoxlib.job import CRITERIA
from redoxlib.measures import Channel
from redoxlib.quantity import Quantity
from redoxlib.routes import Route

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.compare import Comparison

__all__ = ["explain"]

_SAYS = {
    "mass": "mass",
    "by_products": "by-products",
    "exotherm": "heat",
    "side_risk": "side products",
}


def explain(comparison: Comparison, a: str, b: str) -> str:
    """Compare two oxidants of a comparison; either may be one that was left out."""
    left, right = _find(comparison, a), _find(comparison, b)
    if isinstance(left, str) or isinstance(right, str):
        return "\n".join(x if isinstance(x, str) else _ranked(comparison, x) for x in (left, right))
    place_a, place_b = comparison.place(left.oxidant.key), comparison.place(right.oxidant.key)
    if place_a is None or place_b is None:
        return "\n".join(f"{r.oxidant.name}: not reviewed, so it has no place." for r in (left, right))
    if place_a > place_b:
        left, right, place_a, place_b = right, left, place_b, place_a
    lines = [_headline(left, right, place_a, place_b)]
    lines += _criteria(left, right)
    lines += _decisive(left, right)
    lines += _would_turn(left, right)
    return "\n".join(lines)


def _find(comparison: Comparison, key: str) -> Route | str:
    for route in (*comparison.routes, *comparison.unreviewed):
        if key.lower() in (route.oxidant.key.lower(), route.oxidant.name.lower()):
            return route
    for refusal in comparison.refused:
        if key.lower() in (refusal.oxidant.key.lower(), refusal.oxidant.name.lower()):
            safer = f" Safer: {refusal.safer}" if refusal.safer else ""
            return f"{refusal.oxidant.name} was stopped by rule {refusal.rule}: {refusal.reason}{safer}"
    for setback in (*comparison.infeasible, *comparison.inert, *comparison.undecided):
        if key.lower() in (setback.oxidant.key.lower(), setback.oxidant.name.lower()):
            return f"{setback.oxidant.name} is {setback.verdict}: {setback.reason}."
    comparison.route(key)  # raises with the names that were compared
    raise AssertionError("unreachable")


def _ranked(comparison: Comparison, route: Route) -> str:
    if comparison.place(route.oxidant.key) is None:
        return f"{route.oxidant.name}: not reviewed, so it has no place."
    total = route.score.total if route.score else 0.0
    return (
        f"{route.oxidant.name} stands in place {comparison.place(route.oxidant.key)} with {total:.1f} points."
    )


def _headline(a: Route, b: Route, place_a: int, place_b: int) -> str:
    if a.score is None or b.score is None:
        return ""
    first, second = f"{a.score.total:.1f}", f"{b.score.total:.1f}"
    if place_a == place_b:
        return (
            f"{a.oxidant.name} and {b.oxidant.name} tie in place {place_a}: {first} and {second} "
            "penalty points differ by less than the figures can tell apart."
        )
    return (
        f"{a.oxidant.name} (place {place_a}, {first} penalty points) stands above {b.oxidant.name} "
        f"(place {place_b}, {second})."
    )


def figure(route: Route, criterion: str) -> str:
    """The figure behind a criterion, with its unit."""
    if criterion == "mass" and route.mass_efficiency is not None:
        m = route.mass_efficiency
        return f"{m.ranked:.2f} {m.unit}"
    if criterion == "by_products" and route.by_products is not None:
        return f"{route.by_products.weighted:.0f} g x tier per mol"
    if criterion == "exotherm" and route.exotherm is not None:
        rise = route.exotherm.rise
        return f"{rise.value:.3g} K adiabatic" if isinstance(rise, Quantity) else "heat unknown"
    if criterion == "side_risk" and route.side_risk is not None:
        s = route.side_risk
        return f"{s.low:.2f} to {s.high:.2f} mol x tier per mol"
    return "unknown"


def _criteria(a: Route, b: Route) -> list[str]:
    if a.score is None or b.score is None:
        return []
    weights = dict(a.job.weights)
    total = sum(weights.values())
    points_a, points_b = dict(a.score.points), dict(b.score.points)
    gaps = sorted(CRITERIA, key=lambda c: -abs(weights[c] * (points_b[c] - points_a[c])))
    lines = []
    for c in gaps:
        gap = weights[c] * (points_b[c] - points_a[c]) / total
        if abs(gap) < 0.05:
            lines.append(f"  {_SAYS[c]}: equal ({figure(a, c)}).")
            continue
        who = a if gap > 0 else b
        lines.append(
            f"  {_SAYS[c]}: {figure(a, c)} against {figure(b, c)}; "
            f"{abs(gap):.1f} points in favour of {who.oxidant.name}."
        )
    return lines


def _decisive(a: Route, b: Route) -> list[str]:
    lines = []
    for route in (a, b):
        channel = route.side_risk.decisive if route.side_risk else None
        if channel is not None:
            lines.append(f"  Side channel that weighs most for {route.oxidant.name}: {_channel(channel)}.")
    return lines


def _channel(c: Channel) -> str:
    drive = f", drive {c.drive_v:+.2f} V ({c.state})" if c.drive_v is not None else f" ({c.state})"
    gate = (
        "rate unknown, taken from 0 to 1" if c.gate == (0.0, 1.0) else f"gate {c.gate[0]:g} to {c.gate[1]:g}"
    )
    return f"{c.text}{drive}, {c.jumped:.2g} mol per mol when over-dosed, {gate}"


def _would_turn(a: Route, b: Route) -> list[str]:
    """What weight alone would reverse the order."""
    if a.score is None or b.score is None or a.score.total == b.score.total:
        return []
    weights = dict(a.job.weights)
    points_a, points_b = dict(a.score.points), dict(b.score.points)
    lead = {c: points_b[c] - points_a[c] for c in CRITERIA}
    turns = []
    for c in CRITERIA:
        rest = sum(weights[k] * lead[k] for k in CRITERIA if k != c)
        if lead[c] < 0 < rest:
            turns.append(f"a weight of {rest / -lead[c]:.2g} instead of {weights[c]:g} on {_SAYS[c]}")
    if turns:
        return [f"  The order would turn with {' or '.join(turns)}."]
    if all(v >= 0 for v in lead.values()):
        return [f"  {a.oxidant.name} is no worse on any criterion, so no weights would turn the order."]
    return []
