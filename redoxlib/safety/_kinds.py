"""The vocabulary of the rules: one kind for each property of a species that some rule asks about.

May import: nothing of redoxlib.
"""

from __future__ import annotations

from enum import StrEnum

__all__ = ["ACTIVE_CHLORINE", "FEEDS", "OXIDANTS", "Kind"]


class Kind(StrEnum):
    """One property of a species that some rule asks about."""

    UNKNOWN = "unclassified species"
    INERT = "spectator"
    # acids and bases
    STRONG_ACID = "strong acid"
    WEAK_ACID = "weak acid"
    HARD_ACID = "strongly hydrolysing metal salt"
    SOFT_ACID = "oxidant that brings acid"
    BASE = "base"
    CARBONATE = "carbonate"
    SULFURIC = "sulfuric acid"
    HYDROCHLORIC = "hydrochloric acid"
    NITRIC = "nitric acid"
    PERCHLORIC = "perchloric acid"
    # ions that are oxidised, or that poison the pot
    CHLORIDE = "chloride"
    BROMIDE = "bromide"
    IODIDE = "iodide"
    CYANIDE = "cyanide"
    COMPLEX_CYANIDE = "metal-cyanide complex"
    THIOCYANATE = "thiocyanate"
    CYANATE = "cyanate"
    SULFIDE = "sulfide"
    SULFITE = "sulfite"
    THIOSULFATE = "thiosulfate"
    NITRITE = "nitrite"
    NITRATE = "nitrate"
    ARSENITE = "arsenic(III)"
    OXALATE = "oxalate"
    IRON2 = "iron(II)"
    MANGANESE2 = "manganese(II)"
    TIN2 = "tin(II)"
    CHROMIUM3 = "chromium(III)"
    CERIUM3 = "cerium(III)"
    AMMONIUM = "ammonium"
    AMMONIA = "ammonia"
    AMINE = "amine, amide or urea"
    HYDRAZINE = "hydrazine"
    AZIDE = "azide"
    FULMINATE = "fulminate"
    HYDRIDE = "hydride"
    ACETYLIDE = "acetylide"
    SILVER = "silver"
    GOLD = "gold"
    MERCURY = "mercury"
    HEAVY_METAL = "heavy-metal salt"
    TRANSITION = "transition-metal salt"
    # elements
    METAL = "metal"
    COPPER = "copper metal"
    REACTIVE_METAL = "aluminium, magnesium, zinc, titanium or alkali metal"
    WATER_REACTIVE = "metal that burns or gives hydrogen in water"
    SULFUR = "sulfur"
    PHOSPHORUS = "phosphorus"
    CARBON = "carbon"
    HYDROGEN = "hydrogen"
    # oxidants
    PEROXIDE = "hydrogen peroxide"
    PERMANGANATE = "permanganate"
    MANGANATE = "manganate"
    HYPOCHLORITE = "hypochlorite"
    CALCIUM_HYPOCHLORITE = "calcium hypochlorite"
    CHLORINE = "chlorine"
    ISOCYANURATE = "chlorinated isocyanurate"
    CHLORAMINE = "chloramine"
    BROMINE = "bromine"
    IODINE = "iodine"
    PERSULFATE = "peroxodisulfate"
    PEROXYMONOSULFATE = "peroxymonosulfate"
    CHROMIUM6 = "chromium(VI)"
    DICHROMATE = "dichromate"
    BROMATE = "bromate"
    IODATE = "iodate"
    PERIODATE = "periodate"
    CHLORITE = "chlorite"
    CHLORATE = "chlorate"
    PERCHLORATE = "perchlorate"
    CHLORINE_DIOXIDE = "chlorine dioxide"
    OZONE = "ozone"
    OXYGEN = "oxygen"
    MANGANESE_DIOXIDE = "manganese dioxide"
    LEAD_DIOXIDE = "lead dioxide"
    CERIUM4 = "cerium(IV)"
    IRON3 = "iron(III)"
    COPPER2 = "copper(II)"
    FERRATE = "ferrate"
    PERACID = "organic peracid"
    FLUORINE = "fluorine"
    ANODE = "anode"
    # organic matter
    ORGANIC = "organic matter"
    UNLISTED_ORGANIC = "organic matter outside the reviewed list"
    FLAMMABLE = "flammable liquid"
    ALCOHOL = "alcohol"
    SECONDARY_ALCOHOL = "secondary alcohol"
    HALOFORM = "methyl ketone, or alcohol that becomes one"
    KETONE = "ketone"
    ACETONE = "acetone, or alcohol that becomes it"
    ARYL_KETONE = "aryl ketone, or alcohol that becomes one"
    ALDEHYDE = "aldehyde"
    CARBOXYLIC = "carboxylic acid"
    PROPAN2OL = "propan-2-ol"
    CYCLOHEXANOL = "cyclohexanol"
    ETHANOL = "ethanol"
    BENZYL_ALCOHOL = "benzyl alcohol"
    PHENYLETHANOL = "1-phenylethanol"
    # what nobody should make
    TOXIC_GAS = "toxic gas"
    ENERGETIC = "energetic material"


K = Kind

ACTIVE_CHLORINE = frozenset({K.HYPOCHLORITE, K.CHLORINE, K.ISOCYANURATE, K.CHLORAMINE})
"""Oxidants that pass chlorine to nitrogen and to bromide."""

OXIDANTS = frozenset(
    {
        K.PEROXIDE, K.PERMANGANATE, K.MANGANATE, K.HYPOCHLORITE, K.CHLORINE, K.ISOCYANURATE, K.CHLORAMINE,
        K.BROMINE, K.IODINE, K.PERSULFATE, K.PEROXYMONOSULFATE, K.CHROMIUM6, K.BROMATE, K.IODATE,
        K.PERIODATE, K.CHLORITE, K.CHLORATE, K.PERCHLORATE, K.CHLORINE_DIOXIDE, K.OZONE, K.OXYGEN,
        K.NITRIC, K.MANGANESE_DIOXIDE, K.LEAD_DIOXIDE, K.CERIUM4, K.IRON3, K.FERRATE, K.PERACID,
        K.FLUORINE, K.ANODE, K.COPPER2,
    }
)  # fmt: skip

FEEDS = frozenset(
    {
        K.CHLORIDE, K.BROMIDE, K.IODIDE, K.CYANIDE, K.COMPLEX_CYANIDE, K.THIOCYANATE, K.SULFIDE, K.SULFITE,
        K.THIOSULFATE, K.NITRITE, K.ARSENITE, K.OXALATE, K.IRON2, K.MANGANESE2, K.TIN2, K.CHROMIUM3,
        K.CERIUM3, K.AMMONIUM, K.AMMONIA, K.AMINE, K.HYDRAZINE, K.AZIDE, K.HYDRIDE, K.METAL, K.COPPER,
        K.SULFUR, K.PHOSPHORUS, K.CARBON, K.HYDROGEN, K.ORGANIC, K.PROPAN2OL, K.CYCLOHEXANOL, K.ETHANOL,
        K.BENZYL_ALCOHOL, K.PHENYLETHANOL, K.UNLISTED_ORGANIC, K.PEROXIDE,
    }
)  # fmt: skip
