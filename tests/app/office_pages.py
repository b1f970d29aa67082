"""What the tests of the office's pages share: going to a page, everything readable on it, evidence to look at."""

from __future__ import annotations

from collections.abc import Callable

from streamlit.testing.v1 import AppTest

from trainer.actions import importing
from trainer.actions.desk import Desk
from trainer.core.rows import TableRow

COLUMNS = ("hand_id", "competency", "part", "day", "outcome", "by", "note")


def bring(site: Desk, *lines: str) -> None:
    """Earlier evidence, a line of ``COLUMNS`` with commas between each."""
    cells = (dict(zip(COLUMNS, line.split(","), strict=True)) for line in lines)
    importing.import_evidence(site, [TableRow(number, row) for number, row in enumerate(cells, start=2)])


def go(app: AppTest, page: str, **steps: str) -> AppTest:
    """Run the page with these steps in its address."""
    app.switch_page(f"views/{page}.py")
    app.query_params.clear()
    for name, value in steps.items():
        app.query_params[name] = value
    app.run()
    assert not app.exception
    return app


def at(app: AppTest, name: str) -> str:
    """What stands under ``name`` in the address; empty where nothing does."""
    found = app.query_params.get(name, "")
    return found if isinstance(found, str) else "".join(found)


def words_on(app: AppTest) -> str:
    """Everything readable on the page."""
    kinds = (app.title, app.header, app.markdown, app.caption, app.info, app.success, app.warning, app.error)
    return "\n".join(each.value for kind in kinds for each in kind)


def keys_on(app: AppTest) -> set[str | None]:
    """The keys of the buttons on the page."""
    return {button.key for button in app.button}


def once(value: object) -> Callable[..., object]:
    """A part that gives ``value`` on its first showing and nothing afterwards."""
    waiting = [value]

    def part(*_: object, **__: object) -> object:
        return waiting.pop() if waiting else None

    return part
