"""Target + oxidant + job -> Route: half-reactions, ionic and full equation, bottles, yield, gas.

Verbs: build_route.  A route says what the chemistry asks for; whether it may be done is for the gate.

May import: errors, quantity, notation, stoichiometry, data, job, bottles, thermo, measures.
"""

from __future__ import annotations

from redoxlib.routes._amounts import GAS_LITRES, bottle_for, default_feed
from redoxlib.routes._build import build_route
from redoxlib.routes._draft import ANODE, NoRoute
from redoxlib.routes._full import bare, full_equation, ions, salt
from redoxlib.routes._halves import (
    BASIC_FROM,
    default_phase,
    in_medium,
    net_ionic,
    oxidation_half,
    reduction_rows,
)
from redoxlib.routes._route import IN_THE_WATER, Charge, Electricity, Gas, Part, Product, Route
from redoxlib.routes._verdicts import parsed, recalled, verdict_for
from redoxlib.routes._yield import acid_made

__all__ = [
    "ANODE",
    "BASIC_FROM",
    "GAS_LITRES",
    "IN_THE_WATER",
    "Charge",
    "Electricity",
    "Gas",
    "NoRoute",
    "Part",
    "Product",
    "Route",
    "acid_made",
    "bare",
    "bottle_for",
    "build_route",
    "default_feed",
    "default_phase",
    "full_equation",
    "in_medium",
    "ions",
    "net_ionic",
    "oxidation_half",
    "parsed",
    "recalled",
    "reduction_rows",
    "salt",
    "verdict_for",
]
