"""Questions made from a question of the bank, for a follow-up: one part alone, and somebody else's wrong working of it.

Each is written as the text of a question file and read by the usual reader, so that it is stored with a sheet and read
back for years like any other.
"""

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from witnessmark.files.bank.bundle import opened_bundle
from witnessmark.files.bank.part_text import LIMIT
from witnessmark.files.bank.question_text import Known, question_from_text
from witnessmark.files.shapes.yaml_text import read_yaml
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import Comparison, Tree
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.kinds import carried_by
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.words.errors import ProblemsFound

MADE = "a question made for a follow-up"
AGAINST = "-set-against-"
NOTHING_WRONG = "Nothing is wrong with it."
FAULT_ASK = "Somebody at another yard worked it as it stands above. What is wrong with it?"


def focused(question: Question, part: str, against: str = "") -> DrawableQuestion:
    """The question with one of its parts, and the earlier parts whose results that part needs. `against` is the
    misconception that it is set for, where nothing else on the sheet tells; see `set_against`."""
    needed = {question.find_of(key) for key in needed_for(question, part)}
    data, known = opened_text(question)
    data["find"] = {key: data["find"][key] for key in data["find"] if key in needed}
    data["question"] = f"again-{question.key}-{part}" + (f"{AGAINST}{against}" if against else "")
    return read_made(data, question, known)


def set_against(question: Question) -> str:
    """The misconception that a focused question is set for, where its key tells; else nothing."""
    return question.key.partition(AGAINST)[2]


def find_the_fault(
    question: Question, part: str, wrong: Misconception, others: Sequence[Misconception], stem: str
) -> DrawableQuestion:
    """A choice: what is wrong with a working that follows `wrong`? Beside it stand what `others` would look like, and
    that nothing is wrong, which is what whoever works so would say. `stem` begins its key."""
    data, known = opened_text(question)
    options = [{"text": wrong.shows, "right": True}, {"text": NOTHING_WRONG, "misconception": wrong.key}]
    options += [{"text": other.shows} for other in others]
    data["find"] = {"a": {"ask": FAULT_ASK, "choice": options, "marks": 1}}
    data["question"], data["title"] = f"{stem}{question.key}-{part}", f"Find the fault: {data['title']}"
    return read_made(data, question, {**known, wrong.key: wrong})


def needed_for(question: Question, part: str) -> frozenset[str]:
    """The letters of a part and of the earlier parts whose results it needs, at any remove."""
    found, waiting = set[str](), [part]
    while waiting:
        key = waiting.pop()
        if key not in found:
            found.add(key)
            waiting += carried_by(question.part(key))
    return frozenset(found)


def opened_text(question: Question) -> tuple[dict[str, Any], Mapping[str, Misconception]]:
    """What the file of a question holds, and the misconceptions that it knows."""
    text, _, known = opened_bundle(question.source)
    read, _ = read_yaml(text, MADE)
    assert isinstance(read.data, dict)
    return dict(read.data), known


def read_made(data: dict[str, Any], question: Question, known: Mapping[str, Misconception]) -> DrawableQuestion:
    """The question of this data; JSON is YAML as well. ProblemsFound where it cannot be read. Its variants are those
    that `question` keeps, by conditions over the givens alone: what they name may not be asked any more."""
    if "keep" in data:
        data["keep"] = [_over_givens(text, tree) for text, tree in zip(data["keep"], question.keep, strict=True)]
    text = json.dumps(data, ensure_ascii=False, indent=1, default=_plain)
    made, problems = question_from_text(text, MADE, question.tables, Known(known))
    if made is None:
        raise ProblemsFound(problems)
    return made


def _over_givens(text: str, tree: Tree) -> str:
    """A condition as its file writes it (`sigma > 8 MPa`), with lines and results as they are worked."""
    limit = LIMIT.fullmatch(text)
    if not limit or not isinstance(tree, Comparison):
        return plain(tree)
    return f"{plain(tree.left)} {limit['op']} {limit['number']} {limit['unit']}"


def _plain(value: object) -> float | int | str:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral() else float(value)
    return str(value)
