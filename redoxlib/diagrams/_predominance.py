"""Which species predominates at a pH and a potential: convex regions cut exactly from planes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from redoxlib.data import Tables, shipped
from redoxlib.diagrams._picture import Picture
from redoxlib.diagrams._points import STEP, F, Point, conversion, family_remarks, points_of, sources_of
from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.thermo import electrons_of, gibbs, nernst_slope, proton_count

Corner = tuple[float, float]
"""pH and potential, V."""

_TINY = 1e-9
O2_WATER = 1.229
"""Potential of O2 at 1 bar over water at pH 0, V (CRC Handbook)."""


@dataclass(frozen=True, slots=True)
class Window:
    """The part of the plane that is drawn: pH and volts against the standard hydrogen electrode."""

    ph: tuple[float, float] = (0.0, 14.0)
    volts: tuple[float, float] = (-1.4, 2.2)

    def __post_init__(self) -> None:
        if not (self.ph[0] < self.ph[1] and self.volts[0] < self.volts[1]):
            raise DomainError(f"{self} is empty", hint="write each range from low to high")


@dataclass(frozen=True, slots=True)
class Region:
    """Where one species has the lowest Gibbs energy per atom: a convex polygon, corners in order."""

    species: Species
    state: float
    corners: tuple[Corner, ...]


@dataclass(frozen=True, slots=True)
class Boundary:
    """The line on which two species have the same energy, between two corners of the diagram.

    Attributes
    ----------
    first, second : Species
    start, end : tuple of float
        pH and V.
    intercept : float
        V at pH 0; of an upright line its pH.
    slope : float or None
        V per unit of pH; None for an upright line.
    equation : Equation
        What happens on crossing it, a reduction where electrons pass.
    uncertainty : float
        Of the intercept, V (of an upright line, of its pH), from the rows of this equation.
    """

    first: Species
    second: Species
    start: Corner
    end: Corner
    intercept: float
    slope: float | None
    equation: Equation
    uncertainty: float

    def __str__(self) -> str:
        if self.slope is None:
            return f"pH = {self.intercept:.2f}"
        if abs(self.slope) < _TINY:
            return f"E/V = {self.intercept:.3f}"
        return f"E/V = {self.intercept:.3f} {self.slope:+.4f} pH"


@dataclass(frozen=True, slots=True)
class Predominance(Picture):
    """A potential-pH diagram as data; ``svg()``, ``png()`` and ``table()`` show it.

    Attributes
    ----------
    element : str
    activity : float
        Of every dissolved species, mol/kg.
    window : Window
    regions : tuple of Region
        The species that predominate somewhere in the window, most oxidised first.
    boundaries : tuple of Boundary
    absent : tuple of Species
        Species that were considered and predominate nowhere in the window.
    sources, remarks : tuple of str
    """

    element: str
    activity: float
    window: Window
    regions: tuple[Region, ...]
    boundaries: tuple[Boundary, ...]
    absent: tuple[Species, ...]
    sources: tuple[str, ...]
    remarks: tuple[str, ...]
    points: tuple[Point, ...]

    def at(self, ph: float, volts: float) -> Species:
        """The species of lowest energy at one pH and potential, inside the window or not."""
        return min(self.points, key=lambda p: p.energy(ph, volts) + p.diluted(self.activity)).species

    def table(self) -> str:
        """The boundaries as text: from where to where, the line, the equation."""
        from redoxlib.diagrams._text import predominance_table

        return predominance_table(self)

    def svg(self) -> str:
        """The diagram as an SVG document."""
        from redoxlib.diagrams._draw_predominance import draw

        return draw(self)


def predominance(
    element: str,
    *,
    activity: float = 1.0,
    window: Window | None = None,
    only: Sequence[str] = (),
    without: Sequence[str] = (),
    tables: Tables | None = None,
) -> Predominance:
    """Potential-pH predominance diagram of one element at 25 C.

    Parameters
    ----------
    element : str
        Symbol.
    activity : float
        Of every dissolved species, mol/kg; 1 unless given.
    window : Window, optional
        pH 0 to 14 and -1.4 to 2.2 V unless given.
    only, without : sequence of str
        Species to draw alone or to leave out.  Chlorate and perchlorate form slowly: a diagram without
        them shows what chlorine really does in water.

    Returns
    -------
    Predominance
        Regions and lines follow from Gibbs energies of formation alone; nothing is said about rates.

    Raises
    ------
    DomainError
        For an element with fewer than two tabulated species, or an activity that is not positive.

    Examples
    --------
    >>> diagram = predominance("Fe", without=["Fe2O3", "Fe3O4", "FeO4^2-"])
    >>> str(diagram.at(0, 0.9))
    'Fe^3+(aq)'
    """
    if not activity > 0:
        raise DomainError(f"an activity must be more than zero, not {activity}")
    tables = tables or shipped()
    window = window or Window()
    points = points_of(element, only, without, tables)
    regions: list[Region] = []
    boundaries: list[Boundary] = []
    for here, point in enumerate(points):
        polygon = _Polygon.of(window)
        for there, rival in enumerate(points):
            if here != there:
                polygon = polygon.cut(point, rival, activity, keep_ties=here < there)
        if not polygon.visible:
            continue
        corners = polygon.corners
        regions.append(Region(point.species, float(point.state), tuple(corners)))
        for index, rival_or_none in enumerate(polygon.edges):
            start, end = corners[index], corners[(index + 1) % len(corners)]
            if rival_or_none is not None and points.index(rival_or_none) > here:
                boundaries.append(_boundary(point, rival_or_none, (start, end), activity, tables))
    shown = {region.species for region in regions}
    regions.sort(key=lambda r: (-r.state, str(r.species)))
    return Predominance(
        element,
        activity,
        window,
        tuple(regions),
        tuple(b for b in boundaries if b.first in shown and b.second in shown),
        tuple(p.species for p in points if p.species not in shown),
        sources_of(points),
        family_remarks(points, tables),
        points,
    )


@dataclass(frozen=True, slots=True)
class _Polygon:
    """Corners in order; ``edges[i]`` is the rival behind the edge that leaves ``corners[i]``."""

    corners: list[Corner]
    edges: list[Point | None]

    @classmethod
    def of(cls, window: Window) -> _Polygon:
        (left, right), (low, high) = window.ph, window.volts
        return cls([(left, low), (right, low), (right, high), (left, high)], [None] * 4)

    @property
    def visible(self) -> bool:
        return len(self.corners) > 2 and self.area > 1e-7

    @property
    def area(self) -> float:
        total = 0.0
        for (x1, y1), (x2, y2) in zip(self.corners, self.corners[1:] + self.corners[:1], strict=True):
            total += x1 * y2 - x2 * y1
        return abs(total) / 2

    def cut(self, point: Point, rival: Point, activity: float, *, keep_ties: bool) -> _Polygon:
        """The part where *point* lies lower than *rival*."""
        if not self.corners:
            return self
        a = point.per_ph - rival.per_ph
        b = point.per_volt - rival.per_volt
        c = point.constant + point.diluted(activity) - rival.constant - rival.diluted(activity)
        if abs(a) < _TINY and abs(b) < _TINY:
            lower = c < -_TINY or (abs(c) <= _TINY and keep_ties)
            return self if lower else _Polygon([], [])
        heights = [a * x + b * y + c for x, y in self.corners]
        corners: list[Corner] = []
        edges: list[Point | None] = []
        for i, (here, behind) in enumerate(zip(self.corners, self.edges, strict=True)):
            j = (i + 1) % len(self.corners)
            if heights[i] <= 0:
                corners.append(here)
                edges.append(behind)
            if (heights[i] < 0 < heights[j]) or (heights[j] < 0 < heights[i]):
                share = heights[i] / (heights[i] - heights[j])
                (x1, y1), (x2, y2) = here, self.corners[j]
                corners.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
                # Leaving the kept side, the cut itself is the next edge; entering it, the old edge goes on.
                edges.append(rival if heights[i] < 0 else behind)
            elif heights[i] == 0 and heights[j] > 0:
                edges[-1] = rival
        return _Polygon(corners, edges)


def _boundary(
    one: Point, other: Point, ends: tuple[Corner, Corner], activity: float, tables: Tables
) -> Boundary:
    a = one.per_ph - other.per_ph
    b = one.per_volt - other.per_volt
    c = one.constant + one.diluted(activity) - other.constant - other.diluted(activity)
    equation = conversion(one, other)
    spread = gibbs(equation, tables=tables).uncertainty or 0.0
    if abs(b) < _TINY:
        spread /= STEP * abs(proton_count(equation))
        return Boundary(one.species, other.species, *ends, -c / a, None, equation, spread)
    spread /= F * electrons_of(equation)
    return Boundary(one.species, other.species, *ends, -c / b, -a / b, equation, spread)


def water_lines(window: Window) -> tuple[tuple[str, Corner, Corner], ...]:
    """Where water gives oxygen or hydrogen at 1 bar, cut to the window."""
    slope = -nernst_slope()
    lines = []
    for name, top in (("O2 / H2O", O2_WATER), ("H2O / H2", 0.0)):
        low, high = window.ph
        ends = []
        for ph in (low, high):
            volts = top + slope * ph
            clipped = min(max(volts, window.volts[0]), window.volts[1])
            ends.append((ph if clipped == volts else (clipped - top) / slope, clipped))
        inside = all(low - _TINY <= x <= high + _TINY for x, _ in ends)
        if inside and abs(ends[0][0] - ends[1][0]) > _TINY:
            lines.append((name, ends[0], ends[1]))
    return tuple(lines)


def is_solid(species: Species) -> bool:
    """Whether a region is hatched."""
    return species.phase in (Phase.SOLID, Phase.LIQUID)
