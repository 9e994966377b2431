"""Textbook redox equations for timing, species only; answers are checked elsewhere."""

from __future__ import annotations

UNIQUE = (
    "KMnO4 + HCl -> KCl + MnCl2 + Cl2 + H2O",
    "KMnO4 + FeSO4 + H2SO4 -> K2SO4 + MnSO4 + Fe2(SO4)3 + H2O",
    "K2Cr2O7 + FeSO4 + H2SO4 -> Cr2(SO4)3 + Fe2(SO4)3 + K2SO4 + H2O",
    "Cu + HNO3 -> Cu(NO3)2 + NO + H2O",
    "Zn + HNO3 -> Zn(NO3)2 + NH4NO3 + H2O",
    "MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O",
    "Cr2O7^2- + I^- + H^+ -> Cr^3+ + I2 + H2O",
    "MnO4^- + C2O4^2- + H^+ -> Mn^2+ + CO2 + H2O",
    "IO3^- + I^- + H^+ -> I2 + H2O",
    "BrO3^- + Br^- + H^+ -> Br2 + H2O",
    "S2O3^2- + I2 -> S4O6^2- + I^-",
    "Cl2 + OH^- -> Cl^- + ClO3^- + H2O",
    "MnO2 + HCl -> MnCl2 + Cl2 + H2O",
    "P4 + NaOH + H2O -> NaH2PO2 + PH3",
    "FeS2 + O2 -> Fe2O3 + SO2",
    "As2S3 + HNO3 + H2O -> H3AsO4 + H2SO4 + NO",
    "CrI3 + KOH + Cl2 -> K2CrO4 + KIO4 + KCl + H2O",
    "K4Fe(CN)6 + KMnO4 + H2SO4 -> KHSO4 + Fe2(SO4)3 + MnSO4 + HNO3 + CO2 + H2O",
    "C2H5OH + K2Cr2O7 + H2SO4 -> CH3COOH + Cr2(SO4)3 + K2SO4 + H2O",
    "Fe + O2 -> Fe2O3",
    "C3H8 + O2 -> CO2 + H2O",
    "NH3 + O2 -> NO + H2O",
    "Pb + PbO2 + H2SO4 -> PbSO4 + H2O",
    "Al + NaOH + H2O -> NaAl(OH)4 + H2",
    "KClO3 + HCl -> KCl + Cl2 + H2O",
    "Na2S2O8 + MnSO4 + H2O -> NaMnO4 + Na2SO4 + H2SO4",
)
FAMILIES = (
    "KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O",
    "KClO3 + HCl -> KCl + Cl2 + ClO2 + H2O",
    "O3 + KI + H2O -> KOH + I2 + O2",
    "NaClO + H2O2 -> NaCl + O2 + H2O",
    "KMnO4 + H2S + H2SO4 -> K2SO4 + MnSO4 + S + H2O",
)
WIDE = (
    # 20 and 24 species over eight and nine elements.
    "KMnO4 + FeSO4 + H2SO4 + HCl + H2O2 + KCl + NaClO + NaOH + K2Cr2O7 + Na2SO3"
    " -> MnSO4 + Fe2(SO4)3 + K2SO4 + Na2SO4 + Cl2 + O2 + H2O + NaCl + Cr2(SO4)3 + FeCl3",
    "KMnO4 + FeSO4 + H2SO4 + HCl + H2O2 + KCl + NaClO + NaOH + K2Cr2O7 + Na2SO3 + KI + HNO3"
    " -> MnSO4 + Fe2(SO4)3 + K2SO4 + Na2SO4 + Cl2 + O2 + H2O + NaCl + Cr2(SO4)3 + FeCl3 + I2 + NO",
)
IMPOSSIBLE = (
    "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+",
    "KMnO4 + HCl -> KCl + MnCl2 + H2O",
    "Cu + HNO3 -> Cu(NO3)2 + NO",
    "H2O2 + KI -> I2 + K2SO4 + H2O",
    "Al + NaOH -> NaAlO2 + H2",
    "MnO^4- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O",
)
