"""pytest plugin: every equation in the files of the ini key ``redoxlib_files`` is a test item.

    [tool.pytest.ini_options]
    redoxlib_files = ["README.md", "docs/**/*.md", "paper/*.tex"]

A line that holds ``redoxlib: wrong`` shows an equation meant not to balance, and fails if it does;
``redoxlib: skip`` leaves the line unread.  Nothing but pytest is imported until such a file is read.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from redoxlib._verify import Finding as Found

__all__ = ["EquationFile", "EquationItem"]

KEY = "redoxlib_files"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addini(
        KEY, "files or globs, from the root, whose equations are tests", type="linelist", default=[]
    )


_LISTED = pytest.StashKey[set[Path]]()


def _listed(config: pytest.Config) -> set[Path]:
    """The files of the key, looked up once a run."""
    if _LISTED not in config.stash:
        config.stash[_LISTED] = _globbed(config)
    return config.stash[_LISTED]


def _globbed(config: pytest.Config) -> set[Path]:
    return {
        path.resolve()
        for pattern in config.getini(KEY)
        for path in config.rootpath.glob(pattern)
        if path.is_file()
    }


def pytest_configure(config: pytest.Config) -> None:
    """Files outside ``testpaths`` are visited too, unless the command line names what to run."""
    if config.getini(KEY) and config.args_source is pytest.Config.ArgsSource.TESTPATHS:
        config.args.extend(str(path) for path in sorted(_listed(config)))


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> EquationFile | None:
    if parent.config.getini(KEY) and file_path.resolve() in _listed(parent.config):
        return EquationFile.from_parent(parent, path=file_path)
    return None


class EquationFile(pytest.File):
    """A file whose equations are tests."""

    def collect(self) -> Iterator[EquationItem]:
        from redoxlib._verify import equations_in

        for found in equations_in(self.path):
            yield EquationItem.from_parent(self, name=f"{found.line}: {found.text}", found=found)


class EquationItem(pytest.Item):
    """One equation at its line."""

    def __init__(self, *, found: Found, **rest: object) -> None:
        super().__init__(**rest)  # type: ignore[arg-type]
        self.found = found

    def runtest(self) -> None:
        from redoxlib.testing.checks import assert_balanced

        if not self.found.wrong:
            assert_balanced(self.found.check.equation)
        elif self.found.check.balanced:
            raise AssertionError(f"marked as wrong, and balances: {self.found.text}")

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], *_: object, **__: object) -> str:
        root = self.config.rootpath
        where = self.path.relative_to(root) if self.path.is_relative_to(root) else self.path
        return f"{where}:{self.found.line}: {excinfo.value}"

    def reportinfo(self) -> tuple[Path, int, str]:
        return self.path, self.found.line - 1, self.name
