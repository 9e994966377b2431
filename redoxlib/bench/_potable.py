"""Water that is to be drunk: the treated water is the product, not waste.

Verbs: is_drunk, potable_steps, potable_cautions, write_manganese.  May import: routes and below; the rest of
this package.
"""

from __future__ import annotations

from redoxlib.bench._book import Book, Step
from redoxlib.bench._charge import solids
from redoxlib.bench._liquor import oxidant_of
from redoxlib.notation import Species
from redoxlib.quantity import significant as figure
from redoxlib.routes import ANODE, Route, bare

__all__ = ["is_drunk", "potable_cautions", "potable_steps", "write_manganese"]

_PERMANGANATE = Species.parse("MnO4^-")
_MANGANESE = Species.parse("Mn").molar_mass
_LEFT = "quench.oxidant_left.Mn_mg_per_L"


def is_drunk(route: Route) -> bool:
    """Whether the job treats water that the job calls potable."""
    return route.job.purpose == "remove" and bool(route.job.potable)


def potable_steps(route: Route) -> tuple[Step, ...]:
    """What follows the test that the feed is gone, in place of the quench."""
    steps = []
    found = solids(route)
    if found:
        names = " and ".join(str(species) for species in found)
        text = f"Give it its contact time, then filter {names} off: the clear filtrate is the treated water."
        steps.append(Step(text, "what passes the filter has not been taken out"))
    return (
        *steps,
        Step(
            "Test the treated water for oxidant left over; more than is wanted there: lower the dose.",
            "the sulfite of this plan is for spills and for water that is thrown away, not for this water",
        ),
        Step(
            "Have the treated water analysed; licensed practice decides whether it may be drunk.",
            "nothing here shows that it is fit to drink",
        ),
    )


def write_manganese(book: Book, route: Route) -> None:
    """Manganese that permanganate left over would leave in the water."""
    water, left = book.number("pot.water.g"), book.number("quench.oxidant_left.mol")
    if route.oxidant.key == ANODE or bare(oxidant_of(route).active) != _PERMANGANATE or not water or not left:
        return
    what = "manganese in the water as permanganate left over, were nothing else to take it up"
    keys = ("quench.oxidant_left.mol", "pot.water.g")
    milligrams = left * oxidant_of(route).per_compound * _MANGANESE * 1000 / (water / 1000)
    book.put(_LEFT, milligrams, "mg/L", what, "mol x molar mass of Mn / litres of water", keys)


def potable_cautions(book: Book, route: Route) -> tuple[str, ...]:
    """Cautions of a plan for water that is to be drunk."""
    if not is_drunk(route):
        return ()
    told = (
        "This water is to be drunk: the figures are where a jar test begins, no more. Chemicals, doses and "
        "limits for drinking water are set by law; licensed practice decides.",
    )
    manganese = book.number(_LEFT)
    if not manganese:
        return told
    left = (
        f"The permanganate beyond need leaves up to {figure(manganese)} mg/L of manganese in the water: "
        "compare that with the limit for manganese where you are, and dose by the test of the filtrate, not "
        "by the excess."
    )
    return (*told, left)
