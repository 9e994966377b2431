"""Full equation to ionic and net ionic form, and back with chosen counter-ions.

Solubility rules and the list of weak electrolytes are the usual ones of general-chemistry textbooks
(for example Brown, LeMay, Bursten, Chemistry: The Central Science, section 4.2); salts called slightly
soluble there (Ca(OH)2, Ag2SO4, CaSO4) are placed on the side most textbooks take, and a typed phase
always wins over a rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import gcd

from redoxlib.errors import DomainError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.stoichiometry._formula import tree
from redoxlib.stoichiometry._ions import Ions, ions_of
from redoxlib.stoichiometry._numbers import plain
from redoxlib.stoichiometry._system import System

__all__ = ["Ionic", "dissolve", "ions_in_water", "salt_of", "soluble", "with_counter_ions"]

_ALWAYS = frozenset({"Li^+", "Na^+", "K^+", "Rb^+", "Cs^+", "NH4^+", "H^+", "NH3OH^+", "N2H5^+", "N2H6^2+"})
_ALWAYS_ANIONS = frozenset({
    "NO3^-", "CH3COO^-", "ClO3^-", "ClO4^-", "ClO^-", "ClO2^-", "BrO3^-", "MnO4^-", "S2O8^2-", "HSO4^-",
    "HSO5^-", "HCO3^-", "HSO3^-", "H2PO4^-", "BrO^-", "IO^-", "NO2^-", "BF4^-", "PF6^-", "S2O6^2-",
    "S4O6^2-", "Cr2O7^2-", "HCOO^-", "SCN^-", "S2O3^2-", "HS^-", "FeO4^2-",
})  # fmt: skip
_SPARING: dict[str, frozenset[str]] = {
    # anion: cations it precipitates with
    "NO2^-": frozenset({"Ag^+"}),
    "CH3COO^-": frozenset(),
    "Cl^-": frozenset({"Ag^+", "Pb^2+", "Hg2^2+", "Cu^+", "Tl^+", "Au^+"}),
    "Br^-": frozenset({"Ag^+", "Pb^2+", "Hg2^2+", "Cu^+", "Tl^+", "Au^+"}),
    "I^-": frozenset({"Ag^+", "Pb^2+", "Hg2^2+", "Hg^2+", "Cu^+", "Tl^+", "Bi^3+", "Au^+"}),
    "SO4^2-": frozenset({"Ba^2+", "Sr^2+", "Pb^2+", "Ca^2+", "Hg2^2+", "Ra^2+"}),
    "SCN^-": frozenset({"Ag^+", "Cu^+", "Pb^2+", "Hg2^2+"}),
    "S2O3^2-": frozenset({"Ag^+", "Pb^2+", "Ba^2+"}),
    "Cr2O7^2-": frozenset({"Ag^+", "Pb^2+", "Hg2^2+"}),
    "BrO3^-": frozenset({"Ag^+", "Hg2^2+"}),
    "ClO2^-": frozenset({"Ag^+", "Pb^2+"}),
}
_ONLY: dict[str, frozenset[str]] = {
    # anion: cations other than the alkali metals and ammonium it stays dissolved with
    "OH^-": frozenset({"Ba^2+", "Sr^2+", "Tl^+"}),
    "S^2-": frozenset({"Ca^2+", "Sr^2+", "Ba^2+", "Mg^2+"}),
    "F^-": frozenset({"Ag^+", "Sn^2+", "Tl^+", "Hg^2+"}),
    "CN^-": frozenset({"Ca^2+", "Sr^2+", "Ba^2+", "Mg^2+", "Hg^2+"}),
    "CrO4^2-": frozenset({"Ca^2+", "Mg^2+", "Cu^2+"}),
    "IO3^-": frozenset({"Mg^2+"}),
    "IO4^-": frozenset({"Ca^2+", "Mg^2+", "Ba^2+"}),
    "Fe(CN)6^4-": frozenset({"Ca^2+", "Mg^2+", "Sr^2+"}),
    "Fe(CN)6^3-": frozenset({"Ca^2+", "Mg^2+", "Sr^2+", "Ba^2+"}),
    "SO3^2-": frozenset({"Mg^2+"}),
}
# Dissolved, yet not split to an extent worth writing.
_WEAK_SALTS = frozenset({"HgCl2", "Hg(CN)2", "HgBr2", "CdI2"})
_WEAK: dict[str, str] = {
    "HF": "weak acid", "HCN": "weak acid", "HClO": "weak acid", "HOCl": "weak acid", "HClO2": "weak acid",
    "HBrO": "weak acid", "HOBr": "weak acid", "HIO": "weak acid", "HOI": "weak acid", "HNO2": "weak acid",
    "H2S": "weak acid", "H2SO3": "weak acid", "H2CO3": "weak acid", "H3PO4": "weak acid",
    "H3PO3": "weak acid", "H3PO2": "weak acid", "H3AsO4": "weak acid", "H3AsO3": "weak acid",
    "HAsO2": "weak acid", "H2C2O4": "weak acid", "CH3COOH": "weak acid", "HC2H3O2": "weak acid",
    "HCOOH": "weak acid", "C6H5COOH": "weak acid", "H3BO3": "weak acid", "B(OH)3": "weak acid",
    "HN3": "weak acid", "H5IO6": "weak acid", "HIO3": "acid of pKa near 0.8",
    "H2CrO4": "second proton weak", "H2O2": "weak acid", "NH3": "weak base", "N2H4": "weak base",
    "NH2OH": "weak base", "NH4OH": "weak base", "H2SeO3": "weak acid", "HOCN": "weak acid",
    "CH3COOOH": "weak acid", "CH3CO3H": "weak acid",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Ionic:
    """An equation at three depths.

    Attributes
    ----------
    full : Equation
        As given.
    ionic : Equation
        Strong electrolytes written as ions.
    net : Equation or None
        Without spectators, in smallest whole numbers; ``None`` when nothing remains.
    spectators : tuple of (int or Fraction, Species)
        Ions that stand unchanged on both sides.
    remarks : tuple of str
        What was left whole, and why.
    """

    full: Equation
    ionic: Equation
    net: Equation | None
    spectators: tuple[tuple[int | Fraction, Species], ...]
    remarks: tuple[str, ...]

    def __str__(self) -> str:
        lines = [f"full:  {self.full}", f"ionic: {self.ionic}", f"net:   {self.net or 'no reaction'}"]
        if self.spectators:
            lines.append("spectators: " + ", ".join(str(s) for _, s in self.spectators))
        return "\n".join([*lines, *(f"  {remark}" for remark in self.remarks)])


def _bare(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


def soluble(cation: Species, anion: Species) -> bool:
    """Say whether a salt of these two ions dissolves well in water, by the usual textbook rules."""
    plus, minus = str(_bare(cation)), str(_bare(anion))
    if plus in _ALWAYS:
        return True
    if minus in _SPARING:
        return plus not in _SPARING[minus]
    if minus in _ALWAYS_ANIONS:
        return True
    if minus in _ONLY:
        return plus in _ONLY[minus]
    # Complex anions of metals stay dissolved only with alkali cations; so do carbonates, phosphates...
    return False


def ions_in_water(species: Species) -> tuple[Ions | None, str]:
    """The ions a species gives in water, or ``None`` with the reason it stays whole."""
    name = species.formula
    if species.phase in (Phase.SOLID, Phase.GAS):
        return None, ""
    ions = ions_of(species)
    if ions is None:
        kind = _WEAK.get(name)
        return None, f"{species} left whole: {kind}" if kind else ""
    if species.phase is Phase.LIQUID:
        return None, f"{species} left whole: a liquid, not a solution"
    if name in _WEAK_SALTS:
        return None, f"{species} left whole: dissolves as molecules"
    cations = [ion for _, ion in ions if ion.charge > 0]
    anions = [ion for _, ion in ions if ion.charge < 0]
    if species.phase is not Phase.AQUEOUS and not all(soluble(c, a) for c in cations for a in anions):
        return None, f"{species} left whole: hardly soluble"
    return ions, ""


def dissolve(equation: str | Equation) -> Ionic:
    """Write a full equation in ionic and net ionic form.

    Parameters
    ----------
    equation : str or Equation
        With its coefficients.  A typed phase decides; without one, solubility rules do.

    Returns
    -------
    Ionic

    Examples
    --------
    >>> print(dissolve("AgNO3 + NaCl -> AgCl + NaNO3").net)
    Ag^+ + Cl^- -> AgCl
    """
    full = equation if isinstance(equation, Equation) else Equation.parse(equation)
    remarks: list[str] = []
    totals: list[dict[Species, Fraction]] = []
    for side in (full.reactants, full.products):
        total: dict[Species, Fraction] = {}
        for count, species in side:
            ions, remark = ions_in_water(species)
            if remark:
                remarks.append(remark)
            phase = species.phase
            for times, ion in ions or ((1, species),):
                shown = ion
                if ions is not None and phase is Phase.AQUEOUS:
                    shown = ion.with_phase(Phase.AQUEOUS if ion.charge else Phase.LIQUID)
                total[shown] = total.get(shown, Fraction(0)) + Fraction(count) * times
        totals.append(total)
    left, right = totals
    spectators = []
    net_left, net_right = dict(left), dict(right)
    for species in list(net_left):
        common = min(net_left[species], net_right.get(species, Fraction(0)))
        if common:
            if net_left[species] == net_right[species]:
                spectators.append((plain(common), species))
            for total in (net_left, net_right):
                total[species] -= common
                if not total[species]:
                    del total[species]
    net = None if not (net_left and net_right) else _equation(net_left, net_right).reduced()
    return Ionic(full, _equation(left, right), net, tuple(spectators), tuple(dict.fromkeys(remarks)))


def _equation(left: Mapping[Species, Fraction], right: Mapping[Species, Fraction]) -> Equation:
    return Equation.of(
        [(plain(count), species) for species, count in left.items()],
        [(plain(count), species) for species, count in right.items()],
    )


def salt_of(cation: Species, anion: Species) -> Species:
    """The neutral compound of two ions, such as Fe2(SO4)3 from Fe^3+ and SO4^2-; H+ gives the acid.

    Raises
    ------
    DomainError
        If the charges are not of opposite sign.
    """
    if cation.charge <= 0 or anion.charge >= 0:
        raise DomainError(
            f"{cation} and {anion} do not make a salt", hint="name a cation first and an anion second"
        )
    if str(_bare(cation)) == "H^+" and str(_bare(anion)) == "OH^-":
        return Species.parse("H2O")
    common = gcd(cation.charge, -anion.charge)
    plus, minus = -anion.charge // common, cation.charge // common
    organic_last = anion.formula.endswith("COO") or anion.formula.endswith("COO)")
    head, tail = _part(cation, plus), _part(anion, minus)
    return Species.parse(tail + head if organic_last else head + tail)


def _part(ion: Species, times: int) -> str:
    formula = ion.formula
    if times == 1:
        return formula
    groups = tree(formula)
    if groups is not None and len(groups) == 1 and groups[0].symbol and groups[0].count == 1:
        return f"{formula}{times}"
    if "(" in formula:
        return f"[{formula}]{times}"
    return f"({formula}){times}"


def with_counter_ions(
    net: str | Equation,
    *,
    cation: str | Mapping[str, str] = "K^+",
    anion: str | Mapping[str, str] = "SO4^2-",
) -> Equation:
    """Write a net ionic equation as a full one with chosen counter-ions.

    Parameters
    ----------
    net : str or Equation
        Balanced ionic equation without electrons.
    cation, anion : str or mapping of str to str
        Counter-ion for every anion and for every cation; a mapping names it ion by ion, with the
        key ``"*"`` for the rest.

    Returns
    -------
    Equation
        Balanced, in smallest whole numbers, with the same net reaction.

    Raises
    ------
    DomainError
        If the net equation does not balance, holds electrons, or no full equation exists with
        these counter-ions.

    Examples
    --------
    >>> net = "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"
    >>> print(with_counter_ions(net, cation="K^+", anion="SO4^2-"))
    2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> 2 MnSO4 + 5 Fe2(SO4)3 + 8 H2O + K2SO4
    """
    equation = net if isinstance(net, Equation) else Equation.parse(net)
    if equation.residual():
        raise DomainError(f"{equation} does not balance", hint="balance() or complete() it first")
    everything = [s for _, s in equation.reactants + equation.products]
    if any(not species.elements for species in everything):
        raise DomainError(
            "a half-reaction has no full equation", hint="combine it with another half-reaction first"
        )
    left = [_clothed(s, cation, anion) for _, s in equation.reactants]
    right = [_clothed(s, cation, anion) for _, s in equation.products]
    free = _leftovers(equation, left, right, cation, anion)
    vector = _matched(equation, left, right, free)
    if vector is None:
        raise DomainError(
            f"no full equation of {equation} exists with these counter-ions",
            hint="choose other counter-ions; acids need their own anion, such as anion='NO3^-'",
        )
    return vector


def _counter(ion: Species, chosen: str | Mapping[str, str]) -> Species:
    if isinstance(chosen, str):
        return Species.parse(chosen)
    wanted = chosen.get(str(_bare(ion)), chosen.get("*"))
    if wanted is None:
        raise DomainError(
            f"no counter-ion was given for {ion}", hint=f'add "{_bare(ion)}" or "*" to the mapping'
        )
    return Species.parse(wanted)


def _clothed(species: Species, cation: str | Mapping[str, str], anion: str | Mapping[str, str]) -> Species:
    if species.charge > 0:
        return salt_of(_bare(species), _counter(species, anion))
    if species.charge < 0:
        return salt_of(_counter(species, cation), _bare(species))
    return species


def _leftovers(
    equation: Equation,
    left: list[Species],
    right: list[Species],
    cation: str | Mapping[str, str],
    anion: str | Mapping[str, str],
) -> list[Species]:
    """Salts of one counter-ion with another, or with an ion already present: they may be left over."""
    terms = equation.reactants + equation.products
    plus = {_counter(s, cation) for _, s in terms if s.charge < 0}
    minus = {_counter(s, anion) for _, s in terms if s.charge > 0}
    made_minus = {_bare(s) for _, s in equation.products if s.charge < 0}
    made_plus = {_bare(s) for _, s in equation.products if s.charge > 0}
    pairs = {(one, other) for one in plus for other in minus | made_minus}
    pairs |= {(one, other) for one in plus | made_plus for other in minus}
    found = []
    for one, other in sorted(pairs, key=lambda pair: (str(pair[0]), str(pair[1]))):
        salt = salt_of(one, other)
        if salt not in left and salt not in right and salt not in found:
            found.append(salt)
    return found


def _matched(
    equation: Equation, left: list[Species], right: list[Species], free: list[Species]
) -> Equation | None:
    """Solve for the salts, holding every clothed species to its share in the net equation."""
    lefts, rights = list(dict.fromkeys(left)), list(dict.fromkeys(right))
    both = [s for s in lefts if s in rights]
    loose = [*free, *both]
    lefts = [s for s in lefts if s not in both]
    rights = [s for s in rights if s not in both]
    if not lefts or not rights:
        return None
    bare = System(lefts, rights, loose)  # only for the places of the columns
    anchors = []
    for side, clothed in ((equation.reactants, left), (equation.products, right)):
        for (count, species), salt in zip(side, clothed, strict=True):
            if clothed.count(salt) == 1 and salt not in both:
                per = 1
                if species.charge:
                    inside = {ion: int(n) for n, ion in ions_of(salt) or ()}
                    per = inside.get(_bare(species), 1)
                anchors.append((bare.species.index(salt), per, int(Fraction(count))))
    rows = []
    for (j, per, count), (k, other_per, other_count) in pairwise(anchors):
        row = [0] * bare.width
        row[j] = per * other_count
        row[k] = -other_per * count
        rows.append(row)
    # Fewest left-over salts first: none, then one, then two.
    for size in range(min(len(free), 3) + 1):
        for chosen in combinations(free, size):
            for extra in (rows, []):
                keep = [bare.species.index(s) for s in (*lefts, *rights, *chosen, *both)]
                narrowed = [[row[j] for j in keep] for row in extra]
                system = System(lefts, rights, [*chosen, *both], narrowed)
                basis = system.basis()
                if len(basis) != 1:
                    continue
                vector = basis[0] if system.fits(basis[0]) else [-value for value in basis[0]]
                if system.fits(vector):
                    full = system.equation(vector)
                    if dissolve_formally(full) == dissolve_formally(equation):
                        return full
    return None


def dissolve_formally(equation: Equation) -> Equation | None:
    """Net equation with every salt split, soluble or not, in smallest whole numbers."""
    totals: dict[Species, Fraction] = {}
    for sign, side in ((1, equation.reactants), (-1, equation.products)):
        for count, species in side:
            for times, ion in ions_of(species) or ((1, species),):
                bare = _bare(ion)
                totals[bare] = totals.get(bare, Fraction(0)) + sign * Fraction(count) * times
    left = {s: n for s, n in totals.items() if n > 0}
    right = {s: -n for s, n in totals.items() if n < 0}
    return _equation(left, right).reduced() if left and right else None
