"""A bench plan and what came of it as documents.

May import: bench and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.bench import BenchPlan, Entry, Reconciliation, Step
from redoxlib.quantity import Quantity, Unknown
from redoxlib.reports._comparison import job_facts
from redoxlib.reports._document import Block, Bullets, Caution, Document, Facts, Heading, Note, Row, Table
from redoxlib.reports._figures import number, shown, sources_block, with_unit
from redoxlib.reports._route import assumed, charge_table, equation_facts, route_sources
from redoxlib.safety import DEFERRAL

__all__ = ["plan_document", "reconciliation_document"]

_PARTS = (
    ("charge.", "Charge, number by number"),
    ("pot.", "Pot"),
    ("yield.", "Largest yield"),
    ("heat.", "Heat"),
    ("dose.", "Dosing"),
    ("gas.", "Gas"),
    ("anode.", "Electricity"),
    ("quench.", "What is left to destroy and to neutralise"),
)


def plan_document(plan: BenchPlan) -> Document:
    """Write a plan; each number stands with the key that ``redoxlib why`` explains."""
    route = plan.route
    made = "; ".join(str(part.conversion) for part in route.parts)
    blocks: list[Block] = [
        Heading(f"Plan: {made} with {route.oxidant.name}", 1),
        Facts(tuple(job_facts(route.job))),
    ]
    blocks.append(Heading("Equations"))
    for part in route.parts:
        blocks.append(Facts(tuple(equation_facts(part))))
    blocks.append(Heading("Charge"))
    blocks += [Caution(text) for text in plan.warnings]
    blocks.append(charge_table(route.charges))
    blocks.append(Facts((("What limits", f"{route.limiting} runs out first"),)))
    notes = assumed(route)
    if notes:
        blocks += [Heading("Assumed for this route"), Bullets(notes)]
    blocks.append(Heading("Order of addition"))
    blocks.append(_steps(plan.steps))
    if plan.quench_steps:
        blocks.append(Heading("Quench"))
        blocks.append(_steps(plan.quench_steps))
    blocks += _numbers(plan)
    keys = [*route_sources(route), *(key for entry in plan.entries.values() for key in entry.sources)]
    blocks += sources_block(dict.fromkeys(keys))
    blocks += [Heading("Before anything is weighed"), Note(DEFERRAL)]
    return Document(tuple(blocks))


def _steps(steps: tuple[Step, ...]) -> Bullets:
    return Bullets(tuple(f"{step.text} ({step.reason})" for step in steps), numbered=True)


def _numbers(plan: BenchPlan) -> Iterator[Block]:
    yield Heading("Every number and its key")
    rows = []
    shown_keys = set()
    for stem, _ in _PARTS:
        for key, entry in plan.entries.items():
            if key.startswith(stem) and key not in shown_keys:
                shown_keys.add(key)
                rows.append(_row(entry))
    rows += [_row(entry) for key, entry in plan.entries.items() if key not in shown_keys]
    yield Table(("key", "what", "value"), tuple(rows))
    yield Note("redoxlib why KEY JOB prints formula, inputs and sources of a number.")


def _row(entry: Entry) -> Row:
    return Row((entry.key, entry.what, _value(entry.value)))


def _value(value: Quantity | Unknown) -> str:
    if isinstance(value, Quantity) and not value.uncertainty:
        return with_unit(number(value.value), value.unit)
    return shown(value)


def reconciliation_document(result: Reconciliation) -> Document:
    """Write what came of a batch: percent of theory, what is missing, and what that can mean."""
    pairs = (
        ("Product", str(result.product)),
        ("Theory", shown(result.theory)),
        ("Yield", str(result.percent)),
        ("Not accounted for", str(result.unexplained)),
    )
    return Document((Facts(pairs), Note(result.remark)))
