"""check: judge an equation as written.  Needs no solver and so no sympy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from redoxlib._display import html_of
from redoxlib.notation import Assumption, Equation, Species
from redoxlib.stoichiometry._ionic import ions_in_water
from redoxlib.stoichiometry._ions import ions_of, is_metal, known_ions
from redoxlib.stoichiometry._numbers import signed
from redoxlib.stoichiometry._oxidation import oxidation_numbers, plausible

__all__ = ["Check", "check", "implausible", "lost_charge"]


@dataclass(frozen=True, slots=True)
class Check:
    """Verdict on an equation as written.

    Attributes
    ----------
    equation : Equation
        The equation as read, coefficients as typed.
    balanced : bool
        Whether every element and the charge agree.
    residual : mapping of str to Fraction
        Element or ``"charge"`` to left minus right; empty when balanced.
    lowest_terms : bool
        Whether the coefficients are whole numbers without a common divisor.
    remarks : tuple of str
        What a reader should look at.
    assumptions : tuple of Assumption
        What was assumed in reading.
    """

    equation: Equation
    balanced: bool
    residual: Mapping[str, Fraction]
    lowest_terms: bool
    remarks: tuple[str, ...]
    assumptions: tuple[Assumption, ...]

    _repr_html_ = html_of

    def __str__(self) -> str:
        if self.balanced:
            head = f"balanced: {self.equation}"
        else:
            off = ", ".join(
                f"{label} {abs(value)} too {'many' if value > 0 else 'few'} on the left"
                if label != "charge"
                else f"charge {signed(value)} (left minus right)"
                for label, value in self.residual.items()
            )
            head = f"not balanced: {off}"
        return "\n".join([head, *(f"  {remark}" for remark in self.remarks)])


def implausible(species: Species) -> str | None:
    """Say what is odd about the oxidation numbers of a species; ``None`` when nothing is."""
    if not species.elements:
        return None
    numbers = oxidation_numbers(species)
    for symbol, sites in numbers.items():
        for number, _ in sites:
            if not plausible(symbol, number):
                return f"{species}: {symbol} would be {signed(Fraction(number))}, which is not known"
        mean = Fraction(sites.average)
        below = mean < 0 and "O" in species.elements and any(n == -2 for n, _ in numbers["O"])
        if below and (is_metal(symbol) or symbol in ("S", "P", "Cl", "Br", "I", "As")) and _oxo(species):
            return f"{species}: {symbol} would be {signed(mean)} beside oxygen at -2"
    if len(species.elements) == 1 and species.charge:
        ((symbol, count),) = species.elements.items()
        if is_metal(symbol) and species.charge < 0:
            return f"{species}: a bare negative ion of {symbol}"
        del count
    return None


# Neutral molecules whose composition is also that of a common ion.
_BOTH = frozenset(
    {"SO3", "NO2", "ClO2", "O3", "N3", "I3", "CN", "ClO", "BrO", "IO", "C2N2", "HO2", "NO3", "FeO2"}
)
_OXIDES = frozenset({"MnO2", "SnO2", "PbO2", "TiO2", "NiO2", "CoO2", "CrO2", "ZnO2", "BaO2"})


def lost_charge(species: Species) -> str | None:
    """Say that a neutral formula has the composition of an ion and of no usual molecule."""
    if species.charge or len(species.elements) < 2 or species.isomer is not None:
        return None
    if species.formula in _BOTH or species.formula in _OXIDES:
        return None
    atoms = frozenset((s, c) for s, c in species.elements.items() if isinstance(c, int))
    salt = any(is_metal(s) for s in species.elements) and ions_of(species) is not None
    if salt or len(atoms) != len(species.elements):
        return None
    table = known_ions()
    for charge in (-2, -1, -3, -4, 1, 2):
        ion = table.get((atoms, charge))
        if ion is not None:
            return f"{species} has no charge: {ion} meant?"
    return None


def _oxo(species: Species) -> bool:
    """One element with oxygen, and perhaps hydrogen: no room for an anion that explains the number."""
    return len(set(species.elements) - {"O", "H"}) == 1


def check(text: str | Equation) -> Check:
    """Judge an equation as written: balance, lowest terms, and what looks odd.

    Parameters
    ----------
    text : str or Equation
        The equation with its coefficients (1 where none is written).

    Raises
    ------
    NotationError
        If the text cannot be read.

    Examples
    --------
    >>> check("H2 + O2 -> H2O").residual
    {'O': Fraction(1, 1)}
    >>> check("2 H2 + O2 -> 2 H2O").balanced
    True
    """
    equation = text if isinstance(text, Equation) else Equation.parse(text)
    residual = equation.residual()
    counts = [count for count, _ in equation.reactants + equation.products]
    whole = [int(count) for count in counts if Fraction(count).denominator == 1]
    lowest = len(whole) == len(counts) and gcd(*whole) == 1
    remarks = [*_sides(equation), *_numbers(equation)]
    if not residual:
        remarks += _terms(counts, lowest, equation)
        remarks += _spectators(equation)
    remarks += _electrons(equation)
    return Check(
        equation, not residual, residual, lowest, tuple(dict.fromkeys(remarks)), equation.assumptions
    )


def _terms(counts: list[int | Fraction], lowest: bool, equation: Equation) -> list[str]:
    if lowest:
        return []
    if all(Fraction(count).denominator == 1 for count in counts):
        divisor = gcd(*(int(count) for count in counts))
        return [f"not in lowest terms: divide by {divisor} to get {equation.reduced()}"]
    return [f"fractional coefficients: in whole numbers {equation.reduced()}"]


def _sides(equation: Equation) -> list[str]:
    right = {species for _, species in equation.products}
    remarks = []
    for side, name in ((equation.reactants, "left"), (equation.products, "right")):
        species = [s for _, s in side]
        for each in dict.fromkeys(species):
            if species.count(each) > 1:
                remarks.append(f"{each} stands twice on the {name}")
    for each in dict.fromkeys(s for _, s in equation.reactants):
        if each in right:
            remarks.append(f"{each} stands on both sides: cancel it")
    return remarks


def _numbers(equation: Equation) -> list[str]:
    found = []
    for _, species in equation.reactants + equation.products:
        said = implausible(species)
        if said is not None:
            found.append(f"implausible oxidation number: {said}")
        lost = lost_charge(species)
        if lost is not None:
            found.append(lost)
    return found


def _spectators(equation: Equation) -> list[str]:
    """A bare spectator ion cancels between a salt on one side and itself on the other."""
    remarks = []
    ionic = any(species.charge and species.elements for _, species in equation.reactants + equation.products)
    if not ionic:
        return []
    sides: list[dict[Species, Fraction]] = []
    molecular: set[Species] = set()
    for side in (equation.reactants, equation.products):
        total: dict[Species, Fraction] = {}
        for count, species in side:
            ions, _ = ions_in_water(species)  # a salt that falls out holds its ions
            if ions is not None:
                molecular.add(species)
            for times, ion in ions or ((1, species),):
                bare = ion.with_phase(type(ion.phase)(""))
                total[bare] = total.get(bare, Fraction(0)) + Fraction(count) * times
        sides.append(total)
    for ion, amount in sides[0].items():
        if ion.charge and sides[1].get(ion) == amount and (molecular or _typed(equation, ion)):
            remarks.append(f"{ion} is a spectator: {amount} on each side")
    return remarks


def _typed(equation: Equation, ion: Species) -> bool:
    return any(species == ion for _, species in equation.reactants + equation.products)


def _electrons(equation: Equation) -> list[str]:
    if any(not species.elements for _, species in equation.reactants + equation.products):
        return ["electrons stand in it: a half-reaction"]
    return []
