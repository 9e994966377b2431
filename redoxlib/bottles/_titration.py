"""The titration that tells what an ageing bottle still holds."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from redoxlib.bottles._active import available_chlorine, bare, composition
from redoxlib.errors import DomainError, MissingDataError, UnitError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity

__all__ = ["Assay", "assay_by_titration"]

# mol of titrand per mol of titrant, by the reaction each method rests on.
_PERMANGANATE = "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"
_THIOSULFATE = "I2 + 2 S2O3^2- -> 2 I^- + S4O6^2-"
_HALOGENS = ("Br2", "I2")


@dataclass(frozen=True, slots=True)
class Assay:
    """Result of one titration.

    Attributes
    ----------
    solute : Species
        What was titrated.
    moles : Quantity
        In the sample taken [mol].
    strength : Quantity
        [mol/L] for a sample taken by volume, [% w/w] for one that was weighed.
    reaction : str
        The equation the factor comes from.
    factor : float
        mol of solute per mol of titrant.
    """

    solute: Species
    moles: Quantity
    strength: Quantity
    reaction: str
    factor: float


def assay_by_titration(
    solute: Species | str,
    *,
    titrant: Quantity,
    titre: Quantity,
    sample: Quantity,
    dilution: float = 1.0,
    blank: Quantity | None = None,
) -> Assay:
    """Return the strength a titration shows, with its uncertainty.

    Hydrogen peroxide is titrated with permanganate in dilute sulfuric acid, 5 mol to 2; active chlorine and
    free halogens set iodine free from an excess of acidified iodide, which takes 2 mol of thiosulfate a mol.

    Parameters
    ----------
    solute : Species or str
        H2O2, a hypochlorite or other chlorine releaser, Cl2, Br2 or I2.
    titrant : Quantity
        Concentration of the permanganate or thiosulfate [mol/L].
    titre : Quantity
        Volume used [mL].
    sample : Quantity
        Volume [mL] or mass [g] of the bottle's content that was taken.
    dilution : float
        Volume the sample was made up to over the aliquot titrated; 1 where all of it was titrated.
    blank : Quantity, optional
        Titre without sample [mL].

    Raises
    ------
    DomainError
        If any amount is not above zero, or the blank is as large as the titre.
    MissingDataError
        If no titration is tabulated for the solute.
    UnitError
        If a quantity has the wrong unit.

    References
    ----------
    .. [1] Vogel's Textbook of Quantitative Chemical Analysis, 5th ed., 1989, ch. 10.

    Examples
    --------
    >>> from redoxlib.quantity import Quantity
    >>> assay = assay_by_titration("H2O2", titrant=Quantity(0.0200, "mol/L", 0.0001),
    ...     titre=Quantity(36.1, "mL", 0.05), sample=Quantity(1.00, "mL", 0.01), dilution=5.0)
    >>> print(assay.strength)
    9.03 ± 0.10 mol/L
    """
    species = bare(solute if isinstance(solute, Species) else Species.parse(solute))
    factor, reaction = _method(species)
    concentration = titrant.to("mol/L")
    used = titre.to("L") if blank is None else (titre - blank).to("L")
    if concentration.value <= 0 or sample.value <= 0 or dilution < 1:
        raise DomainError("titrant, sample and dilution must be above zero, and a dilution at least 1")
    if used.value <= 0:
        raise DomainError(f"the titre {titre} leaves nothing after the blank")
    moles = concentration.value * used.value * factor * dilution
    relative = _relative(concentration, used)
    found = Quantity(moles, "mol", _scaled(moles, relative), (), "estimate")
    relative = _relative(concentration, used, sample)
    if sample.measures_like("L"):
        value = moles / sample.to("L").value
        strength = Quantity(value, "mol/L", _scaled(value, relative), (), "estimate")
        return Assay(species, found, strength, reaction, factor)
    if sample.measures_like("g"):
        value = 100 * moles * species.molar_mass / sample.to("g").value
        if value > 105.0:
            raise DomainError(f"the titration gives {value:.4g} % w/w, which is more than the pure substance")
        strength = Quantity(value, "% w/w", _scaled(value, relative), (), "estimate")
        return Assay(species, found, strength, reaction, factor)
    raise UnitError(f"a sample is a volume or a mass, not {sample.unit}", hint="write it in mL or g")


def _method(species: Species) -> tuple[float, str]:
    wanted = composition(species)
    if wanted == composition(Species.parse("H2O2")):
        return 5 / 2, _PERMANGANATE
    chlorine = available_chlorine(species)
    if chlorine is not None:
        # one mol of Cl2 (or its equal) frees one mol of iodine
        return 1 / (2 * chlorine), _THIOSULFATE
    if any(wanted == composition(Species.parse(halogen)) for halogen in _HALOGENS):
        return 1 / 2, _THIOSULFATE
    raise MissingDataError(
        f"no titration is tabulated for {species}",
        hint="peroxide by permanganate; active chlorine, bromine and iodine by thiosulfate",
        what=f"titration of {species}",
        looked_in=("bottles",),
    )


def _relative(*numbers: Quantity) -> float | None:
    """Combined relative uncertainty; None unless every number has one."""
    spreads = [n.uncertainty for n in numbers]
    if any(spread is None for spread in spreads):
        return None
    return hypot(*((n.uncertainty or 0.0) / n.value for n in numbers))


def _scaled(value: float, relative: float | None) -> float | None:
    return None if relative is None else value * relative
