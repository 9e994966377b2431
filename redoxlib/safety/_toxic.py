"""Rules against gases that poison: hydrogen cyanide and sulfide, chlorine, nitrogen oxides, sulfur dioxide.

Every threshold of pH is a house number with its source in the table of rules.
"""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.safety._hits import Hit, caution, entered, stop, unreviewed
from redoxlib.safety._kinds import ACTIVE_CHLORINE, Kind
from redoxlib.safety._pot import DILUTE_MOL_L, Pot, kinds_in

K = Kind
CYANIDE_PH = 10.0
CYANIDE_PH_CHLORINE = 10.5
SULFIDE_PH = 9.0
SULFIDE_DILUTE_PH = 5.0
CYANIDE_G_L = 2.0
TRIPLE_SALT_PH = 12.0
AMMONIA_PH = 9.0
"""A third of the ammonium is free ammonia here, half of it at pH 9.2."""
_GAS_OF = {K.CYANIDE: "hydrogen cyanide, HCN", K.SULFIDE: "hydrogen sulfide, H2S"}
_METALLIC_ACIDS = frozenset({K.HARD_ACID, K.DICHROMATE})
# Reductants in solution that take chlorine up as fast as acid sets it free.
_FAST = frozenset({K.BROMIDE, K.IODIDE, K.IRON2, K.SULFITE, K.THIOSULFATE, K.TIN2, K.ARSENITE, K.NITRITE})
_CHLORINE_MAKERS = frozenset(
    {K.PERMANGANATE, K.MANGANATE, K.MANGANESE_DIOXIDE, K.LEAD_DIOXIDE, K.CHROMIUM6, K.BROMATE, K.IODATE,
     K.PERSULFATE, K.PEROXYMONOSULFATE, K.CERIUM4, K.PERIODATE, K.FERRATE, K.NITRIC, K.ANODE, K.OZONE}
)  # fmt: skip


def _acid_named(pot: Pot) -> bool:
    """An acid put in beside cyanide or sulfide; salts and oxidants that hydrolyse have their own rule."""
    return pot.has(K.STRONG_ACID) or K.WEAK_ACID in kinds_in(pot.situation.pot - pot.situation.oxidant)


@entered("G02")
def cyanide_in_acid(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.CYANIDE):
        return
    if _acid_named(pot):
        yield stop("G02", "an acid is in the pot")
    elif pot.ph is None:
        yield unreviewed("G02")
    elif pot.ph < CYANIDE_PH:
        yield stop("G02", f"declared pH {pot.ph:g}")


@entered("G03")
def cyanide_and_chlorine(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.CYANIDE) and pot.active_chlorine and pot.ph is not None and pot.ph < CYANIDE_PH_CHLORINE:
        yield stop("G03", f"declared pH {pot.ph:g}")


@entered("G38")
def free_cyanide(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.CYANIDE):
        return
    free = pot.free_cyanide_g_l
    if free is not None and free > CYANIDE_G_L:
        yield stop("G38", f"{free:.3g} g/L")
    else:
        yield caution("G38", "not declared" if free is None else f"{free:.3g} g/L")


def _sulfide_is_dilute(pot: Pot) -> bool:
    total = pot.total_sulfide_mol_l
    near_neutral = pot.ph is not None and pot.ph >= SULFIDE_DILUTE_PH
    return pot.water_treatment and total is not None and total <= DILUTE_MOL_L * (1 + 1e-9) and near_neutral


@entered("G04")
def sulfide_in_acid(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.SULFIDE):
        return
    if _acid_named(pot):
        yield stop("G04", "an acid is in the pot")
    elif pot.ph is None:
        yield unreviewed("G04")
    elif pot.ph < SULFIDE_PH:
        if _sulfide_is_dilute(pot):
            yield caution("G04", f"declared pH {pot.ph:g}")
        else:
            yield stop("G04", f"declared pH {pot.ph:g}")


@entered("G39")
def reagent_brings_acid(pot: Pot) -> Iterator[Hit]:
    poisons = [kind for kind in (K.CYANIDE, K.SULFIDE) if pot.has(kind)]
    if not poisons:
        return
    gas = " and ".join(_GAS_OF[kind] for kind in poisons)
    dilute = K.CYANIDE not in poisons and _sulfide_is_dilute(pot)
    metallic = sorted(pot.kinds & _METALLIC_ACIDS)
    if metallic:
        what = f"{gas}; {', '.join(metallic)}"
        yield caution("G39", what) if dilute else stop("G39", what)
    elif pot.has(K.SOFT_ACID):
        # The triple salt is a strong acid twice over; the others are weak ones.
        least = TRIPLE_SALT_PH if pot.has(K.PEROXYMONOSULFATE) else SULFIDE_PH
        held = pot.alkali_reserve and pot.ph is not None and pot.ph >= least
        bare = f"{gas}; no alkali is declared to take up its acid"
        yield caution("G39", gas) if held or dilute else stop("G39", bare)
    elif pot.has(K.CHLORINE, K.PERSULFATE, K.PERACID):
        yield caution("G39", gas)


@entered("G23")
def complexes(pot: Pot) -> Iterator[Hit]:
    unknown = pot.has(K.CYANIDE) and "complex" in pot.words
    bound = pot.has(K.CYANIDE) and pot.has(K.TRANSITION, K.HARD_ACID)
    if pot.has(K.COMPLEX_CYANIDE) or unknown or bound:
        yield caution("G23")


@entered("G60")
def complexes_in_acid(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.COMPLEX_CYANIDE):
        return
    strong = (pot.ph is not None and pot.ph < 1) or pot.concentrated_acid
    hot = pot.mineral_acid and pot.hotter_than(40)
    if strong or hot:
        yield stop("G60")


@entered("G59")
def thiocyanate(pot: Pot) -> Iterator[Hit]:
    if (
        pot.has(K.THIOCYANATE)
        and pot.oxidants - {K.IRON3, K.COPPER2}
        and (pot.ph is None or pot.ph < CYANIDE_PH)
    ):
        yield stop("G59")


@entered("G56")
def acid_as_quench(pot: Pot) -> Iterator[Hit]:
    acid = bool(pot.quench & {K.STRONG_ACID, K.WEAK_ACID, K.HARD_ACID}) and not pot.quench & {K.SULFITE}
    sulfite_too = bool(pot.quench & {K.SULFITE}) and K.STRONG_ACID in pot.quench
    liquor = [
        kind
        for kind in (K.HYPOCHLORITE, K.ISOCYANURATE, K.CHLORITE, K.CHLORATE, K.CYANIDE, K.SULFIDE)
        if pot.has(kind)
    ]
    if liquor and (acid or (sulfite_too and set(liquor) & {K.CYANIDE, K.SULFIDE})):
        yield stop("G56", ", ".join(liquor))


def _places(pot: Pot) -> tuple[int | None, int | None, int | None]:
    """Where chlorine source, acid and first reductant stand in the declared order."""
    chlorine = acid = reductant = None
    role_acid, role_feed = pot.situation.acid, pot.situation.feed
    for place, species in enumerate(pot.situation.addition or ()):
        kinds = kinds_in([species])
        if chlorine is None and kinds & ACTIVE_CHLORINE:
            chlorine = place
        if (
            acid is None
            and (species in role_acid or kinds & {K.STRONG_ACID, K.WEAK_ACID})
            and not kinds & ACTIVE_CHLORINE
        ):
            acid = place
        if reductant is None and (species in role_feed or kinds & _FAST or kinds & {K.ALCOHOL}):
            reductant = place
    return chlorine, acid, reductant


@entered("G14", "G64")
def chlorine_from_hypochlorite(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.HYPOCHLORITE, K.ISOCYANURATE):
        return
    hydrolysing = pot.has(K.HARD_ACID) and pot.ph is None
    brought = pot.has(K.PEROXYMONOSULFATE, K.PERACID)
    acid = pot.any_acid_species or hydrolysing or brought or (pot.ph is not None and pot.ph < 4)
    if not acid and pot.acid_at_the_end and not pot.has(K.CYANIDE):
        yield caution("G64", pot.says_acid_at_the_end)
    if not acid or pot.has(K.CYANIDE):  # cyanide in acid has its own stop
        return
    chlorine, first_acid, reductant = _places(pot)
    if chlorine is not None and first_acid is not None:
        met = max(chlorine, first_acid)
        if reductant is None or reductant > met:
            yield stop("G14", "by the declared order of addition")
            return
    fast = pot.kinds & (_FAST | ({K.CHLORITE} if pot.chlorine_dioxide_generator else set()))
    neutral = pot.ph is not None and pot.ph >= 4
    slow_but_weak = pot.has(K.ALCOHOL) and (pot.weak_acid_only or not pot.mineral_acid)
    if not fast and not slow_but_weak and not neutral and not pot.dilute:
        yield stop("G14", "no dissolved reductant takes the chlorine up")
    elif fast - {K.BROMIDE, K.IODIDE} and not neutral:
        yield caution("G64")


@entered("G13")
def chlorine_on_halide(pot: Pot) -> Iterator[Hit]:
    if pot.active_chlorine and pot.has(K.BROMIDE, K.IODIDE) and pot.acid_possible:
        yield caution("G13")


@entered("G17")
def chloride_in_bromide(pot: Pot) -> Iterator[Hit]:
    halide = bool(pot.feed & {K.BROMIDE, K.IODIDE}) or K.BROMINE in pot.target or pot.has(K.BROMIDE)
    sources = kinds_in(
        pot.situation.impurities | pot.situation.feed | pot.situation.counter_ions | pot.situation.species
    )
    chloride = K.CHLORIDE in sources or pot.has(K.HYDROCHLORIC)
    makers = _CHLORINE_MAKERS - {K.IODATE, K.NITRIC}
    if halide and chloride and pot.kinds & makers and pot.acid_possible:
        yield caution("G17")


@entered("G34")
def chlorine_from_chloride(pot: Pot) -> Iterator[Hit]:
    in_acid = pot.ph_range is None or pot.ph_range[0] < 5
    if pot.has(K.CHLORIDE) and pot.kinds & _CHLORINE_MAKERS and in_acid and not pot.dilute:
        if pot.kinds & {K.CHLORINE}:
            return
        yield caution("G34", _chloride_from(pot))


def _chloride_from(pot: Pot) -> str:
    """What brings the chloride, and the advice that fits it."""
    s = pot.situation
    if K.CHLORIDE in kinds_in(s.feed | s.target | s.counter_ions):
        return "the feed or the product is a chloride: choose an oxidant that leaves chloride alone"
    if K.CHLORIDE in kinds_in(s.acid):
        return "the acid brings the chloride: use sulfuric acid instead"
    return "chloride is in the pot: keep it out, or choose an oxidant that leaves it alone"


@entered("G37")
def nitrogen_oxides(pot: Pot) -> Iterator[Hit]:
    nitric = pot.has(K.NITRIC) or (pot.has(K.NITRATE) and pot.concentrated_acid)
    reductants = {
        K.METAL, K.COPPER, K.IRON2, K.BROMIDE, K.IODIDE, K.CHLORIDE, K.SULFITE, K.THIOSULFATE, K.TIN2,
        K.ARSENITE, K.SULFUR, K.CARBON, K.PHOSPHORUS,
    }  # fmt: skip
    if nitric and pot.kinds & reductants:
        yield caution("G37")


@entered("G42")
def sulfur_dioxide(pot: Pot) -> Iterator[Hit]:
    in_acid = pot.mineral_acid or (pot.ph is not None and pot.ph < 5)
    quenched = K.SULFITE in pot.quench and not pot.quench & {K.BASE, K.CARBONATE}
    if in_acid and (pot.has(K.SULFITE) or quenched):
        yield caution("G42")


@entered("G12")
def thiosulfate_in_acid(pot: Pot) -> Iterator[Hit]:
    in_acid = pot.mineral_acid or (pot.ph is not None and pot.ph < 4)
    alkali = bool(pot.quench & {K.BASE, K.CARBONATE})
    if in_acid and (pot.has(K.THIOSULFATE) or (K.THIOSULFATE in pot.quench and not alkali)):
        yield caution("G12")
    elif pot.acid_at_the_end and pot.has(K.THIOSULFATE):
        yield caution("G12", pot.says_acid_at_the_end)


@entered("G43")
def nitrite(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.NITRITE):
        return
    if pot.has(K.AMMONIUM, K.AMMONIA, K.AMINE) and not pot.dilute:
        yield stop("G43")
    elif pot.mineral_acid or (pot.ph is not None and pot.ph < 5) or pot.any_acid_species:
        yield caution("G43")


@entered("G21", "G65")
def concentrated_sulfuric(pot: Pot) -> Iterator[Hit]:
    chosen = K.SULFURIC in pot.oxidants
    if not (pot.has(K.SULFURIC) and (pot.concentrated_acid or chosen)):
        return
    if pot.has(K.BROMIDE, K.IODIDE, K.CHLORIDE):
        yield caution("G21")
    if pot.has(K.METAL, K.SULFUR, K.CARBON):
        yield caution("G65")


@entered("G57")
def arsenic(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.ARSENITE):
        return
    if pot.has(K.REACTIVE_METAL, K.HYDRIDE) and pot.acid_possible:
        yield stop("G57")
    else:
        yield caution("G57")


@entered("G51")
def toxic_reagent(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.CHLORINE_DIOXIDE, K.OZONE, K.CHLORINE):
        return
    gas = pot.situation.oxidant_form == "gas"
    if gas and pot.has(K.CHLORINE_DIOXIDE, K.OZONE) and not pot.dilute:
        phosphine = any(dict(s.elements) == {"P": 1, "H": 3} and not s.charge for s in pot.situation.pot)
        h2s = any(dict(s.elements) == {"H": 2, "S": 1} and not s.charge for s in pot.situation.pot)
        if pot.has(K.AMMONIA, K.HYDROGEN) or phosphine or h2s:
            yield stop("G51")
            return
    chlorine_dioxide_gas = gas and pot.has(K.CHLORINE_DIOXIDE)
    # At the dose of a water works the reagent stays dissolved; a stronger pot gives it off.
    strength = pot.situation.concentration_mol_L
    dosed = pot.water_treatment and (strength is None or strength <= DILUTE_MOL_L)
    if not dosed or chlorine_dioxide_gas:
        yield caution("G51")


@entered("G67")
def ammonia_from_ammonium(pot: Pot) -> Iterator[Hit]:
    alkaline = pot.ph_range is not None and pot.ph_range[1] >= AMMONIA_PH
    if K.AMMONIUM in pot.kinds and alkaline and not pot.dilute:
        yield caution("G67")


@entered("G58")
def no_hood(pot: Pot) -> Iterator[Hit]:
    toxic = pot.makes_bromine or pot.has(K.CYANIDE, K.CHLORINE, K.CHLORINE_DIOXIDE, K.OZONE, K.SULFIDE)
    nitric = pot.has(K.NITRIC) and pot.has(K.METAL, K.COPPER, K.IRON2, K.BROMIDE, K.IODIDE)
    if pot.without_hood and (toxic or nitric) and not pot.dilute:
        yield stop("G58")
