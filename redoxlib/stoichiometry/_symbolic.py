"""Equations whose formulas hold letters: CnH2n+2, Fe2O3·xH2O, Fe1-xO.

The coefficients come out as polynomials in the letters, with the conditions under which all are
positive and the places where the general answer degenerates.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import gcd, lcm

from redoxlib.errors import DomainError, ImpossibleError, NotUniqueError
from redoxlib.notation import Equation, Polynomial, Species, SymbolicSpecies, parse_symbolic_equation
from redoxlib.stoichiometry._numbers import plain
from redoxlib.stoichiometry._solve import Poly, polynomial_null_space, real_root_texts

__all__ = ["SymbolicBalance", "balance_symbolic"]

_SAMPLES = (
    Fraction(1),
    Fraction(2),
    Fraction(5),
    Fraction(1, 20),
    Fraction(1, 2),
    Fraction(12),
    Fraction(1, 1000),
)
_LARGEST_PERIOD = 6
_MOST_SPECIES = 64


@dataclass(frozen=True, slots=True)
class SymbolicBalance:
    """A balanced equation with letters.

    Attributes
    ----------
    reactants, products : tuple of (Polynomial, SymbolicSpecies)
        Coefficients as polynomials with whole coefficients and no common factor.
    letters : tuple of str
    conditions : tuple of str
        What must hold for every coefficient and every subscript to make sense; empty when any
        positive letters will do.
    valid : str
        For one letter, the range in which all conditions hold, such as ``"0 < x < 1"``.
    degenerate : tuple of str
        Values of the letters where the general answer says nothing or a species drops out.
    divisors : tuple of str
        Whole letters for which the coefficients share a factor, such as
        ``"n odd: divide by 2"``.
    """

    reactants: tuple[tuple[Polynomial, SymbolicSpecies], ...]
    products: tuple[tuple[Polynomial, SymbolicSpecies], ...]
    letters: tuple[str, ...]
    conditions: tuple[str, ...]
    valid: str
    degenerate: tuple[str, ...]
    divisors: tuple[str, ...]

    @property
    def coefficients(self) -> tuple[Polynomial, ...]:
        """All coefficients, reactants first."""
        return tuple(coefficient for coefficient, _ in self.reactants + self.products)

    def at(self, **values: int | Fraction) -> Equation:
        """The equation for given letters, in smallest whole numbers.

        Raises
        ------
        DomainError
            If a letter is missing or a coefficient is not positive there.
        """
        missing = [letter for letter in self.letters if letter not in values]
        if missing:
            raise DomainError(f"no value for {', '.join(missing)}", hint=f"write at({missing[0]}=3)")
        exact = {letter: Fraction(values[letter]) for letter in self.letters}
        sides = []
        for side in (self.reactants, self.products):
            terms: list[tuple[int | Fraction, Species]] = []
            for coefficient, species in side:
                count = coefficient.at(exact)
                if count <= 0:
                    given = ", ".join(f"{letter} = {value}" for letter, value in exact.items())
                    raise DomainError(
                        f"for {given} the coefficient of {species} is {count}",
                        hint="; ".join(self.conditions) or None,
                    )
                terms.append((plain(count), _species(species, exact)))
            sides.append(terms)
        return Equation.of(sides[0], sides[1]).reduced()

    def __str__(self) -> str:
        left, right = (
            " + ".join(_term(coefficient, species) for coefficient, species in side)
            for side in (self.reactants, self.products)
        )
        lines = [f"{left} -> {right}"]
        if self.valid or self.conditions:
            lines.append("  valid for " + (self.valid or "; ".join(self.conditions)))
        lines += [f"  {note}" for note in (*self.degenerate, *self.divisors)]
        return "\n".join(lines)


def _term(coefficient: Polynomial, species: SymbolicSpecies) -> str:
    text = str(coefficient)
    if text == "1":
        return str(species)
    if not coefficient.is_constant and len(coefficient.terms) > 1:
        text = f"({text})"
    return f"{text} {species}"


def _species(species: SymbolicSpecies, values: Mapping[str, Fraction]) -> Species:
    counts: dict[str, int | Fraction] = {}
    for symbol, polynomial in species.elements.items():
        count = polynomial.at(values)
        if count < 0:
            raise DomainError(
                f"{species} would hold {count} {symbol}", hint="choose letters that keep counts positive"
            )
        if count:
            counts[symbol] = plain(count)
    return Species.of(counts, species.charge, species.phase)


def _poly(polynomial: Polynomial, letters: Sequence[str], sign: int) -> Poly:
    found: Poly = {}
    for monomial, value in polynomial.terms:
        powers = dict(monomial)
        found[tuple(powers.get(letter, 0) for letter in letters)] = value * sign
    return found


def _back(poly: Poly, letters: Sequence[str], sign: int = 1) -> Polynomial:
    terms = []
    for powers, value in poly.items():
        monomial = tuple(
            sorted((letter, power) for letter, power in zip(letters, powers, strict=True) if power)
        )
        terms.append((monomial, value * sign))
    return Polynomial(tuple(sorted(terms)))


def balance_symbolic(text: str) -> SymbolicBalance:
    """Balance an equation whose subscripts hold letters.

    Parameters
    ----------
    text : str
        Such as ``"CnH2n+2 + O2 -> CO2 + H2O"``.  Letters stand for positive numbers; typed
        coefficients are ignored.

    Returns
    -------
    SymbolicBalance

    Raises
    ------
    NotationError
        If the text cannot be read.
    NotUniqueError
        If several independent equations balance for general letters; ``.members`` holds a basis.
    ImpossibleError
        If no positive coefficients exist for general letters.
    DomainError
        If there are more species than the documented limit.

    Examples
    --------
    >>> print(balance_symbolic("CnH2n+2 + O2 -> CO2 + H2O"))
    2 CnH2n+2 + (3n+1) O2 -> 2n CO2 + (2n+2) H2O
      valid for n > 0
      n odd: divide by 2
    """
    sides = parse_symbolic_equation(text)
    species = [s for side in sides for _, s in side]
    if len(species) > _MOST_SPECIES:
        raise DomainError(
            f"{len(species)} species are more than the {_MOST_SPECIES} a symbolic equation may have"
        )
    signs = [1] * len(sides[0]) + [-1] * len(sides[1])
    letters = sorted({letter for s in species for letter in s.letters})
    if not letters:
        raise DomainError(
            "no letters stand in the equation", source=text, span=(0, len(text)), hint="use balance()"
        )
    symbols = list(dict.fromkeys(symbol for s in species for symbol in s.elements))
    rows = [
        [
            _poly(s.elements[symbol], letters, sign) if symbol in s.elements else {}
            for s, sign in zip(species, signs, strict=True)
        ]
        for symbol in symbols
    ]
    zero = (0,) * len(letters)
    if any(s.charge for s in species):
        rows.append(
            [
                {zero: Fraction(s.charge * sign)} if s.charge else {}
                for s, sign in zip(species, signs, strict=True)
            ]
        )
    basis = polynomial_null_space(rows, letters)
    if not basis:
        raise ImpossibleError(
            f"cannot balance {text} for general letters",
            reason="no coefficients at all balance it unless the letters take special values",
            certificate=None,
            repairs=(),
            hint="balance() takes numbers in place of the letters",
        )
    if len(basis) > 1:
        members = tuple(
            " ; ".join(f"{_back(p, letters)} {s}" for p, s in zip(vector, species, strict=True) if p)
            for vector, _ in basis
        )
        raise NotUniqueError(
            f"{len(basis)} independent equations balance {text} for general letters",
            members=members,
            choice=None,
            hint="put numbers in place of the letters and use balance()",
        )
    ((vector, content),) = basis
    sign = _orientation(vector, species, letters)
    if sign is None:
        raise ImpossibleError(
            f"cannot balance {text}: no letters make every coefficient positive",
            reason="some coefficient is negative or zero whatever the letters: "
            + ", ".join(f"{s} {_back(p, letters)}" for p, s in zip(vector, species, strict=True)),
            certificate=None,
            repairs=(),
            hint="is a species on the wrong side?",
        )
    coefficients = [_back(p, letters, sign) for p in vector]
    split = len(sides[0])
    terms = tuple(zip(coefficients, species, strict=True))
    conditions, valid = _conditions(coefficients, species, letters)
    return SymbolicBalance(
        terms[:split],
        terms[split:],
        tuple(letters),
        conditions,
        valid,
        _degenerate(coefficients, species, _back(content, letters), letters),
        _divisors(coefficients, species, letters),
    )


def _points(letters: Sequence[str]) -> Iterator[dict[str, Fraction]]:
    samples = _SAMPLES if len(letters) < 4 else _SAMPLES[:3]
    for values in product(samples, repeat=len(letters)):
        yield dict(zip(letters, values, strict=True))


def _sensible(species: Sequence[SymbolicSpecies], point: Mapping[str, Fraction]) -> bool:
    return all(count.at(point) >= 0 for s in species for count in s.elements.values())


def _orientation(
    vector: Sequence[Poly], species: Sequence[SymbolicSpecies], letters: Sequence[str]
) -> int | None:
    """The sign under which some sensible letters make every coefficient positive."""
    polynomials = [_back(p, letters) for p in vector]
    for point in _points(letters):
        if not _sensible(species, point):
            continue
        values = [p.at(point) for p in polynomials]
        if all(value > 0 for value in values):
            return 1
        if all(value < 0 for value in values):
            return -1
    return None


def _conditions(
    coefficients: Sequence[Polynomial], species: Sequence[SymbolicSpecies], letters: Sequence[str]
) -> tuple[tuple[str, ...], str]:
    counts = [count for s in species for count in s.elements.values() if not count.is_constant]
    wanted = [p for p in coefficients if not p.is_constant]
    found = [f"{letter} > 0" for letter in letters]
    for polynomial in dict.fromkeys(wanted):
        if not _surely_positive(polynomial):
            found.append(f"{polynomial} > 0")
    for polynomial in dict.fromkeys(counts):
        if not _surely_positive(polynomial):
            found.append(f"{polynomial} >= 0")
    conditions = tuple(dict.fromkeys(found))
    if len(letters) != 1:
        return conditions, ""
    return conditions, _range(wanted, counts, letters[0])


def _surely_positive(polynomial: Polynomial) -> bool:
    """All terms positive: positive for positive letters."""
    return all(value > 0 for _, value in polynomial.terms)


def _range(wanted: Sequence[Polynomial], counts: Sequence[Polynomial], letter: str) -> str:
    """Ranges of one letter, between real roots, where everything is positive."""
    marks: dict[Fraction | float, str] = {Fraction(0): "0"}
    for polynomial in (*wanted, *counts):
        roots = real_root_texts(_poly(polynomial, [letter], 1), letter)
        marks.update({value: text for value, text in roots if value > 0})
    places = sorted(marks)
    ranges = []
    for i, low in enumerate(places):
        high = places[i + 1] if i + 1 < len(places) else None
        middle = Fraction(low) + 1 if high is None else (Fraction(low) + Fraction(high)) / 2
        point = {letter: middle}
        if all(p.at(point) > 0 for p in wanted) and all(p.at(point) >= 0 for p in counts):
            ranges.append((marks[low], None if high is None else marks[high]))
    texts = [f"{letter} > {low}" if high is None else f"{low} < {letter} < {high}" for low, high in ranges]
    return " or ".join(texts)


def _degenerate(
    coefficients: Sequence[Polynomial],
    species: Sequence[SymbolicSpecies],
    content: Polynomial,
    letters: Sequence[str],
) -> tuple[str, ...]:
    notes = []
    if not content.is_constant and not _surely_positive(content):
        notes.append(f"where {content} = 0 more equations balance than this one")
    elif not content.is_constant:
        notes.append(f"divided by {content}, which is never zero for positive letters")
    for polynomial, s in zip(coefficients, species, strict=True):
        if polynomial.is_constant or _surely_positive(polynomial):
            continue
        place = f"where {polynomial} = 0"
        if len(letters) == 1:
            roots = [
                text
                for value, text in real_root_texts(_poly(polynomial, letters, 1), letters[0])
                if value > 0
            ]
            if not roots:
                continue
            place = "at " + " or ".join(f"{letters[0]} = {root}" for root in roots)
        notes.append(f"{place} {s} drops out")
    return tuple(notes)


def _divisors(
    coefficients: Sequence[Polynomial], species: Sequence[SymbolicSpecies], letters: Sequence[str]
) -> tuple[str, ...]:
    """Common factors of the coefficients for whole letters, from the first that is sensible on."""
    if len(letters) != 1:
        return ()
    letter = letters[0]
    shared: dict[int, int] = {}
    for n in range(1, 8 * _LARGEST_PERIOD + 1):
        point = {letter: Fraction(n)}
        values = [p.at(point) for p in coefficients]
        if min(values) <= 0 or not _sensible(species, point):
            if shared:
                return ()
            continue
        scale = lcm(*(value.denominator for value in values))
        shared[n] = gcd(*(int(value * scale) for value in values))
    if len(shared) < 4 * _LARGEST_PERIOD:
        return ()  # too few to call it a rule
    first = min(shared)
    for period in range(1, _LARGEST_PERIOD + 1):
        if all(shared[n] == shared[n + period] for n in shared if n + period in shared):
            break
    else:
        return ("for some whole letters the coefficients share a factor; at() divides it out",)
    notes = []
    for n in range(first, first + period):
        if shared[n] > 1:
            if period == 1:
                where = f"every whole {letter}"
            elif period == 2:
                where = f"{letter} {'odd' if n % 2 else 'even'}"
            else:
                where = f"{letter} = {n % period} modulo {period}"
            notes.append(f"{where}: divide by {shared[n]}")
    return tuple(notes)
