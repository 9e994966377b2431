"""How one sees that a step is at its end, and the metal ions that take base of their own at neutral.

Verbs: feed_is_gone, oxidant_is_gone, takes_iodide, metal_base, is_organic.  May import: routes and below.
"""

from __future__ import annotations

from redoxlib.bench._book import Book, Step
from redoxlib.bench._liquor import HALOGENS, extent_of, quench_half, quench_oxidant
from redoxlib.notation import Species
from redoxlib.routes import Route, bare

__all__ = ["feed_is_gone", "is_organic", "metal_base", "oxidant_is_gone", "takes_iodide"]

_HYDROXIDES = {
    Species.parse(ion): taken
    for ion, taken in (("Cu^2+", 2), ("Fe^2+", 2), ("Fe^3+", 3), ("Cr^3+", 3), ("Al^3+", 3))
}
"""OH- per ion that falls out as hydroxide between pH 7 and 9."""

_BLUE_ANYWAY = frozenset(Species.parse(t) for t in ("Cu^2+", "Fe^3+"))
"""Ions that set iodine free from iodide and so turn starch-iodide paper blue."""

_TAKES_IODIDE = {
    Species.parse("Ag^+"): ("sodium chloride", "silver iodide"),
    Species.parse("Pb^2+"): ("sodium sulfate", "yellow lead iodide"),
    Species.parse("Hg^2+"): ("", "mercury iodide"),
}
"""Ions that take the iodide of the paper before an oxidant can: what removes them, what forms."""

_PEROXIDE = frozenset(Species.parse(t) for t in ("H2O2", "HO2^-"))

_FEED_TESTS = {
    Species.parse("CN^-"): Step(
        "Test for free cyanide half an hour after the last oxidant, with starch-iodide paper still turning "
        "blue: strip or silver nitrate titration below what local rules allow.",
        "oxidant left over shows that there was enough; only then the sulfite, which would hide it",
    ),
    Species.parse("NO2^-"): Step(
        "Test for nitrite with a strip after half an hour: negative.", "only then the sulfite, which hides it"
    ),
    Species.parse("Mn^2+"): Step(
        "Filter a sample: manganese by photometer below what is wanted, and the filtrate not pink.",
        "pink is permanganate beyond need; what passes the filter has not been oxidised",
    ),
    Species.parse("Fe^2+"): Step(
        "Test a drop with potassium hexacyanoferrate(III): no blue.", "blue is iron(II) not yet oxidised"
    ),
}
_SULFIDES = frozenset(Species.parse(t) for t in ("S^2-", "HS^-", "H2S"))
_SULFIDE_BY_PEROXIDE = Step(
    "Peroxide strip still positive half an hour after the last peroxide: the sulfide is gone.",
    "lead acetate paper proves nothing here: peroxide bleaches its black",
)
_SULFIDE = Step(
    "Lead acetate paper wetted with the liquor stays white.", "black is sulfide; only then the sulfite"
)


def is_organic(route: Route) -> bool:
    """Whether the product is a carbon compound that bleach or peroxide could attack."""
    return {"C", "H"} <= set(route.product.compound.elements)


def feed_is_gone(route: Route) -> tuple[Step, ...]:
    """The test that the feed has reacted, to be made before any reductant goes in."""
    found: dict[str, Step] = {}
    for part in route.parts:
        for feed in (bare(part.conversion.feed), *(bare(s) for _, s in part.net_ionic.reactants)):
            step = _FEED_TESTS.get(feed)
            if feed in _SULFIDES:
                peroxide = any(bare(s) in _PEROXIDE for _, s in part.half_reactions[1].reactants)
                step = _SULFIDE_BY_PEROXIDE if peroxide else _SULFIDE
            if step is not None:
                found[step.text] = step
    return tuple(found.values())


def oxidant_is_gone(route: Route) -> tuple[Step, ...]:
    """Tests that show the end of the quench, for what is in this liquor."""
    taken = takes_iodide(route)
    if taken is not None:
        return (taken,)
    blind = sorted(str(s) for s in _ions(route) if s in _BLUE_ANYWAY)
    if blind:
        own = " and ".join(blind)
        return (
            Step(
                "Test: peroxide strip negative in the clear liquid over the precipitate, pH 7 to 9.",
                f"starch-iodide paper is no test here: {own} turns it blue by itself",
            ),
        )
    paper = "Test: starch-iodide paper and peroxide strip negative, pH 7 to 9."
    tests = (Step(paper, "oxidant and acid are both gone"),)
    if bare(route.product.species) not in HALOGENS:
        return tests
    colour = "Acidify a few mL in the hood: it must stay colourless."
    return (*tests, Step(colour, "yellow or brown would show halate"))


def takes_iodide(route: Route) -> Step | None:
    """The end test where a metal ion takes up the iodide of starch-iodide paper; None where none does."""
    for ion in _left(route):
        if ion not in _TAKES_IODIDE:
            continue
        remover, iodide = _TAKES_IODIDE[ion]
        reason = f"starch-iodide paper is no test in the liquor itself: {ion} takes its iodide as {iodide}"
        if not remover:
            text = (
                "Test: a method for the oxidant that was tried beside mercury; starch-iodide paper is none."
            )
            return Step(text, reason)
        text = f"Test: to a few mL add {remover} until no more falls out, filter; starch-iodide paper and "
        return Step(text + "peroxide strip negative in the clear filtrate; liquor at pH 7 to 9.", reason)
    return None


def _ions(route: Route) -> dict[Species, float]:
    """Metal ions in solution that fall out as hydroxide between pH 7 and 9 [mol]."""
    return {ion: mol for ion, mol in _left(route).items() if ion in _HYDROXIDES}


def _left(route: Route) -> dict[Species, float]:
    """What the reaction, and the quench of what is left, leave behind [mol]."""
    found: dict[Species, float] = {}
    extent = extent_of(route)
    for part in route.parts:
        feed = bare(part.conversion.feed)
        fed = sum(float(n) for n, s in part.net_ionic.reactants if bare(s) == feed) or 1.0
        for n, s in part.net_ionic.products:
            found[bare(s)] = found.get(bare(s), 0.0) + part.feed_mol * extent * float(n) / fed
    charge, half = route.charge("oxidant"), quench_half(route)
    if charge is not None and half is not None:
        oxidant = quench_oxidant(route)
        left = max(0.0, charge.mol - charge.needed_mol * extent) * oxidant.per_compound
        taken = sum(float(n) for n, s in half.reactants if bare(s) == bare(oxidant.active)) or 1.0
        for n, s in half.products:
            if left:
                found[bare(s)] = found.get(bare(s), 0.0) + left * float(n) / taken
    return found


def metal_base(book: Book, route: Route) -> tuple[Step, ...]:
    """Write the base that metal ions take as hydroxide, beside that of the acid; say so as a step."""
    if route.job.ph >= 8:
        return ()
    ions = _ions(route)
    crystals = book.number("crystal.liquor.g")
    if crystals is not None:  # the crystals are gone; what the mother liquor keeps is left
        kept = crystals / bare(route.product.compound).molar_mass
        ions = {ion: min(mol, kept) for ion, mol in ions.items()}
    base = sum(_HYDROXIDES[ion] * mol for ion, mol in ions.items())
    if not base:
        return ()
    told = ", ".join(f"{_HYDROXIDES[ion]} per {ion}" for ion in ions)
    aside = crystals is None and route.product.species.phase.value == "aq" and route.job.purpose == "make"
    what = "base that metal ions take up as hydroxide, on top of quench.base.mol"
    what += ", were the product thrown away with the liquor" if aside else ""
    book.put("quench.base.metal.mol", base, "mol", what, f"OH- {told} x mol in the liquor")
    text = f"Count in the base of the metal (quench.base.metal.mol); {_named(ions)} falls out: filter it off."
    return (
        Step(
            text,
            "at pH 7 to 9 it falls out and takes hydroxide with it; without that base the liquor stays acid",
        ),
    )


def _named(ions: dict[Species, float]) -> str:
    return " and ".join(f"the hydroxide of {str(ion).split('^')[0]}" for ion in ions)
