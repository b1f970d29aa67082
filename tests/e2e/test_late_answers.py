"""A heartbeat that a page sent before it was left, and that arrives after the next one has been drawn."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.app.learning import LESSON
from tests.e2e.conftest import Server, settled, sign_in

pytestmark = pytest.mark.browser

_LISTEN = """(() => {
  const send = WebSocket.prototype.send
  window.sent = []
  WebSocket.prototype.send = function (message) {
    window.line = this
    window.sent.push(message)
    send.call(this, message)
  }
})()"""


def next_beat(page: Page) -> None:
    """Wait until the page has sent a heartbeat: nothing else is sent while nobody taps."""
    settled(page)
    page.evaluate("sent.length = 0")
    page.wait_for_function("() => sent.length > 0")
    settled(page)


def test_a_page_is_not_left_blank_by_a_heartbeat_of_the_page_before(page: Page, shared_server: Server) -> None:
    page.add_init_script(_LISTEN)
    sign_in(page, shared_server, "ray")
    page.goto(f"{shared_server.url}lesson?lesson={LESSON}")
    expect(page.get_by_text(re.compile(r"^Scene 1 of"))).to_be_visible()
    next_beat(page)
    page.evaluate("window.late = sent[0]")
    page.get_by_role("button", name="Stop here, go on later").click()
    expect(page.get_by_role("heading", name="My card")).to_be_visible()
    settled(page)
    page.evaluate("line.send(late)")
    next_beat(page)

    expect(page.get_by_role("heading", name="My card")).to_be_visible()
    expect(page).to_have_url(re.compile(r"/card$"))
