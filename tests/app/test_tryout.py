"""Try the content: the newest files are played without a trace, and what keeps them from being used is said."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.learning import Taps, open_page, page_words, press, rig_at, tapping
from tests.app.office_pages import at
from tests.e2e import rig
from trainer import curriculum
from trainer.actions.desk import Desk
from trainer.core.banks import Bank, Item
from trainer.core.forms import drawn_order, drawn_parameters
from trainer.core.lessons import Lesson
from trainer.core.marking import right_answer
from trainer.core.playing import Play
from trainer.core.shown import KINDS, to_handles
from trainer.core.tasks import Answer, ChooseOne
from trainer.core.workings import FUNCTIONS
from trainer.web import tasks_drawn, tryout_item, tryout_lesson, tryout_way

APP = Path(__file__).parents[2]
NAME = "hand-placement"
LESSON_FILE, BANK_FILE = f"content/lessons/{NAME}.yaml", f"quizzes/{NAME}.yaml"
OFFICE = rig.COORDINATOR
LISTED = """\
- id: hand-placement
  title: {en: Hand placement, es: Manos}
  for: [floorhand]
  needs: {knowledge: {quiz: hand-placement, good_for: P12M}}
"""
FIRST = "Before you walk out"
BESIDE_THE_RECORDS = ("sessions", "tickets", "tries", "views", "sqlite_sequence")
"""What signing in and looking leave by themselves."""


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, data: Path) -> Path:
    """Content with one subject in it, a copy to be written in; ``data`` comes first, it forgets any other root."""
    folder = tmp_path / "root"
    for name in (LESSON_FILE, BANK_FILE, "content/site.yaml"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(APP / name, folder / name)
    (folder / "content/competencies.yaml").write_text(LISTED, encoding="utf-8")
    monkeypatch.setenv("TRAINER_ROOT", str(folder))
    return folder


@pytest.fixture
def site(root: Path, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day, on that content."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def taps(monkeypatch: pytest.MonkeyPatch) -> Taps:
    """Taps without a browser."""
    taps = tapping(monkeypatch)
    for module in (tryout_lesson, tryout_item):
        monkeypatch.setattr(module, "draw_task", tasks_drawn.draw)
    return taps


def rewritten(file: Path, old: str, new: str) -> None:
    """Save ``file`` with ``new`` for ``old``, at a time of its own, so that no clock decides the test."""
    was, text = file.stat().st_mtime_ns, file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    os.utime(file, ns=(was + 1, was + 1))


def records(data: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row that the site keeps."""
    (file,) = [each for each in data.iterdir() if each.suffix in (".db", ".sqlite", ".sqlite3")]
    with closing(sqlite3.connect(file)) as database:
        tables = [name for (name,) in database.execute("select name from sqlite_master where type = 'table'")]
        return {
            name: database.execute(f'select * from "{name}"').fetchall()
            for name in tables
            if name not in BESIDE_THE_RECORDS
        }


def content(root: Path) -> tuple[Lesson, Bank]:
    """The lesson and the bank as they stand in the files."""
    loaded = curriculum.load(root, APP)
    return loaded.lessons[NAME], loaded.banks[NAME]


def with_kind(root: Path, kind: str) -> tuple[Bank, Item]:
    """A bank with an item of that kind, put beside the one subject where that has none."""
    files = [APP / BANK_FILE, *sorted((APP / "quizzes").glob("*.yaml"))]
    name = next(each.stem for each in files if f"kind: {kind}" in each.read_text("utf-8"))
    if name != NAME:
        shutil.copy(APP / "quizzes" / f"{name}.yaml", root / "quizzes")
        shutil.copy(APP / "content/lessons" / f"{name}.yaml", root / "content/lessons")
        rewritten(root / "content/competencies.yaml", LISTED, LISTED + LISTED.replace(NAME, name))
    bank = curriculum.load(root, APP).banks[name]
    return bank, next(each for each in bank.items if dict(KINDS)[type(each.task)] == kind)


def key_in(lesson: Lesson, scene: str) -> Answer:
    """The right answer to a scene, in the handles of this page's first drawing."""
    play = Play(lesson, f"tryout-{NAME}-{lesson.hash[:16]}-0", FUNCTIONS)
    there = lesson.scene(scene)
    assert there
    assert there.task
    return to_handles(there.task, play.order(there), right_answer(there.task, play.parameters(there), FUNCTIONS))


def key_of(bank: Bank, item: Item) -> Answer:
    """The right answer to an item, likewise."""
    seed = f"tryout-{bank.id}-{item.id}-{bank.hash[:16]}-0"
    order, figures = drawn_order(item.task, seed, item.id), drawn_parameters(item.task, seed, item.id)
    return to_handles(item.task, order, right_answer(item.task, figures, FUNCTIONS))


def wrong_in(lesson: Lesson, scene: str) -> str:
    """The first wrong option of a scene that asks to choose one."""
    play = Play(lesson, f"tryout-{NAME}-{lesson.hash[:16]}-0", FUNCTIONS)
    there = lesson.scene(scene)
    assert there
    assert isinstance(there.task, ChooseOne)
    wrong = next(each.id for each in there.task.options if not each.right)
    return str(to_handles(there.task, play.order(there), wrong))


def test_the_list_names_what_there_is_to_play(app: AppTest, site: Desk) -> None:
    open_page(app, site, OFFICE, "tryout")

    said = page_words(app)
    lesson, bank = site.catalogue.lessons[NAME], site.catalogue.banks[NAME]
    assert app.title[0].value == "Try the content"
    assert f"Lesson: {len(lesson.scenes)} scenes, {lesson.minutes} min" in said
    assert f"Quiz: {len(bank.items)} questions" in said


@pytest.mark.parametrize("hand", ["ray", "bill"])
def test_nobody_but_the_office_sees_the_page(app: AppTest, site: Desk, hand: str) -> None:
    open_page(app, site, hand, "tryout")

    assert "Try the content" not in page_words(app)
    assert not [button for button in app.button if (button.key or "").startswith("tryout")]


def test_a_lesson_is_played_from_scene_to_scene(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    lesson, _ = content(root)
    first, second = lesson.scenes[0], lesson.scenes[1]
    open_page(app, site, OFFICE, "tryout")
    press(app, f"tryout-lesson-{NAME}")
    assert FIRST in [each.value for each in app.title]

    taps.waiting.append(wrong_in(lesson, first.id))
    app.run()
    press(app, "tryout-decide-")
    assert "Not that way" in page_words(app)
    press(app, "tryout-on")
    taps.waiting.append(key_in(lesson, first.id))
    app.run()
    press(app, "tryout-decide-")
    press(app, "tryout-on")

    assert second.title["en"] in [each.value for each in app.title]
    assert at(app, "scene") == second.id


def test_any_scene_is_looked_at_by_itself_in_either_language(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    lesson, _ = content(root)
    open_page(app, site, OFFICE, "tryout", lesson=NAME)
    for scene in lesson.scenes:
        app.query_params["scene"] = scene.id
        app.run()
        assert scene.title["en"] in [each.value.replace("\\", "") for each in app.title], scene.id
    press(app, "speak-es")

    assert lesson.scenes[-1].title["es"] in [each.value.replace("\\", "") for each in app.title]
    assert "aquí no se registra nada" in page_words(app)
    assert taps.drawn


def test_the_last_scene_leads_to_the_end(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    lesson, _ = content(root)
    assert lesson.scenes[-1].task is None
    open_page(app, site, OFFICE, "tryout", lesson=NAME, scene=lesson.scenes[-1].id)
    press(app, "tryout-decide-")

    assert app.title[0].value == "That was the lesson"
    press(app, "tryout-play-again")
    assert FIRST in [each.value for each in app.title]


@pytest.mark.parametrize("kind", [name for _, name in KINDS])
def test_an_item_of_each_kind_shows_its_key_with_reasons_and_facts(
    app: AppTest, site: Desk, root: Path, taps: Taps, kind: str
) -> None:
    bank, item = with_kind(root, kind)
    open_page(app, site, OFFICE, "tryout", quiz=bank.id, item=item.id)
    assert "Answer and see the key" not in page_words(app)
    taps.waiting.append(key_of(bank, item))
    app.run()
    press(app, "tryout-answer")

    said = page_words(app)
    assert all(each in said.replace("\\", "") for each in (item.situation or {"en": ""})["en"].split("\n\n"))
    objective = bank.objective(item.objective)
    assert objective
    assert "Right" in said
    assert taps.drawn[-1][2]["locked"] is True
    assert f"Tests: {objective.title['en']}" in said.replace("\\", "")
    assert ("A must-know" in said) is objective.critical
    assert f"Version {item.version} of the question, wording of the quiz {bank.hash[:12]}" in said
    assert f"Written in quizzes/{bank.id}.yaml, line" in said.replace("\\", "")


def test_an_answer_that_is_not_right_shows_what_is(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    _, bank = content(root)
    item = next(each for each in bank.items if isinstance(each.task, ChooseOne))
    key = key_of(bank, item)
    open_page(app, site, OFFICE, "tryout", quiz=NAME, item=item.id)
    taps.waiting.append(next(each.handle for each in taps.drawn[-1][0].choices if each.handle != key))
    app.run()
    press(app, "tryout-answer")

    verdicts = taps.drawn[-1][2]["verdicts"]
    assert isinstance(verdicts, dict)
    assert "Not right" in page_words(app)
    assert verdicts[key].mark == "right"
    press(app, "tryout-to-scene")
    assert at(app, "scene") == item.scene


def test_drawn_anew_it_comes_in_another_order(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    _, bank = content(root)
    item = next(each for each in bank.items if isinstance(each.task, ChooseOne))
    open_page(app, site, OFFICE, "tryout", quiz=NAME, item=item.id)
    seen = {tuple(each.text for each in taps.drawn[-1][0].choices)}
    for _ in range(6):
        press(app, "tryout-anew")
        seen.add(tuple(each.text for each in taps.drawn[-1][0].choices))

    assert len(seen) > 1


def test_what_was_just_saved_is_what_is_played(app: AppTest, site: Desk, root: Path, taps: Taps) -> None:
    open_page(app, site, OFFICE, "tryout", lesson=NAME)
    rewritten(root / LESSON_FILE, FIRST, "Before the first step")
    app.run()

    assert "Before the first step" in [each.value for each in app.title]
    assert site.catalogue.lessons[NAME].scenes[0].title["en"] == FIRST


def test_a_file_that_cannot_be_used_is_told_and_the_last_good_one_stays(
    app: AppTest,
    site: Desk,
    root: Path,
    taps: Taps,
) -> None:
    open_page(app, site, OFFICE, "tryout", lesson=NAME)
    rewritten(root / LESSON_FILE, FIRST, "Before the first step")
    app.run()
    rewritten(root / LESSON_FILE, "part: recall", "part: recal")
    app.run()

    said = page_words(app).replace("\\", "")
    assert "The newest files cannot be used yet. You see how it was before. 1 thing to mend:" in said
    assert f"**{LESSON_FILE}**, line " in said
    assert "expected one of decide, worked, recall, floor-task" in said
    assert "What to do:" in said
    assert "Before the first step" in [each.value for each in app.title]


def test_a_broken_file_on_first_sight_leaves_what_the_app_runs_on(
    app: AppTest,
    site: Desk,
    root: Path,
    taps: Taps,
) -> None:
    open_page(app, site, "ray", "card")
    rewritten(root / LESSON_FILE, f"en: {FIRST}", "")
    open_page(app, site, OFFICE, "tryout", lesson=NAME)

    assert "things to mend" in page_words(app) or "thing to mend" in page_words(app)
    assert FIRST in [each.value for each in app.title]


def test_a_sentence_that_a_language_lacks_is_listed(app: AppTest, site: Desk, root: Path) -> None:
    assert "es" in site.catalogue.site.languages
    rewritten(root / LESSON_FILE, FIRST, f"{FIRST}X")
    text = (root / LESSON_FILE).read_text("utf-8")
    spanish = next(line for line in text.splitlines() if line.strip().startswith("es:"))
    rewritten(root / LESSON_FILE, f"{spanish}\n", "")
    rewritten(root / "content/site.yaml", "complete: [en, es]", "complete: [en]")
    open_page(app, site, OFFICE, "tryout")

    assert "Not translated yet" in page_words(app)
    assert [each.label for each in app.expander if "Español: 1 sentence" in each.label]


def test_nothing_is_written_whatever_is_played(app: AppTest, site: Desk, root: Path, data: Path, taps: Taps) -> None:
    lesson, bank = content(root)
    open_page(app, site, OFFICE, "tryout")
    before = records(data)
    assert before["records"]
    for scene in lesson.scenes:
        app.query_params.update({"lesson": NAME, "scene": scene.id})
        if scene.task is not None:
            taps.waiting.append(key_in(lesson, scene.id))
        app.run()
        press(app, "tryout-decide-")
    app.query_params.clear()
    for item in bank.items[:6]:
        app.query_params.update({"quiz": NAME, "item": item.id})
        taps.waiting.append(key_of(bank, item))
        app.run()
        press(app, "tryout-answer")

    assert records(data) == before
    assert site.store.drafts(owner=OFFICE) == ()


def test_the_answer_of_one_wording_is_not_shown_on_another(monkeypatch: pytest.MonkeyPatch) -> None:
    kept: dict[str, str] = {}
    monkeypatch.setattr(tryout_way.session, "kept", lambda key, default="": kept.get(key, default))
    monkeypatch.setattr(tryout_way.session, "keep", lambda key, value: kept.update({key: value}))
    one, other = tryout_way.seed_of("grip", "a" * 64), tryout_way.seed_of("grip", "b" * 64)
    tryout_way.keep_answer(one, "first", ("left", "right"))

    assert tryout_way.answer_of(one, "first") == ("left", "right")
    assert tryout_way.answer_of(other, "first") is None
    tryout_way.turn_over()
    assert tryout_way.answer_of(one, "first") is None
