"""What a person sees when a page breaks: a sentence with a number; the log has the rest under that number."""

from __future__ import annotations

import logging
import secrets

import streamlit as st

from trainer.web import language

__all__ = ["show_fault"]

_LOG = logging.getLogger("trainer.web")


def show_fault(error: Exception) -> bool:
    """Log ``error`` under a new number and show that number; ``True``, so that Streamlit shows nothing of its own."""
    number = secrets.token_hex(4)
    _LOG.error("fault %s", number, exc_info=error)
    st.error(language.words().say("common.fault", id=number))
    return True
