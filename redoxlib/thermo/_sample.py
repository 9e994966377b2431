"""Uncertainty by sampling the rows of the tables: the one door of thermochemistry to numpy.

Two reactions that share a species share the error of its row.  Adding the uncertainties of the reactions
in quadrature forgets that; drawing every row once per sample and computing all reactions from the same
draw does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity
from redoxlib.thermo._reaction import Term, combined, enthalpy_terms, entropy_terms, gibbs_terms, shift_of
from redoxlib.thermo._rows import T0, UNIT, linked_remarks, net_species, value

TYPE_CHECKING = False
if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Property = Literal["gibbs", "enthalpy", "entropy"]


@dataclass(frozen=True, slots=True, eq=False)
class Sample:
    """Draws of several reactions from the same rows.

    Attributes
    ----------
    equations : tuple of str
    unit : str
        ``kJ/mol`` or ``J/(mol K)``.
    draws : array of float, shape (n, number of equations)
        One row per draw; the same row of a table has the same error in every equation of a draw.
    sources : tuple of str
    remarks : tuple of str
        Pairs of rows known to be correlated in a way the tables do not hold.
    """

    equations: tuple[str, ...]
    unit: str
    draws: NDArray[np.float64]
    sources: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    def quantity(self, index: int) -> Quantity:
        """Mean and standard deviation of one equation."""
        return self._of(self.draws[:, index])

    def difference(self, first: int, second: int) -> Quantity:
        """First less second, the errors they share gone."""
        return self._of(self.draws[:, first] - self.draws[:, second])

    def share_below(self, first: int, second: int) -> float:
        """Share of the draws in which the first is lower than the second."""
        return float((self.draws[:, first] < self.draws[:, second]).mean())

    def _of(self, column: NDArray[np.float64]) -> Quantity:
        return Quantity(float(column.mean()), self.unit, float(column.std(ddof=1)), self.sources, "published")


def sample(
    equations: Sequence[Equation | str],
    n: int = 4000,
    seed: int = 0,
    *,
    quantity: Property = "gibbs",
    tables: Tables | None = None,
) -> Sample:
    """Draw the table rows behind several reactions and compute all of them from each draw.

    Parameters
    ----------
    equations : sequence of str or Equation
        Balanced, with phases where the tables hold several.
    n : int
        Draws, at least 2.
    seed : int
        The same seed gives the same draws.
    quantity : {"gibbs", "enthalpy", "entropy"}

    Returns
    -------
    Sample
        Rows are drawn as independent normal deviates with their standard uncertainty.

    Raises
    ------
    DomainError
        For fewer than two draws or an unknown quantity.
    MissingDataError, AmbiguousSpeciesError, NotationError
        As the verbs do.

    Examples
    --------
    Two oxidants for cyanide: its own Gibbs energy is poorly known, and both reactions have it.

    >>> routes = ["CN^- + ClO^- -> OCN^- + Cl^-", "CN^- + H2O2(aq) -> OCN^- + H2O"]
    >>> drawn = sample(routes, seed=1)
    >>> drawn.difference(0, 1).uncertainty < drawn.quantity(0).uncertainty / 4
    True
    """
    import numpy as np

    if n < 2:
        raise DomainError(f"{n} draws have no spread; take at least 2")
    tables = tables or shipped()
    nets = [net_species(equation, tables) for equation in equations]
    made: list[dict[tuple[str, Species], float]] = []
    for net in nets:
        shift = shift_of(net, T0, tables)
        terms: list[Term]
        if quantity == "gibbs":
            terms = gibbs_terms(net, shift, tables)
        elif quantity == "enthalpy":
            terms = enthalpy_terms(net, shift)
        elif quantity == "entropy":
            terms = entropy_terms(net, shift)
        else:
            raise DomainError(f"nothing called {quantity!r}", hint="gibbs, enthalpy or entropy")
        made.append(combined(terms))
    rows = list(dict.fromkeys(key for factors in made for key in factors))
    values = [value(species, prop, tables=tables) for prop, species in rows]
    centre = np.array([q.value for q in values])
    spread = np.array([q.uncertainty or 0.0 for q in values])
    factors = np.array([[one.get(key, 0.0) for one in made] for key in rows])
    deviates = np.random.default_rng(seed).standard_normal((n, len(rows)))
    return Sample(
        tuple(str(equation) for equation in equations),
        UNIT["S"] if quantity == "entropy" else UNIT["dfG"],
        (centre + deviates * spread) @ factors,
        tuple(dict.fromkeys(source for q in values for source in q.sources)),
        tuple(dict.fromkeys(remark for net in nets for remark in linked_remarks(net))),
    )
