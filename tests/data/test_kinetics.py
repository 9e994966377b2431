"""Rate constants and verdicts in words."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from math import log

import pytest

from redoxlib.data import RateRow, shipped
from redoxlib.notation import Phase, Species

TABLES = shipped()
RATES = tuple(TABLES.rates)
VERDICTS = tuple(TABLES.kinetics)
REDUCTANTS = [
    "Br^-",
    "I^-",
    "Cl^-",
    "Cu",
    "Fe^2+",
    "Mn^2+",
    "HS^-",
    "CN^-",
    "(CH3)2CHOH",
    "C6H11OH",
    "C2H5OH",
    "C6H5CH2OH",
]
BESIDE = ("Br2", "H2O2", "H3AsO3", "SO3^2-", "HSO3^-")  # told for some oxidants only
FACTOR = re.compile(r"\*(\[[^\]]+\]|p\(O2\))(?:\^(\d))?")
FAST_S, SLOW_S = 600.0, 86400.0


def _order(law: str) -> tuple[int, int]:
    """Powers of concentration and of pressure in a rate law."""
    concentration = pressure = 0
    for factor, power in FACTOR.findall(law):
        if factor.startswith("["):
            concentration += int(power or 1)
        else:
            pressure += int(power or 1)
    return concentration, pressure


@pytest.mark.parametrize("row", RATES, ids=lambda r: f"{r.oxidant_species} + {r.reductant_species}")
def test_unit_belongs_to_the_rate_law(row: RateRow) -> None:
    assert row.rate_law.startswith("k*[")
    concentration, pressure = _order(row.rate_law)
    total = re.search(r"M\^-(\d)", row.unit)
    assert (int(total.group(1)) if total else 0) == concentration - 1
    assert ("atm^-1" in row.unit) == bool(pressure)
    assert row.unit.endswith(("s^-1", "min^-1"))


@pytest.mark.parametrize("row", RATES, ids=lambda r: f"{r.oxidant_species} + {r.reductant_species}")
def test_rate_names_species_that_read_and_an_honest_source(row: RateRow) -> None:
    for text in (row.oxidant_species, row.reductant_species):
        assert Species.parse(text).elements
    assert row.value > 0
    if row.direction == "exact":
        assert row.uncertainty is not None
        assert 0 < row.uncertainty < row.value
    else:
        assert row.uncertainty is None
    assert row.locator, "where the number stands in print"
    if row.source == "memory":
        assert "not re-read" in row.note


def test_sixty_rate_constants_or_bounds() -> None:
    assert len(RATES) >= 60


RECALLED = 5
"""Rates that no one has read again.  The number may only fall."""


def test_recalled_rates_grow_fewer() -> None:
    assert sum("memory" in row.sources for row in RATES) <= RECALLED
    assert sum("memory" not in row.sources for row in RATES) >= len(RATES) - RECALLED


def test_a_rate_that_was_read_names_its_place_and_a_basis_that_is_true() -> None:
    for row in RATES:
        if "memory" in row.sources:
            continue
        assert all(TABLES.sources[key].kind != "memory" for key in row.sources), row
        if row.basis == "spread":
            assert re.search(r"recalled|and", row.note), "a spread names what it is held against"


def test_alternatives_for_one_law_do_not_overlap_in_ph() -> None:
    spans: dict[tuple[object, ...], list[tuple[float, float]]] = defaultdict(list)
    for row in RATES:
        key = (row.oxidant_species, row.reductant_species, row.rate_law, row.temperature_C)
        low = -2.0 if row.ph_min is None else row.ph_min
        high = 16.0 if row.ph_max is None else row.ph_max
        spans[key].append((low, high))
    for law, found in spans.items():
        found.sort()
        for (_, end), (start, _) in itertools.pairwise(found):
            assert end <= start, law


def test_every_pair_has_a_verdict_even_if_it_is_unknown() -> None:
    pairs = {(row.oxidant, row.reductant) for row in VERDICTS}
    for oxidant in TABLES.oxidants:
        for reductant in REDUCTANTS:
            assert (oxidant, reductant) in pairs


def test_verdicts_of_one_pair_do_not_overlap() -> None:
    spans: dict[tuple[object, ...], list[tuple[float, float]]] = defaultdict(list)
    for row in VERDICTS:
        low = -2.0 if row.ph_min is None else row.ph_min
        high = 16.0 if row.ph_max is None else row.ph_max
        assert low < high, row
        spans[row.oxidant, row.reductant].append((low, high))
    for pair, found in spans.items():
        found.sort()
        for (_, end), (start, _) in itertools.pairwise(found):
            assert end <= start, pair


def test_reductants_are_the_agreed_spellings() -> None:
    assert {row.reductant for row in VERDICTS} <= {*REDUCTANTS, *BESIDE}
    assert len({Species.parse(r).with_phase(Phase.UNSTATED) for r in REDUCTANTS}) == len(REDUCTANTS)


def _verdict(oxidant: str, reductant: str, ph: float) -> str:
    found = [
        row.verdict
        for row in VERDICTS
        if (row.oxidant, row.reductant) == (oxidant, reductant)
        and (row.ph_min is None or row.ph_min <= ph)
        and (row.ph_max is None or ph < row.ph_max)
    ]
    assert len(found) == 1, (oxidant, reductant, ph, found)
    return found[0]


@pytest.mark.parametrize(
    ("oxidant", "reductant", "ph", "verdict"),
    [
        # Elsheikh and others 2016: permanganate best at pH 7, aeration 30 %, chlorine needs pH above 9.
        ("KMnO4", "Mn^2+", 7, "fast"),
        ("O2", "Mn^2+", 7, "inert"),
        ("NaOCl", "Mn^2+", 7, "slow"),
        ("O2", "Fe^2+", 7.5, "fast"),
        # Peroxide is not used against manganese.
        ("H2O2", "Mn^2+", 7, "inert"),
        # Stumm and Lee 1961: iron(II) outlasts air in acid.
        ("O2", "Fe^2+", 2, "inert"),
        # Hoigne and Bader 1994: chlorine dioxide takes iodide, not bromide.
        ("ClO2", "Br^-", 7, "inert"),
        ("ClO2", "I^-", 7, "fast"),
        # Toth and Fabian 2000: bromine takes chlorite to chlorine dioxide, not the reverse.
        ("ClO2", "Br^-", 2, "inert"),
        # Cseko and others 2018: a stopped flow in the cold.
        ("ClO2", "HS^-", 10, "fast"),
        # Classical titrations.
        ("KMnO4", "Fe^2+", 0, "fast"),
        ("K2Cr2O7", "Fe^2+", 0, "fast"),
        ("Ce4+", "Fe^2+", 0, "fast"),
        # Alkaline chlorination takes minutes; peroxide wants copper.
        ("NaOCl", "CN^-", 11, "fast"),
        ("H2O2", "CN^-", 11, "slow"),
        # Mohrig 1985: about an hour.
        ("NaOCl", "C6H11OH", 5, "slow"),
        # Potential is not reactivity.
        ("Na2S2O8", "Br^-", 0, "inert"),
        ("O2", "Br^-", 0, "inert"),
        ("KMnO4", "Br^-", 0, "fast"),
        ("K2Cr2O7", "Br^-", 0, "slow"),
        # Sant'Anna and Faria 2015: fifth order, so days in 1 mol/L acid.
        ("NaClO3", "Br^-", 0, "inert"),
        # Iatrou and Knocke 1992; Lowry and Lowry 2001; Beukes and others 1999.
        ("NaClO2", "Fe^2+", 7, "fast"),
        ("O2", "H3AsO3", 7, "inert"),
        ("K2Cr2O7", "SO3^2-", 8, "inert"),
        ("K2Cr2O7", "HSO3^-", 2.5, "slow"),
        # A bubble column brings in 1e-5 mol of ozone per litre and second.
        ("O3", "Br^-", 0, "slow"),
        ("O3", "CN^-", 11, "fast"),
    ],
)
def test_verdict_agrees_with_what_was_published(
    oxidant: str, reductant: str, ph: float, verdict: str
) -> None:
    assert _verdict(oxidant, reductant, ph) == verdict


def _concentrations(law: str, ph: float, level: float) -> float:
    """Product of everything in the law but the oxidant, at *level* mol/L of reductant."""
    product = 1.0
    for factor, power in FACTOR.findall(law)[1:]:
        inside = factor.strip("[]")
        base = 10.0**-ph if inside == "H^+" else 0.21 if inside.startswith("p(") else level
        if inside == "OH^-":
            base = 10.0 ** (ph - 14)
        product *= base ** int(power or 1)
    return product


@pytest.mark.parametrize(
    ("species", "key", "reductant", "ph", "level"),
    [
        ("H2O2", "H2O2", "Br^-", 0, 1.0),
        ("H2O2", "H2O2", "I^-", 0, 0.1),
        ("H2O2", "H2O2", "I^-", 5, 0.1),
        ("HClO", "NaOCl", "Br^-", 5, 1.0),
        ("Cl2", "Cl2", "Br^-", 0, 1.0),
        ("HSO5^-", "KHSO5", "Br^-", 0, 1.0),
        ("BrO3^-", "NaBrO3", "Br^-", 0, 1.0),
        ("S2O8^2-", "Na2S2O8", "I^-", 0, 0.1),
        ("ClO^-", "NaOCl", "Br^-", 12, 1.0),
        ("ClO^-", "NaOCl", "Br^-", 14, 1.0),
        ("HSO5^-", "KHSO5", "Cl^-", 0, 0.1),
        ("ClO^-", "NaOCl", "CN^-", 11, 0.01),
        ("CH3COOOH", "peracetic", "Br^-", 5, 1.0),
        ("ClO3^-", "NaClO3", "Br^-", 0, 1.0),
        ("ClO3^-", "KClO3", "Br^-", -0.4, 1.0),
        ("HClO2", "NaClO2", "I^-", 1, 0.1),
        ("FeO4^2-", "K2FeO4", "H3AsO3", 8.4, 1e-5),
        ("FeO4^2-", "K2FeO4", "Mn^2+", 9.2, 5e-6),
    ],
)
def test_words_agree_with_the_rate_constant(
    species: str, key: str, reductant: str, ph: float, level: float
) -> None:
    k = sum(
        row.value * _concentrations(row.rate_law, ph, level)
        for row in RATES
        if (row.oxidant_species, row.reductant_species, row.direction) == (species, reductant, "exact")
    )
    half_life = log(2) / k
    word = "fast" if half_life < FAST_S else "slow" if half_life < SLOW_S else "inert"
    assert _verdict(key, reductant, ph) == word


@pytest.mark.parametrize(
    ("species", "key", "reductant", "ph", "word"),
    [
        ("Ce^4+", "Ce4+", "Fe^2+", 0, "fast"),
        ("HSO5^-", "KHSO5", "I^-", 0, "fast"),
        ("MnO4^-", "KMnO4", "Fe^2+", 0, "fast"),
        ("ClO2", "ClO2", "I^-", 7, "fast"),
    ],
)
def test_a_pair_without_a_constant_that_was_read_has_words_that_were(
    species: str, key: str, reductant: str, ph: float, word: str
) -> None:
    assert not [r for r in RATES if (r.oxidant_species, r.reductant_species) == (species, reductant)]
    assert _verdict(key, reductant, ph) == word


def test_manganese_in_aerated_water_lasts_a_year_at_ph_8_and_a_day_at_ph_9() -> None:
    morgan = [r for r in RATES if r.source == "morgan2005" and r.direction == "exact"]
    at_8, at_9 = sorted(morgan, key=lambda r: r.value)
    oxygen = 2.6e-4  # mol/L in water under air at 25 C
    year, day = 365.25 * 86400, 86400
    assert log(2) / (at_8.value * oxygen) == pytest.approx(year, rel=0.1)
    assert day < log(2) / (at_9.value * oxygen) < 2 * day


@pytest.mark.parametrize(
    ("reductant", "ph", "level", "ozone"),
    [
        ("CN^-", 11, 0.01, 1),
        ("Br^-", 0, 0.1, 0.5),
        ("Br^-", 0, 1, 0.5),
        ("I^-", 0, 0.1, 0.5),
        ("I^-", 0, 1, 0.5),
    ],
)
def test_ozone_comes_as_fast_as_a_bubble_column_brings_it(
    reductant: str, ph: float, level: float, ozone: float
) -> None:
    """The words follow from the one measured figure, at the strength in mol/L that the row names."""
    (row,) = (r for r in VERDICTS if (r.oxidant, r.reductant) == ("O3", reductant))
    told = re.search(r"(\S+) mol per litre and second", row.note)
    assert told is not None
    assert "cyanide_ozone2000" in row.source
    half_life = 0.5 * ozone * level / float(told[1])
    word = "fast" if half_life < FAST_S else "slow" if half_life < SLOW_S else "inert"
    assert _verdict("O3", reductant, ph) == word


def test_ferrate_on_arsenite_falls_with_the_hydroxide() -> None:
    rows = [r for r in RATES if r.source == "lee2003"]
    assert {r.direction for r in rows} == {"exact", "lower"}
    exact = next(r for r in rows if r.direction == "exact")
    assert all(r.value < exact.value for r in rows if r.direction == "lower")
    assert 1 / (exact.value * 1e-6) < FAST_S  # 75 ug/L of arsenic


def test_a_verdict_with_words_only_says_so() -> None:
    for row in VERDICTS:
        if row.verdict != "unknown":
            assert row.source
        if row.source == "practice" and row.verdict == "unknown":
            assert not row.conditions or "catalyst" in row.conditions
