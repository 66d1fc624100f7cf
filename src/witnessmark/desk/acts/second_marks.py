"""A second teacher's marks: asked for, and taken in."""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from witnessmark.desk.spoken import marks, number
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done, Table
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.handing_in import HandedIn
from witnessmark.jobs.opened import Progress
from witnessmark.jobs.second_marking import SecondTaken, ask_second, take_second


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
