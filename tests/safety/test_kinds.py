"""The gate reads composition: salts fall into ions whatever the spelling, isomers stay apart."""

from __future__ import annotations

import pytest

from redoxlib.notation import Species
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._kinds import Kind

K = Kind

HOLDS: list[tuple[str, set[Kind]]] = [
    ("NH4Br", {K.AMMONIUM, K.BROMIDE}),
    ("BrH4N", {K.AMMONIUM, K.BROMIDE}),
    ("(NH4)2SO4", {K.AMMONIUM}),
    ("(NH4)2Fe(SO4)2.6H2O", {K.AMMONIUM, K.IRON2}),
    ("(NH4)2Ce(NO3)6", {K.AMMONIUM, K.CERIUM4, K.NITRATE}),
    ("(NH4)2S2O8", {K.AMMONIUM, K.PERSULFATE}),
    ("NH4OH", {K.AMMONIA}),
    ("FeCl3", {K.IRON3, K.HARD_ACID, K.CHLORIDE}),
    ("FeCl2", {K.IRON2, K.CHLORIDE}),
    ("Fe2(SO4)3", {K.IRON3, K.HARD_ACID}),
    ("KAl(SO4)2.12H2O", {K.HARD_ACID}),
    ("Zn(CN)2", {K.CYANIDE, K.COMPLEX_CYANIDE}),
    ("K4[Fe(CN)6]", {K.COMPLEX_CYANIDE}),
    ("Ni(CN)4^2-", {K.CYANIDE, K.COMPLEX_CYANIDE}),
    ("CuSO4.5H2O", {K.COPPER2}),
    ("Ca(ClO)2", {K.HYPOCHLORITE, K.CALCIUM_HYPOCHLORITE}),
    ("NaClO.5H2O", {K.HYPOCHLORITE}),
    ("Ba(ClO2)2", {K.CHLORITE}),
    ("KClO3", {K.CHLORATE}),
    ("Mg(ClO4)2", {K.PERCHLORATE}),
    ("(KHSO5)2.KHSO4.K2SO4", {K.PEROXYMONOSULFATE, K.SOFT_ACID}),
    ("NaBO3.4H2O", {K.PEROXIDE}),
    ("NaBO3", {K.PEROXIDE}),
    ("(Na2CO3)2.3H2O2", {K.PEROXIDE, K.CARBONATE}),
    ("Na2CO3.1.5H2O2", {K.PEROXIDE, K.CARBONATE}),
    ("Na2O2", {K.PEROXIDE, K.BASE}),
    ("CH4N2O.H2O2", {K.PEROXIDE, K.AMINE}),
    ("MnO2", {K.MANGANESE_DIOXIDE}),
    ("K2Cr2O7", {K.CHROMIUM6, K.DICHROMATE}),
    ("Na2CrO4", {K.CHROMIUM6}),
    ("C3Cl3N3O3", {K.ISOCYANURATE, K.SOFT_ACID}),
    ("NaC3Cl2N3O3", {K.ISOCYANURATE}),
    ("NaC3Cl2N3O3.2H2O", {K.ISOCYANURATE}),
    ("Na2S.9H2O", {K.SULFIDE}),
    ("(NH4)2S", {K.SULFIDE, K.AMMONIUM}),
    ("FeS", {K.SULFIDE}),
    ("NaHSO4.H2O", {K.STRONG_ACID}),
    ("H3O^+", {K.STRONG_ACID}),
    ("Na2S2O3.5H2O", {K.THIOSULFATE}),
    ("Na2S2O5", {K.SULFITE}),
    ("AgN3", {K.AZIDE, K.ENERGETIC}),
    ("NH4ClO4", {K.ENERGETIC}),
    ("NCl3", {K.ENERGETIC}),
    ("NI3", {K.ENERGETIC}),
    ("Mn2O7", {K.ENERGETIC}),
    ("Mg", {K.METAL, K.REACTIVE_METAL}),
    ("Cu", {K.COPPER}),
    ("NaOH", {K.BASE}),
    ("CaO", {K.BASE}),
    ("Na2O", {K.BASE}),
    ("KOCN", {K.CYANATE}),
    ("NH4SCN", {K.THIOCYANATE, K.AMMONIUM}),
    ("KI3", {K.IODINE}),
    ("acetone", {K.ACETONE, K.KETONE}),
    ("CH3CH(OH)CH3", {K.PROPAN2OL, K.SECONDARY_ALCOHOL}),
    ("CH3COOH", {K.CARBOXYLIC, K.WEAK_ACID}),
    ("CH3COOOH", {K.PERACID}),
    ("glycerol", {K.UNLISTED_ORGANIC}),
]

HOLDS += [
    ("NH3OHCl", {K.HYDRAZINE, K.CHLORIDE, K.AMMONIUM, K.HYPOCHLORITE}),
    ("(NH3OH)2SO4", {K.HYDRAZINE}),
    ("NH3OHBr", {K.HYDRAZINE, K.BROMIDE}),
    ("NH3OHI", {K.HYDRAZINE, K.IODIDE}),
    ("N2H6SO4", {K.HYDRAZINE}),
    ("N2H5Cl", {K.HYDRAZINE, K.CHLORIDE}),
    ("N2H6Cl2", {K.HYDRAZINE, K.CHLORIDE}),
    ("Fe3O4", {K.IRON2, K.IRON3}),
    ("MnFe(SO4)2", {K.MANGANESE2, K.IRON2}),
    ("LiN2H5SO4", {K.HYDRAZINE}),
    ("pentan-2-one", {K.KETONE, K.HALOFORM, K.FLAMMABLE}),
    ("cyclopentanol", {K.ALCOHOL, K.SECONDARY_ALCOHOL, K.FLAMMABLE}),
    ("hexanal", {K.ALDEHYDE, K.FLAMMABLE}),
    ("lactic acid", {K.CARBOXYLIC, K.WEAK_ACID}),
    ("Hg2Cl2", {K.MERCURY, K.CHLORIDE}),
    ("(N2H5)2SO4", {K.HYDRAZINE}),
    ("N2H5^+", {K.HYDRAZINE}),
    ("NH3OH^+", {K.HYDRAZINE}),
    ("NH4^+", {K.AMMONIUM}),
    ("H2CrO4", {K.CHROMIUM6, K.DICHROMATE, K.STRONG_ACID}),
    ("H2Cr2O7", {K.CHROMIUM6, K.DICHROMATE, K.STRONG_ACID}),
    ("HCO3^-", {K.CARBONATE}),
    ("HC2O4^-", {K.OXALATE, K.WEAK_ACID}),
    ("O2^2-", {K.PEROXIDE, K.BASE}),
    ("I3^-", {K.IODIDE, K.IODINE}),
    ("Cu2(OH)2CO3", {K.CARBONATE, K.COPPER2}),
    ("Cu2(OH)3Cl", {K.CHLORIDE, K.COPPER2}),
    ("Cu(ClO)2", {K.HYPOCHLORITE, K.COPPER2}),
    ("Zn(ClO)2", {K.HYPOCHLORITE}),
    ("NaHO2", {K.PEROXIDE}),
    ("CaSO4.0.5H2O", {K.INERT}),
    ("Fe0.95O", {K.UNKNOWN}),
    ("[Cu(NH3)4]SO4.H2O", {K.AMMONIA, K.COPPER2}),
    ("[Cu(NH3)4](NO3)2", {K.AMMONIA, K.COPPER2, K.NITRATE}),
    ("Ag(NH3)2NO3", {K.AMMONIA, K.SILVER, K.NITRATE}),
    ("[Ag(NH3)2]^+", {K.AMMONIA, K.SILVER}),
    ("[Ag(NH3)2]OH", {K.AMMONIA, K.SILVER, K.BASE}),
    ("[Co(NH3)6](NO3)3", {K.AMMONIA, K.NITRATE}),
    ("[Co(NH3)6](ClO4)3", {K.AMMONIA, K.PERCHLORATE, K.ENERGETIC}),
    ("[Fe(H2O)6]^3+", {K.IRON3, K.HARD_ACID}),
    ("AuCl3", {K.GOLD}),
    ("Cu(N3)2", {K.AZIDE, K.ENERGETIC}),
    ("AgN3", {K.AZIDE, K.ENERGETIC, K.SILVER}),
    ("LiN3.H2O", {K.AZIDE}),
    ("Ag3N", {K.ENERGETIC}),
    ("Li3N", {K.ENERGETIC}),
]

HOLDS_NOT: list[tuple[str, set[Kind]]] = [
    ("[Cu(NH3)4]SO4.H2O", {K.ENERGETIC, K.AMMONIUM, K.BASE}),
    ("[Cu(NH3)4](NO3)2", {K.AZIDE, K.ENERGETIC, K.HYDRAZINE, K.NITRITE}),
    ("Ag(NH3)2NO3", {K.AZIDE, K.ENERGETIC, K.BASE}),
    ("[Co(NH3)6]Cl3", {K.ENERGETIC, K.STRONG_ACID, K.AMMONIUM}),
    ("[Co(NH3)6](NO3)3", {K.AZIDE, K.HYDRAZINE}),
    ("(NH4)2Cu(SO4)2.6H2O", {K.AMMONIA}),
    ("KAu(CN)2", {K.GOLD}),
    ("K[Ag(CN)2]", {K.SILVER}),
    ("LiN2H5SO4", {K.NITRATE, K.SULFIDE, K.AMMONIUM}),
    ("pentan-2-one", {K.PERACID, K.ALCOHOL, K.ALDEHYDE, K.ACETONE}),
    ("cyclopentanol", {K.PERACID, K.HALOFORM, K.CYCLOHEXANOL}),
    ("hexanal", {K.PERACID, K.KETONE}),
    ("glycerol", {K.PERACID, K.KETONE, K.ALDEHYDE, K.CARBOXYLIC}),
    ("toluene", {K.PERACID, K.ALCOHOL, K.KETONE, K.ALDEHYDE, K.CARBOXYLIC}),
    ("N2H6SO4", {K.AMMONIUM, K.AMMONIA, K.PEROXIDE}),
    ("N2H5Cl", {K.AMMONIUM, K.AMMONIA, K.PEROXIDE, K.STRONG_ACID}),
    ("(NH3OH)2SO4", {K.AMMONIUM, K.AMMONIA, K.PEROXYMONOSULFATE}),
    ("(NH4)2SO4.H2O", {K.HYDRAZINE, K.PEROXYMONOSULFATE}),
    ("H2CrO4", {K.PEROXIDE, K.BASE}),
    ("HCO3^-", {K.ORGANIC, K.UNLISTED_ORGANIC}),
    ("CH3COO^-", {K.ORGANIC, K.UNLISTED_ORGANIC}),
    ("Cu2(OH)2CO3", {K.PEROXIDE, K.BASE}),
    ("Cu2(OH)3Cl", {K.HYPOCHLORITE}),
    ("Cu4(OH)6SO4", {K.PEROXYMONOSULFATE, K.PEROXIDE}),
    ("VOSO4", {K.PEROXYMONOSULFATE}),
    ("UO2SO4", {K.PEROXYMONOSULFATE}),
    ("VOCl2", {K.HYPOCHLORITE}),
    ("CaSO4.0.5H2O", {K.UNKNOWN}),
    ("NaBr", {K.AMMONIUM}),
    ("K4[Fe(CN)6]", {K.CYANIDE, K.IRON2, K.HARD_ACID}),
    ("MnO2", {K.PEROXIDE}),
    ("Fe(OH)3", {K.HARD_ACID, K.BASE}),
    ("CuO", {K.BASE}),
    ("Fe2O3", {K.HARD_ACID, K.BASE}),
    ("NaIO4", {K.PEROXIDE, K.IODATE}),
    ("Na2SO4", {K.SULFIDE, K.SULFITE, K.PERSULFATE, K.STRONG_ACID}),
    ("Na2SO4.10H2O", {K.SULFIDE, K.PEROXIDE, K.STRONG_ACID}),
    ("Na2SO3.7H2O", {K.PEROXIDE, K.SULFIDE}),
    ("FeSO4.7H2O", {K.PEROXIDE, K.SULFIDE, K.IRON3}),
    ("Na2B4O7.10H2O", {K.PEROXIDE}),
    ("KOCN", {K.CYANIDE, K.FULMINATE}),
    ("CuS", {K.SULFIDE}),
    ("C6H12O6", {K.CARBOXYLIC, K.ENERGETIC}),
    ("H3BO3", {K.STRONG_ACID, K.WEAK_ACID}),
    ("CH3COONa", {K.WEAK_ACID, K.CARBOXYLIC, K.UNLISTED_ORGANIC}),
    ("propanal", {K.ACETONE}),
    ("cyanuric acid", {K.ENERGETIC, K.AMINE}),
    ("CO2", {K.TOXIC_GAS}),
]


@pytest.mark.parametrize(("text", "kinds"), HOLDS, ids=[row[0] for row in HOLDS])
def test_a_species_counts_as_what_it_holds(text: str, kinds: set[Kind]) -> None:
    assert kinds <= kinds_of(Species.parse(text))


@pytest.mark.parametrize(("text", "kinds"), HOLDS_NOT, ids=[row[0] for row in HOLDS_NOT])
def test_a_species_does_not_count_as_what_it_only_looks_like(text: str, kinds: set[Kind]) -> None:
    assert not kinds & kinds_of(Species.parse(text))


@pytest.mark.parametrize(
    "text", ["Na^+", "K2SO4", "CaCl2", "ZnSO4.7H2O", "Mg(NO3)2.6H2O", "H2O", "NaH2PO4", "KF"]
)
def test_common_spectators_are_known(text: str) -> None:
    assert Kind.UNKNOWN not in kinds_of(Species.parse(text))


@pytest.mark.parametrize(
    "text",
    [
        "HAuCl4", "H2PtCl6", "HClO3", "HBrO3", "HIO3", "HIO4", "HMnO4", "H2S2O8", "HBF4", "HPF6", "H2SiF6",
        "H2S2O6", "KHF2", "NaHSO4", "NH4HSO4", "KH(IO3)2", "HNO3.H2O", "HCl.H2O", "H3O^+", "H^+",
    ],
)  # fmt: skip
def test_an_acid_of_a_strong_anion_is_a_strong_acid(text: str) -> None:
    assert K.STRONG_ACID in kinds_of(Species.parse(text))


@pytest.mark.parametrize("text", ["NaH2PO4", "NaHSO3", "H3AsO4", "KHC2O4", "HNO2", "CH3COOH", "HClO2"])
def test_an_acid_of_a_weak_anion_is_a_weak_one(text: str) -> None:
    assert K.WEAK_ACID in kinds_of(Species.parse(text))
    assert K.STRONG_ACID not in kinds_of(Species.parse(text))


SALTS = """
LiCl NaCl KCl RbCl CsCl BeCl2 MgCl2 CaCl2 SrCl2 BaCl2 RaCl2 ZnCl2 CdCl2 AlCl3 GaCl3 ScCl3 YCl3 LaCl3
NdCl3 GdCl3 LuCl3 InCl3 FeCl2 FeCl3 CuCl2 CuCl MnCl2 MnCl3 CrCl3 CrCl2 CoCl2 CoCl3 NiCl2 AgCl HgCl2 PbCl2
PbCl4 SnCl2 SnCl4 CeCl3 CeCl4 TiCl4 TiCl3 VCl3 VCl2 VCl4 BiCl3 SbCl3 SbCl5 AsCl3 AuCl3 AuCl PtCl2 PtCl4
PdCl2 PdCl4 TlCl TlCl3 ZrCl4 HfCl4 MoCl4 WCl6 GeCl4 SiCl4 UCl4 ThCl4 RuCl3 RhCl3 IrCl3 NbCl5 TaCl5 ReCl4
PrCl3 SmCl3 EuCl3 TbCl3 DyCl3 HoCl3 ErCl3 TmCl3 YbCl3
"""


@pytest.mark.parametrize("text", SALTS.split())
def test_the_chloride_of_every_common_metal_is_read(text: str) -> None:
    kinds = kinds_of(Species.of(dict(Species.parse(text).elements)))
    assert K.CHLORIDE in kinds
    assert K.UNKNOWN not in kinds


@pytest.mark.parametrize("text", ["NaCl2", "CaCl3", "AlCl2", "FeCl5", "ZnCl"])
def test_a_metal_with_a_charge_it_never_has_is_no_salt(text: str) -> None:
    kinds = kinds_of(Species.of(dict(Species.parse(text).elements)))
    assert K.UNKNOWN in kinds


@pytest.mark.parametrize("text", ["SeO2", "XeF2", "Fe(CO)5", "B2H6"])
def test_what_the_gate_does_not_know_it_says_so(text: str) -> None:
    kinds = kinds_of(Species.parse(text))
    assert Kind.UNKNOWN in kinds or Kind.UNLISTED_ORGANIC in kinds
