"""A whole page of HTML in one file: read on a telephone or on paper, in light or dark, by eye, key or ear.

May import: this package.
"""

from __future__ import annotations

from functools import cache
from html import escape
from importlib.resources import files

from redoxlib.reports._document import Document, Heading
from redoxlib.reports._html import Marks

__all__ = ["page"]


def page(document: Document, *, contents: bool = True) -> str:
    """Write a document as one file of HTML that loads nothing from anywhere.

    Tables can be sorted where scripts are allowed, and stand in their own order where not.  *contents*
    puts links to the parts first; a sheet for the bench does without.
    """
    marks = Marks(page=True)
    body = [marks.block(block) for block in document.blocks]
    title = next((b.text for b in document.blocks if isinstance(b, Heading) and b.level == 1), "redoxlib")
    if not any(isinstance(b, Heading) and b.level == 1 for b in document.blocks):
        body.insert(0, f"<h1>{escape(title)}</h1>")
    places = [(place, text) for place, text in marks.places if place]
    links = "".join(f'<li><a href="#{place}">{escape(text)}</a></li>' for place, text in places)
    nav = f'<nav aria-label="Parts of this report"><ul>{links}</ul></nav>' if contents and places else ""
    head = next((n for n, text in enumerate(body) if text.startswith("<h1")), 0) + 1
    return "\n".join(
        [
            "<!DOCTYPE html>",
            '<html lang="en">',
            "<head>",
            '<meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            '<link rel="icon" href="data:,">',
            f"<title>{escape(title)}</title>",
            f"<style>{_part('page.css')}</style>",
            "</head>",
            "<body>",
            '<a class="skip" href="#report">To the report</a>',
            '<main id="report">',
            *body[:head],
            nav,
            *body[head:],
            '<p id="said" role="status"></p>',
            "</main>",
            f"<script>{_part('page.js')}</script>",
            "</body>",
            "</html>",
            "",
        ]
    )


@cache
def _part(name: str) -> str:
    return (files(__package__) / name).read_text(encoding="utf-8")
