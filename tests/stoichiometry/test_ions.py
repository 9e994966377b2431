"""ions_of: what a salt, strong acid or strong base splits into."""

from __future__ import annotations

from fractions import Fraction

import pytest

from redoxlib.notation import Phase, Species
from redoxlib.stoichiometry import ions_of

SPLIT = """
KMnO4 = 1 K^+, 1 MnO4^-
Na2S2O8 = 2 Na^+, 1 S2O8^2-
K2S2O8 = 2 K^+, 1 S2O8^2-
FeSO4.7H2O = 1 Fe^2+, 1 SO4^2-, 7 H2O
CuSO4.5H2O = 1 Cu^2+, 1 SO4^2-, 5 H2O
Ca(ClO)2 = 1 Ca^2+, 2 ClO^-
CaOCl2 = 1 Ca^2+, 1 ClO^-, 1 Cl^-
(NH4)2Fe(SO4)2.6H2O = 2 NH4^+, 1 Fe^2+, 2 SO4^2-, 6 H2O
(NH4)2Ce(NO3)6 = 2 NH4^+, 1 Ce^4+, 6 NO3^-
KAl(SO4)2.12H2O = 1 K^+, 1 Al^3+, 2 SO4^2-, 12 H2O
Ce(SO4)2 = 1 Ce^4+, 2 SO4^2-
Sn(SO4)2 = 1 Sn^4+, 2 SO4^2-
Fe2(SO4)3 = 2 Fe^3+, 3 SO4^2-
K2Cr2O7 = 2 K^+, 1 Cr2O7^2-
K2MnO4 = 2 K^+, 1 MnO4^2-
BaMnO4 = 1 Ba^2+, 1 MnO4^2-
NaCN = 1 Na^+, 1 CN^-
Na2S = 2 Na^+, 1 S^2-
MnSO4 = 1 Mn^2+, 1 SO4^2-
K4Fe(CN)6 = 4 K^+, 1 Fe(CN)6^4-
K3Fe(CN)6 = 3 K^+, 1 Fe(CN)6^3-
Fe4[Fe(CN)6]3 = 4 Fe^3+, 3 Fe(CN)6^4-
KHSO5 = 1 K^+, 1 HSO5^-
2KHSO5.KHSO4.K2SO4 = 5 K^+, 2 HSO5^-, 1 HSO4^-, 1 SO4^2-
2Na2CO3.3H2O2 = 4 Na^+, 2 CO3^2-, 3 H2O2
H2SO4 = 2 H^+, 1 SO4^2-
HNO3 = 1 H^+, 1 NO3^-
HCl = 1 H^+, 1 Cl^-
NaOH = 1 Na^+, 1 OH^-
Ba(OH)2 = 1 Ba^2+, 2 OH^-
NH4NO3 = 1 NH4^+, 1 NO3^-
(NH4)2S2O8 = 2 NH4^+, 1 S2O8^2-
BaO2 = 1 Ba^2+, 1 O2^2-
KO2 = 1 K^+, 1 O2^-
FeS2 = 1 Fe^2+, 1 S2^2-
KI3 = 1 K^+, 1 I3^-
Hg2Cl2 = 1 Hg2^2+, 2 Cl^-
VOSO4 = 1 VO^2+, 1 SO4^2-
UO2(NO3)2 = 1 UO2^2+, 2 NO3^-
CH3COONa = 1 Na^+, 1 CH3COO^-
Cu2(OH)2CO3 = 2 Cu^2+, 2 OH^-, 1 CO3^2-
[Cu(NH3)4]SO4 = 1 Cu(NH3)4^2+, 1 SO4^2-
Na2[Fe(CN)5NO] = 2 Na^+, 1 Fe(CN)5NO^2-
NaBO3 = 1 Na^+, 1 BO3^-
NaAl(OH)4 = 1 Na^+, 1 Al(OH)4^-
NaBiO3 = 1 Na^+, 1 BiO3^-
AgCl = 1 Ag^+, 1 Cl^-
NH3OHCl = 1 NH3OH^+, 1 Cl^-
(NH3OH)2SO4 = 2 NH3OH^+, 1 SO4^2-
N2H6SO4 = 1 N2H6^2+, 1 SO4^2-
N2H6Cl2 = 1 N2H6^2+, 2 Cl^-
N2H5Cl = 1 N2H5^+, 1 Cl^-
(N2H5)2SO4 = 2 N2H5^+, 1 SO4^2-
FeNH4(SO4)2 = 1 Fe^3+, 1 NH4^+, 2 SO4^2-
MnFe(SO4)2 = 1 Mn^2+, 1 Fe^2+, 2 SO4^2-
KFe(SO4)2 = 1 K^+, 1 Fe^3+, 2 SO4^2-
[Co(NH3)6]Cl3 = 1 Co(NH3)6^3+, 3 Cl^-
[Ag(NH3)2]Cl = 1 Ag(NH3)2^+, 1 Cl^-
[Ag(NH3)]Cl = 1 Ag(NH3)^+, 1 Cl^-
Hg2(NO3)2 = 1 Hg2^2+, 2 NO3^-
Hg2SO4 = 1 Hg2^2+, 1 SO4^2-
HgSO4 = 1 Hg^2+, 1 SO4^2-
Mn(MnO4)2 = 1 Mn^2+, 2 MnO4^-
K3MnO4 = 3 K^+, 1 MnO4^3-
Ba3(MnO4)2 = 3 Ba^2+, 2 MnO4^3-
MnMoO4 = 1 Mn^2+, 1 MoO4^2-
LiFePO4 = 1 Li^+, 1 Fe^2+, 1 PO4^3-
VO2Cl = 1 VO2^+, 1 Cl^-
VOCl2 = 1 VO^2+, 2 Cl^-
TiOSO4 = 1 TiO^2+, 1 SO4^2-
BiOCl = 1 BiO^+, 1 Cl^-
SbOCl = 1 SbO^+, 1 Cl^-
ZrOCl2 = 1 ZrO^2+, 2 Cl^-
Bi2MoO6 = 2 BiO^+, 1 MoO4^2-
Cu(ClO)2 = 1 Cu^2+, 2 ClO^-
AgClO2 = 1 Ag^+, 1 ClO2^-
NH4ClO2 = 1 NH4^+, 1 ClO2^-
Cu2(OH)3Cl = 2 Cu^2+, 3 OH^-, 1 Cl^-
"""
# Halides that are known, and the charge of the metal in each.
HALIDES = """
AgF 1|AgF2 2|FeCl2 2|FeCl3 3|CuCl2 2|CuCl 1|CrCl3 3|CrCl2 2|MnCl2 2|MnF3 3|CoCl2 2|CoF3 3|NiCl2 2|PbCl2 2
PbF4 4|SnCl2 2|SnF4 4|HgCl2 2|CeCl3 3|CeF4 4|TiCl4 4|TiCl3 3|TiCl2 2|VCl3 3|VCl2 2|BiCl3 3|SbCl3 3
SbCl5 5|AuCl3 3|AuCl 1|PtCl2 2|PtCl4 4|PdCl2 2|TlCl 1|TlCl3 3|InCl3 3|InCl 1|EuCl3 3|EuCl2 2|SmCl3 3
SmCl2 2|YbCl3 3|YbCl2 2|PrCl3 3|TbCl3 3|TbF4 4|DyCl3 3|HoCl3 3|ErCl3 3|TmCl3 3|ThCl4 4|UCl4 4|UCl3 3
ZrCl4 4|HfCl4 4|RhCl3 3|RuCl3 3|IrCl3 3|GeCl2 2|GeCl4 4|MoCl3 3|PuF4 4|PuCl3 3|NpCl4 4|NpF3 3|AmCl3 3
OsCl3 3|OsCl4 4|IrCl4 4|LiCl 1|NaCl 1|KCl 1|RbCl 1|CsI 1|FrCl 1|BeCl2 2|MgCl2 2|CaCl2 2|SrCl2 2|BaCl2 2
RaCl2 2|ZnCl2 2|CdCl2 2|AlCl3 3|ScCl3 3|YCl3 3|LaCl3 3|NdCl3 3|LuF3 3|GdCl3 3|GaCl3 3
"""


@pytest.mark.parametrize("row", HALIDES.replace("\n", "|").strip("|").split("|"))
def test_a_halide_tells_the_charge_of_its_metal(row: str) -> None:
    formula, charge = row.split()
    ions = ions_of(Species.parse(formula))
    assert ions is not None
    ((count, metal), (halides, halide)) = ions
    assert (count, metal.charge) == (1, int(charge))
    assert (halides, halide.charge) == (int(charge), -1)
    assert formula.startswith(next(iter(metal.elements)))


@pytest.mark.parametrize("formula", ["CrO2Cl2", "VOCl3", "MoO2Cl2", "MnO3Cl", "SbOCl3", "FeOCl", "CrO2F2"])
def test_an_oxide_halide_is_a_molecule_and_no_hypochlorite(formula: str) -> None:
    assert ions_of(Species.parse(formula)) is None


@pytest.mark.parametrize("formula", ["LiMn2O4", "CuMn2O4", "ZnMn2O4", "CoFe2O4", "MgCr2O4", "NiCo2O4"])
def test_a_spinel_is_an_oxide_and_no_salt_of_its_own_metal(formula: str) -> None:
    assert ions_of(Species.parse(formula)) is None


def test_peroxynitrous_acid_is_no_nitric_acid() -> None:
    assert ions_of(Species.parse("HOONO")) is None
    assert ions_of(Species.parse("HNO3")) is not None


@pytest.mark.parametrize("row", SPLIT.strip().splitlines())
def test_salts_acids_and_bases_split(row: str) -> None:
    formula, _, right = row.partition(" = ")
    found = ions_of(Species.parse(formula))
    assert found is not None
    wanted = {Species.parse(item.split()[1]): int(item.split()[0]) for item in right.split(", ")}
    assert {ion: count for count, ion in found} == wanted


@pytest.mark.parametrize("row", SPLIT.strip().splitlines())
def test_splitting_conserves_atoms_and_charge(row: str) -> None:
    species = Species.parse(row.partition(" = ")[0])
    total: dict[str, Fraction] = {}
    charge = Fraction(0)
    for count, ion in ions_of(species) or ():
        charge += Fraction(count) * ion.charge
        for symbol, number in ion.elements.items():
            total[symbol] = total.get(symbol, Fraction(0)) + Fraction(count) * number
    assert charge == 0
    assert total == dict(species.elements)


@pytest.mark.parametrize(
    "formula",
    ["MnO2", "Fe2O3", "PbO2", "H2O2", "HClO", "CH3COOH", "NH3", "NH2Cl", "C6H12O6", "PCl5", "SO2", "CO2",
    "Cl2",
     "Cu", "MnO4^-", "HSO4^-", "e^-", "CuFeS2", "CO(NH2)2", "NH4OH", "Fe0.95O", "H2S", "TiO2"],
)  # fmt: skip
def test_molecules_oxides_weak_acids_and_ions_do_not_split(formula: str) -> None:
    assert ions_of(Species.parse(formula)) is None


def test_half_a_molecule_of_crystallisation_is_exact() -> None:
    found = ions_of(Species.parse("Na2CO3.1.5H2O2"))
    assert found is not None
    assert (Fraction(3, 2), Species.parse("H2O2")) in found


def test_a_hydrate_known_by_composition_only_splits_too() -> None:
    found = ions_of(Species.of({"Cu": 1, "S": 1, "O": 9, "H": 10}))
    assert found is not None
    assert {str(ion): count for count, ion in found} == {"Cu^2+": 1, "SO4^2-": 1, "H2O": 5}


def test_phase_is_ignored_and_ions_have_none() -> None:
    found = ions_of(Species.parse("NaCl(s)"))
    assert found is not None
    assert {ion.phase for _, ion in found} == {Phase.UNSTATED}
