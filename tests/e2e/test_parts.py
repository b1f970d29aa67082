"""Every part in every state: accessible, big enough, and worked by touch and by keyboard alone."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.e2e import rig
from tests.e2e.conftest import SCHEMES, WIDTHS, Server, opened, overflow, running, settled, violations
from trainer.pictures.motions import frames_of, place_at

pytestmark = pytest.mark.browser

PARTS = (
    "choose", "choose-all", "judge", "point", "crew", "order", "plan", "ticks", "matrix", "keypad", "picture",
    "moving", "badges", "dials", "chart",
)  # fmt: skip
STATES = ("open", "wrong")
SMALLEST_PX = 44

_TARGETS = """() => {
  const found = []
  const walk = root => root.querySelectorAll("*").forEach(each => {
    if (each.shadowRoot) walk(each.shadowRoot)
    if (!each.matches("button, a[href], input, textarea, label, td[role=gridcell]")) return
    if (each.matches("label") && !each.querySelector("input, textarea")) return
    const target = each.closest("label") ?? each
    const box = target.getBoundingClientRect()
    const name = target.textContent.trim().slice(0, 30) || target.getAttribute("aria-label")
    if (box.width && box.height) found.push([name, box.width, box.height])
  })
  walk(document.querySelector("[data-testid=stMain]"))
  return found
}"""


@pytest.fixture(scope="module")
def gallery(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """The gallery of parts behind the app's own headers."""
    folder = tmp_path_factory.mktemp("gallery")
    rig.make(folder / "data")

    def command(_: Path, port: int) -> list[str]:
        page = Path(__file__).parent / "gallery" / "server.py"
        return [sys.executable, "-m", "streamlit", "run", str(page), "--server.port", str(port)]

    with running(folder, command, TRAINER_DATA=str(folder / "data")) as server:
        yield server


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page as wide as a small tablet."""
    with opened(browser, 768) as tablet:
        yield tablet.page


def show(page: Page, gallery: Server, part: str, state: str = "open") -> None:
    """Draw one part in one state."""
    page.goto(f"{gallery.url}?part={part}&state={state}")
    expect(page.get_by_role("heading", name=part, exact=True)).to_be_visible()
    # A part is drawn a moment after the script has run.
    expect(page.locator(".badge" if part == "badges" else ".part > *").first).to_be_visible()
    settled(page)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_part_is_accessible_fits_and_is_big_enough(
    browser: Browser, gallery: Server, width: int, scheme: str
) -> None:
    wrong: dict[str, object] = {}
    with opened(browser, width, scheme) as tablet:
        for part in PARTS:
            for state in STATES:
                show(tablet.page, gallery, part, state)
                small = [each for each in tablet.page.evaluate(_TARGETS) if min(each[1:]) < SMALLEST_PX - 0.5]
                found = (violations(tablet.page), small, overflow(tablet.page))
                if found != ([], [], 0):
                    wrong[f"{part} {state}"] = found

    assert wrong == {}


def test_ticks_and_keypad_keys_are_eighty_pixels_high(page: Page, gallery: Server) -> None:
    show(page, gallery, "ticks")
    ticks = [box.bounding_box() for box in page.locator("label.segment:not(.small)").all()]
    assert len(ticks) == 15
    assert min(box["height"] for box in ticks if box) >= 80


def test_one_option_is_chosen_by_arrow_keys(page: Page, gallery: Server) -> None:
    show(page, gallery, "choose")
    page.get_by_role("radio", name="Take the ring off first.").focus()
    page.keyboard.press("Space")
    expect(page.get_by_text("answer: ('o0',)")).to_be_visible()
    page.keyboard.press("ArrowDown")

    expect(page.get_by_text("answer: ('o1',)")).to_be_visible()
    expect(page.get_by_role("radio", name="Wear a glove over it.")).to_be_focused()


def test_several_options_are_chosen_and_taken_back_by_touch(page: Page, gallery: Server) -> None:
    show(page, gallery, "choose-all")
    page.get_by_text("The gap", exact=True).click()
    page.get_by_text("Handles", exact=True).click()
    expect(page.get_by_text("answer: ('o0', 'o1')")).to_be_visible()
    page.get_by_text("The gap", exact=True).click()

    expect(page.get_by_text("answer: ('o0',)")).to_be_visible()


def test_content_reaches_a_part_as_text_only(page: Page, gallery: Server) -> None:
    show(page, gallery, "choose")

    expect(page.get_by_text("Tape it down, then go on <b>as usual</b>.")).to_be_visible()


def test_a_locked_answer_does_not_move(page: Page, gallery: Server) -> None:
    show(page, gallery, "choose", "wrong")
    page.get_by_role("radio", name="Take the ring off first.").click(force=True)
    page.get_by_role("radio", name="Wear a glove over it.").focus()
    page.keyboard.press("ArrowDown")

    expect(page.get_by_role("radio", name="Wear a glove over it.")).to_be_checked()
    settled(page)
    expect(page.get_by_text("answer: none")).to_be_visible()


def test_a_drawing_is_chosen_by_its_words(page: Page, gallery: Server) -> None:
    show(page, gallery, "judge")
    page.get_by_role("radio", name="A glove in the open gap").check()

    expect(page.get_by_text("answer: ('o1',)")).to_be_visible()


def test_places_are_pointed_at_by_touch_and_keyboard(page: Page, gallery: Server) -> None:
    show(page, gallery, "point")
    page.get_by_role("button", name="Open gap between the end segments").click()
    page.get_by_role("button", name="Middle handle 2").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("answer: ('gap', 'handle-2')")).to_be_visible()
    page.keyboard.press("Space")

    expect(page.get_by_text("answer: ('gap',)")).to_be_visible()
    expect(page.get_by_role("status").filter(has_text="Tapped: Open gap")).to_be_visible()


def test_two_pairs_of_hands_are_placed_two_to_a_handle_by_keyboard(page: Page, gallery: Server) -> None:
    show(page, gallery, "crew")
    for token, spot in (
        ("A, left hand", "End handle 1"),
        ("A, right hand", "Middle handle 2"),
        ("B, left hand", "Middle handle 2"),
    ):
        page.get_by_role("button", name=token).focus()
        page.keyboard.press("Enter")
        page.get_by_role("button", name=f"{spot}, ").focus()
        page.keyboard.press("Enter")
    expect(page.get_by_text("answer: {'handle-1': ('a-left',), 'handle-2': ('a-right', 'b-left')}")).to_be_visible()

    page.get_by_role("button", name="B, right hand").click()
    page.get_by_role("button", name="Middle handle 2, A").press("Enter")
    expect(page.get_by_role("status").filter(has_text="Middle handle 2 is full.")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("status").filter(has_text="Put down again.")).to_be_visible()


def test_steps_move_up_and_down_and_keep_the_focus(page: Page, gallery: Server) -> None:
    show(page, gallery, "order")
    up = page.get_by_role("button", name="Move up: Lift together on the call")
    up.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")

    expect(page.get_by_text("answer: ('o0', 'o3', 'o1', 'o2')")).to_be_visible()
    expect(up).to_be_focused()
    expect(page.get_by_role("status").filter(has_text="Lift together on the call is now number 2.")).to_be_attached()


def test_steps_on_a_picture_take_the_next_number_and_give_it_back(page: Page, gallery: Server) -> None:
    show(page, gallery, "plan")
    first = page.get_by_role("button", name="Driller's position, at the brake: Driller: brake set")
    first.focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Slips in the table: Clear").press("Enter")
    page.get_by_role("button", name="Slips in the table: Set").press("Enter")
    expect(page.get_by_text("answer: ('o0', 'o2', 'o1')")).to_be_visible()
    expect(page.get_by_role("status").filter(has_text="Set: number 3.")).to_be_visible()

    page.get_by_role("button", name="Slips in the table: Clear, number 2").press("Enter")
    expect(page.get_by_text("answer: ('o0', 'o1')")).to_be_visible()
    expect(page.get_by_role("status").filter(has_text="Clear: taken back.")).to_be_visible()
    expect(first).to_have_attribute("aria-pressed", "true")


def test_a_critical_step_not_met_asks_about_the_act_and_a_note(page: Page, gallery: Server) -> None:
    show(page, gallery, "ticks")
    step = page.get_by_role("group", name="Critical Pipe is stopped")
    step.get_by_role("radio", name="Not met").check()
    step.get_by_role("radio", name="No", exact=True).check()
    step.get_by_role("textbox").fill("Stepped in at joint 4")
    step.get_by_role("textbox").blur()

    expect(page.get_by_text("answer: {'s1': ('not met', False, 'Stepped in at joint 4')}")).to_be_visible()


def test_the_matrix_is_walked_by_arrow_keys_and_picked_by_enter(page: Page, gallery: Server) -> None:
    show(page, gallery, "matrix")
    first = page.get_by_role("gridcell").first
    first.focus()
    for key in ("ArrowRight", "ArrowDown", "End", "Home", "ArrowDown"):
        page.keyboard.press(key)
    page.keyboard.press("Enter")
    expect(page.get_by_text("answer: ('h2', 'c0')")).to_be_visible()

    expect(page.get_by_role("row").nth(3).get_by_role("gridcell").first).to_be_focused()


def test_a_pin_is_sent_once_and_leaves_the_field(page: Page, gallery: Server) -> None:
    show(page, gallery, "keypad")
    for digit in "4826":
        page.get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name="Sign in").click()

    expect(page.get_by_text("answer: '4826'")).to_be_visible()
    expect(page.get_by_label("Your PIN", exact=True)).to_have_value("")


def test_a_matrix_of_two_hundred_hands_is_drawn_within_seconds(page: Page, gallery: Server) -> None:
    page.goto(f"{gallery.url}?part=matrix&rows=200")

    expect(page.get_by_role("rowheader", name="Hand 199")).to_be_attached(timeout=10_000)
    assert page.get_by_role("gridcell").count() == 1200


def motion_at(page: Page, share: float) -> list[list[float]]:
    """Where the moving things of the drawing are, as across, down and turn, at that share of the loop."""
    found: list[list[float]] = page.locator("svg.drawing").evaluate(_PLACES, share)
    return found


_PLACES = """(svg, share) => [...svg.querySelectorAll("[data-frames]")].map(each => {
  for (const run of each.getAnimations()) run.currentTime = share * run.effect.getComputedTiming().duration
  const at = new DOMMatrix(getComputedStyle(each).transform)
  return [at.e, at.f, Math.atan2(at.b, at.a) * 180 / Math.PI]
})"""


@pytest.mark.parametrize("share", [0.0, 0.3, 0.45, 0.6, 0.7, 0.9])
def test_a_drawing_moves_as_its_frames_say(page: Page, gallery: Server, share: float) -> None:
    show(page, gallery, "moving")
    page.get_by_role("button", name="Pause the drawing").click()
    written = page.locator("svg.drawing [data-frames]").evaluate_all("all => all.map(each => each.dataset.frames)")
    wanted = [place_at(frames_of(each), share * 100) for each in written]
    assert len(wanted) == 3
    for found, (across, down, turn) in zip(motion_at(page, share), wanted, strict=True):
        assert found[:2] == pytest.approx([across, down], abs=0.5)
        assert (found[2] - turn + 180) % 360 - 180 == pytest.approx(0, abs=0.5)


_RUNNING = """svg => [...svg.querySelectorAll("*")].flatMap(each => each.getAnimations()).map(run => run.playState)"""


def test_a_moving_drawing_stops_and_goes_on_by_keyboard(page: Page, gallery: Server) -> None:
    show(page, gallery, "moving")
    drawing = page.locator("svg.drawing")
    assert set(drawing.evaluate(_RUNNING)) == {"running"}
    page.get_by_role("button", name="Pause the drawing").press("Enter")
    assert set(drawing.evaluate(_RUNNING)) == {"paused"}
    page.get_by_role("button", name="Play the drawing").press("Space")
    assert set(drawing.evaluate(_RUNNING)) == {"running"}


def test_who_wants_less_motion_sees_the_still_form_until_he_asks(page: Page, gallery: Server) -> None:
    page.emulate_media(reduced_motion="reduce")
    show(page, gallery, "moving")
    drawing = page.locator("svg.drawing")
    assert drawing.evaluate(_RUNNING) == []
    assert drawing.locator("[data-frames][transform]").count() == 3
    page.get_by_role("button", name="Play the drawing").click()
    assert set(drawing.evaluate(_RUNNING)) == {"running"}


def test_paper_shows_the_still_form_without_a_button(page: Page, gallery: Server) -> None:
    show(page, gallery, "moving")
    page.emulate_media(media="print")
    page.wait_for_function("() => document.querySelectorAll('*').length && !document.getAnimations().length")
    expect(page.get_by_role("button", name="Pause the drawing")).to_be_hidden()
    page.emulate_media(media="screen")
    expect(page.get_by_role("button", name="Pause the drawing")).to_be_visible()
    assert set(page.locator("svg.drawing").evaluate(_RUNNING)) == {"running"}
