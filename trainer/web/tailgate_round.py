"""A tailgate while it runs: the talk in large type, the questions person by person, and the answers for everybody."""

from __future__ import annotations

from collections import Counter

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from trainer.actions import tailgating, vouching
from trainer.actions.meetings import ANSWERS, ASK, SIGN, TALK, Attendee, Meeting, items_of
from trainer.core.banks import Item
from trainer.core.forms import drawn_order
from trainer.core.marking import right_answer
from trainer.core.shown import show
from trainer.core.tailgate import QUESTIONS, drawn_for
from trainer.core.tasks import ChooseOne, JudgeDrawing
from trainer.core.telling import RIGHT, WRONG, Told
from trainer.core.text import pick
from trainer.web import aloud, door, titles, wording
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.tailgate_way import lay_down_link, name, narrow, onward, other_languages, topic, words_of
from trainer.web.tasks_drawn import draw, draw_picture, draw_told

__all__ = ["answers", "ask", "talk"]


def talk(here: door.Here, meeting: Meeting) -> None:
    """One point a page, to be read at arm's length."""
    words, told = here.words, tailgating.talk_points(here.desk, meeting)
    place_now = min(meeting.page, len(told) - 1)
    point, is_last = told[place_now], place_now == len(told) - 1
    with st.container(key="talk"):
        where = words.say("tailgate.point-of", number=place_now + 1, total=len(told))
        with aloud.beside(words, f"point-{meeting.tailgate_id}-{place_now}", point):
            st.markdown(f"**{topic(here, meeting.competency)}** · {where}")
        st.title(wording.line(point.title, words), anchor=False)
        wording.mark_untranslated(words, point)
        with st.container(key="talk-point"):
            draw_picture(point.picture, words, key=f"point-{meeting.tailgate_id}-{place_now}")
            st.markdown(wording.line(point.text, words))
        with st.container(key="talk-ways"):
            label = words.say("tailgate.to-questions" if is_last else "tailgate.next-point")
            if press(label, f"next-{place_now}", kind="primary"):
                _turn(here, meeting, ASK if is_last else TALK, 0 if is_last else place_now + 1)
            if place_now and press(words.say("common.back"), f"back-{place_now}"):
                _turn(here, meeting, TALK, place_now - 1)
        lay_down_link(here, meeting)


def _turn(here: door.Here, meeting: Meeting, step: str, page: int = 0) -> None:
    tailgating.turn(here.desk, meeting.tailgate_id, step, page)
    onward(sure=None)


def ask(here: door.Here, meeting: Meeting) -> None:
    """Whoever has the tablet answers; between two people the names are shown."""
    person = meeting.attendee(meeting.now)
    if person is None:
        _who_is_next(here, meeting)
    else:
        _question(here, meeting, person)


def _who_is_next(here: door.Here, meeting: Meeting) -> None:
    words = here.words
    done = [each for each in meeting.people if meeting.has_answered(each.hand)]
    open_ones = [each for each in meeting.people if not meeting.has_answered(each.hand)]
    waiting = sorted(open_ones, key=lambda each: name(here, each.hand).casefold())
    st.title(words.say("tailgate.who-answers" if waiting else "tailgate.all-answered"), anchor=False)
    if meeting.last:
        _thanks(here, meeting)
    # Its own key each time: the style sheet keeps the second half of a double tap off the names.
    with st.container(key=f"round-{len(done) % 2}"):
        if waiting:
            st.markdown(words.say("tailgate.who-text"))
            with st.container(key="tiles"):
                for each in waiting:
                    if press(name(here, each.hand), f"call-{each.hand}"):
                        tailgating.call_up(here.desk, meeting.tailgate_id, each.hand)
                        onward()
        _another_person(here, meeting)
        _to_answers(here, meeting, done, waiting)
    lay_down_link(here, meeting)


def _thanks(here: door.Here, meeting: Meeting) -> None:
    """What to do with the tablet, and a way back for a wet thumb until the next person has it."""
    with st.container(key="thanks", horizontal=True, vertical_alignment="center"):
        st.markdown(f"**{here.words.say('tailgate.thanks', name=name(here, meeting.last))}**")
        person = meeting.attendee(meeting.last)
        if (
            person
            and person.answers
            and press(
                here.words.say("tailgate.take-back"), f"take-back-{len(person.answers)}", kind="tertiary", wide=False
            )
        ):
            tailgating.take_back(here.desk, meeting.tailgate_id)
            onward()


def _another_person(here: door.Here, meeting: Meeting) -> None:
    """Somebody of another crew, in two taps."""
    words, others = here.words, vouching.others_here(here.desk, meeting)
    if not others:
        return
    called = {hand: f"{each} ({titles.crew(here, crew)})" for hand, each, crew in others}
    chosen = st.selectbox(
        words.say("tailgate.other-person"), list(called), index=None, format_func=called.__getitem__,
        key=f"other-{len(meeting.people)}", placeholder=words.say("tailgate.choose"),
    )  # fmt: skip
    if chosen is not None:
        tailgating.call_up(here.desk, meeting.tailgate_id, chosen)
        onward()


def _to_answers(here: door.Here, meeting: Meeting, done: list[Attendee], waiting: list[Attendee]) -> None:
    """The answers for everybody, once all have answered; whoever is on the list and not here is named first."""
    words = here.words
    if not done:
        return
    st.markdown(words.count("tailgate.answered", len(done)))
    if waiting:
        names = ", ".join(name(here, each.hand) for each in waiting)
        st.markdown(words.say("tailgate.not-answered", names=names))
    label = "tailgate.show-answers-anyway" if waiting else "tailgate.show-answers"
    if press(words.say(label), "show-answers", kind="secondary" if waiting else "primary"):
        _turn(here, meeting, ANSWERS)


def _question(here: door.Here, meeting: Meeting, person: Attendee) -> None:
    """One question in the person's own language; a tap on an option is the answer."""
    items = items_of(here.desk.catalogue, meeting) or ()
    number, words = len(person.answers), words_of(here, person.hand)
    item = items[number]
    shown = show(item, drawn_for(item, meeting.tailgate_id, person.hand), words.language)
    key = f"{meeting.tailgate_id}-{person.hand}-{item.id}"
    with _asking(item), st.container(key=f"ask-{number}"):
        whose = words.say("tailgate.question-of", name=name(here, person.hand), number=number + 1, total=QUESTIONS)
        with aloud.beside(words, key, item):
            st.markdown(whose)
        wording.mark_untranslated(words, item)
        st.subheader(plain(shown.text), anchor=False)
        with st.container(key="ask-body"):
            draw_picture(shown.picture, words, key=f"picture-{key}")
            tapped = draw(shown.task, None, ask=shown.text, words=words, key=f"task-{key}")
        if isinstance(tapped, str):
            tailgating.answer(here.desk, meeting.tailgate_id, person.hand, item.id, tapped, words.language)
            onward()
        st.markdown(words.say("tailgate.no-reasons-yet"))
        with st.container(key="ask-ways", horizontal=True):
            other_languages(person.hand, words)
            if person.answers:
                if press(words.say("tailgate.one-back"), f"one-back-{number}", kind="tertiary", wide=False):
                    tailgating.take_back(here.desk, meeting.tailgate_id)
                    onward()
            elif press(words.say("tailgate.not-me"), "not-me", kind="tertiary", wide=False):
                tailgating.call_up(here.desk, meeting.tailgate_id, "")
                onward()


def _asking(item: Item) -> DeltaGenerator:
    """Room for picture and options side by side, so that nobody scrolls for an option; without a picture a reader's."""
    return st.container(key="asking") if item.picture else narrow()


def answers(here: door.Here, meeting: Meeting) -> None:
    """One question a page with the right answer, and why each that somebody chose is not it; nobody is named."""
    words, items = here.words, items_of(here.desk.catalogue, meeting) or ()
    item, is_last = items[meeting.page], meeting.page == len(items) - 1
    chosen = Counter(each.answers[item.id] for each in meeting.people if item.id in each.answers)
    with _asking(item):
        where = words.say("tailgate.answer-of", number=meeting.page + 1, total=len(items))
        with aloud.beside(words, f"answers-{meeting.tailgate_id}-{item.id}", item):
            st.markdown(f"**{topic(here, meeting.competency)}** · {where}")
        st.subheader(plain(pick(item.text, words.language)), anchor=False)
        wording.mark_untranslated(words, item)
        with st.container(key="ask-body"):
            draw_picture(item.picture, words, key=f"answer-picture-{meeting.page}")
            with st.container(key="ask-told"):
                _told(here, meeting, item, chosen)
        label = words.say("tailgate.to-sign" if is_last else "tailgate.next-answer")
        if press(label, f"answer-next-{meeting.page}", kind="primary"):
            _turn(here, meeting, SIGN if is_last else ANSWERS, 0 if is_last else meeting.page + 1)
        if meeting.page and press(words.say("common.back"), f"answer-back-{meeting.page}"):
            _turn(here, meeting, ANSWERS, meeting.page - 1)
        lay_down_link(here, meeting)


def _told(here: door.Here, meeting: Meeting, item: Item, chosen: Counter[str]) -> None:
    assert isinstance(item.task, ChooseOne | JudgeDrawing)
    key = right_answer(item.task, {}, {})
    said = [
        Told(option.id, RIGHT if option.right else WRONG, option.why)
        for option in item.task.options
        if option.right or chosen[option.id]
    ]
    st.markdown(here.words.say("tailgate.how-many-right", right=chosen[str(key)], asked=chosen.total()))
    draw_told(
        item.task, drawn_order(item.task, meeting.tailgate_id, item.id), key, said,
        ask=pick(item.text, here.language), words=here.words, key=f"told-{meeting.tailgate_id}-{item.id}",
    )  # fmt: skip
    if item.why:
        st.markdown(wording.line(item.why, here.words))
