"""Labels as they stand on bottles, and ten that cannot be read."""

from __future__ import annotations

import pytest

from redoxlib.bottles import default_bottle, read_bottle, restrictions
from redoxlib.data import shipped
from redoxlib.errors import DomainError, MissingDataError, NotationError, RedoxlibError, UnitError
from redoxlib.quantity import Quantity, Unknown


@pytest.mark.parametrize(
    ("label", "form", "percent"),
    [
        ("hydrogen peroxide 30 % w/w", "solution", 30.0),
        ("30 % w/w hydrogen peroxide", "solution", 30.0),
        ("bleach 5 % w/w", "solution", 5.0),
        ("H2SO4 98 % w/w, undiluted", "solution", 98.0),
        ("sulfuric acid 2 mol/L", "solution", 17.5),
        ("2 M sulfuric acid", "solution", 17.5),
        ("potassium permanganate 99 %", "solid", 99.0),
        ("potassium permanganate 97 %", "solid", 97.0),
        ("copper(II) sulfate pentahydrate", "solid", 99.0),
        ("trichloroisocyanuric acid 90 % available chlorine", "solid", 98.3),
        ("nitric acid 68 % w/w", "solution", 68.0),
        ("sodium hydroxide 50 % w/w", "solution", 50.0),
        ("sodium hydroxide 98 % w/w", "solid", 98.0),
        ("glacial acetic acid", "liquid", 99.8),
        ("bromine", "liquid", 99.5),
        ("chlorine", "gas", 100.0),
        ("iron(III) chloride solution 40 % w/w", "solution", 40.0),
        ("hydrochloric acid, 37 % w/w", "solution", 37.0),
    ],
)
def test_form_and_mass_strength(label: str, form: str, percent: float) -> None:
    bottle = read_bottle(label)
    assert bottle.form == form
    assert isinstance(bottle.mass_fraction, Quantity)
    assert 100 * bottle.mass_fraction.value == pytest.approx(percent, abs=0.15)
    assert bottle.label == label


def test_clear_labels_carry_no_assumption() -> None:
    for label in ("hydrogen peroxide 30 % w/w", "bleach 12.5 % trade", "nitric acid 68 % w/w", "bromine"):
        assert read_bottle(label).assumptions == ()


@pytest.mark.parametrize("percent", [97, 99])
def test_an_assay_without_basis_is_an_assumption_for_a_solid(percent: int) -> None:
    (assumption,) = read_bottle(f"potassium permanganate {percent} %").assumptions
    assert assumption.read_as == f"{percent} % w/w"
    assert assumption.why == "per cent of a solid can only be by mass"


def test_oxygen_is_no_air() -> None:
    assert read_bottle("oxygen").moles_in("24.79 L") == pytest.approx(1.0, rel=0.01)
    assert read_bottle("oxygen as air").moles_in("24.79 L") == pytest.approx(0.2095, rel=0.01)


@pytest.mark.parametrize("label", ["copper scrap 98 %", "scrap copper 98 %", "copper wire 98 %"])
def test_words_for_the_form_are_no_part_of_the_name(label: str) -> None:
    bottle = read_bottle(label)
    assert bottle.form == "solid"
    assert str(bottle.solute) == "Cu"


@pytest.mark.parametrize(
    "label",
    ["copper scrap turnings", "solid copper turnings", "granular copper powder", "powder scrap copper"],
)
def test_two_words_for_the_form_are_read_and_do_not_hang(label: str) -> None:
    bottle = read_bottle(label)
    assert bottle.form == "solid"
    assert str(bottle.solute) == "Cu"


def test_a_solid_without_strength_is_the_usual_commercial_one_and_says_so() -> None:
    (assumption,) = read_bottle("copper(II) sulfate pentahydrate").assumptions
    assert assumption.read_as == "99 % w/w"
    assert "usual commercial" in assumption.why


def test_remarks_are_kept_and_undiluted_is_seen() -> None:
    bottle = read_bottle("sulfuric acid 98 % w/w, undiluted, technical")
    assert bottle.undiluted
    assert bottle.remarks == ("undiluted", "technical")
    assert not read_bottle("sulfuric acid 98 % w/w").undiluted


def test_a_density_on_the_label_takes_the_place_of_the_curve() -> None:
    bottle = read_bottle("sodium chlorite 31 % w/w, density 1.25 g/mL")
    assert bottle.density == Quantity(1.25, "g/mL")
    assert isinstance(bottle.molarity, Quantity)
    assert bottle.molarity.value == pytest.approx(1000 * 0.31 * 1.25 / 90.44, rel=1e-3)


def test_a_temperature_on_the_label_moves_the_density() -> None:
    cold, warm = (read_bottle(f"hydrogen peroxide 30 % w/w, {t} C").density for t in (20, 25))
    assert isinstance(cold, Quantity)
    assert isinstance(warm, Quantity)
    assert cold.value - warm.value == pytest.approx(0.0029, abs=0.0003)


def test_a_strength_beyond_the_curve_keeps_what_is_known() -> None:
    # 15 % trade is a real bottle, but its density is not tabulated: moles by volume stand, grams do not.
    bottle = read_bottle("bleach 15 % trade")
    assert isinstance(bottle.mass_fraction, Unknown)
    assert "solutions.csv" in bottle.mass_fraction.looked_in
    grams, ml = bottle.amount_for(1.0)
    assert isinstance(grams, Unknown)
    assert ml == pytest.approx(1000 * 70.906 / 150, rel=1e-4)
    with pytest.raises(MissingDataError):
        bottle.moles_in("10 g")


def test_a_weak_solid_strength_is_read_as_a_solution_and_says_so() -> None:
    bottle = read_bottle("sodium chlorite 25 % w/w")
    assert bottle.form == "solution"
    assert [a.other for a in bottle.assumptions] == ["a solid of that assay"]
    grams, ml = bottle.amount_for(1.0)
    assert grams == pytest.approx(361.8, abs=0.2)
    assert isinstance(ml, Unknown)


def test_grams_and_millilitres_bring_the_moles() -> None:
    bottle = read_bottle("hydrogen peroxide 30 % w/w")
    grams, ml = bottle.amount_for(2.0)
    assert grams == pytest.approx(226.8, abs=0.1)
    assert isinstance(ml, float)
    assert bottle.moles_in(Quantity(ml, "mL")) == pytest.approx(2.0)
    assert bottle.moles_in("0.2268 kg") == pytest.approx(2.0, rel=1e-3)
    assert bottle.moles_in("2 mol") == 2.0


def test_a_gas_by_volume_uses_25_celsius_and_one_bar() -> None:
    assert read_bottle("chlorine").moles_in("24.79 L") == pytest.approx(1.0, rel=1e-3)
    assert default_bottle("O2").moles_in("24.79 L") == pytest.approx(0.2095, rel=1e-3)
    assert read_bottle("chlorine").amount_for(1.0)[1] is None


def test_error_for_a_volume_of_a_solid() -> None:
    with pytest.raises(DomainError, match="is a solid"):
        read_bottle("potassium permanganate 99 %").moles_in("10 mL")


def test_an_aged_bottle_takes_its_assay() -> None:
    fresh = read_bottle("hydrogen peroxide 30 % w/w")
    aged = read_bottle("hydrogen peroxide 30 % w/w, assay 28.4 ± 0.2 % w/w")
    assert aged.molarity == fresh.with_assay("28.4 ± 0.2 % w/w").molarity
    assert isinstance(aged.molarity, Quantity)
    assert aged.molarity.uncertainty == pytest.approx(0.07, abs=0.01)
    assert any("assay" in a.read_as for a in aged.assumptions)


def test_aged_bleach_keeps_its_density() -> None:
    fresh = read_bottle("bleach 12.5 % trade")
    aged = fresh.with_assay(Quantity(100.0, "g/L Cl2", 2.0))
    assert aged.density == fresh.density
    assert isinstance(aged.molarity, Quantity)
    assert aged.molarity.value == pytest.approx(100 / 70.906, rel=1e-4)
    assert aged.molarity.uncertainty == pytest.approx(2 / 70.906, rel=1e-3)


def test_restricted_strengths_are_found() -> None:
    (row,) = restrictions(read_bottle("hydrogen peroxide 30 % w/w"))
    assert row.strength_w_w == 12
    assert "2019/1148" in row.instrument
    assert restrictions(read_bottle("hydrogen peroxide 6 % w/w")) == ()
    assert restrictions(read_bottle("potassium permanganate 99 %")) == ()


BAD = [
    (
        "",
        NotationError,
        "the label is empty\n  write a name and a strength: 'hydrogen peroxide 30 % w/w'",
    ),
    (
        "hydrogen peroxide 30 %",
        UnitError,
        "a percentage needs its basis\n"
        "  hydrogen peroxide 30 %\n"
        "                       ^\n"
        "  write the basis: '30 % w/w' (mass), '30 % w/v' (g per 100 mL)",
    ),
    (
        "bleach 5 %",
        UnitError,
        "a percentage needs its basis\n"
        "  bleach 5 %\n"
        "           ^\n"
        "  write the basis: '5 % w/w' (mass), '5 % w/v' (g per 100 mL), "
        "'5 % trade' or '5 % available chlorine'",
    ),
    (
        "hydrogen peroxide 0.3",
        UnitError,
        "a bare number has no unit\n"
        "  hydrogen peroxide 0.3\n"
        "                    ^^^\n"
        "  write a unit, for example '0.3 g', '0.3 mL' or '0.3 mol'; "
        "for a strength write a percentage with its basis, '30 % w/w'",
    ),
    (
        "hydrogen peroxide 130 % w/w",
        DomainError,
        "a strength cannot exceed 100 %\n"
        "  hydrogen peroxide 130 % w/w\n"
        "                    ^^^\n"
        "  check the number",
    ),
    (
        "sulfuric acid -5 % w/w",
        DomainError,
        "a strength must be above zero\n"
        "  sulfuric acid -5 % w/w\n"
        "                ^^\n"
        "  check the number and its sign",
    ),
    (
        "sulfuric acid",
        UnitError,
        "sulfuric acid comes as a solution and needs its strength\n"
        "  sulfuric acid\n"
        "  ^^^^^^^^^^^^^\n"
        "  write for example 'sulfuric acid 98 % w/w'",
    ),
    (
        "30 % w/w",
        NotationError,
        "the label names no substance\n"
        "  30 % w/w\n"
        "  ^^^^^^^^\n"
        "  write the name first: 'hydrogen peroxide 30 % w/w'",
    ),
    (
        "sulfuric acid 35 % trade",
        UnitError,
        "H2SO4 has no available chlorine, so % trade does not apply\n"
        "  sulfuric acid 35 % trade\n"
        "                ^^^^^^^^^^\n"
        "  write '% w/w', '% w/v' or 'mol/L'",
    ),
    (
        "sodium bromide 20 vol",
        UnitError,
        "volume strength is for hydrogen peroxide, not for NaBr\n"
        "  sodium bromide 20 vol\n"
        "                 ^^^^^^\n"
        "  write '% w/w', '% w/v' or 'mol/L'",
    ),
    (
        "hydrogen peroxide 900 % w/v",
        DomainError,
        "900 % w/v of H2O2 would be 9000 g in a litre, more than any solution holds\n"
        "  hydrogen peroxide 900 % w/v\n"
        "                    ^^^^^^^^^\n"
        "  check the number and its unit",
    ),
    (
        "bleach 12,5 % trade",
        UnitError,
        "a comma inside a number has two readings\n"
        "  bleach 12,5 % trade\n"
        "           ^\n"
        "  write a decimal point and no thousands mark",
    ),
]


@pytest.mark.parametrize(("label", "kind", "message"), BAD, ids=[label or "empty" for label, _, _ in BAD])
def test_error_names_the_fault_and_the_remedy(label: str, kind: type[RedoxlibError], message: str) -> None:
    with pytest.raises(kind) as caught:
        read_bottle(label)
    assert str(caught.value) == message


def test_error_for_an_unknown_substance_underlines_its_name() -> None:
    with pytest.raises(NotationError) as caught:
        read_bottle("unobtainium 5 % w/w")
    assert caught.value.source == "unobtainium 5 % w/w"
    assert caught.value.span == (0, 11)


def test_error_for_a_label_without_end() -> None:
    with pytest.raises(NotationError, match="at most 300 characters"):
        read_bottle("x" * 5000)


def test_error_where_the_tables_hold_no_bottle() -> None:
    with pytest.raises(MissingDataError) as caught:
        default_bottle("NaAuCl4")
    assert caught.value.looked_in == ("bottles.csv",)


def test_every_key_of_the_table_is_read_or_asks_for_the_strength() -> None:
    """A key is printed by plans and by the tables, so it must never be taken for a strange formula."""
    for key, rows in shipped().bottles.items():
        facts = {row.fact: row.value for row in rows}
        dissolved = "density" in facts and facts["mass_fraction"] < 0.97
        if dissolved and key in {rows[0].solute, "NaOCl"}:  # a formula says no strength
            with pytest.raises(UnitError, match="needs its strength"):
                read_bottle(key)
            continue
        bottle = read_bottle(key)
        assert bottle.solute == default_bottle(key).solute, key
        if "_" in key:
            assert isinstance(bottle.mass_fraction, Quantity)
            assert bottle.mass_fraction.value == facts["mass_fraction"], key


@pytest.mark.parametrize(
    ("label", "solute", "percent"),
    [
        ("sodium hypochlorite 12.5 % w/w NaOCl", "NaClO", 12.5),
        ("iron(III) sulfate solution 42 % w/w Fe2(SO4)3", "Fe2(SO4)3", 42.0),
        ("KHSO5 42 % w/w", "K5H3S4O18", 84.84),
        ("potassium peroxymonosulfate 42 %", "K5H3S4O18", 84.84),
        ("KHSO5 5 % w/w", "KHSO5", 5.0),
        ("KHSO5 42 % w/w, solution", "KHSO5", 42.0),
    ],
)
def test_the_substance_named_twice_and_the_salt_it_is_sold_in(
    label: str, solute: str, percent: float
) -> None:
    bottle = read_bottle(label)
    assert str(bottle.solute) == solute
    assert isinstance(bottle.mass_fraction, Quantity)
    assert 100 * bottle.mass_fraction.value == pytest.approx(percent, abs=0.02)


def test_grams_per_mol_of_peroxymonosulfate_are_those_of_the_declared_strength() -> None:
    assert read_bottle("KHSO5 42 % w/w").grams_per_active_mol == pytest.approx(152.161 / 0.42, rel=1e-3)


def test_more_peroxymonosulfate_than_its_salt_holds_is_refused() -> None:
    with pytest.raises(DomainError, match=r"49\.5 %"):
        read_bottle("KHSO5 88 % w/w")


@pytest.mark.parametrize(
    "label", ["NaOH 5 N", "0.1 N sodium thiosulfate", "H2SO4 6N", "NaOH 5 normal", "HCl 2 eq/L"]
)
def test_normality_is_refused_and_never_taken_for_a_formula(label: str) -> None:
    with pytest.raises(UnitError, match="normality belongs to a reaction") as caught:
        read_bottle(label)
    start, end = caught.value.span or (0, 0)
    assert label[start:end].strip()[0].isdigit()


@pytest.mark.parametrize("label", ["NaCl 20 C", "NaOH 5 B", "KBr 2 K"])
def test_a_stray_number_is_not_taken_into_the_formula(label: str) -> None:
    with pytest.raises(UnitError, match="a number without a unit of strength"):
        read_bottle(label)


@pytest.mark.parametrize("label", ["Na 2 S 2 O 3", "CuSO4 · 5 H2O", "FeSO4 7H2O"])
def test_a_formula_with_spaces_is_read_where_the_tables_know_it(label: str) -> None:
    assert read_bottle(label).form == "solid"


@pytest.mark.parametrize(
    ("label", "plain"),
    [
        ("hydrogen peroxide (30 % w/w)", "hydrogen peroxide 30 % w/w"),
        ("sodium hypochlorite solution (12.5 % trade)", "sodium hypochlorite solution 12.5 % trade"),
        ("NaBr (99 %)", "NaBr 99 %"),
    ],
)
def test_a_strength_in_brackets_is_a_strength(label: str, plain: str) -> None:
    bracketed, open_ = read_bottle(label), read_bottle(plain)
    assert (bracketed.solute, bracketed.mass_fraction, bracketed.form) == (
        open_.solute,
        open_.mass_fraction,
        open_.form,
    )


def test_weak_available_chlorine_is_a_solution_even_beyond_the_curve() -> None:
    bottle = read_bottle("bleach 12.5 % w/w available chlorine")
    assert bottle.form == "solution"
    assert isinstance(bottle.density, Unknown)


def test_error_of_a_trade_name_offers_the_name_it_ends_in() -> None:
    with pytest.raises(NotationError, match="no substance called 'pool bleach'") as caught:
        read_bottle("pool bleach 12.5 %")
    assert caught.value.hint == "did you mean 'bleach'?"
    with pytest.raises(NotationError) as caught:
        read_bottle("pool wonder 12.5 % w/w")
    assert "did you mean 'wonder'" not in (caught.value.hint or "")
