"""From a job and an oxidant to what the gate looks at.

May import: routes, safety and below.
"""

from __future__ import annotations

import re

from redoxlib.bottles import Bottle, read_bottle
from redoxlib.data import OxidantRow, Tables
from redoxlib.errors import RedoxlibError
from redoxlib.job import Job, acid_label, default_concentration
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import (
    ANODE,
    Route,
    acid_made,
    bare,
    bottle_for,
    default_feed,
    ions,
    reduction_rows,
)
from redoxlib.safety import Situation

__all__ = ["situation"]

_CYANIDE = frozenset(Species.parse(t) for t in ("CN^-", "HCN"))
_SULFIDE = frozenset(Species.parse(t) for t in ("S^2-", "HS^-", "H2S"))
_NEEDS_ACID_BELOW = 5.0
_AT_ONCE = re.compile(
    r"(?<!not )\ball\b[^.;]*\bat once\b|\bin one (?:go|portion|charge|shot)\b", re.IGNORECASE
)
_PER_LITRE = re.compile(
    r"(\d+(?:\.\d+)?)\s?(?:(mg|ug|µg|g)\s?(?:/|per )\s?(?:l\b|lit(?:re|er))"
    r"|(ppm\b|ppb\b|g/m3|g/m³|parts per million))",
    re.IGNORECASE,
)
_MG = {"mg": 1.0, "ug": 1e-3, "µg": 1e-3, "g": 1e3, "ppb": 1e-3}
_NEAT = re.compile(r"\bneat\b", re.IGNORECASE)


def _heat_per_feed(route: Route) -> float | None:
    """Heat given off per mol of feed, kJ, at the unfavourable end of its uncertainty; None when unknown."""
    heat, spread, feed = 0.0, 0.0, 0.0
    for part in route.parts:
        if isinstance(part.dH, Unknown):
            return None
        heat -= part.dH.value * part.product.mol
        spread += (part.dH.uncertainty or 0.0) * part.product.mol
        feed += part.feed_mol
    return max(0.0, (heat + spread) / feed) if feed else None


def _acid_made(route: Route) -> float:
    """Strong acid among the products of the full equations, mol H+ per litre of the pot's water."""
    litres = route.liquor_grams / 1000
    return sum(acid_made(part) for part in route.parts) / litres if litres else 0.0


def _amount(job: Job, route: Route | None) -> float | None:
    """Moles of feed that the route takes, however declared; without a route, what the job says in mol."""
    if route is not None and route.parts:
        return float(sum(part.feed_mol for part in route.parts))
    if job.amount is not None and job.amount.measures_like("mol"):
        return float(job.amount.to("mol").value)
    return None


def situation(job: Job, oxidant: OxidantRow | None, tables: Tables, route: Route | None = None) -> Situation:
    """Everything the gate may know about one oxidant put to a job; what is not declared stays None.

    The route, where there is one, brings the heat and the dose.
    """
    feed, target, counter = set[Species](), set[Species](), set[Species]()
    for conversion in job.conversions:
        compound, _ = default_feed(conversion)
        feed |= {bare(conversion.feed), compound}
        counter |= {s for _, s in ions(compound)}
        # A gas stays one: a dilute solution of chlorine dioxide may be a goal, the gas may not.
        wanted = conversion.target
        target.add(wanted if wanted.phase is Phase.GAS else bare(wanted))
        if conversion.target_compound is not None:
            target.add(bare(conversion.target_compound))
    if job.feed is not None:
        solute = bare(read_bottle(job.feed).solute)
        feed.add(solute)
        counter |= {s for _, s in ions(solute)}
    acid = _acid(job)
    # Alkali counts as held in reserve only where somebody declared it.
    base = read_bottle(job.base) if job.base is not None else None
    active, held, bottle = _oxidant(job, oxidant, tables)
    concentration = _strength(job)
    amount = _amount(job, route)
    return Situation(
        feed=frozenset(feed),
        target=frozenset(target),
        counter_ions=frozenset(counter - feed),
        oxidant=frozenset(held),
        active=frozenset(active),
        acid=_solute(acid),
        base=_solute(base),
        impurities=frozenset(bare(s) for s, _ in job.impurities),
        oxidant_key=oxidant.key if oxidant is not None else None,
        ph=job.ph,
        acid_strength_w_w=_mass_fraction(acid),
        acid_undiluted=_undiluted(job, acid),
        oxidant_strength_w_w=_mass_fraction(bottle)
        if oxidant is not None and oxidant.kind == "solution"
        else None,
        oxidant_form=oxidant.kind if oxidant is not None else None,
        temperature_C=job.temperature_k - 273.15,
        vessel=job.vessel,
        addition=_addition(job, feed, held, acid, base),
        all_at_once=True if job.context is not None and _AT_ONCE.search(job.context) else None,
        concentration_mol_L=concentration,
        amount_mol=amount,
        purpose=job.purpose,
        potable=job.potable,
        room=job.context,
        cooling_W=float(job.cooling.to("W").value) if job.cooling is not None else None,
        heat_kJ_per_mol=_heat_per_feed(route) if route is not None else None,
        excess=job.excess,
        dose_mg_L=_dose(job, route),
        context=job.context,
        free_cyanide_g_L=_free_cyanide(feed, concentration),
        total_sulfide_mmol_L=1000 * concentration if concentration is not None and feed & _SULFIDE else None,
        acid_made_mol_L=_acid_made(route) if route is not None else None,
        own_rules=tuple(dict.fromkeys((*tables.own_rules, *(route.own_rules if route is not None else ())))),
    )


def _acid(job: Job) -> Bottle | None:
    """The declared acid; the usual one only where the medium calls for it."""
    needed = job.acid is not None or job.ph < _NEEDS_ACID_BELOW
    return read_bottle(acid_label(job)) if needed else None


def _solute(bottle: Bottle | None) -> frozenset[Species]:
    return frozenset({bare(bottle.solute)}) if bottle is not None else frozenset()


def _mass_fraction(bottle: Bottle | None) -> float | None:
    if bottle is None or not isinstance(bottle.mass_fraction, Quantity):
        return None
    return min(1.0, bottle.mass_fraction.value)


def _oxidant(
    job: Job, oxidant: OxidantRow | None, tables: Tables
) -> tuple[set[Species], set[Species], Bottle | None]:
    if oxidant is None or oxidant.key == ANODE or not oxidant.formula:
        return set(), set(), None
    compound = bare(Species.parse(oxidant.formula))
    active = {bare(Species.parse(row.active)) for row in reduction_rows(oxidant.key, job.ph, tables)}
    bottle, _ = bottle_for(compound, job, oxidant.key, tables)
    return active, {compound}, bottle


def _strength(job: Job) -> float | None:
    amounts = [c.amount for c in job.conversions if c.amount is not None] or [job.concentration]
    total = 0.0
    for conversion, quantity in zip(job.conversions, amounts, strict=False):
        if quantity is None:
            # The default strength is what the plan will use, so the gate must see it for a poison.
            total += default_concentration(job) if default_concentration(job) < 1 else 0.0
            continue
        if quantity.measures_like("mol/L"):
            total += float(quantity.to("mol/L").value)
        elif quantity.measures_like("g/L"):
            total += float(quantity.to("g/L").value) / conversion.feed.molar_mass
    # A feed that is a solution goes in as it stands: no declared strength thins it.
    total = max(total, _bottled(job) if job.purpose == "make" or job.concentration is None else 0.0)
    return total or None


def _bottled(job: Job) -> float:
    """Moles of the feed species in a litre of its bottle; 0 for a solid or a feed without one."""
    bottle = read_bottle(job.feed) if job.feed is not None else None
    if bottle is None or bottle.form != "solution":
        return 0.0
    if isinstance(bottle.molarity, Quantity):
        litre = float(bottle.molarity.to("mol/L").value)
    elif isinstance(bottle.mass_fraction, Quantity):  # no density: that of water
        litre = bottle.mass_fraction.value * 1000 / bottle.solute.molar_mass
    else:
        return 0.0
    parts = [(n, bare(s)) for n, s in ions(bottle.solute)] or [(1, bare(bottle.solute))]
    wanted = {bare(c.feed) for c in job.conversions}
    return litre * float(sum(n for n, s in parts if s in wanted))


def _free_cyanide(feed: set[Species], concentration: float | None) -> float | None:
    if concentration is None or not feed & _CYANIDE:
        return None
    return concentration * Species.parse("CN^-").molar_mass


def _dose(job: Job, route: Route | None) -> float | None:
    """The largest dose told in the context, such as "dose 18 mg/L", else what the route puts in [mg/L].

    A dose that is told cannot make the charge smaller that the route works out for a declared water.
    """
    charge = route.charge("oxidant") if route is not None and job.purpose == "remove" else None
    planned = None
    if charge is not None and route is not None and route.water_grams:
        planned = charge.pure_grams * 1000 / (route.water_grams / 1000)
    if job.context and re.search(r"\bdos|\badd", job.context, re.IGNORECASE):
        told = [
            float(number) * _MG.get((weight or unit).lower(), 1.0)
            for number, weight, unit in _PER_LITRE.findall(job.context)
        ]
        declared = job.concentration is not None or any(c.amount is not None for c in job.conversions)
        if told:
            return max(*told, planned) if planned is not None and declared else max(told)
    return planned


def _undiluted(job: Job, acid: Bottle | None) -> bool | None:
    """Whether the acid is used as it comes from the bottle: its label says undiluted, or neat."""
    if acid is None:
        return None
    return acid.undiluted or (job.acid is not None and _NEAT.search(job.acid) is not None)


def _addition(
    job: Job, feed: set[Species], held: set[Species], acid: Bottle | None, base: Bottle | None
) -> tuple[Species, ...] | None:
    if job.addition is None:
        return None
    roles = {"feed": feed, "oxidant": held, "acid": _solute(acid), "base": _solute(base)}
    order: list[Species] = []
    for step in job.addition:
        if step in roles:
            order += sorted(roles[step], key=str)
            continue
        try:
            order.append(bare(read_bottle(step).solute))
        except RedoxlibError:
            order.append(bare(Species.parse(step)))
    return tuple(order)
