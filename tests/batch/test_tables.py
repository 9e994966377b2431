"""Tables of equations: order, errors as columns, processes, progress."""

from __future__ import annotations

from collections.abc import Iterator

import dask.dataframe
import pandas as pd
import pytest
from distributed import Client, LocalCluster
from hypothesis import given, settings
from hypothesis import strategies as st

from redoxlib import batch
from redoxlib.batch import balance_rows
from redoxlib.errors import DomainError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance
from redoxlib.tables import balance_table, check_table
from redoxlib.testing import skeletons

TEXTS = ["H2 + O2 -> H2O", "H2 -> He", None, "H2 + Qq -> O", "MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O"]


def test_one_row_out_for_each_row_in_with_errors_as_columns() -> None:
    frame = pd.DataFrame({"equation": TEXTS, "note": list("abcde")}, index=[7, 7, 1, 2, 3])
    found = balance_table(frame)
    assert list(found.index) == [7, 7, 1, 2, 3]
    assert list(found["note"]) == list("abcde")
    assert list(found["error"].fillna("")) == [
        "",
        "ImpossibleError",
        "NotationError",
        "NotationError",
        "NotUniqueError",
    ]
    assert found["balanced"].iloc[0] == "2 H2 + O2 -> 2 H2O"
    assert found["choice"].iloc[4] == "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"
    assert list(frame.columns) == ["equation", "note"]


def test_check_tells_the_residual() -> None:
    found = check_table(pd.DataFrame({"equation": ["2 H2 + O2 -> H2O", "2 H2 + O2 -> 2 H2O", ""]}))
    assert list(found["is_balanced"].fillna(False)) == [False, True, False]
    assert found["residual"].iloc[0] == "H +2, O +1"
    assert found["error"].iloc[2] == "NotationError"


@settings(max_examples=10)
@given(st.lists(skeletons(), max_size=6))
def test_a_row_says_what_the_verb_says(equations: list[Equation]) -> None:
    texts = [str(equation) for equation in equations]
    rows = list(balance_rows(texts))
    assert len(rows) == len(texts)
    for text, row in zip(texts, rows, strict=True):
        result = balance(text)
        assert row[1] == result.dimension
        assert row[0] == (str(result.equation) if result.unique else None)


def test_spawned_workers_give_the_same_rows_in_the_same_order(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batch, "CHUNK", 2)
    texts = [*TEXTS, *reversed(TEXTS)]
    assert list(balance_rows(texts, processes=2)) == list(balance_rows(texts))


def test_rows_are_pulled_chunk_by_chunk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batch, "CHUNK", 3)
    pulled = 0

    def endless() -> Iterator[str]:
        nonlocal pulled
        while True:
            pulled += 1
            yield "H2 + O2 -> H2O"

    rows = balance_rows(endless())
    for _ in range(4):
        next(rows)
    assert pulled == 6


def test_the_bar_counts_every_row(capsys: pytest.CaptureFixture[str]) -> None:
    balance_table(pd.DataFrame({"equation": ["H2 + O2 -> H2O"] * 3}), progress=True)
    assert capsys.readouterr().err.endswith("] 3/3\n")


def test_an_empty_table_has_the_columns_and_types_of_a_full_one() -> None:
    empty = balance_table(pd.DataFrame({"equation": pd.Series([], dtype=object)}))
    full = balance_table(pd.DataFrame({"equation": pd.Series(["H2 + O2 -> H2O"], dtype=object)}))
    assert list(empty.dtypes.items()) == list(full.dtypes.items())


def test_error_when_the_column_is_missing_or_taken() -> None:
    with pytest.raises(DomainError, match="no column 'equation'"):
        balance_table(pd.DataFrame({"text": []}))
    with pytest.raises(DomainError, match="column 'balanced' is there already"):
        balance_table(pd.DataFrame({"equation": [], "balanced": []}))
    with pytest.raises(DomainError, match="processes=0"):
        balance_table(pd.DataFrame({"equation": ["H2 + O2 -> H2O"]}), processes=0)


def test_a_cluster_gives_the_same_tables() -> None:
    """Two worker processes on this machine, spoken to over the network as a real cluster is."""
    frame = pd.DataFrame({"equation": [text for text in TEXTS if text] * 5})
    lazy = dask.dataframe.from_pandas(frame, npartitions=4)
    with LocalCluster(n_workers=2, threads_per_worker=2, dashboard_address=None) as cluster, Client(cluster):
        for work in (balance_table, check_table):
            found = lazy.map_partitions(work, meta=work(lazy._meta)).compute()
            pd.testing.assert_frame_equal(
                found.astype(object), work(frame).astype(object), check_dtype=False, check_column_type=False
            )
            assert list(found.index) == list(frame.index)
