"""How numbers and sources are written in every report.

May import: quantity, data, this package.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from redoxlib.quantity import Quantity, Unknown
from redoxlib.quantity import significant as number
from redoxlib.reports._document import Block, Bullets, Heading

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.data import Source, Tables

__all__ = [
    "cited",
    "degrees",
    "duration",
    "exact",
    "mass",
    "number",
    "place_name",
    "settled",
    "shown",
    "signed_volts",
    "source_lines",
    "sources_block",
    "volume",
    "with_unit",
]

UNKNOWN = "unknown"


def shown(value: Quantity | Unknown | float | None, unit: str = "", digits: int = 3) -> str:
    """Write a figure with its unit; what is not known says so and names what is missing."""
    if value is None:
        return "none"
    if isinstance(value, Unknown):
        return f"{UNKNOWN} ({value.what})" if value.what else UNKNOWN
    if isinstance(value, Quantity):
        return str(value)
    return with_unit(number(value, digits), unit)


def settled(value: Quantity | Unknown) -> str:
    """Write a number of a plan: with its uncertainty where it has one, a count or a class as whole."""
    if isinstance(value, Quantity) and not value.uncertainty:
        whole = value.unit == "1" and value.value == int(value.value)
        return with_unit(str(int(value.value)) if whole else number(value.value), value.unit)
    return shown(value)


def with_unit(text: str, unit: str) -> str:
    """Put the unit behind a number, none behind a pure one or an unknown."""
    return text if not unit or unit == "1" or text == UNKNOWN else f"{text} {unit}"


def mass(grams: float) -> str:
    """Write a mass in g, from 10 kg on in kg."""
    return f"{number(grams / 1000)} kg" if grams >= 10_000 else f"{number(grams)} g"


def volume(millilitres: float) -> str:
    """Write a volume in mL, from 10 L on in L."""
    return f"{number(millilitres / 1000)} L" if millilitres >= 10_000 else f"{number(millilitres)} mL"


def degrees(value: Quantity | Unknown, digits: int = 1) -> str:
    """Write a temperature or a rise to a tenth; a thermometer in a pot shows no more."""
    if isinstance(value, Unknown):
        return shown(value)
    spread = value.uncertainty or 0.0
    if 0 < value.value < 0.05 and value.unit == "K":
        return "less than 0.1 K"
    plus = f" ± {spread:.{digits}f}" if spread >= 0.05 else ""
    return f"{value.value:.{digits}f}{plus} {value.unit}"


def signed_volts(value: Quantity | Unknown | float | None) -> str:
    """Write a potential with its sign, two decimals, no unit (the head of the column has it)."""
    if isinstance(value, Quantity):
        return f"{value.to('V').value:+.2f}"
    return f"{value:+.2f}" if isinstance(value, float) else UNKNOWN


def duration(seconds: float) -> str:
    """Write a time in the unit a person would use."""
    for size, unit in ((31_557_600.0, "y"), (86_400.0, "d"), (3600.0, "h"), (60.0, "min"), (1.0, "s")):
        if seconds >= size:
            return f"{number(seconds / size, 2)} {unit}"
    return "under 1 s"


def exact(value: int | Fraction) -> str:
    """Write an exact number: ``3`` or ``1/2``."""
    return str(value)


def place_name(place: int, tied: bool) -> str:
    """Write a place; an equals sign says that it is shared."""
    return f"{place}=" if tied else str(place)


def source_lines(keys: Iterable[str], tables: Tables | None = None) -> tuple[str, ...]:
    """Write each source once: its key in brackets and the printed work."""
    known = _sources(tables)
    seen = dict.fromkeys(key for text in keys for key in (part.strip() for part in text.split(";")) if key)
    return tuple(f"[{key}] {known[key].citation}" if key in known else f"[{key}]" for key in seen)


def sources_block(keys: Iterable[str]) -> tuple[Block, ...]:
    """The sources a report rests on, each with its key."""
    lines = source_lines(keys)
    return (Heading("Sources"), Bullets(lines)) if lines else ()


def cited(citations: str, tables: Tables | None = None) -> tuple[str, ...]:
    """Find the keys behind joined citations, so that each stands with its key."""
    found = [
        (citations.find(row.citation), f"[{key}] {row.citation}")
        for key, row in _sources(tables).items()
        if row.citation in citations
    ]
    # A citation may be the beginning of a longer one; the longer one is meant.
    kept = [
        (at, line)
        for at, line in found
        if not any(at == other and line != longer and _body(line) in _body(longer) for other, longer in found)
    ]
    return tuple(line for _, line in sorted(kept)) or ((citations,) if citations else ())


def _body(line: str) -> str:
    return line.partition("] ")[2]


def _sources(tables: Tables | None) -> Mapping[str, Source]:
    from redoxlib.data import shipped

    return (tables or shipped()).sources
