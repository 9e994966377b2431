"""Reports: results become a document, a document becomes a page.

Verbs: document (any result to a Document), sheet_document (a plan to the sheet for the bench), terminal,
markdown, html (a fragment), page (a whole file of HTML), latex (a Document to text), write (any of these to
a file), plain (any result to what JSON can hold).  The functions behind ``document`` are public too:
comparison_document, route_document, plan_document and so on.

May import: every part below.  Nothing outside this package imports rich.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.reports._bench import audit_document as audit_document
    from redoxlib.reports._bench import plan_document as plan_document
    from redoxlib.reports._bench import reconciliation_document as reconciliation_document
    from redoxlib.reports._comparison import comparison_document as comparison_document
    from redoxlib.reports._dispatch import document as document
    from redoxlib.reports._document import Blanks as Blanks
    from redoxlib.reports._document import Block as Block
    from redoxlib.reports._document import Bullets as Bullets
    from redoxlib.reports._document import Caution as Caution
    from redoxlib.reports._document import Document as Document
    from redoxlib.reports._document import Facts as Facts
    from redoxlib.reports._document import Formulas as Formulas
    from redoxlib.reports._document import Heading as Heading
    from redoxlib.reports._document import Note as Note
    from redoxlib.reports._document import Paragraph as Paragraph
    from redoxlib.reports._document import Picture as Picture
    from redoxlib.reports._document import Row as Row
    from redoxlib.reports._document import Table as Table
    from redoxlib.reports._facts import oxidants_document as oxidants_document
    from redoxlib.reports._facts import species_document as species_document
    from redoxlib.reports._html import html as html
    from redoxlib.reports._latex import latex as latex
    from redoxlib.reports._looked_up import looked_up as looked_up
    from redoxlib.reports._looked_up import looked_up_document as looked_up_document
    from redoxlib.reports._looked_up import plain_looked_up as plain_looked_up
    from redoxlib.reports._markdown import markdown as markdown
    from redoxlib.reports._page import page as page
    from redoxlib.reports._plain import plain as plain
    from redoxlib.reports._plain import plain_error as plain_error
    from redoxlib.reports._plain import plain_oxidants as plain_oxidants
    from redoxlib.reports._plain import plain_verification as plain_verification
    from redoxlib.reports._route import route_document as route_document
    from redoxlib.reports._sheet import hazard_words as hazard_words
    from redoxlib.reports._sheet import sheet_document as sheet_document
    from redoxlib.reports._stoichiometry import balance_document as balance_document
    from redoxlib.reports._stoichiometry import check_document as check_document
    from redoxlib.reports._stoichiometry import oxidation_document as oxidation_document
    from redoxlib.reports._terminal import terminal as terminal
    from redoxlib.reports._write import write as write

_HOME = {
    "write": "_write",
    "looked_up": "_looked_up",
    "looked_up_document": "_looked_up",
    "plain_looked_up": "_looked_up",
    "hazard_words": "_sheet",
    "sheet_document": "_sheet",
    "page": "_page",
    "latex": "_latex",
    "Picture": "_document",
    "Formulas": "_document",
    "Blanks": "_document",
    "Block": "_document",
    "Bullets": "_document",
    "Document": "_document",
    "Facts": "_document",
    "Heading": "_document",
    "Note": "_document",
    "Paragraph": "_document",
    "Row": "_document",
    "Table": "_document",
    "Caution": "_document",
    "audit_document": "_bench",
    "balance_document": "_stoichiometry",
    "check_document": "_stoichiometry",
    "comparison_document": "_comparison",
    "document": "_dispatch",
    "html": "_html",
    "markdown": "_markdown",
    "oxidants_document": "_facts",
    "oxidation_document": "_stoichiometry",
    "plain": "_plain",
    "plain_error": "_plain",
    "plain_oxidants": "_plain",
    "plain_verification": "_plain",
    "plan_document": "_bench",
    "reconciliation_document": "_bench",
    "route_document": "_route",
    "species_document": "_facts",
    "terminal": "_terminal",
}
__all__ = [
    "Blanks",
    "Block",
    "Bullets",
    "Caution",
    "Document",
    "Facts",
    "Formulas",
    "Heading",
    "Note",
    "Paragraph",
    "Picture",
    "Row",
    "Table",
    "audit_document",
    "balance_document",
    "check_document",
    "comparison_document",
    "document",
    "hazard_words",
    "html",
    "latex",
    "looked_up",
    "looked_up_document",
    "markdown",
    "oxidants_document",
    "oxidation_document",
    "page",
    "plain",
    "plain_error",
    "plain_looked_up",
    "plain_oxidants",
    "plain_verification",
    "plan_document",
    "reconciliation_document",
    "route_document",
    "sheet_document",
    "species_document",
    "terminal",
    "write",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
