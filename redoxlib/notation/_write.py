"""Species and equations as text: ASCII that reads back, Unicode scripts, LaTeX for mhchem.

May import: the values of this package.
"""

from __future__ import annotations

import re
from fractions import Fraction

from redoxlib.errors import NotationError
from redoxlib.notation._equation import Equation, Term
from redoxlib.notation._species import Count, Species

__all__ = ["ascii_text", "equation_ascii", "equation_latex", "equation_unicode", "latex", "unicode"]

_SUBSCRIPT = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_SUPERSCRIPT = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
_RATIO = re.compile(r"_\{([0-9]+)/([0-9]+)\}")
_AFTER_ATOM = re.compile(r"(?<=[A-Za-z)\]])([0-9]+(?:\.[0-9]+)?)")


def charge_text(charge: int) -> str:
    """Return ``2-``, ``+`` and the like; empty for no charge."""
    if not charge:
        return ""
    sign = "+" if charge > 0 else "-"
    return sign if abs(charge) == 1 else f"{abs(charge)}{sign}"


def literal(species: Species) -> str:
    """Return formula, charge and phase as they stand, without asking how they read back."""
    text = species.formula
    if species.charge:
        text += "^" + charge_text(species.charge)
    return f"{text}({species.phase})" if species.phase else text


def ascii_text(species: Species) -> str:
    """Return ASCII that reads back to an equal species.

    A formula that would be taken for a misprint is put in square brackets, which are read to the
    letter, so ``[MnO]^4-`` is what it says; where they hold what would still be read otherwise, a lost dot
    or a Roman numeral, the composition stands in them.  An isomer that no formula tells is written by name.
    """
    text = literal(species)
    if Species.parse(text) == species:
        return text
    if species.isomer is not None:
        return f"{species.isomer}({species.phase})" if species.phase else species.isomer
    charge = "^" + charge_text(species.charge) if species.charge else ""
    phase = f"({species.phase})" if species.phase else ""
    text = f"[{species.formula}]{charge}{phase}"
    return text if _reads_as(text, species) else f"[{formula_of(species.atoms)}]{charge}{phase}"


def _reads_as(text: str, species: Species) -> bool:
    try:
        return Species.parse(text) == species
    except NotationError:
        return False


def _scripts(formula: str) -> str:
    """Return the formula with subscripts lowered; multipliers after a hydrate dot stay on the line."""
    from redoxlib.notation._formula import split_dots

    parts = split_dots(formula) if "." in formula else None
    pieces = [(times, part) for times, part in parts] if parts else [(1, formula)]
    shown = []
    for times, part in pieces:
        lowered = _RATIO.sub(
            lambda m: m.group(1).translate(_SUBSCRIPT) + "⁄" + m.group(2).translate(_SUBSCRIPT), part
        )
        lowered = _AFTER_ATOM.sub(lambda m: m.group(1).translate(_SUBSCRIPT), lowered)
        shown.append((coefficient(times) if times != 1 else "") + lowered)
    return "·".join(shown)


def unicode(species: Species) -> str:
    """Return Unicode text, such as ``Cr₂O₇²⁻(aq)``."""
    text = ascii_text(species)
    phase = f"({species.phase})" if species.phase else ""
    body = text.removesuffix(phase) if phase else text
    formula, caret, charge = body.partition("^")
    if not caret and formula != species.formula and not formula.startswith("["):
        return text  # a name stands where no formula tells the isomer
    return _scripts(formula) + charge.translate(_SUPERSCRIPT) + phase


def latex(species: Species) -> str:
    r"""Return ``\ce{...}`` for mhchem."""
    return r"\ce{" + _inside_ce(species) + "}"


def _inside_ce(species: Species) -> str:
    text = ascii_text(species)
    phase = f"({species.phase})" if species.phase else ""
    if species.isomer is not None and text == species.isomer + phase:
        # No formula tells this isomer: its structure where the table draws one, else its name as text.
        from redoxlib.notation._names import names

        return (names().structure(species.isomer) or f"{{{species.isomer}}}") + phase
    # mhchem takes a decimal point in a subscript only inside braces.
    return re.sub(r"(?<=[A-Za-z)\]])([0-9]+\.[0-9]+)(?![0-9]*(?:H2O|D2O))", r"_{\1}", text)


def coefficient(count: Count) -> str:
    """Return a coefficient: whole, or a ratio of whole numbers."""
    if isinstance(count, Fraction) and count.denominator != 1:
        return f"{count.numerator}/{count.denominator}"
    return str(count)


def _joined(equation: Equation, one: str, arrow: str) -> str:
    def side(terms: tuple[Term, ...]) -> str:
        shown = []
        for count, species in terms:
            text = {"ascii": ascii_text, "unicode": unicode, "ce": _inside_ce}[one](species)
            shown.append(text if count == 1 else f"{coefficient(count)} {text}")
        return " + ".join(shown)

    return f"{side(equation.reactants)} {arrow} {side(equation.products)}"


def equation_ascii(equation: Equation) -> str:
    """Return ASCII that reads back to an equal equation."""
    return _joined(equation, "ascii", "->")


def equation_unicode(equation: Equation) -> str:
    """Return Unicode text with ``→``."""
    return _joined(equation, "unicode", "→")


def equation_latex(equation: Equation) -> str:
    r"""Return one ``\ce{...}`` for mhchem."""
    return r"\ce{" + _joined(equation, "ce", "->") + "}"


def formula_of(atoms: tuple[tuple[str, Count], ...]) -> str:
    """Spell a composition: carbon and hydrogen first if there is carbon, else from metal to nonmetal."""
    counts = dict(atoms)

    def rank(symbol: str) -> tuple[int, str]:
        if "C" in counts and symbol in ("C", "H"):
            return (-1, symbol)
        return (_PLACE.get(symbol, 0), symbol)

    return "".join(symbol + subscript(counts[symbol]) for symbol in sorted(counts, key=rank))


def subscript(count: Count) -> str:
    """Return a subscript that reads back: whole, decimal, or ``_{1/3}``."""
    if count == 1:
        return ""
    if isinstance(count, Fraction) and count.denominator != 1:
        places = next((n for n in range(1, 10) if (10**n) % count.denominator == 0), None)
        if places is None:
            return f"_{{{count.numerator}/{count.denominator}}}"
        whole, rest = divmod(count.numerator * 10**places // count.denominator, 10**places)
        return f"{whole}.{rest:0{places}d}"
    return str(count)


# Order in which inorganic formulas are spelled, after the metals (IUPAC 2005, table VI, its nonmetal end).
_PLACE = {
    symbol: place
    for place, symbol in enumerate(
        ["B", "Si", "C", "Sb", "As", "P", "N", "H", "D", "Te", "Se", "S", "At", "I", "Br", "Cl", "O", "F"],
        start=1,
    )
}
