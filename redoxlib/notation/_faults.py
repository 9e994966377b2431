"""Why a text is no species: the first fault, its place, and the nearest repair.

May import: errors and this package.
"""

from __future__ import annotations

import re

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation._elements import SYMBOLS, near_symbols
from redoxlib.notation._formula import MAX_DEPTH, MAX_DIGITS
from redoxlib.notation._names import names
from redoxlib.notation._normal import Glyphs
from redoxlib.notation._symbolic import looks_symbolic, parse_symbolic, symbolic_at

__all__ = ["fault"]

_SYMBOL = re.compile(r"[A-Z][a-z]?")
_WORD = re.compile(r"[A-Za-z]?[a-z]{3,}")


def fault(source: str, core: Glyphs) -> NotationError:
    """Return the error to raise for a text with no reading."""
    text = core.text
    long_number = re.search(rf"[0-9]{{{MAX_DIGITS + 1},}}", text)
    if long_number:
        return BudgetError(
            f"a number of {len(long_number.group())} digits is longer than the limit of {MAX_DIGITS}",
            source=source,
            span=core.span(long_number.start(), long_number.end()),
        )
    depth = 0
    for at, char in enumerate(text):
        depth += (char in "([") - (char in ")]")
        if depth > MAX_DEPTH:
            return BudgetError(
                f"brackets are nested deeper than the limit of {MAX_DEPTH}",
                source=source,
                span=core.span(at, at + 1),
            )
    if not text:
        return NotationError("there is no formula in this text", source=source, span=(0, max(1, len(source))))
    if looks_symbolic(text):
        return _letter_for_number(source, core)
    words = _WORD.findall(text)
    if words and sum(map(len, words)) > len(text) / 2 and not re.match(r"[A-Z][a-z]?[0-9(\[]", text):
        return _unknown_name(source, core)
    return _spelling(source, core)


def _unknown_name(source: str, core: Glyphs) -> NotationError:
    near = names().near(core.text)
    hint = "did you mean " + " or ".join(repr(name) for name in near) + "?" if near else "write its formula"
    return NotationError(
        f"unknown name {core.text[:60]!r}",
        source=source,
        span=core.span(0, len(core.text)),
        hint=hint,
        near=near,
    )


def _spelling(source: str, core: Glyphs) -> NotationError:
    """Walk over the formula and stop at the first thing that cannot stand there."""
    text = core.text
    open_at: list[tuple[str, int]] = []
    at = 0
    after_unit = False
    while at < len(text):
        char = text[at]
        if char.isupper():
            match = _SYMBOL.match(text, at)
            symbol = match.group() if match else char
            if symbol not in SYMBOLS and symbol[0] in SYMBOLS and not text[at + 1 : at + 2].islower():
                symbol = symbol[0]
            if symbol not in SYMBOLS:
                near = near_symbols(symbol)
                return NotationError(
                    f"unknown element {symbol!r}",
                    source=source,
                    span=core.span(at, at + len(symbol)),
                    hint=f"did you mean {near[0]!r}?" if near else None,
                )
            at += len(symbol)
            after_unit = True
            continue
        if char.islower():
            return _small_letter(source, core, at)
        if char in "([":
            open_at.append((char, at))
            after_unit = False
        elif char in ")]":
            if not open_at or open_at[-1][0] != ("(" if char == ")" else "["):
                return NotationError(
                    f"{char!r} closes nothing",
                    source=source,
                    span=core.span(at, at + 1),
                    hint="remove it or open a bracket",
                )
            if not after_unit:
                return NotationError(
                    "an empty bracket", source=source, span=core.span(open_at[-1][1], at + 1)
                )
            open_at.pop()
            after_unit = True
        elif char.isdigit():
            end = at
            while end < len(text) and text[end].isdigit():
                end += 1
            if not after_unit and at:
                return NotationError(
                    f"the number {text[at:end]} follows nothing it could count",
                    source=source,
                    span=core.span(at, end),
                )
            if text[at] == "0":
                return NotationError(
                    f"a subscript cannot begin with zero: {text[at:end]}",
                    source=source,
                    span=core.span(at, end),
                    hint="did you mean the letter 'O'?",
                )
            at = end
            continue
        elif char not in " ·.-=":
            return NotationError(f"{char!r} has no place here", source=source, span=core.span(at, at + 1))
        at += 1
    if open_at:
        char, where = open_at[-1]
        return NotationError(
            f"{char!r} is never closed",
            source=source,
            span=core.span(where, where + 1),
            hint="close the bracket",
        )
    return NotationError("this cannot be read as a species", source=source, span=core.span(0, len(text)))


def _letter_for_number(source: str, core: Glyphs) -> NotationError:
    at = symbolic_at(core.text)
    try:
        parse_symbolic(source)
    except NotationError as error:
        return error
    return NotationError(
        f"{core.text[at]!r} stands for a number that is not given",
        source=source,
        span=core.span(at, at + 1),
        hint="symbolic formulas are read by redoxlib.notation.parse_symbolic",
    )


def _small_letter(source: str, core: Glyphs, at: int) -> NotationError:
    text = core.text
    near = near_symbols(text[at : at + 2].capitalize()) if at == 0 else ()
    return NotationError(
        f"{text[at]!r} is no symbol of an element",
        source=source,
        span=core.span(at, at + 1),
        hint=f"symbols begin with a capital; did you mean {near[0]!r}?"
        if near
        else "symbols begin with a capital",
    )
