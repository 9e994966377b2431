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
from typing import NamedTuple

from redoxlib import thermo
from redoxlib._tiers import TIERS, UNCLASSIFIED_TIER
from redoxlib.channels import side_risk, tier_of
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, RedoxlibError
from redoxlib.heat import batch_heat, exotherm
from redoxlib.job import CRITERIA, Job
from redoxlib.measures import ByProduct, ByProducts, MassEfficiency, Score
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Part, Route, bare

__all__ = [
    "REMOVE_MASS",
    "SCALES",
    "TIE_POINTS",
    "Scale",
    "Span",
    "measure",
    "rank",
    "scales_for",
    "score",
    "spans",
]

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


def _carrier_gas(label: str, pure: float, grams: float) -> float:
    """Mass of the gas an oxidising gas comes diluted in (oxygen round ozone); air is free and not counted."""
    return max(0.0, grams - pure) if "air" not in label else 0.0


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
    most = scales["exotherm"].points(_largest_rise(route))
    high = {
        "mass": scales["mass"].points(mass.ranked),
        "by_products": scales["by_products"].points(waste.weighted),
        # An unknown heat is counted as the most that so many electrons can give, and shown as unknown.
        "exotherm": most if isinstance(rise, Unknown) else scales["exotherm"].points(rise.value),
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
        heat_row = batch_heat(route)
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


_KJ_PER_ELECTRON = 600.0
"""More heat than any couple gives per mole of electrons: a cell of 6 V, as lithium on fluorine [kJ/mol]."""

_KJ_PER_KG_K = 4.18  # of water


def _largest_rise(route: Route) -> float:
    """Adiabatic rise that no reaction of as many electrons in as much pot exceeds, K."""
    heat = 0.0
    for part in route.parts:
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.half_reactions[0].reactants if bare(s) == feed) or 1.0
        heat += _KJ_PER_ELECTRON * part.electrons * part.feed_mol / fed
    return heat / (max(route.pot_grams, 1e-9) / 1000 * _KJ_PER_KG_K)


class Span(NamedTuple):
    """Penalty points of one criterion, between which they may lie, and what would settle them.

    ``causes`` are names of a constant, an assay or a classification with their shares of the interval; a
    negative share moves the points down when the value behind it goes up.
    """

    points: float
    low: float
    high: float
    causes: tuple[tuple[str, float], ...]


def spans(route: Route) -> tuple[Span, ...]:
    """The four criteria of a scored route with their uncertainty, traced to the rows of the tables.

    Two routes that rest on the same row name the same cause, so that what they share cancels.
    """
    if route.score is None or route.side_risk is None or route.by_products is None:
        raise DomainError(f"the route with {route.oxidant.name} has no score", hint="score(measure(route))")
    points, low = dict(route.score.points), dict(route.score.low)
    acting = ", ".join(
        dict.fromkeys(
            str(bare(s))
            for p in route.parts
            for _, s in p.half_reactions[1].reactants
            if s.elements and bare(s) not in _MEDIUM
        )
    )
    paces = {}
    for c in route.side_risk.channels:
        if c.high > c.low:
            by = f" with {acting}" if acting else ""
            paces[f"a measured pace{by} for {c.text!r}"] = c.high - c.low
    hazards: dict[str, float] = {}
    for item in route.by_products.items:
        if not item.codes and item.tier and item.weighted:
            hazards[f"a published hazard classification of {item.species}"] = (
                hazards.get(f"a published hazard classification of {item.species}", 0.0) + item.weighted
            )
    out = []
    for criterion in CRITERIA:
        high, floor = points[criterion], min(low[criterion], points[criterion])
        told: dict[str, float] = {}
        value = high
        if criterion == "side_risk":
            told = paces
        elif criterion == "by_products":
            told = hazards
        elif criterion == "exotherm":
            told, floor, high = _heat_span(route, floor, high)
        total = sum(abs(x) for x in told.values())
        if not total or high - floor < 1e-9:
            out.append(Span(value, value, value, ()))
        else:
            out.append(Span(value, floor, high, tuple((n, x / total) for n, x in told.items())))
    return tuple(out)


_MEDIUM = frozenset(Species.parse(t) for t in ("H2O", "H^+", "OH^-"))


def _heat_span(route: Route, low: float, high: float) -> tuple[dict[str, float], float, float]:
    """Rows of enthalpy behind the heat with their signed weight, and the points at two of their spreads."""
    heat = route.exotherm
    if heat is None:
        return {"a value for its heat": 1.0}, low, high
    if isinstance(heat.rise, Unknown):
        return {f"a value for {heat.rise.what}": 1.0}, low, high
    batch = batch_heat(route)
    if not isinstance(batch, Quantity) or not batch.value:
        return {}, low, high
    parts: dict[str, float] = {}
    for part in route.parts:
        feed = bare(part.conversion.feed)
        extent = part.feed_mol / (_count(part.net_ionic.reactants, feed) or 1.0)
        for sign, side in ((1.0, part.net_ionic.products), (-1.0, part.net_ionic.reactants)):
            for n, s in side:
                try:
                    row = thermo.value(s, "dfH")
                except RedoxlibError:
                    continue
                # More heat is a more negative enthalpy: a product formed with less of it heats the pot more.
                name = f"a better enthalpy of formation of {s}"
                parts[name] = parts.get(name, 0.0) - sign * float(n) * extent * (row.uncertainty or 0.0)
    parts = {name: x for name, x in parts.items() if x}
    share = (batch.uncertainty or 0.0) / abs(batch.value)
    scale = scales_for(route.job)["exotherm"]
    value = heat.rise.value
    return parts, scale.points(value * (1 - 2 * share)), scale.points(value * (1 + 2 * share))


def rank(routes: Sequence[Route]) -> tuple[tuple[Route, ...], ...]:
    """Order scored routes, best first, as groups of ties.

    Two routes tie when their totals differ by less than ``TIE_POINTS`` or by less than their joint
    uncertainty, and when only what is unknown decides: with every unknown taken at its favourable end they
    would stand equal or the other way round.  A group is measured from its
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
    known = b.total_low - a.total_low
    return gap < max(TIE_POINTS, joint) or (b.total_low < b.total and known <= 0)
