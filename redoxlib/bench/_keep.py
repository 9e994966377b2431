"""Keeping the product: vapour pressure, room to expand, materials, vented or sealed.

Verbs: write_keeping.  May import: routes and below.
"""

from __future__ import annotations

from math import exp, hypot

from redoxlib import thermo
from redoxlib.bench._book import Book, Step
from redoxlib.bench._vapour import liquid_fact, vapour_pressure
from redoxlib.data import Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, R, Unknown
from redoxlib.routes import Route, bare

__all__ = ["greatest_fill", "write_keeping"]

_FILLED_AT, _HOTTEST = 20.0, 50.0
"""Filled at, and the warmest a store may get, C (practice)."""

_BROMINE, _IODINE = Species.parse("Br2"), Species.parse("I2")

_KETONES = frozenset(Species.parse(t) for t in ("CH3COCH3", "CH3COCH2CH3", "(CH2)5CO", "C6H5COCH3"))
_ALDEHYDES = frozenset(Species.parse(t) for t in ("CH3CHO", "C6H5CHO", "HCHO", "CH3CH2CHO"))
_ACETALDEHYDE, _ACETIC = Species.parse("CH3CHO"), Species.parse("CH3COOH")

_RULES: dict[Species, tuple[Step, ...]] = {
    _BROMINE: (
        Step(
            "Glass or fluoropolymer with a cap faced the same; no rubber, common metals or soft plastic.",
            "bromine attacks nearly all of them",
        ),
        Step(
            "Closed tightly, upright, in a second vessel with absorbent, in a ventilated cabinet.",
            "it gives no gas of its own, only vapour: a sealed cap is right, a loose one corrodes the store",
        ),
    ),
    _IODINE: (
        Step("Glass with a glass or fluoropolymer closure; no metals, no rubber.", "the vapour attacks them"),
        Step("Closed, cool.", "it sublimes; it makes no gas"),
    ),
    _ACETIC: (
        Step(
            "Glass or polyethylene, cap faced with fluoropolymer; no brass, steel or copper.",
            "the acid corrodes common metals",
        ),
        Step(
            "Closed, above its melting point; thaw a frozen bottle slowly with the cap loosened.",
            "it makes no gas, but it needs more room as it melts",
        ),
    ),
}

_FREE_OF_PEROXIDE = Step(
    "Bottle it only when peroxide strip and starch-iodide paper stay white in the dried product.",
    "what oxidant is left forms explosive peroxides or chlorinated ketones in the bottle",
)
_KETONE_RULES = (
    Step(
        "Glass or a metal can with a cap faced with fluoropolymer; no polystyrene, polycarbonate or PVC.",
        "ketones dissolve or swell those plastics, and rubber",
    ),
    _FREE_OF_PEROXIDE,
)
_ALDEHYDE_RULES = (
    Step(
        "Amber glass, small bottles filled up under nitrogen or argon, cap faced with fluoropolymer.",
        "air turns an aldehyde by way of its peracid into the acid, faster in light: the less air the better",
    ),
    _FREE_OF_PEROXIDE,
    Step(
        "Test an opened bottle for peroxide and acid before it is used, and distil none that shows peroxide.",
        "it goes on oxidising each time it is opened",
    ),
)
_COLD = Step(
    "Keep it at 2 to 8 C in a bottle that stands pressure, away from any acid; open it only cold.",
    "it boils at room temperature, and acid makes it polymerise with heat",
)
_SEALED = "Closed tightly, upright, in the cabinet for flammable liquids; vented only while it is distilled."


def greatest_fill(
    expansion_per_k: float, *, filled_c: float = _FILLED_AT, hottest_c: float = _HOTTEST
) -> float:
    """Share of a vessel that may be filled, so that the liquid still fits when warm: 1 / (1 + b dT).

    >>> print(f"{100 * greatest_fill(0.0011):.1f} %")
    96.8 %
    """
    return 1.0 / (1.0 + expansion_per_k * max(0.0, hottest_c - filled_c))


def write_keeping(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    """Write vapour pressures and the greatest fill; return the rules for the vessel."""
    target = bare(route.product.species)
    phase = route.product.species.phase
    if route.job.purpose == "remove" or target.charge or phase not in (Phase.LIQUID, Phase.SOLID):
        return ()
    for celsius in (20.0, 40.0):
        value: Quantity | Unknown
        try:
            value = (
                vapour_pressure(target, celsius, tables)
                if phase is Phase.LIQUID
                else _solid(target, celsius, tables)
            )
        except RedoxlibError:
            value = Unknown(f"vapour pressure of {target} at {celsius:g} C", ("liquids.csv",))
        what = f"vapour pressure at {celsius:g} C"
        book.put(
            f"keep.vapour_{celsius:.0f}.kPa",
            value,
            "kPa",
            what,
            "vapour pressure equation, or ln p linear in 1/T",
        )
    if phase is Phase.LIQUID:
        row = liquid_fact(target, "expansion", tables)
        fill: float | Unknown = Unknown(f"thermal expansion of {target}", ("liquids.csv",))
        sources: tuple[str, ...] = ()
        if row is not None:
            fill, sources = 100 * greatest_fill(row.value), (*row.sources, "practice")
        what = f"greatest fill at {_FILLED_AT:g} C for a store of up to {_HOTTEST:g} C, before any gas space"
        formula = f"100 / (1 + b x {_HOTTEST - _FILLED_AT:g} K)"
        book.put("keep.fill.percent", fill, "%", what, formula, (), sources)
    flash = liquid_fact(target, "flash_point", tables)
    if phase is Phase.LIQUID and flash is not None:
        value = Quantity(flash.value, "C", flash.uncertainty, flash.sources, flash.basis)
        what = "flash point: at and above this the vapour over the liquid can be lit"
        book.put("keep.flash_point.C", value, "C", what, "row of the table")
    return _rules(target, flash.value if flash is not None else None)


def _rules(target: Species, flash_c: float | None) -> tuple[Step, ...]:
    """Vessel, closure and why, for the product; says so where nobody has reviewed it."""
    if target in _RULES:
        rules = _RULES[target]
    elif target in _KETONES:
        rules = _KETONE_RULES
    elif target in _ALDEHYDES:
        rules = (*_ALDEHYDE_RULES, *((_COLD,) if target == _ACETALDEHYDE else ()))
    else:
        return (_UNKNOWN,)
    if flash_c is None or target in (_BROMINE, _IODINE):
        return rules
    burns = f"its vapour can be lit from {flash_c:g} C on"
    away = "; no flame or spark near, vessels earthed when it is poured" if flash_c < _HOTTEST else ""
    return (*rules, Step(_SEALED, f"it makes no gas of its own, only vapour; {burns}{away}"))


def _solid(target: Species, celsius: float, tables: Tables) -> Quantity | Unknown:
    """Over the solid: from the tabulated point, ln p linear in 1/T with the heat of sublimation."""
    row = liquid_fact(target, "vapour_pressure", tables)
    gap = Unknown(f"vapour pressure curve of solid {target}", ("liquids.csv",))
    if row is None or row.temperature_C is None:
        return gap
    try:
        heat = thermo.enthalpy(f"{target}(s) -> {target}(g)", tables=tables)
    except RedoxlibError:
        return gap
    slope = 1000 * heat.value / R.value * (1 / (row.temperature_C + 273.15) - 1 / (celsius + 273.15))
    value = row.value * exp(slope)
    relative = hypot((row.uncertainty or 0.0) / row.value, slope * (heat.uncertainty or 0.0) / heat.value)
    return Quantity(value, "kPa", value * relative, (*row.sources, *heat.sources), row.basis)


_UNKNOWN = Step("See the supplier's data sheet for the vessel.", "no reviewed rule for this product")
