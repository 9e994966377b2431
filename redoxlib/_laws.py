"""Rate laws of the table, read as numbers: constant at a pH, order in the reductant, integrated time.

Verbs: laws_for, time_to, at_one_temperature, measured_at, enolisation.  A law is rate = k [oxidant]
[reductant]^n with H+ and OH- taken from the pH; laws with other species in them are left to the verdicts in
words.  No constant is moved to another temperature: of one law measured at several the nearest to the job
counts, and the text says which.  A row whose first species is water, H+, OH- or a carboxylic acid or its
anion is no oxidation but the proton transfer that makes an enol.

May import: data, notation, errors.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from redoxlib.data import RateRow, Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Phase, Species

__all__ = ["FAR_K", "Law", "at_one_temperature", "enolisation", "laws_for", "measured_at", "time_to"]

_FACTOR = re.compile(r"\[([^\]]+)\](?:\^([0-9]))?")
_PROTON, _HYDROXIDE = Species.parse("H^+"), Species.parse("OH^-")
_CATALYSTS = frozenset(
    (_PROTON, _HYDROXIDE, *(Species.parse(t) for t in ("H2O", "CH3COOH", "CH3COO^-", "HCOOH", "HCOO^-")))
)
_STEPS = 64  # of the integration by Simpson's rule; even

FAR_K = 5.0
"""Beyond this difference from the job a constant is said not to be corrected, K; judged: with 50 kJ/mol of
activation it is a factor of 1.4."""

_ROOM_C = 25.0  # a row that states no temperature counts as this where rows are chosen between
_COUNTS = 0.01  # share of the rate from which a term's temperature is told


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
    temperature_c : float or None
        At which the constant was measured [C]; None where its source does not say.
    """

    constant: float
    order: int
    relative: float | None
    direction: str
    source: str
    temperature_c: float | None = 25.0


@cache
def _parsed(text: str) -> Species | None:
    try:
        return Species.parse(text).with_phase(Phase.UNSTATED)
    except RedoxlibError:
        return None


def laws_for(
    actives: Iterable[Species],
    reductant: Species,
    ph: float,
    tables: Tables,
    temperature_c: float = _ROOM_C,
) -> tuple[Law, ...]:
    """Laws of the oxidant's active species on a reductant at a pH; species without their phases.

    Where one law is listed at several temperatures, the row nearest to *temperature_c* [C] is taken.
    """
    wanted = frozenset(actives) - _CATALYSTS
    found = []
    for row in tables.rates:
        if not (row.ph_min is None or row.ph_min <= ph) or not (row.ph_max is None or ph <= row.ph_max):
            continue
        if _parsed(row.oxidant_species) in wanted and _parsed(row.reductant_species) == reductant:
            found.append(row)
    laws = (_law(row, ph) for row in at_one_temperature(found, temperature_c))
    return tuple(law for law in laws if law is not None)


def at_one_temperature(rows: Iterable[RateRow], temperature_c: float) -> tuple[RateRow, ...]:
    """One row of each law, the nearest to a temperature [C]: other temperatures of it are no terms of a sum.

    A row that states no temperature counts as 25 C; what is recalled does not push out what was read.
    """
    nearest: dict[tuple[object, ...], RateRow] = {}
    for row in rows:
        law = (row.oxidant_species, row.reductant_species, row.rate_law, row.direction)
        key = (*law, row.source == "memory")
        if key not in nearest or _off(row, temperature_c) < _off(nearest[key], temperature_c):
            nearest[key] = row
    return tuple(nearest.values())


def _off(row: RateRow, temperature_c: float) -> float:
    return abs((_ROOM_C if row.temperature_C is None else row.temperature_C) - temperature_c)


def measured_at(laws: Sequence[Law], strength: float, temperature_c: float) -> str:
    """At which temperature the constants of a half-life were measured, in words.

    Terms below a hundredth of the rate are not named.  A constant further than 5 K from the job is said to
    stand uncorrected.

    >>> a = Law(1.0, 1, None, "exact", "x", 20.0)
    >>> measured_at([a], 0.1, 25.0)
    'at 20 C and the declared strength'
    >>> measured_at([a, Law(2.0, 1, None, "exact", "y", 70.0)], 0.1, 60.0)
    'at the declared strength, constants of 20 and 70 C added up, not corrected to 60 C'
    """
    pace = [law.constant * strength**law.order for law in laws]
    told = {law.temperature_c for law, p in zip(laws, pace, strict=True) if p >= _COUNTS * sum(pace)}
    known = sorted(t for t in told if t is not None)
    far = any(abs(t - temperature_c) > FAR_K for t in known)
    last = f", not corrected to {temperature_c:g} C" if far else ""
    if not known:
        return "at the declared strength, the temperature not stated"
    named = [f"{t:g}" for t in known]
    if len(told) == 1:
        return f"at {named[0]} C and the declared strength{last}"
    if None in told:
        named[-1] += " C"
        return (
            f"at the declared strength, constants of {' and '.join(named)} and of no stated temperature "
            f"added up{last}"
        )
    return f"at the declared strength, constants of {' and '.join(named)} C added up{last}"


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
    return Law(value, order, relative, row.direction, row.source, row.temperature_C)


def enolisation(
    carbonyl: Species, ph: float, strengths: Mapping[Species, float], tables: Tables
) -> tuple[float, tuple[str, ...]] | None:
    """Rate at which a ketone or an aldehyde turns into its enol, at the most [s^-1], and the sources.

    Whatever attacks the enol alone, such as a halogen, is no quicker than this.

    Parameters
    ----------
    carbonyl : Species
        Without its phase.
    ph : float
    strengths : mapping of Species to float [mol/L]
        Of the acids and bases of the pot in the form that is there; H+ and OH- follow from the pH.

    Returns
    -------
    (rate, sources) or None where the tables hold nothing of it.
    """
    there = {**strengths, _PROTON: 10.0**-ph, _HYDROXIDE: 10.0 ** (ph - 14)}
    rate, sources = 0.0, dict[str, None]()
    for row in tables.rates:
        catalyst = _parsed(row.oxidant_species)
        if catalyst not in _CATALYSTS or _parsed(row.reductant_species) != carbonyl:
            continue
        value = row.value + (row.uncertainty or 0.0)
        for text, power in _FACTOR.findall(row.rate_law):
            species = _parsed(text)
            if species is not None and species != carbonyl:
                value *= there.get(species, 0.0) ** int(power or 1)
        rate += value
        sources |= dict.fromkeys(row.sources)
    return (rate, tuple(sources)) if sources else None


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
