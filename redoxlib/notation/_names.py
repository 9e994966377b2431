"""Names, trade names, label words and structural spellings, from the table shipped with the package.

May import: errors, the values and the formula reader of this package.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from redoxlib.errors import NotationError
from redoxlib.notation._formula import composition
from redoxlib.notation._species import Assumption, Atoms, Species

__all__ = ["Names", "cas_number", "names", "names_of"]

_DASHES = str.maketrans("‐‑‒–—―−·•∙⋅", "-------....")
_SYMBOL = re.compile("[A-Z][a-z]?")
_BONDS = str.maketrans("", "", "-=≡#–—−‐‑")


def _folded(name: str) -> str:
    """Return the form in which names are compared: case, dashes and spacing do not matter."""
    text = " ".join(name.translate(_DASHES).casefold().split())
    return text.replace(" (", "(").replace("( ", "(").replace(" )", ")").replace(" - ", "-")


@dataclass(frozen=True, slots=True)
class Named:
    """What a name stands for: formula with charge, isomer key or empty, CAS number or empty."""

    formula: str
    isomer: str
    cas: str


def parts_of(formula: str) -> tuple[Atoms, int] | None:
    """Return composition and charge of a canonical formula."""
    body, _, script = formula.partition("^")
    counts = composition(body)
    if counts is None:
        return None
    charge = int(script[:-1] or "1") * (1 if script.endswith("+") else -1) if script else 0
    return tuple(sorted(counts.items())), charge


class Names:
    """The table of names, indexed for reading."""

    def __init__(self, rows: Iterable[Mapping[str, str]]) -> None:
        self._named: dict[str, Named] = {}
        self._isomers: dict[tuple[Atoms, int], list[str]] = {}
        self._structures: dict[str, str] = {}
        self._drawn: dict[str, str] = {}
        self._spelling: dict[str, tuple[str, tuple[Atoms, int]]] = {}
        self._cas: dict[str, str] = {}
        self._names_of: dict[str, list[str]] = {}
        for row in rows:
            named = Named(row["formula"], row["isomer"], row["cas"])
            if named.cas:
                self._cas.setdefault(named.isomer or named.formula, named.cas)
                self._named.setdefault(named.cas, named)
            if row["kind"] == "structure":
                self._structures[row["name"].partition("^")[0].translate(_BONDS)] = named.isomer
                self._drawn.setdefault(named.isomer, row["name"])
            else:
                self._named.setdefault(_folded(row["name"]), named)
                self._names_of.setdefault(named.isomer or named.formula, []).append(row["name"])
            if named.isomer:
                self._add_isomer(named)

    def _add_isomer(self, named: Named) -> None:
        if named.isomer in self._spelling:
            return
        parts = parts_of(named.formula)
        if parts is None:
            return
        formula = named.formula.partition("^")[0]
        self._spelling[named.isomer] = formula, parts
        if not _bare(formula):
            self._structures.setdefault(formula.translate(_BONDS), named.isomer)
        self._named.setdefault(_folded(named.isomer), named)
        self._isomers.setdefault(parts, []).append(named.isomer)

        self._by_parts: dict[tuple[Atoms, int], str] | None = None

    def canonical(self, species: Species) -> str:
        """Return the formula under which the table lists a species, or its own when it lists none."""
        if self._by_parts is None:
            found: dict[tuple[Atoms, int], str] = {}
            for formula in self._names_of:
                parts = parts_of(formula)
                if parts is not None:
                    found.setdefault(parts, formula)
            self._by_parts = found
        return self._by_parts.get((species.atoms, species.charge), species.formula)

    def find(self, text: str) -> Named | None:
        """Return what *text* names, or ``None``."""
        return self._named.get(_folded(text))

    def near(self, text: str) -> tuple[str, ...]:
        """Return up to three names spelt much like *text*."""
        from difflib import get_close_matches

        return tuple(get_close_matches(_folded(text)[:80], self._named, n=3, cutoff=0.75))

    def cas(self, formula: str, isomer: str | None) -> str | None:
        """Return the CAS number of a formula with charge, or of an isomer."""
        return self._cas.get(isomer or formula)

    def names_of(self, formula: str, isomer: str | None) -> tuple[str, ...]:
        """Return the names of a formula with charge, or of an isomer."""
        return tuple(self._names_of.get(isomer or formula, ()))

    def structure(self, isomer: str) -> str | None:
        """Return the first structural spelling the table has of an isomer, or ``None``."""
        return self._drawn.get(isomer)

    def isomers(self, atoms: Atoms, charge: int) -> tuple[str, ...]:
        """Return the isomers the table holds for a composition, the likeliest first."""
        return tuple(self._isomers.get((atoms, charge), ()))

    def settle(
        self, atoms: Atoms, charge: int, formula: str, span: tuple[int, int]
    ) -> tuple[str | None, tuple[Assumption, ...]]:
        """Decide which isomer a spelling means, and say so when the spelling does not tell."""
        choices = self._isomers.get((atoms, charge))
        if not choices:
            return None, ()
        bare = formula.translate(_BONDS)
        told = self._structures.get(bare) or self._structures.get(_outer_removed(bare))
        if told in choices:
            return told, ()
        if len(choices) == 1:
            return choices[0], ()
        why = "the formula does not tell these isomers apart; the table lists the likeliest first"
        return choices[0], (Assumption(span, choices[0], " or ".join(choices[1:]), why),)

    def spelling(self, isomer: str, atoms: Atoms, charge: int) -> str:
        """Return the structural spelling of an isomer without charge.

        Raises
        ------
        NotationError
            If the table has no such isomer of this composition.
        """
        formula, parts = self._spelling.get(isomer, ("", None))
        if parts != (atoms, charge):
            known = self._isomers.get((atoms, charge), [])
            raise NotationError(
                f"no isomer {isomer!r} of this composition in the table of names",
                hint="known: " + ", ".join(known) if known else "leave the isomer out",
            )
        return formula


def _bare(formula: str) -> bool:
    """Whether a formula only counts atoms and shows no structure: every symbol once, no brackets."""
    symbols = _SYMBOL.findall(formula)
    return "(" not in formula and "[" not in formula and len(symbols) == len(set(symbols))


def _outer_removed(formula: str) -> str:
    return formula[1:-1] if formula[:1] in "([" and formula[-1:] in ")]" else formula


def cas_number(species: Species) -> str | None:
    """Return the CAS registry number of a species, whatever its phase, or ``None`` if none is tabulated."""
    return names().cas(names().canonical(species), species.isomer)


def names_of(species: Species) -> tuple[str, ...]:
    """Return the names the table holds for a species, the systematic or commonest first."""
    return names().names_of(names().canonical(species), species.isomer)


@cache
def names() -> Names:
    """Return the shipped table of names."""
    with (files("redoxlib") / "data" / "names.csv").open(encoding="utf-8") as lines:
        return Names(csv.DictReader(lines))
