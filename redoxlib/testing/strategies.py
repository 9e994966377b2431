"""Random species, couples and equations for hypothesis, valid by construction.

Balanced equations are sums of tabulated half-reactions in which the electrons cancel; no solver is asked,
so they can judge one.

May import: notation, data, errors.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from redoxlib.data import Couple, shipped
from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Species

__all__ = ["balanced_equations", "couples", "register", "skeletons", "species", "wrong_equations"]

_COMMON = ("H", "O", "C", "N", "S", "Cl", "Na", "K", "Br", "I", "P", "Mn", "Fe", "Cu", "Cr", "Zn")


def species(
    *,
    elements: SearchStrategy[str] | None = None,
    charges: SearchStrategy[int] | None = None,
) -> SearchStrategy[Species]:
    """Any species that can be written; shrinks towards one atom and no charge."""
    symbols = st.sampled_from(_COMMON) if elements is None else elements
    counts = st.dictionaries(symbols, st.integers(1, 12), min_size=1, max_size=4)
    return st.builds(Species.of, counts, st.integers(-4, 4) if charges is None else charges)


def couples(*, medium: str | None = None) -> SearchStrategy[Couple]:
    """Tabulated redox couples, those of one medium (``"acid"``, ``"base"``, ``"any"``) if asked.

    Raises
    ------
    DomainError
        If no couple has that medium.
    """
    if medium is not None and medium not in ("acid", "base", "any"):
        raise DomainError(
            f"medium={medium!r} is none of acid, base, any", hint="leave it out for all couples"
        )
    return st.deferred(lambda: st.sampled_from(_table(medium)))


@cache
def _table(medium: str | None) -> tuple[Couple, ...]:
    return tuple(
        couple
        for couple in shipped().couples.values()
        if medium is None or any(row.medium == medium for row in couple.rows)
    )


@cache
def _half(text: str) -> Equation:
    return Equation.parse(text)


def _electrons(half: Equation) -> int | Fraction:
    return sum((count for count, each in half.reactants if each.is_electron), start=0)


def _combined(pair: tuple[Couple, Couple]) -> Equation | None:
    """The first couple reduced by the second, electrons and common species cancelled."""
    reduction, oxidation = (_half(couple.half_reaction) for couple in pair)
    taken, given = _electrons(reduction), _electrons(oxidation)
    if not taken or not given:
        return None
    net: dict[Species, Fraction] = {}
    for half, factor in ((reduction, Fraction(given)), (oxidation, -Fraction(taken))):
        for side, sign in ((half.reactants, 1), (half.products, -1)):
            for count, each in side:
                net[each] = net.get(each, Fraction(0)) + sign * factor * count
    left = [(count, each) for each, count in net.items() if count > 0]
    right = [(-count, each) for each, count in net.items() if count < 0]
    return Equation.of(left, right).reduced() if left and right else None


def balanced_equations(*, medium: str | None = None, max_factor: int = 1) -> SearchStrategy[Equation]:
    """Balanced whole equations from two tabulated couples, in lowest terms unless *max_factor* > 1.

    Raises
    ------
    DomainError
        If *max_factor* is below 1 or no couple has that medium.
    """
    if max_factor < 1:
        raise DomainError(f"max_factor={max_factor} is below 1", hint="1 gives lowest terms")
    pairs = st.tuples(couples(medium=medium), couples(medium=medium))
    # Only a couple with itself, or with its own twin in other words, leaves nothing over.
    sums = pairs.map(_combined).filter(lambda equation: equation is not None)
    return st.builds(_scaled, sums, st.integers(1, max_factor))


def _scaled(equation: Equation, factor: int) -> Equation:
    return equation.scaled(factor)


def skeletons(*, medium: str | None = None) -> SearchStrategy[Equation]:
    """The species of a balanced equation in any order, every coefficient 1: work for a balancer."""
    return balanced_equations(medium=medium).flatmap(
        lambda equation: st.builds(Equation.of, _bare(equation.reactants), _bare(equation.products))
    )


def _bare(side: tuple[tuple[int | Fraction, Species], ...]) -> SearchStrategy[list[tuple[int, Species]]]:
    return st.permutations([each for _, each in side]).map(lambda order: [(1, each) for each in order])


def wrong_equations(*, medium: str | None = None) -> SearchStrategy[Equation]:
    """Equations that do not balance by exactly one slip; shrink towards a coefficient one too large.

    The slips: a wrong coefficient, a forgotten term, a wrong charge.
    """
    return balanced_equations(medium=medium).flatmap(_slips)


def _slips(equation: Equation) -> SearchStrategy[Equation]:
    places = [
        (side, place)
        for side, terms in enumerate((equation.reactants, equation.products))
        for place in range(len(terms))
    ]
    where = st.sampled_from(places)
    return st.builds(
        _slip, st.just(equation), where, st.sampled_from(("count", "charge", "gone")), st.integers(1, 5)
    )


def _slip(equation: Equation, where: tuple[int, int], kind: str, size: int) -> Equation:
    sides = [list(equation.reactants), list(equation.products)]
    side, place = where
    count, each = sides[side][place]
    if kind == "gone" and len(sides[side]) > 1:
        del sides[side][place]
    elif kind == "charge" and not each.is_electron:
        wrong = Species.of(dict(each.atoms), each.charge + (1 if size % 2 else -1), each.phase)
        sides[side][place] = (count, wrong)
    else:
        sides[side][place] = (count + size, each)
    return Equation.of(*sides)


def register() -> None:
    """Teach ``st.from_type`` Species, Equation and Couple; hypothesis calls this through its entry point."""
    st.register_type_strategy(Species, lambda _: species())
    st.register_type_strategy(Equation, lambda _: balanced_equations())
    st.register_type_strategy(Couple, lambda _: couples())
