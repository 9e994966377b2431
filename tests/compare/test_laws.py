"""Rate laws read as numbers, and their integrals against closed forms."""

from __future__ import annotations

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib._laws import Law, laws_for, time_to
from redoxlib.data import shipped
from redoxlib.notation import Species

KS = st.floats(1e-6, 1e9)
STRENGTHS = st.floats(1e-6, 5.0)


def law(k: float, order: int = 1, relative: float | None = 0.1) -> Law:
    return Law(k, order, relative, "exact", "x")


@given(KS, STRENGTHS)
def test_equal_amounts_need_one_over_k_r(k: float, r: float) -> None:
    found = time_to([law(k)], r, 0.0)
    assert found is not None
    assert found[0] == pytest.approx(1 / (k * r), rel=1e-6)
    assert found[0] / (log(2) / (k * r)) == pytest.approx(1.4427, rel=1e-4)


@given(KS, STRENGTHS, st.floats(0.01, 20), st.floats(0.05, 0.9))
def test_an_excess_follows_the_partial_fractions(k: float, r: float, x: float, y: float) -> None:
    found = time_to([law(k)], r, x, y)
    assert found is not None
    assert found[0] == pytest.approx(log((1 + x - y) / ((1 + x) * (1 - y))) / (x * k * r), rel=1e-4)


def test_a_large_excess_is_first_order() -> None:
    found = time_to([law(1.0)], 1.0, 1000.0)
    assert found is not None
    assert found[0] == pytest.approx(log(2) / 1000, rel=1e-3)


@given(KS, STRENGTHS, st.integers(1, 2))
def test_parallel_terms_add(k: float, r: float, order: int) -> None:
    one, two = time_to([law(k, order)], r, 0.1), time_to([law(k, order)] * 2, r, 0.1)
    assert one is not None
    assert two is not None
    assert two[0] == pytest.approx(one[0] / 2, rel=1e-9)
    assert one[1] == pytest.approx(0.1)
    assert two[1] == pytest.approx(0.1 / 2**0.5)


def test_a_constant_without_uncertainty_gives_a_time_without_one() -> None:
    found = time_to([law(1.0, relative=None)], 1.0, 0.1)
    assert found is not None
    assert found[0] == pytest.approx(0.87, rel=0.01)
    assert found[1] is None
    assert time_to([], 1.0, 0.1) is None
    assert time_to([law(0.0)], 1.0, 0.1) is None


def test_a_law_takes_its_protons_from_the_ph() -> None:
    peroxide, bromide = Species.parse("H2O2"), Species.parse("Br^-")
    (at0,) = laws_for([peroxide], bromide, 0.0, shipped())
    (at2,) = laws_for([peroxide], bromide, 2.0, shipped())
    assert at0.constant / at2.constant == pytest.approx(100.0)
    assert at0.order == 1
