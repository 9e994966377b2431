"""Frost diagrams: how much work an oxidation state stores, against the element."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from redoxlib.data import Tables, shipped
from redoxlib.diagrams._picture import Picture
from redoxlib.diagrams._points import F, Point, family_remarks, points_of, reference_of, sources_of
from redoxlib.errors import DomainError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity


@dataclass(frozen=True, slots=True)
class FrostPoint:
    """The most stable form of one oxidation state at the pH of its trace.

    ``volts`` is the energy per atom against the element in units of the Faraday constant: the slope
    between two points is their reduction potential.
    """

    species: Species
    state: Fraction
    volts: Quantity


@dataclass(frozen=True, slots=True)
class Trace:
    """One pH: points from the lowest oxidation state to the highest."""

    ph: float
    points: tuple[FrostPoint, ...]

    @property
    def steps(self) -> tuple[tuple[FrostPoint, FrostPoint, float], ...]:
        """Neighbours, the lower state first, with the potential between them, V."""
        return tuple(
            (low, high, (high.volts.value - low.volts.value) / float(high.state - low.state))
            for low, high in zip(self.points, self.points[1:], strict=False)
        )

    @property
    def disproportionating(self) -> tuple[FrostPoint, ...]:
        """Points above the line between two others; these states can fall apart into them."""
        hull = self.hull
        return tuple(p for p in self.points if p not in hull)

    @property
    def hull(self) -> tuple[FrostPoint, ...]:
        """The lower convex hull: the states that no pair of others underbids."""
        kept: list[FrostPoint] = []
        for point in self.points:
            while len(kept) > 1 and _above(kept[-2], kept[-1], point):
                kept.pop()
            kept.append(point)
        return tuple(kept)


def _above(left: FrostPoint, middle: FrostPoint, right: FrostPoint) -> bool:
    share = float((middle.state - left.state) / (right.state - left.state))
    line = left.volts.value + share * (right.volts.value - left.volts.value)
    return middle.volts.value > line


@dataclass(frozen=True, slots=True)
class Frost(Picture):
    """A Frost diagram as data; ``svg()``, ``png()`` and ``table()`` show it."""

    element: str
    traces: tuple[Trace, ...]
    sources: tuple[str, ...]
    remarks: tuple[str, ...]

    def table(self) -> str:
        """One line a point: state, species, volts, and whether the state can disproportionate."""
        from redoxlib.diagrams._text import frost_table

        return frost_table(self)

    def svg(self) -> str:
        """The diagram as an SVG document."""
        from redoxlib.diagrams._draw_frost import draw

        return draw(self)


def frost(
    element: str,
    *,
    ph: Sequence[float] = (0.0, 14.0),
    only: Sequence[str] = (),
    without: Sequence[str] = (),
    tables: Tables | None = None,
) -> Frost:
    """Frost diagram of one element at 25 C, dissolved species at 1 mol/kg, gases at 1 bar.

    Parameters
    ----------
    element : str
        Symbol.
    ph : sequence of float
        One trace each; acid and base unless given.
    only, without : sequence of str
        Species to draw alone or to leave out.

    Raises
    ------
    DomainError
        For an element with fewer than two oxidation states in the tables.

    Examples
    --------
    >>> acid = frost("Mn").traces[0]
    >>> [str(p.species) for p in acid.disproportionating]
    ['Mn3O4(s)', 'Mn2O3(s)', 'MnO4^2-(aq)']
    """
    if not ph:
        raise DomainError("a Frost diagram needs at least one pH")
    tables = tables or shipped()
    points = list(points_of(element, only, without, tables))
    reference = reference_of(element, tables)
    if reference is not None and reference.species not in {p.species for p in points}:
        points.append(reference)
    traces = tuple(Trace(float(at), _lowest(points, float(at))) for at in ph)
    if len(traces[0].points) < 2:
        raise DomainError(f"the tables hold one oxidation state of {element} only")
    remarks = family_remarks(points, tables)
    odd = [str(p.species) for p in points if _has_peroxide(p)]
    if odd:
        remarks += (f"placed by electrons, peroxide oxygen counted as -2: {', '.join(odd)}",)
    return Frost(element, traces, sources_of(points), remarks)


_PEROXO = frozenset({"S2O8^2-(aq)", "HSO5^-(aq)"})


def _has_peroxide(point: Point) -> bool:
    return str(point.species) in _PEROXO


def _lowest(points: Sequence[Point], ph: float) -> tuple[FrostPoint, ...]:
    best: dict[Fraction, Point] = {}
    for point in points:
        other = best.get(point.state)
        if other is None or point.energy(ph) < other.energy(ph):
            best[point.state] = point
    return tuple(
        FrostPoint(
            point.species,
            state,
            Quantity(
                point.energy(ph) / F,
                "V",
                (point.formation.uncertainty or 0.0) / float(point.atoms) / F,
                point.formation.sources,
                point.formation.basis,
            ),
        )
        for state, point in sorted(best.items())
    )
