"""The table of rules: complete, sourced, in step with the code, and saying what it must say."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from redoxlib import safety
from redoxlib.data import shipped
from redoxlib.errors import MissingDataError
from redoxlib.safety import Severity, Situation, review_situation, reviews, rules
from redoxlib.safety._hits import REGISTER
from redoxlib.safety._kinds import Kind
from redoxlib.safety._table import rule

from ._cases import PAIRS

BY_COVERAGE = {"U01", "U02", "U03"}
BY_GOAL = {"G24", "G25"}
HOUSE_LIMITS = {"G38"}  # a number of our own, reasoned in docs/safety.md

# Words of which at least one must stand in the reason: a reader must learn what the danger is.
MUST_SAY = {
    "G01": ("chlorine dioxide", "explo"),
    "G02": ("hydrogen cyanide", "HCN"),
    "G03": ("cyanogen chloride", "10.5"),
    "G04": ("hydrogen sulfide", "H2S"),
    "G05": ("peroxide", "explo"),
    "G06": ("run", "explo", "nitrogen oxides"),
    "G07": ("Mn2O7", "manganese heptoxide"),
    "G08": ("nitrogen trichloride", "chloramine", "NCl3"),
    "G09": ("nitrogen triiodide", "nitrogen bromides"),
    "G10": ("bromoacetone", "lachrymator", "violent"),
    "G11": ("bromate", "reductant", "sulfite"),
    "G12": ("sulfur dioxide", "SO2"),
    "G13": ("BrCl", "chlorine"),
    "G14": ("chlorine",),
    "G15": ("oxygen", "pressure"),
    "G16": ("concentrat", "detonat", "limit", "35 %"),
    "G17": ("chlorine", "BrCl", "chloride"),
    "G18": ("carcinogen", "drinking"),
    "G19": ("chlorite",),
    "G20": ("vent", "pressure"),
    "G21": ("sulfur dioxide", "SO2"),
    "G22": ("accumulation", "runaway"),
    "G23": ("complex", "not destroyed", "licensed"),
    "G24": ("scope", "energetic"),
    "G25": ("scope", "toxic gas"),
    "G26": ("Cr(VI)", "carcinogen", "restricted"),
    "G27": ("flammable", "ignition", "peroxide"),
    "G28": ("nitrogen trichloride", "explosion", "fire"),
    "G29": ("explo", "organic peroxide"),
    "G30": ("hood", "bromine", "condenser"),
}

# Incompatible combinations without a rule of their own would be listed here with the reason.
NOT_ANSWERED: dict[str, str] = {}


def test_every_rule_of_the_table_has_code_and_every_code_a_rule() -> None:
    assert {each.id for each in rules()} - BY_COVERAGE - BY_GOAL == set(REGISTER)


def test_no_rule_is_entered_twice_at_one_severity() -> None:
    keys = [(each.id, each.severity) for each in rules()]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("entry", rules(), ids=lambda each: f"{each.id}-{each.severity}")
def test_every_rule_has_text_a_safer_way_and_public_sources(entry: safety.Rule) -> None:
    assert entry.text.endswith(".")
    assert entry.safer
    assert entry.sources
    kinds = {shipped().sources[key].kind for key in entry.sources}
    # The scope, the house limits and the lack of a review are ours; a danger needs a public source.
    assert kinds != {"practice"} or entry.id in BY_COVERAGE | BY_GOAL
    assert "memory" not in entry.sources


@pytest.mark.parametrize("entry", rules(), ids=lambda each: f"{each.id}-{each.severity}")
def test_every_rule_has_an_id_a_danger_and_a_near_twin(entry: safety.Rule) -> None:
    """The danger and the near miss of one rule differ in one fact, which moves two fields at most."""
    assert re.fullmatch(r"[GU][0-9]{2}", entry.id)
    danger, twin = PAIRS[entry.id, str(entry.severity)]
    assert danger != twin
    changed = {key for key in {*danger, *twin} if danger.get(key) != twin.get(key)}
    assert 1 <= len(changed) <= 2, changed


def test_no_rule_is_asked_by_name() -> None:
    """Rules read kinds and conditions: no module of them holds the name of a substance as text."""
    names = {name.lower() for name, row in shipped().names.items() if len(name) > 5 and row.kind == "common"}
    for module in ("_toxic", "_violent", "_conditions"):
        tree = ast.parse((Path(safety.__file__).parent / f"{module}.py").read_text(encoding="utf-8"))
        called = [n for n in ast.walk(tree) if isinstance(n, ast.Compare)]
        texts = {
            c.value.lower()
            for call in called
            for c in ast.walk(call)
            if isinstance(c, ast.Constant) and isinstance(c.value, str)
        }
        assert not texts & names


@pytest.mark.parametrize(
    "entry", [each for each in rules() if each.severity is Severity.STOP], ids=lambda e: e.id
)
def test_a_stop_rests_on_a_source_that_was_read(entry: safety.Rule) -> None:
    """A handbook that was only recalled may stand beside it, not alone."""
    if entry.id in BY_GOAL | HOUSE_LIMITS:
        return
    sources = shipped().sources
    read = [key for key in entry.sources if "recalled" not in sources[key].note]
    assert [key for key in read if sources[key].kind != "practice"], entry.sources


@pytest.mark.parametrize("name", MUST_SAY)
def test_a_reason_names_its_danger(name: str) -> None:
    for entry in (each for each in rules() if each.id == name):
        assert any(word in entry.text for word in MUST_SAY[name]), entry.text


def test_every_incompatible_combination_is_answered() -> None:
    answered = {number for entry in rules() for number in entry.combinations}
    wanted = {f"C{number:02d}" for number in range(1, 43)}
    assert wanted - answered == set(NOT_ANSWERED)
    assert answered <= wanted


@pytest.mark.parametrize("entry", reviews(), ids=lambda each: f"{each.feed}-{each.ph_min:g}")
def test_every_review_has_a_source_and_a_range(entry: safety.Review) -> None:
    assert all(shipped().sources[key].citation for key in entry.sources)
    assert entry.ph_min < entry.ph_max
    assert entry.oxidants


def test_rules_are_public_and_read_on_demand() -> None:
    assert safety.RULES is rules()
    assert [name for name in safety.__all__ if not hasattr(safety, name)] == []
    with pytest.raises(AttributeError, match="nonsense"):
        _ = safety.nonsense


def test_covers_name_real_kinds() -> None:
    kinds = {str(kind) for kind in Kind}
    groups = {"*", "base", "sulfuric acid"}
    named = {part for entry in rules() for pair in entry.covers for part in pair}
    assert named <= kinds | groups


def test_error_when_a_rule_is_not_in_the_table() -> None:
    with pytest.raises(MissingDataError, match="no rule G99"):
        rule("G99", Severity.STOP)


def test_a_verdict_reads_aloud_with_rule_source_and_safer_way() -> None:
    verdict = review_situation(Situation.of(feed="KCN", oxidant="NaClO", ph=8.5, free_cyanide_g_L=0.1))
    lines = str(verdict).splitlines()
    assert lines[0] == "stop"
    assert any(line.startswith("  stop G03:") and "cyanogen chloride" in line for line in lines)
    assert all("Safer:" in line and line.endswith("]") for line in lines[1:])
    assert verdict.rules[:2] == ("G02", "G03")


def test_the_deferral_names_what_it_does_not_replace() -> None:
    for word in (
        "estimates",
        "risk assessment",
        "calorimetry",
        "safety data sheet",
        "permits",
        "fume hood",
        "second trained person",
        "safety officer",
        "licence",
    ):
        assert word in safety.DEFERRAL


def test_no_function_of_the_library_takes_a_switch_that_overrules_the_gate() -> None:
    forbidden = {"force", "override", "ignore", "unsafe", "skip_gate", "no_gate", "bypass", "allow"}
    root = Path(safety.__file__).parents[1]
    found = {
        f"{path.name}:{node.name}:{argument.arg}"
        for path in root.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef)
        for argument in (*node.args.args, *node.args.kwonlyargs)
        if argument.arg in forbidden
    }
    assert found == set()
