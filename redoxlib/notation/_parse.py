"""Reading a species: clear text at once, anything else handed on.

species = formula ("^" DIGITS? SIGN)? ("(" phase ")")?

May import: errors and this package.
"""

from __future__ import annotations

import re

from redoxlib.errors import BudgetError
from redoxlib.notation._elements import SYMBOLS
from redoxlib.notation._known import known, plausible
from redoxlib.notation._species import Phase, Species, assemble

__all__ = ["MAX_SPECIES_TEXT", "read_species"]

MAX_SPECIES_TEXT = 4096

_PLAIN = re.compile(
    r"((?:[A-Z][a-z]?(?:[1-9][0-9]{0,8})?)+)(?:\^([1-9][0-9]?)?([+-]))?(?:\((aq|s|l|g)\))?"
).fullmatch
_ATOMS = re.compile(r"([A-Z][a-z]?)([0-9]*)").findall
# Marks by which a formula outside the lists may be a misprint: O and 0, l and I and 1, capitals, a lost sign.
_SUSPECT = re.compile(r"0|C[I1]|[a-z][A-Z]?1$|[0-9]{2}$|^[A-Z][a-z]?[0-9]+$|[A-Z]{2}|^l|IV|VI").search
_PHASES: dict[str | None, Phase] = {None: Phase.UNSTATED, **{str(phase): phase for phase in Phase}}
_KNOWN = known()


def read_species(text: str) -> Species:
    """Read one species; see :meth:`Species.parse`."""
    if len(text) > MAX_SPECIES_TEXT:
        raise BudgetError(
            f"a species of {len(text)} characters is longer than the limit of {MAX_SPECIES_TEXT}",
            source=text[:80] + "...",
            span=(0, 80),
            hint="is this a whole equation or a file?",
        )
    found = _PLAIN(text)
    if found is not None:
        body, digits, sign, phase = found.groups()
        counts: dict[str, int] = {}
        for symbol, number in _ATOMS(body):
            counts[symbol] = counts.get(symbol, 0) + (int(number) if number else 1)
        if counts.keys() <= SYMBOLS:
            charge = 0
            if sign:
                charge = int(digits or 1) if sign == "+" else -int(digits or 1)
            atoms = tuple(sorted(counts.items()))
            charges = _KNOWN.get(atoms)
            if "C" not in counts and "II" not in body:
                if charges is None:
                    clear = plausible(atoms, charge) if charge else True
                    clear = clear and not _SUSPECT(body)
                else:
                    clear = charge in charges
                if clear:
                    return assemble(atoms, charge, _PHASES[phase], None, body)
    return _read_other(text)


def _read_other(text: str) -> Species:
    from redoxlib.notation._messy import read_messy

    return read_messy(text)
