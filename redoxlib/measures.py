"""The figures a comparison is built from: one value type per criterion, with units beside them.

May import: errors, quantity, notation.
"""

from __future__ import annotations

from dataclasses import dataclass

from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown

__all__ = ["ByProduct", "ByProducts", "Channel", "Exotherm", "MassEfficiency", "Score", "SideRisk"]


@dataclass(frozen=True, slots=True)
class MassEfficiency:
    """How much of what goes in comes out as product.

    Attributes
    ----------
    atom_economy : float
        Product over all reactants of the full equation, by mass [1].
    reaction_mass_efficiency : float
        The same with the declared excess of oxidant and acid charged [1]; yield taken as 1.
    pmi_dry, pmi_wet : float
        Process mass intensity without and with water [kg/kg]; the E factor is one less.
    chemicals_g_per_mol, sludge_g_per_mol : float
        For "remove" jobs: chemicals charged and solid left, per mol removed [g/mol].
    ranked : float
        The number that is scored: ``pmi_dry`` to make, chemicals plus sludge per gram removed to remove.
    """

    atom_economy: float
    reaction_mass_efficiency: float
    pmi_dry: float
    pmi_wet: float
    chemicals_g_per_mol: float
    sludge_g_per_mol: float
    ranked: float
    unit: str


@dataclass(frozen=True, slots=True)
class ByProduct:
    """One substance that leaves with the waste, per mol of product."""

    species: Species
    what: str
    mol: float
    grams: float
    tier: int
    codes: tuple[str, ...]
    sources: tuple[str, ...]
    weighted: float


@dataclass(frozen=True, slots=True)
class ByProducts:
    """By-products, left-over oxidant and charged CMR substance, weighted by hazard tier.

    ``weighted`` is in grams times tier per mol of product; ``unknown`` names what no table classifies,
    counted at tier 10 on the high side and 0 on the low side.
    """

    items: tuple[ByProduct, ...]
    weighted: float
    low: float
    unknown: tuple[Unknown, ...] = ()
    gas_litres_per_mol: float = 0.0
    gases: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Exotherm:
    """Heat of the batch.

    ``per_mol`` is kJ per mol of the first target product, ``per_kg`` kJ per kg of pot, ``rise`` the
    adiabatic rise [K], ``mtsr`` the highest temperature the synthesis can give [C].  ``release_kj`` is what a
    solid oxidant gives off with water or acid before it acts, for the batch and counted in the three; None
    where it only dissolves.
    """

    per_mol: Quantity | Unknown
    per_kg: Quantity | Unknown
    rise: Quantity | Unknown
    mtsr: Quantity | Unknown
    boiling: Quantity | Unknown
    severity: str
    classes: tuple[int, ...]
    class_note: str
    accumulation: float
    acid_dilution_kj: Quantity | Unknown
    release_kj: Quantity | Unknown | None = None


@dataclass(frozen=True, slots=True)
class Channel:
    """One thing that can happen beside the wanted reaction.

    Attributes
    ----------
    kind : str
        over-oxidation, mixed halogen, product attack, counter-ion oxidation, oxidant on its own end
        product, contamination, sludge, gas, oxidant loss, product lost at the cathode.
    drive_v : float or None
        E(oxidant) minus E(channel couple) at the real pH [V]; None where it does not apply.
    state : str
        "open" above +0.05 V, "closed" below -0.05 V, "borderline" between, "certain" by stoichiometry.
    gate : (float, float)
        Kinetic gate, low and high; (0, 1) where no rate is known.
    amount : float
        Diverted at the declared excess, mol per mol of product atoms.
    jumped : float
        The same at the worst of the mis-dose tests, which is what is graded.
    tier : int
        Hazard tier of what is formed.
    detail : str
        What the figures rest on, such as the amounts at single doses; empty where there is no more to say.
    """

    kind: str
    text: str
    drive_v: float | None
    state: str
    gate: tuple[float, float]
    amount: float
    jumped: float
    tier: int
    sources: tuple[str, ...] = ()
    detail: str = ""

    @property
    def low(self) -> float:
        """Contribution at the favourable end of the gate."""
        return self.gate[0] * self.jumped * self.tier if self.state != "closed" else 0.0

    @property
    def high(self) -> float:
        """Contribution at the unfavourable end of the gate."""
        return self.gate[1] * self.jumped * self.tier if self.state != "closed" else 0.0


@dataclass(frozen=True, slots=True)
class SideRisk:
    """Sum over the side channels of amount times gate times hazard tier, as an interval."""

    channels: tuple[Channel, ...]
    low: float
    high: float

    @property
    def decisive(self) -> Channel | None:
        """The channel that contributes most at the high end, None where none does."""
        best = max(self.channels, key=lambda c: c.high, default=None)
        return best if best is not None and best.high > 0 else None


@dataclass(frozen=True, slots=True)
class Score:
    """Penalty points of one route, 0 best and 100 worst on each fixed scale.

    ``points`` and ``low`` hold criterion name and points; ``total`` and ``total_low`` are weighted means;
    ``spread`` is the uncertainty of the total from the table rows it rests on.
    """

    points: tuple[tuple[str, float], ...]
    low: tuple[tuple[str, float], ...]
    total: float
    total_low: float
    spread: float
