"""Likely misprints of a formula: lost capitals, and characters that look alike.

May import: the list of symbols.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from redoxlib.notation._elements import SYMBOLS

__all__ = ["lookalikes", "recased"]

MOST_LETTERS = 14
MOST_VARIANTS = 128

_RUN = re.compile(r"[A-Za-z]+")


def recased(body: str) -> Iterator[str]:
    """Yield the other ways to set capitals so that every symbol is an element.

    Nothing is offered for text that mixes capitals and small letters soundly, such as NaCl, nor
    for text of more than fourteen letters.
    """
    letters = "".join(_RUN.findall(body))
    if not letters or len(letters) > MOST_LETTERS:
        return
    if not (letters.isupper() or letters.islower()) and _sound(letters):
        return
    pieces: list[list[str]] = []
    last = 0
    for run in _RUN.finditer(body):
        pieces.append([body[last : run.start()]])
        pieces.append(_splits(run.group()))
        last = run.end()
    pieces.append([body[last:]])
    count = 0
    # Depth-first over the choices, without recursion.
    stack: list[tuple[int, str]] = [(0, "")]
    while stack and count < MOST_VARIANTS:
        index, text = stack.pop()
        if index == len(pieces):
            if text != body:
                count += 1
                yield text
            continue
        for choice in reversed(pieces[index]):
            stack.append((index + 1, text + choice))


def _sound(letters: str) -> bool:
    return all(symbol in SYMBOLS for symbol in re.findall("[A-Z][a-z]*", letters)) and letters[0].isupper()


def _splits(run: str) -> list[str]:
    """Return every way to cut a run of letters into symbols, two-letter symbols first."""
    done: list[str] = []
    stack: list[tuple[int, str]] = [(0, "")]
    while stack and len(done) < MOST_VARIANTS:
        at, text = stack.pop()
        if at == len(run):
            done.append(text)
            continue
        one = run[at].upper()
        two = one + run[at + 1].lower() if at + 1 < len(run) else ""
        if one in SYMBOLS:
            stack.append((at + 1, text + one))
        if two in SYMBOLS:
            stack.append((at + 2, text + two))
    return done


_SWAPS: tuple[tuple[re.Pattern[str], str, str], ...] = (
    (re.compile(r"(?<=[A-Za-z0-9)(])0|^0"), "O", "a zero is taken for the letter O"),
    (re.compile(r"(?<=C)I"), "l", "a capital I is taken for a small l"),
    (re.compile(r"(?<=C)1"), "l", "a one is taken for a small l"),
    (re.compile(r"(?<![A-Za-z])l|(?<=[KHb0-9)gau])l"), "I", "a small l is taken for a capital I"),
    (re.compile(r"(?<=A)[I1]"), "l", "a capital I or a one is taken for a small l"),
)


def lookalikes(body: str) -> Iterator[tuple[str, str]]:
    """Yield the body with look-alike characters exchanged, and why."""
    seen = {body}
    forms = [(body, "")]
    for pattern, replacement, why in _SWAPS:
        for text, reason in list(forms):
            for changed in _one_and_all(pattern, replacement, text):
                if changed not in seen and len(seen) < 64:
                    seen.add(changed)
                    told = f"{reason}; {why}" if reason else why
                    forms.append((changed, told))
                    yield changed, told
    if re.search(r"[A-Za-z)\]]0[1-9]", body):
        yield re.sub(r"(?<=[A-Za-z)\]])0(?=[1-9])", "", body), "a stray zero is left out"


def _one_and_all(pattern: re.Pattern[str], replacement: str, text: str) -> Iterator[str]:
    found = list(pattern.finditer(text))
    if not found:
        return
    yield pattern.sub(replacement, text)
    if 1 < len(found) <= 4:
        for match in found:
            yield text[: match.start()] + replacement + text[match.end() :]
