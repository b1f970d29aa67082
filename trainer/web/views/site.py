"""The site's own figures: those in force, to save, change and put in force again; for the office."""

from __future__ import annotations

import streamlit as st

from trainer import curriculum
from trainer.actions import siting
from trainer.actions.desk import CONSOLE
from trainer.actions.siting import InForce
from trainer.curriculum import SiteText
from trainer.errors import BadContent, TrainerError
from trainer.export import siteyaml
from trainer.tables.decoding import as_utf8
from trainer.web import cached, door, people_told, session, site_drawn, site_moved, site_problems, wording
from trainer.web.plain import plain
from trainer.web.press import press

LARGEST_MB = 1
FILE = "site-file"
FORM = "site"
BASED = "site-based-on"


def draw_save(here: door.Here, now: InForce) -> None:
    """Which figures are in force, and the button that saves them."""
    words = here.words
    day = plain(wording.day(now.day, words))
    by = words.say("site_page.by-console") if now.by == CONSOLE else plain(now.by)
    st.markdown(words.say("site_page.in-force", number=now.number, day=day, by=by))
    st.download_button(
        words.say("site_page.save"),
        siteyaml.render(now.data, words, here.desk.now, site=here.desk.store.site, number=now.number),
        # A computer in an office opens this one in an editor at a tap.
        file_name=f"site-{here.desk.store.site}.txt",
        mime="text/plain",
        key="site-save",
        on_click="ignore",
    )


def asked(here: door.Here, now: InForce) -> SiteText | None:
    """The figures in the file that was chosen; ``None`` before that and where it cannot be used, which is said."""
    words = here.words
    st.markdown(words.say("site_page.how"))
    file = st.file_uploader(
        words.say("site_page.file", megabytes=LARGEST_MB), type=["yaml", "yml", "txt"], max_upload_size=LARGEST_MB,
        # Another key empties it once its file is in force.
        key=f"{FILE}-{session.taken(FILE)}",
    )  # fmt: skip
    if file is None:
        return None
    try:
        return curriculum.read_site(cached.content(), as_utf8(file.getvalue()), file.name)
    except BadContent as error:
        st.error(words.say("site_page.refused"))
        site_problems.draw(here, error.problems, "site-refused", now.data)
    return None


def draw_changes(here: door.Here, text: SiteText, now: InForce) -> None:
    """What the file would change, and the one press that puts it in force."""
    words = here.words
    found = siting.preview(here.desk, text.data, text.catalogue)
    others = [each for each in text.remarks if not any(site_drawn.is_about(each, one) for one in found.changes)]
    site_drawn.remarks(here, others, text.data)
    if not found.changes:
        st.info(words.say("site_page.same"))
        return
    site_drawn.totals(here, found, now.data)
    # All that changes stands above the press: who presses has seen it.
    site_drawn.changed(here, found.changes, now.data, text.data)
    site_moved.draw(here, found)
    site_drawn.look_again(here, found.changes, text.remarks, now.data, text.data)
    if found.is_ready:
        # What was on screen when it was pressed is what counts, not what would be drawn now.
        based_on = session.kept(BASED) or found.based_on
        session.keep(BASED, found.based_on)
        st.markdown(words.say("site_page.put-text"))
        if press(words.count("site_page.put", len(found.changes)), "site-put", kind="primary"):
            put(here, text, based_on)


def put(here: door.Here, text: SiteText, based_on: str) -> None:
    """Write it and show the figures then in force, or say what was refused."""
    record_id = session.form_id(FORM, here.desk.new_id())
    try:
        written = siting.write(here.desk, text.data, text.catalogue, based_on=based_on, record_id=record_id)
    except TrainerError as error:
        people_told.refusal(here, error)
        return
    session.done(FORM)
    session.keep(BASED, "")
    session.take(FILE, session.taken(FILE) + 1)
    people_told.keep_notice(here.words.say("site_page.done", number=written.seq))
    st.rerun()


def draw() -> None:
    """The whole page."""
    here = door.here()
    now = siting.figures(here.desk)
    st.title(here.words.say("site_page.title"), anchor=False)
    people_told.notice()
    st.markdown(here.words.say("site_page.text"))
    draw_save(here, now)
    text = asked(here, now)
    if text is not None:
        draw_changes(here, text, now)
        return
    session.keep(BASED, "")
    site_drawn.in_force(here, siteyaml.in_order(now.data))


draw()
