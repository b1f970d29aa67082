"""The form for a paper test: segment by segment, third by third; and what the sheet says, with the next step."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions import gearing
from trainer.actions.gearing import PaperTest
from trainer.core.gear import BOWL, GearState, What
from trainer.errors import TrainerError
from trainer.mechanics import NextStep, Reading
from trainer.web import frame, gear_forms, place, session
from trainer.web.door import Here
from trainer.web.press import submit

__all__ = ["draw", "told"]

_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
_THIRDS = ("top", "middle", "bottom")
_STEP = "gear-step"
_LONGEST = 500


def draw(here: Here, state: GearState) -> None:
    """The form; once it is sent, the page of the set with the reading and the next step."""
    words, site = here.words, here.desk.catalogue.site
    gear_forms.heading(here, state, What.TEST)
    bowls = [name for name, item in site.gear.items() if item.kind == BOWL]
    with st.form("gear-test", border=False):
        bowl = st.radio(
            words.say("gear.bowl"), bowls, index=0 if len(bowls) == 1 else None, key="gear-bowl",
            format_func=lambda name: words.pick(site.gear[name].title),
        )  # fmt: skip
        least = site.gear_rules.least_load_kn
        load = st.number_input(
            words.say("gear.load", least=least), 0.0, None, None, 10.0, format="%g", key="gear-load",
            help=words.say("gear.load-help"),
        )  # fmt: skip
        imprint = [_segment(here, number) for number in range(1, state.item.segments + 1)]
        day = st.date_input(words.say("gear.day"), here.desk.today, format="YYYY-MM-DD", key="gear-day")
        told = st.text_area(words.say("gear.told-paper-test"), max_chars=_LONGEST, key="gear-told")
        is_sent = submit(words.say("gear.save"), "gear-save-test")
    if not is_sent:
        return
    read = [[third for third in segment if third is not None] for segment in imprint]
    if bowl is None or load is None or day is None or any(len(segment) < len(_THIRDS) for segment in read):
        st.error(words.say("gear.test-missing"))
        return
    _send(here, state, bowl, read, f"{load:g}", told, day)


def _segment(here: Here, number: int) -> list[float | None]:
    """One segment: how much of each third printed."""
    words = here.words
    st.subheader(words.say("gear.segment", number=number), anchor=False)
    return [
        st.pills(
            words.say(f"gear.third-{third}"),
            _SHARES,
            key=f"gear-{number}-{third}",
            format_func=lambda share: words.say(f"gear.share-{share * 100:.0f}"),
        )
        for third in _THIRDS
    ]


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
