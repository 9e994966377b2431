"""Coverage-guided fuzzing of one reader; needs atheris, which no extra of this package installs.

``python -m tests.fuzz.guided species --seconds 300 --folder runs`` keeps inputs and faults in the folder.
``python -m tests.fuzz.guided species --folder runs --keep`` picks from those inputs the few that reach every
line which all together reach, and writes them to the corpus that the tests replay.
"""

from __future__ import annotations

import argparse
import json
import sys
import traceback
from pathlib import Path

_WORDS = (
    *(
        "->",
        "=",
        "⇌",
        "(aq)",
        "(s)",
        "(l)",
        "(g)",
        "·",
        "^2-",
        "²⁻",
        "⁺",
        "[",
        "]",
        "{",
        "}",
        "$",
        "\\\\ce{",
        "_2",
    ),
    *(
        " ± ",
        "mol",
        "g/mL",
        "mol/L",
        "% w/w",
        "% w/v",
        "°C",
        "kJ/mol",
        "kg",
        "vol",
        "ppm",
        "N ",
        "M ",
        "1/2",
        "e-",
    ),
    *(
        "Fe",
        "Mn",
        "Cl",
        "SO4",
        "OH",
        "NH4",
        "C2H5OH",
        "n+2",
        "(n-1)",
        "sodium",
        "acid",
        "bleach",
        "(II)",
        "hydrate",
    ),
    *(
        "conversions",
        "medium",
        "amount",
        "oxidants",
        "weights",
        "bottles",
        "impurities",
        "purpose",
        "excess",
        '"""',
    ),
    *(
        "[[species]]",
        "[[couple]]",
        "[[oxidant]]",
        "[[gate_rule]]",
        "[[bottle]]",
        "[[hazard]]",
        "[[source]]",
        "= true",
    ),
    *(
        "step,role,charge,amount,minutes",
        "feed",
        "oxidant",
        "product",
        "quench",
        "water",
        "base",
        "density",
        "anhydrous",
    ),
)


def _fuzz(target: str, seconds: int, folder: Path, seed: int) -> None:
    try:
        import atheris
    except ImportError:
        sys.exit("atheris is not installed here; nothing was run (pip install atheris, Python 3.11 to 3.13)")
    with atheris.instrument_imports(include=["redoxlib"], enable_loader_override=False):
        from . import _targets
    faults: dict[tuple[str, str, int], str] = {}
    read = 0

    def one(data: bytes) -> None:
        nonlocal read
        text = data.decode("utf-8", "replace")
        try:
            read += _targets.try_one(target, text)
        except Exception as error:
            at = [f for f in traceback.extract_tb(error.__traceback__) if "redoxlib" in f.filename]
            key = (type(error).__name__, at[-1].filename if at else "", (at[-1].lineno or 0) if at else 0)
            if isinstance(error, _targets.Lost):
                key = (type(error).__name__, "refused" if error.__cause__ else "another", len(text) // 12)
            if key not in faults or len(text) < len(faults[key]):
                faults[key] = text
                told = [[*k, t] for k, t in faults.items()]
                (folder / "faults.json").write_text(json.dumps(told, indent=1), encoding="utf-8")

    kept = folder / "inputs"
    kept.mkdir(parents=True, exist_ok=True)
    for number, text in enumerate(_targets.seeds(target)):
        (kept / f"seed{number:04}").write_bytes(text.encode())
    words = folder / "words.txt"
    lines = ("".join(f"\\x{b:02x}" for b in word.encode()) for word in _WORDS)
    words.write_text("".join(f'"{line}"\n' for line in lines), encoding="ascii")
    longest = 1500 if target in ("job", "recipe", "own-data") else 160
    limits = [f"-max_total_time={seconds}", f"-max_len={longest}", f"-seed={seed}", "-timeout=60"]
    more = [f"-dict={words}", "-rss_limit_mb=4096", "-print_final_stats=1", f"-artifact_prefix={folder}/"]
    atheris.Setup([sys.argv[0], *limits, *more, str(kept)], one)
    atheris.Fuzz()


def _keep(target: str, folder: Path, most: int) -> None:
    """Greedy cover: of the inputs that reach a line which no shorter one did, as few as reach them all."""
    from . import _targets

    monitor = sys.monitoring  # type: ignore[attr-defined, unused-ignore]  # Python 3.12 and above
    seen: set[tuple[str, int]] = set()

    def line(code: object, number: int) -> None:
        name = code.co_filename  # type: ignore[attr-defined]
        if "redoxlib" in name:
            seen.add((name, number))

    monitor.use_tool_id(monitor.COVERAGE_ID, "corpus")
    monitor.register_callback(monitor.COVERAGE_ID, monitor.events.LINE, line)
    texts = [path.read_bytes().decode("utf-8", "replace") for path in sorted((folder / "inputs").iterdir())]
    texts = sorted(set(texts), key=lambda text: (len(text), text))
    reached: list[tuple[str, frozenset[tuple[str, int]]]] = []
    everything: set[tuple[str, int]] = set()
    monitor.set_events(monitor.COVERAGE_ID, monitor.events.LINE)
    for text in texts:
        seen.clear()
        _targets.try_one(target, text)
        if not seen <= everything:
            reached.append((text, frozenset(seen)))
            everything |= seen
    monitor.set_events(monitor.COVERAGE_ID, 0)
    reached.reverse()  # late ones first: each may make several early ones needless
    chosen: list[str] = []
    left = set(everything)
    while left and len(chosen) < most:
        text, lines = max(reached, key=lambda pair: len(left & pair[1]))
        chosen.append(text)
        left -= lines
    _targets.CORPUS.mkdir(exist_ok=True)
    page = "".join(json.dumps(text) + "\n" for text in chosen)
    (_targets.CORPUS / f"{target}.jsonl").write_text(page, encoding="utf-8")
    print(
        f"{target}: {len(texts)} inputs, {len(everything)} lines, "
        f"{len(chosen)} kept, {len(left)} lines left out"
    )


def main() -> None:
    """Read the words and run."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("target")
    parser.add_argument("--seconds", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--keep", action="store_true")
    parser.add_argument("--most", type=int, default=400)
    given = parser.parse_args()
    folder = given.folder / given.target
    folder.mkdir(parents=True, exist_ok=True)
    if given.keep:
        _keep(given.target, folder, given.most)
    else:
        _fuzz(given.target, given.seconds, folder, given.seed)


if __name__ == "__main__":
    main()
