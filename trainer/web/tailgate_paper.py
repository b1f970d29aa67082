"""A talk that was held on paper: the first questions of its sheet, the same again to put right, and throwing it away.

In the address: ``paper`` while topic, crew, day and tour are asked, ``crew`` and ``day`` as they were chosen there.
"""

from __future__ import annotations

from datetime import date, timedelta

import streamlit as st

from trainer.actions import proposing, tailgating, tailgating_paper
from trainer.actions.meetings import Meeting, last_begun
from trainer.core.tours import start_of
from trainer.errors import TrainerError
from trainer.web import door, frame, place, prints, titles
from trainer.web.press import press
from trainer.web.tailgate_begin import choose_crew
from trainer.web.tailgate_way import narrow, onward, stay, throw_away

__all__ = ["begin", "ways_out"]

_PAPER_DAYS = 60


def begin(here: door.Here, was: Meeting | None = None) -> None:
    """The first questions of a sheet of paper: topic, crew, the day and tour of the talk; of ``was`` to put right."""
    words = here.words
    with narrow():
        st.title(words.say("tailgate.paper-fix-title" if was else "tailgate.paper-title"), anchor=False)
        st.markdown(words.say("tailgate.paper-fix-text" if was else "tailgate.paper-text"))
        offer = proposing.offer(here.desk, place.at("crew") or (was.crew if was else ""))
        crew = choose_crew(here, offer)
        topics = offer.topics
        chosen = st.selectbox(
            words.say("tailgate.topic"), topics, key="paper-topic", placeholder=words.say("tailgate.choose"),
            index=topics.index(was.competency) if was and was.competency in topics else None,
            format_func=lambda each: titles.competency(here, each),
        )  # fmt: skip
        tour = _tour(here, crew, was)
        day = _day(here, tour, was)
        if chosen and was is None:
            prints.tailgate_sheet(here, chosen, crew, tour=tour)
        label = "common.continue" if chosen else "tailgate.choose-topic"
        if press(words.say(label), "paper-go-on", kind="primary", disabled=chosen is None) and chosen:
            _take(here, was, chosen, crew, day, tour)
        back = "tailgate.paper-fix-done" if was else "common.back"
        if press(words.say(back), "paper-back", kind="tertiary", wide=False):
            onward(paper=None, crew=None, day=None)


def _take(here: door.Here, was: Meeting | None, topic: str, crew: str, day: date, tour: str) -> None:
    """Open the sheet, or put it right; a day or tour that cannot be is said here, and everything stays as chosen."""
    try:
        if was is None:
            tailgating.open_paper(here.desk, topic, crew, day, tour)
        else:
            tailgating_paper.correct(here.desk, was.tailgate_id, topic, crew, day, tour)
    except TrainerError as error:
        frame.shown(error, here.words)
        return
    onward(paper=None, crew=None, day=None, done=None)


def _tour(here: door.Here, crew: str, was: Meeting | None) -> str:
    """Which tour: those that the site's crews work; the crew's own stands first, or the one on the sheet."""
    crews = here.desk.catalogue.site.crews
    own = crews[crew].tour if crew in crews else ""
    now = was.tour if was and was.crew == crew else own
    tours = list(dict.fromkeys(each for each in (*(crew.tour for crew in crews.values()), now) if start_of(each)))
    if len(tours) < 2:
        return now
    index = tours.index(now) if now in tours else 0
    return st.selectbox(here.words.say("tailgate.tour"), tours, index=index, key=f"paper-tour-{crew}")


def _day(here: door.Here, tour: str, was: Meeting | None) -> date:
    """The day on which the tour began: the last such tour's, as at a sign-off, until another one is chosen."""
    today = here.desk.today
    own = _as_chosen(place.at("day")) or (date.fromisoformat(was.held) if was else None)
    shown = min(own or last_begun(here.desk, tour), today)
    # Until a day is chosen it follows the tour.
    key = "paper-day" if own else f"paper-day-{tour}"
    day = st.date_input(
        here.words.say("tailgate.held"), shown, min_value=min(shown, today - timedelta(days=_PAPER_DAYS)),
        max_value=today, format="YYYY-MM-DD", key=key,
    )  # fmt: skip
    if day != shown:
        stay(day=day.isoformat())
    return day


def _as_chosen(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def ways_out(here: door.Here, meeting: Meeting) -> None:
    """From the marks of a sheet back to its first questions, or away with it."""
    if place.at("sure") == "1":
        throw_away(here, meeting, "tailgate.throw-paper-sure")
        return
    with st.container(key="ways-out", horizontal=True):
        if press(here.words.say("tailgate.paper-fix"), "paper-fix", kind="tertiary", wide=False):
            onward(paper="1")
        if press(here.words.say("tailgate.throw-paper"), "throw-paper", kind="tertiary", wide=False):
            stay(sure="1")
