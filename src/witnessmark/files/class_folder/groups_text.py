"""The groups of class.yaml: where a yard is, and on which days it is visited."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.words.nearest import near

GROUP_KEYS = ("place", "visits")


@dataclass(frozen=True, slots=True)
class ClassGroup:
    """A group of students: its place in words, and the days of its visits in order."""

    name: str
    place: str = ""
    visits: tuple[date, ...] = ()


def groups_of(placed: Placed) -> Mapping[str, ClassGroup]:
    """The groups of a class file by name; what cannot be read is a problem of `placed`."""
    data = placed.text.data.get("groups")
    if data is None:
        return {}
    if not isinstance(data, dict):
        placed.add("wrong-value", ("groups",), "a name for each group", shown(data), "type name: and place: below it")
        return {}
    return {str(name): _group(placed, str(name), value) for name, value in data.items()}


def _group(placed: Placed, name: str, value: object) -> ClassGroup:
    if not isinstance(value, dict):
        placed.add("wrong-value", ("groups", name), "place and visits", shown(value), "type place: and visits:")
        return ClassGroup(name)
    for key in value:
        if key not in GROUP_KEYS:
            expected = f"one of {', '.join(GROUP_KEYS)}"
            placed.add_key("unknown-key", ("groups", name, key), expected, f"'{key}'", near(str(key), GROUP_KEYS))
    place, days = value.get("place", ""), value.get("visits", [])
    if not isinstance(days, list):
        placed.add("wrong-value", ("groups", name, "visits"), "a list of days", shown(days), "type [2027-03-05]")
        days = []
    found = [_day(placed, ("groups", name, "visits", n), day) for n, day in enumerate(days)]
    return ClassGroup(name, " ".join(str(place).split()), tuple(sorted(day for day in found if day)))


def _day(placed: Placed, path: tuple[str | int, ...], value: object) -> date | None:
    try:
        return date.fromisoformat(str(value))
    except ValueError:
        placed.add("wrong-value", path, "a date", shown(value), "type it like 2027-03-05")
        return None
