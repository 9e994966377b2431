"""Members of a family told in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from redoxlib.stoichiometry._choice import Transition, transitions_of
from redoxlib.stoichiometry._numbers import signed
from redoxlib.stoichiometry._solve import null_space, primitive
from redoxlib.stoichiometry._system import System

__all__ = ["describe"]


def _listed(names: Sequence[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return ", ".join(names[:-1]) + " and " + names[-1]


def _absent(system: System, vector: Sequence[int]) -> list[str]:
    return [str(s) for j, s in enumerate(system.species) if not vector[j] and j not in system.free]


def _change(transition: Transition) -> str:
    verb = "is oxidised to" if transition.is_oxidation else "is reduced to"
    return (
        f"{transition.element} of {_listed(sorted({str(s) for s in transition.sources}))} {verb} "
        f"{_listed(sorted({str(s) for s in transition.targets}))} "
        f"({signed(transition.start)} -> {signed(transition.end)})"
    )


def _alone(system: System, vector: Sequence[int]) -> str | None:
    """Name the one reactant that changes by itself, if that is what this equation is."""
    left = [
        s for j, s in enumerate(system.species) if vector[j] * system.signs[j] > 0 and j not in system.free
    ]
    if len(left) != 1:
        return None
    found = transitions_of(system, vector)
    if not found:
        return f"{left[0]} splits up by itself without any electrons passing"
    starts = {(t.element, t.start) for t in found}
    up = any(t.is_oxidation for t in found)
    down = any(not t.is_oxidation for t in found)
    if up and down and len(starts) < len(found):
        return f"{left[0]} decomposes by itself, oxidising and reducing its own atoms (disproportionation)"
    return f"{left[0]} decomposes by itself"


def _as_sum(vector: Sequence[int], parts: Sequence[Sequence[int]]) -> list[Fraction] | None:
    """Weights that make *vector* out of at most two *parts*, not negative; ``None`` if there are none."""
    for part in parts:
        weights = _two(vector, part, None)
        if weights is not None:
            return [weights[0] if other is part else Fraction(0) for other in parts]
    for i, one in enumerate(parts):
        for k in range(i + 1, len(parts)):
            weights = _two(vector, one, parts[k])
            if weights is not None:
                found = [Fraction(0)] * len(parts)
                found[i], found[k] = weights
                return found
    return None


def _two(
    vector: Sequence[int], one: Sequence[int], other: Sequence[int] | None
) -> tuple[Fraction, Fraction] | None:
    columns = [one] if other is None else [one, other]
    rows = [[vector[j], *(-column[j] for column in columns)] for j in range(len(vector))]
    basis = null_space(rows, 1 + len(columns))
    if len(basis) != 1 or not basis[0][0]:
        return None
    scale = basis[0][0]
    weights = [Fraction(value, scale) for value in basis[0][1:]]
    if any(weight < 0 for weight in weights):
        return None
    return weights[0], weights[1] if other is not None else Fraction(0)


def describe(
    system: System,
    vector: Sequence[int],
    chosen: Sequence[int] | None,
    rays: Sequence[Sequence[int]],
) -> str:
    """Say what one balanced equation does, and how it differs from the choice."""
    vector = primitive(vector)
    if chosen is not None and list(chosen) == vector:
        return _plain(system, vector, "the chosen equation: ")
    alone = _alone(system, vector)
    absent = _absent(system, vector)
    tail = f"; {_listed(absent)} {'takes' if len(absent) == 1 else 'take'} no part" if absent else ""
    if alone is not None:
        return alone + tail
    if chosen is not None and not absent:
        more = _beyond(system, vector, chosen, rays)
        if more is not None:
            return more
    return _plain(system, vector, "") + tail


def _beyond(
    system: System, vector: Sequence[int], chosen: Sequence[int], rays: Sequence[Sequence[int]]
) -> str | None:
    """The choice plus one other member: what else happens."""
    weights = _as_sum(vector, [chosen, *rays])
    if weights is None or not weights[0]:
        return None
    extra = [(weight, ray) for weight, ray in zip(weights[1:], rays, strict=True) if weight]
    if len(extra) != 1:
        return None
    _, ray = extra[0]
    side = _alone(system, ray)
    what = (
        side.replace(" decomposes", " also decomposes").replace(" splits", " also splits")
        if side
        else (f"{system.equation(ray)} also runs")
    )
    return f"the chosen equation, and {what} here"


def _plain(system: System, vector: Sequence[int], head: str) -> str:
    found = transitions_of(system, vector)
    if found is None:
        return head + str(system.equation(vector))
    if not found:
        return head + "no oxidation number changes"
    return head + "; ".join(_change(transition) for transition in found)
