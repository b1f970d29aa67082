"""What one hand has tried and talked through, quiz by quiz, voided records left out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from trainer.core.catalogue import Assessment
from trainer.core.records import QuizTaken, Record, Talk
from trainer.core.retakes import Attempt, MayStart, may_start
from trainer.store import Reading

__all__ = ["History", "histories"]


@dataclass(frozen=True, slots=True)
class History:
    """One hand's tries at one quiz and the talks about its competency, each by the time written."""

    taken: tuple[Record, ...] = ()
    talks: tuple[datetime, ...] = ()

    def may_start(self, rules: Assessment, now: datetime) -> MayStart:
        """Whether the quiz may be started at ``now``."""
        attempts = [Attempt(_moment(each), _quiz(each).passed) for each in self.taken]
        return may_start(rules, attempts, self.talks, now)

    @property
    def is_missed(self) -> bool:
        """Whether the last try was not passed."""
        return bool(self.taken) and not _quiz(self.taken[-1]).passed

    def unsettled(self) -> tuple[Record, ...]:
        """The tries since the last pass and the last talk."""
        passed = [place for place, each in enumerate(self.taken, start=1) if _quiz(each).passed]
        since = self.taken[passed[-1] if passed else 0 :]
        last_talk = max(self.talks, default=None)
        return tuple(each for each in since if last_talk is None or _moment(each) > last_talk)


def histories(reading: Reading, hand: str) -> dict[str, History]:
    """Each quiz that ``hand`` ever took, by id, with its history."""
    voids = reading.voids()
    records = [each for each in reading.records(kinds=("quiz", "talk"), hand=hand) if each.record_id not in voids]
    taken = sorted((each for each in records if isinstance(each.body, QuizTaken)), key=_moment)
    return {
        quiz: History(own, tuple(_talks(records, _quiz(own[-1]).competency)))
        for quiz in dict.fromkeys(_quiz(each).quiz for each in taken)
        if (own := tuple(each for each in taken if _quiz(each).quiz == quiz))
    }


def _talks(records: Iterable[Record], competency: str) -> list[datetime]:
    return [_moment(each) for each in records if isinstance(each.body, Talk) and each.body.competency == competency]


def _quiz(record: Record) -> QuizTaken:
    assert isinstance(record.body, QuizTaken)
    return record.body


def _moment(record: Record) -> datetime:
    return datetime.fromisoformat(record.at)
