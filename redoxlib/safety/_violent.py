"""Rules against fire, explosion, pressure and runaway."""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.safety import _words
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._hits import Hit, caution, entered, stop, unreviewed
from redoxlib.safety._kinds import ACTIVE_CHLORINE, Kind
from redoxlib.safety._pot import CONCENTRATED_W_W, Pot, kinds_in

K = Kind
PEROXIDE_W_W = 0.35
CHLORITE_AND_CHLORINE_PH = 9.0
PERACID_W_W = 0.40
PERACID_WARM_C = 40.0
NEAT_MOL_L = 3.0
DILUTE_NITRIC_W_W = 0.02
POOL_DILUTE_MOL_L = 0.1
STRONG_W_W = 0.50
FULMINATING_PH = 12.0
CHLORATE_ACID_MOL_L = 0.01
"""Strong acid that brings an unbuffered pot to pH 2, below which chlorate is stopped."""
"""Ammoniacal silver is a reagent for the hour; in strong alkali it has exploded while it was wet."""
_DRY_EXPLOSIVES = frozenset({K.CHLORATE, K.PERCHLORATE, K.BROMATE})
_NITROGENOUS = frozenset({K.AMMONIUM, K.AMMONIA, K.AMINE})


@entered("G01")
def chlorine_dioxide_from_acid(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.CHLORITE, K.CHLORATE):
        return
    ph = pot.ph
    strong = (pot.has(K.STRONG_ACID) and (ph is None or ph < 5)) or pot.concentrated_acid
    if pot.has(K.CHLORITE):
        sour, mild = ph is not None and ph < 4, ph is not None and ph < 6
    else:
        sour, mild = ph is not None and ph < 2, ph is not None and ph < 4
    hydrolysing = ph is None and pot.has(K.HARD_ACID)
    if strong or sour or hydrolysing:
        if pot.chlorine_dioxide_generator and not pot.concentrated_acid:
            yield caution("G01", "declared generator")
        else:
            yield stop("G01")
    elif pot.acid_at_the_end:
        least = 0.0 if pot.has(K.CHLORITE) else CHLORATE_ACID_MOL_L
        certain = pot.acid_at_the_end >= least and not pot.chlorine_dioxide_generator
        yield (stop if certain else caution)("G01", pot.says_acid_at_the_end)
    elif mild or pot.any_acid_species:
        yield caution("G01")


@entered("G68")
def chlorine_on_chlorite(pot: Pot) -> Iterator[Hit]:
    if not (pot.has(K.CHLORITE) and pot.has(K.CHLORINE, K.HYPOCHLORITE, K.ISOCYANURATE)) or pot.dilute:
        return
    generator = pot.chlorine_dioxide_generator and not pot.concentrated_acid
    if generator or (pot.ph is not None and pot.ph >= CHLORITE_AND_CHLORINE_PH):
        yield caution("G68")
    else:
        yield stop("G68")


@entered("G05")
def ketone_peroxides(pot: Pot) -> Iterator[Hit]:
    peroxide = pot.has(K.PEROXIDE, K.PERACID) and not (K.PEROXIDE in pot.feed and K.PERACID not in pot.kinds)
    quenched = bool(pot.quench & {K.ACETONE, K.KETONE}) and pot.has(K.PEROXIDE, K.PERACID)
    ketone = pot.kinds & {K.ACETONE, K.KETONE, K.SECONDARY_ALCOHOL, K.ALDEHYDE, K.ALCOHOL}
    if not ((peroxide and ketone) or quenched):
        if pot.has(K.PEROXYMONOSULFATE) and pot.has(K.ACETONE, K.KETONE):
            if pot.concentrated_acid:
                yield stop("G05", "peroxymonosulfuric acid")
            else:
                yield caution("G05", "peroxymonosulfate and a ketone form a dioxirane")
        return
    # An aryl ketone hardly forms a cyclic peroxide, and an aldehyde forms a peracid instead.
    cyclic = bool((pot.kinds | pot.quench) & {K.ACETONE}) or bool(
        ketone & {K.KETONE, K.SECONDARY_ALCOHOL} and not pot.has(K.ARYL_KETONE)
    )
    if cyclic and pot.mineral_acid:
        yield stop("G05")
    elif cyclic and pot.distilled:
        yield stop("G05", "the pot is distilled or concentrated")
    else:
        yield caution("G05")


@entered("G06")
def nitric_and_organic(pot: Pot) -> Iterator[Hit]:
    nitric = pot.has(K.NITRIC) or (pot.has(K.NITRATE) and pot.concentrated_acid)
    if not nitric:
        return
    strength = pot.situation.acid_strength_w_w
    if pot.situation.oxidant_strength_w_w is not None and K.NITRIC in kinds_in(pot.situation.oxidant):
        strength = pot.situation.oxidant_strength_w_w
    organic = (pot.kinds | pot.quench) & {K.ORGANIC, K.FLAMMABLE}
    acetic = pot.has(K.CARBOXYLIC) and (strength is None or strength > 0.3)
    very_dilute = strength is not None and strength <= DILUTE_NITRIC_W_W
    if (organic and not very_dilute) or acetic:
        yield stop("G06")


@entered("G07")
def manganese_heptoxide(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.PERMANGANATE, K.MANGANATE) or not pot.has(K.SULFURIC):
        return
    s = pot.situation
    if pot.concentrated_acid:
        yield stop("G07")
    elif s.acid_undiluted is not False and s.acid_strength_w_w is not None:
        # From the bottle, half strength is already hot and strong; unsaid, it is the dehydrating strength.
        least = STRONG_W_W if s.acid_undiluted else CONCENTRATED_W_W
        if s.acid_strength_w_w >= least:
            yield caution("G07")


@entered("G08")
def nitrogen_trichloride(pot: Pot) -> Iterator[Hit]:
    nitrogenous = pot.anywhere & _NITROGENOUS
    electrolysis = K.ANODE in pot.kinds and pot.has(K.CHLORIDE)
    source = pot.kinds & ACTIVE_CHLORINE or (pot.target & ACTIVE_CHLORINE)
    if not nitrogenous or not (source or electrolysis):
        return
    traces = pot.dilute and not (pot.feed | pot.quench) & _NITROGENOUS
    yield caution("G08") if traces else stop("G08", ", ".join(sorted(nitrogenous)))


@entered("G09")
def nitrogen_triiodide(pot: Pot) -> Iterator[Hit]:
    halogen = pot.makes_bromine or pot.makes_iodine or pot.quench & {K.BROMINE, K.IODINE}
    if not halogen:
        return
    if pot.free_ammonia:
        yield stop("G09")
        return
    if not pot.anywhere & {K.AMMONIUM, K.AMMONIA}:
        return
    # Free ammonia is what matters: ammonium holds its proton until pH 7, and bromine, which takes
    # even the little that is free, is given a wider berth.
    limit = 4.0 if pot.makes_bromine else 7.0
    if pot.quench & {K.BASE}:
        yield stop("G09", "base sets ammonia free beside the halogen")
    elif pot.ph_range is None:
        yield unreviewed("G09")
    elif pot.ph_range[1] >= limit:
        yield stop("G09", f"pH up to {pot.ph_range[1]:g}")
    else:
        yield caution("G09")


@entered("G10")
def bromine_and_solvent(pot: Pot) -> Iterator[Hit]:
    solvents = {K.ACETONE, K.KETONE, K.ALCOHOL, K.ALDEHYDE}
    bromine = pot.has(K.BROMINE) or K.BROMINE in pot.target or (pot.feed & {K.BROMIDE} and pot.makes_bromine)
    if bromine and pot.anywhere & solvents:
        yield stop("G10")
    elif pot.kinds & solvents and (pot.has(K.BROMATE) or pot.has(K.BROMIDE)) and pot.oxidants:
        yield caution("G10")


@entered("G11")
def base_only(pot: Pot) -> Iterator[Hit]:
    reductants = {K.SULFITE, K.THIOSULFATE, K.OXALATE, K.NITRITE}
    alkali = {K.BASE, K.CARBONATE}
    halogen = pot.makes_bromine or pot.has(K.IODINE) or K.IODINE in pot.target
    # Alkali that a pot of acid takes up (percarbonate into acid) neutralises no halogen.
    lasting = pot.has(K.BASE) and pot.base_possible and not pot.has(K.CYANIDE, K.SULFIDE)
    base = pot.quench & alkali or lasting
    if halogen and base and not pot.anywhere & reductants:
        yield caution("G11")


@entered("G15")
def hypochlorite_and_peroxide(pot: Pot) -> Iterator[Hit]:
    if pot.active_chlorine and pot.has(K.PEROXIDE):
        yield caution("G15")


@entered("G16")
def strong_peroxide(pot: Pot) -> Iterator[Hit]:
    bottle = kinds_in(pot.situation.oxidant | pot.situation.active)
    if not pot.has(K.PEROXIDE) or pot.situation.oxidant_form == "solid":
        return
    strength = pot.situation.oxidant_strength_w_w
    if bottle and K.PEROXIDE not in bottle:
        return
    if strength is None:
        if K.PEROXIDE not in pot.feed:
            yield caution("G16")
    elif strength > PEROXIDE_W_W + 1e-9:
        yield stop("G16", f"{strength:.0%} w/w")


@entered("G20")
def closed_vessel(pot: Pot) -> Iterator[Hit]:
    acid_on_carbonate = pot.has(K.CARBONATE) and pot.any_acid_species
    if pot.closed and (pot.oxidants or acid_on_carbonate):
        yield stop("G20", ", ".join(sorted(pot.oxidants)) or "carbon dioxide from carbonate")


@entered("G22")
def persulfate_at_once(pot: Pot) -> Iterator[Hit]:
    hot = pot.hotter_than(40)
    if pot.has(K.PERSULFATE) and pot.situation.all_at_once and hot is not False:
        yield caution("G22")


@entered("G27")
def oxygen_through_solvent(pot: Pot) -> Iterator[Hit]:
    if pot.oxidants & {K.OXYGEN, K.OZONE} and pot.has(K.FLAMMABLE, K.ALCOHOL, K.KETONE):
        yield caution("G27")


@entered("G28")
def isocyanurate(pot: Pot) -> Iterator[Hit]:
    if not pot.has(K.ISOCYANURATE):
        return
    damp = _words.damp(pot.words)
    calcium = K.CALCIUM_HYPOCHLORITE in pot.anywhere
    if calcium or damp:
        yield stop("G28", "calcium hypochlorite" if calcium else "damp")


@entered("G29", "G35")
def peracids(pot: Pot) -> Iterator[Hit]:
    ready = pot.has(K.PERACID)
    forming = pot.has(K.PEROXIDE) and pot.has(K.CARBOXYLIC)
    if not (ready or forming):
        return
    s = pot.situation
    strong = K.PERACID in kinds_in(s.oxidant) and (s.oxidant_strength_w_w or 0) > PERACID_W_W
    if pot.distilled:
        yield stop("G29", "distilled or concentrated")
    elif strong:
        yield stop("G29", f"{s.oxidant_strength_w_w:.0%} w/w")
    elif (ready and pot.hotter_than(PERACID_WARM_C)) or (forming and pot.hotter_than(PERACID_WARM_C + 20)):
        yield stop("G29", f"at {s.temperature_C:g} C")
    elif not pot.dilute:
        yield caution("G35")


@entered("G36", "G66")
def haloform(pot: Pot) -> Iterator[Hit]:
    """Two dangers: chloroform from what holds or becomes CH3CO, unstable hypochlorites from the rest."""
    if not pot.active_chlorine or not pot.anywhere & {K.ALCOHOL, K.KETONE, K.HALOFORM}:
        return
    rule = "G36" if pot.anywhere & {K.HALOFORM} else "G66"
    # Hypochlorite brings its own alkali: a pot that no acid holds below pH 7 counts as alkaline.
    alkaline = pot.ph >= 7 if pot.ph is not None else not pot.any_acid_species
    alkaline |= _before_the_acid(pot)
    benzylic = pot.has(K.BENZYL_ALCOHOL) and not pot.has(K.HALOFORM, K.CYCLOHEXANOL, K.UNLISTED_ORGANIC)
    quenched = bool(pot.quench & {K.ALCOHOL, K.KETONE})
    if (alkaline and not benzylic) or quenched:
        yield stop(rule)
    else:
        yield caution(rule)


def _before_the_acid(pot: Pot) -> bool:
    """Whether the declared order lets active chlorine meet the alcohol or ketone before any acid."""
    chlorine = organic = acid = None
    for place, species in enumerate(pot.situation.addition or ()):
        kinds = kinds_of(species)
        if chlorine is None and kinds & ACTIVE_CHLORINE:
            chlorine = place
        elif organic is None and kinds & {K.ALCOHOL, K.KETONE, K.HALOFORM}:
            organic = place
        elif acid is None and kinds & {K.STRONG_ACID, K.WEAK_ACID}:
            acid = place
    if chlorine is None or organic is None:
        return False
    return acid is not None and acid > max(chlorine, organic)


def _alkali_peroxide(pot: Pot) -> bool:
    """Whether sodium peroxide or its like is in the pot; percarbonate is none of them."""
    return any(
        {K.PEROXIDE, K.BASE} <= kinds and K.CARBONATE not in kinds
        for kinds in map(kinds_of, pot.situation.pot)
    )


@entered("G69")
def water_reactive_metal(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.WATER_REACTIVE):
        yield stop("G69")


@entered("G40")
def organic_and_strong_oxidant(pot: Pot) -> Iterator[Hit]:
    acid = pot.has(K.CARBOXYLIC, K.OXALATE) and (pot.has(K.CHLORATE) or _alkali_peroxide(pot))
    organic = pot.has(K.ORGANIC) or acid
    if not organic:
        return
    s = pot.situation
    if pot.has(K.CHLORATE, K.PERCHLORATE) or _alkali_peroxide(pot):
        yield stop("G40")
        return
    strong = pot.has(K.PERMANGANATE, K.MANGANATE, K.CHROMIUM6, K.BROMATE)
    pool_salt = pot.has(K.CALCIUM_HYPOCHLORITE, K.ISOCYANURATE) and pot.has(K.UNLISTED_ORGANIC)
    if not (strong or pool_salt):
        return
    if (
        pool_salt
        and s.oxidant_form is None
        and not (s.concentration_mol_L is not None and s.concentration_mol_L <= POOL_DILUTE_MOL_L)
    ):
        # These are bought as solids: only a declared solution is one.
        yield stop("G40", "pool chlorine, not said to be dissolved")
        return
    neat = s.concentration_mol_L is not None and s.concentration_mol_L > NEAT_MOL_L
    solid = s.oxidant_form == "solid"
    unlisted = pot.has(K.UNLISTED_ORGANIC)
    diluted = s.concentration_mol_L is not None and s.concentration_mol_L <= 0.1
    # The house lets permanganate meet no organic matter outside the reviewed list, save traces in water.
    outside = unlisted and pot.has(K.PERMANGANATE, K.MANGANATE) and not pot.dilute
    if (solid and neat) or (unlisted and (neat or (solid and not diluted))) or pot.concentrated_acid:
        yield stop("G40", "neat" if neat else "solid oxidant" if solid else "concentrated acid")
    elif outside:
        yield stop("G40", "organic matter outside the reviewed list")
    elif strong:
        yield caution("G40")


@entered("G41")
def hydrazine_and_azide(pot: Pot) -> Iterator[Hit]:
    acid = pot.mineral_acid or pot.any_acid_species or (pot.ph is not None and pot.ph < 8)
    acid = acid or bool(pot.quench & {K.STRONG_ACID, K.WEAK_ACID, K.HARD_ACID})
    metal = bool(pot.anywhere & {K.HEAVY_METAL, K.TRANSITION})
    # A quench meets what is left of the oxidant, and the acid of the pot too.
    if K.HYDRAZINE in pot.anywhere and pot.oxidants:
        yield stop("G41", "hydrazine or hydroxylamine")
    if K.AZIDE in pot.anywhere and (pot.oxidants or acid or metal):
        yield stop("G41", "azide")


@entered("G44")
def ammonium_explosives(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.AMMONIUM, K.AMMONIA) and pot.kinds & _DRY_EXPLOSIVES and not pot.dilute:
        yield stop("G44")


@entered("G63")
def ammonium_oxidants(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.AMMONIUM) and pot.has(K.PERMANGANATE, K.DICHROMATE, K.PERSULFATE):
        yield caution("G63")


@entered("G45")
def powders(pot: Pot) -> Iterator[Hit]:
    form = pot.situation.oxidant_form
    fuel = pot.kinds & {K.REACTIVE_METAL, K.SULFUR, K.PHOSPHORUS, K.CARBON}
    poisons = pot.kinds & {K.CYANIDE, K.COMPLEX_CYANIDE, K.THIOCYANATE, K.SULFIDE}
    chlorates = pot.kinds & _DRY_EXPLOSIVES
    # Nobody says that there is water, acid or alkali: what is bought as a powder counts as one.
    dry = form in (None, "solid") and pot.ph is None and not pot.has(K.STRONG_ACID, K.WEAK_ACID, K.BASE)
    solid = (form == "solid" or dry) and pot.has(K.PERMANGANATE, K.PERSULFATE, K.CHLORITE)
    powder = dry and pot.has(K.NITRATE, K.NITRITE, K.IODATE, K.PERIODATE)
    halogen = pot.has(K.BROMINE) or (dry and pot.has(K.IODINE))
    alkali_peroxide = _alkali_peroxide(pot) and form != "solution"
    dry_metal = pot.has(K.METAL) and pot.kinds & {K.CHLORATE, K.PERCHLORATE}
    if fuel and (chlorates or solid or powder or alkali_peroxide):
        yield stop("G45", ", ".join(sorted(fuel)))
    elif dry_metal or (halogen and pot.has(K.REACTIVE_METAL)):
        yield stop("G45", "metal")
    elif poisons and dry and (chlorates or powder):
        yield stop("G45", ", ".join(sorted(poisons)))


@entered("G46")
def fulminating_metals(pot: Pot) -> Iterator[Hit]:
    everywhere = pot.anywhere | (pot.target & {K.SILVER, K.GOLD, K.MERCURY})
    if everywhere & {K.SILVER, K.MERCURY} and everywhere & {K.OXALATE, K.ACETYLIDE}:
        yield stop("G46")
        return
    if K.MERCURY in everywhere and pot.free_ammonia and K.IODIDE not in everywhere:
        yield stop("G46", "mercury")
        return
    if not everywhere & {K.SILVER, K.GOLD}:
        return
    alkali = K.BASE in everywhere or (pot.ph is not None and pot.ph >= FULMINATING_PH)
    if K.AMMONIA not in everywhere:
        if K.AMMONIUM in everywhere and alkali:
            yield stop("G46", "a base sets ammonia free")
        return
    # In acid the ammonia is ammonium, and the nitride has nothing to form from.
    acid = (
        pot.ph_range is not None and pot.ph_range[1] < 7 and not pot.quench & {K.BASE, K.CARBONATE, K.AMMONIA}
    )
    fresh = not alkali and not _words.aged(pot.words) and K.GOLD not in everywhere
    yield caution("G46") if acid or fresh else stop("G46")


@entered("G48")
def peroxide_and_metal_ions(pot: Pot) -> Iterator[Hit]:
    catalyst = pot.has(K.TRANSITION, K.COPPER, K.MANGANESE_DIOXIDE, K.SILVER)
    strength = pot.situation.oxidant_strength_w_w
    strong = strength is None or strength > 0.08
    if pot.has(K.PEROXIDE) and catalyst and strong and not pot.dilute:
        yield caution("G48")


@entered("G49")
def warm_persulfate(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.PERSULFATE) and pot.kinds & _NITROGENOUS and pot.hotter_than(40) is not False:
        yield caution("G49")


@entered("G53")
def piranha(pot: Pot) -> Iterator[Hit]:
    if not (pot.concentrated_acid and pot.has(K.SULFURIC) and pot.has(K.PEROXIDE, K.PEROXYMONOSULFATE)):
        return
    organic = pot.anywhere & {K.ORGANIC, K.CARBOXYLIC}
    yield stop("G53") if organic else caution("G53")


@entered("G54")
def chlorite_on_organic(pot: Pot) -> Iterator[Hit]:
    fuel = pot.kinds & {K.ORGANIC, K.SULFUR, K.SULFIDE, K.CARBON, K.PHOSPHORUS}
    if not pot.has(K.CHLORITE) or not fuel:
        return
    dry = pot.situation.oxidant_form == "solid" and (pot.ph is None or bool(fuel - {K.ORGANIC, K.SULFIDE}))
    yield stop("G54") if dry else caution("G54")


@entered("G61")
def unstable_material(pot: Pot) -> Iterator[Hit]:
    if pot.anywhere & {K.ENERGETIC, K.FULMINATE, K.FLUORINE, K.ACETYLIDE}:
        yield stop("G61")


@entered("G62")
def perchloric(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.PERCHLORIC):
        yield caution("G62")
