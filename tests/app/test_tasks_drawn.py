"""A task on screen: what the browser gets, what is enough to be saved, and a number typed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from streamlit.testing.v1 import AppTest

from trainer.core.shown import Sheet, ShownChoice, ShownTask
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    Option,
    Picture,
    PlaceCrew,
    PutInOrder,
    TickRow,
    TickSteps,
    Token,
    WorkOut,
)
from trainer.web import cached, sheet_words, tasks_drawn
from trainer.web.parts import Choice
from trainer.web.parts import Token as Drawn
from trainer.words import Words

WORDS = Words("en", {"quiz.blank": "no answer"})


def number_page() -> None:
    import streamlit as st

    from trainer.core.shown import ShownTask
    from trainer.web import tasks_drawn
    from trainer.words import Words

    said = {"quiz.number": "Your number, {unit}", "quiz.number-alone": "Your number", "quiz.unit": "Unit"}
    words = Words("en", {**said, "quiz.unit-too": "Unit too.", "error.not-a-number": "{value} is no number."})
    kept, units = st.session_state.get("kept"), st.session_state.get("units", ("%",))
    moved = tasks_drawn.draw(ShownTask("work-out", units=units), kept, ask="How much?", words=words, key="n")
    if moved is not None:
        st.session_state["kept"] = moved
    st.text(str(moved))
    st.text(str(tasks_drawn.ready(ShownTask("work-out", units=units), st.session_state.get("kept"))))


def test_a_number_is_typed_with_its_unit_beside_it_and_said_once() -> None:
    app = AppTest.from_function(number_page).run()
    assert app.text_input[0].label == "Your number, %"
    assert not app.pills
    assert app.text[0].value == "None"

    app.text_input[0].input("12,5").run()
    assert app.text[0].value == "12,5"
    app.run()
    assert app.text[0].value == "None"
    assert app.text_input[0].value == "12,5"


def test_a_number_with_two_units_is_an_answer_only_once_one_was_chosen() -> None:
    app = AppTest.from_function(number_page)
    app.session_state["units"] = ("kg", "lb")
    app.run().text_input[0].input("66").run()
    assert app.text_input[0].label == "Your number"
    assert app.text[0].value == "None"
    assert [each.value for each in app.markdown] == ["**Unit too.**"]

    app.pills[0].select("lb").run()
    assert app.text[0].value == "66 lb"
    assert not app.markdown
    app.run()
    assert app.text[0].value == "None"

    app.pills[0].select("kg").run()
    assert app.text[0].value == "66"


def test_what_is_no_number_is_said_at_once_and_cannot_be_saved() -> None:
    app = AppTest.from_function(number_page)
    app.session_state["units"] = ("kg", "lb")
    app.run().text_input[0].input("abc").run()
    assert [each.value for each in app.markdown] == [r"**abc is no number\.**", "**Unit too.**"]
    app.pills[0].select("kg").run()
    assert [each.value for each in app.markdown] == [r"**abc is no number\.**"]
    assert app.text[1].value == "None"

    app.text_input[0].input("12,5").run()
    assert not app.markdown
    assert app.text[1].value == "12,5"


def test_what_was_kept_comes_back_in_its_unit() -> None:
    for kept, value, unit in (("66 lb", "66", "lb"), ("30", "30", "kg"), ("abc lb", "abc", "lb")):
        app = AppTest.from_function(number_page)
        app.session_state["units"], app.session_state["kept"] = ("kg", "lb"), kept
        app.run()
        assert (app.text_input[0].value, app.pills[0].value) == (value, unit)
        assert app.text[0].value == "None"


def test_steps_that_nobody_touched_are_no_answer_and_neither_is_an_empty_choice() -> None:
    order = ShownTask("put-in-order", (ShownChoice("o1"), ShownChoice("o2")))
    assert tasks_drawn.ready(order, None) is None
    assert tasks_drawn.ready(order, ("o1", "o2")) == ("o1", "o2")
    assert tasks_drawn.ready(order, ("o2", "o1")) == ("o2", "o1")
    empty: tuple[Answer | None, ...] = (None, (), "", {})
    assert [tasks_drawn.ready(ShownTask("choose-all"), each) for each in empty] == [None] * 4


def test_steps_on_a_picture_are_an_answer_once_each_has_its_number() -> None:
    order = ShownTask("put-in-order", (ShownChoice("o1"), ShownChoice("o2")), picture=Picture("floor-above"))
    assert [tasks_drawn.ready(order, each) for each in (None, (), ("o2",))] == [None] * 3
    assert tasks_drawn.ready(order, ("o2", "o1")) == ("o2", "o1")


def test_a_crew_is_an_answer_once_everybody_has_a_spot() -> None:
    crew = ShownTask("place-crew", (ShownChoice("o1"),), (ShownChoice("t1"), ShownChoice("t2")), at_most=2)
    assert tasks_drawn.ready(crew, {"o1": ("t1",)}) is None
    assert tasks_drawn.ready(crew, {"o1": ("t1", "t2")}) == {"o1": ("t1", "t2")}


@pytest.mark.parametrize(
    ("said", "sides"),
    [
        (["A, left hand", "A, right hand"], ["left", "right"]),
        (["A, mano izquierda", "A, mano derecha"], ["izq.", "der."]),
        (["Hand A", "Hand B"], ["", ""]),
    ],
)
def test_a_token_says_which_hand_it_is(said: list[str], sides: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []

    def place_crew(_svg: str, tokens: list[Drawn], *_: object, **__: object) -> None:
        drawn.extend(each.side for each in tokens)

    monkeypatch.setattr(tasks_drawn.parts, "place_crew", place_crew)
    tokens = tuple(ShownChoice(f"t{n}", each, person="a") for n, each in enumerate(said))
    task = ShownTask("place-crew", (ShownChoice("o1", part="handle-1"),), tokens, Picture("slips-above"), 2)
    tasks_drawn.draw(task, None, ask="Who?", words=cached.all_words()["en"], key="k")
    assert drawn == sides


def test_a_sheet_is_an_answer_once_each_row_is_ticked() -> None:
    sheet = ShownTask("tick-steps", (ShownChoice("o1"), ShownChoice("o2")))
    whole = {"o1": ("met",), "o2": ("not met",)}
    assert [tasks_drawn.ready(sheet, each) for each in (None, {}, {"o2": ("met",)})] == [None] * 3
    assert tasks_drawn.ready(sheet, whole) == whole


def test_an_answer_is_said_in_words() -> None:
    options = tuple(Option(each, True, {"en": "why"}, {"en": f"say {each}"}) for each in "ab")
    assert tasks_drawn.answer_words(ChooseAll(options), ("a", "b"), WORDS) == "say a; say b"
    assert tasks_drawn.answer_words(PutInOrder(options), ("b", "a"), WORDS) == "1. say b; 2. say a"
    assert tasks_drawn.answer_words(ChooseAll(options), None, WORDS) == "no answer"
    work = WorkOut("f", {}, "kN", "0", "0", {}, {"en": "why"})
    assert tasks_drawn.answer_words(work, "12,5", WORDS) == "12,5 kN (2.81 klbf)"
    assert tasks_drawn.answer_words(work, "2,81 klbf", WORDS) == "2,81 klbf (12.5 kN)"
    assert tasks_drawn.answer_words(replace(work, unit="%"), "75", WORDS) == "75 %"
    assert tasks_drawn.answer_words(work, "about ten", WORDS) == "about ten"


def test_a_placed_crew_is_said_by_spot() -> None:
    crew = PlaceCrew(
        Picture("slips-above"), (Token("t", "p", {"en": "A, left hand"}),), ("handle-1",), (), {}, {"en": ""}
    )
    assert tasks_drawn.answer_words(crew, {"handle-1": ("t",)}, WORDS) == "End handle 1: A, left hand"


def test_a_ticked_sheet_is_said_row_by_row() -> None:
    rows = tuple(TickRow(each, {"en": f"Row {each}"}, "met", {"en": "why"}) for each in "ab")
    words = Words("en", {"parts.state-met": "Met", "parts.state-not-observed": "Not observed"})
    said = tasks_drawn.answer_words(TickSteps(rows), {"a": ("met",), "b": ("not observed",)}, words)
    assert said == "Row a: Met; Row b: Not observed"


def sheet_page() -> None:
    import streamlit as st

    from tests.unit.assessment import samples
    from trainer.core.forms import drawn_order, drawn_parameters
    from trainer.core.shown import show_task
    from trainer.web import cached, tasks_drawn

    task, words = samples.read_sheet(), cached.all_words()[st.session_state.get("language", "en")]
    seed = st.session_state["seed"]
    figures = drawn_parameters(task, seed, "item")
    shown = show_task(task, drawn_order(task, seed, "item"), words.language, figures)
    moved = tasks_drawn.draw(shown, None, ask="Which?", words=words, key="s")
    st.text(str(moved))


def sheet_of(monkeypatch: pytest.MonkeyPatch, seed: str, language: str = "en") -> tuple[dict[str, str], list[str]]:
    """The drawing and the choices that somebody with that seed gets."""
    drawn: dict[str, str] = {}
    tiles: list[str] = []

    def picture(svg: str, alt: str, *, caption: str, **_: object) -> None:
        drawn.update(svg=svg, alt=alt, caption=caption)

    def choose(options: list[Choice], _chosen: object, **_: object) -> tuple[str, ...]:
        tiles.extend(f"{each.id}: {each.text}" for each in options)
        return ("o2",)

    monkeypatch.setattr(tasks_drawn.parts, "picture", picture)
    monkeypatch.setattr(tasks_drawn.parts, "choose", choose)
    app = AppTest.from_function(sheet_page)
    app.session_state["seed"], app.session_state["language"] = seed, language
    app.run()
    assert app.text[0].value == "o2"
    return drawn, tiles


def test_a_sheet_is_drawn_over_its_choices_and_says_nothing_of_its_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn, tiles = sheet_of(monkeypatch, "ray")
    assert sorted(each.partition(": ")[2] for each in tiles) == ["say full", "say partial", "say top-only"]
    assert [each.partition(": ")[0] for each in tiles] == ["o1", "o2", "o3"]
    for secret in ("full", "partial", "top-only", "imprint", "grain"):
        assert secret not in drawn["svg"]
        assert secret not in drawn["alt"]
    # Whoever does not see it is told as much as an eye sees: each third of each segment.
    assert drawn["alt"].count("Segment ") == 3
    assert "dots count the segments" in drawn["caption"]


def test_two_people_get_two_sheets_and_each_language_its_words(monkeypatch: pytest.MonkeyPatch) -> None:
    ray, ana = sheet_of(monkeypatch, "ray")[0], sheet_of(monkeypatch, "ana", "es")[0]
    assert ray["svg"] != ana["svg"]
    assert ana["alt"].count("Segmento ") == 3
    assert sheet_of(monkeypatch, "ray")[0] == ray


@pytest.mark.parametrize(
    ("drawing", "figures", "said"),
    [
        ("dies", {"missing": "3"}, "The place of die 3 is empty."),
        ("dies", {"reversed": "2"}, "The teeth of die 2 point down, all others up."),
        ("dies", {"wear": "0.8"}, "The teeth are short and end in flats."),
        ("dies", {"packed": "0.7"}, "The grooves are filled nearly to the tips."),
        ("straight-edge", {"middle": "1.8"}, "Leaves in the gap: top 0, middle 9, bottom 0."),
        ("straight-edge", {"surface": "3"}, "Each leaf is 0.2 mm (0.0079 in) thick"),
        ("load-board", {"indicator": "118"}, "The needle stands at 118 t."),
        ("load-board", {"bands": "2"}, "The joint that hangs there shows two bands."),
        ("load-board", {"bands": "0"}, "Mud covers the place of the bands"),
        ("paper-test", {"top": "0.9"}, "Segment 3: top nearly all marked, middle no marks, bottom no marks."),
    ],
)
def test_a_sheet_is_told_in_words_as_it_looks(drawing: str, figures: dict[str, str], said: str) -> None:
    words = cached.all_words()["en"]
    assert said in sheet_words.drawn(Sheet(drawing, figures), words).alt
