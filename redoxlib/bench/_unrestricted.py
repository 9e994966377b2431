"""The same job with bottles at a strength anyone may buy, and what that costs.

Verbs: replan, judged_again, free_label.  Strengths are those of restricted.csv; places differ.
May import: routes, safety and below.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from redoxlib import safety
from redoxlib._situation import situation
from redoxlib.bench._book import Book
from redoxlib.bottles import Bottle, read_bottle, restrictions
from redoxlib.data import Tables
from redoxlib.errors import DomainError, RedoxlibError, UnsafeRouteError
from redoxlib.job import Job
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import NoRoute, Route, build_route
from redoxlib.safety import Verdict

__all__ = ["free_label", "judged_again", "replan"]

Writer = Callable[[Route, Any, Any, Tables], Any]

_COSTS = (
    ("pot.g", "pot.g", "g", "mass of the pot"),
    ("rise.K", "heat.rise.K", "K", "adiabatic rise"),
    ("dose.min", "dose.shortest.min", "min", "shortest dosing the cooling can carry"),
    ("acid_dilution.kJ", "heat.acid_dilution.kJ", "kJ", "heat of diluting the acid"),
    ("dissolved.g", "separate.liquor.g", "g", "product lost in the liquor"),
    ("reductant.g", "quench.reductant.g", "g", "sulfite for the quench"),
    ("oxidant.mL", "charge.oxidant.mL", "mL", "oxidant to dose"),
)


def free_label(bottle: Bottle, tables: Tables) -> str | None:
    """Label of the strongest bottle of a substance that is not restricted; None where it is free as it is."""
    rows = restrictions(bottle, tables=tables)
    if not rows:
        return None
    lowest = min(row.strength_w_w for row in rows)
    name = next(row.substance for row in rows if row.strength_w_w == lowest)
    return f"{name} {lowest:g} % w/w"


def replan(route: Route, verdict: Any, write: Writer, conditions: Any, wanted: str, tables: Tables) -> Any:
    """Plan with free bottles, judged anew by the gate, and write the differences under ``cost``.

    Raises
    ------
    DomainError
        When *wanted* is anything but "unrestricted", or the route does not exist at that strength.
    UnsafeRouteError
        When the gate stops the route at that strength.
    """
    if wanted != "unrestricted":
        raise DomainError(f"bottles={wanted!r} is not known", hint='write bottles="unrestricted"')
    before = write(route, verdict, conditions, tables)
    job, changed = _free_job(route, tables)
    rebuilt, judged = judged_again(job, route, tables) if changed else (route, verdict)
    after = write(rebuilt, judged, conditions, tables)
    book = Book()
    book.entries.update(after.entries)
    for name, key, unit, words in _COSTS:
        if key in before.entries and key in after.entries:
            old, new = before[key].value, after[key].value
            gap = next((v for v in (new, old) if isinstance(v, Unknown)), None)
            value: float | Unknown = gap if gap is not None else _difference(old, new)
            said = "; ".join(changed) or "no bottle of this plan is restricted"
            what = f"{words}: more (or less) than with the bottles of the job"
            book.put(f"cost.{name}", value, unit, what, f"unrestricted - as planned; {said}", (key,))
    warnings = (*after.warnings, *(f"unrestricted: {text}" for text in changed))
    return replace(after, entries=book.entries, warnings=warnings)


def judged_again(job: Job, route: Route, tables: Tables) -> tuple[Route, Verdict]:
    """Build the route anew for a changed job and put it before the gate.

    Raises
    ------
    DomainError
        When the oxidant has no route for that job.
    UnsafeRouteError
        When the gate does not let it pass.
    """
    rebuilt = build_route(job, route.oxidant, tables=tables)
    if isinstance(rebuilt, NoRoute):
        raise DomainError(f"{route.oxidant.name} has no route for the changed job: {rebuilt.reason}")
    rebuilt = replace(rebuilt, own_rules=route.own_rules)
    judged = safety.review_situation(situation(job, route.oxidant, tables, rebuilt))
    if judged.decision not in ("clear", "caution"):
        raise UnsafeRouteError(
            f"{route.oxidant.name} is stopped for the changed job: "
            + "; ".join(reason.text for reason in judged.reasons),
            hint="; ".join(reason.safer for reason in judged.reasons if reason.safer) or None,
            reasons=tuple(judged.reasons),
        )
    rebuilt = replace(
        rebuilt,
        kinetics=route.kinetics,
        kinetics_note=route.kinetics_note,
        warnings=tuple(reason.text for reason in judged.reasons),
    )
    return rebuilt, judged


def _difference(old: Any, new: Any) -> float:
    assert isinstance(old, Quantity)
    assert isinstance(new, Quantity)
    return new.value - old.value


def _free_job(route: Route, tables: Tables) -> tuple[Job, list[str]]:
    job, changed = route.job, []
    for charge in route.charges:
        if charge.bottle is None:
            continue
        label = free_label(charge.bottle, tables)
        if label is None:
            continue
        try:
            read_bottle(label)
        except RedoxlibError:
            continue
        changed.append(f"{charge.label} became {label}")
        fields: dict[str, Any] = {charge.role: label}
        if charge.role in ("acid", "base", "feed"):
            job = replace(job, **fields)
        else:
            kept = tuple(
                b
                for b in job.bottles
                if read_bottle(b.partition(" of ")[2] or b).solute != charge.bottle.solute
            )
            job = replace(job, bottles=(*kept, label))
    return job, changed
