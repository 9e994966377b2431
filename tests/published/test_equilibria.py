"""Published compositions of halogen waters and of bleached bromide, each with its own constants."""

from __future__ import annotations

import pytest

from redoxlib.equilibria import equilibrium, interhalogen_at_dose, interhalogen_fraction, system

from ._read import ids, table

ROWS = table("equilibria.csv")


def pairs(text: str) -> dict[str, float]:
    return {name: float(value) for name, _, value in (part.rpartition("=") for part in text.split())}


@pytest.mark.parametrize("row", ROWS, ids=ids(ROWS))
def test_published_composition(row: dict[str, str]) -> None:
    pot = system(row["system"]).with_spectators("Na^+(aq)")
    found = equilibrium(pot, pairs(row["feed"]), fixed=pairs(row["fixed"]))
    value = found.concentration(row["species"])
    if row["quantity"] == "share":
        value /= sum(pairs(row["feed"])[n] for n in pairs(row["feed"]) if not n.startswith("Na"))
    assert value == pytest.approx(float(row["value"]), rel=float(row["tolerance"]))


def test_chlorine_water_adds_up_to_the_measured_solubility() -> None:
    # 0.0916 mol/L in all at 1 atm: Adams and Edmonds, Ind. Eng. Chem. 29, 447 (1937), recalled.
    found = equilibrium("chlorine water, gas", {}, fixed={"Cl2(g)": 0.9816})
    assert found.concentration("Cl2(aq)") + found.concentration("HClO") == pytest.approx(0.0916, rel=0.03)


def test_bromine_water_with_and_without_tribromide() -> None:
    """Saturated bromine water by hand: h^3 = K [Br2] without Br3-, h^3 = K [Br2] (1 + K3 [Br2]) with it.

    K = 3.5e-9 (Beckwith, Wang and Margerum 1996), K3 = 16.1 (Wang et al. 1994), [Br2] = 0.205, which is
    exp(-3.93 kJ/mol / RT).
    """
    plain = equilibrium("bromine water", {"Br2(l)": 1.0})
    assert plain.concentration("HBrO") == pytest.approx((3.5e-9 * 0.205) ** (1 / 3), rel=1e-4)
    more = equilibrium("bromine water, tribromide", {"Br2(l)": 1.0})
    assert more.concentration("HBrO") == pytest.approx(
        (3.5e-9 * 0.205 * (1 + 16.1 * 0.205)) ** (1 / 3), rel=1e-4
    )
    assert more.concentration("HBrO") / plain.concentration("HBrO") == pytest.approx(1.63, abs=0.01)


@pytest.mark.parametrize(("name", "constant"), [("bromine water", 3.5e-9), ("bromine water, 0.5 M", 6.1e-9)])
def test_bromine_hydrolysis(name: str, constant: float) -> None:
    """Beckwith, Wang and Margerum 1996, at ionic strength 0 and 0.5: x^3 = K (c - x)."""
    found = equilibrium(name, {"Br2(aq)": 0.01})
    x = found.concentration("HBrO")
    assert x**3 == pytest.approx(constant * (0.01 - x), rel=1e-3)


def test_tribromide_takes_most_of_the_bromine_in_molar_bromide() -> None:
    """16.1 L/mol (Wang et al. 1994): 16.1/17.1 = 94 % of the bromine that is left alone by chloride."""
    pot = system("bromine-chlorine").with_spectators("Na^+(aq)")
    found = equilibrium(pot, {"Br2(aq)": 1e-4, "Br^-": 1.0, "H^+": 0.1, "Na^+": 0.9})
    assert found.concentration("Br3^-") / 1e-4 == pytest.approx(16.1 / 17.1, rel=1e-3)


def test_tribromide_in_dilute_bromide_follows_its_quadratic() -> None:
    pot = system("bromine-chlorine").with_spectators("Na^+(aq)")
    found = equilibrium(pot, {"Br2(aq)": 0.02, "Br^-": 0.1, "H^+": 1.0, "Na^+": 0.0, "Cl^-": 0.9})
    complexed, chloride = found.concentration("Br3^-"), found.concentration("Br2Cl^-")
    free, bromide = found.concentration("Br2(aq)"), found.concentration("Br^-")
    assert complexed / (free * bromide) == pytest.approx(16.1, rel=1e-6)
    assert chloride / (free * found.concentration("Cl^-")) == pytest.approx(1.3, rel=1e-6)
    assert found.concentration("BrCl2^-") / (
        found.concentration("BrCl(aq)") * found.concentration("Cl^-")
    ) == pytest.approx(6.0, rel=1e-6)


BANDS = [(0.0, 0.02, 0.06), (0.10, 0.09, 0.13), (0.20, 0.18, 0.22)]
"""Excess of bleach, and the share of the bromine as BrCl and BrCl2-: a few per cent, about 10, about 20."""


@pytest.mark.parametrize(("excess", "low", "high"), BANDS)
@pytest.mark.parametrize("name", ["bromine-chlorine", "bromine-chlorine, 2001", "bromine-chlorine, energies"])
def test_bleach_on_bromide_near_molar_chloride(name: str, excess: float, low: float, high: float) -> None:
    """Constants of Wang et al. 1994, of Liu and Margerum 2001 and of Gibbs energies tell the same story."""
    pot = system(name).with_spectators("Na^+(aq)", "ClO4^-(aq)")
    dose = 0.05 * (1 + excess)
    found = equilibrium(
        pot,
        {
            "Br^-": 0.1,
            "Cl^-": 1.0,
            "HClO": dose,
            "H^+": 1.0 + dose,
            "ClO4^-": 1.0 + dose,
            "Na^+": 1.1,
        },
    )
    share = interhalogen_fraction(found, "Br")
    assert low < share < high
    if name == "bromine-chlorine":
        assert interhalogen_at_dose(excess) == pytest.approx(share, rel=1e-9)


def test_the_mixed_halogen_by_hand() -> None:
    """The exact dose in 1 M chloride, with K1 = 6.0, K2 = 1.8e4, K3 = 1.3 and K4 = 16.1 of Wang et al.

    b is the bromide left and f the free bromine.  BrCl is K3 f / (K2 b), with BrCl2- (1 + K1) times that.
    As many atoms stand at -1 (b and that in Br3-) as at +1: b (1 + K4 f) = (1 + K1) K3 f / (K2 b).
    """
    k1, k2, k3, k4, total = 6.0, 1.8e4, 1.3, 16.1, 0.1
    low, high = 1e-9, 0.999 * ((1 + k1) * k3 / (k2 * k4)) ** 0.5
    for _ in range(100):
        b = (low + high) / 2
        f = k2 * b**2 / ((1 + k1) * k3 - k2 * k4 * b**2)
        mixed = (1 + k1) * k3 * f / (k2 * b)
        atoms = b * (1 + k4 * f) + 2 * f * (1 + k3 + k4 * b) + mixed
        low, high = (b, high) if atoms < total else (low, b)
    assert interhalogen_at_dose(0.0) == pytest.approx(mixed / total, rel=0.01)


def test_excess_chlorine_makes_iodine_chloride_atom_for_atom() -> None:
    """In molar chloride every excess hypochlorite leaves two iodine atoms as ICl2-, none as Cl2."""
    assert interhalogen_at_dose(0.10, halogen="I") == pytest.approx(0.10, rel=0.01)
    assert interhalogen_at_dose(0.20, halogen="I") == pytest.approx(0.20, rel=0.01)


def test_iodine_bromide_agrees_with_its_potential() -> None:
    """IBr2- + e- -> 0.5 I2(s) + 2 Br-, 0.87 V, against I2(s)/I- 0.5355 V (both recalled): 0.33 V apart."""
    pot = system("iodine-bromine").with_spectators("Na^+(aq)")
    found = equilibrium(pot, {"I2(s)": 1.0, "Br2(aq)": 0.1, "Br^-": 1.0, "H^+": 1.0, "Na^+": 0.0})
    quotient = found.log10_activity_of("I2(s)") + 2 * found.log10_activity_of("Br^-")
    quotient -= found.log10_activity_of("IBr2^-") + found.log10_activity_of("I^-")
    assert 0.05916 * quotient == pytest.approx(0.87 - 0.5355, abs=0.03)
    assert interhalogen_fraction(found, "I") == pytest.approx(0.1, abs=0.01)


def test_permanganate_leaves_no_manganese_in_neutral_water() -> None:
    """2 MnO4- to 3 Mn2+ (1.92 mg KMnO4 per mg Mn, US EPA 815-R-99-014, table 5): all of it becomes MnO2."""
    found = equilibrium("manganese", {"Mn^2+": 3e-5, "MnO4^-": 2e-5}, fixed={"pH": 7.0})
    assert found.amount("MnO2(s)") == pytest.approx(5e-5, rel=1e-3)
    assert found.concentration("Mn^2+") < 1e-9
