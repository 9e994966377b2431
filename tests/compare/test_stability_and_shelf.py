"""A product that destroys its oxidant, a border within the uncertainty, a bottle too small, a lost atom."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib import ImpossibleError, balance
from redoxlib._kinetics import FAST_S, judge
from redoxlib._laws import laws_for
from redoxlib.compare import clear, compare
from redoxlib.data import shipped
from redoxlib.job import Job
from redoxlib.notation import Equation, Species
from redoxlib.quantity import Quantity
from redoxlib.routes import Route, build_route

PEROXIDES = ["H2O2", "percarbonate", "Na2O2", "carbamide-peroxide", "NaBO3"]


def test_peroxide_makes_chromate_in_alkali_and_is_destroyed_by_it_in_acid() -> None:
    """van Niekerk and others 2007: chromate oxidises peroxide in acid; in alkali it is made with peroxide."""
    acid = compare("Cr^3+ -> CrO4^2-", medium=0)
    assert not set(PEROXIDES) & {r.oxidant.key for r in (*acid.routes, *acid.unreviewed)}
    (told,) = (s for s in acid.infeasible if s.oxidant.key == "H2O2")
    assert "not stable" in told.reason
    assert "to O2" in told.reason
    assert "niekerk2007" in told.sources
    alkaline = [r.oxidant.key for r in compare("Cr^3+ -> CrO4^2-", medium=13).routes]
    assert {"H2O2", "Na2O2"} <= set(alkaline)


def test_cerium_is_not_oxidised_by_the_peroxide_that_reduces_it() -> None:
    told = [s for s in compare("Ce^3+ -> Ce^4+").infeasible if s.oxidant.key == "H2O2"]
    assert told
    assert "not stable" in told[0].reason


@pytest.mark.parametrize("text", ["Br^- -> Br2", "Fe^2+ -> Fe^3+", "Cu -> Cu^2+", "I^- -> I2"])
def test_a_product_of_which_no_such_attack_is_known_stays(text: str) -> None:
    assert compare(text, oxidants=["H2O2"]).place("H2O2") == 1


def test_a_half_life_within_the_uncertainty_of_the_jobs_time_says_borderline() -> None:
    """Bromide with peroxide: the half-life of the row and its 30 % against the time of the job."""

    def at(time: str) -> tuple[str, str]:
        route = build_route(Job("Br^- -> Br2", time=time), shipped().oxidants["H2O2"])
        assert isinstance(route, Route)
        found = judge(route, shipped())
        return found.verdict, found.text

    half = compare("Br^- -> Br2", oxidants=["H2O2"]).routes[0].half_life_s
    assert half is not None
    for share in (0.85, 1.15):
        verdict, text = at(f"{half * share:.0f} s")
        assert verdict == "slow"
        assert "borderline" in text
    assert at(f"{half * 0.4:.0f} s")[0] == "inert"
    assert "borderline" not in at(f"{half * 3:.0f} s")[1]
    assert half > FAST_S


def test_proton_transfers_are_no_rates_of_oxidation() -> None:
    actives = [Species.parse(t) for t in ("H2O", "H^+", "OH^-")]
    assert laws_for(actives, Species.parse("acetone"), 0.0, shipped()) == ()


def test_a_bottle_too_small_is_said_in_the_comparison_and_in_the_plan() -> None:
    from redoxlib.bench import plan

    shelf: dict[str, Any] = {"bottles": ("10 g of hydrogen peroxide 30 % w/w",), "amount": "1 mol"}
    (route,) = compare("Br^- -> Br2", oxidants=["H2O2"], **shelf).routes
    (told,) = (w for w in route.warnings if "Too little on the shelf" in w)
    assert "14.1 g" in told
    assert "79.9 g" in told
    assert told in plan(clear(route)).warnings
    enough = {**shelf, "bottles": ("100 g of hydrogen peroxide 30 % w/w",)}
    (route,) = compare("Br^- -> Br2", oxidants=["H2O2"], **enough).routes
    assert not any("shelf" in w for w in route.warnings)


def test_an_element_that_has_no_place_in_the_product_is_named_with_what_would_mend_it() -> None:
    with pytest.raises(ImpossibleError) as told:
        compare("SCN^- -> SO4^2-", medium=12)
    assert "carbon and nitrogen of SCN^- have no place in SO4^2-" in told.value.message
    assert told.value.hint is not None
    half = told.value.hint.rpartition("reads ")[2]
    left, _, right = half.partition(" -> ")
    assert not balance(f"{left} -> {right}").equation.residual()
    assert told.value.repairs
    with pytest.raises(ImpossibleError, match="the carbon of CN\\^- has no place"):
        compare("CN^- -> N2", medium=12)


def test_the_heat_of_sodium_peroxide_in_acid_counts() -> None:
    """Na2O2 + 2 H+ -> 2 Na+ + H2O2 gives off 160 kJ/mol; peroxide from its bottle does not."""
    ranked = {r.oxidant.key: r for r in compare("Cu -> Cu^2+", oxidants=["H2O2", "Na2O2"]).routes}
    plain, solid = (ranked[key].exotherm for key in ("H2O2", "Na2O2"))
    assert plain is not None
    assert solid is not None
    assert solid.rise.value > plain.rise.value + 20  # type: ignore[union-attr]


@pytest.mark.parametrize("text", ["propan-2-ol -> acetone", "cyclohexanol -> cyclohexanone"])
def test_bleach_in_acetic_acid_leads_the_secondary_alcohols(text: str) -> None:
    """Stevens, Chapman and Weller 1980; Mohrig and others 1985."""
    found = compare(text, medium=5, acid="acetic acid 99.8 % w/w")
    assert found.place("NaOCl") == 1
    for other in ("NaMnO4", "KMnO4", "TCCA", "O3"):
        place = found.place(other)
        assert place is not None
        assert place > 1


def test_an_oxidant_that_becomes_the_feed_again_has_a_potential() -> None:
    # Bromine on bromide: what the oxidation alone holds is the tribromide, and on that electrons are counted.
    result = compare("Br^- -> Br3^-", oxidants=["Br2"])
    (route,) = result.routes
    assert route.net_ionic == Equation.parse("Br^-(aq) + Br2(aq) -> Br3^-(aq)")
    assert isinstance(route.cell_potential, Quantity)
    # log K of tribromide is 1.2, and two electrons are counted for one of it
    assert route.cell_potential.value == pytest.approx(1.2 * 0.05916 / 2, abs=0.005)


@pytest.mark.parametrize(
    ("text", "oxidant", "medium"), [("Cr^2+ -> Cr2O7^2-", "Na2Cr2O7", 14), ("IO^- -> IO4^-", "NaIO4", 0)]
)
def test_an_oxidant_that_is_the_target_makes_none_of_it(text: str, oxidant: str, medium: float) -> None:
    result = compare(text, oxidants=[oxidant], medium=medium)
    assert not result.routes
    (left,) = result.infeasible
    assert "brings as much" in left.reason


@pytest.mark.parametrize(("declared", "told"), [("0.3 kg", True), ("2 kg", False), (None, False)])
def test_a_pot_declared_lighter_than_its_charge_is_said(declared: str | None, told: bool) -> None:
    (route,) = compare("Br^- -> Br2", oxidants=["H2O2"], amount="0.5 mol", pot_mass=declared).routes
    assert any("The pot is declared as 0.3 kg" in w for w in route.warnings) is told
