"""check: an equation judged as written."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import check
from redoxlib.stoichiometry._check import implausible, lost_charge


def test_a_balanced_equation_has_no_residual_and_no_remark() -> None:
    result = check("2 H2 + O2 -> 2 H2O")
    assert result.balanced
    assert result.residual == {}
    assert result.lowest_terms
    assert result.remarks == ()
    assert result.equation == Equation.parse("2 H2 + O2 -> 2 H2O")


def test_the_residual_says_which_element_is_off_by_how_much() -> None:
    result = check("MnO4^- + 5 Fe^2+ + 6 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O")
    assert not result.balanced
    assert result.residual == {"H": Fraction(-2), "charge": Fraction(-2)}
    assert str(result).startswith("not balanced: ")


def test_charge_alone_may_be_off() -> None:
    assert check("Fe^2+ + Ag^+ -> Fe^3+ + Ag").balanced
    assert check("Fe + Ag^+ -> Fe^3+ + Ag").residual == {"charge": Fraction(-2)}


def test_a_common_divisor_is_named_with_the_reduced_equation() -> None:
    result = check("4 H2 + 2 O2 -> 4 H2O")
    assert result.balanced
    assert not result.lowest_terms
    assert result.remarks == ("not in lowest terms: divide by 2 to get 2 H2 + O2 -> 2 H2O",)


def test_fractions_are_allowed_and_remarked() -> None:
    result = check("H2 + 1/2 O2 -> H2O")
    assert result.balanced
    assert not result.lowest_terms
    assert result.remarks == ("fractional coefficients: in whole numbers 2 H2 + O2 -> 2 H2O",)


def test_a_species_on_both_sides_is_remarked() -> None:
    result = check("2 H2 + O2 + H2O -> 3 H2O")
    assert result.balanced
    assert "H2O stands on both sides: cancel it" in result.remarks


def test_a_species_typed_twice_on_one_side_is_remarked() -> None:
    assert "H2 stands twice on the left" in check("H2 + H2 + O2 -> 2 H2O").remarks


def test_a_spectator_left_in_is_remarked() -> None:
    result = check("Ag^+ + Cl^- + Na^+ -> AgCl + Na^+")
    assert "Na^+ is a spectator: 1 on each side" in result.remarks
    mixed = check("KMnO4 + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O + K^+")
    assert mixed.balanced
    assert any("K^+ is a spectator" in remark for remark in mixed.remarks)


def test_a_full_equation_is_not_told_off_for_its_spectators() -> None:
    assert check("2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O").remarks == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[MnO]^4- + Fe^2+ -> Mn^2+ + Fe^3+", "Mn would be -2 beside oxygen at -2"),
        ("[Na]^3+ + Cl^- -> NaCl", "Na would be +3, which is not known"),
        ("[Fe]^3- + Cl^- -> FeCl3", "a bare negative ion of Fe"),
    ],
)
def test_an_implausible_oxidation_number_is_remarked(text: str, words: str) -> None:
    assert any("implausible" in remark and words in remark for remark in check(text).remarks)


def test_electrons_make_it_a_half_reaction() -> None:
    result = check("Fe^2+ -> Fe^3+ + e^-")
    assert result.balanced
    assert result.remarks == ("electrons stand in it: a half-reaction",)


@pytest.mark.parametrize(
    "formula",
    ["MnO4^-", "S2O3^2-", "H2O2", "CrO5", "Fe3O4", "S4O6^2-", "KO2", "NH4NO3", "HClO", "OF2", "N3^-",
    "Ni(CO)4",
     "K4Fe(CN)6", "CH3COOH", "C2H5OH", "H2S", "NaH", "LiAlH4", "PH3", "CaC2", "SO2", "NO2", "SO3", "ClO2",
     "MnO2"],
)  # fmt: skip
def test_ordinary_species_raise_no_doubt(formula: str) -> None:
    species = Species.parse(formula)
    assert implausible(species) is None
    assert lost_charge(species) is None


@pytest.mark.parametrize("formula", ["[SO4]", "[MnO4]", "[Cr2O7]", "[PO4]", "[S2O8]", "[IO3]"])
def test_an_ion_without_its_charge_is_doubted(formula: str) -> None:
    said = lost_charge(Species.parse(formula))
    assert said is not None
    assert "has no charge" in said
