"""The list of students: shown, typed into or read from a file, looked at, and kept when nothing is wrong with it."""

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.files.safe.plain_text import LARGEST
from witnessmark.jobs.listing_students import StudentList, keep_students, look_at_students, students_of
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


def show_students(visit: Visit) -> Reply:
    """The list as it is kept; after a try, as it was sent, with each problem at its line."""
    kept = students_of(visit.class_path)
    sent = _sent(visit)
    seen = look_at_students(sent) if sent else kept
    seal = visit.text("seal") or kept.seal
    return Page("students", {"list": seen, "rows": _rows(seen), "seal": seal, "is_kept": not sent, "kept": kept})


def keep(visit: Visit) -> Reply:
    """The list that was sent, kept over the one that was shown."""
    sent = _sent(visit)
    if not sent or len(sent) > LARGEST:
        expected = _("a list of students of at most {n} bytes").format(n=LARGEST)
        remedy = _("choose a file, or type a line for each student")
        found = _("nothing") if not sent else f"{len(sent)}"
        raise ProblemsFound([Problem("no-students", Place(_("list")), expected, found, remedy)])
    keep_students(visit.class_path, sent, visit.text("seal"), visit.now)
    return Go(visit.at("students"))


def _sent(visit: Visit) -> bytes:
    """The file that was chosen, else what was typed, with the line ends of this machine."""
    if visit.files:
        return visit.files[0].data
    typed = visit.typed.get("list", [""])[-1]
    return typed.replace("\r\n", "\n").encode()


def _rows(seen: StudentList) -> list[tuple[int, str, list[Problem]]]:
    """Every line with its number and its problems; the first holds the headings."""
    lines = enumerate(seen.text.splitlines(), 1)
    return [(n, text, list(seen.problems_at(n))) for n, text in lines]


ROOMS = (Room("/class/{klass}/students", show_students, keep),)
