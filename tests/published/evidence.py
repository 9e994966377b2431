"""Writes docs/evidence.md: what redoxlib says beside what was published, misses and gaps included.

``python -m tests.published.evidence`` writes the page anew; a test makes it once more and compares.
"""

from __future__ import annotations

import ast
import json
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from redoxlib import thermo
from redoxlib.bottles import read_bottle
from redoxlib.compare import compare
from redoxlib.data import shipped
from redoxlib.equilibria import equilibrium, system
from redoxlib.errors import ImpossibleError
from redoxlib.notation import Species
from redoxlib.quantity import Quantity
from redoxlib.stoichiometry import balance, check, complete, oxidation_numbers

from ._balanced import amount, grams, solved
from ._read import jsonl, table

PAGE = Path(__file__).parents[2] / "docs" / "evidence.md"
EXAMPLES = PAGE.parent / "examples"


@dataclass(frozen=True, slots=True)
class Line:
    """One comparison: what was asked, what was printed, what redoxlib says, and whether they meet."""

    what: str
    published: str
    ours: str
    difference: str
    agrees: bool
    source: str
    read: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class Chapter:
    """Comparisons of one kind, and the band within which two numbers are said to agree."""

    title: str
    said: str
    lines: tuple[Line, ...]


def _number(
    row: dict[str, str], what: str, ours: float, *, unit: str = "", relative: float | None = None
) -> Line:
    value = float(row["value"])
    band = abs(value) * relative if relative is not None else float(row["tolerance"])
    places = max(0, 2 - math.floor(math.log10(band))) if band else 4
    apart = ours - value
    return Line(
        what,
        f"{row['value']} {unit}".strip(),
        f"{ours:.{places}f} {unit}".strip(),
        f"{0.0 if abs(apart) < 0.5 * 10**-places else apart:+.{places}f}",
        abs(apart) <= band * (1 + 1e-9),
        row["source"],
        (row.get("basis") or row.get("read") or "read") == "read",
        row.get("note", ""),
    )


def _word(what: str, published: str, ours: str, row: dict[str, Any], note: str = "") -> Line:
    same = published == ours
    return Line(what, published, ours, "" if same else "differs", same, row["source"], _read(row), note)


def _read(row: dict[str, Any]) -> bool:
    return str(row.get("basis", "read")) == "read"


def _reactions() -> Iterator[Line]:
    verbs = {"enthalpy": thermo.enthalpy, "gibbs": thermo.gibbs, "entropy": thermo.entropy}
    for row in table("reactions.csv"):
        if row["quantity"] == "log10 K":
            ours = thermo.equilibrium_constant(row["equation"]).log10
        else:
            ours = verbs[row["quantity"]](row["equation"]).value
        what = f"{row['quantity']} ({row['independence']}): {row['equation']}"
        yield _number(row, what, ours, unit=row["unit"])


def _potentials() -> Iterator[Line]:
    for row in table("potentials.csv"):
        yield _number(row, row["half_reaction"], thermo.potential(row["half_reaction"]).value, unit="V")


def _cells() -> Iterator[Line]:
    for row in table("nernst.csv"):
        activities = dict(part.split("=") for part in row["activities"].split(";") if part)
        found = thermo.potential(
            row["equation"], ph=float(row["ph"]) if row["ph"] else None, activities=activities or None
        )
        at = "; ".join(filter(None, (f"pH {row['ph']}" if row["ph"] else "", row["activities"])))
        yield _number(row, f"{row['equation']} {f'({at})' if at else ''}".strip(), found.value, unit="V")


def _compositions() -> Iterator[Line]:
    def pairs(text: str) -> dict[str, float]:
        return {name: float(value) for name, _, value in (part.rpartition("=") for part in text.split())}

    for row in table("equilibria.csv"):
        pot = system(row["system"]).with_spectators("Na^+(aq)")
        ours = equilibrium(pot, pairs(row["feed"]), fixed=pairs(row["fixed"])).concentration(row["species"])
        if row["quantity"] == "share":
            ours /= sum(value for name, value in pairs(row["feed"]).items() if not name.startswith("Na"))
        what = f"{row['species']} in {row['system']} ({' '.join((row['feed'], row['fixed'])).strip()})"
        unit = "" if row["quantity"] == "share" else "mol/L"
        yield _number(row, what, ours, unit=unit, relative=float(row["tolerance"]))


def _bottles() -> Iterator[Line]:
    for row in table("bottle_molarities.csv"):
        molarity = read_bottle(row["label"]).molarity
        assert isinstance(molarity, Quantity)
        yield _number(row, row["label"], molarity.value, unit=row["unit"])


def _masses() -> Iterator[Line]:
    for row in table("molar_masses.csv"):
        yield _number(row, row["formula"], Species.parse(row["formula"]).molar_mass, unit="g/mol")


def _demand() -> Iterator[Line]:
    for row in table("oxidant_demand.csv"):
        equation = solved(row["equation"])
        oxidant = float(amount(equation, row["oxidant"])) * grams(row["weighed_as"])
        reductant = float(amount(equation, row["reductant"])) * grams(row["counted_as"])
        what = f"{row['weighed_as']} per {row['counted_as']} by mass: {row['equation']}"
        yield _number(row, what, oxidant / reductant, relative=float(row["tolerance_percent"]) / 100)


def _shares() -> Iterator[Line]:
    for row in table("atom_economy.csv"):
        equation = solved(row["skeleton"])
        charged = sum(float(number) * species.molar_mass for number, species in equation.reactants)
        economy = 100 * float(amount(equation, row["product"])) * grams(row["product"]) / charged
        yield _number(row, f"atom economy of {row['product']}: {row['skeleton']}", economy, unit="%")
    for name, weighed, standard in (
        ("available_chlorine.csv", "I2", "Cl2"),
        ("active_oxygen.csv", "O2", "O2"),
    ):
        for row in table(name):
            equation = solved(row["equation"])
            share = float(amount(equation, weighed) / amount(equation, row["formula"]))
            percent = 100 * share * grams(standard) / grams(row["formula"])
            kind = name.removesuffix(".csv").replace("_", " ")
            yield _number(row, f"{kind} of {row['formula']}", percent, unit="%")


def _sides(terms: Any) -> frozenset[tuple[Any, ...]]:
    return frozenset((frozenset(of.elements.items()), of.charge, int(number)) for number, of in terms)


def _equations() -> Iterator[Line]:
    for row in jsonl("equations.jsonl"):
        text = " -> ".join(" + ".join(formula for _, formula in row[side]) for side in ("left", "right"))
        answer = balance(text)
        equation = (answer.equation if answer.unique else answer.choice) or None
        printed = " -> ".join(
            " + ".join(f"{number if number != 1 else ''} {formula}".strip() for number, formula in row[side])
            for side in ("left", "right")
        )
        wanted = [_sides([(n, Species.parse(f)) for n, f in row[side]]) for side in ("left", "right")]
        ours = "no choice"
        if equation is not None:
            equation = equation.reduced()
            same = [_sides(equation.reactants), _sides(equation.products)] == wanted
            ours = printed if same else str(equation)
        note = "" if answer.unique else f"{answer.dimension} independent equations; the choice is shown"
        yield _word(text, printed, ours, row, note)
        if row["bare"]:
            whole = complete(row["bare"], medium=row["medium"]).equation.reduced()
            same = [_sides(whole.reactants), _sides(whole.products)] == wanted
            yield _word(
                f"{row['bare']}, completed ({row['medium']})", printed, printed if same else str(whole), row
            )


def _misprints() -> Iterator[Line]:
    for row in jsonl("misprints.jsonl"):
        try:
            if row["verdict"] == "impossible":
                balance(row["text"])
                ours = "solved"
            else:
                verdict = check(row["text"])
                ours = "unbalanced" if not verdict.balanced else "suspect" if verdict.remarks else "passed"
        except ImpossibleError:
            ours = "impossible"
        if row["verdict"] == "suspect" and ours == "unbalanced":
            ours = "suspect"
        yield _word(row["text"], row["verdict"], ours, row, row["why"])


def _numbers() -> Iterator[Line]:
    for row in table("oxidation_numbers.csv"):
        ours = str(oxidation_numbers(row["formula"]).average[row["element"]])
        yield _word(f"{row['element']} in {row['formula']}", row["average"], ours, row, row["note"])


def _pasted() -> Iterator[Line]:
    for row in jsonl("pasted.jsonl"):
        species = Species.parse(row["text"])
        wanted = Species.parse(
            f"{row['means']}^{abs(row['charge'])}{'+' if row['charge'] > 0 else '-'}"
            if row["charge"]
            else row["means"]
        )
        same = species.elements == wanted.elements and species.charge == row["charge"]
        flagged = bool(species.assumptions)
        means = f"{wanted}{', flagged' if row['doubtful'] else ''}"
        ours = f"{wanted if same else species}{', flagged' if flagged else ''}"
        yield _word(row["text"], means, ours, row, row["why"])


def _preferences() -> Iterator[Line]:
    for row in table("preferences.csv"):
        texts = row["conversions"].split("; ")
        conversions: str | list[str] = texts[0] if len(texts) == 1 else texts
        fields = json.loads(row["fields"])
        answer = compare(conversions, **fields)
        better, worse = answer.place(row["better"]), answer.place(row["worse"])
        holds = better is not None and (worse is None or better < worse)
        ours = f"{_place(answer, row['better'])}; {_place(answer, row['worse'])}"
        where = ", ".join(f"{key} {value}" for key, value in fields.items())
        yield Line(
            f"{row['conversions']} ({where})",
            f"{row['better']} before {row['worse']}",
            ours,
            "" if holds else "other order",
            holds,
            row["source"],
            _read(row),
            f"{row['independence']}. {row['note']}".strip(),
        )


def _worked() -> Iterator[Line]:
    from .test_worked_cases import rows, sheet

    for row in rows():
        value = sheet(row["case"])[row["key"]].value
        assert isinstance(value, Quantity)
        source = {"source": "worked by hand from handbook constants, not re-read", "basis": "memory"}
        yield _number(
            {**source, "value": row["value"], "note": row["how"]},
            f"{row['case']}: {row['key']}",
            value.value,
            unit=value.unit if value.unit != "1" else "",
            relative=float(row["tolerance"]),
        )


def _place(answer: Any, key: str) -> str:
    if (place := answer.place(key)) is not None:
        return f"{key} place {place}"
    for name in ("refused", "infeasible", "inert", "undecided"):
        if any(one.oxidant.key == key for one in getattr(answer, name)):
            return f"{key} {name}"
    return f"{key} not judged"


CHAPTERS: tuple[tuple[str, str, Callable[[], Iterator[Line]]], ...] = (
    (
        "Heats, Gibbs energies, entropies and constants",
        "*measured*: an experiment on the reaction itself; *compiled*: another compilation; *table*: the "
        "compilation redoxlib draws on, so that only the arithmetic is tested.",
        _reactions,
    ),
    (
        "Standard potentials",
        "Each against the value redoxlib would print. Several printed values of one couple are all listed; "
        "those that miss are superseded values and misprints in circulation, and couples whose energies are "
        "unsettled.",
        _potentials,
    ),
    ("Cells and potentials away from the standard state", "Worked examples of textbooks.", _cells),
    ("Composition at equilibrium", "Each with the constants and species of its source.", _compositions),
    ("Bottles", "Moles in a litre of a labelled bottle, through the density curve.", _bottles),
    ("Molar masses", "Against a handbook.", _masses),
    ("Oxidant demand", "Grams of oxidant per gram of reductant, from the balanced equation.", _demand),
    ("Atom economy, available chlorine, active oxygen", "Per cent by mass.", _shares),
    (
        "Six jobs worked by hand",
        "Numbers of bench plans against pencil and paper; the keys are those of `redoxlib why`.",
        _worked,
    ),
    ("Preferences between oxidants", "What is preferred in print must stand before the other.", _preferences),
    ("Equations", "Coefficients in print against balanced and completed ones.", _equations),
    ("Misprints", "Equations that are wrong in print must be found wrong.", _misprints),
    ("Oxidation numbers", "Averages per element.", _numbers),
    ("Pasted formulas", "What the writer meant; *flagged*: the reading is doubtful and said so.", _pasted),
)


@cache
def chapters() -> tuple[Chapter, ...]:
    """Every comparison that rests on a data file, computed now."""
    return tuple(Chapter(title, said, tuple(lines())) for title, said, lines in CHAPTERS)


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ").replace("*", "\\*").replace("_", "\\_")


def _code(text: str) -> str:
    return f"`{text.replace('|', chr(0xA6))}`" if text else ""


def _chapter(chapter: Chapter) -> Iterator[str]:
    sources = list(dict.fromkeys(line.source for line in chapter.lines))
    missed = sum(not line.agrees for line in chapter.lines)
    yield f"## {chapter.title}\n\n{chapter.said}\n"
    yield f"{len(chapter.lines)} checks, {len(chapter.lines) - missed} pass, {missed} fail.\n"
    yield "| asked | published | redoxlib | difference | | source | remark |"
    yield "|---|---|---|---|---|---|---|"
    for line in chapter.lines:
        mark = "pass" if line.agrees else "**fail**"
        where = f"{sources.index(line.source) + 1}{'' if line.read else ' (recalled)'}"
        yield (
            f"| {_code(line.what)} | {_code(line.published)} | {_code(line.ours)} | {line.difference} "
            f"| {mark} | {where} | {_cell(line.note)} |"
        )
    yield "\nSources:\n"
    yield from (f"{number}. {_cell(source)}" for number, source in enumerate(sources, 1))
    yield ""


def _written_out() -> Iterator[tuple[str, str]]:
    """Tests of this folder that no data file drives: (where, what its author says of it)."""
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        if path.name in ("test_evidence.py", "test_worked_cases.py"):
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in tree.body:
            inside = node.body if isinstance(node, ast.ClassDef) else [node]
            above = ast.get_docstring(node) if isinstance(node, ast.ClassDef) else None
            for one in inside:
                if not isinstance(one, ast.FunctionDef) or not one.name.startswith("test_"):
                    continue
                if any(argument.arg == "row" for argument in one.args.args):
                    continue
                said = ast.get_docstring(one) or above or ""
                name = one.name.removeprefix("test_").replace("_", " ")
                yield f"{path.name}: {name}", " ".join(said.split())


def _gaps() -> Iterator[str]:
    known = shipped().formation
    lacking = sorted(name for name, have in known.items() if "dfG" not in have)
    yield (
        f"- **Gibbs energy.** {len(lacking)} of {len(known)} tabulated species have none; a question that "
        f"needs one ends in an error that names the species: {', '.join(_code(name) for name in lacking)}."
    )
    for path in sorted(EXAMPLES.glob("*.toml")):
        answer = compare(path)
        undecided = "; ".join(f"{one.oxidant.key} ({one.reason})" for one in answer.undecided)
        yield f"- **{path.name}.** Not judged for want of a number: {undecided or 'none'}."
    yield (
        "- **Decomposition.** No onset temperature of a decomposition (TD24) is tabulated for any mixture; "
        "criticality classes are given as those still possible."
    )


def page() -> str:
    """The whole page as Markdown."""
    found = chapters()
    lines = [line for chapter in found for line in chapter.lines]
    misses = [(chapter.title, line) for chapter in found for line in chapter.lines if not line.agrees]
    out = [
        "# Evidence\n",
        "This page is generated from the checks in `tests/published/`: what others printed, what redoxlib "
        "says, and whether the two meet. The band of agreement of a row is half the last digit in print, the "
        "spread between sources or the rounding of its inputs; it is not an uncertainty. *Recalled* marks a "
        "printed value that was not read again.\n",
        f"{len(lines)} comparisons; {len(lines) - len(misses)} pass, {len(misses)} fail. "
        f"{sum(line.read for line in lines)} of the printed values were read, the others recalled.\n",
        "## Where we miss\n",
    ]
    out += [
        f"- {title}: {_code(line.what)}: printed {_code(line.published)}, here {_code(line.ours)}. "
        f"{_cell(line.note)}".rstrip()
        for title, line in misses
    ]
    out += ["", "## Where we know nothing\n", *_gaps(), ""]
    for chapter in found:
        out += _chapter(chapter)
    out += [
        "## Checks written out as tests\n",
        "Each of these holds a printed value, a worked example or an analytic solution of its own; all pass, "
        "or the test run would fail.\n",
        "| check | what stands behind it |",
        "|---|---|",
        *(f"| {_cell(where)} | {_cell(said)} |" for where, said in _written_out()),
        "",
    ]
    return "\n".join(out)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
