"""Exact stoichiometry: balance, complete, check, oxidation numbers, half-reactions, ions.

May import: notation, errors.  Only ``_solve`` imports sympy, and only when an equation is solved, so
``check``, ``oxidation_numbers`` and ``ions_of`` never load it.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.stoichiometry._ions import ions_of as ions_of

_HOME = {
    "ions_of": "_ions",
}
__all__ = ["ions_of"]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
