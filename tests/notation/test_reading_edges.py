"""Places where a reading turns: one character or one electron more, and another answer is due."""

from __future__ import annotations

import pytest

from redoxlib import Equation, NotationError, Species
from redoxlib.notation import parse_symbolic


@pytest.mark.parametrize(
    ("text", "means"),
    [
        ("NF2-", "NF2^-"),  # difluoroamide: an even number of electrons, and one subscript only
        ("SO4-²", "SO4^2-"),  # a sign on the line, the number raised after it
        ("SO4 -²", "SO4^2-"),
        ("(SO4²⁻)", "SO4^2-"),  # a bracket after the charge is no letter
        ("SnO2⁺", "SnO^2+"),  # a raised plus alone shows that the digit before it belongs to it
        ("H&#8322;O", "H2O"),
        ("H&#x2082;O", "H2O"),
        ("Na2CO3,10H2O", "Na2CO3.10H2O"),
        ("Mn O5", "MnO5"),  # a loose space, for no oxygen comes in fives
    ],
)
def test_text_that_tells_enough_is_read_without_remark(text: str, means: str) -> None:
    read = Species.parse(text)
    assert str(read) == means
    assert read.assumptions == ()


def test_an_odd_electron_is_remarked_upon() -> None:
    (note,) = Species.parse("NH-").assumptions
    assert "usual oxidation numbers" in note.why


def test_a_remark_points_at_the_formula_without_its_phase() -> None:
    (note,) = Species.parse("CS(l)").assumptions
    assert note.span == (0, 2)
    assert (note.read_as, note.other) == ("Cs", "CS")


@pytest.mark.parametrize("text", ["ONh", "HNo3"])
def test_symbols_that_exist_are_not_taken_for_others(text: str) -> None:
    assert str(Species.parse(text)) == text


@pytest.mark.parametrize(
    ("text", "span"), [(",H", (0, 1)), ("%d", (0, 1)), ("s)", (0, 1)), ("kJ", (0, 1)), ("H2o", (2, 3))]
)
def test_the_first_character_without_a_place_is_pointed_at(text: str, span: tuple[int, int]) -> None:
    with pytest.raises(NotationError) as caught:
        Species.parse(text)
    assert caught.value.span == span


def test_an_entity_beyond_the_last_character_is_refused() -> None:
    with pytest.raises(NotationError):
        Species.parse("H&#x110000;O")


@pytest.mark.parametrize("count", ["2/0", "0/0", "1/00", "1 1/0"])
def test_a_coefficient_divided_by_zero_is_pointed_at(count: str) -> None:
    with pytest.raises(NotationError, match="divided by zero") as caught:
        Equation.parse(f"{count} H2 + O2 -> H2O")
    assert caught.value.span == (0, len(count))


def test_a_plus_sign_with_nothing_after_it_is_left_out_where_it_stands() -> None:
    read = Equation.parse("C2H4 + CH4 +  -> C3H8")
    assert str(read) == "C2H4 + CH4 -> C3H8"
    assert (11, 12) in [note.span for note in read.assumptions]
    # ethene has no charge to lose, so the sign is not one
    assert str(Equation.parse("C2H4 +  -> C2H4O")).startswith("C2H4 -> ")


@pytest.mark.parametrize("text", ["O(l)l", "O(I)I", "Cl2 8H2O", "Cu SO4 5H2O"])
def test_what_was_read_is_written_so_that_it_reads_back(text: str) -> None:
    read = Species.parse(text)
    assert Species.parse(str(read)) == read


@pytest.mark.parametrize("text", ["N H2O", "Fe H2O"])
def test_a_lone_atom_has_no_water_of_crystallisation(text: str) -> None:
    with pytest.raises(NotationError, match="plus sign"):
        Species.parse(text)


def test_a_symbolic_species_equals_no_text() -> None:
    assert parse_symbolic("CnH2n+2") != "CnH2n+2"
    assert parse_symbolic("CnH2n+2") == parse_symbolic("CnH2n+2")
