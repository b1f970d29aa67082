"""Files in: the crews' roster and earlier evidence, looked at before anything is written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import streamlit as st

from trainer.actions import importing, people
from trainer.actions.importing import Preview
from trainer.core.crewlist import ROSTER_COLUMNS, Change, RosterPlan, StayEvent
from trainer.core.earlier import EVIDENCE_COLUMNS, Entry
from trainer.core.rows import ORDERS, ColumnSet, DayOrder, Table, in_order, readings, turned
from trainer.errors import BadCell, BadTable, TrainerError
from trainer.tables import UPLOAD_LIMIT
from trainer.web import cached, people_told, place, session, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["evidence", "roster"]

_MEGABYTES = UPLOAD_LIMIT // 1_000_000
_FEW = 1000
"""Rows that are worked through before anybody would look at a bar."""


def roster(here: Here) -> None:
    """People in: what the file would do, then the press that does it."""
    table = _asked(here, "roster", ROSTER_COLUMNS)
    if table is None:
        return
    plan = people.preview_roster(here.desk, table.rows)
    counts = {"new": plan.new, "changed": plan.changed, "same": plan.same, "refused": _rows(plan.refused)}
    _counted(here, {name: len(found) for name, found in counts.items()})
    if _may_take(here, "roster", plan.refused, plan.remarks, len(plan.changes)):
        done = people.apply_roster(here.desk, plan)
        counted = {"new": len(done.new), "changed": len(done.changed), "same": len(done.same)}
        _taken("roster", here.words.say("people.roster-done", **counted))
    _changes(here, plan)


def evidence(here: Here) -> None:
    """Earlier evidence in, likewise."""
    table = _asked(here, "evidence", EVIDENCE_COLUMNS)
    if table is None:
        return
    with _bar(here, "people.judging") as told:
        found = cached.evidence_preview(here.desk, table, told)
    _counted(here, {"new": len(found.fresh), "same": found.same, "refused": len(_rows(found.refused))})
    if _may_take(here, "evidence", found.refused, found.remarks, len(found.fresh)):
        with _bar(here, "people.taking-in") as told:
            done = importing.import_evidence(here.desk, table.rows, told)
        _taken("evidence", here.words.say("people.evidence-done", written=done.written, same=done.same))
    _entries(here, found)


@contextmanager
def _bar(here: Here, key: str) -> Iterator[importing.Told]:
    """What draws a bar with the sentence under ``key`` while many rows are worked through; a few need none."""
    # Drawn while the action is at work: should the page be left in it, all that it wrote is undone.
    place = st.empty()

    def told(done: int, of: int) -> None:
        if of > _FEW:
            place.progress(done / of, here.words.say(key, share=round(100 * done / of)))

    try:
        yield told
    finally:
        place.empty()


def _asked(here: Here, name: str, columns: ColumnSet) -> Table | None:
    """The table in the file that was chosen, ``None`` before that and where it cannot be read."""
    words = here.words
    st.title(words.say(f"people.{name}-in"), anchor=False)
    st.markdown(words.say(f"people.{name}-text"))
    st.code(",".join(columns.names), language=None, wrap_lines=True)
    file = st.file_uploader(
        words.say("people.file", megabytes=_MEGABYTES), type=["csv", "txt", "tsv", "xlsx"], max_upload_size=_MEGABYTES,
        # Another key empties it once its file has been taken in.
        key=f"file-{name}-{session.taken(_key(name))}",
    )  # fmt: skip
    if file is None:
        return None
    try:
        with st.spinner(words.say("people.reading")):
            table = cached.uploaded(here.desk, file, columns)
    except BadTable as error:
        _refuse(here, name, error.cells)
        return None
    except TrainerError as error:
        people_told.refusal(here, error)
        return None
    if table.ignored:
        st.info(words.say("people.ignored", columns=", ".join(table.ignored)))
    return _in_order(here, table, columns, file.file_id)


def _in_order(here: Here, table: Table, columns: ColumnSet, file: str) -> Table:
    """``table`` with its days in the order that is said; with that unsaid, every day that depends on it is refused."""
    found = turned(table, columns)
    if found is None:
        return table
    read = readings(found.sample)

    def told(order: DayOrder) -> str:
        key = f"people.order-{order}"
        if order not in read:
            return here.words.say(f"{key}-none", sample=plain(found.sample))
        return here.words.say(key, sample=plain(found.sample), day=plain(wording.day(read[order], here.words)))

    order = st.radio(
        here.words.say("people.order"), ORDERS, index=ORDERS.index(found.likely) if found.likely else None,
        # Another file is another question.
        format_func=told, key=f"order-{file}-{here.language}",
    )  # fmt: skip
    if found.likely:
        st.caption(here.words.say(f"people.order-likely-{found.likely}"))
    return in_order(table, columns, order) if order else table


def _counted(here: Here, counts: dict[str, int]) -> None:
    said = (here.words.say(f"people.count-{name}", count=count) for name, count in counts.items())
    st.markdown(" · ".join(said))


def _may_take(here: Here, name: str, refused: Sequence[BadCell], remarks: Sequence[BadCell], fresh: int) -> bool:
    """Whether it is to be taken in now. With anything refused there is no button, only what to mend."""
    if refused:
        _refuse(here, name, refused)
        return False
    if remarks:
        st.warning(here.words.say("people.remarks"))
        people_told.refused(here, remarks, f"{name}-remarks")
    if not fresh:
        st.info(here.words.say("people.all-known"))
        return False
    return press(here.words.count(f"people.take-{name}", fresh), f"take-{name}", kind="primary")


def _refuse(here: Here, name: str, refused: Sequence[BadCell]) -> None:
    st.error(here.words.say("people.refused"))
    people_told.refused(here, refused, f"{name}-refused")


def _taken(name: str, said: str) -> None:
    """Empty the uploader and go back to the list, which says what was done."""
    session.take(_key(name), session.taken(_key(name)) + 1)
    people_told.keep_notice(said)
    place.put(do=None)
    st.rerun()


def _key(name: str) -> str:
    return f"people-file-{name}"


def _rows(cells: Sequence[BadCell]) -> set[int]:
    return {cell.row for cell in cells}


def _changes(here: Here, plan: RosterPlan) -> None:
    """New and changed people, each with what happens."""
    names = ("row", "hand", "name", "what")
    heads = [here.words.say(f"people.head-{name}") for name in names]
    for kind, changes in (("new", plan.new), ("changed", plan.changed)):
        if changes:
            st.header(here.words.say(f"people.title-{kind}"), anchor=False)
            rows = ((str(each.row), each.hand_id, each.name, "; ".join(_said(here, each))) for each in changes)
            people_told.table(here, heads, rows, f"roster-{kind}")


def _said(here: Here, change: Change) -> Iterator[str]:
    """What happens to one person, in words."""
    for event in change.events:
        yield here.words.say(f"people.event-{event.kind}", day=event.day.isoformat(), place=_place(here, event))
    if change.is_renamed:
        yield here.words.say("people.event-renamed", language=people_told.language(change.language))


def _place(here: Here, event: StayEvent) -> str:
    return titles.place(here, event.position, event.crew) if event.position else ""


def _entries(here: Here, found: Preview) -> None:
    """The earlier records that are new."""
    if not found.fresh:
        return
    names = ("row", "hand", "competency", "part", "day", "outcome", "by")
    heads = [here.words.say(f"people.head-{name}") for name in names]
    st.header(here.words.say("people.title-new"), anchor=False)
    people_told.table(here, heads, (_entry(each) for each in found.fresh), "evidence-new")


def _entry(entry: Entry) -> tuple[str, ...]:
    """An earlier record as the file writes it: ids and ISO days, so that it can be found in the file again."""
    return (str(entry.row), entry.hand, entry.competency, entry.part, entry.day.isoformat(), entry.outcome, entry.by)
