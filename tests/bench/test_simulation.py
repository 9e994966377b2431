"""Dosing: what goes in comes out, faster dosing is hotter, lost cooling is worse."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from redoxlib.bench import Pot, Simulation, fastest_dosing, simulate
from redoxlib.bench._rates import RateTerm, accumulation_bound
from redoxlib.errors import DomainError


def second_order(k: float) -> tuple[RateTerm, ...]:
    return (RateTerm(k, 1, 1, "k*[a]*[b]", "exact", ("computed",)),)


POT = Pot(0.55, 0.50, 1.0, 70.0, 4300.0, 200.0, 1.1, 0.06, 25.0, 20.0)

pots = st.builds(
    lambda mol, excess, heat, kg, dose, start, dose_c, k: Pot(
        mol * (1 + excess),
        mol,
        2 * mol,
        heat * mol,
        4000.0 * kg,
        4000.0 * dose,
        kg,
        dose,
        start,
        dose_c,
        terms=second_order(k) if k else (),
        water_g=1000.0 * kg,
    ),
    st.floats(0.05, 2.0),
    st.floats(0.0, 0.5),
    st.floats(20.0, 400.0),
    st.floats(0.3, 3.0),
    st.floats(0.0, 0.3),
    st.floats(0.0, 60.0),
    st.floats(0.0, 40.0),
    st.sampled_from([0.0, 1e-4, 1e-2, 1.0]),
)


class TestNothingIsLost:
    """Energy and matter close to one part in a million in every run."""

    @settings(max_examples=40, deadline=None)
    @given(pots, st.floats(1.0, 240.0), st.floats(0.0, 300.0), st.floats(0.0, 20.0))
    def test_energy_and_mass(self, pot: Pot, minutes: float, watts: float, ua: float) -> None:
        run = simulate(pot, minutes, watts=watts, ua=ua)
        assert run.energy_error < 1e-6
        assert run.mass_error < 1e-6

    @settings(max_examples=15, deadline=None)
    @given(pots, st.floats(10.0, 120.0))
    def test_the_cooling_read_off_the_table_is_the_cooling_counted(self, pot: Pot, minutes: float) -> None:
        # A second way to the same number: trapezoids over the printed powers.
        run = simulate(pot, minutes, ua=5.0, jacket_c=pot.start_c - 5, after=minutes)
        steps = zip(run.minutes, run.minutes[1:], run.cooling_w, run.cooling_w[1:], strict=False)
        joules = sum(60 * (t1 - t0) * (w0 + w1) / 2 for t0, t1, w0, w1 in steps)
        size = 60 * sum(abs(w) for w in run.cooling_w) / len(run.cooling_w) * run.minutes[-1]
        assert joules / 1000 == pytest.approx(run.cooled_kj, abs=0.01 * size / 1000 + 0.01)


def test_without_cooling_the_rise_is_heat_over_capacity() -> None:
    pot = Pot(0.5, 0.5, 1.0, 70.0, 4300.0, 0.0, 1.0, 0.0, 25.0, 25.0)
    assert simulate(pot, 10.0).peak_c == pytest.approx(25.0 + 70_000 / 4300, abs=1e-3)


def test_boiling_holds_the_temperature() -> None:
    pot = Pot(1.0, 1.0, 2.0, 800.0, 4300.0, 0.0, 1.0, 0.0, 25.0, 25.0, water_g=1000.0)
    run = simulate(pot, 30.0)
    assert 100.0 <= run.peak_c < 101.0
    assert run.vapour_g[-1] == pytest.approx((800_000 - 75 * 4300) / 2257, rel=0.05)


def test_product_boils_off_before_water() -> None:
    def run(kj: float) -> Simulation:
        pot = Pot(1.0, 1.0, 2.0, kj, 4300.0, 0.0, 1.0, 0.0, 25.0, 25.0, 54.0, 237.0, 0.55, 162.0, 1000.0)
        return simulate(pot, 30.0)

    mild, hot = run(150.0), run(200.0)
    assert 54.0 <= mild.peak_c < 56.0
    assert mild.vapour_g[-1] == pytest.approx((150_000 - 29 * 4300) / 237, rel=0.1)
    # once the product phase is gone nothing holds the temperature below 100 C
    assert hot.peak_c > 60.0
    assert hot.vapour_g[-1] == pytest.approx(162.0, rel=0.02)


def test_an_instant_reaction_accumulates_nothing() -> None:
    run = simulate(POT, 20.0, watts=80.0)
    assert run.accumulation == 0.0
    assert run.converted == pytest.approx(1.0, abs=1e-9)
    assert "assumed" in run.assumed


def test_a_slow_reaction_accumulates_what_its_rate_says() -> None:
    # feed in large excess, so first order in the oxidant: X = (1 - exp(-k t)) / (k t)
    k, feed = 1e-3, 1.0
    pot = Pot(1e-4, 1e-4, feed, 1e-3, 4180.0, 0.0, 1.0, 0.0, 25.0, 25.0, terms=second_order(k))
    pot = Pot(**{**{f: getattr(pot, f) for f in pot.__slots__}, "needed_mol": 1e-4})
    run = simulate(pot, 30.0)
    expected = accumulation_bound(0.693147 / k, 1800.0)
    assert run.accumulation == pytest.approx(expected, rel=0.35)  # the feed falls as it is used


def test_a_rate_far_faster_than_dosing_is_instant_and_says_why() -> None:
    pot = Pot(0.5, 0.5, 1.0, 70.0, 4300.0, 0.0, 1.0, 0.0, 25.0, 25.0, terms=second_order(1e9))
    run = simulate(pot, 30.0, watts=60.0)
    assert "dosing alone decides" in run.assumed
    assert 0 < run.accumulation < 1e-6


@pytest.mark.parametrize(("slow", "fast"), [(60.0, 30.0), (30.0, 15.0), (15.0, 5.0)])
def test_faster_dosing_is_hotter(slow: float, fast: float) -> None:
    assert simulate(POT, fast, watts=40.0).peak_c >= simulate(POT, slow, watts=40.0).peak_c


def test_lost_cooling_is_worse_than_weak_cooling() -> None:
    assert simulate(POT, 20.0).peak_c > simulate(POT, 20.0, watts=20.0).peak_c


def test_the_fastest_dosing_is_safe_and_a_little_faster_is_not() -> None:
    minutes = fastest_dosing(POT, watts=30.0)
    assert minutes is not None
    assert minutes >= 70_000 / 30.0 / 60 - 1e-9
    assert simulate(POT, minutes, watts=30.0).peak_c <= 30.0 + 1e-6


def test_no_dosing_governs_a_reaction_that_hardly_runs() -> None:
    hot = Pot(1.0, 1.0, 1.0, 500.0, 4000.0, 0.0, 1.0, 0.0, 25.0, 25.0, terms=second_order(1e-7))
    assert fastest_dosing(hot, watts=1000.0) is None


def test_without_cooling_there_is_no_fastest_dosing() -> None:
    assert fastest_dosing(POT) is None


@pytest.mark.parametrize("minutes", [0.0, -1.0])
def test_error_when_no_time_is_given(minutes: float) -> None:
    with pytest.raises(DomainError):
        simulate(POT, minutes)
