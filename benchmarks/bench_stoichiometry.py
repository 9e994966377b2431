"""How fast equations balance, against what a user would write with sympy alone.

The recipe keeps composition dictionaries, builds ``sympy.Matrix(rows)``, takes ``nullspace()`` and clears
denominators with lcm and gcd.  Both sides read fresh strings in every pass: species are shuffled inside
a side, so a memory of whole equations gains nothing, while single species may be warm for both.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable, Iterable
from math import gcd, lcm

from benchmarks.samples import FAMILIES, IMPOSSIBLE, UNIQUE, WIDE
from redoxlib.errors import ImpossibleError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import balance

Row = tuple[str, float, str]


def _shuffled(texts: Iterable[str], rng: random.Random) -> list[str]:
    found = []
    for text in texts:
        sides = [side.split(" + ") for side in text.split(" -> ")]
        for side in sides:
            rng.shuffle(side)
        found.append(" -> ".join(" + ".join(side) for side in sides))
    return found


_COMPOSITION: dict[str, dict[str, int]] = {}


def recipe(text: str) -> str:
    """The naive way, with composition dictionaries at hand."""
    from sympy import Matrix

    left, right = (side.split(" + ") for side in text.split(" -> "))
    counts = []
    for name in (*left, *right):
        if name not in _COMPOSITION:
            species = Species.parse(name)
            _COMPOSITION[name] = {
                **{s: int(n) for s, n in species.elements.items()},
                "charge": species.charge,
            }
        counts.append(_COMPOSITION[name])
    keys = sorted({key for count in counts for key in count})
    signs = [1] * len(left) + [-1] * len(right)
    rows = [[sign * count.get(key, 0) for count, sign in zip(counts, signs, strict=True)] for key in keys]
    (vector,) = Matrix(rows).nullspace()
    scale = lcm(*(int(value.q) for value in vector))
    whole = [int(value * scale) for value in vector]
    common = gcd(*whole)
    whole = [value // common for value in whole]
    sides = (
        " + ".join(f"{n} {name}" if n != 1 else name for n, name in zip(part, names, strict=True))
        for part, names in ((whole[: len(left)], left), (whole[len(left) :], right))
    )
    return " -> ".join(sides)


def flint_floor(text: str) -> str | None:
    """python-flint's own null space inside the same reader and writer; ``None`` when it is not installed."""
    try:
        from flint import fmpz_mat  # type: ignore[import-not-found,unused-ignore]
    except ImportError:
        return None
    from redoxlib.stoichiometry._reading import read
    from redoxlib.stoichiometry._system import System

    reading = read(text)
    system = System(reading.left, reading.right)
    basis, rank = fmpz_mat(system.rows).nullspace()
    if system.width - rank != 1:
        raise ValueError(f"{text} is no unique equation")
    vector = [int(basis[i, 0]) for i in range(system.width)]
    common = gcd(*vector)
    if max(vector) <= 0:
        common = -common
    return str(system.equation([value // common for value in vector]))


def _microseconds(work: Callable[[str], object], batches: list[list[str]]) -> float:
    """Median over batches of the mean time a text takes [µs]."""
    found = []
    for batch in batches:
        start = time.perf_counter()
        for text in batch:
            work(text)
        found.append((time.perf_counter() - start) / len(batch) * 1e6)
    return statistics.median(found)


def _refused(text: str) -> object:
    try:
        return balance(text)
    except ImpossibleError as error:
        return error.repairs


def run(passes: int = 15, seed: int = 20240601) -> list[Row]:
    """Measure everything once; returns (what, value, unit)."""
    rng = random.Random(seed)
    for text in (*UNIQUE, *FAMILIES, *WIDE):
        balance(text)
        str(Equation.parse(text))
    for text in UNIQUE:
        mine = balance(text).equation
        if mine != Equation.parse(recipe(text)):
            raise ValueError(f"recipe and library disagree on {text}")
    fresh = [_shuffled(UNIQUE, rng) for _ in range(passes)]
    rows: list[Row] = []
    ours = _microseconds(lambda text: str(balance(text).equation), fresh)
    value_only = _microseconds(
        lambda text: balance(text).equation, [_shuffled(UNIQUE, rng) for _ in range(passes)]
    )
    theirs = _microseconds(recipe, [_shuffled(UNIQUE, rng) for _ in range(max(3, passes // 3))])
    reader = _microseconds(Equation.parse, [_shuffled(UNIQUE, rng) for _ in range(passes)])
    rows += [
        ("one equation, text to Balance with its equation", value_only, "us"),
        ("one equation, text to balanced text", ours, "us"),
        ("the recipe, text to balanced text", theirs, "us"),
        ("ratio recipe / balance(text).equation", theirs / value_only, "x"),
        ("ratio recipe / text to text", theirs / ours, "x"),
        ("the full reader alone", reader, "us"),
    ]
    if flint_floor(UNIQUE[0]) is not None:
        floor = _microseconds(flint_floor, [_shuffled(UNIQUE, rng) for _ in range(passes)])
        rows += [("flint floor", floor, "us"), ("ratio text to text / flint floor", ours / floor, "x")]
    table = [text for _ in range(400) for text in _shuffled(UNIQUE, rng)]
    start = time.perf_counter()
    for text in table:
        balance(text)
    rows.append(("table of 10 400 rows, per row", (time.perf_counter() - start) / len(table) * 1e6, "us"))
    families = _microseconds(lambda text: (balance(text).members, balance(text).choice), [list(FAMILIES)] * 5)
    rows.append(("family with members and choice", families / 1000, "ms"))
    for text in WIDE:
        width = text.count(" + ") + 2
        spent = _microseconds(lambda text: balance(text).members, [[text]] * 5)
        rows.append((f"members of {width} species ({len(balance(text).members)})", spent / 1000, "ms"))
    rows.append(("certificate and repairs", _microseconds(_refused, [list(IMPOSSIBLE)] * 5) / 1000, "ms"))
    return rows
