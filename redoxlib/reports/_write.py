"""A result into a file, in the form its ending names.

May import: this package.
"""

from __future__ import annotations

from pathlib import Path

from redoxlib.errors import JobError
from redoxlib.reports._dispatch import document
from redoxlib.reports._document import Document
from redoxlib.reports._latex import latex
from redoxlib.reports._markdown import markdown
from redoxlib.reports._page import page
from redoxlib.reports._terminal import terminal

__all__ = ["write"]

_PAPER_COLUMNS = 100


def write(result: object, path: str | Path, *, contents: bool = True, replace: bool = True) -> Path:
    """Write a report of *result* to *path*: ``.html``, ``.md``, ``.tex`` or ``.txt``.

    Parameters
    ----------
    result : Document or any result
        What ``document`` takes.
    path : str or Path
        An existing file is written over unless *replace* is false: a sheet may have been filled in.
    contents : bool
        Links to the parts at the top of an HTML page.

    Raises
    ------
    JobError
        When the ending names no form, or the file cannot be written or must not be written over.
    DomainError
        For a value that no report is made of.
    """
    target = Path(path)
    if not replace and target.exists():
        raise JobError(f"{str(path)!r} is there already", hint="move it away, or name another file")
    made = document(result)
    try:
        text = _text(made, target.suffix.lower(), contents)
    except KeyError:
        raise JobError(
            f"{str(path)!r}: no report is written as {target.suffix or 'a file without an ending'}",
            hint="end the name in .html, .md, .tex or .txt",
        ) from None
    try:
        target.write_text(text, encoding="utf-8")
    except OSError as error:
        raise JobError(
            f"{str(path)!r} cannot be written: {error.strerror}", hint="name another place"
        ) from None
    return target


def _text(made: Document, ending: str, contents: bool) -> str:
    writers = {
        ".html": lambda: page(made, contents=contents),
        ".md": lambda: markdown(made),
        ".tex": lambda: latex(made),
        ".txt": lambda: terminal(made, width=_PAPER_COLUMNS),
    }
    return writers[ending]()
