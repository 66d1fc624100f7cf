"""What people type for a task, a bank and an answer, and how the commands name them back."""

from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from jobs.small_class import BANK_FOLDER, TASK, hand_in, right_answers, sheets_of, small_class
from witnessmark.cli.main import main
from witnessmark.questions.sheet.task import label_of_key

USAGE = 2
OF_TASKS = sorted(name for name, command in main.commands.items() if any(p.name == "task" for p in command.params))


def run(*words: object, code: int = 0) -> Any:
    """A command that ends with this exit code."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == code, done.output
    return done


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of which one book came back and was marked."""
    made = small_class(tmp_path_factory.mktemp("named") / "class")
    run("issue", made, f"{TASK}.yaml")
    sheet = sheets_of(made)["HB01"]
    hand_in(made, sheet, right_answers(sheet))
    run("mark", made, f"tasks/{TASK}.yaml")
    return made


@pytest.mark.parametrize("typed", [TASK, f"{TASK}.yaml", f"{TASK}.YML", f"tasks/{TASK}.yaml", f"tasks/{TASK}", "FULL"])
def test_a_task_is_understood_by_its_name_its_file_and_its_path(folder: Path, typed: str) -> None:
    full = folder / "tasks" / f"{TASK}.yaml"
    assert "1 of 4 sheets marked" in run("mark", folder, full if typed == "FULL" else typed).stdout


def test_every_command_that_takes_a_task_takes_its_file(folder: Path) -> None:
    assert OF_TASKS == [
        "accept", "correct", "excuse", "extend", "follow-up", "issue", "mark", "moderate", "print", "return", "returns",
        "review", "second", "set-again",
    ]  # fmt: skip
    for name in ("issue", "mark", "returns", "return", "review", "print", "second"):
        run(name, folder, f"tasks/{TASK}.yaml")
    said = ("--who", "K. Lund", "--why", "the ferry")
    run("extend", folder, f"tasks/{TASK}.yaml", "HB02", "2027-02-01", *said)
    run("excuse", folder, f"tasks/{TASK}.yaml", "HB02", "--absent", *said)
    run("set-again", folder, f"tasks/{TASK}.yaml", "HB02", *said)
    given = ("1a", "two-holes", "--formula", "2*tau*d*t", "--keeps", "1", "--say", "One hole.")
    assert "[not-issued]" not in run("accept", folder, f"{TASK}.yaml", *given, code=0).output


def test_the_task_file_of_another_class_is_refused(folder: Path, tmp_path: Path) -> None:
    other = small_class(tmp_path / "other")
    done = run("mark", folder, other / "tasks" / f"{TASK}.yaml", code=USAGE)
    assert f"is not a task of {folder}" in " ".join(done.stderr.split())


@pytest.mark.parametrize("bank", ["nowhere", "file.txt"])
def test_a_class_is_not_started_on_a_bank_that_is_not_there(tmp_path: Path, bank: str) -> None:
    (tmp_path / "file.txt").write_text("x", encoding="utf-8")
    if bank == "file.txt":
        assert "is a file" in run("start", tmp_path / "c", "--title", "C", "--bank", tmp_path / bank, code=USAGE).stderr
    else:
        done = run("start", tmp_path / "c", "--title", "C", "--bank", tmp_path / bank, code=1)
        assert f"{tmp_path / bank}: [no-bank] expected the folder of a bank, found nothing; type --bank" in done.stderr
    assert not (tmp_path / "c").exists()
    run("start", tmp_path / "c", "--title", "C", "--bank", BANK_FOLDER)


@pytest.mark.parametrize(
    ("marks", "why", "said"),
    [("1", " ", "a reason for 1a, found none"), ("99", "typed", "1a")],
)
def test_problems_name_an_answer_by_its_label(folder: Path, marks: str, why: str, said: str) -> None:
    sheet = sheets_of(folder)["HB01"].code
    done = run("moderate", folder, sheet, "1a", "--marks", marks, "--why", why, "--who", "K. Lund", code=1)
    assert said in done.stderr
    assert "1.a" not in done.stderr


def test_the_label_of_a_key_is_that_of_its_answer(folder: Path) -> None:
    for sheet in sheets_of(folder).values():
        assert [label_of_key(ask.key) for ask in sheet.asks] == [ask.label for ask in sheet.asks]


def test_files_are_kept_as_received_wherever_the_command_is_typed(
    folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(folder.parent)
    sheet = sheets_of(folder)["HB02"]
    book = hand_in(folder, sheet, right_answers(sheet))
    run("mark", "class", TASK)
    assert "is not kept" not in run("returns", "class", TASK, "--save", tmp_path / "files").stdout
    (saved,) = (tmp_path / "files").glob("HB02*")
    assert saved.read_bytes() == book.read_bytes()
