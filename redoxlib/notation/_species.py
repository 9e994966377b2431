"""What a species is: atoms, charge, phase, isomer, and how doubtful text was read.

May import: errors, and the readers and writers of this package when they are called.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from redoxlib.errors import no_text

__all__ = ["Assumption", "Count", "Phase", "Species"]

Count = int | Fraction
Atoms = tuple[tuple[str, Count], ...]


class Phase(StrEnum):
    """State of matter; its value is the label written in parentheses.

    ``unstated`` is false where a truth value is asked for, and an empty text reads as it.
    """

    SOLID = "s"
    LIQUID = "l"
    GAS = "g"
    AQUEOUS = "aq"
    UNSTATED = "unstated"

    def __bool__(self) -> bool:
        return self is not Phase.UNSTATED

    @classmethod
    def _missing_(cls, value: object) -> Phase | None:
        return cls.UNSTATED if value == "" else None


@dataclass(frozen=True, slots=True)
class Assumption:
    """One doubtful reading: where it is, how it was read, how else it could be, and why.

    Attributes
    ----------
    span : tuple of int
        Start and end offsets in the text that was read.
    read_as : str
        The reading taken.
    other : str
        The other honest reading; several are joined by ``" or "``.
    why : str
        What decided.
    """

    span: tuple[int, int]
    read_as: str
    other: str
    why: str

    def __str__(self) -> str:
        other = f", not {self.other}" if self.other else ""
        return f"read as {self.read_as}{other}: {self.why}"

    def moved(self, offset: int) -> Assumption:
        """Return the same assumption about text that starts *offset* characters later."""
        start, end = self.span
        return Assumption((start + offset, end + offset), self.read_as, self.other, self.why)


@lru_cache(maxsize=16384)
def _parsed(text: str) -> Species:
    from redoxlib.notation._parse import read_species

    return read_species(text)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Species:
    """A chemical species.

    Two species are equal when elements, charge, phase and isomer agree; the spelling kept in
    ``formula`` and the ``assumptions`` made on reading take no part.  Make one with
    :meth:`parse` or :meth:`of`.

    Attributes
    ----------
    elements : Mapping
        Element symbol to count, in alphabetical order; an ``int``, or a ``Fraction`` in a
        non-stoichiometric solid.  Empty for the electron.
    charge : int
        In elementary charges.
    phase : Phase
    isomer : str or None
        Key of the isomer in the table of names, such as ``propan-2-ol``.
    formula : str
        ASCII spelling without charge and phase.
    assumptions : tuple of Assumption
        What had to be assumed to read the text; empty for clear text.

    Examples
    --------
    >>> Species.parse("SO42-(aq)")
    Species.parse('SO4^2-(aq)')
    >>> Species.parse("H2O2") == Species.parse("HOOH")
    True
    """

    elements: Mapping[str, Count]
    charge: int
    phase: Phase
    isomer: str | None
    formula: str
    assumptions: tuple[Assumption, ...]
    _key: tuple[Atoms, int, str, str | None]
    _hash: int

    @classmethod
    def parse(cls, text: str) -> Species:
        """Read one species: a formula in any common style, or a name from the table of names.

        Raises
        ------
        NotationError
            If the text cannot be read; ``.span`` marks the fault and ``.hint`` a repair.
        BudgetError
            If the text is longer or deeper than the documented limits.
        """
        if text.__class__ is not str and not isinstance(text, str):
            raise no_text(text, "give a formula or a name such as 'MnO4^-'")
        return _parsed(text)

    @classmethod
    def of(
        cls,
        elements: Mapping[str, Count],
        charge: int = 0,
        phase: Phase = Phase.UNSTATED,
        isomer: str | None = None,
    ) -> Species:
        """Build a species from its composition; the isomer is settled as for a bare formula.

        Raises
        ------
        NotationError
            If a symbol, a count, the charge or the isomer is not possible.
        """
        from redoxlib.notation._build import species_of

        return species_of(elements, charge, Phase(phase), isomer)

    @property
    def atoms(self) -> Atoms:
        """The composition as a sorted tuple of ``(symbol, count)``."""
        return self._key[0]

    @property
    def is_electron(self) -> bool:
        """Whether this is the electron."""
        return not self._key[0]

    @property
    def molar_mass(self) -> float:
        """Molar mass from standard atomic weights [g/mol]."""
        from redoxlib.notation._elements import molar_mass

        return molar_mass(self._key[0], self.charge)

    def with_phase(self, phase: Phase) -> Species:
        """Return the same species in another phase."""
        phase = Phase(phase)
        if phase is self.phase:
            return self
        return assemble(self._key[0], self.charge, phase, self.isomer, self.formula, self.assumptions)

    def unicode(self) -> str:
        """Return the species with Unicode subscripts and superscripts, such as ``SO₄²⁻(aq)``."""
        from redoxlib.notation._write import unicode

        return unicode(self)

    def latex(self) -> str:
        r"""Return the species for LaTeX with mhchem, such as ``\ce{SO4^2-(aq)}``."""
        from redoxlib.notation._write import latex

        return latex(self)

    def _repr_latex_(self) -> str:
        """What a notebook shows."""
        return f"${self.latex()}$"

    def __str__(self) -> str:
        from redoxlib.notation._write import ascii_text

        return ascii_text(self)

    def __repr__(self) -> str:
        return f"Species.parse({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if not isinstance(other, Species):
            return NotImplemented
        return self._hash == other._hash and self._key == other._key

    def __hash__(self) -> int:
        return self._hash

    def __reduce__(self) -> tuple[Callable[..., Species], tuple[Any, ...]]:
        # The hash of a string differs from one process to the next, so it never travels.
        fields = (self._key[0], self.charge, self.phase, self.isomer, self.formula, self.assumptions)
        return assemble, fields


def _setter(name: str) -> Callable[[Species, object], None]:
    setter: Callable[[Species, object], None] = vars(Species)[name].__set__
    return setter


# Reading a species costs about 4 us; the generated __init__ of a frozen class would add a sixth of that.
_new = object.__new__
_set_elements, _set_charge, _set_phase, _set_isomer = map(_setter, ("elements", "charge", "phase", "isomer"))
_set_formula, _set_assumptions, _set_key, _set_hash = map(
    _setter, ("formula", "assumptions", "_key", "_hash")
)


def assemble(
    atoms: Atoms,
    charge: int,
    phase: Phase,
    isomer: str | None,
    formula: str,
    assumptions: tuple[Assumption, ...] = (),
) -> Species:
    """Put a species together from parts that are known to be sound; *atoms* must be sorted."""
    key = (atoms, charge, phase._value_, isomer)
    species = _new(Species)
    _set_elements(species, MappingProxyType(dict(atoms)))
    _set_charge(species, charge)
    _set_phase(species, phase)
    _set_isomer(species, isomer)
    _set_formula(species, formula)
    _set_assumptions(species, assumptions)
    _set_key(species, key)
    _set_hash(species, hash(key))
    return species
