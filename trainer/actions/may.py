"""Which role may do what, as one table; every action asks it first, so that hiding a page is never the permission.

Signing in and setting a first PIN stand outside: nobody is known yet. What a role alone cannot say (observes by
position, not one's own sign-off, one's own rows only) is asked by the action itself.
"""

from __future__ import annotations

from trainer.actions.desk import CONSOLE, COORDINATOR, DRILLER, HAND, Desk
from trainer.errors import Refused

__all__ = ["MAY", "is_allowed", "is_office", "require", "require_rows_of", "sees_all"]

_ANYBODY = frozenset({HAND, DRILLER, COORDINATOR, CONSOLE})
_PEOPLE = frozenset({HAND, DRILLER, COORDINATOR})
_LEADERS = frozenset({DRILLER, COORDINATOR, CONSOLE})
_OFFICE = frozenset({COORDINATOR, CONSOLE})
_MACHINE = frozenset({CONSOLE})
_TALKERS = frozenset({DRILLER, COORDINATOR})

MAY: tuple[tuple[str, frozenset[str]], ...] = (
    ("look.matrix", _LEADERS),
    ("look.card", _ANYBODY),
    ("look.evidence_of", _ANYBODY),
    ("starting.newcomer", _ANYBODY),
    ("siting.figures", _OFFICE),
    ("siting.preview", _OFFICE),
    ("siting.write", _OFFICE),
    ("look.people", _LEADERS),
    ("look.records", _OFFICE),
    ("look.verify", _OFFICE),
    ("printing.watch", _ANYBODY),
    ("printing.heads", _ANYBODY),
    ("people.listed", _OFFICE),
    ("people.preview_roster", _OFFICE),
    ("people.apply_roster", _OFFICE),
    ("people.add_person", _OFFICE),
    ("people.move", _OFFICE),
    ("people.leave", _OFFICE),
    ("people.rename", _OFFICE),
    ("people.issue_code", _OFFICE),
    ("importing.preview_evidence", _OFFICE),
    ("importing.import_evidence", _OFFICE),
    ("voiding.void", _LEADERS),
    ("erasing.erase", _OFFICE),
    ("erasing.restrict", _OFFICE),
    ("keeping.seal", _LEADERS),
    # Whole copies of the records, with keys or to be taken in: whoever keeps the machine.
    ("keeping.bundle", _MACHINE),
    ("keeping.merge", _MACHINE),
    ("keeping.back_up", _MACHINE),
    ("signing_in.change_pin", _PEOPLE),
    ("signing_in.sign_out_person", _OFFICE),
    # Anybody with a PIN may learn and be quizzed: a driller and a coordinator answer for the same work.
    ("learning.open_lesson", _PEOPLE),
    ("learning.keep", _PEOPLE),
    ("learning.choose", _PEOPLE),
    ("learning.finish", _PEOPLE),
    ("learning.drop", _PEOPLE),
    ("studying.studies", _PEOPLE),
    ("quizzing.may_start", _PEOPLE),
    ("quizzing.open_sitting", _PEOPLE),
    ("quizzing.start", _PEOPLE),
    ("quizzing.keep", _PEOPLE),
    ("quizzing.answer", _PEOPLE),
    ("quizzing.read_aloud", _PEOPLE),
    ("quizzing.finish", _PEOPLE),
    ("quizzing.review", _PEOPLE),
    ("quizzing.close_stale", _ANYBODY),
    # Who observes is a matter of the position (a derrickhand does), so the role hand is let in here.
    ("watching.open_sheet", _PEOPLE),
    ("watching.sheets", _PEOPLE),
    ("watching.sheet", _PEOPLE),
    ("watching.tick", _PEOPLE),
    ("watching.fill", _PEOPLE),
    ("watching.drop", _PEOPLE),
    ("watching.preview", _PEOPLE),
    ("watching.sign", _PEOPLE),
    ("watching.commit", _PEOPLE),
    ("watched.candidates", _PEOPLE),
    ("watched.lacking", _PEOPLE),
    ("watched.missed", _PEOPLE),
    ("watched.offered", _PEOPLE),
    ("watched.signed", _PEOPLE),
    ("signing_off.marks", _LEADERS),
    ("signing_off.marks_of", _LEADERS),
    ("reinstating.offer", _PEOPLE),
    ("reinstating.stand_down", _PEOPLE),
    ("reinstating.stand_down_all", _PEOPLE),
    ("reinstating.reinstate", _PEOPLE),
    ("reinstating.reinstate_all", _PEOPLE),
    ("bringing.begun", _PEOPLE),
    ("bringing.keep", _PEOPLE),
    ("bringing.drop", _PEOPLE),
    ("allowing.open_points", _TALKERS),
    ("dispensing.offer", _TALKERS),
    ("dispensing.open_form", _TALKERS),
    ("dispensing.form", _TALKERS),
    ("dispensing.waiting", _TALKERS),
    ("dispensing.fill", _TALKERS),
    ("dispensing.sign", _TALKERS),
    ("dispensing.commit", _TALKERS),
    ("dispensing.drop", _TALKERS),
    ("dispensed.shown", _LEADERS),
    ("dispensed.of_cell", _ANYBODY),
    ("leaving_off.leave_off", _TALKERS),
    ("leaving_off.put_back", _TALKERS),
    ("leaving_off.left_off", _LEADERS),
    ("talking.misses_to_talk_through", _LEADERS),
    ("talking.talk_done", _LEADERS - {CONSOLE}),
    ("gearing.states", _TALKERS),
    ("gearing.events", _TALKERS),
    ("gearing.note", _TALKERS),
    ("gearing.note_test", _TALKERS),
    # Whoever leads a crew holds the talk, on a tablet and with his PIN: the command line has neither.
    ("proposing.offer", _TALKERS),
    ("tailgating.mine", _TALKERS),
    ("tailgating.open_meeting", _TALKERS),
    ("tailgating.open_paper", _TALKERS),
    ("tailgating.describe", _TALKERS),
    ("tailgating.begin", _TALKERS),
    ("tailgating.turn", _TALKERS),
    ("tailgating.call_up", _TALKERS),
    ("tailgating.answer", _TALKERS),
    ("tailgating.take_back", _TALKERS),
    ("tailgating.drop", _TALKERS),
    ("tailgating.is_locked", _TALKERS),
    ("tailgating.take_up", _TALKERS),
    ("tailgating.release", _TALKERS),
    ("tailgating.sheet", _TALKERS),
    ("tailgating_paper.correct", _TALKERS),
    ("tailgating_held.latest", _TALKERS),
    ("tailgating_held.talk", _TALKERS),
    # The rig's own figures are for everyone; what grease does to the crush limit is for who decides on it.
    ("reckoning.rig", _PEOPLE),
    ("reckoning.try_wall", _OFFICE - {CONSOLE}),
    ("reckoning.grease", _TALKERS),
    # Whoever keeps the content plays it without a trace; a hand would see keys before a quiz.
    ("trying.subjects", _OFFICE - {CONSOLE}),
    ("trying.stand", _OFFICE - {CONSOLE}),
    ("trying.choose", _OFFICE - {CONSOLE}),
    ("trying.ask", _OFFICE - {CONSOLE}),
    ("trying.mark", _OFFICE - {CONSOLE}),
    ("vouching.mark", _TALKERS),
    ("vouching.others_here", _TALKERS),
    ("vouching.add_guest", _TALKERS),
    ("vouching.drop_guest", _TALKERS),
    ("vouching.outcomes", _TALKERS),
    ("vouching.vouch", _TALKERS),
    ("vouching.held", _TALKERS),
)
"""Each action with the roles that may do it."""


def is_allowed(role: str, action: str) -> bool:
    """Whether ``role`` may do ``action``; raises ``KeyError`` for an action that the table does not name."""
    return role in dict(MAY)[action]


def require(desk: Desk, action: str) -> None:
    """Raise ``Refused("may-not")`` when the actor's role may not do ``action``."""
    if not is_allowed(desk.actor.role, action):
        raise Refused("may-not", action=action)


def sees_all(desk: Desk) -> bool:
    """Whether the actor may see everybody's rows: drillers, coordinators and the command line."""
    return desk.actor.role in _LEADERS


def is_office(desk: Desk) -> bool:
    """Whether the actor is a coordinator or the command line."""
    return desk.actor.role in _OFFICE


def require_rows_of(desk: Desk, hand: str) -> None:
    """Raise ``Refused("not-yours")`` when the actor asks for another hand's rows and may not see them."""
    if not sees_all(desk) and desk.actor.hand != hand:
        raise Refused("not-yours")
