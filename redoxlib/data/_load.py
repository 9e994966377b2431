"""Reading and checking the csv tables.

A file is read column by column, which is quick; only when a column holds a fault are its lines
walked to name each one.  Every fault of every line is collected before anything is raised.

The balance of equations and the spelling of species need the notation part and cost more than
the rest together, so ``check_chemistry`` does them when the tables change (tests, a user's own
rows), not at every start.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from importlib.resources import files
from io import StringIO
from math import isfinite
from typing import Any

from redoxlib.data._schema import TABLES, UNITS, Column, Kind, TableSpec
from redoxlib.errors import RedoxlibError, TableError

_FLAGS = {"1": True, "0": False}


class RawTable:
    """The cells of one table as text, column by column, with the place each row came from."""

    __slots__ = ("columns", "places", "spec")

    def __init__(self, spec: TableSpec, columns: Mapping[str, Sequence[str]], places: Sequence[str]) -> None:
        self.spec = spec
        self.columns = columns
        self.places = places


def read(spec: TableSpec) -> tuple[RawTable, list[str]]:
    """Return the cells of one shipped table and the faults of its header and line lengths."""
    path = files("redoxlib.data") / spec.file
    faults: list[str] = []
    if not path.is_file():
        return RawTable(spec, dict.fromkeys(spec.columns, ()), ()), faults
    lines: list[list[str]] = []
    places: list[str] = []
    # Traversable.open takes no newline argument, so the whole text is read and split here.
    with StringIO(path.read_text(encoding="utf-8"), newline="") as stream:
        reader = csv.reader(stream)
        header = next(reader, [])
        width = len(header)
        for cells in reader:
            if not cells:
                continue
            if len(cells) == width:
                lines.append(cells)
                places.append(f"{spec.file}:{reader.line_num}")
            else:
                faults.append(f"{spec.file}:{reader.line_num} row: {len(cells)} cells, header has {width}")
    faults += _header_faults(spec, header)
    found = dict(zip(header, zip(*lines, strict=True), strict=True)) if lines else {}
    blank = ("",) * len(lines)
    return RawTable(spec, {name: found.get(name, blank) for name in spec.columns}, places), faults


def _header_faults(spec: TableSpec, header: Sequence[str]) -> list[str]:
    faults = [
        f"{spec.file}:1 {name}: column missing"
        for name, column in spec.columns.items()
        if name not in header and not column.optional
    ]
    faults += [f"{spec.file}:1 {name}: unknown column" for name in header if name not in spec.columns]
    faults += [f"{spec.file}:1 {name}: column twice" for name, count in Counter(header).items() if count > 1]
    return faults


def raw_rows(spec: TableSpec, rows: Iterable[Mapping[str, object]], label: str) -> tuple[RawTable, list[str]]:
    """Return rows given as mappings (a user's own data) in the shape of a file that was read."""
    faults: list[str] = []
    kept: list[Mapping[str, object]] = []
    places: list[str] = []
    for number, row in enumerate(rows, 1):
        place = f"{label}:{number}"
        faults += [f"{place} {name}: unknown column" for name in row if name not in spec.columns]
        kept.append(row)
        places.append(place)
    columns = {name: [_as_text(row.get(name, "")) for row in kept] for name in spec.columns}
    return RawTable(spec, columns, places), faults


def _as_text(value: object) -> str:
    if isinstance(value, bool):
        return "1" if value else "0"
    return "" if value is None else str(value)


def _number(text: str) -> float:
    # float() also takes 1_000, full-width digits and "nan"; a table may hold none of them.
    if "_" in text or not text.isascii():
        raise ValueError(text)
    value = float(text)
    if not isfinite(value):
        raise ValueError(text)
    return value


def _maybe(text: str) -> float | None:
    return _number(text) if text else None


def _flag(text: str) -> bool:
    return _FLAGS[text]


_READ = {Kind.NUMBER: _number, Kind.MAYBE: _maybe, Kind.FLAG: _flag}
_PLAIN = (ValueError, KeyError)


def _cell_fault(column: Column, text: str, sources: frozenset[str]) -> str | None:
    """Say what is wrong with one cell, or None."""
    kind = column.kind
    if kind in _READ:
        try:
            _READ[kind](text)
        except _PLAIN:
            if not text:
                return "empty, a number is needed" if kind is not Kind.FLAG else "empty, 1 or 0 is needed"
            return f"{text!r} is not 1 or 0" if kind is Kind.FLAG else f"{text!r} is not a number"
        return None
    if text != text.strip():
        return f"{text!r} has blanks around it"
    if kind is not Kind.TEXT and not text:
        return "empty"
    if column.words and text not in column.words:
        return f"{text!r} is none of {', '.join(sorted(column.words))}"
    if kind is Kind.SOURCE:
        unknown = [key.strip() for key in text.split(";") if key.strip() not in sources]
        if unknown:
            return f"unknown source {', '.join(map(repr, unknown))}"
    return None


def convert(raw: RawTable, sources: frozenset[str], *, least: int = 1) -> tuple[list[Any], list[str]]:
    """Return the rows of one table and every fault of its cells, units and keys.

    *least* is how many rows of each choice must be marked: one in a whole table, none in rows
    that only add to it.
    """
    spec = raw.spec
    faults: list[str] = []
    values: dict[str, Sequence[object]] = {}
    for name, column in spec.columns.items():
        cells = raw.columns[name]
        bad = {text: fault for text in set(cells) if (fault := _cell_fault(column, text, sources))}
        if bad:
            faults += [
                f"{place} {name}: {bad[text]}"
                for place, text in zip(raw.places, cells, strict=True)
                if text in bad
            ]
            continue
        reader = _READ.get(column.kind)
        values[name] = cells if reader is None else list(map(reader, cells))
    faults += _negative_uncertainties(raw, values)
    faults += _wrong_units(raw)
    faults += _repeated(raw)
    if faults:
        return [], faults
    faults += _chosen_faults(raw, values, least)
    return [spec.row(*cells) for cells in zip(*_in_field_order(spec, values), strict=True)], faults


def _in_field_order(spec: TableSpec, values: Mapping[str, Sequence[object]]) -> list[Sequence[object]]:
    return [values[field.name] for field in fields(spec.row)]


def _negative_uncertainties(raw: RawTable, values: Mapping[str, Sequence[object]]) -> list[str]:
    cells = values.get("uncertainty", ())
    return [
        f"{place} uncertainty: {value} is negative"
        for place, value in zip(raw.places, cells, strict=False)
        if isinstance(value, float) and value < 0
    ]


def _wrong_units(raw: RawTable) -> list[str]:
    named = raw.columns.get("property") or raw.columns.get("quantity") or ()
    if not named or "unit" not in raw.columns or not set(named) <= set(UNITS):
        return []
    return [
        f"{place} unit: {unit!r} is not the unit of {quantity}, which is {UNITS[quantity]}"
        for place, quantity, unit in zip(raw.places, named, raw.columns["unit"], strict=True)
        if unit and unit != UNITS[quantity]
    ]


def _keys(raw: RawTable, names: Sequence[str]) -> list[tuple[str, ...]]:
    return list(zip(*(raw.columns[name] for name in names), strict=True))


def _repeated(raw: RawTable) -> list[str]:
    if not raw.spec.unique:
        return []
    keys = _keys(raw, raw.spec.unique)
    if len(set(keys)) == len(keys):
        return []
    counts = Counter(keys)
    return [
        f"{place} {raw.spec.unique[0]}: occurs twice: {', '.join(key)}"
        for place, key in zip(raw.places, keys, strict=True)
        if counts[key] > 1
    ]


def _chosen_faults(raw: RawTable, values: Mapping[str, Sequence[object]], least: int) -> list[str]:
    if not raw.spec.chosen:
        return []
    keys = _keys(raw, raw.spec.chosen)
    marked = Counter(key for key, chosen in zip(keys, values["chosen"], strict=True) if chosen)
    return [
        f"{place} chosen: {marked[key]} rows are chosen for {', '.join(key)}, exactly one must be"
        for place, key in zip(raw.places, keys, strict=True)
        if not least <= marked[key] <= 1
    ]


def check_chemistry(raw: RawTable) -> list[str]:
    """Return a fault for every species that cannot be read and every equation that does not balance."""
    from redoxlib.notation import Equation, Species

    faults: list[str] = []
    for name, column in raw.spec.columns.items():
        if column.kind not in (Kind.SPECIES, Kind.EQUATION):
            continue
        told: dict[str, str | None] = {}
        for text in set(raw.columns[name]):
            try:
                if column.kind is Kind.SPECIES:
                    Species.parse(text)
                    told[text] = None
                else:
                    residual = Equation.parse(text).residual()
                    left = {key: str(value) for key, value in residual.items() if value}
                    told[text] = f"does not balance, left minus right is {left}" if left else None
            except RedoxlibError as error:
                told[text] = str(error).splitlines()[0]
        faults += [
            f"{place} {name}: {text!r}: {told[text]}"
            for place, text in zip(raw.places, raw.columns[name], strict=True)
            if told[text]
        ]
    return faults


def raise_faults(faults: Sequence[str]) -> None:
    """Raise one error that lists every fault, if there is any."""
    if faults:
        count = f"{len(faults)} faults" if len(faults) > 1 else "1 fault"
        raise TableError(
            f"{count} in the data tables:\n" + "\n".join(f"  {fault}" for fault in faults),
            faults=tuple(faults),
        )


def load(name: str, sources: frozenset[str], *extra: tuple[RawTable, list[str]]) -> list[Any]:
    """Return the checked rows of one table, the user's own (*extra*) first.

    Raises
    ------
    TableError
        With every fault found, each naming file, line and column.
    """
    raw, faults = read(TABLES[name])
    rows, more = convert(raw, sources)
    faults += more
    own: list[Any] = []
    for table, known in extra:
        converted, wrong = convert(table, sources, least=0)
        faults += known + wrong + check_chemistry(table)
        own += converted
    raise_faults(faults)
    return own + rows
