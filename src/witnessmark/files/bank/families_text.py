"""The file `bank/families.yaml`: families of misconceptions, by title, each with the keys of its members."""

from collections.abc import Collection, Mapping

from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.yaml_text import read_yaml
from witnessmark.words.nearest import near
from witnessmark.words.problems import Problem


def families_from_text(
    text: str, file: str, known: Collection[str] | None
) -> tuple[Mapping[str, str], tuple[Problem, ...]]:
    """The family of each misconception by its key, and every problem; `known` are the misconceptions there are (None:
    they could not be read, and are not checked)."""
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    found: dict[str, str] = {}
    if isinstance(read.data, dict):
        for title, keys in read.data.items():
            _family(placed, str(title), keys, known, found)
    elif read.data is not None:
        placed.add("wrong-value", (), "a title for each family", shown(read.data), "type title: and its keys below")
    return found, placed.in_order()


def _family(placed: Placed, title: str, keys: object, known: Collection[str] | None, found: dict[str, str]) -> None:
    if not isinstance(keys, list):
        placed.add("wrong-value", (title,), "a list of misconceptions", shown(keys), "type - and a key on each line")
        return
    for position, key in enumerate(keys):
        if not isinstance(key, str) or (known is not None and key not in known):
            remedy = near(str(key), known or ())
            placed.add("unknown-misconception", (title, position), "a key of misconceptions.yaml", shown(key), remedy)
        elif key in found:
            placed.add("family-twice", (title, position), "each key in one family", f"'{key}' again", "delete one")
        else:
            found[key] = title
