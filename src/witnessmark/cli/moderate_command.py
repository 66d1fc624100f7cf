"""The command `moderate`: one answer, or all that was typed into a gradebook."""

from pathlib import Path
from typing import TypedDict, Unpack

import click

from witnessmark.cli import shared
from witnessmark.cli.output import run
from witnessmark.cli.shared import CLASS, for_all


class Moderation(TypedDict):
    """The options of `moderate`."""

    marks: str
    withdraw: bool
    say: str
    why: str
    who: str
    task: str
    apply: bool


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("sheet", metavar="SHEET|STUDENT|FILE")
@click.argument("answer", required=False, default="")
@click.option("--marks", default="", help="The marks you give: 2, 1.5 or 1½.")
@click.option("--withdraw", is_flag=True, help="Take your own mark back, so that the machine's stands.")
@click.option("--say", default="", help="Words for the student; they stand in the feedback.")
@click.option("--why", default="", help="The reason, for the record; of a FILE, where a row has none of its own.")
@click.option("--who", default="", help="Who decides; needed for all that is written.")
@click.option("--task", default="", help="The task, where a student's code names several sheets.")
@click.option("--apply", is_flag=True, help="Give the marks of a FILE; without this they are only shown.")
@for_all
def moderate(folder: Path, sheet: str, answer: str, as_json: bool, **options: Unpack[Moderation]) -> None:
    """Change the mark of one ANSWER, or read a gradebook back.

    SHEET is the code at the head of a sheet, STUDENT a code of the class, ANSWER a label such as 1a.

    FILE is a gradebook (.xlsx or .ods) with your marks in its green columns: every mark that would change is shown, and
    given with --apply; a cell that cannot be is named, and its mark stays as it is.
    """
    if answer:
        _one(folder, sheet, answer, as_json, options)
    else:
        _file(folder, Path(sheet), as_json, options)


def _one(folder: Path, sheet: str, answer: str, as_json: bool, options: Moderation) -> None:
    if bool(options["marks"]) == options["withdraw"]:
        raise click.UsageError("Give one of --marks and --withdraw.")
    if options["apply"]:
        raise click.UsageError("--apply goes with a FILE; one answer is changed at once.")
    if missing := [name for name in ("--why", "--who") if not options["why" if name == "--why" else "who"]]:
        raise click.UsageError(f"Missing option {' and '.join(missing)}.")
    from witnessmark.jobs import moderating

    why, who, also = options["why"], options["who"], moderating.Also(options["say"], options["task"])
    if options["withdraw"]:
        run("moderate", as_json, lambda shown: shown.moderated(
            moderating.withdraw(folder, sheet, answer, why, who, shared.now(), also)))  # fmt: skip
        return
    run("moderate", as_json, lambda shown: shown.moderated(
        moderating.moderate(folder, sheet, answer, options["marks"], why, who, shared.now(), also)))  # fmt: skip


def _file(folder: Path, file: Path, as_json: bool, options: Moderation) -> None:
    if options["marks"] or options["withdraw"] or options["say"]:
        raise click.UsageError("Name the ANSWER, such as 1a.")
    if options["apply"] and not options["who"]:
        raise click.UsageError("Missing option --who.")
    if not file.suffix and not file.exists():
        raise click.UsageError(f"Name the ANSWER of {file}, such as 1a, or a gradebook file.")
    from witnessmark.jobs import moderating_file

    teacher = moderating_file.Teacher(options["who"], options["why"], options["apply"], options["task"])
    run("moderate", as_json, lambda shown: shown.file_moderated(
        moderating_file.moderate_file(folder, file, teacher, shared.now())))  # fmt: skip
