"""The smallest change that makes an unbalanced equation balance.  Verb: nearest_fix.

May import: errors, notation, stoichiometry, data.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from redoxlib.data import shipped
from redoxlib.errors import ImpossibleError, NotUniqueError, RedoxlibError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import balance

__all__ = ["nearest_fix"]

_MEDIUM = ("H2O", "H^+", "OH^-", "e^-")


def nearest_fix(equation: Equation) -> str:
    """Say the smallest change that balances an equation; empty when it balances or none is found.

    Tried in this order: the charge of one ion the tables do not hold, one coefficient changed, one of
    H2O, H+, OH- added, all coefficients set anew, species added.  A half-reaction may also get electrons.

    >>> nearest_fix(Equation.parse("2 H2 + O2 -> H2O"))
    '2 H2 + O2 -> 2 H2O (coefficient of H2O: 2, not 1)'
    """
    residual = equation.residual()
    if not residual:
        return ""
    return (
        _one_charge(equation, residual)
        or _one_coefficient(equation, residual)
        or _one_more(equation, residual)
        or _anew(equation)
    )


def _times(species: Species, residual: dict[str, Fraction]) -> Fraction | None:
    """How many of *species* make up the residual exactly, or None."""
    content = {symbol: Fraction(count) for symbol, count in species.atoms}
    if species.charge:
        content["charge"] = Fraction(species.charge)
    if content.keys() != residual.keys():
        return None
    ratios = {residual[key] / value for key, value in content.items()}
    return ratios.pop() if len(ratios) == 1 else None


@cache
def _tabulated() -> frozenset[tuple[object, int]]:
    """Composition and charge of every species with formation data."""
    known = map(Species.parse, shipped().formation)
    return frozenset((species.atoms, species.charge) for species in known)


def _one_charge(equation: Equation, residual: dict[str, Fraction]) -> str:
    """An untabulated ion that is tabulated with the charge the equation asks for was mistyped."""
    if residual.keys() != {"charge"}:
        return ""
    sides = (equation.reactants, equation.products)
    for which, sign in ((0, -1), (1, 1)):
        for place, (count, species) in enumerate(sides[which]):
            wanted = species.charge + sign * residual["charge"] / count
            here, there = (species.atoms, species.charge), (species.atoms, int(wanted))
            if wanted.denominator != 1 or here in _tabulated() or there not in _tabulated():
                continue
            right = Species.of(dict(species.atoms), int(wanted), species.phase)
            changed = [list(side) for side in sides]
            changed[which][place] = (count, right)
            return f"{Equation.of(*changed)} ({right} meant, not {species})"
    return ""


def _one_coefficient(equation: Equation, residual: dict[str, Fraction]) -> str:
    sides = (equation.reactants, equation.products)
    for which, sign in ((0, -1), (1, 1)):
        for place, (count, species) in enumerate(sides[which]):
            times = _times(species, residual)
            if times is None:
                continue
            wanted = count + sign * times
            if wanted <= 0 or (Fraction(wanted).denominator != 1 and Fraction(count).denominator == 1):
                continue
            changed = [list(side) for side in sides]
            changed[which][place] = (Fraction(wanted), species)
            mended = Equation.of(*changed)
            return f"{mended} (coefficient of {species}: {wanted}, not {count})"
    return ""


def _one_more(equation: Equation, residual: dict[str, Fraction]) -> str:
    electrons = any(species.is_electron for _, species in equation.reactants + equation.products)
    for name in _MEDIUM:
        species = Species.parse(name)
        times = _times(species, residual)
        # Electrons are missing from a half-reaction; a whole equation lacks something else.
        if (
            times is None
            or times.denominator != 1
            or (species.is_electron and not (electrons or _half(equation)))
        ):
            continue
        left, right = list(equation.reactants), list(equation.products)
        (right if times > 0 else left).append((abs(times), species))
        return f"{Equation.of(left, right)} ({abs(times)} {species} missing)"
    return ""


def _half(equation: Equation) -> bool:
    """No whole equation over these species exists."""
    try:
        balance(equation)
    except ImpossibleError:
        return True
    except RedoxlibError:
        return False
    return False


def _anew(equation: Equation) -> str:
    try:
        result = balance(equation)
        return f"{result.equation} (coefficients set anew)"
    except NotUniqueError as error:
        if error.choice is not None:
            return f"{error.choice} (coefficients set anew; others balance too)"
        return "several equations balance: " + "; ".join(str(member) for member in error.members[:3])
    except ImpossibleError as error:
        return f"add species: {error.repairs[0]}" if error.repairs else ""
    except RedoxlibError:
        return ""
