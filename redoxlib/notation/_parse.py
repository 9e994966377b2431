"""Reading a species: clear text at once, anything else handed on.

species = formula ("^" DIGITS? SIGN)? ("(" phase ")")?

May import: errors and this package.
"""

from __future__ import annotations

import re

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation._elements import SYMBOLS
from redoxlib.notation._formula import composition
from redoxlib.notation._known import known, known_texts, plausible
from redoxlib.notation._names import names
from redoxlib.notation._species import Atoms, Count, Phase, Species, assemble

__all__ = ["MAX_SPECIES_TEXT", "read_in_equation", "read_species"]

MAX_SPECIES_TEXT = 4096

_TAIL = r"(?:\^([1-9][0-9]?)?([+-]))?(?:\((aq|s|l|g)\))?"
_PLAIN = re.compile(rf"((?:[A-Z][a-z]?(?:[1-9][0-9]{{0,8}})?)+){_TAIL}").fullmatch
_NESTED = re.compile(rf"([A-Z(\[][A-Za-z0-9()\[\].]*[A-Z0-9a-z)\]]){_TAIL}").fullmatch
_ATOMS = re.compile(r"([A-Z][a-z]?)([0-9]*)").findall
# Marks by which a formula outside the lists may be a misprint: O and 0, l and I and 1, capitals, a lost
# sign, a Roman numeral.
_SUSPECT = re.compile(r"0|Ac|DC|\([IV]|C[I1]|[a-z]1$|[0-9]{2}$|[A-Z]{2}|^..?[0-9]+$").search
_PHASES: dict[str | None, Phase] = {None: Phase.UNSTATED, **{str(phase): phase for phase in Phase}}
_SPELLED = known_texts()


def read_species(text: str) -> Species:
    """Read one species; see :meth:`Species.parse`."""
    found = _read_clear(text)
    if found is None:
        # Loaded late: clear text, which is most text, never needs it.
        from redoxlib.notation._messy import read_messy

        found = read_messy(text)
    return found


def read_in_equation(text: str) -> Species:
    """Read one species of an equation, where plus signs and coefficients have been dealt with."""
    found = _read_clear(text)
    if found is not None:
        return found
    from redoxlib.notation._messy import read_counted

    species, factor = read_counted(text)
    if factor != 1:
        raise NotationError("a coefficient inside the species", source=text, span=(0, 1))
    return species


def _read_clear(text: str) -> Species | None:
    """Read plain ASCII in the house style; ``None`` for anything that needs a second look."""
    if len(text) > MAX_SPECIES_TEXT:
        raise BudgetError(
            f"a species of {len(text)} characters is longer than the limit of {MAX_SPECIES_TEXT}",
            source=text[:80] + "...",
            span=(0, 80),
            hint="is this a whole equation or a file?",
        )
    counts: dict[str, Count] | None
    found = _PLAIN(text)
    if found is not None:
        body, digits, sign, phase = found.groups()
        counts = {}
        for symbol, number in _ATOMS(body):
            counts[symbol] = counts.get(symbol, 0) + (int(number) if number else 1)
        if not counts.keys() <= SYMBOLS:
            counts = None
    else:
        found = _NESTED(text)
        if found is None:
            return None
        body, digits, sign, phase = found.groups()
        counts = composition(body)
    if counts is None:
        return None
    charge = 0
    if sign:
        charge = int(digits or 1) if sign == "+" else -int(digits or 1)
    atoms = tuple(sorted(counts.items()))
    spelled = text[: -len(phase) - 2] if phase else text
    if spelled in _SPELLED or _is_clear(atoms, charge, body):
        if "C" in counts and names().isomers(atoms, charge):
            return None
        return assemble(atoms, charge, _PHASES[phase], None, body)
    return None


def _is_clear(atoms: Atoms, charge: int, body: str) -> bool:
    """Whether a formula may be read to the letter without a second look."""
    if _SUSPECT(body):
        return False
    charges = known().get(atoms)
    if charges is not None:
        return charge in charges
    return plausible(atoms, charge) if charge else True
