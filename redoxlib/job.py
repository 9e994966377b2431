"""What is held, wanted and limited: one value that states a whole job, and the file it comes from.

Verbs: Job, Job.read, Conversion.  Text is read here, at the edge; later parts see only values.

May import: errors, quantity, notation, stoichiometry, data, bottles.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from redoxlib._reagents import usual_acid, usual_base
from redoxlib.errors import JobError, NotationError, RedoxlibError
from redoxlib.notation import Phase, Species
from redoxlib.quantity import Quantity

__all__ = [
    "CONTEXTS",
    "CRITERIA",
    "JOB_KEYS",
    "Conversion",
    "Job",
    "acid_label",
    "base_label",
    "default_concentration",
]

CRITERIA = ("mass", "by_products", "exotherm", "side_risk")
"""Names of the four ranked criteria, in the order they are printed."""

CONTEXTS: Mapping[str, Mapping[str, float]] = {
    "balanced": {"mass": 1.0, "by_products": 1.0, "exotherm": 1.0, "side_risk": 1.0},
    "teaching": {"mass": 0.5, "by_products": 1.5, "exotherm": 1.0, "side_risk": 1.0},
    "water works": {"mass": 1.0, "by_products": 1.5, "exotherm": 0.0, "side_risk": 1.5},
}
"""Weight presets by name; every one of them is printed with the result it shaped."""

_EXAMPLES: Mapping[str, tuple[str, ...]] = {
    "conversions": ("mol", "g", "mg/L"),
    "amount": ("g", "mL", "mol"),
    "concentration": ("mol/L", "g/L", "mg/L"),
    "temperature": ("C", "K"),
    "pot_mass": ("g", "kg"),
    "cooling": ("W",),
    "room": ("m3", "L"),
    "time": ("min", "h"),
    "volts": ("V",),
    "impurities": ("% w/w", "g", "mol"),
}
"""Units to offer where a field has none, or one that is not its own."""

_MEDIUM_PH = {"acid": 0.0, "base": 14.0, "neutral": 7.0}
_DEFAULT_TIME_S = {"make": 24 * 3600.0, "remove": 3600.0}
_DECIMAL_COMMA = re.compile(r"(?:ph)?\s*-?[0-9]+,[0-9]+")
_ARROWS = ("->", "→", "⟶", "=>", "⇌")


@dataclass(frozen=True, slots=True)
class Conversion:
    """One reduced species and the oxidised species wanted from it.

    Attributes
    ----------
    text : str
        The conversion as typed.
    feed, target : Species
        The species that lose and have lost the electrons; ions where the text named a salt.
    feed_compound, target_compound : Species or None
        The salt the text named on either side, None where it named the ion itself.
    amount : Quantity or None
        How much feed this conversion has, where several share one oxidant.
    assumptions : tuple of str
        What had to be assumed to read the text.
    """

    text: str
    feed: Species
    target: Species
    feed_compound: Species | None = None
    target_compound: Species | None = None
    amount: Quantity | None = None
    assumptions: tuple[str, ...] = ()

    @classmethod
    def parse(cls, text: str, amount: Quantity | None = None) -> Conversion:
        """Read ``feed -> target``; names, salts and ions are all welcome.

        Raises
        ------
        NotationError
            When a side cannot be read.
        JobError
            When the sides share no element that changes its oxidation number.
        """
        left, right = _split(text)
        feed, target = _side(left), _side(right)
        notes = [f"{left}: {a.read_as} ({a.why})" for a in feed.assumptions]
        notes += [f"{right}: {a.read_as} ({a.why})" for a in target.assumptions]
        feed_part, target_part = _redox_parts(feed, target, text)
        return cls(
            text=text,
            feed=feed_part,
            target=target_part,
            feed_compound=None if _same(feed_part, feed) else feed,
            target_compound=None if _same(target_part, target) else target,
            amount=amount,
            assumptions=tuple(notes),
        )

    def __str__(self) -> str:
        return f"{self.feed} -> {self.target}"


def _side(text: str) -> Species:
    """One side of a conversion: a species, or the label of what is held ("scrap copper")."""
    if " + " in text:
        raise JobError(
            f"{text!r} names more than one species",
            source=text,
            span=(text.index(" + ") + 1, text.index(" + ") + 2),
            hint="a conversion has one feed and one target; give several, or balance() the equation",
            faults=(f"conversions: {text!r} names more than one species",),
        )
    try:
        return Species.parse(text)
    except NotationError as error:
        from redoxlib.bottles import read_bottle

        try:
            return read_bottle(text).solute
        except RedoxlibError:
            raise error from None


def _same(a: Species, b: Species) -> bool:
    return a.with_phase(Phase.UNSTATED) == b.with_phase(Phase.UNSTATED)


def _split(text: str) -> tuple[str, str]:
    for arrow in _ARROWS:
        if arrow in text:
            left, _, right = text.partition(arrow)
            break
    else:
        raise JobError(
            f"no arrow in the conversion {text!r}",
            source=text,
            span=(0, len(text)),
            hint="write it as feed -> target, such as Br^- -> Br2",
        )
    start = len(left)
    if not left.strip() or not right.strip():
        raise JobError(
            f"one side of the conversion {text!r} is empty",
            source=text,
            span=(start, start + len(arrow)),
            hint="write it as feed -> target, such as Br^- -> Br2",
        )
    return left.strip(), right.strip()


def _redox_parts(feed: Species, target: Species, text: str) -> tuple[Species, Species]:
    """Pick, from salts, the pair of ions between which an element is oxidised."""
    from redoxlib.stoichiometry import ions_of, oxidation_numbers

    def parts(species: Species) -> list[Species]:
        ions = ions_of(species)
        return [ion for _, ion in ions] if ions else [species]

    def average(species: Species, element: str) -> Any:
        try:
            return oxidation_numbers(str(species)).average[element]
        except (RedoxlibError, KeyError):
            return None

    common = set(feed.elements) & set(target.elements)
    # Oxygen comes last: it is what is oxidised only where nothing else is (water to peroxide or oxygen).
    shared = common - {"H", "O"}
    if not common - {"H"}:
        raise JobError(
            f"{feed} does not contain what {target} is made of",
            source=text,
            span=(0, len(text)),
            hint="feed and target must share the element that is oxidised",
            faults=(f"conversions: feed {feed} and target {target} share no element",),
        )
    best: tuple[Species, Species] | None = None
    reduced = False
    for a in parts(feed):
        for b in parts(target):
            for element in sorted(set(a.elements) & set(b.elements) & shared):
                before, after = average(a, element), average(b, element)
                if before is None or after is None:
                    continue
                if after > before:
                    return a, b
                reduced = reduced or after < before
                best = best or (a, b)
    for a in parts(feed):
        for b in parts(target):
            if reduced or not {"O"} <= set(a.elements) & set(b.elements):
                continue
            before, after = average(a, "O"), average(b, "O")
            if before is not None and after is not None and after > before:
                return a, b
    raise JobError(
        f"{target} is not an oxidised form of {feed}",
        source=text,
        span=(0, len(text)),
        hint="the conversion runs the other way" if reduced else "nothing is oxidised between the two sides",
        faults=(f"conversions: {feed} -> {target} is no oxidation",),
    )


@dataclass(frozen=True, slots=True)
class Job:
    """One statement of the work; text is accepted everywhere and read on construction.

    Parameters
    ----------
    conversions : str or sequence
        ``"Br^- -> Br2"``, several of them, or ``(conversion, amount)`` pairs that share one oxidant.
    purpose : {"make", "remove"}
        Whether the oxidised form is the product or the reduced form a nuisance.
    medium : str or float, optional
        ``"acid"`` (pH 0), ``"neutral"`` (7), ``"base"`` (14) or a pH.  Default: acid, except pH 11 where
        acid would free hydrogen cyanide or sulfide, and pH 7 when the purpose is "remove".
    feed : str, optional
        The label of what is held.  Default: the sodium salt of an anion, the sulfate of a cation,
        the pure substance otherwise.
    amount : str, optional
        How much feed, "0.80 mol", "150 g" or "500 mL".  Default 1 mol, or what is in 1 m3 of water
        when the purpose is "remove".
    concentration : str, optional
        Of the feed in the pot before the oxidant goes in.  Default 1 mol/L, or 1 mg/L for "remove".
    acid, base : str, optional
        Bottle labels.  Defaults: sulfuric acid 50 % w/w, sodium hydroxide 50 % w/w; for a product named as a
        chloride, a nitrate or a potassium salt hydrochloric or nitric acid or potassium hydroxide; and the
        bottle of that acid or base on the shelf, where there is one.
    bottles : sequence of str or mapping, optional
        Labels on the shelf; "250 mL of hydrogen peroxide 30 % w/w" also limits how much there is.
    oxidants : sequence of str, optional
        Keys or names to compare.  Default: all that the tables hold.
    impurities : mapping, optional
        Species to "5 % w/w" of the feed, or to an amount.
    excess : float or str, optional
        Oxidant beyond the stoichiometric amount, as a fraction or "10 %".  Default 0.10.
    addition : sequence of str, optional
        The order of addition.  Default: the plan's own.
    temperature, pot_mass, cooling, room, time : str, optional
        "25 C", "1.2 kg", "50 W", "30 m3", "2 h".
    volts : str, optional
        Voltage of an electrolysis cell, "3.2 V"; 3 V is assumed for the energy of an anode without it.
    vessel : {"open", "vented", "closed", "sealed"}
    potable : bool
        True when people will drink the water.
    weights : mapping, optional
        Any of ``mass``, ``by_products``, ``exotherm``, ``side_risk`` to a number >= 0.
    context : str, optional
        A weight preset, or a declared circumstance such as "chlorine dioxide generator, dilute".

    Raises
    ------
    JobError
        Listing every fault with its key.
    """

    conversions: Any
    purpose: str = field(default="make", kw_only=True)
    medium: Any = field(default=None, kw_only=True)
    feed: Any = field(default=None, kw_only=True)
    amount: Any = field(default=None, kw_only=True)
    concentration: Any = field(default=None, kw_only=True)
    acid: str | None = field(default=None, kw_only=True)
    base: str | None = field(default=None, kw_only=True)
    bottles: Any = field(default=(), kw_only=True)
    oxidants: Any = field(default=None, kw_only=True)
    impurities: Any = field(default=(), kw_only=True)
    excess: Any = field(default=0.10, kw_only=True)
    addition: Any = field(default=None, kw_only=True)
    temperature: Any = field(default="25 C", kw_only=True)
    pot_mass: Any = field(default=None, kw_only=True)
    cooling: Any = field(default=None, kw_only=True)
    vessel: str = field(default="open", kw_only=True)
    room: Any = field(default=None, kw_only=True)
    potable: bool = field(default=False, kw_only=True)
    weights: Any = field(default=(), kw_only=True)
    context: str | None = field(default=None, kw_only=True)
    time: Any = field(default=None, kw_only=True)
    volts: Any = field(default=None, kw_only=True)
    ph: float = field(default=0.0, init=False, compare=False)
    defaults: tuple[str, ...] = field(default=(), init=False, compare=False)

    def __post_init__(self) -> None:
        reader = _Reader()

        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        put("conversions", reader.conversions(self.conversions))
        put("purpose", reader.choice("purpose", self.purpose, ("make", "remove")))
        put("vessel", reader.choice("vessel", self.vessel, ("open", "vented", "closed", "sealed")))
        put("amount", reader.quantity("amount", self.amount, ("mol", "g", "L", "mol/L", "g/L")))
        put("concentration", reader.quantity("concentration", self.concentration, ("mol/L", "g/L")))
        put("temperature", reader.quantity("temperature", self.temperature, ("K",), signed=True))
        put("pot_mass", reader.quantity("pot_mass", self.pot_mass, ("g",)))
        put("cooling", reader.quantity("cooling", self.cooling, ("W",)))
        put("room", reader.quantity("room", self.room, ("L",)))
        put("time", reader.quantity("time", self.time, ("s",)))
        put("volts", reader.quantity("volts", self.volts, ("V",)))
        put("excess", reader.excess(self.excess))
        put("bottles", reader.labels(self.bottles))
        for key in ("feed", "acid", "base"):
            reader.label(key, getattr(self, key))
        put("oxidants", reader.strings("oxidants", self.oxidants))
        put("addition", reader.strings("addition", self.addition))
        put("impurities", reader.impurities(self.impurities))
        put("weights", reader.weights(self.weights, self.context))
        for key in ("feed", "acid", "base", "context"):
            value = getattr(self, key)
            if value is not None and (not isinstance(value, str) or not value.strip()):
                reader.fault(key, _not_a_text(key, value))
        if isinstance(self.context, str) and (preset := _meant_preset(self.context)):
            reader.fault("context", f"{self.context!r} is no preset of weights; did you mean {preset!r}?")
        potable: object = self.potable
        if not isinstance(potable, bool):
            reader.fault("potable", f"{potable!r} is neither true nor false")
        ph = reader.medium(self.medium, self)
        reader.finish()
        put("ph", ph)
        put("defaults", tuple(reader.defaults(self)))

    @property
    def time_s(self) -> float:
        """Longest time the work may take, in seconds (24 h to make, 1 h to remove, unless given)."""
        if self.time is not None:
            return float(self.time.to("s").value)
        return _DEFAULT_TIME_S[self.purpose]

    @property
    def temperature_k(self) -> float:
        """Pot temperature in kelvin."""
        return float(self.temperature.to("K").value)

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Job:
        """Read a job file (TOML, the same keys as the parameters).

        Raises
        ------
        JobError
            Naming every fault with its key and line; also when the file cannot be read at all.
        """
        from redoxlib._jobfile import open_job_file

        file = open_job_file(path)
        try:
            job = cls(**{"conversions": (), **file.fields})
        except JobError as error:
            if not file.faults:
                raise file.located(error) from error
            # What is wrong with a key is told once; the fault of a value stands beside it.
            named = {fault.partition(":")[0] for fault in file.faults}
            told = [_told_whole(error.faults[0], error)] if len(error.faults) == 1 else error.faults
            rest = [fault for fault in told if fault.partition(":")[0] not in named]
            raise file.located(JobError("", faults=(*file.faults, *rest))) from error
        if file.faults:
            raise file.located(JobError("", faults=file.faults))
        return job

    @classmethod
    def of(cls, job: Any, **fields: Any) -> Job:
        """Turn what a verb was given (text, pairs, a path, a Job) into a Job."""
        if isinstance(job, Job):
            if fields:
                raise JobError(
                    "a Job already states its fields",
                    hint="build the Job with them, or pass the conversion as text",
                    faults=tuple(f"{key}: given twice" for key in fields),
                )
            return job
        is_path = isinstance(job, os.PathLike) or (
            isinstance(job, str) and job.endswith(".toml") and not any(arrow in job for arrow in _ARROWS)
        )
        if is_path:
            if fields:
                raise JobError(
                    "a job file already states its fields",
                    hint="write them into the file",
                    faults=tuple(f"{key}: given beside the file" for key in fields),
                )
            return cls.read(job)
        unknown = [key for key in fields if key not in JOB_KEYS]
        if unknown:
            raise JobError(
                f"unknown job field{'s' if len(unknown) > 1 else ''}: {', '.join(unknown)}",
                hint="; ".join(unknown_key_hint(key) for key in unknown),
                faults=tuple(f"{key}: unknown field" for key in unknown),
            )
        return cls(job, **fields)


JOB_KEYS = (
    "conversions", "purpose", "medium", "feed", "amount", "concentration", "acid", "base", "bottles",
    "oxidants", "impurities", "excess", "addition", "temperature", "pot_mass", "cooling", "vessel", "room",
    "potable", "weights", "context", "time", "volts",
)  # fmt: skip
"""Every key a job may have, in the order a job file lists them."""


def unknown_key_hint(key: str) -> str:
    """Say which known key an unknown one is nearest to."""
    near = get_close_matches(key, JOB_KEYS, n=1)
    return f"did you mean {near[0]!r}?" if near else f"known keys: {', '.join(JOB_KEYS)}"


def split_shelf(label: str) -> tuple[Quantity | None, str]:
    """Split "250 mL of hydrogen peroxide 30 % w/w" into the amount on the shelf and the label."""
    head, of, tail = label.partition(" of ")
    if not of:
        return None, label
    try:
        return Quantity.parse(head), tail.strip()
    except RedoxlibError:
        return None, label


class _Reader:
    """Reads the fields of one job and collects every fault before anything is raised."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.causes: list[RedoxlibError | None] = []

    def fault(self, key: str, what: str, cause: RedoxlibError | None = None) -> None:
        self.faults.append(f"{key}: {what}")
        self.causes.append(cause)

    def finish(self) -> None:
        if not self.faults:
            return
        first = next((cause for cause in self.causes if cause is not None), None)
        one = len(self.faults) == 1
        if not one:  # there is no caret for several, so each names its text and what would mend it
            self.faults = [
                _told_whole(fault, cause) for fault, cause in zip(self.faults, self.causes, strict=True)
            ]
        raise JobError(
            self.faults[0]
            if one
            else f"{len(self.faults)} faults in the job:\n  " + "\n  ".join(self.faults),
            source=first.source if first is not None and one else None,
            span=first.span if first is not None and one else None,
            hint=first.hint if first is not None and one else None,
            faults=tuple(self.faults),
        ) from first

    def conversions(self, value: Any) -> tuple[Conversion, ...]:
        rows: list[tuple[Any, Any]] = []
        if isinstance(value, (str, Conversion)):
            rows = [(value, None)]
        elif isinstance(value, Sequence):
            pair = len(value) == 2 and isinstance(value[0], str) and not _has_arrow(value[1])
            for item in [value] if pair else value:
                if isinstance(item, (str, Conversion)):
                    rows.append((item, None))
                elif isinstance(item, Sequence) and len(item) == 2:
                    rows.append((item[0], item[1]))
                else:
                    self.fault(
                        "conversions",
                        f"{item!r} is neither a conversion nor (conversion, amount); write feed -> target",
                    )
        else:
            self.fault("conversions", f"{value!r} is not a conversion; write feed -> target")
        if not rows and not self.faults:
            self.fault("conversions", "none given; write feed -> target")
        out = []
        for text, amount in rows:
            if isinstance(text, Conversion):
                out.append(text)
                continue
            if not isinstance(text, str):
                self.fault("conversions", f"{text!r} is not a text")
                continue
            quantity = self.quantity("conversions", amount, ("mol", "g", "mol/L", "g/L"))
            try:
                out.append(Conversion.parse(text, quantity))
            except RedoxlibError as error:
                self.fault("conversions", error.message, error)
        return tuple(out)

    def choice(self, key: str, value: Any, allowed: tuple[str, ...]) -> str:
        if value not in allowed:
            near = get_close_matches(str(value).strip().lower(), allowed, n=1, cutoff=0.55)
            mend = f"; did you mean {near[0]!r}?" if near else ""
            self.fault(key, f"{value!r} is none of {', '.join(allowed)}{mend}")
            return allowed[0]
        return str(value)

    def quantity(
        self, key: str, value: Any, units: tuple[str, ...], *, signed: bool = False
    ) -> Quantity | None:
        if value is None:
            return None
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            self.fault(key, f"{value} has no unit; {_with_unit(key, f'{value}')}")
            return None
        try:
            quantity = value if isinstance(value, Quantity) else Quantity.parse(str(value))
        except RedoxlibError as error:
            self.fault(key, error.message, _hinted(key, error))
            return None
        if not any(_fits(quantity, unit) for unit in units):
            self.fault(key, f"{value} is not in {' or '.join(units)}; {_other_unit(key, quantity)}")
            return None
        if not signed and quantity.value <= 0:
            self.fault(key, f"{value} must be more than zero")
            return None
        return quantity

    def excess(self, value: Any) -> float:
        if isinstance(value, str):
            number = value.strip().removesuffix("%").strip()
            try:
                parsed = float(number) / (100.0 if value.strip().endswith("%") else 1.0)
            except ValueError:
                self.fault("excess", f"{value!r} is not a fraction; write 0.10 or 10 %")
                return 0.1
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            parsed = float(value)
        else:
            self.fault("excess", f"{value!r} is not a fraction; write 0.10 or 10 %")
            return 0.1
        if not 0 <= parsed <= 5:
            self.fault("excess", f"{value} lies outside 0 to 5 (a fraction: 0.10 is 10 % more than needed)")
            return 0.1
        return parsed

    def strings(self, key: str, value: Any) -> tuple[str, ...] | None:
        if value is None:
            return None
        items = [value] if isinstance(value, str) else list(value) if isinstance(value, Iterable) else [value]
        bad = [item for item in items if not isinstance(item, str) or not item.strip()]
        if bad:
            self.fault(key, f"{bad[0]!r} is not a text")
        return tuple(item.strip() for item in items if isinstance(item, str) and item.strip())

    def labels(self, value: Any) -> tuple[str, ...]:
        if isinstance(value, Mapping):
            value = list(value.values())
        labels = self.strings("bottles", value) or ()
        for text in labels:
            self.label("bottles", split_shelf(text)[1])
        return labels

    def label(self, key: str, text: Any) -> None:
        """Read a bottle label once, so that what is wrong with it is told with its key."""
        if not isinstance(text, str) or not text.strip():
            return
        from redoxlib.bottles import read_bottle

        try:
            read_bottle(text)
        except RedoxlibError as error:
            self.fault(key, error.message, error)

    def impurities(self, value: Any) -> tuple[tuple[Species, Quantity], ...]:
        pairs = list(value.items()) if isinstance(value, Mapping) else list(value or ())
        out = []
        for item in pairs:
            if not isinstance(item, (tuple, list)) or len(item) != 2:
                self.fault("impurities", f"{item!r} is not a species with its amount")
                continue
            name, amount = item
            try:
                species = name if isinstance(name, Species) else Species.parse(str(name))
                quantity = amount if isinstance(amount, Quantity) else Quantity.parse(str(amount))
            except RedoxlibError as error:
                self.fault("impurities", error.message, _hinted("impurities", error))
                continue
            if quantity.value <= 0:
                self.fault("impurities", f"{name} = {amount} must be more than zero")
                continue
            out.append((species, quantity))
        return tuple(out)

    def weights(self, value: Any, context: str | None) -> tuple[tuple[str, float], ...]:
        given = dict(value or {})
        named = context if isinstance(context, str) else "balanced"
        base = dict(CONTEXTS.get(named, CONTEXTS["balanced"]))
        for name, weight in given.items():
            if name not in CRITERIA:
                self.fault("weights", f"{name!r} is none of {', '.join(CRITERIA)}")
            elif not isinstance(weight, (int, float)) or isinstance(weight, bool) or not 0 <= weight < 1e6:
                self.fault("weights", f"{name} = {weight!r} is not a number from 0 up")
            else:
                base[name] = float(weight)
        if sum(base.values()) <= 0:
            self.fault("weights", "at least one weight must be more than zero")
            return tuple(CONTEXTS["balanced"].items())
        return tuple((name, base[name]) for name in CRITERIA)

    def medium(self, value: Any, job: Job) -> float:
        if value is None:
            if any(_frees_toxic_gas(c.feed) for c in job.conversions):
                return 11.0
            return 7.0 if job.purpose == "remove" else 0.0
        if isinstance(value, str):
            text = value.strip().lower()
            if text in _MEDIUM_PH:
                return _MEDIUM_PH[text]
            try:
                value = float(text.removeprefix("ph").strip())
            except ValueError:
                point = text.replace(",", ".")
                near = get_close_matches(text, _MEDIUM_PH, n=1, cutoff=0.6)
                mend = f"; did you mean {near[0]!r}?" if near else ""
                if _DECIMAL_COMMA.fullmatch(text):
                    mend = f"; with a decimal point: {point.removeprefix('ph').strip()!r}?"
                self.fault("medium", f"{value!r} is neither acid, neutral, base nor a pH{mend}")
                return 0.0
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not -1 <= value <= 15:
            self.fault("medium", f"pH {value!r} lies outside -1 to 15")
            return 0.0
        return float(value)

    @staticmethod
    def defaults(job: Job) -> Iterable[str]:
        if job.medium is None:
            why = (
                "acid would free a toxic gas from this feed"
                if any(_frees_toxic_gas(c.feed) for c in job.conversions)
                else "the usual water to be treated"
                if job.purpose == "remove"
                else "acid, unit activity"
            )
            yield f"medium: pH {job.ph:g} ({why})"
        if job.amount is None and all(c.amount is None for c in job.conversions):
            water = job.pot_mass or "1 m3"
            yield "amount: 1 mol of feed" if job.purpose == "make" else f"amount: what {water} of water holds"
        if job.concentration is None and job.purpose == "make":
            if _is_solution(job.feed):
                yield "concentration: the feed as it stands in its bottle, no water added"
            else:
                strength = default_concentration(job)
                why = ": well under the 2 g/L of free cyanide the gate allows" if strength < 1 else ""
                yield f"concentration: {strength:g} mol/L of feed in the pot before the oxidant{why}"
        if job.acid is None and job.ph < 7 and (reason := _usual(job, usual_acid)[1]):
            yield f"acid: {acid_label(job)} ({reason})"
        if job.base is None and job.ph >= 7 and (reason := _usual(job, usual_base)[1]):
            yield f"base: {base_label(job)} ({reason})"
        if job.excess == 0.10:
            yield "excess: 10 % of oxidant beyond the stoichiometric amount"
        if job.time is None:
            yield "time: 24 h at most" if job.purpose == "make" else "time: 1 h of contact at most"
        if job.context is not None and job.context not in CONTEXTS:
            yield f"context: {job.context!r} is a circumstance for the gate and sets no weights"
        weights = ", ".join(f"{name} {weight:g}" for name, weight in job.weights)
        yield f"weights: {weights}"


def _told_whole(fault: str, cause: RedoxlibError | None) -> str:
    """A fault with the text it is in and what would mend it, where no caret shows them."""
    if cause is None:
        return fault
    text = f" in {cause.source!r}" if cause.source and cause.source not in fault else ""
    return f"{fault}{text}" + (f"; {cause.hint}" if cause.hint else "")


def _with_unit(key: str, number: str) -> str:
    """How a number is written with a unit of its field: write '25 C' or '25 K'."""
    *first, last = (repr(f"{number} {unit}") for unit in _EXAMPLES.get(key, ("g", "mL", "mol")))
    return f"write {', '.join(first)} or {last}" if first else f"write {last}"


def _hinted(key: str, error: RedoxlibError) -> RedoxlibError:
    """The error about a number without a unit, with the units of its field instead of any."""
    if error.fields.get("unit") != "" or error.source is None or error.span is None:
        return error
    number = error.source[slice(*error.span)].strip()
    return type(error)(error.message, source=error.source, span=error.span, hint=_with_unit(key, number))


def _other_unit(key: str, quantity: Quantity) -> str:
    """What mends a quantity of another kind than its field takes."""
    if key == "pot_mass" and quantity.measures_like("L"):
        litres = quantity.to("L").value
        return f"a mass is wanted: {quantity} of water is {litres:g} kg, so write '{litres:g} kg' or weigh it"
    return _with_unit(key, f"{quantity.value:g}")


def _meant_preset(context: str) -> str:
    """The preset that a context spells in another way; empty where it is one, or is none."""
    if context in CONTEXTS:
        return ""
    plain = re.sub(r"[^a-z]", "", context.lower())
    names = {re.sub(r"[^a-z]", "", name): name for name in CONTEXTS}
    near = get_close_matches(plain, names, n=1, cutoff=0.85)
    return names[near[0]] if near else ""


def _not_a_text(key: str, value: object) -> str:
    if key == "context":
        return (
            f"{value!r} names nothing; leave it out, or write one of the presets ({', '.join(CONTEXTS)}) "
            "or a circumstance such as 'divided cell'"
        )
    return f"{value!r} is not a text"


def acid_label(job: Job) -> str:
    """Label of the acid of the job: the one it names, else the usual one for its product and shelf."""
    return job.acid or _usual(job, usual_acid)[0]


def base_label(job: Job) -> str:
    """Label of the base of the job: the one it names, else the usual one for its product and shelf."""
    return job.base or _usual(job, usual_base)[0]


def _usual(job: Job, choose: Callable[..., tuple[str, str | None]]) -> tuple[str, str | None]:
    salts = [c.target_compound for c in job.conversions if c.target_compound is not None]
    return choose(salts, [split_shelf(text)[1] for text in job.bottles])


def _is_solution(label: str | None) -> bool:
    from redoxlib.bottles import read_bottle

    return label is not None and read_bottle(label).form == "solution"


def default_concentration(job: Job) -> float:
    """Strength of the feed in the pot where the job states none, mol/L."""
    return 0.04 if any(set(c.feed.elements) == {"C", "N"} for c in job.conversions) else 1.0


def _has_arrow(value: Any) -> bool:
    return isinstance(value, str) and any(arrow in value for arrow in _ARROWS)


def _fits(quantity: Quantity, unit: str) -> bool:
    try:
        quantity.to(unit)
    except RedoxlibError:
        return False
    return True


def _frees_toxic_gas(feed: Species) -> bool:
    """Cyanide and sulfide give hydrogen cyanide and hydrogen sulfide in acid."""
    elements = dict(feed.elements)
    if feed.charge == 0:
        elements.pop("H", None)
    elements.pop("H", None)
    return elements in ({"C": 1, "N": 1}, {"S": 1}) and feed.charge < 0
