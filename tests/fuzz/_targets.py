"""The readers as functions of one text: each reads it, or raises an error of the family, or is at fault."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from redoxlib import Equation, Job, Quantity, Species, audit, read_bottle, read_own_data
from redoxlib.errors import RedoxlibError

__all__ = ["TARGETS", "Lost", "corpus", "seeds", "try_one"]

CORPUS = Path(__file__).parent / "corpus"
_ROOT = Path(__file__).parents[2]


class Lost(AssertionError):
    """What was read is not what its own text says."""


def _again(read: Callable[[str], object], text: str) -> None:
    """Whatever was read is written so that it reads as the same value."""
    value = read(text)
    written = str(value)
    try:
        second = read(written)
    except RedoxlibError as error:
        raise Lost(f"{text!r} was read and written {written!r}, which is refused: {error}") from error
    if str(second) != written:
        raise Lost(f"{text!r} was read and written {written!r}, which is read as {str(second)!r}")


def _near(text: str) -> None:
    """A quantity is written rounded to its uncertainty or four digits, and reads the same within that."""
    value = Quantity.parse(text)
    if len(str(value)) > 190:  # blanks between a hundred units make it longer than may be read
        return
    try:
        second = Quantity.parse(str(value))
    except RedoxlibError as error:
        raise Lost(f"{text!r} was read and written {str(value)!r}, which is refused: {error}") from error
    room = max(value.uncertainty or 0.0, 6e-4 * abs(value.value))
    if not abs(second.value - value.value) <= room or second.unit != value.unit:
        raise Lost(f"{text!r} was read and written {str(value)!r}, which is read as {second!r}")


@cache
def _folder() -> Path:
    return Path(mkdtemp(prefix="redoxlib-fuzz-"))


def _in_file(read: Callable[[Path], object], name: str) -> Callable[[str], object]:
    def read_text(text: str) -> object:
        path = _folder() / name
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        return read(path)

    return read_text


TARGETS: dict[str, Callable[[str], object]] = {
    "species": lambda text: _again(Species.parse, text),
    "equation": lambda text: _again(Equation.parse, text),
    "quantity": _near,
    "bottle": read_bottle,
    "job": _in_file(Job.read, "job.toml"),
    "recipe": _in_file(audit, "recipe.csv"),
    "own-data": _in_file(read_own_data, "rows.toml"),
}
"""Reader by name; a text is at fault when calling it raises anything but an error of the family."""


def try_one(name: str, text: str) -> bool:
    """Whether the text was read; False where it was refused as it should be."""
    try:
        TARGETS[name](text)
    except RedoxlibError:
        return False
    return True


def corpus(name: str) -> tuple[str, ...]:
    """Texts that a coverage-guided run kept for this reader, because each reached lines no other did."""
    lines = (CORPUS / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()
    return tuple(json.loads(line) for line in lines)


def seeds(target: str) -> Iterator[str]:
    """Texts to start from: what these pages and the published tables hold."""
    if target == "job":
        yield from (path.read_text(encoding="utf-8") for path in sorted(_ROOT.glob("docs/examples/*.toml")))
    elif target == "own-data":
        yield (_ROOT / "docs/examples/data/own-data.toml").read_text(encoding="utf-8")
        yield from _fenced("docs/own-data.md", "[[")
    elif target == "recipe":
        yield from _RECIPES
    else:
        cells: set[str] = set()
        for path in sorted(_ROOT.glob("tests/published/data/*.csv")):
            for line in path.read_text(encoding="utf-8").splitlines()[1:40]:
                cells.update(part.strip() for part in line.split(",") if len(part) < 120)
        yield from sorted(cell for cell in cells if ("->" in cell) == (target == "equation"))
        yield from _PLAIN[target]


def _fenced(page: str, opening: str) -> Iterator[str]:
    """Blocks of a page that begin so, without the marks of a console."""
    block: list[str] = []
    for line in (_ROOT / page).read_text(encoding="utf-8").splitlines():
        bare = line.removeprefix(">>> ").removeprefix("... ").removeprefix("...")
        bare = bare.partition('"""')[2] if bare.count('"""') == 1 and opening in bare else bare
        if bare.startswith(opening) or (block and ("=" in bare or not bare)):
            block.append(bare)
        elif block:
            yield "\n".join(block)
            block = []


_RECIPES = (
    "step,role,charge,amount,minutes\n1,feed,sodium bromide,103 g,\n2,acid,sulfuric acid 96 % w/w,56 mL,10\n"
    "3,oxidant,hydrogen peroxide 30 % w/w,57 mL,60\n,product,Br2,,\n",
    "# a comment\nstep,role,charge,amount\n1,water,water,200 mL\n2,feed,KI,16.6 g\n"
    "3,oxidant,bleach 12.5 % w/w,50 mL\n4,quench,Na2S2O3·5H2O,5 g\n5,product,I2,\n",
)
_PLAIN = {
    "species": (
        "MnO4^-(aq)",
        "Fe2+",
        "CuSO4·5H2O",
        "[Fe(CN)6]4-",
        "C2H5OH",
        "CnH2n+2",
        "e-",
        "ferrous sulfate",
    ),
    "equation": ("2 Br^- + Cl2 -> Br2 + 2 Cl^-", "MnO4- + 8H+ + 5e- = Mn2+ + 4H2O", "CuO2 → Cu + O₂↑"),
    "quantity": (
        "1.50 ± 0.02 g",
        "0.80 mol",
        "2 x 10^-3 mol",
        "1.8(2)e3 J",
        "5 g/100 mL",
        "20 ± 5 %",
        "330 K",
        "2 h",
        "12.5 % w/w",
        "-241.8 kJ/mol",
        "3,5e-2 mol/L",
        "25 °C",
    ),
    "bottle": (
        "bleach 12.5 %",
        "H2O2 30 % w/w, 1.11 g/mL",
        "hydrogen peroxide 10 vol",
        "0.1 N KMnO4",
        "98 % H2SO4",
    ),
}
