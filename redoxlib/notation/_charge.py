"""Where the charge of a species stands, and what else the text allows.

charge = SUPERSCRIPT | "(" DIGITS SIGN ")" | SIGN+ | SPACE DIGIT SIGN | SIGN DIGIT | DIGITS SIGN | ROMAN ;
each function reads one of them and returns every reading, weighed.

May import: errors and this package.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from redoxlib.errors import NotationError
from redoxlib.notation._formula import composition
from redoxlib.notation._known import common, is_metal, known
from redoxlib.notation._normal import Glyphs
from redoxlib.notation._reading import KNOWN, PLAUSIBLE, RADICAL, Reading, reading_of
from redoxlib.notation._variants import lookalikes, recased

__all__ = ["has_roman", "readings"]

_ROMAN = {r: n for n, r in enumerate(["I", "II", "III", "IV", "V", "VI", "VII", "VIII"], start=1)}
_ROMAN_WORD = r"VIII|VII|VI|IV|V|III|II|I"
_ELECTRON = re.compile(r"\(?\s*[eE]\s*(?:\(?\s*-\s*1?\s*\)?|1-)?\s*\)?")
_SCRIPT = re.compile(
    r"\s*\(?\s*(?:([0-9]{0,3})\s*([+-]+)|([+-])\s*([0-9]{1,3})|([0-9]{1,2})|(VIII|VII|VI|IV|V|I{1,3})([+-]?))\s*\)?\s*"
)
_IN_BRACKETS = re.compile(r"\s*[(\[]\s*(?:([0-9]{0,2})\s*([+-]+)|([+-])\s*([0-9]{1,2}))\s*[)\]]$")
_ROMAN_TAIL = re.compile(
    rf"^([A-Z][a-z]?)\s*(?:\(\s*([+-]?)({_ROMAN_WORD})\s*\)|\s({_ROMAN_WORD})|(VIII|VII|VI|IV|III|II))$"
)
_ROMAN_INSIDE = re.compile(rf"(?<=[A-Za-z])\(({_ROMAN_WORD})\)(?=[A-Z(\[0-9])")
_ZERO = re.compile(r"^([A-Z][a-z]?)\s*\(0\)$")
_SPACED = re.compile(r"^(.*[A-Za-z0-9)\]])\s+([0-9])(\s*)([+-])$")
_SIGN_FIRST = re.compile(r"^(.*[A-Za-z0-9)\]])(\s*)([+-])(\s*)([0-9]{1,2})$")
_GLUED = re.compile(r"^(.*?[A-Za-z)\]])([0-9]*)(\s*)([+-])$")
_REPEATED = re.compile(r"^(.*[A-Za-z0-9)\]])\s*(\+{2,8}|-{2,8})$")
_DOUBLE_BAR = re.compile(r"^(.*[A-Za-z0-9)\]])=$")


def has_roman(body: str) -> bool:
    """Whether a formula holds a Roman numeral, which its letters would be read for elements."""
    return bool(_ROMAN_TAIL.match(body) or _ROMAN_INSIDE.search(body))


def readings(core: Glyphs, *, standalone: bool) -> list[Reading]:
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
    uncharged = _ZERO.match(text)
    if uncharged:
        return _with_variants(uncharged.group(1), 0, core, set_apart=True)
    roman = _ROMAN_TAIL.match(text)
    if roman:
        return list(_roman(roman, text))
    bracketed = _IN_BRACKETS.search(text)
    if bracketed and bracketed.start():
        charge = _charge(*bracketed.groups())
        return _with_variants(text[: bracketed.start()], charge, core, set_apart=True)
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
        found = reading_of(_clean(barred.group(1)), -2, 0.0, "a closing = is the old sign for a charge of 2-")
        return [found] if found and found.weight < PLAUSIBLE else []
    return _with_variants(text, 0, core, set_apart=True)


def _set_apart(match: re.Match[str], core: Glyphs) -> list[Reading]:
    """Read a digit that a space sets apart: a charge in ``Cr 3+``, loose typesetting in ``MnO 4 -``."""
    raw, digit, gap, sign = match.groups()
    plus = 1 if sign == "+" else -1
    found = _with_variants(raw, plus * int(digit), core) if digit != "0" else []
    loose = reading_of(_clean(raw) + digit, plus, 0.1 if gap else 0.7)
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
            found = reading_of(body, charge, 0.0, why)
        else:
            found = reading_of(body, 0, 0.0, "a Roman numeral inside a formula is an oxidation number")
        return [found] if found else []
    if alone:
        before = core.text[start - 1 : start]
        if before in ("+", "-") and core.level[start - 1] == "b" and not tail.text:
            return _with_variants(
                core.text[: start - 1], _charge(None, None, before, alone), core, set_apart=True
            )
        if int(alone) == 0:
            return _with_variants(rest.text, 0, core, set_apart=True)
        return _sign_lost(body, int(alone))
    charge = _charge(digits, signs, sign, number)
    # A raised Unicode sign alone, digits on the line before it and no lowered digit: MnO4⁻ or SO42⁻.
    alone_raised = core.raised_sign and not digits and signs is not None and len(signs) == 1
    if signs and alone_raised and not tail.text and "d" not in core.level[:start]:
        glued = _GLUED.match(body + signs)
        if glued and glued.group(2):
            # Whoever raises the sign would raise the digit with it, so the digit is a subscript if it can be.
            letter = reading_of(body, _charge(None, signs, None, None))
            known_so = letter is not None and letter.weight == KNOWN
            return [letter] if letter and known_so else list(_glued(glued, rest, standalone=False))
    if body.startswith("e") and charge == -1 and body in ("e", "(e)"):
        return [Reading("e", (), -1, 0.0)]
    choices = _with_variants(rest.text, charge, core, set_apart=True)
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
        reading = reading_of(body, charge, 0.0, "the sign of the charge is lost; this ion is known")
        if reading and reading.weight < PLAUSIBLE:
            found.append(reading)
    return found


def _roman(match: re.Match[str], text: str) -> Iterator[Reading]:
    symbol, sign, in_brackets, spaced, glued = match.groups()
    numeral = in_brackets or spaced or glued
    why = "a Roman numeral is an oxidation number; for a single atom it is taken as the charge"
    literal = reading_of(text.replace(" ", ""), 0, 0.5)
    if not in_brackets and not spaced and literal is not None and not is_metal(symbol):
        yield replace(literal, weight=0.0)
        return
    found = reading_of(symbol, _ROMAN[numeral] * (-1 if sign == "-" else 1), 0.0, why)
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
        operator = reading_of(body, 0, 0.4)
        if operator:
            yield operator
    if gap or settled or "d" in core.level:
        return
    tail = re.search(r"([1-9])$", body)
    told = "the charge stands before the subscript, as flattened typesetting leaves it"
    if tail and number != "1":
        flattened = reading_of(body[:-1] + number, plus * int(tail.group(1)), 0.2, told)
        if flattened:
            yield flattened
    single = reading_of(body + number, plus, 0.25, told) if not body[-1].isdigit() and number != "1" else None
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
        neutral = reading_of(whole, 0)
        if neutral and neutral.weight == KNOWN and sum(count for _, count in neutral.atoms) > 1:
            told = "the formula is a known molecule, so the plus is taken as the sign between species"
            yield replace(neutral, weight=0.4, why=told)
        elif neutral and space:
            yield replace(neutral, weight=0.4, why="the spaced plus may be the sign between species")


def _with_variants(
    raw: str, charge: int, core: Glyphs, why: str = "", extra: float = 0.0, *, set_apart: bool = False
) -> list[Reading]:
    """Read a body with a charge, and its likely misprints when the letter is doubtful.

    A charge that is *set apart* leaves one literal reading; its doubts are weighed later.
    """
    found: list[Reading] = []
    body = _clean(raw)
    if not body:
        return found
    literal = reading_of(body, charge, extra, why)
    if " " in raw.strip():
        literal, body = _spaced_out(raw, charge, literal, body, core)
    inside = _ROMAN_INSIDE.sub("", body)
    if inside != body:
        told = "a Roman numeral inside a formula is an oxidation number"
        roman = reading_of(inside, charge, extra - 0.5, told)
        if roman:
            found.append(replace(roman, weight=min(roman.weight, 0.4)))
    if literal is not None:
        found.append(literal)
        if literal.weight < 1 + extra or set_apart or "d" in core.level:
            return found
    letters = "".join(filter(str.isalpha, body))
    word = (len(body) > 4 and body.isalpha()) or not (letters.isupper() or letters.islower())
    for variant in recased(body):
        told = "capitals and small letters are taken for the likelier species"
        reading = reading_of(variant, charge, extra + (0.5 if literal else 0.1), told if literal else why)
        if reading and (reading.weight - extra < 0.51 or (literal is None and not word)):
            found.append(reading)
    for variant, told in lookalikes(body):
        reading = reading_of(variant, charge, extra + 0.5, told)
        if reading and reading.weight - extra < 0.51:
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
        found = reading_of(joined, 0, 0.0, "the dot of a hydrate is taken to be lost")
        base = reading_of(_clean(salt), 0)
        crystal = base is not None and sum(count for _, count in base.atoms) > 1
        if found and base and crystal and base.weight < 1 and _clean(salt) != water:
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
