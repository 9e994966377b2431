"""What the package promises about its names and about loading sympy."""

from __future__ import annotations

import subprocess
import sys

import pytest

from redoxlib import stoichiometry

RUN = """
import sys
from redoxlib import stoichiometry
{code}
print("sympy" in sys.modules)
"""


def _loads_sympy(code: str) -> bool:
    done = subprocess.run(
        [sys.executable, "-c", RUN.format(code=code)], check=True, capture_output=True, text=True
    )
    return done.stdout.split()[-1] == "True"


def test_every_promised_name_exists() -> None:
    assert [name for name in stoichiometry.__all__ if not hasattr(stoichiometry, name)] == []
    assert len(set(stoichiometry.__all__)) == len(stoichiometry.__all__)


def test_error_when_a_name_is_not_promised() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'solve'"):
        _ = stoichiometry.solve


@pytest.mark.parametrize(
    "code",
    [
        "",
        "stoichiometry.check('2 H2 + O2 -> 2 H2O')",
        "stoichiometry.oxidation_numbers('S2O3^2-')",
        "from redoxlib.notation import Species; stoichiometry.ions_of(Species.parse('KMnO4'))",
        "stoichiometry.dissolve('AgNO3 + NaCl -> AgCl + NaNO3')",
    ],
)
def test_judging_needs_no_sympy(code: str) -> None:
    assert not _loads_sympy(code)


def test_solving_does_load_it() -> None:
    assert _loads_sympy(
        "stoichiometry.balance('KMnO4 + FeSO4 + H2SO4 -> K2SO4 + MnSO4 + Fe2(SO4)3 + H2O').equation"
    )
