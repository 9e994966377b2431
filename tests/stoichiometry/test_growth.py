"""Balancing stays polynomial in the number of species: operations are counted, not seconds."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest

from redoxlib.stoichiometry import _solve


class Counted(int):
    """A whole number that counts the multiplications and divisions made with it."""

    made = 0

    def __mul__(self, other: int) -> Counted:
        Counted.made += 1
        return Counted(int(self) * int(other))

    __rmul__ = __mul__

    def __sub__(self, other: int) -> Counted:
        return Counted(int(self) - int(other))

    def __rsub__(self, other: int) -> Counted:
        return Counted(int(other) - int(self))

    def __neg__(self) -> Counted:
        return Counted(-int(self))

    def __floordiv__(self, other: int) -> Counted:
        Counted.made += 1
        return Counted(int(self) // int(other))


def _operations(species: int) -> int:
    """Work for a full-rank matrix shaped like an equation: few elements in each species."""
    rng = random.Random(species)
    rows = []
    for i in range(species - 1):
        row = [Counted(0)] * species
        for j in {i, i + 1, rng.randrange(species), rng.randrange(species)}:
            row[j] = Counted(rng.choice([1, 2, 3, -1, -2, 4]))
        rows.append(row)
    Counted.made = 0
    basis = _solve.null_space(rows, species)  # type: ignore[arg-type]
    assert basis
    return Counted.made


def test_operations_grow_no_faster_than_the_cube() -> None:
    sizes = [6, 12, 24, 48, 96]
    counts = [max(1, _operations(size)) for size in sizes]
    for small, large in pairwise(counts):
        assert large <= 16 * small, counts
    # Over the whole span the exponent stays below four, whatever one step did.
    assert counts[-1] <= 16**4 * counts[0], counts


def test_the_counter_counts() -> None:
    Counted.made = 0
    assert Counted(3) * 4 == 12
    assert Counted.made == 1


def test_the_public_fallback_gives_the_same_null_space(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(7)
    cases = [[[rng.choice([0, 0, 1, 2, -1, -3]) for _ in range(7)] for _ in range(5)] for _ in range(40)]
    usual = [_solve.null_space(rows, 7) for rows in cases]
    monkeypatch.setattr(_solve, "_engine", (_solve._public_engine, _solve._public_engine))
    assert [_solve.null_space(rows, 7) for rows in cases] == usual


def test_a_missing_internal_routine_falls_back(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing() -> object:
        raise ImportError("no such routine")

    monkeypatch.setattr(_solve, "_internal_engine", missing)
    monkeypatch.setattr(_solve, "_engine", None)
    assert _solve.null_space([[4, 2, 0, -4, -1], [0, 2, 2, -1, -2], [1, 1, 1, -1, -1]], 5)
    assert _solve._engine == (_solve._public_engine, _solve._public_engine)


def test_a_wrong_null_vector_is_caught() -> None:
    with pytest.raises(ArithmeticError, match="failed its proof"):
        _solve._proved([[1, 1]], [1, 1])


def test_sparse_and_dense_routines_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(11)
    cases = [[[rng.choice([0, 0, 1, 2, -1, -3]) for _ in range(8)] for _ in range(6)] for _ in range(40)]
    dense = [_solve.null_space(rows, 8) for rows in cases]
    monkeypatch.setattr(_solve, "_DENSE_LIMIT", 0)
    assert [_solve.null_space(rows, 8) for rows in cases] == dense
