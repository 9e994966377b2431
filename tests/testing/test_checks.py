"""assert_balanced, the nearest fix, and the laws."""

from __future__ import annotations

import pytest
from hypothesis import given

from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance
from redoxlib.testing import (
    assert_adds,
    assert_balanced,
    assert_reverses,
    assert_scales,
    balanced_equations,
    nearest_fix,
    skeletons,
    wrong_equations,
)
from redoxlib.thermo import gibbs


def test_a_failure_shows_the_residual_and_the_fix() -> None:
    with pytest.raises(AssertionError) as told:
        assert_balanced("2 H2 + O2 -> H2O")
    assert str(told.value) == (
        "not balanced: 2 H2 + O2 -> H2O\n"
        "  H  +2 (left minus right)\n"
        "  O  +1 (left minus right)\n"
        "  nearest fix: 2 H2 + O2 -> 2 H2O (coefficient of H2O: 2, not 1)"
    )


@pytest.mark.parametrize(
    ("wrong", "fix"),
    [
        (
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+",
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O (4 H2O missing)",
        ),
        (
            "Fe^2+ -> Fe^3+ + 2 e^-",
            "Fe^2+ -> Fe^3+ + e^- (coefficient of e^-: 1, not 2)",
        ),
        (
            "MnO4^- + Fe^2+ + 8 H^+ -> Mn^2+ + Fe^3+ + 4 H2O",
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O (coefficients set anew)",
        ),
        (
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^+ + 4 H2O",
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O (Fe^3+ meant, not Fe^+)",
        ),
        ("2 H2 + O2 -> 2 H2O", ""),
    ],
)
def test_the_fix_is_the_smallest_change(wrong: str, fix: str) -> None:
    assert nearest_fix(Equation.parse(wrong)) == fix


class TestGeneratedEquations:
    """What the strategies promise, judged without the code that made them."""

    @given(balanced_equations(max_factor=3))
    def test_balanced_ones_balance(self, equation: Equation) -> None:
        assert equation.residual() == {}
        assert_balanced(str(equation))

    @given(wrong_equations())
    def test_wrong_ones_do_not_and_are_told_so(self, equation: Equation) -> None:
        assert equation.residual()
        with pytest.raises(AssertionError, match="not balanced"):
            assert_balanced(equation)

    @given(skeletons())
    def test_any_member_of_a_skeleton_conserves(self, skeleton: Equation) -> None:
        assert {count for count, _ in skeleton.reactants + skeleton.products} == {1}
        result = balance(skeleton)
        for member in result.members[:20]:
            assert member.residual() == {}


def _energy(equation: Equation) -> float:
    return gibbs(str(equation)).value


FIRST = Equation.parse("2 H2(g) + O2(g) -> 2 H2O(l)")
SECOND = Equation.parse("H2(g) + Cl2(g) -> 2 HCl(g)")


class TestLaws:
    """Each law passes on energies and catches a value that breaks it."""

    def test_gibbs_energy_obeys_them(self) -> None:
        assert_scales(_energy, FIRST)
        assert_reverses(_energy, FIRST)
        assert_adds(_energy, FIRST, SECOND)

    def test_a_constant_breaks_them(self) -> None:
        with pytest.raises(AssertionError):
            assert_scales(lambda _: 1.0, FIRST)
        with pytest.raises(AssertionError):
            assert_reverses(lambda _: 1.0, FIRST)
        with pytest.raises(AssertionError):
            assert_adds(lambda _: 1.0, FIRST, SECOND)

    def test_not_a_number_breaks_them(self) -> None:
        with pytest.raises(AssertionError):
            assert_scales(lambda _: float("nan"), FIRST)


@given(wrong_equations())
def test_the_fix_balances(equation: Equation) -> None:
    fix = nearest_fix(equation)
    if fix.endswith("missing)") or " meant, not " in fix or "coefficient" in fix:
        assert Equation.parse(fix[: fix.rindex(" (")]).residual() == {}
