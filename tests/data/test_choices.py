"""The choices that docs/data.md explains are the ones the tables make."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.quantity import FARADAY

CHOSEN_POTENTIALS = {
    "H2O2/H2O": 1.763,
    "HO2-/OH-": 0.867,
    "O2/HO2-": -0.065,
    "HClO/Cl-": 1.494,
    "HClO/Cl2(g)": 1.63,
    "ClO-/Cl-": 0.89,
    "Br2(l)/Br-": 1.078,
    "Br2(aq)/Br-": 1.098,
    "Br3-/Br-": 1.062,
    "MnO4-/MnO2": 1.695,
    "MnO4-/MnO2(base)": 0.595,
    "ClO2(aq)/ClO2-": 0.935,
    "Cr2O7^2-/Cr3+": 1.36,
    "CO2/HCOOH": -0.114,
    "CO2/H2C2O4": -0.432,
    "NO3-/NO2-(base)": 0.01,
    "NO3-/NO2": 0.773,
    "BrO4-/BrO3-": 1.745,
    "BrO3-/Br2(l)": 1.513,
    "IO3-/I2(s)": 1.209,
    "HCrO4-/Cr3+": 1.376,
    "SO4^2-/H2SO3": 0.158,
    "ClO3-/HClO2": 1.214,
    "ClO3-/ClO2-": 0.33,
    "HClO2/HClO": 1.674,
    "NH2Cl/NH4+": 1.438,
}

ALONE = {"Br3-/Br-", "BrO4-/BrO3-", "NH2Cl/NH4+"}
"""Only one standard potential of these was read; the Gibbs energies give the same."""


@pytest.mark.parametrize(("key", "volts"), CHOSEN_POTENTIALS.items())
def test_chosen_potential_is_the_one_explained(key: str, volts: float) -> None:
    assert shipped().couples[key].chosen.value == volts
    page = (Path(__file__).parents[2] / "docs" / "data.md").read_text(encoding="utf-8")
    assert re.search(rf"(?<![\d.]){re.escape(f'{volts:g}')}(?!\d)", page), (
        f"docs/data.md does not mention {volts} V"
    )


@pytest.mark.parametrize("key", CHOSEN_POTENTIALS)
def test_a_disputed_potential_keeps_its_rivals(key: str) -> None:
    standard = [row.value for row in shipped().couples[key].rows if row.quantity == "E0"]
    assert (len(set(standard)) > 1) == (key not in ALONE)


@pytest.mark.parametrize("key", sorted(ALONE))
def test_a_potential_that_stands_alone_is_what_the_gibbs_energies_give(key: str) -> None:
    couple = shipped().couples[key]
    volts = -1000 * thermo.gibbs(couple.half_reaction).value / (couple.electrons * FARADAY.value)
    assert couple.chosen.value == pytest.approx(volts, abs=0.003)


def test_one_potential_is_recalled_and_no_gibbs_energy_enthalpy_or_entropy_on_memory_alone() -> None:
    recalled = [key for key, c in shipped().couples.items() if any("memory" in r.sources for r in c.rows)]
    assert recalled == ["dehydroascorbic/ascorbic"]
    for properties in shipped().formation.values():
        for rows in properties.values():
            assert all(set(row.sources) != {"memory"} for row in rows)


@pytest.mark.parametrize(
    ("species", "chosen", "rival"),
    [
        ("Fe^2+(aq)", -78.9, -90.53),
        ("Fe^3+(aq)", -4.7, -16.28),
        ("Cl2(aq)", 6.94, 5.92),
        ("S^2-(aq)", 85.8, 120.7),
        ("CN^-(aq)", 172.4, 167.1),
        ("CH2O(aq)", -122.9, -109.33),
        ("ClO2^-(aq)", 17.2, 10.14),
    ],
)
def test_a_disputed_gibbs_energy_keeps_its_rivals(species: str, chosen: float, rival: float) -> None:
    values = [row.value for row in shipped().formation[species]["dfG"]]
    assert values[0] == chosen
    assert rival in values


@pytest.mark.parametrize("species", ["C3Cl3N3O3(s)", "CrO3(s)"])
def test_what_nobody_published_is_absent(species: str) -> None:
    assert species not in shipped().formation
