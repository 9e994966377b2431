"""Goals that are out of scope whatever the route: one plain sentence each."""

from __future__ import annotations

from collections.abc import Iterator

from redoxlib.notation import Phase, Species
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._hits import Hit, stop
from redoxlib.safety._kinds import Kind

__all__ = ["goal_hits"]

K = Kind
# Products that are peroxides, or explosive, or both.
_ENERGETIC = frozenset(
    {K.ENERGETIC, K.AZIDE, K.FULMINATE, K.ACETYLIDE, K.CHLORATE, K.PERCHLORATE, K.PEROXIDE, K.PERSULFATE,
     K.PEROXYMONOSULFATE, K.PERACID, K.HYDRAZINE}
)  # fmt: skip


def goal_hits(target: Species, *, generator: bool) -> Iterator[Hit]:
    """Say whether *target* may be a goal at all.

    ``generator`` is true for a declared, dilute water-works generator of chlorine dioxide, whose
    product is a solution and no gas.
    """
    kinds = kinds_of(target)
    if K.CHLORINE_DIOXIDE in kinds:
        if not (generator and target.phase is not Phase.GAS):
            yield stop("G25", str(target))
        return
    if kinds & _ENERGETIC:
        yield stop("G24", str(target))
    elif kinds & {K.TOXIC_GAS, K.CYANIDE, K.CHLORAMINE}:
        yield stop("G25", str(target))
