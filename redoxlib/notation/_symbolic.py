"""Formulas with letters as subscripts, such as CnH2n+2, Fe2O3·xH2O and Fe1-xO.

The counts are polynomials in the letters, kept exactly and without a computer algebra system;
the part that balances such equations turns them into its own.

May import: errors and this package.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from redoxlib.errors import BudgetError, NotationError, no_text
from redoxlib.notation._arrows import find_arrow
from redoxlib.notation._elements import SYMBOLS, near_symbols
from redoxlib.notation._formula import MAX_DEPTH
from redoxlib.notation._labels import strip_labels
from redoxlib.notation._normal import normalise
from redoxlib.notation._species import Phase

__all__ = ["Polynomial", "SymbolicSpecies", "looks_symbolic", "parse_symbolic", "parse_symbolic_equation"]

Monomial = tuple[tuple[str, int], ...]

MAX_TEXT = 4096
MAX_TERMS = 64


@dataclass(frozen=True, slots=True)
class Polynomial:
    """A polynomial in letters with exact coefficients.

    ``terms`` is a sorted tuple of ``(monomial, coefficient)``; a monomial is a sorted tuple of
    ``(letter, power)``, empty for the constant.  Zero has no terms.

    Examples
    --------
    >>> n = Polynomial.letter("n")
    >>> print(2 * n + 2)
    2n+2
    >>> (2 * n + 2).at({"n": 3})
    Fraction(8, 1)
    """

    terms: tuple[tuple[Monomial, Fraction], ...] = ()

    @classmethod
    def constant(cls, value: int | Fraction) -> Polynomial:
        """Return a constant."""
        return cls((((), Fraction(value)),)) if value else cls()

    @classmethod
    def letter(cls, name: str) -> Polynomial:
        """Return a single letter."""
        return cls(((((name, 1),), Fraction(1)),))

    @property
    def letters(self) -> frozenset[str]:
        """The letters that occur."""
        return frozenset(name for monomial, _ in self.terms for name, _ in monomial)

    @property
    def is_constant(self) -> bool:
        """Whether no letter occurs."""
        return not self.letters

    def __add__(self, other: Polynomial | int | Fraction) -> Polynomial:
        right = other if isinstance(other, Polynomial) else Polynomial.constant(other)
        total = dict(self.terms)
        for monomial, value in right.terms:
            total[monomial] = total.get(monomial, Fraction(0)) + value
        return _polynomial(total)

    def __mul__(self, other: Polynomial | int | Fraction) -> Polynomial:
        right = other if isinstance(other, Polynomial) else Polynomial.constant(other)
        if len(self.terms) * len(right.terms) > MAX_TERMS:
            raise BudgetError(f"a count of more than {MAX_TERMS} terms is beyond the limit")
        total: dict[Monomial, Fraction] = {}
        for one, value in self.terms:
            for two, times in right.terms:
                powers = dict(one)
                for name, power in two:
                    powers[name] = powers.get(name, 0) + power
                monomial = tuple(sorted(powers.items()))
                total[monomial] = total.get(monomial, Fraction(0)) + value * times
        return _polynomial(total)

    __radd__ = __add__
    __rmul__ = __mul__

    def at(self, values: Mapping[str, int | Fraction]) -> Fraction:
        """Return the value for given letters; a missing letter raises ``KeyError``."""
        total = Fraction(0)
        for monomial, value in self.terms:
            for name, power in monomial:
                value *= Fraction(values[name]) ** power
            total += value
        return total

    def __str__(self) -> str:
        text = ""
        for monomial, value in sorted(self.terms, key=lambda term: (-sum(p for _, p in term[0]), term[0])):
            letters = "".join(name if power == 1 else f"{name}^{power}" for name, power in monomial)
            size = "" if letters and abs(value) == 1 else str(abs(value))
            text += ("-" if value < 0 else "+" if text else "") + size + letters
        return text or "0"


def _polynomial(total: Mapping[Monomial, Fraction]) -> Polynomial:
    return Polynomial(tuple(sorted((monomial, value) for monomial, value in total.items() if value)))


@dataclass(frozen=True, slots=True, eq=False)
class SymbolicSpecies:
    """A species whose counts may hold letters.

    Attributes
    ----------
    elements : Mapping
        Element symbol to :class:`Polynomial`, in alphabetical order.
    charge : int
    phase : Phase
    formula : str
        The spelling without charge and phase.
    """

    elements: Mapping[str, Polynomial]
    charge: int
    phase: Phase
    formula: str

    @property
    def letters(self) -> frozenset[str]:
        """All letters that occur in the counts."""
        return frozenset().union(*(count.letters for count in self.elements.values()))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, SymbolicSpecies):
            return NotImplemented
        return (dict(self.elements), self.charge, self.phase) == (
            dict(other.elements),
            other.charge,
            other.phase,
        )

    def __hash__(self) -> int:
        return hash((tuple(self.elements.items()), self.charge, self.phase))

    def __reduce__(self) -> tuple[object, ...]:
        return _rebuilt, (tuple(self.elements.items()), self.charge, self.phase, self.formula)

    def __str__(self) -> str:
        charge = ""
        if self.charge:
            size = str(abs(self.charge)) if abs(self.charge) > 1 else ""
            charge = f"^{size}{'+' if self.charge > 0 else '-'}"
        return f"{self.formula}{charge}" + (f"({self.phase})" if self.phase else "")


def _rebuilt(
    elements: tuple[tuple[str, Polynomial], ...], charge: int, phase: Phase, formula: str
) -> SymbolicSpecies:
    return SymbolicSpecies(MappingProxyType(dict(elements)), charge, phase, formula)


_L = "nmxyzkpqδ"
_UNIT = rf"(?:[0-9]{{1,9}}(?:\.[0-9]{{1,9}})?[{_L}]?|[{_L}])"
_SUM = rf"{_UNIT}(?:[+-]{_UNIT})*"
_HOLDS_LETTER = rf"(?=[0-9.+-]*[{_L}])"
_COUNT = re.compile(rf"{_HOLDS_LETTER}{_SUM}|\({_HOLDS_LETTER}{_SUM}\)|[0-9]{{1,9}}(?:\.[0-9]{{1,9}})?")
_TERM = re.compile(r"([+-]?)([0-9]*(?:\.[0-9]+)?)([^0-9+-.]?)")
_ATOM = re.compile(r"[A-Z][a-z]?")
_SCRIPT = re.compile(r"\s*([0-9]{0,2})([+-])\s*$")
_GLUED_CHARGE = re.compile(r"(?<=[A-Za-zδ)\]])([0-9]?)([+-])$")
# Symbols that are far likelier an atom with a letter below it than the heavy element of that name.
_SPLIT = frozenset({"Cn", "Cm"})
_LOOKS = re.compile(
    rf"(?:(?<=[0-9)\]·.])|(?<=_)|(?<=_\{{))[{_L}](?=[A-Z0-9(){{}}+\-^ ·]|$)"
    rf"|(?<=C)[nmxy](?=H[0-9]*[{_L}](?![a-z]))|[0-9]-[xyδ](?![a-z])"
)


def looks_symbolic(text: str) -> bool:
    """Whether *text* seems to hold letters for numbers, as CnH2n+2 does."""
    return any(char.isupper() for char in text) and _LOOKS.search(text) is not None


def symbolic_at(text: str) -> int:
    """Return where the first letter for a number stands."""
    match = _LOOKS.search(text)
    return match.end() - 1 if match else 0


def _count(text: str) -> Polynomial:
    total = Polynomial()
    for sign, digits, letter in _TERM.findall(text.strip("()")):
        if not digits and not letter:
            continue
        term = Polynomial.constant(Fraction(digits or "1"))
        if letter:
            term = term * Polynomial.letter(letter)
        total = total + term * (-1 if sign == "-" else 1)
    return total


def parse_symbolic(text: str) -> SymbolicSpecies:
    """Read a formula whose subscripts may be letters or sums such as ``2n+2``.

    ``_`` forces a letter below where a symbol would be read otherwise: ``S_n^2-`` is not tin.

    Raises
    ------
    NotationError
        If the text cannot be read.
    BudgetError
        If it is longer or deeper than the documented limits.

    Examples
    --------
    >>> print({symbol: str(count) for symbol, count in parse_symbolic("CnH2n+2").elements.items()})
    {'C': 'n', 'H': '2n+2'}
    """
    if not isinstance(text, str):
        raise no_text(text, "give a formula such as 'CnH2n+2'")
    if len(text) > MAX_TEXT:
        raise BudgetError(
            f"a species of {len(text)} characters is longer than the limit of {MAX_TEXT}",
            source=text[:80] + "...",
            span=(0, 80),
        )
    glyphs, phase = strip_labels(normalise(_plain_scripts(text)))
    start = glyphs.level.find("u")
    script = glyphs.text[start:] if start >= 0 else ""
    body = (glyphs.text[:start] if start >= 0 else glyphs.text).replace(" ", "")
    charge = 0
    found = _SCRIPT.fullmatch(script) if script else _GLUED_CHARGE.search(body)
    if script and found is None:
        raise NotationError("this is no charge", source=text, span=glyphs.span(start, len(glyphs.text)))
    if found:
        charge = int(found.group(1) or 1) * (1 if found.group(2) == "+" else -1)
        if not script:
            body = body[: found.start()]
    elements = _elements(body, text)
    return _rebuilt(tuple(sorted(elements.items())), charge, phase, body)


def _plain_scripts(text: str) -> str:
    """Turn ``_n`` and ``_{2n+2}`` into plain text that cannot be taken for a symbol."""
    return re.sub(
        rf"_\{{([0-9+\-.{_L}]+)\}}|_([0-9{_L}])", lambda m: f"({m.group(1) or m.group(2)})", text
    ).replace("δ", "z")


def _elements(body: str, source: str) -> dict[str, Polynomial]:
    """Count atoms: part = (SYMBOL COUNT? | "(" part ")" COUNT?)+ , parts joined by dots."""
    total: dict[str, Polynomial] = {}
    for index, part in enumerate(re.split(r"·|\.(?![0-9])", body)):
        times = Polynomial.constant(1)
        at = 0
        lead = _COUNT.match(part)
        if lead and index:
            times, at = _count(lead.group()), lead.end()
        for symbol, count in _part(part, at, source).items():
            total[symbol] = total.get(symbol, Polynomial()) + count * times
    return total


def _part(part: str, at: int, source: str) -> dict[str, Polynomial]:
    level: dict[str, Polynomial] = {}
    outer: list[dict[str, Polynomial]] = []
    while at < len(part):
        char = part[at]
        if char in "([":
            if len(outer) >= MAX_DEPTH:
                raise BudgetError(
                    f"brackets are nested deeper than the limit of {MAX_DEPTH}", source=source, span=(0, 1)
                )
            outer.append(level)
            level = {}
            at += 1
            continue
        if char in ")]" and outer and level:
            inside, level, at = level, outer.pop(), at + 1
        else:
            symbol, at = _symbol(part, at, source)
            inside = {symbol: Polynomial.constant(1)}
        times = Polynomial.constant(1)
        counted = _COUNT.match(part, at)
        if counted:
            times, at = _count(counted.group()), counted.end()
        for symbol, count in inside.items():
            level[symbol] = level.get(symbol, Polynomial()) + count * times
    if outer or not level:
        raise _refused(
            source, part, max(0, len(part) - 1), "a bracket is not closed" if outer else "no formula here"
        )
    return level


def _symbol(part: str, at: int, source: str) -> tuple[str, int]:
    match = _ATOM.match(part, at)
    if match is None:
        raise _refused(source, part, at, f"{part[at]!r} cannot stand here")
    symbol = match.group()
    if symbol not in SYMBOLS or symbol in _SPLIT:
        symbol = symbol[0]
    if symbol not in SYMBOLS:
        near = near_symbols(match.group())
        raise _refused(
            source,
            part,
            at,
            f"unknown element {match.group()!r}",
            f"did you mean {near[0]!r}?" if near else None,
        )
    return symbol, at + len(symbol)


def _refused(source: str, part: str, at: int, message: str, hint: str | None = None) -> NotationError:
    place = max(0, source.find(part[at : at + 2]))
    return NotationError(message, source=source, span=(place, place + 1), hint=hint)


def parse_symbolic_equation(
    text: str,
) -> tuple[tuple[tuple[Fraction, SymbolicSpecies], ...], tuple[tuple[Fraction, SymbolicSpecies], ...]]:
    """Read an equation of symbolic species; plus signs between species need a space on either side.

    Returns
    -------
    tuple
        Both sides as tuples of ``(coefficient, SymbolicSpecies)``.

    Raises
    ------
    NotationError
        If the text cannot be read.
    """
    if not isinstance(text, str):
        raise no_text(text, "give an equation such as 'CnH2n + O2 -> CO2 + H2O'")
    if len(text) > 65536:
        raise BudgetError(f"an equation of {len(text)} characters is longer than the limit of 65536")
    arrow = find_arrow(text, 0, len(text))
    sides = []
    for side in (text[: arrow.start], text[arrow.end :]):
        terms = []
        for piece in re.split(r"\s\+\s", side):
            counted = re.match(r"\s*(?:([0-9]{1,9}(?:/[1-9][0-9]{0,8})?)\s*(?=[A-Z(\[\\]))?", piece)
            count = Fraction(counted.group(1)) if counted and counted.group(1) else Fraction(1)
            terms.append((count, parse_symbolic(piece[counted.end() if counted else 0 :].strip())))
        sides.append(tuple(terms))
    return sides[0], sides[1]
