"""The notebook of the tutorial gives the outputs it shows."""

from __future__ import annotations

import ast
import contextlib
import io
import json
from pathlib import Path
from typing import Any

BOOK = Path(__file__).parents[2] / "docs" / "tutorial" / "first-notebook.ipynb"


def test_every_cell_prints_what_is_shown() -> None:
    cells = json.loads(BOOK.read_text(encoding="utf-8"))["cells"]
    code = [cell for cell in cells if cell["cell_type"] == "code"]
    assert len(code) >= 5
    names: dict[str, Any] = {}
    for cell in code:
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            last = _run("".join(cell["source"]), names)
        streams = [output for output in cell["outputs"] if output["output_type"] == "stream"]
        assert printed.getvalue() == "".join(line for output in streams for line in output["text"])
        results = [output["data"] for output in cell["outputs"] if output["output_type"] == "execute_result"]
        assert streams or results
        assert [_displayed(last)] * len(results) == [
            {kind: "".join(lines) for kind, lines in data.items()} for data in results
        ]
        assert bool(results) == (last is not None)


def test_equations_and_results_are_among_what_is_displayed() -> None:
    cells = json.loads(BOOK.read_text(encoding="utf-8"))["cells"]
    kinds = {kind for cell in cells for output in cell.get("outputs", ()) for kind in output.get("data", ())}
    assert {"text/html", "text/latex"} <= kinds


def _run(source: str, names: dict[str, Any]) -> object:
    """Run a cell as a notebook does: the value of a last line that is an expression is what it shows."""
    tree = ast.parse(source)
    if not (tree.body and isinstance(tree.body[-1], ast.Expr)):
        exec(source, names)
        return None
    last = tree.body.pop()
    assert isinstance(last, ast.Expr)
    exec(compile(tree, "cell", "exec"), names)
    value: object = eval(compile(ast.Expression(last.value), "cell", "eval"), names)
    return value


def _displayed(value: object) -> dict[str, str]:
    """The forms a notebook asks an object for."""
    hooks = {"text/html": "_repr_html_", "text/latex": "_repr_latex_"}
    found = {kind: getattr(value, hook)() for kind, hook in hooks.items() if hasattr(value, hook)}
    return {**found, "text/plain": repr(value)}
