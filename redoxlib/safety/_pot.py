"""The situation as the rules see it: which kinds are where, how acid it can be, what is declared.

May import: errors, notation, and the situation and kinds of this package.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from redoxlib.notation import Species
from redoxlib.safety import _words
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._kinds import ACTIVE_CHLORINE, FEEDS, OXIDANTS, Kind
from redoxlib.safety._situation import Situation

__all__ = ["Pot", "kinds_in"]

CYANIDE_G_PER_MOL = 26.02
DILUTE_MOL_L = 1e-3
"""Total sulfide, or chlorine demand, up to which water treatment is judged as such."""
CONCENTRATED_W_W = 0.70
"""From this strength on sulfuric acid dehydrates and oxidises rather than merely acidifies."""
HELD_BY_WATER_MOL_L = 5e-3
"""Acid up to which the hydrogencarbonate of a natural water is trusted to take it up."""
ALKALI_RESERVE_PH = 13.0
"""From this pH on (0.1 mol/L hydroxide) the pot itself carries a reserve of alkali."""

K = Kind
_OXIDANTS_BY_ROLE = frozenset({K.SULFURIC, K.NITRITE, K.NITRATE})
"""Oxidants only where they are declared as one: elsewhere an acid, a feed and a spectator."""


def kinds_in(species: Iterable[Species]) -> frozenset[Kind]:
    """Union of the kinds of several species."""
    found: set[Kind] = set()
    for each in species:
        found |= kinds_of(each)
    return frozenset(found)


def _skeleton(species: Species) -> tuple[object, ...]:
    return tuple(sorted(species.elements.items())), species.charge, species.isomer


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
            found.add(K.ANODE)
        return frozenset(found)

    @cached_property
    def feed(self) -> frozenset[Kind]:
        return kinds_in(self.situation.feed)

    @cached_property
    def target(self) -> frozenset[Kind]:
        return kinds_in(self.situation.target)

    @cached_property
    def quench_species(self) -> frozenset[Species]:
        """The declared quench, and one that the context names; not what the pot holds or is to hold."""
        s = self.situation
        known = {_skeleton(each) for each in s.pot | s.target}
        told = {each for each in _words.quench_in(s.context)[0] if _skeleton(each) not in known}
        return s.quench | told

    @cached_property
    def quench(self) -> frozenset[Kind]:
        """Kinds of the declared quench, and of one that the context names ("quenched with ammonia")."""
        return kinds_in(self.quench_species)

    @cached_property
    def unread_quench(self) -> tuple[str, ...]:
        """Names of a quench in the context that could not be read."""
        return _words.quench_in(self.situation.context)[1]

    @cached_property
    def anywhere(self) -> frozenset[Kind]:
        """Kinds in the pot and in the quench."""
        return self.kinds | self.quench

    @cached_property
    def free_ammonia(self) -> bool:
        """Whether ammonia itself is in the pot or the quench, not only held by a metal."""
        return any({K.AMMONIA, K.BASE} <= kinds_of(each) for each in self.situation.pot | self.quench_species)

    def has(self, *kinds: Kind) -> bool:
        """Whether any of *kinds* is in the pot."""
        return not self.kinds.isdisjoint(kinds)

    @cached_property
    def oxidants(self) -> frozenset[Kind]:
        """Kinds of oxidant that were chosen; without a declared oxidant, those found in the pot."""
        role = kinds_in(self.situation.oxidant | self.situation.active)
        declared = role & (OXIDANTS | _OXIDANTS_BY_ROLE)
        if role & OXIDANTS:
            declared -= {K.NITRATE}
        if K.ANODE in self.kinds:
            declared |= {K.ANODE}
        if declared:
            return declared
        passive = {K.COPPER2, K.IRON3} if self.kinds & OXIDANTS - {K.COPPER2, K.IRON3} else set()
        return (self.kinds & OXIDANTS) - self.target - self.feed - passive

    @property
    def active_chlorine(self) -> bool:
        return self.has(*ACTIVE_CHLORINE)

    @property
    def makes_bromine(self) -> bool:
        """Whether free bromine is present, wanted, or set free from bromide in acid."""
        if self.has(K.BROMINE) or K.BROMINE in self.target:
            return True
        return K.BROMIDE in self.kinds and bool(self.oxidants) and self.acid_possible

    @property
    def makes_iodine(self) -> bool:
        if self.has(K.IODINE) or K.IODINE in self.target:
            return True
        return K.IODIDE in self.kinds and bool(self.oxidants)

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
        return self.has(K.STRONG_ACID)

    @cached_property
    def any_acid_species(self) -> bool:
        """An acid that was put in for its acidity, strong or weak."""
        return self.has(K.STRONG_ACID) or K.WEAK_ACID in kinds_in(self.situation.pot)

    @cached_property
    def ph_range(self) -> tuple[float, float] | None:
        """Lowest and highest plausible pH, or None when nothing was declared that would tell."""
        if self.ph is not None:
            return self.ph, self.ph
        if self.strong_acid_species or self.has(K.HARD_ACID):
            return (0.0, 3.0) if not self.has(K.BASE) else None
        if self.any_acid_species or self.has(K.SOFT_ACID):
            return (2.0, 6.0) if not self.has(K.BASE) else None
        if self.has(K.BASE):
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
    def acid_at_the_end(self) -> float:
        """Strong acid that the reaction itself leaves in the pot, mol/L; 0 where the water can hold it."""
        made = self.situation.acid_made_mol_L or 0.0
        return made if made > HELD_BY_WATER_MOL_L else 0.0

    @property
    def says_acid_at_the_end(self) -> str:
        """The same in words, with what mends it."""
        return (
            f"the reaction itself frees {self.acid_at_the_end:.2g} mol/L of acid and no base takes it up: "
            "bring in base first, at a medium of pH 8 or above"
        )

    @property
    def concentrated_acid(self) -> bool:
        """Whether a strong acid meets the rest as it comes from the bottle, at 70 % w/w or more."""
        s = self.situation
        if K.STRONG_ACID not in kinds_in(s.acid | s.oxidant | s.species):
            return False
        return s.acid_undiluted is True and (
            s.acid_strength_w_w is None or s.acid_strength_w_w >= CONCENTRATED_W_W
        )

    @property
    def weak_acid_only(self) -> bool:
        """Whether the declared acid is a weak one and nothing stronger is in the pot.

        Such a pot is no pot of mineral acid even where the medium is called "acid" for short.
        """
        weak = K.WEAK_ACID in kinds_in(self.situation.acid)
        return weak and not self.has(K.STRONG_ACID, K.HARD_ACID)

    @property
    def mineral_acid(self) -> bool:
        """Whether a strong acid acts in the pot: its species, its pH, or a salt that makes it."""
        if self.concentrated_acid:
            return True
        if self.ph is not None:
            return self.ph <= 3 or (self.ph < 4.5 and self.has(K.STRONG_ACID))
        return self.has(K.STRONG_ACID, K.HARD_ACID)

    @property
    def alkali_reserve(self) -> bool:
        """Whether alkali beyond the pH itself is declared: a base in the pot, or pH 13 and above."""
        base = K.BASE in kinds_in(self.situation.base | self.situation.species)
        return base or (self.ph is not None and self.ph >= ALKALI_RESERVE_PH)

    # ------------------------------------------------------------- circumstances
    @property
    def words(self) -> str:
        return (self.situation.context or "").lower()

    @property
    def water_treatment(self) -> bool:
        s = self.situation
        return s.purpose == "remove" or self.potable or _words.water(self.words)

    @property
    def dilute(self) -> bool:
        """Whether the feed is declared at 1 mmol/L or less in water treatment."""
        c = self.situation.concentration_mol_L
        if c is None:
            return self.potable and self.situation.purpose != "make"  # nobody drinks it otherwise
        return self.water_treatment and c <= DILUTE_MOL_L

    @property
    def chlorine_dioxide_generator(self) -> bool:
        """A declared generator of dilute chlorine dioxide at a water works."""
        return _words.generator(self.words)

    @property
    def without_hood(self) -> bool:
        return _words.hoodless(self.situation.room or "")

    @property
    def closed(self) -> bool:
        """Whether the vessel is declared closed, or the context says so of one that is declared open."""
        return self.situation.vessel in ("closed", "sealed") or _words.closed(self.words)

    @property
    def distilled(self) -> bool:
        """Whether the pot is distilled or boiled down with the oxidant in it."""
        if self.situation.distil is not None:
            return self.situation.distil
        return _words.distilled(self.words)

    @property
    def potable(self) -> bool:
        """Whether people will drink the water: declared, or said in the context."""
        return self.situation.potable is True or _words.drinking(self.words)

    def hotter_than(self, celsius: float) -> bool | None:
        """Whether the pot is above *celsius*; None when no temperature is declared."""
        t = self.situation.temperature_C
        return None if t is None else t > celsius

    @property
    def free_cyanide_g_l(self) -> float | None:
        s = self.situation
        if s.free_cyanide_g_L is not None:
            return s.free_cyanide_g_L
        if s.concentration_mol_L is not None and K.CYANIDE in self.feed:
            return s.concentration_mol_L * CYANIDE_G_PER_MOL
        return None

    @property
    def total_sulfide_mol_l(self) -> float | None:
        s = self.situation
        if s.total_sulfide_mmol_L is not None:
            return s.total_sulfide_mmol_L / 1000
        if s.concentration_mol_L is not None and K.SULFIDE in self.feed:
            return s.concentration_mol_L
        return None
