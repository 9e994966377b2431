"""A job reads what people write, states its defaults, and lists every fault with its key."""

from __future__ import annotations

import pickle
from typing import Any

import pytest

from redoxlib.errors import JobError
from redoxlib.job import _EXAMPLES, CRITERIA, Conversion, Job
from redoxlib.notation import Species


def test_a_conversion_of_ions_is_read_as_written() -> None:
    conversion = Conversion.parse("Br^- -> Br2")
    assert conversion.feed == Species.parse("Br^-")
    assert conversion.target == Species.parse("Br2")
    assert conversion.feed_compound is None


def test_a_conversion_of_salts_names_the_ions_that_change() -> None:
    conversion = Conversion.parse("FeSO4 -> Fe2(SO4)3")
    assert conversion.feed == Species.parse("Fe^2+")
    assert conversion.target == Species.parse("Fe^3+")
    assert conversion.feed_compound == Species.parse("FeSO4")
    assert conversion.target_compound == Species.parse("Fe2(SO4)3")


def test_defaults_are_stated() -> None:
    said = " ".join(Job("Br^- -> Br2").defaults)
    for word in ("pH 0", "1 mol of feed", "1 mol/L", "10 %", "24 h"):
        assert word in said


@pytest.mark.parametrize("feed", ["CN^- -> OCN^-", "NaCN -> NaOCN", "HS^- -> S", "S^2- -> S"])
def test_feeds_that_would_free_a_toxic_gas_default_to_alkali(feed: str) -> None:
    assert Job(feed).ph == 11.0


def test_water_to_be_treated_defaults_to_neutral_and_one_hour() -> None:
    job = Job("Mn^2+ -> MnO2", purpose="remove")
    assert job.ph == 7.0
    assert job.time_s == 3600.0


@pytest.mark.parametrize(
    ("medium", "ph"), [("acid", 0.0), ("base", 14.0), ("neutral", 7.0), (4, 4.0), ("pH 9.5", 9.5)]
)
def test_a_medium_is_a_word_or_a_ph(medium: object, ph: float) -> None:
    assert Job("Br^- -> Br2", medium=medium).ph == ph


def test_several_conversions_share_one_job() -> None:
    job = Job([("Fe^2+ -> Fe(OH)3", "3.1 mg/L"), ("Mn^2+ -> MnO2", "0.42 mg/L")], purpose="remove")
    assert [c.amount is not None for c in job.conversions] == [True, True]


def test_one_pair_is_one_conversion_with_its_amount() -> None:
    job = Job(("Br^- -> Br2", "0.8 mol"))
    assert len(job.conversions) == 1
    assert job.conversions[0].amount is not None


@pytest.mark.parametrize(
    ("fields", "key", "says"),
    [
        ({"amount": "0 mol"}, "amount", "0"),
        ({"amount": "-2 g"}, "amount", "-2"),
        ({"amount": 3}, "amount", "no unit"),
        ({"amount": "3 V"}, "amount", "V"),
        ({"medium": "sour"}, "medium", "sour"),
        ({"medium": 19}, "medium", "19"),
        ({"purpose": "sell"}, "purpose", "make"),
        ({"vessel": "bag"}, "vessel", "open"),
        ({"excess": "much"}, "excess", "fraction"),
        ({"excess": -0.1}, "excess", "0 to 5"),
        ({"weights": {"price": 1}}, "weights", "price"),
        ({"weights": dict.fromkeys(CRITERIA, 0)}, "weights", "more than zero"),
        ({"impurities": {"Qq^-": "5 % w/w"}}, "impurities", "Qq"),
        ({"potable": "yes"}, "potable", "true"),
        ({"temperature": "warm"}, "temperature", "warm"),
    ],
)
def test_a_fault_names_its_key(fields: dict[str, object], key: str, says: str) -> None:
    with pytest.raises(JobError) as caught:
        Job("Br^- -> Br2", **fields)  # type: ignore[arg-type]
    assert any(fault.startswith(f"{key}:") for fault in caught.value.faults)
    assert says in str(caught.value)


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(JobError) as caught:
        Job("Br^- -> Br2", amount="0 mol", vessel="bag", excess="much")
    assert [fault.split(":")[0] for fault in caught.value.faults] == ["vessel", "amount", "excess"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Br^- Br2", "no arrow"),
        ("Br^- ->", "empty"),
        ("Br^- -> I2", "does not contain"),
        ("Br2 -> Br^-", "not an oxidised form"),
        ("Xx^- -> Xx2", "Xx"),
    ],
)
def test_a_conversion_that_is_none_says_why(text: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        Job(text)


def test_an_unknown_field_offers_its_neighbour() -> None:
    with pytest.raises(JobError, match="did you mean 'amount'"):
        Job.of("Br^- -> Br2", amont="1 mol")


def test_a_job_error_survives_pickling() -> None:
    with pytest.raises(JobError) as caught:
        Job("Br^- -> Br2", vessel="bag", amount="0 mol")
    again = pickle.loads(pickle.dumps(caught.value))
    assert str(again) == str(caught.value)
    assert again.faults == caught.value.faults


def test_of_several_faults_each_names_its_text_and_what_would_mend_it() -> None:
    with pytest.raises(JobError) as caught:
        Job("I^- -> I2", bottles=("hydrogen peroxide 30 %", "sulfuric acid 50 %"), excess="a lot")
    assert len(caught.value.faults) == 3
    told = [fault for fault in caught.value.faults if fault.startswith("bottles")]
    for fault, label in zip(told, ("hydrogen peroxide 30 %", "sulfuric acid 50 %"), strict=True):
        assert f"in {label!r}" in fault
        assert "write the basis" in fault


@pytest.mark.parametrize(
    ("field", "value", "mend"),
    [
        ("temperature", "25", "write '25 C' or '25 K'"),
        ("concentration", "6", "write '6 mol/L', '6 g/L' or '6 mg/L'"),
        ("pot_mass", "3", "write '3 g' or '3 kg'"),
        ("cooling", "50", "write '50 W'"),
        ("room", "30", "write '30 m3' or '30 L'"),
        ("time", "2", "write '2 min' or '2 h'"),
        ("volts", 3, "write '3 V'"),
        ("amount", "6", "write '6 g', '6 mL' or '6 mol'"),
        ("impurities", {"NaCl": "2"}, "write '2 % w/w', '2 g' or '2 mol'"),
        ("concentration", "1 mol", "write '1 mol/L', '1 g/L' or '1 mg/L'"),
        ("pot_mass", "3 m3", "3 m3 of water is 3000 kg, so write '3000 kg'"),
        ("pot_mass", "500 mL", "500 mL of water is 0.5 kg, so write '0.5 kg'"),
        ("purpose", "removal", "did you mean 'remove'?"),
        ("medium", "7,2", "with a decimal point: '7.2'?"),
        ("medium", "nuetral", "did you mean 'neutral'?"),
        ("vessel", "vent", "did you mean 'vented'?"),
    ],
)
def test_what_mends_a_field_is_said_in_the_terms_of_that_field(field: str, value: Any, mend: str) -> None:
    with pytest.raises(JobError) as caught:
        Job.of("Br^- -> Br2", **{field: value})
    assert mend in str(caught.value)


def test_every_unit_that_a_hint_offers_is_read_by_its_field() -> None:
    for field, units in _EXAMPLES.items():
        for unit in units:
            if field not in ("conversions", "impurities"):
                assert getattr(Job.of("Br^- -> Br2", **{field: f"2 {unit}"}), field) is not None


@pytest.mark.parametrize("context", ["waterworks", "Water Works", "water-works", "ballanced", "Teaching"])
def test_a_preset_in_another_spelling_is_asked_about(context: str) -> None:
    with pytest.raises(JobError, match="is no preset of weights; did you mean"):
        Job("Br^- -> Br2", context=context)


def test_a_circumstance_is_told_to_set_no_weights() -> None:
    job = Job("Br^- -> Br2", context="school class")
    assert job.weights == Job("Br^- -> Br2").weights
    assert any("'school class' is a circumstance" in line for line in job.defaults)
    assert not any("circumstance" in line for line in Job("Br^- -> Br2", context="teaching").defaults)


@pytest.mark.parametrize("label", ["old pipes scrap metal", "brass swarf", "metal filings"])
def test_scrap_without_its_metal_is_asked_for_the_metal(label: str) -> None:
    with pytest.raises(JobError, match="name the metal"):
        Job("Cu -> CuSO4", feed=label)


def test_a_feed_that_holds_another_form_gets_its_own_conversion() -> None:
    from redoxlib.compare import compare

    with pytest.raises(JobError) as caught:
        compare("sulfide -> sulfate", medium=11, feed="NaHS", oxidants=["H2O2"])
    assert caught.value.hint is not None
    text = caught.value.hint.rpartition(": ")[2].strip("'")
    assert text == "HS^- -> SO4^2-"
    assert compare(text, medium=11, feed="NaHS", oxidants=["H2O2"]).job.feed == "NaHS"
