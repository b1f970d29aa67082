"""A lesson played without a trace: any scene, what follows from an answer, and the next one."""

from __future__ import annotations

import streamlit as st

from trainer.actions import learning, trying
from trainer.core.lessons import Lesson, Scene
from trainer.core.playing import ONWARD
from trainer.core.tasks import Answer
from trainer.curriculum.loaded import lesson_file
from trainer.errors import BadInput
from trainer.web import door, place, scenes_drawn, tryout_way, wording
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.tasks_drawn import draw as draw_task
from trainer.web.tasks_drawn import ready

__all__ = ["draw"]

_GIVEN = "given"


def draw(here: door.Here, lesson: Lesson) -> None:
    """The scene named in the address, else the first one; the page after the last."""
    if place.at("done"):
        _end(here, lesson)
        return
    scene = lesson.scene(place.at("scene")) or lesson.scenes[0]
    seed = tryout_way.seed_of(lesson.id, lesson.hash)
    _pick(here, lesson, scene)
    given = tryout_way.answer_of(seed, f"{scene.id}-{_GIVEN}")
    try:
        playing = trying.stand(here.desk, lesson, scene.id, seed, given)
    except BadInput:  # kept on another wording that happens to bear this name
        given, playing = None, trying.stand(here.desk, lesson, scene.id, seed)
    if given is None or not scenes_drawn.has_outcome(playing):
        _ask(here, lesson, scene, seed)
    else:
        scenes_drawn.outcome(here, playing)
        is_right = playing.last is not None and playing.last.right
        if press(here.words.say("lesson.go-on" if is_right else "lesson.try-again"), "tryout-on", kind="primary"):
            tryout_way.keep_answer(seed, scene.id, None)
            if is_right:
                _go_to(playing.scene)
            st.rerun()
    _facts(here, lesson, scene)


def _pick(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    """Any scene of the lesson, by its number and title."""
    names = [each.id for each in lesson.scenes]
    titles = {each.id: f"{n}. {here.words.pick(each.title)}" for n, each in enumerate(lesson.scenes, 1)}
    picked = st.selectbox(
        here.words.say("tryout.scene"), names, index=names.index(scene.id),
        format_func=lambda name: titles[name], key=f"tryout-scene-{here.language}-{lesson.id}-{scene.id}",
    )  # fmt: skip
    if picked != scene.id:
        place.put(scene=picked)
        st.rerun()


def _ask(here: door.Here, lesson: Lesson, scene: Scene, seed: str) -> None:
    playing = trying.stand(here.desk, lesson, scene.id, seed)
    scenes_drawn.situation(here, playing.play, scene)
    shown = learning.shown_scene(playing, here.language)
    answer: Answer = ONWARD
    label = "lesson.go-on"
    if shown is not None:
        kept = tryout_way.answer_of(seed, scene.id)
        moved = draw_task(shown, kept, ask=scenes_drawn.ask_of(here, scene), words=here.words, key=f"{seed}-{scene.id}")
        if moved is not None:
            tryout_way.keep_answer(seed, scene.id, moved)
        given = ready(shown, kept if moved is None else moved)
        label = "lesson.decide" if given else "lesson.choose-first"
        answer = given or ONWARD
    is_open = shown is not None and not answer
    if press(here.words.say(label), f"tryout-decide-{scene.id}", kind="primary", disabled=is_open, stays=True):
        chosen = trying.choose(here.desk, playing, answer)
        if shown is None:
            _go_to(trying.stand(here.desk, lesson, scene.id, seed, ONWARD).scene)
        else:
            tryout_way.keep_answer(seed, f"{scene.id}-{_GIVEN}", chosen)
        st.rerun()


def _go_to(scene: Scene | None) -> None:
    if scene is None:
        place.put(done="1", scene=None)
    else:
        place.put(scene=scene.id)


def _facts(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    """Where the scene is written and what it is for; which items ask what it teaches."""
    st.caption(tryout_way.written_at(here, lesson_file(lesson.id), ("scenes", scene.id)))
    st.markdown(here.words.say("tryout.part", part=here.words.say(f"tryout.part-{scene.part}"), id=plain(scene.id)))
    st.caption(here.words.say("tryout.wording", hash=lesson.hash[:12]))
    items = [
        (bank.id, item)
        for bank in here.desk.catalogue.banks.values()
        if bank.lesson == lesson.id
        for item in bank.items
        if item.scene == scene.id
    ]
    if items:
        st.markdown(here.words.say("tryout.asked-by"))
        with st.container(key="tryout-items", horizontal=True):
            for quiz, item in items:
                if press(plain(item.id), f"tryout-item-{quiz}-{item.id}", kind="tertiary", wide=False):
                    place.put(lesson=None, scene=None, quiz=quiz, item=item.id)
                    st.rerun()


def _end(here: door.Here, lesson: Lesson) -> None:
    st.title(here.words.say("lesson.end-title"), anchor=False)
    st.markdown(wording.line(lesson.objective, here.words))
    st.markdown(here.words.say("tryout.end-text"))
    if press(here.words.say("lesson.again"), "tryout-play-again"):
        tryout_way.turn_over()
        place.put(done=None, scene=None)
        st.rerun()
