"""The matrix page: totals, choices kept in the address, the way to the evidence, files, and the pictures beside it."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import held, signed_in
from tests.app.office_pages import at, bring, go, keys_on, once, words_on
from tests.e2e import rig
from trainer.actions import look, signing_off, voiding
from trainer.actions.desk import Actor, Desk, console
from trainer.actions.dispensed import ENDED, RUNS, Given
from trainer.core.catalogue import Rotation
from trainer.core.matrix import Cell, Reason, Standing
from trainer.core.signoffs import Mark
from trainer.store import Fault
from trainer.web import cached, charts, matrix_export, matrix_filters, matrix_rows, parts, wording
from trainer.web.door import Here
from trainer.web.matrix_filters import Filters
from trainer.web.parts import Row
from trainer.web.plain import plain

DAY = date(2026, 3, 2)


@pytest.fixture
def here(site: Desk) -> Here:
    """The coordinator, reading English."""
    actor = Actor("coordinator", "coordinator", "coordinator")
    return Here(replace(site, actor=actor), cached.all_words()["en"], "")


def cell(hand: str = "h1", competency: str = "set-slips", **other: object) -> Cell:
    """A cell; current and due in a hundred days unless ``other`` says so."""
    usual = Cell(
        hand, competency, "floorhand", "day-1", Standing.CURRENT, DAY + timedelta(days=100), None, False,
        Reason("holds", "practical", None, None),
    )  # fmt: skip
    return replace(usual, **other)  # type: ignore[arg-type]


def drawn_rows(monkeypatch: pytest.MonkeyPatch) -> list[Sequence[Row]]:
    """The rows that the table is given, one entry a run."""
    seen: list[Sequence[Row]] = []

    def table(_caption: str, _columns: object, rows: Sequence[Row], **_: object) -> None:
        seen.append(rows)

    monkeypatch.setattr(parts, "matrix_table", table)
    return seen


def test_the_matrix_is_the_first_page_of_a_coordinator(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    app.run()
    assert not app.exception
    assert app.title[0].value == "Matrix"


def test_a_hand_sees_no_matrix(app: AppTest, site: Desk) -> None:
    signed_in(app, site, "ray")
    go(app, "matrix")
    assert app.title[0].value == "My card"


def test_the_line_of_totals_counts_people(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix")
    need = sum(bool(site.catalogue.needed_by(position)) for position, _, _ in rig.PLACES.values())
    told = f"**{need}** need these · " if need < 5 else ""
    assert f"**5** people · of them {told}**0** hold all · **0** have something late" in words_on(app)


def with_cells(site: Desk, *crews: str) -> set[str]:
    """Those of the crews whose position needs anything."""
    return {
        hand for hand, (position, crew, _) in rig.PLACES.items() if crew in crews and site.catalogue.needed_by(position)
    }


def test_a_driller_begins_with_his_own_crew_and_can_see_all(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = drawn_rows(monkeypatch)
    signed_in(app, site, "bill")
    go(app, "matrix")
    assert at(app, "crew") == "day-1"
    assert {row.id for row in seen[-1]} == with_cells(site, "day-1")

    app.button("show-all").click().run()

    assert at(app, "crew") == "all"
    assert {row.id for row in seen[-1]} == with_cells(site, "day-1", "night-1")


def test_choices_go_into_the_address_and_come_from_it(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = drawn_rows(monkeypatch)
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", position="derrickhand", competency="set-slips")
    assert [(row.id, len(row.cells)) for row in seen[-1]] == [("ana", 1)]

    app.selectbox("choose-position-en-0").set_value("motorhand").run()

    assert at(app, "position") == "motorhand"
    assert [row.id for row in seen[-1]] == ["sam"]


def test_the_choices_wait_for_the_way_back(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", position="motorhand", day="2026-01-05")
    go(app, "evidence", hand="ray", competency="set-slips")
    go(app, "matrix")
    assert app.selectbox("choose-position-en-0").value == "motorhand"
    assert at(app, "day") == "2026-01-05"


def test_what_is_unknown_in_the_address_is_dropped(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", crew="<b>x", position="../..", standing="gone", late="perhaps", day="soon")
    assert set(app.query_params) == {"crew"}
    assert at(app, "crew") == "all"
    assert "**5** people" in words_on(app)


def test_another_day_says_what_it_is_and_leads_back(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    later = site.today + timedelta(days=400)
    go(app, "matrix", day=later.isoformat())
    assert "if nothing more is done" in words_on(app)
    assert f"**{len(with_cells(site, 'day-1', 'night-1'))}** have something late" in words_on(app)

    app.button("to-today").click().run()

    assert "day" not in app.query_params
    assert "**0** have something late" in words_on(app)
    assert app.date_input[0].value == site.today


@pytest.mark.parametrize("way", ["to-today", "show-all"])
def test_fields_that_begin_afresh_are_others_than_those_the_browser_knows(app: AppTest, site: Desk, way: str) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", day="2026-01-05", position="motorhand")
    before = {each.key for each in (*app.date_input, *app.selectbox, *app.checkbox)}

    app.button(way).click().run()

    assert before.isdisjoint({each.key for each in (*app.date_input, *app.selectbox, *app.checkbox)})


def test_a_day_before_anybody_came_says_so(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", day="2020-01-01")
    assert "Nobody was here on that day." in words_on(app)
    assert "Nothing fits" not in words_on(app)
    assert "add-crew" not in keys_on(app)


def test_where_nothing_fits_what_is_chosen_less_is_to_be_chosen(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", standing="stood down")
    assert "Nothing fits what is chosen." in words_on(app)


def test_a_site_with_nobody_leads_the_coordinator_to_people(app: AppTest, site: Desk) -> None:
    for hand in rig.PLACES:
        if hand != rig.COORDINATOR:
            joined = next(each for each in site.store.records(kinds=("joined",)) if each.hand == hand)
            voiding.void(replace(site, actor=console()), joined.record_id, "made up")
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix")
    said = words_on(app)
    assert "Nobody is here yet." in said
    assert "Nothing fits" not in said

    app.button("add-crew").click().run()

    assert app.title[0].value == "People"


def test_each_file_is_named_by_the_day_of_its_figures(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    later = site.today + timedelta(days=400)
    go(app, "matrix", day=later.isoformat())
    labels = [each.proto.label for each in app.get("download_button")]
    day = plain(wording.day(later, cached.all_words()["en"]))
    assert labels == [f"Save {day} as XLSX", f"Save {day} as CSV", f"Poster of {day} to print (PDF, A3)"]


def test_the_totals_say_when_one_person_is_in_more_than_one(here: Here) -> None:
    matrix = look.matrix(here.desk)
    late = cell("ray", standing=Standing.STOOD_DOWN, late=True)
    apart = [late, cell("luis", competency="set-slips")]
    said = matrix_rows.totals(here, matrix, apart, Filters())
    assert said[-1] == "some count twice"
    assert "some count twice" not in matrix_rows.totals(here, matrix, [replace(late, late=False)], Filters())


def test_with_nobody_there_no_totals_are_said(here: Here) -> None:
    matrix = look.matrix(here.desk)
    assert matrix_rows.totals(here, matrix, [], Filters(crew="nowhere")) == ["**0** people"]


def test_a_tap_on_a_cell_opens_its_evidence_on_that_day(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parts, "matrix_table", once(("ray", "set-slips")))
    signed_in(app, site, rig.COORDINATOR)
    day = (site.today + timedelta(days=30)).isoformat()
    go(app, "matrix", day=day)
    assert app.title[0].value == "Setting the slips"
    assert "Ray Dunn" in words_on(app)
    assert at(app, "day") == day


def test_a_file_holds_exactly_what_is_shown(here: Here, site: Desk) -> None:
    bring(site, *(f"ray,calls-signals,{part},{site.today},pass,Sam Ito," for part in ("knowledge", "practical")))
    matrix = look.matrix(here.desk)
    kept = matrix_filters.cells_in(matrix.cells(), Filters(position="floorhand", standing="current"))
    shown = matrix_filters.said(here, Filters(position="floorhand", standing="current"))
    made = matrix_export.rendered(here, kept, look.names(here.desk), site.today, shown, "csv")().getvalue()
    rows = list(csv.DictReader(io.StringIO(made.decode("utf-8-sig"))))
    assert [(row["hand_id"], row["competency"], row["standing"]) for row in rows] == [
        ("ray", "calls-signals", "current")
    ]
    assert shown == "Floorhand; Current"
    assert matrix_export.file_name(here, DAY, "xlsx") == "matrix-rig-1-2026-03-02.xlsx"


def test_what_a_choice_leaves_out_of_a_row_is_not_taken_for_not_needed(here: Here) -> None:
    cells = [cell(), cell(competency="pull-slips", standing=Standing.DUE)]
    kept = [each for each in cells if each.standing is Standing.DUE]
    [row] = matrix_rows.rows(here, DAY, cells, kept, ["set-slips", "pull-slips", "hand-placement"], {"h1": "Hand"})
    assert [square.level for square in row.cells] == ["left-out", "due", ""]


def test_a_late_cell_is_marked_whatever_its_standing(here: Here) -> None:
    late = cell(standing=Standing.NOT_STARTED, late=True, due=DAY - timedelta(days=3))
    [row] = matrix_rows.rows(here, DAY, [late], [late], ["set-slips"], {})
    level = {each.id: each for each in matrix_rows.levels(here.words)}[row.cells[0].level]
    assert (level.word, "late" in level.tone, row.cells[0].note) == ("Not started", True, "was due Feb 27")


def test_somebody_erased_is_named_as_such(here: Here) -> None:
    [row] = matrix_rows.rows(here, DAY, [cell()], [cell()], ["set-slips"], {})
    assert row.name == "erased person"


def test_the_year_stands_with_a_day_in_another_year(here: Here) -> None:
    far = cell(due=DAY + timedelta(days=400))
    [row] = matrix_rows.rows(here, DAY, [far], [far], ["set-slips"], {})
    assert row.cells[0].note == "due Apr 6, 2027"
    shown_in = date(2026, 12, 31)
    next_day = cell(due=date(2027, 1, 1))
    assert matrix_rows.note(here, shown_in, next_day) == "due Jan 1, 2027"
    assert matrix_rows.note(here, date(2027, 6, 1), next_day) == "due Jan 1"


def test_a_due_date_with_no_working_day_left_says_so(here: Here) -> None:
    assert matrix_rows.note(here, DAY, cell(do_by="arrange", due=DAY)) == "due Mar 2, no working day before"


def test_the_overview_says_its_numbers_in_words(here: Here) -> None:
    cells = [cell("h1"), cell("h2"), cell("h3", standing=Standing.OVERDUE, late=True)]
    chart = charts.standings({"Setting <the> slips": cells}, "How", here.words)
    assert chart.alt == "How. Setting <the> slips: 2 Current, 1 Overdue."
    assert [sum(bar.x) for bar in chart.figure.data] == [2, 1]
    assert chart.figure.data[0].y == ("Setting &lt;the&gt; slips",)


def test_the_due_dates_have_one_mark_each_and_late_ones_stand_before_the_day(here: Here) -> None:
    crew = Rotation(date(2026, 3, 1), 14, 14)
    cells = [
        cell("h1", due=DAY + timedelta(days=5)),
        cell("h2", due=DAY + timedelta(days=5)),
        cell("h3", due=DAY + timedelta(days=charts.AHEAD + 1)),
        cell("h4", due=DAY + timedelta(days=20), do_by="arrange"),
        *(cell(f"late{n}", due=DAY - timedelta(days=200), late=True) for n in range(40)),
    ]
    chart = charts.due_dates([charts.Lane("Day crew", crew, cells)], DAY, {"h1": "Ana"}, "Due", here.words)
    marks = {trace.name: list(zip(trace.x, trace.y, strict=True)) for trace in chart.figure.data}
    assert len(marks["Current, and due on that day"]) == len(set(marks["Current, and due on that day"])) == 2
    assert len(marks["Due, no working day left before it"]) == 1
    assert len(marks["Late"]) == 40
    first = chart.figure.layout.xaxis.range[0]
    assert all(first < x < DAY for x, _ in marks["Late"])
    assert "40 late, 3 due, 1 of these with no working day left before it." in chart.alt
    assert "The first on Mar 7, 2026." in chart.alt


def test_hitches_are_shaded_without_the_day_of_crew_change(here: Here) -> None:
    crew = Rotation(date(2026, 2, 28), 14, 14)
    chart = charts.due_dates([charts.Lane("Day crew", crew, [])], DAY, {}, "Due", here.words)
    shaded = [(shape.x0, shape.x1) for shape in chart.figure.layout.shapes if shape.type == "rect"]
    # To the end of the last working day: 12 March, the thirteenth of the hitch.
    assert shaded[0] == (DAY, date(2026, 3, 13))
    assert shaded[1] == (date(2026, 3, 28), date(2026, 4, 10))


def test_a_crew_without_hitches_is_shaded_all_the_way(here: Here) -> None:
    chart = charts.due_dates([charts.Lane("Others", None, [])], DAY, {}, "Due", here.words)
    [band] = [shape for shape in chart.figure.layout.shapes if shape.type == "rect"]
    assert (band.x0, band.x1) == (DAY, DAY + timedelta(days=charts.AHEAD + 1))


def test_the_next_person_does_not_get_the_choices_of_the_one_before(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix", position="motorhand")
    app.session_state["trainer"] = replace(held(app), owner="somebody-else")
    app.run()
    assert "position" not in app.query_params


def test_what_is_allowed_for_a_while_is_noted_in_its_cell(here: Here) -> None:
    matrix = look.matrix(here.desk)
    cell = matrix.cell("ray", "set-slips")
    assert cell is not None
    until = here.desk.today + timedelta(days=2)
    given = Given(
        "record", "ray", "set-slips", here.desk.today, "hitch", until, "Beside Bill", "Vic Lund", "Pat Vance", RUNS
    )
    notes = [
        square.note
        for each in (given, replace(given, state=ENDED))
        for row in matrix_rows.rows(here, here.desk.today, [cell], [cell], ["set-slips"], {}, [each])
        for square in row.cells
    ]
    day = wording.short_day(until, here.words)
    assert [note.rpartition(" · ")[2] for note in notes] == [f"allowed to {day}", "no longer allowed"]


def test_the_coordinator_has_the_records_checked_and_is_told_in_words(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix")
    app.button("check-records-0").click().run()
    count = site.store.heads()[0].seq
    assert f"All {count} records fit." in words_on(app)

    fault = Fault("hash", "rig-1", 3, "record")
    monkeypatch.setattr(look, "verify", lambda _desk: [fault, fault])
    app.run()
    app.button("check-records-1").click().run()
    said = words_on(app)
    assert "2 things do not fit:" in said
    assert r"rig\-1, number 3: this record was changed after it was written" in said
    assert "restore the last good backup" in said


def test_sign_offs_that_want_another_pair_of_eyes_are_listed_when_asked_for(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    day = site.today
    found = [Mark("mutual", name, ("ana", "bill"), day) for name in ("set-slips", "hand-placement")] + [
        Mark("one-observer", "set-slips", ("ana", "bill", "ray"), day - timedelta(days=1))
    ]
    monkeypatch.setattr(signing_off, "marks", lambda _desk: found)
    signed_in(app, site, rig.COORDINATOR)
    go(app, "matrix")
    assert "another pair of eyes" not in words_on(app).lower()
    app.button("marks-False").click().run()
    said = words_on(app)
    assert "signed each other off within 30 days" in said
    assert "Hand placement, Setting the slips." in said
    assert "Bill Hart → Ray Dunn" in said
    assert said.index("signed each other") < said.index("watched only by the one before")
    app.button("marks-True").click().run()
    assert "signed each other" not in words_on(app)


def test_a_driller_has_no_records_to_check(app: AppTest, site: Desk) -> None:
    signed_in(app, site, "bill")
    go(app, "matrix")
    assert not {"check-records-0", "marks-False"} & keys_on(app)
