"""How the documentation site is built: ``python -m sphinx -W -b html docs site``; needs no network."""

from __future__ import annotations

from importlib.metadata import version as _version

project = "redoxlib"
author = "the redoxlib authors"
copyright = "the redoxlib authors, BSD-3-Clause"
version = release = _version("redoxlib")

extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
exclude_patterns = ["examples", "schemas"]
nitpicky = False

html_theme = "furo"
html_title = "redoxlib"
html_copy_source = False
html_show_sourcelink = False
pygments_style = "friendly"

myst_enable_extensions = ["deflist"]
myst_heading_anchors = 3

autodoc_typehints = "none"
autodoc_member_order = "bysource"
autodoc_preserve_defaults = True
napoleon_google_docstring = False
