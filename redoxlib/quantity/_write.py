"""How many figures a number is written with."""

from __future__ import annotations

from math import floor, isfinite, log10

__all__ = ["significant"]


def significant(value: float, digits: int = 3) -> str:
    """Write a number to *digits* significant figures, without an exponent where a bench would use none.

    Figures before the decimal point are never rounded away: 1022.8 is written 1023.

    >>> significant(0.0345678), significant(9.996), significant(1022.8), significant(2.5e9)
    ('0.0346', '10.0', '1023', '2.50e+09')
    """
    if value == 0:
        return "0"
    if not isfinite(value):
        return "unknown"
    size = floor(log10(abs(value)))
    if -5 <= size < 7:
        decimals = max(0, digits - 1 - size)
        text = f"{value:.{decimals}f}"
        # Rounding may carry into a new digit (9.996 -> 10.00): one figure less then.
        if decimals and abs(float(text)) >= 10.0 ** (size + 1):
            text = f"{value:.{decimals - 1}f}"
        return text
    return f"{value:.{digits - 1}e}"
