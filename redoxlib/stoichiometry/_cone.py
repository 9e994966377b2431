"""Positive solutions of A x = 0: extreme rays, and a whole-number proof when there are none.

Both algorithms are textbook ones in exact integers: the double description method (Motzkin et al.
1953; Fukuda and Prodon 1996) and the simplex method with integer pivoting (Edmonds 1967) whose dual
values at the end of phase one are a Farkas certificate.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import gcd

from redoxlib.stoichiometry._solve import primitive

__all__ = ["MAX_MEMBERS", "MAX_SPECIES_FOR_MEMBERS", "extreme_rays", "feasible_or_certificate"]

MAX_SPECIES_FOR_MEMBERS = 32
MAX_MEMBERS = 10_000
# Adjacent pairs examined before giving up; keeps hostile matrices inside a second or so.
_MAX_PAIRS = 2_000_000
_DANTZIG_PIVOTS = 200


def extreme_rays(rows: Sequence[Sequence[int]], columns: int) -> tuple[list[list[int]], bool]:
    """Extreme rays of {x >= 0, rows · x = 0}, primitive and sorted, and whether the list was cut.

    Every balanced equation over these species is a sum of these rays with positive weights.
    """
    if columns > MAX_SPECIES_FOR_MEMBERS:
        return [], True
    rays: list[tuple[int, list[int]]] = []
    for j in range(columns):
        unit = [0] * columns
        unit[j] = 1
        rays.append((1 << j, unit))
    waiting = [list(row) for row in rows if any(row)]
    pairs = 0
    while waiting and rays:
        scored = [[sum(a * x for a, x in zip(row, ray, strict=True)) for _, ray in rays] for row in waiting]
        best = min(
            range(len(waiting)),
            key=lambda i: sum(v > 0 for v in scored[i]) * sum(v < 0 for v in scored[i]),
        )
        values = scored[best]
        del waiting[best]
        kept = [ray for ray, value in zip(rays, values, strict=True) if value == 0]
        above = [(ray, value) for ray, value in zip(rays, values, strict=True) if value > 0]
        below = [(ray, value) for ray, value in zip(rays, values, strict=True) if value < 0]
        pairs += len(above) * len(below)
        if pairs > _MAX_PAIRS:
            return [], True
        supports = [support for support, _ in rays]
        for (support_a, ray_a), value_a in above:
            for (support_b, ray_b), value_b in below:
                union = support_a | support_b
                # Combinatorial adjacency: no third ray lives on the union of the two supports.
                inside = 0
                for support in supports:
                    if support & union == support:
                        inside += 1
                        if inside > 2:
                            break
                if inside > 2:
                    continue
                mixed = [value_a * b - value_b * a for a, b in zip(ray_a, ray_b, strict=True)]
                kept.append((union, primitive(mixed)))
        if len(kept) > MAX_MEMBERS:
            return [], True
        rays = kept
    return sorted((ray for _, ray in rays), key=lambda r: (sum(r), [-x for x in r])), False


def _pivot(table: list[list[int]], row: int, column: int, denominator: int) -> int:
    """One integer pivot; all entries of *table* share the returned denominator afterwards."""
    pivot_row = table[row]
    pivot = pivot_row[column]
    for i, other in enumerate(table):
        factor = other[column]
        if i == row:
            continue
        if factor:
            table[i] = [
                (value * pivot - factor * base) // denominator
                for value, base in zip(other, pivot_row, strict=True)
            ]
        elif pivot != denominator:
            table[i] = [value * pivot // denominator for value in other]
    return pivot


def feasible_or_certificate(
    rows: Sequence[Sequence[int]], columns: int, free: Iterable[int] = ()
) -> tuple[list[int] | None, list[int] | None]:
    """Find x with rows · x = 0 that is positive outside *free*, or prove there is none.

    Returns
    -------
    (solution, None) or (None, weights)
        *weights*, one whole number per row, give every column outside *free* a total that is not
        negative, every free column zero, and at least one column a positive total.
    """
    loose = sorted(set(free))
    loose_set = set(loose)
    fixed = [j for j in range(columns) if j not in loose_set]
    table: list[list[int]] = []
    signs: list[int] = []
    for i, row in enumerate(rows):
        right = -sum(row[j] for j in fixed)
        sign = -1 if right < 0 else 1
        signs.append(sign)
        marks = [0] * len(rows)
        marks[i] = 1
        body = [sign * v for v in row] + [-sign * row[j] for j in loose]
        table.append([*body, *marks, sign * right])
    width = columns + len(loose)
    size = len(rows)
    cost = [-sum(table[i][j] for i in range(size)) for j in range(width)]
    cost += [0] * size + [-sum(table[i][-1] for i in range(size))]
    table.append(cost)
    basis = list(range(width, width + size))
    denominator = 1
    turns = 0
    while True:
        cost = table[-1]
        # Steepest entry first; the lowest index (Bland) after that, which cannot cycle.
        entering = -1
        if turns < _DANTZIG_PIVOTS:
            entering = min(range(width), key=cost.__getitem__, default=-1)
            if entering >= 0 and cost[entering] >= 0:
                entering = -1
        else:
            entering = next((j for j in range(width) if cost[j] < 0), -1)
        if entering < 0 or cost[-1] == 0:
            break
        leaving = -1
        for i in range(size):
            entry = table[i][entering]
            if entry > 0:
                if leaving < 0:
                    leaving = i
                    continue
                left = table[i][-1] * table[leaving][entering]
                right = table[leaving][-1] * entry
                if left < right or (left == right and basis[i] < basis[leaving]):
                    leaving = i
        if leaving < 0:
            raise ArithmeticError("phase one cannot be unbounded; this is a defect of the solver")
        denominator = _pivot(table, leaving, entering, denominator)
        basis[leaving] = entering
        turns += 1
    if table[-1][-1] == 0:
        scaled = [0] * width
        for i, variable in enumerate(basis):
            if variable < width:
                scaled[variable] = table[i][-1]
        solution = [scaled[j] for j in range(columns)]
        for j in fixed:
            solution[j] += denominator
        for place, j in enumerate(loose):
            solution[j] -= scaled[columns + place]
        return primitive(solution), None
    weights = [-signs[i] * (denominator - table[-1][width + i]) for i in range(size)]
    common = gcd(*weights) or 1
    weights = [value // common for value in weights]
    _prove(rows, columns, loose_set, weights)
    return None, weights


def _prove(rows: Sequence[Sequence[int]], columns: int, free: set[int], weights: Sequence[int]) -> None:
    totals = [sum(w * row[j] for w, row in zip(weights, rows, strict=True)) for j in range(columns)]
    good = any(totals) and all(total == 0 if j in free else total >= 0 for j, total in enumerate(totals))
    if not good:
        raise ArithmeticError("a certificate failed its proof; this is a defect of the solver")
