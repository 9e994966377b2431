"""Destroying what is left: reductant and base, their heat, the order, and the tests that show the end.

Verbs: write_quench, quench_steps.  May import: routes and below.
"""

from __future__ import annotations

from redoxlib import thermo
from redoxlib.bench._book import Book, Step
from redoxlib.bench._ends import feed_is_gone, is_organic, metal_base, oxidant_is_gone, takes_iodide
from redoxlib.bench._liquor import (
    CHROMIUM_VI,
    HALOGENS,
    SLOW_IN_BASE,
    Acid,
    Oxidant,
    acid_left,
    acid_oxidant,
    dissolved_product,
    extent_of,
    oxyanions,
    quench_half,
    quench_oxidant,
    reaction_heat,
)
from redoxlib.bench._potable import is_drunk, potable_steps, write_manganese
from redoxlib.data import Tables
from redoxlib.errors import MissingDataError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import ANODE, GAS_LITRES, Route, bare, net_ionic

__all__ = ["oxidant_heat", "scaled", "write_quench"]

_SULFITE = Equation.parse("SO3^2-(aq) + H2O(l) -> SO4^2-(aq) + 2 H^+(aq) + 2 e^-")
_SULFITE_SALT = Species.parse("Na2SO3")
_THIOSULFATE = Species.parse("Na2S2O3.5H2O")
_BICARBONATE, _CARBONATE, _SODA = (Species.parse(t) for t in ("NaHCO3", "Na2CO3", "NaOH"))

NEUTRALISATION = "H^+(aq) + OH^-(aq) -> H2O(l)"
BISULFATE = "HSO4^-(aq) + OH^-(aq) -> SO4^2-(aq) + H2O(l)"
"""The second proton of sulfuric acid meets base with its own, larger heat."""


def write_quench(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    """Reductant, base, heats and steps of the quench at the end of the batch."""
    if route.oxidant.key == ANODE:
        text = "Switch the current off; nothing is left to destroy but the product's own rest."
        off = (Step(text, "no bottle of oxidant"),)
        halogen = _halogen(book, route, tables)
        if not halogen:
            return off
        _reductant(book, halogen)
        _neutral(book, route, 2 * halogen)
        _thiosulfate(book, 0.0, halogen)
        _halogen_heat(book, route, halogen, tables)
        _neutralisation_heat(book, acid_left(route), 2 * halogen, tables)
        return (*off, *_neutral_steps(route))
    charge = route.charge("oxidant")
    if charge is None:
        return ()
    oxidant = quench_oxidant(route)
    left = max(0.0, charge.mol - charge.needed_mol * extent_of(route))
    inputs = ("charge.oxidant.mol", "charge.oxidant.needed.mol", "charge.extent")
    what = f"{charge.compound} left over"
    book.put("quench.oxidant_left.mol", left, "mol", what, "charged - needed x extent", inputs)
    active = left * oxidant.per_compound
    halogen = _halogen(book, route, tables)
    further, taken = _oxyanions(book, route)
    reductant = active * oxidant.electrons / 2 + halogen + further
    _reductant(book, reductant)
    own = active * oxidant.electrons - oxidant.protons * active
    if acid_oxidant(route) is not None:
        own = max(0.0, own)  # dilute nitrate outlasts the sulfite: its protons are all still there
    made = own + 2 * halogen + 2 * further - taken
    _neutral(book, route, made)
    if halogen:
        _thiosulfate(book, active * oxidant.electrons / 2, halogen)
    heat = oxidant_heat(route, oxidant, active, tables)
    what = "heat of destroying the oxidant left over"
    formula = "enthalpy of the quench equation x mol"
    book.put("quench.heat.kJ", heat, "kJ", what, formula, ("quench.oxidant_left.mol",))
    _halogen_heat(book, route, halogen, tables)
    _neutralisation_heat(book, acid_left(route), made, tables)
    metal = metal_base(book, route)
    steps = _steps(route, bare(oxidant.active))
    acid_first = bare(oxidant.active) in CHROMIUM_VI or bare(oxidant.active) in SLOW_IN_BASE
    steps = (*steps, *metal) if acid_first else (*metal, *steps)
    write_manganese(book, route)
    if is_drunk(route):
        return (*feed_is_gone(route), *potable_steps(route))
    steps = (*feed_is_gone(route), *steps)
    if route.job.purpose == "make" and route.product.species.phase.value == "aq":
        text = "Isolate first: this liquor holds the product; quench the mother liquor."
        if "crystal.theory.g" not in book.entries:  # nothing falls out: the solution is the product
            text = (
                "This liquor is the product, with the oxidant left over in it: keep it as it is. "
                "What follows is for liquor that is thrown away."
            )
        steps = (Step(text, "base and sulfite would go into the product"), *steps)
    return steps


def _oxyanions(book: Book, route: Route) -> tuple[float, float]:
    """Sulfite for the oxidising ions that the reaction leaves, and the protons their reduction takes."""
    sulfite = taken = 0.0
    for species, mol in oxyanions(route):
        half = quench_half(route, species)
        if half is None:
            continue
        what = f"{species} that the reaction leaves; it oxidises too"
        key = f"quench.oxyanion.{species}.mol"
        book.put(key, mol, "mol", what, "feed x coefficient ratio", ("charge.feed.mol",))
        sulfite += mol * abs(thermo.electrons_of(half)) / 2
        taken += mol * thermo.proton_count(half)
    return sulfite, taken


def _halogen(book: Book, route: Route, tables: Tables) -> float:
    if bare(route.product.species) not in HALOGENS:
        return 0.0
    dissolved, note = dissolved_product(route, tables)
    if dissolved is None:
        return 0.0
    what = "halogen that stays dissolved in the liquor"
    book.put("quench.halogen.mol", dissolved, "mol", what, note, ("pot.water.g",))
    return dissolved if isinstance(dissolved, float) else 0.0


def _reductant(book: Book, reductant: float) -> None:
    what = "sodium sulfite for oxidant and halogen left"
    formula = "electrons left / 2, down to the end, + dissolved halogen + oxidising ions"
    keys = ("quench.oxidant_left.mol", "quench.halogen.mol")
    book.put("quench.reductant.mol", reductant, "mol", what, formula, keys)
    grams = reductant * _SULFITE_SALT.molar_mass
    what = "sodium sulfite, anhydrous"
    book.put("quench.reductant.g", grams, "g", what, "mol x molar mass", ("quench.reductant.mol",))


def _neutral(book: Book, route: Route, made: float) -> None:
    what = "H+ the quench itself makes (negative: takes up)"
    formula = "2 per sulfite, less what the oxidant's own half-reaction takes"
    if acid_oxidant(route) is not None:
        formula += "; that difference not below zero: the oxidant is an acid and keeps its protons"
    book.put("quench.acid_made.mol", made, "mol", what, formula, ("quench.reductant.mol",))
    acid = acid_left(route)
    _acid(book, acid, acid_oxidant(route) is not None)
    _base(book, acid, made)


def _acid(book: Book, acid: Acid, by_oxidant: bool) -> None:
    inputs: tuple[str, ...] = ("charge.acid.mol", "charge.acid.needed.mol")
    what = "H+ left in the liquor, both protons of sulfuric acid counted"
    formula = "acid charged + acid liberated - acid used"
    if by_oxidant:
        inputs = (*inputs, "quench.oxidant_left.mol")
        formula += " + oxidant left, which is an acid"
    book.put("quench.acid_left.mol", acid.total, "mol", what, formula, inputs)
    what = "of it bound as hydrogensulfate"
    formula = "at most one per sulfuric acid charged: the equation takes first protons first"
    keys = ("quench.acid_left.mol",)
    book.put("quench.acid_left.bisulfate.mol", acid.second, "mol", what, formula, keys)


def _base(book: Book, acid: Acid, made: float) -> None:
    base = max(0.0, acid.total + made)
    keys = ("quench.acid_left.mol", "quench.acid_made.mol")
    what = "base to bring the liquor to neutral, as OH- or HCO3-"
    formula = "acid left + acid the quench makes"
    book.put("quench.base.mol", base, "mol", what, formula, keys)
    reductant = book.number("quench.reductant.mol") or 0.0
    what = "base instead, if the reductant is sodium hydrogensulfite: it brings a proton of its own"
    formula = "acid left + acid made + 1 per hydrogensulfite, not below zero"
    inputs = (*keys, "quench.reductant.mol")
    value = max(0.0, acid.total + made + reductant)
    book.put("quench.base.bisulfite.mol", value, "mol", what, formula, inputs)
    for salt, share, name in (
        (_BICARBONATE, 1.0, "sodium hydrogencarbonate"),
        (_CARBONATE, 0.5, "sodium carbonate, anhydrous"),
        (_SODA, 1.0, "sodium hydroxide"),
    ):
        grams = base * share * salt.molar_mass
        formula = f"mol x {share:g} x molar mass"
        book.put(f"quench.base.{salt}.g", grams, "g", f"that base as {name}", formula, ("quench.base.mol",))
    what = "carbon dioxide if it is hydrogencarbonate: an open vessel, twice as large as the liquor"
    litres = base * GAS_LITRES
    book.put("quench.CO2.L", litres, "L", what, f"mol x {GAS_LITRES} L/mol", ("quench.base.mol",))


def _thiosulfate(book: Book, peroxide: float, halogen: float) -> None:
    """Thiosulfate instead of sulfite: from sulfate with halogen in excess to tetrathionate.

    4 X2 + S2O3^2- + 5 H2O -> 8 X- + 2 SO4^2- + 10 H+ and X2 + 2 S2O3^2- -> 2 X- + S4O6^2-.  Peroxide
    left over is counted at 4 electrons of sulfite-equivalent per thiosulfate, as halogen is.
    """
    equivalents = halogen + peroxide
    for name, per, acid, when in (
        ("low", 0.25, 2.5, "all the way to sulfate: pH 7 to 9, halogen in excess"),
        ("high", 2.0, 0.0, "to tetrathionate: pH 4.5 to 6.5, thiosulfate in excess"),
    ):
        stem = f"quench.thiosulfate.{name}"
        keys = ("quench.halogen.mol", "quench.oxidant_left.mol")
        what = f"thiosulfate instead of sulfite, {when}"
        formula = f"{per:g} per mol of halogen or its equivalent"
        sources = ("textbook_inorganic",)
        book.put(f"{stem}.mol", equivalents * per, "mol", what, formula, keys, sources)
        grams = equivalents * per * _THIOSULFATE.molar_mass
        what = "as the pentahydrate"
        book.put(f"{stem}.g", grams, "g", what, "mol x molar mass", (f"{stem}.mol",))
        what = f"H+ that this makes, {when}"
        formula = f"{acid:g} per mol of halogen"
        book.put(f"{stem}.acid.mol", halogen * acid, "mol", what, formula, keys[:1], sources)


def _halogen_heat(book: Book, route: Route, halogen: float, tables: Tables) -> None:
    if halogen:
        target = bare(route.product.species)
        ion = str(target).removesuffix("2") + "^-"
        equation = f"{target}(aq) + SO3^2-(aq) + H2O(l) -> 2 {ion}(aq) + SO4^2-(aq) + 2 H^+(aq)"
        what = "heat of destroying the dissolved halogen"
        keys = ("quench.halogen.mol",)
        value = scaled(reaction_heat(equation, tables), halogen)
        book.put("quench.heat.halogen.kJ", value, "kJ", what, f"enthalpy of {equation} x mol", keys)


def _neutralisation_heat(book: Book, acid: Acid, made: float, tables: Tables) -> None:
    free, bound = reaction_heat(NEUTRALISATION, tables), reaction_heat(BISULFATE, tables)
    first = max(0.0, acid.total + made) - acid.second if acid.total + made > acid.second else 0.0
    second = min(acid.second, max(0.0, acid.total + made))
    inputs = ("quench.acid_left.mol", "quench.acid_left.bisulfate.mol", "quench.acid_made.mol")
    what = f"heat of neutralising {first:.3g} mol of free H+ and {second:.3g} mol of hydrogensulfate with OH-"
    formula = f"{_per(free)} kJ/mol for H+, {_per(bound)} kJ/mol for HSO4^-"
    total: Quantity | Unknown
    if isinstance(free, Quantity) and isinstance(bound, Quantity):
        spread = (free.uncertainty or 0) * first + (bound.uncertainty or 0) * second
        joules = free.value * first + bound.value * second
        total = Quantity(joules, "kJ", spread, (*free.sources, *bound.sources), "published")
    else:
        total = free if isinstance(free, Unknown) else bound
    book.put("quench.heat.neutralisation.kJ", total, "kJ", what, formula, inputs)


def _per(value: Quantity | Unknown) -> str:
    return f"{value.value:.1f}" if isinstance(value, Quantity) else "unknown"


def scaled(per_mol: Quantity | Unknown, mol: float) -> Quantity | Unknown:
    """An enthalpy per mol turned into kJ."""
    if isinstance(per_mol, Unknown):
        return per_mol
    spread = (per_mol.uncertainty or 0.0) * abs(mol)
    return Quantity(per_mol.value * mol, "kJ", spread, per_mol.sources, per_mol.basis)


def oxidant_heat(route: Route, oxidant: Oxidant, active: float, tables: Tables) -> Quantity | Unknown:
    """Heat of destroying so much active oxidant with sulfite, kJ."""
    try:
        half = quench_half(route) or route.half_reactions[1]
        # An alkaline liquor keeps the hydroxide that is made; in acid it is neutralised on the spot.
        net = net_ionic(_SULFITE, half, route.job.ph if route.job.ph >= 8 else 0.0, tables)
        dh = thermo.enthalpy(net, tables=tables)
    except MissingDataError as error:
        return Unknown(error.what or error.message, tuple(error.looked_in))
    count = sum(float(n) for n, s in net.reactants if bare(s) == bare(oxidant.active)) or 1.0
    moles = active / count
    return Quantity(dh.value * moles, "kJ", (dh.uncertainty or 0.0) * moles, dh.sources, dh.basis)


def _steps(route: Route, active: Species) -> tuple[Step, ...]:
    if active in CHROMIUM_VI or active in SLOW_IN_BASE:
        first = "Keep the liquor acid and add the sulfite as sodium hydrogensulfite, cold, in the hood."
        return (
            Step(first, f"{active} is reduced fast only in acid; some sulfur dioxide leaves"),
            takes_iodide(route)
            or Step("Test: no colour left with starch and iodide.", "the oxidant is gone"),
            Step("Only then bring it to pH 8 with base.", "base first would lock the oxidant in"),
        )
    if route.job.ph >= 8:
        poison = "acid could free a toxic gas from this feed"
        paper = "Test: starch-iodide paper (on an acidified drop in the hood) stays white."
        last = "Adjust the pH last, and only if local rules ask for it."
        return (
            Step("Leave the liquor alkaline and add the sulfite in portions.", poison),
            takes_iodide(route) or Step(paper, "the oxidant is gone"),
            Step(last, "the feed may not be fully converted"),
        )
    return _neutral_steps(route)


def _neutral_steps(route: Route) -> tuple[Step, ...]:
    lost = "sulfite in acid loses sulfur dioxide"
    if bare(route.product.species) in HALOGENS:
        lost += "; base alone turns halogen into halate"
    into = "Put sulfite and base together in cold water first, then run the liquor into it."
    if is_organic(route):
        into = "Add sulfite and base to the cold liquor in portions, no more sulfite than the test asks for."
        lost += "; ketones and aldehydes bind what is too much of it and go with the water"
    return (
        Step(into, lost),
        Step("Hold pH 7 to 9 meanwhile.", "the quench makes acid of its own"),
        *oxidant_is_gone(route),
    )
