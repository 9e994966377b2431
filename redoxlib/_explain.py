"""Sentences that say why one oxidant stands above another, built from the figures.

May import: scoring and below; takes the comparison as an argument.
"""

from __future__ import annotations

from redoxlib.job import CRITERIA
from redoxlib.measures import Channel
from redoxlib.quantity import Quantity
from redoxlib.routes import Route
from redoxlib.scoring import TIE_POINTS, spans

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
    lines = [_headline(comparison, left, right, place_a, place_b)]
    lines += _criteria(left, right)
    lines += _pace(left, right)
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
    place = comparison.place(route.oxidant.key)
    return f"{route.oxidant.name} stands in place {place} with {total:.1f} penalty points."


def _headline(comparison: Comparison, a: Route, b: Route, place_a: int, place_b: int) -> str:
    if a.score is None or b.score is None:
        return ""
    first, second = f"{a.score.total:.1f}", f"{b.score.total:.1f}"
    if place_a == place_b:
        tie = (
            f"{a.oxidant.name} and {b.oxidant.name} tie in place {place_a} with {first} and {second} points: "
        )
        gap = abs(a.score.total - b.score.total)
        if gap < max(TIE_POINTS, (a.score.spread**2 + b.score.spread**2) ** 0.5):
            return f"{tie}less than the {TIE_POINTS:g} point or the uncertainty that counts as a difference."
        low, high = sorted((a, b), key=_total)
        known = _low(high) - _low(low)
        if known <= 0:
            what = _unknown(high)
            return (
                f"{tie}with every unknown at its favourable end they have {_low(a):.1f} and {_low(b):.1f}, "
                "so only what is unknown sets them apart" + (f", above all {what}." if what else ".")
            )
        return f"{tie}each ties with the first of the group, {_first(comparison, place_a)}."
    if (a.kinetics == "unknown") != (b.kinetics == "unknown") and _total(a) >= _total(b):
        return (
            f"{a.oxidant.name} (place {place_a}, {first} penalty points) stands above {b.oxidant.name} "
            f"(place {place_b}, {second}) although it has more points, because nobody has published the pace "
            f"of {b.oxidant.name} here."
        )
    return (
        f"{a.oxidant.name} (place {place_a}, {first} penalty points) stands above {b.oxidant.name} "
        f"(place {place_b}, {second})."
    )


def _total(route: Route) -> float:
    return route.score.total if route.score else 0.0


def _low(route: Route) -> float:
    return route.score.total_low if route.score else 0.0


def _first(comparison: Comparison, place: int) -> str:
    for group in comparison.ranked:
        if comparison.place(group[0].oxidant.key) == place:
            return min(group, key=_total).oxidant.name
    return ""


def _unknown(route: Route) -> str:
    """The unknown that carries most points of a route, empty where there is none."""
    wide = [
        (weight * (span.high - span.low), max(span.causes, key=lambda c: abs(c[1]))[0])
        for (_, weight), span in zip(route.job.weights, spans(route), strict=True)
        if span.causes and span.high == span.points
    ]
    return max(wide)[1] if wide else ""


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
        if f"{s.low:.2f}" == f"{s.high:.2f}":
            return f"{s.high:.2f} mol x tier per mol"
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


def _pace(a: Route, b: Route) -> list[str]:
    said = [r.kinetics_note if r.half_life_s is not None else f"{r.kinetics}" for r in (a, b)]
    where = {r.half_life_at for r in (a, b) if r.half_life_s is not None}
    short = [text.removesuffix(f" {at}") for text in said for at in where] if len(where) == 1 else said
    if short[0] == short[1]:
        return []
    return [f"  pace: {short[0]} against {short[1]}, without points of its own."]


def _decisive(a: Route, b: Route) -> list[str]:
    """The channel in which the two differ most; each route's heaviest where that is another."""
    if a.side_risk is None or b.side_risk is None:
        return []
    mine = {(c.kind, c.text): c for c in a.side_risk.channels}
    theirs = {(c.kind, c.text): c for c in b.side_risk.channels}

    def gap(key: tuple[str, str]) -> float:
        return (theirs[key].high if key in theirs else 0.0) - (mine[key].high if key in mine else 0.0)

    keys = sorted({*mine, *theirs}, key=lambda k: (-abs(gap(k)), k))
    lines, told = [], set()
    if keys and abs(gap(keys[0])) >= 0.005:
        key = keys[0]
        who, channel = (b, theirs[key]) if gap(key) > 0 else (a, mine[key])
        told.add((who.oxidant.key, channel.text))
        lines.append(
            f"  Side channel that decided between them: with {who.oxidant.name}, {_channel(channel)}; "
            f"it counts {channel.high:.2f}, {abs(gap(key)):.2f} more than with the other."
        )
    for route in (a, b):
        heaviest = route.side_risk.decisive if route.side_risk else None
        if heaviest is not None and (route.oxidant.key, heaviest.text) not in told:
            lines.append(f"  Side channel that weighs most for {route.oxidant.name}: {_channel(heaviest)}.")
    return lines


def _channel(c: Channel) -> str:
    drive = f", drive {c.drive_v:+.2f} V ({c.state})" if c.drive_v is not None else f" ({c.state})"
    low, high = c.gate
    if (low, high) == (0.0, 1.0):
        gate = "pace unknown, so none to all of it"
    elif f"{low:.2g}" == f"{high:.2g}":
        gate = f"{100 * high:.0f} % of it counted"
    else:
        gate = f"{100 * low:.0f} to {100 * high:.0f} % of it counted"
    more = f" ({c.detail})" if c.detail else ""
    return f"{c.text}{drive}, {c.jumped:.2g} mol per mol at the worst dose, {gate}{more}"


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
