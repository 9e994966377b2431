"""Log-concentration diagrams: the forms of one oxidation state over pH at a fixed total."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import exp, log, log10

from redoxlib.data import Tables, shipped
from redoxlib.diagrams._picture import Picture
from redoxlib.diagrams._points import STEP, Point, family_remarks, points_of, sources_of
from redoxlib.errors import DomainError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity
from redoxlib.thermo import acid_constants

_LN10 = log(10.0)


@dataclass(frozen=True, slots=True)
class Composition:
    """Equilibrium of one oxidation state at one pH.

    Attributes
    ----------
    ph : float
    log10 : mapping of Species to float
        log10 of the molality of each dissolved form.
    dissolved : float
        mol/kg of the element in solution.
    solid : Species or None
        The solid that holds the rest, where the total does not dissolve.
    """

    ph: float
    log10: dict[Species, float]
    dissolved: float
    solid: Species | None


@dataclass(frozen=True, slots=True)
class Crossing:
    """A pH at which the predominant form changes."""

    ph: float
    below: Species
    above: Species


@dataclass(frozen=True, slots=True)
class Speciation(Picture):
    """A log-concentration diagram as data; ``svg()``, ``png()`` and ``table()`` show it."""

    element: str
    state: Fraction
    total: float
    ph: tuple[float, float]
    species: tuple[Species, ...]
    sources: tuple[str, ...]
    remarks: tuple[str, ...]
    points: tuple[Point, ...]

    def at(self, ph: float) -> Composition:
        """The composition at one pH: mass balance and equilibrium solved together.

        With the element's potential as the one unknown, every form is n (potential - its energy), so the
        total rises steadily with it and has one root.
        """
        forms = [(p, p.energy(ph) / STEP) for p in self.points if p.species.phase is Phase.AQUEOUS]
        solids = [
            (p.energy(ph) / STEP, p.species) for p in self.points if p.species.phase is not Phase.AQUEOUS
        ]

        def logs(level: float) -> dict[Species, float]:
            return {p.species: float(p.atoms) * (level - at) for p, at in forms}

        def dissolved(level: float) -> float:
            return sum(float(p.atoms) * exp(_LN10 * float(p.atoms) * (level - at)) for p, at in forms)

        # No form can exceed the total, and at least one holds its even share of it.
        high = min(at + log10(self.total) / float(p.atoms) for p, at in forms) + 1e-9
        low = high - 2.0
        while dissolved(low) > self.total:
            low -= 2.0
        for _ in range(80):
            middle = (low + high) / 2
            low, high = (middle, high) if dissolved(middle) < self.total else (low, middle)
        level, solid = high, None
        if solids:
            cap, name = min(solids, key=lambda pair: pair[0])
            if cap < level:
                level, solid = cap, name
        return Composition(ph, logs(level), dissolved(level), solid)

    def predominant(self, ph: float) -> Species:
        """The dissolved form that is there in the highest concentration."""
        found = self.at(ph).log10
        return max(found, key=lambda s: found[s])

    @property
    def crossings(self) -> tuple[Crossing, ...]:
        """Every pH in the window at which the predominant dissolved form changes, to 1e-6."""
        low, high = self.ph
        steps = 280
        marks = [low + (high - low) * i / steps for i in range(steps + 1)]
        found = []
        for left, right in pairwise(marks):
            below, above = self.predominant(left), self.predominant(right)
            if below == above:
                continue
            while right - left > 1e-7:
                middle = (left + right) / 2
                if self.predominant(middle) == below:
                    left = middle
                else:
                    right = middle
            found.append(Crossing((left + right) / 2, below, self.predominant(right)))
        return tuple(found)

    def table(self) -> str:
        """log10 of the molality of each form at every whole pH, and the crossings."""
        from redoxlib.diagrams._text import speciation_table

        return speciation_table(self)

    def svg(self) -> str:
        """The diagram as an SVG document."""
        from redoxlib.diagrams._draw_speciation import draw

        return draw(self)


def speciation(
    element: str,
    state: int | Fraction | None = None,
    *,
    total: float | Quantity = 0.01,
    ph: tuple[float, float] = (0.0, 14.0),
    only: Sequence[str] = (),
    without: Sequence[str] = (),
    tables: Tables | None = None,
) -> Speciation:
    """Log-concentration diagram of one oxidation state of an element over pH, 25 C, activities ideal.

    Forms stand apart by their measured acid constants where these are tabulated, by their Gibbs energies
    otherwise.

    Parameters
    ----------
    element : str
        Symbol.
    state : int or Fraction, optional
        Oxidation state; may be left out where the tables hold dissolved forms of one only.
    total : float [mol/kg] or Quantity
        Of the element, in all forms.
    ph : pair of float
    only, without : sequence of str
        Species to draw alone or to leave out (a solid that does not form in practice).

    Raises
    ------
    DomainError
        For an open or unknown oxidation state (the message lists them) or a total that is not positive.

    Examples
    --------
    >>> round(speciation("Cl", 1).crossings[0].ph, 2)
    7.54
    """
    tables = tables or shipped()
    amount = total.to("mol/kg").value if isinstance(total, Quantity) else float(total)
    if not amount > 0:
        raise DomainError(f"the total must be more than zero, not {amount}")
    if not ph[0] < ph[1]:
        raise DomainError(f"the pH range {ph} is empty")
    points = points_of(element, only, without, tables)
    states = sorted({p.state for p in points if p.species.phase is Phase.AQUEOUS})
    if state is None:
        if len(states) != 1:
            raise DomainError(
                f"{element} has dissolved forms of several oxidation states",
                hint=f"give one of {', '.join(map(str, states))}",
            )
        state = states[0]
    if state not in states:
        raise DomainError(
            f"no dissolved form of {element} at {state} in the tables",
            hint=f"there are {', '.join(map(str, states))}",
        )
    chosen, measured = _with_constants(
        [p for p in points if p.state == state and p.species.phase is not Phase.GAS], tables
    )
    forms = tuple(p.species for p in chosen if p.species.phase is Phase.AQUEOUS)
    return Speciation(
        element,
        Fraction(state),
        amount,
        (float(ph[0]), float(ph[1])),
        forms,
        tuple(dict.fromkeys(sources_of(chosen) + measured)),
        family_remarks(chosen, tables),
        chosen,
    )


def _with_constants(points: Sequence[Point], tables: Tables) -> tuple[tuple[Point, ...], tuple[str, ...]]:
    """Move forms that a measured acid constant links, so that they stand exactly that far apart.

    The best known form of each chain keeps its Gibbs energy and with it the place of the chain against
    solids and polymers.
    """
    by_species = {p.species: p for p in points}
    links = [c for c in acid_constants(tables) if c.acid in by_species and c.base in by_species]
    order = sorted(by_species.values(), key=lambda p: p.formation.uncertainty or 0.0)
    placed: set[Species] = set()
    for anchor in order:
        if anchor.species in placed:
            continue
        placed.add(anchor.species)
        queue = [anchor.species]
        while queue:
            here = queue.pop()
            for link in links:
                there = link.base if link.acid == here else link.acid if link.base == here else None
                if there is None or there in placed:
                    continue
                step = STEP * link.pka * (1 if there == link.base else -1)
                # Per atom and at pH 0, where the proton itself counts nothing.
                level = by_species[here].constant + step - by_species[there].constant
                old = by_species[there]
                moved = old.formation + Quantity(level * float(old.atoms), "kJ/mol", 0.0)
                by_species[there] = replace(old, formation=moved)
                placed.add(there)
                queue.append(there)
    sources = tuple(key for link in links for key in link.sources)
    return tuple(by_species[p.species] for p in points), sources
