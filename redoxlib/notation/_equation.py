"""What an equation is: two sides of species with coefficients, as written.

May import: errors, and the readers and writers of this package when they are called.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from redoxlib.errors import NotationError, no_text
from redoxlib.notation._species import Assumption, Count, Species

__all__ = ["Equation", "Term"]

Term = tuple[Count, Species]


def exact(value: object) -> Count:
    """Return *value* as an exact coefficient, whole numbers as ``int``."""
    if isinstance(value, bool) or not isinstance(value, int | Fraction):
        raise NotationError(
            f"coefficient {value!r} is not exact", hint="write a whole number or fractions.Fraction(1, 2)"
        )
    return int(value) if isinstance(value, Fraction) and value.denominator == 1 else value


def _side(terms: Mapping[Species, Count] | Iterable[tuple[Count, Species]]) -> tuple[Term, ...]:
    pairs = ((n, s) for s, n in terms.items()) if isinstance(terms, Mapping) else terms
    side = tuple((exact(count), species) for count, species in pairs)
    for count, species in side:
        if count <= 0:
            raise NotationError(f"coefficient {count} of {species} is not positive")
    return side


@dataclass(frozen=True, slots=True, eq=False, repr=False, init=False)
class Equation:
    """A chemical equation or half-reaction as written, balanced or not.

    Two equations are equal when each side holds the same species with the same coefficients;
    the order of the terms and the assumptions made on reading take no part.

    Attributes
    ----------
    reactants, products : tuple
        ``(coefficient, Species)`` in the order written; a coefficient is an ``int`` or a
        ``Fraction``, 1 where none is written.
    assumptions : tuple of Assumption
        What had to be assumed to read the text, those about its species included.

    Examples
    --------
    >>> print(Equation.parse("MnO4- + 8H+ + 5e- = Mn2+ + 4H2O"))
    MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O
    """

    reactants: tuple[Term, ...]
    products: tuple[Term, ...]
    assumptions: tuple[Assumption, ...]

    def __init__(
        self,
        reactants: tuple[Term, ...],
        products: tuple[Term, ...],
        assumptions: tuple[Assumption, ...] = (),
    ) -> None:
        _set_reactants(self, reactants)
        _set_products(self, products)
        _set_assumptions(self, assumptions)

    @classmethod
    def parse(cls, text: str) -> Equation:
        """Read an equation in any common style.

        Raises
        ------
        NotationError
            If the text cannot be read; ``.span`` marks the fault and ``.hint`` a repair.
        BudgetError
            If the text is longer or holds more species than the documented limits.
        """
        if not isinstance(text, str):
            raise no_text(text, "give an equation such as 'H2 + O2 -> H2O'")
        from redoxlib.notation._equation_text import read_equation

        return read_equation(text)

    @classmethod
    def of(
        cls,
        reactants: Mapping[Species, Count] | Iterable[tuple[Count, Species]],
        products: Mapping[Species, Count] | Iterable[tuple[Count, Species]],
    ) -> Equation:
        """Build an equation from ``(coefficient, species)`` pairs or mappings of species to coefficient.

        Raises
        ------
        NotationError
            If a coefficient is not positive and exact.
        """
        return cls(_side(reactants), _side(products))

    def scaled(self, factor: Count) -> Equation:
        """Return the equation with every coefficient times *factor* (positive and exact)."""
        times = exact(factor)
        if times <= 0:
            raise NotationError(f"factor {factor} is not positive")
        left, right = (
            tuple((exact(count * times), species) for count, species in side)
            for side in (self.reactants, self.products)
        )
        return Equation(left, right, self.assumptions)

    def reduced(self) -> Equation:
        """Return the equation with the smallest whole-number coefficients."""
        counts = [count for count, _ in self.reactants + self.products]
        if not counts:
            return self
        bottom = lcm(*(count.denominator for count in counts))
        top = gcd(*(int(count * bottom) for count in counts))
        return self if bottom == top else self.scaled(Fraction(bottom, top))

    def residual(self) -> dict[str, Fraction]:
        """Return what does not balance: element or ``"charge"`` to left minus right, zeros left out."""
        total: dict[str, Fraction] = {}
        for side, sign in ((self.reactants, 1), (self.products, -1)):
            for count, species in side:
                for symbol, atoms in species.atoms:
                    total[symbol] = total.get(symbol, Fraction(0)) + sign * count * atoms
                total["charge"] = total.get("charge", Fraction(0)) + sign * count * species.charge
        return {key: value for key, value in total.items() if value}

    def unicode(self) -> str:
        """Return the equation with Unicode scripts and arrow."""
        from redoxlib.notation._write import equation_unicode

        return equation_unicode(self)

    def latex(self) -> str:
        r"""Return the equation for LaTeX with mhchem, one ``\ce{...}``."""
        from redoxlib.notation._write import equation_latex

        return equation_latex(self)

    def _repr_latex_(self) -> str:
        """What a notebook shows."""
        return f"${self.latex()}$"

    def _sums(self) -> tuple[frozenset[tuple[Species, Count]], ...]:
        sides = []
        for side in (self.reactants, self.products):
            total: dict[Species, Count] = {}
            for count, species in side:
                total[species] = total.get(species, 0) + count
            sides.append(frozenset(total.items()))
        return tuple(sides)

    def __str__(self) -> str:
        from redoxlib.notation._write import equation_ascii

        return equation_ascii(self)

    def __repr__(self) -> str:
        return f"Equation.parse({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        return self._sums() == other._sums() if isinstance(other, Equation) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._sums())


# Balancing takes 15 us; the generated __init__ of a frozen class would add one, setting by slot a quarter.
_set_reactants, _set_products, _set_assumptions = (
    vars(Equation)[name].__set__ for name in ("reactants", "products", "assumptions")
)
