"""What each key of a plan means and how its number is made, without any job.

Verbs: about.  The rows of ``keys.csv`` are the same keys as those of docs/keys.md; a test holds both
against the plans themselves.  May import: errors.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from redoxlib.errors import MissingDataError

__all__ = ["KeyFacts", "about", "key_facts"]

_ROLES = "(feed|oxidant|acid|base|water)"
_PLACES = {"ROLE": _ROLES, "SPECIES": ".+", "COMPOUND": ".+"}


@dataclass(frozen=True, slots=True)
class KeyFacts:
    """One key, or family of keys: ``ROLE``, ``SPECIES`` and ``COMPOUND`` stand for what a job puts there.

    Attributes
    ----------
    key, unit, meaning, formula : str
    inputs : tuple of str
        Keys the number is made from.
    tables : tuple of str
        Tables whose rows enter here; the inputs have theirs.
    """

    key: str
    unit: str
    meaning: str
    formula: str
    inputs: tuple[str, ...]
    tables: tuple[str, ...]

    def fits(self, key: str) -> bool:
        """Whether a key of a plan, or this key as it is written on the page, is one of these."""
        pattern = re.escape(self.key)
        for name, stands_for in _PLACES.items():
            pattern = pattern.replace(name, stands_for)
        return key == self.key or re.fullmatch(pattern, key) is not None

    def __str__(self) -> str:
        unit = "no unit" if self.unit == "1" else self.unit
        lines = [f"{self.key} [{unit}]", f"  {self.meaning}", f"  = {self.formula}"]
        lines += [f"    from {name}" for name in self.inputs]
        if self.tables:
            lines.append(f"  tables: {', '.join(self.tables)}")
        elif self.inputs:
            lines.append("  no table of its own: the inputs bring their sources")
        else:
            lines.append("  no table: from what the job declares, and atomic weights (IUPAC standard values)")
        return "\n".join(lines)


@cache
def key_facts() -> tuple[KeyFacts, ...]:
    """Every key a plan can have, in the order of docs/keys.md."""
    with (files("redoxlib.bench") / "keys.csv").open(encoding="utf-8") as lines:
        return tuple(
            KeyFacts(
                row["key"],
                row["unit"],
                row["meaning"],
                row["formula"],
                tuple(filter(None, row["inputs"].split(";"))),
                tuple(filter(None, row["tables"].split(";"))),
            )
            for row in csv.DictReader(lines)
        )


def _width(facts: KeyFacts) -> int:
    """Minus the number of letters that a key does not leave open."""
    text = facts.key
    for name in _PLACES:
        text = text.replace(name, "")
    return -len(text)


def about(key: str) -> KeyFacts:
    """Say what a key means, in which unit, how it is made, from which keys and which tables.

    Parameters
    ----------
    key : str
        Such as ``"quench.base.mol"``, or ``"charge.ROLE.g"`` as the page writes it.

    Returns
    -------
    KeyFacts

    Raises
    ------
    MissingDataError
        When no plan has such a key; the nearest ones are named.

    Examples
    --------
    >>> print(about("heat.rise.K"))
    heat.rise.K [K]
      adiabatic rise, everything in at once
      = heat / heat capacity
        from heat.reaction.kJ
        from pot.heat_capacity
      no table of its own: the inputs bring their sources
    """
    # The narrowest pattern speaks: charge.feed.MnSO4.g is a further feed, not a role.
    fitting = sorted((facts for facts in key_facts() if facts.fits(key)), key=_width)
    if fitting:
        return fitting[0]
    near = get_close_matches(key, [facts.key for facts in key_facts()], n=3)
    raise MissingDataError(
        f"no plan has a key {key!r}",
        hint=f"did you mean {', '.join(near)}?" if near else "docs/keys.md lists them all",
        what=key,
        looked_in=("keys.csv",),
    )
