"""One thing changed at a time, and the batch at other sizes."""

from __future__ import annotations

import pytest

from redoxlib.bench import plan, scale_sweep, what_if
from redoxlib.compare import clear, compare
from redoxlib.errors import DomainError, JobError, UnsafeRouteError

SHEET = plan(clear(compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol", cooling="50 W").route("H2O2")))


def test_more_excess_moves_quench_and_not_the_yield() -> None:
    moved = {change.key: change for change in what_if(SHEET, excess="20 %")}
    left = moved["quench.oxidant_left.mol"]
    assert left.before is not None
    assert left.after is not None
    assert left.after.value == pytest.approx(2 * left.before.value)
    assert "yield.mol" not in moved
    assert "heat.reaction.kJ" not in moved


def test_cooling_moves_dosing_and_nothing_that_is_weighed() -> None:
    keys = [change.key for change in what_if(SHEET, cooling="80 W")]
    assert "dose.shortest.min" in keys
    assert not any(key.startswith(("charge", "quench", "yield", "distil")) for key in keys)


def test_the_most_moved_stands_first() -> None:
    sizes = [change.relative for change in what_if(SHEET, excess="20 %")]
    assert sizes == sorted(sizes, reverse=True)


def test_a_change_goes_before_the_gate() -> None:
    with pytest.raises(UnsafeRouteError):
        what_if(SHEET, bottles=["hydrogen peroxide 50 % w/w"])


def test_error_when_nothing_or_nonsense_is_changed() -> None:
    with pytest.raises(DomainError):
        what_if(SHEET)
    with pytest.raises(JobError):
        what_if(SHEET, cooling="50")


def test_heat_removal_limits_the_scale() -> None:
    small, same, large = scale_sweep(SHEET, (0.5, 1.0, 10.0))
    assert small.passes
    assert same.passes
    assert not large.passes
    assert "cooling" in large.limit
    assert small.shortest_min is not None
    assert same.shortest_min == pytest.approx(2 * small.shortest_min)


@pytest.mark.parametrize("factor", [0.0, -1.0])
def test_error_when_a_scale_is_none(factor: float) -> None:
    with pytest.raises(DomainError):
        scale_sweep(SHEET, (factor,))
