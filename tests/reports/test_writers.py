"""One document, several writers: nothing is lost, nothing is interpreted."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.reports import (
    Bullets,
    Caution,
    Document,
    Facts,
    Heading,
    Note,
    Paragraph,
    Row,
    Table,
    html,
    markdown,
    terminal,
)

BRACKETS = "H2O2[aq] [cox1989] [bold]x[/bold] <b>y</b> :smile: [/] \\[z] *a* _b_ | c"
EVERYTHING = Document(
    (
        Heading(BRACKETS, 1),
        Paragraph(BRACKETS),
        Facts((("label [x]", BRACKETS), ("", "more"))),
        Table(
            ("a", "b [u]"), (Row((BRACKETS, "1.5"), (BRACKETS,)), Row(("x", "10"))), ("", "g"), frozenset({1})
        ),
        Bullets((BRACKETS, "two")),
        Bullets(("first", "second"), numbered=True),
        Note(BRACKETS),
        Caution(BRACKETS),
    )
)


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_brackets_and_markup_survive_the_terminal() -> None:
    page = squeezed(terminal(EVERYTHING, width=110))
    assert page.count(squeezed(BRACKETS)) == 8


@pytest.mark.parametrize("width", [20, 40, 57, 80, 110, 500])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    page = terminal(EVERYTHING, width=width)
    assert max(map(len, page.splitlines())) <= min(110, max(40, width))


def test_without_colour_there_are_no_escapes_and_with_colour_the_words_are_the_same() -> None:
    plain_page = terminal(EVERYTHING, width=80)
    colour_page = terminal(EVERYTHING, width=80, colour=True)
    assert "\x1b" not in plain_page
    assert "\x1b[" in colour_page
    assert re.sub(r"\x1b\[[0-9;]*m", "", colour_page) == plain_page


def test_no_line_ends_in_blanks() -> None:
    assert [line for line in terminal(EVERYTHING, width=60).splitlines() if line != line.rstrip()] == []


def test_cautions_of_a_row_stand_under_it_before_the_next_row() -> None:
    table = Table(("k", "v"), (Row(("one", "1"), ("mind this",)), Row(("two", "2"))))
    lines = [line.strip() for line in terminal(Document((table,))).splitlines()]
    assert lines.index("! mind this") == lines.index("one  1") + 1 == lines.index("two  2") - 1


def test_numbers_stand_flush_right() -> None:
    table = Table(("name", "g"), (Row(("a", "1.5")), Row(("b", "10.5"))), right=frozenset({1}))
    *_, first, second = terminal(Document((table,))).splitlines()
    assert first.endswith(" 1.5")
    assert second.endswith("10.5")
    assert len(first) == len(second)


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        (
            "2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + 5 O2 + K2SO4 + 8 H2O",
            ("5 H2O2", "+ 3 H2SO4", "-> 2 MnSO4"),
        ),
        (
            "the rise is 12.5 K on 113.4 g or 102 mL, 9.6 ± 0.4 kJ",
            ("12.5 K", "113.4 g", "102 mL", "9.6 ± 0.4 kJ"),
        ),
    ],
)
def test_a_line_never_ends_inside_a_term_or_a_quantity(text: str, kept: tuple[str, ...]) -> None:
    for width in range(40, 60):
        lines = terminal(Document((Facts((("x" * 18, text),)),)), width=width).splitlines()
        for piece in kept:
            assert any(piece in line for line in lines)


def test_no_private_mark_reaches_the_page() -> None:
    assert "\ue000" not in terminal(EVERYTHING)


def test_markdown_escapes_what_it_would_swallow() -> None:
    page = markdown(EVERYTHING)
    assert r"H2O2\[aq\] \[cox1989\]" in page
    assert r"\*a\* \_b\_ \| c" in page
    assert "| a | b \\[u\\] (g) |" in page
    assert "| --- | ---: |" in page
    assert "1. first\n2. second" in page


class Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002
        self.tags.add(tag)
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def test_html_is_well_formed_and_holds_every_text() -> None:
    parser = Texts()
    parser.feed(html(EVERYTHING))
    assert parser.open == []
    assert sum(BRACKETS in text for text in parser.texts) == 8
    assert "b" not in parser.tags
    assert "script" not in parser.tags


@given(st.text(st.characters(blacklist_categories=["Cs", "Cc", "Zl", "Zp", "Co"]), max_size=60))
def test_any_text_goes_through_every_writer(text: str) -> None:
    document = Document((Paragraph(text), Table(("a",), (Row((text,), (text,)),)), Note(text)))
    parser = Texts()
    parser.feed(html(document))
    assert parser.open == []
    assert squeezed(terminal(document, width=110)).count(squeezed(text)) >= (3 if squeezed(text) else 0)
    assert markdown(document)
