"""What all commands share: kinds of arguments, the options of every command, the clock."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from witnessmark.cli.output import remember_debug

if TYPE_CHECKING:
    from witnessmark.jobs.crew import Crew

CLASS = click.Path(path_type=Path, file_okay=False)
ANYWHERE = click.Path(path_type=Path)
TASK_FILE = (".yaml", ".yml")
Command = TypeVar("Command", bound=Callable[..., object])


def for_all(command: Command) -> Command:
    """The options that every command has: --json and --debug."""
    debug = click.option(
        "--debug",
        is_flag=True,
        expose_value=False,
        callback=remember_debug,
        help="Show where a fault arose.",
    )
    machines = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON, for machines.")
    return machines(debug(command))


def for_task(command: Command) -> Command:
    """The argument TASK: its name, or its file, as a shell completes it."""
    return click.argument("task", callback=_task_key)(command)


def for_task_or_year(command: Command) -> Command:
    """The argument TASK, None where the whole year is meant."""
    return click.argument("task", required=False, callback=_task_key_or_year)(command)


def _task_key_or_year(context: click.Context, parameter: click.Parameter, typed: str | None) -> str | None:
    return None if typed is None else _task_key(context, parameter, typed)


def _task_key(context: click.Context, _: click.Parameter, typed: str) -> str:
    """`shear-1` of `shear-1`, `shear-1.yaml`, `tasks/shear-1.yaml` or a whole path; the file of another class is
    refused."""
    file, folder = Path(typed), Path(context.params.get("folder", "."))
    own = folder / "tasks"
    here = not file.is_absolute() and (folder / file).is_file()
    if len(file.parts) > 1 and file.is_file() and not here and file.resolve().parent != own.resolve():
        raise click.BadParameter(f"{typed} is not a task of {folder}, whose tasks lie in {own}.")
    return file.stem if file.suffix.lower() in TASK_FILE else file.name or typed


def with_crew(command: Command) -> Command:
    """The option of a command whose work others can do."""
    told = "Have the work done by the Dask cluster of this scheduler, such as tcp://HOST:8786."
    return click.option("--scheduler", metavar="ADDRESS", default="", help=told)(command)


def crew_of(scheduler: str = "") -> "Crew":
    """Who does the work: the cluster of a scheduler, or every core of this machine."""
    if scheduler:
        from witnessmark.jobs.cluster import of_cluster

        return of_cluster(scheduler)
    from witnessmark.jobs.crew import every_core

    return every_core


def deciding(command: Command) -> Command:
    """The options --who and --why of a command that changes something by somebody's decision."""
    why = click.option("--why", required=True, help="The reason, for the record.")
    return click.option("--who", required=True, help="Who decides.")(why(command))


class Day(click.ParamType[date]):
    """A day such as 2027-03-12."""

    name = "day"

    def convert(self, value: str | date, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """The day that was typed."""
        try:
            return value if isinstance(value, date) else date.fromisoformat(value)
        except ValueError:
            self.fail(f"'{value}' is no day; type year-month-day, like 2027-03-12.", param, ctx)


def now() -> datetime:
    """The time, with its zone."""
    return datetime.now(UTC)
