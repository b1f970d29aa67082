"""The two pictures under the matrix: what falls due on which hitch, and how everybody stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import streamlit as st

from trainer.core.matrix import Cell
from trainer.web import charts, titles
from trainer.web.door import Here

__all__ = ["draw"]


def draw(here: Here, scope: Sequence[Cell], names: Mapping[str, str], as_of: date) -> None:
    """Both, for the cells in ``scope``; ``names`` are the hands'."""
    site = here.desk.catalogue.site
    crews = sorted({cell.crew for cell in scope}, key=lambda each: ([*site.crews, each].index(each), each))
    by_crew = {crew: [cell for cell in scope if cell.crew == crew] for crew in crews}
    competencies = {cell.competency: titles.competency(here, cell.competency) for cell in scope}
    _due_dates(here, by_crew, {**names, **competencies}, as_of)
    grouped = {titles.crew(here, crew): cells for crew, cells in by_crew.items()}
    if _is_by_competency(here):
        grouped = {name: [cell for cell in scope if cell.competency == each] for each, name in competencies.items()}
    overview = charts.standings(grouped, here.words.say("matrix.overview-title"), here.words)
    st.plotly_chart(overview.figure, key="overview", config=charts.CONFIG, alt=overview.alt)


def _due_dates(here: Here, by_crew: Mapping[str, Sequence[Cell]], names: Mapping[str, str], as_of: date) -> None:
    title = here.words.say("matrix.due-title", days=charts.AHEAD)
    st.header(title, anchor=False)
    st.markdown(here.words.say("matrix.due-text"))
    rotations = here.desk.catalogue.site.crews
    lanes = [charts.Lane(titles.crew(here, crew), rotations.get(crew), cells) for crew, cells in by_crew.items()]
    due = charts.due_dates(lanes, as_of, names, title, here.words)
    st.plotly_chart(due.figure, key="due-dates", config=charts.CONFIG, alt=due.alt)


def _is_by_competency(here: Here) -> bool:
    """The heading of the overview, and by what it is to be grouped."""
    title = here.words.say("matrix.overview-title")
    st.header(title, anchor=False)
    kinds = {each: here.words.say(f"matrix.by-{each}") for each in ("crew", "competency")}
    chosen = st.segmented_control(
        title, list(kinds), default="competency", required=True, format_func=kinds.__getitem__, key="overview-by",
        label_visibility="collapsed",
    )  # fmt: skip
    return chosen == "competency"
