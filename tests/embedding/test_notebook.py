"""The notebook of the tutorial gives the outputs it shows."""

from __future__ import annotations

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
            exec("".join(cell["source"]), names)
        shown = "".join(line for output in cell["outputs"] for line in output["text"])
        assert shown.strip()
        assert printed.getvalue() == shown
