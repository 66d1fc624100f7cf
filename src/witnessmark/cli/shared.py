"""What all commands share: kinds of arguments, the options of every command, the clock."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

import click

from witnessmark.cli.output import remember_debug

CLASS = click.Path(path_type=Path, file_okay=False)
ANYWHERE = click.Path(path_type=Path)
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


def now() -> datetime:
    """The time, with its zone."""
    return datetime.now(UTC)
