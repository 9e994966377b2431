"""Every public exception, under one root.

Each class also has a builtin parent, so a caller may catch ``ValueError`` or ``LookupError``
without knowing the library.  The fields ``source``, ``span`` and ``hint`` stay readable after
wrapping and pickling; the printed message underlines ``span`` inside ``source``.

May import: nothing of redoxlib.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

__all__ = [
    "AmbiguousSpeciesError",
    "BudgetError",
    "CommandError",
    "DomainError",
    "ImpossibleError",
    "JobError",
    "MissingDataError",
    "MissingExtraError",
    "NotUniqueError",
    "NotationError",
    "RedoxlibError",
    "TableError",
    "UnitError",
    "UnsafeRouteError",
]

_WINDOW = 72  # characters of source shown around a fault


def _excerpt(source: str, span: tuple[int, int]) -> tuple[str, str]:
    """Return one printable line around *span* and the caret line under it."""
    start, end = span
    line_start = source.rfind("\n", 0, start) + 1
    line_end = source.find("\n", start)
    line_end = len(source) if line_end < 0 else line_end
    low = max(line_start, min(start - _WINDOW // 2, line_end - _WINDOW))
    high = min(line_end, low + _WINDOW)
    # A control character would break the alignment of the carets, so each is shown as one dot.
    shown = "".join(c if c.isprintable() else "·" for c in source[low:high])
    head = "..." if low > line_start else ""
    tail = "..." if high < line_end else ""
    width = max(1, min(end, high) - start)
    return head + shown + tail, " " * (len(head) + max(0, start - low)) + "^" * width


class RedoxlibError(Exception):
    """Root of all errors raised on purpose by redoxlib.

    Parameters
    ----------
    message : str
        What was wrong, in one sentence.
    source : str, optional
        The text the fault was found in.
    span : tuple of int, optional
        Start and end offsets of the fault within *source*.
    hint : str, optional
        What would mend it.
    **fields
        Further structured facts; each becomes an attribute.
    """

    def __init__(
        self,
        message: str,
        *,
        source: str | None = None,
        span: tuple[int, int] | None = None,
        hint: str | None = None,
        **fields: Any,
    ) -> None:
        super().__init__(message)
        self.message = message
        self.source = source
        self.span = span
        self.hint = hint
        self.fields: Mapping[str, Any] = fields
        for name, value in fields.items():
            setattr(self, name, value)

    def __str__(self) -> str:
        lines = [self.message]
        if self.source is not None and self.span is not None:
            shown, carets = _excerpt(self.source, self.span)
            lines += [f"  {shown}", f"  {carets}"]
        if self.hint:
            lines.append(f"  {self.hint}")
        return "\n".join(lines)

    def __reduce__(self) -> tuple[Callable[..., RedoxlibError], tuple[Any, ...]]:
        return _rebuild, (type(self), self.message, self.source, self.span, self.hint, dict(self.fields))


def _rebuild(
    kind: type[RedoxlibError],
    message: str,
    source: str | None,
    span: tuple[int, int] | None,
    hint: str | None,
    fields: dict[str, Any],
) -> RedoxlibError:
    return kind(message, source=source, span=span, hint=hint, **fields)


class NotationError(RedoxlibError, ValueError):
    """The text of a species, an equation or a strength cannot be read."""


def no_text(value: object, hint: str) -> NotationError:
    """The error for a value given where text is wanted; the caller raises it."""
    from reprlib import repr as shortened

    return NotationError(f"{shortened(value)} is no text", hint=hint)


class AmbiguousSpeciesError(NotationError):
    """The text has several readings that the tables cannot decide between; ``.choices`` lists them."""

    choices: Sequence[str] = ()


class BudgetError(NotationError):
    """The input is larger or deeper than the documented limits."""


class UnitError(RedoxlibError, ValueError):
    """Two quantities or units do not go together, or a strength lacks its basis."""


class DomainError(RedoxlibError, ValueError):
    """A number lies outside the range where the question has an answer."""


class ImpossibleError(RedoxlibError, ValueError):
    """No set of positive coefficients balances the equation.

    ``.reason`` says why in words, ``.certificate`` maps elements and "charge" to integer weights
    that a person can check, ``.repairs`` lists the smallest additions that would balance.
    """

    reason: str = ""
    certificate: Mapping[str, int] | None = None
    repairs: Sequence[Any] = ()


class NotUniqueError(RedoxlibError, ValueError):
    """Several independent equations balance; ``.members`` and ``.choice`` hold them."""

    members: Sequence[Any] = ()
    choice: Any = None


class MissingDataError(RedoxlibError, LookupError):
    """The tables are silent; ``.what`` and ``.looked_in`` say on what and where."""

    what: str = ""
    looked_in: Sequence[str] = ()


class TableError(RedoxlibError, ValueError):
    """A data table is malformed; ``.faults`` lists every fault found, not only the first."""

    faults: Sequence[str] = ()


class JobError(RedoxlibError, ValueError):
    """A job cannot be understood; ``.faults`` lists every fault with its key."""

    faults: Sequence[str] = ()


class CommandError(RedoxlibError, ValueError):
    """A command line has an option or an argument that no command takes."""


class UnsafeRouteError(RedoxlibError, RuntimeError):
    """The safety gate stopped the work; ``.reasons`` lists rule, text and source."""

    reasons: Sequence[Any] = ()


class MissingExtraError(RedoxlibError, ImportError):
    """An optional library is not installed; the hint names the extra that brings it."""


def unreadable_toml(
    name: str, text: str, error: Exception
) -> tuple[str, str | None, tuple[int, int] | None, str | None]:
    """Message, line, place in the line and hint for a file that the TOML reader refused."""
    import re

    said = str(error)
    where = re.compile(r" \(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)$")
    place = where.search(said)
    rows = text.splitlines() or [""]
    line, column = len(rows), len(rows[-1]) + 1
    if place and place[1]:
        line, column = int(place[1]), int(place[2])
    what = where.sub("", said)
    shown = rows[line - 1] if line <= len(rows) else ""
    hint = None
    if re.search(r"=\s*(?:[0-9.]+\s*[A-Za-z%]|[A-Za-z])", shown) and not re.search(
        r"=\s*(?:true|false|inf|nan)", shown
    ):
        hint = 'texts stand in quotation marks: amount = "0.80 mol"'
    message = f"{name}:{line}:{column}: not readable as TOML: {what[:1].lower()}{what[1:]}"
    start = min(max(column - 1, 0), len(shown))
    return message, shown or None, (start, start + 1) if shown else None, hint
