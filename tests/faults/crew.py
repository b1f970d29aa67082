"""Five people at work on one small site, each in a process of its own, until somebody kills them.

Each works through the real actions and says what was acknowledged only after the action has returned: that, and no
less, must be there whatever happens next.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import replace
from datetime import date, timedelta
from itertools import count
from multiprocessing import get_all_start_methods, get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkServerContext, SpawnContext
from multiprocessing.process import BaseProcess
from typing import cast

from tests.unit.actions.rig import CATALOGUE, PEOPLE, PINS, START, ZONE, Rig
from trainer.actions import importing, people, quizzing, setup, signing_in, watching
from trainer.actions.desk import Desk, console
from trainer.actions.opening import new_id
from trainer.actions.sheets import Details
from trainer.actions.sittings import Sitting
from trainer.core.marking import right_answer
from trainer.core.records import Joined, Json, Outside, Record
from trainer.core.rows import TableRow
from trainer.core.shown import to_handles
from trainer.core.tasks import Answer
from trainer.core.workings import FUNCTIONS
from trainer.errors import StoreUnavailable
from trainer.settings import Settings
from trainer.store import NewRecord, Person, Store, open_store

__all__ = ["JOBS", "Ack", "Crew", "make", "rig_on", "right", "sheet"]

Ack = tuple[str, ...]
"""("record", its id, its hash) · ("answer", draft id, position, item id, answer) · ("person", hand_id)."""

TABLET = "tablet"


def ids() -> Iterator[str]:
    """Record ids as the app draws them."""
    return iter(new_id, "")


def rig_on(store: Store, actor: str, minutes: float = 0) -> Rig:
    """The small rig on ``store`` with ``actor`` at the desk, so long after its first moment."""
    return Rig(store, ids(), START + timedelta(minutes=minutes), actor, CATALOGUE)


def make(place: Settings, site: Mapping[str, Json] | None = None) -> None:
    """A site where ``place`` says, with everybody of the small rig on it; its observers hold everything.

    ``site`` are its figures, for a test that gives commands, which read them.
    """
    setup.init(place, "rig-1", ZONE, "Office", "926458", START, new_id, site or {"positions": {}})
    store = open_store(place)
    desk = rig_on(store, "cy").desk
    with store.transaction() as writing:
        for hand, (position, crew) in PEOPLE.items():
            writing.put_person(Person(hand, hand.title()))
            writing.put_pin(hand, store.keys.pin_hash(PINS[hand]), desk.at)
            writing.append(_by_console(Joined(crew, position), hand, desk, date(2026, 1, 5)))
        for observer in ("ben", "dee", "tom"):
            for competency in CATALOGUE.competencies:
                for part in ("outside-practical", "outside-knowledge"):
                    body = Outside(competency.id, part, "pass", "outsider")
                    writing.append(_by_console(body, observer, desk, date(2026, 2, 1)))
    store.close()


def _by_console(body: Joined | Outside, hand: str, desk: Desk, day: date) -> NewRecord:
    return replace(desk.new_record(body, hand=hand, day=day), by="console")


def right(sitting: Sitting, position: int) -> Answer:
    """The right answer there, in handles."""
    item, drawn = sitting.item(position)
    return to_handles(item.task, drawn.options, right_answer(item.task, drawn.parameters, FUNCTIONS))


def _record(record: Record) -> Ack:
    return ("record", record.record_id, record.hash)


def sheet(rig: Rig, hand: str, hands_out: str, note: str) -> str:
    """The id of the actor's open sheet about ``hand``, filled in."""
    seen = watching.open_sheet(rig.desk, "connections", hand)
    for step in ("calls-given", "hands-handles", "hands-out", "hands-gloves"):
        state = hands_out if step == "hands-out" else "met"
        watching.tick(rig.desk, seen.sheet_id, step, state, note=f"{note}, {step}")
    told = Details(rig.actor, rig.desk.today, overall="yes", brake="tom" if rig.actor != "tom" else "dee", note=note)
    watching.fill(rig.desk, seen.sheet_id, told)
    return seen.sheet_id


def _clean(rig: Rig) -> Iterator[Ack]:
    sheet_id = sheet(rig, "ana", "met", f"seen by {rig.actor}, {new_id()}")
    yield _record(watching.commit(rig.desk, sheet_id, PINS[rig.actor], PINS["ana"], device=TABLET))


def _missed(rig: Rig) -> Iterator[Ack]:
    sheet_id = sheet(rig, "ana", "not met", f"reached in, {new_id()}")
    seen = watching.sheet(rig.desk, sheet_id)
    downs = watching.preview(rig.desk, sheet_id).stand_down
    record = watching.commit(rig.desk, sheet_id, PINS[rig.actor], hand_present=watching.NOT_PRESENT, device=TABLET)
    yield _record(record)
    for each in downs:
        down = rig.store.record(seen.stand_down_ids[each])
        assert down is not None
        yield _record(down)


def _earlier(rig: Rig) -> Iterator[Ack]:
    desk = replace(rig.desk, actor=console())
    columns = ("hand_id", "competency", "part", "day", "outcome", "by", "note")
    note = new_id()
    rows = [
        TableRow(
            row, dict(zip(columns, (hand, "hands", "knowledge", "2026-02-03", "pass", "School", note), strict=True))
        )
        for row, hand in enumerate(("ben", "dee", "tom"), start=2)
    ]
    assert importing.import_evidence(desk, rows).written == len(rows)
    yield ("texts", note, str(len(rows)))


def _newcomer(rig: Rig) -> Iterator[Ack]:
    hand = new_id().replace("-", "")
    people.add_person(rig.desk, hand, f"New {hand[-6:]}", "floorhand", "day-1")
    yield ("person", hand)
    signing_in.new_code(rig.desk, hand)


def _quiz(rig: Rig) -> Iterator[Ack]:
    sitting = quizzing.start(rig.desk, "q")
    while (position := sitting.position) is not None:
        given = right(sitting, position)
        sitting = quizzing.answer(rig.desk, sitting.draft_id, position, given).sitting
        item_id = sitting.form.items[position].item_id
        yield ("answer", sitting.draft_id, str(position), item_id, repr(sitting.given[position][0]))
    yield _record(quizzing.finish(rig.desk, sitting.draft_id)[0])


JOBS: Mapping[str, tuple[str, Callable[[Rig], Iterator[Ack]]]] = {
    "signs clean": ("ben", _clean),
    "signs not yet": ("dee", _missed),
    "takes earlier records in": ("cy", _earlier),
    "takes people on": ("cy", _newcomer),
    "answers the quiz": ("ana", _quiz),
}
"""What each does, who he is, and the work: four who write and one who answers."""


def _work(job: str, place: Settings, minutes: float, line: Connection, times: int) -> None:
    """Do that job over and over; where the store is out of reach for a moment, begin it again as a person would."""
    try:
        actor, work = JOBS[job]
        store = open_store(place)
        for _ in count() if times < 0 else range(times):
            _do(work, rig_on(store, actor, minutes), line)
        store.close()
    except BaseException:
        line.send(("broken", job, traceback.format_exc()))
        raise


def _do(work: Callable[[Rig], Iterator[Ack]], rig: Rig, line: Connection) -> None:
    try:
        for ack in work(rig):
            line.send(ack)
    except StoreUnavailable as error:
        line.send(("waits", error.code))


def _context() -> ForkServerContext | SpawnContext:
    """Processes that begin with everything imported where the system can do that: starting Python takes the longest."""
    if "forkserver" not in get_all_start_methods():
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload(["tests.faults.crew"])
    return context


class Crew:
    """Everybody at work from the start of the block to its end, which is a kill at the latest."""

    def __init__(
        self, place: Settings, minutes: float = 0, jobs: tuple[str, ...] = tuple(JOBS), times: int = -1
    ) -> None:
        self._place, self._minutes, self._jobs, self._times = place, minutes, jobs, times
        self._lines: list[Connection] = []
        self._stack = ExitStack()
        self.processes: list[BaseProcess] = []

    def __enter__(self) -> Crew:
        context = _context()
        for job in self._jobs:
            ours, theirs = context.Pipe(duplex=False)
            told = (job, self._place, self._minutes, theirs, self._times)
            process = cast("BaseProcess", context.Process(target=_work, args=told, daemon=True))
            process.start()
            # Ours alone is open from now on, so that its end is seen when the process dies.
            theirs.close()
            self._lines.append(ours)
            self.processes.append(process)
        return self

    def __exit__(self, *_error: object) -> None:
        self.kill()
        for line in self._lines:
            line.close()

    def acknowledged(self, most: int) -> list[Ack]:
        """The next ``most`` acknowledgements; fewer only where everybody has ended."""
        found: list[Ack] = []
        while len(found) < most and self._lines:
            for line in wait(self._lines):
                found += self._next(cast("Connection", line))
        return found

    def _next(self, line: Connection) -> list[Ack]:
        try:
            ack = cast("Ack", line.recv())
        except EOFError:
            self._lines.remove(line)
            line.close()
            return []
        assert ack[0] != "broken", ack[-1]
        return [ack]

    def kill(self) -> list[Ack]:
        """End everybody as a power cut does, all at once; what they had acknowledged and nobody had heard yet."""
        for process in self.processes:
            process.kill()
        for process in self.processes:
            process.join()
        left: list[Ack] = []
        while self._lines:
            left += self.acknowledged(1)
        return left
