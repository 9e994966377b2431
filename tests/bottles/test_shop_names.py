"""Names of the shop that are sold as several compounds are asked about, and no solid is read as a gas."""

from __future__ import annotations

import re

import pytest

from redoxlib.bottles import read_bottle, shop_name
from redoxlib.compare import compare
from redoxlib.errors import JobError, NotationError
from redoxlib.notation import Species


@pytest.mark.parametrize(
    "label",
    [
        "chlorine granules",
        "granular chlorine",
        "chlorine tablets 90 %",
        "chlorine, granules",
        "pool chlorine granules",
        "pool chlorine granules 70 %",
        "Pool Chlorine Tablets",
        "pool granules",
        "pool chlorine",
        "pool chlorine 12.5 % w/v",
        "swimming pool chlorine powder",
        "stabilised chlorine granules",
        "liquid pool chlorine 12.5 % trade",
        "liquid chlorine 12.5 % trade",
        "bleach tablets",
        "sodium hypochlorite granules",
    ],
)
def test_what_is_sold_as_several_compounds_is_asked_about(label: str) -> None:
    with pytest.raises(NotationError, match="does not say which compound it is") as caught:
        read_bottle(label)
    for compound in ("calcium hypochlorite", "trichloroisocyanuric acid", "sodium dichloroisocyanurate"):
        assert compound in str(caught.value)


@pytest.mark.parametrize(
    ("label", "state"),
    [
        ("chlorine dioxide tablets", "gas"),
        ("ozone powder", "gas"),
        ("ammonia granules", "gas"),
        ("bromine tablets", "liquid"),
        ("hydrogen peroxide powder 35 % w/w", "liquid"),
    ],
)
def test_no_solid_is_read_as_a_gas_or_a_liquid(label: str, state: str) -> None:
    with pytest.raises(NotationError, match=f"is a {state} at 25 C, and the label says solid"):
        read_bottle(label)


@pytest.mark.parametrize("label", ["bleaching powder", "bleaching powder 35 %", "chlorinated lime"])
def test_bleaching_powder_is_neither_bleach_nor_lime(label: str) -> None:
    with pytest.raises(NotationError, match="calcium hypochlorite powder 35 % available chlorine") as caught:
        read_bottle(label)
    assert "did you mean" not in str(caught.value)


@pytest.mark.parametrize(
    ("label", "formula", "form"),
    [
        ("chlorine", "Cl2", "gas"),
        ("chlorine gas", "Cl2", "gas"),
        ("calcium hypochlorite granules 65 % available chlorine", "Ca(ClO)2", "solid"),
        ("dichlor granules", "NaC3Cl2N3O3", "solid"),
        ("trichlor tablets", "C3Cl3N3O3", "solid"),
        ("oxygen cylinder", "O2", "gas"),
        ("solid carbon dioxide", "CO2", "solid"),
        ("oxalic acid crystals", "H2C2O4", "solid"),
    ],
)
def test_what_names_its_compound_is_read(label: str, formula: str, form: str) -> None:
    bottle = read_bottle(label)
    assert str(bottle.solute) == str(Species.parse(formula))
    assert bottle.form == form


def test_the_name_of_the_shop_is_no_oxidant_either() -> None:
    with pytest.raises(JobError, match="read the compound on the label"):
        compare("Fe^2+ -> Fe(OH)3", purpose="remove", oxidants=["pool chlorine"])
    assert not shop_name("bleach")


@pytest.mark.parametrize(
    ("label", "other"),
    [
        ("calcium hypochlorite 70 %", "70 % available chlorine, which is 70.6 % w/w"),
        ("dichlor 56 %", "56 % available chlorine, which is 86.9 % w/w"),
    ],
)
def test_a_bare_per_cent_of_a_chlorinating_solid_tells_its_other_reading(label: str, other: str) -> None:
    assert [each.other for each in read_bottle(label).assumptions] == [other]


@pytest.mark.parametrize(
    "label",
    [
        "potassium permanganate 97 %",  # has no available chlorine
        "trichloroisocyanuric acid 97 %",  # would be more than all of it
        "calcium hypochlorite 70 % available chlorine",  # says which
    ],
)
def test_where_there_is_one_reading_no_other_is_told(label: str) -> None:
    assert not any("available" in each.other for each in read_bottle(label).assumptions)


def test_a_name_cut_short_brings_all_that_hold_it() -> None:
    with pytest.raises(JobError, match="did you mean hydrogen peroxide, "):
        compare("Fe^2+ -> Fe^3+", oxidants=["peroxid"])


@pytest.mark.parametrize("name", ["chlorine granules", "pool chlorine", "bleaching powder"])
def test_every_label_that_the_mend_offers_is_read_as_it_stands(name: str) -> None:
    offered = re.findall(r"'([^']+)'", shop_name(name))
    assert offered
    for label in offered:
        assert read_bottle(label).form == ("solid" if "calcium" in label else "solution")
