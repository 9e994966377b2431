"""DataFrames out: the one door to pandas.

May import: everything of level 10 and below, inside functions.
"""

from __future__ import annotations

from typing import Any

TYPE_CHECKING = False
if TYPE_CHECKING:
    import pandas as pd

    from redoxlib.compare import Comparison

__all__ = ["comparison_frame", "comparison_rows"]


def comparison_rows(comparison: Comparison) -> list[dict[str, Any]]:
    """One plain mapping per oxidant, ranked ones first; unknown figures are None."""
    from redoxlib.quantity import Quantity

    def number(value: object) -> float | None:
        return value.value if isinstance(value, Quantity) else None

    rows: list[dict[str, Any]] = []
    for group in comparison.ranked:
        for route in group:
            rows.append(
                {
                    "oxidant": route.oxidant.key,
                    "name": route.oxidant.name,
                    "verdict": "tie" if len(group) > 1 else "ranked",
                    "place": comparison.place(route.oxidant.key),
                    "points": route.score.total if route.score else None,
                    "pmi_kg_per_kg": route.mass_efficiency.pmi_dry if route.mass_efficiency else None,
                    "atom_economy": route.mass_efficiency.atom_economy if route.mass_efficiency else None,
                    "by_products_g_tier_per_mol": route.by_products.weighted if route.by_products else None,
                    "rise_K": number(route.exotherm.rise) if route.exotherm else None,
                    "side_risk_low": route.side_risk.low if route.side_risk else None,
                    "side_risk_high": route.side_risk.high if route.side_risk else None,
                    "cell_potential_V": number(route.cell_potential),
                    "dH_kJ_per_mol": number(route.dH),
                    "dG_kJ_per_mol": number(route.dG),
                    "kinetics": route.kinetics,
                    "reason": "; ".join(route.warnings),
                }
            )
    for route in comparison.unreviewed:
        rows.append(
            {
                "oxidant": route.oxidant.key,
                "name": route.oxidant.name,
                "verdict": "unreviewed",
                "cell_potential_V": number(route.cell_potential),
                "dH_kJ_per_mol": number(route.dH),
                "dG_kJ_per_mol": number(route.dG),
                "reason": "; ".join(route.warnings),
            }
        )
    for refusal in comparison.refused:
        rows.append(
            {
                "oxidant": refusal.oxidant.key,
                "name": refusal.oxidant.name,
                "verdict": "stopped",
                "reason": refusal.reason,
            }
        )
    for setback in (*comparison.infeasible, *comparison.inert, *comparison.undecided):
        rows.append(
            {
                "oxidant": setback.oxidant.key,
                "name": setback.oxidant.name,
                "verdict": setback.verdict,
                "reason": setback.reason,
            }
        )
    return rows


def comparison_frame(comparison: Comparison) -> pd.DataFrame:
    """The comparison as a DataFrame indexed by oxidant key; figures a row does not have are missing."""
    import pandas as pd

    frame = pd.DataFrame(comparison_rows(comparison))
    return frame.set_index("oxidant")
