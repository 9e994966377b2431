"""What is in the liquor: the active oxidant and its electrons, acid by first and second proton, halogen.

May import: routes and below.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from redoxlib import thermo
from redoxlib.bench._vapour import liquid_fact
from redoxlib.data import Tables
from redoxlib.errors import MissingDataError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Route, bare, ions

__all__ = [
    "CHROMIUM_VI",
    "HALOGENS",
    "HYDROXIDE",
    "PROTON",
    "SLOW_IN_BASE",
    "Acid",
    "Oxidant",
    "acid_left",
    "acid_oxidant",
    "dissolved_product",
    "extent_of",
    "grams_of_water",
    "has_second_proton",
    "oxidant_of",
    "oxyanions",
    "protons",
    "quench_half",
    "quench_oxidant",
    "reaction_heat",
]

PROTON, HYDROXIDE = Species.parse("H^+"), Species.parse("OH^-")
HALOGENS = frozenset(Species.parse(t) for t in ("Br2", "I2", "Cl2"))
CHROMIUM_VI = frozenset(Species.parse(t) for t in ("Cr2O7^2-", "CrO4^2-", "HCrO4^-"))
SLOW_IN_BASE = frozenset(Species.parse(t) for t in ("BrO3^-", "IO3^-", "ClO3^-"))
_BENIGN = frozenset({PROTON, HYDROXIDE, Species.parse("H2O"), Species.parse("SO4^2-")})


@dataclass(frozen=True, slots=True)
class Oxidant:
    """The oxidant of a route, counted in electrons.

    Attributes
    ----------
    active : Species
        What takes the electrons.
    per_compound : float
        mol of it that one mol of the bottle's compound gives.
    electrons, protons : float
        Taken up per mol of active species.
    """

    active: Species
    per_compound: float
    electrons: float
    protons: float


def oxidant_of(route: Route) -> Oxidant:
    """Count the electrons and protons that the oxidant of a route takes."""
    reduction = route.half_reactions[1]
    count, active = next(
        ((float(n), s) for n, s in reduction.reactants if s.elements and bare(s) not in _BENIGN),
        (float(reduction.reactants[0][0]), reduction.reactants[0][1]),
    )
    return Oxidant(
        active,
        _per_compound(route, active),
        abs(thermo.electrons_of(reduction)) / count,
        thermo.proton_count(reduction) / count,
    )


_TO_THE_END = {
    bare(Species.parse(text.split("(")[0])): Equation.parse(f"{text} -> {rest}")
    for text, rest in (
        ("BrO3^-(aq) + 6 H^+(aq) + 6 e^-", "Br^-(aq) + 3 H2O(l)"),
        ("IO3^-(aq) + 6 H^+(aq) + 6 e^-", "I^-(aq) + 3 H2O(l)"),
        ("ClO3^-(aq) + 6 H^+(aq) + 6 e^-", "Cl^-(aq) + 3 H2O(l)"),
        ("ClO2^-(aq) + 4 H^+(aq) + 4 e^-", "Cl^-(aq) + 2 H2O(l)"),
        ("ClO2(aq) + 4 H^+(aq) + 5 e^-", "Cl^-(aq) + 2 H2O(l)"),
    )
}
"""What sulfite does to oxidants that the wanted reaction takes only part of the way."""


def quench_half(route: Route, species: Species | None = None) -> Equation | None:
    """Half-reaction by which an oxidant is destroyed for good; of the route's own where none is named.

    None for a species that needs no destroying.
    """
    if species is not None:
        return _TO_THE_END.get(bare(species))
    reduction = route.half_reactions[1]
    return _TO_THE_END.get(bare(oxidant_of(route).active), reduction)


def quench_oxidant(route: Route) -> Oxidant:
    """The oxidant of a route, counted as the quench takes it: iodate to iodide, not to iodine."""
    found, half = oxidant_of(route), quench_half(route)
    if half is None or half is route.half_reactions[1]:
        return found
    return replace(
        found, electrons=float(abs(thermo.electrons_of(half))), protons=float(thermo.proton_count(half))
    )


def oxyanions(route: Route) -> tuple[tuple[Species, float], ...]:
    """Oxidising ions that the reaction itself leaves, chlorite from chlorine dioxide say, with their mol."""
    target = bare(route.product.species)
    found = []
    for part in route.parts:
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == feed) or 1.0
        for n, s in part.net_ionic.products:
            if bare(s) in _TO_THE_END and bare(s) != target:
                found.append((bare(s), part.feed_mol * extent_of(route) * float(n) / fed))
    return tuple(found)


def _per_compound(route: Route, active: Species) -> float:
    charge = route.charge("oxidant")
    if charge is None or not charge.needed_mol:
        return 1.0
    used = sum(
        part.feed_mol * _ratio(part.net_ionic, bare(active), bare(part.conversion.feed))
        for part in route.parts
    )
    return used / charge.needed_mol if used else 1.0


def _ratio(net: Equation, top: Species, bottom: Species) -> float:
    def count(species: Species) -> Fraction:
        return sum((Fraction(n) for n, s in net.reactants if bare(s) == species), Fraction(0))

    below = count(bottom)
    return float(count(top) / below) if below else 0.0


@dataclass(frozen=True, slots=True)
class Acid:
    """Acid in a liquor by kind, mol H+.

    ``first`` is free (or the first proton of sulfuric acid), ``second`` sits in hydrogensulfate.
    """

    first: float
    second: float

    @property
    def total(self) -> float:
        """All of it [mol]."""
        return self.first + self.second


def extent_of(route: Route) -> float:
    """Share of the feed that can react, over all reagents: 1 unless one of them is short."""
    return min([1.0, *(c.mol / c.needed_mol for c in route.charges if c.needed_mol)])


def has_second_proton(acid: Species) -> bool:
    """Whether the acid is sulfuric acid, whose second proton stays bound as hydrogensulfate."""
    return any("S" in s.elements and "O" in s.elements for _, s in ions(acid)) and "H" in acid.elements


def protons(acid: Species) -> tuple[float, float]:
    """First and second protons one formula of an acid gives to a base, mol.

    Sulfuric acid gives (1, 1); hydrochloric, nitric and acetic acid (1, 0).
    """
    if has_second_proton(acid):
        return (1.0, 1.0) if acid.elements.get("H", 0) == 2 else (0.0, 1.0)
    found = float(sum(n for n, s in ions(acid) if s == PROTON))
    return (found or 1.0, 0.0)


def acid_oxidant(route: Route) -> Charge | None:
    """The charge of an oxidant that is a strong acid too, nitric acid say; None where it is none."""
    charge = route.charge("oxidant")
    if charge is None or charge.gas_litres is not None:
        return None
    return charge if any(bare(s) == PROTON for _, s in ions(charge.compound)) else None


def acid_left(route: Route, *, all_of_it: bool = False) -> Acid:
    """Acid in the spent liquor: charged plus liberated minus used; or all of it as charged.

    An oxidant that is an acid, nitric acid say, counts as acid with what is left of it.  The equation
    takes first protons first, so what is left of sulfuric acid is hydrogensulfate before anything else.
    """
    first = second = 0.0
    for charge in (route.charge("acid"), acid_oxidant(route)):
        if charge is None:
            continue
        one, two = protons(charge.compound)
        left = charge.mol if all_of_it else max(0.0, charge.mol - charge.needed_mol * extent_of(route))
        whole = (one + two) * left
        bound = min(whole, two * charge.mol)
        second += bound
        first += whole - bound
    for part in route.parts if not all_of_it else ():
        made = sum(float(n) for n, s in part.net_ionic.products if bare(s) == PROTON)
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == feed) or 1.0
        first += part.feed_mol * extent_of(route) * made / fed
    return Acid(first, second)


def dissolved_product(route: Route, tables: Tables) -> tuple[float | Unknown | None, str]:
    """Return mol of product the liquor holds at 20 to 25 C and how that follows; None where it all dissolves.

    The solubility is that in water; salts and bromide in the liquor shift it.
    """
    target = bare(route.product.species)
    if str(route.product.species.phase) not in ("l", "s") and target not in HALOGENS:
        return None, ""
    row = liquid_fact(target, "solubility_in_water", tables)
    if row is None:
        return Unknown(f"solubility of {target}", ("liquids.csv",)), "solubility x volume"
    own = sum(grams_of_water(c) for c in route.charges if c.role != "water")
    litres = (route.water_grams + own) / 1000
    per_litre = row.value if row.unit == "mol/L" else row.value * 10 / target.molar_mass
    note = f"solubility {row.value:g} {row.unit} in water x water of the pot, at most the yield"
    return min(per_litre * litres, route.product.mol), note


def reaction_heat(equation: str, tables: Tables) -> Quantity | Unknown:
    """Enthalpy of an equation as written, kJ; Unknown where the tables lack a species."""
    try:
        found = thermo.enthalpy(Equation.parse(equation), tables=tables)
    except MissingDataError as error:
        return Unknown(error.what or error.message, tuple(error.looked_in))
    return Quantity(found.value, "kJ/mol", found.uncertainty, tuple(found.sources), found.basis)


def grams_of_water(charge: Charge) -> float:
    """Water a bottle brings along [g]."""
    return charge.grams - charge.pure_grams if charge.gas_litres is None else 0.0
