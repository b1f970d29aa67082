"""Taking a hand off the slips outside a sheet: for what, and what happened; it acts at once."""

from __future__ import annotations

import streamlit as st

from trainer.actions import reinstating
from trainer.actions.reinstating import Offer
from trainer.errors import TrainerError
from trainer.web import place, session
from trainer.web.door import Here
from trainer.web.gaps import Gaps
from trainer.web.press import submit
from trainer.web.slips_way import LONGEST, go_on, leave, name, pick, problem, stop

__all__ = ["draw"]


def draw(here: Here, hand: str, offer: Offer | None) -> None:
    """What is asked, and the press that writes it."""
    words, gaps = here.words, Gaps(here.words)
    if offer is None or not offer.off:
        leave(hand)
    st.title(words.say("slips.off-title", name=name(here, hand)), anchor=False)
    st.warning(f"**{words.say('signoff.first-safe')}**  \n{words.say('slips.off-text')}")
    with st.form("slips-off", border=False):
        chosen = pick(here, words.say("slips.off-what"), offer.off, "off-what")
        gaps.ask(words.say("slips.gap-what"), is_there=bool(chosen))
        why = st.text_area(
            words.say("slips.off-why"), max_chars=LONGEST, key="off-why", placeholder=words.say("slips.off-why-help")
        )
        gaps.ask(words.say("slips.gap-why"), is_there=bool(why.strip()))
        is_sent = submit(words.say("slips.off-go"), "off-go")
    if is_sent and not gaps.told():
        _write(here, hand, chosen, why)
    elif not is_sent and problem():
        st.error(problem())
    stop(here, hand)


def _write(here: Here, hand: str, chosen: list[str], why: str) -> None:
    ids: dict[str, str | None] = {each: session.form_id(f"off-{hand}-{each}", here.desk.new_id()) for each in chosen}
    try:
        reinstating.stand_down_all(here.desk, hand, ids, why)
    except TrainerError as error:
        st.error(here.words.error(error))
        return
    for each in chosen:
        session.done(f"off-{hand}-{each}")
    go_on(hand, do="off-done", titles=",".join(chosen), competency=place.at("competency"))
