"""Sourced facts: one loader per table.  Verb: shipped.

Holds the csv tables, their row types and the loader, and nothing that computes.  Every number
carries its unit, its uncertainty, what that rests on, and a key into the table of sources.

May import: notation, quantity, errors.
"""

from __future__ import annotations

from functools import cache

from redoxlib.data._schema import (
    TABLES,
    BottleRow,
    CoupleRow,
    EquilibriumRow,
    FormationRow,
    FormRow,
    HazardRow,
    KineticsRow,
    LimitRow,
    LiquidRow,
    NameRow,
    OwnRuleRow,
    OxidantReactionRow,
    OxidantRow,
    RateRow,
    RestrictedRow,
    SolutionRow,
    Source,
    StatementRow,
)
from redoxlib.data._tables import Couple, Tables

__all__ = [
    "TABLES",
    "BottleRow",
    "Couple",
    "CoupleRow",
    "EquilibriumRow",
    "FormRow",
    "FormationRow",
    "HazardRow",
    "KineticsRow",
    "LimitRow",
    "LiquidRow",
    "NameRow",
    "OwnRuleRow",
    "OxidantReactionRow",
    "OxidantRow",
    "RateRow",
    "RestrictedRow",
    "SolutionRow",
    "Source",
    "StatementRow",
    "Tables",
    "shipped",
]


@cache
def shipped() -> Tables:
    """Return the tables that come with the package.

    Nothing is read until an attribute is touched; each table is then read once and checked.

    Returns
    -------
    Tables
        Read-only; the same object at every call.

    Raises
    ------
    TableError
        On first use of a table that is malformed, with every fault in it.

    Examples
    --------
    >>> shipped().formation["H2O(l)"]["dfH"][0].unit
    'kJ/mol'
    """
    return Tables()
