"""Table rows as documents: one species, or the list of oxidants.

May import: data and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib._facts import SpeciesFacts
from redoxlib.data import Tables, shipped
from redoxlib.reports._document import Block, Document, Heading, Note, Row, Table
from redoxlib.reports._figures import number, source_lines, sources_block

__all__ = ["oxidants_document", "species_document"]


def species_document(facts: SpeciesFacts) -> Document:
    """Write every value the tables hold for a species; an asterisk marks the one in use."""
    return Document(
        (Heading(f"{facts.species}: what the tables hold", 1), *_tables(facts), *sources_block(facts.sources))
    )


def _tables(facts: SpeciesFacts) -> Iterator[Block]:
    if facts.formation:
        yield Heading("Formation, 298.15 K and 1 bar")
        yield Table(
            ("", "species", "property", "value", "unit", "source", "where, note"),
            tuple(
                Row(
                    (
                        _mark(row.chosen),
                        row.species,
                        row.property,
                        _value(row.value, row.uncertainty),
                        row.unit,
                        f"[{row.source}]",
                        _joined(row.locator, row.note),
                    )
                )
                for row in facts.formation
            ),
            right=frozenset({3}),
        )
    if facts.couples:
        yield Heading("Potentials against the standard hydrogen electrode")
        yield Table(
            ("", "couple", "quantity", "value", "unit", "source", "conditions, note"),
            tuple(
                Row(
                    (
                        _mark(row.chosen),
                        row.couple,
                        row.quantity,
                        _value(row.value, row.uncertainty),
                        row.unit,
                        f"[{row.source}]",
                        _joined(row.medium, row.conditions, row.note),
                    )
                )
                for row in facts.couples
            ),
            right=frozenset({3}),
        )
    if facts.formation or facts.couples:
        yield Note("* the value in use. The figure after ± is a standard uncertainty.")
    if facts.liquids:
        yield Heading("Physical properties")
        yield Table(
            ("species", "property", "value", "unit", "at", "source", "note"),
            tuple(
                Row(
                    (
                        row.species,
                        row.property,
                        _value(row.value, row.uncertainty),
                        row.unit,
                        "" if row.temperature_C is None else f"{number(row.temperature_C)} C",
                        f"[{row.source}]",
                        row.note,
                    )
                )
                for row in facts.liquids
            ),
            right=frozenset({2}),
        )
    if facts.hazards:
        yield Heading("Hazard statements")
        yield Table(
            ("substance", "code", "conditions", "source", "confidence"),
            tuple(
                Row((row.substance, row.code, row.conditions, f"[{row.source}]", row.confidence))
                for row in facts.hazards
            ),
        )
    if facts.limits:
        yield Heading("Exposure limits")
        yield Table(
            ("substance", "limit", "value", "unit", "source", "note"),
            tuple(
                Row((row.substance, row.limit, number(row.value), row.unit, f"[{row.source}]", row.note))
                for row in facts.limits
            ),
            right=frozenset({2}),
        )


def _mark(chosen: bool) -> str:
    return "*" if chosen else ""


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _value(value: float, uncertainty: float | None) -> str:
    from redoxlib.quantity import Quantity

    return str(Quantity(value, "1", uncertainty))


def oxidants_document(tables: Tables | None = None) -> Document:
    """List the oxidants the comparison knows, with what each does at which pH."""
    tables = tables or shipped()
    rows = []
    for row in tables.oxidants.values():
        reactions = tables.oxidant_reactions.get(row.key, ())
        windows = "; ".join(
            f"pH {max(-1.0, r.ph_min):g} to {min(15.0, r.ph_max):g}: {r.active}" for r in reactions
        )
        rows.append(Row((row.key, row.name, row.formula, row.kind, windows)))
    keys = [row.source for row in tables.oxidants.values()]
    keys += [r.source for group in tables.oxidant_reactions.values() for r in group]
    return Document(
        (
            Table(("key", "name", "formula", "held as", "acts as"), tuple(rows)),
            Note("Any of key, name or formula may be given to --oxidant."),
            Note(
                "Sources: "
                + ", ".join(dict.fromkeys(line.split("]")[0] + "]" for line in source_lines(keys)))
            ),
        )
    )
