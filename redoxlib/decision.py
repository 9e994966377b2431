"""Which alternative, under which weights, and what would change it.  Verbs: decide, pareto_front.

Works on plain figures: penalty points, one row an alternative, one column a criterion, less is better,
on scales fixed beforehand.  Rank acceptability is that of Lahdelma and Salminen: the share of all
possible weightings, and of all values the figures may have, in which an alternative takes a rank.

May import: errors.  numpy is loaded by the first decision, not by the import.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Any
from zlib import crc32

from redoxlib.errors import DomainError

__all__ = ["Alternatives", "Decision", "Leverage", "Swing", "decide", "pareto_front"]

Row = tuple[float, ...]

SENSITIVITY = 0.20
"""By how much each weight is raised and lowered, one at a time."""

_CHUNK = 4096  # weightings handled at once: bounds the memory, whatever their number


@dataclass(frozen=True, slots=True)
class Alternatives:
    """What is to be decided between.

    Attributes
    ----------
    names, criteria : tuple of str
        Rows and columns.
    points : tuple of tuples of float
        Penalty points as they stand; less is better.
    low, high : tuple of tuples of float
        Between which each figure may lie; empty where all are certain.
    causes : tuple of tuples of tuples of (str, float)
        For each figure what makes it uncertain: names and their shares of the interval, the absolute values
        adding to 1.  Figures that name the same cause are drawn together; a negative share moves the figure
        down when the cause goes up.  Empty where every figure is on its own.

    Raises
    ------
    DomainError
        If shapes differ, a figure is no number, or a figure lies outside its own interval.
    """

    names: tuple[str, ...]
    criteria: tuple[str, ...]
    points: tuple[Row, ...]
    low: tuple[Row, ...] = ()
    high: tuple[Row, ...] = ()
    causes: tuple[tuple[tuple[tuple[str, float], ...], ...], ...] = ()

    def __post_init__(self) -> None:
        if not self.names or not self.criteria:
            raise DomainError("a decision needs at least one alternative and one criterion")
        if len(set(self.names)) != len(self.names):
            raise DomainError("two alternatives have the same name")
        for what, table in (("points", self.points), ("low", self.low), ("high", self.high)):
            if what != "points" and not table:
                continue
            if len(table) != len(self.names) or any(len(row) != len(self.criteria) for row in table):
                raise DomainError(
                    f"{what} must have {len(self.names)} rows of {len(self.criteria)} figures each"
                )
            if not all(isfinite(x) for row in table for x in row):
                raise DomainError(
                    f"{what} holds a figure that is not a number",
                    hint="an unknown figure spans its whole scale: low 0, high 100",
                )
        if bool(self.low) != bool(self.high):
            raise DomainError("give both low and high, or neither")
        self._check_causes()
        for name, value, low, high in zip(self.names, self.points, self.low, self.high, strict=False):
            for criterion, x, a, b in zip(self.criteria, value, low, high, strict=True):
                if not a <= x <= b:
                    raise DomainError(f"{name}, {criterion}: {x:g} is not between {a:g} and {b:g}")

    def _check_causes(self) -> None:
        if not self.causes:
            return
        if not self.low:
            raise DomainError("causes need low and high")
        if len(self.causes) != len(self.names) or any(len(r) != len(self.criteria) for r in self.causes):
            raise DomainError(f"causes must have {len(self.names)} rows of {len(self.criteria)} entries each")
        for name, row, low, high in zip(self.names, self.causes, self.low, self.high, strict=True):
            for criterion, cell, a, b in zip(self.criteria, row, low, high, strict=True):
                if (b > a) != bool(cell) or (cell and abs(sum(abs(x) for _, x in cell) - 1) > 1e-9):
                    raise DomainError(
                        f"{name}, {criterion}: an uncertain figure needs causes whose shares add to 1, "
                        "a certain one none"
                    )


@dataclass(frozen=True, slots=True)
class Swing:
    """How the first place follows the weight of one criterion.

    Attributes
    ----------
    lowered, raised : str
        First place with the weight a fifth lower and a fifth higher.
    down, up : float or None
        Factor on the weight, below and above 1, at which the first place passes to another; None where
        no factor does that.
    """

    criterion: str
    lowered: str
    raised: str
    down: float | None
    up: float | None


@dataclass(frozen=True, slots=True)
class Leverage:
    """One uncertain figure and the chance that its true value gives the first place to another.

    The chance takes the figure as equally likely anywhere between its low and high, the others as they
    stand; ``to`` is who would be first at the end of the interval that favours the change most.  ``cause``
    names the assay or constant behind it, and then the chance is over that cause alone, in every figure it
    enters.
    """

    alternative: str
    criterion: str
    chance: float
    to: str
    cause: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What the figures say.

    Attributes
    ----------
    front : tuple of str
        Alternatives that no other beats or equals in everything and beats in something.
    order : tuple of str
        By weighted total at the stated weights, best first; ``totals`` in the order of ``names``.
    acceptability : tuple of tuples of float
        Share of all weightings in which each alternative takes rank 1, 2, ...
    central : tuple
        Mean of the weights under which each alternative is first; None where it never is.
    confidence : tuple
        Share of the possible figures for which it is first at its central weights; None likewise.
    swings : tuple of Swing
        One per criterion.
    leverage : tuple of Leverage
        Uncertain figures by their chance to change the first place, the most likely first; those with
        no chance are left out.
    uncertain : tuple of bool
        Whether any figure of each alternative is.
    """

    names: tuple[str, ...]
    criteria: tuple[str, ...]
    weights: Row
    totals: Row
    order: tuple[str, ...]
    front: tuple[str, ...]
    acceptability: tuple[Row, ...]
    central: tuple[Row | None, ...]
    confidence: tuple[float | None, ...]
    swings: tuple[Swing, ...]
    leverage: tuple[Leverage, ...]
    draws: int
    seed: int
    uncertain: tuple[bool, ...] = ()

    @property
    def first(self) -> str:
        """First at the stated weights."""
        return self.order[0]

    def share(self, name: str, rank: int = 1) -> float:
        """Share of all weightings in which an alternative takes a rank (from 1)."""
        if name not in self.names:
            raise DomainError(f"{name!r} was not decided on", hint=f"known: {', '.join(self.names)}")
        if not 1 <= rank <= len(self.names):
            raise DomainError(f"rank {rank} is not between 1 and {len(self.names)}")
        return self.acceptability[self.names.index(name)][rank - 1]

    @property
    def steady(self) -> bool:
        """Whether no weight, raised or lowered by a fifth, changes the first place."""
        return all(s.lowered == s.raised == self.first for s in self.swings)

    def sentences(self) -> tuple[str, ...]:
        """The decision in plain sentences, each with its figure.

        >>> two = Alternatives(("a", "b"), ("cost", "risk"), ((0.0, 60.0), (40.0, 20.0)))
        >>> decide(two, draws=20_000).sentences()[0]
        'a and b tie at equal weights; a is first in 50 % of all weightings'
        """
        best = self.first
        said = [f"{best} is first in {_percent(self.share(best))} of all weightings"]
        if len(self.order) > 1:
            gap = self.totals[self.names.index(self.order[1])] - self.totals[self.names.index(best)]
            if gap == 0.0:
                equal = "at equal weights" if len(set(self.weights)) == 1 else "at the stated weights"
                said = [f"{best} and {self.order[1]} tie {equal}; {said[0]}"]
        rivals = [
            (self.share(name), name, central)
            for name, central in zip(self.names, self.central, strict=True)
            if name != best and central is not None
        ]
        for share, name, central in sorted(rivals, reverse=True)[:3]:
            weights = ", ".join(f"{c} {w:.2f}" for c, w in zip(self.criteria, central, strict=True))
            said.append(f"{name} is first in {_percent(share)}, typically with the weights {weights}")
        if self.steady:
            said.append(f"no weight raised or lowered by {_percent(SENSITIVITY)} changes the first place")
        for s in self.swings:
            for which, name in (("lower", s.lowered), ("higher", s.raised)):
                if name != best:
                    said.append(
                        f"with the weight of {s.criterion} {_percent(SENSITIVITY)} {which}, {name} is first"
                    )
        if self.leverage:
            top = self.leverage[0]
            what = top.cause or f"a better figure for {top.criterion} of {top.alternative}"
            said.append(
                f"{what} is the likeliest to change the first place: {_percent(top.chance)} of its interval "
                f"puts {top.to} first"
            )
        elif any(self.uncertain):
            said.append(
                "no single uncertain figure, wherever it lies in its interval, changes the first place"
            )
        return tuple(said)


def _percent(share: float) -> str:
    if 0.0 < share < 0.005:
        return "less than 1 %"
    if 0.995 < share < 1.0:
        return "more than 99 %"
    return f"{100 * share:.0f} %"


def pareto_front(alternatives: Alternatives) -> tuple[str, ...]:
    """Alternatives that no other dominates, by their points as they stand.

    One dominates another when it is nowhere worse and somewhere better; equals do not.

    >>> pareto_front(Alternatives(("a", "b", "c"), ("x", "y"), ((0, 2), (1, 1), (1, 2))))
    ('a', 'b')
    """
    rows = alternatives.points
    return tuple(
        name
        for name, mine in zip(alternatives.names, rows, strict=True)
        if not any(other != mine and all(o <= m for o, m in zip(other, mine, strict=True)) for other in rows)
    )


def decide(
    alternatives: Alternatives,
    *,
    weights: Sequence[float] | None = None,
    samples: Any = None,
    draws: int = 100_000,
    seed: int = 20240601,
) -> Decision:
    """Weigh alternatives under all weightings and all values their figures may have.

    Parameters
    ----------
    alternatives : Alternatives
    weights : sequence of float, optional
        Of the criteria, 0 or more; equal by default.  They set ``order``, ``swings`` and ``leverage``;
        acceptability looks at all weightings alike.
    samples : array (n, alternatives, criteria), optional
        Draws of all figures together, with whatever correlation their common table rows give them;
        used instead of independent draws between low and high.
    draws : int
        Number of weightings; the standard error of a share p is sqrt(p (1 - p) / draws).
    seed : int
        The same seed gives the same decision.

    Raises
    ------
    DomainError
        If weights or samples do not fit.

    Notes
    -----
    Weightings are uniform on the simplex.  The draws of one alternative depend on the seed and its name
    alone, so that adding another never changes the figures of those already there.

    References
    ----------
    .. [1] Lahdelma, Hokkanen and Salminen, Eur. J. Oper. Res. 106 (1998) 137-143.
    .. [2] Lahdelma and Salminen, Operations Research 49 (2001) 444-454.
    .. [3] Tervonen and Lahdelma, Eur. J. Oper. Res. 178 (2007) 500-513, on the sampling.
    """
    import numpy as np

    n, k = len(alternatives.names), len(alternatives.criteria)
    w = _weights(weights, k)
    if draws < 1:
        raise DomainError(f"draws must be 1 or more, not {draws}")
    figures = None
    if samples is not None:
        figures = np.asarray(samples, dtype=np.float32)
        if figures.ndim != 3 or figures.shape[1:] != (n, k) or not len(figures):
            raise DomainError(f"samples must have the shape (draws, {n}, {k}), not {np.shape(samples)}")
        if not bool(np.isfinite(figures).all()):
            raise DomainError("samples hold a figure that is not a number")
    ranks, first = np.zeros((n, n), dtype=np.int64), np.zeros((n, k))
    for weighting, values in _draws(alternatives, figures, draws, seed):
        total = _totals(weighting, values)
        order = np.argsort(total, axis=1, kind="stable")
        places = order + n * np.arange(n)[None, :]
        ranks += np.bincount(places.ravel(), minlength=n * n).reshape(n, n).T
        for column in range(k):
            first[:, column] += np.bincount(order[:, 0], weights=weighting[:, column], minlength=n)
    shares = ranks / draws
    certain = figures is None and not alternatives.low
    if certain:
        shares, first = _shared_by_equals(alternatives.points, shares, first)
    wins = shares[:, 0] * draws
    central = [tuple(float(x) for x in first[i] / first[i].sum()) if wins[i] > 0 else None for i in range(n)]
    totals = [sum(a * b for a, b in zip(w, row, strict=True)) for row in alternatives.points]
    by_total = sorted(range(n), key=lambda i: (totals[i], i))
    return Decision(
        alternatives.names,
        alternatives.criteria,
        w,
        tuple(totals),
        tuple(alternatives.names[i] for i in by_total),
        pareto_front(alternatives),
        tuple(tuple(float(x) for x in row) for row in shares),
        tuple(central),
        tuple(_confidence(alternatives, figures, central, seed)),
        tuple(_swings(alternatives, w)),
        tuple(_leverage(alternatives, w)),
        draws,
        seed,
        tuple(a != b for a, b in zip(alternatives.low, alternatives.high, strict=True)),
    )


def _weights(weights: Sequence[float] | None, count: int) -> Row:
    if weights is None:
        return (1.0 / count,) * count
    if len(weights) != count:
        raise DomainError(f"{len(weights)} weights for {count} criteria")
    total = float(sum(weights))
    if not all(isfinite(x) and x >= 0 for x in weights) or total <= 0:
        raise DomainError("weights must be numbers of 0 or more, not all 0")
    return tuple(float(x) / total for x in weights)


def _draws(alternatives: Alternatives, figures: Any, draws: int, seed: int) -> Iterator[tuple[Any, Any]]:
    """Chunks of weightings (m, k) with the figures they meet, (1 or m, n, k)."""
    import numpy as np

    k = len(alternatives.criteria)
    chance = np.random.default_rng([seed, 0])
    fixed = np.asarray(alternatives.points, dtype=np.float32)[None]
    low, span = _interval(alternatives)
    own = [np.random.default_rng([seed, 1, crc32(name.encode())]) for name in alternatives.names]
    # One source of chance a cause, by its name, so that another alternative does not disturb the others.
    shared = {name: np.random.default_rng([seed, 2, crc32(name.encode())]) for name in _names(alternatives)}
    for start in range(0, draws, _CHUNK):
        size = min(_CHUNK, draws - start)
        # Exponential numbers scaled to sum 1 are uniform on the simplex.
        weighting = chance.standard_exponential((size, k), dtype=np.float32)
        weighting /= weighting.sum(axis=1, keepdims=True)
        if figures is not None:
            yield weighting, figures[np.arange(start, start + size) % len(figures)]
        elif alternatives.low:
            values = np.empty((size, len(own), k), dtype=np.float32)
            if alternatives.causes:
                _draw_causes(alternatives, values, shared)
            else:
                for i, source in enumerate(own):
                    values[:, i, :] = source.random((size, k), dtype=np.float32)
            values *= span
            values += low
            yield weighting, values
        else:
            yield weighting, fixed


def _names(alternatives: Alternatives) -> list[str]:
    return list(dict.fromkeys(n for row in alternatives.causes for cell in row for n, _ in cell))


def _draw_causes(alternatives: Alternatives, values: Any, shared: dict[str, Any]) -> None:
    """Where in its interval each figure lies, 0 to 1, every cause drawn once for all it enters."""
    import numpy as np

    values[:] = 0.0
    drawn = {name: source.random(len(values), dtype=np.float32) for name, source in shared.items()}
    for i, row in enumerate(alternatives.causes):
        for j, cell in enumerate(row):
            for name, part in cell:
                values[:, i, j] += part * drawn[name] if part > 0 else -part * (1 - drawn[name])


def _interval(alternatives: Alternatives) -> tuple[Any, Any]:
    import numpy as np

    low = np.asarray(alternatives.low or alternatives.points, dtype=np.float32)
    high = np.asarray(alternatives.high or alternatives.points, dtype=np.float32)
    return low[None], (high - low)[None]


def _totals(weighting: Any, values: Any) -> Any:
    """Weighted totals (m, n): added column by column, so that each depends on its own row alone."""
    total = weighting[:, :1] * values[:, :, 0]
    for column in range(1, values.shape[2]):
        total = total + weighting[:, column : column + 1] * values[:, :, column]
    return total


def _shared_by_equals(points: tuple[Row, ...], shares: Any, first: Any) -> tuple[Any, Any]:
    """Alternatives with the same figures share their ranks evenly instead of by their order in the list."""
    groups: dict[Row, list[int]] = {}
    for i, row in enumerate(points):
        groups.setdefault(tuple(row), []).append(i)
    for members in groups.values():
        if len(members) > 1:
            shares[members] = shares[members].mean(axis=0)
            first[members] = first[members].mean(axis=0)
    return shares, first


def _confidence(
    alternatives: Alternatives, figures: Any, central: Sequence[Row | None], seed: int, draws: int = 4096
) -> Iterator[float | None]:
    """Share of the possible figures for which each alternative is first at its central weights."""
    import numpy as np

    _, values = next(_draws(alternatives, figures, draws, seed + 1))
    for i, weights in enumerate(central):
        if weights is None:
            yield None
            continue
        total = _totals(np.asarray(weights, dtype=np.float32)[None, :], values)
        yield float((total[:, i] <= total.min(axis=1)).mean())


def _first_of(totals: Sequence[float]) -> int:
    return min(range(len(totals)), key=lambda i: (totals[i], i))


def _swings(alternatives: Alternatives, weights: Row) -> Iterator[Swing]:
    rows = alternatives.points
    totals = [sum(a * b for a, b in zip(weights, row, strict=True)) for row in rows]
    best = _first_of(totals)
    for j, criterion in enumerate(alternatives.criteria):
        part = [weights[j] * row[j] for row in rows]
        rest = [t - p for t, p in zip(totals, part, strict=True)]

        def place(factor: float, rest: list[float] = rest, part: list[float] = part) -> str:
            # Dividing all totals by the changed sum of the weights would not change their order.
            return alternatives.names[_first_of([r + factor * p for r, p in zip(rest, part, strict=True)])]

        crossings = []
        for i in range(len(rows)):
            slope = part[best] - part[i]
            if i != best and slope:
                factor = (rest[i] - rest[best]) / slope
                # The nearest crossing is where the first place passes on; no weight is negative.
                if factor > 0 and factor != 1.0:
                    crossings.append(factor)
        yield Swing(
            criterion,
            place(1 - SENSITIVITY),
            place(1 + SENSITIVITY),
            max((f for f in crossings if f < 1), default=None),
            min((f for f in crossings if f > 1), default=None),
        )


def _leverage(alternatives: Alternatives, weights: Row) -> list[Leverage]:
    """Uncertain figures by the share of their interval that puts another alternative first."""
    if not alternatives.low:
        return []
    totals = [sum(a * b for a, b in zip(weights, row, strict=True)) for row in alternatives.points]
    best = _first_of(totals)
    if len(totals) < 2:
        return []
    second = _first_of([t if i != best else float("inf") for i, t in enumerate(totals)])
    if alternatives.causes:
        return _leverage_of_causes(alternatives, weights, totals, best)
    found = []
    for i, name in enumerate(alternatives.names):
        for j, criterion in enumerate(alternatives.criteria):
            low, high, value = (
                alternatives.low[i][j],
                alternatives.high[i][j],
                alternatives.points[i][j],
            )
            if not high > low or weights[j] == 0.0:
                continue
            rival = second if i == best else best
            # The figure at which the totals are equal: the rest of the line is another first place.
            edge = value + (totals[rival] - totals[i]) / weights[j]
            share = (high - edge) / (high - low) if i == best else (edge - low) / (high - low)
            share = min(1.0, max(0.0, share))
            if share > 0.0:
                to = alternatives.names[second] if i == best else name
                found.append(Leverage(name, criterion, share, to))
    return sorted(found, key=lambda x: (-x.chance, x.alternative, x.criterion))


_GRID = 201  # places of a cause in its interval that are looked at


def _leverage_of_causes(
    alternatives: Alternatives, weights: Row, totals: Sequence[float], best: int
) -> list[Leverage]:
    """Causes by the share of their interval that puts another alternative first, all else as it stands."""
    import numpy as np

    place = np.linspace(0.0, 1.0, _GRID)
    found = []
    for name in _names(alternatives):
        total = np.repeat(np.asarray(totals, dtype=float)[None, :], _GRID, axis=0)
        widest = (0.0, best, 0)
        for i, row in enumerate(alternatives.causes):
            for j, cell in enumerate(row):
                part = dict(cell).get(name, 0.0)
                span = alternatives.high[i][j] - alternatives.low[i][j]
                if not part or not weights[j]:
                    continue
                stands = (alternatives.points[i][j] - alternatives.low[i][j]) / span
                at = stands if part > 0 else 1.0 - stands
                total[:, i] += weights[j] * span * part * (place - at)
                widest = max(widest, (weights[j] * span * abs(part), i, j))
        # Equal totals leave the first place where it is.
        total[:, best] -= 1e-9
        leads = np.argmin(total, axis=1)
        chance = float((leads != best).mean())
        if chance > 0.0:
            to = int(np.bincount(leads[leads != best]).argmax())
            found.append(
                Leverage(
                    alternatives.names[widest[1]],
                    alternatives.criteria[widest[2]],
                    chance,
                    alternatives.names[to],
                    name,
                )
            )
    return sorted(found, key=lambda x: (-x.chance, x.alternative, x.criterion))
