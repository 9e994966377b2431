"""Scores and decisions that can be worked out with a pencil."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from redoxlib.data import shipped
from redoxlib.decision import Alternatives, decide
from redoxlib.errors import DomainError
from redoxlib.job import Job
from redoxlib.notation import Species
from redoxlib.routes import Route, build_route
from redoxlib.scoring import REMOVE_MASS, SCALES, Scale, measure, scales_for

POINTS: list[tuple[Scale, float, float]] = [
    (SCALES["mass"], 1.0, 0.0),
    (SCALES["mass"], 10.0, 50.0),
    (SCALES["mass"], 100.0, 100.0),
    (SCALES["mass"], 0.5, 0.0),
    (SCALES["mass"], 1000.0, 100.0),
    (SCALES["exotherm"], 0.0, 0.0),
    (SCALES["exotherm"], 100.0, 50.0),
    (SCALES["exotherm"], 200.0, 100.0),
    (SCALES["exotherm"], 250.0, 100.0),
    (SCALES["by_products"], 0.0, 0.0),
    (SCALES["by_products"], 10_000.0, 100.0),
    (SCALES["by_products"], sqrt(10 * 10_010) - 10, 50.0),
    (SCALES["side_risk"], 0.0, 0.0),
    (SCALES["side_risk"], 30.0, 100.0),
    (SCALES["side_risk"], sqrt(31) - 1, 50.0),
    (REMOVE_MASS, 0.1, 0.0),
    (REMOVE_MASS, sqrt(10), 50.0),
    (REMOVE_MASS, 100.0, 100.0),
]
TWO = Alternatives(("a", "b"), ("x", "y"), ((0.0, 60.0), (30.0, 20.0)))


def _measured(text: str, key: str, **fields: object) -> Route:
    built = build_route(Job(text, **fields), shipped().oxidants[key])  # type: ignore[arg-type]
    assert isinstance(built, Route)
    return measure(built)


@pytest.mark.parametrize(("scale", "value", "points"), POINTS)
def test_a_scale_is_fixed_at_both_ends_and_in_the_middle(scale: Scale, value: float, points: float) -> None:
    assert scale.points(value) == pytest.approx(points, abs=1e-9)


def test_a_removal_is_scored_on_the_mass_that_is_used_and_left() -> None:
    assert scales_for(Job("Mn^2+ -> MnO2", purpose="remove"))["mass"] is REMOVE_MASS
    assert scales_for(Job("Br^- -> Br2")) == SCALES


@pytest.mark.parametrize(
    ("text", "key", "product"),
    [
        ("Br^- -> Br2", "H2O2", "Br2"),
        ("Br^- -> Br2", "KMnO4", "Br2"),
        ("Br^- -> Br2", "MnO2", "Br2"),
        ("I^- -> I2", "H2O2", "I2"),
        ("I^- -> I2", "K2Cr2O7", "I2"),
    ],
)
def test_the_atom_economy_is_the_share_of_the_reactants_in_the_product(
    text: str, key: str, product: str
) -> None:
    route = _measured(text, key, amount="3 mol")
    (part,) = route.parts
    wanted = Species.parse(product)
    made = sum(
        float(n) * s.molar_mass for n, s in part.full.products if dict(s.elements) == dict(wanted.elements)
    )
    taken = sum(float(n) * s.molar_mass for n, s in part.full.reactants)
    assert route.mass_efficiency is not None
    assert route.mass_efficiency.atom_economy == pytest.approx(made / taken)
    assert 0 < made / taken < 1


@pytest.mark.parametrize("key", ["H2O2", "KMnO4", "K2Cr2O7", "NaOCl", "MnO2"])
def test_every_by_product_weighs_its_mol_times_its_molar_mass_and_none_is_nothing(key: str) -> None:
    for route in (_measured("Br^- -> Br2", key), _measured("Br^- -> Br2", key, excess=0)):
        assert route.by_products is not None
        assert route.by_products.items
        for item in route.by_products.items:
            assert item.mol > 0
            assert item.grams == pytest.approx(item.mol * item.species.molar_mass)


def test_a_by_product_of_two_conversions_is_one_line_with_the_sum_of_both() -> None:
    built = build_route(Job([("Br^- -> Br2", "1 mol"), ("I^- -> I2", "1 mol")]), shipped().oxidants["H2O2"])
    assert isinstance(built, Route)
    result = measure(built).by_products
    assert result is not None
    keys = [(item.species, item.what) for item in result.items]
    assert len(keys) == len(set(keys))
    for item in result.items:
        assert item.grams == pytest.approx(item.mol * item.species.molar_mass)


def test_an_anode_makes_one_hydrogen_for_each_bromine() -> None:
    route = _measured("Br^- -> Br2", "anode")
    assert route.by_products is not None
    (hydrogen,) = [i for i in route.by_products.items if i.what == "hydrogen from the cathode"]
    efficiency = route.electricity.hydrogen_litres / 24.79 if route.electricity else 0.0
    assert hydrogen.mol == pytest.approx(efficiency / route.product.mol)
    assert hydrogen.mol == pytest.approx(1.0, rel=0.5)


def test_the_oxygen_that_carries_ozone_counts_as_mass() -> None:
    route = _measured("Mn^2+ -> MnO2", "O3")
    charged = [c for c in route.charges if c.role != "water"]
    gas = sum(c.grams for c in charged if c.gas_litres is not None)
    rest = sum(c.pure_grams for c in charged if c.gas_litres is None)
    assert route.mass_efficiency is not None
    assert route.mass_efficiency.pmi_dry == pytest.approx(
        (gas + rest) / sum(p.product.grams for p in route.parts)
    )


@pytest.mark.parametrize(("heavy", "light", "told"), [(99.7, 0.3, "more than 99 %"), (99.0, 1.0, "99 %")])
def test_a_lead_that_is_nearly_everywhere_is_told_as_such(heavy: float, light: float, told: str) -> None:
    # a leads where w x heavy is more than (1 - w) x light: from light / (light + heavy) on
    table = Alternatives(("a", "b"), ("x", "y"), ((0.0, light), (heavy, 0.0)))
    assert decide(table, draws=100_000).sentences()[0] == f"a is first in {told} of all weightings"


def test_second_and_third_places_are_told_apart() -> None:
    line = Alternatives(("a", "b", "c"), ("x",), ((1.0,), (2.0,), (3.0,)))
    found = decide(line, draws=100)
    assert [[found.share(n, r) for r in (1, 2, 3)] for n in line.names] == [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
    for rank in (0, 4):
        with pytest.raises(DomainError, match="not between 1 and 3"):
            found.share("a", rank)


def test_equal_figures_with_unequal_samples_are_no_equals() -> None:
    level = Alternatives(("a", "b"), ("x",), ((10.0,), (10.0,)))
    samples = np.tile(np.array([[[9.0], [11.0]]]), (50, 1, 1))
    found = decide(level, samples=samples, draws=1000)
    assert (found.share("a"), found.share("b")) == (1.0, 0.0)


def test_equal_figures_with_unequal_intervals_are_no_equals() -> None:
    level = Alternatives(("a", "b"), ("x",), ((10.0,), (10.0,)), ((10.0,), (2.0,)), ((10.0,), (11.0,)))
    assert decide(level, draws=20_000).share("b") == pytest.approx(8 / 9, abs=0.02)


def test_a_weight_of_nothing_is_a_weight() -> None:
    assert decide(TWO, weights=(0, 1), draws=100).first == "b"
    assert decide(TWO, weights=(1, 0), draws=100).first == "a"
    with pytest.raises(DomainError):
        decide(TWO, weights=(0, 0), draws=100)


def test_one_alternative_alone_is_first_and_has_no_rival() -> None:
    alone = decide(Alternatives(("a",), ("x",), ((1.0,),)), draws=100)
    assert alone.sentences()[0] == "a is first in 100 % of all weightings"
    assert len(alone.sentences()) == 2


def test_rivals_are_the_others_and_never_the_first() -> None:
    told = decide(TWO, draws=10_000).sentences()
    rivals = [line for line in told if "typically with the weights" in line]
    first = decide(TWO, draws=10_000).first
    assert len(rivals) == 1
    assert not rivals[0].startswith(first)


def test_the_likeliest_figure_to_change_the_first_place_is_told() -> None:
    table = Alternatives(
        ("a", "b", "c"),
        ("x",),
        ((5.0,), (10.0,), (20.0,)),
        ((5.0,), (0.0,), (4.0,)),
        ((5.0,), (20.0,), (36.0,)),
    )
    found = decide(table, draws=1000)
    assert found.leverage[0].alternative == "b"
    assert len(found.leverage) == 2
    assert any("a better figure for x of b" in line for line in found.sentences())


@pytest.mark.parametrize("feed", ["NaBr", "CaBr2"])
def test_by_products_are_counted_for_one_mol_of_product_whatever_the_amount(feed: str) -> None:
    small = _measured("Br^- -> Br2", "H2O2", feed=feed, amount="1 mol").by_products
    large = _measured("Br^- -> Br2", "H2O2", feed=feed, amount="4 mol").by_products
    assert small is not None
    assert large is not None
    assert [i.species for i in small.items] == [i.species for i in large.items]
    for one, four in zip(small.items, large.items, strict=True):
        assert one.mol == pytest.approx(four.mol)


def test_the_mass_of_a_removal_is_what_is_used_and_left_for_a_gram_removed() -> None:
    route = _measured("Mn^2+ -> MnO2", "KMnO4", purpose="remove")
    mass = route.mass_efficiency
    assert mass is not None
    assert mass.ranked == pytest.approx((mass.chemicals_g_per_mol + mass.sludge_g_per_mol) / 54.938, rel=1e-4)


def test_a_lead_that_is_nearly_nowhere_is_told_as_such() -> None:
    table = Alternatives(("a", "b"), ("x", "y"), ((0.0, 0.47), (99.53, 0.0)))
    told = decide(table, draws=400_000).sentences()
    assert any(line.startswith("b is first in less than 1 %") for line in told)
