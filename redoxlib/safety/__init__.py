"""The safety gate: what must not be done, what needs care, and what nobody has reviewed.

Verbs: review_situation, review_goal.  The gate is keyed to composition and conditions, never to
names; it knows no quantities to charge and cannot be overruled by a switch.  What no rule and no
reviewed combination covers is "unreviewed".

May import: errors, notation, data, stoichiometry.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from redoxlib.safety._composition import kind_source, kinds_of
from redoxlib.safety._kinds import Kind
from redoxlib.safety._review import Reason, Verdict, review_goal, review_situation
from redoxlib.safety._situation import Situation
from redoxlib.safety._table import Review, Rule, Severity, reviews, rules
from redoxlib.safety._words import hoodless

if TYPE_CHECKING:
    RULES: tuple[Rule, ...]

__all__ = [
    "DEFERRAL",
    "RULES",
    "Kind",
    "Reason",
    "Review",
    "Rule",
    "Severity",
    "Situation",
    "Verdict",
    "hoodless",
    "kind_source",
    "kinds_of",
    "review_goal",
    "review_situation",
    "reviews",
    "rules",
]

DEFERRAL = (
    "All figures here are estimates of stoichiometry and thermochemistry from published data. They stand in "
    "for nothing that your site requires: a written risk assessment, calorimetry, the supplier's safety data "
    "sheet, local fire, building and waste rules, and permits come first. Work with halogens, cyanide, "
    "sulfide or peroxides calls for a fume hood, a second trained person and the consent of the site's "
    "safety officer, and treating waste can need a licence of its own."
)
"""Printed once in every report."""


def __getattr__(name: str) -> object:
    # The table is read when somebody asks for the rules, not when the package is imported.
    if name == "RULES":
        return rules()
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
