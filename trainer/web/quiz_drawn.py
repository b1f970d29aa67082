"""A quiz on screen: what it is, where one is in it, a critical miss, and what came of it."""

from __future__ import annotations

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import quizzing
from trainer.actions.quizzing import Review
from trainer.actions.sittings import Sitting
from trainer.core.banks import Bank
from trainer.core.marking import ItemResult, QuizResult
from trainer.core.passcurve import repeat_probability
from trainer.core.records import Part
from trainer.core.retakes import MayStart
from trainer.core.sheets import as_drawn
from trainer.core.shown import Shown, show_task, worded
from trainer.core.tasks import ChooseAll, PlaceCrew, PointAt, PutInOrder, ReadSheet, Task, TickSteps, WorkOut
from trainer.core.telling import RIGHT, Told, told
from trainer.web import aloud, card_words, door, titles, wording
from trainer.web.plain import paragraphs, plain
from trainer.web.press import press
from trainer.web.tasks_drawn import answer_words, draw_picture, draw_sheet, draw_told, label_of
from trainer.web.verdicts import said_of

__all__ = ["critical_miss", "introduction", "last_label", "not_now", "outcome", "question", "where"]

_BORDERLINE = 0.8
"""Below this chance that another form of the quiz is passed too, a pass is called a close one."""


def introduction(here: door.Here, bank: Bank) -> None:
    """What waits: how many questions, what passes, and that nothing runs away."""
    words, plan, rules = here.words, bank.blueprint, here.desk.catalogue.site.assessment
    st.title(words.say("quiz.title", title=wording.line(bank.title, words)), anchor=False)
    wording.mark_untranslated(words, bank.title)
    must = sum(each.critical for each in bank.objectives)
    said = [
        words.say("quiz.about-items", items=plan.items, cut=plan.cut),
        words.count("quiz.about-must", must) if must else "",
        words.say("quiz.about-saved", hours=rules.closes_hours),
        words.say("quiz.about-tired"),
        plain(titles.procedure(here, bank.competency)),
    ]
    st.markdown("\n".join(f"- {each}" for each in said if each))


def not_now(here: door.Here, allowed: MayStart) -> None:
    """Why the quiz may not be started, and from when."""
    since = wording.moment(allowed.since, here.desk.store.tz, here.words) if allowed.since else ""
    st.info(here.words.say(f"quiz.{allowed.code}", moment=plain(since)))


def last_label(here: door.Here, last: Review) -> str:
    """The last try in one line."""
    key = "quiz.last-passed" if last.body.passed else "quiz.last-not-yet"
    return here.words.say(key, day=plain(wording.day(last.record.day, here.words)))


def where(here: door.Here, sitting: Sitting, position: int) -> None:
    """Which quiz this is and how far one is."""
    _called(here, sitting)
    items = len(sitting.form.items)
    item, _ = sitting.item(position)
    with aloud.beside(here.words, f"{sitting.draft_id}-{position}", item):
        st.progress(position / items, here.words.say("quiz.question-of", number=position + 1, items=items))
    wording.mark_untranslated(here.words, item)


def _called(here: door.Here, sitting: Sitting) -> None:
    aloud.unsaid(here.words.say("quiz.title", title=wording.line(sitting.bank.title, here.words)))


def question(shown: Shown) -> None:
    """What there is to know before it, then the question."""
    if shown.situation:
        st.markdown(paragraphs(shown.situation))
    st.subheader(plain(shown.text), anchor=False)


def critical_miss(here: door.Here, sitting: Sitting, missed: ItemResult) -> None:
    """A must-know that was not right: the right answer with its reason, at once."""
    _called(here, sitting)
    items = len(sitting.form.items)
    with aloud.beside(here.words, f"{sitting.draft_id}-missed-{sitting.answered}", missed.item):
        st.progress(sitting.answered / items, here.words.say("quiz.answered-of", saved=sitting.answered, items=items))
    st.html(wording.stamp("wrong", here.words.say("quiz.must-know-missed")))
    wording.mark_untranslated(here.words, missed.item)
    _situation_of(here, missed)
    st.subheader(_question_of(here, missed), anchor=False)
    draw_picture(missed.item.picture, here.words, key=f"missed-{sitting.draft_id}-{sitting.answered}")
    _right(here, missed, f"{sitting.draft_id}-{sitting.answered}")


def _right(here: door.Here, missed: ItemResult, key: str) -> None:
    """The right answer drawn in, with the reasons: beside one's own where both fit into one drawing."""
    task, right = missed.item.task, missed.marked.key
    is_own = not isinstance(task, PutInOrder | PlaceCrew | WorkOut | TickSteps)
    if not is_own:
        st.markdown(here.words.say("quiz.you-said", answer=_said(here, missed)))
        st.markdown(f"**{here.words.say('quiz.right-answer')}**")
    answer = missed.answer if is_own else right
    figures = missed.drawn.parameters
    draw_told(
        task, missed.drawn.options, answer, told(as_drawn(task, figures), answer),
        ask=worded(here.words.pick(missed.item.text), figures), words=here.words, key=f"right-{key}",
        parameters=figures, site=here.desk.catalogue.site,
    )  # fmt: skip
    if isinstance(task, PlaceCrew | WorkOut):
        st.markdown("\n".join(_why_lines(here, missed)))
    elif missed.item.why:
        st.markdown(wording.line(missed.item.why, here.words))


def outcome(here: door.Here, review: Review) -> str:
    """Draw what came of a quiz; the scene that was asked for in this run, else empty."""
    words, body = here.words, review.body
    bank = here.desk.catalogue.banks.get(body.quiz)
    title = f"**{wording.line(bank.title, words)}**, " if bank else ""
    with aloud.beside(words, review.record.record_id):
        st.markdown(f"{title}{plain(wording.day(review.record.day, words))}")
    st.title(words.say("quiz.passed" if body.passed else "quiz.not-yet"), anchor=False)
    verdict = "passed" if body.passed else "not-yet"
    st.html(wording.stamp(verdict, words.say("quiz.points", points=body.points, items=len(body.items), cut=body.cut)))
    _must_knows(here, review, bank)
    _next_try(here, review)
    if review.result is None:
        st.info(words.say("quiz.changed-since"))
        return ""
    return _to_fix(here, review, review.result)


def _must_knows(here: door.Here, review: Review, bank: Bank | None) -> None:
    missed = review.body.critical_missed
    if not missed:
        st.markdown(here.words.say("quiz.must-all-right"))
        return
    known = [bank.objective(each) for each in missed] if bank else []
    titles = [wording.line(each.title, here.words) for each in known if each]
    st.markdown("\n".join([here.words.say("quiz.must-missed"), "", *(f"- {each}" for each in titles)]))


def _next_try(here: door.Here, review: Review) -> None:
    """For the hand himself when it goes on, or what a pass is good for; for who leads him, how close a pass was."""
    words, body = here.words, review.body
    if review.record.hand != here.actor.hand:
        if body.passed and repeat_probability(body.points, len(body.items), body.cut) < _BORDERLINE:
            st.info(words.say("quiz.close-pass"))
        return
    if body.passed:
        _worth(here, body.competency)
        return
    allowed = quizzing.may_start(here.desk, body.quiz)
    if allowed.ok:
        st.info(words.say("quiz.again-now"))
    else:
        not_now(here, allowed)


def _worth(here: door.Here, competency: str) -> None:
    """How long the pass is good for, and where it is not the whole sign-off, what is missing on the job."""
    parts = looking.card(here.desk, here.actor.hand).parts.get(competency, ())
    through = next((each.through for each in parts if each.part is Part.KNOWLEDGE), None)
    if through is not None:
        st.markdown(here.words.say("quiz.good-until", day=plain(wording.day(through, here.words))))
    if missing := card_words.practical(here, parts):
        st.markdown(f"{here.words.say('quiz.not-signed-off')}  \n{missing}")


def _to_fix(here: door.Here, review: Review, result: QuizResult) -> str:
    """What was missed, must-knows first, each with why; the scene that was asked for in this run, else empty."""
    asked = ""
    if result.missed:
        st.header(here.words.say("quiz.to-fix"), anchor=False)
    for number, missed in enumerate(result.missed, start=1):
        with st.container(key=f"fix-{number}", border=True):
            wording.mark_untranslated(here.words, missed.item)
            _situation_of(here, missed)
            st.markdown(f"**{_question_of(here, missed)}**")
            _sheet_again(here, missed, f"sheet-again-{number}")
            st.markdown("\n".join(_fix_lines(here, missed)))
            _right_order(here, missed)
            scene = missed.item.scene if review.lesson else ""
            if scene and press(here.words.say("quiz.see-scene"), f"see-{number}", wide=False):
                asked = scene
    return asked


def _sheet_again(here: door.Here, missed: ItemResult, key: str) -> None:
    """The sheet that was misread, to be read once more with the reason beside it."""
    drawn = missed.drawn
    if isinstance(missed.item.task, ReadSheet):
        draw_sheet(show_task(missed.item.task, drawn.options, here.language, drawn.parameters), here.words, key)


def _fix_lines(here: door.Here, missed: ItemResult) -> list[str]:
    """What was said and what is wrong with it, as a list; the right answer too where it is a must-know."""
    words, task = here.words, missed.item.task
    if isinstance(task, ChooseAll | PointAt):
        return [_part_line(here, task, each) for each in told(task, missed.answer) if each.mark != RIGHT]
    lines = [f"- {words.say('quiz.you-said', answer=_said(here, missed))}"]
    if isinstance(task, PutInOrder):
        return lines
    if isinstance(task, TickSteps) and missed.answer:
        lines += [f"- {_step_line(here, task, each)}" for each in told(task, missed.answer) if each.mark != RIGHT]
    else:
        lines += _why_lines(here, missed)
    if missed.critical:
        lines.append(f"- {words.say('quiz.right-is', answer=plain(answer_words(task, missed.marked.key, words)))}")
    return lines


def _right_order(here: door.Here, missed: ItemResult) -> None:
    """The steps in their right order, numbered, each with why it has its place.

    Nothing is said here of the order that was given: a remark on it would stand beside a step that is in its place.
    """
    task = missed.item.task
    if not isinstance(task, PutInOrder):
        return
    steps = told(task, missed.marked.key)
    numbered = (f"{number}. {_step_line(here, task, each)}" for number, each in enumerate(steps, start=1))
    st.markdown("\n".join([f"**{here.words.say('quiz.right-order')}**", "", *numbered]))


def _part_line(here: door.Here, task: Task, each: Told) -> str:
    name, why = plain(label_of(task, each.id, here.words)), wording.line(each.why, here.words)
    return f"- **{plain(said_of(task, each, here.words))}:** {name}. {why}"


def _step_line(here: door.Here, task: Task, each: Told) -> str:
    return f"**{plain(label_of(task, each.id, here.words))}:** {wording.line(each.why, here.words)}"


def _why_lines(here: door.Here, missed: ItemResult) -> list[str]:
    return [f"- {why}" for why in dict.fromkeys(wording.line(each, here.words) for each in missed.marked.whys)]


def _said(here: door.Here, missed: ItemResult) -> str:
    return plain(answer_words(missed.item.task, missed.answer, here.words))


def _situation_of(here: door.Here, missed: ItemResult) -> None:
    if missed.item.situation:
        st.markdown(paragraphs(worded(here.words.pick(missed.item.situation), missed.drawn.parameters)))


def _question_of(here: door.Here, missed: ItemResult) -> str:
    return plain(worded(here.words.pick(missed.item.text), missed.drawn.parameters))
