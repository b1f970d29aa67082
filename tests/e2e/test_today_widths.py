"""Today on tablets of every width: a name is a name, and never a column of letters."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import rig
from tests.e2e.conftest import Server, overflow, settled, sign_in

pytestmark = pytest.mark.browser

_NAMES = """() => [...document.querySelectorAll('[class*="st-key-today-who-"] button p')].map(each => {
  const box = each.getBoundingClientRect()
  return [each.textContent, box.width, box.height]
})"""
_ONE_LINE = 40
_CROSSING = """() => {
  const boxes = row => [...row.querySelectorAll('[class*="st-key-today-"]')].map(each => each.getBoundingClientRect())
  const cross = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1
  const rows = [...document.querySelectorAll('[class*="st-key-today-row-"]')].map(boxes)
  return rows.flatMap(row => row.flatMap((one, n) => row.slice(n + 1).filter(other => cross(one, other)))).length
}"""


@pytest.mark.parametrize("language", ["English", "Español"])
def test_a_name_stands_in_one_line_at_every_width(page: Page, shared_server: Server, language: str) -> None:
    sign_in(page, shared_server, "bill")
    if language == "Español":
        page.get_by_role("button", name=language).click()
        expect(page.get_by_role("heading", name="Quién tiene qué hoy")).to_be_visible()
    for width in (621, 768, 820, 900, 901, 1024, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        settled(page)
        names = page.evaluate(_NAMES)
        assert rig.NAMES["ray"] in [name for name, *_ in names]
        assert [(width, name) for name, _, height in names if height > _ONE_LINE] == []
        assert [(width, name) for name, wide, _ in names if wide < 5 * len(name)] == []
        assert (width, page.evaluate(_CROSSING), max(overflow(page), 0)) == (width, 0, 0)
