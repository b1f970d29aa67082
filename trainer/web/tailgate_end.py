"""The end of a tailgate: who was there and how, guests, the driller's PIN, and what it came to."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions import tailgating, vouching
from trainer.actions.meetings import ANSWERS, Attendee, Meeting
from trainer.actions.tailgating import LONGEST
from trainer.actions.vouching import HeldFor
from trainer.core.tailgate import HOW_PRESENT, QUESTIONS, THROUGHOUT
from trainer.errors import TrainerError
from trainer.web import door, frame, prints, tailgate_paper, titles, wording
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press, submit
from trainer.web.tailgate_begin import form
from trainer.web.tailgate_way import ask_pin, lay_down_link, name, narrow, onward, stay, topic

__all__ = ["done", "lay_down", "rewritten", "sign"]

_PASSED = "passed"


def sign(here: door.Here, meeting: Meeting) -> None:
    """Who was there and how; the driller vouches for it with his PIN."""
    words = here.words
    with narrow():
        st.title(words.say("tailgate.sign-title"), anchor=False)
        if meeting.is_paper:
            day = plain(wording.day(date.fromisoformat(meeting.held), words))
            held = words.say("tailgate.paper-line", topic=topic(here, meeting.competency), day=day, tour=meeting.tour)
            st.markdown(held)
        st.markdown(words.say("tailgate.paper-sign-text" if meeting.is_paper else "tailgate.sign-text"))
        results = vouching.outcomes(here.desk, meeting)
        # Not by how they were there: a row must not jump away under the thumb that marks it.
        for each in sorted(meeting.people, key=lambda each: (not each.answers, name(here, each.hand).casefold())):
            _person(here, meeting, each, is_pass=results.get(each.hand, False))
        st.markdown(words.say("tailgate.leader-line", name=name(here, meeting.leader)))
        _somebody_else(here, meeting)
        _guests(here, meeting)
        form(here, meeting)
        st.header(words.say("tailgate.vouch-title"), anchor=False)
        passed, there = sum(results.values()), len(results)
        st.markdown(words.say("tailgate.vouch-text", passed=passed, others=there - passed, guests=len(meeting.guests)))
        if ask_pin(
            here, f"vouch-{meeting.tailgate_id}", "tailgate.vouch",
            lambda pin: vouching.vouch(here.desk, meeting.tailgate_id, pin, door.device()),
        ):  # fmt: skip
            onward(done=meeting.tailgate_id)
        _ways_out(here, meeting)


def _ways_out(here: door.Here, meeting: Meeting) -> None:
    words = here.words
    if meeting.is_paper:
        tailgate_paper.ways_out(here, meeting)
        return
    with st.container(key="ways-out", horizontal=True):
        if press(words.say("tailgate.back-to-answers"), "to-answers", kind="tertiary", wide=False):
            tailgating.turn(here.desk, meeting.tailgate_id, ANSWERS, QUESTIONS - 1)
            onward()
        lay_down_link(here, meeting)


def _person(here: door.Here, meeting: Meeting, each: Attendee, *, is_pass: bool) -> None:
    """One person: how he was there, and what that makes of it."""
    words = here.words
    with st.container(key=f"was-{each.hand}"):
        st.markdown(f"**{name(here, each.hand)}** · {_makes(here, meeting, each, is_pass=is_pass)}")
        ways = ([_PASSED] if meeting.is_paper else []) + [*HOW_PRESENT, ""]
        now = _PASSED if meeting.is_paper and each.passed else each.how
        chosen = st.segmented_control(
            words.say("tailgate.how-was", name=name(here, each.hand)), ways, default=now, required=True,
            format_func=lambda way: words.say(_way_key(way, is_paper=meeting.is_paper)),
            key=f"how-{meeting.tailgate_id}-{each.hand}", label_visibility="collapsed",
        )  # fmt: skip
    if chosen is not None and chosen != now:
        how = THROUGHOUT if chosen == _PASSED else chosen
        vouching.mark(here.desk, meeting.tailgate_id, each.hand, how, passed=chosen == _PASSED)
        stay()


def _way_key(way: str, *, is_paper: bool) -> str:
    if is_paper and way == THROUGHOUT:
        return "tailgate.how-there"
    return f"tailgate.how-{way or 'away'}"


def _makes(here: door.Here, meeting: Meeting, each: Attendee, *, is_pass: bool) -> str:
    if not each.how:
        return here.words.say("tailgate.makes-nothing")
    if not is_pass and not meeting.is_paper and not meeting.has_answered(each.hand):
        return here.words.say("tailgate.makes-attendance-unanswered")
    return here.words.say("tailgate.makes-pass" if is_pass else "tailgate.makes-attendance")


def _somebody_else(here: door.Here, meeting: Meeting) -> None:
    words, others = here.words, vouching.others_here(here.desk, meeting)
    if not others:
        return
    called = {hand: f"{each} ({titles.crew(here, crew)})" for hand, each, crew in others}
    chosen = st.selectbox(
        words.say("tailgate.add-person"), list(called), index=None, format_func=called.__getitem__,
        key=f"add-{len(meeting.people)}", placeholder=words.say("tailgate.choose"),
    )  # fmt: skip
    if chosen is not None:
        vouching.mark(here.desk, meeting.tailgate_id, chosen, THROUGHOUT)
        stay()


def _guests(here: door.Here, meeting: Meeting) -> None:
    """People of no crew here: a name on the sheet, no standing."""
    words = here.words
    for number, guest in enumerate(meeting.guests):
        with st.container(key=f"guest-{number}", horizontal=True, vertical_alignment="center"):
            st.markdown(words.say("tailgate.guest-line", name=plain(guest)))
            if press(words.say("tailgate.drop-guest"), f"drop-guest-{number}", kind="tertiary", wide=False):
                vouching.drop_guest(here.desk, meeting.tailgate_id, guest)
                stay()
    count = len(meeting.guests)
    with st.form(f"guest-{count}", border=False):
        # Another key for each: the next guest starts with an empty line.
        typed = st.text_input(
            words.say("tailgate.guest"), max_chars=LONGEST, key=f"guest-name-{count}", autocomplete="off"
        )
        is_sent = submit(words.say("tailgate.add-guest"), "add-guest", kind="secondary")
    if is_sent and not typed.strip():
        st.error(words.say("tailgate.guest-gap"))
    elif is_sent:
        vouching.add_guest(here.desk, meeting.tailgate_id, typed)
        stay()


def done(here: door.Here, tailgate_id: str) -> None:
    """What was written: who passed and how long that holds, who was there, guests."""
    words = here.words
    try:
        found = vouching.held(here.desk, tailgate_id)
    except TrainerError as error:
        frame.shown(error, words)
        return
    with narrow():
        st.title(words.say("tailgate.done-title"), anchor=False)
        day = plain(wording.day(found.record.day, words))
        told = [words.say("tailgate.done-text", topic=topic(here, found.body.competency), day=day)]
        # His record is attendance too, and he is in none of the numbers below.
        told.append(words.say("tailgate.done-led", name=name(here, found.body.vouched)))
        if found.job:
            told.append(f"{words.say('tailgate.form-job')}: {plain(found.job)}")
        st.markdown("  \n".join(told))
        passed = [each for each in found.people if each.passed]
        others = [each for each in found.people if not each.passed]
        for heading, people in (("tailgate.done-passed", passed), ("tailgate.done-attended", others)):
            if people:
                st.header(words.count(heading, len(people)), anchor=False)
                st.markdown("\n".join(f"- {_line(here, each, is_paper=found.body.paper)}" for each in people))
        if others and not passed:
            st.info(words.say("tailgate.done-nobody"))
        if found.guests:
            st.header(words.count("tailgate.done-guests", len(found.guests)), anchor=False)
            st.markdown("\n".join(f"- {plain(each)}" for each in found.guests))
        prints.held_talk(here, tailgate_id, found.body.competency, found.record.day)
        if press(words.say("tailgate.to-matrix"), "to-matrix", kind="primary"):
            go("matrix")
        if press(words.say("tailgate.new"), "new", kind="tertiary", wide=False):
            onward(done=None)


def _line(here: door.Here, each: HeldFor, *, is_paper: bool) -> str:
    """A name, and until when a pass holds, or why it is attendance."""
    if not each.passed:
        return f"**{name(here, each.hand)}**: {_why_attended(here, each, is_paper=is_paper)}"
    if each.through is None:
        return f"**{name(here, each.hand)}**"
    day = plain(wording.day(each.through, here.words))
    return here.words.say("tailgate.done-line", name=name(here, each.hand), day=day)


def _why_attended(here: door.Here, each: HeldFor, *, is_paper: bool) -> str:
    words = here.words
    if each.how != THROUGHOUT:
        return words.say(f"tailgate.done-{each.how}")
    if is_paper:
        return words.say("tailgate.done-not-all")
    if each.answered < QUESTIONS:
        return words.say("tailgate.done-unanswered")
    return words.say("tailgate.done-right", right=each.right, asked=QUESTIONS)


def lay_down(here: door.Here, meeting: Meeting) -> None:
    """Lay the tailgate down for now: the driller's PIN opens the other pages again."""
    words = here.words
    with narrow():
        st.title(words.say("tailgate.down-title"), anchor=False)
        st.markdown(words.say("tailgate.down-text"))
        if _release(here, meeting):
            onward(down=None)
        if press(words.say("tailgate.down-no"), "down-no"):
            onward(down=None)


def rewritten(here: door.Here, meeting: Meeting) -> None:
    """The questions were rewritten meanwhile: nothing can be asked or marked, so it is laid down and begun again."""
    with narrow():
        st.error(here.words.say("error.tailgate-rewritten"))
        if _release(here, meeting):
            onward(down=None)


def _release(here: door.Here, meeting: Meeting) -> bool:
    return ask_pin(
        here, f"down-{meeting.tailgate_id}", "tailgate.down",
        lambda pin: tailgating.release(here.desk, meeting.tailgate_id, pin, door.device()),
    )  # fmt: skip
