"""Text to values and back: Species, Equation, Phase, Assumption.

Clear notation is read without remark; doubtful notation is read and carries an
:class:`Assumption` that names the other reading; hopeless notation is refused with a caret
under the fault.  :func:`parse_symbolic` reads formulas with letters as subscripts, which
:meth:`Species.parse` refuses.

May import: errors.  Nothing outside this package imports periodictable.
"""

from __future__ import annotations

from redoxlib.notation._equation import Equation
from redoxlib.notation._species import Assumption, Phase, Species
from redoxlib.notation._symbolic import Polynomial, SymbolicSpecies, parse_symbolic, parse_symbolic_equation

__all__ = [
    "Assumption",
    "Equation",
    "Phase",
    "Polynomial",
    "Species",
    "SymbolicSpecies",
    "parse_symbolic",
    "parse_symbolic_equation",
]
