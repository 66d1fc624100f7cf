"""What remains of a question file with problems: the finds without one, to be looked at in the same run."""

from collections.abc import Iterable, Mapping

from witnessmark.files.bank.question_text import Known, question_from_text
from witnessmark.files.shapes.yaml_text import YamlText, read_yaml
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.question import Table
from witnessmark.words.problems import Problem


def what_remains(
    text: str, file: str, problems: Iterable[Problem], tables: Mapping[str, Table], known: Known
) -> DrawableQuestion | None:
    """The question without each find that has a problem, and without those that go on from one; None where a problem
    lies elsewhere, or where no find is left."""
    while problems:
        shorter = _without(text, file, problems)
        if shorter is None:
            return None
        text = shorter
        question, problems = question_from_text(text, file, tables, known)
        if question is not None:
            return question
    return None


def _without(text: str, file: str, problems: Iterable[Problem]) -> str | None:
    """The text with empty lines where finds with a problem stand."""
    read, _ = read_yaml(text, file)
    finds = _lines_of_finds(read)
    broken = {find for problem in problems for find in [_around(finds, problem.place.line)]}
    if None in broken or len(broken) == len(finds):
        return None
    gone = {line for find in broken if find is not None for line in finds[find]}
    return "\n".join("" if n in gone else line for n, line in enumerate(text.split("\n"), 1))


def _lines_of_finds(read: YamlText) -> dict[str, range]:
    """From which line to which each find goes; empty where the finds cannot be told apart."""
    if not isinstance(read.data, dict) or not isinstance(read.data.get("find"), dict):
        return {}
    tops = sorted(read.key_place((key,)).line or 0 for key in read.data)
    begin = read.key_place(("find",)).line or 0
    end = next((line for line in tops if line > begin), len(read.text.split("\n")) + 1)
    starts = [read.key_place(("find", key)).line or 0 for key in read.data["find"]]
    if len(set(starts)) < len(starts) or begin in starts:
        return {}
    return {
        key: range(*ends)
        for key, ends in zip(read.data["find"], zip(starts, [*starts[1:], end], strict=True), strict=True)
    }


def _around(finds: Mapping[str, range], line: int | None) -> str | None:
    return next((find for find, lines in finds.items() if line in lines), None)
