"""The house plan, held by the source itself: who may import whom, and which library has which door."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import redoxlib

ROOT = Path(redoxlib.__file__).parent

LAYERS = {
    "errors": 0,
    "quantity": 1,
    "_arguments": 1,
    "notation": 2,
    "stoichiometry": 3,
    "data": 3,
    "bottles": 4,
    "thermo": 4,
    "_facts": 4,
    "_owndata": 4,
    "_fix": 4,
    "batch": 4,
    "_verify": 5,
    "_reagents": 5,
    "job": 5,
    "_jobfile": 5,
    "measures": 5,
    "equilibria": 5,
    "_tiers": 5,
    "_laws": 5,
    "routes": 6,
    "heat": 7,
    "channels": 7,
    "_start": 7,
    "safety": 8,
    "scoring": 9,
    "decision": 9,
    "_situation": 9,
    "tables": 9,
    "compare": 10,
    "bench": 10,
    "diagrams": 10,
    "_kinetics": 10,
    "_explain": 10,
    "reports": 11,
    "_completion": 11,
    "_draw": 12,
    "cli": 13,
    "__main__": 14,
}
"""A part imports parts with a smaller number; equal numbers never meet, save those of OWNED."""

OWNED = {"_jobfile": "job", "_reagents": "job", "_kinetics": "compare", "_explain": "compare"}
"""Private modules that share the layer of the one part that uses them."""

UPWARDS = {("_display", "reports")}
"""The notebook hook imports reports when a cell asks for a page, inside its function."""

DOORS = {
    "attrs": {"_jobfile.py"},
    "cattrs": {"_jobfile.py"},
    "cairosvg": {"diagrams/_picture.py"},
    "pandas": {"tables.py"},
    "periodictable": {"notation/_elements.py"},
    "rich": {"reports/_terminal.py"},
    "sympy": {"stoichiometry/_solve.py"},
}
"""Each library outside the standard one, and the only files that may import it."""

NUMERICAL = {"thermo", "equilibria", "decision", "diagrams", "bench"}
"""Parts that compute with arrays: any of their modules may use numpy and scipy, none else may."""

FREE = {"testing"}
"""May import any public name, and is imported by nothing."""


def sources() -> list[Path]:
    return sorted(ROOT.rglob("*.py"))


def part_of(file: Path) -> str:
    return file.relative_to(ROOT).parts[0].removesuffix(".py")


def imports(file: Path) -> Iterator[tuple[str, int]]:
    """Full names a file imports at run time, with the line; imports for type checkers alone are left out."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    typing_only: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            for statement in node.body:
                typing_only.update(ast.walk(statement))
    for node in ast.walk(tree):
        if node in typing_only:
            continue
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}:{node.lineno}: relative import"
            for alias in node.names:
                yield f"{node.module}.{alias.name}", node.lineno


def inner_imports() -> list[tuple[str, str, str]]:
    """(importing part, imported part, place) for every import across parts."""
    found = []
    for file in sources():
        part = part_of(file)
        for name, line in imports(file):
            pieces = name.split(".")
            if pieces[0] != "redoxlib" or len(pieces) < 2:
                continue
            target = pieces[1]
            if target != part and ((ROOT / target).is_dir() or (ROOT / f"{target}.py").is_file()):
                found.append((part, target, f"{file.relative_to(ROOT)}:{line}"))
    return found


def test_every_part_has_a_layer() -> None:
    parts = {part_of(file) for file in sources()} - {"__init__", "_display"} - FREE
    assert parts - set(LAYERS) == set()
    assert set(LAYERS) - parts == set()


def test_imports_run_downwards() -> None:
    wrong = []
    for part, target, place in inner_imports():
        hook = target == "_display"  # any result type may hang itself on the notebook hook
        if part in FREE or (part, target) in UPWARDS or part == "__init__" or hook:
            continue
        own = OWNED.get(part) == target or OWNED.get(target) == part
        if not own and not LAYERS[target] < LAYERS[part]:
            wrong.append(f"{place}: {part} imports {target}")
    assert wrong == []


def test_helpers_are_used_by_their_owner_or_from_above() -> None:
    used = {(part, target) for part, target, _ in inner_imports()}
    assert [name for name, owner in OWNED.items() if (owner, name) not in used] == []


def test_the_free_parts_are_imported_by_nothing() -> None:
    assert [place for part, target, place in inner_imports() if target in FREE and part not in FREE] == []


def test_scoring_and_bench_never_meet() -> None:
    pairs = {(part, target) for part, target, _ in inner_imports()}
    assert not pairs & {("scoring", "bench"), ("bench", "scoring")}


def test_each_library_has_one_door() -> None:
    wrong, seen = [], set()
    for file in sources():
        name_of_file = file.relative_to(ROOT).as_posix()
        if part_of(file) in FREE:
            continue
        for name, line in imports(file):
            library = name.split(".")[0]
            if library == "redoxlib" or library in sys.stdlib_module_names:
                continue
            if library in ("numpy", "scipy"):
                assert part_of(file) in NUMERICAL, f"{name_of_file}:{line}: {library}"
                continue
            seen.add(library)
            if name_of_file not in DOORS.get(library, set()):
                wrong.append(f"{name_of_file}:{line}: {library}")
    assert wrong == []
    assert seen <= set(DOORS)


def test_no_part_reaches_into_the_private_modules_of_another_package() -> None:
    wrong = []
    for file in sources():
        part = part_of(file)
        for name, line in imports(file):
            pieces = name.split(".")
            inside = len(pieces) > 2 and pieces[0] == "redoxlib" and (ROOT / pieces[1]).is_dir()
            if inside and pieces[1] != part and (ROOT / pieces[1] / f"{pieces[2]}.py").is_file():
                wrong.append(f"{file.relative_to(ROOT)}:{line}: {name}")
    assert wrong == []


def test_only_the_command_line_prints() -> None:
    wrong = [
        f"{file.relative_to(ROOT)}:{node.lineno}"
        for file in sources()
        if part_of(file) not in {"cli", *FREE}
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]
    assert wrong == []


@pytest.mark.parametrize("file", sources(), ids=lambda file: file.relative_to(ROOT).as_posix())
def test_every_module_says_what_it_is_for(file: Path) -> None:
    assert ast.get_docstring(ast.parse(file.read_text(encoding="utf-8")))
