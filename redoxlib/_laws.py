"""Rate laws of the table, read as numbers: constant at a pH, order in the reductant, integrated time.

Verbs: laws_for, time_to.  A law is rate = k [oxidant] [reductant]^n with H+ and OH- taken from the pH; laws
with other species in them are left to the verdicts in words.

May import: data, notation, errors.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from redoxlib.data import RateRow, Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Phase, Species

__all__ = ["Law", "laws_for", "time_to"]

_FACTOR = re.compile(r"\[([^\]]+)\](?:\^([0-9]))?")
_PROTON, _HYDROXIDE = Species.parse("H^+"), Species.parse("OH^-")
_STEPS = 64  # of the integration by Simpson's rule; even


@dataclass(frozen=True, slots=True)
class Law:
    """One term of a rate at a pH.

    Attributes
    ----------
    constant : float
        k with the powers of H+ and OH- in it [M^-order s^-1].
    order : int
        In the reductant; the oxidant's is 1.
    relative : float or None
        Uncertainty of the constant as a share of it; None for a bound.
    direction : str
        "exact", "lower" (the rate is at least this) or "upper".
    source : str
    """

    constant: float
    order: int
    relative: float | None
    direction: str
    source: str


@cache
def _parsed(text: str) -> Species | None:
    try:
        return Species.parse(text).with_phase(Phase.UNSTATED)
    except RedoxlibError:
        return None


def laws_for(actives: Iterable[Species], reductant: Species, ph: float, tables: Tables) -> tuple[Law, ...]:
    """Laws of the oxidant's active species on a reductant at a pH; species without their phases."""
    wanted = frozenset(actives)
    found = []
    for row in tables.rates:
        if not (row.ph_min is None or row.ph_min <= ph) or not (row.ph_max is None or ph <= row.ph_max):
            continue
        if _parsed(row.oxidant_species) in wanted and _parsed(row.reductant_species) == reductant:
            law = _law(row, ph)
            if law is not None:
                found.append(law)
    return tuple(found)


def _law(row: RateRow, ph: float) -> Law | None:
    if "s^-1" not in row.unit or "p(" in row.rate_law:
        return None
    value, oxidant, reductant = row.value, _parsed(row.oxidant_species), _parsed(row.reductant_species)
    seen, order = False, 0
    for text, power in _FACTOR.findall(row.rate_law):
        species, n = _parsed(text), int(power or 1)
        if species == oxidant and n == 1:
            seen = True
        elif species == reductant:
            order = n
        elif species == _PROTON:
            value *= 10.0 ** (-ph * n)
        elif species == _HYDROXIDE:
            value *= 10.0 ** ((ph - 14) * n)
        else:
            return None
    if not seen or not order:
        return None
    relative = None if row.uncertainty is None else row.uncertainty / row.value
    return Law(value, order, relative, row.direction, row.source)


def time_to(
    laws: Sequence[Law], strength: float, excess: float, conversion: float = 0.5
) -> tuple[float, float | None] | None:
    """Time until a share of the reductant is gone, and its relative uncertainty.

    Parameters
    ----------
    laws : sequence of Law
        Parallel terms; they add up.
    strength : float [mol/L]
        Of the reductant at the start.
    excess : float [1]
        Oxidant charged at the start beyond the stoichiometric amount, as a share of that.
    conversion : float [1]
        Below 1.

    Returns
    -------
    (seconds, relative uncertainty) or None
        None when nothing reacts.  The uncertainty is None when a constant has none.

    Notes
    -----
    With y the share converted, r the strength and x the excess, dy/dt = sum k r^n (1 + x - y) (1 - y)^n:
    each mole of oxidant takes its stoichiometric share of the reductant with it.  For one second-order
    term and no excess the half-life is 1/(k r), 1.44 times that with the reductant held constant.

    References
    ----------
    .. [1] Espenson, Chemical Kinetics and Reaction Mechanisms, 2nd ed., McGraw-Hill 1995, ch. 2.
    """
    pseudo = [law.constant * strength**law.order for law in laws]
    if not any(p > 0 for p in pseudo) or not 0 < conversion < 1:
        return None

    def slowness(y: float) -> float:
        rate = sum(p * (1 - y) ** law.order for p, law in zip(pseudo, laws, strict=True))
        return 1.0 / (rate * (1 + excess - y))

    h = conversion / _STEPS
    inner = sum((4 if i % 2 else 2) * slowness(i * h) for i in range(1, _STEPS))
    seconds = h / 3 * (slowness(0.0) + inner + slowness(conversion))
    parts = [None if law.relative is None else law.relative * p for law, p in zip(laws, pseudo, strict=True)]
    known = [p for p in parts if p is not None]
    if len(known) < len(parts):
        return seconds, None
    return seconds, sum(p**2 for p in known) ** 0.5 / sum(pseudo)
