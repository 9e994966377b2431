"""Completion scripts for bash, zsh and fish, written from the command line's own parser.

A script is plain text made once: nothing of the library runs while somebody types.

May import: _arguments, argparse.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from redoxlib._arguments import subcommands

__all__ = ["SHELLS", "completion"]

SHELLS = ("bash", "zsh", "fish")
_FILES = "<files>"
_FILE_NAMES = {"FILE", "PATH", "JOB", "RECIPE"}
_KEYED = {"oxidant", "oxidants", "detail", "a", "b"}


@dataclass(frozen=True, slots=True)
class _Option:
    names: tuple[str, ...]
    help: str
    takes: bool
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Level:
    """One command (``""`` for the program, ``diagram frost`` for a nested one) and what may follow it."""

    path: str
    help: str
    commands: tuple[tuple[str, str], ...]
    options: tuple[_Option, ...]
    places: tuple[str, ...]


def completion(shell: str, parser: argparse.ArgumentParser, keys: Sequence[str]) -> str:
    """The script for one of ``SHELLS``; *keys* are offered wherever an oxidant is asked for."""
    levels = list(_levels(parser, "", "", tuple(keys)))
    return {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](parser.prog, levels)


def _levels(parser: argparse.ArgumentParser, path: str, text: str, keys: tuple[str, ...]) -> Iterator[_Level]:
    below = subcommands(parser)
    options: list[_Option] = []
    places: list[str] = []
    helps = _helps(parser)
    for action in parser._actions:
        words = _words(action, keys)
        if action.option_strings:
            takes = action.nargs != 0
            names = tuple(action.option_strings)
            options.append(_Option(names, (action.help or "").replace("%%", "%"), takes, words))
        elif not isinstance(action, argparse._SubParsersAction):
            places += words
    yield _Level(
        path,
        text,
        tuple((name, helps.get(name, "")) for name in below),
        tuple(options),
        tuple(dict.fromkeys(places)),
    )
    for name, each in below.items():
        yield from _levels(each, f"{path} {name}".strip(), helps.get(name, ""), keys)


def _helps(parser: argparse.ArgumentParser) -> Mapping[str, str]:
    return {
        choice.dest: choice.help or ""
        for action in parser._actions
        if isinstance(action, argparse._SubParsersAction)
        for choice in action._choices_actions
    }


def _words(action: argparse.Action, keys: tuple[str, ...]) -> tuple[str, ...]:
    if action.choices is not None:
        return tuple(map(str, action.choices))
    if action.dest in _KEYED:
        return keys
    return (_FILES,) if action.metavar in _FILE_NAMES else ()


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"


def _list(words: Sequence[str]) -> str:
    return " ".join(_quoted(word) for word in words)


def _open(level: _Level) -> list[str]:
    """What may stand where no option waits for its value."""
    names = [name for option in level.options for name in option.names]
    return [*(name for name, _ in level.commands), *(w for w in level.places if w != _FILES), *names]


def _cases(levels: Sequence[_Level]) -> tuple[list[str], list[str]]:
    """Lines of two shell ``case`` blocks: words after a waiting option, words otherwise."""
    waiting, free = [], []
    for level in levels:
        for option in level.options:
            if option.takes:
                pattern = "|".join(_quoted(f"{level.path}:{name}") for name in option.names)
                words = [word for word in option.words if word != _FILES]
                waiting.append(
                    f"    {pattern}) offered=({_list(words)}); "
                    f"files={int(_FILES in option.words)}; return 0;;"
                )
        files = int(_FILES in level.places)
        free.append(f"    {_quoted(level.path)}) offered=({_list(_open(level))}); files={files};;")
    return waiting, free


def _chooser(prog: str, levels: Sequence[_Level]) -> str:
    """A shell function that sets ``offered`` and ``files`` from the line so far, for bash and zsh."""
    waiting, free = _cases(levels)
    deeper = "|".join(_quoted(level.path) for level in levels if level.path)
    return "\n".join(
        [
            f"_{prog}_choose() {{",
            "  # $1 is the word before the one being typed; the rest come before that, without the program.",
            "  local last=$1 at='' word; shift",
            '  for word in "$@" "$last"; do',
            f'    case "${{at:+$at }}$word" in {deeper}) at="${{at:+$at }}$word";; esac',
            "  done",
            '  case "$at:$last" in',
            *waiting,
            "  esac",
            '  case "$at" in',
            *free,
            "  esac",
            "}",
        ]
    )


def _bash(prog: str, levels: Sequence[_Level]) -> str:
    return f"""# bash completion for {prog}: source <({prog} completion bash)
{_chooser(prog, levels)}
_{prog}() {{
  local cur=${{COMP_WORDS[COMP_CWORD]}} offered=() files=0 word
  COMPREPLY=()
  if (( COMP_CWORD > 1 )); then
    _{prog}_choose "${{COMP_WORDS[COMP_CWORD-1]}}" "${{COMP_WORDS[@]:1:COMP_CWORD-2}}"
  else
    _{prog}_choose ''
  fi
  for word in "${{offered[@]}}"; do
    if [[ $word == -* && $cur != -* ]]; then continue; fi
    if [[ $word == "$cur"* || $(printf %q "$word") == "$cur"* ]]; then
      COMPREPLY+=("$(printf %q "$word")")
    fi
  done
  if (( files )); then
    while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$cur")
  fi
}}
complete -F _{prog} {prog}
"""


def _zsh(prog: str, levels: Sequence[_Level]) -> str:
    return f"""#compdef {prog}
# zsh completion for {prog}: source <({prog} completion zsh), or save as _{prog} in a directory of $fpath
{_chooser(prog, levels)}
_{prog}() {{
  local -a offered line
  local files=0
  line=("${{(@)words[2,CURRENT-1]}}")
  if (( CURRENT > 2 )); then
    _{prog}_choose "${{line[-1]}}" "${{(@)line[1,-2]}}"
  else
    _{prog}_choose ''
  fi
  (( $#offered )) && compadd -a offered
  (( files )) && _files
  return 0
}}
compdef _{prog} {prog}
"""


def _fish(prog: str, levels: Sequence[_Level]) -> str:
    lines = [f"# fish completion for {prog}: {prog} completion fish | source", f"complete -c {prog} -f"]
    for level in levels:
        parts = level.path.split()
        if parts:
            seen = "; and ".join(f"__fish_seen_subcommand_from {part}" for part in parts)
        else:
            seen = "not __fish_seen_subcommand_from " + " ".join(name for name, _ in level.commands)
        inner = [name for name, _ in level.commands]
        first = f"{seen}; and not __fish_seen_subcommand_from {' '.join(inner)}" if parts and inner else seen
        start = f"complete -c {prog} -n {_fished(first)}"
        lines += [f"{start} -a {name} -d {_fished(text)}" for name, text in level.commands]
        words = [word for word in level.places if word != _FILES]
        if words:
            lines.append(f"{start} -a {_fished(' '.join(map(_fished, words)))}")
        if _FILES in level.places:
            lines.append(f"{start} -F")
        for option in level.options:
            names = " ".join(
                f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names
            )
            given = [word for word in option.words if word != _FILES]
            value = "" if not option.takes else " -r -F" if _FILES in option.words else " -x"
            value += f" -a {_fished(' '.join(map(_fished, given)))}" if given else ""
            lines.append(f"{start} {names}{value} -d {_fished(option.help)}")
    return "\n".join(lines) + "\n"


def _fished(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"
