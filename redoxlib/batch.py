"""Many equations at once, as plain rows.  Verbs: balance_rows, check_rows.

Order is kept, one row comes out for each text that goes in, and an error becomes two columns of its row.
Rows are worked in chunks, a few of them in flight, so memory does not grow with their number.  Worker
processes are spawned, never forked.

May import: errors, notation, stoichiometry.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice
from typing import Any

from redoxlib.errors import DomainError, RedoxlibError, no_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.notation import Species

__all__ = ["BALANCE_COLUMNS", "CHECK_COLUMNS", "balance_rows", "check_rows"]

Row = tuple[Any, ...]

BALANCE_COLUMNS = ("balanced", "dimension", "choice", "assumptions", "error", "message")
CHECK_COLUMNS = ("is_balanced", "residual", "lowest_terms", "remarks", "assumptions", "error", "message")
CHUNK = 2000


def balance_rows(
    texts: Iterable[object], *, processes: int = 1, tick: Callable[[int], object] | None = None
) -> Iterator[Row]:
    """Yield one tuple of ``BALANCE_COLUMNS`` a text.

    ``balanced`` is the unique equation, ``choice`` the electron book-keeping's pick where several balance.

    Raises
    ------
    DomainError
        If *processes* is below 1.
    """
    return _rows(_balance_chunk, texts, processes, tick)


def check_rows(
    texts: Iterable[object], *, processes: int = 1, tick: Callable[[int], object] | None = None
) -> Iterator[Row]:
    """Yield one tuple of ``CHECK_COLUMNS`` a text; *tick* is called with the rows done after each chunk."""
    return _rows(_check_chunk, texts, processes, tick)


def _rows(
    work: Callable[[list[object]], list[Row]],
    texts: Iterable[object],
    processes: int,
    tick: Callable[[int], object] | None,
) -> Iterator[Row]:
    if processes < 1:
        raise DomainError(f"processes={processes} is below 1", hint="1 works in this process")
    return _run(work, texts, processes, tick)


def _run(
    work: Callable[[list[object]], list[Row]],
    texts: Iterable[object],
    processes: int,
    tick: Callable[[int], object] | None,
) -> Iterator[Row]:
    rest = iter(texts)
    chunks = iter(lambda: list(islice(rest, CHUNK)), [])
    done = 0
    results = map(work, chunks) if processes == 1 else _spawned(work, chunks, processes)
    for rows in results:
        yield from rows
        done += len(rows)
        if tick is not None:
            tick(done)


def _spawned(
    work: Callable[[list[object]], list[Row]], chunks: Iterator[list[object]], processes: int
) -> Iterator[list[Row]]:
    from concurrent.futures import Future, ProcessPoolExecutor
    from multiprocessing import get_context

    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        waiting: deque[Future[list[Row]]] = deque()
        for chunk in chunks:
            waiting.append(pool.submit(work, chunk))
            # Twice the workers keeps them busy and bounds what is held.
            if len(waiting) >= 2 * processes:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise no_text(value, "give an equation such as 'H2 + O2 -> H2O'")
    return value


class _Spelling:
    """Species as text, each object spelled once; by identity, since equal ones may be spelled differently."""

    def __init__(self) -> None:
        self._names: dict[int, str] = {}
        self._held: list[Species] = []  # keeps each id the object's own

    def __call__(self, species: Sequence[Species]) -> list[str]:
        try:
            return list(map(self._names.__getitem__, map(id, species)))
        except KeyError:
            self._names.update((id(each), str(each)) for each in species)
            self._held += species
            return self(species)


def _balance_chunk(texts: list[object]) -> list[Row]:
    from redoxlib.stoichiometry import balance

    rows: list[Row] = []
    spell = _Spelling()
    for value in texts:
        try:
            result = balance(_text(value))
            assumed = "; ".join(map(str, result.assumptions)) if result.assumptions else ""
            if result.unique:
                rows.append((result.spelled(spell), 1, None, assumed, None, None))
            else:
                choice = None if result.choice is None else str(result.choice)
                told = f"{result.dimension} independent equations balance"
                rows.append((None, result.dimension, choice, assumed, "NotUniqueError", told))
        except RedoxlibError as error:
            rows.append((None, None, None, None, type(error).__name__, error.message))
    return rows


def _check_chunk(texts: list[object]) -> list[Row]:
    from redoxlib.stoichiometry import check

    rows: list[Row] = []
    for value in texts:
        try:
            result = check(_text(value))
            residual = ", ".join(
                f"{label} {'+' if amount > 0 else ''}{amount}" for label, amount in result.residual.items()
            )
            remarks, assumed = "; ".join(result.remarks), "; ".join(map(str, result.assumptions))
            rows.append((result.balanced, residual, result.lowest_terms, remarks, assumed, None, None))
        except RedoxlibError as error:
            rows.append((None, None, None, None, None, type(error).__name__, error.message))
    return rows
