"""Every command with --json obeys the schema that is shipped for its version, and the schemas can say no."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from referencing import Registry, Resource

from redoxlib import Job, compare
from redoxlib.cli import _parser, main
from redoxlib.data import shipped
from redoxlib.reports import plain
from redoxlib.routes import build_route
from redoxlib.stoichiometry import balance, check

ROOT = Path(__file__).parents[2]
SCHEMAS = ROOT / "docs" / "schemas"
NAMES = sorted(file.stem for file in SCHEMAS.glob("*.json") if file.stem != "common-1")

BROMIDE = "Br^- -> Br2"
HALF = (BROMIDE, "--amount", "0.5 mol")
FEW = tuple(
    word
    for key in ("H2O2", "KMnO4", "NaClO3", "Fe3+", "O2", "K2Cr2O7", "anode")
    for word in ("--oxidant", key)
)
EXAMPLES = sorted((ROOT / "docs" / "examples").glob("*.toml"))

CALLS: dict[str, list[tuple[str, ...]]] = {
    "balance-1": [
        ("balance", "2 Fe + O2 -> Fe2O3"),
        ("balance", "MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O"),
        ("balance", "C2H4 + C2H6 + O2 -> CO2 + H2O"),
        (
            "balance",
            "KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O",
            "--ratio",
            "H2O2=5",
            "--ratio",
            "KMnO4=2",
        ),
        ("complete", "MnO4^- -> Mn^2+"),
        ("complete", "MnO4- + Fe2+ -> Mn2+ + Fe3+", "--medium", "base"),
    ],
    "check-1": [
        ("check", "2 H2 + O2 -> 2 H2O"),
        ("check", "H2 + 1/3 O2 -> H2O"),
        ("check", "Na+ + CO -> NaCO"),
    ],
    "verification-1": [("verify", "README.md", "docs"), ("verify", "PAGE")],
    "oxidation-1": [("oxidation", "Fe3O4"), ("oxidation", "MnO4^-"), ("oxidation", "C2H5OH")],
    "comparison-1": [
        ("compare", BROMIDE),
        ("compare", *HALF, *FEW, "--volts", "3 V"),
        ("compare", "CN^- -> CNO^-", "--medium", "base"),
        ("compare", "Np^4+ -> NpO2^2+"),
        *(("compare", str(file)) for file in EXAMPLES),
    ],
    "explanation-1": [("explain", BROMIDE, "H2O2", "KMnO4")],
    "oxidants-1": [("oxidants",)],
    "rule-1": [("data", "G02"), ("data", "G01")],
    "statement-1": [("data", "H412"), ("data", "EUH031")],
    "species-1": [("data", name) for name in ("Br2", "H2O2", "MnO4^-", "acetone", "NaOH", "H2SO4")],
    "start-1": [("start", BROMIDE), ("start", BROMIDE, "-o", "NEW")],
    "plan-1": [
        *(("plan", *HALF, "--oxidant", key) for key in ("H2O2", "KMnO4", "MnO2")),
        *(("plan", str(file)) for file in EXAMPLES),
    ],
    "entry-1": [("why", "quench.base.mol", *HALF, "--oxidant", "H2O2")],
    "reconciliation-1": [
        ("reconcile", *HALF, "--oxidant", "H2O2", "--product", "30 g"),
        ("reconcile", *HALF, "--oxidant", "H2O2", "--product", "30 g", "--found", "dissolved=2 g"),
    ],
    "audit-1": [("audit", "GOOD"), ("audit", "SHORT"), ("audit", "STOPPED")],
    "predominance-1": [
        ("diagram", "predominance", "Mn", "--total", "1e-3"),
        ("diagram", "predominance", "Br", "-o", "PICTURE"),
    ],
    "frost-1": [("diagram", "frost", "Mn"), ("diagram", "frost", "Br", "--ph", "7")],
    "speciation-1": [
        ("diagram", "speciation", "Cr", "--state", "6"),
        ("diagram", "speciation", "Fe", "--state", "3"),
    ],
    "completion-1": [("completion", "bash")],
    "error-1": [
        ("balance", "KMmO4 -> Mn"),
        ("balance", "H2 -> He"),
        ("data", "Xe"),
        ("compare", BROMIDE, "--amount", "plenty"),
        ("plan", BROMIDE, "--oxidant", "NaClO3"),
        ("plan", BROMIDE, "--oxidant", "Fe3+"),
        ("why", "no.key", *HALF, "--oxidant", "H2O2"),
        ("verify", "no-such-file"),
        ("diagram", "frost", "Xx"),
        ("frobnicate",),
    ],
}
CASES = [(name, call) for name, calls in CALLS.items() for call in calls]
GOOD = (ROOT / "tests" / "cli" / "test_commands.py").read_text(encoding="utf-8")


@cache
def _validator(name: str) -> jsonschema.Draft202012Validator:
    common = json.loads((SCHEMAS / "common-1.json").read_text(encoding="utf-8"))
    schema = json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))
    registry = Registry().with_resource("common-1.json", Resource.from_contents(common))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema, registry=registry)


@pytest.fixture
def files(tmp_path: Path) -> dict[str, str]:
    recipe = re.search(r'^RECIPE = """\\?\n?(.*?)"""', GOOD, re.MULTILINE | re.DOTALL)
    assert recipe is not None
    (tmp_path / "good.csv").write_text(recipe[1], encoding="utf-8")
    (tmp_path / "short.csv").write_text(recipe[1].replace("80 mL,10", "40 mL,10", 1), encoding="utf-8")
    stopped = recipe[1].replace("hydrogen peroxide 30 % w/w,55 mL", "NaClO3,40 g")
    (tmp_path / "stopped.csv").write_text(stopped, encoding="utf-8")
    (tmp_path / "page.md").write_text(
        "`H2 + O2 -> H2O` <!-- redoxlib: wrong -->\n`2 H2 + O2 -> H2O`\n`H2 + 1/2 O2 -> H2O`\n"
        "`2 H2 + O2 -> 2 H2O` <!-- redoxlib: wrong -->\n",
        encoding="utf-8",
    )
    names = {"GOOD": "good.csv", "SHORT": "short.csv", "STOPPED": "stopped.csv", "PAGE": "page.md"}
    names |= {"NEW": "job.toml", "PICTURE": "br.svg"}
    return {word: str(tmp_path / name) for word, name in names.items()}


def _printed(call: tuple[str, ...], files: dict[str, str], capsys: pytest.CaptureFixture[str]) -> Any:
    found = main([*(files.get(word, word) for word in call), "--json"])
    told = capsys.readouterr()
    if found == 2:
        assert told.out == ""
    return json.loads(told.out or told.err)


@pytest.mark.parametrize(
    ("name", "call"), CASES, ids=lambda value: value if isinstance(value, str) else value[0]
)
def test_what_is_printed_obeys_its_schema(
    name: str,
    call: tuple[str, ...],
    files: dict[str, str],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(ROOT)
    data = _printed(call, files, capsys)
    assert data["schema"] == "redoxlib/" + name.replace("-", "/")
    _validator(name).validate(data)


def test_every_command_and_every_schema_is_tried() -> None:
    from redoxlib._arguments import subcommands

    tried = {call[0] for _, call in CASES}
    assert set(subcommands(_parser())) <= tried
    assert {*CALLS, "route-1"} == set(NAMES)


def test_a_route_obeys_its_schema_whatever_the_gate_says() -> None:
    comparison = compare(BROMIDE, amount="0.5 mol", oxidants=["H2O2", "K2Cr2O7"])
    built = [build_route(Job(BROMIDE), shipped().oxidants[key]) for key in ("NaClO3", "K2FeO4")]
    decisions = set()
    for route in (*comparison.routes, *built):
        data = plain(route)
        _validator("route-1").validate(data)
        decisions.add(data["decision"])
        if data["decision"] in ("stop", "unreviewed"):
            assert not _validator("route-1").is_valid({**data, "charges": []})
    assert decisions == {"caution", "stop", "unreviewed"}
    told = plain(comparison.routes[0])
    told["charges"][0]["grams"] = -1.0
    assert not _validator("route-1").is_valid(told)


SAMPLES: dict[str, tuple[str, ...]] = {name: calls[0] for name, calls in CALLS.items()}


@pytest.mark.parametrize("name", sorted(SAMPLES))
def test_a_missing_field_and_a_new_one_are_noticed(
    name: str,
    files: dict[str, str],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(ROOT)
    data = _printed(SAMPLES[name], files, capsys)
    validator = _validator(name)
    for field in data:
        if field != "file":
            short = {key: value for key, value in data.items() if key != field}
            assert not validator.is_valid(short), f"{name} does not miss {field}"
    assert not validator.is_valid({**data, "surprise": 1})
    for place, wrong in _spoilt(data):
        assert not validator.is_valid(wrong), f"{name} takes a list for {place}"


def _spoilt(data: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The same with one value of the top level replaced by one of another kind."""
    for field, value in data.items():
        changed = copy.deepcopy(data)
        changed[field] = [["spoilt", None]] if not isinstance(value, list) else "spoilt"
        yield field, changed


def test_a_balance_that_contradicts_itself_is_refused() -> None:
    told = plain(balance("Fe + O2 -> Fe2O3"))
    changes: list[dict[str, Any]] = [{"unique": False}, {"dimension": 2}, {"equation": None}]
    for change in changes:
        assert not _validator("balance-1").is_valid({**told, **change})
    told = plain(check("H2 + O2 -> H2O"))
    changes = [{"balanced": True}, {"residual": {}}, {"residual": {"O": 0.5}}]
    for change in changes:
        assert not _validator("check-1").is_valid({**told, **change})
