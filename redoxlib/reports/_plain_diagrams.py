"""Diagrams as plain data for JSON.

May import: diagrams.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeAlias

from redoxlib.diagrams import Boundary, Frost, Predominance, Region, Speciation

__all__ = ["diagram_data"]

Data: TypeAlias = Callable[[Any], Any]


def diagram_data(value: Predominance | Frost | Speciation, data: Data) -> dict[str, Any]:
    """One diagram as nested dicts; *data* writes the quantities and equations inside."""
    if isinstance(value, Predominance):
        return _predominance(value, data)
    return _frost(value, data) if isinstance(value, Frost) else _speciation(value, data)


def _region(value: Region) -> dict[str, Any]:
    return {
        "species": str(value.species),
        "state": value.state,
        "corners": [list(corner) for corner in value.corners],
    }


def _boundary(value: Boundary, data: Data) -> dict[str, Any]:
    return {
        "first": str(value.first),
        "second": str(value.second),
        "start": list(value.start),
        "end": list(value.end),
        "line": str(value),
        "intercept": value.intercept,
        "slope": value.slope,
        "uncertainty": data(value.uncertainty),
        "equation": data(value.equation),
    }


def _predominance(value: Predominance, data: Data) -> dict[str, Any]:
    return {
        "element": value.element,
        "activity": value.activity,
        "window": {"ph": list(value.window.ph), "volts": list(value.window.volts)},
        "regions": [_region(region) for region in value.regions],
        "boundaries": [_boundary(line, data) for line in value.boundaries],
        "absent": data(value.absent),
        "sources": list(value.sources),
        "remarks": list(value.remarks),
    }


def _frost(value: Frost, data: Data) -> dict[str, Any]:
    return {
        "element": value.element,
        "traces": [
            {
                "ph": trace.ph,
                "points": [
                    {
                        "species": str(point.species),
                        "state": data(point.state),
                        "volts": data(point.volts),
                        "disproportionates": point in trace.disproportionating,
                    }
                    for point in trace.points
                ],
                "steps": [
                    {"low": str(low.species), "high": str(high.species), "volts": volts}
                    for low, high, volts in trace.steps
                ],
            }
            for trace in value.traces
        ],
        "sources": list(value.sources),
        "remarks": list(value.remarks),
    }


def _speciation(value: Speciation, data: Data) -> dict[str, Any]:
    low, high = value.ph
    steps = [low + (high - low) * i / 28 for i in range(29)]
    return {
        "element": value.element,
        "state": data(value.state),
        "total": value.total,
        "ph": [low, high],
        "compositions": [
            {
                "ph": at.ph,
                "log10": {str(species): log for species, log in at.log10.items()},
                "dissolved": at.dissolved,
                "solid": None if at.solid is None else str(at.solid),
            }
            for at in map(value.at, steps)
        ],
        "crossings": [{"ph": c.ph, "below": str(c.below), "above": str(c.above)} for c in value.crossings],
        "sources": list(value.sources),
        "remarks": list(value.remarks),
    }
