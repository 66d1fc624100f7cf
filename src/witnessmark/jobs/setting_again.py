"""The job `set-again`: a further attempt at a task, on fresh numbers, for some students or for all.

Which attempt counts is for the task's rule. Taken back by `undo`, an attempt counts no longer; its sheet stays kept.
"""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from witnessmark.jobs.arranging import student_code
from witnessmark.jobs.crew import Crew, one_hand
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.issuing import Issued, drawn_sheets, write_issued
from witnessmark.jobs.opened import Opened, Progress, alone, no_progress, not_issued, open_class, read_task
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def set_again(
    class_path: Path, task_key: str, students: Sequence[str], due: date | None, decision: Decision,
    progress: Progress = no_progress, repeats: bool = False, crew: Crew = one_hand,
) -> Issued:  # fmt: skip
    """Draw a further sheet for these students (by code; none: for all who have one and did not leave), due on a day or
    on none, and write every file of the task anew, made by the crew.

    Raises ProblemsFound when the task was not issued, for unknown students, and where a question has too few variants.
    """
    with alone(class_path, "set-again", decision.now):
        opened = open_class(class_path)
        bank = opened.bank()
        task = read_task(opened, task_key, bank)
        with opened.record() as record:
            every, arranged = record.sheets(task.key), record.arranged()
            if not every:
                raise ProblemsFound([not_issued(class_path, task_key)])
            again = _next_attempts(opened, record, class_path, students, every)
            new = drawn_sheets(task, again, every, bank, class_path, repeats)

            def store() -> None:
                with record.step("set-again", task.key, decision.now, decision.who):
                    record.add_task(task, decision.now)
                    record.add_sheets(new, decision.now)
                    for sheet in new:
                        _arrange(record, task, sheet, due, decision)

            standing = [s for s in every if arranged.stands(task.key, s.student.code, s.code, s.attempt)]
            return write_issued(opened, task, new, standing, bank, progress, store, crew)


def _next_attempts(
    opened: Opened, record: Record, class_path: Path, students: Sequence[str], every: Sequence[Sheet]
) -> dict[Student, int]:
    """For each student the number of the attempt that comes next."""
    arranged = record.arranged()
    last: dict[str, Sheet] = {}
    for sheet in every:
        if sheet.student.code not in last or sheet.attempt > last[sheet.student.code].attempt:
            last[sheet.student.code] = sheet
    wanted = [student_code(opened, record, class_path, typed) for typed in students]
    strangers = [code for code in wanted if code not in last]
    if strangers:
        remedy = "give out the first sheet with witnessmark issue"
        expected = "a student who has a sheet of this task"
        raise ProblemsFound([Problem("no-sheet", Place(str(class_path)), expected, code, remedy) for code in strangers])
    codes = dict.fromkeys(wanted) or [code for code in last if arranged.left(code) is None]
    return {last[code].student: last[code].attempt + 1 for code in codes}


def _arrange(record: Record, task: Task, sheet: Sheet, due: date | None, decision: Decision) -> None:
    """The attempt stands, and has its day."""
    said = (decision.who, decision.why, decision.now, sheet.code)
    student = sheet.student.code
    record.arrange(Arrangement(Arranging.ATTEMPT, task.key, student, str(sheet.attempt), *said))
    if due is not None:
        record.arrange(Arrangement(Arranging.EXTENDED, task.key, student, due.isoformat(), *said))
