"""The tables behind the bottles cross-examined."""

from __future__ import annotations

import pytest

from redoxlib.bottles import default_bottle, density_curve, read_bottle
from redoxlib.data import shipped
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

CURVED = sorted(
    name for name, rows in shipped().solutions.items() if any(row.quantity == "density" for row in rows)
)


def test_there_are_as_many_entries_as_promised() -> None:
    assert len(shipped().bottles) >= 40
    assert len(CURVED) >= 12


@pytest.mark.parametrize("key", sorted(shipped().bottles))
def test_every_tabulated_bottle_can_be_used(key: str) -> None:
    bottle = default_bottle(key)
    grams, ml = bottle.amount_for(1.0)
    assert isinstance(grams, float)
    assert grams >= bottle.solute.molar_mass * 0.999
    assert (ml is None) == (bottle.form in ("solid", "gas"))
    assert isinstance(ml, (float, type(None)))


@pytest.mark.parametrize("key", sorted(shipped().bottles))
def test_its_own_label_reads_back_to_the_bottle(key: str) -> None:
    rows = shipped().bottles[key]
    bottle = read_bottle(rows[0].label)
    assert bottle.form == default_bottle(key).form
    assert isinstance(bottle.mass_fraction, Quantity)
    assert bottle.mass_fraction.value == pytest.approx(rows[0].value, rel=0.01)


@pytest.mark.parametrize("key", sorted(shipped().bottles))
def test_tabulated_densities_agree_with_the_curve(key: str) -> None:
    facts = {row.fact: row for row in shipped().bottles[key]}
    if "density" not in facts or facts["density"].solute not in CURVED:
        return
    curve = density_curve(facts["density"].solute)
    if facts["mass_fraction"].value > curve.range[1]:
        return
    here = curve.density(facts["mass_fraction"].value)
    combined = ((here.uncertainty or 0) ** 2 + (facts["density"].uncertainty or 0) ** 2) ** 0.5
    assert abs(here.value - facts["density"].value) <= 2 * combined


@pytest.mark.parametrize("solute", CURVED)
def test_curves_start_at_water_and_keep_their_own_figures(solute: str) -> None:
    rows = [row for row in shipped().solutions[solute] if row.quantity == "density"]
    water = {15.0: 0.99910, 20.0: 0.99821, 25.0: 0.99705, 30.0: 0.99565}
    for row in rows:
        if row.mass_fraction == 0.0 and row.temperature_C is not None:
            assert row.value == pytest.approx(water[row.temperature_C], abs=2e-5)
        assert row.mass_fraction is not None
        assert 0.0 <= row.mass_fraction <= 1.0


@pytest.mark.parametrize(
    ("solute", "percent", "density"),
    [
        # CRC Handbook, concentrative properties at 20 C, and Perry's Handbook, recalled independently
        ("H2SO4", 10, 1.0661),
        ("H2SO4", 50, 1.3951),
        ("H2SO4", 70, 1.6105),
        ("HCl", 20, 1.0980),
        ("HCl", 36, 1.1789),
        ("HNO3", 50, 1.3100),
        ("HNO3", 68, 1.4048),
        ("NaOH", 10, 1.1089),
        ("NaOH", 30, 1.3279),
        ("KOH", 10, 1.0905),
        ("NH3", 10, 0.9575),
        ("CH3COOH", 50, 1.0575),
        ("H3PO4", 50, 1.335),
        ("H2O2", 30, 1.1112),
        ("H2O2", 50, 1.196),
        ("NaCl", 10, 1.0707),
        ("NaCl", 25, 1.1887),
        ("KBr", 30, 1.2593),
    ],
)
def test_curve_against_another_handbook(solute: str, percent: float, density: float) -> None:
    assert density_curve(solute).density(percent / 100).value == pytest.approx(density, abs=0.0025)


def test_heats_of_solution_come_from_one_family_and_level_off() -> None:
    rows = [r for r in shipped().solutions["H2SO4"] if r.quantity == "integral_heat_of_solution"]
    assert {r.family for r in rows} == {"nbs1982"}
    ordered = sorted(rows, key=lambda r: r.moles_water or 0.0)
    assert [r.value for r in ordered] == sorted((r.value for r in ordered), reverse=True)
    assert ordered[0].value == 0.0


def test_heats_follow_the_equation_of_thomsen() -> None:
    # Thomsen: Q = 17860 n/(n + 1.7983) cal/mol at 18 C, an independent old measurement
    for row in shipped().solutions["H2SO4"]:
        if row.quantity == "integral_heat_of_solution" and row.moles_water and 1 <= row.moles_water <= 50:
            thomsen = -17860 * row.moles_water / (row.moles_water + 1.7983) * 4.184e-3
            assert row.value == pytest.approx(thomsen, abs=4.0)


def test_restricted_and_limits_name_known_species() -> None:
    for rows in shipped().restricted.values():
        for row in rows:
            assert Species.parse(row.formula).charge == 0
            assert 0 < row.strength_w_w < 100
    for limit_rows in shipped().limits.values():
        for limit in limit_rows:
            assert limit.limit.split()[0] in {"REL", "PEL", "IDLH"}
            assert limit.value > 0


@pytest.mark.parametrize(
    "formula", ["Br2", "Cl2", "I2", "ClO2", "O3", "HCN", "H2S", "SO2", "NO2", "HCl", "H2O2"]
)
def test_ceiling_or_average_lies_below_the_danger_level(formula: str) -> None:
    rows = {row.limit: row.value for row in shipped().limits[formula] if row.unit == "ppm v/v"}
    danger = rows.pop("IDLH")
    assert rows
    assert max(rows.values()) < danger


def test_equilibria_tell_one_reaction_from_another() -> None:
    chosen = {name: rows[0] for name, rows in shipped().equilibria.items()}
    assert chosen["acid_HClO"].value == 7.54
    assert chosen["hydrolysis_Br2"].value == 3.5e-9
    assert chosen["formation_I3-"].value == 698
    for rows in shipped().equilibria.values():
        assert len({row.equilibrium for row in rows}) == 1
