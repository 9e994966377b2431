"""The pages on job files, keys and JSON say neither more nor less than the code does."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import redoxlib
from redoxlib.bench import plan
from redoxlib.compare import clear, compare
from redoxlib.job import JOB_KEYS, Job
from redoxlib.reports._plain import _SCHEMAS

DOCS = Path(__file__).parents[2] / "docs"
JOBS = ("iodide", "copper", "well", "alcohol")


def page(name: str) -> str:
    return (DOCS / name).read_text(encoding="utf-8")


def first_cells(text: str) -> list[str]:
    return re.findall(r"(?m)^\| `([^`]+)` \|", text)


def test_the_job_page_lists_every_key_once() -> None:
    assert sorted(first_cells(page("job-file.md"))) == sorted(JOB_KEYS)


@pytest.mark.parametrize("block", re.findall(r"```toml\n(.*?)```", page("job-file.md"), re.DOTALL))
def test_the_job_files_on_the_page_are_read(block: str, tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_text(block, encoding="utf-8")
    assert Job.read(file).conversions


def test_the_faults_on_the_page_are_the_ones_that_are_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    wanted = re.findall(r"```text\nredoxlib: (.*?)```", page("job-file.md"), re.DOTALL)
    sources = (
        'conversions = "Br^- -> Br2"\namonut = "1 mol"\nexcess = true\ncooling = 50\n',
        'conversions = "Br^- -> Br2"\namount = 5 mol\n',
    )
    for text, message in zip(sources, wanted, strict=True):
        Path("job.toml").write_text(text, encoding="utf-8")
        with pytest.raises(redoxlib.JobError) as caught:
            Job.read("job.toml")
        assert f"{caught.value}\n" == message


def patterns() -> list[re.Pattern[str]]:
    def pattern(key: str) -> str:
        text = re.escape(key).replace("ROLE", "(feed|oxidant|acid|base|water)")
        return text.replace("COMPOUND", r"[^ ]+?").replace("SPECIES", r"[^ ]+?")

    return [re.compile(pattern(key)) for key in first_cells(page("keys.md"))]


@pytest.fixture(scope="module")
def keys() -> set[str]:
    def found() -> Iterator[str]:
        for name in JOBS:
            for route in compare(DOCS / "examples" / f"{name}.toml").routes:
                yield from plan(clear(route))
        for route in compare("CN^- -> OCN^-", cooling="50 W").routes:
            yield from plan(clear(route))
        ferrous = compare("Fe^2+ -> Fe^3+", medium=1, oxidants=["H2O2"], cooling="50 W")  # its rate was read
        yield from plan(clear(ferrous.routes[0]))
        well = compare("Mn^2+ -> MnO2", purpose="remove", medium=7.2, oxidants=["KMnO4"], potable=True)
        yield from plan(clear(well.routes[0]))
        bromine = compare("Br^- -> Br2", oxidants=["H2O2"], cooling="50 W", room="30 m3")
        for route in bromine.routes:
            yield from plan(clear(route), hood="0.3 m3/s", bottles="unrestricted")

    return set(found())


def test_every_key_of_every_plan_is_on_the_page(keys: set[str]) -> None:
    known = patterns()
    assert sorted(key for key in keys if not any(p.fullmatch(key) for p in known)) == []


def test_every_key_on_the_page_occurs(keys: set[str]) -> None:
    further = {
        "charge.feed.COMPOUND.mL",
        "yield.COMPOUND.mL",
    }  # no example has a second liquid feed or product
    names = first_cells(page("keys.md"))
    silent = [name for name, p in zip(names, patterns(), strict=True) if not any(map(p.fullmatch, keys))]
    assert set(silent) <= further


def test_every_schema_is_on_the_page() -> None:
    listed = set(first_cells(page("json.md")))
    made_in_cli = {"verification/1", "explanation/1", "oxidants/1", "start/1", "completion/1", "error/1"}
    made_in_cli |= {"rule/1", "statement/1"}
    assert listed == {f"redoxlib/{name}" for name in (*_SCHEMAS.values(), *made_in_cli)}


def test_the_fields_on_the_page_are_the_fields_that_are_written() -> None:
    from redoxlib.reports import plain

    rows = dict(re.findall(r"(?m)^\| `redoxlib/([a-z]+)/1` \| [^|]+ \| (.*) \|$", page("json.md")))
    comparison = compare("Br^- -> Br2", oxidants=["H2O2"])
    made = plan(clear(comparison.routes[0]))
    results = {
        "balance": redoxlib.balance("H2 + O2 -> H2O"),
        "check": redoxlib.check("H2 + O2 -> H2O"),
        "oxidation": redoxlib.oxidation_numbers("H2O"),
        "comparison": comparison,
        "plan": made,
        "reconciliation": redoxlib.reconcile(made, product="40 g"),
    }
    for name, result in results.items():
        fields = set(plain(result)) - {"schema"}
        assert fields <= set(re.findall(r"`([A-Za-z_]+)`", rows[name])), name
    text = page("json.md").split("A route:")[1]
    for field in plain(comparison)["ranked"][0]["routes"][0]:
        assert f"`{field}`" in text
