"""What a person chooses the matrix by: four lists, late ones only, and the day."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import NoReturn

import streamlit as st

from trainer.core.matrix import STANDINGS
from trainer.web import matrix_filters, session, titles
from trainer.web.door import Here
from trainer.web.matrix_filters import EVERY, Filters, Places
from trainer.web.matrix_rows import standing_word
from trainer.web.press import press

__all__ = ["ask", "ask_day", "to_today"]

_YEARS = timedelta(days=366 * 10)
_AFRESH = "matrix-choices"


def ask(here: Here, places: Places, chosen: Filters) -> Filters:
    """The lists, beginning with what is chosen; the choice as it now is, put into the address."""
    words, site = here.words, here.desk.catalogue.site
    in_use, held = {crew for crew, _ in places}, {position for _, position in places}
    crews = [each for each in site.crews if each in in_use]
    crews += sorted(in_use - {*crews, ""})
    positions = [each for each in site.ladder() if each in held]
    now = replace(
        chosen,
        crew=_one("crew", crews, chosen.crew, lambda each: titles.crew(here, each), here, every=EVERY),
        position=_one("position", positions, chosen.position, lambda each: titles.position(here, each), here),
        competency=_one(
            "competency",
            [each.id for each in here.desk.catalogue.competencies],
            chosen.competency,
            lambda each: titles.competency(here, each),
            here,
        ),
        standing=_one("standing", STANDINGS, chosen.standing, lambda each: standing_word(each, words), here),
        late="yes" if st.checkbox(words.say("matrix.late-only"), bool(chosen.late), key=_key("late")) else "",
    )
    if now.is_any and press(words.say("matrix.show-all"), "show-all", kind="tertiary", wide=False):
        matrix_filters.keep(Filters(crew=EVERY, day=now.day))
        _begin_afresh()
        st.rerun()
    matrix_filters.keep(now)
    return now


def ask_day(here: Here, chosen: Filters) -> Filters:
    """The as-of date, any day past or future; empty in the choice for today, which goes on by itself."""
    today = here.desk.today
    first, last = today - 3 * _YEARS, today + _YEARS
    asked = matrix_filters.day_in(chosen.day) or today
    day = st.date_input(
        here.words.say("matrix.as-of"), min(max(asked, first), last), min_value=first, max_value=last,
        # Today's is another field tomorrow: a tablet that lies open over midnight does not stay on the day before.
        format="YYYY-MM-DD", key=_key(f"day-{today.isoformat()}"),
    )  # fmt: skip
    return replace(chosen, day=day.isoformat() if isinstance(day, date) and day != today else "")


def to_today(chosen: Filters) -> NoReturn:
    """Show today again, as it goes on. Call it last: nothing after it runs."""
    matrix_filters.keep(replace(chosen, day=""))
    _begin_afresh()
    st.rerun()


def _one(name: str, options: Sequence[str], now: str, title: Callable[[str], str], here: Here, every: str = "") -> str:
    """One list: what stands first in it leaves nothing out. What is chosen stays in it where nobody has it now."""
    listed = [*dict.fromkeys((every, *options, now or every))]
    first = here.words.say(f"matrix.every-{name}")
    picked = st.selectbox(
        here.words.say(f"matrix.choose-{name}"),
        listed,
        index=listed.index(now or every),
        format_func=lambda each: first if each == every else title(each),
        # Another language is another list: the browser would keep the words of the one before.
        key=_key(f"{name}-{here.language}"),
        filter_mode=None,
    )
    return picked or ""


def _begin_afresh() -> None:
    """Have all fields begin anew from the address in the next run."""
    # Under another key each: the browser keeps what stands in a field it knows, and sends it back with the next tap.
    session.take(_AFRESH, session.taken(_AFRESH) + 1)


def _key(name: str) -> str:
    return f"choose-{name}-{session.taken(_AFRESH)}"
