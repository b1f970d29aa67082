"""Whatever is said of a site's file has a code, so that a screen can say it in its own language."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.test_rig_figures import test_a_mistake_is_named_with_its_place as rig_mistakes
from tests.unit.curriculum.test_site_limits import test_what_nobody_can_mean_is_refused_once_with_an_example as refused
from trainer import curriculum, words
from trainer.curriculum import read_site
from trainer.curriculum.causes import CAUSES, GOT, REMEDIES, Cause, cause_of
from trainer.errors import BadContent

ROOT = Path(curriculum.__file__).resolve().parents[2]
CONTENT = curriculum.load(ROOT, ROOT)
WORDS = words.load(ROOT, ROOT)
TEMPLATE = (ROOT / "content" / "site.yaml").read_text("utf-8")

BREAKS: tuple[tuple[str, str], ...] = (
    ("role: coordinator", "role: boss"),
    ("role: coordinator", "role: driller"),
    ("observes: true", "observes: yes"),
    ("observes: true", "observes: maybe"),
    ("observes: true", 'observes: "true"'),
    ("observes: true", "observe: true"),
    ("{role: hand,", "{rle: hand,"),
    ("title: {en: Floorhand, es: Cuñero}", "title: Floorhand"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {es: Cuñero}"),
    ("title: {en: Floorhand, es: Cuñero}", "title: [a, b]"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en: , es: Cuñero}"),
    ("title: {en: Floorhand, es: Cuñero}", 'title: {en: "", es: Cuñero}'),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en: Floorhand, spanish: Cuñero}"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en: true, es: Cuñero}"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en: [a], es: Cuñero}"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en: Floor, hand: x, or more: y}"),
    ("title: {en: Floorhand, es: Cuñero}", "title: {en:Floorhand, es: Cuñero}"),
    ("start: 2026-01-05", "start: 2026-02-30"),
    ("start: 2026-01-05", "start: soon"),
    ("start: 2026-01-05, ", ""),
    ("on: 14", "on: many"),
    ("on: 14", 'on: "14"'),
    ("on: 14", "on: 1"),
    ("on: 14, ", ""),
    ("06:00-18:00", "days"),
    ("outside_good_for: P90D", "outside_good_for: 90"),
    ("outside_good_for: P90D", "outside_good_for: 90 days"),
    ("outside_good_for: P90D", "outside_good_for: [P90D]"),
    ("outside_good_for: P90D", "outside_good_for: a while"),
    ("languages: [en, es]", "languages: en"),
    ("languages: [en, es]", "languages: []"),
    ("complete: [en, es]", "complete: [en, pt]"),
    ("calls_language: en", "calls_language: [en]"),
    ("calls_language: en", "calls_language: “en”"),
    ("calls_language: en", "calls_language: true"),
    ("calls_language: en", "calls_language: {a: b}"),
    ("attempts: 3", "attempts: 0"),
    ("assessment:\n", "assessment: soon\nx:\n"),
    ('slip_team: "3"', 'slip_team: "two"'),
    ('slip_team: "3"', 'slip_team: "2"'),
    ('watch_connections: "10"', 'watch_connections: "2"'),
    ('watch_connections: "10"', "paper: A9"),
    ('watch_connections: "10"', "two_on_set: alone"),
    ('watch_connections: "10"', "slip_mass_kg: heavy"),
    ('watch_connections: "10"', 'slip_mass_kg: "120"'),
    ("gear:\n", "procedures: {set-slip: {number: A}}\ngear:\n"),
    ("gear:\n", "procedures: {zzz: {number: A}}\ngear:\n"),
    ("gear:\n", "glossary: {es: {dadoo: {one: a, many: b}}}\ngear:\n"),
    ("gear:\n", "glossary: {es: {zzzzz: {one: a, many: b}}}\ngear:\n"),
    ("gear:\n", "glossary: {es: {dado: {one: muela, many: muelas, gender: x}}}\ngear:\n"),
    ("gear:\n", "glossary: {es: {dado: {one: muela, many: muelas, gender: f}}}\ngear:\n"),
    ("kind: bowl", "kind: pot"),
    ("notice: P14D", "notice: P6M"),
    ("outside_good_for: P90D", "outside_good_for: P90D\noutside_good_for: P90D"),
    ("outside_good_for: P90D", "outside_good_for: *x"),
    ("outside_good_for: P90D", "outside_good_for: &x P90D"),
    ("outside_good_for: P90D", "outside_good_for: !x P90D"),
    ("outside_good_for: P90D", "outside_good_for:P90D"),
    ("outside_good_for: P90D", "outside_good_for P90D"),
    ("\ncrews:\n", "\ncrews\n"),
    ("outside_good_for: P90D", "\toutside_good_for: P90D"),
    ("outside_good_for: P90D", "\u00a0outside_good_for: P90D"),
    ("outside_good_for: P90D", 'outside_good_for: "P90D'),
    ("outside_good_for: P90D", "outside_good_for: {P90D"),
    ("outside_good_for: P90D", "outside_good_for: @P90D"),
    ("outside_good_for: P90D", "outside_good_for: P90D: more"),
    ("outside_good_for: P90D", "outside_good_for: “a: b” c: d"),
    ("outside_good_for: P90D", "  outside_good_for: P90D"),
    ("outside_good_for: P90D", "outside_good_for: P90D\n---\na: b"),
    ("outside_good_for: P90D", 'outside_good_for: "\\x07"'),
    ("outside_good_for: P90D", "outside_good_for: \x07"),
    ("outside_good_for: P90D", "? [a]\n: b"),
    ("outside_good_for: P90D", "outside_good_for: " + "[" * 60),
    ("  retake_hours: 12", " retake_hours: 12"),
    ("inspected_class: premium", "x: y"),
    ("    # inspected_class: premium\n    # wall_left: 84 %", "    inspected_class: premium\n    wall_left: 60 %"),
    ("nominal: 19.50 lb/ft", "nominal: 19.50 lb/ft\n    wall: 9 in"),
    ("set-5-a: {pipe_od", "set-9: {pipe_od"),
    ("9200 ft", "92000 ft"),
    ("- {part: drill-pipe", "{part: drill-pipe"),
    ("- {part: collars", "-{part: collars"),
)


def files() -> list[bytes]:
    [breaks] = [each.args[1] for each in rig_mistakes.pytestmark]  # type: ignore[attr-defined]
    [limits] = [each.args[1] for each in refused.pytestmark]  # type: ignore[attr-defined]
    pairs = [*BREAKS, *((old, new) for old, new, *_ in (*breaks, *limits) if old in TEMPLATE)]
    made = [TEMPLATE.replace(old, new, 1).encode() for old, new in pairs]
    return [*made, b"", b"- a", b"a: [", b"\x81\x8d", b"x: " + b"1" * 1_000_001]


@pytest.mark.parametrize("text", [pytest.param(each, id=str(n)) for n, each in enumerate(files())])
def test_everything_that_is_said_of_a_broken_file_has_a_code(text: bytes) -> None:
    try:
        found = read_site(CONTENT, text, "mine.yaml").remarks
    except BadContent as error:
        found = error.problems
    for each in found:
        what, todo = cause_of(each.what, CAUSES), cause_of(each.todo, REMEDIES)
        assert what is not None, each
        assert todo is not None, each
        if got := what.values.get("got"):
            assert cause_of(got, GOT) is not None


def test_a_sentence_gives_its_code_and_what_fills_its_places() -> None:
    said = 'expected one of hand, driller, got "boss"'
    assert cause_of(said, CAUSES) == Cause("one-of", {"choices": "hand, driller", "got": '"boss"'})
    assert cause_of("add coordinator: {role: coordinator}", REMEDIES) == Cause("add-office", {})
    assert cause_of("something else", CAUSES) is None


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_code_has_words_that_use_only_its_own_places(language: str) -> None:
    own = WORDS[language].sentences
    for half, table in (("what", CAUSES), ("todo", REMEDIES), ("got", GOT)):
        for code, form in table:
            key = f"site_said.{half}-{code}"
            assert key in own, key
            found = cause_of(form.replace("{{", "{").replace("}}", "}"), [(code, form)])
            WORDS[language].say(key, office="", **(found.values if found else {}))
