"""A recipe somebody wrote, and a batch that has to add up."""

from __future__ import annotations

from pathlib import Path

import pytest

from redoxlib.bench import Audit, audit, plan, reconcile
from redoxlib.compare import clear, compare
from redoxlib.errors import DomainError, JobError
from redoxlib.quantity import Quantity

GOOD = """\
step,role,charge,amount,minutes
1,water,,1 L,
2,acid,sulfuric acid 50 % w/w,80 mL,10
3,feed,NaBr,103 g,
4,oxidant,hydrogen peroxide 30 % w/w,55 mL,40
5,product,Br2,,
6,quench,Na2SO3,60 g,
6,quench,NaHCO3,90 g,
"""


def audited(text: str, tmp_path: Path) -> Audit:
    file = tmp_path / "charges.csv"
    file.write_text(text, encoding="utf-8")
    return audit(file)


def said(result: Audit) -> str:
    return "\n".join(f.what for f in result.findings)


def test_a_sound_recipe_has_nothing_wrong(tmp_path: Path) -> None:
    result = audited(GOOD, tmp_path)
    assert result.ok, str(result)
    assert result.decision == "caution"
    assert dict(result.equivalents)["oxidant"] == pytest.approx(1.08, abs=0.03)
    assert result.limiting == "feed"
    assert isinstance(result.heat_kj, Quantity)
    assert result.heat_kj.value == pytest.approx(-68.8, abs=2)
    assert isinstance(result.dosing_w, Quantity)
    assert result.dosing_w.value == pytest.approx(-result.heat_kj.value * 1000 / 2400)


@pytest.mark.parametrize(
    ("old", "new", "finding"),
    [
        ("55 mL,40", "90 mL,40", "hidden excess of oxidant"),
        ("55 mL,40", "40 mL,40", "oxidant is short"),
        ("55 mL,40", "55 mL,", "dosing time"),
        ("80 mL,10", "40 mL,10", "acid is short"),
        ("6,quench,NaHCO3,90 g,\n", "", "no base in the quench"),
        ("6,quench,NaHCO3,90 g,", "6,quench,NaHCO3,2 g,", "base in the quench is short"),
        ("6,quench,Na2SO3,60 g,", "6,quench,Na2SO3,1 g,", "reductant in the quench is short"),
        ("6,quench,Na2SO3,60 g,\n6,quench,NaHCO3,90 g,\n", "", "no quench"),
        ("1,water", "9,water", "water into acid"),
        ("3,feed", "8,feed", "oxidant before the feed"),
        ("1,water,,1 L,\n", "1,water,,20 mL,\n", "boil the pot"),
    ],
)
def test_each_fault_is_found(old: str, new: str, finding: str, tmp_path: Path) -> None:
    assert old in GOOD
    result = audited(GOOD.replace(old, new), tmp_path)
    assert finding in said(result), str(result)
    assert finding not in said(audited(GOOD, tmp_path))


BATH = """\
step,role,charge,amount,minutes
1,feed,"FeCl2 1.5 mol/L{}",{},
2,acid,hydrochloric acid 32 % w/w,350 mL,10
3,oxidant,hydrogen peroxide 12 % w/w,450 mL,60
4,product,FeCl3,,
5,quench,Na2SO3,60 g,
5,quench,NaHCO3,90 g,
"""


def test_the_water_of_a_solution_by_volume_takes_up_heat(tmp_path: Path) -> None:
    by_volume, by_moles = (audited(BATH.format("", much), tmp_path) for much in ("2 L", "3 mol"))
    weighed = audited(BATH.format(", density 1.16 g/mL", "2 L"), tmp_path)
    assert isinstance(by_volume.rise_k, Quantity)
    assert isinstance(by_moles.rise_k, Quantity)
    assert isinstance(weighed.rise_k, Quantity)
    assert by_moles.rise_k.value == pytest.approx(by_volume.rise_k.value)
    # The plan of the same charge gives 44 K; with its true density the bath holds more water.
    assert by_volume.rise_k.value == pytest.approx(44, abs=2)
    assert 0.8 * by_volume.rise_k.value < weighed.rise_k.value < by_volume.rise_k.value
    assert "boil the pot" not in said(by_volume)
    assert "the density of 'FeCl2 1.5 mol/L' is not known" in said(by_volume)
    assert "is not known" not in said(weighed)


def test_a_limiting_acid_makes_the_oxidant_an_excess(tmp_path: Path) -> None:
    result = audited(GOOD.replace("80 mL,10", "40 mL,10"), tmp_path)
    assert result.limiting == "acid"
    assert result.excess is not None
    assert result.excess > 0.5


@pytest.mark.parametrize(
    "text",
    [
        "step,role,charge,amount\n1,acid,sulfuric acid 50 % w/w,50 mL\n2,feed,NaCN,49 g\n"
        "3,oxidant,NaOCl 12.5 % w/w,600 g\n4,product,NaOCN,\n",
        GOOD.replace("hydrogen peroxide 30 % w/w", "hydrogen peroxide 50 % w/w"),
    ],
)
def test_a_stopped_recipe_gets_reasons_and_no_numbers(text: str, tmp_path: Path) -> None:
    result = audited(text, tmp_path)
    assert result.decision == "stop"
    assert result.worst is not None
    assert result.worst.severity == "stop"
    assert result.equivalents == ()
    assert [result.heat_kj, result.rise_k, result.excess, result.dosing_w] == [None] * 4
    assert not result.ok


def test_error_names_every_line_at_fault(tmp_path: Path) -> None:
    text = GOOD.replace("103 g", "103").replace("2,acid", "2,sour")
    with pytest.raises(JobError) as caught:
        audited(text, tmp_path)
    assert len(caught.value.faults) == 2
    assert "charges.csv:3" in caught.value.faults[0]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("1,water", "first,water", "step 'first' is no whole number"),
        ("55 mL,40", "55 mL,soon", "minutes 'soon' is no number"),
        ("55 mL,40", "55 mL,-3", "minutes -3 is not above zero"),
        ("3,feed,NaBr,103 g", "3,feed,NaBr,", "NaBr: no amount"),
    ],
)
def test_error_says_which_cell(old: str, new: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(JobError, match=message):
        audited(GOOD.replace(old, new), tmp_path)


def test_error_when_a_column_is_missing(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="amount"):
        audited("step,role,charge\n", tmp_path)


def test_error_when_the_file_is_missing(tmp_path: Path) -> None:
    with pytest.raises(JobError):
        audit(tmp_path / "none.csv")


def test_error_without_a_product(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="product"):
        audited(GOOD.replace("5,product,Br2,,\n", ""), tmp_path)


BROMIDE = plan(clear(compare("Br^- -> Br2", oxidants=["H2O2"], amount="1 mol").route("H2O2")))


class TestClosure:
    """Product + dissolved + unreacted + quenched + carried = theory, within 2 %."""

    def test_everything_found_closes(self) -> None:
        result = reconcile(
            BROMIDE,
            product="61.4 g",
            found={"dissolved": "8.0 g", "unreacted": "0.05 mol", "quenched": "0.03 mol", "carried": "1.5 g"},
        )
        # 0.05 mol of bromide is 0.025 mol of bromine
        total = 61.4 + 8.0 + 0.025 * 159.81 + 0.03 * 159.81 + 1.5
        assert result.closure.value == pytest.approx(100 * total / 79.904, rel=1e-4)
        assert not result.flagged
        assert "closes" in result.remark

    def test_what_is_left_unexplained_is_theory_less_everything_found(self) -> None:
        result = reconcile(BROMIDE, product="60.0 g", purity=0.9, found={"dissolved": "8.0 g"})
        assert result.percent.value == pytest.approx(100 * 54.0 / 79.904, rel=1e-4)
        assert result.unexplained.value == pytest.approx(79.904 - 54.0 - 8.0, rel=1e-3)

    def test_what_is_missing_is_flagged_beyond_two_per_cent(self) -> None:
        result = reconcile(BROMIDE, product="61.40 g", found={"dissolved": "8.0 g"})
        assert result.flagged
        assert "missing" in result.remark

    def test_tolerances_of_burette_and_balance_add_in_quadrature(self) -> None:
        result = reconcile(
            BROMIDE,
            product=Quantity(70.0, "g", 0.3),
            found={"dissolved": Quantity(8.0, "g", 0.4)},
        )
        assert result.closure.uncertainty == pytest.approx(100 * 0.5 / 79.904, rel=1e-4)

    def test_error_when_less_than_nothing_was_found(self) -> None:
        with pytest.raises(DomainError, match="below zero"):
            reconcile(BROMIDE, product="60 g", found={"dissolved": "-3 g"})

    def test_error_when_a_place_is_unknown(self) -> None:
        with pytest.raises(DomainError, match="no place"):
            reconcile(BROMIDE, product="60 g", found={"disolved": "1 g"})

    def test_error_when_an_amount_is_neither_mass_nor_moles(self) -> None:
        with pytest.raises(DomainError, match="carried"):
            reconcile(BROMIDE, product="60 g", found={"carried": "3 min"})
