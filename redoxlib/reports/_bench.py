"""A bench plan, what came of it, and what is wrong with a written recipe, as documents.

May import: bench and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.bench import Audit, BenchPlan, Entry, Reconciliation, Step, Stream
from redoxlib.reports._comparison import job_facts
from redoxlib.reports._document import Block, Bullets, Caution, Document, Facts, Heading, Note, Row, Table
from redoxlib.reports._figures import settled, shown, sources_block
from redoxlib.reports._route import assumed, charge_table, equation_facts, route_sources
from redoxlib.safety import DEFERRAL

__all__ = ["audit_document", "plan_document", "reconciliation_document"]

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
    for title, steps in (
        ("Before anything is opened", plan.before),
        ("Measure bottles that age", plan.assays),
        ("Order of addition", plan.steps),
        ("Getting the product out", plan.isolation),
        ("Quench", plan.quench_steps),
        ("Keeping the product", plan.keeping),
        ("How long things may stand", plan.shelf),
    ):
        if steps:
            blocks += [Heading(title), _steps(steps)]
    if plan.streams:
        blocks.append(Heading("Waste"))
        for stream in plan.streams:
            blocks += [Heading(stream.name.replace("_", " "), 3), Facts(_stream(stream))]
    blocks += _numbers(plan)
    keys = [*route_sources(route), *(key for entry in plan.entries.values() for key in entry.sources)]
    blocks += sources_block(dict.fromkeys(keys))
    blocks += [Heading("Before anything is weighed"), Note(DEFERRAL)]
    return Document(tuple(blocks))


def _steps(steps: tuple[Step, ...]) -> Bullets:
    return Bullets(tuple(f"{step.text} ({step.reason})" for step in steps), numbered=True)


def _stream(stream: Stream) -> tuple[tuple[str, str], ...]:
    pairs = (
        ("Holds", stream.holds),
        ("Mass", settled(stream.grams)),
        ("Hazards", ", ".join(stream.hazards)),
        ("Never with", ", ".join(stream.not_with)),
        ("Treatment", stream.treatment),
    )
    return tuple(pair for pair in pairs if pair[1])


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
    return Row((entry.key, entry.what, settled(entry.value)))


def reconciliation_document(result: Reconciliation) -> Document:
    """Write what came of a batch: percent of theory, what is missing, and what that can mean."""
    pairs = [
        ("Product", str(result.product)),
        ("Theory", f"{shown(result.theory)} of {result.of}" if result.of else shown(result.theory)),
        ("Yield", str(result.percent)),
        *((f"Found {name}", str(grams)) for name, grams in result.places),
        ("Accounted for", str(result.closure)),
        ("Not accounted for", str(result.unexplained)),
    ]
    remark: Block = Caution(result.remark) if result.flagged else Note(result.remark)
    return Document((Facts(tuple(pairs)), remark))


def audit_document(result: Audit) -> Document:
    """Write what a recipe amounts to and each finding, worst first."""
    pairs = [("Gate", result.decision)]
    if result.equation:
        pairs.append(("Equation", result.equation))
    pairs += [
        (f"Charged, {name}", f"{share:.3g} of what the equation asks for")
        for name, share in result.equivalents
    ]
    if result.limiting:
        pairs.append(("What limits", result.limiting))
    if result.excess is not None:
        pairs.append(("Oxidant left over", f"{100 * result.excess:.0f} % beyond what the rest can use"))
    for label, value in (
        ("Heat", result.heat_kj),
        ("Adiabatic rise", result.rise_k),
        ("Cooling the dosing asks for", result.dosing_w),
    ):
        if value is not None:
            pairs.append((label, settled(value)))
    blocks: list[Block] = [
        Heading("A written recipe, read line by line", 1),
        Facts(tuple(pairs)),
        Heading("Findings"),
    ]
    if result.findings:
        rows = tuple(Row((found.severity, found.what, found.why)) for found in result.findings)
        blocks.append(Table(("severity", "what", "why"), rows))
    else:
        blocks.append(Note("none: that is what was looked for and not found, not a promise that it is safe"))
    blocks += [Heading("Before anything is weighed"), Note(DEFERRAL)]
    return Document(tuple(blocks))
