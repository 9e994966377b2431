"""Laws: what is written reads back, order is irrelevant, nothing but our errors is raised."""

from __future__ import annotations

import random
from collections.abc import Callable
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from redoxlib.errors import RedoxlibError
from redoxlib.notation import Equation, Phase, Species, parse_symbolic
from redoxlib.notation._elements import SYMBOLS

_SETTINGS = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
_USUAL = ["H", "O", "C", "N", "S", "Cl", "Mn", "Fe", "Cr", "Cu", "Na", "K"]
_PARTS = st.fractions(min_value=Fraction(1, 20), max_value=8, max_denominator=20)
_PHASES = st.sampled_from(list(Phase))

usual_species = st.builds(
    Species.of,
    st.dictionaries(st.sampled_from(_USUAL), st.integers(1, 8), min_size=1, max_size=4),
    st.integers(-4, 4),
    _PHASES,
)
any_species = st.builds(
    Species.of,
    st.dictionaries(st.sampled_from(sorted(SYMBOLS)), st.integers(1, 14), min_size=1, max_size=5),
    st.integers(-9, 9),
    _PHASES,
)
odd_solids = st.builds(
    Species.of,
    st.dictionaries(
        st.sampled_from(["Fe", "O", "La", "Cu"]), st.integers(1, 10**9 - 1) | _PARTS, min_size=1, max_size=4
    ),
)
coefficients = st.integers(1, 99) | st.fractions(min_value=Fraction(1, 12), max_value=9, max_denominator=12)
sides = st.lists(st.tuples(coefficients, usual_species | any_species), min_size=1, max_size=5)
equations = st.builds(Equation.of, sides, sides)


class TestWritingReadsBack:
    """Parse after write is identity, for ASCII, Unicode and LaTeX."""

    @_SETTINGS
    @given(usual_species | any_species | odd_solids)
    def test_species(self, species: Species) -> None:
        assert Species.parse(str(species)) == species
        assert Species.parse(species.unicode()) == species
        assert Species.parse(species.latex()) == species
        assert eval(repr(species), {"Species": Species}) == species

    @_SETTINGS
    @given(equations)
    def test_equations(self, equation: Equation) -> None:
        assert Equation.parse(str(equation)) == equation
        assert Equation.parse(equation.unicode()) == equation
        assert Equation.parse(equation.latex()) == equation


class TestOrderIsIrrelevant:
    """Neither the order of elements nor of terms changes the value."""

    @_SETTINGS
    @given(any_species, st.randoms(use_true_random=False))
    def test_elements(self, species: Species, rng: random.Random) -> None:
        shuffled = list(species.elements.items())
        rng.shuffle(shuffled)
        again = Species.of(dict(shuffled), species.charge, species.phase)
        assert (again, hash(again)) == (species, hash(species))

    @_SETTINGS
    @given(equations, st.randoms(use_true_random=False))
    def test_terms(self, equation: Equation, rng: random.Random) -> None:
        left, right = list(equation.reactants), list(equation.products)
        rng.shuffle(left)
        rng.shuffle(right)
        again = Equation.of(left, right)
        assert (again, hash(again)) == (equation, hash(equation))
        assert again.residual() == equation.residual()


class TestScaling:
    """Scaling multiplies the residual; reducing leaves whole coprime coefficients."""

    @_SETTINGS
    @given(equations, coefficients)
    def test_residual_scales(self, equation: Equation, factor: int | Fraction) -> None:
        scaled = equation.scaled(factor).residual()
        assert scaled == {key: value * factor for key, value in equation.residual().items()}

    @_SETTINGS
    @given(equations, coefficients)
    def test_reduced_forgets_the_scale(self, equation: Equation, factor: int | Fraction) -> None:
        assert equation.scaled(factor).reduced() == equation.reduced()
        assert all(isinstance(n, int) for n, _ in equation.reduced().reactants)


_ALPHABET = 'HONSFeMnClIVabcnx0123456789+-^_(){}[]. \n·=><→⇌⁺⁻²₂−–½\\$"&;<sup>ceОе２'


class TestAnyTextEnds:
    """Any text is read or refused by an error of ours."""

    @_SETTINGS
    @given(st.text(alphabet=_ALPHABET, max_size=60) | st.text(max_size=40))
    def test_read_or_refused(self, text: str) -> None:
        for read in (Species.parse, Equation.parse, parse_symbolic):
            refused = _refusal(read, text)
            if refused is not None:
                start, end = refused.span or (0, 1)
                assert 0 <= start < end
                assert str(refused).startswith(refused.message)


def _refusal(read: Callable[[str], object], text: str) -> RedoxlibError | None:
    try:
        read(text)
    except RedoxlibError as error:
        return error
    return None
