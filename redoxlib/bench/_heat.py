"""Heat of every step side by side, what cooling and dosing make of it, and the classes still possible.

Verbs: write_heat, write_side_by_side, criticality_class, possible_classes.  Classes after Stoessel,
Thermal Safety of Chemical Processes (2008), chapter 3.  May import: routes, heat and below.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import ceil

from redoxlib import heat
from redoxlib.bench._book import Book
from redoxlib.bench._dissolve import write_dissolving
from redoxlib.bench._liquor import extent_of, grams_of_water, oxidant_of, reaction_heat
from redoxlib.bench._quench import scaled
from redoxlib.bench._rates import FAST_S, accumulation_bound, rate_terms
from redoxlib.bench._simulate import Pot, Simulation, damkoehler, fastest_dosing, simulate
from redoxlib.bench._vapour import co_distillation, liquid_fact
from redoxlib.data import Tables
from redoxlib.errors import DomainError, RedoxlibError, UnsafeRouteError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import GAS_LITRES, Route, bare

__all__ = ["criticality_class", "possible_classes", "pot_of", "write_heat", "write_side_by_side"]

_PEROXIDE = Species.parse("H2O2")
_DECOMPOSITION = "H2O2(aq) -> H2O(l) + 1/2 O2(g)"
_LONGEST_MIN = 60.0
"""Dosing time the gate counts on when it weighs a batch against its cooling, min."""

_MARGIN = 1.25
"""Dosing time over the shortest the cooling can carry, where none is declared (practice)."""


def criticality_class(process_c: float, mtsr_c: float, mtt_c: float, td24_c: float) -> int:
    """Criticality class of a cooling failure, 1 (harmless) to 5.

    Parameters
    ----------
    process_c, mtsr_c : float
        Temperature of the process and the highest the synthesis reaction reaches [C].
    mtt_c : float
        Highest temperature for technical reasons: the boiling point in an open vessel [C].
    td24_c : float
        Where decomposition takes 24 h to run away [C].

    Raises
    ------
    DomainError
        When the pot already stands above one of the limits.

    References
    ----------
    F. Stoessel, Thermal Safety of Chemical Processes, Wiley-VCH 2008, ch. 3.

    Examples
    --------
    >>> limits = ((100, 120), (110, 95), (70, 120), (70, 75), (100, 75))
    >>> [criticality_class(50, 80, mtt, td24) for mtt, td24 in limits]
    [1, 2, 3, 4, 5]
    """
    if mtsr_c < process_c or mtt_c <= process_c or td24_c <= process_c:
        raise DomainError(
            f"a pot at {process_c:g} C is already above its limits (MTSR {mtsr_c:g}, MTT {mtt_c:g}, "
            f"TD24 {td24_c:g})"
        )
    if mtsr_c < mtt_c:
        if td24_c <= mtsr_c:
            return 5
        return 1 if mtt_c < td24_c else 2
    if td24_c > mtsr_c:
        return 3
    return 4 if td24_c > mtt_c else 5


def possible_classes(mtsr_c: float, mtt_c: float) -> tuple[int, ...]:
    """Classes still possible while TD24 is unknown; the last is the one to act on.

    >>> possible_classes(60, 54)
    (3, 4, 5)
    """
    return (1, 2, 5) if mtsr_c < mtt_c else (3, 4, 5)


def write_heat(
    book: Book, route: Route, tables: Tables, dosing: Quantity | None, *, stop: bool = True
) -> Simulation | None:
    """Heat of the reaction, its rise, dosing, accumulation and simulation."""
    what = f"reaction enthalpy per mol {route.product.species}"
    formula = "sum of enthalpies of formation, products minus reactants of the net ionic equation"
    book.put("heat.reaction.per_mol", route.dH, "kJ/mol", what, formula)
    batch = heat.batch_heat(route)
    keys = ("heat.reaction.per_mol", "yield.mol")
    what = "heat of the batch (negative: given off)"
    book.put("heat.reaction.kJ", batch, "kJ", what, "per mol x mol of product", keys)
    formula = "water x 4.18 J/(g K) + the rest x 1.0 J/(g K), the latter an estimate"
    capacity = heat.pot_heat_capacity(route)
    book.put("pot.heat_capacity", capacity, "J/K", "heat capacity of the pot", formula, ("pot.g",))
    held = book.value("pot.heat_capacity")
    figures = heat.exotherm(route, tables=tables, capacity=held if isinstance(held, Quantity) else None)
    released = isinstance(figures.release_kj, Quantity) and figures.release_kj.value < 0
    own = ("heat.dissolving.oxidant.kJ",) if released else ()
    what = (
        f"adiabatic rise, {'reaction and the solid in water' if released else 'reaction alone'}, all at once"
    )
    keys = ("heat.reaction.kJ", *own, "pot.heat_capacity")
    book.put("heat.rise.K", figures.rise, "K", what, "heat / heat capacity", keys)
    what = "highest temperature if cooling fails, all reagents together"
    book.put("heat.mtsr.C", figures.mtsr, "C", what, "pot temperature + adiabatic rise", ("heat.rise.K",))
    book.put("heat.boiling.C", figures.boiling, "C", "boiling point of the real mixture", "see source")
    _classes(book, figures.mtsr, book.value("heat.boiling.C"))
    what = "diluting the acid into the pot water, beside the reaction heat"
    formula = "n [Q(r) - Q(r0)], integral heats of solution"
    keys = ("charge.acid.mol", "charge.water.g")
    book.put("heat.acid_dilution.kJ", figures.acid_dilution_kj, "kJ", what, formula, keys)
    write_dissolving(book, route, tables)
    _dosed(book)
    _decomposition(book, route, tables)
    _if_dosed_in(book, route, tables)
    return _dosing(book, route, tables, batch, dosing, stop)


def _dosed(book: Book) -> None:
    """What the dosing of the oxidant brings in all: reaction, and its own dissolving or diluting."""
    keys = ("heat.reaction.kJ", "heat.dissolving.oxidant.kJ")
    reaction, own = book.number(keys[0]), book.number(keys[1])
    if reaction is None or own is None:
        return
    what = "reaction and dissolving of the oxidant together"
    what += (
        ", what a calorimeter would see; cooling and dosing are sized on the reaction alone"
        if own > 0
        else ""
    )
    book.put("heat.dosed.kJ", reaction + own, "kJ", what, "reaction + dissolving the oxidant", keys)


def _classes(book: Book, mtsr: Quantity | Unknown, mtt: Quantity | Unknown) -> None:
    gap = mtsr if isinstance(mtsr, Unknown) else mtt if isinstance(mtt, Unknown) else None
    inputs, sources = ("heat.mtsr.C", "heat.boiling.C"), ("stoessel2008",)
    if gap is not None:
        what = "criticality class to act on; all five are possible"
        book.put("heat.class.worst", 5.0, "1", what, f"{gap.what} unknown", inputs, sources)
        return
    assert isinstance(mtsr, Quantity)
    assert isinstance(mtt, Quantity)
    classes = possible_classes(mtsr.value, mtt.value)
    best = classes[0]
    said = " or ".join(str(c) for c in classes)
    what = f"criticality class to act on: {said} are possible while TD24 is not measured"
    formula = "the worst that MTSR and the boiling point leave possible"
    book.put("heat.class.worst", float(classes[-1]), "1", what, formula, inputs, sources)
    needed = max(mtt.value, mtsr.value)
    what = f"what TD24 must be shown to exceed for class {best}"
    formula = "boiling point for class 1, MTSR for class 3"
    book.put("heat.td24_needed.C", needed, "C", what, formula, inputs, sources)


def _decomposition(book: Book, route: Route, tables: Tables) -> None:
    charge = route.charge("oxidant")
    if charge is None or bare(oxidant_of(route).active) != _PEROXIDE:
        return
    per_mol = reaction_heat(_DECOMPOSITION, tables)
    excess = max(0.0, charge.mol - charge.needed_mol) * oxidant_of(route).per_compound
    what = "the excess peroxide falling apart by itself"
    formula = f"enthalpy of {_DECOMPOSITION} x excess"
    keys = ("charge.oxidant.mol", "charge.oxidant.needed.mol")
    book.put("heat.decomposition.kJ", scaled(per_mol, excess), "kJ", what, formula, keys)
    litres = 0.5 * excess * GAS_LITRES
    what = "oxygen that sets free: never a closed vessel"
    book.put("heat.decomposition.O2.L", litres, "L", what, f"excess / 2 x {GAS_LITRES} L/mol", keys)


def pot_of(
    route: Route,
    tables: Tables,
    *,
    dose_c: float | None = None,
    capacity: float | None = None,
    boils_c: float | None = None,
) -> Pot:
    """The route as a simulation sees it; heat capacity [J/K] and boiling point [C] where known better.

    Raises
    ------
    DomainError
        When the heat is unknown or no oxidant is dosed.
    """
    charge = route.charge("oxidant")
    batch = heat.batch_heat(route)
    if charge is None or isinstance(batch, Unknown):
        raise DomainError("nothing to simulate: the heat is unknown or no oxidant is dosed")
    whole = capacity or heat.pot_heat_capacity(route).value
    dosed = 0.0
    if charge.gas_litres is None:
        own = grams_of_water(charge)
        dosed = own * heat.CP_WATER.value + (charge.grams - own) * heat.CP_SOLUTE.value
        dosed = min(dosed, 0.9 * whole)
    start = route.job.temperature_k - 273.15
    grams = charge.grams if charge.gas_litres is None else 0.0
    if boils_c is None:
        boiling = heat.boiling_point(route, tables)
        boils_c = boiling.value if isinstance(boiling, Quantity) else 100.0
    pot = Pot(
        oxidant_mol=charge.mol,
        needed_mol=charge.needed_mol * extent_of(route),
        # What another reagent leaves no use for takes no part.
        feed_mol=sum(part.feed_mol for part in route.parts) * extent_of(route),
        heat_kj=max(0.0, -batch.value),
        capacity=whole - dosed,
        dose_capacity=dosed,
        litres=max(route.pot_grams - grams, 1.0) / 1000,
        dose_litres=grams / 1000,
        start_c=start,
        dose_c=start if dose_c is None else dose_c,
        boils_c=boils_c,
        water_g=max(route.water_grams, 1.0),
        terms=rate_terms(route, tables),
        active=oxidant_of(route).per_compound,
    )
    return _with_vapour(pot, route, tables)


def _with_vapour(pot: Pot, route: Route, tables: Tables) -> Pot:
    target = bare(route.product.species)
    row = liquid_fact(target, "solubility_in_water", tables)
    if route.product.species.phase is not Phase.LIQUID or row is None or row.value > 10:
        return pot
    try:
        both = co_distillation(target, tables=tables)
    except RedoxlibError:
        return pot
    if isinstance(both.heat_kj_per_g, Unknown):
        return pot
    share = both.water_percent / 100
    own = liquid_fact(target, "cp", tables)
    return replace(
        pot,
        latent=1000 * both.heat_kj_per_g * (1 - share),
        vapour_cp=4.18 * share + (own.value if own is not None else heat.CP_SOLUTE.value) * (1 - share),
        vapour_g=route.product.grams / (1 - share),
    )


def _dosing(
    book: Book,
    route: Route,
    tables: Tables,
    batch: Quantity | Unknown,
    dosing: Quantity | None,
    stop: bool,
) -> Simulation | None:
    cooling = route.job.cooling
    watts = float(cooling.to("W").value) if cooling is not None else 0.0
    if watts and isinstance(batch, Quantity):
        # An oxidant that cools as it dissolves is not counted on; one that heats is added where it matters.
        own = min(0.0, book.number("heat.dissolving.oxidant.kJ") or 0.0)
        own = own if abs(own) > _COUNTS_FROM * abs(batch.value) else 0.0
        minutes = max(0.0, -batch.value - own) * 1000 / watts / 60
        what = "shortest dosing the declared cooling can carry"
        formula = "heat of the batch (and of dissolving the oxidant, where that heats) / cooling power"
        keys = ("heat.reaction.kJ", *(("heat.dissolving.oxidant.kJ",) if own else ()))
        book.put("dose.shortest.min", minutes, "min", what, formula, keys)
        _acid_drip(book, watts)
        _feed_portions(book, watts)
        limit = min(_LONGEST_MIN, route.job.time_s / 60)
        if minutes > 0:
            what = "how many times this batch the same cooling would still carry"
            formula = f"{limit:.4g} min, the longest dosing counted on (or the job's time), / shortest dosing"
            keys, sources = ("dose.shortest.min",), ("house",)
            book.put("dose.largest_scale", limit / minutes, "1", what, formula, keys, sources)
        if stop:
            _stop_above_cooling(book, route)  # before time is spent on simulating what cannot be done
    if dosing is not None:
        value = float(dosing.to("min").value)
        book.put("dose.min", value, "min", "dosing time declared", "declared")
        if stop:
            _stop_faster_than_cooling(book, value)
    elif (shortest := book.number("dose.shortest.min")) is not None:
        value, formula = _MARGIN * max(shortest, 1.0), f"{_MARGIN:g} x shortest, at least a minute's worth"
        keys = ("dose.shortest.min",)
        book.put("dose.min", value, "min", "dosing time planned", formula, keys, ("practice",))
    minutes_planned = book.number("dose.min")
    charge = route.charge("oxidant")
    if minutes_planned is None or charge is None or isinstance(batch, Unknown):
        return None
    if isinstance(charge.ml, float):
        what = "rate of dosing"
        rate = charge.ml / minutes_planned
        book.put("dose.mL_per_min", rate, "mL/min", what, "mL / min", ("charge.oxidant.mL", "dose.min"))
    return _simulated(book, route, tables, minutes_planned, watts)


def _stop_above_cooling(book: Book, route: Route) -> None:
    shortest, largest = book.number("dose.shortest.min"), book.number("dose.largest_scale")
    if shortest is None or largest is None or shortest <= route.job.time_s / 60:
        return
    feed = sum(part.feed_mol for part in route.parts)
    raise UnsafeRouteError(
        f"the declared cooling cannot carry this batch in the time the job allows: "
        f"it needs {shortest:.4g} min of dosing",
        hint=f"the largest scale that passes is {largest * feed:.3g} mol of feed ({largest:.2g} times this)",
    )


def _stop_faster_than_cooling(book: Book, minutes: float) -> None:
    shortest = book.number("dose.shortest.min")
    if shortest is None or minutes >= shortest:
        return
    passes = ceil(shortest * 10) / 10
    raise UnsafeRouteError(
        f"dosing in {minutes:.4g} min sets heat free faster than the declared cooling carries it away",
        hint=f"the shortest dosing that passes is {passes:g} min",
    )


def _acid_drip(book: Book, watts: float) -> None:
    dilution = book.number("heat.acid_dilution.kJ")
    if dilution is not None and dilution < 0:
        minutes = -dilution * 1000 / watts / 60
        what = "shortest time to drip the acid into the water under that cooling, before any oxidant"
        keys = ("heat.acid_dilution.kJ",)
        book.put("dose.acid.shortest.min", minutes, "min", what, "heat of dilution / cooling power", keys)


_COUNTS_FROM = 0.01
"""Share of the heat of reaction below which diluting the oxidant is lost in its uncertainty (practice)."""

_WORTH_A_LIMIT_K = 2.0
"""Rise of the whole pot from which dissolving the feed gets a time of its own, K (practice)."""


def _feed_portions(book: Book, watts: float) -> None:
    heat_kj, capacity = book.number("heat.dissolving.feed.kJ"), book.number("pot.heat_capacity")
    if heat_kj is None or not capacity or -1000 * heat_kj / capacity < _WORTH_A_LIMIT_K:
        return
    what = "shortest time to put the feed in by portions under that cooling, before any oxidant"
    keys = ("heat.dissolving.feed.kJ",)
    formula = "heat of dissolving / cooling power"
    book.put("dose.feed.shortest.min", -heat_kj * 1000 / watts / 60, "min", what, formula, keys)


@lru_cache(maxsize=64)
def _run(pot: Pot, minutes: float, watts: float) -> Simulation:
    """One simulation; the same pot is asked for many times while uncertainty is carried."""
    return simulate(pot, minutes, watts=watts)


@lru_cache(maxsize=128)
def _watched(pot: Pot, minutes: float) -> Simulation:
    """The dosing alone, without what comes after it."""
    return simulate(pot, minutes, after=0.02 * minutes)


@lru_cache(maxsize=64)
def _fastest(pot: Pot, watts: float) -> float | None:
    return fastest_dosing(pot, watts=watts)


def _simulated(book: Book, route: Route, tables: Tables, minutes: float, watts: float) -> Simulation | None:
    try:
        capacity, boils = book.number("pot.heat_capacity"), book.number("heat.boiling.C")
        pot = pot_of(route, tables, capacity=capacity, boils_c=boils)
        if pot.heat_kj <= 0 or pot.needed_mol <= 0:
            return None
        run = _run(pot, minutes, watts)
    except DomainError:
        return None
    pace = run.assumed
    keys = ("dose.min", "heat.reaction.kJ", "pot.heat_capacity")
    sources = tuple(dict.fromkeys(s for term in pot.terms for s in term.sources))
    what = "highest temperature while dosing" + ("" if watts else ", no cooling declared")
    book.put("sim.peak.C", run.peak_c, "C", what, f"semi-batch simulation; {pace}", keys, sources)
    book.put(
        "sim.converted", run.converted, "1", "converted at the end of the simulation", pace, keys, sources
    )
    number = damkoehler(pot, minutes)
    if number is not None:
        what = "reaction against dosing: far above 1, dosing governs; about 1 or less, the oxidant piles up"
        book.put(
            "dose.damkoehler", number, "1", what, f"k c t over the dosing time; {pace}", keys[:1], sources
        )
    _accumulation(book, route, pot, run, minutes, sources)
    rate = pot.heat_kj * 1000 / minutes
    what = "rise when the stirring, lost while dosing, comes back: for each minute it was lost"
    formula = "heat / dosing time / heat capacity"
    whole = pot.capacity + pot.dose_capacity
    book.put("sim.stirring_lost.K_per_min", rate / whole, "K/min", what, formula, keys)
    if watts:
        lost = _run(pot, minutes, 0.0)
        what = "highest temperature if cooling is lost from the start and dosing goes on"
        book.put("sim.cooling_lost.C", lost.peak_c, "C", what, "the same simulation without cooling", keys)
        what = "product and water boiled off by then"
        book.put(
            "sim.cooling_lost.vapour.g", lost.vapour_g[-1], "g", what, "latent heat / heat to vaporise", keys
        )
        quick = _fastest(pot, watts)
        value: float | Unknown
        value = quick if quick is not None else Unknown("dosing that governs this reaction", ("simulation",))
        what = "fastest safe dosing: within 5 K of the set point, and below boiling if cooling fails"
        formula = "shortest dosing time that the simulation passes, not below heat / cooling"
        book.put("dose.fastest.min", value, "min", what, formula, ("dose.shortest.min",), sources)
    return run


def _accumulation(
    book: Book, route: Route, pot: Pot, run: Simulation, minutes: float, sources: tuple[str, ...]
) -> None:
    value: float | Unknown
    rise = book.number("heat.rise.K")
    if pot.terms:
        value, formula = run.accumulation, f"largest in the simulation; {run.assumed}"
        if any(term.direction == "lower" for term in pot.terms):
            formula += " (a lower bound of the rate, so at most this)"
    elif route.kinetics == "fast":
        value = accumulation_bound(route.half_life_s or FAST_S, 60 * minutes)
        formula = "(1 - exp(-k t)) / (k t), half-life 10 min: what the verdict fast promises at least"
    else:
        value = Unknown(f"rate of {route.parts[0].conversion.feed} with {route.oxidant.name}", ("rates.csv",))
        formula = "no rate: count on all of it (heat.mtsr.C)"
    what = "largest share dosed but not yet reacted"
    book.put("heat.accumulation", value, "1", what, formula, ("dose.min",), sources)
    mtsr: float | Unknown = value if isinstance(value, Unknown) else 0.0
    if isinstance(value, float) and rise is not None:
        mtsr = pot.start_c + value * rise
    what = "highest temperature if cooling and dosing stop at the worst moment"
    formula = "pot temperature + accumulation x adiabatic rise"
    book.put("heat.mtsr.dosed.C", mtsr, "C", what, formula, ("heat.accumulation", "heat.rise.K"))


_TRIED = (15.0, 60.0)
"""Dosing times for which the highest temperature is told whatever is declared, min."""


def _if_dosed_in(book: Book, route: Route, tables: Tables) -> None:
    """The highest temperature after a failure, were the oxidant dosed in 15 or in 60 minutes."""
    rise = book.number("heat.rise.K")
    if rise is None or route.charge("oxidant") is None:
        return
    start = route.job.temperature_k - 273.15
    for minutes in _TRIED:
        share: float | Unknown
        share, formula = _share_dosed(route, tables, minutes)
        value = share if isinstance(share, Unknown) else start + share * rise
        what = f"highest temperature if cooling and dosing stop at the worst moment, dosed in {minutes:g} min"
        formula = f"pot temperature + accumulation x adiabatic rise; {formula}"
        book.put(f"heat.mtsr.dosed_{minutes:g}min.C", value, "C", what, formula, ("heat.rise.K",))


def _share_dosed(route: Route, tables: Tables, minutes: float) -> tuple[float | Unknown, str]:
    """Largest share dosed and not yet reacted, and how that is known."""
    gap = Unknown(f"rate of {route.parts[0].conversion.feed} with {route.oxidant.name}", ("rates.csv",))
    if not rate_terms(route, tables):
        if route.kinetics != "fast":
            return gap, "no rate: count on all of it (heat.mtsr.C)"
        how = "(1 - exp(-k t)) / (k t), half-life 10 min: what the verdict fast promises at least"
        return accumulation_bound(route.half_life_s or FAST_S, 60 * minutes), how
    try:
        pot = pot_of(route, tables)
        # Without heat of its own the pot stays where it is, and one run serves every uncertainty.
        still = replace(pot, heat_kj=0.0, capacity=1000.0, dose_capacity=0.0, vapour_g=0.0, boils_c=100.0)
        run = _watched(still, minutes)
    except DomainError:
        return gap, "no simulation of this pot"
    return run.accumulation, f"largest in the simulation at a steady temperature; {run.assumed}"


_STEPS = (
    ("reaction", "heat.reaction.kJ", "the reaction"),
    ("acid_dilution", "heat.acid_dilution.kJ", "diluting the acid"),
    ("dissolving.feed", "heat.dissolving.feed.kJ", "dissolving the feed"),
    ("dissolving.oxidant", "heat.dissolving.oxidant.kJ", "dissolving or diluting the oxidant"),
    ("dissolving.base", "heat.dissolving.base.kJ", "dissolving or diluting the base"),
    ("decomposition", "heat.decomposition.kJ", "the excess oxidant falling apart"),
    ("quench", "quench.heat.kJ", "destroying the excess oxidant"),
    ("quench_halogen", "quench.heat.halogen.kJ", "destroying the dissolved halogen"),
    ("neutralisation", "quench.heat.neutralisation.kJ", "neutralising the liquor"),
)


def write_side_by_side(book: Book, route: Route) -> None:
    """Every heat again per mol of product, per kg of pot and per batch, so that the largest shows."""
    mol, kilograms = route.product.mol, route.pot_grams / 1000
    largest: tuple[float, str] = (0.0, "")
    for name, key, words in _STEPS:
        if key not in book.entries:
            continue
        value, gap = book.number(key), book.unknown(key)
        if value is not None:
            largest = max(largest, (-value, words))
        for unit, stem, share in (("kJ/mol", "per_mol", mol), ("kJ/kg", "per_kg", kilograms)):
            written: float | Unknown = value / share if value is not None and share else gap or Unknown(key)
            target = f"heat.{name}.{stem}"
            if target not in book.entries:
                words_unit = "mol of product" if stem == "per_mol" else "kg of pot"
                book.put(target, written, unit, f"{words}, per {words_unit}", f"batch / {words_unit}", (key,))
    if largest[1]:
        what = f"the largest single heat of the batch: {largest[1]}"
        inputs = tuple(key for _, key, _ in _STEPS if key in book.entries)
        book.put("heat.largest.kJ", -largest[0], "kJ", what, "most negative of the steps", inputs)
