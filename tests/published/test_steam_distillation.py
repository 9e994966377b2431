"""The rule of steam distillation on textbook pairs that are no job of this library.

Benzene and water: a standard exercise of physical chemistry texts gives 69.4 C and 227.7 mmHg of water there,
so 10.1 g of benzene with each gram of water.  Toluene and water: 85.0 C and about 20 % of water by mass, as
an exercise prints it; 84.1 C in azeotrope tables (recalled).  Antoine constants, mmHg and C, of the usual
collections (Dreisbach 1955; Reid, Prausnitz and Poling), recalled.
"""

from __future__ import annotations

from math import log10

import pytest

from redoxlib.bench import co_distillation
from redoxlib.data import Tables, shipped
from redoxlib.notation import Species

PAIRS = {
    "C6H6(l)": (6.90565, 1211.033, 220.790, 80.1),
    "C7H8(l)": (6.95464, 1344.800, 219.482, 110.6),
}


@pytest.fixture(scope="module")
def tables() -> Tables:
    rows = []
    for species, (a, b, c, boils) in PAIRS.items():
        for name, value, unit in (
            ("antoine_A", a + log10(133.322), "1"),
            ("antoine_B", b, "K"),
            ("antoine_C", c - 273.15, "K"),
            ("boiling_point", boils, "C"),
        ):
            rows.append(
                {
                    "species": species,
                    "property": name,
                    "value": value,
                    "unit": unit,
                    "uncertainty": 0.001,
                    "basis": "last-digit",
                    "temperature_C": "",
                    "source": "memory",
                    "note": "",
                }
            )
    return shipped().with_rows(liquids=rows)


def test_benzene_and_water(tables: Tables) -> None:
    both = co_distillation(Species.parse("C6H6(l)"), tables=tables)
    assert both.celsius == pytest.approx(69.4, abs=0.3)
    # 0.3 K, as far as sets of constants differ, are 1.3 % of the pressure of water
    assert both.water_kpa == pytest.approx(227.7 * 0.133322, rel=0.015)
    assert (100 - both.water_percent) / both.water_percent == pytest.approx(
        (760 - 227.7) * 78.11 / (227.7 * 18.02), rel=0.02
    )


def test_toluene_and_water(tables: Tables) -> None:
    both = co_distillation(Species.parse("C7H8(l)"), tables=tables)
    assert both.celsius == pytest.approx(84.6, abs=0.6)
    assert both.water_percent == pytest.approx(20.0, abs=1.5)
