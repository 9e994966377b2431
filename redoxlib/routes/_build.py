"""Putting one oxidant to one job.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from redoxlib import thermo
from redoxlib.bottles import Bottle, read_bottle
from redoxlib.data import OxidantReactionRow, OxidantRow, Tables, shipped
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.job import Conversion, Job, default_concentration
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY, Quantity, Unknown
from redoxlib.routes import _amounts as amounts
from redoxlib.routes._full import HYDROXIDE, PROTON, WATER, FullEquation, Supply, bare, full_equation, ions
from redoxlib.routes._halves import (
    BASIC_FROM,
    cell_potential,
    electrons,
    net_ionic,
    oxidation_half,
    pick_row,
    reduction_rows,
)
from redoxlib.routes._route import Charge, Electricity, Gas, Part, Product, Route

__all__ = ["NoRoute", "build_route", "circumstances"]

DEFAULT_VOLTS = Quantity(3.0, "V", 1.0, ("practice",), "estimate")
"""Cell voltage assumed for the energy of an anode; overvoltage and resistance decide it in truth."""

ANODE = "anode"

_ACID_IS_CHARGED_BELOW = 5.0
"""Only below this pH does the pot hold the acid's own anion."""
_PRODUCT_DENSITY_NOTE = "density at 20 to 25 C from liquids.csv"


@dataclass(frozen=True, slots=True)
class NoRoute:
    """Why an oxidant gives no route: ``verdict`` is "infeasible" or "undecided"."""

    oxidant: OxidantRow
    verdict: str
    reason: str
    looked_in: tuple[str, ...] = ()


def circumstances(job: Job, conversion: Conversion) -> tuple[str, ...]:
    """Tags by which oxidant_reactions.csv picks a special row ("with bromide", ...)."""
    tags = []
    if bare(conversion.feed) == Species.parse("Br^-"):
        tags.append("with bromide")
    acid = _acid(job)
    if job.ph < _ACID_IS_CHARGED_BELOW and any("S" in s.elements for _, s in ions(acid.solute)):
        tags.append("with sulfate")
    strength = acid.mass_fraction
    if (
        isinstance(strength, Quantity)
        and strength.value >= 0.6
        and bare(acid.solute) == Species.parse("HNO3")
    ):
        tags.append("with concentrated acid")
    return tuple(tags)


def _acid(job: Job) -> Bottle:
    return read_bottle(job.acid or amounts.DEFAULT_ACID)


def _base(job: Job) -> Bottle:
    return read_bottle(job.base or amounts.DEFAULT_BASE)


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
    acid, base = _acid(job), _base(job)
    litres = _treated_litres(job)
    drafts: list[_Draft] = []
    for conversion in job.conversions:
        drafted = _draft(job, conversion, oxidant, acid, base, litres, tables)
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
    return _assemble(job, oxidant, drafts, worst, acid, base, litres, tables)


def _activity(job: Job, conversion: Conversion) -> float:
    """Strength of the feed where it is given or the water is dilute; 1 otherwise, as stated."""
    quantity = conversion.amount or job.concentration
    if quantity is not None and quantity.measures_like("mol/L"):
        return float(quantity.to("mol/L").value)
    if quantity is not None and quantity.measures_like("g/L"):
        return float(quantity.to("g/L").value) / conversion.feed.molar_mass
    return 1e-3 / conversion.feed.molar_mass if job.purpose == "remove" else 1.0


def _couples(drafts: Sequence[_Draft], ph: float, tables: Tables) -> str:
    """The two couples behind a cell potential, where both are tabulated."""
    oxidation, reduction = drafts[0].halves
    try:
        top = thermo.potential(reduction, ph=ph, tables=tables).value
        bottom = thermo.potential(oxidation, ph=ph, tables=tables).value
    except RedoxlibError:
        return ""
    return f" ({top:.2f} V for the oxidant against {bottom:.2f} V)"


@dataclass(frozen=True, slots=True)
class _Draft:
    """A conversion under the oxidant, before amounts are turned into bottles."""

    conversion: Conversion
    halves: tuple[Equation, Equation]
    net: Equation
    full: FullEquation
    feed_compound: Species
    feed_bottle: Bottle | None
    oxidant_compound: Species | None
    feed_mol: float
    potential: Quantity | Unknown
    electrons: int
    notes: tuple[str, ...]

    def per_feed(self, species: Species, side: str = "reactants") -> float:
        """Moles of a species in the full equation per mole of the species oxidised."""
        pairs = getattr(self.full.equation, side)
        count = sum(Fraction(n) for n, s in pairs if bare(s) == bare(species))
        return float(count / self.full.per_net / self.net_count(self.conversion.feed))

    def net_count(self, species: Species) -> Fraction:
        """Coefficient of a species in the net ionic equation, whichever side."""
        found = sum(
            (Fraction(n) for n, s in (*self.net.reactants, *self.net.products) if bare(s) == bare(species)),
            Fraction(0),
        )
        return found or Fraction(1)


def _treated_litres(job: Job) -> float:
    if job.pot_mass is not None:
        return float(job.pot_mass.to("kg").value)  # dilute water, 1 kg/L
    return 1000.0


def _draft(
    job: Job,
    conversion: Conversion,
    oxidant: OxidantRow,
    acid: Bottle,
    base: Bottle,
    litres: float,
    tables: Tables,
) -> _Draft | NoRoute:
    ph = job.ph
    try:
        oxidation, real, notes = oxidation_half(conversion, ph, tables, _activity(job, conversion))
    except MissingDataError as error:
        return NoRoute(oxidant, "undecided", error.message, tuple(error.looked_in))
    compound, feed_bottle, feed_notes = amounts.feed_compound(conversion, job)
    notes += feed_notes
    if oxidant.key == ANODE:
        row = None
        reduction = _cathode(ph)
    else:
        row = pick_row(reduction_rows(oxidant.key, ph, tables), circumstances(job, conversion))
        if row is None:
            windows = sorted({(r.ph_min, r.ph_max) for r in tables.oxidant_reactions.get(oxidant.key, ())})
            where = " and ".join(f"pH {max(low, -1):g} to {min(high, 15):g}" for low, high in windows)
            return NoRoute(
                oxidant,
                "infeasible",
                f"it does not act as an oxidant at pH {ph:g}" + (f" (only at {where})" if where else ""),
            )
        reduction = Equation.parse(row.half_reaction)
    if _same_couple(oxidation, reduction):
        return NoRoute(oxidant, "infeasible", f"{oxidant.name} is itself the couple of {real.feed}")
    net = net_ionic(oxidation, _align(reduction, real.target), ph, tables)
    notes += list(dict.fromkeys(conversion.assumptions))
    supplies, oxidant_compound = _supplies(conversion, real, compound, oxidant, row)
    full = full_equation(
        net, supplies, acid=acid.solute, base=base.solute, basic=ph >= BASIC_FROM, feed=compound
    )
    misses = _misses_target(conversion, real, full)
    if misses is not None:
        return NoRoute(oxidant, "infeasible", misses)
    if oxidant.key == ANODE and not (job.context and "divided cell" in job.context):
        plates = _plates_out(real, oxidation, ph, tables)
        if plates is not None:
            return NoRoute(oxidant, "infeasible", plates)
    potential: Quantity | Unknown
    try:
        potential = cell_potential(oxidation, reduction, net, ph, tables)
    except MissingDataError as error:
        potential = Unknown(error.what or error.message, tuple(error.looked_in))
    feed_mol = amounts.feed_moles(conversion, job, compound, feed_bottle, litres)
    return _Draft(
        real,
        (oxidation, reduction),
        net,
        full,
        compound,
        feed_bottle,
        oxidant_compound,
        feed_mol,
        potential,
        electrons(oxidation),
        tuple(notes),
    )


def _misses_target(conversion: Conversion, real: Conversion, full: FullEquation) -> str | None:
    """Say so when a salt was asked for by name and the pot has not its anion."""
    wanted = conversion.target_compound
    if wanted is None or not bare(real.target).charge:
        return None
    made = full.carrier.get(bare(real.target), (bare(real.target), Fraction(1)))[0]
    asked = {s for _, s in ions(wanted) if s != WATER}
    if asked <= {s for _, s in ions(made)}:
        return None
    missing = ", ".join(str(s) for s in sorted(asked - {s for _, s in ions(made)}, key=str))
    return f"it gives {made}, not {bare(wanted)}: nothing in the pot brings {missing}"


def _plates_out(real: Conversion, oxidation: Equation, ph: float, tables: Tables) -> str | None:
    """A metal nobler than hydrogen plates out at the cathode as fast as it dissolves at the anode."""
    feed = bare(real.feed)
    if feed.charge or len(feed.elements) != 1 or not bare(real.target).charge:
        return None
    try:
        lead = thermo.potential(oxidation, ph=ph, tables=tables).value + thermo.nernst_slope() * ph
    except MissingDataError:
        return None
    if lead <= 0:
        return None
    return (
        f"in an undivided cell {feed} plates out at the cathode again ({lead:+.2f} V against hydrogen); "
        'declare context = "divided cell" for one with a diaphragm'
    )


def _align(reduction: Equation, target: Species) -> Equation:
    """Write what the oxidant turns into in the target's own phase where it is the target."""

    def fix(side: Sequence[tuple[int | Fraction, Species]]) -> list[tuple[int | Fraction, Species]]:
        return [(n, target if bare(s) == bare(target) else s) for n, s in side]

    return Equation.of(fix(reduction.reactants), fix(reduction.products))


def _same_couple(oxidation: Equation, reduction: Equation) -> bool:
    def key(side: Sequence[tuple[int | Fraction, Species]]) -> frozenset[Species]:
        return frozenset(bare(s) for _, s in side if s.elements and bare(s) not in (WATER, PROTON, HYDROXIDE))

    return key(oxidation.reactants) == key(reduction.products) and key(oxidation.products) == key(
        reduction.reactants
    )


def _cathode(ph: float) -> Equation:
    if ph < BASIC_FROM:
        return Equation.parse("2 H^+(aq) + 2 e^- -> H2(g)")
    return Equation.parse("2 H2O(l) + 2 e^- -> H2(g) + 2 OH^-(aq)")


def _supplies(
    conversion: Conversion,
    real: Conversion,
    compound: Species,
    oxidant: OxidantRow,
    row: OxidantReactionRow | None,
) -> tuple[list[Supply], Species | None]:
    supplies = []
    feed_ion = bare(real.feed)
    parts = {s: n for n, s in ions(compound)}
    if feed_ion in parts:
        supplies.append(Supply.dissolving(feed_ion, compound))
    elif bare(conversion.feed) in parts:
        # The pot holds another form (HS- from S2-): protons make up the difference.
        difference = _protons_between(bare(conversion.feed), feed_ion)
        gives = [(Fraction(n), s) for s, n in parts.items() if s != bare(conversion.feed)]
        count = Fraction(parts[bare(conversion.feed)])
        supplies.append(
            Supply(
                feed_ion,
                compound,
                tuple((n * count, s) for n, s in difference),
                ((count, feed_ion), *gives),
            )
        )
    else:
        supplies.append(Supply(feed_ion, compound, (), ((Fraction(1), feed_ion),)))
    if row is None:
        return supplies, None
    bottle_compound = Species.parse(oxidant.formula)
    supplies.append(
        Supply.reacting(Species.parse(row.active), Equation.parse(row.from_bottle), bottle_compound)
    )
    return supplies, bare(bottle_compound)


def _protons_between(charged: Species, real: Species) -> list[tuple[Fraction, Species]]:
    """H+ (and water) one form takes up on its way to another of the same oxidation number."""
    oxygen = Fraction(real.elements.get("O", 0)) - Fraction(charged.elements.get("O", 0))
    hydrogen = Fraction(real.elements.get("H", 0)) - Fraction(charged.elements.get("H", 0))
    out = []
    if oxygen:
        out.append((oxygen, WATER))
    if hydrogen - 2 * oxygen:
        out.append((hydrogen - 2 * oxygen, PROTON))
    return out


def _worst_potential(drafts: Sequence[_Draft]) -> Quantity | Unknown:
    unknown = [d.potential for d in drafts if isinstance(d.potential, Unknown)]
    if unknown:
        return unknown[0]
    return min((d.potential for d in drafts if isinstance(d.potential, Quantity)), key=lambda q: q.value)


def _assemble(
    job: Job,
    oxidant: OxidantRow,
    drafts: Sequence[_Draft],
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
            )
        )
    compound = drafts[0].oxidant_compound
    if compound is not None:
        shelf, label = amounts.bottle_for(compound, job, oxidant.key)
        charges.append(_charge("oxidant", compound, need["oxidant"] * margin, need["oxidant"], shelf, label))
    for role, bottle, label in (
        ("acid", acid, job.acid or amounts.DEFAULT_ACID),
        ("base", base, job.base or amounts.DEFAULT_BASE),
    ):
        if need[role] > 0:
            charges.append(_charge(role, bare(bottle.solute), need[role] * margin, need[role], bottle, label))
    charges, limiting, extent = _limit(charges, job)
    water = _water_grams(job, drafts, litres)
    if water:
        charges.append(
            Charge("water", WATER, water / WATER.molar_mass, 0.0, water, water, None, "water", water)
        )
    pot = _pot_grams(job, charges)
    parts = tuple(_part(d, extent, job, tables) for d in drafts)
    gases = _gases(drafts, extent)
    electricity = None
    if oxidant.key == ANODE:
        electricity = _electricity(drafts, extent)
    return Route(
        oxidant=oxidant,
        job=job,
        parts=parts,
        charges=tuple(charges),
        limiting=limiting,
        gases=gases,
        pot_grams=pot,
        water_grams=water,
        cell_potential=potential,
        electricity=electricity,
        notes=tuple(dict.fromkeys(notes)),
    )


def _charge(
    role: str, compound: Species, mol: float, needed: float, bottle: Bottle | None, label: str
) -> Charge:
    pure = mol * compound.molar_mass
    if bottle is None:
        return Charge(role, compound, mol, needed, pure, None, None, label, pure, note="taken as pure")
    weighed, ml = bottle.amount_for(mol)
    litres = mol * amounts.GAS_LITRES if bottle.form == "gas" else None
    grams, note = pure, ""
    if isinstance(weighed, Unknown):
        # The label gives only a volume strength: what is dissolved is known, what it is dissolved in is not.
        note = f"{weighed.what} unknown, counted as the pure substance"
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


def _water_grams(job: Job, drafts: Sequence[_Draft], litres: float) -> float:
    if job.purpose == "remove":
        return litres * 1000.0
    if job.acid is not None and _acid(job).undiluted:
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
    if job.pot_mass is not None:
        return float(job.pot_mass.to("g").value)
    return sum(c.grams for c in charges if c.gas_litres is None)


def _part(d: _Draft, extent: float, job: Job, tables: Tables) -> Part:
    target = bare(d.conversion.target)
    target_mol = d.feed_mol * extent * float(d.net_count(target) / d.net_count(d.conversion.feed))
    compound, per_unit = d.full.carrier.get(target, (target, Fraction(1)))
    compound_mol = target_mol / float(per_unit)
    grams = compound_mol * compound.molar_mass
    ml, note = _product_ml(d.conversion.target, compound, grams, tables)
    per_target = Fraction(1) / d.net_count(target)
    per_product = _scaled_energy(d.net, per_target, job.ph, tables)
    return Part(
        conversion=d.conversion,
        half_reactions=d.halves,
        net_ionic=d.net,
        full=d.full.equation,
        electrons=d.electrons,
        feed_mol=d.feed_mol,
        feed_compound=d.feed_compound,
        product=Product(d.conversion.target, compound, target_mol, grams, ml, note),
        potential=d.potential,
        dH=per_product[0],
        dG=per_product[1],
        notes=d.notes,
    )


def _scaled_energy(
    net: Equation, factor: Fraction, ph: float, tables: Tables
) -> tuple[Quantity | Unknown, Quantity | Unknown]:
    out: list[Quantity | Unknown] = []
    for verb in (thermo.enthalpy, thermo.gibbs):
        try:
            q = verb(net, tables=tables)
        except MissingDataError as error:
            out.append(Unknown(error.what or error.message, tuple(error.looked_in)))
            continue
        value = q.value
        if verb is thermo.gibbs:
            value += _proton_work(net, ph)
        f = float(factor)
        out.append(Quantity(value * f, q.unit, (q.uncertainty or 0.0) * f, q.sources, q.basis))
    return out[0], out[1]


def _proton_work(net: Equation, ph: float) -> float:
    """Gibbs energy that H+ and OH- away from unit activity add, kJ per mole of the net equation."""
    # E shifts by -d/n; multiplied back by nF that is independent of n.
    return -thermo.ph_shift(net, 1, ph) * FARADAY.value / 1000


def _product_ml(
    target: Species, compound: Species, grams: float, tables: Tables
) -> tuple[float | Unknown | None, str]:
    if target.phase is not Phase.LIQUID:
        return None, ""
    wanted = bare(compound)
    for row in tables.liquids:
        if row.property == "density" and bare(Species.parse(row.species)) == wanted:
            return grams / row.value, f"density {row.value:g} {row.unit} at {row.temperature_C:g} C"
    return Unknown(f"density of {compound}", ("liquids.csv",)), ""


def _gases(drafts: Sequence[_Draft], extent: float) -> tuple[Gas, ...]:
    total: dict[Species, float] = {}
    for d in drafts:
        for n, s in d.net.products:
            if s.phase is Phase.GAS and bare(s) != bare(d.conversion.target):
                mol = d.feed_mol * extent * float(Fraction(n) / d.net_count(d.conversion.feed))
                total[bare(s)] = total.get(bare(s), 0.0) + mol
        for _, s in d.full.equation.products:
            if bare(s) in _SPECTATOR_GASES and bare(s) not in {bare(x) for _, x in d.net.products}:
                mol = d.feed_mol * extent * d.per_feed(s, "products")
                total[bare(s)] = total.get(bare(s), 0.0) + mol
    return tuple(Gas(s, n, n * amounts.GAS_LITRES) for s, n in total.items())


_SPECTATOR_GASES = frozenset(Species.parse(text) for text in ("CO2", "O2", "Cl2", "NO", "NO2", "SO2"))


def _electricity(drafts: Sequence[_Draft], extent: float) -> Electricity:
    moles = sum(d.feed_mol * extent * d.electrons / float(_oxidised_per_half(d)) for d in drafts)
    ampere_hours = moles * FARADAY.value / 3600
    return Electricity(
        ampere_hours,
        DEFAULT_VOLTS,
        ampere_hours * DEFAULT_VOLTS.value / 1000,
        moles / 2 * amounts.GAS_LITRES,
    )


def _oxidised_per_half(d: _Draft) -> Fraction:
    return sum(
        (Fraction(n) for n, s in d.halves[0].reactants if bare(s) == bare(d.conversion.feed)), Fraction(0)
    ) or Fraction(1)
