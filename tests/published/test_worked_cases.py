"""Twelve jobs worked by hand, number by number, against the plans.

The figures of ``data/worked_cases.csv`` are arithmetic on atomic weights (IUPAC 2021), enthalpies of
formation (D. D. Wagman et al., NBS Tables, 1982), densities and solubilities (CRC Handbook; Perry;
Kirk-Othmer), vapour pressure coefficients (Poling, Prausnitz and O'Connell 2001; Perry, 8th ed.) and IDLH
values (NIOSH 1994), written down for this and not re-read; ``how`` says which for each.  No function of the
library had a part in them.  ``tolerance`` is relative and covers the last digits of the constants.
"""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from redoxlib.bench import BenchPlan, plan
from redoxlib.compare import clear, compare
from redoxlib.quantity import Quantity

PEROXIDE_30, TRADE = "hydrogen peroxide 30 % w/w", "bleach 12.5 % trade"
HALF_ACID = "sulfuric acid 50 % w/w"

JOBS: dict[str, tuple[str, str, dict[str, Any]]] = {
    "bromine": (
        "Br^- -> Br2",
        "H2O2",
        {"amount": "1 mol", "cooling": "50 W", "acid": HALF_ACID, "bottles": [PEROXIDE_30]},
    ),
    "iodine": (
        "I^- -> I2",
        "H2O2",
        {
            "feed": "KI",
            "amount": "0.40 mol",
            "concentration": "0.5 mol/L",
            "acid": HALF_ACID,
            "bottles": ["hydrogen peroxide 3 % w/w"],
            "excess": "5 %",
        },
    ),
    "copper sulfate": (
        "Cu -> CuSO4",
        "H2O2",
        {
            "feed": "copper",
            "amount": "65 g",
            "concentration": "1 mol/L",
            "acid": HALF_ACID,
            "bottles": [PEROXIDE_30],
            "excess": "15 %",
            "cooling": "120 W",
        },
    ),
    "acetone": (
        "propan-2-ol -> acetone",
        "NaOCl",
        {
            "amount": "30 g",
            "concentration": "0.5 mol/L",
            "medium": 4.5,
            "acid": "acetic acid, glacial",
            "bottles": [TRADE],
        },
    ),
    "manganese": (
        "Mn^2+ -> MnO2",
        "KMnO4",
        {"purpose": "remove", "medium": 8, "concentration": "0.5 mg/L", "amount": "1 m3"},
    ),
    "cyanide": (
        "CN^- -> OCN^-",
        "NaOCl",
        {"medium": 11, "amount": "0.2 mol", "concentration": "1 g/L", "bottles": [TRADE]},
    ),
    "bromine, two mol": (
        "Br^- -> Br2",
        "H2O2",
        {
            "feed": "NaBr",
            "amount": "2 mol",
            "concentration": "1 mol/L",
            "cooling": "50 W",
            "room": "30 m3",
            "acid": HALF_ACID,
            "bottles": [PEROXIDE_30],
        },
    ),
    "iodine by bleach": (
        "I^- -> I2",
        "NaOCl",
        {"feed": "KI", "amount": "0.2 mol", "cooling": "50 W", "acid": HALF_ACID, "bottles": [TRADE]},
    ),
    "ferric sulfate": (
        "Fe^2+ -> Fe^3+",
        "H2O2",
        {
            "feed": "FeSO4.7H2O",
            "amount": "0.5 mol",
            "cooling": "80 W",
            "acid": HALF_ACID,
            "bottles": [PEROXIDE_30],
        },
    ),
    "etchant": (
        "Fe^2+ -> Fe^3+",
        "H2O2",
        {
            "feed": "FeCl2",
            "amount": "1 mol",
            "concentration": "2 mol/L",
            "cooling": "80 W",
            "acid": "hydrochloric acid 37 % w/w",
            "bottles": [PEROXIDE_30],
        },
    ),
    "sulfide": (
        "S^2- -> SO4^2-",
        "H2O2",
        {
            "purpose": "remove",
            "feed": "Na2S",
            "medium": 12,
            "amount": "0.2 mol",
            "concentration": "0.2 mol/L",
            "cooling": "100 W",
            "bottles": [PEROXIDE_30],
        },
    ),
    "cyclohexanol": (
        "cyclohexanol -> cyclohexanone",
        "NaOCl",
        {
            "amount": "10 g",
            "medium": 4.5,
            "cooling": "50 W",
            "acid": "acetic acid, glacial",
            "bottles": [TRADE],
        },
    ),
}


def rows() -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / "worked_cases.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


@cache
def sheet(case: str) -> BenchPlan:
    text, key, fields = JOBS[case]
    return plan(clear(compare(text, oxidants=[key], **fields).route(key)))


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['case']}: {row['key']}")
def test_the_plan_says_what_the_hand_says(row: dict[str, str]) -> None:
    found = sheet(row["case"])[row["key"]].value
    assert isinstance(found, Quantity), found
    wanted, tolerance = float(row["value"]), float(row["tolerance"])
    assert found.value == pytest.approx(wanted, rel=tolerance, abs=1e-9), row["how"]


def test_every_case_has_about_twenty_numbers() -> None:
    counted = Counter(row["case"] for row in rows())
    assert set(counted) == set(JOBS)
    assert sum(counted.values()) >= 126
    assert min(counted.values()) >= 14
