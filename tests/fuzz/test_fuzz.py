"""A short seeded run: each input is read or refused by an error of the family, without a hang."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from redoxlib import Equation, Job, Quantity, Species, balance, check, complete, read_bottle
from redoxlib.cli import main
from redoxlib.errors import RedoxlibError

from ._inputs import KINDS, alarm, arguments
from ._verbs import VERBS, caches, question

READERS: dict[str, tuple[Callable[[str], object], int]] = {
    "species": (Species.parse, 150),
    "equation": (Equation.parse, 80),
    "quantity": (Quantity.parse, 200),
    "bottle": (read_bottle, 50),
    "check": (check, 30),
    "balance": (balance, 8),
    "complete": (complete, 8),
    "job": (Job, 30),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("reader", READERS)
def test_text_is_read_or_refused_by_an_error_of_the_family(reader: str, kind: str) -> None:
    read, count = READERS[reader]
    random = Random(f"{reader}/{kind}")
    for _ in range(count):
        text = KINDS[kind](random)
        try:
            with alarm(60):
                read(text)
        except RedoxlibError:
            continue
        except BaseException as error:
            error.add_note(f"read by {reader}: {text!r}")
            raise


@pytest.mark.parametrize("seed", range(4))
def test_a_command_line_ends_with_one_of_the_documented_codes(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    random = Random(seed)
    for _ in range(25):
        words = arguments(random, tmp_path)
        try:
            with alarm(120):
                code: object = main(words)
        except SystemExit as left:
            code = left.code
        except BaseException as error:
            error.add_note(f"redoxlib {words!r}")
            raise
        assert code in (0, 1, 2, 3), words
    capsys.readouterr()


@pytest.mark.parametrize("seed", range(3))
def test_a_sound_question_is_answered_or_refused_by_an_error_of_the_family(seed: int) -> None:
    random, answered = Random(f"asked/{seed}"), 0
    for _ in range(40):
        put = question(random)
        try:
            with alarm(120):
                put.ask()
        except RedoxlibError:
            continue
        except BaseException as error:
            error.add_note(f"{put.verb}: {put.words}")
            raise
        answered += 1
    assert answered > 20  # a run that is only refused tries nothing


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_answers_some_of_its_questions(verb: str) -> None:
    random = Random(f"every/{verb}")
    for _ in range(8):
        try:
            VERBS[verb][0](random).ask()
        except RedoxlibError:
            continue
        return
    pytest.fail("eight questions in a row were refused")


def test_what_readers_remember_has_a_limit() -> None:
    remembered = {name: most for name, _, most in caches()}
    for name in (
        "notation._species._parsed",
        "notation._messy.read_counted",
        "notation._equation_text._term",
    ):
        assert remembered[f"redoxlib.{name}"] is not None


NO_FILE_NAMES = ["[" * 300 + "H", "a\0b", "a\0b.toml", "x" * 300 + ".toml", "x" * 300 + ".csv"]


@pytest.mark.parametrize("name", NO_FILE_NAMES, ids=ascii)
@pytest.mark.parametrize("verb", ["verify", "audit", "compare", "plan", "start", "diagram"])
def test_a_word_that_can_name_no_file_is_bad_input(
    verb: str, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {"start": ["Br^- -> Br2", "-o"], "diagram": ["frost", "Mn", "-o"]}.get(verb, [])
    assert main([verb, *before, name]) == 2
    assert capsys.readouterr().err.startswith("redoxlib: ")


@pytest.mark.parametrize(("verb", "code"), [("verify", 0), ("audit", 2)])
def test_a_cell_beyond_the_limit_of_the_csv_module_is_no_crash(
    verb: str, code: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.csv"
    path.write_text('"' + "x" * 140_000 + ' -> y"\n', encoding="utf-8")
    assert main([verb, str(path)]) == code
    capsys.readouterr()
