"""Moles and grams out of balanced equations, for the checks on masses."""

from __future__ import annotations

from fractions import Fraction

from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import balance


def solved(skeleton: str) -> Equation:
    """The balanced equation; for a family, the one in which electrons pass between the named couples."""
    answer = balance(skeleton)
    equation = answer.equation if answer.unique else answer.choice
    assert equation is not None, f"nothing decides the coefficients of {skeleton}"
    return equation


def amount(equation: Equation, formula: str) -> Fraction:
    """Coefficient of a formula, on whichever side it stands."""
    wanted = Species.parse(formula)
    found = [
        Fraction(number)
        for number, species in (*equation.reactants, *equation.products)
        if species.elements == wanted.elements and species.charge == wanted.charge
    ]
    assert len(found) == 1, f"{formula} is not once in {equation}"
    return found[0]


def grams(formula: str) -> float:
    """Grams in a mole of a formula."""
    return Species.parse(formula).molar_mass
