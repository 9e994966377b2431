"""Streams of waste: what each holds, how much, how it is classified, what it must never meet.

Verbs: waste_streams.  May import: routes and below.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from redoxlib.bench._book import Book, Step, Stream
from redoxlib.bench._liquor import CHROMIUM_VI, HALOGENS, oxidant_of
from redoxlib.data import Tables
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.routes import Route, bare

__all__ = ["shelf_life", "waste_streams"]

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
    "drying_acid": "drying acid + the water it took up",
    "wash": "water used to wash the product",
}
_INPUTS = {
    "liquor": ("pot.g", "yield.g", "quench.reductant.g", "quench.base.NaHCO3.g"),
    "drying_acid": ("dry.acid.g", "dry.water.g"),
    "wash": ("wash.water.g",),
}


def _streams(book: Book, route: Route, tables: Tables) -> Iterator[Stream]:
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
    codes = _codes(route, ions, tables)
    yield Stream("liquor", holds, Quantity(max(0.0, grams), "g"), codes, tuple(never), treatment)
    acid = book.number("dry.acid.g")
    if acid is not None:
        total = acid + (book.number("dry.water.g") or 0.0)
        yield Stream(
            "drying_acid",
            "sulfuric acid with dissolved halogen",
            Quantity(total, "g"),
            ("H314", "H330") if bare(route.product.species) in HALOGENS else ("H314",),
            ("water poured into it", "organic solvents", "base undiluted", "the liquor before dilution"),
            "run into ice in the hood (acid into ice), then quench as an acid halogen liquor: "
            "sulfite with base, pH 7 to 9",
        )
    wash = book.number("wash.water.g")
    if wash is not None:
        codes = _codes(route, [], tables)
        never = ["acid", "solvents"]
        yield Stream(
            "wash", "washings of the product", Quantity(wash, "g"), codes, tuple(never), "with the liquor"
        )


def _codes(route: Route, ions: Iterable[Species], tables: Tables) -> tuple[str, ...]:
    found: dict[str, None] = {}
    held = [c.compound for c in route.charges if c.role == "feed"]
    for species in (*held, *(bare(s) for s in ions)):
        for row in tables.hazards.get(str(species), ()):
            if row.code != "none":
                found[row.code] = None
    return tuple(found)


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
