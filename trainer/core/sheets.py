"""A drawn sheet to be read, in one person's hands: which sheet it is, and the task as the choice that it then is."""

from __future__ import annotations

from collections.abc import Mapping

from trainer.core.readings import reading
from trainer.core.tasks import ChooseOne, DrawnTask, Option, ReadSheet, Task

__all__ = ["as_drawn"]


def as_drawn(task: Task, parameters: Mapping[str, str]) -> DrawnTask:
    """``task`` with what its drawn ``parameters`` decide: a sheet to read is the choice of the one answer it has.

    Raises ``ValueError`` where no option says it: content that passed its checks draws no such sheet.
    """
    if not isinstance(task, ReadSheet):
        return task
    key = reading(task.function, parameters).key
    if all(each.id != key for each in task.options):
        raise ValueError(f"no option says {key}")
    return ChooseOne(
        tuple(
            Option(each.id, each.id == key, each.why, each.text, None if each.id == key else each.then)
            for each in task.options
        )
    )
