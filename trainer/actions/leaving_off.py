"""Who does not work the slips on this tour: a mark of the driller's for one tour of one crew, and no more than that.

It is no record and says nothing about what a hand holds. It is kept so that every tablet shows it, and it is gone by
itself with the tour: before a tour begins it is meant for the one that begins.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.meetings import people_on
from trainer.core.crewlist import Known
from trainer.core.records import Json
from trainer.core.tours import at_hand
from trainer.errors import NotFound
from trainer.store import Draft

__all__ = ["KIND", "Mark", "leave_off", "left_off", "put_back"]

KIND = "left-off"


@dataclass(frozen=True, slots=True)
class Mark:
    """``hand`` is left off the slips for the tour of ``crew`` that begins on ``day``; ``by`` said so."""

    hand: str
    crew: str
    day: date
    by: str


def leave_off(desk: Desk, hand: str) -> Mark:
    """Leave ``hand`` off the slips for his crew's tour, the one that is on or the next. Raises ``NotFound("no-hand")``.

    A second tap changes nothing but who tapped.
    """
    may.require(desk, "leaving_off.leave_off")
    place = people_on(desk.store, desk.today).get(hand)
    if place is None:
        raise NotFound("no-hand", hand=hand)
    body = {**_tour(desk, place), "by": desk.actor.hand}
    with desk.store.transaction() as writing:
        # Owned by the hand it is about, so that it goes with him when he is erased; one a hand: the newest counts.
        writing.put_draft(Draft(_id(hand), hand, KIND, place.crew, body, desk.at, desk.at))
    return _mark(hand, body)


def put_back(desk: Desk, hand: str) -> None:
    """Take the mark off again; nothing happens where there is none."""
    may.require(desk, "leaving_off.put_back")
    with desk.store.transaction() as writing:
        writing.drop_draft(_id(hand))


def left_off(desk: Desk) -> Mapping[str, Mark]:
    """Everybody left off the slips for the tour at hand of the crew that he works in now, by hand_id."""
    may.require(desk, "leaving_off.left_off")
    drafts = desk.store.drafts(kind=KIND)
    if not drafts:
        return {}
    here = people_on(desk.store, desk.today)
    return {
        each.owner: _mark(each.owner, each.body)
        for each in drafts
        if each.owner in here and _tour(desk, here[each.owner]).items() <= each.body.items()
    }


def _tour(desk: Desk, place: Known) -> dict[str, Json]:
    """The tour at hand of the crew that somebody works in."""
    crew = desk.catalogue.site.crews.get(place.crew)
    hours = crew.tour if crew else ""
    day = at_hand(hours, desk.now.astimezone(ZoneInfo(desk.store.tz)))
    return {"crew": place.crew, "tour": hours, "day": day.isoformat()}


def _mark(hand: str, body: Mapping[str, Json]) -> Mark:
    return Mark(hand, str(body["crew"]), date.fromisoformat(str(body["day"])), str(body["by"]))


def _id(hand: str) -> str:
    return f"{KIND}:{hand}"
