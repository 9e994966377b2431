"""Routes, gate, kinetics, scoring, in that order, once.

Verbs: compare, review, clear.  Values: Comparison, Refusal, Setback, ClearedRoute.

May import: everything but reports and cli.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any, NamedTuple

from redoxlib import heat, safety, scoring
from redoxlib._display import html_of
from redoxlib._kinetics import Kinetics, judge, unstable
from redoxlib._owndata import own_data_beside, read_own_data
from redoxlib._situation import situation
from redoxlib.bottles import read_bottle, shop_name
from redoxlib.channels import tier_of
from redoxlib.data import OxidantRow, Tables, shipped
from redoxlib.errors import DomainError, ImpossibleError, JobError, RedoxlibError, UnsafeRouteError
from redoxlib.job import CRITERIA, Job, split_shelf
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.routes import NoRoute, Route, bare, build_route
from redoxlib.safety import Verdict
from redoxlib.stoichiometry import complete

TYPE_CHECKING = False
if TYPE_CHECKING:
    import pandas as pd

    from redoxlib.decision import Decision

__all__ = ["ClearedRoute", "Comparison", "Refusal", "Setback", "clear", "compare", "review"]


class Refusal(NamedTuple):
    """A route the gate stopped: the reason and a safer way, never quantities."""

    oxidant: OxidantRow
    rule: str
    reason: str
    source: str
    safer: str


@dataclass(frozen=True, slots=True)
class Setback:
    """A route that chemistry stops: infeasible, inert or too slow, or undecided for want of data."""

    oxidant: OxidantRow
    verdict: str
    reason: str
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ClearedRoute:
    """A route the gate let pass, with its verdict; only ``clear`` makes one."""

    route: Route
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Comparison:
    """What came of every oxidant.

    Attributes
    ----------
    ranked : tuple of tuples of Route
        Tie groups, best first.
    refused, infeasible, inert, undecided
        Why the others are not ranked.
    unreviewed : tuple of Route
        Equations and energies are shown; no rule has been reviewed, so there is no dosing.
    """

    job: Job
    ranked: tuple[tuple[Route, ...], ...]
    refused: tuple[Refusal, ...]
    infeasible: tuple[Setback, ...]
    inert: tuple[Setback, ...]
    undecided: tuple[Setback, ...]
    unreviewed: tuple[Route, ...]
    verdicts: tuple[tuple[str, Verdict], ...]

    @property
    def routes(self) -> tuple[Route, ...]:
        """The ranked routes, flattened."""
        return tuple(route for group in self.ranked for route in group)

    def route(self, key: str) -> Route:
        """The ranked or unreviewed route of an oxidant.

        Raises
        ------
        UnsafeRouteError
            When the gate stopped it.
        JobError
            When it is not among the routes for another reason, which is named.
        """
        for route in (*self.routes, *self.unreviewed):
            if route.oxidant.key == key:
                return route
        for refusal in self.refused:
            if refusal.oxidant.key == key:
                raise UnsafeRouteError(
                    f"{refusal.oxidant.name}: {refusal.reason}", hint=refusal.safer, reasons=(refusal,)
                )
        for setback in (*self.infeasible, *self.inert, *self.undecided):
            if setback.oxidant.key == key:
                raise JobError(f"{setback.oxidant.name} is {setback.verdict}: {setback.reason}")
        known = [r.oxidant.key for r in self.routes]
        raise JobError(f"{key!r} was not compared", hint=f"ranked here: {', '.join(known)}")

    @property
    def alike(self) -> tuple[tuple[Route, ...], ...]:
        """Ranked routes by the species that does the oxidising, best first: one chemistry, several bottles.

        Sodium and potassium permanganate are one entry, and so are hydrogen peroxide and its solid carriers.
        """
        groups: dict[tuple[str, ...], list[Route]] = {}
        for route in self.routes:
            acting = tuple(str(part.half_reactions[1]) for part in route.parts)
            groups.setdefault(acting, []).append(route)
        return tuple(tuple(group) for group in groups.values())

    @property
    def on_shelf(self) -> tuple[str, ...]:
        """Keys of the oxidants that a bottle of the job holds, ranked ones first, best first."""
        held = {bare(read_bottle(split_shelf(label)[1]).solute) for label in self.job.bottles}
        rows = [route.oxidant for route in (*self.routes, *self.unreviewed)]
        rows += [refusal.oxidant for refusal in self.refused]
        rows += [setback.oxidant for setback in (*self.infeasible, *self.inert, *self.undecided)]
        return tuple(row.key for row in rows if row.formula and bare(Species.parse(row.formula)) in held)

    def place(self, key: str) -> int | None:
        """Place of an oxidant, ties sharing one, from 1; None when it is not ranked."""
        place = 1
        for group in self.ranked:
            if any(r.oxidant.key == key for r in group):
                return place
            place += len(group)
        return None

    def table(self) -> pd.DataFrame:
        """The comparison as a DataFrame, one row per oxidant, figures with their units in the names."""
        from redoxlib.tables import comparison_frame

        return comparison_frame(self)

    def decision(self, *, draws: int = 20_000, seed: int = 20240601) -> Decision:
        """How firm the order is: who leads over all weightings, and what would change the first place.

        Routes whose pace is unknown take no part, as they follow the others.

        Parameters
        ----------
        draws : int
            Weightings drawn from the whole simplex.
        seed : int
            Of the draws; the same seed gives the same answer.

        Raises
        ------
        DomainError
            When no route with a known pace is ranked.
        """
        from redoxlib.decision import Alternatives, decide

        routes = [r for r in self.routes if r.score is not None and r.kinetics != "unknown"]
        spans = [scoring.spans(r) for r in routes]
        alternatives = Alternatives(
            tuple(r.oxidant.key for r in routes),
            CRITERIA,
            tuple(tuple(s.points for s in row) for row in spans),
            tuple(tuple(s.low for s in row) for row in spans),
            tuple(tuple(s.high for s in row) for row in spans),
            tuple(tuple(s.causes for s in row) for row in spans),
        )
        weights = tuple(weight for _, weight in self.job.weights)
        return decide(alternatives, weights=weights, draws=draws, seed=seed)

    _repr_html_ = html_of

    def explain(self, a: str, b: str) -> str:
        """Say in sentences built from the figures why oxidant *a* stands where it does against *b*."""
        from redoxlib._explain import explain

        return explain(self, self._key(a), self._key(b))

    def _key(self, name: str) -> str:
        """The key of a compared oxidant that is named by its formula, such as FeCl3; else the name itself."""
        row = _find(name, shipped())
        return row.key if row is not None and row.key in {key for key, _ in self.verdicts} else name


def compare(
    job: Any,
    *,
    progress: Callable[[int, int, str], None] | None = None,
    tables: Tables | None = None,
    **fields: Any,
) -> Comparison:
    """Compare oxidants for one job.

    Parameters
    ----------
    job : str, sequence, path or Job
        A conversion such as ``"Br^- -> Br2"``, ``(conversion, amount)`` pairs that share one oxidant, the
        path of a job file, or a Job.
    progress : callable, optional
        Called with (done, total, name) before each oxidant.
    **fields
        Job fields, when *job* is text or pairs.

    Raises
    ------
    JobError, NotationError
        When the job cannot be understood; every fault is listed.
    """
    tables = tables or _tables_beside(job)
    job = _job(job, fields)
    oxidants = _wanted(job, tables)
    ranked: list[Route] = []
    refused: list[Refusal] = []
    infeasible: list[Setback] = []
    inert: list[Setback] = []
    undecided: list[Setback] = []
    unreviewed: list[Route] = []
    verdicts: list[tuple[str, Verdict]] = []
    for number, oxidant in enumerate(oxidants):
        if progress is not None:
            progress(number, len(oxidants), oxidant.name)
        # The equations are worked out first because the gate weighs their heat; nothing of a stopped route
        # leaves this loop.
        built = _try(job, oxidant, tables)
        verdict = _judge(job, oxidant, built, tables)
        verdicts.append((oxidant.key, verdict))
        if verdict.decision == "stop":
            refused.append(_refusal(oxidant, verdict))
            continue
        if isinstance(built, DomainError):
            # One oxidant that cannot be written does not end the comparison of the others.
            undecided.append(Setback(oxidant, "undecided", built.message))
            continue
        if isinstance(built, ImpossibleError):
            raise _unplaced(job, built) from None
        if isinstance(built, RedoxlibError):
            raise built
        if isinstance(built, NoRoute):
            if built.verdict == "infeasible":
                infeasible.append(Setback(oxidant, "infeasible", built.reason))
            else:
                undecided.append(Setback(oxidant, "undecided", built.reason, built.looked_in))
            continue
        boils = heat.boiling_point(built, tables)
        held = heat.outside_window(built, boils.value if isinstance(boils, Quantity) else None)
        if held is not None:
            infeasible.append(Setback(oxidant, "infeasible", "; ".join(held)))
            continue
        kinetics = judge(built, tables)
        if kinetics.verdict == "inert":
            inert.append(Setback(oxidant, "inert", kinetics.text, kinetics.sources))
            continue
        told = unstable(built, kinetics, tables)
        if told is not None:
            infeasible.append(Setback(oxidant, "infeasible", *told))
            continue
        built = _annotate(built, verdict, kinetics)
        built = scoring.measure(built, tables=tables)
        built = replace(
            built, score=scoring.score(built), warnings=(*built.warnings, *_cautions(built, tables))
        )
        if verdict.decision == "unreviewed":
            unreviewed.append(built)
        else:
            ranked.append(built)
    elsewhere = _in_usual_medium(job, tables) if refused and not ranked else None
    refused = [_with_cleared(refusal, ranked, refused, elsewhere) for refusal in refused]
    return Comparison(
        job,
        # A pace nobody knows is no recommendation: such routes follow those whose pace is known.
        scoring.rank([r for r in ranked if r.kinetics != "unknown"])
        + scoring.rank([r for r in ranked if r.kinetics == "unknown"]),
        tuple(refused),
        tuple(infeasible),
        tuple(inert),
        tuple(undecided),
        tuple(unreviewed),
        tuple(verdicts),
    )


def _job(job: Any, fields: dict[str, Any]) -> Job:
    """The job, unless its goal is out of scope in a way that no job can even state.

    Raises
    ------
    UnsafeRouteError
        With the one sentence on the goal, for text such as ``"NH3 -> NCl3"`` that is no oxidation.
    """
    try:
        return Job.of(job, **fields)
    except JobError:
        goal = job.rpartition("->")[2].strip() if isinstance(job, str) else ""
        try:
            verdict = safety.review_goal(Species.parse(goal))
        except RedoxlibError:
            verdict = None
        if verdict is None or not verdict.stopped:
            raise
        (reason,) = verdict.reasons
        raise UnsafeRouteError(reason.text, hint=reason.safer, reasons=(reason,)) from None


_ENDS_AS = {
    "C": ("carbon", "CO3^2-"),
    "N": ("nitrogen", "NO3^-"),
    "S": ("sulfur", "SO4^2-"),
    "P": ("phosphorus", "PO4^3-"),
}
"""What an element of a feed commonly ends as when it is oxidised right through, for the advice below."""


def _unplaced(job: Job, error: ImpossibleError) -> ImpossibleError:
    """Say of a conversion that cannot be written which elements have no place in its product."""
    for conversion in job.conversions:
        feed, target = bare(conversion.feed), bare(conversion.target)
        lost = sorted(set(feed.elements) - set(target.elements) - {"H", "O"})
        if not lost:
            continue
        names = " and ".join(_ENDS_AS.get(e, (e, ""))[0] for e in lost)
        hint = (
            f"one conversion follows one product: name one that holds {names} as well, "
            "or write the whole equation with every product and balance() it"
        )
        beside = " + ".join(_ENDS_AS[e][1] for e in lost if e in _ENDS_AS)
        if all(e in _ENDS_AS for e in lost):
            try:
                whole = complete(f"{feed} -> {target} + {beside}", medium="acid" if job.ph < 7 else "base")
            except RedoxlibError:
                pass
            else:
                hint += f"; with {beside} beside it the oxidation reads {whole.equation}"
        return ImpossibleError(
            f"{feed} -> {target} cannot be written: the {names} of {feed} "
            f"{'has' if len(lost) == 1 else 'have'} no place in {target}",
            hint=hint,
            reason=error.reason,
            certificate=error.certificate,
            repairs=error.repairs,
        )
    return error


def _tables_beside(job: Any) -> Tables:
    """The shipped tables, with the rows of an own-data file where one lies beside the job file."""
    if isinstance(job, os.PathLike) or (isinstance(job, str) and job.endswith(".toml")):
        beside = own_data_beside(job)
        if beside is not None:
            return read_own_data(beside)
    return shipped()


def _try(job: Job, oxidant: OxidantRow, tables: Tables) -> Route | NoRoute | RedoxlibError:
    """The route, or the error that building it ended in: the gate speaks before either."""
    try:
        return build_route(job, oxidant, tables=tables)
    except RedoxlibError as error:
        return error


def _judge(
    job: Job, oxidant: OxidantRow | None, built: Route | NoRoute | RedoxlibError | None, tables: Tables
) -> Verdict:
    return safety.review_situation(
        situation(job, oxidant, tables, built if isinstance(built, Route) else None)
    )


def _wanted(job: Job, tables: Tables) -> list[OxidantRow]:
    if job.oxidants is None:
        return list(tables.oxidants.values())
    found, faults = [], []
    for name in job.oxidants:
        row = _find(name, tables)
        if row is None:
            faults.append(f"oxidants: unknown oxidant {name!r}; {_nearest(name, tables)}")
        elif row not in found:
            found.append(row)
    if faults:
        raise JobError("; ".join(faults), faults=tuple(faults))
    return found


def _nearest(name: str, tables: Tables) -> str:
    """What would mend the name of an oxidant that is none."""
    if mend := shop_name(name):
        return mend
    names = [r.name for r in tables.oxidants.values()]
    wanted = name.strip().casefold()
    # A name cut short is in all that hold it, the commonest first, as the table lists them.
    inside = [each for each in names if len(wanted) > 3 and wanted in each.casefold()]
    near = inside or get_close_matches(name, [*tables.oxidants, *names], n=3)
    return f"did you mean {', '.join(near)}?" if near else f"known: {', '.join(tables.oxidants)}"


def _find(name: str, tables: Tables) -> OxidantRow | None:
    wanted = name.strip()
    for key, row in tables.oxidants.items():
        if wanted.lower() in (key.lower(), row.name.lower()):
            return row
    try:
        species = bare(Species.parse(wanted))
    except RedoxlibError:
        return None
    for row in tables.oxidants.values():
        if row.formula and bare(Species.parse(row.formula)) == species:
            return row
    return None


def _refusal(oxidant: OxidantRow, verdict: Verdict) -> Refusal:
    worst = verdict.reasons[0]
    return Refusal(oxidant, worst.rule, worst.text, worst.source, worst.safer)


def _in_usual_medium(job: Job, tables: Tables) -> Comparison | None:
    """The same job in the medium this feed gets where none is declared; None where that is no other."""
    if job.medium is None:
        return None
    usual = replace(job, medium=None)
    if usual.ph == job.ph:
        return None
    try:
        found = compare(usual, tables=tables)
    except RedoxlibError:
        return None
    return found if found.ranked else None


def _with_cleared(
    refusal: Refusal, ranked: Sequence[Route], refused: Sequence[Refusal], elsewhere: Comparison | None
) -> Refusal:
    """Name as safer only what the gate lets pass in this very pot, or else in the usual medium of the feed.

    The general advice of a rule may name an oxidant that another rule stops here; it is then left out.
    """
    if elsewhere is not None:
        ranked, refused = elsewhere.routes, elsewhere.refused
    stopped = {r.oxidant.name for r in refused} | {r.oxidant.key for r in refused}
    advice = refusal.safer
    if any(name in advice for name in stopped):
        advice = ""
    best = sorted(ranked, key=lambda r: (r.kinetics == "unknown", r.score.total if r.score else 0.0))[:3]
    names = ", ".join(r.oxidant.name for r in best)
    if elsewhere is not None:
        passes = (
            f"nothing passes the gate at the pH declared; at pH {elsewhere.job.ph:g} it lets pass: {names}"
        )
    else:
        passes = f"the gate lets pass here: {names}" if names else "nothing passes the gate for this job"
    return refusal._replace(safer=f"{advice}; {passes}" if advice else passes)


_HOT = 100.0
"""Adiabatic rise above which a caution of its own is printed, K; a pot at 25 C could boil."""

_OVERFULL = 1.05
"""Mass charged over the mass declared for the pot from which the two are said to disagree."""


def _cautions(route: Route, tables: Tables) -> tuple[str, ...]:
    """What the figures themselves call for, beside the rules of the gate."""
    told = [*route.shortfall]
    charged = sum(c.grams for c in route.charges if c.gas_litres is None)
    if route.job.purpose == "make" and charged > _OVERFULL * route.pot_grams:
        told.append(
            f"The pot is declared as {route.pot_grams / 1000:.3g} kg and {charged / 1000:.3g} kg go into it: "
            "the rise is that of the declared mass. Declare pot_mass with all of the charge, or leave it out."
        )
    batch = route.exotherm
    if batch is not None and isinstance(batch.rise, Quantity) and batch.rise.value > _HOT:
        told.append(
            f"All at once this pot would rise by {batch.rise.value:.0f} K: thin it, dose only as fast as the "
            "cooling carries the heat away, and stop when the temperature climbs."
        )
    charge = route.charge("oxidant")
    if charge is not None and charge.ml is not None:
        carried = (charge.grams - charge.pure_grams) / 1000
        if carried > route.liquor_grams / 1000 and carried * 1000 > 10 * charge.pure_grams:
            told.append(
                f"The solution is thin: {carried:.3g} kg of water come with {charge.pure_grams:.3g} g of the "
                f"oxidant, {carried * 1000 / max(route.liquor_grams, 1e-9):.2g} times the water of the pot. "
                "The mass figure leaves water out and the rise is low because of it; see the mass with water."
            )
    if charge is not None and route.oxidant.kind == "solid" and "H271" in tier_of(charge.compound, tables)[1]:
        told.append(
            "A strongly oxidising solid (H271): away from anything that burns, in small portions into the "
            "cold dilute pot; the plan tells its heat of dissolving."
        )
    return tuple(told)


def _annotate(route: Route, verdict: Verdict, kinetics: Kinetics) -> Route:
    return replace(
        route,
        warnings=tuple(reason.text for reason in verdict.reasons),
        kinetics=kinetics.verdict,
        kinetics_note=kinetics.text,
        half_life_s=kinetics.half_life_s,
        half_life_u=kinetics.half_life_u,
        half_life_at=kinetics.half_life_at,
        half_life_says=kinetics.half_life_says,
        sources=tuple(dict.fromkeys((*route.sources, *kinetics.sources))),
    )


def review(job: Any, *, tables: Tables | None = None, **fields: Any) -> Verdict:
    """Ask the gate about a job with one oxidant, or about a route.

    A job that leaves the oxidant open gets the verdict on its goal and medium alone.

    Parameters
    ----------
    job : str, sequence, Job, Route or path
        A job in any form that ``compare`` takes, or a route it returned.
    tables : Tables, optional
        Other tables than the shipped ones.
    **fields
        Fields of the job, where *job* is a conversion.

    Returns
    -------
    Verdict
        ``decision`` is stop, caution, clear or unreviewed; the severest of several oxidants counts.

    Raises
    ------
    JobError
        When the job cannot be read, or the feed does not hold what is to be oxidised.
    """
    if isinstance(job, Route):
        return _judge(job.job, job.oxidant, job, tables or shipped())
    tables = tables or _tables_beside(job)
    job = _job(job, fields)
    if job.oxidants is None:
        return _judge(job, None, None, tables)
    verdicts = [_judge(job, o, _try(job, o, tables), tables) for o in _wanted(job, tables)]
    return max(verdicts, key=lambda v: _SEVERITY.index(v.decision))


_SEVERITY = ("clear", "caution", "unreviewed", "stop")


def _no_route(given: Any) -> RedoxlibError:
    """What to say of a refusal, a setback or anything else in place of a route; it is not spelled out."""
    if isinstance(given, Refusal):
        return UnsafeRouteError(
            f"{given.oxidant.name} was refused, so there is nothing to plan: {given.reason}",
            hint=given.safer or "take a route from the comparison's routes",
            reasons=(given,),
        )
    what = f"a {type(given).__name__}"
    if isinstance(given, Setback):
        what = f"{given.oxidant.name}, which is not ranked ({given.reason}),"
    return DomainError(f"{what} is no route", hint="pass one of compare(...).routes")


def clear(route: Route, *, tables: Tables | None = None) -> ClearedRoute:
    """Turn a route into one that may be planned.

    Parameters
    ----------
    route : Route
        From ``compare(...).routes`` or ``compare(...).route(key)``.
    tables : Tables, optional
        Other tables than the shipped ones.

    Returns
    -------
    ClearedRoute
        The route with the gate's verdict; ``plan`` takes it.

    Raises
    ------
    UnsafeRouteError
        When the gate stops it or no rule has been reviewed for it, every reason listed; also for a
        refusal, which has no amounts to plan.
    DomainError
        When given anything that is no route.
    """
    if not isinstance(route, Route):
        raise _no_route(route)
    verdict = review(route, tables=tables)
    if verdict.decision in ("stop", "unreviewed"):
        word = "stopped" if verdict.decision == "stop" else "not reviewed, so not planned"
        raise UnsafeRouteError(
            f"{route.oxidant.name} is {word}: " + "; ".join(reason.text for reason in verdict.reasons),
            hint="; ".join(r.safer for r in verdict.reasons if r.safer) or None,
            reasons=tuple(verdict.reasons),
        )
    return ClearedRoute(route, verdict)
