"""The only door to sympy: exact null spaces of element-and-charge matrices.

A row that ties only two species together is used up first (see ``_tie``); what remains goes to sympy's
dense fraction-free elimination on plain Python integers, with an integer domain chosen here, because
sympy's own choice of ground types (it takes python-flint or gmpy2 where it finds them) is slower at
this size and is made for the whole process.  That routine is internal to sympy, so a missing or
changed one falls back to the public ``Matrix`` interface.  Whatever the path, every vector is
multiplied back into the whole matrix before it is returned, and the dimension is columns less rank.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import compress, count
from math import gcd, lcm
from operator import floordiv, mul
from typing import Any, TypeAlias

__all__ = [
    "Matrix",
    "Poly",
    "Vector",
    "multiply",
    "null_space",
    "polynomial_null_space",
    "primitive",
    "real_root_texts",
]

Vector: TypeAlias = list[int]
Matrix: TypeAlias = list[list[int]]
_Eliminate: TypeAlias = Callable[[Matrix], tuple[Matrix, int, Sequence[int]]]

# Measured crossover: above this many entries the sparse routine wins.
_DENSE_LIMIT = 240

_lock = threading.Lock()
_engine: tuple[_Eliminate, _Eliminate] | None = None


def _load() -> tuple[_Eliminate, _Eliminate]:
    """Import sympy once and choose the elimination routines for dense and sparse matrices."""
    global _engine
    with _lock:
        if _engine is None:
            try:
                _engine = _internal_engine()
            except (ImportError, AttributeError, TypeError, ValueError):
                _engine = _public_engine, _public_engine
    return _engine


def _internal_engine() -> tuple[_Eliminate, _Eliminate]:
    from sympy.polys.domains.pythonintegerring import PythonIntegerRing
    from sympy.polys.matrices.dense import ddm_irref_den
    from sympy.polys.matrices.sdm import sdm_rref_den

    class Integers(PythonIntegerRing):  # type: ignore[misc]
        """Python integers whose exact division trusts the algorithm; every answer is multiplied back."""

        exquo = staticmethod(floordiv)
        is_one = staticmethod((1).__eq__)

    domain = Integers()

    def dense(rows: Matrix) -> tuple[Matrix, int, Sequence[int]]:
        denominator, pivots = ddm_irref_den(rows, domain)
        return rows, denominator, pivots

    def sparse(rows: Matrix) -> tuple[Matrix, int, Sequence[int]]:
        width = len(rows[0])
        packed = {
            i: {j: value for j, value in enumerate(row) if value} for i, row in enumerate(rows) if any(row)
        }
        reduced, denominator, pivots = sdm_rref_den(packed, domain)
        full = [[0] * width for _ in pivots]
        for i, row in reduced.items():
            for j, value in row.items():
                full[i][j] = value
        return full, denominator, pivots

    # A changed signature or result must send us to the public interface now, not at first use.
    probe, denominator, pivots = dense([[2, 0, -2], [0, 2, -1]])
    if [-value * 2 // denominator for value in (probe[0][2], probe[1][2])] != [2, 1] or list(pivots) != [
        0,
        1,
    ]:
        raise ValueError("sympy's elimination routine no longer returns what it did")
    if sparse([[2, 0, -2], [0, 2, -1]])[2] is None:
        raise ValueError("sympy's sparse elimination routine no longer returns what it did")
    return dense, sparse


def _public_engine(rows: Matrix) -> tuple[Matrix, int, Sequence[int]]:
    """The same through documented sympy: rational reduced row echelon form, denominators cleared."""
    from sympy import Matrix as SympyMatrix

    reduced, pivots = SympyMatrix(rows).rref()
    denominator = 1
    for value in reduced:
        denominator = denominator * int(value.q) // gcd(denominator, int(value.q))
    width = len(rows[0])
    whole = [[int(reduced[i, j] * denominator) for j in range(width)] for i in range(len(pivots))]
    return whole, denominator, pivots


def primitive(vector: Sequence[int]) -> Vector:
    """Divide a whole-number vector by the greatest common divisor of its entries."""
    common = gcd(*vector)
    if common <= 1:
        return list(vector)
    return [value // common for value in vector]


def multiply(rows: Sequence[Sequence[int]], vector: Sequence[int]) -> Vector:
    """Return the matrix times the vector."""
    return [sum(a * x for a, x in zip(row, vector, strict=True)) for row in rows]


def null_space(rows: Sequence[list[int]], columns: int) -> list[Vector]:
    """All solutions of rows · x = 0 as primitive whole-number vectors, one per free column.

    Parameters
    ----------
    rows : sequence of lists of int
        The matrix; rows of zeros are allowed.
    columns : int
        Width of the matrix, needed when there are no rows.

    Returns
    -------
    list of list of int
        A basis of the null space; its length is the dimension.
    """
    work = [row[:] for row in rows]
    ties = _tie(work, columns)
    width = columns - len(ties)
    if not work:
        basis = [[int(i == j) for j in range(width)] for i in range(width)]
        return [_proved(rows, _untie(vector, ties)) for vector in basis]
    dense, sparse = _engine or _load()
    eliminate = dense if len(work) * width <= _DENSE_LIMIT else sparse
    reduced, denominator, pivots = eliminate(work)
    if len(pivots) == width - 1:
        # The usual case, one free column, without the bookkeeping for several.
        free = next((i for i, pivot in enumerate(pivots) if pivot != i), width - 1)
        vector = [-row[free] for row in reduced[: width - 1]]
        vector.insert(free, denominator)
        return [_proved(rows, _untie(vector, ties))]
    pivot_set = set(pivots)
    basis = []
    for free in range(width):
        if free in pivot_set:
            continue
        vector = [0] * width
        vector[free] = denominator
        for i, pivot in enumerate(pivots):
            vector[pivot] = -reduced[i][free]
        basis.append(_proved(rows, _untie(vector, ties)))
    return basis


_Tie: TypeAlias = tuple[int, int, int, int]


def _tie(rows: Matrix, width: int) -> list[_Tie]:
    """Join two columns that one row ties together, in place, before the elimination.

    A row a·x + b·y = 0 (an element held by two species only) says x : y = -b : a, so both become one
    unknown and the row is done.  Textbook equations are full of such rows; joining them halves the
    matrix at a fifth of what eliminating them costs.
    """
    ties: list[_Tie] = []
    at = 0
    while at < len(rows):
        row = rows[at]
        if row.count(0) != width - 2:
            at += 1
            continue
        first, second = compress(count(), row)
        a, b = row[first], row[second]
        common = gcd(a, b)
        a, b = a // common, b // common
        del rows[at]
        for other in rows:
            other[first] = a * other.pop(second) - b * other[first]
        ties.append((first, second, a, b))
        width -= 1
    return ties


def _untie(vector: Vector, ties: list[_Tie]) -> Vector:
    """Give joined columns their own values back."""
    for first, second, a, b in reversed(ties):
        shared = vector[first]
        vector.insert(second, a * shared)
        vector[first] = -b * shared
    return vector


def _proved(rows: Sequence[Sequence[int]], vector: Vector) -> Vector:
    """Reduce a null vector to lowest terms, its first entry positive, and multiply it back."""
    common = gcd(*vector)
    if (vector[0] or next(filter(None, vector))) < 0:
        common = -common
    if common != 1:
        vector = [value // common for value in vector]
    for row in rows:
        if sum(map(mul, row, vector)):
            raise ArithmeticError("a null vector failed its proof; this is a defect of the solver")
    return vector


Poly: TypeAlias = dict[tuple[int, ...], Fraction]


def polynomial_null_space(
    rows: Sequence[Sequence[Poly]], letters: Sequence[str]
) -> list[tuple[list[Poly], Poly]]:
    """Null space of a matrix whose entries are polynomials, over the field of their quotients.

    Parameters
    ----------
    rows : sequence of sequences of dict
        Entries as powers of the letters to coefficients.
    letters : sequence of str

    Returns
    -------
    list of (vector, content)
        Vectors of whole-coefficient polynomials without a common factor, and the factor that was
        taken out: where it is zero the general solution says nothing.
    """
    from sympy import ZZ, ring

    polynomials, *_ = ring(list(letters), ZZ)
    scale = 1
    for row in rows:
        for entry in row:
            for value in entry.values():
                scale = lcm(scale, value.denominator)
    work = [
        [polynomials.from_dict({powers: ZZ(int(v * scale)) for powers, v in entry.items()}) for entry in row]
        for row in rows
        if any(row)
    ]
    columns = len(rows[0]) if rows else 0
    original = [list(row) for row in work]
    reduced, denominator, pivots = _polynomial_elimination(work, polynomials)
    found = []
    for free in range(columns):
        if free in pivots:
            continue
        vector = [polynomials.zero] * columns
        vector[free] = denominator
        for i, pivot in enumerate(pivots):
            vector[pivot] = -reduced[i][free]
        common = polynomials.zero
        for entry in vector:
            common = common.gcd(entry)
        content = common
        vector = [entry.exquo(common) for entry in vector]
        for row in original:
            if sum((a * b for a, b in zip(row, vector, strict=True)), polynomials.zero):
                raise ArithmeticError(
                    "a polynomial null vector failed its proof; this is a defect of the solver"
                )
        found.append(([_poly(entry) for entry in vector], _poly(content)))
    return found


def _poly(element: Any) -> Poly:
    return {tuple(powers): Fraction(int(value)) for powers, value in element.terms() if value}


def _polynomial_elimination(
    rows: list[list[Any]], polynomials: Any
) -> tuple[list[list[Any]], Any, list[int]]:
    """Fraction-free elimination over a polynomial ring, by sympy's routine or the public field route."""
    domain = polynomials.to_domain()
    try:
        from sympy.polys.matrices.dense import ddm_irref_den

        denominator, pivots = ddm_irref_den(rows, domain)
        return rows, denominator, list(pivots)
    except (ImportError, AttributeError, TypeError):
        from sympy.polys.matrices import DomainMatrix

        field = domain.get_field()
        shape = (len(rows), len(rows[0]))
        matrix = DomainMatrix([[field(entry) for entry in row] for row in rows], shape, field)
        reduced, pivots = matrix.rref()
        table = reduced.to_list()
        denominator = polynomials.one
        for row in table:
            for entry in row:
                denominator = denominator.lcm(entry.denom)
        cleared = [[entry.numer * denominator.exquo(entry.denom) for entry in row] for row in table]
        return cleared, denominator, list(pivots)


def real_root_texts(poly: Poly, letter: str) -> list[tuple[Fraction | float, str]]:
    """Real roots of a polynomial in one letter: a number to compare by and exact text to print."""
    from sympy import Poly as SympyPoly
    from sympy import Symbol

    symbol = Symbol(letter)
    expression = sum(int(value) * symbol ** powers[0] for powers, value in poly.items())
    found = []
    for root in sorted(set(SympyPoly(expression, symbol).real_roots())):
        if root.is_Rational:
            value: Fraction | float = Fraction(int(root.p), int(root.q))
        else:
            value = float(root)
        found.append((value, str(root)))
    return found
