"""The bench against published relations and values; the source stands beside each."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib import thermo
from redoxlib.bench import (
    BenchPlan,
    Pot,
    co_distillation,
    criticality_class,
    crystal_crop,
    dosing_temperature,
    drying_acid,
    plan,
    simulate,
    solubility,
    vapour_pressure,
)
from redoxlib.bench._heat import possible_classes
from redoxlib.compare import clear, compare
from redoxlib.heat import acid_dilution
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity
from redoxlib.routes import Charge

BROMINE, WATER = Species.parse("Br2(l)"), Species.parse("H2O(l)")


def number(sheet: BenchPlan, key: str) -> float:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value.value


def planned(text: str, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)))


class TestVapourPressures:
    """W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 22, 783 (1993) for water; Kirk-Othmer, 3rd ed. 1978
    (175 mmHg at 20 C, 58.8 C) for bromine."""

    @pytest.mark.parametrize(
        ("celsius", "kpa"), [(20.0, 2.3393), (25.0, 3.1698), (40.0, 7.3849), (54.0, 15.022), (80.0, 47.414)]
    )
    def test_water(self, celsius: float, kpa: float) -> None:
        assert vapour_pressure(WATER, celsius).value == pytest.approx(kpa, rel=0.003)

    def test_bromine_at_20_c(self) -> None:
        assert vapour_pressure(BROMINE, 20.0).value == pytest.approx(175 * 0.133322, rel=0.015)

    def test_bromine_boils_at_one_atmosphere(self) -> None:
        assert vapour_pressure(BROMINE, 58.8).value == pytest.approx(101.325, rel=0.005)

    @pytest.mark.parametrize(
        ("formula", "celsius", "kpa"), [("CH3COCH3(l)", 40.0, 56.4), ("CHCl3(l)", 40.0, 48.1)]
    )
    def test_through_two_points(self, formula: str, celsius: float, kpa: float) -> None:
        # CRC Handbook, vapour pressures of organic liquids, recalled: acetone 56.4, chloroform 48 kPa
        assert vapour_pressure(Species.parse(formula), celsius).value == pytest.approx(kpa, rel=0.02)


class TestTwoLiquidsBoilingTogether:
    """The rule of steam distillation: pressures add, moles go over in their ratio."""

    def test_bromine_and_water_boil_at_54_c(self) -> None:
        # textbook value for the co-boiling of bromine and water, not 58.8 and not 100
        assert co_distillation(BROMINE).celsius == pytest.approx(54.0, abs=0.3)

    def test_the_pressures_add_up(self) -> None:
        both = co_distillation(BROMINE)
        assert both.product_kpa + both.water_kpa == pytest.approx(101.325, rel=1e-6)

    def test_the_mass_ratio_is_that_of_pressures_times_molar_masses(self) -> None:
        both = co_distillation(BROMINE)
        ratio = both.water_percent / (100 - both.water_percent)
        assert ratio == pytest.approx(both.water_kpa * 18.015 / (both.product_kpa * 159.81), rel=1e-4)

    def test_cyclohexanone_water_azeotrope(self) -> None:
        # L. H. Horsley, Azeotropic Data III (1973), recalled: heterogeneous, 95 C, 38 to 45 % of ketone
        both = co_distillation(Species.parse("C6H10O(l)"))
        assert both.celsius == pytest.approx(95.3, abs=1.0)
        assert both.water_percent == pytest.approx(57.5, abs=7.0)


class TestHeats:
    """Heats every plan uses: CODATA (Cox, Wagman and Medvedev 1989) and the CRC ion table."""

    @pytest.mark.parametrize(
        ("equation", "kj"),
        [
            ("H^+(aq) + OH^-(aq) -> H2O(l)", -55.815),  # CODATA 1989
            ("H2O2(aq) -> H2O(l) + 1/2 O2(g)", -94.66),  # NBS Tables 1982
            ("H2O2(l) -> H2O(l) + 1/2 O2(g)", -98.05),  # NBS Tables 1982
            ("H2O2(l) -> H2O(l) + 1/2 O2(g)", -23.44 * 4.184),  # Giguere et al. 1955, 23.44 kcal/mol
            ("SO3^2-(aq) + H2O2(aq) -> SO4^2-(aq) + H2O(l)", -368.4),  # NBS Tables 1982
            ("HSO4^-(aq) + OH^-(aq) -> SO4^2-(aq) + H2O(l)", -77.8),  # NBS Tables 1982
        ],
    )
    def test_per_mol(self, equation: str, kj: float) -> None:
        assert thermo.enthalpy(Equation.parse(equation)).value == pytest.approx(kj, abs=0.6)

    def test_a_plan_carries_them(self) -> None:
        sheet = planned("Br^- -> Br2", "H2O2", amount="1 mol")
        excess = number(sheet, "quench.oxidant_left.mol")
        assert number(sheet, "heat.decomposition.kJ") / excess == pytest.approx(-94.7, abs=0.2)
        assert number(sheet, "quench.heat.kJ") / excess == pytest.approx(-368, abs=1)
        free = number(sheet, "quench.acid_made.mol")
        bound = number(sheet, "quench.acid_left.bisulfate.mol")
        heat = number(sheet, "quench.heat.neutralisation.kJ")
        assert heat == pytest.approx(-55.8 * free - 77.8 * bound, rel=0.003)

    def test_diluting_neat_sulfuric_acid_into_fifty_moles_of_water(self) -> None:
        # NBS Circular 500 (1952): 73.35 kJ/mol
        acid = Species.parse("H2SO4")
        charge = Charge("acid", acid, 1.0, 1.0, acid.molar_mass, None, None, "", acid.molar_mass)
        heat = acid_dilution(charge, 50 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(-73.35, abs=0.7)


def neat(formula: str) -> Charge:
    species = Species.parse(formula)
    return Charge("acid", species, 1.0, 1.0, species.molar_mass, None, None, "", species.molar_mass)


def in_water(formula: str, mole_ratio: float) -> Charge:
    """One mol of a solute in so many mol of water."""
    species = Species.parse(formula)
    grams = species.molar_mass + 18.015 * mole_ratio
    return Charge("acid", species, 1.0, 1.0, grams, None, None, "", species.molar_mass)


class TestDilution:
    """Heats of diluting what stands on the shelf, one published family each."""

    def test_neat_peroxide_gives_its_heat_of_mixing(self) -> None:
        # P. A. Giguere et al., Can. J. Chem. 33, 804 (1955): 819 cal/mol at 25 C
        heat = acid_dilution(neat("H2O2"), 1e6 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(-0.819 * 4.184, rel=0.002)

    def test_peroxide_of_30_per_cent_has_a_fifth_of_it_left(self) -> None:
        # 30 g of H2O2 in 70 g of water is a mole fraction of 0.882 / (0.882 + 3.886) = 0.185
        heat = acid_dilution(in_water("H2O2", 3.886 / 0.882), 1e6 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(-0.185 * 0.819 * 4.184, rel=0.01)
        assert heat.uncertainty == pytest.approx(0.2 * 0.185 * 3.43, rel=0.03)

    def test_caustic_soda_from_four_waters_to_a_hundred(self) -> None:
        # Felder and Rousseau's table: -34.43 at 4 mol of water and -42.89 at infinite dilution (read);
        # a Pitzer model puts 100 mol of water 0.48 short of that
        heat = acid_dilution(in_water("NaOH", 4.0), 96 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(-42.89 + 0.48 + 34.43, abs=0.02)

    def test_glacial_acetic_acid(self) -> None:
        # V. B. Parker, NSRDS-NBS 2 (1965): -1.51 kJ/mol for the liquid at infinite dilution
        heat = acid_dilution(neat("CH3COOH"), 1e6 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(-1.51, abs=0.01)

    @pytest.mark.parametrize(("formula", "kj"), [("HCl", -19.87), ("HNO3", -9.498)])
    def test_strong_acids_from_20_mol_per_kg(self, formula: str, kj: float) -> None:
        # Parker 1965 as printed in the CRC Handbook
        heat = acid_dilution(in_water(formula, 2.7754), 1e6 * 18.015)
        assert isinstance(heat, Quantity)
        assert heat.value == pytest.approx(kj, rel=0.001)

    @pytest.mark.parametrize("formula", ["NaClO", "KOH"])
    def test_what_nobody_published_stays_unknown(self, formula: str) -> None:
        assert not isinstance(acid_dilution(in_water(formula, 20.0), 1000.0), Quantity)

    def test_stronger_than_the_table_begins_is_unknown(self) -> None:
        # 50 % w/w sodium hydroxide holds 2.2 mol of water, the table begins at 4
        assert not isinstance(acid_dilution(in_water("NaOH", 2.2), 1000.0), Quantity)


class TestStoessel:
    """F. Stoessel, Thermal Safety of Chemical Processes (2008), ch. 3: the order of four temperatures."""

    @pytest.mark.parametrize(
        ("mtsr", "mtt", "td24", "wanted"),
        [
            (80, 100, 120, 1),
            (80, 110, 95, 2),
            (80, 70, 120, 3),
            (80, 70, 75, 4),
            (80, 100, 75, 5),
            (80, 70, 65, 5),
        ],
    )
    def test_class(self, mtsr: float, mtt: float, td24: float, wanted: int) -> None:
        assert criticality_class(50, mtsr, mtt, td24) == wanted

    @pytest.mark.parametrize(
        ("mtsr", "mtt", "td24", "wanted"),
        [
            (80, 100, 100, 2),  # class 1 asks for MTT < TD24
            (80, 100, 80, 5),  # classes 1 and 2 ask for MTSR < TD24
            (80, 80, 120, 3),  # classes 1 and 2 ask for MTSR < MTT
            (80, 70, 80, 4),  # class 3 asks for MTSR < TD24
            (80, 70, 70, 5),  # class 4 asks for MTT < TD24
        ],
    )
    def test_an_equality_counts_for_the_worse_class(
        self, mtsr: float, mtt: float, td24: float, wanted: int
    ) -> None:
        """The definitions are strict inequalities; where two temperatures meet none of the milder holds."""
        assert criticality_class(50, mtsr, mtt, td24) == wanted

    def test_the_classes_that_a_missing_td24_leaves_are_those_some_td24_gives(self) -> None:
        for mtsr, mtt in ((80, 100), (80, 70)):
            reached = {criticality_class(50, mtsr, mtt, td24) for td24 in range(51, 200)}
            assert set(possible_classes(mtsr, mtt)) == reached
        # where MTSR and MTT meet there is no room for class 4; the worst to act on is the same
        reached = {criticality_class(50, 80, 80, td24) for td24 in range(51, 200)}
        assert reached == {3, 5}
        assert possible_classes(80, 80)[-1] == max(reached)

    def test_mtsr_of_the_worked_example(self) -> None:
        # 50 C, 100 K adiabatic, 30 % accumulated: 80 C
        pot = Pot(1.0, 1.0, 1.0, 100.0, 1000.0, 0.0, 1.0, 0.0, 50.0, 50.0)
        assert pot.start_c + 0.30 * 1000 * pot.heat_kj / pot.capacity == pytest.approx(80.0)
        # all at once without cooling it is the whole rise
        assert simulate(pot, 1.0).peak_c == pytest.approx(150.0, abs=0.01)


class TestCopperSulfate:
    """CRC Handbook; A. Seidell, Solubilities of Inorganic Compounds: 20.0 to 20.7 g anhydrous at 20 C and
    75 to 77 g at 100 C in 100 g of water."""

    @pytest.mark.parametrize(("celsius", "grams"), [(0.0, 14.3), (20.0, 20.3), (60.0, 40.2), (100.0, 76.2)])
    def test_solubility(self, celsius: float, grams: float) -> None:
        found = solubility(Species.parse("CuSO4"), celsius)
        assert isinstance(found, Quantity)
        assert 100 * found.value / (100 - found.value) == pytest.approx(grams, rel=0.03)

    def test_crop_by_hand(self) -> None:
        # 100 g of pentahydrate in 100 g of water, cooled to 20 C: 63.92 g of salt, 136.08 g of water.
        # 0.6392 x leaves the salt, 0.3608 x the water, until salt / all = 0.167.
        share = 159.602 / 249.677
        crop = crystal_crop(100 * share, 200 - 100 * share, 0.167, anhydrous_share=share)
        left = (100 * share - share * crop.grams) / (200 - crop.grams)
        assert left == pytest.approx(0.167, rel=1e-9)
        assert crop.grams == pytest.approx(64.6, abs=0.2)
        assert crop.hydrate_water == pytest.approx(crop.grams * 5 * 18.015 / 249.677, rel=1e-4)

    def test_crop_of_a_liquor_saturated_hot(self) -> None:
        # Seidell, Solubilities: 55 g of CuSO4 in 100 g of water at 80 C, 20.7 g at 20 C.  Per 100 g of water
        # 55 g of salt; x g of pentahydrate (63.9 % salt) leave (55 - 0.639 x) / (155 - x) = 20.7 / 120.7.
        by_hand = (55 - 0.1715 * 155) / (0.6392 - 0.1715)
        hot, cold = (solubility(Species.parse("CuSO4"), c) for c in (80.0, 20.0))
        assert isinstance(hot, Quantity)
        assert isinstance(cold, Quantity)
        salt = 100 * hot.value / (100 - hot.value)
        crop = crystal_crop(salt, 100.0, cold.value / 100, anhydrous_share=159.602 / 249.677)
        assert crop.grams == pytest.approx(by_hand, rel=0.08)

    def test_a_liquor_that_is_not_saturated_gives_no_crop(self) -> None:
        # 10 g in 100 g of water stays dissolved at 20 C, where 20.7 g would
        assert crystal_crop(10.0, 100.0, 0.1715, anhydrous_share=0.6392).grams == 0

    def test_crystals_are_never_more_than_the_salt_makes(self) -> None:
        # 159.6 g of CuSO4 are 249.7 g of pentahydrate, however little water there is
        crop = crystal_crop(159.602, 90.1, 0.167, anhydrous_share=159.602 / 249.677)
        assert crop.grams <= 249.7


class TestDryingAndQuench:
    def test_a_gram_of_magnesium_sulfate_takes_a_gram_and_a_twentieth(self) -> None:
        # the heptahydrate is 48.83 % anhydrous salt: 1 g goes to 2.0476 g
        sheet = planned("cyclohexanol -> cyclohexanone", "NaOCl", acid="acetic acid, glacial", medium=4.5)
        assert number(sheet, "dry.water.g") / number(sheet, "dry.MgSO4.g") == pytest.approx(1.0476, rel=1e-3)

    def test_metal_hydroxides_take_base_by_their_charge(self) -> None:
        # any text: Fe(OH)3 takes 3 OH-, Cu(OH)2 takes 2
        iron = planned("Fe^2+ -> Fe^3+", "H2O2", amount="1 mol")
        assert number(iron, "quench.base.metal.mol") == pytest.approx(3.0)
        copper = planned("Cu -> CuSO4", "H2O2", amount="1 mol")
        kept = number(copper, "crystal.liquor.g") / 159.602
        assert number(copper, "quench.base.metal.mol") == pytest.approx(2 * kept, rel=1e-3)

    def test_drying_acid_by_the_lever_rule(self) -> None:
        # 10 g of water take 98 % acid down to 80 %: 0.98 m = 0.80 (m + 10)
        grams = drying_acid(10.0)
        assert 0.98 * grams == pytest.approx(0.80 * (grams + 10.0))

    def test_thiosulfate_runs_from_a_quarter_to_two_per_halogen(self) -> None:
        # N. N. Greenwood and A. Earnshaw, Chemistry of the Elements, 2nd ed. 1997, ch. 15:
        # 4 Br2 to sulfate, half an iodine to tetrathionate
        sheet = planned("Br^- -> Br2", "H2O2", amount="1 mol", excess=0.0)
        halogen = number(sheet, "quench.halogen.mol")
        assert number(sheet, "quench.thiosulfate.low.mol") / halogen == pytest.approx(0.25)
        assert number(sheet, "quench.thiosulfate.high.mol") / halogen == pytest.approx(2.0)
        assert number(sheet, "quench.thiosulfate.low.acid.mol") / halogen == pytest.approx(2.5)

    @pytest.mark.parametrize(
        ("conversion", "key", "fields", "sulfite", "acid"),
        [
            # balanced by hand: oxidant + n SO3^2- -> ... + n SO4^2-, H+ made per oxidant
            ("I^- -> I2", "H2O2", {}, 1.0, 0.0),
            ("I^- -> I2", "Na2S2O8", {}, 1.0, 2.0),
            ("I^- -> I2", "KIO3", {}, 3.0, 0.0),
            ("I^- -> I2", "KMnO4", {}, 2.5, -3.0),
            ("I^- -> I2", "K2Cr2O7", {}, 3.0, -8.0),
            ("Br^- -> Br2", "NaBrO3", {}, 3.0, 0.0),
            ("CN^- -> OCN^-", "NaOCl", {"medium": 11}, 1.0, 0.0),
        ],
    )
    def test_reductant_and_acid_per_oxidant(
        self, conversion: str, key: str, fields: dict[str, Any], sulfite: float, acid: float
    ) -> None:
        sheet = planned(conversion, key, amount="1 mol", **fields)
        left = number(sheet, "quench.oxidant_left.mol")
        halogen = number(sheet, "quench.halogen.mol") if "quench.halogen.mol" in sheet else 0.0
        assert (number(sheet, "quench.reductant.mol") - halogen) / left == pytest.approx(sulfite)
        assert (number(sheet, "quench.acid_made.mol") - 2 * halogen) / left == pytest.approx(acid, abs=1e-9)

    def test_hydrogensulfite_needs_three_of_base_per_halogen(self) -> None:
        sheet = planned("Br^- -> Br2", "H2O2", amount="1 mol", excess=0.0)
        halogen = number(sheet, "quench.halogen.mol")
        acid = number(sheet, "quench.acid_left.mol")
        assert (number(sheet, "quench.base.mol") - acid) / halogen == pytest.approx(2.0)
        assert (number(sheet, "quench.base.bisulfite.mol") - acid) / halogen == pytest.approx(3.0)

    def test_magnesium_sulfate_takes_seven_waters(self) -> None:
        sheet = planned("cyclohexanol -> cyclohexanone", "NaOCl", acid="acetic acid, glacial", medium=4.5)
        ratio = number(sheet, "dry.MgSO4.g") / number(sheet, "dry.water.g")
        assert ratio == pytest.approx(120.37 / (7 * 18.015), rel=1e-3)


class TestExposure:
    def test_air_down_to_the_immediate_danger_value_of_bromine(self) -> None:
        # NIOSH: 3 ppm; one mol of vapour is 24.79 L at 25 C and 1 bar
        sheet = planned("Br^- -> Br2", "H2O2", amount="2 mol")
        assert number(sheet, "room.Br2.idlh.m3") == pytest.approx(24.79 / 1000 / 3e-6, rel=1e-3)
        assert number(sheet, "room.Br2.limit.m3") == pytest.approx(24.79 / 1000 / 0.1e-6, rel=1e-3)


def test_the_dosing_heat_balance_has_an_analytic_solution() -> None:
    """C dT/dt = q - UA (T - Tj) - c (T - Td) with C = C0 + c t, a linear equation with a closed solution."""
    pot = Pot(0.5, 0.5, 1.0, 60.0, 4180.0, 600.0, 1.0, 0.1, 30.0, 15.0)
    run = simulate(pot, 30.0, ua=8.0, jacket_c=12.0, after=1e-4)
    for minutes, celsius in zip(run.minutes, run.celsius, strict=True):
        if minutes > 30.0:
            continue
        exact = dosing_temperature(
            minutes,
            heat_w=60_000 / 1800,
            ua=8.0,
            jacket_c=12.0,
            start_c=30.0,
            dose_c=15.0,
            capacity=4180.0,
            dose_capacity_per_min=20.0,
        )
        assert celsius == pytest.approx(exact, abs=1e-5)
