"""Criteria in units, fixed scales, weighted order, ties.

Verbs: measure, score, rank, SCALES.  The scales are fixed and printed: nothing is stretched to fit the
candidates, so adding one alternative never reverses two others.

May import: channels, heat, routes and below.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import log10

from redoxlib._tiers import TIERS, UNCLASSIFIED_TIER
from redoxlib.channels import side_risk, tier_of
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError
from redoxlib.heat import exotherm
from redoxlib.job import CRITERIA, Job
from redoxlib.measures import ByProduct, ByProducts, MassEfficiency, Score
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Part, Route, bare

__all__ = ["REMOVE_MASS", "SCALES", "TIE_POINTS", "Scale", "measure", "rank", "scales_for", "score"]

TIE_POINTS = 1.0
"""Totals closer than this (of 100), or than their joint uncertainty, count as a tie."""

_WATER = Species.parse("H2O")
_CMR = frozenset(
    code for code, tier in TIERS.items() if tier == 30 and code.startswith(("H34", "H35", "H36"))
)


@dataclass(frozen=True, slots=True)
class Scale:
    """How one criterion in units becomes penalty points from 0 to 100.

    ``kind`` "log" puts ``best`` at 0 and ``worst`` at 100 on a logarithm of (value + offset).
    """

    criterion: str
    unit: str
    kind: str
    best: float
    worst: float
    offset: float = 0.0

    def points(self, value: float) -> float:
        """Penalty points of a value, held within 0 and 100."""
        if self.kind == "log":
            low, high = log10(self.best + self.offset), log10(self.worst + self.offset)
            raw = (log10(max(value, self.best) + self.offset) - low) / (high - low)
        else:
            raw = (value - self.best) / (self.worst - self.best)
        return 100.0 * min(1.0, max(0.0, raw))

    def __str__(self) -> str:
        how = "logarithmic" if self.kind == "log" else "linear"
        shift = f" of (value + {self.offset:g})" if self.offset else ""
        return f"{self.criterion}: {self.best:g} {self.unit} is 0 points, {self.worst:g} is 100, {how}{shift}"


SCALES: Mapping[str, Scale] = {
    "mass": Scale("mass", "kg in per kg product, without water", "log", 1.0, 100.0),
    "by_products": Scale("by_products", "g times tier per mol product", "log", 0.0, 10_000.0, 10.0),
    "exotherm": Scale("exotherm", "K adiabatic rise", "linear", 0.0, 200.0),
    "side_risk": Scale("side_risk", "mol times tier per mol product, high end", "log", 0.0, 30.0, 1.0),
}
"""The four scales; for "remove" jobs mass is grams of chemicals and sludge per gram removed."""

REMOVE_MASS = Scale("mass", "g chemicals and sludge per g removed", "log", 0.1, 100.0)


def scales_for(job: Job) -> dict[str, Scale]:
    """The four scales a job is scored on."""
    return {**SCALES, "mass": REMOVE_MASS} if job.purpose == "remove" else dict(SCALES)


def measure(route: Route, *, tables: Tables | None = None) -> Route:
    """Return the route with its four criteria filled in."""
    tables = tables or shipped()
    return replace(
        route,
        mass_efficiency=_mass(route),
        by_products=_by_products(route, tables),
        exotherm=exotherm(route, tables=tables),
        side_risk=side_risk(route, tables=tables),
    )


def _mass(route: Route) -> MassEfficiency:
    product = sum(p.product.grams for p in route.parts)
    charged = [c for c in route.charges if c.role != "water"]
    needed = sum(_taken(p) for p in route.parts)
    pure = sum(c.pure_grams for c in charged)
    carried = sum(_carrier_gas(c.label, c.pure_grams, c.grams) for c in charged if c.gas_litres is not None)
    bottled = sum(c.grams for c in charged)
    moles = sum(p.feed_mol for p in route.parts) or 1.0
    removed = sum(p.feed_mol * bare(p.conversion.feed).molar_mass for p in route.parts) or 1.0
    chemicals = sum(c.pure_grams for c in charged if c.role != "feed") + carried
    sludge = _sludge(route)
    if route.job.purpose == "remove":
        ranked, unit = (chemicals + sludge) / removed, "g chemicals and sludge per g removed"
    else:
        ranked, unit = (pure + carried) / product, "kg/kg without water"
    return MassEfficiency(
        atom_economy=product / needed if needed else 0.0,
        reaction_mass_efficiency=product / pure if pure else 0.0,
        pmi_dry=(pure + carried) / product,
        pmi_wet=(bottled + route.water_grams) / product,
        chemicals_g_per_mol=chemicals / moles,
        sludge_g_per_mol=sludge / moles,
        ranked=ranked,
        unit=unit,
    )


def _taken(part: Part) -> float:
    """Mass of all reactants of the full equation, water that reacts included, for the feed of a part."""
    feed = _count(part.full.reactants, part.feed_compound) or 1.0
    moles = part.feed_mol / _ions_in(part.feed_compound, bare(part.conversion.feed))
    return sum(float(n) * s.molar_mass for n, s in part.full.reactants) * moles / feed


def _carrier_gas(_label: str, pure: float, grams: float) -> float:
    """Mass of the gas an oxidising gas comes diluted in (oxygen round ozone); air is free and not counted."""
    return max(0.0, grams - pure) if grams < 20 * pure and "air" not in _label else 0.0


def _sludge(route: Route) -> float:
    """Grams of solid that leave the water: the oxidised feed and what the oxidant turns into."""
    total = 0.0
    for part in route.parts:
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == feed) or 1.0
        for n, s in part.net_ionic.products:
            if s.phase is Phase.SOLID:
                total += part.feed_mol * float(n) / fed * s.molar_mass
    return total


def _by_products(route: Route, tables: Tables) -> ByProducts:
    made = route.product.mol or 1.0
    items: list[ByProduct] = []
    unknown: list[Unknown] = []
    low = 0.0

    def add(
        species: Species, what: str, mol: float, share: float = 1.0, strength: float | None = None
    ) -> None:
        nonlocal low
        if mol <= 0:
            return
        tier, codes, sources = tier_of(species, tables, strength=strength)
        grams = mol * species.molar_mass
        if tier is None:
            unknown.append(Unknown(f"hazard statements of {species}", ("hazards.csv",)))
            items.append(
                ByProduct(
                    species, what, mol, grams, UNCLASSIFIED_TIER, (), (), grams * UNCLASSIFIED_TIER * share
                )
            )
            return
        weighted = grams * tier * share
        low += weighted
        items.append(ByProduct(species, what, mol, grams, tier, codes, sources, weighted))

    for part in route.parts:
        feed = bare(part.conversion.feed)
        products = set(part.product.compounds) or {bare(part.product.compound)}
        fed = _count(part.full.reactants, part.feed_compound) or 1.0
        per_feed = part.feed_mol / (fed * _ions_in(part.feed_compound, feed)) if fed else 0.0
        for n, s in part.full.products:
            # What the conversion itself gives is product; a spectator of the same formula is waste.
            count = float(n) * (1.0 - part.product.share if bare(s) in products else 1.0)
            if bare(s) == _WATER or count < 1e-9:
                continue
            grams = count * per_feed * s.molar_mass
            add(bare(s), "by-product", count * per_feed / made, strength=min(1.0, grams / route.pot_grams))
    oxidant = route.charge("oxidant")
    if oxidant is not None:
        strength = _strength(oxidant)
        over = max(0.0, oxidant.mol - oxidant.needed_mol)
        add(oxidant.compound, "oxidant left over", over / made, strength=strength)
        codes = tier_of(oxidant.compound, tables, strength=strength)[1]
        if _CMR & set(codes):
            add(oxidant.compound, "CMR substance charged (counted at a tenth)", oxidant.mol / made, 0.1)
    if route.electricity is not None:
        hydrogen = route.electricity.hydrogen_litres / 24.79
        add(Species.parse("H2"), "hydrogen from the cathode", hydrogen / made)
    litres = sum(g.litres for g in route.gases) / made
    return ByProducts(
        _merged(items),
        sum(i.weighted for i in items),
        low,
        tuple(unknown),
        litres,
        tuple(str(g.species) for g in route.gases),
    )


def _merged(items: Sequence[ByProduct]) -> tuple[ByProduct, ...]:
    """One line for a substance that several conversions give."""
    merged: dict[tuple[Species, str], ByProduct] = {}
    for item in items:
        key = (item.species, item.what)
        held = merged.get(key)
        merged[key] = (
            item
            if held is None
            else replace(
                held,
                mol=held.mol + item.mol,
                grams=held.grams + item.grams,
                weighted=held.weighted + item.weighted,
            )
        )
    return tuple(merged.values())


def _strength(charge: Charge) -> float | None:
    """Mass fraction of the bottle, for hazard statements that depend on it."""
    bottle = charge.bottle
    if bottle is None or not isinstance(bottle.mass_fraction, Quantity):
        return None
    return bottle.mass_fraction.value


def _count(side: Sequence[tuple[int | Fraction, Species]], species: Species) -> float:
    return sum((float(n) for n, s in side if bare(s) == bare(species)), 0.0)


def _ions_in(compound: Species, ion: Species) -> float:
    from redoxlib.routes import ions

    return sum(float(n) for n, s in ions(compound) if s == bare(ion)) or 1.0


def score(route: Route) -> Score:
    """Penalty points of a measured route under its job's weights."""
    mass, waste, heat, risk = route.mass_efficiency, route.by_products, route.exotherm, route.side_risk
    if mass is None or waste is None or heat is None or risk is None:
        raise ValueError("measure the route before scoring it")
    scales = scales_for(route.job)
    rise = heat.rise
    high = {
        "mass": scales["mass"].points(mass.ranked),
        "by_products": scales["by_products"].points(waste.weighted),
        # An unknown heat is counted as bad as the scale goes, and shown as unknown.
        "exotherm": 100.0 if isinstance(rise, Unknown) else scales["exotherm"].points(rise.value),
        "side_risk": scales["side_risk"].points(risk.high),
    }
    low = {
        "mass": high["mass"],
        "by_products": scales["by_products"].points(waste.low),
        "exotherm": 0.0 if isinstance(rise, Unknown) else high["exotherm"],
        "side_risk": scales["side_risk"].points(risk.low),
    }
    weights = dict(route.job.weights)
    total_weight = sum(weights.values())
    total = sum(weights[c] * high[c] for c in CRITERIA) / total_weight
    total_low = sum(weights[c] * low[c] for c in CRITERIA) / total_weight
    spread = 0.0
    if isinstance(rise, Quantity) and rise.uncertainty and rise.value:
        # The pot's heat capacity is shared by all routes; only the table rows' part tells them apart.
        heat_row = route.dH
        known = isinstance(heat_row, Quantity) and heat_row.value != 0
        table_part = (
            (heat_row.uncertainty or 0.0) / abs(heat_row.value)
            if isinstance(heat_row, Quantity) and known
            else 0.0
        )
        step = scales["exotherm"].points(rise.value * (1 + table_part)) - high["exotherm"]
        spread = weights["exotherm"] * abs(step) / total_weight
    return Score(
        tuple((c, high[c]) for c in CRITERIA),
        tuple((c, low[c]) for c in CRITERIA),
        total,
        total_low,
        spread,
    )


def rank(routes: Sequence[Route]) -> tuple[tuple[Route, ...], ...]:
    """Order scored routes, best first, as groups of ties.

    Two routes tie when their totals differ by less than ``TIE_POINTS`` or by less than their joint
    uncertainty, and when only what is unknown sets them apart: with every unknown taken at its favourable
    end they would differ by no more than that, or stand the other way round.  A group is measured from its
    first member, so ties do not chain down the list.
    """
    ordered = sorted(routes, key=lambda r: (_total(r), r.oxidant.key))
    groups: list[list[Route]] = []
    for route in ordered:
        if groups and _tied(groups[-1][0], route):
            groups[-1].append(route)
        else:
            groups.append([route])
    return tuple(tuple(g) for g in groups)


def _total(route: Route) -> float:
    if route.score is None:
        raise DomainError(
            f"the route with {route.oxidant.name} has no score", hint="score(measure(route)) gives it one"
        )
    return route.score.total


def _tied(first: Route, other: Route) -> bool:
    a, b = first.score, other.score
    if a is None or b is None:
        return False
    gap = abs(a.total - b.total)
    joint: float = (a.spread**2 + b.spread**2) ** 0.5
    least = max(TIE_POINTS, joint)
    return gap < least or (b.total_low < b.total and b.total_low - a.total_low < least)
