"""Reading quantities, amounts and strengths from text."""

from __future__ import annotations

import re

from redoxlib.errors import DomainError, UnitError, no_text
from redoxlib.quantity._units import PER_VOLUME, Exponents, canonical, unit_of
from redoxlib.quantity._value import Quantity

_LIMIT = 200  # characters; a quantity is a short thing, and a long text is a mistake or an attack


_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?")
_PLUSMINUS = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_SCALED = re.compile(
    r"\(\s*([-+]?[0-9]+(?:\.[0-9]*)?)\s*(?:±|\+/-|\+-)\s*([0-9]+(?:\.[0-9]*)?)\s*\)\s*[eE]([-+]?[0-9]{1,3})"
)
_BASIS_HINT = "write the basis: '{0} % w/w' (mass), '{0} % w/v' (g per 100 mL), '{0} % v/v' or '{0} % trade'"
_UNIT_HINT = "write a unit, for example '{0} g', '{0} mL' or '{0} mol'"


def read(text: str) -> Quantity:
    """quantity = NUMBER ((``±`` | ``+/-``) NUMBER)? unit, or ``(NUMBER ± NUMBER)eN unit``."""
    if not isinstance(text, str):
        raise no_text(text, "a quantity is a number and a unit, for example '500 mL'")
    if len(text) > _LIMIT:
        raise UnitError(f"a quantity has at most {_LIMIT} characters, not {len(text)}")
    plain = text.replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ").replace("\u2009", " ")
    start = len(plain) - len(plain.lstrip())
    if scaled := _SCALED.match(plain, start):
        # Written at full length by its own power of ten, so that no rounding comes in between.
        ten = scaled[3]
        return read(f"{scaled[1]}e{ten} ± {scaled[2]}e{ten} {plain[scaled.end() :].strip()}")
    match = _NUMBER.match(plain, start)
    if match is None:
        raise UnitError(
            "no number found",
            source=text,
            span=(start, max(start + 1, len(text.rstrip()))),
            hint="a quantity is a number and a unit, for example '500 mL'",
        )
    value, end = float(match[0]), match.end()
    if plain[end : end + 1] == "," and plain[end + 1 : end + 2].isdigit():
        raise UnitError(
            "a comma inside a number has two readings",
            source=text,
            span=(end, end + 1),
            hint="write a decimal point and no thousands mark",
        )
    spread: float | None = None
    sign = _PLUSMINUS.match(plain, end)
    if sign:
        second = _NUMBER.match(plain, sign.end())
        if second is None:
            raise UnitError("no number after the sign ±", source=text, span=(sign.start(), sign.end()))
        spread, end = float(second[0]), second.end()
    unit = plain[end:].strip()
    shown = match[0].strip()
    if not unit or unit.isdigit():
        hint = _UNIT_HINT.format(shown)
        if 0.0 < value <= 1.0:
            hint += f"; for a strength write a percentage with its basis, '{value * 100:g} % w/w'"
        raise UnitError(
            "a bare number has no unit", source=text, span=(match.start(), end), hint=hint, unit=""
        )
    spelled = canonical(unit)
    if spelled in {"%", "percent"}:
        where = plain.find(unit, end)
        raise UnitError(
            "a percentage needs its basis",
            source=text,
            span=(where, where + len(unit)),
            hint=_BASIS_HINT.format(shown),
        )
    if spelled.lower() in {"ppm", "ppb"}:
        where = plain.find(unit, end)
        raise UnitError(
            f"{spelled} needs its basis",
            source=text,
            span=(where, where + len(unit)),
            hint=f"write '{shown} mg/L' for water, '{shown} ppm w/w' or '{shown} ppm v/v' (gas)",
        )
    try:
        unit_of(spelled)
    except UnitError as error:
        offset = plain.find(unit, end)
        low, high = error.span or (0, len(unit))
        raise UnitError(
            error.message, source=text, span=(offset + low, offset + high), hint=error.hint, unit=unit
        ) from None
    return Quantity(value, spelled, spread)


_AMOUNTS: tuple[Exponents, ...] = ((1, 0, 0, 0, 0, 0), (0, 3, 0, 0, 0, 0), (0, 0, 1, 0, 0, 0))
_STRENGTH_TAGS = frozenset({"w/w", "v/v", "w/w Cl2", "w/w O", "volume strength", "degrees Baume"})
_CONCENTRATIONS: tuple[Exponents, ...] = (PER_VOLUME, (0, -3, 1, 0, 0, 0), (-1, 0, 1, 0, 0, 0))
_FRACTION_TAGS = frozenset({"w/w", "v/v", "w/w O"})


def _positive(found: Quantity, text: str, what: str) -> None:
    if found.value <= 0.0:
        match = _NUMBER.search(text.replace("−", "-"))
        span = match.span() if match else (0, len(text))
        hint = "check the number and its sign"
        raise DomainError(f"{what} must be above zero", source=text, span=span, hint=hint)


def parse_amount(text: str) -> Quantity:
    """Read an amount of substance, mass or volume: ``"0.80 mol"``, ``"2.5 kg"``, ``"500 mL"``, ``"10 m3"``.

    Raises
    ------
    UnitError
        If the unit is absent, unknown or no amount.
    DomainError
        If the amount is zero or negative.
    """
    found = read(text)
    unit = unit_of(found.unit)
    if unit.exponents not in _AMOUNTS or unit.tag:
        where = text.find(found.unit)
        raise UnitError(
            f"{found.unit} is no unit of amount",
            source=text,
            span=(where, where + len(found.unit)) if where >= 0 else (0, len(text)),
            hint="an amount is a mass (g, kg), a volume (mL, L, m3) or moles (mol)",
        )
    _positive(found, text, "an amount")
    return found


def parse_strength(text: str) -> Quantity:
    """Read a strength: ``"35 % w/w"``, ``"1.2 mol/L"``, ``"125 g/L Cl2"``, ``"12.5 % trade"``, ``"20 vol"``.

    ``mol/kg`` is a molality, moles in one kilogram of water.

    Raises
    ------
    UnitError
        If the basis or unit is absent, or the unit is no strength.
    DomainError
        If the strength is zero, negative or above 100 %.
    """
    found = read(text)
    unit = unit_of(found.unit)
    if unit.tag not in _STRENGTH_TAGS and unit.exponents not in _CONCENTRATIONS:
        where = text.find(found.unit)
        raise UnitError(
            f"{found.unit} is no unit of strength",
            source=text,
            span=(where, where + len(found.unit)) if where >= 0 else (0, len(text)),
            hint="a strength is % w/w, % w/v, mol/L, mol/kg, g/L, g/L Cl2, % trade, vol or deg Be",
        )
    _positive(found, text, "a strength")
    share = found.value * unit.factor
    # A trade per cent is 10 g/L of available chlorine: above 100 of them no solution exists either.
    # Available chlorine has no such bound: chlorine dioxide counts 263 % of its own mass.
    if (unit.tag in _FRACTION_TAGS and share > 1.0) or (found.unit == "% trade" and found.value > 100.0):
        match = _NUMBER.search(text)
        span = match.span() if match else (0, len(text))
        raise DomainError("a strength cannot exceed 100 %", source=text, span=span, hint="check the number")
    return found
