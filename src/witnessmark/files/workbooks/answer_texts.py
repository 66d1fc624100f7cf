"""Answers that came as text: saved by the page of a sheet, or copied from a message into a file."""

from collections.abc import Mapping
from pathlib import Path

from witnessmark.files.safe.bounded import read_bounded
from witnessmark.questions.sheet.answer_text import FIRST, AnswerText, read_answer_text
from witnessmark.questions.sheet.task import NOTE, Entry, Return, Sheet
from witnessmark.words.problems import Place, Problem

ENDING = ".txt"
LARGEST_TEXT = 200_000


def is_answer_text(path: Path) -> bool:
    """True of a file that holds the answers of a sheet as text."""
    return path.suffix.lower() == ENDING and FIRST in _text(path, None).casefold()


def read_text_file(
    path: Path, sheets: Mapping[str, Sheet], problems: list[Problem], content: bytes | None = None
) -> Return | None:
    """The return in a text; None, with a problem, where it cannot be used, and without one where it is another text."""
    found = read_answer_text(_text(path, content))
    if found is None:
        return None
    file = str(path)
    sheet = sheets.get(found.code)
    if sheet is None:
        expected, remedy = "the code of a sheet that was issued", "look at the code on the printed sheet"
        problems.append(Problem("unknown-sheet", Place(file), expected, found.code or "none", remedy))
        return None
    if not found.is_whole:
        expected, remedy = "answers as they were sent", "have it sent once more, or type it into the class table"
        told = "check characters that say something was lost or changed on the way"
        problems.append(Problem("not-whole", Place(file), expected, told, remedy))
        return None
    return _return(found, sheet, file, problems)


def _return(found: AnswerText, sheet: Sheet, file: str, problems: list[Problem]) -> Return:
    keys = {ask.key for ask in sheet.asks} | {NOTE}
    for key, _ in found.entries:
        if key not in keys:
            problems.append(Problem("answer-not-found", Place(file), f"an answer of sheet {sheet.code}", key))
    return Return(sheet.code, file, tuple((key, Entry(text)) for key, text in dict(found.entries).items()
                                          if key in keys))  # fmt: skip


def _text(path: Path, content: bytes | None) -> str:
    data = read_bounded(path, LARGEST_TEXT)[0] if content is None else content[:LARGEST_TEXT]
    return data.decode("utf-8-sig", errors="replace")
