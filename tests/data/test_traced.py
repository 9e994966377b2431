"""Any number of any table is reached by one command, with its source and its printed origin."""

from __future__ import annotations

import csv
import io
import json
import random
from collections.abc import Iterator
from contextlib import redirect_stdout
from importlib.resources import files

import pytest

from redoxlib import cli
from redoxlib._facts import facts
from redoxlib.data import TABLES, shipped
from redoxlib.notation import Equation, Species
from redoxlib.reports import markdown, species_document

ASKED_BY = {
    "formation": "species",
    "liquids": "species",
    "forms": "species",
    "solutions": "solute",
    "bottles": "solute",
    "limits": "formula",
    "hazards": "formula",
    "restricted": "formula",
    "rates": "reductant_species",
    "couples": "half_reaction",
    "equilibria": "equilibrium",
}
"""Table, and the column that says which substance to ask for."""


def lines(name: str) -> list[dict[str, str]]:
    path = files("redoxlib.data") / TABLES[name].file
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def asked(row: dict[str, str], column: str) -> str:
    """Text a reader would type for this row: its first species, where the cell is an equation."""
    text = row[column]
    if "->" not in text:
        return text
    equation = Equation.parse(text)
    return next(str(s) for _, s in (*equation.reactants, *equation.products) if s.elements)


def sampled() -> Iterator[tuple[str, dict[str, str]]]:
    draw = random.Random(20)
    for name, column in ASKED_BY.items():
        rows = [row for row in lines(name) if row[column]]
        for row in draw.sample(rows, min(12, len(rows))):
            yield name, row


def printed(*arguments: str) -> str:
    out = io.StringIO()
    with redirect_stdout(out):
        assert cli.main(["data", *arguments]) == 0
    return out.getvalue()


@pytest.mark.parametrize(("name", "row"), list(sampled()))
def test_a_random_row_is_traced_to_its_source_in_one_command(name: str, row: dict[str, str]) -> None:
    text = asked(row, ASKED_BY[name])
    held = json.loads(printed(text, "--json"))
    same = [
        found
        for found in held[name]
        if found["source"] == row["source"]
        and ("value" not in row or found["value"] == float(row["value"]))
        and found.get("basis") == row.get("basis")
    ]
    assert same, f"{row} is not among the rows of {text}"
    page = " ".join(printed(text).split())
    for key in row["source"].split(";"):
        citation = shipped().sources[key.strip()].citation
        assert held["sources"][key.strip()].startswith(citation)
        assert f"[{key.strip()}] {' '.join(citation.split())}" in page


@pytest.mark.parametrize("name", ["bottles", "solutions", "liquids", "hazards", "limits", "restricted"])
def test_no_row_about_a_substance_is_out_of_reach(name: str) -> None:
    column = ASKED_BY[name]
    wanted = {row[column] for row in lines(name) if row[column]}
    found = {text for text in wanted if getattr(facts(text), name)}
    assert found == wanted


def test_keys_of_oxidants_and_labels_of_bottles_lead_to_the_substance() -> None:
    assert facts("NaOCl").species == Species.parse("NaClO")
    assert facts("hydrogen peroxide 30 % w/w").species == Species.parse("H2O2")


def test_an_oxidant_shows_what_it_does_and_how_fast() -> None:
    found = facts("H2O2")
    kinds = ("reactions", "kinetics", "rates", "equilibria", "bottles")
    assert [kind for kind in kinds if not getattr(found, kind)] == []


def test_every_rule_of_the_gate_and_every_statement_is_traced() -> None:
    for name, column, sources in (("gate_rules", "rule", "sources"), ("statements", "code", "source")):
        path = files("redoxlib.data") / f"{name}.csv"
        for row in csv.DictReader(path.read_text(encoding="utf-8").splitlines()):
            held = json.loads(printed(row[column], "--json"))
            assert {key.strip() for key in row[sources].split(";")} <= set(held["sources"]), row[column]


def test_every_name_leads_to_the_source_of_its_number() -> None:
    rows = lines("names")
    for row in random.Random(7).sample(rows, 60):
        assert row["source"] in facts(row["formula"]).sources, row["name"]


@pytest.mark.parametrize(
    ("text", "kind", "source"),
    [
        ("NO2^-", "nitrite", "textbook_inorganic"),
        ("Sn^2+", "tin(II)", "textbook_inorganic"),
        ("acetone", "ketone", "textbook_organic"),
        ("ClO2", "chlorine dioxide", "textbook_inorganic"),
    ],
)
def test_what_the_gate_takes_a_species_for_is_on_its_page(text: str, kind: str, source: str) -> None:
    page = " ".join(printed(text).split())
    told = page.split("Taken for:")[1].split("].")[0]
    assert kind in told
    assert told.endswith(f"[{source}")
    assert f"[{source}] {shipped().sources[source].citation}" in page


def test_what_was_reviewed_on_a_feed_is_on_its_page() -> None:
    page = markdown(species_document(facts("NO2^-")))
    judged = page.split("Before the gate")[1]
    assert "nitrite to nitrate near neutral pH" in judged
    assert "hydrogen peroxide" in judged
