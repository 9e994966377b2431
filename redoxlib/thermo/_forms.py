"""Which form of a species is there at a pH: protonated, deprotonated, hydroxide."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import log, log10

from redoxlib.data import EquilibriumRow, Tables, shipped
from redoxlib.errors import MissingDataError, RedoxlibError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import R
from redoxlib.thermo._rows import T0, WATER, is_proton, resolve_phase, value

STEP = R.value * T0 * log(10) / 1000
"""RT ln10 at 298.15 K, kJ/mol."""


def stable_form(
    species: Species, ph: float, *, activity: float = 1.0, tables: Tables | None = None
) -> Species:
    """The form of a species (protonated, deprotonated, hydroxide) that predominates at a pH.

    Forms that differ only in H and O at the same oxidation number compete by their Gibbs energy at the
    given pH, dissolved ones at the given activity; forms.csv lists which belong together, so that slow
    dehydration to oxides is not assumed.  A species outside that table is returned as it is.
    """
    tables = tables or shipped()
    family = _families(tables).get(species.with_phase(Phase.UNSTATED))
    if family is None:
        return species
    best, best_g = species, float("inf")
    for form in family:
        try:
            g = _transformed(form, ph, activity, tables)
        except MissingDataError:
            continue
        if g < best_g:
            best, best_g = form, g
    return best


def family_of(species: Species, *, tables: Tables | None = None) -> tuple[Species, ...]:
    """The forms a species shares its oxidation number with (forms.csv); itself alone where none is listed."""
    bare = species.with_phase(Phase.UNSTATED)
    return _families(tables or shipped()).get(bare) or (bare,)


def _transformed(form: Species, ph: float, activity: float, tables: Tables) -> float:
    """Gibbs energy of a form at a pH, relative to one key atom, liquid water and H+(aq), kJ/mol."""
    elements = dict(form.elements)
    hydrogen, oxygen = elements.pop("H", 0), elements.pop("O", 0)
    atoms = float(sum(elements.values()))
    g = value(form, "dfG", tables=tables).value
    water = value(WATER.with_phase(Phase.LIQUID), "dfG", tables=tables).value
    protons = float(hydrogen) - 2 * float(oxygen)  # form = key atoms + O as water + protons
    dissolved = STEP * log10(activity) if form.phase is Phase.AQUEOUS else 0.0
    return (g + dissolved - float(oxygen) * water + protons * STEP * ph) / atoms


@lru_cache(maxsize=8)
def _families(tables: Tables) -> Mapping[Species, tuple[Species, ...]]:
    rivals: dict[str, list[Species]] = {}
    for row in tables.forms:
        if row.competes:
            rivals.setdefault(row.family, []).append(Species.parse(row.species))
    return {
        Species.parse(row.species).with_phase(Phase.UNSTATED): tuple(rivals.get(row.family, ()))
        for row in tables.forms
    }


@dataclass(frozen=True, slots=True)
class Form:
    """One dissolved form and its share of the total.

    Attributes
    ----------
    species : Species
    fraction : float
        0 to 1; the shares of all forms add up to 1.
    log10 : float
        Of the fraction, finite also where the fraction is nothing a float can tell from zero.
    """

    species: Species
    fraction: float
    log10: float


@dataclass(frozen=True, slots=True)
class FormsAtPh:
    """The forms of one species at one pH, the largest share first.

    Attributes
    ----------
    ph : float
    forms : tuple of Form
    sources : tuple of str
        Of the acid constants used.
    remarks : tuple of str
        What the shares rest on, and a solid that would form instead.
    """

    ph: float
    forms: tuple[Form, ...]
    sources: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def predominant(self) -> Species:
        """The form with the largest share."""
        return self.forms[0].species

    def fraction(self, text: str | Species) -> float:
        """Share of one form; 0 for a form that is not among them."""
        wanted = _bare(text if isinstance(text, Species) else Species.parse(text))
        return next((form.fraction for form in self.forms if _bare(form.species) == wanted), 0.0)

    def __str__(self) -> str:
        shares = ", ".join(f"{form.species} {form.fraction:.3g}" for form in self.forms)
        return f"pH {self.ph:g}: {shares}"


def _bare(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


@dataclass(frozen=True, slots=True)
class AcidConstant:
    """acid = base + H+ (water left out), at 25 C and infinite dilution."""

    acid: Species
    base: Species
    pka: float
    sources: tuple[str, ...]


@lru_cache(maxsize=8)
def _steps(tables: Tables) -> tuple[AcidConstant, ...]:
    steps = []
    for rows in tables.equilibria.values():
        row = next((r for r in rows if r.quantity == "pKa"), None)
        step = _step(row) if row is not None else None
        if step is not None:
            steps.append(step)
    return tuple(steps)


def acid_constants(tables: Tables | None = None) -> tuple[AcidConstant, ...]:
    """Tabulated acid constants, the first row of each name: the choice among several is made there."""
    return _steps(tables or shipped())


def _step(row: EquilibriumRow) -> AcidConstant | None:
    equation = Equation.parse(row.equilibrium)
    acids = [(n, s) for n, s in equation.reactants if _bare(s) != WATER]
    bases = [(n, s) for n, s in equation.products if not is_proton(s) and _bare(s) != WATER]
    protons = [n for n, s in equation.products if is_proton(s)]
    if len(acids) != 1 or len(bases) != 1 or protons != [1] or acids[0][0] != 1 or bases[0][0] != 1:
        return None
    return AcidConstant(acids[0][1], bases[0][1], row.value, row.sources)


def species_at(species: Species | str, ph: float, *, tables: Tables | None = None) -> FormsAtPh:
    """The dissolved forms a species takes at a pH, with their shares.

    Parameters
    ----------
    species : Species or str
        Any one of the forms, such as ``"HClO"`` or ``"ClO^-"``.
    ph : float
        At 25 C.

    Returns
    -------
    FormsAtPh
        From the acid constants of equilibria.csv; where a form has none, from Gibbs energies.  A species
        with neither comes back alone with a remark.

    Examples
    --------
    >>> print(species_at("HClO", 7.54))
    pH 7.54: HClO(aq) 0.5, ClO^-(aq) 0.5
    """
    tables = tables or shipped()
    start = species if isinstance(species, Species) else Species.parse(species)
    remarks: list[str] = []
    if _bare(start) == _DICHROMATE:
        start, told = _of_dichromate(start, ph, tables)
        remarks.append(told)
    weights, sources = _by_constants(start, ph, tables)
    _by_energies(start, ph, tables, weights, remarks)
    if not weights:
        # A phase the tables leave open is not needed for a species that has no other form.
        try:
            start, _ = resolve_phase(start, tables)
        except RedoxlibError:
            start = start.with_phase(Phase.AQUEOUS)
        remarks.append(f"no acid constant for {start} in the tables")
        remarks += _solids(start, ph, tables)
        return FormsAtPh(ph, (Form(start, 1.0, 0.0),), (), tuple(remarks))
    top = max(weights.values())
    total = top + log10(sum(10.0 ** (w - top) for w in weights.values()))
    shares = {form: w - total for form, w in weights.items()}
    forms = [Form(form, 10.0**share, share) for form, share in shares.items()]
    forms.sort(key=lambda form: -form.log10)
    remarks += _solids(start, ph, tables)
    return FormsAtPh(ph, tuple(forms), sources, tuple(remarks))


_DICHROMATE = Species.parse("Cr2O7^2-")
_HYDROGENCHROMATE = Species.parse("HCrO4^-(aq)")


def _of_dichromate(start: Species, ph: float, tables: Tables) -> tuple[Species, str]:
    """Two chromium atoms in one ion: no acid constant links it to chromate, and dilution splits it."""
    step = next((s for s in _steps(tables) if s.acid == _HYDROGENCHROMATE), None)
    if step is not None and ph > step.pka:
        return step.acid, f"above pH {step.pka:g} dichromate is chromate: shares of the single ions"
    return start.with_phase(Phase.AQUEOUS), "hydrogenchromate stands beside it, most of it where dilute"


def _by_constants(start: Species, ph: float, tables: Tables) -> tuple[dict[Species, float], tuple[str, ...]]:
    """log10 of the relative amount of each form that acid constants link to *start*."""
    steps = _steps(tables)
    seed = next((s for step in steps for s in (step.acid, step.base) if _bare(s) == _bare(start)), None)
    if seed is None or start.phase not in (Phase.AQUEOUS, Phase.UNSTATED):
        return {}, ()
    weights, queue = {seed: 0.0}, [seed]
    sources: dict[str, None] = {}
    while queue:
        form = queue.pop()
        for step in steps:
            if step.acid == form and step.base not in weights:
                weights[step.base] = weights[form] + ph - step.pka
                queue.append(step.base)
            elif step.base == form and step.acid not in weights:
                weights[step.acid] = weights[form] - ph + step.pka
                queue.append(step.acid)
            else:
                continue
            sources |= dict.fromkeys(step.sources)
    return weights, tuple(sources)


def _by_energies(
    start: Species, ph: float, tables: Tables, weights: dict[Species, float], remarks: list[str]
) -> None:
    """Add the forms of forms.csv that no acid constant reached, by their Gibbs energies."""
    family = [f for f in _families(tables).get(_bare(start), ()) if f.phase is Phase.AQUEOUS]
    if not weights and len(family) < 2:
        return
    levels: dict[Species, float] = {}
    for form in family:
        try:
            levels[form] = _transformed(form, ph, 1.0, tables)
        except MissingDataError:
            continue
    anchor = next((form for form in levels if form in weights), None)
    if anchor is None:
        if weights or not levels:
            return
        anchor = next(iter(levels))
        weights[anchor] = 0.0
    added = [form for form in levels if form not in weights]
    for form in added:
        weights[form] = weights[anchor] - (levels[form] - levels[anchor]) / STEP
    if added:
        remarks.append(f"from Gibbs energies: {', '.join(map(str, added))}")


def _solids(start: Species, ph: float, tables: Tables) -> list[str]:
    family = _families(tables).get(_bare(start), ())
    best = stable_form(start, ph, tables=tables) if family else start
    if best.phase is not Phase.SOLID:
        return []
    return [f"{best} is more stable here than 1 mol/kg in solution: the shares are of what stays dissolved"]
