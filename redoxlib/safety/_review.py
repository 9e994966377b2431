"""From hits to a verdict: every rule is asked, then whether somebody reviewed the combination."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from redoxlib.notation import Species
from redoxlib.safety import _conditions, _toxic, _violent
from redoxlib.safety._composition import kinds_of
from redoxlib.safety._goals import goal_hits
from redoxlib.safety._hits import REGISTER, Hit, unreviewed
from redoxlib.safety._kinds import FEEDS, Kind
from redoxlib.safety._own import own_rules_met
from redoxlib.safety._pot import Pot
from redoxlib.safety._situation import Situation
from redoxlib.safety._table import Severity, citation, reviews, rule

__all__ = ["Reason", "Verdict", "review_goal", "review_situation"]

_RULE_MODULES = (_toxic, _violent, _conditions)  # importing them fills the register
_WEIGHT = {Severity.STOP: 3, Severity.UNREVIEWED: 2, Severity.CAUTION: 1, Severity.CLEAR: 0}
# What a feed of several kinds is reviewed as: ammonium bromide as bromide, the rest by rules.
_COMPANIONS = frozenset(
    {Kind.AMMONIUM, Kind.AMMONIA, Kind.AMINE, Kind.CHLORIDE, Kind.COMPLEX_CYANIDE, Kind.ORGANIC,
     Kind.UNLISTED_ORGANIC, Kind.HYDROGEN}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reason:
    """Why the gate speaks.

    Attributes
    ----------
    rule : str
        Id of the rule.
    text : str
        The reason, in plain words.
    source : str
        Full citations.
    safer : str
        What to do instead.
    severity : Severity
        The weight of this reason alone.
    """

    rule: str
    text: str
    source: str
    safer: str
    severity: Severity

    def __str__(self) -> str:
        return f"{self.severity} {self.rule}: {self.text} Safer: {self.safer}. [{self.source}]"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The judgement of the gate.

    Attributes
    ----------
    decision : Severity
        "stop", "unreviewed", "caution" or "clear"; the heaviest reason decides.
    reasons : tuple of Reason
        Heaviest first, then by rule id.
    """

    decision: Severity
    reasons: tuple[Reason, ...]

    @property
    def stopped(self) -> bool:
        return self.decision is Severity.STOP

    @property
    def rules(self) -> tuple[str, ...]:
        """Ids of the rules that spoke, in order, each once."""
        return tuple(dict.fromkeys(reason.rule for reason in self.reasons))

    def __str__(self) -> str:
        return "\n".join([str(self.decision), *(f"  {reason}" for reason in self.reasons)])


def _reason(hit: Hit) -> Reason:
    entry = rule(hit.rule, hit.severity)
    text = f"{entry.text[:-1]} ({hit.detail})." if hit.detail else entry.text
    return Reason(entry.id, text, citation(entry.sources), entry.safer, hit.severity)


def _verdict(hits: Iterable[Hit]) -> Verdict:
    kept = sorted(set(hits), key=lambda hit: (-_WEIGHT[hit.severity], hit.rule, hit.detail))
    decision = kept[0].severity if kept else Severity.CLEAR
    return Verdict(decision, tuple(_reason(hit) for hit in kept))


def _with_own(verdict: Verdict, situation: Situation) -> Verdict:
    """The same verdict with the rules of one's own added: it can only grow heavier."""
    own = [
        Reason(
            row.rule, f"{row.text.rstrip('.')} ({detail}).", row.citation, row.safer, Severity(row.severity)
        )
        for row, detail in own_rules_met(situation)
    ]
    reasons = sorted((*verdict.reasons, *own), key=lambda reason: -_WEIGHT[reason.severity])
    return Verdict(reasons[0].severity if reasons else Severity.CLEAR, tuple(reasons))


def _rule_hits(pot: Pot) -> list[Hit]:
    hits: list[Hit] = []
    for check in dict.fromkeys(REGISTER.values()):
        hits.extend(check(pot))
    return hits


def _covered_by_rule(oxidant: Kind, feed: Kind | None, hits: Iterable[Hit]) -> bool:
    for hit in hits:
        for pair_oxidant, pair_feed in rule(hit.rule, hit.severity).covers:
            if pair_oxidant in ("*", oxidant) and pair_feed in ("*", feed):
                return True
    return False


def _coverage(pot: Pot, hits: list[Hit]) -> Iterator[Hit]:
    """Whether every oxidant was reviewed on every feed in this medium."""
    if pot.unread_quench:
        yield unreviewed("U03", "quench: " + ", ".join(pot.unread_quench))
    unknown = sorted(str(s) for s in pot.situation.pot | pot.situation.quench if Kind.UNKNOWN in kinds_of(s))
    if unknown:
        yield unreviewed("U03", ", ".join(unknown))
    reviewed = {review.feed for review in reviews()}
    feeds = set(pot.feeds)
    strangers = set()
    for species in pot.situation.feed:
        kinds = kinds_of(species)
        known = kinds & (FEEDS | reviewed)
        feeds |= known & reviewed
        if not known - _COMPANIONS and not known & reviewed:
            strangers.add(str(species))
    named = {feed for feed in feeds if feed in reviewed or feed not in _COMPANIONS}
    for feed in sorted(named):
        yield from _pairs(pot, feed, hits)
    oxidants = sorted(pot.oxidants)
    for species in pot.situation.oxidant:
        if not oxidants:
            yield unreviewed("U01", f"{species} is no oxidant that the gate knows")
    for oxidant in oxidants:
        for stranger in sorted(strangers):
            if not _covered_by_rule(oxidant, None, hits):
                yield unreviewed("U01", f"{oxidant} on {stranger}")
    if oxidants and not named and not strangers and not any(rule(h.rule, h.severity).covers for h in hits):
        yield unreviewed("U01", f"{', '.join(oxidants)} and no feed that is known")
    if Kind.UNLISTED_ORGANIC in pot.kinds - pot.feed and oxidants:
        yield unreviewed("U03", "organic matter beside the feed")


def _pairs(pot: Pot, feed: Kind, hits: list[Hit]) -> Iterator[Hit]:
    for oxidant in sorted(pot.oxidants):
        if oxidant == feed or _covered_by_rule(oxidant, feed, hits):
            continue
        rows = [row for row in reviews() if row.feed == feed and oxidant in row.oxidants]
        if feed is Kind.METAL and Kind.COPPER in pot.feeds:
            continue
        if not rows:
            yield unreviewed("U01", f"{oxidant} on {feed}")
        elif pot.ph_range is None:
            yield unreviewed("U02", f"{oxidant} on {feed}")
        else:
            low, high = pot.ph_range
            if not any(row.ph_min <= low and high <= row.ph_max for row in rows):
                yield unreviewed(
                    "U01", f"{oxidant} on {feed} at pH {low:g}" + (f" to {high:g}" if high > low else "")
                )


def review_situation(situation: Situation) -> Verdict:
    """Judge a situation by composition and conditions.

    Parameters
    ----------
    situation : Situation
        What is in the pot and the bottles, and under which conditions.

    Returns
    -------
    Verdict
        "stop" when a rule stops it; "unreviewed" when no rule stops it but somebody has yet to
        review the combination or a needed fact is not declared; "caution" when it is reviewed and
        a rule has something to say; "clear" otherwise.

    Examples
    --------
    >>> bad = Situation.of(feed="KCN", oxidant="Ca(ClO)2", ph=8.5)
    >>> review_situation(bad).decision
    <Severity.STOP: 'stop'>
    """
    pot = Pot(situation)
    goals = _goals(situation.target, pot)
    if goals:
        return _verdict(goals)
    return _with_own(_shipped(pot), situation)


def _shipped(pot: Pot) -> Verdict:
    """What the shipped rules and reviews say."""
    hits = _rule_hits(pot)
    if not any(hit.severity is Severity.STOP for hit in hits):
        hits.extend(_coverage(pot, hits))
    return _verdict(hits)


def review_goal(*targets: Species, context: str | None = None) -> Verdict:
    """Judge goals alone, before any oxidant is looked at.

    Parameters
    ----------
    *targets : Species
        What is wanted.
    context : str, optional
        A declared circumstance; "chlorine dioxide generator, dilute" lets a water works make
        chlorine dioxide in solution.

    Returns
    -------
    Verdict
        "stop" with one sentence for a goal that is out of scope, "clear" otherwise.
    """
    return _verdict(_goals(targets, Pot(Situation(context=context))))


def _goals(targets: Iterable[Species], pot: Pot) -> list[Hit]:
    """What is wrong with the goal: one hit, because one sentence says it, or none."""
    generator = pot.chlorine_dioxide_generator
    found = [hit for target in targets for hit in goal_hits(target, generator=generator)]
    return sorted(found, key=lambda hit: (hit.rule, len(hit.detail), hit.detail))[:1]
