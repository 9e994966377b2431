"""Removals: base for the acid a reaction makes, the step at which base goes in, the masses of the pot."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib.bench import BenchPlan, plan, reconcile
from redoxlib.compare import clear, compare
from redoxlib.errors import UnsafeRouteError
from redoxlib.quantity import Quantity


def planned(text: Any, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], purpose="remove", **fields).route(key)))


def number(sheet: BenchPlan, key: str) -> float:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value.value


def step_with(sheet: BenchPlan, words: str) -> int:
    return next(i for i, step in enumerate(sheet.steps) if words in step.text)


FIXER = {"concentration": "25 g/L", "pot_mass": "10 kg"}
THIOSULFATE = planned("thiosulfate -> sulfate", "H2O2", **FIXER)
THIOSULFATE_8 = planned("thiosulfate -> sulfate", "H2O2", medium=8, **FIXER)
RINSE = {"concentration": "300 mg/L", "pot_mass": "50 kg", "medium": 11}
SULFIDE = planned("S^2- -> SO4^2-", "H2O2", **RINSE)
HYDROSULFIDE = planned("HS^- -> SO4^2-", "H2O2", **RINSE)


class TestWhereTheBaseGoes:
    def test_the_base_charged_stands_before_the_oxidant_with_its_amount(self) -> None:
        # 50 L x 0.3 g/L / 33.07 g/mol = 0.4536 mol, 1.1 of it as 50 % NaOH: 39.9 g
        assert number(HYDROSULFIDE, "charge.base.g") == pytest.approx(1.1 * 0.4536 * 39.997 / 0.5, rel=1e-3)
        at = step_with(HYDROSULFIDE, "(39.9 g) of sodium hydroxide 50 % w/w into the water")
        assert at < step_with(HYDROSULFIDE, "hydrogen peroxide 30 % w/w last")

    def test_near_neutral_the_rest_of_it_goes_in_beside_the_oxidant(self) -> None:
        # all of 4.9 mol in 10 L at once would be pH 13.7
        text = THIOSULFATE_8.steps[step_with(THIOSULFATE_8, "Bring the water to pH 8")].text
        assert "(392 g) of sodium hydroxide 50 % w/w" in text
        assert "the rest goes in beside the oxidant" in text


class TestAcidThatARemovalMakes:
    def test_it_is_told_with_the_base_that_holds_the_ph(self) -> None:
        # 250 g / 112.12 g/mol = 2.230 mol, 2 H+ each
        assert number(THIOSULFATE, "ph.acid_made.mol") == pytest.approx(2 * 250 / 112.12, rel=1e-3)
        assert number(THIOSULFATE, "ph.hold.base.g") == pytest.approx(4.4595 * 39.997 / 0.5, rel=1e-3)
        assert any("makes 4.46 mol of acid" in w and "hold pH 7" in w for w in THIOSULFATE.warnings)
        at = step_with(THIOSULFATE, "Hold pH 7 by the meter")
        assert "(357 g) of sodium hydroxide" in THIOSULFATE.steps[at].text
        assert at < step_with(THIOSULFATE, "last, in portions")

    def test_chlorite_brings_its_own_sodium_and_makes_the_same_acid(self) -> None:
        # thin enough for the gate: 10 x 0.1 g / 112.12 g/mol, 2 H+ each, 1.8 mmol/L
        thin = {**FIXER, "concentration": "0.1 g/L"}
        sheet = planned("thiosulfate -> sulfate", "NaClO2", **thin)
        assert number(sheet, "ph.acid_made.mol") == pytest.approx(2 * 1 / 112.12, rel=1e-3)
        with pytest.raises(UnsafeRouteError, match=r"frees 0\.45 mol/L of acid"):
            planned("thiosulfate -> sulfate", "NaClO2", **FIXER)

    def test_bleach_takes_a_proton_up_so_less_is_made_than_hypochlorous_acid_would(self) -> None:
        # S2O3^2- + 4 ClO^- + H2O -> 2 SO4^2- + 4 Cl^- + 2 H^+
        sheet = planned("thiosulfate -> sulfate", "NaOCl", **FIXER)
        assert number(sheet, "ph.acid_made.mol") == pytest.approx(4.4595, rel=1e-3)

    def test_base_that_is_charged_for_it_leaves_nothing_to_tell(self) -> None:
        assert "ph.acid_made.mol" not in THIOSULFATE_8
        assert "ph.acid_made.mol" not in HYDROSULFIDE
        assert not any("of acid" in w for w in THIOSULFATE_8.warnings)

    def test_sulfide_counted_as_its_salt_asks_for_the_base_that_hydrosulfide_does(self) -> None:
        # HS^- + 4 H2O2 + OH^- -> SO4^2- + 5 H2O at pH 11 either way: 15 g / 32.06 g/mol
        assert number(SULFIDE, "ph.hold.base.mol") == pytest.approx(15 / 32.06, rel=1e-3)
        at = step_with(SULFIDE, "Another 0.468 mol of OH-")
        assert at < step_with(SULFIDE, "last, in portions")

    def test_a_sulfide_that_is_weighed_in_brings_that_base_itself(self) -> None:
        assert "ph.acid_made.mol" not in planned("S^2- -> SO4^2-", "H2O2", feed="Na2S", **RINSE)

    def test_a_trace_that_moves_the_ph_by_less_than_one_is_not_told(self) -> None:
        # 1 umol/L of Fe makes about 2 umol/L of acid; pH 5 to pH 4 takes 90 umol/L
        sheet = planned("Fe^2+ -> Fe(OH)3", "H2O2", concentration="0.056 mg/L", medium=5, pot_mass="10 kg")
        assert "ph.acid_made.mol" not in sheet


class TestMassOfThePot:
    def test_it_is_the_water_what_it_holds_and_all_that_is_charged(self) -> None:
        # 10 kg + 2.2297 mol x 158.11 g/mol + 1.1 x 4 x 2.2297 mol x 34.015 g/mol / 0.30
        feed, peroxide = 2.2297 * 158.11, 4.4 * 2.2297 * 34.0147 / 0.30
        assert number(THIOSULFATE, "pot.g") == pytest.approx(10_000 + feed + peroxide, rel=1e-4)
        assert number(THIOSULFATE, "pot.g") > number(THIOSULFATE, "pot.water.g")
        assert "water to be treated" in THIOSULFATE["pot.g"].formula

    def test_the_liquor_is_no_lighter_than_the_pot(self) -> None:
        assert number(THIOSULFATE, "waste.liquor.g") > number(THIOSULFATE, "pot.g")

    def test_a_declared_pot_that_makes_something_says_that_it_is_declared(self) -> None:
        made = compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol", pot_mass="2 kg")
        sheet = plan(clear(made.route("H2O2")))
        assert number(sheet, "pot.g") == pytest.approx(2000)
        assert sheet["pot.g"].formula == "declared in the job"

    def test_the_job_says_what_water_the_amount_is_taken_from(self) -> None:
        assert "amount: what 10 kg of water holds" in THIOSULFATE.route.job.defaults


class TestWhatIsWeighed:
    def test_sulfate_that_ends_half_as_acid_is_named_so(self) -> None:
        # Na2S2O3 + 4 H2O2 -> Na2SO4 + H2SO4 + 3 H2O: 2.2297 mol of each
        assert number(THIOSULFATE, "yield.g") == pytest.approx(2.2297 * (142.04 + 98.07), rel=1e-3)
        assert THIOSULFATE["yield.g"].what.endswith("by mass as Na2SO4 with H2SO4")
        # with the base charged all of it is the salt
        assert number(THIOSULFATE_8, "yield.g") == pytest.approx(4.4595 * 142.04, rel=1e-3)
        assert THIOSULFATE_8["yield.g"].what == "largest yield of Na2SO4"

    def test_iron_and_manganese_lie_on_one_filter(self) -> None:
        load = [["Fe^2+ -> Fe(OH)3", "6 mg/L"], ["Mn^2+ -> MnO2", "0.4 mg/L"]]
        sheet = planned(load, "KMnO4", medium=7.2, pot_mass="3000 kg")
        iron, manganese = 18 / 55.845, 1.2 / 54.938
        oxide = manganese + iron / 3 + 2 * manganese / 3  # the permanganate's own comes down with it
        found = reconcile(sheet, product="37.0 g")
        assert found.theory.value == pytest.approx(iron * 106.87 + 86.94 * oxide, rel=1e-3)
        assert found.of == "Fe(OH)3 and MnO2"
        assert not found.above_theory

    def test_salt_from_the_base_that_held_the_ph_is_no_fault_of_the_balance(self) -> None:
        # all 4.46 mol as Na2SO4 would weigh 633 g, more than the 535 g of salt and acid
        assert "Base given to hold the pH" in reconcile(THIOSULFATE, product="600 g").remark
        assert "Base given" not in reconcile(THIOSULFATE_8, product="700 g").remark


class TestWaterThatIsDrunk:
    WELL = planned(
        [["Fe^2+ -> Fe(OH)3", "6 mg/L"], ["Mn^2+ -> MnO2", "0.4 mg/L"]],
        "KMnO4",
        medium=7.2,
        pot_mass="3000 kg",
        potable=True,
    )
    RINSED = planned("Mn^2+ -> MnO2", "KMnO4", medium=7.2, concentration="0.4 mg/L", pot_mass="3000 kg")

    def test_permanganate_left_over_is_told_as_manganese(self) -> None:
        # a tenth of 18 g/55.845/3 + 1.2 g/54.938 x 2/3 mol of permanganate in 3000 L
        left = 0.1 * (18 / 55.845 / 3 + 1.2 / 54.938 * 2 / 3) * 54.938 / 3
        assert left == pytest.approx(0.22, abs=0.01)
        assert number(self.WELL, "quench.oxidant_left.Mn_mg_per_L") == pytest.approx(left, rel=1e-3)
        assert any("0.223 mg/L of manganese" in w for w in self.WELL.warnings)
        assert not any("mg/L of manganese" in w for w in self.RINSED.warnings)

    def test_an_oxidant_without_manganese_says_nothing_of_it(self) -> None:
        sheet = planned("Fe^2+ -> Fe(OH)3", "NaOCl", medium=7.2, concentration="6 mg/L", potable=True)
        assert "quench.oxidant_left.Mn_mg_per_L" not in sheet
        assert any("licensed practice decides" in w for w in sheet.warnings)

    def test_it_goes_through_a_filter_and_neither_into_sulfite_nor_into_waste(self) -> None:
        words = " ".join(step.text for step in self.WELL.quench_steps)
        assert "filter Fe(OH)3 and MnO2 off" in words
        assert "run the liquor into it" not in words
        assert [stream.name for stream in self.WELL.streams] == ["sludge"]
        # 18 g of iron as hydroxide, manganese and permanganate of both as dioxide
        assert number(self.WELL, "waste.sludge.g") == pytest.approx(46.95, rel=1e-3)

    def test_a_rinse_that_nobody_drinks_is_waste_as_before(self) -> None:
        assert "liquor" in [stream.name for stream in self.RINSED.streams]
        assert any("run the liquor into it" in step.text for step in self.RINSED.quench_steps)
