"""Text to values and back: Species, Equation, Phase, Assumption.

Clear notation is read without remark; doubtful notation is read and carries an
:class:`Assumption` that names the other reading; hopeless notation is refused with a caret
under the fault.  :func:`parse_symbolic` reads formulas with letters as subscripts, which
:meth:`Species.parse` refuses.  :func:`cas_number` and :func:`names_of` look into the table of names.

May import: errors.  Nothing outside this package imports periodictable.
"""

from __future__ import annotations

from redoxlib.notation._equation import Equation
from redoxlib.notation._species import Assumption, Phase, Species

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.notation._names import cas_number, names_of
    from redoxlib.notation._symbolic import (
        Polynomial,
        SymbolicSpecies,
        parse_symbolic,
        parse_symbolic_equation,
    )

__all__ = [
    "Assumption",
    "Equation",
    "Phase",
    "Polynomial",
    "Species",
    "SymbolicSpecies",
    "cas_number",
    "names_of",
    "parse_symbolic",
    "parse_symbolic_equation",
]

_HOME = {
    "Polynomial": "_symbolic",
    "SymbolicSpecies": "_symbolic",
    "cas_number": "_names",
    "names_of": "_names",
    "parse_symbolic": "_symbolic",
    "parse_symbolic_equation": "_symbolic",
}


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value
