"""The bench plan: charge, order, heat, gas, what is left to destroy and to neutralise.

May import: routes, heat and below.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from redoxlib import heat, thermo
from redoxlib.data import Tables, shipped
from redoxlib.errors import MissingDataError, RedoxlibError, UnsafeRouteError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import ANODE, GAS_LITRES, Charge, NoRoute, Route, bare, build_route, ions, net_ionic

__all__ = ["BenchPlan", "Entry", "Step", "plan"]

_SULFITE = Equation.parse("SO3^2-(aq) + H2O(l) -> SO4^2-(aq) + 2 H^+(aq) + 2 e^-")
_SULFITE_SALT, _PROTON, _HYDROXIDE = Species.parse("Na2SO3"), Species.parse("H^+"), Species.parse("OH^-")
_HALOGENS = frozenset(Species.parse(t) for t in ("Br2", "I2", "Cl2"))
_CHROMIUM_VI = frozenset(Species.parse(t) for t in ("Cr2O7^2-", "CrO4^2-", "HCrO4^-"))
_SLOW_IN_BASE = frozenset(Species.parse(t) for t in ("BrO3^-", "IO3^-", "ClO3^-"))


@dataclass(frozen=True, slots=True)
class Entry:
    """One number of a plan: value, formula in words, the keys it was made from, and sources."""

    key: str
    value: Quantity | Unknown
    what: str
    formula: str
    inputs: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.what}: {self.value}"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the order of addition, with its reason."""

    text: str
    reason: str


@dataclass(frozen=True, slots=True)
class BenchPlan:
    """A plan for one cleared route; ``plan["heat.rise.K"]`` gives an entry by its key."""

    route: Route
    verdict: Any
    entries: Mapping[str, Entry]
    steps: tuple[Step, ...]
    quench_steps: tuple[Step, ...]
    warnings: tuple[str, ...]

    def __getitem__(self, key: str) -> Entry:
        try:
            return self.entries[key]
        except KeyError:
            from difflib import get_close_matches

            near = get_close_matches(key, list(self.entries), n=3)
            raise MissingDataError(
                f"the plan has no key {key!r}",
                hint=f"did you mean {', '.join(near)}?" if near else f"keys: {', '.join(self.entries)}",
                what=key,
                looked_in=("plan",),
            ) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def __contains__(self, key: object) -> bool:
        return key in self.entries

    def why(self, key: str) -> str:
        """The formula, inputs and sources of one number, as text."""
        entry = self[key]
        lines = [f"{entry.key} = {entry.value}", f"  {entry.what}", f"  = {entry.formula}"]
        for name in entry.inputs:
            shown = self.entries.get(name)
            lines.append(f"    {name} = {shown.value}" if shown is not None else f"    {name}")
        known = shipped().sources
        for source in entry.sources:
            row = known.get(source)
            lines.append(f"  source {source}: {row.citation}" if row else f"  source {source}")
        if not entry.sources:
            lines.append("  exact arithmetic on the inputs; atomic weights: IUPAC standard values")
        return "\n".join(lines)


class _Book:
    """Collects the entries of one plan in order."""

    def __init__(self) -> None:
        self.entries: dict[str, Entry] = {}

    def put(
        self,
        key: str,
        value: Quantity | Unknown | float,
        unit: str,
        what: str,
        formula: str,
        inputs: tuple[str, ...] = (),
        sources: tuple[str, ...] = (),
    ) -> None:
        if isinstance(value, (int, float)):
            value = Quantity(float(value), unit, None, sources)
        known = sources or (value.sources if isinstance(value, Quantity) else ())
        self.entries[key] = Entry(key, value, what, formula, inputs, tuple(known))

    def number(self, key: str) -> float | None:
        entry = self.entries.get(key)
        return entry.value.value if entry is not None and isinstance(entry.value, Quantity) else None


def plan(
    cleared: Any, *, product_mass: Quantity | str | None = None, tables: Tables | None = None
) -> BenchPlan:
    """Plan a cleared route.

    Parameters
    ----------
    cleared : ClearedRoute
        From ``clear``; nothing else is planned.
    product_mass : Quantity or str, optional
        Scale the whole charge so that the largest yield is this mass of product.

    Raises
    ------
    UnsafeRouteError
        When given a route that has not passed the gate.
    """
    tables = tables or shipped()
    route = getattr(cleared, "route", None)
    verdict = getattr(cleared, "verdict", None)
    if not isinstance(route, Route) or verdict is None or verdict.decision not in ("clear", "caution"):
        raise UnsafeRouteError(
            "only a route the gate has let pass can be planned",
            hint="call clear(route) first and plan what it returns",
        )
    if product_mass is not None:
        route = _scaled(route, product_mass, tables)
    book = _Book()
    _charges(book, route)
    _product(book, route)
    _heat(book, route, tables)
    _gas(book, route)
    quench_steps = _quench(book, route, tables)
    return BenchPlan(
        route,
        verdict,
        book.entries,
        _order(route),
        quench_steps,
        tuple(reason.text for reason in verdict.reasons),
    )


def _scaled(route: Route, product_mass: Quantity | str, tables: Tables) -> Route:
    wanted = Quantity.parse(product_mass) if isinstance(product_mass, str) else product_mass
    factor = float(wanted.to("g").value) / route.product.grams
    moles = Quantity(sum(p.feed_mol for p in route.parts[:1]) * factor, "mol")
    rebuilt = build_route(replace(route.job, amount=moles), route.oxidant, tables=tables)
    if isinstance(rebuilt, NoRoute):
        raise RedoxlibError(rebuilt.reason)
    return replace(
        rebuilt, warnings=route.warnings, kinetics=route.kinetics, kinetics_note=route.kinetics_note
    )


def _charges(book: _Book, route: Route) -> None:
    for charge in route.charges:
        name = f"charge.{charge.role}"
        if f"{name}.mol" in book.entries:  # a second conversion brings a second feed
            name = f"{name}.{charge.compound}"
        label = charge.label
        if charge.role == "water":
            book.put(f"{name}.g", charge.grams, "g", "water for the pot", "feed / declared concentration")
            continue
        book.put(
            f"{name}.needed.mol",
            charge.needed_mol,
            "mol",
            f"{charge.compound} the equation asks for",
            "feed moles x coefficient ratio of the full equation",
        )
        book.put(
            f"{name}.mol",
            charge.mol,
            "mol",
            f"{charge.compound} to charge",
            "needed x (1 + excess)" if charge.role != "feed" else "declared amount",
            (f"{name}.needed.mol",),
        )
        sources = charge.bottle.sources if charge.bottle is not None else ()
        book.put(
            f"{name}.g",
            charge.grams,
            "g",
            f"of {label}",
            "mol x molar mass / mass fraction of the bottle",
            (f"{name}.mol",),
            sources,
        )
        if charge.ml is not None:
            book.put(
                f"{name}.mL",
                charge.ml,
                "mL",
                f"of {label}",
                "grams / density of the bottle",
                (f"{name}.g",),
                sources,
            )
        if charge.gas_litres is not None:
            book.put(
                f"{name}.L",
                charge.gas_litres,
                "L",
                f"of {charge.compound} gas at 25 C and 1 bar",
                f"mol x {GAS_LITRES} L/mol",
                (f"{name}.mol",),
            )
    book.put("pot.g", route.pot_grams, "g", "mass of the pot", "sum of everything charged, gases left out")


def _product(book: _Book, route: Route) -> None:
    for number, part in enumerate(route.parts):
        stem = "yield" if number == 0 else f"yield.{part.product.compound}"
        p = part.product
        book.put(
            f"{stem}.mol",
            p.mol,
            "mol",
            f"largest yield of {p.compound}",
            f"extent limited by {route.limiting}",
        )
        book.put(
            f"{stem}.g", p.grams, "g", f"largest yield of {p.compound}", "mol x molar mass", (f"{stem}.mol",)
        )
        if p.ml is not None:
            book.put(
                f"{stem}.mL",
                p.ml,
                "mL",
                f"largest yield of {p.compound}",
                f"grams / {p.density_note}",
                (f"{stem}.g",),
            )


def _heat(book: _Book, route: Route, tables: Tables) -> None:
    book.put(
        "heat.reaction.per_mol",
        route.dH,
        "kJ/mol",
        f"reaction enthalpy per mol {route.product.species}",
        "sum of enthalpies of formation, products minus reactants of the net ionic equation",
    )
    figures = heat.exotherm(route, tables=tables)
    batch = heat.batch_heat(route)
    book.put(
        "heat.reaction.kJ",
        batch,
        "kJ",
        "heat of the batch (negative: given off)",
        "per mol x mol of product",
        ("heat.reaction.per_mol", "yield.mol"),
    )
    capacity = heat.pot_heat_capacity(route)
    book.put(
        "pot.heat_capacity",
        capacity,
        "J/K",
        "heat capacity of the pot",
        "water x 4.18 J/(g K) + the rest x 1.0 J/(g K), the latter an estimate",
        ("pot.g",),
    )
    book.put(
        "heat.rise.K",
        figures.rise,
        "K",
        "adiabatic rise, reaction alone, all at once",
        "heat / heat capacity",
        ("heat.reaction.kJ", "pot.heat_capacity"),
    )
    book.put(
        "heat.mtsr.C",
        figures.mtsr,
        "C",
        "highest temperature if cooling fails, all reagents together",
        "pot temperature + adiabatic rise",
        ("heat.rise.K",),
    )
    book.put("heat.boiling.C", figures.boiling, "C", "boiling point of the real mixture", "see source")
    book.put(
        "heat.acid_dilution.kJ",
        figures.acid_dilution_kj,
        "kJ",
        "diluting the acid into the pot water, beside the reaction heat",
        "n [Q(r) - Q(r0)], integral heats of solution",
        ("charge.acid.mol", "charge.water.g"),
    )
    cooling = route.job.cooling
    if cooling is not None and isinstance(batch, Quantity):
        watts = float(cooling.to("W").value)
        minutes = max(0.0, -batch.value) * 1000 / watts / 60
        book.put(
            "dose.shortest.min",
            minutes,
            "min",
            "shortest dosing the declared cooling can carry",
            "heat of the batch / cooling power",
            ("heat.reaction.kJ",),
        )


def _gas(book: _Book, route: Route) -> None:
    for gas in route.gases:
        book.put(
            f"gas.{gas.species}.L",
            gas.litres,
            "L",
            f"{gas.species} set free, at 25 C and 1 bar",
            f"mol x {GAS_LITRES} L/mol",
        )
    electricity = route.electricity
    if electricity is not None:
        book.put("anode.Ah", electricity.ampere_hours, "A h", "charge at the anode", "electrons x F / 3600")
        book.put(
            "anode.V", electricity.volts, "V", "cell voltage", "assumed; overvoltage and resistance decide"
        )
        book.put(
            "anode.kWh",
            electricity.kwh,
            "kW h",
            "energy at that voltage",
            "A h x V / 1000",
            ("anode.Ah", "anode.V"),
        )
        book.put(
            "gas.H2.L",
            electricity.hydrogen_litres,
            "L",
            "hydrogen from the cathode",
            "electrons / 2 x molar volume",
        )


def _quench(book: _Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    if route.oxidant.key == ANODE:
        return (
            Step(
                "Switch the current off; nothing is left to destroy but the product's own rest.",
                "no bottle of oxidant",
            ),
        )
    oxidant = route.charge("oxidant")
    if oxidant is None:
        return ()
    left = max(0.0, oxidant.mol - oxidant.needed_mol)
    book.put(
        "quench.oxidant_left.mol",
        left,
        "mol",
        f"{oxidant.compound} left over",
        "charged - needed",
        ("charge.oxidant.mol", "charge.oxidant.needed.mol"),
    )
    reduction = route.half_reactions[1]
    active = _active(reduction)
    per_compound = _active_per_compound(route, active)
    electrons = abs(thermo.electrons_of(reduction)) / active[0]
    protons_taken = thermo.proton_count(reduction) / active[0]
    left_e = left * per_compound * electrons
    dissolved, dissolved_note = _dissolved_halogen(route, tables)
    halogen = dissolved if isinstance(dissolved, float) else 0.0
    if dissolved is not None:
        book.put(
            "quench.halogen.mol",
            dissolved,
            "mol",
            "halogen that stays dissolved in the liquor",
            dissolved_note,
            ("charge.water.g",),
        )
    reductant = left_e / 2 + halogen
    book.put(
        "quench.reductant.mol",
        reductant,
        "mol",
        "sodium sulfite for oxidant and halogen left",
        "electrons left / 2 + dissolved halogen",
        ("quench.oxidant_left.mol", "quench.halogen.mol"),
    )
    book.put(
        "quench.reductant.g",
        reductant * _SULFITE_SALT.molar_mass,
        "g",
        "sodium sulfite, anhydrous",
        "mol x molar mass",
        ("quench.reductant.mol",),
    )
    made = 2 * (left_e / 2) - protons_taken * left * per_compound + 2 * halogen
    book.put(
        "quench.acid_made.mol",
        made,
        "mol",
        "H+ the quench itself makes (negative: takes up)",
        "2 per sulfite, less what the oxidant's own half-reaction takes",
        ("quench.reductant.mol",),
    )
    residual = _residual_acid(route)
    book.put(
        "quench.acid_left.mol",
        residual,
        "mol",
        "H+ left in the liquor, both protons of sulfuric acid counted",
        "acid charged + acid liberated - acid used",
        ("charge.acid.mol", "charge.acid.needed.mol"),
    )
    base = max(0.0, residual + made)
    book.put(
        "quench.base.mol",
        base,
        "mol",
        "base to bring the liquor to neutral, as OH- or HCO3-",
        "acid left + acid the quench makes",
        ("quench.acid_left.mol", "quench.acid_made.mol"),
    )
    book.put(
        "quench.heat.kJ",
        _quench_heat(route, left, per_compound, active, tables),
        "kJ",
        "heat of destroying the oxidant left over",
        "enthalpy of the quench equation x mol",
        ("quench.oxidant_left.mol",),
    )
    return _quench_steps(route, bare(active[1]))


def _active(reduction: Equation) -> tuple[float, Species]:
    benign = {_PROTON, _HYDROXIDE, Species.parse("H2O"), Species.parse("SO4^2-")}
    for n, s in reduction.reactants:
        if s.elements and bare(s) not in benign:
            return float(n), s
    n, s = reduction.reactants[0]
    return float(n), s


def _active_per_compound(route: Route, active: tuple[float, Species]) -> float:
    """Moles of oxidising species one formula of the bottle's compound gives."""
    oxidant = route.charge("oxidant")
    if oxidant is None or not oxidant.needed_mol:
        return 1.0
    used = sum(
        part.feed_mol * _ratio(part.net_ionic, bare(active[1]), bare(part.conversion.feed))
        for part in route.parts
    )
    return used / oxidant.needed_mol if used else 1.0


def _ratio(net: Equation, top: Species, bottom: Species) -> float:
    def count(species: Species) -> Fraction:
        return sum((Fraction(n) for n, s in net.reactants if bare(s) == species), Fraction(0))

    below = count(bottom)
    return float(count(top) / below) if below else 0.0


def _dissolved_halogen(route: Route, tables: Tables) -> tuple[float | Unknown | None, str]:
    target = bare(route.product.species)
    if target not in _HALOGENS:
        return None, ""
    for row in tables.liquids:
        if row.property.startswith("solubility") and bare(Species.parse(row.species)) == target:
            litres = route.water_grams / 1000
            per_litre = (
                row.value
                if row.unit == "mol/L"
                else row.value * 10 / target.molar_mass
                if "100" in row.unit
                else row.value / target.molar_mass
            )
            return min(per_litre * litres, route.product.mol), f"solubility {row.value:g} {row.unit} x volume"
    return Unknown(f"solubility of {target}", ("liquids.csv",)), "solubility x volume"


def _residual_acid(route: Route) -> float:
    total = 0.0
    acid = route.charge("acid")
    if acid is not None:
        total += _protons(acid.compound) * max(0.0, acid.mol - acid.needed_mol)
    for part in route.parts:
        made = sum(float(n) for n, s in part.net_ionic.products if bare(s) == _PROTON)
        fed = (
            sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == bare(part.conversion.feed)) or 1.0
        )
        total += part.feed_mol * made / fed
    return total


def _protons(acid: Species) -> float:
    found = sum(float(n) for n, s in ions(acid) if s == _PROTON)
    if any("S" in s.elements and "H" in s.elements for _, s in ions(acid)):
        found += 1.0  # hydrogensulfate gives its second proton to the base
    return found or 1.0


def _quench_heat(
    route: Route, left: float, per_compound: float, active: tuple[float, Species], tables: Tables
) -> Quantity | Unknown:
    try:
        net = net_ionic(_SULFITE, route.half_reactions[1], 0.0, tables)
        dh = thermo.enthalpy(net, tables=tables)
    except MissingDataError as error:
        return Unknown(error.what or error.message, tuple(error.looked_in))
    count = sum(float(n) for n, s in net.reactants if bare(s) == bare(active[1])) or 1.0
    moles = left * per_compound / count
    return Quantity(dh.value * moles, "kJ", (dh.uncertainty or 0.0) * moles, dh.sources, dh.basis)


def _quench_steps(route: Route, active: Species) -> tuple[Step, ...]:
    if active in _CHROMIUM_VI or active in _SLOW_IN_BASE:
        return (
            Step(
                "Keep the liquor acid and add the sulfite as sodium hydrogensulfite, cold, in the hood.",
                f"{active} is reduced fast only in acid; some sulfur dioxide leaves",
            ),
            Step("Test: no colour left with starch and iodide.", "the oxidant is gone"),
            Step("Only then bring it to pH 8 with base.", "base first would lock the oxidant in"),
        )
    if route.job.ph >= 8:
        return (
            Step(
                "Leave the liquor alkaline and add the sulfite in portions.",
                "acid could free a toxic gas from this feed",
            ),
            Step(
                "Test: starch-iodide paper (on an acidified drop in the hood) stays white.",
                "the oxidant is gone",
            ),
            Step(
                "Adjust the pH last, and only if local rules ask for it.",
                "the feed may not be fully converted",
            ),
        )
    return (
        Step(
            "Put sulfite and base together in cold water first, then run the liquor into it.",
            "sulfite in acid loses sulfur dioxide; base alone turns halogen into halate",
        ),
        Step("Hold pH 7 to 9 meanwhile.", "the quench makes acid of its own"),
        Step(
            "Test: starch-iodide paper and peroxide strip negative, pH 7 to 9.",
            "oxidant and acid are both gone",
        ),
        Step("Acidify a few mL in the hood: it must stay colourless.", "yellow or brown would show halate"),
    )


def _order(route: Route) -> tuple[Step, ...]:
    """The plan's own order: oxidant last, acid never onto oxidant, water never into acid."""
    if route.job.addition is not None:
        return tuple(Step(f"Add {step}.", "order declared in the job") for step in route.job.addition)
    steps: list[Step] = [
        Step("Have the quench weighed out and dissolved.", "it must be ready before the oxidant is opened")
    ]
    acid, base, oxidant = route.charge("acid"), route.charge("base"), route.charge("oxidant")
    if route.water_grams:
        steps.append(
            Step(f"Water, {_grams(route.water_grams)}, into the open vessel.", "everything else goes into it")
        )
    if base is not None or route.job.ph >= 8:
        steps.append(
            Step(
                f"Bring the water to pH {route.job.ph:g} with base before the feed.",
                "the feed must never meet acid",
            )
        )
    if acid is not None:
        steps.append(
            Step(
                f"{_line(acid)} slowly into the water, stirred and cooled.",
                "acid into water, never the reverse",
            )
        )
    for charge in route.charges:
        if charge.role == "feed":
            steps.append(Step(f"{_line(charge)}.", "the reductant is there before any oxidant"))
    if oxidant is not None:
        steps.append(
            Step(
                f"{_line(oxidant)} last, in portions or dropwise, watching the temperature.",
                "what is dosed last is what can be stopped",
            )
        )
    elif route.oxidant.key == ANODE:
        steps.append(
            Step(
                "Switch the current on; set it by the cooling and the ventilation.",
                "hydrogen leaves at the cathode",
            )
        )
    return tuple(steps)


def _line(charge: Charge) -> str:
    amount = _grams(charge.grams)
    if isinstance(charge.ml, float):
        amount = f"{charge.ml:.3g} mL ({amount})"
    return f"{amount} of {charge.label}"


def _grams(grams: float) -> str:
    return f"{grams / 1000:.3g} kg" if grams >= 10_000 else f"{grams:.3g} g"
