"""Inputs for fuzzing: written by a grammar, mutated from real text, or plain noise; all from one Random."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from random import Random
from signal import ITIMER_REAL, SIGALRM, setitimer, signal
from types import FrameType

__all__ = ["KINDS", "alarm", "arguments"]

_ELEMENTS = [
    *list("HCNOFPSKIHONS"),
    "Na",
    "Mg",
    "Al",
    "Si",
    "Cl",
    "Ca",
    "Cr",
    "Mn",
    "Fe",
    "Cu",
    "Br",
    "Ce",
    "Pb",
    "D",
]
_CHARGES = ["", "", "", "+", "-", "2-", "^2-", "3+", "++", "²⁻", "⁺", "-2", "(2+)", "^{2-}", "−", "+-", "99+"]
_PHASES = ["", "", "", "(aq)", "(s)", "(l)", "(g)", " (aq)", "[aq]", "(q)", "↑", "↓"]
_ARROWS = ["->", "=", "→", "⇌", "<->", "==>", " - > ", "->->", "", "<-", "⟶", "="]
_CONFUSABLES = (
    "−–—‐﹣－⁻₋＋⁺₊０１２９²³⁴₂₃·•∙×․’\u202e\u200f\u200b\u00a0\u2009\u0301\u20dd\ufeffОНСеΗ½⅓∞µμ°Å\u0000\n\t"
)
_UNITS = [
    "g",
    "kg",
    "mg",
    "mL",
    "L",
    "mol",
    "mmol",
    "M",
    "g/L",
    "mol/L",
    "kg/L",
    "%",
    "ppm",
    "°C",
    "C",
    "K",
    "kJ/mol",
    "V",
    "W/K",
    "min",
    "h",
    "J/(mol·K)",
    "mol/kg",
    "furlong",
]
_EXTREMES = [
    "nan",
    "inf",
    "-inf",
    "1e400",
    "-0",
    "0",
    "1e-400",
    "1/0",
    "0/0",
    "9" * 5000,
    "1_000",
    "1,5",
    "٣",
    "²",
    "1e",
    "0x10",
]
_NAMES = [
    "sodium bromide",
    "bleach",
    "hydrogen peroxide",
    "H2O2",
    "NaOCl",
    "potassium permanganate",
    "acetone",
    "x",
]
_BASES = [
    "% w/w",
    "%",
    "% w/v",
    "g/L Cl2",
    "trade %",
    "M",
    "vol",
    "% available chlorine",
    "% v/v",
    "mol/kg",
    "N",
]


@cache
def _real() -> tuple[str, ...]:
    """Lines of the published tables and of the documentation, as people write them."""
    root = Path(__file__).resolve().parents[2]
    lines: set[str] = set()
    for path in [*root.glob("tests/published/data/*.*"), *root.glob("docs/**/*.md")]:
        for line in path.read_text(encoding="utf-8").splitlines():
            if path.suffix == ".jsonl":
                lines.update(value for value in json.loads(line).values() if isinstance(value, str))
            else:
                lines.update(part.strip() for part in (line, *line.split(",")) if part.strip())
    return tuple(sorted(line[:400] for line in lines))


def _number(random: Random) -> str:
    if random.random() < 0.15:
        return random.choice(_EXTREMES)
    return random.choice([str(random.randint(0, 40)), f"{random.uniform(0, 200):.3g}", "1/2", "3.5e-2"])


def _species(random: Random, depth: int = 0) -> str:
    text = ""
    for _ in range(random.randint(1, 4)):
        inner = _species(random, depth + 1) if depth < 3 and random.random() < 0.15 else ""
        text += f"({inner})" if inner else random.choice(_ELEMENTS)
        text += random.choice(
            ["", "", "", "2", "2", "3", "4", "₂", "12", "12", random.choice(["0", "n", "1.5"])]
        )
    if depth:
        return text
    water = random.choice([""] * 8 + ["·5H2O", "*H2O", ".7H2O"])
    return text + water + random.choice(_CHARGES) + random.choice(_PHASES)


def _side(random: Random) -> str:
    terms = (
        random.choice(["", "", "2 ", "1/2 ", "0.5", "n", "0 "]) + _species(random)
        for _ in range(random.randint(1, 4))
    )
    return random.choice([" + ", "+", " + ", " ＋ ", " ; "]).join(terms)


def _equation(random: Random) -> str:
    return f"{_side(random)} {random.choice(_ARROWS)} {_side(random)}"


def _quantity(random: Random) -> str:
    return (
        random.choice(["", "", "about ", "-"])
        + _number(random)
        + random.choice([" ", "", " ± 1 "])
        + random.choice(_UNITS)
    )


def _label(random: Random) -> str:
    name = random.choice([*_NAMES, _species(random)])
    extra = random.choice(["", "", ", undiluted", " technical", ", 1.11 g/mL", " opened 2019", " 250 mL"])
    return f"{name} {_number(random)} {random.choice(_BASES)}{extra}"


def _noise(random: Random) -> str:
    if random.random() < 0.5:
        return bytes(random.randrange(256) for _ in range(random.randint(0, 40))).decode("latin-1")
    return "".join(chr(random.randrange(0x110000)) for _ in range(random.randint(0, 20)))


def _mutant(random: Random) -> str:
    """A real line cut, spliced, doubled or strewn with characters that look like others."""
    text = random.choice(_real())
    for _ in range(random.randint(1, 3)):
        at = random.randint(0, len(text))
        move = random.randrange(5)
        if move == 0:
            text = text[:at]
        elif move == 1:
            text = text[:at] + random.choice(_real())[random.randint(0, 20) :]
        elif move == 2:
            text = text[:at] + random.choice(_CONFUSABLES) + text[at + random.randint(0, 1) :]
        elif move == 3:
            text = text[:at] + text[at : at + 3] * random.randint(2, 4) + text[at:]
        else:
            text = text[at:] + text[:at]
    return text[:600]


def _confused(random: Random) -> str:
    letters = list(random.choice([_species, _equation, _quantity, _label])(random))
    for _ in range(random.randint(1, 4)):
        letters.insert(random.randint(0, len(letters)), random.choice(_CONFUSABLES))
    return "".join(letters)


def _deep(random: Random) -> str:
    depth = random.choice([3, 30, 63, 64, 65, 300])
    opening, closing = random.choice([("(", ")"), ("[", "]"), ("{", "}")])
    return random.choice(
        [
            opening * depth + _species(random) + closing * depth,
            opening * depth + "H",
            "H" + "2" * depth,
            " + ".join(["H2O"] * depth) + " -> H2",
            "+" * depth + "->" + "-" * depth,
            "9" * random.choice([9, 10, 4301, 100_000]) + random.choice([" mol", "H2O", " % w/w"]),
            "Fe" * random.choice([100, 2048, 2049]),
        ]
    )


def _conversion(random: Random) -> str:
    return f"{_species(random)} {random.choice(['->', 'to', '→', '=>'])} {_species(random)}"


KINDS: dict[str, Callable[[Random], str]] = {
    "species by grammar": _species,
    "equations by grammar": _equation,
    "quantities by grammar": _quantity,
    "labels by grammar": _label,
    "conversions by grammar": _conversion,
    "noise": _noise,
    "mutants of real text": _mutant,
    "look-alike characters": _confused,
    "long and deep": _deep,
}

_VERBS = [
    *["balance", "complete", "check", "verify", "oxidation", "compare", "explain", "oxidants"],
    *["data", "start", "plan", "why", "reconcile", "audit"],
]
_FLAGS = [
    "--json",
    "--help",
    "--nonsense",
    "--medium",
    "--amount",
    "--ph",
    "-",
    "--",
    "acid",
    "base",
    "7",
    "-1",
    "",
]


def arguments(random: Random, folder: Path) -> list[str]:
    """One command line; sometimes it names a small file of fuzz that is written to ``folder``."""
    words = [random.choice([*_VERBS, "", "balnce"])]
    for _ in range(random.randint(0, 3)):
        if random.random() < 0.25:
            path = folder / random.choice(["a.toml", "a.csv", "a.json", "a.md", "a.txt"])
            text = "\n".join(random.choice(list(KINDS.values()))(random) for _ in range(random.randint(0, 5)))
            path.write_bytes(text.encode("utf-8", "surrogatepass")[: random.randint(0, 2000)])
            words.append(str(path))
        elif random.random() < 0.4:
            words.append(random.choice(_FLAGS))
        else:
            words.append(random.choice(list(KINDS.values()))(random))
    return words


class TooLong(BaseException):
    """Not an Exception, so that no handler in the library can swallow it."""


@contextmanager
def alarm(seconds: float) -> Iterator[None]:
    """Raise :class:`TooLong` when the block has not ended after so many seconds."""

    def ring(_signal: int, _frame: FrameType | None) -> None:
        raise TooLong(f"no answer after {seconds} s")

    before = signal(SIGALRM, ring)
    setitimer(ITIMER_REAL, seconds)
    try:
        yield
    finally:
        setitimer(ITIMER_REAL, 0)
        signal(SIGALRM, before)
