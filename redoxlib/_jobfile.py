"""Job files: TOML in, the fields of a Job out, every fault with its line.

Verbs: read_job_file, open_job_file.  The one door to attrs and cattrs.

May import: errors; of ``job`` only the names of its keys.
"""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from functools import partial
from operator import eq
from pathlib import Path
from typing import Any, TypeAlias

import attrs
import cattrs
from cattrs.errors import AttributeValidationNote, ForbiddenExtraKeysError

from redoxlib.errors import JobError, unreadable_toml
from redoxlib.job import CRITERIA, unknown_key_hint

__all__ = ["JobFile", "open_job_file", "read_job_file"]

_LIMIT = 1_000_000  # characters; a job is a page, not a book

Words: TypeAlias = list[str]
Pairs: TypeAlias = str | list[str | list[str]]
WordOrNumber: TypeAlias = str | int | float
Labels: TypeAlias = list[str] | dict[str, str]


@attrs.frozen(kw_only=True)
class _Shape:
    """The types a job file may hold; what the texts mean is for Job to say."""

    conversions: Pairs
    purpose: str | None = None
    medium: WordOrNumber | None = None
    feed: str | None = None
    amount: str | None = None
    concentration: str | None = None
    acid: str | None = None
    base: str | None = None
    bottles: Labels | None = None
    oxidants: Words | None = None
    impurities: dict[str, str] | None = None
    excess: WordOrNumber | None = None
    addition: Words | None = None
    temperature: str | None = None
    pot_mass: str | None = None
    cooling: str | None = None
    vessel: str | None = None
    room: str | None = None
    potable: bool | None = None
    weights: dict[str, float] | None = None
    context: str | None = None
    time: str | None = None
    volts: str | None = None


@attrs.frozen
class JobFile:
    """A job file that could be read.

    Attributes
    ----------
    path : str
    fields : dict
        Arguments for ``Job``.
    lines : dict
        Key (``weights.mass`` for one inside a table) to its line, from 1.
    faults : tuple of str
        What is wrong with keys and types, each after its key; those keys are not among the fields.
    """

    path: str
    fields: dict[str, Any]
    lines: dict[str, int]
    faults: tuple[str, ...] = ()

    def located(self, error: JobError) -> JobError:
        """Return the error with file and line before every fault."""
        placed = sorted((self._placed(fault) for fault in error.faults), key=lambda pair: pair[0])
        faults = tuple(fault for _, fault in placed) or (f"{self.path}: {error.message}",)
        return _job_error(self.path, faults, error)

    def _placed(self, fault: str) -> tuple[int, str]:
        key, _, what = fault.partition(":")
        # The key of a table that the fault names first is the one it is about.
        inner = [name for name in self.lines if name.startswith(f"{key}.") and name.partition(".")[2] in what]
        line = self.lines.get(min(inner, key=lambda name: what.find(name.partition(".")[2]), default=key))
        return (line, f"{self.path}:{line}: {fault}") if line else (0, f"{self.path}: {fault}")


def _job_error(path: str, faults: tuple[str, ...], like: JobError | None = None) -> JobError:
    one = len(faults) == 1
    message = faults[0] if one else f"{len(faults)} faults in {path}:\n  " + "\n  ".join(faults)
    if like is None or not one:
        return JobError(message, faults=faults)
    return JobError(message, source=like.source, span=like.span, hint=like.hint, faults=faults)


def read_job_file(path: str | os.PathLike[str]) -> JobFile:
    """Read a job file and check its keys and types.

    Raises
    ------
    JobError
        When the file is missing or no TOML (line and column are named), or with every unknown key and
        every value of a wrong type at once.
    """
    file = open_job_file(path)
    if file.faults:
        raise file.located(JobError("", faults=file.faults))
    return file


def open_job_file(path: str | os.PathLike[str]) -> JobFile:
    """Read a job file and keep what is wrong with its keys and types, so that the rest can be read too.

    Raises
    ------
    JobError
        When the file is missing or no TOML.
    """
    name = os.fspath(path)
    text = _text(name)
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _unreadable(name, text, error) from None
    faults = tuple(_faults(raw))
    faulty = {fault.partition(":")[0] for fault in faults}
    fields = {key: value for key, value in raw.items() if key not in faulty}
    return JobFile(name, fields, _key_lines(text), faults)


def _text(name: str) -> str:
    try:
        text = Path(name).read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise JobError(
            f"there is no job file {name}",
            hint="redoxlib start CONVERSION -o FILE writes one",
            faults=(name,),
        ) from None
    except UnicodeDecodeError as error:
        raise JobError(f"{name} is not UTF-8 text (byte {error.start})", faults=(name,)) from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = getattr(error, "strerror", None) or error
        raise JobError(f"{name} cannot be read: {reason}", faults=(name,)) from None
    if len(text) > _LIMIT:
        raise JobError(f"{name} has {len(text)} characters; a job file has at most {_LIMIT}", faults=(name,))
    return text


def _unreadable(name: str, text: str, error: tomllib.TOMLDecodeError) -> JobError:
    message, source, span, hint = unreadable_toml(name, text, error)
    return JobError(message, source=source, span=span, hint=hint, faults=(message,))


# ---------------------------------------------------------------------------------------------------
# Types.

_WANTED = {
    "amount": '"0.80 mol", "150 g" or "500 mL"',
    "concentration": '"1 mol/L"',
    "cooling": '"50 W"',
    "pot_mass": '"1.2 kg"',
    "room": '"30 m3"',
    "temperature": '"25 C"',
    "time": '"2 h"',
    "volts": '"3 V"',
}


def _kind(value: object) -> str:
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, (int, float)):
        return "a number"
    for shape, name in ((str, "a text"), (list, "a list"), (dict, "a table")):
        if isinstance(value, shape):
            return name
    return "a date or time"


def _wrong(value: object, wanted: str) -> TypeError:
    shown = repr(value) if len(repr(value)) <= 60 else repr(value)[:57] + "..."
    return TypeError(f"{shown} is {_kind(value)}, wanted is {wanted}")


def _a_text(value: object, _: object = None) -> str:
    if not isinstance(value, str):
        raise _wrong(value, "a text in quotation marks")
    return value


def _a_number(value: object, _: object = None) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise _wrong(value, "a number")
    return float(value)


def _a_truth(value: object, _: object = None) -> bool:
    if not isinstance(value, bool):
        raise _wrong(value, "true or false, without quotation marks")
    return value


def _text_or_number(value: object, _: object = None) -> str | float:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise _wrong(value, "a text or a number")
    return value


def _texts(value: object, _: object = None) -> list[str]:
    if isinstance(value, str):
        return [value]
    if not isinstance(value, list):
        raise _wrong(value, 'a list of texts, such as ["...", "..."]')
    return [_a_text(item) for item in value]


def _labels(value: object, _: object = None) -> list[str] | dict[str, str]:
    if isinstance(value, dict):
        return {key: _a_text(item) for key, item in value.items()}
    return _texts(value)


def _conversions(value: object, _: object = None) -> str | list[str | list[str]]:
    if isinstance(value, str):
        return value
    if not isinstance(value, list) or not value:
        raise _wrong(value, 'a text "feed -> target", or a list of ["feed -> target", "amount"]')
    found: list[str | list[str]] = []
    for item in value:
        if isinstance(item, list) and (len(item) != 2 or not all(isinstance(part, str) for part in item)):
            raise TypeError(f'{item!r} is no pair ["feed -> target", "amount"]')
        found.append([*item] if isinstance(item, list) else _a_text(item))
    return found


def _table_of_texts(value: object, _: object = None) -> dict[str, str]:
    if not isinstance(value, dict):
        raise _wrong(value, 'a table, such as { "NaCl" = "2 % w/w" }')
    wrong = [
        f'{key} = {item!r} is {_kind(item)}, wanted is a text such as "2 % w/w"'
        for key, item in value.items()
        if not isinstance(item, str)
    ]
    if wrong:
        raise TypeError(*wrong)
    return value


def _table_of_numbers(value: object, _: object = None) -> dict[str, float]:
    if not isinstance(value, dict):
        raise _wrong(value, "a table, such as { mass = 1.0, exotherm = 2.0 }")
    wrong = []
    for key, item in value.items():
        if key not in CRITERIA:
            near = get_close_matches(key, CRITERIA, n=1)
            mend = f"did you mean {near[0]!r}?" if near else f"known are {', '.join(CRITERIA)}"
            wrong.append(f"{key!r} is no criterion; {mend} (keys below a [weights] line belong to it)")
        elif isinstance(item, bool) or not isinstance(item, (int, float)):
            wrong.append(f"{key} = {item!r} is {_kind(item)}, wanted is a number")
    if wrong:
        raise TypeError(*wrong)
    return value


def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(forbid_extra_keys=True, detailed_validation=True)
    converter.register_structure_hook(str, _a_text)
    converter.register_structure_hook(float, _a_number)
    converter.register_structure_hook(bool, _a_truth)
    hooks: tuple[tuple[object, Callable[[Any, Any], Any]], ...] = (
        (Pairs, _conversions),
        (Words, _texts),
        (WordOrNumber | None, _text_or_number),
        (Labels | None, _labels),
        (dict[str, str], _table_of_texts),
        (dict[str, float], _table_of_numbers),
    )
    for shape, hook in hooks:
        converter.register_structure_hook_func(partial(eq, shape), hook)
    return converter


def _faults(raw: Mapping[str, Any]) -> Iterator[str]:
    try:
        _converter().structure(raw, _Shape)
    except cattrs.ClassValidationError as group:
        # In the order of the file, so that a reader mends from the top.
        order = {key: place for place, key in enumerate(raw)}
        found = [pair for error in group.exceptions for pair in _pairs(error)]
        for key, what in sorted(found, key=lambda pair: order.get(pair[0], -1)):
            yield f"{key}: {what}"


def _pairs(error: Exception) -> Iterator[tuple[str, str]]:
    if isinstance(error, ForbiddenExtraKeysError):
        for key in sorted(error.extra_fields):
            yield key, f"unknown key; {unknown_key_hint(key)}"
    elif isinstance(error, KeyError):
        yield "conversions", 'missing; write conversions = "feed -> target"'
    else:
        notes = getattr(error, "__notes__", [])
        key = next((note.name for note in notes if isinstance(note, AttributeValidationNote)), "job")
        wanted = f" such as {_WANTED[key]}" if key in _WANTED else ""
        for what in error.args:  # a table may hold several faults
            yield key, f"{what}{wanted}"


# ---------------------------------------------------------------------------------------------------
# Lines.  tomllib tells no lines, so the keys are looked up in the text that it has already accepted.

_NAME = r"(?:[A-Za-z0-9_-]+|\"(?:[^\"\\]|\\.)*\"|'[^']*')"
_HEADER = re.compile(rf"\s*\[\[?\s*({_NAME}(?:\s*\.\s*{_NAME})*)\s*\]")
_KEY = re.compile(rf"\s*({_NAME}(?:\s*\.\s*{_NAME})*)\s*=")
_INNER = re.compile(rf"[{{,]\s*({_NAME})\s*=")
_PIECE = re.compile(r"\"\"\"|'''|\"(?:[^\"\\]|\\.)*\"|'[^']*'|#.*|[\[\]{}]")


def _key_lines(text: str) -> dict[str, int]:
    lines: dict[str, int] = {}
    table, depth, quote = "", 0, ""
    for number, line in enumerate(text.splitlines(), 1):
        rest = line
        if quote:
            _, closed, rest = line.partition(quote)
            if not closed:
                continue
            quote = ""
        elif depth == 0:
            header, key = _HEADER.match(line), _KEY.match(line)
            if header:
                table = _clean(header[1])
                lines.setdefault(table, number)
                continue
            if key:
                name = f"{table}.{_clean(key[1])}" if table else _clean(key[1])
                lines.setdefault(name.partition(".")[0], number)
                lines.setdefault(name, number)
                for inner in _INNER.finditer(line, key.end()):
                    lines.setdefault(f"{name}.{_clean(inner[1])}", number)
                rest = line[key.end() :]
        for piece in _PIECE.finditer(rest):
            mark = piece[0]
            if mark in ('"""', "'''"):
                quote = "" if quote == mark else quote or mark
            elif not quote and mark in "[]{}":
                depth += 1 if mark in "[{" else -1
    return lines


def _clean(name: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in name.split("."))
