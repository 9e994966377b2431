"""What reports say: every figure with its unit, warnings where they belong, nothing the gate withheld."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

import redoxlib
from redoxlib._display import html_of
from redoxlib.bench import BenchPlan
from redoxlib.compare import Comparison, clear
from redoxlib.data import shipped
from redoxlib.errors import DomainError
from redoxlib.reports import (
    Caution,
    Document,
    Facts,
    Heading,
    Note,
    Table,
    document,
    markdown,
    plain,
    terminal,
)
from redoxlib.routes import Route, build_route
from redoxlib.safety import DEFERRAL

OXIDANTS = ["H2O2", "KMnO4", "NaOCl", "K2Cr2O7", "NaClO3", "KClO3", "Fe3+", "O2", "ClO2", "K2FeO4"]


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    return redoxlib.compare("Br^- -> Br2", oxidants=OXIDANTS)


@pytest.fixture(scope="module")
def page(comparison: Comparison) -> str:
    return terminal(document(comparison))


def ranking(result: Document) -> Table:
    return next(block for block in result.blocks if isinstance(block, Table) and "points" in block.columns)


def squeezed(text: str) -> str:
    return " ".join(text.split())


def part(text: str, title: str) -> str:
    """The text from a heading to the next of its kind."""
    lines = text.splitlines()
    start = next(n for n, line in enumerate(lines) if line == title or line.startswith(f"{title}:"))
    end = next(
        (n - 1 for n, line in enumerate(lines) if n > start + 2 and line and set(line) == {"-"}), len(lines)
    )
    return "\n".join(lines[start:end])


class TestComparison:
    def test_the_job_its_defaults_weights_and_scales_come_first(
        self, page: str, comparison: Comparison
    ) -> None:
        head = squeezed(page.split("Ranked:")[0])
        for line in comparison.job.defaults:
            assert line.startswith("weights:") or line in head
        assert "mass 1, by-products 1, heat 1, side products 1" in head
        for words in ("kg in per kg product", "g times tier per mol", "K adiabatic rise", "mol times tier"):
            assert words in head

    def test_the_ranking_has_one_row_per_ranked_route_in_order(self, comparison: Comparison) -> None:
        rows = ranking(document(comparison)).rows
        assert [row.cells[1] for row in rows] == [route.oxidant.key for route in comparison.routes]

    def test_every_column_of_figures_names_its_unit(self, comparison: Comparison) -> None:
        table = ranking(document(comparison))
        units = dict(zip(table.columns, table.units, strict=True))
        assert units["mass"] == "kg/kg"
        assert (units["rise"], units["E"]) == ("K", "V")
        assert "tier" in units["waste"]
        assert "mol" in units["side risk"]

    def test_ties_share_their_place(self, comparison: Comparison) -> None:
        tied = replace(
            comparison, ranked=((comparison.routes[0], comparison.routes[1]), (comparison.routes[2],))
        )
        assert [row.cells[0] for row in ranking(document(tied)).rows] == ["1=", "1=", "3"]

    def test_a_caution_stands_on_the_route_it_concerns(self, comparison: Comparison) -> None:
        rows = {row.cells[1]: row.warnings for row in ranking(document(comparison)).rows}
        assert any("Chromium(VI)" in text for text in rows["K2Cr2O7"])
        assert not any("Chromium(VI)" in text for text in rows["H2O2"])

    def test_what_concerns_every_route_is_said_once_above_the_table(self, comparison: Comparison) -> None:
        blocks = document(comparison).blocks
        at = blocks.index(ranking(document(comparison)))
        above = [block.text for block in blocks[:at] if isinstance(block, Caution)]
        assert any("Bromine is set free" in text for text in above)
        assert not any(
            "Bromine is set free" in text
            for row in ranking(document(comparison)).rows
            for text in row.warnings
        )

    def test_the_first_route_is_shown_with_equations_charge_and_yield(
        self, page: str, comparison: Comparison
    ) -> None:
        first = comparison.routes[0]
        detail = squeezed(page[page.index("In detail") : page.index("Stopped by the gate")])
        for equation in (*first.half_reactions, first.net_ionic, first.full):
            assert str(equation) in detail
        for words in ("What limits", "Largest yield", " mL", "per mol Br2(l)", "E of the cell", "Gas", "Pot"):
            assert words in detail

    def test_cautions_stand_above_the_charge(self, page: str) -> None:
        charge = page[page.index("\nCharge\n") :]
        assert charge.index("! ") < charge.index("oxidant ")

    def test_restricted_strengths_are_marked_at_the_bottle(self, page: str) -> None:
        assert "restricted in some places; check yours" in squeezed(part(page, "In detail"))

    def test_stopped_routes_carry_reason_source_and_a_safer_way_and_no_amount(self, page: str) -> None:
        stopped = part(page, "Stopped by the gate")
        assert "sodium chlorate, potassium chlorate" in stopped
        assert stopped.count("Rule G01") == 1
        assert "[bretherick]" in stopped
        assert "Safer" in stopped
        for unit in (" g ", " mL", " mol", "kJ", " K "):
            assert unit not in stopped

    def test_unreviewed_routes_show_equations_and_no_charge(self, page: str) -> None:
        text = squeezed(part(page, "Not reviewed"))
        assert "FeO4^2-" in text
        assert "not a charge" in text
        assert " mL" not in text
        assert "weigh" not in text

    def test_the_rest_is_listed_with_reasons(self, page: str) -> None:
        assert "the reaction runs the other way" in squeezed(part(page, "Not feasible"))
        assert "O2" in part(page, "Feasible, but inert or too slow")

    def test_every_source_key_that_is_cited_is_spelt_out(self, page: str) -> None:
        import re

        known = shipped().sources
        spelt = set(re.findall(r"\[([a-z_0-9]+)\] ", page))
        assert {key for key in re.findall(r"\[([a-z_0-9]+)\]", page) if key in known} <= spelt

    def test_the_deferral_is_said_once(self, page: str, comparison: Comparison) -> None:
        assert squeezed(page).count(squeezed(DEFERRAL)) == 1
        assert squeezed(markdown(document(comparison))).count("written risk assessment") == 1

    def test_no_line_is_wider_than_eighty(self, page: str) -> None:
        assert max(map(len, page.splitlines())) <= 80

    def test_nothing_left_to_rank_is_said(self) -> None:
        text = terminal(document(redoxlib.compare("Br^- -> Br2", oxidants=["NaClO3"])))
        assert "No oxidant is left to rank" in text

    def test_the_order_is_tried_with_other_weights(self, page: str) -> None:
        assert "Weights ± 20 %" in page
        assert "Not beaten on all" in page


class TestRoute:
    def build(self, key: str, **fields: Any) -> Route:
        route = build_route(redoxlib.Job("Br^- -> Br2", **fields), shipped().oxidants[key])
        assert isinstance(route, Route)
        return route

    def test_a_stopped_route_shows_reasons_alone_even_when_built_by_hand(self) -> None:
        route = self.build("NaClO3")
        text = terminal(document(route))
        assert "Rule G01" in text
        for words in ("Charge", "Largest yield", "per mol", " mL"):
            assert words not in text
        data = plain(route)
        assert data["decision"] == "stop"
        assert "charges" not in data
        assert "parts" not in data

    def test_an_unreviewed_route_shows_no_charge_even_when_built_by_hand(self) -> None:
        text = terminal(document(self.build("K2FeO4")))
        assert "not a charge" in text
        assert "Largest yield" not in text
        assert "charges" not in plain(self.build("K2FeO4"))

    def test_a_reviewed_route_shows_its_cautions(self) -> None:
        text = squeezed(terminal(document(self.build("H2O2"))))
        assert "! Bromine is set free" in text
        assert "Largest yield" in text

    def test_an_anode_shows_charge_and_energy(self) -> None:
        text = squeezed(terminal(document(self.build("anode"))))
        assert " A h; " in text
        assert " kW h at " in text
        assert "hydrogen from the cathode" in text


@pytest.fixture(scope="module")
def plan() -> BenchPlan:
    comparison = redoxlib.compare("Br^- -> Br2", oxidants=["H2O2"], cooling="50 W")
    return redoxlib.plan(clear(comparison.routes[0]))


class TestPlan:
    def test_every_number_stands_with_its_key(self, plan: BenchPlan) -> None:
        text = terminal(document(plan), width=110)
        for key in plan:
            assert key in text

    def test_steps_come_in_order_with_their_reasons(self, plan: BenchPlan) -> None:
        text = squeezed(terminal(document(plan)))
        places = [text.index(squeezed(f"{step.text} ({step.reason})")) for step in plan.steps]
        assert places == sorted(places)

    def test_json_has_every_entry(self, plan: BenchPlan) -> None:
        assert set(plain(plan)["entries"]) == set(plan)

    def test_reconciliation(self, plan: BenchPlan) -> None:
        text = terminal(document(redoxlib.reconcile(plan, product="40.0 g")))
        assert "Yield" in text
        assert " %" in text


@pytest.mark.parametrize(
    "result",
    [
        redoxlib.balance("H2 + O2 -> H2O"),
        redoxlib.balance("MnO4- + H2O2 + H+ -> Mn2+ + O2 + H2O"),
        redoxlib.check("H2 + O2 -> H2O"),
        redoxlib.oxidation_numbers("Fe3O4"),
    ],
    ids=["unique", "family", "check", "oxidation"],
)
def test_small_results_become_pages_html_and_json(result: object) -> None:
    assert terminal(document(result))
    assert html_of(result).startswith('<div class="redoxlib">')
    assert json.loads(json.dumps(plain(result), allow_nan=False))["schema"].startswith("redoxlib/")


def test_comparison_as_json_is_finite_and_versioned(comparison: Comparison) -> None:
    data = json.loads(json.dumps(plain(comparison), allow_nan=False))
    assert data["schema"] == "redoxlib/comparison/1"
    assert data["ranked"][0]["place"] == 1
    assert {row["oxidant"]["key"] for row in data["unreviewed"]} == {"K2FeO4"}
    assert all("charges" not in row for row in data["unreviewed"])


def test_a_value_without_a_report_says_so() -> None:
    with pytest.raises(DomainError, match="no report is made of a dict"):
        document({})
    with pytest.raises(TypeError, match="no schema"):
        plain({})


def test_a_document_is_its_own_document() -> None:
    page = Document((Heading("x"), Facts((("a", "b"),)), Note("c")))
    assert document(page) is page
