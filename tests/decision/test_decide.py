"""Small decisions worked out by hand."""

from __future__ import annotations

import tracemalloc

import numpy as np
import pytest

from redoxlib.decision import Alternatives, Leverage, decide, pareto_front
from redoxlib.errors import DomainError

TWO = Alternatives(("a", "b"), ("x", "y"), ((0.0, 60.0), (30.0, 20.0)))
# a wins where 60 (1 - w) < 30 w + 20 (1 - w), that is w > 4/7.
A_SHARE = 3 / 7


def test_two_alternatives_share_the_weights_as_the_line_cuts_them() -> None:
    found = decide(TWO, draws=200_000)
    assert found.share("a") == pytest.approx(A_SHARE, abs=4 * (0.25 / 200_000) ** 0.5)
    assert found.share("a") + found.share("b") == pytest.approx(1.0)
    assert found.share("a", 2) == pytest.approx(1 - found.share("a"))


def test_central_weights_are_the_middle_of_each_region() -> None:
    found = decide(TWO, draws=200_000)
    a, b = found.central
    assert a is not None
    assert b is not None
    assert a == pytest.approx(((1 + 4 / 7) / 2, 1 - (1 + 4 / 7) / 2), abs=0.002)
    assert b == pytest.approx((2 / 7, 5 / 7), abs=0.002)
    assert found.confidence == (1.0, 1.0)


def test_three_criteria_share_the_triangle_by_symmetry() -> None:
    third = Alternatives(("a", "b", "c"), ("x", "y", "z"), ((0, 9, 9), (9, 0, 9), (9, 9, 0)))
    found = decide(third, draws=200_000)
    for i, name in enumerate(third.names):
        assert found.share(name) == pytest.approx(1 / 3, abs=0.005)
        central = found.central[i]
        assert central is not None
        # Centroid of the part of the triangle where one weight is the largest: 11/18, 7/36, 7/36.
        assert central[i] == pytest.approx(11 / 18, abs=0.003)


def test_an_interval_moves_the_share_as_its_integral_says() -> None:
    # One criterion: a at 5, b anywhere between 0 and 20: b is better in a quarter of its interval.
    one = Alternatives(("a", "b"), ("x",), ((5.0,), (10.0,)), ((5.0,), (0.0,)), ((5.0,), (20.0,)))
    found = decide(one, draws=100_000)
    assert found.share("b") == pytest.approx(0.25, abs=0.006)
    assert found.confidence[0] == pytest.approx(0.75, abs=0.03)
    assert found.confidence[1] == pytest.approx(0.25, abs=0.03)
    assert found.leverage == (Leverage("b", "x", 0.25, "b"),)


def test_samples_keep_their_correlation() -> None:
    shift = np.random.default_rng(3).normal(0.0, 30.0, 5000)
    both = np.stack([10.0 + shift, 11.0 + shift], axis=1)[:, :, None]
    one = Alternatives(("a", "b"), ("x",), ((10.0,), (11.0,)))
    assert decide(one, samples=both, draws=20_000).share("a") == 1.0
    apart = np.stack([10.0 + shift, 11.0 + shift[::-1]], axis=1)[:, :, None]
    assert 0.4 < decide(one, samples=apart, draws=20_000).share("a") < 0.6


def test_weights_a_fifth_up_and_down_and_where_the_place_passes_on() -> None:
    found = decide(TWO, draws=1000)
    assert found.totals == (30.0, 25.0)
    assert found.first == "b"
    x, y = found.swings
    # 30 = 15 f + 10 at f = 4/3; 30 f = 15 + 10 f at f = 3/4.
    assert (x.criterion, x.down, x.lowered, x.raised) == ("x", None, "b", "b")
    assert x.up == pytest.approx(4 / 3)
    assert (y.criterion, y.up) == ("y", None)
    assert y.down == pytest.approx(3 / 4)
    assert found.steady
    assert not decide(TWO, weights=(0.55, 0.45), draws=1000).steady
    raised = decide(TWO, weights=(0.55, 0.45), draws=1000).swings[0]
    assert (raised.lowered, raised.raised) == ("b", "a")
    assert raised.up == pytest.approx(0.45 * 40 / (0.55 * 30))


def test_leverage_names_the_figure_that_most_likely_changes_the_first_place() -> None:
    table = Alternatives(
        ("a", "b"),
        ("x", "y"),
        ((10.0, 10.0), (10.0, 20.0)),
        ((0.0, 10.0), (10.0, 0.0)),
        ((100.0, 10.0), (10.0, 25.0)),
    )
    found = decide(table, draws=1000).leverage
    assert found == (Leverage("a", "x", 0.8, "b"), Leverage("b", "y", 0.4, "b"))


def test_the_front_holds_what_nothing_beats() -> None:
    table = Alternatives(("a", "b", "c", "d"), ("x", "y"), ((0, 2), (1, 1), (1, 2), (0, 2)))
    assert pareto_front(table) == ("a", "b", "d")


def test_equals_share_their_ranks() -> None:
    table = Alternatives(("a", "b", "c"), ("x", "y"), ((1, 1), (1, 1), (9, 9)))
    found = decide(table, draws=1000)
    assert found.acceptability == ((0.5, 0.5, 0.0), (0.5, 0.5, 0.0), (0.0, 0.0, 1.0))
    assert found.central[2] is None
    assert found.confidence[2] is None


def test_the_sentences_carry_the_figures() -> None:
    table = Alternatives(
        ("a", "b", "c"),
        ("x", "y"),
        ((10.0, 10.0), (30.0, 5.0), (50.0, 50.0)),
        ((10.0, 10.0), (30.0, 5.0), (0.0, 0.0)),
        ((10.0, 10.0), (30.0, 5.0), (100.0, 100.0)),
    )
    said = decide(table, draws=20_000).sentences()
    assert said[0].startswith("a is first in ")
    assert said[0].endswith(" % of all weightings")
    assert any(s.startswith("b is first in ") and "with the weights x 0." in s for s in said)
    assert "no weight raised or lowered by 20 % changes the first place" in said


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"points": ((1.0,), (2.0,))}, "points must have 2 rows of 2 figures each"),
        ({"points": ((1.0, float("nan")), (2.0, 3.0))}, "points holds a figure that is not a number"),
        ({"low": ((0.0, 0.0), (0.0, 0.0))}, "give both low and high, or neither"),
        ({"names": ("a", "a")}, "two alternatives have the same name"),
        ({"names": ()}, "a decision needs at least one alternative and one criterion"),
        (
            {"low": ((0.0, 0.0), (0.0, 0.0)), "high": ((0.0, 50.0), (40.0, 30.0))},
            "a, y: 60 is not between 0 and 50",
        ),
    ],
)
def test_error_when_the_table_does_not_fit(change: dict[str, object], message: str) -> None:
    fields = {"names": TWO.names, "criteria": TWO.criteria, "points": TWO.points, **change}
    with pytest.raises(DomainError) as caught:
        Alternatives(**fields)  # type: ignore[arg-type]
    assert caught.value.message == message


def test_error_when_weights_or_samples_do_not_fit() -> None:
    with pytest.raises(DomainError, match="3 weights for 2 criteria"):
        decide(TWO, weights=(1, 1, 1))
    with pytest.raises(DomainError, match="not all 0"):
        decide(TWO, weights=(0, 0))
    with pytest.raises(DomainError, match="samples must have the shape"):
        decide(TWO, samples=np.zeros((4, 3, 2)))
    with pytest.raises(DomainError, match="not a number"):
        decide(TWO, samples=np.full((4, 2, 2), np.nan))
    with pytest.raises(DomainError, match="draws must be 1 or more"):
        decide(TWO, draws=0)
    with pytest.raises(DomainError, match="'z' was not decided on"):
        decide(TWO, draws=10).share("z")
    with pytest.raises(DomainError, match="rank 3 is not between 1 and 2"):
        decide(TWO, draws=10).share("a", 3)


def test_memory_does_not_grow_with_the_number_of_weightings() -> None:
    rows = tuple(tuple(float(x) for x in row) for row in np.random.default_rng(0).random((30, 4)))
    table = Alternatives(tuple(f"r{i}" for i in range(30)), tuple("wxyz"), rows)

    def peak(draws: int) -> int:
        tracemalloc.start()
        try:
            decide(table, draws=draws)
            return tracemalloc.get_traced_memory()[1]
        finally:
            tracemalloc.stop()

    peak(5_000)
    assert peak(100_000) < 1.2 * peak(10_000)
    assert peak(100_000) < 8_000_000


CAUSE = Alternatives(
    ("a", "b", "c"),
    ("x",),
    ((10.0,), (12.0,), (11.0,)),
    ((0.0,), (2.0,), (11.0,)),
    ((10.0,), (12.0,), (11.0,)),
    (((("k", 1.0),),), ((("k", 1.0),),), ((),)),
)


def test_a_cause_that_two_figures_share_cancels_between_them() -> None:
    found = decide(CAUSE, draws=20_000)
    assert found.share("b") == 0.0  # always two points behind a, wherever k lies
    apart = Alternatives(
        CAUSE.names, CAUSE.criteria, CAUSE.points, CAUSE.low, CAUSE.high,
        (((("k", 1.0),),), ((("q", 1.0),),), ((),)),
    )  # fmt: skip
    assert decide(apart, draws=20_000).share("b") > 0.2


def test_a_negative_share_moves_the_figure_the_other_way() -> None:
    against = Alternatives(
        ("a", "b"), ("x",), ((5.0,), (5.0,)), ((0.0,), (0.0,)), ((10.0,), (10.0,)),
        (((("k", 1.0),),), ((("k", -1.0),),)),
    )  # fmt: skip
    found = decide(against, draws=20_000)
    assert found.share("a") == pytest.approx(0.5, abs=0.02)


def test_the_lever_is_named_by_its_cause() -> None:
    two = Alternatives(
        ("a", "b"), ("x",), ((5.0,), (10.0,)), ((5.0,), (0.0,)), ((5.0,), (10.0,)),
        (((),), ((("the rate of b", 1.0),),)),
    )  # fmt: skip
    (lever,) = decide(two, draws=1000).leverage
    assert (lever.cause, lever.to, lever.criterion) == ("the rate of b", "b", "x")
    assert lever.chance == pytest.approx(0.5, abs=0.01)
    assert any("the rate of b is the likeliest" in s for s in decide(two, draws=1000).sentences())


def test_causes_must_fit_the_figures() -> None:
    with pytest.raises(DomainError, match="shares add to 1"):
        Alternatives(
            ("a", "b"), ("x",), ((5.0,), (1.0,)), ((0.0,), (1.0,)), ((5.0,), (1.0,)),
            (((("k", 0.4),),), ((),)),
        )  # fmt: skip
    with pytest.raises(DomainError, match="need low and high"):
        Alternatives(("a",), ("x",), ((5.0,),), causes=(((("k", 1.0),),),))
