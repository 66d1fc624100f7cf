"""The only door to PyYAML: a strict part of YAML as plain data, with the line and column of every value.

Kept: keys and values, lists, text (plain, quoted, folded), decimal numbers, true and false. Refused, each as a Problem:
tabs, duplicate keys, anchors, aliases, tags, directives, further documents, and bare words that other readers take for
true or false. Numbers are read as YAML 1.2 writes them and stay exact decimals; dates and clock times stay text.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

import yaml

from witnessmark.words.problems import Place, Problem

Path = tuple[str | int, ...]

LARGEST = 1_000_000
DEEPEST = 16
MOST_VALUES = 100_000
NUMBER = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,2})?")
TAKEN_FOR_TRUTH = re.compile(r"(?i:yes|no|on|off)|True|TRUE|False|FALSE")
UNPRINTABLE = re.compile("[^\n\r\t\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a value stands in the text: line and column (from 1) of its first character, ends as offsets, and its style
    (empty for plain text, else the quote, `|` or `>`)."""

    line: int
    column: int
    start: int
    end: int
    style: str = ""


@dataclass(frozen=True, slots=True)
class YamlText:
    """A file as plain data (dict, list, str, Decimal, bool, None), with the spot of every value and key by path."""

    file: str
    text: str
    data: Any = None
    values: dict[Path, Spot] = field(default_factory=dict)
    keys: dict[Path, Spot] = field(default_factory=dict)

    def place(self, path: Path) -> Place:
        """The place of the value at this path, or of the nearest thing above it that stands in the file."""
        while path and path not in self.values:
            path = path[:-1]
        return self._place(self.values.get(path))

    def key_place(self, path: Path) -> Place:
        """The place of the key at the end of this path, or of the nearest thing above it."""
        return self._place(self.keys[path]) if path in self.keys else self.place(path)

    def place_inside(self, path: Path, found: str, offset: int = -1, skip: int = 0) -> Place:
        """The place of a piece of the text at this path: at `offset` of an unfolded text, else where it stands first or
        after `skip` others of its kind."""
        spot = self.values.get(path)
        if spot is None:
            return self.place(path)
        written = self.text[spot.start : spot.end]
        inset = 1 if spot.style in ("'", '"') else 0
        at = inset + offset if offset >= 0 and "\n" not in written.strip() else _start(written, found, skip)
        before = self.text[: spot.start + max(at, 0)]
        return Place(self.file, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)

    def _place(self, spot: Spot | None) -> Place:
        return Place(self.file, spot.line, spot.column) if spot else Place(self.file, 1, 1)


def _start(written: str, found: str, skip: int) -> int:
    piece = re.escape(found)
    places = [m.start() for m in re.finditer(rf"(?<![\w.]){piece}(?![\w.])" if found[:1].isalpha() else piece, written)]
    return places[min(skip, len(places) - 1)] if places else written.find(found)


def read_yaml(text: str, file: str) -> tuple[YamlText, tuple[Problem, ...]]:
    """The data of a file and every problem of its form; the data is empty (None) when the text cannot be followed."""
    text = text.removeprefix("\ufeff")
    problems = tuple(_unfit_characters(text, file))
    if problems:
        return YamlText(file, text), problems
    reader = _Reader(file, text)
    try:
        data = reader.read()
    except yaml.MarkedYAMLError as error:
        return YamlText(file, text), (*reader.problems, _unreadable(error, file))
    except _GaveUp:
        return YamlText(file, text), tuple(reader.problems)
    return YamlText(file, text, data, reader.values, reader.keys), tuple(reader.problems)


def _unfit_characters(text: str, file: str) -> Iterator[Problem]:
    if len(text) > LARGEST:
        yield Problem("file-too-large", Place(file), f"at most {LARGEST} characters", f"{len(text)}", "split the file")
        return
    for number, line in enumerate(text.split("\n"), 1):
        if "\t" in line:
            place = Place(file, number, line.index("\t") + 1)
            yield Problem("tab", place, "blanks", "a tab", "type two blanks for each step inwards")
        if strange := UNPRINTABLE.search(line):
            place = Place(file, number, strange.start() + 1)
            code = f"U+{ord(strange.group()):04X}"
            yield Problem("unprintable", place, "text", f"the control character {code}", "delete it")


class _GaveUp(Exception):
    """Reading stopped for a reason that is among the problems."""


class _Reader:
    """Reads the event stream, so that anchors and aliases are seen and never followed."""

    def __init__(self, file: str, text: str) -> None:
        self.file, self.text = file, text
        self.problems: list[Problem] = []
        self.values: dict[Path, Spot] = {}
        self.keys: dict[Path, Spot] = {}
        self.count = 0
        self.events: Iterator[Any] = iter(())

    def read(self) -> Any:
        self.events = iter(yaml.parse(self.text, Loader=LOADER))
        next(self.events)
        first = next(self.events)
        if isinstance(first, yaml.StreamEndEvent):
            self._add("empty-file", first, "keys and values", "an empty file")
            return None
        self._directives(first)
        data = self._value(next(self.events), ())
        next(self.events)
        further = next(self.events)
        if isinstance(further, yaml.DocumentStartEvent):
            self._add("second-document", further, "one document in a file", "---", "make it a file of its own")
            raise _GaveUp
        return data

    def _add(self, code: str, event: Any, expected: str, found: str, remedy: str = "") -> None:
        place = Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)
        self.problems.append(Problem(code, place, expected, found, remedy))

    def _directives(self, event: Any) -> None:
        if event.version or event.tags:
            self._add("directive", event, "keys and values", "a directive (%)", "delete the line that starts with %")

    def _value(self, event: Any, path: Path) -> Any:
        self.count += 1
        if len(path) > DEEPEST or self.count > MOST_VALUES:
            self._add("too-deep", event, f"at most {DEEPEST} steps inwards and {MOST_VALUES} values", "more")
            raise _GaveUp
        self._unwanted(event)
        mark, end = event.start_mark, event.end_mark.index
        self.values[path] = Spot(mark.line + 1, mark.column + 1, mark.index, end, getattr(event, "style", "") or "")
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._list(path)
        return self._scalar(event) if isinstance(event, yaml.ScalarEvent) else None

    def _unwanted(self, event: Any) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._add("alias", event, "a value", f"*{event.anchor}", "type the value here again, or put it in quotes")
        elif event.anchor:
            self._add("anchor", event, "a value", f"&{event.anchor}", f"delete &{event.anchor}")
        if getattr(event, "tag", None):
            self._add("tag", event, "a value", f"the tag {event.tag}", "delete the word that starts with !")

    def _list(self, path: Path) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self._value(event, (*path, len(items))))
        return items

    def _mapping(self, path: Path) -> dict[str, Any]:
        found: dict[str, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self._key(event, path)
            if key is None:
                self._value(next(self.events), (*path, "?"))
                continue
            if key in found:
                first = self.keys[(*path, key)].line
                self._add("key-twice", event, "each key once", f"'{key}' again (first on line {first})", "keep one")
                self._value(next(self.events), (*path, f"{key} again"))
                continue
            mark = event.start_mark
            self.keys[(*path, key)] = Spot(mark.line + 1, mark.column + 1, mark.index, event.end_mark.index)
            found[key] = self._value(next(self.events), (*path, key))
        return found

    def _key(self, event: Any, path: Path) -> str | None:
        if isinstance(event, yaml.ScalarEvent):
            self._unwanted(event)
            self._bare_word(event)
            return str(event.value)
        self._add("key-not-text", event, "a key of plain text", "a list or keys and values", "put the text in quotes")
        self._value(event, (*path, "?"))
        return None

    def _scalar(self, event: Any) -> str | Decimal | bool | None:
        text: str = event.value
        if event.style:
            if strange := UNPRINTABLE.search(text):
                self._add("unprintable", event, "text", f"an escape for U+{ord(strange.group()):04X}", "delete it")
            return text
        if text in ("", "~", "null"):
            return None
        if text in ("true", "false"):
            return text == "true"
        if NUMBER.fullmatch(text):
            return Decimal(format(Decimal(text), "f"))  # 1e3 as 1000, and 0.50 as it is
        self._bare_word(event)
        return text

    def _bare_word(self, event: Any) -> None:
        if not event.style and TAKEN_FOR_TRUTH.fullmatch(event.value):
            remedy = f'type "{event.value}" for the word, true or false for a choice'
            self._add("bare-word", event, "text in quotes, or true or false", event.value, remedy)


_HINTS = (
    ("mapping values", "one key and its value", "a second colon, or a step inwards that nothing opens",
     "put text that holds a colon in quotes, or on the next line after >"),
    ("start any token", "a value", "a character that YAML keeps for itself", "put the text in quotes"),
    ("quoted scalar", "the closing quote", "the end of the file", "close the quote"),
    ("flow mapping", "a comma or }", "something else", "close the brace; put text that starts with { in quotes"),
    ("flow sequence", "a comma or ]", "something else", "close the bracket; put text that starts with [ in quotes"),
    ("block mapping", "a key on the level of the keys above", "something else",
     "line the keys up; put text that starts with { or a quote wholly in quotes, or on the next line after >"),
    ("block collection", "an item that starts with -", "something else", "line the items up, each with - in front"),
    ("expected ':'", "a key, a colon and a value", "no colon", "type a colon and a blank after the key"),
)  # fmt: skip


def _unreadable(error: yaml.MarkedYAMLError, file: str) -> Problem:
    mark = error.problem_mark or error.context_mark
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    said = f"{error.problem or ''} {error.context or ''}"
    for words, expected, found, remedy in _HINTS:
        if words in said:
            return Problem("unreadable-yaml", place, expected, found, remedy)
    return Problem("unreadable-yaml", place, "YAML that can be read", error.problem or "something else")
