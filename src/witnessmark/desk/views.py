"""The pages: templates of `views`, with the words and the few values that stand on every one."""

from base64 import b64encode
from functools import cache
from pathlib import Path
from typing import Any

from witnessmark.desk.spoken import day, marks, moment, number
from witnessmark.desk.telling import told
from witnessmark.desk.visit import Page, Visit, address
from witnessmark.desk.words import _, counted, speech
from witnessmark.documents.page.signs import on_screen
from witnessmark.documents.page.templates import environment, rendered
from witnessmark.files.class_folder.folder import read_class

VIEWS = Path(__file__).with_name("views")


def shown(page: Page, visit: Visit) -> str:
    """A page as HTML: every text in it is escaped."""
    _prepare()
    klass = visit.way.get("klass", "")
    title = read_class(visit.class_path).title or klass if klass else ""
    values = {"task": visit.way.get("task", ""), "class_title": title, **page.values}
    return rendered(f"{page.view}.html.j2", VIEWS, visit=visit, klass=klass, problems=told(visit.problems), **values)


@cache
def _prepare() -> None:
    """Give every template the words and the ways of writing that it uses."""
    known = environment(VIEWS)
    known.globals.update(
        _=_, counted=counted, address=address, marks=marks, day=day, moment=moment, told=told, drawing=_drawing,
        speech=speech,
    )  # fmt: skip
    known.filters["visible"] = _visible
    known.filters["number"] = number


def _drawing(svg: str) -> str:
    """A drawing of ours as the address of a picture."""
    return "data:image/svg+xml;base64," + b64encode(on_screen(svg).encode()).decode("ascii")


def _visible(text: Any) -> str:
    """What a person typed, with the signs that no eye sees told by their numbers."""
    return on_screen(str(text))
