"""Numbers with units.  Quantity, Unknown; parse_amount, parse_strength, significant; R and FARADAY.

A unit here is text with a meaning: ``kJ/mol``, ``g/mL``, ``% w/w``, ``g/L Cl2``.  Two units go together
when they measure the same thing, tag included: grams of chlorine per litre are not grams of anything per
litre, and a mass percentage is not a trade percentage.  What a strength means for one solute (densities,
molar masses) is the business of ``bottles``; this part knows no chemistry.

May import: errors.
"""

from __future__ import annotations

from redoxlib.quantity._constants import (
    FARADAY,
    MOLAR_GAS_VOLUME,
    STANDARD_PRESSURE,
    STANDARD_TEMPERATURE,
    R,
)
from redoxlib.quantity._text import parse_amount, parse_strength
from redoxlib.quantity._value import Quantity, Unknown
from redoxlib.quantity._write import significant

__all__ = [
    "FARADAY",
    "MOLAR_GAS_VOLUME",
    "STANDARD_PRESSURE",
    "STANDARD_TEMPERATURE",
    "Quantity",
    "R",
    "Unknown",
    "parse_amount",
    "parse_strength",
    "significant",
]
