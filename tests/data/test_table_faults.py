"""A malformed table says everything that is wrong with it, once, and with its place."""

from __future__ import annotations

import pickle
from collections.abc import Mapping

import pytest

from redoxlib.data import Tables, shipped
from redoxlib.errors import MissingDataError, TableError

GOOD: Mapping[str, object] = {
    "species": "NaBr(s)",
    "property": "dfH",
    "value": -361.0,
    "unit": "kJ/mol",
    "uncertainty": 0.5,
    "basis": "published",
    "source": "cox1989",
    "family": "own",
}


def faults(**changes: object) -> tuple[str, ...]:
    tables = shipped().with_rows(formation=[{**GOOD, **changes}])
    with pytest.raises(TableError) as caught:
        _ = tables.formation
    return tuple(caught.value.faults)


@pytest.mark.parametrize(
    ("column", "text", "says"),
    [
        ("value", "1,46", "own formation:1 value: '1,46' is not a number"),
        ("value", "nan", "own formation:1 value: 'nan' is not a number"),
        ("value", "1_000", "own formation:1 value: '1_000' is not a number"),
        ("value", "١٢", "own formation:1 value: '١٢' is not a number"),
        ("value", "", "own formation:1 value: empty, a number is needed"),
        ("unit", "", "own formation:1 unit: empty"),
        ("unit", "kcal/mol", "own formation:1 unit: 'kcal/mol' is not the unit of dfH, which is kJ/mol"),
        ("uncertainty", "", "own formation:1 uncertainty: empty, a number is needed"),
        ("uncertainty", "-1", "own formation:1 uncertainty: -1.0 is negative"),
        ("basis", "", "own formation:1 basis: empty"),
        ("source", "", "own formation:1 source: empty"),
        ("source", "hearsay", "own formation:1 source: unknown source 'hearsay'"),
        ("source", "cox1989; hearsay", "own formation:1 source: unknown source 'hearsay'"),
        ("family", " own", "own formation:1 family: ' own' has blanks around it"),
        ("chosen", "yes", "own formation:1 chosen: 'yes' is not 1 or 0"),
        ("colour", "red", "own formation:1 colour: unknown column"),
    ],
)
def test_each_fault_names_place_column_and_remedy(column: str, text: str, says: str) -> None:
    assert says in faults(**{column: text})


def test_an_unknown_basis_lists_the_words_allowed() -> None:
    (fault,) = faults(basis="guess")
    assert fault == (
        "own formation:1 basis: 'guess' is none of definition, estimate, last-digit, published, spread"
    )


def test_a_species_that_cannot_be_read_is_a_fault() -> None:
    found = faults(species="NaXx(s)")
    assert any(fault.startswith("own formation:1 species: 'NaXx(s)'") for fault in found)


def test_all_faults_come_in_one_error() -> None:
    found = faults(value="x", unit="", basis="guess", source="hearsay")
    assert len(found) == 4


def test_two_chosen_rows_for_one_property_are_a_fault() -> None:
    tables = shipped().with_rows(formation=[GOOD, {**GOOD, "value": -362.0}])
    with pytest.raises(TableError, match="2 rows are chosen for NaBr"):
        _ = tables.formation


def test_a_half_reaction_that_does_not_balance_is_a_fault() -> None:
    row = {
        "couple": "Fe3+/Fe2+",
        "half_reaction": "Fe^3+(aq) + 2 e^- -> Fe^2+(aq)",
        "medium": "acid",
        "quantity": "E0",
        "value": 0.77,
        "unit": "V",
        "uncertainty": 0.01,
        "basis": "published",
        "source": "bard1985",
    }
    with pytest.raises(TableError, match="does not balance"):
        _ = shipped().with_rows(couples=[row]).couples


def test_a_table_error_survives_pickling() -> None:
    with pytest.raises(TableError) as caught:
        _ = shipped().with_rows(formation=[{**GOOD, "value": "x"}]).formation
    again = pickle.loads(pickle.dumps(caught.value))
    assert str(again) == str(caught.value)
    assert again.faults == caught.value.faults


def test_own_rows_are_chosen_over_the_shipped_ones() -> None:
    mine = shipped().with_rows(formation=[GOOD]).formation["NaBr(s)"]["dfH"]
    assert (mine[0].value, mine[0].chosen) == (-361.0, True)
    assert sum(row.chosen for row in mine) == 1
    assert shipped().formation["NaBr(s)"]["dfH"][0].value != -361.0


def test_own_rows_may_stand_beside_the_chosen_one() -> None:
    mine = shipped().with_rows(formation=[{**GOOD, "chosen": 0}]).formation["NaBr(s)"]["dfH"]
    assert [row.value for row in mine if row.chosen] != [-361.0]
    assert -361.0 in [row.value for row in mine]


def test_own_sources_are_declared_with_own_rows() -> None:
    tables = shipped().with_rows(
        sources=[{"key": "notebook7", "citation": "own notebook 7, page 12", "kind": "practice"}],
        formation=[{**GOOD, "source": "notebook7"}],
    )
    assert tables.formation["NaBr(s)"]["dfH"][0].sources == ("notebook7",)


def test_an_unknown_table_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="no table called formations"):
        shipped().with_rows(formations=[])


def test_shipped_tables_are_one_object_and_cannot_be_written() -> None:
    assert shipped() is shipped()
    with pytest.raises(TypeError):
        shipped().formation["H2O(l)"] = {}  # type: ignore[index]
    with pytest.raises(AttributeError):
        shipped().sources["cox1989"].citation = "another"  # type: ignore[misc]


def test_nothing_is_read_before_it_is_asked_for() -> None:
    assert repr(Tables()) == "Tables()"
    assert Tables().__dict__["_made"] == {}


def test_a_couple_without_the_quantity_says_where_it_looked() -> None:
    with pytest.raises(MissingDataError) as caught:
        shipped().couples["FeO4^2-/Fe3+"].row("dEdT")
    assert caught.value.looked_in == ("couples.csv",)
