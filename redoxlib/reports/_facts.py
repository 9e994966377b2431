"""Table rows as documents: one species, or the list of oxidants.

May import: safety and below, this package.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from redoxlib._facts import SpeciesFacts
from redoxlib.data import BottleRow, EquilibriumRow, RateRow, SolutionRow, Tables, shipped
from redoxlib.reports._document import Block, Document, Heading, Note, Row, Table
from redoxlib.reports._figures import number, source_lines, sources_block
from redoxlib.safety import Kind, kind_source, kinds_of, reviews

__all__ = ["oxidants_document", "species_document"]


def species_document(facts: SpeciesFacts) -> Document:
    """Write every value the tables hold for a species; an asterisk marks the one in use."""
    held = (*_tables(facts), *_reacting(facts), *_holding(facts))
    if not held:
        held = (Note("The tables know the name and hold no number: add rows with their source to your own."),)
    gate, judged = _gate(facts)
    blocks = (*_names(facts), *held, *gate)
    return Document(
        (
            Heading(f"{facts.species}: what the tables hold", 1),
            *blocks,
            *sources_block((*facts.sources, *judged)),
        )
    )


def _gate(facts: SpeciesFacts) -> tuple[tuple[Block, ...], tuple[str, ...]]:
    """What the gate takes the species for, what was reviewed on it, and the sources of both."""
    kinds = kinds_of(facts.species)
    if not kinds or Kind.UNKNOWN in kinds:
        return (), ()
    source = kind_source(facts.species)
    blocks: list[Block] = [
        Heading("Before the gate"),
        Note(f"Taken for: {', '.join(sorted(str(kind) for kind in kinds))} [{source}]."),
    ]
    found = [review for review in reviews() if review.feed in kinds]
    if found:
        blocks.append(
            _table(
                ("feed", "at", "oxidants reviewed on it", "source", "note"),
                (
                    (
                        str(each.feed),
                        _window(each.ph_min, each.ph_max),
                        ", ".join(sorted(str(kind) for kind in each.oxidants)),
                        f"[{';'.join(each.sources)}]",
                        each.note,
                    )
                    for each in found
                ),
            )
        )
    return tuple(blocks), (source, *(key for each in found for key in each.sources))


def _names(facts: SpeciesFacts) -> Iterator[Block]:
    if facts.names:
        spelled = dict.fromkeys(row.name for row in facts.names)
        numbers = dict.fromkeys(f"CAS {row.cas}" for row in facts.names if row.cas)
        yield Note(f"Also read as: {', '.join((*spelled, *numbers))}.")


def _reacting(facts: SpeciesFacts) -> Iterator[Block]:
    if facts.equilibria:
        yield Heading("Equilibria")
        yield _table(
            ("equilibrium", "quantity", "value", "unit", "at", "source", "where, note"),
            (
                (
                    row.equilibrium,
                    row.quantity,
                    *_measured(row),
                    _joined(_at(row.temperature_C), _given("I", row.ionic_strength)),
                    f"[{row.source}]",
                    _joined(row.locator, row.note),
                )
                for row in facts.equilibria
            ),
        )
    if facts.rates:
        yield Heading("Rates")
        yield _table(
            ("rate law", "direction", "value", "unit", "at", "source", "where, note"),
            (
                (
                    row.rate_law or f"{row.oxidant_species} + {row.reductant_species}",
                    row.direction,
                    *_measured(row),
                    _joined(_at(row.temperature_C), _window(row.ph_min, row.ph_max)),
                    f"[{row.source}]",
                    _joined(row.locator, row.note),
                )
                for row in facts.rates
            ),
        )
    if facts.kinetics:
        yield Heading("Fast or slow, where no rate constant is known")
        yield _table(
            ("oxidant", "reductant", "verdict", "at", "source", "note"),
            (
                (
                    row.oxidant,
                    row.reductant,
                    row.verdict,
                    _joined(_window(row.ph_min, row.ph_max), row.conditions),
                    f"[{row.source}]",
                    row.note,
                )
                for row in facts.kinetics
            ),
            right=None,
        )
    if facts.forms or facts.reactions:
        yield Heading("Forms and what it does as an oxidant")
        forms = ((row.family, row.species, "", f"[{row.source}]", row.note) for row in facts.forms)
        acts = (
            (row.oxidant, row.half_reaction, _window(row.ph_min, row.ph_max), f"[{row.source}]", row.note)
            for row in facts.reactions
        )
        yield _table(("of", "form, half-reaction", "at", "source", "note"), (*forms, *acts), right=None)


def _holding(facts: SpeciesFacts) -> Iterator[Block]:
    if facts.bottles:
        yield Heading("Bottles")
        yield _table(
            ("bottle", "fact", "value", "unit", "source", "note"),
            ((row.label, row.fact, *_measured(row), f"[{row.source}]", row.note) for row in facts.bottles),
        )
    if facts.solutions:
        yield Heading("Solutions")
        yield _table(
            ("quantity", "at", "value", "unit", "source", "where, note"),
            (
                (
                    row.quantity,
                    _joined(
                        _given("w", row.mass_fraction),
                        _given("mol H2O", row.moles_water),
                        _at(row.temperature_C),
                    ),
                    *_measured(row),
                    f"[{row.source}]",
                    _joined(row.locator, row.note),
                )
                for row in facts.solutions
            ),
        )
    if facts.restricted:
        yield Heading("Restricted strengths")
        yield _table(
            ("substance", "above, % w/w", "where", "instrument", "source", "note"),
            (
                (
                    row.substance,
                    number(row.strength_w_w),
                    row.jurisdiction,
                    row.instrument,
                    f"[{row.source}]",
                    _joined(f"read {row.date_read}", row.note),
                )
                for row in facts.restricted
            ),
            right=1,
        )


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]], right: int | None = 2) -> Table:
    """A table whose column ``right`` holds numbers."""
    return Table(
        head, tuple(Row(cells) for cells in rows), right=frozenset(() if right is None else (right,))
    )


def _measured(row: EquilibriumRow | RateRow | BottleRow | SolutionRow) -> tuple[str, str]:
    return _value(row.value, row.uncertainty), row.unit


def _at(celsius: float | None) -> str:
    return "" if celsius is None else f"{number(celsius)} C"


def _given(name: str, value: float | None) -> str:
    return "" if value is None else f"{name} {number(value)}"


def _window(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return ""
    return f"pH {'' if low is None else number(low)} to {'' if high is None else number(high)}"


def _tables(facts: SpeciesFacts) -> Iterator[Block]:
    if facts.formation:
        yield Heading("Formation, 298.15 K and 1 bar")
        yield Table(
            ("", "species", "property", "value", "unit", "source", "basis, where, note"),
            tuple(
                Row(
                    (
                        _mark(row.chosen),
                        row.species,
                        row.property,
                        _value(row.value, row.uncertainty),
                        row.unit,
                        f"[{row.source}]",
                        _joined(row.basis, row.locator, row.note),
                    )
                )
                for row in facts.formation
            ),
            right=frozenset({3}),
        )
    if facts.couples:
        yield Heading("Potentials against the standard hydrogen electrode")
        yield Table(
            ("", "couple", "quantity", "value", "unit", "source", "basis, conditions, where, note"),
            tuple(
                Row(
                    (
                        _mark(row.chosen),
                        row.couple,
                        row.quantity,
                        _value(row.value, row.uncertainty),
                        row.unit,
                        f"[{row.source}]",
                        _joined(row.basis, row.medium, row.conditions, row.locator, row.note),
                    )
                )
                for row in facts.couples
            ),
            right=frozenset({3}),
        )
    if facts.formation or facts.couples:
        yield Note(
            "* the value in use. The basis says what the figure after ± is; docs/data.md explains the words."
        )
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
            ("", "substance", "code", "conditions", "source", "confidence, note"),
            tuple(
                Row(
                    (
                        _mark(row.chosen),
                        row.substance,
                        row.code,
                        row.conditions,
                        f"[{row.source}]",
                        _joined(row.confidence, row.note),
                    )
                )
                for row in facts.hazards
            ),
        )
    if facts.limits:
        yield Heading("Exposure limits")
        yield Table(
            ("substance", "limit", "value", "unit", "source", "note"),
            tuple(
                Row((row.substance, row.limit, f"{row.value:.10g}", row.unit, f"[{row.source}]", row.note))
                for row in facts.limits
            ),
            right=frozenset({2}),
        )


def _mark(chosen: bool) -> str:
    return "*" if chosen else ""


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _value(value: float, uncertainty: float | None) -> str:
    """The number as the table has it, not rounded: it is to be found again in the source."""
    doubt = "" if uncertainty is None else f" ± {uncertainty:g}"
    return f"{value:.10g}{doubt}"


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
