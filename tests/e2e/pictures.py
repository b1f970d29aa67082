"""README's pictures, taken from the made-up rig with its clock stopped: ``python -m tests.e2e.pictures``."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.e2e import rig
from tests.e2e.answers import play
from tests.e2e.conftest import FLAGS, PATIENCE_MS, ROOT, Server, choose, command_of, finish_sign_in, running, settled
from trainer import settings
from trainer.cli.browsers import find_browser
from trainer.cli.demo import FOLDER
from trainer.demo import load

__all__ = ["main"]

NOW = "2026-03-11T13:20:00Z"
LESSON, SCENE, CHOICE = "hand-placement", "out-in-time", "when-slack"
WHERE = ROOT / "assets" / "readme"
_WIDTH, _HEIGHT = 1280, 800
_COLOURS = 192
# So that what was chosen, the picture and what is said under it all fit.
_TO_THE_PICTURE = """each => {
  document.querySelector("[data-testid=stMain]").scrollBy(0, each.getBoundingClientRect().top - 190)
}"""


def hand(page: Page, server: Server, pin: str) -> None:
    """A hand sees what follows from a choice that was not right."""
    choose(page, server, "Crew A, days", "Nguyễn Văn Minh")
    finish_sign_in(page, pin)
    page.goto(f"{server.url}lesson?lesson={LESSON}")
    expect(page.get_by_text("Not that way", exact=True)).to_be_visible()
    picture = page.get_by_role("img").last
    expect(picture).to_be_visible()
    picture.evaluate(_TO_THE_PICTURE)


def driller(page: Page, server: Server, pin: str) -> None:
    """A driller sees his crew before the job."""
    choose(page, server, "Crew A, days", "Leland Begay")
    finish_sign_in(page, pin)
    expect(page.get_by_role("heading", name="Who holds what today")).to_be_visible()


def coordinator(page: Page, server: Server, pin: str) -> None:
    """The coordinator sees who holds what."""
    choose(page, server, "Office", "Grace Whitehorse")
    finish_sign_in(page, pin)
    expect(page.get_by_role("gridcell").first).to_be_visible()
    expect(page.get_by_role("combobox", name="Standing")).to_be_visible()


SCENES: Mapping[str, Callable[[Page, Server, str], None]] = {
    "hand": hand, "driller": driller, "coordinator": coordinator,
}  # fmt: skip


def main() -> int:
    """Take every picture; the exit code."""
    found = find_browser()
    if found is None:
        sys.stderr.write("no Chromium, Chrome or Edge here\n")
        return 1
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        build(folder / "data")
        decide_wrongly(folder / "data" / FOLDER)

        def command(data: Path, port: int) -> list[str]:
            return command_of(data / FOLDER, port)

        with running(folder, command, TRAINER_NOW=NOW) as server:
            browser = playwright.chromium.launch(executable_path=str(found), args=FLAGS)
            for scene, come_to in SCENES.items():
                take(browser, server, scene, come_to)
    return 0


def build(data: Path) -> None:
    """The made-up rig in ``data``."""
    command = [sys.executable, "-m", "trainer", "demo", "--build-only", "--data", str(data)]
    subprocess.run(command, cwd=ROOT, env={**os.environ, "TRAINER_NOW": NOW}, check=True)


def decide_wrongly(data: Path) -> None:
    """Have the hand come to the scene of the picture, and there choose what is not right."""
    desk = rig.open_desk(settings.read(data), datetime.fromisoformat(NOW))
    try:
        play(rig.at_desk_of(desk, "minh"), LESSON, SCENE, lambda _: CHOICE)
    finally:
        desk.store.close()


def take(browser: Browser, server: Server, scene: str, come_to: Callable[[Page, Server, str], None]) -> None:
    """One picture, on a tablet with nothing in it."""
    context = browser.new_context(
        viewport={"width": _WIDTH, "height": _HEIGHT}, device_scale_factor=1, color_scheme="light", locale="en-US",
        reduced_motion="reduce",
    )  # fmt: skip
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    come_to(page, server, load().pin)
    settled(page)
    page.mouse.move(0, 0)
    page.evaluate("async () => { await document.fonts.ready; document.activeElement?.blur() }")
    shot = Image.open(io.BytesIO(page.screenshot(animations="disabled", caret="hide"))).convert("RGB")
    WHERE.mkdir(parents=True, exist_ok=True)
    # Few colours, so that a page loads fast on a rig's line.
    shot.quantize(_COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(
        WHERE / f"{scene}.png", optimize=True
    )
    context.close()


if __name__ == "__main__":
    sys.exit(main())
