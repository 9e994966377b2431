"""Values of oxidation numbers, and how they are written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from redoxlib.notation import Species

__all__ = ["ElementNumbers", "Number", "OxidationNumbers", "SiteNumber", "plain", "signed"]

Number: TypeAlias = int | Fraction


def plain(value: Fraction | int) -> Number:
    """Turn a fraction that is whole into an ``int``."""
    value = Fraction(value)
    return value.numerator if value.denominator == 1 else value


def signed(value: Number) -> str:
    """Write a number with its sign, zero without."""
    return "0" if value == 0 else f"{'+' if value > 0 else '-'}{abs(value)}"


class SiteNumber(NamedTuple):
    """An oxidation number and how many atoms of the formula have it."""

    number: Number
    count: Number  # type: ignore[assignment]  # hides tuple.count, which nobody needs on a pair


class ElementNumbers(tuple[SiteNumber, ...]):
    """The numbers of one element, highest first, each with its count of atoms."""

    remark: str = ""

    @property
    def average(self) -> Number:
        """Mean over the atoms of this element."""
        total = sum((Fraction(site.count) for site in self), Fraction(0))
        return plain(sum((Fraction(site.number) * site.count for site in self), Fraction(0)) / total)

    def __str__(self) -> str:
        parts = []
        for number, count in self:
            parts.append(signed(number) + (f" (x{count})" if len(self) > 1 or count != 1 else ""))
        return ", ".join(parts)


class OxidationNumbers(Mapping[str, ElementNumbers]):
    """Oxidation numbers of one species: element symbol to its numbers with counts.

    Attributes
    ----------
    species : Species
        What was asked about.
    average : mapping of str to int or Fraction
        Mean number of each element.
    remark : str
        What a reader should know (shared bonds, averages, other conventions); empty when nothing.
    """

    __slots__ = ("_numbers", "remark", "species")

    def __init__(self, species: Species, numbers: Mapping[str, ElementNumbers], remark: str) -> None:
        self.species = species
        self._numbers = dict(numbers)
        self.remark = remark

    def __getitem__(self, symbol: str) -> ElementNumbers:
        return self._numbers[symbol]

    def __iter__(self) -> Iterator[str]:
        return iter(self._numbers)

    def __len__(self) -> int:
        return len(self._numbers)

    @property
    def average(self) -> Mapping[str, Number]:
        """Mean number of each element."""
        return {symbol: numbers.average for symbol, numbers in self._numbers.items()}

    def __repr__(self) -> str:
        return f"<OxidationNumbers {self}>"

    def __str__(self) -> str:
        text = f"{self.species}: " + "; ".join(f"{s} {n}" for s, n in self._numbers.items())
        return text + (f" [{self.remark}]" if self.remark else "")
