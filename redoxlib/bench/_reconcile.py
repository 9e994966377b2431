"""Percent yield from what came off the balance.

May import: bench's own plan and below.
"""

from __future__ import annotations

from dataclasses import dataclass

from redoxlib.bench._plan import BenchPlan
from redoxlib.errors import DomainError
from redoxlib.quantity import Quantity

__all__ = ["Reconciliation", "reconcile"]


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """Yield against theory; ``remark`` says what the number can and cannot mean."""

    percent: Quantity
    product: Quantity
    theory: Quantity
    unexplained: Quantity
    remark: str

    def __str__(self) -> str:
        return (
            f"{self.product} of {self.theory} in theory is {self.percent}; "
            f"{self.unexplained} not accounted for.  {self.remark}"
        )


def reconcile(
    plan: BenchPlan, *, product: Quantity | str, purity: float = 1.0, purity_uncertainty: float = 0.0
) -> Reconciliation:
    """Percent of the largest yield from one weighing.

    Parameters
    ----------
    product : Quantity or str
        Mass of what was isolated, such as "61.4 g"; without a stated uncertainty half the last digit counts.
    purity : float
        Mass fraction of product in it, 0 to 1, with its uncertainty beside.

    Raises
    ------
    DomainError
        When the purity is no fraction.
    """
    if not 0 < purity <= 1:
        raise DomainError(f"purity {purity} is not a mass fraction", hint="write 0.97 for 97 %")
    given = Quantity.parse(product) if isinstance(product, str) else product
    grams = given.to("g")
    theory = plan["yield.g"].value
    if not isinstance(theory, Quantity) or theory.value <= 0:
        raise DomainError("the plan has no largest yield to compare with")
    weighing = given.to("g").uncertainty
    if weighing is None:
        weighing = _half_last_digit(product if isinstance(product, str) else str(given.value), grams.value)
    pure = grams.value * purity
    relative = ((weighing / grams.value) ** 2 + (purity_uncertainty / purity) ** 2) ** 0.5
    percent = 100 * pure / theory.value
    spread = percent * relative
    if percent - 2 * spread > 100:
        remark = "More than theory: the product is wet or impure, or the charge was weighed wrong."
    elif percent > 98:
        remark = "Within 2 % of theory."
    else:
        remark = "Look for the rest in the liquor (titrate it), on the filter, and in the feed left over."
    return Reconciliation(
        Quantity(percent, "%", spread, (), "last-digit"),
        Quantity(grams.value, "g", weighing, (), "last-digit"),
        theory,
        Quantity(max(0.0, theory.value - pure), "g", weighing, (), "last-digit"),
        remark,
    )


def _half_last_digit(text: str, grams: float) -> float:
    number = text.split()[0]
    if "." in number:
        step = 10.0 ** -len(number.split(".")[1])
    else:
        step = 1.0
    written = float(number) or 1.0
    return 0.5 * step * grams / written
