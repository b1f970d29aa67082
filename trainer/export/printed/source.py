"""Where a sheet comes from and when it was printed, and how days are written on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_skeleton

from trainer.export.printed.canvas import Canvas, Paper, paper_called
from trainer.export.reports import LedgerHead
from trainer.export.wording import Says

__all__ = ["Source", "canvas_for", "day", "language_name", "local_day", "moment", "month", "short_day", "title_block"]

_HASH_SHOWN = 12
_NUMBERS_AND_NAME = 16.0


@dataclass(frozen=True, slots=True)
class Source:
    """What every sheet says of itself: the site and its time zone, the ends of the ledgers it was made from, the
    program's version, and the paper that the site prints on."""

    site: str
    zone: str
    heads: tuple[LedgerHead, ...]
    version: str
    paper: str = "A4"


def canvas_for(
    source: Source, title: str, words: Says, now: datetime, *, paper: Paper | None = None, landscape: bool = False
) -> Canvas:
    """An empty document with the foot that every sheet has, on the site's paper unless another is given."""
    size = paper or paper_called(source.paper)
    return Canvas(size, title, words.language, now, landscape=landscape, foot=printed(source, words, now))


def printed(source: Source, words: Says, now: datetime) -> str:
    """The foot: site, when, from which ledgers, by which version."""
    heads = "; ".join(
        words.say("prints.head", site=each.site, seq=each.seq, hash=each.hash[:_HASH_SHOWN]) for each in source.heads
    )
    told = {"site": source.site, "moment": moment(now, source.zone, words), "heads": heads or "-"}
    return words.say("prints.foot", version=source.version, **told)


def title_block(canvas: Canvas, words: Says, title: str, under: str = "") -> None:
    """The title, a line under it, and who governs; ``at`` stands below a rule. Further pages begin with both lines."""
    x, width = canvas.margin, canvas.inner
    canvas.at = canvas.write(title, x, canvas.at, width, _NUMBERS_AND_NAME, bold=True, rows=2)
    if under:
        canvas.at = canvas.write(under, x, canvas.at + 0.6, width, 10.5)
    canvas.at = canvas.write(words.say("prints.governs"), x, canvas.at + 0.6, width, 7.5, grey=0.25)
    canvas.rule(x, canvas.at + 1.2, canvas.right, thick=0.5)
    canvas.at += 3.0
    canvas.running = " · ".join(each for each in (title, under) if each)


def day(value: date, words: Says) -> str:
    """``value`` as people write it, with its year."""
    return str(format_skeleton("yMMMd", value, locale=words.language))


def short_day(value: date, words: Says) -> str:
    """``value`` without its year."""
    return str(format_skeleton("MMMd", value, locale=words.language))


def month(value: date, words: Says) -> str:
    """Its month and year."""
    return str(format_skeleton("yMMM", value, locale=words.language))


def local_day(value: datetime, source: Source, words: Says) -> str:
    """The civil day at the site."""
    return day(value.astimezone(ZoneInfo(source.zone)).date(), words)


def moment(value: datetime, zone: str, words: Says) -> str:
    """``value`` in the site's time zone, day and clock."""
    there = value.astimezone(ZoneInfo(zone))
    return f"{day(there.date(), words)}, {there:%H:%M}"


def language_name(code: str, words: Says) -> str:
    """What the language with that code is called in the language of the sheet; the code where that is not known."""
    return str(Locale.parse(words.language).languages.get(code, code))
