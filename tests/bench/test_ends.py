"""What the plan says at the end of each step: tests that work there, bottles that run short, layers."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.bench import BenchPlan, plan, reconcile
from redoxlib.compare import clear, compare
from redoxlib.errors import DomainError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

ACETIC = {"medium": 4.5, "acid": "acetic acid, glacial"}


def planned(text: str, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)))


def number(sheet: BenchPlan, key: str) -> float:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value.value


def told(steps: tuple[Any, ...]) -> str:
    return " ".join(f"{step.text} ({step.reason})" for step in steps)


class TestTestsThatWork:
    @pytest.mark.parametrize(
        ("text", "ion"), [("Cu -> CuSO4", "Cu^2+"), ("Fe^2+ -> Fe^3+", "Fe^3+")], ids=["copper", "iron"]
    )
    def test_metal_ions_that_blue_iodide_paper_are_tested_otherwise(self, text: str, ion: str) -> None:
        words = told(planned(text, "H2O2", amount="1 mol").quench_steps)
        assert f"starch-iodide paper is no test here: {ion}" in words
        assert "peroxide strip negative" in words
        assert "colourless" not in words

    def test_a_halogen_liquor_is_tested_with_starch_iodide_and_for_halate(self) -> None:
        words = told(planned("Br^- -> Br2", "H2O2", amount="1 mol").quench_steps)
        assert "starch-iodide paper and peroxide strip negative" in words
        assert "halate" in words

    def test_cyanide_is_tested_before_the_sulfite(self) -> None:
        steps = planned(
            "CN^- -> OCN^-",
            "NaOCl",
            purpose="remove",
            medium=11,
            amount="0.1 mol",
            concentration="1 g/L",
        ).quench_steps
        assert "free cyanide" in steps[0].text
        assert "only then the sulfite" in steps[0].reason

    @pytest.mark.parametrize("oxidant", ["H2O2", "percarbonate"])
    def test_lead_paper_is_not_trusted_beside_peroxide(self, oxidant: str) -> None:
        sheet = planned("S^2- -> SO4^2-", oxidant, purpose="remove", feed="Na2S", medium=12, amount="0.1 mol")
        assert "bleaches" in sheet.quench_steps[0].reason

    def test_bleach_left_over_is_destroyed_before_a_ketone_is_distilled(self) -> None:
        sheet = planned("propan-2-ol -> acetone", "NaOCl", amount="30 g", **ACETIC)
        assert sheet.isolation[0].text.startswith("Quench the pot before anything is warmed")
        assert not planned("Br^- -> Br2", "H2O2").isolation[0].text.startswith("Quench")


class TestAnOxidantThatIsAnAcid:
    """31 g of silver are 0.28739 mol; 3 Ag + 4 HNO3 takes 0.38318 mol, 10 % more are 0.42150 mol."""

    SILVER = planned("Ag -> AgNO3", "HNO3", amount="31 g", bottles=["nitric acid 65 % w/w"])

    def test_nitric_acid_left_over_counts_as_acid_and_gets_base(self) -> None:
        assert number(self.SILVER, "quench.oxidant_left.mol") == pytest.approx(0.038318, rel=1e-3)
        assert number(self.SILVER, "quench.acid_left.mol") == pytest.approx(0.038318, rel=1e-3)
        # dilute nitrate keeps its protons beside sulfite: all of them need base, 84.007 g/mol as NaHCO3
        assert number(self.SILVER, "quench.base.mol") == pytest.approx(0.038318, rel=1e-3)
        assert number(self.SILVER, "quench.base.NaHCO3.g") == pytest.approx(3.219, rel=1e-3)

    def test_the_standby_takes_the_acid_of_the_whole_charge(self) -> None:
        assert number(self.SILVER, "standby.base.mol") == pytest.approx(0.42150, rel=1e-3)
        assert number(self.SILVER, "standby.base.g") == pytest.approx(35.41, rel=1e-3)
        assert "35.4 g of sodium hydrogencarbonate" in self.SILVER.before[0].text

    def test_sulfite_that_meets_this_acid_is_warned_of(self) -> None:
        # 0.28739 / 3 x 1.1 mol of nitrate x 3 electrons / 2 = 0.15806 mol of sulfite, each one SO2
        assert number(self.SILVER, "room.SO2.L") == pytest.approx(0.15806 * 24.79, rel=1e-3)
        words = told(self.SILVER.before)
        assert "Never tip sulfite into the acid pot" in words
        assert "0.158 mol of SO2" in words

    def test_iodine_that_stays_dissolved_makes_two_protons_each_beside_it(self) -> None:
        sheet = planned("I^- -> I2", "HNO3", amount="0.1 mol")
        made = number(sheet, "quench.acid_made.mol")
        assert made > 0
        assert made == pytest.approx(2 * number(sheet, "quench.halogen.mol"), rel=1e-6)
        left = number(sheet, "quench.acid_left.mol")
        assert number(sheet, "quench.base.mol") == pytest.approx(left + made, rel=1e-6)

    def test_an_oxidant_that_is_no_acid_brings_none(self) -> None:
        sheet = planned("Ag -> AgNO3", "H2O2", amount="31 g", bottles=["nitric acid 65 % w/w"])
        # the acid alone: 0.28739 mol needed, 10 % of it left
        assert number(sheet, "quench.acid_left.mol") == pytest.approx(0.028739, rel=1e-3)
        assert "Never tip" not in told(sheet.before)

    @pytest.mark.parametrize("oxidant", ["HNO3", "H2O2"])
    def test_silver_is_taken_out_before_starch_and_iodide(self, oxidant: str) -> None:
        sheet = planned("Ag -> AgNO3", oxidant, amount="31 g", bottles=["nitric acid 65 % w/w"])
        words = told(sheet.quench_steps)
        assert "add sodium chloride until no more falls out, filter; starch-iodide paper" in words
        assert "Ag^+ takes its iodide as silver iodide" in words
        assert "Test: starch-iodide paper" not in words

    def test_lead_is_taken_out_with_sulfate(self) -> None:
        words = told(planned("Pb -> Pb(NO3)2", "HNO3", amount="0.1 mol").quench_steps)
        assert "add sodium sulfate until no more falls out" in words


class TestFeedThatDidNotReact:
    SILVER = TestAnOxidantThatIsAnAcid.SILVER

    def test_grams_of_feed_count_as_the_product_they_would_have_given(self) -> None:
        result = reconcile(self.SILVER, product="45.0 g", found={"unreacted": "2.0 g of Ag"})
        # 2.0 g x 169.873 / 107.868 = 3.150 g of AgNO3; (45.0 + 3.150) / 48.820 = 98.63 %
        assert result.places[0][1].value == pytest.approx(3.150, rel=1e-3)
        assert result.places[0][1].uncertainty == pytest.approx(0.05 * 1.5748, rel=1e-3)
        assert result.closure.value == pytest.approx(98.63, rel=1e-3)

    def test_grams_of_product_are_taken_as_they_are(self) -> None:
        result = reconcile(self.SILVER, product="45.0 g", found={"unreacted": "2.0 g of AgNO3"})
        assert result.places[0][1].value == 2.0

    @pytest.mark.parametrize("grams", ["2 g", Quantity(2.0, "g")], ids=["text", "quantity"])
    def test_grams_that_could_be_either_are_refused_with_the_mend(self, grams: Any) -> None:
        with pytest.raises(DomainError, match="could be grams of feed or of product") as caught:
            reconcile(self.SILVER, product="45.0 g", found={"unreacted": grams})
        assert '"2 g of Ag" (feed)' in str(caught.value.hint)
        assert '"2 g of AgNO3" (product)' in str(caught.value.hint)

    def test_the_salt_and_the_ion_of_a_feed_are_told_apart(self) -> None:
        sheet = planned("I^- -> I2", "H2O2", feed="KI", amount="0.4 mol")
        salt = reconcile(sheet, product="46.1 g", found={"unreacted": "1.660 g of KI"})
        ion = reconcile(sheet, product="46.1 g", found={"unreacted": "1.269 g of I^-"})
        # 0.01 mol of either is 0.005 mol of iodine, 253.81 g/mol
        assert salt.places[0][1].value == pytest.approx(1.269, rel=1e-3)
        assert ion.places[0][1].value == pytest.approx(1.269, rel=1e-3)

    @pytest.mark.parametrize("other", ["2 g of Cu", "2 g of silver!", "-2 g of Ag"])
    def test_what_is_neither_or_below_zero_is_refused(self, other: str) -> None:
        with pytest.raises(DomainError, match="unreacted"):
            reconcile(self.SILVER, product="45.0 g", found={"unreacted": other})


class TestWhatRunsShort:
    SHORT = planned(
        "Br^- -> Br2", "H2O2", amount="1 mol", bottles=["20 mL of hydrogen peroxide 30 % w/w"], cooling="50 W"
    )

    def test_the_plan_says_what_limits_and_by_how_much(self) -> None:
        words = " ".join(self.SHORT.warnings)
        assert "Too little on the shelf" in words
        assert "holds 0.196 mol, 39 % of the oxidant that the feed needs" in words
        # 0.5 mol / 0.196 mol
        assert "2.55 times as much" in words

    def test_feed_left_by_a_short_bottle_counts_as_product_by_the_equation(self) -> None:
        result = reconcile(self.SHORT, product="20.0 g", found={"unreacted": "0.02 mol"})
        # 0.02 mol of bromide is 0.01 mol of bromine
        assert result.places[0][1].value == pytest.approx(0.01 * 159.81, rel=1e-3)

    def test_a_bottle_that_suffices_says_nothing(self) -> None:
        assert not any("Too little" in text for text in planned("Br^- -> Br2", "H2O2").warnings)


class TestAcidWhereTheFeedBringsTheWater:
    def test_acid_goes_into_the_liquor_and_the_liquor_is_there_first(self) -> None:
        bottles = ["hydrogen peroxide 12 % w/w", "hydrochloric acid 30 % w/w"]
        sheet = planned(
            "FeCl2 -> FeCl3", "H2O2", feed="FeCl2 1.5 mol/L", amount="2 L", medium="acid", bottles=bottles
        )
        texts = [step.text for step in sheet.steps]
        assert "charge.water.g" not in sheet
        feed = next(n for n, text in enumerate(texts) if text.endswith("of FeCl2 1.5 mol/L."))
        assert texts[feed + 1].endswith(
            "of hydrochloric acid 30 % w/w slowly into the liquor, stirred and cooled."
        )
        assert "into the water" not in " ".join(texts)
        assert sheet.steps[feed + 1].reason.startswith("acid into liquor, never the reverse")

    def test_where_there_is_water_the_acid_goes_into_it_before_the_feed(self) -> None:
        texts = [step.text for step in planned("Fe^2+ -> Fe^3+", "H2O2", feed="FeSO4", amount="1 mol").steps]
        acid = next(n for n, text in enumerate(texts) if "slowly into the water" in text)
        assert texts[acid - 1].startswith("Water, ")
        assert texts[acid + 1].endswith("of FeSO4.")


class TestAPaceNobodyKnows:
    def test_the_plan_says_so(self) -> None:
        for oxidant in ("O2", "HNO3"):
            sheet = planned("Ag -> AgNO3", oxidant, amount="31 g", bottles=["nitric acid 65 % w/w"])
            assert any("pace of" in text and "is unknown" in text for text in sheet.warnings)

    @pytest.mark.parametrize("conditions", [{}, {"product_mass": "50 g"}, {"bottles": "unrestricted"}])
    def test_where_it_is_known_nothing_is_said_at_any_size_or_strength(self, conditions: Any) -> None:
        cleared = clear(compare("Br^- -> Br2", oxidants=["H2O2"]).route("H2O2"))
        assert not any("pace of" in text for text in plan(cleared, **conditions).warnings)


class TestGasesAsOxidant:
    @pytest.mark.parametrize(
        ("text", "oxidant", "litres"),
        # 0.1 mol of Ag takes 0.025 mol of O2, of Fe^2+ 0.05 mol of Cl2; 10 % more, 24.79 L/mol
        [("Ag -> AgNO3", "O2", "0.682 L of O2"), ("Fe^2+ -> Fe^3+", "Cl2", "1.36 L of Cl2")],
    )
    def test_a_gas_is_led_in_and_not_dropped(self, text: str, oxidant: str, litres: str) -> None:
        last = planned(text, oxidant, amount="0.1 mol").steps[-1].text
        assert last.startswith("Lead in ")
        assert litres in last
        assert "dropwise" not in last

    def test_a_solution_of_a_gas_is_still_dosed_as_a_liquid(self) -> None:
        assert "dropwise" in planned("Fe^2+ -> Fe^3+", "H2O2", amount="0.1 mol").steps[-1].text


class TestLayersAndDrying:
    CYCLO = planned("cyclohexanol -> cyclohexanone", "NaOCl", amount="10 g", **ACETIC)

    def test_no_layer_is_promised_where_the_water_holds_all_of_the_product(self) -> None:
        assert number(self.CYCLO, "separate.liquor.g") == pytest.approx(number(self.CYCLO, "yield.g"))
        words = told(self.CYCLO.isolation)
        assert "Look for no layer in the pot" in words
        assert "climbs past" not in words

    def test_the_drying_agent_counts_what_the_ketone_dissolves(self) -> None:
        assert number(self.CYCLO, "dry.water.dissolved.g") == pytest.approx(0.065 * 9.799, rel=1e-3)

    def test_an_unknown_share_of_dissolved_water_is_said_at_the_step(self) -> None:
        sheet = planned("benzyl alcohol -> benzaldehyde", "NaOCl", amount="10 g", **ACETIC)
        assert "how much the product dissolves is not known" in told(sheet.isolation)


class TestKeeping:
    def test_an_aldehyde_is_kept_from_air(self) -> None:
        sheet = planned("benzyl alcohol -> benzaldehyde", "NaOCl", amount="10 g", **ACETIC)
        words = told(sheet.keeping)
        assert "nitrogen or argon" in words
        assert "peracid" in words
        assert number(sheet, "keep.flash_point.C") == 63

    def test_acetaldehyde_is_kept_cold_and_its_pressure_told(self) -> None:
        sheet = planned("ethanol -> acetaldehyde", "NaOCl", amount="10 g", **ACETIC)
        assert "2 to 8 C" in told(sheet.keeping)
        # it boils at 20.6 C; about 2 atm at 40 C
        assert number(sheet, "keep.vapour_40.kPa") == pytest.approx(199, rel=0.05)

    def test_a_ketone_is_sealed_with_room_to_expand(self) -> None:
        sheet = planned("propan-2-ol -> acetone", "NaOCl", amount="30 g", **ACETIC)
        assert number(sheet, "keep.fill.percent") == pytest.approx(100 / (1 + 0.00142 * 30), rel=1e-6)
        words = told(sheet.keeping)
        assert "polystyrene" in words
        assert "no gas of its own" in words
        assert "-18 C" in words


class TestTheDeclaredPh:
    def test_acid_that_goes_below_the_declared_ph_is_answered_with_base(self) -> None:
        sheet = planned("cyclohexanol -> cyclohexanone", "NaOCl", amount="10 g", **ACETIC)
        acid = number(sheet, "quench.acid_left.mol")
        share = 1 / (1 + 10 ** (4.5 - 4.756))
        assert number(sheet, "ph.base.mol") == pytest.approx(acid * (1 - share), rel=0.01)
        assert "Base to pH 4.5" in told(sheet.steps)

    def test_an_alkaline_waste_says_how_much_base(self) -> None:
        sheet = planned("S^2- -> SO4^2-", "H2O2", purpose="remove", feed="Na2S", medium=12, amount="0.1 mol")
        assert number(sheet, "ph.base.mol") == pytest.approx(0.01 * number(sheet, "pot.water.g") / 1000)
        assert "mol of OH-" in told(sheet.steps)


def test_crystals_are_reconciled_as_crystals() -> None:
    sheet = planned("Cu -> CuSO4", "H2O2", amount="63.546 g", feed="copper")
    # one mol of copper is 249.7 g of pentahydrate
    result = reconcile(sheet, product="200.0 g")
    assert result.percent.value == pytest.approx(100 * 200 / 249.68, rel=1e-3)
    assert not result.above_theory
    assert reconcile(sheet, product="260.0 g").above_theory


def test_a_salt_with_two_of_the_ion_is_counted_by_the_ion() -> None:
    sheet = planned("Fe^2+ -> Fe^3+", "H2O2", feed="FeSO4.7H2O", amount="0.5 mol")
    assert sheet["yield.mol"].what == "largest yield of Fe^3+, by mass as Fe2(SO4)3"


def test_a_tabulated_co_boiling_point_is_that_of_the_two_vapour_pressures() -> None:
    # The pot of the heat figures and the still of the isolation must boil at one temperature.
    from redoxlib.bench._vapour import co_distillation
    from redoxlib.data import shipped

    rows = [row for row in shipped().liquids if row.property == "coboiling_point_with_water"]
    assert len(rows) >= 4
    for row in rows:
        both = co_distillation(Species.parse(row.species))
        assert both.celsius == pytest.approx(row.value, abs=min(row.uncertainty or 0.0, 0.06)), row.species
