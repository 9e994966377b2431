"""Side channels: found from the tables, open by potential, gated by rate, sized by the mis-dose."""

from __future__ import annotations

from math import exp
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from redoxlib._tiers import TIERS
from redoxlib.channels import OVERDOSE, side_risk, tier_of
from redoxlib.data import shipped
from redoxlib.equilibria import equilibrium, interhalogen_at_dose, system
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


def bleach(excess: float, **fields: Any) -> Channel:
    return channels("Br^- -> Br2", "NaOCl", excess=excess, **fields)["mixed halogen"]


def test_mixed_halogen_is_that_of_the_pot_at_equilibrium() -> None:
    """Two or three per cent at the exact dose, about a tenth at 10 % beyond, a fifth at 20 % (Wang 1994)."""
    pot = {"concentration": "0.1 mol/L", "impurities": {"NaCl": "10 mol"}}  # 1 mol bromide in 10 L
    exact, tenth, fifth = (bleach(x, **pot).amount for x in (0.0, 0.10, 0.20))
    assert 0.02 < exact < 0.05
    assert 0.09 < tenth < 0.13
    assert 0.18 < fifth < 0.22
    # the same constants and chloride, worked out by the verb of the equilibria
    for excess, found in ((0.0, exact), (0.10, tenth), (0.20, fifth)):
        assert found == pytest.approx(interhalogen_at_dose(excess), abs=0.004)


def test_mixed_halogen_is_graded_at_the_worst_dose() -> None:
    channel = bleach(0.10)
    assert channel.jumped >= bleach(1.1 * (1 + OVERDOSE) - 1).amount * 0.99  # its bleach thins it a little
    assert channel.jumped > 2.5 * channel.amount
    assert channel.gate == (1.0, 1.0)
    assert "at the exact dose" in channel.detail
    assert "pH 2" in channel.detail


def test_the_composition_behind_the_channel_obeys_the_published_constants() -> None:
    """Put back into the laws of mass action of Wang et al. 1994 and of Liu and Margerum 2001."""
    for name in ("bromine-chlorine", "bromine-chlorine, 2001"):
        chosen = system(name)
        found = equilibrium(chosen, {"Br2(aq)": 0.05, "Cl^-(aq)": 0.99, "Cl2(aq)": 0.005}, fixed={"pH": 0.0})
        for row in chosen.reactions:
            log10_q = sum(
                sign * float(n) * found.log10_activity_of(s)
                for sign, side in ((-1, row.equation.reactants), (1, row.equation.products))
                for n, s in side
            )
            assert log10_q == pytest.approx(row.log10_k, abs=1e-6), str(row.equation)


def test_iodine_joins_chlorine_and_bromine() -> None:
    assert "ICl" in channels("I^- -> I2", "NaOCl")["mixed halogen"].text
    assert "IBr" in channels("I^- -> I2", "Br2")["mixed halogen"].text
    assert "mixed halogen" not in channels("I^- -> I2", "H2O2")


@pytest.mark.parametrize("excess", [0.0, 0.1, 0.2, 1.0])
def test_bleach_beyond_half_a_mole_makes_iodate(excess: float) -> None:
    """0.4 (r - 0.5) of the iodine, with r the moles of hypochlorite for one of iodide."""
    r = 0.5 * (1 + excess)
    found = channels("I^- -> I2", "NaOCl", excess=excess)["over-oxidation"]
    assert found.amount == pytest.approx(0.4 * (r - 0.5))
    assert found.jumped == pytest.approx(0.4 * (0.5 * (1 + excess) * 1.2 - 0.5))


def test_a_recalled_constant_narrows_no_gate(monkeypatch: pytest.MonkeyPatch) -> None:
    # peroxymonosulfate on chloride was read; here it is taken as recalled
    monkeypatch.setattr("redoxlib.channels.recalled", lambda _: True)
    job = Job("Cu -> Cu^2+", acid="hydrochloric acid 37 % w/w", time="24 h")
    route = build_route(job, shipped().oxidants["KHSO5"])
    assert isinstance(route, Route)
    (found,) = (c for c in side_risk(route).channels if c.text == "Cl^- is oxidised to Cl2")
    assert found.gate == (0.0, 1.0)


def test_a_gate_follows_from_the_rate_constant_and_the_time() -> None:
    (row,) = (r for r in shipped().rates if (r.oxidant_species, r.reductant_species) == ("HSO5^-", "Cl^-"))
    gates = {}
    for time in ("10 min", "24 h"):
        job = Job("Cu -> Cu^2+", acid="hydrochloric acid 37 % w/w", time=time)
        route = build_route(job, shipped().oxidants["KHSO5"])
        assert isinstance(route, Route)
        (found,) = (c for c in side_risk(route).channels if c.text == "Cl^- is oxidised to Cl2")
        acid = route.charge("acid")
        assert acid is not None
        litres = (route.water_grams + sum(c.ml for c in route.charges if isinstance(c.ml, float))) / 1000
        litres -= route.water_grams / 1000  # the water is among the charges too
        kct = row.value * acid.mol / litres * job.time_s
        assert row.uncertainty is not None
        assert found.gate[0] == pytest.approx(1 - exp(-kct * (1 - row.uncertainty / row.value)), rel=1e-6)
        assert found.gate[1] == pytest.approx(1 - exp(-kct * (1 + row.uncertainty / row.value)), rel=1e-6)
        gates[time] = found.gate
    assert gates["10 min"][1] < gates["24 h"][0]


def test_a_ketone_takes_up_the_halogen_of_an_excess() -> None:
    bleach_on_it = channels("propan-2-ol -> acetone", "NaOCl", medium=7)["product attack"]
    assert "HClO puts Cl into" in bleach_on_it.text
    assert bleach_on_it.amount == pytest.approx(0.1)
    bromate = channels("propan-2-ol -> acetone", "NaBrO3")["product attack"]
    assert "Br2 puts Br into" in bromate.text
    for key in ("KMnO4", "K2Cr2O7", "O3"):
        assert "product attack" not in channels("propan-2-ol -> acetone", key)
    assert "product attack" not in channels("Br^- -> Br2", "NaOCl")


def test_a_couple_may_open_when_the_acid_runs_short() -> None:
    found = channels("Br^- -> Br2", "ClO2")["over-oxidation"]
    assert "short of acid, at pH 2" in found.detail
    at_zero = channels("Br^- -> Br2", "ClO2", medium=0.0)["over-oxidation"]
    assert at_zero.drive_v == found.drive_v
    # Without acid in the charge nothing can run short.
    neutral = channels("Fe^2+ -> Fe(OH)3", "NaOCl", medium=7.0, purpose="remove")
    assert not any("short of acid" in c.detail for c in neutral.values())


def test_a_toxic_gas_left_over_leaves_unless_it_dissolves_as_something_else() -> None:
    found = channels("I^- -> I2", "ClO2")["gas"]
    assert found.amount == pytest.approx(0.1 * 2 / 5)
    assert found.jumped == pytest.approx((1.1 * 1.2 - 1) * 2 / 5)
    assert "gas" not in channels("CN^- -> OCN^-", "Cl2", medium=11)
    assert "gas" not in channels("HS^- -> SO4^2-", "O3", medium=7.5, purpose="remove")


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
    # what the chloride gives ends up as bromine chloride, and is counted there
    assert open_channels["mixed halogen"].state == "open"
    assert "mixed halogen" not in channels("Br^- -> Br2", "KMnO4")
    copper = channels("Cu -> Cu^2+", "KMnO4", acid="hydrochloric acid 37 % w/w")
    assert copper["counter-ion oxidation"].state == "open"
    assert "counter-ion oxidation" not in channels("Cu -> Cu^2+", "KMnO4")


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


@pytest.mark.parametrize(("ph", "mixed"), [(0, True), (2, True), (9, False)])
def test_mixed_halogen_belongs_to_acid(ph: float, mixed: bool) -> None:
    found = channels("Br^- -> Br2", "NaOCl", medium=ph)
    assert (found["mixed halogen"].jumped > 0.01) is mixed
    # Chloride and active chlorine are counted once.
    assert "oxidant on its own end product" not in found or not mixed


@given(st.floats(0, 8), st.floats(0, 8))
def test_mixed_halogen_never_grows_with_the_ph(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert bleach(0.1, medium=low).jumped >= bleach(0.1, medium=high).jumped - 1e-6


# ------------------------------------------------------------------ through the enol, and spent once

ACETIC = "acetic acid 99.8 % w/w"


def test_what_attacks_through_the_enol_is_no_quicker_than_the_enol_forms() -> None:
    """v / [acetone] = k0 + kH [H+] + kOH [OH-] + ka [HA] + kb [A-] + kab [HA] [A-]; Roberts and Caserio."""
    job = Job("propan-2-ol -> acetone", medium=5, acid=ACETIC, time="2 h")
    route = build_route(job, shipped().oxidants["NaOCl"])
    assert isinstance(route, Route)
    found = {c.kind: c for c in side_risk(route).channels}
    acid = route.charge("acid")
    assert acid is not None
    litres = sum(c.ml for c in route.charges if isinstance(c.ml, float)) / 1000
    total, worst = acid.mol / litres, 0.0
    for ph in (5.0, 7.0):  # as declared, and two units short of acid
        acetate = total / (1 + 10 ** (4.756 - ph))
        rest = total - acetate
        rate = 6e-9 + 5.6e-4 * 10**-ph + 7 * 10 ** (ph - 14)
        rate += 1.3e-7 * rest + 3.3e-6 * acetate + 3.5e-6 * rest * acetate
        worst = max(worst, rate)
    gate = found["product attack"].gate
    assert gate[0] == 0.0
    assert gate[1] == pytest.approx(1 - exp(-worst * 7200), rel=0.05)
    assert found["over-oxidation"].gate == gate
    assert "enol" in found["product attack"].detail
    assert "roberts1977" in found["product attack"].sources


def test_alkali_opens_the_enol_and_an_unknown_ketone_narrows_nothing() -> None:
    in_alkali = channels("propan-2-ol -> acetone", "NaOCl", medium=12)["product attack"]
    assert in_alkali.gate[1] > 0.99
    other = channels("cyclohexanol -> cyclohexanone", "NaOCl", medium=5, acid=ACETIC)["product attack"]
    assert other.gate == (0.0, 1.0)


def test_a_base_that_no_row_tells_of_narrows_nothing() -> None:
    with_carbonate: dict[str, Any] = {"impurities": {"Na2CO3": "0.1 mol"}, "medium": 7, "acid": ACETIC}
    assert channels("propan-2-ol -> acetone", "NaOCl", **with_carbonate)["product attack"].gate == (0.0, 1.0)


def test_chlorine_that_acid_sets_free_beside_a_ketone_attacks_it_too() -> None:
    with_chloride = channels("propan-2-ol -> acetone", "KMnO4", acid="hydrochloric acid 37 % w/w")
    assert with_chloride["product attack"].state == "open"
    assert "Cl2 puts Cl into" in with_chloride["product attack"].text


def test_hypochlorite_on_its_chloride_is_sized_by_the_hydrolysis_of_chlorine() -> None:
    """[HClO] [H+] [Cl-] / [Cl2] is 1.04e-3 at ionic strength 0.5 (Wang and Margerum 1994)."""
    job = Job("propan-2-ol -> acetone", medium=5, acid=ACETIC)
    route = build_route(job, shipped().oxidants["NaOCl"])
    assert isinstance(route, Route)
    (found,) = (c for c in side_risk(route).channels if c.text == "Cl^- is oxidised to Cl2")
    litres = sum(c.ml for c in route.charges if isinstance(c.ml, float)) / 1000
    chlorine = found.amount / litres
    acid, chloride = 0.1 / litres - chlorine, 1.0 / litres - chlorine
    assert acid * 1e-5 * chloride / chlorine == pytest.approx(1.04e-3, rel=0.01)
    assert found.jumped < 0.01
    # in strong acid nearly all of the excess is chlorine
    strong = channels("propan-2-ol -> acetone", "NaOCl", medium=0)["oxidant on its own end product"]
    assert strong.amount == pytest.approx(0.1, rel=0.02)


def test_the_excess_is_spent_once() -> None:
    cases: tuple[tuple[str, str, dict[str, Any]], ...] = (
        ("NaOCl", "cyclohexanol -> cyclohexanone", {"medium": 5, "acid": ACETIC}),
        ("KHSO5", "Br^- -> Br2", {}),
        ("KMnO4", "Br^- -> Br2", {}),
    )
    for key, text, fields in cases:
        route = build_route(Job(text, **fields), shipped().oxidants[key])
        assert isinstance(route, Route)
        risk = side_risk(route)
        assert risk.high <= sum(c.high for c in risk.channels) + 1e-12
        assert risk.high >= max(c.high for c in risk.channels) - 1e-12
        assert risk.low <= risk.high
    bleach_on_ketone = build_route(
        Job("cyclohexanol -> cyclohexanone", medium=5, acid=ACETIC), shipped().oxidants["NaOCl"]
    )
    assert isinstance(bleach_on_ketone, Route)
    risk = side_risk(bleach_on_ketone)
    # three ways for the same 0.32 mol of hypochlorite: the worst of them takes it all
    (attack,) = (c for c in risk.channels if c.kind == "product attack")
    assert risk.high == pytest.approx(attack.high)


def test_ozone_carries_manganese_on_to_permanganate() -> None:
    found = channels("Mn^2+ -> MnO2", "O3", purpose="remove", medium=7.5)["over-oxidation"]
    assert "MnO4^-" in found.text
    assert found.state == "open"
