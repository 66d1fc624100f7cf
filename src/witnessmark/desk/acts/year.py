"""What is written about the year, for a visit and for one student."""

from datetime import date, datetime
from pathlib import Path

from witnessmark.desk.acts.faults import of_faults
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done
from witnessmark.jobs.keeping_mark_book import keep_mark_book
from witnessmark.jobs.noting import note
from witnessmark.jobs.opened import Progress
from witnessmark.jobs.planning import plan_task
from witnessmark.jobs.reviewing_year import review_of_year
from witnessmark.jobs.visiting import visits


def review_year(progress: Progress, class_path: Path, with_names: bool) -> Done:
    """The review of the year."""
    progress(_("review"), 0, 1)
    done = review_of_year(class_path, with_names)
    return Done((_("the review of the year is written"),), of_faults(done.faults), done.files, ("year",))


def write_mark_book(progress: Progress, class_path: Path, now: datetime) -> Done:
    """The mark book: all tasks with their weights."""
    progress(_("mark book"), 0, 1)
    done = keep_mark_book(class_path, now, False)
    return Done((_("the mark book is written"),), (), tuple(done.files), ("year",))


def write_visits(progress: Progress, class_path: Path, which: str) -> Done:
    """The pages for the visits of a day or of one group."""
    progress(_("pages"), 0, 1)
    done = visits(class_path, which)
    people = sum(len(stop.students) for stop in done.trip.stops)
    told = counted(people, "{n} student to see", "{n} students to see")
    kit = _("to carry: {kit}").format(kit=", ".join(done.trip.kit)) if done.trip.kit else ""
    return Done(tuple(filter(None, (told, kit))), of_faults(done.faults), done.files, ("year",))


def plan_next(progress: Progress, class_path: Path, key: str, topic: str, minutes: int) -> Done:
    """A proposal for the next task, as its file."""
    progress(_("questions weighed"), 0, 1)
    done = plan_task(class_path, key, minutes, topic)
    told = [_("{task}: about {n} minutes").format(task=done.task, n=done.minutes)]
    told += [_("{title}, about {n} minutes").format(title=one.question.title, n=one.minutes) for one in done.chosen]
    return Done(tuple(told), (), (), ("task", done.task))


def write_note(progress: Progress, class_path: Path, code: str, day: date, for_yard: bool, with_marks: bool) -> Done:
    """A progress note for a student."""
    progress(_("note"), 0, 1)
    done = note(class_path, code, day, for_yard, with_marks)
    told = [_("the note is written, to edit and send")]
    told += [_("kept, since you edited it: {file}").format(file=one.path.name) for one in done.kept]
    return Done(tuple(told), (), (done.file,), ("students", code))
