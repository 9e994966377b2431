"""The elements: symbols for reading, standard atomic weights for weighing.

The only door to periodictable, opened on the first weight asked for: reading a formula needs
the symbols alone, and they are written out here.

May import: errors.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from redoxlib.errors import MissingDataError

__all__ = ["ORDER", "SYMBOLS", "atomic_weight", "near_symbols"]

_TABLE = """
H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se Br Kr
Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs Ba La Ce Pr Nd Pm Sm Eu Gd Tb Dy Ho Er Tm Yb
Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Po At Rn Fr Ra Ac Th Pa U Np Pu Am Cm Bk Cf Es Fm Md No Lr Rf
Db Sg Bh Hs Mt Ds Rg Cn Nh Fl Mc Lv Ts Og
"""

ORDER: dict[str, int] = {symbol: number for number, symbol in enumerate(_TABLE.split(), start=1)}
"""Atomic number by symbol.  Deuterium, ``D``, is a symbol of its own and shares hydrogen's number."""
ORDER["D"] = 1

SYMBOLS: frozenset[str] = frozenset(ORDER)

# Letters that fingers and scanners take for one another, besides plain neighbours in spelling.
_LOOK_ALIKE = {
    "M": "Mn",
    "Nm": "Mn",
    "Mm": "Mn",
    "A": "Al",
    "J": "I",
    "L": "Li",
    "E": "Fe",
    "G": "Ga",
    "X": "Xe",
}


@lru_cache(maxsize=256)
def atomic_weight(symbol: str) -> float:
    """Return the standard atomic weight of *symbol* [g/mol].

    Where the evaluated weight is an interval, periodictable's conventional value stands; an
    element without stable isotopes has the mass number of its longest-lived one.

    Raises
    ------
    MissingDataError
        If *symbol* is no element, or has no weight.
    """
    import periodictable

    if symbol not in SYMBOLS:
        raise MissingDataError(
            f"no atomic weight for {symbol!r}", what="atomic weight", looked_in=("periodictable",)
        )
    weight: float | None = getattr(periodictable, symbol).mass
    if weight is None:
        raise MissingDataError(
            f"no atomic weight for {symbol}", what="atomic weight", looked_in=("periodictable",)
        )
    return float(weight)


def near_symbols(wrong: str, limit: int = 3) -> tuple[str, ...]:
    """Return the symbols a reader most likely meant by *wrong*, the best first."""
    found: list[str] = []
    alike = _LOOK_ALIKE.get(wrong)
    if alike:
        found.append(alike)
    title = wrong[:1].upper() + wrong[1:2].lower()
    if title in SYMBOLS and title not in found:
        found.append(title)
    for symbol in sorted(SYMBOLS, key=lambda s: ORDER[s]):
        swapped = len(symbol) == 2 and symbol.lower() == wrong[::-1].lower()
        one_letter_off = len(symbol) == len(wrong) == 2 and (symbol[0] == wrong[0]) != (symbol[1] == wrong[1])
        if (swapped or one_letter_off) and symbol not in found:
            found.append(symbol)
    return tuple(found[:limit])


def molar_mass(elements: tuple[tuple[str, int | Fraction], ...], charge: int) -> float:
    """Return the molar mass of a composition [g/mol], the electrons of the charge included."""
    electron = 5.48579909065e-4  # CODATA 2018, relative mass of the electron
    return sum(float(count) * atomic_weight(symbol) for symbol, count in elements) - charge * electron
