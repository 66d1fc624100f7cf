"""The commands of a year with students: more time, excuses, the day of receiving, leaving, another group."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from witnessmark.cli import shared, year_said
from witnessmark.cli.output import run
from witnessmark.cli.shared import ANYWHERE, CLASS, Day, deciding, for_all, for_task

if TYPE_CHECKING:
    from witnessmark.jobs.decision import Decision


class Decided(TypedDict):
    """The options of a decision."""

    who: str
    why: str
    as_json: bool


def _decision(who: str, why: str) -> "Decision":
    """Who decides and why, as typed, at this moment."""
    from witnessmark.jobs.decision import Decision

    return Decision(who, why, shared.now())


def _one_of_day_and_drop(day: date | None, drop: bool) -> None:
    if (day is None) != drop:
        raise click.UsageError("Give one of DAY and --drop.")


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("student")
@click.argument("day", type=Day(), required=False)
@click.option("--drop", is_flag=True, help="Take the extension back.")
@deciding
@for_all
def extend(folder: Path, task: str, student: str, day: date | None, drop: bool, **decided: Unpack[Decided]) -> None:
    """Give one STUDENT until another DAY (2027-03-12) for a TASK."""
    _one_of_day_and_drop(day, drop)
    from witnessmark.jobs import arranging

    decision = _decision(decided["who"], decided["why"])
    run("extend", decided["as_json"], lambda shown: shown.say(*year_said.arranged(
        arranging.extend(folder, task, student, day, decision))))  # fmt: skip


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("student")
@click.option("--absent", "as_what", flag_value="absent", help="Left out until something comes in.")
@click.option("--exempt", "as_what", flag_value="exempt", help="Left out for good, whatever comes in.")
@click.option("--drop", "as_what", flag_value="drop", help="Take the excuse back.")
@deciding
@for_all
def excuse(folder: Path, task: str, student: str, as_what: str | None, **decided: Unpack[Decided]) -> None:
    """Leave a TASK out of one STUDENT's marks: absent or exempt."""
    if as_what is None:
        raise click.UsageError("Give one of --absent, --exempt and --drop.")
    from witnessmark.jobs import arranging
    from witnessmark.questions.sheet.arranged import Excuse

    decision = _decision(decided["who"], decided["why"])
    why_out = None if as_what == "drop" else Excuse(as_what)
    run("excuse", decided["as_json"], lambda shown: shown.say(*year_said.arranged(
        arranging.excuse(folder, task, student, why_out, decision))))  # fmt: skip


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("sheet")
@click.argument("day", type=Day(), required=False)
@click.option("--drop", is_flag=True, help="Let the day of taking in count again.")
@deciding
@for_all
def received(folder: Path, sheet: str, day: date | None, drop: bool, **decided: Unpack[Decided]) -> None:
    """Say on which DAY a SHEET came in."""
    _one_of_day_and_drop(day, drop)
    from witnessmark.jobs import arranging

    decision = _decision(decided["who"], decided["why"])
    run("received", decided["as_json"], lambda shown: shown.say(*year_said.arranged(
        arranging.receive(folder, sheet, day, decision))))  # fmt: skip


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("student")
@click.argument("day", type=Day(), required=False)
@click.option("--drop", is_flag=True, help="The student did not leave.")
@deciding
@for_all
def leave(folder: Path, student: str, day: date | None, drop: bool, **decided: Unpack[Decided]) -> None:
    """Note that a STUDENT left the class on a DAY.

    No further sheet is drawn, and what was not handed in stays out of the marks. All that was kept stays.
    """
    _one_of_day_and_drop(day, drop)
    from witnessmark.jobs import arranging

    decision = _decision(decided["who"], decided["why"])
    run(
        "leave",
        decided["as_json"],
        lambda shown: shown.say(*year_said.arranged(arranging.leave(folder, student, day, decision))),
    )


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("student")
@click.argument("name", metavar="GROUP", default="")
@deciding
@for_all
def group(folder: Path, student: str, name: str, **decided: Unpack[Decided]) -> None:
    """Put a STUDENT into another GROUP from now on.

    Without a GROUP the one of students.csv holds again.
    """
    from witnessmark.jobs import arranging

    decision = _decision(decided["who"], decided["why"])
    run("group", decided["as_json"], lambda shown: shown.say(*year_said.arranged(
        arranging.change_group(folder, student, name, decision))))  # fmt: skip


class SettingAgain(Decided):
    """The options of `set-again`."""

    due: date | None
    all_students: bool
    repeats: bool


@click.command(name="set-again")
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("students", metavar="[STUDENT]...", nargs=-1)
@click.option("--all", "all_students", is_flag=True, help="For all who have a sheet.")
@click.option("--due", type=Day(), help="The day on which this attempt is due (2027-03-12).")
@click.option("--repeats", is_flag=True, help="Let students share numbers where a question has too few.")
@deciding
@for_all
def set_again(folder: Path, task: str, students: tuple[str, ...], **options: Unpack[SettingAgain]) -> None:
    """Set a TASK again, on fresh numbers, for some students or all.

    The task file says which attempt counts: best, last or mean.
    """
    if bool(students) == options["all_students"]:
        raise click.UsageError("Give one or more STUDENTs, or --all.")
    from witnessmark.jobs import setting_again

    decision = _decision(options["who"], options["why"])
    run("set-again", options["as_json"], lambda shown: shown.issued(setting_again.set_again(
        folder, task, students, options["due"], decision, shown.progress, options["repeats"],
        shared.crew_of())))  # fmt: skip


@click.command(name="print")
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("students", metavar="[STUDENT]...", nargs=-1)
@click.option("--group", "group_name", default="", help="The sheets of one group alone.")
@click.option("--both-sides/--one-side", default=None, help="Begin each sheet on paper of its own; kept for the class.")
@for_all
def print_(
    folder: Path, task: str, students: tuple[str, ...], group_name: str, both_sides: bool | None, as_json: bool
) -> None:
    """Write the issued sheets of a TASK into one PDF to print.

    All of them, those of one group, or of some STUDENTs: a lost sheet comes out as it was.
    """
    from witnessmark.jobs import printing

    wanted = printing.Wanted(students, group_name)
    run(
        "print",
        as_json,
        lambda shown: shown.say(*year_said.printed(printing.print_sheets(folder, task, wanted, both_sides))),
    )


@click.command(name="mark-book")
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.option("--oneroster", is_flag=True, help="Also as OneRoster 1.2 files in a zip; they hold names.")
@for_all
def mark_book(folder: Path, oneroster: bool, as_json: bool) -> None:
    """Write the mark book of a CLASS: all tasks with their weights.

    A workbook with live formulas, and a plain table (CSV).
    """
    from witnessmark.jobs import keeping_mark_book

    run("mark-book", as_json, lambda shown: shown.say(*year_said.mark_book(
        keeping_mark_book.keep_mark_book(folder, shared.now(), oneroster))))  # fmt: skip


class Seconding(TypedDict):
    """The options of `second`."""

    sample: int
    seed: int
    who: str
    why: str


@click.command(name="second")
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("file", type=ANYWHERE, required=False)
@click.option("--sample", type=click.IntRange(1), default=20, show_default=True, help="How many answers.")
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True, help="Another seed, another sample.")
@click.option("--who", default="", help="The second teacher; with FILE.")
@click.option("--why", default="", help="The occasion, for the record; with FILE.")
@for_all
def second_mark(folder: Path, task: str, file: Path | None, as_json: bool, **options: Unpack[Seconding]) -> None:
    """Have a sample of a TASK marked again by a second teacher.

    The second marks blind: without FILE a table of answers without anybody's marks is written. With it, filled in, the
    second marks are kept and the agreement is told: percent, and kappa with quadratic weights. No mark changes.
    """
    from witnessmark.jobs import second_marking

    if file is None:
        run("second", as_json, lambda shown: shown.say(*year_said.second_asked(
            second_marking.ask_second(folder, task, options["sample"], options["seed"]))))  # fmt: skip
        return
    decision = _decision(options["who"], options["why"])
    run("second", as_json, lambda shown: shown.say(*year_said.second_taken(
        second_marking.take_second(folder, task, file, decision))))  # fmt: skip


COMMANDS = (extend, excuse, received, leave, group, set_again, print_, mark_book, second_mark)
"""The commands of this module, in the order in which they are listed."""
