"""Shared errors cancel when rows are sampled; families are not mixed in silence."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.errors import DomainError, MissingDataError

CYANIDE = ("CN^- + ClO^- -> OCN^- + Cl^-", "CN^- + H2O2(aq) -> OCN^- + H2O")


def test_a_sample_has_the_mean_and_spread_of_the_analytical_answer() -> None:
    drawn = thermo.sample(CYANIDE, n=20_000, seed=3)
    for index, text in enumerate(CYANIDE):
        exact = thermo.gibbs(text)
        assert exact.uncertainty
        assert drawn.quantity(index).value == pytest.approx(exact.value, abs=4 * exact.uncertainty / 141)
        assert drawn.quantity(index).uncertainty == pytest.approx(exact.uncertainty, rel=0.03)


def test_the_error_of_a_shared_species_cancels_in_a_difference() -> None:
    drawn = thermo.sample(CYANIDE, n=20_000, seed=3)
    combined = thermo.gibbs("ClO^- + H2O -> H2O2(aq) + Cl^-")
    difference = drawn.difference(0, 1)
    assert combined.uncertainty
    assert difference.uncertainty == pytest.approx(combined.uncertainty, rel=0.03)
    independent = (drawn.quantity(0) - drawn.quantity(1)).uncertainty
    assert independent
    assert (difference.uncertainty or 0.0) < independent / 5


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(CYANIDE), st.integers(1, 5), st.sampled_from(["gibbs", "enthalpy", "entropy"]))
def test_an_equation_and_its_multiple_are_drawn_in_step(text: str, factor: int, quantity: str) -> None:
    from redoxlib.notation import Equation

    equation = Equation.parse(text)
    drawn = thermo.sample([equation, equation.scaled(factor)], n=50, quantity=quantity)  # type: ignore[arg-type]
    assert drawn.draws[:, 1] == pytest.approx(factor * drawn.draws[:, 0])


def test_the_same_seed_gives_the_same_draws() -> None:
    one, other = thermo.sample(CYANIDE, n=10, seed=5), thermo.sample(CYANIDE, n=10, seed=5)
    assert (one.draws == other.draws).all()
    assert (one.draws != thermo.sample(CYANIDE, n=10, seed=6).draws).any()
    assert 0.0 <= one.share_below(0, 1) <= 1.0


def test_correlated_pairs_are_noted() -> None:
    drawn = thermo.sample(["Fe^3+ + e^- -> Fe^2+"], n=10)
    assert "Fe^2+(aq) and Fe^3+(aq) were fixed together" in drawn.remarks[0]
    assert thermo.gibbs("HCN(aq) -> H^+ + CN^-").remarks
    assert thermo.gibbs(CYANIDE[0]).remarks == ()


def test_bad_requests_are_refused() -> None:
    with pytest.raises(DomainError):
        thermo.sample(CYANIDE, n=1)
    with pytest.raises(DomainError):
        thermo.sample(CYANIDE, quantity="heat")  # type: ignore[arg-type]
    with pytest.raises(MissingDataError):
        thermo.sample(["C3Cl3N3O3(s) + 3 H2O -> C3H3N3O3(s) + 3 HClO(aq)"])


def test_the_verbs_do_not_load_numpy() -> None:
    code = (
        "import sys; from redoxlib import thermo; thermo.potential('Fe^3+ + e^- -> Fe^2+', temperature=310);"
        "thermo.species_at('HClO', 7); print('numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


class TestFamilies:
    """One thermochemical family per reaction, or it is said."""

    def test_a_reaction_within_one_family_names_it(self) -> None:
        found = thermo.gibbs("H2O2(aq) + 2 Br^- + 2 H^+ -> Br2(l) + 2 H2O")
        assert "nbs1982" in found.families
        assert found.remarks == ()

    def test_rows_without_a_common_family_are_reported(self) -> None:
        other = shipped().with_rows(
            formation=[
                {
                    "species": "Fe^3+(aq)",
                    "property": "dfG",
                    "value": -16.28,
                    "unit": "kJ/mol",
                    "uncertainty": 1.0,
                    "basis": "published",
                    "source": "memory",
                    "family": "parker1995",
                    "note": "recalled",
                }
            ]
        )
        mixed = thermo.gibbs("Fe^3+ + e^- -> Fe^2+", tables=other)
        assert mixed.families == ()
        assert any(
            "no thermochemical family" in r and "Fe^3+(aq) from parker1995" in r for r in mixed.remarks
        )
        # The mixture is 0.12 V off, which is why it is said.
        right = thermo.gibbs("Fe^3+ + e^- -> Fe^2+")
        assert (mixed.value - right.value) / 96.485 == pytest.approx(0.12, abs=0.005)

    def test_every_tabulated_couple_is_within_one_family(self) -> None:
        mixed = []
        for couple in shipped().couples.values():
            try:
                found = thermo.gibbs(couple.half_reaction)
            except MissingDataError:
                continue
            if not found.families:
                mixed.append(couple.key)
        assert mixed == []
