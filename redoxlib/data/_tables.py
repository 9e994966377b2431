"""The tables as values: read on first use, kept, and never changed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, TypeVar

from redoxlib.data import _load
from redoxlib.data._schema import (
    TABLES,
    BottleRow,
    CoupleRow,
    EquilibriumRow,
    FormationRow,
    FormRow,
    HazardRow,
    KineticsRow,
    LimitRow,
    LiquidRow,
    NameRow,
    OwnRuleRow,
    OxidantReactionRow,
    OxidantRow,
    RateRow,
    RestrictedRow,
    SolutionRow,
    Source,
    StatementRow,
)
from redoxlib.errors import MissingDataError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.notation import Species
    from redoxlib.quantity import Quantity

_Row = TypeVar("_Row")
_ELECTRONS = re.compile(r"(?:^|\+ )(?:([0-9]+) )?e\^-")


@dataclass(frozen=True, slots=True)
class Couple:
    """One half-reaction, written as a reduction, and all its published values.

    ``rows`` holds every value in file order, the chosen ones marked.
    """

    key: str
    half_reaction: str
    medium: str
    rows: tuple[CoupleRow, ...]

    @property
    def electrons(self) -> int:
        """Electrons on the left of the half-reaction as written."""
        found = _ELECTRONS.search(self.half_reaction.partition("->")[0])
        return int(found.group(1) or 1) if found else 0

    def row(self, quantity: str = "E0") -> CoupleRow:
        """Return the chosen row of ``E0`` [V], ``E0_formal`` [V] or ``dEdT`` [mV/K].

        Raises
        ------
        MissingDataError
            If the couple has no such value.
        """
        for row in self.rows:
            if row.quantity == quantity and row.chosen:
                return row
        raise MissingDataError(
            f"no {quantity} for the couple {self.key}; looked in couples.csv",
            what=f"{quantity} of {self.key}",
            looked_in=("couples.csv",),
        )

    @property
    def chosen(self) -> Quantity:
        """The chosen standard potential [V vs SHE], or the formal one where only that is published."""
        standard = [row for row in self.rows if row.quantity == "E0" and row.chosen]
        return (standard[0] if standard else self.row("E0_formal")).as_quantity


class Tables:
    """Every table, each read and checked on first use.

    Parameters
    ----------
    own : mapping of str to rows, optional
        A user's own rows by table name, see ``with_rows``.
    """

    def __init__(self, own: Mapping[str, tuple[Mapping[str, object], ...]] | None = None) -> None:
        self._own: Mapping[str, tuple[Mapping[str, object], ...]] = own or {}
        self._made: dict[str, Any] = {}

    def __repr__(self) -> str:
        own = {name: len(rows) for name, rows in self._own.items()}
        return f"Tables(own={own})" if own else "Tables()"

    def with_rows(self, **rows: Iterable[Mapping[str, object]]) -> Tables:
        """Return tables with a user's own rows put before the shipped ones.

        Parameters
        ----------
        **rows : iterable of mappings
            By table name; each mapping has the columns of that table, the source included.  Own
            rows of a table with a choice are chosen over the shipped ones unless ``chosen`` says
            otherwise; a row of ``sources`` declares a source of one's own.

        Raises
        ------
        TableError
            On first use of the table, with every fault of every row.
        ValueError
            If no table has that name.
        """
        unknown = sorted(set(rows) - set(TABLES))
        if unknown:
            raise ValueError(f"no table called {unknown[0]}; there are {', '.join(TABLES)}")
        own = dict(self._own)
        for name, given in rows.items():
            marked = tuple({"chosen": 1, **row} if TABLES[name].chosen else dict(row) for row in given)
            own[name] = marked + own.get(name, ())
        return Tables(MappingProxyType(own))

    def check(self) -> None:
        """Read every table and check it through and through, chemistry included.

        Raises
        ------
        TableError
            With every fault of every table.
        """
        faults: list[str] = []
        known = frozenset(self.sources)
        for name, spec in TABLES.items():
            if name == "sources":
                continue
            raw, found = _load.read(spec)
            faults += found + _load.convert(raw, known)[1] + _load.check_chemistry(raw)
        _load.raise_faults(faults)

    def _once(self, name: str, arrange: Callable[[list[Any]], _Row]) -> _Row:
        if name not in self._made:
            self._made[name] = arrange(self._rows(name))
        made: _Row = self._made[name]
        return made

    def _rows(self, name: str) -> list[Any]:
        known = frozenset() if name == "sources" else frozenset(self.sources)
        spec = TABLES[name]
        own = self._own.get(name)
        extra = [_load.raw_rows(spec, own, f"own {name}")] if own else []
        rows = _load.load(name, known, *extra)
        return _one_choice(rows, spec.chosen) if own and spec.chosen else rows

    @property
    def sources(self) -> Mapping[str, Source]:
        """Printed works by key."""
        return self._once("sources", lambda rows: _by(rows, "key"))

    @property
    def names(self) -> Mapping[str, NameRow]:
        """Substances by any spelling."""
        return self._once("names", lambda rows: _by(rows, "name"))

    @property
    def formation(self) -> Mapping[str, Mapping[str, tuple[FormationRow, ...]]]:
        """By species, then by property: every published row, the chosen one first."""
        return self._once("formation", _by_species_and_property)

    @property
    def formation_keys(self) -> Mapping[Species, str]:
        """The spelling used in ``formation`` by species, so that another spelling finds it too."""
        if "formation_keys" not in self._made:
            from redoxlib.notation import Species

            keys = {Species.parse(text): text for text in self.formation}
            self._made["formation_keys"] = MappingProxyType(keys)
        made: Mapping[Species, str] = self._made["formation_keys"]
        return made

    @property
    def forms(self) -> tuple[FormRow, ...]:
        """Forms of a species that compete at a pH."""
        return self._once("forms", tuple)

    @property
    def couples(self) -> Mapping[str, Couple]:
        """Half-reactions by key."""
        return self._once("couples", _couples)

    @property
    def oxidants(self) -> Mapping[str, OxidantRow]:
        """Oxidants by key."""
        return self._once("oxidants", lambda rows: _by(rows, "key"))

    @property
    def oxidant_reactions(self) -> Mapping[str, tuple[OxidantReactionRow, ...]]:
        """By oxidant key, in order of pH as written."""
        return self._once("oxidant_reactions", lambda rows: _grouped(rows, "oxidant"))

    @property
    def bottles(self) -> Mapping[str, tuple[BottleRow, ...]]:
        """Facts about each bottle by its key."""
        return self._once("bottles", lambda rows: _grouped(rows, "bottle"))

    @property
    def solutions(self) -> Mapping[str, tuple[SolutionRow, ...]]:
        """Points of property curves by solute."""
        return self._once("solutions", lambda rows: _grouped(rows, "solute"))

    @property
    def hazards(self) -> Mapping[str, tuple[HazardRow, ...]]:
        """GHS statements by formula (by name where a substance has no formula)."""
        return self._once("hazards", lambda rows: _grouped(rows, "formula", "substance"))

    @property
    def own_rules(self) -> tuple[OwnRuleRow, ...]:
        """A user's own rules for the gate, each with its citation; none are shipped."""
        return self._once("own_rules", self._cited)

    def _cited(self, rows: list[OwnRuleRow]) -> tuple[OwnRuleRow, ...]:
        from dataclasses import replace

        cited = (
            ("; ".join(self.sources[key.strip()].citation for key in row.source.split(";")), row)
            for row in rows
        )
        return tuple(replace(row, citation=citation) for citation, row in cited)

    @property
    def limits(self) -> Mapping[str, tuple[LimitRow, ...]]:
        """Exposure limits by formula (by name where a substance has no formula)."""
        return self._once("limits", lambda rows: _grouped(rows, "formula", "substance"))

    @property
    def restricted(self) -> Mapping[str, tuple[RestrictedRow, ...]]:
        """Restricted strengths by formula."""
        return self._once("restricted", lambda rows: _grouped(rows, "formula", "substance"))

    @property
    def statements(self) -> Mapping[str, StatementRow]:
        """GHS hazard statements by code; a letter behind the code (H360FD) narrows the same class."""
        return self._once("statements", lambda rows: MappingProxyType({row.code: row for row in rows}))

    @property
    def liquids(self) -> tuple[LiquidRow, ...]:
        """Densities, boiling points, vapour pressures and solubilities of what a job isolates."""
        return self._once("liquids", tuple)

    @property
    def rates(self) -> tuple[RateRow, ...]:
        """Rate constants and bounds."""
        return self._once("rates", tuple)

    @property
    def kinetics(self) -> tuple[KineticsRow, ...]:
        """Verdicts in words where no rate constant is known."""
        return self._once("kinetics", tuple)

    @property
    def equilibria(self) -> Mapping[str, tuple[EquilibriumRow, ...]]:
        """Equilibrium constants by name."""
        return self._once("equilibria", lambda rows: _grouped(rows, "name"))


def _by(rows: Iterable[_Row], field: str) -> Mapping[str, _Row]:
    found: dict[str, _Row] = {}
    for row in rows:
        found.setdefault(getattr(row, field), row)  # own rows come first and win
    return MappingProxyType(found)


def _grouped(rows: Iterable[_Row], *fields: str) -> Mapping[str, tuple[_Row, ...]]:
    """Group by the first of *fields* that is not empty."""
    groups: dict[str, list[_Row]] = {}
    for row in rows:
        key = next((text for field in fields if (text := getattr(row, field))), "")
        groups.setdefault(key, []).append(row)
    return MappingProxyType({key: tuple(group) for key, group in groups.items()})


def _by_species_and_property(
    rows: list[FormationRow],
) -> Mapping[str, Mapping[str, tuple[FormationRow, ...]]]:
    found: dict[str, dict[str, list[FormationRow]]] = {}
    for row in rows:
        group = found.setdefault(row.species, {}).setdefault(row.property, [])
        group.insert(0, row) if row.chosen else group.append(row)
    return MappingProxyType(
        {
            species: MappingProxyType({name: tuple(group) for name, group in properties.items()})
            for species, properties in found.items()
        }
    )


def _couples(rows: list[CoupleRow]) -> Mapping[str, Couple]:
    return MappingProxyType(
        {
            key: Couple(key, group[0].half_reaction, group[0].medium, group)
            for key, group in _grouped(rows, "couple").items()
        }
    )


def _one_choice(rows: list[Any], fields: tuple[str, ...]) -> list[Any]:
    """Leave only the first chosen row of each combination chosen: own rows come first."""
    from dataclasses import replace

    taken: set[tuple[str, ...]] = set()
    kept: list[Any] = []
    for row in rows:
        key = tuple(getattr(row, field) for field in fields)
        kept.append(replace(row, chosen=False) if row.chosen and key in taken else row)
        if row.chosen:
            taken.add(key)
    return kept
