"""Composition of a plain ASCII formula: symbols, brackets, subscripts and hydrate dots.

May import: nothing but the list of symbols.
"""

from __future__ import annotations

import re
from fractions import Fraction

from redoxlib.notation._elements import SYMBOLS

__all__ = ["MAX_DEPTH", "MAX_DIGITS", "composition", "split_dots"]

MAX_DEPTH = 64
MAX_DIGITS = 9

_NUMBER = r"(?:[1-9][0-9]{0,8}(?:\.[0-9]{1,9})?|0\.[0-9]{1,9}|_\{[1-9][0-9]{0,8}/[1-9][0-9]{0,8}\})"
_TOKEN = re.compile(rf"(?:([A-Z][a-z]?)|(\()|(\[)|([)\]]))({_NUMBER})?")
_PLAIN = re.compile(r"([A-Z][a-z]?)([0-9]*)")
_PLAIN_ONLY = re.compile(r"(?:[A-Z][a-z]?(?:[1-9][0-9]{0,8})?)+")
# A dot before a whole or fractional multiplier, or before the next formula, joins an adduct.
_DOT = re.compile(r"\.")
_PART = re.compile(r"([1-9][0-9]{0,8}/[1-9][0-9]{0,8}|[0-9]{1,9}\.[0-9]{1,9}|[1-9][0-9]{0,8})?(?=[A-Z(\[])")
# What a dot and a multiplier may be followed by for the dot to join an adduct rather than mark a decimal.
_SOLVATE = re.compile(
    r"(?:[0-9]+(?:[./][0-9]+)?)?(?:H2O|D2O|H2O2|NH3|HCl|H2SO4|CH3OH|C2H5OH|KHSO[45]|K2SO4)(?![a-z0-9])"
)


def number(text: str) -> int | Fraction:
    """Return a subscript or multiplier exactly."""
    if text[0] == "_":
        text = text[2:-1]
    if "." not in text and "/" not in text:
        return int(text)
    value = Fraction(text)
    return int(value) if value.denominator == 1 else value


def split_dots(body: str) -> list[tuple[int | Fraction, str]] | None:
    """Split ``CuSO4.5H2O`` into multipliers and parts; ``None`` when a dot makes no sense.

    A dot between digits is a decimal point (``Fe0.95O``, ``La1.85Sr0.15CuO4``) unless a common
    solvate follows, with or without a multiplier.
    """
    cuts: list[int] = []
    for match in _DOT.finditer(body):
        at = match.start()
        before, after = body[:at], body[at + 1 :]
        if not before or not after:
            return None
        decimal = before[-1].isdigit() and after[0].isdigit()
        if decimal and cuts and before[cuts[-1] + 1 :].isdigit():
            continue  # CaSO4.0.5H2O: the second dot is a decimal point of the multiplier
        if decimal and not _SOLVATE.match(after):
            continue
        cuts.append(at)
    parts: list[tuple[int | Fraction, str]] = []
    start = 0
    for index, end in enumerate([*cuts, len(body)]):
        part = body[start:end]
        start = end + 1
        times: int | Fraction = 1
        if index:
            lead = _PART.match(part)
            if lead is None:
                return None
            if lead.group(1):
                times = number(lead.group(1))
                part = part[lead.end() :]
        if not part or times <= 0:
            return None
        parts.append((times, part))
    return parts


def composition(body: str) -> dict[str, int | Fraction] | None:
    """Count the atoms of a plain formula; ``None`` when it is anything but plain."""
    counts: dict[str, int | Fraction] = {}
    if _PLAIN_ONLY.fullmatch(body):
        for symbol, digits in _PLAIN.findall(body):
            if symbol not in SYMBOLS:
                return None
            counts[symbol] = counts.get(symbol, 0) + (int(digits) if digits else 1)
        return counts
    parts = split_dots(body) if "." in body else [(1, body)]
    if parts is None:
        return None
    for times, part in parts:
        inside = _part(part)
        if inside is None:
            return None
        for symbol, count in inside.items():
            counts[symbol] = counts.get(symbol, 0) + count * times
    return {s: int(n) if isinstance(n, Fraction) and n.denominator == 1 else n for s, n in counts.items()}


def _part(part: str) -> dict[str, int | Fraction] | None:
    """Count the atoms of one undotted part: part = (SYMBOL NUMBER? | "(" part ")" NUMBER?)+ ."""
    level: dict[str, int | Fraction] = {}
    outer: list[tuple[str, dict[str, int | Fraction]]] = []
    at = 0
    while at < len(part):
        token = _TOKEN.match(part, at)
        if token is None:
            return None
        symbol, opened, square, closed, digits = token.groups()
        at = token.end()
        times = number(digits) if digits else 1
        if symbol:
            if symbol not in SYMBOLS:
                return None
            level[symbol] = level.get(symbol, 0) + times
        elif opened or square:
            if digits or len(outer) >= MAX_DEPTH:
                return None
            outer.append((")" if opened else "]", level))
            level = {}
        else:
            if not outer or outer[-1][0] != closed or not level:
                return None
            inside, level = level, outer.pop()[1]
            for inner, count in inside.items():
                level[inner] = level.get(inner, 0) + count * times
    return level if level and not outer else None
