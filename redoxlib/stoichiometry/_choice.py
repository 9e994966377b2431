"""Which member of a family is meant: electron book-keeping between the named couples.

Every atom has an oxidation number.  Atoms of one element with one number form a pool; a pool on the
left must be accounted for on the right, and what changes its number does so along a transition (a
couple).  The choice is the balanced equation that needs the fewest transitions, provided those fix
it: then electrons pass only between the couples that the named substances cannot avoid.  In the row
picture, "this oxygen comes only from the peroxide" is one more conservation row (an origin row).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations, product

from redoxlib.notation import Species
from redoxlib.stoichiometry._cone import feasible_or_certificate
from redoxlib.stoichiometry._ions import ions_of
from redoxlib.stoichiometry._numbers import signed
from redoxlib.stoichiometry._oxidation import sites_of
from redoxlib.stoichiometry._solve import null_space, primitive
from redoxlib.stoichiometry._system import CHARGE, System, whole

__all__ = ["MAX_SPECIES_FOR_CHOICE", "Choice", "Transition", "choose", "transitions_of"]

MAX_SPECIES_FOR_CHOICE = 32
# Work spent on one choice, in units of one matrix entry cubed: some tenths of a second at most.
_BUDGET = 3_000_000
_MAX_PATTERNS = 3000
_MAX_CANDIDATES = 12
_EXTRA_TRANSITIONS = 1

State = tuple[Fraction, str]


@dataclass(frozen=True, slots=True)
class Transition:
    """Atoms of one element that change their oxidation number, and the substances on either side.

    ``atoms`` is how many do so in the equation asked about, where that is known.
    """

    element: str
    start: Fraction
    end: Fraction
    sources: tuple[Species, ...]
    targets: tuple[Species, ...]
    atoms: Fraction | None = field(default=None, compare=False)

    @property
    def electrons_per_atom(self) -> Fraction:
        """Electrons taken up per atom; negative when they are given off."""
        return self.start - self.end

    @property
    def is_oxidation(self) -> bool:
        """Whether the atoms lose electrons."""
        return self.end > self.start

    def __str__(self) -> str:
        source = " or ".join(dict.fromkeys(map(str, self.sources)))
        target = " or ".join(dict.fromkeys(map(str, self.targets)))
        return f"{source} -> {target} ({self.element} {signed(self.start)} -> {signed(self.end)})"


@dataclass(frozen=True, slots=True)
class Choice:
    """The chosen vector with its transitions, or why there is none."""

    vector: tuple[int, ...] | None
    transitions: tuple[Transition, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class _Node:
    """A pool of like atoms: on the left only, on the right only, or on both sides."""

    state: State
    columns: tuple[tuple[int, int | Fraction], ...]  # (column, signed atoms per formula)
    left: bool
    right: bool


# Elements whose unlike atoms in one molecule are joined in one chain and change together.
_CHAINS = frozenset({"C", "S", "N"})


def _states(species: Species) -> dict[str, list[tuple[State, int | Fraction]]]:
    """Atoms of a species by oxidation number, the ions of a salt each by themselves."""
    total: dict[str, dict[State, int | Fraction]] = {}
    for times, ion in ions_of(species) or ((1, species),):
        for symbol, numbers in sites_of(ion).items():
            slot = total.setdefault(symbol, {})
            for state, count in _pools(ion, symbol, numbers):
                slot[state] = slot.get(state, 0) + times * count
    return {symbol: list(slot.items()) for symbol, slot in total.items()}


def _pools(
    species: Species, symbol: str, numbers: Sequence[tuple[Fraction, int | Fraction]]
) -> list[tuple[State, int | Fraction]]:
    total = sum(count for _, count in numbers)
    if symbol in _CHAINS and len(numbers) > 1:
        # One chain is one couple: alcohol to acid, thiosulfate to sulfate, not each atom by itself.
        mean = sum((n * c for n, c in numbers), Fraction(0)) / total
        return [((mean, ""), total)]
    if symbol == "O" and total == 3 and len(species.elements) == 1 and not species.charge:
        # Ozone gives one oxidising atom and leaves a molecule of oxygen.
        return [((Fraction(0), ""), 2), ((Fraction(0), "active"), 1)]
    return [((number, ""), count) for number, count in numbers]


def _nodes(system: System) -> dict[str, list[_Node]]:
    left: dict[tuple[str, State], list[tuple[int, int | Fraction]]] = {}
    right: dict[tuple[str, State], list[tuple[int, int | Fraction]]] = {}
    for j, species in enumerate(system.species):
        for symbol, numbers in _states(species).items():
            for state, count in numbers:
                if j in system.free:
                    left.setdefault((symbol, state), []).append((j, count))
                    right.setdefault((symbol, state), [])
                elif system.signs[j] > 0:
                    left.setdefault((symbol, state), []).append((j, count))
                else:
                    right.setdefault((symbol, state), []).append((j, -count))
    nodes: dict[str, list[_Node]] = {}
    for key in dict.fromkeys([*left, *right]):
        symbol, state = key
        here = nodes.setdefault(symbol, [])
        if key in left and key in right:
            here.append(_Node(state, tuple(left[key] + right[key]), True, True))
        elif key in left:
            # One pool per substance: peroxide and peroxomonosulfate may go different ways.
            here.extend(_Node(state, ((j, count),), True, False) for j, count in left[key])
        else:
            here.append(_Node(state, tuple(right[key]), False, True))
    return nodes


_Move = tuple[str, int, int]


def _covers(
    symbol: str, nodes: Sequence[_Node], barred: Collection[_Move]
) -> list[tuple[int, tuple[_Move, ...]]]:
    sources = [i for i, node in enumerate(nodes) if node.left and not node.right]
    sinks = [i for i, node in enumerate(nodes) if node.right and not node.left]
    merged = [i for i, node in enumerate(nodes) if node.left and node.right]
    if not sources and not sinks:
        return [(0, ())]
    moves: list[_Move] = [
        (symbol, a, b)
        for a, b in [*product(sources, sinks), *product(sources, merged), *product(merged, sinks)]
        if (symbol, a, b) not in barred
    ]
    if len(moves) > _MAX_CANDIDATES:
        moves = [move for move in moves if move[1] in sources and move[2] in sinks][
            :_MAX_CANDIDATES
        ] or moves[:_MAX_CANDIDATES]
    found = []
    for size in range(max(len(sources), len(sinks)), len(sources) + len(sinks) + 1):
        for chosen in combinations(moves, size):
            outs = {a for _, a, _ in chosen}
            ins = {b for _, _, b in chosen}
            if all(i in outs for i in sources) and all(i in ins for i in sinks):
                found.append((size, chosen))
    return found


def _patterns(
    covers: Sequence[list[tuple[int, tuple[_Move, ...]]]],
) -> Iterator[tuple[int, tuple[_Move, ...]]]:
    """All combinations of covers, fewest transitions first."""
    if any(not cover for cover in covers):
        return
    least = sum(min(size for size, _ in cover) for cover in covers)
    most = sum(max(size for size, _ in cover) for cover in covers)
    produced = 0
    floor = [0] * (len(covers) + 1)
    ceiling = [0] * (len(covers) + 1)
    for place in range(len(covers) - 1, -1, -1):
        sizes = [size for size, _ in covers[place]]
        floor[place] = floor[place + 1] + min(sizes)
        ceiling[place] = ceiling[place + 1] + max(sizes)
    for total in range(least, min(most, least + _EXTRA_TRANSITIONS) + 1):
        stack: list[tuple[int, int, tuple[_Move, ...]]] = [(0, 0, ())]
        while stack:
            place, size, moves = stack.pop()
            if place == len(covers):
                yield total, moves
                produced += 1
                if produced >= _MAX_PATTERNS:
                    return
                continue
            for extra, chosen in covers[place]:
                if size + extra + floor[place + 1] <= total <= size + extra + ceiling[place + 1]:
                    stack.append((place + 1, size + extra, moves + chosen))


def _crossing(nodes: dict[str, list[_Node]], moves: Sequence[_Move]) -> bool:
    """Whether two transitions of one element pass each other (+1 to +4 while +3 goes to -1)."""
    for (symbol, a, b), (other, c, d) in combinations(moves, 2):
        if symbol == other:
            low, high = nodes[symbol][a].state[0], nodes[symbol][c].state[0]
            end_low, end_high = nodes[symbol][b].state[0], nodes[symbol][d].state[0]
            if (low - high) * (end_low - end_high) < 0:
                return True
    return False


def _rows(system: System, nodes: dict[str, list[_Node]], moves: Sequence[_Move]) -> list[list[int]]:
    width = system.width + len(moves)
    rows = []
    for symbol, pool in nodes.items():
        for i, node in enumerate(pool):
            row: list[int | Fraction] = [0] * width
            for j, count in node.columns:
                row[j] += count
            for k, (element, a, b) in enumerate(moves):
                if element == symbol:
                    if a == i:
                        row[system.width + k] -= 1
                    if b == i:
                        row[system.width + k] += 1
            rows.append(whole(row))
    padding = [0] * len(moves)
    for label, conserved in zip(system.labels, system.rows, strict=True):
        if label == CHARGE:
            rows.append([*conserved, *padding])
    rows.extend([*asked, *padding] for asked in system.extra)
    return rows


def _transition(
    system: System, nodes: dict[str, list[_Node]], move: _Move, atoms: Fraction | None = None
) -> Transition:
    symbol, a, b = move
    start, end = nodes[symbol][a], nodes[symbol][b]

    def named(node: _Node, side: int) -> tuple[Species, ...]:
        typed = [
            system.species[j] for j, _ in node.columns if j not in system.free and system.signs[j] == side
        ]
        return tuple(typed or [system.species[j] for j, _ in node.columns])

    return Transition(symbol, start.state[0], end.state[0], named(start, 1), named(end, -1), atoms)


def _barred(
    system: System, nodes: dict[str, list[_Node]], forbid: Sequence[tuple[Species, Species]]
) -> set[_Move]:
    found: set[_Move] = set()
    for symbol, pool in nodes.items():
        for a, start in enumerate(pool):
            for b, end in enumerate(pool):
                froms = {system.species[j] for j, _ in start.columns}
                tos = {system.species[j] for j, _ in end.columns}
                if any((x in froms and y in tos) or (y in froms and x in tos) for x, y in forbid):
                    found.add((symbol, a, b))
    return found


def transitions_of(system: System, vector: Sequence[int]) -> tuple[Transition, ...] | None:
    """The fewest transitions that explain one balanced equation; ``None`` when there is no account."""
    present = [j for j, value in enumerate(vector) if value]
    left = [system.species[j] for j in present if vector[j] * system.signs[j] > 0]
    right = [system.species[j] for j in present if vector[j] * system.signs[j] < 0]
    amounts = [abs(vector[j]) for j in present if vector[j] * system.signs[j] > 0]
    amounts += [abs(vector[j]) for j in present if vector[j] * system.signs[j] < 0]
    part = System(left, right)
    nodes = _nodes(part)
    covers = [_covers(symbol, pool, ()) for symbol, pool in nodes.items()]
    best: tuple[bool, tuple[_Move, ...], list[Fraction]] | None = None
    size = -1
    spent = 0
    for total, moves in _patterns(covers):
        spent += (part.width + len(moves)) ** 2
        if spent > _BUDGET:
            break
        if best is not None and (total > size or not best[0]):
            break
        rows = _rows(part, nodes, moves)
        width = part.width
        # The amounts are given: only the transitions are unknown, so fold them into one column.
        folded = [
            [sum(a * x for a, x in zip(row[:width], amounts, strict=True)), *row[width:]] for row in rows
        ]
        solution, _ = feasible_or_certificate(folded, 1 + len(moves))
        if solution is not None:
            crossing = _crossing(nodes, moves)
            if best is None or (best[0] and not crossing):
                counts = [Fraction(value, solution[0]) for value in solution[1:]]
                best, size = (crossing, moves, counts), total
    if best is None:
        return None
    return tuple(_transition(part, nodes, move, atoms) for move, atoms in zip(best[1], best[2], strict=True))


def choose(system: System, forbid: Sequence[tuple[Species, Species]] = ()) -> Choice:
    """Choose among the members of a family by electron book-keeping.

    Parameters
    ----------
    system : System
        The family; its dimension is two or more.
    forbid : sequence of pairs of Species
        Couples along which no electrons may pass.
    """
    if system.width > MAX_SPECIES_FOR_CHOICE:
        return Choice(
            None, (), f"more than {MAX_SPECIES_FOR_CHOICE} species: electron book-keeping was not tried"
        )
    nodes = _nodes(system)
    barred = _barred(system, nodes, forbid)
    covers = [_covers(symbol, pool, barred) for symbol, pool in nodes.items()]
    answers: dict[tuple[int, ...], tuple[bool, tuple[_Move, ...]]] = {}
    size = -1
    spent = 0
    for total, moves in _patterns(covers):
        if answers and total > size:
            break
        rows = _rows(system, nodes, moves)
        width = system.width + len(moves)
        spent += width**3
        if spent > _BUDGET:
            return Choice(None, (), "there are too many ways the electrons could pass to try them all")
        basis = null_space(rows, width)
        if not basis:
            continue
        if len(basis) == 1:
            vector = basis[0]
            probe = next((v for j, v in enumerate(vector) if j not in system.free and v), 0)
            if probe < 0:
                vector = [-value for value in vector]
            if any(v <= 0 for j, v in enumerate(vector) if j not in system.free):
                continue
            size = total
            answer = tuple(primitive(vector[: system.width]))
            crossing = _crossing(nodes, moves)
            if answer not in answers or (answers[answer][0] and not crossing):
                answers[answer] = crossing, moves
        elif feasible_or_certificate(rows, width, system.free)[0] is not None:
            return _undecided(system, nodes, moves)
    straight = [answer for answer, (crossing, _) in answers.items() if not crossing]
    if len(answers) > 1 and len(straight) == 1:
        answers = {straight[0]: answers[straight[0]]}
    if len(answers) == 1:
        ((vector_found, (_, moves)),) = answers.items()
        transitions = tuple(_transition(system, nodes, move) for move in moves)
        return Choice(vector_found, transitions, _reason(transitions))
    if answers:
        written = "; ".join(str(system.equation(answer)) for answer in list(answers)[:4])
        return Choice(
            None, (), f"electron book-keeping leaves {len(answers)} equations equally simple: {written}"
        )
    return Choice(None, (), "no account of the electrons between the named couples balances")


def _reason(transitions: Sequence[Transition]) -> str:
    down = "; ".join(str(t) for t in transitions if not t.is_oxidation)
    up = "; ".join(str(t) for t in transitions if t.is_oxidation)
    if not transitions:
        return "no electrons pass, and every pool of atoms is conserved by itself"
    return (
        f"electrons pass only from {up or 'nothing'} to {down or 'nothing'}; no atom changes in another way"
    )


def _undecided(system: System, nodes: dict[str, list[_Node]], moves: Sequence[_Move]) -> Choice:
    if not moves:
        return Choice(
            None,
            (),
            "no oxidation number changes: the equation is a sum of independent exchanges of ions or water",
        )
    transitions = [_transition(system, nodes, move) for move in moves]
    up = [t for t in transitions if t.is_oxidation]
    down = [t for t in transitions if not t.is_oxidation]
    listed = "; ".join(map(str, transitions))
    if len(up) + len(down) > 2:
        return Choice(
            None,
            (),
            f"the named substances need {len(down)} reductions and {len(up)} oxidations ({listed}), "
            "and electrons alone do not fix how they share",
        )
    return Choice(None, (), f"the couples ({listed}) leave another ratio open that electrons do not fix")
