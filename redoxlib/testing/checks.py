"""Assertions on equations and the laws they obey.

May import: notation, stoichiometry, data, errors.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache

from redoxlib.data import shipped
from redoxlib.errors import ImpossibleError, NotUniqueError, RedoxlibError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import balance, check

__all__ = [
    "assert_adds",
    "assert_balanced",
    "assert_conserves",
    "assert_reverses",
    "assert_scales",
    "nearest_fix",
]

_MEDIUM = ("H2O", "H^+", "OH^-", "e^-")


def assert_balanced(text: str | Equation) -> None:
    """Fail unless an equation balances as written.

    Raises
    ------
    AssertionError
        With what is over on each side, element by element and in charge, and the nearest fix.
    NotationError
        If the text cannot be read.

    >>> assert_balanced("2 H2 + O2 -> 2 H2O")
    """
    result = check(text)
    if result.balanced:
        return
    lines = [f"not balanced: {text}"]
    width = max(map(len, result.residual))
    lines += [
        f"  {label:<{width}}  {_signed(value)} (left minus right)" for label, value in result.residual.items()
    ]
    fix = nearest_fix(result.equation)
    lines.append(f"  nearest fix: {fix}" if fix else "  no fix found")
    raise AssertionError("\n".join(lines))


def _signed(value: Fraction) -> str:
    return f"+{value}" if value > 0 else str(value)


def nearest_fix(equation: Equation) -> str:
    """Say the smallest change that balances an equation; empty when it balances or none is found.

    Tried in this order: the charge of one ion the tables do not hold, one coefficient changed, one of
    H2O, H+, OH- added, all coefficients set anew,
    species added.  A half-reaction may also be given electrons.

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


def assert_conserves(equation: Equation) -> None:
    """Law: atoms and charge in equal atoms and charge out."""
    assert_balanced(equation)


def assert_scales(value: Callable[[Equation], float], equation: Equation, factor: int = 3) -> None:
    """Law: an extensive value of an equation times *factor* is that of the scaled equation.

    *value* gives a float, such as ``lambda e: gibbs(e).value``.  Agreement within a part in 10^9.
    """
    _close(value(equation.scaled(factor)), factor * value(equation), f"{equation} times {factor}")


def assert_reverses(value: Callable[[Equation], float], equation: Equation) -> None:
    """Law: an extensive value changes its sign with the direction of the equation."""
    backward = Equation(equation.products, equation.reactants)
    _close(value(backward), -value(equation), f"{equation} reversed")


def assert_adds(value: Callable[[Equation], float], first: Equation, second: Equation) -> None:
    """Law: an extensive value of a sum of two equations is the sum of their values."""
    total = Equation(first.reactants + second.reactants, first.products + second.products)
    _close(value(total), value(first) + value(second), f"{first} and {second}")


def _close(found: float, wanted: float, what: str) -> None:
    if not abs(found - wanted) <= 1e-9 * max(1.0, abs(found), abs(wanted)):
        raise AssertionError(f"{what}: {found!r}, and the law asks for {wanted!r}")
