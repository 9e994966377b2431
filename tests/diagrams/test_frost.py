"""Frost diagrams: slopes are potentials, points above the hull fall apart."""

from __future__ import annotations

import pytest

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.diagrams import frost
from redoxlib.errors import DomainError


@pytest.mark.parametrize(
    ("element", "ph", "low", "high", "half"),
    [
        ("Mn", 0, "MnO2(s)", "MnO4^2-(aq)", "MnO4^2- + 4 H^+ + 2 e^- -> MnO2(s) + 2 H2O"),
        ("Mn", 0, "Mn(s)", "Mn^2+(aq)", "Mn^2+ + 2 e^- -> Mn(s)"),
        ("Mn", 14, "MnO4^2-(aq)", "MnO4^-(aq)", "MnO4^- + e^- -> MnO4^2-"),
        ("Cl", 0, "Cl^-(aq)", "Cl2(g)", "1/2 Cl2(g) + e^- -> Cl^-"),
        ("Br", 0, "Br2(l)", "HBrO(aq)", "HBrO(aq) + H^+ + e^- -> 1/2 Br2(l) + H2O"),
        ("Fe", 0, "Fe(s)", "Fe^2+(aq)", "Fe^2+ + 2 e^- -> Fe(s)"),
        ("O", 14, "OH^-(aq)", "HO2^-(aq)", "1/2 HO2^- + 1/2 H2O + e^- -> 3/2 OH^-"),
    ],
)
def test_a_step_is_the_potential_of_its_half_reaction(
    element: str, ph: float, low: str, high: str, half: str
) -> None:
    only = [low, high, *(["Cl2(g)"] if element == "Cl" else [])]
    trace = frost(element, ph=[ph], only=only).traces[0]
    step = next(v for a, b, v in trace.steps if (str(a.species), str(b.species)) == (low, high))
    g = thermo.gibbs(half).value
    n = float(thermo.potential(half).electrons)
    from redoxlib.notation import Equation

    expected = -g / (n * 96.48533212) + thermo.ph_shift(Equation.parse(half), n, ph)
    assert step == pytest.approx(expected, abs=2e-3)


def test_textbook_disproportionations() -> None:
    """Manganate falls apart in acid, hypobromite in base, chromium(II) does not in acid, copper(I) does."""

    def apart(element: str, ph: float) -> set[str]:
        return {str(p.species) for p in frost(element, ph=[ph]).traces[0].disproportionating}

    assert "MnO4^2-(aq)" in apart("Mn", 0)
    assert "BrO^-(aq)" in apart("Br", 14)
    assert "ClO3^-(aq)" in apart("Cl", 0)
    assert "Cr^2+(aq)" not in apart("Cr", 0)
    assert "Cu^+(aq)" in {
        str(p.species)
        for p in frost("Cu", ph=[0], only=["Cu(s)", "Cu^+", "Cu^2+"]).traces[0].disproportionating
    }
    assert "H2O2(aq)" in apart("O", 0)


@pytest.mark.parametrize("element", ["Mn", "Cl", "Br", "Fe", "S", "Cr", "N", "I", "V"])
def test_the_element_stands_at_zero_and_the_hull_below_every_point(element: str) -> None:
    for trace in frost(element).traces:
        zero = next(p for p in trace.points if p.state == 0)
        assert zero.volts.value == 0.0
        assert list(trace.points) == sorted(trace.points, key=lambda p: p.state)
        slopes = [
            (b.volts.value - a.volts.value) / float(b.state - a.state)
            for a, b in zip(trace.hull, trace.hull[1:], strict=False)
        ]
        assert slopes == sorted(slopes)
        assert set(trace.hull) | set(trace.disproportionating) == set(trace.points)


def test_a_point_carries_its_uncertainty_and_sources() -> None:
    point = next(p for p in frost("Mn").traces[0].points if str(p.species) == "MnO4^-(aq)")
    assert point.volts.unit == "V"
    assert point.volts.uncertainty
    assert point.volts.sources


def test_peroxide_oxygen_is_said_to_be_counted_as_oxide() -> None:
    assert any("S2O8^2-(aq)" in remark for remark in frost("S").remarks)
    assert frost("Cl").remarks == ()


def test_the_table_tells_what_falls_apart() -> None:
    text = frost("Mn").table()
    line = next(row for row in text.splitlines() if "MnO4^2-" in row)
    assert line.endswith("can disproportionate")
    assert "pH 14" in text


def test_bad_requests_are_refused() -> None:
    with pytest.raises(DomainError):
        frost("Mn", ph=[])
    rows = [
        {
            "species": species,
            "property": "dfG",
            "value": value,
            "unit": "kJ/mol",
            "uncertainty": 5,
            "basis": "estimate",
            "source": "memory",
            "family": "own",
        }
        for species, value in (("Am^3+(aq)", -599.0), ("Am(OH)3(s)", -1220.0))
    ]
    with pytest.raises(DomainError, match="one oxidation state"):
        frost("Am", tables=shipped().with_rows(formation=rows))
