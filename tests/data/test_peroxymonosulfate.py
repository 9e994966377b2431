"""Peroxymonosulfate in alkali: the ion without its proton, computed from the acid and used above its pKa."""

from __future__ import annotations

import pytest

from redoxlib import compare, thermo
from redoxlib.data import shipped
from redoxlib.quantity import Unknown

ACID = "HSO5^-(aq) + H^+(aq) + 2 e^- -> SO4^2-(aq) + H2O(l)"
BASE = "SO5^2-(aq) + H2O(l) + 2 e^- -> SO4^2-(aq) + 2 OH^-(aq)"
STEP = 5.70801  # kJ/mol a unit of pKa at 25 C


def test_gibbs_energy_of_the_ion_gives_the_acid_constant_back() -> None:
    (row,) = shipped().equilibria["acid_HSO5-"]
    computed = thermo.gibbs("HSO5^-(aq) -> H^+(aq) + SO5^2-(aq)").value / STEP
    assert computed == pytest.approx(row.value, abs=0.02)


def test_the_row_says_from_what_it_was_computed_and_how_little_it_is_known() -> None:
    row = shipped().formation["SO5^2-(aq)"]["dfG"][0]
    assert {"computed", "wiki_caro", "steele1982"} <= set(row.sources)
    rivals = [r.value for r in shipped().couples["HSO5-/HSO4-"].rows]
    assert row.uncertainty is not None
    assert row.uncertainty >= (max(rivals) - min(rivals)) * 2 * 96.485 * 0.9


def test_acid_and_base_couple_meet_at_the_acid_constant() -> None:
    (row,) = shipped().equilibria["acid_HSO5-"]
    for ph, above in ((row.value - 1, False), (row.value, None), (row.value + 1, True)):
        acid, base = (thermo.potential(half, ph=ph).value for half in (ACID, BASE))
        if above is None:
            assert acid == pytest.approx(base, abs=2e-3)
        else:
            assert (base < acid) == above


@pytest.mark.parametrize(("ph", "form"), [(2, "HSO5^-"), (9, "HSO5^-"), (10, "SO5^2-"), (12, "SO5^2-")])
def test_the_form_at_a_ph(ph: float, form: str) -> None:
    assert thermo.species_at("HSO5^-", ph).fraction(form) > 0.5


def test_the_triple_salt_on_cyanide_in_alkali_is_decided() -> None:
    answer = compare(
        "CN^- -> OCN^-",
        oxidants=["KHSO5"],
        medium=12.5,
        base="NaOH 50 % w/w",
        concentration="0.5 g/L",
    )
    assert answer.undecided == ()
    route = answer.route("KHSO5")
    assert str(route.parts[0].net_ionic) == "CN^-(aq) + SO5^2-(aq) -> OCN^-(aq) + SO4^2-(aq)"
    assert isinstance(route.parts[0].dH, Unknown)
