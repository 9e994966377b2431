"""What else can happen: side channels found from the tables, each open or not, gated, sized.

Verbs: side_risk, attack_on_oxidant.  A channel is open when the oxidant's potential exceeds that of the
channel's couple by more than 0.05 V at the real pH, or two pH units above it where the pot is made acid and
the acid could run short; its gate follows from a rate constant or a verdict in words and is the whole
interval where neither is known; its amount is worked out at the declared excess and again 10 and 20 % over-
dosed, and graded at the worst of these.  The oxidant beyond need goes once: channels that draw on it share
it.  Mixed halogens, and the halogen that a hypohalous acid makes of its own halide, are sized by the
composition of the pot at equilibrium; what attacks a ketone through its enol is no quicker than the enol
forms.

May import: routes and below.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from math import exp
from typing import NamedTuple

from redoxlib import thermo
from redoxlib._laws import FAR_K, Law, enolisation, laws_for
from redoxlib._tiers import TIERS, UNCLASSIFIED_TIER
from redoxlib.data import HazardRow, Tables, shipped
from redoxlib.equilibria import equilibrium, interhalogen_fraction, system
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.measures import Channel, SideRisk
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity
from redoxlib.routes import ANODE, Part, Route, bare, ions, recalled, verdict_for

__all__ = ["OVERDOSE", "attack_on_oxidant", "side_risk", "tier_of"]

OVERDOSE = 0.20
"""The largest mis-dose tested: a fifth more oxidant than declared."""

OPEN_ABOVE, CLOSED_BELOW = 0.05, -0.05  # V

STARVED_PH = 2.0
"""How far the pH rises in the test of a pot that is short of acid."""

_WATER = Species.parse("H2O")


class _Mixture(NamedTuple):
    """Two halogens that join, and the system that holds the constants."""

    heavy: str
    light: str
    system: str
    joined: Species
    name: str
    sources: tuple[str, ...]


_MIXTURES = (
    _Mixture(
        "Br", "Cl", "bromine-chlorine, liquid bromine", Species.parse("BrCl"), "chlorine", ("wang1994",)
    ),
    _Mixture("I", "Cl", "iodine-chlorine", Species.parse("ICl"), "chlorine", ("computed",)),
    _Mixture("I", "Br", "iodine-bromine", Species.parse("IBr"), "bromine", ("troy1991ibr",)),
)
_HALOGENATING = {
    "Cl": frozenset(Species.parse(t) for t in ("HClO", "ClO^-", "Cl2")),
    "Br": frozenset(Species.parse(t) for t in ("HBrO", "BrO^-", "Br2")),
}
"""Forms of a halogen that pass it on at once."""
_TOXIC_GASES = frozenset(
    Species.parse(t) for t in ("NO", "NO2", "SO2", "Cl2", "ClO2", "O3", "H2S", "HCN", "CNCl", "NCl3", "NH3")
)
_BENIGN = frozenset(Species.parse(t) for t in ("H2O", "H^+", "OH^-", "O2"))


class UnknownCodeError(RedoxlibError, LookupError):
    """A hazard code without a tier."""


@cache
def _codes(tables: Tables) -> dict[Species, tuple[HazardRow, ...]]:
    found: dict[Species, list[HazardRow]] = {}
    for rows in tables.hazards.values():
        for row in rows:
            if row.formula and row.chosen:
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
    """Hazard tier, H-codes and sources of a substance; tier None when no row speaks of it as it is.

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
    if not rows:  # no statement speaks of this strength: not the same as harmless
        return None, (), ()
    codes = tuple(dict.fromkeys(row.code for row in rows))
    if len(codes) > 1:  # a published "none" holds for the strengths below every other statement
        codes = tuple(code for code in codes if code != "none")
    unknown = [c for c in codes if c not in TIERS]
    if unknown:
        raise UnknownCodeError(f"no tier for {unknown[0]} of {species}", hint="add the code to TIERS")
    sources = tuple(dict.fromkeys(key for row in rows for key in row.source.split(";")))
    return max(TIERS[c] for c in codes), codes, sources


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
    drawing: list[list[_Drawn]] = []
    present = _present(route)
    pot = frozenset(present)
    for part in route.parts:
        oxidation = part.half_reactions[0]
        drive = _Drive.of(route, part, tables)
        per_target = _electrons_per_target(oxidation, part.product.species)
        mixed = tuple(_mixed_halogens(route, part, drive, present, tables))
        taken = frozenset(bare(Species.parse(f"{m.light}^-")) for m, c in mixed if c.jumped > _COUNTED)
        found += [c for _, c in mixed]
        drawing.append(
            [
                *_over_oxidation(route, part, drive, per_target, pot, tables),
                *_product_attack(route, part, drive, per_target, present, tables),
                *_bystanders(route, part, drive, per_target, present, taken, tables),
            ]
        )
        found += _left_in_product(part, tables)
    mixing = any(c.kind == "mixed halogen" and c.jumped > _COUNTED and c.gate[0] > 0.5 for c in found)
    # What the mixed halogen takes up does not leave as gas as well.
    found += [c for c in _gases(route, tables) if not (mixing and c.text.endswith("left over leaves"))]
    found += _oxidant_loss(route, tables)
    if route.oxidant.key == ANODE:
        found += _cathode_loss(route, tables)
    unique = {(c.kind, c.text): c for c in found}
    shared = {(d.channel.kind, d.channel.text): (i, d) for i, part in enumerate(drawing) for d in part}
    unique |= {key: d.channel for key, (_, d) in shared.items()}
    groups = [[d for i, d in shared.values() if i == number] for number in range(len(drawing))]
    apart = [c for key, c in unique.items() if key not in shared]
    low = sum(c.low for c in apart) + sum(_spent_once(g)[0] for g in groups)
    high = sum(c.high for c in apart) + sum(_spent_once(g)[1] for g in groups)
    return SideRisk(tuple(sorted(unique.values(), key=lambda c: (-c.high, c.kind, c.text))), low, high)


class _Drawn(NamedTuple):
    """A channel and the share of the oxidant beyond need that it would take if its gate stood open."""

    channel: Channel
    taken: float


def _spent_once(drawn: Sequence[_Drawn]) -> tuple[float, float]:
    """The least and the most that the channels come to when the oxidant beyond need is spent once.

    The most is reached when the worst channel, by the oxidant it takes, is served first, the least when it is
    served last and no gate opens further than it must.
    """
    ends = []
    for end, sign in ((0, 1.0), (1, -1.0)):
        total, left = 0.0, 1.0
        for c, taken in sorted(
            drawn, key=lambda d: sign * d.channel.jumped * d.channel.tier / max(d.taken, _TINY)
        ):
            if c.state == "closed":
                continue
            share = min(c.gate[end], left / max(taken, _TINY))
            left -= share * taken
            total += share * c.jumped * c.tier
        ends.append(total)
    return ends[0], ends[1]


_TINY = 1e-12


def attack_on_oxidant(route: Route, part: Part, tables: Tables) -> tuple[Species, Species, float] | None:
    """Whether the product could oxidise the oxidant: (oxidant, what it becomes, drive in V), None if not.

    By the potential of the product's own couple against that of the oxidant as a reductant, at the real pH.
    """
    oxidation = part.half_reactions[0]
    product = Equation.of(oxidation.products, oxidation.reactants)
    drive = _Drive(product, (route.job.ph,), tables)
    for species in sorted({bare(s) for _, s in part.half_reactions[1].reactants if s.elements}, key=str):
        if species in _BENIGN:
            continue
        for _, half in _by_reduced(tables).get(species, []):
            alone = {bare(s) for _, s in half.products} - _BENIGN == {species}
            made = _made(half, species) or next((s for _, s in half.reactants if bare(s) == _DIOXYGEN), None)
            difference, _ = drive.against(half)
            if alone and made is not None and difference is not None and difference > OPEN_ABOVE:
                return species, bare(made), difference
    return None


_DIOXYGEN = Species.parse("O2")


_COUNTED = 1e-3
"""Mixed halogen above this share takes up what would otherwise be counted as the free lighter halogen."""


class _Drive(NamedTuple):
    """The oxidant's half-reaction, and every pH at which a channel is tried: the job's, and acid-starved."""

    half: Equation | None
    phs: tuple[float, ...]
    tables: Tables

    @classmethod
    def of(cls, route: Route, part: Part, tables: Tables) -> _Drive:
        phs: tuple[float, ...] = (route.job.ph,)
        if route.charge("acid") is not None:
            phs = (*phs, min(14.0, route.job.ph + STARVED_PH))
        return cls(None if route.oxidant.key == ANODE else part.half_reactions[1], phs, tables)

    def against(self, half: Equation) -> tuple[float | None, float]:
        """Potential less that of a couple, at the pH where it is largest, and that pH."""
        found = []
        for ph in self.phs:
            mine = None if self.half is None else _potential(self.half, ph, self.tables)
            other = _potential(half, ph, self.tables)
            if mine is not None and other is not None:
                found.append((mine.value - other.value, ph))
        if not found:
            return None, self.phs[0]
        if found[0][0] > OPEN_ABOVE:  # open as declared: that figure is the one to show
            return found[0]
        return max(found)


@lru_cache(maxsize=4096)
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
    reduced: Species, drive: _Drive, present: frozenset[Species], tables: Tables
) -> list[tuple[float | None, Species, float, float]]:
    """(drive in V, what is made, electrons per reduced species, pH) for the couple that could oxidise it.

    Of the forms a molecule could be oxidised to only the one that needs the lowest potential counts: the
    others fall apart into it.  A halide takes the first step only; oxyanions further up form through it.
    """
    out = []
    for _, half in _by_reduced(tables).get(bare(reduced), []):
        made = _made(half, bare(reduced))
        company = {bare(s) for _, s in half.products} - _BENIGN - {bare(reduced)}
        if made is None or not company <= present:
            continue
        difference, ph = drive.against(half)
        count = sum(float(n) for n, s in half.products if bare(s) == bare(reduced))
        n = abs(thermo.electrons_of(half)) / count
        out.append((difference, bare(made), n, ph))
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
    return made.charge < 0 and len(made.elements) == 1 and set(made.elements) == set(reduced.elements)


def _actives(route: Route) -> frozenset[Species]:
    return frozenset(bare(s) for p in route.parts for _, s in p.half_reactions[1].reactants if s.elements)


def _gate(
    route: Route, reductant: Species, mol: float, tables: Tables
) -> tuple[tuple[float, float], tuple[str, ...], str]:
    """Share of the oxidant that goes this way within the job's time: (low, high), sources, what it rests on.

    1 - exp(-k c t) from a rate constant, with c the strength of what is attacked; else from the table of
    verdicts; the whole interval where both are silent.
    """
    celsius = round(route.job.temperature_k - 273.15, 2)
    laws = laws_for(_actives(route), bare(reductant), route.job.ph, tables, celsius)
    laws = tuple(law for law in laws if not recalled(law.source))
    strength = mol / _litres(route)
    low, high, used = 0.0, 1.0, []
    for direction in ("exact", "lower", "upper"):
        chosen = [law for law in laws if law.direction == direction]
        if not chosen:
            continue
        slow, quick = _reach(chosen, strength, route.job.time_s)
        low = max(low, slow) if direction != "upper" else low
        high = min(high, quick) if direction != "lower" else high
        used += chosen
        if direction == "exact":
            break
    if used:
        told = tuple(dict.fromkeys(law.source for law in used))
        why = f"gate from a rate constant over the time of the job{_elsewhere(used, celsius)}"
        return (low, max(low, high)), told, why
    row = verdict_for(route.oxidant.key, reductant, route.job.ph, tables)
    if row is None:
        return (0.0, 1.0), (), ""
    if recalled(row.source):  # not read again: it narrows nothing
        return (0.0, 1.0), (row.source,), "a verdict that is only recalled narrows nothing"
    return _GATES.get(row.verdict, (0.0, 1.0)), (row.source,), f"gate from the verdict {row.verdict!r}"


def _elsewhere(laws: Iterable[Law], celsius: float) -> str:
    """Where constants were measured further than 5 K from the job: at what temperature, in words."""
    far = {law.temperature_c for law in laws if law.temperature_c is not None}
    far = {t for t in far if abs(t - celsius) > FAR_K}
    named = " and ".join(f"{t:g}" for t in sorted(far))
    return f", measured at {named} C and not corrected to {celsius:g} C" if far else ""


def _reach(laws: Iterable[Law], strength: float, seconds: float) -> tuple[float, float]:
    """Share converted with every constant at its low and at its high end."""
    pseudo = [(law.constant * strength**law.order, law.relative or 0.0) for law in laws]
    slow = sum(k * max(0.0, 1 - u) for k, u in pseudo) * seconds
    quick = sum(k * (1 + u) for k, u in pseudo) * seconds
    return 1 - exp(-slow), 1 - exp(-quick)


def _litres(route: Route) -> float:
    """Volume of the finished pot: the water and the liquids charged, taken as additive."""
    bottles = sum(c.ml for c in route.charges if isinstance(c.ml, int | float) and c.role != "water")
    return max((route.water_grams + bottles) / 1000, 1e-9)


_GATES = {"fast": (1.0, 1.0), "inert": (0.0, 0.05), "slow": (0.0, 1.0)}


def _over_oxidation(
    route: Route, part: Part, drive: _Drive, per_target: float, pot: frozenset[Species], tables: Tables
) -> Iterable[_Drawn]:
    actives = _actives(route)
    target = part.product.species
    most = per_target * _over(route, OVERDOSE)
    attacks = _attacks(target, drive, pot, tables)
    if not attacks and {"C", "H"} <= set(target.elements) and route.oxidant.key != ANODE:
        gate, sources, why = _gate(route, target, part.product.mol, tables)
        if gate == (0.0, 1.0) and any(actives & forms for forms in _HALOGENATING.values()):
            gate, sources, why = _enol_gate(route, bare(target), drive, _present(route), tables)
        jumped = min(1.0, _over(route, OVERDOSE))
        yield _Drawn(
            Channel(
                "over-oxidation",
                f"what {bare(target)} could go on to is in no table",
                None,
                "unknown",
                gate,
                min(1.0, _over(route, 0.0)),
                jumped,
                max(1, _tier(bare(target), tables)),
                sources,
                _detail(why, "sized as one step of as many electrons as the wanted one"),
            ),
            jumped * per_target / most,
        )
    for difference, made, n, ph in attacks:
        if route.oxidant.key == ANODE or made in actives:
            continue
        gate, sources, why = _gate(route, target, part.product.mol, tables)

        def share(extra: float, n: float = n) -> float:
            return min(1.0, per_target * _over(route, extra) / n)

        jumped = max(share(x) for x in _DOSES)
        yield _Drawn(
            Channel(
                "over-oxidation",
                f"{bare(target)} goes on to {made}",
                difference,
                _state(difference),
                gate,
                share(0.0),
                jumped,
                max(1, _salt_tier(made, tables)),
                sources,
                _detail(why, _at(ph, route)),
            ),
            jumped * n / most,
        )


def _product_attack(
    route: Route,
    part: Part,
    drive: _Drive,
    per_target: float,
    present: Mapping[Species, float],
    tables: Tables,
) -> Iterable[_Drawn]:
    """A ketone or an aldehyde takes up the halogen that the excess brings or frees from a halide of the pot.

    The product is one when it is the feed less two hydrogens.  Halogen enters beside the carbonyl group and
    through the enol, so that it is no quicker than the enol forms.
    """
    feed, target = bare(part.conversion.feed), bare(part.product.species)
    lost = {e: n - target.elements.get(e, 0) for e, n in feed.elements.items()}
    if "C" not in target.elements or {e: n for e, n in lost.items() if n} != {"H": 2}:
        return
    _, reduction = part.half_reactions
    for element, forms in _HALOGENATING.items():
        acting = sorted(map(str, _actives(route) & forms))
        halide = bare(Species.parse(f"{element}^-"))
        # A halate frees its halogen by meeting the halide it has become.
        freed = any(element in a.elements for a in _actives(route)) and any(
            bare(s) == halide for _, s in reduction.products
        )
        difference, held = None, float("inf")
        if not acting and not freed and present.get(halide, 0.0) > 0:
            attack = next(iter(_attacks(halide, drive, frozenset(present), tables)), None)
            difference = None if attack is None else attack[0]
            freed = _state(difference) in ("open", "borderline")
            # Of the two atoms of a halogen one goes into the ketone and one comes back as the halide.
            held = present[halide] / (part.product.mol or 1.0)
        if not acting and not freed:
            continue
        gate, sources, why = _enol_gate(route, target, drive, present, tables)
        share = [min(1.0, held, per_target * _over(route, x) / 2) for x in _DOSES]
        yield _Drawn(
            Channel(
                "product attack",
                f"{', '.join(acting) or element + '2'} puts {element} into {target}",
                difference,
                _state(difference),
                gate,
                share[0],
                max(share),
                UNCLASSIFIED_TIER,
                sources,
                _detail(
                    why, "one halogen for each pair of electrons beyond need; the tier is that of no table"
                ),
            ),
            2 * max(share) / (per_target * _over(route, OVERDOSE)),
        )


def _enol_gate(
    route: Route, carbonyl: Species, drive: _Drive, present: Mapping[Species, float], tables: Tables
) -> tuple[tuple[float, float], tuple[str, ...], str]:
    """The gate of an attack through the enol: closed or, at the most, as far as the enol forms in time.

    The whole interval where the tables hold no enolisation of it, or where the pot holds a base that could
    bring it about and is in no row.
    """
    whole = (0.0, 1.0), (), ""
    litres = _litres(route)
    quickest: tuple[float, tuple[str, ...]] | None = None
    for ph in drive.phs:
        strengths: dict[Species, float] = {}
        for s, moles in present.items():
            if s in _NO_BUFFER or not s.elements:
                continue
            if any(
                s in (bare(k.acid), bare(k.base)) and k.pka > _WEAK for k in thermo.acid_constants(tables)
            ):
                return whole
            for form in thermo.species_at(s, ph, tables=tables).forms:
                kind = bare(form.species)
                strengths[kind] = strengths.get(kind, 0.0) + form.fraction * moles / litres
        found = enolisation(carbonyl, ph, strengths, tables)
        if found is None or recalled(";".join(found[1])):
            return whole
        quickest = found if quickest is None or found[0] > quickest[0] else quickest
    if quickest is None:
        return whole
    gate = 1 - exp(-quickest[0] * route.job.time_s)
    return (0.0, gate), quickest[1], "no quicker than the enol forms, over the time of the job"


_WEAK = 4.8
"""Acids weaker than this leave bases that quicken the enol more than acetate does."""
_NO_BUFFER = frozenset(Species.parse(t) for t in ("H2O", "H^+", "OH^-"))


_DOSES = (0.0, 0.10, OVERDOSE)


def _at(ph: float, route: Route) -> str:
    return "" if ph == route.job.ph else f"drive short of acid, at pH {ph:g}"


def _detail(*parts: str) -> str:
    return "; ".join(filter(None, parts))


@lru_cache(maxsize=1024)
def _salt_tier(species: Species, tables: Tables) -> int:
    """Tier of an ion is that of its commonest salt in the table, else counted as unclassified."""
    if not species.charge:
        return _tier(species, tables)
    tiers = [
        max(TIERS.get(row.code, UNCLASSIFIED_TIER) for row in rows)
        for compound, rows in _codes(tables).items()
        if compound.charge == 0
        and species.elements.keys() <= compound.elements.keys()  # splitting the others would be time lost
        and any(s == bare(species) for _, s in ions(compound))
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
    drive: _Drive,
    per_target: float,
    present: dict[Species, float],
    taken: frozenset[Species],
    tables: Tables,
) -> Iterable[_Drawn]:
    """Counter-ions, acid anions, declared impurities, and what the oxidant itself turns into.

    The oxidant meets its own end product: bromate makes bromine of the bromide it leaves, hypochlorite
    makes chlorine in acid.  An ion in ``taken`` is counted with the mixed halogen it ends in.
    """
    feeds = {bare(p.conversion.feed) for p in route.parts} | {bare(p.conversion.target) for p in route.parts}
    product = part.product.mol or 1.0
    made_here = (
        sum(float(n) for n, s in part.net_ionic.products if bare(s) == bare(part.product.species)) or 1.0
    )
    own = {bare(s): product * float(n) / made_here for n, s in part.net_ionic.products if s.charge}
    # Bromine left over beside bromide is the oxidant itself, not something made of the bromide.
    brought = {e for a in _actives(route) for e in a.elements if len(a.elements) == 1}
    around = {**present}
    for s, moles in own.items():
        around[s] = around.get(s, 0.0) + moles
    for s, moles in around.items():
        if s in feeds or s in _BENIGN or not s.elements or not _ATTACKED & set(s.elements):
            continue
        if s in taken or (set(s.elements) <= brought and s in own):
            continue
        for difference, made, n, ph in _attacks(s, drive, frozenset(around), tables):
            gate, sources, why = _gate(route, s, moles, tables)

            # The oxidant in hand can only go once; more of the ion than that stays as it is.
            per_made = _atoms_shared(s, made)

            def share(extra: float, n: float = n, moles: float = moles, per: float = per_made) -> float:
                return min(moles / product, per_target * max(_over(route, extra), _LEAST_SHARE) / n) / per

            amounts = [share(x) for x in _DOSES]
            balance = _halogen_set_free(route, s, moles, amounts, drive.phs, tables)
            if balance is not None:
                amounts, told = balance
                sources = tuple(dict.fromkeys((*sources, *told)))
                why = _detail(why, "as much as is halogen at equilibrium in this pot")
            yield _Drawn(
                Channel(
                    "counter-ion oxidation" if s in present else "oxidant on its own end product",
                    f"{s} is oxidised to {made}",
                    difference,
                    _state(difference),
                    gate,
                    amounts[0],
                    max(amounts),
                    _salt_tier(made, tables),
                    sources,
                    _detail(why, _at(ph, route)),
                ),
                n * per_made * max(amounts) / (per_target * _over(route, OVERDOSE)),
            )


def _halogen_set_free(
    route: Route,
    halide: Species,
    moles: float,
    most: Sequence[float],
    phs: Sequence[float],
    tables: Tables,
) -> tuple[list[float], tuple[str, ...]] | None:
    """What a hypohalous acid and its own halide are as halogen at equilibrium, mol per mol of product.

    X2 + H2O = HXO + H+ + X-, by the hydrolysis constant that was read at the highest ionic strength, at the
    worst pH tried.  ``most`` is the halogen of the whole excess at each dose.  None for another pair.
    """
    if len(halide.elements) != 1:
        return None
    (element,) = halide.elements
    acid = bare(Species.parse(f"H{element}O"))
    if not _actives(route) & {acid, bare(Species.parse(f"{element}O^-"))}:
        return None
    rows = [
        row
        for row in tables.equilibria.get(f"hydrolysis_{element}2", ())
        if row.quantity == "K" and row.temperature_C == 25 and not recalled(";".join(row.sources))
    ]
    if not rows:
        return None
    row = max(rows, key=lambda r: r.ionic_strength or 0.0)
    litres, product = _litres(route), sum(p.product.mol for p in route.parts) or 1.0
    out = []
    for amount in most:
        active, held = amount * product / litres, moles / litres
        worst = 0.0
        for ph in phs:
            share = thermo.species_at(acid, ph, tables=tables).fraction(acid)
            pull = share * 10.0**-ph / row.value  # [X2] = pull * (active - [X2]) * (held - [X2])
            b = active + held + 1 / pull
            worst = max(worst, 2 * active * held / (b + (b * b - 4 * active * held) ** 0.5))
        out.append(min(amount, worst * litres / product))
    return out, row.sources


def _atoms_shared(reduced: Species, made: Species) -> float:
    """How many of the reduced species one of what is made takes up (two chlorides a chlorine)."""
    for element, count in reduced.elements.items():
        if element not in "HO" and element in made.elements:
            return float(made.elements[element]) / float(count)
    return 1.0


_ATTACKED = frozenset(("Cl", "Br", "I", "N", "Mn"))
_LEAST_SHARE = 0.05
"""Share of the oxidant that a bystander takes at the least, even with no excess declared."""


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


def _mixed_halogens(
    route: Route, part: Part, drive: _Drive, present: dict[Species, float], tables: Tables
) -> Iterable[tuple[_Mixture, Channel]]:
    """What the product and a lighter halogen in the pot make of each other at equilibrium.

    The excess of any oxidant that can turn the lighter halide into its halogen, and does so in time, ends
    up in the mixed halogen.
    """
    target = bare(part.product.species)
    for mixture in _MIXTURES:
        if target != Species.parse(f"{mixture.heavy}2"):
            continue
        halide = bare(Species.parse(f"{mixture.light}^-"))
        brought = _atoms_brought(route, mixture.light)
        there = present.get(halide, 0.0) + brought
        if there <= 0:
            continue
        litres = _litres(route)
        # Oxidant beyond need in mol of electrons, at no excess, as declared, and 10 and 20 % beyond.
        over = [0.0, *(_over(route, x) for x in _DOSES)]
        if route.oxidant.key == ANODE:
            over = [0.0] * len(over)
        electrons = [2 * part.product.mol * x for x in over]
        shares = _joined_shares(
            mixture.system,
            mixture.heavy,
            mixture.light,
            _rounded(2 * part.product.mol / litres),
            _rounded(there / litres),
            tuple(_rounded(e / litres) for e in electrons),
            drive.phs,
            tables,
        )
        if shares is None:
            continue
        exact, declared = shares[0][0], shares[0][1]
        worst = max(max(row) for row in shares)
        gate, sources, difference, why = (1.0, 1.0), mixture.sources, None, ""
        state, text = "open", f"excess active {mixture.name} turns {target} into {mixture.joined}"
        if not _actives(route) & _HALOGENATING[mixture.light]:
            text = f"{target} and {halide} become {mixture.joined}"
        if not _actives(route) & _HALOGENATING[mixture.light] and route.oxidant.key != ANODE:
            attack = next(iter(_attacks(halide, drive, frozenset(present), tables)), None)
            difference = None if attack is None else attack[0]
            state = _state(difference)
            rate, told, why = _gate(route, halide, there, tables)
            sources = tuple(dict.fromkeys((*sources, *told)))
            floor = max(row[0] for row in shares)
            if state == "closed":  # no more than the halogen and the halide make by themselves
                state, worst, rate, why = "open", floor, (1.0, 1.0), f"{halide} itself is not oxidised"
            low = floor + rate[0] * (worst - floor)
            high = floor + rate[1] * (worst - floor)
            gate = (low / worst, high / worst) if worst > 0 else (0.0, 0.0)
        at = ("at the exact dose", "as declared", "with 10 % more", "with 20 % more")
        doses = ", ".join(f"{100 * f:.2g} % {words}" for f, words in zip(shares[0], at, strict=True))
        if len({round(f, 6) for f in shares[0]}) == 1:
            doses = f"{100 * exact:.2g} % at any dose"
        starved = f"{100 * max(shares[-1]):.2g} % at worst at pH {drive.phs[-1]:g}" if len(shares) > 1 else ""
        yield (
            mixture,
            Channel(
                "mixed halogen",
                text,
                difference,
                state,
                gate,
                min(declared, worst),
                worst,
                max(_tier(mixture.joined, tables), _tier(target, tables)),
                sources,
                _detail(doses, starved, why),
            ),
        )


def _atoms_brought(route: Route, element: str) -> float:
    """Moles of a halogen's atoms that the oxidant itself brings and gives up, chloride beside it included."""
    charge = route.charge("oxidant")
    if charge is None:
        return 0.0
    active = [a for a in _actives(route) if element in a.elements]
    if not active:
        return 0.0
    return charge.mol * float(charge.compound.elements.get(element, 0))


def _rounded(value: float) -> float:
    """Three figures, so that pots alike in all but the last digits share one equilibrium."""
    return float(f"{value:.3g}")


@lru_cache(maxsize=512)
def _joined_shares(
    name: str,
    heavy: str,
    light: str,
    heavy_molar: float,
    light_molar: float,
    electrons_molar: tuple[float, ...],
    phs: tuple[float, ...],
    tables: Tables,
) -> tuple[tuple[float, ...], ...] | None:
    """Share of the heavier halogen bound to the lighter: one row a pH, one column an excess of electrons.

    None where the tables lack a constant.
    """
    try:
        chosen = system(name, tables=tables)
    except MissingDataError:
        return None
    pairs = [(ph, min(e, light_molar) / 2) for ph in phs for e in electrons_molar]
    found = equilibrium(
        chosen,
        {
            f"{heavy}2(aq)": [heavy_molar / 2] * len(pairs),
            f"{light}^-(aq)": [light_molar - 2 * halogen for _, halogen in pairs],
            f"{light}2(aq)": [halogen for _, halogen in pairs],
        },
        fixed={"pH": [ph for ph, _ in pairs]},
    )
    shares = [float(f) for f in interhalogen_fraction(found, heavy)]
    width = len(electrons_molar)
    return tuple(tuple(shares[i : i + width]) for i in range(0, len(shares), width))


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
    """Toxic gas that the equation makes, and one that was charged and finds nothing left to oxidise."""
    product = route.product.mol or 1.0
    charge = route.charge("oxidant")
    left = None if charge is None else bare(charge.compound)
    # In treated water it is a residual, counted with what is left over, and not a gas above a pot.
    makes = route.job.purpose == "make"
    if makes and charge is not None and charge.needed_mol and left in _TOXIC_GASES & _actives(route):
        per_product = charge.needed_mol / product
        yield Channel(
            "gas",
            f"{bare(charge.compound)} left over leaves",
            None,
            "certain",
            (1.0, 1.0),
            per_product * _over(route, 0.0),
            per_product * _over(route, OVERDOSE),
            _tier(bare(charge.compound), tables),
            (),
            "all that is charged beyond need and taken by nothing else",
        )
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


_OXYGEN = Equation.parse("O2(g) + 4 H^+(aq) + 4 e^- -> 2 H2O(l)")


def _oxidant_loss(route: Route, tables: Tables) -> Iterable[Channel]:
    """The oxidant falls apart or takes electrons from the water: oxygen, and less oxidant than weighed."""
    if route.oxidant.key == ANODE:
        return
    for part in route.parts:
        drive = _Drive.of(route, part, tables)
        for species in sorted(_actives(route) - _BENIGN, key=str):
            if species == Species.parse("O3") or not any(
                bare(s) == species for _, s in part.half_reactions[1].reactants
            ):
                continue
            difference, ph = drive.against(_OXYGEN)
            gate, sources, why = _gate(route, _WATER, _litres(route), tables)
            peroxide = species in _PEROXIDE
            yield Channel(
                "oxidant loss",
                f"{species} decomposes to oxygen" if peroxide else f"{species} sets oxygen free from water",
                difference,
                _state(difference),
                gate,
                _over(route, 0.0),
                _over(route, OVERDOSE),
                0,
                sources,
                _detail(why, _at(ph, route)),
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
