"""Oxidation numbers of single carbon atoms from a condensed structural spelling.

By the 2016 definition a carbon atom is raised by one for each bond to a more electronegative atom and
lowered by one for each bond to hydrogen; carbon-carbon bonds are shared.  Where every carbon has four
bonds and no carbon-carbon multiple bond, that is ``4 - (bonds to carbon) - 2 (hydrogens)``.  A reading
is used only when its sum is the one the whole formula demands, so a wrong guess at the structure
(a double bond, a ring) falls back to the average instead of giving wrong sites.
"""

from __future__ import annotations

import re

from redoxlib.stoichiometry._formula import Group, tree

__all__ = ["carbon_sites", "peroxo_oxygens", "sulfur_number"]

_PEROXO = re.compile(r"COOO|CO3H|C\(O\)OO|\)3COOH|CH[23]?OOH|CH3OOCH3")
_SULFUR = (
    (re.compile(r"OSO3|OSO2"), 6),
    (re.compile(r"SO3"), 4),
    (re.compile(r"SO2"), 2),
    (re.compile(r"SO"), 0),
)


def peroxo_oxygens(spelling: str) -> int:
    """Number of oxygen atoms in O-O groups that the spelling shows (0 or 2)."""
    return 2 if _PEROXO.search(spelling) else 0


def sulfur_number(spelling: str) -> int:
    """Oxidation number of sulfur bound to carbon: sulfoxide 0, sulfone +2, sulfonate +4, else -2."""
    for pattern, number in _SULFUR:
        if pattern.search(spelling):
            return number
    return -2


class _Carbon:
    __slots__ = ("hydrogens", "links", "open")

    def __init__(self) -> None:
        self.hydrogens = 0
        self.links = 0
        self.open = True


_LONGEST = 200  # carbons in one lumped group; beyond that the average says all a reader wants to know


def _ring_or_chain(count: int, hydrogens: int) -> list[_Carbon] | None:
    """Carbons of a lumped group such as C2H5 or C6H5; the last one is the point of attachment."""
    ring = count == 6 and hydrogens == 5
    if count > _LONGEST or not (ring or hydrogens == 2 * count + 1):
        return None
    carbons = [_Carbon() for _ in range(count)]
    if ring:
        for carbon in carbons:
            carbon.links, carbon.hydrogens = 3, 1
        carbons[-1].hydrogens = 0
        return carbons
    for i, carbon in enumerate(carbons):
        carbon.links = (i > 0) + (i < count - 1)
        carbon.hydrogens = 3 if i == 0 else 2
    return carbons


def _lead_hydrogens(groups: tuple[Group, ...]) -> tuple[int, int]:
    """Hydrogens written before their carbon (HCOOH), and how many groups they fill."""
    if len(groups) >= 2 and groups[0].symbol == "H" and groups[1].symbol == "C":
        return groups[0].count, 1
    return 0, 0


def _walk(groups: tuple[Group, ...], found: list[_Carbon]) -> tuple[_Carbon | None, _Carbon | None] | None:
    """Read one level; return its first and last backbone carbon, or ``None`` when it is not a chain."""
    first: _Carbon | None = None
    last: _Carbon | None = None
    bridged = False  # a hetero atom stands between the last carbon and the next
    waiting: list[_Carbon] = []  # branches written before their carbon
    pending, at = _lead_hydrogens(groups)
    while at < len(groups):
        group = groups[at]
        following = groups[at + 1] if at + 1 < len(groups) else None
        if group.symbol == "C":
            hydrogens = following.count if following is not None and following.symbol == "H" else 0
            if group.count > 1:
                lumped = _ring_or_chain(group.count, hydrogens)
                if lumped is None or pending:
                    return None
                found.extend(lumped)
                start = end = lumped[-1]
            else:
                start = end = _Carbon()
                start.hydrogens = hydrogens + pending
                pending = 0
                found.append(start)
            at += 2 if hydrogens else 1
            if last is not None and not bridged:
                last.links += 1
                start.links += 1
            for branch in waiting:
                branch.links += 1
                start.links += 1
            waiting = []
            first = first or start
            last, bridged = end, False
            continue
        if group.symbol == "H":
            at += 1  # hydrogen on a hetero atom: it has no part in the count of carbon
            continue
        if group.symbol:
            if group.symbol == "O" and last is not None and following is not None and following.symbol == "C":
                # Carbonyl when the carbon has room for it, an ether or ester bridge otherwise.
                room = 4 - last.hydrogens - last.links
                previous = groups[at - 1]
                bridged = room < 3 or (previous.symbol == "O")
                if group.count >= 2:
                    bridged = True
            elif group.symbol in ("O", "S"):
                # A hydroxyl or thiol ends a branch; the chain goes on from the carbon before it.
                bridged = last is not None and (following is None or following.symbol != "H")
            elif group.symbol == "N":
                amino = following is not None and following.symbol == "H" and following.count > 1
                bridged = last is not None and not amino
            at += 1
            continue
        if not any(inner.symbol == "C" or not inner.symbol for inner in group.content):
            at += 1
            continue
        in_chain = [(g.symbol, g.count) for g in group.content] == [("C", 1), ("H", 2)]
        for _ in range(group.count):
            ends = _walk(group.content, found)
            if ends is None or ends[0] is None or ends[1] is None:
                return None
            if last is None and not in_chain:
                waiting.append(ends[1])
                continue
            if last is not None and not (in_chain and bridged):
                last.links += 1
                ends[0].links += 1
            if in_chain:
                first = first or ends[0]
                last, bridged = ends[1], False
        at += 1
    if waiting:
        if first is not None or len(waiting) != 2:
            return None
        waiting[0].links += 1
        waiting[1].links += 1
        first, last = waiting
    return first, last


def carbon_sites(spelling: str, total: int) -> list[int] | None:
    """Oxidation number of each carbon when the spelling shows the chain and the sum is *total*."""
    groups = tree(spelling)
    if groups is None:
        return None
    found: list[_Carbon] = []
    if _walk(groups, found) is None or not found:
        return None
    numbers = [4 - carbon.links - 2 * carbon.hydrogens for carbon in found]
    if any(carbon.links + carbon.hydrogens > 4 for carbon in found) or sum(numbers) != total:
        return None
    return numbers
