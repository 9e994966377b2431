"""The acid and the base of a job that names none.

Verbs: usual_acid, usual_base.  The product asked for decides, then the shelf.  May import: errors, notation,
stoichiometry, bottles.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Final

from redoxlib.notation import Phase, Species

__all__ = ["USUAL_ACID", "USUAL_BASE", "usual_acid", "usual_base"]

USUAL_ACID: Final = "sulfuric acid 50 % w/w"
USUAL_BASE: Final = "sodium hydroxide 50 % w/w"

_ACIDS: Final[Mapping[str, tuple[str, str]]] = {
    "SO4^2-": ("H2SO4", USUAL_ACID),
    "Cl^-": ("HCl", "hydrochloric acid 32 % w/w"),
    "NO3^-": ("HNO3", "nitric acid 68 % w/w"),
}
_BASES: Final[Mapping[str, tuple[str, str]]] = {
    "Na^+": ("NaOH", USUAL_BASE),
    "K^+": ("KOH", "potassium hydroxide 45 % w/w"),
}
_FALLS_OUT: Final = frozenset({("Ag^+", "Cl^-"), ("Cu^+", "Cl^-"), ("Pb^2+", "Cl^-"), ("Pb^2+", "SO4^2-")})
"""Salts that come down as solids: not a matter of the acid in the pot, but another reaction."""


def usual_acid(wanted: Iterable[Species], shelf: Iterable[str]) -> tuple[str, str | None]:
    """Label of the acid to charge where none is named, and why it is not the usual one.

    Parameters
    ----------
    wanted : iterable of Species
        The salts asked for by name as the product; empty where only ions were named.
    shelf : iterable of str
        Labels of the bottles there are.
    """
    return _usual(tuple(wanted), tuple(shelf), acid=True)


def usual_base(wanted: Iterable[Species], shelf: Iterable[str]) -> tuple[str, str | None]:
    """Label of the base to charge where none is named, and why it is not the usual one."""
    return _usual(tuple(wanted), tuple(shelf), acid=False)


@lru_cache(maxsize=256)
def _usual(wanted: tuple[Species, ...], shelf: tuple[str, ...], *, acid: bool) -> tuple[str, str | None]:
    from redoxlib.bottles import read_bottle

    known, usual = (_ACIDS, "SO4^2-") if acid else (_BASES, "Na^+")
    asked = {ion: str(salt) for salt in wanted for ion in _counter_ions(salt) if ion in known}
    ion = next(iter(asked)) if len(asked) == 1 else usual
    formula, label = known[ion]
    why = f"the product asked for is {asked[ion]}" if ion in asked and ion != usual else None
    for text in shelf:
        if _plain(read_bottle(text).solute) == formula and text != label:
            return text, "it is on the shelf" if why is None else f"{why}, and it is on the shelf"
    return label, why


def _counter_ions(salt: Species) -> tuple[str, ...]:
    from redoxlib.stoichiometry import ions_of

    ions = tuple(_plain(s) for _, s in ions_of(salt) or ())
    return () if any((a, b) in _FALLS_OUT for a in ions for b in ions) else ions


def _plain(species: Species) -> str:
    return str(species.with_phase(Phase.UNSTATED))
