"""Energies of a reaction as written, at 25 C or at another temperature of the liquid range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite, log
from typing import Literal

from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, R
from redoxlib.thermo._rows import (
    HYDROGEN,
    T0,
    UNIT,
    families_of,
    is_electron,
    is_proton,
    linked_remarks,
    net_species,
    told_net,
    value,
)

RANGE = (273.0, 373.2)
"""Temperatures at which an answer is given, K: liquid water at 1 bar."""

AcidConvention = Literal["free", "bisulfate"]


@dataclass(frozen=True, slots=True)
class ReactionQuantity(Quantity):
    """An energy or entropy of a reaction with what was assumed to get it.

    Attributes
    ----------
    temperature : float
        In kelvin.
    families : tuple of str
        Thermochemical families that hold every row used; empty where the rows share none, and a remark
        then says which rows come from where.
    remarks : tuple of str
        How the temperature was reached, mixed families, correlated rows, the acid convention.
    """

    temperature: float = T0
    families: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EquilibriumConstant(Quantity):
    """A thermodynamic constant (unit 1); beyond 1e300 and 1e-300 only ``log10`` is right, the value stops.

    ``uncertainty`` is that of the value, to first order; ``log10_uncertainty`` that of ``log10``.
    """

    log10: float = 0.0
    temperature: float = T0
    families: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    log10_uncertainty: float = 0.0

    def __str__(self) -> str:
        return f"log10 K = {Quantity(self.log10, '1', self.log10_uncertainty or None)}"


def kelvin_of(temperature: float | str | Quantity | None) -> float:
    """Read a temperature, K or any unit of temperature.

    Raises
    ------
    DomainError
        Outside 273 to 373 K, where liquid water at 1 bar ends and with it the constant heat capacities.
    """
    if temperature is None:
        return T0
    if isinstance(temperature, str):
        temperature = Quantity.parse(temperature)
    kelvin = temperature.to("K").value if isinstance(temperature, Quantity) else float(temperature)
    if not isfinite(kelvin) or not RANGE[0] <= kelvin <= RANGE[1]:
        raise DomainError(
            f"{kelvin:g} K lies outside the range of these tables, 273 to 373 K",
            hint='a bare number is in kelvin; write Quantity.parse("40 C") for a Celsius temperature',
        )
    return kelvin


@dataclass(frozen=True, slots=True)
class Term:
    """A number times one property of one species: every answer is a sum of these."""

    factor: float
    prop: str
    species: Species


def combined(terms: Sequence[Term]) -> dict[tuple[str, Species], float]:
    """Factors by row: a row met twice counts once, with its factors added, before any error is."""
    factors: dict[tuple[str, Species], float] = {}
    for term in terms:
        at = (term.prop, term.species)
        factors[at] = factors.get(at, 0.0) + term.factor
    return factors


def _sum(terms: Sequence[Term], unit: str, tables: Tables) -> Quantity:
    total, spread = 0.0, 0.0
    sources: dict[str, None] = {}
    missing: list[MissingDataError] = []
    for (prop, species), factor in combined(terms).items():
        try:
            q = value(species, prop, tables=tables)
        except MissingDataError as error:
            missing.append(error)
            continue
        total += factor * q.value
        spread = hypot(spread, factor * (q.uncertainty or 0.0))
        sources |= dict.fromkeys(q.sources)
    if missing:
        raise MissingDataError(
            "; ".join(e.message for e in missing),
            hint=missing[0].hint,
            what="; ".join(e.what for e in missing),
            looked_in=("formation.csv",),
        )
    return Quantity(total, unit, spread, tuple(sources), "published")


_Net = Sequence[tuple[float, Species]]


def _terms(net: _Net, prop: str, factor: float = 1.0) -> list[Term]:
    """Terms of one property; an electron brings half the S and Cp of hydrogen gas, as H+ + e- = 1/2 H2."""
    terms = []
    for n, species in net:
        if is_electron(species) and prop in ("S", "Cp"):
            terms.append(Term(factor * n / 2, prop, HYDROGEN))
        else:
            terms.append(Term(factor * n, prop, species))
    return terms


def _lacking(net: _Net, prop: str, tables: Tables) -> list[str]:
    names = []
    for term in _terms(net, prop):
        try:
            value(term.species, prop, tables=tables)
        except MissingDataError:
            names.append(str(term.species))
    return names


@dataclass(frozen=True, slots=True)
class Shift:
    """How far a temperature is from the tables, and by which rule a reaction gets there."""

    kelvin: float
    by_capacity: bool
    lacking: tuple[str, ...] = ()
    ions: bool = False

    @property
    def remarks(self) -> tuple[str, ...]:
        if self.kelvin == T0:
            return ()
        where = f"at {self.kelvin:.2f} K"
        if self.by_capacity:
            text = f"{where} by constant heat capacities of all species; good from 273 to 373 K"
            if self.ions:
                text += "; those of ions change, so a quarter of the step is in the uncertainty"
            return (text,)
        names = ", ".join(self.lacking)
        return (
            f"{where} by constant enthalpy and entropy (no heat capacity for {names}); "
            "good near 298 K, given from 273 to 373 K; the error of this is not in the uncertainty",
        )


def shift_of(net: _Net, kelvin: float, tables: Tables) -> Shift:
    """Choose heat capacities where every species has one, constant enthalpy and entropy otherwise."""
    if kelvin == T0:
        return Shift(kelvin, True)
    lacking = tuple(_lacking(net, "Cp", tables))
    ions = any(species.charge and not is_electron(species) for _, species in net)
    return Shift(kelvin, not lacking, lacking, ions)


def step_spread(terms: Sequence[Term], shift: Shift, tables: Tables) -> float:
    """What constant heat capacities may be wrong by: those of ions change with temperature.

    Between 0 and 100 C the heat of ionisation of water, the best known of them, strays from this rule by up
    to a fifth of the step; a quarter is taken.
    """
    if not (shift.ions and shift.by_capacity) or shift.kelvin == T0:
        return 0.0
    step = [term for term in terms if term.prop == "Cp"]
    return abs(_sum(step, "", tables).value) / 4


def enthalpy_terms(net: _Net, shift: Shift) -> list[Term]:
    terms = _terms(net, "dfH")
    if shift.by_capacity and shift.kelvin != T0:
        terms += _terms(net, "Cp", (shift.kelvin - T0) / 1000)
    return terms


def entropy_terms(net: _Net, shift: Shift) -> list[Term]:
    terms = _terms(net, "S")
    if shift.by_capacity and shift.kelvin != T0:
        terms += _terms(net, "Cp", log(shift.kelvin / T0))
    return terms


def gibbs_terms(net: _Net, shift: Shift, tables: Tables) -> list[Term]:
    """dG(T), anchored at the tabulated dG(298 K) and led away from there by dH (or by S without it)."""
    t = shift.kelvin
    if t == T0:
        return _terms(net, "dfG")
    if _lacking(net, "dfH", tables):
        terms = _terms(net, "dfG") + _terms(net, "S", -(t - T0) / 1000)
    else:
        terms = _terms(net, "dfG", t / T0) + _terms(net, "dfH", 1 - t / T0)
    if shift.by_capacity:
        terms += _terms(net, "Cp", (t - T0 - t * log(t / T0)) / 1000)
    return terms


def _answer(
    terms: Sequence[Term], unit: str, net: _Net, shift: Shift, tables: Tables, remarks: Sequence[str] = ()
) -> ReactionQuantity:
    q = _sum(terms, unit, tables)
    spread = hypot(q.uncertainty or 0.0, step_spread(terms, shift, tables))
    families, mixed = families_of(net, sorted({term.prop for term in terms} - {"Cp"}), tables)
    told = (*remarks, *shift.remarks, *mixed, *linked_remarks(net))
    return ReactionQuantity(q.value, unit, spread, q.sources, q.basis, shift.kelvin, families, told)


def enthalpy(
    equation: Equation | str,
    *,
    temperature: float | str | Quantity | None = None,
    acid_convention: AcidConvention = "free",
    tables: Tables | None = None,
) -> ReactionQuantity:
    """Standard reaction enthalpy, kJ per mole of the equation as written.

    Parameters
    ----------
    equation : str or Equation
        Balanced, with phases where the tables hold several.
    temperature : float [K] or Quantity, optional
        273 to 373 K, 298.15 K if absent; by heat capacities where every species has one, otherwise the
        enthalpy is taken as constant and ``.remarks`` says so.
    acid_convention : {"free", "bisulfate"}
        Whether H+ stands for the free ion or, as in moderately strong sulfuric acid, for the second
        proton of HSO4- (then each H+ spent also turns one HSO4- into SO4^2-, 21.9 kJ more exothermic).

    Returns
    -------
    ReactionQuantity [kJ/mol]

    Raises
    ------
    MissingDataError, AmbiguousSpeciesError, NotationError
        For a species without data, a phase left open, an equation that does not balance.
    DomainError
        For a temperature outside 273 to 373 K.

    Examples
    --------
    >>> round(enthalpy("H^+ + OH^- -> H2O").value, 1)
    -55.8
    >>> enthalpy("H^+ + OH^- -> H2O", acid_convention="bisulfate").remarks[0]
    'H+ taken from HSO4-: 1 mol spent, -22.0 kJ of the total (-22.0 per proton)'
    """
    tables = tables or shipped()
    net: _Net
    net, remarks = told_net(equation, tables)
    if acid_convention == "bisulfate":
        net, told = _from_bisulfate(net, kelvin_of(temperature), tables)
        remarks = (*told, *remarks)
    elif acid_convention != "free":
        raise DomainError(f"no acid convention {acid_convention!r}", hint='write "free" or "bisulfate"')
    shift = shift_of(net, kelvin_of(temperature), tables)
    return _answer(enthalpy_terms(net, shift), UNIT["dfH"], net, shift, tables, remarks)


_BISULFATE = Species.parse("HSO4^-(aq)")
_SULFATE = Species.parse("SO4^2-(aq)")
_DISSOCIATION = "HSO4^-(aq) -> H^+(aq) + SO4^2-(aq)"


def _from_bisulfate(net: _Net, kelvin: float, tables: Tables) -> tuple[_Net, tuple[str, ...]]:
    """Replace every H+ by HSO4- less SO4^2-."""
    spent = -sum(n for n, species in net if is_proton(species))
    if not spent:
        return net, ("no H+ in this equation: the acid convention makes no difference",)
    per_proton = enthalpy(_DISSOCIATION, temperature=kelvin, tables=tables).value
    counts = {species: n for n, species in net if not is_proton(species)}
    counts[_BISULFATE] = counts.get(_BISULFATE, 0.0) - spent
    counts[_SULFATE] = counts.get(_SULFATE, 0.0) + spent
    verb = "spent" if spent > 0 else "made"
    text = (
        f"H+ {'taken from' if spent > 0 else 'held as'} HSO4-: {abs(spent):g} mol {verb}, "
        f"{spent * per_proton:+.1f} kJ of the total ({per_proton:+.1f} per proton)"
    )
    return [(n, species) for species, n in counts.items() if n], (text,)


def gibbs(
    equation: Equation | str,
    *,
    temperature: float | str | Quantity | None = None,
    tables: Tables | None = None,
) -> ReactionQuantity:
    """Standard reaction Gibbs energy, kJ per mole of the equation as written.

    Away from 298.15 K the Gibbs energy follows from the enthalpy (or the entropy where an enthalpy is not
    tabulated) and, where every species has one, from the heat capacities.

    Raises
    ------
    MissingDataError, AmbiguousSpeciesError, NotationError, DomainError
        As for `enthalpy`.
    """
    tables = tables or shipped()
    net, told = told_net(equation, tables)
    shift = shift_of(net, kelvin_of(temperature), tables)
    return _answer(gibbs_terms(net, shift, tables), UNIT["dfG"], net, shift, tables, told)


def entropy(
    equation: Equation | str,
    *,
    temperature: float | str | Quantity | None = None,
    tables: Tables | None = None,
) -> ReactionQuantity:
    """Standard reaction entropy, J/K per mole of the equation as written.

    For a half-reaction the electron carries half the entropy of hydrogen gas, so that H+ + e- = 1/2 H2
    has no entropy change, as it has no enthalpy change.

    Raises
    ------
    MissingDataError, AmbiguousSpeciesError, NotationError, DomainError
        As for `enthalpy`.
    """
    tables = tables or shipped()
    net, told = told_net(equation, tables)
    shift = shift_of(net, kelvin_of(temperature), tables)
    return _answer(entropy_terms(net, shift), UNIT["S"], net, shift, tables, told)


def gibbs_shift(equation: Equation, kelvin: float, tables: Tables) -> ReactionQuantity:
    """dG at a temperature less dG at 298.15 K, with the uncertainty of the difference alone."""
    net = net_species(equation, tables)
    shift = shift_of(net, kelvin, tables)
    terms = gibbs_terms(net, shift, tables) + _terms(net, "dfG", -1.0)
    return _answer(terms, UNIT["dfG"], net, shift, tables)


def equilibrium_constant(
    equation: Equation | str,
    *,
    temperature: float | str | Quantity | None = None,
    tables: Tables | None = None,
) -> EquilibriumConstant:
    """Thermodynamic equilibrium constant from the Gibbs energies.

    ``.log10`` carries the number and ``.log10_uncertainty`` its standard uncertainty.

    Raises
    ------
    MissingDataError, AmbiguousSpeciesError, NotationError, DomainError
        As for `enthalpy`.
    """
    dg = gibbs(equation, temperature=temperature, tables=tables)
    scale = 1000.0 / (R.value * dg.temperature * log(10))
    exponent = -dg.value * scale
    number = 10.0 ** max(-300.0, min(300.0, exponent))
    spread = (dg.uncertainty or 0.0) * scale
    return EquilibriumConstant(
        number,
        "1",
        number * log(10) * spread,
        dg.sources,
        dg.basis,
        exponent,
        dg.temperature,
        dg.families,
        dg.remarks,
        spread,
    )
