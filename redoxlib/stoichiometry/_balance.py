"""balance: the whole family of balanced equations over the named species, and the one that is meant."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from math import lcm

from redoxlib._display import html_of
from redoxlib.errors import DomainError, NotUniqueError
from redoxlib.notation import Assumption, Equation, Species
from redoxlib.stoichiometry._cone import extreme_rays, feasible_or_certificate
from redoxlib.stoichiometry._reading import ignored, read
from redoxlib.stoichiometry._system import System, whole

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.stoichiometry._choice import Choice, Transition

__all__ = ["Balance", "balance"]

Ratio = Mapping[str, int | Fraction]


class Balance:
    """The balanced equations over given species.

    Attributes
    ----------
    unique : bool
        Whether conservation alone fixes the equation.
    dimension : int
        Number of independent balanced equations.
    assumptions : tuple of Assumption
        What was assumed in reading and solving.
    notes : tuple of str
        Remarks on the answer: constraints in force, a half-reaction.
    """

    # Defaults on the class: a unique balance sets three attributes and computes the rest when asked.
    assumptions: tuple[Assumption, ...] = ()
    notes: tuple[str, ...] = ()
    _equation: Equation | None = None
    _choice: Choice | None = None
    _rays: tuple[list[list[int]], bool] | None = None
    _prefers_choice: bool = False
    _forbid: Sequence[tuple[Species, Species]] = ()

    def __init__(
        self,
        system: System,
        vector: Sequence[int] | None,
        assumptions: tuple[Assumption, ...] = (),
        notes: tuple[str, ...] = (),
    ) -> None:
        self._system = system
        self._vector = vector
        self.dimension = 1 if vector is not None else len(system.basis())
        if assumptions:
            self.assumptions = assumptions
        if notes:
            self.notes = notes

    _repr_html_ = html_of

    @property
    def unique(self) -> bool:
        """Whether conservation alone fixes the equation."""
        return self.dimension == 1

    @property
    def half_reaction(self) -> bool:
        """Whether electrons stand in the answer."""
        return any(not species.elements for species in self._system.species)

    @property
    def equation(self) -> Equation:
        """The balanced equation in smallest whole numbers.

        Raises
        ------
        NotUniqueError
            If conservation leaves several; ``.members`` and ``.choice`` hold them.  A result of
            ``complete`` gives the ion-electron choice instead, where there is one.
        """
        if self._equation is None:
            if self._vector is not None:
                self._equation = self._system.equation(self._vector)
            else:
                choice = self.choice if self._prefers_choice else None
                if choice is None:
                    raise self._not_unique()
                self._equation = choice
        return self._equation

    def spelled(self, spell: Callable[[Sequence[Species]], Iterable[str]]) -> str:
        """Write ``equation`` with its species as *spell* writes them; it is given all of them, in order.

        A table of many equations spells each species once; there is no ``Equation`` to build either.

        Raises
        ------
        NotUniqueError
            As of ``equation``.
        """
        system, counts = self._system, self._vector
        if counts is None or system.free:
            equation = self.equation
            terms = equation.reactants + equation.products
            words = _terms([count for count, _ in terms], spell([species for _, species in terms]))
            split = len(equation.reactants)
        else:
            words, split = _terms(counts, spell(system.species)), system.left
        return f"{' + '.join(words[:split])} -> {' + '.join(words[split:])}"

    def _not_unique(self) -> NotUniqueError:
        choice = self.choice
        members = self.members
        listed = "\n".join(f"    {member}" for member in members[:6]) or "    (too many to list)"
        more = f"\n    and {len(members) - 6} more" if len(members) > 6 else ""
        if choice is not None:
            hint = f"electron book-keeping chooses {choice}; pin a ratio or an origin to decide otherwise"
        else:
            hint = f"{self.choice_reason}; pin a ratio or an origin"
        return NotUniqueError(
            f"{self.dimension} independent equations balance; elementary ones:\n{listed}{more}",
            hint=hint,
            members=members,
            choice=choice,
        )

    def _ray_list(self) -> tuple[list[list[int]], bool]:
        if self._rays is None:
            self._rays = _rays(self._system)
        return self._rays

    @property
    def members(self) -> tuple[Equation, ...]:
        """Elementary equations, of which every balanced equation here is a sum.

        Each is as small as possible, so some species may be absent.  Empty with ``truncated`` set
        when there are more species or members than the documented caps.
        """
        if self._vector is not None:
            return (self._system.equation(self._vector),)
        return tuple(self._system.equation(ray) for ray in self._ray_list()[0])

    @property
    def truncated(self) -> bool:
        """Whether the list of members was cut at the cap."""
        return self._vector is None and self._ray_list()[1]

    def _chosen(self) -> Choice:
        if self._choice is None:
            from redoxlib.stoichiometry._choice import Choice, choose

            if self._vector is not None:
                self._choice = Choice(tuple(self._vector), (), "the only balanced equation")
            else:
                self._choice = choose(self._system, self._forbid)
        return self._choice

    @property
    def choice(self) -> Equation | None:
        """The equation in which electrons pass only between the named couples, or ``None``."""
        vector = self._chosen().vector
        return None if vector is None else self._system.equation(vector)

    @property
    def choice_reason(self) -> str:
        """Why ``choice`` was chosen, or why nothing was."""
        return self._chosen().reason

    @property
    def transitions(self) -> tuple[Transition, ...]:
        """The changes of oxidation number behind the choice."""
        from redoxlib.stoichiometry._choice import transitions_of

        chosen = self._chosen()
        if chosen.transitions or chosen.vector is None:
            return chosen.transitions
        return transitions_of(self._system, chosen.vector) or ()

    @property
    def remarks(self) -> tuple[str, ...]:
        """Doubts about the species, such as implausible oxidation numbers or charges that look lost."""
        from redoxlib.stoichiometry._check import implausible, lost_charge

        found = []
        for species in self._system.species:
            found += [said for said in (implausible(species), lost_charge(species)) if said is not None]
        return tuple(dict.fromkeys(found))

    def describe(self, member: Equation | int) -> str:
        """Tell one member, or any balanced equation over these species, in words.

        Parameters
        ----------
        member : Equation or int
            An equation over the same species, or a place in ``members``.

        Raises
        ------
        DomainError
            If the equation holds other species or does not balance.
        """
        from redoxlib.stoichiometry._words import describe

        equation = self.members[member] if isinstance(member, int) else member
        try:
            vector = self._system.vector(equation)
        except ValueError as error:
            raise DomainError(
                str(error), hint="describe() takes equations over the species asked about"
            ) from None
        if equation.residual():
            raise DomainError(f"{equation} does not balance", hint="check() says by how much")
        chosen = self._chosen().vector
        return describe(self._system, vector, chosen, self._ray_list()[0] if self._vector is None else [])

    def __str__(self) -> str:
        if self._vector is not None:
            return str(self.equation)
        lines = [f"{self.dimension} independent equations"]
        lines += [f"  {member}" for member in self.members]
        if self.truncated:
            lines.append("  (truncated)")
        choice = self.choice
        lines.append(f"choice: {choice if choice is not None else 'none'} ({self.choice_reason})")
        return "\n".join(lines)

    def __repr__(self) -> str:
        shown = repr(str(self.equation)) if self._vector is not None else f"dimension {self.dimension}"
        return f"<Balance {shown}>"


def _terms(counts: Iterable[int | Fraction], names: Iterable[str]) -> list[str]:
    return [name if count == 1 else f"{count} {name}" for count, name in zip(counts, names, strict=True)]


def _rays(system: System) -> tuple[list[list[int]], bool]:
    """Extreme rays; a free column counts with either sign, so it is entered twice."""
    if not system.free:
        return extreme_rays(system.all_rows, system.width)
    free = sorted(system.free)
    doubled = [[*row, *(-row[j] for j in free)] for row in system.all_rows]
    rays, cut = extreme_rays(doubled, system.width + len(free))
    folded = []
    for ray in rays:
        vector = ray[: system.width]
        for place, j in enumerate(free):
            vector[j] -= ray[system.width + place]
        if any(vector):
            folded.append(vector)
    return folded, cut


def _species(text: str, system: System) -> Species:
    wanted = Species.parse(text)
    for species in system.species:
        if species == wanted:
            return species
    near = [s for s in system.species if s.elements == wanted.elements and s.charge == wanted.charge]
    if len(near) == 1:
        return near[0]
    raise DomainError(
        f"{wanted} is not in the equation",
        source=text,
        span=(0, len(text)),
        hint="it holds " + ", ".join(map(str, system.species)),
    )


def _ratio_rows(system: System, ratio: Ratio) -> list[list[int]]:
    if len(ratio) < 2:
        raise DomainError(
            f"ratio={dict(ratio)!r} names {len(ratio)} species", hint='write ratio={"H2O2": 5, "KMnO4": 2}'
        )
    columns = []
    for text, value in ratio.items():
        amount = Fraction(value)
        if amount <= 0:
            raise DomainError(f"ratio {text!r}: {value} is not positive", hint="leave an absent species out")
        columns.append((system.species.index(_species(text, system)), amount))
    scale = lcm(*(amount.denominator for _, amount in columns))
    (first, base), *rest = columns
    rows = []
    for j, amount in rest:
        row = [0] * system.width
        row[first] = int(amount * scale)
        row[j] -= int(base * scale)
        rows.append(row)
    return rows


def _atoms(sites: Iterable[tuple[Fraction, int | Fraction]]) -> Fraction:
    return sum((Fraction(count) for _, count in sites), Fraction(0))


def _origin_rows(system: System, origin: Mapping[str, str]) -> list[list[int]]:
    """One row per named origin: the atoms that change, in the product, equal those in the source."""
    from redoxlib.stoichiometry._oxidation import sites_of

    rows = []
    for product_text, source_text in origin.items():
        product, source = _species(product_text, system), _species(source_text, system)
        made, held = sites_of(product), sites_of(source)
        shared = [symbol for symbol in made if symbol in held]
        if not shared:
            raise DomainError(
                f"{product} cannot come from {source}: they share no element",
                hint='write origin={"O2": "H2O2"}, product first',
            )
        best: tuple[Fraction, Fraction] | None = None
        for symbol in shared:
            new = [(n, c) for n, c in made[symbol] if n not in {m for m, _ in held[symbol]}]
            old = [(n, c) for n, c in held[symbol] if n not in {m for m, _ in made[symbol]}]
            if new and old:
                best = _atoms(new), _atoms(old)
                break
        if best is None:
            symbol = shared[0]
            best = _atoms(made[symbol]), _atoms(held[symbol])
        row = [Fraction(0)] * system.width
        row[system.species.index(product)] += best[0]
        row[system.species.index(source)] -= best[1]
        rows.append(whole(row))
    return rows


def cancel(
    left: Sequence[Species], right: Sequence[Species], free: Sequence[Species], text: str
) -> tuple[Sequence[Species], Sequence[Species], tuple[Assumption, ...]]:
    """A species typed on both sides is kept once; its side is whichever balances."""
    doubled = [species for species in left if species in set(right)]
    if not doubled:
        return left, right, ()
    names = ", ".join(map(str, doubled))
    note = Assumption(
        (0, len(text)),
        f"{names} on one side only",
        f"{names} on both sides",
        "what stands on both sides cancels",
    )
    only_left = [species for species in left if species not in set(doubled)]
    only_right = [species for species in right if species not in set(doubled)]
    system = System(only_left, only_right, [*doubled, *free])
    basis = system.basis()
    if len(basis) == 1:
        vector = basis[0]
        if next((v for j, v in enumerate(vector) if v and j not in system.free), 0) < 0:
            vector = [-v for v in vector]
        net = dict(zip(system.species, vector, strict=True))
        keep_left = [s for s in left if s not in doubled or net[s] > 0]
        keep_right = [s for s in right if s not in doubled or net[s] < 0]
        return keep_left, keep_right, (note,)
    return left, only_right, (note,)


def balance(
    text: str | Equation,
    *,
    ratio: Ratio | None = None,
    origin: Mapping[str, str] | None = None,
    forbid: Sequence[str] = (),
) -> Balance:
    """Balance an equation over exactly the species named.

    Parameters
    ----------
    text : str or Equation
        The equation; typed coefficients are ignored and the result says so.
    ratio : mapping of str to number, optional
        Amounts that must stand in this ratio, such as ``{"H2O2": 5, "KMnO4": 2}``.
    origin : mapping of str to str, optional
        Where a product comes from, such as ``{"O2": "H2O2"}``: all of it, and nothing else from there.
    forbid : sequence of str, optional
        Couples along which no electrons may pass in the choice, such as ``"H2O2/H2O"``.

    Returns
    -------
    Balance
        Unique or not; ``.equation`` raises ``NotUniqueError`` when it is not.

    Raises
    ------
    ImpossibleError
        If no positive coefficients balance it; carries a certificate and repairs that do balance.
    NotationError
        If the text cannot be read.
    DomainError
        If an option names species the equation does not hold.

    Examples
    --------
    >>> print(balance("Fe + O2 -> Fe2O3").equation)
    4 Fe + 3 O2 -> 2 Fe2O3
    >>> print(balance("KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O").choice)
    2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 5 O2 + 8 H2O
    """
    reading = read(text)
    assumptions = reading.assumptions
    if reading.typed:
        assumptions += ignored(reading)
    if reading.doubled:
        left, right, cancelled = cancel(reading.left, reading.right, (), reading.text)
        reading = reading._replace(left=left, right=right)
        assumptions += cancelled
    system = System(reading.left, reading.right)
    notes: tuple[str, ...] = ()
    if ratio or origin:
        extra = []
        if ratio:
            extra += _ratio_rows(system, ratio)
            notes += ("pinned: " + " : ".join(f"{value} {name}" for name, value in ratio.items()),)
        if origin:
            extra += _origin_rows(system, origin)
            notes += tuple(f"{product} comes only from {source}" for product, source in origin.items())
        system = System(reading.left, reading.right, extra=extra)
    couples = [_pair(couple, system) for couple in forbid] if forbid else ()
    basis = system.basis()
    if len(basis) == 1:
        vector = basis[0]
        if max(vector) <= 0:
            vector = [-value for value in vector]
        if min(vector) > 0:
            return Balance(system, vector, assumptions, notes)
    elif basis and feasible_or_certificate(system.all_rows, system.width)[0] is not None:
        result = Balance(system, None, assumptions, notes)
        result._forbid = couples
        return result
    from redoxlib.stoichiometry._impossible import impossible

    raise impossible(system, reading.text)


def _pair(couple: str, system: System) -> tuple[Species, Species]:
    for mark in ("->", "/"):
        one, found, other = couple.partition(mark)
        if found:
            return _species(one.strip(), system), _species(other.strip(), system)
    raise DomainError(f"couple {couple!r} is not a pair", hint='write forbid=["H2O2/H2O"]')
