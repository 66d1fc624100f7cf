"""The pages: templates of `views`, with the words and the few values that stand on every one."""

import re
from base64 import b64encode
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from witnessmark.desk.spoken import day, marks, moment, number
from witnessmark.desk.telling import step_words, told
from witnessmark.desk.visit import Page, Visit, address
from witnessmark.desk.words import _, counted, speech
from witnessmark.documents.page.signs import on_screen
from witnessmark.documents.page.templates import environment, html_already, rendered
from witnessmark.files.class_folder.folder import read_class

VIEWS = Path(__file__).with_name("views")
INDEX = re.compile(r"(?<=\b[^\W\d_])_(\w{1,4})\b")
"""What a letter is told apart by: the s of A_s."""


def shown(page: Page, visit: Visit) -> str:
    """A page as HTML: every text in it is escaped."""
    _prepare()
    klass = visit.way.get("klass", "")
    title = read_class(visit.class_path).title or klass if klass else ""
    values = {"task": visit.way.get("task", ""), "class_title": title, **page.values}
    return rendered(f"{page.view}.html.j2", VIEWS, visit=visit, klass=klass, problems=told(visit.problems), **values)


def read_ahead() -> None:
    """Read every template, before somebody waits for it."""
    _prepare()
    for view in sorted(VIEWS.glob("*.html.j2")):
        environment(VIEWS).get_template(view.name)


@cache
def _prepare() -> None:
    """Give every template the words and the ways of writing that it uses."""
    known = environment(VIEWS)
    known.globals.update(
        _=_, counted=counted, address=address, marks=marks, day=day, moment=moment, told=told, drawing=_drawing,
        speech=speech, step_words=step_words,
    )  # fmt: skip
    known.filters["visible"] = _visible
    known.filters["number"] = number
    known.filters["lowered"] = _lowered


def _drawing(svg: str) -> str:
    """A drawing of ours as the address of a picture."""
    return "data:image/svg+xml;base64," + b64encode(on_screen(svg).encode()).decode("ascii")


def _lowered(text: str) -> str:
    """A text of ours in which the index of a letter stands low, as on the sheets."""
    return html_already(INDEX.sub(r"<sub>\1</sub>", escape(text)))


def _visible(text: Any) -> str:
    """What a person typed, with the signs that no eye sees told by their numbers."""
    return on_screen(str(text))
