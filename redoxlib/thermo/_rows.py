"""From a species to its rows: phases, values, families, and the net species of an equation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from redoxlib.data import FormationRow, Tables, shipped
from redoxlib.errors import AmbiguousSpeciesError, MissingDataError, NotationError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity
from redoxlib.stoichiometry import ions_of

T0 = 298.15
"""Temperature of the tables, K."""

UNIT = {"dfH": "kJ/mol", "dfG": "kJ/mol", "S": "J/(mol K)", "Cp": "J/(mol K)"}
_SAYS = {
    "dfH": "enthalpy of formation",
    "dfG": "Gibbs energy of formation",
    "S": "entropy",
    "Cp": "heat capacity",
}
_H = (("H", 1),)
WATER = Species.parse("H2O")
HYDROGEN = Species.parse("H2(g)")

_Key = tuple[tuple[tuple[str, object], ...], int, str | None]

LINKED = (
    ("CN^-(aq)", "HCN(aq)"),
    ("Fe^2+(aq)", "Fe^3+(aq)"),
)
"""Pairs whose difference was measured and whose levels were fixed together: their errors move as one."""


def _key(species: Species) -> _Key:
    return (tuple(sorted(species.elements.items())), species.charge, species.isomer)


@lru_cache(maxsize=8)
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
    if species == WATER:
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


def is_electron(species: Species) -> bool:
    return not species.elements


def is_proton(species: Species) -> bool:
    return _key(species)[0] == _H and species.charge == 1


def is_hydroxide(species: Species) -> bool:
    return species.elements == {"H": 1, "O": 1} and species.charge == -1


def chosen_row(species: Species, prop: str, tables: Tables) -> FormationRow | None:
    """The chosen row of one property, or None where there is none (or a definition takes its place)."""
    text = _index(tables).get(_key(species), {}).get(species.phase)
    if text is None:
        return None
    return next((row for row in tables.formation[text].get(prop, ()) if row.chosen), None)


def value(species: Species, prop: str, *, tables: Tables | None = None) -> Quantity:
    """One standard property (``dfH``, ``dfG``, ``S``, ``Cp``) of one species, the chosen row.

    Raises
    ------
    MissingDataError
        When no row holds it.
    """
    tables = tables or shipped()
    if is_electron(species):  # by the convention of the hydrogen electrode
        return Quantity(0.0, UNIT[prop], 0.0, (), "definition")
    if is_proton(species) and species.phase in (Phase.AQUEOUS, Phase.UNSTATED):
        return Quantity(0.0, UNIT[prop], 0.0, (), "definition")
    row = chosen_row(species, prop, tables)
    if row is not None:
        return row.as_quantity
    raise MissingDataError(
        f"no {_SAYS.get(prop, prop)} for {species}",
        hint="add a row with its source to a table of your own, or ask for a quantity that does not need it",
        what=f"{prop} {species}",
        looked_in=("formation.csv",),
    )


def net_species(equation: Equation | str, tables: Tables) -> list[tuple[float, Species]]:
    """Signed coefficients per species; a species on both sides cancels before any error is added."""
    return told_net(equation, tables)[0]


def told_net(equation: Equation | str, tables: Tables) -> tuple[list[tuple[float, Species]], tuple[str, ...]]:
    """The net species, and what was assumed: phases left out, and salts in water counted as their ions."""
    equation = equation if isinstance(equation, Equation) else Equation.parse(equation)
    net: dict[Species, float] = {}
    phases: dict[str, None] = {}
    split: dict[str, None] = {}
    for sign, side in ((-1, equation.reactants), (1, equation.products)):
        for count, species in side:
            resolved, assumed = resolve_phase(species, tables)
            if assumed is not None:
                phases[assumed] = None
            ions = _dissolved(resolved, tables)
            if ions is not None:
                split[str(resolved)] = None
            for number, part in ions or ((1, resolved),):
                net[part] = net.get(part, 0.0) + sign * float(count) * float(number)
    unbalanced = equation.residual()
    if any(unbalanced.values()):
        off = ", ".join(f"{name} {float(n):+g}" for name, n in unbalanced.items() if n)
        raise NotationError(
            f"the equation does not balance (left minus right: {off})",
            source=str(equation),
            span=(0, len(str(equation))),
            hint="thermodynamics needs the coefficients; balance or complete it first",
        )
    told = []
    if phases:
        told.append(f"phase not stated: {', '.join(phases)}; the tables hold no other")
    if split:
        told.append(f"{', '.join(split)} counted as ions at infinite dilution")
    return [(n, s) for s, n in net.items() if n], tuple(told)


_STRONG_BASE = frozenset({"Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba", "N"})


def _dissolved(species: Species, tables: Tables) -> tuple[tuple[int | Fraction, Species], ...] | None:
    """Ions of a salt, strong acid or strong base in water of which the tables hold no (aq) row; else None."""
    if species.phase is not Phase.AQUEOUS or species.charge or Phase.AQUEOUS in phases_of(species, tables):
        return None
    ions = ions_of(species)
    if ions is None or "Hg" in species.elements:  # mercury(II) halides stay molecules
        return None
    if any(is_hydroxide(ion) for _, ion in ions) and not _STRONG_BASE & set(species.elements):
        return None
    return tuple((n, ion.with_phase(Phase.LIQUID if ion == WATER else Phase.AQUEOUS)) for n, ion in ions)


def families_of(
    net: Sequence[tuple[float, Species]], props: Sequence[str], tables: Tables
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Families common to all rows an answer rests on, and a remark where there is none.

    A thermochemical family is a set of values fitted together; two rows of different families differ by
    the gap between the networks as well as by the reaction.
    """
    common: frozenset[str] | None = None
    seen: list[tuple[str, frozenset[str]]] = []
    for _, species in net:
        for prop in props:
            row = None if is_electron(species) else chosen_row(species, prop, tables)
            if row is not None:
                common = row.families if common is None else common & row.families
                seen.append((str(species), row.families))
    if common is None or common:
        return tuple(sorted(common or ())), ()
    told = "; ".join(dict.fromkeys(f"{name} from {' or '.join(sorted(found))}" for name, found in seen))
    return (), (f"no thermochemical family holds every species of this reaction: {told}",)


def linked_remarks(net: Sequence[tuple[float, Species]]) -> tuple[str, ...]:
    """A remark for each pair of species on opposite sides whose errors are known to move together."""
    signs = {str(species): n for n, species in net}
    return tuple(
        f"the values of {one} and {other} were fixed together: taken as independent, "
        "the uncertainty of this reaction is an upper bound"
        for one, other in LINKED
        if signs.get(one, 0.0) * signs.get(other, 0.0) < 0
    )
