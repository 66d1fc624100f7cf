"""The file `bank/misconceptions.yaml` as values."""

from collections.abc import Mapping

from witnessmark.files.bank.question_text import check_key
from witnessmark.files.shapes.misfits import fitted
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.problems import add_misfits
from witnessmark.files.shapes.shapes import MisconceptionShape
from witnessmark.files.shapes.yaml_text import YamlText, read_yaml
from witnessmark.questions.model.question import Misconception
from witnessmark.words.problems import Problem


def misconceptions_from_text(text: str, file: str) -> tuple[Mapping[str, Misconception], YamlText, tuple[Problem, ...]]:
    """Every misconception by key, the file as read (for places), and every problem.

    A misconception that does not fit is kept, empty, so that slips that name it raise no further problem.
    """
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    found: dict[str, Misconception] = {}
    if isinstance(read.data, dict):
        for key, data in read.data.items():
            check_key(placed, (key,), key)
            shape, misfits = fitted(MisconceptionShape, data, (key,))
            add_misfits(placed, misfits)
            if key.strip():
                found[key] = _misconception(key, shape)
    elif read.data is not None:
        placed.add("wrong-value", (), "keys and values", shown(read.data), "type a key for each misconception")
    return found, read, placed.in_order()


def _misconception(key: str, shape: MisconceptionShape | None) -> Misconception:
    if shape is None:
        return Misconception(key, "", "", "")
    return Misconception(
        key, shape.believes, shape.shows, shape.say, shape.demonstrate, tuple(shape.kit), shape.published
    )
