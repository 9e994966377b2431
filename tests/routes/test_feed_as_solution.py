"""A feed that comes as a solution brings its own water, whichever way its strength is written."""

from __future__ import annotations

import pytest

from redoxlib import Job, Quantity, compare
from redoxlib.routes import Route


def _route(feed: str, amount: str) -> Route:
    oxidants, bottles = ["H2O2"], ["hydrogen peroxide 3 % w/w"]
    (route,) = compare(
        Job("Fe2+ -> Fe3+", feed=feed, amount=amount, oxidants=oxidants, bottles=bottles)
    ).routes
    return route


def test_a_molar_label_and_one_by_mass_make_nearly_the_same_pot() -> None:
    # 0.4 mol in half a litre is close to 10 % w/w of iron(II) chloride
    molar, by_mass = (
        _route("ferrous chloride solution 0.8 mol/L", "500 mL"),
        _route("FeCl2 10 % w/w", "0.4 mol"),
    )
    assert molar.pot_grams == pytest.approx(by_mass.pot_grams, rel=0.05)
    assert molar.liquor_grams == pytest.approx(by_mass.liquor_grams, rel=0.05)
    rises = [r.exotherm.rise for r in (molar, by_mass) if r.exotherm is not None]
    values = [rise.value for rise in rises if isinstance(rise, Quantity)]
    assert len(values) == 2
    assert values[0] == pytest.approx(values[1], rel=0.05)


def test_the_water_of_a_solution_is_water_of_the_pot() -> None:
    molar = _route("ferrous chloride solution 0.8 mol/L", "500 mL")
    assert 400 < molar.liquor_grams < 500
    assert not any("thin" in warning for warning in molar.warnings)  # a quarter of a litre on half a litre
    feed = molar.charge("feed")
    assert feed is not None
    assert "counted as water" in feed.note
