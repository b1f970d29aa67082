"""What to talk about next, in an order with its reasons: no model, only what is due, missed, on today, and long ago."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

__all__ = ["RECENT", "Answered", "Missed", "Proposal", "RunsOut", "Why", "first_answers", "missed", "propose"]

RECENT = timedelta(days=180)
"""Misses older than this are not what a crew misses now."""

_MISSES_NAMED = 2


@dataclass(frozen=True, slots=True)
class Answered:
    """One hand's answer to one item, in a quiz or a tailgate. ``item`` is ``id:version``; ``order`` sorts in time."""

    hand: str
    competency: str
    item: str
    objective: str
    critical: bool
    right: bool
    day: date
    order: tuple[str, int]


@dataclass(frozen=True, slots=True)
class RunsOut:
    """Whose knowledge of a competency runs out first, and when."""

    competency: str
    hand: str
    through: date


@dataclass(frozen=True, slots=True)
class Missed:
    """How often an objective was missed at the first try; ``wrong`` of ``asked``."""

    objective: str
    critical: bool
    wrong: int
    asked: int


@dataclass(frozen=True, slots=True)
class Why:
    """One reason for a topic: ``due`` (with the hand and the day), ``missed`` (what), ``work``, ``old`` (since when).

    Of an old topic ``missed`` says whether the crew missed it the last time.
    """

    kind: str
    hand: str = ""
    day: date | None = None
    misses: tuple[Missed, ...] = ()
    was_missed: bool = False


@dataclass(frozen=True, slots=True)
class Proposal:
    """A topic with every reason that puts it first."""

    competency: str
    whys: tuple[Why, ...]


def first_answers(answered: Iterable[Answered]) -> tuple[Answered, ...]:
    """Each hand's first answer to each item version, in time: later ones tell what was remembered from the last."""
    first: dict[tuple[str, str, str], Answered] = {}
    for each in sorted(answered, key=lambda each: (each.day, each.order)):
        first.setdefault((each.hand, each.competency, each.item), each)
    return tuple(first.values())


def missed(answered: Iterable[Answered], competency: str) -> tuple[Missed, ...]:
    """What was missed of ``competency``, critical objectives first, then the most missed."""
    own = [each for each in answered if each.competency == competency]
    found = []
    for objective in dict.fromkeys(each.objective for each in own):
        asked = [each for each in own if each.objective == objective]
        wrong = sum(not each.right for each in asked)
        if wrong:
            found.append(Missed(objective, asked[0].critical, wrong, len(asked)))
    return tuple(sorted(found, key=lambda each: (not each.critical, -each.wrong, each.asked, each.objective)))


def propose(
    topics: Sequence[str],
    runs_out: Iterable[RunsOut],
    answered: Iterable[Answered],
    on_today: Iterable[str],
    today: date,
) -> tuple[Proposal, ...]:
    """At most four topics: what falls due soonest, what the crew misses, today's work, one old topic.

    Each reason picks the one topic that it puts first; a topic picked twice stands once, with both reasons. The order
    of ``topics`` breaks ties.
    """
    every = tuple(answered)
    reasons = (
        _due(topics, runs_out),
        _missed(topics, first_answers(every), today),
        _work(topics, every, on_today),
        _old(topics, every, today),
    )
    found: dict[str, list[Why]] = {}
    for competency, why in (each for each in reasons if each is not None):
        found.setdefault(competency, []).append(why)
    return tuple(Proposal(competency, tuple(whys)) for competency, whys in found.items())


def _due(topics: Sequence[str], runs_out: Iterable[RunsOut]) -> tuple[str, Why] | None:
    known = [each for each in runs_out if each.competency in topics]
    if not known:
        return None
    first = min(known, key=lambda each: (each.through, topics.index(each.competency), each.hand))
    return first.competency, Why("due", first.hand, first.through)


def _missed(topics: Sequence[str], answered: Sequence[Answered], today: date) -> tuple[str, Why] | None:
    recent = [each for each in answered if today - RECENT <= each.day <= today]
    found = {topic: misses for topic in topics if (misses := missed(recent, topic))}
    if not found:
        return None

    def weight(topic: str) -> tuple[int, int, int]:
        critical = sum(each.wrong for each in found[topic] if each.critical)
        return -critical, -sum(each.wrong for each in found[topic]), topics.index(topic)

    most = min(found, key=weight)
    return most, Why("missed", misses=found[most][:_MISSES_NAMED])


def _work(topics: Sequence[str], answered: Sequence[Answered], on_today: Iterable[str]) -> tuple[str, Why] | None:
    """Of the topics that today's work is about, the one that this crew was asked about longest ago, or never."""
    wanted = [topic for topic in topics if topic in set(on_today)]
    last = _last_asked(answered)
    if not wanted:
        return None
    return min(wanted, key=lambda topic: (last.get(topic, date.min), topics.index(topic))), Why("work")


def _old(topics: Sequence[str], answered: Sequence[Answered], today: date) -> tuple[str, Why] | None:
    """Missed last, then longest since: of the topics that this crew was asked about, but not today."""
    last = {topic: day for topic, day in _last_asked(answered).items() if topic in topics and day < today}
    if not last:
        return None
    was_missed = {
        topic: any(not each.right for each in answered if each.competency == topic and each.day == day)
        for topic, day in last.items()
    }
    oldest = min(last, key=lambda topic: (not was_missed[topic], last[topic], topics.index(topic)))
    return oldest, Why("old", day=last[oldest], was_missed=was_missed[oldest])


def _last_asked(answered: Iterable[Answered]) -> Mapping[str, date]:
    last: dict[str, date] = {}
    for each in answered:
        last[each.competency] = max(each.day, last.get(each.competency, each.day))
    return last
