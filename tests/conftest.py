"""What every test may rely on: no setting of whoever runs it reaches it, and no clock judges it."""

from __future__ import annotations

import os

import hypothesis
import pytest

from tests.contract import postgres
from tests.faults.rooms import can_mount
from trainer.cli.browsers import find_nginx, find_pdftotext

# A loaded machine is slow, not wrong; and a failure that was found once is found again by anybody.
hypothesis.settings.register_profile("trainer", deadline=None, derandomize=True, database=None)
hypothesis.settings.load_profile("trainer")

for name in [name for name in os.environ if name.startswith("TRAINER_") and name != "TRAINER_BROWSER"]:
    del os.environ[name]


def pytest_addoption(parser: pytest.Parser) -> None:
    """``--full`` tries each fault many times, as ``bench --full`` does; without it a few times."""
    parser.addoption("--full", action="store_true", help="try each fault as often as before a release")


@pytest.fixture(scope="session")
def is_full(pytestconfig: pytest.Config) -> bool:
    """Whether each fault is tried as often as before a release."""
    return bool(pytestconfig.getoption("--full"))


def pytest_report_header() -> list[str]:
    """Which dialects of the store are tested, and whether printed text is, so that what is left out is seen."""
    found, reader, nginx = postgres.programs(), find_pdftotext(), find_nginx()
    return [
        f"store: sqlite, postgresql in {found}" if found else "store: sqlite only, no PostgreSQL on this machine",
        f"printed text: {reader}" if reader else "printed text: not looked at, no pdftotext (install poppler-utils)",
        f"several app processes: behind {nginx}" if nginx else "several app processes: left out, no nginx",
        "full and read-only disks: mounted" if can_mount() else "full and read-only disks: by limits and modes only",
    ]
