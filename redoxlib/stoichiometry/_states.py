"""Facts behind oxidation numbers: electronegativity order, usual ranges, species with unlike sites.

References
----------
P. Karen, P. McArdle, J. Takats, Comprehensive definition of oxidation state (IUPAC Recommendations
2016), Pure Appl. Chem. 88 (2016) 831-839, and Toward a comprehensive definition of oxidation state
(IUPAC Technical Report), Pure Appl. Chem. 86 (2014) 1017-1081: the definition (heteronuclear bonds
to the partner of higher Allen electronegativity, homonuclear bonds shared) and several examples.
L. C. Allen, J. Am. Chem. Soc. 111 (1989) 9003; J. B. Mann, T. L. Meek, L. C. Allen, J. Am. Chem.
Soc. 122 (2000) 2780: the electronegativities.  Recalled, not re-read; only their order is used.
Site values not among the IUPAC examples were derived here from the usual Lewis formula.
Ranges of oxidation states: general inorganic textbooks (Greenwood and Earnshaw, Chemistry of the
Elements, 2nd ed.; Housecroft and Sharpe, Inorganic Chemistry), recalled.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from redoxlib.stoichiometry._formula import composition, tree

__all__ = ["ELECTRONEGATIVITY", "USUAL_NEGATIVE", "range_of", "special_sites"]

# Allen electronegativities, of the elements that may compete for bond electrons.
ELECTRONEGATIVITY: Mapping[str, float] = MappingProxyType(
    {
        "F": 4.193, "O": 3.610, "N": 3.066, "Kr": 2.966, "Cl": 2.869, "Br": 2.685, "S": 2.589,
        "Xe": 2.582, "C": 2.544, "Se": 2.424, "I": 2.359, "H": 2.300, "P": 2.253, "As": 2.211,
        "Te": 2.158, "B": 2.051, "Ge": 1.994, "Sb": 1.984, "Si": 1.916,
    }
)  # fmt: skip

# The number an element takes when it is the more electronegative partner.
USUAL_NEGATIVE: Mapping[str, int] = MappingProxyType(
    {
        "F": -1, "O": -2, "N": -3, "Cl": -1, "Br": -1, "I": -1, "S": -2, "C": -4, "Se": -2, "Te": -2,
        "P": -3, "As": -3, "Sb": -3, "Si": -4, "Ge": -4, "B": -3,
    }
)  # fmt: skip

_RANGES = """
H -1 1|Li 0 1|Na -1 1|K -1 1|Rb 0 1|Cs -1 1|Fr 0 1|Be 0 2|Mg 0 2|Ca 0 2|Sr 0 2|Ba 0 2|Ra 0 2
B -5 3|Al -2 3|Ga -5 3|In -5 3|Tl -5 3|C -4 4|Si -4 4|Ge -4 4|Sn -4 4|Pb -4 4|N -3 5|P -3 5|As -3 5
Sb -3 5|Bi -3 5|O -2 2|S -2 6|Se -2 6|Te -2 6|Po -2 6|F -1 0|Cl -1 7|Br -1 7|I -1 7|At -1 7
He 0 0|Ne 0 0|Ar 0 0|Kr 0 2|Xe 0 8|Rn 0 6|Sc 0 3|Y 0 3|La 0 3|Ti -1 4|Zr 0 4|Hf 0 4|V -3 5|Nb -3 5
Ta -3 5|Cr -4 6|Mo -4 6|W -4 6|Mn -3 7|Tc -3 7|Re -3 7|Fe -4 6|Ru -4 8|Os -4 8|Co -3 5|Rh -3 6|Ir -3 9
Ni -2 4|Pd 0 4|Pt -2 6|Cu -2 4|Ag -2 3|Au -3 5|Zn -2 2|Cd -2 2|Hg -2 2|Ce 0 4|Pr 0 5|Nd 0 4|Pm 0 3
Sm 0 3|Eu 0 3|Gd 0 3|Tb 0 4|Dy 0 4|Ho 0 3|Er 0 3|Tm 0 3|Yb 0 3|Lu 0 3|Ac 0 3|Th 0 4|Pa 0 5|U 0 6
Np 0 7|Pu 0 8|Am 0 7|Cm 0 6|Bk 0 4|Cf 0 4|Es 0 3|Fm 0 3|Md 0 3|No 0 3|Lr 0 3
"""

# spelling | element=site,site,...  (the rest by rule) | remark
_SPECIAL = """
H2O2|O=-1,-1|peroxide: the oxygen-oxygen bond is shared
HO2^-|O=-1,-1|peroxide: the oxygen-oxygen bond is shared
O2^2-|O=-1,-1|peroxide: the oxygen-oxygen bond is shared
O2^-|O=-1/2,-1/2|superoxide: average of two equal atoms
HO2|O=-1/2,-1/2|average: one oxygen carries the hydrogen, so the bond formula gives -1 and 0
O3^-|O=-1/3,-1/3,-1/3|ozonide: average of three atoms
O2^+|O=1/2,1/2|dioxygenyl: average of two equal atoms
OF2|O=2|oxygen is positive beside fluorine
O2F2|O=1,1|oxygen is positive beside fluorine
HOF|O=0|oxygen lies between hydrogen (+1) and fluorine (-1)
S2O3^2-|S=5,-1|bond formula with one S-S bond: central +5, terminal -1; older textbooks: +6 and -2; average +2
HS2O3^-|S=5,-1|bond formula with one S-S bond: central +5, terminal -1; older textbooks: +6 and -2; average +2
H2S2O3|S=5,-1|bond formula with one S-S bond: central +5, terminal -1; older textbooks: +6 and -2; average +2
S3O6^2-|S=5,5,0|two sulfonate ends +5, the sulfur between them 0
S4O6^2-|S=5,5,0,0|two sulfonate ends +5, the two sulfurs between them 0; average +5/2
H2S4O6|S=5,5,0,0|two sulfonate ends +5, the two sulfurs between them 0; average +5/2
S5O6^2-|S=5,5,0,0,0|two sulfonate ends +5, the three sulfurs between them 0; average +2
S2O5^2-|S=5,3|bond formula with one S-S bond: +5 and +3; many textbooks give +4 to both
S2O8^2-|S=6,6;O=-1,-1,-2,-2,-2,-2,-2,-2|one peroxo bridge: two O at -1, six at -2
HS2O8^-|S=6,6;O=-1,-1,-2,-2,-2,-2,-2,-2|one peroxo bridge: two O at -1, six at -2
H2S2O8|S=6,6;O=-1,-1,-2,-2,-2,-2,-2,-2|one peroxo bridge: two O at -1, six at -2
HSO5^-|S=6;O=-1,-1,-2,-2,-2|one peroxo group: two O at -1, three at -2
SO5^2-|S=6;O=-1,-1,-2,-2,-2|one peroxo group: two O at -1, three at -2
H2SO5|S=6;O=-1,-1,-2,-2,-2|one peroxo group: two O at -1, three at -2
P2O8^4-|P=5,5;O=-1,-1,-2,-2,-2,-2,-2,-2|one peroxo bridge: two O at -1, six at -2
C2O6^2-|C=4,4;O=-1,-1,-2,-2,-2,-2|one peroxo bridge: two O at -1, four at -2
CO4^2-|C=4;O=-1,-1,-2,-2|one peroxo group: two O at -1, two at -2
BO3^-|B=3;O=-1,-1,-2|perborate written as one unit: two O at -1
CrO5|Cr=6;O=-1,-1,-1,-1,-2|two peroxo groups: four O at -1, one at -2
CrO8^3-|Cr=5;O=-1,-1,-1,-1,-1,-1,-1,-1|four peroxo groups
S2^2-|S=-1,-1|disulfide: the sulfur-sulfur bond is shared
S3^2-|S=-1,-1,0|polysulfide: the ends -1, the atom between them 0
S4^2-|S=-1,-1,0,0|polysulfide: the ends -1, the atoms between them 0
S5^2-|S=-1,-1,0,0,0|polysulfide: the ends -1, the atoms between them 0
S6^2-|S=-1,-1,0,0,0,0|polysulfide: the ends -1, the atoms between them 0
N3^-|N=1,-1,-1|bond formula N=N=N: central +1, ends -1; average -1/3
HN3|N=1,-1,-1|bond formula: the nitrogen between the others +1, the two ends -1; average -1/3
N2O|N=2,0|bond formula NNO: the nitrogen beside oxygen +2, the end one 0; average +1
N2O3|N=4,2|bond formula ON-NO2: +2 and +4; average +3
C3O2|C=2,2,0|bond formula OCCCO: the ends +2, the middle 0; average +4/3
I3^-|I=-1/3,-1/3,-1/3|average of three; in the symmetric bond formula the ends are -1/2 and the middle 0
Br3^-|Br=-1/3,-1/3,-1/3|average of three; in the symmetric bond formula the ends are -1/2 and the middle 0
Cl3^-|Cl=-1/3,-1/3,-1/3|average of three; in the symmetric bond formula the ends are -1/2 and the middle 0
Fe3O4|Fe=3,3,2|mixed: one iron(II), two iron(III); average +8/3
Mn3O4|Mn=3,3,2|mixed: one manganese(II), two manganese(III); average +8/3
Co3O4|Co=3,3,2|mixed: one cobalt(II), two cobalt(III); average +8/3
Pb3O4|Pb=4,2,2|mixed: two lead(II), one lead(IV); average +8/3
Pb2O3|Pb=4,2|mixed: one lead(II), one lead(IV); average +3
Sb2O4|Sb=5,3|mixed: one antimony(III), one antimony(V); average +4
U3O8|U=6,5,5|mixed: two uranium(V), one uranium(VI); average +16/3
AgO|Ag=2|average: the solid holds equal silver(I) and silver(III)
CuFeS2|Cu=1;Fe=3;S=-2,-2|chalcopyrite: copper(I), iron(III) by measurement; the formula alone does not decide
Cu5FeS4|Cu=1,1,1,1,1;Fe=3;S=-2,-2,-2,-2|bornite: copper(I), iron(III); the formula alone does not decide
FeAsS|Fe=2;As=-1;S=-1|arsenopyrite read as iron(II) and AsS^2-; iron(III) and AsS^3- is also found
FeS2|Fe=2;S=-1,-1|pyrite: iron(II) and disulfide
CaC2|C=-1,-1|acetylide: the carbon-carbon bond is shared
C2^2-|C=-1,-1|acetylide: the carbon-carbon bond is shared
Al4C3|C=-4,-4,-4|methanide
CN^-|C=2;N=-3|
HCN|C=2;N=-3|
OCN^-|C=4;N=-3|
HOCN|C=4;N=-3|
SCN^-|C=4;N=-3;S=-2|Allen electronegativity puts S above C
HSCN|C=4;N=-3;S=-2|Allen electronegativity puts S above C
C2N2|C=3,3;N=-3,-3|
(CN)2|C=3,3;N=-3,-3|
ClCN|C=4;N=-3;Cl=-1|
BrCN|C=4;N=-3;Br=-1|
ICN|C=2;N=-3;I=1|Allen electronegativity puts C above I; many textbooks give I -1 and C +4
NOCl|N=3;Cl=-1|convention of nitrosyl compounds; by Allen electronegativity N +1, Cl +1
NO2Cl|N=5;Cl=-1|convention; by Allen electronegativity N +3, Cl +1
NHCl2|N=-3;Cl=1,1|Allen electronegativity puts N above Cl; the Pauling scale would turn the signs
NH2Cl|N=-3;Cl=1|Allen electronegativity puts N above Cl; the Pauling scale would turn the signs
NCl3|N=-3;Cl=1,1,1|Allen electronegativity puts N above Cl; the Pauling scale would turn the signs
H3PO3|P=3|hydrogen on phosphorus counted +1 as usual; by Allen electronegativity it is -1 and P +5
H2PO3^-|P=3|hydrogen on phosphorus counted +1 as usual; by Allen electronegativity it is -1 and P +5
HPO3^2-|P=3|hydrogen on phosphorus counted +1 as usual; by Allen electronegativity it is -1 and P +5
H3PO2|P=1|hydrogen on phosphorus counted +1 as usual; by Allen electronegativity it is -1 and P +5
H2PO2^-|P=1|hydrogen on phosphorus counted +1 as usual; by Allen electronegativity it is -1 and P +5
PH3|P=-3|hydrogen counted +1 as usual; P and H are almost equally electronegative
PH4^+|P=-3|hydrogen counted +1 as usual; P and H are almost equally electronegative
P2H4|P=-2,-2|hydrogen counted +1 as usual; P and H are almost equally electronegative
AsH3|As=-3|hydrogen counted +1 as usual; by Allen electronegativity H is -1 and As +3
SbH3|Sb=-3|hydrogen counted +1 as usual; by Allen electronegativity H is -1 and Sb +3
Fe(CN)5NO^2-|Fe=2;N=-3,-3,-3,-3,-3,3;C=2,2,2,2,2|nitrosyl counted as NO+; the charge on iron is a convention
FeNO^2+|Fe=1;N=3|nitrosyl counted as NO+; the charge on iron is a convention
NOHSO4|N=3;S=6|nitrosyl cation and hydrogensulfate
Hg2^2+|Hg=1,1|the mercury-mercury bond is shared
K2Cr2O8|Cr=6,6;O=-1,-1,-2,-2,-2,-2,-2,-2|one peroxo bridge
"""

Sites = dict[str, tuple[tuple[Fraction, int | Fraction], ...]]


def _key(spelling: str) -> tuple[frozenset[tuple[str, int]], int]:
    atoms, _, mark = spelling.partition("^")
    groups = tree(atoms)
    if groups is None:
        raise ValueError(f"the table of sites has an unreadable entry {spelling!r}")
    charge = 0
    if mark:
        charge = int(mark[:-1] or "1") * (1 if mark[-1] == "+" else -1)
    return frozenset(composition(groups).items()), charge


def counted(numbers: list[Fraction]) -> tuple[tuple[Fraction, int | Fraction], ...]:
    """Sites as (number, count), highest number first."""
    return tuple((value, numbers.count(value)) for value in sorted(set(numbers), reverse=True))


@cache
def _special_table() -> dict[tuple[frozenset[tuple[str, int]], int], tuple[Sites, str]]:
    table: dict[tuple[frozenset[tuple[str, int]], int], tuple[Sites, str]] = {}
    for line in _SPECIAL.strip().splitlines():
        spelling, assignments, remark = line.split("|")
        sites: Sites = {}
        for assignment in assignments.split(";"):
            symbol, _, values = assignment.partition("=")
            sites[symbol] = counted([Fraction(value) for value in values.split(",")])
        table[_key(spelling)] = sites, remark
    return table


def special_sites(atoms: frozenset[tuple[str, int]], charge: int) -> tuple[Sites, str] | None:
    """Sites of a species whose atoms of one element differ, with the remark that goes with them."""
    return _special_table().get((atoms, charge))


@cache
def _ranges() -> dict[str, tuple[int, int]]:
    found = {}
    for entry in _RANGES.replace("\n", "|").strip("|").split("|"):
        symbol, low, high = entry.split()
        found[symbol] = int(low), int(high)
    return found


def range_of(symbol: str) -> tuple[int, int] | None:
    """Lowest and highest oxidation number known for an element; ``None`` when not tabulated."""
    return _ranges().get(symbol)
