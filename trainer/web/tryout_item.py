"""One item played without a trace: the question as a hand sees it, then its key with the reasons, and its facts."""

from __future__ import annotations

import streamlit as st

from trainer.actions import trying
from trainer.actions.trying import Asked
from trainer.core.banks import Bank, Item
from trainer.core.marking import Marked
from trainer.core.sheets import as_drawn
from trainer.core.tasks import Answer, PlaceCrew, PutInOrder, TickSteps, WorkOut
from trainer.core.telling import told
from trainer.curriculum.loaded import bank_file
from trainer.errors import BadInput
from trainer.web import aloud, door, place, tryout_way, wording
from trainer.web.plain import paragraphs, plain
from trainer.web.press import press
from trainer.web.tasks_drawn import answer_words, draw_picture, draw_told, ready
from trainer.web.tasks_drawn import draw as draw_task

__all__ = ["draw"]

_GIVEN = "given"


def draw(here: door.Here, bank: Bank) -> None:
    """The item named in the address, else the first one of the bank."""
    item = bank.item(place.at("item")) or bank.items[0]
    st.markdown(here.words.say("quiz.title", title=wording.line(bank.title, here.words)))
    _pick(here, bank, item)
    seed = tryout_way.seed_of(f"{bank.id}-{item.id}", bank.hash)
    asked = trying.ask(here.desk, bank, item.id, seed)
    _question(here, asked)
    if not _outcome(here, asked, seed):
        _answer(here, asked, seed)
    _facts(here, asked)
    _onward(here, bank, item)


def _pick(here: door.Here, bank: Bank, item: Item) -> None:
    """Any item of the bank, by its number and the beginning of its question."""
    names = [each.id for each in bank.items]
    titles = {each.id: f"{n}. {each.id}: {here.words.pick(each.text)}" for n, each in enumerate(bank.items, 1)}
    picked = st.selectbox(
        here.words.say("tryout.item"), names, index=names.index(item.id),
        format_func=lambda name: titles[name], key=f"tryout-pick-{here.language}-{bank.id}-{item.id}",
    )  # fmt: skip
    if picked != item.id:
        place.put(item=picked)
        st.rerun()


def _question(here: door.Here, asked: Asked) -> None:
    names = [each.id for each in asked.bank.items]
    with aloud.beside(here.words, f"tryout-{asked.bank.id}-{asked.item.id}", asked.item):
        number = names.index(asked.item.id) + 1
        st.markdown(here.words.say("quiz.question-of", number=number, items=len(names)))
    wording.mark_untranslated(here.words, asked.item)
    if asked.shown.situation:
        st.markdown(paragraphs(asked.shown.situation))
    st.subheader(plain(asked.shown.text), anchor=False)
    draw_picture(asked.shown.picture, here.words, key=f"tryout-picture-{asked.bank.id}-{asked.item.id}")


def _answer(here: door.Here, asked: Asked, seed: str) -> None:
    """The task to be answered; pressing shows the key, also without an answer."""
    shown, kept = asked.shown.task, tryout_way.answer_of(seed, "")
    moved = draw_task(shown, kept, ask=asked.shown.text, words=here.words, key=f"{seed}-task")
    if moved is not None:
        tryout_way.keep_answer(seed, "", moved)
    given = ready(shown, kept if moved is None else moved)
    label = "tryout.answer" if given else "quiz.choose-first"
    if press(here.words.say(label), "tryout-answer", kind="primary", disabled=not given, stays=True) and given:
        trying.mark(here.desk, asked, given)
        tryout_way.keep_answer(seed, _GIVEN, given)
        st.rerun()


def _outcome(here: door.Here, asked: Asked, seed: str) -> bool:
    """Whether an answer was given; then what became of it is drawn, with the key."""
    given = tryout_way.answer_of(seed, _GIVEN)
    if given is None:
        return False
    try:
        answer, marked = trying.mark(here.desk, asked, given)
    except BadInput:  # kept on another wording that happens to bear this name
        return False
    verdict = "right" if marked.right else "wrong"
    st.html(wording.stamp(verdict, here.words.say(f"parts.{verdict}")))
    _key(here, asked, answer, marked, seed)
    return True


def _key(here: door.Here, asked: Asked, answer: Answer, marked: Marked, seed: str) -> None:
    """Your answer beside the key where one drawing holds both, else in words; then the key with every reason."""
    task, words, figures = asked.item.task, here.words, asked.drawn.parameters
    is_own = not isinstance(task, PutInOrder | PlaceCrew | WorkOut | TickSteps)
    if not is_own:
        st.markdown(words.say("quiz.you-said", answer=plain(answer_words(task, answer, words))))
        st.markdown(f"**{words.say('quiz.right-answer')}**")
    shown = answer if is_own else marked.key
    draw_told(
        task, asked.drawn.options, shown, told(as_drawn(task, figures), shown),
        ask=asked.shown.text, words=words, key=f"{seed}-key", parameters=figures, site=here.desk.catalogue.site,
    )  # fmt: skip
    if isinstance(task, PlaceCrew | WorkOut):
        st.markdown("\n".join(f"- {why}" for why in dict.fromkeys(wording.line(each, words) for each in marked.whys)))
    elif asked.item.why:
        st.markdown(wording.line(asked.item.why, words))


def _facts(here: door.Here, asked: Asked) -> None:
    """What it tests, whether it is a must-know, which version it is, and where it is written and taught."""
    words, bank, item = here.words, asked.bank, asked.item
    objective = bank.objective(item.objective)
    kind = "must" if objective and objective.critical else "no-must"
    name = wording.line(objective.title, words) if objective else plain(item.objective)
    lines = [
        words.say(f"tryout.objective-{kind}", objective=name),
        words.say("tryout.version", version=item.version, hash=bank.hash[:12]),
        words.say("tryout.in-tailgate" if item.tailgate else "tryout.not-in-tailgate"),
        tryout_way.written_at(here, bank_file(bank.id), ("items", item.id)),
    ]
    st.markdown("\n".join(f"- {each}" for each in lines))
    lesson = here.desk.catalogue.lessons.get(bank.lesson)
    scene = lesson.scene(item.scene) if lesson else None
    if lesson and scene:
        label = words.say("tryout.taught-by", scene=wording.line(scene.title, words))
        if press(label, "tryout-to-scene", wide=False):
            place.put(quiz=None, item=None, lesson=lesson.id, scene=scene.id)
            st.rerun()


def _onward(here: door.Here, bank: Bank, item: Item) -> None:
    """The same item drawn anew, and the next one."""
    names = [each.id for each in bank.items]
    with st.container(key="tryout-onward", horizontal=True):
        if press(here.words.say("tryout.anew"), "tryout-anew", wide=False, stays=True):
            tryout_way.turn_over()
            st.rerun()
        following = names[(names.index(item.id) + 1) % len(names)]
        if press(here.words.say("tryout.next-item"), f"tryout-next-{item.id}", wide=False):
            place.put(item=following)
            st.rerun()
