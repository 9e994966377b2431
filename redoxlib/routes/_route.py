"""The route: one oxidant put to one job, with every amount that follows.

May import: everything of level 5 and below.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from redoxlib._display import html_of
from redoxlib.bottles import Bottle
from redoxlib.data import OwnRuleRow, OxidantRow
from redoxlib.job import Conversion, Job
from redoxlib.measures import ByProducts, Exotherm, MassEfficiency, Score, SideRisk
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity, Unknown

__all__ = ["Charge", "Electricity", "Gas", "Part", "Product", "Route"]


IN_THE_WATER = "in the water already"
"""Note on the feed of a removal that names no bottle of it: nobody weighs it."""


@dataclass(frozen=True, slots=True)
class Charge:
    """One line of the charge sheet.

    Attributes
    ----------
    role : str
        feed, oxidant, acid, base, water.
    mol : float
        Of ``compound`` [mol].
    needed_mol : float
        The stoichiometric part of it, without excess [mol].
    grams, ml : float, Quantity or Unknown
        Of the bottle at its strength; ``ml`` is None for solids and gases.
    gas_litres : float or None
        For a gas, at 25 C and 1 bar.
    """

    role: str
    compound: Species
    mol: float
    needed_mol: float
    grams: float
    ml: float | Unknown | None
    bottle: Bottle | None
    label: str
    pure_grams: float
    gas_litres: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Product:
    """The largest yield: what the extent of reaction gives and no more.

    ``compound`` is the salt the target was paired into first, ``compounds`` all of them; ``share`` is the
    part of them that is product, the rest being a spectator that looks the same.
    """

    species: Species
    compound: Species
    mol: float
    grams: float
    ml: float | Unknown | None
    density_note: str = ""
    compounds: tuple[Species, ...] = ()
    share: float = 1.0

    @property
    def weighed_as(self) -> str:
        """What ``grams`` counts: the compound, or all that the equation pairs the target into."""
        names = dict.fromkeys(str(s) for s in (self.compound, *self.compounds))
        return " with ".join(names)


@dataclass(frozen=True, slots=True)
class Gas:
    """One gas that leaves, in mol and in litres at 25 C and 1 bar."""

    species: Species
    mol: float
    litres: float


@dataclass(frozen=True, slots=True)
class Electricity:
    """What an anode needs: charge, energy at the declared volts, hydrogen from the cathode."""

    ampere_hours: float
    volts: Quantity
    kwh: float
    hydrogen_litres: float


@dataclass(frozen=True, slots=True)
class Part:
    """One conversion of the job under one oxidant.

    ``oxidant_per_feed`` and ``target_per_feed`` are exact mole ratios as floats; ``half_reactions`` is
    (oxidation, reduction).
    """

    conversion: Conversion
    half_reactions: tuple[Equation, Equation]
    net_ionic: Equation
    full: Equation
    electrons: int
    feed_mol: float
    feed_compound: Species
    product: Product
    potential: Quantity | Unknown
    dH: Quantity | Unknown  # noqa: N815 - the trade writes it so
    dG: Quantity | Unknown  # noqa: N815
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Route:
    """One oxidant put to the job.

    ``half_reactions``, ``net_ionic`` and ``full`` are those of the first conversion; ``parts`` has all.
    ``dH`` and ``dG`` are per mol of the first target product at the declared pH.  The four criteria are
    filled in after the gate has been passed; a route that was stopped never carries them.
    ``own_rules`` are the rules of one's own it was built under; whoever asks the gate again asks them too.
    ``half_life_s`` is the time until half the feed is gone with what was charged [s], ``half_life_u`` its
    relative uncertainty, None for a bound, ``half_life_at`` the temperature of its constants in words,
    ``half_life_says`` whether it is "about", "at most" or "at least" that.
    """

    oxidant: OxidantRow
    job: Job
    parts: tuple[Part, ...]
    charges: tuple[Charge, ...]
    limiting: str
    gases: tuple[Gas, ...]
    pot_grams: float
    water_grams: float
    cell_potential: Quantity | Unknown
    electricity: Electricity | None = None
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    kinetics: str = "unknown"
    kinetics_note: str = ""
    half_life_s: float | None = None
    half_life_u: float | None = None
    half_life_at: str = ""
    half_life_says: str = "about"
    mass_efficiency: MassEfficiency | None = None
    by_products: ByProducts | None = None
    exotherm: Exotherm | None = None
    side_risk: SideRisk | None = None
    score: Score | None = None
    sources: tuple[str, ...] = field(default=())
    own_rules: tuple[OwnRuleRow, ...] = field(default=(), repr=False)

    @property
    def liquor_grams(self) -> float:
        """Water in the pot before the oxidant: what is charged and what the feed brings [g]."""
        feed = sum(c.grams - c.pure_grams for c in self.charges if c.role == "feed" and c.gas_litres is None)
        return self.water_grams + feed

    @property
    def half_reactions(self) -> tuple[Equation, Equation]:
        """Oxidation and reduction of the first conversion."""
        return self.parts[0].half_reactions

    @property
    def net_ionic(self) -> Equation:
        """Net ionic equation of the first conversion."""
        return self.parts[0].net_ionic

    @property
    def full(self) -> Equation:
        """Full equation of the first conversion."""
        return self.parts[0].full

    @property
    def product(self) -> Product:
        """The first target product."""
        return self.parts[0].product

    @property
    def dH(self) -> Quantity | Unknown:  # noqa: N802 - the trade writes it so
        """Reaction enthalpy per mol of the first target product, kJ/mol."""
        return self.parts[0].dH

    @property
    def dG(self) -> Quantity | Unknown:  # noqa: N802
        """Reaction Gibbs energy per mol of the first target product at the declared pH, kJ/mol."""
        return self.parts[0].dG

    @property
    def shortfall(self) -> tuple[str, ...]:
        """What a shelf bottle that is too small does to the batch, in a sentence; empty where none is."""
        for c in self.charges:
            if c.role != self.limiting or not c.needed_mol or c.mol >= c.needed_mol:
                continue
            share = c.mol / c.needed_mol
            made = sum(p.product.grams for p in self.parts)
            whole = made / share
            return (
                f"Too little on the shelf: {c.label!r} holds {c.mol:.3g} mol, {share * 100:.2g} % of the "
                f"{c.role} that the feed needs, so the batch stops at {made:.3g} g of product where "
                f"{whole:.3g} g were asked for; heat, quench and waste are those of that share, and "
                f"{(1 - share) * 100:.2g} % of the feed stays as it is. Charge {share:.2g} times the feed, "
                f"or {1 / share:.3g} times as much of that bottle.",
            )
        return ()

    _repr_html_ = html_of

    def charge(self, role: str) -> Charge | None:
        """The line of the charge sheet for a role, None where there is none."""
        return next((c for c in self.charges if c.role == role), None)
