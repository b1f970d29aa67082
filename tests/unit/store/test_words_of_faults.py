"""Every fault that verify can find has its sentence."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

WORDS = Path(__file__).parents[3] / "content" / "words"


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_fault_of_verify_has_its_sentence(language: str) -> None:
    words = yaml.safe_load((WORDS / f"{language}.yaml").read_text(encoding="utf-8"))["verify"]
    chain = {"gap", "prev", "hash", "form", "head"}
    rows = {f"{what}-{how}" for what in ("evidence", "stay", "void") for how in ("extra", "missing")}
    assert set(words) >= chain | rows
    assert all("{site}" in words[code] and "{seq}" in words[code] for code in chain | rows)
