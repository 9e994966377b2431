"""Which acid and base are charged where the job names none: the product and the shelf say."""

from __future__ import annotations

import pytest

from redoxlib import Job, compare
from redoxlib.job import acid_label, base_label

SULFURIC, HYDROCHLORIC, NITRIC = (
    "sulfuric acid 50 % w/w",
    "hydrochloric acid 32 % w/w",
    "nitric acid 68 % w/w",
)


@pytest.mark.parametrize(
    ("conversion", "acid"),
    [
        ("Cu -> CuSO4", SULFURIC),
        ("Cu -> Cu^2+", SULFURIC),
        ("Cu -> CuCl2", HYDROCHLORIC),
        ("FeCl2 -> FeCl3", HYDROCHLORIC),
        ("Ag -> AgNO3", NITRIC),
        ("Pb -> Pb(NO3)2", NITRIC),
        ("Ag -> AgCl", SULFURIC),  # silver chloride comes down: no matter of the acid
    ],
)
def test_the_acid_has_the_anion_of_the_salt_asked_for(conversion: str, acid: str) -> None:
    job = Job(conversion)
    assert acid_label(job) == acid
    told = [line for line in job.defaults if line.startswith("acid: ")]
    assert bool(told) is (acid != SULFURIC)


def test_an_acid_that_is_named_is_taken_whatever_the_product() -> None:
    job = Job("Cu -> CuCl2", acid="sulfuric acid 30 % w/w", bottles=["hydrochloric acid 37 % w/w"])
    assert acid_label(job) == "sulfuric acid 30 % w/w"
    assert not [line for line in job.defaults if line.startswith("acid: ")]


def test_the_acid_and_base_on_the_shelf_come_before_the_usual_ones() -> None:
    shelf = ["250 mL of sulfuric acid 30 % w/w", "hydrochloric acid 37 % w/w", "sodium hydroxide 30 % w/w"]
    job = Job("Cu -> CuSO4", bottles=shelf)
    assert acid_label(job) == "sulfuric acid 30 % w/w"
    assert "acid: sulfuric acid 30 % w/w (it is on the shelf)" in job.defaults
    assert acid_label(Job("Cu -> CuCl2", bottles=shelf)) == "hydrochloric acid 37 % w/w"
    assert base_label(Job("I^- -> IO3^-", medium="base", bottles=shelf)) == "sodium hydroxide 30 % w/w"


def test_a_potassium_salt_asks_for_potassium_hydroxide() -> None:
    job = Job("KI -> KIO3", medium="base")
    assert base_label(job) == "potassium hydroxide 45 % w/w"
    assert "base: potassium hydroxide 45 % w/w (the product asked for is KIO3)" in job.defaults


@pytest.mark.parametrize(
    ("conversion", "oxidant", "full"),
    [
        ("Ag -> AgNO3", "H2O2", "2 Ag + H2O2 + 2 HNO3 -> 2 H2O + 2 AgNO3"),
        ("Cu -> CuCl2", "H2O2", "Cu + H2O2 + 2 HCl -> 2 H2O + CuCl2"),
        ("FeCl2 -> FeCl3", "H2O2", "2 FeCl2 + H2O2 + 2 HCl -> 2 H2O + 2 FeCl3"),
    ],
)
def test_the_salt_asked_for_is_what_the_equation_makes(conversion: str, oxidant: str, full: str) -> None:
    assert str(compare(conversion, oxidants=[oxidant]).route(oxidant).full) == full


def test_the_feeds_own_cation_goes_to_the_anion_that_is_made() -> None:
    made = compare("KCN -> KOCN", purpose="remove", medium=11, oxidants=["NaOCl"])
    assert str(made.route("NaOCl").full) == "KCN + NaClO -> KOCN + NaCl"


def test_a_salt_that_no_usual_acid_makes_is_refused_with_what_would() -> None:
    refused = compare("Cu -> Cu(CH3COO)2", oxidants=["H2O2"])
    assert not refused.ranked
    assert "name an acid" in refused.infeasible[0].reason


@pytest.mark.parametrize("cyanate", ["OCN^-", "CNO^-", "NCO^-"])
def test_the_spelling_of_the_product_does_not_change_the_salts(cyanate: str) -> None:
    made = compare(f"CN^- -> {cyanate}", purpose="remove", medium=11, oxidants=["Ca(OCl)2"])
    assert "CaCl2" in str(made.route("Ca(OCl)2").full)


def test_a_feed_in_solution_brings_its_own_water() -> None:
    told = Job("FeCl2 -> FeCl3", feed="iron(II) chloride 1.5 mol/L").defaults
    assert "concentration: the feed as it stands in its bottle, no water added" in told
    assert not [line for line in told if line.startswith("concentration: 1 mol/L")]
