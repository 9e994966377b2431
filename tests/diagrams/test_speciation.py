"""Speciation: mass balance, equilibrium and saturation hold at every pH."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.diagrams import Speciation, speciation
from redoxlib.errors import DomainError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

CASES = [
    ("Mn", 2),
    ("Cl", 1),
    ("Br", 1),
    ("Fe", 3),
    ("S", 4),
    ("S", -2),
    ("Cr", 6),
    ("As", 5),
    ("C", 4),
    ("P", 5),
]


def _diagram(case: tuple[str, int], total: float) -> Speciation:
    return speciation(case[0], case[1], total=total)


class TestBalances:
    """At any pH and total."""

    @given(st.sampled_from(CASES), st.floats(0, 14), st.sampled_from([1.0, 1e-2, 1e-5]))
    def test_the_forms_hold_what_is_dissolved(self, case: tuple[str, int], ph: float, total: float) -> None:
        diagram = _diagram(case, total)
        found = diagram.at(ph)
        amount = sum(float(s.elements[case[0]]) * 10.0**log for s, log in found.log10.items())
        assert amount == pytest.approx(found.dissolved)
        assert found.dissolved <= total * (1 + 1e-9)
        if found.solid is None:
            assert found.dissolved == pytest.approx(total, rel=1e-9)

    @given(st.sampled_from([("S", 4), ("Cl", 1), ("Br", 1), ("S", -2)]), st.floats(0, 14))
    def test_neighbours_stand_in_the_ratio_of_their_constant(self, case: tuple[str, int], ph: float) -> None:
        acid, base, name = {
            ("S", 4): ("HSO3^-(aq)", "SO3^2-(aq)", "acid_HSO3-"),
            ("Cl", 1): ("HClO(aq)", "ClO^-(aq)", "acid_HClO"),
            ("Br", 1): ("HBrO(aq)", "BrO^-(aq)", "acid_HBrO"),
            ("S", -2): ("H2S(aq)", "HS^-(aq)", "acid_H2S"),
        }[case]
        logs = _diagram(case, 0.01).at(ph).log10
        pka = shipped().equilibria[name][0].value
        assert logs[Species.parse(base)] - logs[Species.parse(acid)] == pytest.approx(ph - pka, abs=1e-6)

    @given(st.sampled_from([("S", 4), ("Cl", 1), ("Br", 1), ("C", 4), ("As", 5)]), st.floats(0, 14))
    def test_shares_are_those_of_species_at(self, case: tuple[str, int], ph: float) -> None:
        found = _diagram(case, 1e-6).at(ph)
        shares = thermo.species_at(next(iter(found.log10)), ph)
        assert {form.species for form in shares.forms} == set(found.log10)
        for form in shares.forms:
            assert found.log10[form.species] + 6 == pytest.approx(form.log10, abs=1e-6)


def test_dichromate_grows_with_the_total() -> None:
    def share(total: float) -> float:
        found = speciation("Cr", 6, total=total).at(3.0)
        return 2 * math.exp(math.log(10) * found.log10[Species.parse("Cr2O7^2-(aq)")]) / total

    assert share(1.0) > 0.8
    assert share(1e-4) < 0.05
    k = thermo.equilibrium_constant("2 HCrO4^- -> Cr2O7^2- + H2O").log10
    logs = speciation("Cr", 6, total=0.1).at(3.0).log10
    found = logs[Species.parse("Cr2O7^2-(aq)")] - 2 * logs[Species.parse("HCrO4^-(aq)")]
    # The constant of hydrogenchromate moves one of the two forms by 0.03 from its Gibbs energy.
    assert found == pytest.approx(k, abs=0.1)


def test_a_saturated_solution_obeys_the_solubility_product() -> None:
    found = speciation("Mn", 2, total=0.01).at(10.0)
    assert str(found.solid) == "Mn(OH)2(s)"
    log_k = thermo.equilibrium_constant("Mn(OH)2(s) + 2 H^+ -> Mn^2+ + 2 H2O").log10
    assert found.log10[Species.parse("Mn^2+(aq)")] == pytest.approx(log_k - 20, abs=1e-6)
    without = speciation("Mn", 2, total=0.01, without=["Mn(OH)2(s)", "MnO(s)"]).at(10.0)
    assert without.solid is None


def test_crossings_of_sulfite_are_its_constants() -> None:
    crossings = speciation("S", 4).crossings
    assert [str(c.below) for c in crossings] == ["SO2(aq)", "HSO3^-(aq)"]
    first, second = (shipped().equilibria[name][0].value for name in ("acid_SO2", "acid_HSO3-"))
    assert [c.ph for c in crossings] == [pytest.approx(first, abs=1e-5), pytest.approx(second, abs=1e-5)]


def test_without_a_measured_constant_the_gibbs_energies_decide() -> None:
    crossings = {(str(c.below), str(c.above)): c.ph for c in speciation("As", 5).crossings}
    log_k = thermo.equilibrium_constant("H2AsO4^- -> H^+ + HAsO4^2-").log10
    assert crossings["H2AsO4^-(aq)", "HAsO4^2-(aq)"] == pytest.approx(-log_k, abs=1e-5)


def test_an_open_oxidation_state_is_asked_for() -> None:
    with pytest.raises(DomainError, match="several oxidation states") as caught:
        speciation("S")
    assert caught.value.hint
    assert "-2" in caught.value.hint
    assert speciation("Co", only=["Co^2+", "Co(OH)2(s)"]).state == 2


def test_bad_requests_are_refused() -> None:
    with pytest.raises(DomainError, match="no dissolved form"):
        speciation("Cl", 2)
    with pytest.raises(DomainError, match="more than zero"):
        speciation("Cl", 1, total=0)
    with pytest.raises(DomainError, match="empty"):
        speciation("Cl", 1, ph=(7, 7))


def test_the_total_may_carry_its_unit() -> None:
    assert speciation("Cl", 1, total=Quantity(10, "mmol/kg")).total == pytest.approx(0.01)


def test_the_table_has_a_row_for_each_ph() -> None:
    text = speciation("Cl", 1).table()
    assert sum(line.split()[:1] == [str(ph)] for ph in range(15) for line in text.splitlines()) == 15
    assert "HClO(aq) | ClO^-(aq)" in text
