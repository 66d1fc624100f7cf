"""The job `remove`: all data of one student taken out of a class, on request; what a kill interrupts is taken up again.

Whose data it is stands in a file until all is done, so that a second call finds it even when the record and the list of
students no longer know the student; no other command runs before.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.folder import read_class
from witnessmark.files.class_folder.students_csv import without_student
from witnessmark.files.class_folder.traces import LONGEST_NAME, Sought, Traces, traces_of
from witnessmark.files.class_folder.typed_into import is_typed_into
from witnessmark.files.safe.atomic import write_file
from witnessmark.files.tables.class_tables import read_class_table
from witnessmark.jobs.documents import as_file_name
from witnessmark.jobs.opened import Opened, alone
from witnessmark.jobs.unfinished_removal import REMOVING, Pending, as_bytes, pending
from witnessmark.jobs.writing_anew import write_anew
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record import copies
from witnessmark.record.record import Record
from witnessmark.record.removal import WHY
from witnessmark.record.storing import named
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

ELSEWHERE = "what you sent, printed or saved outside the class folder"


@dataclass(frozen=True, slots=True)
class Removal:
    """What was removed, or would be: sheets, returns and marks of the record, files, copies of the record that are
    rewritten or deleted, and what only a person can clear. `anew` are the documents of the class that were written
    again without the student, or would be."""

    student: str
    name: str
    sheets: int
    returns: int
    marks: int
    files: tuple[Path, ...]
    anew: tuple[Path, ...]
    copies: tuple[Path, ...]
    by_hand: tuple[str, ...]
    applied: bool


def planned(class_path: Path, code: str) -> Removal:
    """What `remove` would take, rewrite and leave to a person; nothing is touched. ProblemsFound for an unknown
    code."""
    with alone(class_path, "remove"):
        opened = _opened(class_path)
        with opened.record() as record:
            every = _every_sheet(record)
            whose = _whose(opened, class_path, every, code)
            found = _traces(opened, record, whose, every)
            held = copies.holding(record.path, whose.sheets, record.question_from_bundle)
            by_hand = (*found.by_hand, *_left(record, whose), *_typed(class_path, found.files))
            counts = _counts(record, whose)
    paths = tuple(copy.path for copy in held)
    return Removal(code, whose.name, *counts, found.files, found.anew, paths, (*by_hand, ELSEWHERE), applied=False)


def remove(class_path: Path, code: str, who: str, now: datetime) -> Removal:
    """Remove a student from the record, its copies, the written and returned files and students.csv.

    Documents of the whole class that hold the student are written anew. Raises ProblemsFound for an unknown code, or
    without a name. A removal that was interrupted goes on where it was.
    """
    with alone(class_path, "remove"):
        opened = _opened(class_path)
        with opened.record() as record:
            every = _every_sheet(record)
            whose = _whose(opened, class_path, every, code)
            named(code, "a removal", who, WHY)
            found = _traces(opened, record, whose, every)
            anew = (path.relative_to(class_path).as_posix() for path in found.anew)
            whose = replace(whose, anew=tuple(dict.fromkeys((*whose.anew, *anew))))
            write_file(class_path / REMOVING, as_bytes(whose))
            counts = _counts(record, whose)
            _delete_files(found)
            record.remove_student(code, now, who)
            touched = copies.purge(record.path, code, record.question_from_bundle, now)
            by_hand = (*found.by_hand, *_left(record, whose))
        _strike_from_list(class_path / "students.csv", code)
        written, unwritten = write_anew(_opened(class_path), whose.anew, now)
        (class_path / REMOVING).unlink()
    paths = tuple(copy.path for copy in touched)
    by_hand = (*by_hand, *unwritten, ELSEWHERE)
    return Removal(code, whose.name, *counts, found.files, written, paths, by_hand, applied=True)


def _opened(class_path: Path) -> Opened:
    """The class, also when its list of students is empty by now."""
    folder = read_class(class_path)
    if problems := [p for p in folder.problems if p.code != "no-students"]:
        raise ProblemsFound(problems)
    return Opened(folder, class_path)


def _whose(opened: Opened, class_path: Path, every: list[Sheet], code: str) -> Pending:
    """Whose data it is: by the list, the record, and what an interrupted removal left."""
    before = pending(class_path)
    known = {student.code: student.name for student in opened.students}
    known |= {sheet.student.code: sheet.student.name for sheet in every}
    if before is not None and before.student == code:
        known.setdefault(code, before.name)
    if code not in known:
        raise ProblemsFound([Problem("no-student", Place(str(class_path)), "the code of a student", code)])
    sheets = {sheet.code for sheet in every if sheet.student.code == code}
    earlier = set(before.sheets) if before is not None and before.student == code else set()
    name = before.name if before is not None and before.student == code else known[code]
    anew = before.anew if before is not None and before.student == code else ()
    return Pending(code, name or known[code], tuple(sorted(sheets | earlier)), anew)


def _every_sheet(record: Record) -> list[Sheet]:
    return [sheet for task in record.tasks() for sheet in record.sheets(task)]


def _counts(record: Record, whose: Pending) -> tuple[int, int, int]:
    """The sheets, the returns and the marks of the student in the record."""
    sheets = [(sheet.task.key, sheet.code) for sheet in _every_sheet(record) if sheet.student.code == whose.student]
    returns = sum(len(record.all_returns(task, code)) for task, code in sheets)
    marks = sum(len(record.proposals(task).get(code, ())) for task, code in sheets)
    return max(len(sheets), len(whose.sheets)), returns, marks


def _traces(opened: Opened, record: Record, whose: Pending, every: list[Sheet]) -> Traces:
    """What holds the student; what an interrupted command had decided to write was carried out before."""
    others = frozenset(s.code for s in every if s.student.code != whose.student)
    mine = [sheet.student for sheet in every if sheet.student.code == whose.student]
    mine += [student for student in opened.students if student.code == whose.student]
    groups = {*(student.group for student in mine), record.arranged().group(whose.student, "")}
    files = frozenset(as_file_name(group).casefold()[:LONGEST_NAME] for group in groups if group)
    sought = Sought(whose.student, whose.name, frozenset(whose.sheets), others, files)
    return traces_of(opened.path, sought, _untouched_tables(opened.path, every))


def _delete_files(found: Traces) -> None:
    for file in found.files:
        file.unlink()


def _typed(class_path: Path, files: tuple[Path, ...]) -> tuple[str, ...]:
    """Gradebooks that would go with what a teacher typed into them."""
    books = [file for file in files if file.parent == class_path and file.suffix == ".xlsx"]
    remedy = f"somebody typed into it; read it back first: witnessmark moderate {class_path} FILE --apply"
    return tuple(f"{book}: {remedy}" for book in books if is_typed_into(class_path, book))


def _left(record: Record, whose: Pending) -> tuple[str, ...]:
    """What stays in the record and among its copies for a person to look at."""
    beside = (f"{path}: see whether it is a copy of the record" for path in copies.others_beside(record.path))
    return (*_mentions(record, whose), *beside)


def _untouched_tables(class_path: Path, every: list[Sheet]) -> list[Path]:
    """The class tables that were issued and into which nobody typed anything."""
    by_code = {sheet.code: sheet for sheet in every}
    tables = class_path.glob("issued/*/class-table*.xlsx")
    return [table for table in tables if not (read := read_class_table(table, by_code)).returns and not read.problems]


def _mentions(record: Record, whose: Pending) -> tuple[str, ...]:
    """Rows about other students that name the removed one, in a reason or a file's name: they stay as they were."""
    count = record.mentions([whose.student, whose.name, *whose.sheets])
    told = "rows of the journal about others name the student; they stay as they were written (witnessmark history)"
    rows = (f"{record.path}: {count} {told}",) if count else ()
    return (*rows, *_named_in_notes(record, whose))


def _named_in_notes(record: Record, whose: Pending) -> Iterator[str]:
    """What other students wrote to the teacher is theirs; a person has to look where it names the student."""
    named_so = re.compile("|".join(rf"(?<!\w){re.escape(text)}(?!\w)" for text in (whose.student, whose.name) if text))
    for task in record.tasks():
        students = {sheet.code: sheet.student.code for sheet in record.sheets(task)}
        for note in record.notes(task):
            if students[note.sheet] != whose.student and named_so.search(note.words):
                yield f"{record.path}: what {students[note.sheet]} wrote with {task} names the student; it stays"


def _strike_from_list(file: Path, code: str) -> None:
    before = file.read_bytes()
    after = without_student(before, str(file), code)
    if after != before:
        write_file(file, after)
