"""Bottle strengths against printed tables that had no part in making the density curves.

``reagent``: composition of concentrated reagent-grade acids and bases, as printed by suppliers.
``openstax``: Flowers et al., Chemistry 2e, appendix F.  ``trade``: bleach trade arithmetic.
"""

from __future__ import annotations

import pytest

from redoxlib.bottles import Bottle, convert_strength, read_bottle
from redoxlib.quantity import Quantity


def molarity(bottle: Bottle) -> float:
    assert isinstance(bottle.molarity, Quantity)
    return bottle.molarity.to("mol/L").value


@pytest.mark.parametrize(
    ("label", "published", "tolerance"),
    [
        ("hydrochloric acid 37.2 % w/w", 12.1, 0.01),  # reagent
        ("hydrochloric acid 37 % w/w", 12.1, 0.01),  # reagent, rounded
        ("sulfuric acid 96 % w/w", 18.0, 0.01),  # reagent
        ("sulfuric acid 98 % w/w", 18.4, 0.01),  # laboratory manual
        ("nitric acid 69.6 % w/w", 15.6, 0.01),  # reagent
        ("nitric acid 68 % w/w", 15.2, 0.01),  # laboratory manual
        ("phosphoric acid 85 % w/w", 14.7, 0.01),  # laboratory manual
        ("acetic acid 99.8 % w/w", 17.4, 0.01),  # reagent
        ("ammonia 28 % w/w", 14.8, 0.01),  # laboratory manual
        ("sodium hydroxide 50 % w/w", 19.1, 0.01),  # laboratory manual, density 1.525
        ("potassium hydroxide 45 % w/w", 11.7, 0.01),  # reagent
        ("hydrogen peroxide 30 % w/w", 9.8, 0.01),  # producer tables
        ("hydrogen peroxide 3 % w/w", 0.89, 0.01),  # producer tables
        ("perchloric acid 70 % w/w", 11.6, 0.01),  # laboratory manual
        ("hydrobromic acid 48 % w/w", 8.8, 0.01),  # laboratory manual
    ],
)
def test_molarity_of_a_concentrated_reagent(label: str, published: float, tolerance: float) -> None:
    assert molarity(read_bottle(label)) == pytest.approx(published, rel=tolerance)


@pytest.mark.parametrize(
    ("label", "density"),
    [
        ("hydrochloric acid 36 % w/w", 1.18),
        ("acetic acid 99.5 % w/w", 1.05),
        ("phosphoric acid 85 % w/w", 1.70),
        ("ammonia 28 % w/w", 0.90),
    ],
)
def test_density_agrees_with_the_textbook_to_its_digits(label: str, density: float) -> None:
    found = read_bottle(label).density
    assert isinstance(found, Quantity)
    assert found.value == pytest.approx(density, abs=0.012)  # openstax prints two decimals at 25 C


def test_trade_bleach_is_available_chlorine_and_not_mass() -> None:
    bottle = read_bottle("bleach 12.5 % trade")
    assert convert_strength("NaClO", "12.5 % trade", "g/L Cl2").value == pytest.approx(125.0)
    assert convert_strength("NaClO", "12.5 % trade", "g/L").value == pytest.approx(131.2, abs=0.1)
    assert isinstance(bottle.mass_fraction, Quantity)
    assert bottle.mass_fraction.value == pytest.approx(0.113, abs=0.001)
    assert isinstance(bottle.density, Quantity)
    assert bottle.density.value == pytest.approx(1.16, abs=0.01)


def test_trade_bleach_and_bleach_by_mass_are_two_bottles() -> None:
    by_mass = molarity(read_bottle("sodium hypochlorite 12.5 % w/w"))
    assert by_mass > 1.1 * molarity(read_bottle("bleach 12.5 % trade"))


@pytest.mark.parametrize(
    ("strength", "percent"),
    [("10 vol", 3.0), ("20 vol", 6.0), ("30 vol", 8.9), ("100 vol", 27.5)],
)
def test_volume_strength_of_peroxide(strength: str, percent: float) -> None:
    # pharmacy: 10 volumes is 3 % w/v, 20 volumes 6 % w/v, 100 volumes 30 % w/v
    assert convert_strength("H2O2", strength, "% w/w").value == pytest.approx(percent, abs=0.1)
    by_volume = convert_strength("H2O2", strength, "% w/v").value
    assert by_volume == pytest.approx(0.3035 * float(strength.split()[0]), rel=1e-3)


@pytest.mark.parametrize(
    ("solute", "degrees", "percent"),
    [
        ("H2SO4", 66, 93.19),
        ("H2SO4", 60, 77.67),
        ("H2SO4", 50, 62.18),
        ("HCl", 20, 31.45),
        ("HCl", 22, 35.21),
    ],
)
def test_degrees_baume_of_the_trade(solute: str, degrees: int, percent: float) -> None:
    # Manufacturing Chemists' Association tables at 60 F, recalled
    found = convert_strength(solute, f"{degrees} deg Be", "% w/w").value
    assert found == pytest.approx(percent, abs=0.35)


def test_triple_salt_weighs_338_grams_for_a_mole_of_peroxymonosulfate() -> None:
    bottle = read_bottle("potassium peroxymonosulfate triple salt")
    assert str(bottle.active) == "KHSO5"
    assert bottle.active_per_formula == 2
    assert bottle.grams_per_active_mol == pytest.approx(338, abs=2)
    pure = bottle.solute.molar_mass / 2
    assert pure == pytest.approx(307.4, abs=0.1)


def test_available_chlorine_of_pure_solids() -> None:
    # 91.5 % for trichloroisocyanuric acid, 99.2 % for calcium hypochlorite: arithmetic of molar masses
    assert convert_strength("C3Cl3N3O3", "100 % w/w", "% w/w Cl2").value == pytest.approx(91.5, abs=0.1)
    assert convert_strength("Ca(ClO)2", "100 % w/w", "% w/w Cl2").value == pytest.approx(99.2, abs=0.1)


def test_active_oxygen_of_percarbonate_and_triple_salt() -> None:
    # 15.3 % for 2Na2CO3.3H2O2 and 5.2 % for 2KHSO5.KHSO4.K2SO4
    assert convert_strength("(Na2CO3)2.3H2O2", "100 % w/w", "% w/w O").value == pytest.approx(15.3, abs=0.1)
    assert convert_strength("K5H3S4O18", "100 % w/w", "% w/w O").value == pytest.approx(5.2, abs=0.05)
