"""Thermochemistry at 298.15 K: enthalpy, gibbs, entropy, equilibrium_constant, potential.

Every verb takes the equation or half-reaction as written and answers for exactly those
coefficients.  Standard states: 1 bar gas, ideal 1 mol/kg solute, pure liquid or solid; an electron
counts as H+ + e- = 1/2 H2 counts, so potentials are against the standard hydrogen electrode.

May import: errors, quantity, notation, stoichiometry, data.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from math import hypot, log, log10

from redoxlib.data import FormationRow, Tables, shipped
from redoxlib.errors import AmbiguousSpeciesError, DomainError, MissingDataError, NotationError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import FARADAY, Quantity, R

__all__ = [
    "EquilibriumConstant",
    "Potential",
    "enthalpy",
    "entropy",
    "equilibrium_constant",
    "gibbs",
    "potential",
    "resolve_phase",
    "stable_form",
]

T0 = 298.15
"""Temperature of the tables, K."""

_UNIT = {"dfH": "kJ/mol", "dfG": "kJ/mol", "S": "J/(mol K)", "Cp": "J/(mol K)"}
_SAYS = {"dfH": "enthalpy of formation", "dfG": "Gibbs energy of formation", "S": "entropy"}
_H = (("H", 1),)

_Key = tuple[tuple[tuple[str, object], ...], int, str | None]


@dataclass(frozen=True, slots=True)
class Potential(Quantity):
    """A reduction (or cell) potential in V with the values that were not chosen beside it."""

    alternatives: tuple[Quantity, ...] = ()
    electrons: int = 0


@dataclass(frozen=True, slots=True)
class EquilibriumConstant(Quantity):
    """A thermodynamic constant (unit 1); ``log10`` stays finite where the value would overflow."""

    log10: float = 0.0


def _key(species: Species) -> _Key:
    return (tuple(sorted(species.elements.items())), species.charge, species.isomer)


@cache
def _index(tables: Tables) -> Mapping[_Key, Mapping[Phase, str]]:
    """Table spellings by composition and phase, so that any spelling of a species finds its rows."""
    index: dict[_Key, dict[Phase, str]] = {}
    for text in tables.formation:
        species = Species.parse(text)
        index.setdefault(_key(species), {})[species.phase] = text
    return index


def phases_of(species: Species, tables: Tables | None = None) -> tuple[Phase, ...]:
    """Phases the tables hold for this composition, charge and isomer."""
    found = _index(tables or shipped()).get(_key(species), {})
    return tuple(sorted(found, key=lambda p: p.value))


def resolve_phase(species: Species, tables: Tables | None = None) -> tuple[Species, str | None]:
    """Give a species its phase where the text left it out.

    Ions are aqueous and water is liquid; any other species takes the one phase the tables hold,
    and the second item then says so.

    Raises
    ------
    AmbiguousSpeciesError
        When the tables hold several phases; ``.choices`` lists them.
    """
    if species.phase is not Phase.UNSTATED or (not species.elements and species.charge == -1):
        return species, None
    if species.charge:
        return species.with_phase(Phase.AQUEOUS), None
    if species == _WATER:
        return species.with_phase(Phase.LIQUID), None
    phases = phases_of(species, tables)
    if len(phases) == 1:
        return species.with_phase(phases[0]), f"{species} read as {species.with_phase(phases[0])}"
    if not phases:
        return species, None
    choices = tuple(str(species.with_phase(p)) for p in phases)
    text = str(species)
    raise AmbiguousSpeciesError(
        f"the phase of {text} is not stated and the tables hold several",
        source=text,
        span=(0, len(text)),
        hint=f"write one of {', '.join(choices)}",
        choices=choices,
    )


_WATER = Species.parse("H2O")


def _rows(species: Species, prop: str, tables: Tables) -> tuple[FormationRow, ...]:
    text = _index(tables).get(_key(species), {}).get(species.phase)
    if text is None:
        return ()
    return tuple(tables.formation[text].get(prop, ()))


def value(species: Species, prop: str, *, tables: Tables | None = None) -> Quantity:
    """One standard property (``dfH``, ``dfG``, ``S``, ``Cp``) of one species, the chosen row.

    Raises
    ------
    MissingDataError
        When no row holds it.
    """
    tables = tables or shipped()
    if not species.elements:  # the electron, by the convention of the hydrogen electrode
        return Quantity(0.0, _UNIT[prop], 0.0, (), "definition")
    if prop in ("dfH", "dfG") and _key(species)[0] == _H and species.charge == 1:
        return Quantity(0.0, _UNIT[prop], 0.0, (), "definition")
    for row in _rows(species, prop, tables):
        if row.chosen:
            return row.as_quantity
    raise MissingDataError(
        f"no {_SAYS.get(prop, prop)} for {species}",
        hint="add a row with its source to a table of your own, or ask for a quantity that does not need it",
        what=f"{prop} {species}",
        looked_in=("formation.csv",),
    )


def _net(equation: Equation | str, tables: Tables) -> list[tuple[float, Species]]:
    """Signed coefficients per species; a species on both sides cancels before any error is added."""
    equation = Equation.parse(equation) if isinstance(equation, str) else equation
    net: dict[Species, float] = {}
    for sign, side in ((-1, equation.reactants), (1, equation.products)):
        for count, species in side:
            resolved, _ = resolve_phase(species, tables)
            net[resolved] = net.get(resolved, 0.0) + sign * float(count)
    unbalanced = equation.residual()
    if any(unbalanced.values()):
        off = ", ".join(f"{name} {float(n):+g}" for name, n in unbalanced.items() if n)
        raise NotationError(
            f"the equation does not balance (left minus right: {off})",
            source=str(equation),
            span=(0, len(str(equation))),
            hint="thermodynamics needs the coefficients; balance or complete it first",
        )
    return [(n, s) for s, n in net.items() if n]


def _sum(equation: Equation | str, prop: str, tables: Tables | None) -> Quantity:
    tables = tables or shipped()
    total, variance, sources = 0.0, 0.0, []
    missing: list[MissingDataError] = []
    for count, species in _net(equation, tables):
        try:
            q = value(species, prop, tables=tables)
        except MissingDataError as error:
            missing.append(error)
            continue
        total += count * q.value
        variance = hypot(variance, count * (q.uncertainty or 0.0))
        sources += [s for s in q.sources if s not in sources]
    if missing:
        raise MissingDataError(
            "; ".join(e.message for e in missing),
            hint=missing[0].hint,
            what="; ".join(e.what for e in missing),
            looked_in=("formation.csv",),
        )
    return Quantity(total, _UNIT[prop], variance, tuple(sources), "published")


def enthalpy(equation: Equation | str, *, tables: Tables | None = None) -> Quantity:
    """Standard reaction enthalpy at 298.15 K, kJ per mole of the equation as written.

    Raises
    ------
    MissingDataError, AmbiguousSpeciesError, NotationError
        For a species without data, a phase left open, an equation that does not balance.

    >>> round(enthalpy("H^+ + OH^- -> H2O").value, 1)
    -55.8
    """
    return _sum(equation, "dfH", tables)


def gibbs(equation: Equation | str, *, tables: Tables | None = None) -> Quantity:
    """Standard reaction Gibbs energy at 298.15 K, kJ per mole of the equation as written."""
    return _sum(equation, "dfG", tables)


def entropy(equation: Equation | str, *, tables: Tables | None = None) -> Quantity:
    """Standard reaction entropy at 298.15 K, J/K per mole of the equation as written.

    For a half-reaction the electron carries half the entropy of hydrogen gas, so that H+ + e- = 1/2 H2
    has no entropy change, as it has no enthalpy change.
    """
    tables = tables or shipped()
    total = _sum(equation, "S", tables)
    electrons = sum(n for n, s in _net(equation, tables) if not s.elements)
    if not electrons:
        return total
    half = value(Species.parse("H2(g)"), "S", tables=tables)
    return Quantity(
        total.value + electrons * half.value / 2,
        total.unit,
        hypot(total.uncertainty or 0.0, electrons * (half.uncertainty or 0.0) / 2),
        (*total.sources, *(s for s in half.sources if s not in total.sources)),
        total.basis,
    )


def equilibrium_constant(equation: Equation | str, *, tables: Tables | None = None) -> EquilibriumConstant:
    """Thermodynamic equilibrium constant at 298.15 K from the Gibbs energies.

    ``.log10`` carries the number; ``.uncertainty`` is that of log10 K.
    """
    dg = gibbs(equation, tables=tables)
    scale = 1000.0 / (R.value * T0 * log(10))
    exponent = -dg.value * scale
    number = 10.0**exponent if abs(exponent) < 300 else float("inf") if exponent > 0 else 0.0
    return EquilibriumConstant(
        number, "1", (dg.uncertainty or 0.0) * scale, dg.sources, dg.basis, log10=exponent
    )


def electrons_of(equation: Equation) -> int:
    """Electrons on the left of a half-reaction (negative when it is written as an oxidation)."""
    left = sum(n for n, s in equation.reactants if not s.elements)
    right = sum(n for n, s in equation.products if not s.elements)
    n = left - right
    return int(n) if n == int(n) else 0


@cache
def _couple_index(tables: Tables) -> Mapping[frozenset[tuple[object, Species]], str]:
    """Couples by the exact set of (coefficient per electron, species without phase)."""
    index: dict[frozenset[tuple[object, Species]], str] = {}
    for name, couple in tables.couples.items():
        index.setdefault(_fingerprint(Equation.parse(couple.half_reaction)), name)
    return index


def _fingerprint(half: Equation) -> frozenset[tuple[object, Species]]:
    n = electrons_of(half)
    items: dict[Species, object] = {}
    for sign, side in ((1, half.reactants), (-1, half.products)):
        for count, species in side:
            if species.elements:
                bare = species.with_phase(Phase.UNSTATED) if species.charge or species == _WATER else species
                items[bare] = items.get(bare, 0) + sign * count / _fraction(n)  # type: ignore[operator]
    return frozenset((c, s) for s, c in items.items())


def _fraction(n: int) -> object:
    from fractions import Fraction

    return Fraction(n)


def find_couple(half: Equation, tables: Tables | None = None) -> str | None:
    """Name of the tabulated couple this half-reaction (either direction, any multiple) is, or None."""
    tables = tables or shipped()
    if electrons_of(half) == 0:
        return None
    return _couple_index(tables).get(_fingerprint(_phased(half, tables)))


def _phased(half: Equation, tables: Tables) -> Equation:
    def fix(side: Iterable[tuple[object, Species]]) -> list[tuple[object, Species]]:
        return [(n, resolve_phase(s, tables)[0]) for n, s in side]

    return Equation.of(fix(half.reactants), fix(half.products))  # type: ignore[arg-type]


def proton_count(half: Equation) -> float:
    """H+ consumed minus OH- consumed, going left to right."""
    total = 0.0
    for sign, side in ((1, half.reactants), (-1, half.products)):
        for n, s in side:
            if s.elements == {"H": 1} and s.charge == 1:
                total += sign * float(n)
            elif s.elements == {"H": 1, "O": 1} and s.charge == -1:
                total -= sign * float(n)
    return total


def nernst_slope() -> float:
    """RT ln10 / F at 298.15 K, in V."""
    return R.value * T0 * log(10) / FARADAY.value


def _ph_shift(half: Equation, n: int, ph: float) -> float:
    """Change of the potential between unit activities (pH 0 or pOH 0) and the given pH, V."""
    protons = hydroxides = 0.0
    for sign, side in ((1, half.reactants), (-1, half.products)):
        for count, s in side:
            if s.elements == {"H": 1} and s.charge == 1:
                protons += sign * float(count)
            elif s.elements == {"H": 1, "O": 1} and s.charge == -1:
                hydroxides += sign * float(count)
    return -nernst_slope() * (protons * ph + hydroxides * (_PKW - ph)) / n


_PKW = 13.995  # CRC Handbook; the H+ + OH- row of formation.csv gives 14.00


def potential(
    text: Equation | str,
    ph: float | None = None,
    *,
    activities: Mapping[str, float] | None = None,
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
        Species text to activity (solutes: mol/kg; gases: bar) instead of 1.

    Returns
    -------
    Potential [V vs SHE]
        The value marked as chosen in the table where the couple is tabulated; ``.alternatives`` holds
        the other published values and the one computed from Gibbs energies.

    Raises
    ------
    MissingDataError
        When neither a couple nor the Gibbs energies are tabulated.

    >>> round(potential("Fe^3+ + e^- -> Fe^2+").value, 2)
    0.77
    """
    tables = tables or shipped()
    name: str | None = None
    if isinstance(text, str) and text.strip() in tables.couples:
        name = text.strip()
        half = Equation.parse(tables.couples[name].half_reaction)
    else:
        half = Equation.parse(text) if isinstance(text, str) else text
    n = electrons_of(half)
    if n == 0:
        return _cell(half, ph, activities, tables)
    if n < 0:
        half = Equation.of(half.products, half.reactants)
        n = -n
    half = _phased(half, tables)
    shift = (0.0 if ph is None else _ph_shift(half, n, ph)) + _activity_shift(half, n, activities)
    name = name or find_couple(half, tables)
    alternatives: list[Quantity] = []
    chosen: Quantity | None = None
    if name is not None:
        for row in tables.couples[name].rows:
            if row.quantity not in ("E0", "E0_formal"):
                continue
            q = row.as_quantity
            moved = Quantity(q.value + shift, "V", q.uncertainty, q.sources, q.basis)
            if row.chosen and row.quantity == "E0":
                chosen = moved
            else:
                alternatives.append(moved)
    try:
        dg = gibbs(half, tables=tables)
    except MissingDataError:
        computed = None
    else:
        computed = Quantity(
            -dg.value * 1000 / (n * FARADAY.value) + shift,
            "V",
            (dg.uncertainty or 0.0) * 1000 / (n * FARADAY.value),
            dg.sources,
            dg.basis,
        )
    if chosen is None:
        if computed is None:
            raise MissingDataError(
                f"no potential for {half}",
                hint="neither the couple nor all the Gibbs energies are tabulated",
                what=f"E {half}",
                looked_in=("couples.csv", "formation.csv"),
            )
        chosen = computed
    elif computed is not None:
        alternatives.append(computed)
    return Potential(
        chosen.value, "V", chosen.uncertainty, chosen.sources, chosen.basis, tuple(alternatives), n
    )


def _activity_shift(half: Equation, n: int, activities: Mapping[str, float] | None) -> float:
    if not activities:
        return 0.0
    wanted: dict[Species, float] = {}
    for text, activity in activities.items():
        if not activity > 0:
            raise DomainError(f"the activity of {text} must be more than zero, not {activity}")
        wanted[Species.parse(text).with_phase(Phase.UNSTATED)] = activity
    seen: set[Species] = set()
    exponent = 0.0
    for sign, side in ((-1, half.reactants), (1, half.products)):
        for count, species in side:
            bare = species.with_phase(Phase.UNSTATED)
            if bare in wanted:
                seen.add(bare)
                exponent += sign * float(count) * log10(wanted[bare])
    if len(seen) < len(wanted):
        lost = next(str(s) for s in wanted if s not in seen)
        raise DomainError(f"{lost} takes no part in {half}")
    return -nernst_slope() * exponent / n


def _cell(
    equation: Equation, ph: float | None, activities: Mapping[str, float] | None, tables: Tables
) -> Potential:
    from redoxlib.stoichiometry import half_reactions

    pair = half_reactions(equation)
    n = pair.electrons
    if not n:
        raise DomainError(
            f"{equation} transfers no electrons", hint="a potential needs a half-reaction or a redox equation"
        )
    dg = gibbs(equation, tables=tables)
    shift = (0.0 if ph is None else _ph_shift(equation, n, ph)) + _activity_shift(equation, n, activities)
    return Potential(
        -dg.value * 1000 / (n * FARADAY.value) + shift,
        "V",
        (dg.uncertainty or 0.0) * 1000 / (n * FARADAY.value),
        dg.sources,
        dg.basis,
        (),
        n,
    )


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


def _transformed(form: Species, ph: float, activity: float, tables: Tables) -> float:
    """Gibbs energy of a form at a pH, relative to one key atom, liquid water and H+(aq), kJ/mol."""
    elements = dict(form.elements)
    hydrogen, oxygen = elements.pop("H", 0), elements.pop("O", 0)
    atoms = float(sum(elements.values()))
    g = value(form, "dfG", tables=tables).value
    water = value(_WATER.with_phase(Phase.LIQUID), "dfG", tables=tables).value
    protons = float(hydrogen) - 2 * float(oxygen)  # form = key atoms + O as water + protons
    step = R.value * T0 * log(10) / 1000
    dissolved = step * log10(activity) if form.phase is Phase.AQUEOUS else 0.0
    return (g + dissolved - float(oxygen) * water + protons * step * ph) / atoms


@cache
def _families(tables: Tables) -> Mapping[Species, tuple[Species, ...]]:
    rivals: dict[str, list[Species]] = {}
    for row in tables.forms:
        if row.competes:
            rivals.setdefault(row.family, []).append(Species.parse(row.species))
    return {
        Species.parse(row.species).with_phase(Phase.UNSTATED): tuple(rivals.get(row.family, ()))
        for row in tables.forms
    }
