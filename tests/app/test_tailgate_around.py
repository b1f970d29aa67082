"""Round a talk: the way out in the middle of it, what Today says of an open one, and the result found again."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, signed_in
from tests.app.learning import of
from tests.app.office_pages import go, keys_on, words_on
from tests.app.test_tailgate import TOPIC, answered, at_the_end, begun, desk, made, mine
from tests.e2e import rig
from trainer.actions import signing_in, tailgating, vouching
from trainer.actions.desk import Desk
from trainer.core.tailgate import THROUGHOUT

__all__ = ["desk", "made"]


def test_in_the_middle_of_a_talk_the_way_out_asks_first(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    meeting = answered(desk, begun(desk, token), "ray")
    app.run()
    go(app, "tailgate")
    app.button("sign-out").click().run()
    assert "Sign out in the middle of the tailgate?" in app.warning[0].value
    assert signing_in.who(desk, token) is not None
    app.button("sign-out-no").click().run()
    assert not app.warning
    app.button("sign-out").click().run()
    # Whoever goes on with the talk has answered too.
    app.button("call-luis").click().run()
    assert not app.warning
    app.button("sign-out").click().run()
    app.button("sign-out-yes").click().run()
    assert signing_in.who(desk, token) is None
    assert mine(desk).has_answered("ray")
    assert mine(desk).tailgate_id == meeting.tailgate_id


def test_before_a_talk_begins_the_way_out_asks_nothing(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    tailgating.open_meeting(of(desk, "bill"), TOPIC, "day-1")
    app.run()
    go(app, "tailgate").button("sign-out").click().run()
    assert signing_in.who(desk, token) is None


def test_today_says_that_his_own_talk_is_open_and_leads_to_it(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    assert "tailgate-go-on" not in keys_on(go(app, "today"))
    opened = tailgating.open_meeting(of(desk, "bill"), TOPIC, "day-1")
    assert "not begun it yet: **Hand placement**" in words_on(go(app, "today"))
    tailgating.begin(of(desk, "bill"), opened.tailgate_id, "the tablet that fell into the mud")
    assert "still open: **Hand placement**, Mar 3, 2026." in words_on(go(app, "today"))
    app.button("tailgate-go-on").click().run()
    assert app.title[0].value == "A tailgate is open"


def test_the_result_says_why_it_is_attendance_the_job_and_what_to_do_when_nobody_passed(
    app: AppTest, desk: Desk
) -> None:
    bill = of(desk, "bill")
    meeting = at_the_end(desk, answered(desk, begun(desk, "x"), "ray"))
    vouching.mark(bill, meeting.tailgate_id, "ray", "late")
    vouching.mark(bill, meeting.tailgate_id, "luis", THROUGHOUT)
    tailgating.describe(bill, meeting.tailgate_id, job="JSA *9*", number="", revision="", header="")
    vouching.vouch(bill, meeting.tailgate_id, rig.PINS["bill"], "tests")
    signed_in(app, desk, "bill")
    app.run()
    said = words_on(go(app, "tailgate", done=meeting.tailgate_id))
    assert "**Ray Dunn**: came late" in said
    assert "**Luis Ortega**: not all answered" in said
    assert "Job (JSA) or permit number: JSA \\*9\\*" in said
    assert app.info[0].value.startswith("Nobody passed:")
    assert [each.label.replace("\\", "") for each in app.get("download_button")] == ["Print this talk (PDF)"]


def test_a_talk_is_found_again_by_who_held_it_and_by_nobody_else(app: AppTest, desk: Desk) -> None:
    meeting = at_the_end(desk, answered(desk, begun(desk, "x"), "ray"))
    vouching.vouch(of(desk, "bill"), meeting.tailgate_id, rig.PINS["bill"], "tests")
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate").button(f"past-{meeting.tailgate_id}").click().run()
    assert app.title[0].value == "The tailgate is on record"
    assert "**Ray Dunn**" in words_on(app)
    assert not app.info
    office = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
    signed_in(office, desk, rig.COORDINATOR)
    office.run()
    assert f"past-{meeting.tailgate_id}" not in keys_on(go(office, "tailgate"))
