"""Laws of the conversions between ways of stating a strength."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.bottles import convert_strength, density_curve, read_bottle
from redoxlib.data import shipped
from redoxlib.errors import DomainError, MissingDataError, RedoxlibError, UnitError
from redoxlib.quantity import Quantity

CURVED = sorted(
    name for name, rows in shipped().solutions.items() if any(row.quantity == "density" for row in rows)
)
WAYS = ["% w/w", "% w/v", "g/L", "mol/L", "mol/kg"]
EXTRA = {"H2O2": ["vol", "% w/w O"], "NaClO": ["g/L Cl2", "% trade", "% w/w Cl2"], "HCl": ["deg Be"]}
SOLUTES = [
    "H2SO4", "H2O2", "HCl", "HNO3", "NaOH", "KOH", "NH3", "H3PO4", "HBr",
    "NaCl", "NaBr", "KI", "NaClO", "FeCl3", "CuSO4", "Na2CO3",
]  # fmt: skip


class TestThereAndBack:
    """Every way of stating a strength leads back to the mass fraction it came from."""

    @given(st.sampled_from(SOLUTES), st.floats(0.02, 0.98), st.data())
    def test_any_two_ways(self, solute: str, share: float, data: st.DataObject) -> None:
        low, high = density_curve(solute).range
        percent = 100 * (low + share * (high - low))
        way = data.draw(st.sampled_from(WAYS + EXTRA.get(solute, [])))
        via = data.draw(st.sampled_from(WAYS + EXTRA.get(solute, [])))
        there = convert_strength(solute, Quantity(percent, "% w/w"), way)
        back = convert_strength(solute, convert_strength(solute, there, via), "% w/w")
        assert back.value == pytest.approx(percent, rel=1e-9)

    @given(st.floats(0.02, 0.98), st.floats(15.0, 30.0))
    def test_between_tabulated_temperatures(self, share: float, celsius: float) -> None:
        high = min(0.78, density_curve("H2SO4", celsius=celsius).range[1])
        start = Quantity(100 * share * high, "% w/w")
        molar = convert_strength("H2SO4", start, "mol/L", celsius=celsius)
        assert convert_strength("H2SO4", molar, "% w/w", celsius=celsius).value == pytest.approx(start.value)


class TestOrder:
    """A stronger solution is stronger in every way of saying so."""

    @given(st.sampled_from(SOLUTES), st.floats(0.01, 0.98), st.floats(0.01, 0.98))
    def test_molarity_rises_with_mass_fraction(self, solute: str, one: float, other: float) -> None:
        high = density_curve(solute).range[1]
        weak, strong = sorted((100 * one * high, 100 * other * high))
        molar = [convert_strength(solute, Quantity(p, "% w/w"), "mol/L").value for p in (weak, strong)]
        assert molar[0] <= molar[1]


class TestAmounts:
    """What a bottle gives for some moles holds just those moles."""

    @given(st.floats(1e-3, 1e3), st.sampled_from(["H2O2 30 % w/w", "NaClO 12.5 % trade", "HCl 6 mol/L"]))
    def test_grams_and_millilitres_hold_the_moles_asked_for(self, mol: float, label: str) -> None:
        bottle = read_bottle(label)
        grams, ml = bottle.amount_for(mol)
        assert isinstance(grams, float)
        assert isinstance(ml, float)
        assert bottle.moles_in(Quantity(grams, "g")) == pytest.approx(mol)
        assert bottle.moles_in(Quantity(ml, "mL")) == pytest.approx(mol, rel=1e-6)


class TestNothingIsExtrapolated:
    """Beyond the ends of a curve there is an error that names them."""

    def test_a_solute_without_a_curve_has_no_density(self) -> None:
        with pytest.raises(MissingDataError, match=r"no density curve for AgNO3; looked in solutions\.csv"):
            convert_strength("AgNO3", "5 % w/w", "mol/L")

    @pytest.mark.parametrize("solute", CURVED)
    def test_density_stops_at_the_ends(self, solute: str) -> None:
        rows = [row for row in shipped().solutions[solute] if row.quantity == "density"]
        celsius = min(row.temperature_C for row in rows if row.temperature_C is not None)
        curve = density_curve(solute, celsius=celsius)
        low, high = curve.range
        assert low == 0.0
        with pytest.raises(DomainError) as caught:
            curve.density(high + 0.001)
        assert f"{100 * high:.4g} % w/w" in str(caught.value)
        with pytest.raises(DomainError):
            density_curve(solute, celsius=80.0)

    def test_a_concentration_above_the_curve_is_refused(self) -> None:
        with pytest.raises(DomainError, match="outside the density curve"):
            convert_strength("NaClO", "150 g/L Cl2", "% w/w")

    def test_two_strengths_of_one_density_are_not_guessed(self) -> None:
        # Sulfuric acid is densest near 97 %: 1.8339 g/mL at 20 C is 95 % or about 98.9 %.
        with pytest.raises(DomainError, match=r"belongs to 95 % w/w and 98.9 % w/w"):
            density_curve("H2SO4").fraction_of_density(1.8339)


class TestUncertainty:
    """The uncertainty of the label and of the curve are both carried."""

    def test_relative_uncertainty_of_a_proportional_conversion(self) -> None:
        found = convert_strength("NaClO", Quantity(100.0, "g/L Cl2", 2.0), "mol/L")
        assert found.uncertainty == pytest.approx(0.02 * found.value, rel=1e-6)

    def test_density_adds_its_own(self) -> None:
        exact = convert_strength("H2O2", Quantity(30.0, "% w/w", 0.0), "mol/L")
        assert exact.uncertainty == pytest.approx(exact.value * 0.0014 / 1.1125, rel=0.01)
        assert "laliberte2004" in exact.sources

    def test_unknown_stays_unknown(self) -> None:
        assert convert_strength("H2O2", "30 % w/w", "mol/L").uncertainty is None


class TestAnyLabel:
    """Whatever a label says, the answer is a bottle or one of our own errors."""

    @given(
        st.sampled_from(["H2O2", "bleach", "NaOH", "KMnO4", "Br2", "xx", ""]),
        st.from_regex(r"[-0-9.,]{0,6}", fullmatch=True),
        st.sampled_from(
            ["% w/w", "%", "mol/L", "vol", "% trade", "deg Be", "% v/v", "g", "mol/kg", "% active oxygen"]
        ),
        st.sampled_from(
            ["", ", undiluted", ", 25 C", ", 99 C", ", density 1.1 g/mL", ", assay 3 % w/w", ",, ,"]
        ),
    )
    def test_no_other_error_escapes(self, name: str, number: str, unit: str, remark: str) -> None:
        try:
            bottle = read_bottle(f"{name} {number} {unit}{remark}")
        except RedoxlibError:
            return
        if isinstance(bottle.mass_fraction, Quantity):
            assert 0 < bottle.mass_fraction.value <= 1.0 + 1e-9


@pytest.mark.parametrize(
    ("solute", "strength"), [("H2SO4", "20 vol"), ("HCl", "5 % trade"), ("NaCl", "5 % w/w O")]
)
def test_error_where_a_way_does_not_apply(solute: str, strength: str) -> None:
    with pytest.raises(UnitError):
        convert_strength(solute, strength, "% w/w")


def test_a_curve_at_one_temperature_says_so() -> None:
    with pytest.raises(DomainError, match=r"tabulated at 20 C only, not at 15\.56 C"):
        convert_strength("NaClO", "12.5 % trade", "deg Be")
