"""Species from a composition.

May import: the values, the writer and the tables of this package.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from redoxlib.errors import NotationError
from redoxlib.notation._elements import SYMBOLS, near_symbols
from redoxlib.notation._species import Assumption, Count, Phase, Species, assemble

__all__ = ["species_of"]


def species_of(elements: Mapping[str, Count], charge: int, phase: Phase, isomer: str | None) -> Species:
    """Check the parts and build the species; see :meth:`Species.of`."""
    from redoxlib.notation._known import known_spelling
    from redoxlib.notation._names import names
    from redoxlib.notation._write import formula_of

    counts: dict[str, Count] = {}
    for symbol, count in elements.items():
        if symbol not in SYMBOLS:
            near = near_symbols(symbol)
            raise NotationError(
                f"unknown element {symbol!r}", hint=f"did you mean {near[0]!r}?" if near else None
            )
        if isinstance(count, bool) or not isinstance(count, int | Fraction) or count <= 0:
            raise NotationError(
                f"count {count!r} of {symbol} is not a positive exact number",
                hint="write a whole number or fractions.Fraction(19, 20)",
            )
        counts[symbol] = int(count) if isinstance(count, Fraction) and count.denominator == 1 else count
    if isinstance(charge, bool) or not isinstance(charge, int):
        raise NotationError(f"charge {charge!r} is not a whole number")
    atoms = tuple(sorted(counts.items()))
    if not atoms:
        if charge != -1:
            raise NotationError(
                f"a species without atoms and with charge {charge} is nothing",
                hint="the electron has charge -1",
            )
        return assemble((), -1, phase, None, "e")
    table = names()
    assumptions: tuple[Assumption, ...] = ()
    if isomer is None:
        formula = known_spelling(atoms, charge) or formula_of(atoms)
        isomer, assumptions = table.settle(atoms, charge, formula, (0, len(formula)))
    else:
        formula = table.spelling(isomer, atoms, charge)
    return assemble(atoms, charge, phase, isomer, formula, assumptions)
