"""Ions and molecules that text may be taken for, and the oxidation numbers that make a charge plausible.

These lists only decide which of several readings is likelier; a species outside them is read
all the same.  Membership is common knowledge of inorganic chemistry and carries no numbers.

May import: the formula reader of this package.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from redoxlib.notation._elements import ORDER
from redoxlib.notation._formula import composition

__all__ = ["common", "is_metal", "known", "known_spelling", "plausible", "range_of"]

Atoms = tuple[tuple[str, int | Fraction], ...]

_IONS = """
H^+ D^+ Li^+ Na^+ K^+ Rb^+ Cs^+ Ag^+ Tl^+ Cu^+ Au^+ In^+ H^- D^-
Be^2+ Mg^2+ Ca^2+ Sr^2+ Ba^2+ Ra^2+ Zn^2+ Cd^2+ Hg^2+ Hg2^2+ Fe^2+ Mn^2+ Co^2+ Ni^2+ Cu^2+ Cr^2+ V^2+ Ti^2+
Sn^2+ Pb^2+ Ge^2+ Pd^2+ Pt^2+ Eu^2+ Sm^2+ Yb^2+ Ag^2+ Mo^2+ Ru^2+ Rh^2+ Os^2+ Cd2^2+ Fe^4+
Al^3+ Ga^3+ In^3+ Tl^3+ Sc^3+ Y^3+ La^3+ Ce^3+ Pr^3+ Nd^3+ Pm^3+ Sm^3+ Eu^3+ Gd^3+ Tb^3+ Dy^3+ Ho^3+ Er^3+
Tm^3+ Yb^3+ Lu^3+ Fe^3+ Cr^3+ Mn^3+ Co^3+ Ni^3+ V^3+ Ti^3+ Bi^3+ Sb^3+ As^3+ Au^3+ Ru^3+ Rh^3+ Ir^3+ Mo^3+
B^3+ U^3+ Np^3+ Pu^3+ Am^3+ Os^3+ Tc^4+ Ru^4+ Ir^4+ Pt^4+ Pd^4+
Sn^4+ Pb^4+ Ce^4+ Ti^4+ Zr^4+ Hf^4+ Th^4+ U^4+ Np^4+ Pu^4+ V^4+ Mn^4+ Ge^4+ Tb^4+ V^5+ As^5+ Sb^5+ Bi^5+
Nb^5+ Ta^5+
F^- Cl^- Br^- I^- At^- O^2- S^2- Se^2- Te^2- Po^2- N^3- P^3- As^3- Sb^3- C^4-
NH4^+ PH4^+ H3O^+ H3S^+ H5O2^+ N2H5^+ N2H6^2+ NH3OH^+ NO^+ NO2^+ CH3NH3^+
VO^2+ VO2^+ V(OH)4^+ UO2^2+ UO2^+ NpO2^+ NpO2^2+ PuO2^+ PuO2^2+ TiO^2+ ZrO^2+ BiO^+ SbO^+ AsO^+ PbOH^+
CrO^3+
FeOH^2+ Fe(OH)2^+ FeOH^+ MnOH^+ MnOH^2+ AlOH^2+ Al(OH)2^+ ZnOH^+ CuOH^+ CaOH^+ MgOH^+ HgOH^+ CrOH^2+
Cr(OH)2^+ NiOH^+ CoOH^+
FeCl^2+ FeCl2^+ FeCl^+ CrCl^2+ CrCl2^+ AlF^2+ AlF2^+ FeF^2+ FeF2^+ FeSCN^2+ Fe(SCN)2^+ FeSO4^+ FeNO^2+
CuCl^+ CdCl^+ HgCl^+
Fe(H2PO4)^2+ FeHPO4^+ Fe(NO)^2+ Hg2OH^+ FeI^2+ FeBr^2+
OH^- HO2^- O2^- O2^2- O3^- O^- S2^2- S3^2- S4^2- S5^2- S6^2- S8^2- S3^- HS^- HSe^- HTe^- NH2^- NH^2- N3^-
P2^4-
ClO^- ClO2^- ClO3^- ClO4^- BrO^- BrO2^- BrO3^- BrO4^- IO^- IO2^- IO3^- IO4^- IO6^5- IO5^3- H2IO6^3- H3IO6^2-
H4IO6^- HIO6^4- I2O9^4-
I3^- I5^- I7^- Br3^- Br5^- Cl3^- ICl2^- ICl4^- IBr2^- I2Br^- I2Cl^- BrCl2^- Br2Cl^- BrF4^- ClF4^- ICl^-
HF2^- HCl2^- FHF^-
NO2^- NO3^- N2O2^2- HN2O2^- NO^- NO4^- ONOO^- N2O3^2- HONO^+ NHOH^- NO4^3-
SO3^2- SO4^2- S2O3^2- S2O4^2- S2O5^2- S2O6^2- S2O7^2- S2O8^2- S3O6^2- S4O6^2- S5O6^2- S6O6^2- SO5^2- SO2^2-
S2O2^2-
HSO3^- HSO4^- HSO5^- HS2O3^- HS2O4^- HSO2^- HS2O8^- HS2^- HS2O5^- HS2O7^- SO3F^- SO3Cl^- NH2SO3^- N(SO3)2^3-
ON(SO3)2^2-
SeO3^2- SeO4^2- HSeO3^- HSeO4^- TeO3^2- TeO4^2- HTeO3^- TeO6^6- H4TeO6^2- H5TeO6^- SeCN^-
PO4^3- HPO4^2- H2PO4^- PO3^3- HPO3^2- H2PO3^- PO2^3- H2PO2^- PO3^- P2O7^4- HP2O7^3- H2P2O7^2- H3P2O7^-
P3O10^5- P3O9^3- P4O12^4- P2O6^4- P2O8^4- PO5^3- PF6^- HPO5^2-
AsO4^3- HAsO4^2- H2AsO4^- AsO3^3- HAsO3^2- H2AsO3^- AsO2^- AsO3^- AsS4^3- AsS3^3- AsS2^- As2S4^2- AsO3S^3-
AsH4^+ AsF6^-
SbO4^3- SbO3^- SbO2^- SbO3^3- Sb(OH)6^- Sb(OH)4^- SbS4^3- SbS3^3- SbCl4^- SbCl6^- SbF6^- SbS2^- SbCl6^3-
SbCl5^2- BiO3^- BiCl4^- BiI4^- BiO2^- BiOH^2+ Bi(OH)2^+
CO3^2- HCO3^- CO4^2- HCO4^- C2O6^2- C2O4^2- HC2O4^- CO2^- C2^2- CS3^2- CN^- OCN^- SCN^- CNO^- HCOO^-
CH3COO^- C2H5O^- CH3O^- C6H5O^- C6H5COO^- C4H4O6^2- HC4H4O6^- C6H5O7^3- HC6H5O7^2- H2C6H5O7^- CH3CO3^-
C3H5O3^- CH2ClCOO^- CCl3COO^- CF3COO^- C2H3^- C3H3O4^-
C4H2O4^2- C3H2O4^2- C2HO3^- C8H4O4^2- HC8H4O4^- C18H35O2^- C2H5COO^- CH3S^- C2H5S^- C6H7O6^- C3H3O3^-
C7H5O3^- C6H5SO3^- CH3SO3^- CF3SO3^- CH3C6H4SO2NCl^- C5H5NH^+ C6H5NH3^+ C2H5NH3^+ C4O4^2- C2H3O3^- C3O5^2-
C6H5N2^+ C2H2O4^- HOOCCOO^-
BO2^- BO3^3- B4O7^2- B(OH)4^- BH4^- BF4^- BO3^- B2(OH)4(O2)2^2- B5O8^- H2BO3^- HBO3^2- BCl4^- H4BO4^-
SiO3^2- SiO4^4- H3SiO4^- HSiO3^- SiF6^2- Si2O5^2- H2SiO4^2- Si2O7^6- GeO3^2- GeO4^4-
AlO2^- Al(OH)4^- AlH4^- AlF6^3- AlCl4^- AlO3^3- Al(OH)6^3- Al2Cl7^- AlF4^- AlBr4^- GaO2^- Ga(OH)4^- GaCl4^-
InCl4^- TlCl4^- TlCl2^- LiAlH4^-
SnO2^2- SnO3^2- Sn(OH)3^- Sn(OH)4^2- Sn(OH)6^2- SnCl3^- SnCl4^2- SnCl6^2- SnS3^2- SnS2^2- HSnO2^- SnF6^2-
SnF3^- SnBr6^2- SnOH^+
PbO2^2- PbO3^2- PbO4^4- Pb(OH)3^- Pb(OH)4^2- PbCl3^- PbCl4^2- PbI4^2- Pb(OH)6^2- HPbO2^- PbCl6^2- PbI3^-
PbCl^+
ZnO2^2- Zn(OH)4^2- Zn(OH)3^- Zn(NH3)4^2+ Zn(CN)4^2- ZnCl4^2- HZnO2^- BeO2^2- Be(OH)4^2- BeF4^2- Zn(H2O)6^2+
Zn(H2O)4^2+ CdI4^2- CdCl4^2- Cd(CN)4^2- Cd(NH3)4^2+ Cd(OH)4^2- HgI4^2- HgCl4^2- Hg(CN)4^2- HgBr4^2- HgS2^2-
HgI3^- Hg(SCN)4^2- Hg(NH3)2^2+ Hg(NH3)4^2+ Cd(NH3)6^2+ Cd(H2O)6^2+
CrO4^2- Cr2O7^2- HCrO4^- CrO2^- CrO3^3- Cr(OH)4^- Cr(OH)6^3- HCr2O7^- CrO8^3- Cr(H2O)6^3+ Cr(H2O)6^2+
Cr(CN)6^3- Cr(NH3)6^3+ CrO3Cl^- CrO4^3- CrF6^3- Cr(C2O4)3^3- Cr2O7^3- CrCl6^3- CrO5^- Cr2O12^2- Cr3O10^2-
Cr(SCN)6^3- Cr(H2O)5Cl^2+ Cr(H2O)4Cl2^+ Cr(NH3)5Cl^2+ Cr(H2O)5OH^2+
MnO4^- MnO4^2- MnO4^3- MnO3^2- MnO3^- MnO2^- Mn(H2O)6^2+ Mn(CN)6^4- Mn(CN)6^3- MnCl4^2- MnF6^2- Mn(OH)4^2-
Mn(OH)6^2- Mn(OH)3^- MnCl5^2- MnCl6^2- Mn(H2P2O7)3^3- Mn(C2O4)3^3- MnF5^2- HMnO4^- MnO3^+ TcO4^- ReO4^-
ReO4^2- ReCl6^2- Re2Cl8^2- TcO4^2-
FeO4^2- FeO2^- FeO2^2- FeO4^3- FeO3^2- Fe(CN)6^3- Fe(CN)6^4- Fe(OH)4^- Fe(OH)6^3- Fe(OH)3^- Fe(OH)4^2-
Fe(H2O)6^2+ Fe(H2O)6^3+ FeCl4^- FeCl4^2- FeF6^3- Fe(SCN)6^3- Fe(CN)5NO^2- Fe(C2O4)3^3- Fe(SCN)4^- FeCl6^3-
FeCl5^2- HFeO2^- HFeO4^- Fe(CO)4^2- Fe(H2O)5OH^2+ Fe(H2O)5NO^2+ Fe(H2O)5SCN^2+ FeCl3^- HFe(CN)6^3-
Fe2(OH)2^4+ FeF5^2- FeF4^- Fe(PO4)2^3- Fe(CN)5^3- Fe(CN)5H2O^3- Fe(C2O4)2^- Fe2(OH)4^2+
Co(NH3)6^3+ Co(NH3)6^2+ Co(CN)6^3- Co(CN)6^4- Co(NO2)6^3- CoCl4^2- Co(H2O)6^2+ Co(H2O)6^3+ Co(SCN)4^2-
Co(OH)4^2- CoF6^3- Co(NH3)5Cl^2+ Co(NH3)5H2O^3+ Co(C2O4)3^3- Co(CN)5^3- Co(NH3)4Cl2^+ Co(NH3)5NO2^2+
Co(NH3)4CO3^+ Co(OH)3^- CoO2^- Co(OH)6^3- Co(NH3)4^2+ Co(NH3)5^2+
Ni(NH3)6^2+ Ni(CN)4^2- Ni(H2O)6^2+ NiCl4^2- Ni(CN)4^4- NiF6^2- Ni(OH)4^2- Ni(NH3)4^2+ Ni(OH)3^- NiO2^-
Ni(CN)5^3-
Cu(NH3)4^2+ Cu(NH3)2^+ Cu(CN)2^- Cu(CN)4^3- Cu(CN)3^2- CuCl2^- CuCl4^2- CuCl3^- CuCl3^2- CuI2^- Cu(H2O)6^2+
Cu(H2O)4^2+ Cu(OH)4^2- Cu(NH3)4(H2O)2^2+ CuBr4^2- CuO2^2- Cu(CN)4^2- Cu(OH)3^- CuBr2^- CuF6^3- Cu(SCN)2^-
Cu(S2O3)2^3- Cu(S2O3)3^5- CuS4O6^- Cu(NH3)2^2+ CuO2^- Cu(OH)4^- Cu(C4H4O6)2^2-
Ag(NH3)2^+ Ag(CN)2^- Ag(S2O3)2^3- AgCl2^- AgBr2^- AgI2^- AgO^- Ag(OH)2^- Ag(SCN)2^- AgI3^2- AgCl3^2-
Ag(SCN)4^3- AgCl4^3- AgO^+ AgF4^- Ag(S2O3)^- Ag(S2O3)3^5- Ag(OH)4^- Ag(CN)3^2- AgS^- AgI4^3- Ag(SO3)2^3-
Au(CN)2^- AuCl4^- AuCl2^- Au(CN)4^- AuBr4^- Au(OH)4^- AuI2^- Au(S2O3)2^3- AuBr2^- AuI4^- Au(SCN)2^-
Au(SCN)4^- AuO2^- AuF6^- AuS^- AuCl^- AuO3^3- PtCl4^2- PtCl6^2- PdCl4^2- PdCl6^2- Pt(CN)4^2- Pt(NH3)4^2+
Pt(OH)6^2- PtBr6^2- PtF6^- PtCl3NH3^- PtBr4^2- PtI6^2- Pt(NH3)6^4+ PdBr4^2- Pd(NH3)4^2+ Pd(CN)4^2- PtF6^2-
RhCl6^3- Rh(NH3)6^3+ IrCl6^2- IrCl6^3- RuO4^- RuO4^2- RuCl6^2- OsO4^2- Ru(NH3)6^2+ Ru(NH3)6^3+ RuCl5^2-
OsO4(OH)2^2- Os(OH)6^- OsCl6^2- IrBr6^2- Ru(NH3)5Cl^2+ Rh(H2O)6^3+ Ru(CN)6^4- Os(CN)6^4- OsO5^2-
VO3^- VO4^3- V2O7^4- V10O28^6- V4O9^2- HVO4^2- H2VO4^- VOSO4^+ VO2^2- V3O9^3- VO^+ VOH^2+ V(H2O)6^2+
V(H2O)6^3+ V(CN)6^4- V(CN)6^3- V(C2O4)3^3- VO(O2)^+ VO2Cl2^- HV2O5^- VCl4^- V(O2)^3+ VO3^2- V4O12^4-
MoO4^2- Mo7O24^6- MoO2^2+ HMoO4^- MoS4^2- MoO3^+ Mo2O7^2- MoO^3+ MoO2^+ MoO4^3- Mo(CN)8^3- Mo(CN)8^4-
MoCl6^3- Mo(SCN)6^3- Mo2^4+ PMo12O40^3- SiMo12O40^4- Mo8O26^4- Mo6O19^2- MoOCl5^2- WO4^2- W2O7^2- HWO4^-
PW12O40^3- W(CN)8^4- W(CN)8^3- WO2^2+ WS4^2- NbO3^- NbO4^3- TaO3^- NbF7^2- TaF7^2- NbO^3+
TiO3^2- TiF6^2- TiO2^2+ TiOH^2+ TiOH^3+ TiCl6^2- Ti(OH)2^2+ Ti(H2O)6^3+ TiO4^4- HTiO3^- Ti(OH)3^+ H2TiO4^2-
TiCl4^- Ti(O2)^2+ TiOOH^+ ZrF6^2- ZrF7^3- ZrO3^2- HfO^2+ UO4^2- U2O7^2- UO2(CO3)3^4- UO2(CO3)2^2- UO2OH^+
UO2NO3^+ UOH^3+ Ce(OH)^3+ CeOH^3+ CeSO4^2+ Ce(SO4)3^2- Ce(NO3)6^2- Ce(SO4)2^- Ce(NO3)6^3- Ce(OH)2^2+ XeO6^4-
HXeO4^- HXeO6^3- H2XeO6^2- XeO4^2- XeF5^+ XeF^+ ThF6^2- AmO2^2+ AmO2^+
NH2OH2^+ S2O^2- S4^2+ S8^2+ HPO2^2- S7O6^2- S10^2- S7^2- CH3Hg^+ C2H5O2^- C2H3O2^- HS3^- NCl2^- NHCl^-
NBr2^- NSO^- NHSO3^2- N3S^- CS2N3^- HN2^+ NS^+ SCl3^+ PCl4^+ PCl6^- PBr4^+ ICl2^+ IF6^- IF4^- ClF2^+ HgNH2^+
Hg2NH2O^+
"""

# Radical ions that are met by name in oxidation chemistry: read without a remark when written out.
_RADICALS = """
SO4^- SO3^- SO5^- CO3^- S2O3^- S2^- S4O6^3- Cl2^- Br2^- I2^- (SCN)2^- NO3^2- NO2^2- PO4^2- HPO4^- H2O^+
ClOH^- BrOH^- IOH^- N2^- N2O^- SO2^- C2O4^3- H2^- NH3^+ ClO3^2- BrO3^2- IO3^2- H2O2^+ O4^- O2^+ HOCl^-
HOBr^- (CN)2^- N3^2- CO^- S2O4^- SeO3^- PO3^2- CH2O^- CH3^+ CH3^- C6H5^- OH^+ Cl^+ Br^+ I^+ H3^+ S^4+ S^6+
N^5+ P^5+ As2^4- Cl^5+ Cl^7+ I^5+ I^7+ C^4+ Si^4+ Cr^6+ Mn^7+ Mn^6+ Mn^5+ Cr^4+ Cr^5+ Co^4+ Ni^4+ Cu^3+
Fe^6+ Mo^4+ Mo^5+ Mo^6+ W^6+ Re^7+ U^5+ U^6+ Np^5+ Pu^6+ Se^4+ Te^4+ Fe^+ Mn^+ Co^+ Ni^+ Zn^+ Cd^+ Hg^+ Pb^+
Au^2+ Na^- SO4^3- Al^+ Mg^+ Ca^+ Tl^2+ H2^+ I2^+ Br2^+ Cl2^+ ClO2^+ BrO2^+ IO2^+ IO^+ SnO^2+
"""

_NEUTRAL = """
H2 D2 N2 O2 O3 F2 Cl2 Br2 I2 At2 S2 S4 S6 S7 S8 Se8 Se6 Te2 P4 P2 As4 As2 Sb4 C60 C70 C2 Na2 Li2 K2 O H N C
S P F Cl Br I Si B
He Ne Ar Kr Xe Rn Hg
H2O H2O2 D2O HDO D2 HO2 OH H2S H2S2 H2S4 H2Se H2Te NH3 ND3 N2H4 N2H2 PH3 P2H4 AsH3 SbH3 BiH3 SiH4 Si2H6 GeH4
SnH4 BH3 B2H6 B4H10 B5H9 CH4
HF HCl HBr HI DCl HN3 HCN HNC HClO HClO2 HClO3 HClO4 HBrO HBrO2 HBrO3 HBrO4 HIO HIO2 HIO3 HIO4 H5IO6 H4I2O9
H7I3O14 HMnO4 H2MnO4 H2CrO4 H2Cr2O7 H2FeO4 HTcO4 HReO4
HNO HNO2 HNO3 HNO4 H2N2O2 H2NO3 NH2OH NH2Cl NHCl2 NCl3 NBr3 NI3 NF3 N2F4 NH2Br NHBr2 NH2 NH CH3 NO NO2 N2O
N2O3 N2O4 N2O5 NOCl NOBr NOF NO2Cl NO2F ClNO2 NSF
SO SO2 SO3 S2O S2O3 S2Cl2 SCl2 SCl4 SF2 SF4 SF6 S2F10 SOCl2 SO2Cl2 SOF2 SO2F2 S4N4 H2SO3 H2SO4 H2S2O3 H2S2O4
H2S2O5 H2S2O6 H2S2O7 H2S2O8 H2S4O6 H2SO5 HSO3Cl HSO3F HSO3NH2 S2Br2 D2SO4
SeO2 SeO3 H2SeO3 H2SeO4 SeF4 SeF6 SeCl4 Se2Cl2 TeO2 TeO3 H2TeO3 H2TeO4 H6TeO6 TeF6 TeCl4
P4O6 P4O10 P2O3 P2O5 P2O4 PCl3 PCl5 PBr3 PBr5 PI3 PF3 PF5 POCl3 PSCl3 P4S3 P4S10 P2S5 H3PO2 H3PO3 H3PO4 HPO3
H4P2O7 H4P2O6 H5P3O10 P2I4 HPO2 P4S5 P4S7
As2O3 As2O5 As4O6 As4O10 As2S3 As2S5 As4S4 AsCl3 AsCl5 AsF3 AsF5 H3AsO3 H3AsO4 HAsO2 HAsO3 As4S6 AsI3 AsBr3
H4As2O7 AsS Sb2O3 Sb2O4 Sb2O5 Sb4O6 Sb2S3 Sb2S5 SbCl3 SbCl5 SbF5 SbF3 SbOCl HSbO3 HSb(OH)6 H3SbO4 HSbO2
Bi2O3 Bi2O5 Bi2S3 BiCl3 BiOCl Bi(OH)3 Bi(NO3)3 NaBiO3 KBiO3 BiI3 Bi2O4 SbI3 BiONO3 BiBr3 BiF3 BiF5
CO CO2 C3O2 CS2 COS CCl4 CHCl3 CH2Cl2 CH3Cl CF4 CBr4 CI4 CH3I CHI3 CH3Br COCl2 H2CO3 H2CO4 C2N2 ClCN BrCN
ICN HSCN HNCS HCNO HOCN (SCN)2 C2H2 C2H4 C2H6 C3H4 C3H6 C3H8 C4H8 C4H10 C5H12 C6H14 C6H6 C7H8 C8H10 C8H18
C10H8 C6H12 C6H10 C2H2O4 CH4O CH2O CH2O2 C2H6O C2H4O C2H4O2 C3H8O C3H6O C6H12O6 C12H22O11 C6H6O C7H6O2
C6H8O6 C6H6O6 C3H8O3 C4H6O6 C6H8O7 C2H6O2 C2H2O2 CN4H8 CH4N2O CH4N2S C6H12N4 C6H7N C6H5NO2 C7H6O C7H8O
C6H4O2 C6H6O2 C14H10 C14H8O2 C4H10O C4H8O C6H10O C6H12O C8H10O C8H8O C6H10O4 C2H6S C2H6OS C2H6S2 CH5N C2H7N
C3H9N HCOOH HC2H3O2 H2C2O4 C3H6O3 C3H4O3 C4H4O4 C2HCl3O C2H4Br2 C6H5Br C2H5Cl C2H5Br C2H6O4S C3H5N3O9
C7H5N3O6
B2O3 H3BO3 HBO2 BCl3 BF3 BBr3 BN H2B4O7 Na2B4O7 NaBO2 NaBO3 NaBH4 KBH4 LiBH4 LiAlH4 B4C BI3 KBF4 NaBF4 HBF4
SiO2 SiO SiC SiCl4 SiF4 H2SiF6 H2SiO3 H4SiO4 Na2SiO3 Na4SiO4 Si3N4 CaSiO3 SiHCl3 Mg2Si K2SiO3 Si2Cl6 Na2SiF6
SiS2 GeO2 GeO GeCl4 GeS2 GeS
Al2O3 Al(OH)3 AlCl3 Al2Cl6 AlBr3 AlI3 AlF3 Al2S3 Al(NO3)3 Al2(SO4)3 AlN AlP Al4C3 NaAlO2 KAlO2 NaAl(OH)4
KAl(OH)4 Na3AlF6 KAl(SO4)2 AlPO4 LiAlO2 NaAlH4 Al2Se3 Ga2O3 GaCl3 GaAs GaN In2O3 InCl3 Tl2O Tl2O3 TlCl TlCl3
TlOH TlI Tl2SO4 Tl2S Al2Br6 Al2O
Li2O LiOH LiH Li3N LiCl LiBr LiI LiF Li2CO3 LiNO3 Li2SO4 LiClO LiCoO2 LiMnO2 Li2S LiClO4 LiFePO4 Li2O2
LiMn2O4 LiNH2 LiC6 Li3PO4
Na2O Na2O2 NaO2 NaOH NaH NaCl NaBr NaI NaF Na2S Na2S2 Na2S4 Na2S5 NaHS Na2SO3 NaHSO3 Na2SO4 NaHSO4 Na2S2O3
Na2S2O4 Na2S2O5 Na2S2O7 Na2S2O8 Na2S4O6 Na2CO3 NaHCO3 NaCN NaOCN NaSCN NaN3 NaNO2 NaNO3 NaNH2 NaClO NaClO2
NaClO3 NaClO4 NaBrO NaBrO2 NaBrO3 NaBrO4 NaIO NaIO3 NaIO4 Na5IO6 Na3H2IO6 Na2H3IO6 Na2C2O4 NaHC2O4 HCOONa
CH3COONa C2H3NaO2 C2H5ONa CH3ONa Na3PO4 Na2HPO4 NaH2PO4 NaPO3 Na4P2O7 NaH2PO2 Na2HPO3 Na3PO3 Na3P Na3N
NaMnO4 Na2MnO4 Na2MnO3 Na2CrO4 Na2Cr2O7 NaCrO2 Na3CrO3 NaCr(OH)4 Na3Cr(OH)6 Na2FeO4 NaFeO2 Na2ZnO2
Na2Zn(OH)4 Na2SnO2 Na2SnO3 NaHSnO2 Na2Sn(OH)6 Na2PbO2 Na2PbO3 NaAsO2 Na3AsO3 Na3AsO4 Na2HAsO4 NaH2AsO4
NaH2AsO3 Na2HAsO3 Na3AsS4 Na3AsS3 Na3SbS4 Na3SbS3 Na3SbO4 NaSbO3 NaSb(OH)6 NaVO3 Na3VO4 Na2MoO4 Na2WO4
Na2SeO3 Na2SeO4 Na2TeO4 Na2TeO3 Na2Se NaAg(CN)2 NaAu(CN)2 Na3Fe(CN)6 Na4Fe(CN)6 Na2PtCl6 NaAuCl4 NaKC4H4O6
Na2S3 Na2S6 Na2S8 Na2Te Na4XeO6 NaReO4 NaTcO4 Na3Co(NO2)6 Na2N2O2 NaO3 Na2SO5 NaHSO5 NaHO2 Na2TiO3 Na2U2O7
NaPb NaHg Na3Bi Na2HPO4 NaSH Na2CS3 NaBiO3
K2O K2O2 KO2 KO3 KOH KH KCl KBr KI KF KI3 KHF2 K2S K2S2 K2S5 KHS K2SO3 KHSO3 K2SO4 KHSO4 K2S2O3 K2S2O5
K2S2O7 K2S2O8 K2S4O6 KHSO5 K2CO3 KHCO3 KCN KOCN KSCN KN3 KNO2 KNO3 KNH2 KClO KClO2 KClO3 KClO4 KBrO KBrO3
KBrO4 KIO KIO3 KIO4 KH(IO3)2 K2C2O4 KHC2O4 HCOOK CH3COOK K3PO4 K2HPO4 KH2PO4 KPO3 K4P2O7 KH2PO2 KH2PO3
K2HPO3 KMnO4 K2MnO4 K3MnO4 K2MnO3 K2CrO4 K2Cr2O7 KCrO2 K3CrO3 KCr(OH)4 K3Cr(OH)6 K3CrO8 KCrO3Cl KCr(SO4)2
K2FeO4 KFeO2 K3Fe(CN)6 K4Fe(CN)6 KFeFe(CN)6 K2ZnO2 K2Zn(OH)4 K2SnO2 K2SnO3 K2Sn(OH)6 K2PbO2 K2PbO3 K3AsO3
K3AsO4 K2HAsO4 KH2AsO4 KH2AsO3 KAsO2 K3AsS4 KSbO3 KVO3 K3VO4 K2MoO4 K2WO4 K2SeO3 K2SeO4 K2TeO3 K2TeO4
KAg(CN)2 KAu(CN)2 KAuCl4 K2PtCl4 K2PtCl6 K2TiF6 KReO4 KTcO4 K2HgI4 K3Co(NO2)6 K4Co(CN)6 K3Co(CN)6 KICl4
KIBr2 K2TiO3 KC8 K2Ni(CN)4 K2Cu(CN)3 K3Cu(CN)4 KMnF4 K2MnF6 K2NiF6 K2ReCl6 KC2H3O2 KHC4H4O6 K2UO4 K3IrCl6
K2IrCl6 K2RuO4 KRuO4 K2OsO4 KSb(OH)6 KSbC4H4O7 K2BeO2 KBF4 K2Hg(SCN)4 KCNO KAl(OH)4 K2Cd(CN)4 K2TeO3 K3NiF6
KPF6
Rb2O Rb2O2 RbOH RbCl RbO2 Cs2O CsOH CsCl CsO2 CsI CsF CsICl2 CsAuCl4 Cs2SO4 RbI Cs2CO3
NH4Cl NH4Br NH4I NH4F NH4OH NH4NO2 NH4NO3 NH4HS (NH4)2S (NH4)2SO3 NH4HSO3 (NH4)2SO4 NH4HSO4 (NH4)2S2O8
(NH4)2S2O3 (NH4)2CO3 NH4HCO3 NH4CN NH4SCN NH4OCN NH4ClO4 NH4ClO3 (NH4)2Cr2O7 (NH4)2CrO4 NH4MnO4 NH4VO3
(NH4)2MoO4 (NH4)6Mo7O24 (NH4)2C2O4 CH3COONH4 (NH4)3PO4 (NH4)2HPO4 NH4H2PO4 (NH4)2Fe(SO4)2 (NH4)2Ce(NO3)6
(NH4)4Ce(SO4)4 NH4Al(SO4)2 NH4Fe(SO4)2 NH4Cr(SO4)2 N2H5Cl N2H6SO4 NH3OHCl (NH3OH)2SO4 NH4IO3 NH4BrO3 NH4N3
(NH4)2PtCl6 (NH4)2SnCl6 (NH4)3AsS4 (NH4)3SbS4 (NH4)2SnS3 (NH4)3AsO4 NH4MgPO4 (NH4)3PMo12O40 (NH4)2S2 NH4HF2
NH4BF4 (NH4)2SO5
BeO Be(OH)2 BeCl2 BeF2 BeSO4 Be2C MgO Mg(OH)2 MgCl2 MgBr2 MgI2 MgF2 MgSO4 Mg(NO3)2 MgCO3 Mg3N2 MgS MgH2
Mg3(PO4)2 Mg2P2O7 MgNH4PO4 Mg(ClO4)2 Mg(HCO3)2 MgO2 Mg3P2 Mg(ClO)2 Mg3(AsO4)2 MgC2O4
CaO CaO2 Ca(OH)2 CaCl2 CaBr2 CaI2 CaF2 CaSO4 CaSO3 CaS CaCO3 Ca(HCO3)2 CaC2 CaH2 Ca3N2 Ca3P2 Ca3(PO4)2
CaHPO4 Ca(H2PO4)2 Ca(NO3)2 Ca(ClO)2 CaOCl2 Ca(OCl)Cl Ca(ClO2)2 Ca(ClO3)2 CaC2O4 CaCN2 CaCrO4 Ca(HSO3)2
Ca(HS)2 CaS2O3 CaS5 Ca(CN)2 Ca(IO3)2 CaMnO4 CaTiO3 CaFe2O4 Ca(CH3COO)2 CaSi2 Ca5(PO4)3F Ca5(PO4)3OH
Ca3(AsO4)2 CaCu3 CaWO4 Ca2SiO4 Ca(BrO)2 CaN2 Ca(MnO4)2 Ca3(AsO3)2 CaO4
SrO SrCl2 SrCO3 SrSO4 Sr(OH)2 SrO2 Sr(NO3)2 BaO BaO2 Ba(OH)2 BaCl2 BaSO4 BaSO3 BaCO3 BaS BaCrO4 Ba(NO3)2
Ba(MnO4)2 BaMnO4 Ba(ClO3)2 Ba(ClO4)2 Ba(ClO2)2 Ba(IO3)2 BaC2O4 BaF2 Ba3(PO4)2 BaI2 BaBr2 Ba(BrO3)2 BaTiO3
Ba(NO2)2 BaFeO4 BaS2O8 BaS2O3 Ba3N2 Ba2XeO6 BaH2 BaSeO4 Ba(SCN)2 RaCl2 RaSO4
TiO2 TiO TiCl4 TiCl3 TiCl2 Ti2O3 TiI4 TiOSO4 Ti2(SO4)3 Ti(SO4)2 TiF4 TiN TiC FeTiO3 TiOCl2 Ti(OH)3 Ti(OH)4
H2TiO3 TiS2 TiBr4 ZrO2 ZrCl4 ZrSiO4 ZrOCl2 HfO2 HfCl4 Zr(SO4)2 ZrI4 V2O5 V2O4 V2O3 VO2 VO VCl2 VCl3 VCl4
VOCl3 VOCl2 VOSO4 (VO2)2SO4 VSO4 V2(SO4)3 VF5 VF3 H3VO4 HVO3 VOCl VN V2S3 VO2Cl Nb2O5 NbCl5 Ta2O5 TaCl5 NbO2
Nb2O3 NbF5 TaF5
Cr2O3 CrO CrO2 CrO3 CrO5 Cr(OH)3 Cr(OH)2 CrCl2 CrCl3 CrBr3 CrI3 CrF3 CrSO4 Cr2(SO4)3 Cr(NO3)3 Cr2S3 CrO2Cl2
FeCr2O4 PbCrO4 Ag2CrO4 CrPO4 Ag2Cr2O7 Cr(CO)6 CrF6 CrF5 CrN CuCrO4 CuCr2O4 CrCl4 Cr2(CrO4)3 CrOOH Hg2CrO4
Cr(CH3COO)3 Cr(CH3COO)2 Fe(CrO2)2
MnO MnO2 MnO3 Mn2O3 Mn3O4 Mn2O7 Mn(OH)2 Mn(OH)3 Mn(OH)4 MnOOH MnO(OH) MnO(OH)2 MnCl2 MnCl3 MnCl4 MnBr2 MnI2
MnF2 MnF3 MnF4 MnSO4 Mn2(SO4)3 Mn(SO4)2 Mn(NO3)2 MnCO3 MnS MnS2 MnC2O4 Mn(CH3COO)2 Mn(CH3COO)3 MnPO4
Mn3(PO4)2 MnHPO4 MnNH4PO4 Mn2P2O7 Mn2(CO)10 Mn(ClO4)2 MnMoO4 MnSiO3 MnSe H2MnO3 MnO3F MnO3Cl MnBi Re2O7 ReO3
ReO2 ReCl5 Re TcO2 Tc2O7 MnTiO3 Mn(IO3)2
FeO Fe2O3 Fe3O4 Fe(OH)2 Fe(OH)3 FeOOH FeO(OH) FeCl2 FeCl3 Fe2Cl6 FeBr2 FeBr3 FeI2 FeI3 FeF2 FeF3 FeSO4
Fe2(SO4)3 Fe(NO3)2 Fe(NO3)3 FeCO3 FeS FeS2 Fe2S3 Fe3S4 FeAsS FeAs FePO4 Fe3(PO4)2 Fe3C FeC2O4 Fe2(C2O4)3
Fe(CO)5 Fe2(CO)9 Fe(SCN)3 Fe4[Fe(CN)6]3 Fe3[Fe(CN)6]2 Fe(CN)2 FeFe(CN)6 FeClO4 Fe(ClO4)3 Fe(ClO4)2 FeCuS2
CuFeS2 FeHSO4 Fe(HSO4)2 FeSiO3 Fe2SiO4 FeWO4 Fe3P FeP FeAsO4 Fe(C2H3O2)3 Fe(CH3COO)2 Fe(CH3COO)3 FeOHSO4
Fe(OH)SO4 Fe2P FeSe FeOCl FeMoO4 FeAlO3 Fe(IO3)3 Fe(CNS)3 H3Fe(CN)6 H4Fe(CN)6 HFeCl4 FeO3 Fe2S Fe2N FeH2 FeB
FeC FeSi FeAl2O4
CoO Co2O3 Co3O4 CoO2 Co(OH)2 Co(OH)3 CoOOH CoCl2 CoCl3 CoSO4 Co2(SO4)3 Co(NO3)2 Co(NO3)3 CoCO3 CoS CoS2
Co2S3 CoF2 CoF3 Co2(CO)8 CoBr2 CoI2 CoC2O4 Co(ClO4)2 CoAs CoAsS Co(CN)2 Co3(AsO4)2 Co3(PO4)2 CoAl2O4 CoAs2
CoAs3 Co(NH3)6Cl3 Co(NH3)6Cl2 Co(CH3COO)2 HCo(CO)4
NiO Ni2O3 NiO2 Ni(OH)2 Ni(OH)3 NiOOH NiO(OH) NiCl2 NiSO4 Ni(NO3)2 NiCO3 NiS NiS2 Ni3S2 Ni3S4 Ni(CO)4 NiF2
NiBr2 NiI2 Ni(CN)2 NiC2O4 NiAs Ni2S3 NiF3 NiF4 Ni3(PO4)2 Ni3O4 NiSb NiSe Ni(ClO4)2 NiSi
CuO Cu2O Cu(OH)2 CuOH CuCl CuCl2 CuBr CuBr2 CuI CuI2 CuF2 CuF CuSO4 Cu2SO4 Cu(NO3)2 CuNO3 CuCO3 Cu2(OH)2CO3
Cu2CO3(OH)2 Cu3(CO3)2(OH)2 CuS Cu2S CuCN Cu(CN)2 CuSCN Cu(SCN)2 Cu(CH3COO)2 CuC2O4 Cu(ClO4)2 Cu3(PO4)2
CuHAsO3 Cu3(AsO4)2 Cu5FeS4 Cu3AsS4 CuSe Cu2Se Cu3P Cu3N CuH Cu2C2 CuCO3.Cu(OH)2 Cu(NH3)4SO4 Cu(NH3)4Cl2
CuCl2.2H2O Cu(IO3)2 CuO2 Cu3As CuFe2O4 CuTe Cu3(OH)2(CO3)2 CuAl2O4 CuSe2 CuCrO4 Cu(BrO3)2 Cu2(OH)3Cl
Cu4(OH)6SO4 CuSiO3 Cu3SbS3
ZnO Zn(OH)2 ZnCl2 ZnBr2 ZnI2 ZnF2 ZnSO4 Zn(NO3)2 ZnCO3 ZnS ZnSe Zn(CN)2 Zn3N2 Zn3P2 Zn3(PO4)2 ZnH2 ZnC2O4
ZnO2 Zn(CH3COO)2 ZnCr2O4 ZnFe2O4 ZnSO3 ZnS2O4 ZnTe Zn3As2 Zn(HSO3)2 ZnAl2O4 Zn2SiO4 Zn(BrO3)2 Zn(ClO3)2
Zn2P2O7 Zn(NH3)4Cl2 Zn(H2PO4)2 ZnSiO3 Zn3(AsO4)2 ZnNH4PO4 CdO Cd(OH)2 CdCl2 CdSO4 Cd(NO3)2 CdS CdCO3 CdSe
CdTe CdI2 CdBr2 Cd(CN)2 HgO Hg2O HgCl2 Hg2Cl2 HgI2 Hg2I2 HgS Hg2S HgSO4 Hg2SO4 Hg(NO3)2 Hg2(NO3)2 HgBr2
Hg2Br2 Hg(CN)2 Hg(CNO)2 Hg(ONC)2 HgNH2Cl Hg2CO3 Hg(SCN)2 Hg2F2 HgF2 HgClO Hg2CrO4 Hg(OH)2 Hg(CH3COO)2
Hg5(IO6)2 Hg(IO3)2 Hg2(IO3)2 HgC2O4 HgSe
Ag2O AgO Ag2O2 Ag2O3 AgOH AgCl AgBr AgI AgF AgF2 AgNO3 AgNO2 Ag2SO4 Ag2SO3 Ag2S Ag2CO3 AgCN AgOCN AgSCN
AgClO AgClO2 AgClO3 AgClO4 AgBrO3 AgIO3 Ag3PO4 Ag3AsO4 Ag2C2O4 AgN3 Ag3N Ag2S2O3 CH3COOAg Ag2C2 AgMnO4
Ag2SeO3 Ag2Se Ag4Fe(CN)6 Ag3AsO3 AgBF4 AgNH2 AgVO3 Ag2MoO4 Ag3Fe(CN)6 AgSbS2 Ag3SbS3 AgIO4 Ag5IO6 Ag(NH3)2Cl
Ag(NH3)2OH Ag(NH3)2NO3 AgFeS2 AgC2H3O2 Ag2Te Ag2SiF6 AgReO4
AuCl AuCl3 Au2O3 AuCN HAuCl4 Au2S3 AuBr3 AuI Au(OH)3 AuF3 Au2O AuI3 Au2Cl6 HAuCl2 AuBr HAuBr4 AuTe2 Au2S
H3AuO3 AuOH Au(CN)3 H2AuCl4 PtCl2 PtCl4 H2PtCl6 H2PtCl4 PtO2 PtF6 Pt(NH3)2Cl2 PtF4 PtS PtS2 PtO PdCl2 PdO
Pd(NO3)2 PdSO4 RuO2 RuO4 RuCl3 OsO4 OsO2 RhCl3 IrO2 IrCl3 Rh2O3 PdI2 PdS Pd(OH)2 OsF6 IrF6 RuF6 RuF5 PtF5
Ir2O3 Rh2(SO4)3 Os OsS2 Rh(NO3)3 H2IrCl6 H3IrCl6 H2PdCl4 H2PdCl6 IrCl4
SnO SnO2 Sn(OH)2 Sn(OH)4 SnCl2 SnCl4 SnF2 SnF4 SnBr2 SnBr4 SnI2 SnI4 SnS SnS2 SnSO4 Sn(SO4)2 Sn(NO3)2
Sn(NO3)4 H2SnO3 H2SnCl6 H2SnCl4 HSnCl3 H4SnO4 SnHPO4 SnC2O4 SnSe Sn(CH3COO)2 H2Sn(OH)6 Sn3(PO4)2 Sn3(PO4)4
H2SnO2 PbO PbO2 Pb2O3 Pb3O4 Pb(OH)2 Pb(OH)4 PbCl2 PbCl4 PbBr2 PbI2 PbF2 PbSO4 Pb(SO4)2 Pb(NO3)2 PbCO3 PbS
Pb(CH3COO)2 Pb(C2H3O2)2 Pb(CH3COO)4 PbC2O4 Pb3(PO4)2 PbMoO4 PbWO4 Pb(N3)2 Pb(OH)Cl PbCrO4 Pb3(AsO4)2 PbHAsO4
Pb(HSO4)2 PbSe PbTe PbSiO3 Pb5(PO4)3Cl Pb5(VO4)3Cl PbF4 Pb3(OH)2(CO3)2 Pb(SCN)2 Pb(IO3)2 Pb(C2H5)4 Pb(CN)2
PbHPO4 PbS2O3 PbClF PbSO3 Pb(ClO2)2 Pb2O PbCO3.PbO Pb(BrO3)2 PbOHCl Pb(ClO4)2 PbS2 H2PbCl6 H2PbO3
MoO2 MoO3 MoS2 MoS3 H2MoO4 MoCl5 MoF6 Mo(CO)6 PbMoO4 Mo2O3 Mo2O5 MoCl3 MoBr3 Mo2S3 MoO2Cl2 Mo(SO4)3 MoCl4
H3PMo12O40 Mo2S5 CaMoO4 Mo2(SO4)3 WO2 WO3 WS2 WCl6 WF6 H2WO4 WC W(CO)6 CaWO4 WO2Cl2 WOCl4 H3PW12O40 W2C UO2
UO3 U3O8 UF4 UF6 UO2F2 UO2(NO3)2 UO2SO4 U(SO4)2 UCl4 UCl3 UCl6 UO2Cl2 UO4 UH3 UC UC2 UC3 U(NO3)4
UO2(CH3COO)2 UO2HPO4 UO2CO3 UBr4 UO2NH4PO4 (NH4)2U2O7 PuO2 PuF4 PuF6 PuF3 PuCl3 NpO2 NpF6 ThO2 ThCl4 ThF4
Th(NO3)4 AmO2
Ce2O3 CeO2 CeCl3 CeF3 CeF4 Ce(SO4)2 Ce2(SO4)3 Ce(NO3)3 Ce(NO3)4 Ce(OH)3 Ce(OH)4 Ce(ClO4)4 Ce2(C2O4)3
Ce2(CO3)3 Ce(IO3)4 Ce(ClO4)3 CePO4 Ce2S3 La2O3 LaCl3 La(OH)3 La(NO3)3 LaF3 La2(CO3)3 LaH3 Nd2O3 Sm2O3 Eu2O3
Eu2(SO4)3 EuSO4 EuO EuCl2 EuCl3 Gd2O3 Pr6O11 Pr2O3 PrO2 Tb4O7 TbO2 Y2O3 YCl3 Y(OH)3 Sc2O3 ScCl3 Yb2O3 Er2O3
Dy2O3 Ho2O3 Nd2(SO4)3 NdF3 SmCl2 SmI2 YbI2 SmI3 YbCl3 Lu2O3 ScF3
XeF2 XeF4 XeF6 XeO3 XeO4 XeOF4 XeO2F2 KrF2 H4XeO6 H2XeO4 XeOF2 XeO2 XePtF6 RnF2 ClF ClF3 ClF5 BrF BrF3 BrF5
BrCl ICl ICl3 I2Cl6 IBr IF IF3 IF5 IF7 OF2 O2F2 Cl2O Cl2O3 Cl2O4 Cl2O5 Cl2O6 Cl2O7 ClO ClO2 Br2O Br2O3 Br2O5
BrO2 BrO I2O4 I2O5 I2O7 I4O9 HOF ClOF3 ClO2F ClO3F FClO3 FNO2 ClNO3 ClNO BrO3F I2O IO
"""


@cache
def _table() -> tuple[
    dict[Atoms, tuple[int, ...]], dict[tuple[Atoms, int], str], frozenset[tuple[Atoms, int]]
]:
    charges: dict[Atoms, tuple[int, ...]] = {}
    spelling: dict[tuple[Atoms, int], str] = {}
    usual: set[tuple[Atoms, int]] = set()
    radicals = frozenset(_RADICALS.split())
    for text in f"{_IONS} {_NEUTRAL} {_RADICALS}".split():
        body, _, script = text.partition("^")
        counts = composition(body)
        if counts is None:
            continue
        atoms = tuple(sorted(counts.items()))
        charge = 0
        if script:
            charge = int(script[:-1] or "1") * (1 if script[-1] == "+" else -1)
        if charge not in charges.get(atoms, ()):
            charges[atoms] = (*charges.get(atoms, ()), charge)
        spelling.setdefault((atoms, charge), body)
        if text not in radicals:
            usual.add((atoms, charge))
    for symbol in ORDER:  # every element is known as itself, whatever ions it also gives
        atoms = ((symbol, 1),)
        if 0 not in charges.get(atoms, ()):
            charges[atoms] = (*charges.get(atoms, ()), 0)
        spelling.setdefault((atoms, 0), symbol)
        usual.add((atoms, 0))
    return charges, spelling, frozenset(usual)


def known() -> dict[Atoms, tuple[int, ...]]:
    """Return composition to the charges it is met with, the commonest first."""
    return _table()[0]


def common(atoms: Atoms, charge: int) -> bool:
    """Whether a species is a usual ion or molecule, not only a radical met in kinetics."""
    return (atoms, charge) in _table()[2]


def known_texts() -> frozenset[str]:
    """Return the usual spellings as they stand in the lists, charge after a caret."""
    return frozenset(f"{_IONS} {_NEUTRAL} {_RADICALS}".split())


def known_spelling(atoms: Atoms, charge: int) -> str | None:
    """Return the usual spelling of a known composition."""
    return _table()[1].get((atoms, charge))


# Lowest and highest oxidation number met outside of curiosities.
_RANGE = """
H -1 1 D -1 1 He 0 0 Li 0 1 Be 0 2 B -3 3 C -4 4 N -3 5 O -2 2 F -1 0 Ne 0 0 Na 0 1 Mg 0 2 Al 0 3 Si -4 4 P
-3 5 S -2 6 Cl -1 7 Ar 0 0 K 0 1 Ca 0 2 Sc 0 3 Ti 0 4 V 0 5 Cr 0 6 Mn 0 7 Fe 0 6 Co 0 4 Ni 0 4 Cu 0 3 Zn 0 2
Ga 0 3 Ge -4 4 As -3 5 Se -2 6 Br -1 7 Kr 0 2 Rb 0 1 Sr 0 2 Y 0 3 Zr 0 4 Nb 0 5 Mo 0 6 Tc 0 7 Ru 0 8 Rh 0 6
Pd 0 4 Ag 0 3 Cd 0 2 In 0 3 Sn -4 4 Sb -3 5 Te -2 6 I -1 7 Xe 0 8 Cs 0 1 Ba 0 2 La 0 3 Ce 0 4 Pr 0 4 Nd 0 3
Pm 0 3 Sm 0 3 Eu 0 3 Gd 0 3 Tb 0 4 Dy 0 3 Ho 0 3 Er 0 3 Tm 0 3 Yb 0 3 Lu 0 3 Hf 0 4 Ta 0 5 W 0 6 Re 0 7 Os 0
8 Ir 0 9 Pt 0 6 Au -1 5 Hg 0 2 Tl 0 3 Pb -4 4 Bi -3 5 Po -2 6 At -1 7 Rn 0 6 Fr 0 1 Ra 0 2 Ac 0 3 Th 0 4 Pa
0 5 U 0 6 Np 0 7 Pu 0 8 Am 0 6 Cm 0 4 Bk 0 4 Cf 0 4 Es 0 3 Fm 0 3 Md 0 3 No 0 3 Lr 0 3
"""


@cache
def _ranges() -> dict[str, tuple[int, int]]:
    words = iter(_RANGE.split())
    return {symbol: (int(low), int(high)) for symbol, low, high in zip(words, words, words, strict=True)}


def range_of(symbol: str) -> tuple[int, int]:
    """Return the lowest and highest usual oxidation number of an element."""
    return _ranges().get(symbol, (0, 8))


_METALS_FROM = frozenset(
    symbol
    for symbol in ORDER
    if symbol not in {"H", "D", "He", "B", "C", "N", "O", "F", "Ne", "Si", "P", "S", "Cl", "Ar", "Ge", "As"}
    and symbol not in {"Se", "Br", "Kr", "Te", "I", "Xe", "At", "Rn", "Ts", "Og"}
)


def is_metal(symbol: str) -> bool:
    """Whether the element is counted as a metal when a reading is judged."""
    return symbol in _METALS_FROM


def _odd_electrons(atoms: Atoms, charge: int) -> bool:
    total = sum(ORDER[symbol] * count for symbol, count in atoms) - charge
    return isinstance(total, int) and total % 2 == 1


def plausible(atoms: Atoms, charge: int) -> bool:
    """Whether usual oxidation numbers can add up to *charge*, without an odd electron in main-group species.

    Oxygen counts as -2 beside any other element but fluorine: peroxides reach the same charge
    through the other element or are in the list of known ions.
    """
    charges = known().get(atoms)
    if charges is not None and charge in charges:
        return True
    if len(atoms) == 1:
        ((symbol, count),) = atoms
        least, most = range_of(symbol)
        return count == 1 and charge != 0 and least <= charge <= most
    low: int | Fraction = 0
    high: int | Fraction = 0
    symbols = dict(atoms)
    for symbol, count in atoms:
        least, most = range_of(symbol)
        if symbol == "O" and "F" not in symbols:
            most = -2
        elif symbol in ("H", "D") and "O" in symbols:
            least = 1
        low += least * count
        high += most * count
    if not low <= charge <= high:
        return False
    metals = any(symbol in _METALS_FROM for symbol, _ in atoms)
    return metals or not _odd_electrons(atoms, charge)
