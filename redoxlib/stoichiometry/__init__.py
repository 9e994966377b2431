"""Exact stoichiometry: balance, complete, check, oxidation numbers, half-reactions, ions.

May import: notation, errors.  Only ``_solve`` imports sympy, and only when an equation is solved, so
``check``, ``oxidation_numbers`` and ``ions_of`` never load it.
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
    from redoxlib.stoichiometry._impossible import Repair as Repair
    from redoxlib.stoichiometry._ions import ions_of as ions_of
    from redoxlib.stoichiometry._oxidation import ElementNumbers as ElementNumbers
    from redoxlib.stoichiometry._oxidation import OxidationNumbers as OxidationNumbers
    from redoxlib.stoichiometry._oxidation import SiteNumber as SiteNumber
    from redoxlib.stoichiometry._oxidation import oxidation_numbers as oxidation_numbers
    from redoxlib.stoichiometry._oxidation import plausible as plausible

_HOME = {
    "Balance": "_balance",
    "Check": "_check",
    "ElementNumbers": "_oxidation",
    "OxidationNumbers": "_oxidation",
    "Repair": "_impossible",
    "SiteNumber": "_oxidation",
    "Transition": "_choice",
    "balance": "_balance",
    "check": "_check",
    "ions_of": "_ions",
    "oxidation_numbers": "_oxidation",
    "plausible": "_oxidation",
}
__all__ = [
    "Balance",
    "Check",
    "ElementNumbers",
    "OxidationNumbers",
    "Repair",
    "SiteNumber",
    "Transition",
    "balance",
    "check",
    "ions_of",
    "oxidation_numbers",
    "plausible",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
