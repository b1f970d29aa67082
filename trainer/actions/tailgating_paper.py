"""A sheet of paper that was begun with the wrong topic, crew, day or tour is put right, and its marks stay."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import date

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.meetings import Attendee, Meeting, load, people_on, put, require_begun
from trainer.core.tailgate import topics
from trainer.errors import NotFound

__all__ = ["correct"]


def correct(desk: Desk, tailgate_id: str, competency: str, crew: str, held: date, tour: str) -> Meeting:
    """The actor's open sheet of paper with that topic, crew, day and tour instead.

    On its list stand the crew, and whoever is marked as there; each with his marks. Who was not on the site that day
    comes off it. One that is held on a tablet stays as it is. Raises ``BadInput`` as ``meetings.require_begun``,
    ``NotFound``: ``no-competency``, ``no-draft``.
    """
    may.require(desk, "tailgating_paper.correct")
    require_begun(desk, held, tour)
    if competency not in topics(desk.catalogue):
        raise NotFound("no-competency", competency=competency)
    with desk.store.transaction() as writing:
        was = load(writing, desk, tailgate_id)
        if not was.is_paper:
            return was
        here = people_on(writing, held)
        of_crew = sorted(hand for hand, place in here.items() if place.crew == crew and hand != was.leader)
        people = (*_staying(was, of_crew, here), *_new(desk, was, of_crew))
        now = replace(
            was, competency=competency, crew=crew, held=held.isoformat(), tour=tour, people=people, touched=desk.at
        )
        put(writing, now)
        return now


def _staying(was: Meeting, of_crew: Collection[str], here: Collection[str]) -> tuple[Attendee, ...]:
    # Somebody of another crew who is marked stands on the sheet by name: a wrong crew does not make him absent.
    return tuple(each for each in was.people if each.hand in here and (each.how or each.hand in of_crew))


def _new(desk: Desk, was: Meeting, of_crew: Collection[str]) -> tuple[Attendee, ...]:
    return tuple(Attendee(hand, desk.new_id()) for hand in of_crew if was.attendee(hand) is None)
