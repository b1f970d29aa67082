"""An author with an editor beside the browser: what is saved is played at once, what cannot be used is told."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.app.test_tryout import BANK_FILE, LESSON_FILE, LISTED, records, rewritten
from tests.e2e import rig
from tests.e2e.conftest import ROOT, WIDTHS, opened, pick_from, running, sign_in
from tests.e2e.walks import Site, Walk

pytestmark = pytest.mark.browser


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Content with one subject, to be written in."""
    folder = tmp_path / "root"
    for name in (LESSON_FILE, BANK_FILE, "content/site.yaml"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, folder / name)
    (folder / "content/competencies.yaml").write_text(LISTED, encoding="utf-8")
    return folder


@pytest.fixture
def walk(browser: Browser, tmp_path: Path, root: Path) -> Iterator[Walk]:
    """The coordinator's tablet on that content."""
    where = rig.make(tmp_path / "data")
    with running(tmp_path, TRAINER_ROOT=str(root)) as server, opened(browser, WIDTHS[0]) as tablet:
        walk = Walk(tablet.page, Site(server, where))
        sign_in(walk.page, server, rig.COORDINATOR)
        yield walk
        assert not walk.wrong, walk.wrong


def test_an_author_plays_what_was_just_saved_and_leaves_no_trace(walk: Walk, root: Path, tmp_path: Path) -> None:
    page = walk.page
    walk.go("tryout", "Try the content")
    before = records(tmp_path / "data")
    page.get_by_role("button", name="Lesson: ").click()
    walk.comes("Before you walk out")
    page.get_by_role("radio", name="tape").click(force=True)
    walk.press("That is my answer")
    expect(page.get_by_text("Not that way")).to_be_visible()

    rewritten(root / LESSON_FILE, "en: Before you walk out", "en: Before the first step")
    walk.press("Try again")
    walk.comes("Before the first step")

    rewritten(root / LESSON_FILE, "part: recall", "part: recal")
    walk.press("Back to the list")
    expect(page.get_by_text("The newest files cannot be used yet.")).to_be_visible()
    expect(page.get_by_text("expected one of decide, worked, recall, floor-task")).to_be_visible()
    walk.look("tryout, files that cannot be used")
    page.get_by_role("button", name="Lesson: ").click()
    walk.comes("Before the first step")

    pick_from(page, "Scene", "2. Where a hand never goes")
    walk.comes("Where a hand never goes")
    page.get_by_role("button", name="Español").click()
    walk.comes("Dónde nunca va una mano")
    assert records(tmp_path / "data") == before
