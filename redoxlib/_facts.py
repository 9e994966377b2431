"""Everything the tables hold about one species: values with their sources, the chosen one marked.

Verb: facts.

May import: errors, quantity, notation, data.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from functools import cache
from typing import TypeVar

from redoxlib.data import (
    BottleRow,
    CoupleRow,
    EquilibriumRow,
    FormationRow,
    FormRow,
    HazardRow,
    KineticsRow,
    LimitRow,
    LiquidRow,
    NameRow,
    OxidantReactionRow,
    RateRow,
    RestrictedRow,
    SolutionRow,
    Tables,
    shipped,
)
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.notation import Equation, Phase, Species

__all__ = ["SpeciesFacts", "facts"]


_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class SpeciesFacts:
    """Rows of the tables by kind; ``species`` is what was asked for."""

    species: Species
    names: tuple[NameRow, ...]
    formation: tuple[FormationRow, ...]
    couples: tuple[CoupleRow, ...]
    forms: tuple[FormRow, ...]
    equilibria: tuple[EquilibriumRow, ...]
    rates: tuple[RateRow, ...]
    kinetics: tuple[KineticsRow, ...]
    reactions: tuple[OxidantReactionRow, ...]
    liquids: tuple[LiquidRow, ...]
    solutions: tuple[SolutionRow, ...]
    bottles: tuple[BottleRow, ...]
    hazards: tuple[HazardRow, ...]
    limits: tuple[LimitRow, ...]
    restricted: tuple[RestrictedRow, ...]

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of every source named by a row."""
        kinds = (getattr(self, field.name) for field in fields(self) if field.name != "species")
        keys = (key.strip() for rows in kinds for row in rows for key in row.source.split(";"))
        return tuple(dict.fromkeys(key for key in keys if key))


def facts(text: str | Species, *, tables: Tables | None = None) -> SpeciesFacts:
    """Collect what the tables hold about a species; without a phase, all its phases.

    The key or the label of an oxidant or a bottle may be given in place of a formula.

    Raises
    ------
    NotationError
        When the text cannot be read.
    MissingDataError
        When no table knows it.
    """
    tables = tables or shipped()
    if not isinstance(text, Species):
        text = Species.parse(_formula(text, tables) if isinstance(text, str) else text)
    species = text
    held = {row.key for row in tables.oxidants.values() if _is(row.formula, species)}

    def of(rows: Iterable[_Row], *columns: str) -> tuple[_Row, ...]:
        return tuple(row for row in rows if any(_is(getattr(row, name), species) for name in columns))

    def in_equation(rows: Iterable[_Row], column: str) -> tuple[_Row, ...]:
        return tuple(row for row in rows if _takes_part(getattr(row, column), species))

    found = SpeciesFacts(
        species=species,
        names=of(tables.names.values(), "formula"),
        formation=tuple(
            row
            for name, properties in tables.formation.items()
            if _is(name, species)
            for rows in properties.values()
            for row in rows
        ),
        couples=in_equation(_flat(couple.rows for couple in tables.couples.values()), "half_reaction"),
        forms=of(tables.forms, "species"),
        equilibria=in_equation(_flat(tables.equilibria.values()), "equilibrium"),
        rates=of(tables.rates, "oxidant_species", "reductant_species"),
        kinetics=tuple(row for row in tables.kinetics if row.oxidant in held or _is(row.reductant, species)),
        reactions=tuple(
            row for rows in tables.oxidant_reactions.values() for row in rows if row.oxidant in held
        ),
        liquids=of(tables.liquids, "species"),
        solutions=of(_flat(tables.solutions.values()), "solute"),
        bottles=of(_flat(tables.bottles.values()), "solute"),
        hazards=of(_flat(tables.hazards.values()), "formula"),
        limits=of(_flat(tables.limits.values()), "formula"),
        restricted=of(_flat(tables.restricted.values()), "formula"),
    )
    if not any(getattr(found, field.name) for field in fields(found) if field.name != "species"):
        raise MissingDataError(
            f"no table holds {species}",
            hint="add rows with their source to tables of your own",
            what=str(species),
            looked_in=_LOOKED_IN,
        )
    return found


_LOOKED_IN = (
    "formation.csv",
    "couples.csv",
    "forms.csv",
    "equilibria.csv",
    "rates.csv",
    "kinetics.csv",
    "liquids.csv",
    "solutions.csv",
    "bottles.csv",
    "hazards.csv",
    "limits.csv",
    "restricted.csv",
)


def _formula(text: str, tables: Tables) -> str:
    """Formula behind the key of an oxidant, or the key or label of a bottle; else the text itself."""
    if text in tables.oxidants and tables.oxidants[text].formula:
        return tables.oxidants[text].formula
    for key, rows in tables.bottles.items():
        if text in (key, rows[0].label):
            return rows[0].solute
    return text


def _flat(groups: Iterable[Iterable[_Row]]) -> Iterable[_Row]:
    return (row for group in groups for row in group)


def _is(name: str, wanted: Species) -> bool:
    species = _read(name)
    return species is not None and _same(species, wanted)


@cache
def _read(name: str) -> Species | None:
    """Species a cell names; None for an empty cell or a material without formula."""
    try:
        return Species.parse(name) if name else None
    except RedoxlibError:
        return None


def _same(species: Species, wanted: Species) -> bool:
    if wanted.phase is Phase.UNSTATED or species.phase is Phase.UNSTATED:
        species, wanted = species.with_phase(Phase.UNSTATED), wanted.with_phase(Phase.UNSTATED)
    return species == wanted


def _takes_part(half_reaction: str, wanted: Species) -> bool:
    return any(_same(species, wanted) for species in _species_in(half_reaction))


@cache
def _species_in(equation: str) -> tuple[Species, ...]:
    try:
        read = Equation.parse(equation)
    except RedoxlibError:
        return ()
    return tuple(species for _, species in (*read.reactants, *read.products) if species.elements)
