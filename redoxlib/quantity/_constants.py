"""Constants, exact since the 2019 revision of the SI (k, N_A and e are defined numbers)."""

from __future__ import annotations

from redoxlib.quantity._value import Quantity

R = Quantity(8.31446261815324, "J/(mol K)", 0.0, ("si2019",), "definition")
"""Molar gas constant, N_A k."""

FARADAY = Quantity(96485.33212331001, "C/mol", 0.0, ("si2019",), "definition")
"""Faraday constant, N_A e."""

STANDARD_TEMPERATURE = Quantity(298.15, "K", 0.0, ("greenbook2007",), "definition")
"""Temperature of the tables: 25 C."""

STANDARD_PRESSURE = Quantity(1.0, "bar", 0.0, ("greenbook2007",), "definition")
"""Standard-state pressure."""

MOLAR_GAS_VOLUME = Quantity(
    R.value * STANDARD_TEMPERATURE.value / 100.0, "L/mol", 0.0, ("si2019", "greenbook2007"), "definition"
)
"""Ideal-gas volume at 25 C and 1 bar, RT/p = 24.79 L/mol (at 1 atm it would be 24.47)."""
