"""DEVELOPERS.md tells of the code as it is: the files it names exist, and its picture of the layers is the rule."""

import re
from pathlib import Path

import pytest

from source_rules import DOORS, LAYERS, PACKAGE, ROOMS
from witnessmark.cli.main import main
from witnessmark.marking.outcome import Verdict

REPOSITORY = Path(__file__).parents[1]
PAGE = (REPOSITORY / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
PROSE = re.sub(r"^```.*?^```$", "", PAGE, flags=re.MULTILINE | re.DOTALL)
QUOTED = re.findall(r"`([^`\n]+)`", PROSE)
NAMED = sorted({
    name for quoted in QUOTED for name in re.findall(r"[\w./-]+", quoted)
    if re.search(r"/|\.(py|md|yaml|toml|csv|typ|j2|lock)$", name) and not name.startswith("-")
})  # fmt: skip
MADE_BY_RUNS = (".venv", "exports/sample-")


@pytest.mark.parametrize("name", NAMED)
def test_a_file_that_is_named_exists(name: str) -> None:
    if not name.startswith(MADE_BY_RUNS):
        assert any((folder / name).exists() for folder in (REPOSITORY, REPOSITORY / "src" / PACKAGE))


def test_enough_files_are_named_for_the_test_above_to_mean_something() -> None:
    assert len(NAMED) > 40


def test_the_picture_has_every_layer_there_is_in_the_order_that_is_enforced() -> None:
    picture = PAGE.split("## Layers")[1].split("```")[1]
    shown = [m[1] for m in re.finditer(rf"^ +({'|'.join(LAYERS)})\b", picture, re.MULTILINE)]
    there = [layer for layer in LAYERS if (REPOSITORY / "src" / PACKAGE / layer).is_dir()]
    assert shown == there[::-1]


@pytest.mark.parametrize("layer", ROOMS)
def test_the_rooms_of_a_layer_stand_in_the_order_that_is_enforced(layer: str) -> None:
    row = next(line for line in PAGE.splitlines() if line.startswith(f"| `{layer}/` |"))
    assert tuple(name for name in re.findall(r"`(\w+)`", row.split(" | ")[1])) == ROOMS[layer]


def test_every_door_in_the_table_is_a_door() -> None:
    table = PAGE.split("| library | door |")[1].split("\n\n")[0]
    doors = [place for places in DOORS.values() for place in places]
    named = re.findall(r"`([^`]+)`", table)
    assert named
    assert [n for n in named if not any(n == d or (d.endswith("/") and n.startswith(d)) for d in doors)] == []


def test_every_script_that_is_run_by_hand_is_told_of() -> None:
    scripts = {p.name for p in (REPOSITORY / "scripts").iterdir() if p.is_file()}
    assert {name for name in scripts if name not in PAGE + README} == set()


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "exports/README.md", "bank/README.md"])
def test_a_command_that_a_page_names_is_a_command(page: str) -> None:
    text = (REPOSITORY / page).read_text(encoding="utf-8")
    commands = main.commands
    assert {
        name for name in re.findall(r"(?<!import )witnessmark ([a-z][\w-]*)", text) if name not in commands
    } == set()


def test_every_verdict_stands_in_the_table_of_the_readme() -> None:
    table = README.split("## What the verdicts mean")[1].split("## ")[0]
    assert [v for v in Verdict if f"\n| {v} | " not in table] == []
