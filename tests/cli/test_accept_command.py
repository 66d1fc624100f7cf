"""The commands `review` and `accept` on a class that shares a wrong method: what is said, and with which exit code."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jobs.copied import copied
from jobs.shared_class import DID_SO, SQUARE, shared_class
from jobs.small_class import BANK_FOLDER, TASK, contents, sheets_of
from witnessmark.cli.main import main

CLEAN, PROBLEMS, USAGE = 0, 1, 2
KEY = "square-for-round"
NAMED = ("--keeps", "1", "--say", "Look at the rim.")
DECIDED = ("--apply", "--who", "K. Lund", "--why", "four did so")


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The class; not to be changed."""
    return copied(shared_class, tmp_path_factory.mktemp("cli-accept") / "class")


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def run(*words: object) -> Result:
    """One command in this process."""
    result = CliRunner().invoke(main, [str(w) for w in words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def test_the_review_tells_of_the_formula_and_what_to_type(folder: Path) -> None:
    lines = run("review", folder, TASK).stdout.splitlines()
    start = lines.index("Wrong methods that no question knows yet:")
    assert lines[start + 1] == f"  1a, formula 1: F = 4 × τ × d × t; used by {', '.join(DID_SO)}"
    assert lines[start + 4].startswith("    Expected number of accidental fits: ")
    assert lines[start + 5 : start + 7] == [
        f"    - {{misconception: name-this-method, answer: {SQUARE}, keeps: 0}}",
        f"    witnessmark accept {folder} {TASK} 1a MISCONCEPTION --found 1 --keeps MARKS",
    ]
    found = json.loads(run("review", folder, TASK, "--json").stdout)
    assert [(m["answer"], m["number"], m["students"]) for m in found["shared"]] == [("1a", 1, list(DID_SO))]


def test_what_would_change_is_shown_then_done_then_taken_back(folder: Path) -> None:
    sheets = sheets_of(folder)
    changes = [f"  {sheets[code].code}  {code:8} 1a       edit 0 of 3 -> slip ({KEY}) 1 of 3" for code in DID_SO]
    before = contents(folder)
    shown = run("accept", folder, TASK, "1a", KEY, "--found", "1", *NAMED)
    assert (shown.exit_code, shown.stderr) == (CLEAN, "")
    lines = shown.stdout.splitlines()
    assert lines[0] == f"1a: {KEY}, {SQUARE}, keeps 1. 4 answers would change; nothing is written without --apply:"
    assert lines[1:5] == changes
    assert lines[5].startswith(f"For the bank, under slips of part a ({BANK_FOLDER / 'shear' / 'drain-hole.yaml'}:")
    assert lines[6] == f"  - {{misconception: {KEY}, answer: {SQUARE}, keeps: 1}}"
    assert lines[7:9] == ["For misconceptions.yaml:", f"  {KEY}:"]
    assert contents(folder) == before
    done = run("accept", folder, TASK, "1a", KEY, "--formula", SQUARE, *NAMED, *DECIDED).stdout.splitlines()
    assert done[:5] == [f"Accepted as a slip: 1a: {KEY}, {SQUARE}, keeps 1. 4 answers changed:", *changes]
    assert contents(folder) != before
    dropped = run("accept", folder, TASK, "1a", KEY, "--drop", *DECIDED).stdout.splitlines()
    assert dropped[0] == f"No longer a slip: 1a: {KEY}, {SQUARE}, keeps 1. 4 answers changed:"
    assert dropped[1] == f"  {sheets[DID_SO[0]].code}  {DID_SO[0]:8} 1a       slip ({KEY}) 1 of 3 -> edit 0 of 3"


def test_a_formula_that_nobody_used_changes_nothing_and_says_so(folder: Path) -> None:
    shown = run("accept", folder, TASK, "1a", KEY, "--formula", "11*tau*d*t", *NAMED)
    assert shown.stdout.splitlines()[0] == (
        f"1a: {KEY}, 11*tau*d*t, keeps 1. no answers would change; nothing is written without --apply."
    )


def test_json_holds_every_change_with_exact_marks(folder: Path) -> None:
    found = json.loads(run("accept", folder, TASK, "1a", KEY, "--found", "1", *NAMED, "--json").stdout)
    assert (found["command"], found["applied"], found["keeps"], found["formula"]) == ("accept", False, "1", SQUARE)
    first = found["changes"][0]
    assert (first["student"], first["stands"]) == (DID_SO[0], None)
    assert first["after"] == {"verdict": "slip", "marks": "1", "out_of": "3", "misconceptions": [KEY]}
    assert found["bank"]["written"] is False


def test_a_problem_is_a_line_and_exit_code_1(folder: Path) -> None:
    result = run("accept", folder, TASK, "1a", KEY, "--found", "1", "--keeps", "3", "--say", "Look.")
    assert (result.exit_code, result.stdout) == (PROBLEMS, "")
    assert result.stderr == (
        "--keeps: [keeps] expected halves or whole marks, at least 0 and less than 3, the marks of the part,"
        " found '3'\n"
    )


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("--keeps", "1"),
        ("--found", "1"),
        ("--found", "1", "--formula", "d", "--keeps", "1"),
        ("--drop", "--found", "1"),
    ],
    ids=" ".join,
)
def test_wrong_usage_is_exit_code_2(words: tuple[str, ...], tmp_path: Path) -> None:
    result = run("accept", tmp_path, TASK, "1a", KEY, *words)
    assert result.exit_code == USAGE
    assert "Error: Give " in result.stderr
