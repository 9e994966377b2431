"""Hazard tiers of GHS H-statements: one number per public code, by which by-products are weighted.

The tiers are a judgement of this library (docs/ranking.md says which); the codes are those of the UN GHS
and, with EUH, of Regulation (EC) 1272/2008.

May import: nothing of redoxlib.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["TIERS", "UNCLASSIFIED_TIER"]

_BY_TIER = {
    0: "none",
    1: "H302 H312 H332 H303 H313 H333 H315 H319 H335 H336 H412 H413 EUH066",
    3: (
        "H301 H311 H331 H314 H318 H317 H371 H373 H411 H304 H305 H272 H220 H221 H224 H225 H226 H227 H228 H251 "
        "H252 H260 H261 H270 H280 H281 H290 EUH001 EUH014 EUH018 EUH029 EUH206 EUH207 EUH208 EUH209 EUH210"
    ),
    10: (
        "H300 H310 H330 H334 H341 H351 H361 H361d H361f H361fd H362 H370 H372 H400 H401 H402 H410 H271 H240 "
        "H241 H242 H250 EUH019 EUH031 EUH032 EUH070 EUH071"
    ),
    30: "H340 H350 H350i H360 H360D H360F H360FD H360Df H360Fd H200 H201 H202 H203 H204 H205",
}

TIERS: Mapping[str, int] = MappingProxyType(
    {code: tier for tier, codes in _BY_TIER.items() for code in codes.split()}
)
"""Hazard tier of each H-code; a code missing here is an error, never zero."""

UNCLASSIFIED_TIER = 10
"""Tier counted on the unfavourable side for a substance that no table classifies."""
