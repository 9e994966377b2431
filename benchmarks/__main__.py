"""Print every benchmark: ``python -m benchmarks``.  Times are information; ratios come from one run."""

from __future__ import annotations

import importlib
import json
import os
import platform
import statistics
import subprocess
import sys
import time
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path


def _cpu() -> str:
    """Model of the processor as the system names it."""
    try:
        for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    except OSError:
        pass
    return platform.processor() or platform.machine()


def machine() -> dict[str, str]:
    """What the figures were measured on."""
    from sympy.external.gmpy import GROUND_TYPES

    found = {
        "cpu": _cpu(),
        "cores": str(os.cpu_count()),
        "python": platform.python_version(),
        "sympy ground types": GROUND_TYPES,
    }
    for package in ("sympy", "numpy", "scipy", "periodictable", "python-flint"):
        try:
            found[package] = version(package)
        except PackageNotFoundError:
            found[package] = "not installed"
    return found


def _cold(code: str, repeats: int = 7) -> float:
    """Median wall time of a fresh interpreter running *code* [ms]."""
    found = []
    for _ in range(repeats):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", code], check=True, stdout=subprocess.DEVNULL)
        found.append((time.perf_counter() - start) * 1000)
    return statistics.median(found)


def startup() -> list[tuple[str, float, str]]:
    """Cold starts, against a bare interpreter and against sympy alone."""
    bare = _cold("pass")
    package = _cold("import redoxlib")
    sympy = _cold("import sympy")
    text = "KMnO4 + FeSO4 + H2SO4 -> K2SO4 + MnSO4 + Fe2(SO4)3 + H2O"
    one = _cold(f"from redoxlib.stoichiometry import balance; print(balance({text!r}).equation)")
    return [
        ("bare interpreter", bare, "ms"),
        ("import redoxlib, beyond bare", package - bare, "ms"),
        ("import sympy", sympy, "ms"),
        ("one cold balance", one, "ms"),
        ("ratio one cold balance / import sympy", one / sympy, "x"),
    ]


def main(arguments: list[str]) -> int:
    """Run every ``bench_*`` module; ``--json PATH`` also writes the figures."""
    report: dict[str, object] = {"machine": machine()}
    for key, fact in machine().items():
        print(f"{key}: {fact}")
    parts = {"startup": startup}
    for path in sorted(Path(__file__).parent.glob("bench_*.py")):
        parts[path.stem] = importlib.import_module(f"benchmarks.{path.stem}").run
    for name, run in parts.items():
        rows = run()
        report[name] = rows
        print(f"\n{name}")
        for what, value, unit in rows:
            print(f"  {what:<55} {value:10.3g} {unit}")
    if "--json" in arguments:
        Path(arguments[arguments.index("--json") + 1]).write_text(
            json.dumps(report, indent=1), encoding="utf-8"
        )
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
