"""From any result to its document.

Result types join by registration, not by a base class, so no part below knows of reports.

May import: every result type, this package.
"""

from __future__ import annotations

from functools import singledispatch

from redoxlib._facts import SpeciesFacts
from redoxlib.bench import Audit, BenchPlan, Reconciliation
from redoxlib.compare import Comparison
from redoxlib.errors import DomainError
from redoxlib.reports._bench import audit_document, plan_document, reconciliation_document
from redoxlib.reports._comparison import comparison_document
from redoxlib.reports._document import Document
from redoxlib.reports._facts import species_document
from redoxlib.reports._route import route_document
from redoxlib.reports._stoichiometry import balance_document, check_document, oxidation_document
from redoxlib.routes import Route
from redoxlib.stoichiometry import Balance, Check, OxidationNumbers

__all__ = ["document"]


@singledispatch
def document(result: object) -> Document:
    """Turn a result into a document.

    Raises
    ------
    DomainError
        For a value that no report is made of.
    """
    raise DomainError(
        f"no report is made of a {type(result).__name__}",
        hint="a Comparison, Route, BenchPlan, Reconciliation, Audit, Balance, Check or OxidationNumbers is",
    )


@document.register
def _(result: Document) -> Document:
    return result


@document.register
def _(result: Comparison) -> Document:
    return comparison_document(result)


@document.register
def _(result: Route) -> Document:
    return route_document(result)


@document.register
def _(result: BenchPlan) -> Document:
    return plan_document(result)


@document.register
def _(result: Reconciliation) -> Document:
    return reconciliation_document(result)


@document.register
def _(result: Audit) -> Document:
    return audit_document(result)


@document.register
def _(result: Balance) -> Document:
    return balance_document(result)


@document.register
def _(result: Check) -> Document:
    return check_document(result)


@document.register
def _(result: OxidationNumbers) -> Document:
    return oxidation_document(result)


@document.register
def _(result: SpeciesFacts) -> Document:
    return species_document(result)
