"""The commands about the record: history, undo, restore, and check of a class, as a teacher types them."""

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jobs.copied import issued_class
from jobs.small_class import LATER, TASK, hand_in, right_answers, sheets_of
from record.test_chain import changed_behind
from witnessmark.cli.main import main
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate

pytestmark = pytest.mark.usefixtures("a_second_apart")


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class in which one apprentice was marked and moderated."""
    folder = issued_class(tmp_path_factory.mktemp("record") / "class")
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "1.01 kN"})
    mark(folder, TASK, LATER)
    moderate(folder, sheet.code, "1a", "1.5", "the sketch is right", "R. Vos", LATER)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """That class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def run(*arguments: str | Path) -> Result:
    """One command."""
    return CliRunner().invoke(main, [str(a) for a in arguments])


def test_history_tells_the_story_of_a_mark_in_words(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    done = run("history", folder, "HB01", "1a")
    lines = [line[20:] if line.startswith("  2") else line for line in done.output.splitlines()]
    assert lines == [
        f"{code}, HB01, shear-1",
        "the sheet was issued",
        "HB01.xlsx was taken in",
        "1a: marked 0: unexplained",
        "1a: a teacher gave 1.5 in the place of 0, by R. Vos: the sketch is right",
        "  now: 1a 1.5; due 2027-01-22, received 2027-01-25, 3 days late",
    ]
    assert run("history", folder, code.lower().replace("-", " "), "1a").output == done.output
    data = json.loads(run("history", folder, code, "1a", "--json").output)
    assert [row["told"] for row in data["sheets"][0]["history"]][-1] == "a teacher gave 1.5 in the place of 0"


def test_history_of_somebody_unknown_is_a_problem(folder: Path) -> None:
    done = run("history", folder, "ZZ99")
    assert done.exit_code == 1
    assert "[no-sheet] expected the code of a student or a sheet of this class, found 'ZZ99'" in done.output


def test_undo_takes_back_step_by_step_and_prints_every_total_that_changes(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    undo = ("undo", folder, "--who", "R. Vos", "--why", "too soon")
    first = run(*undo)
    assert first.output.splitlines()[0].startswith("Taken back: moderate of ")
    assert first.output.splitlines()[1].startswith(f"  {code}: total ")
    second = json.loads(run(*undo, "--json").output)
    assert (second["step"], second["sheets"]) == ("mark", [code])
    assert [t["after"] for t in second["totals"]] == ["none"]
    third = run(*undo)
    assert (third.exit_code, "[nothing-to-undo]" in third.output) == (1, True)
    told = run("history", folder, "HB01").output
    assert "taken back: mark of 2027-01-25" in told
    assert "now: no marks; due 2027-01-22\n" in told
    assert run("check", folder).exit_code == 0


def test_what_was_taken_back_can_be_taken_in_and_marked_again(folder: Path) -> None:
    before = run("history", folder, "HB01", "1b").output.splitlines()[-1].partition(";")[0]
    for _ in range(2):
        run("undo", folder, "--who", "R. Vos", "--why", "too soon")
    book = folder / "returned" / TASK / "HB01.xlsx"
    book.rename(book.with_name("HB01 once more.xlsx"))
    assert run("mark", folder, TASK).exit_code == 0
    assert run("history", folder, "HB01", "1b").output.splitlines()[-1].partition(";")[0] == before


def test_check_of_a_class_says_that_it_is_whole_and_finds_a_changed_mark(folder: Path) -> None:
    whole = run("check", folder)
    assert whole.exit_code == 0
    assert whole.output.splitlines()[0].endswith("2 copies; the record is whole")
    changed_behind(folder / "record.db", "UPDATE outcomes SET marks = '3' WHERE ask = '1.a'")
    changed = run("check", folder, "--json")
    assert changed.exit_code == 1
    (problem,) = json.loads(changed.output)["problems"]
    code = sheets_of(folder)["HB01"].code
    assert problem == (
        f"{folder / 'record.db'}: [mark-changed] expected marks that the journal tells, found {code} 1.a (marked): 3,"
        " where the journal says 0; look at copies/ and see witnessmark restore"
    )


@pytest.mark.parametrize("command", ["mark", "return", "review"])
def test_a_body_that_cannot_be_read_is_a_sentence_in_every_command(folder: Path, command: str) -> None:
    changed_behind(folder / "record.db", "UPDATE sheets SET student_body = '{'")
    done = run(command, folder, TASK)
    assert (done.exit_code, "[record-unreadable]" in done.output) == (1, True)
    assert isinstance(done.exception, SystemExit)
    checked = run("check", folder)
    assert (checked.exit_code, "student of sheet" in checked.output) == (1, True)


def test_restore_lists_the_copies_and_goes_back_to_one_and_forth_again(folder: Path) -> None:
    listed = run("restore", folder).output.splitlines()
    assert [line.split()[0].split("-before-")[1] for line in listed[:-1]] == ["mark", "moderate"]
    before = run("history", folder, "HB01").output
    done = run("restore", folder, listed[1].split()[0])
    assert (done.exit_code, done.output.startswith("The record is that of ")) == (0, True)
    assert "by R. Vos" not in run("history", folder, "HB01").output
    assert run("check", folder).exit_code == 0
    kept = json.loads(run("restore", folder, "--json").output)["copies"][-1]
    assert kept["before"] == "restore"
    assert run("restore", folder, kept["copy"]).exit_code == 0
    assert run("history", folder, "HB01").output == before


def test_a_record_too_damaged_to_be_opened_is_replaced_by_a_copy_and_kept(folder: Path) -> None:
    name = json.loads(run("restore", folder, "--json").output)["copies"][0]["copy"]
    (folder / "record.db").write_bytes(b"\xff" * 5000)
    assert run("check", folder).exit_code == 1
    assert run("restore", folder, name).exit_code == 0
    assert run("check", folder).exit_code == 0
    assert (folder / "copies" / "record-as-it-was.damaged").read_bytes() == b"\xff" * 5000


def test_an_unknown_copy_is_a_problem_that_names_those_there(folder: Path) -> None:
    done = run("restore", folder, "nothing")
    assert done.exit_code == 1
    assert "[no-copy] expected the name of a copy, found 'nothing'" in done.output
    assert "-before-mark" in done.output


def test_a_copy_is_kept_before_each_command_that_writes(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    with closing(sqlite3.connect(folder / "record.db")) as db:
        rows = db.execute("SELECT count(*) FROM journal").fetchone()[0]
    run("moderate", folder, code, "1b", "--marks", "0", "--why", "seen", "--who", "R. Vos")
    newest = max((folder / "copies").glob("*-before-moderate.db"), key=lambda p: p.stat().st_mtime)
    with closing(sqlite3.connect(newest)) as db:
        assert db.execute("SELECT count(*) FROM journal").fetchone()[0] == rows


def test_a_second_and_different_return_is_shown(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, {"1.a": "2 kN"}, "again.xlsx")
    (told,) = json.loads(run("mark", folder, TASK, "--json").output)["differ"]
    assert (told["sheet"], told["student"], told["answer"]) == (sheet.code, "HB01", "1a")
    assert (told["counts"]["file"], told["waits"]["file"]) == ("HB01.xlsx", "again.xlsx")
    number = told["waits"]["return"]
    assert f"witnessmark counts {folder} {sheet.code} {number} 1a" in run("mark", folder, TASK).output


def test_a_synchronised_folder_is_told_and_stops_nothing(folder: Path) -> None:
    (folder / ".stfolder").mkdir()
    done = run("mark", folder, TASK)
    assert (done.exit_code, "note: " in done.output, "[synced-folder]" in done.output) == (0, True, True)
    assert "[synced-folder]" in json.loads(run("check", folder, "--json").output)["notes"][0]


def test_a_teachers_mark_is_withdrawn_with_a_reason(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    said = ("--why", "I misread it", "--who", "R. Vos")
    assert run("moderate", folder, code, "1a", *said).exit_code == 2
    assert run("moderate", folder, code, "1a", "--withdraw", "--marks", "1", *said).exit_code == 2
    assert run("moderate", folder, code, "1a", "--withdraw", *said).exit_code == 0
    assert run("history", folder, code, "1a").output.splitlines()[-1].startswith("  now: 1a 0;")
    again = run("moderate", folder, code, "1a", "--withdraw", *said)
    assert (again.exit_code, "[not-moderated]" in again.output) == (1, True)


def test_a_record_is_exported_as_lines_of_json_with_names_where_that_is_asked(folder: Path, tmp_path: Path) -> None:
    for names in (False, True):
        file = tmp_path / f"{names}.jsonl"
        done = run("export", folder, file, *(["--names"] if names else []))
        assert done.exit_code == 0
        lines = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]
        assert done.output.startswith(f"{len(lines)} lines written")
        assert any(line.get("name") == "Idris Vael" for line in lines) is names


def test_results_that_this_program_works_out_otherwise_are_noted(folder: Path) -> None:
    code = sheets_of(folder)["HB02"].code
    with closing(sqlite3.connect(folder / "record.db")) as db:
        number, body = db.execute(
            "SELECT sheet, expected FROM variants WHERE number = 1 ORDER BY sheet DESC"
        ).fetchone()
        db.execute("UPDATE variants SET expected = '{}' WHERE number = 1 AND sheet = ?", (number,))
        assert body != "{}"
        db.commit()
    done = run("check", folder)
    assert done.exit_code == 0
    assert "[results-changed]" in done.output
    assert code not in done.output


def test_a_student_gets_a_file_with_what_is_held_and_an_unknown_one_is_told(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "HB01.jsonl"
    done = run("export", folder, file, "--student", "HB01")
    assert done.exit_code == 0, done.output
    lines = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]
    assert (lines[0]["kind"], lines[0]["code"]) == ("student", "HB01")
    assert {line["student"] for line in lines if "student" in line} == {"HB01"}
    assert {"entry", "outcome", "journal"} <= {line["kind"] for line in lines}
    assert not any(other in file.read_text(encoding="utf-8") for other in ("HB02", "LW01", "Oona"))
    assert "[no-student]" in run("export", folder, tmp_path / "none.jsonl", "--student", "ZZ99").output
    assert not (tmp_path / "none.jsonl").exists()
