"""Everything the gate looks at, in one value.

A field that is not known stays ``None``: a rule that needs it then says so instead of taking the
favourable value.  Defaults of a job that nobody declared (a concentration of 1 mol/L, a bottle of
acid on the shelf) belong here only when the work really uses them.

May import: errors, notation, data.
"""

# ruff: noqa: N815 -- a field that holds a number ends in its unit, spelt as the unit is
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any

from redoxlib.data import OwnRuleRow
from redoxlib.errors import JobError
from redoxlib.notation import Species

__all__ = ["Situation"]

_SETS = (
    "species", "feed", "target", "oxidant", "active", "acid", "base", "impurities", "counter_ions", "quench",
)  # fmt: skip
_ROLE_WORDS = ("feed", "oxidant", "acid", "base", "impurities", "quench")
_CHOICES = {
    "vessel": ("open", "vented", "closed", "sealed"),
    "oxidant_form": ("solution", "solid", "gas", "electricity"),
    "purpose": ("make", "remove"),
}
_NUMBERS = (
    "ph", "acid_strength_w_w", "oxidant_strength_w_w", "temperature_C", "concentration_mol_L", "amount_mol",
    "cooling_W", "excess", "dose_mg_L", "free_cyanide_g_L", "total_sulfide_mmol_L", "heat_kJ_per_mol",
    "dosing_min", "acid_made_mol_L",
)  # fmt: skip
_FRACTIONS = ("acid_strength_w_w", "oxidant_strength_w_w")

_NOTHING: frozenset[Species] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What is in the pot and in the bottles beside it, and under which conditions.

    Attributes
    ----------
    species : frozenset of Species
        Everything that meets in the pot; salts may stay whole or be given as ions.
    feed, target, oxidant, active, acid, base, impurities, counter_ions : frozenset of Species
        The same by role: what is oxidised, what is wanted, the bottle of oxidant, the species that
        oxidises, what sets the pH, what came along.
    quench : frozenset of Species
        What destroys or neutralises the rest afterwards.
    oxidant_key : str or None
        Key of the oxidant in the tables; only "anode" is read by rules (a current has no formula).
    ph : float or None
        Declared pH of the pot.
    acid_strength_w_w, oxidant_strength_w_w : float or None
        Mass fraction in the bottle, 0 to 1.
    acid_undiluted : bool or None
        Whether the acid meets the other reagents as it comes from the bottle.
    oxidant_form : {"solution", "solid", "gas", "electricity"} or None
    temperature_C : float or None
        [degree Celsius]
    vessel : {"open", "vented", "closed", "sealed"} or None
    addition : tuple of Species or None
        Order in which things enter the vessel; None for the plan's own order (reductant and acid
        first, oxidant dosed last).
    all_at_once : bool or None
        Whether the oxidant goes in as one charge.
    concentration_mol_L, amount_mol : float or None
        Of the feed in the pot.
    purpose : {"make", "remove"} or None
    potable : bool or None
        Whether the water will be drunk.
    room : str or None
        Where it is done, such as "fume hood" or "no hood".
    cooling_W : float or None
        Heat the cooling can carry away [W].
    heat_kJ_per_mol : float or None
        Heat released per mol of feed, a positive number [kJ/mol].
    dosing_min : float or None
        Time over which the oxidant is dosed [min].
    excess : float or None
        Oxidant beyond the stoichiometric amount, as a fraction.
    dose_mg_L : float or None
        Oxidant dosed into water [mg/L].
    distil : bool or None
        Whether the pot is distilled or concentrated with the oxidant still in it.
    context : str or None
        A declared circumstance such as "water works chlorine dioxide generator, dilute".
    free_cyanide_g_L : float or None
        [g/L as CN]
    total_sulfide_mmol_L : float or None
        [mmol/L, all forms]
    acid_made_mol_L : float or None
        Strong acid that the reaction itself has made by the end of the batch, beyond what the charged
        base takes up, per litre of water [mol H+/L].
    own_rules : tuple of OwnRuleRow
        Rules of one's own to be asked besides the shipped ones; they can only add stops and cautions.

    Raises
    ------
    JobError
        When a number or a choice is out of its range; lists every fault.
    """

    species: frozenset[Species] = _NOTHING
    feed: frozenset[Species] = _NOTHING
    target: frozenset[Species] = _NOTHING
    oxidant: frozenset[Species] = _NOTHING
    active: frozenset[Species] = _NOTHING
    acid: frozenset[Species] = _NOTHING
    base: frozenset[Species] = _NOTHING
    impurities: frozenset[Species] = _NOTHING
    counter_ions: frozenset[Species] = _NOTHING
    quench: frozenset[Species] = _NOTHING
    oxidant_key: str | None = None
    ph: float | None = None
    acid_strength_w_w: float | None = None
    acid_undiluted: bool | None = None
    oxidant_strength_w_w: float | None = None
    oxidant_form: str | None = None
    temperature_C: float | None = None
    vessel: str | None = None
    addition: tuple[Species, ...] | None = None
    all_at_once: bool | None = None
    concentration_mol_L: float | None = None
    amount_mol: float | None = None
    purpose: str | None = None
    potable: bool | None = None
    room: str | None = None
    cooling_W: float | None = None
    heat_kJ_per_mol: float | None = None
    dosing_min: float | None = None
    excess: float | None = None
    dose_mg_L: float | None = None
    distil: bool | None = None
    context: str | None = None
    free_cyanide_g_L: float | None = None
    total_sulfide_mmol_L: float | None = None
    acid_made_mol_L: float | None = None
    own_rules: tuple[OwnRuleRow, ...] = ()

    def __post_init__(self) -> None:
        faults = []
        for name, allowed in _CHOICES.items():
            value = getattr(self, name)
            if value is not None and value not in allowed:
                faults.append(f"{name}: {value!r} is none of {', '.join(allowed)}")
        for name in _NUMBERS:
            value = getattr(self, name)
            if value is None:
                continue
            if isinstance(value, bool) or not isinstance(value, (int, float)) or value != value:
                faults.append(f"{name}: {value!r} is not a number")
            elif name in _FRACTIONS and not 0 <= value <= 1:
                faults.append(f"{name}: {value} is not a mass fraction between 0 and 1")
            elif name not in ("ph", "temperature_C", "excess", *_FRACTIONS) and value < 0:
                faults.append(f"{name}: {value} is negative")
        if faults:
            raise JobError("; ".join(faults), faults=tuple(faults))

    @classmethod
    def of(cls, **values: Any) -> Situation:
        """Build a situation from texts: every role takes one text or several.

        ``addition`` takes texts too; the words feed, oxidant, acid, base, impurities and quench
        stand for what fills that role.

        Raises
        ------
        NotationError
            When a species cannot be read.
        JobError
            When a field is unknown or out of range.

        Examples
        --------
        >>> s = Situation.of(feed="NaCN", oxidant="NaClO", ph=8.5)
        >>> sorted(str(x) for x in s.feed | s.oxidant)
        ['NaCN', 'NaClO']
        """
        known = {f.name for f in fields(cls)}
        unknown = sorted(set(values) - known)
        if unknown:
            raise JobError(
                f"unknown field of a situation: {', '.join(unknown)}",
                faults=tuple(f"{name}: unknown field" for name in unknown),
            )
        for name in _SETS:
            if name in values:
                values[name] = frozenset(_species(values[name]))
        if values.get("addition") is not None:
            order: list[Species] = []
            for step in values["addition"]:
                if isinstance(step, str) and step in _ROLE_WORDS:
                    order.extend(sorted(values.get(step, ()), key=str))
                else:
                    order.extend(_species(step))
            values["addition"] = tuple(order)
        return cls(**values)

    @property
    def pot(self) -> frozenset[Species]:
        """Everything that meets in the pot, whatever its role; not the target, not the quench."""
        return (
            self.species | self.feed | self.oxidant | self.active | self.acid | self.base | self.impurities
            | self.counter_ions | frozenset(self.addition or ())
        )  # fmt: skip


def _species(value: str | Species | Iterable[str | Species]) -> list[Species]:
    items = [value] if isinstance(value, (str, Species)) else list(value)
    return [item if isinstance(item, Species) else Species.parse(item) for item in items]
