"""The hopeless is refused: what is wrong, where, and the nearest repair."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from fractions import Fraction

import pytest

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation import Equation, Species, parse_symbolic

REFUSED = [
    (Species.parse, "KMmO4", "unknown element 'Mm'\n  KMmO4\n   ^^\n  did you mean 'Mn'?"),
    (
        Equation.parse,
        "KMmO4 + H2O2 -> MnSO4",
        "unknown element 'Mm'\n  KMmO4 + H2O2 -> MnSO4\n   ^^\n  did you mean 'Mn'?",
    ),
    (Species.parse, "((H)", "'(' is never closed\n  ((H)\n  ^\n  close the bracket"),
    (
        Species.parse,
        "H2O)",
        "')' closes nothing\n  H2O)\n     ^\n  remove it or open a bracket",
    ),
    (
        Species.parse,
        "КCl",
        "U+041A cyrillic capital letter ka only looks like the letter K\n  КCl\n  ^\n  type a Latin 'K'",
    ),
    (Species.parse, "H２O", "U+FF12 fullwidth digit two is not '2'\n  H２O\n   ^\n  type a plain '2'"),
    (Species.parse, "H٢O", "U+0662 arabic-indic digit two is not a digit 0-9\n  H٢O\n   ^\n  type a plain 2"),
    (Species.parse, "H\x002O", "U+0000 control character has no place in a formula\n  H·2O\n   ^"),
    (
        Species.parse,
        "CnH2n+2",
        "'n' stands for a number that is not given\n  CnH2n+2\n   ^\n"
        "  symbolic formulas are read by redoxlib.notation.parse_symbolic",
    ),
    (
        Species.parse,
        "KMnO4 H2O2",
        "two formulas without a plus sign between them\n  KMnO4 H2O2\n       ^\n"
        "  write them as two species, KMnO4 + H2O2",
    ),
    (
        Species.parse,
        "H2SO4_98",
        "a subscript right behind another number\n  H2SO4_98\n       ^^\n"
        "  write one of them; a hydrate needs a dot (CuSO4.5H2O), a strength its unit (H2SO4 98 % w/w)",
    ),
    (Species.parse, "", "an empty text is no species\n  \n  ^"),
    (
        Equation.parse,
        "KMnO4 + HCl KCl + H2O",
        "no arrow between reactants and products\n  KMnO4 + HCl KCl + H2O\n  ^^^^^^^^^^^^^^^^^^^^^\n"
        "  write -> between the two sides",
    ),
    (
        Equation.parse,
        "H2 -> H2O -> H2O2",
        "more than one arrow\n  H2 -> H2O -> H2O2\n            ^^\n  write one equation at a time",
    ),
    (
        Equation.parse,
        "-> H2O",
        "nothing stands on one side of the arrow\n  -> H2O\n  ^\n  write the species on both sides",
    ),
    (
        Equation.parse,
        "0 H2 + O2 -> H2O",
        "a coefficient of zero\n  0 H2 + O2 -> H2O\n  ^^\n  leave the species out",
    ),
]


@pytest.mark.parametrize(("read", "text", "message"), REFUSED)
def test_error_marks_the_fault_and_offers_the_repair(
    read: Callable[[str], object], text: str, message: str
) -> None:
    with pytest.raises(NotationError) as caught:
        read(text)
    assert str(caught.value) == message
    assert caught.value.source == text
    assert str(pickle.loads(pickle.dumps(caught.value))) == message


BEYOND = [
    (Species.parse, "(" * 1100 + "H" + ")" * 1100),
    (Species.parse, "(" * 65 + "H" + ")" * 65),
    (Species.parse, "H" + "9" * 4000),
    (Species.parse, "H1234567890"),
    (Species.parse, "H" * 4097),
    (Equation.parse, "H" * 65537),
    (Equation.parse, " + ".join(["H2"] * 257) + " -> H"),
    (Equation.parse, "+" * 60000 + " -> H2"),
    (Equation.parse, "Fe+" * 500 + " -> H2"),
    (parse_symbolic, "(" * 70 + "Cn" + ")" * 70),
    (parse_symbolic, "C" * 5000),
]


@pytest.mark.parametrize(("read", "text"), BEYOND)
def test_limits_are_errors_of_their_own(read: Callable[[str], object], text: str) -> None:
    with pytest.raises(BudgetError):
        read(text)


def test_the_limits_themselves_are_within() -> None:
    assert dict(Species.parse("(" * 64 + "H" + ")" * 64).elements) == {"H": 1}
    assert dict(Species.parse("H999999999").elements) == {"H": 999999999}
    assert len(Equation.parse(" + ".join(["H2"] * 255) + " -> H").reactants) == 255
    assert Species.parse("H2O." * 500 + "H2O").elements["O"] == 501


@pytest.mark.parametrize("elements", [{"Xx": 1}, {"H": 0}, {"H": -1}, {"H": 1.5}, {"H": True}, {}], ids=repr)
def test_error_for_an_impossible_composition(elements: dict[str, int]) -> None:
    with pytest.raises(NotationError):
        Species.of(elements)


def test_error_for_an_inexact_coefficient() -> None:
    water = Species.parse("H2O")
    with pytest.raises(NotationError, match="not exact"):
        Equation.of([(0.5, water)], [(1, water)])  # type: ignore[list-item]
    with pytest.raises(NotationError, match="not positive"):
        Equation.of([(0, water)], [(1, water)])
    with pytest.raises(NotationError, match="not positive"):
        Equation.parse("H2 -> H2").scaled(Fraction(-1, 2))


def test_values_survive_pickling_and_copying() -> None:
    for value in (
        Species.parse("S2-"),
        Species.parse("propan-2-ol(l)"),
        Equation.parse("5S2- + O2 -> S"),
        parse_symbolic("CnH2n+2"),
    ):
        again = pickle.loads(pickle.dumps(value))
        assert again == value
        assert hash(again) == hash(value)
        assert getattr(again, "assumptions", ()) == getattr(value, "assumptions", ())
        assert copy.deepcopy(value) == value
