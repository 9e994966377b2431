"""Systems: which species, and log K of which source.

Every constant is read from the shipped tables; this module only says which rows belong together.  A row
is picked by its name, its source and, where one source has several, its ionic strength or its note.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from math import log, log10
from typing import NamedTuple

from redoxlib.data import EquilibriumRow, FormationRow, Tables, shipped
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import STANDARD_TEMPERATURE, R

__all__ = ["SYSTEMS", "Reaction", "System", "system"]

_RT_KJ = R.value * STANDARD_TEMPERATURE.value / 1000.0


@dataclass(frozen=True, slots=True)
class Reaction:
    """A reaction with the decadic logarithm of its constant (mol/L, bar) and where that is from."""

    equation: Equation
    log10_k: float
    uncertainty: float | None = None
    sources: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class System:
    """Species and independent reactions between them.

    Attributes
    ----------
    ionic_strength : float or None [mol/L]
        At which the constants hold; None where the rows do not agree (``note`` says so).
    """

    name: str
    species: tuple[Species, ...]
    reactions: tuple[Reaction, ...]
    ionic_strength: float | None = None
    note: str = ""

    @classmethod
    def of(cls, name: str, reactions: Iterable[Reaction], *, note: str = "") -> System:
        """Make a system of reactions; its species are those that the reactions name.

        Raises
        ------
        DomainError
            If a reaction does not balance or a species has no phase.
        """
        rows = tuple(reactions)
        found: dict[Species, None] = {}
        for row in rows:
            if row.equation.residual():
                raise DomainError(f"{row.equation} does not balance")
            for _, s in (*row.equation.reactants, *row.equation.products):
                if s.phase is Phase.UNSTATED:
                    raise DomainError(f"{s} in {row.equation} needs a phase", hint=f"write {s}(aq)")
                found[s] = None
        return cls(name, tuple(sorted(found, key=_order)), rows, None, note)

    @classmethod
    def from_formation(
        cls, name: str, species: Iterable[str], *, family: str = "nbs1982", tables: Tables | None = None
    ) -> System:
        """Make a system of Gibbs energies of formation of one family, at ionic strength 0.

        Raises
        ------
        MissingDataError
            If a species has no Gibbs energy in that family.
        """
        tables = tables or shipped()
        kinds = tuple(sorted({Species.parse(text) for text in species}, key=_order))
        rows = {s: _energy(s, family, tables) for s in kinds}
        reactions = []
        for vector in _reactions_between(kinds):
            terms = [(n, s) for n, s in zip(vector, kinds, strict=True) if n]
            equation = Equation.of([(-n, s) for n, s in terms if n < 0], [(n, s) for n, s in terms if n > 0])
            energy = sum(float(n) * rows[s].value for n, s in terms)
            spread = sum((float(n) * (rows[s].uncertainty or 0.0)) ** 2 for n, s in terms) ** 0.5
            unit = _RT_KJ * log(10.0)
            keys = tuple(dict.fromkeys(k for _, s in terms for k in rows[s].sources))
            reactions.append(Reaction(equation, -energy / unit, spread / unit, keys))
        return cls(name, kinds, tuple(reactions), 0.0, f"Gibbs energies of the family {family}")

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys into the table of sources, each once."""
        return tuple(dict.fromkeys(key for r in self.reactions for key in r.sources))

    @property
    def stoichiometry(self) -> tuple[tuple[Fraction, ...], ...]:
        """One row a reaction, one column a species; products positive."""
        place = {s: i for i, s in enumerate(self.species)}
        rows = []
        for r in self.reactions:
            row = [Fraction(0)] * len(self.species)
            for sign, side in ((-1, r.equation.reactants), (1, r.equation.products)):
                for n, s in side:
                    row[place[s]] += sign * Fraction(n)
            rows.append(tuple(row))
        return tuple(rows)

    def find(self, species: str | Species) -> Species:
        """The species of the system that a text means; without a phase the aqueous one, else the only one.

        Raises
        ------
        DomainError
            If the system does not hold it.
        """
        wanted = Species.parse(species) if isinstance(species, str) else species
        if wanted in self.species:
            return wanted
        if wanted.phase is Phase.UNSTATED:
            alike = [s for s in self.species if s.with_phase(Phase.UNSTATED) == wanted]
            dissolved = [s for s in alike if s.phase is Phase.AQUEOUS]
            for choice in (dissolved, alike):
                if len(choice) == 1:
                    return choice[0]
        raise DomainError(
            f"{wanted} is not in the system {self.name!r}",
            hint=f"it holds {', '.join(map(str, self.species))}; "
            "System.with_spectators adds species that do not react",
        )

    def index(self, species: str | Species) -> int:
        """Column of a species."""
        return self.species.index(self.find(species))

    def with_spectators(self, *species: str) -> System:
        """Add species that take part in no reaction, such as Na^+(aq)."""
        new = [s for s in map(Species.parse, species) if s not in self.species]
        return replace(self, species=(*self.species, *new))

    def without(self, *species: str) -> System:
        """Leave species out: those whose formation is too slow to count, or that have no constant.

        The reactions left are those that exact elimination of the species from the given ones leaves.

        >>> small = system("bromine water, tribromide").without("Br3^-(aq)")
        >>> len(small.reactions) - len(system("bromine water").reactions)
        0
        """
        gone = [self.find(s) for s in species]
        rows = [(list(v), r.log10_k, r) for v, r in zip(self.stoichiometry, self.reactions, strict=True)]
        for s in gone:
            column = self.species.index(s)
            with_it = [row for row in rows if row[0][column]]
            rows = [row for row in rows if not row[0][column]]
            if not with_it:
                continue
            lead, rest = with_it[0], with_it[1:]
            for vector, k, r in rest:
                factor = vector[column] / lead[0][column]
                mixed = [x - factor * y for x, y in zip(vector, lead[0], strict=True)]
                both = replace(r, sources=tuple(dict.fromkeys((*r.sources, *lead[2].sources))))
                rows.append((mixed, k - float(factor) * lead[1], both))
        reactions = []
        for vector, k, r in rows:
            terms = [(n, s) for n, s in zip(vector, self.species, strict=True) if n]
            equation = Equation.of([(-n, s) for n, s in terms if n < 0], [(n, s) for n, s in terms if n > 0])
            reactions.append(replace(r, equation=equation, log10_k=k))
        return replace(
            self, species=tuple(s for s in self.species if s not in gone), reactions=tuple(reactions)
        )

    def with_log10_k(self, values: Sequence[float]) -> System:
        """Return the same system with other constants, in the order of ``reactions``: for sampling."""
        if len(values) != len(self.reactions):
            raise DomainError(f"{len(values)} constants for {len(self.reactions)} reactions")
        pairs = zip(self.reactions, values, strict=True)
        return replace(self, reactions=tuple(replace(r, log10_k=float(v)) for r, v in pairs))


def _order(species: Species) -> tuple[int, str]:
    phases = (Phase.AQUEOUS, Phase.LIQUID, Phase.SOLID, Phase.GAS, Phase.UNSTATED)
    return phases.index(species.phase), str(species)


def _energy(species: Species, family: str, tables: Tables) -> FormationRow:
    rows = tables.formation.get(str(species), {}).get("dfG", ())
    fitting = [row for row in rows if family in row.families]
    for row in fitting:
        if row.chosen:
            return row
    if fitting:
        return fitting[0]
    raise MissingDataError(
        f"no Gibbs energy of {species} in the family {family}",
        what=f"dfG of {species}",
        looked_in=("formation.csv",),
    )


def _reactions_between(species: Sequence[Species]) -> list[list[Fraction]]:
    """Basis of the reactions that elements and charge allow: the exact null space of the composition."""
    keys = sorted({e for s in species for e in s.elements})
    rows = [[Fraction(s.elements.get(e, 0)) for s in species] for e in keys]
    rows.append([Fraction(s.charge) for s in species])
    return null_space(rows)


def null_space(rows: Iterable[Sequence[Fraction]]) -> list[list[Fraction]]:
    """Basis of the vectors that every row is at right angles to, by exact elimination."""
    left = [list(row) for row in rows]
    width = len(left[0])
    pivots: list[int] = []
    for column in range(width):
        done = len(pivots)
        at = next((r for r in range(done, len(left)) if left[r][column]), None)
        if at is None:
            continue
        left[done], left[at] = left[at], left[done]
        head = left[done][column]
        left[done] = [x / head for x in left[done]]
        for r in range(len(left)):
            if r != done and left[r][column]:
                factor = left[r][column]
                left[r] = [x - factor * y for x, y in zip(left[r], left[done], strict=True)]
        pivots.append(column)
    basis = []
    for free in (c for c in range(width) if c not in pivots):
        vector = [Fraction(0)] * width
        vector[free] = Fraction(1)
        for r, p in enumerate(pivots):
            vector[p] = -left[r][free]
        basis.append(vector)
    return basis


class _Row(NamedTuple):
    """One row of the table of equilibria: by name and source, then ionic strength or note where needed."""

    name: str
    source: str
    ionic_strength: float | None = None
    note: str = ""


class _Recipe(NamedTuple):
    """What a provided system is made of: rows of the table of equilibria, or species of one family."""

    rows: tuple[_Row, ...] = ()
    species: tuple[str, ...] = ()
    note: str = ""


_WATER = _Row("water", "openstax2e")
_HYPOCHLOROUS = _Row("acid_HClO", "openstax2e")
_HYPOBROMOUS = _Row("acid_HBrO", "perrin1982")
_HYPOIODOUS = _Row("acid_HIO", "perrin1982")
_BROMINE = (_Row("solubility_Br2", "computed"), _HYPOBROMOUS, _WATER)
_IODINE = (_Row("solubility_I2", "computed"), _HYPOIODOUS, _WATER)
_WANG = (
    _Row("exchange_BrCl_Br-", "wang1994"),
    _Row("formation_Br2Cl-", "wang1994"),
    _Row("formation_Br3-", "wang1994"),
    _Row("hydrolysis_Cl2", "margerum1994"),
    _Row("exchange_HClO_Br-", "computed"),
    _HYPOCHLOROUS,
    _HYPOBROMOUS,
    _WATER,
)
_CHLORINE_FORMS = (
    "Cl2(aq)",
    "HClO(aq)",
    "ClO^-(aq)",
    "Cl^-(aq)",
    "H^+(aq)",
    "OH^-(aq)",
    "H2O(l)",
)
_IODINE_FORMS = ("I2(aq)", "I2(s)", "I^-(aq)", "I3^-(aq)", "H^+(aq)", "OH^-(aq)", "H2O(l)")

_RECIPES: dict[str, _Recipe] = {
    "chlorine water": _Recipe(
        (_Row("hydrolysis_Cl2", "computed"), _HYPOCHLOROUS, _WATER),
        note="constants at ionic strength 0; no gas: give the chlorine that is dissolved",
    ),
    "chlorine water, gas": _Recipe(species=("Cl2(g)", *_CHLORINE_FORMS)),
    "bromine water": _Recipe((_Row("hydrolysis_Br2", "beckwith1996", 0.0), *_BROMINE)),
    "bromine water, 0.5 M": _Recipe(
        (_Row("hydrolysis_Br2", "beckwith1996", 0.5), *_BROMINE),
        note="hydrolysis at ionic strength 0.5, the other rows at 0",
    ),
    "bromine water, tribromide": _Recipe(
        (_Row("hydrolysis_Br2", "beckwith1996", 0.0), _Row("formation_Br3-", "wang1994"), *_BROMINE),
        note="tribromide constant at ionic strength 1.0, the other rows at 0",
    ),
    "iodine water": _Recipe((_Row("hydrolysis_I2", "eigen1962"), *_IODINE)),
    "iodine water, triiodide": _Recipe(
        (_Row("hydrolysis_I2", "eigen1962"), _Row("formation_I3-", "palmer1984"), *_IODINE),
        note="triiodide constant per kg of water, taken as per litre",
    ),
    "bromine-chlorine": _Recipe(
        (_Row("formation_BrCl2-", "wang1994"), _Row("hydrolysis_BrCl", "liu2001"), *_WANG),
        note="complexes of Wang et al. 1994 at ionic strength 1.0; hydrolysis of bromine chloride and of "
        "chlorine by the same laboratory, at 1.0 and 0.5; acids and water at 0, without weight in acid; "
        "without Cl3-, of which no constant was read",
    ),
    "bromine-chlorine, 2001": _Recipe(
        (_Row("formation_BrCl2-", "liu2001"), _Row("hydrolysis_BrCl", "liu2001"), *_WANG),
        note="as bromine-chlorine, with the BrCl2- that Liu and Margerum revised in 2001",
    ),
    "bromine-chlorine, liquid bromine": _Recipe(
        (
            _Row("formation_BrCl2-", "wang1994"),
            _Row("hydrolysis_BrCl", "liu2001"),
            *_WANG,
            _Row("solubility_Br2", "computed"),
        ),
        note="with liquid bromine, taken as pure; the solubility is that in water",
    ),
    "bromine-chlorine, energies": _Recipe(
        species=(
            *_CHLORINE_FORMS,
            "Br2(aq)",
            "Br2(l)",
            "Br^-(aq)",
            "Br3^-(aq)",
            "BrCl(aq)",
            "BrCl2^-(aq)",
            "Br2Cl^-(aq)",
            "HBrO(aq)",
            "BrO^-(aq)",
        )
    ),
    "iodine-chlorine": _Recipe(
        species=(*_CHLORINE_FORMS, *_IODINE_FORMS, "ICl(aq)", "ICl2^-(aq)", "HIO(aq)", "IO^-(aq)")
    ),
    "iodine-bromine": _Recipe(
        (
            _Row("hydrolysis_I2", "eigen1962"),
            _Row("hydrolysis_IBr", "troy1991ibr"),
            _Row("formation_IBr2-", "troy1991"),
            _Row("exchange_HBrO_I-", "computed"),
            _Row("formation_I3-", "palmer1984"),
            _Row("hydrolysis_Br2", "beckwith1996", 0.5),
            _Row("formation_Br3-", "wang1994"),
            _Row("solubility_I2", "computed"),
            _HYPOIODOUS,
            _HYPOBROMOUS,
            _WATER,
        ),
        note="constants of iodine and of iodine bromide without a stated ionic strength; the others at 0 to "
        "1.0; without I2Br-, of which no constant was read",
    ),
    "iodine-thiosulfate": _Recipe(species=(*_IODINE_FORMS, "S2O3^2-(aq)", "S4O6^2-(aq)")),
    "chloramine": _Recipe(
        (_Row("chloramine", "morris1983"), _Row("acid_NH4+", "perrin1982"), _HYPOCHLOROUS, _WATER),
        note="monochloramine only: the tables have no equilibrium constant of NHCl2",
    ),
    "cyanide": _Recipe(
        (_Row("acid_HCN", "perrin1982"), _Row("henry_HCN", "ma2010"), _WATER),
        note="acid and gas only; a gas space shows how much hydrogen cyanide leaves the water",
    ),
    "cyanate": _Recipe((_Row("acid_HOCN", "perrin1982"), _WATER)),
    "cyanide-chlorine": _Recipe(
        species=(*_CHLORINE_FORMS, "CN^-(aq)", "HCN(aq)", "HCN(g)", "OCN^-(aq)", "CNCl(aq)", "CNCl(g)"),
        note="stops at cyanate: what follows is slower",
    ),
    "manganese": _Recipe(
        species=(
            "Mn^2+(aq)",
            "MnOH^+(aq)",
            "MnO4^-(aq)",
            "MnO4^2-(aq)",
            "MnO2(s)",
            "Mn(OH)2(s)",
            "H^+(aq)",
            "OH^-(aq)",
            "H2O(l)",
        )
    ),
    "chlorine dioxide": _Recipe(
        species=(*_CHLORINE_FORMS, "ClO2(aq)", "ClO2(g)", "ClO2^-(aq)", "HClO2(aq)"),
        note="without chlorate, which forms slowly",
    ),
    "sulfite": _Recipe(
        (
            _Row("acid_SO2", "chemprinciples_c"),
            _Row("acid_HSO3-", "chemprinciples_c"),
            _Row("henry_SO2", "sander_web"),
            _WATER,
        )
    ),
    "peroxide": _Recipe((_Row("acid_H2O2", "perrin1982"), _WATER)),
}

SYSTEMS: tuple[str, ...] = tuple(_RECIPES)
"""Names of the provided systems."""


def _pick(wanted: _Row, tables: Tables) -> EquilibriumRow:
    for row in tables.equilibria.get(wanted.name, ()):
        if wanted.source not in row.sources or wanted.note not in row.note:
            continue
        if wanted.ionic_strength is not None and row.ionic_strength != wanted.ionic_strength:
            continue
        if row.temperature_C != 25.0 or _log10(row) is None:
            continue
        return row
    raise MissingDataError(
        f"no row {wanted.name!r} of source {wanted.source!r} at 25 C",
        what=f"constant {wanted.name}",
        looked_in=("equilibria.csv",),
    )


def _log10(row: EquilibriumRow) -> float | None:
    """log K in mol/L and bar, None for a row that is no constant (a heat, a solubility by mass)."""
    if row.quantity in ("pKa", "pKw"):
        return -row.value
    if row.quantity == "log K":
        return row.value
    if row.quantity == "K" and row.value > 0:
        return log10(row.value)
    if row.quantity == "solubility" and row.unit in ("mol/L", "mol/kg"):
        return log10(row.value)
    if row.quantity == "Hcp":  # mol/(m3 Pa) to mol/(L bar)
        return log10(row.value * 100.0)
    return None


def _spread(row: EquilibriumRow) -> float | None:
    """Uncertainty of log K."""
    if row.uncertainty is None or row.quantity in ("pKa", "pKw", "log K"):
        return row.uncertainty
    return log10(1.0 + row.uncertainty / row.value)


def system(name: str, *, tables: Tables | None = None) -> System:
    """A provided system by name.

    Raises
    ------
    DomainError
        If there is none of that name.
    MissingDataError
        If the tables lack a constant it needs.
    """
    if name not in _RECIPES:
        raise DomainError(f"no system {name!r}", hint=f"provided: {', '.join(SYSTEMS)}")
    return _system(name, tables or shipped())


@cache
def _system(name: str, tables: Tables) -> System:
    recipe = _RECIPES[name]
    if recipe.species:
        found = System.from_formation(name, recipe.species, tables=tables)
        return replace(found, note="; ".join(filter(None, (found.note, recipe.note))))
    rows = [_pick(wanted, tables) for wanted in recipe.rows]
    reactions = [
        Reaction(Equation.parse(row.equilibrium), value, _spread(row), row.sources, row.note)
        for row in rows
        if (value := _log10(row)) is not None
    ]
    made = System.of(name, reactions, note=recipe.note)
    strengths = {row.ionic_strength for row in rows if row.name not in _NO_STRENGTH}
    return replace(made, ionic_strength=strengths.pop() if len(strengths) == 1 else None)


_NO_STRENGTH = frozenset({"solubility_Br2", "solubility_I2"})
