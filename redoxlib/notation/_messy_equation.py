"""Reading an equation that is not plain: where the sides meet, which plus signs separate, what is a count.

Every way to take each plus sign, as charge or as separator, is weighed; the cheapest that reads
throughout is taken.

May import: errors and this package.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product

from redoxlib.errors import BudgetError, NotationError
from redoxlib.notation._arrows import find_arrow
from redoxlib.notation._equation import Equation, Term
from redoxlib.notation._equation import exact as exact_count
from redoxlib.notation._equation_text import MAX_SPECIES, exact
from redoxlib.notation._messy import read_counted
from redoxlib.notation._normal import FRACTIONS
from redoxlib.notation._reading import weight_of
from redoxlib.notation._species import Assumption, Count, Species

__all__ = ["read_messy_equation"]

MAX_PLUSES = 4 * MAX_SPECIES
MAX_ATTEMPTS = 4096
MAX_DOUBTFUL = 5
_TAIL_LENGTH = 80
_WINDOW = 9  # plus signs a single term may hold
_LONGEST = 4096

_PLUS = re.compile(r"[+＋﹢➕]")
# Plus signs that are drawn as part of a charge and separate nothing.
_CHARGE = re.compile(
    r"\^\{[^{}]{0,20}\}|\^\([^()]{0,20}\)|[({\[]\s*[0-9]{0,2}\s*[+＋]+\s*[0-9]{0,2}\s*[)}\]]|(?<![+\-−–⁻])\^\s?[0-9]{0,2}[+＋]|"
    r"<sup>[^<>]{0,20}</sup>"
)
_NUMBERING = re.compile(
    r"\s*(?:\(?(?:[0-9]{1,3}|[a-z]|[ivx]{1,4})\)|[0-9]{1,3}\.(?=\s)|[a-z]\.(?=\s)|[•▪*])\s*"
)
_TITLE = re.compile(r"\s*[A-Za-z][A-Za-z ,.'’-]{2,60}:\s+")
_WRAPPED = re.compile(r"\s*\\(?:ce|mathrm|text|rm|pu)\s*\{")
_TAIL = re.compile(
    r"[\s,;.]{0,8}(?:[,;]\s{0,8}|\s{1,8}|\()(?:Δ|∆|Δ|d|\\Delta\s?)?_?r?\s?(?:H|G|S|E|K|Ecell|E°|ΔE)(?:[°⁰ºo]|_[a-z]+|\^\S{0,12}|rxn|cell)*\s*[=:≈].*$",
    re.DOTALL,
)
_REMARK_TAIL = re.compile(
    r"[\s,;]{1,8}(?:(?:in|under)\s+(?:an?\s+)?)?(?:acidic|acid|basic|alkaline|neutral|aqueous)\s+"
    r"(?:solution|medium|conditions|media)$"
)
_BLANK = re.compile(
    r"\s*(?:\\?_+(?![({0-9A-Za-z])|_{2,}|…+|\.{3,}|□|▢|\?+(?=\s)|\(\s*_*\s*\)|\[\s*_*\s*\])\s*"
)
_COUNT = re.compile(
    r"\s*(?:(?P<whole>[0-9]{1,9})?\s?(?P<glyph>[" + "".join(FRACTIONS) + r"])"
    r"|\\[td]?frac\s*\{?(?P<top>[0-9]{1,9})\}?\s*\{(?P<bottom>[0-9]{1,9})\}"
    r"|\(\s*(?P<ratio>[0-9]{1,9}\s?[/⁄∕]\s?[0-9]{1,9}|[0-9]{1,9})\s*\)(?=\s*[A-Za-z(\[\\])"
    r"|(?P<mixed>[0-9]{1,9}\s[0-9]{1,9}[/⁄∕][0-9]{1,9})"
    r"|(?P<plain>[0-9]{1,9}\s?[/⁄∕]\s?[0-9]{1,9}|[0-9]{1,9}[.,][0-9]{1,9}(?![0-9]*H2O)|[0-9]{1,9}))"
    r"\s*(?:[·*×⋅x]\s*|\\times\s*|\\,\s*|mol\s+)?(?=[^\s0-9])"
)
_LETTER = re.compile(r"\s*([a-zα-ω])(?:\s+|\s*[·*]\s*|(?=[A-Z(\[]))(?=[A-Z(\[\\])")
_MINUS_ELECTRON = re.compile(
    r"^(.*\S)\s*(?:(?<=\s)|(?<=\+))[-−–—]\s*([0-9]{0,3}\s*e(?:\^?\s?[-−–⁻]|\^\{[-−]\})?)\s*$", re.DOTALL
)


@dataclass(frozen=True, slots=True)
class _Read:
    """A term with the assumptions made on it, spans counted in the whole text."""

    count: Count
    species: Species
    notes: tuple[Assumption, ...]
    cost: float


def read_messy_equation(text: str) -> Equation:
    """Read an equation of any style."""
    if not text.strip():
        raise NotationError("an empty text is no equation", source=text, span=(0, max(1, len(text))))
    start, end = _window(text)
    arrow = find_arrow(text, start, end)
    left_end = _dash_given_back(text, start, arrow.start, arrow.end)
    notes: list[Assumption] = []
    left, left_moved = _side(text, start, left_end, notes)
    last = left[-1]
    right, right_moved = _side(text, arrow.end, end, notes)
    left, right = left + right_moved, right + left_moved
    if len(left) + len(right) > MAX_SPECIES:
        raise BudgetError(
            f"an equation of {len(left) + len(right)} species is longer than the limit of {MAX_SPECIES}",
            source=text,
            span=(start, end),
        )
    if arrow.backward:
        left, right = right, left
        why = "the arrow points to the left, so the sides are exchanged"
        notes.append(Assumption((arrow.start, arrow.end), "products <- reactants", "", why))
    if left_end > arrow.start:
        why = "a dash of the arrow is taken as the charge before it"
        notes.append(Assumption((arrow.start, left_end), str(last.species), "", why))
    left, right = _balancing(left, right)
    notes += [note for read in left + right for note in read.notes]
    return Equation(_terms(left), _terms(right), tuple(dict.fromkeys(notes)))


def _balancing(left: list[_Read], right: list[_Read]) -> tuple[list[_Read], list[_Read]]:
    """Put other honest readings in place if that alone makes the equation balance as written."""
    reads = [*left, *right]
    doubtful = [at for at, read in enumerate(reads) if read.species.assumptions]
    if not doubtful or len(doubtful) > MAX_DOUBTFUL:
        return left, right
    for picked in product(*(_alternatives(reads[at]) for at in doubtful)):
        tried = list(reads)
        for at, read in zip(doubtful, picked, strict=True):
            tried[at] = read
        sides = tried[: len(left)], tried[len(left) :]
        if not Equation(_terms(sides[0]), _terms(sides[1])).residual():
            return sides
    return left, right


def _alternatives(read: _Read) -> list[_Read]:
    """Return the term as read and as its assumptions say it could be read as well."""
    found = [read]
    why = "with this reading the equation balances as written"
    for note in read.notes:
        for other in note.other.split(" or "):
            try:
                species = read_counted(other)[0].with_phase(read.species.phase)
            except NotationError:
                continue
            told = Assumption(note.span, str(species), note.read_as, why)
            found.append(_Read(read.count, species, (told,), read.cost))
    return found[:4]


def _terms(side: list[_Read]) -> tuple[Term, ...]:
    return tuple((read.count, read.species) for read in side)


# ------------------------------------------------------------------ the whole text


def _window(text: str) -> tuple[int, int]:
    """Return the part of *text* that is the equation, without numbering, title, wrapper and tail."""
    start, end = 0, len(text)
    for pattern in (_NUMBERING, _TITLE):
        match = pattern.match(text, start, end)
        if match:
            start = match.end()
    while end > start and (text[end - 1].isspace() or text[end - 1] in ".,;$"):
        end -= 1
    while start < end and (text[start].isspace() or text[start] == "$"):
        start += 1
    wrapped = _WRAPPED.match(text, start, end)
    if wrapped and _closes_at_end(text, wrapped.end(), end):
        start, end = wrapped.end(), end - 1
    remark = _REMARK_TAIL.search(text, max(start, end - _TAIL_LENGTH), end)
    if remark:
        end = remark.start()
    tail = _TAIL.search(text, start, end)
    if tail and re.search(r"[→⟶⇌>=]", text[start : tail.start()]):
        end = tail.start()
    return start, end


def _closes_at_end(text: str, start: int, end: int) -> bool:
    depth = 1
    for at in range(start, end):
        depth += (text[at] == "{") - (text[at] == "}")
        if depth == 0:
            return at == end - 1
    return False


def _dash_given_back(text: str, start: int, arrow_start: int, arrow_end: int) -> int:
    """Return the end of the left side: a dash glued to a formula may be its charge, as in ``Cl--> Cl2``."""
    arrow = text[arrow_start:arrow_end]
    if arrow_start <= start or text[arrow_start - 1].isspace() or not re.match(r"[-–—−]{2,}>", arrow):
        return arrow_start
    last = max(text.rfind(plus, start, arrow_start) for plus in "+＋")
    term = text[last + 1 if last >= 0 else start : arrow_start]
    with_dash = _try(term + "-", 0)
    without = _try(term, 0)
    if with_dash is None or with_dash.cost > 0:
        return arrow_start
    if without is None or without.cost > 0 or sum(n for _, n in without.species.atoms) == 1:
        return arrow_start + 1
    return arrow_start


# ------------------------------------------------------------------ one side


def _side(text: str, start: int, end: int, notes: list[Assumption]) -> tuple[list[_Read], list[_Read]]:
    """Read a side; the second list holds electrons written with a minus sign, due on the other side."""
    if not text[start:end].strip(" \t\r\n.,;_"):
        raise NotationError(
            "nothing stands on one side of the arrow",
            source=text,
            span=(max(0, min(start, len(text) - 1)), max(end, start + 1)),
            hint="write the species on both sides",
        )
    moved: list[_Read] = []
    low = max(start, end - _TAIL_LENGTH)
    taken = _MINUS_ELECTRON.match(text[low:end])
    if taken:
        electron = _try(taken.group(2), low + taken.start(2))
        if electron is not None and electron.species.is_electron:
            why = "electrons taken away on one side are electrons on the other"
            span = (low + taken.start(2), low + taken.end(2))
            moved.append(_Read(electron.count, electron.species, (Assumption(span, "e^-", "", why),), 0.0))
            end = low + taken.end(1)
    pluses = _pluses(text, start, end)
    if len(pluses) > MAX_PLUSES:
        raise BudgetError(
            f"{len(pluses)} plus signs on one side are more than the limit of {MAX_PLUSES}",
            source=text,
            span=(pluses[0], pluses[0] + 1),
        )
    side = _cheapest(text, start, end, pluses, notes)
    if side is None:
        raise _first_fault(text, start, end, pluses)
    return side, moved


def _pluses(text: str, start: int, end: int) -> list[int]:
    guarded: set[int] = set()
    for match in _CHARGE.finditer(text, start, end):
        guarded.update(range(match.start(), match.end()))
    return [match.start() for match in _PLUS.finditer(text, start, end) if match.start() not in guarded]


def _cheapest(
    text: str, start: int, end: int, pluses: list[int], notes: list[Assumption]
) -> list[_Read] | None:
    """Cut the side at the plus signs that separate, by dynamic programming over the cuts."""
    starts = [start, *(at + 1 for at in pluses)]
    stops = [*pluses, end]
    best: list[tuple[float, int, _Read | None]] = [(0.0, -1, None)]
    best += [(float("inf"), -1, None) for _ in stops]
    attempts = 0
    for first, here in enumerate(starts):
        cost_here = best[first][0]
        if cost_here == float("inf"):
            continue
        if not text[here:end].strip() and first:
            # A plus sign with nothing after it.
            if cost_here + 4 < best[len(stops)][0]:
                best[len(stops)] = (cost_here + 4, first, None)
            continue
        for last in range(first, min(first + _WINDOW, len(stops))):
            stop = stops[last]
            raw = text[here:stop].strip()
            if len(raw) > _LONGEST:
                break
            attempts += 1
            if attempts > MAX_ATTEMPTS:
                raise BudgetError(
                    "too many plus signs that could be charges",
                    source=text,
                    span=(here, stop),
                    hint="put spaces around the plus signs between species",
                )
            read = _try(raw, text.index(raw, here))
            if read is None:
                continue
            cost = (
                cost_here + read.cost + (0.5 if last > first and _is_spaced(text, stops[last - 1]) else 0.0)
            )
            if cost < best[last + 1][0]:
                best[last + 1] = (cost, first, read)
            if (
                read.cost == 0
                and last < len(pluses)
                and _is_spaced(text, stop)
                and text[stop + 1 : end].strip()
            ):
                break
    if best[-1][0] == float("inf"):
        return None
    side: list[_Read] = []
    at = len(stops)
    while at > 0:
        _, before, read = best[at]
        if read is None:
            why = "a plus sign with nothing after it is left out"
            notes.append(Assumption((pluses[-1], pluses[-1] + 1), "no further species", "a charge", why))
        else:
            side.append(read)
        at = before
    side.reverse()
    _note_plus_at_the_end(text, end, side, notes)
    return side


def _is_spaced(text: str, at: int) -> bool:
    after = text[at + 1 : at + 3]
    return at > 0 and text[at - 1].isspace() and after[:1].isspace() and after.strip()[:1] != "+"


def _note_plus_at_the_end(text: str, end: int, side: list[_Read], notes: list[Assumption]) -> None:
    """Record that a plus sign set apart at the end of a side was taken as a charge."""
    tail = text[:end].rstrip()
    if side and len(tail) > 1 and tail[-1] == "+" and tail[-2].isspace() and side[-1].species.charge > 0:
        why = "the plus sign before the arrow is taken as the charge"
        bare = side[-1].species.formula
        notes.append(Assumption((len(tail) - 1, len(tail)), str(side[-1].species), bare, why))


# ------------------------------------------------------------------ one term


def _try(raw: str, offset: int) -> _Read | None:
    try:
        return _term(raw, offset)
    except NotationError:
        return None


def _term(raw: str, offset: int) -> _Read:
    """Read a term: term = BLANK? (COUNT | LETTER)? species ."""
    count: Count = 1
    notes: tuple[Assumption, ...] = ()
    at = 0
    blank = _BLANK.match(raw)
    if blank:
        at = blank.end()
    counted = _COUNT.match(raw, at)
    lettered = _LETTER.match(raw, at)
    if counted:
        count = _count_of(counted)
        if count == 0:
            raise NotationError(
                "a coefficient of zero", source=raw, span=counted.span(), hint="leave the species out"
            )
        at = counted.end()
    elif lettered:
        at = lettered.end()
        span = (offset + lettered.start(1), offset + lettered.end(1))
        why = "a letter stands where a coefficient belongs"
        notes = (
            Assumption(span, "an unknown coefficient, written as 1", f"a symbol {lettered.group(1)}", why),
        )
    rest = raw[at:]
    lead = len(rest) - len(rest.lstrip())
    species, factor = read_counted(rest.strip())
    count = exact_count(count * factor)
    inner = tuple(note.moved(offset + at + lead) for note in species.assumptions)
    if species.is_electron:
        cost = 0.0
    else:
        weight = weight_of(species.atoms, species.charge)
        cost = 0.0 if weight == 0 else (1.0 if weight < 3 else weight)
    return _Read(count, species, notes + inner, cost + 1.5 * bool(notes or inner))


def _count_of(match: re.Match[str]) -> Count:
    found = match.groupdict()
    if found["glyph"]:
        value = Fraction(FRACTIONS[found["glyph"]]) + int(found["whole"] or 0)
        return int(value) if value.denominator == 1 else value
    if found["top"]:
        ratio = f"{found['top']}/{found['bottom']}"
    elif found["mixed"]:
        whole, ratio = found["mixed"].split()
        ratio = ratio.replace("⁄", "/").replace("∕", "/")
        return _checked(ratio, match) + int(whole)
    else:
        ratio = found["ratio"] or found["plain"]
    return _checked("".join(ratio.split()).replace("⁄", "/").replace("∕", "/").replace(",", "."), match)


def _checked(ratio: str, match: re.Match[str]) -> Count:
    if re.search(r"/0+$", ratio):
        written = match.group().rstrip()
        span = (match.start(), match.start() + len(written))
        raise NotationError("a coefficient divided by zero", source=match.string, span=span)
    return exact(ratio)


def _first_fault(text: str, start: int, end: int, pluses: list[int]) -> NotationError:
    """Return the error of the first term that cannot be read, placed in the whole text."""
    spaced = [at for at in pluses if _is_spaced(text, at)]
    for cuts in (spaced, pluses):
        bounds = [start - 1, *cuts, end]
        for before, after in pairwise(bounds):
            piece = text[before + 1 : after]
            if not piece.strip():
                at = min(max(before, 0), len(text) - 1)
                return NotationError(
                    "a plus sign with nothing next to it", source=text, span=(at, at + 1), hint="remove it"
                )
            if len(piece.strip()) > _LONGEST:
                return BudgetError(
                    f"a species of {len(piece.strip())} characters is longer than the limit of {_LONGEST}",
                    source=text,
                    span=(before + 1, after),
                )
            try:
                _term(piece, before + 1)
            except NotationError as error:
                return _placed(error, text, before + 1, piece)
    return NotationError("this side cannot be read", source=text, span=(start, max(end, start + 1)))


def _placed(error: NotationError, text: str, offset: int, piece: str) -> NotationError:
    """Return *error* with its span counted in the whole text."""
    shift = offset
    if error.source is not None and error.source != piece:
        inside = piece.find(error.source)
        shift += max(inside, 0)
    span = error.span or (0, len(piece))
    kind = type(error)
    return kind(
        error.message,
        source=text,
        span=(span[0] + shift, max(span[0] + shift + 1, span[1] + shift)),
        hint=error.hint,
        **error.fields,
    )
