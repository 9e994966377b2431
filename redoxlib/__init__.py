"""redoxlib: from a cheap reduced material to its oxidised form.

Verbs take text: ``balance``, ``complete``, ``check``, ``oxidation_numbers``, ``half_reactions``;
``enthalpy``, ``gibbs``, ``entropy``, ``equilibrium_constant``, ``potential``; ``compare``, ``review``,
``clear``, ``plan``, ``audit``, ``reconcile``; ``species_at``, ``predominance``, ``frost``, ``speciation``;
``balance_table``, ``check_table``; ``read_own_data``.  Values: ``Species``, ``Equation``, ``Quantity``,
``Job``.

Each name loads the part it lives in on first use, so importing the package costs next to nothing.
"""

import sys
from importlib import import_module
from types import ModuleType

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib import errors as errors
    from redoxlib._owndata import read_own_data as read_own_data
    from redoxlib.bench import audit as audit
    from redoxlib.bench import plan as plan
    from redoxlib.bench import reconcile as reconcile
    from redoxlib.bottles import read_bottle as read_bottle
    from redoxlib.compare import clear as clear
    from redoxlib.compare import compare as compare
    from redoxlib.compare import review as review
    from redoxlib.diagrams import frost as frost
    from redoxlib.diagrams import predominance as predominance
    from redoxlib.diagrams import speciation as speciation
    from redoxlib.errors import AmbiguousSpeciesError as AmbiguousSpeciesError
    from redoxlib.errors import BudgetError as BudgetError
    from redoxlib.errors import CommandError as CommandError
    from redoxlib.errors import DomainError as DomainError
    from redoxlib.errors import ImpossibleError as ImpossibleError
    from redoxlib.errors import JobError as JobError
    from redoxlib.errors import MissingDataError as MissingDataError
    from redoxlib.errors import MissingExtraError as MissingExtraError
    from redoxlib.errors import NotationError as NotationError
    from redoxlib.errors import NotUniqueError as NotUniqueError
    from redoxlib.errors import RedoxlibError as RedoxlibError
    from redoxlib.errors import TableError as TableError
    from redoxlib.errors import UnitError as UnitError
    from redoxlib.errors import UnsafeRouteError as UnsafeRouteError
    from redoxlib.job import Job as Job
    from redoxlib.notation import Assumption as Assumption
    from redoxlib.notation import Equation as Equation
    from redoxlib.notation import Phase as Phase
    from redoxlib.notation import Species as Species
    from redoxlib.quantity import Quantity as Quantity
    from redoxlib.quantity import Unknown as Unknown
    from redoxlib.stoichiometry import balance as balance
    from redoxlib.stoichiometry import balance_symbolic as balance_symbolic
    from redoxlib.stoichiometry import check as check
    from redoxlib.stoichiometry import complete as complete
    from redoxlib.stoichiometry import half_reactions as half_reactions
    from redoxlib.stoichiometry import oxidation_numbers as oxidation_numbers
    from redoxlib.tables import balance_table as balance_table
    from redoxlib.tables import check_table as check_table
    from redoxlib.thermo import enthalpy as enthalpy
    from redoxlib.thermo import entropy as entropy
    from redoxlib.thermo import equilibrium_constant as equilibrium_constant
    from redoxlib.thermo import gibbs as gibbs
    from redoxlib.thermo import potential as potential
    from redoxlib.thermo import species_at as species_at

__version__ = "0.1.0"

_HOME = {
    "AmbiguousSpeciesError": "errors",
    "Assumption": "notation",
    "BudgetError": "errors",
    "CommandError": "errors",
    "DomainError": "errors",
    "Equation": "notation",
    "ImpossibleError": "errors",
    "Job": "job",
    "JobError": "errors",
    "MissingDataError": "errors",
    "MissingExtraError": "errors",
    "NotUniqueError": "errors",
    "NotationError": "errors",
    "Phase": "notation",
    "Quantity": "quantity",
    "RedoxlibError": "errors",
    "Species": "notation",
    "TableError": "errors",
    "UnitError": "errors",
    "Unknown": "quantity",
    "UnsafeRouteError": "errors",
    "audit": "bench",
    "balance": "stoichiometry",
    "balance_symbolic": "stoichiometry",
    "balance_table": "tables",
    "check": "stoichiometry",
    "check_table": "tables",
    "clear": "compare",
    "compare": "compare",
    "complete": "stoichiometry",
    "enthalpy": "thermo",
    "entropy": "thermo",
    "equilibrium_constant": "thermo",
    "errors": "",
    "frost": "diagrams",
    "gibbs": "thermo",
    "half_reactions": "stoichiometry",
    "oxidation_numbers": "stoichiometry",
    "plan": "bench",
    "potential": "thermo",
    "predominance": "diagrams",
    "read_bottle": "bottles",
    "read_own_data": "_owndata",
    "reconcile": "bench",
    "review": "compare",
    "speciation": "diagrams",
    "species_at": "thermo",
}

__all__ = [
    "AmbiguousSpeciesError",
    "Assumption",
    "BudgetError",
    "CommandError",
    "DomainError",
    "Equation",
    "ImpossibleError",
    "Job",
    "JobError",
    "MissingDataError",
    "MissingExtraError",
    "NotUniqueError",
    "NotationError",
    "Phase",
    "Quantity",
    "RedoxlibError",
    "Species",
    "TableError",
    "UnitError",
    "Unknown",
    "UnsafeRouteError",
    "audit",
    "balance",
    "balance_symbolic",
    "balance_table",
    "check",
    "check_table",
    "clear",
    "compare",
    "complete",
    "enthalpy",
    "entropy",
    "equilibrium_constant",
    "errors",
    "frost",
    "gibbs",
    "half_reactions",
    "oxidation_numbers",
    "plan",
    "potential",
    "predominance",
    "read_bottle",
    "read_own_data",
    "reconcile",
    "review",
    "speciation",
    "species_at",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    home = _HOME[name]
    if not home:
        return import_module(f"{__name__}.{name}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{home}"), name)
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})


class _Facade(ModuleType):
    """Keeps ``redoxlib.compare`` the verb.

    The import system binds every imported submodule to its package, so the first import of the
    module ``redoxlib.compare`` would hide the function of that name; such a binding is dropped.
    ``from redoxlib.compare import Comparison`` does not need it.
    """

    def __setattr__(self, name: str, value: object) -> None:
        if not (isinstance(value, ModuleType) and _HOME.get(name)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Facade
