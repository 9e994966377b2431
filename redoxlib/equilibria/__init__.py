"""Composition of the pot at equilibrium.  Verbs: equilibrium, system, interhalogen_fraction.

A ``System`` is a list of species and as many independent reactions as its constants allow, with log K of
one source or Gibbs energies of one family.  ``equilibrium`` takes amounts and gives amounts: aqueous
species in a volume of water, a gas space above it if wanted, and every solid, liquid or gas of its own
that is stable.  Water has activity 1 (dilute solutions); activity coefficients are those of the ionic
strength at which the constants were measured.  Arrays of amounts are solved together.

May import: data, notation, quantity, errors.  numpy is loaded by the first equilibrium, not by the import.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from math import log, prod
from typing import Any

from redoxlib.data import Tables
from redoxlib.equilibria._systems import SYSTEMS, Reaction, System, null_space, system
from redoxlib.errors import DomainError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import MOLAR_GAS_VOLUME

__all__ = [
    "SYSTEMS",
    "Composition",
    "Reaction",
    "System",
    "equilibrium",
    "interhalogen_at_dose",
    "interhalogen_fraction",
    "system",
]

_WATER = Species.parse("H2O(l)")
_PROTON = Species.parse("H^+(aq)")
_LN10 = log(10.0)
_GAS_LITRES = MOLAR_GAS_VOLUME.value

Amounts = Mapping[str, Any]
"""Species in text and mol, a number or an array each."""


@dataclass(frozen=True, slots=True, eq=False)
class Composition:
    """What is in the pot at equilibrium.

    Attributes
    ----------
    system : System
    shape : tuple of int
        Shape of the conditions; ``()`` for one.
    volume_l : array
        Litres of solution.
    mol : array
        Amounts [mol], one row a condition, one column a species of ``system.species``.  Species whose
        activity was fixed stand at 0 here; what they gave is in ``drawn``.
    log10_activity : array
        Decadic logarithms of the activities, in the same order; below 0 a phase of its own is not there.
    drawn : array
        mol of a species of fixed activity (water among them) that came from outside, beyond its feed;
        negative where it went there.
    closure : float
        Largest imbalance of any element or of charge over all conditions, as a share of what there is of
        it (of all charges), plus a hundred-thousandth of all matter.
    steps : int
        Most Newton steps any condition took.
    """

    system: System = field(repr=False)
    shape: tuple[int, ...]
    volume_l: Any = field(repr=False)
    mol: Any = field(repr=False)
    log10_activity: Any = field(repr=False)
    drawn: Any = field(repr=False)
    closure: float
    steps: int

    def __str__(self) -> str:
        """Concentrations and amounts of the first condition, the largest first."""
        lines = []
        for i in sorted(range(len(self.system.species)), key=lambda i: -self.mol[0, i]):
            s, mol = self.system.species[i], float(self.mol[0, i])
            if mol <= 0.0:
                continue
            dissolved = s.phase is Phase.AQUEOUS
            lines.append(
                f"{s!s:<14} {mol / float(self.volume_l[0]) if dissolved else mol:10.3e} "
                + ("mol/L" if dissolved else "mol")
            )
        return "\n".join(lines)

    def _column(self, array: Any, species: str | Species) -> Any:
        column = array[:, self.system.index(species)].reshape(self.shape)
        return float(column) if self.shape == () else column

    def amount(self, species: str | Species) -> Any:
        """Amount of a species [mol]."""
        return self._column(self.mol, species)

    def concentration(self, species: str | Species) -> Any:
        """Amount per litre of solution [mol/L]."""
        return self._column(self.mol / self.volume_l[:, None], species)

    def log10_activity_of(self, species: str | Species) -> Any:
        """Decadic logarithm of the activity [1]; for a phase of its own, its saturation index."""
        return self._column(self.log10_activity, species)

    @property
    def ph(self) -> Any:
        """-log10 of the activity of H^+(aq)."""
        return -self._column(self.log10_activity, _PROTON)

    def atoms(self, element: str, species: Iterable[str | Species] | None = None) -> Any:
        """Mol of an element in the listed species, all of them by default."""
        chosen = self.system.species if species is None else [self.system.find(s) for s in species]
        total = self.mol[:, 0] * 0.0
        for s in chosen:
            count = s.elements.get(element, 0)
            if count:
                total = total + float(count) * self.mol[:, self.system.index(s)]
        found = total.reshape(self.shape)
        return float(found) if self.shape == () else found


@lru_cache(maxsize=256)
def _arrays(chosen: System, fixed: tuple[int, ...]) -> tuple[Any, Any]:
    """Conserved quantities and reactions of a system as arrays; worked out once."""
    import numpy as np

    rows = chosen.stoichiometry
    return np.array(_conserved(chosen, rows, fixed), dtype=float), np.array(rows, dtype=float)


def _conserved(
    chosen: System, stoichiometry: tuple[tuple[Fraction, ...], ...], fixed: tuple[int, ...]
) -> tuple[tuple[int, ...], ...]:
    """Whole-number quantities that no reaction of the system changes and that fixed species do not carry.

    The exact null space of the reactions, one row more for each fixed species.
    """
    width = len(chosen.species)
    pinned = [[Fraction(int(i == f)) for i in range(width)] for f in fixed]
    rows = [*stoichiometry, *pinned]
    basis = null_space(rows)
    if width - len(basis) < len(rows):
        names = ", ".join(str(chosen.species[f]) for f in fixed)
        raise DomainError(f"the reactions and the fixed activities ({names}) are not independent")
    whole = []
    for vector in basis:
        common = prod({x.denominator for x in vector})
        whole.append(tuple(int(x * common) for x in vector))
    return tuple(whole)


def equilibrium(
    chosen: System | str,
    feed: Amounts,
    *,
    volume_l: Any = 1.0,
    fixed: Amounts | None = None,
    headspace_l: Any = 0.0,
) -> Composition:
    """Composition at equilibrium of what is put together.

    Parameters
    ----------
    chosen : System or str
        A system, or the name of a provided one (``SYSTEMS``).
    feed : mapping
        mol of each species that goes in, as text; a number, or an array for many conditions at once.
        Water need not be named.  The feed must be neutral unless ``fixed`` holds a charged species.
    volume_l : float or array [L]
        Litres of solution.
    fixed : mapping, optional
        Activities held from outside: ``{"pH": 7.0}`` for a buffer, ``{"Cl2(g)": 1.0}`` [bar] for a gas
        supplied, ``{"I2(s)": 1.0}`` for a solid that never runs out.
    headspace_l : float or array [L]
        A closed gas space at 25 C that gases spread into; 0 for an open pot under 1 bar, where a gas
        leaves as bubbles as soon as the pressures of all gases reach 1 bar together.

    Returns
    -------
    Composition

    Raises
    ------
    DomainError
        If an amount is negative or not a number, the feed is charged, or the search does not settle.

    Notes
    -----
    Minimum of the Gibbs energy of ideal phases, found through its dual.

    References
    ----------
    .. [1] Smith and Missen, Chemical Reaction Equilibrium Analysis, Wiley 1982, ch. 6 and 9.
    .. [2] Morel and Hering, Principles and Applications of Aquatic Chemistry, Wiley 1993, ch. 1.

    Examples
    --------
    >>> water = equilibrium("bromine water", {"Br2(aq)": 0.01})
    >>> print(f"{water.concentration('HBrO'):.2e}")
    3.24e-04
    """
    import numpy as np

    from redoxlib.equilibria._solver import Problem, least_norm, solve

    chosen = system(chosen) if isinstance(chosen, str) else chosen
    held = _held(chosen, fixed or {})
    amounts = {chosen.index(name): np.asarray(value, dtype=float) for name, value in _named(feed).items()}
    arrays = [*amounts.values(), *held.values(), np.asarray(volume_l), np.asarray(headspace_l)]
    shape = np.broadcast_shapes(*(a.shape for a in arrays))
    count = int(np.prod(shape, dtype=int))

    def flat(value: Any) -> Any:
        return np.broadcast_to(np.asarray(value, dtype=float), shape).reshape(count)

    width = len(chosen.species)
    given = np.zeros((count, width))
    for i, value in amounts.items():
        given[:, i] += flat(value)
    litres, space = flat(volume_l), flat(headspace_l)
    _check(chosen, given, litres, space, held)

    free = [i for i in range(width) if i not in held]
    conserved, reactions = _arrays(chosen, tuple(held))
    conserved = conserved[:, free]
    unit = np.zeros((len(held), width))
    unit[np.arange(len(held)), list(held)] = 1.0
    right = np.vstack(
        [np.outer(np.array([r.log10_k for r in chosen.reactions]) * _LN10, np.ones(count))]
        + [flat(value)[None, :] * _LN10 for value in held.values()]
    )
    offset = least_norm(np.vstack([reactions, unit]), right).T[:, free]

    gases = [chosen.species[i].phase is Phase.GAS for i in free]
    size = np.zeros((count, len(free)))
    phase = np.full(len(free), -1, dtype=np.int64)
    closed = bool((space > 0).any())
    if closed and not bool((space > 0).all()):
        raise DomainError("headspace_l must be above 0 for all conditions or for none")
    number = 0
    gas_phase = -1
    for column, i in enumerate(free):
        s = chosen.species[i]
        if s.phase is Phase.AQUEOUS:
            size[:, column] = litres
        elif gases[column] and closed:
            size[:, column] = space / _GAS_LITRES
        elif gases[column]:
            if gas_phase < 0:
                gas_phase, number = number, number + 1
            phase[column] = gas_phase
        else:
            phase[column], number = number, number + 1

    solved = solve(Problem(conserved, offset, given[:, free], size, phase))
    if not bool(solved.converged.all()):
        worst = int(np.flatnonzero(~solved.converged)[0])
        raise DomainError(
            f"no equilibrium found for condition {worst} of {count}",
            hint="check that the constants of the system are of one source and the amounts are meant in mol",
        )
    mol = np.zeros((count, width))
    mol[:, free] = solved.amount
    logs = np.zeros((count, width))
    logs[:, free] = solved.log_activity / _LN10
    for i, value in held.items():
        logs[:, i] = flat(value)
    # How far each reaction went follows from the free species; what the fixed ones gave follows from that.
    drawn = np.zeros((count, width))
    if held:
        changes = (mol - given)[:, free]
        extent = np.linalg.lstsq(reactions[:, free].T, changes.T, rcond=None)[0]
        for i in held:
            drawn[:, i] = -(reactions[:, i] @ extent) - given[:, i]
    return Composition(
        chosen, shape, litres, mol, logs, drawn, _closure(chosen, given, mol, drawn), int(solved.steps.max())
    )


def _named(feed: Amounts) -> dict[str, Any]:
    return {name: value for name, value in feed.items() if name not in ("H2O", "H2O(l)")}


def _held(chosen: System, fixed: Amounts) -> dict[int, Any]:
    """Decadic logarithm of the activity of every species held from outside, water among them."""
    import numpy as np

    held: dict[int, Any] = {chosen.index(_WATER): np.zeros(())} if _WATER in chosen.species else {}
    for name, value in fixed.items():
        if name == "pH":
            held[chosen.index(_PROTON)] = -np.asarray(value, dtype=float)
            continue
        array = np.asarray(value, dtype=float)
        if not bool((array > 0).all()):
            raise DomainError(f"the activity of {name} must be above 0")
        held[chosen.index(name)] = np.log10(array)
    return held


def _check(chosen: System, given: Any, litres: Any, space: Any, held: Mapping[int, Any]) -> None:
    import numpy as np

    if not bool(np.isfinite(given).all()) or bool((given < 0).any()):
        raise DomainError("every amount must be a number of mol, 0 or more")
    if not bool((litres > 0).all()) or not bool((space >= 0).all()):
        raise DomainError("volume_l must be above 0 and headspace_l 0 or more")
    supplied = any(i for i in held if chosen.species[i] not in (_WATER, _PROTON))
    if not supplied and not bool((given.sum(axis=1) > 0).all()):
        raise DomainError("nothing was put in", hint="name at least one species of the system in feed")
    charges = np.array([s.charge for s in chosen.species], dtype=float)
    if any(chosen.species[i].charge for i in held):
        return
    net, all_ = given @ charges, given @ np.abs(charges)
    worst = int(np.argmax(np.abs(net) - 1e-9 * all_))
    if abs(net[worst]) > 1e-9 * all_[worst]:
        raise DomainError(
            f"the feed carries a charge of {net[worst]:.3g} mol",
            hint="add the counter-ion (System.with_spectators takes one that does not react) or fix the pH",
        )


def _closure(chosen: System, given: Any, mol: Any, drawn: Any) -> float:
    """Balance of every element and of charge, counted from the species themselves."""
    import numpy as np

    worst = 0.0
    elements = sorted({e for s in chosen.species for e in s.elements})
    counts = [[float(s.elements.get(e, 0)) for s in chosen.species] for e in elements]
    counts.append([float(s.charge) for s in chosen.species])
    for row in np.array(counts):
        if not row.any():
            continue
        gap = (mol - drawn - given) @ row
        # The share of all matter is where double precision ends: water drawn is a difference of amounts.
        whole = (mol + np.abs(drawn) + given) @ np.abs(row) + 1e-5 * (mol + given).sum(axis=1)
        worst = max(worst, float(np.max(np.abs(gap) / whole)))
    return worst


def interhalogen_fraction(found: Composition, halogen: str = "Br") -> Any:
    """Share of a halogen's atoms that is bound one to one or one to two with a lighter halogen.

    f = ([BrCl] + [BrCl2-]) / (all Br) for bromine: species with exactly one atom of the halogen and
    at least one of another.  Complexes of the free halogen (Br3-, Br2Cl-) do not count.

    Raises
    ------
    DomainError
        If nothing of the halogen is there.
    """
    import numpy as np

    others = {"F", "Cl", "Br", "I"} - {halogen}
    mixed = [s for s in found.system.species if s.elements.get(halogen) == 1 and others & set(s.elements)]
    if not mixed:
        raise DomainError(f"the system {found.system.name!r} has no mixed halogen of {halogen}")
    total = np.asarray(found.atoms(halogen))
    if not bool((total > 1e-20 * found.mol.sum(axis=1).reshape(found.shape)).all()):
        raise DomainError(f"no {halogen} in the pot")
    share = np.asarray(found.atoms(halogen, mixed)) / total
    return float(share) if share.shape == () else share


def interhalogen_at_dose(
    excess: Any,
    *,
    halogen: str = "Br",
    halide_molar: float = 0.1,
    chloride_molar: float = 1.0,
    acid_molar: float = 1.0,
    tables: Tables | None = None,
) -> Any:
    """Mixed-halogen share when active chlorine oxidises bromide or iodide in acid.

    Parameters
    ----------
    excess : float or array [1]
        Hypochlorous acid beyond the half mol per mol of halide; 0.1 for 10 %.
    halide_molar, chloride_molar, acid_molar : float [mol/L]
        Bromide or iodide before the reaction, chloride and strong acid in the finished pot (apart from
        the acid that the reaction takes up).

    Returns
    -------
    float or array [1]
        As ``interhalogen_fraction`` defines it.

    Examples
    --------
    >>> print(f"{interhalogen_at_dose(0.10):.2f}")
    0.11
    """
    import numpy as np

    if halogen not in ("Br", "I"):
        raise DomainError(f"halogen must be Br or I, not {halogen!r}")
    excess = np.asarray(excess, dtype=float)
    dose = 0.5 * halide_molar * (1.0 + excess)
    chosen = system("bromine-chlorine" if halogen == "Br" else "iodine-chlorine", tables=tables)
    chosen = chosen.with_spectators("Na^+(aq)", "ClO4^-(aq)")
    acid = acid_molar + dose
    found = equilibrium(
        chosen,
        {
            f"{halogen}^-(aq)": halide_molar,
            "Cl^-(aq)": chloride_molar,
            "HClO(aq)": dose,
            "H^+(aq)": acid,
            "Na^+(aq)": halide_molar + chloride_molar,
            "ClO4^-(aq)": acid,
        },
    )
    return interhalogen_fraction(found, halogen)
