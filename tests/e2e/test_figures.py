"""The rig's figures in a browser: dials answer, the string moves and stands still, in both units and languages."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.e2e import rig
from tests.e2e.conftest import PATIENCE_MS, Server, opened, overflow, running, settled, sign_in

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A rig whose pipe is inspected; US units stand first."""
    folder = tmp_path_factory.mktemp("figures")
    desk = rig.open_desk(rig.make(folder / "data"))
    rig.inspect_pipe(desk)
    desk.store.close()
    with running(folder) as server:
        yield server


@pytest.fixture
def page(browser: Browser, server: Server, request: pytest.FixtureRequest) -> Iterator[Page]:
    """Somebody's tablet, signed in: Ray reads English, Luis Spanish."""
    with opened(browser) as tablet:
        sign_in(tablet.page, server, getattr(request, "param", "ray"))
        yield tablet.page


def show(page: Page, server: Server, figure: str, **steps: str) -> None:
    """Open a figure by its address."""
    more = "".join(f"&{name}={value}" for name, value in steps.items())
    page.goto(f"{server.url}figures?figure={figure}{more}")
    expect(point(page)).to_be_visible()
    settled(page)


def point(page: Page) -> Locator:
    """The one sentence."""
    return page.locator("[class*=st-key-figures-point] p")


@pytest.mark.parametrize("page", ["ray", "luis"], indirect=True)
@pytest.mark.parametrize(
    ("units", "before", "after"),
    [("US", "201.3 klbf (895 kN)", "199.4 klbf (887 kN)"), ("SI", "895 kN (201.3 klbf)", "895 kN (201.2 klbf)")],
)
def test_a_turned_dial_answers_in_both_units(page: Page, server: Server, units: str, before: str, after: str) -> None:
    show(page, server, "hanging", units=units)
    expect(point(page)).to_contain_text(before)
    page.get_by_role("button", name=re.compile("^(More: Mud|Más: Lodo)$")).click()
    expect(point(page)).to_contain_text(after)
    page.get_by_role("button", name=re.compile("^(Back to this rig|Volver a las cifras)")).click()
    expect(point(page)).to_contain_text(before)
    expect(page.get_by_role("slider", name=re.compile("^(Mud|Lodo)$"))).to_have_attribute(
        "aria-valuetext", re.compile(r"^(10\.0 lb/gal, 1198 kg/m³|1198 kg/m³, 10\.0 lb/gal)$")
    )


def test_a_dial_is_turned_by_keyboard_alone(page: Page, server: Server) -> None:
    show(page, server, "stop")
    speed = page.get_by_role("slider", name="Speed when the slips take hold")
    speed.focus()
    page.keyboard.press("Home")
    expect(point(page)).to_contain_text("Stopped first: the slips carry")
    page.keyboard.press("ArrowRight")
    expect(speed).to_have_attribute("aria-valuetext", "0.25 ft/s, 0.08 m/s")
    expect(point(page)).to_contain_text("A stop from 0.25 ft/s (0.08 m/s)")
    expect(speed).to_be_focused()


def test_the_figure_stays_after_a_reload(page: Page, server: Server) -> None:
    page.get_by_role("link", name="Rig figures").click()
    page.get_by_role("button", name=re.compile("^What each person lifts")).click()
    expect(page.get_by_role("heading", name="What each person lifts")).to_be_visible()
    page.get_by_role("button", name="SI units first").click()
    expect(point(page)).to_contain_text("27.2 kg (60.0 lb)")
    page.reload()
    expect(page.get_by_role("heading", name="What each person lifts")).to_be_visible()
    expect(point(page)).to_contain_text("27.2 kg (60.0 lb)")


def test_the_string_stands_at_the_highest_load_until_somebody_plays_it(page: Page, server: Server) -> None:
    show(page, server, "stop")
    moment = page.get_by_role("slider", name="Moment")
    still = moment.input_value()
    told = page.get_by_role("status").filter(has_text="klbf")
    highest = told.inner_text()
    page.get_by_role("button", name="Play the drawing").click()
    expect(moment).not_to_have_value(still)
    page.get_by_role("button", name="Pause the drawing").click()
    paused = moment.input_value()
    expect(page.get_by_role("button", name="Play the drawing")).to_be_visible()
    settled(page)
    expect(moment).to_have_value(paused)
    page.get_by_role("button", name="Highest load").click()
    expect(told).to_have_text(highest)
    page.get_by_role("button", name="Start", exact=True).click()
    expect(moment).to_have_value("0")


def test_who_asked_for_less_motion_sees_stills(page: Page, server: Server) -> None:
    page.emulate_media(reduced_motion="reduce")
    show(page, server, "stop")
    moment = page.get_by_role("slider", name="Moment")
    page.get_by_role("button", name="Start", exact=True).click()
    page.evaluate(
        """() => {
          const find = root => { for (const each of root.querySelectorAll("*")) {
            if (each.matches("input[aria-label=Moment]")) return each
            const inside = each.shadowRoot && find(each.shadowRoot); if (inside) return inside } }
          const seen = window.seen = new Set(), moment = find(document)
          const look = () => { seen.add(moment.value); requestAnimationFrame(look) }
          look()
        }"""
    )
    page.get_by_role("button", name="Play the drawing").click()
    expect(moment).to_have_value("24", timeout=PATIENCE_MS)
    seen = page.evaluate("[...window.seen].map(Number)")
    assert set(seen) <= {0, 12, 24}


def test_a_thrown_set_is_said_in_red_words_and_the_line_is_dotted(page: Page, server: Server) -> None:
    show(page, server, "stop")
    page.get_by_text("With heavy-weight and collars below").click()
    page.get_by_role("slider", name="Length of drill pipe").focus()
    page.keyboard.press("Home")
    expect(point(page)).to_contain_text("throws the slips")
    expect(page.locator("path.doubtful")).to_be_attached()
    expect(page.get_by_role("img", name=re.compile("^Load on the slips against time"))).to_be_visible()


def test_a_hand_has_no_way_to_the_figures_of_grease(page: Page, server: Server) -> None:
    page.goto(f"{server.url}figures")
    expect(page.get_by_role("button", name=re.compile("^What hangs in the slips"))).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("^Grease"))).to_have_count(0)
    page.goto(f"{server.url}figures?figure=grease")
    expect(page.get_by_role("alert").first).to_contain_text("Your position does not do this")
    expect(page.get_by_text("Squeeze on the pipe")).to_have_count(0)


@pytest.mark.parametrize("page", ["luis"], indirect=True)
def test_every_figure_fits_a_narrow_screen(page: Page, server: Server) -> None:
    page.set_viewport_size({"width": 320, "height": 900})
    for figure in ("hanging", "stop", "shares", "lift", "contact", "stickup"):
        show(page, server, figure)
        assert overflow(page) <= 0, figure
