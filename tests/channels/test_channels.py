"""Side channels: found from the tables, open by potential, gated by rate, sized by the mis-dose."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib._tiers import TIERS
from redoxlib.channels import OVERDOSE, side_risk, tier_of
from redoxlib.data import shipped
from redoxlib.job import Job
from redoxlib.measures import Channel
from redoxlib.notation import Species
from redoxlib.routes import Route, build_route


def channels(text: str, key: str, **fields: Any) -> dict[str, Channel]:
    route = build_route(Job(text, **fields), shipped().oxidants[key])
    assert isinstance(route, Route)
    return {c.kind: c for c in side_risk(route).channels}


def test_bromine_goes_on_to_bromate_not_to_what_falls_apart_into_it() -> None:
    channel = channels("Br^- -> Br2", "KHSO5")["over-oxidation"]
    assert "BrO3^-" in channel.text
    assert channel.state == "open"
    assert channel.drive_v is not None
    assert channel.drive_v > 0.05


def test_a_halogen_that_peroxide_reduces_is_gated_shut() -> None:
    assert channels("Br^- -> Br2", "H2O2")["over-oxidation"].gate[1] <= 0.05


def test_mixed_halogen_is_the_excess_at_the_declared_and_at_the_worst_dose() -> None:
    # each extra active chlorine turns one bromine into two bromine chloride
    channel = channels("Br^- -> Br2", "NaOCl", excess=0.1)["mixed halogen"]
    assert channel.amount == pytest.approx(0.10)
    assert channel.jumped == pytest.approx(1.1 * (1 + OVERDOSE) - 1)
    assert channel.gate == (1.0, 1.0)


def test_there_is_no_mixed_halogen_without_active_chlorine() -> None:
    assert "mixed halogen" not in channels("Br^- -> Br2", "KMnO4")


def test_bromate_meets_the_bromide_it_leaves() -> None:
    channel = channels("Cu -> Cu^2+", "KBrO3")["oxidant on its own end product"]
    assert "Br2" in channel.text


def test_what_stays_in_the_product_counts_as_the_salt_of_the_full_equation() -> None:
    channel = channels("Br^- -> Br2", "K2Cr2O7")["contamination"]
    assert channel.amount == pytest.approx(2 / 3)
    assert channel.tier == tier_of(Species.parse("Cr2(SO4)3"))[0]


def test_chloride_from_the_acid_is_a_bystander() -> None:
    open_channels = channels("Br^- -> Br2", "KMnO4", acid="hydrochloric acid 37 % w/w")
    assert open_channels["counter-ion oxidation"].state == "open"
    assert "counter-ion oxidation" not in channels("Br^- -> Br2", "KMnO4")


def test_a_divided_cell_has_no_loss_at_the_cathode() -> None:
    assert "product lost at the cathode" in channels("I^- -> I2", "anode")
    assert "product lost at the cathode" not in channels("I^- -> I2", "anode", context="divided cell")


class TestMonotony:
    """More excess never lowers the risk."""

    @given(
        st.sampled_from(["NaOCl", "KMnO4", "KHSO5", "O3", "KBrO3"]),
        st.floats(0, 0.5),
        st.floats(0, 0.5),
    )
    def test_excess(self, key: str, a: float, b: float) -> None:
        low, high = sorted((a, b))
        risks = []
        for excess in (low, high):
            route = build_route(Job("Br^- -> Br2", excess=excess), shipped().oxidants[key])
            assert isinstance(route, Route)
            risks.append(side_risk(route).high)
        assert risks[0] <= risks[1] + 1e-9


def test_tiers_follow_the_strength_of_the_bottle() -> None:
    peroxide = Species.parse("H2O2")
    weak, bench, strong = (tier_of(peroxide, strength=w)[0] for w in (0.03, 0.30, 0.75))
    assert (weak, bench, strong) == (0, 3, 10)


def test_a_gas_in_the_pot_is_not_a_gas_in_a_cylinder() -> None:
    assert tier_of(Species.parse("O2"))[0] == 0


def test_every_code_of_the_tables_has_a_tier() -> None:
    codes = {row.code for rows in shipped().hazards.values() for row in rows}
    assert codes
    assert codes <= set(TIERS)


def test_what_no_table_classifies_is_unknown_not_zero() -> None:
    assert tier_of(Species.parse("XeF6"))[0] is None


@pytest.mark.parametrize(("ph", "mixed"), [(0, True), (6.0, True), (6.1, False), (7, False)])
def test_mixed_halogen_belongs_to_acid(ph: float, mixed: bool) -> None:
    found = channels("Br^- -> Br2", "NaOCl", medium=ph)
    assert ("mixed halogen" in found) is mixed
    # Chloride and active chlorine are counted once: as interhalogen in acid, as chlorine above.
    assert ("oxidant on its own end product" in found) is not mixed
