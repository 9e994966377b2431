"""Row types of the shipped tables and the rules each column obeys.

One frozen dataclass per table; its field names are the column names of the csv file, in any
order.  ``TABLES`` says how each column is read.  The reading itself is in ``_load``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Any

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.quantity import Quantity

BASES = frozenset({"published", "spread", "last-digit", "definition", "estimate"})
"""What an uncertainty rests on; docs/data.md says what each word promises."""

SOURCE_KINDS = frozenset(
    {
        "standard",
        "evaluated",
        "handbook",
        "journal",
        "government",
        "textbook",
        "package",
        "supplier",
        "definition",
        "practice",
        "memory",
        "computed",
    }
)


class Kind(StrEnum):
    """How the text of one column is read."""

    TEXT = "text"
    """Anything, may be empty."""
    WORD = "word"
    """Anything but empty."""
    NUMBER = "number"
    """A finite decimal number."""
    MAYBE = "maybe"
    """A finite decimal number, or empty where none applies."""
    FLAG = "flag"
    """1 or 0."""
    SOURCE = "source"
    """A key of sources.csv; several are separated by a semicolon."""
    SPECIES = "species"
    """A species in canonical writing."""
    EQUATION = "equation"
    """A whole equation or half-reaction, balanced in atoms and charge."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: how it is read, which words it allows, and whether a file may leave it out."""

    kind: Kind
    words: frozenset[str] = frozenset()
    optional: bool = False


@dataclass(frozen=True, slots=True)
class TableSpec:
    """One table: its file, its row type, its columns, and what may not occur twice."""

    file: str
    row: type[Any]
    columns: Mapping[str, Column]
    unique: tuple[str, ...] = ()
    """Columns that together identify a row."""
    chosen: tuple[str, ...] = ()
    """Columns within whose every combination exactly one row has ``chosen`` set."""


@dataclass(frozen=True, slots=True)
class Source:
    """A printed work, or an honest statement that there is none."""

    key: str
    citation: str
    kind: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class NameRow:
    """One spelling of one substance."""

    name: str
    formula: str
    isomer: str
    kind: str
    cas: str
    source: str
    note: str = ""


class _Valued:
    """The part all rows that carry a number have in common."""

    __slots__ = ()

    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys into the table of sources."""
        return tuple(part.strip() for part in self.source.split(";"))

    @property
    def as_quantity(self) -> Quantity:
        """The number with its unit, uncertainty and sources."""
        from redoxlib.quantity import Quantity

        return Quantity(self.value, self.unit, self.uncertainty, self.sources, self.basis)


class _InFamilies(_Valued):
    """A valued row that names the thermochemical networks it fits, separated by semicolons."""

    __slots__ = ()

    family: str

    @property
    def families(self) -> frozenset[str]:
        """Networks the value fits; one reaction should find one family common to all its species."""
        return frozenset(self.family.split(";"))


@dataclass(frozen=True, slots=True)
class FormationRow(_InFamilies):
    """One standard property of one species at 298.15 K and 1 bar.

    ``property`` is ``dfH`` or ``dfG`` [kJ/mol], ``S`` or ``Cp`` [J/(mol K)].  Aqueous species
    refer to the ideal 1 mol/kg solution with H+(aq) zero in all four.
    """

    species: str
    property: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str
    locator: str
    chosen: bool
    family: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class CoupleRow(_Valued):
    """One published potential, formal potential [V vs SHE] or temperature coefficient [mV/K]."""

    couple: str
    half_reaction: str
    medium: str
    quantity: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str
    locator: str
    chosen: bool
    conditions: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class OxidantRow:
    """One oxidant the comparison knows."""

    key: str
    name: str
    formula: str
    cas: str
    kind: str
    source: str
    note: str = ""

    def __str__(self) -> str:
        return self.key


@dataclass(frozen=True, slots=True)
class OxidantReactionRow:
    """What an oxidant does within a pH range, and how the bottle gives the active species."""

    oxidant: str
    ph_min: float
    ph_max: float
    half_reaction: str
    active: str
    from_bottle: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class BottleRow(_Valued):
    """One fact about one commercial strength; no interpolation between bottles."""

    bottle: str
    label: str
    solute: str
    fact: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class SolutionRow(_Valued):
    """One point of a property of a solution; ``family`` keeps heats of one origin together."""

    solute: str
    quantity: str
    mass_fraction: float | None
    temperature_C: float | None  # noqa: N815 - the unit is part of the column name
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str
    note: str = ""
    family: str = ""
    locator: str = ""
    moles_water: float | None = None


@dataclass(frozen=True, slots=True)
class HazardRow:
    """One GHS statement of one substance; code ``none`` means published as not classified.

    A row that is not chosen is in print, or was, and is not used: a source of higher rank says otherwise.
    """

    substance: str
    formula: str
    cas: str
    code: str
    conditions: str
    source: str
    confidence: str
    chosen: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class StatementRow:
    """What a hazard statement of the GHS says of a substance: its class and category, in words."""

    code: str
    hazard: str
    source: str


@dataclass(frozen=True, slots=True)
class OwnRuleRow:
    """A rule of one's own for the gate: which species must meet, under which conditions, and what it says.

    ``meets`` must all be in the pot, of ``any_of`` at least one; both are separated by semicolons.  An
    empty condition does not matter.  ``citation`` is filled in when the table is read.
    """

    rule: str
    severity: str
    meets: str
    any_of: str
    ph_below: float | None
    ph_above: float | None
    temperature_above_C: float | None  # noqa: N815 - a unit is spelt as it is
    strength_above: float | None
    concentration_above_mol_L: float | None  # noqa: N815
    amount_above_mol: float | None
    vessel: str
    text: str
    safer: str
    source: str
    citation: str = ""


@dataclass(frozen=True, slots=True)
class LimitRow(_Valued):
    """One exposure limit."""

    substance: str
    formula: str
    limit: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class RestrictedRow:
    """A strength above which the public may not hold a substance somewhere."""

    substance: str
    formula: str
    strength_w_w: float
    jurisdiction: str
    instrument: str
    date_read: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class RateRow(_Valued):
    """One rate constant, or a bound on it from one side (``direction``)."""

    oxidant_species: str
    reductant_species: str
    rate_law: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    temperature_C: float | None  # noqa: N815 - the unit is part of the column name
    ph_min: float | None
    ph_max: float | None
    direction: str
    source: str
    note: str = ""
    locator: str = ""
    ionic_strength: float | None = None


@dataclass(frozen=True, slots=True)
class KineticsRow:
    """A sourced verdict in words, used where no rate constant is known."""

    oxidant: str
    reductant: str
    ph_min: float | None
    ph_max: float | None
    verdict: str
    conditions: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class EquilibriumRow(_Valued):
    """One equilibrium constant with its ionic strength and temperature."""

    name: str
    equilibrium: str
    quantity: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    temperature_C: float | None  # noqa: N815 - the unit is part of the column name
    ionic_strength: float | None
    source: str
    note: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class FormRow:
    """One form (protonated, hydroxide, ...) a species takes at some pH; forms of a family compete.

    ``competes`` is 0 for a form people write but that is not really there in water, such as S2-.
    """

    family: str
    species: str
    competes: bool
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class LiquidRow(_Valued):
    """One physical property of a liquid, solid or gas that a job isolates."""

    species: str
    property: str
    value: float
    unit: str
    uncertainty: float | None
    basis: str
    temperature_C: float | None  # noqa: N815 - the unit is part of the column name
    source: str
    note: str = ""


_TEXT = Column(Kind.TEXT)
_WORD = Column(Kind.WORD)
_NOTE = Column(Kind.TEXT, optional=True)
_NUMBER = Column(Kind.NUMBER)
_MAYBE = Column(Kind.MAYBE)
_EXTRA = Column(Kind.MAYBE, optional=True)
_SOURCE = Column(Kind.SOURCE)
_FLAG = Column(Kind.FLAG)
_VALUE = {
    "value": _NUMBER,
    "unit": _WORD,
    "uncertainty": _NUMBER,
    "basis": Column(Kind.WORD, BASES),
    "source": _SOURCE,
}


def _words(*allowed: str) -> Column:
    return Column(Kind.WORD, frozenset(allowed))


UNITS: Mapping[str, str] = MappingProxyType(
    {
        "dfH": "kJ/mol",
        "dfG": "kJ/mol",
        "S": "J/(mol K)",
        "Cp": "J/(mol K)",
        "E0": "V",
        "E0_formal": "V",
        "dEdT": "mV/K",
    }
)
"""The only unit each quantity of formation.csv and couples.csv may be written in."""

TABLES: Mapping[str, TableSpec] = MappingProxyType(
    {
        "sources": TableSpec(
            "sources.csv",
            Source,
            {"key": _WORD, "citation": _WORD, "kind": Column(Kind.WORD, SOURCE_KINDS), "note": _NOTE},
            unique=("key",),
        ),
        "names": TableSpec(
            "names.csv",
            NameRow,
            {
                "name": _WORD,
                "formula": Column(Kind.SPECIES),
                "isomer": _TEXT,
                "kind": _words("systematic", "common", "trade", "structure"),
                "cas": _TEXT,
                "source": _SOURCE,
                "note": _NOTE,
            },
            unique=("name",),
        ),
        "formation": TableSpec(
            "formation.csv",
            FormationRow,
            {
                "species": Column(Kind.SPECIES),
                "property": _words("dfH", "dfG", "S", "Cp"),
                **_VALUE,
                "locator": _TEXT,
                "chosen": _FLAG,
                "family": _WORD,
                "note": _NOTE,
            },
            unique=("species", "property", "source", "value"),
            chosen=("species", "property"),
        ),
        "forms": TableSpec(
            "forms.csv",
            FormRow,
            {
                "family": _WORD,
                "species": Column(Kind.SPECIES),
                "competes": _FLAG,
                "source": _SOURCE,
                "note": _NOTE,
            },
            unique=("species",),
        ),
        "couples": TableSpec(
            "couples.csv",
            CoupleRow,
            {
                "couple": _WORD,
                "half_reaction": Column(Kind.EQUATION),
                "medium": _words("acid", "base", "any"),
                "quantity": _words("E0", "E0_formal", "dEdT"),
                **_VALUE,
                "locator": _TEXT,
                "chosen": _FLAG,
                "conditions": _TEXT,
                "note": _NOTE,
            },
            unique=("couple", "quantity", "source", "value", "conditions"),
            chosen=("couple", "quantity", "conditions"),
        ),
        "oxidants": TableSpec(
            "oxidants.csv",
            OxidantRow,
            {
                "key": _WORD,
                "name": _WORD,
                "formula": _TEXT,
                "cas": _TEXT,
                "kind": _words("solution", "solid", "gas", "electricity"),
                "source": _SOURCE,
                "note": _NOTE,
            },
            unique=("key",),
        ),
        "oxidant_reactions": TableSpec(
            "oxidant_reactions.csv",
            OxidantReactionRow,
            {
                "oxidant": _WORD,
                "ph_min": _NUMBER,
                "ph_max": _NUMBER,
                "half_reaction": _TEXT,
                "active": _TEXT,
                "from_bottle": _TEXT,
                "source": _SOURCE,
                "note": _NOTE,
            },
        ),
        "bottles": TableSpec(
            "bottles.csv",
            BottleRow,
            {
                "bottle": _WORD,
                "label": _WORD,
                "solute": _WORD,
                "fact": _WORD,
                **_VALUE,
                "note": _NOTE,
            },
            unique=("bottle", "fact"),
        ),
        "solutions": TableSpec(
            "solutions.csv",
            SolutionRow,
            {
                "solute": _WORD,
                "quantity": _WORD,
                "mass_fraction": _MAYBE,
                "temperature_C": _MAYBE,
                **_VALUE,
                "note": _NOTE,
                "family": _NOTE,
                "locator": _NOTE,
                "moles_water": _EXTRA,
            },
        ),
        "hazards": TableSpec(
            "hazards.csv",
            HazardRow,
            {
                "substance": _WORD,
                "formula": _TEXT,
                "cas": _TEXT,
                "code": _WORD,
                "conditions": _TEXT,
                "source": _SOURCE,
                "confidence": _TEXT,
                "chosen": _FLAG,
                "note": _NOTE,
            },
        ),
        "own_rules": TableSpec(
            "own_rules.csv",  # never shipped: the gate's own rules are in gate_rules.csv and in code
            OwnRuleRow,
            {
                "rule": _WORD,
                "severity": _words("stop", "caution"),
                "meets": _TEXT,
                "any_of": _TEXT,
                "ph_below": _MAYBE,
                "ph_above": _MAYBE,
                "temperature_above_C": _MAYBE,
                "strength_above": _MAYBE,
                "concentration_above_mol_L": _MAYBE,
                "amount_above_mol": _MAYBE,
                "vessel": Column(Kind.TEXT, frozenset({"", "open", "closed"})),
                "text": _WORD,
                "safer": _WORD,
                "source": _SOURCE,
                "citation": _NOTE,
            },
            unique=("rule",),
        ),
        "limits": TableSpec(
            "limits.csv",
            LimitRow,
            {"substance": _WORD, "formula": _TEXT, "limit": _WORD, **_VALUE, "note": _NOTE},
        ),
        "statements": TableSpec(
            "statements.csv",
            StatementRow,
            {"code": _WORD, "hazard": _WORD, "source": _SOURCE},
            unique=("code",),
        ),
        "restricted": TableSpec(
            "restricted.csv",
            RestrictedRow,
            {
                "substance": _WORD,
                "formula": _TEXT,
                "strength_w_w": _NUMBER,
                "jurisdiction": _WORD,
                "instrument": _WORD,
                "date_read": _WORD,
                "source": _SOURCE,
                "note": _NOTE,
            },
        ),
        "rates": TableSpec(
            "rates.csv",
            RateRow,
            {
                "oxidant_species": _WORD,
                "reductant_species": _WORD,
                "rate_law": _WORD,
                **_VALUE,
                "temperature_C": _MAYBE,
                "ph_min": _MAYBE,
                "ph_max": _MAYBE,
                "direction": _words("exact", "lower", "upper"),
                # A bound has no error bar of its own.
                "uncertainty": _MAYBE,
                "note": _NOTE,
                "locator": _NOTE,
                "ionic_strength": _EXTRA,
            },
        ),
        "kinetics": TableSpec(
            "kinetics.csv",
            KineticsRow,
            {
                "oxidant": _WORD,
                "reductant": _WORD,
                "ph_min": _MAYBE,
                "ph_max": _MAYBE,
                "verdict": _words("fast", "slow", "inert", "unknown"),
                "conditions": _TEXT,
                "source": _SOURCE,
                "note": _NOTE,
            },
        ),
        "liquids": TableSpec(
            "liquids.csv",
            LiquidRow,
            {
                "species": Column(Kind.SPECIES),
                "property": _WORD,
                **_VALUE,
                "temperature_C": _MAYBE,
                "note": _NOTE,
            },
        ),
        "equilibria": TableSpec(
            "equilibria.csv",
            EquilibriumRow,
            {
                "name": _WORD,
                "equilibrium": _WORD,
                "quantity": _WORD,
                **_VALUE,
                "temperature_C": _MAYBE,
                "ionic_strength": _MAYBE,
                "note": _NOTE,
                "locator": _NOTE,
            },
        ),
    }
)
"""Every table by the name of its attribute on ``Tables``."""
