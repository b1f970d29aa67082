"""A task on screen: what the browser gets, what is enough to be saved, and a number typed."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest

from trainer.core.shown import ShownChoice, ShownTask
from trainer.core.tasks import Answer, ChooseAll, Option, Picture, PlaceCrew, PutInOrder, Token, WorkOut
from trainer.web import tasks_drawn
from trainer.words import Words

WORDS = Words("en", {"quiz.blank": "no answer"})


def number_page() -> None:
    import streamlit as st

    from trainer.core.shown import ShownTask
    from trainer.web import tasks_drawn
    from trainer.words import Words

    words = Words("en", {"quiz.number": "Your number [{unit}]"})
    kept = st.session_state.get("kept")
    moved = tasks_drawn.draw(ShownTask("work-out", unit="kN"), kept, ask="How much?", words=words, key="n")
    if moved is not None:
        st.session_state["kept"] = moved
    st.text(str(moved))


def test_a_number_is_typed_with_its_unit_beside_it_and_said_once() -> None:
    app = AppTest.from_function(number_page).run()
    assert app.text_input[0].label == r"Your number \[kN\]"
    assert app.text[0].value == "None"

    app.text_input[0].input("12,5").run()
    assert app.text[0].value == "12,5"
    app.run()
    assert app.text[0].value == "None"
    assert app.text_input[0].value == "12,5"


def test_steps_left_as_they_came_are_an_answer_and_an_empty_choice_is_none() -> None:
    order = ShownTask("put-in-order", (ShownChoice("o1"), ShownChoice("o2")))
    assert tasks_drawn.ready(order, None) == ("o1", "o2")
    assert tasks_drawn.ready(order, ("o2", "o1")) == ("o2", "o1")
    empty: tuple[Answer | None, ...] = (None, (), "", {})
    assert [tasks_drawn.ready(ShownTask("choose-all"), each) for each in empty] == [None] * 4


def test_an_answer_is_said_in_words() -> None:
    options = tuple(Option(each, True, {"en": "why"}, {"en": f"say {each}"}) for each in "ab")
    assert tasks_drawn.answer_words(ChooseAll(options), ("a", "b"), WORDS) == "say a; say b"
    assert tasks_drawn.answer_words(PutInOrder(options), ("b", "a"), WORDS) == "1. say b; 2. say a"
    assert tasks_drawn.answer_words(ChooseAll(options), None, WORDS) == "no answer"
    work = WorkOut("f", {}, "kN", "0", "0", {}, {"en": "why"})
    assert tasks_drawn.answer_words(work, "12,5", WORDS) == "12,5 kN"


def test_a_placed_crew_is_said_by_spot() -> None:
    crew = PlaceCrew(
        Picture("slips-above"), (Token("t", "p", {"en": "A, left hand"}),), ("handle-1",), (), {}, {"en": ""}
    )
    assert tasks_drawn.answer_words(crew, {"handle-1": ("t",)}, WORDS) == "End handle 1: A, left hand"
