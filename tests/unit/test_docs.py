"""README and DEVELOPERS say what is there: commands, settings, record kinds, folders."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from trainer.cli.arguments import COMMANDS, parser
from trainer.core.records import BODIES

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
BOTH = README + DEVELOPERS


def commands_told() -> list[str]:
    """Every ``python3 -m trainer ...`` that either page tells a reader to type."""
    return sorted(set(re.findall(r"python3 -m trainer ([^`\n,|;]+)", BOTH)))


def test_every_command_is_told() -> None:
    told = {line.split()[0] for line in commands_told()}
    assert {each.name for each in COMMANDS} <= told


@pytest.mark.parametrize("line", commands_told())
def test_every_command_told_can_be_typed_so(line: str) -> None:
    parser().parse_args(shlex.split(line))


def test_every_setting_is_told() -> None:
    used = {
        name
        for path in (ROOT / "trainer").rglob("*.py")
        for name in re.findall(r'"(TRAINER_[A-Z_]+)"', path.read_text(encoding="utf-8"))
    }
    assert used - set(re.findall(r"TRAINER_[A-Z_]+", DEVELOPERS)) == set()


def test_every_record_kind_is_told() -> None:
    assert {kind for kind, _ in BODIES} <= set(re.findall(r"`([a-z-]+)`", DEVELOPERS))


def test_every_picture_and_page_that_is_linked_is_there() -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", BOTH):
        assert (ROOT / target).exists(), target
