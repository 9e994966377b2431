"""Rows against the numbers their sources print, and against calorimetry nobody derived from them."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from redoxlib.data import FormationRow, shipped
from redoxlib.notation import Equation

CODATA = [  # species, dfH, its uncertainty, S, its uncertainty: Cox, Wagman and Medvedev 1989
    ("H2O(l)", -285.830, 0.040, 69.95, 0.03),
    ("H2O(g)", -241.826, 0.040, 188.835, 0.010),
    ("OH^-(aq)", -230.015, 0.040, -10.90, 0.20),
    ("Cl^-(aq)", -167.080, 0.10, 56.60, 0.20),
    ("Br^-(aq)", -121.41, 0.15, 82.55, 0.20),
    ("I^-(aq)", -56.78, 0.05, 106.45, 0.30),
    ("SO4^2-(aq)", -909.34, 0.40, 18.50, 0.40),
    ("HSO4^-(aq)", -886.9, 1.0, 131.7, 3.0),
    ("NO3^-(aq)", -206.85, 0.40, 146.70, 0.40),
    ("NH4^+(aq)", -133.26, 0.25, 111.17, 0.40),
    ("Na^+(aq)", -240.34, 0.06, 58.45, 0.15),
    ("K^+(aq)", -252.14, 0.08, 101.20, 0.20),
    ("CO2(g)", -393.51, 0.13, 213.785, 0.010),
    ("Br2(g)", 30.91, 0.11, 245.468, 0.005),
    ("SO2(g)", -296.81, 0.20, 248.223, 0.050),
    ("AgCl(s)", -127.01, 0.05, 96.25, 0.20),
]


def printed_in(source: str, species: str, name: str) -> FormationRow:
    (row,) = (row for row in shipped().formation[species][name] if row.source == source)
    return row


@pytest.mark.parametrize(("species", "enthalpy", "enthalpy_doubt", "entropy", "entropy_doubt"), CODATA)
def test_codata_rows_carry_the_printed_values(
    species: str, enthalpy: float, enthalpy_doubt: float, entropy: float, entropy_doubt: float
) -> None:
    h, s = (printed_in("cox1989", species, name) for name in ("dfH", "S"))
    assert (h.value, h.uncertainty, h.basis) == (enthalpy, enthalpy_doubt, "published")
    assert (s.value, s.uncertainty, s.basis) == (entropy, entropy_doubt, "published")


def reaction_enthalpy(text: str) -> float:
    equation = Equation.parse(text)
    keys, table = shipped().formation_keys, shipped().formation
    return sum(
        sign * float(number) * table[keys[species]]["dfH"][0].value
        for sign, side in ((1, equation.products), (-1, equation.reactants))
        for number, species in side
    )


@pytest.mark.parametrize(
    ("reaction", "measured", "within"),
    [
        # Parker, Thermal Properties of Aqueous Uni-univalent Electrolytes, NSRDS-NBS 2 (1965)
        ("KIO3(s) -> K^+(aq) + IO3^-(aq)", 27.74, 0.3),
        ("NaClO3(s) -> Na^+(aq) + ClO3^-(aq)", 21.72, 0.3),
        ("KClO3(s) -> K^+(aq) + ClO3^-(aq)", 41.38, 0.3),
        ("NH4NO3(s) -> NH4^+(aq) + NO3^-(aq)", 25.69, 0.3),
        ("HCl(g) -> H^+(aq) + Cl^-(aq)", -74.84, 0.3),
        ("HNO3(l) -> H^+(aq) + NO3^-(aq)", -33.28, 0.3),
        # handbook calorimetry
        ("H^+(aq) + OH^-(aq) -> H2O(l)", -55.815, 0.06),
        ("H2O2(l) -> H2O(l) + 1/2 O2(g)", -98.05, 0.1),
        ("H2O2(aq) -> H2O(l) + 1/2 O2(g)", -94.66, 0.1),
    ],
)
def test_reaction_enthalpy_agrees_with_calorimetry(reaction: str, measured: float, within: float) -> None:
    assert reaction_enthalpy(reaction) == pytest.approx(measured, abs=within)


GAS_COLUMN_BY_MISTAKE = {"Na2C2O4(s)"}  # the electronic table prints this solid among the gases


def test_handbook_rows_match_the_property_package_they_were_read_from() -> None:
    chemicals = pytest.importorskip("chemicals", reason="a general property package, test extra only")
    name = "CRC Standard Thermodynamic Properties of Chemical Substances.tsv"
    path = Path(chemicals.__file__).parent / "Heat Capacity" / name
    with path.open(encoding="utf-8", newline="") as stream:
        printed = {row["Chemical"]: row for row in csv.DictReader(stream, delimiter="\t")}
    column = {"dfH": "Hf", "dfG": "Gf", "S": "S0", "Cp": "Cp"}
    compared = 0
    for properties in shipped().formation.values():
        for row in (row for rows in properties.values() for row in rows if row.source == "crc_standard"):
            phase = "g" if row.species in GAS_COLUMN_BY_MISTAKE else row.species[row.species.rindex("(") + 1]
            scale = 1000 if row.property in ("dfH", "dfG") else 1
            text = printed[row.locator][column[row.property] + phase]
            assert row.value == pytest.approx(float(text) / scale, abs=0.051), row
            compared += 1
    assert compared > 600
