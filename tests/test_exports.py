"""Public means exported; the façade keeps its promises and costs nothing to import."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from types import FunctionType, ModuleType

import pytest

import redoxlib

PARTS = (
    "bench",
    "bottles",
    "compare",
    "data",
    "decision",
    "equilibria",
    "diagrams",
    "errors",
    "job",
    "measures",
    "notation",
    "quantity",
    "reports",
    "routes",
    "safety",
    "scoring",
    "stoichiometry",
    "tables",
    "thermo",
)
HEAVY = ("sympy", "pandas", "scipy", "hypothesis", "numpy", "rich", "periodictable", "attrs", "cattrs")


def names_loaded_by(statement: str) -> set[str]:
    code = f"import sys; {statement}; print(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


@pytest.mark.parametrize("part", PARTS)
def test_every_promised_name_of_a_part_exists(part: str) -> None:
    module = import_module(f"redoxlib.{part}")
    assert [name for name in module.__all__ if not hasattr(module, name)] == []


@pytest.mark.parametrize("name", redoxlib.__all__)
def test_every_name_of_the_facade_exists(name: str) -> None:
    assert getattr(redoxlib, name) is not None


def test_the_facade_promises_what_it_can_fetch() -> None:
    assert set(redoxlib.__all__) == set(redoxlib._HOME)
    assert len(redoxlib.__all__) == len(set(redoxlib.__all__))


def test_the_facade_declares_for_type_checkers_what_it_fetches_at_run_time() -> None:
    tree = ast.parse(Path(redoxlib.__file__).read_text(encoding="utf-8"))
    declared = {
        (alias.asname, (node.module or "").removeprefix("redoxlib").removeprefix("."))
        for guard in tree.body
        if isinstance(guard, ast.If)
        for node in ast.walk(guard)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert declared == set(redoxlib._HOME.items())


def test_every_error_class_is_exported() -> None:
    from redoxlib import errors

    assert set(errors.__all__) <= set(redoxlib.__all__)


def test_a_name_that_does_not_exist_says_so() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'balanse'"):
        _ = redoxlib.balanse


def test_importing_the_package_loads_nothing_heavy() -> None:
    loaded = names_loaded_by("import redoxlib")
    assert {name for name in HEAVY if name in loaded} == set()
    assert {name for name in loaded if name.startswith("redoxlib.")} == set()


@pytest.mark.parametrize(
    "statement", ["import redoxlib; redoxlib.check('H2 + O2 -> H2O')", "import redoxlib.cli"]
)
def test_light_work_loads_nothing_heavy(statement: str) -> None:
    loaded = names_loaded_by(statement)
    assert {
        name for name in ("sympy", "pandas", "scipy", "hypothesis", "numpy", "rich") if name in loaded
    } == set()


def test_the_facade_imports_neither_typing_nor_re_nor_dataclasses() -> None:
    tree = ast.parse(Path(redoxlib.__file__).read_text(encoding="utf-8"))
    top = {
        name.split(".")[0]
        for node in tree.body
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in (
            [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""]
        )
    }
    assert top == {"importlib", "sys", "types"}


@pytest.mark.parametrize(
    "first",
    ["import redoxlib.compare", "from redoxlib.compare import Comparison", "import redoxlib.reports._route"],
)
def test_the_verb_compare_is_not_hidden_by_the_module_of_that_name(first: str) -> None:
    code = f"{first}; import redoxlib; print(type(redoxlib.compare).__name__)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == FunctionType.__name__


def test_errors_is_a_module_of_the_package() -> None:
    assert isinstance(redoxlib.errors, ModuleType)
    assert redoxlib.errors.RedoxlibError is redoxlib.RedoxlibError


def test_dir_lists_the_names_before_they_are_fetched() -> None:
    assert set(redoxlib.__all__) <= set(dir(redoxlib))
