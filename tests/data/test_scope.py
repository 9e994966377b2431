"""The tables reach as far as the work needs, and say where knowledge ends."""

from __future__ import annotations

from collections import defaultdict

import pytest

from redoxlib.data import SolutionRow, shipped
from redoxlib.errors import MissingDataError
from redoxlib.notation import Equation
from redoxlib.thermo import enthalpy

MEDIUM = {"H2O(l)", "H^+(aq)", "OH^-(aq)"}


def with_quantity(quantity: str) -> dict[str, list[SolutionRow]]:
    found = defaultdict(list)
    for solute, rows in shipped().solutions.items():
        for row in rows:
            if row.quantity == quantity:
                found[solute].append(row)
    return found


def test_there_are_enough_species_and_couples_with_acid_and_base_forms() -> None:
    full = [s for s, p in shipped().formation.items() if {"dfH", "dfG", "S"} <= set(p)]
    assert len(full) >= 220
    assert len(shipped().couples) >= 110
    changed = defaultdict(set)
    for couple in shipped().couples.values():
        equation = Equation.parse(couple.half_reaction)
        elements = {e for _, s in equation.products for e in s.elements} - {"O", "H"}
        changed[frozenset(elements)].add(couple.medium)
    assert sum({"acid", "base"} <= media for media in changed.values()) >= 6


def test_there_are_enough_oxidants_and_all_but_the_electrode_say_what_they_do() -> None:
    assert len(shipped().oxidants) >= 35
    assert set(shipped().oxidants) - set(shipped().oxidant_reactions) == {"anode"}


def test_there_are_enough_reductants_and_quench_agents() -> None:
    """Reduced partners of the couples that are not water, acid or base."""
    reduced = {
        str(species)
        for couple in shipped().couples.values()
        for _, species in Equation.parse(couple.half_reaction).products
    } - MEDIUM
    assert len(reduced) >= 50
    quenches = {"SO3^2-(aq)", "S2O3^2-(aq)", "H2C2O4(aq)", "Fe^2+(aq)", "C6H8O6(aq)", "NO2^-(aq)"}
    assert quenches <= reduced


def test_density_curves_have_a_range_and_do_not_leave_it() -> None:
    curves = with_quantity("density")
    wide = [s for s, rows in curves.items() if len({row.mass_fraction for row in rows}) >= 5]
    assert len(wide) >= 12
    for rows in curves.values():
        assert all(row.mass_fraction is not None and 0 <= row.mass_fraction <= 1 for row in rows)


def test_single_strengths_stand_for_themselves() -> None:
    """A bottle whose solute has no density curve cannot be read between two strengths."""
    curves = with_quantity("density")
    alone = [key for key, rows in shipped().bottles.items() if rows[0].solute not in curves]
    assert len(alone) >= 28


@pytest.mark.parametrize(
    "quantity", ["heat_of_dilution_infinite", "integral_heat_of_solution", "heat_of_solution_infinite"]
)
def test_heats_of_one_solute_come_from_one_family(quantity: str) -> None:
    found = with_quantity(quantity)
    assert found
    for solute, rows in found.items():
        assert len({row.family for row in rows}) == 1, solute
        assert all(row.family for row in rows), solute


def test_rates_limits_and_properties_are_there_in_number() -> None:
    assert len(shipped().rates) >= 60
    assert {row.direction for row in shipped().rates} == {"exact", "upper", "lower"}
    kinds = {row.limit.split()[0] for rows in shipped().limits.values() for row in rows}
    assert {"PEL", "REL", "IDLH"} <= kinds
    held = {row.property for row in shipped().liquids}
    assert {"vapour_pressure", "heat_of_vaporisation", "solubility_in_water", "boiling_point"} <= held
    assert len(shipped().restricted) >= 5
    assert all(row.date_read for rows in shipped().restricted.values() for row in rows)


def test_cas_numbers_carry_their_check_digit() -> None:
    numbers = {row.cas for row in shipped().names.values() if row.cas}
    assert len(numbers) >= 300
    for number in numbers:
        digits = number.replace("-", "")
        total = sum(place * int(digit) for place, digit in enumerate(reversed(digits[:-1]), start=1))
        assert total % 10 == int(digits[-1]), number


WANTED: dict[str, set[str]] = {  # what the tables know of each; the rest nobody was found to publish
    "Cr^3+(aq)": {"dfH", "dfG", "S"},
    "Cr^2+(aq)": {"dfH", "dfG"},
    "V^3+(aq)": {"dfH", "dfG", "S"},
    "V^2+(aq)": {"dfH", "dfG", "S"},
    "Mn^3+(aq)": {"dfG"},
    "HSO5^-(aq)": {"dfH", "dfG", "S"},
    "SO5^2-(aq)": {"dfG"},
    "H2C2O4(aq)": {"dfH", "dfG", "S"},
    "CH2O(aq)": {"dfH", "dfG"},
    "CH3CHO(aq)": {"dfH", "dfG"},
    "C6H11OH(l)": {"dfH", "dfG", "S", "Cp"},
    "C6H10O(l)": {"dfH", "dfG", "S", "Cp"},
    "CH3CO3H(aq)": {"dfG"},
    "CNCl(g)": {"dfH", "dfG", "S", "Cp"},
    "CNCl(aq)": {"dfG"},
    "CuSO4.5H2O(s)": {"dfH", "dfG", "S"},
    "C3Cl3N3O3(s)": set(),
    "C3H3N3O3(s)": set(),
    "NaBO3.4H2O(s)": set(),
    "(Na2CO3)2.3H2O2(s)": set(),
}


@pytest.mark.parametrize(("species", "properties"), WANTED.items())
def test_a_species_named_as_needed_is_known_as_far_as_published(species: str, properties: set[str]) -> None:
    assert set(shipped().formation.get(species, {})) == properties


@pytest.mark.parametrize(
    "equation",
    [
        "Mn^3+(aq) + Fe^2+(aq) -> Mn^2+(aq) + Fe^3+(aq)",
        "CH3CO3H(aq) + HSO3^-(aq) -> CH3COOH(aq) + HSO4^-(aq)",
        "CNCl(g) -> CNCl(aq)",
        "C3Cl3N3O3(s) + 3 H2O(l) -> C3H3N3O3(s) + 3 HClO(aq)",
        "2 NaBO3.4H2O(s) + 2 H^+(aq) -> 2 H2O2(aq) + 2 Na^+(aq) + 2 H3BO3(aq) + 4 H2O(l)",
    ],
)
def test_what_nobody_published_is_not_computed(equation: str) -> None:
    with pytest.raises(MissingDataError, match="no enthalpy of formation"):
        enthalpy(equation)
