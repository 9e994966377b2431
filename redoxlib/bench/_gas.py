"""Gas that leaves, its rate while dosing, electricity, and what a scrubber must hold.

Verbs: write_gas.  May import: routes and below.
"""

from __future__ import annotations

from redoxlib.bench._book import Book
from redoxlib.bench._liquor import HALOGENS
from redoxlib.bench._vapour import vapour_pressure
from redoxlib.data import Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Species
from redoxlib.routes import GAS_LITRES, Route, bare

__all__ = ["write_gas"]

_PER_GAS = {
    "Cl2": (2.0, 1.0, "Cl2 + 2 OH^- -> Cl^- + ClO^- + H2O, then one sulfite for the hypochlorite"),
    "Br2": (4.0, 1.0, "Br2 + SO3^2- + 2 OH^- -> 2 Br^- + SO4^2- + H2O, hydroxide doubled"),
    "ClO2": (5.0, 2.5, "2 ClO2 + 5 SO3^2- + 2 OH^- -> 2 Cl^- + 5 SO4^2- + H2O, hydroxide in excess"),
    "NO2": (1.0, 0.0, "2 NO2 + 2 OH^- -> NO2^- + NO3^- + H2O; nitric oxide passes through"),
    "SO2": (2.0, 0.0, "SO2 + 2 OH^- -> SO3^2- + H2O"),
    "H2S": (2.0, 0.0, "H2S + 2 OH^- -> S^2- + 2 H2O"),
    "HCN": (1.0, 0.0, "HCN + OH^- -> CN^- + H2O"),
}
"""Hydroxide and sulfite per mol of gas."""

_SPARE = 2.0
"""A scrubber holds twice what it should meet (practice)."""

_SODA = Species.parse("NaOH")
_ESCAPE = 0.05
"""Share of a volatile halogen product taken to reach the scrubber where no gas sweeps it out (practice)."""


def write_gas(book: Book, route: Route, tables: Tables) -> None:
    """Litres, litres a minute, and the scrubber."""
    minutes = book.number("dose.min")
    for gas in route.gases:
        stem = f"gas.{gas.species}"
        what = f"{gas.species} set free, at 25 C and 1 bar"
        book.put(f"{stem}.L", gas.litres, "L", what, f"mol x {GAS_LITRES} L/mol")
        if minutes:
            what = "rate while dosing, if it leaves as fast as the oxidant goes in"
            inputs = (f"{stem}.L", "dose.min")
            book.put(f"{stem}.L_per_min", gas.litres / minutes, "L/min", what, "L / dosing time", inputs)
    _electricity(book, route)
    _scrubber(book, route, tables)


def _electricity(book: Book, route: Route) -> None:
    electricity = route.electricity
    if electricity is None:
        return
    book.put("anode.Ah", electricity.ampere_hours, "A h", "charge at the anode", "electrons x F / 3600")
    what = "assumed; overvoltage and resistance decide"
    book.put("anode.V", electricity.volts, "V", "cell voltage", what)
    inputs = ("anode.Ah", "anode.V")
    book.put("anode.kWh", electricity.kwh, "kW h", "energy at that voltage", "A h x V / 1000", inputs)
    litres = electricity.hydrogen_litres
    book.put("gas.H2.L", litres, "L", "hydrogen from the cathode", "electrons / 2 x molar volume")


def _scrubber(book: Book, route: Route, tables: Tables) -> None:
    met: dict[str, tuple[float, str]] = {}
    swept = 0.0
    for gas in route.gases:
        name = str(bare(gas.species))
        swept += gas.mol
        if name in _PER_GAS:
            met[name] = (gas.mol, "all of the gas set free")
    target = bare(route.product.species)
    if target in HALOGENS and str(target) in _PER_GAS:
        mol, how = _ESCAPE * route.product.mol, f"{100 * _ESCAPE:g} % of the product (practice)"
        if swept:
            try:
                p = vapour_pressure(target, route.job.temperature_k - 273.15, tables).value
            except RedoxlibError:
                p = 0.0
            carried = min(route.product.mol, swept * p / max(101.325 - p, 1.0))
            if carried > mol:
                mol, how = carried, "gas set free x p / (P - p), saturated with product"
        met[str(target)] = (mol, how)
    hydroxide = sulfite = 0.0
    for name, (mol, how) in met.items():
        base, reductant, equation = _PER_GAS[name]
        hydroxide += _SPARE * base * mol
        sulfite += _SPARE * reductant * mol
        what = f"{name} the scrubber is sized for"
        book.put(f"scrubber.{name}.mol", mol, "mol", what, f"{how}; {equation}", (), ("practice",))
    if not met:
        return
    inputs = tuple(f"scrubber.{name}.mol" for name in met)
    formula = f"{_SPARE:g} x hydroxide per gas x mol"
    book.put(
        "scrubber.base.mol", hydroxide, "mol", "hydroxide in the scrubber", formula, inputs, ("practice",)
    )
    grams = hydroxide * _SODA.molar_mass
    what = "sodium hydroxide in it, as 10 % w/w or weaker"
    book.put("scrubber.NaOH.g", grams, "g", what, "mol x molar mass", ("scrubber.base.mol",))
    formula = f"{_SPARE:g} x sulfite per gas x mol"
    what = "sulfite in the scrubber"
    book.put("scrubber.reductant.mol", sulfite, "mol", what, formula, inputs, ("practice",))
