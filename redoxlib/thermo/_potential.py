"""Potentials of couples, half-reactions and cells, at real pH, concentrations and temperature."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import hypot, log, log10

from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, RedoxlibError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY, Quantity, R
from redoxlib.thermo._activity import Amount, read_activities
from redoxlib.thermo._reaction import equilibrium_constant, gibbs, gibbs_shift, kelvin_of
from redoxlib.thermo._rows import T0, WATER, is_electron, is_hydroxide, is_proton, resolve_phase

PKW = 13.995
"""pKw at 25 C (CRC Handbook); the H+ + OH- rows of formation.csv give 14.00."""


@dataclass(frozen=True, slots=True)
class Potential(Quantity):
    """A reduction (or cell) potential in V with the values that were not chosen beside it.

    Attributes
    ----------
    alternatives : tuple of Quantity
        Other published values and the one computed from Gibbs energies, at the same conditions.
    electrons : int or Fraction
        Passed by the equation as written.
    temperature : float
        In kelvin.
    families : tuple of str
        Thermochemical families of the Gibbs energies, where these were used.
    remarks : tuple of str
        What was assumed: activities, temperature, mixed families.
    """

    alternatives: tuple[Quantity, ...] = ()
    electrons: int | Fraction = 0
    temperature: float = T0
    families: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def electrons_of(equation: Equation) -> int:
    """Electrons on the left of a half-reaction (negative when it is written as an oxidation).

    Zero too where the count is not whole; ``potential`` scales such an equation first.
    """
    n = _electrons(equation)
    return int(n) if n == int(n) else 0


def _electrons(equation: Equation) -> Fraction:
    left = sum((Fraction(n) for n, s in equation.reactants if is_electron(s)), Fraction(0))
    right = sum((Fraction(n) for n, s in equation.products if is_electron(s)), Fraction(0))
    return left - right


def _signed(equation: Equation) -> list[tuple[int, int | Fraction, Species]]:
    """+1 for reactants, -1 for products, with coefficient and species."""
    return [(1, n, s) for n, s in equation.reactants] + [(-1, n, s) for n, s in equation.products]


@lru_cache(maxsize=8)
def _couple_index(tables: Tables) -> Mapping[frozenset[tuple[Fraction, Species]], str]:
    """Couples by the exact set of (coefficient per electron, species without phase)."""
    index: dict[frozenset[tuple[Fraction, Species]], str] = {}
    for name, couple in tables.couples.items():
        index.setdefault(_fingerprint(Equation.parse(couple.half_reaction)), name)
    return index


def _fingerprint(half: Equation) -> frozenset[tuple[Fraction, Species]]:
    n = _electrons(half)
    items: dict[Species, Fraction] = {}
    for sign, count, species in _signed(half):
        if not is_electron(species):
            plain = species.with_phase(Phase.UNSTATED)
            key = plain if species.charge or plain == WATER else species
            items[key] = items.get(key, Fraction(0)) + sign * Fraction(count) / n
    return frozenset((c, s) for s, c in items.items())


def find_couple(half: Equation, tables: Tables | None = None) -> str | None:
    """Name of the tabulated couple this half-reaction (either direction, any multiple) is, or None."""
    tables = tables or shipped()
    if not _electrons(half):
        return None
    return _couple_index(tables).get(_fingerprint(_phased(half, tables)))


def _phased(half: Equation, tables: Tables) -> Equation:
    def fix(side: Iterable[tuple[int | Fraction, Species]]) -> list[tuple[int | Fraction, Species]]:
        return [(n, resolve_phase(s, tables)[0]) for n, s in side]

    return Equation.of(fix(half.reactants), fix(half.products))


def proton_count(half: Equation) -> float:
    """H+ consumed minus OH- consumed, going left to right."""
    protons, hydroxides = _protons_and_hydroxides(half)
    return protons - hydroxides


def _protons_and_hydroxides(half: Equation) -> tuple[float, float]:
    protons = sum(sign * float(n) for sign, n, s in _signed(half) if is_proton(s))
    hydroxides = sum(sign * float(n) for sign, n, s in _signed(half) if is_hydroxide(s))
    return protons, hydroxides


def nernst_slope(kelvin: float = T0) -> float:
    """RT ln10 / F, in V; 0.05916 V at 298.15 K."""
    return R.value * kelvin * log(10) / FARADAY.value


@lru_cache(maxsize=64)
def pkw(kelvin: float = T0) -> float:
    """-log10 of the ion product of water; 13.995 at 25 C, moved by the shipped enthalpy and Cp."""
    if kelvin == T0:
        return PKW
    ionisation = "H2O(l) -> H^+(aq) + OH^-(aq)"
    moved = equilibrium_constant(ionisation, temperature=kelvin).log10
    return PKW - moved + equilibrium_constant(ionisation).log10


def ph_shift(half: Equation, n: float, ph: float, kelvin: float = T0) -> float:
    """Change of a potential between unit activities (pH 0 or pOH 0) and a pH, V.

    Parameters
    ----------
    half : Equation
        A half-reaction as a reduction, or a whole cell.
    n : float
        Electrons it passes.
    ph : float
        pH; hydroxide has the activity that the ion product of water gives.
    kelvin : float
        Temperature.
    """
    protons, hydroxides = _protons_and_hydroxides(half)
    return -nernst_slope(kelvin) * (protons * ph + hydroxides * (pkw(kelvin) - ph)) / float(n)


def _activity_shift(half: Equation, n: Fraction, activities: Mapping[Species, float], kelvin: float) -> float:
    exponent = sum(-sign * float(c) * log10(activities[s]) for sign, c, s in _signed(half) if s in activities)
    return -nernst_slope(kelvin) * exponent / float(n)


@dataclass(frozen=True, slots=True)
class _Conditions:
    """Everything but the equation: what a potential is asked at."""

    ph: float | None
    activities: Mapping[str, Amount] | None
    ionic_strength: float | Quantity | None
    kelvin: float
    tables: Tables

    def shift(self, equation: Equation, n: Fraction) -> tuple[float, tuple[str, ...]]:
        """Volts from unit activities to these, and the remarks that go with it."""
        present = [s for _, _, s in _signed(equation)]
        activities, remarks = read_activities(self.activities, present, self.ionic_strength, self.kelvin)
        clash = next((s for s in activities if is_proton(s) or is_hydroxide(s)), None)
        if self.ph is not None and clash is not None:
            raise DomainError(f"the pH and the activity of {clash} are both given", hint="give one of them")
        volts = _activity_shift(equation, n, activities, self.kelvin)
        if self.ph is not None:
            volts += ph_shift(equation, float(n), self.ph, self.kelvin)
        return volts, remarks


def potential(
    text: Equation | str,
    ph: float | None = None,
    *,
    activities: Mapping[str, Amount] | None = None,
    ionic_strength: float | Quantity | None = None,
    temperature: float | str | Quantity | None = None,
    tables: Tables | None = None,
) -> Potential:
    """Potential of a couple, a half-reaction, or the cell a whole equation describes.

    Parameters
    ----------
    text : str or Equation
        A couple of the tables (``"MnO4-/Mn2+"``), a half-reaction in either direction (the answer is
        always the reduction potential), or a whole redox equation (the answer is the cell potential).
    ph : float, optional
        pH instead of unit activity of H+ or OH-.
    activities : mapping, optional
        By species: a bare number is an activity; ``"0.10 mol/L"``, ``"0.2 bar"`` or a Quantity is a
        concentration (solutes) or a pressure (gases).  What is not named has activity 1.
    ionic_strength : float [mol/kg] or Quantity, optional
        Turns concentrations of ions into activities by the Davies equation, up to 0.5 mol/kg; without it
        concentrations count as activities and ``.remarks`` says so.
    temperature : float [K] or Quantity, optional
        273 to 373 K, 298.15 K if absent.

    Returns
    -------
    Potential [V vs SHE at the same temperature]
        The value marked as chosen in the table where the couple is tabulated, of a cell the difference of
        its two couples where both are; ``.alternatives`` holds the other published values and the one
        computed from Gibbs energies.

    Raises
    ------
    MissingDataError
        When neither a couple nor the Gibbs energies are tabulated.
    DomainError
        For activities that are not positive or belong to no species of the equation, a temperature or an
        ionic strength out of range.

    Examples
    --------
    >>> round(potential("Fe^3+ + e^- -> Fe^2+").value, 2)
    0.77
    >>> round(potential("Fe^3+ + e^- -> Fe^2+", activities={"Fe^3+": "1 mmol/L"}).value, 2)
    0.59
    """
    tables = tables or shipped()
    at = _Conditions(ph, activities, ionic_strength, kelvin_of(temperature), tables)
    name: str | None = None
    if isinstance(text, str) and text.strip() in tables.couples:
        name = text.strip()
        half = Equation.parse(tables.couples[name].half_reaction)
    else:
        half = text if isinstance(text, Equation) else Equation.parse(text)
    half = _phased(half, tables)
    n = _electrons(half)
    if not n:
        return _cell(half, at)
    if n < 0:
        half, n = Equation.of(half.products, half.reactants), -n
    return _half(half, n, name or find_couple(half, tables), at)


def _plain(n: Fraction) -> int | Fraction:
    return int(n) if n.denominator == 1 else n


def _half(half: Equation, n: Fraction, name: str | None, at: _Conditions) -> Potential:
    shift, remarks = at.shift(half, n)
    from_gibbs = _from_gibbs(half, n, at)
    chosen: Quantity | None = None
    alternatives: list[Quantity] = []
    if name is not None:
        warming, spread, how = _warming(half, n, name, at)
        for row in at.tables.couples[name].rows:
            if row.quantity not in ("E0", "E0_formal"):
                continue
            q = row.as_quantity
            volts = Quantity(
                q.value + warming + shift, "V", hypot(q.uncertainty or 0.0, spread), q.sources, q.basis
            )
            if row.chosen and row.quantity == "E0":
                chosen = volts
            else:
                alternatives.append(volts)
        if chosen is not None:
            remarks += how
    families: tuple[str, ...] = ()
    if from_gibbs is not None:
        computed = _moved(from_gibbs, shift)
        if chosen is None:
            chosen, families = computed, from_gibbs.families
            remarks += from_gibbs.remarks
        else:
            alternatives.append(computed)
    if chosen is None:
        raise MissingDataError(
            f"no potential for {half}",
            hint="neither the couple nor all the Gibbs energies are tabulated",
            what=f"E {half}",
            looked_in=("couples.csv", "formation.csv"),
        )
    return Potential(
        chosen.value,
        "V",
        chosen.uncertainty,
        chosen.sources,
        chosen.basis,
        tuple(alternatives),
        _plain(n),
        at.kelvin,
        families,
        remarks,
    )


def _moved(q: Potential, shift: float) -> Quantity:
    return Quantity(q.value + shift, "V", q.uncertainty, q.sources, q.basis)


def _from_gibbs(equation: Equation, n: Fraction, at: _Conditions) -> Potential | None:
    """Potential at unit activities from the Gibbs energies, or None where one is not tabulated."""
    try:
        dg = gibbs(equation, temperature=at.kelvin, tables=at.tables)
    except MissingDataError:
        return None
    per_volt = float(n) * FARADAY.value / 1000
    return Potential(
        -dg.value / per_volt,
        "V",
        (dg.uncertainty or 0.0) / per_volt,
        dg.sources,
        dg.basis,
        (),
        _plain(n),
        at.kelvin,
        dg.families,
        dg.remarks,
    )


def _warming(half: Equation, n: Fraction, name: str, at: _Conditions) -> tuple[float, float, tuple[str, ...]]:
    """Volts and uncertainty between 298.15 K and the temperature for a tabulated couple, and by which rule.

    Raises
    ------
    MissingDataError
        When neither the entropies nor a temperature coefficient are tabulated.
    """
    if at.kelvin == T0:
        return 0.0, 0.0, ()
    try:
        by = gibbs_shift(half, at.kelvin, at.tables)
    except MissingDataError as missing:
        try:
            row = at.tables.couples[name].row("dEdT")
        except MissingDataError:
            raise missing from None
        step = at.kelvin - T0
        note = f"at {at.kelvin:.2f} K by the tabulated temperature coefficient {row.value:+g} mV/K"
        return row.value / 1000 * step, abs(step) * (row.uncertainty or 0.0) / 1000, (note,)
    remarks = tuple(text for text in by.remarks if text.startswith("at "))
    per_volt = float(n) * FARADAY.value / 1000
    return -by.value / per_volt, (by.uncertainty or 0.0) / per_volt, remarks


def _cell(equation: Equation, at: _Conditions) -> Potential:
    from redoxlib.stoichiometry import half_reactions

    pair = half_reactions(equation)
    if not pair.electrons:
        raise DomainError(
            f"{equation} transfers no electrons", hint="a potential needs a half-reaction or a redox equation"
        )
    n = Fraction(pair.electrons)
    shift, remarks = at.shift(equation, n)
    computed = _from_gibbs(equation, n, at)
    from_couples = _from_couples(
        [half.equation for half in pair.reduction], [half.equation for half in pair.oxidation], at
    )
    # The couples marked as chosen come first, as for a half-reaction; the Gibbs energies stand beside them.
    chosen = from_couples or computed
    if chosen is None:
        gibbs(equation, temperature=at.kelvin, tables=at.tables)  # says which energies are missing
        raise MissingDataError(
            f"no potential for {equation}", what=f"E {equation}", looked_in=("couples.csv",)
        )
    alternatives: tuple[Quantity, ...] = ()
    if from_couples is not None and computed is not None:
        alternatives = (_moved(computed, shift),)
    return Potential(
        chosen.value + shift,
        "V",
        chosen.uncertainty,
        chosen.sources,
        chosen.basis,
        alternatives,
        _plain(n),
        at.kelvin,
        chosen.families,
        remarks + chosen.remarks,
    )


def _from_couples(
    reductions: Sequence[Equation], oxidations: Sequence[Equation], at: _Conditions
) -> Potential | None:
    """Standard cell potential as the difference of two tabulated couples, where there are just two."""
    if len(reductions) != 1 or len(oxidations) != 1:
        return None
    try:
        names = [find_couple(half, at.tables) for half in (reductions[0], oxidations[0])]
        if None in names:
            return None
        up, down = (
            potential(name, temperature=at.kelvin, tables=at.tables) for name in names if name is not None
        )
    except RedoxlibError:  # an open phase or a missing number: no second value, the first stands
        return None
    return Potential(
        up.value - down.value,
        "V",
        hypot(up.uncertainty or 0.0, down.uncertainty or 0.0),
        tuple(dict.fromkeys(up.sources + down.sources)),
        up.basis if up.basis == down.basis else "",
        (),
        0,
        at.kelvin,
        (),
        tuple(dict.fromkeys(up.remarks + down.remarks)),
    )
