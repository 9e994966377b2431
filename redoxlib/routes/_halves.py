"""Half-reactions in the real medium and the net ionic equation they combine to.

Combination is by electron count, never by atom balance alone: peroxide, ozone or hypochlorite would
otherwise allow any mixture with their own decomposition.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import gcd

from redoxlib import thermo
from redoxlib.data import OxidantReactionRow, Tables
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.job import Conversion
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY
from redoxlib.routes._full import HYDROXIDE, PROTON, WATER, bare
from redoxlib.stoichiometry import complete

__all__ = ["BASIC_FROM", "default_phase", "electrons", "net_ionic", "oxidation_half", "reduction_rows"]

BASIC_FROM = 8.0
"""From this pH on, equations are written with OH-; below it with H+."""

ELECTRON = Species.parse("e^-")
Signed = dict[Species, Fraction]


def default_phase(species: Species, tables: Tables) -> Species:
    """Give a species the phase it has in an open pot: ions dissolved, solids and liquids as such."""
    if species.phase is not Phase.UNSTATED or not species.elements:
        return species
    if species.charge:
        return species.with_phase(Phase.AQUEOUS)
    if bare(species) == WATER:
        return species.with_phase(Phase.LIQUID)
    held = thermo.phases_of(species, tables)
    dissolved_by_nature = bare(species) in _ALWAYS_DISSOLVED
    order = (
        (Phase.AQUEOUS, Phase.SOLID, Phase.LIQUID, Phase.GAS)
        if dissolved_by_nature
        else (Phase.SOLID, Phase.LIQUID, Phase.GAS, Phase.AQUEOUS)
    )
    for phase in order:
        if phase in held:
            return species.with_phase(phase)
    return species


_ALWAYS_DISSOLVED = frozenset(
    Species.parse(text)
    for text in ("H2O2", "HNO3", "H2SO4", "CH3COOH", "HCOOH", "CH2O", "NH3", "HNO2", "HCN", "HClO", "H2C2O4")
)


def _signed(equation: Equation) -> Signed:
    out: Signed = {}
    for sign, side in ((-1, equation.reactants), (1, equation.products)):
        for n, s in side:
            out[s] = out.get(s, Fraction(0)) + sign * Fraction(n)
    return {s: n for s, n in out.items() if n}


def _equation(signed: Signed) -> Equation:
    """Smallest whole numbers, reactants first in the order they were met, H+ and water last."""

    def rank(species: Species) -> int:
        kind = bare(species)
        return 3 if not kind.elements else 2 if kind == WATER else 1 if kind in (PROTON, HYDROXIDE) else 0

    values = list(signed.values())
    denominator, common = 1, 0
    for v in values:
        denominator = denominator * v.denominator // gcd(denominator, v.denominator)
    for v in values:
        common = gcd(common, int(abs(v) * denominator))
    factor = Fraction(denominator, common or 1)
    items = sorted(signed.items(), key=lambda item: rank(item[0]))
    return Equation.of(
        [(int(-n * factor), s) for s, n in items if n < 0],
        [(int(n * factor), s) for s, n in items if n > 0],
    )


def _phased(signed: Signed, tables: Tables) -> Signed:
    out: Signed = {}
    for s, n in signed.items():
        phased = default_phase(s, tables)
        out[phased] = out.get(phased, Fraction(0)) + n
    return {s: n for s, n in out.items() if n}


def _with_protons(signed: Signed) -> Signed:
    """Write OH- as H2O - H+."""
    out = dict(signed)
    for s in [s for s in out if bare(s) == HYDROXIDE]:
        n = out.pop(s)
        water, proton = WATER.with_phase(Phase.LIQUID), PROTON.with_phase(Phase.AQUEOUS)
        out[water] = out.get(water, Fraction(0)) + n
        out[proton] = out.get(proton, Fraction(0)) - n
    return {s: n for s, n in out.items() if n}


def _for_medium(signed: Signed, ph: float) -> Signed:
    out = _with_protons(signed)
    if ph < BASIC_FROM:
        return out
    proton = PROTON.with_phase(Phase.AQUEOUS)
    n = out.pop(proton, Fraction(0))
    if n:
        water, hydroxide = WATER.with_phase(Phase.LIQUID), HYDROXIDE.with_phase(Phase.AQUEOUS)
        out[water] = out.get(water, Fraction(0)) + n
        out[hydroxide] = out.get(hydroxide, Fraction(0)) - n
    return {s: n for s, n in out.items() if n}


def in_medium(equation: Equation, ph: float) -> Equation:
    """The equation with OH- and water in place of H+ where the pot is basic; species with their phases."""
    return _equation(_for_medium(_signed(equation), ph))


def electrons(half: Equation) -> int:
    """Number of electrons in a half-reaction, whichever side they stand on."""
    return abs(thermo.electrons_of(half))


def oxidation_half(
    conversion: Conversion, ph: float, tables: Tables, activity: float = 1.0
) -> tuple[Equation, Conversion, list[str]]:
    """The oxidation half-reaction with the forms really there at the pH, and what was changed.

    ``activity`` is that of the dissolved forms: a dilute metal ion stays dissolved to a higher pH.

    Raises
    ------
    ImpossibleError
        When feed and target cannot be connected by water, protons and electrons.
    """
    notes: list[str] = []
    feed = thermo.stable_form(conversion.feed, ph, activity=activity, tables=tables)
    target = thermo.stable_form(conversion.target, ph, activity=activity, tables=tables)
    for typed, real in ((conversion.feed, feed), (conversion.target, target)):
        if bare(typed) != bare(real):
            notes.append(f"at pH {ph:g} {typed} is there as {real}")
    feed, target = default_phase(feed, tables), default_phase(target, tables)
    medium = "acid" if ph < BASIC_FROM else "base"
    balance = complete(f"{bare(feed)} -> {bare(target)}", medium=medium)
    signed = _signed(balance.equation)
    fixed: Signed = {}
    for s, n in signed.items():
        if s.elements and bare(s) == bare(feed):
            s = feed
        elif s.elements and bare(s) == bare(target):
            s = target
        fixed[s] = n
    half = _equation(_for_medium(_phased(fixed, tables), ph))
    changed = Conversion(
        conversion.text,
        feed,
        target,
        conversion.feed_compound,
        conversion.target_compound,
        conversion.amount,
        conversion.assumptions,
    )
    return half, changed, notes


def reduction_rows(key: str, ph: float, tables: Tables) -> list[OxidantReactionRow]:
    """Rows of oxidant_reactions.csv whose pH window holds *ph*."""
    return [row for row in tables.oxidant_reactions.get(key, ()) if row.ph_min <= ph < row.ph_max]


def pick_row(rows: Iterable[OxidantReactionRow], circumstances: Iterable[str]) -> OxidantReactionRow | None:
    """The row for the circumstances ("with bromide"), else the one that needs none."""
    plain: OxidantReactionRow | None = None
    for row in rows:
        tag = row.note.split(";")[0].strip()
        if tag.startswith("with "):
            if tag in circumstances:
                return row
        elif plain is None:
            plain = row
    return plain


def net_ionic(oxidation: Equation, reduction: Equation, ph: float, tables: Tables) -> Equation:
    """Add two half-reactions so that their electrons cancel, and write the sum for the medium."""
    lost, taken = electrons(oxidation), electrons(reduction)
    if not lost or not taken:
        # A feed that gives up nothing but oxygen atoms is balanced with water and loses no electron.
        raise DomainError(f"{oxidation if not lost else reduction} passes no electrons")
    common = lost * taken // gcd(lost, taken)
    total: Signed = {}
    for half, factor in ((oxidation, common // lost), (reduction, common // taken)):
        for s, n in _phased(_with_protons(_signed(half)), tables).items():
            total[s] = total.get(s, Fraction(0)) + n * factor
    total = {s: n for s, n in total.items() if n and s.elements}
    return _equation(_for_medium(total, ph))


def cell_potential(
    oxidation: Equation, reduction: Equation, net: Equation, ph: float, tables: Tables
) -> thermo.Potential:
    """Cell potential at the pH, from Gibbs energies of one family, else from the two couples.

    Raises
    ------
    MissingDataError
        When neither way has the data.
    """
    lost, taken = electrons(oxidation), electrons(reduction)
    n = lost * taken // gcd(lost, taken)
    # The smallest whole numbers of the sum may be a fraction of what n electrons move.
    moved = _electrons_moved(oxidation, reduction, net)
    at = ph
    try:
        dg = thermo.gibbs(net, tables=tables)
        n = moved
        shift = thermo.ph_shift(net, n, at)
        factor = 1000 / (n * FARADAY.value)
        return thermo.Potential(
            -dg.value * factor + shift, "V", (dg.uncertainty or 0.0) * factor, dg.sources, dg.basis, (), n
        )
    except MissingDataError:
        pass
    top = thermo.potential(reduction, ph=at, tables=tables)
    bottom = thermo.potential(oxidation, ph=at, tables=tables)
    spread = ((top.uncertainty or 0.0) ** 2 + (bottom.uncertainty or 0.0) ** 2) ** 0.5
    sources = (*top.sources, *(s for s in bottom.sources if s not in top.sources))
    return thermo.Potential(top.value - bottom.value, "V", spread, sources, top.basis, (), moved)


def _electrons_moved(oxidation: Equation, reduction: Equation, net: Equation) -> int:
    """Electrons the net equation as written moves, counted on a species only the oxidation holds."""
    half, total = _signed(oxidation), _signed(net)
    shared = {bare(s) for s in _signed(reduction)} | {WATER, PROTON, HYDROXIDE}
    for s, n in half.items():
        whole = total.get(s)
        if s.elements and whole and bare(s) not in shared:
            return abs(int(electrons(oxidation) * Fraction(whole) / Fraction(n)))
    raise DomainError(f"{net} does not hold the feed of {oxidation}")
