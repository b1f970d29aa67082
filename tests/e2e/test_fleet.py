"""Two app processes on one PostgreSQL behind nginx, as README says: one dies, people go on with the other."""

from __future__ import annotations

import os
import re
import ssl
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.error import URLError

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID
from playwright.sync_api import Browser, Page, expect

from tests.app.learning import START, of
from tests.contract import postgres
from tests.e2e import rig
from tests.e2e.conftest import PATIENCE_MS, ROOT, Server, free_port, settled, sign_in, tap_pin, way_out
from tests.e2e.test_learning import answer_until_tiles
from tests.e2e.test_signoff import prepare, press, title, to_sheets
from trainer import clock, settings
from trainer.cli.browsers import find_nginx

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(find_nginx() is None, reason="no nginx on this machine"),
    pytest.mark.skipif(postgres.programs() is None, reason="no PostgreSQL on this machine"),
]

NAME = "slips.localhost"
"""A browser finds every name that ends so on this computer, without asking anybody."""

README = (ROOT / "README.md").read_text(encoding="utf-8")
WAYS = ("a", "b")

_FRAME = """
{user}
pid nginx.pid;
worker_processes 1;
events {{ worker_connections 512; }}
http {{
    access_log off;
    client_body_temp_path temp; proxy_temp_path temp; fastcgi_temp_path temp; uwsgi_temp_path temp; scgi_temp_path temp;
{site}
}}
"""


class App(Server):
    """One app process; several are started at once, which takes a small machine its time."""

    def start(self) -> None:
        """Start it; ``wait`` waits until it answers."""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(self.command, cwd=ROOT, env=self.environment, stdout=log, stderr=log)

    def wait(self) -> None:
        """Return once it answers."""
        for _ in range(1200):
            assert self.process is not None
            assert self.process.poll() is None, self.log.read_text()
            if self._answers():
                return
            time.sleep(0.1)
        raise AssertionError(self.log.read_text())


class Front(App):
    """nginx before the app processes."""

    @property
    def url(self) -> str:
        """The one address of them all."""
        return f"https://{NAME}:{self.port}/"

    def _answers(self) -> bool:
        trusting = ssl.create_default_context()
        trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE
        asked = urllib.request.Request(f"https://127.0.0.1:{self.port}/_stcore/health", headers={"Host": NAME})
        try:
            with urllib.request.urlopen(asked, timeout=2, context=trusting) as answer:
                return bool(answer.status == 200)
        except (URLError, OSError):
            return False


@dataclass
class Fleet:
    """The front and the app processes behind it, by the way that a browser's cookie names."""

    front: Front
    apps: dict[str, App]
    folder: Path


def told(command: str) -> list[list[str]]:
    """What README tells to type for that command of a fleet, word by word."""
    fleet = README[README.index("## For a fleet") : README.index("## When things go wrong")]
    return [line.split()[3:] for line in fleet.splitlines() if line.startswith(f"python3 -m trainer {command}")]


def nginx_told(changes: dict[str, str]) -> str:
    """The configuration that README shows, with ports and files of a test's own."""
    (shown,) = re.findall(r"```nginx\n(.*?)```", README, re.DOTALL)
    for was, now in changes.items():
        assert was in shown
        shown = shown.replace(was, now)
    return str(shown)


def certificate(folder: Path) -> None:
    """A certificate for ``NAME`` that nobody else has signed."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=2))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(NAME)]), critical=False)
        .sign(key, hashes.SHA256())
    )
    plain = (serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    (folder / "slips.key").write_bytes(key.private_bytes(*plain))
    (folder / "slips.pem").write_bytes(made.public_bytes(serialization.Encoding.PEM))


def front_of(folder: Path, ports: dict[str, int]) -> Front:
    """nginx as README has it, in a folder of its own."""
    port, home = free_port(), folder / "nginx"
    (home / "temp").mkdir(parents=True)
    certificate(home)
    changes = {
        ":8501": f":{ports['a']}",
        ":8502": f":{ports['b']}",
        "listen 443 ssl": f"listen 127.0.0.1:{port} ssl",
        "slips.example": NAME,
        "/etc/ssl/certs/slips.pem": str(home / "slips.pem"),
        "/etc/ssl/private/slips.key": str(home / "slips.key"),
    }
    user = "user root;" if os.geteuid() == 0 else ""
    (home / "nginx.conf").write_text(_FRAME.format(user=user, site=nginx_told(changes)), "utf-8")
    command = [str(find_nginx()), "-p", f"{home}/", "-c", "nginx.conf", "-e", "error.log", "-g", "daemon off;"]
    subprocess.run([*command[:-2], "-t"], check=True, capture_output=True)
    return Front(command, port, folder / "nginx.log", dict(os.environ))


@pytest.fixture
def fleet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Fleet]:
    """A small rig on PostgreSQL, two app processes, nginx before them."""
    with ExitStack() as stack:
        url = stack.enter_context(postgres.server()).database()
        monkeypatch.setenv("TRAINER_DATABASE_URL", url)
        prepare(tmp_path)
        kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
        surroundings = {
            **kept, "PYTHONPATH": str(ROOT), "TRAINER_DATABASE_URL": url, "TRAINER_NOW": clock.stamp(START)
        }  # fmt: skip
        ports = {way: free_port() for way in WAYS}
        apps = {
            way: App(
                command_as(words, tmp_path / "data", ports[way]), ports[way], tmp_path / f"{way}.log", surroundings
            )
            for way, words in zip(WAYS, told("serve"), strict=True)
        }
        for server in (*apps.values(), front := front_of(tmp_path, ports)):
            stack.callback(server.stop)
            server.start()
        for server in (*apps.values(), front):
            server.wait()
        yield Fleet(front, apps, tmp_path)


def command_as(words: list[str], data: Path, port: int) -> list[str]:
    """A line of README for a test's own folder, port and name."""
    changed = {"/srv/slips": str(data), "8501": str(port), "8502": str(port), "slips.example": NAME}
    return [sys.executable, "-m", "trainer", *(changed.get(word, word) for word in words)]


@contextmanager
def tablet(browser: Browser, fleet: Fleet, way: str) -> Iterator[Page]:
    """A new tablet whose line goes to the app process of that way."""
    context = browser.new_context(ignore_https_errors=True, locale="en-US", viewport={"width": 1280, "height": 900})
    context.set_default_timeout(3 * PATIENCE_MS)
    go(context.new_page(), fleet, way)
    try:
        yield context.pages[0]
    finally:
        context.close()


def go(page: Page, fleet: Fleet, way: str) -> None:
    """From now on new lines of this browser go that way."""
    page.context.add_cookies([{"name": "trainer_way", "value": way, "url": fleet.front.url, "secure": True}])


def way_of(page: Page) -> str:
    """The way that the browser's cookie names."""
    return next(each["value"] for each in page.context.cookies() if each["name"] == "trainer_way")


def test_a_quiz_goes_on_at_the_same_question_when_its_process_dies(browser: Browser, fleet: Fleet) -> None:
    desk = of(rig.open_desk(settings.read(fleet.folder / "data"), START), "luis")
    saved = answer_until_tiles(desk)
    desk.store.close()
    context = browser.new_context(ignore_https_errors=True, locale="en-US", viewport={"width": 1280, "height": 900})
    context.set_default_timeout(3 * PATIENCE_MS)
    page = context.new_page()
    sign_in(page, fleet.front, "luis")
    cookies = {each["name"]: each for each in context.cookies()}
    assert {cookies[name]["secure"] for name in ("trainer_session", "trainer_way")} == {True}
    page.locator(".st-key-next-press").get_by_role("button", name=re.compile("Seguir con|Go on with")).click()
    tile = page.locator("label.tile").first
    tile.click()
    go_on = page.get_by_role("button", name=re.compile("Save and go on|Guardar y seguir"))
    expect(go_on).to_be_enabled()
    question = page.locator("h3").first.inner_text()
    settled(page)

    first = way_of(page)
    fleet.apps[first].kill()
    expect(page.get_by_test_id("stApp")).not_to_have_attribute("data-test-connection-state", "CONNECTED")
    settled(page)
    expect(page.locator("h3").first).to_have_text(question)
    expect(tile.locator("input")).to_be_checked()
    go_on.click()
    expect(page.get_by_text(re.compile(rf"\b{saved + 1}\b.*\b12\b")).first).to_be_visible()
    assert way_of(page) != first

    # The dead one comes back; whoever went over stays where his line is.
    fleet.apps[first].start()
    fleet.apps[first].wait()
    page.reload()
    settled(page)
    assert way_of(page) != first
    context.close()


def test_what_is_signed_with_one_process_stands_on_the_matrix_of_the_other(browser: Browser, fleet: Fleet) -> None:
    with tablet(browser, fleet, "b") as office, tablet(browser, fleet, "a") as floor:
        sign_in(office, fleet.front, rig.COORDINATOR)
        row = office.get_by_role("row", name=re.compile("^Ray Dunn"))
        off = row.get_by_role("gridcell", name="Off the slips")
        expect(row).to_be_visible()
        settled(office)
        expect(off).to_have_count(0)

        sign_in(floor, fleet.front, "bill")
        to_sheets(floor)
        press(floor, re.compile("^Ray Dunn Assessment"))
        press(floor, re.compile("^Look it over"))
        press(floor, re.compile("Ray Dunn does not want to sign"))
        tap_pin(floor, rig.PINS["bill"], "Sign")
        title(floor, "Signed")

        office.reload()
        expect(off).to_be_visible()
        assert (way_of(office), way_of(floor)) == ("b", "a")


def test_a_sign_out_on_one_process_ends_the_session_on_the_other(browser: Browser, fleet: Fleet) -> None:
    with tablet(browser, fleet, "a") as page:
        sign_in(page, fleet.front, "ray")
        go(page, fleet, "b")
        other = page.context.new_page()
        other.goto(fleet.front.url)
        expect(other.get_by_text("Ray Dunn")).to_be_visible()
        settled(other)
        assert way_of(other) == "b"

        way_out(other).click()
        expect(other.get_by_role("heading", name="Which crew?")).to_be_visible()
        expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
