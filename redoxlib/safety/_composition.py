"""What a species is, for the gate: a set of kinds read from its composition, charge and isomer.

The spelling is never consulted.  A salt is split into ions by counting atoms and charge, so that
ammonium bromide is ammonium and bromide however it was typed.  A bare formula that several
isomers share is read as the most dangerous of them.

May import: notation, and the kinds of this package.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files
from itertools import combinations
from types import MappingProxyType

from redoxlib.notation import Phase, Species
from redoxlib.safety._kinds import Kind

__all__ = ["kind_source", "kinds_of"]

K = Kind
Composition = tuple[tuple[str, int], ...]
_MOST_PROTONS = 6
_ATOM = re.compile(r"([A-Z][a-z]?)([0-9]*)")


def _atoms(text: str) -> Composition:
    counts: dict[str, int] = {}
    for symbol, digits in _ATOM.findall(text):
        counts[symbol] = counts.get(symbol, 0) + int(digits or "1")
    return tuple(sorted(counts.items()))


@dataclass(frozen=True, slots=True)
class _Entry:
    """One row of the table of species: what an ion, a molecule or an isomer counts as."""

    formula: str
    charge: int
    alkaline_only: bool
    isomers: frozenset[str]
    kinds: frozenset[Kind]


@cache
def _table() -> Mapping[str, tuple[_Entry, ...]]:
    found: dict[str, list[_Entry]] = {}
    text = (files("redoxlib.data") / "gate_species.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        entry = _Entry(
            formula=row["formula"],
            charge=int(row["charge"]),
            # These anions exist only beside alkali and alkaline-earth metals; elsewhere the same
            # atoms are plain oxide, sulfide or carbide (MnO2 is no manganese peroxide).
            alkaline_only=row["beside"] == "alkaline",
            isomers=frozenset(row["isomers"].split()),
            kinds=frozenset(Kind[name] for name in row["kinds"].split(";")),
        )
        found.setdefault(row["group"], []).append(entry)
    return MappingProxyType({group: tuple(entries) for group, entries in found.items()})


@cache
def _ions() -> Mapping[tuple[str, int], _Entry]:
    return {(entry.formula, entry.charge): entry for entry in _table()["ion"]}


@cache
def _cations() -> Mapping[tuple[str, int], frozenset[Kind]]:
    return {(entry.formula, entry.charge): entry.kinds for entry in _table()["cation"]}


@cache
def _molecules() -> Mapping[Composition, frozenset[Kind]]:
    return {_atoms(entry.formula): entry.kinds for entry in _table()["molecule"]}


@cache
def _organics() -> Mapping[Composition, tuple[_Entry, ...]]:
    # The first entry of a composition is what a bare formula is taken for.
    found: dict[Composition, list[_Entry]] = {}
    for entry in _table()["organic"]:
        found.setdefault(_atoms(entry.formula), []).append(entry)
    return {composition: tuple(entries) for composition, entries in found.items()}


_ALKALI = frozenset({"Li", "Na", "K", "Rb", "Cs"})
_EARTHS = frozenset({"Be", "Mg", "Ca", "Sr", "Ba", "Ra"})
_FIXED: Mapping[str, int] = {
    **dict.fromkeys(_ALKALI, 1),
    **dict.fromkeys(_EARTHS | {"Zn", "Cd"}, 2),
    **dict.fromkeys(("Al", "Ga", "Sc", "Y", "La", "Nd", "Gd", "Lu", "In"), 3),
}
_VARIABLE: Mapping[str, tuple[int, ...]] = {
    "Fe": (2, 3), "Cu": (2, 1, 3), "Mn": (2, 3, 4), "Cr": (3, 2), "Co": (2, 3), "Ni": (2, 3), "Ag": (1, 2, 3),
    "Hg": (2, 1), "Pb": (2, 4), "Sn": (2, 4), "Ce": (3, 4), "Ti": (4, 3), "V": (3, 2, 4, 5), "Bi": (3, 5),
    "Sb": (3, 5), "As": (3, 5), "Au": (3, 1), "Pt": (2, 4), "Pd": (2, 4), "Tl": (1, 3), "Zr": (4,),
    "Hf": (4,), "Mo": (4, 6), "W": (6,), "Ge": (4, 2), "Si": (4,), "U": (4, 6), "Th": (4,), "Ru": (3, 4),
    "Rh": (3,), "Ir": (3, 4), "Os": (4,), "Nb": (5,), "Ta": (5,), "Re": (4,), "Pr": (3,), "Sm": (3,),
    "Eu": (3, 2), "Tb": (3,), "Dy": (3,), "Ho": (3,), "Er": (3,), "Tm": (3,), "Yb": (3,),
}  # fmt: skip
_METALS = frozenset(_FIXED) | frozenset(_VARIABLE)
_METALLOIDS = frozenset({"As", "Si", "Ge", "Sb"})
_STRONG_ANIONS = frozenset(
    {"Cl", "Br", "I", "NO3", "ClO4", "ClO3", "BrO3", "SO4", "HSO4", "MnO4", "S2O8", "HSO5", "Cr2O7", "CrO4",
     "BF4", "PF6", "SiF6", "IO3", "IO4", "S2O6", "F"}
)  # fmt: skip
_HYPOHALITES = frozenset({"ClO", "BrO", "IO"})
# Iron, cobalt and chromium hold cyanide so firmly that alkaline chlorination leaves it alone.
_FIRM_CYANIDES = frozenset({"Fe", "Co", "Cr"})
_COMPLEXING = _FIRM_CYANIDES | {"Ni", "Cu", "Zn", "Cd", "Ag", "Au", "Hg", "Mn", "Pt", "Pd"}
_ACID_PROOF_SULFIDES = frozenset({"Cu", "Ag", "Hg"})


_NOT_AMINES = frozenset({_atoms("C2H3N"), _atoms("C5H5N"), _atoms("C3H3N3O3")})
_HALOGENS = frozenset({"F", "Cl", "Br", "I"})


@cache
def _anions() -> tuple[tuple[_Entry, Mapping[str, int]], ...]:
    found = [(entry, dict(_atoms(entry.formula))) for entry in _ions().values()]
    # Larger first: dichromate before anything it contains.
    return tuple(sorted(found, key=lambda row: -sum(row[1].values())))


def _minus(atoms: Mapping[str, int], part: Mapping[str, int], times: int) -> dict[str, int] | None:
    left = dict(atoms)
    for symbol, count in part.items():
        remains = left.get(symbol, 0) - count * times
        if remains < 0:
            return None
        if remains:
            left[symbol] = remains
        else:
            left.pop(symbol, None)
    return left


def _metal_charges(metals: list[tuple[str, int]], total: int) -> list[tuple[str, int]] | None:
    """Give every metal one charge so that all add up to *total*; a mixed one gets both its charges."""
    open_metals = []
    found = []
    for symbol, count in metals:
        if symbol in _FIXED:
            total -= _FIXED[symbol] * count
            found.append((symbol, _FIXED[symbol]))
        else:
            open_metals.append((symbol, count))
    if not open_metals:
        return found if total == 0 else None
    (symbol, count), *others = open_metals
    if not others:
        each = Fraction(total, count)
        allowed = _VARIABLE[symbol]
        if each.denominator == 1:
            return [*found, (symbol, int(each))] if int(each) in allowed else None
        low, high = int(each), int(each) + 1
        return [*found, (symbol, low), (symbol, high)] if low in allowed and high in allowed else None
    for charge in _VARIABLE[symbol]:
        tail = _metal_charges(others, total - charge * count)
        if tail is not None:
            return [*found, (symbol, charge), *tail]
    return None


@dataclass(frozen=True, slots=True)
class _Parts:
    """One way to read a composition as a salt, an acid or a complex."""

    anions: tuple[_Entry, ...]
    metals: tuple[tuple[str, int], ...]
    ammonium: int
    ammonia: int
    protons: int
    peroxide: Fraction
    water: int = 0
    hydrazine: bool = False


def _rest(left: Mapping[str, int], charge: int, anions: tuple[_Entry, ...], acid: bool) -> _Parts | None:
    """Read what the anions leave over: metals, ammonium, ammonia, acid protons, water, peroxide."""
    left = dict(left)
    nitrogen, hydrogen, oxygen = left.pop("N", 0), left.pop("H", 0), left.pop("O", 0)
    metals = sorted(left.items())
    alkaline = all(symbol in _ALKALI | _EARTHS for symbol, _ in metals)
    if any(symbol not in _METALS for symbol, _ in metals):
        return None
    if nitrogen and nitrogen % 2 == 0 and 5 * nitrogen <= 2 * hydrogen < 6 * nitrogen + 2 and not oxygen:
        # N2H5^+ or N2H6^2+, which hold less hydrogen than ammonia would need
        charges = _metal_charges(metals, charge - nitrogen // 2 - (hydrogen - 5 * nitrogen // 2))
        if charges is not None:
            return _Parts(anions, tuple(charges), 0, 0, 0, Fraction(0), hydrazine=True)
    if nitrogen and oxygen >= nitrogen and hydrogen - 4 * nitrogen == 2 * (oxygen - nitrogen):
        # NH3OH^+ and perhaps water; no count of ammonium and water comes to the same
        charges = _metal_charges(metals, charge - nitrogen)
        if charges is not None:
            return _Parts(anions, tuple(charges), 0, 0, 0, Fraction(0), hydrazine=True)
    for ammonium in range(nitrogen, -1, -1):
        spare = hydrogen - 4 * ammonium - 3 * (nitrogen - ammonium)
        if spare < 0:
            continue
        for protons in range(min(spare, _MOST_PROTONS) + 1 if acid else 1):
            watery = spare - protons
            twice = 2 * oxygen - watery  # the peroxide, doubled to stay whole: most readings end here
            if twice < 0 or watery < oxygen or (twice and (nitrogen or not alkaline)):
                continue
            charges = _metal_charges(metals, charge - ammonium - protons)
            if charges is not None:
                peroxide, ammonia = Fraction(twice, 2), nitrogen - ammonium
                return _Parts(anions, tuple(charges), ammonium, ammonia, protons, peroxide, watery - oxygen)
    return None


def _splits(atoms: Mapping[str, int], charge: int) -> Iterator[_Parts]:
    metals = frozenset(atoms) & _METALS
    alkaline = bool(metals) and metals <= (_ALKALI | _EARTHS)
    usable = [
        (entry, part)
        for entry, part in _anions()
        if (alkaline or not entry.alkaline_only) and all(atoms.get(s, 0) >= n for s, n in part.items())
    ]
    if charge > 0 and metals:
        # the cation of a complex alone: its ammonia and its water
        alone = _rest(atoms, charge, (), False)
        if alone is not None and not alone.ammonium:
            yield alone
    for many in (1, 2, 3):
        for chosen in combinations(usable, many):
            yield from _with(chosen, atoms, charge, ())


def _with(
    chosen: tuple[tuple[_Entry, Mapping[str, int]], ...],
    atoms: Mapping[str, int],
    charge: int,
    taken: tuple[_Entry, ...],
) -> Iterator[_Parts]:
    (entry, part), *others = chosen
    most = min(atoms.get(symbol, 0) // count for symbol, count in part.items())
    for times in range(most, 0, -1):
        left = _minus(atoms, part, times)
        if left is None:
            continue
        rest = charge - entry.charge * times
        if others:
            yield from _with(tuple(others), left, rest, (*taken, entry))
            continue
        found = _rest(left, rest, (*taken, entry), False) or _rest(left, rest, (*taken, entry), True)
        if found is not None:
            yield found


def _binds_ammonia(parts: _Parts) -> bool:
    return not {symbol for symbol, _ in parts.metals} <= (_ALKALI | _EARTHS)


def _is_ammine(parts: _Parts) -> bool:
    """Whether these parts are an ammine complex in disguise.

    A nitride keeps neither ammonium nor acid protons beside it, and the azides of metals that bind
    ammonia are dry: three waters for each azide are the atoms of an ammine nitrate.
    """
    names = {entry.formula for entry in parts.anions}
    if "N" in names and (parts.ammonium or parts.ammonia or parts.protons):
        return True
    return "N3" in names and _binds_ammonia(parts) and parts.water >= 3


def _is_amine(parts: _Parts) -> bool:
    """Whether these parts are an organic molecule in disguise.

    An ammonium salt of an organic acid has one kind of anion, and there is no ammonium acetylide: its
    atoms are those of ethylenediamine.  Amino acids and hexamine have the atoms of ammonium and two
    anions, guanidine those of hydrazinium cyanide.
    """
    if parts.metals:
        return False
    kinds = frozenset().union(*(entry.kinds for entry in parts.anions))
    return len(parts.anions) > 1 or K.ACETYLIDE in kinds or (parts.hydrazine and K.CYANIDE in kinds)


@lru_cache(maxsize=2048)
def _salt(composition: Composition, charge: int) -> frozenset[Kind] | None:
    """Kinds of the ions of a salt, an acid or a complex, or None when it is none of these."""
    atoms = dict(composition)
    if len(atoms) == 1 and next(iter(atoms)) in _METALS:
        if charge <= 0 or charge % next(iter(atoms.values())):
            return None
        symbol, count = next(iter(atoms.items()))
        return _cations().get((symbol, charge // count), frozenset()) | {K.INERT}
    for entry, part in _anions():
        if part == atoms and entry.charge == charge:
            return entry.kinds | {K.INERT}
    # An organic molecule is no heap of acids (glucose counts like three acetic acids).
    organic = "C" in atoms and "H" in atoms
    best: _Parts | None = None
    also: frozenset[Kind] = frozenset()
    cost = 0
    for parts in _splits(atoms, charge):
        if organic and not (parts.metals or parts.ammonium or parts.hydrazine):
            continue
        if organic and _is_amine(parts):
            continue
        hypohalite = any(entry.formula in _HYPOHALITES for entry in parts.anions)
        if parts.ammonium and hypohalite and not parts.metals:
            also = _kinds_of_parts(
                parts
            )  # NH3OHCl has the atoms of ammonium hypochlorite: both dangers count
            continue
        if _is_ammine(parts):
            continue
        ammonia = bool(parts.ammonia) if _binds_ammonia(parts) else parts.ammonia
        price = 4 * len(parts.anions) + 3 * bool(parts.peroxide) + parts.protons + 2 * ammonia
        if not {symbol for symbol, _ in parts.metals} <= (_ALKALI | _EARTHS):
            # Cu2(OH)3Cl is a basic chloride and no hypochlorite, Cu4(OH)6SO4 no peroxymonosulfate.
            price += hypohalite or any(entry.formula == "HSO5" for entry in parts.anions)
        if best is None or price < cost:
            best, cost = parts, price
        if price <= 4:
            break
    return None if best is None else _kinds_of_parts(best) | also


def _kinds_of_parts(parts: _Parts) -> frozenset[Kind]:
    kinds: set[Kind] = {K.INERT}
    for entry in parts.anions:
        kinds |= entry.kinds
    names = {entry.formula for entry in parts.anions}
    ammonium, ammonia, acid, peroxide = parts.ammonium, parts.ammonia, parts.protons, parts.peroxide
    metals = parts.metals
    symbols = {symbol for symbol, _ in metals}
    for metal in metals:
        kinds |= _cations().get(metal, frozenset())
    if ammonium:
        kinds.add(K.AMMONIA if "HO" in names else K.AMMONIUM)
    if ammonia:
        kinds.add(K.AMMONIA)
    if parts.hydrazine:
        kinds.add(K.HYDRAZINE)
    if peroxide:
        kinds.add(K.PEROXIDE)
    if acid:
        kinds.add(K.STRONG_ACID if any(name in _STRONG_ANIONS for name in names) else K.WEAK_ACID)
    if "O" in names and symbols <= (_ALKALI | _EARTHS):
        kinds.add(K.BASE)
    if ("HO" in names or "O" in names) and not symbols <= (_ALKALI | _EARTHS):
        # a hydroxide or oxide that does not dissolve neither hydrolyses to acid nor is a strong base
        kinds -= {K.HARD_ACID}
        if "HO" in names and not ammonia:
            kinds -= {K.BASE}
    if K.HYPOCHLORITE in kinds and "Ca" in symbols:
        kinds.add(K.CALCIUM_HYPOCHLORITE)
    if K.CYANIDE in kinds and symbols & _COMPLEXING:
        kinds.add(K.COMPLEX_CYANIDE)
        kinds -= {
            K.IRON2, K.IRON3, K.COPPER2, K.HARD_ACID, K.MANGANESE2, K.CHROMIUM3, K.SILVER, K.GOLD, K.MERCURY,
        }  # fmt: skip
        if symbols & _FIRM_CYANIDES:
            kinds.discard(K.CYANIDE)
    if K.SULFIDE in kinds and symbols and symbols <= _ACID_PROOF_SULFIDES:
        kinds.discard(K.SULFIDE)
        kinds.add(K.UNKNOWN)
    if (K.AZIDE in kinds and K.HEAVY_METAL in kinds) or (
        K.ACETYLIDE in kinds and symbols & {"Ag", "Cu", "Hg"}
    ):
        kinds.add(K.ENERGETIC)
    if kinds & {K.AMMONIUM, K.AMMONIA, K.HYDRAZINE} and kinds & {K.PERCHLORATE, K.CHLORATE, K.BROMATE}:
        kinds.add(K.ENERGETIC)
    return frozenset(kinds)


_FULMINATING = {"Ag": K.SILVER, "Au": K.GOLD, "Hg": K.MERCURY}


def _element(symbol: str) -> frozenset[Kind] | None:
    if symbol not in _METALS:
        return None
    kinds = {K.METAL}
    if symbol == "Cu":
        kinds.add(K.COPPER)
    if symbol in _ALKALI | {"Ca", "Sr", "Ba"}:
        kinds.add(K.WATER_REACTIVE)
    if symbol in _FULMINATING:
        kinds.add(_FULMINATING[symbol])
    if symbol in _ALKALI | {"Mg", "Ca", "Al", "Zn", "Ti", "Zr"}:
        kinds.add(K.REACTIVE_METAL)
    return frozenset(kinds)


def _organic(composition: Composition, isomer: str | None) -> frozenset[Kind]:
    entries = _organics().get(composition, ())
    name = isomer.lower().replace(" ", "-") if isomer else None
    for entry in entries:
        if name is None or name in entry.isomers or not entry.isomers:
            return entry.kinds
    atoms = dict(composition)
    kinds = {K.ORGANIC, K.UNLISTED_ORGANIC}
    if set(atoms) == {"C", "H"}:
        kinds.add(K.FLAMMABLE)
    if "N" in atoms:
        nitrogen, oxygen = atoms["N"], atoms.get("O", 0)
        energetic = nitrogen >= 3 and oxygen >= nitrogen and "Cl" not in atoms
        if atoms.keys() & {"Cl", "Br"} and oxygen >= 3 and (nitrogen < 3 or oxygen > nitrogen):
            # Chlorates and perchlorates of amines; hydrochlorides of some amino acids have the same atoms.
            energetic = True
        if (energetic and composition not in _NOT_AMINES) or (
            name and ("nitro" in name or "nitrate" in name)
        ):
            kinds.add(K.ENERGETIC)
        elif composition not in _NOT_AMINES:
            kinds.add(K.AMINE)
    if name:
        if "peroxide" in name or "peroxy" in name or "peracid" in name or name.startswith("per"):
            kinds |= {K.PERACID}
        if name.endswith("ol") and not name.endswith("thiol"):
            kinds |= {K.ALCOHOL, K.FLAMMABLE}
            if re.search(r"-[2-9]-ol$|cyclo\w+ol$", name):
                kinds.add(K.SECONDARY_ALCOHOL)
            if name.endswith("-2-ol"):
                kinds.add(K.HALOFORM)
        if name.endswith("one"):
            kinds |= {K.KETONE, K.FLAMMABLE}
            if name.endswith("-2-one"):
                kinds.add(K.HALOFORM)
        if name.endswith(("al", "aldehyde")):
            kinds |= {K.ALDEHYDE, K.FLAMMABLE}
        if name.endswith("acid"):
            kinds |= {K.CARBOXYLIC, K.WEAK_ACID}
        if name.endswith(("ether", "ane", "-acetate", "-formate", "-carbonate", "thiol", "sulfide")):
            kinds.add(K.FLAMMABLE)
    return frozenset(kinds)


@lru_cache(maxsize=4096)
def _classify(composition: Composition, charge: int, isomer: str | None) -> frozenset[Kind]:
    atoms = dict(composition)
    if not atoms:
        return frozenset({K.INERT})  # the electron
    if isomer is not None and "fulmin" in isomer.lower() and {"C", "N", "O"} <= set(atoms):
        return frozenset({K.FULMINATE, K.ENERGETIC})
    if charge == 0:
        known = _molecules().get(composition)
        if known is not None:
            return known
        if len(atoms) == 1:
            found = _element(composition[0][0])
            return found if found is not None else frozenset({K.UNKNOWN})
        if set(atoms) <= _HALOGENS | {"N"} and "N" in atoms and len(atoms) > 1:
            return frozenset({K.ENERGETIC, K.CHLORAMINE if "Cl" in atoms else K.BROMINE})
        if set(atoms) <= _HALOGENS and "F" in atoms:
            return frozenset({K.FLUORINE})  # chlorine trifluoride and its like burn as fluorine does
        if composition in _organics():
            return _organic(composition, isomer)
    elif composition in (_atoms("H"), _atoms("H3O")) and charge == 1:
        return frozenset({K.STRONG_ACID})
    elif composition == _atoms("H4N") and charge == 1:
        return frozenset({K.AMMONIUM})
    elif composition in (_atoms("H5N2"), _atoms("H4NO")) and charge == 1:
        return frozenset({K.HYDRAZINE})
    elif composition == _atoms("C2H3O3") and charge == -1:
        return frozenset({K.PERACID})
    salt = _salt(composition, charge)
    if salt is not None:
        # Silver and mercury cyanate have the atoms of the fulminates: only a name tells them apart.
        if K.CYANATE in salt and salt & {K.SILVER, K.MERCURY} and isomer is None:
            return salt | {K.FULMINATE, K.ENERGETIC}
        return salt
    if "C" in atoms and ("H" in atoms or set(atoms) & _HALOGENS):
        return _organic(composition, isomer)
    return frozenset({K.UNKNOWN})


def kinds_of(species: Species) -> frozenset[Kind]:
    """Say what *species* is, from composition, charge, isomer and (for gases) phase.

    Parameters
    ----------
    species : Species
        Any species; its spelling and its assumptions take no part.

    Returns
    -------
    frozenset of Kind
        ``{Kind.UNKNOWN}`` when the tables of the gate do not know it.

    Examples
    --------
    >>> sorted(kinds_of(Species.parse("NH4Br")) - {Kind.INERT})
    [<Kind.AMMONIUM: 'ammonium'>, <Kind.BROMIDE: 'bromide'>]
    """
    counts = []
    for symbol, count in species.elements.items():
        if Fraction(count).denominator != 1:
            doubled = {s: Fraction(n) * 2 for s, n in species.elements.items()}
            if any(n.denominator != 1 for n in doubled.values()):
                return frozenset({K.UNKNOWN})
            counts = [(s, int(n)) for s, n in doubled.items()]
            break
        counts.append((symbol, int(count)))
    kinds = _classify(tuple(sorted(counts)), species.charge, species.isomer)
    if species.phase is Phase.GAS and dict(counts) == {"S": 1, "O": 2}:
        kinds |= {K.TOXIC_GAS}
    return kinds


def kind_source(species: Species) -> str:
    """Key of the work behind what `kinds_of` says of *species*."""
    plain = _atoms("".join(f"{symbol}{count}" for symbol, count in species.elements.items()))
    group = "organic" if plain in _organics() and not species.charge else "ion"
    return _sources()[group]


@cache
def _sources() -> Mapping[str, str]:
    text = (files("redoxlib.data") / "gate_species.csv").read_text(encoding="utf-8")
    return {row["group"]: row["source"] for row in csv.DictReader(text.splitlines())}
