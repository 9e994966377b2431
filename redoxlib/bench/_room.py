"""Before anything is opened: a quench for the whole batch, and what the room's air can take.

Verbs: write_standby, write_room, misdose_gases.  May import: routes and below.
"""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.bench._book import Book, Step
from redoxlib.bench._liquor import (
    CHROMIUM_VI,
    HALOGENS,
    SLOW_IN_BASE,
    acid_left,
    acid_oxidant,
    oxidant_of,
    quench_oxidant,
)
from redoxlib.bench._quench import oxidant_heat
from redoxlib.bench._vapour import liquid_fact
from redoxlib.data import LimitRow, Tables
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.quantity import significant as figure
from redoxlib.routes import GAS_LITRES, Route, bare, ions
from redoxlib.safety import hoodless

__all__ = ["misdose_gases", "write_room", "write_standby"]

SULFITE = Species.parse("Na2SO3")
BICARBONATE = Species.parse("NaHCO3")
_EXPOSURE = ("REL TWA", "REL ceiling", "PEL TWA", "PEL ceiling", "REL STEL")
"""Limits for a working day, the most protective authority first."""

_SO2, _CL2, _CLO2, _NO2, _HCN, _H2S = (Species.parse(t) for t in ("SO2", "Cl2", "ClO2", "NO2", "HCN", "H2S"))
_CNCL = Species.parse("CNCl")
_WHOLE = "the whole charge, were it mis-dosed"


def write_standby(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    """A quench that would destroy the whole batch at its worst moment, ready before the oxidant is opened.

    Oxidising power is neither made nor lost on the way from oxidant to halogen, so the oxidant charged
    counts all of it; the acid counts as charged, both protons.
    """
    charge = route.charge("oxidant")
    if charge is None:
        return _standby_for_product(book, route)
    oxidant = quench_oxidant(route)
    active = charge.mol * oxidant.per_compound
    sulfite = active * oxidant.electrons / 2
    inputs = ("charge.oxidant.mol",)
    formula = f"mol x {oxidant.per_compound:g} x {oxidant.electrons:g} electrons / 2 per sulfite"
    halogen = bare(route.product.species) in HALOGENS
    what = "sodium sulfite that destroys the oxidant of the whole batch"
    what += ", whether still oxidant or already product" if halogen else ""
    book.put("standby.reductant.mol", sulfite, "mol", what, formula, inputs)
    grams = sulfite * SULFITE.molar_mass
    keys = ("standby.reductant.mol",)
    book.put("standby.reductant.g", grams, "g", "sodium sulfite, anhydrous", "mol x molar mass", keys)
    acid = acid_left(route, all_of_it=True).total
    made = max(0.0, 2 * sulfite - oxidant.protons * active) if route.job.ph < 8 else 0.0
    # The target half of the reaction may already have taken the acid; counting it all is the worst case.
    base = acid + made if route.job.ph < 8 else 0.0
    formula = "all protons of the acid charged + 2 per sulfite - those the oxidant takes"
    what = "base that goes with it, as HCO3- or OH-"
    book.put("standby.base.mol", base, "mol", what, formula, ("charge.acid.mol", *keys))
    grams = base * BICARBONATE.molar_mass
    book.put(
        "standby.base.g", grams, "g", "sodium hydrogencarbonate", "mol x molar mass", ("standby.base.mol",)
    )
    heat = oxidant_heat(route, oxidant, active, tables)
    what = "heat if all of the oxidant met the quench at once: add it slowly and cold"
    formula = "enthalpy of the quench equation x mol of oxidant charged"
    book.put("standby.heat.kJ", heat, "kJ", what, formula, inputs)
    mass = f"{figure(sulfite * SULFITE.molar_mass)} g of sodium sulfite"
    bicarbonate = f" and {figure(grams)} g of sodium hydrogencarbonate" if base else ""
    destroys = "the whole batch" if halogen else "all of the oxidant"
    slow = bare(oxidant.active) in CHROMIUM_VI or bare(oxidant.active) in SLOW_IN_BASE
    if slow and base:
        # In base these outlast the sulfite, so the two must not meet the pot as one solution.
        return (
            Step(
                f"Dissolve {mass} in cold water and keep it in the hood from the start; keep"
                f"{bicarbonate.removeprefix(' and')} apart from it.",
                f"{bare(oxidant.active)} is destroyed only while the pot is still acid: sulfite first, base "
                "after it; sulfite goes off in air, so make it the same day",
            ),
        )
    ready = Step(
        f"Dissolve {mass}{bicarbonate} in cold water and keep it in the hood from the start.",
        f"it destroys {destroys} at any moment; sulfite goes off in air, so make it the same day",
    )
    if acid_oxidant(route) is None:
        return (ready,)
    freed = figure(min(sulfite, acid / 2))
    text = (
        "Never tip sulfite into the acid pot: it gives off sulfur dioxide (SO2), a poisonous gas; the pot "
        "goes slowly into sulfite and base together."
    )
    own = f"{charge.compound} is acid as well as oxidant; up to {freed} mol of SO2 could leave"
    kept = "the base takes its acid; dilute, it outlasts the sulfite; sulfite goes off in air: same day"
    return (Step(ready.text, kept), Step(text, own))


def _standby_for_product(book: Book, route: Route) -> tuple[Step, ...]:
    """An anode holds no oxidant in reserve: only halogen already made has to be destroyed."""
    if bare(route.product.species) not in HALOGENS:
        return ()
    mol = route.product.mol
    what = "sodium sulfite that destroys all of the product"
    book.put("standby.reductant.mol", mol, "mol", what, "one per halogen molecule", ("yield.mol",))
    grams, keys = mol * SULFITE.molar_mass, ("standby.reductant.mol",)
    book.put("standby.reductant.g", grams, "g", "sodium sulfite, anhydrous", "mol x molar mass", keys)
    base = 2 * mol
    book.put("standby.base.mol", base, "mol", "base that goes with it", "2 per sulfite", keys)
    salt = base * BICARBONATE.molar_mass
    keys = ("standby.base.mol",)
    book.put("standby.base.g", salt, "g", "sodium hydrogencarbonate", "mol x molar mass", keys)
    salts = f"{figure(grams)} g of sodium sulfite and {figure(salt)} g of sodium hydrogencarbonate"
    return (
        Step(f"Dissolve {salts} in cold water before the current goes on.", "it destroys all of the product"),
    )


def misdose_gases(route: Route) -> Iterator[tuple[Species, float, str]]:
    """Toxic gases the charge could give in the worst error of dosing: gas, mol, how.

    Each is an upper bound: the whole of the charge that can become this gas does.
    """
    charge = route.charge("oxidant")
    if charge is not None:
        active = charge.mol * oxidant_of(route).per_compound
        names = {str(bare(s)) for _, s in (*ions(charge.compound), *route.half_reactions[1].reactants)}
        if names & {"ClO^-", "HClO"} or {"Cl", "N"} <= set(charge.compound.elements):
            yield _CL2, active, f"hypochlorite in acid gives one chlorine each; {_WHOLE}"
        if "ClO2^-" in names:
            yield _CLO2, 0.8 * active, f"5 ClO2^- + 4 H^+ -> 4 ClO2 + Cl^- + 2 H2O; {_WHOLE}"
        if "ClO3^-" in names:
            yield _CLO2, active, f"one chlorine dioxide per chlorate at most; {_WHOLE}"
        if names & {"NO3^-", "HNO3"}:
            yield _NO2, active, f"one nitrogen dioxide per nitrate at most; {_WHOLE}"
        if "MnO4^-" in names and "Cl" in _acid_elements(route):
            yield _CL2, 2.5 * active, f"2 MnO4^- + 10 Cl^- give 5 Cl2; {_WHOLE}"
        if route.job.ph < 8 and charge.mol > 0:
            sulfite = active * quench_oxidant(route).electrons / 2
            acid = acid_left(route, all_of_it=True).total
            if acid > 0:
                how = "sulfite of the standby quench tipped into the acid pot, 2 H+ each"
                yield _SO2, min(sulfite, acid / 2), how
    for part in route.parts:
        feed = bare(part.conversion.feed)
        if feed in (Species.parse("CN^-"), _HCN):
            yield _HCN, part.feed_mol, "cyanide that meets acid"
            if charge is not None and "Cl" in oxidant_of(route).active.elements:
                yield _CNCL, part.feed_mol, "cyanogen chloride from active chlorine where the base runs short"
        if "S" in feed.elements and "O" not in feed.elements and len(feed.elements) <= 2:
            yield _H2S, part.feed_mol, "sulfide that meets acid"


def _acid_elements(route: Route) -> frozenset[str]:
    acid = route.charge("acid")
    return frozenset(acid.compound.elements) if acid is not None else frozenset()


def write_room(book: Book, route: Route, tables: Tables, hood: Quantity | None) -> tuple[Step, ...]:
    """Cubic metres of air down to the immediate danger value and to the working limit, for each gas."""
    room = route.job.room
    if room is not None:
        book.put("room.m3", float(room.to("m3").value), "m3", "declared room", "declared in the job")
    if hood is not None:
        book.put("hood.m3_per_min", _per_minute(hood), "m3/min", "declared hood flow", "declared")
    worst: tuple[float, str, str] = (0.0, "", "")
    told: set[Species] = set()
    for gas, mol, why, error in _suspects(route, tables):
        stem = f"room.{gas}" if gas not in told else f"room.{gas}.misdose"
        told.add(gas)
        volume = _write_gas(book, stem, gas, mol, why, tables)
        if volume is not None and volume > worst[0]:
            worst = (volume, str(gas), why if error else f"all of the {gas} set free as vapour")
    if not worst[1]:
        return ()
    declared = (
        f" The room declared holds {figure(float(room.to('m3').value))} m3." if room is not None else ""
    )
    away = hoodless(route.job.context or "")
    where = "there is no hood, so not here" if away else "work in the hood with the sash down"
    verdict = f"{where}; " + (
        "no room is declared, so what its air would take is not known"
        if room is None
        else "the room's air does not take it"
    )
    if room is not None and float(room.to("m3").value) > worst[0]:
        verdict = (
            "even the worst escape stays below the immediate danger value once mixed; near it, it does not"
        )
    text = f"Worst escape: {worst[1]}, {figure(worst[0])} m3 of air to its immediate danger value.{declared}"
    return (Step(text, f"{worst[2]}; {verdict}"),)


def _per_minute(hood: Quantity) -> float:
    return float(hood.to("m3/s").value) * 60 if hood.measures_like("m3/s") else float(hood.value)


def _suspects(route: Route, tables: Tables) -> Iterator[tuple[Species, float, str, bool]]:
    for part in route.parts:
        target = bare(part.product.species)
        volatile = liquid_fact(target, "vapour_pressure", tables) is not None or target in HALOGENS
        if volatile and target.charge == 0:
            yield target, part.product.mol, "the whole product as vapour", False
    for leaving in route.gases:
        yield bare(leaving.species), leaving.mol, "set free by the reaction", False
    oxidant = route.charge("oxidant")
    if oxidant is not None and oxidant.gas_litres is not None:
        yield bare(oxidant.compound), oxidant.mol, "the whole charge of oxidant gas", False
    for gas, mol, why in misdose_gases(route):
        yield gas, mol, why, True


def _write_gas(book: Book, stem: str, gas: Species, mol: float, why: str, tables: Tables) -> float | None:
    """Write one gas; return the air down to its immediate danger value [m3]."""
    litres = mol * GAS_LITRES
    danger, limit = _limit(gas, ("IDLH",), tables), _limit(gas, _EXPOSURE, tables)
    if danger is None and limit is None and "room" in stem and str(gas) in _HARMLESS:
        return None
    what = f"{gas} as gas at 25 C and 1 bar: {why}"
    book.put(f"{stem}.L", litres, "L", what, f"{mol:.4g} mol x {GAS_LITRES} L/mol")
    found = None
    for name, row, words in (("idlh", danger, "immediate danger value"), ("limit", limit, "working limit")):
        key = f"{stem}.{name}.m3"
        if row is None or row.unit != "ppm v/v":
            gap = Unknown(f"{words} of {gas} in ppm", ("limits.csv",))
            book.put(key, gap, "m3", f"air down to the {words}", "L / ppm")
            continue
        air = litres * 1e-3 / (row.value * 1e-6)
        said = f"air that takes it down to {row.value:g} ppm ({row.limit})"
        book.put(key, air, "m3", said, "litres / 1000 / (ppm / 1e6)", (f"{stem}.L",), row.sources)
        if name == "idlh":
            found = air
    _against(book, stem, litres)
    return found


_HARMLESS = frozenset({"O2", "N2", "CO2", "H2O", "H2"})


def _against(book: Book, stem: str, litres: float) -> None:
    room, flow = book.number("room.m3"), book.number("hood.m3_per_min")
    keys = (f"{stem}.L",)
    if room:
        ppm = 1e6 * litres / 1000 / room
        what = "in the whole room, if all of it escaped and mixed"
        book.put(f"{stem}.room.ppm", ppm, "ppm v/v", what, "litres / room volume", (*keys, "room.m3"))
    allowed = book.number(f"{stem}.limit.m3")
    if flow and allowed:
        what = "of hood flow to carry it all off at the working limit"
        inputs = (f"{stem}.limit.m3", "hood.m3_per_min")
        book.put(f"{stem}.hood.min", allowed / flow, "min", what, "air to the limit / hood flow", inputs)


def _limit(gas: Species, names: tuple[str, ...], tables: Tables) -> LimitRow | None:
    rows = [r for r in _rows(tables) if r.formula and bare(Species.parse(r.formula)) == gas]
    for name in names:
        for row in rows:
            if row.limit == name:
                return row
    return None


def _rows(tables: Tables) -> list[LimitRow]:
    limits = tables.limits
    return [row for rows in limits.values() for row in rows]
