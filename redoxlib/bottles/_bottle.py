"""The bottle itself: what it holds, and how much of it brings so many moles."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from redoxlib.bottles._active import bare, composition, inside
from redoxlib.bottles._density import LABEL_CELSIUS
from redoxlib.data import RestrictedRow, Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, UnitError
from redoxlib.notation import Assumption, Species
from redoxlib.quantity import MOLAR_GAS_VOLUME, Quantity, Unknown, parse_amount, parse_strength

__all__ = ["Bottle", "Form", "restrictions"]

Form = Literal["solution", "liquid", "solid", "gas"]

# Hypochlorite turns into chloride and chlorate in place: the liquid loses strength and keeps its density.
_AGES_IN_PLACE = frozenset({"NaClO", "KClO", "Ca(ClO)2"})


@dataclass(frozen=True, slots=True)
class Bottle:
    """A commercial strength of one substance.

    Attributes
    ----------
    label : str
        As read.
    solute : Species
        What the strength counts, without a phase.
    form : str
        ``solution`` (in water), ``liquid`` (neat), ``solid`` or ``gas``.
    mass_fraction : Quantity or Unknown
        Grams of solute in a gram of the bottle [1].
    density : Quantity, Unknown or None
        [g/mL] at ``celsius``; None for solids and gases.
    molarity : Quantity, Unknown or None
        [mol/L] of solute; None for solids and gases.
    strength : Quantity or None
        The strength as the label states it; None where it states none.
    gas_fraction : float or None
        Mole fraction of the solute in a gas [1].
    celsius : float
        Temperature the volumes refer to.
    key : str
        Key in the table of bottles, empty where the bottle is not tabulated.
    remarks : tuple of str
        Further words of the label, such as ``undiluted``.
    assumptions : tuple of Assumption
        Readings the label did not settle.
    """

    label: str
    solute: Species
    form: Form
    mass_fraction: Quantity | Unknown
    density: Quantity | Unknown | None
    molarity: Quantity | Unknown | None
    strength: Quantity | None = None
    gas_fraction: float | None = None
    celsius: float = LABEL_CELSIUS
    key: str = ""
    remarks: tuple[str, ...] = ()
    assumptions: tuple[Assumption, ...] = ()

    def __str__(self) -> str:
        facts: list[str] = []
        if isinstance(self.mass_fraction, Quantity) and self.form != "gas":
            facts.append(f"{100 * self.mass_fraction.value:.4g} % w/w")
        if isinstance(self.density, Quantity):
            facts.append(f"{self.density.value:.4g} g/mL")
        if isinstance(self.molarity, Quantity):
            facts.append(f"{self.molarity.value:.4g} mol/L")
        return f"{self.label} ({self.form}: {', '.join(facts)})" if facts else f"{self.label} ({self.form})"

    @property
    def undiluted(self) -> bool:
        """Whether the label asks for the bottle to be used as it stands."""
        return "undiluted" in self.remarks

    @property
    def active(self) -> Species:
        """The oxidant the bottle sets free: KHSO5 for the triple salt, else the solute."""
        return inside(self.solute)[0]

    @property
    def active_per_formula(self) -> int:
        """How many of ``active`` one formula of the solute brings."""
        return inside(self.solute)[1]

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of every source a number of this bottle rests on."""
        numbers = (self.mass_fraction, self.density, self.molarity)
        return tuple(dict.fromkeys(key for n in numbers if isinstance(n, Quantity) for key in n.sources))

    @property
    def grams_per_mol(self) -> float:
        """Grams of the bottle that bring one mol of solute.

        Raises
        ------
        MissingDataError
            If only a volume strength is known, and no density.
        """
        if isinstance(self.mass_fraction, Quantity):
            return self.solute.molar_mass / self.mass_fraction.value
        raise MissingDataError(
            f"the mass strength of {self.label!r} is unknown; "
            f"looked in {', '.join(self.mass_fraction.looked_in)}",
            hint="state the strength as % w/w, or add the density to the label: ', density 1.12 g/mL'",
            what=self.mass_fraction.what,
            looked_in=self.mass_fraction.looked_in,
        )

    @property
    def grams_per_active_mol(self) -> float:
        """Grams of the bottle that bring one mol of ``active``: 338 for a 45 % triple salt."""
        return self.grams_per_mol / self.active_per_formula

    def amount_for(self, mol: float) -> tuple[float | Unknown, float | Unknown | None]:
        """Return grams and millilitres of the bottle that bring *mol* of solute.

        The volume is None for solids and gases; either is Unknown where no density ties it to the label.

        Raises
        ------
        DomainError
            If *mol* is negative.

        Examples
        --------
        >>> from redoxlib.bottles import read_bottle
        >>> grams, ml = read_bottle("hydrogen peroxide 30 % w/w").amount_for(1.0)
        >>> print(f"{grams:.1f} g, {ml:.0f} mL")
        113.4 g, 102 mL
        """
        if mol < 0:
            raise DomainError(f"an amount cannot be negative: {mol} mol")
        grams: float | Unknown = Unknown(f"mass of {self.label}", ("solutions.csv", "bottles.csv"))
        if isinstance(self.mass_fraction, Quantity):
            grams = mol * self.solute.molar_mass / self.mass_fraction.value
        if self.form in ("solid", "gas"):
            return grams, None
        if isinstance(self.molarity, Quantity):
            return grams, 1000 * mol / self.molarity.value
        return grams, Unknown(f"density of {self.label}", ("solutions.csv", "bottles.csv"))

    def moles_in(self, amount: Quantity | str) -> float:
        """Return mol of solute in a mass, a volume or an amount of the bottle.

        A volume of a gas is taken at 25 C and 1 bar.

        Raises
        ------
        MissingDataError
            If the density that would connect the volume or mass to the label is unknown.
        DomainError
            If a volume is asked of a solid.
        UnitError
            If *amount* is no amount.
        """
        given = parse_amount(amount) if isinstance(amount, str) else amount
        if given.measures_like("mol"):
            return given.to("mol").value
        if given.measures_like("g"):
            return given.to("g").value / self.grams_per_mol
        if not given.measures_like("L"):
            raise UnitError(f"{given.unit} is no unit of amount", hint="write g, kg, mL, L, m3 or mol")
        litres = given.to("L").value
        if self.form == "solid":
            raise DomainError(
                f"{self.label!r} is a solid: {given} of it has no known mass", hint="state grams"
            )
        if self.form == "gas":
            if self.gas_fraction is None:
                raise MissingDataError(
                    f"the volume fraction of {self.label!r} is unknown; looked in bottles.csv",
                    what=f"volume fraction of {self.label}",
                    looked_in=("bottles.csv",),
                )
            return litres * self.gas_fraction / MOLAR_GAS_VOLUME.value
        if isinstance(self.molarity, Quantity):
            return litres * self.molarity.to("mol/L").value
        raise MissingDataError(
            f"no density for {self.label!r}, so a volume of it cannot be turned into moles",
            hint="weigh it, or add the density to the label: ', density 1.12 g/mL'",
            what=f"density of {self.label}",
            looked_in=("solutions.csv", "bottles.csv"),
        )

    def with_assay(self, strength: Quantity | str, *, tables: Tables | None = None) -> Bottle:
        """Return the bottle at a strength that was measured, with its uncertainty.

        Labels of peroxide and bleach state what was filled, not what is left.  Bleach keeps its density as
        it ages (chloride and chlorate take the place of hypochlorite); other densities follow the curve.

        >>> from redoxlib.bottles import read_bottle
        >>> aged = read_bottle("hydrogen peroxide 30 % w/w").with_assay("28.4 ± 0.2 % w/w")
        >>> print(aged.molarity)
        9.24 ± 0.07 mol/L
        """
        from redoxlib.bottles._measure import measure  # measuring makes bottles, and so needs this class

        given = parse_strength(strength) if isinstance(strength, str) else strength
        tables = shipped() if tables is None else tables
        keep = self.density if str(bare(self.solute)) in _AGES_IN_PLACE else None
        if self.form == "solid":
            keep = None
        fraction, density, molarity = measure(
            self.solute,
            given,
            self.form,
            self.celsius,
            tables,
            density=keep if isinstance(keep, Quantity) else None,
        )
        why = "a measured strength was given"
        said = (*self.assumptions, Assumption((0, len(self.label)), f"assay {given}", "label strength", why))
        return replace(
            self, mass_fraction=fraction, density=density, molarity=molarity, strength=given, assumptions=said
        )


def restrictions(bottle: Bottle, *, tables: Tables | None = None) -> tuple[RestrictedRow, ...]:
    """Return the rows of the table of restricted strengths that this bottle exceeds.

    A bottle of unknown mass strength is compared at its highest possible one: silence never means free.
    """
    tables = shipped() if tables is None else tables
    share = bottle.mass_fraction.value if isinstance(bottle.mass_fraction, Quantity) else 1.0
    wanted = composition(bottle.solute)
    return tuple(
        row
        for rows in tables.restricted.values()
        for row in rows
        if row.formula
        and composition(Species.parse(row.formula)) == wanted
        and 100 * share > row.strength_w_w
    )
