"""What is charged, in which order, and how an ageing bottle is measured first.

Verbs: write_charge, write_product, write_assay, solids, order.  May import: routes and below.
"""

from __future__ import annotations

from dataclasses import replace

from redoxlib.bench._book import Book, Step
from redoxlib.bench._liquor import extent_of, grams_of_water, has_second_proton, protons
from redoxlib.bottles import assay_by_titration
from redoxlib.errors import MissingDataError
from redoxlib.job import base_label
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.quantity import significant as figure
from redoxlib.routes import ANODE, GAS_LITRES, IN_THE_WATER, Charge, Route, bare

__all__ = ["amount_of", "grams_text", "order", "solids", "write_assay", "write_charge", "write_product"]

_SAME = 1e-6

_TITRE = 0.030
"""Litres of titrant a good titration uses, L."""

_TITRANTS = {"MnO4^-": ("potassium permanganate", 0.0200), "S2O3^2-": ("sodium thiosulfate", 0.100)}
_SODA = Species.parse("NaOH")


_HYPOCHLORITE = frozenset(Species.parse(t) for t in ("NaClO", "KClO", "ClO^-", "HClO"))
_CL2 = Species.parse("Cl2").molar_mass


def write_charge(book: Book, route: Route) -> None:
    """Every charge in mol, grams and millilitres, the excess once, the acid by first and second proton."""
    for charge in route.charges:
        name = f"charge.{charge.role}"
        if f"{name}.mol" in book.entries:  # a second conversion brings a second feed
            name = f"{name}.{charge.compound}"
        if charge.role == "water":
            book.put(f"{name}.g", charge.grams, "g", "water for the pot", "feed / declared concentration")
            continue
        _one(book, charge, name)
        _bottle(book, charge)
    pot = "sum of everything charged, gases left out"
    if route.job.purpose == "remove":
        pot = "water to be treated and what it holds + everything charged, gases left out"
    elif route.job.pot_mass is not None:
        pot = "declared in the job"
    book.put("pot.g", route.pot_grams, "g", "mass of the pot", pot)
    water = route.water_grams + sum(grams_of_water(c) for c in route.charges if c.role != "water")
    book.put("pot.water.g", water, "g", "water in the pot", "water charged + water the bottles bring")
    _margins(book, route)
    _protons(book, route)


def _one(book: Book, charge: Charge, name: str) -> None:
    needs = "feed moles x coefficient ratio of the full equation"
    book.put(
        f"{name}.needed.mol", charge.needed_mol, "mol", f"{charge.compound} the equation asks for", needs
    )
    how = "needed x (1 + excess)" if charge.role != "feed" else "declared amount"
    what = f"{charge.compound} {charge.note if charge.note == IN_THE_WATER else 'to charge'}"
    book.put(f"{name}.mol", charge.mol, "mol", what, charge.note or how, (f"{name}.needed.mol",))
    sources = charge.bottle.sources if charge.bottle is not None else ()
    formula = "mol x molar mass / mass fraction of the bottle"
    book.put(f"{name}.g", charge.grams, "g", f"of {charge.label}", formula, (f"{name}.mol",), sources)
    if charge.ml is not None:
        celsius = f" at {charge.bottle.celsius:g} C" if charge.bottle is not None else ""
        formula = f"grams / density of the bottle{celsius}"
        book.put(f"{name}.mL", charge.ml, "mL", f"of {charge.label}", formula, (f"{name}.g",), sources)
    if charge.gas_litres is not None:
        what = f"of {charge.compound} gas at 25 C and 1 bar"
        formula = f"mol x {GAS_LITRES} L/mol"
        book.put(f"{name}.L", charge.gas_litres, "L", what, formula, (f"{name}.mol",))


def _bottle(book: Book, charge: Charge) -> None:
    """What the label of a bottle means: grams in 100 g, moles in a litre, grams in a millilitre."""
    bottle, stem = charge.bottle, f"bottle.{charge.role}"
    if bottle is None or bottle.form == "gas" or f"{stem}.percent" in book.entries:
        return
    share, density, molarity = bottle.mass_fraction, bottle.density, bottle.molarity
    what = f"{charge.label!r} means so much {bare(bottle.solute)} in 100 g"
    if isinstance(share, Quantity):
        told = Quantity(
            100 * share.value, "% w/w", 100 * (share.uncertainty or 0.0), share.sources, share.basis
        )
        book.put(f"{stem}.percent", told, "% w/w", what, "the label read by its own basis")
    else:
        book.put(f"{stem}.percent", share, "% w/w", what, "the label states no strength by mass")
    if isinstance(density, Quantity):
        what = f"density of that bottle at {bottle.celsius:g} C"
        book.put(f"{stem}.density", density, "g/mL", what, "density curve or row of the table")
    if isinstance(molarity, Quantity):
        what = f"{bottle.active} in a litre of it" if bottle.active_per_formula == 1 else "in a litre of it"
        inputs = (f"{stem}.percent", f"{stem}.density")
        book.put(f"{stem}.mol_per_L", molarity, "mol/L", what, "% w/w x 10 x density / molar mass", inputs)
        if bottle.active in _HYPOCHLORITE:
            chlorine = molarity * (bottle.active_per_formula * _CL2)
            told = replace(chlorine, unit="g/L")
            what = "available chlorine in a litre of it: what a trade percentage counts, ten grams for each"
            key = f"{stem}.chlorine_g_per_L"
            book.put(key, told, "g/L", what, "mol/L x 70.9 g/mol, one Cl2 per hypochlorite", inputs)


def _margins(book: Book, route: Route) -> None:
    for role in ("oxidant", "acid", "base"):
        charge = route.charge(role)
        if charge is None or not charge.needed_mol:
            continue
        stem = f"charge.{role}"
        what = f"{role} beyond what the equation takes, stated here and nowhere else"
        inputs = (f"{stem}.mol", f"{stem}.needed.mol")
        book.put(f"{stem}.excess", charge.mol / charge.needed_mol - 1, "1", what, "mol / needed - 1", inputs)
    shares = [c.role for c in route.charges if c.needed_mol]
    if shares:
        what = f"share of the feed that can react; {route.limiting} limits, over all reagents"
        formula = "smallest mol / needed of all reagents, at most 1"
        keys = tuple(f"charge.{role}.mol" for role in dict.fromkeys(shares))
        book.put("charge.extent", extent_of(route), "1", what, formula, keys)


def _protons(book: Book, route: Route) -> None:
    charge = route.charge("acid")
    if charge is None:
        return
    one, two = protons(charge.compound)
    needed = charge.needed_mol * (one + two)
    inputs = ("charge.acid.mol", "charge.acid.needed.mol")
    book.put(
        "charge.acid.H.needed.mol", needed, "mol", "H+ the equation takes", "acid needed x protons", inputs
    )
    first = one * charge.mol
    what = f"H+ of {charge.compound}, first proton"
    book.put("charge.acid.H.first.mol", first, "mol", what, "mol x first protons per formula", inputs[:1])
    if not has_second_proton(charge.compound):
        return
    what = "H+ bound in hydrogensulfate, second proton"
    book.put("charge.acid.H.second.mol", two * charge.mol, "mol", what, "mol x second protons", inputs[:1])
    used = max(0.0, needed - first)
    what = "H+ that the second proton has to give; each is bound, so the pH rises as it is used"
    formula = "H+ needed - first protons, not below zero"
    keys = ("charge.acid.H.needed.mol", "charge.acid.H.first.mol")
    book.put("charge.acid.H.second.used.mol", used, "mol", what, formula, keys)


def write_product(book: Book, route: Route) -> None:
    """The largest yield of every part."""
    for number, part in enumerate(route.parts):
        stem = "yield" if number == 0 else f"yield.{part.product.compound}"
        p = part.product
        what = f"largest yield of {p.compound}"
        if abs(p.grams / (p.mol * p.compound.molar_mass) - 1) > _SAME:
            # A salt with several of the ion, Fe2(SO4)3 say: the mol are those of the ion.
            what = f"largest yield of {bare(p.species)}, by mass as {p.weighed_as}"
        book.put(f"{stem}.mol", p.mol, "mol", what, f"extent limited by {route.limiting}")
        book.put(f"{stem}.g", p.grams, "g", what, "mol x molar mass", (f"{stem}.mol",))
        if p.ml is not None:
            book.put(f"{stem}.mL", p.ml, "mL", what, f"grams / {p.density_note}", (f"{stem}.g",))
    fallen = solids(route)
    if route.job.purpose == "remove" and len(fallen) > 1 and bare(route.product.species) in fallen:
        grams = sum(mol * species.molar_mass for species, mol in fallen.items())
        what = f"largest mass of all solids on one filter: {' and '.join(str(s) for s in fallen)}"
        formula = "sum over the net ionic equations of mol x molar mass, dry"
        book.put("yield.solids.g", grams, "g", what, formula, ("yield.mol", "charge.extent"))


def solids(route: Route) -> dict[Species, float]:
    """Every solid that the reactions make, the oxidant's own too [mol]."""
    found: dict[Species, float] = {}
    for part in route.parts:
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == feed) or 1.0
        for n, s in part.net_ionic.products:
            if s.phase.value == "s":
                made = part.feed_mol * extent_of(route) * float(n) / fed
                found[bare(s)] = found.get(bare(s), 0.0) + made
    return found


def write_assay(book: Book, route: Route) -> tuple[Step, ...]:
    """The titration that tells what an ageing oxidant still holds, with the sample that suits the burette."""
    charge = route.charge("oxidant")
    if charge is None or charge.bottle is None or charge.gas_litres is not None:
        return ()
    active = charge.bottle.active
    try:
        unit = assay_by_titration(
            active,
            titrant=Quantity(1.0, "mol/L"),
            titre=Quantity(1.0, "mL"),
            sample=Quantity(1e6, "mL"),
        )
    except MissingDataError:
        return ()
    titrant = next((t for t in _TITRANTS if t in unit.reaction), None)
    if titrant is None:
        return ()
    name, strength = _TITRANTS[titrant]
    moles = _TITRE * strength * unit.factor
    how = f"30 mL x {strength:g} mol/L {name} x {unit.factor:g} ({unit.reaction})"
    book.put(
        "assay.oxidant.mol", moles, "mol", f"{active} that uses 30 mL of titrant", how, (), ("practice",)
    )
    molarity = charge.bottle.molarity
    if isinstance(molarity, Quantity):
        ml = 1000 * moles / molarity.to("mol/L").value
        by = (molarity.uncertainty or 0.0) / molarity.value
        aliquot = Quantity(ml, "mL", ml * by, molarity.sources, molarity.basis)
        what = "of the bottle in the aliquot titrated (dilute a larger sample to take so little)"
        inputs = ("assay.oxidant.mol",)
        book.put("assay.oxidant.mL", aliquot, "mL", what, "mol / label strength", inputs, molarity.sources)
    else:
        per_mol = charge.bottle.grams_per_active_mol
        inputs = ("assay.oxidant.mol",)
        what = "of the bottle to weigh for one titration"
        share = charge.bottle.mass_fraction
        grams = Quantity(moles * per_mol, "g", None, charge.bottle.sources)
        if isinstance(share, Quantity) and share.uncertainty:
            by = share.uncertainty / share.value
            grams = Quantity(grams.value, "g", grams.value * by, share.sources, share.basis)
        book.put("assay.oxidant.g", grams, "g", what, "mol x grams per mol", inputs)
    reason = "a bottle older than its assay holds less than its label, and then too little is charged"
    return (
        Step(f"Titrate {charge.label} with {strength:g} mol/L {name}: {unit.reaction}.", reason),
        Step(
            f"Write the strength found into the job's bottles, in place of {charge.label!r}, and plan again.",
            "charge, excess and quench then follow from what is really there",
        ),
    )


def order(route: Route, book: Book | None = None) -> tuple[Step, ...]:
    """The plan's own order: oxidant last, acid never onto oxidant, water never into acid.

    With the numbers of a *book*, the base that the declared pH asks for is said where it goes in.
    """
    ph_base = book.number("ph.base.mol") if book is not None else None
    reached = book.number("ph.reached") if book is not None else None
    if route.job.addition is not None:
        return tuple(Step(f"Add {step}.", "order declared in the job") for step in route.job.addition)
    held = _held_while_dosing(route, book)
    steps: list[Step] = [
        Step("Have the quench weighed out and dissolved.", "it must be ready before the oxidant is opened")
    ]
    acid, base, oxidant = route.charge("acid"), route.charge("base"), route.charge("oxidant")
    treated = route.job.purpose == "remove" and route.job.feed is None  # the feed is in the water already
    if treated and route.water_grams:
        feeds = " and ".join(
            f"{figure(part.feed_mol)} mol of {bare(part.conversion.feed)}" for part in route.parts
        )
        text = f"The water to be treated, {grams_text(route.water_grams)}, into the open vessel."
        steps.append(Step(text, f"it holds the feed, {feeds}; none is weighed"))
    elif route.water_grams:
        text = f"Water, {grams_text(route.water_grams)}, into the open vessel."
        steps.append(Step(text, "everything else goes into it"))
    if base is not None or route.job.ph >= 8:
        steps.append(_base_first(route, base, ph_base, "oxidant" if treated else "feed"))
    fed = [
        Step(f"{amount_of(charge)}.", "the reductant is there before any oxidant")
        for charge in route.charges
        if charge.role == "feed" and not treated
    ]
    if acid is not None:
        # A feed that is a solution brings all the water: then the acid goes into it.
        into, first = ("water", []) if route.water_grams or not fed else ("liquor", fed)
        text = f"{amount_of(acid)} slowly into the {into}, stirred and cooled."
        steps.extend(first)
        steps.append(Step(text, f"acid into {into}, never the reverse; it has a heat of its own"))
        fed = [] if first else fed
    steps.extend(fed)
    if acid is not None and ph_base and route.job.ph < 7:
        text = f"Base to pH {route.job.ph:g} by the meter, about {figure(ph_base)} mol of OH- (or a buffer)."
        alone = f"pH {reached:.1f}" if reached is not None else "a lower pH"
        steps.append(Step(text, f"the acid alone would leave the pot at {alone}"))
    if held is not None:
        steps.append(held)
    if oxidant is not None:
        text = f"{amount_of(oxidant)} last, in portions or dropwise, watching the temperature."
        if oxidant.gas_litres is not None:
            gas = f"{figure(oxidant.gas_litres)} L of {oxidant.compound} at 25 C and 1 bar"
            text = f"Lead in {oxidant.label} last, below the surface and slowly, watching the temperature: "
            text += f"{gas}, {amount_of(oxidant)}; what leaves unused comes on top."
        steps.append(Step(text, "what is dosed last is what can be stopped"))
    elif route.oxidant.key == ANODE:
        text = "Switch the current on; set it by the cooling and the ventilation."
        steps.append(Step(text, "hydrogen leaves at the cathode"))
    return tuple(steps)


_ALL_FIRST_FROM = 10.0
"""pH from which the whole base may stand in the pot first; below it that would overshoot by far."""


def _base_first(route: Route, base: Charge | None, ph_base: float | None, before: str) -> Step:
    """The base that stands before the oxidant, with its amount: what the equation uses, what makes the pH."""
    ph = route.job.ph
    reason = "the feed must never meet acid"
    to_ph = ""
    if ph_base and route.job.purpose == "remove":  # else it is in the charge
        soda = grams_text(ph_base * _SODA.molar_mass)
        to_ph = f"{figure(ph_base)} mol of OH- ({soda} of NaOH)"
    if base is None or not base.needed_mol:
        text = f"Bring the water to pH {ph:g} with base before the {before}"
        if base is not None:
            text += f": {amount_of(base)}"
        elif to_ph:
            text += f": {to_ph}, more if a pH meter asks for it"
        return Step(f"{text}.", reason)
    used = f"the reaction uses {figure(base.needed_mol)} mol of {base.compound} of it"
    if ph < _ALL_FIRST_FROM:
        text = (
            f"Bring the water to pH {ph:g} by the meter, before the {before}, with a little of the "
            f"{amount_of(base)}; the rest goes in beside the oxidant and holds that pH."
        )
        return Step(text, f"{used}: all at once would make the pot caustic, too little lets it turn acid")
    text = f"{amount_of(base)} into the water before the {before}; then to pH {ph:g} by the meter"
    if to_ph:
        text += f", about {to_ph} more"
    return Step(f"{text}.", f"{reason}; {used}")


def _held_while_dosing(route: Route, book: Book | None) -> Step | None:
    """Base for the acid that a removal makes, beside the oxidant as the pH asks."""
    mol = book.number("ph.hold.base.mol") if book is not None else None
    if book is None or not mol:
        return None
    amount = f"{figure(mol)} mol of OH-"
    grams, ml = book.number("ph.hold.base.g"), book.number("ph.hold.base.mL")
    if grams is not None:
        measured = f"{figure(ml)} mL ({grams_text(grams)})" if ml is not None else grams_text(grams)
        amount += f", {measured} of {base_label(route.job)}"
    if route.job.ph >= _ALL_FIRST_FROM:
        text = (
            f"Another {amount} into the water before the oxidant; then hold pH {route.job.ph:g} by the meter."
        )
        return Step(text, "the reaction uses that much base up; the feed must never meet acid")
    text = f"Hold pH {route.job.ph:g} by the meter while the oxidant goes in: up to {amount}, well diluted."
    return Step(text, "the reaction makes that much acid; what the water's own alkalinity takes is saved")


def amount_of(charge: Charge) -> str:
    """Amount and label of a charge, as one says it at the bench."""
    amount = grams_text(charge.grams)
    if isinstance(charge.ml, float):
        amount = f"{figure(charge.ml)} mL ({amount})"
    return f"{amount} of {charge.label}"


def grams_text(grams: float) -> str:
    """Grams, or kilograms from ten of them on."""
    return f"{figure(grams / 1000)} kg" if grams >= 10_000 else f"{figure(grams)} g"
