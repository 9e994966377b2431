"""Laws of the gate: more acid never heals, names never matter, taking the partner away does."""

from __future__ import annotations

import re
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.errors import JobError
from redoxlib.notation import Species
from redoxlib.safety import Severity, Situation, review_situation

from ._cases import DANGEROUS, PAIRS, SAFE, Fields
from ._pots import ASKED

ORDER = {Severity.CLEAR: 0, Severity.CAUTION: 1, Severity.UNREVIEWED: 2, Severity.STOP: 3}
ACIDS = ("H2SO4", "HCl", "HNO3", "H3PO4", "NaHSO4", "CH3COOH", "HClO4")
OXIDANTS = (
    "H2O2",
    "KMnO4",
    "NaClO",
    "Cl2",
    "O3",
    "O2",
    "K2S2O8",
    "ClO2",
    "K2CrO4",
    "C3Cl3N3O3",
    "FeCl3",
    "MnO2",
)
POISONS = ("NaCN", "Ca(CN)2", "Na2S", "(NH4)2S", "CaS", "KHS")

# The same substance, typed in two ways that differ in order, brackets or hydrate dots.
RESPELT = {
    "NH4Br": "BrNH4",
    "KBr": "BrK",
    "H2SO4": "SO4H2",
    "Ca(ClO)2": "Ca(OCl)2",
    "NaClO": "NaOCl",
    "KCN": "NCK",
    "K4[Fe(CN)6]": "K4Fe(CN)6",
    "FeSO4": "SO4Fe",
    "NaNO3": "NO3Na",
    "KClO3": "ClO3K",
    "Na2S": "SNa2",
    "K2Cr2O7": "Cr2K2O7",
    "FeCl3": "Cl3Fe",
    "HCl": "ClH",
    "(NH4)2SO4": "SO4(NH4)2",
    "KMnO4": "MnO4K",
}
ALL = {
    **{f"{k[0]} danger": v[0] for k, v in PAIRS.items()},
    **{f"{k[0]} near miss": v[1] for k, v in PAIRS.items()},
    **{name: row[1] for name, row in DANGEROUS.items()},
    **SAFE,
}


def decide(situation: Situation) -> Severity:
    return review_situation(situation).decision


class TestMoreAcidNeverHeals:
    @given(
        st.sampled_from(POISONS),
        st.sampled_from(OXIDANTS),
        st.one_of(st.none(), st.floats(0, 14)),
        st.sampled_from(ACIDS),
    )
    def test_an_acid_put_in_never_lowers_the_verdict_on_cyanide_or_sulfide(
        self, poison: str, oxidant: str, ph: float | None, acid: str
    ) -> None:
        before = Situation.of(feed=poison, oxidant=oxidant, ph=ph)
        after = replace(before, acid=frozenset({Species.parse(acid)}))
        assert ORDER[decide(after)] >= ORDER[decide(before)]
        assert decide(after) is Severity.STOP

    @given(st.sampled_from(POISONS), st.sampled_from(OXIDANTS), st.floats(0, 14), st.floats(0, 14))
    def test_a_lower_ph_never_lowers_the_verdict_on_cyanide_or_sulfide(
        self, poison: str, oxidant: str, one: float, other: float
    ) -> None:
        low, high = sorted((one, other))
        assert (
            ORDER[decide(Situation.of(feed=poison, oxidant=oxidant, ph=low))]
            >= ORDER[decide(Situation.of(feed=poison, oxidant=oxidant, ph=high))]
        )

    @given(st.sampled_from(["KClO3", "NaClO2"]), st.floats(0, 9), st.floats(0, 9), st.sampled_from(ACIDS))
    def test_chlorate_and_chlorite_are_never_healed_by_acid(
        self, salt: str, one: float, other: float, acid: str
    ) -> None:
        low, high = sorted((one, other))
        mild = Situation.of(feed="Na2SO3", oxidant=salt, ph=high)
        sour = Situation.of(feed="Na2SO3", oxidant=salt, ph=low, acid=acid)
        stopped = "G01" in {r.rule for r in review_situation(mild).reasons if r.severity is Severity.STOP}
        assert not stopped or decide(sour) is Severity.STOP


class TestNamesDoNotMatter:
    @pytest.mark.parametrize("name", ALL)
    def test_respelling_every_species_leaves_the_verdict(self, name: str) -> None:
        def respell(value: object) -> object:
            if isinstance(value, str):
                return RESPELT.get(value, value)
            if isinstance(value, list):
                return [respell(item) for item in value]
            return value

        roles = ("species", "feed", "oxidant", "acid", "base", "impurities", "quench")
        changed: Fields = {k: respell(v) if k in roles else v for k, v in ALL[name].items()}
        before = review_situation(Situation.of(**ALL[name]))
        after = review_situation(Situation.of(**changed))
        assert (before.decision, before.rules) == (after.decision, after.rules)

    @pytest.mark.parametrize("name", ALL)
    def test_what_the_oxidant_is_called_leaves_the_verdict(self, name: str) -> None:
        situation = Situation.of(**ALL[name])
        if situation.oxidant_key == "anode":
            return
        renamed = replace(situation, oxidant_key="a perfectly harmless bleach")
        assert review_situation(renamed) == review_situation(situation)

    @pytest.mark.parametrize("name", ALL)
    def test_moving_the_hydrate_or_the_role_of_a_bystander_leaves_the_decision(self, name: str) -> None:
        situation = Situation.of(**ALL[name])
        watered = replace(situation, species=situation.species | {Species.parse("H2O")})
        assert review_situation(watered) == review_situation(situation)


# Sodium salts as salts of another alkali metal; the metals themselves and organic matter stay.
_SODIUM = re.compile(r"^(Na|K)(?=[A-Z0-9(\[])")
ASKED_BY_TEXT = {f"pot {n}": fields for n, (_, fields) in enumerate(ASKED)}


def with_cation(value: object, cation: str) -> object:
    """The same salt of another alkali metal, where the text is an alkali salt."""
    if isinstance(value, list):
        return [with_cation(item, cation) for item in value]
    # The added-up formula of the potassium triple salt can be told as that salt only.
    return _SODIUM.sub(cation, value) if isinstance(value, str) and value != "K5H3S4O18" else value


class TestTheCationOfASaltDoesNotMatter:
    @pytest.mark.parametrize("cation", ["Li", "Rb", "Cs"])
    @pytest.mark.parametrize("name", [*ALL, *ASKED_BY_TEXT])
    def test_every_alkali_salt_gets_the_verdict_of_the_others(self, name: str, cation: str) -> None:
        fields = ALL[name] if name in ALL else ASKED_BY_TEXT[name]
        roles = ("species", "feed", "target", "oxidant", "acid", "base", "impurities", "quench")
        swapped = {k: with_cation(v, cation) if k in roles else v for k, v in fields.items()}
        before = review_situation(Situation.of(**fields))
        after = review_situation(Situation.of(**swapped))
        assert (after.decision, set(after.rules)) == (before.decision, set(before.rules)), str(after)


class TestEveryPotGetsAVerdict:
    """Whatever meets whatever: the gate answers, and what it has no review for is not waved through."""

    SPECIES = sorted(
        {
            text
            for fields in (*ALL.values(), *ASKED_BY_TEXT.values())
            for role in ("species", "feed", "oxidant", "acid", "impurities")
            for text in ([fields[role]] if isinstance(fields.get(role), str) else fields.get(role) or [])
        }
    )

    @given(
        st.sampled_from(SPECIES),
        st.sampled_from(SPECIES),
        st.lists(st.sampled_from(SPECIES), max_size=2),
        st.one_of(st.none(), st.floats(-1, 15)),
    )
    def test_any_four_species_at_any_ph(
        self, feed: str, oxidant: str, others: list[str], ph: float | None
    ) -> None:
        verdict = review_situation(Situation.of(feed=feed, oxidant=oxidant, species=others, ph=ph))
        assert verdict.decision in ORDER
        assert all(reason.text and reason.source and reason.safer for reason in verdict.reasons)

    @given(st.sampled_from(SPECIES), st.sampled_from(SPECIES), st.floats(-1, 15), st.sampled_from(SPECIES))
    def test_an_inert_salt_changes_nothing(self, feed: str, oxidant: str, ph: float, other: str) -> None:
        pot = Situation.of(feed=feed, oxidant=oxidant, species=other, ph=ph)
        salted = Situation.of(feed=feed, oxidant=oxidant, species=[other, "K2SO4"], ph=ph)
        assert review_situation(salted) == review_situation(pot)


# rule -> what has to leave the pot for the rule to fall silent
PARTNER = {
    "G01": ("oxidant", "Na2SO4"),
    "G03": ("feed", "KCl"),
    "G04": ("feed", "K2SO4"),
    "G05": ("feed", "K2SO4"),
    "G06": ("oxidant", "Na2SO4"),
    "G07": ("oxidant", "Na2SO4"),
    "G08": ("feed", "KBr"),
    "G09": ("quench", "Na2SO3"),
    "G10": ("quench", "Na2SO3"),
    "G16": ("oxidant", "KMnO4"),
    "G28": ("oxidant", "C3Cl3N3O3"),
    "G36": ("feed", "Na2SO3"),
    "G38": ("feed", "Na2SO3"),
    "G39": ("oxidant", "MnO2"),
    "G40": ("feed", "Na2SO3"),
    "G41": ("feed", "Na2SO3"),
    "G43": ("species", "KCl"),
    "G44": ("feed", "KI"),
    "G45": ("feed", "Na2SO3"),
    "G46": ("species", "AgNO3"),
    "G54": ("feed", "Na2SO4"),
    "G56": ("quench", "Na2SO3"),
    "G57": ("species", "H2O"),
    "G59": ("feed", "KCl"),
    "G61": ("species", "AgNO3"),
}


class TestTakingThePartnerAwayHeals:
    @pytest.mark.parametrize("rule", PARTNER)
    def test_without_the_hazardous_partner_the_rule_is_silent(self, rule: str) -> None:
        role, harmless = PARTNER[rule]
        danger = PAIRS[rule, "stop"][0]
        assert rule in review_situation(Situation.of(**danger)).rules
        healed = review_situation(Situation.of(**{**danger, role: harmless}))
        assert rule not in [r.rule for r in healed.reasons if r.severity is Severity.STOP]


class TestUnknownIsNeverFavourable:
    @pytest.mark.parametrize("name", DANGEROUS)
    def test_leaving_the_ph_undeclared_never_clears_a_danger(self, name: str) -> None:
        _, situation = DANGEROUS[name]
        verdict = review_situation(Situation.of(**{**situation, "ph": None}))
        assert verdict.decision in (Severity.STOP, Severity.UNREVIEWED), str(verdict)

    def test_a_quench_told_in_words_that_nobody_can_read_is_not_cleared(self) -> None:
        told = Situation.of(
            feed="KI", target="I2", ph=1, oxidant="KIO3", context="Quenched with blue stuff at pH 8."
        )
        verdict = review_situation(told)
        assert verdict.decision is Severity.UNREVIEWED
        assert "blue stuff" in verdict.reasons[0].text
        hydrate = Situation.of(
            feed="KI", target="I2", ph=1, oxidant="KIO3", context="quench with Na2S2O3.5H2O and ice"
        )
        assert review_situation(hydrate).rules == ("G12",)

    def test_nothing_declared_is_not_cleared(self) -> None:
        assert decide(Situation.of(feed="KCN", oxidant="NaClO")) is not Severity.CLEAR


class TestWeightsAgree:
    @pytest.mark.parametrize("name", ALL)
    def test_the_decision_is_the_heaviest_reason(self, name: str) -> None:
        verdict = review_situation(Situation.of(**ALL[name]))
        heaviest = max((ORDER[r.severity] for r in verdict.reasons), default=0)
        assert ORDER[verdict.decision] == heaviest
        assert all(r.source and r.text and r.safer for r in verdict.reasons)


def test_error_lists_every_fault_of_a_situation() -> None:
    with pytest.raises(JobError) as caught:
        Situation(vessel="bucket", acid_strength_w_w=98, ph=float("nan"))
    assert caught.value.faults == (
        "vessel: 'bucket' is none of open, vented, closed, sealed",
        "ph: nan is not a number",
        "acid_strength_w_w: 98 is not a mass fraction between 0 and 1",
    )


def test_error_when_a_situation_has_an_unknown_field() -> None:
    with pytest.raises(JobError, match="unknown field of a situation: force"):
        Situation.of(feed="KBr", force=True)


def test_no_field_of_a_situation_overrules_the_gate() -> None:
    names = {f.name for f in fields(Situation)}
    assert not {"force", "override", "ignore", "unsafe"} & names


NUMBERS = (
    "acid_strength_w_w",
    "oxidant_strength_w_w",
    "concentration_mol_L",
    "amount_mol",
    "cooling_W",
    "dose_mg_L",
    "free_cyanide_g_L",
    "total_sulfide_mmol_L",
    "heat_kJ_per_mol",
    "dosing_min",
    "acid_made_mol_L",
)


@pytest.mark.parametrize("name", NUMBERS)
def test_error_when_an_amount_or_a_strength_is_negative(name: str) -> None:
    with pytest.raises(JobError) as caught:
        Situation(**{name: -0.1})  # type: ignore[arg-type]
    assert [fault.split(":")[0] for fault in caught.value.faults] == [name]
    assert Situation(**{name: 0.0}) != Situation()  # type: ignore[arg-type]


@pytest.mark.parametrize("name", [*NUMBERS, "ph", "temperature_C", "excess"])
@pytest.mark.parametrize("value", [True, "7", float("nan")])
def test_error_when_a_number_is_none(name: str, value: object) -> None:
    with pytest.raises(JobError) as caught:
        Situation(**{name: value})  # type: ignore[arg-type]
    assert [fault.split(":")[0] for fault in caught.value.faults] == [name]


@pytest.mark.parametrize("name", ["ph", "temperature_C", "excess"])
def test_ph_temperature_and_excess_may_be_below_zero(name: str) -> None:
    assert getattr(Situation(**{name: -0.5}), name) == -0.5  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["acid_strength_w_w", "oxidant_strength_w_w"])
def test_error_when_a_mass_fraction_is_above_one(name: str) -> None:
    assert getattr(Situation(**{name: 1.0}), name) == 1.0  # type: ignore[arg-type]
    with pytest.raises(JobError, match=name):
        Situation(**{name: 1.01})  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["vessel", "oxidant_form", "purpose"])
def test_error_when_a_choice_is_none_of_those_offered(name: str) -> None:
    with pytest.raises(JobError, match=f"{name}: 'barrel' is none of"):
        Situation(**{name: "barrel"})  # type: ignore[arg-type]
