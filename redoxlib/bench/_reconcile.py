"""Percent yield from what came off the balance, and where the rest is.

Verbs: reconcile.  May import: bench's own plan and below.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from math import hypot

from redoxlib.bench._liquor import extent_of
from redoxlib.bench._plan import BenchPlan
from redoxlib.errors import DomainError, RedoxlibError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.quantity import significant as figure
from redoxlib.routes import bare

__all__ = ["CLOSES_WITHIN", "Reconciliation", "reconcile"]

CLOSES_WITHIN = 2.0
"""Per cent of theory that may stay unexplained before it is flagged."""

_PLACES = {
    "dissolved": "in the liquor that was kept",
    "unreacted": "as feed, by titre",
    "quenched": "destroyed in the quench, by its titre",
    "carried": "on filters, walls, in the receiver and as vapour",
}


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """Yield against theory; ``remark`` says what the number can and cannot mean.

    Attributes
    ----------
    percent : Quantity
        Of theory, with the uncertainty of balance and purity [%].
    product, theory, unexplained : Quantity
        [g]
    closure : Quantity
        Product and everything found elsewhere, per cent of theory [%].
    places : tuple of (str, Quantity)
        Where the rest was found, as grams of product [g].
    flagged : bool
        Whether more than 2 % of theory, and more than the uncertainty, is missing or too much.
    above_theory : bool
        Whether more was weighed, or found in all, than the charge can give, beyond the uncertainty: then no
        yield is known, and the command line ends with code 1.
    of : str
        What theory counts, such as CuSO4.5H2O where the hydrate is what is weighed.
    """

    percent: Quantity
    product: Quantity
    theory: Quantity
    unexplained: Quantity
    remark: str
    closure: Quantity
    places: tuple[tuple[str, Quantity], ...] = ()
    flagged: bool = False
    above_theory: bool = False
    of: str = ""

    def __str__(self) -> str:
        found = "".join(f"; {name} {grams}" for name, grams in self.places)
        return (
            f"{self.product} of {self.theory} in theory is {self.percent}{found}; "
            f"{self.unexplained} not accounted for.  {self.remark}"
        )


def reconcile(
    plan: BenchPlan,
    *,
    product: Quantity | str,
    purity: float = 1.0,
    purity_uncertainty: float = 0.0,
    found: Mapping[str, Quantity | str] | None = None,
) -> Reconciliation:
    """Percent of the largest yield from one weighing, and a balance over what was found elsewhere.

    Where the plan crystallises a hydrate, the crystals are what is weighed: theory is ``crystal.theory.g``.
    Where a removal throws down several solids, they lie on one filter: theory is ``yield.solids.g``.

    Parameters
    ----------
    product : Quantity or str
        Mass of what was isolated, such as "61.4 g"; without a stated uncertainty half the last digit counts.
    purity : float
        Mass fraction of product in it, 0 to 1, with its uncertainty beside.
    found : mapping, optional
        Found elsewhere: ``dissolved``, ``quenched``, ``carried``, each "3.1 g" or "0.02 mol" of product, and
        ``unreacted``, "0.02 mol" of feed or grams with what was weighed, "2 g of Ag"; plain grams are
        refused there, for they could be feed or product.
        Values may carry the tolerance of burette or balance: "0.0200 ± 0.0002 mol".

    Raises
    ------
    DomainError
        When the purity is no fraction, a place is not known, an amount is no mass or amount, or grams of
        what did not react do not say of what.
    """
    if not 0 < purity <= 1:
        raise DomainError(f"purity {purity} is not a mass fraction", hint="write 0.97 for 97 %")
    grams, weighing = _weighed(product)
    theory = plan[_theory_key(plan)].value
    if not isinstance(theory, Quantity) or theory.value <= 0:
        raise DomainError("the plan has no largest yield to compare with")
    if grams <= 0:
        raise DomainError(f"product {product} is no mass above zero")
    pure = grams * purity
    percent = 100 * pure / theory.value
    own = percent * hypot(weighing / grams, purity_uncertainty / purity)
    unsure = (theory.uncertainty or 0.0) / theory.value
    spread = hypot(own, percent * unsure)
    places = tuple((name, _place(plan, name, value)) for name, value in (found or {}).items())
    elsewhere = sum(q.value for _, q in places)
    total = 100 * (pure + elsewhere) / theory.value
    weighed = hypot(own, *(100 * (q.uncertainty or 0.0) / theory.value for _, q in places))
    total_spread = hypot(weighed, total * unsure)
    missing = theory.value - pure - elsewhere
    basis = "estimate" if unsure else "last-digit"
    over = percent - 2 * spread > 100
    too_much = total - 100 > max(CLOSES_WITHIN, 2 * total_spread)
    flagged = over or too_much or 100 - total > max(CLOSES_WITHIN, 2 * total_spread)
    if over:
        remark = _too_heavy(plan, grams, purity, theory.value)
    elif too_much:
        remark = (
            f"More than theory in all: {total - 100:.1f} % of it is too much. Something was counted twice, "
            "or a titre or weighing is wrong: measure each place again, the product first."
        )
    else:
        remark = _remark(percent, total, flagged, bool(places))
    if plan.route.job.purpose == "remove":
        remark += " What a removal has reached is told by what is left in the water: measure that."
    return Reconciliation(
        Quantity(percent, "%", spread, (), basis),
        Quantity(grams, "g", weighing, (), "last-digit"),
        theory,
        Quantity(max(0.0, missing), "g", theory.value * hypot(weighed / 100, unsure), (), basis),
        remark,
        Quantity(total, "%", total_spread, (), basis),
        places,
        flagged,
        over or too_much,
        _what_is_weighed(plan),
    )


def _theory_key(plan: BenchPlan) -> str:
    """What is weighed: the hydrate that crystallises, the solids of a removal together, the product."""
    return next((key for key in ("crystal.theory.g", "yield.solids.g") if key in plan), "yield.g")


def _what_is_weighed(plan: BenchPlan) -> str:
    if "crystal.theory.g" in plan:
        return plan["crystal.theory.g"].what.split()[0]
    if "yield.solids.g" in plan:
        return plan["yield.solids.g"].what.split(": ")[1]
    return plan.route.product.weighed_as


def _too_heavy(plan: BenchPlan, grams: float, purity: float, theory: float) -> str:
    """What more than theory means, how much foreign matter would explain it, and what to weigh again."""
    foreign = grams - theory
    held = f"{figure(foreign)} g of it ({100 * foreign / grams:.0f} %)" if purity == 1 else "part of it"
    limiting = plan.route.limiting
    based = "ph.hold.base.mol" in plan
    salt = " Base given to hold the pH made salt of the acid, which theory does not count." if based else ""
    return (
        f"More than theory: the charge cannot give that. The product is wet or impure (then {held} is "
        "something else), or a weighing is wrong. Dry the product to constant mass and weigh it again with "
        f"its tare; check the mass and strength charged of what limits ({limiting}); have the purity "
        f"measured.{salt} Until then no yield is to be written down."
    )


def _remark(percent: float, total: float, flagged: bool, looked: bool) -> str:
    if looked and flagged:
        return f"The balance does not close: {100 - total:.1f} % of theory is missing."
    if looked:
        return f"The balance closes within {CLOSES_WITHIN:g} % or its uncertainty."
    if percent > 100 - CLOSES_WITHIN:
        return f"Within {CLOSES_WITHIN:g} % of theory."
    return "Look for the rest in the liquor (titrate it), on the filter, and in the feed left over."


def _place(plan: BenchPlan, name: str, value: Quantity | str) -> Quantity:
    found = _grams_at(plan, name, value)
    if found.value < 0:
        raise DomainError(f"{name}: {value} is below zero", hint="leave out a place where nothing was found")
    return found


def _grams_at(plan: BenchPlan, name: str, value: Quantity | str) -> Quantity:
    if name not in _PLACES:
        near = get_close_matches(name, _PLACES, n=1)
        hint = f"did you mean {near[0]!r}?" if near else f"known are {', '.join(_PLACES)}"
        raise DomainError(f"{name!r} is no place a product can be", hint=hint)
    if name == "unreacted":
        of_feed = _grams_of_feed(plan, value)
        if of_feed is not None:
            return of_feed
    try:
        given = Quantity.parse(value) if isinstance(value, str) else value
        if given.measures_like("g"):
            grams, spread = _grams(value)
            return Quantity(grams, "g", spread, (), "last-digit")
        moles = given.to("mol")
    except RedoxlibError as error:
        raise DomainError(
            f"{name}: {value} is no mass or amount of substance", hint='write "3.1 g" or "0.02 mol"'
        ) from error
    theory = plan[_theory_key(plan)].value
    assert isinstance(theory, Quantity)
    per_mol = theory.value / plan.route.product.mol
    if name == "unreacted":  # stated as feed
        per_mol = _per_feed(plan)
    tolerance = moles.uncertainty
    if tolerance is None:
        tolerance = _half_last_digit(value if isinstance(value, str) else str(moles.value), moles.value)
    return Quantity(moles.value * per_mol, "g", tolerance * per_mol, (), "last-digit")


def _per_feed(plan: BenchPlan) -> float:
    """Grams of product in theory for one mol of feed."""
    theory = plan[_theory_key(plan)].value
    assert isinstance(theory, Quantity)
    return theory.value / (plan.route.parts[0].feed_mol * extent_of(plan.route))


_GRAMS_OF = re.compile(r"(?P<mass>.*\S)\s+of\s+(?P<what>\S+)")


def _grams_of_feed(plan: BenchPlan, value: Quantity | str) -> Quantity | None:
    """Grams of feed left over as the product they would have given; None where mol are stated.

    Grams alone are refused: 2 g of silver is 3.1 g of silver nitrate, and neither reading is safe to guess.
    """
    part, charge = plan.route.parts[0], plan.route.charge("feed")
    feed = bare(part.conversion.feed)
    held = bare(charge.compound) if charge is not None and charge.mol else feed
    stated = _GRAMS_OF.fullmatch(value) if isinstance(value, str) else None
    hint = f'write what was weighed, "2 g of {held}" (feed) or "2 g of {_what_is_weighed(plan)}"'
    hint += ' (product), or mol of feed, "0.02 mol"'
    try:
        mass = stated["mass"] if stated else value
        given = Quantity.parse(mass) if isinstance(mass, str) else mass
        what = bare(Species.parse(stated["what"])) if stated else None
    except RedoxlibError:
        return None  # said with the other amounts that cannot be read
    if not given.measures_like("g"):
        return None
    if what is None:
        raise DomainError(f"unreacted: {value} could be grams of feed or of product", hint=hint)
    grams, spread = _grams(mass)
    if str(what) == _what_is_weighed(plan):
        per_gram = 1.0
    elif what == held and charge is not None and charge.mol:
        per_gram = _per_feed(plan) * part.feed_mol / (charge.mol * held.molar_mass)
    elif what == feed:
        per_gram = _per_feed(plan) / feed.molar_mass
    else:
        raise DomainError(f"unreacted: {what} is neither feed nor product of this plan", hint=hint)
    return Quantity(grams * per_gram, "g", spread * per_gram, (), "last-digit")


def _weighed(product: Quantity | str) -> tuple[float, float]:
    given = Quantity.parse(product) if isinstance(product, str) else product
    if given.measures_like("L"):
        hint = "weigh it, and state the mass fraction of product in it as purity"
        raise DomainError(f"product {product} is a volume", hint=hint)
    if not given.measures_like("g"):
        raise DomainError(
            f"product {product} is no mass", hint="weigh the dry product and write its mass, such as '61.4 g'"
        )
    return _grams(product)


def _grams(value: Quantity | str) -> tuple[float, float]:
    """Grams and their uncertainty; half the last digit where none is stated."""
    given = (Quantity.parse(value) if isinstance(value, str) else value).to("g")
    if given.uncertainty is not None:
        return given.value, given.uncertainty
    return given.value, _half_last_digit(value if isinstance(value, str) else str(value.value), given.value)


def _half_last_digit(text: str, grams: float) -> float:
    number = text.split()[0]
    step = 10.0 ** -len(number.split(".")[1]) if "." in number else 1.0
    try:
        written = float(number) or 1.0
    except ValueError:
        return 0.0
    return 0.5 * step * grams / written
