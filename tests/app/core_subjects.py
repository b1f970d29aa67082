"""A content root with the first six subjects only: what is next on a card must not hang on how many there are."""

from __future__ import annotations

from pathlib import Path

import yaml

from trainer import settings

__all__ = ["core_root"]

CORE = ("calls-signals", "hand-placement", "lifting-footing", "crewing-handles", "set-slips", "pull-slips")


def core_root(folder: Path) -> Path:
    """``folder`` with the app's own content, but for the other subjects; calls and signals only watched."""
    own = settings.read().app_root
    (folder / "content/checklists").mkdir(parents=True)
    for name in ("lessons", "site.yaml", "terms.yaml", "words", "pictures.yaml"):
        (folder / "content" / name).symlink_to(own / "content" / name)
    (folder / "quizzes").symlink_to(own / "quizzes")
    sheet = "content/checklists/connections.yaml"
    (folder / sheet).symlink_to(own / sheet)
    every = yaml.safe_load((own / "content/competencies.yaml").read_text(encoding="utf-8"))
    kept = [each for each in every if each["id"] in CORE]
    for each in kept:
        if each["id"] == CORE[0]:
            del each["needs"]["knowledge"]
        each["after"] = [name for name in each.get("after", ()) if name in CORE]
    text = yaml.safe_dump(kept, allow_unicode=True, sort_keys=False)
    (folder / "content/competencies.yaml").write_text(text, encoding="utf-8")
    return folder
