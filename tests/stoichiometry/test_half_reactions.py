"""half_reactions and steps: the couples of an equation, and the account for a class."""

from __future__ import annotations

import re

import pytest

from redoxlib.errors import DomainError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import complete, half_reactions, steps


@pytest.mark.parametrize(
    ("equation", "oxidation", "reduction", "electrons"),
    [
        (
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O",
            "Fe^2+ -> Fe^3+ + e^-",
            "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O",
            5,
        ),
        (
            "KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O",
            "H2O2 -> O2 + 2 H^+ + 2 e^-",
            "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O",
            10,
        ),
        ("Cu + HNO3 -> Cu(NO3)2 + NO + H2O", "Cu -> Cu^2+ + 2 e^-", "NO3^- + 4 H^+ + 3 e^- -> NO + 2 H2O", 6),
        (
            "IO3^- + I^- + H^+ -> I2 + H2O",
            "2 I^- -> I2 + 2 e^-",
            "2 IO3^- + 12 H^+ + 10 e^- -> I2 + 6 H2O",
            5,
        ),
        (
            "Pb + PbO2 + H2SO4 -> PbSO4 + H2O",
            "Pb + SO4^2- -> PbSO4 + 2 e^-",
            "PbO2 + SO4^2- + 4 H^+ + 2 e^- -> PbSO4 + 2 H2O",
            2,
        ),
        (
            "Au + O2 + CN^- + H2O -> Au(CN)2^- + H2O2 + OH^-",
            "Au + 2 CN^- -> Au(CN)2^- + e^-",
            "O2 + 2 H2O + 2 e^- -> H2O2 + 2 OH^-",
            2,
        ),
        ("O3 + I^- + H2O -> I2 + O2 + OH^-", "2 I^- -> I2 + 2 e^-", "O3 + H2O + 2 e^- -> O2 + 2 OH^-", 2),
        ("H2O2 -> H2O + O2", "H2O2 -> O2 + 2 H^+ + 2 e^-", "H2O2 + 2 H^+ + 2 e^- -> 2 H2O", 2),
        ("2 H2 + O2 -> 2 H2O", "H2 -> 2 H^+ + 2 e^-", "O2 + 4 H^+ + 4 e^- -> 2 H2O", 4),
        (
            "FeS2 + O2 -> Fe2O3 + SO2",
            "2 FeS2 + 11 H2O -> Fe2O3 + 4 SO2 + 22 H^+ + 22 e^-",
            "O2 + 4 H^+ + 4 e^- -> 2 H2O",
            44,
        ),
        (
            "HSO5^- + Br^- + H^+ -> SO4^2- + Br2 + H2O",
            "2 Br^- -> Br2 + 2 e^-",
            "HSO5^- + H^+ + 2 e^- -> SO4^2- + H2O",
            2,
        ),
    ],
)
def test_couples_and_electrons(equation: str, oxidation: str, reduction: str, electrons: int) -> None:
    found = half_reactions(equation)
    assert [half.equation for half in found.oxidation] == [Equation.parse(oxidation)]
    assert [half.equation for half in found.reduction] == [Equation.parse(reduction)]
    assert found.electrons == electrons
    for half in found:
        assert half.equation.residual() == {}
        assert half.equation.reduced() == half.equation


def test_the_halves_add_up_to_the_net_equation() -> None:
    found = half_reactions("KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O")
    passed = {half.is_oxidation: half.electrons * half.times for half in found}
    assert passed == {True: 10, False: 10}


def test_couples_are_named_oxidised_over_reduced() -> None:
    found = half_reactions("MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O")
    assert [half.couple for half in found.oxidation] == ["Fe^3+/Fe^2+"]
    assert [half.couple for half in found.reduction] == ["MnO4^-/Mn^2+"]


def test_two_reductions_are_two_couples() -> None:
    found = half_reactions("4 Cu + 12 HNO3 -> 4 Cu(NO3)2 + 2 NO + 2 NO2 + 6 H2O")
    assert {half.couple for half in found.reduction} == {"NO3^-/NO", "NO3^-/NO2"}
    assert found.electrons == 4  # in the net equation, which is reduced


def test_disproportionation_uses_one_substance_twice() -> None:
    found = half_reactions("Cl2 + OH^- -> Cl^- + ClO^- + H2O")
    assert [half.couple for half in found] == ["ClO^-/Cl2", "Cl2/Cl^-"]


def test_an_unbalanced_skeleton_is_completed_first() -> None:
    found = half_reactions("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+")
    assert found.net == complete("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+").equation


def test_the_medium_can_be_asked_for() -> None:
    found = half_reactions("ClO^- + CN^- -> OCN^- + Cl^-", "base")
    assert found.oxidation[0].equation == Equation.parse("CN^- + 2 OH^- -> OCN^- + H2O + 2 e^-")


@pytest.mark.parametrize(
    ("equation", "electrons"),
    [
        ("MnO2 + 2 Cl^- + 4 H3O^+ -> Mn^2+ + Cl2 + 6 H2O", 2),
        ("2 IO3^- + 5 HSO3^- -> 3 HSO4^- + 2 SO4^2- + H2O + I2", 10),
        ("XeF6 + 3 H2 -> 6 HF + Xe", 6),
        ("4 Co(NO3)2 -> 2 Co2O3 + 8 NO2 + O2", 8),
        ("3 I2 + 6 KOH -> 5 KI + KIO3 + 3 H2O", 5),
        ("S2O3^2- + 6 OH^- -> 2 SO3^2- + 3 H2O + 4 e^-", 4),
        ("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O", 5),
    ],
)
def test_electrons_are_counted_for_the_net_equation(equation: str, electrons: int) -> None:
    assert half_reactions(equation).electrons == electrons


def test_error_when_no_electrons_pass() -> None:
    with pytest.raises(DomainError, match="no electrons pass"):
        half_reactions("HCl + NaOH -> NaCl + H2O")


class TestSteps:
    def test_acid_account_ends_in_the_balanced_equation(self) -> None:
        account = steps("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid")
        assert account.equation == complete("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid").equation
        titles = [step.title for step in account]
        assert titles[0] == "Find what is oxidised and what is reduced"
        assert "Balance O with water" in titles
        assert "Multiply so that the electrons cancel" in titles
        assert titles[-1] == "Check"

    def test_base_account_neutralises_the_protons(self) -> None:
        account = steps("MnO4^- + SO3^2- -> MnO2 + SO4^2-", "base")
        turn = next(step for step in account if step.title == "Turn to the basic medium")
        assert "Add 2 OH^- to both sides" in turn.text
        assert account.equation == Equation.parse("2 MnO4^- + 3 SO3^2- + H2O -> 2 MnO2 + 3 SO4^2- + 2 OH^-")

    def test_half_a_reaction_has_no_second_half(self) -> None:
        account = steps("Cr2O7^2- -> Cr^3+", "acid")
        assert "Multiply so that the electrons cancel" not in [step.title for step in account]
        assert account.equation == Equation.parse("Cr2O7^2- + 14 H^+ + 6 e^- -> 2 Cr^3+ + 7 H2O")

    def test_half_a_reaction_in_base(self) -> None:
        account = steps("MnO4^- -> MnO2", "base")
        assert account.equation == Equation.parse("MnO4^- + 2 H2O + 3 e^- -> MnO2 + 4 OH^-")

    def test_it_prints_plain_markdown_and_latex(self) -> None:
        account = steps("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid")
        assert str(account) == account.plain()
        assert "MnO₄⁻ + 8 H⁺ + 5 e⁻ → Mn²⁺ + 4 H₂O" in account.plain()
        assert account.markdown().startswith("1. **Find what is oxidised")
        tex = account.latex()
        assert tex.startswith("\\begin{enumerate}")
        assert tex.endswith("\\end{enumerate}")
        assert tex.count("{") == tex.count("}")
        assert "\\ce{MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O}" in tex
        outside = re.sub(r"\\ce\{[^{}]*\}", "", tex)
        assert "^" not in outside

    def test_a_family_is_told_by_its_choice(self) -> None:
        account = steps("MnO4^- + H2O2 -> Mn^2+ + O2", "acid")
        assert account.equation == Equation.parse("2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O")
        assert any("MnO4^-/Mn^2+ times 2" in step.text for step in account)
