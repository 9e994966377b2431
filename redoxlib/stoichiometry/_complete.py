"""complete: add water, H+ or OH-, and electrons where only half a reaction is given."""

from __future__ import annotations

from collections.abc import Sequence

from redoxlib.errors import DomainError
from redoxlib.notation import Assumption, Equation, Phase, Species
from redoxlib.stoichiometry._balance import Balance
from redoxlib.stoichiometry._cone import feasible_or_certificate
from redoxlib.stoichiometry._reading import Reading, ignored, read
from redoxlib.stoichiometry._system import System

__all__ = ["complete", "medium_of"]

_HALF = "half-reaction: electrons were added because no whole equation exists"


def medium_of(medium: str | float) -> str:
    """Turn a medium or a pH into ``"acid"``, ``"base"`` or ``"neutral"``."""
    if isinstance(medium, str):
        if medium in ("acid", "base", "neutral"):
            return medium
        raise DomainError(
            f"medium={medium!r} is not known", hint='write "acid", "base", "neutral" or a pH as a number'
        )
    if isinstance(medium, bool) or not -2 <= medium <= 16:
        raise DomainError(f"medium={medium!r} is not a pH between -2 and 16", hint="write medium=7.5")
    return "acid" if medium < 7 else "base" if medium > 7 else "neutral"


def _bare(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


class _Typed:
    """Typed species, the carriers (water, protons, hydroxide) set apart."""

    def __init__(self, reading: Reading) -> None:
        parse = Species.parse
        self.water, self.proton = parse("H2O"), parse("H^+")
        self.hydronium, self.hydroxide = parse("H3O^+"), parse("OH^-")
        carriers = {self.water, self.proton, self.hydronium, self.hydroxide}
        self.left = [s for s in reading.left if _bare(s) not in carriers]
        self.right = [s for s in reading.right if _bare(s) not in carriers]
        # A species on both sides cancels; it stays where it can, on the left.
        self.doubled = [s for s in self.left if s in self.right]
        self.carriers = [(s, "left") for s in reading.left if _bare(s) in carriers]
        self.carriers += [(s, "right") for s in reading.right if _bare(s) in carriers]
        self.phased = any(s.phase for s in (*reading.left, *reading.right))

    def has(self, wanted: Species) -> bool:
        return any(_bare(s) == wanted for s, _ in self.carriers)

    def added(self, species: Species) -> Species:
        """The typed spelling of a carrier, or a new one with a phase where phases are in use."""
        for typed, _ in self.carriers:
            if _bare(typed) == species:
                return typed
        if not self.phased:
            return species
        return species.with_phase(Phase.LIQUID if species == self.water else Phase.AQUEOUS)

    def free(self, mode: str) -> list[Species]:
        if mode == "base":
            carrier = self.hydroxide
        elif self.has(self.hydronium) and not self.has(self.proton):
            carrier = self.hydronium
        else:
            carrier = self.proton
        return [self.added(self.water), self.added(carrier)]


def _feasible(system: System) -> Sequence[int] | bool | None:
    """The unique vector, ``True`` for a family with a positive solution, ``None`` for neither."""
    basis = system.basis()
    if len(basis) == 1:
        vector = basis[0]
        if not system.fits(vector):
            vector = [-value for value in vector]
        return vector if system.fits(vector) else None
    if basis and feasible_or_certificate(system.all_rows, system.width, system.free)[0] is not None:
        return True
    return None


def complete(text: str | Equation, medium: str | float | None = None) -> Balance:
    """Complete and balance an equation in a medium by the ion-electron method.

    Water and H+ (acid) or OH- (base) are added on whichever side they are needed; electrons only when
    no whole equation exists, and then the result is flagged as a half-reaction.  In neutral medium H+
    and OH- appear only as products.

    Parameters
    ----------
    text : str or Equation
        The species that matter.  Typed H2O, H+ and OH- may change sides (an assumption says so); other
        species never do.
    medium : str or float, optional
        ``"acid"``, ``"base"``, ``"neutral"`` or a pH.  By default base when OH- is typed, else acid.

    Returns
    -------
    Balance
        ``.equation`` is the ion-electron choice where conservation alone leaves several.

    Raises
    ------
    ImpossibleError
        If even water, H+ or OH- and electrons do not balance it.
    DomainError
        If the medium is not known.

    Examples
    --------
    >>> print(complete("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid").equation)
    MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O
    """
    reading = read(text)
    typed = _Typed(reading)
    assumptions = reading.assumptions + ignored(reading)
    if medium is None:
        mode = "base" if typed.has(typed.hydroxide) else "acid"
    else:
        mode = medium_of(medium)
    if typed.doubled:
        from redoxlib.stoichiometry._balance import cancel

        left, right, note = cancel(typed.left, typed.right, typed.free(mode), reading.text)
        typed.left, typed.right = list(left), list(right)
        assumptions += note
    if not typed.left or not typed.right:
        return _carriers_only(reading, typed, mode, assumptions)
    chosen = "base" if mode == "base" else "acid"
    result = _solve(typed, chosen, assumptions)
    if result is None:
        raise _impossible(typed, chosen, reading)
    if not result.unique and result.choice is None:
        result = _as_typed(reading, assumptions) or result
    if mode == "neutral" and _left_proton(result, typed):
        # A neutral solution has no acid to spend: write hydroxide on the right instead.
        result = _solve(typed, "base", assumptions) or result
    return _explained(result, typed, reading, medium)


def _solve(typed: _Typed, mode: str, assumptions: tuple[Assumption, ...]) -> Balance | None:
    free = typed.free(mode)
    for extra, notes in (((), ()), ((Species.parse("e^-"),), (_HALF,))):
        system = System(typed.left, typed.right, [*free, *extra])
        found = _feasible(system)
        if found is None:
            continue
        vector = None if isinstance(found, bool) else found
        result = Balance(system, vector, assumptions, notes)
        result._prefers_choice = True
        return result
    return None


def _as_typed(reading: Reading, assumptions: tuple[Assumption, ...]) -> Balance | None:
    """The typed species alone, when they balance in exactly one way and nothing need be added."""
    system = System(reading.left, reading.right)
    found = None if reading.doubled else _feasible(system)
    if found is None or isinstance(found, bool):
        return None
    note = "the species as typed balance in one way; water, H+ or OH- added to them would leave several"
    return Balance(system, found, assumptions, (note,))


def _impossible(typed: _Typed, mode: str, reading: Reading) -> Exception:
    from redoxlib.stoichiometry._impossible import impossible

    return impossible(System(typed.left, typed.right, typed.free(mode)), reading.text)


def _carriers_only(
    reading: Reading, typed: _Typed, mode: str, assumptions: tuple[Assumption, ...]
) -> Balance:
    """One side holds nothing but water, H+ or OH-: keep the sides as typed and add what is missing."""
    left = [s for s, side in typed.carriers if side == "left"] + typed.left
    right = [s for s, side in typed.carriers if side == "right"] + typed.right
    present = {_bare(s) for s in (*left, *right)}
    missing = [s for s in typed.free(mode) if _bare(s) not in present]
    electron = Species.parse("e^-")
    for extra in ([], missing, [*missing, electron]):
        system = System(left, right, [s for s in extra if s not in (*left, *right)])
        found = _feasible(system)
        if found is not None:
            vector = None if isinstance(found, bool) else found
            half = electron in extra
            notes = (_HALF,) if half else ()
            result = Balance(system, vector, assumptions, notes)
            result._prefers_choice = True
            return result
    from redoxlib.stoichiometry._impossible import impossible

    raise impossible(System(left, right), reading.text)


def _answer(result: Balance) -> Equation | None:
    return result.equation if result.unique else result.choice


def _left_proton(result: Balance, typed: _Typed) -> bool:
    answer = _answer(result)
    protons = {typed.proton, typed.hydronium}
    return answer is not None and any(_bare(s) in protons for _, s in answer.reactants)


def _explained(result: Balance, typed: _Typed, reading: Reading, medium: str | float | None) -> Balance:
    """Note each typed carrier that changed sides, vanished or was replaced."""
    answer = _answer(result)
    span = (0, len(reading.text))
    if answer is None:
        return result
    left = {_bare(s) for _, s in answer.reactants}
    right = {_bare(s) for _, s in answer.products}
    notes = []
    for species, side in typed.carriers:
        bare = _bare(species)
        if bare in (left if side == "left" else right):
            continue
        other = "right" if side == "left" else "left"
        typed_as = f"{species} on the {side}"
        if bare in (right if side == "left" else left):
            note = Assumption(
                span, f"{species} on the {other}", typed_as, "the ion-electron method puts it there"
            )
        elif bare in (typed.proton, typed.hydroxide, typed.hydronium) and medium is not None:
            note = Assumption(
                span, f"{species} left out", typed_as, f"not needed in the medium asked for ({medium})"
            )
        else:
            note = Assumption(span, f"{species} left out", typed_as, "its coefficient is zero")
        notes.append(note)
    result.assumptions += tuple(dict.fromkeys(notes))
    return result
