"""The command line in process: output, exit codes, JSON, and what a person sees when the input is bad."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from redoxlib.cli import main

BROMIDE = "Br^- -> Br2"
FEW = (
    "--oxidant",
    "H2O2",
    "--oxidant",
    "KMnO4",
    "--oxidant",
    "NaClO3",
    "--oxidant",
    "Fe3+",
    "--oxidant",
    "O2",
)


class Ran(NamedTuple):
    code: int
    out: str
    err: str


class Runner:
    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *arguments: str) -> Ran:
        code = main(arguments)
        captured = self.capsys.readouterr()
        return Ran(code, captured.out, captured.err)

    def json(self, *arguments: str, code: int = 0) -> Any:
        ran = self(*arguments, "--json")
        assert ran.code == code, ran.err
        return json.loads(ran.out, parse_constant=_no_constant)


def deferrals(text: str) -> int:
    from redoxlib.safety import DEFERRAL

    return " ".join(text.split()).count(" ".join(DEFERRAL.split()))


def _no_constant(name: str) -> None:
    raise AssertionError(f"{name} is no JSON")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Runner:
    monkeypatch.setenv("COLUMNS", "80")
    return Runner(capsys)


class TestStoichiometry:
    def test_balance_prints_the_equation_alone_where_it_is_unique(self, run: Runner) -> None:
        ran = run("balance", "MnO4- + Fe2+ + H+ -> Mn2+ + Fe3+ + H2O")
        assert ran == Ran(0, "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O\n", "")

    def test_balance_shows_the_family_and_its_choice_where_it_is_not(self, run: Runner) -> None:
        ran = run("balance", "MnO4- + H2O2 + H+ -> Mn2+ + O2 + H2O")
        assert ran.code == 0
        assert ran.out.splitlines()[0] == "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"
        assert "2 independent equations" in ran.out
        assert "  - 2 H2O2 -> O2 + 2 H2O" in ran.out

    def test_a_pinned_ratio_decides(self, run: Runner) -> None:
        ran = run(
            "balance", "MnO4- + H2O2 + H+ -> Mn2+ + O2 + H2O", "--ratio", "H2O2=5", "--ratio", "MnO4-=2"
        )
        assert ran.out.splitlines()[0] == "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"
        assert "independent" not in ran.out

    @pytest.mark.parametrize(("style", "start"), [("unicode", "2 H₂ + O₂"), ("latex", "\\ce{2 H2 + O2")])
    def test_balance_writes_other_styles(self, run: Runner, style: str, start: str) -> None:
        assert run("balance", "H2 + O2 -> H2O", "--style", style).out.startswith(start)

    def test_balance_as_json(self, run: Runner) -> None:
        data = run.json("balance", "H2 + O2 -> H2O")
        assert data["schema"] == "redoxlib/balance/1"
        assert data["equation"]["reactants"] == [[2, "H2"], [1, "O2"]]

    def test_complete_adds_what_the_medium_offers(self, run: Runner) -> None:
        assert run("complete", "MnO4- + Fe2+ -> Mn2+ + Fe3+").out == (
            "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O\n"
        )
        assert "OH^-" in run("complete", "MnO4- + CN- -> MnO2 + OCN-", "--medium", "base").out

    def test_check_passes_a_balanced_equation(self, run: Runner) -> None:
        assert run("check", "2 H2 + O2 -> 2 H2O") == Ran(0, "balanced: 2 H2 + O2 -> 2 H2O\n", "")

    def test_check_fails_an_unbalanced_one_with_code_1(self, run: Runner) -> None:
        ran = run("check", "H2 + O2 -> H2O")
        assert ran.code == 1
        assert ran.out.startswith("not balanced: O 1 too many on the left\n")
        assert ran.err == ""

    def test_check_as_json_keeps_exact_numbers(self, run: Runner) -> None:
        data = run.json("check", "1/2 O2 + H2 -> 2 H2O", code=1)
        assert data["balanced"] is False
        assert data["equation"]["reactants"][0] == ["1/2", "O2"]
        assert data["residual"] == {"H": -2, "O": -1}

    def test_oxidation_numbers(self, run: Runner) -> None:
        ran = run("oxidation", "Fe3O4")
        assert ran.code == 0
        assert "+8/3" in ran.out or ("+3" in ran.out and "+2" in ran.out)
        data = run.json("oxidation", "MnO4^-")
        assert data["numbers"]["Mn"] == [{"number": 7, "count": 1}]


class TestVerify:
    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        (tmp_path / "notes.md").write_text(
            "- 2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O\n"
            "1. `H2 + O2 -> H2O` is wrong\n"
            "Reaction 3: 2 Na + Cl2 -> 2 NaCl.\n"
            "| a | 2 H2 + O2 → 2 H2O |\n"
            "Br- -> Br2 is a conversion, S2O8^2- -> 2 SO4^2- a couple.\n"
            "I went -> home + back; one -> two + three\n"
            "H2 + Cl2 -> HCl (redoxlib: skip)\n",
            encoding="utf-8",
        )
        (tmp_path / "code.py").write_text(
            "def f(x: int) -> str:\n    g = lambda a: a\n"
            "    return balance('2 H2 + O2 -> 2 H2O')\n# H2 + Br2 -> HBr\n",
            encoding="utf-8",
        )
        (tmp_path / "text.tex").write_text(
            r"\ce{MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O} and $x \rightarrow y + z$" + "\n", encoding="utf-8"
        )
        (tmp_path / "table.csv").write_text(
            'n,eq\n1,"2 H2 + O2 -> 2 H2O"\n2,N2 + H2 -> NH3\n', encoding="utf-8"
        )
        return tmp_path

    def test_names_file_and_line_of_each_fault(self, run: Runner, folder: Path) -> None:
        ran = run("verify", str(folder))
        assert ran.code == 1
        heads = [line for line in ran.out.splitlines() if "not balanced:" in line]
        assert [line.split(": not")[0] for line in heads] == [
            f"{folder}/code.py:4",
            f"{folder}/notes.md:2",
            f"{folder}/table.csv:3",
        ]
        assert ran.out.splitlines()[-1] == "9 equations, 3 not balanced"

    def test_passes_a_file_that_is_right(self, run: Runner, folder: Path) -> None:
        assert run("verify", str(folder / "text.tex")) == Ran(0, "1 equation, 0 not balanced\n", "")

    def test_as_json(self, run: Runner, folder: Path) -> None:
        data = run.json("verify", str(folder), code=1)
        assert (data["equations"], data["unbalanced"]) == (9, 3)
        assert {"file", "line", "text", "check", "marked_wrong", "as_meant", "fix"} == set(
            data["findings"][0]
        )

    def test_a_path_that_does_not_exist_is_bad_input(self, run: Runner) -> None:
        ran = run("verify", "/no/such/file.md")
        assert (ran.code, ran.out) == (2, "")
        assert "/no/such/file.md cannot be read" in ran.err


class TestCompare:
    def test_prints_a_ranking_the_reasons_and_the_deferral_once(self, run: Runner) -> None:
        ran = run("compare", BROMIDE, *FEW)
        assert ran.code == 0
        assert ran.err == ""
        for words in (
            "Ranked: 2 of 5",
            "Stopped by the gate",
            "Not feasible",
            "inert or too slow",
            "[nrc2011]",
        ):
            assert words in ran.out
        assert deferrals(ran.out) == 1
        assert max(map(len, ran.out.splitlines())) <= 80

    def test_without_a_terminal_nothing_but_text_is_written(self, run: Runner) -> None:
        ran = run("compare", BROMIDE, *FEW)
        assert "\x1b" not in ran.out
        assert ran.err == ""

    def test_json_holds_the_groups_and_no_quantities_for_what_is_stopped(self, run: Runner) -> None:
        data = run.json("compare", BROMIDE, *FEW)
        assert data["schema"] == "redoxlib/comparison/1"
        assert [group["routes"][0]["oxidant"]["key"] for group in data["ranked"]] == ["H2O2", "KMnO4"]
        (refused,) = data["refused"]
        assert set(refused) == {"oxidant", "rule", "reason", "source", "sources", "safer"}
        assert refused["oxidant"]["key"] == "NaClO3"
        assert data["infeasible"][0]["oxidant"]["key"] == "Fe3+"
        assert data["inert"][0]["oxidant"]["key"] == "O2"

    def test_options_reach_the_job(self, run: Runner) -> None:
        data = run.json(
            "compare", BROMIDE, "--oxidant", "H2O2", "--amount", "0.5 mol", "--excess", "5 %",
            "--medium", "1", "--weight", "mass=3", "--bottle", "hydrogen peroxide 3 % w/w",
            "--concentration", "2 mol/L", "--impurity", "NaCl=2 % w/w", "--cooling", "50 W",
            "--context", "teaching", "--time", "20 d",
        )  # fmt: skip
        job = data["job"]
        assert job["amount"]["value"] == 0.5
        assert job["excess"] == 0.05
        assert job["ph"] == 1
        assert job["weights"]["mass"] == 3
        assert job["weights"]["by_products"] == 1.5
        assert job["bottles"] == ["hydrogen peroxide 3 % w/w"]
        assert job["impurities"][0]["species"] == "NaCl"
        (group,) = data["ranked"]
        oxidant = next(c for c in group["routes"][0]["charges"] if c["role"] == "oxidant")
        assert "3 %" in oxidant["label"]

    def test_reads_a_job_file(self, run: Runner, tmp_path: Path) -> None:
        file = tmp_path / "job.toml"
        file.write_text(
            'conversions = "Br^- -> Br2"\namount = "0.25 mol"\noxidants = ["H2O2"]\n', encoding="utf-8"
        )
        assert "amount 0.25 mol" in run("compare", str(file)).out

    def test_shows_another_route_in_detail_when_asked(self, run: Runner) -> None:
        assert "In detail: potassium permanganate" in run("compare", BROMIDE, *FEW, "--detail", "KMnO4").out

    def test_detail_of_a_stopped_route_is_stopped_too(self, run: Runner) -> None:
        ran = run("compare", BROMIDE, *FEW, "--detail", "NaClO3")
        assert (ran.code, ran.out) == (3, "")
        assert "chlorine dioxide" in ran.err

    def test_explain_says_why(self, run: Runner) -> None:
        ran = run("explain", BROMIDE, "H2O2", "KMnO4", *FEW)
        assert ran.code == 0
        assert "hydrogen peroxide" in ran.out
        assert "stands above potassium permanganate" in " ".join(ran.out.split())
        assert max(map(len, ran.out.splitlines())) <= 80
        assert run.json("explain", BROMIDE, "H2O2", "KMnO4", *FEW)["schema"] == "redoxlib/explanation/1"


class TestGate:
    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            (("Cl^- -> Cl2",), "Out of scope"),
            (("CN^- -> OCN^-", "--medium", "acid"), "hydrogen cyanide"),
            (("S^2- -> S", "--medium", "3", "--oxidant", "H2O2"), "hydrogen sulfide"),
            ((BROMIDE, "--oxidant", "NaClO3"), "chlorine dioxide"),
        ],
    )
    def test_a_forbidden_goal_or_medium_ends_with_code_3(
        self, run: Runner, arguments: tuple[str, ...], says: str
    ) -> None:
        ran = run("compare", *arguments)
        assert ran.code == 3
        assert says in ran.err
        assert ran.err.startswith("redoxlib: stopped by the gate: ")
        assert "Stopped by the gate" in ran.out
        for word in ("Charge", "Largest yield", " mL"):
            assert word not in ran.out

    def test_planning_a_stopped_route_prints_no_plan(self, run: Runner) -> None:
        ran = run("plan", BROMIDE, "--oxidant", "NaClO3")
        assert (ran.code, ran.out) == (3, "")
        assert "source: " in ran.err
        assert "safer: " in ran.err

    def test_planning_an_unreviewed_route_prints_no_plan(self, run: Runner) -> None:
        ran = run("plan", BROMIDE, "--oxidant", "K2FeO4")
        assert (ran.code, ran.out) == (3, "")
        assert "not reviewed" in ran.err

    def test_json_of_a_forbidden_goal_is_whole(self, run: Runner) -> None:
        data = run.json("compare", "Cl^- -> Cl2", code=3)
        assert data["ranked"] == []
        assert len(data["refused"]) > 10


class TestPlan:
    def test_plan_why_and_reconcile_agree(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2", "--amount", "0.80 mol")
        plan = run.json("plan", *job)
        assert plan["schema"] == "redoxlib/plan/1"
        base = plan["entries"]["quench.base.mol"]["value"]["value"]
        why = run.json("why", "quench.base.mol", *job)
        assert why["value"]["value"] == base
        text = run("why", "quench.base.mol", *job).out
        assert text.startswith("quench.base.mol = ")
        grams = plan["entries"]["yield.g"]["value"]["value"]
        done = run.json("reconcile", *job, "--product", f"{grams / 2:.2f} g")
        assert done["percent"]["value"] == pytest.approx(50, abs=0.05)

    def test_the_plan_shows_warnings_above_the_charge(self, run: Runner) -> None:
        out = run("plan", BROMIDE, "--oxidant", "H2O2").out
        assert out.index("  ! Bromine") < out.index("hydrogen peroxide 30 % w/w")
        assert deferrals(out) == 1

    def test_the_plan_says_the_whole_way_in_order(self, run: Runner) -> None:
        out = run("plan", BROMIDE, "--oxidant", "H2O2", "--dosing", "30 min", "--hood", "0.3 m3/s").out
        parts = (
            "Before anything is opened",
            "Order of addition",
            "Getting the product out",
            "Quench",
            "Keeping the product",
            "Waste",
            "Every number and its key",
        )
        places = [out.index(f"\n{part}") for part in parts]
        assert places == sorted(places)
        assert "Never with" in out

    def test_dosing_given_is_the_dosing_planned(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2")
        assert run.json("why", "dose.min", *job, "--dosing", "30 min")["value"]["value"] == pytest.approx(30)

    def test_what_was_found_elsewhere_closes_the_balance(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2", "--amount", "0.80 mol")
        grams = run.json("plan", *job)["entries"]["yield.g"]["value"]["value"]
        half = f"{grams / 2:.2f} g"
        done = run.json("reconcile", *job, "--product", half, "--found", f"dissolved={half}")
        assert done["closure"]["value"] == pytest.approx(100, abs=0.05)
        assert not done["flagged"]

    def test_product_above_theory_is_a_finding(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2", "--amount", "0.80 mol")
        grams = run.json("plan", *job)["entries"]["yield.g"]["value"]["value"]
        heavy = ("reconcile", *job, "--product", f"{1.2 * grams:.2f} g")
        done = run.json(*heavy, code=1)
        assert done["above_theory"]
        assert done["flagged"]
        ran = run(*heavy)
        assert ran.code == 1
        assert "! More than theory" in ran.out

    def test_why_gives_the_shares_of_the_variance(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2", "--amount", "0.80 mol")
        found = run.json("why", "heat.rise.K", *job)["spread"]
        shares = [part["share"] for part in found]
        assert shares == sorted(shares, reverse=True)
        assert 0.9 < sum(shares) <= 1.0 + 1e-9
        assert run.json("plan", *job)["entries"]["heat.rise.K"]["spread"] == found
        assert all(part["input"] in run("why", "heat.rise.K", *job).out for part in found)

    def test_product_mass_scales_the_charge(self, run: Runner) -> None:
        plan = run.json("plan", BROMIDE, "--oxidant", "H2O2", "--product-mass", "50 g")
        assert plan["entries"]["yield.g"]["value"]["value"] == pytest.approx(50)

    def test_without_an_oxidant_the_first_placed_is_planned_and_named(
        self, run: Runner, tmp_path: Path
    ) -> None:
        file = tmp_path / "job.toml"
        file.write_text('conversions = "Br^- -> Br2"\noxidants = ["H2O2", "KMnO4"]\n', encoding="utf-8")
        ran = run("plan", str(file))
        assert ran.code == 0
        assert "hydrogen peroxide is first-placed" in ran.err

    def test_a_first_placed_oxidant_of_unknown_pace_is_said_to_be_one(
        self, run: Runner, tmp_path: Path
    ) -> None:
        file = tmp_path / "job.toml"
        text = 'conversions = "Ag -> AgNO3"\namount = "31 g"\nbottles = ["nitric acid 65 % w/w"]\n'
        file.write_text(text, encoding="utf-8")
        assert "its pace is unknown, as is that of every other route placed" in run("plan", str(file)).err
        placed = run.json("compare", str(file))["ranked"]
        assert {route["kinetics"]["verdict"] for group in placed for route in group["routes"]} == {"unknown"}
        known = tmp_path / "known.toml"
        known.write_text('conversions = "Br^- -> Br2"\noxidants = ["H2O2", "KMnO4"]\n', encoding="utf-8")
        assert "pace" not in run("plan", str(known)).err

    def test_what_ties_with_the_first_placed_is_named(self, run: Runner, tmp_path: Path) -> None:
        file = tmp_path / "job.toml"
        text = 'conversions = "I^- -> I2"\nfeed = "KI"\ncontext = "teaching"\noxidants = ["KIO3", "H2O2"]\n'
        file.write_text(text, encoding="utf-8")
        assert "potassium iodate is first-placed, level with H2O2" in run("plan", str(file)).err

    def test_the_best_placed_on_the_shelf_is_named_where_another_is_planned(
        self, run: Runner, tmp_path: Path
    ) -> None:
        file = tmp_path / "job.toml"
        text = 'conversions = "Br^- -> Br2"\noxidants = ["H2O2", "KMnO4"]\nbottles = ["{}"]\n'
        file.write_text(text.format("potassium permanganate"), encoding="utf-8")
        told = run("plan", str(file)).err
        assert "hydrogen peroxide is first-placed, not on the shelf; KMnO4 (place 2) is" in told
        file.write_text(text.format("hydrogen peroxide 30 % w/w"), encoding="utf-8")
        assert "shelf" not in run("plan", str(file)).err

    def test_a_plan_ranks_nothing_and_shows_no_weights(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2")
        assert "Weights" not in run("plan", *job).out
        assert "Weights" in run("compare", *job).out

    def test_a_context_that_is_no_preset_says_so(self, run: Runner) -> None:
        job = (BROMIDE, "--oxidant", "H2O2", "--context")
        assert "'school' is read as a circumstance" in run("compare", *job, "school").out
        assert "read as a circumstance" not in run("compare", *job, "teaching").out

    def test_an_unknown_key_offers_near_ones(self, run: Runner) -> None:
        ran = run("why", "quench.base", BROMIDE, "--oxidant", "H2O2")
        assert ran.code == 2
        assert "quench.base.mol" in ran.err


class TestTables:
    def test_data_lists_every_value_and_marks_the_chosen(self, run: Runner) -> None:
        ran = run("data", "Br2")
        assert ran.code == 0
        starred = [line for line in ran.out.splitlines() if line.lstrip().startswith("* ")]
        assert any("Br2(aq)" in line and "dfG" in line for line in starred)
        assert "[cox1989] J. D. Cox" in ran.out

    def test_data_as_json_names_sources(self, run: Runner) -> None:
        data = run.json("data", "MnO4^-(aq)")
        assert data["formation"]
        assert all(row["source"].split(";")[0] in data["sources"] for row in data["formation"])

    def test_data_of_a_stranger_is_bad_input(self, run: Runner) -> None:
        ran = run("data", "HfRe9")
        assert (ran.code, ran.out) == (2, "")
        assert "no table holds" in ran.err

    def test_a_rule_of_the_gate_is_traced_to_its_sources(self, run: Runner) -> None:
        ran = run("data", "G02")
        assert ran.code == 0
        assert "stop: cyanide below pH 10" in ran.out
        assert "[nrc2011] National Research Council, Prudent Practices" in ran.out
        data = run.json("data", "G02")
        assert {entry["severity"] for entry in data["entries"]} == {"stop", "unreviewed"}
        assert set(data["entries"][0]["sources"]) <= set(data["sources"])

    def test_a_hazard_statement_is_traced_to_its_wording_and_its_substances(self, run: Runner) -> None:
        ran = run("data", "H350")
        assert ran.code == 0
        assert "[ghs_annex3] United Nations" in ran.out
        data = run.json("data", "H350")
        assert data["tier"] == 30
        assert "K2Cr2O7" in {row["formula"] for row in data["substances"]}

    def test_a_substance_known_by_name_alone_says_so(self, run: Runner) -> None:
        ran = run("data", "magnesite")
        assert ran.code == 0
        assert "hold no number" in ran.out
        assert "[chemicals_identifiers]" in ran.out

    def test_oxidants_are_listed_with_their_keys(self, run: Runner) -> None:
        ran = run("oxidants")
        assert "hydrogen peroxide" in ran.out
        keys = {row["key"] for row in run.json("oxidants")["oxidants"]}
        assert {"H2O2", "KMnO4", "NaOCl", "anode"} <= keys


class TestStart:
    def test_writes_a_file_that_compare_reads(self, run: Runner, tmp_path: Path) -> None:
        file = tmp_path / "job.toml"
        ran = run("start", "I^- -> I2", "-o", str(file))
        assert ran.code == 0
        assert f"wrote {file}" in ran.out
        from redoxlib.job import Job

        assert str(Job.read(file).conversions[0]) == "I^- -> I2"

    def test_never_overwrites(self, run: Runner, tmp_path: Path) -> None:
        file = tmp_path / "job.toml"
        file.write_text("mine", encoding="utf-8")
        ran = run("start", "I^- -> I2", "-o", str(file))
        assert ran.code == 2
        assert "is left alone" in ran.err
        assert file.read_text(encoding="utf-8") == "mine"

    def test_bad_conversion_leaves_no_file(self, run: Runner, tmp_path: Path) -> None:
        file = tmp_path / "job.toml"
        assert run("start", "I^- -> Xx", "-o", str(file)).code == 2
        assert not file.exists()

    def test_without_a_file_the_text_goes_to_standard_output(self, run: Runner) -> None:
        assert run("start", "I^- -> I2").out.startswith("# Job for redoxlib: I^- -> I2\n")


BAD = [
    (("balance", "Xx + O2 -> XxO2"), "unknown element 'Xx'"),
    (("balance", "Ca(OH2 + HCl -> CaCl2 + H2O"), "'(' is never closed"),
    (("balance", "Fe^2+ -> Fe^3+"), "add e^- on the right"),
    (("balance", "Na + O2 -> CaO"), "Na occurs only on the left"),
    (("balance", "H2 + O2"), "arrow"),
    (("compare", BROMIDE, "--amount", "0 mol"), "amount: 0 mol must be more than zero"),
    (("compare", BROMIDE, "--amount=-1 mol"), "amount: -1 mol must be more than zero"),
    (("compare", BROMIDE, "--amount", "5"), "amount: "),
    (("compare", BROMIDE, "--bottle", "hydrogen peroxide 135 % w/w"), "cannot exceed 100 %"),
    (("compare", BROMIDE, "--bottle", "hydrogen peroxide 30 %"), "a percentage needs its basis"),
    (("compare", BROMIDE, "--oxidant", "potassium permangnate"), "did you mean potassium permanganate"),
    (("compare", BROMIDE, "--feed", "KI"), "does not contain Br^-"),
    (("compare", BROMIDE, "--medium", "sour"), "neither acid, neutral, base nor a pH"),
    (("compare", BROMIDE, "--excess", "900"), "lies outside 0 to 5"),
    (("compare", BROMIDE, "--weight", "mss=3"), "'mss' is none of mass"),
    (("compare", BROMIDE, "--weight", "mass=much"), "'much' is no number"),
    (("compare", BROMIDE, "--purpose", "play"), "'play' is none of make, remove"),
    (("compare", "Br2 -> Br^-"), "the conversion runs the other way"),
    (("compare", "Br^- -> I2"), "share the element"),
    (("compare", "Br2"), "no arrow"),
    (("compare", "Br" * 3000), "no arrow"),
    (("compare", "no-such-file.toml"), "there is no job file no-such-file.toml"),
    (("oxidation", "Q5"), "unknown element"),
    (("plan", BROMIDE, "--oxidant", "Fe3+"), "infeasible"),
    (("reconcile", BROMIDE, "--oxidant", "H2O2", "--product", "12"), "unit"),
    (
        ("reconcile", BROMIDE, "--oxidant", "H2O2", "--product", "12 g", "--purity", "97"),
        "not a mass fraction",
    ),
]


@pytest.mark.parametrize(("arguments", "says"), BAD, ids=[" ".join(a)[:60] for a, _ in BAD])
def test_bad_input_gives_one_clear_message_and_code_2(
    run: Runner, arguments: tuple[str, ...], says: str
) -> None:
    ran = run(*arguments)
    assert ran.code == 2
    assert ran.out == ""
    assert says in ran.err
    assert ran.err.startswith("redoxlib: ")
    assert ran.err.count("redoxlib: ") == 1
    assert "Traceback" not in ran.err


def test_bad_input_prints_no_half_of_a_json_document(run: Runner) -> None:
    ran = run("compare", BROMIDE, "--amount", "0 mol", "--json")
    assert (ran.code, ran.out) == (2, "")


def test_a_fault_in_the_text_is_underlined(run: Runner) -> None:
    assert run("balance", "KMmO4 + H2O2 -> MnSO4").err == (
        "redoxlib: unknown element 'Mm'\n  KMmO4 + H2O2 -> MnSO4\n   ^^\n  did you mean 'Mn'?\n"
    )


def test_all_faults_of_a_job_file_come_at_once(run: Runner, tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_text('conversions = "Br^- -> Br2"\namonut = "1 mol"\nexcess = true\n', encoding="utf-8")
    ran = run("compare", str(file))
    assert ran.code == 2
    assert f"{file}:2: amonut: unknown key; did you mean 'amount'?" in ran.err
    assert f"{file}:3: excess: True is true or false, wanted is a text or a number" in ran.err


@pytest.mark.parametrize("arguments", [(), ("frobnicate",), ("balance",), ("reconcile", BROMIDE)])
def test_unusable_arguments_exit_with_2(
    arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("redoxlib: ")
    assert "usage: redoxlib" in said.err
    assert len(said.err.splitlines()) == 2


@pytest.mark.parametrize("dosing", ["-5min", "-5 min", "-.5 h"])
def test_a_value_may_begin_with_a_minus_and_is_judged_as_what_it_is(run: Runner, dosing: str) -> None:
    ran = run("plan", BROMIDE, "--oxidant", "H2O2", "--amount", "0.1 mol", "--dosing", dosing)
    assert ran.code == 2
    assert "above zero" in ran.err
    assert "usage" not in ran.err


def test_a_mistyped_command_is_told_its_neighbour(run: Runner) -> None:
    ran = run("balnce", "H2 + O2 -> H2O")
    assert (ran.code, ran.out) == (2, "")
    assert "did you mean 'balance'?" in ran.err


def test_an_error_as_json_keeps_its_fields(run: Runner) -> None:
    ran = run("balance", "KMmO4 + H2O2 -> MnSO4", "--json")
    assert (ran.code, ran.out) == (2, "")
    told = json.loads(ran.err)
    assert told == {
        "schema": "redoxlib/error/1",
        "error": "NotationError",
        "message": "unknown element 'Mm'",
        "source": "KMmO4 + H2O2 -> MnSO4",
        "span": [1, 3],
        "hint": "did you mean 'Mn'?",
        "fields": {},
        "exit_code": 2,
    }


def test_a_stop_as_json_names_rule_reason_and_source(run: Runner) -> None:
    ran = run("plan", BROMIDE, "--oxidant", "NaClO3", "--json")
    assert (ran.code, ran.out) == (3, "")
    told = json.loads(ran.err)
    assert (told["error"], told["exit_code"]) == ("UnsafeRouteError", 3)
    assert told["fields"]["reasons"]
    assert all(reason["source"] for reason in told["fields"]["reasons"])


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    import redoxlib

    with pytest.raises(SystemExit) as stop:
        main(["--version"])
    assert stop.value.code == 0
    assert capsys.readouterr().out == f"redoxlib {redoxlib.__version__}\n"


def test_a_reader_that_goes_away_is_no_error() -> None:
    command = f'"{sys.executable}" -m redoxlib oxidants | head -n 1; echo "${{PIPESTATUS[0]}}"'
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=True)
    assert done.stderr == ""
    assert done.stdout.splitlines()[-1] == "0"


def test_progress_waits_and_wipes_itself(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from redoxlib import cli

    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    with cli._Progress() as progress:
        progress(0, 2, "first")
        assert capsys.readouterr().err == ""
        progress._start -= 2
        progress(1, 2, "second")
        assert "1 of 2: second" in capsys.readouterr().err
    assert capsys.readouterr().err == "\r\033[K"


RECIPE = """\
step,role,charge,amount,minutes
1,water,,1 L,
2,acid,sulfuric acid 50 % w/w,80 mL,10
3,feed,NaBr,103 g,
4,oxidant,hydrogen peroxide 30 % w/w,55 mL,40
5,product,Br2,,
6,quench,Na2SO3,60 g,
6,quench,NaHCO3,90 g,
"""


class TestAudit:
    @pytest.mark.parametrize(
        ("old", "new", "code", "said"),
        [
            ("", "", 0, "1.09 of what"),
            ("80 mL,10", "40 mL,10", 1, "acid is short"),
            ("hydrogen peroxide 30 % w/w,55 mL", "NaClO3,40 g", 3, "stop"),
            ("103 g", "plenty", 2, "charges.csv:4"),
        ],
    )
    def test_the_code_follows_the_worst_finding(
        self, run: Runner, tmp_path: Path, old: str, new: str, code: int, said: str
    ) -> None:
        recipe = tmp_path / "charges.csv"
        recipe.write_text(RECIPE.replace(old, new, 1) if old else RECIPE, encoding="utf-8")
        ran = run("audit", str(recipe))
        assert ran.code == code, ran.out + ran.err
        assert said in ran.out + ran.err
        assert (ran.out == "") == (code == 2)

    def test_json_of_a_stopped_recipe_holds_no_amount(self, run: Runner, tmp_path: Path) -> None:
        recipe = tmp_path / "charges.csv"
        recipe.write_text(RECIPE.replace("hydrogen peroxide 30 % w/w,55 mL", "NaClO3,40 g"), encoding="utf-8")
        data = run.json("audit", str(recipe), code=3)
        assert data["schema"] == "redoxlib/audit/1"
        assert data["findings"][0]["severity"] == "stop"
        assert (data["equivalents"], data["heat_kj"], data["equation"]) == ([], None, "")


def test_the_gate_is_not_blamed_where_data_are_missing(run: Runner) -> None:
    ran = run("compare", "Np^4+ -> NpO2^2+")
    assert ran.code == 0
    assert "stopped by the gate" not in ran.err


def test_an_option_of_which_a_job_has_one_is_refused_the_second_time(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["compare", "I^- -> I2", "--context", "teaching", "--context", "no hood"]) == 2
    assert "--context: given twice, 'teaching' and 'no hood'; a job has one" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--dosing", "15"), ("dosing: a bare number", "write '15 min' or '1 h'")),
        (("--hood", "0.3"), ("hood: a bare number", "write '0.3 m3/s'")),
        (("--product-mass", "50"), ("product_mass: a bare number", 'write "50 g"')),
        (("--dosing", "15 g"), ("dosing 15 g is no min", "write '15 min' or '1 h'")),
    ],
)
def test_a_number_without_a_unit_is_told_with_its_option(
    run: Runner, options: tuple[str, str], told: tuple[str, str]
) -> None:
    ran = run("plan", BROMIDE, "--oxidant", "H2O2", *options)
    assert ran.code == 2
    assert all(words in ran.err for words in told), ran.err


def test_a_yield_is_weighed(run: Runner) -> None:
    ran = run("reconcile", BROMIDE, "--oxidant", "H2O2", "--product", "2.9 mol")
    assert ran.code == 2
    assert "product 2.9 mol is no mass" in ran.err
    assert "'61.4 g'" in ran.err


def test_the_help_of_the_vessel_names_all_that_the_job_takes(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(("compare", "--help"))
    assert "open, vented, closed or sealed" in " ".join(capsys.readouterr().out.split())
