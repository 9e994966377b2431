"""What a declared circumstance says: the quench, the vessel, the hood, the water, the still.

A context is a sentence of the user.  It is read on the wary side: what it denies ("not in a sealed vessel")
is left out, what cannot be read is reported, and nothing in it lifts a rule.

May import: errors, notation, and the kinds of this package.
"""

from __future__ import annotations

import re
from functools import lru_cache

from redoxlib.errors import RedoxlibError
from redoxlib.notation import Species
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._kinds import Kind

__all__ = ["aged", "closed", "damp", "distilled", "drinking", "generator", "hoodless", "quench_in", "water"]

K = Kind
_DENIED = re.compile(
    r"\b(?:not|non|never|no)[- ](?:(?:for|in|a|an|any|to|be|of|kept|intended|meant|used) )*\w+"
    r"(?:[- ](?:capped|tight))?",
    re.IGNORECASE,
)
_NEVER = re.compile(r"(?:\bnever|\bnot|n't|\bno)\s+(?:be |to |to be |ever )*$", re.IGNORECASE)
_REST = r"((?:[^.;]|\.(?=\S)|(?<=conc)\.|(?<=aq)\.)+)"
_QUENCH = re.compile(
    r"(?:(?:quench|kill|deactivat|decolou?ri[sz]|neutrali[sz]|destroy|basif|alkali[sz]|acidif|adjust"
    r"|made alkalin)(?:ed|e|ing|y|ied|ying)?)\b\s*"
    r"(?:(?:[\w.]+\s+){0,4}?(?:with|by|using|through|w/)\s+|[:=(]\s*|is\s+)" + _REST,
    re.IGNORECASE,
)
_QUENCH_INTO = re.compile(
    r"\b(?:quench|pour|absorb|scrubb?|go|put|run|dump)(?:ed|es|ing)?\s+(?:[\w.]+\s+){0,3}?(?:in|into|on|onto|over)\s+"
    + _REST,
    re.IGNORECASE,
)
_QUENCH_LATE = re.compile(
    r"(?:\b(?:add|adding|addition of)\s+)?((?:[\w()]+\s+){1,4}?)"
    r"(?:quench\b|as (?:the |a )?quench|to quench"
    r"|(?:(?:is |are |was |were )?added )?(?:in)?to (?:the )?(?:warm |cold |hot |acid )?"
    r"(?:liquor|mother liquor|residue|rest|remaining|leftover|left-over|excess|spent))",
    re.IGNORECASE,
)
"""A quench named before the word that says so: "ammonia is added to the liquor", "an ammonia quench"."""
_END = re.compile(
    r"\b(?:at|to|until|in|into|under|before|after|then|and then)\b.*", re.IGNORECASE | re.DOTALL
)
_NOISE = re.compile(
    r"\b\d+(?:[.,]\d+)?\s*(?:%(?:\s*w/[wv])?|m(?:ol)?(?:/l)?\b|g(?:/l)?\b|m?l\b)"
    r"|\b(?:conc|aq)\."
    r"|\b(?:only|solution|dilute|aqueous|conc(?:entrated)?|strong|weak|warm|cold|excess|ice|water|afterwards|"
    r"alone|first|slowly|household|clear|an?|the|of|some|more|little|plenty|tap|saturated|crushed)\b|[().]",
    re.IGNORECASE,
)
_PHRASE = re.compile(r"[,;]|\.(?=\s|$)")
_LEFT_OUT = re.compile(
    r"(?:\bno\b|\bnot\b|n't|\bnever|\bwithout|\bavoid|\bfree (?:of|from)|-free|\baway from|\binstead of"
    r"|\brather than|\babsen[ct]|\bkeep (?:out|off)|\bexclud|\bbath\b|\bcoolant|\bcondenser"
    r"|\bcooled (?:in|by|with)|\bdetector)",
    re.IGNORECASE,
)
_MEETS = re.compile(
    r"quench|kill|destroy|decolou?r|neutrali|react|treat|consum|remov|use[sd]? up|excess|left ?-?over"
    r"|\brest\b|residu|bromine|iodine|halogen|liquor|added|finish|until",
    re.IGNORECASE,
)
_WORD = re.compile(r"[A-Za-z][\w()+^-]*")
_SOLVENTS = frozenset({K.ACETONE, K.KETONE, K.ALCOHOL, K.ALDEHYDE})
_NITROGEN = frozenset({K.HYDRAZINE, K.AZIDE})

_CLOSED = re.compile(
    r"\b(?:sealed(?! (?:floor|bench|surface|label|road))|stoppered|corked|plugged|screw[- ]cap(?:ped|s)?\b"
    r"|air ?-?tight|gas[- ]?tight|hermetic\w*|autoclave|pressure (?:vessel|bottle|reactor|tube|flask|cooker)"
    r"|under (?:its own )?pressure"
    r"|tightly (?:closed|capped|shut|stoppered)|(?<!loosely )(?:closed|capped|shut) tight(?:ly)?"
    r"|(?:cap|lid|stopper|bung)s? (?:is |are )?(?:screwed |clamped |pushed |fitted )?(?:on|in|down|shut)\b"
    r"|(?:lid|cap) (?:screwed|clamped|bolted)|bolted|keep closed|kept closed"
    r"|(?<!loosely )closed (?:vessel|bottle|flask|drum|jar|tank|can|container|reactor|system|jerrycan|carboy"
    r"|vial|tube|ampoule|cylinder|bomb|pot|apparatus)|(?<!loosely )(?<!vented )capped)\b"
    r"|^\W*closed\W*$"
)
_HOODLESS = re.compile(
    r"\b(?:no|without(?: an?| any| the)?|not in(?: an?| the)?|outside(?: of)?(?: an?| the)?|lacking(?: an?)?)"
    r" (?:working |proper )?(?:fume ?-?)?(?:hood|cupboard|extraction|exhaust|ventilation|extractor)"
    r"|\b(?:hood|cupboard|extraction|exhaust|ventilation|extractor)s? (?:is |are )?(?:broken|off"
    r"|out of order|down|not working|switched off|does not work)|unventilated"
    r"|\bkitchen|\bbathroom|\bbedroom|\bliving room"
)
_DRINKING = re.compile(
    r"\b(?:drinking water|potable|for drinking|(?:to be|is|be) drunk|drinkable|tap water|mains water"
    r"|drink (?:it|the|this)|(?:household|municipal|village|school|domestic) (?:water|supply|well)"
    r"|beverage|baby)\b"
)
_WATER = ("water treatment", "water works", "waterworks", "drinking", "well water", "village well")
_DISTIL = re.compile(
    r"\b(?:re)?distil(?:l|ls|led|ling|lation)?\b(?! water| h2o)|\bboil(?:ed|ing|s)? (?:down|off)|evaporat"
    r"|\brotavap|\bconcentrat(?:e|ed|ing) (?:the|it|on|by|under|in vacuo|down|to)\b|\bstripped\b|to dryness",
)
_DAMP = re.compile(r"\b(?:damp|moist\w*|wet storage|stored wet)\b")
_AGED = re.compile(
    r"\b(?:aged|ageing|aging|stand(?:s|ing)?|stored?|storage|overnight|dried|dry out|evaporat\w*|kept for)\b"
)


def _said(text: str) -> str:
    """The text without what it denies ("not for drinking")."""
    return _DENIED.sub("", text.lower())


def closed(context: str) -> bool:
    """Whether the vessel is said to be closed."""
    return _CLOSED.search(_said(context)) is not None


def drinking(context: str) -> bool:
    """Whether people are said to drink the water."""
    return _DRINKING.search(_said(context)) is not None


def water(context: str) -> bool:
    """Whether it is said to be treatment of water."""
    return any(word in context.lower() for word in _WATER) or drinking(context)


def hoodless(context: str) -> bool:
    """Whether the place is said to have no working hood."""
    return _HOODLESS.search(context.lower()) is not None


def damp(context: str) -> bool:
    """Whether something is said to be stored damp."""
    return _DAMP.search(_said(context)) is not None


def aged(context: str) -> bool:
    """Whether something is said to stand, to be stored or to dry."""
    return _AGED.search(_said(context)) is not None


def generator(context: str) -> bool:
    """A generator of dilute chlorine dioxide at a water works."""
    text = _said(context)
    return "generator" in text and re.search(r"\bdiluted?\b", text) is not None


def distilled(context: str) -> bool:
    """Whether the pot is said to be distilled or boiled down before a reductant has done its work."""
    text = _said(context)
    found = _DISTIL.search(text)
    if found is None:
        return False
    for match in _QUENCH.finditer(text[: found.start()]):
        if any(kinds_of(s) & {K.SULFITE, K.THIOSULFATE} for s in _listed(match[1])[0]):
            return False
    return True


@lru_cache(maxsize=512)
def quench_in(context: str | None) -> tuple[frozenset[Species], tuple[str, ...]]:
    """Species that a context such as "quenched with ammonia and ice" names as the quench.

    Returns the species, and the names that nobody could read: what cannot be read must not pass for
    nothing.
    """
    found: set[Species] = set()
    unread: list[str] = []
    typed = context or ""
    for match in _QUENCH.finditer(typed):
        if _NEVER.search(typed[: match.start()]) is None:
            species, missing = _listed(match[1])
            found |= species
            unread += missing
    for match in (*_QUENCH_INTO.finditer(typed), *_QUENCH_LATE.finditer(typed)):
        if _NEVER.search(typed[: match.start()]) is None:
            found |= _listed(match[1])[0]
    return frozenset(found | _mentioned(typed)), tuple(unread)


def _listed(text: str) -> tuple[set[Species], list[str]]:
    """Species of a list such as "sulfite and soda", and the names that were not read whole."""
    found: set[Species] = set()
    unread: list[str] = []
    for name in re.split(r"\band\b|,|\+|/", _END.sub("", text)):
        plain = " ".join(_NOISE.sub(" ", name).split())
        if not plain or _LEFT_OUT.search(name):
            continue
        species, whole = _last_words(plain)
        if species is not None:
            found.add(species)
        if not whole:
            unread.append(plain)
    return found, unread


def _last_words(text: str) -> tuple[Species | None, bool]:
    """The species that the longest readable end of *text* names, and whether that is all of it."""
    words = text.split()
    for start in range(len(words)):
        try:
            return Species.parse(" ".join(words[start:])), start == 0
        except RedoxlibError:
            continue
    return None, False


def _mentioned(text: str) -> set[Species]:
    """Ammonia, hydrazine, azides, and solvents that meet a halogen, wherever a phrase names them undenied."""
    found: set[Species] = set()
    for phrase in _PHRASE.split(text):
        if _LEFT_OUT.search(phrase):
            continue
        words = _WORD.findall(phrase)
        meets = _MEETS.search(phrase) is not None
        for size in (1, 2, 3):
            for start in range(len(words) - size + 1):
                name = " ".join(words[start : start + size])
                if len(name) < 3:
                    continue
                species = _named(name)
                kinds = kinds_of(species) if species is not None else frozenset()
                if {K.AMMONIA, K.BASE} <= kinds or kinds & _NITROGEN or (meets and kinds & _SOLVENTS):
                    assert species is not None
                    found.add(species)
    return found


@lru_cache(maxsize=2048)
def _named(name: str) -> Species | None:
    try:
        return Species.parse(name)
    except RedoxlibError:
        return None
