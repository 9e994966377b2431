"""Exact stoichiometry: what balances, which electrons pass, what the ions are.

Verbs: balance, complete, check, oxidation_numbers, half_reactions, steps, dissolve,
with_counter_ions, ions_of, balance_symbolic.

Numbers are whole or ``Fraction`` throughout; nothing here knows a potential, a table or a purpose.
Limits: 256 species an equation; elementary members are listed and a choice is made up to 32 species,
members up to 10 000, then the result says so.  All limits at once take some ten seconds.

May import: notation, errors.  Only ``_solve`` imports sympy, and only when an equation is solved, so
``check``, ``oxidation_numbers``, ``dissolve`` and ``ions_of`` never load it.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.stoichiometry._balance import Balance as Balance
    from redoxlib.stoichiometry._balance import balance as balance
    from redoxlib.stoichiometry._check import Check as Check
    from redoxlib.stoichiometry._check import check as check
    from redoxlib.stoichiometry._choice import Transition as Transition
    from redoxlib.stoichiometry._complete import complete as complete
    from redoxlib.stoichiometry._cone import MAX_MEMBERS as MAX_MEMBERS
    from redoxlib.stoichiometry._cone import MAX_SPECIES_FOR_MEMBERS as MAX_SPECIES_FOR_MEMBERS
    from redoxlib.stoichiometry._half import HalfReaction as HalfReaction
    from redoxlib.stoichiometry._half import HalfReactions as HalfReactions
    from redoxlib.stoichiometry._half import half_reactions as half_reactions
    from redoxlib.stoichiometry._impossible import Repair as Repair
    from redoxlib.stoichiometry._ionic import Ionic as Ionic
    from redoxlib.stoichiometry._ionic import dissolve as dissolve
    from redoxlib.stoichiometry._ionic import salt_of as salt_of
    from redoxlib.stoichiometry._ionic import soluble as soluble
    from redoxlib.stoichiometry._ionic import with_counter_ions as with_counter_ions
    from redoxlib.stoichiometry._ions import ions_of as ions_of
    from redoxlib.stoichiometry._numbers import ElementNumbers as ElementNumbers
    from redoxlib.stoichiometry._numbers import OxidationNumbers as OxidationNumbers
    from redoxlib.stoichiometry._numbers import SiteNumber as SiteNumber
    from redoxlib.stoichiometry._oxidation import oxidation_numbers as oxidation_numbers
    from redoxlib.stoichiometry._oxidation import plausible as plausible
    from redoxlib.stoichiometry._steps import Account as Account
    from redoxlib.stoichiometry._steps import Step as Step
    from redoxlib.stoichiometry._steps import steps as steps
    from redoxlib.stoichiometry._symbolic import SymbolicBalance as SymbolicBalance
    from redoxlib.stoichiometry._symbolic import balance_symbolic as balance_symbolic
    from redoxlib.stoichiometry._system import MAX_SPECIES as MAX_SPECIES

_HOME = {
    "Account": "_steps",
    "Balance": "_balance",
    "Check": "_check",
    "ElementNumbers": "_numbers",
    "HalfReaction": "_half",
    "HalfReactions": "_half",
    "Ionic": "_ionic",
    "MAX_MEMBERS": "_cone",
    "MAX_SPECIES": "_system",
    "MAX_SPECIES_FOR_MEMBERS": "_cone",
    "OxidationNumbers": "_numbers",
    "Repair": "_impossible",
    "SiteNumber": "_numbers",
    "Step": "_steps",
    "SymbolicBalance": "_symbolic",
    "Transition": "_choice",
    "balance": "_balance",
    "balance_symbolic": "_symbolic",
    "check": "_check",
    "complete": "_complete",
    "dissolve": "_ionic",
    "half_reactions": "_half",
    "ions_of": "_ions",
    "oxidation_numbers": "_oxidation",
    "plausible": "_oxidation",
    "salt_of": "_ionic",
    "soluble": "_ionic",
    "steps": "_steps",
    "with_counter_ions": "_ionic",
}
__all__ = [
    "MAX_MEMBERS",
    "MAX_SPECIES",
    "MAX_SPECIES_FOR_MEMBERS",
    "Account",
    "Balance",
    "Check",
    "ElementNumbers",
    "HalfReaction",
    "HalfReactions",
    "Ionic",
    "OxidationNumbers",
    "Repair",
    "SiteNumber",
    "Step",
    "SymbolicBalance",
    "Transition",
    "balance",
    "balance_symbolic",
    "check",
    "complete",
    "dissolve",
    "half_reactions",
    "ions_of",
    "oxidation_numbers",
    "plausible",
    "salt_of",
    "soluble",
    "steps",
    "with_counter_ions",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
