"""How sure each number is: what the inputs are moved by comes out again, by hand where hand can do it."""

from __future__ import annotations

from math import exp, log
from typing import Any

import pytest

from redoxlib.bench import BenchPlan, plan
from redoxlib.compare import clear, compare
from redoxlib.quantity import Quantity, Unknown

CASES = (
    ("Br^- -> Br2", "H2O2", {"cooling": "50 W", "room": "30 m3"}),
    ("I^- -> I2", "KIO3", {"feed": "KI"}),
    ("Cu -> CuSO4", "H2O2", {"acid": "sulfuric acid 50 % w/w"}),
    ("CN^- -> OCN^-", "NaOCl", {"medium": 11}),
    ("cyclohexanol -> cyclohexanone", "NaOCl", {"acid": "acetic acid, glacial", "medium": 4.5}),
    (
        "Mn^2+ -> MnO2",
        "KMnO4",
        {"purpose": "remove", "medium": 8, "concentration": "1 mg/L", "amount": "1 m3"},
    ),
)


def planned(text: str, key: str, **fields: Any) -> BenchPlan:
    return plan(clear(compare(text, oxidants=[key], **{"amount": "1 mol", **fields}).route(key)))


def known(sheet: BenchPlan, key: str) -> Quantity:
    value = sheet[key].value
    assert isinstance(value, Quantity), value
    return value


def spread(sheet: BenchPlan, key: str) -> float:
    found = known(sheet, key).uncertainty
    assert found is not None
    return found


@pytest.mark.parametrize(("text", "key", "fields"), CASES, ids=lambda v: v if isinstance(v, str) else "")
def test_every_number_says_how_sure_it_is_and_on_what_ground(
    text: str, key: str, fields: dict[str, Any]
) -> None:
    sheet = planned(text, key, **fields)
    for name in sheet:
        value = sheet[name].value
        if isinstance(value, Unknown):
            continue
        assert value.uncertainty is not None, name
        assert value.basis, name


BROMIDE = planned("Br^- -> Br2", "H2O2", cooling="50 W")


def test_a_charge_is_as_sure_as_the_strength_of_its_bottle() -> None:
    charge = BROMIDE.route.charge("oxidant")
    assert charge is not None
    assert charge.bottle is not None
    strength = charge.bottle.mass_fraction
    assert isinstance(strength, Quantity)
    relative = (strength.uncertainty or 0.0) / strength.value
    for key in ("charge.oxidant.mol", "charge.oxidant.g"):
        assert spread(BROMIDE, key) == pytest.approx(relative * known(BROMIDE, key).value, rel=1e-6)


def test_what_is_left_over_carries_the_whole_doubt_of_what_was_charged() -> None:
    # 0.55 ± 0.018 charged and 0.50 needed leave 0.05 ± 0.018, not 0.05 ± 3 %
    assert spread(BROMIDE, "quench.oxidant_left.mol") == pytest.approx(spread(BROMIDE, "charge.oxidant.mol"))
    per_mol = known(BROMIDE, "quench.heat.kJ").value / known(BROMIDE, "quench.oxidant_left.mol").value
    assert spread(BROMIDE, "quench.heat.kJ") == pytest.approx(
        abs(per_mol) * spread(BROMIDE, "quench.oxidant_left.mol"), rel=1e-3
    )


def test_a_tolerance_of_the_declared_amount_reaches_the_yield_and_the_heat() -> None:
    sheet = planned("Br^- -> Br2", "H2O2", amount="1.00 ± 0.02 mol")
    assert spread(sheet, "yield.mol") == pytest.approx(0.01, rel=1e-6)
    assert known(sheet, "yield.mol").basis == "as declared"
    relative = spread(sheet, "heat.reaction.kJ") / abs(known(sheet, "heat.reaction.kJ").value)
    assert relative > 0.02


def test_the_boiling_point_moves_with_the_vapour_pressure_curve() -> None:
    # one per cent more bromine pressure, 86 kPa at 54 C, is met by dT with p' dT = 0.01 p(Br2); both curves
    # are taken as straight in 1/T here: slopes from 30.9 and 43.98 kJ/mol, CODATA 1989 and CRC
    kelvin = 273.15 + known(BROMIDE, "distil.boiling.C").value
    bromine, water = (known(BROMIDE, f"distil.{name}.kPa").value for name in ("product", "water"))
    slope = (bromine * 30_910 + water * 43_980) / (8.314 * kelvin**2)
    assert spread(BROMIDE, "distil.boiling.C") == pytest.approx(0.01 * bromine / slope, rel=0.05)


def test_the_damkoehler_number_is_as_unsure_as_the_rate() -> None:
    value = known(BROMIDE, "dose.damkoehler")
    # the row: ± 30 %; it is only recalled, so the low end is used and the same doubt weighs more
    assert (value.uncertainty or 0.0) / value.value == pytest.approx(0.3 / 0.7, rel=0.02)
    # accumulation (1 - e^-x)/x falls as x grows; by hand at x = 0.34 a thirtieth per ten per cent
    assert 0 < spread(BROMIDE, "heat.accumulation") < 0.1


def test_why_names_what_the_doubt_comes_from() -> None:
    told = BROMIDE.why("quench.oxidant_left.mol")
    assert "100 % of the variance from strength of hydrogen peroxide 30 % w/w" in told
    assert "basis of the uncertainty: estimate" in told


class TestAcidThatHoldsThePh:
    """Free protons and those on sulfate, by the balance written out again from the numbers of the plan."""

    def test_the_charge_alone_ends_where_the_balance_says(self) -> None:
        sheet = planned("Br^- -> Br2", "H2O2")
        litres, left = known(sheet, "pot.water.g").value / 1000, known(sheet, "quench.acid_left.mol").value
        h = 10 ** -known(sheet, "ph.reached").value
        sulfate = known(sheet, "charge.acid.mol").value
        bound = sulfate * h / (h + 10**-1.99)  # pKa of hydrogensulfate
        assert h * litres + bound == pytest.approx(left, rel=1e-6)

    def test_the_acid_told_brings_the_pot_there(self) -> None:
        sheet = planned("Br^- -> Br2", "H2O2")
        litres, extra = known(sheet, "pot.water.g").value / 1000, known(sheet, "ph.acid.mol").value
        protons = known(sheet, "quench.acid_left.mol").value + 2 * extra
        sulfate = known(sheet, "charge.acid.mol").value + extra
        bound = sulfate / (1 + 10**-1.99)  # pH 0
        assert litres + bound == pytest.approx(protons, rel=1e-6)
        assert known(sheet, "ph.quench.base.mol").value == pytest.approx(2 * extra)

    def test_the_word_acid_charges_nothing_and_a_number_does(self) -> None:
        word = planned("Br^- -> Br2", "H2O2", medium="acid")
        figure = planned("Br^- -> Br2", "H2O2", medium=0.5)
        assert "NOT charged" in word["ph.acid.mol"].what
        extra = known(figure, "ph.acid.mol").value
        for key, by in (("charge.acid.mol", extra), ("quench.acid_left.mol", 2 * extra)):
            gap = known(figure, key).value - known(word, key).value
            assert gap == pytest.approx(by, rel=1e-6), key
        assert known(figure, "quench.base.mol").value > known(word, "quench.base.mol").value + extra
        assert known(figure, "heat.acid_dilution.kJ").value < known(word, "heat.acid_dilution.kJ").value
        assert known(figure, "waste.liquor.g").value > known(word, "waste.liquor.g").value

    def test_an_alkaline_pot_is_charged_with_its_hydroxide(self) -> None:
        sheet = planned("CN^- -> OCN^-", "NaOCl", medium=11)
        litres = known(sheet, "pot.water.g").value / 1000
        assert known(sheet, "charge.base.mol").value == pytest.approx(1e-3 * litres, rel=0.01)


class TestDissolving:
    """A solid comes apart before it reacts; CRC Handbook, enthalpy of solution of electrolytes."""

    @pytest.mark.parametrize(
        ("text", "key", "role", "per_mol"),
        [
            ("Br^- -> Br2", "KMnO4", "oxidant", 43.56),
            ("I^- -> I2", "KIO3", "oxidant", 27.74),
            ("Br^- -> Br2", "NaBrO3", "oxidant", 26.90),
            ("Br^- -> Br2", "KMnO4", "feed", -0.60),
        ],
    )
    def test_per_mol(self, text: str, key: str, role: str, per_mol: float) -> None:
        sheet = planned(text, key)
        charged = known(sheet, f"charge.{role}.mol").value
        found = known(sheet, f"heat.dissolving.{role}.kJ")
        assert found.value / charged == pytest.approx(per_mol, abs=0.6)

    def test_what_the_tables_lack_is_said_aloud(self) -> None:
        sheet = planned("I^- -> I2", "NaOCl")
        assert isinstance(sheet["heat.dissolving.oxidant.kJ"].value, Unknown)
        assert "not in any sum here" in sheet["heat.dissolving.oxidant.kJ"].what

    def test_a_strong_base_whose_table_does_not_reach_is_bounded_by_its_solid(self) -> None:
        sheet = planned("Mn^2+ -> MnO2", "KMnO4", medium=8)
        entry = sheet["heat.dissolving.base.kJ"]
        assert isinstance(entry.value, Unknown)
        # 44.5 kJ/mol (Parker 1965) for the solid
        bound = 44.5 * known(sheet, "charge.base.mol").value
        assert f"less than {bound:.2g} kJ, which the solid would give" in entry.what

    def test_a_metal_that_reacts_as_a_solid_is_not_dissolved_twice(self) -> None:
        sheet = planned("Cu -> CuSO4", "H2O2")
        assert "heat.dissolving.feed.kJ" not in sheet


def test_the_logarithm_of_a_ratio_of_pressures_is_that_of_clausius_and_clapeyron() -> None:
    # kept vapour pressures of bromine at 20 and 40 C against 30.9 kJ/mol
    low, high = (known(BROMIDE, f"keep.vapour_{c}.kPa").value for c in (20, 40))
    assert log(high / low) == pytest.approx(30_910 / 8.314 * (1 / 293.15 - 1 / 313.15), rel=0.02)
    assert high / low == pytest.approx(exp(0.81), rel=0.02)
