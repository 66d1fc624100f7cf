"""The commands on the record of a class: its history, taking a step back, copies, export, removal."""

from pathlib import Path

import click

from witnessmark.cli import shared
from witnessmark.cli.output import run
from witnessmark.cli.shared import ANYWHERE, CLASS, for_all


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("student", metavar="STUDENT|SHEET")
@click.argument("answer", required=False, default="")
@for_all
def history(folder: Path, student: str, answer: str, as_json: bool) -> None:
    """Tell the story of a STUDENT, a SHEET or one ANSWER (such as 1a)."""
    from witnessmark.jobs import telling_history

    run("history", as_json, lambda shown: shown.told(telling_history.history(folder, student, answer)))


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.option("--who", required=True, help="Who decides.")
@click.option("--why", required=True, help="The reason, for the record.")
@for_all
def undo(folder: Path, who: str, why: str, as_json: bool) -> None:
    """Take back the last step of a class, with a reason.

    A step is a taking in, a moderation or an acceptance. What was taken back stays told in the record.
    """
    from witnessmark.jobs import undoing

    run("undo", as_json, lambda shown: shown.undone(undoing.undo(folder, who, why, shared.now())))


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("copy", required=False, default="")
@for_all
def restore(folder: Path, copy: str, as_json: bool) -> None:
    """List the copies of a record, or put a COPY in its place.

    A copy is made before each command that writes. The last ten are kept, and one of each week before.
    """
    from witnessmark.jobs import restoring

    run("restore", as_json, lambda shown: shown.restored(
        restoring.restore(folder, copy, shared.now()) if copy else restoring.listed(folder)))  # fmt: skip


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("file", type=ANYWHERE)
@click.option("--names", is_flag=True, help="With students' names; without it, their codes alone.")
@click.option("--student", default="", metavar="CODE", help="What is held of one student, for that student.")
@for_all
def export(folder: Path, file: Path, names: bool, student: str, as_json: bool) -> None:
    """Write a class's record into a FILE, as lines of JSON.

    With --student it is what is held of one student, by name, and others who are named in it are left out.
    """
    from witnessmark.jobs import exporting

    def done() -> exporting.Exported:
        return exporting.export_student(folder, file, student) if student else exporting.export(folder, file, names)

    run("export", as_json, lambda shown: shown.exported(done()))


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("student")
@click.option("--who", default="", help="Who decides; with --apply.")
@click.option("--apply", is_flag=True, help="Do it; without this it is only shown.")
@for_all
def remove(folder: Path, student: str, who: str, apply: bool, as_json: bool) -> None:
    """Remove all data of one STUDENT (a code), on request.

    Lists what would go, and touches nothing, unless --apply is given. Documents of the class that hold the student are
    written anew without. It cannot be undone.
    """
    from witnessmark.jobs import removing

    def done() -> removing.Removal:
        return removing.remove(folder, student, who, shared.now()) if apply else removing.planned(folder, student)

    run("remove", as_json, lambda shown: shown.removed(done()))
