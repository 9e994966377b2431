"""Diagrams from the command line: the table, the file, JSON, and errors that say what to write."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from redoxlib.cli import main
from redoxlib.diagrams import frost, predominance, speciation


def test_the_table_is_that_of_the_library(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments, made in (
        (("predominance", "Mn", "--total", "1e-3"), predominance("Mn", activity=1e-3)),
        (("frost", "Br", "--ph", "7"), frost("Br", ph=[7.0])),
        (("speciation", "Cr", "--state", "6", "--total", "0.1 mol/kg"), speciation("Cr", 6, total=0.1)),
        (("speciation", "Cl", "--state", "-1", "--ph", "2:12"), speciation("Cl", -1, ph=(2, 12))),
        (("predominance", "Fe", "--without", "Fe3O4"), predominance("Fe", without=["Fe3O4"])),
    ):
        assert main(["diagram", *arguments]) == 0
        assert capsys.readouterr().out == made.table() + "\n"


@pytest.mark.parametrize(
    "kind", [("predominance", "Mn"), ("frost", "Mn"), ("speciation", "Cr", "--state", "6")]
)
def test_a_file_is_written_by_its_ending(
    kind: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for ending in ("svg", "txt"):
        target = tmp_path / f"it.{ending}"
        assert main(["diagram", *kind, "-o", str(target)]) == 0
        assert capsys.readouterr().out == f"wrote {target}\n"
    assert ElementTree.fromstring((tmp_path / "it.svg").read_text(encoding="utf-8")).tag.endswith("svg")
    assert kind[1] in (tmp_path / "it.txt").read_text(encoding="utf-8").splitlines()[0]


def test_a_png_is_written_or_the_extra_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "mn.png"
    code = main(["diagram", "frost", "Mn", "-o", str(target)])
    if code == 0:
        assert target.read_bytes().startswith(b"\x89PNG")
    else:
        assert code == 2
        assert "redoxlib[pictures]" in capsys.readouterr().err
        assert not target.exists()


def test_the_window_is_the_one_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagram", "predominance", "Mn", "--ph", "4:10", "--volts", "-1:1.5", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["window"] == {"ph": [4.0, 10.0], "volts": [-1.0, 1.5]}
    for region in data["regions"]:
        for ph, volts in region["corners"]:
            assert 4 - 1e-9 <= ph <= 10 + 1e-9
            assert -1 - 1e-9 <= volts <= 1.5 + 1e-9


def test_json_of_a_speciation_keeps_the_total(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagram", "speciation", "Cl", "--state", "1", "--total", "0.01", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["file"] is None
    assert len(data["compositions"]) == 29
    for at in data["compositions"]:
        assert sum(10**log for log in at["log10"].values()) == pytest.approx(0.01, rel=1e-6)


@pytest.mark.parametrize(
    ("arguments", "says", "hint"),
    [
        (("predominance", "Xx"), "'Xx' is no element", "symbol"),
        (("predominance", "Mn", "--total", "0"), "not above zero", "mol/kg"),
        (("predominance", "Mn", "--total", "1 mol/L"), "cannot be expressed in mol/kg", "--total 1e-3"),
        (("predominance", "Mn", "--ph", "7"), "is no range", "LOW:HIGH"),
        (("predominance", "Mn", "--ph", "9:2"), "is empty", "low to high"),
        (("predominance", "Mn", "--volts", "a:b"), "'a' is no number", "--volts"),
        (("frost", "Mn", "--ph", "nan"), "is no number", "--ph 7"),
        (("speciation", "Mn", "--state", "x"), "no oxidation state", "8/3"),
        (("speciation", "Cr"), "several oxidation states", "give one of"),
        (("frost", "Mn", "-o", "mn.gif"), "does not end in .svg, .png or .txt", "ending"),
        (("frost", "Mn", "-o", "/no/such/place/mn.svg"), "cannot be written", "another file"),
        (("pie", "Mn"), "invalid choice: 'pie'", "redoxlib diagram --help"),
        (("frost",), "ELEMENT", "redoxlib diagram frost --help"),
    ],
    ids=str,
)
def test_errors_say_what_to_write(
    arguments: tuple[str, ...], says: str, hint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["diagram", *arguments]) == 2
    ran = capsys.readouterr()
    assert ran.out == ""
    assert ran.err.startswith("redoxlib: ")
    assert says in ran.err
    assert hint in ran.err.splitlines()[-1]
