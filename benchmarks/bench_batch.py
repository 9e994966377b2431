"""Tables of 10^5 rows against the recipe a user would write, and the memory they take beyond in and out."""

from __future__ import annotations

import random
import time
import tracemalloc

from benchmarks.bench_stoichiometry import _shuffled, recipe
from benchmarks.samples import UNIQUE
from redoxlib.batch import balance_rows

Row = tuple[str, float, str]


def _texts(rows: int, rng: random.Random) -> list[str]:
    found: list[str] = []
    while len(found) < rows:
        found += _shuffled(UNIQUE, rng)
    return found[:rows]


def _peak(rows: int, rng: random.Random) -> float:
    """Most memory held while rows are drawn and dropped [MB]."""
    texts = _texts(rows, rng)
    tracemalloc.start()
    for _ in balance_rows(texts):
        pass
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak / 1e6


def run(rows: int = 100_000, recipe_rows: int = 2600, seed: int = 20240602) -> list[Row]:
    """Measure once; returns (what, value, unit).  The recipe is timed before and after."""
    import pandas as pd

    from redoxlib.tables import balance_table

    rng = random.Random(seed)
    for text in UNIQUE:
        recipe(text)
    frame = pd.DataFrame({"equation": _texts(rows, rng)})
    recipe_us, table_us = [], 0.0
    for _ in range(2):
        texts = _texts(recipe_rows, rng)
        start = time.perf_counter()
        for text in texts:
            recipe(text)
        recipe_us.append((time.perf_counter() - start) / recipe_rows * 1e6)
        if not table_us:
            start = time.perf_counter()
            done = balance_table(frame)
            table_us = (time.perf_counter() - start) / rows * 1e6
            if done["error"].notna().any():
                raise ValueError("a row of the benchmark failed")
    naive = sum(recipe_us) / len(recipe_us)
    start = time.perf_counter()
    balance_table(frame, processes=2)
    two_us = (time.perf_counter() - start) / rows * 1e6
    return [
        (f"balance_table, {rows} rows, per row", table_us, "us"),
        ("the recipe, per row", naive, "us"),
        ("ratio recipe / balance_table", naive / table_us, "x"),
        ("two spawned processes, per row", two_us, "us"),
        ("memory beyond input and output, 5 000 rows", _peak(5_000, rng), "MB"),
        ("memory beyond input and output, 20 000 rows", _peak(20_000, rng), "MB"),
    ]
