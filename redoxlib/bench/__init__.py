"""From a cleared route to the bench and back.

Verbs: plan, about, reconcile, audit, assayed, what_if, scale_sweep; simulate, fastest_dosing for any pot;
co_distillation, vapour_pressure, crystal_crop, drying_acid, criticality_class as plain arithmetic.

Every number of a plan has a stable dotted key and knows its formula, inputs and sources.

May import: routes, heat, compare's ClearedRoute by shape only, and below.
"""

from __future__ import annotations

from redoxlib.bench._assay import assayed
from redoxlib.bench._audit import Audit, Finding, audit
from redoxlib.bench._book import Entry, Step, Stream
from redoxlib.bench._heat import criticality_class, possible_classes, pot_of
from redoxlib.bench._isolate import crystal_crop, drying_acid, solubility
from redoxlib.bench._keys import KeyFacts, about, key_facts
from redoxlib.bench._plan import BenchPlan, plan
from redoxlib.bench._reconcile import Reconciliation, reconcile
from redoxlib.bench._simulate import Pot, Simulation, dosing_temperature, fastest_dosing, simulate
from redoxlib.bench._vapour import CoDistillation, co_distillation, vapour_pressure
from redoxlib.bench._whatif import Change, Scale, scale_sweep, what_if

__all__ = [
    "Audit",
    "BenchPlan",
    "Change",
    "CoDistillation",
    "Entry",
    "Finding",
    "KeyFacts",
    "Pot",
    "Reconciliation",
    "Scale",
    "Simulation",
    "Step",
    "Stream",
    "about",
    "assayed",
    "audit",
    "co_distillation",
    "criticality_class",
    "crystal_crop",
    "dosing_temperature",
    "drying_acid",
    "fastest_dosing",
    "key_facts",
    "plan",
    "possible_classes",
    "pot_of",
    "reconcile",
    "scale_sweep",
    "simulate",
    "solubility",
    "vapour_pressure",
    "what_if",
]
