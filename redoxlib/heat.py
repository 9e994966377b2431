"""Heat of the batch: adiabatic rise, highest synthesis temperature, criticality classes still possible.

Verbs: exotherm, acid_dilution.  Classes and severity after Stoessel, Thermal Safety of Chemical
Processes (2008).

May import: routes and below.
"""

from __future__ import annotations

from itertools import pairwise

from redoxlib import thermo
from redoxlib.data import Tables, shipped
from redoxlib.errors import RedoxlibError
from redoxlib.measures import Exotherm
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Route, bare, in_medium, reduction_rows

__all__ = [
    "CP_SOLUTE",
    "CP_WATER",
    "acid_dilution",
    "batch_heat",
    "boiling_point",
    "exotherm",
    "in_one_family",
    "outside_window",
    "pot_heat_capacity",
    "release",
]

CP_WATER = Quantity(4.18, "J/(g K)", 0.005, ("crc_standard",), "last-digit")
"""Specific heat capacity of water at 25 C (CRC Handbook)."""

CP_SOLUTE = Quantity(1.0, "J/(g K)", 0.5, ("practice",), "estimate")
"""Specific heat capacity taken for everything dissolved; salts and acids lie between 0.5 and 1.5."""

_WATER = bare(Species.parse("H2O"))
_SEVERE, _MEDIUM = 200.0, 50.0  # K of adiabatic rise; Stoessel 2008
_MODEL_SHARE = 0.03
"""Share of a pot's heat capacity that the two-part sum may be off, an estimate."""


def pot_heat_capacity(route: Route) -> Quantity:
    """Heat capacity of the whole pot, J/K, from its water and everything else."""
    water = route.water_grams + sum(
        c.grams - c.pure_grams for c in route.charges if c.role != "water" and c.gas_litres is None
    )
    water = min(water, route.pot_grams)
    rest = max(0.0, route.pot_grams - water)
    value = water * CP_WATER.value + rest * CP_SOLUTE.value
    return Quantity(
        value,
        "J/K",
        # Salts pull the heat capacity of their water down, so dilute solutions fall short of the sum as well.
        rest * (CP_SOLUTE.uncertainty or 0.0) + _MODEL_SHARE * value,
        (*CP_WATER.sources, *CP_SOLUTE.sources),
        "estimate",
    )


def batch_heat(route: Route) -> Quantity | Unknown:
    """Reaction heat of the whole batch, kJ (negative: given off)."""
    total, spread, sources = 0.0, 0.0, []
    for part in route.parts:
        if isinstance(part.dH, Unknown):
            return part.dH
        total += part.dH.value * part.product.mol
        spread += (part.dH.uncertainty or 0.0) * part.product.mol
        sources += [s for s in part.dH.sources if s not in sources]
    return Quantity(total, "kJ", spread, tuple(sources), "published")


def boiling_point(route: Route, tables: Tables | None = None) -> Quantity | Unknown:
    """Temperature at which the real mixture boils at 1 atm, C.

    Water with a second, immiscible liquid product boils where the two vapour pressures add up to one
    atmosphere; the table holds that co-boiling point where it is known.  A dilute volatile product lowers it
    by an amount no table holds: unknown.
    """
    tables = tables or shipped()
    best = Quantity(100.0, "C", 0.1, ("crc_physical",), "published")
    for part in route.parts:
        target = bare(part.product.species)
        if part.product.species.phase is not Phase.LIQUID:
            continue
        rows = [r for r in tables.liquids if bare(Species.parse(r.species)) == target]
        chosen = [r for r in rows if r.property == "coboiling_point_with_water"]
        alone = [r for r in rows if r.property in ("boiling_point", "normal_boiling_point")]
        if not chosen:
            if alone and alone[0].value > best.value and alone[0].unit == "C":
                continue  # less volatile than water: the pot boils like water
            return Unknown(f"boiling point of {target} with water", ("liquids.csv",))
        row = chosen[0]
        value = row.value - 273.15 if row.unit == "K" else row.value
        if value < best.value:
            best = Quantity(value, "C", row.uncertainty, row.sources, row.basis)
    return best


def outside_window(route: Route, boils_c: float | None) -> tuple[str, str] | None:
    """Why the mixture cannot be held at the temperature of the job, and what mends it; None where it can.

    Parameters
    ----------
    route : Route
    boils_c : float or None
        Its boiling point, C; None where that is unknown.
    """
    pot = route.job.temperature_k - 273.15
    if boils_c is not None and pot >= boils_c and route.job.purpose == "make":
        return (
            f"the mixture cannot be held at {pot:.0f} C: it boils at {boils_c:.0f} C in an open vessel",
            f"the pot can be held below {boils_c:.0f} C",
        )
    if pot < 0 and route.water_grams:
        return (
            f"the mixture cannot be held at {pot:.0f} C: its water freezes",
            "0 C or above, unless the freezing point of the liquor has been measured",
        )
    return None


_TO_INFINITY = "heat_of_dilution_infinite"
_HEATS = frozenset({"integral_heat_of_solution", _TO_INFINITY})
_NEAR_NEAT = 1.0
"""Moles of water per mole up to which a table of integral heats may begin and still reach the neat acid."""
_FAR = 1e6
"""Moles of water per mole of acid that stand for infinite dilution."""


def acid_dilution(
    charge: Charge | None, water_grams: float, tables: Tables | None = None
) -> Quantity | Unknown:
    """Heat of diluting the acid of the charge into the pot water, kJ (negative: given off).

    Q = n [Q(r) - Q(r0)] with integral heats of solution of one family, or n [D(r0) - D(r)] with heats of
    dilution to infinity; interpolated in 1/(r + 1), never beyond the first and last tabulated ratio.

    Parameters
    ----------
    charge : Charge or None
        The bottle and how much of it; no charge, no heat.
    water_grams : float
        Water it goes into [g].

    Returns
    -------
    Quantity [kJ] or Unknown where the table does not reach.
    """
    if charge is None:
        return Quantity(0.0, "kJ", 0.0, (), "definition")
    tables = tables or shipped()
    solute = bare(charge.compound)
    rows = [
        r
        for name, group in tables.solutions.items()
        if _is(name, solute)
        for r in group
        if r.quantity in _HEATS and r.moles_water is not None
    ]
    families: dict[str, list[tuple[float, float, float]]] = {}
    ends: set[str] = set()
    for r in rows:
        # What is still to come up to infinite dilution, and what has come, differ by a constant.
        sign = -1.0 if r.quantity == _TO_INFINITY else 1.0
        families.setdefault(r.family or r.source, []).append(
            (float(r.moles_water or 0.0), sign * r.value, r.uncertainty or 0.0)
        )
        if r.quantity == _TO_INFINITY:
            ends.add(r.family or r.source)
    if not families:
        return Unknown(f"heat of dilution of {solute}", ("solutions.csv",))
    name, points = max(families.items(), key=lambda item: len(item[1]))
    if name in ends:
        points.append((_FAR, 0.0, 0.0))
    points.sort()
    own_water = (charge.grams - charge.pure_grams) / 18.015 / charge.mol
    full_water = own_water + water_grams / 18.015 / charge.mol
    start, end = _interpolate(points, own_water), _interpolate(points, full_water)
    if own_water < points[0][0] and (name in ends or points[0][0] > _NEAR_NEAT):
        start = None  # stronger than the table begins: nothing known to be proportional there
    if start is None or end is None:
        return Unknown(
            f"heat of diluting {solute} from {own_water:.2f} to {full_water:.1f} mol water per mol "
            f"(table holds {points[0][0]:g} to {points[-1][0]:g})",
            ("solutions.csv",),
        )
    # As uncertain as the worst mixture tabulated; that of the neat liquid counts by how near one is to it.
    near = (_interpolate(points, ratio, 2) or 0.0 for ratio in (own_water, full_water))
    spread = max(*near, *(p[2] for p in points if p[0] > 0))
    used = [r for r in rows if (r.family or r.source) == name]
    sources = tuple(dict.fromkeys(s for r in used for s in r.sources))
    basis = "estimate" if any(r.basis == "estimate" for r in used) else "last-digit"
    return Quantity(charge.mol * (end - start), "kJ", charge.mol * spread, sources, basis)


def release(route: Route, tables: Tables | None = None) -> tuple[Quantity | Unknown, str] | None:
    """Heat with which a solid oxidant reacts with water or acid before it acts [kJ/mol], and the equation.

    None where the oxidant is no solid, or only dissolves.  The net ionic equation starts from what it
    becomes: sodium peroxide has given as much heat again by then.  Unknown where the tables lack the solid,
    or hold no one thermochemical family for all.

    Returns
    -------
    tuple of (Quantity [kJ per mol of the solid] or Unknown, str), or None
    """
    charge = route.charge("oxidant")
    if charge is None or charge.gas_litres is not None or charge.mol <= 0:
        return None
    if charge.bottle is not None and charge.bottle.form != "solid":
        return None
    tables = tables or shipped()
    solid = bare(charge.compound)
    for row in reduction_rows(route.oxidant.key, route.job.ph, tables):
        given = Equation.parse(row.from_bottle)
        if len(given.reactants) > 1 and any(bare(s) == solid for _, s in given.reactants):
            return _released(given, solid, route.job.ph, row.active, tables)
    return None


def _released(
    given: Equation, solid: Species, ph: float, active: str, tables: Tables
) -> tuple[Quantity | Unknown, str]:
    left, right = ([(n, _there(s, solid)) for n, s in side] for side in (given.reactants, given.products))
    written = in_medium(Equation.of(left, right), ph)
    count = next(float(n) for n, s in written.reactants if bare(s) == solid)
    heat = in_one_family(written, f"heat with which {solid} becomes {active}", tables)
    if isinstance(heat, Unknown):
        return heat, str(written)
    spread = (heat.uncertainty or 0.0) / count
    return Quantity(heat.value / count, "kJ/mol", spread, heat.sources, heat.basis), str(written)


def in_one_family(equation: Equation, what: str, tables: Tables) -> Quantity | Unknown:
    """Enthalpy of an equation as written [kJ/mol]; Unknown, named *what*, without one family for all of it.

    A difference between two thermochemical families is no heat.
    """
    try:
        found = thermo.enthalpy(equation, tables=tables)
    except RedoxlibError:
        return Unknown(what, ("formation.csv",))
    if not found.families:
        return Unknown(f"{what} in one thermochemical family", ("formation.csv",))
    return Quantity(found.value, "kJ/mol", found.uncertainty, tuple(found.sources), found.basis)


def _there(species: Species, solid: Species) -> Species:
    if species == solid:
        return species.with_phase(Phase.SOLID)
    return species.with_phase(Phase.LIQUID if species == _WATER else Phase.AQUEOUS)


def _release_of_batch(route: Route, tables: Tables) -> Quantity | Unknown | None:
    found = release(route, tables)
    if found is None or isinstance(found[0], Unknown):
        return None if found is None else found[0]
    charge = route.charge("oxidant")
    mol = charge.mol if charge is not None else 0.0
    value = found[0]
    return Quantity(value.value * mol, "kJ", (value.uncertainty or 0.0) * mol, value.sources, value.basis)


def _is(name: str, solute: Species) -> bool:
    try:
        return bare(Species.parse(name)) == solute
    except RedoxlibError:
        return False


def _interpolate(points: list[tuple[float, float, float]], ratio: float, column: int = 1) -> float | None:
    """Integral heat of solution at a ratio of water to solute; with *column* 2 its uncertainty.

    Beyond the last ratio the curve has flattened to within the table's own spread, so its end is taken.
    """
    if ratio >= points[-1][0]:
        return points[-1][column]
    if ratio < points[0][0]:
        # Between the neat acid (0) and the first hydrate the heat is proportional to the water added.
        return points[0][column] * (ratio / points[0][0] if column == 1 else 1.0)
    for low, high in pairwise(points):
        if low[0] <= ratio <= high[0]:
            x, x0, x1 = 1 / (ratio + 1), 1 / (low[0] + 1), 1 / (high[0] + 1)
            return low[column] + (high[column] - low[column]) * (x - x0) / (x1 - x0)
    return None


def exotherm(route: Route, *, tables: Tables | None = None, capacity: Quantity | None = None) -> Exotherm:
    """Heat figures of a route on its declared charge; *capacity* [J/K] where it is known better.

    The accumulation is taken as 1: all reagents together, the worst that dosing can come to.  What a
    solid oxidant gives off with water or acid before it acts is counted in; what it takes up is not, for it
    may have been dissolved the day before.
    """
    tables = tables or shipped()
    heat = batch_heat(route)
    boiling = boiling_point(route, tables)
    dilution = acid_dilution(route.charge("acid"), route.water_grams, tables)
    released = _release_of_batch(route, tables)
    per_kg: Quantity | Unknown
    rise: Quantity | Unknown
    mtsr: Quantity | Unknown
    if isinstance(heat, Unknown):
        per_kg = rise = mtsr = Unknown(heat.what, heat.looked_in)
        return Exotherm(
            route.dH,
            per_kg,
            rise,
            mtsr,
            boiling,
            "unknown",
            (1, 2, 3, 4, 5),
            heat.what,
            1.0,
            dilution,
            released,
        )
    if isinstance(released, Quantity) and released.value < 0:
        heat = _sum(heat, released)
    kilograms = route.pot_grams / 1000
    capacity = capacity or pot_heat_capacity(route)
    per_kg = Quantity(
        heat.value / kilograms, "kJ/kg", (heat.uncertainty or 0.0) / kilograms, heat.sources, "published"
    )
    value = max(0.0, -heat.value * 1000 / capacity.value)
    relative = ((heat.uncertainty or 0.0) / abs(heat.value) if heat.value else 0.0) + (
        capacity.uncertainty or 0.0
    ) / capacity.value
    rise = Quantity(value, "K", value * relative, (*heat.sources, *capacity.sources), "estimate")
    pot_c = route.job.temperature_k - 273.15
    mtsr = Quantity(pot_c + value, "C", rise.uncertainty, rise.sources, "estimate")
    severity = "high" if value > _SEVERE else "medium" if value > _MEDIUM else "low"
    if severity == "low" and route.gases:
        severity = "low, but gas: no closed vessel"
    classes, note = _classes(mtsr.value, boiling)
    return Exotherm(route.dH, per_kg, rise, mtsr, boiling, severity, classes, note, 1.0, dilution, released)


def _sum(first: Quantity, second: Quantity) -> Quantity:
    return Quantity(
        first.value + second.value,
        first.unit,
        (first.uncertainty or 0.0) + (second.uncertainty or 0.0),
        tuple(dict.fromkeys((*first.sources, *second.sources))),
        first.basis,
    )


def _classes(mtsr: float, boiling: Quantity | Unknown) -> tuple[tuple[int, ...], str]:
    """Classes still possible while the decomposition temperature TD24 is not known."""
    if isinstance(boiling, Unknown):
        return (1, 2, 3, 4, 5), f"{boiling.what} unknown"
    mtt = boiling.value
    if mtsr < mtt:
        return (1, 2, 5), f"class 1 needs TD24 above {mtt:.0f} C, class 5 if it lies below {mtsr:.0f} C"
    return (3, 4, 5), f"the pot boils at {mtt:.0f} C before it reaches {mtsr:.0f} C"
