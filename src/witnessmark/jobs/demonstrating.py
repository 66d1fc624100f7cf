"""The job `demo`: a term of an invented class, with returned books and typed tables that are real files kept in the
package: a task, its follow-up, a visit, a second task, and a review of what became of it all."""

import shutil
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from witnessmark.documents.page.wordings import date_text
from witnessmark.files.class_folder.folder import read_class, start_class
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import Marked, mark
from witnessmark.jobs.noting import note
from witnessmark.jobs.opened import Progress, no_progress
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.jobs.reviewing_year import review_of_year
from witnessmark.jobs.starting import PACKAGE, starter_bank
from witnessmark.jobs.visiting import VisitsWritten, visited, visits
from witnessmark.review.class_review import ClassReview
from witnessmark.review.sentences import accept_command
from witnessmark.review.shared_methods import SharedMethod
from witnessmark.words.problems import Problem

DEMO = PACKAGE / "demo"
TASK = "winter-1"
TITLE = "Boatbuilding, first year"
ISSUED = datetime(2027, 1, 4, 9, tzinfo=UTC)
BACK = datetime(2027, 1, 25, 9, tzinfo=UTC)
TRIP = date(2027, 2, 12)
EVENING = datetime(2027, 2, 12, 18, tzinfo=UTC)
FOLLOW_UP, FOLLOW_UP_BACK = "winter-1-follow-up", datetime(2027, 2, 22, 9, tzinfo=UTC)
SECOND, SECOND_ISSUED = "winter-2", datetime(2027, 3, 1, 9, tzinfo=UTC)
SECOND_BACK = datetime(2027, 3, 22, 9, tzinfo=UTC)
WHO = "K. Lund"
DONE = {
    "Hat Box Boats": "Rolled a punched disc along a ruler; cut a pin of clay between two straps and counted the faces",
    "Lost Whistle Works": "The same with clay and straps; each rolled the disc",
}
NOTED = "SC04"


@dataclass(frozen=True, slots=True)
class Demonstrated:
    """What the demo did, sentence by sentence, the problems it met on purpose, and what to open."""

    story: tuple[str, ...]
    problems: tuple[Problem, ...]
    files: tuple[Path, ...]


def begin(folder: Path) -> None:
    """The demo's class folder, made anew: students, task, nothing issued.

    An earlier demo in this folder is replaced; raises ProblemsFound when the folder holds anything else.
    """
    if _is_demo(folder):
        shutil.rmtree(folder)
    start_class(folder, TITLE, starter_bank(), ISSUED)
    with (folder / "class.yaml").open("a", encoding="utf-8") as settings:
        settings.write((DEMO / "groups.yaml").read_text(encoding="utf-8"))
    shutil.copyfile(DEMO / "students.csv", folder / "students.csv")
    for task in (DEMO / "tasks").glob("*.yaml"):
        shutil.copyfile(task, folder / "tasks" / task.name)


def _is_demo(folder: Path) -> bool:
    """True of a class that an earlier demo made, by its title and its list of invented students."""
    students = folder / "students.csv"
    if not (folder / "class.yaml").is_file() or not students.is_file():
        return False
    same = students.read_bytes() == (DEMO / "students.csv").read_bytes()
    return same and read_class(folder).title == TITLE


def demo(folder: Path, progress: Progress = no_progress) -> Demonstrated:
    """Live through the term; the same bytes at every run."""
    begin(folder)
    issued = issue(folder, TASK, ISSUED, progress)
    marked = take_in_books(folder, progress)
    returned = return_feedback(folder, TASK, BACK, progress)
    reviewed = review(folder, TASK)
    trip = visits(folder, TRIP.isoformat())
    for group, what in DONE.items():
        visited(folder, group, TRIP, WHO, what, EVENING)
    followed = follow_up(folder, TASK, EVENING)
    term = _rest_of_term(folder, progress)
    found = reviewed.review
    first = returned.sheets[0].student.code
    story = (
        f"{TITLE}: {len(issued.new)} apprentices at 5 yards, task {TASK} issued on {date_text(ISSUED.date())}",
        f"{marked.taken_in} answer books taken in, {len(marked.problems)} files with problems (listed above)",
        f"{len(marked.outcomes)} sheets marked, {marked.waiting} answers wait in the in-tray",
        f"{len(found.recurrences)} misconceptions seen; most often {_first(found)}",
        *(_shared(m, folder) for m in found.searched.shared),
        _trip(trip),
        f"{len(followed.new)} follow-up sheets that evening, each aimed at what one apprentice showed",
        *term.story,
    )
    files = (
        *issued.files,
        returned.feedback / f"{first}.pdf",
        returned.gradebook,
        reviewed.page,
        *trip.files,
        *followed.files,
        *term.files,
    )
    return Demonstrated(story, marked.problems, files)


def take_in_books(folder: Path, progress: Progress = no_progress) -> Marked:
    """Take in the answer books of the first task, and mark it."""
    for book in sorted((DEMO / "returned").iterdir()):
        shutil.copyfile(book, folder / "returned" / TASK / book.name)
    return mark(folder, TASK, BACK, None, progress)


def _rest_of_term(folder: Path, progress: Progress) -> Demonstrated:
    """The follow-up and a second task come back on paper and are typed in; what faded."""
    again = mark(folder, FOLLOW_UP, FOLLOW_UP_BACK, DEMO / "typed" / f"{FOLLOW_UP}.csv", progress)
    issue(folder, SECOND, SECOND_ISSUED, progress)
    second = mark(folder, SECOND, SECOND_BACK, DEMO / "typed" / f"{SECOND}.csv", progress)
    year, told = review_of_year(folder), note(folder, NOTED, SECOND_BACK.date())
    faded = [one for one in year.review.faded if one.is_finding and one.counts.before_only > one.counts.after_only]
    story = (
        f"{len(again.outcomes)} of these sheets came back on paper, and {len(second.outcomes)} of {SECOND}",
        f"faded since: {', '.join(one.key for one in faded) or 'nothing yet'}; a note on {NOTED} to edit and send",
    )
    return Demonstrated(story, (), (*year.files, told.file))


def _first(found: ClassReview) -> str:
    recurrences = found.recurrences
    return f"{recurrences[0].misconception.key} ({len(recurrences[0].students)} students)" if recurrences else "none"


def _trip(written: VisitsWritten) -> str:
    trip = written.trip
    people = sum(len(stop.students) for stop in trip.stops)
    day = date_text(trip.day) if trip.day else ""
    return f"{day}: {people} apprentices to see at {len(trip.stops)} yards, {len(trip.kit)} things to take along"


def _shared(method: SharedMethod, folder: Path) -> str:
    students = f"{method.label}: {len(method.who)} students share a method that no question knows, {method.answer}"
    return f"{students}; {accept_command(method, str(folder), TASK)}"
