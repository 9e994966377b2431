"""Reading a species that is not plain: every reading the text allows is weighed, the likeliest is taken.

The weighing uses known ions and molecules first, then usual oxidation numbers.  A second reading
that is honest too becomes an :class:`Assumption`.

May import: errors and this package.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from redoxlib.errors import NotationError
from redoxlib.notation._faults import fault
from redoxlib.notation._formula import composition
from redoxlib.notation._known import common, is_metal, known, plausible
from redoxlib.notation._labels import strip_labels, strip_leading
from redoxlib.notation._names import Names, names, parts_of
from redoxlib.notation._normal import Glyphs, normalise
from redoxlib.notation._species import Assumption, Atoms, Count, Phase, Species, assemble
from redoxlib.notation._symbolic import looks_symbolic
from redoxlib.notation._variants import lookalikes, recased
from redoxlib.notation._write import charge_text

__all__ = ["read_counted", "read_messy"]

KNOWN, RADICAL, PLAUSIBLE, UNKNOWN_NEUTRAL, IMPLAUSIBLE = 0.0, 0.6, 2.0, 2.5, 6.0

_CLEAR = re.compile(r"(.+?)(?:\^([0-9]{0,2})([+-]))?(?:\((aq|s|l|g)\))?", re.DOTALL).fullmatch
_LETTERS = re.compile(
    r"[a-z]{3}|^[a-z]+-|^[0-9][A-Z].*[.·•∙⋅]|[0-9]{2,7}-[0-9]{2}-[0-9]$|^[A-Za-z]{2,}[- ][A-Z]$|^[A-Z]{3,5}$"
)
_BLANK = re.compile(r"\s*(?:_+|…|\.{2,}|□|\?+|\(\s*_*\s*\)|\[\s*\])?\s*")
_FACTOR = re.compile(
    r"((?:[0-9]{1,9} )?[0-9]{1,9}/[0-9]{1,9}|[0-9]{1,9}[.,][0-9]{1,9}|[0-9]{1,9})\s*(?:[·*x]\s*)?(?=[A-Za-z(\[{])"
)
_ROMAN = {r: n for n, r in enumerate(["I", "II", "III", "IV", "V", "VI", "VII", "VIII"], start=1)}
_ROMAN_WORD = r"VIII|VII|VI|IV|V|III|II|I"


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read the text, with its weight: the lower, the likelier."""

    body: str
    atoms: Atoms
    charge: int
    weight: float
    why: str = ""  # why this reading departs from the letter; empty when it does not
    told: bool = True  # whether a departure must be told

    @property
    def text(self) -> str:
        return self.body + ("^" + charge_text(self.charge) if self.charge else "")

    @property
    def identity(self) -> tuple[Atoms, int]:
        return self.atoms, self.charge


def weight_of(atoms: Atoms, charge: int) -> float:
    """Return how unlikely a composition with a charge is."""
    if common(atoms, charge):
        return KNOWN
    charges = known().get(atoms)
    if charges is not None and charge in charges:
        return RADICAL
    if charge == 0:
        return UNKNOWN_NEUTRAL
    return PLAUSIBLE + 0.1 * abs(charge) if plausible(atoms, charge) else IMPLAUSIBLE + 0.1 * abs(charge)


def _reading(
    body: str, charge: int, extra: float = 0.0, why: str = "", *, told: bool = True
) -> Reading | None:
    counts = composition(body)
    if counts is None:
        return None
    atoms = tuple(sorted(counts.items()))
    weight = weight_of(atoms, charge) + extra
    digits = re.search(r"[0-9]+$", body)
    if digits and len(digits.group()) > 1 and weight >= PLAUSIBLE:
        weight += 1.5
    return Reading(body, atoms, charge, weight, why, told)


# ------------------------------------------------------------------ entry points


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
    found = _read_clear(source)
    if found is not None:
        return found, 1
    if _LETTERS.search(source):
        named = _read_name(source)
        if named is not None:
            return named
    glyphs = normalise(source)
    core, phase, factor = _core(glyphs)
    if looks_symbolic(core.text):
        raise fault(source, core)
    try:
        readings = _readings(core, standalone=standalone) or _last_resort(core, standalone=standalone)
    except NotationError as error:
        raise NotationError(error.message, source=source, span=error.span, hint=error.hint) from None
    if not readings:
        named = _read_name(source)
        if named is not None:
            return named
        raise fault(source, core)
    return _chosen(core, readings, phase), factor


def _last_resort(core: Glyphs, *, standalone: bool) -> list[Reading]:
    """Read text whose digits and signs only make sense once a look-alike is exchanged: S042-."""
    for changed, why in lookalikes(core.text):
        if len(changed) == len(core.text):
            other = Glyphs(changed, core.level, core.place)
            found = [r for r in _readings(other, standalone=standalone) if r.weight < 1 and r.identity[0]]
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
    if (
        counts is None
        or (digits or "").startswith("0")
        or _ROMAN_TAIL.match(body)
        or _ROMAN_INSIDE.search(body)
    ):
        return None
    charge = 0 if not sign else int(digits or 1) * (1 if sign == "+" else -1)
    atoms = tuple(sorted(counts.items()))
    phase = Phase(label or "")
    end = len(source) - (len(label) + 2 if label else 0)
    reading = Reading(body, atoms, charge, 0.0)
    repaired = _doubted(reading, stated_phase=phase) if not _to_the_letter(body) else None
    return _finished(reading if repaired is None else repaired, reading, (0, end), phase)


def _to_the_letter(body: str) -> bool:
    """Whether square brackets around all of it ask for a reading to the letter."""
    return body[0] == "[" and body[-1] == "]" and "[" not in body[1:]


def _finished(
    reading: Reading,
    literal: Reading | None,
    span: tuple[int, int],
    phase: Phase,
    extra: tuple[Assumption, ...] = (),
) -> Species:
    notes = extra
    if reading.why and reading.told:
        other = literal.text if literal is not None and literal.text != reading.text else ""
        notes = (*notes, Assumption(span, reading.text, other, reading.why))
    isomer = None
    if any(symbol == "C" for symbol, _ in reading.atoms):
        isomer, more = names().settle(reading.atoms, reading.charge, reading.body, span)
        notes = (*notes, *more)
    return assemble(reading.atoms, reading.charge, phase, isomer, reading.body, notes)


# ------------------------------------------------------------------ names


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


# ------------------------------------------------------------------ the core of the text


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
        rest = Glyphs(rest.text[:at] + "·" + rest.text[at + 1 :], rest.level, rest.place)
    return _unpunctuated(rest), phase, count


def _unpunctuated(glyphs: Glyphs) -> Glyphs:
    end = len(glyphs.text.rstrip(" .,;:"))
    if glyphs.text[end:].startswith(".") and re.search(r"\((?:conc|dil|aq|ac|sol)$", glyphs.text[:end]):
        return glyphs
    return glyphs.cut(0, end)


_TIMES_WATER = re.compile(r"(?<=[A-Za-z0-9)] )([xX])(?= [0-9./]*\s?H2O$)")
_ELECTRON = re.compile(r"\(?\s*[eE]\s*(?:\(?\s*-\s*1?\s*\)?|1-)?\s*\)?")
_SCRIPT = re.compile(
    r"\s*\(?\s*(?:([0-9]{0,3})\s*([+-]+)|([+-])\s*([0-9]{1,3})|([0-9]{1,2})|(VIII|VII|VI|IV|V|I{1,3})([+-]?))\s*\)?\s*"
)
_IN_BRACKETS = re.compile(r"\s*[(\[]\s*(?:([0-9]{0,2})\s*([+-]+)|([+-])\s*([0-9]{1,2}))\s*[)\]]$")
_ROMAN_TAIL = re.compile(
    rf"^([A-Z][a-z]?)\s*(?:\(\s*([+-]?)({_ROMAN_WORD})\s*\)|\s({_ROMAN_WORD})|(VIII|VII|VI|IV|III|II))$"
)
_ROMAN_INSIDE = re.compile(rf"(?<=[A-Za-z])\(({_ROMAN_WORD})\)(?=[A-Z(\[0-9])")
_SPACED = re.compile(r"^(.*[A-Za-z0-9)\]])\s+([0-9])(\s*)([+-])$")
_SIGN_FIRST = re.compile(r"^(.*[A-Za-z0-9)\]])(\s*)([+-])(\s*)([0-9]{1,2})$")
_GLUED = re.compile(r"^(.*?[A-Za-z)\]])([0-9]*)(\s*)([+-])$")
_REPEATED = re.compile(r"^(.*[A-Za-z0-9)\]])\s*(\+{2,8}|-{2,8})$")
_DOUBLE_BAR = re.compile(r"^(.*[A-Za-z0-9)\]])=$")


def _readings(core: Glyphs, *, standalone: bool) -> list[Reading]:
    """List the readings of the core, weighed."""
    text = core.text
    if not text:
        return []
    if _ELECTRON.fullmatch(text) and text != "E":
        told = text.strip("()").strip() == "e"
        why = "a lone e stands for the electron" if told else ""
        return [Reading("e", (), -1, 0.0, why)]
    script = _raised(core)
    if script is not None:
        return script
    roman = _ROMAN_TAIL.match(text)
    if roman:
        return list(_roman(roman, text))
    bracketed = _IN_BRACKETS.search(text)
    if bracketed and bracketed.start():
        charge = _charge(*bracketed.groups())
        return _with_variants(text[: bracketed.start()], charge, core)
    repeated = _REPEATED.match(text)
    if repeated:
        body, signs = repeated.groups()
        return _with_variants(body, len(signs) * (1 if signs[0] == "+" else -1), core)
    spaced = _SPACED.match(text)
    if spaced:
        return _set_apart(spaced, core)
    first = _SIGN_FIRST.match(text)
    if first and core.level[first.start(3)] == "b":
        return list(_sign_first(first, core, standalone=standalone))
    glued = _GLUED.match(text)
    if glued:
        return list(_glued(glued, core, standalone=standalone))
    barred = _DOUBLE_BAR.match(text)
    if barred:
        found = _reading(_clean(barred.group(1)), -2, 0.0, "a closing = is the old sign for a charge of 2-")
        return [found] if found and found.weight < PLAUSIBLE else []
    return _with_variants(text, 0, core)


def _set_apart(match: re.Match[str], core: Glyphs) -> list[Reading]:
    """Read a digit that a space sets apart: a charge in ``Cr 3+``, loose typesetting in ``MnO 4 -``."""
    raw, digit, gap, sign = match.groups()
    plus = 1 if sign == "+" else -1
    found = _with_variants(raw, plus * int(digit), core) if digit != "0" else []
    loose = _reading(_clean(raw) + digit, plus, 0.1 if gap else 0.7)
    return [*found, loose] if loose else found


def _charge(digits: str | None, signs: str | None, sign: str | None, number: str | None) -> int:
    if sign:
        return int(number or 1) * (1 if sign == "+" else -1)
    assert signs is not None
    size = int(digits) if digits else len(signs)
    return size * (1 if signs[0] == "+" else -1)


def _raised(core: Glyphs) -> list[Reading] | None:
    """Read a charge that stands in a superscript; ``None`` when there is no superscript."""
    start = core.level.find("u")
    if start < 0:
        return None
    end = start
    while end < len(core.text) and (core.level[end] == "u" or core.text[end] == " "):
        end += 1
    tail = core.cut(end)
    script = core.text[start:end].strip()
    rest = core.without(start, end)
    # A superscript digit with a plain sign after it: SO4²-.
    if script.isdigit() and tail.text[:1] in ("+", "-") and len(tail.text) == 1:
        rest = core.cut(0, start)
        script += tail.text
    elif "u" in tail.level or any(
        char.isalpha() and level == "b" for char, level in zip(tail.text, tail.level, strict=True)
    ):
        return []
    match = _SCRIPT.fullmatch(script)
    if match is None:
        return []
    digits, signs, sign, number, alone, roman, roman_sign = match.groups()
    body = _clean(rest.text)
    if roman:
        charge = _ROMAN[roman] * (-1 if roman_sign == "-" else 1)
        why = "a Roman numeral is an oxidation number; for a single atom it is taken as the charge"
        if re.fullmatch("[A-Z][a-z]?", body):
            found = _reading(body, charge, 0.0, why)
        else:
            found = _reading(body, 0, 0.0, "a Roman numeral inside a formula is an oxidation number")
        return [found] if found else []
    if alone:
        return _sign_lost(body, int(alone))
    charge = _charge(digits, signs, sign, number)
    # Sign alone raised, digits on the line before it and no lowered digit: MnO4⁻ or SO42⁻.
    if not digits and signs and len(signs) == 1 and not tail.text and "d" not in core.level[:start]:
        glued = _GLUED.match(body + signs)
        if glued and glued.group(2):
            # Whoever raises the sign would raise the digit with it, so the digit is a subscript if it can be.
            letter = _reading(body, _charge(None, signs, None, None))
            known_so = letter is not None and letter.weight == KNOWN
            return [letter] if letter and known_so else list(_glued(glued, rest, standalone=False))
    if body.startswith("e") and charge == -1 and body in ("e", "(e)"):
        return [Reading("e", (), -1, 0.0)]
    choices = _with_variants(rest.text, charge, core)
    if sign and number and len(choices) == 1 and choices[0].weight == RADICAL:
        # A number after the sign is often the coefficient counted twice: 2 NO3^-2.
        for other in known().get(choices[0].atoms, ()):
            if other * charge > 0 and common(choices[0].atoms, other):
                why = "this ion is known with another charge; the number may be the coefficient counted twice"
                return [replace(choices[0], charge=other, weight=0.0, why=why), choices[0]]
    return choices


def _sign_lost(body: str, size: int) -> list[Reading]:
    found = []
    for charge in (size, -size):
        reading = _reading(body, charge, 0.0, "the sign of the charge is lost; this ion is known")
        if reading and reading.weight < PLAUSIBLE:
            found.append(reading)
    return found


def _roman(match: re.Match[str], text: str) -> Iterator[Reading]:
    symbol, sign, in_brackets, spaced, glued = match.groups()
    numeral = in_brackets or spaced or glued
    why = "a Roman numeral is an oxidation number; for a single atom it is taken as the charge"
    literal = _reading(text.replace(" ", ""), 0, 0.5)
    if not in_brackets and not spaced and literal is not None and not is_metal(symbol):
        yield replace(literal, weight=0.0)
        return
    found = _reading(symbol, _ROMAN[numeral] * (-1 if sign == "-" else 1), 0.0, why)
    if found:
        yield replace(found, weight=-1.0)
    if literal:
        yield replace(literal, weight=0.5)


def _sign_first(match: re.Match[str], core: Glyphs, *, standalone: bool) -> Iterator[Reading]:
    """Read a sign before a number: ``S4O6-2`` is a charge, ``SO2-4`` a charge set before its subscript."""
    raw, space, sign, gap, number = match.groups()
    body = _clean(raw)
    plus = 1 if sign == "+" else -1
    spaced = bool(space) and sign == "+" and standalone
    why = "the number after the spaced plus is taken as the charge" if spaced else ""
    settled = False
    if len(number) == 1 and number != "0":
        first = _with_variants(raw, plus * int(number), core, why)
        settled = any(reading.weight == KNOWN for reading in first)
        yield from first
    if spaced:
        operator = _reading(body, 0, 0.4)
        if operator:
            yield operator
    if gap or settled or "d" in core.level:
        return
    tail = re.search(r"([1-9])$", body)
    told = "the charge stands before the subscript, as flattened typesetting leaves it"
    if tail and number != "1":
        flattened = _reading(body[:-1] + number, plus * int(tail.group(1)), 0.2, told)
        if flattened:
            yield flattened
    single = _reading(body + number, plus, 0.25, told) if not body[-1].isdigit() and number != "1" else None
    if single:
        yield single


# Flattened text in which the digit is the charge although it could be a subscript as well.
_DIGIT_IS_CHARGE = frozenset({"O2-", "S2-", "Fe(SCN)2+", "Fe(NCS)2+", "FeCl2+", "FeF2+", "FeBr2+"})


def _glued(match: re.Match[str], core: Glyphs, *, standalone: bool) -> Iterator[Reading]:
    """Read digits and a sign that run into the formula: ``SO42-``, ``MnO4-``, ``Fe3+``."""
    stem, digits, space, sign = match.groups()
    plus = 1 if sign == "+" else -1
    stem = _clean(stem)
    if not stem:
        return
    start = match.start(2)
    lowered = [level == "d" for level in core.level[start : start + len(digits)]]
    fixed = sum(lowered)
    whole = stem + digits
    if stem.endswith("]") and digits and not fixed:
        fixed = 0
        splits = [0] if len(digits) == 1 else list(range(len(digits)))
    elif "d" in core.level and digits:
        splits = [fixed]
    else:
        splits = list(range(len(digits) + 1))
    for at in splits:
        subscript, size = digits[:at], digits[at:]
        if subscript.startswith("0") or len(size) > 2 or (size == "0"):
            continue
        why, extra = "", 0.0
        if size.startswith("0"):
            why, extra = "a stray zero before the charge is left out", 0.3
        if len(size) == 2 and extra == 0.0:
            continue
        charge = plus * int(size or 1)
        if stem.endswith("]") and size:
            extra -= 5.0
        if size and not why and (whole + sign) in _DIGIT_IS_CHARGE:
            extra -= 0.1
        elif size and not why:
            extra += 0.05
        yield from _with_variants(stem + subscript, charge, core, why, extra)
    if sign == "+" and standalone:
        neutral = _reading(whole, 0)
        if neutral and neutral.weight == KNOWN and sum(count for _, count in neutral.atoms) > 1:
            told = "the formula is a known molecule, so the plus is taken as the sign between species"
            yield replace(neutral, weight=0.4, why=told)
        elif neutral and space:
            yield replace(neutral, weight=0.4, why="the spaced plus may be the sign between species")


def _with_variants(raw: str, charge: int, core: Glyphs, why: str = "", extra: float = 0.0) -> list[Reading]:
    """Read a body with a settled charge, and its likely misprints when the letter is doubtful."""
    found: list[Reading] = []
    body = _clean(raw)
    if not body:
        return found
    literal = _reading(body, charge, extra, why)
    if " " in raw.strip():
        literal, body = _spaced_out(raw, charge, literal, body, core)
    inside = _ROMAN_INSIDE.sub("", body)
    if inside != body:
        told = "a Roman numeral inside a formula is an oxidation number"
        roman = _reading(inside, charge, extra - 0.5, told)
        if roman:
            found.append(replace(roman, weight=min(roman.weight, 0.4)))
    if literal is not None:
        found.append(literal)
        if literal.weight < 1 + extra:
            return found
    word = len(body) > 4 and body.isalpha()
    for variant in recased(body):
        told = "capitals and small letters are taken for the likelier species"
        reading = _reading(variant, charge, extra + (0.5 if literal else 0.1), told if literal else why)
        if reading and (reading.weight - extra < 1.2 or (literal is None and not word)):
            found.append(reading)
    for variant, told in lookalikes(body):
        reading = _reading(variant, charge, extra + 0.5, told)
        if reading and reading.weight - extra < 1.2:
            found.append(reading)
    return found


def _spaced_out(
    raw: str, charge: int, literal: Reading | None, body: str, core: Glyphs
) -> tuple[Reading | None, str]:
    """Judge spaces inside a formula: a lost hydrate dot, loose typesetting, or two species without a plus."""
    hydrate = re.fullmatch(r"(.*[A-Za-z0-9)\]])\s+([0-9]{1,2})?\s?(H2O|D2O)", raw.strip())
    if hydrate and charge == 0:
        salt, times, water = hydrate.groups()
        joined = f"{_clean(salt)}.{times or ''}{water}"
        found = _reading(joined, 0, 0.0, "the dot of a hydrate is taken to be lost")
        base = _reading(_clean(salt), 0)
        if found and base and base.weight < 1 and _clean(salt) != water:
            return replace(found, weight=0.0), joined
    if literal is not None and literal.weight >= 1:
        pieces = [composition(piece) for piece in raw.split()]
        if len(pieces) > 1 and all(pieces):
            atoms = [tuple(sorted(piece.items())) for piece in pieces if piece]
            if all(common(piece, 0) or len(piece) > 1 for piece in atoms):
                at = core.text.find(" ")
                raise NotationError(
                    "two formulas without a plus sign between them",
                    source=None,
                    span=core.span(max(at, 0), max(at, 0) + 1),
                    hint="write them as two species, " + " + ".join(raw.split()),
                )
    return literal, body


_BOND = re.compile(r"(?<=[A-Za-z0-9)\]])[-=≡#](?=[A-Z(\[])")


def _clean(raw: str) -> str:
    """Return the formula without spaces and bonds, hydrate dots made plain, needless brackets kept."""
    body = raw.replace(" ", "")
    body = _BOND.sub("", body)
    body = re.sub(r"[.,](?=[0-9]*(?:H2O|D2O)$)", "·", body) if "," in body else body
    if "·" in body:
        parts = [part for part in body.split("·") if part]
        joined = parts[0] if parts else ""
        for part in parts[1:]:
            if (
                joined[-1:].isdigit()
                and part[:1].isdigit()
                and not re.match(r"[0-9./]*(?:H2O|D2O|NH3)", part)
            ):
                joined = f"({joined})"
            joined += "." + part
        body = joined
    if body.startswith("(") and body.endswith(")") and body.count("(") == 1:
        body = body[1:-1]
    if body.startswith("{") and body.endswith("}"):
        body = body[1:-1]
    return body


# ------------------------------------------------------------------ the choice


def _chosen(core: Glyphs, readings: list[Reading], phase: Phase) -> Species:
    ordered = sorted(readings, key=lambda reading: reading.weight)
    best = ordered[0]
    span = core.span(0, len(core.text))
    if best.identity == ((), -1):
        notes = (Assumption(span, "e^-", "", best.why),) if best.why else ()
        return assemble((), -1, phase, None, "e", notes)
    literal = next((r for r in readings if not r.why and r.identity != best.identity), None)
    if best.weight >= UNKNOWN_NEUTRAL - 0.4 and not best.why:
        repaired = _doubted(best, stated_phase=phase)
        if repaired is not None:
            return _finished(repaired, best, span, phase)
    honest = _honest(best, ordered[1:])
    if best.why:
        others = [r.text for r in honest] or ([literal.text] if literal else [])
        best_told = replace(best, told=True)
        note = Assumption(span, best_told.text, " or ".join(dict.fromkeys(others)), best.why)
        return _finished(replace(best, why=""), literal, span, phase, (note,))
    if honest:
        others_text = " or ".join(dict.fromkeys(r.text for r in honest))
        why = "each of them is known, and the text does not tell which is meant"
        return _finished(best, literal, span, phase, (Assumption(span, best.text, others_text, why),))
    return _finished(best, literal, span, phase)


def _honest(best: Reading, others: list[Reading]) -> list[Reading]:
    """Return the other readings that a careful person could defend."""
    found: list[Reading] = []
    for reading in others:
        if reading.identity == best.identity or any(reading.identity == r.identity for r in found):
            continue
        if reading.weight < 0.59 or (best.why and reading.weight < 1) or (reading.charge < 0 and best.charge < -1 and _dimer_ion(reading)):
            found.append(reading)
    return found


def _dimer_ion(reading: Reading) -> bool:
    """Whether the reading is an ion of one nonmetal, such as S2^-, that is met with some charge."""
    return len(reading.atoms) == 1 and reading.atoms[0][1] != 1 and reading.atoms in known()


def _doubted(reading: Reading, *, stated_phase: Phase) -> Reading | None:
    """Return a likelier reading of text whose letter makes an implausible species, or ``None``."""
    atoms, charge, body = reading.atoms, reading.charge, reading.body
    charges = known().get(atoms, ())
    if charge in charges:
        return None
    if charge == 0:
        return (
            _sign_gone(reading, charges)
            if stated_phase in (Phase.UNSTATED, Phase.AQUEOUS)
            else _misread(reading)
        )
    if plausible(atoms, charge):
        return _misread(reading)
    misread = _misread(reading)
    if misread is not None:
        return misread
    size, plus = abs(charge), 1 if charge > 0 else -1
    if size > 1:
        merged = _reading(f"{body}{size}", plus, 0.0, "the subscript has slipped into the charge")
        if merged and merged.weight == KNOWN and not body[-1].isdigit():
            return merged
        for other in charges:
            if other * charge > 0:
                why = "this ion is known with another charge only"
                return Reading(body, atoms, other, 0.0, why)
    return Reading(body, atoms, charge, 0.0, "usual oxidation numbers do not add up to this charge")


def _misread(reading: Reading) -> Reading | None:
    """Return a known species that the text looks like, if the letter is not a known one."""
    for variant in recased(reading.body):
        found = _reading(
            variant, reading.charge, 0.0, "capitals and small letters are taken for the likelier species"
        )
        if found and found.weight == KNOWN and found.identity != reading.identity:
            return found
    for variant, told in lookalikes(reading.body):
        found = _reading(variant, reading.charge, 0.0, told)
        if found and found.weight == KNOWN and found.identity != reading.identity:
            return found
    return None


def _sign_gone(reading: Reading, charges: tuple[int, ...]) -> Reading | None:
    """Read a neutral formula that is only known as an ion: its charge was lost in copying."""
    body = reading.body
    why = "this is known as an ion only; its charge is taken to be lost"
    nonzero = [charge for charge in charges if charge]
    if nonzero and all(common(reading.atoms, charge) for charge in nonzero[:1]):
        return Reading(body, reading.atoms, nonzero[0], 0.0, why)
    tail = re.search(r"(?<=[A-Za-z)\]])([0-9]*)([1-9])$", body)
    if tail:
        size = int(tail.group(2))
        stem = body[:-1]
        metal_atom = re.fullmatch("[A-Z][a-z]?", stem) and is_metal(stem)
        if tail.group(1) or metal_atom:
            for charge in (size, -size):
                found = _reading(stem, charge, 0.0, "the last digit is taken as a charge whose sign is lost")
                if found and found.weight == KNOWN and (charge < 0 or metal_atom or not tail.group(1) == ""):
                    return found
    return _misread(reading)
