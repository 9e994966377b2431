"""Every row of every table can be traced, and every number says how far to trust it."""

from __future__ import annotations

import csv
import re
import subprocess
import sys
from importlib.resources import files

import pytest

from redoxlib.data import TABLES, shipped
from redoxlib.errors import TableError


def lines(name: str) -> list[dict[str, str]]:
    path = files("redoxlib.data") / TABLES[name].file
    if not path.is_file():
        return []
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def test_the_shipped_tables_have_no_fault_at_all() -> None:
    try:
        shipped().check()
    except TableError as error:
        pytest.fail(str(error))


@pytest.mark.parametrize("name", [name for name in TABLES if name != "sources"])
def test_every_row_names_a_source_that_exists(name: str) -> None:
    keys = {row["key"] for row in lines("sources")}
    loose = [row for row in lines(name) if not {k.strip() for k in row["source"].split(";")} <= keys]
    assert loose == []


@pytest.mark.parametrize("name", [name for name in TABLES if name != "sources"])
def test_every_number_has_unit_uncertainty_and_basis(name: str) -> None:
    bare = [
        row
        for row in lines(name)
        if row.get("value")
        and not (
            row["unit"]
            and row["basis"]
            and (row["uncertainty"] or row.get("direction") in ("lower", "upper"))
        )
    ]
    assert bare == []


def test_a_citation_is_long_enough_to_find_the_work() -> None:
    short = [s.key for s in shipped().sources.values() if len(s.citation) < 20]
    assert short == []


@pytest.mark.parametrize("name", ["formation", "couples"])
def test_a_recalled_value_says_so_in_its_source_and_its_note(name: str) -> None:
    for row in lines(name):
        told = re.search(r"\brecalled\b", row["note"])
        assert ("memory" in row["source"].split(";")) == bool(told), row


@pytest.mark.parametrize("name", ["formation", "couples", "liquids", "solutions", "bottles"])
def test_a_recalled_number_has_no_published_uncertainty(name: str) -> None:
    loose = [r for r in lines(name) if "memory" in r["source"].split(";") and r["basis"] == "published"]
    assert loose == []


def test_a_computed_value_says_from_what() -> None:
    silent = [
        r["species"] for r in lines("formation") if "computed" in r["source"].split(";") and not r["note"]
    ]
    assert silent == []


def test_exactly_one_row_is_chosen_for_each_property() -> None:
    for properties in shipped().formation.values():
        for rows in properties.values():
            assert [row.chosen for row in rows] == [True] + [False] * (len(rows) - 1)


MEASURED_APART = {
    "N2O4(g)": "Giauque and Kemp (1938) measured a dissociation constant 2 kJ/mol off the NBS row"
}


def test_every_chosen_value_belongs_to_one_family() -> None:
    """A reaction of any chosen rows must not mix thermochemical networks."""
    strays = [
        (species, name)
        for species, properties in shipped().formation.items()
        for name, rows in properties.items()
        if "nbs1982" not in rows[0].families and species not in MEASURED_APART
    ]
    assert strays == []


def test_the_tables_are_as_large_as_the_work_needs() -> None:
    full = [s for s, p in shipped().formation.items() if {"dfH", "dfG", "S"} <= set(p)]
    couples = shipped().couples.values()
    assert len(full) >= 220
    assert len(couples) >= 110
    assert {couple.medium for couple in couples} == {"acid", "base", "any"}


def test_reading_the_tables_loads_no_heavy_library() -> None:
    code = (
        "import sys; from redoxlib.data import shipped; t = shipped(); t.formation, t.couples, t.oxidants;"
        "print([m for m in ('numpy', 'pandas', 'scipy', 'sympy', 'periodictable') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
