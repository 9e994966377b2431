"""Finding what the table of kinetic verdicts says of an oxidant and a reductant.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from functools import cache

from redoxlib.data import KineticsRow, Tables
from redoxlib.errors import RedoxlibError
from redoxlib.notation import Species
from redoxlib.routes._full import bare
from redoxlib.routes._halves import reduction_rows

__all__ = ["parsed", "recalled", "verdict_for"]


@cache
def parsed(text: str) -> Species | None:
    """The species a table cell names, None where it names a class of substances instead."""
    try:
        return bare(Species.parse(text))
    except RedoxlibError:
        return None


def recalled(source: str) -> bool:
    """Whether a row's source is memory alone: it may widen an interval or hold a route back, no more.

    >>> recalled("memory"), recalled("memory;practice"), recalled("rigg1954")
    (True, False, False)
    """
    return {key.strip() for key in source.split(";")} == {"memory"}


def verdict_for(key: str, reductant: Species, ph: float, tables: Tables) -> KineticsRow | None:
    """The narrowest verdict for an oxidant, else that of an oxidant that acts through the same species."""
    found = _rows(key, reductant, ph, tables)
    if not found:
        active = {row.active for row in reduction_rows(key, ph, tables)}
        for other in tables.oxidants:
            if other != key and active & {row.active for row in reduction_rows(other, ph, tables)}:
                found = _rows(other, reductant, ph, tables)
                if found:
                    break
    return min(found, key=_width, default=None)


def _rows(key: str, reductant: Species, ph: float, tables: Tables) -> list[KineticsRow]:
    return [
        row
        for row in tables.kinetics
        if row.oxidant == key
        and (row.ph_min is None or row.ph_min <= ph)
        and (row.ph_max is None or ph <= row.ph_max)
        and parsed(row.reductant) == bare(reductant)
    ]


def _width(row: KineticsRow) -> float:
    return (16.0 if row.ph_max is None else row.ph_max) - (-2.0 if row.ph_min is None else row.ph_min)
