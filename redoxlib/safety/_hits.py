"""What a rule returns, and the register the rules are entered in.

A rule is a function from a pot to hits.  Registering by decorator keeps the id beside the code and
lets a test compare the register with the table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from redoxlib.safety._pot import Pot
from redoxlib.safety._table import Severity

__all__ = ["REGISTER", "Hit", "caution", "entered", "stop", "unreviewed"]


@dataclass(frozen=True, slots=True)
class Hit:
    """A rule that speaks: its id, how much it weighs, and what about this pot made it speak."""

    rule: str
    severity: Severity
    detail: str = ""


Check = Callable[[Pot], Iterable[Hit]]
REGISTER: dict[str, Check] = {}


def entered(*names: str) -> Callable[[Check], Check]:
    """Enter a check under the ids it may return."""

    def enter(check: Check) -> Check:
        for name in names:
            if name in REGISTER:
                raise ValueError(f"rule {name} is entered twice")
            REGISTER[name] = check
        return check

    return enter


def stop(rule: str, detail: str = "") -> Hit:
    return Hit(rule, Severity.STOP, detail)


def caution(rule: str, detail: str = "") -> Hit:
    return Hit(rule, Severity.CAUTION, detail)


def unreviewed(rule: str, detail: str = "") -> Hit:
    return Hit(rule, Severity.UNREVIEWED, detail)
