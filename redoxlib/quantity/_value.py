"""The values: a number with its unit, uncertainty and origin, and a number nobody has."""

from __future__ import annotations

import math
from dataclasses import dataclass

from redoxlib.errors import DomainError, UnitError
from redoxlib.quantity._units import unit_of


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

    Examples
    --------
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
        from redoxlib.quantity._text import read  # reading needs the class that is being defined

        return read(text)

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in *unit*.

        Raises
        ------
        UnitError
            If the two units do not measure the same thing.
        """
        if unit == self.unit:
            return self
        here, there = unit_of(self.unit), unit_of(unit)
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
        return unit_of(self.unit).goes_with(unit_of(unit))

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
        here, there = unit_of(self.unit), unit_of(other.unit)
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
        if unit_of(self.unit).offset:
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
