"""What a coverage-guided run found worth keeping, read once more; and the texts that were at fault."""

from __future__ import annotations

import pytest

from redoxlib import Equation
from redoxlib.errors import NotationError

from ._inputs import alarm
from ._targets import CORPUS, TARGETS, corpus, try_one


@pytest.mark.parametrize("name", TARGETS)
def test_every_text_of_the_corpus_is_read_or_refused_by_an_error_of_the_family(name: str) -> None:
    read = 0
    texts = corpus(name)
    for text in texts:
        try:
            with alarm(60):
                read += try_one(name, text)
        except BaseException as error:
            error.add_note(f"read by {name}: {text!r}")
            raise
    assert len(texts) >= 20
    assert read >= 1  # a corpus that is refused throughout reaches little


def test_there_is_a_corpus_for_every_reader_and_no_other() -> None:
    assert {path.stem for path in CORPUS.glob("*.jsonl")} == set(TARGETS)


FOUND = {
    "a coefficient for a salt": ("equation", "N H2O -> NH2O"),
    "a lost dot in brackets": ("equation", "C7H8O$+ NaClO -> C7H6O + NO$+ N H2O"),
    "a Roman numeral in brackets": ("species", "o(l)l."),
    "a power of ten over both": ("quantity", "0±666606660g"),
    "a number for a unit": ("quantity", "0¹"),
}


@pytest.mark.parametrize("name", FOUND)
def test_what_was_at_fault_once_is_read_back_or_refused(name: str) -> None:
    reader, text = FOUND[name]
    try_one(reader, text)


def test_a_number_that_has_lost_its_place_is_no_substance() -> None:
    with pytest.raises(NotationError, match="plus sign"):
        Equation.parse("H2 + N H2O -> O2")
