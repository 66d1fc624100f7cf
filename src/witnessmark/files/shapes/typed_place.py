"""Where somebody is typing in a YAML text that is not finished: the keys that lead there, and what stands beside it."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

ITEM = "[]"
"""The step into a list."""
DASHES = re.compile(r"(- +)+|-$")
KEY = re.compile(r"(?P<key>[^\s:#\[\]{},\"'][^:#\[\]{},\"']*?) *:(?=\s|$)")
FLOW_SIGN = re.compile(r"\"[^\"]*\"?|'[^']*'?|:(?=\s|$)|[{}\[\],]|[^{}\[\],:\"']+|.")


@dataclass(frozen=True, slots=True)
class TypedPlace:
    """A place in a text: the keys above it (with ITEM for a list), the key whose value is typed (empty where a key is
    typed), what of the word stands there already, and the keys that the same mapping has."""

    above: tuple[str, ...]
    key: str = ""
    word: str = ""
    beside: frozenset[str] = frozenset()


def typed_place(text: str, line: int, column: int) -> TypedPlace:
    """The place before a column of a line, both counted from 1; found by indentation, so that a text with mistakes
    elsewhere will do."""
    lines = text.split("\n")
    at = min(max(line, 1), len(lines)) - 1
    before = lines[at][: column - 1]
    above, indent = _above(lines, at, before)
    inside = _Inside()
    for sign in FLOW_SIGN.findall(before[indent:]):
        inside.take(sign)
    beside = inside.keys if inside.depth else inside.keys | _beside(lines, at, indent)
    if inside.depth:
        beside |= set(KEY.findall(_to_the_end(lines[at][column - 1 :])))
    return TypedPlace((*above, *inside.steps()), inside.key, inside.word.strip(), frozenset(beside) - {inside.key})


def _above(lines: Sequence[str], at: int, before: str) -> tuple[list[str], int]:
    """The steps that lead to a line, and where its own mapping begins in it."""
    own, body = _parted(before)
    dashes = DASHES.match(body)
    indent = own + len(dashes[0]) if dashes else own
    steps = [ITEM] * (dashes[0].count("-") if dashes else 0)
    level, is_item = own, bool(dashes)
    for line in reversed(lines[:at]):
        own, body = _parted(line)
        if not body or body.startswith("#"):
            continue
        found = DASHES.match(body)
        if own > level or (own == level and not (is_item and not found)):
            continue
        key = KEY.match(body[len(found[0]) if found else 0 :])
        if key and (not found or own + len(found[0]) < level):
            steps.append(key["key"])
        steps += [ITEM] * (found[0].count("-") if found else 0)
        level, is_item = own, bool(found)
        if own == 0 and not found:
            break
    return steps[::-1], indent


def _parted(line: str) -> tuple[int, str]:
    body = line.lstrip(" ")
    return len(line) - len(body), body.rstrip()


def _beside(lines: Sequence[str], at: int, indent: int) -> set[str]:
    """The keys that stand at an indentation around a line, as far as its mapping goes."""
    below = _keys_at(lines[at + 1 :], indent, goes_up=False)
    return {*below, *(_keys_at(lines[at::-1], indent, goes_up=True) if indent or at else ())}


def _keys_at(lines: Sequence[str], indent: int, goes_up: bool) -> Iterator[str]:
    """The keys at this indentation, from near to far, until what is above or beside their mapping begins."""
    for line in lines:
        own, body = _parted(line)
        found = DASHES.match(body) if body else None
        begins = own + len(found[0]) if found else own
        if body and not body.startswith("#"):
            if begins < indent or (found and own < indent and not goes_up):
                return
            if begins == indent and (key := KEY.match(body[len(found[0]) if found else 0 :])):
                yield key["key"]
            if found and own < indent:
                return


def _to_the_end(rest: str) -> str:
    """What follows in the same braces."""
    depth = 0
    for n, sign in enumerate(rest):
        depth += (sign in "{[") - (sign in "}]")
        if depth < 0:
            return rest[:n]
    return rest


class _Inside:
    """A line read from its own mapping to the place: braces and brackets that are open there."""

    def __init__(self) -> None:
        self._open: list[tuple[tuple[str, ...], set[str]]] = []
        self._lists: list[bool] = []
        self.key, self.word, self.keys = "", "", set[str]()

    @property
    def depth(self) -> int:
        """How many braces and brackets are open."""
        return len(self._open)

    def steps(self) -> tuple[str, ...]:
        """The steps of what is open."""
        return tuple(step for steps, _keys in self._open for step in steps)

    def take(self, sign: str) -> None:
        """Read one sign, or a run of plain text."""
        match sign:
            case "{" | "[":
                self._enter(is_list=sign == "[")
            case "}" | "]":
                self._leave()
            case ",":
                self.word = ""
                self.key = self.key if self._lists and self._lists[-1] else ""
            case ":" if not self.key and not (self._lists and self._lists[-1]):
                self.key, self.word = self.word.strip(), ""
                self.keys.add(self.key)
            case _:
                self.word += sign

    def _enter(self, is_list: bool) -> None:
        steps = (self.key,) if self.key else ()
        self._open.append(((*steps, ITEM) if is_list else steps, self.keys))
        self._lists.append(is_list)
        self.key, self.word, self.keys = "", "", set()

    def _leave(self) -> None:
        if self._open:
            _steps, self.keys = self._open.pop()
            self._lists.pop()
        self.key, self.word = "", ""
