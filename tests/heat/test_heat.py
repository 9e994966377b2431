"""Heat of the batch: sums, bounds, classes still possible."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.data import shipped
from redoxlib.heat import acid_dilution, batch_heat, boiling_point, exotherm, pot_heat_capacity, release
from redoxlib.job import Job
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Route, build_route


def route(text: str = "Br^- -> Br2", key: str = "H2O2", **fields: Any) -> Route:
    built = build_route(Job(text, **fields), shipped().oxidants[key])
    assert isinstance(built, Route)
    return built


def value(quantity: Quantity | Unknown) -> float:
    assert isinstance(quantity, Quantity), quantity
    return quantity.value


def test_the_rise_is_heat_over_heat_capacity() -> None:
    built = route()
    figures = exotherm(built)
    assert value(figures.rise) == pytest.approx(
        -1000 * value(batch_heat(built)) / pot_heat_capacity(built).value
    )
    assert value(figures.mtsr) == pytest.approx(25 + value(figures.rise))


def test_a_pot_of_water_has_the_heat_capacity_of_water() -> None:
    dilute = route("Mn^2+ -> MnO2", "KMnO4", purpose="remove")
    assert pot_heat_capacity(dilute).value == pytest.approx(4.18 * dilute.pot_grams, rel=1e-3)


def test_two_liquid_phases_boil_below_either_liquid() -> None:
    # bromine 58.8 C, water 100 C; together about 54 C
    assert 50 < value(boiling_point(route())) < 57


@pytest.mark.parametrize(("concentration", "classes"), [("0.5 mol/L", (1, 2, 5)), ("8 mol/L", (3, 4, 5))])
def test_classes_still_possible_without_a_decomposition_temperature(
    concentration: str, classes: tuple[int, ...]
) -> None:
    figures = exotherm(route(concentration=concentration))
    assert figures.classes == classes
    assert classes != (1,)


def test_an_unknown_heat_stays_unknown() -> None:
    figures = exotherm(route(key="peracetic"))
    assert isinstance(figures.rise, Unknown)
    assert figures.severity == "unknown"


class TestAcidDilution:
    """The heat of diluting sulfuric acid follows the integral heats of solution."""

    def test_neat_acid_into_much_water_gives_the_handbook_heat(self) -> None:
        built = route(acid="sulfuric acid 98 % w/w", concentration="0.2 mol/L")
        acid = built.charge("acid")
        assert acid is not None
        per_mol = value(acid_dilution(acid, built.water_grams)) / acid.mol
        # integral heat of solution in some hundred mol of water, less what the bottle has given already
        assert -80 < per_mol < -60

    @given(st.floats(10, 5000), st.floats(10, 5000))
    def test_more_water_never_gives_less_heat(self, a: float, b: float) -> None:
        acid = route(acid="sulfuric acid 98 % w/w").charge("acid")
        assert acid is not None
        little, much = sorted((a, b))
        assert value(acid_dilution(acid, much)) <= value(acid_dilution(acid, little)) + 1e-9

    def test_no_acid_no_heat(self) -> None:
        assert value(acid_dilution(None, 1000.0)) == 0.0

    def test_an_acid_without_a_table_is_unknown(self) -> None:
        acid = route(acid="phosphoric acid 85 % w/w").charge("acid")
        if acid is None:
            pytest.fail("the route should charge the declared acid")
        assert isinstance(acid_dilution(replace(acid), 1000.0), Unknown)

    def test_an_acid_stronger_than_its_table_is_unknown(self) -> None:
        # heats of dilution of hydrochloric acid end at 20 mol/kg; nothing is known of the gas
        acid = Species.parse("HCl")
        charge = Charge("acid", acid, 1.0, 1.0, acid.molar_mass, None, None, "", acid.molar_mass)
        assert isinstance(acid_dilution(charge, 1000.0), Unknown)

    @pytest.mark.parametrize("formula", ["HCl", "HNO3", "HBr"])
    def test_from_ten_mol_per_kg_to_one(self, formula: str) -> None:
        """V. B. Parker, Thermal Properties of Aqueous Uni-univalent Electrolytes, NSRDS-NBS 2 (1965)."""
        rows = {
            round(55.508 / r.moles_water): r.value
            for r in shipped().solutions[formula]
            if r.quantity == "heat_of_dilution_infinite" and r.moles_water
        }
        acid = Species.parse(formula)
        grams = acid.molar_mass + 55.508 / 10 * 18.015
        charge = Charge("acid", acid, 1.0, 1.0, grams, None, None, "", acid.molar_mass)
        found = value(acid_dilution(charge, (55.508 - 55.508 / 10) * 18.015))
        assert found == pytest.approx(rows[10] - rows[1], abs=0.02)


@given(spread=st.floats(0.1, 5.0))
def test_the_uncertainty_of_the_enthalpy_reaches_heat_and_rise(spread: float) -> None:
    built = route()
    part = built.parts[0]
    assert isinstance(part.dH, Quantity)
    wider = replace(built, parts=(replace(part, dH=replace(part.dH, uncertainty=spread)),))
    heat = batch_heat(wider)
    assert isinstance(heat, Quantity)
    assert heat.uncertainty == pytest.approx(spread * part.product.mol)
    rise = exotherm(wider).rise
    assert isinstance(rise, Quantity)
    capacity = pot_heat_capacity(wider)
    relative = spread / abs(part.dH.value) + (capacity.uncertainty or 0.0) / capacity.value
    assert rise.uncertainty == pytest.approx(relative * rise.value)


def test_a_solid_that_reacts_with_the_pot_gives_its_heat_before_it_acts() -> None:
    # By hand from the NBS tables: Na+ -240.12, H2O2(aq) -191.17, HO2- -160.33, H2O -285.83, OH- -229.99,
    # Na2O2(s) -510.87 kJ/mol.
    acid = release(route(key="Na2O2"))
    assert acid is not None
    assert acid[1] == "Na2O2(s) + 2 H^+(aq) -> 2 Na^+(aq) + H2O2(aq)"
    assert value(acid[0]) == pytest.approx(2 * -240.12 - 191.17 + 510.87, abs=0.6)
    base = release(route("HS^- -> SO4^2-", "Na2O2", medium=13))
    assert base is not None
    assert base[1] == "Na2O2(s) + H2O(l) -> 2 Na^+(aq) + HO2^-(aq) + OH^-(aq)"
    assert value(base[0]) == pytest.approx(2 * -240.12 - 160.33 - 229.99 + 285.83 + 510.87, abs=0.6)


def test_the_heat_of_such_a_solid_is_in_the_rise() -> None:
    built = route(key="Na2O2")
    charge, figures = built.charge("oxidant"), exotherm(built)
    released = release(built)
    assert charge is not None
    assert released is not None
    together = value(batch_heat(built)) + charge.mol * value(released[0])
    assert value(figures.rise) == pytest.approx(-1000 * together / pot_heat_capacity(built).value)
    assert figures.release_kj is not None
    assert value(figures.release_kj) == pytest.approx(charge.mol * value(released[0]))


@pytest.mark.parametrize("key", ["H2O2", "KMnO4", "Cl2", "MnO2"])
def test_what_only_dissolves_or_comes_as_a_solution_has_no_such_heat(key: str) -> None:
    built = route(key=key)
    assert release(built) is None
    assert exotherm(built).release_kj is None


def test_where_the_tables_lack_the_solid_its_heat_is_unknown_and_said_so() -> None:
    built = route("I^- -> I2", "TCCA")
    found = release(built)
    assert found is not None
    assert isinstance(found[0], Unknown)
    assert isinstance(exotherm(built).release_kj, Unknown)
