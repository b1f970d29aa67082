"""The gate before every page, the first page where no site is, and the words round both."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import held, signed_in
from tests.e2e import rig
from trainer.actions import signing_in
from trainer.actions.desk import Desk
from trainer.errors import StoreUnavailable
from trainer.web import door, session
from trainer.web.views import pin_steps


def words_on(app: AppTest) -> str:
    """Everything readable on the page."""
    shown = [*app.title, *app.markdown, *app.info, *app.error, *app.subheader]
    return "\n".join([*(each.value for each in shown), *(button.label for button in app.button)])


def test_nobody_signed_in_sees_only_crews(app: AppTest, site: Desk) -> None:
    app.run()

    assert app.title[0].value == "Which crew?"
    assert {"crew-day-1", "crew-night-1", "crew-"} <= {button.key for button in app.button}
    assert not app.exception


def test_a_crew_leads_to_its_names_and_a_name_to_the_keypad(app: AppTest, site: Desk) -> None:
    app.run()
    app.button("crew-night-1").click().run()

    assert {"name-ana", "name-sam"} <= {button.key for button in app.button}
    assert "name-ray" not in {button.key for button in app.button}

    app.button("name-sam").click().run()

    # Markdown in a name stays as it is written.
    assert app.title[0].value == r"Hello, Sam \*Reed\* \<b\>"
    assert held(app).hand == "sam"


def enter(monkeypatch: pytest.MonkeyPatch, *typed: str) -> None:
    """Have the keypads of the next runs give these, one a run, then nothing."""
    waiting = list(typed)

    def keypad(*_: object, **__: object) -> str | None:
        return waiting.pop(0) if waiting else None

    monkeypatch.setattr(pin_steps, "keypad", keypad)


def at_the_keypad(app: AppTest, hand: str, step: str = "pin") -> AppTest:
    """The sign-in page with that hand chosen."""
    app.session_state["trainer"] = session.Session(hand=hand, step=step)
    return app


@pytest.mark.parametrize(("hand", "greeted"), [("luis", "Hola, Luis Ortega"), ("ray", "Hello, Ray Dunn")])
def test_whoever_has_chosen_a_name_is_greeted_in_its_language(
    app: AppTest, site: Desk, hand: str, greeted: str
) -> None:
    at_the_keypad(app, hand).run()

    assert app.title[0].value == greeted


def test_a_language_chosen_on_screen_goes_before_that_of_the_name(app: AppTest, site: Desk) -> None:
    app.session_state["trainer"] = session.Session(hand="luis", step="pin", language="en")
    app.run()

    assert app.title[0].value == "Hello, Luis Ortega"


def test_a_right_pin_opens_the_first_page(app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    enter(monkeypatch, rig.PINS["ray"])
    at_the_keypad(app, "ray").run()

    assert held(app).owner == "ray"
    assert "Ray Dunn" in words_on(app)
    assert app.button("sign-out").label == "Sign out"


def test_a_wrong_pin_says_so_and_stays(app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    enter(monkeypatch, "111222")
    at_the_keypad(app, "ray").run()

    assert held(app).problem == "That name and PIN do not match. Try again."
    assert held(app).owner == ""


def test_a_code_and_the_same_new_pin_twice_sign_in(app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    enter(monkeypatch, signing_in.new_code(site, "sam"), "583920", "583920")
    at_the_keypad(app, "sam", "code").run()

    assert held(app).owner == "sam"
    assert not app.error


@pytest.mark.parametrize(
    ("typed", "step", "said"),
    [
        (("00000000", "583920", "583920"), "code", "That code does not fit"),
        (("00000000", "123456"), "new", "easy to guess"),
        (("00000000", "583920", "583921"), "new", "not the same"),
    ],
)
def test_a_first_pin_that_cannot_be_goes_back_to_its_step(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch, typed: tuple[str, ...], step: str, said: str
) -> None:
    enter(monkeypatch, *typed)
    at_the_keypad(app, "sam", "code").run()

    assert held(app).step == step
    assert said in held(app).problem
    assert held(app).first == ""


def test_a_new_pin_is_not_kept_between_its_two_entries(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    enter(monkeypatch, "00000000", "583920")
    at_the_keypad(app, "sam", "code").run()

    assert held(app).step == "again"
    assert "583920" not in repr(held(app))


def test_sign_out_leaves_nothing_of_the_person(app: AppTest, site: Desk) -> None:
    token = signed_in(app, site, "ray")
    app.query_params["step"] = "4"
    app.run()
    app.session_state["something-of-a-view"] = "ray's"
    app.button("sign-out").click().run()

    assert held(app) == session.Session(leaving=True, notice="sign_in.signed-out")
    assert "something-of-a-view" not in app.session_state
    assert dict(app.query_params) == {}
    assert signing_in.who(site, token) is None
    assert "Ray Dunn" not in words_on(app)


def test_a_session_ended_elsewhere_shows_the_sign_in_page_and_keeps_the_place(app: AppTest, site: Desk) -> None:
    token = signed_in(app, site, "ray")
    app.run()
    app.switch_page("views/card.py")
    app.query_params["step"] = "4"
    app.run()
    signing_in.sign_out(site, token)
    app.run()

    assert "You were signed out because nobody tapped" in words_on(app)
    assert held(app).token == ""
    # The same person finds the place again; the owner is kept so that nobody else does.
    assert held(app).owner == "ray"
    assert app.query_params["step"] == "4"


def test_the_next_person_gets_no_place_of_the_one_before(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app.session_state["trainer"] = session.Session(owner="ray", hand="luis", step="pin", values={"a": "ray's"})
    app.query_params["step"] = "4"
    enter(monkeypatch, rig.PINS["luis"])
    app.run()

    assert held(app).owner == "luis"
    assert "ray's" not in held(app).values.values()
    assert dict(app.query_params) == {}


def test_a_person_reads_the_app_in_their_own_language_until_they_choose_another(app: AppTest, site: Desk) -> None:
    signed_in(app, site, "luis")
    app.run()

    assert app.button("sign-out").label == "Salir"

    app.button("speak-en").click().run()

    assert app.button("sign-out").label == "Sign out"


def test_without_a_site_the_first_page_asks_what_init_asks_and_makes_it(app: AppTest, data: Path) -> None:
    app.run()
    assert app.title[0].value == "A new site"

    app.text_input("set-up-site").input("rig-9")
    app.selectbox("set-up-zone").select("America/Chicago")
    app.text_input("set-up-pin").input("482915")
    app.text_input("set-up-again").input("482916")
    app.button("set-up-go").click().run()
    assert "not the same" in app.error[0].value
    assert not data.exists()

    app.text_input("set-up-again").input("482915")
    app.button("set-up-go").click().run()

    assert app.title[0].value == "Who are you?"
    assert app.button("name-coordinator").label == "Coordinator"


def test_a_store_out_of_reach_is_said_in_words(app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def out_of_reach(**_: object) -> None:
        raise StoreUnavailable("store-unavailable", folder="here", why="locked")

    monkeypatch.setattr(door, "look_in", out_of_reach)
    app.run()

    assert app.error
    assert not app.exception


def test_a_button_that_stays_meets_only_one_of_two_quick_presses(data: Path) -> None:
    def page() -> None:
        import streamlit as st

        from trainer.web.press import press

        if press("Again", "again", stays=True):
            st.session_state["count"] = st.session_state.get("count", 0) + 1

    app = AppTest.from_function(page).run()
    app.button("again-0").click().run()
    app.run()

    # Whatever the second half of a double click still says of the first button, that one is gone.
    assert [button.key for button in app.button] == ["again-1"]
    assert app.session_state["count"] == 1


def test_the_record_id_of_a_form_stays_until_its_record_is_written() -> None:
    def page() -> None:
        import streamlit as st

        from trainer.web import session

        st.text(session.form_id("talk", "id-1"))
        st.text(session.form_id("talk", "id-2"))
        session.done("talk")
        st.text(session.form_id("talk", "id-3"))

    app = AppTest.from_function(page).run()

    assert [each.value for each in app.text] == ["id-1", "id-1", "id-3"]


def test_a_tab_of_another_owner_is_emptied_before_anything_is_drawn(app: AppTest, site: Desk) -> None:
    signed_in(app, site, "luis")
    app.session_state["trainer"] = replace(held(app), owner="ray", values={"draft": "ray's"})
    app.run()

    assert held(app).owner == "luis"
    assert "ray's" not in held(app).values.values()


def test_a_page_that_breaks_says_a_number_and_the_log_has_the_rest_under_it(
    caplog: pytest.LogCaptureFixture, data: Path
) -> None:
    def page() -> None:
        from trainer.web.faults import show_fault

        assert show_fault(ValueError("the inside of it"))

    app = AppTest.from_function(page).run()
    (said,) = app.error
    number = said.value.rpartition(": ")[2]

    assert "the inside of it" not in said.value
    assert [record.args for record in caplog.records if record.name == "trainer.web"] == [(number,)]
    assert "the inside of it" in caplog.text


@pytest.mark.parametrize(("is_held", "counts"), [(True, True), (False, False)])
def test_the_heartbeat_counts_as_a_tap_only_while_a_tailgate_is_open(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch, is_held: bool, counts: bool
) -> None:
    asked: list[bool] = []
    look_in = door.look_in

    def listen(*, active: bool = True) -> door.Here | None:
        asked.append(active)
        return look_in(active=active)

    monkeypatch.setattr(door, "look_in", listen)
    signed_in(app, site, "ray")
    app.session_state["trainer"] = replace(held(app), values={"hold": "yes"} if is_held else {})
    app.run()

    # First the page itself, which is a tap, then the heartbeat on it.
    assert asked[:2] == [True, counts]
