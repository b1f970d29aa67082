"""Sign-off: an observer fills the sheet of a watch, looks it over, and signs it with the hand.

In the address: ``hand``; ``sheet`` with ``step`` (``look``, ``sign``, ``drop``); ``done`` once it is signed.
"""

from __future__ import annotations

from typing import NoReturn

from trainer.actions import watched, watching
from trainer.actions.sheets import Sheet
from trainer.errors import NotFound
from trainer.web import door, place, signoff_begin, signoff_done, signoff_look, signoff_sheet, signoff_sign
from trainer.web.signoff_way import go_on


def sheet_or_done(here: door.Here, sheet_id: str) -> Sheet:
    """The open sheet; the result page where it is signed already, the first step where it is gone."""
    try:
        return watching.sheet(here.desk, sheet_id)
    except NotFound:
        leave_for_result(here, sheet_id)


def leave_for_result(here: door.Here, sheet_id: str) -> NoReturn:
    """Go on to what was signed under that id, or to the beginning where nothing was."""
    try:
        watched.signed(here.desk, sheet_id)
    except NotFound:
        go_on()
    go_on(done=sheet_id)


def draw_sheet(here: door.Here, sheet: Sheet) -> None:
    """The step that this sheet has come to."""
    match place.at("step"):
        case "look":
            signoff_look.draw(here, sheet)
        case "sign":
            signoff_sign.draw(here, sheet)
        case "drop":
            signoff_sheet.draw_drop(here, sheet)
        case _:
            signoff_sheet.draw(here, sheet)


def draw() -> None:
    """The whole page."""
    here = door.here()
    if place.at("done"):
        signoff_done.draw(here, place.at("done"))
    elif place.at("sheet"):
        draw_sheet(here, sheet_or_done(here, place.at("sheet")))
    elif place.at("hand"):
        signoff_begin.ask_purpose(here, place.at("hand"))
    else:
        signoff_begin.ask_hand(here)


draw()
