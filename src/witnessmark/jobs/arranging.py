"""The jobs about one student's year: more time, an excuse, a day of receiving, leaving, another group.

Each is one step that `undo` takes back, with who and why; what was arranged before stays told.
"""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from witnessmark.jobs.decision import Decision
from witnessmark.jobs.moderating import sheet_of
from witnessmark.jobs.opened import RECORD, Opened, alone, open_class
from witnessmark.questions.sheet.arranged import Arrangement, Arranging, Excuse
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import there_are
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be arranged: the kind, its task (empty for the class), student, value (None: no longer), sheet."""

    kind: Arranging
    task: str
    student: str
    value: str | None
    sheet: str = ""


@dataclass(frozen=True, slots=True)
class NowArranged:
    """What stands now for a student: the value, empty where it stands no longer; `changed` is False where it did so
    already."""

    kind: Arranging
    task: str
    student: str
    value: str
    changed: bool
    sheet: str = ""


def extend(class_path: Path, task: str, student: str, until: date | None, decision: Decision) -> NowArranged:
    """Give one student another day for a task; None takes it back. Raises ProblemsFound for an unknown task or
    student."""
    value = until.isoformat() if until else None
    return _arrange(class_path, "extend", decision, lambda opened, record: Wanted(
        Arranging.EXTENDED, _task(record, class_path, task), student_code(opened, record, class_path, student), value
    ))  # fmt: skip


def excuse(class_path: Path, task: str, student: str, why_out: Excuse | None, decision: Decision) -> NowArranged:
    """Leave a task out of one student's marks: while absent, or exempt for good; None takes it back."""
    value = why_out.value if why_out else None
    return _arrange(class_path, "excuse", decision, lambda opened, record: Wanted(
        Arranging.EXCUSED, _task(record, class_path, task), student_code(opened, record, class_path, student), value
    ))  # fmt: skip


def receive(class_path: Path, sheet_code: str, on: date | None, decision: Decision) -> NowArranged:
    """Say on which day a sheet came in, where it was taken in on another; None: the day of taking in counts again."""

    def wanted(_: Opened, record: Record) -> Wanted:
        sheet = sheet_of(record, class_path, sheet_code)
        value = on.isoformat() if on else None
        return Wanted(Arranging.RECEIVED, sheet.task.key, sheet.student.code, value, sheet.code)

    return _arrange(class_path, "received", decision, wanted)


def leave(class_path: Path, student: str, on: date | None, decision: Decision) -> NowArranged:
    """Note that a student left the class on a day: no further sheets, and no marks for what was not handed in."""
    value = on.isoformat() if on else None
    return _arrange(class_path, "leave", decision, lambda opened, record: Wanted(
        Arranging.LEFT, "", student_code(opened, record, class_path, student), value
    ))  # fmt: skip


def change_group(class_path: Path, student: str, group: str, decision: Decision) -> NowArranged:
    """Put a student into another group from now on; without a name the group of students.csv holds again."""
    return _arrange(class_path, "group", decision, lambda opened, record: Wanted(
        Arranging.GROUP, "", student_code(opened, record, class_path, student), " ".join(group.split()) or None
    ))  # fmt: skip


def arranged_for(class_path: Path, student: str) -> tuple[Arrangement, ...]:
    """What stands arranged for a student; marks of a second teacher are no arrangement with the student."""
    opened = open_class(class_path)
    if not (class_path / RECORD).is_file():
        return ()
    with opened.record() as record:
        every = record.arranged().all
    return tuple(one for one in every if one.student == student and one.kind is not Arranging.SECOND)


def seal_of(class_path: Path, student: str) -> str:
    """What tells whether another thing was arranged for a student since."""
    return hashlib.sha256(repr(arranged_for(class_path, student)).encode()).hexdigest()


def _arrange(
    class_path: Path, command: str, decision: Decision, find: Callable[[Opened, Record], Wanted]
) -> NowArranged:
    who, why, now = decision.who, decision.why, decision.now
    with alone(class_path, command, now):
        opened = open_class(class_path)
        with opened.record() as record:
            new = find(opened, record)
            with record.step(command, new.task, now, who):
                if new.value is None:
                    changed = record.drop_arrangement(new.kind, new.task, new.student, who, why, now, new.sheet)
                else:
                    kept = Arrangement(new.kind, new.task, new.student, new.value, who, why, now, new.sheet)
                    changed = record.arrange(kept)
    return NowArranged(new.kind, new.task, new.student, new.value or "", changed, new.sheet)


def _task(record: Record, class_path: Path, key: str) -> str:
    known = record.tasks()
    if key in known:
        return key
    remedy = there_are(key, known)
    raise ProblemsFound([Problem("no-task", Place(str(class_path)), "a task that was issued", key, remedy)])


def student_code(opened: Opened, record: Record, class_path: Path, typed: str) -> str:
    """The code of a student of the list or the record, as it is written there."""
    known = {s.code: None for s in opened.students}
    known |= {sheet.student.code: None for task in record.tasks() for sheet in record.sheets(task)}
    found = next((code for code in known if code.casefold() == typed.casefold()), None)
    if found is not None:
        return found
    remedy = there_are(typed, known)
    raise ProblemsFound([Problem("no-student", Place(str(class_path)), "the code of a student", f"'{typed}'", remedy)])
