"""The species of one element as planes: Gibbs energy per atom, linear in pH and potential."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import log, log10

from redoxlib.data import Tables
from redoxlib.errors import DomainError, MissingDataError, RedoxlibError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY, Quantity, R
from redoxlib.thermo import T0, value

STEP = R.value * T0 * log(10) / 1000
"""RT ln10 at 298.15 K, kJ/mol."""
F = FARADAY.value / 1000
"""kJ/(mol V)."""

_WATER = Species.parse("H2O(l)")
_PROTON = Species.parse("H^+(aq)")
_ELECTRON = Species.parse("e^-")


@dataclass(frozen=True)
class Point:
    """One species of the element, made from n atoms, m water, protons and electrons.

    ``energy(ph, volts)`` is its Gibbs energy of formation from those at a pH and a potential, per atom of
    the element, kJ/mol, dissolved species at unit activity.
    """

    species: Species
    atoms: Fraction
    water: Fraction
    protons: Fraction
    electrons: Fraction
    formation: Quantity

    @cached_property
    def state(self) -> Fraction:
        """Mean oxidation state that the composition implies; peroxide oxygen counts as -2 here."""
        return -self.electrons / self.atoms

    @cached_property
    def constant(self) -> float:
        """Energy at pH 0 and 0 V, per atom, kJ/mol."""
        return self.formation.value / float(self.atoms)

    @cached_property
    def per_ph(self) -> float:
        return float(self.protons / self.atoms) * STEP

    @cached_property
    def per_volt(self) -> float:
        return float(self.electrons / self.atoms) * F

    def energy(self, ph: float, volts: float = 0.0) -> float:
        """Gibbs energy per atom of the element, kJ/mol."""
        return self.constant + self.per_ph * ph + self.per_volt * volts

    def diluted(self, activity: float) -> float:
        """What an activity other than 1 adds to a dissolved species, kJ/mol per atom."""
        if self.species.phase is not Phase.AQUEOUS:
            return 0.0
        return STEP * log10(activity) / float(self.atoms)


_FLEETING = frozenset({"ClO(g)", "OH(g)"})
"""Radicals that live in the gas phase for seconds at most; drawn when named."""


_NOT_FOR_OXYGEN = frozenset({"O2(aq)", "O3(aq)", "OH^-(aq)"})
"""Gases stand for their solutions, and hydroxide is water at a pH: it has no activity of its own."""


def points_of(element: str, only: Sequence[str], without: Sequence[str], tables: Tables) -> tuple[Point, ...]:
    """Every tabulated species that holds the element with oxygen and hydrogen alone.

    Left out: a gas whose dissolved form is tabulated, one of two writings that differ by water alone, a
    form that is marked as not really there in water, and radicals of the gas phase.

    Raises
    ------
    DomainError
        For an element without such species, for hydrogen, for a name in *only* or *without* that is not
        among them.
    """
    _check_element(element)
    found = [species for text in tables.formation if _belongs(species := Species.parse(text), element)]
    held = [species for species in found if _has_energy(species, tables)]
    named = _named(only, held, element)
    kept = named or _usual(held, element, tables)
    dropped = _named(without, held, element)
    points = [_point(species, element, tables) for species in kept if species not in dropped]
    if len(points) < 2:
        raise DomainError(
            f"{len(points)} species of {element} left: a diagram needs at least two",
            hint=f"tabulated are {', '.join(map(str, held)) or 'none'}",
        )
    return tuple(points)


def reference_of(element: str, tables: Tables) -> Point | None:
    """The element in its reference form, whose energy is zero by definition."""
    for text in tables.formation:
        species = Species.parse(text)
        if set(species.elements) == {element} and not species.charge and _has_energy(species, tables):
            q = value(species, "dfG", tables=tables)
            if q.value == 0.0 and q.basis == "definition":
                return _point(species, element, tables)
    return None


def _check_element(element: str) -> None:
    if element == "H":
        raise DomainError("hydrogen is the reference of these diagrams and has none of its own")
    try:
        known = set(Species.parse(element).elements) == {element}
    except RedoxlibError:
        known = False
    if not known:
        raise DomainError(f"{element!r} is no element", hint='write a symbol such as "Mn"')


def _belongs(species: Species, element: str) -> bool:
    return element in species.elements and set(species.elements) <= {element, "O", "H"}


def _has_energy(species: Species, tables: Tables) -> bool:
    try:
        value(species, "dfG", tables=tables)
    except MissingDataError:
        return False
    return True


def _named(names: Iterable[str], held: Sequence[Species], element: str) -> list[Species]:
    chosen: list[Species] = []
    for name in names:
        wanted = Species.parse(name)
        hits = [
            s for s in held if s == wanted or (not wanted.phase and s.with_phase(Phase.UNSTATED) == wanted)
        ]
        if not hits:
            raise DomainError(
                f"{name} is no tabulated species of {element}", hint=f"there are {', '.join(map(str, held))}"
            )
        chosen += hits
    return chosen


def _usual(held: Sequence[Species], element: str, tables: Tables) -> list[Species]:
    absent = {Species.parse(row.species) for row in tables.forms if not row.competes}
    listed = {Species.parse(row.species) for row in tables.forms}
    dissolved = {_formula(s) for s in held if s.phase is Phase.AQUEOUS}
    kept: dict[tuple[object, ...], Species] = {}
    for species in held:
        gas_of_solute = species.phase is Phase.GAS and _formula(species) in dissolved
        if species in absent or str(species) in _FLEETING or (gas_of_solute and element != "O"):
            continue
        if element == "O" and str(species) in _NOT_FOR_OXYGEN:
            continue
        # SO2(aq) and H2SO3(aq) are one thing written twice: they differ by water alone.
        e = species.elements
        dry = Fraction(e.get("H", 0)) - 2 * Fraction(e.get("O", 0)) if element != "O" else e.get("H", 0)
        key = (
            (species.phase, Fraction(e[element]), species.charge, dry, species.isomer)
            if species.phase is Phase.AQUEOUS
            else (species,)
        )
        other = kept.get(key)
        if other is None or _rank(species, listed) < _rank(other, listed):
            kept[key] = species
    return list(kept.values())


def _formula(species: Species) -> str:
    return str(species.with_phase(Phase.UNSTATED))


def _rank(species: Species, listed: set[Species]) -> tuple[bool, float]:
    return species not in listed, float(sum(species.elements.values()))


def _point(species: Species, element: str, tables: Tables) -> Point:
    e = species.elements
    atoms = Fraction(e[element])
    water = Fraction(0) if element == "O" else Fraction(e.get("O", 0))
    protons = Fraction(e.get("H", 0)) - 2 * water
    energy = value(species, "dfG", tables=tables)
    if water:
        energy = energy - value(_WATER, "dfG", tables=tables) * float(water)
    return Point(species, atoms, water, protons, protons - species.charge, energy)


def conversion(one: Point, other: Point) -> Equation:
    """The smallest whole equation from one species to the other, a reduction where electrons pass."""
    if one.state < other.state:
        one, other = other, one
    total: dict[Species, Fraction] = {}

    def add(species: Species, count: Fraction) -> None:
        total[species] = total.get(species, Fraction(0)) + count

    pair = ((one, -other.atoms), (other, one.atoms))
    for point, count in pair:  # the element's own species stand first on each side
        add(point.species, count)
    for point, count in pair:
        add(_WATER, -count * point.water)
        add(_PROTON, -count * point.protons)
        add(_ELECTRON, -count * point.electrons)
    left = [(-n, s) for s, n in total.items() if n < 0]
    right = [(n, s) for s, n in total.items() if n > 0]
    return Equation.of(left, right).reduced()


def sources_of(points: Iterable[Point]) -> tuple[str, ...]:
    """Keys of the rows the points rest on, each once."""
    return tuple(dict.fromkeys(key for point in points for key in point.formation.sources))


def family_remarks(points: Sequence[Point], tables: Tables) -> tuple[str, ...]:
    """A remark where no thermochemical family holds all the points."""
    common: frozenset[str] | None = None
    apart: list[str] = []
    for point in points:
        text = tables.formation_keys.get(point.species)
        row = next((r for r in tables.formation[text]["dfG"] if r.chosen), None) if text else None
        if row is None:
            continue
        apart.append(f"{point.species} from {' or '.join(sorted(row.families))}")
        common = row.families if common is None else common & row.families
    if common is None or common:
        return ()
    return (f"no thermochemical family holds every species: {'; '.join(apart)}",)
