"""From a net ionic equation to the full one: every ion gets the bottle it came from and a partner.

The convention, stated once: the acid gives up all its protons, hydrogensulfate is written as sulfate,
and ions left over are paired into salts with the acid's own anion taken first.  That is how textbooks
write such equations; which proton is really spent matters for heat and is shown with the charge.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd

from redoxlib.errors import DomainError
from redoxlib.notation import Assumption, Equation, Phase, Species
from redoxlib.stoichiometry import ions_of

__all__ = ["FullEquation", "Supply", "bare", "full_equation", "ions", "salt"]

WATER = Species.parse("H2O")
PROTON = Species.parse("H^+")
HYDROXIDE = Species.parse("OH^-")
SULFATE = Species.parse("SO4^2-")
HYDROGENSULFATE = Species.parse("HSO4^-")

Pool = dict[Species, Fraction]


@dataclass(frozen=True, slots=True)
class Supply:
    """How one species of the net ionic equation comes into the pot.

    ``needs`` and ``gives`` are what one unit of the compound takes from and adds to the pot,
    ``gives`` including the species itself.
    """

    species: Species
    compound: Species
    needs: tuple[tuple[Fraction, Species], ...]
    gives: tuple[tuple[Fraction, Species], ...]

    @classmethod
    def dissolving(cls, species: Species, compound: Species) -> Supply:
        """A salt, acid or base that simply comes apart into its ions (or stays a molecule)."""
        parts = ions(compound)
        return cls(species, compound, (), tuple((Fraction(n), s) for n, s in parts))

    @classmethod
    def reacting(cls, species: Species, equation: Equation, compound: Species) -> Supply:
        """A compound that gives the species by a stated balanced equation."""
        needs, count = [], Fraction(1)
        for n, s in equation.reactants:
            if bare(s) == bare(compound):
                count = Fraction(n)
            else:
                needs.append((Fraction(n), bare(s)))
        gives = [(Fraction(n), bare(s)) for n, s in equation.products]
        return cls(
            bare(species),
            compound,
            tuple((n / count, s) for n, s in needs),
            tuple((n / count, s) for n, s in gives),
        )


@dataclass(frozen=True, slots=True)
class FullEquation:
    """A full equation and the compound that carries each ion of interest.

    ``per_net`` is how many times the net ionic equation it holds; ``carrier`` maps an ion that was paired
    to ``(compound, ions of it per compound)``.
    """

    equation: Equation
    per_net: Fraction
    carrier: Mapping[Species, tuple[Species, Fraction]]

    def holding(self, species: Species) -> tuple[tuple[Fraction, Species], ...]:
        """Products of the equation that hold a species: itself, or every salt it was paired into."""
        found = []
        # An acid such as H2CrO4 is no salt that splits into the ion, yet it is what carries it.
        carrier = self.carrier.get(bare(species), (species, Fraction(1)))[0]
        for n, s in self.equation.products:
            if bare(s) in (bare(species), bare(carrier)) or (
                species.charge and any(ion == bare(species) for _, ion in ions(s))
            ):
                found.append((Fraction(n), bare(s)))
        return tuple(found)


def bare(species: Species) -> Species:
    """The species without its phase: pools count matter, not where it is."""
    if species.phase is Phase.UNSTATED:
        return species
    return _bare(species, species.formula, species.assumptions)


@lru_cache(maxsize=4096)
def _bare(species: Species, _formula: str, _assumptions: tuple[Assumption, ...]) -> Species:
    # Species spelled in two ways are equal: the spelling is part of the key, or one would print as the other.
    return species.with_phase(Phase.UNSTATED)


def ions(compound: Species) -> tuple[tuple[int | Fraction, Species], ...]:
    """Ions of an electrolyte, or the molecule itself; hydrate water counts as water."""
    parts = ions_of(compound)
    return tuple((n, bare(s)) for n, s in parts) if parts else ((1, bare(compound)),)


def _add(pool: Pool, species: Species, count: Fraction) -> None:
    if species == HYDROGENSULFATE:  # by the convention above
        _add(pool, PROTON, count)
        species = SULFATE
    pool[species] = pool.get(species, Fraction(0)) + count
    if not pool[species]:
        del pool[species]


def full_equation(
    net: Equation,
    supplies: Sequence[Supply],
    *,
    acid: Species,
    base: Species,
    basic: bool,
    feed: Species | None = None,
    target: Species | None = None,
) -> FullEquation:
    """Write the full equation of a net ionic one.

    Parameters
    ----------
    net : Equation
        Balanced; phases are ignored.
    supplies : sequence of Supply
        For feed and oxidant; anything else that is short comes from acid, base or water.
    acid, base : Species
        The compounds that bring H+ and OH-.
    basic : bool
        Whether H+ that is short is better written as OH- left over.
    feed : Species, optional
        The compound fed; its own cations are paired first, so that the product stays one salt.
    target : Species, optional
        The species made; where it is an anion it goes to the feed's own cations.

    Raises
    ------
    DomainError
        When an ion is short that no supply brings.
    """
    pool: Pool = {}
    reactants: Pool = {}
    for n, s in net.reactants:
        _add(pool, bare(s), -Fraction(n))
    for n, s in net.products:
        _add(pool, bare(s), Fraction(n))
    for supply in supplies:
        short = -pool.get(supply.species, Fraction(0))
        if short <= 0:
            continue
        per = sum((n for n, s in supply.gives if s == supply.species), Fraction(0))
        if not per:
            raise DomainError(f"{supply.compound} does not give {supply.species}")
        units = short / per
        reactants[bare(supply.compound)] = reactants.get(bare(supply.compound), Fraction(0)) + units
        for n, s in supply.needs:
            _add(pool, s, -n * units)
        for n, s in supply.gives:
            _add(pool, s, n * units)
    _neutralise(pool, reactants, acid, base, basic)
    for s in [s for s, n in pool.items() if n < 0]:
        if s.charge:
            raise DomainError(f"no bottle brings {s}", hint="name a feed that contains it")
        reactants[s] = reactants.get(s, Fraction(0)) - pool.pop(s)
    products = {s: n for s, n in pool.items() if not s.charge}
    own = frozenset(s for _, s in ions(feed)) if feed is not None else frozenset()
    salts, carrier = _pair({s: n for s, n in pool.items() if s.charge}, _anions_of(acid), own, target)
    for s, n in salts.items():
        products[s] = products.get(s, Fraction(0)) + n
    # A compound that was charged and comes out unchanged cancels (H2SO4 liberated from H2SO4).
    for s in set(products) & set(reactants):
        both = min(products[s], reactants[s])
        for side in (products, reactants):
            side[s] -= both
            if not side[s]:
                del side[s]
    factor = _whole([*reactants.values(), *products.values()])
    equation = Equation.of(
        [(_int(n * factor), s) for s, n in reactants.items()],
        [(_int(n * factor), s) for s, n in products.items()],
    )
    residual = {k: v for k, v in equation.residual().items() if v}
    if residual:  # a wrong supply row would show here; better loud than a wrong charge sheet
        raise DomainError(f"the full equation {equation} does not balance: {residual}")
    return FullEquation(equation, factor, carrier)


def _neutralise(pool: Pool, reactants: Pool, acid: Species, base: Species, basic: bool) -> None:
    proton, hydroxide = pool.get(PROTON, Fraction(0)), pool.get(HYDROXIDE, Fraction(0))
    if proton and hydroxide and (proton > 0) == (hydroxide > 0) and proton > 0:
        both = min(proton, hydroxide)
        _add(pool, PROTON, -both)
        _add(pool, HYDROXIDE, -both)
        _add(pool, WATER, both)
    short = -pool.get(PROTON, Fraction(0))
    if short > 0:
        if basic or pool.get(HYDROXIDE, Fraction(0)) < 0:
            # water gives the proton and keeps the hydroxide
            _add(pool, PROTON, short)
            _add(pool, HYDROXIDE, short)
            _add(pool, WATER, -short)
        else:
            _charge(pool, reactants, PROTON, short, acid)
    short = -pool.get(HYDROXIDE, Fraction(0))
    if short > 0:
        free = pool.get(PROTON, Fraction(0))
        if free < 0:
            raise DomainError("both H+ and OH- are short")
        _charge(pool, reactants, HYDROXIDE, short, base)
    left, over = pool.get(PROTON, Fraction(0)), pool.get(HYDROXIDE, Fraction(0))
    if left > 0 and over > 0:
        both = min(left, over)
        _add(pool, PROTON, -both)
        _add(pool, HYDROXIDE, -both)
        _add(pool, WATER, both)
    if basic and pool.get(PROTON, Fraction(0)) > 0:
        _charge(pool, reactants, HYDROXIDE, pool[PROTON], base)
        both = pool[PROTON]
        _add(pool, PROTON, -both)
        _add(pool, HYDROXIDE, -both)
        _add(pool, WATER, both)


def _charge(pool: Pool, reactants: Pool, ion: Species, short: Fraction, compound: Species) -> None:
    parts: Pool = {}
    for n, s in ions(compound):
        _add(parts, s, Fraction(n))
    per = parts.get(ion, Fraction(0))
    if not per:  # a weak acid still gives its proton; write its conjugate base
        conjugate = _conjugate(compound, ion)
        parts = {ion: Fraction(1), conjugate: Fraction(1)}
        per = Fraction(1)
    units = short / per
    reactants[bare(compound)] = reactants.get(bare(compound), Fraction(0)) + units
    for s, n in parts.items():
        _add(pool, s, n * units)


def _conjugate(compound: Species, ion: Species) -> Species:
    sign = 1 if ion == PROTON else -1
    if compound == Species.parse("CH3COOH"):
        return Species.parse("CH3COO^-")
    elements = dict(compound.elements)
    for element, count in ion.elements.items():
        elements[element] = elements.get(element, 0) - count
        if elements[element] < 0:
            raise DomainError(f"{compound} cannot give {ion}")
        if not elements[element]:
            del elements[element]
    return Species.of(elements, charge=compound.charge - sign)


def _anions_of(acid: Species) -> tuple[Species, ...]:
    pool: Pool = {}
    for n, s in ions(acid):
        _add(pool, s, Fraction(n))
    return tuple(s for s in pool if s.charge < 0)


def _pair(
    loose: Mapping[Species, Fraction],
    preferred: Iterable[Species],
    own: frozenset[Species],
    target: Species | None = None,
) -> tuple[Pool, dict[Species, tuple[Species, Fraction]]]:
    """Pair ions into salts: highly charged cations first, the acid's anion first.

    The feed's own cations go to the species made, where that is an anion.
    """
    first = tuple(preferred)
    # H+ pairs last: what is left of the anions after the metals is the acid that is set free.
    cations = sorted(
        ((s, n) for s, n in loose.items() if s.charge > 0),
        key=lambda x: (x[0] == PROTON, -x[0].charge, x[0] not in own, str(x[0])),
    )
    anions = sorted(
        ((s, n) for s, n in loose.items() if s.charge < 0),
        key=lambda x: (x[0] not in first, x[0] == HYDROXIDE, x[0].charge, str(x[0])),
    )
    anions_left = dict(anions)
    fed_as_salt = any(s.charge > 0 for s in own)
    salts: Pool = {}
    carrier: dict[Species, tuple[Species, Fraction]] = {}
    for cation, amount in cations:
        left = amount
        # The anion made goes to the feed's own cations first, and to others last where there are such.
        for anion in (
            sorted(anions_left, key=lambda a: a == target, reverse=cation in own)
            if fed_as_salt
            else [*anions_left]
        ):
            if not left:
                break
            a, c = _units(cation, anion)
            units = min(left / c, anions_left[anion] / a)
            if not units:
                continue
            compound = salt(cation, anion)
            salts[compound] = salts.get(compound, Fraction(0)) + units
            carrier.setdefault(cation, (compound, Fraction(c)))
            carrier.setdefault(anion, (compound, Fraction(a)))
            left -= units * c
            anions_left[anion] -= units * a
            if not anions_left[anion]:
                del anions_left[anion]
        if left:
            raise DomainError(f"no anion is left to write beside {cation}")
    if anions_left:
        raise DomainError(f"no cation is left to write beside {next(iter(anions_left))}")
    return salts, carrier


def _units(cation: Species, anion: Species) -> tuple[int, int]:
    """Anions and cations per neutral formula unit."""
    common = gcd(cation.charge, -anion.charge)
    return cation.charge // common, -anion.charge // common


def salt(cation: Species, anion: Species) -> Species:
    """The neutral compound of two ions, written cation first (an organic acid the usual way)."""
    a, c = _units(cation, anion)
    if cation == PROTON:
        if anion == HYDROXIDE:
            return WATER
        if anion.isomer is not None or "C" in anion.elements or "H" in anion.elements:
            acid = Species.of({**anion.elements, "H": anion.elements.get("H", 0) + c}, charge=0)
            return Species.parse("CH3COOH") if acid == Species.parse("C2H4O2") else acid
    if "COO" in str(anion) and a == 1:  # a carboxylate is written with its metal last
        return Species.parse(_group(anion, a) + _group(cation, c))
    return Species.parse(_group(cation, c) + _group(anion, a))


def _group(ion: Species, count: int) -> str:
    text = str(bare(ion)).split("^")[0].rstrip("+-")
    if count == 1:
        return text
    single = len(ion.elements) == 1 and sum(ion.elements.values()) == 1
    return f"{text}{count}" if single else f"({text}){count}"


def _whole(values: Iterable[Fraction]) -> Fraction:
    """The factor that turns the coefficients into the smallest whole numbers."""
    values = list(values)
    denominator = 1
    for v in values:
        denominator = denominator * v.denominator // gcd(denominator, v.denominator)
    common = 0
    for v in values:
        common = gcd(common, int(v * denominator))
    return Fraction(denominator, common or 1)


def _int(value: Fraction) -> int:
    return int(value)
