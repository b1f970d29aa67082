"""A hand plays a lesson: decides, sees what follows, reads why, goes on. Every choice is kept before anything is shown.

A played lesson is no evidence, and nothing asks for one: a hand who knows it goes straight to the quiz.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from math import ceil
from typing import cast

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.answers import from_json, to_json
from trainer.core.lessons import Lesson, Scene
from trainer.core.playing import ONWARD, Path, Play, Step, Try, is_finished, now_at, path_text, shown_step, take
from trainer.core.records import Json, LessonTaken, Record
from trainer.core.shown import ShownTask, show_task, to_answer, to_handles
from trainer.core.tasks import Answer
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Draft, Reading

__all__ = ["KIND", "Playing", "choose", "drop", "finish", "keep", "open_lesson", "scene_number", "shown_scene"]

KIND = "lesson"

# A tablet left lying is no reading; so long a pause still is.
_LONGEST_PAUSE_SECONDS = 300


@dataclass(frozen=True, slots=True)
class Playing:
    """A lesson being played. ``draft_id`` is also the id of the record that its end writes.

    ``scene`` is where the player stands, ``None`` at the end; ``last`` what the last choice showed. ``kept`` is what
    was tapped in the scene so far, in handles; after a wrong try that can be mended, that try.
    """

    draft_id: str
    play: Play
    path: Path
    scene: Scene | None
    last: Step | None
    seconds: int
    kept: Answer | None = None

    @property
    def is_finished(self) -> bool:
        """Whether the last scene is done."""
        return self.scene is None


def open_lesson(desk: Desk, lesson: str) -> Playing:
    """The lesson where this hand left it, else from its first scene.

    One that no longer fits its path, because the lesson was rewritten, begins anew. Raises ``NotFound("no-lesson")``.
    """
    may.require(desk, "learning.open_lesson")
    content = _lesson(desk, lesson)
    with desk.store.transaction() as writing:
        for draft in writing.drafts(owner=desk.actor.hand, kind=KIND, subject=lesson):
            if draft.body["content"] == content.hash:
                return _playing(content, draft)
            writing.drop_draft(draft.draft_id)
        body: dict[str, Json] = {"content": content.hash, "path": [], "seconds": 0}
        draft = Draft(desk.new_id(), desk.actor.hand, KIND, lesson, body, desk.at, desk.at)
        writing.put_draft(draft)
    return _playing(content, draft)


def scene_number(desk: Desk, lesson: str) -> int:
    """In which scene, counted from 1, this hand left that lesson; 0 when it is not begun or begins anew."""
    may.require(desk, "learning.open_lesson")
    content = _lesson(desk, lesson)
    for draft in desk.store.drafts(owner=desk.actor.hand, kind=KIND, subject=lesson):
        playing = _playing(content, draft) if draft.body["content"] == content.hash else None
        if playing and playing.path:
            return content.scenes.index(playing.scene) + 1 if playing.scene else len(content.scenes)
    return 0


def shown_scene(playing: Playing, language: str) -> ShownTask | None:
    """The task of the scene that the player stands in, under handles; ``None`` for a scene that asks nothing."""
    scene = playing.scene
    if scene is None or scene.task is None:
        return None
    return show_task(scene.task, playing.play.order(scene), language, playing.play.parameters(scene))


def keep(desk: Desk, draft_id: str, scene: str, answer: Answer) -> None:
    """Keep what was tapped so far in ``scene``, in handles, so that a reload finds it; it is no try yet.

    Nothing happens from a page that is behind. Raises ``BadInput("not-offered")``, ``NotFound("no-draft")``.
    """
    may.require(desk, "learning.keep")
    with desk.store.transaction() as writing:
        draft = _draft(writing, desk, draft_id)
        playing = _playing(_lesson(desk, draft.subject), draft)
        here = playing.scene
        if here is not None and here.id == scene and here.task:
            tapped: list[Json] = [scene, to_json(to_answer(here.task, playing.play.order(here), answer))]
            writing.put_draft(replace(draft, body={**draft.body, "tapped": tapped}))


def choose(desk: Desk, draft_id: str, scene: str, answer: Answer = ONWARD) -> Playing:
    """The lesson after ``answer``, in handles, to ``scene``; it is kept before this returns.

    A second press, or one from a page that is behind, changes nothing: the answer counts only in the scene that the
    player stands in, and the same wrong choice again is one try. Raises ``BadInput`` for an answer that the scene does
    not offer, ``NotFound("no-draft")``.
    """
    may.require(desk, "learning.choose")
    with desk.store.transaction() as writing:
        draft = _draft(writing, desk, draft_id)
        playing = _playing(_lesson(desk, draft.subject), draft)
        here = playing.scene
        if here is None or here.id != scene:
            return playing
        given = to_answer(here.task, playing.play.order(here), answer) if here.task else ONWARD
        path, _ = take(playing.play, playing.path, given)
        if playing.path and path[-1] == playing.path[-1]:
            return playing
        kept = replace(draft, body=_body(desk, draft, path), touched=desk.at)
        writing.put_draft(kept)
    return _playing(playing.play.lesson, kept)


def finish(desk: Desk, draft_id: str) -> Record:
    """The ``lesson`` record of a lesson played to its end; a second press returns the first record.

    Raises ``Refused("lesson-not-finished")`` before the end, ``NotFound("no-draft")``.
    """
    may.require(desk, "learning.finish")
    with desk.store.transaction() as writing:
        there = writing.record(draft_id)
        if there is not None and there.hand == desk.actor.hand:
            return there
        draft = _draft(writing, desk, draft_id)
        playing = _playing(_lesson(desk, draft.subject), draft)
        if not is_finished(playing.play, playing.path):
            raise Refused("lesson-not-finished")
        record = writing.append(desk.new_record(_taken(desk, playing), hand=desk.actor.hand, record_id=draft_id))
        writing.drop_draft(draft_id)
        return record


def drop(desk: Desk, draft_id: str) -> None:
    """Forget how far this hand was in that lesson; nothing happens where there is no such draft of his."""
    may.require(desk, "learning.drop")
    with desk.store.transaction() as writing:
        draft = writing.draft(draft_id)
        if draft is not None and draft.owner == desk.actor.hand and draft.kind == KIND:
            writing.drop_draft(draft_id)


def _lesson(desk: Desk, name: str) -> Lesson:
    lesson = desk.catalogue.lessons.get(name)
    if lesson is None:
        raise NotFound("no-lesson", lesson=name)
    return lesson


def _draft(reading: Reading, desk: Desk, draft_id: str) -> Draft:
    draft = reading.draft(draft_id)
    if draft is None or draft.owner != desk.actor.hand or draft.kind != KIND:
        raise NotFound("no-draft")
    return draft


def _playing(lesson: Lesson, draft: Draft) -> Playing:
    if draft.body["content"] != lesson.hash:
        raise BadInput("lesson-changed", lesson=lesson.id)
    play = Play(lesson, draft.draft_id, FUNCTIONS)
    path = tuple(_try(each) for each in cast("list[list[Json]]", draft.body["path"]))
    last = None
    if path:
        scene = lesson.scene(path[-1].scene)
        last = shown_step(play, scene, path[-1].answer) if scene else None
    scene = now_at(play, path)
    kept = _kept(play, scene, draft, path) if scene else None
    return Playing(draft.draft_id, play, path, scene, last, cast("int", draft.body["seconds"]), kept)


def _kept(play: Play, scene: Scene, draft: Draft, path: Path) -> Answer | None:
    """What to show as tapped in ``scene``: what was tapped since the last try, else a try to be mended."""
    tapped = cast("list[Json] | None", draft.body.get("tapped"))
    if scene.task is None:
        return None
    if tapped and tapped[0] == scene.id:
        given = from_json(tapped[1])
        return None if given is None else to_handles(scene.task, play.order(scene), given)
    if path and path[-1].scene == scene.id and not isinstance(path[-1].answer, str):
        return to_handles(scene.task, play.order(scene), path[-1].answer)
    return None


def _try(kept: list[Json]) -> Try:
    scene, answer = kept
    given = from_json(answer)
    return Try(cast("str", scene), ONWARD if given is None else given)


def _body(desk: Desk, draft: Draft, path: Path) -> Mapping[str, Json]:
    pause = (desk.now - datetime.fromisoformat(draft.touched)).total_seconds()
    seconds = cast("int", draft.body["seconds"]) + round(min(max(pause, 0), _LONGEST_PAUSE_SECONDS))
    tries: list[Json] = [[each.scene, to_json(each.answer)] for each in path]
    return {**draft.body, "path": tries, "seconds": seconds, "tapped": None}


def _taken(desk: Desk, playing: Playing) -> LessonTaken:
    lesson = playing.play.lesson
    minutes = max(1, ceil(playing.seconds / 60))
    return LessonTaken(lesson.id, lesson.hash, desk.actor.language, path_text(playing.path), minutes)
