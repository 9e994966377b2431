"""From mole ratios to bottles: what is weighed, what limits, how much can come out.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from redoxlib.bottles import Bottle, default_bottle, read_bottle
from redoxlib.data import Tables
from redoxlib.errors import JobError, RedoxlibError
from redoxlib.job import Conversion, Job, split_shelf
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.routes._full import bare, ions

__all__ = [
    "GAS_LITRES",
    "bottle_for",
    "default_feed",
    "feed_moles",
    "litres_treated",
]

GAS_LITRES = 24.79
"""Molar gas volume at 25 C and 1 bar, L/mol (R T / p, exact to the digits shown)."""

_SODIUM, _SULFATE = Species.parse("Na^+"), Species.parse("SO4^2-")


def default_feed(conversion: Conversion) -> tuple[Species, str | None]:
    """The compound the feed ion comes as: what the text named, else the sodium salt or the sulfate."""
    from redoxlib.routes._full import salt

    if conversion.feed_compound is not None:
        return bare(conversion.feed_compound), None
    ion = bare(conversion.feed)
    if ion.charge == 0:
        return ion, None
    compound = salt(_SODIUM, ion) if ion.charge < 0 else salt(ion, _SULFATE)
    return compound, f"feed: {ion} is charged as {compound} (say feed= to change it)"


def holds(compound: Species, ion: Species) -> float:
    """How many of an ion (or of the molecule itself) one formula unit brings; 0 when none."""
    if bare(compound) == bare(ion):
        return 1.0
    return float(sum(n for n, s in ions(compound) if s == bare(ion)))


def feed_compound(conversion: Conversion, job: Job) -> tuple[Species, Bottle | None, list[str]]:
    """What the feed is and the bottle it comes from.

    Raises
    ------
    JobError
        When the declared feed does not contain the species to be oxidised.
    """
    compound, note = default_feed(conversion)
    if note and job.purpose == "remove":
        note = note.replace("is charged as", "is counted as")
    notes = [note] if note else []
    if job.feed is None:
        return compound, None, notes
    bottle = read_bottle(job.feed)
    declared = bare(bottle.solute)
    if holds(declared, conversion.feed) > 0:
        return declared, bottle, []
    shares = set(declared.elements) & (set(conversion.feed.elements) - {"O", "H"})
    if len(job.conversions) > 1:  # several conversions: the feed label may serve one of them
        return compound, None, notes
    raise JobError(
        f"the feed {job.feed!r} ({declared}) does not contain {conversion.feed}",
        source=job.feed,
        span=(0, len(job.feed)),
        hint=_other_form(declared, shares, conversion) if shares else "",
        faults=(f"feed: {job.feed!r} does not contain {conversion.feed}",),
    )


def _other_form(declared: Species, shares: set[str], conversion: Conversion) -> str:
    """What mends a feed that holds the element in another form than the conversion names."""
    told = f"it holds {', '.join(sorted(shares))}, but not as {conversion.feed}"
    for held in [bare(ion) for _, ion in ions(declared)] or [declared]:
        if shares & set(held.elements):
            return f"{told}; write the conversion of what it holds: '{held} -> {conversion.target}'"
    return told


def feed_moles(
    conversion: Conversion, job: Job, compound: Species, bottle: Bottle | None, litres: float
) -> float:
    """Moles of the species to be oxidised.

    ``litres`` is the water treated, for amounts given per litre.
    """
    amount = conversion.amount or job.amount
    per_unit = holds(compound, conversion.feed)
    if amount is None:
        if job.purpose == "remove":
            concentration = job.concentration or Quantity(1.0, "mg/L")
            return _per_litre(concentration, conversion.feed) * litres
        return 1.0
    for unit in ("mol/L", "g/L"):
        if amount.measures_like(unit):
            return _per_litre(amount, conversion.feed) * litres
    if amount.measures_like("mol"):
        return float(amount.to("mol").value)
    if amount.measures_like("g"):
        grams = float(amount.to("g").value)
        if job.purpose == "remove" and bottle is None:
            return grams / conversion.feed.molar_mass
        if bottle is not None:
            return bottle.moles_in(Quantity(grams, "g")) * per_unit
        return grams / compound.molar_mass * per_unit
    volume = float(amount.to("L").value)
    if bottle is not None:
        return bottle.moles_in(Quantity(volume * 1000, "mL")) * per_unit
    if job.concentration is not None:
        return _per_litre(job.concentration, conversion.feed) * volume
    if compound.charge == 0 and per_unit:
        try:
            return read_bottle(str(compound)).moles_in(Quantity(volume * 1000, "mL")) * per_unit
        except RedoxlibError:
            pass
    raise JobError(
        f"amount {amount} is a volume, but the feed has no strength",
        hint='give concentration=, or a feed label with its strength such as "sodium bromide 10 % w/w"',
        faults=("amount: a volume needs the strength of the feed",),
    )


def litres_treated(job: Job) -> float:
    """Litres of water a removal treats: its mass, its volume, or amount over concentration; else 1 m3."""
    if job.pot_mass is not None:
        return float(job.pot_mass.to("kg").value)  # dilute water, 1 kg/L
    if job.purpose == "remove" and job.amount is not None:
        if job.amount.measures_like("L"):
            return float(job.amount.to("L").value)
        feed = job.conversions[0].feed
        there = job.conversions[0].amount or job.concentration
        if there is not None and any(there.measures_like(unit) for unit in ("mol/L", "g/L")):
            strength = _per_litre(there, feed)
            if job.amount.measures_like("mol"):
                return float(job.amount.to("mol").value) / strength
            if job.amount.measures_like("g"):
                grams = float(job.amount.to("g").value)
                return float(grams / feed.molar_mass / strength)
    return 1000.0


def _per_litre(concentration: Quantity, feed: Species) -> float:
    if concentration.measures_like("mol/L"):
        return float(concentration.to("mol/L").value)
    return float(concentration.to("g/L").value) / feed.molar_mass


def bottle_for(
    compound: Species, job: Job, key: str, tables: Tables | None = None
) -> tuple[Bottle | None, str]:
    """The bottle on the shelf that holds a compound, else the tables' default, else the pure substance."""
    for label in job.bottles:
        bottle = read_bottle(split_shelf(label)[1])
        if bare(bottle.solute) == bare(compound):
            return bottle, label
    for what in (key, compound):
        try:
            bottle = default_bottle(what, tables=tables)
        except RedoxlibError:
            continue
        if bare(bottle.solute) == bare(compound):
            return bottle, bottle.label
    return None, str(compound)


def shelf_limit(compound: Species, job: Job) -> tuple[float, str] | None:
    """Moles of a compound on the shelf where a label states how much there is."""
    for label in job.bottles:
        amount, rest = split_shelf(label)
        if amount is None:
            continue
        bottle = read_bottle(rest)
        if bare(bottle.solute) == bare(compound):
            return bottle.moles_in(amount), label
    return None
