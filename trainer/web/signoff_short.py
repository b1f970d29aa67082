"""Before signing a watch of connections: where it was shorter, or the team smaller, than this site asks for."""

from __future__ import annotations

import streamlit as st

from trainer.actions.sheets import Sheet
from trainer.core.sitewatch import short_of
from trainer.web.door import Here

__all__ = ["draw"]


def draw(here: Here, sheet: Sheet) -> None:
    """One warning for each; it stops nothing, and nothing is drawn where the site asks for no more."""
    for each in short_of(here.desk.catalogue.site, sheet.details.conditions):
        said = here.words.say(f"site_watch.short-{each.figure}", noted=each.noted, asked=each.asked)
        st.warning(said)
