"""Oxidation numbers after the 2016 IUPAC definition, exact, by site where a formula shows sites.

Order of work: species whose like atoms differ (a table), then ions of salts one by one, then rules.
The rules follow bond electronegativity (Allen scale); where textbooks count otherwise, the usual
textbook number is given and the remark says what the bond count would give.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache

from redoxlib.errors import DomainError
from redoxlib.notation import Species
from redoxlib.stoichiometry._formula import composition, same_atoms, tree
from redoxlib.stoichiometry._ions import cation_charges, ions_of, is_metal
from redoxlib.stoichiometry._numbers import (
    ElementNumbers,
    Number,
    OxidationNumbers,
    SiteNumber,
    plain,
    signed,
)
from redoxlib.stoichiometry._organic import carbon_sites, peroxo_oxygens, sulfur_number
from redoxlib.stoichiometry._states import (
    ELECTRONEGATIVITY,
    USUAL_NEGATIVE,
    Sites,
    counted,
    range_of,
    special_sites,
)

__all__ = ["ElementNumbers", "OxidationNumbers", "SiteNumber", "oxidation_numbers", "plausible", "sites_of"]

_PLUS_ONE = frozenset({"Li", "Na", "K", "Rb", "Cs", "Fr"})
_PLUS_TWO = frozenset({"Be", "Mg", "Ca", "Sr", "Ba", "Ra", "Zn", "Cd"})
_PLUS_THREE = frozenset({"Al", "Sc", "Y", "La", "Ga", "Lu", "Gd"})
_HYDRIDE_FORMERS = frozenset({"B", "Si", "Ge", "Sn", "Pb", "In", "Tl"})
# Metals that are the negative partner of those of the first two groups.
_TAKE_ELECTRONS = frozenset({"Au", "Bi", "Ga", "In", "Pb", "Po", "Pt", "Sn", "Tl"})
_HALOGENS = ("F", "Cl", "Br", "I")
# Neutral ligands whose own atoms keep the numbers they have when free.
_NEUTRAL_LIGANDS = (
    "H2O",
    "NH3",
    "CO",
    "N2H4CO",
    "CO(NH2)2",
    "C2H8N2",
    "NH2CH2CH2NH2",
    "C5H5N",
    "N2H4",
    "C2H4",
)
_AVERAGE = "average over {count} atoms: the formula alone does not say which of them differ"


def plausible(symbol: str, number: Number) -> bool:
    """Say whether an oxidation number lies in the range known for the element."""
    bounds = range_of(symbol)
    return bounds is None or bounds[0] <= number <= bounds[1]


class _Unit:
    """Work on one molecule or ion: atoms still to be numbered and charge still to be explained."""

    def __init__(self, atoms: Mapping[str, Number], charge: int, spelling: str) -> None:
        self.left: dict[str, Number] = dict(atoms)
        self.rest = Fraction(charge)
        self.spelling = spelling
        self.done: dict[str, list[tuple[Fraction, Number]]] = {}
        self.remarks: list[str] = []

    def put(self, symbol: str, number: Fraction | int, count: Number | None = None) -> None:
        available = self.left[symbol]
        count = available if count is None else min(count, available)
        if not count:
            return
        self.done.setdefault(symbol, []).append((Fraction(number), count))
        self.rest -= Fraction(number) * count
        if available == count:
            del self.left[symbol]
        else:
            self.left[symbol] = available - count

    def put_sites(self, sites: Sites, times: Number = 1) -> None:
        for symbol, numbers in sites.items():
            for number, count in numbers:
                if symbol in self.left:
                    self.put(symbol, number, count * times)

    def finish(self, symbol: str) -> None:
        """Give the last open element whatever is left."""
        self.put(symbol, self.rest / Fraction(self.left[symbol]))

    def result(self) -> tuple[Sites, tuple[str, ...]]:
        merged: Sites = {}
        for symbol, numbers in self.done.items():
            total: dict[Fraction, Number] = {}
            for number, count in numbers:
                total[number] = total.get(number, 0) + count
            merged[symbol] = tuple((n, total[n]) for n in sorted(total, reverse=True))
        return merged, tuple(dict.fromkeys(remark for remark in self.remarks if remark))


def _is_organic(atoms: Mapping[str, Number]) -> bool:
    """Carbon with hydrogen, or with halogens only: carbon takes the remainder."""
    if "C" not in atoms or any(is_metal(s) for s in atoms):
        return False
    others = set(atoms) - {"C", "H", "O", "N", "S", "P", *_HALOGENS}
    return not others and ("H" in atoms or any(halogen in atoms for halogen in _HALOGENS))


def _organic(unit: _Unit) -> None:
    spelling = unit.spelling
    for symbol in ("F", "Cl", "Br", "I"):
        if symbol in unit.left:
            unit.put(symbol, -1)
    if "H" in unit.left:
        unit.put("H", 1)
    if "O" in unit.left:
        if peroxo_oxygens(spelling):
            unit.put("O", -1, 2)
            unit.remarks.append("peroxy group: two O at -1")
        if "O" in unit.left:
            unit.put("O", -2)
    if "N" in unit.left:
        nitro = spelling.count("NO2") + _bracketed(spelling, "NO2")
        nitrate = spelling.count("ONO2") + spelling.count("O(NO2)") + _bracketed(spelling, "ONO2")
        if nitrate:
            unit.put("N", 5, nitrate)
        elif nitro:
            unit.put("N", 3, nitro)
        if "N" in unit.left:
            if not nitro and sum(c for _, c in unit.done.get("O", [])) >= 2 * unit.left["N"]:
                unit.remarks.append("N counted -3: a formula alone does not show nitro or nitrate groups")
            unit.put("N", -3)
    if "S" in unit.left:
        unit.put("S", sulfur_number(spelling))
    if "P" in unit.left:
        unit.put("P", 5 if "O" in unit.done else -3)
    count = unit.left["C"]
    if isinstance(count, int) and unit.rest.denominator == 1:
        sites = carbon_sites(spelling, int(unit.rest))
        if sites is not None and len(sites) == count:
            for number, times in counted([Fraction(value) for value in sites]):
                unit.put("C", number, times)
            return
    if count != 1:
        unit.remarks.append(f"C: {_AVERAGE.format(count=count)}")
    unit.finish("C")


def _bracketed(spelling: str, inside: str) -> int:
    """Extra repeats of a bracketed group: C6H2(NO2)3 shows NO2 once and means it three times."""
    mark = f"({inside})"
    at = spelling.find(mark)
    if at < 0:
        return 0
    digits = ""
    for char in spelling[at + len(mark) :]:
        if char not in "0123456789":
            break
        digits += char
    return int(digits or "1") - 1


def _complex(unit: _Unit) -> None:
    """Take known ligands off a metal: cyanide, thiocyanate, carbonyl and bracketed neutral ligands."""
    left = unit.left
    if not any(is_metal(symbol) for symbol in left):
        return
    groups = tree(unit.spelling) if unit.spelling else None
    if groups is not None:
        _take_brackets(unit, groups)
    carbon, nitrogen = left.get("C", 0), left.get("N", 0)
    if not carbon:
        return
    if carbon == nitrogen and "O" not in left and left.get("S") == carbon:
        unit.put("C", 4)
        unit.put("N", -3)
        unit.put("S", -2)
    elif carbon == nitrogen and "H" not in left and "S" not in left:
        unit.put("C", 2)
        unit.put("N", -3)
    elif carbon == left.get("O") and not nitrogen and "H" not in left:
        unit.put("C", 2)
        unit.put("O", -2)
        unit.remarks.append("carbon monoxide counted as a neutral ligand")


def _take_brackets(unit: _Unit, groups: Iterable[object]) -> None:
    from redoxlib.stoichiometry._formula import Group

    work = [(group, 1) for group in groups if isinstance(group, Group) and group.content]
    while work:
        group, times = work.pop()
        atoms = composition(group.content)
        times *= group.count
        match = _ligand_sites().get(frozenset(atoms.items()))
        if match is not None:
            if all(unit.left.get(symbol, 0) >= count * times for symbol, count in atoms.items()):
                unit.put_sites(match, times)
        else:
            work.extend((inner, times) for inner in group.content if inner.content)


@lru_cache(maxsize=1)
def _ligand_sites() -> dict[frozenset[tuple[str, int]], Sites]:
    table = {}
    for spelling in _NEUTRAL_LIGANDS:
        groups = tree(spelling)
        if groups is None:
            raise ValueError(f"unreadable ligand {spelling!r}")
        atoms = composition(groups)
        table[frozenset(atoms.items())] = _rules(frozenset(atoms.items()), 0, spelling)[0]
    for spelling, charge in (
        ("CN", -1),
        ("SCN", -1),
        ("NCS", -1),
        ("C2O4", -2),
        ("S2O3", -2),
        ("OH", -1),
        ("NO2", -1),
    ):
        groups = tree(spelling)
        if groups is None:
            raise ValueError(f"unreadable ligand {spelling!r}")
        atoms = composition(groups)
        key = frozenset(atoms.items())
        table[key] = _rules(key, charge, spelling)[0]
    return table


def _alloy(unit: _Unit) -> bool:
    """Metals among themselves hold no charges; salts of the kind of NaTl, Mg2Sn and CsAu are set apart."""
    symbols = unit.left.keys()
    if unit.rest or not all(is_metal(s) and s not in ELECTRONEGATIVITY for s in symbols):
        return False
    if symbols & (_PLUS_ONE | (_PLUS_TWO - {"Zn", "Cd"})) and symbols & _TAKE_ELECTRONS:
        return False
    for symbol in list(symbols):
        unit.put(symbol, 0)
    unit.remarks.append("an alloy: its metals count 0, as the elements")
    return True


def _hydrogen_is_hydride(atoms: Mapping[str, Number]) -> bool:
    return all(
        symbol == "H" or is_metal(symbol) or symbol in _HYDRIDE_FORMERS or symbol in _PLUS_THREE
        for symbol in atoms
    )


def _fixed(unit: _Unit) -> None:
    """Elements with one number in nearly all compounds."""
    atoms = dict(unit.left)
    if "F" in unit.left:
        unit.put("F", -1)
    for group, number in ((_PLUS_ONE, 1), (_PLUS_TWO, 2), (_PLUS_THREE, 3)):
        for symbol in list(unit.left):
            if symbol in group and len(unit.left) + len(unit.done) > 1:
                unit.put(symbol, number)
    if "H" in unit.left and len(atoms) + len(unit.done) > 1:
        unit.put("H", -1 if _hydrogen_is_hydride(atoms) and not unit.done.keys() & {"F", "O", "N"} else 1)
    if "O" in unit.left and unit.left.keys() != {"O"}:
        unit.put("O", -2)


def _open_elements(unit: _Unit) -> None:
    """Elements still open: give the more electronegative ones their usual number, the last the rest."""
    metals = [symbol for symbol in unit.left if symbol not in ELECTRONEGATIVITY]
    others = sorted(
        (symbol for symbol in unit.left if symbol in ELECTRONEGATIVITY),
        key=lambda symbol: -ELECTRONEGATIVITY[symbol],
    )
    keep = 0 if metals else 1
    for symbol in others[: len(others) - keep]:
        unit.put(symbol, USUAL_NEGATIVE.get(symbol, 0))
    if len(metals) > 1:
        _two_metals(unit, metals)


def _usual_charges(symbol: str) -> tuple[int, ...]:
    """Charges of the cations, or for a metal that has none (niobium, tungsten) its highest number."""
    bounds = range_of(symbol)
    return cation_charges(symbol) or (bounds[1] if bounds is not None else 0,)


def _two_metals(unit: _Unit, metals: list[str]) -> None:
    """Choose common charges for several metals when the formula gives only their sum."""
    best: list[tuple[int, tuple[int, ...]]] = []

    def extend(place: int, rest: Fraction, chosen: tuple[int, ...], rank: int) -> None:
        if place == len(metals):
            if rest == 0:
                best.append((rank, chosen))
            return
        symbol = metals[place]
        for order, number in enumerate(_usual_charges(symbol)):
            extend(place + 1, rest - number * Fraction(unit.left[symbol]), (*chosen, number), rank + order)

    if len(metals) <= 4:
        extend(0, unit.rest, (), 0)
    best.sort()
    if best:
        for symbol, number in zip(metals, best[0][1], strict=True):
            unit.put(symbol, number)
        if len(best) > 1:
            unit.remarks.append("the formula alone does not decide between the metals: usual charges taken")
        return
    for symbol in metals[1:]:
        unit.put(symbol, _usual_charges(symbol)[0])
    unit.remarks.append("the formula alone does not decide between the metals: usual charges taken")


def _last(unit: _Unit) -> None:
    """Close the account: remainder to the open element, or to peroxo groups when it is too high."""
    if unit.left:
        (symbol,) = unit.left
        count = unit.left[symbol]
        number = unit.rest / Fraction(count)
        bounds = range_of(symbol)
        oxygen = unit.done.get("O", [])
        if bounds is not None and number > bounds[1] and oxygen and oxygen[0][0] == -2:
            excess = unit.rest - bounds[1] * Fraction(count)
            if excess.denominator == 1 and 0 < excess <= oxygen[0][1]:
                usual = oxygen[0][1] - int(excess)
                unit.done["O"] = [(Fraction(-1), int(excess))] + ([(Fraction(-2), usual)] if usual else [])
                unit.rest -= excess
                number = Fraction(bounds[1])
                unit.remarks.append(
                    f"{symbol} cannot exceed {signed(bounds[1])}: {excess} O read as peroxo oxygen at -1"
                )
        unit.put(symbol, number)
        if number.denominator != 1 and count != 1:
            unit.remarks.append(f"{symbol}: {_AVERAGE.format(count=count)}")
        if not plausible(symbol, number):
            unit.remarks.append(
                f"{symbol} {signed(plain(number))} is outside the known range: check the formula"
            )
    elif unit.rest:
        _spread(unit)


def _spread(unit: _Unit) -> None:
    """Every element has its usual number and the charge does not fit: oxygen or hydrogen differs."""
    for symbol, what in (("O", "oxygen-oxygen bonds"), ("H", "hydride"), ("N", "nitrogen-nitrogen bonds")):
        sites = unit.done.get(symbol)
        if not sites:
            continue
        count = sum(c for _, c in sites)
        total = sum((n * c for n, c in sites), Fraction(0)) + unit.rest
        number = total / Fraction(count)
        unit.done[symbol] = [(number, count)]
        unit.rest = Fraction(0)
        unit.remarks.append(f"{symbol} carries what the usual numbers leave over ({what}?)")
        if not plausible(symbol, number):
            unit.remarks.append(
                f"{symbol} {signed(plain(number))} is outside the known range: check the formula"
            )
        return
    symbol = next(iter(unit.done))
    count = sum(c for _, c in unit.done[symbol])
    total = sum((n * c for n, c in unit.done[symbol]), Fraction(0)) + unit.rest
    unit.done[symbol] = [(total / Fraction(count), count)]
    unit.rest = Fraction(0)
    unit.remarks.append(f"the usual numbers do not add up to the charge: {symbol} carries the difference")


@lru_cache(maxsize=8192)
def _rules(atoms: frozenset[tuple[str, Number]], charge: int, spelling: str) -> tuple[Sites, tuple[str, ...]]:
    """Numbers of one molecule or ion that is not a salt."""
    counts = dict(sorted(atoms))  # in one order, whatever the hashes of the day
    unit = _Unit(counts, charge, spelling)
    whole = all(isinstance(count, int) for count in counts.values())
    special = special_sites(atoms, charge) if whole else None  # type: ignore[arg-type]
    if special is not None:
        sites, remark = special
        unit.put_sites(sites)
        unit.remarks.append(remark)
        if "H" in unit.left:
            unit.put("H", 1)
        for symbol in list(unit.left):
            if symbol == "O":
                unit.put("O", -2)
        _fixed(unit) if unit.left else None
        _last(unit)
        return unit.result()
    if len(counts) == 1:
        (symbol,) = counts
        unit.finish(symbol)
        number = unit.done[symbol][0][0]
        if number.denominator != 1:
            unit.remarks.append(f"{symbol}: {_AVERAGE.format(count=counts[symbol])}")
        if not plausible(symbol, number):
            unit.remarks.append(
                f"{symbol} {signed(plain(number))} is outside the known range: check the formula"
            )
        return unit.result()
    if _peroxynitrite(unit) or _alloy(unit):
        return unit.result()
    if _is_organic(counts):
        _organic(unit)
        return unit.result()
    if "C" in counts or "(" in spelling or "[" in spelling:
        _complex(unit)
    if unit.left:
        _fixed(unit)
    if len(unit.left) > 1:
        _open_elements(unit)
    _last(unit)
    if any(not isinstance(count, int) for count in counts.values()):
        unit.remarks.append("not stoichiometric: average over the whole solid")
    return unit.result()


def _peroxynitrite(unit: _Unit) -> bool:
    if not unit.spelling.startswith(("ONOO", "HOONO")):
        return False
    unit.put("O", -1, 2)
    if "H" in unit.left:
        unit.put("H", 1)
    if "O" in unit.left:
        unit.put("O", -2)
    unit.finish("N")
    unit.remarks.append("peroxynitrite: two O at -1")
    return True


@lru_cache(maxsize=8192)
def _numbers(species: Species, spelling: str) -> tuple[Sites, tuple[str, ...]]:
    atoms = frozenset(species.elements.items())
    if not atoms:
        return {}, ()
    whole = all(isinstance(count, int) for _, count in atoms)
    if whole and special_sites(atoms, species.charge) is not None:  # type: ignore[arg-type]
        return _rules(atoms, species.charge, spelling)
    ions = ions_of(species)
    if ions is None:
        return _rules(atoms, species.charge, spelling)
    total: dict[str, dict[Fraction, Number]] = {}
    remarks: list[str] = []
    for count, ion in ions:
        sites, said = _numbers(ion, _spelling(ion))
        remarks += said
        for symbol, numbers in sites.items():
            slot = total.setdefault(symbol, {})
            for number, times in numbers:
                slot[number] = plain(Fraction(slot.get(number, 0)) + Fraction(times) * count)
    ordered: Sites = {
        symbol: tuple((n, total[symbol][n]) for n in sorted(total[symbol], reverse=True))
        for symbol in species.elements
    }
    return ordered, tuple(dict.fromkeys(remarks))


def _spelling(species: Species) -> str:
    """The typed formula when it really is this composition, else the isomer's name or nothing."""
    formula = species.formula
    groups = tree(formula) if "." not in formula else None
    if groups is not None and same_atoms(composition(groups), species.elements):
        return formula
    return formula if "." in formula else ""


def sites_of(species: Species) -> Sites:
    """Exact numbers with counts, element by element; the machinery behind couples and choices."""
    return _numbers(species, _spelling(species))[0]


def oxidation_numbers(text: str | Species) -> OxidationNumbers:
    """Oxidation numbers of every element in a species, exact, with the count of atoms at each.

    Parameters
    ----------
    text : str or Species
        A formula such as ``"S2O3^2-"``, a name from the alias table, or a species.

    Returns
    -------
    OxidationNumbers
        Mapping of element symbol to numbers with counts, with ``.average`` and ``.remark``.

    Raises
    ------
    NotationError
        If the text cannot be read.
    DomainError
        If the text is the electron, which has no atoms.

    References
    ----------
    .. [1] Karen, McArdle and Takats, Pure Appl. Chem. 88 (2016) 831.

    Examples
    --------
    >>> oxidation_numbers("S4O6^2-")["S"]
    (SiteNumber(number=5, count=2), SiteNumber(number=0, count=2))
    >>> oxidation_numbers("S4O6^2-").average["S"]
    Fraction(5, 2)
    """
    species = text if isinstance(text, Species) else Species.parse(text)
    if not species.elements:
        raise DomainError(
            "the electron has no atoms and so no oxidation number", hint="ask about a substance"
        )
    sites, remarks = _numbers(species, _spelling(species))
    numbers: dict[str, ElementNumbers] = {}
    for symbol in species.elements:
        entry = ElementNumbers(
            SiteNumber(plain(number), plain(Fraction(count))) for number, count in sites[symbol]
        )
        if len(entry) > 1 or any(isinstance(site.number, Fraction) for site in entry):
            entry.remark = next((r for r in remarks if r.startswith(f"{symbol}: ")), "; ".join(remarks))
        numbers[symbol] = entry
    return OxidationNumbers(species, numbers, "; ".join(remarks))
