"""Reading an equation: clear text at once, anything else handed on.

equation = side ARROW side ;  side = term (" + " term)* ;  term = COUNT? species

May import: errors and this package.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation._equation import Equation, Term
from redoxlib.notation._parse import read_in_equation
from redoxlib.notation._species import Count, Species

__all__ = ["MAX_EQUATION_TEXT", "MAX_SPECIES", "read_equation"]

MAX_EQUATION_TEXT = 65536
MAX_SPECIES = 256

_COUNT = re.compile(r"([0-9]{1,9}(?:/[0-9]{1,9}|\.[0-9]{1,9})?) ?(?=[^0-9 /.])").match


def exact(text: str) -> Count:
    """Return a coefficient exactly."""
    value = Fraction(text)
    return int(value) if value.denominator == 1 else value


@lru_cache(maxsize=16384)
def _term(text: str) -> Term:
    """Read a clear term: term = COUNT? species ."""
    counted = _COUNT(text)
    if counted is None:
        return 1, read_in_equation(text)
    if "." in text:
        named = adduct(text)
        if named is not None:
            return 1, named
    count = exact(counted.group(1))
    if not count:
        raise NotationError("a coefficient of zero", source=text, span=counted.span(1))
    return count, read_in_equation(text[counted.end() :])


def adduct(text: str) -> Species | None:
    """Read an adduct that the table of names lists with a leading number, such as 2Na2CO3.3H2O2."""
    from redoxlib.notation._names import names

    return Species.parse(text) if names().find(text) is not None else None


def read_equation(text: str) -> Equation:
    """Read an equation; see :meth:`Equation.parse`."""
    if len(text) > MAX_EQUATION_TEXT:
        raise BudgetError(
            f"an equation of {len(text)} characters is longer than the limit of {MAX_EQUATION_TEXT}",
            source=text[:80] + "...",
            span=(0, 80),
        )
    left, arrow, right = text.partition(" -> ")
    if not arrow:
        left, arrow, right = text.partition(" → ")
    if arrow:
        try:
            sides = [tuple([_term(piece) for piece in side.split(" + ")]) for side in (left, right)]
        except (NotationError, ZeroDivisionError):
            sides = []
        small = bool(sides) and len(sides[0]) + len(sides[1]) <= MAX_SPECIES
        if small and not any(species.assumptions for side in sides for _, species in side):
            return Equation(sides[0], sides[1])
    from redoxlib.notation._messy_equation import read_messy_equation

    return read_messy_equation(text)
