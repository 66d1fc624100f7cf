"""The works of the desk, each a job with what is said of it afterwards; they run in a process of their own."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from witnessmark.desk.spoken import marks, number
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done, Table, Way
from witnessmark.jobs.crew import every_core
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.handing_in import HandedIn
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.keeping_mark_book import keep_mark_book
from witnessmark.jobs.marking import CameOn, Marked, mark
from witnessmark.jobs.noting import note
from witnessmark.jobs.opened import Progress
from witnessmark.jobs.planning import plan_task
from witnessmark.jobs.printing import Wanted, print_sheets
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.jobs.reviewing_year import review_of_year
from witnessmark.jobs.second_marking import SecondTaken, ask_second, take_second
from witnessmark.jobs.setting_again import set_again
from witnessmark.jobs.visiting import visits
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Problem


def issue_sheets(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """A sheet for everybody who has none."""
    done = issue(class_path, task, now, progress, crew=every_core)
    new = counted(len(done.new), "{n} sheet issued now", "{n} sheets issued now")
    before = counted(len(done.before), "{n} before", "{n} before")
    kept = [_("kept, since it was typed into: {file}").format(file=one.path.name) for one in done.kept]
    problems = (*_of_faults(done.faults), *done.notes)
    return Done((f"{new}, {before}", *kept), problems, (), ("task", task))


def set_task_again(
    progress: Progress, class_path: Path, task: str, students: Sequence[str], due: date | None, decision: Decision,
    repeats: bool,
) -> Done:  # fmt: skip
    """A further sheet on fresh numbers for some students, or for all."""
    done = set_again(class_path, task, students, due, decision, progress, repeats, every_core)
    told = counted(len(done.new), "{n} further sheet on fresh numbers", "{n} further sheets on fresh numbers")
    return Done((told,), (*_of_faults(done.faults), *done.notes), (), ("task", task))


def ask_second_marks(progress: Progress, class_path: Path, task: str, count: int) -> Done:
    """A table of answers without marks, for a second teacher."""
    progress(_("answers"), 0, 1)
    done = ask_second(class_path, task, count, 1)
    told = _("{n} of {all} answers, without anybody's marks").format(n=done.answers, all=done.of)
    return Done((told,), (), (done.file,), ("task", task, "put-right"))


def take_second_marks(progress: Progress, class_path: Path, task: str, sent: HandedIn, decision: Decision) -> Done:
    """A second teacher's marks of a table that came back, and how far both agree."""
    progress(_("answers"), 0, 1)
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"second{Path(sent.name).suffix.lower()}"
        file.write_bytes(sent.data)
        done = take_second(class_path, task, file, decision)
    rows = tuple((one.sheet, one.label, marks(one.first), marks(one.second)) for one in done.differing)
    table = Table((_("Sheet"), _("Answer"), _("First"), _("Second")), rows) if rows else None
    return Done(tuple(_agreed(done)), (), (), ("task", task, "put-right"), table)


def _agreed(done: SecondTaken) -> Iterator[str]:
    yield counted(len(done.marks), "{n} answer was marked twice", "{n} answers were marked twice")
    if not done.changed:
        yield _("nothing of it is new")
    yield _("the same marks: {n}").format(n=len(done.marks) - len(done.differing))
    if done.agreement.kappa is not None:
        words = _("agreement beyond chance (kappa with quadratic weights): {k}")
        yield words.format(k=number(f"{done.agreement.kappa:.2f}"))
    yield _("no mark was changed")
    if done.differing:
        yield _("below is what to talk about, the widest apart first")


def print_all(progress: Progress, class_path: Path, task: str, wanted: Wanted, both_sides: bool) -> Done:
    """The sheets of a task in one file."""
    progress(_("pages"), 0, 1)
    done = print_sheets(class_path, task, wanted, both_sides)
    told = counted(len(done.sheets), "{n} sheet in one file", "{n} sheets in one file")
    return Done((told,), (), (done.file,), ("task", task))


def take_in(
    progress: Progress, class_path: Path, task: str, now: datetime, came: date | None, who: str, before: Done
) -> Done:
    """What lies in the folder of a task taken in and marked; `before` is what was said of putting it there."""
    done = mark(class_path, task, now, None, progress, None, CameOn(came, who) if came else None)
    problems = (*before.problems, *_not_chosen(done.problems), *_of_faults(done.faults), *done.notes)
    return Done((*before.told, *_marked(done)), problems, (), ("task", task, "back"))


def _not_chosen(problems: Sequence[Problem]) -> list[Problem]:
    """Without entries that differ, which stand side by side in a room of their own."""
    return [problem for problem in problems if problem.code != "entries-differ"]


def _marked(done: Marked) -> list[str]:
    told = [
        counted(done.taken_in, "{n} return read", "{n} returns read"),
        counted(done.added, "{n} answer more counts now", "{n} answers more count now"),
        _("{n} of {all} sheets are marked").format(n=len(done.outcomes), all=len(done.sheets)),
        counted(done.waiting, "{n} answer waits in the in-tray", "{n} answers wait in the in-tray"),
    ]
    if done.differences:
        told.append(counted(
            len(done.differences), "{n} entry differs from the one that counts; choose below",
            "{n} entries differ from those that count; choose below"))  # fmt: skip
    for one in done.fell:
        words = _("lower than before: {student}, {before} to {after} marks")
        told.append(words.format(student=one.student, before=one.before, after=one.after))
    gone = [_("no longer in the folder, and counts all the same: {file}").format(file=r.handed_in.file)
            for r in done.gone]  # fmt: skip
    return [*told, *gone]


def return_marks(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """Feedback for everybody who handed in, and the gradebook."""
    done = return_feedback(class_path, task, now, progress, every_core)
    told = [counted(len(done.sheets), "feedback for {n} student", "feedback for {n} students")]
    told += [_("kept, since you typed into it: {file}").format(file=one.path.name) for one in done.kept]
    return Done(tuple(told), _of_faults(done.faults), (done.gradebook,), ("task", task, "after"))


def review_task(progress: Progress, class_path: Path, task: str) -> Done:
    """The review of a task."""
    progress(_("review"), 0, 1)
    done = review(class_path, task)
    found = done.review
    told = [_("{n} of {all} came back").format(n=found.returned, all=found.issued)]
    for one in found.recurrences[:5]:
        shows = counted(len(one.students), "{n} student shows:", "{n} students show:")
        told.append(f"{shows} {one.misconception.believes or one.misconception.key}")
    told += [_("{answer}: {n} students share a method that no question knows").format(answer=m.label, n=len(m.who))
             for m in found.searched.shared]  # fmt: skip
    ways = [Way(_("Name the method at {answer}: {formula}").format(answer=m.label, formula=m.answer),
                ("task", task, "put-right"), (("answer", m.label), ("formula", m.answer)))
            for m in found.searched.shared]  # fmt: skip
    onward = ("task", task, "after")
    return Done(tuple(told), _of_faults(found.searched.faults), (done.page,), onward, None, tuple(ways))


def follow_task(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """A sheet for each who showed something."""
    progress(_("sheets"), 0, 1)
    done = follow_up(class_path, task, now)
    told = [counted(len(done.new), "{n} sheet of follow-up, as the task {task}", "{n} sheets of follow-up, as the task"
                    " {task}").replace("{task}", done.task)]  # fmt: skip
    return Done(tuple(told), _of_faults(done.faults), (), ("task", done.task))


def review_year(progress: Progress, class_path: Path, with_names: bool) -> Done:
    """The review of the year."""
    progress(_("review"), 0, 1)
    done = review_of_year(class_path, with_names)
    return Done((_("the review of the year is written"),), _of_faults(done.faults), done.files, ("year",))


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
    return Done(tuple(filter(None, (told, kit))), _of_faults(done.faults), done.files, ("year",))


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


def _of_faults(faults: Sequence[Fault]) -> tuple[Problem, ...]:
    return tuple(fault.problem(_("a document"), _("the others are written; please report it")) for fault in faults)
