"""Formulas with letters as subscripts, such as CnH2n+2 and Fe2O3·xH2O."""

from __future__ import annotations
