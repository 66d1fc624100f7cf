"""Marks returned, the review of a task, and what follows it."""

from datetime import datetime
from pathlib import Path

from witnessmark.desk.acts.faults import of_faults
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done, Way
from witnessmark.jobs.crew import every_core
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.opened import Progress
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review


def return_marks(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """Feedback for everybody who handed in, and the gradebook."""
    done = return_feedback(class_path, task, now, progress, every_core)
    told = [counted(len(done.sheets), "feedback for {n} student", "feedback for {n} students")]
    told += [_("kept, since you typed into it: {file}").format(file=one.path.name) for one in done.kept]
    return Done(tuple(told), of_faults(done.faults), (done.gradebook,), ("task", task, "after"))


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
    return Done(tuple(told), of_faults(found.searched.faults), (done.page,), onward, None, tuple(ways))


def follow_task(progress: Progress, class_path: Path, task: str, now: datetime) -> Done:
    """A sheet for each who showed something."""
    progress(_("sheets"), 0, 1)
    done = follow_up(class_path, task, now)
    told = [counted(len(done.new), "{n} sheet of follow-up, as the task {task}", "{n} sheets of follow-up, as the task"
                    " {task}").replace("{task}", done.task)]  # fmt: skip
    return Done(tuple(told), of_faults(done.faults), (), ("task", done.task))
