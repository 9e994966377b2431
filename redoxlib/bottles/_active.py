"""What counts as the strength of a substance: available chlorine, active oxygen, the salt inside a salt."""

from __future__ import annotations

from functools import cache, lru_cache
from types import MappingProxyType
from typing import TypeAlias

from redoxlib.data import BottleRow, Tables
from redoxlib.notation import Phase, Species

CHLORINE_G_PER_MOL = 70.906
"""Molar mass of Cl2 [g/mol], in which available chlorine is counted; twice the conventional 35.453."""

OXYGEN_G_PER_MOL = 15.999
"""Molar mass of one active oxygen atom [g/mol]."""

# Moles of Cl2 with the same oxidising power as one formula unit, two electrons to a Cl2.
_AVAILABLE_CHLORINE = MappingProxyType(
    {
        "Cl2": 1.0,
        "HClO": 1.0,
        "NaClO": 1.0,
        "KClO": 1.0,
        "ClO^-": 1.0,
        "Ca(ClO)2": 2.0,
        "C3Cl3N3O3": 3.0,
        "NaC3Cl2N3O3": 2.0,
        "NaC7H7ClNO2S": 1.0,
        "NH2Cl": 1.0,
        "NaClO2": 2.0,
        "ClO2": 2.5,
    }
)
# Active oxygen atoms in one formula unit.
_ACTIVE_OXYGEN = MappingProxyType(
    {
        "H2O2": 1.0,
        "KHSO5": 1.0,
        "K5H3S4O18": 2.0,
        "Na4C2H6O12": 3.0,
        "NaBO3.4H2O": 1.0,
        "NaBO3.H2O": 1.0,
        "CH3COOOH": 1.0,
        "Na2S2O8": 1.0,
        "K2S2O8": 1.0,
        "(NH4)2S2O8": 1.0,
        "CH6N2O3": 1.0,
    }
)
# A solid that is weighed as one formula and works as several of another.
_INSIDE = MappingProxyType({"K5H3S4O18": ("KHSO5", 2), "Na4C2H6O12": ("H2O2", 3), "NaBO3.4H2O": ("H2O2", 1)})

# What is written on the shelf and never stands there alone: the salt that is sold for it.
_SOLD_IN = MappingProxyType({"KHSO5": "K5H3S4O18"})


def bare(species: Species) -> Species:
    """Return the species without its phase: a label says what is in the bottle, not in which state."""
    return species.with_phase(Phase.UNSTATED)


Composition: TypeAlias = tuple[frozenset[tuple[str, object]], int]


def composition(species: Species) -> Composition:
    """Return elements and charge, which is what tables keyed by formula agree on."""
    return frozenset(species.elements.items()), species.charge


@cache
def _keyed(kind: str) -> dict[Composition, float]:
    table = _AVAILABLE_CHLORINE if kind == "chlorine" else _ACTIVE_OXYGEN
    return {composition(Species.parse(formula)): count for formula, count in table.items()}


def available_chlorine(species: Species) -> float | None:
    """Return mol Cl2 equivalent to one mol of *species*, None where the notion does not apply."""
    return _keyed("chlorine").get(composition(species))


def active_oxygen(species: Species) -> float | None:
    """Return mol of active oxygen atoms in one mol of *species*, None where the notion does not apply."""
    return _keyed("oxygen").get(composition(species))


@cache
def _inside() -> dict[Composition, tuple[Species, int]]:
    return {
        composition(Species.parse(formula)): (Species.parse(active), count)
        for formula, (active, count) in _INSIDE.items()
    }


def inside(species: Species) -> tuple[Species, int]:
    """Return the oxidant a solid sets free and how many of it: the triple salt holds two KHSO5."""
    return _inside().get(composition(species), (species, 1))


@lru_cache(maxsize=8)
def bottles_by_composition(tables: Tables) -> dict[Composition, dict[str, tuple[BottleRow, ...]]]:
    """Return the rows of every tabulated bottle by key, by what they hold."""
    found: dict[Composition, dict[str, tuple[BottleRow, ...]]] = {}
    for key, rows in tables.bottles.items():
        found.setdefault(composition(Species.parse(rows[0].solute)), {})[key] = rows
    return found


def sold_in(species: Species) -> Species | None:
    """Return the salt that is sold for *species*, which is never sold by itself; None for all others."""
    outer = _SOLD_IN.get(str(bare(species)))
    return Species.parse(outer) if outer else None
