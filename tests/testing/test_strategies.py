"""Shrinking, types, options."""

from __future__ import annotations

import pytest
from hypothesis import find, given, settings
from hypothesis import strategies as st

from redoxlib.data import Couple
from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import check
from redoxlib.testing import balanced_equations, couples, species, wrong_equations
from redoxlib.testing.strategies import register

register()


def test_a_species_shrinks_to_one_neutral_atom() -> None:
    assert find(species(), lambda _: True) == Species.parse("H")


def test_a_wrong_equation_shrinks_to_one_particle_too_many() -> None:
    least = find(wrong_equations(), lambda _: True, settings=settings(database=None))
    assert len(least.reactants + least.products) <= 4
    assert set(map(abs, least.residual().values())) == {1}


@pytest.mark.parametrize("what", ["charge", "atoms", "several"])
def test_a_wrong_equation_with_a_given_fault_shrinks_to_a_small_one(what: str) -> None:
    """Whatever a test trips over, what it shows a person is short, and a coefficient is one off or few."""
    faults = {
        "charge": lambda residual: set(residual) == {"charge"},
        "atoms": lambda residual: "charge" not in residual,
        "several": lambda residual: len(residual) > 1,
    }
    least = find(
        wrong_equations(),
        lambda equation: faults[what](equation.residual()),
        settings=settings(database=None, max_examples=1000),
    )
    terms = least.reactants + least.products
    assert faults[what](least.residual())
    assert len(terms) <= 6
    assert len(str(least)) <= 60


@given(wrong_equations())
def test_a_wrong_equation_is_wrong(equation: Equation) -> None:
    assert equation.residual()
    assert not check(equation).balanced


@given(st.from_type(Species), st.from_type(Equation), st.from_type(Couple))
def test_types_resolve(one: Species, equation: Equation, couple: Couple) -> None:
    assert one.elements
    assert equation.residual() == {}
    assert "->" in couple.half_reaction


def test_error_when_an_option_is_impossible() -> None:
    with pytest.raises(DomainError, match="medium='sour' is none of"):
        couples(medium="sour")
    with pytest.raises(DomainError, match="max_factor=0"):
        balanced_equations(max_factor=0)
