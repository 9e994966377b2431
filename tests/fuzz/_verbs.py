"""Questions that the verbs can answer, drawn from sound ones and changed a little, and what must hold."""

from __future__ import annotations

import csv
import io
import json
import sys
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from math import isfinite
from pathlib import Path
from random import Random
from tempfile import mkdtemp
from typing import Any

from redoxlib import (
    Equation,
    Job,
    audit,
    balance,
    check,
    clear,
    compare,
    complete,
    enthalpy,
    entropy,
    equilibrium_constant,
    frost,
    gibbs,
    half_reactions,
    oxidation_numbers,
    plan,
    potential,
    reports,
    speciation,
    species_at,
)
from redoxlib.data import shipped
from redoxlib.errors import RedoxlibError

__all__ = ["VERBS", "Question", "Wrong", "caches", "question"]

_ROOT = Path(__file__).parents[2]
_DATA = _ROOT / "tests" / "published" / "data"


class Wrong(AssertionError):
    """An answer that cannot be right."""


@dataclass(frozen=True)
class Question:
    """One call, in words that repeat it."""

    verb: str
    words: str
    ask: Callable[[], None]


# ---------------------------------------------------------------------------------------------------
# What there is to ask about.


@cache
def _equations() -> tuple[str, ...]:
    lines = (_DATA / "equations.jsonl").read_text(encoding="utf-8").splitlines()
    found = [entry["text"] for entry in map(json.loads, lines)]
    for name in ("reactions", "oxidant_demand", "active_oxygen"):
        with (_DATA / f"{name}.csv").open(encoding="utf-8") as file:
            found += [row["equation"] for row in csv.DictReader(file)]
    return tuple(found)


@cache
def _reactions() -> tuple[str, ...]:
    with (_DATA / "reactions.csv").open(encoding="utf-8") as file:
        return tuple(row["equation"] for row in csv.DictReader(file))


@cache
def _conversions() -> tuple[str, ...]:
    with (_DATA / "preferences.csv").open(encoding="utf-8") as file:
        found = {row["conversions"] for row in csv.DictReader(file)}
    for path in _ROOT.glob("docs/examples/*.toml"):
        given = tomllib.loads(path.read_text(encoding="utf-8"))["conversions"]
        found.update([given] if isinstance(given, str) else [pair[0] for pair in given])
    found.update(
        ["Cl^- -> Cl2", "I^- -> IO3^-", "S^2- -> S", "CN^- -> CNO^-", "As(OH)3 -> H3AsO4", "Fe -> Fe^3+"]
    )
    found.update(
        ["Mn^2+ -> MnO4^-", "Cr^3+ -> CrO4^2-", "SO3^2- -> SO4^2-", "S2O3^2- -> SO4^2-", "NO2^- -> NO3^-"]
    )
    found.update(["ethanol -> acetaldehyde", "benzyl alcohol -> benzaldehyde", "Ag -> Ag^+", "Sn^2+ -> SnO2"])
    return tuple(sorted(text for text in found if "->" in text and ";" not in text))


@cache
def _folder() -> Path:
    return Path(mkdtemp(prefix="redoxlib-fuzz-"))


# ---------------------------------------------------------------------------------------------------
# Questions.


def _number(random: Random, low: float, high: float) -> str:
    """A number over all its decades, in few digits."""
    return f"{low * (high / low) ** random.random():.{random.randint(1, 4)}g}"


def _fields(random: Random) -> dict[str, Any]:
    """Options of a job, each there in one case of three."""
    keys = list(shipped().oxidants)
    made: dict[str, Callable[[], Any]] = {
        "amount": lambda: _number(random, 1e-3, 50) + random.choice([" mol", " g", " kg", " mmol"]),
        "medium": lambda: random.choice(["acid", "base", "neutral", round(random.uniform(-0.5, 14.5), 1)]),
        "concentration": lambda: (
            _number(random, 1e-3, 6) + random.choice([" mol/L", " mol/L", " g/L", " mg/L"])
        ),
        "acid": lambda: random.choice(
            [
                *(
                    "sulfuric acid 50 % w/w",
                    "sulfuric acid 96 % w/w",
                    "hydrochloric acid 37 % w/w",
                    "HNO3 68 % w/w",
                ),
                *("acetic acid, glacial", "phosphoric acid 85 % w/w"),
            ]
        ),
        "base": lambda: random.choice(
            ["sodium hydroxide 50 % w/w", "NaOH 10 % w/w", "KOH 45 % w/w", "Na2CO3"]
        ),
        "bottles": lambda: random.sample(
            [
                *(
                    "hydrogen peroxide 30 % w/w",
                    "hydrogen peroxide 3 % w/w",
                    "bleach 12.5 % trade",
                    "bleach 5 % w/w",
                ),
                *(
                    "250 mL of hydrogen peroxide 35 % w/w",
                    "potassium permanganate 0.02 mol/L",
                    "nitric acid 68 % w/w",
                ),
            ],
            random.randint(1, 2),
        ),
        "excess": lambda: random.choice([0.0, 0.05, "10 %", round(random.uniform(0, 1.2), 2)]),
        "temperature": lambda: _number(random, 1, 95) + " C",
        "pot_mass": lambda: _number(random, 0.05, 2000) + " kg",
        "cooling": lambda: _number(random, 1, 2000) + " W",
        "room": lambda: _number(random, 5, 500) + " m3",
        "time": lambda: _number(random, 0.05, 48) + " h",
        "vessel": lambda: random.choice(["open", "open", "vented", "closed", "sealed"]),
        "purpose": lambda: random.choice(["make", "make", "remove"]),
        "potable": lambda: random.random() < 0.3,
        "weights": lambda: {
            random.choice(["mass", "by_products", "exotherm", "side_risk"]): random.randint(0, 4)
        },
        "context": lambda: random.choice(["balanced", "teaching", "water works"]),
        "impurities": lambda: {
            random.choice(["NaCl", "H2O", "Fe^2+", "Na2SO4"]): _number(random, 0.1, 20) + " % w/w"
        },
        "volts": lambda: _number(random, 2, 8) + " V",
    }
    found = {key: make() for key, make in made.items() if random.random() < 0.3}
    return {**found, "oxidants": random.sample(keys, random.randint(1, 3))}


def _finite(data: Any) -> None:
    """JSON of an answer holds no number that is none."""
    json.dumps(data, allow_nan=False)


def _job(random: Random) -> Question:
    conversion, fields = random.choice(_conversions()), _fields(random)

    def ask() -> None:
        compared = compare(Job(conversion, **fields))
        _finite(reports.plain(compared))
        reports.terminal(reports.comparison_document(compared), width=80)
        stopped = {refusal.oxidant.key for refusal in compared.refused}
        for route in (*compared.routes, *compared.unreviewed):
            if route.oxidant.key in stopped:
                raise Wrong(f"{route.oxidant.key} is stopped and shown")
            if not check(route.full).balanced:
                raise Wrong(f"{route.full} is not balanced")
        for route in compared.routes[:1]:
            if not check(route.net_ionic).balanced:
                raise Wrong(f"{route.net_ionic} is not balanced")
            sheet = plan(clear(route))
            _finite(reports.plain(sheet))
            reports.write(reports.plan_document(sheet), str(_folder() / "sheet.html"))

    return Question("compare and plan", f"{conversion!r}, {fields!r}", ask)


def _equation(random: Random) -> str:
    """A published equation with coefficients off or on, another order, sometimes one species more."""
    text = random.choice(_equations())
    read = Equation.parse(text)
    sides = []
    for side in (read.reactants, read.products):
        terms = [f"{random.choice([count, 1, 1])} {species}".removeprefix("1 ") for count, species in side]
        random.shuffle(terms)
        sides.append(terms)
    if random.random() < 0.15:
        random.choice(sides).append(random.choice(["H2O", "H^+", "Na^+", "O2", "Cl^-"]))
    return " -> ".join(" + ".join(terms) for terms in sides)


def _balanced(random: Random) -> Question:
    text = _equation(random)

    def ask() -> None:
        found = balance(text).equation
        if not check(found).balanced:
            raise Wrong(f"{found} is not balanced")
        if str(balance(str(found)).equation) != str(found):
            raise Wrong(f"{found} balances to something else")

    return Question("balance", repr(text), ask)


def _completed(random: Random) -> Question:
    text = _equation(random)
    medium = random.choice(["acid", "base", None, 3.0, 10])

    def ask() -> None:
        found = complete(text, medium).equation
        if not check(found).balanced:
            raise Wrong(f"{found} is not balanced")
        half_reactions(found, medium)

    return Question("complete", f"{text!r}, {medium!r}", ask)


def _numbered(random: Random) -> Question:
    sides = Equation.parse(random.choice(_equations()))
    _, species = random.choice([*sides.reactants, *sides.products])

    def ask() -> None:
        found = oxidation_numbers(str(species))
        total = sum(found.average[symbol] * count for symbol, count in species.elements.items())
        if total != species.charge:
            raise Wrong(f"oxidation numbers of {species} add up to {total}")
        species_at(species, random.uniform(0, 14))

    return Question("oxidation numbers", str(species), ask)


def _potential(random: Random) -> Question:
    couple = random.choice(list(shipped().couples.values())).half_reaction
    ph = round(random.uniform(0, 14), 1)
    more: dict[str, Any] = {}
    if random.random() < 0.5:
        more["temperature"] = _number(random, 1, 95) + " C"
    if random.random() < 0.4:
        more["ionic_strength"] = float(_number(random, 1e-4, 0.5))

    def ask() -> None:
        found = potential(str(couple), ph, **more)
        if not isfinite(found.value):
            raise Wrong(f"{couple} has {found.value} V")

    return Question("potential", f"{str(couple)!r}, {ph}, {more!r}", ask)


def _energies(random: Random) -> Question:
    text = random.choice(_reactions())
    celsius = _number(random, 1, 95) + " C"

    def ask() -> None:
        for verb in (enthalpy, gibbs, entropy):
            if not isfinite(verb(text, temperature=celsius).value):
                raise Wrong(f"{verb.__name__} of {text} is no number")
        equilibrium_constant(text, temperature=celsius)

    return Question("energies", f"{text!r}, {celsius}", ask)


def _diagram(random: Random) -> Question:
    element = random.choice(["Mn", "Fe", "Cl", "Br", "I", "S", "N", "Cr", "Cu", "O"])
    verbs: dict[str, Callable[[str], object]] = {"frost": frost, "speciation": speciation}
    name = random.choice(list(verbs))

    def ask() -> None:
        reports.plain(verbs[name](element))

    return Question("diagram", f"{name}({element!r})", ask)


_LINES: dict[str, list[str]] = {
    "feed": ["sodium bromide", "KI", "FeSO4·7H2O", "NaBr", "potassium iodide"],
    "oxidant": ["hydrogen peroxide 30 % w/w", "bleach 12.5 % trade", "KMnO4", "K2Cr2O7", "NaClO3"],
    "acid": ["sulfuric acid 50 % w/w", "hydrochloric acid 37 % w/w", "acetic acid, glacial"],
    "water": ["water"],
    "quench": ["Na2S2O3·5H2O", "sodium sulfite", "sodium bisulfite"],
    "base": ["sodium hydroxide 50 % w/w"],
}
_PRODUCT = {"B": "Br2", "b": "Br2", "K": "I2", "i": "I2", "F": "Fe^3+", "N": "Br2", "s": "Br2", "p": "I2"}


def _recipe(random: Random) -> Question:
    feed = random.choice(_LINES["feed"])
    roles = [
        "feed",
        "oxidant",
        *(role for role in ("acid", "water", "quench", "base") if random.random() < 0.6),
    ]
    random.shuffle(roles)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["step", "role", "charge", "amount", "minutes"])
    for step, role in enumerate(roles, 1):
        label = feed if role == "feed" else random.choice(_LINES[role])
        unit = (
            random.choice([" mL", " g"]) if "%" in label or role == "water" else random.choice([" g", " mol"])
        )
        amount = _number(random, 0.05, 2) if unit == " mol" else _number(random, 1, 800)
        writer.writerow([step, role, label, amount + unit, random.choice(["", "", "10", "60"])])
    writer.writerow([len(roles) + 1, "product", _PRODUCT[feed[0]], "", ""])

    def ask() -> None:
        path = _folder() / "recipe.csv"
        path.write_text(out.getvalue(), encoding="utf-8")
        found = audit(path)
        _finite(reports.plain(found))
        if found.decision == "stop" and (found.equivalents or found.heat_kj is not None):
            raise Wrong("a stopped recipe has numbers")

    return Question("audit", out.getvalue(), ask)


VERBS: dict[str, tuple[Callable[[Random], Question], int]] = {
    "compare and plan": (_job, 6),
    "balance": (_balanced, 30),
    "complete": (_completed, 15),
    "oxidation numbers": (_numbered, 12),
    "potential": (_potential, 12),
    "energies": (_energies, 8),
    "audit": (_recipe, 10),
    "diagram": (_diagram, 1),
}
"""Maker of questions, and its share of a run."""


def question(random: Random) -> Question:
    """Draw one question."""
    names = list(VERBS)
    while True:
        name = random.choices(names, [VERBS[n][1] for n in names])[0]
        try:
            return VERBS[name][0](random)
        except RedoxlibError:  # a published equation that is refused as printed
            continue


def caches() -> Iterator[tuple[str, int, int | None]]:
    """Every cache of the library that has been loaded: name, entries, limit (None: no limit)."""
    seen: set[int] = set()
    for name, module in sorted(sys.modules.items()):
        if name.partition(".")[0] != "redoxlib":
            continue
        for key, value in vars(module).items():
            info = getattr(value, "cache_info", None)
            if info is not None and id(value) not in seen and value.__module__ == name:
                seen.add(id(value))
                yield f"{name}.{key}", info().currsize, info().maxsize
