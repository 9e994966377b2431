"""The evidence page holds every check that rests on a data file, the misses included."""

from __future__ import annotations

import pytest

from . import evidence
from ._read import table


def test_the_evidence_page_is_what_the_checks_say_today() -> None:
    """Write it anew with ``python -m tests.published.evidence``."""
    assert evidence.PAGE.read_text(encoding="utf-8") == evidence.page()


def test_every_miss_stands_on_the_evidence_page_and_none_is_left_out() -> None:
    found = evidence.chapters()
    assert sum(len(chapter.lines) for chapter in found) > 900
    missed = [line for chapter in found for line in chapter.lines if not line.agrees]
    shown = evidence.page().split("## Where we know nothing")[0]
    assert all(line.what in shown for line in missed)


@pytest.mark.parametrize("wrong", ["molar_masses.csv", "potentials.csv"])
def test_a_wrong_value_would_be_called_a_fail(wrong: str, monkeypatch: pytest.MonkeyPatch) -> None:
    honest = table

    def spoiled(name: str) -> list[dict[str, str]]:
        rows = honest(name)
        if name == wrong:
            rows[0] = {**rows[0], "value": str(float(rows[0]["value"]) * 1.5)}
        return rows

    monkeypatch.setattr(evidence, "table", spoiled)
    makers = {"molar_masses.csv": evidence._masses, "potentials.csv": evidence._potentials}
    assert not next(iter(makers[wrong]())).agrees
