"""Getting the product out, what the room takes, what free bottles cost, what is left over."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.bench import BenchPlan, assayed, co_distillation, crystal_crop, drying_acid, plan, solubility
from redoxlib.bench._keep import greatest_fill
from redoxlib.compare import clear, compare
from redoxlib.errors import DomainError, JobError, UnsafeRouteError
from redoxlib.job import Job
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown


def planned(text: str, key: str, conditions: dict[str, Any] | None = None, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)), **(conditions or {}))


def number(sheet: BenchPlan, key: str) -> float:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value.value


BROMINE = planned(
    "Br^- -> Br2",
    "H2O2",
    {"hood": "0.2 m3/s", "dosing": "15 min"},
    amount="1 mol",
    cooling="100 W",
    room="40 m3",
)
COPPER = planned("Cu -> CuSO4", "H2O2", amount="63.5 g", acid="sulfuric acid 50 % w/w")


class TestCrop:
    @given(st.floats(1, 500), st.floats(10, 2000), st.floats(0.01, 0.5), st.floats(0.55, 1.0))
    def test_salt_and_water_are_conserved(self, salt: float, water: float, w: float, share: float) -> None:
        crop = crystal_crop(salt, water, w, anhydrous_share=share)
        assert crop.grams >= 0
        assert crop.liquor_salt >= -1e-9
        assert crop.liquor_water >= -1e-9
        total = crop.grams + crop.liquor_salt + crop.liquor_water
        assert total == pytest.approx(salt + water, rel=1e-9)

    def test_a_liquor_that_is_not_saturated_gives_nothing(self) -> None:
        assert crystal_crop(10.0, 1000.0, 0.2, anhydrous_share=0.64).grams == 0

    def test_error_when_the_solution_is_stronger_than_the_crystals(self) -> None:
        with pytest.raises(DomainError):
            crystal_crop(10.0, 10.0, 0.7, anhydrous_share=0.64)


def test_solubility_is_never_extrapolated() -> None:
    assert isinstance(solubility(Species.parse("CuSO4"), 120.0), Unknown)
    assert isinstance(solubility(Species.parse("NaBrO3"), 20.0), Unknown)


def test_copper_sulfate_crystallises_with_its_water() -> None:
    crop = number(COPPER, "crystal.crop.g")
    assert number(COPPER, "crystal.hydrate_water.g") == pytest.approx(0.3607 * crop, rel=1e-3)
    salt = number(COPPER, "crystal.liquor.g") + crop - number(COPPER, "crystal.hydrate_water.g")
    assert salt == pytest.approx(number(COPPER, "yield.mol") * 159.6, rel=1e-3)
    assert any("peroxide strip" in step.text for step in COPPER.isolation)


def test_the_quench_of_a_dissolved_product_comes_after_its_isolation() -> None:
    assert COPPER.quench_steps[0].text.startswith("Isolate first")


@pytest.mark.parametrize(("text", "oxidant"), [("Ag -> AgNO3", "HNO3"), ("Fe^2+ -> Fe^3+", "H2O2")])
def test_a_product_that_stays_dissolved_is_kept_and_not_isolated(text: str, oxidant: str) -> None:
    sheet = plan(clear(compare(text, oxidants=[oxidant], amount="0.1 mol").route(oxidant)))
    assert sheet.isolation[0].text.startswith("The product stays in solution")
    words = " ".join(step.text for step in sheet.quench_steps)
    assert "This liquor is the product" in words
    assert "Isolate first" not in words


def test_water_in_the_distillate_grows_when_the_product_phase_is_gone() -> None:
    assert number(BROMINE, "distil.late.water.percent") > 2 * number(BROMINE, "distil.water.percent")
    assert number(BROMINE, "distil.late.C") > number(BROMINE, "distil.boiling.C")


@given(st.floats(0.35, 1.0), st.floats(0.35, 1.0))
def test_less_product_activity_boils_hotter_and_wetter(a: float, b: float) -> None:
    low, high = sorted((a, b))
    weak = co_distillation(Species.parse("Br2(l)"), activity=high)
    weaker = co_distillation(Species.parse("Br2(l)"), activity=low)
    assert weaker.celsius >= weak.celsius - 1e-9
    assert weaker.water_percent >= weak.water_percent - 1e-9


def test_bromine_is_the_lower_layer_and_cyclohexanone_the_upper() -> None:
    assert any("lower layer" in step.text for step in BROMINE.isolation)
    ketone = planned("cyclohexanol -> cyclohexanone", "NaOCl", acid="acetic acid, glacial", medium=4.5)
    assert any("upper layer" in step.text for step in ketone.isolation)


def test_drying_is_sized_on_water_not_on_product() -> None:
    assert number(BROMINE, "dry.acid.g") == pytest.approx(drying_acid(number(BROMINE, "dry.water.g")))
    with pytest.raises(DomainError):
        drying_acid(1.0, fresh=0.8, spent=0.9)


def test_drying_acid_is_a_stream_of_its_own() -> None:
    names = [stream.name for stream in BROMINE.streams]
    assert names == ["liquor", "drying_acid"]
    assert all(stream.not_with and stream.treatment for stream in BROMINE.streams)


def test_a_full_vessel_has_no_room_to_expand() -> None:
    assert greatest_fill(0.0) == 1.0
    assert greatest_fill(0.0011) < 1.0


class TestRoom:
    def test_standby_covers_oxidant_and_product_alike(self) -> None:
        assert number(BROMINE, "standby.reductant.mol") == pytest.approx(
            number(BROMINE, "charge.oxidant.mol")
        )
        assert number(BROMINE, "standby.reductant.mol") >= number(BROMINE, "yield.mol")
        assert number(BROMINE, "standby.reductant.mol") >= number(BROMINE, "quench.reductant.mol")
        assert number(BROMINE, "standby.base.mol") >= number(BROMINE, "quench.base.mol")

    def test_the_room_is_compared_with_the_air_needed(self) -> None:
        ppm = number(BROMINE, "room.Br2.room.ppm")
        assert ppm == pytest.approx(3 * number(BROMINE, "room.Br2.idlh.m3") / 40, rel=1e-6)

    def test_the_hood_needs_air_over_flow(self) -> None:
        minutes = number(BROMINE, "room.Br2.limit.m3") / 12
        assert number(BROMINE, "room.Br2.hood.min") == pytest.approx(minutes)

    def test_bleach_is_asked_about_chlorine_and_cyanide_about_its_gases(self) -> None:
        sheet = planned("CN^- -> OCN^-", "NaOCl", medium=11, concentration="1 g/L")
        for gas in ("Cl2", "HCN", "CNCl"):
            assert f"room.{gas}.limit.m3" in sheet
        assert isinstance(sheet["room.CNCl.idlh.m3"].value, Unknown)  # no value is published

    def test_sulfite_into_acid_is_the_mis_dose_of_a_peroxide_batch(self) -> None:
        litres = number(BROMINE, "room.SO2.L")
        assert litres == pytest.approx(24.79 * number(BROMINE, "standby.reductant.mol"))


class TestDosing:
    def test_a_declared_dosing_time_is_used(self) -> None:
        assert number(BROMINE, "dose.min") == 15
        rate = number(BROMINE, "charge.oxidant.mL") / 15
        assert number(BROMINE, "dose.mL_per_min") == pytest.approx(rate)

    def test_accumulation_sets_the_temperature_after_a_failure(self) -> None:
        share, rise = number(BROMINE, "heat.accumulation"), number(BROMINE, "heat.rise.K")
        assert 0 < share <= 1
        assert number(BROMINE, "heat.mtsr.dosed.C") == pytest.approx(25 + share * rise)
        assert number(BROMINE, "heat.mtsr.dosed.C") <= number(BROMINE, "heat.mtsr.C")

    def test_without_a_rate_the_accumulation_is_unknown_not_zero(self) -> None:
        sheet = planned("Cu -> CuSO4", "H2O2", cooling="100 W", acid="sulfuric acid 50 % w/w")
        assert isinstance(sheet["heat.accumulation"].value, Unknown)
        assert isinstance(sheet["heat.mtsr.dosed.C"].value, Unknown)

    def test_the_class_acted_on_is_the_worst_possible(self) -> None:
        assert number(BROMINE, "heat.class.worst") == 5
        assert "1 or 2 or 5" in BROMINE["heat.class.worst"].what

    def test_a_batch_above_the_cooling_is_stopped_and_the_largest_named(self) -> None:
        fields: dict[str, Any] = {"oxidants": ["H2O2"], "amount": "1 mol", "cooling": "50 W"}
        slow = clear(compare("I^- -> I2", **fields).routes[0])
        largest = number(plan(slow), "dose.largest_scale")
        assert 1 < largest < 2
        hurried = clear(compare("I^- -> I2", **fields, time="20 min").routes[0])
        with pytest.raises(UnsafeRouteError, match="largest scale that passes"):
            plan(hurried)

    def test_dosing_faster_than_the_cooling_is_stopped_and_the_shortest_named(self) -> None:
        fields: dict[str, Any] = {"oxidants": ["H2O2"], "amount": "0.2 mol", "cooling": "50 W"}
        cleared = clear(compare("I^- -> I2", **fields).routes[0])
        shortest = number(plan(cleared), "dose.shortest.min")
        with pytest.raises(UnsafeRouteError, match="faster than the declared cooling") as caught:
            plan(cleared, dosing=f"{0.99 * shortest:.6f} min")
        told = str(caught.value.hint).removeprefix("the shortest dosing that passes is ")
        assert number(plan(cleared, dosing=told), "dose.min") == pytest.approx(shortest, abs=0.1)
        assert float(told.split()[0]) >= shortest

    def test_without_a_declared_cooling_no_dosing_is_too_fast(self) -> None:
        cleared = clear(compare("I^- -> I2", oxidants=["H2O2"], amount="0.2 mol").routes[0])
        assert number(plan(cleared, dosing="1 min"), "dose.min") == 1

    @pytest.mark.parametrize("dosing", ["0 min", "15 g"])
    def test_error_when_the_dosing_is_no_time(self, dosing: str) -> None:
        with pytest.raises(DomainError):
            planned("Br^- -> Br2", "H2O2", {"dosing": dosing})

    def test_gas_has_a_rate_at_the_dosing_rate(self) -> None:
        sheet = planned("CH3CHOHCH3 -> CH3COCH3", "anode", {"dosing": "30 min"})
        assert number(sheet, "gas.H2.L_per_min") == pytest.approx(number(sheet, "gas.H2.L") / 30)


class TestUnrestricted:
    SHEET = planned("Br^- -> Br2", "H2O2", {"bottles": "unrestricted"}, amount="1 mol", cooling="50 W")

    def test_the_bottles_are_weaker_and_the_pot_larger(self) -> None:
        assert "12 % w/w" in self.SHEET["charge.oxidant.mL"].what
        assert "15 % w/w" in self.SHEET["charge.acid.mL"].what
        assert number(self.SHEET, "cost.pot.g") > 0
        assert number(self.SHEET, "cost.dissolved.g") > 0
        assert number(self.SHEET, "cost.rise.K") < 0

    def test_the_cost_is_a_difference(self) -> None:
        plain = planned("Br^- -> Br2", "H2O2", amount="1 mol", cooling="50 W")
        more = number(self.SHEET, "pot.g") - number(plain, "pot.g")
        assert number(self.SHEET, "cost.pot.g") == pytest.approx(more)

    def test_error_when_the_word_is_unknown(self) -> None:
        with pytest.raises(DomainError):
            planned("Br^- -> Br2", "H2O2", {"bottles": "strong"})


def test_first_and_second_protons_add_up() -> None:
    both = number(BROMINE, "charge.acid.H.first.mol") + number(BROMINE, "charge.acid.H.second.mol")
    assert both == pytest.approx(2 * number(BROMINE, "charge.acid.mol"))
    needed = number(BROMINE, "charge.acid.H.needed.mol")
    used = number(BROMINE, "charge.acid.H.second.used.mol")
    assert used == pytest.approx(needed - number(BROMINE, "charge.acid.H.first.mol"))


def test_monoprotic_acids_have_no_second_proton() -> None:
    sheet = planned("I^- -> I2", "H2O2", acid="hydrochloric acid 37 % w/w")
    assert "charge.acid.H.second.mol" not in sheet


def test_an_ageing_bottle_gets_a_titration_that_fits_the_burette() -> None:
    assert number(BROMINE, "assay.oxidant.mol") == pytest.approx(0.030 * 0.0200 * 2.5)
    assert "KMnO4" in BROMINE.assays[0].text or "permanganate" in BROMINE.assays[0].text


def test_every_heat_stands_per_mol_per_kg_and_per_batch() -> None:
    for name in ("reaction", "acid_dilution", "decomposition", "quench", "neutralisation"):
        mol, kg = number(BROMINE, f"heat.{name}.per_mol"), number(BROMINE, f"heat.{name}.per_kg")
        assert mol * number(BROMINE, "yield.mol") == pytest.approx(kg * number(BROMINE, "pot.g") / 1000)


def test_what_limits_leaves_the_rest_over() -> None:
    # half of the peroxide that the feed could use: nothing of it is left, half of the acid is
    shelf = ["28 mL of hydrogen peroxide 30 % w/w"]
    sheet = planned("Br^- -> Br2", "H2O2", amount="1 mol", bottles=shelf)
    extent = number(sheet, "charge.extent")
    assert extent == pytest.approx(0.55, abs=0.02)
    assert sheet.route.limiting == "oxidant"
    assert number(sheet, "quench.oxidant_left.mol") == pytest.approx(0.0, abs=1e-12)
    assert number(sheet, "quench.acid_left.mol") == pytest.approx(2 * (0.55 - 0.5 * extent))
    assert number(sheet, "yield.mol") == pytest.approx(0.5 * extent)


def test_an_anode_has_a_standby_for_the_halogen_it_makes() -> None:
    sheet = planned("Br^- -> Br2", "anode", amount="1 mol")
    assert number(sheet, "standby.reductant.mol") == pytest.approx(number(sheet, "yield.mol"))
    halogen = number(sheet, "quench.halogen.mol")
    assert number(sheet, "quench.reductant.mol") == pytest.approx(halogen)
    assert number(sheet, "quench.acid_made.mol") == pytest.approx(2 * halogen)
    assert number(sheet, "quench.thiosulfate.high.mol") == pytest.approx(2 * halogen)


def test_a_titration_goes_straight_into_the_job() -> None:
    job = Job("Br^- -> Br2", amount="1 mol", bottles=["hydrogen peroxide 30 % w/w"], oxidants=["H2O2"])
    aged = assayed(
        job,
        "hydrogen peroxide 30 % w/w",
        titrant=Quantity(0.0200, "mol/L", 0.0001),
        titre=Quantity(30.0, "mL", 0.05),
        sample=Quantity(1.00, "mL", 0.01),
        dilution=5.0,
    )
    before = plan(clear(compare(job).route("H2O2")))
    after = plan(clear(compare(aged).route("H2O2")))
    assert number(after, "charge.oxidant.mol") == pytest.approx(number(before, "charge.oxidant.mol"))
    litres = number(after, "charge.oxidant.mL") / 1000
    assert number(after, "charge.oxidant.mol") / litres == pytest.approx(7.5, rel=1e-3)
    assert number(after, "charge.oxidant.mL") > number(before, "charge.oxidant.mL")


def test_error_when_the_oxidant_is_only_part_of_the_bottle() -> None:
    with pytest.raises(DomainError, match="part of"):
        assayed(
            Job("Br^- -> Br2"),
            "potassium peroxymonosulfate triple salt",
            titrant=Quantity(0.1, "mol/L"),
            titre=Quantity(30.0, "mL"),
            sample=Quantity(1.0, "g"),
        )


def test_chlorite_that_the_reaction_leaves_is_quenched_too() -> None:
    sheet = planned("I^- -> I2", "ClO2", amount="0.01 mol", medium=5)
    chlorite = [key for key in sheet if key.startswith("quench.oxyanion.")]
    left = number(sheet, "quench.oxidant_left.mol")
    halogen = number(sheet, "quench.halogen.mol")
    further = sum(2.0 * number(sheet, key) for key in chlorite)
    assert chlorite == ["quench.oxyanion.ClO2^-.mol"]
    assert number(sheet, "quench.reductant.mol") == pytest.approx(2.5 * left + halogen + further)


def test_standby_for_iodate_counts_down_to_iodide() -> None:
    sheet = planned("I^- -> I2", "KIO3", amount="1 mol")
    assert number(sheet, "standby.reductant.mol") == pytest.approx(3 * number(sheet, "charge.oxidant.mol"))
    assert number(sheet, "standby.reductant.mol") >= number(sheet, "yield.mol")


def test_standby_for_iodate_keeps_base_apart_from_sulfite() -> None:
    text = planned("I^- -> I2", "KIO3", amount="1 mol").before[0]
    assert "apart from it" in text.text
    assert "sulfite first, base after it" in text.reason


def test_the_standby_promises_to_destroy_only_what_it_destroys() -> None:
    assert BROMINE.before[0].reason.startswith("it destroys the whole batch")
    assert COPPER.before[0].reason.startswith("it destroys all of the oxidant at")
    assert "already product" not in COPPER["standby.reductant.mol"].what


def test_no_verdict_on_a_room_that_is_not_declared() -> None:
    assert "no room is declared" in COPPER.before[1].reason
    small = planned("I^- -> I2", "H2O2", amount="0.6 mol", room="120 m3")
    assert "the room's air does not take it" in small.before[1].reason
    bare_room = planned("I^- -> I2", "H2O2", amount="0.6 mol", room="120 m3", context="no hood")
    assert "there is no hood, so not here" in bare_room.before[1].reason


@pytest.mark.parametrize(("temperature", "word"), [("57 C", "boils at 54 C"), ("-10 C", "freezes")])
def test_error_when_the_mixture_cannot_be_held_there(temperature: str, word: str) -> None:
    route = compare("Br^- -> Br2", oxidants=["H2O2"]).route("H2O2")
    there = replace(route, job=replace(route.job, temperature=temperature))
    with pytest.raises(DomainError, match=word) as refused:
        plan(clear(there))
    # The comparison says the same of it, and names what mends it too.
    with pytest.raises(JobError, match=word) as told:
        planned("Br^- -> Br2", "H2O2", temperature=temperature)
    assert refused.value.message in told.value.message
    assert str(refused.value.hint) in told.value.message
