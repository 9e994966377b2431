"""Why an equation cannot balance, in a form a person can check, and the smallest repairs that do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from redoxlib.errors import ImpossibleError, NotationError
from redoxlib.notation import Equation, Phase, Species
from redoxlib.stoichiometry._cone import feasible_or_certificate
from redoxlib.stoichiometry._formula import composition, tree
from redoxlib.stoichiometry._ions import cation_charges, ions_of, is_metal, known_ions
from redoxlib.stoichiometry._system import CHARGE, System

__all__ = ["Repair", "certificate_of", "impossible", "repairs_for"]

_MOST_ADDED = 3
_MOST_TRIALS = 160
_MOST_REPAIRS = 6
# Beyond these sizes only a certificate and the simplest additions are looked for.
_MOST_SPECIES = 24
_MOST_FOR_CHOICE = 14
_MOST_DOUBTS = 4
_MOST_NAMED = 8
_LONGEST_TEXT = 300

_MEDIUM = ("H2O", "H^+", "OH^-")
_ELECTRON = "e^-"
# What an element's usual redox partner or by-product is, tried after the medium and the spectators.
_PARTNERS: dict[str, tuple[str, ...]] = {
    "O": ("O2", "H2O2"),
    "H": ("H2",),
    "Cl": ("Cl2", "Cl^-", "HCl"),
    "Br": ("Br2", "Br^-"),
    "I": ("I2", "I^-"),
    "F": ("F^-", "HF"),
    "S": ("S", "SO4^2-", "SO2"),
    "N": ("N2", "NO", "NO2", "NO3^-", "NH4^+"),
    "C": ("CO2", "CO", "CO3^2-"),
    "Mn": ("Mn^2+", "MnO2", "MnO4^-"),
    "Cr": ("Cr^3+", "Cr2O7^2-"),
    "Fe": ("Fe^2+", "Fe^3+"),
    "P": ("H3PO4", "PO4^3-"),
}
# What a halogen gives beside its halide where a base is there.
_IN_BASE: dict[str, tuple[str, ...]] = {"Cl": ("ClO^-", "ClO3^-"), "Br": ("BrO^-", "BrO3^-"), "I": ("IO3^-",)}
# Balances many an equation on paper and is hardly ever what was forgotten: it counts as two species.
_UNLIKELY = frozenset({"H2O2"})


@dataclass(frozen=True, slots=True)
class Repair:
    """One way to mend the equation.

    Attributes
    ----------
    kind : str
        ``"add"``, ``"move"``, ``"remove"``, ``"replace"`` or ``"half-reaction"``.
    text : str
        What to change, in words.
    equation : Equation
        The mended equation, balanced.
    """

    kind: str
    text: str
    equation: Equation

    def __str__(self) -> str:
        return f"{self.text}: {self.equation}"


def _one_sided(system: System) -> tuple[str, str] | None:
    for label, row in zip(system.labels, system.rows, strict=True):
        if label == CHARGE or any(row[j] for j in system.free):
            continue
        has_left = any(v > 0 for v in row)
        has_right = any(v < 0 for v in row)
        if has_left != has_right:
            return label, "left" if has_left else "right"
    return None


def certificate_of(system: System) -> dict[str, int]:
    """Whole-number weights on elements and charge that prove there is no positive solution."""
    one_sided = _one_sided(system)
    if one_sided is not None:
        return {one_sided[0]: 1 if one_sided[1] == "left" else -1}
    solution, weights = feasible_or_certificate(system.all_rows, system.width, system.free)
    if weights is None:
        raise ArithmeticError(f"a positive solution exists after all: {solution}")
    return {label: w for label, w in zip(system.labels, weights[: len(system.labels)], strict=True) if w}


def _totals(system: System, certificate: dict[str, int]) -> list[int]:
    rows = dict(zip(system.labels, system.rows, strict=True))
    return [sum(w * rows[label][j] for label, w in certificate.items()) for j in range(system.width)]


def _reason(system: System, certificate: dict[str, int]) -> str:
    one_sided = _one_sided(system)
    if one_sided is not None:
        symbol, side = one_sided
        holders = [str(s) for s in system.species if symbol in s.elements]
        if len(holders) > _MOST_NAMED:
            holders = [*holders[:_MOST_NAMED], f"{len(holders) - _MOST_NAMED} more"]
        return f"{symbol} occurs only on the {side}, in {', '.join(holders)}"
    if set(certificate) == {CHARGE}:
        more = "positive" if certificate[CHARGE] > 0 else "negative"
        return f"charge cannot balance: whatever the coefficients, the left stays more {more} than the right"
    weights = ", ".join(f"{label} {value:+d}" for label, value in certificate.items())
    totals = _totals(system, certificate)
    heavy = [
        f"{species} {total * sign:+d}"
        for species, sign, total in zip(system.species, system.signs, totals, strict=True)
        if total
    ]
    if len(heavy) > _MOST_NAMED:
        heavy = [*heavy[:_MOST_NAMED], f"{len(heavy) - _MOST_NAMED} more"]
    verb = "is" if len(heavy) == 1 else "are"
    return (
        f"count each atom or charge as {weights}: then no reactant is below zero and no product above it, "
        f"and {', '.join(heavy)} {verb} not zero, so the sides can never be equal"
    )


def impossible(system: System, text: str) -> ImpossibleError:
    """Build the error that explains why *system* has no positive solution."""
    if system.extra:
        plain, _ = feasible_or_certificate(system.rows, system.width, system.free)
        if plain is not None:
            return ImpossibleError(
                "the equation balances, but not with the ratio or origin asked for",
                reason="the pinned ratio or origin contradicts conservation",
                certificate=None,
                repairs=(),
                hint="leave the option out to see the whole family",
            )
        system = System(
            [s for s, sign in zip(system.species, system.signs, strict=True) if sign > 0],
            [s for s, sign in zip(system.species, system.signs, strict=True) if sign < 0],
        )
    certificate = certificate_of(system)
    reason = _reason(system, certificate)
    repairs = repairs_for(system)
    if repairs and repairs[0].kind == "half-reaction":
        reason += "; this is a half-reaction: electrons are missing"
    doubts = [doubt for species in _side(system, 1) + _side(system, -1) for doubt in _doubts(species)]
    if doubts:
        reason += "; " + "; ".join(doubts[:_MOST_DOUBTS])
    hint = "smallest repairs: " + "; ".join(map(str, repairs[:3])) if repairs else "no small repair was found"
    return ImpossibleError(
        f"cannot balance {_short(text)}: {reason}",
        reason=reason,
        certificate=certificate,
        repairs=tuple(repairs),
        hint=hint,
    )


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + "..."


def _doubts(species: Species) -> list[str]:
    """Say aloud that a formula looks like a misprint of a known ion."""
    from redoxlib.stoichiometry._check import implausible, lost_charge

    said = implausible(species) or lost_charge(species)
    likely = next(_respelled(species), None)
    if said is None and not (len(species.elements) == 1 and _odd_element(species) and likely is not None):
        return []
    text = said or f"{species} is no usual molecule"
    return [text if likely is None or text.endswith("?") else f"{text}: {likely} meant?"]


def _odd_element(species: Species) -> bool:
    ((symbol, count),) = species.elements.items()
    return bool(is_metal(symbol) and count != 1 and not species.charge)


def _side(system: System, sign: int) -> list[Species]:
    return [s for j, s in enumerate(system.species) if system.signs[j] == sign and j not in system.free]


def _solved(
    left: Sequence[Species], right: Sequence[Species], free: Sequence[Species] = ()
) -> Equation | None:
    """A balanced equation with all typed species present, or ``None``."""
    system = System(left, right, free)
    basis = system.basis()
    vector: Sequence[int] | None = None
    if len(basis) == 1:
        vector = basis[0]
        if not system.fits(vector):
            vector = [-value for value in vector]
        if not system.fits(vector):
            return None
    elif basis:
        vector, _ = feasible_or_certificate(system.rows, system.width, system.free)
        if vector is None:
            return None
        from redoxlib.stoichiometry._choice import choose

        chosen = choose(system).vector if system.width <= _MOST_FOR_CHOICE else None
        vector = chosen if chosen is not None else vector
    if vector is None:
        return None
    return system.equation(vector)


def repairs_for(system: System) -> list[Repair]:
    """Smallest changes that let the equation balance, likeliest first."""
    left, right = _side(system, 1), _side(system, -1)
    medium = [system.species[j] for j in sorted(system.free)]
    repairs: list[Repair] = []
    if len(left) + len(right) <= _MOST_SPECIES:
        repairs += [*_respelled_repairs(left, right, medium), *_moves(left, right, medium)]
        if not medium:
            repairs += _half_reaction(left, right)
    repairs += _additions(left, right, medium)
    seen: set[Equation] = set()
    distinct = []
    for repair in repairs:
        if repair.equation not in seen and not repair.equation.residual():
            seen.add(repair.equation)
            distinct.append(repair)
    return distinct[:_MOST_REPAIRS]


def _moves(left: list[Species], right: list[Species], medium: list[Species]) -> Iterator[Repair]:
    """Let water, H+ and OH- change sides; then move or leave out one species."""
    carriers = {s for s in (_read(text) for text in (*_MEDIUM, "H3O^+")) if s is not None}
    shifty = [s for s in (*left, *right) if _bare(s) in carriers]
    if shifty and not medium:
        steady_left = [s for s in left if s not in shifty]
        steady_right = [s for s in right if s not in shifty]
        turned = _solved(steady_left, steady_right, shifty) if steady_left and steady_right else None
        if turned is not None:
            new_left = {s for _, s in turned.reactants}
            new_right = {s for _, s in turned.products}
            words = [f"{s} to the right side" for s in left if s in new_right]
            words += [f"{s} to the left side" for s in right if s in new_left]
            gone = [str(s) for s in shifty if s not in new_left | new_right]
            text = ("move " + " and ".join(words)) if words else ""
            if gone:
                text += (", " if text else "") + "leave out " + " and ".join(gone)
            yield Repair("move" if words else "remove", text, turned)
    for side, other, name in ((left, right, "right"), (right, left, "left")):
        for species in side:
            stay = [s for s in side if s is not species]
            if not stay or not other:
                continue
            sides = (stay, [*other, species]) if name == "right" else ([*other, species], stay)
            moved = _solved(*sides, medium)
            if moved is not None:
                yield Repair("move", f"move {species} to the {name} side", moved)
    if len(left) + len(right) <= 2:
        return
    for side, other, name in ((left, right, "left"), (right, left, "right")):
        for species in side:
            stay = [s for s in side if s is not species]
            if not stay:
                continue
            without = _solved(stay, other, medium) if name == "left" else _solved(other, stay, medium)
            if without is not None:
                yield Repair("remove", f"leave out {species}, which cannot take part", without)


def _half_reaction(left: list[Species], right: list[Species]) -> Iterator[Repair]:
    """One couple of ions that needs only its medium and electrons is half a reaction."""
    typed = [*left, *right]
    if not left or not right or not any(s.charge and s.elements for s in typed):
        return
    bare = {_bare(s) for s in typed}
    basic = any(str(s) == "OH^-" for s in bare)
    additions = [
        s for s in (_read(t) for t in ("H2O", "OH^-" if basic else "H^+", _ELECTRON)) if s is not None
    ]
    free = [s for s in additions if s not in bare]
    if _solved(left, right, [s for s in free if s.elements]) is not None:
        return
    equation = _solved(left, right, free)
    if equation is None:
        return
    on_left = {s for _, s in equation.reactants}
    used = [s for s in free if s in on_left or s in {p for _, p in equation.products}]
    words = " and ".join(f"{s} on the {'left' if s in on_left else 'right'}" for s in used)
    yield Repair("half-reaction", f"this is a half-reaction: add {words}", equation)


def _bare(species: Species) -> Species:
    return species.with_phase(Phase.UNSTATED)


def _read(text: str) -> Species | None:
    try:
        return Species.parse(text)
    except NotationError:
        return None


def _candidates(left: list[Species], right: list[Species]) -> list[str]:
    """Species to add, likeliest first: medium, electron, spectators, couple partners."""
    everything = left + right
    elements = {symbol for species in everything for symbol in species.elements}
    ionic = any(species.charge and species.elements for species in everything)
    cations: dict[str, int] = {}
    anions: dict[str, int] = {}
    for species in everything:
        for _, ion in ions_of(species) or ((1, species),):
            if ion.charge > 0 and ion.elements != {"H": 1}:
                cations.setdefault(str(_bare(ion)), ion.charge)
            elif ion.charge < 0 and ion.elements:
                anions.setdefault(str(_bare(ion)), -ion.charge)
    salts = []
    names = {str(_bare(s)) for s in everything}
    acid = any(ion.elements == {"H": 1} for s in everything for _, ion in ions_of(s) or ())
    base = any(name.endswith(("OH", "OH^-")) or "(OH)" in name for name in names)
    if not ionic:
        for anion, minus in anions.items():
            if anion == "OH^-":
                continue
            if not base:
                salts.append(_salt("H^+", 1, anion, minus))
            for cation, plus in cations.items():
                salts.append(_salt(cation, plus, anion, minus))
        if not acid:
            salts += [_salt(cation, plus, "OH^-", 1) for cation, plus in cations.items()]
    partners = [p for symbol in sorted(elements) for p in _partners(symbol)]
    if base:
        made = [ion for symbol in sorted(elements) for ion in _IN_BASE.get(symbol, ())]
        salted = [_salt(c, plus, ion, 1) for ion in made for c, plus in cations.items()]
        partners = [*(made if ionic else salted), *partners]
    spectators = [*cations, *anions]
    if ionic:
        order = [*_MEDIUM, _ELECTRON, *spectators, *partners]
    else:
        order = [_MEDIUM[0], *salts, *partners, *_MEDIUM[1:], _ELECTRON, *spectators]
    return list(dict.fromkeys(order))


def _partners(symbol: str) -> tuple[str, ...]:
    if symbol in _PARTNERS:
        return _PARTNERS[symbol]
    return tuple(f"{symbol}^{c if c > 1 else ''}+" for c in cation_charges(symbol))


def _salt(cation: str, plus: int, anion: str, minus: int) -> str:
    from math import gcd

    common = gcd(plus, minus)
    many_cations, many_anions = minus // common, plus // common

    def part(ion: str, times: int) -> str:
        atoms = ion.partition("^")[0]
        groups = tree(atoms) or ()
        simple = len(groups) == 1 and groups[0].count == 1
        if times == 1:
            return atoms
        return f"{atoms}{times}" if simple else f"({atoms}){times}"

    return part(cation, many_cations) + part(anion, many_anions)


def _additions(left: list[Species], right: list[Species], medium: list[Species]) -> list[Repair]:
    """Smallest sets of species to add, found by hitting each certificate in turn."""
    present = {*left, *right, *medium}
    bare = {_bare(s) for s in present}
    pool = [s for s in (_read(text) for text in _candidates(left, right)) if s is not None and s not in bare]
    elements = {symbol for species in present for symbol in species.elements}
    pool = [
        s
        for s in pool
        if set(s.elements) <= elements | ({"H", "O"} if s.formula in ("H2O", "H", "OH") else set())
    ]
    found: list[tuple[tuple[bool, int], tuple[int, ...], Equation]] = []
    level: list[tuple[int, ...]] = [()]
    most_trials = _MOST_TRIALS if len(left) + len(right) <= _MOST_SPECIES else _MOST_TRIALS // 10
    trials = 0
    tried: set[tuple[int, ...]] = set()
    for _ in range(_MOST_ADDED + 1):
        following: list[tuple[int, ...]] = []
        for chosen in level:
            trials += 1
            if trials > most_trials:
                break
            system = System(left, right, [*medium, *(pool[i] for i in chosen)])
            weights = _certificate(system)
            if weights is None:
                equation = _solved(left, right, [*medium, *(pool[i] for i in chosen)])
                smaller = any(set(less) <= set(chosen) for _, less, _ in found)
                if equation is not None and not smaller:
                    strange = any(pool[i].formula in _UNLIKELY for i in chosen)
                    found.append(((strange, sum(chosen)), chosen, equation))
                continue
            if len(chosen) == _MOST_ADDED:
                continue
            for i, species in enumerate(pool):
                total = sum(weights.get(s, 0) * int(c) for s, c in species.elements.items())
                total += weights.get(CHARGE, 0) * species.charge
                wider = tuple(sorted((*chosen, i)))
                new = set(species.elements) - set(system.labels)
                if i not in chosen and (total or new) and wider not in tried and _sensible(pool, wider):
                    tried.add(wider)
                    following.append(wider)
        if any(not strange for (strange, _), *_ in found) or trials > most_trials:
            break
        level = sorted(following, key=sum)
    repairs = []
    for _, chosen, equation in sorted(found, key=lambda item: item[0]):
        added = [pool[i] for i in chosen]
        on_left = {s for _, s in equation.reactants}
        on_right = {s for _, s in equation.products}
        used = [s for s in added if s in on_left or s in on_right]
        words = " and ".join(f"{s} on the {'left' if s in on_left else 'right'}" for s in used)
        if any(not s.elements for s in used):
            repairs.append(Repair("half-reaction", f"this is a half-reaction: add {words}", equation))
        else:
            repairs.append(Repair("add", f"add {words}", equation))
    return repairs


def _sensible(pool: Sequence[Species], chosen: Sequence[int]) -> bool:
    """Electrons go with the medium only, and acid with base makes water and nothing else."""
    names = {str(pool[i]) for i in chosen}
    if _ELECTRON in names and not names <= {_ELECTRON, *_MEDIUM}:
        return False
    return not {"H^+", "OH^-"} <= names


def _certificate(system: System) -> dict[str, int] | None:
    one_sided = _one_sided(system)
    if one_sided is not None:
        return {one_sided[0]: 1}
    solution, weights = feasible_or_certificate(system.rows, system.width, system.free)
    if solution is not None or weights is None:
        return None
    return dict(zip(system.labels, weights, strict=True))


def _respelled(species: Species) -> Iterator[Species]:
    """Known ions this formula may be a misprint of: script places swapped, sign or charge lost."""
    table = known_ions()
    groups = tree(species.formula)
    if groups and len(groups) == 1 and groups[0].content and groups[0].count == 1:
        groups = groups[0].content  # square brackets that say "to the letter"
    if not groups:
        return
    atoms = composition(groups)
    whole = {s: c for s, c in species.elements.items() if isinstance(c, int)}
    if atoms != whole:
        return
    guesses: list[tuple[dict[str, int], int]] = []
    last = groups[-1]
    size = abs(species.charge)
    if last.symbol:
        if not species.charge and last.count > 1:
            fewer = {**atoms, last.symbol: atoms[last.symbol] - last.count + 1}
            guesses += [(fewer, last.count), (fewer, -last.count)]
        if size > 1:
            swapped = {**atoms, last.symbol: atoms[last.symbol] - last.count + size}
            sign = 1 if species.charge > 0 else -1
            guesses += [(swapped, sign * last.count), (swapped, -sign * last.count)]
    if species.charge:
        guesses.append((atoms, -species.charge))
    # A metal typed bare may well be the metal, so only ions of several atoms are completed.
    if len(groups) > 1:
        guesses += [(atoms, charge) for charge in (-1, -2, -3, -4, 1, 2) if charge != species.charge]
    for counts, charge in guesses:
        text = table.get((frozenset(counts.items()), charge))
        if text is not None:
            found = _read(text)
            if found is not None and found != species:
                yield found.with_phase(species.phase)


def _respelled_repairs(left: list[Species], right: list[Species], medium: list[Species]) -> Iterator[Repair]:
    additions = medium or [
        s for s in (_read("H2O"), _read("H^+")) if s is not None and s not in left and s not in right
    ]
    for side, is_left in ((left, True), (right, False)):
        for place, species in enumerate(side):
            for other in _respelled(species):
                for sides in _read_as(left, right, (is_left, place), other):
                    equation = _solved(*sides, medium)
                    if equation is None and _suspect(species):
                        equation = _solved(*sides, additions)
                    if equation is not None:
                        yield Repair("replace", f"read {species} as {other}", equation)


def _read_as(
    left: list[Species], right: list[Species], at: tuple[bool, int], other: Species
) -> Iterator[tuple[list[Species], list[Species]]]:
    """The sides with one species read as *other*; where that stands already, on one side or the other."""
    stay_left, stay_right = (
        [s for place, s in enumerate(side) if s != other and (is_left, place) != at]
        for side, is_left in ((left, True), (right, False))
    )
    if other not in left and other not in right:
        is_left, place = at
        side = [*(left if is_left else right)]
        side[place] = other
        yield (side, right) if is_left else (left, side)
        return
    for sides in (([*stay_left, other], stay_right), (stay_left, [*stay_right, other])):
        if all(sides):
            yield sides


def _suspect(species: Species) -> bool:
    from redoxlib.stoichiometry._check import implausible

    return implausible(species) is not None or (len(species.elements) == 1 and _odd_element(species))
