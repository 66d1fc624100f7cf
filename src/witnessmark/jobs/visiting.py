"""The jobs `visits` and `visited`: the pages for a trip, and what was done on it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from pathlib import Path

from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.visits.leaving import leaving_document
from witnessmark.documents.visits.trip import Shown, Shows, trip_document
from witnessmark.files.class_folder.groups_text import ClassGroup
from witnessmark.files.class_folder.traces import VISITS
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import Documents, as_file_name
from witnessmark.jobs.figures import figure_of
from witnessmark.jobs.opened import alone
from witnessmark.jobs.opened_year import OpenedYear, open_year
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Sheet
from witnessmark.review.year.chances import Chance
from witnessmark.review.year.history import Visit
from witnessmark.review.year.needs import Need, needs_of
from witnessmark.review.year.trip import MOST_NEEDS, Trip, trip_of
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.faults import Fault
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class VisitsWritten:
    """The trip, and the files to open; `faults` are documents that could not be made."""

    trip: Trip
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Visited:
    """What was kept of a visit."""

    visits: tuple[Visit, ...]


def visits(class_path: Path, which: str) -> VisitsWritten:
    """Write the pages of the visits of a day (2027-03-05), or of one group; raises ProblemsFound."""
    with alone(class_path, "visits"):
        found = open_year(class_path)
        trip = _trip(found, class_path, which)
        made = _pages(found, trip)
        write_together(class_path, made.files)
        files = tuple(class_path / VISITS / f"{_name(trip)}{ending}" for ending in (".pdf", ".html"))
        return VisitsWritten(trip, files, tuple(made.faults))


def trip_files(found: OpenedYear, name: str) -> Documents:
    """The pages of the visits that were written under this name (a day, or a group as a file's name); raises
    ProblemsFound where nobody is visited any more."""
    groups = {as_file_name(group): group for group in found.year.groups if group}
    return _pages(found, _trip(found, found.opened.path, groups.get(name, name)))


def _trip(found: OpenedYear, class_path: Path, which: str) -> Trip:
    groups, day = _groups(found, class_path, which)
    return trip_of(found.year, needs_of(found.recurrences), found.misconceptions, groups, day)


def _name(trip: Trip) -> str:
    return trip.day.isoformat() if trip.day else as_file_name(trip.stops[0].group)


def _groups(found: OpenedYear, path: Path, which: str) -> tuple[Sequence[tuple[str, str]], date | None]:
    """The groups to go to, each with its place, and the day where one was named."""
    places = found.opened.folder.groups
    try:
        day = date.fromisoformat(which)
    except ValueError:
        return [(name := _group(found, path, which), _place(places, name))], None
    there = [(name, group.place) for name, group in places.items() if day in group.visits]
    if not there:
        days = sorted({d.isoformat() for group in places.values() for d in group.visits})
        remedy = f"visits are planned on {', '.join(days)}" if days else "write groups: with place and visits there"
        where = Place(str(path / "class.yaml"))
        raise ProblemsFound([Problem("no-visit", where, "a day on which a group is visited", which, remedy)])
    return there, day


def _group(found: OpenedYear, path: Path, typed: str) -> str:
    names = [name for name in found.year.groups if name]
    alike = [name for name in names if name.casefold() == typed.strip().casefold()]
    if alike:
        return alike[0]
    where = Place(str(path / "students.csv"))
    expected = "a day such as 2027-03-05, or a group of the class"
    raise ProblemsFound([Problem("no-group", where, expected, f"'{typed}'", near_or_all(typed, names))])


def _place(places: Mapping[str, ClassGroup], name: str) -> str:
    return places[name].place if name in places else ""


def _pages(found: OpenedYear, trip: Trip) -> Documents:
    """The page of the trip for paper and for a telephone, and one to leave with each student."""
    shows, name = _shows(found, trip), _name(trip)
    made = Documents()
    document = trip_document(trip, found.misconceptions, shows)
    made.add(f"{VISITS}/{name}.pdf", lambda: pdf_of(document))
    made.add(f"{VISITS}/{name}.html", lambda: html_of(document).encode())
    for stop in trip.stops:
        for seeing in stop.students:
            page = leaving_document(seeing, trip, found.misconceptions, shows)
            made.add(f"{VISITS}/{name}/{seeing.student.code}.pdf", partial(pdf_of, page), seeing.student)
    return made


def _shows(found: OpenedYear, trip: Trip) -> Shows:
    sheets = {sheet.code: sheet for task in found.year.tasks for sheet in task.sheets}
    return {
        (seeing.student.code, need.key): _shown(found, sheets[need.last.sheet], need.last)
        for stop in trip.stops
        for seeing in stop.students
        for need in seeing.needs
    }


def _shown(found: OpenedYear, sheet: Sheet, chance: Chance) -> Shown:
    variant = next(v for v in sheet.variants if v.question.key == chance.question)
    figure = figure_of(variant, found.bank.figures_path)
    return Shown(variant.question.title, figure, filled(variant.question.caution, variant))


def visited(
    class_path: Path, whom: str, day: date, who: str, note: str, now: datetime, took_up: Sequence[str] = ()
) -> Visited:
    """Keep what was done with a student (code) or a whole group; one step that `undo` can take back.

    Without `took_up`, what the page of the visit proposed for each student is what was taken up. Raises ProblemsFound.
    """
    with alone(class_path, "visited", now):
        found = open_year(class_path)
        needs = needs_of(found.recurrences)
        unknown = [key for key in took_up if key not in found.misconceptions]
        if unknown:
            remedy = near_or_all(unknown[0], found.misconceptions)
            where, expected = Place(str(class_path)), "a misconception of the bank"
            raise ProblemsFound([Problem("unknown-misconception", where, expected, f"'{unknown[0]}'", remedy)])
        new = tuple(
            Visit(code, day, tuple(took_up) or _proposed(needs.get(code, ())), note, who)
            for code in _codes(found, class_path, whom)
        )
        with found.opened.record() as record, record.step("visited", "", now, who):
            record.add_visits(new, now)
        return Visited(new)


def _proposed(needs: Sequence[Need]) -> tuple[str, ...]:
    return tuple(need.key for need in needs[:MOST_NEEDS])


def _codes(found: OpenedYear, path: Path, whom: str) -> list[str]:
    if whom in {student.code for student in found.year.students}:
        return [whom]
    group = _group(found, path, whom)
    return [student.code for student in found.year.students if student.group == group]
