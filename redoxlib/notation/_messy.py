"""Reading a species that is not plain: every reading the text allows is weighed, the likeliest is taken.

The weighing uses known ions and molecules first, then usual oxidation numbers.  A second reading
that is honest too becomes an :class:`Assumption`.

May import: errors and this package.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from redoxlib.errors import NotationError
from redoxlib.notation._charge import has_roman, readings
from redoxlib.notation._choice import chosen, doubted, finished
from redoxlib.notation._faults import fault
from redoxlib.notation._formula import composition
from redoxlib.notation._labels import strip_labels, strip_leading
from redoxlib.notation._names import Names, names, parts_of
from redoxlib.notation._normal import Glyphs, normalise
from redoxlib.notation._reading import Reading
from redoxlib.notation._species import Count, Phase, Species, assemble
from redoxlib.notation._symbolic import looks_symbolic
from redoxlib.notation._variants import lookalikes

__all__ = ["read_counted", "read_messy"]

_CLEAR = re.compile(r"(.+?)(?:\^([0-9]{0,2})([+-]))?(?:\((aq|s|l|g)\))?", re.DOTALL).fullmatch
_LETTERS = re.compile(
    r"[a-z]{3}|^[a-z]|Ph|Ac|DC|^[0-9][A-Z].*[.·•∙⋅]|[0-9]{2,7}-[0-9]{2}-[0-9]$"
    r"|^[A-Za-z]{2,}[- ][A-Z]$|^[A-Z]{3,5}$"
)
_BLANK = re.compile(r"\s*(?:_+|…|\.{2,}|□|\?+|\(\s*_*\s*\)|\[\s*\])?\s*")
_FACTOR = re.compile(
    r"((?:[0-9]{1,9} )?[0-9]{1,9}/[0-9]{1,9}|[0-9]{1,9}[.,][0-9]{1,9}|[0-9]{1,9})"
    r"\s*(?:[·*x]\s*)?(?=[A-Za-z(\[{])"
)
_TIMES_WATER = re.compile(r"(?<=[A-Za-z0-9)] )([xX])(?= [0-9./]*\s?H2O$)")


def read_messy(source: str) -> Species:
    """Read one species of any style; a factor before it is not part of the species and is left out."""
    return _read(source, standalone=True)[0]


@lru_cache(maxsize=16384)
def read_counted(source: str) -> tuple[Species, Count]:
    """Read one species of an equation and the factor before it; plus signs next to it are dealt with."""
    return _read(source, standalone=False)


def _read(source: str, *, standalone: bool) -> tuple[Species, Count]:
    if not source.strip():
        raise NotationError("an empty text is no species", source=source, span=(0, max(1, len(source))))
    if _LETTERS.search(source):
        named = _read_name(source)
        if named is not None:
            return named
    found = _read_clear(source)
    if found is not None:
        return found, 1
    glyphs = normalise(source)
    core, phase, factor = _core(glyphs)
    if looks_symbolic(core.text):
        raise fault(source, core)
    try:
        possible = readings(core, standalone=standalone) or _last_resort(core, standalone=standalone)
    except NotationError as error:
        raise NotationError(error.message, source=source, span=error.span, hint=error.hint) from None
    if not possible:
        named = _read_name(source)
        if named is not None:
            return named
        raise fault(source, core)
    return chosen(core, possible, phase), factor


def _last_resort(core: Glyphs, *, standalone: bool) -> list[Reading]:
    """Read text whose digits and signs only make sense once a look-alike is exchanged: S042-."""
    for changed, why in lookalikes(core.text):
        if len(changed) == len(core.text):
            other = replace(core, text=changed)
            found = [r for r in readings(other, standalone=standalone) if r.weight < 1 and r.identity[0]]
            if found:
                best = min(found, key=lambda reading: reading.weight)
                return [replace(best, why=f"{best.why}; {why}" if best.why else why)]
    return []


def _read_clear(source: str) -> Species | None:
    """Read text that is plain ASCII in the house style, charge after a caret."""
    found = _CLEAR(source)
    if found is None:
        return None
    body, digits, sign, label = found.groups()
    if body == "e" and sign == "-" and digits in ("", "1"):
        return assemble((), -1, Phase(label or ""), None, "e")
    counts = composition(body)
    if counts is None or (digits or "").startswith("0") or has_roman(body):
        return None
    charge = 0 if not sign else int(digits or 1) * (1 if sign == "+" else -1)
    atoms = tuple(sorted(counts.items()))
    phase = Phase(label or "")
    end = len(source) - (len(label) + 2 if label else 0)
    reading = Reading(body, atoms, charge, 0.0)
    repaired = doubted(reading, stated_phase=phase)
    return finished(reading if repaired is None else repaired, reading, (0, end), phase)


def _read_name(source: str) -> tuple[Species, Count] | None:
    text = source.strip().rstrip(".,;")
    table = names()
    found = table.find(text)
    phase = Phase.UNSTATED
    count: Count = 1
    if found is None:
        try:
            glyphs, phase = strip_labels(normalise(text))
        except NotationError:
            return None
        plain = glyphs.text
        skipped = strip_leading(plain)
        blank = _BLANK.match(plain, skipped)
        plain = plain[blank.end() if blank else skipped :]
        found = table.find(plain)
        if found is None:
            factor = _FACTOR.match(plain)
            if factor:
                found, count = table.find(plain[factor.end() :]), _factor(factor.group(1))
    if found is None:
        return None
    return named_species(table, found.formula, found.isomer, phase), count


def named_species(table: Names, formula: str, isomer: str, phase: Phase) -> Species:
    """Build the species a row of the table of names stands for."""
    if formula == "e^-":
        return assemble((), -1, phase, None, "e")
    parts = parts_of(formula)
    if parts is None:
        raise NotationError(f"the table of names spells {formula!r} in a way that cannot be read")
    atoms, charge = parts
    body = formula.partition("^")[0]
    return assemble(
        atoms, charge, phase, isomer or None, table.spelling(isomer, atoms, charge) if isomer else body
    )


def _factor(text: str) -> Count:
    """Return a factor before a species exactly."""
    whole, _, ratio = text.rpartition(" ")
    if ratio.endswith(("/0", "/00")):
        raise NotationError("a factor divided by zero", source=text, span=(0, len(text)))
    value = Fraction(ratio.replace(",", ".")) + int(whole or 0)
    if not value:
        raise NotationError(
            "a factor of zero", source=text, span=(0, len(text)), hint="leave the species out"
        )
    return int(value) if value.denominator == 1 else value


def _core(glyphs: Glyphs) -> tuple[Glyphs, Phase, Count]:
    """Take off blanks, factor, remarks, labels and closing punctuation."""
    rest = glyphs.strip()
    skip = strip_leading(rest.text)
    rest = rest.cut(skip)
    blank = _BLANK.match(rest.text)
    rest = rest.cut(blank.end() if blank else 0)
    factor = _FACTOR.match(rest.text)
    count: Count = 1
    if factor and rest.level[: factor.end()].strip("b") == "":
        count = _factor(factor.group(1))
        rest = rest.cut(factor.end())
    rest = _unpunctuated(rest)
    rest, phase = strip_labels(rest)
    times = _TIMES_WATER.search(rest.text)
    if times:
        at = times.start(1)
        rest = replace(rest, text=rest.text[:at] + "·" + rest.text[at + 1 :])
    return _unpunctuated(rest), phase, count


def _unpunctuated(glyphs: Glyphs) -> Glyphs:
    end = len(glyphs.text.rstrip(" .,;:"))
    if glyphs.text[end:].startswith(".") and re.search(r"\((?:conc|dil|aq|ac|sol)$", glyphs.text[:end]):
        return glyphs
    return glyphs.cut(0, end)
