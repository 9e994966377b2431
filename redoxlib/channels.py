"""What else can happen: side channels found from the tables, each open or not, gated, sized.

Verb: side_risk.  A channel is open when the oxidant's potential exceeds that of the channel's couple by
more than 0.05 V at the real pH; its gate is 1 or 0 where the kinetics are known and the whole interval
where they are not; its amount is worked out at the declared excess and again 10 and 20 % over-dosed, and
graded at the worst of these.

May import: routes and below.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from redoxlib import thermo
from redoxlib._tiers import TIERS, UNCLASSIFIED_TIER
from redoxlib.data import HazardRow, Tables, shipped
from redoxlib.errors import RedoxlibError
from redoxlib.measures import Channel, SideRisk
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity
from redoxlib.routes import ANODE, Part, Route, bare, ions, verdict_for

__all__ = ["OVERDOSE", "side_risk", "tier_of"]

OVERDOSE = 0.20
"""The largest mis-dose tested: a fifth more oxidant than declared."""

OPEN_ABOVE, CLOSED_BELOW = 0.05, -0.05  # V

_CHLORIDE, _WATER = Species.parse("Cl^-"), Species.parse("H2O")
_MIXED = {
    Species.parse("Br2"): Species.parse("BrCl"),
    Species.parse("I2"): Species.parse("ICl"),
}
_ACTIVE_CHLORINE = frozenset(Species.parse(t) for t in ("HClO", "ClO^-", "Cl2"))
_TOXIC_GASES = frozenset(
    Species.parse(t) for t in ("NO", "NO2", "SO2", "Cl2", "ClO2", "H2S", "HCN", "CNCl", "NCl3", "NH3")
)
_BENIGN = frozenset(Species.parse(t) for t in ("H2O", "H^+", "OH^-", "O2"))


class UnknownCodeError(RedoxlibError, LookupError):
    """A hazard code without a tier."""


@cache
def _codes(tables: Tables) -> dict[Species, tuple[HazardRow, ...]]:
    found: dict[Species, list[HazardRow]] = {}
    for rows in tables.hazards.values():
        for row in rows:
            if row.formula:
                found.setdefault(bare(Species.parse(row.formula)), []).append(row)
    return {k: tuple(v) for k, v in found.items()}


_LIMIT = re.compile(r"^(?:([0-9.]+)<=)?w(?:(>=|<)([0-9.]+))?$")


def _applies(conditions: str, strength: float | None) -> bool:
    """Whether a statement holds at a mass fraction; without one every statement of the substance does."""
    if conditions == "compressed gas":  # in its cylinder, which is not what leaves a pot
        return False
    if strength is None:
        return True
    found = _LIMIT.match(conditions)
    if not found:
        return True
    low, sign, number = found.groups()
    if low is not None and strength < float(low):
        return False
    if sign == ">=":
        return strength >= float(number)
    return sign is None or strength < float(number)


def tier_of(
    species: Species, tables: Tables | None = None, *, strength: float | None = None
) -> tuple[int | None, tuple[str, ...], tuple[str, ...]]:
    """Hazard tier, H-codes and sources of a substance; tier None when no table classifies it.

    ``strength`` is the mass fraction of the bottle, for statements that depend on it.

    Raises
    ------
    LookupError
        For a code that has no tier.
    """
    found = _codes(tables or shipped()).get(bare(species))
    if found is None:
        if bare(species) == _WATER:
            return 0, (), ()
        return None, (), ()
    rows = [row for row in found if _applies(row.conditions, strength)]
    codes = tuple(dict.fromkeys(row.code for row in rows))
    if len(codes) > 1:  # a published "none" holds for the strengths below every other statement
        codes = tuple(code for code in codes if code != "none")
    unknown = [c for c in codes if c not in TIERS]
    if unknown:
        raise UnknownCodeError(f"no tier for {unknown[0]} of {species}", hint="add the code to TIERS")
    sources = tuple(dict.fromkeys(key for row in rows for key in row.source.split(";")))
    return max((TIERS[c] for c in codes), default=0), codes, sources


def _tier(species: Species, tables: Tables) -> int:
    tier, _, _ = tier_of(species, tables)
    return UNCLASSIFIED_TIER if tier is None else tier


def _over(route: Route, extra: float) -> float:
    """Oxidant beyond need, as a fraction of need, when *extra* more than declared is charged."""
    excess: float = route.job.excess
    return (1 + excess) * (1 + extra) - 1


def side_risk(route: Route, *, tables: Tables | None = None) -> SideRisk:
    """All side channels of a route and their graded sum."""
    tables = tables or shipped()
    found: list[Channel] = []
    for part in route.parts:
        oxidation, reduction = part.half_reactions
        drive = None if route.oxidant.key == ANODE else _potential(reduction, route.job.ph, tables)
        per_target = _electrons_per_target(oxidation, part.product.species)
        present = _present(route)
        pot = frozenset(present)
        found += _over_oxidation(route, part.product.species, drive, per_target, pot, tables)
        found += _bystanders(route, part, drive, per_target, present, tables)
        found += _mixed_halogen(route, part.product.species, tables)
        found += _left_in_product(part, tables)
    found += _gases(route, tables)
    found += _oxidant_loss(route)
    if route.oxidant.key == ANODE:
        found += _cathode_loss(route, tables)
    unique = {(c.kind, c.text): c for c in found}
    channels = tuple(sorted(unique.values(), key=lambda c: (-c.high, c.kind, c.text)))
    return SideRisk(channels, sum(c.low for c in channels), sum(c.high for c in channels))


def _potential(half: Equation, ph: float, tables: Tables) -> Quantity | None:
    try:
        return thermo.potential(half, ph=ph, tables=tables)
    except RedoxlibError:
        return None


def _electrons_per_target(oxidation: Equation, target: Species) -> float:
    made = sum(float(n) for n, s in oxidation.products if bare(s) == bare(target))
    return abs(thermo.electrons_of(oxidation)) / made if made else 1.0


def _state(difference: float | None) -> str:
    if difference is None:
        return "unknown"
    return "open" if difference > OPEN_ABOVE else "closed" if difference < CLOSED_BELOW else "borderline"


@cache
def _by_reduced(tables: Tables) -> dict[Species, list[tuple[str, Equation]]]:
    """Couples by what stands on their reduced side."""
    index: dict[Species, list[tuple[str, Equation]]] = {}
    for name, couple in tables.couples.items():
        half = Equation.parse(couple.half_reaction)
        for _, s in half.products:
            if bare(s) not in _BENIGN:
                index.setdefault(bare(s), []).append((name, half))
    return index


def _made(half: Equation, reduced: Species) -> Species | None:
    """The oxidised partner of *reduced* in a half-reaction: the species that shares its key element."""
    key = {e for e in reduced.elements if e not in "HO"} or set(reduced.elements)
    for _, s in half.reactants:
        if key & set(s.elements) and bare(s) not in _BENIGN:
            return s
    return None


def _attacks(
    reduced: Species, drive: Quantity | None, ph: float, present: frozenset[Species], tables: Tables
) -> list[tuple[float | None, Species, float]]:
    """(drive in V, what is made, electrons per reduced species) for the couple that could oxidise it.

    Of the forms a molecule could be oxidised to only the one that needs the lowest potential counts: the
    others fall apart into it.  A halide takes the first step only; oxyanions further up form through it.
    """
    out = []
    for _, half in _by_reduced(tables).get(bare(reduced), []):
        made = _made(half, bare(reduced))
        company = {bare(s) for _, s in half.products} - _BENIGN - {bare(reduced)}
        if made is None or not company <= present:
            continue
        e = _potential(half, ph, tables)
        count = sum(float(n) for n, s in half.products if bare(s) == bare(reduced))
        n = abs(thermo.electrons_of(half)) / count
        difference = None if drive is None or e is None else drive.value - e.value
        out.append((difference, bare(made), n))
    out = [row for row in out if not _polyhalide(row[1], bare(reduced))]
    known = [row for row in out if row[0] is not None]
    if not known:
        return out[:1]
    if reduced.charge < 0 and len(reduced.elements) == 1:
        first = min(row[2] for row in known)
        known = [row for row in known if row[2] == first]
    return [max(known, key=lambda row: row[0] or 0.0)]


def _polyhalide(made: Species, reduced: Species) -> bool:
    """Whether what is made is only the halide joined to its halogen."""
    return made.charge < 0 and set(made.elements) == set(reduced.elements)


def _gate(route: Route, reductant: Species, tables: Tables) -> tuple[tuple[float, float], tuple[str, ...]]:
    """Kinetic gate from the table of verdicts, the whole interval where it is silent."""
    row = verdict_for(route.oxidant.key, reductant, route.job.ph, tables)
    if row is None:
        return (0.0, 1.0), ()
    return _GATES.get(row.verdict, (0.0, 1.0)), (row.source,)


_GATES = {"fast": (1.0, 1.0), "inert": (0.0, 0.05), "slow": (0.0, 1.0)}


def _over_oxidation(
    route: Route,
    target: Species,
    drive: Quantity | None,
    per_target: float,
    pot: frozenset[Species],
    tables: Tables,
) -> Iterable[Channel]:
    actives = {bare(s) for p in route.parts for _, s in p.half_reactions[1].reactants}
    for difference, made, n in _attacks(target, drive, route.job.ph, pot, tables):
        if route.oxidant.key == ANODE or made in actives:
            continue
        gate, sources = _gate(route, target, tables)
        amount = min(1.0, per_target * _over(route, 0.0) / n)
        jumped = max(min(1.0, per_target * _over(route, x) / n) for x in (0.0, 0.10, OVERDOSE))
        yield Channel(
            "over-oxidation",
            f"{bare(target)} goes on to {made}",
            difference,
            _state(difference),
            gate,
            amount,
            jumped,
            max(1, _salt_tier(made, tables)),
            sources,
        )


def _salt_tier(species: Species, tables: Tables) -> int:
    """Tier of an ion is that of its commonest salt in the table, else counted as unclassified."""
    if not species.charge:
        return _tier(species, tables)
    tiers = [
        max(TIERS.get(row.code, UNCLASSIFIED_TIER) for row in rows)
        for compound, rows in _codes(tables).items()
        if compound.charge == 0 and any(s == bare(species) for _, s in ions(compound))
    ]
    return min(tiers) if tiers else UNCLASSIFIED_TIER


def _present(route: Route) -> dict[Species, float]:
    """Moles of every ion and molecule that feed, acid, base and impurities bring into the pot."""
    present: dict[Species, float] = {}
    for c in route.charges:
        if c.role in ("oxidant", "water"):
            continue
        for n, s in ions(c.compound):
            present[s] = present.get(s, 0.0) + float(n) * c.mol
    for species, quantity in route.job.impurities:
        moles = _impurity_moles(route, species, quantity)
        for n, s in ions(species):
            present[s] = present.get(s, 0.0) + float(n) * moles
    return present


def _bystanders(
    route: Route,
    part: Part,
    drive: Quantity | None,
    per_target: float,
    present: dict[Species, float],
    tables: Tables,
) -> Iterable[Channel]:
    """Counter-ions, acid anions, declared impurities, and what the oxidant itself turns into.

    The oxidant meets its own end product: bromate makes bromine of the bromide it leaves, hypochlorite
    makes chlorine in acid.
    """
    feeds = {bare(p.conversion.feed) for p in route.parts} | {bare(p.conversion.target) for p in route.parts}
    product = part.product.mol or 1.0
    made_here = (
        sum(float(n) for n, s in part.net_ionic.products if bare(s) == bare(part.product.species)) or 1.0
    )
    own = {bare(s): product * float(n) / made_here for n, s in part.net_ionic.products if s.charge}
    mixed = _MIXED.get(bare(part.product.species)) is not None and route.job.ph <= _NO_MIXED_ABOVE
    around = {**present}
    for s, moles in own.items():
        around[s] = around.get(s, 0.0) + moles
    for s, moles in around.items():
        if s in feeds or s in _BENIGN or not s.elements or not _ATTACKED & set(s.elements):
            continue
        if mixed and s == _CHLORIDE and s in own:
            continue  # the same excess is counted as mixed halogen
        for difference, made, n in _attacks(s, drive, route.job.ph, frozenset(around), tables):
            gate, sources = _gate(route, s, tables)

            # The oxidant in hand can only go once; more of the ion than that stays as it is.
            per_made = _atoms_shared(s, made)

            def share(extra: float, n: float = n, moles: float = moles, per: float = per_made) -> float:
                return min(moles / product, per_target * max(_over(route, extra), _LEAST_SHARE) / n) / per

            yield Channel(
                "counter-ion oxidation" if s in present else "oxidant on its own end product",
                f"{s} is oxidised to {made}",
                difference,
                _state(difference),
                gate,
                share(0.0),
                max(share(x) for x in (0.0, 0.10, OVERDOSE)),
                _salt_tier(made, tables),
                sources,
            )


def _atoms_shared(reduced: Species, made: Species) -> float:
    """How many of the reduced species one of what is made takes up (two chlorides a chlorine)."""
    for element, count in reduced.elements.items():
        if element not in "HO" and element in made.elements:
            return float(made.elements[element]) / float(count)
    return 1.0


_ATTACKED = frozenset(("Cl", "Br", "I", "N", "Mn"))
_LEAST_SHARE = 0.05
"""Share of the oxidant that a bystander takes at the least, even with no excess declared."""

_NO_MIXED_ABOVE = 6.0
"""pH above which interhalogens are taken to hydrolyse before they matter; common practice, no source."""


def _impurity_moles(route: Route, species: Species, quantity: Quantity) -> float:
    if quantity.measures_like("mol"):
        return float(quantity.to("mol").value)
    if quantity.measures_like("g"):
        return float(quantity.to("g").value) / species.molar_mass
    feed = route.charge("feed")
    grams = feed.pure_grams if feed is not None else 0.0
    if "w/w" in quantity.unit or quantity.unit == "%":
        return grams * quantity.value / 100 / species.molar_mass
    if quantity.measures_like("mol/L"):
        return float(quantity.to("mol/L").value) * route.water_grams / 1000
    return 0.0


def _mixed_halogen(route: Route, target: Species, tables: Tables) -> Iterable[Channel]:
    mixed = _MIXED.get(bare(target))
    if mixed is None or route.job.ph > _NO_MIXED_ABOVE:
        return
    active = {bare(s) for p in route.parts for _, s in p.half_reactions[1].reactants}
    if not active & _ACTIVE_CHLORINE:
        return
    amount = min(1.0, _over(route, 0.0))
    jumped = min(1.0, _over(route, OVERDOSE))
    yield Channel(
        "mixed halogen",
        f"excess active chlorine turns {bare(target)} into {mixed}",
        None,
        "open",
        (1.0, 1.0),
        amount,
        jumped,
        max(_tier(mixed, tables), _tier(bare(target), tables)),
        ("wang1994",),
    )


def _left_in_product(part: Part, tables: Tables) -> Iterable[Channel]:
    """What the oxidant leaves behind in the pot: a foreign metal, a halide, a sludge."""
    net, target = part.net_ionic, part.product.species
    made = sum(float(n) for n, s in net.products if bare(s) == bare(target)) or 1.0
    for n, s in net.products:
        kind = bare(s)
        if kind in _BENIGN or kind == bare(target) or s.phase is Phase.GAS:
            continue
        elements = set(kind.elements) - {"H", "O"}
        if not elements or elements <= {"S"} or "C" in elements:
            continue
        if elements & set(target.elements) and kind.charge == 0:
            continue
        yield Channel(
            "sludge" if s.phase is Phase.SOLID else "contamination",
            f"{s} stays with the product",
            None,
            "certain",
            (1.0, 1.0),
            float(n) / made,
            float(n) / made,
            _tier_as_charged(part, kind, tables),
        )


def _tier_as_charged(part: Part, ion: Species, tables: Tables) -> int:
    """Tier of an ion as the salt the full equation writes it in."""
    for _, compound in part.full.products:
        if bare(compound) == ion or any(s == ion for _, s in ions(compound)):
            return _tier(compound, tables)
    return _salt_tier(ion, tables)


def _gases(route: Route, tables: Tables) -> Iterable[Channel]:
    product = route.product.mol or 1.0
    for gas in route.gases:
        if gas.species in _TOXIC_GASES:
            amount = gas.mol / product
            yield Channel(
                "gas",
                f"{gas.species} leaves",
                None,
                "certain",
                (1.0, 1.0),
                amount,
                amount * (1 + OVERDOSE),
                _tier(gas.species, tables),
            )


_PEROXIDE = frozenset(Species.parse(t) for t in ("H2O2", "HO2^-", "HSO5^-", "CH3COOOH"))


def _oxidant_loss(route: Route) -> Iterable[Channel]:
    active = {bare(s) for p in route.parts for _, s in p.half_reactions[1].reactants}
    for species in sorted(active & _PEROXIDE, key=str):
        over = _over(route, 0.0)
        yield Channel(
            "oxidant loss",
            f"{species} decomposes to oxygen",
            None,
            "open",
            (0.0, 1.0),
            over,
            _over(route, OVERDOSE),
            0,
        )


def _cathode_loss(route: Route, tables: Tables) -> Iterable[Channel]:
    """In an undivided cell the product can be reduced again at the other electrode.

    What is then in the cell is a mixture of feed and product and counts as the worse of the two.
    """
    if route.job.context and "divided cell" in route.job.context:
        return
    for part in route.parts:
        oxidation = part.half_reactions[0]
        e = _potential(oxidation, route.job.ph, tables)
        hydrogen = -thermo.nernst_slope() * route.job.ph
        difference = None if e is None else e.value - hydrogen
        tiers = [_tier(part.product.compound, tables), _tier(part.feed_compound, tables)]
        yield Channel(
            "product lost at the cathode",
            f"{bare(part.product.species)} is reduced again unless the cell is divided",
            difference,
            _state(difference),
            (0.0, 1.0),
            1.0,
            1.0,
            max(1, *tiers),
            ("practice",),
        )
