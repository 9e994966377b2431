"""Oxidation numbers: exact, by site, with averages and remarks.

Assignments follow P. Karen, P. McArdle, J. Takats, Pure Appl. Chem. 88 (2016) 831 and 86 (2014) 1017 for
S2O3^2-, S4O6^2-, S2O8^2-, N2O, SCN^- and I3^-; the rest are those of general and inorganic textbooks
(OpenStax, Chemistry 2e; Greenwood and Earnshaw, Chemistry of the Elements; Housecroft and Sharpe,
Inorganic Chemistry).  Recalled, not re-read.
"""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest

from redoxlib.errors import DomainError
from redoxlib.notation import Species
from redoxlib.stoichiometry import oxidation_numbers, plausible

AVERAGES = """
O3 O 0|S8 S 0|OH^- O -2|OH^- H 1|LiAlH4 H -1|LiAlH4 Al 3|ClO2^- Cl 3|Cl2O Cl 1|BrO3^- Br 5|IO3^- I 5|H5IO6 I 7
MnO2 Mn 4|Mn2O3 Mn 3|CrO3 Cr 6|HCrO4^- Cr 6|Cr2O3 Cr 3|FeO4^2- Fe 6|Fe2O3 Fe 3|VO2^+ V 5|CeO2 Ce 4|NO2^- N 3
NO N 2|NH4^+ N -3|N2H4 N -2|NH2Cl N -3|NH2Cl Cl 1|SO2 S 4|SO3^2- S 4|S2O4^2- S 3|CO2 C 4|CO C 2|HCO3^- C 4
CH4 C -4|AsO4^3- As 5|Fe(CN)6^3- Fe 3|Fe(CN)6^4- Fe 2|BaO2 O -1|KO3 O -1/3|HOF O 0|S2O3^2- S 2|S4O6^2- S 5/2
S3O6^2- S 10/3|S5O6^2- S 2|S2O8^2- S 6|S2O8^2- O -7/4|Mn3O4 Mn 8/3|N2O N 1|N2O3 N 3|NH4NO3 N 1|CN^- C 2
CN^- N -3|SCN^- C 4|SCN^- S -2|SCN^- N -3|C2N2 C 3|HCN C 2|CaC2 C -1|CaC2 Ca 2|C2H2 C -1|C2H5OH C -2
CH3COOH C 0|C6H6 C -1|C6H12O6 C 0|C3H8O C -2|C3H6O C -4/3|C6H5CH2OH C -6/7|C6H5CHO C -4/7|PH3 P -3|AsH3 As -3
BrCl Br 1|BrCl Cl -1|ICl3 I 3|BrF5 Br 5|I3^- I -1/3|Br3^- Br -1/3|XeO3 Xe 6|OsO4 Os 8|Na2Fe(CO)4 Fe -2
Fe2(SO4)3 Fe 3|K2FeO4 Fe 6|Hg2^2+ Hg 1|Hg2Cl2 Hg 1|KI3 I -1/3|NO^+ N 3|HNO N 1|H3PO3 P 3|H3PO2 P 1
CuFeS2 Fe 3|YBa2Cu3O7 Cu 7/3|KO2 O -1/2|OF2 O 2|H2O2 O -1|N3^- N -1/3|Fe3O4 Fe 8/3|CrO5 Cr 6|HSO5^- S 6
Ni(CO)4 Ni 0|Fe(CO)5 Fe 0|[Co(NH3)6]Cl3 Co 3|Cu(NH3)4^2+ Cu 2|Fe(SCN)3 Fe 3|FeCr2O4 Cr 3|FeTiO3 Ti 4
NaH H -1|B2H6 B 3|BH4^- H -1|SiH4 Si 4|NH2OH N -1|S2Cl2 S 1|SOCl2 S 4|POCl3 P 5|CHCl3 C 2|CCl4 C 4|CS2 C 4
As4S4 As 2|UO2^2+ U 6|Cl2O7 Cl 7|H2C2O4 C 3|CO(NH2)2 C 4|CH3NO2 N 3|Fe0.95O Fe 40/19|K2Cr2O7 Cr 6
2KHSO5.KHSO4.K2SO4 S 6|CuSO4.5H2O Cu 2|(NH4)2Fe(SO4)2.6H2O Fe 2|(NH4)2Ce(NO3)6 Ce 4|Pb3O4 Pb 8/3
H3PO5 P 5|HNO4 N 5|H2SO5 S 6|CH3COOOH C 0|NaBiO3 Bi 5|Na2S4O6 S 5/2|Fe4[Fe(CN)6]3 Fe 18/7
"""


@pytest.mark.parametrize("row", AVERAGES.replace("\n", "|").strip("|").split("|"))
def test_averages_agree_with_the_textbooks(row: str) -> None:
    formula, symbol, average = row.split()
    numbers = oxidation_numbers(formula)
    assert numbers.average[symbol] == Fraction(average)
    assert numbers[symbol].average == Fraction(average)


@pytest.mark.parametrize(
    ("formula", "symbol", "sites"),
    [
        ("S2O3^2-", "S", ((5, 1), (-1, 1))),
        ("S4O6^2-", "S", ((5, 2), (0, 2))),
        ("S3O6^2-", "S", ((5, 2), (0, 1))),
        ("Fe3O4", "Fe", ((3, 2), (2, 1))),
        ("Pb3O4", "Pb", ((4, 1), (2, 2))),
        ("N3^-", "N", ((1, 1), (-1, 2))),
        ("N2O", "N", ((2, 1), (0, 1))),
        ("CrO5", "O", ((-1, 4), (-2, 1))),
        ("HSO5^-", "O", ((-1, 2), (-2, 3))),
        ("KHSO5", "O", ((-1, 2), (-2, 3))),
        ("S2O8^2-", "O", ((-1, 2), (-2, 6))),
        ("NH4NO3", "N", ((5, 1), (-3, 1))),
        ("H2O2", "O", ((-1, 2),)),
        ("KO2", "O", ((Fraction(-1, 2), 2),)),
        ("CH3COOH", "C", ((3, 1), (-3, 1))),
        ("CH3CH2OH", "C", ((-1, 1), (-3, 1))),
        ("CH3COCH3", "C", ((2, 1), (-3, 2))),
        ("CH3CH(OH)CH3", "C", ((0, 1), (-3, 2))),
        ("C6H5CHO", "C", ((1, 1), (0, 1), (-1, 5))),
        ("CH3COOC2H5", "C", ((3, 1), (-1, 1), (-3, 2))),
        ("CH3COOOH", "O", ((-1, 2), (-2, 1))),
        ("H3PO5", "O", ((-1, 2), (-2, 3))),
        ("FeS2", "S", ((-1, 2),)),
        ("CrO2Cl2", "Cr", ((6, 1),)),
        ("VOCl3", "V", ((5, 1),)),
        ("MnMoO4", "Mo", ((6, 1),)),
        ("MnFe2O4", "Fe", ((3, 2),)),
        ("CuMn2O4", "Mn", ((3, 2),)),
        ("LiMn2O4", "Mn", ((Fraction(7, 2), 2),)),
        ("BiFeO3", "Fe", ((3, 1),)),
        ("HOONO", "O", ((-1, 2), (-2, 1))),
        ("HOONO", "N", ((3, 1),)),
        ("ONOO^-", "N", ((3, 1),)),
        ("HNO3", "N", ((5, 1),)),
        ("C3H5(ONO2)3", "N", ((5, 3),)),
        ("CH3ONO2", "N", ((5, 1),)),
        ("C6H5NO2", "N", ((3, 1),)),
        ("C6H2(NO2)3OH", "N", ((3, 3),)),
        ("CH3SO3H", "S", ((4, 1),)),
        ("CH3SO2CH3", "S", ((2, 1),)),
        ("CH3SOCH3", "S", ((0, 1),)),
        ("CH3OSO3H", "S", ((6, 1),)),
        ("C2H5SH", "S", ((-2, 1),)),
        ("Hg(SCN)4^2-", "C", ((4, 4),)),
        ("Hg(SCN)4^2-", "Hg", ((2, 1),)),
        ("Ag(S2O3)2^3-", "S", ((5, 2), (-1, 2))),
        ("[Co(NO2)6]^3-", "N", ((3, 6),)),
        ("[Co(C2H8N2)3]Cl3", "Co", ((3, 1),)),
        ("Fe(C2O4)3^3-", "C", ((3, 6),)),
        ("Mn2(CO)10", "Mn", ((0, 2),)),
        ("KAg(CN)2", "Ag", ((1, 1),)),
        ("CH3CH2CH2OH", "C", ((-1, 1), (-2, 1), (-3, 1))),
        ("CH3CH2COOH", "C", ((3, 1), (-2, 1), (-3, 1))),
        ("CH2OHCHO", "C", ((1, 1), (-1, 1))),
        ("(CH3)2CO", "C", ((2, 1), (-3, 2))),
        ("(CH3)3COH", "C", ((1, 1), (-3, 3))),
        ("CH3(CH2)3CH3", "C", ((-2, 3), (-3, 2))),
        ("CH3OCH3", "C", ((-2, 2),)),
        ("C2H5OC2H5", "C", ((-1, 2), (-3, 2))),
        ("CH3CH2NH2", "C", ((-1, 1), (-3, 1))),
        ("HOCH2CH2OH", "C", ((-1, 2),)),
        ("HCOOH", "C", ((2, 1),)),
        ("(COOH)2", "C", ((3, 2),)),
        ("CH3COCl", "C", ((3, 1), (-3, 1))),
        ("C6H5COOH", "C", ((3, 1), (0, 1), (-1, 5))),
        ("C6H5CH3", "C", ((0, 1), (-1, 5), (-3, 1))),
        ("CH3COOC6H5", "C", ((3, 1), (1, 1), (-1, 5), (-3, 1))),
        ("SnH4", "H", ((-1, 4),)),
        ("PH4^+", "H", ((1, 4),)),
        ("HF2^-", "H", ((1, 1),)),
        ("S4N4", "N", ((-3, 4),)),
    ],
)
def test_sites_are_counted(formula: str, symbol: str, sites: tuple[tuple[object, int], ...]) -> None:
    assert oxidation_numbers(formula)[symbol] == sites


def test_the_sum_over_all_atoms_is_the_charge() -> None:
    for row in AVERAGES.replace("\n", "|").strip("|").split("|"):
        species = Species.parse(row.split()[0])
        numbers = oxidation_numbers(species)
        total = sum(Fraction(n) * Fraction(c) for sites in numbers.values() for n, c in sites)
        assert total == species.charge, row
        for symbol, sites in numbers.items():
            assert sum(Fraction(c) for _, c in sites) == species.elements[symbol], row


def test_both_conventions_are_given_where_a_textbook_differs() -> None:
    assert "older textbooks: +6 and -2" in oxidation_numbers("S2O3^2-").remark
    assert "by Allen electronegativity it is -1 and P +5" in oxidation_numbers("H3PO3").remark
    assert "Pauling scale would turn the signs" in oxidation_numbers("NH2Cl").remark


def test_an_average_is_remarked_where_the_formula_cannot_decide() -> None:
    numbers = oxidation_numbers("C3H8O")
    assert numbers["C"] == ((-2, 3),)
    assert "the formula alone does not say" in numbers.remark


def test_a_clear_species_has_no_remark() -> None:
    assert oxidation_numbers("KMnO4").remark == ""
    assert oxidation_numbers("CH3COOH").remark == ""


def test_peroxo_groups_are_inferred_from_an_impossible_number() -> None:
    assert "2 O read as peroxo oxygen at -1" in oxidation_numbers("HNO4").remark


def test_an_implausible_number_says_check_the_formula() -> None:
    assert "outside the known range: check the formula" in oxidation_numbers("[KO]^7+").remark


def test_it_prints_on_one_line() -> None:
    text = str(oxidation_numbers("S4O6^2-"))
    assert text.startswith("S4O6^2-: ")
    assert "S +5 (x2), 0 (x2)" in text


def test_results_survive_pickling() -> None:
    numbers = oxidation_numbers("S2O3^2-")
    again = pickle.loads(pickle.dumps(numbers))
    assert dict(again) == dict(numbers)
    assert again.remark == numbers.remark
    assert again["S"].remark == numbers["S"].remark


def test_error_when_asked_about_the_electron() -> None:
    with pytest.raises(DomainError, match="the electron has no atoms"):
        oxidation_numbers("e^-")


def test_plausible_knows_the_ranges() -> None:
    assert plausible("Mn", 7)
    assert not plausible("Mn", 8)
    assert not plausible("Na", 3)
    assert plausible("O", Fraction(-1, 2))
