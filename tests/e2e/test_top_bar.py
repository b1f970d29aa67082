"""The top bar stays in sight, and nothing that has the focus hides under it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import rig
from tests.e2e.conftest import Server, settled, sign_in

pytestmark = pytest.mark.browser

_HIDDEN = """() => {
  let each = document.activeElement
  while (each?.shadowRoot?.activeElement) each = each.shadowRoot.activeElement
  if (!each || each.matches("body, main, [data-testid=stMain]") || each.closest(".st-key-top")) return ""
  const box = each.getBoundingClientRect(), bar = document.querySelector(".st-key-top").getBoundingClientRect()
  // The link past the bar lies over it.
  const top = document.elementFromPoint(box.left + box.width / 2, box.top + 4)
  return box.top < bar.bottom - 1 && !each.contains(top) ? `${each.tagName} ${each.textContent.slice(0, 40)}` : ""
}"""
_SCROLL = "down => document.querySelector('[data-testid=stMain]').scrollTo(0, down)"


def test_the_bar_stays_and_no_focus_hides_under_it(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, rig.COORDINATOR)
    page.goto(f"{shared_server.url}people")
    expect(page.get_by_role("heading", name="People")).to_be_visible()
    page.set_viewport_size({"width": 1280, "height": 600})
    settled(page)
    page.evaluate(_SCROLL, 10_000)
    expect(page.get_by_role("button", name="Sign out")).to_be_in_viewport()
    assert page.evaluate("document.querySelector('[data-testid=stMain]').scrollTop") > 100
    hidden = []
    for key in ["Tab"] * 40 + ["Shift+Tab"] * 40:
        page.keyboard.press(key)
        hidden.append(page.evaluate(_HIDDEN))

    assert [each for each in hidden if each] == []


def test_on_a_narrow_or_low_screen_the_bar_goes_with_the_page(page: Page, shared_server: Server) -> None:
    sign_in(page, shared_server, rig.COORDINATOR)
    page.goto(f"{shared_server.url}people")
    expect(page.get_by_role("heading", name="People")).to_be_visible()
    settled(page)
    for width, height in ((400, 800), (900, 420)):
        page.set_viewport_size({"width": width, "height": height})
        page.evaluate(_SCROLL, 10_000)
        expect(page.get_by_role("button", name="Sign out")).not_to_be_in_viewport()
