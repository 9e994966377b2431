"""Which forms are there at a pH, with shares that add up; which acid is spent, and its heat."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib import thermo
from redoxlib.data import shipped
from redoxlib.errors import DomainError
from redoxlib.notation import Species

ACIDS = ["HClO", "HBrO", "H2S", "HCN", "SO2", "H3PO4", "CO2", "NH4^+", "HSO4^-", "H3AsO4", "H2O2", "Fe^3+"]


class TestShares:
    """Shares of forms at any pH."""

    @given(st.sampled_from(ACIDS), st.floats(-1, 15))
    def test_they_add_up_to_one(self, text: str, ph: float) -> None:
        found = thermo.species_at(text, ph)
        assert sum(form.fraction for form in found.forms) == pytest.approx(1.0)
        assert [f.log10 for f in found.forms] == sorted((f.log10 for f in found.forms), reverse=True)

    @given(st.sampled_from(ACIDS), st.floats(-1, 15))
    def test_any_form_may_be_asked_for(self, text: str, ph: float) -> None:
        found = thermo.species_at(text, ph)
        for form in found.forms:
            again = thermo.species_at(form.species, ph)
            assert {f.species for f in again.forms} == {f.species for f in found.forms}
            assert again.fraction(form.species) == pytest.approx(form.fraction)

    @given(st.sampled_from(ACIDS), st.floats(0, 13))
    def test_a_higher_ph_never_brings_protons_back(self, text: str, ph: float) -> None:
        def protons(at: float) -> float:
            forms = thermo.species_at(text, at).forms
            low = min(form.species.charge for form in forms)
            return sum(form.fraction * (form.species.charge - low) for form in forms)

        assert protons(ph + 1) <= protons(ph) + 1e-12


def test_at_its_pka_an_acid_is_half_there() -> None:
    for row in shipped().equilibria["acid_HClO"][:1]:
        found = thermo.species_at("ClO^-", row.value)
        assert found.fraction("HClO") == pytest.approx(0.5)
        assert set(found.sources) == set(row.sources)


@pytest.mark.parametrize(
    ("species", "ph", "form"),
    [
        ("HClO", 5, "HClO(aq)"),
        ("ClO^-", 9, "ClO^-(aq)"),
        ("SO4^2-", 1, "HSO4^-(aq)"),
        ("SO4^2-", 3, "SO4^2-(aq)"),
        ("CN^-", 8, "HCN(aq)"),
        ("S^2-", 13, "HS^-(aq)"),
        ("CO3^2-", 8, "HCO3^-(aq)"),
        ("NH3", 7, "NH4^+(aq)"),
        ("CrO4^2-", 4, "HCrO4^-(aq)"),
        ("H3AsO4", 8, "HAsO4^2-(aq)"),
    ],
)
def test_the_form_that_predominates(species: str, ph: float, form: str) -> None:
    assert str(thermo.species_at(species, ph).predominant) == form


def test_a_solid_that_would_form_is_named() -> None:
    found = thermo.species_at("Fe^3+", 7)
    assert found.remarks == (
        "Fe(OH)3(s) is more stable here than 1 mol/kg in solution: the shares are of what stays dissolved",
    )


def test_a_species_without_constants_comes_back_alone_and_says_so() -> None:
    found = thermo.species_at(Species.parse("Br^-"), 7)
    assert str(found.predominant) == "Br^-(aq)"
    assert found.fraction("Br^-") == 1.0
    assert found.fraction("Cl^-") == 0.0
    assert found.remarks == ("no acid constant for Br^-(aq) in the tables",)


class TestBisulfate:
    """The second proton of sulfuric acid as the acid: 21.9 kJ more heat for each one spent."""

    PEROXIDE = "H2O2(aq) + 2 Br^- + 2 H^+ -> Br2(l) + 2 H2O"

    def test_each_proton_costs_the_heat_of_dissociation(self) -> None:
        free = thermo.enthalpy(self.PEROXIDE)
        held = thermo.enthalpy(self.PEROXIDE, acid_convention="bisulfate")
        assert held.value - free.value == pytest.approx(2 * -21.9, abs=0.3)
        assert held.remarks[0].startswith("H+ taken from HSO4-: 2 mol spent, -44.0 kJ of the total")
        assert set(held.sources) > set(free.sources)

    def test_it_is_the_same_equation_written_with_bisulfate(self) -> None:
        written = "H2O2(aq) + 2 Br^- + 2 HSO4^- -> Br2(l) + 2 H2O + 2 SO4^2-"
        held = thermo.enthalpy(self.PEROXIDE, acid_convention="bisulfate")
        assert held.value == pytest.approx(thermo.enthalpy(written).value)
        assert held.uncertainty == pytest.approx(thermo.enthalpy(written).uncertainty)

    def test_acid_made_goes_the_other_way(self) -> None:
        made = "SO2(aq) + H2O2(aq) -> SO4^2- + 2 H^+"
        held = thermo.enthalpy(made, acid_convention="bisulfate")
        assert held.value == pytest.approx(thermo.enthalpy("SO2(aq) + H2O2(aq) + SO4^2- -> 2 HSO4^-").value)
        assert "2 mol made" in held.remarks[0]

    def test_without_protons_it_makes_no_difference(self) -> None:
        cell = "Zn(s) + Cu^2+ -> Zn^2+ + Cu(s)"
        held = thermo.enthalpy(cell, acid_convention="bisulfate")
        assert held.value == thermo.enthalpy(cell).value
        assert "makes no difference" in held.remarks[0]

    def test_another_convention_is_refused(self) -> None:
        with pytest.raises(DomainError, match="free"):
            thermo.enthalpy(self.PEROXIDE, acid_convention="half")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ph", "predominant"),
    [(1, "Fe^3+(aq)"), (3, "FeOH^2+(aq)"), (5, "Fe(OH)2^+(aq)"), (8, "Fe(OH)3(aq)"), (12, "Fe(OH)4^-(aq)")],
)
def test_iron_iii_in_solution_takes_up_hydroxide_one_by_one(ph: float, predominant: str) -> None:
    forms = thermo.species_at("Fe^3+", ph)
    assert str(forms.predominant) == predominant
    assert "wateq4f" in forms.sources


def test_oxalic_acid_gives_its_second_proton_between_4_and_5() -> None:
    """Kettler, Palmer and Wesolowski 1991: 1.277 and 4.275."""
    assert thermo.species_at("H2C2O4(aq)", 4.275).fraction("C2O4^2-(aq)") == pytest.approx(0.5, abs=0.002)


@pytest.mark.parametrize(
    ("text", "ph", "solid"),
    [("Fe^2+", 10, "Fe(OH)2(s)"), ("Cu^2+", 10, "CuO(s)"), ("Cr^3+", 7, "Cr(OH)3(s)")],
)
def test_a_metal_ion_without_constants_says_which_solid_takes_its_place(
    text: str, ph: float, solid: str
) -> None:
    assert any(
        remark.startswith(f"{solid} is more stable here") for remark in thermo.species_at(text, ph).remarks
    )
    assert not any("more stable" in remark for remark in thermo.species_at(text, 0).remarks)


def test_dichromate_in_alkali_is_chromate() -> None:
    assert str(thermo.species_at("Cr2O7^2-", 10).predominant) == "CrO4^2-(aq)"
    acid = thermo.species_at("Cr2O7^2-", 2)
    assert str(acid.predominant) == "Cr2O7^2-(aq)"
    assert "where dilute" in acid.remarks[0]
