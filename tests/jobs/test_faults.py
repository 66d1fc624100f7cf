"""One answer, or one document, that brings out a fault is set aside with its place, and all the others go on."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import witnessmark
from bank_fixture import BANK
from jobs.copied import copied
from jobs.small_class import (
    BANK_FOLDER,
    TASK,
    hand_in,
    right_answers,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from witnessmark.cli.main import main
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.files.bank.folder import AsFarAsRead
from witnessmark.jobs import checking, feedback_files, returning, sheet_files
from witnessmark.marking.kinds import dispatch
from witnessmark.marking.kinds.order import mark_order
from witnessmark.review import shared_methods

NAMED = "👍 ％＝１㎡ 中"


def run(*words: object, code: int = 0) -> Any:
    """A command that ends with this exit code."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert (done.exit_code, done.exception if code == 0 else None) == (code, None), done.output + done.stderr
    return done


def handed_in(made: Path) -> None:
    """A class of four that was issued a task with an order, a formula and numbers, and handed in two books."""
    small_class(made)
    write_task(made, "[copper-rivets, two-resistors]")
    run("issue", made, TASK)
    for code in ("HB01", "HB02"):
        sheet = sheets_of(made)[code]
        hand_in(made, sheet, right_answers(sheet))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """That class, to be changed."""
    return copied(handed_in, tmp_path / "class")


def issue_titled(folder: Path, key: str, title: str) -> None:
    """Issue another task with this title, in YAML."""
    text = (folder / "tasks" / f"{TASK}.yaml").read_text(encoding="utf-8").replace(TASK, key)
    text = text.replace("title: Shear and punching", f"title: {title}")
    (folder / "tasks" / f"{key}.yaml").write_text(text, encoding="utf-8")
    run("issue", folder, key)


def answer(folder: Path, code: str, answers: dict[str, str]) -> None:
    sheet = sheets_of(folder)[code]
    hand_in(folder, sheet, right_answers(sheet) | answers)


def test_signs_that_no_font_has_stop_neither_issue_nor_mark_nor_return_nor_review(folder: Path) -> None:
    named = [(code, NAMED, NAMED) for code in ("HB01", "HB02", "LW01", "LW02")]
    write_students(folder, named)
    issue_titled(folder, "next", NAMED)
    assert (folder / "issued" / "next" / "sheets" / "HB01.pdf").read_bytes().startswith(b"%PDF")
    answer(folder, "HB01", dict.fromkeys(("1.a", "1.b", "1.c", "2.a", "2.d"), "👍 ％＝１㎡ 中 \ufeff"))
    run("mark", folder, TASK)
    run("return", folder, TASK)
    run("review", folder, TASK)
    assert sorted(p.name for p in (folder / "feedback" / TASK).iterdir()) == ["HB01.pdf", "HB02.pdf"]


def test_an_order_and_a_formula_that_once_stopped_the_class_are_marked(folder: Path) -> None:
    answer(folder, "HB01", {"1.b": "a, 10", "2.d": ".0"})
    run("mark", folder, TASK)
    run("mark", folder, TASK)
    run("return", folder, TASK)


def test_an_entry_that_the_marking_fails_at_waits_as_unreadable_and_all_others_are_marked(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(part: Any, text: str, *rest: Any) -> Any:
        if text == "boom":
            raise ZeroDivisionError("of all things")
        return mark_order(part, text, *rest)

    monkeypatch.setattr(dispatch, "mark_order", failing)
    run("mark", folder, TASK)
    before = {label: told(folder, "HB02", label) for label in ("1a", "1b", "2a", "2d")}
    answer(folder, "HB01", {"1.b": "boom"})
    done = run("mark", folder, TASK, code=1)
    assert "2 of 4 sheets marked" in done.stdout
    assert "ZeroDivisionError (test_faults.py" in done.stderr
    assert "Traceback" not in done.output
    assert told(folder, "HB01", "1b")["verdict"] == "unreadable"
    assert told(folder, "HB01", "2a")["verdict"] == "right"
    assert {label: told(folder, "HB02", label) for label in before} == before
    assert "Traceback" in run("mark", folder, TASK, "--debug", code=1).stderr
    assert "Traceback" in json.loads(run("mark", folder, TASK, "--json", code=1).stdout)["faults"][0]["trace"]


def told(folder: Path, code: str, label: str) -> Any:
    found = json.loads(run("explain", folder, sheets_of(folder)[code].code, label, "--json").stdout)
    return found["outcome"]


def test_a_document_that_cannot_be_made_is_named_with_its_student_and_the_others_are_written(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(sheet: Any, *rest: Any, **more: Any) -> Any:
        if sheet.student.code == "HB01":
            raise KeyError("a page of HB01")
        return feedback_document(sheet, *rest, **more)

    run("mark", folder, TASK)
    monkeypatch.setattr(feedback_files, "feedback_document", failing)
    done = run("return", folder, TASK, code=1)
    assert "HB01.pdf (HB01 Idris Vael)" in done.stderr
    assert "KeyError" in done.stderr
    assert [p.name for p in (folder / "feedback" / TASK).iterdir()] == ["HB02.pdf"]
    assert (folder / f"gradebook-{TASK}.xlsx").is_file()


def test_a_sheet_that_cannot_be_made_leaves_the_other_sheets_of_issue(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(sheet: Any) -> bytes:
        if sheet.student.code == "LW01":
            raise RecursionError("too deep")
        return answer_book(sheet)

    monkeypatch.setattr(sheet_files, "answer_book", failing)
    (folder / "tasks" / "more.yaml").write_text(
        (folder / "tasks" / f"{TASK}.yaml").read_text(encoding="utf-8").replace(TASK, "more"), encoding="utf-8"
    )
    done = run("issue", folder, "more", code=1)
    assert "books/LW01.xlsx (LW01 Maren Tolk)" in done.stderr
    books = folder / "issued" / "more" / "books"
    assert sorted(p.name for p in books.iterdir()) == ["HB01.xlsx", "HB02.xlsx", "LW02.xlsx"]


def test_an_answer_that_the_search_for_shared_methods_fails_at_leaves_the_rest_of_the_review(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(ask: Any, rows: Any) -> Any:
        if ask.label == "2a":
            raise ZeroDivisionError("at this place")
        return ()

    for number, code in enumerate(("HB01", "HB02", "LW01", "LW02"), 2):
        answer(folder, code, {"2.a": f"{number}.123 mA"})
    run("mark", folder, TASK)
    monkeypatch.setattr(shared_methods, "_found_at", failing)
    done = run("review", folder, TASK, code=1)
    assert done.stderr.startswith("2a: [fault] expected a search for shared methods, found ZeroDivisionError")
    assert (folder / f"review-{TASK}.html").is_file()


def test_a_question_that_cannot_be_looked_at_leaves_the_others_of_check(monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(question: Any, *_: Any) -> Any:
        if question.key == "drain-hole":
            raise ZeroDivisionError("in this question")
        return question

    monkeypatch.setattr(checking, "read_bank", lambda _: AsFarAsRead(BANK, {}, ()))
    monkeypatch.setattr(checking, "report_on", failing)
    done = checking.check(BANK_FOLDER)
    assert [fault.place.file for fault in done.faults] == ["drain-hole"]
    assert len(done.questions) == len(BANK) - 1


def test_a_fault_of_the_program_is_a_sentence_and_its_trace_is_there_on_request(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: Any) -> Any:
        raise ArithmeticError("no such luck")

    monkeypatch.setattr(returning, "open_class", failing)
    plain = run("return", folder, TASK, code=1)
    assert "[fault] expected no fault of the program, found ArithmeticError" in plain.stderr
    assert "Traceback" not in plain.stderr
    assert "no such luck" in run("return", folder, TASK, "--debug", code=1).stderr.split("Traceback")[1]


def test_a_terminal_that_knows_few_signs_is_told_in_those_it_knows(folder: Path) -> None:
    issue_titled(folder, "other", '"👍 × ½"')
    environment = {"PYTHONIOENCODING": "cp1252", "PYTHONPATH": str(Path(witnessmark.__file__).parents[1])}
    for more in ([], ["--json"]):
        command = [sys.executable, "-m", "witnessmark", "issue", str(folder), "other", *more]
        done = subprocess.run(command, capture_output=True, check=False, timeout=120, env=environment)
        assert (done.returncode, done.stderr) == (0, b"")
        assert ("× ½" in done.stdout.decode("cp1252")) == (not more)
    assert json.loads(done.stdout)["command"] == "issue"
