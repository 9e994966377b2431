"""The gate judges the strength that is in the pot: a feed that is a solution goes in as it stands."""

from __future__ import annotations

import pytest

from redoxlib import Job, compare
from redoxlib._situation import situation
from redoxlib.data import shipped


@pytest.mark.parametrize(
    ("feed", "free"),  # g of cyanide ion in a litre, by hand: 26.02 g/mol of 49.01 g/mol NaCN
    [("sodium cyanide 40 g/L", 21.2), ("potassium cyanide 0.1 mol/L", 2.60), ("sodium cyanide 5 g/L", 2.65)],
)
@pytest.mark.parametrize("declared", [None, "1 g/L"])
def test_strong_cyanide_in_a_bottle_is_stopped_however_thin_it_is_said_to_be(
    feed: str, free: float, declared: str | None
) -> None:
    job = Job("CN^- -> OCN^-", feed=feed, amount="5 L", medium=11, concentration=declared)
    assert situation(job, None, shipped()).free_cyanide_g_L == pytest.approx(free, rel=0.01)
    asked = compare(job)
    assert not asked.ranked
    assert "G38" in {refusal.rule for refusal in asked.refused}


def test_thin_cyanide_in_a_bottle_passes_with_its_caution() -> None:
    job = Job("CN^- -> OCN^-", feed="sodium cyanide 2 g/L", amount="5 L", medium=11, oxidants=["NaOCl"])
    assert situation(job, None, shipped()).free_cyanide_g_L == pytest.approx(1.06, rel=0.01)
    assert compare(job).place("NaOCl") == 1


def test_a_solid_feed_is_judged_at_the_strength_of_the_pot() -> None:
    job = Job("CN^- -> OCN^-", feed="sodium cyanide 98 %", amount="50 g", medium=11)
    assert situation(job, None, shipped()).free_cyanide_g_L == pytest.approx(0.04 * 26.02, rel=0.01)
