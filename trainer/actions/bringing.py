"""What was typed to bring a hand back, kept while a second person is asked: a reload or a power cut loses none of it.

One a hand and actor. It is gone once the hand is back or the step is left, and counts no more on a later tour.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import cast

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.rows import tidy
from trainer.errors import NotFound
from trainer.store import Draft

__all__ = ["KIND", "Begun", "begun", "draft_id", "drop", "keep"]

KIND = "bring-back"

_KEPT_FOR = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class Begun:
    """To which ``competencies``, what was ``done`` about it, and the hand_id of the ``second``, empty before one."""

    competencies: tuple[str, ...]
    done: str
    second: str


def begun(desk: Desk, hand: str) -> Begun | None:
    """What the actor typed on this tour to bring ``hand`` back; ``None`` where there is nothing."""
    may.require(desk, "bringing.begun")
    draft = desk.store.draft(draft_id(desk, hand))
    if draft is None or desk.now - datetime.fromisoformat(draft.touched) > _KEPT_FOR:
        return None
    body = cast("dict[str, str]", dict(draft.body))
    named = tuple(each for each in body["competencies"].split(",") if each)
    return Begun(named, body["done"], body["second"])


def keep(desk: Desk, hand: str, wanted: Begun) -> None:
    """Keep this instead of what was typed before. Raises ``NotFound("no-hand")``."""
    may.require(desk, "bringing.keep")
    if desk.store.person(hand) is None:
        raise NotFound("no-hand", hand=hand)
    body = {"competencies": ",".join(wanted.competencies), "done": tidy(wanted.done), "second": wanted.second}
    with desk.store.transaction() as writing:
        writing.put_draft(Draft(draft_id(desk, hand), desk.actor.hand, KIND, hand, body, desk.at, desk.at))


def drop(desk: Desk, hand: str) -> None:
    """Throw it away; nothing happens where there is none."""
    may.require(desk, "bringing.drop")
    with desk.store.transaction() as writing:
        writing.drop_draft(draft_id(desk, hand))


def draft_id(desk: Desk, hand: str) -> str:
    """The id of the actor's draft about ``hand``."""
    return f"{KIND}:{desk.actor.hand}:{hand}"
