"""What may be typed at a place of a question file: the keys that its schema knows there, and the names of the bank."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from witnessmark.files.shapes.schemas import schemas
from witnessmark.files.shapes.typed_place import ITEM, TypedPlace, typed_place

Node = Mapping[str, Any]
LONGEST_ABOUT = 300


@dataclass(frozen=True, slots=True)
class Offer:
    """One word that may stand at a place, what it is, and whether it is a key (and one that must be there)."""

    word: str
    about: str = ""
    is_key: bool = False
    is_needed: bool = False


def offers(text: str, line: int, column: int, names: Mapping[str, Mapping[str, str]]) -> tuple[Offer, ...]:
    """What may be typed before a column of a line (both from 1) of a question file. `names` are those that the bank has
    for a key (`misconception`, `figure`, `row of`), each with what it is."""
    place = typed_place(text, line, column)
    nodes = _at(place)
    if place.key or (place.above and place.above[-1] == ITEM and len(place.above) > 1 and place.above[-2] in names):
        return tuple(dict.fromkeys(_values(nodes, place, names)))
    return tuple(_keys(nodes, place))


@cache
def _schema() -> Node:
    return schemas()["question"]


def _at(place: TypedPlace) -> list[Node]:
    """The shapes that may stand at a place, in view of the keys beside it."""
    nodes = _shapes([_schema()])
    for step in place.above:
        nodes = _shapes(_step(nodes, step))
    fitting = [node for node in nodes if place.beside <= set(node.get("properties", ()))]
    return fitting or nodes


def _step(nodes: Sequence[Node], step: str) -> list[Node]:
    found: list[Node] = []
    for node in nodes:
        inside: Node | None = node.get("items") if step == ITEM else node.get("properties", {}).get(step)
        other = node.get("additionalProperties") if step != ITEM else None
        if inside or isinstance(other, dict):
            found.append(inside or other or {})
    return found


def _shapes(nodes: Iterable[Node]) -> list[Node]:
    """Every shape behind references and unions."""
    found: list[Node] = []
    for node in nodes:
        several = [one for union in ("anyOf", "oneOf", "allOf") for one in node.get(union, ())]
        if "$ref" in node:
            several.append(_schema()["$defs"][node["$ref"].rpartition("/")[2]])
        found += _shapes(several) if several else [node]
    return found


def _keys(nodes: Sequence[Node], place: TypedPlace) -> Iterable[Offer]:
    """Every key that is known there and not there yet; first those that must be."""
    known: dict[str, Offer] = {}
    for node in nodes:
        for key, value in node.get("properties", {}).items():
            if key not in place.beside and key not in known:
                needed = all(key in other.get("required", ()) for other in nodes)
                known[key] = Offer(key, _about(value), is_key=True, is_needed=needed)
    return sorted(known.values(), key=lambda offer: not offer.is_needed)


def _values(nodes: Sequence[Node], place: TypedPlace, names: Mapping[str, Mapping[str, str]]) -> Iterable[Offer]:
    key = place.key or place.above[-2]
    for name, about in names.get(key, {}).items():
        yield Offer(name, about[:LONGEST_ABOUT])
    for node in _shapes(_step(nodes, key)) if place.key else ():
        for word in node.get("enum", [node["const"]] if "const" in node else []):
            yield Offer(str(word))
        if node.get("type") == "boolean":
            yield from (Offer("true"), Offer("false"))


def _about(value: Node) -> str:
    """What a key is for."""
    return str(value.get("description") or "")[:LONGEST_ABOUT]
