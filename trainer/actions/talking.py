"""A driller talks a missed critical item through with his hand before the next job: one tap that it was done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from trainer.actions import may
from trainer.actions.attempts import histories
from trainer.actions.desk import Desk
from trainer.core.crewlist import known_people
from trainer.core.records import QuizTaken, Record, Talk
from trainer.errors import NotFound, Refused

__all__ = ["Miss", "misses_to_talk_through", "talk_done"]


@dataclass(frozen=True, slots=True)
class Miss:
    """A quiz to be talked through: ``objectives`` are the critical ones missed, empty when only the tries ran out.

    ``record_id`` is the last try, the one that ``talk_done`` is about.
    """

    record_id: str
    hand: str
    quiz: str
    competency: str
    objectives: tuple[str, ...]
    day: date


def misses_to_talk_through(desk: Desk, crew: str | None = None) -> list[Miss]:
    """What waits for a talk with today's people of ``crew``, or of the whole site without one, the latest first.

    One a hand and quiz: critical objectives missed since the last pass and the last talk, or no try left before a
    talk. A pass or a talk settles it. It grounds nobody.
    """
    may.require(desk, "talking.misses_to_talk_through")
    found = [miss for hand in _here(desk, crew) for miss in _misses(desk, hand)]
    return sorted(found, key=lambda miss: (miss.day, miss.record_id), reverse=True)


def talk_done(desk: Desk, quiz_record: str) -> Record:
    """The ``talk`` record that says the quiz was talked through; a second press returns the first record.

    It also opens the quiz again for a hand who has used up his tries. Raises ``NotFound("no-record")``,
    ``Refused("talk-himself")`` for one's own quiz.
    """
    may.require(desk, "talking.talk_done")
    with desk.store.transaction() as writing:
        quiz = writing.record(quiz_record)
        if quiz is None or not isinstance(quiz.body, QuizTaken):
            raise NotFound("no-record", record=quiz_record)
        if quiz.hand == desk.actor.hand:
            raise Refused("talk-himself")
        voids = writing.voids()
        for there in writing.records(kinds=("talk",), hand=quiz.hand):
            is_it = isinstance(there.body, Talk) and there.body.quiz_record == quiz_record
            if is_it and there.record_id not in voids:
                return there
        return writing.append(desk.new_record(Talk(quiz.body.competency, quiz_record), hand=quiz.hand))


def _here(desk: Desk, crew: str | None) -> list[str]:
    """The people here today, in ``crew`` when one is given, by hand_id."""
    places = known_people({}, (stay for stay in desk.store.stay_rows() if stay.day <= desk.today))
    return sorted(
        hand for hand, place in places.items() if place.is_here(desk.today) and (crew is None or place.crew == crew)
    )


def _misses(desk: Desk, hand: str) -> Iterator[Miss]:
    for quiz, history in histories(desk.store, hand).items():
        waiting = history.unsettled()
        bodies = [each.body for each in waiting if isinstance(each.body, QuizTaken)]
        objectives = tuple(sorted({name for body in bodies for name in body.critical_missed}))
        allowed = history.may_start(desk.catalogue.site.assessment, desk.now)
        if waiting and (objectives or allowed.code == "talk-first"):
            last = waiting[-1]
            yield Miss(last.record_id, hand, quiz, bodies[-1].competency, objectives, last.day)
