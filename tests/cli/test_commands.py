"""The command line: what each command says and with which exit code; problems as whole lines; JSON for machines."""

import json
import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

from bank_cases import SMALL_BANK
from jobs.small_class import BANK_FOLDER, TASK, contents, hand_in, right_answers, sheets_of, small_class, write_students
from witnessmark.cli.main import main

CLEAN, PROBLEMS, USAGE = 0, 1, 2
COMMANDS = sorted(main.commands)


def run(*words: object) -> Result:
    """One command, in this process; an exception that no command should let through fails the test."""
    result = CliRunner().invoke(main, [str(w) for w in words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def as_json(*words: object, code: int = CLEAN) -> dict[str, Any]:
    """What a command prints with --json: one JSON value and nothing else."""
    result = run(*words, "--json")
    assert (result.exit_code, result.stderr) == (code, "")
    found = json.loads(result.stdout)
    assert found["command"] == str(words[0])
    assert isinstance(found, dict)
    return found


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class issued and marked by commands; not to be changed."""
    folder = small_class(tmp_path_factory.mktemp("cli") / "class")
    assert run("issue", folder, TASK).exit_code == CLEAN
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    hand_in(folder, sheets["HB02"], right_answers(sheets["HB02"]) | {"1.a": "87.654 kN"})
    assert run("mark", folder, TASK).exit_code == CLEAN
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def test_a_class_is_started_and_the_next_steps_are_told(tmp_path: Path) -> None:
    result = run("start", tmp_path / "class", "--title", "First years", "--bank", BANK_FOLDER)
    assert result.exit_code == CLEAN
    assert result.stdout.splitlines() == [
        "Started the class. Next:",
        f"  list your students in {tmp_path / 'class' / 'students.csv'}",
        f"  choose questions in a file of {tmp_path / 'class' / 'tasks'}",
        f"  witnessmark issue {tmp_path / 'class'} TASK",
    ]
    before = contents(tmp_path / "class")
    again = run("start", tmp_path / "class", "--title", "First years", "--bank", BANK_FOLDER)
    assert again.exit_code == PROBLEMS
    assert again.stderr == (
        f"{tmp_path / 'class'}: [folder-exists] expected a name that is free, found a folder with files; "
        "choose another name\n"
    )
    assert contents(tmp_path / "class") == before


def test_what_was_issued_and_marked_is_told_in_a_line_each(folder: Path) -> None:
    issued = run("issue", folder, TASK)
    assert issued.stdout.splitlines()[0] == "Shear and punching: 0 sheets issued now, 4 before"
    assert issued.stdout.splitlines()[1] == f"  {folder / 'issued' / TASK / 'class-table.xlsx'}"
    marked = run("mark", folder, TASK)
    code = sheets_of(folder)["HB02"].code
    assert marked.stdout.splitlines() == [
        "2 returns taken in, 2 of 4 sheets marked, in the in-tray: 1 answer",
        "nothing yet from LW01, LW02",
        "Waiting for you:",
        f"  HB02 Oona Brisk, {code} 1a: no known method gives this number",
        "Next:",
        f"  witnessmark explain {folder} {code} 1a",
        f"  witnessmark moderate {folder} {code} 1a --marks … --why … --who …",
        f"  witnessmark return {folder} {TASK}",
    ]


def test_a_mark_is_moderated_and_the_machines_is_kept(folder: Path) -> None:
    code = sheets_of(folder)["HB02"].code
    done = run("moderate", folder, code, "1a", "--marks", "2", "--why", "working shown", "--who", "K. Dekker")
    assert (done.exit_code, done.stdout) == (CLEAN, f"{code} 1a: 2 marks now, the machine's 0 is kept beside it\n")
    wrong = run("moderate", folder, code, "1a", "--marks", "nan", "--why", "x", "--who", "y")
    assert (wrong.exit_code, wrong.stderr) == (
        PROBLEMS,
        f"{code}: [marks-out-of-range] expected whole or half marks from 0 to 3 for 1a, found nan\n",
    )


def test_problems_are_whole_lines_on_standard_error_and_the_rest_is_done(folder: Path) -> None:
    broken = folder / "returned" / TASK / "broken.xlsx"
    broken.write_bytes(b"PK\x03\x04")
    result = run("mark", folder, TASK)
    assert result.exit_code == PROBLEMS
    (line,) = result.stderr.splitlines()
    assert "broken.xlsx: [broken-workbook] expected a whole workbook, found " in line
    assert line.endswith("; ask for it once more, or open and save it again in the spreadsheet program")
    assert result.stdout.startswith("2 returns taken in, 2 of 4 sheets marked, ")


def test_every_problem_of_a_bank_is_listed_with_its_place(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(SMALL_BANK, bank)
    shutil.rmtree(bank / "words")  # has too few variants
    question = bank / "shear" / "drain-hole.yaml"
    text = question.read_text(encoding="utf-8")
    question.write_text(text.replace("tau*A_s\n", "tau*A_t\n").replace("unit: MPa", "unit: furlong"), encoding="utf-8")
    result = run("check", bank)
    assert result.exit_code == PROBLEMS
    lines = result.stderr.splitlines()
    assert len(lines) >= 2
    assert all(line.startswith(f"{question}:") and "] expected " in line and ", found " in line for line in lines)
    assert [line.split("[")[1].split("]")[0] for line in lines][:1] == ["unknown-name"]
    assert as_json("check", bank, code=PROBLEMS)["problems"] == lines


USAGES: Sequence[Sequence[str]] = (
    ("issue",), ("issue", "class"), ("mark",), ("moderate", "class", "AAAA-AAAA", "1a"), ("start", "class"),
    ("no-such-command",), ("issue", "class", "task", "--no-such-option"), ("return", "class"), ("review",),
    ("remove", "class"), ("check",), ("new", "bank"), ("preview",), ("issue", "class", "task", "more"),
    ("explain", "class", "AAAA-AAAA"),
)  # fmt: skip


@pytest.mark.parametrize("words", USAGES, ids=" ".join)
def test_wrong_usage_is_exit_code_2_and_says_how(words: Sequence[str], tmp_path: Path) -> None:
    result = run(*words)
    assert result.exit_code == USAGE
    assert "Usage: " in result.stderr
    assert "Error: " in result.stderr
    assert not any(tmp_path.iterdir())


@pytest.mark.parametrize("command", ["issue", "mark", "return", "review"])
def test_where_there_is_no_class_that_is_said_and_what_to_type(command: str, tmp_path: Path) -> None:
    nowhere = tmp_path / "nowhere"
    result = run(command, nowhere, TASK)
    line = f"{nowhere}: [no-class] expected a class folder, found no such folder; witnessmark start {nowhere}\n"
    assert (result.exit_code, result.stdout, result.stderr) == (PROBLEMS, "", line)
    assert as_json(command, nowhere, TASK, code=PROBLEMS)["problems"] == [line.strip()]
    assert not nowhere.exists()


@pytest.mark.parametrize(
    ("words", "keys"),
    [
        (("issue", "CLASS", TASK), {"new", "before", "files"}),
        (("mark", "CLASS", TASK), {"taken_in", "marked", "issued", "in_tray", "problems"}),
        (("return", "CLASS", TASK), {"sheets", "feedback", "gradebook"}),
        (("review", "CLASS", TASK), {"page", "data"}),
        (("check", SMALL_BANK / "shear" / "drain-hole.yaml"), {"questions", "notes", "problems"}),
        (("preview", BANK_FOLDER, "drain-hole", "--out", "NEW"), {"file", "variants", "remarks"}),
        (("trial", SMALL_BANK, "drain-hole", "--each", "1"), {"seed", "bend", "kinds", "bands", "methods"}),
        (("start", "NEW", "--title", "x", "--bank", BANK_FOLDER), {"files"}),
        (("remove", "CLASS", "LW02", "--who", "K. Dekker", "--apply"), {"student"}),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else "",
)
def test_every_command_prints_json_and_nothing_else(
    words: Sequence[object], keys: set[str], folder: Path, tmp_path: Path
) -> None:
    places = {"CLASS": folder, "NEW": tmp_path / "new"}
    found = as_json(*(places.get(str(w), w) for w in words))
    assert keys <= found.keys()


def test_json_of_a_moderation_keeps_marks_exact(folder: Path) -> None:
    code = sheets_of(folder)["HB02"].code
    words = ("moderate", folder, code, "1a", "--marks", "1.5", "--why", "shown", "--who", "K. Dekker")
    assert as_json(*words) == {"command": "moderate", "sheet": code, "answer": "1a", "machine": "0", "marks": "1.5",
                               "stale": []}  # fmt: skip


def test_json_of_marking_holds_the_problems_as_lines(folder: Path) -> None:
    (folder / "returned" / TASK / "letter.docx").write_bytes(b"x")
    found = as_json("mark", folder, TASK, code=PROBLEMS)
    (line,) = found["problems"]
    assert "letter.docx: [unsupported-type] expected an answer book (.xlsx or .ods), found a document ('.docx')" in line
    assert (found["taken_in"], found["marked"], found["issued"]) == (2, 2, 4)


def test_a_list_of_students_with_problems_stops_every_command_alike(folder: Path) -> None:
    write_students(folder, [("HB01", "A", ""), ("HB01", "B", "")])
    said = {run(command, folder, TASK).stderr for command in ("issue", "mark", "return", "review")}
    (lines,) = said
    assert lines.startswith(f"{folder / 'students.csv'}, line 3, cell A3: [code-twice] expected ")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_a_sentence_and_an_option_for_machines(command: str) -> None:
    for option in ("--help", "-h"):
        result = run(command, option)
        assert result.exit_code == CLEAN
        assert "--json" in result.stdout
    told = main.commands[command].get_short_help_str(200)
    assert isinstance(main.commands[command], click.Command)
    assert told.endswith((".", "..."))
    assert told[0].isupper()


def test_an_author_begins_a_question_checks_it_and_looks_at_it(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(BANK_FOLDER, bank)
    file = bank / "shear" / "deck-bolt.yaml"
    begun = run("new", bank, "shear/deck-bolt")
    assert (begun.exit_code, begun.stderr) == (CLEAN, "")
    assert begun.stdout.splitlines() == [
        f"Wrote {file}. Next:", f"  edit {file}", f"  witnessmark check {file}", f"  witnessmark preview {file}"
    ]  # fmt: skip
    checked = run("check", file)
    assert checked.exit_code == CLEAN
    assert checked.stdout.splitlines()[-1] == "1 question, 0 problems, 0 notes, 0 remarks"
    looked = run("preview", file, "--out", tmp_path / "look.html")
    assert looked.exit_code == CLEAN
    assert looked.stdout.splitlines()[-1] == f"  {tmp_path / 'look.html'}"
    assert (tmp_path / "look.html").read_text(encoding="utf-8").count("Wrong answers that the question knows") == 3


def test_a_preview_goes_to_exports_where_no_place_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("preview", BANK_FOLDER, "drain-hole").exit_code == CLEAN
    assert run("preview", BANK_FOLDER, "drain-hole", "--pdf").exit_code == CLEAN
    assert sorted(p.name for p in (tmp_path / "exports").iterdir()) == [
        "preview-drain-hole.html", "preview-drain-hole.pdf"
    ]  # fmt: skip


def test_remarks_and_notes_are_told_and_stop_nothing(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(SMALL_BANK, bank)
    shutil.rmtree(bank / "words")
    question = bank / "shear" / "drain-hole.yaml"
    question.write_text(question.read_text(encoding="utf-8").replace("level: 2", "level: 3"), encoding="utf-8")
    result = run("check", bank)
    assert result.exit_code == CLEAN
    lines = [line.strip() for line in result.stdout.splitlines()]
    assert any(line.startswith(f"{question}: [level] expected level: 2, found level: 3") for line in lines)
    assert lines[-1].endswith(" remarks") or lines[-1].endswith(" remark")
