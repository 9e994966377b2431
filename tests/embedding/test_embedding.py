"""Public values in other people's programs: pickled, in threads, in spawned processes."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context

import pytest
from hypothesis import given

from redoxlib.data import shipped
from redoxlib.errors import ImpossibleError, NotationError, RedoxlibError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity
from redoxlib.stoichiometry import balance, check, complete, half_reactions, oxidation_numbers
from redoxlib.testing import balanced_equations, species
from redoxlib.thermo import gibbs

TEXT = "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O"
VALUES: dict[str, Callable[[], object]] = {
    "Quantity": lambda: Quantity.parse("500 mL"),
    "gibbs": lambda: gibbs("2 H2(g) + O2(g) -> 2 H2O(l)"),
    "Check": lambda: check("2 H2 + O2 -> H2O"),
    "Couple": lambda: next(iter(shipped().couples.values())),
    "Balance": lambda: balance(TEXT),
    "complete": lambda: complete("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", medium="acid"),
    "HalfReactions": lambda: half_reactions(balance(TEXT).equation),
    "OxidationNumbers": lambda: oxidation_numbers("MnO4^-"),
}


@pytest.mark.parametrize("kind", VALUES)
def test_a_result_survives_pickling(kind: str) -> None:
    value = VALUES[kind]()
    again = pickle.loads(pickle.dumps(value))
    assert type(again) is type(value)
    assert str(again) == str(value)


@given(species(), balanced_equations())
def test_species_and_equations_survive_pickling_and_copying(one: Species, equation: Equation) -> None:
    for value in (one, equation):
        assert pickle.loads(pickle.dumps(value)) == value
        assert hash(pickle.loads(pickle.dumps(value))) == hash(value)
        assert copy.deepcopy(value) == value


@pytest.mark.parametrize("text", ["H2 -> He", "KMmO4 -> MnO2", "H2 + -> O"])
def test_an_error_keeps_its_fields(text: str) -> None:
    with pytest.raises((ImpossibleError, NotationError)) as told:
        balance(text)
    error: RedoxlibError = told.value
    again = pickle.loads(pickle.dumps(error))
    assert str(again) == str(error)
    assert (again.source, again.span, again.hint) == (error.source, error.span, error.hint)


def _answer(text: str) -> str:
    return str(balance(text).equation)


def test_threads_agree_with_one_thread() -> None:
    texts = [TEXT, "H2 + O2 -> H2O", "N2 + H2 -> NH3", "Zn + H^+ -> Zn^2+ + H2"] * 50
    with ThreadPoolExecutor(8) as pool:
        assert list(pool.map(_answer, texts)) == [_answer(text) for text in texts]


def test_threads_may_share_one_family() -> None:
    shared = balance("MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O")
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda _: (shared.members, shared.choice), range(32)))
    assert all(each == found[0] for each in found)


def test_a_spawned_process_sends_a_balance_back() -> None:
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        assert str(pool.submit(balance, TEXT).result().equation) == _answer(TEXT)
