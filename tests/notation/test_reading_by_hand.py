"""What one line of the reader ought to say, in the shortest text that asks for it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation import Equation, Species, parse_symbolic
from redoxlib.notation._messy import read_counted


@pytest.mark.parametrize(
    ("text", "at"),
    [("Zn - 2e- -> Zn2+", "2e-"), ("Fe2+ - e- -> Fe3+", "e-"), ("Zn - 2 e^- = Zn^2+", "2 e^-")],
)
def test_an_electron_taken_away_is_marked_where_it_stands(text: str, at: str) -> None:
    equation = Equation.parse(text)
    (note,) = equation.assumptions
    assert text[slice(*note.span)] == at
    assert any(species.is_electron for _, species in equation.products)


@pytest.mark.parametrize(("text", "char", "at"), [("([H", "[", 1), ("[(Fe", "(", 1), ("Na[Fe(CN", "(", 5)])
def test_the_bracket_that_was_opened_last_is_the_one_to_close(text: str, char: str, at: int) -> None:
    with pytest.raises(NotationError, match="is never closed") as caught:
        Species.parse(text)
    assert caught.value.message.startswith(repr(char))
    assert caught.value.span == (at, at + 1)


def test_symbolic_brackets_nest_as_deep_as_the_limit_and_no_deeper() -> None:
    assert parse_symbolic("(" * 64 + "H" + ")" * 64).elements
    with pytest.raises(BudgetError, match="limit of 64"):
        parse_symbolic("(" * 65 + "H" + ")" * 65)


@pytest.mark.parametrize(
    ("text", "charge"),
    [
        ("Fe^+", 1),
        ("CnH2n+1^+", 1),
        ("CnH2n+1O^-", -1),
        ("(CnH2n+1)4N^+", 1),
        ("CxHy^{2+}", 2),
        ("CxHy^{2-}", -2),
        ("Fe^{3+}", 3),
    ],
)
def test_the_charge_of_a_formula_with_letters_is_what_is_written(text: str, charge: int) -> None:
    assert parse_symbolic(text).charge == charge


@pytest.mark.parametrize(
    ("counts", "charge", "spelled"),
    [
        ({"H": 1, "C": 1, "N": 1}, 0, "HCN"),
        ({"C": 1, "N": 1, "S": 1}, -1, "SCN^-"),
        ({"C": 6, "N": 6, "Fe": 1}, -4, "Fe(CN)6^4-"),
        ({"Cl": 1, "O": 1}, -1, "ClO^-"),
        # No usual spelling: carbon and hydrogen first, then from metal to nonmetal.
        ({"C": 2, "H": 3, "O": 2, "Cs": 1}, 0, "C2H3CsO2"),
        ({"C": 3, "H": 9, "B": 1}, 0, "C3H9B"),
        ({"C": 6, "H": 15, "B": 1, "O": 3}, 0, "C6H15BO3"),
    ],
)
def test_counts_are_spelled_as_the_trade_spells_them(
    counts: dict[str, int], charge: int, spelled: str
) -> None:
    made = Species.of(counts, charge)
    assert str(made) == spelled
    assert Species.parse(spelled).elements == made.elements


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("O<sub>2</sub><sup>-</sup>", "O2^-"),  # superoxide; the bare O2- may be oxide
        ("O<sub>2</sub>-", "O2^-"),
        ("O<sup>2-</sup>", "O^2-"),
        ("CO<sub>3</sub>2-", "CO3^2-"),
        ("S<sub>2</sub><sup>2-</sup>", "S2^2-"),
        ("<sub>2</sub>", ""),
        ("C<sub>2</sub>H<sub>5</sub>OH", "C2H5OH"),
        ("Fe<sup>3+</sup>(aq)", "Fe^3+(aq)"),
    ],
)
def test_tags_lower_and_raise_and_end(text: str, read: str) -> None:
    if not read:
        with pytest.raises(NotationError):
            Species.parse(text)
        return
    species = Species.parse(text)
    assert str(species) == read
    assert species.assumptions == ()


def test_a_digit_that_may_be_charge_or_count_is_told() -> None:
    for text, read, other in (("FeBr2+", "FeBr^2+", "FeBr2"), ("O2-", "O^2-", "O2^-")):
        species = Species.parse(text)
        assert str(species) == read
        assert [note.other for note in species.assumptions] == [other]


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("2 water", 2),
        ("3/2 water", Fraction(3, 2)),
        ("2 1/2 water", Fraction(5, 2)),
        ("½ water", Fraction(1, 2)),
        ("0,5 water", Fraction(1, 2)),
        ("2 water(g)", 2),
        ("1 1/2 oxygen", Fraction(3, 2)),
    ],
)
def test_a_named_substance_is_counted_like_a_formula(text: str, count: Fraction) -> None:
    name = text.rsplit(" ", 1)[1].partition("(")[0]
    assert Species.parse(text).elements == Species.parse(name).elements
    equation = Equation.parse(f"{text} -> H2")
    assert equation.reactants[0][0] == count
    assert equation.reactants[0][1].elements == Species.parse(name).elements


@pytest.mark.parametrize("text", ["HCl water", "NaCl, water"])
def test_water_behind_a_formula_is_what_it_is_dissolved_in(text: str) -> None:
    assert str(Species.parse(text)).endswith("(aq)")


def test_the_representation_of_an_equation_reads_back() -> None:
    equation = Equation.parse("2 H2 + O2 -> 2 H2O")
    assert repr(equation) == "Equation.parse('2 H2 + O2 -> 2 H2O')"
    assert eval(repr(equation)) == equation


def test_fractional_counts_leave_no_odd_electron() -> None:
    # Half an atom is an average over a solid; whether one electron is left over cannot be asked.
    assert Species.parse("IN2S1.5Br2^2-").assumptions == ()


def test_oxygen_beside_fluorine_may_be_positive() -> None:
    assert Species.parse("OF2^2+").assumptions == ()
    (note,) = Species.parse("SO5^2+").assumptions
    assert "do not add up" in note.why


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("I2 + Cl--> Cl2 + I-", 7),
        ("Cl--> Cl2", 2),
        ("H2O + Br--> Br2 - 2e-", 8),  # the electrons go to the left, the dash stays with the bromide
    ],
)
def test_a_dash_given_back_is_told_of_the_species_it_is_given_to(text: str, at: int) -> None:
    (note,) = [n for n in Equation.parse(text).assumptions if "dash of the arrow" in n.why]
    assert note.span == (at, at + 1)
    assert note.read_as == text[at - 2 : at] + "^-"


@pytest.mark.parametrize("text", ["=CH2=CH2", "= CH2=CH2", "CH2=CH2 ="])
def test_a_sign_at_the_edge_is_the_arrow_and_the_glued_one_a_bond(text: str) -> None:
    with pytest.raises(NotationError, match="nothing stands on one side"):
        Equation.parse(text)


@pytest.mark.parametrize("tail", ["", " ", "\n", " .", ";", "$", " .,; \t"])
def test_what_closes_a_sentence_is_no_part_of_the_equation(tail: str) -> None:
    with pytest.raises(NotationError, match="no arrow") as caught:
        Equation.parse("Fe + Cl2" + tail)
    assert caught.value.span == (0, 8)
    assert Equation.parse("2 H2 + O2 -> 2 H2O" + tail) == Equation.parse("2 H2 + O2 -> 2 H2O")


@pytest.mark.parametrize(("text", "usual"), [("S^+", True), ("N^+", True), ("S^7+", False)])
def test_a_single_atom_holds_a_charge_within_its_range(text: str, usual: bool) -> None:
    assert (Species.parse(text).assumptions == ()) is usual


def test_a_mixed_number_counts_whole_and_part() -> None:
    assert read_counted("2 1/2 oxygen")[1] == Fraction(5, 2)
    assert read_counted("2 1/2 H2O")[1] == Fraction(5, 2)
    assert read_counted("1/2 H2O")[1] == Fraction(1, 2)


def test_a_species_beyond_the_limit_is_named_as_that_also_in_an_equation() -> None:
    for text in (f"H2 + {'(CH2)' * 1000} -> H2", f"H2 -> O2 + {'(CH2)' * 1000}"):
        with pytest.raises(BudgetError, match="5000 characters is longer than the limit of 4096") as caught:
            Equation.parse(text)
        assert caught.value.span is not None
        assert text[slice(*caught.value.span)].strip() == "(CH2)" * 1000
