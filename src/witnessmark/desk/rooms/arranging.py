"""What a teacher arranges for one student: more time, an excuse, the day of receiving, leaving, another group; and the
student taken out of the class on request."""

from datetime import date

from witnessmark.desk.deciding import SEAL, remove_student
from witnessmark.desk.rooms.room import Room, begun, typed_day
from witnessmark.desk.rooms.student import show_student
from witnessmark.desk.visit import Go, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.jobs import arranging
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import alone
from witnessmark.questions.sheet.arranged import Arranging, Excuse
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def arrange(visit: Visit) -> Reply:
    """One thing arranged for a student, or taken back; refused where another stands than was shown."""
    with alone(visit.class_path, "arrange"):
        _refuse_stale(visit)
        _arrange(visit)
    return Go(visit.at("students", visit.way["student"]))


def _arrange(visit: Visit) -> None:
    path, code, task = visit.class_path, visit.way["student"], visit.text("task")
    decision = Decision(visit.who.strip(), visit.text("why"), visit.now)
    match visit.text("what"):
        case Arranging.EXTENDED:
            arranging.extend(path, task, code, _day(visit), decision)
        case Arranging.EXCUSED:
            arranging.excuse(path, task, code, _excuse(visit), decision)
        case Arranging.RECEIVED:
            arranging.receive(path, visit.text("sheet"), _day(visit), decision)
        case Arranging.LEFT:
            arranging.leave(path, code, _day(visit), decision)
        case Arranging.GROUP:
            arranging.change_group(path, code, "" if _drops(visit) else _group(visit), decision)
        case other:
            raise ProblemsFound([Problem("unknown", Place(_("button")), _("one of the buttons"), other or _("none"))])


def remove(visit: Visit) -> Reply:
    """What would go with a student, in a process of its own; taken out where that was shown."""
    code = visit.way["student"]
    seal = visit.text(SEAL)
    sent = ((SEAL, seal),) if seal else ()
    title = _("Removing {student}").format(student=code)
    return begun(visit, title, remove_student, visit.class_path, code, visit.who.strip(), visit.now, sent)


def _refuse_stale(visit: Visit) -> None:
    if visit.text("stands") != arranging.seal_of(visit.class_path, visit.way["student"]):
        found, remedy = _("something that was arranged since"), _("look at it once more, then decide")
        place = Place(visit.way["student"])
        raise ProblemsFound([Problem("stale", place, _("what stood when this page was shown"), found, remedy)])


def _drops(visit: Visit) -> bool:
    return visit.text("drop") == "yes"


def _day(visit: Visit) -> date | None:
    """The day that was typed; None where the arrangement is taken back."""
    if _drops(visit):
        return None
    day = typed_day(visit.text("day"))
    if day is None:
        raise ProblemsFound([Problem("no-date", Place(_("day")), _("a day of the calendar"), _("none"))])
    return day


def _excuse(visit: Visit) -> Excuse | None:
    if _drops(visit):
        return None
    if visit.text("as") in list(Excuse):
        return Excuse(visit.text("as"))
    raise ProblemsFound([Problem("unknown", Place(_("button")), _("absent or exempt"), f"'{visit.text('as')}'")])


def _group(visit: Visit) -> str:
    if visit.text("group").strip():
        return visit.text("group")
    remedy = _("type the name of the group, or take the other one back")
    raise ProblemsFound([Problem("no-group", Place(_("group")), _("a group"), _("none"), remedy)])


ROOMS = (
    Room("/class/{klass}/students/{student}/arrange", show_student, arrange),
    Room("/class/{klass}/students/{student}/remove", show_student, remove),
)
