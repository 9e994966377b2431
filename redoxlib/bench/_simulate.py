"""Dosing as it happens: reaction, cooling and boiling against time.

Verbs: simulate, fastest_dosing, dosing_temperature.  The oxidant runs into the rest at a steady rate; it
reacts by its published rate law, or at once where none is known (assumed, and said so); the pot is
cooled by a thermostat of so many watts or by a jacket; what boils takes its heat along.

The heat content, not the temperature, is integrated: then what went in is what came out to the last
digits, and a property test holds the balance to that.  May import: routes, heat and below.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import exp, log
from typing import Any

from redoxlib.errors import DomainError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.bench._rates import RateTerm

__all__ = ["Pot", "Simulation", "damkoehler", "dosing_temperature", "fastest_dosing", "simulate"]

_BAND_K = 1.0
"""A thermostat gives its full power this far above the set point, K."""

_INSTANT_ABOVE = 1e4
"""Damkoehler number from which the rate is no longer what decides, and dosing alone is integrated."""

_PATIENCE = 10_000
"""Slopes that a method may ask for in one smooth piece; ordinary pots take a thousand."""

_WATER_CP, _WATER_LATENT, _WATER_BOILS = 4.18, 2257.0, 100.0


@dataclass(frozen=True, slots=True)
class Pot:
    """What a simulation needs to know of a pot; plain numbers, so that any pot can be simulated.

    Attributes
    ----------
    oxidant_mol, needed_mol, feed_mol : float
        Oxidant to dose, the part of it the feed can use, and feed in the pot [mol].
    heat_kj : float
        Given off by the whole reaction, a positive number [kJ].
    capacity, dose_capacity : float
        Of the pot before dosing, and of what is dosed [J/K].
    litres, dose_litres : float
        Volumes [L].
    start_c, dose_c : float
        Temperature of the pot, which is also the set point, and of what is dosed [C].
    boils_c, latent, vapour_cp : float
        Where product and water boil together [C], heat to vaporise a gram of that [J/g], its specific
        heat as a liquid [J/(g K)].
    vapour_g : float
        Grams of that vapour mixture that the whole product makes [g]; 0 where nothing but water boils.
    water_g : float
        Water in the pot [g].
    terms : tuple of RateTerm
        Empty: reaction at once, assumed.
    active : float
        mol of active oxidant per mol dosed.
    """

    oxidant_mol: float
    needed_mol: float
    feed_mol: float
    heat_kj: float
    capacity: float
    dose_capacity: float
    litres: float
    dose_litres: float
    start_c: float
    dose_c: float
    boils_c: float = _WATER_BOILS
    latent: float = _WATER_LATENT
    vapour_cp: float = _WATER_CP
    vapour_g: float = 0.0
    water_g: float = 0.0
    terms: tuple[RateTerm, ...] = ()
    active: float = 1.0


@dataclass(frozen=True, slots=True)
class Simulation:
    """One run.

    Attributes
    ----------
    minutes, celsius, dosed, accumulated, cooling_w, vapour_g : tuple of float
        Time [min], temperature [C], share dosed [1], share of the reaction dosed but not yet done [1],
        cooling [W], boiled off [g].
    peak_c : float
        Highest temperature [C].
    accumulation : float
        Largest share accumulated [1].
    mtsr_c : float
        Highest temperature reached if cooling and dosing stop at the worst moment [C].
    energy_error, mass_error : float
        What does not close, relative to what was turned over.
    assumed : str
        How the pace was taken.
    """

    minutes: tuple[float, ...]
    celsius: tuple[float, ...]
    dosed: tuple[float, ...]
    accumulated: tuple[float, ...]
    cooling_w: tuple[float, ...]
    vapour_g: tuple[float, ...]
    peak_c: float
    accumulation: float
    mtsr_c: float
    converted: float
    cooled_kj: float
    boiled_kj: float
    energy_error: float
    mass_error: float
    assumed: str

    def table(self, rows: int = 13) -> tuple[tuple[float, float, float, float], ...]:
        """Evenly spaced rows of (min, C, dosed, accumulated)."""
        last = len(self.minutes) - 1
        picks = sorted({round(i * last / max(rows - 1, 1)) for i in range(rows)})
        return tuple((self.minutes[i], self.celsius[i], self.dosed[i], self.accumulated[i]) for i in picks)


def damkoehler(pot: Pot, minutes: float) -> float | None:
    """How much faster the reaction is than dosing: k c^n t with the feed as it stands at the start.

    Far above 1 the dosing governs; about 1 or less, what is dosed piles up.  None without a rate law.
    """
    if not pot.terms:
        return None
    strength = max(pot.feed_mol / (pot.litres + pot.dose_litres), 1e-12)
    return sum(_pseudo(term, strength) for term in pot.terms) * 60.0 * minutes


def _pseudo(term: RateTerm, strength: float) -> float:
    """First-order constant of the oxidant at that strength of feed, 1/s; higher orders at that strength."""
    return term.k * float(strength ** (term.feed_order + term.oxidant_order - 1))


def dosing_temperature(
    minutes: float,
    *,
    heat_w: float,
    ua: float,
    jacket_c: float,
    start_c: float,
    dose_c: float,
    capacity: float,
    dose_capacity_per_min: float,
) -> float:
    """Temperature while a reaction that is instant is dosed into a jacketed pot, exactly [C].

    C dT/dt = q - UA (T - Tj) - c (T - Td) with C = C0 + c t has the solution
    T = T* + (T0 - T*) (1 + c t / C0)^(-b/c), b = UA + c and T* = (q + UA Tj + c Td) / b.

    Parameters
    ----------
    heat_w, ua : float
        Heat of reaction [W] and of the jacket [W/K].
    capacity, dose_capacity_per_min : float
        Of the pot at the start [J/K], and what dosing adds [J/(K min)].
    """
    seconds, c = 60.0 * minutes, dose_capacity_per_min / 60.0
    b = ua + c
    if b == 0:
        return start_c + heat_w * seconds / capacity
    steady = (heat_w + ua * jacket_c + c * dose_c) / b
    if c == 0:
        return steady + (start_c - steady) * exp(-ua * seconds / capacity)
    return steady + (start_c - steady) * float((1 + c * seconds / capacity) ** (-b / c))


def simulate(
    pot: Pot,
    minutes: float,
    *,
    watts: float = 0.0,
    ua: float = 0.0,
    jacket_c: float | None = None,
    after: float | None = None,
) -> Simulation:
    """Dose over so many minutes and watch.

    Parameters
    ----------
    minutes : float
        Dosing time [min].
    watts : float
        Cooling of a thermostat set at the pot's temperature [W]; 0 and no jacket: cooling lost.
    ua, jacket_c : float
        Heat transfer to a jacket [W/K] at a steady temperature [C].
    after : float, optional
        Minutes watched after dosing.  Default: as long as dosing, at least 10, and three half-lives.

    Raises
    ------
    DomainError
        When a time, capacity or volume is not above zero, or the solver gives up.
    """
    if minutes <= 0 or pot.capacity <= 0 or pot.litres <= 0 or pot.oxidant_mol <= 0:
        raise DomainError("dosing time, heat capacity, volume and oxidant must be above zero")
    run = _Run(pot, 60.0 * minutes, watts, ua, pot.start_c if jacket_c is None else jacket_c)
    end = run.dose_s + 60.0 * (after if after is not None else _tail(pot, minutes))
    # The rate of dosing jumps at its end, an instant reaction stops when the feed is used up, and boiling
    # stops with the product phase: each piece is smooth.
    stops = sorted({0.0, min(run.dose_s * pot.needed_mol / pot.oxidant_mol, end), min(run.dose_s, end), end})
    state = [0.0, pot.feed_mol, 0.0, 0.0, 0.0, 0.0, 0.0]
    times: list[float] = []
    states: list[list[float]] = []
    for start, stop in pairwise(stops):
        if stop - start < 1e-9 * end:
            continue
        count = max(3, round(120 * (stop - start) / end) + 1)
        points = [start + (stop - start) * i / (count - 1) for i in range(count)]
        points[-1] = stop
        run.middle = (start + stop) / 2
        found = _piece(run, (start, stop), state, points, end / 50)
        state = [float(v) for v in found.y[:, -1]]
        keep = slice(0, None) if not times else slice(1, None)
        times += [float(t) for t in found.t][keep]
        states += [[float(v) for v in column] for column in found.y.T][keep]
    return run.result(times, states)


def _piece(
    run: _Run, span: tuple[float, float], state: list[float], points: list[float], max_step: float
) -> Any:
    """Integrate one smooth piece; a strong thermostat on a small pot is stiff and tires the first method."""
    from numpy import errstate
    from scipy.integrate import solve_ivp

    for method, patience in (("LSODA", 1), ("Radau", 10), ("BDF", 10)):
        run.patience = patience * _PATIENCE
        try:
            # Trial steps of a state that nothing depends on grow until they overflow, which harms nothing.
            with errstate(over="ignore", invalid="ignore"):
                found = solve_ivp(
                    run.slope,
                    span,
                    state,
                    method=method,
                    t_eval=points,
                    rtol=1e-8,
                    atol=1e-9,
                    max_step=max_step,
                )
        except _TiredError:
            continue
        if found.success:
            return found
    start, stop = span
    raise _GaveUpError(f"the simulation stopped between {start / 60:.3g} and {stop / 60:.3g} min")


def _tail(pot: Pot, minutes: float) -> float:
    wait = max(minutes, 10.0)
    for term in pot.terms:
        pseudo = _pseudo(term, max(pot.feed_mol / (pot.litres + pot.dose_litres), 1e-12))
        if pseudo > 0:
            wait = max(wait, min(3 * log(2) / pseudo / 60, 24 * 60.0))
    return wait


class _GaveUpError(DomainError):
    """No method gets through."""


class _TiredError(Exception):
    """A method has asked for more slopes than a smooth piece needs."""


class _Run:
    """The right-hand side, and the figures read off afterwards.

    State: oxidant and feed in the pot [mol], heat content above the start [J], cooled away [J], latent heat
    of mixed vapour and of steam [J], sensible heat these take along [J].
    """

    def __init__(self, pot: Pot, dose_s: float, watts: float, ua: float, jacket_c: float) -> None:
        # Below a nanowatt per kelvin there is no jacket; so small a number drowns in the integrator's steps.
        self.pot, self.dose_s, self.watts, self.jacket = pot, dose_s, watts, jacket_c
        self.ua = ua if ua > 1e-9 else 0.0
        self.per_mol = 1000 * pot.heat_kj / pot.needed_mol if pot.needed_mol else 0.0
        self.feed_per_oxidant = pot.feed_mol / pot.needed_mol if pot.needed_mol else 0.0
        self.middle = 0.0
        self.patience = _PATIENCE
        number = damkoehler(pot, dose_s / 60)
        self.instant = number is None or number > _INSTANT_ABOVE
        self.left = 1 / number if number is not None and self.instant else 0.0
        peak = 1000 * pot.heat_kj / dose_s
        self.boil = max(10 * peak, pot.capacity / 5.0)

    def dosed(self, t: float) -> float:
        return min(t / self.dose_s, 1.0)

    def capacity(self, t: float, y: list[float]) -> float:
        pot = self.pot
        gone = y[4] / pot.latent * pot.vapour_cp + y[5] / _WATER_LATENT * _WATER_CP
        whole = pot.capacity + pot.dose_capacity * self.dosed(t)
        return max(whole - gone, 0.05 * whole)

    def celsius(self, t: float, y: list[float]) -> float:
        return self.pot.start_c + y[2] / self.capacity(t, y)

    def cooling(self, celsius: float) -> float:
        if self.ua:
            return self.ua * (celsius - self.jacket)
        return self.watts * min(max((celsius - self.pot.start_c) / _BAND_K, 0.0), 1.0)

    def reaction(self, t: float, y: list[float], inflow: float) -> float:
        """mol of oxidant used per second."""
        pot = self.pot
        if self.instant:
            # Judged by the middle of the piece: at its very ends rounding would decide.
            return inflow if self.middle < self.dose_s * pot.needed_mol / pot.oxidant_mol else 0.0
        litres = pot.litres + pot.dose_litres * self.dosed(t)
        oxidant, feed = max(y[0], 0.0) * pot.active / litres, max(y[1], 0.0) / litres
        if not feed:
            return 0.0
        rate = 0.0
        for term in pot.terms:
            rate += term.k * float(oxidant**term.oxidant_order) * float(feed**term.feed_order)
        return rate * litres / pot.active

    def slope(self, t: float, y: list[float]) -> list[float]:
        self.patience -= 1
        if self.patience < 0:
            raise _TiredError
        pot = self.pot
        dosing = self.middle < self.dose_s
        inflow = pot.oxidant_mol / self.dose_s if dosing else 0.0
        celsius = self.celsius(t, y)
        used = self.reaction(t, y, inflow)
        cooled = self.cooling(celsius)
        mixed = steam = 0.0
        if pot.vapour_g:
            made = pot.vapour_g * (1 - y[1] / pot.feed_mol) - y[4] / pot.latent
            share = min(max(made / (0.01 * pot.vapour_g), 0.0), 1.0)
            mixed = self.boil * max(celsius - pot.boils_c, 0.0) * share
        left = (
            min(max((pot.water_g - y[5] / _WATER_LATENT) / (0.01 * pot.water_g), 0.0), 1.0)
            if pot.water_g
            else 0.0
        )
        steam = self.boil * max(celsius - _WATER_BOILS, 0.0) * left
        above = celsius - pot.start_c
        carried = (mixed / pot.latent * pot.vapour_cp + steam / _WATER_LATENT * _WATER_CP) * above
        brought = pot.dose_capacity / self.dose_s * (pot.dose_c - pot.start_c) if dosing else 0.0
        heat = self.per_mol * used + brought - cooled - mixed - steam - carried
        return [inflow - used, -self.feed_per_oxidant * used, heat, cooled, mixed, steam, carried]

    def result(self, times: list[float], states: list[list[float]]) -> Simulation:
        pot = self.pot
        celsius = [self.celsius(t, y) for t, y in zip(times, states, strict=True)]
        waiting = [self._waiting(y) for y in states]
        mtsr = max(
            c + w * self.per_mol / self.capacity(t, y)
            for t, y, c, w in zip(times, states, celsius, waiting, strict=True)
        )
        last = states[-1]
        reacted = (pot.feed_mol - last[1]) / self.feed_per_oxidant if self.feed_per_oxidant else 0.0
        dosed = self.dosed(times[-1])
        came = self.per_mol * reacted + pot.dose_capacity * dosed * (pot.dose_c - pot.start_c)
        went = last[2] + last[3] + last[4] + last[5] + last[6]
        turned = abs(self.per_mol * reacted) + abs(last[3]) + last[4] + last[5] + 1.0
        moles = pot.oxidant_mol * dosed - reacted - last[0]
        needed = max(pot.needed_mol, 1e-300)
        return Simulation(
            tuple(t / 60 for t in times),
            tuple(celsius),
            tuple(self.dosed(t) for t in times),
            tuple(w / needed for w in waiting),
            tuple(self.cooling(c) for c in celsius),
            tuple(y[4] / pot.latent + y[5] / _WATER_LATENT for y in states),
            max(celsius),
            max(max(waiting) / needed, self.left),
            mtsr,
            reacted / needed,
            last[3] / 1000,
            (last[4] + last[5]) / 1000,
            abs(came - went) / turned,
            abs(moles) / pot.oxidant_mol,
            self.pace(),
        )

    def pace(self) -> str:
        laws = "; ".join(term.text for term in self.pot.terms)
        if not laws:
            return "instant, assumed: no rate is known"
        return f"{laws}; so fast that dosing alone decides" if self.instant else laws

    def _waiting(self, y: list[float]) -> float:
        """mol of oxidant in the pot that the feed left there could still use up."""
        if not self.feed_per_oxidant:
            return 0.0
        return max(0.0, min(y[0], y[1] / self.feed_per_oxidant))


def fastest_dosing(
    pot: Pot, *, watts: float = 0.0, ua: float = 0.0, jacket_c: float | None = None, rise: float = 5.0
) -> float | None:
    """Shortest dosing [min] that the cooling carries and that stays harmless if the cooling fails.

    The pot must stay within *rise* kelvin of its set point, and the temperature after a failure at the
    worst moment below boiling.  None where no dosing up to a hundred times the time that the heat alone
    asks for does both, as with a reaction too slow to be governed by dosing.
    """
    if watts <= 0 and ua <= 0:
        return None
    power = watts or ua * max(pot.start_c + rise - (pot.start_c if jacket_c is None else jacket_c), 1e-9)
    guess = max(1000 * pot.heat_kj / power / 60, 0.1)

    def safe(minutes: float) -> bool:
        try:
            run = simulate(pot, minutes, watts=watts, ua=ua, jacket_c=jacket_c, after=_short(pot, minutes))
        except _GaveUpError:
            return False  # not shown to be safe
        return run.peak_c <= pot.start_c + rise and run.mtsr_c < pot.boils_c

    low = high = guess  # never faster than the heat over the cooling: what the pot can soak up is a reserve
    while not safe(high):
        low, high = high, 2.5 * high
        if high > 100 * guess:
            return None
    while high > 1.02 * low:
        middle = (low * high) ** 0.5
        low, high = (low, middle) if safe(middle) else (middle, high)
    return high


def _short(pot: Pot, minutes: float) -> float:
    return 0.2 * minutes if not pot.terms else _tail(pot, minutes)
