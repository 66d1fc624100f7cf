"""A student's own page: every sheet, what came back of it, what was given, what was told; and a note to write."""

from witnessmark.desk.acts.year import write_note
from witnessmark.desk.rooms.room import Room, begun
from witnessmark.desk.visit import Page, Reply, Visit
from witnessmark.desk.words import N_, _
from witnessmark.jobs.arranging import arranged_for, seal_of
from witnessmark.jobs.documents import file_name_of
from witnessmark.jobs.listing_students import students_of
from witnessmark.jobs.opened import RECORD
from witnessmark.jobs.telling_history import History, SheetStory, history
from witnessmark.questions.sheet.arranged import Arranging
from witnessmark.questions.sheet.task import Student
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem

SAID = {
    Arranging.EXTENDED: N_("more time"), Arranging.EXCUSED: N_("left out of the marks"),
    Arranging.ATTEMPT: N_("set again"),
    Arranging.RECEIVED: N_("came in on"), Arranging.LEFT: N_("left on"), Arranging.GROUP: N_("group"),
}  # fmt: skip


def show_student(visit: Visit) -> Reply:
    """Everything about one student."""
    student, told = _student(visit), _history(visit)
    files = {sheet.sheet: _files(visit, sheet) for sheet in told.sheets}
    return Page("student", {
        "student": student, "told": told, "files": files, "arranged": arranged_for(visit.class_path, student.code),
        "said": {kind: _(words) for kind, words in SAID.items()}, "seal": seal_of(visit.class_path, student.code),
    })  # fmt: skip


def write(visit: Visit) -> Reply:
    """A progress note, for the student or for whoever supports them at the yard."""
    student = _student(visit)
    title = _("Note for {student}").format(student=student.code)
    day, for_yard, with_marks = visit.now.date(), visit.text("yard") == "yes", visit.text("marks") == "yes"
    return begun(visit, title, write_note, visit.class_path, student.code, day, for_yard, with_marks)


def _student(visit: Visit) -> Student:
    students = {student.code: student for student in students_of(visit.class_path).students}
    code = visit.way["student"]
    if code not in students:
        expected, remedy = _("a student of the list"), near_or_all(code, students)
        raise ProblemsFound([Problem("no-student", Place("students.csv"), expected, f"'{code}'", remedy)])
    return students[code]


def _history(visit: Visit) -> History:
    """The story of the student; an empty one where no sheet was issued yet."""
    if not (visit.class_path / RECORD).is_file():
        return History(visit.way["student"], ())
    try:
        return history(visit.class_path, visit.way["student"])
    except ProblemsFound:
        return History(visit.way["student"], ())


def _files(visit: Visit, sheet: SheetStory) -> list[tuple[str, tuple[str, ...]]]:
    """What lies ready of a sheet: what it is, and the words of its address."""
    task, name = sheet.task, file_name_of(sheet.student, sheet.attempt)
    wanted = [
        (_("sheet"), ("issued", task, "sheets", f"{name}.pdf")),
        (_("answer book"), ("issued", task, "books", f"{name}.xlsx")),
        (_("page to fill in"), ("issued", task, "pages", f"{name}.html")),
        (_("feedback"), ("feedback", task, f"{name}.pdf")),
    ]
    return [(what, parts) for what, parts in wanted if visit.class_path.joinpath(*parts).is_file()]


ROOMS = (Room("/class/{klass}/students/{student}", show_student, write),)
