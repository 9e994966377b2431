"""How sure each number of a plan is: every input is moved by its uncertainty and the plan written anew.

Verbs: with_spread.  What the plan rests on - strengths and densities of the bottles, a tolerance of the
declared amount, reaction enthalpies, rows of liquids.csv and rates.csv, and the numbers of the plan that are
estimates themselves - is moved one at a time by one standard uncertainty; the shifts of each number are added
as squares (linear propagation).  A number that nothing moves follows from what was declared, and says so.
Atomic weights are good to one part in ten thousand and are not moved.

May import: routes and below; the rest of this package.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import hypot
from typing import Any, cast

from redoxlib.bench._book import Book, Entry
from redoxlib.bench._liquor import extent_of
from redoxlib.bench._rates import rate_rows
from redoxlib.bench._vapour import CURVE, WATER, curve_spread
from redoxlib.data import LiquidRow, Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.routes import Charge, Route, bare

__all__ = ["AS_DECLARED", "with_spread"]

AS_DECLARED = "as declared"
"""Basis of a number that follows from what was declared, a definition or a rule, by arithmetic alone."""

_OWN = (
    "pot.heat_capacity",
    "heat.acid_dilution.kJ",
    "heat.dissolving.feed.kJ",
    "heat.dissolving.oxidant.kJ",
    "heat.dissolving.base.kJ",
    "heat.decomposition.kJ",
    "heat.boiling.C",
    "quench.heat.kJ",
    "quench.heat.halogen.kJ",
    "quench.heat.neutralisation.kJ",
    "standby.heat.kJ",
    "dry.water.layer.g",
    "ph.acid.mol",
)
"""Entries whose uncertainty is their own: no row behind them is moved, and later entries build on them."""

_USED = frozenset(
    {
        "boiling_point",
        "vapour_pressure",
        "heat_of_vaporisation",
        "heat_of_vaporisation_at_boiling",
        "solubility_in_water",
        "water_in_product",
        "melting_point",
        "expansion",
        "cp",
    }
)
_RANK = (AS_DECLARED, "definition", "published", "spread", "last-digit", "estimate")
_TELLING = 0.1
"""Share of the variance from which an input's basis and sources are named."""


@dataclass(frozen=True, slots=True)
class _Input:
    """One thing that may be off by its uncertainty, and the plan's ground with it moved."""

    name: str
    basis: str
    sources: tuple[str, ...]
    route: Route
    tables: Tables
    shifts: Mapping[str, float] = field(default_factory=dict)


class _Moved:
    """Tables with one of them replaced; everything else is read from the tables behind."""

    def __init__(self, behind: Tables, **replaced: Any) -> None:
        self._behind = behind
        self.__dict__.update(replaced)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._behind, name)


def with_spread(
    entries: Mapping[str, Entry],
    route: Route,
    tables: Tables,
    write: Callable[[Route, Tables, Mapping[str, float]], Book],
) -> dict[str, Entry]:
    """Give every number of a plan its uncertainty.

    Parameters
    ----------
    entries : mapping
        As written at the best values.
    write : callable
        Writes the same plan for a moved route, moved tables and moved entries.

    Returns
    -------
    dict of Entry
        The uncertainty is the larger of the propagated one and the one an entry came with; ``basis`` is the
        weakest of the inputs that make up a tenth of the variance or more, and their sources are added.
    """
    parts: dict[str, list[tuple[float, _Input]]] = {}
    for each in _inputs(entries, route, tables):
        try:
            moved = write(each.route, each.tables, each.shifts).entries
        except RedoxlibError:
            continue  # the moved plan does not exist (at an edge of a table): nothing to compare with
        for key, entry in entries.items():
            shift = _difference(entry, moved.get(key))
            if shift:
                parts.setdefault(key, []).append((shift, each))
    return {key: _spread(entry, parts.get(key, [])) for key, entry in entries.items()}


def _difference(entry: Entry, moved: Entry | None) -> float:
    if moved is None or not isinstance(entry.value, Quantity) or not isinstance(moved.value, Quantity):
        return 0.0
    gap = abs(moved.value.value - entry.value.value)
    return gap if gap > 1e-9 * abs(entry.value.value) else 0.0


def _spread(entry: Entry, parts: list[tuple[float, _Input]]) -> Entry:
    value = entry.value
    if not isinstance(value, Quantity):
        return entry
    total = hypot(*(shift for shift, _ in parts)) if parts else 0.0
    own = value.uncertainty or 0.0
    if not parts:
        if own or value.basis:
            return entry
        return replace(entry, value=replace(value, uncertainty=0.0, basis=AS_DECLARED))
    shares = [((shift / total) ** 2, each) for shift, each in parts]
    shares.sort(key=lambda pair: -pair[0])
    telling = [each for share, each in shares if share >= _TELLING]
    basis = max((each.basis for each in telling), key=_RANK.index)
    sources = dict.fromkeys((*entry.sources, *(s for each in telling for s in each.sources)))
    if own > total and value.basis:
        basis = value.basis
    return replace(
        entry,
        value=Quantity(value.value, value.unit, max(own, total), tuple(sources), basis),
        sources=tuple(sources),
        spread=tuple((each.name, share) for share, each in shares if share >= 0.01),
    )


def _inputs(entries: Mapping[str, Entry], route: Route, tables: Tables) -> Iterator[_Input]:
    yield from _bottles(route, tables)
    yield from _energies(route, tables)
    yield from _liquids(route, tables)
    yield from _rates(route, tables)
    for key in _OWN:
        entry = entries.get(key)
        if entry is not None and isinstance(entry.value, Quantity) and entry.value.uncertainty:
            value = entry.value
            basis = value.basis or "estimate"
            yield _Input(entry.what, basis, value.sources, route, tables, {key: value.uncertainty or 0.0})


def _bottles(route: Route, tables: Tables) -> Iterator[_Input]:
    """Strength and density of each bottle, and a tolerance of the declared amount."""
    for number, charge in enumerate(route.charges):
        bottle = charge.bottle
        if bottle is None:
            continue
        strength = bottle.mass_fraction
        if isinstance(strength, Quantity) and strength.uncertainty and strength.value:
            by = strength.uncertainty / strength.value
            name = f"strength of {charge.label}"
            yield _Input(name, _basis(strength), strength.sources, _charged(route, number, by), tables)
        density = bottle.density
        if isinstance(density, Quantity) and density.uncertainty and isinstance(charge.ml, float):
            ml = charge.ml * (1 - density.uncertainty / density.value)
            moved = _with_charge(route, number, replace(charge, ml=ml))
            yield _Input(f"density of {charge.label}", _basis(density), density.sources, moved, tables)
    amount = route.job.amount
    if isinstance(amount, Quantity) and amount.uncertainty and amount.value:
        by = amount.uncertainty / amount.value
        for number, charge in enumerate(route.charges):
            if charge.role == "feed":
                yield _Input("declared amount", AS_DECLARED, (), _charged(route, number, by), tables)
                return


def _basis(value: Quantity) -> str:
    return value.basis if value.basis in _RANK else "estimate"


def _with_charge(route: Route, number: int, charge: Charge) -> Route:
    charges = (*route.charges[:number], charge, *route.charges[number + 1 :])
    return replace(route, charges=charges)


def _charged(route: Route, number: int, by: float) -> Route:
    """The route with one line of its charge sheet off by a fraction, and what follows from that."""
    line = route.charges[number]
    factor = 1 + by
    moved = replace(
        line,
        mol=line.mol * factor,
        grams=line.grams * factor,
        ml=line.ml * factor if isinstance(line.ml, float) else line.ml,
        pure_grams=line.pure_grams * factor,
        gas_litres=None if line.gas_litres is None else line.gas_litres * factor,
    )
    charges = list(route.charges)
    charges[number] = moved
    parts = list(route.parts)
    if line.role == "feed":
        moved = replace(moved, needed_mol=line.needed_mol * factor)
        charges[number] = moved
        which = [p for p in range(len(parts)) if bare(parts[p].feed_compound) == bare(line.compound)]
        for p in which:
            parts[p] = replace(parts[p], feed_mol=parts[p].feed_mol * factor)
        if len(which) == len(parts):  # one feed: more of it asks for more of everything else
            charges = [
                c if c.role == "feed" else replace(c, needed_mol=c.needed_mol * factor) for c in charges
            ]
    pot = route.pot_grams
    declared = route.job.pot_mass is not None and route.job.purpose != "remove"
    if line.gas_litres is None and not declared:
        pot += moved.grams - line.grams
    changed = replace(route, charges=tuple(charges), parts=tuple(parts), pot_grams=pot)
    grown = extent_of(changed) / extent_of(route)
    for p, (old, new) in enumerate(zip(route.parts, changed.parts, strict=True)):
        parts[p] = replace(new, product=_more(new.product, grown * new.feed_mol / old.feed_mol))
    gases = grown * changed.parts[0].feed_mol / route.parts[0].feed_mol
    return replace(
        changed,
        parts=tuple(parts),
        gases=tuple(replace(g, mol=g.mol * gases, litres=g.litres * gases) for g in route.gases),
    )


def _more(product: Any, factor: float) -> Any:
    ml = product.ml * factor if isinstance(product.ml, float) else product.ml
    return replace(product, mol=product.mol * factor, grams=product.grams * factor, ml=ml)


def _energies(route: Route, tables: Tables) -> Iterator[_Input]:
    for number, part in enumerate(route.parts):
        if isinstance(part.dH, Quantity) and part.dH.uncertainty:
            up = replace(part.dH, value=part.dH.value + part.dH.uncertainty)
            parts = (*route.parts[:number], replace(part, dH=up), *route.parts[number + 1 :])
            name = f"enthalpy of {part.conversion}"
            yield _Input(name, _basis(part.dH), part.dH.sources, replace(route, parts=parts), tables)


def _liquids(route: Route, tables: Tables) -> Iterator[_Input]:
    """Rows of liquids.csv for the products and water; a fitted curve moves as a whole."""
    wanted = {bare(part.product.species) for part in route.parts}
    wanted |= {bare(s) for part in route.parts for s in (part.product.compound, *part.product.compounds)}
    seen: set[tuple[Species, str]] = set()
    for at, row in enumerate(tables.liquids):
        species = bare(Species.parse(row.species))
        named = (species, row.property)
        points = row.property == "solubility_mass_fraction"
        if species not in wanted or not row.uncertainty or (named in seen and not points):
            continue
        seen.add(named)
        if row.property == "density":
            yield _density(route, tables, at, row)
        elif points or row.property in _USED:
            rows = _replaced(tables.liquids, at, row, row.uncertainty)
            yield _Input(_named(row), row.basis, row.sources, route, _moved(tables, rows))
    for species in (*sorted(wanted, key=str), bare(WATER)):
        spread = curve_spread(species, tables)
        if spread is not None:
            factor = LiquidRow(
                str(species), CURVE, 1 + spread.value, "1", 0.0, spread.basis, None, ";".join(spread.sources)
            )
            name = f"vapour pressure curve of {species}"
            rows = (factor, *tables.liquids)
            yield _Input(name, spread.basis, spread.sources, route, _moved(tables, rows))


def _named(row: LiquidRow) -> str:
    at = "" if row.temperature_C is None else f" at {row.temperature_C:g} C"
    return f"{row.property.replace('_', ' ')} of {row.species}{at}"


def _replaced(rows: tuple[LiquidRow, ...], at: int, row: LiquidRow, by: float) -> tuple[LiquidRow, ...]:
    return (*rows[:at], replace(row, value=row.value + by), *rows[at + 1 :])


def _moved(tables: Tables, liquids: tuple[LiquidRow, ...]) -> Tables:
    return cast("Tables", _Moved(tables, liquids=liquids))


def _density(route: Route, tables: Tables, at: int, row: LiquidRow) -> _Input:
    by = row.uncertainty or 0.0
    species = bare(Species.parse(row.species))
    parts = []
    for part in route.parts:
        product = part.product
        if bare(product.species) == species and isinstance(product.ml, float):
            part = replace(part, product=replace(product, ml=product.ml * (1 - by / row.value)))
        parts.append(part)
    rows = _replaced(tables.liquids, at, row, by)
    return _Input(
        _named(row), row.basis, row.sources, replace(route, parts=tuple(parts)), _moved(tables, rows)
    )


def _rates(route: Route, tables: Tables) -> Iterator[_Input]:
    rows = tables.rates
    for row in rate_rows(route, tables):
        if row.uncertainty:
            up = replace(row, value=row.value + row.uncertainty)
            moved = cast("Tables", _Moved(tables, rates=tuple(up if r is row else r for r in rows)))
            name = f"rate of {row.oxidant_species} with {row.reductant_species} ({row.rate_law})"
            yield _Input(name, row.basis, row.sources, route, moved)
