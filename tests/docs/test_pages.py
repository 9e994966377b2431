"""Every console and Python block of the README and the docs is executed, outputs included."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import pytest

from redoxlib.cli import main

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
_BLOCK = re.compile(r"^```(console|python|pycon)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def _console_steps(text: str) -> list[tuple[str, str]]:
    """(command, expected output) for each ``$ redoxlib`` line of a block."""
    steps: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        if line.startswith("$ "):
            steps.append((line[2:], []))
        elif steps:
            steps[-1][1].append(line)
    return [(command, "\n".join(lines).rstrip()) for command, lines in steps]


CONSOLE = [
    pytest.param(page, command, expected, id=f"{page.name}:{command[:60]}")
    for page in PAGES
    for kind, body in _BLOCK.findall(page.read_text(encoding="utf-8"))
    if kind == "console"
    for command, expected in _console_steps(body)
    if command.startswith("redoxlib ")
]


def _python(page: Path) -> str:
    """All Python of a page as one session: a later block may use what an earlier one made."""
    blocks = _BLOCK.findall(page.read_text(encoding="utf-8"))
    bodies = [body.rstrip() for kind, body in blocks if kind in ("python", "pycon") and ">>>" in body]
    return "\n\n".join(bodies) + "\n" if bodies else ""


PYTHON = [pytest.param(page, body, id=page.name) for page in PAGES if (body := _python(page))]


def test_the_readme_shows_something_to_run() -> None:
    assert any(param.values[0] == PAGES[0] for param in CONSOLE)


@pytest.mark.parametrize(("page", "command", "expected"), CONSOLE)
def test_a_console_block_prints_what_it_says(
    page: Path,
    command: str,
    expected: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("COLUMNS", "80")
    main(shlex.split(command)[1:])
    printed = capsys.readouterr().out
    assert _matches(_trimmed(expected), _trimmed(printed)), printed


def _trimmed(text: str) -> list[str]:
    return [line.rstrip() for line in text.strip().splitlines()]


def _matches(expected: list[str], printed: list[str]) -> bool:
    """Line for line; a line of three dots stands for any number of lines left out."""
    if not expected:
        return not printed
    if expected[0].strip() == "...":
        return any(_matches(expected[1:], printed[i:]) for i in range(len(printed) + 1))
    return bool(printed) and printed[0] == expected[0] and _matches(expected[1:], printed[1:])


def test_three_dots_leave_lines_out_and_nothing_else() -> None:
    assert _matches(["a", "...", "d"], ["a", "b", "c", "d"])
    assert not _matches(["a", "...", "e"], ["a", "b", "c", "d"])
    assert not _matches(["a"], ["a", "b"])


@pytest.mark.parametrize(("page", "body"), PYTHON)
def test_the_python_of_a_page_does_what_it_says(
    page: Path, body: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    example = doctest.DocTestParser().get_doctest(body, {}, page.name, str(page), 0)
    result = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE).run(example)
    assert result.failed == 0


def test_the_readme_opens_with_the_job_and_two_commands() -> None:
    text = PAGES[0].read_text(encoding="utf-8")
    commands = re.findall(r"^    (python3 -m venv .*)$", text, re.MULTILINE)
    assert len(commands) == 2
    assert text.index(commands[0]) < 2500
    assert "redoxlib compare" in commands[0]
    assert "pytest" in commands[1]
    script = ROOT / ".ci" / "run"
    assert commands[1] in script.read_text(encoding="utf-8").splitlines()


def test_links_between_pages_lead_somewhere() -> None:
    for page in PAGES:
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{page.name}: {target}"
