"""argparse in the tone of this library: a wrong command line is an error of the family, without a usage text.

May import: errors.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from typing import Any, NoReturn

from redoxlib.errors import CommandError

__all__ = ["Parser", "subcommands"]

_MINUS = re.compile(r"-[0-9.]")
_CHOICE = re.compile(r"invalid choice: '([^']*)'")


class Parser(argparse.ArgumentParser):
    """Raises ``CommandError``, and lets a value begin with a minus sign (``--dosing -5min``)."""

    def parse_known_args(self, args: Sequence[str] | None = None, namespace: Any = None) -> Any:  # type: ignore[override]
        """Parse, after joining each option to a value that looks like a negative number."""
        return super().parse_known_args(None if args is None else self._joined(args), namespace)

    def _joined(self, args: Sequence[str]) -> list[str]:
        takes = {
            name for action in self._actions for name in action.option_strings if action.nargs in (None, 1)
        }
        found: list[str] = []
        for word in args:
            if found and found[-1] in takes and found[-1].startswith("--") and _MINUS.match(word):
                found[-1] += f"={word}"
            else:
                found.append(word)
        return found

    def error(self, message: str) -> NoReturn:
        """Raise what argparse would have printed under its usage text.

        Raises
        ------
        CommandError
            Always.
        """
        hint = f"usage: {self.prog} --help"
        wrong = _CHOICE.search(message)
        if wrong is not None:
            from difflib import get_close_matches

            near = get_close_matches(wrong[1], [str(c) for a in self._actions for c in a.choices or ()], n=1)
            hint = f"did you mean {near[0]!r}? {hint}" if near else hint
        raise CommandError(message, hint=hint)


def subcommands(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The commands of a parser by name; empty where it has none."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    return {}
