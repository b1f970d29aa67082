"""Who holds what: hands by competencies on any day, with the way to the evidence behind each cell.

In the address: ``crew``, ``position``, ``competency``, ``standing``, ``late`` and ``day``, as chosen; ``marks``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import streamlit as st

from trainer.actions import dispensed
from trainer.actions import look as looking
from trainer.core.matrix import Cell, Matrix
from trainer.web import (
    door,
    late,
    matrix_audit,
    matrix_choices,
    matrix_empty,
    matrix_export,
    matrix_filters,
    matrix_pictures,
    matrix_rows,
    slips_agree,
    wording,
)
from trainer.web.goto import go
from trainer.web.matrix_filters import Filters
from trainer.web.parts import matrix_table
from trainer.web.plain import plain
from trainer.web.press import press


def draw_totals(here: door.Here, matrix: Matrix, scope: Sequence[Cell], chosen: Filters) -> None:
    """How it stands in one line, and what kind of day that is."""
    with st.container(key="matrix-totals"):
        st.markdown(" · ".join(matrix_rows.totals(here, matrix, scope, chosen)))
    if matrix.as_of != here.desk.today:
        key = "matrix.in-past" if matrix.as_of < here.desk.today else "matrix.in-future"
        with st.container(key="matrix-other-day", horizontal=True, vertical_alignment="center"):
            st.info(here.words.say(key, day=plain(wording.day(matrix.as_of, here.words))))
            if press(here.words.say("matrix.to-today"), "to-today", wide=False):
                matrix_choices.to_today(chosen)


@st.fragment
def draw_table(chosen: Filters, as_of: date) -> None:
    """The table; in a fragment of its own, so that a tap on it sends no picture again."""
    here = door.here()
    matrix = matrix_filters.chosen_crew(here, chosen, as_of)
    names = looking.names(here.desk, matrix.hands)
    scope = matrix_filters.scope(matrix.cells(), chosen)
    kept = matrix_filters.cells_in(scope, chosen)
    wanted = [each for each in matrix.competencies if chosen.competency in ("", each)]
    picked = matrix_table(
        here.words.say("matrix.caption", day=wording.day(as_of, here.words)),
        matrix_rows.columns(here, wanted),
        matrix_rows.rows(here, as_of, scope, kept, wanted, names, dispensed.shown(here.desk, as_of)),
        levels=matrix_rows.levels(here.words),
        words=here.words,
        key="matrix-table",
        first=here.words.say("matrix.hand"),
    )
    # Before a tap is followed: one that comes from a page that has been left leads nowhere.
    late.go_back()
    if picked is not None:
        day = {"day": chosen.day} if chosen.day else {}
        go("evidence", hand=picked[0], competency=picked[1], **day)


def draw_files(here: door.Here, kept: Sequence[Cell], names: Mapping[str, str], chosen: Filters, as_of: date) -> None:
    """What is shown, as files; each button names the day, because another may just be written in the field above."""
    shown, day = matrix_filters.said(here, chosen), plain(wording.day(as_of, here.words))
    with st.container(key="matrix-files", horizontal=True):
        for form, media in matrix_export.FORMATS:
            st.download_button(
                here.words.say(f"matrix.save-{form}", day=day),
                matrix_export.rendered(here, kept, names, as_of, shown, form),
                file_name=matrix_export.file_name(here, as_of, form),
                mime=media,
                key=f"save-{form}",
                on_click="ignore",
            )


def draw() -> None:
    """The whole page."""
    here = door.here()
    places = looking.places(here.desk)
    st.title(here.words.say("nav.matrix"), anchor=False)
    slips_agree.waiting(here)
    top, choices = st.container(), st.container(key="matrix-choices")
    with choices:
        chosen = matrix_choices.ask_day(here, matrix_filters.read(here, places))
    as_of = matrix_filters.day_in(chosen.day) or here.desk.today
    with choices:
        chosen = matrix_choices.ask(here, places, chosen)
    matrix = matrix_filters.chosen_crew(here, chosen, as_of)
    names = looking.names(here.desk, matrix.hands)
    scope = matrix_filters.scope(matrix.cells(), chosen)
    kept = matrix_filters.cells_in(scope, chosen)
    with top:
        draw_totals(here, matrix, scope, chosen)
    if kept:
        draw_table(chosen, as_of)
        draw_files(here, kept, names, chosen, as_of)
        matrix_pictures.draw(here, scope, names, as_of)
    else:
        matrix_empty.draw(here, chosen, as_of)
    matrix_audit.draw()


draw()
