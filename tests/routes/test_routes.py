"""A route: equations in the real medium, bottles, what limits, the largest yield."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.data import shipped
from redoxlib.errors import JobError
from redoxlib.job import Job
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import ANODE, BASIC_FROM, NoRoute, Route, bare, build_route, salt
from redoxlib.scoring import measure

TABLES = shipped()
CONVERSIONS = {
    "Br^- -> Br2": 0.0,
    "I^- -> I2": 0.0,
    "Cu -> Cu^2+": 0.0,
    "Fe^2+ -> Fe^3+": 0.0,
    "Mn^2+ -> MnO2": 7.0,
    "HS^- -> S": 11.0,
    "HS^- -> SO4^2-": 11.0,
    "CN^- -> OCN^-": 11.0,
    "SO3^2- -> SO4^2-": 8.5,
    "propan-2-ol -> acetone": 4.0,
}


def route(text: str, key: str, **fields: object) -> Route:
    built = build_route(Job(text, **fields), TABLES.oxidants[key])  # type: ignore[arg-type]
    assert isinstance(built, Route), built
    return built


def none(text: str, key: str, **fields: object) -> NoRoute:
    built = build_route(Job(text, **fields), TABLES.oxidants[key])  # type: ignore[arg-type]
    assert isinstance(built, NoRoute), built
    return built


@pytest.mark.parametrize("text", CONVERSIONS)
@pytest.mark.parametrize("key", TABLES.oxidants)
def test_every_equation_of_every_route_balances(text: str, key: str) -> None:
    built = build_route(Job(text, medium=CONVERSIONS[text]), TABLES.oxidants[key])
    if isinstance(built, NoRoute):
        assert built.reason
        return
    for part in built.parts:
        for equation in (*part.half_reactions, part.net_ionic, part.full):
            assert equation.residual() == {}, str(equation)
        assert not any(s.charge for _, s in (*part.full.reactants, *part.full.products)), str(part.full)


@pytest.mark.parametrize(
    ("text", "key", "full"),
    [
        ("Br^- -> Br2", "H2O2", "2 NaBr + H2O2 + H2SO4 -> Br2 + Na2SO4 + 2 H2O"),
        (
            "Br^- -> Br2",
            "KMnO4",
            "10 NaBr + 2 KMnO4 + 8 H2SO4 -> 5 Br2 + 2 MnSO4 + K2SO4 + 5 Na2SO4 + 8 H2O",
        ),
        (
            "Br^- -> Br2",
            "K2Cr2O7",
            "6 NaBr + K2Cr2O7 + 7 H2SO4 -> 3 Br2 + Cr2(SO4)3 + K2SO4 + 3 Na2SO4 + 7 H2O",
        ),
        ("Br^- -> Br2", "KBrO3", "10 NaBr + 2 KBrO3 + 6 H2SO4 -> 6 Br2 + K2SO4 + 5 Na2SO4 + 6 H2O"),
        ("Br^- -> Br2", "NaOCl", "2 NaBr + NaClO + H2SO4 -> Br2 + NaCl + Na2SO4 + H2O"),
        ("Br^- -> Br2", "MnO2", "2 NaBr + MnO2 + 2 H2SO4 -> Br2 + MnSO4 + Na2SO4 + 2 H2O"),
        ("Cu -> CuSO4", "H2O2", "Cu + H2O2 + H2SO4 -> CuSO4 + 2 H2O"),
        ("Cu -> CuSO4", "HNO3", "3 Cu + 2 HNO3 + 3 H2SO4 -> 3 CuSO4 + 2 NO + 4 H2O"),
        ("Fe^2+ -> Fe^3+", "H2O2", "2 FeSO4 + H2O2 + H2SO4 -> Fe2(SO4)3 + 2 H2O"),
        (
            "Fe^2+ -> Fe^3+",
            "KMnO4",
            "10 FeSO4 + 2 KMnO4 + 8 H2SO4 -> 5 Fe2(SO4)3 + 2 MnSO4 + K2SO4 + 8 H2O",
        ),
        ("CN^- -> OCN^-", "NaOCl", "NaCN + NaClO -> NaOCN + NaCl"),
        ("S^2- -> S", "H2O2", "Na2S + H2O2 -> S + 2 NaOH"),
    ],
)
def test_full_equations_are_the_textbook_ones(text: str, key: str, full: str) -> None:
    assert route(text, key).full == Equation.parse(full)


def test_bromate_counts_as_a_source_of_bromine() -> None:
    built = route("Br^- -> Br2", "KBrO3")
    assert built.net_ionic == Equation.parse("5 Br^-(aq) + BrO3^-(aq) + 6 H^+(aq) -> 3 Br2(l) + 3 H2O(l)")
    assert built.product.mol == pytest.approx(0.6)


def test_iron_in_neutral_water_ends_as_hydroxide_and_says_so() -> None:
    built = route("Fe^2+ -> Fe^3+", "KMnO4", medium=7)
    assert built.product.species == Species.parse("Fe(OH)3(s)")
    assert any("Fe(OH)3" in note for note in built.notes)


def test_two_conversions_share_one_oxidant() -> None:
    pair = [("Fe^2+ -> Fe(OH)3", "3.1 mg/L"), ("Mn^2+ -> MnO2", "0.42 mg/L")]
    both = route(pair, "KMnO4", purpose="remove", excess=0)  # type: ignore[arg-type]
    alone = [
        route([one], "KMnO4", purpose="remove", excess=0).charge("oxidant")  # type: ignore[arg-type]
        for one in pair
    ]
    together = both.charge("oxidant")
    assert together is not None
    assert together.mol == pytest.approx(sum(c.mol for c in alone if c is not None))
    assert len(both.parts) == 2


@pytest.mark.parametrize(
    ("text", "key", "fields", "verdict", "says"),
    [
        ("Br^- -> Br2", "Fe3+", {}, "infeasible", "-0.3"),
        ("Br^- -> Br2", "I2", {}, "infeasible", "other way"),
        ("I^- -> I2", "I2", {}, "infeasible", "itself the couple"),
        ("Br^- -> Br2", "Ce4+", {"medium": 7}, "infeasible", "tabulated at pH 7"),
        ("Cu -> CuSO4", "Cl2", {}, "infeasible", "CuCl2"),
        ("Cu -> CuSO4", "anode", {}, "infeasible", "plates out"),
    ],
)
def test_what_gives_no_route_says_why(
    text: str, key: str, fields: dict[str, object], verdict: str, says: str
) -> None:
    found = none(text, key, **fields)
    assert found.verdict == verdict
    assert says in found.reason


def test_the_feed_must_contain_what_is_oxidised() -> None:
    with pytest.raises(JobError, match="does not contain"):
        build_route(Job("Br^- -> Br2", feed="sodium chloride"), TABLES.oxidants["H2O2"])


def test_the_charge_sheet_of_peroxide_on_bromide() -> None:
    built = route("Br^- -> Br2", "H2O2", amount="1 mol", excess=0.1)
    feed, oxidant, acid = (built.charge(role) for role in ("feed", "oxidant", "acid"))
    assert feed is not None
    assert oxidant is not None
    assert acid is not None
    assert feed.grams == pytest.approx(102.9, abs=0.1)
    assert oxidant.needed_mol == pytest.approx(0.5)
    assert oxidant.mol == pytest.approx(0.55)
    # 0.55 mol x 34.01 g/mol / 0.30
    assert oxidant.grams == pytest.approx(62.4, abs=0.3)
    assert acid.needed_mol == pytest.approx(0.5)
    assert built.product.grams == pytest.approx(79.9, abs=0.1)
    assert isinstance(built.product.ml, float)
    assert 25 < built.product.ml < 26.5


def test_a_short_bottle_limits_the_whole_batch() -> None:
    full = route("Br^- -> Br2", "H2O2", amount="1 mol")
    short = route("Br^- -> Br2", "H2O2", amount="1 mol", bottles=["25 mL of hydrogen peroxide 30 % w/w"])
    assert full.limiting == "feed"
    assert short.limiting == "oxidant"
    oxidant = short.charge("oxidant")
    assert oxidant is not None
    assert short.product.mol == pytest.approx(oxidant.mol)
    assert short.product.mol < full.product.mol


def test_the_acid_is_a_reagent_that_can_limit() -> None:
    built = route("Br^- -> Br2", "H2O2", amount="1 mol", bottles=["20 mL of sulfuric acid 50 % w/w"])
    assert built.limiting == "acid"


def test_an_anode_states_charge_energy_and_hydrogen() -> None:
    built = route("I^- -> I2", ANODE, amount="1 mol")
    power = built.electricity
    assert power is not None
    assert power.ampere_hours == pytest.approx(26.80, abs=0.01)  # one faraday per mole of iodide
    assert power.hydrogen_litres == pytest.approx(12.39, abs=0.01)
    assert power.kwh == pytest.approx(power.ampere_hours * power.volts.value / 1000)


def test_gas_is_counted_in_litres_at_25_c_and_1_bar() -> None:
    built = route("Cu -> CuSO4", "HNO3", amount="1 mol")
    gas = {str(g.species): g.litres for g in built.gases}
    assert gas["NO"] == pytest.approx(2 / 3 * 24.79, abs=0.02)


class TestScaling:
    """Twice the feed is twice everything on the sheet; energies per mol stay."""

    @given(st.sampled_from(["H2O2", "KMnO4", "NaOCl", "KBrO3", "MnO2"]), st.integers(2, 50))
    def test_scaling(self, key: str, factor: int) -> None:
        one = route("Br^- -> Br2", key, amount="0.1 mol")
        many = route("Br^- -> Br2", key, amount=Quantity(0.1 * factor, "mol"))
        assert many.product.grams == pytest.approx(factor * one.product.grams)
        assert many.pot_grams == pytest.approx(factor * one.pot_grams)
        for a, b in zip(one.charges, many.charges, strict=True):
            assert b.grams == pytest.approx(factor * a.grams)
        if isinstance(one.dH, Quantity) and isinstance(many.dH, Quantity):
            assert many.dH.value == pytest.approx(one.dH.value)


class TestMassIsKept:
    """What the full equation takes in by mass it gives out."""

    @given(st.sampled_from(sorted(TABLES.oxidants)), st.sampled_from(sorted(CONVERSIONS)))
    def test_mass(self, key: str, text: str) -> None:
        built = build_route(Job(text, medium=CONVERSIONS[text]), TABLES.oxidants[key])
        if isinstance(built, NoRoute):
            return
        full = built.full
        left = sum(float(n) * s.molar_mass for n, s in full.reactants)
        right = sum(float(n) * s.molar_mass for n, s in full.products)
        assert left == pytest.approx(right, rel=1e-9)


@pytest.mark.parametrize("ph", [0.0, 5.0, BASIC_FROM, 12.0])
def test_equations_use_protons_in_acid_and_hydroxide_in_base(ph: float) -> None:
    built = build_route(Job("SO3^2- -> SO4^2-", medium=ph), TABLES.oxidants["H2O2"])
    assert isinstance(built, Route)
    ions = {bare(s) for _, s in (*built.net_ionic.reactants, *built.net_ionic.products)}
    assert (Species.parse("OH^-") if ph < BASIC_FROM else Species.parse("H^+")) not in ions


def test_energies_that_the_tables_lack_are_unknown_not_zero() -> None:
    built = route("Br^- -> Br2", "peracetic")
    assert isinstance(built.dH, Unknown)
    assert "CH3CO" in built.dH.what


@pytest.mark.parametrize(
    ("cation", "anion", "compound"),
    [
        ("Na^+", "SO4^2-", "Na2SO4"),
        ("Fe^3+", "SO4^2-", "Fe2(SO4)3"),
        ("Ca^2+", "ClO^-", "Ca(ClO)2"),
        ("H^+", "SO4^2-", "H2SO4"),
        ("NH4^+", "SO4^2-", "(NH4)2SO4"),
        ("Na^+", "OH^-", "NaOH"),
        ("H^+", "CH3COO^-", "CH3COOH"),
    ],
)
def test_ions_pair_into_salts(cation: str, anion: str, compound: str) -> None:
    assert salt(Species.parse(cation), Species.parse(anion)) == Species.parse(compound)


def test_coefficients_are_exact() -> None:
    for n, _ in route("Br^- -> Br2", "KMnO4").full.reactants:
        assert isinstance(n, (int, Fraction))


def test_a_spectator_that_looks_like_the_target_is_no_product() -> None:
    # one sulfate comes of the sulfide, eight more from persulfate
    built = route("HS^- -> SO4^2-", "Na2S2O8", medium=11)
    assert built.product.mol == pytest.approx(1.0)
    measured = measure(built).mass_efficiency
    assert measured is not None
    assert measured.atom_economy == pytest.approx(0.10, abs=0.02)


@pytest.mark.parametrize("key", sorted(TABLES.oxidants))
@pytest.mark.parametrize("text", sorted(CONVERSIONS))
def test_no_route_gives_more_product_than_it_takes_in(text: str, key: str) -> None:
    built = build_route(Job(text, medium=CONVERSIONS[text], excess=0), TABLES.oxidants[key])
    if isinstance(built, Route):
        measured = measure(built).mass_efficiency
        assert measured is not None
        assert 0 < measured.atom_economy <= 1 + 1e-9


@pytest.mark.parametrize(
    ("text", "key", "medium"), [("Fe^2+ -> Fe(OH)3", "Fe3+", 7.5), ("Mn^2+ -> MnO2", "MnO2", 8.5)]
)
def test_a_couple_does_not_oxidise_itself(text: str, key: str, medium: float) -> None:
    assert "itself the couple" in none(text, key, medium=medium, purpose="remove").reason


def test_bleach_on_an_alcohol_in_acetic_acid_gets_its_acid() -> None:
    built = route("propan-2-ol -> acetone", "NaOCl", medium=4, acid="acetic acid, glacial")
    acid, oxidant = built.charge("acid"), built.charge("oxidant")
    assert acid is not None
    assert oxidant is not None
    assert acid.needed_mol == pytest.approx(oxidant.needed_mol)


@pytest.mark.parametrize("litres", [1.0, 250.0, 1000.0])
def test_a_volume_of_water_to_be_treated_is_the_water_in_the_pot(litres: float) -> None:
    job = Job("Fe^2+ -> Fe(OH)3", purpose="remove", medium=7, concentration="2 mg/L", amount=f"{litres:g} L")
    built = build_route(job, shipped().oxidants["H2O2"])
    assert isinstance(built, Route)
    assert built.water_grams == pytest.approx(1000 * litres)
    assert built.parts[0].feed_mol == pytest.approx(0.002 * litres / 55.845, rel=1e-4)


def test_without_an_amount_a_cubic_metre_is_treated() -> None:
    built = build_route(
        Job("Fe^2+ -> Fe(OH)3", purpose="remove", medium=7, concentration="2 mg/L"),
        shipped().oxidants["H2O2"],
    )
    assert isinstance(built, Route)
    assert built.parts[0].feed_mol == pytest.approx(2 / 55.845, rel=1e-4)


@pytest.mark.parametrize(("ph", "proton"), [(6.99, "H^+"), (7.0, "OH^-"), (11.65, "OH^-")])
def test_a_reaction_of_an_oxidant_holds_up_to_its_boundary_and_not_on_it(ph: float, proton: str) -> None:
    built = build_route(Job("Mn^2+ -> MnO2", purpose="remove", medium=ph), shipped().oxidants["H2O2"])
    assert isinstance(built, Route)
    half = built.parts[0].half_reactions[1]
    assert proton in str(half)
    active = "HO2^-" if ph >= 11.65 else "H2O2"
    assert active in str(half)


def test_a_product_carried_by_its_acid_has_the_mass_of_that_acid() -> None:
    route = build_route(Job.of("Cr^3+ -> CrO4^2-", medium=0), shipped().oxidants["Na2S2O8"])
    assert isinstance(route, Route)
    assert str(route.product.compound) == "H2CrO4"
    assert route.product.grams == pytest.approx(Species.parse("H2CrO4").molar_mass * route.product.mol)


class TestWaterTreated:
    """A removal job treats the litres that its amount and its concentration say: V = n / c."""

    @pytest.mark.parametrize(
        ("fields", "litres"),
        [
            ({"amount": "0.1 mol", "concentration": "1 mmol/L"}, 100.0),
            ({"amount": "5 g", "concentration": "0.5 mg/L"}, 10_000.0),
            ({"amount": "2 m3", "concentration": "0.5 mg/L"}, 2000.0),
            ({"amount": "5 g", "concentration": "0.5 mg/L", "pot_mass": "3 kg"}, 3.0),
            ({"concentration": "0.5 mg/L"}, 1000.0),
        ],
    )
    def test_volume(self, fields: dict[str, Any], litres: float) -> None:
        job = Job("Mn^2+ -> MnO2", purpose="remove", medium=8, **fields)
        route = build_route(job, shipped().oxidants["KMnO4"])
        assert isinstance(route, Route)
        assert route.water_grams == pytest.approx(1000 * litres)
