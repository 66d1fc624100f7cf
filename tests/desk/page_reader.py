"""A page as a person without a mouse meets it: its words, its links, and its forms as they would be sent."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset({"input", "img", "meta", "link", "br", "option", "meter"})


@dataclass
class Form:
    """A form: where and how it is sent, and its fields in order, as they stand on the page."""

    action: str
    method: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    buttons: list[tuple[str, str, str]] = field(default_factory=list)

    def data(self, **typed: str | list[str]) -> dict[str, list[str]]:
        """What is sent: the fields as they stand, with those replaced that are typed."""
        sent: dict[str, list[str]] = {}
        for name, value in self.fields:
            sent.setdefault(name, []).append(value)
        for name, given in typed.items():
            sent[name] = list(given) if isinstance(given, list) else [given]
        return sent


class Reader(HTMLParser):
    """Reads one page."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.text = ""
        self.links: list[str] = []
        self.forms: list[Form] = []
        self.tags: list[tuple[str, str]] = []
        self.ids: set[str] = set()
        self.headings: list[str] = []
        self._select, self._area, self._heading = "", "", False
        self._in_form = False
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags += [(tag, name) for name in given]
        if "id" in given:
            assert given["id"] not in self.ids, f"two bear the id {given['id']}, and a label can lead to one alone"
            self.ids.add(given["id"])
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        if tag == "form":
            self.forms.append(Form(given.get("action", ""), given.get("method", "get")))
            self._in_form = True
        self._heading = tag in ("h1", "h2", "h3") or self._heading
        if self._in_form:
            self._field(tag, given)

    def _field(self, tag: str, given: dict[str, str]) -> None:
        fields, name = self.forms[-1].fields, given.get("name", "")
        if tag == "input" and name and given.get("type") != "file":
            ticked = given.get("type") not in ("checkbox", "radio") or "checked" in given
            fields += [(name, given.get("value", "on"))] if ticked else []
        if tag == "textarea":
            self._area = name
            fields.append((name, ""))
        if tag == "select":
            self._select = name
        if tag == "option" and self._select:
            first = all(known != self._select for known, _value in fields)
            if first or "selected" in given:
                fields[:] = [one for one in fields if one[0] != self._select]
                fields.append((self._select, given.get("value", "")))
        if tag == "button":
            self.forms[-1].buttons.append((name, given.get("value", ""), given.get("formmethod", "")))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._in_form = False
        self._area = "" if tag == "textarea" else self._area
        self._select = "" if tag == "select" else self._select
        self._heading = self._heading and tag not in ("h1", "h2", "h3")

    def handle_data(self, data: str) -> None:
        self.text += data
        if self._heading and data.strip():
            self.headings.append(data.strip())
        if self._area:
            name, value = self.forms[-1].fields[-1]
            more = data if value else data.removeprefix("\n")  # the line end behind the tag is none of the text
            self.forms[-1].fields[-1] = (name, value + more)
