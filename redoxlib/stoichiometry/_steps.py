"""The ion-electron method told step by step, for a class."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from redoxlib.notation import Equation, Phase, Species
from redoxlib.stoichiometry._complete import complete, medium_of
from redoxlib.stoichiometry._half import HalfReaction, half_reactions
from redoxlib.stoichiometry._numbers import signed

__all__ = ["Account", "Step", "steps"]


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is done, why, and the equations it leads to (not yet balanced ones included)."""

    title: str
    text: str
    equations: tuple[Equation, ...]


@dataclass(frozen=True, slots=True)
class Account:
    """All steps from the skeleton to the balanced equation.

    ``.plain()``, ``.markdown()`` and ``.latex()`` write them; ``str`` is the plain form.
    """

    steps: tuple[Step, ...]
    equation: Equation

    def __iter__(self) -> Iterator[Step]:
        return iter(self.steps)

    def __len__(self) -> int:
        return len(self.steps)

    def plain(self) -> str:
        """Plain text for a terminal, with Unicode subscripts."""
        return self._write("{n}. {title}", "   {text}", lambda e: "     " + e.unicode())

    def markdown(self) -> str:
        """Markdown, equations as Unicode in block quotes."""
        return self._write("{n}. **{title}**", "   {text}", lambda e: "   > " + e.unicode() + "  ")

    def latex(self) -> str:
        r"""LaTeX with mhchem: an ``enumerate`` with one displayed equation a line."""
        body = self._write(
            r"\item \textbf{{{title}}}", "{text}", lambda e: r"\[" + e.latex() + r"\]", escape=_tex
        )
        return "\\begin{enumerate}\n" + body + "\n\\end{enumerate}"

    def _write(
        self,
        head: str,
        text: str,
        show: Callable[[Equation], str],
        escape: Callable[[str], str] = lambda words: words,
    ) -> str:
        lines = []
        for number, step in enumerate(self.steps, 1):
            lines.append(head.format(n=number, title=escape(step.title)))
            if step.text:
                lines.append(text.format(text=escape(step.text)))
            lines += [show(equation) for equation in step.equations]
        return "\n".join(lines)

    def __str__(self) -> str:
        return self.plain()


def _tex(words: str) -> str:
    """Escape the characters LaTeX would act upon; formulas in running text become ``\\ce``."""
    done = []
    for word in words.split(" "):
        core = word.strip(",.;:()")
        if "^" in core and core[:1].isalnum():
            word = word.replace(core, r"\ce{" + core + "}")
        else:
            for char in "&%$#_{}":
                word = word.replace(char, "\\" + char)
        done.append(word.replace("->", r"$\to$"))
    return " ".join(done)


def _bare(species: Species) -> str:
    return str(species.with_phase(Phase.UNSTATED))


def _only(equation: Equation, keep: Callable[[Species], bool]) -> Equation:
    return Equation(
        tuple(term for term in equation.reactants if keep(term[1])),
        tuple(term for term in equation.products if keep(term[1])),
    )


def _skeleton(equation: Equation) -> Equation:
    main = _main(equation)
    return Equation(tuple((1, s) for _, s in main.reactants), tuple((1, s) for _, s in main.products))


def _main(equation: Equation) -> Equation:
    """Without water, H+ and electrons, unless a side would be empty."""
    main = _only(equation, lambda s: bool(s.elements) and _bare(s) not in ("H2O", "H^+", "OH^-"))
    if main.reactants and main.products:
        return main
    water = _only(equation, lambda s: bool(s.elements) and _bare(s) not in ("H^+", "OH^-"))
    if water.reactants and water.products:
        return water
    return _only(equation, lambda s: bool(s.elements))


def _numbers(halves: Sequence[HalfReaction]) -> str:
    said = []
    for half in halves:
        for t in half.transitions:
            verb = "is oxidised" if t.is_oxidation else "is reduced"
            source = " or ".join(dict.fromkeys(_bare(s) for s in t.sources))
            target = " or ".join(dict.fromkeys(_bare(s) for s in t.targets))
            said.append(
                f"{t.element} in {source} {verb} from {signed(t.start)} to {signed(t.end)} in {target}"
            )
    return "; ".join(said)


def _half_steps(half: HalfReaction) -> list[Step]:
    equation = half.equation
    kind = "oxidation" if half.is_oxidation else "reduction"
    skeleton, main = _skeleton(equation), _main(equation)
    stages = [Step(f"Balance the {kind} {half.couple}: the atoms other than O and H", "", (main,))]
    if main == skeleton:
        stages = [
            Step(f"Balance the {kind} {half.couple}", "Atoms other than O and H already balance.", (main,))
        ]
    with_water = _only(
        equation, lambda s: _bare(s) == "H2O" or s in {x for _, x in main.reactants + main.products}
    )
    if with_water != main:
        stages.append(Step("Balance O with water", "", (with_water,)))
    with_protons = _only(equation, lambda s: bool(s.elements))
    if with_protons != with_water:
        stages.append(Step("Balance H with H^+", "", (with_protons,)))
    side = "right" if half.is_oxidation else "left"
    word = "electron" if half.electrons == 1 else "electrons"
    stages.append(
        Step("Balance the charge with electrons", f"{half.electrons} {word} on the {side}.", (equation,))
    )
    return stages


def _sum(equation: Equation, halves: Sequence[HalfReaction]) -> list[Step]:
    found = []
    times = [Fraction(half.times) for half in halves]
    if all(times):
        scale = lcm(*(value.denominator for value in times))
        scaled = tuple(half.equation.scaled(value * scale) for half, value in zip(halves, times, strict=True))
        words = ", ".join(
            f"{half.couple} times {value * scale}" for half, value in zip(halves, times, strict=True)
        )
        found.append(Step("Multiply so that the electrons cancel", words + ".", scaled))
    found.append(Step("Add, and cancel what stands on both sides", "", (equation,)))
    return found


def _to_base(acid: Equation, base: Equation) -> list[Step]:
    """Neutralise: as many OH- on both sides as there are H+."""
    protons = sum(Fraction(count) for count, s in acid.reactants + acid.products if _bare(s) == "H^+")
    if not protons:
        return [Step("Turn to the basic medium", "No H^+ stands in it, so nothing changes.", (base,))]
    side = "left" if any(_bare(s) == "H^+" for _, s in acid.reactants) else "right"
    other = "right" if side == "left" else "left"
    return [
        Step(
            "Turn to the basic medium",
            f"Add {protons} OH^- to both sides: with the {protons} H^+ on the {side} they make water, "
            f"on the {other} they stay; then cancel water.",
            (base,),
        )
    ]


def _check(equation: Equation) -> Step:
    charge = sum(Fraction(count) * s.charge for count, s in equation.reactants)
    atoms = sorted({symbol for _, s in equation.reactants for symbol in s.elements})
    counts = ", ".join(
        f"{symbol} {sum(Fraction(n) * Fraction(s.elements.get(symbol, 0)) for n, s in equation.reactants)}"
        for symbol in atoms
    )
    return Step("Check", f"On each side: {counts}; charge {signed(charge)}.", (equation,))


def steps(text: str | Equation, medium: str | float | None = None) -> Account:
    """Balance by the ion-electron method and keep every step.

    Parameters
    ----------
    text : str or Equation
        The species that matter, as for :func:`complete`.
    medium : str or float, optional
        ``"acid"``, ``"base"``, ``"neutral"`` or a pH.

    Returns
    -------
    Account

    Raises
    ------
    ImpossibleError, NotUniqueError, NotationError
        As :func:`complete` does.
    DomainError
        If no electrons pass.

    Examples
    --------
    >>> len(steps("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acid"))
    11
    """
    result = complete(text, medium)
    final = result.equation
    basic = any(_bare(s) == "OH^-" for _, s in final.reactants + final.products)
    if medium is not None and medium_of(medium) == "base":
        basic = True
    acid = complete(text, "acid").equation if basic else final
    halves = half_reactions(acid, "acid")
    parts = [*halves.oxidation, *halves.reduction]
    told = [
        Step("Find what is oxidised and what is reduced", _numbers(parts) + ".", (_skeleton(acid),)),
    ]
    if result.half_reaction:
        told += _half_steps(parts[0])
        base_from = parts[0].equation
    else:
        told.append(Step("Write two half-reactions", "", tuple(_skeleton(half.equation) for half in parts)))
        for half in parts:
            told += _half_steps(half)
        told += _sum(acid, parts)
        base_from = acid
    if basic:
        told += _to_base(base_from, final)
    told.append(_check(final))
    return Account(tuple(told), final)
