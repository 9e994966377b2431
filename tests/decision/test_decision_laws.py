"""Laws that hold for every decision."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.decision import Alternatives, decide, pareto_front

POINTS = st.integers(0, 100).map(float)


@st.composite
def tables(draw: st.DrawFn, *, uncertain: bool = False, least: int = 0) -> Alternatives:
    n, k = draw(st.integers(1, 6)), draw(st.integers(1, 4))
    rows = [tuple(draw(POINTS) for _ in range(k)) for _ in range(n)]
    names, criteria = tuple(f"r{i}" for i in range(n)), tuple(f"c{j}" for j in range(k))
    if not uncertain:
        return Alternatives(names, criteria, tuple(rows))
    spread = [
        tuple(draw(st.integers(0, 30).map(lambda s: max(s, least))) for _ in range(k)) for _ in range(n)
    ]
    low = tuple(tuple(x - s for x, s in zip(r, w, strict=True)) for r, w in zip(rows, spread, strict=True))
    high = tuple(tuple(x + s for x, s in zip(r, w, strict=True)) for r, w in zip(rows, spread, strict=True))
    return Alternatives(names, criteria, tuple(rows), low, high)


class TestSharesAreShares:
    @given(tables(uncertain=True))
    def test_ranks_and_alternatives_both_add_to_one(self, table: Alternatives) -> None:
        found = decide(table, draws=500)
        for row in found.acceptability:
            assert sum(row) == pytest.approx(1.0)
        for column in zip(*found.acceptability, strict=True):
            assert sum(column) == pytest.approx(1.0)

    @given(tables())
    def test_the_first_at_the_stated_weights_is_on_the_front_or_equals_one_that_is(
        self, table: Alternatives
    ) -> None:
        found = decide(table, draws=200)
        assert any(
            found.totals[table.names.index(name)] == pytest.approx(min(found.totals)) for name in found.front
        )

    @given(tables())
    def test_what_is_not_on_the_front_is_never_first_alone(self, table: Alternatives) -> None:
        found = decide(table, draws=500)
        front = pareto_front(table)
        for name, mine in zip(table.names, table.points, strict=True):
            if any(all(a < b for a, b in zip(other, mine, strict=True)) for other in table.points):
                assert name not in front
                assert found.share(name) == 0.0


class TestNothingMovesThatShouldNot:
    @given(tables(uncertain=True), st.integers(0, 1000))
    def test_the_same_seed_gives_the_same_decision(self, table: Alternatives, seed: int) -> None:
        assert decide(table, draws=300, seed=seed) == decide(table, draws=300, seed=seed)

    @given(tables(uncertain=True))
    def test_a_dominated_newcomer_leaves_first_rank_shares_alone(self, table: Alternatives) -> None:
        worse = tuple(max(column) + 1.0 for column in zip(*table.high, strict=True))
        more = Alternatives(
            (*table.names, "newcomer"),
            table.criteria,
            (*table.points, worse),
            (*table.low, worse),
            (*table.high, worse),
        )
        before, after = decide(table, draws=500), decide(more, draws=500)
        assert [after.share(name) for name in table.names] == [before.share(name) for name in table.names]
        assert after.central[:-1] == before.central
        assert after.share("newcomer") == 0.0

    @given(tables(uncertain=True, least=1), st.randoms())
    def test_the_order_of_the_list_does_not_matter(self, table: Alternatives, random: object) -> None:
        # Certain figures can tie, and a tie goes to the first in the list: every interval is open here.
        n = len(table.names)
        turned = list(range(n))
        random.shuffle(turned)  # type: ignore[attr-defined]
        other = replace(
            table,
            names=tuple(table.names[i] for i in turned),
            points=tuple(table.points[i] for i in turned),
            low=tuple(table.low[i] for i in turned),
            high=tuple(table.high[i] for i in turned),
        )
        before, after = decide(table, draws=500), decide(other, draws=500)
        for name in table.names:
            assert after.share(name) == pytest.approx(before.share(name), abs=0.005)

    @given(tables(), st.integers(1, 50))
    def test_adding_the_same_points_to_all_changes_no_order(self, table: Alternatives, extra: int) -> None:
        moved = replace(table, points=tuple(tuple(x + extra for x in row) for row in table.points))
        before, after = decide(table, draws=500), decide(moved, draws=500)
        assert before.front == after.front
        for a, b in zip(before.acceptability, after.acceptability, strict=True):
            assert a == pytest.approx(b, abs=0.01)
