"""The how-to page on pre-commit says what is true: its blocks are taken from the page and run."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "how-to" / "pre-commit.md").read_text(encoding="utf-8")


def _block(kind: str) -> str:
    found = re.search(rf"^```{kind}\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
    assert found is not None
    return found[1]


def _run(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", *arguments],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), "HYPOTHESIS_NO_PLUGINS": "1"},
    )


def test_the_hook_gets_the_files_it_should_and_fails_on_a_wrong_equation(tmp_path: Path) -> None:
    """As pre-commit does it: the entry, and behind it the changed files whose names match the pattern."""
    hook = dict(re.findall(r"^\s*-?\s*(entry|files|language): (.*)$", _block("yaml"), re.MULTILINE))
    program, *rest = hook["entry"].split()
    assert (program, hook["language"]) == ("redoxlib", "python")
    changed = ["a.md", "b.tex", "c.ipynb", "d.csv", "e.rst", "f.toml", "g.png", "h.py"]
    taken = [name for name in changed if re.search(hook["files"], name)]
    assert taken == ["a.md", "b.tex", "c.ipynb", "d.csv", "e.rst", "f.toml"]
    for name in taken:
        (tmp_path / name).write_text("", encoding="utf-8")
    (tmp_path / "c.ipynb").write_text('{"cells": []}', encoding="utf-8")
    assert _run(program, *rest, *taken, cwd=tmp_path).returncode == 0
    (tmp_path / "a.md").write_text("`2 H2 + O2 -> H2O`\n", encoding="utf-8")
    done = _run(program, *rest, *taken, cwd=tmp_path)
    assert done.returncode == 1
    assert done.stdout.startswith("a.md:1: not balanced")
    (tmp_path / "a.md").write_text("`2 H2 + O2 -> H2O` <!-- redoxlib: skip -->\n", encoding="utf-8")
    assert _run(program, *rest, *taken, cwd=tmp_path).returncode == 0


def test_the_key_and_the_mark_work_as_shown(tmp_path: Path) -> None:
    (tmp_path / "pyproject.toml").write_text(_block("toml"), encoding="utf-8")
    patterns = tomllib.loads(_block("toml"))["tool"]["pytest"]["ini_options"]["redoxlib_files"]
    assert "README.md" in patterns
    (tmp_path / "README.md").write_text(_block("text"), encoding="utf-8")
    plugin = ("pytest", "-p", "redoxlib.testing.plugin", "-p", "no:cacheprovider")
    done = _run(*plugin, cwd=tmp_path)
    assert "1 passed" in done.stdout, done.stdout + done.stderr
    (tmp_path / "README.md").write_text(_block("text").replace("-> H2O", "-> 2 H2O"), encoding="utf-8")
    done = _run(*plugin, cwd=tmp_path)
    assert "README.md:1: marked as wrong, and balances" in done.stdout, done.stdout + done.stderr


def test_the_law_of_the_page_holds_for_a_writer_that_keeps_the_balance_and_for_no_other(
    tmp_path: Path,
) -> None:
    for writer, code in (("str", 0), ("lambda equation: str(equation).replace('2 ', '', 1)", 1)):
        source = _block("python") + f"\nmy_writer = {writer}\n"
        (tmp_path / "test_law.py").write_text(source, encoding="utf-8")
        done = _run("pytest", "-q", "-p", "no:cacheprovider", cwd=tmp_path)
        assert done.returncode == code, done.stdout
