"""Acid or base that brings the pot to the declared pH, beyond what the equation takes.

Verbs: at_declared_ph, write_ph, hold_caution.  At the end of the reaction the protons that are left are free
or sit on the anion of the acid: P = h V + f (S + x) with f = h / (h + Ka) for hydrogensulfate or a weak acid,
so that x = (h V + f S - P) / (p - f) mol of acid with p protons are missing.  Activities are taken as
concentrations.

A pH declared as a number is charged for, and quench, heat and waste follow from the charge.  The word "acid"
means standard conditions, unit activity of H+: what that would take is told and not charged.

May import: routes and below; the rest of this package.
"""

from __future__ import annotations

from dataclasses import replace
from math import log10

from redoxlib.bench._book import Book
from redoxlib.bench._liquor import acid_left, extent_of, grams_of_water, has_second_proton, protons
from redoxlib.bottles import Bottle, read_bottle
from redoxlib.data import Tables
from redoxlib.job import acid_label, base_label
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.quantity import significant as figure
from redoxlib.routes import Charge, Part, Route, acid_made, bare, ions

__all__ = ["at_declared_ph", "hold_caution", "write_ph"]

_SULFATE, _HYDROXIDE = (Species.parse(t) for t in ("SO4^2-", "OH^-"))
_ACETIC, _ACETATE = Species.parse("CH3COOH"), Species.parse("CH3COO^-")
_MADE_ALKALINE = 9.0
"""pH from which the base of a water to be treated is told: below it is a natural water's own."""
_KA = 0.1
"""Relative error of that base from taking activities for concentrations, an estimate."""
_IDEAL = 0.25
"""Relative error of taking the activity of H+ for its concentration up to 1 mol/L, an estimate."""


def at_declared_ph(route: Route, tables: Tables) -> Route:
    """The route with the acid or base that its pH asks for, where the pH is declared as a number."""
    if not _is_number(route.job.medium) or route.job.purpose == "remove" or not _litres(route):
        return route
    acid, base = _missing(route, tables)
    if acid is not None and acid > 0:
        return _with(route, "acid", acid, acid_label(route.job))
    if base is not None and base > 0 and route.job.ph >= 7:
        return _with(route, "base", base, base_label(route.job))
    return route


def _is_number(medium: object) -> bool:
    if isinstance(medium, str):
        try:
            float(medium.strip().lower().removeprefix("ph").strip())
        except ValueError:
            return False
        return True
    return isinstance(medium, (int, float))


def _litres(route: Route) -> float:
    own = sum(grams_of_water(c) for c in route.charges if c.role != "water")
    return (route.water_grams + own) / 1000


def _missing(route: Route, tables: Tables) -> tuple[float | None, float | None]:
    """Mol of acid, and of hydroxide, that the pot lacks at the end of the reaction; None where unknown."""
    litres, ph = _litres(route), route.job.ph
    if ph >= 7:
        held = route.charge("base")
        left = 0.0
        if held is not None:
            per = float(sum(n for n, s in ions(held.compound) if s == _HYDROXIDE)) or 1.0
            left = per * max(0.0, held.mol - held.needed_mol * extent_of(route))
            return None, litres * 10.0 ** (ph - 14) / per - left / per
        return None, litres * 10.0 ** (ph - 14)
    charge = route.charge("acid")
    compound = charge.compound if charge is not None else bare(_bottle(route, "acid").solute)
    found = _weak(compound, tables)
    if found is None:
        return None, None
    return _lacking(route, compound, found, ph), None


def _lacking(route: Route, compound: Species, ka: float, ph: float) -> float:
    return _lacks(
        _litres(route), _anion(route, compound), acid_left(route).total, sum(protons(compound)), ka, ph
    )


def _lacks(litres: float, anion: float, left: float, gives: float, ka: float, ph: float) -> float:
    h = 10.0**-ph
    share = h / (h + ka) if ka else 0.0
    return float((h * litres + share * anion - left) / (gives - share))


def _weak(acid: Species, tables: Tables) -> float | None:
    """Ka of the proton that stays bound: of hydrogensulfate, of acetic acid; 0 for a strong acid."""
    name = ""
    if has_second_proton(acid):
        name = "acid_HSO4-"
    elif bare(acid) == _ACETIC:
        name = "acid_CH3COOH"
    elif str(bare(acid)) in ("HCl", "HNO3", "HBr", "HClO4", "HI"):
        return 0.0
    row = next((r for r in tables.equilibria.get(name, ()) if r.quantity == "pKa"), None)
    return None if row is None else float(10.0**-row.value)


def _anion(route: Route, acid: Species) -> float:
    """Mol of the acid's anion in the pot at the end, with a proton or without, the reaction's salts too."""
    wanted = _ACETATE if bare(acid) == _ACETIC else _SULFATE
    if wanted is _SULFATE and not has_second_proton(acid):
        return 0.0
    charge = route.charge("acid")
    total = 0.0 if charge is None else charge.mol
    for part in route.parts:
        fed = sum(float(n) for n, s in part.full.reactants if bare(s) == bare(part.feed_compound)) or 1.0
        line = next((c for c in route.charges if bare(c.compound) == bare(part.feed_compound)), None)
        scale = (line.needed_mol if line is not None else part.feed_mol) * extent_of(route) / fed
        for n, s in part.full.products:
            total += scale * float(n) * _held(s, wanted)
        for n, s in part.full.reactants:
            if bare(s) == bare(acid):
                total -= scale * float(n)
    return max(0.0, total)


def _held(compound: Species, ion: Species) -> float:
    """How many of an ion one formula brings; its acid counts as one."""
    if ion == _ACETATE and bare(compound) == _ACETIC:
        return 1.0
    return float(sum(n for n, s in ions(compound) if bare(s) == ion))


def _bottle(route: Route, role: str) -> Bottle:
    job = route.job
    return read_bottle(acid_label(job) if role == "acid" else base_label(job))


def _with(route: Route, role: str, extra: float, label: str) -> Route:
    """The charge sheet with so much more acid or base; the equation's own need stays what it was."""
    held = route.charge(role)
    note = f"beyond the equation: to pH {route.job.ph:g}"
    if held is not None:
        factor = (held.mol + extra) / held.mol
        more = replace(
            held,
            mol=held.mol * factor,
            grams=held.grams * factor,
            ml=held.ml * factor if isinstance(held.ml, float) else held.ml,
            pure_grams=held.pure_grams * factor,
            note=f"needed, excess and {extra:.3g} mol {note}",
        )
        charges = tuple(more if c is held else c for c in route.charges)
        grown = more.grams - held.grams
    else:
        bottle = _bottle(route, role)
        compound = bare(bottle.solute)
        pure = extra * compound.molar_mass
        grams, ml = bottle.amount_for(extra)
        weighed = pure if isinstance(grams, Unknown) else grams
        line = Charge(role, compound, extra, 0.0, weighed, ml, bottle, label, pure, None, note)
        at = next((i for i, c in enumerate(route.charges) if c.role == "water"), len(route.charges))
        charges = (*route.charges[:at], line, *route.charges[at:])
        grown = weighed
    pot = route.pot_grams if route.job.pot_mass is not None else route.pot_grams + grown
    return replace(route, charges=charges, pot_grams=pot)


def write_ph(book: Book, route: Route, tables: Tables, before: Route) -> None:
    """What the declared pH takes beyond the equation, and what pH the charge reaches without it.

    *before* is the route as compared; *route* the one with its pH charged for, the same one otherwise.
    """
    ph = route.job.ph
    if route.job.purpose == "remove" and _litres(route):
        _write_hold(book, route)
    if not _litres(route) or (route.job.purpose == "remove" and ph < _MADE_ALKALINE):
        return
    acid, base = _missing(before, tables)
    charged = route is not before
    fate = (
        "in the charge, the heat, the quench and the waste of this plan"
        if charged
        else "NOT charged here: the word acid means standard conditions; a number as medium charges it"
    )
    if ph < 7:
        formula = "x = (h V + f S - P) / (p - f), f = h / (h + Ka): hydrogensulfate holds its proton"
        keys = ("charge.acid.mol", "charge.acid.H.needed.mol", "pot.water.g")
        if acid is None:
            gap = Unknown("acid constant of the acid charged", ("equilibria.csv",))
            book.put("ph.acid.mol", gap, "mol", f"acid to bring the pot to pH {ph:g}", formula, keys)
            return
        spread = _IDEAL * 10.0**-ph * _litres(route)
        short = max(0.0, acid)
        value = Quantity(short, "mol", spread if short else 0.0, _constants(before, tables), "estimate")
        what = f"acid beyond the equation that holds pH {ph:g} to the end; {fate}"
        if not short:
            what = f"acid beyond the charge for pH {ph:g}: none, the charge is already more acid"
        book.put("ph.acid.mol", value, "mol", what, formula, keys)
        if acid < 0:
            _base_back(book, before, tables)
        _heat_and_base(book, before, short)
        _reached(book, before, tables)
    elif base is not None:
        what = (
            f"base beyond the equation that makes pH {ph:g}; more where the feed or the product takes it up"
        )
        formula = "10^(pH - 14) x litres - base left over"
        book.put("ph.base.mol", max(0.0, base), "mol", what, formula, ("pot.water.g",))


def _freed(route: Route) -> float:
    """Acid that a removal leaves beyond the base charged for it [mol H+].

    The full equation says it, strong acids by their protons.  A feed that is in the water already with more
    protons than the ion of the salt it is counted as, HS- counted as Na2S, brings those as well: the base
    that the salt would bring is in the declared pH.
    """
    made = 0.0
    for part in route.parts:
        made += acid_made(part) * extent_of(route)
        if route.job.feed is None:
            made += part.feed_mol * extent_of(route) * _more_protons(part)
    base = route.charge("base")
    if base is not None:
        per = float(sum(n for n, s in ions(base.compound) if s == _HYDROXIDE)) or 1.0
        made -= per * max(0.0, base.mol - base.needed_mol * extent_of(route))
    return max(0.0, made)


def _more_protons(part: Part) -> float:
    """Protons of the form that reacts, beyond those of the ion the feed's salt holds, per feed."""
    found = {bare(s) for _, s in part.net_ionic.reactants}
    for _, ion in ions(part.feed_compound):
        if bare(ion) in found:
            return 0.0
    for species in found:
        for _, ion in ions(part.feed_compound):
            own, other = dict(species.elements), dict(ion.elements)
            more = own.pop("H", 0) - other.pop("H", 0)
            if own and own == other and more and species.charge - ion.charge == more:
                return float(more)
    return 0.0


def _write_hold(book: Book, route: Route) -> None:
    """Acid that the reaction makes and base that holds the declared pH against it, where one is needed."""
    freed, litres, ph = _freed(route), _litres(route), route.job.ph
    # What takes a pot without any buffer one unit down: its free base lost, its free acid gained.
    slack = (10.0 ** (1 - ph) - 10.0**-ph + 10.0 ** (ph - 14) - 10.0 ** (ph - 15)) * litres
    if freed <= slack:
        return
    what = "acid that the reaction makes, beyond the base charged for it"
    formula = "protons of the strong acids in the full equation + those a feed brings that is there with more"
    book.put("ph.acid_made.mol", freed, "mol", what, formula, ("charge.feed.mol", "charge.extent"))
    what = "alkalinity of the water that would hold it without any base"
    keys = ("ph.acid_made.mol", "pot.water.g")
    book.put("ph.acid_made.mmol_per_L", 1000 * freed / litres, "mmol/L", what, "acid / litres", keys)
    what = f"base that holds pH {ph:g} while dosing, NOT in the charge; none of it again in the quench"
    formula = "the acid made, less what the water's own alkalinity takes (not known, counted as none)"
    book.put("ph.hold.base.mol", freed, "mol", what, formula, ("ph.acid_made.mol",))
    bottle, label = _bottle(route, "base"), base_label(route.job)
    per = float(sum(n for n, s in ions(bottle.solute) if s == _HYDROXIDE)) or 1.0
    grams, ml = bottle.amount_for(freed / per)
    inputs = ("ph.hold.base.mol",)
    formula = "mol x molar mass / mass fraction of the bottle"
    book.put("ph.hold.base.g", grams, "g", f"that base as {label}", formula, inputs, bottle.sources)
    if ml is not None:
        formula = "grams / density of the bottle"
        book.put("ph.hold.base.mL", ml, "mL", f"that base as {label}", formula, inputs, bottle.sources)


def hold_caution(book: Book, route: Route) -> tuple[str, ...]:
    """The caution that belongs to a removal which makes more acid than its water holds."""
    made, per_litre = book.number("ph.acid_made.mol"), book.number("ph.acid_made.mmol_per_L")
    if made is None or per_litre is None:
        return ()
    grams = book.number("ph.hold.base.g")
    amount = f" ({_grams_text(grams)} of {base_label(route.job)})" if grams is not None else ""
    return (
        f"This reaction makes {figure(made)} mol of acid, {figure(per_litre)} mmol per litre: hold pH "
        f"{route.job.ph:g} with base while dosing{amount}, by a meter, unless the water's own alkalinity is "
        "known to be more. All that the gate and the pace say here is said for that pH.",
    )


def _grams_text(grams: float) -> str:
    return f"{figure(grams / 1000)} kg" if grams >= 10_000 else f"{figure(grams)} g"


def _base_back(book: Book, route: Route, tables: Tables) -> None:
    """Base that brings a pot which its acid leaves too acid up to the declared pH."""
    charge = route.charge("acid")
    ka = _weak(charge.compound, tables) if charge is not None else None
    if charge is None or ka is None:
        return
    h = 10.0**-route.job.ph
    share = h / (h + ka) if ka else 0.0
    held = h * _litres(route) + share * _anion(route, charge.compound)
    what = f"base that brings the pot back up to pH {route.job.ph:g}; the acid alone goes below it"
    formula = "acid left - h V - f S, f = h / (h + Ka)"
    keys = ("quench.acid_left.mol", "pot.water.g")
    value = max(0.0, acid_left(route).total - held)
    known = Quantity(value, "mol", _KA * value, _constants(route, tables), "estimate")
    book.put("ph.base.mol", known, "mol", what, formula, keys)


def _constants(route: Route, tables: Tables) -> tuple[str, ...]:
    charge = route.charge("acid")
    names = ("acid_HSO4-",) if charge is None or has_second_proton(charge.compound) else ("acid_CH3COOH",)
    rows = [r for name in names for r in tables.equilibria.get(name, ()) if r.quantity == "pKa"]
    return tuple(rows[0].sources) if rows else ()


def _heat_and_base(book: Book, route: Route, short: float) -> None:
    from redoxlib.heat import acid_dilution

    held = route.charge("acid")
    compound = held.compound if held is not None else bare(_bottle(route, "acid").solute)
    base = sum(protons(compound)) * (book.number("ph.acid.mol") or 0.0)
    what = "base that this acid asks for at the end, both protons of sulfuric acid"
    book.put("ph.quench.base.mol", base, "mol", what, "mol x protons", ("ph.acid.mol",))
    if held is None or not held.mol or not short:
        return
    factor = 1 + short / held.mol
    more = replace(
        held, mol=held.mol * factor, grams=held.grams * factor, pure_grams=held.pure_grams * factor
    )
    all_of_it, without = acid_dilution(more, route.water_grams), acid_dilution(held, route.water_grams)
    heat: float | Unknown = Unknown("heat of diluting this acid", ("solutions.csv",))
    if isinstance(all_of_it, Quantity) and isinstance(without, Quantity):
        heat = (all_of_it.value - without.value) * base / (sum(protons(compound)) * short)
    what = "heat of diluting this acid, on top of that for the equation"
    book.put("ph.acid.heat.kJ", heat, "kJ", what, "n [Q(r) - Q(r0)], with it less without", ("ph.acid.mol",))


def _reached(book: Book, route: Route, tables: Tables) -> None:
    """The pH at which the charge of the equation and its excess leaves the pot."""
    charge = route.charge("acid")
    ka = _weak(charge.compound, tables) if charge is not None else None
    if charge is None or ka is None:
        return
    litres, anion, left = _litres(route), _anion(route, charge.compound), acid_left(route).total
    gives = sum(protons(charge.compound))
    low, high = -2.0, 7.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _lacks(litres, anion, left, gives, ka, middle) > 0 else (low, middle)
    value = Quantity(low, "1", log10(1 + _IDEAL), (), "estimate")
    what = "pH at the end with the acid of the equation and its excess alone"
    book.put("ph.reached", value, "1", what, "the same balance solved for h", ("quench.acid_left.mol",))
