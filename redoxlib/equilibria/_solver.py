"""Composition of an ideal system at equilibrium, for many conditions at once.

The problem is solved through its dual: one potential per conserved quantity instead of one amount per
species.  With ``ln a = w + B^T y`` every aqueous amount is ``size * exp(ln a)``, and the balances
``B n = B n_feed`` are the gradient of a concave function of ``y``.  A pure or mixed phase of its own is
the inequality ``ln(sum of activities) <= 0`` whose multiplier is the amount of the phase.

Steps: one linear programme for the first condition, dual simplex steps from its basis for all others,
a few sweeps of coordinate ascent, then Newton steps in which the phases that are there are equations;
a supersaturated phase joins them and one of negative amount leaves.
The potentials are always those of the most abundant independent species, so that the scaled Newton
matrix stays well conditioned however many decades the amounts span; when the order of abundance
changes, the basis changes with it.

Arrays only; what the rows and columns mean is the business of the package.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = ["Problem", "Solution", "solve"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

TRACE = 1e-30
"""Share of the whole that every species is granted, so that none is excluded by a zero total."""

_CANCELLED = 1e-14  # a total this small against its terms is rounding, not matter
_GAP = 1e-13  # balances are settled when they close to this share of what goes in and out
_STEP = 16.0  # largest change of any ln(activity) of a basis species in one Newton step
_BLOCK = 1024  # conditions handled at once, so that their tableaux stay in the cache
_LEVEL = 1e-12  # ln(saturation) that counts as saturated
_NOTHING = 1e-25  # share of the whole below which a phase is not there
_SHORT_STEP = 2.0  # the same, for a condition whose long steps run in a circle
_PATIENCE = 30  # Newton steps after which long and short ones take turns
_RESTART = 6  # Newton steps after which a condition is swept again
_REBASE = 8.0  # a species this much more abundant than a basis species takes its place


@dataclass(frozen=True, slots=True)
class Problem:
    """M conditions of S species under C conserved quantities.

    Attributes
    ----------
    conserved : (C, S) array
        Whole-number coefficients of the conserved quantities.
    offset : (M, S) array
        ln(activity) of each species when all potentials are zero.
    feed : (M, S) array
        Amounts that go in [mol].
    size : (M, S) array
        Volume of a species' phase [L], or its equivalent for a gas space; 0 for phases of their own.
    phase : (S,) array
        Number of the phase of its own a species belongs to, -1 for species of sized phases.
    """

    conserved: Floats
    offset: Floats
    feed: Floats
    size: Floats
    phase: Ints


@dataclass(frozen=True, slots=True)
class Solution:
    """Amounts [mol] and ln(activity), both (M, S), the steps of the pass that settled, and who converged."""

    amount: Floats
    log_activity: Floats
    steps: Ints
    converged: NDArray[np.bool_]


class _Bases:
    """Tableaux by basis: each is worked out once and its entries are rounded to exact fractions."""

    def __init__(self, conserved: Floats) -> None:
        self.conserved = conserved
        self.known: dict[bytes, Floats] = {}

    def tableau(self, basis: Ints) -> Floats:
        key = basis.tobytes()
        if key not in self.known:
            square = self.conserved[:, basis]
            scale = abs(round(float(np.linalg.det(square)))) or 1
            found = np.asarray(np.linalg.solve(square, self.conserved), dtype=np.float64)
            if scale < 10_000:
                found = np.round(found * scale) / scale
            self.known[key] = found
        return self.known[key]

    def tableaux(self, bases: Ints) -> Floats:
        unique, where = np.unique(bases, axis=0, return_inverse=True)
        stack = np.stack([self.tableau(np.ascontiguousarray(b)) for b in unique])
        return np.asarray(stack[where.reshape(-1)])


def _first_basis(conserved: Floats, total: Floats, cost: Floats) -> Ints:
    """Optimal basis of min cost.n, conserved n = total, n >= 0, by the primal simplex method."""
    c, s = conserved.shape
    sign = np.where(total < 0, -1.0, 1.0)
    table = np.hstack([conserved * sign[:, None], np.eye(c), (total * sign)[:, None]])
    big = 1e4 * (1.0 + np.abs(cost).max())
    prices = np.concatenate([cost, np.full(c, big)])
    basis = np.arange(s, s + c)
    for turn in range(50 * (s + c)):
        reduced = prices - prices[basis] @ table[:, :-1]
        reduced[basis] = 0.0
        open_ = np.flatnonzero(reduced < -1e-9 * big / 1e4)
        if not open_.size:
            break
        # The steepest first; the lowest number once that has gone on so long that it may be a circle.
        enter = int(open_[np.argmin(reduced[open_])]) if turn < 20 * (s + c) else int(open_[0])
        column = table[:, enter]
        rows = np.flatnonzero(column > 1e-9)
        if not rows.size:
            break
        ratio = table[rows, -1] / column[rows]
        ties = rows[ratio <= ratio.min() + 1e-300]
        leave = int(ties[np.argmax(prices[basis[ties]])])
        table[leave] /= table[leave, enter]
        others = np.arange(c) != leave
        table[others] -= np.outer(table[others, enter], table[leave])
        basis[leave] = enter
    for row in np.flatnonzero(basis >= s):  # artificial ones left at zero
        free = np.setdiff1d(np.arange(s), basis)
        enter = int(free[np.argmax(np.abs(table[row, free]))])
        table[row] /= table[row, enter]
        others = np.arange(c) != row
        table[others] -= np.outer(table[others, enter], table[row])
        basis[row] = enter
    return basis.astype(np.int64)


def _pivot(tableau: Floats, basis: Ints, rows: Ints, enter: Ints) -> None:
    """In each condition let species *enter* replace the basis species of *rows*, in place."""
    at = np.arange(len(tableau))
    pivot_row = tableau[at, rows] / tableau[at, rows, enter][:, None]
    column = tableau[at, :, enter]
    column[at, rows] = 0.0
    tableau -= column[:, :, None] * pivot_row[:, None, :]
    tableau[at, rows] = pivot_row
    basis[at, rows] = enter


def _totals(tableau: Floats, feed: Floats) -> Floats:
    """Totals of the basis species: what the whole feed amounts to when written in them."""
    terms = tableau * feed[:, None, :]
    total = terms.sum(axis=2)
    total[np.abs(total) < _CANCELLED * np.abs(terms).sum(axis=2)] = 0.0
    trace = TRACE * feed.sum(axis=1)[:, None] * tableau.sum(axis=2)
    return np.asarray(total + trace)


def _starting_bases(problem: Problem, cost: Floats, bases: _Bases) -> Ints:
    """One linear programme; the other conditions follow from its basis by dual simplex steps."""
    m, s = problem.feed.shape
    spread = problem.feed + TRACE * problem.feed.sum(axis=1)[:, None]
    first = _first_basis(problem.conserved, problem.conserved @ spread[0], cost)
    basis = np.tile(first, (m, 1))
    tableau = np.tile(bases.tableau(first), (m, 1, 1))
    todo = np.arange(m)
    for _ in range(4 * s):
        total = _totals(tableau[todo], problem.feed[todo])
        row = total.argmin(axis=1)
        low = total[np.arange(len(todo)), row] < 0.0
        todo, row = todo[low], row[low]
        if not todo.size:
            break
        line = tableau[todo, row]
        reduced = cost - np.einsum("mc,mcs->ms", cost[basis[todo]], tableau[todo])
        ratio = np.where(line < -1e-9, np.maximum(reduced, 0.0) / np.maximum(-line, 1e-9), np.inf)
        enter = ratio.argmin(axis=1)
        possible = np.isfinite(ratio[np.arange(len(todo)), enter])
        todo, row, enter = todo[possible], row[possible], enter[possible]
        if not todo.size:
            break
        part_t, part_b = tableau[todo], basis[todo]
        _pivot(part_t, part_b, row, enter)
        tableau[todo], basis[todo] = part_t, part_b
    return basis


def _most_abundant(tableau: Floats, basis: Ints, weight: Floats) -> bool:
    """Exchange basis species for more abundant ones that depend on them, in place; True if any was."""
    changed = False
    todo = np.arange(len(tableau))
    log_weight = np.log(np.maximum(weight, 1e-300))
    for _ in range(3 * tableau.shape[1]):
        held = np.take_along_axis(log_weight[todo], basis[todo], axis=1)
        gain = np.where(
            np.abs(tableau[todo]) > 1e-9, log_weight[todo][:, None, :] - held[:, :, None], -np.inf
        ).reshape(len(todo), -1)
        best = gain.argmax(axis=1)
        better = gain[np.arange(len(todo)), best] > np.log(_REBASE)
        todo, best = todo[better], best[better]
        if not todo.size:
            return changed
        changed = True
        row, enter = np.divmod(best, tableau.shape[2])
        part_t, part_b = tableau[todo], basis[todo]
        _pivot(part_t, part_b, row, enter)
        tableau[todo], basis[todo] = part_t, part_b
    return changed


class _State:
    """The unsettled conditions: potentials of the basis species, phases and their amounts."""

    def __init__(self, problem: Problem, bases: _Bases, basis: Ints, members: Floats) -> None:
        self.problem, self.bases, self.members = problem, bases, members
        fed = problem.feed.sum(axis=1)
        self.scale = np.where(fed > 0, fed, problem.size.max(axis=1))
        self.feed = problem.feed / self.scale[:, None]
        with np.errstate(divide="ignore"):
            self.log_size = np.log(problem.size / self.scale[:, None])  # -inf for phases of their own
        self.sized = problem.phase < 0
        self.single = np.zeros(problem.feed.shape[1], dtype=bool)
        for row in members:
            if row.sum() == 1.0:
                self.single |= row > 0
        self.basis = basis
        self.potential = np.zeros_like(basis, dtype=float)
        m, p = len(basis), len(members)
        self.held = np.zeros((m, p))
        self.there = np.zeros((m, p), dtype=bool)
        self.age = np.zeros(m, dtype=np.int64)  # steps since the set of phases was changed
        self.turns = np.zeros(m, dtype=np.int64)  # how often it was
        self.rebase(None)

    def rebase(self, log_activity: Floats | None) -> None:
        """Take up the tableaux of the present bases, carrying the potentials over."""
        self.tableau = self.bases.tableaux(self.basis)
        self.total = _totals(self.tableau, self.feed)
        offset = self.problem.offset
        own = np.take_along_axis(offset, self.basis, axis=1)
        self.constant = offset - np.einsum("mc,mcs->ms", own, self.tableau)
        if log_activity is not None:
            self.potential = np.take_along_axis(log_activity, self.basis, axis=1)

    def log_activity(self) -> Floats:
        return np.asarray(self.constant + np.einsum("mc,mcs->ms", self.potential, self.tableau))

    def shares(self, log_activity: Floats) -> tuple[Floats, Floats]:
        """ln(sum of activities) of each phase of its own, and each member's share of it."""
        level = np.zeros((len(log_activity), len(self.members)))
        share = np.zeros_like(log_activity)
        for p, row in enumerate(self.members):
            inside = np.flatnonzero(row)
            part = log_activity[:, inside]
            top = part.max(axis=1)
            rest = np.exp(part - top[:, None])
            sums = rest.sum(axis=1)
            level[:, p] = top + np.log(sums)
            share[:, inside] = rest / sums[:, None]
        return level, share

    def amounts(self, log_activity: Floats, share: Floats) -> Floats:
        free = np.exp(np.minimum(log_activity + self.log_size, 300.0))
        return np.asarray(np.where(self.sized, free, share * (self.held @ self.members)))

    def start(self) -> None:
        """Amounts of the linear programme; then sweeps of coordinate ascent over the potentials."""
        phase = self.problem.phase[self.basis]
        for p in range(len(self.members)):
            self.held[:, p] = np.where(phase == p, self.total, 0.0).sum(axis=1)
        self.there = self.held > _NOTHING
        self.held = np.where(self.there, self.held, 0.0)
        # A phase of which there is but a trace gives its place to a dissolved species.
        weight = np.where(self.sized, _NOTHING, 1e-200)
        weight = np.tile(weight, (len(self.basis), 1))
        np.put_along_axis(
            weight,
            self.basis,
            np.where(self.sized[self.basis], np.maximum(self.total, _NOTHING), 1e-200),
            axis=1,
        )
        weight = np.where(self.sized, weight, np.maximum(weight, self.held @ self.members))
        tableau = self.tableau.copy()
        if _most_abundant(tableau, self.basis, weight):
            self.rebase(None)
        positive = np.maximum(self.total, TRACE)
        log_size = np.take_along_axis(self.log_size, self.basis, axis=1)
        own_phase = ~self.sized[self.basis]
        self.potential = np.where(own_phase, 0.0, np.log(positive) - np.where(own_phase, 0.0, log_size))
        self.sweep(4)

    def sweep(self, times: int) -> None:
        """Coordinate ascent: each balance in turn is met by its own potential, in logarithms.

        The phases keep their amounts.  Far from the solution this covers in one go what Newton steps,
        which shrink an amount by a factor e at most, would take tens for.
        """
        activity = self.log_activity()
        own_phase = ~self.sized[self.basis]
        _, share = self.shares(activity)
        held = np.where(self.sized, 0.0, share * (self.held @ self.members))
        left = self.total - (self.tableau @ held[:, :, None])[:, :, 0]
        dissolved = np.flatnonzero(self.sized)
        for _ in range(times):
            for k in range(left.shape[1]):
                row = self.tableau[:, k, dissolved]
                gain, loss = np.maximum(row, 0.0), np.maximum(-row, 0.0)
                fixed_up, fixed_down = np.maximum(-left[:, k], 0.0), np.maximum(left[:, k], 0.0)
                for _inner in range(2):
                    logs = activity[:, dissolved] + self.log_size[:, dissolved]
                    amount = np.exp(np.clip(logs, -600.0, 300.0))
                    gains, losses = gain * amount, loss * amount
                    up, down = gains.sum(axis=1) + fixed_up, losses.sum(axis=1) + fixed_down
                    ok = (up > 0) & (down > 0) & ~own_phase[:, k]
                    steep = (gain * gains).sum(axis=1) / np.where(ok, up, 1.0)
                    steep += (loss * losses).sum(axis=1) / np.where(ok, down, 1.0)
                    ok &= steep > 1e-12
                    change = np.log(np.where(ok, down, 1.0)) - np.log(np.where(ok, up, 1.0))
                    change = np.where(ok, change / np.where(ok, steep, 1.0), 0.0)
                    self.potential[:, k] += change
                    activity += self.tableau[:, k, :] * change[:, None]

    def keep(self, which: NDArray[np.bool_]) -> None:
        """Drop the settled conditions."""
        p = self.problem
        self.problem = Problem(p.conserved, p.offset[which], p.feed[which], p.size[which], p.phase)
        for name in (
            "scale",
            "feed",
            "log_size",
            "basis",
            "potential",
            "held",
            "there",
            "age",
            "turns",
            "tableau",
            "total",
            "constant",
        ):
            setattr(self, name, getattr(self, name)[which])

    def newton(self, log_activity: Floats, reach: float) -> NDArray[np.bool_]:
        """One step in place, none of ln(activity) by more than *reach*; returns who was settled before it."""
        level, share = self.shares(log_activity)
        amount = self.amounts(log_activity, share)
        t = self.tableau
        taken = (t @ amount[:, :, None])[:, :, 0]
        scale = (np.abs(t) @ np.abs(amount)[:, :, None])[:, :, 0] + np.abs(self.total)
        gap = self.total - taken
        off = (np.abs(gap) / (scale + TRACE)).max(axis=1)
        there = self.there
        gradient = np.einsum("mcs,ms,ps->mcp", t, share, self.members)
        slope = t - np.where(self.sized, 0.0, gradient @ self.members)
        weight = np.where(self.single, 0.0, np.maximum(amount, 0.0))
        step, change = _scaled_solve(
            (slope * weight[:, None, :]) @ slope.transpose(0, 2, 1),
            gap,
            gradient * there[:, None, :],
            np.where(there, -level, 0.0),
            np.where(there, np.maximum(self.held, 1e-9), 1.0),
        )
        flat = (np.abs(np.where(there, level, 0.0)) < _LEVEL).all(axis=1)
        settled = (off < _GAP) & flat
        self.age += 1
        settled &= ~self._revise(level, off, settled)
        length = self._length(step, amount, scale, reach)
        self.held = np.where(self.there, self.held + length[:, None] * np.where(there, change, 0.0), 0.0)
        self.potential = self.potential + length[:, None] * step
        return np.asarray(settled)

    def _revise(self, level: Floats, off: Floats, settled: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Let a supersaturated phase appear and one of negative amount go; True where that was needed.

        One phase at a time: the worst, or after many changes the first, which cannot run in circles.
        """
        if not len(self.members):
            return np.zeros(len(off), dtype=bool)
        over = np.where(self.there, 0.0, level)
        short = np.where(self.there, -self.held, 0.0)
        fault = np.where(over > _LEVEL, over, 0.0) + np.where(short > 1e-15, short, 0.0)
        due = (fault > 0).any(axis=1) & ((off < 1e-4) | settled | (self.age > 12))
        worst = np.where(self.turns < 20, fault.argmax(axis=1), (fault > 0).argmax(axis=1))
        at = np.flatnonzero(due)
        self.there = self.there.copy()
        self.there[at, worst[at]] ^= True
        self.turns[at] += 1
        self.age[at] = 0
        return due

    def _length(self, step: Floats, amount: Floats, scale: Floats, reach: float) -> Floats:
        """Share of a step that changes no activity by more than the Newton model can be trusted."""
        length = np.minimum(1.0, reach / np.maximum(np.abs(step).max(axis=1), 1e-300))
        # A species that is scarce now must not become all there is in one step.
        rise = np.where(self.sized, np.einsum("mc,mcs->ms", step, self.tableau), 0.0)
        room = np.log(np.maximum(scale.max(axis=1), 1e-3))[:, None] + 3.0
        room = np.maximum(room - np.log(np.maximum(amount, 1e-300)), 0.5)
        too_far = np.where(rise > 1e-9, room / np.maximum(rise, 1e-9), np.inf)
        return np.asarray(np.minimum(length, too_far.min(axis=1)))


def _scaled_solve(
    matrix: Floats, right: Floats, gradient: Floats, level: Floats, held: Floats
) -> tuple[Floats, Floats]:
    """Solve the Newton system with its phase equations, scaled so that every diagonal entry is 1."""
    m, c, p = gradient.shape
    own = np.einsum("mcc->mc", matrix) + (gradient**2 @ held[:, :, None])[:, :, 0]
    unit = 1.0 / np.sqrt(np.maximum(own, 1e-60))
    whole = np.zeros((m, c + p, c + p))
    whole[:, :c, :c] = matrix * unit[:, :, None] * unit[:, None, :]
    whole[:, np.arange(c), np.arange(c)] += 1e-14
    root = np.sqrt(held)
    side = gradient * unit[:, :, None] * root[:, None, :]
    whole[:, :c, c:] = side
    whole[:, c:, :c] = side.transpose(0, 2, 1)
    idle = ~gradient.any(axis=1)
    whole[:, np.arange(c, c + p), np.arange(c, c + p)] = np.where(idle, 1.0, -1e-13)
    values = np.concatenate([right * unit, level * root], axis=1)
    found = np.linalg.solve(whole, values[:, :, None])[:, :, 0]
    return found[:, :c] * unit, found[:, c:] * root


def solve(problem: Problem, *, steps: int = 200) -> Solution:
    """Solve all conditions; those that did not settle in *steps* Newton steps are marked."""
    bases = _Bases(problem.conserved)
    parts = []
    for start in range(0, len(problem.feed), _BLOCK):
        block = slice(start, start + _BLOCK)
        part = Problem(
            problem.conserved, problem.offset[block], problem.feed[block], problem.size[block], problem.phase
        )
        parts.append(_solve_block(part, bases, steps))
    found = Solution(
        np.concatenate([p.amount for p in parts]),
        np.concatenate([p.log_activity for p in parts]),
        np.concatenate([p.steps for p in parts]),
        np.concatenate([p.converged for p in parts]),
    )
    # Sweeps and long steps are quick and nearly always right; where they chase each other in a circle, a
    # start of the condition's own and short steps get there.
    for i in np.flatnonzero(~found.converged):
        at = slice(i, i + 1)
        one = Problem(
            problem.conserved, problem.offset[at], problem.feed[at], problem.size[at], problem.phase
        )
        again = _solve_block(one, bases, steps, careful=True)
        found.amount[at], found.log_activity[at] = again.amount, again.log_activity
        found.steps[at], found.converged[at] = again.steps, again.converged
    return found


def _solve_block(problem: Problem, bases: _Bases, steps: int, *, careful: bool = False) -> Solution:
    m, s = problem.feed.shape
    count = int(problem.phase.max(initial=-1)) + 1
    members = np.array([problem.phase == p for p in range(count)], dtype=float).reshape(count, s)
    sized = problem.phase < 0
    typical = np.log(max(1e-6, float(np.median(problem.feed.sum(axis=1) / problem.size.max(axis=1)))))
    cost = -problem.offset.mean(axis=0) + np.where(sized, typical, 0.0)
    # Changing the potentials adds a multiple of the conserved rows, which no balanced exchange feels.
    basis = _starting_bases(problem, cost, bases)
    state = _State(problem, bases, basis, members)
    state.start()
    amount, activity = np.zeros((m, s)), np.zeros((m, s))
    taken, converged = np.zeros(m, dtype=np.int64), np.zeros(m, dtype=bool)
    todo = np.arange(m)
    for turn in range(steps):
        present = state.log_activity()
        if turn < 4 or turn % 3 == 0:
            _, share = state.shares(present)
            weight = state.amounts(present, share)
            tableau = state.tableau.copy()
            if _most_abundant(tableau, state.basis, weight):
                state.rebase(present)
                present = state.log_activity()
        short = careful or turn // _PATIENCE % 2 == 1
        if turn % _RESTART == _RESTART - 1 and not short:
            state.sweep(2)
            present = state.log_activity()
        settled = state.newton(present, _SHORT_STEP if short else _STEP)
        if settled.any():
            done = todo[settled]
            present = state.log_activity()  # the step past the mark brings it to rounding
            _, share = state.shares(present)
            amount[done] = (state.amounts(present, share) * state.scale[:, None])[settled]
            activity[done] = present[settled]
            taken[done], converged[done] = turn, True
            todo = todo[~settled]
            if not todo.size:
                break
            state.keep(~settled)
    if todo.size:
        present = state.log_activity()
        _, share = state.shares(present)
        amount[todo] = state.amounts(present, share) * state.scale[:, None]
        activity[todo], taken[todo] = present, steps
    # A phase just about to appear may stand at minus a rounding error.
    return Solution(np.maximum(amount, 0.0), activity, taken, converged)


def least_norm(rows: Any, right: Any) -> Floats:
    """A solution of rows x = right for each column of *right* (rows independent)."""
    rows = np.asarray(rows, dtype=float)
    return np.asarray(rows.T @ np.linalg.solve(rows @ rows.T, np.asarray(right, dtype=float)))
