"""A comparison as a document: the job and its assumptions, the ranking, the first route, the rest.

May import: compare and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from redoxlib.compare import Comparison, Refusal, Setback
from redoxlib.job import CONTEXTS, CRITERIA, Job
from redoxlib.quantity import Quantity
from redoxlib.reports._document import (
    Block,
    Caution,
    Document,
    Facts,
    Heading,
    Note,
    Paragraph,
    Row,
    Table,
)
from redoxlib.reports._figures import number, place_name, signed_volts, sources_block
from redoxlib.reports._route import (
    CRITERION_NAMES,
    UNREVIEWED,
    half_life,
    refusal_facts,
    route_blocks,
    route_sources,
    span,
    unreviewed_blocks,
)
from redoxlib.routes import Route
from redoxlib.safety import DEFERRAL
from redoxlib.scoring import SCALES, TIE_POINTS, rank

__all__ = ["comparison_document", "job_facts"]


def comparison_document(comparison: Comparison, detail: str | None = None) -> Document:
    """Write a comparison: every line is a figure with its unit, or a reason with its source.

    ``detail`` is the key of the ranked oxidant to show in full; by default the first.
    """
    job = comparison.job
    blocks: list[Block] = [
        Heading("; ".join(c.text for c in job.conversions), 1),
        Facts((*job_facts(job), *ranking_facts(job))),
    ]
    blocks += _ranking(comparison)
    shown_route = _detailed(comparison, detail)
    if shown_route is not None:
        blocks += [Heading(f"In detail: {shown_route.oxidant.name}"), *route_blocks(shown_route)]
    blocks += _unreviewed(comparison.unreviewed)
    blocks += _stopped(comparison.refused)
    blocks += _set_back("Not feasible", comparison.infeasible)
    blocks += _set_back("Feasible, but inert or too slow", comparison.inert)
    blocks += _set_back("Undecided: data missing", comparison.undecided)
    blocks += sources_block(_sources(comparison, shown_route))
    blocks += [Heading("Before anything is weighed"), Note(DEFERRAL)]
    return Document(tuple(blocks))


def _detailed(comparison: Comparison, key: str | None) -> Route | None:
    if key is None:
        return comparison.routes[0] if comparison.routes else None
    route = comparison.route(key)
    return route if route in comparison.routes else None


def job_facts(job: Job) -> Iterator[tuple[str, str]]:
    """The job as it was understood: what was given and what was assumed."""
    yield "Job", f"{job.purpose}, pH {job.ph:g}, {job.temperature.to('C')}, {job.vessel} vessel"
    given = _given(job)
    if given:
        yield "Given", "; ".join(given)
    for c in job.conversions:
        amount = f", {c.amount}" if c.amount is not None else ""
        if amount or str(c) != c.text:
            yield "Conversion", f"{c}{amount}"
    assumed = [line for line in job.defaults if not line.startswith("weights:")]
    assumed += [note for c in job.conversions for note in c.assumptions]
    for place, line in enumerate(assumed):
        yield "" if place else "Assumed", line


def ranking_facts(job: Job) -> Iterator[tuple[str, str]]:
    """By what the routes of a job are ranked: weights and scales."""
    preset = f" ({job.context})" if job.context in CONTEXTS else ""
    yield "Weights", ", ".join(f"{CRITERION_NAMES[name]} {weight:g}" for name, weight in job.weights) + preset
    for place, name in enumerate(CRITERIA):
        yield "" if place else "Scales", _scale(name, job)
    if job.context and job.context not in CONTEXTS:
        text = (
            f"{job.context!r} is read as a circumstance, for the gate; it is none of the presets of weights"
        )
        yield "Context", f"{text} ({', '.join(CONTEXTS)})"


def _scale(name: str, job: Job) -> str:
    text = str(SCALES[name])
    if name == "mass" and job.purpose == "remove":
        from redoxlib.scoring import REMOVE_MASS

        text = str(REMOVE_MASS)
    return CRITERION_NAMES[name] + text.removeprefix(name)


def _given(job: Job) -> list[str]:
    lines = []
    for key in (
        "feed",
        "amount",
        "concentration",
        "acid",
        "base",
        "pot_mass",
        "cooling",
        "room",
        "time",
        "context",
    ):
        value = getattr(job, key)
        if value is not None:
            lines.append(f"{key.replace('_', ' ')} {value}")
    if job.bottles:
        lines.append("bottles: " + ", ".join(job.bottles))
    if job.oxidants:
        lines.append("oxidants: " + ", ".join(job.oxidants))
    if job.impurities:
        lines.append("impurities: " + ", ".join(f"{species} {amount}" for species, amount in job.impurities))
    if job.addition:
        lines.append("addition: " + ", then ".join(job.addition))
    if job.excess != 0.10:
        lines.append(f"excess {100 * job.excess:g} %")
    if job.potable:
        lines.append("for drinking")
    return lines


def _ranking(comparison: Comparison) -> Iterator[Block]:
    tried = len(comparison.verdicts)
    yield Heading(f"Ranked: {len(comparison.routes)} of {tried}")
    if not comparison.routes:
        yield Paragraph("No oxidant is left to rank; the reasons follow.")
        yield from _shelf(comparison)
        return
    mass = "g/g" if comparison.job.purpose == "remove" else "kg/kg"
    rows = []
    for_all = _common_warnings(comparison.routes)
    for_most = _frequent_warnings(comparison.routes, for_all)
    for group in comparison.ranked:
        for route in group:
            place = place_name(comparison.place(route.oxidant.key) or 0, len(group) > 1)
            own = tuple(text for text in route.warnings if text not in for_all and text not in for_most)
            rows.append(Row((place, *_ranked_cells(route)), own))
    for text in for_all:
        yield Caution(f"Every route below: {text}")
    for text, keys in for_most.items():
        yield Caution(f"{len(keys)} of the routes below ({', '.join(keys)}): {text}")
    yield Table(
        ("", "oxidant", "points", "mass", "waste", "rise", "side risk", "E", "kinetics"),
        tuple(rows),
        ("", "", "0 best", mass, "g tier", "K", "mol tier", "V", ""),
        frozenset({2, 3, 4, 5, 7}),
    )
    yield from _shelf(comparison)
    yield from _reading(comparison)


def _shelf(comparison: Comparison) -> Iterator[Block]:
    """Where the oxidants stand that the declared bottles hold; nothing where no bottles are declared."""
    if not comparison.job.bottles:
        return
    told = []
    for key in comparison.on_shelf:
        place = comparison.place(key)
        told.append(f"{key} (place {place})" if place is not None else f"{key} (not ranked)")
    yield Facts((("On the shelf", ", ".join(told) or "none of the oxidants compared"),))


def _common_warnings(routes: Sequence[Route]) -> tuple[str, ...]:
    """Cautions that every ranked route carries; with one route there is nothing to share."""
    if len(routes) < 2:
        return ()
    return tuple(text for text in routes[0].warnings if all(text in route.warnings for route in routes))


_MANY = 6
"""Routes from which on a caution that more than half of them carry is told once, with their names."""


def _frequent_warnings(routes: Sequence[Route], for_all: Sequence[str]) -> dict[str, list[str]]:
    """Cautions that more than half of many routes carry, each with the keys of its routes."""
    if len(routes) < _MANY:
        return {}
    carried: dict[str, list[str]] = {}
    for route in routes:
        for text in dict.fromkeys(route.warnings):
            if text not in for_all:
                carried.setdefault(text, []).append(route.oxidant.key)
    return {text: keys for text, keys in carried.items() if 2 * len(keys) > len(routes)}


def _ranked_cells(route: Route) -> tuple[str, ...]:
    mass, waste, heat, risk = route.mass_efficiency, route.by_products, route.exotherm, route.side_risk
    rise = heat.rise if heat is not None else None
    speed = route.kinetics
    if route.half_life_s is not None:
        speed += f" {half_life(route)}"
    return (
        route.oxidant.key,
        f"{route.score.total:.1f}" if route.score else "",
        number(mass.ranked) if mass else "unknown",
        number(waste.weighted) if waste else "unknown",
        f"{rise.value:.0f}" if isinstance(rise, Quantity) else "unknown",
        span(risk.low, risk.high).replace(" to ", "-") if risk else "unknown",
        signed_volts(route.cell_potential),
        speed,
    )


def _reading(comparison: Comparison) -> Iterator[Block]:
    """How to read the columns, and how far the order can be trusted."""
    job = comparison.job
    if job.purpose == "remove":
        mass = "g of chemicals charged and sludge left, per g removed"
    else:
        mass = "kg charged, without water, per kg of product"
    yield Note(
        "points: weighted mean of the four, 0 best; '=' marks a tie, within "
        f"{TIE_POINTS:g} point or the uncertainty of the figures. mass: {mass}. waste: by-products, "
        "left-over oxidant and a tenth of charged CMR substance, g times hazard tier per mol of product. "
        "rise: adiabatic, all at once. side risk: mol lost times hazard tier per mol of product, from the "
        f"favourable to the unfavourable end, which is scored. E: of the cell at pH {job.ph:g}, other "
        "activities 1. kinetics: fast below 10 min half-life, slow below 24 h; where the pace is unknown a "
        "route stands after the others. A line with ! or Caution is the gate's, on the route above "
        "it or on those it names."
    )
    routes = comparison.routes
    if len(routes) > 1:
        yield Facts(
            (
                *_one_chemistry(comparison),
                ("Not beaten on all", ", ".join(r.oxidant.key for r in _undominated(routes))),
                ("Weights ± 20 %", _sensitivity(comparison)),
                *_weightings(comparison),
            )
        )


def _one_chemistry(comparison: Comparison) -> list[tuple[str, str]]:
    """Bottles that bring the same oxidising species, the best-placed first."""
    told = [
        f"{group[0].oxidant.key}: {', '.join(r.oxidant.key for r in group[1:])}"
        for group in comparison.alike
        if len(group) > 1
    ]
    return [("Same chemistry", "; ".join(told))] if told else []


def _weightings(comparison: Comparison) -> list[tuple[str, str]]:
    """Who leads over all weightings, in sentences; nothing where no pace is known."""
    if not any(route.kinetics != "unknown" for route in comparison.routes):
        return []
    told = [s for s in comparison.decision().sentences() if "raised or lowered" not in s]
    shares = [s for s in told if "is first in" in s][:3]
    other = [s for s in told if "is first in" not in s][:1]
    return [("All weightings", "; ".join(shares + other))]


def _undominated(routes: Sequence[Route]) -> list[Route]:
    """Routes no other is at least as good as on all four criteria and better on one."""
    points = {r.oxidant.key: dict(r.score.points) for r in routes if r.score is not None}

    def beaten(key: str) -> bool:
        mine = points[key]
        return any(
            all(other[c] <= mine[c] for c in CRITERIA) and any(other[c] < mine[c] - 1e-9 for c in CRITERIA)
            for name, other in points.items()
            if name != key
        )

    return [r for r in routes if r.oxidant.key in points and not beaten(r.oxidant.key)]


def _sensitivity(comparison: Comparison) -> str:
    """What becomes of the first places when one weight at a time is a fifth up or down."""
    before = _leaders(comparison.ranked)
    changes: dict[str, None] = {}
    for criterion in CRITERIA:
        for factor in (0.8, 1.2):
            routes = [_reweighted(route, criterion, factor) for route in comparison.routes]
            # In the order of the comparison: routes of unknown pace stand after the others.
            known = rank([route for route in routes if route.kinetics != "unknown"])
            after = _leaders(known + rank([route for route in routes if route.kinetics == "unknown"]))
            if after != before:
                first = ", ".join("=".join(group) for group in after)
                changes[f"{CRITERION_NAMES[criterion]} x {factor:g}: {first}"] = None
    if not changes:
        return f"one at a time leaves the first {_LEADERS} places as they are"
    return f"first {_LEADERS} places change with " + "; ".join(changes)


_LEADERS = 3


def _leaders(groups: Sequence[Sequence[Route]]) -> list[list[str]]:
    """Keys of the groups that hold the first places; within a tie the order says nothing."""
    found: list[list[str]] = []
    for group in groups:
        if sum(map(len, found)) >= _LEADERS:
            break
        found.append(sorted(route.oxidant.key for route in group))
    return found


def _reweighted(route: Route, criterion: str, factor: float) -> Route:
    if route.score is None:
        return route
    weights = dict(route.job.weights)
    weights[criterion] *= factor
    total = sum(weights.values()) or 1.0
    mean = sum(weights[c] * dict(route.score.points)[c] for c in CRITERIA) / total
    return replace(route, score=replace(route.score, total=mean))


def _unreviewed(routes: Sequence[Route]) -> Iterator[Block]:
    if not routes:
        return
    yield Heading("Not reviewed: no dosing, no sheet")
    yield Paragraph(UNREVIEWED)
    for route in routes:
        yield Heading(route.oxidant.name, 3)
        yield from unreviewed_blocks(route)


def _stopped(refusals: Sequence[Refusal]) -> Iterator[Block]:
    if not refusals:
        return
    yield Heading("Stopped by the gate")
    groups: dict[tuple[str, str, str, str], list[str]] = {}
    for r in refusals:
        groups.setdefault((r.rule, r.reason, r.source, r.safer), []).append(r.oxidant.name)
    for reason, names in groups.items():
        yield Facts((("Stopped", ", ".join(names)), *refusal_facts(*reason)))


def _set_back(title: str, setbacks: Sequence[Setback]) -> Iterator[Block]:
    if not setbacks:
        return
    yield Heading(title)
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for s in setbacks:
        keys = tuple(
            dict.fromkeys(key.strip() for text in s.sources for key in text.split(";") if key.strip())
        )
        groups.setdefault((s.reason, keys), []).append(s.oxidant.key)
    looked = title.startswith("Undecided")
    rows = tuple(
        Row((", ".join(names), reason, " ".join(keys if looked else (f"[{key}]" for key in keys))))
        for (reason, keys), names in groups.items()
    )
    if any(keys for _, keys in groups):
        yield Table(("oxidant", "reason", "looked in" if looked else "source"), rows)
    else:
        yield Table(("oxidant", "reason"), tuple(Row(row.cells[:2]) for row in rows))


def _sources(comparison: Comparison, detailed: Route | None) -> tuple[str, ...]:
    keys = list(route_sources(detailed)) if detailed is not None else []
    keys += [key for setback in comparison.inert for key in setback.sources]
    return tuple(dict.fromkeys(keys))
