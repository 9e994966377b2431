"""Letters as subscripts: coefficients as expressions, conditions, degenerate places."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.errors import DomainError, ImpossibleError, NotUniqueError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance, balance_symbolic


@pytest.mark.parametrize(
    ("text", "coefficients", "valid"),
    [
        ("CnH2n+2 + O2 -> CO2 + H2O", ["2", "3n+1", "2n", "2n+2"], "n > 0"),
        ("Fe2O3·xH2O -> Fe2O3 + H2O", ["1", "1", "x"], "x > 0"),
        ("Fe1-xO + O2 -> Fe2O3", ["4", "-3x+1", "-2x+2"], "0 < x < 1/3"),
        ("FexOy + CO -> Fe + CO2", ["1", "y", "x", "y"], ""),
        ("CxHyOz + O2 -> CO2 + H2O", ["4", "4x+y-2z", "4x", "2y"], ""),
        ("MnOx + HCl -> MnCl2 + Cl2 + H2O", ["1", "2x", "1", "x-1", "x"], "x > 1"),
        (
            "CnH2n + KMnO4 + H2SO4 -> CO2 + K2SO4 + MnSO4 + H2O",
            ["5", "6n", "9n", "5n", "3n", "6n", "14n"],
            "n > 0",
        ),
    ],
)
def test_coefficients_are_expressions(text: str, coefficients: list[str], valid: str) -> None:
    result = balance_symbolic(text)
    assert [str(coefficient) for coefficient in result.coefficients] == coefficients
    assert result.valid == valid


@pytest.mark.parametrize("n", range(1, 9))
def test_a_number_in_place_of_the_letter_gives_the_plain_answer(n: int) -> None:
    result = balance_symbolic("CnH2n+2 + O2 -> CO2 + H2O").at(n=n)
    assert result == balance(f"C{n}H{2 * n + 2} + O2 -> CO2 + H2O").equation


def test_a_non_stoichiometric_solid_agrees_with_the_plain_answer() -> None:
    result = balance_symbolic("Fe1-xO + O2 -> Fe2O3").at(x=Fraction(1, 20))
    assert result == Equation.parse("80 Fe0.95O + 17 O2 -> 38 Fe2O3")


def test_the_smallest_numbers_may_depend_on_parity() -> None:
    assert balance_symbolic("CnH2n+2 + O2 -> CO2 + H2O").divisors == ("n odd: divide by 2",)


def test_conditions_and_degenerate_places_are_reported() -> None:
    result = balance_symbolic("CxHyOz + O2 -> CO2 + H2O")
    assert "4x+y-2z > 0" in result.conditions
    assert result.degenerate == ("where 4x+y-2z = 0 O2 drops out",)
    single = balance_symbolic("MnOx + HCl -> MnCl2 + Cl2 + H2O")
    assert single.degenerate == ("at x = 1 Cl2 drops out",)


def test_it_prints_with_its_range() -> None:
    text = str(balance_symbolic("Fe2O3·xH2O + HCl -> FeCl3 + H2O"))
    assert text.splitlines()[0] == "Fe2O3·xH2O + 6 HCl -> 2 FeCl3 + (x+3) H2O"
    assert "valid for x > 0" in text


def test_charged_species_are_conserved_too() -> None:
    result = balance_symbolic("S_n^2- + O2 + H^+ -> S + H2O")
    assert [str(coefficient) for coefficient in result.coefficients] == ["2", "1", "4", "2n", "2"]


def test_error_when_a_letter_has_no_value_or_a_bad_one() -> None:
    result = balance_symbolic("MnOx + HCl -> MnCl2 + Cl2 + H2O")
    with pytest.raises(DomainError, match="no value for x"):
        result.at()
    with pytest.raises(DomainError, match="the coefficient of Cl2 is -1/2"):
        result.at(x=Fraction(1, 2))


def test_error_when_nothing_balances_for_general_letters() -> None:
    with pytest.raises(ImpossibleError, match="for general letters"):
        balance_symbolic("H2O -> CnH2n+2")
    with pytest.raises(ImpossibleError, match="no letters make every coefficient positive"):
        balance_symbolic("CnH2n+2 + CO2 -> O2 + H2O")


def test_error_when_several_equations_balance() -> None:
    with pytest.raises(NotUniqueError, match="2 independent equations balance") as caught:
        balance_symbolic("CnH2n+2 + O2 -> CO + CO2 + H2O")
    assert len(caught.value.members) == 2


def test_error_when_there_is_no_letter() -> None:
    with pytest.raises(DomainError, match="no letters stand in the equation"):
        balance_symbolic("H2 + O2 -> H2O")
