"""Letters as subscripts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.errors import NotationError
from redoxlib.notation import Polynomial, parse_symbolic, parse_symbolic_equation


def _counts(text: str) -> dict[str, str]:
    return {symbol: str(count) for symbol, count in parse_symbolic(text).elements.items()}


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("CnH2n+2", {"C": "n", "H": "2n+2"}),
        ("CnH2n+1OH", {"C": "n", "H": "2n+2", "O": "1"}),
        ("CxHyOz", {"C": "x", "H": "y", "O": "z"}),
        ("C_nH_{2n-2}", {"C": "n", "H": "2n-2"}),
        ("Fe2O3·xH2O", {"Fe": "2", "H": "2x", "O": "x+3"}),
        ("Fe2O3.nH2O", {"Fe": "2", "H": "2n", "O": "n+3"}),
        ("(C6H10O5)n", {"C": "6n", "H": "10n", "O": "5n"}),
        ("Fe1-xO", {"Fe": "-x+1", "O": "1"}),
        ("YBa2Cu3O7-δ", {"Ba": "2", "Cu": "3", "O": "-z+7", "Y": "1"}),
        ("M" + "nO2", {"Mn": "1", "O": "2"}),
        ("((CH2)n)m", {"C": "mn", "H": "2mn"}),
    ],
)
def test_counts_are_polynomials_in_the_letters(text: str, counts: dict[str, str]) -> None:
    assert _counts(text) == counts


def test_charge_and_phase_are_read_as_usual() -> None:
    sulfide = parse_symbolic("S_n^2-(aq)")
    assert {symbol: str(count) for symbol, count in sulfide.elements.items()} == {"S": "n"}
    assert (sulfide.charge, sulfide.phase) == (-2, "aq")
    assert sulfide.letters == {"n"}
    acid = parse_symbolic("CnH2n+1COO-")
    assert acid.charge == -1


def test_polynomials_add_multiply_and_evaluate() -> None:
    n, m = Polynomial.letter("n"), Polynomial.letter("m")
    product = (n + 1) * (m + 2)
    assert str(product) == "mn+m+2n+2"
    assert product.at({"n": 3, "m": Fraction(1, 2)}) == 10
    assert n * 0 == Polynomial()
    assert str(Polynomial()) == "0"
    assert (n + n * -1).is_constant


def test_an_equation_with_letters() -> None:
    left, right = parse_symbolic_equation("CnH2n+2 + O2 -> CO2 + H2O")
    assert [str(species) for _, species in left] == ["CnH2n+2", "O2"]
    assert [count for count, _ in right] == [1, 1]


def test_error_in_a_symbolic_formula() -> None:
    with pytest.raises(NotationError) as caught:
        parse_symbolic("QnH2n")
    assert str(caught.value) == "unknown element 'Qn'\n  QnH2n\n  ^\n  did you mean 'Mn'?"
