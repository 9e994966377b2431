"""Which reading is taken, which others are honest enough to be told, and what an implausible one hides.

May import: this package.
"""

from __future__ import annotations

import re
from dataclasses import replace

from redoxlib.notation._known import common, is_metal, known, plausible
from redoxlib.notation._names import names
from redoxlib.notation._normal import Glyphs
from redoxlib.notation._reading import KNOWN, PLAUSIBLE, Reading, reading_of
from redoxlib.notation._species import Assumption, Phase, Species, assemble
from redoxlib.notation._variants import lookalikes, recased

__all__ = ["chosen", "doubted", "finished"]


def finished(
    reading: Reading,
    literal: Reading | None,
    span: tuple[int, int],
    phase: Phase,
    extra: tuple[Assumption, ...] = (),
) -> Species:
    """Settle the isomer, note what departs from the letter, and build the species."""
    notes = extra
    if reading.why and reading.told:
        other = literal.text if literal is not None and literal.text != reading.text else ""
        notes = (*notes, Assumption(span, reading.text, other, reading.why))
    isomer = None
    if any(symbol == "C" for symbol, _ in reading.atoms):
        isomer, more = names().settle(reading.atoms, reading.charge, reading.body, span)
        notes = (*notes, *more)
    return assemble(reading.atoms, reading.charge, phase, isomer, reading.body, notes)


def chosen(core: Glyphs, readings: list[Reading], phase: Phase) -> Species:
    """Take the likeliest reading and note the others that are honest."""
    ordered = sorted(readings, key=lambda reading: reading.weight)
    best = ordered[0]
    span = core.span(0, len(core.text))
    if best.identity == ((), -1):
        notes = (Assumption(span, "e^-", "", best.why),) if best.why else ()
        return assemble((), -1, phase, None, "e", notes)
    literal = next((r for r in readings if not r.why and r.identity != best.identity), None)
    if best.weight >= PLAUSIBLE and not best.why:
        repaired = doubted(best, stated_phase=phase, lowered="d" in core.level)
        if repaired is not None:
            return finished(repaired, best, span, phase)
    honest = _honest(best, ordered[1:])
    if best.why:
        others = [r.text for r in honest] or ([literal.text] if literal else [])
        best_told = replace(best, told=True)
        note = Assumption(span, best_told.text, " or ".join(dict.fromkeys(others)), best.why)
        return finished(replace(best, why=""), literal, span, phase, (note,))
    if honest:
        others_text = " or ".join(dict.fromkeys(r.text for r in honest))
        why = "each of them is known, and the text does not tell which is meant"
        return finished(best, literal, span, phase, (Assumption(span, best.text, others_text, why),))
    return finished(best, literal, span, phase)


def _honest(best: Reading, others: list[Reading]) -> list[Reading]:
    """Return the other readings that a careful person could defend."""
    found: list[Reading] = []
    for reading in others:
        if reading.identity == best.identity or any(reading.identity == r.identity for r in found):
            continue
        if (
            reading.weight < 0.59
            or (best.why and reading.weight < 1)
            or (reading.charge < 0 and best.charge < -1 and _dimer_ion(reading))
        ):
            found.append(reading)
    return found


def _dimer_ion(reading: Reading) -> bool:
    """Whether the reading is an ion of one nonmetal, such as S2^-, that is met with some charge."""
    return len(reading.atoms) == 1 and reading.atoms[0][1] != 1 and reading.atoms in known()


def to_the_letter(body: str) -> bool:
    """Whether square brackets around all of it ask for a reading to the letter."""
    return body[0] == "[" and body[-1] == "]" and "[" not in body[1:]


def doubted(reading: Reading, *, stated_phase: Phase, lowered: bool = False) -> Reading | None:
    """Return a likelier reading of text whose letter makes an implausible species, or ``None``."""
    atoms, charge, body = reading.atoms, reading.charge, reading.body
    charges = known().get(atoms, ())
    if charge in charges or to_the_letter(body):
        return None
    # Digits set low are subscripts and nothing else, so no misprint is looked for behind them.
    misread = None if lowered else _misread(reading)
    if charge == 0:
        dissolved = stated_phase in (Phase.UNSTATED, Phase.AQUEOUS)
        gone = _sign_gone(reading, charges, lowered=lowered) if dissolved else None
        return gone or misread
    if misread is not None or plausible(atoms, charge):
        return misread
    size, plus = abs(charge), 1 if charge > 0 else -1
    if size > 1:
        merged = reading_of(f"{body}{size}", plus, 0.0, "the subscript has slipped into the charge")
        if merged and merged.weight == KNOWN and not body[-1].isdigit():
            return merged
        for other in charges:
            if other * charge > 0:
                why = "this ion is known with another charge only"
                return Reading(body, atoms, other, 0.0, why)
    return Reading(body, atoms, charge, 0.0, "usual oxidation numbers do not add up to this charge")


def _misread(reading: Reading) -> Reading | None:
    """Return a known species that the text looks like, if the letter is not a known one."""
    for variant in recased(reading.body):
        found = reading_of(
            variant, reading.charge, 0.0, "capitals and small letters are taken for the likelier species"
        )
        if found and found.weight == KNOWN and found.identity != reading.identity:
            return found
    for variant, told in lookalikes(reading.body):
        found = reading_of(variant, reading.charge, 0.0, told)
        if found and found.weight == KNOWN and found.identity != reading.identity:
            return found
    return None


def _sign_gone(reading: Reading, charges: tuple[int, ...], *, lowered: bool) -> Reading | None:
    """Read a neutral formula that is only known as an ion: its charge was lost in copying."""
    body = reading.body
    why = "this is known as an ion only; its charge is taken to be lost"
    nonzero = [charge for charge in charges if charge]
    if nonzero and all(common(reading.atoms, charge) for charge in nonzero[:1]):
        return Reading(body, reading.atoms, nonzero[0], 0.0, why)
    tail = re.search(r"(?<=[A-Za-z)\]])([0-9]*)([1-9])$", body)
    if tail and not lowered:
        size = int(tail.group(2))
        stem = body[:-1]
        metal_atom = re.fullmatch("[A-Z][a-z]?", stem) and is_metal(stem)
        if tail.group(1) or metal_atom:
            for charge in (size, -size):
                found = reading_of(
                    stem, charge, 0.0, "the last digit is taken as a charge whose sign is lost"
                )
                if found and found.weight == KNOWN:
                    return found
    return None
