"""The texts of the rules and the table of reviewed combinations, as shipped.

Two plain tables: gate_rules.csv (one row per rule and severity) and gate_reviewed.csv (which
oxidants were reviewed on which feed in which range of pH).  The conditions themselves are code.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from redoxlib.errors import MissingDataError
from redoxlib.safety._kinds import Kind

__all__ = ["Review", "Rule", "Severity", "citation", "reviews", "rule", "rules"]


class Severity(StrEnum):
    """How much a reason weighs, and a whole verdict too."""

    STOP = "stop"
    UNREVIEWED = "unreviewed"
    CAUTION = "caution"
    CLEAR = "clear"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule at one severity, as written in the table.

    Attributes
    ----------
    id : str
        "G01" and so on; a rule with two severities has two entries.
    severity : Severity
    title, text, safer : str
        The situation, the reason in one or two sentences, and what to do instead.
    sources : tuple of str
        Keys into the table of sources.
    combinations : tuple of str
        Numbers of the incompatible combinations the rule answers for.
    covers : tuple of (str, str)
        Oxidant and feed kinds that count as reviewed when this rule speaks; "*" is any.
    """

    id: str
    severity: Severity
    title: str
    text: str
    safer: str
    sources: tuple[str, ...]
    combinations: tuple[str, ...]
    covers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Review:
    """One reviewed feed: the oxidants judged on it and the pH range the judgement holds for."""

    feed: Kind
    oxidants: frozenset[Kind]
    ph_min: float
    ph_max: float
    sources: tuple[str, ...]
    note: str


def _rows(name: str) -> list[dict[str, str]]:
    text = (files("redoxlib.data") / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _split(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


@cache
def rules() -> tuple[Rule, ...]:
    """Every rule of the gate, in the order of the table."""
    found = []
    for row in _rows("gate_rules.csv"):
        pairs = []
        for pair in _split(row["covers"]):
            oxidant, _, feed = pair.partition("+")
            pairs.append((oxidant, feed))
        found.append(
            Rule(
                id=row["rule"],
                severity=Severity(row["severity"]),
                title=row["title"],
                text=row["text"],
                safer=row["safer"],
                sources=_split(row["sources"]),
                combinations=_split(row["combinations"]),
                covers=tuple(pairs),
            )
        )
    return tuple(found)


@cache
def _by_key() -> Mapping[tuple[str, Severity], Rule]:
    return MappingProxyType({(each.id, each.severity): each for each in rules()})


def rule(name: str, severity: Severity) -> Rule:
    """The entry of one rule at one severity.

    Raises
    ------
    MissingDataError
        When the table has no such entry.
    """
    try:
        return _by_key()[name, severity]
    except KeyError:
        raise MissingDataError(
            f"the gate has no rule {name} at {severity}", what=name, looked_in=("gate_rules.csv",)
        ) from None


@cache
def reviews() -> tuple[Review, ...]:
    """The reviewed combinations."""
    return tuple(
        Review(
            feed=Kind(row["feed"]),
            oxidants=frozenset(Kind(name) for name in _split(row["oxidants"])),
            ph_min=float(row["ph_min"]),
            ph_max=float(row["ph_max"]),
            sources=_split(row["sources"]),
            note=row["note"],
        )
        for row in _rows("gate_reviewed.csv")
    )


def citation(keys: tuple[str, ...]) -> str:
    """The full citations behind source keys, joined by semicolons."""
    from redoxlib.data import shipped

    sources = shipped().sources
    return "; ".join(sources[key].citation for key in keys)
