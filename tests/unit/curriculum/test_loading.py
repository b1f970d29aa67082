"""Loading a folder: core types, what a folder may lack, the site's record, hashes."""

from __future__ import annotations

import dataclasses
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.curriculum.mini import FUNCTIONS, GOOD, copied, lines_of, loaded_from
from trainer.core.catalogue import Catalogue, Competency, Rotation, Site
from trainer.core.durations import Duration
from trainer.core.tasks import ChooseOne, Picture, PlaceCrew, WorkOut
from trainer.curriculum import all_problems, catalogue, load, refuse_problems, site_from
from trainer.curriculum.report import Report
from trainer.curriculum.shaping import shape, shape_list
from trainer.curriculum.yaml_reader import read
from trainer.errors import BadContent

APP = Path(__file__).parents[3]

SITE_ONLY = """
positions:
  floorhand: {role: hand}
crews: {office: {}}
"""
COMPETENCY_ONLY = """
- id: grip
  for: [floorhand]
  needs:
    knowledge: {quiz: grip, good_for: P12M}
    practical: {checklist: sheet, good_for: P12M}
"""


def whole(root: Path) -> Catalogue:
    loaded = loaded_from(root)
    assert loaded.site is not None
    return catalogue(loaded, loaded.site)


def two_files(tmp_path: Path, site: str = SITE_ONLY, competencies: str = COMPETENCY_ONLY) -> Path:
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "site.yaml").write_text(site, "utf-8")
    (tmp_path / "content" / "competencies.yaml").write_text(competencies, "utf-8")
    return tmp_path


def test_competencies_and_site_become_core_types() -> None:
    found = whole(GOOD)
    grip, setting = found.competencies
    assert grip.positions == ("floorhand", "driller")
    assert grip.needs.knowledge is not None
    assert grip.needs.knowledge.at_most == Duration(months=15)
    assert grip.within == Duration(weeks=2)
    assert (setting.after, setting.notice) == (("grip",), Duration(days=30))
    assert setting.procedure is not None
    assert setting.procedure.number == "1.10"
    assert found.site.crews["day"] == Rotation(date(2026, 1, 5), 14, 14, "06:00-18:00")
    assert found.site.crews["office"] == Rotation()
    assert found.site.figures == {"slip_weight": "1.10", "no": "NO"}


def test_tasks_become_the_type_of_their_kind() -> None:
    lesson = whole(GOOD).lessons["grip"]
    first, _, _, crew, _, number, _ = lesson.scenes
    assert isinstance(first.task, ChooseOne)
    assert first.task.options[0].picture == Picture("bar", marks={"left": "wrong"})
    assert isinstance(crew.task, PlaceCrew)
    assert crew.task.layouts == ({"left": ("a",), "right": ("b",)},)
    assert isinstance(number.task, WorkOut)
    assert number.task.parameters == {"weight": ("90", "1.5", 4)}


def test_conditions_keep_the_order_of_their_choices() -> None:
    light, sets = whole(GOOD).checklists["sheet"].conditions
    assert [name for name, _ in light.choices] == ["day", "night"]
    assert (sets.choices, sets.unit) == ((), "")


def test_a_folder_may_hold_competencies_and_site_only(tmp_path: Path) -> None:
    loaded = load(two_files(tmp_path), APP)
    assert loaded.site is not None
    bank, checklist = map(str, loaded.missing)
    assert bank == (
        'content/competencies.yaml:5: grip.needs.knowledge.quiz: there is no bank "grip" - write quizzes/grip.yaml'
    )
    assert checklist == (
        'content/competencies.yaml:6: grip.needs.practical.checklist: there is no checklist "sheet" - '
        "write content/checklists/sheet.yaml"
    )
    refuse_problems(loaded, serving=False)
    with pytest.raises(BadContent) as refused:
        refuse_problems(loaded, serving=True)
    assert set(loaded.missing) <= set(refused.value.problems)


def test_a_competency_without_a_title_is_called_by_its_id(tmp_path: Path) -> None:
    loaded = load(two_files(tmp_path), APP)
    assert loaded.competencies[0].title == {"en": "grip"}


def test_pictures_that_a_folder_lacks_are_the_apps_own(tmp_path: Path) -> None:
    root = copied(tmp_path, without=("content/pictures.yaml",))
    loaded = load(root, APP, FUNCTIONS)
    assert "slips-side" in loaded.pictures
    assert any('there is no picture "bar"' in str(each) for each in all_problems(loaded))


@pytest.mark.parametrize("name", ["content/site.yaml", "content/competencies.yaml"])
def test_a_folder_without_its_two_files_is_refused(name: str, tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path, without=(name,)))
    with pytest.raises(BadContent) as refused:
        refuse_problems(loaded, serving=False)
    assert f"{name}:1: file: there is no such file - write it" in map(str, refused.value.problems)


def test_a_crew_with_nothing_after_its_name_works_every_day(tmp_path: Path) -> None:
    loaded = load(two_files(tmp_path, site="positions: {floorhand: {role: hand}}\ncrews:\n  office:\n"), APP)
    assert loaded.site is not None
    assert loaded.site.crews["office"] == Rotation()


def test_the_site_record_gives_the_same_site_as_the_file() -> None:
    loaded = loaded_from(GOOD)
    assert site_from(loaded.site_data) == loaded.site


@pytest.mark.parametrize(
    ("data", "line"),
    [
        ({}, 'site record:1: file: "positions" is missing - add it, e.g. positions: {name: ...}'),
        (
            {"positions": {}, "crews": {"day": {"start": "2026-01-05"}}},
            'site record:1: crews.day: a start without "on" days - add on: 14, at least 2',
        ),
        (
            {"positions": {}, "crews": {}, "outside_good_for": 90},
            (
                "site record:1: outside_good_for: expected a duration in whole years, months, weeks or days, "
                'got "90" - write P90D for days, P90W for weeks or P90M for months'
            ),
        ),
    ],
)
def test_a_site_record_that_cannot_be_used_is_refused(data: dict[str, object], line: str) -> None:
    with pytest.raises(BadContent) as refused:
        site_from(data)  # type: ignore[arg-type]
    assert line in map(str, refused.value.problems)


def test_the_same_content_has_the_same_hash_wherever_it_lies(tmp_path: Path) -> None:
    assert whole(GOOD).hash == whole(copied(tmp_path)).hash


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("content/competencies.yaml", "notice: P30D", "notice: P29D"),
        ("content/competencies.yaml", "es: Agarre", "es: agarre"),
        ("content/site.yaml", "on: 14", "on: 15"),
        ("content/site.yaml", "1.10", "1.1"),
        ("content/lessons/grip.yaml", "It comes away.", "It comes away"),
        ("content/checklists/sheet.yaml", "critical: true", "critical: false"),
        ("quizzes/grip.yaml", "version: 1", "version: 2"),
    ],
)
def test_any_change_of_content_or_site_changes_the_hash(file: str, old: str, new: str, tmp_path: Path) -> None:
    text = (GOOD / file).read_text("utf-8")
    assert old in text
    assert whole(GOOD).hash != whole(copied(tmp_path, {file: text.replace(old, new, 1)})).hash


def test_a_range_of_a_condition_leaves_the_wording_of_its_sheet_as_it_was(tmp_path: Path) -> None:
    file = "content/checklists/sheet.yaml"
    text = (GOOD / file).read_text("utf-8").replace('unit: ""}', 'unit: "", least: 1, most: 2.5}')
    sheet = whole(copied(tmp_path, {file: text})).checklists["sheet"]
    assert (sheet.conditions[1].least, sheet.conditions[1].most) == ("1", "2.5")
    assert sheet.hash == whole(GOOD).checklists["sheet"].hash


def test_a_lesson_has_its_own_hash_which_other_content_leaves_alone(tmp_path: Path) -> None:
    before = whole(GOOD)
    text = (GOOD / "quizzes/grip.yaml").read_text("utf-8").replace("by day", "by daylight")
    after = whole(copied(tmp_path, {"quizzes/grip.yaml": text}))
    assert before.lessons["grip"].hash == after.lessons["grip"].hash
    assert before.banks["grip"].hash != after.banks["grip"].hash


def test_what_is_loaded_cannot_be_changed() -> None:
    site = whole(GOOD).site
    with pytest.raises(TypeError):
        site.crews["day"] = Rotation()  # type: ignore[index]
    with pytest.raises(dataclasses.FrozenInstanceError):
        site.calls_language = "es"  # type: ignore[misc]


@given(st.sampled_from(["content/site.yaml", "content/competencies.yaml"]), st.data())
def test_no_change_of_a_few_characters_breaks_loading(name: str, data: st.DataObject) -> None:
    text = (GOOD / name).read_text("utf-8")
    at = data.draw(st.integers(0, len(text) - 1))
    put = data.draw(st.text(alphabet="an1:-{}[]#'\"\\ \n", max_size=4))
    drop = data.draw(st.integers(0, 4))
    changed = text[:at] + put + text[at + drop :]
    node, problems = read(changed.encode(), name)
    if node is not None:
        report = Report(name, node)
        made = shape(node, Site, report) if "site" in name else shape_list(node, Competency, report)
        problems = report.problems
        assert made is not None or problems
    assert all(each.line >= 1 and "\n" not in str(each) for each in problems)


def test_a_third_language_is_one_file_beside_each_and_one_of_words(tmp_path: Path) -> None:
    conditions = "conditions:\n  - {id: light, choices: {day: Dia}}\n"
    overlay = f"id: sheet\ntitle: Folha\n{conditions}steps:\n  - {{id: palm, text: Palma}}\n"
    loaded = loaded_from(copied(tmp_path, {"content/checklists/sheet.pt.yaml": overlay}))
    sheet = loaded.checklists["sheet"]
    assert sheet.title == {"en": "Sheet", "es": "Hoja", "pt": "Folha"}
    assert sheet.conditions[0].choices[0] == ("day", {"en": "Day", "es": "Día", "pt": "Dia"})
    assert sheet.steps[0].text["pt"] == "Palma"
    assert lines_of(loaded) == []


def test_a_language_that_is_not_complete_is_one_warning_a_file(tmp_path: Path) -> None:
    site = (GOOD / "content/site.yaml").read_text("utf-8").replace("languages: [en, es]", "languages: [en, es, pt]")
    overlay = "title: Folha\nintro: Observe dez.\n"
    root = copied(tmp_path, {"content/site.yaml": site, "content/checklists/sheet.pt.yaml": overlay})
    lines = lines_of(loaded_from(root))
    assert (
        "warning: content/checklists/sheet.yaml:1: file: 6 of 8 sentences are not in pt - "
        "shown in English until they are translated"
    ) in lines
    assert all(each.startswith("warning: ") for each in lines)
    assert sum("shown in English until they are translated" in each for each in lines) == 6


def test_a_language_that_the_site_calls_complete_must_be(tmp_path: Path) -> None:
    site = (GOOD / "content/site.yaml").read_text("utf-8").replace("complete: [en, es]", "complete: [en, es, pt]")
    lines = lines_of(loaded_from(copied(tmp_path, {"content/site.yaml": site})))
    assert "content/lessons/grip.yaml:5: objective: not in pt, which site.yaml calls complete - add pt: ..." in lines
