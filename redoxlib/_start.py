"""The job file that ``redoxlib start`` writes: every key at its default, what is unknown, what to measure.

Verb: start_job_text.

May import: errors, notation, data, job, thermo, routes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from redoxlib._reagents import USUAL_ACID, USUAL_BASE
from redoxlib.data import Tables, shipped
from redoxlib.errors import RedoxlibError
from redoxlib.job import CONTEXTS, Conversion, Job
from redoxlib.notation import Phase, Species
from redoxlib.routes import bare, default_feed, default_phase

__all__ = ["start_job_text"]

_HALIDES = {"Br": "bromide", "I": "iodide", "Cl": "chloride"}


def start_job_text(conversion: str, *, purpose: str = "make", tables: Tables | None = None) -> str:
    """Write a commented job file for a conversion.

    Parameters
    ----------
    conversion : str
        ``"Br^- -> Br2"``.
    purpose : {"make", "remove"}

    Returns
    -------
    str
        TOML.  A line that starts with ``#`` and a key, no blank between, is a setting at its default: with
        the ``#`` taken away the file still reads.

    Raises
    ------
    JobError, NotationError
        When the conversion cannot be read.
    """
    job = Job(conversion, purpose=purpose)
    tables = tables or shipped()
    lines = [
        f"# Job for redoxlib: {job.conversions[0]}",
        "#",
        "# A line that starts with # and a key is a setting at its default, or an example where it says so.",
        "# Take the # away and change the value where yours differs. All other lines with # only explain.",
        "#",
        "#   redoxlib compare THIS_FILE",
        "#   redoxlib plan THIS_FILE --oxidant KEY",
        "",
        "# Measure before you rely on any amount:",
        *_comments(measurements(job), "1"),
        "",
        "# What the tables do not know about this conversion:",
        *_comments(gaps(job, tables) or ["nothing that the comparison needs"], "-"),
        "",
        *_settings(job, tables),
    ]
    return "\n".join(lines) + "\n"


def _comments(items: list[str], mark: str) -> Iterator[str]:
    from textwrap import wrap

    for place, item in enumerate(items, 1):
        head = f"#  {place}. " if mark == "1" else f"#  {mark} "
        yield from wrap(item, 100, initial_indent=head, subsequent_indent="#" + " " * (len(head) - 1))


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)  # a JSON string is a TOML basic string


def _settings(job: Job, tables: Tables) -> Iterator[str]:
    remove = job.purpose == "remove"
    conversion = job.conversions[0]
    feed, _ = default_feed(conversion)
    yield "# --- What is wanted ---"
    yield '# "feed -> target". Several that share one oxidant, each with its amount:'
    yield '# [["Fe^2+ -> Fe(OH)3", "3 mg/L"], ["Mn^2+ -> MnO2", "1 mg/L"]]'
    yield f"conversions = {_text(conversion.text)}"
    yield '# "make": the oxidised form is the product. "remove": the reduced form is a nuisance.'
    yield f"purpose = {_text(job.purpose)}"
    yield "# People will drink the water: true or false."
    yield "#potable = false"
    yield ""
    yield "# --- What is held ---"
    yield "# The label of the feed; a salt, a metal, a solution with its strength."
    yield f"#feed = {_text(str(feed))}"
    yield '# How much of it: "0.80 mol", "150 g", "500 mL", or a strength per litre of water.'
    yield f"#amount = {_text('1 mg/L' if remove else '1 mol')}"
    yield "# Feed in the pot before the oxidant goes in; it sets the water and so the rise in temperature."
    yield f"#concentration = {_text('1 mg/L' if remove else '1 mol/L')}"
    yield "# What else is in the feed, per cent of its mass (example; default: nothing)."
    yield '#impurities = { "NaCl" = "1 % w/w" }'
    yield "# Bottles on the shelf, as their labels say; an amount in front also limits"
    yield "# (example; default: the usual strengths)."
    yield '#bottles = ["500 mL of hydrogen peroxide 30 % w/w"]'
    yield "# Oxidants to compare, by key; redoxlib oxidants lists them. Default: all of these."
    yield f"#oxidants = [{', '.join(_text(key) for key in tables.oxidants)}]"
    yield f"#acid = {_text(USUAL_ACID)}"
    yield f"#base = {_text(USUAL_BASE)}"
    yield ""
    yield "# --- Conditions ---"
    yield '# A pH, or "acid" (0), "neutral" (7), "base" (14).'
    yield f"#medium = {job.ph:g}"
    yield "# Oxidant beyond the equation, as a fraction."
    yield f"#excess = {job.excess:.2f}"
    yield "# What goes in first, next, last (example; default: the plan's own order, oxidant last)."
    yield '#addition = ["acid", "feed", "oxidant"]'
    yield '#temperature = "25 C"'
    yield "# The longest the work may take."
    yield f"#time = {_text('1 h' if remove else '24 h')}"
    yield "# Voltage of an electrolysis cell, for its energy."
    yield '#volts = "3 V"'
    what = (
        "Mass of water treated"
        if remove
        else "Mass of the pot, where it is given (example; default: worked out from the charge)"
    )
    yield f"# {what}."
    yield f"#pot_mass = {_text('1000 kg' if remove else '1.5 kg')}"
    yield "# Heat the cooling takes away (example; default: not known)."
    yield '#cooling = "50 W"'
    yield '# "open", "vented", "closed" or "sealed"; no oxidant is ever put into a closed or sealed one.'
    yield '#vessel = "open"'
    yield "# Volume of the room (example; default: not known)."
    yield '#room = "30 m3"'
    yield ""
    yield "# --- Judgement ---"
    yield f"# A preset of weights ({', '.join(CONTEXTS)}), or a circumstance the gate should know."
    yield '#context = "balanced"'
    yield "# Weight of each criterion, 0 or more; written weights win over the preset."
    yield f"#weights = {{ {', '.join(f'{name} = {weight:.1f}' for name, weight in job.weights)} }}"


# ---------------------------------------------------------------------------------------------------
# What to measure: the few things that most often make such a job wrong.


def measurements(job: Job) -> list[str]:
    """What to measure first for this job, the most consequential first."""
    found = [item for conversion in job.conversions for item in _feed_assay(conversion, job)]
    if job.purpose == "make":
        found.append(
            "Strength of every peroxide, bleach or peracid bottle, by titration on the day: they lose "
            "strength as they age, and the label says only what was filled."
        )
        found.append("Moisture and hydrate water of solids: a salt weighed as anhydrous may be a hydrate.")
        found.append("Heat the cooling can carry, with water and a heater: it sets the shortest dosing time.")
    else:
        found.append("Strength of the oxidant solution on the day, and the real delivery of the dosing pump.")
        found.append("Oxidant left after the contact time, on the water itself, in a jar test.")
    return list(dict.fromkeys(found))


def _feed_assay(conversion: Conversion, job: Job) -> Iterator[str]:
    feed = bare(conversion.feed)
    elements = set(feed.elements)
    if job.purpose == "remove":
        yield f"{feed} in the water, dissolved and total, and the pH where the oxidant goes in."
        yield (
            "Everything else that takes up oxidant: dissolved organic carbon, ammonium, sulfide, iron(II), "
            "manganese(II), nitrite. The equations count none of it."
        )
    elif elements <= {"Br"} or elements <= {"I"}:
        name = _HALIDES[next(iter(elements))]
        yield f"Assay of the {name}, in mol per gram of what is weighed."
        yield f"Chloride in the {name}: strong oxidants turn it into chlorine and mixed halogen."
    elif feed.charge == 0 and len(elements) == 1:
        yield "Purity of the metal: solder, plating and alloying elements dissolve with it."
        yield "Grease, lacquer and oxide on the surface, and its area: they decide how fast it dissolves."
    elif "C" in elements and elements <= {"C", "H", "O"}:
        yield "Water content and purity of the organic feed; peroxides in it (test strip)."
    else:
        yield f"Assay of {feed} in the feed, in mol per gram, and how much is oxidised already."
    if elements == {"C", "N"}:
        yield "pH, free cyanide in g/L, and complexed cyanide (nickel, iron): complexes are not destroyed."
    elif elements <= {"S", "H"}:
        yield "pH and total sulfide; never sample by acidifying."
    elif feed.charge and job.purpose == "make":
        yield (
            "Ammonium in the feed (warm a little with base in the hood): with active chlorine it makes "
            "nitrogen trichloride."
        )
    if job.ph < 5:
        yield "Free acid already in the feed: it counts as a reagent."


def gaps(job: Job, tables: Tables) -> list[str]:
    """What the tables lack for this job."""
    from redoxlib import thermo
    from redoxlib.errors import MissingDataError

    found = []
    for conversion in job.conversions:
        for species in (conversion.feed, conversion.target):
            stated = default_phase(species, tables)
            for prop, says in (("dfH", "enthalpy"), ("dfG", "Gibbs energy")):
                try:
                    thermo.value(stated, prop, tables=tables)
                except MissingDataError:
                    found.append(f"{says} of formation of {stated}")
        found += _unknown_rates(conversion, tables)
        for species in (default_feed(conversion)[0], conversion.target_compound or conversion.target):
            if not species.charge and not _classified(species, tables):
                found.append(f"hazard statements of {bare(species)}")
    return list(dict.fromkeys(found))


def _unknown_rates(conversion: Conversion, tables: Tables) -> list[str]:
    feed = bare(conversion.feed)
    noted = {
        row.oxidant for row in tables.kinetics if _parsed(row.reductant) == feed and row.verdict != "unknown"
    }
    rated = {_parsed(row.oxidant_species) for row in tables.rates if _parsed(row.reductant_species) == feed}
    silent = [
        key
        for key in tables.oxidants
        if key not in noted
        and key != "anode"
        and not {_parsed(row.active) for row in tables.oxidant_reactions.get(key, ())} & rated
    ]
    return [f"how fast these oxidise {feed}: {', '.join(silent)}"] if silent else []


def _classified(species: Species, tables: Tables) -> bool:
    return any(
        row.formula and row.chosen and _parsed(row.formula) == bare(species)
        for rows in tables.hazards.values()
        for row in rows
    )


def _parsed(text: str) -> Species | None:
    try:
        return Species.parse(text).with_phase(Phase.UNSTATED)
    except RedoxlibError:
        return None
