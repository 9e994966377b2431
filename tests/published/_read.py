"""Reading the data files of these tests, and counting atoms without the library under test."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"

_ATOM = re.compile(r"([A-Z][a-z]?)(\d*)|([(\[])|([)\]])(\d*)")


def jsonl(name: str) -> list[dict[str, Any]]:
    """Every row of ``data/name``."""
    text = (DATA / name).read_text(encoding="utf-8")
    return [json.loads(line) for line in text.splitlines() if line]


def table(name: str) -> list[dict[str, str]]:
    """Every row of the CSV file ``data/name``."""
    with (DATA / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def ids(rows: Iterable[dict[str, Any]]) -> list[str]:
    """The ``id`` of each row, as test names."""
    return [str(row["id"]) for row in rows]


def counts(formula: str) -> Counter[str]:
    """Atoms and ``charge`` of a formula in the canonical writing of the data files.

    A second, naive reader on purpose: it keeps the data honest without the parser under test.
    """
    body = re.sub(r"\((?:s|l|g|aq)\)$", "", formula)
    charge = 0
    if sign := re.search(r"\^(\d*)([+-])$", body):
        charge = int(sign[1] or 1) * (1 if sign[2] == "+" else -1)
        body = body[: sign.start()]
    total: Counter[str] = Counter({"charge": charge} if charge else {})
    for part in [] if body == "e" else body.split("."):
        multiplier = int(re.match(r"\d*", part)[0] or 1)  # type: ignore[index]
        stack: list[Counter[str]] = [Counter()]
        seen = ""
        for token in _ATOM.finditer(part.lstrip("0123456789")):
            seen += token[0]
            if token[1]:
                stack[-1][token[1]] += int(token[2] or 1)
            elif token[3]:
                stack.append(Counter())
            else:
                inner = stack.pop()
                for atom, number in inner.items():
                    stack[-1][atom] += number * int(token[5] or 1)
        if seen != part.lstrip("0123456789") or len(stack) != 1:
            raise ValueError(f"not in canonical writing: {formula}")
        for atom, number in stack[0].items():
            total[atom] += number * multiplier
    return total


def left_over(left: Iterable[tuple[int, str]], right: Iterable[tuple[int, str]]) -> dict[str, int]:
    """Left minus right, per atom and ``charge``; empty for a balanced equation."""
    total: Counter[str] = Counter()
    for terms, sign in ((left, 1), (right, -1)):
        for coefficient, formula in terms:
            for atom, number in counts(formula).items():
                total[atom] += sign * coefficient * number
    return {atom: number for atom, number in total.items() if number}
