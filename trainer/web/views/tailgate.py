"""A tailgate: one topic, three points, three questions each, the answers for all, and the driller's PIN.

Where it is stands in the draft, so that a dead tablet loses nothing. In the address: ``crew`` and ``work`` while a
topic is chosen, ``paper`` and ``day`` for a talk held on paper, ``down`` while it is laid down, ``done`` for one
vouched for, ``sure`` and ``out`` while it is asked whether to throw it away or to sign out.
"""

from __future__ import annotations

from trainer.actions import tailgating
from trainer.actions.meetings import ANSWERS, ASK, READY, TALK, Meeting, items_of
from trainer.web import door, place, tailgate_begin, tailgate_end, tailgate_paper, tailgate_round


def begin(here: door.Here) -> None:
    """No tailgate is open: the one just vouched for, a sheet of paper, or the topics."""
    if place.at("done"):
        tailgate_end.done(here, place.at("done"))
    elif place.at("paper"):
        tailgate_paper.begin(here)
    else:
        tailgate_begin.choose(here)


def run(here: door.Here, meeting: Meeting) -> None:
    """The tablet goes round: the step that it has come to."""
    if items_of(here.desk.catalogue, meeting) is None:
        tailgate_end.rewritten(here, meeting)
        return
    if place.at("down"):
        tailgate_end.lay_down(here, meeting)
        return
    draw = {TALK: tailgate_round.talk, ASK: tailgate_round.ask, ANSWERS: tailgate_round.answers}
    draw.get(meeting.step, tailgate_end.sign)(here, meeting)


here = door.here()
meeting = tailgating.mine(here.desk)
if meeting is None:
    begin(here)
elif meeting.step == READY:
    tailgate_begin.ready(here, meeting)
elif meeting.is_paper and place.at("paper"):
    tailgate_paper.begin(here, meeting)
elif meeting.is_paper:
    tailgate_end.sign(here, meeting)
elif tailgating.is_locked(here.desk, here.token):
    run(here, meeting)
else:
    tailgate_begin.resume(here, meeting)
