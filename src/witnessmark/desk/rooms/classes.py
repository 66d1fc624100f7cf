"""The first room: the classes in this folder, a new one; and a class as it stands, with what comes next."""

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.telling import step_words
from witnessmark.desk.visit import Go, Page, Reply, Visit, address
from witnessmark.desk.words import _
from witnessmark.jobs.handing_in import plain_name
from witnessmark.jobs.opened import alone
from witnessmark.jobs.overlooking import ClassStands, TaskStands, classes_in, last_step, overlook
from witnessmark.jobs.starting import own_bank, start
from witnessmark.jobs.undoing import undo
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def show_classes(visit: Visit) -> Reply:
    """All classes of the desk's folder."""
    only = visit.keeping.only
    found = [one for one in classes_in(visit.keeping.home) if only in ("", one[0])]
    return Page("classes", {"classes": found, "home": visit.keeping.home, "only": only})


def start_class(visit: Visit) -> Reply:
    """A new class: its folder is named after its title, unless another name is typed."""
    title = visit.text("title")
    name = plain_name(visit.text("folder").strip() or title)
    if visit.keeping.only:
        remedy = _("open the desk on the folder in which your classes lie")
        raise ProblemsFound(
            [Problem("one-class", Place(_("desk")), _("a desk of several classes"), _("of one"), remedy)]
        )
    if not title.strip():
        remedy = _("type what the class is called, such as Boatbuilding, first year")
        raise ProblemsFound([Problem("no-title", Place(_("title")), _("a title"), _("none"), remedy)])
    start(visit.keeping.home / name, title, own_bank(visit.keeping.home), visit.now)
    return Go(address("class", name, "students"))


def show_class(visit: Visit) -> Reply:
    """A class as it stands."""
    stands = overlook(visit.class_path)
    step = next_step(visit, stands)
    return Page("class", {"stands": stands, "next_step": step})


def take_back(visit: Visit) -> Reply:
    """The last step taken back, with a name and a reason; refused where another step came after the one shown."""
    with alone(visit.class_path, "undo"):
        last = last_step(visit.class_path)
        if last is None or str(last.number) != visit.text("step"):
            found = _("another, which came after it: {what}").format(what=step_words(last.what)) if last else _("none")
            remedy = _("look at what is the last step now")
            raise ProblemsFound([Problem("stale", Place(_("take back")), _("the step that was shown"), found, remedy)])
        undo(visit.class_path, visit.text("who"), visit.text("why"), visit.now)
    return Go(visit.at())


def next_step(visit: Visit, stands: ClassStands) -> tuple[str, str]:
    """What comes next in a class, in a sentence, and where that is done."""
    if stands.is_new:
        return _("Say who is in the class"), visit.at("students")
    if stands.problems:
        return _("Put the list of students in order"), visit.at("students")
    if not stands.tasks:
        return _("Set the first task: choose questions of the bank"), visit.at("set")
    return _of_task(visit, next((t for t in stands.tasks if not t.has_feedback), stands.tasks[0]))


def _of_task(visit: Visit, task: TaskStands) -> tuple[str, str]:
    if not task.is_issued:
        return _("Issue the sheets of {task}").format(task=task.key), visit.at("task", task.key)
    if not task.back:
        return _("Take in what comes back of {task}").format(task=task.key), visit.at("task", task.key, "back")
    if task.differ:
        return _("Choose between entries that differ in {task}").format(task=task.key), visit.at(
            "task", task.key, "back")  # fmt: skip
    if task.waiting:
        return _("Decide what waits in {task}").format(task=task.key), visit.at("task", task.key, "tray")
    return _("Return the marks of {task}").format(task=task.key), visit.at("task", task.key, "after")


ROOMS = (
    Room("/", show_classes, start_class),
    Room("/class/{klass}", show_class),
    Room("/class/{klass}/take-back", show_class, take_back),
)
