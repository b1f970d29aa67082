"""A talk held on paper: its day and tour, refused while that has not begun, put right, thrown away."""

from __future__ import annotations

from datetime import date

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.learning import of
from tests.app.office_pages import at as step_at
from tests.app.office_pages import go, words_on
from tests.app.test_tailgate import TOPIC, desk, made, mine, pins, written
from tests.e2e import rig
from trainer.actions import tailgating, vouching
from trainer.actions.desk import Desk
from trainer.actions.meetings import Meeting
from trainer.core.records import Tailgate
from trainer.core.tailgate import THROUGHOUT

__all__ = ["desk", "made"]


def test_paper_is_entered_with_day_tour_and_who_had_all_right(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate", paper="1")
    assert app.button("paper-go-on").disabled
    app.selectbox("paper-topic").select(TOPIC).run()
    assert app.date_input[0].value == date(2026, 3, 3)
    app.selectbox("paper-tour-day-1").select("18:00-06:00").run()
    # At nine in the morning the last night tour is the one that began yesterday.
    assert app.date_input[0].value == date(2026, 3, 2)
    app.selectbox("paper-tour-day-1").select("06:00-18:00").run()
    app.button("paper-go-on").click().run()
    meeting = mine(desk)
    assert (meeting.held, meeting.tour) == ("2026-03-03", "06:00-18:00")
    app.segmented_control(f"how-{meeting.tailgate_id}-ray").select("passed").run()
    pins(monkeypatch, rig.PINS["bill"])
    app.run()
    (_, ray) = written(desk)
    assert (ray.hand, ray.day) == ("ray", date(2026, 3, 3))
    assert isinstance(ray.body, Tailgate)
    assert (ray.body.passed, ray.body.paper) == (True, True)


def test_a_tour_that_has_not_begun_is_refused_on_the_page_and_what_was_chosen_stays(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate", paper="1")
    app.selectbox("paper-topic").select(TOPIC).run()
    app.selectbox("paper-tour-day-1").select("18:00-06:00").run()
    app.date_input[0].set_value(date(2026, 3, 3)).run()
    app.button("paper-go-on").click().run()
    assert "The tour 18:00-06:00 of 2026-03-03 has not begun yet." in app.error[0].value
    assert "the last such tour began on 2026-03-02" in app.error[0].value
    assert tailgating.mine(of(desk, "bill")) is None
    assert (app.selectbox("paper-topic").value, app.date_input[0].value) == (TOPIC, date(2026, 3, 3))
    # The day that was chosen stays when the tour is changed.
    app.selectbox("paper-tour-day-1").select("06:00-18:00").run()
    assert app.date_input[0].value == date(2026, 3, 3)
    app.button("paper-go-on").click().run()
    assert (mine(desk).held, mine(desk).tour) == ("2026-03-03", "06:00-18:00")
    assert step_at(app, "day") == ""


def on_paper(site: Desk) -> Meeting:
    """A sheet of paper of the day crew, Ray marked as passed on it."""
    bill = of(site, "bill")
    opened = tailgating.open_paper(bill, TOPIC, "day-1", date(2026, 3, 3), "06:00-18:00")
    return vouching.mark(bill, opened.tailgate_id, "ray", THROUGHOUT, passed=True)


def test_a_sheet_of_paper_is_put_right_and_keeps_its_marks(app: AppTest, desk: Desk) -> None:
    meeting = on_paper(desk)
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate")
    app.button("paper-fix").click().run()
    assert app.title[0].value == "Correct the sheet"
    assert (app.selectbox("paper-topic").value, app.date_input[0].value) == (TOPIC, date(2026, 3, 3))
    app.selectbox("paper-topic").select("set-slips").run()
    app.selectbox("tailgate-crew").select("night-1").run()
    assert app.selectbox("paper-tour-night-1").value == "18:00-06:00"
    app.selectbox("paper-tour-night-1").select("06:00-18:00").run()
    app.button("paper-go-on").click().run()
    assert app.title[0].value == "Who was there?"
    now = mine(desk)
    assert (now.tailgate_id, now.competency, now.crew, now.held, now.tour) == (
        meeting.tailgate_id, "set-slips", "night-1", "2026-03-03", "06:00-18:00",
    )  # fmt: skip
    assert now.attendee("ray") == meeting.attendee("ray")
    assert [each.hand for each in now.people] == ["ray", "ana", "sam"]


def test_a_sheet_of_paper_is_thrown_away_only_when_that_is_said_twice(app: AppTest, desk: Desk) -> None:
    on_paper(desk)
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate")
    app.button("throw-paper").click().run()
    assert app.warning[0].value == "What is marked on it is gone then, and nothing is written."
    app.button("throw-no").click().run()
    assert mine(desk).present
    app.button("throw-paper").click().run()
    app.button("throw-yes").click().run()
    assert tailgating.mine(of(desk, "bill")) is None
    assert app.title[0].value == "Tailgate"


def test_today_says_that_a_sheet_of_paper_is_not_finished(app: AppTest, desk: Desk) -> None:
    on_paper(desk)
    signed_in(app, desk, "bill")
    app.run()
    assert "a tailgate on paper: **Hand placement**, Mar 3, 2026." in words_on(go(app, "today"))
    app.button("tailgate-go-on").click().run()
    assert app.title[0].value == "Who was there?"
