"""Whether a feasible route happens within the job's time: sourced rates first, then sourced verdicts.

A rate or a verdict that is only recalled never makes a route fast; it may hold one back.

May import: routes and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from redoxlib._laws import Law, laws_for, measured_at, time_to
from redoxlib.data import KineticsRow, Tables
from redoxlib.routes import ANODE, Part, Route, bare, recalled, verdict_for

__all__ = ["FAST_S", "SLOW_S", "Kinetics", "judge"]

FAST_S, SLOW_S = 600.0, 24 * 3600.0
"""Half-lives that separate fast, slow and inert, s."""

TOO_THIN = 1e-3
"""Below this strength of the feed, mol/L, an electrode finds too little of it (common practice)."""


@dataclass(frozen=True, slots=True)
class Kinetics:
    """``verdict`` is fast, slow, inert or unknown; the half-life where a rate constant gives one.

    ``half_life_u`` is its relative uncertainty, that of the rate rows; None for a bound.  ``half_life_at``
    says at which temperature its constants were measured and at what strength it holds, ``half_life_says``
    whether it is "about", "at most" or "at least" that.
    """

    verdict: str
    text: str
    sources: tuple[str, ...] = ()
    half_life_s: float | None = None
    half_life_u: float | None = None
    half_life_at: str = ""
    half_life_says: str = "about"


_ORDER = ("fast", "unknown", "slow", "inert")


def judge(route: Route, tables: Tables) -> Kinetics:
    """The slowest part decides; slower than the job's time counts as inert."""
    if route.oxidant.key == ANODE:
        thinnest = min(p.feed_mol for p in route.parts) / max(route.water_grams / 1000, 1e-9)
        if route.job.purpose == "remove" or (route.water_grams and thinnest < TOO_THIN):
            strength = (
                "in the dilute end of a removal"
                if route.job.purpose == "remove"
                else f"at {thinnest:.1g} mol/L"
            )
            return Kinetics(
                "inert",
                f"{strength} the current goes into oxygen from the water instead",
                ("practice",),
            )
        rows = [verdict_for(ANODE, bare(p.conversion.feed), route.job.ph, tables) for p in route.parts]
        if None in rows:
            return Kinetics("unknown", "no current efficiency is known to the tables")
        told = [row for row in rows if row is not None and row.verdict != "fast"]
        if told:
            worst_row = max(told, key=lambda row: _ORDER.index(row.verdict))
            text = worst_row.note or worst_row.conditions or "no current efficiency is known"
            return Kinetics(worst_row.verdict, text, (worst_row.source,))
        return Kinetics("fast", "set by the current", ("practice",))
    found = [_part(route, part, tables) for part in route.parts]
    worst = max(found, key=lambda k: (_ORDER.index(k.verdict), k.half_life_s or 0.0))
    limit = route.job.time_s
    if worst.half_life_s is not None and worst.half_life_s > limit:
        text = worst.text
        if _time(worst.half_life_s) == _time(limit):  # rounded they would read as the same
            text = text.replace(_time(limit), f"{worst.half_life_s / 3600:.4g} h")
        return Kinetics(
            "inert",
            f"{text}; longer than the {_time(limit)} this job allows",
            worst.sources,
            worst.half_life_s,
            worst.half_life_u,
            worst.half_life_at,
            worst.half_life_says,
        )
    if worst.verdict == "slow" and worst.half_life_s is None and limit < SLOW_S:
        return Kinetics(
            "inert", f"{worst.text}; too slow for the {_time(limit)} this job allows", worst.sources
        )
    return worst


def _part(route: Route, part: Part, tables: Tables) -> Kinetics:
    """Rates that were read, then words that were read; what is only recalled may hold back, never promise."""
    reductant = bare(part.conversion.feed)
    actives = {bare(s) for _, s in part.half_reactions[1].reactants if s.elements}
    laws = laws_for(actives, reductant, route.job.ph, tables, _celsius(route))
    noted = verdict_for(route.oxidant.key, reductant, route.job.ph, tables)
    read = [law for law in laws if not recalled(law.source)]
    if (known := _from_laws(read, noted, part, route)) is not None:
        return known
    words = None
    if noted is not None:
        words = Kinetics(
            noted.verdict, noted.note or noted.conditions or noted.verdict, tuple(noted.source.split(";"))
        )
    guess = _from_laws([law for law in laws if recalled(law.source)], noted, part, route) or words
    if words is not None and noted is not None and not recalled(noted.source):
        slower = guess is not None and _ORDER.index(guess.verdict) > _ORDER.index(words.verdict)
        timed = guess is not None and guess.verdict == words.verdict != "fast"  # the same, with a figure
        return guess if guess is not None and (slower or timed) else words
    if guess is None:
        return Kinetics("unknown", "no rate is known to the tables")
    if guess.verdict == "fast":
        text = f"only recalled, no source was read, so not relied on: {guess.text}"
        return Kinetics("unknown", text, guess.sources)
    return guess


def _celsius(route: Route) -> float:
    return round(route.job.temperature_k - 273.15, 2)


def _from_laws(laws: Sequence[Law], noted: KineticsRow | None, part: Part, route: Route) -> Kinetics | None:
    """The verdict of rate constants; None where they decide nothing."""
    strength = part.feed_mol / (max(route.water_grams, 1.0) / 1000)
    beside = noted.source.split(";") if noted is not None else ()
    for direction, says in (("exact", "about"), ("lower", "at most"), ("upper", "at least")):
        used = [law for law in laws if law.direction == direction]
        found = time_to(used, strength, route.job.excess)
        if found is None:
            continue
        half, relative = found
        verdict = "fast" if half < FAST_S else "slow" if half < SLOW_S else "inert"
        if (direction == "lower" and verdict != "fast") or (direction == "upper" and verdict == "fast"):
            continue  # the bound does not decide
        if (
            route.oxidant.kind == "gas"
            and noted is not None
            and _ORDER.index(noted.verdict) > _ORDER.index(verdict)
        ):
            break  # a gas comes only as fast as it dissolves, and somebody has told how fast that is
        spread = f" (within {_percent(relative)})" if relative is not None and direction == "exact" else ""
        lasts = f"{says} {_time(half)}{spread}" if half >= 1e-3 else "below 1 ms"
        where = measured_at(used, strength, _celsius(route))
        text = f"half-life {lasts} {where}"
        sources = tuple(dict.fromkeys([*(law.source for law in used), *beside]))
        bounded = None if direction != "exact" else relative
        return Kinetics(verdict, text, sources, half, bounded, where, says)
    return None


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.005 else "1 %"


def _time(seconds: float) -> str:
    for size, word in ((86400.0 * 365, "y"), (86400.0, "d"), (3600.0, "h"), (60.0, "min"), (1.0, "s")):
        if seconds >= size:
            return f"{seconds / size:.2g} {word}" if seconds / size < 100 else f"{seconds / size:.0f} {word}"
    return f"{float(f'{seconds * 1000:.2g}'):g} ms"
