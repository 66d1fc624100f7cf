"""Removal searches what stands in files, deletes nobody else's work, and goes on where it was interrupted."""

import random
import re
import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from jobs import interrupting
from jobs.copied import copied, issued_class
from jobs.small_class import LATER, TASK, contents, hand_in, right_answers, sheets_of
from witnessmark.cli.main import main
from witnessmark.files.safe import atomic
from witnessmark.files.safe.contents import texts_in
from witnessmark.jobs import removing
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.removing import planned, remove
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.questions.sheet.class_table_columns import PAGE
from witnessmark.words.errors import ProblemsFound


def handed_in(folder: Path) -> None:
    """A class in which everybody handed in; the book of LW01 was saved as HB02.xlsx, that of HB02 under other names."""
    issued_class(folder)
    sheets = sheets_of(folder)
    hand_in(folder, sheets["HB01"], right_answers(sheets["HB01"]))
    hand_in(folder, sheets["HB02"], right_answers(sheets["HB02"]), "from the yard.xlsx")
    hand_in(folder, sheets["HB02"], {"1.a": "1 kN"}, "HB02.old/again.xlsx")
    hand_in(folder, sheets["LW01"], right_answers(sheets["LW01"]), "HB02.xlsx")
    hand_in(folder, sheets["LW02"], right_answers(sheets["LW02"]), "HB02.old/LW02.xlsx")
    mark(folder, TASK, LATER)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """That class, to be changed."""
    return copied(handed_in, tmp_path / "class")


def returned(folder: Path) -> set[str]:
    """The files that came back, by path."""
    return {p.relative_to(folder / "returned" / TASK).as_posix() for p in folder.rglob("returned/**/*") if p.is_file()}


def test_what_would_go_is_listed_first_and_nothing_is_touched(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    review(folder, TASK)
    before = contents(folder)
    done = CliRunner().invoke(main, ["remove", str(folder), "HB02"])
    assert done.exit_code == 0, done.output
    assert contents(folder) == before
    assert "HB02 Oona Brisk: 1 sheet, 2 returns, " in done.output
    assert "nothing is touched without --apply" in done.output
    for path in (f"feedback/{TASK}/HB02.pdf", f"issued/{TASK}/books/HB02.xlsx", f"gradebook-{TASK}.xlsx"):
        assert f"  {folder / path}\n" in done.output
    shown = planned(folder, "HB02")
    after = remove(folder, "HB02", "K. Dekker", LATER)
    assert (after.sheets, after.returns, after.marks, after.files) == (
        shown.sheets, shown.returns, shown.marks, shown.files,
    )  # fmt: skip
    assert {path.name for path in after.copies} == {path.name for path in shown.copies}


def test_nobody_is_removed_without_a_name_of_who_decides(folder: Path) -> None:
    before = contents(folder)
    with pytest.raises(ProblemsFound, match="no-reason"):
        remove(folder, "HB02", " ", LATER)
    assert contents(folder) == before


def test_documents_of_the_class_are_written_anew_without_the_student(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    review(folder, TASK)
    code = sheets_of(folder)["HB02"].code
    names = (f"gradebook-{TASK}.xlsx", f"review-{TASK}.html", f"review-{TASK}.json", f"issued/{TASK}/class-table.xlsx")
    assert all(texts_in(folder / name, {"HB02", code}) for name in names)
    done = remove(folder, "HB02", "K. Dekker", LATER)
    assert set(done.anew) == {folder / name for name in names}
    assert {name: texts_in(folder / name, {"HB02", "Oona", code}) for name in names} == dict.fromkeys(
        names, frozenset()
    )
    page = load_workbook(folder / names[0])["Answers"]
    assert {row[0] for row in page.iter_rows(min_row=2, values_only=True)} == {"HB01", "LW01", "LW02"}
    assert return_feedback(folder, TASK, LATER).kept == (), "it is known again as written by the program"


def test_a_gradebook_that_somebody_typed_into_is_told_before_it_goes(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    book = folder / f"gradebook-{TASK}.xlsx"
    assert not any("typed into it" in line for line in planned(folder, "HB02").by_hand)
    edited = load_workbook(book)
    edited["Answers"]["H2"] = 1
    edited.save(book)
    assert any(line.startswith(f"{book}: somebody typed into it") for line in planned(folder, "HB02").by_hand)


def test_a_plan_of_visits_that_names_the_student_is_listed_and_told_where_it_cannot_be_written_anew(
    folder: Path,
) -> None:
    visits = folder / "visits"
    visits.mkdir()
    (visits / "Hull.html").write_text("<p>Oona Brisk, HB02</p>", encoding="utf-8")
    (visits / "Hull.pdf").write_bytes(b"%PDF-1.7 (words that are packed)")
    (visits / "Loft.html").write_text("<p>LW01</p>", encoding="utf-8")
    plans = {visits / "Hull.html", visits / "Hull.pdf"}
    assert plans <= set(planned(folder, "HB02").anew)
    told = remove(folder, "HB02", "K. Dekker", LATER).by_hand
    assert {line.split(":")[0] for line in told if "was deleted, not written anew" in line} == set(map(str, plans))
    assert [path.name for path in visits.iterdir()] == ["Loft.html"]


def test_books_are_found_by_what_stands_in_them_and_nobody_elses_goes(folder: Path) -> None:
    done = remove(folder, "HB02", "K. Dekker", LATER)
    assert returned(folder) == {"HB01.xlsx", "HB02.xlsx", "HB02.old/LW02.xlsx"}
    lw01 = sheets_of(folder)["LW01"].code
    place = folder / "returned" / TASK / "HB02.xlsx"
    assert f"{place}: has the student's code as its name, but holds {lw01}; it was left" in done.by_hand


def test_a_photo_under_the_students_code_and_a_table_of_several_are_left_to_a_person(folder: Path) -> None:
    photo, table = folder / "returned" / TASK / "HB02.jpg", folder / "returned" / TASK / "paper.csv"
    photo.write_bytes(b"\xff\xd8\xff\xe0")
    codes = {code: sheet.code for code, sheet in sheets_of(folder).items()}
    table.write_text(f"sheet,1a\n{codes['HB02']},1 kN\n{codes['LW01']},2 kN\n", encoding="utf-8")
    notes = folder / "notes.txt"
    notes.write_text("Oona Brisk asked for another slug", encoding="utf-8")
    done = remove(folder, "HB02", "K. Dekker", LATER)
    assert f"{photo}: has the student's code as its name; see whose it is" in done.by_hand
    assert f"{table}: holds the student's lines beside those of others; delete them there" in done.by_hand
    assert f"{notes}: holds the student's name" in done.by_hand
    assert photo.exists()
    assert table.exists()


def test_a_class_table_goes_where_nobody_typed_into_it_and_is_left_to_a_person_where_somebody_did(folder: Path) -> None:
    table = folder / "issued" / TASK / "class-table.xlsx"
    typed = table.with_name("class-table-2.xlsx")
    book = load_workbook(table)
    page = book[PAGE]
    headings = [cell.value for cell in page[1]]
    page.cell(row=4, column=headings.index("1a") + 1, value="94.2 kN")
    book.save(typed)
    done = remove(folder, "HB02", "K. Dekker", LATER)
    assert table in done.files
    assert typed.exists()
    assert f"{typed}: holds the student's lines beside those of others; delete them there" in done.by_hand


def test_a_reason_that_names_the_student_is_told(folder: Path) -> None:
    moderate(folder, sheets_of(folder)["HB01"].code, "1a", "1", "worked with Oona Brisk", "K. Dekker", LATER)
    done = remove(folder, "HB02", "K. Dekker", LATER)
    # that reason, and the book of LW01, which was saved as HB02.xlsx
    assert any(line.startswith(f"{folder / 'record.db'}: 2 rows of the journal") for line in done.by_hand)


def test_nothing_of_the_student_is_left_in_any_file_but_what_was_told(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    code = sheets_of(folder)["HB02"].code
    remove(folder, "HB02", "K. Dekker", LATER)
    left = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    assert [p for p, data in left.items() if b"Oona" in data or code.encode() in data] == []
    assert not [p for p in left if p.name.endswith(".part") or p.name == ".removing.json"]


def test_a_stage_that_was_decided_does_not_bring_the_student_back(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(_folder: Path, _stage: Path) -> list[str]:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(atomic, "_carry_out", killed)
        with pytest.raises(KeyboardInterrupt):
            return_feedback(folder, TASK, LATER)
    part = folder / "issued" / f".{'ab' * 8}.part"
    part.write_bytes(b"Oona Brisk")
    assert list(folder.glob(".together-*"))
    remove(folder, "HB02", "K. Dekker", LATER)
    assert not list(folder.rglob(".together-*"))
    assert not part.exists()
    assert not (folder / "feedback" / TASK / "HB02.pdf").exists()
    assert (folder / "feedback" / TASK / "HB01.pdf").exists()


STEPS = ("_delete_files", "_mentions", "_strike_from_list")


@pytest.mark.parametrize("step", STEPS)
def test_an_interrupted_removal_goes_on_and_nothing_else_runs_before(
    folder: Path, step: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole, after = getattr(removing, step), {}

    def killed(*arguments: object) -> object:
        if step == "_strike_from_list":
            whole(*arguments)  # the student is in no list any more
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(removing, step, killed)
        with pytest.raises(KeyboardInterrupt):
            remove(folder, "HB02", "K. Dekker", LATER)
    with pytest.raises(ProblemsFound) as caught:
        return_feedback(folder, TASK, LATER)
    assert str(caught.value) == (
        f"{folder}: [removal-unfinished] expected no removal under way, found that of HB02, which was interrupted;"
        f" witnessmark remove {folder} HB02 --who NAME --apply"
    )
    assert remove(folder, "HB02", "K. Dekker", LATER).student == "HB02"
    after = contents(folder)
    assert not [p for p in after if re.search(r"HB02\.(pdf|html)|books/HB02", p)]
    assert "HB02" not in (folder / "students.csv").read_text(encoding="utf-8")
    return_feedback(folder, TASK, LATER)


def test_an_archive_is_looked_through_and_a_file_among_the_copies_is_told(folder: Path) -> None:
    back = folder / "returned" / TASK
    mine, several = back / "mail.zip", back / "both.zip"
    for archive, names in ((mine, ["from the yard.xlsx"]), (several, ["from the yard.xlsx", "HB01.xlsx"])):
        with zipfile.ZipFile(archive, "w") as package:
            for name in names:
                package.write(back / name, name)
    odd, damaged = folder / "copies" / "mine.db", folder / "copies" / "record-as-it-was.damaged"
    odd.write_bytes(b"x")
    damaged.write_bytes(b"Oona Brisk")
    done = remove(folder, "HB02", "K. Dekker", LATER)
    assert mine in done.files
    assert f"{several}: holds the student's lines beside those of others; delete them there" in done.by_hand
    assert f"{odd}: see whether it is a copy of the record" in done.by_hand
    assert not damaged.exists()


def test_a_removal_killed_at_any_step_is_finished_by_a_second_call(folder: Path, tmp_path: Path) -> None:
    return_feedback(folder, TASK, LATER)
    done = tmp_path / "done"
    shutil.copytree(folder, done)
    steps = interrupting.run("remove", done)
    lines, files = interrupting.state(done)
    assert steps > 10
    for stop_at in sorted(random.Random("remove").sample(range(1, steps), 5)):
        stopped = tmp_path / f"stopped at {stop_at}"
        shutil.copytree(folder, stopped)
        assert interrupting.run("remove", stopped, stop_at) == 0
        interrupting.run("remove", stopped)
        after = interrupting.state(stopped)
        assert (after[1], [line for line in after[0] if '"removed"' not in line]) == (
            files, [line for line in lines if '"removed"' not in line],
        ), stop_at  # fmt: skip
        assert not [p for p in stopped.rglob("*") if p.is_file() and b"Oona" in p.read_bytes()], stop_at
        assert not [p for p in stopped.rglob("*") if p.name.endswith(".part")], stop_at
