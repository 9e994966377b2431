"""One alphabet out of many: dashes, dots, scripts, LaTeX, HTML, AsciiMath and old typewriter habits.

Code points are mapped by the tables below and never by compatibility normalisation, which would
turn SO₄²⁻ into SO42-.  Letters that only look like Latin ones are refused by name.

May import: errors.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from redoxlib.errors import NotationError

__all__ = ["Glyphs", "normalise"]

BASE, SUPER, SUB = "b", "u", "d"

_DASH = dict.fromkeys("-‐‑‒–—―−⁃¯ˉ‾─━⎯﹣－ー﹘", "-")
_PLUS = dict.fromkeys("+＋﹢➕", "+")
_DOT = dict.fromkeys("·•∙⋅‧・●∗*×᛫▪⋆", "·")
_OTHER = {
    "（": "(",
    "）": ")",
    "［": "[",
    "］": "]",
    "＝": "=",
    "═": "=",
    "⇑": "↑",
    "⇓": "↓",
    "⁄": "/",
    "∕": "/",
    "’": "'",
    "ℓ": "l",
}
_SUPER = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾ᴵⱽ", "0123456789+-()IV", strict=True))
_SUB = dict(zip("₀₁₂₃₄₅₆₇₈₉₊₋₍₎ₓₙₘ", "0123456789+-()xnm", strict=True))
_ROMAN = {
    chr(0x2160 + n): text
    for n, text in enumerate(["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"])
}
_DROPPED = frozenset('​‌‍⁠﻿­\u2061\u2062\u2063\u2064$"`“”„')
FRACTIONS = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅐": "1/7",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅑": "1/9",
    "⅒": "1/10",
}
_PLAIN = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789()[].,;:/=≡#'↑↓%?&")

# Circles and thetas in which some books set the sign of a charge.
_SIGN_GLYPHS = {**dict.fromkeys("ɵΘθϴϑ⊖⊝ꝋ", "-"), **dict.fromkeys("⊕⨁", "+")}
_BLANKS = frozenset("…□▢")

# Letters of other scripts that pass for Latin ones on a screen.
_LOOKS_LIKE = dict(zip("АВЕКМНОРСТХаеорсухіІЅЈԛԝ", "ABEKMHOPCTXaeopcyxiISJqw", strict=True)) | dict(
    zip("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧονι", "ABEZHIKMNOPTYXovi", strict=True)
)

_COMMAND = re.compile(r"\\([A-Za-z]+)\s*\*?|\\([,;:! \\])")
_WRAPPERS = frozenset(
    [
        "ce",
        "pu",
        "mathrm",
        "text",
        "textrm",
        "textnormal",
        "mathsf",
        "mathbf",
        "mathit",
        "rm",
        "operatorname",
        "left",
        "right",
        "quad",
        "qquad",
        "displaystyle",
        "textstyle",
        "mbox",
        "hbox",
        "bf",
        "it",
        "limits",
        "nolimits",
        "phantom",
        "big",
        "Big",
        "kern",
        "hspace",
        "large",
        "small",
    ]
)
_COMMAND_TEXT = {
    "cdot": "·",
    "bullet": "·",
    "ast": "·",
    "times": "·",
    "cdotp": "·",
    "centerdot": "·",
    "uparrow": "↑",
    "downarrow": "↓",
    "minus": "-",
    "textminus": "-",
    "plus": "+",
    "equiv": "≡",
}
_ENTITY = re.compile(r"&(#[0-9]{1,6}|#x[0-9A-Fa-f]{1,5}|[A-Za-z0-9]{2,8});")
_ENTITY_TEXT = {
    "minus": "−",
    "plus": "+",
    "middot": "·",
    "bull": "•",
    "nbsp": " ",
    "thinsp": " ",
    "ndash": "–",
    "mdash": "—",
    "sup1": "¹",
    "sup2": "²",
    "sup3": "³",
    "frac12": "½",
    "frac14": "¼",
    "frac34": "¾",
    "amp": "&",
    "lt": "<",
    "gt": ">",
    "rarr": "→",
    "larr": "←",
    "harr": "↔",
    "rArr": "⇒",
    "quot": '"',
    "uarr": "↑",
    "darr": "↓",
    "sdot": "⋅",
}
_TAG = re.compile(r"</?([A-Za-z][A-Za-z0-9]*)[^<>]{0,60}>")


# What a bare ^ or _ takes with it: a charge, a lost sign, a Roman numeral; a subscript or a letter.
_SUPER_RUN = re.compile(
    r"(?:[-−–—‑]|\+)[0-9](?![0-9A-Za-z])|[0-9]*\s?(?:[-−–—‑]+|\++)|[0-9]+|[IVX]+(?![a-z])"
)
_SUB_RUN = re.compile(r"[0-9]+(?:\.[0-9]+)?|[nxmy]|(?=\\)")
_TWO_NUMBERS = "write one of them; a hydrate needs a dot (CuSO4.5H2O), a strength its unit (H2SO4 98 % w/w)"


@dataclass(frozen=True, slots=True)
class Glyphs:
    """Normalised text: characters, their levels (base, super, sub) and places in the source, in step."""

    text: str
    level: str
    place: tuple[int, ...]
    raised_sign: bool = False

    def cut(self, start: int, end: int | None = None) -> Glyphs:
        """Return the glyphs from *start* to *end*."""
        part = slice(start, end)
        return Glyphs(self.text[part], self.level[part], self.place[part], self.raised_sign)

    def without(self, start: int, end: int) -> Glyphs:
        """Return the glyphs outside ``start:end``."""
        return Glyphs(
            self.text[:start] + self.text[end:],
            self.level[:start] + self.level[end:],
            self.place[:start] + self.place[end:],
            self.raised_sign,
        )

    def strip(self) -> Glyphs:
        """Return the glyphs without spaces at the ends."""
        start = len(self.text) - len(self.text.lstrip())
        return self.cut(start, max(start, len(self.text.rstrip())))

    def span(self, start: int, end: int) -> tuple[int, int]:
        """Return the place of ``start:end`` in the source."""
        if not self.place:
            return (0, 1)
        last = len(self.place) - 1
        first = self.place[min(start, last)]
        return first, max(first, self.place[min(max(end - 1, start), last)]) + 1


def entity(text: str, at: int) -> tuple[str, int] | None:
    """Return the character an HTML entity at *at* stands for, and its end."""
    match = _ENTITY.match(text, at)
    if match is None:
        return None
    name = match.group(1)
    if name[0] == "#":
        code = int(name[2:], 16) if name[1] == "x" else int(name[1:])
        return (chr(code), match.end()) if 31 < code < 0x110000 else None
    found = _ENTITY_TEXT.get(name)
    return (found, match.end()) if found else None


class _Reader:
    """Walks over the source once and collects glyphs."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.chars: list[str] = []
        self.levels: list[str] = []
        self.places: list[int] = []
        # Open groups: the character that closes each, and the level to return to.
        self.groups: list[tuple[str, str]] = []
        self.level = BASE

    def put(self, text: str, level: str, place: int) -> None:
        if text == " " and self.chars and self.chars[-1] == " ":
            return
        for char in text:
            self.chars.append(char)
            self.levels.append(level)
            self.places.append(place)

    def _behind_a_number(self) -> bool:
        return bool(self.chars) and self.chars[-1].isdecimal() and self.levels[-1] is not SUPER

    def read(self) -> Glyphs:
        at = 0
        while at < len(self.source):
            at = self.step(at)
        text, level = "".join(self.chars), "".join(self.levels)
        raised_sign = "⁻" in self.source or "⁺" in self.source
        return _ratios_marked(Glyphs(text, level, tuple(self.places), raised_sign))

    def step(self, at: int) -> int:
        char = self.source[at]
        if char == "\\":
            return self.command(at)
        if char == "<":
            tag = _TAG.match(self.source, at)
            if tag:
                self.tag(tag.group(1).lower(), closing=self.source[at + 1] == "/")
                return tag.end()
        if char == "&":
            decoded = entity(self.source, at)
            if decoded:
                self.char(decoded[0], at)
                return decoded[1]
        if char in "^_~":
            return self.script(at)
        if char == "{":
            self.groups.append(("}", self.level))
            return at + 1
        if self.groups and char == self.groups[-1][0]:
            self.level = self.groups.pop()[1]
            return at + 1
        if char == "}":
            return at + 1
        self.char(char, at)
        return at + 1

    def tag(self, name: str, *, closing: bool) -> None:
        if name in ("sup", "sub"):
            self.level = BASE if closing else (SUPER if name == "sup" else SUB)

    def command(self, at: int) -> int:
        match = _COMMAND.match(self.source, at)
        if match is None:
            raise self.error(at, at + 1, "a backslash without a command")
        name = match.group(1)
        if name is None:
            self.put(" ", self.level, at)
        elif name in _COMMAND_TEXT:
            self.put(_COMMAND_TEXT[name], self.level, at)
        elif name not in _WRAPPERS:
            raise self.error(at, match.end(), f"unknown LaTeX command \\{name}")
        return match.end()

    def script(self, at: int) -> int:
        """Read what follows ``^``, ``_`` or ``~``: a group, or the longest run that can be a script."""
        mark = self.source[at]
        level = SUPER if mark == "^" else SUB
        after = at + 1
        rest = self.source[after : after + 1]
        if mark == "~":
            pair = re.compile(r"([0-9]{1,9})~").match(self.source, after)
            if pair is None:
                self.put(" ", BASE, at)  # a LaTeX tie
                return after
            self.put(pair.group(1), SUB, at)
            return pair.end()
        if mark == "_" and (rest == "_" or not self.chars or self.chars[-1] == "_"):
            self.put("_", BASE, at)
            return after
        if mark == "_" and self._behind_a_number() and rest and rest in "{(0123456789":
            raise self.error(at, after + 1, "a subscript right behind another number", _TWO_NUMBERS)
        if rest in ("{", "("):
            self.groups.append(("}" if rest == "{" else ")", self.level))
            self.level = level
            return after + 1
        run = (_SUPER_RUN if level is SUPER else _SUB_RUN).match(self.source, after)
        if run is None:
            if mark == "^":
                return after  # the closing caret of ^2-^, or a caret before a Unicode superscript
            self.put("_", BASE, at)
            return after
        for offset, char in enumerate(run.group()):
            self.put(_DASH.get(char, char), level, after + offset)
        return run.end()

    def char(self, char: str, at: int) -> None:
        level = self.level
        if char in _PLAIN:
            self.put(char, level, at)
        elif char in _DASH:
            self.put("-", level, at)
        elif char in _PLUS:
            self.put("+", level, at)
        elif char.isspace():
            self.put(" ", level, at)
        elif char in _DROPPED:
            return
        elif char in _SUPER:
            self.put(_SUPER[char], SUPER, at)
        elif char in _SUB:
            self.put(_SUB[char], SUB, at)
        elif char in _DOT:
            # A radical dot stands inside the superscript and changes nothing but the drawing.
            if level is not SUPER:
                self.put("·", level, at)
        elif char in _OTHER:
            self.put(_OTHER[char], level, at)
        elif char in _ROMAN:
            self.put(_ROMAN[char], level, at)
        elif char in _SIGN_GLYPHS and level is SUPER:
            self.put(_SIGN_GLYPHS[char], level, at)
        elif char in _BLANKS:
            self.put("_", level, at)
        elif char == "ē":
            self.put("e", level, at)
            self.put("-", SUPER, at)
        elif char in FRACTIONS:
            self.put(FRACTIONS[char], level, at)
        else:
            raise self.strange(char, at)

    def error(self, start: int, end: int, message: str, hint: str | None = None) -> NotationError:
        return NotationError(message, source=self.source, span=(start, end), hint=hint)

    def strange(self, char: str, at: int) -> NotationError:
        import unicodedata

        name = unicodedata.name(char, "").lower() or "control character"
        code = f"U+{ord(char):04X}"
        latin = _LOOKS_LIKE.get(char)
        if latin:
            return self.error(
                at, at + 1, f"{code} {name} only looks like the letter {latin}", f"type a Latin {latin!r}"
            )
        if 0xFF01 <= ord(char) <= 0xFF5E:
            plain = chr(ord(char) - 0xFEE0)
            return self.error(at, at + 1, f"{code} {name} is not {plain!r}", f"type a plain {plain!r}")
        digit = unicodedata.digit(char, None)
        if digit is not None:
            return self.error(at, at + 1, f"{code} {name} is not a digit 0-9", f"type a plain {digit}")
        return self.error(at, at + 1, f"{code} {name} has no place in a formula")


def _ratios_marked(glyphs: Glyphs) -> Glyphs:
    """Put a ratio set low between ``_{`` and ``}``, the form in which formulas hold it."""
    for bar in reversed([at for at, char in enumerate(glyphs.text) if char == "/"]):
        start, end = bar, bar + 1
        while start and glyphs.text[start - 1].isdigit() and glyphs.level[start - 1] == SUB:
            start -= 1
        while end < len(glyphs.text) and glyphs.text[end].isdigit() and glyphs.level[end] == SUB:
            end += 1
        if start == bar or end == bar + 1:
            continue
        first, last = glyphs.place[start], glyphs.place[end - 1]
        glyphs = Glyphs(
            f"{glyphs.text[:start]}_{{{glyphs.text[start:end]}}}{glyphs.text[end:]}",
            glyphs.level[:start] + SUB * (end - start + 3) + glyphs.level[end:],
            (*glyphs.place[:start], first, first, *glyphs.place[start:end], last, *glyphs.place[end:]),
            glyphs.raised_sign,
        )
    return glyphs


def normalise(source: str) -> Glyphs:
    """Map *source* to the house alphabet.

    Raises
    ------
    NotationError
        At a character or command that has no place in a formula.
    """
    return _Reader(source).read()
