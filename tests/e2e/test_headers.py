"""What the server answers before any script runs."""

from __future__ import annotations

import os
import subprocess
import urllib.request
from pathlib import Path
from urllib.error import HTTPError

import pytest

from tests.e2e.conftest import ROOT, Server, command_of, free_port

pytestmark = pytest.mark.browser


def ask(url: str, method: str = "GET", **headers: str) -> tuple[int, dict[str, str], str]:
    """Status, headers in lower case, and text of one answer."""
    request = urllib.request.Request(
        url, method=method, headers={name.replace("_", "-"): value for name, value in headers.items()}
    )
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return (
                answer.status,
                {k.lower(): v for k, v in answer.headers.items()},
                answer.read().decode(errors="replace"),
            )
    except HTTPError as error:
        return error.code, {k.lower(): v for k, v in error.headers.items()}, ""


@pytest.mark.parametrize(
    "path", ["", "card", "assets/style.css", "assets/icon.svg", "_stcore/health", "no/such/page", "_stcore/metrics"]
)
def test_every_answer_carries_the_policy(shared_server: Server, path: str) -> None:
    _, headers, _ = ask(shared_server.url + path)

    policy = headers["content-security-policy"]
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe-eval" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"


@pytest.mark.parametrize("path", ["_stcore/metrics", "_stcore/agent/openapi.json"])
def test_what_speaks_of_the_inside_is_refused(shared_server: Server, path: str) -> None:
    assert ask(shared_server.url + path)[0] == 404


def test_the_first_page_is_ours_from_its_first_byte(shared_server: Server) -> None:
    _, _, text = ask(shared_server.url)

    assert "<title>On the slips</title>" in text
    assert 'href="/assets/style.css"' in text
    assert "<title>Streamlit" not in text
    assert "service-desc" not in text


@pytest.mark.parametrize("name", ["../../content/site.yaml", "%2e%2e/style.css", "no-such.woff2", "OFL.txt"])
def test_the_font_address_gives_fonts_only(shared_server: Server, name: str) -> None:
    assert ask(f"{shared_server.url}assets/fonts/{name}")[0] in (400, 404)


@pytest.mark.parametrize("method", ["POST", "DELETE"])
@pytest.mark.parametrize(
    ("origin", "ticket"),
    [("", "t"), ("null", "t"), ("http://elsewhere.example", "t"), ("own", "")],
)
def test_the_session_address_answers_our_own_page_only(
    shared_server: Server, method: str, origin: str, ticket: str
) -> None:
    headers = {}
    if origin:
        headers["Origin"] = shared_server.url.rstrip("/") if origin == "own" else origin
    if ticket:
        headers["X_Trainer_Ticket"] = ticket

    assert ask(f"{shared_server.url}session", method, **headers)[0] == 403


def test_a_made_up_ticket_gets_no_cookie(shared_server: Server) -> None:
    own = shared_server.url.rstrip("/")
    status, headers, _ = ask(f"{own}/session", "POST", Origin=own, X_Trainer_Ticket="made-up")

    assert status == 403
    assert "set-cookie" not in headers


def test_a_port_that_is_taken_is_said_in_one_line(shared_server: Server, tmp_path: Path) -> None:
    done = subprocess.run(
        command_of(tmp_path, shared_server.port), env=shared_server.environment, cwd=ROOT,
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip

    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert str(shared_server.port) in done.stderr


def test_the_server_says_one_line_with_its_address(shared_server: Server) -> None:
    said = shared_server.log.read_text().splitlines()

    assert len(said) == 1
    assert f"http://127.0.0.1:{shared_server.port}" in said[0]


def test_broken_content_keeps_the_server_from_starting_and_is_told_by_line(tmp_path: Path) -> None:
    content = tmp_path / "root" / "content"
    content.mkdir(parents=True)
    (content / "competencies.yaml").write_text("- id: grip\n  title: {en: Grip}\n  for floorhand\n", encoding="utf-8")
    (content / "site.yaml").write_text("positions: {}\n", encoding="utf-8")
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    done = subprocess.run(
        command_of(tmp_path / "data", free_port()), env={**kept, "TRAINER_ROOT": str(tmp_path / "root")}, cwd=ROOT,
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip

    assert done.returncode == 1
    assert done.stdout == ""
    said = 'content/competencies.yaml:3: file: a colon is missing after the first word - write "for: floorhand"'
    assert said in done.stderr
    assert "Traceback" not in done.stderr
