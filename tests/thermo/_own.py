"""Rows of one's own that several tests of thermochemistry share."""

from __future__ import annotations

from redoxlib.data import Tables, shipped

NOTEBOOK = {"key": "mine", "citation": "A notebook of measurements", "kind": "practice"}


def americium(*, coefficient_uncertainty: float) -> Tables:
    """The shipped tables with a couple of which no entropy is known, 2.60 V and 1.5 mV/K."""
    rows = (("E0", 2.6, "V", 0.01), ("dEdT", 1.5, "mV/K", coefficient_uncertainty))
    return shipped().with_rows(
        sources=[NOTEBOOK],
        couples=[
            {
                "couple": "Am4+/Am3+",
                "half_reaction": "Am^4+(aq) + e^- -> Am^3+(aq)",
                "medium": "acid",
                "quantity": quantity,
                "value": value,
                "unit": unit,
                "uncertainty": uncertainty,
                "basis": "published",
                "source": "mine",
            }
            for quantity, value, unit, uncertainty in rows
        ],
    )
