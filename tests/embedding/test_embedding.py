"""Public values in other people's programs: pickled, in threads, in spawned processes."""

from __future__ import annotations

import copy
import pickle
import subprocess
import sys
import traceback
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from functools import cache
from multiprocessing import get_context

import pytest
from hypothesis import given

from redoxlib import (
    Job,
    Quantity,
    Unknown,
    balance,
    balance_symbolic,
    check,
    clear,
    compare,
    complete,
    enthalpy,
    entropy,
    equilibrium_constant,
    errors,
    frost,
    gibbs,
    half_reactions,
    oxidation_numbers,
    plan,
    potential,
    predominance,
    read_bottle,
    reconcile,
    review,
    speciation,
    species_at,
)
from redoxlib.compare import Comparison
from redoxlib.data import shipped
from redoxlib.errors import ImpossibleError, NotationError, NotUniqueError, RedoxlibError, UnsafeRouteError
from redoxlib.notation import Equation, Species, parse_symbolic
from redoxlib.testing import balanced_equations, species

TEXT = "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O"


@cache
def _compared() -> Comparison:
    return compare("Br^- -> Br2", oxidants=["H2O2", "KMnO4", "Cl2", "NaClO3", "Fe3+"], amount="0.1 mol")


VALUES: dict[str, Callable[[], object]] = {
    "Species": lambda: Species.parse("SO4^2-(aq)"),
    "Assumption": lambda: Species.parse("SO42-").assumptions,
    "Equation": lambda: Equation.parse("2 H2 + O2 -> 2 H2O"),
    "family": lambda: balance("MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O"),
    "symbolic": lambda: balance_symbolic("CnH2n + O2 -> CO2 + H2O"),
    "Unknown": lambda: Unknown("E0", ("couples.csv",)),
    "potential": lambda: potential("Fe^3+ + e^- -> Fe^2+"),
    "equilibrium_constant": lambda: equilibrium_constant("Br2(aq) + H2O -> HBrO + Br^- + H^+"),
    "species_at": lambda: species_at("CN^-", 9.0),
    "Bottle": lambda: read_bottle("hydrogen peroxide 30 % w/w"),
    "Job": lambda: Job.of("Br^- -> Br2", amount="0.1 mol"),
    "Comparison": _compared,
    "Route": lambda: _compared().routes[0],
    "Refusal": lambda: _compared().refused[0],
    "Verdict": lambda: review(_compared().routes[0]),
    "ClearedRoute": lambda: clear(_compared().routes[0]),
    "BenchPlan": lambda: plan(clear(_compared().routes[0])),
    "Reconciliation": lambda: reconcile(plan(clear(_compared().routes[0])), product="5 g"),
    "predominance": lambda: predominance("Mn"),
    "frost": lambda: frost("Br"),
    "speciation": lambda: speciation("Cl", 1),
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


def test_eight_threads_compare_as_one_does() -> None:
    """The tables, the caches and sympy are shared; the ranking and every figure must not notice."""
    jobs = ["Br^- -> Br2", "I^- -> I2", "Fe^2+ -> Fe^3+", "Mn^2+ -> MnO2"] * 2

    def told(job: str) -> str:
        made = compare(job, oxidants=["H2O2", "KMnO4", "NaOCl", "O2", "K2Cr2O7"], amount="0.1 mol")
        return made.table().to_csv() + repr([(r.oxidant.key, r.score and r.score.total) for r in made.routes])

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(told, jobs))
    assert found == [told(job) for job in jobs]


def test_threads_that_import_first_agree() -> None:
    """Eight threads that all meet the library for the first time, in a process of their own."""
    program = (
        "from concurrent.futures import ThreadPoolExecutor\nfrom threading import Barrier\n"
        "gate = Barrier(8)\n"
        "def work(i):\n"
        "    gate.wait()\n"
        "    import redoxlib\n"
        "    unit = redoxlib.gibbs('Br2(l) -> Br2(aq)').unit\n"
        "    return str(redoxlib.balance('Fe + O2 -> Fe2O3').equation) + ' ' + unit\n"
        "with ThreadPoolExecutor(8) as pool:\n"
        "    print(set(pool.map(work, range(8))))\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout == "{'4 Fe + 3 O2 -> 2 Fe2O3 kJ/mol'}\n"


ERRORS: dict[str, Callable[[], object]] = {
    "NotationError": lambda: Species.parse("Qq"),
    "BudgetError": lambda: Species.parse("H" * 5000),
    "UnitError": lambda: Quantity.parse("35 %"),
    "DomainError": lambda: speciation("Cl", 1, total=0.0),
    "ImpossibleError": lambda: balance("H2 -> He"),
    "NotUniqueError": lambda: balance("MnO4^- + H2O2 + H^+ -> Mn^2+ + O2 + H2O").equation,
    "MissingDataError": lambda: gibbs("Xe + F2 -> XeF2"),
    "JobError": lambda: Job.of("Br^- -> Br2", amount="plenty"),
    "UnsafeRouteError": lambda: clear(_compared().route("NaClO3")),
}


def _raised(work: Callable[[], object]) -> RedoxlibError:
    with pytest.raises(RedoxlibError) as told:
        work()
    return told.value


@pytest.mark.parametrize("kind", ERRORS)
def test_a_raised_error_travels_whole(kind: str) -> None:
    error = _raised(ERRORS[kind])
    assert type(error).__name__ == kind
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
    assert (again.message, again.source, again.span, again.hint) == (
        error.message,
        error.source,
        error.span,
        error.hint,
    )
    assert {name: str(value) for name, value in again.fields.items()} == {
        name: str(value) for name, value in error.fields.items()
    }


def test_the_fields_of_an_error_are_values() -> None:
    family = _raised(ERRORS["NotUniqueError"])
    assert isinstance(family, NotUniqueError)
    assert all(isinstance(member, Equation) and not member.residual() for member in family.members)
    barred = _raised(ERRORS["ImpossibleError"])
    assert isinstance(barred, ImpossibleError)
    assert barred.certificate
    stopped = _raised(ERRORS["UnsafeRouteError"])
    assert isinstance(stopped, UnsafeRouteError)
    assert stopped.reasons


@pytest.mark.parametrize("name", errors.__all__)
def test_every_error_class_keeps_any_field(name: str) -> None:
    kind = getattr(errors, name)
    error = kind("wrong", source="abc", span=(1, 2), hint="write b", choices=("x", "y"))
    again = pickle.loads(pickle.dumps(error))
    assert (type(again), str(again), again.choices) == (kind, str(error), ("x", "y"))


@pytest.mark.parametrize("value", [5, None, b"H2 + O2 -> H2O", 3.2, ["H2"], {"H2": 1}, object()])
@pytest.mark.parametrize(
    "verb",
    [
        balance,
        balance_symbolic,
        check,
        complete,
        compare,
        enthalpy,
        entropy,
        equilibrium_constant,
        frost,
        gibbs,
        half_reactions,
        oxidation_numbers,
        parse_symbolic,
        potential,
        predominance,
        read_bottle,
        speciation,
        Equation.parse,
        Job.of,
        Quantity.parse,
        Species.parse,
        lambda value: species_at(value, 7.0),
    ],
)
def test_what_is_no_text_is_refused_with_a_hint(verb: Callable[[object], object], value: object) -> None:
    error = _raised(lambda: verb(value))
    # A job lists its faults in the message, each with what mends it.
    assert error.hint or "; write feed -> target" in error.message
    assert not isinstance(error.__context__, TypeError | AttributeError)
    assert isinstance(error, ValueError)


def test_the_refusal_of_a_number_in_full() -> None:
    assert str(_raised(lambda: balance(5))) == (  # type: ignore[arg-type]
        "5 is no text\n  give an equation such as 'H2 + O2 -> H2O'"
    )


def _told_in_a_spawned_process(text: str) -> tuple[str, str]:
    try:
        return str(balance(text).equation), ""
    except RedoxlibError as error:
        return "", "".join(traceback.format_exception_only(error))


def test_spawned_processes_answer_and_fail_as_this_one() -> None:
    texts = [TEXT, "H2 -> He", "KMmO4 -> MnO2", "Fe + O2 -> Fe2O3"]
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        assert list(pool.map(_told_in_a_spawned_process, texts)) == list(
            map(_told_in_a_spawned_process, texts)
        )
        with pytest.raises(ImpossibleError) as told:
            pool.submit(balance, "H2 -> He").result()
    assert str(told.value) == str(_raised(ERRORS["ImpossibleError"]))
