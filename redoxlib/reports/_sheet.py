"""The sheet that goes to the bench: a plan with boxes to tick and room to write, to be printed.

May import: bench and below, this package.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from redoxlib.bench import BenchPlan, Entry, Step
from redoxlib.channels import tier_of
from redoxlib.data import shipped
from redoxlib.quantity import Quantity
from redoxlib.reports._comparison import job_facts
from redoxlib.reports._document import (
    BLANK,
    TICK,
    Blanks,
    Block,
    Bullets,
    Document,
    Facts,
    Formulas,
    Heading,
    Note,
    Row,
    Table,
)
from redoxlib.reports._figures import settled
from redoxlib.reports._plots import heat_picture, window_picture
from redoxlib.reports._route import assumed, charge_table
from redoxlib.routes import Charge, bare
from redoxlib.safety import DEFERRAL

__all__ = ["hazard_words", "sheet_document"]

_PARTS = {
    "Charge": r"charge\.(oxidant\.excess|acid\.H\.second\.used)|assay\.|pot\.g|ph\.|anode\.",
    "Standby quench": r"standby\.",
    "Heat and dosing": r"heat\.(rise|mtsr|boiling|class|td24|accumulation|decomposition\.O2)|dose\.|sim\.",
    "Gas and room": r"room\.|hood\.|gas\.|scrubber\.",
    "Getting the product out": r"distil\.|condenser\.|receiver\.|separate\.|dry\.|crystal\.|crop\.|wash\.",
    "Quench": r"quench\.(?!heat)",
    "Keeping the product": r"keep\.",
}
"""Which numbers of the plan belong to which part of the sheet; the plan itself has them all."""

_HEAT = re.compile(r"(?:heat|quench|standby)\..*kJ$")
"""What the ranking needed and the bench does not."""


def sheet_document(plan: BenchPlan) -> Document:
    """Write the sheet of a plan.

    What cannot be planned has no plan, and so no sheet.  Cautions stand with the quantity they are about,
    each figure carries the number of its source, and the deferral to local rules comes once, at the end.
    """
    return Document(tuple(_Sheet(plan).blocks()))


def hazard_words(code: str) -> str:
    """The class and category that a GHS hazard statement stands for, with its code.

    A letter behind the digits (H360FD) narrows the same class.  An unknown code is given as it is.
    """
    row = shipped().statements.get(re.sub(r"(?<=\d)[A-Za-z]+$", "", code))
    return f"{row.hazard} ({code})" if row is not None else code


def _strength(charge: Charge) -> float | None:
    """Mass fraction of a bottle of solution; None where the substance itself is charged."""
    fraction = charge.bottle.mass_fraction if charge.bottle is not None else None
    dissolved = charge.bottle is not None and charge.bottle.form == "solution"
    return fraction.value if dissolved and isinstance(fraction, Quantity) else None


class _Sheet:
    def __init__(self, plan: BenchPlan) -> None:
        self.plan = plan
        self.route = plan.route
        self.sources: dict[str, int] = {}

    def blocks(self) -> Iterator[Block]:
        plan = self.plan
        made = "; ".join(str(part.conversion) for part in self.route.parts)
        yield Heading(f"Bench sheet: {made} with {self.route.oxidant.name}", 1)
        yield Blanks(("Date and batch", "Worked by", "Second person", "Site rules and permit seen"))
        yield Facts(tuple(self._job()))
        yield Heading("Equations")
        yield Formulas(tuple(self._equations()))
        yield Heading("What is dangerous here")
        yield self._hazards()
        yield from self._steps("Before anything is opened", plan.before)
        yield from self._numbers("Standby quench", headed=bool(plan.before))
        yield from self._steps("Measure bottles that age", plan.assays, written=True)
        yield Heading("Charge")
        yield self._charge()
        yield Facts((("What limits", f"{self.route.limiting} runs out first"),))
        if notes := assumed(self.route):
            yield Bullets(notes)
        yield from self._numbers("Charge")
        yield from self._steps("Order of addition", plan.steps, written=True)
        yield Heading("Heat and dosing")
        yield from self._pictures()
        yield from self._numbers("Heat and dosing")
        yield from self._heats()
        yield from self._numbers("Gas and room", headed=False)
        yield from self._steps("Getting the product out", plan.isolation)
        yield from self._numbers("Getting the product out", headed=bool(plan.isolation))
        yield from self._steps("Quench", plan.quench_steps, written=True)
        yield from self._numbers("Quench", headed=bool(plan.quench_steps))
        yield from self._steps("Keeping the product", plan.keeping)
        yield from self._numbers("Keeping the product", headed=bool(plan.keeping))
        yield from self._steps("How long things may stand", plan.shelf)
        yield from self._waste()
        yield Heading("Yield")
        yield Facts(tuple(self._theory()))
        yield Blanks(
            (
                "Product weighed",
                "Purity or assay",
                "Dissolved",
                "Unreacted, by titre",
                "Quenched",
                "Carried away",
            )
        )
        yield Note(
            "redoxlib reconcile closes the balance from these; more than 2 % missing wants a reason. "
            "redoxlib plan lists every number with its key, redoxlib why KEY JOB its formula and inputs."
        )
        yield Heading("Sources")
        yield Bullets(tuple(self._citations()), numbered=True)
        yield Heading("Before anything is weighed")
        yield Note(DEFERRAL)
        yield Blanks(("Read and agreed, worker", "Read and agreed, safety officer"))

    def _job(self) -> Iterator[tuple[str, str]]:
        """The job as it was understood."""
        yield from job_facts(self.route.job)

    def _equations(self) -> Iterator[tuple[str, str, str, str]]:
        several = len(self.route.parts) > 1
        for place, part in enumerate(self.route.parts, 1):
            mark = f" ({place})" if several else ""
            oxidation, reduction = part.half_reactions
            for label, equation in (
                ("Oxidation", oxidation),
                ("Reduction", reduction),
                ("Net ionic", part.net_ionic),
                ("Full", part.full),
            ):
                yield f"{label}{mark}", str(equation), equation.unicode(), equation.latex()

    def _hazards(self) -> Table:
        """GHS classes in words of everything charged, at the strength of its bottle, and everything made."""
        held = {bare(c.compound): _strength(c) for c in self.route.charges if c.role != "water"}
        made = [bare(species) for part in self.route.parts for _, species in part.full.products]
        rows = []
        for species in dict.fromkeys([*held, *made]):
            tier, codes, sources = tier_of(species, strength=held.get(species))
            told = "; ".join(map(hazard_words, codes)) or "none"
            if tier is None:
                told = "not in the tables: read the safety data sheet"
            if str(species) != "H2O":
                rows.append(Row((str(species), told, self._mark(sources))))
        return Table(("substance", "hazard classes", "source"), tuple(rows))

    def _charge(self) -> Table:
        """What to weigh, with a box and room for what was weighed; the cautions stand at the oxidant."""
        plain = charge_table(self.route.charges)
        rows = []
        for charge, row in zip(self.route.charges, plain.rows, strict=True):
            own = self.plan.warnings if charge.role == "oxidant" else ()
            role, substance, label, _, mol, weigh, measure = row.cells
            rows.append(
                Row(
                    (TICK, f"{role}: {substance}", label, mol, self._sure(charge, weigh), measure, BLANK),
                    (*row.warnings, *own),
                )
            )
        return Table(
            ("done", "what", "from", "mol", "weigh", "or measure", "weighed"),
            tuple(rows),
            right=frozenset({3, 4, 5}),
        )

    def _sure(self, charge: Charge, weigh: str) -> str:
        entry = self.plan.entries.get(f"charge.{charge.role}.g")
        value = entry.value if entry is not None else None
        same = isinstance(value, Quantity) and abs(value.value - charge.grams) < 1e-6 * charge.grams
        return str(value) if weigh and same and value is not None else weigh

    def _steps(self, title: str, steps: Sequence[Step], *, written: bool = False) -> Iterator[Block]:
        if not steps:
            return
        yield Heading(title)
        more = (BLANK,) if written else ()
        yield Table(
            ("done", "step", "why", *(("time, value",) if written else ())),
            tuple(Row((TICK, f"{n}. {step.text}", step.reason, *more)) for n, step in enumerate(steps, 1)),
        )

    def _pictures(self) -> Iterator[Block]:
        plan = self.plan
        if plan.simulation is not None:
            boils = plan.entries.get("heat.boiling.C")
            known = boils is not None and isinstance(boils.value, Quantity)
            yield heat_picture(plan.simulation, boils.value.value if known and boils is not None else None)  # type: ignore[union-attr]
            yield self._course()
        else:
            yield Note(
                "Temperature against time is not drawn: neither cooling nor a dosing time is declared."
                if self.route.job.cooling is None
                else "Temperature against time is not drawn: what it needs is not known for this batch."
            )
        window = window_picture(plan)
        if window is not None:
            yield window

    def _course(self) -> Table:
        """The simulation at nine moments, with room for the thermometer."""
        run = self.plan.simulation
        assert run is not None
        last = len(run.minutes) - 1
        at = sorted({round(last * n / 8) for n in range(9)})
        rows = tuple(
            Row(
                (
                    f"{run.minutes[n]:.1f}",
                    f"{run.celsius[n]:.1f}",
                    f"{100 * run.dosed[n]:.0f}",
                    f"{100 * run.accumulated[n]:.0f}",
                    BLANK,
                )
            )
            for n in at
        )
        return Table(
            ("time", "pot", "dosed", "not yet reacted", "read off"),
            rows,
            ("min", "C", "%", "%", "C"),
            frozenset({0, 1, 2, 3}),
        )

    def _numbers(self, part: str, *, headed: bool = True) -> Iterator[Block]:
        """The figures of a part; under a heading of their own where nothing has opened the part."""
        belongs = re.compile(_PARTS[part])
        keys = [key for key in self.plan.entries if belongs.match(key) and not _HEAT.match(key)]
        if not keys:
            return
        if not headed:
            yield Heading(part)
        yield Table(
            ("what", "value", "source"),
            tuple(
                Row((e.what, settled(e.value), self._mark(e.sources)))
                for e in map(self.plan.__getitem__, keys)
            ),
        )

    def _heats(self) -> Iterator[Block]:
        """Every heat of the batch side by side, given off as a negative number."""
        rows = tuple(self._row(entry) for key, entry in self.plan.entries.items() if _HEAT.match(key))
        if rows:
            yield Heading("Every heat of the batch", 3)
            yield Table(("what", "for the batch", "source"), rows)

    def _row(self, entry: Entry) -> Row:
        return Row((entry.what, settled(entry.value), self._mark(entry.sources)))

    def _waste(self) -> Iterator[Block]:
        if not self.plan.streams:
            return
        yield Heading("Waste")
        rows = []
        for stream in self.plan.streams:
            hazards = "; ".join(map(hazard_words, stream.hazards)) or "none in the tables"
            never = ", ".join(stream.not_with)
            rows.append(
                Row(
                    (TICK, stream.name.replace("_", " "), stream.holds, settled(stream.grams), hazards),
                    tuple(
                        text for text in (f"never with {never}" if never else "", stream.treatment) if text
                    ),
                )
            )
        yield Table(("done", "stream", "holds", "mass", "hazard classes"), tuple(rows))

    def _theory(self) -> Iterator[tuple[str, str]]:
        for key in ("yield.g", "yield.mL", "yield.mol", "crystal.theory.g"):
            if key in self.plan:
                yield self.plan[key].what, settled(self.plan[key].value)

    def _mark(self, keys: Iterable[str]) -> str:
        places = []
        for key in dict.fromkeys(part.strip() for part in keys if part.strip()):
            places.append(self.sources.setdefault(key, len(self.sources) + 1))
        return ", ".join(map(str, sorted(places)))

    def _citations(self) -> Iterator[str]:
        known = shipped().sources
        for key in self.sources:
            yield known[key].citation if key in known else key
