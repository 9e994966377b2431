"""Rules about scale, order, water for drinking, regulated reagents and other circumstances."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from redoxlib.safety._hits import Hit, caution, entered, stop
from redoxlib.safety._kinds import Kind
from redoxlib.safety._pot import CONCENTRATED_W_W, Pot, kinds_in

K = Kind
CHLORITE_LIMIT_MG_L = 1.0
CHLORITE_YIELD = 0.7
"""Part of a chlorine dioxide dose that ends as chlorite (50 to 70 %; the high end is used)."""
CHLORINE_DIOXIDE_G_PER_MOL = 67.45
CHLORINE_DIOXIDE_PER_MANGANESE = 2
DOSING_LIMIT_S = 3600.0
"""Without a declared dosing time the batch heat must leave within one hour of dosing."""
AT_ONCE_S = 600.0
"""A charge all at once releases its heat within the ten minutes that count as fast."""
UNKNOWN_HEAT_KJ_PER_MOL = 200.0
"""Taken when no heat is declared: most reviewed oxidations release less per mol of feed."""
LARGE_KJ = 500.0
"""Without declared cooling: 140 W for an hour, about what a stirred open pot in a water bath gives off."""


@entered("G18")
def carcinogens_in_drinking_water(pot: Pot) -> Iterator[Hit]:
    if not pot.potable:
        return
    if pot.has(K.BROMATE, K.CHROMIUM6):
        yield stop("G18")
    elif pot.has(K.OZONE) and pot.has(K.BROMIDE):
        yield caution("G18")


@entered("G19")
def chlorite_in_drinking_water(pot: Pot) -> Iterator[Hit]:
    s = pot.situation
    if not pot.potable or not pot.has(K.CHLORINE_DIOXIDE, K.CHLORITE):
        return
    share = CHLORITE_YIELD if pot.has(K.CHLORINE_DIOXIDE) else 1.0
    dose = s.dose_mg_L
    if (
        dose is None
        and pot.has(K.CHLORINE_DIOXIDE)
        and K.MANGANESE2 in pot.feed
        and s.concentration_mol_L is not None
    ):
        dose = s.concentration_mol_L * CHLORINE_DIOXIDE_PER_MANGANESE * CHLORINE_DIOXIDE_G_PER_MOL * 1000
    if dose is not None and dose * share > CHLORITE_LIMIT_MG_L + 0.01:
        yield stop("G19", f"{dose:.3g} mg/L")
    else:
        yield caution("G19")


@entered("G26")
def chromium(pot: Pot) -> Iterator[Hit]:
    if pot.has(K.CHROMIUM6) or K.CHROMIUM6 in pot.target:
        yield caution("G26")


@entered("G30")
def halogen_is_set_free(pot: Pot) -> Iterator[Hit]:
    warm_iodine = pot.makes_iodine and pot.hotter_than(40) is True
    if pot.makes_bromine or warm_iodine:
        yield caution("G30")


@entered("G47")
def heat_and_cooling(pot: Pot) -> Iterator[Hit]:
    s = pot.situation
    if s.amount_mol is None or not pot.oxidants:
        return
    per_mol = UNKNOWN_HEAT_KJ_PER_MOL if s.heat_kJ_per_mol is None else s.heat_kJ_per_mol
    heat_j = s.amount_mol * per_mol * 1000
    assumed = " (heat assumed)" if s.heat_kJ_per_mol is None else ""
    if s.cooling_W is None:
        if heat_j > LARGE_KJ * 1000 and not pot.dilute and s.purpose != "remove":
            yield caution("G47", f"{heat_j / 1000:.0f} kJ{assumed} and no cooling declared")
        return
    if s.all_at_once:
        seconds = AT_ONCE_S
    elif s.dosing_min is not None:
        seconds = s.dosing_min * 60
    else:
        seconds = DOSING_LIMIT_S
    amount = f"{heat_j / 1000:.0f}" if heat_j >= 1e5 else f"{heat_j / 1000:.3g}"
    detail = f"{amount} kJ{assumed} against {s.cooling_W:g} W over {seconds / 60:.3g} min"
    if heat_j > s.cooling_W * seconds:
        passes = floor(1000 * s.cooling_W * seconds / heat_j) / 10
        yield stop("G47", f"{detail}; at most {passes:g} % of this batch passes")
    elif heat_j > 0.5 * s.cooling_W * seconds:
        yield caution("G47", detail)


@entered("G50")
def water_onto_acid(pot: Pot) -> Iterator[Hit]:
    s = pot.situation
    if not s.addition or not (s.acid_undiluted or (s.acid_strength_w_w or 0) >= CONCENTRATED_W_W):
        return
    acid: int | None = None
    for place, species in enumerate(s.addition):
        kinds = kinds_in([species])
        if acid is None and K.SULFURIC in kinds:
            acid = place
        is_water = dict(species.elements) == {"H": 2, "O": 1} and not species.charge
        if is_water and acid is not None and place > acid:
            yield caution("G50")
            return


@entered("G55")
def hydrogen_gas(pot: Pot) -> Iterator[Hit]:
    metal_in_acid = pot.has(K.REACTIVE_METAL) and pot.mineral_acid
    if K.ANODE in pot.kinds:
        yield caution("G55", "at the cathode")
    elif metal_in_acid:
        yield caution("G55", "from the metal in acid")
