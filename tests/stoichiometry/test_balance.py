"""balance: unique answers, families, members, options, what the result says about itself."""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest

from redoxlib.errors import DomainError, NotationError, NotUniqueError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance

PERMANGANATE = "KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O"


@pytest.mark.parametrize(
    ("skeleton", "answer"),
    [
        ("Fe + O2 -> Fe2O3", "4 Fe + 3 O2 -> 2 Fe2O3"),
        ("KMnO4 + HCl -> KCl + MnCl2 + Cl2 + H2O", "2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O"),
        (
            "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O",
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O",
        ),
        ("S2O3^2- + I2 -> S4O6^2- + I^-", "2 S2O3^2- + I2 -> S4O6^2- + 2 I^-"),
        ("Fe0.95O + O2 -> Fe2O3", "80 Fe0.95O + 17 O2 -> 38 Fe2O3"),
        ("Zn + HNO3 -> Zn(NO3)2 + NH4NO3 + H2O", "4 Zn + 10 HNO3 -> 4 Zn(NO3)2 + NH4NO3 + 3 H2O"),
        ("MnO4^- + H^+ + e^- -> Mn^2+ + H2O", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
        (
            # Stout, J. Chem. Educ. 72 (1995) 1125; Glaister, J. Chem. Educ. 74 (1997) 1368.
            "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O",
            "10 [Cr(N2H4CO)6]4[Cr(CN)6]3 + 1176 KMnO4 + 1399 H2SO4"
            " -> 35 K2Cr2O7 + 1176 MnSO4 + 420 CO2 + 660 KNO3 + 223 K2SO4 + 1879 H2O",
        ),
    ],
)
def test_unique_equations_get_their_smallest_whole_numbers(skeleton: str, answer: str) -> None:
    result = balance(skeleton)
    assert result.unique
    assert result.dimension == 1
    assert result.equation == Equation.parse(answer)
    assert result.members == (result.equation,)
    assert result.choice == result.equation
    assert result.equation.residual() == {}


def test_an_equation_object_is_taken_like_text() -> None:
    assert balance(Equation.parse("H2 + O2 -> H2O")).equation == Equation.parse("2 H2 + O2 -> 2 H2O")


def test_a_clear_equation_carries_no_assumption() -> None:
    result = balance("Cu + HNO3 -> Cu(NO3)2 + NO + H2O")
    assert result.assumptions == ()
    assert result.notes == ()
    assert result.remarks == ()


def test_typed_coefficients_are_ignored_and_the_result_says_so() -> None:
    result = balance("3 H2 + O2 -> H2O")
    assert result.equation == Equation.parse("2 H2 + O2 -> 2 H2O")
    assert any("ignores typed coefficients" in assumption.why for assumption in result.assumptions)


def test_phases_are_kept() -> None:
    assert str(balance("H2(g) + O2(g) -> H2O(l)").equation) == "2 H2(g) + O2(g) -> 2 H2O(l)"


def test_a_species_in_two_phases_is_two_species() -> None:
    assert balance("Br2(l) -> Br2(aq)").equation == Equation.parse("Br2(l) -> Br2(aq)")


def test_a_species_typed_on_both_sides_cancels_with_an_assumption() -> None:
    result = balance("H2O + Na -> NaOH + H2 + H2O")
    assert result.equation == Equation.parse("2 Na + 2 H2O -> 2 NaOH + H2")
    assert "H2O on one side only" in [assumption.read_as for assumption in result.assumptions]


def test_a_half_reaction_is_flagged() -> None:
    assert balance("Fe^2+ -> Fe^3+ + e^-").half_reaction
    assert not balance("Fe + O2 -> Fe2O3").half_reaction


class TestFamily:
    def test_the_equation_of_a_family_raises_with_members_and_choice(self) -> None:
        result = balance(PERMANGANATE)
        assert not result.unique
        assert result.dimension == 2
        with pytest.raises(NotUniqueError, match="2 independent equations balance") as caught:
            _ = result.equation
        assert tuple(caught.value.members) == result.members
        assert caught.value.choice == result.choice
        again = pickle.loads(pickle.dumps(caught.value))
        assert str(again) == str(caught.value)

    def test_members_are_elementary_and_may_leave_species_out(self) -> None:
        assert set(balance(PERMANGANATE).members) == {
            Equation.parse("2 H2O2 -> 2 H2O + O2"),
            Equation.parse("4 KMnO4 + 6 H2SO4 -> 4 MnSO4 + 2 K2SO4 + 5 O2 + 6 H2O"),
        }

    def test_three_members_of_a_larger_family(self) -> None:
        result = balance("C + O2 + H2O -> CO + CO2 + H2")
        assert result.dimension == 3
        assert all(member.residual() == {} for member in result.members)
        assert Equation.parse("2 C + O2 -> 2 CO") in result.members
        assert Equation.parse("C + H2O -> CO + H2") in result.members

    def test_a_result_prints_members_and_choice(self) -> None:
        text = str(balance(PERMANGANATE))
        assert text.startswith("2 independent equations\n  2 H2O2 -> O2 + 2 H2O")
        assert "choice: 2 KMnO4 + 5 H2O2 + 3 H2SO4 -> " in text

    def test_members_are_told_in_words(self) -> None:
        result = balance(PERMANGANATE)
        words = {str(member): result.describe(member) for member in result.members}
        assert words["2 H2O2 -> O2 + 2 H2O"] == (
            "H2O2 decomposes by itself, oxidising and reducing its own atoms (disproportionation); "
            "KMnO4, H2SO4, MnSO4 and K2SO4 take no part"
        )
        assert "H2O2 takes no part" in words["4 KMnO4 + 6 H2SO4 -> 4 MnSO4 + 2 K2SO4 + 5 O2 + 6 H2O"]

    def test_a_mixture_is_told_as_the_choice_and_what_also_happens(self) -> None:
        mixture = "2 KMnO4 + 7 H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 6 O2 + 10 H2O"
        said = balance(PERMANGANATE).describe(Equation.parse(mixture))
        assert said.startswith("the chosen equation, and H2O2 also decomposes by itself")

    def test_a_member_is_named_by_its_place_too(self) -> None:
        result = balance(PERMANGANATE)
        assert result.describe(0) == result.describe(result.members[0])

    def test_error_when_the_equation_to_describe_is_foreign_or_unbalanced(self) -> None:
        result = balance(PERMANGANATE)
        with pytest.raises(DomainError, match="species this family does not"):
            result.describe(Equation.parse("2 H2 + O2 -> 2 H2O"))
        with pytest.raises(DomainError, match="does not balance"):
            result.describe(Equation.parse("H2O2 -> H2O + O2"))


class TestOptions:
    def test_a_pinned_ratio_makes_the_answer_unique(self) -> None:
        result = balance(PERMANGANATE, ratio={"H2O2": 1, "KMnO4": 2})
        assert result.unique
        assert result.equation == Equation.parse("2 KMnO4 + H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 3 O2 + 4 H2O")
        assert result.notes == ("pinned: 1 H2O2 : 2 KMnO4",)

    def test_a_ratio_may_be_a_fraction(self) -> None:
        result = balance(PERMANGANATE, ratio={"H2O2": Fraction(5, 2), "KMnO4": 1})
        assert result.equation == balance(PERMANGANATE).choice

    def test_naming_the_origin_of_a_product_decides(self) -> None:
        result = balance(PERMANGANATE, origin={"O2": "H2O2"})
        assert result.equation == balance(PERMANGANATE).choice
        assert result.notes == ("O2 comes only from H2O2",)

    def test_a_forbidden_couple_changes_the_choice(self) -> None:
        free = balance("Cl2 + NaOH + H2O2 -> NaCl + O2 + H2O")
        assert free.choice == Equation.parse("Cl2 + 2 NaOH + H2O2 -> 2 NaCl + O2 + 2 H2O")
        barred = balance("Cl2 + NaOH + H2O2 -> NaCl + O2 + H2O", forbid=["H2O2/O2"])
        assert barred.choice != free.choice

    def test_error_when_a_ratio_contradicts_conservation(self) -> None:
        with pytest.raises(ValueError, match="not with the ratio"):
            balance("H2 + O2 -> H2O", ratio={"H2": 1, "O2": 1})

    def test_error_when_an_option_names_a_foreign_species(self) -> None:
        with pytest.raises(DomainError, match="is not in the equation"):
            balance(PERMANGANATE, ratio={"H2O2": 1, "NaCl": 2})
        with pytest.raises(DomainError, match="share no element"):
            balance("KI + Cl2 -> KCl + I2", origin={"I2": "Cl2"})

    def test_error_when_a_ratio_is_not_positive_or_names_one_species(self) -> None:
        with pytest.raises(DomainError, match="is not positive"):
            balance(PERMANGANATE, ratio={"H2O2": 0, "KMnO4": 2})
        with pytest.raises(DomainError, match="names 1 species"):
            balance(PERMANGANATE, ratio={"H2O2": 5})

    def test_error_when_a_couple_is_no_pair(self) -> None:
        with pytest.raises(DomainError, match="is not a pair"):
            balance(PERMANGANATE, forbid=["H2O2"])


def test_a_lost_charge_is_remarked_when_the_nonsense_balances() -> None:
    assert balance("S2O3^2- + I2 -> [S4O6] + I^-").remarks == ("[S4O6] has no charge: S4O6^2- meant?",)


def test_error_when_letters_stand_as_subscripts_points_to_the_right_verb() -> None:
    with pytest.raises(NotationError, match=r"balance_symbolic\(\) balances"):
        balance("CnH2n+2 + O2 -> CO2 + H2O")


def test_reading_a_text_again_gives_the_same_result() -> None:
    text = "K2Cr2O7 + FeSO4 + H2SO4 -> Cr2(SO4)3 + Fe2(SO4)3 + K2SO4 + H2O"
    first, second = balance(text), balance(text)
    assert first.equation == second.equation
    assert str(first.equation) == str(second.equation)
