"""What a driller could talk about before this tour, in an order, each topic with the reasons that put it there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.meetings import people_on
from trainer.core.marking import critical_objectives
from trainer.core.progress import progress
from trainer.core.records import Effect, EvidenceRow, Part, QuizTaken, Record, Tailgate
from trainer.core.tailgate import bank_of, topics
from trainer.core.talktopics import Answered, Proposal, RunsOut, propose

__all__ = ["Offer", "offer"]


@dataclass(frozen=True, slots=True)
class Offer:
    """The topics for one crew. ``proposals`` come first; ``topics`` are all that can be talked about.

    ``crews`` are those with people here today, ``works`` the kinds of work that any topic is about.
    """

    crew: str
    crews: tuple[str, ...]
    works: tuple[str, ...]
    proposals: tuple[Proposal, ...]
    topics: tuple[str, ...]


def offer(desk: Desk, crew: str = "", work: str = "") -> Offer:
    """The topics for ``crew`` (the actor's own when not given), with ``work`` on today."""
    may.require(desk, "proposing.offer")
    here = people_on(desk.store, desk.today)
    crews = tuple(sorted({place.crew for place in here.values() if place.crew}))
    wanted = crew if crew in crews else desk.actor.crew
    chosen = wanted if wanted in crews else next(iter(crews), "")
    hands = sorted(hand for hand, place in here.items() if place.crew == chosen)
    known = topics(desk.catalogue)
    abouts = {each.id: each.work for each in desk.catalogue.competencies}
    works = tuple(dict.fromkeys(name for topic in known for name in abouts[topic]))
    on_today = [topic for topic in known if work in abouts[topic]]
    found = propose(known, _runs_out(desk, hands, known), _answered(desk, hands), on_today, desk.today)
    return Offer(chosen, crews, works, found, known)


def _runs_out(desk: Desk, hands: Sequence[str], known: Sequence[str]) -> Iterator[RunsOut]:
    """Whose knowledge of a topic holds and runs out when, where a pass today would carry it further."""
    for hand in hands:
        rows = desk.store.evidence_rows(hands=(hand,))
        today = [_pass_today(desk, hand, topic) for topic in known]
        now = progress(desk.catalogue, rows, hand, desk.today)
        then = progress(desk.catalogue, [*rows, *today], hand, desk.today)
        for topic in known:
            before, after = (
                next((each for each in parts[topic] if each.part is Part.KNOWLEDGE), None) for parts in (now, then)
            )
            if before is not None and before.holds and before.through is not None and after != before:
                yield RunsOut(topic, hand, before.through)


def _pass_today(desk: Desk, hand: str, topic: str) -> EvidenceRow:
    return EvidenceRow(
        hand, topic, Part.TAILGATE, Effect.PASS, desk.today, desk.at, desk.store.site, 2**40, desk.actor.hand, ""
    )


def _answered(desk: Desk, hands: Iterable[str]) -> Iterator[Answered]:
    voids = desk.store.voids()
    for hand in hands:
        for record in desk.store.records(kinds=("quiz", "tailgate"), hand=hand):
            if record.record_id not in voids:
                yield from _answers_in(desk, hand, record)


def _answers_in(desk: Desk, hand: str, record: Record) -> Iterator[Answered]:
    body = record.body
    if not isinstance(body, QuizTaken | Tailgate):
        return
    is_quiz, known = isinstance(body, QuizTaken), desk.catalogue
    bank = known.banks.get(body.quiz) if isinstance(body, QuizTaken) else bank_of(known, body.competency)
    if bank is None:
        return
    critical = critical_objectives(bank)
    for each in body.items:
        name = each.rpartition(":")[0]
        item = bank.item(name)
        # A blank in a quiz was seen and missed; in a tailgate the man had left.
        was_asked = is_quiz or body.answers.get(name) is not None
        if item is not None and was_asked:
            yield Answered(
                hand, bank.competency, each, item.objective, item.objective in critical, name in body.right, record.day,
                (record.at, record.seq),
            )  # fmt: skip
