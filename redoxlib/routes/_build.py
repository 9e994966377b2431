"""Putting one oxidant to one job.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from redoxlib import thermo
from redoxlib.bottles import Bottle
from redoxlib.data import OxidantRow, Tables, shipped
from redoxlib.errors import RedoxlibError
from redoxlib.job import Job, acid_label, base_label, default_concentration
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import _amounts as amounts
from redoxlib.routes._draft import ANODE, Draft, NoRoute, acid_of, base_of, draft
from redoxlib.routes._full import PROTON, WATER, bare, ions
from redoxlib.routes._halves import BASIC_FROM
from redoxlib.routes._route import IN_THE_WATER, Charge, Route
from redoxlib.routes._yield import DEFAULT_VOLTS, electricity, gases, part

__all__ = ["NoRoute", "build_route"]


def build_route(job: Job, oxidant: OxidantRow, *, tables: Tables | None = None) -> Route | NoRoute:
    """Work out one route: equations, energies, charge sheet, yield, gas.

    Returns
    -------
    Route or NoRoute
        The latter says why there is none: no form of the oxidant at this pH, a cell potential below
        zero, or data missing.

    Raises
    ------
    JobError
        When the feed does not contain what is to be oxidised.
    """
    tables = tables or shipped()
    ph = job.ph
    acid, base = acid_of(job), base_of(job)
    litres = amounts.litres_treated(job)
    drafts: list[Draft] = []
    for conversion in job.conversions:
        drafted = draft(job, conversion, oxidant, acid, base, litres, tables)
        if isinstance(drafted, NoRoute):
            return drafted
        drafts.append(drafted)
    worst = _worst_potential(drafts)
    if isinstance(worst, Quantity) and worst.value <= 0 and oxidant.key != ANODE:
        return NoRoute(
            oxidant,
            "infeasible",
            f"not feasible: the cell potential is negative, {worst.value:+.2f} V at pH {ph:g}"
            f"{_couples(drafts, ph, tables)}; the reaction runs the other way",
        )
    if isinstance(worst, Unknown):
        return NoRoute(oxidant, "undecided", f"E unknown: {worst.what}", worst.looked_in)
    route = _assemble(job, oxidant, drafts, worst, acid, base, litres, tables)
    if not any(part.product.grams > 0 for part in route.parts):
        target = job.conversions[0].target
        return NoRoute(
            oxidant, "infeasible", f"{oxidant.name} brings as much {target} as could be made of it"
        )
    return route


def _couples(drafts: Sequence[Draft], ph: float, tables: Tables) -> str:
    """The two couples behind a cell potential, where both are tabulated."""
    oxidation, reduction = drafts[0].halves
    try:
        top = thermo.potential(reduction, ph=ph, tables=tables).value
        bottom = thermo.potential(oxidation, ph=ph, tables=tables).value
    except RedoxlibError:
        return ""
    return f" ({top:.2f} V for the oxidant against {bottom:.2f} V)"


def _worst_potential(drafts: Sequence[Draft]) -> Quantity | Unknown:
    unknown = [d.potential for d in drafts if isinstance(d.potential, Unknown)]
    if unknown:
        return unknown[0]
    return min((d.potential for d in drafts if isinstance(d.potential, Quantity)), key=lambda q: q.value)


def _assemble(
    job: Job,
    oxidant: OxidantRow,
    drafts: Sequence[Draft],
    potential: Quantity,
    acid: Bottle,
    base: Bottle,
    litres: float,
    tables: Tables,
) -> Route:
    need: dict[str, float] = {"oxidant": 0.0, "acid": 0.0, "base": 0.0}
    notes: list[str] = []
    for d in drafts:
        if d.oxidant_compound is not None:
            need["oxidant"] += d.feed_mol * d.per_feed(d.oxidant_compound)
        already = {d.feed_compound, d.oxidant_compound}
        for role, bottle in (("acid", acid), ("base", base)):
            if bare(bottle.solute) not in already:
                need[role] += d.feed_mol * d.per_feed(bottle.solute)
        notes += d.notes
    if job.ph < BASIC_FROM:
        released = sum(
            d.feed_mol * d.per_feed(d.oxidant_compound) * float(d.release_protons)
            for d in drafts
            if d.oxidant_compound is not None
        )
        floor = released / _protons_of(acid)
        if floor > need["acid"] + 1e-12 and job.purpose == "make":
            need["acid"] = floor
            notes.append("the acid charged takes up the alkali that the oxidant's bottle brings")
    margin = 1.0 + job.excess
    charges: list[Charge] = []
    for d in drafts:
        per_unit = d.per_feed(d.feed_compound)
        charges.append(
            _charge(
                "feed",
                d.feed_compound,
                d.feed_mol * per_unit,
                d.feed_mol * per_unit,
                d.feed_bottle,
                job.feed or str(d.feed_compound),
                IN_THE_WATER if job.purpose == "remove" else "taken as pure",
            )
        )
    compound = drafts[0].oxidant_compound
    if compound is not None:
        shelf, label = amounts.bottle_for(compound, job, oxidant.key, tables)
        charges.append(_charge("oxidant", compound, need["oxidant"] * margin, need["oxidant"], shelf, label))
    for role, bottle, label in (
        ("acid", acid, acid_label(job)),
        ("base", base, base_label(job)),
    ):
        if need[role] > 0:
            charges.append(_charge(role, bare(bottle.solute), need[role] * margin, need[role], bottle, label))
    charges, limiting, extent = _limit(charges, job)
    water = _water_grams(job, drafts, litres)
    notes += _acid_note(job, charges, water)
    if water:
        charges.append(
            Charge("water", WATER, water / WATER.molar_mass, 0.0, water, water, None, "water", water)
        )
    pot = _pot_grams(job, charges)
    parts = tuple(part(d, extent, job, tables) for d in drafts)
    leaving = gases(drafts, extent)
    power = None
    if oxidant.key == ANODE:
        power = electricity(drafts, extent, job.volts or DEFAULT_VOLTS)
    return Route(
        oxidant=oxidant,
        job=job,
        parts=parts,
        charges=tuple(charges),
        limiting=limiting,
        gases=leaving,
        pot_grams=pot,
        water_grams=water,
        cell_potential=potential,
        electricity=power,
        notes=tuple(dict.fromkeys(notes)),
        own_rules=tables.own_rules,
    )


def _protons_of(acid: Bottle) -> float:
    """H+ one formula of an acid gives, at least one: a weak acid gives its proton to hypochlorite."""
    return max(1.0, float(sum(n for n, s in ions(acid.solute) if s == PROTON)))


def _acid_note(job: Job, charges: Sequence[Charge], water: float) -> list[str]:
    """Say so where the acid charged does not by itself make the declared pH."""
    acid = next((c for c in charges if c.role == "acid"), None)
    if job.purpose == "remove" or acid is None or not water or job.ph > _NOTE_BELOW:
        return []
    made, wanted = acid.mol / (water / 1000), 10.0**-job.ph
    if wanted / 2 < made < wanted * 2:
        return []
    return [
        f"E is for pH {job.ph:g}; the acid charged, {made:.2g} mol/L at the start, covers the equation and "
        "its excess: measure the pH and hold it"
    ]


_NOTE_BELOW = 3.0
"""Only at such a pH is it the acid of the charge that sets it."""


_WATER_DENSITY = 0.998  # g/mL at 20 C


def _charge(
    role: str,
    compound: Species,
    mol: float,
    needed: float,
    bottle: Bottle | None,
    label: str,
    note: str = "taken as pure",
) -> Charge:
    pure = mol * compound.molar_mass
    if bottle is None:
        return Charge(role, compound, mol, needed, pure, None, None, label, pure, note=note)
    weighed, ml = bottle.amount_for(mol)
    litres = mol * amounts.GAS_LITRES if bottle.form == "gas" else None
    grams, note = pure, ""
    if isinstance(weighed, Unknown):
        # The label gives only a volume strength: what is dissolved is known, what it is dissolved in is not.
        # A solution is no lighter than its water, though, and that water is in the pot.
        grams = max(pure, ml * _WATER_DENSITY) if isinstance(ml, float) else pure
        note = f"{weighed.what} unknown, counted " + ("as water" if grams > pure else "as the pure substance")
    else:
        grams = weighed
    return Charge(role, compound, mol, needed, grams, ml, bottle, label, pure, litres, note)


def _limit(charges: list[Charge], job: Job) -> tuple[list[Charge], str, float]:
    """Cut each charge to what the shelf holds and find what then limits, over all reagents."""
    extent, limiting = 1.0, "feed"
    cut: list[Charge] = []
    for c in charges:
        held = amounts.shelf_limit(c.compound, job)
        if held is not None and held[0] < c.mol:
            c = _charge(c.role, c.compound, held[0], c.needed_mol, c.bottle, held[1])
            c = replace(c, note="all that is on the shelf")
        if c.needed_mol and c.mol / c.needed_mol < extent - 1e-12:
            extent, limiting = c.mol / c.needed_mol, c.role
        cut.append(c)
    return cut, limiting, extent


def _water_grams(job: Job, drafts: Sequence[Draft], litres: float) -> float:
    if job.purpose == "remove":
        return litres * 1000.0
    if job.acid is not None and acid_of(job).undiluted:
        return 0.0
    d = drafts[0]
    if d.feed_bottle is not None and d.feed_bottle.form == "solution":
        return 0.0  # the feed brings its own water
    concentration = job.concentration or Quantity(default_concentration(job), "mol/L")
    if concentration.measures_like("mol/L"):
        per_litre = float(concentration.to("mol/L").value)
    else:
        per_litre = float(concentration.to("g/L").value) / d.conversion.feed.molar_mass
    return sum(x.feed_mol for x in drafts) / per_litre * 1000.0


def _pot_grams(job: Job, charges: Sequence[Charge]) -> float:
    """Mass of the pot [g]: as declared, or all that is charged; of a removal the water and the rest."""
    if job.pot_mass is not None and job.purpose != "remove":
        return float(job.pot_mass.to("g").value)
    return sum(c.grams for c in charges if c.gas_litres is None)
