"""A user's own rows: a TOML file in, tables with these rows before the shipped ones out.

Verbs: read_own_data, own_data_beside.  Sections, keys and an executed example are in docs/own-data.md.

A number is text with its uncertainty and unit (``"-587.0 ± 1.0 kJ/mol"``), every entry names its source, and
every fault is told at once with its line.

May import: errors, quantity, notation, data.
"""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import inf
from pathlib import Path
from typing import Any

from redoxlib.data import Tables, shipped
from redoxlib.errors import RedoxlibError, TableError, unreadable_toml
from redoxlib.notation import Equation, Phase, Species
from redoxlib.quantity import Quantity

__all__ = ["FILE_NAME", "own_data_beside", "read_own_data"]

FILE_NAME = "own-data.toml"
"""Name looked for in the folder of a job file."""

_LIMIT = 1_000_000  # characters; a page of rows, not a database
_Row = dict[str, object]


def own_data_beside(job: str | os.PathLike[str]) -> Path | None:
    """The own-data file in the folder of a job file, or None where there is none."""
    path = Path(job).parent / FILE_NAME
    return path if path.is_file() else None


def read_own_data(path: str | os.PathLike[str], *, tables: Tables | None = None) -> Tables:
    """Read a file of own rows and put them before the shipped ones.

    Parameters
    ----------
    path : path-like
        A TOML file with the sections ``source``, ``species``, ``couple``, ``oxidant``, ``oxidant_reaction``,
        ``bottle``, ``hazard`` and ``gate_rule``, each an array of tables.
    tables : Tables, optional
        What the rows are put before; the shipped tables unless given.

    Returns
    -------
    Tables
        To be handed to any verb as ``tables=``.  Own values are the chosen ones unless the entry says
        ``chosen = false``.

    Raises
    ------
    TableError
        For a file that cannot be read, or with every fault of every entry, each with file, line and key.
    """
    name = os.fspath(path)
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:  # ValueError: no UTF-8, or a NUL in the name
        raise TableError(f"{name} cannot be read: {error}", faults=(f"{name}: {error}",)) from error
    if len(text) > _LIMIT:
        raise TableError(f"{name} has more than {_LIMIT} characters", faults=(f"{name}: too long",))
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        message, source, span, hint = unreadable_toml(Path(name).name, text, error)
        raise TableError(message, source=source, span=span, hint=hint, faults=(message,)) from None
    return _Reader(Path(name).name, tables or shipped(), _lines(text), text.splitlines()).read(raw)


_HEADER = re.compile(r"\s*\[\[?\s*([A-Za-z_]\w*)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"\s*([A-Za-z_]\w*)\s*=")

_Lines = Mapping[tuple[str, int, str], int]


def _lines(text: str) -> _Lines:
    """Line of each key by (section, number of the entry, key); the header itself has the key ``""``."""
    found: dict[tuple[str, int, str], int] = {}
    counts: dict[str, int] = {}
    section, inside_text = "", False
    for number, line in enumerate(text.splitlines(), 1):
        quotes = line.count('"""') + line.count("'''")
        if inside_text:
            inside_text = quotes % 2 == 0
            continue
        inside_text = quotes % 2 == 1
        if header := _HEADER.match(line):
            section = header[1]
            counts[section] = counts.get(section, 0) + 1
            found[section, counts[section], ""] = number
        elif key := _KEY.match(line):
            found.setdefault((section, counts.get(section, 0), key[1]), number)
    return found


@dataclass(frozen=True, slots=True)
class _Section:
    """One kind of entry: which table it fills, which keys it needs and which it may have."""

    table: str
    needs: tuple[str, ...]
    may: Mapping[str, object]
    values: Mapping[str, str] = field(default_factory=dict)
    """Keys that hold a number, with the unit the table wants; each becomes a row."""
    one_of: bool = True
    """Whether at least one of the values must be there."""


_VALUED = {"locator": "", "basis": "published", "note": "", "chosen": True}
_SECTIONS: dict[str, _Section] = {
    "source": _Section("sources", ("key", "citation", "kind"), {"note": ""}),
    "species": _Section(
        "formation",
        ("species", "source"),
        {**_VALUED, "family": ""},
        {"dfH": "kJ/mol", "dfG": "kJ/mol", "S": "J/(mol K)", "Cp": "J/(mol K)"},
    ),
    "couple": _Section(
        "couples",
        ("couple", "half_reaction", "source"),
        {**_VALUED, "medium": "any", "conditions": ""},
        {"E0": "V", "E0_formal": "V", "dEdT": "mV/K"},
    ),
    "oxidant": _Section("oxidants", ("key", "name", "formula", "kind", "source"), {"cas": "", "note": ""}),
    "oxidant_reaction": _Section(
        "oxidant_reactions",
        ("oxidant", "half_reaction", "active", "from_bottle", "source"),
        {"ph_min": -1, "ph_max": 15, "note": ""},
    ),
    "bottle": _Section(
        "bottles",
        ("bottle", "label", "solute", "source"),
        {"basis": "published", "note": ""},
        {"mass_fraction": "% w/w", "density": "g/mL"},
    ),
    "hazard": _Section(
        "hazards",
        ("substance", "formula", "codes", "source"),
        {"cas": "", "conditions": "", "confidence": "own", "chosen": True, "note": ""},
    ),
    "gate_rule": _Section(
        "own_rules",
        ("rule", "severity", "text", "safer", "source"),
        {
            "meets": (),
            "any_of": (),
            "ph_below": "",
            "ph_above": "",
            "temperature_above": "",
            "strength_above": "",
            "concentration_above": "",
            "amount_above": "",
            "vessel": "",
        },
    ),
}
_LISTS = frozenset({"codes", "meets", "any_of"})
_RULE_NUMBERS: Mapping[str, tuple[str, str, float]] = {
    "temperature_above": ("temperature_above_C", "K", 273.15),
    "strength_above": ("strength_above", "1", 0.0),
    "concentration_above": ("concentration_above_mol_L", "mol/L", 0.0),
    "amount_above": ("amount_above_mol", "mol", 0.0),
}
"""Keys of a gate rule that hold a quantity: column, unit, and what is taken off (kelvin to Celsius)."""
_SHIPPED_RULE = re.compile(r"[GU][0-9]+$")
_NAME_OF_VALUE = {"formation": "property", "couples": "quantity", "bottles": "fact"}


@dataclass(slots=True)
class _Reader:
    """Turns entries into rows, remembering where each came from."""

    name: str
    tables: Tables
    lines: _Lines
    text: list[str]
    faults: list[tuple[int, str]] = field(default_factory=list)
    rows: dict[str, list[_Row]] = field(default_factory=dict)
    origins: dict[tuple[str, int], tuple[str, int, str]] = field(default_factory=dict)

    def read(self, raw: Mapping[str, Any]) -> Tables:
        for section, entries in raw.items():
            if section not in _SECTIONS:
                near = get_close_matches(section, _SECTIONS, 1)
                hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(_SECTIONS)}"
                self.fault(
                    section, 1 if (section, 1, "") in self.lines else 0, "", f"unknown section; {hint}"
                )
            elif not isinstance(entries, list) or not all(isinstance(e, dict) for e in entries):
                self.fault(section, 1, "", f"must be written [[{section}]], once for each entry")
            else:
                for number, entry in enumerate(entries, 1):
                    self.entry(section, number, entry)
        made = self.tables.with_rows(**self.rows)
        self.check(made)
        if self.faults:
            told = tuple(text for _, text in sorted(set(self.faults)))
            head = "1 fault" if len(told) == 1 else f"{len(told)} faults"
            message = f"{head} in {self.name}:\n" + "\n".join(f"  {t}" for t in told)
            source, span = self.shown() if len(told) == 1 else (None, None)
            raise TableError(message, source=source, span=span, faults=told)
        return made

    def shown(self) -> tuple[str | None, tuple[int, int] | None]:
        """The line of the only fault with its key, where that is unknown, else with its value."""
        line, fault = self.faults[0]
        if not 0 < line <= len(self.text):
            return None, None
        row = self.text[line - 1].rstrip()
        if ": unknown key; " in fault:
            return row, (len(row) - len(row.lstrip()), len(row.partition("=")[0].rstrip()))
        start = row.find("=") + 1
        start += len(row[start:]) - len(row[start:].lstrip())
        return (row, (start, len(row))) if start < len(row) else (None, None)

    def fault(self, section: str, number: int, key: str, what: str) -> None:
        line = self.lines.get((section, number, key)) or self.lines.get((section, number, "")) or 0
        if not section or (not line and not number):
            line = self.lines.get(("", 0, section), 0)
        label = f"{section}.{key}" if key else section
        self.faults.append((line, f"{self.name}:{line} {label}: {what}"))

    def entry(self, section: str, number: int, entry: Mapping[str, Any]) -> None:
        spec = _SECTIONS[section]
        known = {*spec.needs, *spec.may, *spec.values}
        before = len(self.faults)
        for key, given in entry.items():
            if key not in known:
                same = [name for name in known if name.casefold() == key.casefold()]
                near = same or get_close_matches(key, known, 1)
                hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(sorted(known))}"
                self.fault(section, number, key, f"unknown key; {hint}")
            elif key in _LISTS:
                if not isinstance(given, str) and not _texts(given):
                    self.fault(section, number, key, "must be a text, or a list of texts")
            elif not isinstance(given, str | int | float | bool):
                self.fault(section, number, key, "must be one text or number")
        for key in spec.needs:
            if not entry.get(key):
                why = "every entry names its source" if key == "source" else "missing"
                self.fault(section, number, key, why)
        if spec.values and not any(key in entry for key in spec.values):
            self.fault(section, number, "", f"holds no number; give {', '.join(spec.values)}")
        if len(self.faults) > before:
            return
        plain: _Row = {key: entry.get(key, default) for key, default in spec.may.items()}
        plain |= {key: entry[key] for key in spec.needs}
        check = _CHECKS.get(section)
        for key, what in check(plain, self.tables) if check is not None else ():
            self.fault(section, number, key, what)
        if len(self.faults) > before:
            return
        for key, row in self.expand(section, number, spec, plain, entry):
            group = self.rows.setdefault(spec.table, [])
            group.append(row)
            self.origins[spec.table, len(group)] = (section, number, key)

    def expand(
        self, section: str, number: int, spec: _Section, plain: _Row, entry: Mapping[str, Any]
    ) -> Iterator[tuple[str, _Row]]:
        """One row for each number of the entry, or one for the entry."""
        if section == "hazard":
            codes = plain.pop("codes")
            for code in [codes] if isinstance(codes, str) else list(codes):  # type: ignore[call-overload]
                yield "codes", {**plain, "code": code}
        elif not spec.values:
            yield "", plain
        for key, unit in spec.values.items():
            if key not in entry:
                continue
            try:
                q = _number(entry[key], unit)
            except RedoxlibError as error:
                what = str(error).splitlines()[0]
                if unit not in what:
                    what += f"; write value ± uncertainty and the unit {unit}"
                self.fault(section, number, key, what)
                continue
            low, high = _POSSIBLE.get(key, (-inf, inf))
            if not low < q.value <= high:
                what = f"{entry[key]!r} cannot be: {key} lies above {low:g} and is at most {high:g} {unit}"
                self.fault(section, number, key, what)
                continue
            # A bottle's strength is kept as a share of one in the table.
            share = 0.01 if unit == "% w/w" else 1.0
            yield (
                key,
                {
                    **plain,
                    _NAME_OF_VALUE[spec.table]: key,
                    "value": q.value * share,
                    "unit": "1" if unit == "% w/w" else unit,
                    "uncertainty": (q.uncertainty or 0.0) * share,
                },
            )

    def check(self, made: Tables) -> None:
        """Read every table that got rows, and put the faults found there back to their lines."""
        for table in dict.fromkeys(("sources", *self.rows)):
            if table != "sources" and any(text.startswith("own sources:") for _, text in self.faults):
                continue
            try:
                getattr(made, table)
            except TableError as error:
                for fault in error.faults:
                    self.put_back(fault)
        if not self.faults:
            for number, row in enumerate(self.rows.get("oxidant_reactions", ()), 1):
                if row["oxidant"] not in made.oxidants:
                    where = self.origins["oxidant_reactions", number]
                    self.fault(
                        where[0], where[1], "oxidant", f"no oxidant {row['oxidant']!r}; add [[oxidant]]"
                    )

    def put_back(self, fault: str) -> None:
        match = re.match(r"own (\w+):(\d+) (\w+): (.*)", fault, re.DOTALL)
        if match is None:
            self.faults.append((0, fault))
            return
        section, number, key = self.origins[match[1], int(match[2])]
        column = match[3]
        named = column if (section, number, column) in self.lines else key
        self.fault(section, number, named, match[4])


_POSSIBLE = {
    "mass_fraction": (0.0, 100.0),
    "density": (0.0, 25.0),
    "E0": (-5.0, 5.0),
    "E0_formal": (-5.0, 5.0),
}
"""Above the first and at most the second, in the units of the sections."""


def _texts(given: object) -> bool:
    return isinstance(given, list) and all(isinstance(item, str) for item in given)


def _number(given: object, unit: str) -> Quantity:
    if not isinstance(given, str):
        raise TableError(f'{given!r} has no unit; write it as text, such as "{given} ± 0.1 {unit}"')
    q = Quantity.parse(given)
    if q.uncertainty is None:
        raise TableError(f"{given!r} has no uncertainty; write value ± uncertainty and the unit {unit}")
    return q.to(unit)


_Faults = Iterator[tuple[str, str]]


def _species(row: _Row, tables: Tables) -> _Faults:
    """Spell the species as the tables do, so that its rows join those already there."""
    try:
        species = Species.parse(str(row["species"]))
    except RedoxlibError as error:
        yield "species", str(error).splitlines()[0]
        return
    if species.phase is Phase.UNSTATED and species.charge:
        species = species.with_phase(Phase.AQUEOUS)
    if species.phase is Phase.UNSTATED:
        yield "species", f"{species} has no phase; write {species}(s), (l), (g) or (aq)"
    row["species"] = tables.formation_keys.get(species, str(species))
    # Rows of one's own source are a family of their own unless the entry says which they fit.
    row["family"] = row["family"] or row["source"]


def _couple(row: _Row, tables: Tables) -> _Faults:
    text = str(row["half_reaction"])
    half, faults = _equation(text)
    if faults or half is None:
        yield "half_reaction", faults
        return
    if not any(not s.elements for _, s in half.reactants):
        yield "half_reaction", "has no electrons on the left; write it as a reduction"
    shipped_couple = tables.couples.get(str(row["couple"]))
    if shipped_couple is not None:
        if str(Equation.parse(shipped_couple.half_reaction).reduced()) != str(half.reduced()):
            yield "couple", f"is {shipped_couple.half_reaction} in the tables; choose another name"
        row["half_reaction"] = shipped_couple.half_reaction


def _equation(text: str) -> tuple[Equation | None, str]:
    try:
        equation = Equation.parse(text)
    except RedoxlibError as error:
        return None, str(error).splitlines()[0]
    left = {name: str(n) for name, n in equation.residual().items() if n}
    return equation, f"does not balance, left minus right is {left}" if left else ""


def _oxidant_reaction(row: _Row, tables: Tables) -> _Faults:
    del tables
    half, fault = _equation(str(row["half_reaction"]))
    if fault:
        yield "half_reaction", fault
    _, fault = _equation(str(row["from_bottle"]))
    if fault:
        yield "from_bottle", fault
    try:
        active = Species.parse(str(row["active"]))
    except RedoxlibError as error:
        yield "active", str(error).splitlines()[0]
        return
    bare = active.with_phase(Phase.UNSTATED)
    if half is not None and bare not in {s.with_phase(Phase.UNSTATED) for _, s in half.reactants}:
        yield "active", f"{active} is not on the left of the half-reaction"


def _formula(key: str) -> Callable[[_Row, Tables], _Faults]:
    def check(row: _Row, tables: Tables) -> _Faults:
        del tables
        try:
            species = Species.parse(str(row[key]))
        except RedoxlibError as error:
            yield key, str(error).splitlines()[0]
            return
        row[key] = str(species.with_phase(Phase.UNSTATED))

    return check


def _gate_rule(row: _Row, tables: Tables) -> _Faults:
    """A rule of one's own may only add a stop or a caution, and is keyed to what is in the pot."""
    del tables
    if _SHIPPED_RULE.match(str(row["rule"])):
        yield "rule", f"{row['rule']} is the id of a shipped rule; a rule of your own stands beside those"
    if row["severity"] not in ("stop", "caution"):
        yield "severity", f"{row['severity']!r} is neither stop nor caution: a rule of your own only adds"
    for key in ("meets", "any_of"):
        given = row[key]
        listed = [given] if isinstance(given, str) else list(given)  # type: ignore[call-overload]
        spelt = []
        for text in listed:
            try:
                spelt.append(str(Species.parse(text).with_phase(Phase.UNSTATED)))
            except RedoxlibError as error:
                yield key, str(error).splitlines()[0]
        row[key] = "; ".join(spelt)
    if not row["meets"] and not row["any_of"]:
        yield "", "names no species; give meets (all of them) or any_of (at least one)"
    for key in ("ph_below", "ph_above"):
        if row[key] != "" and (isinstance(row[key], bool) or not isinstance(row[key], int | float)):
            yield key, f"{row[key]!r} is not a number"
    for key, (column, unit, less) in _RULE_NUMBERS.items():
        given = row.pop(key)
        row[column] = ""
        if given == "":
            continue
        if not isinstance(given, str):
            yield key, f"{given!r} has no unit; write it as text, such as {_RULE_EXAMPLES[key]!r}"
            continue
        try:
            # A mass fraction is a number of one's own kind: no other share may stand for it.
            q = Quantity.parse(given)
            if unit == "1":
                row[column] = q.to("% w/w").value / 100
            else:
                row[column] = q.to(unit).value - less
        except RedoxlibError as error:
            yield key, str(error).splitlines()[0]
    if row["vessel"] not in ("", "open", "closed"):
        yield "vessel", f"{row['vessel']!r} is neither open nor closed"


_RULE_EXAMPLES = {
    "temperature_above": "40 C",
    "strength_above": "8 % w/w",
    "concentration_above": "0.1 mol/L",
    "amount_above": "0.5 mol",
}

_CHECKS: Mapping[str, Callable[[_Row, Tables], _Faults]] = {
    "species": _species,
    "couple": _couple,
    "oxidant": _formula("formula"),
    "oxidant_reaction": _oxidant_reaction,
    "bottle": _formula("solute"),
    "hazard": _formula("formula"),
    "gate_rule": _gate_rule,
}
