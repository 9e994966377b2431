"""Predominance: the regions tile the window, and every point belongs to the species of lowest energy."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.diagrams import Predominance, Window, predominance
from redoxlib.errors import DomainError
from redoxlib.quantity import FARADAY

ELEMENTS = ["Mn", "Cl", "Br", "Fe", "S", "Cr", "N", "I", "Cu", "As", "V", "O", "C", "P", "Pb"]
DIAGRAMS = {
    (element, activity): predominance(element, activity=activity)
    for element in ELEMENTS
    for activity in (1.0, 1e-6)
}
diagrams = st.sampled_from(sorted(DIAGRAMS))


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def _inside(corners: tuple[tuple[float, float], ...], ph: float, volts: float) -> bool:
    sides = [
        (x2 - x1) * (volts - y1) - (y2 - y1) * (ph - x1)
        for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    return all(s >= 0 for s in sides) or all(s <= 0 for s in sides)


class TestTheRegionsTileTheWindow:
    """Nothing is left over and nothing overlaps."""

    @pytest.mark.parametrize("key", sorted(DIAGRAMS), ids=str)
    def test_the_areas_add_up(self, key: tuple[str, float]) -> None:
        window = DIAGRAMS[key].window
        whole = (window.ph[1] - window.ph[0]) * (window.volts[1] - window.volts[0])
        assert sum(_area(region.corners) for region in DIAGRAMS[key].regions) == pytest.approx(
            whole, abs=1e-5
        )

    @given(diagrams, st.floats(0.001, 13.999), st.floats(-1.399, 2.199))
    def test_a_point_lies_in_the_region_of_its_species(
        self, key: tuple[str, float], ph: float, volts: float
    ) -> None:
        diagram = DIAGRAMS[key]
        wide = [r.species for r in diagram.regions if _inside(r.corners, ph, volts)]
        near = min(_gap(diagram, ph, volts), 1.0)
        assert diagram.at(ph, volts) in wide or near < 1e-6


def _gap(diagram: Predominance, ph: float, volts: float) -> float:
    """Energy between the two lowest species, kJ/mol: zero on a line."""
    energies = sorted(p.energy(ph, volts) + p.diluted(diagram.activity) for p in diagram.points)
    return energies[1] - energies[0]


class TestTheLinesAreEquilibria:
    """Each line is the Nernst line of the equation printed with it."""

    @pytest.mark.parametrize("key", sorted(DIAGRAMS), ids=str)
    def test_every_boundary(self, key: tuple[str, float]) -> None:
        diagram = DIAGRAMS[key]
        for boundary in diagram.boundaries:
            equation = boundary.equation
            assert not any(equation.residual().values())
            log_q = sum(
                sign * float(n) * math.log10(diagram.activity)
                for side, sign in ((equation.reactants, -1), (equation.products, 1))
                for n, s in side
                if str(s).endswith("(aq)") and key[0] in s.elements
            )
            n = thermo.electrons_of(equation)
            energy = thermo.gibbs(equation).value * 1000
            slope = thermo.nernst_slope()
            spread = thermo.gibbs(equation).uncertainty or 0.0
            per = n * FARADAY.value / 1000 if n else 5.70804 * abs(thermo.proton_count(equation))
            assert boundary.uncertainty == pytest.approx(spread / per, rel=1e-4)
            for ph, volts in (boundary.start, boundary.end):
                if n:
                    expected = -energy / (n * FARADAY.value) - slope * log_q / n
                    expected += thermo.ph_shift(equation, n, ph)
                    assert volts == pytest.approx(expected, abs=1e-4)
                    assert boundary.slope is not None
                    assert boundary.intercept + boundary.slope * ph == pytest.approx(volts, abs=1e-6)
                else:
                    protons = thermo.proton_count(equation)
                    log_k = -energy / (8.314462618 * 298.15 * math.log(10))
                    assert ph == pytest.approx((log_k - log_q) / protons, abs=1e-3)
                    assert boundary.slope is None


def test_permanganate_over_manganese_dioxide() -> None:
    """The textbook line E = 1.692 - 0.0788 pH (Bard, Parsons and Jordan 1985: 1.70 V)."""
    line = next(
        b
        for b in DIAGRAMS["Mn", 1.0].boundaries
        if {str(b.first), str(b.second)} == {"MnO4^-(aq)", "MnO2(s)"}
    )
    assert line.intercept == pytest.approx(1.70, abs=0.02)
    assert line.slope == pytest.approx(-0.0788, abs=2e-4)
    assert str(line.equation) == "MnO4^-(aq) + 4 H^+(aq) + 3 e^- -> MnO2(s) + 2 H2O(l)"


def test_slow_species_may_be_left_out() -> None:
    everything = {str(r.species) for r in DIAGRAMS["Cl", 1.0].regions}
    assert everything == {"Cl^-(aq)", "ClO4^-(aq)"}
    quick = predominance("Cl", without=["ClO4^-", "ClO3^-", "ClO2^-", "HClO2", "ClO2"])
    assert {str(r.species) for r in quick.regions} == {"Cl^-(aq)", "Cl2(aq)", "HClO(aq)", "ClO^-(aq)"}
    named = predominance("Cl", only=["Cl^-", "ClO^-"])
    assert {str(p.species) for p in named.points} == {"Cl^-(aq)", "ClO^-(aq)"}


def test_one_thing_written_twice_is_drawn_once() -> None:
    points = {str(p.species) for p in DIAGRAMS["S", 1.0].points}
    assert "SO2(aq)" in points
    assert not points & {"H2SO3(aq)", "SO2(g)", "S^2-(aq)"}


def test_dilution_widens_the_regions_of_dissolved_species() -> None:
    def share(diagram: Predominance) -> float:
        return sum(_area(r.corners) for r in diagram.regions if str(r.species).endswith("(aq)"))

    for element in ("Fe", "Mn", "Cr", "Cu"):
        assert share(DIAGRAMS[element, 1e-6]) > share(DIAGRAMS[element, 1.0])


@pytest.mark.parametrize("element", ["H", "Xx", "MnO4", "He", ""])
def test_what_has_no_diagram_says_so(element: str) -> None:
    with pytest.raises(DomainError):
        predominance(element)


def test_bad_requests_are_refused() -> None:
    with pytest.raises(DomainError, match="more than zero"):
        predominance("Mn", activity=0)
    with pytest.raises(DomainError, match="no tabulated species of Mn"):
        predominance("Mn", without=["Fe^2+"])
    with pytest.raises(DomainError, match="at least two"):
        predominance("Mn", only=["Mn^2+"])
    with pytest.raises(DomainError, match="empty"):
        Window(ph=(7, 7))


def test_the_table_names_lines_absent_species_and_sources() -> None:
    text = DIAGRAMS["Mn", 1.0].table()
    assert "MnO4^-(aq) | MnO2(s)" in text
    assert "E/V = 1.700 -0.0789 pH" in text
    assert "nowhere lowest: " in text
    assert "sources: " in text
    assert "only" in predominance("Cl", window=Window(volts=(-1.0, 0.0))).table()
