"""The job `remove`: all data of one student taken out of a class, on request; what a kill interrupts is taken up again.

Whose data it is stands in a file until all is done, so that a second call finds it even when the record and the list of
students no longer know the student; no other command runs before.
"""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.class_folder.folder import read_class
from witnessmark.files.class_folder.students_csv import without_student
from witnessmark.files.class_folder.traces import Sought, traces_of
from witnessmark.files.safe.atomic import write_file
from witnessmark.files.tables.class_tables import read_class_table
from witnessmark.jobs.opened import Opened, alone
from witnessmark.jobs.unfinished_removal import REMOVING, Pending, as_bytes, pending
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record import copies
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Removal:
    """What was removed: sheets of the record, files, copies of the record that were rewritten or deleted, and what only
    a person can clear."""

    student: str
    sheets: int
    files: tuple[Path, ...]
    copies: tuple[Path, ...]
    by_hand: tuple[str, ...]


def remove(class_path: Path, code: str, who: str, now: datetime) -> Removal:
    """Remove a student from the record, its copies, the written and returned files and students.csv.

    Gradebooks and reviews are deleted, since they hold the name; `return` and `review` write them anew. Raises
    ProblemsFound for an unknown code. A removal that was interrupted goes on where it was.
    """
    with alone(class_path, "remove"):
        opened = _opened(class_path)
        with opened.record() as record:
            every = [sheet for task in record.tasks() for sheet in record.sheets(task)]
            whose = _whose(opened, class_path, every, code)
            write_file(class_path / REMOVING, as_bytes(whose))
            files, by_hand = _delete_files(class_path, whose, every)
            removed = record.remove_student(code, now, who)
            touched = copies.purge(record.path, code, record.question_from_bundle, now)
            beside = [f"{path}: see whether it is a copy of the record" for path in copies.others_beside(record.path)]
            by_hand = (*by_hand, *_mentions(record, whose), *beside)
        _strike_from_list(class_path / "students.csv", code)
        (class_path / REMOVING).unlink()
    sheets = max(removed.sheets, len(whose.sheets))
    elsewhere = "what you sent, printed or saved outside the class folder"
    return Removal(code, sheets, files, tuple(copy.path for copy in touched), (*by_hand, elsewhere))


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
    return Pending(code, name or known[code], tuple(sorted(sheets | earlier)))


def _delete_files(class_path: Path, whose: Pending, every: list[Sheet]) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Delete what holds the student; what an interrupted command had decided to write was carried out before."""
    others = frozenset(s.code for s in every if s.student.code != whose.student)
    sought = Sought(whose.student, whose.name, frozenset(whose.sheets), others)
    found = traces_of(class_path, sought, _untouched_tables(class_path, every))
    for file in found.files:
        file.unlink()
    return found.files, found.by_hand


def _untouched_tables(class_path: Path, every: list[Sheet]) -> list[Path]:
    """The class tables that were issued and into which nobody typed anything."""
    by_code = {sheet.code: sheet for sheet in every}
    tables = class_path.glob("issued/*/class-table*.xlsx")
    return [table for table in tables if not (read := read_class_table(table, by_code)).returns and not read.problems]


def _mentions(record: Record, whose: Pending) -> tuple[str, ...]:
    """Rows about other students that name the removed one, in a reason or a file's name: they stay as they were."""
    count = record.mentions([whose.student, whose.name, *whose.sheets])
    told = "rows of the journal about others name the student; they stay as they were written (witnessmark history)"
    return (f"{record.path}: {count} {told}",) if count else ()


def _strike_from_list(file: Path, code: str) -> None:
    before = file.read_bytes()
    after = without_student(before, str(file), code)
    if after != before:
        write_file(file, after)
