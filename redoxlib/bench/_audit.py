"""Reading a recipe that somebody already holds, and saying what is wrong with it.

Verbs: audit.  It states findings and mends nothing; of a recipe the gate stops it gives the reasons and
no numbers.  May import: routes, safety and below; the rest of this package.
"""

from __future__ import annotations

import csv
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from redoxlib import heat, safety
from redoxlib._display import html_of
from redoxlib._situation import situation
from redoxlib.bench._liquor import HALOGENS, acid_left, protons, quench_oxidant
from redoxlib.bottles import Bottle, read_bottle
from redoxlib.data import OxidantRow, Tables, shipped
from redoxlib.errors import JobError, RedoxlibError
from redoxlib.job import Job
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.routes import NoRoute, Route, bare, build_route, ions

__all__ = ["Audit", "Finding", "audit"]

COLUMNS = ("step", "role", "charge", "amount", "minutes")
_ROLES = ("feed", "oxidant", "acid", "base", "water", "product", "quench")
_REDUCTANTS = tuple(Species.parse(t) for t in ("SO3^2-", "HSO3^-", "S2O5^2-", "S2O3^2-"))
_BASES = tuple(Species.parse(t) for t in ("OH^-", "HCO3^-", "CO3^2-"))
_HIGH_EXCESS = 0.20
_LINES = 500


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing the recipe gets wrong or leaves open; ``severity`` is stop, wrong, caution or note."""

    severity: str
    what: str
    why: str

    def __str__(self) -> str:
        return f"{self.severity}: {self.what} ({self.why})"


@dataclass(frozen=True, slots=True)
class Audit:
    """What a written recipe amounts to.

    Attributes
    ----------
    decision : str
        Of the gate: stop, unreviewed, caution or clear.
    findings : tuple of Finding
        Worst first.
    equivalents : tuple of (str, float)
        Reagent and how many times what the equation asks for is charged; empty when stopped.
    limiting : str
        Role that runs out first; empty when stopped.
    excess : float or None
        Oxidant beyond what the rest can use, as a fraction.
    heat_kj, rise_k, dosing_w : Quantity, Unknown or None
        Heat of the batch, adiabatic rise, and the power that the written dosing time asks of the cooling.
    equation : str
    """

    decision: str
    findings: tuple[Finding, ...]
    equivalents: tuple[tuple[str, float], ...] = ()
    limiting: str = ""
    excess: float | None = None
    heat_kj: Quantity | Unknown | None = None
    rise_k: Quantity | Unknown | None = None
    dosing_w: Quantity | Unknown | None = None
    equation: str = ""

    _repr_html_ = html_of

    @property
    def ok(self) -> bool:
        """Whether nothing is stopped or wrong."""
        return not any(f.severity in ("stop", "wrong") for f in self.findings)

    @property
    def worst(self) -> Finding | None:
        """The heaviest finding; None where there is none."""
        return self.findings[0] if self.findings else None

    def __str__(self) -> str:
        lines = [f"gate: {self.decision}"]
        if self.equation:
            lines.append(self.equation)
        lines += [f"{name}: {value:.3g} equivalents" for name, value in self.equivalents]
        if self.limiting:
            lines.append(f"limiting: {self.limiting}")
        for name, value in (
            ("heat", self.heat_kj),
            ("adiabatic rise", self.rise_k),
            ("cooling", self.dosing_w),
        ):
            if value is not None:
                lines.append(f"{name}: {value}")
        return "\n".join([*lines, *(str(f) for f in self.findings)])


@dataclass(frozen=True, slots=True)
class _Line:
    number: int
    step: int
    role: str
    label: str
    amount: Quantity | None
    minutes: float | None
    bottle: Bottle | None

    @property
    def mol(self) -> float:
        if self.bottle is None or self.amount is None:
            return 0.0
        return self.bottle.moles_in(self.amount)


def audit(path: str | os.PathLike[str], *, tables: Tables | None = None) -> Audit:
    """Check a written recipe.

    The file is comma-separated with a header: ``step`` (order of addition, a whole number), ``role`` (feed,
    oxidant, acid, base, water, product, quench), ``charge`` (the label of what is used; the formula of the
    product), ``amount`` ("56 mL", "103 g", "0.5 mol"; empty for the product) and, if it likes, ``minutes``
    over which that line is added.

    Parameters
    ----------
    path : path
        Of the recipe.

    Returns
    -------
    Audit

    Raises
    ------
    JobError
        When the file cannot be read as such a table; every fault is listed with its line.
    """
    tables = tables or shipped()
    lines = _read(path)
    job, oxidant = _job(os.fspath(path), lines, tables)
    built = build_route(job, oxidant, tables=tables)
    order = tuple(
        dict.fromkeys(line.role for line in sorted(lines, key=lambda x: x.step) if line.role in _IN_POT)
    )
    seen = situation(
        replace(job, addition=order), oxidant, tables, built if isinstance(built, Route) else None
    )
    quench = frozenset(bare(x.bottle.solute) for x in lines if x.role == "quench" and x.bottle is not None)
    verdict = safety.review_situation(replace(seen, quench=quench))
    decision = str(verdict.decision)
    findings = [Finding(_severity(str(r.severity)), r.text, f"{r.rule}; {r.source}") for r in verdict.reasons]
    findings += _order(lines)
    if decision == "stop":
        return Audit(decision, _sorted(findings))
    if isinstance(built, NoRoute):
        findings.append(Finding("wrong", f"no reaction: {built.reason}", built.verdict))
        return Audit(decision, _sorted(findings))
    if decision == "unreviewed":
        return Audit(decision, _sorted(findings), equation=str(built.full))
    return _judged(decision, findings, lines, built, tables)


_IN_POT = ("feed", "oxidant", "acid", "base")


def _severity(gate: str) -> str:
    return {"stop": "stop", "unreviewed": "stop", "caution": "caution"}.get(gate, "note")


def _sorted(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    rank = ("stop", "wrong", "caution", "note")
    return tuple(sorted(dict.fromkeys(findings), key=lambda f: rank.index(f.severity)))


def _judged(
    decision: str, findings: list[Finding], lines: list[_Line], route: Route, tables: Tables
) -> Audit:
    shares = _equivalents(lines, route)
    known = {role: share for role, share in shares if share is not None}
    limiting = min(known, key=lambda role: known[role]) if known else ""
    extent = min(known.values(), default=1.0)
    excess = known["oxidant"] / extent - 1 if "oxidant" in known and extent > 0 else None
    findings += _amount_findings(known, limiting, excess)
    findings += _quench(lines, route, extent, excess or 0.0)
    findings += _unweighed(lines)
    batch = heat.batch_heat(route)
    scaled = _times(batch, min(extent, 1.0))
    capacity = _capacity(lines)
    rise: Quantity | Unknown = scaled
    if isinstance(scaled, Quantity):
        rise = Quantity(max(0.0, -scaled.value * 1000 / capacity), "K", None, scaled.sources, "estimate")
    watts = _watts(lines, scaled)
    minutes = next((x.minutes for x in lines if x.role == "oxidant"), None)
    if minutes is None:
        why = "the recipe states no time, so all of the heat may come at once"
        findings.append(Finding("caution", "dosing time of the oxidant is not given", why))
    boiling = heat.boiling_point(route, tables)
    if isinstance(rise, Quantity) and isinstance(boiling, Quantity):
        top = route.job.temperature_k - 273.15 + rise.value
        if top >= boiling.value:
            why = f"{top:.0f} C if all reacts at once; the mixture boils at {boiling.value:.0f} C"
            findings.append(Finding("wrong", "the heat of the batch can boil the pot", why))
    return Audit(
        decision,
        _sorted(findings),
        tuple(known.items()),
        limiting,
        excess,
        scaled,
        rise,
        watts,
        str(route.full),
    )


def _times(value: Quantity | Unknown, factor: float) -> Quantity | Unknown:
    if isinstance(value, Unknown):
        return value
    return Quantity(
        value.value * factor, value.unit, (value.uncertainty or 0) * factor, value.sources, value.basis
    )


def _capacity(lines: list[_Line]) -> float:
    """Heat capacity of what is written down, J/K: water, and 1 J/(g K) for the rest, an estimate."""
    poured = [x for x in lines if x.role not in ("quench", "product")]
    water = sum(_water(x) for x in poured)
    rest = sum(
        x.mol * x.bottle.solute.molar_mass for x in poured if x.bottle is not None and x.bottle.form != "gas"
    )
    return max(water * heat.CP_WATER.value + rest * heat.CP_SOLUTE.value, 1.0)


def _watts(lines: list[_Line], batch: Quantity | Unknown) -> Quantity | Unknown | None:
    minutes = next((x.minutes for x in lines if x.role == "oxidant"), None)
    if not minutes:
        return None
    if isinstance(batch, Unknown):
        return batch
    return Quantity(max(0.0, -batch.value * 1000) / (60 * minutes), "W", None, batch.sources, "estimate")


def _equivalents(lines: list[_Line], route: Route) -> Iterator[tuple[str, float | None]]:
    yield "feed", 1.0
    for role in ("oxidant", "acid", "base"):
        charge = route.charge(role)
        written = [x for x in lines if x.role == role and x.bottle is not None]
        if charge is None or not charge.needed_mol:
            continue
        if role == "acid":
            # Any acid serves: count protons, not molecules.
            held = sum(sum(protons(bare(x.bottle.solute))) * x.mol for x in written if x.bottle is not None)
            yield role, held / (sum(protons(charge.compound)) * charge.needed_mol)
        else:
            yield role, sum(x.mol for x in written) / charge.needed_mol


def _amount_findings(known: dict[str, float], limiting: str, excess: float | None) -> Iterator[Finding]:
    for role, share in known.items():
        if share < 0.98 and role != "feed":
            what = f"{role} is short: {share:.2f} of what the equation asks for"
            why = (
                "without its acid the reaction stops or takes another way" if role == "acid" else "it limits"
            )
            yield Finding("wrong", what, why)
    if excess is not None and excess > _HIGH_EXCESS:
        of = f"against the {limiting}, which limits" if limiting != "oxidant" else ""
        what = f"hidden excess of oxidant: {100 * excess:.0f} % {of}".strip()
        yield Finding("wrong", what, "all of it is left over and has to be destroyed")


def _order(lines: list[_Line]) -> Iterator[Finding]:
    first: dict[str, int] = {}
    for line in sorted(lines, key=lambda x: x.step):
        first.setdefault(line.role, line.step)
    oxidant = first.get("oxidant")
    if oxidant is not None and "feed" in first and oxidant < first["feed"]:
        yield Finding("wrong", "oxidant before the feed", "what is dosed last is what can be stopped")
    if oxidant is not None and "acid" in first and oxidant < first["acid"]:
        yield Finding("wrong", "acid onto the oxidant", "the oxidant is freed all at once, or gives a gas")
    acid = first.get("acid")
    if acid is not None and "water" in first and acid < first["water"]:
        yield Finding("wrong", "water into acid", "it boils and spits; acid goes into water")
    if oxidant is not None and "quench" not in first:
        yield Finding(
            "wrong", "no quench is written down", "it has to stand ready before the oxidant is opened"
        )


def _quench(lines: list[_Line], route: Route, extent: float, excess: float) -> Iterator[Finding]:
    charge = route.charge("oxidant")
    quench = [x for x in lines if x.role == "quench" and x.bottle is not None]
    if charge is None or not quench:
        return
    oxidant = quench_oxidant(route)
    used = min(extent, 1.0) * charge.needed_mol
    left = excess * used * oxidant.per_compound * oxidant.electrons / 2
    reductant = _brings(quench, _REDUCTANTS)
    base = _brings(quench, _BASES)
    if left > 0 and reductant < left:
        what = f"reductant in the quench is short: {reductant:.3g} mol for {left:.3g} mol"
        yield Finding("wrong", what, "oxidant left over is counted here, dissolved product comes on top")
    if route.job.ph >= 8:
        return
    acid = acid_left(route).total
    written = [x for x in lines if x.role == "acid" and x.bottle is not None]
    need = route.charge("acid")
    if need is not None:
        held = sum(sum(protons(bare(x.bottle.solute))) * x.mol for x in written if x.bottle is not None)
        acid = max(0.0, held - sum(protons(need.compound)) * need.needed_mol * min(extent, 1.0))
    if base <= 0:
        why = f"the liquor holds {acid:.2g} mol of acid and the quench makes more: sulfur dioxide leaves"
        yield Finding("wrong", "no base in the quench", why)
    elif base < acid:
        yield Finding(
            "wrong", f"base in the quench is short: {base:.3g} mol for {acid:.3g} mol", "acid stays"
        )
    if reductant <= 0 and bare(route.product.species) in HALOGENS:
        yield Finding("wrong", "no reductant in the quench", "base alone turns halogen into halate")


def _brings(lines: list[_Line], wanted: tuple[Species, ...]) -> float:
    total = 0.0
    for line in lines:
        if line.bottle is None:
            continue
        for n, ion in ions(bare(line.bottle.solute)):
            if bare(ion) in wanted:
                per = 2.0 if str(bare(ion)) in ("S2O5^2-", "CO3^2-") else 1.0
                total += float(n) * per * line.mol
    return total


def _job(path: str, lines: list[_Line], tables: Tables) -> tuple[Job, OxidantRow]:
    faults = []
    by_role = {role: [x for x in lines if x.role == role] for role in _ROLES}
    for role in ("feed", "oxidant", "product"):
        if len(by_role[role]) != 1:
            faults.append(f"{path}: {len(by_role[role])} lines with the role {role}; wanted is one")
    if faults:
        raise JobError("; ".join(faults), faults=tuple(faults))
    feed, oxidant, product = (by_role[role][0] for role in ("feed", "oxidant", "product"))
    row = _oxidant_row(path, oxidant, tables)
    assert feed.bottle is not None
    grams = sum(_water(x) for x in by_role["water"])
    moles = feed.mol * max(1.0, _per_unit(feed, product.label))
    acids = by_role["acid"]
    job = Job(
        f"{feed.bottle.solute} -> {product.label}",
        feed=feed.label,
        amount=feed.amount,
        concentration=Quantity(moles / (grams / 1000), "mol/L") if grams > 0 and moles > 0 else None,
        acid=acids[0].label if acids else None,
        base=by_role["base"][0].label if by_role["base"] else None,
        bottles=(oxidant.label,),
        medium=None if acids or not by_role["base"] else "base",
        excess=0.0,
    )
    return job, row


def _per_unit(feed: _Line, product: str) -> float:
    assert feed.bottle is not None
    wanted = set(Species.parse(product).elements) - {"O", "H"}
    for n, ion in ions(bare(feed.bottle.solute)):
        if wanted & set(ion.elements):
            return float(n)
    return 1.0


def _oxidant_row(path: str, line: _Line, tables: Tables) -> OxidantRow:
    assert line.bottle is not None
    solute = bare(line.bottle.solute)
    for row in tables.oxidants.values():
        if row.formula and bare(Species.parse(row.formula)) == solute:
            return row
    fault = f"{path}:{line.number}: {line.label!r} is no oxidant of the tables"
    raise JobError(fault, hint="redoxlib oxidants lists them", faults=(fault,))


def _water(line: _Line) -> float:
    """Water a line brings [g]."""
    if line.amount is None:
        return 0.0
    if line.role == "water":
        amount = line.amount
        return float(amount.to("g").value) if amount.measures_like("g") else float(amount.to("mL").value)
    if line.bottle is None or line.bottle.form != "solution":
        return 0.0
    if isinstance(line.bottle.mass_fraction, Unknown):
        return max(0.0, _millilitres(line) - line.mol * line.bottle.solute.molar_mass)
    return line.mol * (line.bottle.grams_per_mol - line.bottle.solute.molar_mass)


def _millilitres(line: _Line) -> float:
    """Volume of a solution known only by what a litre of it holds [mL]."""
    assert line.bottle is not None
    molarity = line.bottle.molarity
    return 1000 * line.mol / molarity.to("mol/L").value if isinstance(molarity, Quantity) else 0.0


def _unweighed(lines: list[_Line]) -> Iterator[Finding]:
    """Solutions whose mass had to be taken at 1 g/mL; a denser one brings more water, so the rise is less."""
    for line in lines:
        bottle = line.bottle
        if line.role in ("quench", "product") or bottle is None or bottle.form != "solution":
            continue
        if isinstance(bottle.mass_fraction, Unknown):
            what = f"the density of {line.label!r} is not known; counted at 1 g/mL"
            yield Finding("note", what, "add it to the label: ', density 1.12 g/mL'")


def _read(path: str | os.PathLike[str]) -> list[_Line]:
    name = os.fspath(path)
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
        rows = [row for row in csv.reader(text.splitlines()) if row and not row[0].lstrip().startswith("#")]
    except UnicodeDecodeError:
        raise JobError(f"{name} cannot be read: it is no UTF-8 text", faults=(name,)) from None
    except (OSError, ValueError, csv.Error) as error:  # a NUL in the name, a cell beyond the csv limit
        reason = getattr(error, "strerror", None) or error
        raise JobError(f"{name} cannot be read: {reason}", faults=(name,)) from None
    header = [cell.strip().lower() for cell in rows[0]] if rows else []
    missing = [c for c in COLUMNS[:4] if c not in header]
    if missing or len(rows) > _LINES:
        fault = (
            f"{name}:1: no column {', '.join(missing)}" if missing else f"{name}: more than {_LINES} lines"
        )
        raise JobError(fault, hint=f"the header is {','.join(COLUMNS)}", faults=(fault,))
    faults: list[str] = []
    lines: list[_Line] = []
    for number, row in enumerate(rows[1:], 2):
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        try:
            lines.append(_line(number, cells))
        except (RedoxlibError, ValueError) as error:
            faults.append(f"{name}:{number}: {error.message if isinstance(error, RedoxlibError) else error}")
    if faults:
        raise JobError("; ".join(faults), faults=tuple(faults))
    return lines


def _line(number: int, cells: dict[str, str]) -> _Line:
    role, label = cells.get("role", "").lower(), cells.get("charge", "")
    if role not in _ROLES:
        raise ValueError(f"role {role!r} is none of {', '.join(_ROLES)}")
    if not label and role != "water":
        raise ValueError("the charge is empty")
    if not (cells.get("step") or "1").isdecimal():
        raise ValueError(f"step {cells['step']!r} is no whole number")
    step = int(cells["step"]) if cells.get("step") else number
    try:
        minutes = float(cells["minutes"]) if cells.get("minutes") else None
    except ValueError:
        raise ValueError(f"minutes {cells['minutes']!r} is no number") from None
    if minutes is not None and not 0 < minutes < 1e6:
        raise ValueError(f"minutes {minutes:g} is not above zero")
    if role == "product":
        Species.parse(label)
        return _Line(number, step, role, label, None, minutes, None)
    if not cells.get("amount"):
        raise ValueError(f"{label or role}: no amount")
    amount = Quantity.parse(cells["amount"])
    if amount.value <= 0 or not any(amount.measures_like(u) for u in ("g", "L", "mol")):
        raise ValueError(f"amount {cells['amount']!r} is no amount above zero")
    bottle = None if role == "water" else read_bottle(label)
    if bottle is not None:
        bottle.moles_in(amount)  # says now, with the line, when a volume has no density
    return _Line(number, step, role, label, amount, minutes, bottle)
