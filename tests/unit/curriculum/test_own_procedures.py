"""The procedure behind each competency: the content's, and over it the site's own."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from trainer import curriculum, words
from trainer.core.catalogue import Catalogue, Procedure
from trainer.core.records import Json
from trainer.curriculum import read_site
from trainer.errors import BadContent
from trainer.export import procedure_entry, procedure_line, siteyaml, titles_of

ROOT = Path(curriculum.__file__).resolve().parents[2]
CONTENT = curriculum.load(ROOT, ROOT)
WORDS = words.load(ROOT, ROOT)
NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
OWN: dict[str, Json] = {"set-slips": {"number": "OP-114", "revision": "3"}, "dies": {"number": "OP-120"}}


def with_own(**own: Procedure) -> Catalogue:
    """The catalogue of the template's site with these procedures of its own, by id with _ for -."""
    assert CONTENT.site is not None
    named = {name.replace("_", "-"): each for name, each in own.items()}
    return curriculum.catalogue(CONTENT, replace(CONTENT.site, procedures=named))


def procedure(catalogue: Catalogue, name: str) -> Procedure | None:
    found = catalogue.competency(name)
    assert found is not None
    return found.procedure


def test_each_competency_has_one_and_no_two_have_the_same_number() -> None:
    numbers = [each.procedure.number for each in CONTENT.competencies if each.procedure and each.procedure.revision]
    assert len(set(numbers)) == len(numbers) == len(CONTENT.competencies)


def test_the_site_s_own_stands_in_the_place_of_the_content_s_and_the_rest_stays() -> None:
    usual, own = with_own(), with_own(set_slips=Procedure("OP-114"))
    assert procedure(usual, "set-slips") != Procedure("OP-114")
    # The revision is the content's no more, either: it belonged to another paper.
    assert procedure(own, "set-slips") == Procedure("OP-114")
    assert procedure(own, "pull-slips") == procedure(usual, "pull-slips")
    assert own.hash != usual.hash
    assert [replace(each, procedure=None) for each in own.competencies] == [
        replace(each, procedure=None) for each in usual.competencies
    ]


def test_the_numbers_that_come_with_the_app_are_examples_and_those_of_a_site_s_own_content_are_not(
    tmp_path: Path,
) -> None:
    assert all(each.procedure and each.procedure.example for each in with_own().competencies)
    shutil.copytree(ROOT / "content", tmp_path / "content")
    site = CONTENT.site
    assert site is not None
    for each in curriculum.catalogue(curriculum.load(tmp_path, ROOT), site).competencies:
        assert each.procedure is not None
        assert not each.procedure.example


def test_what_the_content_no_longer_has_stops_no_site_that_once_named_it() -> None:
    assert with_own(long_gone=Procedure("OP-1")).competencies == with_own().competencies


def test_an_unknown_competency_is_refused_with_its_line_and_what_to_write() -> None:
    text = (ROOT / "content/site.yaml").read_bytes() + b"procedures:\n  set-slip: {number: OP-114}\n"
    with pytest.raises(BadContent) as caught:
        read_site(CONTENT, text, "mine.yaml")
    [problem] = caught.value.problems
    line = len(text.splitlines())
    expected = 'procedures.set-slip: there is no competency "set-slip" - did you mean "set-slips"?'
    assert str(problem) == f"mine.yaml:{line}: {expected}"


@pytest.mark.parametrize(("language", "comment"), [("en", "# Your own procedure"), ("es", "# Su propio procedimiento")])
def test_what_is_saved_says_what_it_is_for_and_is_read_again(language: str, comment: str) -> None:
    data = dict(sorted({**CONTENT.site_data, "procedures": OWN}.items()))
    text = siteyaml.render(data, WORDS[language], NOW, site="rig-7", number=12)
    lines = text.decode().splitlines()
    assert lines.index("procedures:") > next(n for n, line in enumerate(lines) if line.startswith(comment))
    assert "  set-slips: {number: OP-114, revision: '3'}" in lines
    found = read_site(CONTENT, text, "mine.yaml")
    assert procedure(found.catalogue, "set-slips") == Procedure("OP-114", "3")
    assert procedure(found.catalogue, "dies") == Procedure("OP-120")
    assert found.data["procedures"] == OWN


def test_it_is_said_with_its_revision_where_it_has_one_and_not_at_all_without_a_number() -> None:
    english, spanish = WORDS["en"], WORDS["es"]

    def said(*all_of: Procedure | None) -> list[str]:
        return [procedure_line([procedure_entry(each, say) for each in all_of], say) for say in (english, spanish)]

    both = Procedure("RF-08", "C")
    assert said(both) == ["Procedure RF-08, revision C", "Procedimiento RF-08, revisión C"]
    assert said(Procedure("RF-08")) == ["Procedure RF-08", "Procedimiento RF-08"]
    assert said(Procedure("RF-08", example=True)) == ["Procedure RF-08 (example)", "Procedimiento RF-08 (ejemplo)"]
    assert said(None) == said(Procedure("")) == said(Procedure("", "C")) == said() == ["", ""]
    assert said(both, None, Procedure("RF-09"), both) == [
        "Procedures RF-08, revision C; RF-09", "Procedimientos RF-08, revisión C; RF-09",
    ]  # fmt: skip


def test_a_sheet_about_several_names_each_procedure_once() -> None:
    one = Procedure("OP-9", "A")
    titles = titles_of(with_own(set_slips=one, pull_slips=one, dies=Procedure("")), WORDS["en"])
    assert titles.procedures_of(["set-slips", "dies", "pull-slips", "nowhere"]) == ("OP-9, revision A",)
