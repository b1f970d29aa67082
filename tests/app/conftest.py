"""The page script run without a browser, on a small rig of its own."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.e2e import rig
from trainer.actions import signing_in
from trainer.actions.desk import Desk
from trainer.web import cached, session
from trainer.web.session import Session

APP = Path(cached.__file__).with_name("app.py")
PATIENCE_S = 120
"""So long a page may take on a machine that has other work; no test is about it."""


@pytest.fixture(autouse=True)
def _the_same_main(monkeypatch: pytest.MonkeyPatch) -> None:
    """A run of the page script leaves itself as the main module: a process that began later would run it too."""
    monkeypatch.setitem(sys.modules, "__main__", sys.modules["__main__"])


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the app of this test keeps its data: nothing is there yet."""
    folder = tmp_path / "data"
    monkeypatch.setenv("TRAINER_DATA", str(folder))
    for name in ("TRAINER_ROOT", "TRAINER_DATABASE_URL", "TRAINER_NOW"):
        monkeypatch.delenv(name, raising=False)
    return folder


@pytest.fixture
def site(data: Path) -> Iterator[Desk]:
    """A small rig; the desk is the command line's."""
    desk = rig.open_desk(rig.make(data))
    yield desk
    desk.store.close()


@pytest.fixture
def app() -> AppTest:
    """The page script, not run yet."""
    return AppTest.from_file(str(APP), default_timeout=PATIENCE_S)


def signed_in(app: AppTest, site: Desk, hand: str) -> str:
    """Put ``hand`` behind the tab of ``app``; the sign-in session's id."""
    opened = signing_in.sign_in(site, hand, rig.PINS[hand], "tests")
    app.session_state["trainer"] = Session(token=opened.session, owner=hand)
    return opened.session


def held(app: AppTest) -> Session:
    """What the tab holds now."""
    found = app.session_state["trainer"]
    assert isinstance(found, session.Session)
    return found
