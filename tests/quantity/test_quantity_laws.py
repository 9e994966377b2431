"""Laws that hold for every quantity."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib.errors import RedoxlibError
from redoxlib.quantity import Quantity

SAME = [
    ("g", "kg", "mg"),
    ("mL", "L", "m3"),
    ("kJ/mol", "J/mol", "kcal/mol"),
    ("K", "C"),
    ("g/L Cl2", "% trade", "mg/L Cl2"),
    ("bar", "atm", "kPa"),
]
numbers = st.floats(min_value=-1e6, max_value=1e6).filter(lambda x: x == 0 or abs(x) > 1e-6)


class TestThereAndBack:
    """Converting to another unit and back changes nothing."""

    @given(numbers, st.sampled_from(SAME), st.data())
    def test_conversion_is_undone_by_its_inverse(
        self, value: float, units: tuple[str, ...], data: st.DataObject
    ) -> None:
        here, there = data.draw(st.sampled_from(units)), data.draw(st.sampled_from(units))
        back = Quantity(value, here, 0.5).to(there).to(here)
        assert back.value == pytest.approx(value, rel=1e-9, abs=1e-9)
        assert back.uncertainty == pytest.approx(0.5)

    @given(numbers, st.sampled_from(["g", "kJ/mol", "mol/L", "% w/w", "g/L Cl2", "V", "J/(mol K)"]))
    def test_written_text_reads_back_to_its_own_figures(self, value: float, unit: str) -> None:
        back = Quantity.parse(str(Quantity(value, unit)))
        assert back.unit == unit
        assert back.value == pytest.approx(value, rel=6e-4)


class TestSums:
    """Addition of like quantities behaves as it should."""

    @given(numbers, numbers)
    def test_order_is_irrelevant(self, one: float, other: float) -> None:
        a, b = Quantity(one, "g", 0.1), Quantity(other, "kg", 0.2)
        assert (a + b).to("g").value == pytest.approx((b + a).to("g").value, rel=1e-12, abs=1e-9)
        assert (a + b).to("g").uncertainty == pytest.approx((b + a).to("g").uncertainty)

    @given(numbers)
    def test_difference_with_itself_is_zero_but_not_certain(self, value: float) -> None:
        gap = Quantity(value, "V", 0.01) - Quantity(value, "V", 0.01)
        assert gap.value == 0.0
        assert gap.uncertainty == pytest.approx(0.01 * 2**0.5)


class TestAnyText:
    """Whatever is typed, the answer is a quantity or one of our own errors."""

    @given(st.text(max_size=40))
    def test_no_other_error_escapes(self, text: str) -> None:
        try:
            found = Quantity.parse(text)
        except RedoxlibError:
            return
        assert found.unit

    @given(st.from_regex(r"[0-9]{1,4}(\.[0-9]{1,3})? ?[a-zA-Z%/ ^0-9()-]{1,12}", fullmatch=True))
    def test_no_other_error_escapes_from_near_misses(self, text: str) -> None:
        try:
            Quantity.parse(text)
        except RedoxlibError:
            return
