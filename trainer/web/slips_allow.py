"""Allowing work that a hand does not hold: how long, on which conditions, by whom, then the two PINs."""

from __future__ import annotations

import streamlit as st

from trainer.actions import dispensed, dispensing
from trainer.actions.dispensed import RUNS
from trainer.actions.dispensing import HITCH, TOUR, Form, Offer
from trainer.errors import TrainerError
from trainer.web import door, place, slips_open, titles, wording
from trainer.web.door import Here
from trainer.web.gaps import Gaps
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press, submit
from trainer.web.slips_way import LONGEST, go_on, leave, name, problem

__all__ = ["draw"]

_LASTS = (TOUR, HITCH)


def draw(here: Here, hand: str) -> None:
    """The step that the form has come to."""
    words, competency = here.words, place.at("competency")
    if _is_given(here, hand, competency):
        # The coordinator has put his PIN on a screen of his own meanwhile.
        go_on(hand, do="allow-done", titles=competency, competency=competency)
    offer = dispensing.offer(here.desk, hand, competency)
    if offer is None:
        leave(hand)
    form = dispensing.open_form(here.desk, hand, competency)
    title = plain(titles.competency(here, competency))
    st.title(words.say("slips.allow-title", name=name(here, hand), title=title), anchor=False)
    slips_open.draw(here, hand, competency)
    missing = [each for each in ("pusher", "coordinator") if not getattr(offer, f"{each}s")]
    if missing:
        for each in missing:
            st.info(words.say(f"slips.allow-nobody-{each}"))
    elif place.at("step") == "sign" and form.conditions and form.pusher and form.coordinator:
        _sign(here, form, offer)
    else:
        _ask(here, form, offer)
    if press(words.say("slips.allow-throw"), "allow-throw", kind="tertiary", wide=False):
        dispensing.drop(here.desk, form.form_id)
        leave(hand)


def _is_given(here: Here, hand: str, competency: str) -> bool:
    given = dispensed.of_cell(here.desk, hand, competency, here.desk.today)
    return any(each.state == RUNS for each in given)


def _ask(here: Here, form: Form, offer: Offer) -> None:
    words, gaps = here.words, Gaps(here.words)
    st.markdown(words.say("slips.allow-text"))
    with st.form("slips-allow", border=False):
        lasts = st.radio(
            words.say("slips.allow-how-long"), [each for each in _LASTS if each in offer.until], key="allow-lasts",
            index=1 if form.lasts == HITCH and HITCH in offer.until else 0, width="stretch",
            format_func=lambda each: _how_long(here, offer, each),
        )  # fmt: skip
        conditions = st.text_area(
            words.say("slips.allow-conditions"), form.conditions, max_chars=LONGEST, key="allow-conditions",
            placeholder=words.say("slips.allow-conditions-help"),
        )  # fmt: skip
        gaps.ask(words.say("slips.gap-conditions"), is_there=bool(conditions.strip()))
        pusher = _who(here, "pusher", dict(offer.pushers), form.pusher)
        gaps.ask(words.say("slips.gap-pusher"), is_there=bool(pusher))
        coordinator = _who(here, "coordinator", dict(offer.coordinators), form.coordinator)
        gaps.ask(words.say("slips.gap-coordinator"), is_there=bool(coordinator))
        is_sent = submit(words.say("slips.allow-go"), "allow-go")
    if not is_sent:
        return
    dispensing.fill(
        here.desk, form.form_id, lasts=lasts or TOUR, conditions=conditions, pusher=pusher, coordinator=coordinator
    )
    if not gaps.told():
        go_on(form.hand, do="allow", competency=form.competency, step="sign")


def _who(here: Here, part: str, offered: dict[str, str], chosen: str) -> str:
    """One of those who can allow it; the only one, or whoever opened the form, is chosen at first."""
    first = chosen if chosen in offered else next(iter(offered)) if len(offered) == 1 else None
    picked = st.radio(
        here.words.say(f"slips.allow-{part}"), list(offered), key=f"allow-{part}", width="stretch",
        index=list(offered).index(first) if first else None, format_func=lambda each: plain(offered[each]),
    )  # fmt: skip
    return picked or ""


def _how_long(here: Here, offer: Offer, lasts: str) -> str:
    day = plain(wording.short_day(offer.until[lasts], here.words))
    return here.words.say(f"slips.allow-{lasts}", day=day)


def _sign(here: Here, form: Form, offer: Offer) -> None:
    """What is allowed, then the toolpusher's PIN, then the coordinator's."""
    words, is_signed = here.words, form.is_signed(here.desk.now)
    who = dict(offer.coordinators).get(form.coordinator) if is_signed else dict(offer.pushers).get(form.pusher)
    if who is None or form.lasts not in offer.until:
        go_on(form.hand, do="allow", competency=form.competency)
    told = (words.say("slips.allow-means"), f"**{_how_long(here, offer, form.lasts)}**", plain(form.conditions))
    st.info("  \n".join(told))
    part = "coordinator" if is_signed else "pusher"
    pin = keypad(
        words.say(f"slips.allow-{part}-pin", name=who), words=words, key=f"allow-pin-{part}",
        enter=words.say("slips.allow-enter" if is_signed else "common.continue"), problem=problem(),
    )  # fmt: skip
    if pin is not None:
        _put(here, form, pin, is_last=is_signed)
    if is_signed and form.coordinator != here.actor.hand:
        st.caption(words.say("slips.allow-elsewhere"))
    if press(words.say("slips.allow-change"), "allow-change", kind="tertiary", wide=False):
        go_on(form.hand, do="allow", competency=form.competency)


def _put(here: Here, form: Form, pin: str, *, is_last: bool) -> None:
    try:
        if is_last:
            dispensing.commit(here.desk, form.form_id, pin, door.device())
        else:
            dispensing.sign(here.desk, form.form_id, pin, door.device())
    except TrainerError as error:
        go_on(form.hand, here.words.error(error), do="allow", competency=form.competency, step="sign")
    if is_last:
        go_on(form.hand, do="allow-done", titles=form.competency, competency=form.competency)
    go_on(form.hand, do="allow", competency=form.competency, step="sign")
