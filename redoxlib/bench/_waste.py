"""Streams of waste: what each holds, how much, how it is classified, what it must never meet.

A statement that belongs to a range of strengths is given where the stream is that strong; what is said of a
gas in its cylinder, or of a gas that leaves the pot, is not said of the liquor.

Verbs: waste_streams.  May import: channels and below.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from redoxlib.bench._book import Book, Step, Stream
from redoxlib.bench._charge import solids
from redoxlib.bench._liquor import CHROMIUM_VI, HALOGENS, extent_of, oxidant_of
from redoxlib.bench._potable import is_drunk
from redoxlib.channels import tier_of
from redoxlib.data import Tables
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.routes import Route, bare

__all__ = ["shelf_life", "waste_streams"]

_SULFURIC = Species.parse("H2SO4")
_DRYING_STRENGTH = 0.98
"""Mass fraction of the acid that dries a halogen, as bought."""

_PEROXIDES = frozenset(Species.parse(t) for t in ("H2O2", "HO2^-", "HSO5^-", "S2O8^2-"))


def waste_streams(book: Book, route: Route, tables: Tables) -> tuple[Stream, ...]:
    """List the streams of a batch and write their masses into the book."""
    streams = tuple(_streams(book, route, tables))
    for stream in streams:
        key = f"waste.{stream.name}.g"
        what = f"{stream.holds}"
        book.put(key, stream.grams, "g", what, _HOW[stream.name], _INPUTS[stream.name])
    return streams


_HOW = {
    "liquor": "pot - product isolated + sulfite + base as hydrogencarbonate, its water not counted",
    "sludge": "all solids of the net ionic equations, dry",
    "drying_acid": "drying acid + the water it took up",
    "wash": "water used to wash the product",
}
_INPUTS = {
    "liquor": ("pot.g", "yield.g", "quench.reductant.g", "quench.base.NaHCO3.g"),
    "sludge": ("yield.g",),
    "drying_acid": ("dry.acid.g", "dry.water.g"),
    "wash": ("wash.water.g",),
}


def _streams(book: Book, route: Route, tables: Tables) -> Iterator[Stream]:
    if is_drunk(route):
        yield from _sludge(route, tables)
        return
    apart = route.product.species.phase.value in ("l", "s", "g")
    pot, product = book.number("pot.g") or 0.0, book.number("yield.g") or 0.0
    grams = pot - (product if apart else 0.0)
    for key in ("quench.reductant.g", "quench.base.NaHCO3.g"):
        grams += book.number(key) or 0.0
    ions = [
        bare(s)
        for part in route.parts
        for _, s in part.full.products
        if not (apart and bare(s) == bare(route.product.species))
    ]
    gone = {"H2O", *(str(bare(gas.species)) for gas in route.gases)}
    kept = [str(s) for s in ions if str(s) not in gone]
    holds = "quenched liquor"
    if kept:
        holds += f" with {', '.join(dict.fromkeys(kept))} and the sulfate of the quench"
    never = ["acid", "unreacted oxidisers", "solvents"]
    if not apart:
        holds += "; the product counts here until it is isolated"
    if route.job.ph >= 8:
        never = ["acid of any kind (toxic gas)", "unreacted oxidisers"]
    treatment = "end-point tests passed, pH 7 to 9, then as local rules say"
    if route.job.ph >= 8:
        treatment = "kept alkaline until a test for the feed is negative, then as local rules say"
    if bare(oxidant_of(route).active) in CHROMIUM_VI:
        treatment = (
            "reduced in acid, then base: chromium(III) hydroxide is filtered off and collected as solid"
        )
    inside = {s: g for s, g in _inside(route).items() if str(s) in kept or s in _held(route)}
    codes = _codes(inside, max(0.0, grams), tables)
    holds += _unread(inside, max(0.0, grams), tables)
    yield Stream("liquor", holds, Quantity(max(0.0, grams), "g"), codes, tuple(never), treatment)
    acid = book.number("dry.acid.g")
    if acid is not None:
        total = acid + (book.number("dry.water.g") or 0.0)
        yield Stream(
            "drying_acid",
            "sulfuric acid with dissolved halogen",
            Quantity(total, "g"),
            _codes({_SULFURIC: acid * _DRYING_STRENGTH, bare(route.product.species): None}, total, tables),
            ("water poured into it", "organic solvents", "base undiluted", "the liquor before dilution"),
            "run into ice in the hood (acid into ice), then quench as an acid halogen liquor: "
            "sulfite with base, pH 7 to 9",
        )
    wash = book.number("wash.water.g")
    if wash is not None:
        traces = dict.fromkeys(_held(route))  # of the feed, how much is not known
        codes = _codes(traces, wash, tables)
        holds = "washings of the product" + _unread(traces, wash, tables)
        never = ["acid", "solvents"]
        yield Stream("wash", holds, Quantity(wash, "g"), codes, tuple(never), "with the liquor")


def _sludge(route: Route, tables: Tables) -> Iterator[Stream]:
    """What is filtered out of water that is to be drunk; the water itself is no waste."""
    found = {species: mol * species.molar_mass for species, mol in solids(route).items()}
    if not found:
        return
    grams = sum(found.values())
    holds = f"{' and '.join(str(s) for s in found)} from the filter, counted dry"
    codes = _codes(found, grams, tables)
    holds += _unread(found, grams, tables)
    treatment = "kept wet and collected, the water of the backwash settled; then as local rules say"
    yield Stream("sludge", holds, Quantity(grams, "g"), codes, ("acid", "unreacted oxidisers"), treatment)


def _held(route: Route) -> tuple[Species, ...]:
    return tuple(bare(c.compound) for c in route.charges if c.role == "feed")


def _inside(route: Route) -> dict[Species, float]:
    """Grams of each compound in the spent liquor at most: the feed as charged, all the equations make."""
    found: dict[Species, float] = {}
    for charge in route.charges:
        if charge.role == "feed":
            species = bare(charge.compound)
            found[species] = found.get(species, 0.0) + charge.mol * species.molar_mass
    for part in route.parts:
        feed = bare(part.feed_compound)
        fed = sum(float(n) for n, s in part.full.reactants if bare(s) == feed) or 1.0
        line = next((c for c in route.charges if bare(c.compound) == feed), None)
        scale = (line.needed_mol if line is not None else part.feed_mol) * extent_of(route) / fed
        for n, s in part.full.products:
            found[bare(s)] = found.get(bare(s), 0.0) + scale * float(n) * s.molar_mass
    return found


def _strength(amount: float | None, grams: float) -> float | None:
    return min(1.0, amount / grams) if amount is not None and grams > 0 else None


def _codes(inside: Mapping[Species, float | None], grams: float, tables: Tables) -> tuple[str, ...]:
    """Statements of what is in a stream, each at its own strength; None where the amount is not known."""
    found: dict[str, None] = {}
    for species, amount in inside.items():
        found.update(dict.fromkeys(tier_of(species, tables, strength=_strength(amount, grams))[1]))
    return tuple(code for code in found if code != "none")


def _unread(inside: Mapping[Species, float | None], grams: float, tables: Tables) -> str:
    """What no table classifies, in words: it carries no statement, and that does not make it harmless."""
    found = [str(s) for s, g in inside.items() if tier_of(s, tables, strength=_strength(g, grams))[0] is None]
    if not found:
        return ""
    return f"; no table classifies {', '.join(found)}: read the safety data sheet"


def shelf_life(route: Route) -> tuple[Step, ...]:
    """How long quench, liquor and waste may stand, and in what."""
    steps = [
        Step("Sulfite solution: use it the day it is made.", "air turns it into sulfate"),
        Step(
            "Waste with gas or peroxide in it: vented cap, never full, for a day at most.",
            "it goes on gassing",
        ),
    ]
    if route.oxidant.key != "anode" and bare(oxidant_of(route).active) in _PEROXIDES:
        steps.append(
            Step(
                "Do not store the liquor before the peroxide strip is negative.",
                "metals set oxygen free from it",
            )
        )
    if bare(route.product.species) in HALOGENS:
        text = "Test the quenched liquor again after an hour."
        steps.append(Step(text, "halogen creeps back out of corks, grease and droplets on the walls"))
    return tuple(steps)
