"""What stands on the shelf.  Verbs: read_bottle, default_bottle, convert_strength, assay_by_titration.

A bottle is read as its label says it, in any of the trade's ways of stating a strength, and answers
two questions: how much of it brings so many moles, and how many moles so much of it holds.  Densities
come from tabulated curves and are never extrapolated; what no table holds is ``Unknown``.

May import: data, notation, quantity, errors.
"""

from __future__ import annotations

from redoxlib.bottles._bottle import Bottle, restrictions
from redoxlib.bottles._density import DensityCurve, density_curve
from redoxlib.bottles._label import default_bottle, read_bottle
from redoxlib.bottles._shop import shop_name
from redoxlib.bottles._strength import convert_strength
from redoxlib.bottles._titration import Assay, assay_by_titration

__all__ = [
    "Assay",
    "Bottle",
    "DensityCurve",
    "assay_by_titration",
    "convert_strength",
    "default_bottle",
    "density_curve",
    "read_bottle",
    "restrictions",
    "shop_name",
]
