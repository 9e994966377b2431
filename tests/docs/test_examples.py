"""The example jobs of the documentation run and give what a chemist would call sane."""

from __future__ import annotations

from pathlib import Path

import pytest

from redoxlib.bench import plan
from redoxlib.compare import Comparison, clear, compare
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))


@pytest.fixture(scope="module")
def results() -> dict[str, Comparison]:
    return {name: compare(EXAMPLES / f"{name}.toml") for name in NAMES}


def test_all_five_examples_are_there() -> None:
    assert NAMES == ["alcohol", "copper", "ferrous", "iodide", "well"]


@pytest.mark.parametrize("name", NAMES)
def test_every_example_ranks_something_and_states_its_grounds(
    name: str, results: dict[str, Comparison]
) -> None:
    result = results[name]
    assert result.routes
    for setback in (*result.infeasible, *result.inert, *result.undecided):
        assert setback.reason
    for refusal in result.refused:
        assert refusal.reason
        assert refusal.source


@pytest.mark.parametrize("name", NAMES)
def test_the_first_cleared_route_of_every_example_can_be_planned(
    name: str, results: dict[str, Comparison]
) -> None:
    sheet = plan(clear(results[name].routes[0]))
    grams = sheet["yield.g"].value
    assert isinstance(grams, Quantity)
    assert grams.value > 0


def test_copper_goes_to_peroxide(results: dict[str, Comparison]) -> None:
    first = results["copper"].routes[0]
    assert first.oxidant.key == "H2O2"
    assert first.product.compound == Species.parse("CuSO4")
    # 65 g / 63.546 g/mol x 159.61 g/mol
    assert first.product.grams == pytest.approx(163.3, abs=0.3)


def test_iodide_shows_peroxide_permanganate_and_hypochlorite_side_by_side(
    results: dict[str, Comparison],
) -> None:
    places = {key: results["iodide"].place(key) for key in ("H2O2", "KMnO4", "NaOCl")}
    assert places["H2O2"] is not None
    assert places["H2O2"] <= 3
    assert places["KMnO4"] is not None
    assert places["NaOCl"] is not None
    assert places["H2O2"] < min(places["KMnO4"], places["NaOCl"])


def test_the_well_takes_permanganate_for_both_metals(results: dict[str, Comparison]) -> None:
    well = results["well"]
    place = well.place("KMnO4")
    assert place is not None
    assert place <= 3
    assert well.place("H2O2") is None
    oxidant = well.route("KMnO4").charge("oxidant")
    assert oxidant is not None
    # stoichiometric doses: 0.94 mg KMnO4 per mg iron, 1.92 per mg manganese; 5 % excess on 1 m3
    assert oxidant.pure_grams == pytest.approx(1.05 * (0.9433 * 3.1 + 1.918 * 0.42), rel=0.01)


def test_bleach_oxidises_the_alcohol_in_acetic_acid(results: dict[str, Comparison]) -> None:
    alcohol = results["alcohol"]
    assert alcohol.place("NaOCl") is not None
    assert "HNO3" in [r.oxidant.key for r in alcohol.refused] + [s.oxidant.key for s in alcohol.infeasible]


def test_spent_ferrous_liquor_goes_to_peroxide(results: dict[str, Comparison]) -> None:
    assert results["ferrous"].routes[0].oxidant.key == "H2O2"
