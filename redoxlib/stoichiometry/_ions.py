"""The ions inside salts, strong acids and strong bases.

``ions_of`` splits by composition; the spelling is consulted only for dotted parts (hydrates,
double salts) and for ``NH4``, which composition cannot tell from other nitrogen and hydrogen.

The ions themselves are textbook facts: charges of common ions as listed in the IUPAC Red Book
(2005), table IX, and in general-chemistry textbooks.  Acids counted as strong are those with an
aqueous pKa below zero for the protons split off (H2SO4 is written with both protons, as full
equations are).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache

from redoxlib.notation import Species
from redoxlib.stoichiometry._formula import composition, same_atoms, spelled_parts, tree

__all__ = ["cation_charges", "ions_of", "is_metal"]

_ANIONS = """
F^- Cl^- Br^- I^- I3^- Br3^- ICl2^- CN^- OCN^- SCN^- N3^- OH^- HO2^- HF2^-
S^2- HS^- Se^2- HSe^- Te^2-
ClO^- ClO2^- ClO3^- ClO4^- BrO^- BrO2^- BrO3^- BrO4^- IO^- IO3^- IO4^- IO6^5- H3IO6^2- H2IO6^3- H4IO6^-
SO3^2- HSO3^- SO4^2- HSO4^- S2O3^2- S2O4^2- S2O5^2- S2O6^2- S2O7^2- S3O6^2- S4O6^2- S5O6^2-
S2O8^2- HSO5^- SO5^2- HS2O8^- SO3F^-
NO2^- NO3^- N2O2^2- NH2^- NH2SO3^-
CO3^2- HCO3^- CH3COO^- HCOO^- C2O4^2- HC2O4^- C4H4O6^2- HC4H4O6^- C6H5O7^3- C6H5COO^- C3H5O3^- CO4^2-
C8H5O4^-
PO4^3- HPO4^2- H2PO4^- P2O7^4- PO3^- HPO3^2- H2PO3^- H2PO2^- PF6^- P3O10^5-
AsO4^3- HAsO4^2- H2AsO4^- AsO3^3- AsO2^- H2AsO3^- SbO3^- Sb(OH)6^- SbO4^3- BiO3^- AsS4^3- AsS3^3-
BO2^- BO3^- BO3^3- B4O7^2- B(OH)4^- BF4^- BH4^- AlH4^- SiO3^2- SiO4^4- SiF6^2-
MnO4^- MnO4^2- MnO4^3- CrO4^2- Cr2O7^2- HCrO4^- CrO2^- Cr(OH)4^- Cr(OH)6^3- CrO8^3- Cr2O4^2-
VO3^- VO4^3- V10O28^6- MoO4^2- WO4^2- FeO4^2- FeO2^- ReO4^- TcO4^- RuO4^- RuO4^2- OsO4^2- UO4^2-
SeO3^2- HSeO3^- SeO4^2- TeO3^2- TeO4^2- HSeO4^- XeO6^4- HXeO4^- GeO3^2- BeO2^2-
Al(OH)4^- AlO2^- AlF6^3- Zn(OH)4^2- ZnO2^2- Zn(CN)4^2- Sn(OH)6^2- Sn(OH)4^2- Sn(OH)3^- SnO3^2- SnO2^2-
HSnO2^- SnCl6^2- SnCl4^2- SnCl3^- PbO2^2- PbO3^2- Pb(OH)4^2- Pb(OH)3^- HPbO2^- PbCl4^2- PbI4^2- PbCl6^2-
Fe(CN)6^4- Fe(CN)6^3- Fe(CN)5NO^2- Cr(CN)6^3- Co(CN)6^3- Co(CN)6^4- Mn(CN)6^4- Mn(CN)6^3-
Ni(CN)4^2- Cu(CN)2^- Cu(CN)3^2- Cu(CN)4^3- Ag(CN)2^- Au(CN)2^- Au(CN)4^- Cd(CN)4^2- Hg(CN)4^2-
Ag(S2O3)2^3- AuCl4^- AuCl2^- AuBr4^- PtCl6^2- PtCl4^2- PdCl4^2- PdCl6^2- HgI4^2- HgCl4^2- CuCl4^2- CuCl2^-
FeCl4^- CoCl4^2- ZnCl4^2- Co(NO2)6^3- Cr(C2O4)3^3- Fe(C2O4)3^3- BiI4^- CuO2^2- Cu(OH)4^2- NiO2^- CoO2^-
Fe(OH)4^- Be(OH)4^2- Ga(OH)4^- Sb(OH)4^- Fe(SCN)4^- Fe(CO)4^2- Co(CO)4^- Mn(CO)5^- FeF6^3- TiF6^2- MnF6^2-
C2H5O^- CH3O^- C2H5COO^- ICl4^- IBr2^- BrCl2^- BrF4^- Cl3^- CNO^- C2H3O3^- Te(OH)5O^-
"""
# Anions that are read as such only beside these cations: elsewhere the oxygen or sulfur is a plain
# oxide or sulfide (MnO2 is no manganese(II) peroxide).
_ALKALI = frozenset({"Li", "Na", "K", "Rb", "Cs"})
_ALKALINE = frozenset({"Mg", "Ca", "Sr", "Ba"})
_GUARDED: dict[str, frozenset[str]] = {
    "O2^2-": _ALKALI | _ALKALINE,
    "O2^-": _ALKALI,
    "O3^-": _ALKALI,
    "S2^2-": _ALKALI | _ALKALINE | {"Fe", "Mn", "Co", "Ni"},
    "S3^2-": _ALKALI | _ALKALINE,
    "S4^2-": _ALKALI | _ALKALINE,
    "S5^2-": _ALKALI | _ALKALINE,
    "S6^2-": _ALKALI,
    "FeO2^-": _ALKALI,
    "NiO2^-": _ALKALI,
    "CoO2^-": _ALKALI,
    "CrO2^-": _ALKALI,
    "AlO2^-": _ALKALI,
    "CuO2^2-": _ALKALI,
    "Cr2O4^2-": frozenset(),
    "PbO2^2-": _ALKALI,
    "PbO3^2-": _ALKALI,
    "SnO2^2-": _ALKALI,
    "ZnO2^2-": _ALKALI,
    "BeO2^2-": _ALKALI,
    "CuCl2^-": _ALKALI,
    "SO5^2-": _ALKALI,
    "HO2^-": _ALKALI,
    "S2O8^2-": _ALKALI | _ALKALINE | {"N", "H"},
    "HS2O8^-": _ALKALI | {"N", "H"},
    "Br3^-": _ALKALI,
    "I3^-": _ALKALI,
    "Cl3^-": _ALKALI,
    "BO3^-": _ALKALI,
    "AlH4^-": _ALKALI,
}
# The same for a formula without brackets: CrO2Cl2 is an oxide chloride and no chromium(II) hypochlorite,
# MnMoO4 a molybdate of manganese(II).
_UNBRACKETED: dict[str, frozenset[str]] = {
    **dict.fromkeys(("ClO^-", "BrO^-", "IO^-", "ClO2^-", "BrO2^-"), _ALKALI | _ALKALINE | {"Ag", "N", "H"}),
    "MnO4^3-": _ALKALI | _ALKALINE,
}
_STRONG_ACIDS = """
HCl=H^+,Cl^- HBr=H^+,Br^- HI=H^+,I^- HNO3=H^+,NO3^- HClO3=H^+,ClO3^- HClO4=H^+,ClO4^-
HBrO3=H^+,BrO3^- HBrO4=H^+,BrO4^- H2SO4=2H^+,SO4^2- H2SeO4=2H^+,SeO4^2- HMnO4=H^+,MnO4^-
H2S2O8=2H^+,S2O8^2- H2SO5=H^+,HSO5^- H2S2O6=2H^+,S2O6^2- H2S4O6=2H^+,S4O6^2- HSCN=H^+,SCN^-
H2Cr2O7=2H^+,Cr2O7^2- HBF4=H^+,BF4^- HPF6=H^+,PF6^- H2SiF6=2H^+,SiF6^2- HReO4=H^+,ReO4^-
HAuCl4=H^+,AuCl4^- H2PtCl6=2H^+,PtCl6^2- HFeCl4=H^+,FeCl4^- HICl4=H^+,ICl4^- H4Fe(CN)6=4H^+,Fe(CN)6^4-
H3Fe(CN)6=3H^+,Fe(CN)6^3-
"""
# Multiple salts that composition alone would split otherwise: the monopersulfate triple salt
# 2 KHSO5 . KHSO4 . K2SO4, written undotted.
_MULTIPLE_SALTS: dict[frozenset[tuple[str, int]], tuple[tuple[int, str], ...]] = {
    frozenset({("K", 5), ("H", 3), ("S", 4), ("O", 18)}): (
        (5, "K^+"),
        (2, "HSO5^-"),
        (1, "HSO4^-"),
        (1, "SO4^2-"),
    ),
}
_FIXED: dict[str, int] = {
    **dict.fromkeys(("Li", "Na", "K", "Rb", "Cs", "Fr"), 1),
    **dict.fromkeys(("Be", "Mg", "Ca", "Sr", "Ba", "Ra", "Zn", "Cd"), 2),
    **dict.fromkeys(("Al", "Sc", "Y", "La", "Nd", "Gd", "Lu", "Ga"), 3),
}
# Charges of the simple cations of metals that have several, likeliest first.
_VARIABLE: dict[str, tuple[int, ...]] = {
    "Ag": (1, 2), "Fe": (2, 3), "Cu": (2, 1), "Cr": (3, 2), "Mn": (2, 3), "Co": (2, 3), "Ni": (2, 3),
    "Pb": (2, 4), "Sn": (2, 4), "Hg": (2, 1), "Ce": (3, 4), "Ti": (4, 3, 2), "V": (3, 2), "Bi": (3,),
    "Sb": (3, 5), "Au": (3, 1), "Pt": (2, 4), "Pd": (2, 4), "Tl": (1, 3), "In": (3, 1), "Eu": (3, 2),
    "Sm": (3, 2), "Yb": (3, 2), "Pr": (3, 4), "Tb": (3, 4), "Dy": (3,), "Ho": (3,), "Er": (3,), "Tm": (3,),
    "Th": (4,), "U": (4, 3), "Zr": (4,), "Hf": (4,), "Rh": (3,), "Ru": (3, 2), "Ir": (3, 4), "Ge": (2, 4),
    "Mo": (3,), "Pu": (4, 3), "Np": (4, 3), "Am": (3,), "Os": (3, 4),
}  # fmt: skip
_OXOCATIONS: tuple[tuple[str, str, int, int], ...] = (
    # metal, spelling, oxygens per metal, charge
    ("U", "UO2^2+", 2, 2),
    ("V", "VO^2+", 1, 2),
    ("V", "VO2^+", 2, 1),
    ("Ti", "TiO^2+", 1, 2),
    ("Bi", "BiO^+", 1, 1),
    ("Sb", "SbO^+", 1, 1),
    ("Zr", "ZrO^2+", 1, 2),
)
_CHALCOGENIDES = frozenset({"S^2-", "Se^2-", "Te^2-"})
# Molecules by their spelling, although the atoms are those of a salt or of a strong acid.
_MOLECULES = frozenset({"NH4OH", "NH3.H2O", "HOONO"})
_METALS = frozenset(_FIXED) | frozenset(_VARIABLE) | {"Re", "Tc", "W", "Ta", "Nb", "Pa", "Po"}
_ION_TEXT = re.compile(r"(?P<atoms>.+)\^(?P<size>[0-9]*)(?P<sign>[+-])")
_LARGEST_HYDRATE = 24
# Counts of an anion tried below the largest that fits; keeps giant subscripts from taking for ever.
_MOST_TIMES = 24

Ions = tuple[tuple[int | Fraction, Species], ...]


@dataclass(frozen=True, slots=True)
class _Anion:
    text: str
    atoms: dict[str, int]
    charge: int
    beside: frozenset[str] | None


def is_metal(symbol: str) -> bool:
    """Say whether *symbol* forms simple cations in salts."""
    return symbol in _METALS


def cation_charges(symbol: str) -> tuple[int, ...]:
    """Charges of the simple cations of a metal, likeliest first; empty for a non-metal."""
    if symbol in _FIXED:
        return (_FIXED[symbol],)
    return _VARIABLE.get(symbol, ())


def _read(text: str) -> tuple[dict[str, int], int]:
    match = _ION_TEXT.fullmatch(text)
    groups = tree(match["atoms"]) if match else None
    if match is None or groups is None:
        raise ValueError(f"the table of ions has an unreadable entry {text!r}")
    size = int(match["size"] or "1")
    return composition(groups), size if match["sign"] == "+" else -size


@cache
def _anions() -> tuple[_Anion, ...]:
    found = []
    for text in (*_ANIONS.split(), *(name for name in _GUARDED if name not in _ANIONS.split())):
        atoms, charge = _read(text)
        found.append(_Anion(text, atoms, charge, _GUARDED.get(text)))
    # Larger first: ferrocyanide before cyanide, dichromate before anything it contains.
    return tuple(sorted(found, key=lambda anion: -sum(anion.atoms.values())))


@cache
def known_ions() -> Mapping[tuple[frozenset[tuple[str, int]], int], str]:
    """Composition and charge of every ion in the tables, to its usual spelling."""
    table: dict[tuple[frozenset[tuple[str, int]], int], str] = {}
    for anion in _anions():
        table.setdefault((frozenset(anion.atoms.items()), anion.charge), anion.text)
    for symbol in _METALS:
        for charge in cation_charges(symbol):
            table[frozenset({(symbol, 1)}), charge] = f"{symbol}^{charge if charge > 1 else ''}+"
    for text in ("NH4^+", "H^+", "H3O^+", "Hg2^2+", *(row[1] for row in _OXOCATIONS)):
        atoms, charge = _read(text)
        table[frozenset(atoms.items()), charge] = text
    return table


@lru_cache(maxsize=1024)
def _ion(text: str) -> Species:
    return Species.parse(text)


@cache
def _acid_table() -> dict[frozenset[tuple[str, int]], tuple[tuple[int, str], ...]]:
    table = {}
    for entry in _STRONG_ACIDS.split():
        acid, _, right = entry.partition("=")
        groups = tree(acid)
        if groups is None:
            raise ValueError(f"the table of strong acids has an unreadable entry {acid!r}")
        ions = []
        for item in right.split(","):
            digits = len(item) - len(item.lstrip("0123456789"))
            ions.append((int(item[:digits] or "1"), item[digits:]))
        table[frozenset(composition(groups).items())] = tuple(ions)
    return table


def _cations(rest: dict[str, int], charge: int, spelling: str) -> list[tuple[int, str]] | None:
    """Make *charge* positive charges out of exactly the atoms of *rest*, or say no."""
    rest = dict(rest)
    found: list[tuple[int, str]] = []
    if "N" in rest:
        nitrogen, hydrogen, oxygen = rest["N"], rest.get("H", 0), rest.get("O", 0)
        metal = next((m for m in rest if m in _METALS), None)
        if hydrogen == 4 * nitrogen and "NH4" in spelling:
            found.append((nitrogen, "NH4^+"))
            charge -= nitrogen
            oxygen = 0
        elif hydrogen == 4 * nitrogen and oxygen == nitrogen and "NH3OH" in spelling:
            found.append((nitrogen, "NH3OH^+"))
            charge -= nitrogen
        elif hydrogen == 3 * nitrogen and "N2H6" in spelling:
            found.append((nitrogen // 2, "N2H6^2+"))
            charge -= nitrogen
            oxygen = 0
        elif nitrogen % 2 == 0 and 2 * hydrogen == 5 * nitrogen and "N2H5" in spelling:
            found.append((nitrogen // 2, "N2H5^+"))
            charge -= nitrogen // 2
            oxygen = 0
        elif metal is not None and hydrogen == 3 * nitrogen and "NH3" in spelling:
            return _ammine(rest, metal, nitrogen, charge)
        else:
            return None
        rest.pop("N")
        rest.pop("H")
        if oxygen:
            rest["O"] -= oxygen
            if not rest["O"]:
                del rest["O"]
    if "O" in rest:
        for metal, text, oxygens, plus in _OXOCATIONS:
            if metal in rest and rest["O"] == oxygens * rest[metal]:
                found.append((rest[metal], text))
                charge -= plus * rest[metal]
                del rest[metal], rest["O"]
                break
        else:
            return None
    open_metals = []
    for symbol, count in rest.items():
        if symbol in _FIXED:
            charge -= _FIXED[symbol] * count
            found.append((count, _spell(symbol, _FIXED[symbol])))
        elif symbol in _VARIABLE:
            open_metals.append((symbol, count))
        else:
            return None
    extra = _assign(open_metals, charge)
    if extra is None or not (found or extra):
        return None
    return found + extra


def _spell(symbol: str, charge: int) -> str:
    return f"{symbol}^{charge}+" if charge > 1 else f"{symbol}^+"


def _assign(metals: list[tuple[str, int]], charge: int) -> list[tuple[int, str]] | None:
    """Give each metal of variable charge one charge so that the sum is *charge*; likeliest wins."""
    if not metals:
        return [] if charge == 0 else None
    if len(metals) > 2:
        return None
    (symbol, count), others = metals[0], metals[1:]
    for each in _VARIABLE[symbol]:
        tail = _assign(others, charge - each * count)
        if tail is None:
            continue
        if symbol == "Hg" and each == 1:
            if count % 2:
                continue
            return [(count // 2, "Hg2^2+"), *tail]
        return [(count, _spell(symbol, each)), *tail]
    return None


def _ammine(rest: dict[str, int], metal: str, ammonia: int, charge: int) -> list[tuple[int, str]] | None:
    count = rest[metal]
    if ammonia % count or charge % count or set(rest) != {metal, "N", "H"}:
        return None
    each = charge // count
    if each not in cation_charges(metal):
        return None
    number = ammonia // count
    ligand = f"(NH3){number}" if number > 1 else "(NH3)"
    return [(count, f"{metal}{ligand}^{each if each > 1 else ''}+")]


def _less(atoms: Mapping[str, int], part: Mapping[str, int], times: int) -> dict[str, int] | None:
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


def _may_stand(anion: _Anion, rest: Mapping[str, int], spelling: str) -> bool:
    """Say whether the anion may stand beside these atoms."""
    if anion.beside is not None and not (rest and all(symbol in anion.beside for symbol in rest)):
        return False
    if "(" in spelling or "[" in spelling:
        return True
    beside = _UNBRACKETED.get(anion.text)
    if beside is not None and not all(symbol in beside for symbol in rest):
        return False
    # A spinel is no manganate of its own metal: that would be written Mn(MnO4)2.
    return "O" not in anion.atoms or not any(symbol in _METALS and symbol in rest for symbol in anion.atoms)


def _by_spelling(spelling: str) -> tuple[_Anion, ...]:
    """Anions to try, those the spelling brackets first: Sn(SO4)2 is no peroxodisulfate."""
    if "(" not in spelling and "[" not in spelling:
        return _anions()
    bracketed = set()
    work = list(tree(spelling) or ())
    while work:
        group = work.pop()
        if group.content:
            bracketed.add(frozenset(composition(group.content).items()))
            work.extend(group.content)

    def rank(anion: _Anion) -> int:
        # Complexes keep their place: K4Fe(CN)6 brackets its cyanide and is still a ferrocyanide.
        if any(symbol in _METALS for symbol in anion.atoms):
            return 0
        return 1 if frozenset(anion.atoms.items()) in bracketed else 2

    return tuple(sorted(_anions(), key=rank))


def _one_anion(atoms: Mapping[str, int], spelling: str) -> list[tuple[int, str]] | None:
    for anion in _by_spelling(spelling):
        most = min((atoms.get(symbol, 0) // count for symbol, count in anion.atoms.items()), default=0)
        for times in range(most, max(0, most - _MOST_TIMES), -1):
            rest = _less(atoms, anion.atoms, times)
            if not rest or not _may_stand(anion, rest, spelling):
                continue
            if anion.text in _CHALCOGENIDES and sum(symbol in _VARIABLE for symbol in rest) > 1:
                continue  # CuFeS2 and its like: the formula does not say which metal holds what
            cations = _cations(rest, -anion.charge * times, spelling)
            if cations is not None:
                return [*cations, (times, anion.text)]
    return None


def _two_anions(atoms: Mapping[str, int], spelling: str) -> list[tuple[int, str]] | None:
    usable = [a for a in _by_spelling(spelling) if all(atoms.get(s, 0) >= n for s, n in a.atoms.items())]
    for place, first in enumerate(usable):
        for second in usable[place + 1 :]:
            most = min(atoms[symbol] // count for symbol, count in first.atoms.items())
            for times in range(min(most, 12), 0, -1):
                left = _less(atoms, first.atoms, times)
                if not left:
                    continue
                again = min(left.get(symbol, 0) // count for symbol, count in second.atoms.items())
                for more in range(min(again, 12), 0, -1):
                    rest = _less(left, second.atoms, more)
                    if not rest or not all(_may_stand(each, rest, spelling) for each in (first, second)):
                        continue
                    cations = _cations(rest, -first.charge * times - second.charge * more, spelling)
                    if cations is not None:
                        return [*cations, (times, first.text), (more, second.text)]
    return None


def _plain(atoms: Mapping[str, int], spelling: str) -> list[tuple[int, str]] | None:
    """Split one undotted neutral formula."""
    if spelling in _MOLECULES:
        return None
    acid = _acid_table().get(frozenset(atoms.items()))
    if acid is not None:
        return list(acid)
    multiple = _MULTIPLE_SALTS.get(frozenset(atoms.items()))
    if multiple is not None:
        return list(multiple)
    if not any(symbol in _METALS for symbol in atoms) and not (
        "NH4" in spelling or "NH3OH" in spelling or "N2H5" in spelling or "N2H6" in spelling
    ):
        return None
    if "C" in atoms and "H" in atoms and atoms["C"] > 12:
        return None
    return _one_anion(atoms, spelling) or _two_anions(atoms, spelling)


def _dotted(formula: str) -> Iterator[tuple[int | Fraction, Species]] | None:
    found: list[tuple[int | Fraction, Species]] = []
    split = False
    for times, text in spelled_parts(formula):
        groups = tree(text)
        if groups is None:
            return None
        ions = _plain(composition(groups), text)
        if ions is None:
            found.append((times, Species.parse(text)))
        else:
            split = True
            found.extend((times * count, _ion(ion)) for count, ion in ions)
    return iter(found) if split else None


def _hydrate(atoms: Mapping[str, int], spelling: str) -> list[tuple[int, str]] | None:
    most = min(atoms.get("H", 0) // 2, atoms.get("O", 0), _LARGEST_HYDRATE)
    for water in range(1, most + 1):
        dry = _less(atoms, {"H": 2, "O": 1}, water)
        if not dry:
            continue
        ions = _one_anion(dry, spelling)
        if ions is not None:
            return [*ions, (water, "H2O")]
    return None


def _merged(ions: Iterable[tuple[int | Fraction, Species]]) -> Ions:
    total: dict[Species, Fraction] = {}
    for count, species in ions:
        total[species] = total.get(species, Fraction(0)) + count
    return tuple(
        (count.numerator if count.denominator == 1 else count, species) for species, count in total.items()
    )


@lru_cache(maxsize=4096)
def _split(formula: str, atoms: frozenset[tuple[str, int]]) -> Ions | None:
    counts = dict(sorted(atoms))  # in one order, whatever the hashes of the day
    groups = None if "." in formula else tree(formula)
    spelled = groups is not None and same_atoms(composition(groups), counts)
    if "." in formula:
        dotted = _dotted(formula)
        if dotted is not None:
            return _merged(dotted)
    spelling = formula if spelled or "." in formula else ""
    ions = _plain(counts, spelling)
    if ions is None and spelling not in _MOLECULES and any(symbol in _METALS for symbol in counts):
        ions = _hydrate(counts, spelling)
    return None if ions is None else _merged((count, _ion(text)) for count, text in ions)


def ions_of(species: Species) -> Ions | None:
    """Split a salt, strong acid, strong base, hydrate or double salt into its ions.

    The splitting is formal: an insoluble salt is split as well (``dissolve`` knows solubility).
    Water and other neutral molecules of crystallisation come back as species of their own.

    Parameters
    ----------
    species : Species
        A neutral species.  Its phase is ignored.

    Returns
    -------
    tuple of (int or Fraction, Species) or None
        Counts and ions without phase (a fraction only where the formula has one, as in
        ``Na2CO3.1.5H2O2``); ``None`` for ions, elements, oxides, weak acids and bases,
        molecules, and salts the tables do not know.

    Examples
    --------
    >>> from redoxlib.notation import Species
    >>> [(n, str(ion)) for n, ion in ions_of(Species.parse("Fe2(SO4)3"))]
    [(2, 'Fe^3+'), (3, 'SO4^2-')]
    """
    if species.charge or len(species.elements) < 2:
        return None
    counts = []
    for symbol, count in species.elements.items():
        if not isinstance(count, int):
            return None
        counts.append((symbol, count))
    named = species.isomer is not None and not any(symbol in _METALS for symbol, _ in counts)
    if named and "NH4" not in species.formula:
        return None
    return _split(species.formula, frozenset(counts))
