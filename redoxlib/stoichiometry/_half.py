"""half_reactions: which couples exchange electrons in an equation, and how many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from redoxlib.errors import DomainError, ImpossibleError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.stoichiometry._choice import Transition, choose, transitions_of
from redoxlib.stoichiometry._complete import medium_of
from redoxlib.stoichiometry._ionic import dissolve
from redoxlib.stoichiometry._numbers import plain
from redoxlib.stoichiometry._solve import null_space
from redoxlib.stoichiometry._system import System, whole

__all__ = ["HalfReaction", "HalfReactions", "half_reactions"]

_MOST_ADDED = 2


@dataclass(frozen=True, slots=True)
class HalfReaction:
    """One couple as a balanced half-reaction.

    Attributes
    ----------
    equation : Equation
        In smallest whole numbers, electrons included.
    electrons : int
        Electrons in ``equation``.
    couple : str
        Oxidised form over reduced form, such as ``MnO4^-/Mn^2+``.
    is_oxidation : bool
        Whether the electrons stand on the right.
    transitions : tuple of Transition
        The atoms that change their oxidation number.
    times : int or Fraction
        How often the net equation contains this half-reaction; 0 when that is not unique.
    """

    equation: Equation
    electrons: int
    couple: str
    is_oxidation: bool
    transitions: tuple[Transition, ...]
    times: int | Fraction = 0

    def __str__(self) -> str:
        kind = "oxidation" if self.is_oxidation else "reduction"
        return f"{kind} ({self.couple}): {self.equation}"


@dataclass(frozen=True, slots=True)
class HalfReactions:
    """The couples of one equation.

    Attributes
    ----------
    oxidation, reduction : tuple of HalfReaction
        Couples that give off and take up electrons.
    net : Equation
        The net ionic equation they belong to.
    electrons : int or Fraction
        Electrons passed in ``net`` as written.
    """

    oxidation: tuple[HalfReaction, ...]
    reduction: tuple[HalfReaction, ...]
    net: Equation
    electrons: int | Fraction

    def __iter__(self) -> Iterator[HalfReaction]:
        return iter(self.oxidation + self.reduction)

    def __str__(self) -> str:
        lines = [str(half) for half in self.oxidation + self.reduction]
        lines.append(f"electrons passed in {self.net}: {self.electrons}")
        return "\n".join(lines)


def _bare(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


def _balanced(text: str | Equation) -> Equation:
    """The equation as given when it balances, else the one that is meant."""
    equation = text if isinstance(text, Equation) else Equation.parse(text)
    if not equation.residual():
        return equation
    from redoxlib.stoichiometry._balance import balance
    from redoxlib.stoichiometry._complete import complete

    try:
        result = balance(equation)
    except ImpossibleError:
        return complete(equation).equation
    return result.equation if result.unique or result.choice is None else result.choice


def half_reactions(equation: str | Equation, medium: str | float | None = None) -> HalfReactions:
    """Split an equation into its oxidation and reduction half-reactions.

    Parameters
    ----------
    equation : str or Equation
        Full, ionic or net ionic; balanced first (or completed) when it is not.
    medium : str or float, optional
        Medium the half-reactions are written in; by default base when OH- takes part, else acid.

    Returns
    -------
    HalfReactions

    Raises
    ------
    DomainError
        If no oxidation number changes.

    Examples
    --------
    >>> print(half_reactions("MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"))
    oxidation (Fe^3+/Fe^2+): Fe^2+ -> Fe^3+ + e^-
    reduction (MnO4^-/Mn^2+): MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O
    electrons passed in MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O: 5
    """
    full = _balanced(equation)
    everything = [s for _, s in full.reactants + full.products]
    net = full
    if all(species.elements for species in everything):
        net = dissolve(full).net or full
    left = [s for _, s in net.reactants]
    right = [s for _, s in net.products]
    system = System(left, right)
    vector = whole([Fraction(count) for count, _ in net.reactants + net.products])
    transitions = transitions_of(system, vector)
    if not transitions:
        raise DomainError(
            f"no electrons pass in {full}",
            hint="half_reactions() needs an equation in which oxidation numbers change",
        )
    everything += [*left, *right]
    names = {str(_bare(s)) for s in everything}
    mode = ("base" if "OH^-" in names else "acid") if medium is None else medium_of(medium)
    proton = "H3O^+" if "H3O^+" in names and "H^+" not in names else "H^+"
    carriers = [Species.parse("H2O"), Species.parse("OH^-" if mode == "base" else proton)]
    carriers = [_typed(species, everything) for species in carriers]
    halves = _halves(_couples(transitions), net, carriers)
    oxidation = tuple(half for half in halves if half.is_oxidation)
    reduction = tuple(half for half in halves if not half.is_oxidation)
    passed = [Fraction(0), Fraction(0)]
    for transition in transitions:
        passed[transition.is_oxidation] += (transition.atoms or 0) * abs(transition.electrons_per_atom)
    scale = Fraction(vector[0]) / Fraction((net.reactants + net.products)[0][0])
    return HalfReactions(oxidation, reduction, net, plain(max(passed) / scale))


def _typed(species: Species, everything: Sequence[Species]) -> Species:
    for other in everything:
        if _bare(other) == species:
            return other
    if any(other.phase for other in everything):
        return species.with_phase(Phase.LIQUID if not species.charge else Phase.AQUEOUS)
    return species


def _couples(transitions: Sequence[Transition]) -> list[tuple[Transition, ...]]:
    """Transitions in one direction that cannot happen apart: one couple.

    Iron and sulfur of pyrite are oxidised together, while carbon that goes to two oxides does so in
    two couples.
    """
    groups: list[list[Transition]] = []
    for transition in transitions:
        for group in groups:
            if group[0].is_oxidation == transition.is_oxidation and any(
                _joined(transition, t) for t in group
            ):
                group.append(transition)
                break
        else:
            groups.append([transition])
    return [tuple(group) for group in groups]


def _joined(one: Transition, other: Transition) -> bool:
    shared_source = set(one.sources) & set(other.sources)
    shared_target = set(one.targets) & set(other.targets)
    if one.element == other.element:
        return bool(shared_source and shared_target)
    return bool(shared_source or (shared_target and "O" not in (one.element, other.element)))


def _halves(
    couples: Sequence[tuple[Transition, ...]], net: Equation, carriers: Sequence[Species]
) -> list[HalfReaction]:
    """A half-reaction for every couple; one that only rides along with another is left out."""
    found = []
    missing: Transition | None = None
    for couple in couples:
        half = _half(couple, net, carriers)
        if half is None:
            missing = couple[0]
        else:
            found.append(half)
    halves = _times(found, net) if found else []
    if missing is not None and not (halves and all(half.times for half in halves)):
        raise DomainError(
            f"no half-reaction for {missing} balances with water, H+ or OH- and the other species",
            hint="write the equation in ionic form",
        )
    return halves


def _ends(
    couple: tuple[Transition, ...], net: Equation, carriers: Sequence[Species]
) -> list[tuple[list[Species], list[Species]]]:
    """What to try as the two sides of a half-reaction, likeliest first."""
    water, carrier = carriers
    sources = list(dict.fromkeys(s for t in couple for s in t.sources))
    targets = list(dict.fromkeys(s for t in couple for s in t.targets))
    options = []
    elements = {t.element for t in couple}
    if elements == {"O"} and all(t.end == -2 for t in couple):
        ozone = [s for s in sources if s.elements == {"O": 3} and not s.charge]
        if ozone:
            options += [(ozone, [s]) for _, s in net.products if s.elements == {"O": 2} and not s.charge]
        # Oxygen taken up ends in water, whatever it is bound in afterwards.
        options += [([s], [water]) for s in sources]
    if elements == {"O"} and all(t.start == -2 for t in couple):
        options += [([water], [t]) for t in targets]
    if elements == {"H"} and all(t.end == 1 for t in couple):
        options += [([s], [carrier if carrier.charge > 0 else water]) for s in sources]
    options.append((sources, targets))
    options += [([s], [t]) for s in sources for t in targets]
    return options


def _half(couple: tuple[Transition, ...], net: Equation, carriers: Sequence[Species]) -> HalfReaction | None:
    electron = Species.parse("e^-")
    oxidation = couple[0].is_oxidation
    others = [s for _, s in net.reactants + net.products if s not in carriers and s.elements]
    options = _ends(couple, net, carriers)
    for size in range(_MOST_ADDED + 1):
        for left, right in options:
            bystanders = [s for s in others if s not in left and s not in right]
            for additions in combinations(bystanders, size):
                free = [s for s in (*carriers, *additions) if s not in left and s not in right]
                # The side of the electrons is known, so they are typed there.
                sides = (left, [*right, electron]) if oxidation else ([*left, electron], right)
                system = System(*sides, free)
                vector = _only_vector(system)
                if vector is None or not all(
                    vector[system.species.index(addition)] for addition in additions
                ):
                    continue
                count = vector[system.species.index(electron)]
                equation = _ordered(system.equation(vector), electron)
                return HalfReaction(equation, count, _name(equation, couple), oxidation, couple)
    return None


def _ordered(equation: Equation, electron: Species) -> Equation:
    """Electrons last on their side, as half-reactions are written."""
    return Equation(
        tuple(sorted(equation.reactants, key=lambda term: term[1] == electron)),
        tuple(sorted(equation.products, key=lambda term: term[1] == electron)),
    )


def _only_vector(system: System) -> Sequence[int] | None:
    basis = system.basis()
    if len(basis) == 1:
        vector = basis[0] if system.fits(basis[0]) else [-value for value in basis[0]]
        return vector if system.fits(vector) else None
    if len(basis) == 2:
        # Peroxide and oxygen: water could stand on either side unless its oxygen is kept apart.
        return choose(system).vector
    return None


def _name(equation: Equation, couple: tuple[Transition, ...]) -> str:
    """Oxidised form over reduced form: the pair that holds the changing element, else one in common."""
    left = [s for _, s in equation.reactants if s.elements]
    right = [s for _, s in equation.products if s.elements]
    plain = {"H2O", "H^+", "OH^-"}

    def rank(pair: tuple[Species, Species]) -> tuple[bool, int, int, int]:
        shared = set(pair[0].elements) & set(pair[1].elements)
        named = sum(pair[0] in t.sources or pair[1] in t.targets for t in couple)
        change = any(t.element in shared and (pair[0] in t.sources or pair[1] in t.targets) for t in couple)
        return not change, -len(shared - {"O", "H"}), sum(str(_bare(s)) in plain for s in pair), -named

    start, end = min(((a, b) for a in left for b in right), key=rank)
    return f"{_bare(end)}/{_bare(start)}" if couple[0].is_oxidation else f"{_bare(start)}/{_bare(end)}"


def _times(halves: list[HalfReaction], net: Equation) -> list[HalfReaction]:
    """How often each half-reaction stands in the net equation, when that is fixed."""
    species = list(
        dict.fromkeys(
            s
            for equation in (net, *(half.equation for half in halves))
            for _, s in equation.reactants + equation.products
        )
    )

    def column(equation: Equation) -> dict[Species, Fraction]:
        total: dict[Species, Fraction] = {}
        for sign, side in ((1, equation.reactants), (-1, equation.products)):
            for count, s in side:
                total[s] = total.get(s, Fraction(0)) + sign * Fraction(count)
        return total

    columns = [column(net), *(column(half.equation) for half in halves)]
    rows = [
        whole([columns[0].get(s, Fraction(0)), *(-c.get(s, Fraction(0)) for c in columns[1:])])
        for s in species
    ]
    basis = null_space(rows, len(columns))
    if len(basis) != 1 or not basis[0][0]:
        return halves
    scale = basis[0][0]
    return [
        HalfReaction(
            half.equation,
            half.electrons,
            half.couple,
            half.is_oxidation,
            half.transitions,
            plain(Fraction(value, scale)),
        )
        for half, value in zip(halves, basis[0][1:], strict=True)
    ]
