"""How fast pots come to equilibrium: 1000 conditions of 40 species, six families of feed.

The species list is one of Gibbs energies with chlorine, bromine, iodine, manganese, peroxide, sulfate,
carbonate and ammonia, with one liquid, two or three solids and a gas phase that may or may not be there.
"""

from __future__ import annotations

import time
from typing import Any

import numpy as np

from redoxlib.equilibria import System, equilibrium

Row = tuple[str, float, str]

SPECIES = (
    "H2O(l)",
    "H^+(aq)",
    "OH^-(aq)",
    "Cl^-(aq)",
    "Cl2(aq)",
    "Cl2(g)",
    "HClO(aq)",
    "ClO^-(aq)",
    "Br^-(aq)",
    "Br2(aq)",
    "Br2(l)",
    "Br3^-(aq)",
    "HBrO(aq)",
    "BrO^-(aq)",
    "BrCl(aq)",
    "BrCl2^-(aq)",
    "Br2Cl^-(aq)",
    "I^-(aq)",
    "I2(aq)",
    "I2(s)",
    "I3^-(aq)",
    "HIO(aq)",
    "IO^-(aq)",
    "ICl(aq)",
    "ICl2^-(aq)",
    "SO4^2-(aq)",
    "HSO4^-(aq)",
    "Mn^2+(aq)",
    "MnO2(s)",
    "MnO4^-(aq)",
    "Mn(OH)2(s)",
    "H2O2(aq)",
    "HO2^-(aq)",
    "CO2(aq)",
    "HCO3^-(aq)",
    "CO3^2-(aq)",
    "CO2(g)",
    "NH3(aq)",
    "NH4^+(aq)",
)


def families(count: int, rng: np.random.Generator) -> dict[str, dict[str, Any]]:
    """Feeds of *count* conditions each, neutral by their counter-ions."""

    def some(low: float, high: float) -> Any:
        return 10.0 ** rng.uniform(low, high, count)

    bromide, iodide, dose, acid, salt = (
        some(-2, 0),
        some(-2, 0),
        some(-0.4, 0.4),
        some(-1, 0.5),
        some(-3, 0),
    )
    return {
        "bleach on bromide in acid": {
            "Br^-(aq)": bromide,
            "HClO(aq)": 0.5 * bromide * dose,
            "H^+(aq)": acid,
            "Cl^-(aq)": acid + salt,
            "Na^+(aq)": bromide + salt,
        },
        "bleach on iodide in acid": {
            "I^-(aq)": iodide,
            "HClO(aq)": 0.5 * iodide * dose,
            "H^+(aq)": acid,
            "HSO4^-(aq)": acid,
            "Na^+(aq)": iodide,
        },
        "chlorine into carbonate and ammonia": {
            "Cl2(aq)": salt,
            "CO3^2-(aq)": 0.5 * acid,
            "NH3(aq)": bromide * 1e-2,
            "Na^+(aq)": acid,
        },
        "permanganate on manganese": {
            "Mn^2+(aq)": 1e-2 * bromide,
            "MnO4^-(aq)": 0.667e-2 * bromide * dose,
            "Cl^-(aq)": 2e-2 * bromide,
            "Na^+(aq)": 0.667e-2 * bromide * dose,
            "CO2(aq)": 1e-3 + 0 * dose,
            "OH^-(aq)": salt * 0.1,
            "K^+(aq)": salt * 0.1,
        },
        "bromide and iodide together": {
            "Br^-(aq)": bromide,
            "I^-(aq)": iodide,
            "Cl2(aq)": 0.5 * (bromide + iodide) * dose,
            "Na^+(aq)": bromide + iodide,
        },
        "halogens into alkali": {
            "Br2(l)": bromide,
            "I2(s)": iodide,
            "OH^-(aq)": acid,
            "Na^+(aq)": acid,
        },
    }


def run(count: int = 1000, seed: int = 20240601) -> list[Row]:
    """Measure everything once; returns (what, value, unit)."""
    pot = System.from_formation("forty species", SPECIES).with_spectators("Na^+(aq)", "K^+(aq)")
    rng = np.random.default_rng(seed)
    rows: list[Row] = []
    feeds = families(count, rng)
    equilibrium(pot, {name: value[:2] for name, value in next(iter(feeds.values())).items()})
    for family, feed in feeds.items():
        times = []
        for _ in range(3):
            start = time.perf_counter()
            found = equilibrium(pot, feed)
            times.append(time.perf_counter() - start)
        rows += [
            (f"{count} x {len(pot.species)} species, {family}", sorted(times)[1] * 1000, "ms"),
            ("  most Newton steps", found.steps, ""),
            ("  closure", found.closure, ""),
        ]
    one = {name: float(value[0]) for name, value in feeds["bleach on bromide in acid"].items()}
    start = time.perf_counter()
    for _ in range(20):
        equilibrium(pot, one)
    rows.append(("one condition", (time.perf_counter() - start) / 20 * 1000, "ms"))
    return rows
