"""Writes docs/reference/command-line.md from the parser: ``python -m tests.docs.command_line``."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from pathlib import Path

from redoxlib._arguments import subcommands
from redoxlib.cli import _parser

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "command-line.md"
_EVERYWHERE = {"--help", "--json"}


def page() -> str:
    """The whole page as Markdown."""
    parser = _parser()
    options = _shared(subcommands(parser))
    out = [
        "# Command line\n",
        f"{parser.description} This page is written from the parser itself; `redoxlib COMMAND --help` says "
        "the same.\n",
        f"{parser.epilog} Every command takes `--json`, which prints [JSON](../json.md) under a versioned "
        "schema, errors included. A value may begin with a minus: `--dosing -5min` is read and answered.\n",
        "Completion of commands, options and oxidants: `redoxlib completion bash` (or `zsh`, `fish`) prints "
        "a script for the shell to read.\n",
    ]
    for name, below in sorted(subcommands(parser).items()):
        out += _command(f"redoxlib {name}", below, options)
    out += [
        "## The job as options\n",
        "Commands that take a job file also take these; each is the key of [the job file](../job-file.md) "
        "and wins over it.\n",
        *_table(options.values()),
    ]
    return "\n".join(out)


def _shared(commands: dict[str, argparse.ArgumentParser]) -> dict[str, argparse.Action]:
    """Options of ``compare`` that ``plan`` has as well: those of the job, told once."""
    first, second = (
        {action.option_strings[-1]: action for action in commands[name]._actions if action.option_strings}
        for name in ("compare", "plan")
    )
    return {
        name: action
        for name, action in first.items()
        if name in second and name not in {*_EVERYWHERE, "--output"}
    }


def _command(name: str, parser: argparse.ArgumentParser, shared: dict[str, argparse.Action]) -> Iterator[str]:
    places = [action for action in parser._actions if not action.option_strings]
    options = [action for action in parser._actions if action.option_strings]
    jobs = {*shared} <= {word for action in options for word in action.option_strings}
    told = _EVERYWHERE | ({*shared} if jobs else set())
    own = [action for action in options if not {*action.option_strings} & told or _differs(action, shared)]
    below = subcommands(parser)
    words = [f"{a.metavar or a.dest}{'...' if a.nargs == '+' else ''}" for a in places if not below]
    yield f"## `{' '.join([name, *words])}`\n"
    text = (parser.description or "").strip().rstrip(".")
    more = " Takes [the job as options](#the-job-as-options)." if jobs else ""
    yield f"{text[:1].upper()}{text[1:]}.{more}\n"
    rows = [*(action for action in places if action.help and not below), *own]
    if rows:
        yield from _table(rows)
    for word, deeper in below.items():
        yield from _command(f"{name} {word}", deeper, shared)


def _differs(action: argparse.Action, shared: dict[str, argparse.Action]) -> bool:
    """Whether an option of that name means something else here, as ``--oxidant`` of ``plan`` does."""
    told = shared.get(action.option_strings[-1])
    return told is not None and told.help != action.help


def _table(actions: Iterable[argparse.Action]) -> Iterator[str]:
    yield "| argument | meaning |"
    yield "|---|---|"
    for action in actions:
        words = ", ".join(action.option_strings) or str(action.metavar or action.dest)
        if action.option_strings and action.nargs != 0:
            words += f" {action.metavar or '|'.join(map(str, action.choices or [action.dest.upper()]))}"
        said = (action.help or "").replace("%%", "%").replace("|", "\\|")
        if action.choices and action.option_strings:
            said = f"{said}{'; ' if said else ''}one of {', '.join(map(str, action.choices))}"
            words = words.split(" ")[0]
        yield f"| `{words}` | {said} |"
    yield ""


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
