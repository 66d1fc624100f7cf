"""The year: its review, the mark book, the next task proposed, the visits and what was done on them."""

from pathlib import Path

from witnessmark.desk.acts.year import plan_next, review_year, write_mark_book, write_visits
from witnessmark.desk.rooms.room import Room, begun
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.visiting import visited
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

WRITTEN = ("year.html", "year.pdf", "year-codes.html", "year-codes.pdf", "mark-book.xlsx", "mark-book.csv")
LEAST_MINUTES, MOST_MINUTES = 5, 300


def show_year(visit: Visit) -> Reply:
    """What can be written about the year, and what is."""
    opened = open_class(visit.class_path)
    groups = sorted({student.group for student in opened.students if student.group})
    days = sorted({day for group in opened.folder.groups.values() for day in group.visits})
    files = [(name,) for name in WRITTEN if (visit.class_path / name).is_file()]
    pages = [("visits", file.name) for file in sorted((visit.class_path / "visits").glob("*.pdf"))]
    return Page("year", {
        "groups": groups, "days": days, "files": files, "pages": pages, "topics": visit.bank.topics(),
        "today": visit.now.date(),
    })  # fmt: skip


def write(visit: Visit) -> Reply:
    """One of them written, in a process of its own."""
    path, what = Path(visit.class_path), visit.text("what")
    match what:
        case "review":
            return begun(visit, _("Review of the year"), review_year, path, visit.text("names") != "no")
        case "mark-book":
            return begun(visit, _("Mark book"), write_mark_book, path, visit.now)
        case "visits":
            which = visit.text("which")
            return begun(visit, _("Visits: {which}").format(which=which), write_visits, path, which)
        case "plan":
            asked = (visit.text("name").strip(), visit.text("topic"), _minutes(visit.text("minutes", "45")))
            return begun(visit, _("The next task, {name}").format(name=asked[0]), plan_next, path, *asked)
    raise ProblemsFound([Problem("unknown", Place(_("button")), _("one of the buttons"), what or _("none"))])


def _minutes(typed: str) -> int:
    if typed.strip().isdecimal() and LEAST_MINUTES <= int(typed) <= MOST_MINUTES:
        return int(typed)
    expected = _("whole minutes from {least} to {most}").format(least=LEAST_MINUTES, most=MOST_MINUTES)
    raise ProblemsFound([Problem("out-of-range", Place(_("minutes")), expected, f"'{typed}'")])


def keep_visit(visit: Visit) -> Reply:
    """What was done on a visit."""
    visited(visit.class_path, visit.text("whom"), visit.now.date(), visit.text("who"), visit.text("note"), visit.now)
    return Go(visit.at("year"))


ROOMS = (
    Room("/class/{klass}/year", show_year, write),
    Room("/class/{klass}/year/visited", show_year, keep_visit),
)
