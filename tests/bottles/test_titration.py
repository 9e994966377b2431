"""The titrations that tell what an ageing bottle holds."""

from __future__ import annotations

import pytest

from redoxlib.bottles import assay_by_titration, read_bottle
from redoxlib.errors import DomainError, MissingDataError, UnitError
from redoxlib.quantity import Quantity


def test_peroxide_takes_two_permanganate_for_five() -> None:
    # 1.00 mL of bottle to 100 mL, 20 mL titrated with 0.0200 mol/L: 39.2 mL would be 9.80 mol/L.
    assay = assay_by_titration(
        "H2O2",
        titrant=Quantity(0.0200, "mol/L", 0.0001),
        titre=Quantity(39.2, "mL", 0.05),
        sample=Quantity(1.00, "mL", 0.01),
        dilution=5.0,
    )
    assert assay.strength.unit == "mol/L"
    assert assay.strength.value == pytest.approx(9.80, abs=0.005)
    expected = 9.80 * ((0.0001 / 0.02) ** 2 + (0.05 / 39.2) ** 2 + (0.01 / 1.0) ** 2) ** 0.5
    assert assay.strength.uncertainty == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(
    ("solute", "per_thiosulfate"),
    [
        ("NaClO", 0.5),
        ("HClO", 0.5),
        ("Ca(ClO)2", 0.25),
        ("C3Cl3N3O3", 1 / 6),
        ("Cl2", 0.5),
        ("Br2", 0.5),
        ("I2", 0.5),
    ],
)
def test_a_chlorine_or_halogen_takes_two_thiosulfate(solute: str, per_thiosulfate: float) -> None:
    assay = assay_by_titration(
        solute,
        titrant=Quantity(0.1, "mol/L"),
        titre=Quantity(20.0, "mL"),
        sample=Quantity(10.0, "mL"),
    )
    assert assay.moles.value == pytest.approx(0.002 * per_thiosulfate)
    assert assay.moles.uncertainty is None


def test_a_blank_is_taken_off() -> None:
    def strength(blank: Quantity | None) -> float:
        return assay_by_titration(
            "NaClO",
            titrant=Quantity(0.1, "mol/L"),
            titre=Quantity(20.2, "mL"),
            sample=Quantity(10.0, "mL"),
            blank=blank,
        ).strength.value

    assert strength(Quantity(0.2, "mL")) == pytest.approx(strength(None) * 20.0 / 20.2)


def test_a_weighed_sample_gives_a_mass_strength() -> None:
    assay = assay_by_titration(
        "H2O2",
        titrant=Quantity(0.02, "mol/L"),
        titre=Quantity(35.28, "mL"),
        sample=Quantity(0.2, "g"),
    )
    assert assay.strength.unit == "% w/w"
    assert assay.strength.value == pytest.approx(30.0, abs=0.05)


def test_the_result_goes_back_into_the_bottle() -> None:
    assay = assay_by_titration(
        "NaClO",
        titrant=Quantity(0.1, "mol/L", 0.0005),
        titre=Quantity(28.2, "mL", 0.05),
        sample=Quantity(10.0, "mL", 0.02),
        dilution=10.0,
    )
    aged = read_bottle("bleach 12.5 % trade").with_assay(assay.strength)
    assert isinstance(aged.molarity, Quantity)
    assert aged.molarity.value == pytest.approx(1.41, abs=0.005)
    assert aged.molarity.uncertainty == pytest.approx(assay.strength.uncertainty or 0.0)


def test_error_for_a_blank_as_large_as_the_titre() -> None:
    with pytest.raises(DomainError, match="leaves nothing after the blank"):
        assay_by_titration(
            "NaClO",
            titrant=Quantity(0.1, "mol/L"),
            titre=Quantity(1.0, "mL"),
            sample=Quantity(10.0, "mL"),
            blank=Quantity(1.0, "mL"),
        )


def test_error_for_more_than_the_pure_substance() -> None:
    with pytest.raises(DomainError, match="more than the pure substance"):
        assay_by_titration(
            "H2O2",
            titrant=Quantity(0.02, "mol/L"),
            titre=Quantity(35.0, "mL"),
            sample=Quantity(0.02, "g"),
        )


def test_error_for_a_sample_in_moles() -> None:
    with pytest.raises(UnitError, match="a sample is a volume or a mass"):
        assay_by_titration(
            "H2O2",
            titrant=Quantity(0.02, "mol/L"),
            titre=Quantity(35.0, "mL"),
            sample=Quantity(0.02, "mol"),
        )


def test_error_where_no_titration_is_known() -> None:
    with pytest.raises(MissingDataError, match="no titration"):
        assay_by_titration(
            "NaCl",
            titrant=Quantity(0.1, "mol/L"),
            titre=Quantity(20.0, "mL"),
            sample=Quantity(10.0, "mL"),
        )
