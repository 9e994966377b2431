"""The tables against a general property package: JANAF, ATcT, vapour pressures, densities, heats.

Rows that were read in the package must carry its numbers; rows from elsewhere must agree with it within
what the two admit.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from redoxlib._facts import facts
from redoxlib.data import FormationRow, LiquidRow, shipped

chemicals = pytest.importorskip("chemicals", reason="a general property package, test extra only")

TABLES = Path(chemicals.__file__).parent / "Reactions"
CELSIUS = 273.15


OUTSIDE_BOTH_ERROR_BARS = {"HCl(g)": 0.14, "HBr(g)": 0.44, "NH3(g)": 0.38}
"""kJ/mol between CODATA (1989, chosen) and the later network; docs/data.md keeps both."""


def package_table(name: str) -> dict[str, dict[str, str]]:
    with (TABLES / name).open(encoding="utf-8", newline="") as stream:
        return {row["CAS"]: row for row in csv.DictReader(stream, delimiter="\t")}


def rows_from(source: str) -> list[FormationRow]:
    return [
        row
        for properties in shipped().formation.values()
        for rows in properties.values()
        for row in rows
        if row.source == source and row.locator.startswith("CAS ")
    ]


def test_janaf_rows_carry_the_numbers_of_the_package() -> None:
    printed = package_table("JANAF_1998.tsv")
    compared = 0
    for row in rows_from("janaf1998"):
        phase = row.species[row.species.rindex("(") + 1]
        column = {"dfH": "Hf", "dfG": "Gf", "S": "S0", "Cp": "Cp"}[row.property] + phase
        text = printed.get(row.locator.removeprefix("CAS "), {}).get(column)
        if not text:
            continue  # solids are not in the table of the package
        scale = 1000 if row.property in ("dfH", "dfG") else 1
        assert row.value == pytest.approx(float(text) / scale, abs=0.002), row
        compared += 1
    assert compared > 80


def test_atct_rows_carry_the_numbers_and_error_bars_of_the_package() -> None:
    gases, liquids = package_table("ATcT 1.112 (g).tsv"), package_table("ATcT 1.112 (l).tsv")
    compared = 0
    for row in rows_from("atct1112"):
        printed = (gases if row.species.endswith("(g)") else liquids)[row.locator.removeprefix("CAS ")]
        assert row.value == pytest.approx(float(printed.get("Hfg") or printed["Hfl"]) / 1000, abs=0.006), row
        assert row.uncertainty == pytest.approx(float(printed["uncertainty"]) / 1000, abs=0.006), row
        compared += 1
    assert compared >= 25


def test_chosen_enthalpies_agree_with_active_thermochemical_tables() -> None:
    """The chosen network is forty years older; what it admits must cover the difference."""
    apart = {}
    for row in rows_from("atct1112"):
        chosen = shipped().formation[row.species]["dfH"][0]
        rest = abs(chosen.value - row.value)
        if rest > (chosen.uncertainty or 0) + (row.uncertainty or 0) + 1e-6:
            apart[row.species] = round(rest, 2)
    assert apart == OUTSIDE_BOTH_ERROR_BARS


def cas_of(species: str) -> str:
    return next(row.cas for row in facts(species).names if row.cas)


PAIRED_VAPOURS = {"CH3COOH(l)", "HCOOH(l)"}
"""Their molecules leave in pairs: the heat per mole of liquid is far below what the slope gives."""


def liquid_rows(name: str) -> list[LiquidRow]:
    return [row for row in shipped().liquids if row.property == name and row.species.endswith("(l)")]


@pytest.mark.parametrize("row", liquid_rows("boiling_point"), ids=lambda row: row.species)
def test_a_liquid_boils_where_the_package_says(row: LiquidRow) -> None:
    kelvin = chemicals.Tb(cas_of(row.species))
    if kelvin is None:
        pytest.skip("not in the package")
    assert row.value == pytest.approx(kelvin - CELSIUS, abs=(row.uncertainty or 0) + 1.0)


@pytest.mark.parametrize(
    "row", liquid_rows("vapour_pressure"), ids=lambda row: f"{row.species} {row.temperature_C}"
)
def test_vapour_pressure_and_boiling_point_give_the_heat_of_vaporisation(row: LiquidRow) -> None:
    """Clausius and Clapeyron between the two: within a fifth of the tabulated heat."""
    boiling = next(
        (r for r in shipped().liquids if (r.species, r.property) == (row.species, "boiling_point")), None
    )
    heat = next(
        (r for r in shipped().liquids if (r.species, r.property) == (row.species, "heat_of_vaporisation")),
        None,
    )
    if boiling is None or heat is None or row.temperature_C is None or boiling.value - row.temperature_C < 20:
        pytest.skip("no pair of temperatures, or no heat")
    low, high = row.temperature_C + CELSIUS, boiling.value + CELSIUS
    pressure = row.value * {"kPa": 1.0, "Pa": 1e-3, "bar": 100.0, "mmHg": 0.133322}[row.unit]
    slope = 8.314462e-3 * math.log(101.325 / pressure) / (1 / low - 1 / high)
    assert (slope == pytest.approx(heat.value, rel=0.2)) != (row.species in PAIRED_VAPOURS)
