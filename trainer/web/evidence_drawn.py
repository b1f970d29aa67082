"""A cell of the matrix and the records behind it, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

import streamlit as st

from trainer import clock
from trainer.actions import watched
from trainer.actions.look import Card, Told, Voided
from trainer.core.matrix import Cell, Reason, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Effect, Part
from trainer.web import look, signoff_written, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["begun", "head", "kind_of", "record", "standing"]

_HASH_SHOWN = 16
_MISSING = (Rule.NEVER, Rule.AGAIN)
"""Reasons that name one part, though more of them may be missing."""


def head(here: Here, card: Card, competency: str) -> None:
    """Whose and what it is, and the site's procedure behind it."""
    name = card.name or here.words.say("export.erased")
    st.title(plain(titles.competency(here, competency)), anchor=False)
    place = titles.place(here, card.position, card.crew) if card.position else ""
    st.markdown(f"**{plain(name)}**" + (f", {plain(place)}" if place else ""))
    if procedure := titles.procedure(here, competency):
        st.caption(plain(procedure))


def standing(here: Here, cell: Cell | None, parts: Sequence[PartProgress], as_of: date) -> None:
    """The standing on that day, the reason and the dates; or that nothing is asked of this position."""
    words = here.words
    st.markdown(words.say("evidence.as-of", day=_day(here, as_of)))
    if cell is None:
        st.info(words.say("evidence.not-needed"))
        return
    st.html(look.badge(cell.standing, words.say(f"standing.{cell.standing.replace(' ', '-')}")))
    told = [f"**{_reason(here, cell.reason)}**", *_lacks(here, cell, parts), *_dates(here, cell)]
    st.markdown("  \n".join([*told, *_parts(here, cell, parts)]))


def begun(told: Sequence[Told], cell: Cell | None) -> Told | None:
    """The record that makes the cell learning rather than not started: the last pass, where a part never held."""
    if cell is None or cell.reason.rule != Rule.NEVER:
        return None
    return next((each for each in told if each.effect == Effect.PASS and each.voided is None), None)


def kind_of(here: Here, told: Told) -> str:
    """What the record says, e.g. quiz passed."""
    part = here.words.say(f"evidence.part-{told.part}") if told.part else ""
    return here.words.say(f"evidence.{told.kind}-{told.effect}", part=part)


def record(here: Here, told: Told, competency: str, *, decides: bool = False, begins: bool = False) -> None:
    """One record: what, when, by whom, the note; struck through where it is void, with who voided it and why.

    Of a watch that was not yet also each step that kept ``competency`` from clean.
    """
    words = here.words
    what = f"**{plain(kind_of(here, told))}**, {_day(here, told.day)}"
    lines = [f"~~{what}~~" if told.voided else what, *_said_by(here, told)]
    if told.note:
        lines.append(words.say("evidence.note", note=plain(told.note)))
    if told.voided:
        why = plain(told.voided.why or words.say("evidence.why-erased"))
        lines.append(f"**{_voided_by(here, told, told.voided)}** {why}")
    if told.doubted:
        lines.append(words.say(f"evidence.clock-{told.doubted}"))
    if decides:
        lines.append(f"**{words.say('evidence.decides')}**")
    if begins:
        lines.append(f"**{words.say('evidence.begins')}**")
    st.markdown("\n".join(["  \n".join(lines), *_missed(here, told, competency)]))
    stamp = {"site": told.site, "seq": told.seq, "record": told.record_id, "hash": told.hash[:_HASH_SHOWN]}
    st.caption(plain(words.say("evidence.stamp", **stamp)))


def _missed(here: Here, told: Told, competency: str) -> list[str]:
    if told.kind != "observation" or told.effect != Effect.FAIL:
        return []
    steps = watched.missed(here.desk, told.record_id, competency)
    return ["", *(f"- {signoff_written.step_line(here, step, seen)}" for step, seen in steps)]


def _voided_by(here: Here, told: Told, voided: Voided) -> str:
    """Who took it out; where that lifted a stand-down, with or without the second person that it takes on screen."""
    by = here.words.say("evidence.console") if voided.by == "console" else voided.by
    is_alone = told.kind == "stood-down" and voided.second is None
    key = "voided-with" if voided.second else "voided-alone" if is_alone else "voided-by"
    second = plain(voided.second or "")
    return here.words.say(f"evidence.{key}", by=plain(by), second=second, day=_day(here, voided.day))


def _said_by(here: Here, told: Told) -> Iterator[str]:
    words = here.words
    # A quiz is the hand's own: nobody else saw it.
    if told.kind == "dispensation" and told.until:
        ends = {"second": plain(told.second or ""), "day": _day(here, told.until)}
        yield words.say("evidence.by-dispensation", by=plain(told.by), **ends)
    elif told.second:
        yield words.say("evidence.by-with-second", by=plain(told.by), second=plain(told.second))
    elif told.kind != "quiz":
        yield words.say(f"evidence.by-{told.kind}", by=plain(told.by))
    entered = clock.civil_day(datetime.fromisoformat(told.at), here.desk.store.tz)
    is_by_another = told.kind != "quiz" and told.entered_by != told.by
    if entered != told.day or is_by_another:
        key = "evidence.entered-by" if is_by_another else "evidence.entered"
        who = words.say("evidence.console") if told.entered_by == "console" else told.entered_by
        yield words.say(key, day=_day(here, entered), by=plain(who))


def _reason(here: Here, reason: Reason) -> str:
    """The reason of the standing as a sentence."""
    words = here.words
    is_plain = reason.rule == Rule.HOLDS and not (reason.day and reason.part)
    is_part = reason.part in (Part.KNOWLEDGE, Part.PRACTICAL)
    part = words.say(f"evidence.part-{reason.part}") if is_part else titles.competency(here, reason.part)
    day = _day(here, reason.day) if reason.day else "-"
    key = "holds-plain" if is_plain else reason.rule
    # On this page a thing has one word; files keep those that they were first written with.
    own = f"evidence.reason-{key}"
    return words.say(own if words.has(own) else f"reason.{key}", part=plain(part), day=day)


def _lacks(here: Here, cell: Cell, parts: Sequence[PartProgress]) -> Iterator[str]:
    """Every part that is missing, where the reason names the first of several."""
    lacking = [each.part for each in parts if each.through is None]
    if cell.standing is Standing.LEARNING and cell.reason.rule in _MISSING and len(lacking) > 1:
        named = ", ".join(here.words.say(f"evidence.part-{each}") for each in lacking)
        yield here.words.say("evidence.lacks", parts=plain(named))


def _dates(here: Here, cell: Cell) -> Iterator[str]:
    words = here.words
    if cell.due is None:
        return
    yield words.say("evidence.was-due" if cell.late else "evidence.due", day=_day(here, cell.due))
    if cell.do_by == "arrange" and not cell.late:
        yield words.say("evidence.arrange")
    elif isinstance(cell.do_by, date) and cell.do_by != cell.due:
        yield words.say("evidence.do-by", day=_day(here, cell.do_by))


def _parts(here: Here, cell: Cell, parts: Sequence[PartProgress]) -> Iterator[str]:
    """How far each needed part is; nothing while the hand is off the slips, because then none of it counts."""
    if cell.standing is Standing.STOOD_DOWN:
        return
    words = here.words
    for each in parts:
        name = words.say(f"evidence.needs-{each.part}")
        if each.through is not None:
            key = "evidence.holds" if each.holds else "evidence.ran-out"
            yield f"{name}: {words.say(key, day=_day(here, each.through))}"
        elif each.part is Part.KNOWLEDGE:
            yield f"{name}: {words.say('evidence.not-yet')}"
        else:
            far = {"watches": each.watches, "of_watches": each.of_watches}
            who = {"watchers": each.watchers, "of_watchers": each.of_watchers}
            yield f"{name}: {words.say('evidence.watched', **far, **who)}"


def _day(here: Here, day: date) -> str:
    return plain(wording.day(day, here.words))
