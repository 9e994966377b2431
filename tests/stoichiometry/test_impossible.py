"""Impossible equations: a certificate a person can check, and repairs that balance."""

from __future__ import annotations

import pickle
from collections.abc import Mapping

import pytest

from redoxlib.errors import ImpossibleError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import Repair, balance, complete

IMPOSSIBLE = [
    "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+",
    "KMnO4 + HCl -> KCl + MnCl2 + H2O",
    "MnO4^- -> Mn^2+",
    "Cu + HNO3 -> Cu(NO3)2 + NO",
    "K2Cr2O7 + FeSO4 + H2SO4 -> Cr2(SO4)3 + Fe2(SO4)3 + H2O",
    "H2O2 + KI -> I2 + K2SO4 + H2O",
    "Fe + Cl2 -> FeCl3 + H2",
    "Cr2O7^2- + Cl^- + H2O -> Cr^3+ + Cl2 + H^+",
    "C2H5OH + O2 -> CO2",
    "Zn + HCl -> ZnCl2",
    "Fe^2+ + Fe^3+ -> Fe",
    "H2O -> H2",
    "Al + NaOH -> NaAlO2 + H2",
    "KMnO4 + H2C2O4 + H2SO4 -> MnSO4 + CO2 + H2O",
    "NH3 + O2 -> NO",
    "[MnO]^4- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O",
    "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + [Fe3] + H2O",
    "[SO4] + Ba^2+ -> BaSO4",
]


def _refusal(text: str) -> ImpossibleError:
    with pytest.raises(ImpossibleError) as caught:
        balance(text)
    return caught.value


def _weight(species: Species, weights: Mapping[str, int]) -> int:
    total = weights.get("charge", 0) * species.charge
    return total + sum(weights.get(symbol, 0) * int(count) for symbol, count in species.elements.items())


@pytest.mark.parametrize("text", IMPOSSIBLE)
def test_the_certificate_proves_it(text: str) -> None:
    error = _refusal(text)
    assert error.certificate
    equation = Equation.parse(text)
    left = [_weight(species, error.certificate) for _, species in equation.reactants]
    right = [_weight(species, error.certificate) for _, species in equation.products]
    assert min(left) >= 0
    assert max(right) <= 0
    assert any([*left, *right])


@pytest.mark.parametrize("text", IMPOSSIBLE)
def test_every_repair_really_balances(text: str) -> None:
    repairs = _refusal(text).repairs
    assert repairs
    for repair in repairs:
        assert isinstance(repair, Repair)
        assert repair.equation.residual() == {}
        assert repair.equation.reduced() == repair.equation


@pytest.mark.parametrize(
    ("text", "kind", "repaired"),
    [
        (IMPOSSIBLE[0], "add", "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
        (IMPOSSIBLE[1], "add", "2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O"),
        (IMPOSSIBLE[2], "half-reaction", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
        (IMPOSSIBLE[3], "add", "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O"),
        (IMPOSSIBLE[4], "add", "K2Cr2O7 + 6 FeSO4 + 7 H2SO4 -> Cr2(SO4)3 + 3 Fe2(SO4)3 + 7 H2O + K2SO4"),
        (IMPOSSIBLE[5], "add", "H2O2 + 2 KI + H2SO4 -> I2 + K2SO4 + 2 H2O"),
        (IMPOSSIBLE[6], "remove", "2 Fe + 3 Cl2 -> 2 FeCl3"),
        (IMPOSSIBLE[7], "move", "Cr2O7^2- + 6 Cl^- + 14 H^+ -> 2 Cr^3+ + 3 Cl2 + 7 H2O"),
        (IMPOSSIBLE[8], "add", "C2H5OH + 3 O2 -> 2 CO2 + 3 H2O"),
        (IMPOSSIBLE[9], "add", "Zn + 2 HCl -> ZnCl2 + H2"),
        (IMPOSSIBLE[10], "move", "3 Fe^2+ -> Fe + 2 Fe^3+"),
        (IMPOSSIBLE[12], "add", "2 Al + 2 NaOH + 2 H2O -> 2 NaAlO2 + 3 H2"),
        (IMPOSSIBLE[13], "add", "2 KMnO4 + 5 H2C2O4 + 3 H2SO4 -> 2 MnSO4 + 10 CO2 + 8 H2O + K2SO4"),
        (IMPOSSIBLE[15], "replace", "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
        (IMPOSSIBLE[16], "replace", "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
        (IMPOSSIBLE[17], "replace", "SO4^2- + Ba^2+ -> BaSO4"),
    ],
)
def test_the_first_repair_is_the_likeliest(text: str, kind: str, repaired: str) -> None:
    first = _refusal(text).repairs[0]
    assert first.kind == kind
    assert first.equation == Equation.parse(repaired)


def test_an_element_on_one_side_is_named() -> None:
    error = _refusal("H2O2 + KI -> I2 + K2SO4 + H2O")
    assert error.reason == "S occurs only on the right, in K2SO4"
    assert error.certificate == {"S": -1}
    assert str(error).startswith("cannot balance H2O2 + KI -> I2 + K2SO4 + H2O: S occurs only on the right")


def test_charge_alone_can_forbid_it() -> None:
    error = _refusal("Fe^2+ + Fe^3+ -> Fe")
    assert error.certificate == {"charge": 1}
    assert "the left stays more positive than the right" in error.reason


def test_a_half_reaction_is_called_one() -> None:
    assert "this is a half-reaction: electrons are missing" in _refusal("MnO4^- -> Mn^2+").reason


def test_swapped_subscript_and_superscript_are_suspected_aloud() -> None:
    error = _refusal("[MnO]^4- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O")
    assert "MnO4^- meant?" in error.reason


def test_a_basic_medium_is_offered_beside_the_acid_one() -> None:
    equations = [repair.equation for repair in _refusal("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+").repairs]
    assert Equation.parse("MnO4^- + 5 Fe^2+ + 4 H2O -> Mn^2+ + 5 Fe^3+ + 8 OH^-") in equations


def test_complete_keeps_its_medium_in_the_repair() -> None:
    with pytest.raises(ImpossibleError) as caught:
        complete("KMnO4 + FeSO4 -> Mn^2+ + Fe^3+ + SO4^2-", "acid")
    assert Equation.parse("KMnO4 + 5 FeSO4 + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 5 SO4^2- + 4 H2O + K^+") in [
        repair.equation for repair in caught.value.repairs
    ]


def test_the_error_survives_pickling() -> None:
    error = _refusal("Cu + HNO3 -> Cu(NO3)2 + NO")
    again = pickle.loads(pickle.dumps(error))
    assert str(again) == str(error)
    assert again.certificate == error.certificate
    assert again.repairs == error.repairs


def test_it_is_a_value_error_too() -> None:
    with pytest.raises(ValueError, match="occurs only on the left"):
        balance("Cu + HNO3 -> Cu(NO3)2 + NO")
