"""Getting the product out: over with water, by layers, dried, crystallised or filtered.

Verbs: write_isolation; drying_acid, crystal_crop.  May import: routes and below.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from redoxlib.bench._book import Book, Step
from redoxlib.bench._ends import is_organic
from redoxlib.bench._liquor import HALOGENS, dissolved_product
from redoxlib.bench._vapour import CoDistillation, co_distillation, liquid_fact, melting_point
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, RedoxlibError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Route, bare

__all__ = ["Crop", "crystal_crop", "drying_acid", "solubility", "write_isolation"]

_MISCIBLE_ABOVE = 10.0
"""g in 100 g of water from which two liquids are no longer treated as two layers."""

_DISTIL_MIN = 60.0
"""Minutes over which the product is taken to distil where nothing else is declared (practice)."""

_STRONG, _SPENT = 0.98, 0.80
"""Mass fractions of sulfuric acid as a drying agent, fresh and when it no longer dries well (practice)."""

_ENTRAINED = 0.01
"""mL of water left clinging to each mL of product after the funnel (practice)."""

_QUENCH_FIRST = Step(
    "Quench the pot before anything is warmed, see Quench; distil only from a liquor that passes its tests.",
    "oxidant left over attacks an organic product on warming: bleach chlorinates it, peroxide forms "
    "explosive peroxides with it",
)

_HYDRATES = {"CuSO4": ("CuSO4.5H2O", 5)}


def drying_acid(water_g: float, *, fresh: float = _STRONG, spent: float = _SPENT) -> float:
    """Grams of sulfuric acid that take up so much water.

    g = m_w w2 / (w1 - w2), from w1 m = w2 (m + m_w).

    Parameters
    ----------
    water_g : float
        Water to remove, dissolved and as a layer [g].
    fresh, spent : float
        Mass fraction of the acid before and after [1].

    Raises
    ------
    DomainError
        Unless 0 < spent < fresh <= 1 and the water is not negative.

    Examples
    --------
    >>> print(f"{drying_acid(1.0):.2f} g")
    4.44 g
    """
    if not 0 < spent < fresh <= 1 or water_g < 0:
        raise DomainError(f"cannot dry {water_g} g of water with acid from {fresh} down to {spent}")
    return water_g * spent / (fresh - spent)


@dataclass(frozen=True, slots=True)
class Crop:
    """Crystals from a cooled liquor.

    Attributes
    ----------
    grams : float
        Hydrate that crystallises [g]; 0 where the liquor is not saturated.
    hydrate_water : float
        Of it, water of crystallisation [g].
    liquor_salt, liquor_water : float
        Anhydrous salt and water left in the liquor [g].
    """

    grams: float
    hydrate_water: float
    liquor_salt: float
    liquor_water: float


def crystal_crop(salt_g: float, water_g: float, mass_fraction: float, *, anhydrous_share: float) -> Crop:
    """Crop of a hydrate from so much salt and water, cooled to where the liquor holds a mass fraction.

    With S salt, W water, saturation w and anhydrous share f of the hydrate, the crop x follows from
    S - f x = w (S + W - x): the water of crystallisation leaves the liquor with it.

    Parameters
    ----------
    salt_g, water_g : float
        Anhydrous salt and all water [g].
    mass_fraction : float
        Anhydrous salt in the saturated solution [1].
    anhydrous_share : float
        Molar mass of the anhydrous salt over that of the crystals [1]; 1 for no hydrate.

    Raises
    ------
    DomainError
        When the saturated solution holds more than the crystals.

    Examples
    --------
    >>> crop = crystal_crop(100.0, 150.0, 0.167, anhydrous_share=159.61 / 249.68)
    >>> print(f"{crop.grams:.0f} g")
    123 g
    """
    if not 0 <= mass_fraction < anhydrous_share <= 1 or salt_g < 0 or water_g < 0:
        raise DomainError("a saturated solution cannot hold more salt than its crystals")
    crop = max(0.0, (salt_g - mass_fraction * (salt_g + water_g)) / (anhydrous_share - mass_fraction))
    crop = min(crop, salt_g / anhydrous_share)
    if anhydrous_share < 1:  # no more crystals than there is water for
        crop = min(crop, water_g / (1 - anhydrous_share))
    bound = crop * (1 - anhydrous_share)
    return Crop(crop, bound, salt_g - crop * anhydrous_share, water_g - bound)


def solubility(salt: Species, celsius: float, tables: Tables | None = None) -> Quantity | Unknown:
    """Mass fraction of anhydrous salt in its saturated solution; linear between the tabulated points.

    Returns
    -------
    Quantity [% w/w] or Unknown outside the table, which is never extrapolated.
    """
    wanted = bare(salt)
    rows = sorted(
        (r.temperature_C, r)
        for r in (tables or shipped()).liquids
        if r.property == "solubility_mass_fraction"
        and r.temperature_C is not None
        and bare(Species.parse(r.species)) == wanted
    )
    for (t0, a), (t1, b) in pairwise(rows):
        if t0 <= celsius <= t1:
            value = a.value + (b.value - a.value) * (celsius - t0) / (t1 - t0)
            spread = max(a.uncertainty or 0.0, b.uncertainty or 0.0)
            return Quantity(value, "% w/w", spread, a.sources, a.basis)
    return Unknown(f"solubility of {salt} at {celsius:g} C", ("liquids.csv",))


def write_isolation(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    """How the first product is got out, with its numbers; says so where the tables do not decide."""
    product = route.product
    phase = product.species.phase
    if route.job.purpose == "remove":
        return ()
    if phase is Phase.LIQUID:
        first = (_QUENCH_FIRST,) if is_organic(route) and route.charge("oxidant") is not None else ()
        return (*first, *_liquid(book, route, tables))
    if phase is Phase.SOLID:
        return _filter(book, route, tables)
    if str(product.compound) in _HYDRATES:
        return _crystals(book, route, tables)
    stays = "The product stays in solution: the liquor is what the batch gives."
    return (Step(stays, "the tables hold no crystals or second phase for it"),)


def _liquid(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    target = bare(route.product.species)
    row = liquid_fact(target, "solubility_in_water", tables)
    if row is None or row.value > _MISCIBLE_ABOVE:
        why = "mixes with water or its solubility is not tabulated: no second layer is counted on"
        return (Step(f"{route.product.compound} is distilled from the liquor; expect water in it.", why),)
    try:
        both = co_distillation(target, tables=tables)
        half = co_distillation(target, activity=0.5, tables=tables)
    except RedoxlibError as error:
        gap = Unknown(f"vapour pressure of {target}", ("liquids.csv",))
        book.put("distil.boiling.C", gap, "C", "where the two liquids boil together", error.message)
        return (Step(f"Separate {target} as a layer.", "its vapour pressure is not tabulated"),)
    _distil(book, route, both, half)
    _condenser(book, route, both, tables)
    steps = _layers(book, route, both, tables)
    return (*steps, *_dry(book, route, tables))


def _distil(book: Book, route: Route, both: CoDistillation, half: CoDistillation) -> None:
    target, source = bare(route.product.species), both.sources
    what = f"where {target} and water boil together at 101.3 kPa, as two liquids; below either alone"
    book.put("distil.boiling.C", both.celsius, "C", what, "p(product) + p(water) = 101.325 kPa", (), source)
    at = ("distil.boiling.C",)
    what = f"vapour pressure of {target} there"
    book.put("distil.product.kPa", both.product_kpa, "kPa", what, "pure liquid", at, source)
    book.put("distil.water.kPa", both.water_kpa, "kPa", "of water there", "pure liquid", at, source)
    share = formula = "100 p_w M_w / (p_w M_w + p M)"
    keys = ("distil.product.kPa", "distil.water.kPa")
    what = "water in the distillate by mass, while both liquids are in the pot"
    book.put("distil.water.percent", both.water_percent, "% w/w", what, formula, keys)
    carried = route.product.grams * both.water_percent / (100 - both.water_percent)
    what = "water that comes over with the whole product"
    formula = "product x % / (100 - %)"
    inputs = ("yield.g", "distil.water.percent")
    book.put("distil.water.g", carried, "g", what, formula, inputs)
    what = "boiling once the product phase is gone and the liquor is half saturated"
    book.put("distil.late.C", half.celsius, "C", what, "0.5 p + p(water) = 101.325 kPa", (), source)
    what = "water in what comes over then: stop when the temperature climbs"
    book.put("distil.late.water.percent", half.water_percent, "% w/w", what, share, ("distil.late.C",))
    heat: float | Unknown = both.heat_kj_per_g
    total = heat if isinstance(heat, Unknown) else heat * route.product.grams
    what = "heat that vaporises product and the water with it"
    formula = "(dHvap of product + p_w/p x dHvap of water) / M x grams"
    book.put("distil.heat.kJ", total, "kJ", what, formula, inputs[:1], source)
    reaction = book.number("heat.reaction.kJ")
    if reaction is not None and not isinstance(total, Unknown) and total:
        what = "share of it that the heat of reaction could bring, were none cooled away"
        keys = ("heat.reaction.kJ", "distil.heat.kJ")
        book.put("distil.reaction_share", -reaction / total, "1", what, "- reaction / vaporisation", keys)


def _condenser(book: Book, route: Route, both: CoDistillation, tables: Tables) -> None:
    total = book.number("distil.heat.kJ")
    if total is not None:
        watts = total * 1000 / (_DISTIL_MIN * 60)
        what = f"condenser duty for distilling it in {_DISTIL_MIN:g} min"
        keys = ("distil.heat.kJ",)
        book.put("condenser.W", watts, "W", what, "heat / time", keys, ("practice",))
    low = melting_point(bare(route.product.species), tables)
    what = "coldest coolant: the product freezes and blocks the condenser below it"
    book.put("condenser.coldest.C", low, "C", what, "melting point of the product")
    what = "warmest coolant, in theory: it must be well below where the distillate boils"
    at = ("distil.boiling.C",)
    book.put("condenser.warmest.C", both.celsius, "C", what, "co-boiling point", at)
    ml = route.product.ml
    if isinstance(ml, float):
        water = book.number("distil.water.g") or 0.0
        what = "receiver, at least (1.5 times product and water, cooled in ice)"
        both_keys = ("yield.mL", "distil.water.g")
        formula = "1.5 x (product mL + water mL)"
        book.put("receiver.mL", 1.5 * (ml + water), "mL", what, formula, both_keys, ("practice",))


def _layers(book: Book, route: Route, both: CoDistillation, tables: Tables) -> tuple[Step, ...]:
    target = bare(route.product.species)
    dissolved, how = dissolved_product(route, tables)
    grams: float | Unknown
    grams = dissolved * target.molar_mass if isinstance(dissolved, float) else dissolved or 0.0
    what = "product that stays in the liquor of the pot if it is only separated, not distilled"
    book.put("separate.liquor.g", grams, "g", what, how, ("pot.water.g",))
    row = liquid_fact(target, "solubility_in_water", tables)
    water = book.number("distil.water.g") or 0.0
    if row is not None:
        # Grams per 100 g are of solution in the source; the difference is inside the row's uncertainty.
        lost = min(row.value / 100 * water, route.product.grams)
        what = "product dissolved in the water that came over; poured back into the pot it is won again"
        keys = ("distil.water.g",)
        book.put("separate.back_wash.g", lost, "g", what, "solubility x water", keys, row.sources)
    density = liquid_fact(target, "density", tables)
    if density is None:
        return (Step("Separate the layers.", "its density is not tabulated: test which layer takes water"),)
    below = density.value > 1.0
    if isinstance(route.product.ml, float):
        what = f"product layer, the {'lower' if below else 'upper'} one"
        book.put("separate.product.mL", route.product.ml, "mL", what, "grams / density", ("yield.g",))
    place = "lower" if below else "upper"
    reason = f"density {density.value:g} g/mL at {density.temperature_C or 20:g} C against 1.00 for water"
    start = f"Distil until the temperature climbs past {both.celsius:.0f} C."
    gone = "then the product phase is gone and mostly water comes"
    if isinstance(dissolved, float) and dissolved >= route.product.mol:
        text = (
            "Look for no layer in the pot: its water can hold all of the product. Salt it out or distil it."
        )
        first = Step(text, "the distillate holds more product than water can dissolve, and splits")
        start = "Distil until what comes over no longer splits into two layers."
        gone = "it starts above the temperature given: there is no product phase in the pot to begin with"
        return (first, Step(start, gone), *_parted(target, place, reason))
    return (Step(start, gone), *_parted(target, place, reason))


def _parted(target: Species, place: str, reason: str) -> tuple[Step, ...]:
    return (
        Step(f"Separate: {target} is the {place} layer.", reason),
        Step("Pour the water layer back into the pot.", "what it holds comes over with the next portion"),
    )


def _dry(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    target = bare(route.product.species)
    held = liquid_fact(target, "water_in_product", tables)
    inside: float | Unknown
    if held is None:
        inside = Unknown(f"water dissolved in {target}", ("liquids.csv",))
    else:
        inside = held.value / 100 * route.product.grams
    sources = held.sources if held is not None else ()
    what = "water dissolved in the product"
    formula = "solubility of water in it x grams"
    book.put("dry.water.dissolved.g", inside, "g", what, formula, ("yield.g",), sources)
    ml = route.product.ml
    layer = _ENTRAINED * ml if isinstance(ml, float) else 0.0
    what = "water that clings to it after the funnel"
    formula = f"{_ENTRAINED:g} mL per mL of product, an estimate: weigh or read it"
    guess = Quantity(layer, "g", layer, ("practice",), "estimate")  # half of it or twice as much
    book.put("dry.water.layer.g", guess, "g", what, formula, ("yield.mL",), ("practice",))
    layer = book.number("dry.water.layer.g") or 0.0
    keys = ("dry.water.dissolved.g", "dry.water.layer.g")
    total = inside + layer if isinstance(inside, float) else layer
    known = (
        "dissolved + clinging" if isinstance(inside, float) else "clinging alone: the dissolved is unknown"
    )
    book.put("dry.water.g", total, "g", "water the drying agent has to take", known, keys)
    if target in HALOGENS:
        grams = drying_acid(total)
        what = f"sulfuric acid 98 % w/w to dry it, used down to {100 * _SPENT:g} %"
        formula = "m_w w2 / (w1 - w2)"
        book.put("dry.acid.g", grams, "g", what, formula, ("dry.water.g",), ("practice",))
        density = 1.8363
        book.put(
            "dry.acid.mL", grams / density, "mL", "the same by volume", f"g / {density} g/mL", ("dry.acid.g",)
        )
        why = "the acid lies on top; it becomes a waste stream of its own, with halogen in it"
        return (Step("Shake with cold sulfuric acid, let it stand, separate.", why),)
    sulfate = Species.parse("MgSO4")
    grams = total * sulfate.molar_mass / (7 * 18.015)
    what = "anhydrous magnesium sulfate, at least (to the heptahydrate)"
    formula = "water x M(MgSO4) / 7 M(H2O)"
    book.put("dry.MgSO4.g", grams, "g", what, formula, ("dry.water.g",))
    text = "Dry over magnesium sulfate and filter; add more until fresh grains stay loose."
    why = "sized on the water there, not on the product"
    if isinstance(inside, Unknown):
        why = "the mass given counts the clinging water only: how much the product dissolves is not known"
    return (Step(text, why),)


def _filter(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    product = route.product
    if isinstance(product.ml, float):
        cake = product.ml
        how = "2 x volume of the solid, in two portions"
        keys = ("yield.mL",)
    else:
        cake, how, keys = product.grams, "2 mL per g of solid, in two portions", ("yield.g",)
    wash = 2.0 * cake
    what = "cold water to wash the solid on the filter"
    book.put("wash.water.g", wash, "g", what, how, keys, ("practice",))
    row = liquid_fact(bare(product.species), "solubility_in_water", tables)
    lost: float | Unknown
    if row is None:
        lost = Unknown(f"solubility of {product.compound}", ("liquids.csv",))
    else:
        lost = min(row.value / 100 * wash, product.grams)
    what = "product the washing dissolves"
    sources = row.sources if row is not None else ()
    book.put("wash.loss.g", lost, "g", what, "solubility x wash water", ("wash.water.g",), sources)
    dissolved, note = dissolved_product(route, tables)
    if dissolved is not None:
        grams = dissolved * bare(product.species).molar_mass if isinstance(dissolved, float) else dissolved
        what = "product that stays dissolved in the liquor"
        book.put("separate.liquor.g", grams, "g", what, note, ("pot.water.g",))
    return (
        Step(
            f"Filter off {product.compound} and wash it twice with cold water.",
            "the liquor's salts cling to it",
        ),
        Step("Test the last washing for the liquor's anion.", "clean when nothing shows"),
    )


def _crystals(book: Book, route: Route, tables: Tables) -> tuple[Step, ...]:
    salt = bare(route.product.compound)
    name, waters = _HYDRATES[str(salt)]
    hydrate = Species.parse(name)
    share = salt.molar_mass / hydrate.molar_mass
    grams = route.product.mol * salt.molar_mass
    hot, cold = solubility(salt, 80.0, tables), solubility(salt, 20.0, tables)
    what = f"{name} if every mol crystallised"
    book.put("crystal.theory.g", route.product.mol * hydrate.molar_mass, "g", what, "mol x M", ("yield.mol",))
    if isinstance(hot, Unknown) or isinstance(cold, Unknown):
        gap = hot if isinstance(hot, Unknown) else cold
        book.put("crystal.crop.g", gap, "g", f"crop of {name}", "solubility unknown")
        return ()
    need = grams * (100 - hot.value) / hot.value
    there = book.number("pot.water.g") or 0.0
    what = "water that just holds it at 80 C"
    formula = f"salt x (100 - {hot.value:g}) / {hot.value:g}"
    book.put("crystal.water.g", need, "g", what, formula, ("yield.mol",), hot.sources)
    what = "water to boil off first (negative: to add)"
    keys = ("pot.water.g", "crystal.water.g")
    book.put("crystal.water_off.g", there - need, "g", what, "water in the pot - water at 80 C", keys)
    crop = crystal_crop(grams, need, cold.value / 100, anhydrous_share=share)
    what = f"{name} that crystallises from there on cooling to 20 C"
    formula = f"(S - w (S + W)) / (f - w), w = {cold.value:g} %, f = {share:.4f}"
    book.put("crystal.crop.g", crop.grams, "g", what, formula, keys[1:], cold.sources)
    what = f"of it water of crystallisation, {waters} per salt"
    book.put("crystal.hydrate_water.g", crop.hydrate_water, "g", what, "crop x (1 - f)", ("crystal.crop.g",))
    what = "anhydrous salt left in the mother liquor"
    book.put("crystal.liquor.g", crop.liquor_salt, "g", what, "S - f x crop", ("crystal.crop.g",))
    percent = 100 * crop.grams / (route.product.mol * hydrate.molar_mass)
    keys = ("crystal.crop.g", "crystal.theory.g")
    what = "first crop of theory; acid left in the liquor salts out a little more"
    book.put("crystal.percent", percent, "%", what, "crop / theory", keys)
    first: tuple[Step, ...] = ()
    if "H2O2" in {str(bare(s)) for _, s in route.half_reactions[1].reactants}:
        text = "Keep it warm, open, until the peroxide strip is negative; only then boil down."
        first = (Step(text, "metal salts set oxygen free from peroxide, faster as it grows strong"),)
    return (
        *first,
        Step(
            "Boil down to the water given at 80 C, filter hot, cool slowly to 20 C.",
            "solubility falls by half",
        ),
        Step(
            "Filter, wash with a little ice water, dry in air, not above 30 C.",
            "the hydrate loses water in warmth",
        ),
    )
