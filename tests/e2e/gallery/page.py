"""One part in one state, as ``?part=choose&state=wrong`` asks: for looking at, for axe and for keyboards."""

from __future__ import annotations

import ast
from dataclasses import astuple
from typing import Any

import streamlit as st

from trainer.core.matrix import STANDINGS
from trainer.pictures import render
from trainer.web import cached, look, place, session
from trainer.web.parts import (
    Axis,
    Cell,
    Choice,
    Column,
    Dial,
    Level,
    Limit,
    Line,
    Moving,
    Row,
    Spot,
    Tick,
    Ticked,
    Token,
    Verdict,
    chart,
    choose,
    dials,
    keypad,
    matrix_table,
    order_on_picture,
    page_frame,
    picture,
    place_crew,
    point_at,
    put_in_order,
    step_ticks,
)

words = cached.all_words()[place.at("language", "en")]
part, state = place.at("part", "choose"), place.at("state", "open")
is_locked = state == "wrong"
above = cached.drawing("slips-above")
svg = render(above)
names = cached.content().pictures["slips-above"].parts


def spots(*parts: str) -> list[Spot]:
    return [Spot(each, words.pick(names[each]), *above.spots[each]) for each in parts]


def options(*texts: str) -> list[Choice]:
    return [Choice(f"o{number}", text) for number, text in enumerate(texts)]


def told(**marks: str) -> dict[str, Verdict]:
    why = "Because the handle moves when weight comes on, and a glove caught under it goes with it."
    return {name.replace("_", "-"): Verdict(mark, why) for name, mark in marks.items()} if is_locked else {}  # type: ignore[arg-type]


def so_far(key: str, at_first: Any) -> Any:  # noqa: ANN401 - one gallery for all of them
    """What was answered before, as a view takes it from the draft; ``at_first`` before any answer."""
    return ast.literal_eval(session.kept(key)) if session.kept(key) else at_first


def answered(key: str, answer: object) -> None:
    """Keep the newest answer where the journeys can read it, and draw it on the next run as a view would."""
    if answer is not None:
        session.keep(key, repr(answer))
        st.rerun()
    st.caption(f"answer: {session.kept(key, 'none')}")


def draw_choose() -> None:
    three = options("Take the ring off first.", "Wear a glove over it.", "Tape it down, then go on <b>as usual</b>.")
    chosen = so_far("choose", ["o1"] if is_locked else [])
    verdicts = told(o0="missed", o1="wrong", o2="")
    answered(
        "choose",
        choose(
            three,
            chosen,
            words=words,
            key="choose",
            ask="Your ring is on. What now?",
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_choose_all() -> None:
    three = options("Handles", "The gap", "The bushing's edge")
    chosen = so_far("choose-all", ["o0", "o1"] if is_locked else [])
    verdicts = told(o0="right", o1="wrong", o2="")
    answered(
        "choose-all",
        choose(
            three,
            chosen,
            words=words,
            key="choose-all",
            ask="Where may a glove be?",
            multiple=True,
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_judge() -> None:
    wrong = render(above, show=frozenset({"hand-gap"}), prefix="b-")
    two = [
        Choice("o0", "", render(above, prefix="a-"), "Nobody's glove near the gap"),
        Choice("o1", "", wrong, "A glove in the open gap"),
    ]
    answered(
        "judge",
        choose(
            two,
            so_far("judge", ["o1"] if is_locked else []),
            words=words,
            key="judge",
            ask="Which one is safe?",
            locked=is_locked,
            verdicts=told(o0="missed", o1="wrong"),
        ),
    )


def draw_point() -> None:
    places = spots("gap", "bushing-edge", "pipe-top", "handle-1", "handle-2", "handle-3")
    chosen = so_far("point", ["gap", "handle-1"] if is_locked else [])
    verdicts = told(gap="right", handle_1="wrong", pipe_top="missed")
    answered(
        "point",
        point_at(
            svg,
            places,
            chosen,
            words=words,
            key="point",
            ask="Where must no glove be?",
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_crew() -> None:
    tokens = [
        Token("a-left", "A, left hand", "A◂", "a"),
        Token("a-right", "A, right hand", "▸A", "a"),
        Token("b-left", "B, left hand", "B◂", "b"),
        Token("b-right", "B, right hand", "▸B", "b"),
    ]
    wrong = {"handle-1": ["a-left"], "handle-2": ["a-right", "b-left"], "gap": ["b-right"]}
    placed = so_far("crew", wrong if is_locked else {})
    verdicts = told(handle_1="right", handle_2="right", gap="wrong", handle_3="missed")
    places = spots("handle-1", "handle-2", "handle-3", "gap", "bushing-edge")
    answered(
        "crew",
        place_crew(
            svg,
            tokens,
            places,
            placed,
            words=words,
            key="crew",
            ask="Place both pairs of hands",
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_order() -> None:
    steps = options(
        "Latch the elevators", "Call clear", "Take the weight, see the slips free", "Lift together on the call"
    )
    verdicts = told(o0="right", o1="wrong", o2="wrong", o3="right")
    answered(
        "order",
        put_in_order(
            steps,
            so_far("order", []),
            words=words,
            key="order",
            ask="Put the steps in order",
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_plan() -> None:
    steps = options("Driller: brake set", "Set", "Clear", "Driller: slacks off slowly", "They hold")
    floor = cached.drawing("floor-above")
    where = cached.content().pictures["floor-above"].parts
    at = ("driller-position", "slips", "slips", "driller-position", "slips")
    places = [Spot(f"o{n}", words.pick(where[each]), *floor.spots[each]) for n, each in enumerate(at)]
    verdicts = told(o0="right", o1="right", o2="wrong", o3="wrong", o4="right")
    answered(
        "plan",
        order_on_picture(
            render(floor),
            steps,
            places,
            so_far("plan", ["o0", "o1", "o3", "o2", "o4"] if is_locked else []),
            words=words,
            key="plan",
            ask="Who says what, and when?",
            locked=is_locked,
            verdicts=verdicts,
        ),
    )


def draw_ticks() -> None:
    steps = [
        Tick("s1", "Pipe is stopped and not turning before a hand moves", True, "Setting"),
        Tick("s2", "Fingers open before the handle nears the table", False, "Setting"),
        Tick("s3", "Calls clear out loud", True, "Calls"),
    ]
    wrong = {"s1": ("not met", False, "Stepped in at joint 4"), "s2": ("not applicable",), "s3": ("met",)}
    ticked = {step: Ticked(*each) for step, each in so_far("ticks", wrong if is_locked else {}).items()}
    newest = step_ticks(steps, ticked, words=words, key="ticks", locked=is_locked)
    answered("ticks", None if newest is None else {step: astuple(each) for step, each in newest.items()})


def draw_matrix() -> None:
    levels = [
        Level(each, words.say(f"standing.{each.replace(' ', '-')}").split(":")[0], *look.STANDING_LOOKS[each])
        for each in STANDINGS
    ]
    columns = [
        Column(f"c{n}", title)
        for n, title in enumerate(
            (
                "Stop and report",
                "Calls and signals",
                "Hand placement",
                "Lifting and footing",
                "Setting the slips",
                "Pulling the slips",
            )
        )
    ]
    count = int(place.at("rows", "12"))
    rows = [
        Row(
            f"h{n}",
            f"Hand {n:03}",
            tuple(
                Cell("" if (n + c) % 7 == 6 else STANDINGS[(n + c) % 6], "12 Mar 2027" if c == 2 else "")
                for c in range(6)
            ),
            "Floorhand, day-1",
        )
        for n in range(count)
    ]
    answered(
        "matrix", matrix_table("Who holds what", columns, rows, levels=levels, words=words, key="matrix", first="Name")
    )


def draw_keypad() -> None:
    problem = "That name and PIN do not match. Try again." if is_locked else ""
    answered("keypad", keypad("Your PIN", words=words, key="keypad", enter="Sign in", problem=problem))


def draw_picture() -> None:
    picture(svg, "The slips from above", words=words, key="picture", caption="Three handles, one gap")


def draw_moving() -> None:
    swept = render(above, move="swept-round")
    picture(swept, "The set goes round", words=words, key="moving")


def draw_badges() -> None:
    for each in STANDINGS:
        st.html(look.badge(each, words.say(f"standing.{each.replace(' ', '-')}")))


def draw_dials() -> None:
    two = [
        Dial("speed", "Speed", 0, 3, 0.1, "m/s", 2, "ft/s", 3.28084, 2),
        Dial("mud", "Mud in the hole and in the pipe", 0, 20, 0.5, "lb/gal", 1),
    ]
    values = so_far("dials", {"speed": 1.04, "mud": 10.0})
    answered("dials", dials(two, values, words=words, key="dials", ask="Turn them"))


def draw_chart() -> None:
    across = Axis(0, 2, ((0, "0"), (1, "1"), (2, "2")), "Time, s")
    up = Axis(-1, 3, ((0, "0"), (2, "200")), "kN", ((0, "0"), (2.2, "50")), "klbf")
    line = Line(((0, 2), (1, 2), (1, -0.5), (2, -0.5)), doubtful=1.0)
    limits = [Limit(2.5, "late", "Limit"), Limit(2.4, "soon", "Less 20 %"), Limit(0, "loose", "Loose", shaded=True)]
    rows = ((0, 0, 0), (100, 50, 0), (-100, -50, 0))
    moving = Moving((0.0, 1.0, 2.0), rows, rows, (False, False, True), ("0 s", "1 s", "2 s"), 1, 2, "The string")
    chart(across, up, [line], limits, words=words, key="chart", alt="Load against time", moving=moving)


DRAWN = {
    "choose": draw_choose, "choose-all": draw_choose_all, "judge": draw_judge, "point": draw_point, "crew": draw_crew,
    "order": draw_order, "plan": draw_plan, "ticks": draw_ticks, "matrix": draw_matrix,
    "keypad": draw_keypad, "picture": draw_picture,
    "moving": draw_moving, "badges": draw_badges, "dials": draw_dials, "chart": draw_chart,
}  # fmt: skip

st.set_page_config(page_title="Parts", layout="wide")
page_frame(words)
st.title(part, anchor=False)
with st.container(key="narrow" if part != "matrix" else "wide"):
    DRAWN[part]()
