"""What a unit measures, and the many ways of writing it.

Dimension = exponents of (g, m, mol, s, K, A) and a tag for what those cannot tell apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from redoxlib.errors import UnitError

Exponents = tuple[int, int, int, int, int, int]
_NONE: Exponents = (0, 0, 0, 0, 0, 0)
_CELSIUS_ZERO = 273.15  # K, definition


@dataclass(frozen=True, slots=True)
class Unit:
    exponents: Exponents
    tag: str
    factor: float
    offset: float = 0.0  # added after the factor; only Celsius has one

    def goes_with(self, other: Unit) -> bool:
        return self.exponents == other.exponents and self.tag == other.tag


_SYMBOLS: dict[str, tuple[Exponents, float]] = {
    "1": (_NONE, 1.0),
    "%": (_NONE, 0.01),
    "g": ((1, 0, 0, 0, 0, 0), 1.0),
    "t": ((1, 0, 0, 0, 0, 0), 1e6),
    "m": ((0, 1, 0, 0, 0, 0), 1.0),
    "L": ((0, 3, 0, 0, 0, 0), 1e-3),
    "l": ((0, 3, 0, 0, 0, 0), 1e-3),
    "mol": ((0, 0, 1, 0, 0, 0), 1.0),
    "M": ((0, -3, 1, 0, 0, 0), 1e3),
    "s": ((0, 0, 0, 1, 0, 0), 1.0),
    "min": ((0, 0, 0, 1, 0, 0), 60.0),
    "h": ((0, 0, 0, 1, 0, 0), 3600.0),
    "d": ((0, 0, 0, 1, 0, 0), 86400.0),
    "K": ((0, 0, 0, 0, 1, 0), 1.0),
    "A": ((0, 0, 0, 0, 0, 1), 1.0),
    "C": ((0, 0, 0, 1, 0, 1), 1.0),  # coulomb inside a compound; alone it is Celsius, see _whole
    "Ah": ((0, 0, 0, 1, 0, 1), 3600.0),
    "J": ((1, 2, 0, -2, 0, 0), 1e3),
    "Wh": ((1, 2, 0, -2, 0, 0), 3.6e6),
    "cal": ((1, 2, 0, -2, 0, 0), 4184.0),
    "W": ((1, 2, 0, -3, 0, 0), 1e3),
    "V": ((1, 2, 0, -3, 0, -1), 1e3),
    "Pa": ((1, -1, 0, -2, 0, 0), 1e3),
    "bar": ((1, -1, 0, -2, 0, 0), 1e8),
    "atm": ((1, -1, 0, -2, 0, 0), 101325e3),
    "mmHg": ((1, -1, 0, -2, 0, 0), 133.322387415e3),
    "Torr": ((1, -1, 0, -2, 0, 0), 101325e3 / 760),
}
_PREFIXES = {"n": 1e-9, "u": 1e-6, "m": 1e-3, "c": 1e-2, "d": 1e-1, "h": 1e2, "k": 1e3, "M": 1e6}
_PREFIXED = frozenset(
    {"g", "m", "L", "l", "mol", "M", "s", "A", "C", "Ah", "J", "Wh", "cal", "W", "V", "Pa", "bar"}
)
_WORDS = {
    "gram": "g",
    "grams": "g",
    "litre": "L",
    "litres": "L",
    "liter": "L",
    "liters": "L",
    "mole": "mol",
    "moles": "mol",
    "hour": "h",
    "hours": "h",
    "day": "d",
    "days": "d",
    "minute": "min",
    "minutes": "min",
    "kelvin": "K",
    "torr": "Torr",
}

_TEMPERATURE: Exponents = (0, 0, 0, 0, 1, 0)
PER_VOLUME: Exponents = (1, -3, 0, 0, 0, 0)
# Units that no grammar of factors could build, by canonical spelling.
_SPECIAL: dict[str, Unit] = {
    "C": Unit(_TEMPERATURE, "", 1.0, _CELSIUS_ZERO),
    "% w/w": Unit(_NONE, "w/w", 0.01),
    "g/kg": Unit(_NONE, "w/w", 1e-3),
    "mg/kg": Unit(_NONE, "w/w", 1e-6),
    "ppm w/w": Unit(_NONE, "w/w", 1e-6),
    "% w/v": Unit(PER_VOLUME, "", 1e4),
    "% v/v": Unit(_NONE, "v/v", 0.01),
    "ppm v/v": Unit(_NONE, "v/v", 1e-6),
    "% trade": Unit(PER_VOLUME, "Cl2", 1e4),
    "% w/w Cl2": Unit(_NONE, "w/w Cl2", 0.01),
    "% w/w O": Unit(_NONE, "w/w O", 0.01),
    "vol": Unit(_NONE, "volume strength", 1.0),
    "deg Be": Unit(_NONE, "degrees Baume", 1.0),
}
_SPELLINGS: dict[str, str] = {
    "C": "°c|degc|deg c|celsius|degrees c|degrees celsius|℃|º c|ºc|° c",
    "% w/w": "% w/w|% m/m|% (w/w)|% (m/m)|% by mass|% by weight|% by wt|% by wt.|% wt|% wt.|% wt/wt|wt %"
    "|wt. %|mass %|weight %|% mass|% weight|w/w %",
    "% w/v": "% w/v|% m/v|% (w/v)|% (m/v)|w/v %|g/100 ml|g/100ml|% wt/vol",
    "% v/v": "% v/v|% (v/v)|% by volume|v/v %|% abv|% vol|vol %",
    "% trade": "% trade|trade %|% (trade)|% trade strength|% chlorine trade",
    "% w/w Cl2": "% available chlorine|% available cl2|% avail. chlorine|% avail. cl2|% avail cl2"
    "|% av. chlorine|% av. cl2|% av cl2|% active chlorine|% active cl2|% w/w available chlorine"
    "|% w/w available cl2|% w/w active chlorine|% w/w cl2",
    "% w/w O": "% active oxygen|% available oxygen|% avail. oxygen|% w/w active oxygen|% w/w o",
    "vol": "vol|vol.|vols|vols.|volume|volumes|vol strength|volume strength|-vol",
    "deg Be": "deg be|degree be|degrees be|degree baume|degrees baume|deg baume|°be|°bé|° be|° bé|ºbé|ºbe"
    "|baume|°baume|°baumé|degrees baumé",
    "g/kg": "g/kg|mg/g",
    "mg/kg": "mg/kg",
    "ppm w/w": "ppm w/w|ppm (w/w)|ppm by mass",
    "ppm v/v": "ppm v/v|ppm (v/v)|ppmv|ppm by volume",
}
_ALIASES = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings.split("|")}

_CHLORINE = re.compile(r"\s+(?:(?:available|avail\.?|av\.?|active|as)\s+)?(?:chlorine|cl2)", re.IGNORECASE)
_TOKEN = re.compile(r"\s*(?:([A-Za-z%]+|1(?![0-9]))(?:\^?([-+]?[0-9]))?|([/()*·]))")
_TAG = re.compile(r"([A-Za-z]+/[A-Za-z]+[0-9]?)\s+(?:as\s+)?([A-Z][A-Za-z0-9()\[\].+^-]*)")
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺−µμ", "0123456789-+-uu")


def canonical(unit: str) -> str:
    """Return the one spelling of *unit* this library prints; unknown text comes back trimmed."""
    text = " ".join(unit.translate(_SUPERSCRIPTS).split())
    if text.startswith("%") or text.endswith("%"):
        # "%w/w", "wt%", "% (w/w)": one blank on the open side of the sign.
        text = " ".join(text.replace("%", " % ").split())
    if text.lower().startswith("percent "):
        text = "% " + text[8:]
    if text in _SPECIAL:
        return text
    folded = text.lower()
    if folded in _ALIASES:
        return _ALIASES[folded]
    chlorine = _CHLORINE.search(text)
    if chlorine and chlorine.end() == len(text) and "/" in text[: chlorine.start()]:
        return f"{text[: chlorine.start()]} Cl2"
    tagged = _TAG.fullmatch(text)
    if tagged and not _known(tagged[2]):
        return f"{tagged[1]} {tagged[2]}"
    return text


def _known(symbol: str) -> bool:
    return _symbol(symbol) is not None


def _symbol(symbol: str) -> tuple[Exponents, float] | None:
    """symbol = NAME | PREFIX NAME; a whole name wins, so ``min`` is a minute and ``mol`` no milli-ol."""
    symbol = _WORDS.get(symbol, symbol)
    if symbol in _SYMBOLS:
        return _SYMBOLS[symbol]
    prefix, rest = symbol[:1], symbol[1:]
    if prefix in _PREFIXES and rest in _PREFIXED:
        exponents, factor = _SYMBOLS[rest]
        return exponents, factor * _PREFIXES[prefix]
    return None


def unit_of(unit: str) -> Unit:
    """Return what *unit* measures.

    unit = special | product TAG?; product = factor ((``/`` | ``*`` | blank) factor)*;
    factor = symbol (``^``? INTEGER)? | ``(`` product ``)``.  One stroke divides by what directly follows.
    """
    found = _CACHE.get(unit)
    if found is None:
        found = _read(unit)
        if len(_CACHE) < 512:  # a bound, so that hostile text cannot grow it without end
            _CACHE[unit] = found
    return found


_CACHE: dict[str, Unit] = {}


def _read(unit: str) -> Unit:
    text = canonical(unit)
    if text in _SPECIAL:
        return _SPECIAL[text]
    tag = ""
    tagged = _TAG.fullmatch(text)
    if tagged and not _known(tagged[2]):
        text, tag = tagged[1], tagged[2]
    totals, factor = [0] * 6, 1.0
    signs = [1]  # sign of the exponents inside each open bracket
    sign, position, divided = 1, 0, False
    while position < len(text):
        match = _TOKEN.match(text, position)
        if match is None:
            raise _unknown_unit(unit, text[position:].strip())
        name, power, mark = match[1], match[2], match[3]
        position = match.end()
        if divided and mark is None and sign > 0 and len(signs) == 1:
            raise UnitError(
                f"{unit!r} has two readings",
                source=unit,
                span=(0, len(unit)),
                hint="put what is divided by into parentheses, such as J/(mol K)",
                unit=unit,
            )
        if mark == "/":
            sign, divided = -1, True
        elif mark == "(":
            signs.append(signs[-1] * sign)
            sign = 1
        elif mark == ")":
            if len(signs) == 1:
                raise _unknown_unit(unit, ")")
            signs.pop()
            sign = 1
        elif name is not None:
            meaning = _symbol(name)
            if meaning is None:
                raise _unknown_unit(unit, name)
            exponent = int(power or 1) * sign * signs[-1]
            for index, one in enumerate(meaning[0]):
                totals[index] += one * exponent
            factor *= meaning[1] ** exponent
            sign = 1
    if len(signs) != 1 or sign < 0 or not text:
        raise _unknown_unit(unit, unit)
    g, m, mol, s, kelvin, a = totals
    return Unit((g, m, mol, s, kelvin, a), tag, factor)


def _unknown_unit(unit: str, part: str) -> UnitError:
    near = {name.lower(): name for name in ("g", "kg", "mg", "mL", "L", "mol", "mmol", "kJ", "min", "mV")}
    wanted = near.get(part.lower())
    hint = "known are g, L, m3, mol, s, min, h, J, W, V, A, K, C, bar and their multiples"
    if wanted and wanted != part:
        hint = f"did you mean {wanted!r}?"
    start = unit.find(part)
    span = (start, start + max(1, len(part))) if start >= 0 else None
    return UnitError(f"unknown unit {part!r}", source=unit, span=span, hint=hint, unit=unit)
