"""Heat of dissolving what is charged as a solid, and of diluting what comes as a strong solution.

Verbs: write_dissolving, dissolving_heat.  The net ionic equation starts from ions; a salt from the jar has to
come apart first, and that takes or gives heat of its own.  May import: routes, heat and below.
"""

from __future__ import annotations

from redoxlib import heat, thermo
from redoxlib.bench._book import Book
from redoxlib.bench._liquor import grams_of_water
from redoxlib.data import Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Route, bare, ions

__all__ = ["dissolving_heat", "write_dissolving"]

_WATER = Species.parse("H2O(l)")


def dissolving_heat(compound: Species, tables: Tables) -> tuple[Quantity | Unknown, str]:
    """Enthalpy of dissolving a solid in much water [kJ/mol] and the equation it belongs to.

    Unknown where the tables lack the solid or an ion, or hold no one thermochemical family with all of them:
    a difference between two families is no heat.

    Returns
    -------
    tuple of (Quantity or Unknown, str)

    Examples
    --------
    >>> from redoxlib.data import shipped
    >>> value, equation = dissolving_heat(Species.parse("KMnO4"), shipped())
    >>> print(f"{equation}: {value}")
    KMnO4(s) -> K^+(aq) + MnO4^-(aq): 43.40 ± 0.27 kJ/mol
    """
    solid = bare(compound).with_phase(Phase.SOLID)
    apart = [
        (n, _WATER if bare(s) == bare(_WATER) else s.with_phase(Phase.AQUEOUS)) for n, s in ions(compound)
    ]
    text = f"{solid} -> " + " + ".join(f"{n} {s}" if n != 1 else str(s) for n, s in apart)
    return heat.in_one_family(Equation.parse(text), f"heat of dissolving {solid}", tables), text


def write_dissolving(book: Book, route: Route, tables: Tables) -> None:
    """Heat of bringing feed, oxidant and base into solution; says so where it is not known."""
    seen: set[str] = set()
    for charge in route.charges:
        key = f"heat.dissolving.{charge.role}.kJ"
        if charge.role not in ("feed", "oxidant", "base") or charge.mol <= 0 or key in seen:
            continue
        if charge.gas_litres is not None or _reacts_as_solid(route, charge):
            continue
        seen.add(key)
        reacting = heat.release(route, tables) if charge.role == "oxidant" else None
        if charge.bottle is None or charge.bottle.form == "solid":
            _solid(book, charge, key, reacting or dissolving_heat(charge.compound, tables))
        else:
            _solution(book, route, charge, key, tables)


def _reacts_as_solid(route: Route, charge: Charge) -> bool:
    """Whether the net ionic equation itself takes it as it is charged, so that its heat is in there."""
    return any(
        bare(s) == bare(charge.compound) and s.phase is not Phase.AQUEOUS
        for part in route.parts
        for _, s in part.net_ionic.reactants
    )


def _solid(book: Book, charge: Charge, key: str, heat_and_equation: tuple[Quantity | Unknown, str]) -> None:
    per_mol, text = heat_and_equation
    value: Quantity | Unknown = per_mol
    if isinstance(per_mol, Quantity):
        spread = (per_mol.uncertainty or 0.0) * charge.mol
        value = Quantity(per_mol.value * charge.mol, "kJ", spread, per_mol.sources, per_mol.basis)
    taken = isinstance(per_mol, Quantity) and per_mol.value > 0
    what = f"dissolving {charge.compound}, {'which cools' if taken else 'beside the reaction heat'}"
    if isinstance(per_mol, Unknown):
        what = f"dissolving {charge.compound}: not known, so not in any sum here: try a small portion"
    formula = f"enthalpy of {text} at infinite dilution x mol"
    book.put(key, value, "kJ", what, formula, (f"charge.{charge.role}.mol",))


def _solution(book: Book, route: Route, charge: Charge, key: str, tables: Tables) -> None:
    bottle_water = sum(grams_of_water(c) for c in route.charges if c not in (charge,) and c.role != "water")
    value = heat.acid_dilution(charge, route.water_grams + bottle_water, tables)
    what = f"diluting {charge.label} into the pot"
    formula = "n [Q(r) - Q(r0)], heats of solution or of dilution"
    if isinstance(value, Unknown):
        what += f": not known, so not in any sum here{_at_most(charge, tables)}"
    book.put(key, value, "kJ", what, formula, (f"charge.{charge.role}.mol", "pot.water.g"))


def _at_most(charge: Charge, tables: Tables) -> str:
    """What the neat liquid, or the solid of a base, would give: its solution gives less."""
    compound = bare(charge.compound)
    try:
        neat = compound.with_phase(Phase.LIQUID)
        most = thermo.enthalpy(f"{neat} -> {compound}(aq)", tables=tables).value
        form = "neat liquid"
    except RedoxlibError:
        solid, _ = dissolving_heat(compound, tables)
        if charge.role != "base" or isinstance(solid, Unknown) or solid.value >= 0:
            return ""
        most, form = solid.value, "solid"
    return f"; less than {abs(most) * charge.mol:.2g} kJ, which the {form} would give"
