"""Laws that hold for every equation, grouped by the sentence they keep."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import combinations
from math import gcd

from hypothesis import assume, given
from hypothesis import strategies as st

from redoxlib.errors import ImpossibleError
from redoxlib.notation import Equation, Species
from redoxlib.stoichiometry import balance, check, ions_of, oxidation_numbers
from redoxlib.stoichiometry._cone import extreme_rays, feasible_or_certificate
from redoxlib.stoichiometry._solve import null_space
from redoxlib.stoichiometry._system import System

POOL = [
    Species.parse(text)
    for text in (
        "H2O", "H2O2", "O2", "H^+", "OH^-", "MnO4^-", "MnO2", "Mn^2+", "Fe^2+", "Fe^3+", "Cl^-", "Cl2",
        "ClO^-",
        "ClO3^-", "SO4^2-", "SO2", "S2O3^2-", "S", "H2S", "Cr2O7^2-", "Cr^3+", "NO3^-", "NO", "NO2", "NH4^+",
        "CO2", "C2O4^2-", "CH3CH2OH", "CH3COOH", "K^+", "KMnO4", "K2SO4", "H2SO4", "FeSO4", "MnSO4", "HCl",
        "KCl",
    )
]  # fmt: skip
SWAP = {
    "Mn": "Re",
    "Cl": "Br",
    "S": "Se",
    "Fe": "Ru",
    "K": "Rb",
    "Cr": "W",
    "N": "P",
    "C": "Si",
    "H": "Li",
    "O": "Te",
}


@st.composite
def skeletons(draw: st.DrawFn, *, most: int = 5) -> Equation:
    """Equations over common species, no species on both sides, coefficients 1."""
    chosen = draw(st.lists(st.sampled_from(POOL), min_size=2, max_size=2 * most, unique=True))
    split = draw(st.integers(max(1, len(chosen) - most), min(most, len(chosen) - 1)))
    return Equation.of([(1, s) for s in chosen[:split]], [(1, s) for s in chosen[split:]])


@st.composite
def matrices(draw: st.DrawFn, *, rows: int = 4, columns: int = 8) -> list[list[int]]:
    """Small whole-number matrices with many zeros."""
    m, n = draw(st.integers(1, rows)), draw(st.integers(1, columns))
    entries = st.sampled_from([0, 0, 0, 1, -1, 2, -2, 3, -4])
    return draw(st.lists(st.lists(entries, min_size=n, max_size=n), min_size=m, max_size=m))


def _coefficients(equation: Equation) -> list[Fraction]:
    return [Fraction(count) for count, _ in equation.reactants + equation.products]


def _relabelled(species: Species, swap: Mapping[str, str]) -> Species:
    return Species.of({swap.get(s, s): n for s, n in species.elements.items()}, species.charge, species.phase)


class TestBalancingLeavesNothingOver:
    """Atoms and charge in equal atoms and charge out, for every member of the family."""

    @given(skeletons())
    def test_every_answer_conserves(self, skeleton: Equation) -> None:
        try:
            result = balance(skeleton)
        except ImpossibleError:
            return
        for equation in (*result.members, *([result.choice] if result.choice else [])):
            assert equation.residual() == {}
            assert all(count > 0 for count in _coefficients(equation))
            assert gcd(*(int(count) for count in _coefficients(equation))) == 1
            assert check(equation).balanced

    @given(skeletons())
    def test_an_answer_keeps_every_species_on_its_side(self, skeleton: Equation) -> None:
        try:
            result = balance(skeleton)
        except ImpossibleError:
            return
        answer = result.equation if result.unique else result.choice
        assume(answer is not None)
        assert answer is not None
        assert [s for _, s in answer.reactants] == [s for _, s in skeleton.reactants]
        assert [s for _, s in answer.products] == [s for _, s in skeleton.products]

    @given(skeletons())
    def test_a_refusal_is_proved_and_its_repairs_balance(self, skeleton: Equation) -> None:
        try:
            balance(skeleton)
        except ImpossibleError as refusal:
            error = refusal
        else:
            return
        weights = error.certificate
        assert weights
        sides = []
        for sign, side in ((1, skeleton.reactants), (-1, skeleton.products)):
            for _, species in side:
                total = weights.get("charge", 0) * species.charge
                total += sum(weights.get(s, 0) * int(n) for s, n in species.elements.items())
                sides.append(sign * total)
        assert min(sides) >= 0
        assert any(sides)
        assert all(repair.equation.residual() == {} for repair in error.repairs)


class TestOrderAndNamesDoNotMatter:
    """Species may be listed in any order and elements renamed without changing an answer."""

    @given(skeletons(), st.randoms(use_true_random=False))
    def test_order_of_species(self, skeleton: Equation, rng: object) -> None:
        left, right = list(skeleton.reactants), list(skeleton.products)
        rng.shuffle(left)  # type: ignore[attr-defined]
        rng.shuffle(right)  # type: ignore[attr-defined]
        try:
            one = balance(skeleton)
        except ImpossibleError:
            try:
                balance(Equation.of(left, right))
            except ImpossibleError:
                return
            raise AssertionError("an order of species made an impossible equation possible") from None
        other = balance(Equation.of(left, right))
        assert one.dimension == other.dimension
        assert set(one.members) == set(other.members)
        assert one.choice == other.choice

    @given(skeletons())
    def test_names_of_elements(self, skeleton: Equation) -> None:
        renamed = [
            [_relabelled(species, SWAP) for _, species in side]
            for side in (skeleton.reactants, skeleton.products)
        ]
        plain = System([s for _, s in skeleton.reactants], [s for _, s in skeleton.products])
        other = System(renamed[0], renamed[1])
        assert len(plain.basis()) == len(other.basis())
        if len(plain.basis()) == 1:
            assert plain.basis() == other.basis()
        assert extreme_rays(plain.rows, plain.width) == extreme_rays(other.rows, other.width)

    @given(skeletons(), st.integers(1, 9))
    def test_typed_coefficients(self, skeleton: Equation, factor: int) -> None:
        try:
            plain = balance(skeleton)
        except ImpossibleError:
            return
        scaled = balance(skeleton.scaled(factor))
        assert set(scaled.members) == set(plain.members)
        assert bool(scaled.assumptions) == (factor != 1)


class TestMembersAreTheElementaryEquations:
    """Double description agrees with trying every set of species."""

    @given(matrices())
    def test_members_equal_brute_force(self, rows: list[list[int]]) -> None:
        columns = len(rows[0])
        found = set()
        for size in range(1, columns + 1):
            for chosen in combinations(range(columns), size):
                part = [[row[j] for j in chosen] for row in rows]
                basis = null_space(part, size)
                if len(basis) == 1 and all(value > 0 for value in basis[0]):
                    ray = [0] * columns
                    for j, value in zip(chosen, basis[0], strict=True):
                        ray[j] = value
                    found.add(tuple(ray))
        rays, cut = extreme_rays(rows, columns)
        assert not cut
        assert {tuple(ray) for ray in rays} == found
        assert len(rays) == len(found)

    @given(matrices(rows=5, columns=9), st.sets(st.integers(0, 8), max_size=3))
    def test_there_is_a_solution_or_a_proof_never_both(self, rows: list[list[int]], loose: set[int]) -> None:
        columns = len(rows[0])
        free = {j for j in loose if j < columns}
        solution, weights = feasible_or_certificate(rows, columns, free)
        assert (solution is None) != (weights is None)
        if solution is not None:
            assert all(sum(a * x for a, x in zip(row, solution, strict=True)) == 0 for row in rows)
            assert all(solution[j] > 0 for j in range(columns) if j not in free)
        else:
            assert weights is not None
            totals = [sum(w * row[j] for w, row in zip(weights, rows, strict=True)) for j in range(columns)]
            assert all(total == 0 if j in free else total >= 0 for j, total in enumerate(totals))
            assert any(totals)

    @given(matrices(rows=6, columns=10))
    def test_the_null_space_is_complete(self, rows: list[list[int]]) -> None:
        from sympy import Matrix

        basis = null_space(rows, len(rows[0]))
        assert len(basis) == len(rows[0]) - Matrix(rows).rank()
        if basis:
            assert Matrix(basis).rank() == len(basis)
            assert Matrix(rows) * Matrix(basis).T == Matrix.zeros(len(rows), len(basis))


class TestChargesAddUp:
    """Oxidation numbers sum to the charge, and ions to the salt."""

    @given(st.sampled_from(POOL))
    def test_oxidation_numbers(self, species: Species) -> None:
        numbers = oxidation_numbers(species)
        assert (
            sum(Fraction(n) * Fraction(c) for sites in numbers.values() for n, c in sites) == species.charge
        )

    @given(
        st.dictionaries(
            st.sampled_from(
                [
                    "H",
                    "C",
                    "N",
                    "O",
                    "F",
                    "P",
                    "S",
                    "Cl",
                    "Br",
                    "I",
                    "Na",
                    "K",
                    "Mg",
                    "Ca",
                    "Fe",
                    "Cu",
                    "Mn",
                    "Cr",
                    "Zn",
                    "Al",
                    "Ag",
                    "Xe",
                    "B",
                    "Si",
                ]
            ),
            st.integers(1, 9),
            min_size=1,
            max_size=4,
        ),
        st.integers(-4, 4),
    )
    def test_oxidation_numbers_of_anything(self, elements: dict[str, int], charge: int) -> None:
        species = Species.of(elements, charge)
        numbers = oxidation_numbers(species)
        assert set(numbers) == set(species.elements)
        assert (
            sum(Fraction(n) * Fraction(c) for sites in numbers.values() for n, c in sites) == species.charge
        )
        for symbol, sites in numbers.items():
            assert sum(Fraction(c) for _, c in sites) == species.elements[symbol]
        total: dict[str, Fraction] = {}
        for count, ion in ions_of(species) or ():
            for symbol, number in ion.elements.items():
                total[symbol] = total.get(symbol, Fraction(0)) + Fraction(count) * number
        assert not total or total == dict(species.elements)
