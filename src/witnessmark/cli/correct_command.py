"""The command `correct`: a task that was issued is put right, and its marks follow."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from witnessmark.cli import shared
from witnessmark.cli.output import run
from witnessmark.cli.shared import CLASS, for_all, for_task

if TYPE_CHECKING:
    from witnessmark.jobs.correcting import Wanted

ONE = ("answer_is", "tolerance", "wording", "formula", "also", "full", "out", "rules")


class Corrected(TypedDict):
    """The options of `correct`."""

    answer_is: str
    tolerance: str
    wording: str
    slip: str
    formula: str
    also: str
    full: bool
    out: bool
    rules: bool
    who: str
    why: str
    apply: bool


@click.command()
@click.argument("folder", metavar="CLASS", type=CLASS)
@for_task
@click.argument("answer", required=False, default="")
@click.option("--answer", "answer_is", default="", metavar="EXPRESSION", help="The right expression.")
@click.option("--tolerance", default="", help="Room beside rounding, such as '2 %'.")
@click.option("--wording", default="", help="What is asked, in other words.")
@click.option("--slip", default="", metavar="MISCONCEPTION", help="The slip whose expression --formula replaces.")
@click.option("--formula", default="", metavar="EXPRESSION", help="The expression of the --slip.")
@click.option("--also", default="", metavar="EXPRESSION", help="A second method that is right as well.")
@click.option("--full", is_flag=True, help="Set the part aside: full marks for all who handed in.")
@click.option("--out", is_flag=True, help="Set the part aside: it leaves the total.")
@click.option("--rules", is_flag=True, help="Mark by the rules that the task's file has now.")
@click.option("--who", default="", help="Who decides; with --apply.")
@click.option("--why", default="", help="The reason, for the record; with --apply.")
@click.option("--apply", is_flag=True, help="Do it; without this it is only shown.")
@for_all
def correct(folder: Path, task: str, answer: str, as_json: bool, **options: Unpack[Corrected]) -> None:
    """Correct a TASK that was issued, at one ANSWER (such as 1a).

    Shows every mark that would change, with the student's name and both marks, and writes nothing, unless --apply is
    given. It is one step, which undo takes back; what was issued stays as it was.
    """
    given = [name for name in ONE if options[name]]  # type: ignore[literal-required]
    if len(given) != 1 or bool(options["slip"]) != (given == ["formula"]):
        raise click.UsageError(
            "Give one of --answer, --tolerance, --wording, --slip with --formula, --also, --full, --out and --rules."
        )
    if bool(answer) == options["rules"]:
        raise click.UsageError("Name the ANSWER, such as 1a; --rules goes without one.")
    from witnessmark.jobs import correcting
    from witnessmark.jobs.decision import Decision

    wanted = _wanted(answer, given[0], options)
    decision = Decision(options["who"], options["why"], shared.now(), options["apply"])
    run("correct", as_json, lambda shown: shown.corrected(correcting.correct(folder, task, wanted, decision)))


def _wanted(answer: str, given: str, options: Corrected) -> Wanted:
    from witnessmark.files.bank.correction_text import tolerance_share
    from witnessmark.jobs.correcting import Wanted
    from witnessmark.questions.checking.corrections import Changes

    match given:
        case "answer_is":
            return Wanted(answer, Changes.ANSWER, options["answer_is"])
        case "tolerance":
            return Wanted(answer, Changes.TOLERANCE, tolerance_share(options["tolerance"]))
        case "wording":
            return Wanted(answer, Changes.WORDING, options["wording"])
        case "formula":
            return Wanted(answer, Changes.SLIP, options["formula"], options["slip"])
        case "also":
            return Wanted(answer, Changes.ALSO, options["also"])
        case "full":
            return Wanted(answer, Changes.FULL)
        case "out":
            return Wanted(answer, Changes.OUT)
    return Wanted(rules=True)
