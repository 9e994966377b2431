"""Balances, checks and oxidation numbers as documents.

May import: stoichiometry and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from redoxlib.notation import Assumption, Equation
from redoxlib.reports._document import Block, Bullets, Document, Facts, Note, Paragraph
from redoxlib.stoichiometry import Balance, Check, OxidationNumbers

__all__ = ["balance_document", "check_document", "equation_text", "oxidation_document"]

STYLES = ("ascii", "unicode", "latex")


def equation_text(equation: Equation, style: str = "ascii") -> str:
    """Write an equation in one of ``STYLES``."""
    if style == "unicode":
        return equation.unicode()
    return equation.latex() if style == "latex" else str(equation)


def assumption_blocks(assumptions: Iterable[Assumption]) -> Iterator[Block]:
    """One line per doubtful reading."""
    lines = tuple(dict.fromkeys(str(assumption) for assumption in assumptions))
    if lines:
        yield Paragraph("Assumed:")
        yield Bullets(lines)


def balance_document(balance: Balance, style: str = "ascii") -> Document:
    """Write a balance: the equation where there is one, else the family and the choice within it."""
    blocks: list[Block] = []
    if balance.unique:
        blocks.append(Paragraph(equation_text(balance.equation, style)))
    else:
        choice = balance.choice
        if choice is not None:
            blocks.append(Paragraph(equation_text(choice, style)))
        blocks.append(
            Paragraph(
                f"Not unique: {balance.dimension} independent equations balance. Each of these does on its "
                "own, and so does any sum of them:"
            )
        )
        blocks.append(Bullets(tuple(equation_text(member, style) for member in balance.members)))
        if balance.truncated:
            blocks.append(Note("The list is cut short."))
        chosen = "The first line is the choice" if choice is not None else "Nothing is chosen"
        blocks.append(Paragraph(f"{chosen}: {balance.choice_reason}."))
    if balance.half_reaction:
        blocks.append(Note("A half-reaction: electrons stand in it."))
    if balance.notes:
        blocks.append(Bullets(balance.notes))
    return Document((*blocks, *assumption_blocks(balance.assumptions)))


def check_document(check: Check) -> Document:
    """Write a check: balanced or by how much not, and what a reader should look at."""
    head, *_ = str(check).splitlines()
    blocks: list[Block] = [Paragraph(head)]
    if not check.balanced:
        blocks.append(Facts((("read as", str(check.equation)),)))
    if check.remarks:
        blocks.append(Bullets(check.remarks))
    return Document((*blocks, *assumption_blocks(check.assumptions)))


def oxidation_document(numbers: OxidationNumbers) -> Document:
    """Write oxidation numbers, each element on its line with the average where atoms differ."""
    pairs = []
    for symbol, sites in numbers.items():
        average = f", average {sites.average}" if len(sites) > 1 else ""
        pairs.append((symbol, f"{sites}{average}"))
    blocks: list[Block] = [Paragraph(str(numbers.species)), Facts(tuple(pairs))]
    if numbers.remark:
        blocks.append(Note(numbers.remark))
    return Document((*blocks, *assumption_blocks(numbers.species.assumptions)))
