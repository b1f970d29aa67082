"""Which page an answer came from, by the whole address that the browser gives."""

from __future__ import annotations

import pytest

from trainer.web.late import page_of
from trainer.web.pages import PAGES


@pytest.mark.parametrize("page", PAGES[1:], ids=lambda page: page.url)
def test_a_page_is_known_by_the_end_of_its_address(page: object) -> None:
    url = getattr(page, "url", "")
    assert page_of(f"http://127.0.0.1:8501/{url}") == url
    assert page_of(f"https://rig.example/below/{url}/") == url


@pytest.mark.parametrize("url", ["http://127.0.0.1:8501", "http://127.0.0.1:8501/", "https://rig.example/below", ""])
def test_any_other_address_is_that_of_the_first_page(url: str) -> None:
    assert page_of(url) == PAGES[0].url
