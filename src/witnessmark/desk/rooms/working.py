"""Work that goes on: how far it is, and what came of it; it can be stopped."""

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.desk.works import Work
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

STILL_SECONDS = 1
LONGEST_ANSWER_SECONDS = 1.0


def show_work(visit: Visit) -> Reply:
    """A work as it is now; the page looks again by itself while it goes on.

    It lies still for a second, for who reads it or stops the work. What looks again at the same doing has its answer
    when the work has ended, or after another second.
    """
    work = _work(visit)
    if work.doing and visit.text("again") == work.doing:
        work.wait(LONGEST_ANSWER_SECONDS)
    files = [tuple(file.relative_to(visit.class_path).parts) for file in work.result.files] if work.result else []
    again = f"{STILL_SECONDS}; url={visit.at('work', str(work.number), again=work.doing)}"
    return Page("work", {"work": work, "files": files, "task": work.task, "again": again})


def stop(visit: Visit) -> Reply:
    """End it. What it had done stands wholly or not at all."""
    work = _work(visit)
    visit.keeping.works.stop(work.number)
    return Go(visit.at("work", str(work.number)))


def _work(visit: Visit) -> Work:
    number = visit.way["number"]
    work = visit.keeping.works.find(int(number)) if number.isdecimal() and len(number) < 10 else None
    if work is None or work.klass != visit.way["klass"]:
        remedy = _("what was done stands in the class; look there")
        raise ProblemsFound([Problem("no-work", Place(_("work")), _("work of this desk"), _("none"), remedy)])
    return work


ROOMS = (Room("/class/{klass}/work/{number}", show_work, stop),)
