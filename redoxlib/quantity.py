"""Numbers with units.  Quantity, Unknown; parse_amount, parse_strength; the constants R and FARADAY.

A unit here is text with a meaning: ``kJ/mol``, ``g/mL``, ``% w/w``, ``g/L Cl2``.  Two units go together
when they measure the same thing, tag included: grams of chlorine per litre are not grams of anything per
litre, and a mass percentage is not a trade percentage.  What a strength means for one solute (densities,
molar masses) is the business of ``bottles``; this module knows no chemistry.

May import: errors.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from redoxlib.errors import DomainError, UnitError

__all__ = [
    "FARADAY",
    "MOLAR_GAS_VOLUME",
    "STANDARD_PRESSURE",
    "STANDARD_TEMPERATURE",
    "Quantity",
    "R",
    "Unknown",
    "parse_amount",
    "parse_strength",
]

_LIMIT = 200  # characters; a quantity is a short thing, and a long text is a mistake or an attack

# ---------------------------------------------------------------------------------------------------
# Units.  Dimension = exponents of (g, m, mol, s, K, A) and a tag for what those cannot tell apart.

_Exponents = tuple[int, int, int, int, int, int]
_NONE: _Exponents = (0, 0, 0, 0, 0, 0)
_CELSIUS_ZERO = 273.15  # K, definition


@dataclass(frozen=True, slots=True)
class _Unit:
    exponents: _Exponents
    tag: str
    factor: float
    offset: float = 0.0  # added after the factor; only Celsius has one

    def goes_with(self, other: _Unit) -> bool:
        return self.exponents == other.exponents and self.tag == other.tag


_SYMBOLS: dict[str, tuple[_Exponents, float]] = {
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

_TEMPERATURE: _Exponents = (0, 0, 0, 0, 1, 0)
_PER_VOLUME: _Exponents = (1, -3, 0, 0, 0, 0)
# Units that no grammar of factors could build, by canonical spelling.
_SPECIAL: dict[str, _Unit] = {
    "C": _Unit(_TEMPERATURE, "", 1.0, _CELSIUS_ZERO),
    "% w/w": _Unit(_NONE, "w/w", 0.01),
    "g/kg": _Unit(_NONE, "w/w", 1e-3),
    "mg/kg": _Unit(_NONE, "w/w", 1e-6),
    "ppm w/w": _Unit(_NONE, "w/w", 1e-6),
    "% w/v": _Unit(_PER_VOLUME, "", 1e4),
    "% v/v": _Unit(_NONE, "v/v", 0.01),
    "ppm v/v": _Unit(_NONE, "v/v", 1e-6),
    "% trade": _Unit(_PER_VOLUME, "Cl2", 1e4),
    "% w/w Cl2": _Unit(_NONE, "w/w Cl2", 0.01),
    "% w/w O": _Unit(_NONE, "w/w O", 0.01),
    "vol": _Unit(_NONE, "volume strength", 1.0),
    "deg Be": _Unit(_NONE, "degrees Baume", 1.0),
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


def _canonical(unit: str) -> str:
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


def _symbol(symbol: str) -> tuple[_Exponents, float] | None:
    """symbol = NAME | PREFIX NAME; a whole name wins, so ``min`` is a minute and ``mol`` no milli-ol."""
    symbol = _WORDS.get(symbol, symbol)
    if symbol in _SYMBOLS:
        return _SYMBOLS[symbol]
    prefix, rest = symbol[:1], symbol[1:]
    if prefix in _PREFIXES and rest in _PREFIXED:
        exponents, factor = _SYMBOLS[rest]
        return exponents, factor * _PREFIXES[prefix]
    return None


def _unit(unit: str) -> _Unit:
    """Return what *unit* measures.

    unit = special | product TAG?; product = factor ((``/`` | ``*`` | blank) factor)*;
    factor = symbol (``^``? INTEGER)? | ``(`` product ``)``.  One stroke divides by what directly follows.
    """
    found = _CACHE.get(unit)
    if found is None:
        found = _read_unit(unit)
        if len(_CACHE) < 512:  # a bound, so that hostile text cannot grow it without end
            _CACHE[unit] = found
    return found


_CACHE: dict[str, _Unit] = {}


def _read_unit(unit: str) -> _Unit:
    text = _canonical(unit)
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
    return _Unit((g, m, mol, s, kelvin, a), tag, factor)


def _unknown_unit(unit: str, part: str) -> UnitError:
    near = {name.lower(): name for name in ("g", "kg", "mg", "mL", "L", "mol", "mmol", "kJ", "min", "mV")}
    wanted = near.get(part.lower())
    hint = "known are g, L, m3, mol, s, min, h, J, W, V, A, K, C, bar and their multiples"
    if wanted and wanted != part:
        hint = f"did you mean {wanted!r}?"
    start = unit.find(part)
    span = (start, start + max(1, len(part))) if start >= 0 else None
    return UnitError(f"unknown unit {part!r}", source=unit, span=span, hint=hint, unit=unit)


# ---------------------------------------------------------------------------------------------------
# Values.


def _rounded(value: float, decimals: int) -> str:
    if decimals <= 0:
        return f"{round(value, decimals):.0f}"
    return f"{value:.{decimals}f}"


def _plain(value: float) -> str:
    """Four significant figures, unless the number is itself short: 298.15 stays, 1.317834 becomes 1.318."""
    if value == 0.0:
        return "0"
    short = f"{value:.6g}"
    text = short if float(short) == value else f"{value:.4g}"
    if "e" in text and 1e-4 <= abs(value) < 1e7:
        digits = 4 - 1 - math.floor(math.log10(abs(value)))
        text = _rounded(value, digits)
    return text


@dataclass(frozen=True, slots=True)
class Quantity:
    """One number with its unit, uncertainty and origin.

    Parameters
    ----------
    value : float
        Finite.
    unit : str
        Such as ``kJ/mol``, ``g/mL``, ``% w/w``, ``g/L Cl2``; ``1`` for a pure number.  A lone ``C`` is a
        Celsius temperature; inside a compound (``C/mol``) it is the coulomb.
    uncertainty : float, optional
        Standard uncertainty in the same unit; None where none is known, 0.0 for a definition.
    sources : tuple of str
        Keys into the table of sources.
    basis : str
        What the uncertainty rests on: ``published``, ``spread``, ``last-digit``, ``definition`` or
        ``estimate``.

    Raises
    ------
    DomainError
        If the value is not finite or the uncertainty negative.

    Notes
    -----
    Sums and differences add uncertainties in quadrature, that is, as if independent.  Two numbers from one
    table row are not; code that needs their correlation samples the rows instead.

    >>> print(Quantity(-285.830, "kJ/mol", 0.040))
    -285.83 ± 0.04 kJ/mol
    >>> print(Quantity.parse("500 mL").to("L"))
    0.5 L
    """

    value: float
    unit: str
    uncertainty: float | None = None
    sources: tuple[str, ...] = ()
    basis: str = ""

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise DomainError(f"a quantity needs a finite number, not {self.value}", unit=self.unit)
        if self.uncertainty is not None and not 0.0 <= self.uncertainty < math.inf:
            raise DomainError(f"an uncertainty cannot be {self.uncertainty}", unit=self.unit)

    @classmethod
    def parse(cls, text: str) -> Quantity:
        """Read ``"35 % w/w"``, ``"125 g/L Cl2"``, ``"500 mL"``, ``"0.80 ± 0.01 mol"``.

        Raises
        ------
        UnitError
            If the unit is unknown or absent, or a percentage lacks its basis.
        """
        return _parse(text)

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in *unit*.

        Raises
        ------
        UnitError
            If the two units do not measure the same thing.
        """
        if unit == self.unit:
            return self
        here, there = _unit(self.unit), _unit(unit)
        if not here.goes_with(there):
            raise UnitError(f"{self.unit} cannot be expressed in {unit}", units=(self.unit, unit))
        ratio = here.factor / there.factor
        value = (self.value * here.factor + here.offset - there.offset) / there.factor
        if here.offset == there.offset == 0.0:
            value = self.value * ratio
        spread = None if self.uncertainty is None else self.uncertainty * ratio
        return Quantity(value, unit, spread, self.sources, self.basis)

    def measures_like(self, unit: str) -> bool:
        """Say whether :meth:`to` would accept *unit*."""
        return _unit(self.unit).goes_with(_unit(unit))

    def agrees_with(self, other: Quantity, coverage: float = 2.0) -> bool:
        """Say whether two quantities differ by no more than *coverage* combined uncertainties."""
        gap = self - other
        return abs(gap.value) <= coverage * (gap.uncertainty or 0.0)

    def __str__(self) -> str:
        spread = self.uncertainty
        tail = "" if self.unit == "1" else f" {self.unit}"
        if not spread or (self.value and spread < 1e-9 * abs(self.value)):
            return _plain(self.value) + tail
        exponent = math.floor(math.log10(spread))
        # Two digits where one would round the uncertainty by more than a seventh (1.0 to 3.5), else one.
        keep = 2 if spread / 10.0**exponent < 3.55 and not _is_one_digit(spread, exponent) else 1
        decimals = keep - 1 - exponent
        if not (-7 < decimals < 10):
            scale = math.floor(math.log10(max(abs(self.value), spread)))
            low = max(0, scale + decimals)
            size = 10.0**scale
            return f"({_rounded(self.value / size, low)} ± {_rounded(spread / size, low)})e{scale:+03d}{tail}"
        return f"{_rounded(self.value, decimals)} ± {_rounded(spread, decimals)}{tail}"

    def _like(self, other: object, sign: int, verb: str) -> Quantity:
        if not isinstance(other, Quantity):  # a float has no unit, so the sum would have a hidden one
            raise TypeError(f"cannot {verb} a Quantity and a {type(other).__name__}")
        here, there = _unit(self.unit), _unit(other.unit)
        if not here.goes_with(there):
            raise UnitError(f"cannot {verb} {self.unit} and {other.unit}", units=(self.unit, other.unit))
        unit, second = self.unit, other.value * (there.factor / here.factor)
        if here.offset or there.offset:
            # Two temperatures have a difference, in kelvin, and no sum.
            if sign > 0:
                raise UnitError(
                    f"cannot add {self.unit} and {other.unit}: Celsius temperatures have no sum",
                    hint="convert both to K first",
                    units=(self.unit, other.unit),
                )
            unit, second = "K", other.value + there.offset - here.offset
        spreads = [
            self.uncertainty,
            None if other.uncertainty is None else other.uncertainty * (there.factor / here.factor),
        ]
        known = [spread for spread in spreads if spread is not None]
        total = math.hypot(*known) if len(known) == 2 else None
        sources = tuple(dict.fromkeys(self.sources + other.sources))
        basis = self.basis if self.basis == other.basis else ""
        return Quantity(self.value + sign * second, unit, total, sources, basis)

    def __add__(self, other: Quantity) -> Quantity:
        return self._like(other, 1, "add")

    def __sub__(self, other: Quantity) -> Quantity:
        return self._like(other, -1, "subtract")

    def __neg__(self) -> Quantity:
        return self * -1.0

    def __mul__(self, factor: float) -> Quantity:
        if isinstance(factor, bool) or not isinstance(factor, (int, float)):
            return NotImplemented
        if _unit(self.unit).offset:
            raise UnitError(f"cannot multiply a temperature in {self.unit}", hint="convert it to K first")
        spread = None if self.uncertainty is None else self.uncertainty * abs(factor)
        return Quantity(self.value * factor, self.unit, spread, self.sources, self.basis)

    __rmul__ = __mul__

    def __truediv__(self, divisor: float) -> Quantity:
        if isinstance(divisor, bool) or not isinstance(divisor, (int, float)):
            return NotImplemented
        return self * (1.0 / divisor)


def _is_one_digit(spread: float, exponent: int) -> bool:
    """Say whether *spread* was written with one digit, such as 0.002: a second would be invented."""
    lead = spread / 10.0**exponent
    return abs(lead - round(lead)) < 1e-9


@dataclass(frozen=True, slots=True)
class Unknown:
    """A number nobody has published, or that the tables lack; prints ``unknown``.

    Parameters
    ----------
    what : str
        What was asked for.
    looked_in : tuple of str
        Where it was looked for.
    """

    what: str
    looked_in: tuple[str, ...] = ()

    def __str__(self) -> str:
        return "unknown"


# ---------------------------------------------------------------------------------------------------
# Text.

_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?")
_PLUSMINUS = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_BASIS_HINT = "write the basis: '{0} % w/w' (mass), '{0} % w/v' (g per 100 mL), '{0} % v/v' or '{0} % trade'"
_UNIT_HINT = "write a unit, for example '{0} g', '{0} mL' or '{0} mol'"


def _parse(text: str) -> Quantity:
    """quantity = NUMBER ((``±`` | ``+/-``) NUMBER)? unit."""
    if len(text) > _LIMIT:
        raise UnitError(f"a quantity has at most {_LIMIT} characters, not {len(text)}")
    plain = text.replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ").replace("\u2009", " ")
    start = len(plain) - len(plain.lstrip())
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
    if not unit:
        hint = _UNIT_HINT.format(shown)
        if 0.0 < value <= 1.0:
            hint += f"; for a strength write a percentage with its basis, '{value * 100:g} % w/w'"
        raise UnitError("a bare number has no unit", source=text, span=(match.start(), end), hint=hint)
    canonical = _canonical(unit)
    if canonical in {"%", "percent"}:
        where = plain.find(unit, end)
        raise UnitError(
            "a percentage needs its basis",
            source=text,
            span=(where, where + len(unit)),
            hint=_BASIS_HINT.format(shown),
        )
    if canonical.lower() in {"ppm", "ppb"}:
        where = plain.find(unit, end)
        raise UnitError(
            f"{canonical} needs its basis",
            source=text,
            span=(where, where + len(unit)),
            hint=f"write '{shown} mg/L' for water, '{shown} ppm w/w' or '{shown} ppm v/v' (gas)",
        )
    try:
        _unit(canonical)
    except UnitError as error:
        offset = plain.find(unit, end)
        low, high = error.span or (0, len(unit))
        raise UnitError(
            error.message, source=text, span=(offset + low, offset + high), hint=error.hint, unit=unit
        ) from None
    return Quantity(value, canonical, spread)


_AMOUNTS: tuple[_Exponents, ...] = ((1, 0, 0, 0, 0, 0), (0, 3, 0, 0, 0, 0), (0, 0, 1, 0, 0, 0))
_STRENGTH_TAGS = frozenset({"w/w", "v/v", "w/w Cl2", "w/w O", "volume strength", "degrees Baume"})
_CONCENTRATIONS: tuple[_Exponents, ...] = (_PER_VOLUME, (0, -3, 1, 0, 0, 0), (-1, 0, 1, 0, 0, 0))
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
    found = _parse(text)
    unit = _unit(found.unit)
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
    found = _parse(text)
    unit = _unit(found.unit)
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


# ---------------------------------------------------------------------------------------------------
# Constants, exact since the 2019 revision of the SI (k, N_A and e are defined numbers).

R = Quantity(8.31446261815324, "J/(mol K)", 0.0, ("si2019",), "definition")
"""Molar gas constant, N_A k."""

FARADAY = Quantity(96485.33212331001, "C/mol", 0.0, ("si2019",), "definition")
"""Faraday constant, N_A e."""

STANDARD_TEMPERATURE = Quantity(298.15, "K", 0.0, ("greenbook2007",), "definition")
"""Temperature of the tables: 25 C."""

STANDARD_PRESSURE = Quantity(1.0, "bar", 0.0, ("greenbook2007",), "definition")
"""Standard-state pressure."""

MOLAR_GAS_VOLUME = Quantity(
    R.value * STANDARD_TEMPERATURE.value / 100.0, "L/mol", 0.0, ("si2019", "greenbook2007"), "definition"
)
"""Ideal-gas volume at 25 C and 1 bar, RT/p = 24.79 L/mol (at 1 atm it would be 24.47)."""
