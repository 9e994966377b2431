"""An equation as linear algebra: one column per species, one row per element and one for charge."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from redoxlib.errors import BudgetError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry._solve import null_space

__all__ = ["CHARGE", "MAX_SPECIES", "System", "whole"]

CHARGE = "charge"
MAX_SPECIES = 256


_NONE: frozenset[int] = frozenset()


class System:
    """Species with their sides, and the conservation rows they must satisfy.

    A column is positive for a reactant and negative for a product, so a solution with all entries
    positive is a balanced equation.  Columns in ``free`` were added by a method (water, H+, OH-):
    they are entered as reactants and may come out with either sign or zero.
    """

    __slots__ = ("_basis", "extra", "free", "labels", "left", "rows", "signs", "species")

    def __init__(
        self,
        left: Sequence[Species],
        right: Sequence[Species],
        free: Sequence[Species] = (),
        extra: Sequence[Sequence[int]] = (),
    ) -> None:
        typed = len(left) + len(right)
        width = typed + len(free)
        if width > MAX_SPECIES:
            raise BudgetError(f"{width} species are more than the {MAX_SPECIES} one equation may have")
        self.species = species_list = [*left, *right, *free]
        self.signs = [1] * len(left) + [-1] * len(right) + [1] * len(free)
        self.free = frozenset(range(typed, width)) if free else _NONE
        # Each new element makes itself a row of zeros.
        index: defaultdict[str, list[int]] = defaultdict(([0] * width).copy)
        charges: list[int] | None = None
        broken = False
        sign = 1
        self.left = first_product = len(left)
        for j, species in enumerate(species_list):
            if j == first_product:
                sign = -1
            if j == typed:
                sign = 1
            for symbol, count in species.atoms:
                index[symbol][j] = sign * count  # type: ignore[assignment]
                if count.__class__ is not int:
                    broken = True
            if species.charge:
                if charges is None:
                    charges = [0] * width
                charges[j] = sign * species.charge
        self.labels = list(index)
        self.rows = [whole(row) for row in index.values()] if broken else list(index.values())
        if charges is not None:
            self.labels.append(CHARGE)
            self.rows.append(charges)
        self.extra = [list(row) for row in extra] if extra else []
        self._basis: list[list[int]] | None = None

    @property
    def width(self) -> int:
        """Number of columns."""
        return len(self.species)

    @property
    def all_rows(self) -> list[list[int]]:
        """Conservation rows and those the user asked for."""
        return self.rows + self.extra if self.extra else self.rows

    def basis(self) -> list[list[int]]:
        """Basis of all solutions, whatever their signs."""
        if self._basis is None:
            self._basis = null_space(self.all_rows, len(self.species))
        return self._basis

    def fits(self, vector: Sequence[int]) -> bool:
        """Say whether every typed species has a positive coefficient."""
        free = self.free
        if not free:
            return min(vector) > 0
        return all(value > 0 for j, value in enumerate(vector) if j not in free)

    def equation(self, vector: Sequence[int]) -> Equation:
        """Write a solution as an equation; zeros vanish, negative free columns go to the right."""
        if not self.free and min(vector) > 0:
            terms = tuple(zip(vector, self.species, strict=True))
            split = self.left
            return Equation(terms[:split], terms[split:])
        left: list[tuple[int | Fraction, Species]] = []
        right: list[tuple[int | Fraction, Species]] = []
        for value, sign, species in zip(vector, self.signs, self.species, strict=True):
            if value:
                signed = value * sign
                if signed > 0:
                    left.append((signed, species))
                else:
                    right.append((-signed, species))
        return Equation(tuple(left), tuple(right))

    def vector(self, equation: Equation) -> list[int]:
        """Coefficients of *equation* in the order of the columns (0 where a species is absent)."""
        total: dict[Species, Fraction] = {}
        for sign, side in ((1, equation.reactants), (-1, equation.products)):
            for count, species in side:
                total[species] = total.get(species, Fraction(0)) + sign * Fraction(count)
        found = []
        for sign, species in zip(self.signs, self.species, strict=True):
            found.append(total.pop(species, Fraction(0)) * sign)
        if total:
            raise ValueError("the equation holds species this family does not: " + ", ".join(map(str, total)))
        scale = lcm(*(value.denominator for value in found))
        return [int(value * scale) for value in found]


def whole(row: Sequence[int | Fraction]) -> list[int]:
    """Scale a row of exact numbers to whole ones."""
    if all(value.__class__ is int for value in row):
        return list(row)  # type: ignore[arg-type]
    scale = lcm(*(Fraction(value).denominator for value in row))
    return [int(value * scale) for value in row]
