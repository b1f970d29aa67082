"""Why a site's file cannot be used, as codes with their values: the finite set behind what ``read_site`` says.

A ``Problem`` is worded in English, for the command line and whoever writes content. A screen says the same in its own
language: ``cause_of`` finds the sentence here and gives its code and what fills its places, and the words for that
code stand in ``content/words``. The table holds each sentence as the reader and the checks write it; a test breaks a
site's file in every way that they know and finds all of them here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

__all__ = ["CAUSES", "GOT", "REMEDIES", "Cause", "cause_of"]

CAUSES: tuple[tuple[str, str], ...] = (
    # The reader's own, and those of the shape of a part.
    ("list", "expected a list, got {got}"),
    ("part", "expected keys with values, got {got}"),
    ("unknown", 'unknown key "{named}"'),
    ("missing", '"{named}" is missing'),
    ("least", "expected a whole number of at least {least}, got {got}"),
    ("whole", "expected a whole number, got {got}"),
    ("yes-no", "expected true or false, got {got}"),
    ("no-language", "a sentence without its language"),
    ("sentence", "expected a sentence, got {got}"),
    ("english", "the English sentence is missing"),
    ("blank-colon", "a blank is missing after the colon"),
    ("breaks-off", "the sentence breaks off here"),
    ("no-sentence", "no sentence"),
    ("no-sentence", "an empty sentence"),
    ("language", '"{language}" is not a language'),
    ("text", "expected text, got {got}"),
    ("curly-round", 'curly quotes stand round "{bare}"'),
    ("one-of", "expected one of {choices}, got {got}"),
    ("no-day", '"{day}" is not a day in the calendar'),
    ("date", "expected a date, got {got}"),
    ("duration", "expected a duration in whole years, months, weeks or days, got {got}"),
    ("no-unit", "expected a {kind} with its unit, got {got}"),
    ("no-unit", "expected a {kind}, got {got} (a number without its unit)"),
    ("no-figure", "expected a {kind}, got {got} (no number with a decimal point)"),
    ("other-unit", 'expected a {kind}, got {got} ("{unit}" is no unit of {of}: there are {units})'),
    ("large", "larger than {size} MB"),
    ("no-text", "not UTF-8 text"),
    ("letter", "a character that cannot be shown"),
    ("letter", "a control character in the text"),
    ("empty", "nothing is written here"),
    ("sign-unread", "aliases (*) are not read"),
    ("sign-unread", "anchors (&) are not read"),
    ("sign-unread", "tags (!) are not read"),
    ("second", "a second document starts here"),
    ("deep", "nested deeper than {levels} levels"),
    ("no-word", "a key that is not a word"),
    ("twice", '"{named}" stands here twice, first in line {line}'),
    # Slips of the hand in how it is written.
    ("tab", "a tab at the beginning of the line"),
    ("hard-blank", "a blank at the beginning of the line that is not an ordinary one"),
    ("curly", "curly quotes do not hold a sentence together"),
    ("blank-dash", "a blank is missing after the dash"),
    ("hash", "what stands after a # is not read"),
    ("open-quote", "a quote is opened and not closed"),
    ("open-brace", "a {sign} is opened and not closed"),
    ("colon-inside", "a colon inside a sentence"),
    ("braces", "what stands in {{ }} or [ ] cannot be told apart"),
    ("no-colon", "a colon is missing after the first word"),
    ("first-sign", "a sentence begins with {sign}"),
    ("indent", "this line begins {count} blanks too far to the {side}, so it does not line up with those round it"),
    ("indent", "this line begins {count} blank too far to the {side}, so it does not line up with those round it"),
    ("unreadable", "the file cannot be read from here on"),
    # What the checks on a site's figures say.
    ("bounds", "{got} cannot be meant, it lies outside {low} to {high}"),
    ("unusual", "{got} is unusual, most sites have {low} to {high}"),
    ("few-people", "{count} on a set is fewer than a handle each"),
    ("long-notice", "the notice is as long as the test is good for"),
    ("no-office", "no position with role coordinator"),
    ("no-languages", "no language"),
    ("no-crew", "no crew"),
    ("no-tour", '"{tour}" is no tour'),
    ("no-on", 'a start without "on" days'),
    ("no-start", 'no "start"'),
    ("not-chosen", '"{language}" is not in languages'),
    ("paper", 'no sheet is laid out for paper "{paper}"'),
    ("no-competency", 'there is no competency "{name}"'),
    ("no-term", 'there is no term "{name}"'),
    ("gender", 'expected m or f, got "{got}"'),
    ("other-gender", "another gender than the usual word, which stands in {count} sentences"),
    ("two-way", 'there is no way "{name}"'),
    ("set-mass", 'no mass of a set that people lift: "{got}"'),
    ("heaviest", "the heaviest set under rig weighs {mass} kg"),
    ("pipe-size", "the table has no pipe of this size and weight"),
    ("pipe-mass", "the table has no mass for this pipe"),
    ("thick", "the wall is thicker than the pipe"),
    ("wall-share", "not a share of the new wall"),
    ("wall-class", "{name} has {share} of its wall left, or more"),
    ("string-first", "the string does not begin with drill-pipe"),
    ("bore", "the bore is not smaller than the outside"),
    ("no-set-fits", "no set fits the pipe in use"),
    ("no-gear", "gear has no set of this name"),
    ("angles", "not three angles from 0 to 359"),
    ("range", "{argument} = {value} is out of range"),
)
"""Code and sentence of what is wrong; of two that fit, the first counts. Two braces stand for one."""

REMEDIES: tuple[tuple[str, str], ...] = (
    ("again", "look at this again"),
    ("own-texts", "read your own texts against this"),
    ("one-listed", "write one of these"),
    ("meant-missing", 'did you mean "{name}", which is missing?'),
    ("dash-missing", 'is a - missing before this "{name}"?'),
    ("meant", 'did you mean "{name}"?'),
    ("known", "write one of these instead, or leave it out: {known}"),
    ("add-or-mass", "write one of {sizes}, or add mass: 31.1 kg/m"),
    ("add-or-wall", "write one of {sizes}, or add wall: 9.2 mm"),
    ("competency", "write one of content/competencies.yaml: {known}"),
    ("term", "write one of content/terms.yaml: {known}"),
    ("one-of", "write one of {choices}"),
    ("code", "write a code such as en, es or pt"),
    ("span", "write P{years}D for days, P{weeks}W for weeks or P{months}M for months"),
    ("both", "write both from the inspection report, or leave both out"),
    ("inside", "write the inside diameter"),
    ("kg", 'write kg, e.g. "90"'),
    ("shorter", "write a shorter one, e.g. {example}"),
    ("new-wall", "write the new wall, e.g. {example}"),
    ("brace-end", "write {sign} where it ends"),
    ("both-ends", 'write " at both ends of the sentence'),
    ("both-ends", "write it at both ends of the sentence"),
    ("write-sentence", "write it after the colon"),
    ("write-sentence", "write it, or leave the language out"),
    ("in-full", "write the text out in full"),
    ("in-full", "write the text out in full where it is needed"),
    ("one-word", "write one word or name before the colon"),
    ("bare", "write it without: {example}"),
    ("no-quotes", "write it without quotes: {example}"),
    ("true", "write true"),
    ("false", "write false"),
    ("eg", "write e.g. {example}"),
    ("write", "write {example}"),
    ("only-pipe", "add it: only drill-pipe has it from the pipe in use"),
    ("add-office", "add coordinator: {{role: coordinator}}"),
    ("add-on", "add on: 14, at least 2"),
    ("add-start", "add the first day of a hitch, e.g. start: {example}"),
    ("add", "add it, e.g. {example}"),
    ("add", "add one, e.g. {example}"),
    ("add-there", "add it there"),
    ("add-set", "add the set for it"),
    ("add-english", "add en: ..."),
    ("list-down", "list it from the slips down"),
    ("report", "look at the inspection report again"),
    ("leave-figure", "leave this figure out: it wins over the rig's"),
    ("phrases", "read them, and give what no longer agrees as phrases"),
    ("keep-above", "keep to above {low} to {high}"),
    ("keep-between", "keep to {low} to {high}"),
    ("keep-to", "keep to {allowed}"),
    ("unlist", "take the [ ] or the - away: {example}"),
    ("as-utf8", "save the file as UTF-8"),
    ("anew", "type that line anew"),
    ("take-out", "take it out"),
    ("fill", "fill the file or remove it"),
    ("split", "split it into smaller files"),
    ("one-document", "keep one document in a file"),
    ("flatter", "make it flatter"),
    ("no-tag", "leave the tag out"),
    ("keep-one", "keep one of the two"),
    ("spaces", "put spaces instead, two for each step in"),
    ("space-bar", "type the blanks anew with the space bar"),
    ("straight", 'type straight ones: "'),
    ("quote-because", "put the sentence in quotes, because of its {sign}"),
    ("quote-because", "put it in quotes, because of its comma or {sign}"),
    ("quote-straight", "put it in straight quotes, curly ones do not count"),
    ("quote", "put it in quotes"),
    ("quote-as", "put it in quotes: {example}"),
    ("commas", "look at its commas and quotes: a comma between its parts, a sentence with a sign in quotes"),
    ("move-left", "move it {count} blanks to the left"),
    ("move-left", "move it {count} blank to the left"),
    ("move-right", "move it {count} blanks to the right"),
    ("move-right", "move it {count} blank to the right"),
    ("look-line", "look at this line and the one above: blanks at the beginning, colons, quotes, braces"),
)
"""Code and sentence of what to do."""

GOT: tuple[tuple[str, str], ...] = (
    ("nothing", "nothing"),
    ("several", "a list of {count}"),
    ("keys", "keys with values"),
    ("quoted", '"{text}"'),
    ("quoted", "{text}"),
)
"""Code and sentence of what was found instead."""


@dataclass(frozen=True, slots=True)
class Cause:
    """The code of a sentence, and what fills its places by their names."""

    code: str
    values: Mapping[str, str]


def cause_of(sentence: str, among: Iterable[tuple[str, str]]) -> Cause | None:
    """The first sentence ``among`` a table that this one is; ``None`` for one that is in it nowhere."""
    for code, form in among:
        if found := re.fullmatch(_pattern(form), sentence):
            return Cause(code, found.groupdict())
    return None


def _pattern(form: str) -> str:
    """The sentence with a group for each of its places."""
    parts = re.split(r"(\{\{|\}\}|\{[a-z]+\})", form)
    return "".join(
        re.escape(part[0]) if part in ("{{", "}}") else f"(?P<{part[1:-1]}>.+)" if part[:1] == "{" else re.escape(part)
        for part in parts
    )
