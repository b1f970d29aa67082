"""The form for a paper test: segment by segment, third by third; and what the sheet says, with the next step."""

from __future__ import annotations

from datetime import date
from math import ceil

import streamlit as st

from trainer.actions import gearing
from trainer.actions.gearing import PaperTest
from trainer.core.gear import BOWL, GearState, What
from trainer.errors import TrainerError
from trainer.mechanics import NextStep, Reading
from trainer.web import frame, gear_drawn, gear_forms, place, session
from trainer.web.door import Here
from trainer.web.gaps import Gaps
from trainer.web.press import submit

__all__ = ["draw", "told"]

_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
_THIRDS = ("top", "middle", "bottom")
_STEP = "gear-step"
_LONGEST = 500
_KILO = 1000.0
_TINY = 1e-6


def draw(here: Here, state: GearState) -> None:
    """The form; once it is sent, the page of the set with the reading and the next step."""
    words, site, gaps = here.words, here.desk.catalogue.site, Gaps(here.words)
    gear_forms.heading(here, state, What.TEST)
    bowls = [name for name, item in site.gear.items() if item.kind == BOWL]
    with st.form("gear-test", border=False):
        bowl = st.radio(
            words.say("gear.bowl"), bowls, index=0 if len(bowls) == 1 else None, key="gear-bowl",
            format_func=lambda name: words.pick(site.gear[name].title),
        )  # fmt: skip
        gaps.ask(words.say("gear.gap-bowl"), is_there=bowl is not None)
        load = _load(here)
        _ask_load(here, state, load, gaps)
        imprint = [_segment(here, number, gaps) for number in range(1, state.item.segments + 1)]
        day = gear_forms.asked_day(here, gaps)
        told = st.text_area(words.say("gear.told-paper-test"), max_chars=_LONGEST, key="gear-told")
        is_sent = submit(words.say("gear.save"), "gear-save-test")
    if not is_sent or gaps.told() or bowl is None or load is None or day is None:
        return
    read = [[third for third in segment if third is not None] for segment in imprint]
    _send(here, state, bowl, read, f"{load:.1f}", told, day)


def _load(here: Here) -> float | None:
    """The load on the slips [kN], asked for in the unit that the rig's own figures put first."""
    both = gear_drawn.units(here)
    unit, least = both.scales("load")[0], here.desk.catalogue.site.gear_rules.least_load_kn * _KILO
    # Rounded up: whoever types the figure that he reads here has enough.
    figure = ceil(both.shown(least, "load") * 10**unit.decimals - _TINY) / 10**unit.decimals
    typed = st.number_input(
        here.words.say("gear.load", unit=unit.unit, least=f"{figure:g}", other=both.split(least, "load")[1]),
        None, None, None, 10.0, format="%g", key="gear-load",
        help=here.words.say("gear.load-help"),
    )  # fmt: skip
    return None if typed is None else round(both.taken(typed, "load") / _KILO, 1)


def _ask_load(here: Here, state: GearState, load: float | None, gaps: Gaps) -> None:
    """Whether the load [kN] is there and can be: told with all that is missing, and not after it."""
    problem = None if load is None else gearing.load_problem(here.desk, state.gear, load)
    end = "" if problem is None else "-over" if problem.code == "gear-load-crush" else "-wrong"
    wrong = "" if problem is None else here.words.error(problem)
    gaps.ask(here.words.say(f"gear.gap-load{end}"), is_there=load is not None, wrong=wrong)


def _segment(here: Here, number: int, gaps: Gaps) -> list[float | None]:
    """One segment: how much of each third printed."""
    words = here.words
    st.subheader(words.say("gear.segment", number=number), anchor=False)
    printed = {
        third: st.pills(
            words.say(f"gear.third-{third}"),
            _SHARES,
            key=f"gear-{number}-{third}",
            format_func=lambda share: words.say(f"gear.share-{share * 100:.0f}"),
        )
        for third in _THIRDS
    }
    lacking = [words.say(f"gear.gap-{third}") for third, share in printed.items() if share is None]
    named = words.say("gear.gap-segment", number=number)
    if len(lacking) < len(_THIRDS):
        named = words.say("gear.gap-thirds", number=number, thirds=", ".join(lacking))
    gaps.ask(named, is_there=not lacking)
    return list(printed.values())


def _send(here: Here, state: GearState, bowl: str, read: list[list[float]], load: str, told: str, day: date) -> None:
    try:
        tested = gearing.note_test(here.desk, state.gear, bowl, read, load, told, day, session.kept(gear_forms.RECORD))
    except TrainerError as error:
        frame.shown(error, here.words)
        return
    session.keep(gear_forms.RECORD, "")
    session.keep(_STEP, _spoken(here, tested))
    place.put(do=None, told="yes")
    st.rerun()


def _spoken(here: Here, tested: PaperTest) -> str:
    step = here.words.say(f"gear.next-{_named(tested.step)}")
    return "  \n".join((here.words.say("gear.saved"), _verdict(here, tested.reading), f"**{step}**"))


def _named(step: NextStep) -> str:
    """The step's own first words as part of a key."""
    return step.partition(":")[0].partition(" until")[0].replace(",", "").replace(" ", "-")


def _verdict(here: Here, reading: Reading) -> str:
    found = [here.words.say(f"gear.did-paper-test-{each.replace(' ', '-')}") for each in reading.findings]
    return here.words.say("gear.reading", percent=f"{reading.coverage * 100:.0f}", findings="; ".join(found))


def told(here: Here) -> None:
    """What the test just recorded says, and the next step; nothing is destroyed on this word alone."""
    if place.at("told") and session.kept(_STEP):
        st.info(session.kept(_STEP))
        st.markdown(here.words.say("gear.not-alone"))
