"""How fast acceptability over all weightings is worked out: 30 alternatives, 100 000 weightings."""

from __future__ import annotations

import statistics
import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from redoxlib.decision import Alternatives, decide

Row = tuple[str, float, str]


def _milliseconds(work: Callable[[], object], repeats: int = 5) -> float:
    found = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        found.append((time.perf_counter() - start) * 1000)
    return statistics.median(found)


def run(seed: int = 20240601) -> list[Row]:
    """Measure everything once; returns (what, value, unit)."""
    chance = np.random.default_rng(seed)
    points = chance.random((30, 4)) * 100
    names = tuple(f"route {i}" for i in range(30))
    rows = tuple(tuple(map(float, row)) for row in points)
    sure = Alternatives(names, ("mass", "waste", "heat", "risk"), rows)
    unsure = Alternatives(
        names,
        sure.criteria,
        rows,
        tuple(tuple(0.8 * x for x in row) for row in rows),
        tuple(tuple(1.2 * x for x in row) for row in rows),
    )
    samples = points[None] * (1 + 0.1 * chance.standard_normal((2000, 1, 4)))
    decide(sure, draws=1000)
    tracemalloc.start()
    decide(sure)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return [
        ("30 x 4, 1e5 weightings, certain figures", _milliseconds(lambda: decide(sure)), "ms"),
        ("  peak memory", peak / 1e6, "MB"),
        ("the same, independent intervals", _milliseconds(lambda: decide(unsure)), "ms"),
        ("the same, 2000 correlated samples", _milliseconds(lambda: decide(sure, samples=samples)), "ms"),
    ]
