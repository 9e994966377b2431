"""What is glued to a formula without belonging to it: phases, precipitates, concentrations, remarks.

label = "(" WORD ")" | "↑" | "↓" | WORD ;  an unclosed bracket at the end of the text counts as closed.

May import: the values of this package.
"""

from __future__ import annotations

import re

from redoxlib.notation._normal import Glyphs
from redoxlib.notation._species import Phase

__all__ = ["strip_labels", "strip_leading"]

_WORDS = {
    Phase.SOLID: "s solid solido sol cr am amorph ppt ppt. precipitate graphite rhombic crystalline powder",
    Phase.LIQUID: "l liq liq. liquid molten melt fl lq",
    Phase.GAS: "g gas gaseous vap vapor vapour gás",
    Phase.AQUEOUS: "aq aq. ac ac. aqu aqueous soln soln. solution sol. water dil dil. dilute diluted wss",
}
_PHASE = {word: phase for phase, words in _WORDS.items() for word in words.split()}
# What scanners make of (l) and (g).
_SCANNED = {"1": Phase.LIQUID, "9": Phase.GAS}
del _PHASE["sol"]  # a solid here, a solution there: it says nothing

_BRACKET = re.compile(r"\s*[(\[]\s*([^()\[\]]{0,60}?)\s*([)\]]|$)\s*$")
_BARE = re.compile(
    r"(?:\s*,\s*|\s+)(aq\.?|water|ppt\.?|precipitate|gas|solid|liquid|aqueous|conc\.?|dil\.?|dilute|v|s|l|g)\s*\)?$"
)
_FACTOR_ALONE = re.compile(r"[0-9]+(?:[ /.,][0-9]+)*")
_GLUED = re.compile(r"(?<=[A-Za-z0-9)\]+-])(ppt\.?|aq|aq\))$")
_ARROW = re.compile(r"\s*\(?([↑↓])\)?\s*$")
# Words of a remark; one of them is enough, a formula holds none.
_REMARK = re.compile(
    r"\b(?:conc|concentrated|dil|dilute|hot|cold|warm|boiling|excess|xs|fuming|heat|heated|in|solution|medium|acidic|acidified|acid|"
    r"basic|alkaline|base|neutral|sol|trace|unbalanced|balanced|catalyst|cat|strong|weak|purple|colou?rless|brown|green|"
    r"orange|yellow|blue|red|white|black|violet|pink|deep|dark|pale|anode|cathode|oxidation|reduction|nascent|pure|limited|"
    r"light|skeleton|air|pH|c|slow|fast|from|as|or|moist|dry|glacial|anhydrous|medio|ácido|básico|conc\.|dil\.)\b|"
    r"^[0-9]+(?:[.,][0-9]+)?\s*(?:%|M|N|m|atm|bar|K|mol|g|mL|w/w|°)"
)
_LEADING = re.compile(
    r"(?i)\s*(?:(?:hot|cold|warm|conc\.?|concentrated|dil\.?|dilute|excess|aqueous|aq\.?|solid|gaseous|liquid|molten|nascent)"
    r"(?:[\s,]+|(?<=\.))(?:and\s+)?)+(?=[A-Z(\[0-9])"
)


def strip_labels(glyphs: Glyphs) -> tuple[Glyphs, Phase]:
    """Take the labels off the end; return the rest and the phase they state."""
    phase = Phase.UNSTATED
    for _ in range(6):
        glyphs = glyphs.strip()
        text = glyphs.text
        cut: int | None = None
        stated: Phase | None = None
        match = _ARROW.search(text)
        if match and match.start():
            cut, stated = match.start(), Phase.GAS if match.group(1) == "↑" else Phase.SOLID
        if cut is None:
            match = _BRACKET.search(text)
            if match and match.start():
                stated = _stated(match.group(1))
                if stated is not None:
                    cut = match.start()
        if cut is None:
            match = _BARE.search(text) or _GLUED.search(text)
            if match and match.start():
                word = match.group(1).rstrip(")")
                stated = Phase.SOLID if word == "v" else _stated(word)
                cut = match.start() if stated is not None else None
                if word == "water" and _FACTOR_ALONE.fullmatch(text, 0, match.start()):
                    cut = None  # the substance that is counted
        if cut is None:
            cut, stated = _script_label(glyphs)
        if cut is None:
            break
        phase = phase or stated or Phase.UNSTATED
        glyphs = glyphs.cut(0, cut)
    return glyphs.strip(), phase


def _stated(word: str) -> Phase | None:
    """Return the phase *word* states, unstated for a mere remark, ``None`` if it is no label."""
    plain = " ".join(word.split())
    folded = plain.lower()
    if plain == "S":
        return None
    for form in (folded, folded.replace(" ", ""), *re.split(r"[,;]\s*", folded)):
        if form in _PHASE:
            return _PHASE[form]
    if folded in _SCANNED:
        return _SCANNED[folded]
    return Phase.UNSTATED if _REMARK.search(folded) else None


def _script_label(glyphs: Glyphs) -> tuple[int | None, Phase | None]:
    """Find a phase written as a bare subscript, as in ``Cl_{2(g)}`` or ``H_2O_{l}``."""
    at = len(glyphs.text)
    while at and glyphs.level[at - 1] == "d" and glyphs.text[at - 1].isalpha():
        at -= 1
    word = glyphs.text[at:].lower()
    if at and word in ("s", "l", "g", "aq"):
        return at, _PHASE[word]
    return None, None


def strip_leading(text: str) -> int:
    """Return how many characters of leading remark (``conc. HNO3``) to skip."""
    match = _LEADING.match(text)
    return match.end() if match else 0
