"""Job files: what they may say, every fault with its line, and the one that start writes."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import attrs
import pytest

from redoxlib._jobfile import _Shape, read_job_file
from redoxlib._start import start_job_text
from redoxlib.errors import JobError
from redoxlib.job import JOB_KEYS, Job

Write = Callable[[str], Path]

CONVERSIONS = (
    "Br^- -> Br2",
    "KI -> I2",
    "Cu -> CuSO4",
    "propan-2-ol -> acetone",
    "Fe^2+ -> Fe^3+",
    "CN^- -> OCN^-",
    "Mn^2+ -> MnO2",
)


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def written(text: str) -> Path:
        file = tmp_path / "job.toml"
        file.write_text(text, encoding="utf-8")
        return file

    return written


def faults(path: Path) -> list[str]:
    with pytest.raises(JobError) as caught:
        Job.read(path)
    return [fault.removeprefix(f"{path}:") for fault in caught.value.faults]


def test_the_shape_of_a_file_has_the_keys_of_a_job() -> None:
    assert tuple(field.name for field in attrs.fields(_Shape)) == JOB_KEYS


def test_fields_arrive_as_written(write: Write) -> None:
    file = read_job_file(
        write(
            'conversions = [["Fe^2+ -> Fe(OH)3", "3 mg/L"], ["Mn^2+ -> MnO2", "1 mg/L"]]\n'
            'purpose = "remove"\nmedium = 7.2\nbottles = ["potassium permanganate 99 %"]\npotable = true\n'
            '[weights]\nmass = 2\n[impurities]\n"NaCl" = "2 % w/w"\n'
        )
    )
    assert file.fields["conversions"] == [["Fe^2+ -> Fe(OH)3", "3 mg/L"], ["Mn^2+ -> MnO2", "1 mg/L"]]
    assert file.fields["medium"] == 7.2
    assert file.fields["weights"] == {"mass": 2}
    assert file.lines["weights.mass"] == 7
    assert file.lines["impurities.NaCl"] == 9


def test_bottles_may_be_a_table_of_named_shelves(write: Write) -> None:
    job = Job.read(write('conversions = "Br^- -> Br2"\n[bottles]\npeer = "hydrogen peroxide 30 % w/w"\n'))
    assert job.bottles == ("hydrogen peroxide 30 % w/w",)


def test_all_faults_come_at_once_each_with_its_line(write: Write) -> None:
    path = write(
        'conversions = "Br^- -> Br2"\n'
        'amonut = "5 mol"\n'
        "amount = 5\n"
        'potable = "yes"\n'
        "\n"
        "bottles = [\n"
        '  "hydrogen peroxide 30 % w/w",  # amount = 3\n'
        "  7,\n"
        "]\n"
        "excess = [1]\n"
        "[weights]\n"
        'mass = "a"\n'
        "cooling = 3\n"
    )
    assert faults(path) == [
        "2: amonut: unknown key; did you mean 'amount'?",
        "3: amount: 5 is a number, wanted is a text in quotation marks such as "
        '"0.80 mol", "150 g" or "500 mL"',
        "4: potable: 'yes' is a text, wanted is true or false, without quotation marks",
        "6: bottles: 7 is a number, wanted is a text in quotation marks",
        "10: excess: [1] is a list, wanted is a text or a number",
        "12: weights: mass = 'a' is a text, wanted is a number",
        "13: weights: 'cooling' is no criterion; known are mass, by_products, exotherm, side_risk "
        "(keys below a [weights] line belong to it)",
    ]


def test_a_wrong_key_hides_no_wrong_value(write: Write) -> None:
    path = write(
        'conversions = "Br^- -> Br2"\namount = "65 gr"\nmedium = "7,2"\nexcess = "ten percent"\n'
        'bottles = ["hydrogen peroxide 12 %"]\npotable = "no"\n[weight]\nmass = 3\n'
    )
    told = faults(path)
    assert [fault.split(":")[:2] for fault in told] == [
        ["2", " amount"],
        ["3", " medium"],
        ["4", " excess"],
        ["5", " bottles"],
        ["6", " potable"],
        ["7", " weight"],
    ]
    assert "12 % w/w" in told[3]  # what mends a value is told beside other faults too
    one = faults(write('conversions = "Br^- -> Br2"\nmedum = 7\namount = "65 gr"\n'))
    assert one[1].startswith("3: amount: unknown unit 'gr' in '65 gr'; known are")


def test_what_is_wrong_with_the_conversion_is_told_once_and_hides_nothing(write: Write) -> None:
    for line in ("", "conversions = 7\n", 'conversion = "Br^- -> Br2"\n'):
        told = faults(write(f'{line}amount = "65 gr"\n'))
        assert sum("conversions:" in fault for fault in told) == 1, told
        assert any("amount: unknown unit" in fault for fault in told), told


def test_what_job_finds_wrong_gets_its_line_too(write: Write) -> None:
    path = write(
        'conversions = "Br^- -> Br2"\n\namount = "0 mol"\n'
        'impurities = { "NaXx" = "5 % w/w" }\nvessel = "shut"\n'
    )
    assert [fault.split(":")[0] for fault in faults(path)] == ["3", "4", "5"]


def test_a_single_fault_keeps_its_caret(write: Write) -> None:
    with pytest.raises(JobError) as caught:
        Job.read(write('purpose = "make"\nconversions = "Br^- -> Xx"\n'))
    assert ":2: conversions: unknown element 'Xx'" in str(caught.value)
    assert str(caught.value).splitlines()[1:3] == ["  Xx", "  ^^"]


def test_conversions_must_be_there(write: Write) -> None:
    path = write('purpose = "make"\n')
    assert faults(path) == [' conversions: missing; write conversions = "feed -> target"']


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('conversions = "Br^- -> Br2"\namount = 5 mol\n', "2:12"),
        ('conversions = "Br^- -> Br2\n', "1:27"),
        ("conversions\n", "1:12"),
        ('conversions = "a -> b"\nconversions = "c -> d"\n', "2:"),
        ("[weights\n", "1:9"),
    ],
)
def test_unreadable_toml_names_line_and_column(write: Write, text: str, place: str) -> None:
    path = write(text)
    with pytest.raises(JobError) as caught:
        read_job_file(path)
    assert str(caught.value).startswith(f"{path}:{place}")
    assert "not readable as TOML" in str(caught.value)


def test_a_value_without_quotation_marks_is_told_how(write: Write) -> None:
    with pytest.raises(JobError, match="texts stand in quotation marks"):
        read_job_file(write('conversions = "Br^- -> Br2"\namount = 5 mol\n'))


def test_a_file_that_is_not_there_or_not_text(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"there is no job file .*gone\.toml"):
        read_job_file(tmp_path / "gone.toml")
    (tmp_path / "picture.toml").write_bytes(b"\x89PNG\xff\xfe")
    with pytest.raises(JobError, match="not UTF-8 text"):
        read_job_file(tmp_path / "picture.toml")
    with pytest.raises(JobError, match="cannot be read"):
        read_job_file(tmp_path)


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(b'\xef\xbb\xbfconversions = "Br^- -> Br2"\n')
    assert Job.read(tmp_path / "job.toml").conversions[0].text == "Br^- -> Br2"


def test_keys_inside_texts_are_not_mistaken_for_keys(write: Write) -> None:
    file = read_job_file(write('context = """\namount = 3\n[weights]\n"""\nconversions = "Br^- -> Br2"\n'))
    assert file.lines == {"context": 1, "conversions": 5}


class TestStart:
    @pytest.mark.parametrize("purpose", ["make", "remove"])
    @pytest.mark.parametrize("conversion", CONVERSIONS)
    def test_reads_back_as_the_same_job(self, write: Write, conversion: str, purpose: str) -> None:
        job = Job.read(write(start_job_text(conversion, purpose=purpose)))
        assert job == Job(conversion, purpose=purpose)

    @pytest.mark.parametrize("purpose", ["make", "remove"])
    @pytest.mark.parametrize("conversion", CONVERSIONS)
    def test_every_setting_can_be_switched_on(self, write: Write, conversion: str, purpose: str) -> None:
        text = re.sub(r"(?m)^#(?=[a-z_]+ = )", "", start_job_text(conversion, purpose=purpose))
        assert set(tomllib.loads(text)) == set(JOB_KEYS)
        job = Job.read(write(text))
        bare = Job(conversion, purpose=purpose)
        assert job.ph == bare.ph
        assert job.excess == bare.excess
        assert job.weights == bare.weights
        assert job.time_s == bare.time_s
        assert job.temperature == bare.temperature

    def test_every_key_is_there_once(self) -> None:
        text = start_job_text("Br^- -> Br2")
        for key in JOB_KEYS:
            assert len(re.findall(rf"(?m)^#?{key} = ", text)) == 1

    def test_asks_for_what_decides_in_this_conversion(self) -> None:
        assert "Chloride in the bromide" in start_job_text("Br^- -> Br2")
        assert "free cyanide" in start_job_text("CN^- -> OCN^-")
        assert "solder" in start_job_text("Cu -> CuSO4")
        assert "dissolved organic carbon" in start_job_text("Mn^2+ -> MnO2", purpose="remove")
        assert "lose\n#     strength" in start_job_text("Br^- -> Br2")

    def test_names_what_the_tables_lack(self) -> None:
        text = start_job_text("Br^- -> Br2")
        unknown = text.split("do not know about this conversion:")[1].split("# --- What is wanted")[0]
        assert "how fast these oxidise Br^-" in unknown

    def test_a_conversion_that_cannot_be_read_is_an_error(self) -> None:
        with pytest.raises(JobError, match="unknown element"):
            start_job_text("Br^- -> Xx")
