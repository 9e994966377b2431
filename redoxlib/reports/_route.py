"""One route in detail: equations, energies, charge, yield, and the four criteria with their parts.

May import: compare and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from redoxlib.bottles import restrictions
from redoxlib.compare import review
from redoxlib.measures import ByProduct, ByProducts, Channel, Exotherm, MassEfficiency, Score, SideRisk
from redoxlib.notation import Equation
from redoxlib.quantity import Quantity, Unknown
from redoxlib.reports._document import Block, Bullets, Caution, Document, Facts, Heading, Note, Row, Table
from redoxlib.reports._figures import (
    cited,
    degrees,
    duration,
    mass,
    number,
    shown,
    sources_block,
    volume,
    with_unit,
)
from redoxlib.routes import IN_THE_WATER, Charge, Part, Route
from redoxlib.safety import DEFERRAL

__all__ = [
    "UNREVIEWED",
    "charge_table",
    "equation_facts",
    "half_life",
    "per_mol",
    "refusal_facts",
    "route_blocks",
    "route_document",
    "route_sources",
    "span",
    "unreviewed_blocks",
]

CRITERION_NAMES = {
    "mass": "mass",
    "by_products": "by-products",
    "exotherm": "heat",
    "side_risk": "side products",
}


def route_document(route: Route) -> Document:
    """Write one route, as far as the gate allows.

    The gate is asked again here, so that no route shows amounts that a comparison would have withheld: a
    stopped one shows the reasons alone, one that nobody has reviewed its equations and energies.
    """
    verdict = review(route)
    blocks: list[Block] = [Heading(f"{_feed_to_target(route)} with {route.oxidant.name}", 1)]
    if verdict.decision == "stop":
        for reason in verdict.reasons:
            blocks.append(Facts(refusal_facts(reason.rule, reason.text, reason.source, reason.safer)))
    elif verdict.decision == "unreviewed":
        blocks += unreviewed_blocks(replace(route, warnings=tuple(reason.text for reason in verdict.reasons)))
    else:
        warned = replace(route, warnings=tuple(reason.text for reason in verdict.reasons))
        blocks += [*route_blocks(warned), *sources_block(route_sources(route))]
    blocks += [Heading("Before anything is weighed"), Note(DEFERRAL)]
    return Document(tuple(blocks))


def refusal_facts(rule: str, reason: str, source: str, safer: str) -> tuple[tuple[str, str], ...]:
    """A reason to stop: rule, reason, sources with their keys, what to do instead."""
    pairs = [(f"Rule {rule}", reason)]
    pairs += [("" if place else "Source", line) for place, line in enumerate(cited(source))]
    if safer:
        pairs.append(("Safer", safer))
    return tuple(pairs)


UNREVIEWED = (
    "Nobody has reviewed the hazards: equations, energies and the masses of the equation, and no more."
)


def unreviewed_blocks(route: Route) -> Iterator[Block]:
    """What may be shown of a route that nobody has reviewed: no dosing, no sheet."""
    for warning in route.warnings:
        yield Caution(warning)
    facts = list(_equations(route))
    facts.append(("E of the cell", f"{shown(route.cell_potential)} at pH {route.job.ph:g}"))
    facts += [("dH", per_mol(part.dH, part)) for part in route.parts]
    facts += [("By the equation", _stoichiometric(part)) for part in route.parts]
    yield Facts(tuple(facts))


def _stoichiometric(part: Part) -> str:
    """Masses the full equation asks for, pure substances, per mol of product: no charge."""
    made = next((n for n, s in part.full.products if s == part.product.compound), 1)
    masses = [f"{number(float(n / made) * s.molar_mass)} g {s}" for n, s in part.full.reactants]
    return f"{' + '.join(masses)} per mol {part.product.compound} (pure substances, not a charge)"


def _feed_to_target(route: Route) -> str:
    return "; ".join(str(part.conversion) for part in route.parts)


def route_blocks(route: Route) -> Iterator[Block]:
    """Everything about a route that was reviewed, warnings beside the quantities they concern."""
    yield Facts(tuple(_equations(route)))
    yield Facts(tuple(_energies(route)))
    yield Heading("Charge", 3)
    for warning in route.warnings:
        yield Caution(warning)
    yield charge_table(route.charges)
    yield Facts(tuple(_yields(route)))
    yield from _criteria(route)
    notes = assumed(route)
    if notes:
        yield Heading("Assumed for this route", 3)
        yield Bullets(notes)


def assumed(route: Route) -> tuple[str, ...]:
    """What this route assumes: about the chemistry, and about what the labels left open."""
    notes = [*route.notes, *(note for part in route.parts for note in part.notes)]
    for charge in route.charges:
        if charge.bottle is not None:
            notes += [f"{charge.label}: {assumption}" for assumption in charge.bottle.assumptions]
    return tuple(dict.fromkeys(notes))


def route_sources(route: Route) -> tuple[str, ...]:
    """Keys of every source behind the figures that are shown."""
    keys: list[str] = list(route.sources)
    for figure in (route.dH, route.dG, route.cell_potential):
        if not isinstance(figure, Unknown):
            keys += figure.sources
    for charge in route.charges:
        if charge.bottle is not None:
            keys += charge.bottle.sources
    for part in route.by_products.items if route.by_products else ():
        keys += part.sources
    for channel in route.side_risk.channels if route.side_risk else ():
        keys += channel.sources
    if route.exotherm is not None:
        for figure in (route.exotherm.rise, route.exotherm.boiling, route.exotherm.acid_dilution_kj):
            if not isinstance(figure, Unknown):
                keys += figure.sources
    return tuple(dict.fromkeys(keys))


def equation_facts(part: Part, numbered: str = "") -> Iterator[tuple[str, str]]:
    """The four equations of one conversion."""
    oxidation, reduction = part.half_reactions
    pairs: tuple[tuple[str, Equation], ...] = (
        ("Oxidation", oxidation),
        ("Reduction", reduction),
        ("Net ionic", part.net_ionic),
        ("Full", part.full),
    )
    for label, equation in pairs:
        yield f"{label}{numbered}", str(equation)


def _equations(route: Route) -> Iterator[tuple[str, str]]:
    for place, part in enumerate(route.parts, 1):
        yield from equation_facts(part, f" ({place})" if len(route.parts) > 1 else "")


def _energies(route: Route) -> Iterator[tuple[str, str]]:
    ph = f"pH {route.job.ph:g}"
    yield "E of the cell", f"{shown(route.cell_potential)} at {ph}, other activities 1"
    for place, part in enumerate(route.parts, 1):
        mark = f" ({place})" if len(route.parts) > 1 else ""
        yield f"dH{mark}", per_mol(part.dH, part)
        yield f"dG{mark}", f"{per_mol(part.dG, part)} at {ph}"
    yield "Kinetics", kinetics_text(route)
    if route.electricity is not None:
        e = route.electricity
        yield "Electricity", f"{number(e.ampere_hours)} A h; {number(e.kwh)} kW h at {e.volts}"
        yield "", f"hydrogen from the cathode {number(e.hydrogen_litres)} L at 25 C and 1 bar: vent it"


def per_mol(energy: Quantity | Unknown, part: Part) -> str:
    """Write an energy per mol of the product it belongs to."""
    return f"{shown(energy).removesuffix('/mol')} per mol {part.product.species}"


def half_life(route: Route) -> str:
    """Write the half-life of a route that has one: "2.7 min", or "under 2.7 min" where it is only bounded."""
    time = duration(route.half_life_s or 0.0)
    word = {"at most": "under ", "at least": "over "}.get(route.half_life_says, "")
    return time if time.startswith("under") else word + time


def kinetics_text(route: Route) -> str:
    """Verdict and what it rests on."""
    half = f", half-life {half_life(route)}" if route.half_life_s is not None else ""
    if half and route.half_life_u is not None:
        half += f" within {100 * route.half_life_u:.0f} %"
    note = route.kinetics_note if route.kinetics_note != route.kinetics and not half else ""
    return f"{route.kinetics}{half}" + (f": {note}" if note else f" {route.half_life_at}" if half else "")


def charge_table(charges: Iterable[Charge]) -> Table:
    """What goes in, in mol, g and mL of each bottle."""
    return Table(
        ("role", "substance", "from", "needed", "charged", "weigh", "measure"),
        tuple(Row(_charge_cells(charge), _restricted(charge)) for charge in charges),
        ("", "", "", "mol", "mol", "", ""),
        frozenset({3, 4, 5, 6}),
    )


def _charge_cells(charge: Charge) -> tuple[str, ...]:
    if charge.gas_litres is not None:
        measured = f"{number(charge.gas_litres)} L gas"
    elif isinstance(charge.ml, Unknown):
        measured = f"unknown ({charge.ml.what})"
    else:
        measured = "" if charge.ml is None else volume(charge.ml)
    if charge.role == "water":
        measured = measured or volume(charge.grams)
        return (charge.role, str(charge.compound), "", "", "", mass(charge.grams), measured)
    own = "" if charge.label == str(charge.compound) else charge.label
    label = "; ".join(filter(None, (own, charge.note)))
    needed = "" if charge.needed_mol == charge.mol else number(charge.needed_mol)
    return (
        charge.role,
        str(charge.compound),
        label,
        needed,
        number(charge.mol),
        "" if charge.note == IN_THE_WATER else mass(charge.grams),
        measured,
    )


def _restricted(charge: Charge) -> tuple[str, ...]:
    """Strengths some places keep from the public, with the instrument and the day it was read."""
    if charge.bottle is None:
        return ()
    return tuple(
        f"restricted in some places; check yours: {row.jurisdiction}, {row.instrument} "
        f"({row.strength_w_w:g} % w/w, read {row.date_read})"
        for row in restrictions(charge.bottle)
    )


def _yields(route: Route) -> Iterator[tuple[str, str]]:
    yield "What limits", f"{route.limiting} runs out first"
    for part in route.parts:
        p = part.product
        if isinstance(p.ml, Unknown):
            measured = f", volume unknown ({p.ml.what})"
        else:
            measured = "" if p.ml is None else f", {volume(p.ml)}"
        density = f" ({p.density_note})" if p.density_note and measured else ""
        yield "Largest yield", f"{mass(p.grams)}{measured} of {p.weighed_as}, {number(p.mol)} mol{density}"
    if route.gases:
        for gas in route.gases:
            yield (
                "Gas",
                f"{number(gas.litres)} L of {gas.species} at 25 C and 1 bar ({number(gas.mol)} mol): "
                "keep the vessel open",
            )
    else:
        yield "Gas", "none from the equation"
    yield "Pot", f"{mass(route.pot_grams)} in all, {mass(route.water_grams)} of it water"


def _criteria(route: Route) -> Iterator[Block]:
    if route.score is not None:
        yield Heading("Where the points come from", 3)
        yield Facts(tuple(_points(route, route.score)))
    if route.mass_efficiency is not None:
        yield Facts(tuple(_mass(route.mass_efficiency)))
    if route.by_products is not None:
        yield from _by_products(route, route.by_products)
    if route.exotherm is not None:
        yield Facts(tuple(_heat(route.exotherm)))
    if route.side_risk is not None:
        yield from _channels(route, route.side_risk)


def _points(route: Route, score: Score) -> Iterator[tuple[str, str]]:
    weights = dict(route.job.weights)
    low = dict(score.low)
    parts = []
    for name, points in score.points:
        best = f" ({number(low[name])} at best)" if abs(low[name] - points) >= 0.05 else ""
        parts.append(f"{CRITERION_NAMES[name]} {points:.1f}{best} x weight {weights[name]:g}")
    yield "Points", "; ".join(parts)
    spread = f" ± {score.spread:.1f} from the table rows" if score.spread >= 0.05 else ""
    best = (
        f"; {score.total_low:.1f} if every unknown turns out well"
        if score.total - score.total_low >= 0.05
        else ""
    )
    yield "Weighted mean", f"{score.total:.1f}{spread} of 100, 0 is best{best}"


def _mass(m: MassEfficiency) -> Iterator[tuple[str, str]]:
    yield "Mass, ranked", with_unit(number(m.ranked), m.unit)
    yield "Atom economy", f"{100 * m.atom_economy:.1f} % of the reactants' mass becomes product"
    yield "With excess", f"{100 * m.reaction_mass_efficiency:.1f} % of the mass charged, at full yield"
    yield "Mass intensity", f"{number(m.pmi_dry)} kg/kg without water, {number(m.pmi_wet)} kg/kg with it"
    if m.sludge_g_per_mol:
        yield (
            "Chemicals",
            f"{number(m.chemicals_g_per_mol)} g per mol of feed; sludge {number(m.sludge_g_per_mol)} g",
        )


def _by_products(route: Route, waste: ByProducts) -> Iterator[Block]:
    per = f"mol {route.product.species}"
    yield Heading(f"By-products per {per}", 3)
    unit = f"{number(waste.weighted)} g x tier"
    low = (
        f" ({number(waste.low)} if what no table classifies is harmless)"
        if waste.low < waste.weighted - 1e-9
        else ""
    )
    if not waste.items:
        yield Facts((("Sum", f"0 g x tier: nothing but water{_stripped(waste)}"),))
        return
    yield Table(
        ("substance", "what", "amount", "mass", "tier", "hazard codes", "counts"),
        tuple(
            Row(
                (
                    str(item.species),
                    item.what,
                    number(item.mol),
                    number(item.grams),
                    str(item.tier),
                    " ".join(item.codes) or ("not in the tables" if not item.sources else "none"),
                    number(item.weighted),
                )
            )
            for item in _merged(waste.items)
        ),
        ("", "", "mol", "g", "", "", "g x tier"),
        frozenset({2, 3, 4, 6}),
    )
    yield Facts((("Sum", unit + low + _stripped(waste)),))


def _merged(items: Iterable[ByProduct]) -> list[ByProduct]:
    """Several conversions leave the same substance: one line of the sum."""
    found: dict[tuple[str, str], ByProduct] = {}
    for item in items:
        key = (str(item.species), item.what)
        old = found.get(key)
        found[key] = (
            item
            if old is None
            else replace(
                old,
                mol=old.mol + item.mol,
                grams=old.grams + item.grams,
                weighted=old.weighted + item.weighted,
            )
        )
    return list(found.values())


def _stripped(waste: ByProducts) -> str:
    if not waste.gas_litres_per_mol:
        return ""
    return f"; gas {number(waste.gas_litres_per_mol)} L per mol ({', '.join(waste.gases)})"


def _heat(heat: Exotherm) -> Iterator[tuple[str, str]]:
    yield "Heat of the batch", f"{shown(heat.per_kg)} of pot, severity {heat.severity}"
    yield "Adiabatic rise", f"{degrees(heat.rise)} with everything in at once"
    yield "If cooling fails", f"up to {degrees(heat.mtsr)}; the mixture boils at {degrees(heat.boiling)}"
    classes = listed([str(c) for c in heat.classes])
    yield "Stoessel class", f"{classes} ({heat.class_note})" if heat.class_note else classes
    yield "Diluting the acid", f"{shown(heat.acid_dilution_kj)}, beside the reaction heat"
    if isinstance(heat.release_kj, Unknown):
        yield "The solid in water", "unknown, and in none of the figures above: try a small portion"
    elif heat.release_kj is not None:
        counted = "counted in the rise" if heat.release_kj.value < 0 else "taken up, not counted"
        yield "The solid in water", f"{shown(heat.release_kj)} before it acts, {counted}"


def _channels(route: Route, risk: SideRisk) -> Iterator[Block]:
    yield Heading("What else can happen", 3)
    if not risk.channels:
        yield Facts((("Side channels", "none found in the tables"),))
        return
    ph = f"{route.job.ph:g}"
    yield Table(
        ("channel", "drive", "state", "gate", "amount", "over-dosed", "tier", "counts"),
        tuple(Row(_channel_cells(channel)) for channel in risk.channels),
        ("", f"V at pH {ph}", "", "", "mol/mol", "mol/mol", "", "mol x tier"),
        frozenset({1, 4, 5, 6, 7}),
    )
    yield Facts(
        (("Sum", f"{span(risk.low, risk.high)} mol x tier per mol of product; the high end is scored"),)
    )


def _channel_cells(c: Channel) -> tuple[str, ...]:
    gate = "0 to 1, rate unknown" if c.gate == (0.0, 1.0) else span(*c.gate)
    return (
        f"{c.kind}: {c.text}" if c.kind not in c.text else c.text,
        f"{c.drive_v:+.2f}" if c.drive_v is not None else "",
        c.state,
        gate,
        number(c.amount, 2),
        number(c.jumped, 2),
        str(c.tier),
        span(c.low, c.high),
    )


def listed(words: Sequence[str]) -> str:
    """Join words as in running text: ``1, 2 or 5``."""
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""


def span(low: float, high: float) -> str:
    """Write an interval, one number where both ends read the same."""
    first, last = number(low, 2), number(high, 2)
    return first if first == last else f"{first} to {last}"
