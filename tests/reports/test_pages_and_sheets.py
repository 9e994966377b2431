"""Whole pages, the sheet for the bench, and the files they are written to."""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from redoxlib import cli, reports
from redoxlib.bench import BenchPlan, plan
from redoxlib.compare import clear, compare
from redoxlib.data import shipped
from redoxlib.errors import JobError
from redoxlib.reports import (
    Document,
    Table,
    hazard_words,
    latex,
    markdown,
    page,
    sheet_document,
    terminal,
    write,
)
from redoxlib.reports._document import BLANK, TICK, Heading, Picture, Row
from redoxlib.safety import DEFERRAL

BROMIDE = {"amount": "1 mol", "feed": "NaBr", "cooling": "50 W", "room": "30 m3"}


def made(text: str, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)))


@pytest.fixture(scope="module")
def bromide() -> BenchPlan:
    return made("Br^- -> Br2", "H2O2", **BROMIDE)


@pytest.fixture(scope="module")
def sheet(bromide: BenchPlan) -> Document:
    return sheet_document(bromide)


class Seen(HTMLParser):
    """What a page holds, by tag."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attrs for name, attrs in self.tags if name == tag]


@pytest.fixture(scope="module", params=["comparison", "plan", "sheet"])
def written(request: pytest.FixtureRequest, bromide: BenchPlan, sheet: Document) -> str:
    if request.param == "comparison":
        return page(reports.document(compare("Br^- -> Br2", oxidants=["H2O2", "NaOCl", "KBrO3", "NaClO3"])))
    return page(sheet if request.param == "sheet" else reports.document(bromide))


def test_a_page_is_one_file_that_loads_nothing(written: str) -> None:
    assert written.startswith("<!DOCTYPE html>")
    seen = Seen(written)
    loads = [attrs.get(name) for _, attrs in seen.tags for name in ("src", "srcset", "action")]
    assert not any(loads)
    assert [attrs["href"] for attrs in seen.all("link")] == ["data:,"]
    assert not re.search(r"url\(|@import|https?://(?!www\.w3\.org/2000/svg)", written.split("<main")[0])


def test_a_page_can_be_read_by_ear_and_by_key(written: str) -> None:
    seen = Seen(written)
    assert seen.all("html")[0]["lang"] == "en"
    assert (
        len(seen.all("h1"))
        == len(seen.all("main"))
        == len(seen.all("title")) - written.count("<title id=")
        == 1
    )
    ids = [attrs["id"] for _, attrs in seen.tags if attrs.get("id")]
    assert len(ids) == len(set(ids))
    assert all(attrs.get("scope") for attrs in seen.all("th"))
    assert len(seen.all("table")) == len(seen.all("caption"))
    names = [attrs["aria-label"] for attrs in seen.all("div") if attrs.get("role") == "region"]
    assert len(names) == len(seen.all("table")) == len(set(names))
    for attrs in seen.all("svg"):
        assert attrs["role"] == "img"
        assert set(str(attrs["aria-labelledby"]).split()) <= set(ids)
    for attrs in seen.all("a"):
        assert str(attrs["href"]).removeprefix("#") in ids
    levels = [int(tag[1]) for tag, _ in seen.tags if re.fullmatch(r"h[1-6]", tag)]
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_a_caution_moves_with_its_row_when_a_table_is_sorted() -> None:
    table = Table(("what", "g"), tuple(Row((name, "1"), ("hot",)) for name in "abc"))
    text = page(Document((Heading("t", 1), table)))
    assert text.count("<tbody>") == 3
    assert re.search(r"<tbody><tr><td>a</td>.*?hot</div></td></tr></tbody><tbody><tr><td>b", text)
    assert text.count('<button type="button">') == 2


def test_a_caution_fits_a_telephone_and_a_head_is_printed_on_every_sheet() -> None:
    style, printed = page(Document((Heading("t", 1),))).split("@media print")
    assert "tr.caution div{position:sticky;left:.6rem;max-width:calc(100vw - 4rem)}" in style
    # a button is not painted again where the head of a table is repeated; its words are
    assert "th button{display:contents;" in printed


def test_what_looks_like_markup_stays_text() -> None:
    text = page(Document((Heading('<b>&"', 1), Table(('"><script>', "b"), (Row(("<i>", "c")),)))))
    assert "<b>" not in text
    assert "<i>" not in text
    assert text.count("<script>") == 1


def test_the_sheet_holds_every_step_with_a_box(bromide: BenchPlan, sheet: Document) -> None:
    rows = [row for block in sheet.blocks if isinstance(block, Table) for row in block.rows]
    ticked = [row.cells[1] for row in rows if row.cells[0] == TICK]
    for steps in (bromide.before, bromide.assays, bromide.steps, bromide.isolation, bromide.quench_steps):
        assert steps
        for step in steps:
            assert any(step.text in cell for cell in ticked), step.text
    assert sum(BLANK in row.cells for row in rows) >= len(bromide.route.charges) + len(bromide.steps)


def test_the_sheet_leaves_out_only_what_its_tables_say_already(bromide: BenchPlan, sheet: Document) -> None:
    told = {row.cells[0] for b in sheet.blocks if isinstance(b, Table) for row in b.rows}
    elsewhere = ("charge.", "bottle.", "pot.", "yield.", "waste.", "cost.")  # charge table, waste, yield
    missing = [
        key
        for key, entry in bromide.entries.items()
        if entry.what not in told
        and not key.startswith(elsewhere)
        and not key.endswith((".per_mol", ".per_kg"))
    ]
    assert missing == []


def test_a_caution_stands_at_the_charge_it_is_about(bromide: BenchPlan, sheet: Document) -> None:
    charge = next(b for b in sheet.blocks if isinstance(b, Table) and "weighed" in b.columns)
    oxidant = next(row for row in charge.rows if row.cells[1].startswith("oxidant"))
    assert bromide.warnings
    assert set(bromide.warnings) <= set(oxidant.warnings)


def test_the_deferral_comes_once(sheet: Document) -> None:
    for writer in (page, markdown, latex):
        text = re.sub(r"\s+", " ", writer(sheet).replace("&#x27;", "'"))
        assert text.count(DEFERRAL[:60]) == 1


def test_every_mark_has_a_source_and_every_source_a_mark(sheet: Document) -> None:
    marks: set[int] = set()
    for block in sheet.blocks:
        if isinstance(block, Table) and block.columns[-1] == "source":
            marks |= {int(n) for row in block.rows for n in row.cells[-1].split(", ") if n}
    place = next(n for n, b in enumerate(sheet.blocks) if isinstance(b, Heading) and b.text == "Sources")
    assert marks == set(range(1, len(sheet.blocks[place + 1].items) + 1))  # type: ignore[union-attr]


def test_every_writer_says_the_same_numbers(bromide: BenchPlan, sheet: Document) -> None:
    texts = {
        "html": re.sub(r"<[^>]+>", "", page(sheet)),
        "markdown": markdown(sheet),
        "latex": latex(sheet).replace(r"\ensuremath{\pm}", "±").replace(r"\%", "%"),
        "terminal": re.sub(r"\s+", " ", terminal(sheet, width=400)),
    }
    for key in (
        "charge.oxidant.g",
        "heat.rise.K",
        "quench.base.mol",
        "quench.base.NaHCO3.g",
        "standby.reductant.g",
    ):
        value = str(bromide[key].value)
        for name, text in texts.items():
            assert value in text, (name, key)


def test_heat_and_window_are_drawn_and_told_in_words(sheet: Document, bromide: BenchPlan) -> None:
    pictures = [block for block in sheet.blocks if isinstance(block, Picture)]
    assert [p.caption for p in pictures] == ["Dosing against time", "Temperature window"]
    run = bromide.simulation
    assert run is not None
    assert f"hottest at {run.peak_c:.1f} C" in pictures[0].said
    assert "the mixture boils 54 C" in pictures[1].said
    assert len({re.search(r'id="([^"]+)"', p.svg)[1] for p in pictures}) == 2  # type: ignore[index]


def test_without_cooling_the_sheet_says_why_nothing_is_drawn() -> None:
    text = markdown(sheet_document(made("I^- -> I2", "H2O2", amount="0.4 mol")))
    assert "neither cooling nor a dosing time is declared" in text


def test_hazards_are_those_of_the_bottle_not_of_the_pure_substance() -> None:
    def told(label: str) -> str:
        document = sheet_document(made("I^- -> I2", "H2O2", amount="0.4 mol", bottles=[label]))
        table = next(b for b in document.blocks if isinstance(b, Table) and b.columns[0] == "substance")
        return next(row.cells[1] for row in table.rows if row.cells[0] == "H2O2")

    assert "H271" not in told("hydrogen peroxide 30 % w/w")
    assert "H318" in told("hydrogen peroxide 30 % w/w")
    assert "H318" not in told("hydrogen peroxide 3 % w/w")


def test_every_statement_in_the_tables_has_words() -> None:
    codes = {row.code for rows in shipped().hazards.values() for row in rows} - {"none"}
    assert [code for code in codes if hazard_words(code) == code] == []
    assert hazard_words("H360FD") == "toxic to reproduction, category 1 (H360FD)"
    assert hazard_words("H999") == "H999"


def balanced(text: str) -> bool:
    """Groups and environments of a LaTeX file, each closed in its turn."""
    body = re.sub(r"\\[\\{}$&#%_]", "", text)
    depth = 0
    for mark in re.findall(r"[{}]", body):
        depth += 1 if mark == "{" else -1
        if depth < 0:
            return False
    open_: list[str] = []
    for kind, name in re.findall(r"\\(begin|end)\{(\w+)\}", body):
        if kind == "begin":
            open_.append(name)
        elif not open_ or open_.pop() != name:
            return False
    return depth == 0 and not open_


def test_the_latex_is_whole_and_hides_no_command(sheet: Document, tmp_path: Path) -> None:
    text = latex(sheet)
    assert balanced(text)
    assert r"\ce{" in text
    nasty = latex(Document((Heading(r"50 % of {a_b} & \write18{x} ~ # $", 1),)))
    assert balanced(nasty)
    assert r"\write18" not in nasty.replace(r"\textbackslash{}write18", "")
    engine = shutil.which("pdflatex")
    if engine is not None:
        file = write(sheet, tmp_path / "sheet.tex")
        run = subprocess.run(
            [engine, "-interaction=nonstopmode", "-halt-on-error", file.name],
            cwd=tmp_path,
            capture_output=True,
            check=False,
        )
        log = run.stdout.decode("utf-8", "replace")
        assert run.returncode == 0 or "not found" in log, log[-2000:]


@pytest.mark.parametrize("ending", ["html", "md", "tex", "txt"])
def test_a_report_is_written_in_the_form_of_its_ending(
    ending: str, bromide: BenchPlan, tmp_path: Path
) -> None:
    text = write(bromide, tmp_path / f"plan.{ending}").read_text(encoding="utf-8")
    assert "hydrogen peroxide" in text
    assert "62.4" in text


def test_a_file_that_cannot_be_written_says_why(bromide: BenchPlan, tmp_path: Path) -> None:
    for name, wanted in (("plan.docx", r"\.html, \.md, \.tex or \.txt"), ("plan", "without an ending")):
        with pytest.raises(JobError, match=wanted):
            write(bromide, tmp_path / name)
    with pytest.raises(JobError, match="cannot be written"):
        write(bromide, tmp_path / "nowhere" / "plan.md")
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "sheet.md"
    command = ["plan", "I^- -> I2", "--oxidant", "H2O2", "--sheet", str(file)]
    assert cli.main(command) == 0
    filled = file.read_text(encoding="utf-8") + "weighed 66.6 g"
    file.write_text(filled, encoding="utf-8")
    assert cli.main(command) == 2
    assert "is there already" in capsys.readouterr().err
    assert file.read_text(encoding="utf-8") == filled


def test_what_the_gate_stops_gets_no_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "sheet.html"
    assert cli.main(["plan", "I^- -> I2", "--oxidant", "NaClO3", "--sheet", str(file)]) == 3
    assert not file.exists()
    capsys.readouterr()
