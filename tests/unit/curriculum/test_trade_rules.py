"""Every rule of the trade is taught in a scene, and asked in an item: a table, held against the content."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trainer.curriculum import Loaded, load
from trainer.web import wording

APP = Path(__file__).parents[3]

HANDS, CREW, LIFT, SET, PULL = "hand-placement", "crewing-handles", "lifting-footing", "set-slips", "pull-slips"
STOP, CALLS, LOAD, CHECK, DIES, GREASE = (
    "stop-report", "calls-signals", "load-pipe", "check-slips", "dies", "lubrication",
)  # fmt: skip
PAPER, BOWLS, COLLARS, BRAKE, WATCH, MENTOR = (
    "slip-test", "bowls", "collars-clamp", "driller-part", "observing", "supervising",
)  # fmt: skip

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
    "stop: out loud": ("shout", (STOP, "doubt"), ((STOP, "al-counts"), (STOP, "al-order"))),
    "stop: anyone, a visitor too": ("any(one|body)", (STOP, "doubt"), ((STOP, "un-who"),)),
    "stop: no proof is needed": ("proof|think so|seems", (STOP, "doubt"), ((STOP, "al-when"), (STOP, "un-seventy"))),
    "stop: clear first": ("clear", (STOP, "reach"), ((STOP, "cf-order"), (STOP, "cf-mate"))),
    "stop: sliding pipe is never grabbed": ("grab|press on the handles", (STOP, "reach"), ((STOP, "cf-never"),)),
    "stop: the driller catches the load": ("catch(es)? |caught the load", (STOP, "reach"), ((STOP, "cf-order"),)),
    "stop: what, where, which joint": ("joint", (STOP, "what-where-which"), ((STOP, "te-parts"), (STOP, "te-best"))),
    "stop: on again when told why it is safe": ("why it is safe", (STOP, "reason"), ((STOP, "tw-true"),)),
    "stop: ready, late or ordered is no reason": ("behind", (STOP, "reason"), ((STOP, "tw-not"),)),
    "stop: a keeper missing stays out, whatever is said": ("keeper", (STOP, "reason"), ((CHECK, "wd-hurry"),)),
    "stop: a hand caught": ("one caller", (STOP, "caught"), ((STOP, "ca-right"), (STOP, "ca-whose"))),
    "stop: anyone's stop is obeyed": ("stop", (STOP, "they-stop"), ((STOP, "ob-visitor"), (STOP, "ob-hands"))),
    "stop: counts for, never against": ("minutes", (STOP, "nothing-there"), ((STOP, "un-small"),)),
    "calls: set, hold, clear, pick up": (
        "(?=.*set)(?=.*hold)(?=.*clear)(?=.*pick up)(?=.*stop)", (CALLS, "five-words"), ((CALLS, "wd-pairs"),),
    ),
    "calls: in the crew's language": ("language", (CALLS, "their-words"), ((CALLS, "cl-who-picks"),)),
    "calls: and by hand under noise": ("voice and hand", (CALLS, "under-noise"), ((CALLS, "bw-how"),)),
    "calls: the hand signals": ("both arms", (CALLS, "all-five"), ((CALLS, "ha-three"),)),
    "calls: silence means stop": ("silence", (CALLS, "silence"), ((CALLS, "si-do"), (CALLS, "si-order"))),
    "calls: repeats back": ("said back", (CALLS, "wrong-back"), ((CALLS, "sb-why"),)),
    "calls: STOP in any tongue, from anybody": ("any language", (CALLS, "any-tongue"), ((CALLS, "st-which"),)),
    "load: what hangs, less the block": ("block and top drive", (LOAD, "two-weights"), ((LOAD, "os-t"),)),
    "load: a blow, a thin wall, a short grip": ("squeeze", (LOAD, "what-crushes"), ((LOAD, "cr-nearer"),)),
    "load: the site's limit for this string": ("row", (LOAD, "which-row"), ((LOAD, "li-row"), (LOAD, "li-order"))),
    "load: the inspected class, not new pipe": ("class", (LOAD, "which-row"), ((LOAD, "li-row"), (LOAD, "pc-new"))),
    "load: nobody goes over the limit": ("nobody goes over", (LOAD, "near"), ((LOAD, "nl-when"), (LOAD, "nl-who"))),
    "load: a gouged joint is tagged": ("goug", (LOAD, "rack"), ((LOAD, "da-rack"), (LOAD, "da-order"))),
    "load: a necked joint is tagged": ("necked|pull", (LOAD, "recall-neck"), ((LOAD, "da-rack"), (LOAD, "da-see"))),
    "load: laid out apart": ("apart", (LOAD, "in-a-hurry"), ((LOAD, "da-do"), (LOAD, "da-order"))),
    "load: no file and no weld on pipe": ("weld", (LOAD, "in-a-hurry"), ((LOAD, "qf-file"),)),
    "load: pipe is stopped, at any load": ("blow", (LOAD, "what-crushes"), ((LOAD, "bl-moving"),)),
    "check: off the hole, eye protection on": ("eye protection (is )?on", (CHECK, "where"), ((CHECK, "oh-before"),)),
    "check: a hand in the table": ("rotary locked|rotary is locked", (CHECK, "where"), ((CHECK, "oh-table"),)),
    "check: isolated by the site's lockout": ("lockout", (CHECK, "where"), ((CHECK, "oh-table"),)),
    "check: size, complete, of one set": ("size", (CHECK, "same-set"), ((CHECK, "uf-sets"),)),
    "check: no cracks": ("crack", (CHECK, "line"), ((CHECK, "ot-fix"), (CHECK, "cr-line"))),
    "check: every die present": ("die is missing", (CHECK, "find"), ((CHECK, "at-point"),)),
    "check: sharp": ("sharp", (CHECK, "teeth"), ((CHECK, "er-judge"),)),
    "check: keepers in": ("keeper", (CHECK, "find"), ((CHECK, "at-point"), (CHECK, "at-words"))),
    "check: hinge pins and retainers in": ("retainer", (CHECK, "retainer"), ((CHECK, "at-point-two"),)),
    "check: handles tight": ("handle", (CHECK, "line"), ((CHECK, "uf-words"), (CHECK, "hb-handle"))),
    "check: backs clean and whole": ("back", (CHECK, "recall-find"), ((CHECK, "uf-words"), (CHECK, "hb-torn"))),
    "check: tagged out and told": ("tag", (CHECK, "told"), ((CHECK, "ot-tag"), (CHECK, "ot-order"))),
    "check: never a weld, never a change": ("weld", (CHECK, "line"), ((CHECK, "ot-fix"),)),
    "dies: off the hole or hole covered": ("hole covered|hole is covered", (DIES, "place"), ((DIES, "hs-before"),)),
    "dies: at the table, isolated": ("lockout", (DIES, "place"), ((DIES, "hs-table"),)),
    "dies: the whole set, one type": ("type", (DIES, "which"), ((DIES, "ok-box"), (DIES, "ok-short"))),
    "dies: grooves clean": ("clean|brush", (DIES, "slots"), ((DIES, "rw-slot"), (DIES, "cs-judge"))),
    "dies: tooth direction": ("tips", (DIES, "way"), ((DIES, "rw-all"), (DIES, "rw-point"))),
    "dies: keepers locked": ("locked", (DIES, "way"), ((DIES, "rw-all"),)),
    "dies: soft hammer and goggles": ("goggles", (DIES, "stuck"), ((DIES, "sp-near"),)),
    "dies: no steel hammer": ("steel hammer|steel one", (DIES, "stuck"), ((DIES, "sp-hammer"), (DIES, "sp-point"))),
    "dies: count in is count out": ("count", (DIES, "count"), ((DIES, "co-when"), (DIES, "co-all"))),
    "dies: a missing die stops the job": ("missing|stops", (DIES, "count"), ((DIES, "co-all"),)),
    "dies: old ones destroyed and tagged": ("destroyed", (DIES, "old"), ((DIES, "od-best"),)),
    "dies: no grease in the slots": ("grease", (DIES, "slots"), ((DIES, "cs-judge"),)),
    "grease: the right product": ("name", (GREASE, "product"), ((GREASE, "np-two"), (GREASE, "np-maker"))),
    "grease: backs and cone only": ("back", (GREASE, "where"), ((GREASE, "pl-point"), (GREASE, "pl-words"))),
    "grease: none on dies or pipe": ("teeth", (GREASE, "where"), ((GREASE, "pl-words"), (GREASE, "pl-wrong"))),
    "grease: hands off while the hoist can move": ("hoist", (GREASE, "hands"), ((GREASE, "ho-true"),)),
    "grease: isolated by the site's lockout": ("lockout", (GREASE, "hands"), ((GREASE, "ho-true"),)),
    "grease: excess gone": ("table", (GREASE, "amount"), ((GREASE, "tf-judge"),)),
    "grease: a dry bowl is reported": ("dry", (GREASE, "recall-say"), ((GREASE, "re-what"),)),
    "grease: a dirty bowl is reported": ("grit", (GREASE, "recall-say"), ((GREASE, "re-what"),)),
    "grease: slips that stick are not pried": ("pries", (GREASE, "sticks"), ((GREASE, "re-stick"),)),
    "paper: inside casing": ("casing", (PAPER, "ready"), ((PAPER, "ic-below"), (PAPER, "ic-ready"))),
    "paper: plain pipe without marks": ("marks", (PAPER, "ready"), ((PAPER, "pp-marks"), (PAPER, "pp-point"))),
    "paper: made safe before hands": ("lockout", (PAPER, "wrap"), ((PAPER, "ho-true"), (PAPER, "ho-order"))),
    "paper: no hand in the bowl": ("hand", (PAPER, "wrap"), ((PAPER, "ho-when"), (PAPER, "ho-slips-down"))),
    "paper: the load on the slips, the block off": ("block", (PAPER, "two-loads"), ((PAPER, "tl-dial"),)),
    "paper: the site's figure": ("figure", (PAPER, "too-light"), ((PAPER, "tl-counts"), (PAPER, "so-which"))),
    "paper: under the crush limit": ("limit", (PAPER, "too-light"), ((PAPER, "tl-counts"), (PAPER, "cl-heavy"))),
    "paper: out held together": ("together", (PAPER, "come-out"), ((PAPER, "to-smear"),)),
    "paper: by thirds": ("third", (PAPER, "thirds"), ((PAPER, "rp-hand"), (PAPER, "rp-doubt"))),
    "paper: segment by segment": ("segment", (PAPER, "segments"), ((PAPER, "rp-driller"), (PAPER, "rp-doubt"))),
    "paper: the next step": ("new slips of the right size", (PAPER, "not-full"), ((PAPER, "so-order"),)),
    "paper: a set not proven stays out": ("not proven", (PAPER, "not-full"), ((PAPER, "so-which"),)),
    "paper: nothing destroyed on one paper": ("photo", (PAPER, "not-full"), ((PAPER, "sc-photo"),)),
    "bowls: isolated, hole covered": ("lockout", (BOWLS, "made-safe"), ((BOWLS, "ms-enough"),)),
    "bowls: the hole is covered": ("cover", (BOWLS, "made-safe"), ((BOWLS, "ms-order"), (BOWLS, "ms-point"))),
    "bowls: the right bowl for slip and pipe": ("pair", (BOWLS, "which-bowl"), ((BOWLS, "rb-draw"),)),
    "bowls: seated and clean": ("clean", (BOWLS, "seat"), ((BOWLS, "sl-ready"), (BOWLS, "wl-wont"))),
    "bowls: locked": ("lock", (BOWLS, "seat"), ((BOWLS, "sl-ready"), (BOWLS, "wl-up"))),
    "bowls: lifted with rated gear": ("rat(ed|ing)", (BOWLS, "lift"), ((BOWLS, "ra-draw"), (BOWLS, "ra-hand"))),
    "bowls: nobody under the load": ("under", (BOWLS, "lift"), ((BOWLS, "nu-swing"),)),
    "bowls: edge along back, face and cone": ("face", (BOWLS, "where-edge"), ((BOWLS, "le-where"),)),
    "bowls: the maker's limit": ("limit", (BOWLS, "read-gap"), ((BOWLS, "rg-cone"), (BOWLS, "ml-source"))),
    "bowls: over it, a named decision": ("named|names", (BOWLS, "over"), ((BOWLS, "nd-boat"),)),
    "bowls: never welded, shimmed, ground": ("weld", (BOWLS, "over"), ((BOWLS, "qf-shim"),)),
    "collars: drill-pipe slips do not cover them": ("drill-pipe", (COLLARS, "which-slips"), ((COLLARS, "rs-never"),)),
    "collars: clamp at the site's height": ("height|high", (COLLARS, "where"), ((COLLARS, "cs-wrong"),)),
    "collars: all links tight": ("link", (COLLARS, "one-loose"), ((COLLARS, "cs-wrong"), (COLLARS, "qf-cheater"))),
    "collars: the lift sub tight": ("shoulder", (COLLARS, "lift-sub"), ((COLLARS, "ls-before"), (COLLARS, "ls-again"))),
    "collars: hands only when locked and still": ("rotary", (COLLARS, "when-on"), ((COLLARS, "oc-order"),)),
    "collars: off and clear before lowering": ("clear", (COLLARS, "clamp-off"), ((COLLARS, "oc-true"),)),
    "collars: parts counted": ("count", (COLLARS, "one-short"), ((COLLARS, "co-missing"), (COLLARS, "co-when"))),
    "collars: clear while tongs turn the string": ("turn", (COLLARS, "clamp-off"), ((COLLARS, "tu-where"),)),
    "brake: stopped, not turning, locked": ("turn", (BRAKE, "before-hands"), ((BRAKE, "bf-true"), (BRAKE, "bf-order"))),
    "brake: set before any hand moves": ("brake set", (BRAKE, "before-hands"), ((BRAKE, "bf-true"),)),
    "brake: every hand seen": ("hand", (BRAKE, "see-hands"), ((BRAKE, "cf-not"), (BRAKE, "cf-point"))),
    "brake: clear heard before the weight": ("clear", (BRAKE, "see-hands"), ((BRAKE, "cf-not"), (BRAKE, "cf-order"))),
    "brake: weight watched, slips hold": ("hold", (BRAKE, "weight"), ((BRAKE, "ho-three"), (BRAKE, "ho-order"))),
    "brake: nobody near while the string turns": ("turn", (BRAKE, "weight"), ((BRAKE, "cf-turn"),)),
    "brake: first pull slow": ("slowly|speed", (BRAKE, "first-pull"), ((BRAKE, "fp-speed"),)),
    "brake: stops on any shout": ("anyone's", (BRAKE, "stop-called"), ((BRAKE, "sa-which"),)),
    "brake: catches the load": ("catch", (BRAKE, "slides"), ((BRAKE, "sl-first"),)),
    "brake: a hand caught, one caller": ("one caller", (BRAKE, "caught"), ((BRAKE, "sa-true"), (BRAKE, "ca-up"))),
    "brake: well control is the procedure's": ("procedure", (BRAKE, "well-control"), ((BRAKE, "wc-governs"),)),
    "brake: no device": ("phone|device", (BRAKE, "before-hands"), ((BRAKE, "de-where"),)),
    "watch: no other job": ("job", (WATCH, "who"), ((WATCH, "fr-floor"), (WATCH, "fr-lost"))),
    "watch: start and end agreed": ("end", (WATCH, "begin"), ((WATCH, "ag-end"), (WATCH, "ag-secret"))),
    "watch: writes what he saw": ("saw", (WATCH, "note"), ((WATCH, "sa-notes"),)),
    "watch: a prompt is ticked as one": ("prompt", (WATCH, "told"), ((WATCH, "un-word"), (WATCH, "om-told"))),
    "watch: unseen is never met": ("unseen|see|saw", (WATCH, "told"), ((WATCH, "un-told"), (WATCH, "om-told-gear"))),
    "watch: a critical miss stops it": ("stop", (WATCH, "miss"), ((WATCH, "sf-order"), (WATCH, "sf-what"))),
    "watch: said kindly, written the same tour": ("same tour", (WATCH, "miss"), ((WATCH, "sf-what"),)),
    "watch: signs only what he watched": ("watched", (WATCH, "mates"), ((WATCH, "sa-pin"), (WATCH, "ma-bus"))),
    "watch: a stop counts for him": ("favour", (WATCH, "recall-stop"), ((WATCH, "pr-stop"),)),
    "watch: no tablet at the well centre": ("tablet", (WATCH, "begin"), ((WATCH, "ca-tablet"),)),
    "mentor: as the third, with two who hold it": ("third", (MENTOR, "third"), ((MENTOR, "th-crews"),)),
    "mentor: never two learners": ("two learners", (MENTOR, "third"), ((MENTOR, "th-crews"),)),
    "mentor: within arm's reach": ("arm", (MENTOR, "reach"), ((MENTOR, "re-point"), (MENTOR, "re-which"))),
    "mentor: says before what he stops": ("stop", (MENTOR, "before"), ((MENTOR, "sy-acts"), (MENTOR, "sy-what"))),
    "mentor: steps in early": ("still nothing", (MENTOR, "early"), ((MENTOR, "ea-now"),)),
    "mentor: no hand goes in after a hand": ("hand", (MENTOR, "early"), ((MENTOR, "ea-order"), (MENTOR, "ha-in"))),
}  # fmt: skip

# Gate -> a pattern, the bank and its critical objective that asks it, the sheet and its critical step that watches it.
GATES: dict[str, tuple[str, Place, Place]] = {
    "stops out loud": ("shout", (STOP, "aloud"), (STOP, "stop-aloud")),
    "clears first": ("clear", (STOP, "clear-first"), (STOP, "stop-clear")),
    "never grabs sliding pipe": ("slides|stand", (STOP, "clear-first"), (STOP, "stop-hands")),
    "tells what, where, which joint": ("joint", (STOP, "tells"), (STOP, "stop-tells")),
    "restarts only when told why": ("why it is safe", (STOP, "told-why"), (STOP, "stop-waits")),
    "gives and answers the calls": ("call", (CALLS, "words"), ("connections", "calls-given")),
    "by hand when it is loud": ("by hand|signal|drawings", (CALLS, "hands"), ("connections", "calls-given")),
    "silence means stop": ("silence|answer", (CALLS, "silence"), ("connections", "calls-silence")),
    "names what raises crush risk": ("crush", (LOAD, "crush-risk"), (LOAD, "load-risk")),
    "finds the site's limit": ("limit", (LOAD, "limit"), (LOAD, "load-limit")),
    "a damaged joint is tagged": ("tag", (LOAD, "damaged"), (LOAD, "load-tag")),
    "off the hole, eye protection on": ("eye protection (is )?on", (CHECK, "off-hole"), ("gear", "check-place")),
    "size, complete, one set": ("size", (CHECK, "unfit"), ("gear", "check-set")),
    "no cracks": ("crack|dark line", (CHECK, "unfit"), ("gear", "check-cracks")),
    "every die, keepers in": ("keeper", (CHECK, "all-there"), ("gear", "check-dies")),
    "pins and retainers": ("retainer", (CHECK, "all-there"), ("gear", "check-pins")),
    "handles tight": ("handle", (CHECK, "unfit"), ("gear", "check-handles")),
    "backs clean": ("back", (CHECK, "unfit"), ("gear", "check-backs")),
    "tagged out and told": ("tag", (CHECK, "out-and-told"), ("gear", "check-tag")),
    "dies off the hole": ("off the hole", (DIES, "hole-safe"), ("gear", "dies-place")),
    "whole set, same type": ("type", (DIES, "one-kind"), ("gear", "dies-kind")),
    "tooth direction": ("the maker marks", (DIES, "right-way"), ("gear", "dies-way")),
    "keepers locked": ("keeper", (DIES, "right-way"), ("gear", "dies-keepers")),
    "count in is count out": ("count", (DIES, "count"), ("gear", "dies-count-in")),
    "hands off while the hoist can move": ("hoist", (GREASE, "hands-off"), ("gear", "grease-hands")),
    "backs and cone only": ("back", (GREASE, "places"), ("gear", "grease-places")),
    "a dry or dirty bowl reported": ("dry", (GREASE, "report"), ("gear", "grease-report")),
    "hands at the paper, made safe": ("lockout", (PAPER, "hands-off"), (PAPER, "test-wrap")),
    "the load on the slips": ("block", (PAPER, "test-load"), (PAPER, "test-load")),
    "thirds and segments": ("segment", (PAPER, "reads-paper"), (PAPER, "test-read")),
    "not proven stays out": ("proven", (PAPER, "stays-out"), (PAPER, "test-stays-out")),
    "bowl work isolated": ("lockout", (BOWLS, "made-safe"), ("gear", "bowls-isolated")),
    "bowl seated and locked": ("seat", (BOWLS, "seated-locked"), ("gear", "bowls-seated")),
    "gap against the limit": ("limit", (BOWLS, "reads-gap"), ("gear", "bowls-limit")),
    "collar slips": ("drill-pipe", (COLLARS, "right-slips"), (COLLARS, "collar-slips")),
    "clamp level and snug": ("level", (COLLARS, "clamp-snug"), (COLLARS, "collar-height")),
    "lift sub tight": ("shoulder", (COLLARS, "lift-sub"), (COLLARS, "collar-lift-sub")),
    "clamp off and clear": ("clear", (COLLARS, "off-and-clear"), (COLLARS, "collar-off")),
    "brake set before hands": ("brake", (BRAKE, "brake-first"), (BRAKE, "brake-first")),
    "every hand, clear": ("clear", (BRAKE, "clear-first"), (BRAKE, "brake-clear")),
    "weight and hold": ("hold", (BRAKE, "holds"), (BRAKE, "brake-holds")),
    "any shout": ("shout", (BRAKE, "stop-any"), (BRAKE, "brake-any-shout")),
    "a hand caught, at the brake": ("one caller", (BRAKE, "stop-any"), (BRAKE, "brake-caught")),
    "free of other work": ("job|slips", (WATCH, "free"), (WATCH, "obs-free")),
    "only met": ("prompt", (WATCH, "only-met"), (WATCH, "obs-prompt")),
    "stops a critical miss": ("stop", (WATCH, "safe-first"), (WATCH, "obs-miss")),
    "what he saw": ("saw", (WATCH, "saw"), (WATCH, "obs-saw")),
    "the third": ("two who hold it|learner", (MENTOR, "third"), (MENTOR, "sup-third")),
    "arm's reach": ("arm", (MENTOR, "reach"), (MENTOR, "sup-reach")),
    "says before": ("stop", (MENTOR, "says"), (MENTOR, "sup-before")),
    "steps in early": ("still nothing", (MENTOR, "early"), (MENTOR, "sup-early")),
}


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


@pytest.mark.parametrize("gate", GATES)
def test_the_gate_is_critical_in_the_bank_and_on_the_sheet(loaded: Loaded, gate: str) -> None:
    word, (bank, objective), (sheet, name) = GATES[gate]
    critical = {entry.id for entry in loaded.banks[bank].objectives if entry.critical}
    assert objective in critical
    asked = [said(item) for item in loaded.banks[bank].items if item.objective == objective]
    assert len(asked) >= 3
    assert any(re.search(word, text) for text in asked)
    [step] = [step for step in loaded.checklists[sheet].steps if step.id == name]
    assert step.critical
    assert step.competency == loaded.banks[bank].competency
    assert re.search(word, said(step)), said(step)
