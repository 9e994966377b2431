"""The drawings: well-formed, with a title for those who hear them, and no label over another."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from redoxlib.diagrams import Frost, Predominance, Speciation, Window, frost, predominance, speciation
from redoxlib.errors import MissingExtraError

from ._svg import SVG, Label, collide, collisions, labels, root

ELEMENTS = ["Mn", "Cl", "Br", "Fe", "S", "Cr", "N", "I", "Cu", "As", "V", "O", "C", "P", "Pb", "Co", "Ce"]
QUICK = ["ClO4^-", "ClO3^-", "ClO2^-", "HClO2", "ClO2"]

Diagram = Predominance | Frost | Speciation
CASES: dict[str, Callable[[], Diagram]] = {
    "chlorine without its slow forms": lambda: predominance("Cl", without=QUICK),
    "a narrow window": lambda: predominance("Fe", window=Window((6, 8), (-0.2, 0.2))),
    "many traces": lambda: frost("S", ph=[0, 4, 7, 14]),
}
for _element in ELEMENTS:
    CASES[f"predominance-{_element}"] = partial(predominance, _element)
    CASES[f"dilute-{_element}"] = partial(predominance, _element, activity=1e-6)
    CASES[f"frost-{_element}"] = partial(frost, _element)
for _element, _state in (("Mn", 2), ("Cl", 1), ("Fe", 3), ("S", 4), ("Cr", 6), ("As", 5), ("C", 4), ("V", 5)):
    CASES[f"speciation-{_element}{_state}"] = partial(speciation, _element, _state)


@pytest.fixture(scope="module", params=sorted(CASES))
def svg(request: pytest.FixtureRequest) -> str:
    return CASES[request.param]().svg()


def test_no_label_lies_over_another(svg: str) -> None:
    assert collisions(svg) == []


def test_every_label_lies_inside_the_drawing(svg: str) -> None:
    outside = [
        label.words
        for label in labels(svg)
        if any(not (0 <= x <= 760 and 0 <= y <= 560) for x, y in label.corners)
    ]
    assert outside == []


def test_it_is_well_formed_and_says_what_it_shows(svg: str) -> None:
    tree = root(svg)
    assert tree.tag == f"{SVG}svg"
    assert tree.get("role") == "img"
    named = (tree.get("aria-labelledby") or "").split()
    ids = {element.get("id"): element for element in tree.iter() if element.get("id")}
    assert [ids[name].tag for name in named] == [f"{SVG}title", f"{SVG}desc"]
    assert all((ids[name].text or "").strip() for name in named)
    assert "NaN" not in svg
    assert "<script" not in svg


def test_it_takes_the_colour_of_its_surroundings(svg: str) -> None:
    assert "prefers-color-scheme:dark" in svg
    assert 'fill="currentColor"' in svg
    assert "#000" not in svg


def test_every_predominant_species_is_named_once() -> None:
    for element in ELEMENTS:
        diagram = predominance(element)
        words = [label.words for label in labels(diagram.svg())]
        for region in diagram.regions:
            assert words.count(region.species.unicode().removesuffix("(aq)")) == 1


def test_the_checker_of_collisions_sees_them() -> None:
    box = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    near = tuple((x + 5, y + 5) for x, y in box)
    far = tuple((x + 11, y) for x, y in box)
    assert collide(Label("a", box), Label("b", near))
    assert not collide(Label("a", box), Label("b", far))


def test_saving_goes_by_the_ending(tmp_path: Path) -> None:
    diagram = frost("Mn")
    assert diagram._repr_svg_() == diagram.svg()
    assert diagram.save(tmp_path / "mn.svg").read_text(encoding="utf-8") == diagram.svg()
    assert diagram.save(tmp_path / "mn.txt").read_text(encoding="utf-8") == diagram.table() + "\n"
    with pytest.raises(ValueError, match=r"\.svg, \.png or \.txt"):
        diagram.save(tmp_path / "mn.pdf")


def test_a_png_without_its_library_names_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cairosvg", None)
    with pytest.raises(MissingExtraError, match=r"redoxlib\[pictures\]"):
        frost("Mn").png()


def test_a_png_is_drawn_from_plain_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    given: dict[str, bytes] = {}

    class Renderer:
        @staticmethod
        def svg2png(*, bytestring: bytes, scale: float) -> bytes:
            given["svg"] = bytestring
            return b"png" * int(scale)

    monkeypatch.setitem(sys.modules, "cairosvg", Renderer)
    assert frost("Mn").png(scale=1) == b"png"
    text = given["svg"].decode()
    assert "currentColor" not in text
    assert "<style>" not in text
    root(text)
