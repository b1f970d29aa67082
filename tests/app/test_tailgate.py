"""The tailgate page: a topic with its reasons, the locked tablet, a tap an answer, who was there, the driller's PIN."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, held, signed_in
from tests.app.crew_pages import Made, copied, make
from tests.app.learning import START, Taps, at, of
from tests.app.office_pages import at as step_at
from tests.app.office_pages import go, keys_on, words_on
from tests.e2e import rig
from trainer.actions import signing_in, tailgating, vouching
from trainer.actions.desk import Desk
from trainer.actions.meetings import ANSWERS, ASK, SIGN, Meeting, items_of
from trainer.core.marking import right_answer
from trainer.core.records import Record, Tailgate
from trainer.core.shown import to_handles
from trainer.core.tailgate import THROUGHOUT, drawn_for
from trainer.web import tailgate_round, tailgate_way
from trainer.web.session import Session

TOPIC = "hand-placement"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A small rig with content as it is."""
    return make(tmp_path_factory.mktemp("tailgate") / "data")


@pytest.fixture
def desk(made: Made, data: object, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:  # type: ignore[arg-type]
        yield site


def right(site: Desk, meeting: Meeting, hand: str) -> list[str]:
    """The handles of the three right answers, as ``hand`` sees them."""
    items = items_of(site.catalogue, meeting)
    assert items is not None
    return [
        str(to_handles(item.task, drawn_for(item, meeting.tailgate_id, hand).options, right_answer(item.task, {}, {})))
        for item in items
    ]


def begun(site: Desk, token: str, who: str = "bill") -> Meeting:
    """A tailgate at its questions, going round on that sign-in session."""
    bill = of(site, who)
    opened = tailgating.open_meeting(bill, TOPIC, "day-1")
    tailgating.begin(bill, opened.tailgate_id, token)
    return tailgating.turn(bill, opened.tailgate_id, ASK)


def answered(site: Desk, meeting: Meeting, hand: str) -> Meeting:
    """The same after ``hand`` had all right."""
    bill, items = of(site, "bill"), items_of(site.catalogue, meeting)
    assert items is not None
    tailgating.call_up(bill, meeting.tailgate_id, hand)
    for item, handle in zip(items, right(site, meeting, hand), strict=True):
        meeting = tailgating.answer(bill, meeting.tailgate_id, hand, item.id, handle, "en")
    return meeting


def at_the_end(site: Desk, meeting: Meeting) -> Meeting:
    """The same after the answers were looked at."""
    for step in (ANSWERS, SIGN):
        meeting = tailgating.turn(of(site, "bill"), meeting.tailgate_id, step)
    return meeting


def pins(monkeypatch: pytest.MonkeyPatch, *typed: str) -> None:
    """Have the keypads of the next runs give these, one a run, then nothing."""
    waiting = list(typed)

    def keypad(*_: object, **__: object) -> str | None:
        return waiting.pop(0) if waiting else None

    monkeypatch.setattr(tailgate_way, "keypad", keypad)


def written(site: Desk) -> list[Record]:
    """Every tailgate record."""
    return list(site.store.records(kinds=("tailgate",)))


def mine(site: Desk) -> Meeting:
    """Bill's open tailgate."""
    found = tailgating.mine(of(site, "bill"))
    assert found is not None
    return found


def test_a_hand_sees_no_tailgate_page_and_a_driller_and_the_office_do(app: AppTest, desk: Desk) -> None:
    for hand, sees in (("ray", False), ("bill", True), (rig.COORDINATOR, True)):
        app = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
        signed_in(app, desk, hand)
        app.run()
        assert (go(app, "tailgate").title[0].value == "Tailgate") is sees


def test_todays_work_and_another_topic_are_a_tap_each(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    go(app, "tailgate")
    app.pills("tailgate-work").select("run-in").run()
    assert step_at(app, "work") == "run-in"
    assert "Fits today's work: Running in." in words_on(app)
    app.selectbox("tailgate-topic").select("set-slips").run()
    app.button("take-other").click().run()
    assert mine(desk).competency == "set-slips"
    assert app.title[0].value == "Setting the slips"


def test_the_form_is_kept_as_it_is_typed_and_the_talk_begins_in_large_points(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    opened = tailgating.open_meeting(of(desk, "bill"), TOPIC, "day-1")
    app.run()
    go(app, "tailgate")
    app.text_input(f"job-{opened.tailgate_id}").input("JSA 118").run()
    assert mine(desk).job == "JSA 118"
    app.button("begin").click().run()
    assert "Point 1 of 3" in words_on(app)
    for number in (0, 1, 2):
        app.button(f"next-{number}").click().run()
    assert app.title[0].value == "Who has the tablet?"
    assert {"call-luis", "call-ray"} <= keys_on(app)
    assert "call-bill" not in keys_on(app)


def test_while_it_goes_round_the_tablet_shows_nothing_else_and_the_session_is_held(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    app.run()
    begun(desk, token)
    for page in ("matrix", "card", "today"):
        assert go(app, page).title[0].value == "Who has the tablet?"
    assert held(app).values["hold"] == "yes"


def test_another_device_of_the_driller_is_not_locked_and_may_take_it_over(app: AppTest, desk: Desk) -> None:
    begun(desk, "the tablet that fell into the mud")
    token = signed_in(app, desk, "bill")
    app.run()
    assert "call-ray" not in keys_on(app)
    assert go(app, "tailgate").title[0].value == "A tailgate is open"
    assert "throw" not in keys_on(app)
    app.button("go-on").click().run()
    assert app.title[0].value == "Who has the tablet?"
    assert tailgating.is_locked(of(desk, "bill"), token)


def test_a_name_and_three_taps_answer_and_each_is_kept_before_the_next_shows(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = signed_in(app, desk, "bill")
    meeting = begun(desk, token)
    taps = Taps()
    monkeypatch.setattr(tailgate_round, "draw", taps.draw)
    app.run()
    go(app, "tailgate")
    app.button("call-luis").click().run()
    # Luis reads Spanish, whatever the driller reads.
    assert "pregunta 1 de 3" in words_on(app)
    for number, handle in enumerate(right(desk, meeting, "luis"), start=1):
        taps.waiting.append(handle)
        app.run()
        person = mine(desk).attendee("luis")
        assert person is not None
        assert len(person.answers) == number
    assert "Thank you, Luis Ortega. Pass the tablet on." in words_on(app)
    assert "call-luis" not in keys_on(app)
    # What was sent to the browser never tells the key.
    assert all(choice.handle.startswith("o") for task, *_ in taps.drawn for choice in task.choices)


def test_nobody_here_yet_leaves_the_answers_hidden_and_the_missing_are_named(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    meeting = begun(desk, token)
    app.run()
    assert "show-answers" not in keys_on(go(app, "tailgate"))
    answered(desk, meeting, "ray")
    assert "Not answered: Luis Ortega." in words_on(go(app, "tailgate"))
    app.button("show-answers").click().run()
    assert "**1 of 1** had it right." in words_on(app)
    assert "Ray Dunn" not in words_on(app)


def test_a_last_answer_is_taken_back_and_a_wrong_name_too(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    answered(desk, begun(desk, token), "ray")
    app.run()
    go(app, "tailgate")
    app.button("take-back-3").click().run()
    assert "question 3 of 3" in words_on(app)
    app.button("one-back-2").click().run()
    app.button("one-back-1").click().run()
    app.button("not-me").click().run()
    assert app.title[0].value == "Who has the tablet?"


def test_the_language_is_changed_for_the_one_who_answers_alone(app: AppTest, desk: Desk) -> None:
    token = signed_in(app, desk, "bill")
    meeting = begun(desk, token)
    tailgating.call_up(of(desk, "bill"), meeting.tailgate_id, "ray")
    app.run()
    go(app, "tailgate")
    app.button("ask-in-es").click().run()
    assert "pregunta 1 de 3" in words_on(app)
    assert app.button("sign-out").label == "Sign out"


def test_the_driller_marks_what_is_different_and_vouches_once_with_his_pin(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = signed_in(app, desk, "bill")
    meeting = begun(desk, token)
    for hand in ("ray", "luis"):
        meeting = answered(desk, meeting, hand)
    at_the_end(desk, meeting)
    app.run()
    go(app, "tailgate")
    assert "Passed: 2. Attendance: 0. Guests: 0." in words_on(app)
    app.segmented_control(f"how-{meeting.tailgate_id}-luis").select("late").run()
    app.text_input("guest-name-0").input(" ")
    app.button("add-guest").click().run()
    assert [each.value for each in app.error] == ["Nobody was added: write name and company first."]
    app.text_input("guest-name-0").input("Ike Farrow")
    app.button("add-guest").click().run()
    assert not app.error
    assert "Passed: 1. Attendance: 1. Guests: 1." in words_on(app)

    pins(monkeypatch, "111222")
    app.run()
    assert written(desk) == []
    assert held(app).values["tailgate-problem"] == "That is not the PIN of Bill Hart. Try again; nothing is lost."

    pins(monkeypatch, rig.PINS["bill"])
    app.run()
    assert app.title[0].value == "The tailgate is on record"
    bodies = {each.hand: each.body for each in written(desk) if isinstance(each.body, Tailgate)}
    assert {hand: (body.present, body.passed) for hand, body in bodies.items()} == {
        "bill": ("led", False), "luis": ("late", False), "ray": (THROUGHOUT, True),
    }  # fmt: skip
    assert "Ike Farrow" in words_on(app)
    assert "Bill Hart held the talk." in words_on(app)
    assert [each.value for each in app.header] == ["1 passed", "1 attended", "1 guest"]
    assert rig.PINS["bill"] not in repr(held(app))
    assert go(app, "matrix").title[0].value != "The tailgate is on record"
    assert held(app).values["hold"] == ""


def test_laying_it_down_takes_the_pin_and_then_it_may_be_thrown_away(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = signed_in(app, desk, "bill")
    answered(desk, begun(desk, token), "ray")
    app.run()
    go(app, "tailgate")
    app.button("lay-down-ask").click().run()
    assert app.title[0].value == "Stop here for now"
    pins(monkeypatch, rig.PINS["bill"])
    app.run()
    assert app.title[0].value == "A tailgate is open"
    app.button("throw").click().run()
    app.button("throw-yes").click().run()
    assert tailgating.mine(of(desk, "bill")) is None
    assert written(desk) == []


def test_a_killed_server_comes_back_where_it_was(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    token = signed_in(app, desk, "bill")
    meeting = begun(desk, token)
    tailgating.call_up(of(desk, "bill"), meeting.tailgate_id, "ray")
    items = items_of(desk.catalogue, meeting)
    assert items is not None
    tailgating.answer(of(desk, "bill"), meeting.tailgate_id, "ray", items[0].id, "o1", "en")
    # Another process knows nothing but the session in the cookie; here that is put in its place.
    fresh = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
    fresh.session_state["trainer"] = Session(token=token, owner="bill")
    fresh.run()
    assert "question 2 of 3" in words_on(fresh)
    assert "**Ray Dunn**" in words_on(fresh)


def test_a_record_of_somebody_else_is_not_told(app: AppTest, desk: Desk) -> None:
    meeting = at_the_end(desk, answered(desk, begun(desk, "x"), "ray"))
    vouching.vouch(of(desk, "bill"), meeting.tailgate_id, rig.PINS["bill"], "tests")
    signed_in(app, desk, rig.COORDINATOR)
    app.run()
    go(app, "tailgate", done=meeting.tailgate_id)
    assert "There is no record" in app.error[0].value


def test_an_open_tailgate_outlives_ten_quiet_minutes_and_not_a_whole_tour(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = signed_in(app, desk, "bill")
    begun(desk, token)
    app.run()
    # The heartbeat is what counts as a tap: it runs with every full run too.
    for minutes in range(8, 60, 8):
        at(monkeypatch, START + timedelta(minutes=minutes))
        app.run()
        assert app.title[0].value == "Who has the tablet?"
    at(monkeypatch, START + timedelta(hours=12, minutes=1))
    app.run()
    assert signing_in.who(desk, token) is None
