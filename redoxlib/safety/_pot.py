"""The situation as the rules see it: which kinds are where, how acid it can be, what is declared.

May import: notation, and the situation and kinds of this package.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from redoxlib.notation import Species
from redoxlib.safety._kinds import ACTIVE_CHLORINE, FEEDS, OXIDANTS, Kind, kinds_of
from redoxlib.safety._situation import Situation

__all__ = ["Pot", "kinds_in"]

CYANIDE_G_PER_MOL = 26.02
DILUTE_MOL_L = 1e-3
"""Total sulfide, or chlorine demand, up to which water treatment is judged as such."""
CONCENTRATED_W_W = 0.70
"""From this strength on sulfuric acid dehydrates and oxidises rather than merely acidifies."""
ALKALI_RESERVE_PH = 13.0
"""From this pH on (0.1 mol/L hydroxide) the pot itself carries a reserve of alkali."""

_K = Kind
_MINERAL = frozenset({_K.STRONG_ACID})
_WATER_WORDS = ("water treatment", "water works", "waterworks", "drinking", "well water", "village well")
_GENERATOR_WORDS = ("generator",)
_NO_HOOD_WORDS = (
    "no hood", "no fume hood", "without hood", "without a hood", "without fume hood", "without a fume hood",
    "unventilated", "no ventilation", "kitchen",
)  # fmt: skip


def kinds_in(species: Iterable[Species]) -> frozenset[Kind]:
    """Union of the kinds of several species."""
    found: set[Kind] = set()
    for each in species:
        found |= kinds_of(each)
    return frozenset(found)


@dataclass(frozen=True)
class Pot:
    """A situation with its kinds worked out once.  Rules read this and nothing else."""

    situation: Situation

    # ------------------------------------------------------------- composition
    @cached_property
    def kinds(self) -> frozenset[Kind]:
        """Kinds of everything that meets in the pot; an anode counts as one of them."""
        found = set(kinds_in(self.situation.pot))
        if self.situation.oxidant_key == "anode" or self.situation.oxidant_form == "electricity":
            found.add(_K.ANODE)
        return frozenset(found)

    @cached_property
    def feed(self) -> frozenset[Kind]:
        return kinds_in(self.situation.feed)

    @cached_property
    def target(self) -> frozenset[Kind]:
        return kinds_in(self.situation.target)

    @cached_property
    def quench(self) -> frozenset[Kind]:
        return kinds_in(self.situation.quench)

    @cached_property
    def impurities(self) -> frozenset[Kind]:
        return kinds_in(self.situation.impurities)

    @cached_property
    def anywhere(self) -> frozenset[Kind]:
        """Kinds in the pot and in the quench."""
        return self.kinds | self.quench

    @cached_property
    def reagents(self) -> frozenset[Kind]:
        """Kinds in the pot other than those that only the target brings."""
        return self.kinds

    def has(self, *kinds: Kind) -> bool:
        """Whether any of *kinds* is in the pot."""
        return not self.kinds.isdisjoint(kinds)

    @cached_property
    def oxidants(self) -> frozenset[Kind]:
        """Kinds of oxidant that were chosen; without a declared oxidant, those found in the pot."""
        declared = kinds_in(self.situation.oxidant | self.situation.active) & OXIDANTS
        if _K.ANODE in self.kinds:
            declared |= {_K.ANODE}
        if declared:
            return declared
        passive = {_K.COPPER2, _K.IRON3} if self.kinds & OXIDANTS - {_K.COPPER2, _K.IRON3} else set()
        return (self.kinds & OXIDANTS) - self.target - self.feed - passive

    @property
    def active_chlorine(self) -> bool:
        return self.has(*ACTIVE_CHLORINE)

    @property
    def makes_bromine(self) -> bool:
        """Whether free bromine is present, wanted, or set free from bromide in acid."""
        if self.has(_K.BROMINE) or _K.BROMINE in self.target:
            return True
        return _K.BROMIDE in self.kinds and bool(self.oxidants) and self.acid_possible

    @property
    def makes_iodine(self) -> bool:
        if self.has(_K.IODINE) or _K.IODINE in self.target:
            return True
        return _K.IODIDE in self.kinds and bool(self.oxidants)

    @property
    def feeds(self) -> frozenset[Kind]:
        """Kinds that are oxidised: the declared feed, or what the pot holds when none is declared."""
        declared = self.feed & FEEDS
        return declared or (self.kinds & FEEDS) - self.oxidants - self.target

    # ------------------------------------------------------------- acidity
    @property
    def ph(self) -> float | None:
        return self.situation.ph

    @cached_property
    def strong_acid_species(self) -> bool:
        return self.has(_K.STRONG_ACID)

    @cached_property
    def any_acid_species(self) -> bool:
        """An acid that was put in for its acidity, strong or weak."""
        return self.has(_K.STRONG_ACID) or _K.WEAK_ACID in kinds_in(self.situation.pot)

    @cached_property
    def ph_range(self) -> tuple[float, float] | None:
        """Lowest and highest plausible pH, or None when nothing was declared that would tell."""
        if self.ph is not None:
            return self.ph, self.ph
        if self.strong_acid_species or self.has(_K.HARD_ACID):
            return (0.0, 3.0) if not self.has(_K.BASE) else None
        if self.any_acid_species or self.has(_K.SOFT_ACID):
            return (2.0, 6.0) if not self.has(_K.BASE) else None
        if self.has(_K.BASE):
            return 8.0, 14.0
        return None

    @property
    def acid_possible(self) -> bool:
        """Whether the pot may be below pH 7."""
        return self.ph_range is None or self.ph_range[0] < 7

    @property
    def base_possible(self) -> bool:
        """Whether the pot may be above pH 7."""
        return self.ph_range is None or self.ph_range[1] > 7

    @property
    def concentrated_acid(self) -> bool:
        s = self.situation
        return s.acid_undiluted is True and (
            s.acid_strength_w_w is None or s.acid_strength_w_w >= CONCENTRATED_W_W
        )

    @property
    def mineral_acid(self) -> bool:
        """Whether a strong acid acts in the pot: its species, its pH, or a salt that makes it."""
        if self.concentrated_acid:
            return True
        if self.ph is not None:
            return self.ph <= 3 or (self.ph < 4.5 and self.has(_K.STRONG_ACID))
        return self.has(_K.STRONG_ACID, _K.HARD_ACID)

    @property
    def alkali_reserve(self) -> bool:
        """Whether alkali beyond the pH itself is declared: a base in the pot, or pH 13 and above."""
        base = _K.BASE in kinds_in(self.situation.base | self.situation.species)
        return base or (self.ph is not None and self.ph >= ALKALI_RESERVE_PH)

    # ------------------------------------------------------------- circumstances
    @property
    def words(self) -> str:
        return (self.situation.context or "").lower()

    @property
    def water_treatment(self) -> bool:
        s = self.situation
        return s.purpose == "remove" or s.potable is True or any(word in self.words for word in _WATER_WORDS)

    @property
    def dilute(self) -> bool:
        """Whether the feed is declared at 1 mmol/L or less in water treatment."""
        c = self.situation.concentration_mol_L
        return self.water_treatment and c is not None and c <= DILUTE_MOL_L

    @property
    def chlorine_dioxide_generator(self) -> bool:
        """A declared generator of dilute chlorine dioxide at a water works."""
        return any(w in self.words for w in _GENERATOR_WORDS) and "dilute" in self.words

    @property
    def without_hood(self) -> bool:
        room = (self.situation.room or "").lower()
        return any(word in room for word in _NO_HOOD_WORDS)

    @property
    def closed(self) -> bool:
        return self.situation.vessel in ("closed", "sealed")

    def hotter_than(self, celsius: float) -> bool | None:
        """Whether the pot is above *celsius*; None when no temperature is declared."""
        t = self.situation.temperature_C
        return None if t is None else t > celsius

    @property
    def free_cyanide_g_l(self) -> float | None:
        s = self.situation
        if s.free_cyanide_g_L is not None:
            return s.free_cyanide_g_L
        if s.concentration_mol_L is not None and _K.CYANIDE in self.feed:
            return s.concentration_mol_L * CYANIDE_G_PER_MOL
        return None

    @property
    def total_sulfide_mol_l(self) -> float | None:
        s = self.situation
        if s.total_sulfide_mmol_L is not None:
            return s.total_sulfide_mmol_L / 1000
        if s.concentration_mol_L is not None and _K.SULFIDE in self.feed:
            return s.concentration_mol_L
        return None
