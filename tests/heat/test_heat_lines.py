"""Heat: where the severity and the class change, and what the figures are made of."""

from __future__ import annotations

import pytest

from redoxlib.data import shipped
from redoxlib.heat import (
    CP_SOLUTE,
    CP_WATER,
    acid_dilution,
    batch_heat,
    boiling_point,
    exotherm,
    pot_heat_capacity,
)
from redoxlib.job import Job
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Route, build_route


def _route(text: str = "Fe^2+ -> Fe^3+", key: str = "KMnO4") -> Route:
    built = build_route(Job(text), shipped().oxidants[key])
    assert isinstance(built, Route)
    return built


def _value(quantity: Quantity | Unknown) -> float:
    assert isinstance(quantity, Quantity), quantity
    return quantity.value


def _rising_by(route: Route, kelvin: float) -> Quantity:
    """The heat capacity with which the heat of a route warms its pot by so much."""
    return Quantity(-1000 * _value(batch_heat(route)) / kelvin, "J/K", 0.0, (), "definition")


@pytest.mark.parametrize(
    ("kelvin", "severity"),
    [(49.9, "low"), (50.1, "medium"), (199.9, "medium"), (200.1, "high"), (1000.0, "high")],
)
def test_the_severity_changes_at_fifty_and_at_two_hundred_kelvin(kelvin: float, severity: str) -> None:
    route = _route()
    figures = exotherm(route, capacity=_rising_by(route, kelvin))
    assert _value(figures.rise) == pytest.approx(kelvin)
    assert figures.severity == severity


def test_a_low_rise_with_gas_is_no_licence_to_close_the_vessel() -> None:
    route = _route("Cu -> Cu^2+", "HNO3")
    assert route.gases
    assert exotherm(route, capacity=_rising_by(route, 10)).severity == "low, but gas: no closed vessel"
    assert exotherm(route, capacity=_rising_by(route, 100)).severity == "medium"


@pytest.mark.parametrize(("short", "classes"), [(1.0, (1, 2, 5)), (-1.0, (3, 4, 5))])
def test_the_classes_change_where_the_pot_begins_to_boil(short: float, classes: tuple[int, ...]) -> None:
    route = _route()
    boiling = _value(boiling_point(route))
    assert boiling == 100.0
    figures = exotherm(route, capacity=_rising_by(route, boiling - 25 - short))
    assert figures.classes == classes


def test_a_pot_that_boils_at_an_unknown_temperature_may_be_of_any_class() -> None:
    # acetone distils out of its own liquor at a temperature that no table holds
    route = _route("propan-2-ol -> acetone", "NaOCl")
    assert isinstance(boiling_point(route), Unknown)
    figures = exotherm(route)
    assert isinstance(figures.rise, Quantity)
    assert figures.classes == (1, 2, 3, 4, 5)
    assert figures.class_note.endswith("unknown")


def test_an_unknown_heat_leaves_every_class_open() -> None:
    built = build_route(Job("Br^- -> Br2"), shipped().oxidants["peracetic"])
    assert isinstance(built, Route)
    assert exotherm(built).classes == (1, 2, 3, 4, 5)


def test_heat_per_kilogram_is_the_heat_over_the_mass_of_the_pot() -> None:
    route = _route()
    figures, heat = exotherm(route), batch_heat(route)
    assert isinstance(heat, Quantity)
    assert isinstance(figures.per_kg, Quantity)
    assert figures.per_kg.value * route.pot_grams / 1000 == pytest.approx(heat.value)
    assert (figures.per_kg.uncertainty or 0) * route.pot_grams / 1000 == pytest.approx(heat.uncertainty or 0)


def test_what_is_no_water_takes_up_less_heat_and_widens_the_figure() -> None:
    route = _route("Br^- -> Br2", "H2O2")
    capacity = pot_heat_capacity(route)
    # all water 4.18 J/(g K); solutes and acid hold less
    assert 0.5 * 4.18 * route.pot_grams < capacity.value < 4.18 * route.pot_grams
    assert 0 < (capacity.uncertainty or 0) < 0.5 * capacity.value


@pytest.mark.parametrize(("text", "key"), [("Br^- -> Br2", "H2O2"), ("Fe^2+ -> Fe^3+", "KMnO4")])
def test_the_heat_capacity_is_that_of_the_water_and_of_the_rest(text: str, key: str) -> None:
    route = _route(text, key)
    water = route.water_grams + sum(
        c.grams - c.pure_grams for c in route.charges if c.role != "water" and c.gas_litres is None
    )
    rest = route.pot_grams - water
    assert rest > 0
    wanted = water * CP_WATER.value + rest * CP_SOLUTE.value
    assert pot_heat_capacity(route).value == pytest.approx(wanted)


def test_no_acid_is_no_heat_without_any_doubt() -> None:
    nothing = acid_dilution(None, 100.0)
    assert isinstance(nothing, Quantity)
    assert (nothing.value, nothing.uncertainty, nothing.basis) == (0.0, 0.0, "definition")
