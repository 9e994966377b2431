"""Worked Nernst cells, activity coefficients, and water at other temperatures, against what others printed.

``read`` in nernst.csv says whether the printed number was read or is recalled.  The row that does not agree
is nitrate to nitrite: biochemists print 0.421 V, the energies of the NBS tables give 0.405 V.
"""

from __future__ import annotations

import math

import pytest

from redoxlib import thermo

from ._read import ids, table

CELLS = table("nernst.csv")
COEFFICIENTS = table("activity_coefficients.csv")
# Kaye and Laby Online, 3.9.6; CRC Handbook, 92nd edition, 5-106 (Goldberg 1978, Hamer and Wu 1972).
PAIRED = {("CsNO3", "0.4"), ("AgNO3", "0.1")}
"""Salts whose ions pair: further off than the stated uncertainty of the Davies equation allows."""


@pytest.mark.parametrize("row", CELLS, ids=ids(CELLS))
def test_a_worked_cell(row: dict[str, str]) -> None:
    activities = dict(part.split("=") for part in row["activities"].split(";") if part)
    found = thermo.potential(
        row["equation"], ph=float(row["ph"]) if row["ph"] else None, activities=activities or None
    )
    agrees = found.value == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
    assert agrees == (row["agrees"] == "yes"), f"{found.value:.4f} V from {found.sources}"


def test_the_zinc_concentration_cell() -> None:
    """OpenStax Chemistry 2e, section 17.4 (recalled): 0.10 and 0.50 mol/L give +0.021 V."""
    half = "Zn^2+ + 2 e^- -> Zn(s)"
    strong, weak = (
        thermo.potential(half, activities={"Zn^2+": text}).value for text in ("0.50 mol/L", "0.10 mol/L")
    )
    assert strong - weak == pytest.approx(0.021, abs=0.0005)


def _mean(row: dict[str, str]) -> tuple[float, float]:
    """Mean coefficient of a salt and its standard uncertainty by the equation under test."""
    plus, minus = int(row["nu_cation"]), int(row["nu_anion"])
    charges = int(row["cation"]), int(row["anion"])
    strength = float(row["molality"]) * (plus * charges[0] ** 2 + minus * charges[1] ** 2) / 2
    ions = [thermo.activity_coefficient(z, strength) for z in charges]
    log_mean = (plus * math.log(ions[0].value) + minus * math.log(ions[1].value)) / (plus + minus)
    # The ions share the error of the model, so their relative errors add up.
    share = sum(n * (q.uncertainty or 0.0) / q.value for n, q in zip((plus, minus), ions, strict=True)) / (
        plus + minus
    )
    return math.exp(log_mean), share * math.exp(log_mean)


@pytest.mark.parametrize(
    "row", COEFFICIENTS, ids=[f"{row['salt']}-{row['molality']}" for row in COEFFICIENTS]
)
def test_a_printed_mean_activity_coefficient(row: dict[str, str]) -> None:
    found, spread = _mean(row)
    agrees = abs(found - float(row["gamma"])) <= 2 * spread + 0.002
    assert agrees != ((row["salt"], row["molality"]) in PAIRED), f"{found:.3f} ± {spread:.3f}"


def test_strong_chlorides_agree_within_three_per_cent_up_to_a_tenth() -> None:
    checked = 0
    for row in COEFFICIENTS:
        if row["salt"] in {"HCl", "NaCl", "KCl", "CaCl2"} and float(row["molality"]) <= 0.05:
            assert _mean(row)[0] == pytest.approx(float(row["gamma"]), rel=0.03)
            checked += 1
    assert checked >= 8


@pytest.mark.parametrize(("celsius", "printed"), [(10, -14.216 * 4.184), (40, -12.695 * 4.184)])
def test_heat_of_neutralisation_measured_at_other_temperatures(celsius: float, printed: float) -> None:
    """J. J. Christensen, G. L. Kimball, H. D. Johnston and R. M. Izatt, Thermochim. Acta 4 (1972), abstract:

    14.216 kcal/mol at 10 C, 12.695 at 40 C, zero ionic strength.  The heat capacity of hydroxide is not
    constant, which costs 0.3 kJ below and 0.7 above.
    """
    found = thermo.enthalpy("H^+ + OH^- -> H2O", temperature=273.15 + celsius)
    assert found.value == pytest.approx(printed, abs=0.8)
    constant = thermo.enthalpy("H^+ + OH^- -> H2O").value
    assert abs(found.value - printed) < abs(constant - printed) / 2


@pytest.mark.parametrize(
    ("celsius", "printed", "tolerance"),
    [(0, 14.946, 0.02), (25, 13.995, 0.001), (50, 13.264, 0.02), (75, 12.696, 0.05), (100, 12.252, 0.08)],
)
def test_the_ion_product_of_water(celsius: float, printed: float, tolerance: float) -> None:
    """CRC Handbook of Chemistry and Physics, table of the ionization constant of water at 0.1 MPa."""
    assert thermo.pkw(273.15 + celsius) == pytest.approx(printed, abs=tolerance)


def test_the_ion_product_by_the_equilibrium_constant_itself() -> None:
    found = thermo.equilibrium_constant("H2O -> H^+ + OH^-", temperature=323.15)
    assert -found.log10 == pytest.approx(13.264, abs=0.03)
