"""Rules of one's own for the gate: they add stops and cautions; nothing they say weakens a shipped rule."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import plan
from redoxlib._owndata import read_own_data
from redoxlib.cli import main
from redoxlib.compare import clear, compare, review
from redoxlib.data import Tables, shipped
from redoxlib.errors import TableError, UnsafeRouteError
from redoxlib.notation import Species
from redoxlib.safety import Severity, Situation, review_situation

from ._cases import DANGEROUS, SAFE

SOURCE = """[[source]]
key = "site"
citation = "Site rule book, chapter 4: work with nickel and with peroxide"
kind = "practice"
"""
NICKEL = """
[[gate_rule]]
rule = "site-nickel"
severity = "stop"
meets = ["Ni^2+", "ClO^-"]
ph_below = 12
text = "Nickel liquors meet no active chlorine below pH 12 on this site."
safer = "peroxodisulfate at pH 12"
source = "site"
"""
PEROXIDE = """
[[gate_rule]]
rule = "site-peroxide"
severity = "caution"
any_of = ["H2O2", "CH3COOOH"]
strength_above = "8 % w/w"
text = "Two people handle peroxide above 8 % here."
safer = "3 % peroxide"
source = "site"
"""
ORDER = {Severity.CLEAR: 0, Severity.CAUTION: 1, Severity.UNREVIEWED: 2, Severity.STOP: 3}


def read(folder: Path, text: str) -> Tables:
    file = folder / "own-data.toml"
    file.write_text(text, encoding="utf-8")
    return read_own_data(file)


def faults(folder: Path, text: str) -> tuple[str, ...]:
    with pytest.raises(TableError) as caught:
        read(folder, text)
    return tuple(caught.value.faults)


class TestOnlyAdding:
    @pytest.mark.parametrize("name", [*SAFE, *DANGEROUS])
    def test_a_caution_of_ones_own_never_lightens_a_verdict(self, tmp_path: Path, name: str) -> None:
        fields = SAFE[name] if name in SAFE else DANGEROUS[name][1]
        before = review_situation(Situation.of(**fields))
        rules = read(
            tmp_path, SOURCE + PEROXIDE.replace('any_of = ["H2O2", "CH3COOOH"]', _any(fields))
        ).own_rules
        after = review_situation(Situation.of(**fields, own_rules=rules))
        assert ORDER[after.decision] >= ORDER[before.decision]
        assert [r for r in after.reasons if r.rule != "site-peroxide"] == list(before.reasons)

    def test_a_rule_of_ones_own_reviews_nothing(self, tmp_path: Path) -> None:
        rules = read(tmp_path, SOURCE + PEROXIDE).own_rules
        strange = {"feed": "glycerol", "oxidant": "H2O2", "oxidant_strength_w_w": 0.3, "ph": 7}
        verdict = review_situation(Situation.of(**strange, own_rules=rules))
        assert verdict.decision is Severity.UNREVIEWED
        assert "site-peroxide" in verdict.rules

    def test_none_is_shipped(self) -> None:
        assert shipped().own_rules == ()

    @given(ph=st.floats(-1, 15))
    def test_it_speaks_below_its_ph_and_only_there(
        self, tmp_path_factory: pytest.TempPathFactory, ph: float
    ) -> None:
        rules = read(tmp_path_factory.mktemp("own"), SOURCE + NICKEL).own_rules
        pot = Situation.of(feed="NiSO4", oxidant="Ca(ClO)2", ph=ph, own_rules=rules)
        assert ("site-nickel" in review_situation(pot).rules) == (ph < 12)


def _any(fields: dict[str, object]) -> str:
    """A condition that the situation meets: the first species of its pot."""
    pot = sorted(map(str, Situation.of(**fields).pot))
    return f'any_of = ["{Species.parse(pot[0])}"]'


class TestKeyedToWhatIsInThePot:
    @pytest.mark.parametrize("chlorine", ["NaClO", "Ca(ClO)2", "HClO", "KClO"])
    @pytest.mark.parametrize("nickel", ["NiSO4", "Ni(NO3)2", "NiCl2.6H2O"])
    def test_any_salt_of_the_ion_and_its_acid_count(self, tmp_path: Path, chlorine: str, nickel: str) -> None:
        rules = read(tmp_path, SOURCE + NICKEL).own_rules
        pot = Situation.of(feed="NaBr", impurities=nickel, oxidant=chlorine, ph=5, own_rules=rules)
        assert "site-nickel" in review_situation(pot).rules

    @pytest.mark.parametrize(
        ("nickel", "chlorine"), [("CoSO4", "NaClO"), ("NiSO4", "NaClO3"), ("NiSO4", "NaCl")]
    )
    def test_without_one_of_the_partners_it_is_silent(
        self, tmp_path: Path, nickel: str, chlorine: str
    ) -> None:
        rules = read(tmp_path, SOURCE + NICKEL).own_rules
        pot = Situation.of(feed="NaBr", impurities=nickel, oxidant=chlorine, ph=5, own_rules=rules)
        assert "site-nickel" not in review_situation(pot).rules

    @pytest.mark.parametrize(
        ("asked", "there", "not_there"),
        [
            ("C2O4^2-", ["H2C2O4", "KHC2O4", "Na2C2O4", "oxalic acid"], ["CH3COOH", "HCOOH", "Na2CO3"]),
            ("CH3COOH", ["CH3COONa", "CH3COO^-", "acetic acid"], ["ethanol", "HCOOH", "H2C2O4"]),
            ("HCO3^-", ["Na2CO3", "NaHCO3", "CO3^2-"], ["HCOOH", "CH3OH", "NaHSO3"]),
            ("OH^-", ["NaOH", "Ca(OH)2"], ["H2O", "H2O2", "HO2^-", "H3O^+"]),
            ("H2O2", ["H2O2"], ["H2O", "NaOH", "O2"]),
        ],
    )
    def test_an_acid_stands_for_its_anion_and_water_for_no_base(
        self, tmp_path: Path, asked: str, there: list[str], not_there: list[str]
    ) -> None:
        rules = read(tmp_path, SOURCE + NICKEL.replace('"Ni^2+", "ClO^-"', f'"{asked}"')).own_rules
        for text in there:
            assert "site-nickel" in review_situation(Situation.of(species=text, ph=5, own_rules=rules)).rules
        for text in not_there:
            pot = Situation.of(species=text, ph=5, own_rules=rules)
            assert "site-nickel" not in review_situation(pot).rules

    def test_a_fact_nobody_declared_counts_as_met(self, tmp_path: Path) -> None:
        rules = read(tmp_path, SOURCE + NICKEL).own_rules
        pot = Situation.of(feed="NiSO4", oxidant="NaClO", own_rules=rules)
        (own,) = [r for r in review_situation(pot).reasons if r.rule == "site-nickel"]
        assert "pH not declared" in own.text

    @pytest.mark.parametrize(
        ("condition", "field", "met", "missed"),
        [
            ("ph_above = 9", "ph", 9.5, 9.0),
            ('temperature_above = "40 C"', "temperature_C", 41.0, 40.0),
            ('strength_above = "8 % w/w"', "oxidant_strength_w_w", 0.081, 0.08),
            ('concentration_above = "0.1 mol/L"', "concentration_mol_L", 0.2, 0.1),
            ('amount_above = "500 mmol"', "amount_mol", 0.6, 0.4),
            ('vessel = "closed"', "vessel", "sealed", "open"),
        ],
    )
    def test_every_condition_decides(
        self, tmp_path: Path, condition: str, field: str, met: object, missed: object
    ) -> None:
        text = PEROXIDE.replace('strength_above = "8 % w/w"', condition)
        rules = read(tmp_path, SOURCE + text).own_rules
        common = {"feed": "KI", "oxidant": "H2O2", "own_rules": rules}
        assert "site-peroxide" in review_situation(Situation.of(**common, **{field: met})).rules
        assert "site-peroxide" not in review_situation(Situation.of(**common, **{field: missed})).rules


class TestFromTheFileToThePlan:
    def job(self, folder: Path, rules: str) -> Path:
        (folder / "own-data.toml").write_text(SOURCE + rules, encoding="utf-8")
        file = folder / "job.toml"
        file.write_text(
            'conversions = "Br^- -> Br2"\noxidants = ["NaOCl", "H2O2"]\n'
            'bottles = ["hydrogen peroxide 30 % w/w"]\nimpurities = { NiSO4 = "2 % w/w" }\n',
            encoding="utf-8",
        )
        return file

    def test_a_stop_refuses_the_route_with_its_own_source(self, tmp_path: Path) -> None:
        (refusal,) = compare(self.job(tmp_path, NICKEL)).refused
        assert refusal.oxidant.key == "NaOCl"
        assert refusal.rule == "site-nickel"
        assert refusal.source.startswith("Site rule book")
        assert review(self.job(tmp_path, NICKEL)).decision is Severity.STOP

    def test_a_caution_is_printed_with_the_route_and_survives_to_the_plan(self, tmp_path: Path) -> None:
        route = compare(self.job(tmp_path, PEROXIDE)).route("H2O2")
        assert any("Two people" in warning for warning in route.warnings)
        cleared = clear(route)
        assert "site-peroxide" in cleared.verdict.rules
        assert any("Two people" in warning for warning in plan(cleared).warnings)

    def test_a_larger_batch_is_asked_about_the_same_rules(self, tmp_path: Path) -> None:
        rule = PEROXIDE.replace('severity = "caution"', 'severity = "stop"')
        rule = rule.replace('strength_above = "8 % w/w"', 'amount_above = "2 mol"')
        route = compare(self.job(tmp_path, rule)).route("H2O2")
        with pytest.raises(UnsafeRouteError, match="Two people"):
            plan(clear(route), product_mass="400 g")


RULE = NICKEL.strip().splitlines()


def with_line(key: str, line: str | None) -> str:
    """The nickel rule with one line changed, or left out."""
    kept = [text for text in RULE if not text.startswith(f"{key} ")]
    return SOURCE + "\n".join([*kept, *([line] if line else [])]) + "\n"


@pytest.mark.parametrize(
    ("key", "line", "fault"),
    [
        ("source", None, "5 gate_rule.source: every entry names its source"),
        ("safer", None, "5 gate_rule.safer: missing"),
        ("source", 'source = "nowhere"', "12 gate_rule.source: unknown source"),
        ("severity", 'severity = "clear"', "12 gate_rule.severity: 'clear' is neither stop nor caution"),
        ("rule", 'rule = "G03"', "12 gate_rule.rule: G03 is the id of a shipped rule"),
        ("meets", None, "5 gate_rule: names no species; give meets"),
        ("meets", 'meets = ["Ni^2+", "Xx^-"]', "12 gate_rule.meets: unknown element 'Xx'"),
        ("meets", "meets = [1]", "12 gate_rule.meets: must be a text, or a list of texts"),
        ("ph_below", 'ph_below = "low"', "12 gate_rule.ph_below: 'low' is not a number"),
        ("ph_below", "temperature_above = 40", "12 gate_rule.temperature_above: 40 has no unit"),
        ("ph_below", 'strength_above = "8 mol"', "12 gate_rule.strength_above: "),
        ("ph_below", 'vessel = "bucket"', "12 gate_rule.vessel: 'bucket' is neither open nor closed"),
        ("ph_below", "covers = true", "12 gate_rule.covers: unknown key"),
        ("ph_below", "force = true", "12 gate_rule.force: unknown key"),
    ],
)
def test_a_fault_points_at_its_line_and_key(tmp_path: Path, key: str, line: str | None, fault: str) -> None:
    found = faults(tmp_path, with_line(key, line))
    assert len(found) == 1, found
    assert found[0].startswith(f"own-data.toml:{fault}"), found[0]


def test_two_rules_of_one_name_are_a_fault(tmp_path: Path) -> None:
    assert any("site-nickel" in text for text in faults(tmp_path, SOURCE + NICKEL + NICKEL))


def test_the_command_line_reads_the_rules_beside_the_job_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rule = PEROXIDE.replace('severity = "caution"', 'severity = "stop"')
    file = TestFromTheFileToThePlan().job(tmp_path, rule)
    assert main(["compare", str(file)]) in (0, 3)
    assert "site-peroxide" in capsys.readouterr().out
    assert main(["plan", str(file), "--oxidant", "H2O2"]) == 3
