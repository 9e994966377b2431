"""From a stated strength, or the rows of a tabulated bottle, to mass fraction, density and molarity."""

from __future__ import annotations

from redoxlib.bottles._active import bare
from redoxlib.bottles._bottle import Bottle, Form
from redoxlib.bottles._density import density_curve, label_celsius
from redoxlib.bottles._strength import convert_strength, refuse_impossible
from redoxlib.data import BottleRow, Tables
from redoxlib.errors import DomainError, MissingDataError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, Unknown

__all__ = ["density_of", "from_rows", "measure", "molarity_of"]


def from_rows(key: str, rows: tuple[BottleRow, ...], label: str, tables: Tables) -> Bottle:
    facts = {row.fact: row for row in rows}
    solute = bare(Species.parse(rows[0].solute))
    fraction = facts["mass_fraction"].as_quantity
    density: Quantity | Unknown | None = None
    molarity: Quantity | Unknown | None = None
    form: Form = "solid"
    gas = facts["gas_fraction"].value if "gas_fraction" in facts else None
    if gas is not None:
        form = "gas"
    elif "density" in facts or _is_solution(solute, fraction.value, tables):
        form = "liquid" if fraction.value >= 0.99 else "solution"
        density = density_of(solute, fraction.value, label_celsius(solute, tables), tables)
        if isinstance(density, Unknown) and "density" in facts:
            density = facts["density"].as_quantity
        molarity = molarity_of(solute, fraction, density)
    percent = _times(fraction.uncertainty, 100)
    stated = Quantity(100 * fraction.value, "% w/w", percent, fraction.sources, fraction.basis)
    celsius = label_celsius(solute, tables)
    return Bottle(label, solute, form, fraction, density, molarity, stated, gas, celsius, key)


def _is_solution(solute: Species, share: float, tables: Tables) -> bool:
    """A row without a density is a solid, unless its strength lies on the density curve of its solute."""
    return share < 0.95 and isinstance(
        density_of(solute, share, label_celsius(solute, tables), tables), Quantity
    )


def _times(number: float | None, factor: float) -> float | None:
    return None if number is None else number * factor


def density_of(solute: Species, share: float, celsius: float, tables: Tables) -> Quantity | Unknown:
    try:
        return density_curve(solute, celsius=celsius, tables=tables).density(share)
    except (MissingDataError, DomainError) as error:
        return Unknown(f"density of {solute} at {100 * share:.4g} % w/w: {error.message}", ("solutions.csv",))


def molarity_of(solute: Species, fraction: Quantity, density: Quantity | Unknown) -> Quantity | Unknown:
    if isinstance(density, Unknown):
        return Unknown(f"molarity of {solute}", density.looked_in)
    value = 1000 * fraction.value * density.value / solute.molar_mass
    spread: float | None = None
    if fraction.uncertainty is not None and density.uncertainty is not None:
        spread = (
            value
            * ((fraction.uncertainty / fraction.value) ** 2 + (density.uncertainty / density.value) ** 2)
            ** 0.5
        )
    sources = tuple(dict.fromkeys(fraction.sources + density.sources))
    return Quantity(value, "mol/L", spread, sources, fraction.basis)


def measure(
    solute: Species,
    strength: Quantity,
    form: Form,
    celsius: float,
    tables: Tables,
    *,
    density: Quantity | None = None,
) -> tuple[Quantity | Unknown, Quantity | Unknown | None, Quantity | Unknown | None]:
    """Return mass fraction [1], density [g/mL] and molarity [mol/L] of a stated strength.

    A *density* from the label or kept from before takes the place of the curve.
    """
    if form in ("solid", "gas"):
        share = convert_strength(solute, strength, "% w/w", celsius=celsius, tables=tables)
        return _fraction(share, strength), None, None
    if density is not None:
        return _with_density(solute, strength, celsius, tables, density)
    refuse_impossible(solute, strength, tables)
    fraction: Quantity | Unknown
    molarity: Quantity | Unknown
    try:
        share = convert_strength(solute, strength, "% w/w", celsius=celsius, tables=tables)
        fraction = _fraction(share, strength)
    except (MissingDataError, DomainError) as error:
        fraction = Unknown(f"mass fraction of {solute} at {strength}: {error.message}", ("solutions.csv",))
    try:
        molarity = convert_strength(solute, strength, "mol/L", celsius=celsius, tables=tables)
    except (MissingDataError, DomainError) as error:
        molarity = Unknown(f"molarity of {solute} at {strength}: {error.message}", ("solutions.csv",))
    if isinstance(fraction, Quantity):
        return fraction, density_of(solute, fraction.value, celsius, tables), molarity
    return fraction, Unknown(f"density of {solute} at {strength}", fraction.looked_in), molarity


def _fraction(share: Quantity, strength: Quantity) -> Quantity:
    if not 0.0 < share.value <= 100.0 + 1e-9:
        raise DomainError(f"{strength} would be {share.value:.4g} % w/w, more than the pure substance")
    return Quantity(share.value / 100, "1", _times(share.uncertainty, 0.01), share.sources, share.basis)


def _with_density(
    solute: Species, strength: Quantity, celsius: float, tables: Tables, density: Quantity
) -> tuple[Quantity, Quantity, Quantity]:
    molar = solute.molar_mass
    try:
        concentration = convert_strength(solute, strength, "mol/L", celsius=celsius, tables=tables)
        by_volume = not strength.measures_like("% w/w")
    except (MissingDataError, DomainError):
        by_volume = False
    if by_volume:
        share = concentration.value * molar / 1000 / density.value
        fraction = _fraction(Quantity(100 * share, "% w/w", _relative(concentration, 100 * share)), strength)
        return fraction, density, concentration
    fraction = _fraction(
        convert_strength(solute, strength, "% w/w", celsius=celsius, tables=tables), strength
    )
    molarity = molarity_of(solute, fraction, density)
    assert isinstance(molarity, Quantity)  # a density was given
    return fraction, density, molarity


def _relative(number: Quantity, value: float) -> float | None:
    return None if number.uncertainty is None else value * number.uncertainty / number.value
