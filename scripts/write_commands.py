"""Write `exports/COMMANDS.md`: every command with its arguments and options, as the program itself tells them.

Run `python scripts/write_commands.py` after a command was changed; a test compares it.
"""

from pathlib import Path

from witnessmark.cli.main import main as program
from witnessmark.cli.reference import reference_page

PAGE = Path(__file__).parents[1] / "exports" / "COMMANDS.md"


def main() -> None:
    """Write the page."""
    PAGE.write_text(reference_page(program), encoding="utf-8")


if __name__ == "__main__":
    main()
