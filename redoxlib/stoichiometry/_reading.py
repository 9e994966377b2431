"""From text or an equation to the species on each side, with a fast way for text read before.

A token of a side is remembered only after the full reader has read it inside an equation without any
assumption and without a coefficient, so the fast way gives exactly what the full reader would.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from redoxlib.errors import NotationError
from redoxlib.notation import Assumption, Equation, Species

__all__ = ["Reading", "ignored", "read"]

_REMEMBERED: dict[str, Species] = {}
_MOST_REMEMBERED = 8192
# Signs that make a token depend on its neighbours or carry more than one species.
_UNSAFE = frozenset(" \t\r\n,;=<>\\\"'_|/*")


class Reading(NamedTuple):
    """Species on each side in the order written, doubles merged; what was typed; assumptions."""

    left: Sequence[Species]
    right: Sequence[Species]
    typed: bool
    assumptions: tuple[Assumption, ...]
    text: str
    doubled: bool = False


def read(text: str | Equation) -> Reading:
    """Read *text*; coefficients are noticed but not kept."""
    if not isinstance(text, Equation):
        try:
            head, arrow, tail = text.partition(" -> ")
            if arrow:
                known = _REMEMBERED.__getitem__
                left = list(map(known, head.split(" + ")))
                right = list(map(known, tail.split(" + ")))
                if len({*left, *right}) == len(left) + len(right):
                    return Reading(left, right, False, (), text)
        except (KeyError, AttributeError, TypeError):
            pass  # a token not met before, or no text at all: the full reader says which
        equation = _parse(text)
        _remember(text, equation)
    else:
        equation, text = text, str(text)
    typed = any(count != 1 for count, _ in equation.reactants + equation.products)
    left = list(dict.fromkeys(species for _, species in equation.reactants))
    right = list(dict.fromkeys(species for _, species in equation.products))
    doubled = not set(left).isdisjoint(right)
    return Reading(left, right, typed, equation.assumptions, text, doubled)


def _parse(text: str) -> Equation:
    try:
        return Equation.parse(text)
    except NotationError as error:
        if error.hint is not None and "parse_symbolic" in error.hint:
            raise NotationError(
                error.message,
                source=error.source,
                span=error.span,
                hint="balance_symbolic() balances formulas with letters as subscripts",
            ) from None
        raise


def _remember(text: str, equation: Equation) -> None:
    arrow = text.split(" -> ")
    if equation.assumptions or len(arrow) != 2:
        return
    for side, terms in zip(arrow, (equation.reactants, equation.products), strict=True):
        tokens = side.split(" + ")
        if len(tokens) != len(terms):
            return
        for token, (count, species) in zip(tokens, terms, strict=True):
            plain = token[:1].isalpha() or token[:1] in "(["
            if count == 1 and plain and token.isascii() and not _UNSAFE.intersection(token):
                if len(_REMEMBERED) >= _MOST_REMEMBERED:
                    _REMEMBERED.clear()
                _REMEMBERED[token] = species


def ignored(reading: Reading) -> tuple[Assumption, ...]:
    """Say that typed coefficients were not used."""
    if not reading.typed:
        return ()
    return (
        Assumption(
            (0, len(reading.text)),
            "species only",
            "coefficients as typed",
            "balancing ignores typed coefficients; check() judges them",
        ),
    )


def exact_counts(equation: Equation) -> list[Fraction]:
    """All coefficients, reactants first."""
    return [Fraction(count) for count, _ in equation.reactants + equation.products]
