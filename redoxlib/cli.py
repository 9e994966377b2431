"""The command line.  It only translates: read arguments, call one verb, print, return a code.

Codes: 0 fine, 1 a check found something wrong, 2 bad input, 3 stopped by the gate.

Every import of the library stands inside the function that needs it, so ``redoxlib --help`` is quick.

May import: everything.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Sequence
from typing import Any, TextIO

from redoxlib import __version__, _completion, _draw
from redoxlib._arguments import Parser
from redoxlib.errors import JobError, RedoxlibError, UnsafeRouteError

__all__ = ["main"]

FINE, WRONG, BAD_INPUT, STOPPED = 0, 1, 2, 3
_INTERRUPTED = 130
_PATIENCE_S = 1.0  # progress is shown only to somebody who has waited this long


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    words = sys.argv[1:] if argv is None else list(argv)
    try:
        arguments = _parser().parse_args(words)
        code: int = arguments.run(arguments)
        sys.stdout.flush()
    except UnsafeRouteError as error:
        return _failed(error, STOPPED, _stop_text(error), as_json="--json" in words)
    except RedoxlibError as error:
        return _failed(error, BAD_INPUT, str(error), as_json="--json" in words)
    except BrokenPipeError:
        # The reader (head, less) has gone; nothing more can be said, and Python must not try at exit.
        _silence_stdout()
        return FINE
    except KeyboardInterrupt:
        return _INTERRUPTED
    if argv is None:
        gc.freeze()  # the process ends here: Python's last collection would go over every module for nothing
    return code


def _complain(message: str, code: int) -> int:
    sys.stdout.flush()
    print(f"redoxlib: {message}", file=sys.stderr)
    return code


def _failed(error: RedoxlibError, code: int, text: str, *, as_json: bool) -> int:
    """Tell an error on standard error: as text, or with its fields as one JSON object."""
    if not as_json:
        return _complain(text, code)
    from redoxlib.reports import plain_error

    sys.stdout.flush()
    _print_json(plain_error(error, code), file=sys.stderr)
    return code


def _silence_stdout() -> None:
    import os

    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - lives until the process ends


def _stop_text(error: UnsafeRouteError) -> str:
    lines = [f"stopped by the gate: {error.message}"]
    if error.hint and not error.reasons:  # with reasons, each names its safer way below
        lines.append(f"  {error.hint}")
    for reason in error.reasons:
        if getattr(reason, "source", ""):
            lines.append(f"  source: {reason.source}")
        if getattr(reason, "safer", ""):
            lines.append(f"  safer: {reason.safer}")
    return "\n".join(dict.fromkeys(lines))


# ---------------------------------------------------------------------------------------------------
# Printing.


def _show(arguments: argparse.Namespace, result: object, writer: str, *options: Any) -> None:
    """Print a result as the document that ``reports.<writer>`` makes of it, or as JSON."""
    from redoxlib import reports

    if arguments.json:
        _print_json(reports.plain(result))
    else:
        made = getattr(reports, writer)(result, *options)
        print(reports.terminal(made, width=_width(), colour=_colour()), end="")


def _print_json(data: Any, file: TextIO | None = None) -> None:
    import json

    print(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False), file=file)


def _width() -> int:
    from shutil import get_terminal_size

    return get_terminal_size((80, 24)).columns


def _colour() -> bool:
    import os

    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


class _Progress:
    """One line on stderr, only for a person who waits, wiped when the work is done."""

    def __init__(self) -> None:
        from time import monotonic

        self._clock = monotonic
        self._start = monotonic()
        self._shown = False
        self._tty = sys.stderr.isatty()

    def __call__(self, done: int, total: int, name: str) -> None:
        if self._tty and self._clock() - self._start > _PATIENCE_S:
            self._shown = True
            sys.stderr.write(f"\r\033[K{done} of {total}: {name}")
            sys.stderr.flush()

    def __enter__(self) -> _Progress:
        return self

    def __exit__(self, *_: object) -> None:
        if self._shown:
            sys.stderr.write("\r\033[K")
            sys.stderr.flush()


# ---------------------------------------------------------------------------------------------------
# Jobs.

_JOB_OPTIONS = (
    ("--purpose", "make or remove (default: make)"),
    ("--medium", "acid (pH 0), neutral (7), base (14) or a pH"),
    ("--feed", "label of what is held, such as 'NaBr 98 %% w/w'"),
    ("--amount", "how much feed: '0.80 mol', '150 g', '500 mL'"),
    ("--concentration", "feed in the pot before the oxidant, '1 mol/L'"),
    ("--acid", "bottle of acid, 'sulfuric acid 50 %% w/w'"),
    ("--base", "bottle of base, 'sodium hydroxide 50 %% w/w'"),
    ("--excess", "oxidant beyond the equation: 0.10 or '10 %%'"),
    ("--temperature", "'25 C'"),
    ("--pot-mass", "'1.2 kg'; for remove jobs the water treated"),
    ("--cooling", "heat the cooling takes away, '50 W'"),
    ("--vessel", "open, vented, closed or sealed (default: open)"),
    ("--room", "volume of the room, '30 m3'"),
    (
        "--context",
        "preset of weights (balanced, teaching, 'water works'), or a circumstance the gate should know, "
        "such as 'no hood'; one of the two",
    ),
    ("--time", "the longest the work may take, '2 h'"),
    ("--volts", "voltage of an electrolysis cell, '3 V'"),
)
_LISTS = (
    (
        "--bottle",
        "bottles",
        "a bottle on the shelf, as its label says; what is not on it is compared as well",
    ),
    ("--oxidant", "oxidants", "an oxidant to compare, by key, name or formula"),
    ("--addition", "addition", "the next in the order of addition"),
)
_PAIRS = (
    ("--impurity", "impurities", "SPECIES=AMOUNT, such as 'NaCl=2 %% w/w'"),
    ("--weight", "weights", "CRITERION=NUMBER: mass, by_products, exotherm, side_risk"),
)


class _Once(argparse.Action):
    """An option of which a job has one: given twice it is refused, not overwritten in silence."""

    def __call__(
        self,
        _parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        _option: str | None = None,
    ) -> None:
        first = getattr(namespace, self.dest, None)
        if first is not None:
            raise argparse.ArgumentError(self, f"given twice, {first!r} and {values!r}; a job has one")
        setattr(namespace, self.dest, values)


def _job_options(parser: argparse.ArgumentParser, *, oxidants: bool = True) -> None:
    group = parser.add_argument_group("the job (instead of a job file)")
    for option, text in _JOB_OPTIONS:
        group.add_argument(option, help=text, action=_Once)
    for option, key, text in _LISTS:
        if oxidants or key != "oxidants":
            group.add_argument(option, dest=key, action="append", help=f"{text} (may be repeated)")
    for option, key, text in _PAIRS:
        group.add_argument(option, dest=key, action="append", help=f"{text} (may be repeated)")
    group.add_argument("--potable", action="store_true", default=None, help="people will drink the water")


def _fields(arguments: argparse.Namespace) -> dict[str, Any]:
    """The job fields given on the command line, under their names."""
    names = [option.removeprefix("--").replace("-", "_") for option, _ in _JOB_OPTIONS]
    fields = {
        name: getattr(arguments, name, None)
        for name in (*names, "bottles", "oxidants", "addition", "potable")
    }
    if getattr(arguments, "impurities", None):
        fields["impurities"] = dict(_pair("--impurity", text) for text in arguments.impurities)
    if getattr(arguments, "weights", None):
        fields["weights"] = dict(_weight(text) for text in arguments.weights)
    return {name: value for name, value in fields.items() if value is not None}


def _pair(option: str, text: str) -> tuple[str, str]:
    name, equals, value = text.rpartition("=")
    if not equals or not name.strip() or not value.strip():
        raise JobError(f"{option} {text!r} is no NAME=VALUE", hint=f"write {option} NAME=VALUE")
    return name.strip(), value.strip()


def _weight(text: str) -> tuple[str, float]:
    name, value = _pair("--weight", text)
    try:
        return name, float(value)
    except ValueError:
        raise JobError(f"--weight {text!r}: {value!r} is no number", hint="write --weight mass=2") from None


def _job(arguments: argparse.Namespace, oxidants: Sequence[str] | None = None) -> Any:
    """The Job of a command: from its file, or from its conversion and options."""
    from dataclasses import replace

    from redoxlib.job import Job

    job = Job.of(_file_or_text(arguments.job), **_fields(arguments))
    return replace(job, oxidants=tuple(oxidants)) if oxidants else job


def _file_or_text(text: str) -> Any:
    """A path where there is such a file, whatever its suffix; else the text itself."""
    from pathlib import Path

    try:
        return Path(text) if Path(text).is_file() else text
    except (OSError, ValueError):  # too long for a file name, so no file
        return text


def _tables(arguments: argparse.Namespace) -> Any:
    """The shipped tables, with the rows and gate rules of an own-data file beside the job file."""
    from pathlib import Path

    from redoxlib._owndata import own_data_beside, read_own_data
    from redoxlib.data import shipped

    job = _file_or_text(arguments.job)
    beside = own_data_beside(job) if isinstance(job, Path) else None
    return shipped() if beside is None else read_own_data(beside)


def _compared(arguments: argparse.Namespace, oxidants: Sequence[str] | None = None) -> Any:
    from redoxlib.compare import compare

    job = _job(arguments, oxidants)
    with _Progress() as progress:
        return compare(job, progress=progress, tables=_tables(arguments))


# ---------------------------------------------------------------------------------------------------
# Commands.


def _balance(arguments: argparse.Namespace) -> int:
    from redoxlib.stoichiometry import balance

    options: dict[str, Any] = {}
    if arguments.ratio:
        options["ratio"] = dict(_ratio(text) for text in arguments.ratio)
    if arguments.origin:
        options["origin"] = dict(_pair("--origin", text) for text in arguments.origin)
    result = balance(arguments.equation, **options)
    return _balanced(arguments, result)


def _ratio(text: str) -> tuple[str, Any]:
    from fractions import Fraction

    name, value = _pair("--ratio", text)
    try:
        return name, Fraction(value)
    except (ValueError, ZeroDivisionError):
        raise JobError(f"--ratio {text!r}: {value!r} is no number", hint="write --ratio H2O2=5") from None


def _complete(arguments: argparse.Namespace) -> int:
    from redoxlib.stoichiometry import complete

    return _balanced(arguments, complete(arguments.equation, _number_or_word(arguments.medium)))


def _number_or_word(text: str) -> str | float:
    try:
        return float(text)
    except ValueError:
        return text


def _balanced(arguments: argparse.Namespace, result: Any) -> int:
    _show(arguments, result, "balance_document", arguments.style)
    return FINE


def _check(arguments: argparse.Namespace) -> int:
    from redoxlib.stoichiometry import check

    result = check(arguments.equation)
    _show(arguments, result, "check_document")
    return FINE if result.balanced else WRONG


def _verify(arguments: argparse.Namespace) -> int:
    from redoxlib._verify import verify

    findings = verify(*arguments.paths)
    wrong = [finding for finding in findings if not finding.as_meant]
    if arguments.json:
        from redoxlib.reports import plain_verification

        _print_json(plain_verification(findings))
    else:
        for finding in findings if arguments.all else wrong:
            print(finding)
        balance_after_all = sum(finding.wrong for finding in wrong)
        print(
            f"{len(findings)} equation{'' if len(findings) == 1 else 's'}, "
            f"{len(wrong) - balance_after_all} not balanced"
            + (f", {balance_after_all} marked as wrong and balanced" if balance_after_all else "")
        )
    return WRONG if wrong else FINE


def _oxidation(arguments: argparse.Namespace) -> int:
    from redoxlib.stoichiometry import oxidation_numbers

    _show(arguments, oxidation_numbers(arguments.species), "oxidation_document")
    return FINE


def _compare(arguments: argparse.Namespace) -> int:
    comparison = _compared(arguments)
    if arguments.detail is not None:
        comparison.route(arguments.detail)  # an oxidant that is not there is said before anything is printed

    _show(arguments, comparison, "comparison_document", arguments.detail)
    if arguments.output:
        from redoxlib import reports

        reports.write(reports.comparison_document(comparison, arguments.detail), arguments.output)
    return _gate_code(comparison)


def _gate_code(comparison: Any) -> int:
    """3 when the gate has left nothing to rank or to show."""
    if not _stopped_throughout(comparison):
        return FINE
    reason = comparison.refused[0]
    return _complain(f"stopped by the gate: {reason.reason}", STOPPED)


def _stopped_throughout(comparison: Any) -> bool:
    """Whether the gate stopped every oxidant, so that nothing else is the reason."""
    refused = {refusal.oxidant.key for refusal in comparison.refused}
    return bool(refused) and refused == {key for key, _ in comparison.verdicts}


def _explain(arguments: argparse.Namespace) -> int:
    comparison = _compared(arguments)
    text = comparison.explain(arguments.a, arguments.b)
    if arguments.json:
        _print_json({"schema": "redoxlib/explanation/1", "a": arguments.a, "b": arguments.b, "text": text})
    else:
        print(_folded(text))
    return FINE


def _folded(text: str) -> str:
    """Sentences folded to the width of the terminal, what goes on indented under its own line."""
    from textwrap import fill

    lines = []
    for line in text.splitlines():
        indent = " " * (len(line) - len(line.lstrip()))
        lines.append(
            fill(
                line,
                _width(),
                subsequent_indent=f"{indent}  ",
                break_long_words=False,
                break_on_hyphens=False,
            )
        )
    return "\n".join(lines)


def _oxidants(arguments: argparse.Namespace) -> int:
    from redoxlib.reports import oxidants_document, plain_oxidants, terminal

    if arguments.json:
        _print_json(plain_oxidants())
    else:
        print(terminal(oxidants_document(), width=_width(), colour=_colour()), end="")
    return FINE


def _data(arguments: argparse.Namespace) -> int:
    from redoxlib._facts import facts
    from redoxlib.reports import looked_up, looked_up_document, plain_looked_up, terminal

    if not looked_up(arguments.species):
        _show(arguments, facts(arguments.species), "species_document")
    elif arguments.json:
        _print_json(plain_looked_up(arguments.species))
    else:
        print(terminal(looked_up_document(arguments.species), width=_width(), colour=_colour()), end="")
    return FINE


def _start(arguments: argparse.Namespace) -> int:
    from redoxlib._start import start_job_text

    text = start_job_text(arguments.conversion, purpose=arguments.purpose)
    if arguments.output is None:
        if arguments.json:
            _print_json({"schema": "redoxlib/start/1", "file": None, "text": text})
        else:
            print(text, end="")
        return FINE
    try:
        # "x" never overwrites, not even a file that appears in between.
        with open(arguments.output, "x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise JobError(
            f"{arguments.output} exists and is left alone", hint="name another file, or move that one away"
        ) from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = getattr(error, "strerror", None) or error
        raise JobError(f"{arguments.output} cannot be written: {reason}") from None
    if arguments.json:
        _print_json({"schema": "redoxlib/start/1", "file": arguments.output, "text": text})
    else:
        print(f"wrote {arguments.output}; next: redoxlib compare {arguments.output}")
    return FINE


def _planned(arguments: argparse.Namespace) -> Any:
    """The plan of one oxidant: the one named, else the only one of the job, else the first-placed."""
    from redoxlib.bench import plan
    from redoxlib.compare import clear

    wanted = [arguments.oxidant] if arguments.oxidant else None
    comparison = _compared(arguments, wanted)
    keys = [key for key, _ in comparison.verdicts]
    if len(keys) == 1:
        route = comparison.route(keys[0])
    elif comparison.routes:
        route = comparison.routes[0]
        if not arguments.json:
            tied = [other.oxidant.key for other in comparison.ranked[0] if other is not route]
            level = f", level with {', '.join(tied)}" if tied else ""
            text = f"redoxlib: no --oxidant given; {route.oxidant.name} is first-placed{level}"
            text += _shelf_says(comparison, route)
            if route.kinetics == "unknown":  # routes of known pace are placed before all others
                text += (
                    "; its pace is unknown, as is that of every other route placed: nothing shows that it "
                    "reacts in the time there is, so try a small portion first"
                )
            print(text, file=sys.stderr)
    else:
        if _stopped_throughout(comparison):
            reason = comparison.refused[0]
            raise UnsafeRouteError(reason.reason, hint=reason.safer, reasons=(reason,))
        raise JobError("no oxidant is left to plan", hint="redoxlib compare gives the reasons")
    tables = _tables(arguments)
    return plan(
        clear(route, tables=tables),
        tables=tables,
        product_mass=arguments.product_mass,
        dosing=arguments.dosing,
        hood=arguments.hood,
        bottles=arguments.strengths,
    )


def _shelf_says(comparison: Any, route: Any) -> str:
    """Which oxidant on the shelf stands best, where the one that is planned is not there."""
    held = comparison.on_shelf
    best = next((key for key in held if comparison.place(key) is not None), None)
    if best is None or route.oxidant.key in held:
        return ""
    return f", not on the shelf; {best} (place {comparison.place(best)}) is: --oxidant '{best}' plans it"


def _plan(arguments: argparse.Namespace) -> int:
    made = _planned(arguments)
    _show(arguments, made, "plan_document")
    if arguments.output or arguments.sheet:
        from redoxlib import reports

        if arguments.output:
            reports.write(made, arguments.output)
        if arguments.sheet:
            reports.write(reports.sheet_document(made), arguments.sheet, contents=False, replace=False)
    return FINE


def _why(arguments: argparse.Namespace) -> int:
    from redoxlib.bench import about

    if arguments.job is None:
        facts = about(arguments.key)
        if arguments.json:
            from redoxlib.reports import plain

            _print_json(plain(facts))
        else:
            print(facts)
            print("  name a job for the figures: redoxlib why KEY JOB")
        return FINE
    about(arguments.key)  # a key that no plan has is told before a job is worked out
    made = _planned(arguments)
    entry = made[arguments.key]
    if arguments.json:
        from redoxlib.reports import plain

        _print_json({"key": arguments.key, **plain(entry)})
    else:
        print(made.why(arguments.key))
    return FINE


def _reconcile(arguments: argparse.Namespace) -> int:
    from redoxlib.bench import reconcile

    places = dict(_pair("--found", text) for text in arguments.found or ())
    result = reconcile(_planned(arguments), product=arguments.product, purity=arguments.purity, found=places)
    _show(arguments, result, "reconciliation_document")
    return WRONG if result.above_theory else FINE


def _audit(arguments: argparse.Namespace) -> int:
    from redoxlib.bench import audit

    result = audit(arguments.recipe)
    _show(arguments, result, "audit_document")
    if result.decision == "stop":
        return STOPPED
    return FINE if result.ok else WRONG


def _diagram(arguments: argparse.Namespace) -> int:
    made = _draw.drawn(arguments)
    if arguments.json:
        from redoxlib.reports import plain

        _print_json({**plain(made), "file": arguments.output})
    else:
        print(made.table() if arguments.output is None else f"wrote {arguments.output}")
    return FINE


def _complete_words(arguments: argparse.Namespace) -> int:
    from redoxlib.data import shipped

    text = _completion.completion(arguments.shell, _parser(), tuple(shipped().oxidants))
    if arguments.json:
        _print_json({"schema": "redoxlib/completion/1", "shell": arguments.shell, "text": text})
    else:
        print(text, end="")
    return FINE


# ---------------------------------------------------------------------------------------------------
# Arguments.


def _parser() -> argparse.ArgumentParser:
    parser = Parser(
        prog="redoxlib",
        description="From a reduced material to its oxidised form: balanced equations, a gated and ranked "
        "choice of oxidant, and the charge sheet.",
        epilog="Exit codes: 0 fine, 1 a check found something wrong, 2 bad input, 3 stopped by the gate.",
    )
    parser.add_argument("--version", action="version", version=f"redoxlib {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    def command(name: str, run: Callable[[argparse.Namespace], int], text: str) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=text, description=text)
        made.add_argument("--json", action="store_true", help="print JSON (docs/json.md)")
        made.set_defaults(run=run)
        return made

    def style(made: argparse.ArgumentParser) -> None:
        made.add_argument("--style", choices=("ascii", "unicode", "latex"), default="ascii")

    made = command("balance", _balance, "balance an equation over the species named")
    made.add_argument("equation", metavar="EQUATION")
    made.add_argument("--ratio", action="append", metavar="SPECIES=NUMBER", help="a fixed ratio (repeat)")
    made.add_argument(
        "--origin", action="append", metavar="PRODUCT=SOURCE", help="where a product comes from"
    )
    style(made)

    made = command("complete", _complete, "add H2O, H+ or OH- and balance")
    made.add_argument("equation", metavar="EQUATION")
    made.add_argument("--medium", default="acid", help="acid, neutral, base or a pH (default: acid)")
    style(made)

    made = command("check", _check, "check an equation as written; exit code 1 when it does not balance")
    made.add_argument("equation", metavar="EQUATION")

    made = command(
        "verify", _verify, "check the equations inside files; exit code 1 when one does not balance"
    )
    made.add_argument("paths", metavar="PATH", nargs="+")
    made.add_argument("--all", action="store_true", help="list the balanced ones too")

    made = command("oxidation", _oxidation, "oxidation numbers of a species")
    made.add_argument("species", metavar="SPECIES")

    made = command("compare", _compare, "compare oxidants for a job: gate, feasibility, kinetics, ranking")
    made.add_argument("job", metavar="JOB", help="a job file, or a conversion such as 'Br^- -> Br2'")
    made.add_argument("--detail", metavar="KEY", help="the oxidant to show in full (default: the first)")
    _output_option(made)
    _job_options(made)

    made = command("explain", _explain, "say why oxidant A stands where it does against B")
    made.add_argument("job", metavar="JOB")
    made.add_argument("a", metavar="A")
    made.add_argument("b", metavar="B")
    _job_options(made)

    command("oxidants", _oxidants, "list the oxidants the comparison knows")

    made = command("data", _data, "show every value the tables hold for a species, with its source")
    made.add_argument(
        "species",
        metavar="SPECIES",
        help="formula, name, key of an oxidant or label of a bottle; also a rule of the gate (G02) or a "
        "hazard statement (H412)",
    )

    made = command("start", _start, "write a commented job file for a conversion")
    made.add_argument("conversion", metavar="CONVERSION")
    made.add_argument("-o", "--output", metavar="FILE", help="a new file; an existing one is left alone")
    made.add_argument("--purpose", choices=("make", "remove"), default="make")

    made = command("plan", _plan, "plan one oxidant that the gate lets pass: charge, order, heat, quench")
    made.add_argument("job", metavar="JOB")
    _output_option(made)
    made.add_argument(
        "--sheet", metavar="FILE", help="write the sheet for the bench as well: .html, .md, .tex or .txt"
    )
    _plan_options(made)

    made = command("why", _why, "formula, inputs and sources of one number of a plan")
    made.add_argument("key", metavar="KEY", help="such as quench.base.mol (docs/keys.md)")
    made.add_argument("job", metavar="JOB", nargs="?", help="without one: how the number is made, no figures")
    _plan_options(made)

    made = command(
        "reconcile", _reconcile, "percent yield from one weighing; exit code 1 when it is above theory"
    )
    made.add_argument("job", metavar="JOB")
    made.add_argument("--product", required=True, help="mass of dry product isolated, '61.4 g'")
    made.add_argument("--purity", type=float, default=1.0, help="mass fraction of product in it (default: 1)")
    made.add_argument(
        "--found",
        action="append",
        metavar="PLACE=AMOUNT",
        help="found elsewhere: dissolved, quenched, carried as grams of product, '3.1 g', or its mol; "
        "unreacted as mol of feed, '0.02 mol', or as grams that say of what, '2 g of KI' (may be repeated)",
    )
    _plan_options(made)

    made = command("audit", _audit, "read a written recipe and say what is wrong with it")
    made.add_argument("recipe", metavar="RECIPE", help="a csv file: step, role, charge, amount, minutes")

    text = "draw what an element does: potential against pH, Frost, forms over pH"
    _draw.add_diagrams(commands.add_parser("diagram", help=text, description=text), _diagram)

    made = command("completion", _complete_words, "print the completion script of a shell")
    made.add_argument("shell", metavar="SHELL", choices=_completion.SHELLS, help="bash, zsh or fish")
    return parser


def _output_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "-o", "--output", metavar="FILE", help="write the report to a file as well: .html, .md, .tex or .txt"
    )


def _plan_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--oxidant", metavar="KEY", help="which oxidant (default: the first-placed)")
    parser.add_argument(
        "--product-mass", metavar="MASS", help="scale the charge to this largest yield, '50 g'"
    )
    parser.add_argument("--dosing", metavar="TIME", help="time over which the oxidant is dosed, '15 min'")
    parser.add_argument("--hood", metavar="FLOW", help="air the hood moves, '0.3 m3/s'")
    parser.add_argument(
        "--bottles",
        dest="strengths",
        choices=("unrestricted",),
        help="plan with strengths anyone may buy, and say what that costs",
    )
    _job_options(parser, oxidants=False)


if __name__ == "__main__":
    sys.exit(main())
