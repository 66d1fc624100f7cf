"""The command `desk`: the whole job on a page of this machine's own browser."""

from pathlib import Path

import click

from witnessmark.cli.output import run
from witnessmark.cli.shared import CLASS, for_all


@click.command()
@click.argument("folder", metavar="[CLASS]", type=CLASS, default=Path())
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="The port (default: one that is free).")
@click.option("--no-browser", is_flag=True, help="Only print the address; open it yourself.")
@for_all
def desk(folder: Path, port: int, no_browser: bool, as_json: bool) -> None:
    """Open the desk: the whole job on a page in your browser.

    CLASS is a class, or a folder in which classes lie (default: this one). The page is this machine's alone; nothing of
    it leaves it. Close it with Ctrl+C.
    """
    from witnessmark.desk import serving

    run("desk", as_json, lambda shown: serving.serve(
        folder, port, lambda address: shown.say({"address": address}, ["The desk is open at", f"  {address}"]),
        not no_browser))  # fmt: skip


COMMANDS = (desk,)
"""The commands of this module, in the order in which they are listed."""
