"""Where the two sides of an equation meet: arrows in every state of repair.

May import: errors.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from redoxlib.errors import NotationError

__all__ = ["Arrow", "find_arrow"]


@dataclass(frozen=True, slots=True)
class Arrow:
    """Place of the arrow, and whether it points to the left."""

    start: int
    end: int
    backward: bool = False


_RIGHT = "→⟶⇌⇄↔⟷⇔⇒⟹➔➝➞➙➜➛⇋⇆↦⭢⥂⥤⥨⇀⇁⟾➡⇨⟼⤏⇢⇾▶►🡒🡆\uf0ae\uf0e0\uf0de\uf0e8"
_LEFT = "←⟵⇐⟸⬅"
_LINE = r"\-=–—−─═⎯‒―－＝ー"
_STRONG = re.compile(
    # LaTeX
    r"(?P<tex>\\(?:(?:x|long|Long)?(?:left|Left)?(?:right|Right)(?:left)?(?:arrow|harpoons?)s?(?![A-Za-z])"
    r"|to(?![A-Za-z])|implies|iff|rightarrow|longmapsto|mapsto|rightleftarrows)"
    r"(?:\[[^\[\]]{0,200}\])?(?:\{[^{}]{0,200}\})?(?:\{[^{}]{0,200}\})?)"
    # HTML entities and words left over from markup
    r"|(?P<entity>&(?:rarr|rArr|harr|hArr|#8594|#x2192|#8652|#x21[cC]C|#10230);)"
    r"|(?P<left_over>rarr|rArr|harr|hArr)(?![a-z])"
    r"|(?P<word>(?<![A-Za-z])(?:rightarrow|longrightarrow|rightleftharpoons|leftrightarrow|yields?|gives?|"
    r"produces?|goes to|to give|to form|to yield|becomes?)(?![A-Za-z]))"
    # drawn with dashes: ->, =>, -- >, ==>, <=>, <->, —>, ──>; mhchem conditions in brackets
    rf"|(?P<drawn>(?:<[ ]?|⟨)?(?:[{_LINE}][ ]?){{1,40}}>{{1,3}}(?:\[[^\[\]]{{0,200}}\]){{0,2}})"
    rf"|(?P<glyph>[{_RIGHT}][\ufe0e\ufe0f]?(?:\[[^\[\]]{{0,200}}\]){{0,2}}(?:\s?[{_RIGHT}])?)"
)
_DASH_THEN_ARROW = re.compile(rf".\s+(?:[{_LINE}]\s?)*[{_LINE}]>")
_BACK = re.compile(
    rf"\\(?:long|x)?leftarrow(?![A-Za-z])(?:\{{[^{{}}]{{0,200}}\}})?|&larr;|[{_LEFT}]"
    rf"|<[ ]?(?:[{_LINE}][ ]?){{1,40}}(?![>{_LINE}0-9])"
)
# Symbols of another font in place of an arrow.
_FONT = re.compile(r"(?<=[\s)0-9A-Za-z+])(?:®|à|è|Æ|®)(?=[\s0-9A-Z])")
_EQUALS = re.compile(r"(?<![<>])[=＝═]{1,3}(?![>])")
_HEADLESS = re.compile(rf"(?<=\s)(?:[{_LINE}]{{2,40}}|—|―|>|»|›)(?=\s)")


def find_arrow(text: str, start: int, end: int) -> Arrow:
    """Find the one arrow in ``text[start:end]``.

    Raises
    ------
    NotationError
        If there is no arrow, or more than one.
    """
    found = [Arrow(_past_charge(text, m.start()), m.end()) for m in _STRONG.finditer(text, start, end)]
    if not found:
        found = [Arrow(m.start(), m.end(), backward=True) for m in _BACK.finditer(text, start, end)]
    if not found:
        found = [Arrow(m.start(), m.end()) for m in _FONT.finditer(text, start, end)]
    if not found:
        found = _equals(text, start, end)
    if not found:
        found = [Arrow(m.start(), m.end()) for m in _HEADLESS.finditer(text, start, end)]
    if not found:
        raise NotationError(
            "no arrow between reactants and products",
            source=text,
            span=(start, max(end, start + 1)),
            hint="write -> between the two sides",
        )
    if len(found) > 1:
        second = found[1]
        raise NotationError(
            "more than one arrow",
            source=text,
            span=(second.start, second.end),
            hint="write one equation at a time",
        )
    return found[0]


def _past_charge(text: str, at: int) -> int:
    """Return where the arrow begins: a dash glued to a formula, then a space, is a charge (``I- -> I2``)."""
    if at == 0 or text[at] not in "-–−—‒":
        return at
    if _DASH_THEN_ARROW.match(text, at):
        return at + 1
    glued = not text[at - 1].isspace() and text[at + 1 : at + 2] in (" ", "=")
    return at + 1 if glued else at


def _equals(text: str, start: int, end: int) -> list[Arrow]:
    """Find the equals sign that is an arrow: between formulas it may be a double bond instead."""
    signs = [Arrow(m.start(), m.end()) for m in _EQUALS.finditer(text, start, end)]
    if len(signs) < 2:
        return signs
    spaced = [
        sign
        for sign in signs
        if (sign.start == 0 or text[sign.start - 1].isspace())
        or (sign.end < end and text[sign.end].isspace())
    ]
    return spaced or signs
