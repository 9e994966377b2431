"""Thermochemistry.  Verbs: enthalpy, gibbs, entropy, equilibrium_constant, potential; species_at; sample.

Every verb takes the equation or half-reaction as written and answers for exactly those coefficients.
Standard states: 1 bar gas, ideal 1 mol/kg solute, pure liquid or solid; an electron counts as
H+ + e- = 1/2 H2 counts, so potentials are against the standard hydrogen electrode of the same
temperature.  Answers hold at 298.15 K unless a temperature between 273 and 373 K is asked for; each
carries its sources, its uncertainty, the thermochemical families of its rows, and remarks on what was
assumed.

Inside: ``_rows`` finds the rows of a species, ``_reaction`` adds them up, ``_activity`` turns
concentrations and pressures into activities, ``_potential`` makes volts, ``_forms`` tells which form is
there at a pH, ``_sample`` draws rows where errors are shared.

May import: errors, quantity, notation, stoichiometry, data.
"""

from __future__ import annotations

from redoxlib.quantity import FARADAY
from redoxlib.thermo._activity import DAVIES_LIMIT, activity_coefficient, ionic_strength
from redoxlib.thermo._forms import (
    AcidConstant,
    Form,
    FormsAtPh,
    acid_constants,
    family_of,
    species_at,
    stable_form,
)
from redoxlib.thermo._potential import (
    Potential,
    electrons_of,
    find_couple,
    nernst_slope,
    ph_shift,
    pkw,
    potential,
    proton_count,
)
from redoxlib.thermo._reaction import (
    EquilibriumConstant,
    ReactionQuantity,
    enthalpy,
    entropy,
    equilibrium_constant,
    gibbs,
)
from redoxlib.thermo._rows import T0, phases_of, resolve_phase, value
from redoxlib.thermo._sample import Sample, sample

__all__ = [
    "DAVIES_LIMIT",
    "FARADAY",
    "T0",
    "AcidConstant",
    "EquilibriumConstant",
    "Form",
    "FormsAtPh",
    "Potential",
    "ReactionQuantity",
    "Sample",
    "acid_constants",
    "activity_coefficient",
    "electrons_of",
    "enthalpy",
    "entropy",
    "equilibrium_constant",
    "family_of",
    "find_couple",
    "gibbs",
    "ionic_strength",
    "nernst_slope",
    "ph_shift",
    "phases_of",
    "pkw",
    "potential",
    "proton_count",
    "resolve_phase",
    "sample",
    "species_at",
    "stable_form",
    "value",
]
