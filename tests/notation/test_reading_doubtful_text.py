"""Doubtful text is read as the likelier species and says what else it could be."""

from __future__ import annotations

import pytest

from redoxlib.notation import Assumption, Species

# text, reading, part of the other reading
DOUBTFUL = [
    # two honest readings
    ("S2-", "S^2-", "S2^-"),
    ("O2-", "O^2-", "O2^-"),
    ("N3-", "N3^-", "N^3-"),
    ("VO2+", "VO2^+", "VO^2+"),
    ("Fe(SCN)2+", "Fe(SCN)^2+", "Fe(SCN)2^+"),
    ("NO2+", "NO2^+", "NO2"),
    ("CO2+", "CO2", "Co^2+"),
    ("SO2+", "SO2", "SO^2+"),
    ("Cr +3", "Cr^3+", "Cr"),
    ("cocl2", "CoCl2", "COCl2"),
    # flattened two-level scripts
    ("SO2−4", "SO4^2-", "SO2^4-"),
    ("PO3−4", "PO4^3-", "PO3^4-"),
    ("MnO−4", "MnO4^-", "MnO^4-"),
    ("Cr2O2−7", "Cr2O7^2-", ""),
    ("NH+4", "NH4^+", "NH^4+"),
    ("Fe(CN)3−6", "Fe(CN)6^3-", ""),
    # misprints
    ("MnO^4-", "MnO4^-", "MnO^4-"),
    ("Fe3", "Fe^3+", "Fe3"),
    ("MnO4", "MnO4^-", "MnO4"),
    ("C2O42", "C2O4^2-", "C2O42"),
    ("S2O802-", "S2O8^2-", ""),
    ("NO3^-2", "NO3^-", "NO3^2-"),
    ("Na^2+", "Na^+", "Na^2+"),
    ("SO4=", "SO4^2-", ""),
    ("Fe³", "Fe^3+", ""),
    # characters that look alike
    ("HCI", "HCl", "HCI"),
    ("CI-", "Cl^-", ""),
    ("AI2O3", "Al2O3", ""),
    ("H20", "H2O", "H20"),
    ("Na0H", "NaOH", ""),
    ("S042-", "SO4^2-", ""),
    ("CuS04", "CuSO4", ""),
    ("Kl", "KI", ""),
    # capitals
    ("SN2+", "Sn^2+", ""),
    ("CU^2+", "Cu^2+", "CU^2+"),
    ("CUSO4", "CuSO4", "CUSO4"),
    # oxidation numbers
    ("Fe(III)", "Fe^3+", "Fe(III)"),
    ("FeIII", "Fe^3+", ""),
    ("Mn(VII)", "Mn^7+", ""),
    ("Cr^VI", "Cr^6+", ""),
    ("Fe(II)SO4", "FeSO4", ""),
    # a hydrate without its dot
    ("CuSO4 5H2O", "CuSO4.5H2O", ""),
    ("e", "e^-", ""),
]


@pytest.mark.parametrize(("text", "reading", "other"), DOUBTFUL)
def test_doubtful_text_is_read_and_says_so(text: str, reading: str, other: str) -> None:
    species = Species.parse(text)
    assert species == Species.parse(reading)
    assert species.assumptions
    assert other in species.assumptions[0].other


def test_an_assumption_tells_place_reading_alternative_and_reason() -> None:
    (assumption,) = Species.parse("2 N3-(aq)").assumptions
    assert assumption == Assumption(
        (2, 5), "N3^-", "N^3-", "each of them is known, and the text does not tell which is meant"
    )
    assert str(assumption) == (
        "read as N3^-, not N^3-: each of them is known, and the text does not tell which is meant"
    )


def test_an_implausible_charge_is_kept_and_remarked() -> None:
    species = Species.parse("Ne^3+")
    assert (dict(species.elements), species.charge) == ({"Ne": 1}, 3)
    assert [a.why for a in species.assumptions] == ["usual oxidation numbers do not add up to this charge"]


def test_square_brackets_ask_for_the_letter() -> None:
    literal = Species.parse("[MnO4]")
    assert (literal.charge, literal.assumptions) == (0, ())
    assert literal != Species.parse("MnO4")


def test_subscripts_set_low_are_never_charges() -> None:
    assert dict(Species.parse("Fe₃").elements) == {"Fe": 3}
    assert Species.parse("Fe₃").charge == 0
