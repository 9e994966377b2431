"""An own-data file beside the job file brings its rows into the comparison."""

from __future__ import annotations

from pathlib import Path

import pytest

from redoxlib.compare import compare
from redoxlib.errors import RedoxlibError

JOB = 'conversions = "Fe^2+ -> Fe^3+"\noxidants = ["Ag2+", "H2O2"]\n'
OWN = """
[[source]]
key = "notebook7"
citation = "Laboratory notebook 7, cell against a hydrogen electrode"
kind = "practice"

[[species]]
species = "Ag^2+(aq)"
dfG = "269.0 ± 3.0 kJ/mol"
source = "notebook7"
family = "nbs1982"

[[oxidant]]
key = "Ag2+"
name = "silver(II) sulfate"
formula = "AgSO4"
kind = "solid"
source = "notebook7"

[[oxidant_reaction]]
oxidant = "Ag2+"
half_reaction = "Ag^2+(aq) + e^- -> Ag^+(aq)"
active = "Ag^2+(aq)"
from_bottle = "AgSO4 -> Ag^2+ + SO4^2-"
ph_min = -1
ph_max = 2
source = "notebook7"
"""


def test_an_own_oxidant_is_compared_but_stays_unreviewed(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "own-data.toml").write_text(OWN, encoding="utf-8")
    result = compare(tmp_path / "job.toml")
    assert [route.oxidant.key for route in result.unreviewed] == ["Ag2+"]
    assert [route.oxidant.key for route in result.routes] == ["H2O2"]


def test_without_the_file_the_oxidant_is_unknown(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with pytest.raises(RedoxlibError, match=r"Ag2\+"):
        compare(tmp_path / "job.toml")
