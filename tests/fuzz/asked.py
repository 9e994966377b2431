"""A long run of questions that the verbs can answer, with the memory it takes.

``python -m tests.fuzz.asked --inputs 20000`` prints a line each thousand inputs and the figures at the end.
"""

from __future__ import annotations

import argparse
import gc
import sys
import time
import traceback
import tracemalloc
from collections import Counter
from random import Random

from redoxlib.errors import RedoxlibError

from ._inputs import alarm
from ._verbs import caches, question


def _megabytes() -> float:
    """Memory held by this process; Linux only."""
    with open("/proc/self/status", encoding="ascii") as lines:
        return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))


def main() -> int:
    """Ask, and say what came of it; 1 when there was a fault."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--inputs", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--trace", type=int, default=0, help="inputs at the end over which new memory is traced"
    )
    given = parser.parse_args()
    random = Random(given.seed)
    asked: Counter[str] = Counter()
    answered: Counter[str] = Counter()
    seconds: dict[str, float] = {}
    slowest: dict[str, tuple[float, str]] = {}
    faults = 0
    begun = time.time()
    before: tracemalloc.Snapshot | None = None
    for number in range(1, given.inputs + 1):
        if number == given.inputs - given.trace + 1:
            gc.collect()
            tracemalloc.start()
            before = tracemalloc.take_snapshot()
        put = question(random)
        asked[put.verb] += 1
        started = time.perf_counter()
        try:
            with alarm(60 if before is None else 600):  # tracing is slow
                put.ask()
            answered[put.verb] += 1
        except RedoxlibError:
            pass
        except BaseException:
            faults += 1
            print("FAULT", put.verb, put.words)
            traceback.print_exc(limit=-5, file=sys.stdout)
        took = time.perf_counter() - started
        seconds[put.verb] = seconds.get(put.verb, 0.0) + took
        slowest[put.verb] = max(slowest.get(put.verb, (0.0, "")), (took, put.words[:200]))
        if number % 1000 == 0:
            gc.collect()
            held = sum(size for _, size, _ in caches())
            print(
                f"{number} inputs {time.time() - begun:.0f} s {_megabytes():.1f} MB, {held} kept", flush=True
            )
    for verb, count in asked.most_common():
        worst, words = slowest[verb]
        print(
            f"{verb}: {count} asked, {answered[verb]} answered, {seconds[verb]:.0f} s, "
            f"slowest {worst:.2f} s {words}"
        )
    for name, size, most in sorted(caches(), key=lambda row: -row[1]):
        if size > 20:
            print(f"cache {name}: {size} of {most if most is not None else 'no limit'}")
    if before is not None:
        gc.collect()
        for line in tracemalloc.take_snapshot().compare_to(before, "lineno")[:15]:
            print(line)
    print(f"{sum(asked.values())} asked, {sum(answered.values())} answered, {faults} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
