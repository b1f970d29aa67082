"""Before a tailgate: which topic and why, the form's own lines, and the way back to one that was held or laid down."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions import proposing, tailgating, tailgating_held
from trainer.actions.meetings import Meeting
from trainer.actions.proposing import Offer
from trainer.actions.tailgating import LONGEST
from trainer.core.tailgate import bank_of
from trainer.core.talktopics import Missed, Proposal, Why
from trainer.web import door, place, prints, titles, wording
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.tailgate_way import name, narrow, onward, stay, throw_away, topic

__all__ = ["choose", "choose_crew", "form", "ready", "resume"]


def choose(here: door.Here) -> None:
    """The topics in their order, each with why; one press takes one."""
    words = here.words
    offer = proposing.offer(here.desk, place.at("crew"), place.at("work"))
    with narrow():
        st.title(words.say("tailgate.title"), anchor=False)
        st.markdown(words.say("tailgate.choose-text"))
        crew = choose_crew(here, offer)
        _work(here, offer)
        if not offer.topics:
            st.info(words.say("tailgate.no-topics"))
        for number, proposal in enumerate(offer.proposals):
            _proposal(here, proposal, crew, is_first=number == 0)
        _any_topic(here, offer, crew)
        if offer.topics and press(words.say("tailgate.to-paper"), "to-paper", kind="tertiary", wide=False):
            onward(paper="1")
        _past(here)


def choose_crew(here: door.Here, offer: Offer) -> str:
    """With which crew: the one of ``offer`` until another one is chosen."""
    if len(offer.crews) < 2:
        return offer.crew
    chosen = st.selectbox(
        here.words.say("tailgate.crew"), offer.crews, index=offer.crews.index(offer.crew), key="tailgate-crew",
        format_func=lambda each: titles.crew(here, each),
    )  # fmt: skip
    if chosen != offer.crew:
        stay(crew=chosen)
    return chosen


def _work(here: door.Here, offer: Offer) -> None:
    """What is on today: at most one tap, and none is needed."""
    if not offer.works:
        return
    now = place.at("work") if place.at("work") in offer.works else None
    chosen = st.pills(
        here.words.say("tailgate.work"), offer.works, default=now, key="tailgate-work",
        format_func=lambda each: _work_words(here, each),
    )  # fmt: skip
    if chosen != now:
        stay(work=chosen)


def _work_words(here: door.Here, work: str) -> str:
    key = f"tailgate.work-{work}"
    return here.words.say(key) if here.words.has(key) else work


def _proposal(here: door.Here, proposal: Proposal, crew: str, *, is_first: bool) -> None:
    words = here.words
    with st.container(key=f"topic-{proposal.competency}", border=True):
        st.subheader(topic(here, proposal.competency), anchor=False)
        st.markdown("\n".join(f"- {_why(here, proposal.competency, each)}" for each in proposal.whys))
        is_taken = press(
            words.say("tailgate.take"), f"take-{proposal.competency}", kind="primary" if is_first else "secondary"
        )
        if is_taken:
            _take(here, proposal.competency, crew)


def _past(here: door.Here) -> None:
    """The driller's own tailgates of late, each to look at and to print again."""
    words, found = here.words, tailgating_held.latest(here.desk)
    if not found:
        return
    st.header(words.say("tailgate.past-title"), anchor=False)
    with st.container(key="past"):
        for each in found:
            day = plain(wording.day(each.day, words))
            label = words.say("tailgate.past-line", topic=topic(here, each.competency), day=day)
            if press(label, f"past-{each.tailgate_id}", kind="tertiary", wide=False):
                onward(done=each.tailgate_id, work=None, crew=None)


def _take(here: door.Here, competency: str, crew: str) -> None:
    tailgating.open_meeting(here.desk, competency, crew)
    onward(done=None, work=None, crew=None, paper=None)


def _why(here: door.Here, competency: str, why: Why) -> str:
    words = here.words
    day = plain(wording.day(why.day, words)) if why.day else ""
    match why.kind:
        case "due":
            return words.say("tailgate.why-due", name=name(here, why.hand), day=day)
        case "missed":
            what = "; ".join(_missed(here, competency, each) for each in why.misses)
            return words.say("tailgate.why-missed", what=what)
        case "work":
            return words.say("tailgate.why-work", work=plain(_work_words(here, place.at("work"))))
    return words.say("tailgate.why-old-missed" if why.was_missed else "tailgate.why-old", day=day)


def _missed(here: door.Here, competency: str, each: Missed) -> str:
    bank = bank_of(here.desk.catalogue, competency)
    known = bank.objective(each.objective) if bank else None
    title = wording.line(known.title, here.words) if known else plain(each.objective)
    key = "tailgate.missed-must" if each.critical else "tailgate.missed"
    return here.words.say(key, title=title, wrong=each.wrong, asked=each.asked)


def _any_topic(here: door.Here, offer: Offer, crew: str) -> None:
    """Every other topic: the driller knows what his crew needs."""
    proposed = {each.competency for each in offer.proposals}
    others = [each for each in offer.topics if each not in proposed]
    if not others:
        return
    words = here.words
    chosen = st.selectbox(
        words.say("tailgate.other-topic"), others, index=None, key="tailgate-topic",
        format_func=lambda each: titles.competency(here, each), placeholder=words.say("tailgate.choose"),
    )  # fmt: skip
    if chosen is not None and press(words.say("tailgate.take"), "take-other"):
        _take(here, chosen, crew)


def ready(here: door.Here, meeting: Meeting) -> None:
    """The topic taken: the lines of the site's own form, and the talk begins."""
    words = here.words
    with narrow():
        st.title(topic(here, meeting.competency), anchor=False)
        st.markdown(words.say("tailgate.ready-text", crew=plain(titles.crew(here, meeting.crew))))
        form(here, meeting)
        prints.tailgate_sheet(here, meeting.competency, meeting.crew, meeting.tailgate_id)
        st.info(words.say("tailgate.lock-text"))
        if press(words.say("tailgate.begin"), "begin", kind="primary"):
            tailgating.begin(here.desk, meeting.tailgate_id, here.token)
            onward()
        if press(words.say("tailgate.another"), "another", kind="tertiary", wide=False):
            tailgating.drop(here.desk, meeting.tailgate_id)
            onward()


def form(here: door.Here, meeting: Meeting) -> None:
    """Job or permit number and the site's own form; what is typed is kept when the field is left."""
    words, key = here.words, meeting.tailgate_id

    def line(field: str, value: str) -> str:
        label = words.say(f"tailgate.form-{field}")
        return st.text_input(label, value, max_chars=LONGEST, key=f"{field}-{key}", autocomplete="off")

    job = line("job", meeting.job)
    with st.expander(words.say("tailgate.form"), expanded=bool(meeting.number or meeting.header)):
        number, revision = line("number", meeting.number), line("revision", meeting.revision)
        header = line("header", meeting.header)
    if (job, number, revision, header) != (meeting.job, meeting.number, meeting.revision, meeting.header):
        tailgating.describe(here.desk, meeting.tailgate_id, job=job, number=number, revision=revision, header=header)


def resume(here: door.Here, meeting: Meeting) -> None:
    """A tailgate that was laid down, or is on another tablet: go on here, or throw it away."""
    words = here.words
    day = plain(wording.day(date.fromisoformat(meeting.held), words))
    with narrow():
        st.title(words.say("tailgate.open-title"), anchor=False)
        st.markdown(words.say("tailgate.open-text", topic=topic(here, meeting.competency), day=day))
        if press(words.say("tailgate.go-on"), "go-on", kind="primary"):
            tailgating.take_up(here.desk, meeting.tailgate_id, here.token)
            onward()
        if place.at("sure") != "1":
            if not meeting.session and press(words.say("tailgate.throw"), "throw", kind="tertiary", wide=False):
                stay(sure="1")
            return
        throw_away(here, meeting, "tailgate.throw-sure")
