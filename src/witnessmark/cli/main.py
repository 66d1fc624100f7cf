"""The command line: each command in a few lines over its job. Nothing heavy is imported until a command runs."""

from datetime import date
from functools import partial
from pathlib import Path
from typing import TypedDict, Unpack

import click

from witnessmark.cli import (
    correct_command,
    desk_command,
    moderate_command,
    record_commands,
    shared,
    teaching_commands,
    year_commands,
)
from witnessmark.cli.output import Shown, run
from witnessmark.cli.review_lines import show_year
from witnessmark.cli.shared import ANYWHERE, CLASS, Day, for_all, for_task, for_task_or_year, with_crew


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="witnessmark")
def main() -> None:
    """Set individual calculation sheets, mark what comes back, and find the method behind a wrong answer.

    Exit codes: 0 clean, 1 problems found, 2 wrong usage. Every command takes --json.
    """


@main.command()
@click.argument("bank", type=CLASS)
@click.argument("question", metavar="TOPIC/KEY|FILE")
@for_all
def new(bank: Path, question: str, as_json: bool) -> None:
    """Write a question file to start from into a BANK.

    Named by its topic and key (shear/deck-bolt) or by the path of its file. Comments in it explain every key.
    """
    from witnessmark.jobs import authoring

    run("new", as_json, lambda shown: shown.begun(authoring.new_question(bank, question)))


@main.command()
@click.argument("source", metavar="BANK|FILE|CLASS", type=ANYWHERE)
@for_all
def check(source: Path, as_json: bool) -> None:
    """Report every problem of a bank, a question file or a class.

    Of a bank and a file it also tells how many variants there are, how many can be issued, and how far wrong methods
    lie apart; of a class, whether anything in its record was changed by other means.
    """
    from witnessmark.jobs import checking, verifying

    if verifying.is_class(source):
        run("check", as_json, lambda shown: shown.verified(verifying.verify(source)))
        return
    run("check", as_json, lambda shown: shown.checked(checking.check(source, shown.progress)))


@main.command()
@click.argument("source", metavar="FILE|BANK", type=ANYWHERE)
@click.argument("key", required=False, default="")
@click.option("--html/--pdf", default=True, help="A page for the browser, or a PDF.  [default: html]")
@click.option("--out", type=ANYWHERE, help="The file to write (default: exports/preview-KEY.html).")
@for_all
def preview(source: Path, key: str, html: bool, out: Path | None, as_json: bool) -> None:
    """Show one question in three variants, with working and slips.

    The page has the sheet, the working, and what each slip would earn.
    """
    from witnessmark.jobs import previewing

    run("preview", as_json, lambda shown: shown.previewed(previewing.preview(source, key, not html, out)))


@main.command()
@click.argument("source", metavar="BANK|FILE", type=ANYWHERE)
@click.argument("questions", nargs=-1)
@click.option(
    "--each", type=click.IntRange(1), default=12, show_default=True, help="Simulated students for every method."
)
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="The same seed gives the same students."
)
@click.option(
    "--bend",
    type=click.FloatRange(-1, 10),
    default=0.0,
    show_default=True,
    metavar="SHARE",
    help="Let students round otherwise than assumed: the shares of all but the leading habit of each kind "
    "times 1 + SHARE (0.5, -0.5).",
)
@click.option(
    "--classes",
    type=click.IntRange(0),
    default=0,
    show_default=True,
    help="Simulated classes for the class-wide search.",
)
@click.option(
    "--planted",
    type=click.IntRange(0),
    default=0,
    show_default=True,
    help="Wrong methods that no question lists, each planted in two classes of strangers for the class-wide search.",
)
@for_all
def trial(
    source: Path,
    questions: tuple[str, ...],
    each: int,
    seed: int,
    bend: float,
    classes: int,
    planted: int,
    as_json: bool,
) -> None:
    """Compare verdicts with the truth, on simulated students.

    Students of known method work a bank, some of its QUESTIONS, or one question file.
    """
    from witnessmark.jobs import trying

    run("trial", as_json, lambda shown: shown.tried(
        trying.try_out(source, questions, each, seed, bend, classes, planted, shown.progress)))  # fmt: skip


@main.command()
@click.argument("folder", type=CLASS)
@click.option("--title", required=True, help="The name of the class.")
@click.option("--bank", type=CLASS, default=Path("bank"), show_default=True, help="The bank to set questions from.")
@for_all
def start(folder: Path, title: str, bank: Path, as_json: bool) -> None:
    """Start a class folder, with a student list and a task to edit."""
    from witnessmark.jobs import starting

    run("start", as_json, lambda shown: shown.started(starting.start(folder, title, bank, shared.now())))


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.option("--repeats", is_flag=True, help="Let students share numbers where a question has too few.")
@with_crew
@for_all
def issue(folder: Path, task: str, repeats: bool, scheduler: str, as_json: bool) -> None:
    """Draw every student's own sheet of a TASK and write all files.

    These are the sheets, the answer books and one class table.
    """
    from witnessmark.jobs import issuing

    run("issue", as_json, lambda shown: shown.issued(
        issuing.issue(folder, task, shared.now(), shown.progress, repeats, shared.crew_of(scheduler))))  # fmt: skip


class Replacing(TypedDict):
    """The options of `mark` about what differs."""

    replace: bool
    who: str
    why: str
    scheduler: str


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("source", type=ANYWHERE, required=False)
@click.option("--received", type=Day(), help="The day it came in (2027-03-12), if not today.")
@click.option("--replace", is_flag=True, help="Let what is taken in now count where it differs.")
@click.option("--who", default="", help="Who decides; with --replace or --received.")
@click.option("--why", default="", help="The reason, for the record; with --replace.")
@with_crew
@for_all
def mark(
    folder: Path, task: str, source: Path | None, received: date | None, as_json: bool, **options: Unpack[Replacing]
) -> None:
    """Take in what was returned and mark a TASK.

    SOURCE is a folder of answer books, or one class table (a file). Without it the class's own folder returned/TASK is
    read. What is taken in adds to what was there; where an entry differs from the one that counts, nothing is replaced
    unless you say so with --replace.
    """
    from witnessmark.jobs import marking
    from witnessmark.jobs.decision import Decision

    deciding = Decision(options["who"], options["why"], shared.now()) if options["replace"] else None
    came = marking.CameOn(received, options["who"]) if received else None
    crew = shared.crew_of(options["scheduler"])
    run("mark", as_json, lambda shown: shown.marked(
        marking.mark(folder, task, shared.now(), source, shown.progress, deciding, came, crew)))  # fmt: skip


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.option("--save", type=CLASS, help="A folder for the files as they were received.")
@for_all
def returns(folder: Path, task: str, save: Path | None, as_json: bool) -> None:
    """List every return of a TASK and what of it counts.

    Entries that differ stand side by side, with the command that decides.
    """
    from witnessmark.jobs import listing_returns

    run("returns", as_json, lambda shown: shown.listed(listing_returns.list_returns(folder, task, shared.now(), save)))


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("sheet")
@click.argument("number", metavar="RETURN", type=click.IntRange(1))
@click.argument("answers", metavar="[ANSWER]...", nargs=-1)
@click.option("--who", required=True, help="Who decides.")
@click.option("--why", required=True, help="The reason, for the record.")
@for_all
def counts(folder: Path, sheet: str, number: int, answers: tuple[str, ...], who: str, why: str, as_json: bool) -> None:
    """Choose which RETURN of a SHEET counts, and mark again.

    Without an ANSWER (such as 1a) that return alone counts, also where it is blank.
    """
    from witnessmark.jobs import counting

    run("counts", as_json, lambda shown: shown.chosen(
        counting.choose(folder, sheet, number, answers, who, why, shared.now())))  # fmt: skip


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@click.argument("sheet")
@click.argument("answer")
@for_all
def explain(folder: Path, sheet: str, answer: str, as_json: bool) -> None:
    """Explain one ANSWER: what is accepted, what fitted, the mark.

    ANSWER is such as 1a, SHEET the code of the sheet.
    """
    from witnessmark.jobs import explaining

    run("explain", as_json, lambda shown: shown.explained(explaining.explain(folder, sheet, answer)))


@main.command(name="return")
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@with_crew
@for_all
def return_(folder: Path, task: str, scheduler: str, as_json: bool) -> None:
    """Write the feedback of a TASK, and the gradebook.

    Every student who handed in gets a feedback sheet. First it says how many answers still wait for you. A gradebook
    that you typed into stays, until moderate has read it.
    """
    from witnessmark.jobs import returning

    def act(shown: Shown) -> None:
        waits = returning.still_waiting(folder, task)
        shown.waits(waits)
        crew = shared.crew_of(scheduler)
        shown.returned(returning.return_feedback(folder, task, shared.now(), shown.progress, crew), waits)

    run("return", as_json, act)


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task_or_year
@click.option("--no-names", is_flag=True, help="Of the year: codes alone, for a meeting.")
@for_all
def review(folder: Path, task: str | None, no_names: bool, as_json: bool) -> None:
    """Write the review of a TASK, or without one of the year.

    Of a task it has the recurrence of misconceptions, wrong methods that no question knows yet and several students
    share, the facility of parts, and the in-tray. Of the year: who showed what of those who could, who shows it still,
    whether it faded, who needs the same, and what the parts of each task tell.
    """
    from witnessmark.jobs import reviewing, reviewing_year

    if task is None:
        run("review", as_json, lambda shown: show_year(shown, reviewing_year.review_of_year(folder, not no_names)))
    elif no_names:
        raise click.UsageError("--no-names is for the year: the review of a task has codes alone.")
    else:
        run("review", as_json, lambda shown: shown.reviewed(reviewing.review(folder, task)))


class Acceptance(TypedDict):
    """The options of `accept`."""

    formula: str
    found: int
    keeps: str
    say: str
    drops: bool
    who: str
    why: str
    apply: bool
    into_bank: bool


@main.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("answer")
@click.argument("misconception")
@click.option("--formula", default="", help="The wrong method, as in a question file.")
@click.option("--found", default=0, help="The number of a formula that the review found at this ANSWER.")
@click.option("--keeps", default="", help="The marks that it keeps.")
@click.option("--say", default="", help="What to look at, where the bank has not this MISCONCEPTION yet.")
@click.option("--drop", "drops", is_flag=True, help="Take back what was accepted.")
@click.option("--who", default="", help="Who decides; with --apply.")
@click.option("--why", default="", help="The reason, for the record; with --apply.")
@click.option("--apply", is_flag=True, help="Do it; without this it is only shown.")
@click.option("--into-bank", is_flag=True, help="Write it into the question's file of the bank as well.")
@for_all
def accept(
    folder: Path, task: str, answer: str, misconception: str, as_json: bool, **options: Unpack[Acceptance]
) -> None:
    """Accept a wrong method as a slip of a TASK that was issued.

    It becomes a slip at an ANSWER (such as 1a), under the key of a MISCONCEPTION.

    Shows every mark that would change and writes nothing, unless --apply is given.
    """
    if options["drops"] == bool(options["formula"] or options["found"]) or (options["formula"] and options["found"]):
        raise click.UsageError("Give one of --formula, --found and --drop.")
    if not options["drops"] and not options["keeps"]:
        raise click.UsageError("Give --keeps, the marks that the wrong method keeps.")
    from witnessmark.jobs import accepting
    from witnessmark.jobs.decision import Decision

    decision = Decision(options["who"], options["why"], shared.now(), options["apply"])
    proposed = accepting.Proposed(
        misconception, options["formula"], options["found"], options["keeps"], options["say"], options["into_bank"]
    )
    if options["drops"]:
        done = partial(accepting.drop, folder, task, answer, misconception, decision)
    else:
        done = partial(accepting.accept, folder, task, answer, proposed, decision)
    run("accept", as_json, lambda shown: shown.accepted(done()))


@main.command()
@click.argument("folder", type=CLASS, default=Path("exports/demo"))
@for_all
def demo(folder: Path, as_json: bool) -> None:
    """Do the whole job on an invented class, in FOLDER.

    It has 24 apprentices and lives through a term: two tasks, a follow-up, a visit, and what faded.
    """
    from witnessmark.jobs import demonstrating

    run("demo", as_json, lambda shown: shown.demonstrated(demonstrating.demo(folder, shown.progress)))


for command in (
    moderate_command.moderate, correct_command.correct, record_commands.history, record_commands.undo,
    record_commands.restore, record_commands.export, record_commands.remove, *teaching_commands.COMMANDS,
    *year_commands.COMMANDS, *desk_command.COMMANDS,
):  # fmt: skip
    main.add_command(command)
