"""Equations survive copying: arrows, glued signs, labels, blanks and letters."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction

import pytest

from redoxlib.notation import Equation, Species

PLAIN = [
    "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O",
    "Cr2O7^2- + 14 H^+ + 6 e^- -> 2 Cr^3+ + 7 H2O",
    "3 ClO^- + I^- -> IO3^- + 3 Cl^-",
    "Hg2^2+ + Sn^2+ -> 2 Hg + Sn^4+",
    "2 Fe^3+ + Cu -> 2 Fe^2+ + Cu^2+",
    "Fe(CN)6^4- + Ce^4+ -> Fe(CN)6^3- + Ce^3+",
    "NH4^+ + NO2^- -> N2 + 2 H2O",
    "UO2^2+ + Zn + 4 H^+ -> U^4+ + Zn^2+ + 2 H2O",
    "Au + O2 + CN^- + H2O -> Au(CN)2^- + H2O2 + OH^-",
    "I3^- + 2 S2O3^2- -> 3 I^- + S4O6^2-",
    "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O",
]

_CHARGE = re.compile(r"\^([0-9]*)([+-])")
_SUBSCRIPT = re.compile(r"(?<=[A-Za-z)\]])([0-9]+)")
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def _scripts(text: str, low: str, high: str) -> str:
    return _SUBSCRIPT.sub(low, re.sub(r"\^([0-9]*[+-])", high, text))


STYLES: dict[str, Callable[[str], str]] = {
    "flat": lambda t: t.replace("^", ""),
    "glued": lambda t: t.replace("^", "").replace(" + ", "+").replace(" -> ", "→"),
    "glued to the left": lambda t: t.replace("^", "").replace(" + ", "+ "),
    "glued to the right": lambda t: t.replace("^", "").replace(" + ", " +"),
    "carets and glue": lambda t: t.replace(" + ", "+").replace(" -> ", "=>"),
    "sign first": lambda t: _CHARGE.sub(lambda m: m[2] + (m[1] or "1"), t),
    "sign first after a space": lambda t: _CHARGE.sub(lambda m: f" {m[2]}{m[1] or '1'}", t),
    "charge after a space": lambda t: _CHARGE.sub(r" \1\2", t),
    "charge in brackets": lambda t: _CHARGE.sub(r"(\1\2)", t),
    "repeated signs": lambda t: _CHARGE.sub(lambda m: m[2] * int(m[1] or 1), t),
    "latex": lambda t: _scripts(t, r"_{\1}", r"^{\1}").replace("->", r"\rightarrow"),
    "asciimath": lambda t: _scripts(t, r"_(\1)", r"^(\1)").replace(" -> ", " rarr ").replace(" + ", "+"),
    "html": lambda t: _scripts(t, r"<sub>\1</sub>", r"<sup>\1</sup>").replace("->", "&rarr;"),
    "caret pairs": lambda t: re.sub(r"\^([0-9]*[+-])", r"^\1^", t),
    "raised digit, plain sign": lambda t: _CHARGE.sub(lambda m: m[1].translate(_RAISED) + m[2], t),
    "macron": lambda t: t.replace("^", "").replace("->", "»").replace("-", "¯").replace("»", "---->"),
    "minus signs": lambda t: t.replace("^", "").replace("->", "⟶").replace("-", "−"),
    "en dashes and equals": lambda t: t.replace("^", "").replace("->", "=").replace("-", "–"),
    "loose PDF": lambda t: _SUBSCRIPT.sub(r" \1 ", _CHARGE.sub(r" \1 \2", t)),
    "broken arrow": lambda t: t.replace("^", "").replace("->", "-- >"),
    "arrow glued to the charge": lambda t: t.replace("^", "").replace(" ->", "=>"),
    "wrapped lines": lambda t: t.replace("^", "").replace(" + ", " +\n  ") + ".",
    "phases": lambda t: re.sub(r"\^([0-9]*[+-])", r"\1(aq)", t),
    "written unicode": lambda t: Equation.parse(t).unicode(),
    "written latex": lambda t: Equation.parse(t).latex(),
}


def _shape(equation: Equation) -> list[list[tuple[object, ...]]]:
    return [[(n, s.atoms, s.charge) for n, s in side] for side in (equation.reactants, equation.products)]


@pytest.mark.parametrize("plain", PLAIN)
@pytest.mark.parametrize("style", STYLES)
def test_every_style_of_typing_gives_the_same_equation(style: str, plain: str) -> None:
    assert _shape(Equation.parse(STYLES[style](plain))) == _shape(Equation.parse(plain))


ARROWS = [
    "->",
    "-->",
    "--->",
    "=>",
    "==>",
    "=",
    "==",
    "→",
    "⟶",
    "⇌",
    "⇄",
    "↔",
    "⟷",
    "⇒",
    "⟹",
    "<=>",
    "<->",
    "<-->",
    "—>",
    "–>",
    "──>",
    "-- >",
    "®",
    "à",
    "rarr",
    "&rarr;",
    "yields",
    "gives",
    "--->>",
    "->[heat]",
]
LATEX_ARROWS = [r"\to", r"\rightarrow", r"\longrightarrow", r"\rightleftharpoons", r"\xrightarrow{\Delta}"]


@pytest.mark.parametrize("arrow", ARROWS + LATEX_ARROWS)
def test_arrows_in_every_state_of_repair(arrow: str) -> None:
    assert Equation.parse(f"Zn + Cu2+ {arrow} Zn2+ + Cu") == Equation.parse("Zn + Cu^2+ -> Zn^2+ + Cu")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Cr3++Fe3+ -> Cr6+ + Fe2+", "Cr^3+ + Fe^3+ -> Cr^6+ + Fe^2+"),
        ("MnO2+ HNO2 -> Mn2+ + NO3-", "MnO2 + HNO2 -> Mn^2+ + NO3^-"),
        ("Cr2O7 -2+ Fe +2+ H+ -> Cr+3 + Fe+3", "Cr2O7^2- + Fe^2+ + H^+ -> Cr^3+ + Fe^3+"),
        ("MnO4-+Fe2++H+→Mn2++Fe3++H2O", "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O"),
        ("2I- — > I2", "2 I^- -> I2"),
        ("CH2=CH2 + Br2 = CH2BrCH2Br", "CH2CH2 + Br2 -> CH2BrCH2Br"),
        ("Al + OH- → AlO2- + H2 (in basic solution)", "Al + OH^- -> AlO2^- + H2"),
        ("In acidic solution: Al + OH- → AlO2- + H2", "Al + OH^- -> AlO2^- + H2"),
        ("Al + OH- → AlO2- + H2, in basic solution", "Al + OH^- -> AlO2^- + H2"),
        ("a) Zn + HCl -> ZnCl2 + H2.", "Zn + HCl -> ZnCl2 + H2"),
        ("1. Zn + HCl -> ZnCl2 + H2", "Zn + HCl -> ZnCl2 + H2"),
        ("2H+ + 2e- -> H2, E° = 0.00 V", "2 H^+ + 2 e^- -> H2"),
        ("__ Fe + __ O2 → __ Fe2O3", "Fe + O2 -> Fe2O3"),
        ("__2 Fe + ___ O2 → Fe2O3", "2 Fe + O2 -> Fe2O3"),
        ("2 propan-2-ol + O2 -> 2 acetone + 2 water", "2 CH3CHOHCH3 + O2 -> 2 CH3COCH3 + 2 H2O"),
        ("2Na2CO3.3H2O2 -> 2 Na2CO3 + 3 H2O2", "(Na2CO3)2.3H2O2 -> 2 Na2CO3 + 3 H2O2"),
    ],
)
def test_collisions_and_labels(text: str, plain: str) -> None:
    assert Equation.parse(text) == Equation.parse(plain)
    assert Equation.parse(text).assumptions == ()


def test_coefficients_are_exact() -> None:
    equation = Equation.parse("½ N2 + 2.5 O2 + 3/2 H2 + 1½ S -> N2O5")
    assert [n for n, _ in equation.reactants] == [
        Fraction(1, 2),
        Fraction(5, 2),
        Fraction(3, 2),
        Fraction(3, 2),
    ]
    assert [n for n, _ in equation.reduced().reactants] == [1, 5, 3, 3]
    assert equation.scaled(2).products == ((2, Species.parse("N2O5")),)


def test_a_letter_is_an_unknown_coefficient() -> None:
    equation = Equation.parse("a KMnO4 + b HCl -> c KCl + d MnCl2 + e H2O + f Cl2")
    assert equation == Equation.parse("KMnO4 + HCl -> KCl + MnCl2 + H2O + Cl2")
    assert [a.other for a in equation.assumptions] == [f"a symbol {letter}" for letter in "abcdef"]


def test_a_plus_before_the_arrow_is_a_charge_and_is_told() -> None:
    equation = Equation.parse("Cr2O7 -2+ Fe +2+ H +=> Cr +3+ Fe +3")
    assert str(equation) == "Cr2O7^2- + Fe^2+ + H^+ -> Cr^3+ + Fe^3+"
    assert [(a.read_as, a.other) for a in equation.assumptions] == [("H^+", "H")]


def test_a_dash_of_the_arrow_may_be_the_charge() -> None:
    equation = Equation.parse("Cl--> Cl2")
    assert str(equation) == "Cl^- -> Cl2"
    assert len(equation.assumptions) == 1


def test_an_arrow_to_the_left_exchanges_the_sides() -> None:
    equation = Equation.parse("I2 <- I-")
    assert str(equation) == "I^- -> I2"
    assert [a.span for a in equation.assumptions] == [(3, 6)]


def test_electrons_taken_away_stand_on_the_other_side() -> None:
    assert str(Equation.parse("Fe2+ - e- = Fe3+")) == "Fe^2+ -> Fe^3+ + e^-"


def test_spans_of_assumptions_count_in_the_whole_text() -> None:
    text = "2 Fe3+ + 5S2- -> X"[:-1] + "S"
    (assumption,) = Equation.parse(text).assumptions
    assert text[slice(*assumption.span)] == "S2-"


def test_a_balanced_equation_decides_between_readings() -> None:
    assert str(Equation.parse("Li3N -> 3 Li+ + N3-")) == "Li3N -> 3 Li^+ + N^3-"
    assert str(Equation.parse("HN3 -> H+ + N3-")) == "HN3 -> H^+ + N3^-"
    vanadium = Equation.parse("VO2+ + Fe2+ + 2 H+ -> VO2+ + Fe3+ + H2O")
    assert str(vanadium) == "VO2^+ + Fe^2+ + 2 H^+ -> VO^2+ + Fe^3+ + H2O"
    assert len(vanadium.assumptions) == 2


def test_residual_counts_left_minus_right() -> None:
    assert Equation.parse("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O").residual() == {}
    assert Equation.parse("H2 + O2 -> H2O").residual() == {"O": Fraction(1)}
    assert Equation.parse("Fe^2+ -> Fe^3+").residual() == {"charge": Fraction(-1)}


def test_order_of_terms_takes_no_part_in_equality() -> None:
    assert Equation.parse("Zn + Cu^2+ -> Cu + Zn^2+") == Equation.parse("Cu^2+ + Zn -> Zn^2+ + Cu")
    assert Equation.parse("Zn + Cu^2+ -> Cu + Zn^2+") != Equation.parse("Cu + Zn^2+ -> Zn + Cu^2+")


@pytest.mark.parametrize("glyph", "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒")
def test_every_fraction_glyph_is_read_as_the_number_it_shows(glyph: str) -> None:
    (count, _), _ = Equation.parse(f"{glyph} N2 + 2 O2 -> N2O5").reactants
    assert float(count) == pytest.approx(unicodedata.numeric(glyph))


def test_an_equation_can_be_rebuilt_from_its_repr() -> None:
    equation = Equation.parse("2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2(g) + 8 H2O")
    assert eval(repr(equation), {"Equation": Equation}) == equation
