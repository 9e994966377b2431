"""Results as plain data for JSON.  Verb: plain.

The shape is described in docs/json.md; ``schema`` names it with its version, which changes when a field
changes its meaning or goes away, not when one is added.

May import: every result type.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import singledispatch
from math import isfinite
from typing import Any

from redoxlib._facts import SpeciesFacts
from redoxlib._verify import Finding
from redoxlib.bench import Audit, BenchPlan, Entry, KeyFacts, Reconciliation
from redoxlib.bottles import restrictions
from redoxlib.compare import Comparison, Refusal, Setback, review
from redoxlib.data import OxidantRow, Tables, shipped
from redoxlib.diagrams import Frost, Predominance, Speciation
from redoxlib.errors import RedoxlibError
from redoxlib.job import Job
from redoxlib.measures import Channel, SideRisk
from redoxlib.notation import Assumption, Equation, Species
from redoxlib.quantity import Quantity, Unknown
from redoxlib.reports._figures import cited, source_lines
from redoxlib.routes import Charge, Part, Route
from redoxlib.safety import DEFERRAL
from redoxlib.stoichiometry import Balance, Check, OxidationNumbers

__all__ = ["plain", "plain_error", "plain_oxidants", "plain_verification"]


def plain(result: object) -> dict[str, Any]:
    """Turn a result into nested dicts, lists, text and finite numbers, with its schema on top.

    Raises
    ------
    TypeError
        For a value that has no schema.
    """
    name = next((name for kind, name in _SCHEMAS.items() if isinstance(result, kind)), None)
    if name is None:
        raise TypeError(f"a {type(result).__name__} has no schema")
    data = _gated(result) if isinstance(result, Route) else _data(result)
    return {"schema": f"redoxlib/{name}", **data}


def _gated(route: Route) -> dict[str, Any]:
    """A route on its own, as far as the gate allows: the gate is asked again."""
    verdict = review(route)
    reasons = {"decision": str(verdict.decision), "reasons": _data(verdict.reasons)}
    if verdict.decision == "stop":
        return {"oxidant": _named(route.oxidant), **reasons}
    return {**(_unreviewed(route) if verdict.decision == "unreviewed" else _data(route)), **reasons}


def plain_oxidants(tables: Tables | None = None) -> dict[str, Any]:
    """The table of oxidants with what each does at which pH."""
    tables = tables or shipped()
    return {
        "schema": "redoxlib/oxidants/1",
        "oxidants": [
            {
                **_data(row),
                "reactions": [_data(r) for r in tables.oxidant_reactions.get(row.key, ())],
            }
            for row in tables.oxidants.values()
        ],
    }


def plain_verification(findings: Iterable[Finding]) -> dict[str, Any]:
    """What ``verify`` found, the unbalanced ones counted."""
    found = list(findings)
    return {
        "schema": "redoxlib/verification/1",
        "equations": len(found),
        "unbalanced": sum(not finding.check.balanced for finding in found),
        "failed": sum(not finding.as_meant for finding in found),
        "findings": [
            {
                "file": f.file,
                "line": f.line,
                "text": f.text,
                "marked_wrong": f.wrong,
                "as_meant": f.as_meant,
                "fix": f.fix or None,
                "check": _data(f.check),
            }
            for f in found
        ],
    }


def plain_error(error: RedoxlibError, code: int) -> dict[str, Any]:
    """An error with its fields, and the exit code that goes with it."""
    return {
        "schema": "redoxlib/error/1",
        "error": type(error).__name__,
        "message": error.message,
        "source": error.source,
        "span": None if error.span is None else list(error.span),
        "hint": error.hint,
        "fields": {name: _told(value) for name, value in error.fields.items()},
        "exit_code": code,
    }


def _told(value: object) -> Any:
    """A field of an error as data, or as text where it has no shape of its own."""
    try:
        return _data(value)
    except TypeError:
        return [str(item) for item in value] if isinstance(value, list | tuple) else str(value)


@singledispatch
def _data(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _data(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"a {type(value).__name__} cannot be written as JSON")


@_data.register
def _(value: str) -> str:
    return value.value if isinstance(value, Enum) else value


@_data.register(int)
@_data.register(bool)
@_data.register(type(None))
def _(value: Any) -> Any:
    return value


@_data.register
def _(value: float) -> float | None:
    return value if isfinite(value) else None  # JSON has no infinity


@_data.register
def _(value: Fraction) -> int | str:
    return value.numerator if value.denominator == 1 else str(value)


@_data.register(list)
@_data.register(tuple)
@_data.register(frozenset)
def _(value: Sequence[Any]) -> list[Any]:
    return [_data(item) for item in value]


@_data.register
def _(value: Mapping) -> dict[str, Any]:  # type: ignore[type-arg]
    return {str(key): _data(item) for key, item in value.items()}


@_data.register
def _(value: Species) -> str:
    return str(value)


@_data.register
def _(value: Equation) -> dict[str, Any]:
    return {
        "text": str(value),
        "reactants": [[_data(n), str(s)] for n, s in value.reactants],
        "products": [[_data(n), str(s)] for n, s in value.products],
    }


@_data.register
def _(value: Assumption) -> dict[str, Any]:
    return {"span": list(value.span), "read_as": value.read_as, "other": value.other, "why": value.why}


@_data.register
def _(value: Quantity) -> dict[str, Any]:
    return {
        "value": _data(value.value),
        "unit": value.unit,
        "uncertainty": _data(value.uncertainty),
        "sources": list(value.sources),
        "basis": value.basis,
    }


@_data.register
def _(value: Unknown) -> dict[str, Any]:
    return {"unknown": value.what, "looked_in": list(value.looked_in)}


@_data.register
def _(value: Balance) -> dict[str, Any]:
    choice = value.choice
    return {
        "unique": value.unique,
        "dimension": value.dimension,
        "equation": _data(value.equation) if value.unique else None,
        "choice": None if choice is None else _data(choice),
        "choice_reason": value.choice_reason,
        "members": [_data(member) for member in value.members],
        "truncated": value.truncated,
        "half_reaction": value.half_reaction,
        "notes": list(value.notes),
        "assumptions": _data(value.assumptions),
    }


@_data.register
def _(value: Check) -> dict[str, Any]:
    return {
        "equation": _data(value.equation),
        "balanced": value.balanced,
        "residual": _data(value.residual),
        "lowest_terms": value.lowest_terms,
        "remarks": list(value.remarks),
        "assumptions": _data(value.assumptions),
    }


@_data.register
def _(value: OxidationNumbers) -> dict[str, Any]:
    return {
        "species": str(value.species),
        "numbers": {
            symbol: [{"number": _data(site.number), "count": _data(site.count)} for site in sites]
            for symbol, sites in value.items()
        },
        "average": _data(value.average),
        "remark": value.remark,
    }


@_data.register
def _(value: Job) -> dict[str, Any]:
    return {
        "conversions": [
            {
                "text": c.text,
                "feed": str(c.feed),
                "target": str(c.target),
                "amount": _data(c.amount),
                "assumptions": list(c.assumptions),
            }
            for c in value.conversions
        ],
        "purpose": value.purpose,
        "ph": value.ph,
        "feed": value.feed,
        "amount": _data(value.amount),
        "concentration": _data(value.concentration),
        "acid": value.acid,
        "base": value.base,
        "bottles": _data(value.bottles),
        "oxidants": _data(value.oxidants),
        "impurities": [{"species": str(s), "amount": _data(a)} for s, a in value.impurities],
        "excess": value.excess,
        "addition": _data(value.addition),
        "temperature": _data(value.temperature),
        "pot_mass": _data(value.pot_mass),
        "cooling": _data(value.cooling),
        "vessel": value.vessel,
        "room": _data(value.room),
        "potable": value.potable,
        "weights": dict(value.weights),
        "context": value.context,
        "time_s": value.time_s,
        "defaults": list(value.defaults),
    }


@_data.register
def _(value: OxidantRow) -> dict[str, Any]:
    return {
        "key": value.key,
        "name": value.name,
        "formula": value.formula,
        "cas": value.cas,
        "kind": value.kind,
        "source": value.source,
    }


def _named(oxidant: OxidantRow) -> dict[str, str]:
    return {"key": oxidant.key, "name": oxidant.name, "formula": oxidant.formula}


@_data.register
def _(value: Charge) -> dict[str, Any]:
    return {
        "role": value.role,
        "compound": str(value.compound),
        "label": value.label,
        "mol": value.mol,
        "needed_mol": value.needed_mol,
        "grams": value.grams,
        "pure_grams": value.pure_grams,
        "mL": _data(value.ml),
        "gas_litres": _data(value.gas_litres),
        "note": value.note,
        "assumptions": _data(value.bottle.assumptions) if value.bottle is not None else [],
        "restricted": [
            {"jurisdiction": row.jurisdiction, "instrument": row.instrument, "strength_w_w": row.strength_w_w}
            for row in (restrictions(value.bottle) if value.bottle is not None else ())
        ],
    }


def _equations(part: Part) -> dict[str, Any]:
    return {
        "conversion": str(part.conversion),
        "half_reactions": [_data(half) for half in part.half_reactions],
        "net_ionic": _data(part.net_ionic),
        "full": _data(part.full),
        "electrons": part.electrons,
        "dH": _data(part.dH),
        "dG": _data(part.dG),
        "potential": _data(part.potential),
    }


@_data.register
def _(value: Part) -> dict[str, Any]:
    product = value.product
    return {
        **_equations(value),
        "feed_mol": value.feed_mol,
        "product": {
            "species": str(product.species),
            "compound": str(product.compound),
            "mol": product.mol,
            "grams": product.grams,
            "mL": _data(product.ml),
        },
        "notes": list(value.notes),
    }


@_data.register
def _(value: Channel) -> dict[str, Any]:
    return {
        **{field.name: _data(getattr(value, field.name)) for field in fields(value)},
        "low": value.low,
        "high": value.high,
    }


@_data.register
def _(value: SideRisk) -> dict[str, Any]:
    return {"low": value.low, "high": value.high, "channels": _data(value.channels)}


@_data.register
def _(value: Route) -> dict[str, Any]:
    return {
        "oxidant": _named(value.oxidant),
        "parts": _data(value.parts),
        "charges": _data(value.charges),
        "limiting": value.limiting,
        "gases": _data(value.gases),
        "pot_grams": value.pot_grams,
        "water_grams": value.water_grams,
        "cell_potential": _data(value.cell_potential),
        "dH": _data(value.dH),
        "dG": _data(value.dG),
        "electricity": _data(value.electricity),
        "kinetics": {
            "verdict": value.kinetics,
            "note": value.kinetics_note,
            "half_life_s": _data(value.half_life_s),
        },
        "mass_efficiency": _data(value.mass_efficiency),
        "by_products": _data(value.by_products),
        "exotherm": _data(value.exotherm),
        "side_risk": _data(value.side_risk),
        "score": _score(value),
        "warnings": list(value.warnings),
        "notes": list(value.notes),
        "sources": list(value.sources),
    }


def _score(route: Route) -> dict[str, Any] | None:
    score = route.score
    if score is None:
        return None
    return {
        "total": score.total,
        "total_low": score.total_low,
        "spread": score.spread,
        "points": dict(score.points),
        "points_low": dict(score.low),
    }


def _unreviewed(route: Route) -> dict[str, Any]:
    """Equations and energies; no charge and no score, since nobody has reviewed the route."""
    return {
        "oxidant": _named(route.oxidant),
        "parts": [_equations(part) for part in route.parts],
        "cell_potential": _data(route.cell_potential),
        "warnings": list(route.warnings),
    }


@_data.register
def _(value: Refusal) -> dict[str, Any]:
    return {
        "oxidant": _named(value.oxidant),
        "rule": value.rule,
        "reason": value.reason,
        "source": value.source,
        "sources": [
            line.partition("]")[0].lstrip("[") for line in cited(value.source) if line.startswith("[")
        ],
        "safer": value.safer,
    }


@_data.register
def _(value: Setback) -> dict[str, Any]:
    return {
        "oxidant": _named(value.oxidant),
        "verdict": value.verdict,
        "reason": value.reason,
        "sources": list(value.sources),
    }


@_data.register
def _(value: Comparison) -> dict[str, Any]:
    return {
        "job": _data(value.job),
        "ranked": [
            {"place": value.place(group[0].oxidant.key), "tie": len(group) > 1, "routes": _data(group)}
            for group in value.ranked
        ],
        "on_shelf": list(value.on_shelf),
        "unreviewed": [_unreviewed(route) for route in value.unreviewed],
        "refused": _data(value.refused),
        "infeasible": _data(value.infeasible),
        "inert": _data(value.inert),
        "undecided": _data(value.undecided),
        "deferral": DEFERRAL,
    }


@_data.register
def _(value: Entry) -> dict[str, Any]:
    return {
        "what": value.what,
        "value": _data(value.value),
        "formula": value.formula,
        "inputs": list(value.inputs),
        "sources": list(value.sources),
        "spread": [{"input": name, "share": share} for name, share in value.spread],
    }


@_data.register
def _(value: KeyFacts) -> dict[str, Any]:
    return {field.name: _data(getattr(value, field.name)) for field in fields(value)}


@_data.register
def _(value: BenchPlan) -> dict[str, Any]:
    return {
        "oxidant": _named(value.route.oxidant),
        "job": _data(value.route.job),
        "decision": str(value.verdict.decision),
        "warnings": list(value.warnings),
        "equations": [_equations(part) for part in value.route.parts],
        "before": _data(value.before),
        "assays": _data(value.assays),
        "steps": _data(value.steps),
        "isolation": _data(value.isolation),
        "quench_steps": _data(value.quench_steps),
        "keeping": _data(value.keeping),
        "shelf": _data(value.shelf),
        "streams": _data(value.streams),
        "entries": _data(dict(value.entries)),
        "deferral": DEFERRAL,
    }


@_data.register
def _(value: SpeciesFacts) -> dict[str, Any]:
    return {
        **{field.name: _data(getattr(value, field.name)) for field in fields(value)},
        "sources": dict(_keyed(line) for line in source_lines(value.sources)),
    }


@_data.register(Frost)
@_data.register(Predominance)
@_data.register(Speciation)
def _(value: Any) -> dict[str, Any]:
    from redoxlib.reports._plain_diagrams import diagram_data

    return diagram_data(value, _data)


def _keyed(line: str) -> tuple[str, str]:
    key, _, citation = line.lstrip("[").partition("] ")
    return key, citation


_SCHEMAS: dict[type, str] = {
    Audit: "audit/1",
    Balance: "balance/1",
    BenchPlan: "plan/1",
    Check: "check/1",
    Comparison: "comparison/1",
    Entry: "entry/1",
    Frost: "frost/1",
    KeyFacts: "key/1",
    OxidationNumbers: "oxidation/1",
    Predominance: "predominance/1",
    Reconciliation: "reconciliation/1",
    Route: "route/1",
    Speciation: "speciation/1",
    SpeciesFacts: "species/1",
}
