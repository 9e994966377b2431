"""The JSON of balance and check obeys the schema that is shipped for its version."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from redoxlib.reports import plain
from redoxlib.stoichiometry import balance, check

jsonschema = pytest.importorskip("jsonschema")
SCHEMAS = Path(__file__).parents[2] / "docs" / "schemas"


def _schema(name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize("text", ["H2 + O2 -> H2O", "MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O"])
def test_balance(text: str) -> None:
    jsonschema.validate(plain(balance(text)), _schema("balance-1"))


@pytest.mark.parametrize("text", ["H2 + O2 -> H2O", "H2 + 1/2 O2 -> H2O"])
def test_check(text: str) -> None:
    jsonschema.validate(plain(check(text)), _schema("check-1"))


def test_a_missing_field_is_noticed() -> None:
    told = dict(plain(check("H2 + O2 -> H2O")))
    del told["residual"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told, _schema("check-1"))
