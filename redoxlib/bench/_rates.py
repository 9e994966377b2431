"""The pace of a route at the bench: published rate laws at the declared pH, or none.

Verbs: rate_terms, accumulation_bound.  May import: routes and below.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import exp, log

from redoxlib._laws import FAR_K, at_one_temperature
from redoxlib.bench._liquor import HYDROXIDE, PROTON
from redoxlib.data import RateRow, Tables
from redoxlib.routes import Route, bare, parsed, recalled

__all__ = ["FAST_S", "RateTerm", "accumulation_bound", "rate_rows", "rate_terms"]

FAST_S = 600.0
"""Half-life below which a reaction is called fast, s; what a verdict "fast" without a rate promises."""

_FACTOR = re.compile(r"\[([^\]]+)\](?:\^([0-9]))?")


@dataclass(frozen=True, slots=True)
class RateTerm:
    """One term of a rate law at a fixed pH: k [oxidant]^m [feed]^n, mol/(L s)."""

    k: float
    oxidant_order: int
    feed_order: int
    text: str
    direction: str
    sources: tuple[str, ...]


def rate_terms(route: Route, tables: Tables) -> tuple[RateTerm, ...]:
    """Published terms for the first conversion of a route; the exact ones, else lower bounds, else none.

    The constants are those of the temperature in their row, which the text names; none is shifted.  One that
    is only recalled counts where it alone makes the route slow, at the low end of its uncertainty: it may
    make the share that waits in the pot look large, never small.
    """
    feed = bare(route.parts[0].conversion.feed)
    found: list[RateTerm] = []
    for row in rate_rows(route, tables):
        low_end = row.value - (row.uncertainty or 0.0) if recalled(row.source) else row.value
        term = _term(row.rate_law, low_end, row.unit, parsed(row.oxidant_species), feed, route.job.ph)
        if term is not None:
            k, m, n = term
            text = f"{row.rate_law}, k = {low_end:g} {row.unit}{_measured(row, route)}"
            text += " (recalled, low end)" if recalled(row.source) else ""
            found.append(RateTerm(k, m, n, text, row.direction, row.sources))
    read = tuple(t for t in found if not recalled(";".join(t.sources)))
    for direction in ("exact", "lower"):
        if terms := tuple(t for t in read if t.direction == direction):
            return terms
    if route.kinetics != "slow" or route.half_life_s is None:
        return ()
    return tuple(t for t in found if t.direction == "exact")


def rate_rows(route: Route, tables: Tables) -> tuple[RateRow, ...]:
    """Rows of rates.csv for the first conversion of a route at its pH."""
    part = route.parts[0]
    feed = bare(part.conversion.feed)
    actives = {bare(s) for _, s in part.half_reactions[1].reactants if s.elements}
    rows = (
        row
        for row in tables.rates
        if (row.ph_min is None or route.job.ph >= row.ph_min)
        and (row.ph_max is None or route.job.ph <= row.ph_max)
        and parsed(row.oxidant_species) in actives
        and parsed(row.reductant_species) == feed
    )
    return at_one_temperature(rows, route.job.temperature_k - 273.15)


def _measured(row: RateRow, route: Route) -> str:
    """At which temperature a constant was measured, where that is not the pot's."""
    if row.temperature_C is None:
        return ""
    pot = route.job.temperature_k - 273.15
    far = f", not corrected to {pot:.4g} C" if abs(row.temperature_C - pot) > FAR_K else ""
    return f" at {row.temperature_C:g} C{far}"


def _term(
    law: str, value: float, unit: str, oxidant: object, feed: object, ph: float
) -> tuple[float, int, int] | None:
    if "s^-1" not in unit or "p(" in law:
        return None
    k, orders = value, [0, 0]
    for text, power in _FACTOR.findall(law):
        species, n = parsed(text), int(power or 1)
        if species == oxidant:
            orders[0] += n
        elif species == feed:
            orders[1] += n
        elif species == PROTON:
            k *= 10.0 ** (-ph * n)
        elif species == HYDROXIDE:
            k *= 10.0 ** ((ph - 14) * n)
        else:
            return None
    return (k, orders[0], orders[1]) if orders[0] else None


def accumulation_bound(half_life_s: float, dosing_s: float) -> float:
    """Share of a dosed reagent not yet reacted at the end of dosing, first order in it.

    X = (1 - exp(-k t)) / (k t) with k = ln 2 / half-life; 1 for a dose all at once.

    >>> print(f"{accumulation_bound(600.0, 3600.0):.2f}")
    0.24
    """
    kt = log(2) * dosing_s / half_life_s if half_life_s > 0 else float("inf")
    return 1.0 if kt < 1e-9 else (1 - exp(-kt)) / kt
