"""A question's file written at the desk: looked at as `check` does while it is typed, kept where nothing is wrong with
it, and only over the file that was shown."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.folder import question_file_of, read_question_file
from witnessmark.files.bank.names_in_bank import names_in_bank
from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.in_use import in_use
from witnessmark.files.safe.plain_text import LARGEST, decoded
from witnessmark.files.shapes.completing import Offer, offers
from witnessmark.jobs.checking import QuestionReport, of_what_is_read, report_on
from witnessmark.questions.bank import Bank
from witnessmark.questions.model.question import Question
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem, in_reading_order

BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class QuestionFile:
    """The file of a question: its text, line ends made one, and `seal`, which tells whether it has changed since."""

    key: str
    file: Path
    text: str
    seal: str


@dataclass(frozen=True, slots=True)
class Looked:
    """What was typed for a question's file, every problem of it, and, where there is none, the question with its report
    and what is around it in the bank."""

    text: str
    problems: tuple[Problem, ...]
    question: Question | None = None
    report: QuestionReport | None = None
    bank: Bank | None = None


def question_file(bank: Path, key: str) -> QuestionFile:
    """The file of a question of a bank, also where it has problems; raises ProblemsFound where there is none."""
    file = question_file_of(bank, key)
    if file is None:
        remedy = "choose a question in the bank"
        raise ProblemsFound([Problem("no-question", Place(str(bank)), "one file with this question", key, remedy)])
    data, problems = read_bounded(file, LARGEST)
    text, more = decoded(data, str(file))
    if problems or more:
        raise ProblemsFound((*problems, *more))
    return QuestionFile(key, file, text, seal_of(data))


def look_at(file: QuestionFile, typed: str) -> Looked:
    """What `check` would say of the file if it held what was typed; nothing is written or raised."""
    read = read_question_file(file.file, typed)
    found = (*read.problems, *(_of_another_key(file, read.bank) if not read.problems else ()))
    if found:
        return Looked(typed, in_reading_order((*found, *of_what_is_read(read, file.file))))
    question = read.bank[file.key]
    report = report_on(question, read.bank, file.file)
    return Looked(typed, report.problems, question, report, read.bank)


def _of_another_key(file: QuestionFile, bank: Bank) -> tuple[Problem, ...]:
    """A problem where the question bears another key than tasks know it by."""
    if file.key in bank:
        return ()
    remedy = f"type question: {file.key}; another question belongs into a file of its own"
    found = f"'{next(iter(bank), '')}'"
    return (Problem("question-renamed", Place(str(file.file), 1, 1), f"the key {file.key}", found, remedy),)


def keep_question(bank: Path, key: str, typed: str, seal: str) -> QuestionFile:
    """What was typed, kept as the file of the question in the place of the one that has this `seal`.

    Raises ProblemsFound with every problem of it, and where the file has changed since it was shown. Mark of byte order
    and line ends stay as they were.
    """
    found = look_at(question_file(bank, key), typed)
    if found.problems:
        raise ProblemsFound(found.problems)
    with in_use(bank, "witnessmark desk"):
        there = question_file(bank, key)
        if there.seal != seal:
            expected, remedy = "the file as it was shown to you", "look at what stands there now, then decide"
            raise ProblemsFound([Problem("stale", Place(str(there.file)), expected, "one that was changed", remedy)])
        write_file(there.file, _as_it_was(there.file, typed))
    return question_file(bank, key)


def _as_it_was(file: Path, text: str) -> bytes:
    before, _ = read_bounded(file, LARGEST)
    ends = text.replace("\n", "\r\n") if b"\r\n" in before else text
    return (BOM if before.startswith(BOM) else b"") + ends.encode()


def broken_questions(bank: Path, problems: Iterable[Problem]) -> tuple[str, ...]:
    """The keys of questions of a bank in whose files these problems stand, each once."""
    files = dict.fromkeys(Path(problem.place.file) for problem in problems)
    inside = [file for file in files if file.suffix == ".yaml" and file.is_relative_to(bank)]
    return tuple(file.stem for file in inside if question_file_of(bank, file.stem) == file)


def words_at(bank: Path, typed: str, line: int, column: int) -> tuple[Offer, ...]:
    """What may be typed before a column of a line (both from 1): keys of the schema, and names that the bank has."""
    return offers(typed, line, column, names_in_bank(bank))


def seal_of(data: bytes) -> str:
    """What tells whether a file has changed."""
    return hashlib.sha256(data).hexdigest()
