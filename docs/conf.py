"""How the documentation site is built: ``python -m sphinx -W -b html docs site``; needs no network."""

from __future__ import annotations

from importlib.metadata import version as _version

from sphinx.application import Sphinx

project = "redoxlib"
author = "the redoxlib authors"
copyright = "the redoxlib authors, BSD-3-Clause"  # noqa: A001 - the name Sphinx reads
version = release = _version("redoxlib")

extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
exclude_patterns = ["examples", "schemas"]


html_theme = "furo"
html_title = "redoxlib"
html_copy_source = False
html_show_sourcelink = False
pygments_style = "a11y-high-contrast-light"  # comes with the theme
pygments_dark_style = "a11y-high-contrast-dark"
html_static_path = ["_static"]
html_js_files = ["reach.js"]
html_css_files = ["narrow.css"]

myst_enable_extensions = ["deflist"]
myst_heading_anchors = 3

autodoc_typehints = "none"
autodoc_member_order = "bysource"
autodoc_preserve_defaults = True
napoleon_google_docstring = False
napoleon_use_ivar = True


def _one_name_a_line(
    app: object, what: str, name: str, obj: object, options: object, lines: list[str]  # noqa: ARG001
) -> None:
    """Split ``a, b : type`` of a docstring's list of attributes into one entry for each name."""
    made: list[str] = []
    index = 0
    while index < len(lines):
        line = lines[index]
        head, colon, rest = line.partition(" : ")
        names = head.strip().split(", ")
        index += 1
        if not colon or len(names) < 2 or not all(one.isidentifier() for one in names):
            made.append(line)
            continue
        indent = line[: len(line) - len(line.lstrip())]
        body = []
        while index < len(lines) and lines[index].startswith(indent + "    "):
            body.append(lines[index])
            index += 1
        for one in names:
            made += [f"{indent}{one} : {rest}", *body]
    lines[:] = made


def setup(app: Sphinx) -> None:
    """Called by Sphinx; runs before the docstrings are read as numpy sections."""
    app.connect("autodoc-process-docstring", _one_name_a_line, priority=100)
