"""Thermochemistry: every couple answers with its own row, and what an answer rests on."""

from __future__ import annotations

from math import sqrt

import pytest

from redoxlib.data import shipped
from redoxlib.errors import MissingDataError
from redoxlib.thermo import activity_coefficient, enthalpy, gibbs, potential, sample

FARADAY_KJ = 96.485332
TWICE = sorted(
    name
    for name, couple in shipped().couples.items()
    if sum(row.quantity == "E0" for row in couple.rows) > 1 and any(row.chosen for row in couple.rows)
)


@pytest.mark.parametrize("name", sorted(shipped().couples))
def test_a_couple_asked_for_by_name_answers_with_its_chosen_row(name: str) -> None:
    chosen = [r for r in shipped().couples[name].rows if r.chosen and r.quantity == "E0"]
    if not chosen:
        pytest.skip("no standard potential is marked as chosen")
    answer = potential(name)
    assert answer.value == pytest.approx(chosen[0].value, abs=1e-9)
    assert set(chosen[0].as_quantity.sources) <= set(answer.sources)


@pytest.mark.parametrize("name", TWICE)
def test_the_rival_rows_of_a_couple_stand_among_the_alternatives(name: str) -> None:
    rivals = [
        r.value for r in shipped().couples[name].rows if not r.chosen and r.quantity in ("E0", "E0_formal")
    ]
    told = [q.value for q in potential(name).alternatives]
    assert [v for v in rivals if not any(abs(v - t) < 1e-9 for t in told)] == []


def test_one_oxidant_on_two_reductants_is_judged_by_energies_and_not_by_one_couple() -> None:
    both = "MnO4^- + 8 H^+ + 3 Fe^2+ + 2 I^- -> Mn^2+ + 3 Fe^3+ + I2(s) + 4 H2O"
    answer, energy = potential(both), gibbs(both)
    assert answer.electrons == 5
    assert answer.value == pytest.approx(-energy.value / (5 * FARADAY_KJ), abs=1e-6)


def test_a_redox_equation_without_data_says_which_energies_are_missing() -> None:
    with pytest.raises(MissingDataError):
        potential("2 Eu^2+ + BkO2^+ -> 2 Eu^3+ + BkO2^-")


@pytest.mark.parametrize(("strength", "share"), [(0.05, 0.015), (0.1, 0.03), (0.3, 0.065), (0.5, 0.10)])
def test_the_uncertainty_of_an_activity_coefficient_grows_as_promised(strength: float, share: float) -> None:
    one, two = activity_coefficient(1, strength), activity_coefficient(2, strength)
    assert (one.uncertainty or 0) / one.value == pytest.approx(share)
    assert (two.uncertainty or 0) / two.value == pytest.approx(4 * share)


def test_the_spread_of_two_draws_is_their_distance_over_the_root_of_two() -> None:
    drawn = sample(["2 H2(g) + O2(g) -> 2 H2O(l)"], n=2, seed=3)
    first, second = drawn.draws[:, 0]
    assert drawn.quantity(0).uncertainty == pytest.approx(abs(first - second) / sqrt(2))
    assert drawn.quantity(0).value == pytest.approx((first + second) / 2)


def test_elements_and_the_proton_are_zero_by_definition() -> None:
    nothing = enthalpy("H2(g) -> 2 H^+ + 2 e^-")
    assert nothing.value == pytest.approx(0.0, abs=1e-9)
    assert nothing.uncertainty == pytest.approx(0.0, abs=1e-9)
