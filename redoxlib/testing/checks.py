"""Assertions on equations and the laws they obey.

May import: any public name.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from redoxlib._fix import nearest_fix
from redoxlib.notation import Equation
from redoxlib.stoichiometry import check

__all__ = [
    "assert_adds",
    "assert_balanced",
    "assert_conserves",
    "assert_reverses",
    "assert_scales",
    "nearest_fix",
]


def assert_balanced(text: str | Equation) -> None:
    """Fail unless an equation balances as written.

    Raises
    ------
    AssertionError
        With what is over on each side, element by element and in charge, and the nearest fix.
    NotationError
        If the text cannot be read.

    Examples
    --------
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
