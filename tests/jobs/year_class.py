"""A year of an invented class: several tasks and yards, what came late, more time, excuses, a second attempt, a
correction; and its marks moderated in the spreadsheet."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from jobs.moderation_books import fill
from jobs.small_class import BANK_FOLDER, hand_in, right_answers, write_students, write_task
from programs import convert
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.arranging import change_group, excuse, extend, leave
from witnessmark.jobs.correcting import Wanted, correct
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import CameOn, mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.moderating_file import FileModerated, Teacher, moderate_file
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.setting_again import set_again
from witnessmark.jobs.undoing import undo
from witnessmark.questions.checking.corrections import Changes
from witnessmark.questions.sheet.arranged import Excuse
from witnessmark.questions.sheet.task import Sheet

START = datetime(2027, 1, 4, 9, tzinfo=UTC)
END = datetime(2027, 12, 20, 9, tzinfo=UTC)
YARDS = ("Heron Boats", "Low Wharf", "North Slip", "Quay Lane Boats")
QUESTIONS = ("drain-hole", "clevis-pin", "bottle-jack", "air-receiver")
LATE = ("late: {marks off: 0.5, each: day, at most: 2}\n", "late: {share off: 0.1, each: week}\nweight: 2\n", "")


def clock() -> Iterator[datetime]:
    """A later time for each command, so that the journal tells them apart."""
    now = START
    while True:
        now += timedelta(minutes=1)
        yield now


def year_class(folder: Path, students: int, tasks: int) -> Path:
    """The whole year. The first student is late, the second has more time, the third is absent once, the fourth exempt
    and set again; the fifth changes the yard, and the last leaves and never hands in. A part of the second task turns
    out wrong and counts no longer."""
    start_class(folder, "First years", BANK_FOLDER, START)
    codes = [f"S{n:02}" for n in range(1, students + 1)]
    write_students(folder, [(c, f"Name {c}", YARDS[n % len(YARDS)]) for n, c in enumerate(codes)])
    now = clock()

    def said(why: str) -> Decision:
        return Decision("K. Lund", why, next(now))

    for n in range(1, tasks + 1):
        key, due = f"task-{n}", date(2027, 1, 4) + timedelta(days=28 * n)
        question = QUESTIONS[(n - 1) % len(QUESTIONS)]
        write_task(folder, f"[{question}]", key, f"{LATE[n % len(LATE)]}attempts: best\n")
        file = folder / "tasks" / f"{key}.yaml"
        file.write_text(file.read_text(encoding="utf-8").replace("2027-01-22", due.isoformat()), encoding="utf-8")
        issue(folder, key, next(now))
        first, second, third, fourth, fifth, last = (*codes[:5], codes[-1])
        if n == 1:
            extend(folder, key, second, due + timedelta(days=9), said("the ferry"))
            excuse(folder, key, third, Excuse.ABSENT, said("ill"))
            excuse(folder, key, fourth, Excuse.EXEMPT, said("did it elsewhere"))
        if n == 2:
            change_group(folder, fifth, YARDS[0], said("moved"))
            leave(folder, last, due, said("left"))
        sheets = sheets_by_code(folder, key)
        for code in codes[:-1]:
            if (code, n) not in ((third, 1), (fourth, 1)):
                answers = right_answers(sheets[code])
                if code == first:
                    answers |= {next(iter(answers)): "12 kN"}
                hand_in(folder, sheets[code], answers, task=key)
        day = due + timedelta(days=8 if n == 1 else -1)
        mark(folder, key, next(now), came=CameOn(day, "K. Lund"))
        if n == 2:
            correct(folder, key, Wanted("1b", Changes.OUT), said("the figure was cut off in print"))
        if n == 1:
            ask = sheets[first].asks[-1].label
            moderate(folder, sheets[first].code, ask, "0.5", "half of the sketch", "K. Lund", next(now))
            moderate(folder, sheets[second].code, ask, "0", "by mistake", "K. Lund", next(now))
            undo(folder, "K. Lund", "the wrong student", next(now))
            (again,) = set_again(folder, key, [first], due + timedelta(days=28), said("a second try")).new
            hand_in(folder, again, right_answers(again), "again.xlsx", task=key)
            mark(folder, key, next(now), came=CameOn(due + timedelta(days=20), "K. Lund"))
    return folder


def moderated_in_spreadsheets(folder: Path, soffice: Path, into: Path) -> tuple[FileModerated, ...]:
    """Two gradebooks filled in, saved by LibreOffice (one as xlsx, one as ods), and their marks given."""
    done = []
    for n, (task, suffix) in enumerate((("task-1", "xlsx"), ("task-2", "ods")), 1):
        at = END - timedelta(days=7 - n)
        (into / suffix).mkdir(parents=True)
        book = into / f"{task}.xlsx"
        book.write_bytes(return_feedback(folder, task, at).gradebook.read_bytes())
        fill(book, {
            ("S05", "1a"): {"your mark": "1½", "your reason": "on paper", "for the student": "Check the last line"},
            ("S06", "1a"): {"your mark": 2, "your reason": "the unit came later"},
        })  # fmt: skip
        saved = convert(soffice, book, suffix, into / suffix)
        done.append(moderate_file(folder, saved, Teacher("K. Lund", apply=True), at))
    return tuple(done)


def sheets_by_code(folder: Path, task: str) -> dict[str, Sheet]:
    """The first sheets of a task, by student code."""
    with open_class(folder).record() as record:
        return {sheet.student.code: sheet for sheet in record.sheets(task) if sheet.attempt == 1}
