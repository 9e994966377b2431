"""DataFrames in and out: the one door to pandas.  Verbs: balance_table, check_table, comparison_frame.

May import: everything of level 10 and below, inside functions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice
from typing import Any

TYPE_CHECKING = False
if TYPE_CHECKING:
    import pandas as pd

    from redoxlib.compare import Comparison

__all__ = ["balance_table", "check_table", "comparison_frame", "comparison_rows"]


def comparison_rows(comparison: Comparison) -> list[dict[str, Any]]:
    """One plain mapping per oxidant, ranked ones first; unknown figures are None."""
    from redoxlib.quantity import Quantity

    def number(value: object) -> float | None:
        return value.value if isinstance(value, Quantity) else None

    rows: list[dict[str, Any]] = []
    for group in comparison.ranked:
        for route in group:
            rows.append(
                {
                    "oxidant": route.oxidant.key,
                    "name": route.oxidant.name,
                    "verdict": "tie" if len(group) > 1 else "ranked",
                    "place": comparison.place(route.oxidant.key),
                    "points": route.score.total if route.score else None,
                    "pmi_kg_per_kg": route.mass_efficiency.pmi_dry if route.mass_efficiency else None,
                    "atom_economy": route.mass_efficiency.atom_economy if route.mass_efficiency else None,
                    "by_products_g_tier_per_mol": route.by_products.weighted if route.by_products else None,
                    "rise_K": number(route.exotherm.rise) if route.exotherm else None,
                    "side_risk_low": route.side_risk.low if route.side_risk else None,
                    "side_risk_high": route.side_risk.high if route.side_risk else None,
                    "cell_potential_V": number(route.cell_potential),
                    "dH_kJ_per_mol": number(route.dH),
                    "dG_kJ_per_mol": number(route.dG),
                    "kinetics": route.kinetics,
                    "reason": "; ".join(route.warnings),
                }
            )
    for route in comparison.unreviewed:
        rows.append(
            {
                "oxidant": route.oxidant.key,
                "name": route.oxidant.name,
                "verdict": "unreviewed",
                "cell_potential_V": number(route.cell_potential),
                "dH_kJ_per_mol": number(route.dH),
                "dG_kJ_per_mol": number(route.dG),
                "reason": "; ".join(route.warnings),
            }
        )
    for refusal in comparison.refused:
        rows.append(
            {
                "oxidant": refusal.oxidant.key,
                "name": refusal.oxidant.name,
                "verdict": "stopped",
                "reason": refusal.reason,
            }
        )
    for setback in (*comparison.infeasible, *comparison.inert, *comparison.undecided):
        rows.append(
            {
                "oxidant": setback.oxidant.key,
                "name": setback.oxidant.name,
                "verdict": setback.verdict,
                "reason": setback.reason,
            }
        )
    return rows


def comparison_frame(comparison: Comparison) -> pd.DataFrame:
    """The comparison as a DataFrame indexed by oxidant key; figures a row does not have are missing."""
    import pandas as pd

    frame = pd.DataFrame(comparison_rows(comparison))
    return frame.set_index("oxidant")


def balance_table(
    frame: pd.DataFrame, column: str = "equation", *, processes: int = 1, progress: bool = False
) -> pd.DataFrame:
    """Balance a column of equations: one result row per input row, same index, same order.

    Parameters
    ----------
    frame : DataFrame
        Left as it is; any index, duplicates included.
    column : str
        Holds the equations as text.
    processes : int
        Spawned worker processes; worth their start from some 10^5 rows.
    progress : bool
        Show a progress bar on standard error.

    Returns
    -------
    DataFrame
        The columns of *frame* and ``balanced``, ``dimension``, ``choice``, ``assumptions``, ``error``
        (name of the error class, missing where all went well), ``message``.  Usable unchanged with Dask's
        ``map_partitions``, an empty frame giving the columns and types.

    Raises
    ------
    DomainError
        If *column* is not there, a result column is taken, or *processes* is below 1.
    """
    from redoxlib.batch import BALANCE_COLUMNS, balance_rows

    types = ("object", "Int64", "object", "object", "object", "object")
    return _table(
        frame, column, dict(zip(BALANCE_COLUMNS, types, strict=True)), balance_rows, processes, progress
    )


def check_table(
    frame: pd.DataFrame, column: str = "equation", *, processes: int = 1, progress: bool = False
) -> pd.DataFrame:
    """Judge a column of equations as written; parameters as of ``balance_table``.

    Returns
    -------
    DataFrame
        The columns of *frame* and ``is_balanced``, ``residual`` (left minus right), ``lowest_terms``,
        ``remarks``, ``assumptions``, ``error``, ``message``.
    """
    from redoxlib.batch import CHECK_COLUMNS, check_rows

    types = ("boolean", "object", "boolean", "object", "object", "object", "object")
    return _table(
        frame, column, dict(zip(CHECK_COLUMNS, types, strict=True)), check_rows, processes, progress
    )


def _table(
    frame: pd.DataFrame,
    column: str,
    types: dict[str, str],
    work: Callable[..., Iterator[tuple[Any, ...]]],
    processes: int,
    progress: bool,
) -> pd.DataFrame:
    import pandas as pd

    from redoxlib.errors import DomainError

    if column not in frame.columns:
        raise DomainError(f"no column {column!r}", hint=f"columns: {', '.join(map(str, frame.columns))}")
    taken = [name for name in types if name in frame.columns]
    if taken:
        raise DomainError(f"column {taken[0]!r} is there already", hint="rename it before")
    tick = _bar(len(frame)) if progress else None
    lists: list[list[Any]] = [[] for _ in types]
    rows = work(frame[column], processes=processes, tick=tick)
    while some := list(islice(rows, 2000)):  # columns are joined chunk by chunk, not cell by cell
        for values, more in zip(lists, zip(*some, strict=True), strict=True):
            values.extend(more)
    found = {
        name: pd.Series(values, index=frame.index, dtype=kind)
        for (name, kind), values in zip(types.items(), lists, strict=True)
    }
    # Joined side by side: an index with duplicates must not be aligned.
    return pd.concat([frame, pd.DataFrame(found, index=frame.index)], axis=1)


def _bar(total: int) -> Callable[[int], None]:
    """A bar of forty marks on standard error, redrawn in place."""
    import sys

    def tick(done: int) -> None:
        marks = 40 * done // max(1, total)
        end = "\n" if done >= total else ""
        sys.stderr.write(f"\r[{'#' * marks}{'.' * (40 - marks)}] {done}/{total}{end}")
        sys.stderr.flush()

    return tick
