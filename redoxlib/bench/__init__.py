"""From a cleared route to the bench and back.  Verbs: plan, reconcile.

Every number of a plan has a stable dotted key and knows its formula, inputs and sources.

May import: routes, heat, compare's ClearedRoute by shape only, and below.
"""

from __future__ import annotations

from redoxlib.bench._plan import BenchPlan, Entry, Step, plan
from redoxlib.bench._reconcile import Reconciliation, reconcile

__all__ = ["BenchPlan", "Entry", "Reconciliation", "Step", "plan", "reconcile"]
