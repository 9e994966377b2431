"""The bench plan: every number has a key, a formula and sources; the sums close."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.bench import BenchPlan, plan, reconcile
from redoxlib.compare import clear, compare
from redoxlib.errors import DomainError, MissingDataError, UnsafeRouteError
from redoxlib.quantity import Quantity


def planned(text: str, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)))


BROMIDE = planned("Br^- -> Br2", "H2O2", amount="1 mol", cooling="50 W")


def number(sheet: BenchPlan, key: str) -> float:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value.value


def test_every_entry_has_a_formula_and_every_source_is_known() -> None:
    from redoxlib.data import shipped

    for key in BROMIDE:
        entry = BROMIDE[key]
        assert entry.key == key
        assert entry.formula
        for source in entry.sources:
            assert source in shipped().sources, source


def test_why_prints_formula_inputs_and_citations() -> None:
    told = BROMIDE.why("heat.rise.K")
    assert "heat / heat capacity" in told
    assert "heat.reaction.kJ" in told
    assert "source " in BROMIDE.why("heat.reaction.per_mol")


def test_an_unknown_key_offers_its_neighbours() -> None:
    with pytest.raises(MissingDataError, match=r"quench\.base\.mol"):
        BROMIDE["quench.base.mo"]


def test_the_charge_agrees_with_hand_arithmetic() -> None:
    assert number(BROMIDE, "charge.oxidant.needed.mol") == pytest.approx(0.5)
    assert number(BROMIDE, "charge.oxidant.mol") == pytest.approx(0.55)
    assert number(BROMIDE, "yield.g") == pytest.approx(79.9, abs=0.1)


def test_the_quench_counts_oxidant_halogen_and_both_acids() -> None:
    left = number(BROMIDE, "quench.oxidant_left.mol")
    assert left == pytest.approx(0.05)
    halogen = number(BROMIDE, "quench.halogen.mol")
    # peroxide takes one sulfite, bromine one
    assert number(BROMIDE, "quench.reductant.mol") == pytest.approx(left + halogen)
    # sulfite and peroxide make no acid, sulfite and bromine make two
    assert number(BROMIDE, "quench.acid_made.mol") == pytest.approx(2 * halogen)
    # 10 % of 0.5 mol sulfuric acid, both protons
    assert number(BROMIDE, "quench.acid_left.mol") == pytest.approx(0.1)
    assert number(BROMIDE, "quench.base.mol") == pytest.approx(0.1 + 2 * halogen)


def test_destroying_peroxide_with_sulfite_is_hotter_than_the_main_reaction() -> None:
    per_mol = -number(BROMIDE, "quench.heat.kJ") / number(BROMIDE, "quench.oxidant_left.mol")
    assert per_mol == pytest.approx(368, abs=4)  # handbook formation enthalpies
    assert per_mol > -number(BROMIDE, "heat.reaction.per_mol")


def test_dosing_is_no_faster_than_the_cooling() -> None:
    minutes = number(BROMIDE, "dose.shortest.min")
    assert minutes * 60 * 50 == pytest.approx(-1000 * number(BROMIDE, "heat.reaction.kJ"))


def test_the_acid_dilution_stands_beside_the_reaction_heat() -> None:
    assert number(BROMIDE, "heat.acid_dilution.kJ") < 0


def test_the_order_puts_acid_into_water_and_the_oxidant_last() -> None:
    texts = [step.text for step in BROMIDE.steps]
    water = next(i for i, t in enumerate(texts) if t.startswith("Water"))
    acid = next(i for i, t in enumerate(texts) if "sulfuric acid" in t)
    assert water < acid < len(texts) - 1
    assert "hydrogen peroxide" in texts[-1]
    assert all(step.reason for step in BROMIDE.steps)


def test_halogen_liquor_is_quenched_into_sulfite_and_base_together() -> None:
    assert "sulfite and base together" in BROMIDE.quench_steps[0].text


def test_chromium_is_quenched_the_other_way_round() -> None:
    sheet = planned("I^- -> I2", "K2Cr2O7")
    assert "acid" in sheet.quench_steps[0].text
    assert "base" in sheet.quench_steps[-1].text


def test_alkaline_feeds_are_never_acidified() -> None:
    sheet = planned("CN^- -> OCN^-", "NaOCl", medium=11, concentration="1 g/L")
    assert not any("acid" in step.text.lower() and "slowly" in step.text for step in sheet.steps)
    assert any("pH 11" in step.text for step in sheet.steps)


def test_a_route_that_was_not_cleared_is_not_planned() -> None:
    with pytest.raises(UnsafeRouteError):
        plan(compare("Br^- -> Br2", oxidants=["H2O2"]).route("H2O2"))  # type: ignore[arg-type]


def test_the_verdict_of_another_route_clears_nothing() -> None:
    found = compare("Br^- -> Br2", oxidants=["H2O2", "K2FeO4"])
    fair = clear(found.route("H2O2"))
    with pytest.raises(UnsafeRouteError, match="No reviewed source"):
        plan(replace(fair, route=found.route("K2FeO4")))


class TestScaling:
    """A plan for a given mass of product is the same plan, larger."""

    @given(st.floats(5, 2000))
    def test_product_mass(self, grams: float) -> None:
        cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"]).route("H2O2"))
        sheet = plan(cleared, product_mass=Quantity(grams, "g"))
        assert number(sheet, "yield.g") == pytest.approx(grams, rel=1e-6)
        factor = grams / number(BROMIDE, "yield.g")
        assert number(sheet, "charge.oxidant.g") == pytest.approx(
            factor * number(BROMIDE, "charge.oxidant.g")
        )
        assert number(sheet, "heat.rise.K") == pytest.approx(number(BROMIDE, "heat.rise.K"))


def test_reconcile_gives_percent_with_the_balance_s_uncertainty() -> None:
    result = reconcile(BROMIDE, product="61.4 g")
    theory = number(BROMIDE, "yield.g")
    assert result.percent.value == pytest.approx(100 * 61.4 / theory)
    assert result.percent.uncertainty == pytest.approx(100 * 0.05 / theory, rel=1e-6)
    assert result.unexplained.value == pytest.approx(theory - 61.4)


def test_reconcile_doubts_more_than_theory() -> None:
    result = reconcile(BROMIDE, product="95.0 g")
    assert "More than theory" in result.remark
    # 95.0 - 79.9 g can be no bromine
    assert "15.1 g of it (16 %)" in result.remark
    assert "weigh it again" in result.remark
    assert result.flagged
    assert result.above_theory


def test_reconcile_does_not_doubt_what_lies_within_the_uncertainty_of_theory() -> None:
    assert not reconcile(BROMIDE, product="79.9 g").above_theory


def test_reconcile_doubts_places_that_add_up_to_more_than_theory() -> None:
    result = reconcile(BROMIDE, product="75.0 g", found={"dissolved": "9.0 g"})
    assert result.above_theory
    assert result.flagged
    assert "counted twice" in result.remark


def test_reconcile_says_what_theory_counts() -> None:
    crystals = planned("Cu -> CuSO4", "H2O2", amount="63.5 g")
    assert reconcile(crystals, product="180 g").of == "CuSO4.5H2O"
    assert reconcile(BROMIDE, product="61.4 g").of == "Br2"


def test_error_when_the_product_is_stated_by_volume() -> None:
    with pytest.raises(DomainError, match=r"product 5\.5 L is a volume"):
        reconcile(BROMIDE, product="5.5 L")


def test_reconcile_of_a_removal_sends_to_the_water() -> None:
    rinse = planned("CN^- -> OCN^-", "NaOCl", purpose="remove", amount="5 L", concentration="80 mg/L")
    assert "what is left in the water" in reconcile(rinse, product="0.5 g").remark
    assert "in the water" not in reconcile(BROMIDE, product="61.4 g").remark


def test_what_a_removal_takes_away_is_in_the_water_and_never_weighed() -> None:
    rinse = planned("CN^- -> OCN^-", "NaOCl", purpose="remove", amount="5 L", concentration="80 mg/L")
    texts = [step.text for step in rinse.steps]
    assert not any("NaCN" in text for text in texts)
    assert texts[1].startswith("The water to be treated, 5000 g")
    assert "0.0154 mol of CN^-" in rinse.steps[1].reason
    assert "before the oxidant" in texts[2]
    assert "of NaOH" in texts[2]
    assert rinse["charge.feed.mol"].what == "NaCN in the water already"
    waste = planned(
        "Fe^2+ -> Fe^3+", "H2O2", purpose="remove", amount="1 kg", feed="FeSO4 10 % w/w", medium=2
    )
    assert any("FeSO4 10 % w/w" in step.text for step in waste.steps)


def test_reconcile_takes_a_loss_for_no_fault() -> None:
    assert not reconcile(BROMIDE, product="40.0 g").above_theory


@pytest.mark.parametrize("purity", [0.0, 1.2, -1.0])
def test_reconcile_refuses_a_purity_that_is_no_fraction(purity: float) -> None:
    with pytest.raises(DomainError):
        reconcile(BROMIDE, product="61.4 g", purity=purity)


def test_a_batch_scaled_beyond_its_cooling_is_stopped_by_the_gate() -> None:
    cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol", cooling="50 W").route("H2O2"))
    assert plan(cleared, product_mass="80 g")
    with pytest.raises(UnsafeRouteError, match="more than the declared cooling"):
        plan(cleared, product_mass="5 kg")


def test_more_time_for_dosing_lets_a_larger_batch_pass() -> None:
    cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol", cooling="50 W").route("H2O2"))
    with pytest.raises(UnsafeRouteError):
        plan(cleared, product_mass="300 g")
    grams = plan(cleared, product_mass="300 g", dosing="5 h")["yield.g"].value
    assert isinstance(grams, Quantity)
    assert grams.value == pytest.approx(300)


def test_a_large_pot_without_cooling_says_that_its_heat_is_nobodys() -> None:
    cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol").route("H2O2"))
    assert not any("no cooling is declared" in w for w in plan(cleared).warnings)
    assert any("process-safety engineer" in w for w in plan(cleared, product_mass="20 kg").warnings)


@pytest.mark.parametrize("mass", ["0 g", "-2 g", "3 mL"])
def test_a_product_mass_must_be_a_mass_above_zero(mass: str) -> None:
    cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"]).route("H2O2"))
    with pytest.raises(DomainError, match="product_mass"):
        plan(cleared, product_mass=mass)


def test_a_refusal_is_no_route_and_says_why() -> None:
    refusal = compare("Br^- -> Br2", oxidants=["NaClO3"]).refused[0]
    with pytest.raises(UnsafeRouteError, match="was refused, so there is nothing to plan") as caught:
        clear(refusal)  # type: ignore[arg-type]
    assert "OxidantRow" not in str(caught.value)
    assert caught.value.hint


def test_what_is_no_route_is_not_spelled_out() -> None:
    with pytest.raises(DomainError, match="a str is no route"):
        clear("Br^- -> Br2")  # type: ignore[arg-type]
