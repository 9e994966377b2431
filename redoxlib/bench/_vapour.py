"""Vapour pressure of a liquid, and where two liquids that do not mix boil together.

Verbs: liquid_fact, vapour_pressure, co_distillation.  Two immiscible liquids boil where their vapour
pressures add up to the pressure above them, and go over in the ratio of those pressures.

May import: data, notation, quantity, errors.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache
from math import exp, hypot, log
from typing import NamedTuple

from redoxlib.data import LiquidRow, Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, RedoxlibError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown

__all__ = [
    "ATMOSPHERE",
    "CURVE",
    "WATER",
    "CoDistillation",
    "co_distillation",
    "curve_spread",
    "liquid_fact",
    "melting_point",
    "vapour_pressure",
]

ATMOSPHERE = 101.325  # kPa, definition
CURVE = "vapour_pressure_factor"
"""Property by which a row corrects a whole vapour pressure curve, as a factor."""
WATER = Species.parse("H2O(l)")
_ZERO_C = 273.15
_HEAT_CHANGES = 0.1
"""Share by which the heat of vaporisation between here and the boiling point may be off, an estimate."""
_APART_K = 15.0
"""Two points nearer than this give no slope: the heat of vaporisation gives a better one, K."""
_CURVED = 0.03
"""Relative error of a straight line of ln p against 1/T through two points, an estimate."""


@dataclass(frozen=True, slots=True)
class CoDistillation:
    """Two liquid phases boiling together.

    Attributes
    ----------
    celsius : float
        Where the vapour pressures add up to the pressure above [C].
    product_kpa, water_kpa : float
        Their shares of it [kPa].
    water_percent : float
        Mass of water in 100 g of distillate [%].
    heat_kj_per_g : float or Unknown
        To vaporise what carries one gram of product [kJ/g].
    sources : tuple of str
    """

    celsius: float
    product_kpa: float
    water_kpa: float
    water_percent: float
    heat_kj_per_g: float | Unknown
    sources: tuple[str, ...]


def liquid_fact(species: Species, name: str, tables: Tables | None = None) -> LiquidRow | None:
    """Return the row of one property of a substance, whatever phase it is tabulated in; None without one."""
    return _index(tables or shipped()).get((species.with_phase(Phase.UNSTATED), name))


@lru_cache(maxsize=8)
def _index(tables: Tables) -> dict[tuple[Species, str], LiquidRow]:
    """The first row of each property, so that one's own rows come before the shipped ones."""
    found: dict[tuple[Species, str], LiquidRow] = {}
    for row in tables.liquids:
        found.setdefault((_bare(row.species), row.property), row)
    return found


@cache
def _bare(text: str) -> Species:
    return Species.parse(text).with_phase(Phase.UNSTATED)


def vapour_pressure(species: Species, celsius: float, tables: Tables | None = None) -> Quantity:
    """Vapour pressure of a pure substance.

    By its fitted equation where the tables hold one, else by ln p linear in 1/T through the pressure at
    25 C and the boiling point.

    Parameters
    ----------
    celsius : float
        [C], not above 20 K over the boiling point.

    Returns
    -------
    Quantity [kPa]

    Raises
    ------
    MissingDataError
        When neither is tabulated.
    DomainError
        Below absolute zero, or far above the boiling point.

    Examples
    --------
    >>> from redoxlib.notation import Species
    >>> print(f"{vapour_pressure(Species.parse('Br2(l)'), 25.0).value:.1f} kPa")
    28.7 kPa
    """
    return _pressure(species, _rows(species, tables), celsius)


class _Rows(NamedTuple):
    """What the tables hold on the vapour of one liquid; equal rows give equal pressures."""

    boiling: LiquidRow | None
    near: LiquidRow | None
    factor: LiquidRow | None
    heat: LiquidRow | None
    heat_at_boiling: LiquidRow | None
    antoine: tuple[LiquidRow, ...]
    dippr: tuple[LiquidRow, ...]


def _rows(species: Species, tables: Tables | None) -> _Rows:
    known, own = _index(tables or shipped()), species.with_phase(Phase.UNSTATED)

    def row(name: str) -> LiquidRow | None:
        return known.get((own, name))

    return _Rows(
        row("boiling_point"),
        row("vapour_pressure"),
        row(CURVE),
        row("heat_of_vaporisation"),
        row("heat_of_vaporisation_at_boiling"),
        tuple(found for x in "ABC" if (found := row(f"antoine_{x}")) is not None),
        tuple(found for n in range(1, 6) if (found := row(f"dippr_C{n}")) is not None),
    )


def _pressure(species: Species, rows: _Rows, celsius: float) -> Quantity:
    kelvin = celsius + _ZERO_C
    if kelvin <= 0 or (rows.boiling is not None and celsius > rows.boiling.value + 20.0):
        raise DomainError(f"no vapour pressure of {species} at {celsius:g} C: outside its range as a liquid")
    found = _curve(species, kelvin, rows)
    return found if rows.factor is None else found * rows.factor.value


def curve_spread(species: Species, tables: Tables | None = None) -> Quantity | None:
    """Relative uncertainty of the vapour pressure curve of a liquid [1]; None where there is none."""
    rows = _rows(species, tables)
    boiling = rows.boiling
    if boiling is None:
        return None
    if rows.near is not None:  # its own uncertainty is that of a row, not of the curve through it
        rows = rows._replace(near=replace(rows.near, uncertainty=0.0))
    try:
        there = _pressure(species, rows, min(boiling.value, 40.0))
    except RedoxlibError:
        return None
    return Quantity((there.uncertainty or 0.0) / there.value, "1", None, there.sources, there.basis)


def _curve(species: Species, kelvin: float, rows: _Rows) -> Quantity:
    fitted = _fitted(kelvin, rows)
    if fitted is not None:
        return fitted
    near, boiling = rows.near, rows.boiling
    if near is None or boiling is None or near.temperature_C is None:
        return _from_heat(species, kelvin, rows)
    t1, t2 = near.temperature_C + _ZERO_C, boiling.value + _ZERO_C
    if t2 - t1 < _APART_K and (rows.heat or rows.heat_at_boiling):
        return _from_heat(species, kelvin, rows)
    slope = log(ATMOSPHERE / near.value) / (1 / t1 - 1 / t2)
    value = ATMOSPHERE * exp(-slope * (1 / kelvin - 1 / t2))
    own = (near.uncertainty or 0.0) / near.value * (1 / kelvin - 1 / t2) / (1 / t1 - 1 / t2)
    relative = hypot(_CURVED, own)
    return Quantity(value, "kPa", relative * value, (*near.sources, *boiling.sources), "estimate")


def _fitted(kelvin: float, rows: _Rows) -> Quantity | None:
    if len(rows.antoine) == 3:
        a, b, c = rows.antoine
        value = 10 ** (a.value - b.value / (kelvin + c.value)) / 1000
        return Quantity(value, "kPa", 0.01 * value, a.sources, "spread")
    if len(rows.dippr) < 5:
        return None
    c1, c2, c3, c4, c5 = (row.value for row in rows.dippr)
    value = exp(c1 + c2 / kelvin + c3 * log(kelvin) + c4 * kelvin**c5) / 1000
    return Quantity(value, "kPa", 0.002 * value, rows.dippr[0].sources, "spread")


def _from_heat(species: Species, kelvin: float, rows: _Rows) -> Quantity:
    """Clausius and Clapeyron from the boiling point with the mean of the heats of vaporisation tabulated."""
    boiling, heats = rows.boiling, [row for row in (rows.heat_at_boiling, rows.heat) if row is not None]
    if boiling is None or not heats:
        raise MissingDataError(
            f"no vapour pressure of {species}; looked in liquids.csv",
            hint="add rows for boiling_point and vapour_pressure to your own table",
            what=f"vapour pressure of {species}",
            looked_in=("liquids.csv",),
        )
    mean = sum(row.value for row in heats) / len(heats)
    value = ATMOSPHERE * exp(-mean * 1000 / 8.314462618 * (1 / kelvin - 1 / (boiling.value + _ZERO_C)))
    # The heat falls towards the boiling point, by a tenth or so: what that makes grows with the way from it.
    relative = max(0.02, _HEAT_CHANGES * abs(log(ATMOSPHERE / value)))
    sources = dict.fromkeys(s for row in (*heats, boiling) for s in row.sources)
    return Quantity(value, "kPa", relative * value, tuple(sources), "estimate")


def co_distillation(
    product: Species,
    *,
    pressure_kpa: float = ATMOSPHERE,
    activity: float = 1.0,
    tables: Tables | None = None,
) -> CoDistillation:
    """Boiling of a liquid product over water.

    Parameters
    ----------
    pressure_kpa : float
        Above the liquids [kPa].
    activity : float
        Of the product: 1 while its own liquid phase is there, its share of saturation afterwards.

    Raises
    ------
    MissingDataError
        When a vapour pressure is not tabulated.
    DomainError
        When the activity is no share of one, or nothing boils below the range of the tables.

    References
    ----------
    .. [1] Any text on steam distillation, such as Perry's Chemical Engineers' Handbook, section 13.

    Examples
    --------
    >>> from redoxlib.notation import Species
    >>> both = co_distillation(Species.parse("Br2(l)"))
    >>> print(f"{both.celsius:.1f} C with {both.water_percent:.1f} % of water")
    54.0 C with 1.9 % of water
    """
    if not 0 < activity <= 1:
        raise DomainError(f"activity {activity} is no share of saturation", hint="write 0.5 for half")

    return _boil(product, _rows(product, tables), _rows(WATER, tables), pressure_kpa, activity)


@lru_cache(maxsize=256)
def _boil(
    product: Species, own_rows: _Rows, water_rows: _Rows, pressure_kpa: float, activity: float
) -> CoDistillation:
    """The same rows boil the same: asked for again and again while uncertainty is carried."""

    def total(celsius: float) -> float:
        own = activity * _pressure(product, own_rows, celsius).value
        return own + _pressure(WATER, water_rows, celsius).value

    low, high = -20.0, 100.0
    if own_rows.boiling is not None:
        high = min(high, own_rows.boiling.value + 20.0)
    if total(high) < pressure_kpa:
        raise DomainError(f"{product} over water does not boil at {pressure_kpa:g} kPa below {high:g} C")
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if total(middle) < pressure_kpa else (low, middle)
    at = (low + high) / 2
    own, water = _pressure(product, own_rows, at), _pressure(WATER, water_rows, at)
    share = activity * own.value
    grams, carried = share * product.molar_mass, water.value * WATER.molar_mass
    sources = tuple(dict.fromkeys((*own.sources, *water.sources)))
    return CoDistillation(
        at,
        share,
        water.value,
        100 * carried / (grams + carried),
        _heat_per_gram(product, own_rows, water_rows, water.value / share),
        sources,
    )


def _heat_per_gram(
    product: Species, own_rows: _Rows, water_rows: _Rows, water_per_mol: float
) -> float | Unknown:
    own, water = own_rows.heat or own_rows.heat_at_boiling, water_rows.heat
    if own is None or water is None:
        return Unknown(f"heat of vaporisation of {product}", ("liquids.csv",))
    return (own.value + water_per_mol * water.value) / product.molar_mass


def melting_point(species: Species, tables: Tables | None = None) -> Quantity | Unknown:
    """Melting point [C], for the cold end of a condenser."""
    row = liquid_fact(species, "melting_point", tables)
    if row is None:
        return Unknown(f"melting point of {species}", ("liquids.csv",))
    return Quantity(row.value, "C", row.uncertainty, row.sources, row.basis)
