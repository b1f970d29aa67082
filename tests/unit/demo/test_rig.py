"""The made-up rig's pipe is inspected, unlike the template's, which leaves that to each site."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from trainer import curriculum
from trainer.core.rig import inspected_body
from trainer.demo import building
from trainer.demo.scenario import load

APP = Path(__file__).parents[3]


def test_the_made_up_rig_has_an_inspected_class() -> None:
    content = curriculum.load(APP, APP)
    assert content.site is not None
    assert content.site.rig is not None
    assert inspected_body(content.site.rig.pipe) is None
    made = curriculum.site_from(building._figures(content, load(), date(2026, 3, 2)))
    assert made.rig is not None
    assert made.rig.pipe.inspected_class == "premium"
    assert inspected_body(made.rig.pipe) is not None
