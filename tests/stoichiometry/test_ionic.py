"""dissolve and with_counter_ions: full, ionic and net ionic equations, there and back."""

from __future__ import annotations

import pytest

from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import dissolve, salt_of, soluble, with_counter_ions


@pytest.mark.parametrize(
    ("full", "net"),
    [
        ("AgNO3 + NaCl -> AgCl + NaNO3", "Ag^+ + Cl^- -> AgCl"),
        ("BaCl2 + Na2SO4 -> BaSO4 + 2 NaCl", "Ba^2+ + SO4^2- -> BaSO4"),
        ("HCl + NaOH -> NaCl + H2O", "H^+ + OH^- -> H2O"),
        ("CH3COOH + NaOH -> CH3COONa + H2O", "CH3COOH + OH^- -> CH3COO^- + H2O"),
        ("3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O", "3 Cu + 8 H^+ + 2 NO3^- -> 3 Cu^2+ + 2 NO + 4 H2O"),
        (
            "2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O",
            "2 MnO4^- + 16 H^+ + 10 Cl^- -> 2 Mn^2+ + 5 Cl2 + 8 H2O",
        ),
        ("FeS(s) + 2 HCl(aq) -> FeCl2(aq) + H2S(g)", "FeS(s) + 2 H^+(aq) -> Fe^2+(aq) + H2S(g)"),
        ("Ca(ClO)2 + 4 HCl -> CaCl2 + 2 Cl2 + 2 H2O", "ClO^- + 2 H^+ + Cl^- -> Cl2 + H2O"),
    ],
)
def test_net_ionic_equations(full: str, net: str) -> None:
    result = dissolve(full)
    assert result.net == Equation.parse(net)
    assert result.ionic.residual() == {}


def test_spectators_and_what_stays_whole_are_named() -> None:
    result = dissolve("AgNO3 + NaCl -> AgCl + NaNO3")
    assert {str(ion) for _, ion in result.spectators} == {"Na^+", "NO3^-"}
    assert result.remarks == ("AgCl left whole: hardly soluble",)
    assert "weak acid" in dissolve("HF + NaOH -> NaF + H2O").remarks[0]


def test_no_reaction_has_no_net_equation() -> None:
    result = dissolve("NaCl + KNO3 -> NaNO3 + KCl")
    assert result.net is None
    assert "net:   no reaction" in str(result)


def test_a_typed_phase_beats_the_rules() -> None:
    assert dissolve("AgCl(aq) + NaBr(aq) -> AgBr(s) + NaCl(aq)").net == Equation.parse(
        "Ag^+(aq) + Br^-(aq) -> AgBr(s)"
    )
    assert dissolve("NaCl(s) + H2SO4(l) -> NaHSO4(s) + HCl(g)").net == Equation.parse(
        "NaCl(s) + H2SO4(l) -> NaHSO4(s) + HCl(g)"
    )


@pytest.mark.parametrize(
    ("cation", "anion", "dissolves"),
    [
        ("Na^+", "CO3^2-", True), ("Ca^2+", "CO3^2-", False), ("Ag^+", "NO3^-", True),
        ("Ag^+", "Cl^-", False),
        ("Pb^2+", "SO4^2-", False), ("Fe^2+", "SO4^2-", True), ("Fe^3+", "OH^-", False),
        ("Ba^2+", "OH^-", True),
        ("Cu^2+", "S^2-", False), ("NH4^+", "S^2-", True), ("Hg^2+", "I^-", False),
        ("Zn^2+", "Fe(CN)6^4-", False),
    ],
)  # fmt: skip
def test_solubility_rules(cation: str, anion: str, dissolves: bool) -> None:
    assert soluble(Species.parse(cation), Species.parse(anion)) is dissolves


@pytest.mark.parametrize(
    ("cation", "anion", "salt"),
    [
        ("Fe^3+", "SO4^2-", "Fe2(SO4)3"), ("K^+", "MnO4^-", "KMnO4"), ("Ca^2+", "ClO^-", "Ca(ClO)2"),
        ("H^+", "SO4^2-", "H2SO4"), ("NH4^+", "SO4^2-", "(NH4)2SO4"),
        ("Fe^3+", "Fe(CN)6^4-", "Fe4[Fe(CN)6]3"),
        ("Na^+", "CH3COO^-", "CH3COONa"), ("H^+", "OH^-", "H2O"), ("Al^3+", "Cl^-", "AlCl3"),
    ],
)  # fmt: skip
def test_salts_are_spelled_from_their_ions(cation: str, anion: str, salt: str) -> None:
    assert salt_of(Species.parse(cation), Species.parse(anion)) == Species.parse(salt)


def test_error_when_two_cations_are_to_make_a_salt() -> None:
    with pytest.raises(DomainError, match="do not make a salt"):
        salt_of(Species.parse("K^+"), Species.parse("Na^+"))


@pytest.mark.parametrize(
    ("net", "cation", "anion", "full"),
    [
        (
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O",
            "K^+",
            "SO4^2-",
            "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> 2 MnSO4 + 5 Fe2(SO4)3 + K2SO4 + 8 H2O",
        ),
        (
            "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O",
            "K^+",
            "SO4^2-",
            "2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + 5 O2 + 8 H2O + K2SO4",
        ),
        (
            "3 Cu + 2 NO3^- + 8 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O",
            "H^+",
            "NO3^-",
            "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O",
        ),
        ("ClO^- + 2 Br^- + 2 H^+ -> Cl^- + Br2 + H2O", "Na^+", "SO4^2-",
         "NaClO + 2 NaBr + H2SO4 -> NaCl + Br2 + H2O + Na2SO4"),
        ("Cu + H2O2 + 2 H^+ -> Cu^2+ + 2 H2O", "K^+", "SO4^2-", "Cu + H2O2 + H2SO4 -> CuSO4 + 2 H2O"),
        ("ClO^- + CN^- -> Cl^- + OCN^-", "Na^+", "SO4^2-", "NaClO + NaCN -> NaCl + NaOCN"),
    ],
)  # fmt: skip
def test_net_equations_are_clothed_with_counter_ions(net: str, cation: str, anion: str, full: str) -> None:
    result = with_counter_ions(net, cation=cation, anion=anion)
    assert result == Equation.parse(full)


def test_counter_ions_may_be_chosen_ion_by_ion() -> None:
    result = with_counter_ions(
        "Cr2O7^2- + 6 Br^- + 14 H^+ -> 2 Cr^3+ + 3 Br2 + 7 H2O", cation={"Br^-": "Na^+", "*": "K^+"}
    )
    assert result == Equation.parse(
        "K2Cr2O7 + 6 NaBr + 7 H2SO4 -> Cr2(SO4)3 + 3 Br2 + 7 H2O + K2SO4 + 3 Na2SO4"
    )


def test_clothing_and_undressing_are_inverse() -> None:
    net = Equation.parse("2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O")
    assert dissolve(with_counter_ions(net)).net == net


def test_error_when_there_is_nothing_to_clothe() -> None:
    with pytest.raises(DomainError, match="does not balance"):
        with_counter_ions("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+")
    with pytest.raises(DomainError, match="half-reaction has no full equation"):
        with_counter_ions("Fe^2+ -> Fe^3+ + e^-")
    with pytest.raises(DomainError, match="no counter-ion was given for Fe"):
        with_counter_ions("2 Fe^3+ + 2 I^- -> 2 Fe^2+ + I2", anion={"H^+": "Cl^-"})
