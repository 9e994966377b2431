"""Find equations in files and check them.  Verbs: verify, equations_in.

Reads Markdown, reStructuredText, LaTeX with mhchem, CSV cells, Python strings and docstrings, TOML, and the
cells of notebooks; every equation comes with the line an editor would jump to.

Conservative on purpose: what is not clearly a chemical equation is left alone, so that a prose arrow, a
type hint or a mere conversion (``Br- -> Br2``, one term a side and no coefficient) is never called wrong.

May import: errors, notation, stoichiometry, _fix.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from redoxlib._fix import nearest_fix
from redoxlib.errors import DomainError, RedoxlibError
from redoxlib.notation import Equation
from redoxlib.stoichiometry import Check, check

__all__ = ["SUFFIXES", "WRONG", "Finding", "equations_in", "verify"]

SUFFIXES = (".txt", ".md", ".rst", ".py", ".csv", ".tsv", ".tex", ".toml", ".ipynb")
"""Files that a directory is searched for; a file named outright is read whatever its suffix."""

SKIP = "redoxlib: skip"
"""A line that holds these words is not read."""

WRONG = "redoxlib: wrong"
"""A line that holds these words shows an equation that is meant not to balance."""

_SOURCE = re.compile(r'(?<!\\)"source"\s*:\s*')
_BLANK = re.compile(r"[\s,]*")
_ARROW = re.compile(r"<=>|<->|-->|->|=>|→|⟶|⇌|⇄|\\rightarrow|\\rightleftharpoons|\\longrightarrow")
_CE = re.compile(r"\\ce\{((?:[^{}]|\{[^{}]*\})*)\}")
_QUOTED = re.compile(r"`([^`\n]+)`|\"([^\"\n]+)\"|'([^'\n]+)'")
_LEAD = re.compile(r"^\s*(?:[-*+>#|]\s+|\(?[0-9]{1,3}[.)]\s+|\(?[a-z][.)]\s+|#+:?\s*|>>>\s*)*")
_WORD = re.compile(r"(?<![A-Za-z\\{^])(?!aq\b|ppt\b)[a-z]{3,}|[A-Z][a-z]{3,}|[?!;:=]{1}")
_HUGE = re.compile(r"[0-9]{7,}")  # no count of atoms or molecules in a printed equation is this long
_TAIL = re.compile(r"[\s.,;:$|]+$")
_CONDITION = re.compile(r"(->|<=>|<->|<-->)\s*\[[^\]]*\](?:\s*\[[^\]]*\])?")
_TEX_MARKS = re.compile(r"&|\\\\")  # alignment and line end; gas and precipitate marks have a reader
_SEMICOLONS = ".csv;"
_DELIMITERS = {".csv": ",", ".tsv": "\t", _SEMICOLONS: ";"}
_MOST_JOINED = 20  # lines one equation may run over
_MAX_FILE = 20_000_000  # characters; a book fits, a disc image does not


@dataclass(frozen=True, slots=True)
class Finding:
    """One equation found in a file and what ``check`` says about it.

    ``wrong`` is True where its line says that it is meant not to balance.
    """

    file: str
    line: int
    text: str
    check: Check
    wrong: bool = False

    @property
    def as_meant(self) -> bool:
        """Whether it balances, or fails to where it is meant to fail."""
        return self.check.balanced != self.wrong

    @property
    def fix(self) -> str:
        """The nearest change that balances it; empty where it balances or none is found."""
        return nearest_fix(self.check.equation)

    def __str__(self) -> str:
        head, *_ = str(self.check).splitlines()
        where = f"{self.file}:{self.line}: "
        if self.as_meant:
            return f"{where}{head}" + (", as marked" if self.wrong else "")
        if self.wrong:
            return f"{where}marked as wrong, and balances\n    {self.text}"
        fix = self.fix
        return f"{where}{head}\n    {self.text}\n    {f'nearest fix: {fix}' if fix else 'no fix found'}"


def verify(*paths: str | os.PathLike[str]) -> tuple[Finding, ...]:
    """Check every equation in files, or in the text files of directories.

    Raises
    ------
    DomainError
        When a path cannot be read.
    """
    return tuple(finding for path in paths for finding in _in_path(Path(path)))


def _in_path(path: Path) -> Iterator[Finding]:
    try:
        folder = path.is_dir()
    except OSError:  # too long for a name; reading it says so
        folder = False
    if folder:
        for file in sorted(path.rglob("*")):
            hidden = any(part.startswith(".") for part in file.relative_to(path).parts)
            if file.suffix in SUFFIXES and file.is_file() and not hidden:
                yield from equations_in(file)
    else:
        yield from equations_in(path)


def equations_in(path: Path) -> Iterator[Finding]:
    """Yield every equation of a file in the order of its lines.

    Raises
    ------
    DomainError
        When the file cannot be read as text.
    """
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = getattr(error, "strerror", None) or error
        raise DomainError(f"{path} cannot be read: {reason}", hint="name text files or directories") from None
    if len(text) > _MAX_FILE or "\0" in text[:4096]:
        raise DomainError(f"{path} is no text file of reasonable size", hint="name text files or directories")
    for number, line, kind in _lines(text, path.suffix):
        if SKIP in line or not _ARROW.search(line):
            continue
        wrong = WRONG in line
        bare = _unmarked(line) if wrong else line
        for candidate in dict.fromkeys(_candidates(bare, kind)):
            found = _read(candidate)
            if found is not None:
                yield Finding(str(path), number, candidate, found, wrong)


def _unmarked(line: str) -> str:
    """Drop the mark and the comment sign before it, so that it is not read as part of the equation."""
    head, _, _ = line.partition(WRONG)
    return head.rstrip().removesuffix("<!--").rstrip(" #%.")


def _lines(text: str, suffix: str) -> Iterator[tuple[int, str, str]]:
    """Number and text of each line, and the suffix by whose manners it is read."""
    if suffix == ".ipynb":
        yield from ((number, line, ".md") for number, line in _notebook_lines(text))
        return
    lines = text.splitlines()
    if suffix == ".tex":
        yield from ((number, line, suffix) for number, line in _tex_lines(lines))
        return
    if suffix == ".csv" and lines and lines[0].count(";") > lines[0].count(","):
        suffix = _SEMICOLONS
    prose = _string_lines(text) if suffix == ".py" else frozenset()
    for number, line in enumerate(lines, 1):
        plain = number in prose and not line.lstrip().startswith((">>>", "..."))
        yield number, line, ".rst" if plain else suffix


def _tex_lines(lines: list[str]) -> Iterator[tuple[int, str]]:
    r"""Lines of LaTeX, those that one ``\ce{`` spans joined to the first of them."""
    held, start = "", 0
    for number, line in enumerate(lines, 1):
        if not held:
            start = number
        held = f"{held} {line}" if held else line
        head = held.rfind("\\ce{")
        opened = head >= 0 and held.count("{", head) > held.count("}", head)
        if not opened or number - start >= _MOST_JOINED:
            yield start, held
            held = ""
    if held:
        yield start, held


def _string_lines(text: str) -> frozenset[int]:
    """Numbers of the lines of Python source that lie in a string of several lines, such as a docstring."""
    import io
    import tokenize

    found: set[int] = set()
    try:
        for token in tokenize.generate_tokens(io.StringIO(text).readline):
            if token.type == tokenize.STRING and token.end[0] > token.start[0]:
                found.update(range(token.start[0] + 1, token.end[0]))
    except (tokenize.TokenError, SyntaxError):
        pass  # no sound Python: what was found up to there
    return frozenset(found)


def _notebook_lines(whole: str) -> Iterator[tuple[int, str]]:
    """Source lines of the cells with the line each has in the file; outputs are left alone.

    A cell source kept as one long string, or all in one line of the file, keeps the line it stands in.
    """
    try:
        json.loads(whole)
    except ValueError as error:
        raise DomainError(f"no notebook: {error}", hint="a notebook is a JSON file") from None
    decoder = json.JSONDecoder()
    for key in _SOURCE.finditer(whole):
        start = key.end()
        if whole[start] != "[":
            told, _ = decoder.raw_decode(whole, start)
            pieces = [(start, told)] if isinstance(told, str) else []
        else:
            pieces = []
            position = _BLANK.match(whole, start + 1).end()  # type: ignore[union-attr]
            while whole[position] == '"':
                told, end = decoder.raw_decode(whole, position)
                pieces.append((position, told))
                position = _BLANK.match(whole, end).end()  # type: ignore[union-attr]
        for position, told in pieces:
            number = whole.count("\n", 0, position) + 1
            yield from ((number, line) for line in told.splitlines())


def _candidates(line: str, suffix: str) -> Iterator[str]:
    """The pieces of a line that may be an equation: mhchem, quoted, table cells, or the whole line."""
    marked = [_TEX_MARKS.sub(" ", _CONDITION.sub(r"\1", match[1])) for match in _CE.finditer(line)]
    if marked or suffix == ".tex":
        yield from (text for text in marked if _ARROW.search(text))
        return
    quoted = [next(filter(None, match.groups())) for match in _QUOTED.finditer(line)]
    quoted = [text for text in quoted if _ARROW.search(text)]
    if quoted or suffix == ".py":
        yield from quoted
        if suffix != ".py" or not line.lstrip().startswith("#"):
            return
    if suffix in _DELIMITERS:
        import csv

        try:
            rows = list(csv.reader([line], delimiter=_DELIMITERS[suffix]))
        except csv.Error:  # a cell beyond the limit of the csv module holds no equation
            return
        yield from (cell.strip() for row in rows for cell in row if _ARROW.search(cell))
        return
    whole = _LEAD.sub("", line)
    if "|" in whole:
        yield from (cell.strip() for cell in whole.split("|") if _ARROW.search(cell))
        return
    # "Reaction 3: ..." keeps what follows the colon.
    head, colon, tail = whole.partition(": ")
    yield tail if colon and not _ARROW.search(head) else whole


def _read(text: str) -> Check | None:
    """Check a candidate, or None where it is not clearly an equation."""
    text = _TAIL.sub("", text.strip().strip("$"))
    arrows = _ARROW.findall(text)
    if len(arrows) != 1 or len(text) > 400 or _HUGE.search(text):
        return None
    if _WORD.search(_ARROW.sub(" ", text)):
        return None
    try:
        equation = Equation.parse(text)
    except RedoxlibError:
        return None
    if not _claims_balance(equation):
        return None
    result = check(equation)
    couple = len(equation.reactants) == len(equation.products) == 1 and set(result.residual) == {"charge"}
    return None if couple else result  # S2O8^2- -> 2 SO4^2- names a couple; its electrons are left out


def _claims_balance(equation: Equation) -> bool:
    """Several terms on a side, or a coefficient: somebody meant the two sides to agree."""
    terms = (*equation.reactants, *equation.products)
    if not equation.reactants or not equation.products:
        return False
    several = len(equation.reactants) > 1 or len(equation.products) > 1
    written = any(count != 1 for count, _ in terms)
    chemistry = any(
        len(s.elements) > 1 or s.charge or max(s.elements.values(), default=1) > 1 for _, s in terms
    )
    return (several or written) and chemistry
