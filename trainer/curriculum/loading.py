"""A content folder -> frozen core types. Start here: ``load``, then ``catalogue``."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path as File
from types import MappingProxyType
from typing import TypeVar

from trainer.core.banks import Bank
from trainer.core.catalogue import Catalogue, Competency, Site
from trainer.core.checklists import Checklist
from trainer.core.glossary import LanguageTerms, sayers
from trainer.core.lessons import Lesson
from trainer.core.marking import Functions
from trainer.core.onsite import at_site
from trainer.core.records import Json
from trainer.core.workings import FUNCTIONS
from trainer.curriculum.checks import CHECKS
from trainer.curriculum.checks.catalogue import NEEDED, crew_problems
from trainer.curriculum.checks.missing import missing
from trainer.curriculum.files import unread
from trainer.curriculum.hashing import content_hash
from trainer.curriculum.hints import plain_id
from trainer.curriculum.loaded import COMPETENCIES, PICTURES, SITE, TERMS, Loaded
from trainer.curriculum.nodes import Fields, Listed, Node, Scalar, from_plain, plain
from trainer.curriculum.overlays import merged, overlay_language, overlays_of
from trainer.curriculum.pictures_text import PictureText
from trainer.curriculum.report import Report
from trainer.curriculum.shaping import shape, shape_list, shape_map
from trainer.curriculum.sited import in_own_words, under_own_procedures
from trainer.curriculum.yaml_reader import read_file
from trainer.errors import BadContent, Problem

__all__ = ["all_problems", "catalogue", "load", "refuse_problems", "site_from"]

Content = TypeVar("Content", Lesson, Bank, Checklist)
Named = TypeVar("Named", PictureText, LanguageTerms)


def load(root: File, app_root: File, functions: Functions = FUNCTIONS) -> Loaded:
    """Everything in ``root``'s content/ and quizzes/; words, pictures and assets that it lacks are ``app_root``'s.

    Never raises for what the files hold: problems are in the result.
    """
    reading = _Reading(root, app_root)
    loaded = Loaded(
        root=root,
        app_root=app_root,
        competencies=reading.competencies(),
        lessons=reading.folder("content/lessons", Lesson),
        banks=reading.folder("quizzes", Bank),
        checklists=reading.folder("content/checklists", Checklist),
        pictures=reading.pictures(),
        site=reading.site(),
        site_data=reading.site_data(),
        terms=reading.terms(),
        functions=functions,
        nodes=MappingProxyType(reading.nodes),
        broken=frozenset(each.file for each in reading.problems if not each.is_warning),
        unread=unread(root),
    )
    found = [problem for check in NEEDED for problem in check(loaded)]
    absent = missing(loaded)
    return dataclasses.replace(loaded, problems=_in_order([*reading.problems, *found, *absent]), missing=tuple(absent))


def all_problems(loaded: Loaded) -> tuple[Problem, ...]:
    """The problems of loading and those that every check finds, by file and line.

    What loading only warns of and a check refuses is told once, as refused.
    """
    found = [problem for check in CHECKS for problem in check(loaded)]
    refused = {dataclasses.replace(each, is_warning=True) for each in found if not each.is_warning}
    return _in_order([*(each for each in loaded.problems if each not in refused), *found])


def refuse_problems(loaded: Loaded, *, serving: bool) -> None:
    """Raises ``BadContent`` with what keeps ``loaded`` from being used.

    Commands need only standings. Before anybody is taught or tested with it, for ``serve``, all checks must pass, and
    a file that is named and not there is refused, too.
    """
    problems = all_problems(loaded) if serving else loaded.problems
    refused = [each for each in problems if not each.is_warning or (serving and each in loaded.missing)]
    if refused:
        raise BadContent(tuple(refused))


def site_from(data: Mapping[str, Json]) -> Site:
    """The site that a ``site`` record's ``data`` holds. Raises ``BadContent`` when it cannot be used."""
    node = from_plain(data)
    report = Report("site record", node)
    site = shape(node, Site, report)
    if site is not None:
        for path, what, todo in crew_problems(site):
            report.add(path, what, todo)
    if site is None or report.has_errors:
        raise BadContent(tuple(report.problems))
    return site


def catalogue(loaded: Loaded, site: Site) -> Catalogue:
    """``loaded`` with the site's figures, procedures and own words, under a hash that changes with any of it."""
    say = sayers(loaded.terms, site.glossary)
    parts = (loaded.competencies, site, *(_hashes(each) for each in (loaded.lessons, loaded.banks, loaded.checklists)))
    return Catalogue(
        competencies=in_own_words(
            under_own_procedures(loaded.competencies, site.procedures, are_examples=loaded.root == loaded.app_root), say
        ),
        site=site,
        lessons=in_own_words({name: at_site(each, site) for name, each in loaded.lessons.items()}, say),
        banks=in_own_words(loaded.banks, say),
        checklists=in_own_words(loaded.checklists, say),
        hash=content_hash(parts),
    )


def _hashes(contents: Mapping[str, Lesson] | Mapping[str, Bank] | Mapping[str, Checklist]) -> dict[str, str]:
    return {name: each.hash for name, each in contents.items()}


def _in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    return tuple(sorted(dict.fromkeys(problems), key=lambda each: (each.file, each.line, each.where, each.what)))


@dataclass(slots=True)
class _Reading:
    """Reads one folder; nodes and problems gather here."""

    root: File
    app_root: File
    nodes: dict[str, Node] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def competencies(self) -> tuple[Competency, ...]:
        node = self._needed(COMPETENCIES)
        if node is None:
            return ()
        report = Report(COMPETENCIES, node)
        made = shape_list(_with_titles(node, report), Competency, report)
        self.problems += report.problems
        return made

    def site(self) -> Site | None:
        node = self._needed(SITE)
        if node is None:
            return None
        report = Report(SITE, node)
        made = shape(node, Site, report)
        self.problems += report.problems
        return made

    def site_data(self) -> Mapping[str, Json]:
        node = self.nodes.get(SITE)
        data = plain(node) if node is not None else None
        return data if isinstance(data, dict) else {}

    def pictures(self) -> Mapping[str, PictureText]:
        """The app's words for drawings, and over them the root's own."""
        made: dict[str, PictureText] = {}
        for each in self._each(PICTURES, PictureText):
            made |= each
        return MappingProxyType(made)

    def terms(self) -> Mapping[str, LanguageTerms]:
        """The replaceable words by language: the root's own, and those of the app that they do not name."""
        made: dict[str, LanguageTerms] = {}
        for each in self._each(TERMS, LanguageTerms):
            for language, own in each.items():
                before = made.get(language, LanguageTerms())
                made[language] = LanguageTerms({**before.words, **own.words}, (*before.same, *own.same))
        return MappingProxyType(made)

    def _each(self, name: str, cls: type[Named]) -> Iterator[Mapping[str, Named]]:
        """What the file called ``name`` holds by key: the app's first, so that the root's own can win."""
        for folder in dict.fromkeys((self.app_root, self.root)):
            node = self._node(folder / name, name)
            if node is not None:
                report = Report(name, node)
                yield shape_map(node, cls, report)
                self.problems += report.problems

    def folder(self, folder: str, cls: type[Content]) -> Mapping[str, Content]:
        """Every readable file of ``folder`` by id, in the order of their names."""
        made: dict[str, Content] = {}
        for file in sorted((self.root / folder).glob("*.yaml")):
            if overlay_language(file) is None:
                content = self._content(file, f"{folder}/{file.name}", cls)
                if content is not None:
                    made[content.id] = content
        return MappingProxyType(made)

    def _content(self, file: File, name: str, cls: type[Content]) -> Content | None:
        node = self._node(file, name)
        if node is None:
            return None
        report = Report(name, node)
        made = shape(node, cls, report)
        if made is not None and made.id != file.stem:
            report.add(("id",), f'the id "{made.id}" is not the file\'s name', _rename(file.stem, made.id))
            made = None
        self.problems += report.problems
        return None if made is None else dataclasses.replace(made, hash=content_hash(made))

    def _needed(self, name: str) -> Node | None:
        if not (self.root / name).is_file():
            self.problems.append(Problem(name, 1, "file", "there is no such file", "write it"))
            return None
        return self._node(self.root / name, name)

    def _node(self, file: File, name: str) -> Node | None:
        """The file's content with its translations, ``None`` where there is none or it cannot be read."""
        if not file.is_file():
            return None
        node, problems = read_file(file, name)
        self.problems += problems
        if node is None:
            return None
        for language, overlay in overlays_of(file):
            node = self._merged(node, overlay, name, language)
        self.nodes[name] = node
        return node

    def _merged(self, node: Node, overlay: File, name: str, language: str) -> Node:
        beside = f"{name.rpartition('/')[0]}/{overlay.name}"
        words, problems = read_file(overlay, beside)
        self.problems += problems
        if words is None:
            return node
        report = Report(beside, words)
        node = merged(node, words, language, report)
        self.problems += report.problems
        return node


def _rename(stem: str, name: str) -> str:
    return f'write "{stem}" or rename the file' if stem == plain_id(stem) else f"rename the file to {name}.yaml"


def _with_titles(node: Node, report: Report) -> Node:
    """Competencies without a title are called by their id, which is enough to decide a standing."""
    if not isinstance(node, Listed):
        return node
    return Listed(tuple(_with_title(each, report) for each in node.entries), node.line)


def _with_title(entry: Node, report: Report) -> Node:
    name = entry.get("id") if isinstance(entry, Fields) else None
    if not isinstance(entry, Fields) or not isinstance(name, Scalar) or entry.key("title"):
        return entry
    report.add((name.text,), '"title" is missing', "add it, e.g. title: {en: ..., es: ...}", warning=True)
    title = Fields(((Scalar("en", "en", name.line), name),), name.line)
    return Fields((*entry.pairs, (Scalar("title", "title", entry.line), title)), entry.line)
