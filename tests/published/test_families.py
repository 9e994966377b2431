"""Equations published with more than one set of coefficients: the family is found whole."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
import sympy

from redoxlib.errors import NotUniqueError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance, check

from ._read import ids, jsonl

ROWS = jsonl("families.jsonl")


def vector(equation: Equation, order: list[object]) -> list[Fraction]:
    """Coefficients along *order*, reactants negative; a species left out counts zero."""
    found: dict[object, Fraction] = {}
    for sign, terms in ((-1, equation.reactants), (1, equation.products)):
        for number, species in terms:
            found[species] = found.get(species, Fraction(0)) + sign * Fraction(number)
    assert set(found) <= set(order)
    return [found.get(species, Fraction(0)) for species in order]


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_the_family_has_the_published_dimension_and_is_not_called_unique(row: dict[str, Any]) -> None:
    answer = balance(row["text"])
    assert not answer.unique
    assert answer.dimension == row["dimension"]
    with pytest.raises(NotUniqueError) as caught:
        _ = answer.equation
    assert len(caught.value.members) >= 2


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_every_published_version_is_a_sum_of_members(row: dict[str, Any]) -> None:
    skeleton = Equation.parse(row["text"])
    order: list[object] = [species for _, species in (*skeleton.reactants, *skeleton.products)]
    members = [vector(member, order) for member in balance(row["text"]).members]
    for version in row["versions"]:
        assert check(version).balanced
        target = vector(Equation.parse(version), order)
        basis = sympy.Matrix(members).T
        assert basis.rank() == row["dimension"]
        assert basis.row_join(sympy.Matrix(target)).rank() == basis.rank(), version


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_electrons_between_the_named_couples_decide_or_nothing_does(row: dict[str, Any]) -> None:
    """Where two products play one part (CO and CO2 from carbon), no count of electrons picks a ratio."""
    choice = balance(row["text"]).choice
    if row["choice"] is None:
        assert choice is None
    else:
        wanted = Equation.parse(row["choice"])
        assert choice is not None
        assert set(choice.reduced().reactants) == set(wanted.reactants)
        assert set(choice.reduced().products) == set(wanted.products)
