"""What a plan is written in: entries with a key, steps with a reason, streams of waste.

May import: quantity, notation and below.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from redoxlib.quantity import Quantity, Unknown

__all__ = ["Book", "Entry", "Step", "Stream"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One number of a plan: value, formula in words, the keys it was made from, and sources.

    ``spread`` names what its uncertainty comes from, with the share of the variance, largest first.
    """

    key: str
    value: Quantity | Unknown
    what: str
    formula: str
    inputs: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    spread: tuple[tuple[str, float], ...] = ()

    def __str__(self) -> str:
        return f"{self.what}: {self.value}"


@dataclass(frozen=True, slots=True)
class Step:
    """One step, test or rule, with its reason."""

    text: str
    reason: str


@dataclass(frozen=True, slots=True)
class Stream:
    """One stream of waste.

    Attributes
    ----------
    grams : Quantity or Unknown
        Mass of it [g].
    hazards : tuple of str
        H-statements of what is in it, as the tables have them.
    not_with : tuple of str
        What must never go into the same vessel.
    treatment : str
        What has to be done before it may be handed on.
    """

    name: str
    holds: str
    grams: Quantity | Unknown
    hazards: tuple[str, ...]
    not_with: tuple[str, ...]
    treatment: str


class Book:
    """Collects the entries of one plan in order.

    ``shifts`` moves entries away from their value as they are written, so that what is computed from them
    afterwards moves along: that is how uncertainty is carried.
    """

    def __init__(self, shifts: Mapping[str, float] | None = None) -> None:
        self.entries: dict[str, Entry] = {}
        self.shifts = shifts or {}

    def put(
        self,
        key: str,
        value: Quantity | Unknown | float,
        unit: str,
        what: str,
        formula: str,
        inputs: tuple[str, ...] = (),
        sources: tuple[str, ...] = (),
    ) -> None:
        """Write one number down; a plain float gets its unit here."""
        if isinstance(value, (int, float)):
            value = Quantity(float(value), unit, None, sources)
        if key in self.shifts and isinstance(value, Quantity):
            value = replace(value, value=value.value + self.shifts[key])
        known = sources or (value.sources if isinstance(value, Quantity) else ())
        self.entries[key] = Entry(key, value, what, formula, inputs, tuple(dict.fromkeys(known)))

    def number(self, key: str) -> float | None:
        """The value under a key; None where it is missing or unknown."""
        entry = self.entries.get(key)
        return entry.value.value if entry is not None and isinstance(entry.value, Quantity) else None

    def value(self, key: str) -> Quantity | Unknown:
        """What stands under a key, number or gap."""
        entry = self.entries.get(key)
        return entry.value if entry is not None else Unknown(key, ("plan",))

    def unknown(self, *keys: str) -> Unknown | None:
        """The first of several entries that is unknown, so that what depends on it can say why."""
        for key in keys:
            entry = self.entries.get(key)
            if entry is not None and isinstance(entry.value, Unknown):
                return entry.value
            if entry is None:
                return Unknown(key, ("plan",))
        return None
