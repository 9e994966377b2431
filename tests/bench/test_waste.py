"""What a stream of waste is classified as: each substance at the strength it has there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from redoxlib import channels
from redoxlib.bench import plan
from redoxlib.bench._waste import _codes, _unread
from redoxlib.compare import Comparison, clear, compare
from redoxlib.data import shipped
from redoxlib.notation import Species

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
CYLINDER = {"H220", "H270", "H280"}


@cache
def compared(name: str) -> Comparison:
    return compare(EXAMPLES / f"{name}.toml")


def liquor(name: str, oxidant: str) -> set[str]:
    streams = plan(clear(compared(name).route(oxidant))).streams
    return set(next(s for s in streams if s.name == "liquor").hazards)


@pytest.mark.parametrize(
    ("species", "grams", "codes"),
    [
        ("H2SO4", 3.0, set()),
        ("H2SO4", 10.0, {"H315", "H319"}),
        ("H2SO4", 40.0, {"H290", "H314"}),
        ("H2O2", 3.0, set()),
        ("H2O2", 6.0, {"H319"}),
        ("NaOH", 1.0, {"H315", "H319"}),
        ("NaOH", 10.0, {"H314"}),
        ("CH3COOH", 5.0, set()),
        ("CH3COOH", 15.0, {"H315", "H319"}),
        ("CH3COOH", 30.0, {"H290", "H314"}),
        ("Na2SO4", 20.0, set()),
    ],
)
def test_a_stream_carries_the_class_of_its_strength(species: str, grams: float, codes: set[str]) -> None:
    """Specific concentration limits of the harmonised entries, in 100 g of stream."""
    found = set(_codes({Species.parse(species): grams}, 100.0, shipped()))
    assert found == codes


def test_an_amount_that_is_not_known_carries_every_statement() -> None:
    acid = Species.parse("H2SO4")
    assert "H314" in _codes({acid: None}, 100.0, shipped())
    assert "H314" in _codes({acid: 1.0}, 0.0, shipped())


def test_what_a_table_does_not_classify_adds_no_statement_and_is_named() -> None:
    unread: dict[Species, float | None] = {Species.parse("XeO3"): 50.0, Species.parse("NaCl"): 10.0}
    assert _codes(unread, 100.0, shipped()) == ()
    assert _unread(unread, 100.0, shipped()) == "; no table classifies XeO3: read the safety data sheet"
    assert _unread({Species.parse("NaCl"): 10.0}, 100.0, shipped()) == ""


@pytest.mark.parametrize(
    ("name", "oxidant"),
    [("alcohol", "O3"), ("alcohol", "anode"), ("copper", "percarbonate"), ("iodide", "anode")],
)
def test_no_liquor_is_labelled_as_a_cylinder(name: str, oxidant: str) -> None:
    """Oxygen, hydrogen and carbon dioxide leave; what is said of them under pressure is not said here."""
    assert not CYLINDER & liquor(name, oxidant)


def test_gas_that_leaves_is_not_in_the_liquor() -> None:
    nitrogen_oxide = set(channels.tier_of(Species.parse("NO"))[1])
    assert "H330" in nitrogen_oxide
    assert "H330" not in liquor("copper", "HNO3")


def test_dilute_acetic_acid_of_a_peracid_is_no_corrosive_waste() -> None:
    pure = set(channels.tier_of(Species.parse("CH3COOH"))[1])
    assert {"H226", "H314"} <= pure
    assert not {"H226", "H314"} & liquor("iodide", "peracetic")


def test_what_has_no_limits_is_said_at_any_strength() -> None:
    assert {"H400", "H410"} <= liquor("copper", "H2O2")


def test_spent_drying_acid_is_corrosive_and_holds_its_halogen() -> None:
    bromine = compare("Br^- -> Br2", amount="1 mol", feed="NaBr", cooling="50 W", room="30 m3")
    streams = plan(clear(bromine.route("H2O2"))).streams
    (acid,) = [s for s in streams if s.name == "drying_acid"]
    assert {"H314", "H330"} <= set(acid.hazards)
