"""One way to read a text, and how unlikely it is.

May import: this package.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from redoxlib.notation._formula import composition
from redoxlib.notation._known import common, known, plausible
from redoxlib.notation._species import Atoms
from redoxlib.notation._write import charge_text

__all__ = [
    "IMPLAUSIBLE",
    "KNOWN",
    "PLAUSIBLE",
    "RADICAL",
    "UNKNOWN_NEUTRAL",
    "Reading",
    "reading_of",
    "weight_of",
]

KNOWN, RADICAL, PLAUSIBLE, UNKNOWN_NEUTRAL, IMPLAUSIBLE = 0.0, 0.6, 2.0, 2.5, 6.0


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read the text, with its weight: the lower, the likelier."""

    body: str
    atoms: Atoms
    charge: int
    weight: float
    why: str = ""  # why this reading departs from the letter; empty when it does not
    told: bool = True  # whether a departure must be told

    @property
    def text(self) -> str:
        return self.body + ("^" + charge_text(self.charge) if self.charge else "")

    @property
    def identity(self) -> tuple[Atoms, int]:
        return self.atoms, self.charge


def weight_of(atoms: Atoms, charge: int) -> float:
    """Return how unlikely a composition with a charge is."""
    if common(atoms, charge):
        return KNOWN
    charges = known().get(atoms)
    if charges is not None and charge in charges:
        return RADICAL
    if charge == 0:
        return UNKNOWN_NEUTRAL
    return PLAUSIBLE + 0.1 * abs(charge) if plausible(atoms, charge) else IMPLAUSIBLE + 0.1 * abs(charge)


def reading_of(
    body: str, charge: int, extra: float = 0.0, why: str = "", *, told: bool = True
) -> Reading | None:
    """Weigh a body with a charge; ``None`` when the body is no plain formula."""
    counts = composition(body)
    if counts is None:
        return None
    atoms = tuple(sorted(counts.items()))
    weight = weight_of(atoms, charge) + extra
    digits = re.search(r"[0-9]+$", body)
    if digits and len(digits.group()) > 1 and weight >= PLAUSIBLE:
        weight += 1.5
    return Reading(body, atoms, charge, weight, why, told)
