"""Heats of dilution from a small table of one's own, worked by hand, and what the figures are bounded by."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from redoxlib.data import Tables, shipped
from redoxlib.heat import CP_SOLUTE, CP_WATER, acid_dilution, batch_heat, boiling_point, exotherm
from redoxlib.heat import pot_heat_capacity as capacity_of
from redoxlib.job import Job
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Charge, Route, build_route

_SOLUTION: dict[str, Any] = {
    "solute": "H3PO4",
    "quantity": "integral_heat_of_solution",
    "mass_fraction": "",
    "temperature_C": 25,
    "unit": "kJ/mol",
    "basis": "estimate",
    "note": "",
    "family": "book",
    "locator": "",
    "source": "memory",
}


def _tables(*points: tuple[float, float, float], **fields: Any) -> Tables:
    """Phosphoric acid, of which no heat of dilution is shipped: ratio, heat, uncertainty."""
    rows = [
        {**_SOLUTION, "moles_water": ratio, "value": heat, "uncertainty": spread, **fields}
        for ratio, heat, spread in points
    ]
    return shipped().with_rows(solutions=rows)


def _acid(own_water: float) -> Charge:
    """One mole of the acid with so many moles of water in its bottle."""
    acid = Species.parse("H3PO4")
    grams = acid.molar_mass + own_water * 18.015
    return Charge("acid", acid, 1.0, 1.0, grams, None, None, "", acid.molar_mass)


def _diluted(tables: Tables, start: float, end: float) -> Quantity | Unknown:
    return acid_dilution(_acid(start), (end - start) * 18.015, tables)


class TestIntegralHeats:
    """-10 kJ in 1 mol of water, -18 kJ in 9: with x = 1/(r + 1) a straight line from x = 0.5 to 0.1."""

    tables = _tables((1.0, -10.0, 0.1), (9.0, -18.0, 0.3), (99.0, -20.0, 0.2))

    @pytest.mark.parametrize(
        ("start", "end", "heat"),
        [
            (1.0, 9.0, -8.0),
            (1.0, 4.0, -6.0),  # x = 0.2: three quarters of the way
            (4.0, 9.0, -2.0),
            (0.5, 1.0, -5.0),  # below the first hydrate in proportion to the water
            (1.0, 1000.0, -10.0),  # flat beyond the last
        ],
    )
    def test_the_heat_between_two_ratios(self, start: float, end: float, heat: float) -> None:
        found = _diluted(self.tables, start, end)
        assert isinstance(found, Quantity)
        assert found.value == pytest.approx(heat)

    def test_it_is_as_uncertain_as_the_worst_point_and_names_its_source(self) -> None:
        found = _diluted(self.tables, 1.0, 4.0)
        assert isinstance(found, Quantity)
        assert found.uncertainty == pytest.approx(0.3)
        assert found.sources == ("memory",)


class TestFamilies:
    """Rows of one family are one curve, whatever their sources; two families never make one."""

    def test_the_longer_family_is_taken_whole(self) -> None:
        tables = _tables((1.0, -10.0, 0.1), (9.0, -18.0, 0.3))
        tables = tables.with_rows(
            solutions=[
                {**_SOLUTION, "moles_water": 4.0, "value": -16.5, "uncertainty": 0.1, "source": "practice"}
            ]
        )
        other = {**_SOLUTION, "family": "other", "source": "crc_physical"}
        tables = tables.with_rows(
            solutions=[
                {**other, "moles_water": r, "value": -100.0 * r, "uncertainty": 9.0} for r in (1.0, 4.0)
            ]
        )
        found = _diluted(tables, 1.0, 4.0)
        assert isinstance(found, Quantity)
        assert found.value == pytest.approx(-6.5)
        assert found.uncertainty == pytest.approx(0.3)
        assert set(found.sources) == {"memory", "practice"}

    @pytest.mark.parametrize("fields", [{"family": "parker"}, {"family": ""}], ids=["a family", "none"])
    def test_heats_to_infinite_dilution_end_there_and_begin_at_their_first_point(
        self, fields: dict[str, Any]
    ) -> None:
        tables = _tables((1.0, -9.0, 0.1), (9.0, -4.0, 0.1), quantity="heat_of_dilution_infinite", **fields)
        to_the_sea = _diluted(tables, 1.0, 1e6)
        assert isinstance(to_the_sea, Quantity)
        assert to_the_sea.value == pytest.approx(-9.0)
        between = _diluted(tables, 1.0, 9.0)
        assert isinstance(between, Quantity)
        assert between.value == pytest.approx(-5.0)
        assert isinstance(_diluted(tables, 0.5, 9.0), Unknown)


def _route(text: str = "Br^- -> Br2", key: str = "H2O2") -> Route:
    built = build_route(Job(text), shipped().oxidants[key])
    assert isinstance(built, Route)
    return built


def _own_boiling(value: float, unit: str) -> Tables:
    row = {
        "species": "Br2(l)",
        "property": "coboiling_point_with_water",
        "value": value,
        "unit": unit,
        "uncertainty": 0.7,
        "basis": "estimate",
        "temperature_C": "",
        "source": "memory",
        "note": "",
    }
    return shipped().with_rows(liquids=[row])


@pytest.mark.parametrize(("value", "unit"), [(51.0, "C"), (324.15, "K")])
def test_the_tables_handed_over_say_where_the_pot_boils(value: float, unit: str) -> None:
    tables = _own_boiling(value, unit)
    for found in (boiling_point(_route(), tables), exotherm(_route(), tables=tables).boiling):
        assert isinstance(found, Quantity)
        assert found.value == pytest.approx(51.0)
        assert found.uncertainty == pytest.approx(0.7)


def test_the_tables_handed_over_give_the_heat_of_the_acid() -> None:
    route = build_route(Job("Br^- -> Br2", acid="phosphoric acid 85 % w/w"), shipped().oxidants["H2O2"])
    assert isinstance(route, Route)
    assert isinstance(exotherm(route).acid_dilution_kj, Unknown)
    tables = _tables((0.5, -5.0, 0.1), (9000.0, -18.0, 0.3))
    assert isinstance(exotherm(route, tables=tables).acid_dilution_kj, Quantity)


def test_a_mixture_never_boils_above_its_water() -> None:
    found = boiling_point(_route(), _own_boiling(104.0, "C"))
    assert isinstance(found, Quantity)
    assert found.value == 100.0
    (water,) = (r for r in shipped().liquids if (r.species, r.property) == ("H2O(l)", "boiling_point"))
    assert abs(found.value - water.value) <= (found.uncertainty or 0)
    assert found.uncertainty == 0.1


def test_a_liquid_less_volatile_than_water_lets_the_pot_boil_near_it() -> None:
    # cyclohexanone boils at 155 C alone and with water at 95 C
    found = boiling_point(_route("cyclohexanol -> cyclohexanone", "NaOCl"))
    assert isinstance(found, Quantity)
    assert 94 < found.value <= 100


def test_the_heat_capacities_are_what_their_text_says() -> None:
    # half of the last digit of 4.18; salts and acids lie between 0.5 and 1.5
    assert (CP_WATER.value, CP_WATER.uncertainty, CP_WATER.basis) == (4.18, 0.005, "last-digit")
    assert CP_SOLUTE.uncertainty is not None
    assert (CP_SOLUTE.value - CP_SOLUTE.uncertainty, CP_SOLUTE.value + CP_SOLUTE.uncertainty) == (0.5, 1.5)


def test_what_a_gas_brings_beside_itself_is_no_water_of_the_pot() -> None:
    route = _route()
    gas = Charge("oxidant", Species.parse("Cl2"), 1.0, 1.0, 80.0, None, None, "", 70.9, gas_litres=24.8)
    assert capacity_of(replace(route, charges=(*route.charges, gas))).value == capacity_of(route).value


def test_a_heat_that_nobody_knows_says_what_is_missing_in_every_figure() -> None:
    built = _route(key="peracetic")
    figures, heat = exotherm(built), batch_heat(built)
    assert isinstance(heat, Unknown)
    assert figures.per_kg == figures.rise == figures.mtsr == Unknown(heat.what, heat.looked_in)
    assert figures.accumulation == 1.0


def test_all_reagents_together_are_the_worst_case() -> None:
    assert exotherm(_route()).accumulation == 1.0


def test_a_measured_heat_capacity_may_come_without_uncertainty() -> None:
    route = _route()
    heat = batch_heat(route)
    assert isinstance(heat, Quantity)
    rise = exotherm(route, capacity=Quantity(1000.0, "J/K", None, (), "")).rise
    assert isinstance(rise, Quantity)
    assert rise.value == pytest.approx(-heat.value)
    assert rise.uncertainty == pytest.approx(heat.uncertainty or 0)
