"""The notebook hook: a result type that assigns ``_repr_html_ = html_of`` shows as tables in a cell.

The one module that reaches upwards: it imports ``reports`` when a cell asks, and never before.

May import: nothing; reports inside the function.
"""

from __future__ import annotations

__all__ = ["html_of"]


def html_of(result: object) -> str:
    """Write a result (a comparison, a route, a plan, a balance, ...) as a fragment of HTML."""
    from redoxlib.reports import document, html

    return html(document(result))
