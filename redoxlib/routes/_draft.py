"""One conversion under one oxidant: which form acts, and the equations that follow.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from redoxlib import thermo
from redoxlib.bottles import Bottle, read_bottle
from redoxlib.data import OxidantReactionRow, OxidantRow, Tables
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.job import Conversion, Job, acid_label, base_label
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown
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
from redoxlib.stoichiometry import oxidation_numbers

__all__ = ["ANODE", "Draft", "NoRoute", "acid_of", "base_of", "draft"]


ANODE = "anode"

_ACID_IS_CHARGED_BELOW = 5.0
"""Only below this pH does the pot hold the acid's own anion."""


@dataclass(frozen=True, slots=True)
class NoRoute:
    """Why an oxidant gives no route: ``verdict`` is "infeasible" or "undecided"."""

    oxidant: OxidantRow
    verdict: str
    reason: str
    looked_in: tuple[str, ...] = ()


def _circumstances(job: Job, conversion: Conversion) -> tuple[str, ...]:
    """Tags by which oxidant_reactions.csv picks a special row ("with bromide", ...)."""
    tags = []
    if bare(conversion.feed) == Species.parse("Br^-"):
        tags.append("with bromide")
    acid = acid_of(job)
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


@lru_cache(maxsize=64)
def _bottle(label: str) -> Bottle:
    """A comparison asks for the same two bottles once an oxidant."""
    return read_bottle(label)


def acid_of(job: Job) -> Bottle:
    return _bottle(acid_label(job))


def base_of(job: Job) -> Bottle:
    return _bottle(base_label(job))


def _coefficient(side: Sequence[tuple[int | Fraction, Species]], species: Species) -> Fraction:
    return sum((Fraction(n) for n, s in side if bare(s) == bare(species)), Fraction(0))


def _oxidant_changes(reduction: Equation, target: Species) -> bool:
    """Whether the target's key element is what the oxidant reduces (bromate yes, persulfate no)."""
    keys = set(target.elements) - {"H", "O"} or set(target.elements)
    for _, s in reduction.reactants:
        for element in keys & set(s.elements):
            try:
                before = oxidation_numbers(str(bare(s))).average[element]
                after = oxidation_numbers(str(bare(target))).average[element]
            except (RedoxlibError, KeyError):
                return False
            return before != after
    return False


def _activity(job: Job, conversion: Conversion) -> float:
    """Strength of the feed where it is given or the water is dilute; 1 otherwise, as stated."""
    quantity = conversion.amount or job.concentration
    if quantity is not None and quantity.measures_like("mol/L"):
        return float(quantity.to("mol/L").value)
    if quantity is not None and quantity.measures_like("g/L"):
        return float(quantity.to("g/L").value) / conversion.feed.molar_mass
    return 1e-3 / conversion.feed.molar_mass if job.purpose == "remove" else 1.0


@dataclass(frozen=True, slots=True)
class Draft:
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
    release_protons: Fraction = Fraction(0)
    """H+ that one formula of the bottle's compound takes to become what oxidises."""

    def per_feed(self, species: Species, side: str = "reactants") -> float:
        """Moles of a species in the full equation per mole of the species oxidised."""
        pairs = getattr(self.full.equation, side)
        count = sum(Fraction(n) for n, s in pairs if bare(s) == bare(species))
        return float(count / self.full.per_net / self.net_count(self.conversion.feed))

    def made_count(self) -> Fraction:
        """Target per net equation that the conversion and the oxidant's own change make.

        An oxidant may bring the target's atoms (bromate on bromide); a spectator that merely looks like the
        target (sulfate left by persulfate) is no product.
        """
        total = self.net_count(self.conversion.target)
        half = self.halves[0]
        fed = _coefficient(half.reactants, self.conversion.feed)
        made = _coefficient(half.products, self.conversion.target)
        own = made / fed * self.net_count(self.conversion.feed) if fed else total
        return total if total <= own or _oxidant_changes(self.halves[1], self.conversion.target) else own

    def net_count(self, species: Species) -> Fraction:
        """Coefficient of a species in the net ionic equation, whichever side."""
        found = sum(
            (Fraction(n) for n, s in (*self.net.reactants, *self.net.products) if bare(s) == bare(species)),
            Fraction(0),
        )
        return found or Fraction(1)


def draft(
    job: Job,
    conversion: Conversion,
    oxidant: OxidantRow,
    acid: Bottle,
    base: Bottle,
    litres: float,
    tables: Tables,
) -> Draft | NoRoute:
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
        row = pick_row(reduction_rows(oxidant.key, ph, tables), _circumstances(job, conversion))
        if row is None:
            where = " and ".join(
                f"pH {low:g} to below {high:g}" for low, high in _windows(oxidant.key, tables)
            )
            return NoRoute(
                oxidant,
                "infeasible",
                f"it does not act as an oxidant here: no reaction of it is tabulated at pH {ph:g}"
                + (f", only from {where}" if where else ""),
            )
        reduction = Equation.parse(row.half_reaction)
    if _same_couple(oxidation, reduction, tables):
        return NoRoute(oxidant, "infeasible", f"{oxidant.name} is itself the couple of {real.feed}")
    net = net_ionic(oxidation, _align(reduction, real.target), ph, tables)
    if not _connects(net, real):
        return NoRoute(
            oxidant,
            "infeasible",
            f"with {oxidant.name} nothing would turn {real.feed} into {real.target}: "
            f"one of them is what {oxidant.name} itself holds or becomes, and cancels",
        )
    notes += list(dict.fromkeys(conversion.assumptions))
    supplies, oxidant_compound = _supplies(conversion, real, compound, oxidant, row)
    full = full_equation(
        net,
        supplies,
        acid=acid.solute,
        base=base.solute,
        basic=ph >= BASIC_FROM,
        feed=compound,
        target=bare(real.target),
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
    return Draft(
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
        sum((n for supply in supplies for n, s in supply.needs if s == PROTON), Fraction(0)),
    )


def _windows(key: str, tables: Tables) -> list[tuple[float, float]]:
    """The pH windows of an oxidant, overlapping and adjoining ones joined."""
    joined: list[tuple[float, float]] = []
    for low, high in sorted((r.ph_min, r.ph_max) for r in tables.oxidant_reactions.get(key, ())):
        if joined and low <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined


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
    return (
        f"it gives {made}, not {bare(wanted)}: nothing in the pot brings {missing}; name an acid, "
        "base or feed that does, or ask for the ion alone"
    )


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


def _connects(net: Equation, real: Conversion) -> bool:
    """Whether the sum still uses the feed and gives the target."""
    used = {bare(s) for _, s in net.reactants}
    made = {bare(s) for _, s in net.products}
    return bare(real.feed) in used and bare(real.target) in made


def _same_couple(oxidation: Equation, reduction: Equation, tables: Tables) -> bool:
    """Whether the oxidant is only the target again (in any form) on its way back to the feed."""

    def key(side: Sequence[tuple[int | Fraction, Species]]) -> frozenset[object]:
        return frozenset(
            thermo.family_of(s, tables=tables)
            for _, s in side
            if s.elements and bare(s) not in (WATER, PROTON, HYDROXIDE)
        )

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
