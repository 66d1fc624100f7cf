"""Write what the program tells of itself: `exports/COMMANDS.md`, and the page of help that its start shows.

Run `python scripts/write_commands.py` after a command was changed; a test compares both.
"""

from pathlib import Path

from witnessmark.cli.entry import PREPARED
from witnessmark.cli.main import main as program
from witnessmark.cli.reference import help_page, reference_page

PAGE = Path(__file__).parents[1] / "exports" / "COMMANDS.md"


def main() -> None:
    """Write both."""
    PAGE.write_text(reference_page(program), encoding="utf-8")
    Path(PREPARED).write_text(help_page(program), encoding="utf-8")


if __name__ == "__main__":
    main()
