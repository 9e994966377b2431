"""Spelling of a formula: dots, brackets and groups, for facts that composition alone does not hold.

Equality of species never looks here; oxidation numbers by site and hydrates do.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

__all__ = ["Group", "composition", "same_atoms", "spelled_parts", "tree"]

_OPEN = {"(": ")", "[": "]", "{": "}"}
_CLOSE = frozenset(_OPEN.values())


@dataclass(frozen=True, slots=True)
class Group:
    """An atom (``symbol``) or a bracket (``content``) with its repeat count."""

    symbol: str
    content: tuple[Group, ...]
    count: int


def _digits(text: str, at: int) -> tuple[str, int]:
    start = at
    while at < len(text) and text[at] in "0123456789":
        at += 1
    return text[start:at], at


@lru_cache(maxsize=4096)
def tree(text: str) -> tuple[Group, ...] | None:
    """Read one undotted formula into groups; ``None`` when the spelling is not plain."""
    stack: list[tuple[str, list[Group]]] = [("", [])]
    at = 0
    while at < len(text):
        char = text[at]
        if char in _OPEN:
            stack.append((_OPEN[char], []))
            at += 1
        elif char in _CLOSE:
            if len(stack) == 1 or stack[-1][0] != char:
                return None
            _, inside = stack.pop()
            number, at = _digits(text, at + 1)
            stack[-1][1].append(Group("", tuple(inside), int(number or "1")))
        elif "A" <= char <= "Z":
            end = at + 1
            while end < len(text) and "a" <= text[end] <= "z":
                end += 1
            symbol = text[at:end]
            number, at = _digits(text, end)
            stack[-1][1].append(Group(symbol, (), int(number or "1")))
        else:
            return None
    return tuple(stack[0][1]) if len(stack) == 1 else None


def composition(groups: tuple[Group, ...]) -> dict[str, int]:
    """Count the atoms of *groups*."""
    total: dict[str, int] = {}
    work: list[tuple[tuple[Group, ...], int]] = [(groups, 1)]
    while work:
        level, times = work.pop()
        for group in level:
            if group.symbol:
                total[group.symbol] = total.get(group.symbol, 0) + group.count * times
            else:
                work.append((group.content, group.count * times))
    return total


_PART = re.compile(r"(?P<times>[0-9]+(?:\.[0-9]+)?)?(?P<text>[A-Z(\[][A-Za-z0-9()\[\]]*)")


def spelled_parts(formula: str) -> list[tuple[Fraction, str]]:
    """Each dotted part with its multiplier, so ``CuSO4.5H2O`` gives CuSO4 and 5 H2O.

    Empty when the spelling is not plain.
    """
    found: list[tuple[Fraction, str]] = []
    at = 0
    while at < len(formula):
        if found:
            if formula[at] != ".":
                return []
            at += 1
        match = _PART.match(formula, at)
        if match is None:
            return []
        found.append((Fraction(match["times"] or 1), match["text"]))
        at = match.end()
    return found


def same_atoms(one: Mapping[str, int], other: Mapping[str, object]) -> bool:
    """Say whether a spelling really has the composition of the species it is shown for."""
    return len(one) == len(other) and all(other.get(symbol) == count for symbol, count in one.items())
