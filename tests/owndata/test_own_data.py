"""A user's own rows: used first, checked like the shipped ones, faults told with their lines."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from redoxlib import thermo
from redoxlib._owndata import own_data_beside, read_own_data
from redoxlib.data import Tables, shipped
from redoxlib.errors import TableError

ROOT = Path(__file__).parents[2]
SOURCE = """[[source]]
key = "nb"
citation = "Laboratory notebook 7, pages 12 to 15"
kind = "practice"
"""


def read(tmp_path: Path, text: str) -> Tables:
    file = tmp_path / "own-data.toml"
    file.write_text(text, encoding="utf-8")
    return read_own_data(file)


def faults(tmp_path: Path, text: str) -> tuple[str, ...]:
    with pytest.raises(TableError) as caught:
        read(tmp_path, text)
    assert all(fault in str(caught.value) for fault in caught.value.faults)
    return tuple(caught.value.faults)


def test_the_example_file_is_the_one_the_page_shows() -> None:
    page = (ROOT / "docs" / "own-data.md").read_text(encoding="utf-8")
    shown = re.search(r"^```toml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    assert shown
    assert (ROOT / "docs" / "examples" / "data" / "own-data.toml").read_text(encoding="utf-8") == shown[1]


def test_every_section_lands_in_its_table(tmp_path: Path) -> None:
    tables = read(
        tmp_path,
        SOURCE
        + """
[[species]]
species = "Br2(l)"
dfH = "0.5 ± 0.1 kcal/mol"
Cp = "75 ± 1 J/(mol K)"
source = "nb"

[[couple]]
couple = "Am4+/Am3+"
half_reaction = "Am^4+(aq) + e^- -> Am^3+(aq)"
E0 = "2600 ± 10 mV"
medium = "acid"
source = "nb"

[[oxidant]]
key = "ferrate"
name = "potassium ferrate of our own"
formula = "K2FeO4"
kind = "solid"
source = "nb"

[[oxidant_reaction]]
oxidant = "ferrate"
half_reaction = "FeO4^2-(aq) + 8 H^+(aq) + 3 e^- -> Fe^3+(aq) + 4 H2O(l)"
active = "FeO4^2-(aq)"
from_bottle = "K2FeO4 -> 2 K^+ + FeO4^2-"
ph_max = 5
source = "nb"

[[bottle]]
bottle = "ferrate_90"
label = "potassium ferrate 90 %"
solute = "K2FeO4"
mass_fraction = "90 ± 2 % w/w"
source = "nb"

[[hazard]]
substance = "potassium ferrate"
formula = "K2FeO4"
codes = ["H272", "H315"]
source = "nb"
""",
    )
    row = tables.formation["Br2(l)"]["dfH"][0]
    assert row.value == pytest.approx(2.092)
    assert (row.unit, row.chosen) == ("kJ/mol", True)
    assert row.uncertainty == pytest.approx(0.4184)
    assert sum(r.chosen for r in tables.formation["Br2(l)"]["dfH"]) == 1
    assert thermo.potential("Am4+/Am3+", tables=tables).value == pytest.approx(2.6)
    assert tables.oxidants["ferrate"].formula == "K2FeO4"
    assert tables.oxidant_reactions["ferrate"][0].ph_max == 5
    fraction = tables.bottles["ferrate_90"][0]
    assert fraction.value == pytest.approx(0.9)
    assert fraction.uncertainty == pytest.approx(0.02)
    assert fraction.unit == "1"
    assert {h.code for h in tables.hazards["K2FeO4"]} >= {"H272", "H315"}
    assert tables.sources["nb"].kind == "practice"


def test_another_spelling_joins_the_rows_already_there(tmp_path: Path) -> None:
    tables = read(
        tmp_path, SOURCE + '[[species]]\nspecies = "Fe+3"\ndfG = "-16.3 ± 1 kJ/mol"\nsource = "nb"\n'
    )
    rows = tables.formation["Fe^3+(aq)"]["dfG"]
    assert rows[0].value == -16.3
    assert len(rows) == len(shipped().formation["Fe^3+(aq)"]["dfG"]) + 1
    # A row of one's own is a family of its own, and a reaction that mixes says so.
    assert "Fe^3+(aq) from nb" in thermo.gibbs("Fe^3+ + e^- -> Fe^2+", tables=tables).remarks[0]


def test_a_row_may_stand_by_without_being_chosen(tmp_path: Path) -> None:
    text = '[[species]]\nspecies = "Fe^3+(aq)"\ndfG = "-16.3 ± 1 kJ/mol"\nsource = "nb"\nchosen = false\n'
    tables = read(tmp_path, SOURCE + text)
    assert (
        thermo.gibbs("Fe^3+ + e^- -> Fe^2+", tables=tables).value
        == thermo.gibbs("Fe^3+ + e^- -> Fe^2+").value
    )


def test_the_shipped_tables_stay_as_they_are(tmp_path: Path) -> None:
    read(tmp_path, SOURCE + '[[species]]\nspecies = "Br2(l)"\ndfH = "9 ± 1 kJ/mol"\nsource = "nb"\n')
    assert thermo.value(next(s for s in shipped().formation_keys if str(s) == "Br2(l)"), "dfH").value == 0.0


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        (
            '[[species]]\nspecies = "Fe^3+"\ndfG = "1 ± 1 kJ/mol"\n',
            "5 species.source: every entry names its source",
        ),
        ('[[species]]\nspecies = "Fe^3+"\nsource = "nb"\n', "5 species: holds no number"),
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = "1 kJ/mol"\n',
            "8 species.dfG: '1 kJ/mol' has no unc",
        ),
        ('[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = 1.0\n', "8 species.dfG: 1.0 has no unit"),
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = "1 ± 1 V"\n',
            "8 species.dfG: V cannot be expressed",
        ),
        (
            '[[species]]\nspecies = "Mm^3+"\nsource = "nb"\ndfG = "1 ± 1 kJ/mol"\n',
            "6 species.species: unknown el",
        ),
        (
            '[[species]]\nspecies = "Br2"\nsource = "nb"\ndfG = "1 ± 1 kJ/mol"\n',
            "6 species.species: Br2 has no phase",
        ),
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "zz"\ndfG = "1 ± 1 kJ/mol"\n',
            "7 species.source: unknown source",
        ),
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\nbasis = "guess"\ndfG = "1 ± 1 kJ/mol"\n',
            "8 species.basis: 'guess' is none of",
        ),
        ('[[speces]]\nspecies = "Fe^3+"\n', "5 speces: unknown section; did you mean species?"),
        (
            '[[couple]]\ncouple = "x"\nhalf_reaction = "Fe^3+ + 2 e^- -> Fe^2+"\n'
            'source = "nb"\nE0 = "1 ± 1 V"\n',
            "7 couple.half_reaction: does not balance",
        ),
        (
            '[[couple]]\ncouple = "x"\nhalf_reaction = "Fe^2+ -> Fe^3+ + e^-"\n'
            'source = "nb"\nE0 = "1 ± 1 V"\n',
            "7 couple.half_reaction: has no electrons on the left",
        ),
        (
            '[[oxidant_reaction]]\noxidant = "nix"\nhalf_reaction = "O3(aq) + 2 H^+ + 2 e^- -> O2(g) + H2O"\n'
            'active = "O3(aq)"\nfrom_bottle = "O3 -> O3"\nsource = "nb"\n',
            "6 oxidant_reaction.oxidant: no oxidant 'nix'",
        ),
        (
            '[[oxidant_reaction]]\noxidant = "O3"\nhalf_reaction = "O3(aq) + 2 H^+ + 2 e^- -> O2(g) + H2O"\n'
            'active = "O2(g)"\nfrom_bottle = "O3 -> O3"\nsource = "nb"\n',
            "8 oxidant_reaction.active: O2(g) is not on the left",
        ),
        ('[species]\nspecies = "Fe^3+"\n', "5 species: must be written [[species]]"),
    ],
)
def test_a_fault_is_told_with_its_line(tmp_path: Path, entry: str, fault: str) -> None:
    found = faults(tmp_path, SOURCE + entry)
    assert len(found) == 1
    assert found[0].startswith(f"own-data.toml:{fault}"), found[0]


@pytest.mark.parametrize(
    ("entry", "shown"),
    [
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = "1 ± 1"\n',
            ['  dfG = "1 ± 1"', "        ^^^^^^^"],
        ),
        (
            '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = "1 ± 1 kJ/mol"\nlocater = "p. 3"\n',
            ['  locater = "p. 3"', "  ^^^^^^^"],
        ),
        ('[[specie]]\nspecies = "Fe^3+"\n', ["  [[specie]]", "  ^^^^^^^^^^"]),
    ],
)
def test_a_single_fault_is_underlined_in_its_line(tmp_path: Path, entry: str, shown: list[str]) -> None:
    with pytest.raises(TableError) as caught:
        read(tmp_path, SOURCE + entry)
    assert str(caught.value).splitlines()[2:] == shown


@pytest.mark.parametrize(
    ("number", "bounds"),
    [
        ('mass_fraction = "110 ± 1 % w/w"', "lies above 0 and is at most 100 % w/w"),
        ('mass_fraction = "0 ± 1 % w/w"', "lies above 0"),
        ('mass_fraction = "10 ± 1 % w/w"\ndensity = "1100 ± 1 g/mL"', "at most 25 g/mL"),
    ],
)
def test_a_bottle_that_cannot_be_is_refused(tmp_path: Path, number: str, bounds: str) -> None:
    entry = f'[[bottle]]\nbottle = "b"\nlabel = "b 10 % w/w"\nsolute = "NaCl"\nsource = "nb"\n{number}\n'
    found = faults(tmp_path, SOURCE + entry)
    assert len(found) == 1
    assert bounds in found[0]


def test_a_key_in_the_wrong_case_is_named_in_the_right_one(tmp_path: Path) -> None:
    entry = '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfg = "1 ± 1 kJ/mol"\n'
    assert any(f.endswith("did you mean dfG?") for f in faults(tmp_path, SOURCE + entry))


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    file = tmp_path / "own-data.toml"
    file.write_text(
        SOURCE + '[[species]]\nspecies = "Fe^3+"\nsource = "nb"\ndfG = "1 ± 1 kJ/mol"\n', "utf-8-sig"
    )
    assert read_own_data(file).formation


def test_all_faults_are_told_at_once_in_the_order_of_the_file(tmp_path: Path) -> None:
    text = (
        '[[species]]\nspecies = "Mm^3+"\nsource = "nb"\ndfG = "1 ± 1 kJ/mol"\n'
        '[[bottle]]\nbottle = "b"\nlabel = "b"\nsolute = "NaCl"\nsource = "nb"\ndensity = "1 g/mL"\n'
    )
    found = faults(tmp_path, text + SOURCE)
    assert [f.split()[0] for f in found] == ["own-data.toml:2", "own-data.toml:10"]


def test_a_name_of_a_shipped_couple_keeps_its_meaning(tmp_path: Path) -> None:
    entry = (
        '[[couple]]\ncouple = "O2/H2O"\nhalf_reaction = "Ag^+ + e^- -> Ag(s)"\n'
        'source = "nb"\nE0 = "1 ± 1 V"\n'
    )
    assert "choose another name" in faults(tmp_path, SOURCE + entry)[0]


def test_text_that_is_no_toml_and_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="not readable as TOML") as caught:
        read(tmp_path, SOURCE + "[[species]]\nspecies = Ag^2+\n")
    assert str(caught.value).splitlines()[1:] == [
        "  species = Ag^2+",
        "            ^",
        '  texts stand in quotation marks: amount = "0.80 mol"',
    ]
    with pytest.raises(TableError, match="cannot be read"):
        read_own_data(tmp_path / "nothing.toml")


def test_the_file_beside_a_job_is_found(tmp_path: Path) -> None:
    assert own_data_beside(tmp_path / "job.toml") is None
    (tmp_path / "own-data.toml").write_text("", encoding="utf-8")
    assert own_data_beside(tmp_path / "job.toml") == tmp_path / "own-data.toml"
