"""A strong thermostat on a small pot is stiff; the figures are the same, and they come."""

from __future__ import annotations

from dataclasses import replace

import pytest

from redoxlib.bench import _simulate
from redoxlib.bench._rates import RateTerm
from redoxlib.bench._simulate import Pot, Simulation, fastest_dosing, simulate
from redoxlib.errors import DomainError

# A millilitre of pot under 1.8 kW, dosed with half a litre: seconds against hours.
SMALL = Pot(
    oxidant_mol=1.4666666666666668,
    needed_mol=1.3333333333333333,
    feed_mol=1.0,
    heat_kj=1259.11,
    capacity=25.51,
    dose_capacity=229.59,
    litres=0.001,
    dose_litres=0.5418,
    start_c=3.4,
    dose_c=3.4,
    water_g=42372.9,
    terms=(RateTerm(0.0175, 1, 1, "k*[H2O2]*[S2O3^2-]", "exact", ("memory",)),),
    active=3.0,
)


def _slopes(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    asked: list[float] = []
    slope = _simulate._Run.slope

    def counted(self: _simulate._Run, t: float, y: list[float]) -> list[float]:
        asked.append(t)
        return slope(self, t, y)

    monkeypatch.setattr(_simulate._Run, "slope", counted)
    return asked


def _alike(a: Simulation, b: Simulation) -> None:
    for name in ("peak_c", "accumulation", "mtsr_c", "converted", "cooled_kj"):
        assert getattr(a, name) == pytest.approx(getattr(b, name), rel=1e-5), name


@pytest.mark.parametrize("minutes", [72.9, 182.2, 958.8])
def test_a_stiff_pot_takes_no_more_slopes_than_its_pieces_are_allowed(
    minutes: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = _slopes(monkeypatch)
    run = simulate(SMALL, minutes, watts=1800.0)
    assert (
        len(asked) < 3 * 11 * _simulate._PATIENCE
    )  # three pieces, the second method with ten times the patience
    assert run.energy_error < 1e-9
    assert run.mass_error < 1e-9


def test_the_second_method_says_what_the_first_would_say(monkeypatch: pytest.MonkeyPatch) -> None:
    ordinary = replace(SMALL, litres=1.0, capacity=4180.0)
    first = simulate(ordinary, 60.0, watts=200.0)
    monkeypatch.setattr(_simulate, "_PATIENCE", 20)
    with pytest.raises(DomainError, match="the simulation stopped"):
        simulate(ordinary, 60.0, watts=200.0)
    monkeypatch.undo()
    asked = _slopes(monkeypatch)
    simulate(ordinary, 60.0, watts=200.0)
    monkeypatch.undo()
    methods: list[str] = []
    from scipy import integrate

    whole = integrate.solve_ivp

    def second(*given: object, method: str, **more: object) -> object:
        methods.append(method)
        if method == "LSODA":
            raise _simulate._TiredError
        return whole(*given, method=method, **more)

    monkeypatch.setattr(integrate, "solve_ivp", second)
    _alike(first, simulate(ordinary, 60.0, watts=200.0))
    assert "Radau" in methods
    assert len(asked) < 5_000  # ordinary pots never come near the limit


def test_the_shortest_safe_dosing_of_a_stiff_pot_is_found() -> None:
    found = fastest_dosing(SMALL, watts=1800.0)
    assert found is not None
    assert found > 1000 * SMALL.heat_kj / 1800.0 / 60


def test_dosing_that_no_method_gets_through_counts_as_unsafe(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_simulate, "_PATIENCE", 20)
    assert fastest_dosing(SMALL, watts=1800.0) is None
    with pytest.raises(DomainError, match="above zero"):
        fastest_dosing(replace(SMALL, litres=0.0), watts=1800.0)
