"""Whether a feasible route happens within the job's time: sourced rates first, then sourced verdicts.

A rate or a verdict that is only recalled never makes a route fast; it may hold one back.  A half-life whose
uncertainty spans a border says so and is not held back by it.  A product that is known to destroy the oxidant
at least as quickly as it is made is not stable beside it.

May import: routes and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from redoxlib import thermo
from redoxlib._laws import Law, laws_for, measured_at, time_to
from redoxlib.channels import attack_on_oxidant
from redoxlib.data import KineticsRow, Tables
from redoxlib.notation import Species
from redoxlib.routes import ANODE, Part, Route, bare, recalled, reduction_rows, verdict_for

__all__ = ["FAST_S", "SLOW_S", "Kinetics", "judge", "unstable"]

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
        thinnest = min(p.feed_mol for p in route.parts) / max(route.liquor_grams / 1000, 1e-9)
        if route.job.purpose == "remove" or (route.liquor_grams and thinnest < TOO_THIN):
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
    decided = _against(worst, limit)
    if decided.verdict != "inert":
        return decided
    return replace(decided, text=_for_which(decided, route, [_against(k, limit).verdict for k in found]))


def _for_which(decided: Kinetics, route: Route, verdicts: Sequence[str]) -> str:
    """What holds an oxidant back, naming the conversions where it does so in some of them only."""
    held, free, open_ = list[str](), list[str](), list[str]()
    for part, verdict in zip(route.parts, verdicts, strict=True):
        into = {"inert": held, "unknown": open_}.get(verdict, free)
        into.append(f"{bare(part.conversion.feed)} -> {bare(part.product.species)}")
    if not free and not open_:
        return decided.text
    which = f"for {' and '.join(held)}"
    if free:
        which += f", not for {' and '.join(free)}"
    if open_:
        which += f" (pace of {' and '.join(open_)} unknown)"
    return f"{which}: {decided.text}"


def _against(worst: Kinetics, limit: float) -> Kinetics:
    """The same pace held against the time of the job, in seconds."""
    if worst.half_life_s is not None and (spans := _spans(worst, limit)):
        low, high = spans
        return replace(
            worst,
            verdict="slow" if limit >= FAST_S else worst.verdict,
            text=f"{worst.text}; borderline, between {_time(low)} and {_time(high)} against the "
            f"{_time(limit)} this job allows: try it small",
        )
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


def _spans(found: Kinetics, border: float) -> tuple[float, float] | None:
    """The ends of a half-life by the uncertainty of its rows, where a border lies between them."""
    half, relative = found.half_life_s, found.half_life_u
    if half is None or not relative:
        return None
    low, high = half / (1 + relative), half / max(1 - relative, 0.1)
    return (low, high) if low <= border <= high else None


def unstable(route: Route, kinetics: Kinetics, tables: Tables) -> tuple[str, tuple[str, ...]] | None:
    """Why a product cannot be had with this oxidant, and the sources; None where it can, or nothing is known.

    Where the product's own couple can oxidise the oxidant (chromate and hydrogen peroxide in acid) and the
    tables tell how quickly it does, the quicker of the two reactions decides.
    """
    if route.oxidant.key == ANODE:
        return None
    limit = min(route.job.time_s, kinetics.half_life_s or route.job.time_s)
    litres = max(route.water_grams, 1.0) / 1000
    for part in route.parts:
        found = attack_on_oxidant(route, part, tables)
        if found is None:
            continue
        oxidant, made, drive = found
        told = _destroyed(part.product.species, oxidant, part.product.mol / litres, route.job.ph, tables)
        if told is None or told[0] > limit:
            continue
        seconds, sources = told
        how = f"half of it within {_time(seconds)}" if seconds >= 1e-3 else "half of it within 1 ms"
        return (
            f"the product is not stable beside it: at pH {route.job.ph:g} {bare(part.product.species)} "
            f"oxidises {oxidant} to {made} ({drive:+.2f} V), {how}, so that it is reduced again",
            sources,
        )
    return None


def _destroyed(
    product: Species, oxidant: Species, strength: float, ph: float, tables: Tables
) -> tuple[float, tuple[str, ...]] | None:
    """Seconds in which the product destroys half of an oxidant, at the most, and the sources, or None."""
    rate, sources = 0.0, list[str]()
    for form in thermo.species_at(product, ph, tables=tables).forms:
        laws = [
            law for law in laws_for([bare(form.species)], oxidant, ph, tables) if not recalled(law.source)
        ]
        for law in laws:
            if law.direction != "upper":
                low = law.constant * (1 - (law.relative or 0.0))
                rate += low * form.fraction * strength
                sources.append(law.source)
    if rate > 0:
        return _LN2 / rate, tuple(dict.fromkeys(sources))
    predominant = bare(thermo.species_at(product, ph, tables=tables).predominant)
    for key in tables.oxidants:
        if any(bare(Species.parse(row.active)) == predominant for row in reduction_rows(key, ph, tables)):
            noted = verdict_for(key, oxidant, ph, tables)
            if noted is not None and noted.verdict == "fast" and not recalled(noted.source):
                return FAST_S, tuple(noted.source.split(";"))
    return None


_LN2 = 0.6931471805599453


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
    strength = part.feed_mol / (max(route.liquor_grams, 1.0) / 1000)
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
        if (
            direction == "exact"
            and relative
            and half / (1 + relative) <= FAST_S <= half / max(1 - relative, 0.1)
        ):
            spread += ", on the border between fast and slow"
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
