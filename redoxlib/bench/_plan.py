"""The bench plan: charge, order, heat, isolation, gas, quench and waste, each number with its key.

Verbs: plan.  May import: routes, heat and below; the rest of this package.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Protocol

from redoxlib import heat, safety
from redoxlib._display import html_of
from redoxlib._situation import situation
from redoxlib.bench import _charge, _gas, _heat, _isolate, _keep, _quench, _room, _waste
from redoxlib.bench._book import Book, Entry, Step, Stream
from redoxlib.bench._ph import at_declared_ph, hold_caution, write_ph
from redoxlib.bench._potable import potable_cautions
from redoxlib.bench._simulate import Simulation
from redoxlib.bench._spread import with_spread
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, RedoxlibError, UnitError, UnsafeRouteError
from redoxlib.quantity import Quantity
from redoxlib.quantity import significant as figure
from redoxlib.routes import NoRoute, Route, build_route

__all__ = ["BenchPlan", "plan", "replanned"]


@dataclass(frozen=True, slots=True)
class BenchPlan:
    """A plan for one cleared route; ``plan["heat.rise.K"]`` gives an entry by its key.

    Attributes
    ----------
    before, assays, steps, isolation, keeping, quench_steps, shelf : tuple of Step
        What to do, each with its reason: before anything is opened, measuring ageing bottles, order of
        addition, getting the product out, keeping it, destroying the rest, how long things may stand.
    streams : tuple of Stream
        Waste.
    simulation : Simulation or None
        Temperature and accumulation against time, where a dosing time is declared or follows from cooling.
    """

    route: Route
    verdict: Any
    entries: Mapping[str, Entry]
    steps: tuple[Step, ...]
    quench_steps: tuple[Step, ...]
    warnings: tuple[str, ...]
    before: tuple[Step, ...] = ()
    assays: tuple[Step, ...] = ()
    isolation: tuple[Step, ...] = ()
    keeping: tuple[Step, ...] = ()
    shelf: tuple[Step, ...] = ()
    streams: tuple[Stream, ...] = ()
    simulation: Simulation | None = None

    def __getitem__(self, key: str) -> Entry:
        try:
            return self.entries[key]
        except KeyError:
            from difflib import get_close_matches

            near = get_close_matches(key, list(self.entries), n=3)
            raise MissingDataError(
                f"the plan has no key {key!r}",
                hint=f"did you mean {', '.join(near)}?" if near else f"keys: {', '.join(self.entries)}",
                what=key,
                looked_in=("plan",),
            ) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def __contains__(self, key: object) -> bool:
        return key in self.entries

    _repr_html_ = html_of

    def why(self, key: str) -> str:
        """The formula, inputs and sources of one number, as text."""
        entry = self[key]
        lines = [f"{entry.key} = {entry.value}", f"  {entry.what}", f"  = {entry.formula}"]
        for name in entry.inputs:
            shown = self.entries.get(name)
            lines.append(f"    {name} = {shown.value}" if shown is not None else f"    {name}")
        for name, share in entry.spread:
            lines.append(f"  uncertainty: {100 * share:.0f} % of the variance from {name}")
        if isinstance(entry.value, Quantity) and entry.value.basis:
            lines.append(f"  basis of the uncertainty: {entry.value.basis}")
        known = shipped().sources
        for source in entry.sources:
            row = known.get(source)
            lines.append(f"  source {source}: {row.citation}" if row else f"  source {source}")
        if not entry.sources:
            lines.append("  exact arithmetic on the inputs; atomic weights: IUPAC standard values")
        return "\n".join(lines)


class Cleared(Protocol):
    """What ``clear`` returns: a route with the verdict that let it pass.  A bare route is none."""

    @property
    def route(self) -> Route: ...

    @property
    def verdict(self) -> safety.Verdict: ...


def plan(
    cleared: Cleared,
    *,
    product_mass: Quantity | str | None = None,
    dosing: Quantity | str | None = None,
    hood: Quantity | str | None = None,
    bottles: str | None = None,
    tables: Tables | None = None,
) -> BenchPlan:
    """Plan a cleared route.

    Parameters
    ----------
    cleared : ClearedRoute
        From ``clear``; nothing else is planned.
    product_mass : Quantity or str, optional
        Scale the whole charge so that the largest yield is this mass of product.
    dosing : Quantity or str, optional
        Time over which the oxidant is dosed, "15 min".  Default: 1.25 times the shortest that the
        declared cooling can carry; without cooling there is none.
    hood : Quantity or str, optional
        Air the hood moves, "0.3 m3/s".
    bottles : {"unrestricted"}, optional
        Plan with bottles at the strength anyone may buy, and show what that costs (``cost.*``).

    Raises
    ------
    UnsafeRouteError
        When given a route that has not passed the gate, or a batch that the declared cooling cannot
        carry within the job's time (the largest scale that passes is named), or a dosing time shorter
        than it can carry (the shortest that passes is named).
    DomainError
        When a dosing time or hood flow has the wrong unit or is not above zero, or the mixture boils or
        freezes at the temperature declared.
    """
    tables = tables or shipped()
    route = getattr(cleared, "route", None)
    verdict = getattr(cleared, "verdict", None)
    if not isinstance(route, Route) or verdict is None or verdict.decision not in ("clear", "caution"):
        raise UnsafeRouteError(
            "only a route the gate has let pass can be planned",
            hint="call clear(route) first and plan what it returns",
        )
    conditions = _read("dosing", dosing, "min"), _read("hood", hood, "m3/s")
    if product_mass is not None:
        route = _scaled(route, product_mass, tables)
    # A verdict handed in may be of another route or another size: the gate is asked about this one.
    verdict = _judged_again(route, conditions[0] if product_mass is not None else None, tables)
    if bottles is not None:
        from redoxlib.bench._unrestricted import replan

        made: BenchPlan = replan(route, verdict, _written, conditions, bottles, tables)
        return made
    return _written(route, verdict, conditions, tables)


def replanned(route: Route, verdict: Any, tables: Tables) -> BenchPlan:
    """Plan a route that has just been judged again, at default conditions and without uncertainties."""
    return _written(route, verdict, (None, None), tables, sure=False)


def _written(
    route: Route,
    verdict: Any,
    conditions: tuple[Quantity | None, Quantity | None],
    tables: Tables,
    *,
    sure: bool = True,
) -> BenchPlan:
    book = Book()
    before, route = route, at_declared_ph(route, tables)
    made = _fill(book, route, tables, conditions)
    write_ph(book, route, tables, before)
    _stop_outside_window(book, route)
    entries: Mapping[str, Entry] = book.entries
    if sure:

        def again(moved: Route, rows: Tables, shifts: Mapping[str, float]) -> Book:
            shifted = Book(shifts)
            _fill(shifted, moved, rows, conditions, stop=False)
            write_ph(shifted, moved, rows, moved if before is route else before)
            return shifted

        entries = with_spread(entries, route, tables, again)
    return BenchPlan(
        route,
        verdict,
        entries,
        _charge.order(route, book),
        warnings=(
            *(reason.text for reason in verdict.reasons),
            *hold_caution(book, route),
            *potable_cautions(book, route),
            *route.shortfall,
            *_pace(route),
            *_too_large(route),
        ),
        shelf=_waste.shelf_life(route),
        **made,
    )


def _fill(
    book: Book,
    route: Route,
    tables: Tables,
    conditions: tuple[Quantity | None, Quantity | None],
    *,
    stop: bool = True,
) -> dict[str, Any]:
    """Write every number into the book, in an order in which each finds what it is made from."""
    dosing, hood = conditions
    _charge.write_charge(book, route)
    _charge.write_product(book, route)
    assays = _charge.write_assay(book, route)
    before = _room.write_standby(book, route, tables)
    run = _heat.write_heat(book, route, tables, dosing, stop=stop)
    before += _room.write_room(book, route, tables, hood)
    _gas.write_gas(book, route, tables)
    isolation = _isolate.write_isolation(book, route, tables)
    keeping = _keep.write_keeping(book, route, tables)
    quench_steps = _quench.write_quench(book, route, tables)
    _heat.write_side_by_side(book, route)
    streams = _waste.waste_streams(book, route, tables)
    return {
        "quench_steps": quench_steps,
        "before": before,
        "assays": assays,
        "isolation": isolation,
        "keeping": keeping,
        "streams": streams,
        "simulation": run,
    }


def _pace(route: Route) -> tuple[str, ...]:
    """That nobody's rate shows the reaction to run in the time there is."""
    if route.kinetics != "unknown":
        return ()
    why = route.kinetics_note or "no rate is known"
    return (
        f"The pace of {route.oxidant.name} on this feed is unknown ({why}): "
        "nothing shows that it reacts in the time there is. Try a small portion first.",
    )


_BENCH_GRAMS = 5000.0
"""Pot above which heat removal must have been stated; the largest pot of a bench, common practice."""


def _too_large(route: Route) -> tuple[str, ...]:
    """A pot too large for what is declared."""
    if route.pot_grams <= _BENCH_GRAMS or route.job.cooling is not None or route.job.purpose == "remove":
        return ()
    return (
        f"The pot holds {figure(route.pot_grams / 1000)} kg and no cooling is declared: nothing here shows "
        "that its heat can be carried away. Declare the cooling, or plan a smaller batch; beyond the bench "
        "this is work for a process-safety engineer with calorimetry.",
    )


def _stop_outside_window(book: Book, route: Route) -> None:
    told = heat.outside_window(route, book.number("heat.boiling.C"))
    if told is not None:
        raise DomainError(told[0], hint=told[1])


def _read(name: str, value: Quantity | str | None, unit: str) -> Quantity | None:
    if value is None:
        return None
    wanted = {"min": "'15 min' or '1 h'", "m3/s": "'0.3 m3/s'"}[unit]
    read = _told_of(name, value, f"write {wanted}")
    if not read.measures_like(unit) or read.value <= 0:
        raise DomainError(f"{name} {value} is no {unit} above zero", hint=f"write {wanted}")
    return read


def _told_of(name: str, value: Quantity | str, mend: str) -> Quantity:
    """The value read; an error names what it is of, and a bare number is mended in the units of that."""
    if not isinstance(value, str):
        return value
    try:
        return Quantity.parse(value)
    except UnitError as error:
        hint = mend if error.fields.get("unit") == "" else error.hint
        raise UnitError(
            f"{name}: {error.message}", source=error.source, span=error.span, hint=hint, **error.fields
        ) from None


def _judged_again(route: Route, dosing: Quantity | None, tables: Tables) -> safety.Verdict:
    """What the gate says of the batch at its new size."""
    minutes = float(dosing.to("min").value) if dosing is not None else None
    seen = replace(situation(route.job, route.oxidant, tables, route), dosing_min=minutes)
    verdict = safety.review_situation(seen)
    if verdict.decision not in ("clear", "caution"):
        why = [reason for reason in verdict.reasons if str(reason.severity) == verdict.decision]
        raise UnsafeRouteError(
            f"{route.oxidant.name} at this size: " + "; ".join(reason.text for reason in why),
            hint="; ".join(r.safer for r in why if r.safer) or "plan a smaller mass",
            reasons=tuple(verdict.reasons),
        )
    return verdict


def _scaled(route: Route, product_mass: Quantity | str, tables: Tables) -> Route:
    wanted = _told_of("product_mass", product_mass, 'write "50 g"')
    if not wanted.measures_like("g") or wanted.value <= 0:
        raise DomainError(f"product_mass {product_mass} is no mass above zero", hint='write "50 g"')
    factor = float(wanted.to("g").value) / route.product.grams
    moles = Quantity(sum(p.feed_mol for p in route.parts[:1]) * factor, "mol")
    rebuilt = build_route(replace(route.job, amount=moles), route.oxidant, tables=tables)
    if isinstance(rebuilt, NoRoute):
        raise RedoxlibError(rebuilt.reason)
    return replace(
        rebuilt,
        warnings=route.warnings,
        kinetics=route.kinetics,
        kinetics_note=route.kinetics_note,
        own_rules=route.own_rules,
    )
