"""The accepted equation of a family: electrons pass only between the named couples."""

from __future__ import annotations

import pytest

from redoxlib.notation import Equation
from redoxlib.stoichiometry import balance

# Accepted stoichiometry as analytical and general chemistry textbooks print it (Vogel, Quantitative
# Chemical Analysis; Greenwood and Earnshaw, Chemistry of the Elements); recalled, checked here only
# for conservation and for being what electron book-keeping gives.
ACCEPTED = [
    "2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 5 O2 + 8 H2O",
    "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O",
    "2 KClO3 + 4 HCl -> 2 KCl + Cl2 + 2 ClO2 + 2 H2O",
    "2 KMnO4 + 5 H2S + 3 H2SO4 -> K2SO4 + 2 MnSO4 + 5 S + 8 H2O",
    "O3 + 2 KI + H2O -> 2 KOH + I2 + O2",
    "4 O3 + PbS -> PbSO4 + 4 O2",
    "O3 + NO -> NO2 + O2",
    "O3 + H2O2 -> H2O + 2 O2",
    "2 Fe^2+ + O3 + 5 H2O -> 2 Fe(OH)3 + O2 + 4 H^+",
    "NaClO + H2O2 -> NaCl + O2 + H2O",
    "Ca(ClO)2 + 2 H2O2 -> CaCl2 + 2 O2 + 2 H2O",
    "HSO5^- + H2O2 -> HSO4^- + O2 + H2O",
    "CH3COOOH + H2O2 -> CH3COOH + O2 + H2O",
    "5 CH3COOOH + 2 KMnO4 + 3 H2SO4 -> 5 CH3COOH + 5 O2 + 2 MnSO4 + K2SO4 + 3 H2O",
    "2 Au + O2 + 4 CN^- + 2 H2O -> 2 Au(CN)2^- + H2O2 + 2 OH^-",
    "Cr2O7^2- + 3 H2O2 + 8 H^+ -> 2 Cr^3+ + 3 O2 + 7 H2O",
    "Ag2O + H2O2 -> 2 Ag + O2 + H2O",
    "MnO2 + H2O2 + H2SO4 -> MnSO4 + O2 + 2 H2O",
    "2 ClO2 + H2O2 + 2 OH^- -> 2 ClO2^- + O2 + 2 H2O",
    "2 NaClO2 + 2 HCl + NaClO -> 2 ClO2 + 3 NaCl + H2O",
    "5 Na2O2 + 2 KMnO4 + 8 H2SO4 -> 5 Na2SO4 + 2 MnSO4 + K2SO4 + 5 O2 + 8 H2O",
    "2 BrO3^- + 5 H2O2 + 2 H^+ -> Br2 + 5 O2 + 6 H2O",
    "2 K3Fe(CN)6 + H2O2 + 2 KOH -> 2 K4Fe(CN)6 + O2 + 2 H2O",
    "2 HClO2 + HClO -> 2 ClO2 + HCl + H2O",
]


@pytest.mark.parametrize("accepted", ACCEPTED)
def test_electron_book_keeping_gives_the_accepted_equation(accepted: str) -> None:
    wanted = Equation.parse(accepted)
    assert wanted.residual() == {}
    skeleton = Equation(
        tuple((1, species) for _, species in wanted.reactants),
        tuple((1, species) for _, species in wanted.products),
    )
    result = balance(skeleton)
    assert result.choice == wanted


def test_most_of_these_are_really_families() -> None:
    sizes = [balance(Equation.parse(text)).dimension for text in ACCEPTED]
    assert sum(size > 1 for size in sizes) >= 20


def test_the_choice_is_usually_a_sum_of_members() -> None:
    result = balance("KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O")
    assert result.choice not in result.members


def test_the_reason_names_both_couples() -> None:
    reason = balance("KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O").choice_reason
    assert reason == (
        "electrons pass only from H2O2 -> O2 (O -1 -> 0) to KMnO4 -> MnSO4 (Mn +7 -> +2); "
        "no atom changes in another way"
    )


@pytest.mark.parametrize(
    ("skeleton", "because"),
    [
        ("Cu + HNO3 -> Cu(NO3)2 + NO + NO2 + H2O", "2 reductions and 1 oxidations"),
        ("C + O2 -> CO + CO2", "electrons alone do not fix"),
        ("Cl2 + OH^- -> Cl^- + ClO^- + ClO3^- + H2O", "electrons alone do not fix"),
        ("H2SO4 + NaOH -> NaHSO4 + Na2SO4 + H2O", "no oxidation number changes"),
    ],
)
def test_there_is_no_choice_where_electrons_do_not_decide(skeleton: str, because: str) -> None:
    result = balance(skeleton)
    assert result.dimension > 1
    assert result.choice is None
    assert because in result.choice_reason


def test_transitions_of_the_choice_are_exposed() -> None:
    result = balance("NaClO + H2O2 -> NaCl + O2 + H2O")
    changes = {(t.element, int(t.start), int(t.end), t.is_oxidation) for t in result.transitions}
    assert changes == {("O", -1, 0, True), ("Cl", 1, -1, False)}


def test_transitions_of_a_unique_equation_are_found_too() -> None:
    result = balance("KMnO4 + HCl -> KCl + MnCl2 + Cl2 + H2O")
    assert {(t.element, int(t.electrons_per_atom)) for t in result.transitions} == {("Mn", 5), ("Cl", -1)}


def test_the_way_out_is_named_once() -> None:
    """Where electrons do not decide, the hint tells once what would."""
    from redoxlib.errors import NotUniqueError

    with pytest.raises(NotUniqueError) as told:
        _ = balance("C2H4 + C2H6 + O2 -> CO2 + H2O").equation
    assert told.value.hint is not None
    assert told.value.hint.count("pin a ratio") == 1
