"""Table rows that are about no substance: one rule of the gate, one hazard statement.

May import: safety and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from redoxlib._tiers import TIERS
from redoxlib.data import HazardRow, Tables, shipped
from redoxlib.reports._document import Block, Document, Heading, Note, Paragraph, Row, Table
from redoxlib.reports._figures import sources_block
from redoxlib.safety import Rule, rules

__all__ = ["looked_up", "looked_up_document", "plain_looked_up"]


def looked_up(text: str, tables: Tables | None = None) -> str:
    """What a text is the name of: ``rule``, ``statement``, or neither and then empty."""
    tables = tables or shipped()
    name = text.strip()
    if any(rule.id == name for rule in rules()):
        return "rule"
    return "statement" if name in tables.statements else ""


def looked_up_document(text: str, tables: Tables | None = None) -> Document:
    """Write a rule of the gate with its sources, or a hazard statement with the substances that carry it."""
    tables = tables or shipped()
    name = text.strip()
    if looked_up(name, tables) == "rule":
        return _rule_document(name, _rules(name))
    return _statement_document(name, tables)


def plain_looked_up(text: str, tables: Tables | None = None) -> dict[str, Any]:
    """The same as what JSON can hold."""
    tables = tables or shipped()
    name = text.strip()
    if looked_up(name, tables) == "rule":
        entries = _rules(name)
        return {
            "schema": "redoxlib/rule/1",
            "rule": name,
            "entries": [
                {
                    "severity": str(rule.severity),
                    "title": rule.title,
                    "text": rule.text,
                    "safer": rule.safer,
                    "sources": list(rule.sources),
                }
                for rule in entries
            ],
            "sources": _citations((key for rule in entries for key in rule.sources), tables),
        }
    statement, rows = tables.statements[name], _carriers(name, tables)
    return {
        "schema": "redoxlib/statement/1",
        "code": name,
        "hazard": statement.hazard,
        "tier": TIERS[name],
        "source": statement.source,
        "substances": [
            {
                "substance": row.substance,
                "formula": row.formula,
                "conditions": row.conditions,
                "chosen": bool(row.chosen),
                "source": row.source,
                "note": row.note,
            }
            for row in rows
        ],
        "sources": _citations((statement.source, *(row.source for row in rows)), tables),
    }


def _rules(name: str) -> tuple[Rule, ...]:
    return tuple(rule for rule in rules() if rule.id == name)


def _carriers(code: str, tables: Tables) -> tuple[HazardRow, ...]:
    return tuple(row for rows in tables.hazards.values() for row in rows if row.code == code)


def _citations(cells: Iterable[str], tables: Tables) -> dict[str, str]:
    keys = dict.fromkeys(key for cell in cells for key in (part.strip() for part in cell.split(";")) if key)
    return {key: tables.sources[key].citation for key in keys}


def _rule_document(name: str, entries: tuple[Rule, ...]) -> Document:
    blocks: list[Block] = [Heading(f"{name}: a rule of the gate", 1)]
    for rule in entries:
        blocks += [Heading(f"{rule.severity}: {rule.title}"), Paragraph(rule.text)]
        if rule.safer:
            blocks.append(Note(f"Safer: {rule.safer}."))
    return Document((*blocks, *sources_block(key for rule in entries for key in rule.sources)))


def _statement_document(code: str, tables: Tables) -> Document:
    statement, rows = tables.statements[code], _carriers(code, tables)
    blocks: list[Block] = [
        Heading(f"{code}: {statement.hazard}", 1),
        Note(
            f"Tier {TIERS[code]} where by-products are weighed; the wording is that of [{statement.source}]."
        ),
    ]
    if rows:
        blocks.append(
            Table(
                ("", "substance", "formula", "conditions", "source", "note"),
                tuple(
                    Row(
                        (
                            "*" if row.chosen else "",
                            row.substance,
                            row.formula,
                            row.conditions,
                            f"[{row.source}]",
                            row.note,
                        )
                    )
                    for row in rows
                ),
            )
        )
    else:
        blocks.append(Note("No substance of the tables carries it."))
    return Document((*blocks, *sources_block((statement.source, *(row.source for row in rows)))))
