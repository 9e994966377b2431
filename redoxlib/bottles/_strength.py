"""The trade's ways of stating a strength, there and back."""

from __future__ import annotations

from dataclasses import dataclass

from redoxlib.bottles._active import (
    CHLORINE_G_PER_MOL,
    OXYGEN_G_PER_MOL,
    active_oxygen,
    available_chlorine,
    bottles_by_composition,
    composition,
)
from redoxlib.bottles._density import LABEL_CELSIUS, DensityCurve, densest_solution, density_curve
from redoxlib.data import Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, UnitError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity, parse_strength

__all__ = ["convert_strength", "refuse_impossible"]

_BAUME_CELSIUS = 15.56  # 60 F, where the American Baume scale and its water are defined
_BAUME_WATER = 0.99902  # g/mL, water at 60 F
_OXYGEN_L_PER_MOL = 22.414  # O2 at 0 C and 1 atm: volume strength is defined at the old standard state


@dataclass(frozen=True, slots=True)
class _Strength:
    """A strength on the way through: either the mass fraction or grams in a litre is given.

    The other follows from the density curve, and only when it is asked for.
    """

    solute: Species
    fraction: float | None = None
    grams_per_litre: float | None = None


def _read(solute: Species, strength: Quantity, tables: Tables) -> _Strength:
    """Turn one way of stating a strength into a mass fraction or grams in a litre."""
    molar = solute.molar_mass
    if strength.measures_like("% w/w"):
        return _Strength(solute, fraction=strength.to("% w/w").value / 100)
    if strength.measures_like("g/L"):
        return _Strength(solute, grams_per_litre=strength.to("g/L").value)
    if strength.measures_like("mol/L"):
        return _Strength(solute, grams_per_litre=strength.to("mol/L").value * molar)
    if strength.measures_like("mol/kg"):
        grams = strength.to("mol/kg").value * molar
        return _Strength(solute, fraction=grams / (1000 + grams))
    if strength.measures_like("g/L Cl2"):
        moles = strength.to("g/L Cl2").value / CHLORINE_G_PER_MOL / _chlorine(solute, strength)
        return _Strength(solute, grams_per_litre=moles * molar)
    if strength.measures_like("% w/w Cl2"):
        moles = strength.to("% w/w Cl2").value / 100 / CHLORINE_G_PER_MOL / _chlorine(solute, strength)
        return _Strength(solute, fraction=moles * molar)
    if strength.measures_like("% w/w O"):
        moles = strength.to("% w/w O").value / 100 / OXYGEN_G_PER_MOL / _oxygen(solute, strength)
        return _Strength(solute, fraction=moles * molar)
    if strength.measures_like("vol"):
        _require_peroxide(solute, strength)
        # H2O2 -> H2O + 1/2 O2: two mol of peroxide to a mol of gas
        return _Strength(solute, grams_per_litre=2 * strength.value / _OXYGEN_L_PER_MOL * molar)
    if strength.measures_like("deg Be"):
        curve = density_curve(solute, celsius=_BAUME_CELSIUS, tables=tables)
        return _Strength(solute, fraction=curve.fraction_of_density(_density_of_baume(strength.value, curve)))
    if strength.measures_like("% v/v"):
        grams = strength.to("% v/v").value / 100 * _neat_density(solute, tables) * 1000
        return _Strength(solute, grams_per_litre=grams)
    tagged = strength.unit.rpartition(" ")
    if tagged[0] and strength.measures_like(f"g/L {tagged[2]}"):
        return _Strength(solute, grams_per_litre=_of_element(solute, strength, tagged[2]))
    raise UnitError(
        f"{strength.unit} is no unit of strength",
        hint="a strength is % w/w, % w/v, mol/L, mol/kg, g/L, g/L Cl2, % trade, vol or deg Be",
    )


def _write(read: _Strength, unit: str, celsius: float, tables: Tables) -> float:
    """Express a strength in *unit*; the density curve is asked for only where it is needed."""
    solute, molar = read.solute, read.solute.molar_mass
    probe = Quantity(1.0, unit)

    def fraction() -> float:
        if read.fraction is not None:
            return read.fraction
        curve = density_curve(solute, celsius=celsius, tables=tables)
        return curve.fraction_of_concentration(read.grams_per_litre or 0.0)

    def grams() -> float:
        if read.grams_per_litre is not None:
            return read.grams_per_litre
        w = read.fraction or 0.0
        return w * 1000 * density_curve(solute, celsius=celsius, tables=tables).density(w).value

    if probe.measures_like("% w/w"):
        return Quantity(100 * fraction(), "% w/w").to(unit).value
    if probe.measures_like("g/L"):
        return Quantity(grams(), "g/L").to(unit).value
    if probe.measures_like("mol/L"):
        return Quantity(grams() / molar, "mol/L").to(unit).value
    if probe.measures_like("mol/kg"):
        w = fraction()
        if w >= 1.0:
            raise DomainError(f"pure {solute} has no molality: there is no water in it")
        return Quantity(1000 * w / (1 - w) / molar, "mol/kg").to(unit).value
    if probe.measures_like("g/L Cl2"):
        chlorine = grams() / molar * _chlorine(solute, probe) * CHLORINE_G_PER_MOL
        return Quantity(chlorine, "g/L Cl2").to(unit).value
    if probe.measures_like("% w/w Cl2"):
        share = fraction() / molar * _chlorine(solute, probe) * CHLORINE_G_PER_MOL
        return Quantity(100 * share, "% w/w Cl2").to(unit).value
    if probe.measures_like("% w/w O"):
        return 100 * fraction() / molar * _oxygen(solute, probe) * OXYGEN_G_PER_MOL
    if probe.measures_like("vol"):
        _require_peroxide(solute, probe)
        return grams() / molar * _OXYGEN_L_PER_MOL / 2
    if probe.measures_like("deg Be"):
        curve = density_curve(solute, celsius=_BAUME_CELSIUS, tables=tables)
        return _baume_of_density(curve.density(fraction()).value, curve)
    if probe.measures_like("% v/v"):
        return grams() / 1000 / _neat_density(solute, tables) * 100
    raise UnitError(
        f"{unit} is no unit of strength",
        hint="a strength is % w/w, % w/v, mol/L, mol/kg, g/L, g/L Cl2, % trade, vol or deg Be",
    )


def convert_strength(
    solute: Species | str,
    strength: Quantity | str,
    unit: str,
    *,
    celsius: float = LABEL_CELSIUS,
    tables: Tables | None = None,
) -> Quantity:
    """Express the strength of a solution in another of the trade's ways.

    Parameters
    ----------
    solute : Species or str
        What is dissolved.
    strength : Quantity or str
        Any of ``% w/w``, ``% w/v``, ``% v/v``, ``mol/L``, ``mol/kg`` (per kg of water), ``g/L``,
        ``g/L Cl2`` (available chlorine), ``% trade`` (10 g/L of available chlorine), ``% w/w Cl2``,
        ``% w/w O`` (active oxygen), ``vol`` (litres of oxygen at 0 C and 1 atm from a litre of
        peroxide), ``deg Be`` (American scale, 60 F).
    unit : str
        Any of the same.
    celsius : float
        Temperature the volumes refer to.

    Returns
    -------
    Quantity
        With the uncertainty of *strength* and of the density curve carried through.

    Raises
    ------
    DomainError
        Where the density curve would have to be extrapolated; the message names its range.
    MissingDataError
        Where the tables hold no curve for the solute and the conversion needs one.
    UnitError
        Where the way of stating does not apply to the solute.

    Examples
    --------
    >>> print(convert_strength("NaClO", "12.5 % trade", "g/L"))
    131.2 g/L
    """
    species = solute if isinstance(solute, Species) else Species.parse(solute)
    tables = shipped() if tables is None else tables
    given = parse_strength(strength) if isinstance(strength, str) else strength
    refuse_impossible(species, given, tables)
    wanted = Quantity(1.0, unit)
    if given.measures_like(unit):
        return given.to(unit)
    read = _read(species, given, tables)
    value = _write(read, unit, celsius, tables)
    spread, sources = _spread(species, given, read, wanted, value, celsius, tables)
    return Quantity(value, unit, spread, sources, given.basis)


def refuse_impossible(solute: Species, strength: Quantity, tables: Tables) -> None:
    """Raise where a litre would hold more solute than any litre of it can.

    Beyond its curve a strength is merely without a density; at twice the strongest tabulated solution, or
    above 2.5 kg in a litre, it is a mistake.
    """
    held = _read(solute, strength, tables).grams_per_litre
    if held is None:
        return
    most = 2.0 * (densest_solution(solute, tables) or 1250.0)
    if held > most:
        raise DomainError(
            f"{strength} of {solute} would be {held:.4g} g in a litre, more than any solution holds",
            hint="check the number and its unit",
        )


def _spread(
    species: Species,
    given: Quantity,
    read: _Strength,
    wanted: Quantity,
    value: float,
    celsius: float,
    tables: Tables,
) -> tuple[float | None, tuple[str, ...]]:
    """Carry the relative uncertainty of the label and, where a curve was used, of its density."""
    by_mass = ("% w/w", "mol/kg", "% w/w Cl2", "% w/w O", "deg Be")
    crosses = (read.fraction is None) == any(wanted.measures_like(unit) for unit in by_mass)
    sources = given.sources
    relative = 0.0
    if crosses:
        curve = density_curve(species, celsius=celsius, tables=tables)
        w = read.fraction
        if w is None:
            w = curve.fraction_of_concentration(read.grams_per_litre or 0.0)
        density = curve.density(w)
        relative = (density.uncertainty or 0.0) / density.value
        sources = tuple(dict.fromkeys(sources + density.sources))
    if given.uncertainty is None:
        return None, sources
    # A numerical slope: molality and degrees Baume are not proportional to the strength given.
    step = max(abs(given.value) * 1e-6, 1e-12)
    nudged = Quantity(given.value - step, given.unit)
    try:
        slope = (value - _write(_read(species, nudged, tables), wanted.unit, celsius, tables)) / step
    except DomainError:
        slope = value / given.value
    return ((slope * given.uncertainty) ** 2 + (relative * value) ** 2) ** 0.5, sources


def _chlorine(solute: Species, strength: Quantity) -> float:
    count = available_chlorine(solute)
    if count is None:
        raise UnitError(
            f"{solute} has no available chlorine, so {strength.unit} does not apply",
            hint="write '% w/w', '% w/v' or 'mol/L'",
        )
    return count


def _oxygen(solute: Species, strength: Quantity) -> float:
    count = active_oxygen(solute)
    if count is None:
        raise UnitError(
            f"{solute} has no active oxygen, so {strength.unit} does not apply",
            hint="write '% w/w', '% w/v' or 'mol/L'",
        )
    return count


def _require_peroxide(solute: Species, strength: Quantity) -> None:
    if composition(solute) != composition(Species.parse("H2O2")):
        raise UnitError(
            f"volume strength is for hydrogen peroxide, not for {solute}",
            hint="write '% w/w', '% w/v' or 'mol/L'",
            unit=strength.unit,
        )


def _density_of_baume(degrees: float, curve: DensityCurve) -> float:
    """American scale: 145 for liquids heavier than water, 140 for lighter ones such as ammonia."""
    lighter = curve.volumes[-1] > curve.volumes[0]
    gravity = 140.0 / (130.0 + degrees) if lighter else 145.0 / (145.0 - degrees)
    return gravity * _BAUME_WATER


def _baume_of_density(grams_per_ml: float, curve: DensityCurve) -> float:
    gravity = grams_per_ml / _BAUME_WATER
    lighter = curve.volumes[-1] > curve.volumes[0]
    return 140.0 / gravity - 130.0 if lighter else 145.0 - 145.0 / gravity


def _neat_density(solute: Species, tables: Tables) -> float:
    """Return the density of the undiluted liquid [g/mL], from a bottle of it."""
    for rows in bottles_by_composition(tables).get(composition(solute), {}).values():
        facts = {row.fact: row.value for row in rows}
        if facts.get("mass_fraction", 0.0) >= 0.99 and "density" in facts:
            return facts["density"]
    raise MissingDataError(
        f"no density of undiluted {solute}; looked in bottles.csv",
        what=f"density of {solute}(l)",
        looked_in=("bottles.csv",),
    )


def _of_element(solute: Species, strength: Quantity, tag: str) -> float:
    """Grams of solute in a litre that holds so many grams of a part of it, such as ``g/L Fe``."""
    part = Species.parse(tag)
    counts = [solute.elements.get(symbol, 0) / count for symbol, count in part.elements.items()]
    if not counts or min(counts) <= 0:
        raise UnitError(f"{solute} holds no {tag}, so {strength.unit} does not apply")
    return float(strength.to(f"g/L {tag}").value / part.molar_mass / float(min(counts)) * solute.molar_mass)
