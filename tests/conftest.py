"""What every test may rely on: no setting of whoever runs it reaches it, and no clock judges it."""

from __future__ import annotations

import os

import hypothesis

from tests.contract import postgres
from trainer.cli.browsers import find_pdftotext

# A loaded machine is slow, not wrong; and a failure that was found once is found again by anybody.
hypothesis.settings.register_profile("trainer", deadline=None, derandomize=True, database=None)
hypothesis.settings.load_profile("trainer")

for name in [name for name in os.environ if name.startswith("TRAINER_") and name != "TRAINER_BROWSER"]:
    del os.environ[name]


def pytest_report_header() -> list[str]:
    """Which dialects of the store are tested, and whether printed text is, so that what is left out is seen."""
    found, reader = postgres.programs(), find_pdftotext()
    return [
        f"store: sqlite, postgresql in {found}" if found else "store: sqlite only, no PostgreSQL on this machine",
        f"printed text: {reader}" if reader else "printed text: not looked at, no pdftotext (install poppler-utils)",
    ]
