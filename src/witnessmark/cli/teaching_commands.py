"""The commands from marks to teaching: visits, follow-up, the next task, the year."""

from datetime import datetime
from pathlib import Path

import click

from witnessmark.cli import shared
from witnessmark.cli.output import run
from witnessmark.cli.review_lines import show_note
from witnessmark.cli.shared import CLASS, for_all, for_task


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("which", metavar="DATE|GROUP")
@for_all
def visits(folder: Path, which: str, as_json: bool) -> None:
    """Write the pages for the visits of a DATE, or for one GROUP.

    They say whom to see and for how long, what each showed, what to ask and to show, and what to carry for the whole
    trip. Groups, places and dates stand in class.yaml.
    """
    from witnessmark.jobs import visiting

    run("visits", as_json, lambda shown: shown.visits_written(visiting.visits(folder, which)))


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("whom", metavar="STUDENT|GROUP")
@click.option("--on", "day", type=click.DateTime(["%Y-%m-%d"]), help="The day of the visit (default: today).")
@click.option("--took-up", multiple=True, metavar="KEY", help="A misconception taken up (default: as proposed).")
@click.option("--note", default="", help="What was done, for the record.")
@click.option("--who", required=True, help="Who was there.")
@for_all
def visited(
    folder: Path, whom: str, day: datetime | None, took_up: tuple[str, ...], note: str, who: str, as_json: bool
) -> None:
    """Record what was done on a visit.

    It was with one STUDENT or a whole GROUP, and counts in the review of the year.
    """
    from witnessmark.jobs import visiting

    now = shared.now()
    run("visited", as_json, lambda shown: shown.visit_kept(
        visiting.visited(folder, whom, (day or now).date(), who, note, now, took_up)))  # fmt: skip


@click.command(name="follow-up")
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.option("--extension", is_flag=True, help="Also a harder question for each who showed nothing and did well.")
@for_all
def follow_up(folder: Path, task: str, extension: bool, as_json: bool) -> None:
    """Write a sheet for each who showed something in a TASK.

    It has a worked example, somebody else's working with the same fault to find, the case in which right and wrong
    lie farthest apart, and one plain question; no fault to find where the wrong number is of another kind. It is
    marked like a task, as TASK-follow-up.
    """
    from witnessmark.jobs import following_up

    run("follow-up", as_json, lambda shown: shown.followed_up(
        following_up.follow_up(folder, task, shared.now(), extension)))  # fmt: skip


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("key", metavar="NAME")
@click.option("--topic", default="", help="A topic of the bank (default: all).")
@click.option("--minutes", type=click.IntRange(5, 300), default=45, show_default=True, help="How long it may take.")
@click.option("--about", multiple=True, metavar="KEY", help="A misconception or family to find out about.")
@for_all
def plan(folder: Path, key: str, topic: str, minutes: int, about: tuple[str, ...], as_json: bool) -> None:
    """Propose the next task, NAME, and write its file to edit.

    In it are the questions that are expected to tell most of what is in doubt in this class, and why each is in.
    """
    from witnessmark.jobs import planning

    run("plan", as_json, lambda shown: shown.planned(planning.plan_task(folder, key, minutes, topic, about)))


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("student", metavar="STUDENT")
@click.option("--yard", is_flag=True, help="For whoever supports the student at the yard.")
@click.option("--marks", is_flag=True, help="With the marks of each task.")
@for_all
def note(folder: Path, student: str, yard: bool, marks: bool, as_json: bool) -> None:
    """Write a progress note for a STUDENT, to edit and send.

    It says in plain words what is secure and what to practise. A note that you edited stays; a fresh one is written
    beside it.
    """
    from witnessmark.jobs import noting

    run("note", as_json, lambda shown: show_note(
        shown, noting.note(folder, student, shared.now().date(), yard, marks)))  # fmt: skip


COMMANDS = (visits, visited, follow_up, plan, note)
