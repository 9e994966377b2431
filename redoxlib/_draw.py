"""The ``diagram`` command: predominance, Frost and speciation as a table or a file.

May import: errors, quantity, diagrams, _arguments, argparse.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from redoxlib._arguments import Parser
from redoxlib.errors import CommandError, JobError, RedoxlibError, UnitError

__all__ = ["add_diagrams", "drawn"]

_KINDS = {
    "predominance": "which species has the lowest energy at each pH and potential",
    "frost": "energy of each oxidation state; a point above the line of its neighbours can disproportionate",
    "speciation": "forms of one oxidation state over pH",
}


def add_diagrams(parser: argparse.ArgumentParser, run: Callable[[argparse.Namespace], int]) -> None:
    """Give *parser* one subcommand a kind of diagram."""
    kinds = parser.add_subparsers(dest="kind", metavar="KIND", required=True, parser_class=Parser)
    for kind, text in _KINDS.items():
        made = kinds.add_parser(kind, help=text, description=f"{text[0].upper()}{text[1:]}.")
        made.set_defaults(run=run)
        made.add_argument("element", metavar="ELEMENT", help="symbol, such as Mn")
        made.add_argument("--json", action="store_true", help="print JSON (docs/json.md)")
        made.add_argument("-o", "--output", metavar="FILE", help="write a .svg, .png or .txt file instead")
        made.add_argument("--only", action="append", metavar="SPECIES", help="draw these alone (repeat)")
        made.add_argument("--without", action="append", metavar="SPECIES", help="leave this out (repeat)")
        if kind == "frost":
            made.add_argument("--ph", metavar="PH,...", help="one trace each (default: 0,14)")
            continue
        made.add_argument("--ph", metavar="LOW:HIGH", help="range of pH (default: 0:14)")
        made.add_argument(
            "--total",
            metavar="MOLALITY",
            help="mol/kg "
            + (
                "of each dissolved species (default: 1)"
                if kind == "predominance"
                else "in all (default: 0.01)"
            ),
        )
        if kind == "predominance":
            made.add_argument("--volts", metavar="LOW:HIGH", help="range of potential (default: -1.4:2.2)")
        else:
            made.add_argument("--state", metavar="NUMBER", help="oxidation state, where there are several")


def drawn(arguments: argparse.Namespace) -> Any:
    """The diagram that was asked for, saved where a file was named.

    Raises
    ------
    RedoxlibError
        Where an option cannot be read, there is no such diagram, or the file cannot be written.
    """
    made = _computed(arguments)
    if arguments.output is not None:
        try:
            made.save(arguments.output)
        except RedoxlibError:  # already says what to write; some of them are ValueErrors too
            raise
        except (OSError, ValueError) as error:  # ValueError: a NUL in the name
            reason = getattr(error, "strerror", None) or error
            raise JobError(
                f"{arguments.output} cannot be written: {reason}", hint="name another file"
            ) from None
    return made


def _computed(arguments: argparse.Namespace) -> Any:
    from redoxlib import diagrams

    element = arguments.element
    only, without = tuple(arguments.only or ()), tuple(arguments.without or ())
    if arguments.kind == "frost":
        traces = [_number("--ph", text) for text in (arguments.ph or "0,14").split(",")]
        return diagrams.frost(element, ph=traces, only=only, without=without)
    ph = _range("--ph", arguments.ph or "0:14")
    if arguments.kind == "speciation":
        state = None if arguments.state is None else _state(arguments.state)
        total = _molality(arguments.total or "0.01")
        return diagrams.speciation(element, state, total=total, ph=ph, only=only, without=without)
    window = diagrams.Window(ph, _range("--volts", arguments.volts or "-1.4:2.2"))
    activity = _molality(arguments.total or "1")
    return diagrams.predominance(element, activity=activity, window=window, only=only, without=without)


def _number(option: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not abs(value) < float("inf"):
        raise CommandError(f"{option} {text!r} is no number", hint=f"write {option} 7")
    return value


def _range(option: str, text: str) -> tuple[float, float]:
    low, colon, high = text.partition(":")
    if not colon:
        raise CommandError(f"{option} {text!r} is no range", hint=f"write {option} LOW:HIGH, such as 2:12")
    return _number(option, low), _number(option, high)


def _state(text: str) -> Fraction:
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise CommandError(
            f"--state {text!r} is no oxidation state", hint="write --state 6, --state -1 or --state 8/3"
        ) from None


def _molality(text: str) -> float:
    from redoxlib.quantity import Quantity

    try:
        value = float(text)
    except ValueError:
        try:
            value = Quantity.parse(text).to("mol/kg").value
        except UnitError as error:
            raise CommandError(
                f"--total {text!r}: {error.message}", hint="write --total 1e-3, in mol/kg of water"
            ) from None
    if not 0 < value < float("inf"):
        raise CommandError(
            f"--total {text!r} is not above zero", hint="write --total 1e-3, in mol/kg of water"
        )
    return value
