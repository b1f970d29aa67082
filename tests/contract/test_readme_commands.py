"""What README says to type when things go wrong does what it says, on either dialect of the store."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.contract.test_ledger_commands import LATER, Place, Sites, sites

__all__ = ["sites"]

README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
TABLE = README[README.index("## When things go wrong") : README.index("## Cautions")]
TOLD = [shlex.split(line) for line in re.findall(r"`python3 -m trainer ([^`]+)`", TABLE)]
# ``serve`` does not end by itself; the browser tests start it.
COMMANDS = {words[0]: words for words in TOLD if words[0] != "serve"}


@pytest.fixture
def place(sites: Sites) -> Place:
    """A site of two people of whom one has left."""
    return sites("A", left="2026-03-02")


def typed(command: str, values: Mapping[str, str]) -> list[str]:
    """The words as README has them, but for what stands there for something of the reader's own."""
    return [values.get(word, word) for word in COMMANDS[command]]


def test_the_table_tells_of_every_command_for_it() -> None:
    assert COMMANDS.keys() == {"void", "verify", "backup", "restore", "erase", "restrict"}


def test_the_commands_run_as_they_stand(place: Place, sites: Sites, tmp_path: Path) -> None:
    lines = place.good("records", "--format", "json", "--out", "-").splitlines()
    wrong = next(each for each in map(json.loads, lines) if each["kind"] == "outside")
    own = {"RECORD_ID": wrong["record_id"], "HAND": "ab"}
    kept = {"/other/disk/rig-7.backup": str(tmp_path / "7"), "rig-7.backup": str(tmp_path / "7")}
    place.good(*typed("void", own))
    place.good(*typed("restrict", own))
    place.good(*typed("erase", own), now=LATER)
    place.good(*typed("backup", kept), now=LATER)
    new = sites("NEW", filled=False)
    new.good(*typed("restore", kept), now=LATER)
    assert place.good(*typed("verify", {})) == new.good(*typed("verify", {}))
    assert new.matrix() == place.matrix()
