"""Diagrams of one element.  Verbs: predominance (potential-pH), frost, speciation (log concentration).

Each answers with the data first: regions and boundary lines cut exactly from the Gibbs energies of
formation, points with their uncertainty, compositions solved from mass balance.  ``.svg()`` draws it by
hand-written SVG, ``.table()`` prints it in a terminal, ``.png()`` needs an extra library, ``.save(path)``
goes by the ending.  Everything holds at 25 C and says nothing about rates.

Inside: ``_points`` turns species into planes, ``_predominance``, ``_frost`` and ``_speciation`` compute,
``_canvas`` and the ``_draw_*`` modules draw, ``_text`` makes the tables.

May import: errors, quantity, notation, data, thermo.
"""

from __future__ import annotations

from redoxlib.diagrams._canvas import Axis, Canvas
from redoxlib.diagrams._frost import Frost, FrostPoint, Trace, frost
from redoxlib.diagrams._predominance import Boundary, Predominance, Region, Window, predominance
from redoxlib.diagrams._speciation import Composition, Crossing, Speciation, speciation

__all__ = [
    "Axis",
    "Boundary",
    "Canvas",
    "Composition",
    "Crossing",
    "Frost",
    "FrostPoint",
    "Predominance",
    "Region",
    "Speciation",
    "Trace",
    "Window",
    "frost",
    "predominance",
    "speciation",
]
