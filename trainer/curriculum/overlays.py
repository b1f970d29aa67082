"""A third language: ``NAME.pt.yaml`` beside ``NAME.yaml`` holds the same tree with only ids and plain sentences.

Merging adds each sentence to the sentence of the same place, found by key, and in lists by ``id`` or ``part``. What the
overlay leaves out falls back to English on screen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as File

from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label
from trainer.curriculum.report import Report
from trainer.curriculum.shaping import LANGUAGE

__all__ = ["merged", "overlay_language", "overlays_of"]

_NAME = re.compile(rf"(?P<base>.+)\.(?P<language>{LANGUAGE.pattern})\.yaml")


def overlay_language(file: File) -> str | None:
    """The language of an overlay by its file name, ``None`` for a file that stands for itself."""
    found = _NAME.fullmatch(file.name)
    return found["language"] if found else None


def overlays_of(file: File) -> Iterator[tuple[str, File]]:
    """Each overlay beside ``file`` as (language, overlay), by name."""
    for each in sorted(file.parent.glob(f"{file.stem}.*.yaml")):
        found = _NAME.fullmatch(each.name)
        if found and found["base"] == file.stem:
            yield found["language"], each


def merged(base: Node, overlay: Node, language: str, report: Report, path: Path = ()) -> Node:
    """``base`` with the sentences of ``overlay`` added under ``language``; what fits nowhere is in ``report``."""
    if isinstance(base, Fields) and isinstance(overlay, Scalar):
        return _with_sentence(base, overlay, language, report, path)
    if isinstance(base, Fields) and isinstance(overlay, Fields):
        return _merged_fields(base, overlay, language, report, path)
    if isinstance(base, Listed) and isinstance(overlay, Listed):
        return _merged_list(base, overlay, language, report, path)
    if not (isinstance(base, Scalar) and isinstance(overlay, Scalar) and base.text == overlay.text):
        report.add(path, "differs from the file it translates", "keep only ids and sentences here", line=overlay.line)
    return base


def _with_sentence(base: Fields, sentence: Scalar, language: str, report: Report, path: Path) -> Node:
    if base.key("en") is None:
        report.add(path, "a sentence where the translated file has none", "leave it out", line=sentence.line)
        return base
    kept = tuple(pair for pair in base.pairs if pair[0].text != language)
    added = replace(sentence, file=report.file)
    return Fields((*kept, (Scalar(language, language, sentence.line), added)), base.line)


def _merged_fields(base: Fields, overlay: Fields, language: str, report: Report, path: Path) -> Node:
    for key, _ in overlay.pairs:
        if base.key(key.text) is None:
            report.add((*path, key.text), "not in the file it translates", "leave it out", line=key.line)
    pairs = []
    for key, value in base.pairs:
        added = overlay.get(key.text)
        pairs.append((key, value if added is None else merged(value, added, language, report, (*path, key.text))))
    return Fields(tuple(pairs), base.line)


def _merged_list(base: Listed, overlay: Listed, language: str, report: Report, path: Path) -> Node:
    wanted = {label(each, number): each for number, each in enumerate(overlay.entries, 1)}
    entries = []
    for number, each in enumerate(base.entries, 1):
        added = wanted.pop(label(each, number), None)
        step = (*path, label(each, number))
        entries.append(each if added is None else merged(each, added, language, report, step))
    for name, each in wanted.items():
        report.add((*path, name), "not in the file it translates", "leave it out", line=each.line)
    return Listed(tuple(entries), base.line)
