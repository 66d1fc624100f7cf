"""The page of commands says what the program says, and every summary fits its line."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from witnessmark.cli.entry import PREPARED
from witnessmark.cli.main import main
from witnessmark.cli.reference import help_page, reference_page, summary

PAGE = Path(__file__).parents[2] / "exports" / "COMMANDS.md"


def test_the_page_of_commands_is_up_to_date() -> None:
    assert PAGE.read_text(encoding="utf-8") == reference_page(main), "run: python scripts/write_commands.py"


def test_the_page_of_help_that_the_start_shows_is_up_to_date() -> None:
    assert Path(PREPARED).read_text(encoding="utf-8") == help_page(main), "run: python scripts/write_commands.py"


def test_the_page_of_help_is_what_the_commands_say_in_80_columns() -> None:
    said = CliRunner().invoke(main, ["--help"], terminal_width=80, prog_name="witnessmark").output
    assert said == help_page(main)


def test_the_page_tells_of_every_command_and_option() -> None:
    page = reference_page(main)
    for name, command in main.commands.items():
        assert f"\n## {name}\n" in page
        section = page.partition(f"\n## {name}\n")[2].partition("\n## ")[0]
        missing = [
            option for p in command.params for option in p.opts if option.startswith("--") and option not in section
        ]
        assert missing == [], name


def test_the_list_of_commands_cuts_no_summary_off_at_80_columns() -> None:
    listed = CliRunner().invoke(main, ["--help"], terminal_width=80).output
    assert "..." not in listed.partition("Commands:")[2]
    assert all(summary(command) in listed for command in main.commands.values())


@pytest.mark.parametrize("name", sorted(main.commands))
def test_no_line_of_a_commands_help_is_wider_than_80_columns(name: str) -> None:
    told = CliRunner().invoke(main, [name, "--help"], terminal_width=80).output
    assert [line for line in told.splitlines() if len(line) > 80] == []
