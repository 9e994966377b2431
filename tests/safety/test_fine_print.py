"""Small things that the gate must get right: one substance or one fact, and what follows from it."""

from __future__ import annotations

import pytest

from redoxlib.data import shipped
from redoxlib.notation import Species
from redoxlib.safety import Situation, review_goal, review_situation
from redoxlib.safety._composition import _atoms, _classify, _organic, kinds_of
from redoxlib.safety._hits import REGISTER, entered
from redoxlib.safety._kinds import FEEDS, OXIDANTS, Kind
from redoxlib.safety._pot import Pot

from ._cases import BROMIDE, WELL, Fields, case

K = Kind


def spoken(fields: Fields) -> set[tuple[str, str]]:
    verdict = review_situation(Situation.of(**fields))
    return {(reason.rule, str(reason.severity)) for reason in verdict.reasons}


class TestWhatASpeciesIs:
    @pytest.mark.parametrize("text", ["CCl4", "C2Cl4", "CF4"])
    def test_a_halocarbon_without_hydrogen_is_organic_matter(self, text: str) -> None:
        assert {K.ORGANIC, K.UNLISTED_ORGANIC} <= kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["B", "Se", "Te"])
    def test_an_element_that_is_no_metal_and_not_listed_is_not_known(self, text: str) -> None:
        assert kinds_of(Species.parse(text)) == {K.UNKNOWN}

    @pytest.mark.parametrize("text", ["NCl3", "NI3", "NBr3", "NF3", "NCl2F"])
    def test_nitrogen_with_halogen_alone_is_energetic(self, text: str) -> None:
        assert K.ENERGETIC in kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["CH3CN", "C5H5N", "cyanuric acid"])
    def test_a_nitrile_pyridine_or_cyanuric_acid_gives_no_chloramine(self, text: str) -> None:
        assert not {K.AMINE, K.ENERGETIC, K.AMMONIUM} & kinds_of(Species.parse(text))

    @pytest.mark.parametrize(
        ("atoms", "name", "kinds", "others"),
        [
            ("C14H10O4", "benzoyl peroxide", {K.PERACID}, {K.ALCOHOL}),
            ("C4H10O2", "tert-butyl peroxyethane", {K.PERACID}, set()),
            ("C3H6O3", "perpropionic acid", {K.PERACID, K.CARBOXYLIC, K.WEAK_ACID}, set()),
            ("C3H6O3", "propionic peracid", {K.PERACID}, set()),
            ("C3H6O3", "lactic acid", {K.CARBOXYLIC}, {K.PERACID}),
            ("C2H5NO2", "nitroethane", {K.ENERGETIC}, {K.AMINE}),
            ("C5H11NO3", "pentyl nitrate", {K.ENERGETIC}, {K.AMINE}),
            ("C2H5NO2", "glycine", {K.AMINE}, {K.ENERGETIC}),
            ("C5H12O", "pentan-2-ol", {K.SECONDARY_ALCOHOL, K.HALOFORM}, {K.PERACID}),
            ("C5H12O", "pentan-3-ol", {K.SECONDARY_ALCOHOL}, {K.HALOFORM}),
            ("C5H12O", "pentan-1-ol", {K.ALCOHOL}, {K.SECONDARY_ALCOHOL, K.HALOFORM}),
        ],
    )
    def test_a_name_that_no_table_has_yet_is_read_by_its_ending(
        self, atoms: str, name: str, kinds: set[Kind], others: set[Kind]
    ) -> None:
        found = _organic(_atoms(atoms), name)
        assert kinds | {K.ORGANIC, K.UNLISTED_ORGANIC} <= found
        assert not others & found

    @pytest.mark.parametrize("text", ["F2", "ClF3", "BrF5", "IF7", "OF2"])
    def test_a_halogen_fluoride_is_as_bad_as_fluorine(self, text: str) -> None:
        assert K.FLUORINE in kinds_of(Species.parse(text))
        assert ("G61", "stop") in spoken(case(feed="KI", oxidant=text, ph=7))

    def test_an_interhalogen_that_is_not_listed_is_not_known(self) -> None:
        assert kinds_of(Species.parse("I2Cl6")) == {K.UNKNOWN}
        assert K.IODINE in kinds_of(Species.parse("ICl3"))

    @pytest.mark.parametrize("text", ["Na^-", "Au^-", "Pb9^4-"])
    def test_a_metal_with_a_negative_charge_is_not_known(self, text: str) -> None:
        assert kinds_of(Species.parse(text)) == {K.UNKNOWN}

    @pytest.mark.parametrize("text", ["C7H5N3O6", "C6H3N3O7", "C3H6N6O6", "C3H5N3O9", "C5H8N4O12"])
    def test_three_nitrogens_with_an_oxygen_each_are_an_explosive(self, text: str) -> None:
        # trinitrotoluene, picric acid, hexogen, glycerol trinitrate and pentaerythritol tetranitrate
        assert K.ENERGETIC in kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["C2H5NO", "C3H7NO", "C2H5NO2", "C4H7N3O", "C8H10N4O2"])
    def test_an_amide_or_an_amino_acid_is_an_amine_and_no_explosive(self, text: str) -> None:
        # acetamide, dimethylformamide, glycine, creatinine and caffeine
        kinds = kinds_of(Species.parse(text))
        assert K.AMINE in kinds
        assert K.ENERGETIC not in kinds

    @pytest.mark.parametrize("text", ["NH4ClO4", "NH4ClO3", "NH4BrO3", "N2H5ClO4"])
    def test_ammonium_or_hydrazinium_with_a_halate_is_energetic(self, text: str) -> None:
        assert K.ENERGETIC in kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["fulminic acid", "fulminate ion", "AgCNO", "Hg(CNO)2"])
    def test_a_fulminate_is_a_fulminate_and_energetic(self, text: str) -> None:
        assert {K.FULMINATE, K.ENERGETIC} <= kinds_of(Species.parse(text))
        assert review_goal(Species.parse(text)).stopped

    @pytest.mark.parametrize(
        "text",
        [
            "C3H7NO2", "C3H7NO3", "C4H8N2O3", "C6H9N3O2", "C6H14N4O2", "C5H11NO2S", "C2H7NO", "C4H11NO3",
            "C4H9NO", "C6H11NO", "C6H12N4", "C10H16N2O8", "C4H9N3O2", "CH5N3", "CH6N3Cl", "C2H6NO2Cl",
        ],
    )  # fmt: skip
    def test_an_amine_or_amino_acid_is_no_ammonium_salt(self, text: str) -> None:
        # alanine, serine, asparagine, histidine, arginine, methionine, ethanolamine, tris, morpholine,
        # caprolactam, hexamine, EDTA, creatine, guanidine and the hydrochlorides of guanidine and glycine
        assert kinds_of(Species.of(dict(Species.parse(text).elements))) == {
            K.AMINE,
            K.ORGANIC,
            K.UNLISTED_ORGANIC,
        }

    @pytest.mark.parametrize(
        ("text", "kinds"),
        [
            ("NH4CH3COO", {K.AMMONIUM}),
            ("NH4HCO3", {K.AMMONIUM, K.CARBONATE}),
            ("(NH4)2CO3", {K.AMMONIUM, K.CARBONATE}),
            ("(NH4)2C2O4", {K.AMMONIUM, K.OXALATE}),
            ("NH4HC2O4", {K.AMMONIUM, K.OXALATE}),
            ("NH4CN", {K.AMMONIUM, K.CYANIDE}),
            ("NH4C7H5O2", {K.AMMONIUM, K.ORGANIC}),
            ("N2H5CH3COO", {K.HYDRAZINE}),
            ("CaC2", {K.ACETYLIDE}),
            ("Ag2C2", {K.ACETYLIDE, K.ENERGETIC}),
        ],
    )
    def test_an_ammonium_salt_of_one_organic_acid_is_one(self, text: str, kinds: set[Kind]) -> None:
        assert kinds <= kinds_of(Species.parse(text))

    @pytest.mark.parametrize(
        "text",
        [
            "CH6NClO4",
            "C2H8NClO4",
            "C4H12NClO4",
            "C6H8NClO4",
            "C5H6NClO4",
            "CH6N3ClO4",
            "C2H8NClO3",
            "CH6NBrO3",
        ],
    )
    def test_a_chlorate_or_perchlorate_of_an_amine_is_energetic(self, text: str) -> None:
        # methyl-, ethyl-, tetramethylammonium, anilinium, pyridinium and guanidinium
        assert K.ENERGETIC in kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["CH6N4O3", "CH5N3O4", "C2H10N4O6", "C6H14N6O6"])
    def test_a_nitrate_of_an_amine_with_three_nitrogens_is_energetic(self, text: str) -> None:
        # guanidinium, uronium, ethylenediammonium and hexamine
        assert K.ENERGETIC in kinds_of(Species.parse(text))

    @pytest.mark.parametrize("text", ["CH6N2", "C2H8N2"])
    def test_the_methylhydrazines_are_hydrazine(self, text: str) -> None:
        assert K.HYDRAZINE in kinds_of(Species.parse(text))

    @pytest.mark.parametrize(
        ("name", "kinds", "others"),
        [
            ("hydroquinone", {K.ALCOHOL}, {K.KETONE, K.HALOFORM}),
            ("mesityl oxide", {K.KETONE, K.HALOFORM, K.FLAMMABLE}, {K.ALCOHOL}),
            ("ethanethiol", {K.ORGANIC, K.FLAMMABLE}, {K.ALCOHOL}),
            ("ammonium cyanate", {K.AMMONIUM, K.CYANATE}, {K.AMINE, K.CYANIDE}),
            ("urea", {K.AMINE}, {K.AMMONIUM, K.CYANATE}),
            ("2-methylpropan-2-ol", {K.ALCOHOL, K.FLAMMABLE}, {K.SECONDARY_ALCOHOL, K.HALOFORM}),
            ("pentan-1-ol", {K.ALCOHOL, K.FLAMMABLE}, {K.SECONDARY_ALCOHOL, K.HALOFORM, K.KETONE}),
            ("pentan-3-one", {K.KETONE, K.FLAMMABLE}, {K.HALOFORM, K.ALDEHYDE}),
            ("glyceraldehyde", {K.ALDEHYDE, K.FLAMMABLE}, {K.KETONE, K.ALCOHOL}),
            ("propanoic acid", {K.CARBOXYLIC, K.WEAK_ACID, K.ORGANIC}, {K.STRONG_ACID, K.PERACID}),
            ("CH3COOO^-", {K.PERACID}, {K.CARBOXYLIC}),
            ("N2H5^+", {K.HYDRAZINE}, {K.AMMONIUM}),
            ("SO2(g)", {K.TOXIC_GAS, K.SULFITE}, set()),
            ("SO2(aq)", {K.SULFITE}, {K.TOXIC_GAS}),
            ("ClN3", {K.ENERGETIC}, {K.UNKNOWN}),
            ("NBr3", {K.ENERGETIC, K.BROMINE}, {K.CHLORAMINE}),
            ("NCl3", {K.ENERGETIC, K.CHLORAMINE}, {K.BROMINE}),
            ("e^-", {K.INERT}, {K.UNKNOWN}),
        ],
    )
    def test_a_name_says_what_it_is(self, name: str, kinds: set[Kind], others: set[Kind]) -> None:
        found = kinds_of(Species.parse(name))
        assert kinds <= found
        assert not others & found

    @pytest.mark.parametrize("text", ["CuS", "Cu2S", "Ag2S", "HgS"])
    def test_a_sulfide_that_acid_leaves_alone_is_not_known(self, text: str) -> None:
        kinds = kinds_of(Species.parse(text))
        assert K.UNKNOWN in kinds
        assert K.SULFIDE not in kinds
        assert {K.SULFIDE} <= kinds_of(Species.parse("CuFeS2")) - {K.UNKNOWN}

    @pytest.mark.parametrize(
        "solvent", ["ethyl acetate", "methyl formate", "diethyl ether", "1,4-dioxane", "thf", "toluene"]
    )
    def test_oxygen_through_a_solvent_that_burns_is_told(self, solvent: str) -> None:
        assert ("G27", "caution") in spoken(case(feed="KI", oxidant="O2", species=solvent, ph=7))

    @pytest.mark.parametrize(
        ("text", "kinds"),
        [
            ("[Mg(H2O)6]^2+", {K.INERT}),
            ("[Na(H2O)4]^+", {K.INERT}),
            ("[Ca(NH3)6]^2+", {K.INERT, K.AMMONIA}),
            ("[Zn(NH3)4]^2+", {K.INERT, K.AMMONIA}),
        ],
    )
    def test_a_cation_with_its_water_or_ammonia_is_known(self, text: str, kinds: set[Kind]) -> None:
        found = kinds_of(Species.parse(text))
        assert kinds <= found
        assert not found & {K.UNKNOWN, K.PEROXIDE, K.BASE, K.AMMONIUM}

    def test_silver_cyanate_by_its_name_is_no_fulminate(self) -> None:
        assert K.FULMINATE in _classify(_atoms("AgCNO"), 0, None)
        assert K.FULMINATE not in _classify(_atoms("AgCNO"), 0, "cyanate")

    def test_a_metal_and_ammonium_alone_are_no_cation(self) -> None:
        assert kinds_of(Species.parse("CuNH4^3+")) == {K.UNKNOWN}
        assert {K.AMMONIA, K.COPPER2} <= kinds_of(Species.parse("[Cu(NH3)4]^2+"))


def test_the_strength_of_the_acid_stands_for_nitric_acid_of_which_nobody_told_it() -> None:
    pot = case(feed="FeSO4", species="CH3COOH", oxidant="HNO3", ph=0)
    assert ("G06", "stop") in spoken(pot)
    assert ("G06", "stop") not in spoken(case(pot, acid="HNO3", acid_strength_w_w=0.10))
    assert ("G06", "stop") in spoken(
        case(pot, acid="HNO3", acid_strength_w_w=0.10, oxidant_strength_w_w=0.65)
    )


def test_a_solid_that_holds_peroxide_is_no_strong_solution_of_it() -> None:
    pot = case(BROMIDE, oxidant="(Na2CO3)2.3H2O2")
    assert ("G16", "caution") in spoken(pot)
    assert ("G16", "caution") not in spoken(case(pot, oxidant_form="solid"))
    assert ("G16", "stop") not in spoken(case(pot, oxidant_form="solid", oxidant_strength_w_w=0.9))


def test_chlorite_in_drinking_water_is_told_of_where_no_dose_is_declared() -> None:
    pot = case(WELL, oxidant="NaClO2", potable=True, concentration_mol_L=None)
    assert ("G19", "caution") in spoken(pot)
    assert ("G19", "stop") in spoken(case(pot, dose_mg_L=2))


@pytest.mark.parametrize("words", ["at 20 C", "AT 20 C", "Until\nit is pale", "until\nit is pale"])
def test_what_follows_the_name_of_a_quench_is_left_out(words: str) -> None:
    verdict = review_situation(
        Situation.of(**BROMIDE, oxidant="KIO3", context=f"quenched with sulfite {words}")
    )
    assert "U03" not in verdict.rules


# one substance for each kind of oxidant
OXIDISERS = (
    "H2O2", "KMnO4", "K2MnO4", "NaClO", "Cl2", "C3Cl3N3O3", "NH2Cl", "Br2", "I2", "Na2S2O8",
    "(KHSO5)2.KHSO4.K2SO4", "K2Cr2O7", "KBrO3", "KIO3", "NaIO4", "NaClO2", "KClO3", "KClO4", "ClO2", "O3",
    "O2", "HNO3", "MnO2", "PbO2", "Ce(SO4)2", "FeCl3", "K2FeO4", "CH3COOOH", "F2", "CuSO4",
)  # fmt: skip


@pytest.mark.parametrize("oxidant", OXIDISERS)
def test_no_oxidant_is_kept_in_a_closed_vessel(oxidant: str) -> None:
    pot = case(feed="KI", oxidant=oxidant, ph=4, vessel="closed")
    assert ("G20", "stop") in spoken(pot)
    assert ("G20", "stop") not in spoken(case(pot, vessel="open"))


def test_every_oxidant_of_the_tables_is_one_for_the_gate() -> None:
    named = {key: row.formula for key, row in shipped().oxidants.items() if row.formula}
    assert len(named) >= 30
    by_role = OXIDANTS | {K.SULFURIC, K.NITRITE}  # acid and nitrite oxidise only where they are meant to
    assert [key for key, text in named.items() if not kinds_of(Species.parse(text)) & by_role] == []


def test_chloride_gives_ammonium_no_chlorine_unless_an_anode_makes_it() -> None:
    pot = case(feed="KI", oxidant="KIO3", species="NH4Cl", ph=1)
    assert ("G08", "stop") not in spoken(pot)
    assert ("G08", "stop") in spoken(case(pot, oxidant=[], oxidant_key="anode"))
    assert ("G08", "stop") not in spoken(case(pot, oxidant=[], oxidant_key="anode", species="NH4NO3"))


def test_an_order_that_does_not_name_the_alcohol_says_nothing_of_it() -> None:
    pot = case(feed="ethanol", oxidant="NaClO", acid="HCl")
    assert ("G36", "stop") not in spoken(case(pot, addition=["oxidant", "acid"]))
    assert ("G36", "caution") in spoken(case(pot, addition=["oxidant", "acid"]))
    assert ("G36", "stop") in spoken(case(pot, addition=["oxidant", "feed", "acid"]))


# every charge that a metal has in a substance that exists: salts, oxides and fluorides
CHARGES = """
FeO Fe2O3 Cu2O CuO KCuO2 MnO Mn2O3 MnF4 Cr2O3 CrO CoO Co2O3 NiO NiF3 Ag2O AgF2 AgF3 HgO Hg2Cl2 PbO PbF4 SnO
SnF4 Ce2O3 CeF4 TiF4 TiF3 V2O3 VO VO2 V2O5 Bi2O3 BiF5 Sb2O3 SbF5 AsCl3 AsF5 Au2O3 AuCl PtF4 PtCl2 PdO PdF4
Tl2SO4 TlF3 ZrO2 HfO2 MoO3 MoF4 WO3 GeO2 GeS SiF4 UO2 UF6 ThO2 RuCl3 RuO2 Rh2O3 IrCl3 IrO2 OsO2 Nb2O5 Ta2O5
ReO2 Pr2O3 Sm2O3 Eu2O3 EuO Tb2O3 Dy2O3 Ho2O3 Er2O3 Tm2O3 Yb2O3 Fe3O4 Co3O4 Mn3O4
"""


@pytest.mark.parametrize("text", CHARGES.split())
def test_a_metal_is_read_with_every_charge_that_it_has(text: str) -> None:
    assert K.UNKNOWN not in kinds_of(Species.of(dict(Species.parse(text).elements)))


@pytest.mark.parametrize(
    "text", ["FeF5", "CuF4", "MnF6", "CrF", "CoF5", "NiF4", "AgF4", "HgF3", "PbF3", "SnF3", "SnF", "CeF2"]
)
def test_a_metal_is_not_read_with_a_charge_that_it_lacks(text: str) -> None:
    kinds = kinds_of(Species.of(dict(Species.parse(text).elements)))
    assert K.UNKNOWN in kinds


def test_a_base_in_the_quench_sets_ammonia_free_beside_the_iodine() -> None:
    pot = case(feed="NH4I", target="I2", oxidant="KIO3", ph=1)
    assert ("G09", "caution") in spoken(pot)
    verdict = review_situation(Situation.of(**case(pot, quench="NaOH")))
    (reason,) = [each for each in verdict.reasons if each.rule == "G09"]
    assert reason.severity == "stop"
    assert "base sets ammonia free" in reason.text


def test_where_chlorine_is_the_reagent_nobody_is_told_that_chloride_could_give_some() -> None:
    pot = case(feed="FeSO4", species="NaCl", oxidant="KMnO4", ph=1)
    assert ("G34", "caution") in spoken(pot)
    assert ("G34", "caution") not in spoken(case(pot, active="Cl2"))


def test_a_rule_is_entered_once() -> None:
    with pytest.raises(ValueError, match="G01 is entered twice"):
        entered("G01")(REGISTER["G01"])


@pytest.mark.parametrize(
    ("more", "said"), [({"species": "Ca(ClO)2"}, "calcium hypochlorite"), ({"context": "damp"}, "damp")]
)
def test_what_is_wrong_with_the_isocyanurate_is_said(more: Fields, said: str) -> None:
    verdict = review_situation(Situation.of(**case(feed="KI", oxidant="C3Cl3N3O3", **more)))
    (reason,) = [each for each in verdict.reasons if each.rule == "G28"]
    assert reason.text.endswith(f"({said}).")


NEAT_ACID: Fields = {"acid": "H2SO4", "acid_strength_w_w": 0.96, "acid_undiluted": True, "ph": 0}
POOL: Fields = {"feed": "glycerol", "oxidant": "Ca(ClO)2", "ph": 11}
# rule, severity, situation, what stands in brackets behind the reason
DETAILS: list[tuple[str, str, Fields, str]] = [
    ("G05", "stop", case(NEAT_ACID, feed="acetone", oxidant="KHSO5"), "peroxymonosulfuric acid"),
    ("G05", "caution", case(feed="acetone", oxidant="KHSO5", ph=7), "a ketone form a dioxirane"),
    ("G05", "stop", case(feed="acetone", oxidant="H2O2", ph=7, distil=True), "distilled or concentrated"),
    ("G16", "stop", case(feed="KI", oxidant="H2O2", oxidant_strength_w_w=0.5, ph=1), "50% w/w"),
    ("G20", "stop", case(species="Na2CO3", acid="HCl", vessel="closed"), "carbon dioxide from carbonate"),
    ("G20", "stop", case(feed="KI", oxidant="KIO3", vessel="sealed", ph=1), "iodate"),
    ("G29", "stop", case(feed="KI", oxidant="CH3COOOH", ph=4, distil=True), "distilled or concentrated"),
    ("G29", "stop", case(feed="KI", oxidant="CH3COOOH", ph=4, oxidant_strength_w_w=0.41), "41% w/w"),
    ("G29", "stop", case(feed="KI", oxidant="CH3COOOH", ph=4, temperature_C=55), "at 55 C"),
    ("G40", "stop", POOL, "pool chlorine, not said to be dissolved"),
    (
        "G40",
        "stop",
        case(feed="ethanol", oxidant="KMnO4", oxidant_form="solid", ph=9, concentration_mol_L=5),
        "neat",
    ),
    ("G40", "stop", case(feed="glycerol", oxidant="K2Cr2O7", oxidant_form="solid", ph=1), "solid oxidant"),
    ("G40", "stop", case(NEAT_ACID, feed="ethanol", oxidant="K2Cr2O7"), "concentrated acid"),
    ("G40", "stop", case(feed="glycerol", oxidant="KMnO4", ph=7), "organic matter outside the reviewed list"),
    ("G41", "stop", case(feed="N2H4", oxidant="H2O2", ph=9), "hydrazine or hydroxylamine"),
    ("G41", "stop", case(feed="NaN3", oxidant="H2O2", ph=9), "azide"),
    ("G45", "stop", case(feed="S", oxidant="KClO3"), "sulfur"),
    ("G45", "stop", case(feed="Fe", oxidant="KClO3"), "metal"),
    ("G45", "stop", case(feed="KSCN", oxidant="KClO3"), "thiocyanate"),
    ("G46", "stop", case(species=["Hg(NO3)2", "NH3"]), "mercury"),
    ("G46", "stop", case(species=["AgNO3", "NH4NO3"], base="NaOH"), "a base sets ammonia free"),
    ("G02", "stop", case(feed="KCN", oxidant="H2O2", acid="HCl", ph=11), "an acid is in the pot"),
    ("G02", "stop", case(feed="KCN", oxidant="H2O2", ph=9.5), "declared pH 9.5"),
    ("G03", "stop", case(feed="KCN", oxidant="NaClO", ph=10.2), "declared pH 10.2"),
    ("G04", "stop", case(feed="Na2S", oxidant="H2O2", acid="HCl", ph=9), "an acid is in the pot"),
    ("G04", "stop", case(feed="Na2S", oxidant="H2O2", ph=8.5), "declared pH 8.5"),
    ("G38", "caution", case(feed="KCN", oxidant="H2O2", ph=11), "not declared"),
    ("G38", "caution", case(feed="KCN", oxidant="H2O2", ph=11, free_cyanide_g_L=0.5), "0.5 g/L"),
    ("G38", "stop", case(feed="KCN", oxidant="H2O2", ph=11, free_cyanide_g_L=5), "5 g/L"),
    ("G39", "stop", case(feed="KCN", oxidant="FeCl3", ph=11), "hydrogen cyanide, HCN; strongly hydrolysing"),
    ("G39", "stop", case(feed="Na2S", oxidant="KHSO5", ph=9), "H2S; no alkali is declared to take up"),
    ("G39", "caution", case(feed="Na2S", oxidant="Na2S2O8", ph=12), "hydrogen sulfide, H2S"),
    ("G56", "stop", case(feed="KI", oxidant="NaClO", ph=12, quench="HCl"), "hypochlorite"),
    ("G14", "stop", case(feed="Cu", oxidant="NaClO", acid="HCl"), "no dissolved reductant takes the"),
    (
        "G14",
        "stop",
        case(feed="FeSO4", oxidant="NaClO", acid="HCl", addition=["oxidant", "acid", "feed"]),
        "by the declared order of addition",
    ),
    ("G55", "caution", case(feed="KI", oxidant_key="anode", ph=9), "at the cathode"),
    ("G55", "caution", case(feed="Zn", acid="HCl", ph=0), "from the metal in acid"),
    ("G19", "stop", case(WELL, oxidant="ClO2", potable=True, dose_mg_L=3), "3 mg/L"),
    (
        "G47",
        "stop",
        case(
            feed="KI", oxidant="KIO3", ph=1, amount_mol=2, heat_kJ_per_mol=100, cooling_W=10, dosing_min=100
        ),
        "200 kJ against 10 W over 100 min; at most 30 % of this batch passes",
    ),
    (
        "G47",
        "caution",
        case(feed="KI", oxidant="KIO3", ph=1, amount_mol=4),
        "800 kJ (heat assumed) and no cooling declared",
    ),
]


@pytest.mark.parametrize(
    ("rule", "severity", "fields", "detail"), DETAILS, ids=[f"{row[0]}-{row[3][:30]}" for row in DETAILS]
)
def test_the_reason_says_what_in_this_pot_made_it_speak(
    rule: str, severity: str, fields: Fields, detail: str
) -> None:
    verdict = review_situation(Situation.of(**fields))
    told = [each.text for each in verdict.reasons if (each.rule, each.severity) == (rule, severity)]
    assert [text for text in told if detail in text] == told != [], str(verdict)


def test_another_concentrated_acid_than_sulfuric_is_none() -> None:
    pot = case(NEAT_ACID, feed="KBr")
    assert ("G21", "caution") in spoken(pot)
    assert ("G21", "caution") not in spoken(case(pot, acid="HClO4"))
    assert ("G65", "caution") in spoken(case(pot, feed="Cu"))
    assert ("G65", "caution") not in spoken(case(pot, feed="Cu", acid="HNO3"))


def test_nitric_acid_makes_no_chlorine_of_the_chloride_in_a_bromide() -> None:
    pot = case(feed="KBr", species="NaCl", ph=0)
    assert ("G17", "caution") not in spoken(case(pot, oxidant="HNO3"))
    assert ("G17", "caution") not in spoken(case(pot, oxidant="KIO3"))
    assert ("G17", "caution") in spoken(case(pot, oxidant="KMnO4"))


@pytest.mark.parametrize("stronger", ["H2SO4", "HCl", "AlCl3"])
def test_a_weak_acid_beside_a_strong_one_is_no_pot_of_weak_acid(stronger: str) -> None:
    pot = case(feed="cyclohexanol", oxidant="NaClO", acid="CH3COOH")
    assert ("G14", "stop") not in spoken(pot)
    assert ("G14", "stop") in spoken(case(pot, acid=["CH3COOH", stronger]))
    assert ("G14", "stop") in spoken(case(pot, species=stronger))


@pytest.mark.parametrize(
    "words", ["washed with hydrazine", "hydrazine hydrate to the rest", "preserved by sodium azide"]
)
def test_hydrazine_or_azide_that_the_context_names_meets_what_is_left(words: str) -> None:
    pot = case(BROMIDE, oxidant="KIO3")
    assert ("G41", "stop") in spoken(case(pot, context=words))
    assert ("G41", "stop") not in spoken(case(pot, context=f"without {words}"))


@pytest.mark.parametrize("quench", ["N2H4", "N2H6SO4", "NH3OHCl", "NaN3"])
def test_hydrazine_hydroxylamine_or_azide_is_no_quench(quench: str) -> None:
    pot = case(feed="KI", oxidant="KIO3", ph=9)
    assert ("G41", "stop") in spoken(case(pot, quench=quench))
    assert ("G41", "stop") not in spoken(case(pot, quench="Na2SO3"))


def test_azide_is_not_poured_on_acid_or_heavy_metal_nor_acid_on_azide() -> None:
    assert ("G41", "stop") not in spoken(case(species="Na2SO4", ph=9, quench="NaN3"))
    assert ("G41", "stop") in spoken(case(species="Na2SO4", acid="H2SO4", quench="NaN3"))
    assert ("G41", "stop") in spoken(case(species="PbSO4", ph=9, quench="NaN3"))
    assert ("G41", "stop") in spoken(case(species="NaN3", ph=9, quench="HCl"))
    for metal in ("Pb(NO3)2", "Tl2SO4", "NiSO4"):
        assert ("G41", "stop") in spoken(case(species="NaN3", ph=9, quench=metal))


# one substance for each kind of feed
REDUCTANTS = {
    "NaCl": K.CHLORIDE, "KBr": K.BROMIDE, "KI": K.IODIDE, "KCN": K.CYANIDE, "K4[Fe(CN)6]": K.COMPLEX_CYANIDE,
    "KSCN": K.THIOCYANATE, "Na2S": K.SULFIDE, "Na2SO3": K.SULFITE, "Na2S2O3": K.THIOSULFATE,
    "NaNO2": K.NITRITE, "NaAsO2": K.ARSENITE, "Na2C2O4": K.OXALATE, "FeSO4": K.IRON2, "MnSO4": K.MANGANESE2,
    "SnCl2": K.TIN2,
    "CrCl3": K.CHROMIUM3, "CeCl3": K.CERIUM3, "NH4Cl": K.AMMONIUM, "NH3": K.AMMONIA, "urea": K.AMINE,
    "N2H4": K.HYDRAZINE, "NaN3": K.AZIDE, "NaBH4": K.HYDRIDE, "Fe": K.METAL, "Cu": K.COPPER, "S": K.SULFUR,
    "P4": K.PHOSPHORUS, "C": K.CARBON, "H2(g)": K.HYDROGEN, "glycerol": K.UNLISTED_ORGANIC,
    "propan-2-ol": K.PROPAN2OL, "cyclohexanol": K.CYCLOHEXANOL, "ethanol": K.ETHANOL, "H2O2": K.PEROXIDE,
    "benzyl alcohol": K.BENZYL_ALCOHOL, "1-phenylethanol": K.PHENYLETHANOL, "acetophenone": K.ORGANIC,
}  # fmt: skip


@pytest.mark.parametrize("feed", REDUCTANTS)
def test_whatever_can_be_oxidised_is_asked_for_a_review(feed: str) -> None:
    assert REDUCTANTS[feed] in Pot(Situation.of(feed=feed, oxidant="KIO4", ph=7)).feeds
    assert REDUCTANTS[feed] in Pot(Situation.of(species=feed, oxidant="KIO4", ph=7)).feeds
    assert set(REDUCTANTS.values()) == FEEDS


def test_a_feed_that_stands_before_chlorine_and_acid_meets_them_in_order() -> None:
    pot = case(feed="Cu", oxidant="NaClO", acid="CH3COOH", ph=5)
    assert ("G14", "stop") not in spoken(case(pot, addition=["feed", "acid", "oxidant"]))
    assert ("G14", "stop") in spoken(case(pot, addition=["acid", "oxidant", "feed"]))


def test_chlorine_that_a_reductant_takes_up_is_told_and_bromide_has_its_own_rule() -> None:
    pot = case(oxidant="NaClO", acid="H2SO4", ph=1)
    assert ("G64", "caution") in spoken(case(pot, feed="FeSO4"))
    assert ("G64", "caution") not in spoken(case(pot, feed="KBr"))
    assert ("G64", "caution") not in spoken(case(pot, feed="FeSO4", ph=5))


def test_what_nobody_knows_is_named_in_order() -> None:
    for pot in (("XeF2", "SeO2", "B2H6", "SF6", "OsO4"), ("OsO4", "SF6", "XeF2", "B2H6", "SeO2")):
        verdict = review_situation(Situation.of(species=pot))
        assert any("(B2H6, OsO4, SF6, SeO2, XeF2)" in each.text for each in verdict.reasons), str(verdict)


@pytest.mark.parametrize("feed", ["Fe", "Zn", "Ag"])
def test_a_metal_with_an_oxidant_that_nobody_reviewed_is_unreviewed(feed: str) -> None:
    assert ("U01", "unreviewed") in spoken(case(feed=feed, oxidant="KIO4", ph=7))


def test_dissolved_pool_chlorine_on_organic_matter_is_no_fire() -> None:
    pot = case(feed="glycerol", oxidant="Ca(ClO)2", ph=11)
    assert not {("G40", "stop"), ("G40", "caution")} & spoken(case(pot, oxidant_form="solution"))
    assert ("G40", "stop") in spoken(pot)


def test_a_salt_in_the_order_is_no_alcohol_and_the_first_portion_counts() -> None:
    pot = case(feed="ethanol", oxidant="NaClO", acid="HCl")
    assert ("G36", "stop") not in spoken(case(pot, addition=["oxidant", "NaCl", "acid", "feed"]))
    assert ("G36", "stop") not in spoken(case(pot, addition=["oxidant", "NaCl", "acid"]))
    assert ("G36", "stop") in spoken(case(pot, addition=["oxidant", "feed", "NaCl", "acid"]))
    assert ("G36", "stop") in spoken(case(pot, addition=["oxidant", "feed", "acid", "acetone"]))
    assert ("G36", "stop") in spoken(case(pot, addition=["feed", "oxidant", "acid", "oxidant"]))


def test_chloride_in_bromide_gives_no_chlorine_in_alkali() -> None:
    pot = case(feed="KBr", species="NaCl", oxidant="KMnO4")
    assert ("G17", "caution") in spoken(case(pot, ph=2))
    assert ("G17", "caution") in spoken(pot)
    assert ("G17", "caution") not in spoken(case(pot, ph=9))


def test_chlorine_from_bleach_is_not_what_matters_where_the_pot_holds_cyanide() -> None:
    pot = case(feed="KCN", oxidant="NaClO", acid="HCl")
    assert ("G02", "stop") in spoken(pot)
    assert ("G14", "stop") not in spoken(pot)
    assert ("G14", "stop") in spoken(case(pot, feed="Cu"))


def test_iron_or_copper_in_the_pot_is_the_oxidant_only_where_no_other_is() -> None:
    assert Pot(Situation.of(species=["FeCl3", "KI"])).oxidants == {K.IRON3}
    assert Pot(Situation.of(species=["CuSO4", "KI"])).oxidants == {K.COPPER2}
    assert Pot(Situation.of(species=["FeCl3", "CuSO4", "KMnO4"])).oxidants == {K.PERMANGANATE}
    assert Pot(Situation.of(species="KMnO4", oxidant="FeCl3")).oxidants == {K.IRON3}
    assert Pot(Situation.of(species=["MnO2", "KI"], feed="MnO2")).oxidants == set()
    assert Pot(Situation.of(species=["I2", "KIO3"], target="I2")).oxidants == {K.IODATE}
    assert Pot(Situation.of(oxidant="NaNO2", species="KI")).oxidants == {K.NITRITE}
    assert Pot(Situation.of(oxidant=["HNO3", "KNO3"])).oxidants == {K.NITRIC}
    assert Pot(Situation.of(oxidant="KNO3")).oxidants == {K.NITRATE}
    assert Pot(Situation.of(oxidant="H2SO4", species="Cu")).oxidants == {K.SULFURIC}
    assert Pot(Situation.of(species=["H2SO4", "KNO3"])).oxidants == set()


@pytest.mark.parametrize(
    ("feed", "companion"),
    [
        ("NH4I", K.AMMONIUM),
        ("Cu(NH3)4I2", K.AMMONIA),
        ("CH4N2O.H2O2", K.AMINE),
        ("FeCl2", K.CHLORIDE),
        ("Zn(CN)2", K.COMPLEX_CYANIDE),
        ("propan-2-ol", K.ORGANIC),
        ("FeC4H4O6", K.UNLISTED_ORGANIC),
    ],
)
def test_a_feed_of_several_kinds_is_reviewed_as_the_one_that_is_oxidised(feed: str, companion: Kind) -> None:
    verdict = review_situation(Situation.of(feed=feed, oxidant="KIO4", ph=7))
    assert companion in kinds_of(Species.parse(feed))
    assert not any(f"on {companion}" in each.text for each in verdict.reasons), str(verdict)


def test_hydrogen_as_a_feed_is_a_stranger_and_named() -> None:
    verdict = review_situation(Situation.of(feed="H2(g)", oxidant="KMnO4", ph=7))
    assert [each.text for each in verdict.reasons if "(permanganate on H2(g))" in each.text], str(verdict)


def test_an_order_without_the_bleach_says_nothing_of_it() -> None:
    pot = case(feed="FeSO4", oxidant="NaClO", acid="H2SO4", ph=1)
    assert ("G14", "stop") not in spoken(case(pot, addition=["acid", "feed"]))
    assert ("G14", "stop") in spoken(case(pot, addition=["acid", "oxidant", "feed"]))


def test_bleach_and_weak_acid_on_copper_are_stopped_below_ph_4_and_once() -> None:
    pot = case(feed="Cu", oxidant="NaClO", acid="CH3COOH")
    assert ("G14", "stop") not in spoken(case(pot, ph=4))
    assert ("G14", "stop") in spoken(case(pot, ph=3.99))
    verdict = review_situation(Situation.of(**case(pot, ph=3, addition=["oxidant", "acid", "feed"])))
    assert [each.rule for each in verdict.reasons].count("G14") == 1


def test_permanganate_in_another_strong_acid_makes_no_heptoxide() -> None:
    pot = case(NEAT_ACID, feed="FeSO4", oxidant="KMnO4")
    assert ("G07", "stop") in spoken(pot)
    assert ("G07", "stop") not in spoken(case(pot, acid="HClO4"))


def test_iron_chloride_sours_chlorite_unless_the_ph_is_declared() -> None:
    pot = case(feed="FeCl3", oxidant="NaClO2")
    assert ("G01", "stop") in spoken(pot)
    assert ("G01", "stop") not in spoken(case(pot, ph=7))
