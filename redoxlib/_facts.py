"""Everything the tables hold about one species: values with their sources, the chosen one marked.

Verb: facts.

May import: errors, quantity, notation, data.
"""

from __future__ import annotations

from dataclasses import dataclass

from redoxlib.data import CoupleRow, FormationRow, HazardRow, LimitRow, LiquidRow, Tables, shipped
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.notation import Equation, Phase, Species

__all__ = ["SpeciesFacts", "facts"]


@dataclass(frozen=True, slots=True)
class SpeciesFacts:
    """Rows of the tables by kind; ``species`` is what was asked for."""

    species: Species
    formation: tuple[FormationRow, ...]
    couples: tuple[CoupleRow, ...]
    liquids: tuple[LiquidRow, ...]
    hazards: tuple[HazardRow, ...]
    limits: tuple[LimitRow, ...]

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of every source named by a row."""
        texts = [
            *(row.source for row in self.formation),
            *(row.source for row in self.couples),
            *(row.source for row in self.liquids),
            *(row.source for row in self.hazards),
            *(row.source for row in self.limits),
        ]
        keys = (key.strip() for text in texts for key in text.split(";"))
        return tuple(dict.fromkeys(key for key in keys if key))


def facts(text: str | Species, *, tables: Tables | None = None) -> SpeciesFacts:
    """Collect what the tables hold about a species; without a phase, all its phases.

    Raises
    ------
    NotationError
        When the text cannot be read.
    MissingDataError
        When no table knows it.
    """
    tables = tables or shipped()
    species = Species.parse(text) if isinstance(text, str) else text
    found = SpeciesFacts(
        species,
        tuple(
            row
            for name, properties in tables.formation.items()
            if _is(name, species)
            for rows in properties.values()
            for row in rows
        ),
        tuple(
            row
            for couple in tables.couples.values()
            if _takes_part(couple.half_reaction, species)
            for row in couple.rows
        ),
        tuple(row for row in tables.liquids if _is(row.species, species)),
        tuple(row for rows in tables.hazards.values() for row in rows if _is(row.formula, species)),
        tuple(row for rows in tables.limits.values() for row in rows if _is(row.formula, species)),
    )
    if not (found.formation or found.couples or found.liquids or found.hazards or found.limits):
        raise MissingDataError(
            f"no table holds {species}",
            hint="add rows with their source to tables of your own",
            what=str(species),
            looked_in=("formation.csv", "couples.csv", "liquids.csv", "hazards.csv", "limits.csv"),
        )
    return found


def _is(name: str, wanted: Species) -> bool:
    if not name:
        return False
    try:
        species = Species.parse(name)
    except RedoxlibError:
        return False
    return _same(species, wanted)


def _same(species: Species, wanted: Species) -> bool:
    if wanted.phase is Phase.UNSTATED or species.phase is Phase.UNSTATED:
        species, wanted = species.with_phase(Phase.UNSTATED), wanted.with_phase(Phase.UNSTATED)
    return species == wanted


def _takes_part(half_reaction: str, wanted: Species) -> bool:
    half = Equation.parse(half_reaction)
    sides = (*half.reactants, *half.products)
    return any(species.elements and _same(species, wanted) for _, species in sides)
