"""The real server on a free port, a small rig behind it, and a real browser in front of it."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from urllib.error import URLError

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Locator, Page, ViewportSize, expect, sync_playwright

from tests.e2e import rig
from trainer.cli.browsers import find_browser

ROOT = Path(__file__).resolve().parents[2]
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip
PATIENCE_MS = 60_000
expect.set_options(timeout=PATIENCE_MS)
WIDTHS = (1280, 768, 320)
SCHEMES = ("light", "dark")
_A_AND_AA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass
class Server:
    """One server process; ``command`` starts it and ``log`` is what it said."""

    command: list[str]
    port: int
    log: Path
    environment: Mapping[str, str]
    process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        """Its first page."""
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> None:
        """Start it and wait until it answers."""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(self.command, cwd=ROOT, env=self.environment, stdout=log, stderr=log)
        # It tries all content first: that takes long on a machine that does much else.
        until = time.monotonic() + 6 * PATIENCE_MS / 1000
        while not self._answers():
            assert self.process.poll() is None, self.log.read_text()
            assert time.monotonic() < until, self.log.read_text()
            time.sleep(0.1)

    def stop(self) -> None:
        """End it the polite way."""
        if self.process is not None:
            self.process.terminate()
            self.process.wait(20)

    def kill(self) -> None:
        """End it as a power cut does."""
        assert self.process is not None
        self.process.kill()
        self.process.wait(20)

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.url}_stcore/health", timeout=2) as answer:
                return bool(answer.status == 200)
        except (URLError, OSError):
            return False


def free_port() -> int:
    """A port that nobody listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def command_of(data: Path, port: int) -> list[str]:
    """What a site runs."""
    return [sys.executable, "-m", "trainer", "serve", "--data", str(data), "--port", str(port)]


@contextmanager
def running(
    folder: Path, command: Callable[[Path, int], list[str]] = command_of, **environment: str
) -> Iterator[Server]:
    """A server on ``folder``/data, stopped at the end of the block."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    port = free_port()
    server = Server(
        command(folder / "data", port), port, folder / "server.log", {**kept, "PYTHONPATH": str(ROOT), **environment}
    )
    server.start()
    try:
        yield server
    finally:
        server.stop()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The browser that is installed here."""
    found = find_browser()
    if found is None:
        pytest.skip("no Chromium, Chrome or Edge here")
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=str(found), args=FLAGS)


@pytest.fixture(scope="session")
def shared_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One rig for the journeys that leave no trace on each other."""
    folder = tmp_path_factory.mktemp("shared")
    rig.make(folder / "data")
    with running(folder) as server:
        yield server


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A rig for one journey alone."""
    rig.make(tmp_path / "data")
    with running(tmp_path) as server:
        yield server


@dataclass
class Tablet:
    """One browser with nothing in it, and what its console complained of."""

    page: Page
    complaints: list[str] = field(default_factory=list)

    def forgive(self) -> None:
        """Forget the complaints so far: a line that breaks on purpose is one."""
        self.complaints.clear()


@contextmanager
def opened(browser: Browser, width: int = 1280, scheme: str = "light") -> Iterator[Tablet]:
    """A new tablet; its console must stay clean to the end of the block."""
    size: ViewportSize = {"width": width, "height": 900}
    context = browser.new_context(viewport=size, color_scheme="dark" if scheme == "dark" else "light", locale="en-US")
    context.set_default_timeout(PATIENCE_MS)
    tablet = Tablet(context.new_page())

    def listen(message: ConsoleMessage) -> None:
        # On an address of its own Streamlit looks for its paths below that address first, and does not find them there.
        is_search = "404" in message.text and re.search(r"/[a-z-]+/_stcore/", message.location["url"])
        if message.type == "error" and not is_search:
            tablet.complaints.append(message.text)

    tablet.page.on("console", listen)
    tablet.page.on("pageerror", lambda error: tablet.complaints.append(str(error)))
    try:
        yield tablet
        assert tablet.complaints == []
    finally:
        context.close()


@pytest.fixture
def tablet(browser: Browser, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Tablet]:
    """A wide tablet for one journey; a failed one leaves a picture in pytest's folder."""
    if "own_server" in request.fixturenames:
        # Made first, so that it ends last: a browser that outlives its server complains of it.
        request.getfixturevalue("own_server")
    with opened(browser) as tablet:
        failed_before = request.session.testsfailed
        yield tablet
        if request.session.testsfailed > failed_before:
            tablet.page.screenshot(path=tmp_path / "failed.png", full_page=True)


@pytest.fixture
def page(tablet: Tablet) -> Page:
    """The page of ``tablet``."""
    return tablet.page


def settled(page: Page) -> None:
    """Wait until the script has run and the line is there."""
    app = page.get_by_test_id("stApp")
    expect(app).to_have_attribute("data-test-connection-state", "CONNECTED", timeout=PATIENCE_MS)
    expect(app).to_have_attribute("data-test-script-state", "notRunning", timeout=PATIENCE_MS)


def choose_name(page: Page, server: Server, hand: str) -> None:
    """Go to the keypad of ``hand`` of the small rig."""
    crew = {"day-1": "Day crew 1", "night-1": "Night crew 1"}.get(rig.PLACES.get(hand, ("", "", ""))[1], "Office")
    choose(page, server, crew, rig.NAMES[hand])


def choose(page: Page, server: Server, crew: str, name: str) -> None:
    """Go to the keypad of the person called ``name``, whose crew's name begins with ``crew``."""
    page.goto(server.url)
    page.get_by_role("button", name=re.compile(f"^{crew}")).click()
    page.get_by_role("button", name=name, exact=True).click()


ENTER = re.compile("^(Sign in|Entrar)$")
"""What takes the PIN on the sign-in page, in the language of whoever has chosen his name there."""


def tap_pin(page: Page, pin: str, enter: str | re.Pattern[str] = ENTER) -> None:
    """Enter ``pin`` on the keys, once they are the ones that stay: a tap on keys about to be replaced is lost."""
    settled(page)
    for digit in pin:
        page.get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name=enter, exact=True).click()


def sign_in(page: Page, server: Server, hand: str) -> None:
    """Sign ``hand`` of the small rig in and wait until the browser has its cookie."""
    choose_name(page, server, hand)
    finish_sign_in(page, rig.PINS[hand])


def finish_sign_in(page: Page, pin: str, enter: str | re.Pattern[str] = ENTER) -> None:
    """Enter the PIN that opens the session, and wait until the browser has its cookie."""
    with page.expect_response("**/session") as answer:
        tap_pin(page, pin, enter)
    assert answer.value.status == 204
    expect(way_out(page)).to_be_visible()
    settled(page)


def pick_from(page: Page, name: str, option: str) -> None:
    """Choose ``option`` in the list called ``name``."""
    page.get_by_role("combobox", name=name).click()
    page.get_by_role("option", name=option, exact=True).click()


def saved(page: Page, button: str) -> bytes:
    """The file that the button gives."""
    with page.expect_download() as waiting:
        page.get_by_role("button", name=button).click()
    return waiting.value.path().read_bytes()


def way_out(page: Page) -> Locator:
    """The sign-out button, in either language."""
    return page.get_by_role("button", name=re.compile("^(Sign out|Salir)$"))


def violations(page: Page) -> list[str]:
    """What axe finds wrong at level A and AA, one line each."""
    settled(page)
    if not page.evaluate("typeof axe === 'object'"):
        page.evaluate(resources.files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))
    found = page.evaluate("tags => axe.run(document, { runOnly: tags, resultTypes: ['violations'] })", _A_AND_AA)
    return [
        f"{each['id']}: {node['target']} {node['failureSummary']}"
        for each in found["violations"]
        for node in each["nodes"]
    ]


def overflow(page: Page) -> int:
    """By how many pixels the page is wider than its window."""
    return int(page.evaluate("document.documentElement.scrollWidth - window.innerWidth"))
