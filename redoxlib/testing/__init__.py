"""For other people's tests: random equations, reusable laws, and equations in files as test items.

Verbs: assert_balanced, nearest_fix; the laws assert_conserves, assert_scales, assert_reverses,
assert_adds.  Strategies for hypothesis: species, couples, balanced_equations, skeletons, wrong_equations.

May import: any public name.  Nothing of redoxlib imports it, and it loads a name on first use only.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from redoxlib.testing.checks import assert_adds as assert_adds
    from redoxlib.testing.checks import assert_balanced as assert_balanced
    from redoxlib.testing.checks import assert_conserves as assert_conserves
    from redoxlib.testing.checks import assert_reverses as assert_reverses
    from redoxlib.testing.checks import assert_scales as assert_scales
    from redoxlib.testing.checks import nearest_fix as nearest_fix
    from redoxlib.testing.strategies import balanced_equations as balanced_equations
    from redoxlib.testing.strategies import couples as couples
    from redoxlib.testing.strategies import skeletons as skeletons
    from redoxlib.testing.strategies import species as species
    from redoxlib.testing.strategies import wrong_equations as wrong_equations

_HOME = {
    "assert_adds": "checks",
    "assert_balanced": "checks",
    "assert_conserves": "checks",
    "assert_reverses": "checks",
    "assert_scales": "checks",
    "balanced_equations": "strategies",
    "couples": "strategies",
    "nearest_fix": "checks",
    "skeletons": "strategies",
    "species": "strategies",
    "wrong_equations": "strategies",
}
__all__ = [
    "assert_adds",
    "assert_balanced",
    "assert_conserves",
    "assert_reverses",
    "assert_scales",
    "balanced_equations",
    "couples",
    "nearest_fix",
    "skeletons",
    "species",
    "wrong_equations",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
