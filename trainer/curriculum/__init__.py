"""Content: YAML -> frozen core types, with every problem at once as ``file:line: where: what - what to do``.

``yaml_reader`` reads text to ``nodes`` with lines, and ``yaml_mistakes`` (``yaml_indents``) says in plain words why it
cannot; ``files`` knows which files are an author's; ``overlays`` adds a third language; ``shaping`` makes core types of
nodes by the types' own annotations (``spelling`` says where YAML calls things differently), and ``hints`` what to write
instead; ``loading`` does a whole folder; ``sited`` puts the site's own words into it; ``hashing`` names a wording;
``checks`` judges what was loaded; ``causes`` gives what is said of a site's file as codes; ``schemas`` tells editors
what a file may hold.
Imports ``trainer.core`` and ``trainer.errors`` only. Start at ``load``, then ``catalogue``; ``site_from`` reads the
site figures that a record holds, ``read_site`` those that somebody sends as a file.
"""

from __future__ import annotations

from trainer.curriculum.loaded import Loaded
from trainer.curriculum.loading import all_problems, catalogue, load, refuse_problems, site_from
from trainer.curriculum.pictures_text import PictureText
from trainer.curriculum.site_text import SiteText, read_site

__all__ = [
    "Loaded",
    "PictureText",
    "SiteText",
    "all_problems",
    "catalogue",
    "load",
    "read_site",
    "refuse_problems",
    "site_from",
]
