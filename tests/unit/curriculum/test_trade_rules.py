"""Every rule of setting and pulling is taught in a scene, and asked in an item: a table, held against the content."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trainer.curriculum import Loaded, load
from trainer.web import wording

APP = Path(__file__).parents[3]

HANDS, CREW, LIFT, SET, PULL = "hand-placement", "crewing-handles", "lifting-footing", "set-slips", "pull-slips"

Place = tuple[str, str]

# Rule -> a pattern that each of them must say, the scene that teaches it, the items that ask it.
RULES: dict[str, tuple[str, Place, tuple[Place, ...]]] = {
    "set: pipe stopped and not turning": ("turn", (SET, "still-moving"), ((SET, "sf-before"), (SET, "sf-stop"))),
    "set: brake set, and said": ("brake set", (SET, "still-moving"), ((SET, "sf-before"),)),
    "set: stick-up in the site's range": ("range", (SET, "stick-up"), ((SET, "su-low"), (SET, "su-high"))),
    "set: on plain body": ("plain body", (SET, "grip-where"), ((SET, "rp-words"), (SET, "rp-point"))),
    "set: not on joint, hardband, taper, upset": ("upset", (SET, "grip-where"), ((SET, "rp-point"),)),
    "set: the right size": ("size", (SET, "right-set"), ((SET, "rp-size"),)),
    "set: placed together": ("together", (SET, "by-hand"), ((SET, "to-late"), (SET, "sf-order"))),
    "set: hands off and clear called": ("clear", (SET, "may-take-weight"), ((SET, "cf-order"), (SET, "cf-wait"))),
    "set: slack off slowly": ("slowly", (SET, "see-hold"), ((SET, "cf-while"), (SET, "sh-order"))),
    "set: see them hold, only then unlatch": ("hold", (SET, "see-hold"), ((SET, "sh-signs"), (SET, "sh-early"))),
    "set: or back off the top drive": ("top drive", (SET, "see-hold"), ((SET, "sh-top"),)),
    "pull: latched or made up first": ("latch", (PULL, "latched"), ((PULL, "la-look"), (PULL, "wf-true"))),
    "pull: top drive made up": ("made up", (PULL, "latched"), ((PULL, "wf-top"),)),
    "pull: weight taken and slips free": ("weight", (PULL, "free-to-lift"), ((PULL, "wf-true"), (PULL, "wf-early"))),
    "pull: together on the call": ("call", (PULL, "free-to-lift"), ((PULL, "li-call"), (PULL, "wf-order"))),
    "pull: as the pipe rises slowly": ("slow", (PULL, "recall-order"), ((PULL, "nr-order"), (PULL, "nr-stop"))),
    "pull: out before the driller speeds up": ("speed", (PULL, "too-fast"), ((PULL, "li-speed"),)),
    "pull: set back clear of the hole, handles ready": ("hole", (PULL, "set-back"), ((PULL, "sb-where"),)),
    "pull: never ridden up": ("ride", (PULL, "ride-up"), ((PULL, "nr-stop"), (PULL, "nr-then"))),
    "pull: stuck means stop": ("stuck|do not come", (PULL, "stuck"), ((PULL, "st-order"),)),
    "pull: nobody pries, slings or ties on": ("sling", (PULL, "stuck"), ((PULL, "st-never"), (PULL, "st-why"))),
    "turning: no hands near slips on turning pipe": ("turning pipe", (PULL, "turns"), ((PULL, "la-draw"),)),
    "turning: rotary stopped and locked": ("rotary", (PULL, "turns"), ((PULL, "ct-rotary"),)),
    "turning: torque let off under control": ("torque", (PULL, "turns"), ((PULL, "ct-torque"), (PULL, "ct-when"))),
    "turning: clear while rotary or tongs turn the string": ("clear", (PULL, "turns"), ((PULL, "ct-tongs"),)),
    "slides: shout and clear first": ("clear", (SET, "recall-slide"), ((SET, "sl-creep"), (HANDS, "sp-slide"))),
    "slides: the driller catches the load": ("catches the load", (SET, "recall-slide"), ((SET, "sl-creep"),)),
    "slides: nobody grabs or stands on anything": ("stand", (SET, "recall-slide"), ((HANDS, "sp-slide"),)),
    "hangs up: stop, clear, on the one caller's word": ("word", (PULL, "ride-up"), ((PULL, "nr-down"),)),
    "a hand caught: all stops, one caller": ("one caller", (HANDS, "caught"), ((HANDS, "ch-voice"),)),
    "a hand caught: everything stops first": ("stops", (HANDS, "caught"), ((HANDS, "ch-first"),)),
    "collars: own slips and a clamp": ("clamp", (SET, "collars"), ((SET, "os-collar"),)),
    "collars: clamp off and clear before lowering": ("clear", (SET, "collars"), ((SET, "os-clamp"),)),
    "not covered: powered slips, casing slips, spiders": ("powered", (SET, "collars"), ((SET, "os-powered"),)),
    "well control: the driller's procedure": ("procedure", (PULL, "well-control"), ((PULL, "wc-word"),)),
    "never: kick": ("kick", (SET, "by-hand"), ((PULL, "li-fast"), (HANDS, "sa-high"))),
    "never: throw": ("throw", (SET, "recall-never"), ((SET, "to-never"),)),
    "never: drop": ("drop", (SET, "by-hand"), ((SET, "to-never"), (SET, "to-late"))),
    "never: stomp": ("boot", (HANDS, "rides-high"), ((SET, "to-never"),)),
    "never: hammer": ("hammer", (SET, "recall-never"), ((SET, "to-never"), (PULL, "st-mate"))),
    "never: stop or slow pipe with slips": ("brake", (SET, "still-moving"), ((SET, "sf-before"),)),
    "never: wait with slips against moving pipe": ("against|lean", (SET, "recall-never"), ((SET, "sf-before"),)),
    "never: line, chain or bar on a handle": ("chain", (SET, "by-hand"), ((SET, "to-line"), (PULL, "st-mate"))),
    "never: a die missing": ("die", (SET, "right-set"), ((SET, "ws-die"), (SET, "ws-gone"))),
    "never: a pin missing": ("pin", (SET, "right-set"), ((SET, "ws-gone"),)),
    "never: a segment missing": ("segment", (SET, "right-set"), ((SET, "ws-gone"),)),
    "never: a keeper missing": ("keeper", (SET, "right-set"), ((SET, "ws-gone"),)),
    "never: mixed segments": ("mixe", (SET, "right-set"), ((SET, "rp-size"),)),
    "never: weld or modify": ("weld", (SET, "right-set"), ((SET, "ws-mixed"),)),
    "never: grease or dope on dies or pipe": ("dies", (SET, "right-set"), ((SET, "ws-grease"),)),
    "never: rings and loose cuffs": ("ring", (HANDS, "ring"), ((HANDS, "nl-leave"),)),
    "never: hands between slip and pipe, bowl, segments": (
        "bowl", (HANDS, "never-places"), ((HANDS, "np-words"),),
    ),
    "never: hands under a handle": ("handle", (HANDS, "never-places"), ((HANDS, "np-words"), (HANDS, "np-side"))),
    "two people: both ways, the site's procedure picks": (
        "procedure|your site", (CREW, "two-men"), ((CREW, "pl-even"),),
    ),
    "two people: two thirds and a third": ("60", (CREW, "shares"), ((CREW, "sh-two"),)),
    "grip: palm up, fingers open in time": ("palm up", (HANDS, "bar-grip"), ((HANDS, "bg-draw"),)),
    "learner: only as the third": ("third", (CREW, "learner"), ((CREW, "le-may"),)),
    "learner: never two": ("two learners", (CREW, "learner"), ((CREW, "le-may"), (CREW, "le-stop"))),
    "lift: no lift a man short": ("short", (CREW, "man-short"), ((CREW, "rn-short"), (CREW, "pr-once"))),
    "lift: feet off bushing, slips and hose": ("bushing", (LIFT, "whats-wrong"), ((LIFT, "fo-two"),)),
}  # fmt: skip


@pytest.fixture(scope="module")
def loaded() -> Loaded:
    return load(APP, APP)


def said(content: object) -> str:
    return " ".join(text["en"] for text in wording.texts(content)).casefold()


@pytest.mark.parametrize("rule", RULES)
def test_the_rule_is_taught_and_asked(loaded: Loaded, rule: str) -> None:
    word, (lesson, scene), items = RULES[rule]
    taught = loaded.lessons[lesson].scene(scene)
    assert taught, scene
    assert re.search(word, said(taught))
    for bank, name in items:
        item = loaded.banks[bank].item(name)
        assert item, name
        assert re.search(word, said(item)), (name, word)
