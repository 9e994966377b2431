"""From the words on a label to a bottle.

label    = name strength? ("," remark)*  |  strength name ("," remark)*
strength = NUMBER (("±" | "+/-") NUMBER)? UNIT
"""

from __future__ import annotations

import re
from dataclasses import replace

from redoxlib.bottles._active import (
    available_chlorine,
    bare,
    bottles_by_composition,
    composition,
    inside,
    sold_in,
)
from redoxlib.bottles._bottle import Bottle, Form
from redoxlib.bottles._density import LABEL_CELSIUS, has_curve, label_celsius
from redoxlib.bottles._measure import density_of, from_rows, measure, molarity_of
from redoxlib.bottles._shop import scrap, shop_name
from redoxlib.bottles._strength import convert_strength
from redoxlib.data import BottleRow, Tables, shipped
from redoxlib.errors import DomainError, MissingDataError, NotationError, RedoxlibError, UnitError, no_text
from redoxlib.notation import Assumption, Species
from redoxlib.quantity import Quantity, Unknown, parse_strength

__all__ = ["default_bottle", "read_bottle"]

_LIMIT = 300
_DIGITS = r"[0-9]+(?:\.[0-9]+)?"
_NUMBER = re.compile(rf"(?<![^\s(])[-+−]?{_DIGITS}(?:\s*(?:±|\+/-)\s*{_DIGITS})?(?=\s|%|°|[A-Za-z])")
_DENSITY = re.compile(
    rf"(?:density|d|rho|ρ|sp\.?\s*gr\.?|specific gravity)?\s*=?\s*({_DIGITS})\s*(g/mL|kg/L|g/cm3|g/cm\^3)?",
    re.IGNORECASE,
)
_TEMPERATURE = re.compile(r"(?:at\s+)?([0-9]+(?:\.[0-9]+)?)\s*(?:°\s*C|C|deg C)")
_TAIL = re.compile(rf"(?<!\S)[-+−]?{_DIGITS}(?:,[0-9]+)?(?:\s*[A-Za-z%°][^,]*)?$")
_NORMALITY = re.compile(rf"(?<!\S){_DIGITS}\s*(?:N|normal|eq/L|meq/L)(?!\S)")
# A strength in brackets: "peroxide (30 % w/w)".  "(w/w)" behind a number is another matter.
_BRACKETED = re.compile(rf"(?<=\s)\((\s*{_DIGITS}\s*(?:%|mol|g/|M\b|vol)[^()]*)\)")
_FORM_WORDS: dict[str, Form] = {
    "solution": "solution",
    "aqueous": "solution",
    "aq": "solution",
    "solid": "solid",
    "powder": "solid",
    "granules": "solid",
    "granular": "solid",
    "pellets": "solid",
    "crystals": "solid",
    "flakes": "solid",
    "tablets": "solid",
    "anhydrous": "solid",
    "scrap": "solid",
    "wire": "solid",
    "sheet": "solid",
    "turnings": "solid",
    "gas": "gas",
    "cylinder": "gas",
}
_NEAT = frozenset({"neat", "pure", "glacial"})
_WEAKEST_SOLID = 50.0  # % w/w; below it a strength by mass is taken for a solution
_METALS = frozenset(
    {"Li", "Na", "K", "Rb", "Cs", "Be", "Mg", "Ca", "Sr", "Ba", "Al", "Ti", "V", "Cr", "Mn", "Fe", "Co", "Ni"}
    | {"Cu", "Zn", "Ag", "Cd", "Sn", "Sb", "Hg", "Pb", "Bi", "Ce", "La", "Zr", "Mo", "W", "U"}
)
_STRENGTH_HINT = "write the basis: '{0} % w/w' (mass), '{0} % w/v' (g per 100 mL){1}"


def read_bottle(label: str, *, tables: Tables | None = None) -> Bottle:
    """Read a bottle as its label says it.

    Parameters
    ----------
    label : str
        ``<name> <strength>[, remarks]``, such as ``hydrogen peroxide 30 % w/w``, ``bleach 12.5 % trade``,
        ``H2SO4 98 % w/w, undiluted``, ``potassium permanganate 99 %`` (for a solid, per cent can only be by
        mass), ``copper(II) sulfate pentahydrate``, or a key of the table of bottles.  A remark may state
        the density (``density 1.12 g/mL``), the temperature (``25 C``) or a measured assay
        (``assay 28.4 ± 0.2 % w/w``).

    Raises
    ------
    NotationError
        If the name is no known substance, or the label is empty or far too long.
    UnitError
        If a percentage of a solution lacks its basis, or a solution lacks its strength.
    DomainError
        If the strength is zero, negative or above 100 %.

    Examples
    --------
    >>> bottle = read_bottle("bleach 12.5 % trade")
    >>> print(bottle.molarity)
    1.76 ± 0.09 mol/L
    """
    if not isinstance(label, str):
        raise no_text(label, "write a name and a strength: 'hydrogen peroxide 30 % w/w'")
    if len(label) > _LIMIT:
        raise NotationError(f"a label has at most {_LIMIT} characters, not {len(label)}")
    if not label.strip():
        hint = "write a name and a strength: 'hydrogen peroxide 30 % w/w'"
        raise NotationError("the label is empty", hint=hint)
    tables = shipped() if tables is None else tables
    for key, rows in tables.bottles.items():
        if rows[0].label.casefold() == " ".join(label.split()).casefold():
            if _says_more(label, tables):
                break
            return from_rows(key, rows, label, tables)
    key = label.strip()
    if key in tables.bottles and ("_" in key or not _is_formula(key)):
        return from_rows(key, tables.bottles[key], label, tables)
    return _Label(label, tables).bottle()


def _is_formula(text: str) -> bool:
    """Say whether a key of the table of bottles is a formula too, and so says no strength."""
    try:
        Species.parse(text)
    except NotationError:
        return False
    return True


def _says_more(label: str, tables: Tables) -> bool:
    """Say whether a tabulated label must be read all the same.

    What it states by volume is exact, and the mass fraction of the row only derived from it; and a bare
    per cent sign is an assumption that has to be told.
    """
    reader = _Label(label, tables)
    reader.take_apart()
    return reader.percent is not None or (reader.strength is not None and not _by_mass(reader.strength))


def default_bottle(what: Species | str, *, tables: Tables | None = None) -> Bottle:
    """Return the bottle meant when a job names no strength.

    Parameters
    ----------
    what : Species or str
        A key of the table of bottles (an oxidant key is one), or a substance.

    Raises
    ------
    MissingDataError
        If the table holds no bottle of it.
    """
    tables = shipped() if tables is None else tables
    if isinstance(what, str) and what in tables.bottles:
        return from_rows(what, tables.bottles[what], tables.bottles[what][0].label, tables)
    species = what if isinstance(what, Species) else Species.parse(what)
    for key, rows in bottles_by_composition(tables).get(composition(species), {}).items():
        return from_rows(key, rows, rows[0].label, tables)
    raise MissingDataError(
        f"no bottle of {what}; looked in bottles.csv",
        hint="state one as its label says it, for example 'sodium bromide 99 %'",
        what=f"bottle of {what}",
        looked_in=("bottles.csv",),
    )


def _known_end(name: str) -> str:
    """The neighbour to offer where a name ends in one that the tables know: bleach, of pool bleach."""
    words = name.split()
    for start in range(1, min(len(words), 5)):
        end = " ".join(words[start:])
        if _is_a_name(end):
            return f"did you mean {end!r}?"
    return ""


def _is_a_name(text: str) -> bool:
    """Whether a text in small or large letters is a name of the tables, and no formula."""
    try:
        return text.isascii() and text.islower() and bool(Species.parse(text))
    except NotationError:
        return False


class _Label:
    """One label while it is being read."""

    def __init__(self, label: str, tables: Tables) -> None:
        self.label = label
        self.tables = tables
        self.assumptions: list[Assumption] = []
        self.remarks: list[str] = []
        self.form: Form | None = None
        self.celsius: float | None = None
        self.density: Quantity | None = None
        self.assay: Quantity | None = None
        self.neat = False
        self.strength: Quantity | None = None
        self.percent: tuple[float, tuple[int, int]] | None = None  # a number with a bare per cent sign
        self.span = (0, len(label))  # of the strength
        self.name_span = (0, len(label))

    def bottle(self) -> Bottle:
        name = self.take_apart()
        mend = shop_name(f"{name} solid" if self.form == "solid" else name)
        if mend:
            raise NotationError(
                f"{name!r} does not say which compound it is",
                source=self.label,
                span=self.name_span,
                hint=mend,
            )
        solute = self._solute(name)
        if self.form == "solid" and (fluid := self._fluid(solute)):
            raise NotationError(
                f"{name} is a {fluid} at 25 C, and the label says solid",
                source=self.label,
                span=self.name_span,
                hint="write the compound that the solid is; its label or safety sheet names it",
            )
        if self.celsius is None:
            self.celsius = label_celsius(solute, self.tables)
        solute = self._as_sold(solute)
        strength = self._settle(solute)
        form = self.form or ("solution" if strength is not None else self._pure_form(solute))
        celsius = self.celsius
        if strength is None:
            return self._undiluted(solute, form)
        try:
            fraction, density, molarity = measure(
                solute, strength, form, celsius, self.tables, density=self.density
            )
        except (DomainError, UnitError) as error:
            raise type(error)(error.message, source=self.label, span=self.span, hint=error.hint) from error
        key, fraction, density, molarity = self._tabulated(solute, fraction, density, molarity)
        found = Bottle(
            self.label,
            solute,
            form,
            fraction,
            density,
            molarity,
            strength,
            None,
            celsius,
            key,
            tuple(self.remarks),
            tuple(self.assumptions),
        )
        return found if self.assay is None else found.with_assay(self.assay, tables=self.tables)

    # -- the words -----------------------------------------------------------------------------------

    def take_apart(self) -> str:
        """Take the label apart into name, strength and remarks; return the name."""
        head, *rest = re.split(r",\s+", self.label)
        offset = len(head)
        for remark in rest:
            start = self.label.find(remark, offset)
            offset = start + len(remark)
            self._remark(remark.strip(), start)
        normality = _NORMALITY.search(head)
        if normality is not None:
            raise UnitError(
                "normality belongs to a reaction, not to a bottle",
                source=self.label,
                span=normality.span(),
                hint="write mol/L: 0.1 N permanganate is 0.02 mol/L where five electrons pass",
            )
        head = _BRACKETED.sub(lambda found: f" {found[1]} ", head)  # as long as before: places stay
        parts = self._strength_in(head, 0) or (head, "")
        if all(parts) and self._same_twice(*parts):
            parts = (parts[0], "")
        words = " ".join(parts).split()
        while len(words) > 1 and words[-1].lower().strip("()") in _FORM_WORDS:
            form = _FORM_WORDS[words.pop().lower().strip("()")]
            self.form = self.form or form
        while len(words) > 1 and words[0].lower() in _FORM_WORDS:
            form = _FORM_WORDS[words.pop(0).lower()]
            self.form = self.form or form
        if len(words) > 1 and words[0].lower() in _NEAT:
            self.neat = True
            self.remarks.append(words.pop(0).lower())
        name = " ".join(words)
        start = self.label.find(words[0]) if words else 0
        self.name_span = (max(0, start), max(0, start) + len(name))
        if not name:
            raise NotationError(
                "the label names no substance",
                source=self.label,
                span=(0, len(self.label)),
                hint="write the name first: 'hydrogen peroxide 30 % w/w'",
            )
        return name

    def _same_twice(self, name: str, after: str) -> bool:
        """Say whether what stands behind the strength names the substance once more: ``5 % w/w NaClO``."""
        words = name.split()
        while len(words) > 1 and words[-1].lower() in _FORM_WORDS:
            words.pop()
        try:
            named, again = Species.parse(" ".join(words)), Species.parse(after)
        except NotationError:
            return False
        return composition(named) == composition(again)

    def _remark(self, text: str, start: int) -> None:
        lowered = text.lower()
        if lowered.startswith("assay"):
            self.assay = self._parse(text[5:].strip(), start + 5 + len(text[5:]) - len(text[5:].lstrip()))
            return
        temperature = _TEMPERATURE.fullmatch(text)
        if temperature:
            self.celsius = float(temperature[1])
            return
        density = _DENSITY.fullmatch(text)
        if density and (density[2] or not text[0].isdigit()):
            # A specific gravity is read as g/mL: the two differ by less than half a per cent.
            if not 0.5 <= float(density[1]) <= 10.0:
                raise DomainError(
                    f"no liquid in a bottle has a density of {density[1]} g/mL",
                    source=self.label,
                    span=(start, start + len(text)),
                )
            self.density = Quantity(float(density[1]), "g/mL", None, (), "")
            return
        if self.strength is None and self.percent is None and text[:1].isdigit():
            parts = self._strength_in(text, start)
            if parts is not None:
                if any(parts):
                    self.remarks.append(" ".join(parts).strip())
                return
        if lowered in _FORM_WORDS:
            self.form = self.form or _FORM_WORDS[lowered]
        if lowered in _NEAT:
            self.neat = True
        self.remarks.append(lowered)

    def _strength_in(self, text: str, offset: int) -> tuple[str, str] | None:
        """Find the strength in *text*; return the words before and after it, None if there is none."""
        for match in _NUMBER.finditer(text):
            tail = text[match.end() :]
            ends = [m.end() for m in re.finditer(r"\S+", tail)]
            for end in reversed(ends):
                candidate = text[match.start() : match.end() + end]
                unit = tail[:end].strip()
                if not _looks_like_strength(unit):
                    continue
                self.span = (offset + match.start(), offset + match.start() + len(candidate))
                if unit in ("%", "per cent", "percent"):
                    self.percent = (
                        float(match[0].replace("−", "-").split("±")[0].split("+/-")[0]),
                        self.span,
                    )
                else:
                    self.strength = self._parse(candidate, offset + match.start())
                return text[: match.start()].strip(), tail[end:].strip()
        return None

    def _parse(self, text: str, offset: int) -> Quantity:
        try:
            return parse_strength(text)
        except RedoxlibError as error:
            low, high = error.span or (0, len(text))
            raise type(error)(
                error.message, source=self.label, span=(offset + low, offset + high), hint=error.hint
            ) from None

    def _solute(self, name: str) -> Species:
        try:
            species = Species.parse(name)
        except NotationError as error:
            tail = _TAIL.search(name)
            if tail is not None and self.strength is None:
                # "hydrogen peroxide 0.3", "nitric acid 5 mL": a strength that is none, not a strange name
                self._parse(tail[0], self.name_span[0] + tail.start())
            raise NotationError(
                f"no substance called {name!r}: {error.message}",
                source=self.label,
                span=self.name_span,
                hint=_known_end(name)
                or scrap(name)
                or error.hint
                or "write a name from the tables or a formula",
            ) from error
        number = re.search(r"\s[0-9]", name)
        if number is not None and self._unheard_of(species):
            raise UnitError(
                f"a number without a unit of strength, or a formula with spaces: {str(bare(species))!r}?",
                source=self.label,
                span=(self.name_span[0] + number.start() + 1, self.name_span[1]),
                hint="write a strength such as '5 mol/L' or '20 % w/w', or the formula in one piece",
            )
        self.assumptions += species.assumptions
        return bare(species)

    def _unheard_of(self, species: Species) -> bool:
        """Say whether no table knows a formula that is no adduct either (``CuSO4 . 5 H2O`` has a dot)."""
        plain = str(bare(species))
        known = any(f"{plain}({phase})" in self.tables.formation for phase in ("s", "l", "g", "aq"))
        return not (known or "." in plain or self._rows(species))

    # -- what they mean ------------------------------------------------------------------------------

    def _as_sold(self, solute: Species) -> Species:
        """Count ``KHSO5 45 %`` in the triple salt it is sold in; what is called a solution stays one.

        Raises
        ------
        DomainError
            Where the label states more than the salt can hold.
        """
        outer = sold_in(solute)
        share = self.percent[0] if self.percent is not None else None
        if self.strength is not None and self.strength.measures_like("% w/w"):
            share = self.strength.to("% w/w").value
        if outer is None or share is None or self.form == "solution":
            return solute
        most = 100 * inside(outer)[1] * solute.molar_mass / outer.molar_mass
        if share < most / 2:
            return solute  # so weak it is a solution
        if share > most:
            raise DomainError(
                f"{share:g} % w/w of {solute} is more than the salt holds that is sold for it, {most:.1f} %",
                source=self.label,
                span=self.span,
                hint=f"write '{outer} {share:g} % w/w' where the label counts the whole salt",
            )
        given = None if self.strength is None else self.strength.uncertainty
        spread = None if given is None else given / most * 100
        self.strength, self.percent = Quantity(share / most * 100, "% w/w", spread, (), ""), None
        self.form = "solid"
        self._assume(f"{outer} {self.strength.value:.4g} % w/w", f"{solute} alone", "it is sold in this salt")
        return outer

    def _settle(self, solute: Species) -> Quantity | None:
        """Decide what the strength refers to, and whether the bottle is a solid or a solution."""
        if self.percent is not None:
            return self._bare_percent(solute)
        strength = self.strength
        if strength is None:
            return None
        if self.form is None and self._pure_form(solute) == "solid" and _by_mass(strength):
            share = strength
            if not strength.measures_like("% w/w"):
                share = convert_strength(solute, strength, "% w/w", tables=self.tables)
            if self._on_curve(solute, share.value / 100):
                return strength
            if share.value < _WEAKEST_SOLID:
                self.form = "solution"
                self._assume(
                    f"solution, {strength}", "a solid of that assay", "solids are rarely sold so weak"
                )
                return strength
            self.form = "solid"
            if has_curve(solute, self.tables):
                self._assume(f"solid, {strength}", "a solution", "beyond any solution in the tables")
        neat = strength.measures_like("% w/w") and strength.value >= 99.0
        if self.form is None and neat and self._pure_form(solute) == "liquid":
            self.form = "liquid"
        return strength

    def _bare_percent(self, solute: Species) -> Quantity:
        assert self.percent is not None
        number, span = self.percent
        solid = self._pure_form(solute) == "solid" and self.form != "solution"
        if solid and number >= _WEAKEST_SOLID and not self._on_curve(solute, number / 100):
            strength = self._parse(f"{number:g} % w/w", span[0])
            self.form = "solid"
            self._assume(f"{number:g} % w/w", *self._or_chlorine(solute, number))
            return strength
        more = (
            ", '{0} % trade' or '{0} % available chlorine'" if available_chlorine(solute) is not None else ""
        )
        where = self.label.find("%", span[0])
        where = where if where >= 0 else span[0]
        raise UnitError(
            "a percentage needs its basis",
            source=self.label,
            span=(where, where + 1),
            hint=_STRENGTH_HINT.format(f"{number:g}", more.format(f"{number:g}")),
        )

    def _or_chlorine(self, solute: Species, number: float) -> tuple[str, str]:
        """The other reading of a bare per cent on a solid, and why the mass was taken.

        What is sold to chlorinate often states its available chlorine.
        """
        by_mass = "per cent of a solid can only be by mass"
        if available_chlorine(solute) is None:
            return "", by_mass
        try:
            chlorine = Quantity(number, "% w/w Cl2", None, (), "")
            share = convert_strength(solute, chlorine, "% w/w", tables=self.tables).value
        except RedoxlibError:
            return "", by_mass
        if share > 100:
            return "", by_mass
        other = f"{number:g} % available chlorine, which is {share:.3g} % w/w"
        return other, "no basis stated: by mass, as for any solid; write the basis that the label means"

    def _undiluted(self, solute: Species, form: Form) -> Bottle:
        """A label without a strength is the pure substance, unless it is one that comes as a solution."""
        tabulated = self._rows(solute)
        if self.neat and tabulated:
            # "glacial": the strongest tabulated bottle
            key = max(tabulated, key=lambda name: _share(tabulated[name]))
            found = from_rows(key, tabulated[key], self.label, self.tables)
            return replace(found, remarks=tuple(self.remarks), assumptions=tuple(self.assumptions))
        solutions = [rows for rows in tabulated.values() if any(row.fact == "density" for row in rows)]
        others = [key for key, rows in tabulated.items() if rows not in solutions]
        dissolved = [rows for rows in solutions if _share(rows) < 0.99]
        if (dissolved and not others) or self.form == "solution":
            example = dissolved[0][0].label if dissolved else f"{self.label} 10 % w/w"
            raise UnitError(
                f"{self.label.strip()} comes as a solution and needs its strength",
                source=self.label,
                span=self.name_span,
                hint=f"write for example {example!r}",
            )
        if others:
            # A gas is the purest one there is: "oxygen" is no air.
            gas_first = form == "gas"
            key = max(others, key=lambda name: _share(tabulated[name])) if gas_first else others[0]
            found = from_rows(key, tabulated[key], self.label, self.tables)
            self._assume(
                f"{100 * _share(tabulated[key]):.4g} % w/w",
                "",
                "no strength stated: read as the usual commercial one",
            )
            return replace(found, remarks=tuple(self.remarks), assumptions=tuple(self.assumptions))
        key = self.label.strip()
        if key in self.tables.bottles and not tabulated:
            # KHSO5, NaBO3, Ce4+: never sold as they are written, and known by the key of what is sold
            rows = self.tables.bottles[key]
            self._assume(rows[0].label, "", "no strength stated: read as the usual commercial bottle")
            found = from_rows(key, rows, self.label, self.tables)
            return replace(found, assumptions=tuple(self.assumptions))
        self._assume("100 % w/w", "", "no strength stated: read as the pure substance")
        pure = Quantity(1.0, "1", None, (), "")
        gas = 1.0 if form == "gas" else None
        density: Quantity | Unknown | None = None
        molarity: Quantity | Unknown | None = None
        if form in ("liquid", "solution"):
            form = "liquid"
            known = [
                row for rows in solutions if _share(rows) >= 0.99 for row in rows if row.fact == "density"
            ]
            density = self.density or (
                known[0].as_quantity if known else Unknown(f"density of {solute}(l)", ("bottles.csv",))
            )
            molarity = molarity_of(solute, pure, density)
        return Bottle(
            self.label,
            solute,
            form,
            pure,
            density,
            molarity,
            None,
            gas,
            LABEL_CELSIUS if self.celsius is None else self.celsius,
            "",
            tuple(self.remarks),
            tuple(self.assumptions),
        )

    def _tabulated(
        self,
        solute: Species,
        fraction: Quantity | Unknown,
        density: Quantity | Unknown | None,
        molarity: Quantity | Unknown | None,
    ) -> tuple[str, Quantity | Unknown, Quantity | Unknown | None, Quantity | Unknown | None]:
        """Take from a tabulated bottle of just this strength what the label and the curve leave open.

        That is a density beyond the curve, and how far bottles of this kind stray from their label.
        """
        if isinstance(fraction, Unknown):
            return "", fraction, density, molarity
        for key, rows in self._rows(solute).items():
            if abs(_share(rows) - fraction.value) > 5e-4:
                continue
            facts = {row.fact: row.as_quantity for row in rows}
            if isinstance(density, Unknown) and "density" in facts:
                density = facts["density"]
                molarity = molarity_of(solute, fraction, density)
            spread = facts["mass_fraction"].uncertainty
            if fraction.uncertainty is None and spread is not None:
                sources = tuple(dict.fromkeys(fraction.sources + facts["mass_fraction"].sources))
                fraction = replace(
                    fraction, uncertainty=spread, sources=sources, basis=facts["mass_fraction"].basis
                )
                if isinstance(molarity, Quantity):
                    molarity = replace(molarity, uncertainty=molarity.value * spread / fraction.value)
            return key, fraction, density, molarity
        return "", fraction, density, molarity

    def _rows(self, solute: Species) -> dict[str, tuple[BottleRow, ...]]:
        return bottles_by_composition(self.tables).get(composition(solute), {})

    def _pure_form(self, solute: Species) -> Form:
        """State of the pure substance at 25 C: from the tables, else from what kind of compound it is."""
        for rows in self._rows(solute).values():
            facts = {row.fact: row.value for row in rows}
            if "gas_fraction" in facts:
                return "gas"
            if "density" not in facts and not self._on_curve(solute, facts["mass_fraction"]):
                return "solid"
            if "density" in facts and facts["mass_fraction"] >= 0.97:
                return "liquid"
        names: dict[str, Form] = {"s": "solid", "l": "liquid", "g": "gas"}
        for letter, form in names.items():
            if f"{solute}({letter})" in self.tables.formation:
                return form
        if set(solute.elements) & _METALS or {"N", "H"} < set(solute.elements) > {"N", "H"}:
            return "solid"  # salts of a metal or of ammonium
        return "solution" if has_curve(solute, self.tables) else "liquid"

    def _fluid(self, solute: Species) -> str:
        """Gas or liquid, where the tables say that the pure substance is no solid; empty where they do not.

        Dry ice and ice are sold as the solids they are called.
        """
        plain = str(bare(solute))
        if plain in ("CO2", "H2O") or f"{plain}(s)" in self.tables.formation:
            return ""
        form = self._pure_form(solute)
        return form if form == "gas" or f"{plain}(l)" in self.tables.formation else ""

    def _on_curve(self, solute: Species, share: float) -> bool:
        celsius = label_celsius(solute, self.tables) if self.celsius is None else self.celsius
        return isinstance(density_of(solute, share, celsius, self.tables), Quantity)

    def _assume(self, read_as: str, other: str, why: str) -> None:
        self.assumptions.append(Assumption(self.span, read_as, other, why))


def _share(rows: tuple[BottleRow, ...]) -> float:
    return next((row.value for row in rows if row.fact == "mass_fraction"), 0.0)


def _by_mass(strength: Quantity) -> bool:
    return any(strength.measures_like(unit) for unit in ("% w/w", "% w/w Cl2", "% w/w O"))


def _looks_like_strength(unit: str) -> bool:
    """Say whether words after a number are a unit of strength (a bare per cent sign included)."""
    if unit in ("%", "percent", "per cent"):
        return True
    try:
        return parse_strength(f"1e-9 {unit}").value > 0
    except RedoxlibError:
        return False
