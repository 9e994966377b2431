"""What a key means without a job: the same keys as the page, and the same inputs as the plans."""

from __future__ import annotations

from pathlib import Path

import pytest

from redoxlib.bench import BenchPlan, about, key_facts, plan
from redoxlib.cli import main
from redoxlib.compare import clear, compare
from redoxlib.data import TABLES, shipped
from redoxlib.errors import MissingDataError
from redoxlib.quantity import Quantity

PAGE = Path(__file__).parents[2] / "docs" / "keys.md"


def plans() -> list[BenchPlan]:
    made = []
    for text, key, fields in (
        ("Br^- -> Br2", "H2O2", {"cooling": "50 W", "room": "30 m3"}),
        ("Br^- -> Br2", "KMnO4", {"medium": 0.5}),
        ("Cu -> CuSO4", "H2O2", {}),
        ("I^- -> I2", "NaOCl", {"bottles": ["bleach 12.5 % trade"]}),
        ("CN^- -> OCN^-", "H2O2", {"medium": 11}),
        ("I^- -> I2", "anode", {}),
        ("Mn^2+ -> MnO2", "KMnO4", {"purpose": "remove", "medium": 7.2, "potable": True}),
    ):
        made.append(plan(clear(compare(text, oxidants=[key], **fields).route(key)), hood="0.3 m3/s"))
    return made


PLANS = plans()


def test_the_rows_are_the_keys_of_the_page_with_their_units_and_meanings() -> None:
    page = []
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("| ").split("|")]
        if line.startswith("| `"):
            page.append((cells[0].strip("`"), cells[1], cells[2].replace("`", "")))
    assert page == [(facts.key, facts.unit, facts.meaning) for facts in key_facts()]


def test_every_entry_of_a_plan_is_explained_in_its_unit_and_from_its_inputs() -> None:
    for sheet in PLANS:
        for key in sheet:
            facts, entry = about(key), sheet[key]
            if isinstance(entry.value, Quantity):
                assert entry.value.unit == facts.unit, key
            for name in entry.inputs:
                assert any(about(name).key == about(wanted).key for wanted in facts.inputs), (key, name)


def test_every_row_has_a_formula_and_names_tables_and_keys_that_exist() -> None:
    tables = {spec.file for spec in TABLES.values()}
    for facts in key_facts():
        assert facts.formula, facts.key
        assert set(facts.tables) <= tables
        assert all(about(name) for name in facts.inputs)


def test_a_number_without_tables_anywhere_behind_it_has_no_source_of_data() -> None:
    """Follow the inputs down: what reaches no table rests on practice or a definition alone."""
    allowed = {"practice", "house", "textbook_inorganic", "stoessel2008"}

    def behind(key: str, seen: frozenset[str] = frozenset()) -> set[str]:
        facts = about(key)
        if facts.key in seen:
            return set()
        return set(facts.tables).union(*(behind(k, seen | {facts.key}) for k in facts.inputs))

    known = shipped().sources
    for key in ("charge.extent", "dose.min", "charge.feed.needed.mol"):
        sheet = PLANS[0]
        if not behind(key):
            assert {s for s in sheet[key].sources if known[s].kind != "definition"} <= allowed


def test_the_command_explains_a_key_without_a_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["why", "quench.base.mol"]) == 0
    told = capsys.readouterr().out
    assert "= acid left + acid the quench makes" in told
    assert "from quench.acid_left.mol" in told
    assert main(["why", "heat.reaction.per_mol"]) == 0
    assert "formation.csv" in capsys.readouterr().out


def test_the_command_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["why", "heat.rise.K", "--json"]) == 0
    assert '"redoxlib/key/1"' in capsys.readouterr().out


def test_a_key_nobody_has_names_its_neighbours() -> None:
    with pytest.raises(MissingDataError, match=r"quench\.bas\.mol") as caught:
        about("quench.bas.mol")
    assert "quench.base.mol" in (caught.value.hint or "")


def test_the_plan_answers_every_question_of_the_page() -> None:
    page = (PAGE.parent / "how-to" / "bench-plan.md").read_text(encoding="utf-8")
    asked = [line for line in page.splitlines() if line.startswith("| ") and "?" in line]
    assert len(asked) >= 20
    for line in asked:
        for key in line.split("|")[2].replace("`", "").split(","):
            assert key.strip() in PLANS[0], line
