"""The job `print`: the sheets of a task, of a group or of one student, as they were issued, in one PDF to print."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from witnessmark.documents.page.pdf import joined_pdf
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.class_folder.folder import CLASS, class_yaml_printing
from witnessmark.files.class_folder.traces import LONGEST_NAME, TO_PRINT, TO_PRINT_ALL
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import as_file_name
from witnessmark.jobs.figures import figures_of
from witnessmark.jobs.opened import Opened, alone, not_issued, open_class
from witnessmark.jobs.standings import read_task_standing
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record.record import Record
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import there_are
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class ToPrint:
    """The file to print, the sheets in it, in its order, whether it is for both sides of the paper, and whether that is
    new and now stands in class.yaml."""

    file: Path
    sheets: tuple[Sheet, ...]
    both_sides: bool = False
    is_new: bool = False


@dataclass(frozen=True, slots=True)
class Wanted:
    """Whose sheets: all, those of some students (by code), or of one group."""

    students: tuple[str, ...] = ()
    group: str = ""


def print_sheets(class_path: Path, task_key: str, wanted: Wanted, both_sides: bool | None = None) -> ToPrint:
    """Write the sheets that were issued, with the same numbers, code and figures, into one file, group by group; a
    sheet printed alone is the file that was issued. Printed on both sides, each begins on paper of its own; what is
    said of that is kept in class.yaml for the next time, None does as it says there.

    Raises ProblemsFound where the task was not issued, and for a student or group that has no sheet of it.
    """
    with alone(class_path, "print"):
        opened = open_class(class_path)
        with opened.record() as record:
            sheets = sheets_to_print(opened, record, task_key, wanted)
        both = opened.folder.both_sides if both_sides is None else both_sides
        settings = class_yaml_printing(class_path, both)
        file = opened.issued(task_key) / TO_PRINT / f"{printed_name(wanted)}.pdf"
        files = {file.relative_to(class_path).as_posix(): printed(opened, sheets, both)}
        write_together(class_path, files | ({CLASS: settings} if settings else {}))
        return ToPrint(file, sheets, both, settings is not None)


def sheets_to_print(opened: Opened, record: Record, task_key: str, wanted: Wanted) -> tuple[Sheet, ...]:
    """The sheets of a task, group by group; raises ProblemsFound as `print_sheets` does."""
    read = read_task_standing(record, task_key)
    if not read.sheets:
        raise ProblemsFound([not_issued(opened.path, task_key)])
    staying = [s for s in read.sheets if wanted.students or read.arranged.left(s.student.code) is None]
    return _chosen(opened.path, staying, wanted)


def printed(opened: Opened, sheets: Sequence[Sheet], both_sides: bool = False) -> bytes:
    """These sheets as one PDF."""
    figures = opened.bank().figures_path
    return joined_pdf([replace(sheet_document(s, figures_of(s, figures)), fresh_paper=both_sides) for s in sheets])


def _chosen(class_path: Path, sheets: Sequence[Sheet], wanted: Wanted) -> tuple[Sheet, ...]:
    ordered = sorted(sheets, key=lambda s: (s.student.group.casefold(), s.student.code, s.attempt))
    found = [s for s in ordered if not wanted.group or s.student.group.casefold() == wanted.group.casefold()]
    place = Place(str(class_path))
    if not found:
        remedy = there_are(wanted.group, [s.student.group for s in ordered])
        raise ProblemsFound([Problem("no-group", place, "a group with a sheet of this task", wanted.group, remedy)])
    known = {s.student.code.casefold() for s in found}
    strangers = [code for code in wanted.students if code.casefold() not in known]
    if strangers:
        remedy = there_are(strangers[0], [s.student.code for s in found])
        expected = "the code of a student with a sheet of this task"
        raise ProblemsFound([Problem("no-sheet", place, expected, code, remedy) for code in strangers])
    codes = {code.casefold() for code in wanted.students} or known
    return tuple(s for s in found if s.student.code.casefold() in codes)


def printed_name(wanted: Wanted) -> str:
    """What the file is called: all, the group, or the students."""
    words = (wanted.group, *wanted.students)
    return "-".join(as_file_name(word) for word in words if word)[:LONGEST_NAME] or TO_PRINT_ALL
