"""Signing in and out on a shared tablet, in a real browser."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.e2e import rig
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    Tablet,
    choose_name,
    opened,
    overflow,
    running,
    settled,
    sign_in,
    tap_pin,
    violations,
    way_out,
)
from trainer import settings
from trainer.actions import signing_in

pytestmark = pytest.mark.browser

HERE = Path(__file__).parent


def test_three_taps_and_a_pin_open_ones_own_page(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, "ray")

    expect(page.get_by_text("Ray Dunn")).to_be_visible()
    expect(page.get_by_text("Floorhand, Day crew 1")).to_be_visible()
    assert rig.PINS["ray"] not in page.url
    assert page.title() == "On the slips"


def test_the_session_cookie_is_out_of_reach_of_scripts_and_other_sites(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, "ray")

    cookies = {each["name"]: each for each in page.context.cookies()}
    for name in ("trainer_session", "trainer_device"):
        assert cookies[name]["httpOnly"]
        assert cookies[name]["sameSite"] == "Strict"
    assert cookies["trainer_session"]["expires"] == -1


def test_a_pin_can_be_typed_and_pasted(page: Page, shared_server: Server) -> None:
    choose_name(page, shared_server, "bill")
    field = page.get_by_label("Your PIN", exact=True)
    field.press_sequentially("905")
    field.evaluate(
        """(field) => {
          const data = new DataTransfer(); data.setData("text", " 905 236 ")
          field.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }))
        }"""
    )
    field.press("Enter")

    expect(way_out(page)).to_be_visible()
    expect(field).to_have_count(0)


def test_a_pin_shows_as_dots_and_the_last_one_can_be_rubbed_out(page: Page, shared_server: Server) -> None:
    choose_name(page, shared_server, "bill")
    field = page.get_by_label("Your PIN", exact=True)
    for key in ("1", "2", "3"):
        page.get_by_role("button", name=key, exact=True).click()
    page.get_by_role("button", name="Rub out the last one").click()

    expect(field).to_have_value("12")
    expect(field).to_have_attribute("type", "password")
    expect(page.get_by_text("2 entered")).to_be_attached()


def test_a_reload_keeps_the_person(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, "ray")
    page.reload()

    expect(page.get_by_text("Ray Dunn")).to_be_visible()


def test_a_language_chosen_on_screen_outlives_a_reload_and_goes_with_the_person(
    tablet: Tablet, own_server: Server
) -> None:
    page = tablet.page
    sign_in(page, own_server, "ray")
    page.get_by_role("button", name="Español", exact=True).click()
    expect(page.get_by_role("button", name="Salir", exact=True)).to_be_visible()
    settled(page)
    page.reload()
    expect(page.get_by_role("button", name="Salir", exact=True)).to_be_visible()
    expect(page.get_by_test_id("stSkipToContent")).to_have_text("Saltar a la página")

    # A power cut takes all that the server held for this tab.
    own_server.kill()
    own_server.start()
    page.reload()
    expect(page.get_by_role("button", name="Salir", exact=True)).to_be_visible()
    settled(page)
    tablet.forgive()
    page.get_by_role("button", name="Salir", exact=True).click()

    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
    page.wait_for_function("!document.cookie.includes('trainer_language')")


def test_a_second_tab_is_the_same_person_and_a_sign_out_ends_both(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, "ray")
    other = page.context.new_page()
    other.goto(shared_server.url)
    expect(other.get_by_text("Ray Dunn")).to_be_visible()

    way_out(page).click()

    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
    expect(other.get_by_role("heading", name="Which crew?")).to_be_visible()


def test_sign_out_leaves_nothing_for_the_next_hand(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, "ray")
    page.goto(f"{shared_server.url}card?step=4")
    expect(way_out(page)).to_be_visible()
    settled(page)
    way_out(page).click()
    expect(page).to_have_url(shared_server.url)
    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()

    assert "trainer_session" not in {each["name"] for each in page.context.cookies()}

    page.go_back()
    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
    settled(page)
    assert "Ray Dunn" not in page.content()

    page.reload()
    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
    assert "Ray Dunn" not in page.content()


def test_a_new_hand_sets_a_first_pin_with_a_one_use_code(page: Page, own_server: Server, tmp_path: Path) -> None:
    desk = rig.open_desk(settings.read(tmp_path / "data"))
    code = signing_in.new_code(desk, "sam")
    desk.store.close()

    choose_name(page, own_server, "sam")
    page.get_by_role("button", name="First time here").click()
    # The keys of the PIN are there until the keys of the code are.
    expect(page.get_by_label("One-use code", exact=True)).to_be_visible()
    tap_pin(page, code, "Go on")
    expect(page.get_by_text("6 numbers or more.")).to_be_visible()
    tap_pin(page, "583920", "Go on")
    expect(page.get_by_label("New PIN, again", exact=True)).to_be_visible()
    tap_pin(page, "583920", "Save and sign in")

    expect(page.get_by_text(rig.NAMES["sam"])).to_be_visible()
    expect(way_out(page)).to_be_visible()


def test_wrong_pins_lock_that_person_on_that_device_and_nobody_else(page: Page, own_server: Server) -> None:
    choose_name(page, own_server, "ray")
    for _ in range(5):
        tap_pin(page, "246802")
        expect(page.get_by_role("alert").filter(has_text="do not match")).to_be_visible()
        settled(page)
    tap_pin(page, rig.PINS["ray"])
    expect(page.get_by_role("alert").filter(has_text="Too many tries")).to_be_visible()

    sign_in(page, own_server, "bill")


def test_enter_with_nothing_entered_says_so_at_once(page: Page, shared_server: Server) -> None:
    choose_name(page, shared_server, "ray")
    settled(page)
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(
        page.get_by_role("alert").filter(has_text="Nothing entered yet. Enter it, then tap Sign in.")
    ).to_be_visible()


def test_a_server_killed_and_started_again_keeps_person_and_place(tablet: Tablet, own_server: Server) -> None:
    page = tablet.page
    sign_in(page, own_server, "ray")
    page.goto(f"{own_server.url}card?step=4")
    expect(page.get_by_text("Ray Dunn")).to_be_visible()
    settled(page)

    own_server.kill()
    expect(page.get_by_test_id("stApp")).not_to_have_attribute("data-test-connection-state", "CONNECTED")
    own_server.start()
    settled(page)
    tablet.forgive()

    expect(page.get_by_text("Ray Dunn")).to_be_visible()
    assert page.url.endswith("?step=4")
    # The first tap after the restart counts.
    page.get_by_role("button", name="Español").click()
    expect(page.get_by_role("button", name="Salir")).to_be_visible()


def test_an_idle_session_warns_then_ends_and_a_tap_on_the_warning_keeps_it(browser: Browser, tmp_path: Path) -> None:
    rig.make(tmp_path / "data")

    def command(data: Path, port: int) -> list[str]:
        return [sys.executable, str(HERE / "short_idle.py"), str(data), str(port), "12", "8"]

    with running(tmp_path, command) as server, opened(browser) as tablet:
        page = tablet.page
        sign_in(page, server, "ray")
        warning = page.get_by_role("alert").filter(has_text="Still there?")
        expect(warning).to_be_visible()
        page.get_by_role("button", name="Stay signed in").click()
        expect(warning).to_be_hidden()
        expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
        expect(page.get_by_text("You were signed out because nobody tapped")).to_be_visible()


def test_the_page_says_its_language_and_a_tap_changes_it(page: Page, shared_server: Server) -> None:
    page.goto(shared_server.url)
    expect(page.locator("html")).to_have_attribute("lang", "en")
    page.get_by_role("button", name="Español").click()

    expect(page.get_by_role("heading", name="¿Cuál es su cuadrilla?")).to_be_visible()
    expect(page.locator("html")).to_have_attribute("lang", "es")


def test_sign_in_works_by_keyboard_alone(page: Page, shared_server: Server) -> None:
    page.goto(shared_server.url)
    page.get_by_role("button", name=re.compile("^Day crew 1")).focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Ray Dunn").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Your PIN", exact=True).focus()
    page.keyboard.type(rig.PINS["ray"])
    page.keyboard.press("Enter")

    expect(way_out(page)).to_be_visible()


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_step_of_signing_in_is_accessible_and_fits(
    browser: Browser, shared_server: Server, width: int, scheme: str
) -> None:
    with opened(browser, width, scheme) as tablet:
        page = tablet.page
        page.goto(shared_server.url)
        crew = page.get_by_role("button", name=re.compile("^Day crew 1"))
        expect(crew).to_be_visible()
        found = {"crews": violations(page)}
        crew.click()
        name = page.get_by_role("button", name="Luis Ortega")
        expect(name).to_be_visible()
        found["names"] = violations(page)
        name.click()
        # From here on in the language of whoever that is.
        expect(page.get_by_label("Su PIN", exact=True)).to_be_visible()
        found["keypad"] = violations(page)
        tap_pin(page, "246802")
        # All these new browsers are one unknown device, so that the last ones have to wait.
        expect(page.get_by_role("alert").filter(has_text=re.compile("no van juntos|Demasiados"))).to_be_visible()
        found["wrong PIN"] = violations(page)
        smallest = min(box["height"] for box in _boxes(page, [*"0123456789", "Entrar"]))
        page.get_by_role("button", name="¿Primera vez").click()
        expect(page.get_by_label("Código de un solo uso", exact=True)).to_be_visible()
        found["code"] = violations(page)

        assert found == {state: [] for state in found}
        assert overflow(page) == 0
        assert smallest >= 80


def _boxes(page: Page, names: list[str]) -> list[dict[str, float]]:
    boxes = [page.get_by_role("button", name=name, exact=True).bounding_box() for name in names]
    return [dict(box) for box in boxes if box is not None]  # type: ignore[call-overload]
