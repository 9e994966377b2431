"""A stranger's repository: fifty equations over three files, three of them wrong."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from redoxlib._verify import equations_in, verify

SOURCE = Path(__file__).parents[2]

RIGHT = (
    "2 H2 + O2 -> 2 H2O",
    "N2 + 3 H2 -> 2 NH3",
    "CH4 + 2 O2 -> CO2 + 2 H2O",
    "2 Na + Cl2 -> 2 NaCl",
    "Zn + 2 H^+ -> Zn^2+ + H2",
    "2 Fe^3+ + 2 I^- -> 2 Fe^2+ + I2",
    "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O",
    "Cl2 + 2 Br^- -> 2 Cl^- + Br2",
)


def _right(count: int) -> list[str]:
    return [RIGHT[i % len(RIGHT)] for i in range(count)]


def _repository(root: Path) -> None:
    """20 in Markdown (line 12 wrong), 15 in a notebook (one wrong), 15 in LaTeX (line 6 wrong)."""
    lines = [f"- `{text}`" for text in _right(20)]
    lines[11] = "- `2 H2 + O2 -> H2O`"
    (root / "README.md").write_text("\n".join(lines) + "\n", encoding="utf-8")
    tex = [rf"We have \ce{{{text}}} here." for text in _right(15)]
    tex[5] = r"We have \ce{MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+} here."
    (root / "paper.tex").write_text("\n".join(tex) + "\n", encoding="utf-8")
    cell = [f"- `{text}`\n" for text in _right(15)]
    cell[3] = "- `2 Al + Cl2 -> 2 AlCl3`\n"
    book = {
        "cells": [{"cell_type": "markdown", "metadata": {}, "source": cell}],
        "metadata": {},
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    (root / "notes.ipynb").write_text(json.dumps(book, indent=1), encoding="utf-8")
    (root / "tests").mkdir()
    (root / "pytest.ini").write_text(
        "[pytest]\ntestpaths = tests\nredoxlib_files =\n    README.md\n    *.tex\n    *.ipynb\n",
        encoding="utf-8",
    )


def _pytest(root: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-p",
            "redoxlib.testing.plugin",
            "-p",
            "no:cacheprovider",
            *arguments,
        ],
        cwd=root,
        capture_output=True,
        text=True,
        env={**os.environ, "HYPOTHESIS_NO_PLUGINS": "1"},
        check=False,
    )


def _entry_points(root: Path) -> None:
    """What installing the package leaves behind, so that pytest finds the plugin by itself."""
    points = tomllib.loads((SOURCE / "pyproject.toml").read_text(encoding="utf-8"))
    info = root / "stranger-1.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: stranger\nVersion: 1\n", encoding="utf-8")
    lines = []
    for group in ("hypothesis", "pytest11"):
        lines.append(f"[{group}]")
        lines += [f"{key} = {value}" for key, value in points["project"]["entry-points"][group].items()]
    (info / "entry_points.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")


def _as_installed(root: Path) -> subprocess.CompletedProcess[str]:
    """pytest as a stranger runs it: nothing named on the command line."""
    environment = {name: value for name, value in os.environ.items() if name != "HYPOTHESIS_NO_PLUGINS"}
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider"],
        cwd=root,
        capture_output=True,
        text=True,
        env={**environment, "PYTHONPATH": os.pathsep.join((str(root), str(SOURCE)))},
        check=False,
    )


def _line_of(file: Path, text: str) -> int:
    lines = file.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if text in line)


FIXES = {
    "README.md": "2 H2 + O2 -> 2 H2O (coefficient of H2O: 2, not 1)",
    "paper.tex": "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O (4 H2O missing)",
    "notes.ipynb": "2 Al + 3 Cl2 -> 2 AlCl3 (coefficient of Cl2: 3, not 1)",
}


def _lines(root: Path) -> dict[str, int]:
    return {"README.md": 12, "paper.tex": 6, "notes.ipynb": _line_of(root / "notes.ipynb", "AlCl3")}


def test_three_wrong_among_fifty_fail_each_at_its_line_with_the_fix(tmp_path: Path) -> None:
    _repository(tmp_path)
    _entry_points(tmp_path)
    run = _as_installed(tmp_path)
    assert run.returncode == 1
    assert "3 failed, 47 passed" in run.stdout, run.stdout + run.stderr
    for name, line in _lines(tmp_path).items():
        start = run.stdout.index(f"{name}:{line}: not balanced: ")
        said = run.stdout[start:].split("\n_", 1)[0]
        assert f"nearest fix: {FIXES[name]}" in said
    # Where CI is set, pytest repeats every failure whole in its summary: that part is not counted.
    failures = run.stdout.split("= short test summary info =", 1)[0]
    assert failures.count("nearest fix: ") == 3


def test_the_command_finds_the_same_three(tmp_path: Path) -> None:
    _repository(tmp_path)
    command = [sys.executable, "-m", "redoxlib", "verify", "."]
    environment = {**os.environ, "PYTHONPATH": str(SOURCE)}

    def ran(*more: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*command, *more], cwd=tmp_path, capture_output=True, text=True, env=environment, check=False
        )

    told = ran()
    assert (told.returncode, told.stderr) == (1, "")
    lines = told.stdout.splitlines()
    assert lines[-1] == "50 equations, 3 not balanced"
    data = json.loads(ran("--json").stdout)
    assert (data["equations"], data["unbalanced"], data["failed"]) == (50, 3, 3)
    failed = [found for found in data["findings"] if not found["as_meant"]]
    assert {found["file"]: found["line"] for found in failed} == _lines(tmp_path)
    assert {found["file"]: found["fix"] for found in failed} == FIXES
    for name, line in _lines(tmp_path).items():
        place = next(i for i, text in enumerate(lines) if text.startswith(f"{name}:{line}: not balanced"))
        assert lines[place + 2] == f"    nearest fix: {FIXES[name]}"
    assert ran("--json").returncode == 1


def test_the_command_honours_the_mark(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("`H2 + O2 -> H2O` <!-- redoxlib: wrong -->\n`2 H2 + O2 -> 2 H2O`\n", encoding="utf-8")
    (good,) = [found for found in verify(page) if found.wrong]
    assert good.as_meant
    assert str(good).endswith(", as marked")
    page.write_text("`2 H2 + O2 -> 2 H2O` <!-- redoxlib: wrong -->\n", encoding="utf-8")
    (bad,) = verify(page)
    assert not bad.as_meant
    assert bad.fix == ""
    assert str(bad) == f"{page}:1: marked as wrong, and balances\n    2 H2 + O2 -> 2 H2O"


def test_an_equation_marked_wrong_must_be_wrong(tmp_path: Path) -> None:
    (tmp_path / "page.md").write_text(
        "`H2 + O2 -> H2O` <!-- redoxlib: wrong -->\n`2 H2 + O2 -> 2 H2O` <!-- redoxlib: wrong -->\n"
        "`H2 + Cl2 -> HCl` <!-- redoxlib: skip -->\n",
        encoding="utf-8",
    )
    (tmp_path / "pytest.ini").write_text("[pytest]\nredoxlib_files = page.md\n", encoding="utf-8")
    run = _pytest(tmp_path)
    assert "1 failed, 1 passed" in run.stdout, run.stdout
    assert "page.md:2: marked as wrong, and balances" in run.stdout


def test_without_the_key_nothing_is_imported(tmp_path: Path) -> None:
    (tmp_path / "pytest.ini").write_text("[pytest]\n", encoding="utf-8")
    (tmp_path / "test_it.py").write_text(
        "import sys\n\ndef test_clean():\n"
        "    heavy = {'redoxlib.notation', 'redoxlib.stoichiometry', 'redoxlib.testing.checks', 'sympy'}\n"
        "    assert not heavy & set(sys.modules)\n",
        encoding="utf-8",
    )
    run = _pytest(tmp_path, "-p", "no:hypothesispytest")
    assert "1 passed" in run.stdout, run.stdout + run.stderr


def test_the_entry_points_of_the_package_load_in_a_fresh_process(tmp_path: Path) -> None:
    _entry_points(tmp_path)
    (tmp_path / "pytest.ini").write_text("[pytest]\nredoxlib_files = page.md\n", encoding="utf-8")
    (tmp_path / "page.md").write_text("`2 H2 + O2 -> H2O`\n", encoding="utf-8")
    (tmp_path / "test_it.py").write_text(
        "from hypothesis import given, settings, strategies as st\n"
        "from redoxlib.notation import Equation\n\n"
        "@settings(max_examples=5)\n@given(st.from_type(Equation))\n"
        "def test_it(equation):\n    assert equation.residual() == {}\n",
        encoding="utf-8",
    )
    run = _as_installed(tmp_path)
    assert "1 failed, 1 passed" in run.stdout, run.stdout + run.stderr
    assert "page.md:1: not balanced" in run.stdout


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.rst", "Water\n\n``2 H2 + O2 -> H2O``\n"),
        ("a.csv", "n,equation\n1,H2 + Cl2 -> 2 HCl\n2,2 H2 + O2 -> H2O\n"),
        ("a.toml", '[a]\n\nequation = "2 H2 + O2 -> H2O"\n'),
        ("a.py", 'def f() -> int:\n    """Burn.\n    `2 H2 + O2 -> H2O`"""\n'),
        ("a.tex", "\\begin{align}\n  x \\\\\n  \\ce{2H2 + O2 -> H2O}\n\\end{align}\n"),
        ("a.md", "| n | equation |\n|---|---|\n| 1 | 2 H2 + O2 → H2O |\n"),
        ("b.csv", "n;equation\n1;C + O2 -> CO2\n2;2 H2 + O2 -> H2O\n"),
        ("a.tsv", "n\tequation\n1\tC + O2 -> CO2\n2\t2 H2 + O2 -> H2O\n"),
        ("b.py", 'def f() -> int:\n    """Burn.\n    2 H2 + O2 -> H2O\n    """\n'),
        ("c.py", "E = [\n    '2 H2 + O2 -> 2 H2O',\n    '2 H2 + O2 -> H2O',\n]\n"),
        ("b.toml", '[a]\ntext = """\n2 H2 + O2 -> H2O\n"""\n'),
        ("b.rst", "::\n\n   2 H2 + O2 -> H2O\n"),
        ("c.rst", "\n\nWater is :chem:`2 H2 + O2 -> H2O`.\n"),
        ("b.tex", "\n\n\\ce{2 H2 + O2\n  -> H2O}\n"),
        ("c.tex", "\\begin{align}\n\\ce{C + O2 &-> CO2 ^}\\\\\n\\ce{2H2 + O2 &->[Pt][\\Delta] H2O}\n"),
        ("a.ipynb", '{"cells": [\n\n{"cell_type": "markdown", "source": ["2 H2 + O2 -> H2O"]}]}\n'),
    ],
)
def test_every_format_gives_the_line(tmp_path: Path, name: str, text: str) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    wrong = [found for found in equations_in(tmp_path / name) if not found.check.balanced]
    assert [(found.line, str(found.check.equation)) for found in wrong] == [(3, "2 H2 + O2 -> H2O")]


def test_what_only_looks_like_an_equation_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text(
        'def f(a: int) -> str:\n    """Turn A -> B + C, in -> out + log.\n\n    f -> g + h\n    """\n'
        "    return lambda x: x\n",
        encoding="utf-8",
    )
    (tmp_path / "a.tex").write_text("$f: A \\rightarrow B$, \\ce{A -> B + C} \\ce{H2O\n", encoding="utf-8")
    (tmp_path / "broken.py").write_text('x = """\nunclosed 2 H2 -> \n', encoding="utf-8")
    assert verify(tmp_path) == ()


def test_outputs_of_a_notebook_are_left_alone(tmp_path: Path) -> None:
    book = {"cells": [{"source": ["x = 1\n"], "outputs": [{"text": ["2 H2 + O2 -> H2O\n"]}]}]}
    (tmp_path / "a.ipynb").write_text(json.dumps(book, indent=1), encoding="utf-8")
    assert list(equations_in(tmp_path / "a.ipynb")) == []
