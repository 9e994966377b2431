"""complete: the ion-electron method adds water, H+ or OH-, and electrons to half a reaction."""

from __future__ import annotations

import pytest

from redoxlib.errors import DomainError, ImpossibleError, NotUniqueError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import complete


@pytest.mark.parametrize(
    ("skeleton", "medium", "answer"),
    [
        ("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid", "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
        ("Cu + HNO3 -> Cu^2+ + NO", "acid", "3 Cu + 2 HNO3 + 6 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O"),
        ("Bi(OH)3 + SnO2^2- -> SnO3^2- + Bi", "base", "2 Bi(OH)3 + 3 SnO2^2- -> 2 Bi + 3 SnO3^2- + 3 H2O"),
        ("NO2 -> NO3^- + NO2^-", "base", "2 NO2 + 2 OH^- -> NO3^- + NO2^- + H2O"),
        ("Cr^3+ + ClO^- -> CrO4^2- + Cl^-", 12, "2 Cr^3+ + 3 ClO^- + 10 OH^- -> 2 CrO4^2- + 3 Cl^- + 5 H2O"),
        ("MnO4^- + Mn^2+ -> MnO2", "neutral", "2 MnO4^- + 3 Mn^2+ + 2 H2O -> 5 MnO2 + 4 H^+"),
        ("MnO4^- + SO3^2- -> MnO2 + SO4^2-", 7, "2 MnO4^- + 3 SO3^2- + H2O -> 2 MnO2 + 3 SO4^2- + 2 OH^-"),
        ("ClO^- + CN^- -> OCN^- + Cl^-", "base", "ClO^- + CN^- -> OCN^- + Cl^-"),
        (
            "MnO4^- + CH3OH -> HCOOH + Mn^2+",
            "acid",
            "4 MnO4^- + 5 CH3OH + 12 H^+ -> 5 HCOOH + 4 Mn^2+ + 11 H2O",
        ),
    ],
)
def test_textbook_skeletons_are_completed(skeleton: str, medium: str | float, answer: str) -> None:
    result = complete(skeleton, medium)
    assert result.equation == Equation.parse(answer)
    assert not result.half_reaction
    assert result.notes == ()


@pytest.mark.parametrize(
    ("skeleton", "medium", "answer"),
    [
        ("MnO4^- + H2O2 -> Mn^2+ + O2", "acid", "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"),
        (
            "Au + O2 + CN^- -> Au(CN)2^- + H2O2",
            "base",
            "2 Au + O2 + 4 CN^- + 2 H2O -> 2 Au(CN)2^- + H2O2 + 2 OH^-",
        ),
        ("O3 + I^- -> I2 + O2", "base", "O3 + 2 I^- + H2O -> I2 + O2 + 2 OH^-"),
    ],
)
def test_a_family_gives_the_ion_electron_choice(skeleton: str, medium: str, answer: str) -> None:
    result = complete(skeleton, medium)
    assert not result.unique
    assert result.equation == Equation.parse(answer) == result.choice
    assert len(result.members) > 1
    assert all(member.residual() == {} for member in result.members)


@pytest.mark.parametrize(
    ("skeleton", "medium", "answer"),
    [
        ("MnO4^- -> Mn^2+", "acid", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
        ("MnO4^- -> MnO2", "base", "MnO4^- + 2 H2O + 3 e^- -> MnO2 + 4 OH^-"),
        ("H2O -> O2", "acid", "2 H2O -> O2 + 4 H^+ + 4 e^-"),
        ("O2 -> H2O", "acid", "O2 + 4 H^+ + 4 e^- -> 2 H2O"),
        ("S2O3^2- -> SO3^2-", "base", "S2O3^2- + 6 OH^- -> 2 SO3^2- + 3 H2O + 4 e^-"),
    ],
)
def test_electrons_come_only_for_half_a_reaction_and_are_flagged(
    skeleton: str, medium: str, answer: str
) -> None:
    result = complete(skeleton, medium)
    assert result.equation == Equation.parse(answer)
    assert result.half_reaction
    assert any("half-reaction" in note for note in result.notes)


def test_typed_electrons_are_kept() -> None:
    result = complete("MnO4^- + e^- -> Mn^2+", "acid")
    assert result.equation == Equation.parse("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O")
    assert result.half_reaction


def test_typed_water_changes_sides_with_an_assumption() -> None:
    result = complete("O2 + As -> HAsO2 + H2O", "acid")
    assert result.equation == Equation.parse("3 O2 + 4 As + 2 H2O -> 4 HAsO2")
    assert [(a.read_as, a.other) for a in result.assumptions] == [("H2O on the left", "H2O on the right")]


def test_typed_water_that_is_not_needed_vanishes_with_an_assumption() -> None:
    result = complete("Fe^2+ + Ce^4+ + H2O -> Fe^3+ + Ce^3+", "acid")
    assert result.equation == Equation.parse("Fe^2+ + Ce^4+ -> Fe^3+ + Ce^3+")
    assert [a.read_as for a in result.assumptions] == ["H2O left out"]


def test_typed_hydronium_is_used_as_the_proton() -> None:
    result = complete("Zn + H3O^+ -> Zn^2+ + H2", "acid")
    assert result.equation == Equation.parse("Zn + 2 H3O^+ -> Zn^2+ + H2 + 2 H2O")


def test_typed_hydroxide_in_an_acid_medium_is_replaced_with_an_assumption() -> None:
    result = complete("MnO4^- + Fe^2+ + OH^- -> Mn^2+ + Fe^3+", "acid")
    assert result.equation == Equation.parse("MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O")
    assert any("OH^- left out" in a.read_as for a in result.assumptions)


def test_without_a_medium_typed_hydroxide_means_base() -> None:
    assert complete("Cl2 + OH^- -> Cl^- + ClO^-").equation == Equation.parse(
        "Cl2 + 2 OH^- -> Cl^- + ClO^- + H2O"
    )
    assert complete("Cr2O7^2- + Cl^- -> Cr^3+ + Cl2").equation == Equation.parse(
        "Cr2O7^2- + 6 Cl^- + 14 H^+ -> 2 Cr^3+ + 3 Cl2 + 7 H2O"
    )


def test_added_species_take_phases_when_phases_are_typed() -> None:
    result = complete("Fe^2+(aq) + MnO4^-(aq) -> Fe^3+(aq) + Mn^2+(aq)", "acid")
    assert str(result.equation) == (
        "5 Fe^2+(aq) + MnO4^-(aq) + 8 H^+(aq) -> 5 Fe^3+(aq) + Mn^2+(aq) + 4 H2O(l)"
    )


def test_other_species_are_never_added_or_moved() -> None:
    with pytest.raises(ImpossibleError, match="K occurs only on the left") as caught:
        complete("KMnO4 + H2O2 -> Mn^2+ + O2", "acid")
    (repair, *_) = caught.value.repairs
    assert repair.equation == Equation.parse("2 KMnO4 + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O + 2 K^+")


def test_error_when_the_choice_does_not_decide() -> None:
    with pytest.raises(NotUniqueError, match="pin a ratio"):
        _ = complete("Cu + NO3^- -> Cu^2+ + NO + NO2", "acid").equation


def test_species_that_balance_as_typed_need_no_additions() -> None:
    result = complete("IO3^- + HSO3^- -> HSO4^- + SO4^2- + H2O + I2", "acid")
    assert result.equation == Equation.parse("2 IO3^- + 5 HSO3^- -> 3 HSO4^- + 2 SO4^2- + H2O + I2")
    assert any("as typed balance in one way" in note for note in result.notes)


def test_nothing_but_carriers_is_balanced_as_it_stands() -> None:
    assert complete("H^+ + OH^- -> H2O").equation == Equation.parse("H^+ + OH^- -> H2O")


def test_typed_coefficients_are_ignored() -> None:
    result = complete("2 MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid")
    assert any("ignores typed coefficients" in a.why for a in result.assumptions)


@pytest.mark.parametrize("medium", ["acidic", "", 17, -3, True])
def test_error_when_the_medium_is_unknown(medium: str | float) -> None:
    with pytest.raises(DomainError, match="medium="):
        complete("MnO4^- -> Mn^2+", medium)
