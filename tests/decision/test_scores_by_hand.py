"""Scores, their spans and the words of a decision, each against figures worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.decision import Alternatives, decide
from redoxlib.errors import DomainError
from redoxlib.job import CRITERIA, Job
from redoxlib.measures import Channel, SideRisk
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import Route, build_route
from redoxlib.scoring import Span, measure, score, spans


def _measured(text: str, key: str) -> Route:
    built = build_route(Job(text), shipped().oxidants[key])
    assert isinstance(built, Route)
    return measure(built)


def _scored(text: str, key: str) -> Route:
    route = _measured(text, key)
    return replace(route, score=score(route))


def _spans(route: Route) -> dict[str, Span]:
    return dict(zip(CRITERIA, spans(route), strict=True))


def test_the_reaction_mass_efficiency_is_product_over_all_that_is_charged_pure() -> None:
    route = _measured("Br^- -> Br2", "H2O2")
    charged = sum(c.pure_grams for c in route.charges if c.role != "water")
    assert route.mass_efficiency is not None
    made = sum(p.product.grams for p in route.parts)
    assert route.mass_efficiency.reaction_mass_efficiency == pytest.approx(made / charged)
    assert 0.1 < made / charged < 0.9


def test_the_oxygen_round_thin_ozone_counts_as_well_and_air_does_not() -> None:
    route = _measured("Mn^2+ -> MnO2", "O3")
    (gas,) = [c for c in route.charges if c.gas_litres is not None]
    rest = sum(c.pure_grams for c in route.charges if c.role != "water" and c is not gas)
    product = sum(p.product.grams for p in route.parts)

    def charged(label: str) -> float:
        thin = replace(gas, label=label, grams=gas.pure_grams / 0.03)
        mass = measure(replace(route, charges=tuple(thin if c is gas else c for c in route.charges)))
        assert mass.mass_efficiency is not None
        return mass.mass_efficiency.pmi_dry * product

    assert charged("ozone 3 % w/w in oxygen") == pytest.approx(rest + gas.pure_grams / 0.03)
    assert charged("ozone 3 % w/w from air") == pytest.approx(rest + gas.pure_grams)


def test_an_acid_that_is_left_counts_at_the_strength_it_has_in_the_pot() -> None:
    # 98 g of sulfuric acid in 1151 g of pot are 8.5 %: irritant (from 5 %), not corrosive (from 15 %).
    route = _measured("Mn^2+ -> MnO2", "O3")
    assert route.by_products is not None
    (acid,) = [i for i in route.by_products.items if str(i.species) == "H2SO4"]
    assert acid.grams / route.pot_grams == pytest.approx(0.085, abs=0.001)
    assert "H315" in acid.codes
    assert "H314" not in acid.codes


def _channel(state: str, gate: tuple[float, float]) -> Channel:
    return Channel("onward", f"a {state} one up to {gate[1]}", 0.1, state, gate, 1.0, 1.0, 10)


def test_the_decisive_channel_is_the_one_that_contributes_most() -> None:
    small, large, shut = (
        _channel("open", (0.0, 0.1)),
        _channel("open", (0.0, 0.3)),
        _channel("closed", (0, 1)),
    )
    assert SideRisk((small, large, shut), 0.0, 4.0).decisive is large
    assert SideRisk((shut,), 0.0, 0.0).decisive is None
    assert SideRisk((), 0.0, 0.0).decisive is None


@pytest.mark.parametrize(("text", "key"), [("Fe^2+ -> Fe^3+", "H2O2"), ("I^- -> I2", "KMnO4")])
def test_the_spread_of_a_total_is_the_share_of_the_reaction_heat_that_is_uncertain(
    text: str, key: str
) -> None:
    route = _scored(text, key)
    assert route.score is not None
    assert route.exotherm is not None
    assert isinstance(route.dH, Quantity)
    assert isinstance(route.exotherm.rise, Quantity)
    weights = dict(route.job.weights)
    kelvin = route.exotherm.rise.value * (route.dH.uncertainty or 0.0) / abs(route.dH.value)
    # 200 K are 100 points, so a kelvin is half a point
    assert route.score.spread == pytest.approx(kelvin / 2 * weights["exotherm"] / sum(weights.values()))
    assert route.score.spread > 0


def test_a_reaction_without_heat_has_no_share_of_it_that_is_uncertain() -> None:
    route = _measured("Fe^2+ -> Fe^3+", "H2O2")
    still = replace(route.parts[0], dH=Quantity(0.0, "kJ/mol", 0.3, (), "estimate"))
    assert score(replace(route, parts=(still,))).spread == 0.0


def _both(*conversions: str) -> Route:
    built = build_route(Job([(text, "1 mol") for text in conversions]), shipped().oxidants["H2O2"])
    assert isinstance(built, Route)
    route = measure(built)
    return replace(route, score=score(route))


def test_two_conversions_in_one_pot_are_uncertain_by_both_in_either_order() -> None:
    one, other = _both("Fe^2+ -> Fe^3+", "I^- -> I2"), _both("I^- -> I2", "Fe^2+ -> Fe^3+")
    assert one.score is not None
    assert other.score is not None
    assert one.score.spread == pytest.approx(other.score.spread)
    first, second = _spans(one)["exotherm"], _spans(other)["exotherm"]
    assert (first.low, first.high) == pytest.approx((second.low, second.high))
    assert dict(first.causes) == pytest.approx(dict(second.causes))
    # A mol of iron takes half a mol of peroxide and a mol of iodide the other half.
    times = {"Fe^3+(aq)": -1, "Fe^2+(aq)": 1, "I^-(aq)": 1, "I2(s)": -0.5, "H2O(l)": -2, "H2O2(aq)": 1}
    weighed = {s: n * (thermo.value(Species.parse(s), "dfH").uncertainty or 0.0) for s, n in times.items()}
    total = sum(map(abs, weighed.values()))
    assert dict(first.causes) == pytest.approx(
        {f"a better enthalpy of formation of {s}": x / total for s, x in weighed.items() if x}
    )


def test_the_conversion_whose_heat_is_unknown_is_named_wherever_it_stands() -> None:
    route = _both("Fe^2+ -> Fe^3+", "I^- -> I2")
    dark = replace(route.parts[1], dH=Unknown("enthalpy of iodine", ("formation.csv",)))
    again = measure(replace(route, parts=(route.parts[0], dark)))
    heat = _spans(replace(again, score=score(again)))["exotherm"]
    assert heat.causes == (("a value for enthalpy of iodine", 1.0),)
    assert heat.low == 0.0


def test_the_span_of_the_exotherm_is_two_spreads_and_its_causes_are_the_enthalpies() -> None:
    route = _scored("Fe^2+ -> Fe^3+", "H2O2")  # 2 Fe^2+ + H2O2 + 2 H^+ -> 2 Fe^3+ + 2 H2O
    heat = _spans(route)["exotherm"]
    assert isinstance(route.dH, Quantity)
    share = (route.dH.uncertainty or 0.0) / abs(route.dH.value)
    assert heat.low == pytest.approx(heat.points * (1 - 2 * share))
    assert heat.high == pytest.approx(heat.points * (1 + 2 * share))
    # Where a product's enthalpy is more negative the pot is hotter, where a reactant's is, it is cooler.
    times = {"Fe^3+(aq)": -2, "H2O(l)": -2, "Fe^2+(aq)": 2, "H2O2(aq)": 1}
    weighed = {s: n * (thermo.value(Species.parse(s), "dfH").uncertainty or 0.0) for s, n in times.items()}
    total = sum(map(abs, weighed.values()))
    assert dict(heat.causes) == pytest.approx(
        {f"a better enthalpy of formation of {s}": x / total for s, x in weighed.items() if x}
    )


def test_a_heat_that_was_never_worked_out_is_what_is_lacking() -> None:
    route = replace(_scored("Fe^2+ -> Fe^3+", "H2O2"), exotherm=None)
    assert route.score is not None
    low = replace(route, score=replace(route.score, low=tuple((c, 0.0) for c, _ in route.score.low)))
    assert _spans(low)["exotherm"].causes == (("a value for its heat", 1.0),)


def test_a_pace_is_asked_for_where_the_channel_is_open_and_of_the_oxidant_alone() -> None:
    bromine = _scored("Br^- -> Br2", "KMnO4")  # acid takes part, and is not what acts
    causes = [name for name, _ in _spans(bromine)["side_risk"].causes]
    assert causes
    assert all(name.startswith("a measured pace with MnO4^- for ") for name in causes)
    # That Mn^2+ stays with the product is certain: no pace settles it.
    settled = [name for name, share in _spans(bromine)["side_risk"].causes if not share]
    assert settled == []
    assert not any("stays with the product" in name for name in causes)


def test_low_and_high_are_held_to_the_shape_of_the_table() -> None:
    good = ((0.0, 0.0), (0.0, 0.0))
    for low, high, what in (((), good, "high"), (good, (), "low"), (((0.0,), (0.0,)), good, "low must have")):
        with pytest.raises(DomainError, match=what):
            Alternatives(("a", "b"), ("x", "y"), good, low, high)
    with pytest.raises(DomainError, match="high must have 2 rows of 2"):
        Alternatives(("a", "b"), ("x", "y"), good, good, (*good, (0.0, 0.0)))
    with pytest.raises(DomainError, match="low holds a figure that is not a number"):
        Alternatives(("a", "b"), ("x", "y"), good, ((0.0, float("-inf")), (0.0, 0.0)), good)


def test_only_what_is_uncertain_has_a_cause() -> None:
    with pytest.raises(DomainError, match="b, x: an uncertain figure needs causes"):
        Alternatives(("a", "b"), ("x",), ((5.0,), (1.0,)), ((5.0,), (0.0,)), ((5.0,), (1.0,)), (((),), ((),)))
    with pytest.raises(DomainError, match=r"a, x: .* a certain one none"):
        Alternatives(("a",), ("x",), ((5.0,),), ((5.0,),), ((5.0,),), (((("k", 1.0),),),))


def test_a_tie_is_told_with_the_weights_at_which_it_holds() -> None:
    # Weight on y alone: 10 and 10.  With any weight on x, b is ahead.
    table = Alternatives(("a", "b"), ("x", "y"), ((5.0, 10.0), (1.0, 10.0)))
    first, *_ = decide(table, weights=(0, 1), draws=1000).sentences()
    assert first == "a and b tie at the stated weights; a is first in 0 % of all weightings"
    level = Alternatives(("a", "b"), ("x", "y"), ((0.0, 60.0), (40.0, 20.0)))
    assert decide(level, draws=1000).sentences()[0].startswith("a and b tie at equal weights; ")


def test_the_three_greatest_rivals_are_told_the_greatest_first() -> None:
    # Along x from 0 to 100 the lead passes on at the weights 5/6, 3/5, 1/3 and 1/9 of x, so that the five are
    # first in 1/6, 7/30, 4/15, 2/9 and 1/9 of all weightings; at equal weights 50, 30, 25, 32.5, 50 points.
    line = {"first": (0, 100), "second": (10, 50), "third": (30, 20), "fourth": (60, 5), "fifth": (100, 0)}
    names = ("fifth", "fourth", "first", "third", "second")
    found = decide(Alternatives(names, ("x", "y"), tuple(line[n] for n in names)), draws=100_000)
    assert [found.share(n) for n in line] == pytest.approx([1 / 6, 7 / 30, 4 / 15, 2 / 9, 1 / 9], abs=0.006)
    told = [s.split(" is first in ")[0] for s in found.sentences() if "typically with the weights" in s]
    assert told == ["second", "fourth", "first"]


def test_what_is_behind_in_everything_comes_first_at_no_weight() -> None:
    # The totals would meet at -1/3 of the weight of x, and no weight is negative.
    ahead = Alternatives(("a", "b"), ("x", "y"), ((0.0, 0.0), (30.0, 10.0)))
    for swing in decide(ahead, draws=100).swings:
        assert (swing.down, swing.up) == (None, None)


def test_one_weighting_gives_one_first_place_and_its_weights_are_the_middle() -> None:
    found = decide(Alternatives(("a", "b"), ("x", "y"), ((0.0, 60.0), (30.0, 20.0))), draws=1)
    (winner,) = [i for i, row in enumerate(found.acceptability) if row[0] == 1.0]
    middle = found.central[winner]
    assert middle is not None
    assert sum(middle) == pytest.approx(1.0, abs=1e-6)
    assert found.central[1 - winner] is None


def test_a_cause_that_lowers_a_figure_is_looked_at_from_where_the_figure_stands() -> None:
    # b is 10 - 10 k, and stands at 8 where k is a fifth: it is below the 5 of a for k beyond a half.
    table = Alternatives(
        ("a", "b"), ("x",), ((5.0,), (8.0,)), ((5.0,), (0.0,)), ((5.0,), (10.0,)), (((),), ((("k", -1.0),),))
    )
    (lever,) = decide(table, draws=100).leverage
    assert (lever.cause, lever.to) == ("k", "b")
    assert lever.chance == pytest.approx(0.5, abs=0.01)
