"""A hand takes a quiz: one form drawn once, one item at a time, every answer on disk before the next item shows.

What a browser gets is ``Sitting.shown``: the key stays here until an answer is final. A started quiz is resumed, never
redrawn; hours after its last answer it closes with blanks wrong, when next looked at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from trainer.actions import may
from trainer.actions.attempts import History, histories
from trainer.actions.desk import Desk
from trainer.actions.sittings import KIND, Sitting, body_of, fits, form_of, form_of_record, record_body, sitting_of
from trainer.core.answers import from_json, to_json
from trainer.core.banks import Bank
from trainer.core.forms import draw
from trainer.core.marking import ItemResult, QuizResult, readable, result
from trainer.core.records import QuizTaken, Record
from trainer.core.retakes import MayStart
from trainer.core.shown import to_answer
from trainer.core.tasks import Answer
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Draft, NewRecord, Reading, Transaction

__all__ = [
    "Answered",
    "Review",
    "answer",
    "close_stale",
    "finish",
    "just_missed",
    "keep",
    "may_start",
    "open_sitting",
    "read_aloud",
    "review",
    "start",
]


# What the crew has seen of late is what it talks about; counting back to the first day would slow every start.
_EXPOSURE_OF = 200


@dataclass(frozen=True, slots=True)
class Answered:
    """A sitting after a final answer. ``item`` is the item as it was marked, so that its reason can be said at once."""

    sitting: Sitting
    item: ItemResult


@dataclass(frozen=True, slots=True)
class Review:
    """A taken quiz looked at again. ``result`` is ``None`` where the bank has changed since: the record says the rest.

    ``lesson`` is the lesson whose scenes teach what was missed, each item's own ``scene``; empty where there is none.
    """

    record: Record
    body: QuizTaken
    result: QuizResult | None
    lesson: str


def may_start(desk: Desk, quiz: str) -> MayStart:
    """Whether this hand may start that quiz now, else why not and from when. Raises ``NotFound("no-quiz")``.

    One that was started may always be gone on with.
    """
    may.require(desk, "quizzing.may_start")
    bank = _bank(desk, quiz)
    if open_sitting(desk, quiz) is not None:
        return MayStart(True)
    return _may_start(desk, desk.store, bank)


def open_sitting(desk: Desk, quiz: str) -> Sitting | None:
    """This hand's sitting of that quiz, when one was started and not closed; ``None`` otherwise."""
    may.require(desk, "quizzing.open_sitting")
    close_stale(desk)
    return _open(desk.store, desk, _bank(desk, quiz))


def start(desk: Desk, quiz: str) -> Sitting:
    """The sitting of that quiz: the one started before, else a form drawn now.

    A sitting whose items were rewritten in the meantime cannot be marked fairly and begins anew. Raises
    ``Refused``: ``quiz-too-soon`` or ``quiz-talk-first``, with ``day`` and ``time`` from when it may be started;
    ``NotFound("no-quiz")``, ``BadInput("form-shortfall")``.
    """
    may.require(desk, "quizzing.start")
    bank = _bank(desk, quiz)
    close_stale(desk)
    with desk.store.transaction() as writing:
        there = _open(writing, desk, bank)
        if there is not None:
            return there
        allowed = _may_start(desk, writing, bank)
        if not allowed.ok:
            raise _not_yet(desk, allowed)
        for old in writing.drafts(owner=desk.actor.hand, kind=KIND, subject=quiz):
            writing.drop_draft(old.draft_id)
        draft = _drawn(desk, writing, bank)
        writing.put_draft(draft)
        return sitting_of(draft, bank, {})


def keep(desk: Desk, draft_id: str, position: int, answer: Answer) -> Sitting:
    """The sitting with an answer, in handles, that can still change; what is final stays as it is."""
    may.require(desk, "quizzing.keep")
    with desk.store.transaction() as writing:
        sitting = _sitting(writing, desk, draft_id)
        item, drawn = sitting.item(position)
        writing.keep_answer(draft_id, position, to_json(to_answer(item.task, drawn.options, answer)))
        return _sitting(writing, desk, draft_id)


def answer(desk: Desk, draft_id: str, position: int, answer: Answer) -> Answered:
    """The sitting with ``answer``, in handles, final at ``position``, and that item marked.

    The first final answer counts: a repeat, or another answer after it, changes nothing. Raises ``BadInput`` for an
    answer that cannot be read (nothing is kept of it), ``NotFound("no-draft")`` for a sitting that is closed.
    """
    may.require(desk, "quizzing.answer")
    with desk.store.transaction() as writing:
        sitting = _sitting(writing, desk, draft_id)
        item, drawn = sitting.item(position)
        given = readable(item.task, to_answer(item.task, drawn.options, answer))
        if writing.settle_answer(draft_id, position, to_json(given)):
            draft = _draft(writing, desk, draft_id)
            writing.put_draft(replace(draft, touched=desk.at))
        sitting = _sitting(writing, desk, draft_id)
    return Answered(sitting, _marked(sitting).items[position])


def just_missed(sitting: Sitting) -> ItemResult | None:
    """The item answered last, marked, when it is a critical one and was not right: its reason is said at once."""
    answered = len(sitting.form.items) if sitting.position is None else sitting.position
    if answered == 0:
        return None
    item = _marked(sitting).items[answered - 1]
    return item if item.critical and not item.marked.right else None


def read_aloud(desk: Desk, draft_id: str, by: str) -> Sitting:
    """The sitting with a note for its record that ``by`` read the items aloud. Raises ``NotFound("no-hand")``."""
    may.require(desk, "quizzing.read_aloud")
    if desk.store.person(by) is None:
        raise NotFound("no-hand", hand=by)
    with desk.store.transaction() as writing:
        draft = _draft(writing, desk, draft_id)
        writing.put_draft(replace(draft, body={**draft.body, "read_aloud_by": by}))
        return _sitting(writing, desk, draft_id)


def finish(desk: Desk, draft_id: str) -> tuple[Record, QuizResult]:
    """The ``quiz`` record of a sitting with every item answered, and its result; evidence is written with it.

    A second press returns the first record. Raises ``Refused("quiz-not-finished")`` with how many are left,
    ``NotFound("no-draft")``.
    """
    may.require(desk, "quizzing.finish")
    with desk.store.transaction() as writing:
        there = writing.record(draft_id)
        if there is not None and there.hand == desk.actor.hand and isinstance(there.body, QuizTaken):
            return there, _marked_again(_bank(desk, there.body.quiz), there.body)
        sitting = _sitting(writing, desk, draft_id)
        left = len(sitting.form.items) - sitting.answered
        if left:
            raise Refused("quiz-not-finished", left=left)
        return _close(desk, writing, sitting)


def close_stale(desk: Desk) -> list[Record]:
    """Close every sitting, whoever's, that is hours past its last answer, blanks wrong; the records written.

    A sitting that the bank as it is now cannot mark is forgotten. Call it before anything that reads standings.
    """
    may.require(desk, "quizzing.close_stale")
    if not any(_is_stale(desk, draft) for draft in desk.store.drafts(kind=KIND)):
        return []
    with desk.store.transaction() as writing:
        stale = [draft for draft in writing.drafts(kind=KIND) if _is_stale(desk, draft)]
        return [record for draft in stale for record in _closed(desk, writing, draft)]


def review(desk: Desk, record_id: str) -> Review:
    """A quiz taken earlier, with what was missed and why. Raises ``NotFound``, ``Refused("not-yours")``."""
    may.require(desk, "quizzing.review")
    record = desk.store.record(record_id)
    if record is None or not isinstance(record.body, QuizTaken):
        raise NotFound("no-record", record=record_id)
    may.require_rows_of(desk, record.hand or "")
    bank = desk.catalogue.banks.get(record.body.quiz)
    can_mark = bank is not None and fits(bank, form_of_record(record.body))
    marked = _marked_again(bank, record.body) if bank and can_mark else None
    return Review(record, record.body, marked, bank.lesson if bank else "")


def _bank(desk: Desk, quiz: str) -> Bank:
    bank = desk.catalogue.banks.get(quiz)
    if bank is None:
        raise NotFound("no-quiz", quiz=quiz)
    return bank


def _may_start(desk: Desk, reading: Reading, bank: Bank) -> MayStart:
    history = histories(reading, desk.actor.hand).get(bank.id, History())
    return history.may_start(desk.catalogue.site.assessment, desk.now)


def _not_yet(desk: Desk, allowed: MayStart) -> Refused:
    since = (allowed.since or desk.now).astimezone(ZoneInfo(desk.store.tz))
    return Refused(f"quiz-{allowed.code}", day=since.date().isoformat(), time=f"{since:%H:%M}")


def _drawn(desk: Desk, reading: Reading, bank: Bank) -> Draft:
    """A new draft with a form drawn by what this hand has seen and what this site has used."""
    seen = _counted(reading.records(kinds=("quiz",), hand=desk.actor.hand), bank)
    exposure = _counted(reading.newest("quiz", _EXPOSURE_OF), bank)
    form = draw(bank, desk.new_id(), seen, exposure)
    body = body_of(form, bank.hash, desk.actor.language)
    return Draft(desk.new_id(), desk.actor.hand, KIND, bank.id, body, desk.at, desk.at)


def _counted(records: Iterable[Record], bank: Bank) -> Counter[str]:
    """How often each item of ``bank`` stood in a form; a voided quiz was seen all the same."""
    bodies = (record.body for record in records if isinstance(record.body, QuizTaken))
    return Counter(each.rpartition(":")[0] for body in bodies if body.quiz == bank.id for each in body.items)


def _open(reading: Reading, desk: Desk, bank: Bank) -> Sitting | None:
    for draft in reading.drafts(owner=desk.actor.hand, kind=KIND, subject=bank.id):
        if fits(bank, form_of(draft.body)):
            return sitting_of(draft, bank, reading.answers(draft.draft_id))
    return None


def _draft(reading: Reading, desk: Desk, draft_id: str) -> Draft:
    draft = reading.draft(draft_id)
    if draft is None or draft.owner != desk.actor.hand or draft.kind != KIND or _is_stale(desk, draft):
        raise NotFound("no-draft")
    return draft


def _sitting(reading: Reading, desk: Desk, draft_id: str) -> Sitting:
    draft = _draft(reading, desk, draft_id)
    bank = _bank(desk, draft.subject)
    if not fits(bank, form_of(draft.body)):
        raise BadInput("quiz-changed", quiz=bank.id)
    return sitting_of(draft, bank, reading.answers(draft_id))


def _is_stale(desk: Desk, draft: Draft) -> bool:
    open_for = timedelta(hours=desk.catalogue.site.assessment.closes_hours)
    return desk.now - datetime.fromisoformat(draft.touched) >= open_for


def _closed(desk: Desk, writing: Transaction, draft: Draft) -> list[Record]:
    bank = desk.catalogue.banks.get(draft.subject)
    if bank is None or not fits(bank, form_of(draft.body)):
        writing.drop_draft(draft.draft_id)
        return []
    return [_close(desk, writing, sitting_of(draft, bank, writing.answers(draft.draft_id)))[0]]


def _close(desk: Desk, writing: Transaction, sitting: Sitting) -> tuple[Record, QuizResult]:
    marked = _marked(sitting)
    new = desk.new_record(record_body(sitting, marked), hand=sitting.hand, record_id=sitting.draft_id)
    # Whoever looks may close it; the quiz is the hand's own all the same.
    record = writing.append(_by(new, sitting.hand))
    writing.drop_draft(sitting.draft_id)
    return record, marked


def _by(new: NewRecord, hand: str) -> NewRecord:
    return replace(new, by=hand)


def _marked(sitting: Sitting) -> QuizResult:
    return result(sitting.bank, sitting.form, sitting.finals(), FUNCTIONS)


def _marked_again(bank: Bank, body: QuizTaken) -> QuizResult:
    given = {name: from_json(each) for name, each in body.answers.items()}
    answers = {name: each for name, each in given.items() if each is not None}
    return result(bank, form_of_record(body), answers, FUNCTIONS)
