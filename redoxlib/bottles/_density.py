"""Density curves: of one solute in water, at one temperature.

A curve is piecewise linear in the specific volume, which for mixtures is far straighter than the
density; on each piece every conversion has a closed form, so there and back is exact.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache

from redoxlib.bottles._active import Composition, composition
from redoxlib.data import SolutionRow, Tables, shipped
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

__all__ = ["LABEL_CELSIUS", "DensityCurve", "densest_solution", "density_curve", "has_curve", "label_celsius"]

LABEL_CELSIUS = 20.0
"""Temperature at which volumetric glass and labels are stated, unless they say otherwise."""


@dataclass(frozen=True, slots=True)
class DensityCurve:
    """Density of one solute in water at one temperature.

    Attributes
    ----------
    solute : str
        As written in the table of solutions.
    celsius : float
        Temperature of the curve.
    fractions : tuple of float
        Mass fractions of the nodes, increasing.
    volumes : tuple of float
        Specific volume at each node [mL/g].
    spreads : tuple of float
        Standard uncertainty of the density at each node [g/mL].
    sources : tuple of str
        Keys into the table of sources.
    """

    solute: str
    celsius: float
    fractions: tuple[float, ...]
    volumes: tuple[float, ...]
    spreads: tuple[float, ...]
    sources: tuple[str, ...]

    @property
    def range(self) -> tuple[float, float]:
        """Lowest and highest mass fraction."""
        return self.fractions[0], self.fractions[-1]

    def density(self, mass_fraction: float) -> Quantity:
        """Return the density [g/mL].

        Raises
        ------
        DomainError
            Outside the range of the curve, which it names.
        """
        low, high = self.range
        if not low - 1e-12 <= mass_fraction <= high + 1e-12:
            raise self._outside(f"{100 * mass_fraction:.4g} % w/w")
        index = self._piece(mass_fraction)
        left, right = self.fractions[index], self.fractions[index + 1]
        share = (mass_fraction - left) / (right - left)
        spread = (1 - share) * self.spreads[index] + share * self.spreads[index + 1]
        return Quantity(1.0 / self._volume(mass_fraction, index), "g/mL", spread, self.sources, "spread")

    def fraction_of_concentration(self, grams_per_litre: float) -> float:
        """Return the mass fraction of a solution with so many grams of solute in a litre.

        Raises
        ------
        DomainError
            Outside the range of the curve, which it names.
        """
        wanted = grams_per_litre / 1000.0
        for index in range(len(self.fractions) - 1):
            start, slope = self._line(index)
            # w / (start + slope w) = wanted, grams of solute in a millilitre
            found = wanted * start / (1.0 - wanted * slope)
            if self.fractions[index] - 1e-12 <= found <= self.fractions[index + 1] + 1e-12:
                return found
        raise self._outside(f"{grams_per_litre:.4g} g/L")

    def fraction_of_density(self, grams_per_ml: float) -> float:
        """Return the mass fraction of a solution of that density.

        Raises
        ------
        DomainError
            Outside the range of the curve, or where two strengths share the density.
        """
        found: list[float] = []
        for index in range(len(self.fractions) - 1):
            start, slope = self._line(index)
            if slope == 0.0:
                continue
            here = (1.0 / grams_per_ml - start) / slope
            if self.fractions[index] - 1e-12 <= here <= self.fractions[index + 1] + 1e-12:
                found.append(here)
        distinct = [w for n, w in enumerate(found) if all(abs(w - other) > 1e-9 for other in found[:n])]
        if not distinct:
            raise self._outside(f"a density of {grams_per_ml:.5g} g/mL")
        if len(distinct) > 1:
            both = " and ".join(f"{100 * here:.3g} % w/w" for here in distinct)
            raise DomainError(
                f"the density {grams_per_ml:.5g} g/mL of {self.solute} belongs to {both}",
                hint="state the strength as % w/w",
                solute=self.solute,
            )
        return distinct[0]

    def _piece(self, mass_fraction: float) -> int:
        return max(0, min(bisect_right(self.fractions, mass_fraction) - 1, len(self.fractions) - 2))

    def _line(self, index: int) -> tuple[float, float]:
        """Return intercept and slope of the specific volume on one piece."""
        left, right = self.fractions[index], self.fractions[index + 1]
        slope = (self.volumes[index + 1] - self.volumes[index]) / (right - left)
        return self.volumes[index] - slope * left, slope

    def _volume(self, mass_fraction: float, index: int) -> float:
        start, slope = self._line(index)
        return start + slope * mass_fraction

    def _outside(self, what: str) -> DomainError:
        low, high = self.range
        return DomainError(
            f"{what} of {self.solute} lies outside the density curve at {self.celsius:g} C",
            hint=f"the curve runs from {100 * low:.3g} to {100 * high:.4g} % w/w and is not extrapolated",
            solute=self.solute,
            range=self.range,
        )


@lru_cache(maxsize=8)
def _curves(tables: Tables) -> dict[Composition, tuple[str, list[SolutionRow]]]:
    """Return the density rows by composition; parsing every key at every question would be slow."""
    curves: dict[Composition, tuple[str, list[SolutionRow]]] = {}
    for name, rows in tables.solutions.items():
        found = [row for row in rows if row.quantity == "density"]
        if found:
            curves.setdefault(composition(Species.parse(name)), (name, found))
    return curves


def density_curve(
    solute: Species | str, *, celsius: float = LABEL_CELSIUS, tables: Tables | None = None
) -> DensityCurve:
    """Return the density curve of a solute at a temperature.

    Between tabulated temperatures the specific volume is interpolated, over the strengths both hold.

    Raises
    ------
    MissingDataError
        If the tables hold no curve.
    DomainError
        If the temperature lies outside the tabulated ones.
    """
    species = solute if isinstance(solute, Species) else Species.parse(solute)
    return _curve(composition(species), str(species), celsius, shipped() if tables is None else tables)


@lru_cache(maxsize=256)
def _curve(wanted: Composition, shown: str, celsius: float, tables: Tables) -> DensityCurve:
    name, rows = _curves(tables).get(wanted, (shown, []))
    if not rows:
        raise MissingDataError(
            f"no density curve for {shown}; looked in solutions.csv",
            what=f"density of {shown} solutions",
            looked_in=("solutions.csv",),
        )
    by_temperature: dict[float, list[SolutionRow]] = {}
    for row in rows:
        if row.temperature_C is not None and row.mass_fraction is not None:
            by_temperature.setdefault(row.temperature_C, []).append(row)
    known = {t: found for t, found in by_temperature.items() if len(found) > 1}
    below = [t for t in known if t <= celsius]
    above = [t for t in known if t >= celsius]
    if not below or not above:
        one = len(known) == 1
        span = f"at {min(known):g} C only" if one else f"from {min(known):g} to {max(known):g} C"
        raise DomainError(
            f"the density of {name} is tabulated {span}, not at {celsius:g} C",
            hint="temperatures are not extrapolated",
            solute=name,
        )
    cold = _fixed(name, max(below), known[max(below)])
    warm = _fixed(name, min(above), known[min(above)])
    return cold if cold.celsius == warm.celsius else _between(cold, warm, celsius)


def label_celsius(solute: Species, tables: Tables) -> float:
    """Return the temperature a label's volumes are taken at: 20 C, or the nearest one tabulated."""
    _, rows = _curves(tables).get(composition(solute), ("", []))
    if not rows:
        return LABEL_CELSIUS
    known = [row.temperature_C for row in rows if row.temperature_C is not None]
    return min(max(LABEL_CELSIUS, min(known)), max(known))


def _fixed(name: str, celsius: float, rows: list[SolutionRow]) -> DensityCurve:
    points = sorted((row.mass_fraction or 0.0, 1.0 / row.value, row.uncertainty or 0.0) for row in rows)
    sources = tuple(dict.fromkeys(key for row in rows for key in row.sources))
    fractions, volumes, spreads = zip(*points, strict=True)
    return DensityCurve(name, celsius, fractions, volumes, spreads, sources)


def _between(cold: DensityCurve, warm: DensityCurve, celsius: float) -> DensityCurve:
    share = (celsius - cold.celsius) / (warm.celsius - cold.celsius)
    low = max(cold.range[0], warm.range[0])
    high = min(cold.range[1], warm.range[1])
    nodes = sorted({w for w in cold.fractions + warm.fractions if low <= w <= high})
    volumes = tuple(
        (1 - share) * cold._volume(w, cold._piece(w)) + share * warm._volume(w, warm._piece(w)) for w in nodes
    )
    spreads = tuple(
        max(cold.density(w).uncertainty or 0.0, warm.density(w).uncertainty or 0.0) for w in nodes
    )
    sources = tuple(dict.fromkeys(cold.sources + warm.sources))
    return DensityCurve(cold.solute, celsius, tuple(nodes), volumes, spreads, sources)


def has_curve(solute: Species, tables: Tables) -> bool:
    """Say whether the tables hold a density curve of the solute."""
    return composition(solute) in _curves(tables)


def densest_solution(solute: Species, tables: Tables) -> float | None:
    """Return the most grams of solute in a litre that any row of its curve holds."""
    _, rows = _curves(tables).get(composition(solute), ("", []))
    return max((1000 * (row.mass_fraction or 0.0) * row.value for row in rows), default=None)
