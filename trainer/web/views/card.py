"""My card: what the signed-in person holds, and until when."""

from __future__ import annotations

import streamlit as st

from trainer.actions import look as looking
from trainer.web import door, look
from trainer.web.plain import plain

here = door.here()
card = looking.card(here.desk, here.actor.hand)
st.title(here.words.say("nav.card"), anchor=False)
if not card.cells:
    st.info(here.words.say("card.no-cells"))
for cell in card.cells:
    competency = here.desk.catalogue.competency(cell.competency)
    with st.container(key=f"cell-{cell.competency}", border=True):
        st.subheader(plain(here.words.pick(competency.title) if competency else cell.competency), anchor=False)
        st.html(look.badge(cell.standing, here.words.say(f"standing.{cell.standing.replace(' ', '-')}")))
