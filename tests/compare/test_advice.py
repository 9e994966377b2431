"""What a comparison says beside its order: the pH at which a stopped job passes, the shelf, what is slow."""

from __future__ import annotations

from typing import Any

import pytest

from redoxlib import compare
from redoxlib.reports import Caution, Table, document, markdown, plain


@pytest.mark.parametrize(("feed", "target"), [("sulfide", "sulfate"), ("cyanide", "OCN^-")])
def test_a_job_that_stops_for_its_ph_names_the_ph_at_which_it_passes(feed: str, target: str) -> None:
    job: dict[str, Any] = {"purpose": "remove", "concentration": "300 mg/L", "pot_mass": "50 kg"}
    stopped = compare(f"{feed} -> {target}", medium=7.5, **job)
    assert not stopped.routes
    passing = compare(f"{feed} -> {target}", **job)
    first = min((r for r in passing.routes if r.kinetics != "unknown"), key=lambda r: r.score.total)  # type: ignore[union-attr]
    for refusal in stopped.refused:
        assert f"at pH {passing.job.ph:g} it lets pass: {first.oxidant.name}" in refusal.safer


def test_a_stop_that_no_ph_mends_names_none() -> None:
    stopped = compare("cyanide -> OCN^-", purpose="remove", medium=11, acid="hydrochloric acid 30 % w/w")
    assert not stopped.routes
    assert all("it lets pass" not in refusal.safer for refusal in stopped.refused)


def test_one_of_two_conversions_that_is_too_slow_is_named() -> None:
    iron, manganese = ("Fe^2+ -> Fe(OH)3", "6 mg/L"), ("Mn^2+ -> MnO2", "0.4 mg/L")
    fields: dict[str, Any] = {"purpose": "remove", "medium": 7.2, "pot_mass": "3000 kg"}
    both = {s.oxidant.key: s.reason for s in compare([iron, manganese], **fields).inert}
    alone = {s.oxidant.key: s.reason for s in compare([manganese], **fields).inert}
    assert both["O2"].startswith("for Mn^2+ -> MnO2, not for Fe^2+ -> ")
    assert alone["O2"] in both["O2"]
    assert not alone["O2"].startswith("for ")
    assert both["Br2"].startswith("for Mn^2+ -> MnO2 (pace of Fe^2+ -> Fe(OH)3 unknown): ")


def test_the_shelf_is_named_with_its_places_and_moves_none() -> None:
    fields: dict[str, Any] = {"concentration": "1.5 mol/L", "amount": "3 mol"}
    bottles = (
        "bleach 12.5 % trade",
        "hydrogen peroxide 12 % w/w",
        "sodium chlorate",
        "hydrochloric acid 30 % w/w",
    )
    oxidants = ["ClO2", "H2O2", "NaOCl", "NaClO3"]
    held = compare("FeCl2 -> FeCl3", bottles=bottles, oxidants=oxidants, **fields)
    assert held.on_shelf == ("H2O2", "NaOCl", "NaClO3")  # peroxide before bleach, the stopped one last
    text = " ".join(markdown(document(held)).split())
    places = [f"{key} (place {held.place(key)})" for key in ("H2O2", "NaOCl")]
    assert f"On the shelf:** {', '.join(places)}, NaClO3 (not ranked)" in text
    assert plain(held)["on_shelf"] == list(held.on_shelf)
    bare = compare("FeCl2 -> FeCl3", oxidants=oxidants, **fields)
    assert bare.on_shelf == ()
    assert "On the shelf" not in markdown(document(bare))


def test_a_shelf_without_an_oxidant_says_so() -> None:
    held = compare("FeCl2 -> FeCl3", bottles=("hydrochloric acid 30 % w/w",), oxidants=["ClO2", "H2O2"])
    assert held.on_shelf == ()
    assert "none of the oxidants compared" in " ".join(markdown(document(held)).split())


def test_a_caution_that_most_routes_carry_is_told_once_with_their_names() -> None:
    found = compare("FeCl2 -> FeCl3")
    (told,) = {w for r in found.routes for w in r.warnings if "turns chloride into chlorine" in w}
    carriers = [r.oxidant.key for r in found.routes if told in r.warnings]
    assert len(found.routes) / 2 < len(carriers) < len(found.routes)
    made = document(found)
    (once,) = [b.text for b in made.blocks if isinstance(b, Caution) and f"below ({carriers[0]}" in b.text]
    assert once == f"{len(carriers)} of the routes below ({', '.join(carriers)}): {told}"
    rows = [row for b in made.blocks if isinstance(b, Table) for row in b.rows]
    assert all(told not in row.warnings for row in rows)
