"""Rules of one's own, from a file beside the job: they add stops and cautions and can do nothing else.

A rule of one's own never covers a combination as reviewed, never takes the place of a shipped rule and
is asked even where a shipped rule has spoken.  A condition whose fact nobody declared counts as met.

May import: notation, data, stoichiometry, and the situation of this package.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from redoxlib.data import OwnRuleRow
from redoxlib.notation import Species
from redoxlib.safety._situation import Situation

__all__ = ["own_rules_met"]

_Core = tuple[tuple[tuple[str, Fraction], ...], Fraction]


def own_rules_met(situation: Situation) -> Iterator[tuple[OwnRuleRow, str]]:
    """Rules of one's own that speak, each with what made it speak."""
    cores = frozenset().union(*(_cores(species) for species in situation.pot | situation.quench))
    for rule in situation.own_rules:
        wanted, any_of = _listed(rule.meets), _listed(rule.any_of)
        if not all(_core(species) in cores for species in wanted):
            continue
        present = [species for species in any_of if _core(species) in cores]
        if any_of and not present:
            continue
        told = [_compared(*condition) for condition in _conditions(rule, situation)]
        if None not in told:
            named = [str(species) for species in (*wanted, *present)]
            yield rule, ", ".join([*named, *(text for text in told if text)])


def _conditions(
    rule: OwnRuleRow, situation: Situation
) -> Iterator[tuple[str, float | str | None, float | str | None, str]]:
    """Name, what the rule asks, what the situation has, and how the two are compared."""
    s = situation
    yield "pH", rule.ph_below, s.ph, "below"
    yield "pH", rule.ph_above, s.ph, "above"
    yield "temperature in C", rule.temperature_above_C, s.temperature_C, "above"
    yield "mass fraction of the oxidant", rule.strength_above, s.oxidant_strength_w_w, "above"
    yield "concentration in mol/L", rule.concentration_above_mol_L, s.concentration_mol_L, "above"
    yield "amount in mol", rule.amount_above_mol, s.amount_mol, "above"
    yield "vessel", rule.vessel or None, {"sealed": "closed"}.get(s.vessel or "", s.vessel), "is"


def _compared(name: str, asked: float | str | None, found: float | str | None, how: str) -> str | None:
    """What to say of a condition that is met, "" of one that is not asked, None of one that is not met."""
    if asked is None:
        return ""
    if found is None:
        return f"{name} not declared"
    if isinstance(asked, str) or isinstance(found, str):
        return f"{name} {found}" if asked == found else None
    met = found < asked if how == "below" else found > asked
    return f"{name} {found:.3g}" if met else None


def _listed(text: str) -> list[Species]:
    return [Species.parse(part.strip()) for part in text.split(";") if part.strip()]


@lru_cache(maxsize=2048)
def _cores(species: Species) -> frozenset[_Core]:
    """The cores of a species and of the ions it is made of."""
    from redoxlib.stoichiometry import ions_of

    return frozenset({_core(species), *(_core(ion) for _, ion in ions_of(species) or ())})


def _core(species: Species) -> _Core:
    """Atoms and charge without acid protons, so that CN^- is HCN too; water and hydroxide stay apart."""
    atoms = {symbol: Fraction(count) for symbol, count in species.elements.items()}
    charge = Fraction(species.charge)
    if set(atoms) <= {"H", "O"}:
        return tuple(sorted(atoms.items())), charge
    hydrogen = atoms.pop("H", Fraction(0))
    return tuple(sorted(atoms.items())), charge - hydrogen
