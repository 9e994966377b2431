"""What a route gives: product, energies, gas, and what an anode needs.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from redoxlib import thermo
from redoxlib.data import Tables
from redoxlib.errors import MissingDataError
from redoxlib.job import Job
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY, Quantity, Unknown
from redoxlib.routes import _amounts as amounts
from redoxlib.routes._draft import Draft
from redoxlib.routes._full import PROTON, bare, ions
from redoxlib.routes._route import Electricity, Gas, Part, Product

__all__ = ["DEFAULT_VOLTS", "acid_made", "electricity", "gases", "part"]


DEFAULT_VOLTS = Quantity(3.0, "V", 1.0, ("practice",), "estimate")
"""Cell voltage assumed for the energy of an anode; overvoltage and resistance decide it in truth."""


def part(d: Draft, extent: float, job: Job, tables: Tables) -> Part:
    """A conversion with its largest yield and its energies per mol of product."""
    target = bare(d.conversion.target)
    per_feed = d.made_count() / d.net_count(d.conversion.feed)
    target_mol = d.feed_mol * extent * float(per_feed)
    compound, _ = d.full.carrier.get(target, (target, Fraction(1)))
    # A target that had to be paired with two counter-ions weighs what both salts weigh.
    share = d.made_count() / d.net_count(d.conversion.target)
    mass = sum(float(n) * s.molar_mass for n, s in d.full.holding(target)) / float(d.full.per_net)
    grams = d.feed_mol * extent * mass * float(share / d.net_count(d.conversion.feed))
    ml, note = _product_ml(d.conversion.target, compound, grams, tables)
    per_product = _scaled_energy(d.net, Fraction(1) / d.made_count(), job.ph, tables)
    salts = tuple(s for _, s in d.full.holding(target))
    return Part(
        conversion=d.conversion,
        half_reactions=d.halves,
        net_ionic=d.net,
        full=d.full.equation,
        electrons=d.electrons,
        feed_mol=d.feed_mol,
        feed_compound=d.feed_compound,
        product=Product(
            d.conversion.target,
            compound,
            target_mol,
            grams,
            ml,
            note,
            salts,
            float(share),
        ),
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


def gases(drafts: Sequence[Draft], extent: float) -> tuple[Gas, ...]:
    """Every gas that leaves, from the net ionic equations and from spectators such as carbonate."""
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


def electricity(drafts: Sequence[Draft], extent: float, volts: Quantity) -> Electricity:
    """Charge, energy at the given cell voltage, and hydrogen from the cathode."""
    moles = sum(d.feed_mol * extent * d.electrons / float(_oxidised_per_half(d)) for d in drafts)
    ampere_hours = moles * FARADAY.value / 3600
    return Electricity(
        ampere_hours,
        volts,
        ampere_hours * float(volts.to("V").value) / 1000,
        moles / 2 * amounts.GAS_LITRES,
    )


def _oxidised_per_half(d: Draft) -> Fraction:
    return sum(
        (Fraction(n) for n, s in d.halves[0].reactants if bare(s) == bare(d.conversion.feed)), Fraction(0)
    ) or Fraction(1)


def acid_made(part: Part) -> float:
    """Strong acid among the products of the full equation, for the whole feed of the part [mol H+]."""
    compound, feed = bare(part.feed_compound), bare(part.conversion.feed)
    taken = sum(float(n) for n, s in part.full.reactants if bare(s) == compound) or 1.0
    held = sum(float(n) for n, s in ions(compound) if bare(s) == feed) or 1.0
    freed = sum(float(n * m) for n, s in part.full.products for m, ion in ions(s) if ion == PROTON)
    return part.feed_mol * freed / (taken * held)
