"""What moves when one thing changes, and how far a batch can grow.

Verbs: what_if, scale_sweep.  May import: routes, safety and below; the rest of this package.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from redoxlib.bench._plan import BenchPlan, replanned
from redoxlib.bench._unrestricted import judged_again
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, UnsafeRouteError
from redoxlib.quantity import Quantity

__all__ = ["Change", "Scale", "scale_sweep", "what_if"]

_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Change:
    """One number that moved; ``None`` where it is not there or unknown on that side."""

    key: str
    before: Quantity | None
    after: Quantity | None

    @property
    def relative(self) -> float:
        """Change over the larger of the two; 1 where it came or went."""
        if self.before is None or self.after is None:
            return 1.0
        size = max(abs(self.before.value), abs(self.after.value))
        return abs(self.after.value - self.before.value) / size if size else 0.0


@dataclass(frozen=True, slots=True)
class Scale:
    """One size of the batch.

    ``limit`` is "passes", or what stops it: the gate's words or the cooling.
    """

    factor: float
    feed_mol: float
    shortest_min: float | None
    limit: str

    @property
    def passes(self) -> bool:
        """Whether this size may be planned."""
        return self.limit == "passes"


def what_if(plan: BenchPlan, *, tables: Tables | None = None, **fields: Any) -> tuple[Change, ...]:
    """Change fields of the job and list the numbers that move, the most moved first.

    Parameters
    ----------
    **fields
        Job fields such as ``excess="20 %"``, ``cooling="30 W"`` or ``bottles=[...]``.

    Raises
    ------
    UnsafeRouteError
        When the gate stops the changed job.
    JobError, DomainError
        When a field cannot be read, or the route does not exist any more.
    """
    if not fields:
        raise DomainError("nothing is changed", hint='name a field, such as excess="20 %"')
    tables = tables or shipped()
    job = replace(plan.route.job, **fields)
    route, verdict = judged_again(job, plan.route, tables)
    after = replanned(route, verdict, tables)
    keys = dict.fromkeys((*plan.entries, *after.entries))
    changes = [Change(key, _value(plan, key), _value(after, key)) for key in keys]
    moved = [c for c in changes if c.relative > _SAME and (c.before is not None or c.after is not None)]
    return tuple(sorted(moved, key=lambda c: -c.relative))


def _value(plan: BenchPlan, key: str) -> Quantity | None:
    entry = plan.entries.get(key)
    return entry.value if entry is not None and isinstance(entry.value, Quantity) else None


def scale_sweep(
    plan: BenchPlan,
    factors: Sequence[float] = (0.1, 0.3, 1.0, 3.0, 10.0, 30.0),
    *,
    tables: Tables | None = None,
) -> tuple[Scale, ...]:
    """Try the batch at other sizes with the same cooling.

    Stoichiometry scales without end; heat removal does not, and neither does the gate.
    """
    tables = tables or shipped()
    feed = plan.route.parts[0].feed_mol
    found = []
    for factor in factors:
        if not factor > 0:
            raise DomainError(f"a batch cannot be {factor} times as large")
        job = replace(plan.route.job, amount=Quantity(feed * factor, "mol"), pot_mass=None)
        shortest: float | None = None
        limit = "passes"
        try:
            sheet = replanned(*judged_again(job, plan.route, tables), tables)
            value = _value(sheet, "dose.shortest.min")
            shortest = value.value if value is not None else None
        except UnsafeRouteError as error:
            limit = error.message
        found.append(Scale(factor, feed * factor, shortest, limit))
    return tuple(found)
