"""From what a bench knows (mol/L, bar) to activities, and the model that links them in dilute solution."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import isfinite, sqrt

from redoxlib.errors import DomainError, UnitError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity
from redoxlib.thermo._reaction import kelvin_of
from redoxlib.thermo._rows import T0

DAVIES_LIMIT = 0.5
"""Ionic strength, mol/kg, beyond which no answer is given."""

_A = 0.509  # kg^(1/2)/mol^(1/2), Debye-Hueckel slope for water at 25 C
_LINEAR = 0.3  # Davies 1962; his paper of 1938 had 0.2
Amount = float | str | Quantity


def _permittivity(kelvin: float) -> float:
    """Static relative permittivity of water; Malmberg and Maryott, J. Res. NBS 56, 1 (1956)."""
    t = kelvin - 273.15
    return 87.740 - 0.40008 * t + 9.398e-4 * t * t - 1.410e-6 * t**3


def _strength_of(ionic_strength: float | Quantity) -> float:
    if isinstance(ionic_strength, Quantity):
        number = _molal("the ionic strength", ionic_strength)
    else:
        number = float(ionic_strength)
    if not isfinite(number) or number < 0:
        raise DomainError(f"an ionic strength cannot be {number}")
    if number > DAVIES_LIMIT:
        raise DomainError(
            f"an ionic strength of {number:g} mol/kg is beyond the Davies equation, which ends at "
            f"{DAVIES_LIMIT} mol/kg",
            hint="measure the activity, or give activities (bare numbers) from a model made for brines",
        )
    return number


def activity_coefficient(
    charge: int, ionic_strength: float | Quantity, *, temperature: float | str | Quantity | None = None
) -> Quantity:
    """Activity coefficient of one ion in a dilute electrolyte, by the Davies equation.

    Parameters
    ----------
    charge : int
        Of the ion; a neutral species gets 1.
    ionic_strength : float [mol/kg] or Quantity
        Half the sum of molality times charge squared; 0 to 0.5 mol/kg.
    temperature : float [K] or Quantity, optional
        273 to 373 K; moves the Debye-Hueckel slope through the permittivity of water.

    Returns
    -------
    Quantity [1]
        log10 gamma = -A z^2 (sqrt(I)/(1 + sqrt(I)) - 0.3 I), A = 0.509 at 25 C.  The uncertainty is an
        estimate: 3 % per unit of charge squared up to 0.1 mol/kg, growing to 10 % at 0.5.  Salts that
        pair (potassium and caesium nitrate) lie further off from 0.2 mol/kg on.

    Raises
    ------
    DomainError
        Beyond 0.5 mol/kg, where the equation is no more than a guess.

    References
    ----------
    .. [1] C. W. Davies, Ion Association, Butterworths, London 1962, p. 41.

    Examples
    --------
    >>> round(activity_coefficient(1, 0.1).value, 3)
    0.782
    """
    strength = _strength_of(ionic_strength)
    kelvin = kelvin_of(temperature)
    slope = _A * (_permittivity(T0) * T0 / (_permittivity(kelvin) * kelvin)) ** 1.5
    root = sqrt(strength)
    gamma = 10.0 ** (-slope * charge * charge * (root / (1 + root) - _LINEAR * strength))
    sources = ("davies1962",) if kelvin == T0 else ("davies1962", "malmberg1956")
    share = 0.03 * min(1.0, strength / 0.1) + 0.07 * max(0.0, strength - 0.1) / 0.4
    return Quantity(gamma, "1", gamma * charge * charge * share, sources, "estimate")


def ionic_strength(concentrations: Mapping[str, Amount]) -> Quantity:
    """Ionic strength of a solution from the concentrations of its ions.

    Parameters
    ----------
    concentrations : mapping
        Ion to concentration: a bare number is mol/kg; text and quantities carry their unit.

    Returns
    -------
    Quantity [mol/kg]

    Examples
    --------
    >>> print(ionic_strength({"Na^+": 0.2, "SO4^2-": 0.1}))
    0.3 mol/kg
    """
    total = 0.0
    for text, amount in concentrations.items():
        charge = Species.parse(text).charge
        number = amount if isinstance(amount, int | float) else _molal(text, _quantity(amount))
        if not isfinite(number) or number < 0:
            raise DomainError(f"the concentration of {text} cannot be {number}")
        total += number * charge * charge / 2
    return Quantity(total, "mol/kg")


def _quantity(amount: str | Quantity) -> Quantity:
    return Quantity.parse(amount) if isinstance(amount, str) else amount


def _molal(what: str, amount: Quantity) -> float:
    """mol/kg of water; mol/L counts the same, 0.3 % off in dilute solution at 25 C."""
    for unit in ("mol/kg", "mol/L"):
        if amount.measures_like(unit):
            return amount.to(unit).value
    raise UnitError(
        f"{amount.unit} is no concentration for {what}", hint="write mol/L or mol/kg", units=(amount.unit,)
    )


def read_activities(
    given: Mapping[str, Amount] | None,
    present: Iterable[Species],
    strength: float | Quantity | None,
    kelvin: float,
) -> tuple[dict[Species, float], tuple[str, ...]]:
    """Activities by species as the equation has them, and what had to be assumed on the way.

    Raises
    ------
    DomainError
        For an activity that is not positive, a species that takes no part, a concentration of a pure phase.
    UnitError
        For a pressure of a solute or a concentration of a gas.
    """
    bare = {species.with_phase(Phase.UNSTATED): species for species in present}
    found: dict[Species, float] = {}
    remarks: dict[str, None] = {}
    for text, amount in (given or {}).items():
        species = bare.get(Species.parse(text).with_phase(Phase.UNSTATED))
        if species is None:
            raise DomainError(f"{text} takes no part in the equation")
        if isinstance(amount, int | float):
            activity = float(amount)
        else:
            activity, remark = _activity(species, _quantity(amount), strength, kelvin)
            remarks[remark] = None
        if not (activity > 0 and isfinite(activity)):
            raise DomainError(f"the activity of {text} must be more than zero, not {activity}")
        found[species] = activity
    if strength is not None and not remarks:
        _strength_of(strength)  # a strength that no concentration uses is still checked
    return found, tuple(remarks)


def _activity(
    species: Species, amount: Quantity, strength: float | Quantity | None, kelvin: float
) -> tuple[float, str]:
    if species.phase in (Phase.SOLID, Phase.LIQUID):
        raise DomainError(
            f"{species} is a pure phase and has no {amount.unit}", hint="its activity is 1; leave it out"
        )
    if species.phase is Phase.GAS:
        if not amount.measures_like("bar"):
            raise UnitError(
                f"{species} is a gas: {amount.unit} is no pressure", hint="write bar", units=(amount.unit,)
            )
        return amount.to("bar").value, "pressures taken as fugacities"
    if amount.measures_like("bar"):
        raise UnitError(
            f"{species} is dissolved: {amount.unit} is no concentration",
            hint="write mol/L or mol/kg",
            units=(amount.unit,),
        )
    molal = _molal(str(species), amount)
    if strength is None:
        return molal, "concentrations taken as activities: no ionic strength was given"
    gamma = activity_coefficient(species.charge, strength, temperature=kelvin).value
    return gamma * molal, (
        f"activity coefficients by the Davies equation at {_strength_of(strength):g} mol/kg "
        f"(limit {DAVIES_LIMIT} mol/kg); dissolved neutral species as ideal"
    )
