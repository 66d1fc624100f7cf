"""The job `issue`: a sheet for every student, all at once; late students; nothing issued twice, nothing half."""

import shutil
from pathlib import Path

import pytest

from jobs.copied import issued_class
from jobs.small_class import (
    BANK_FOLDER,
    LATER,
    NOW,
    STUDENTS,
    TASK,
    contents,
    hand_in,
    record_lines,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from marking.students import Habit, worked
from witnessmark.files.class_folder.typed_into import LIST
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.questions.drawing.draw import count_allowed
from witnessmark.words.errors import ProblemsFound


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class whose task was issued; not to be changed."""
    return issued_class(tmp_path_factory.mktemp("issued") / "class")


def copied(source: Path, target: Path) -> Path:
    """A class of one's own, to be changed (beside a bank at the same distance)."""
    shutil.copytree(source, target)
    text = (target / "class.yaml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("bank:"))
    (target / "class.yaml").write_text(text.replace(line, f'bank: "{BANK_FOLDER.as_posix()}"'), encoding="utf-8")
    return target


def problems_of(folder: Path, task: str = TASK) -> list[str]:
    """The problems that issuing meets, as whole lines without the class's own path."""
    with pytest.raises(ProblemsFound) as raised:
        issue(folder, task, NOW)
    return [str(p).replace(str(folder), "CLASS") for p in raised.value.problems]


def test_every_student_gets_a_sheet_a_page_a_book_and_the_teacher_a_table(issued: Path) -> None:
    files = contents(issued / "issued" / TASK)
    codes = [code for code, _, _ in STUDENTS]
    expected = (
        {f"sheets/{c}.pdf" for c in codes} | {f"pages/{c}.html" for c in codes} | {f"books/{c}.xlsx" for c in codes}
    )
    assert set(files) == expected | {"class-table.xlsx", LIST}
    assert (issued / "issued" / TASK / "sheets" / "HB01.pdf").read_bytes().startswith(b"%PDF")
    assert (issued / "returned" / TASK).is_dir()


def test_no_two_students_have_the_same_numbers_and_the_record_holds_what_was_issued(issued: Path) -> None:
    sheets = sheets_of(issued)
    assert list(sheets) == [code for code, _, _ in STUDENTS]
    for n in range(2):
        assert len({sheet.variants[n].identity for sheet in sheets.values()}) == len(STUDENTS)


def test_the_g_of_a_task_stands_on_its_sheets_and_is_what_they_are_marked_by(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "class")
    write_task(folder, "[viewing-port]", more="rules: {g: 10}\n")
    issue(folder, TASK, NOW)
    page = (folder / "issued" / TASK / "pages" / "HB01.html").read_text(encoding="utf-8")
    assert "10\u00a0m/s²" in page
    assert "9.81" not in page
    for sheet in sheets_of(folder).values():
        answers = worked(sheet.variants[0], Habit(g=10.0, written=4), shows_lines=False)
        hand_in(folder, sheet, {f"1.{key}": text for key, text in answers.items()})
    outcomes = mark(folder, TASK, LATER).outcomes
    assert {o.verdict for by_key in outcomes.values() for o in by_key.values()} <= {"right", "blank"}


def test_what_travels_bears_no_name_of_a_student(issued: Path) -> None:
    for page in (issued / "issued" / TASK / "pages").iterdir():
        text = page.read_text(encoding="utf-8")
        assert not any(name in text for _, name, _ in STUDENTS)


def test_issuing_twice_writes_the_same_bytes_and_draws_nothing_new(issued: Path, tmp_path: Path) -> None:
    folder = copied(issued, tmp_path / "class")
    before, lines = contents(folder, without=["record.db"]), record_lines(folder)
    again = issue(folder, TASK, LATER)
    assert (len(again.new), len(again.before)) == (0, len(STUDENTS))
    assert contents(folder, without=["record.db"]) == before
    assert record_lines(folder) == lines


def test_the_same_class_elsewhere_gets_the_same_sheets(issued: Path, tmp_path: Path) -> None:
    elsewhere = small_class(tmp_path / "elsewhere")
    issue(elsewhere, TASK, LATER)
    assert contents(elsewhere / "issued") == contents(issued / "issued")


def test_a_late_student_gets_numbers_that_nobody_has_and_all_others_keep_theirs(issued: Path, tmp_path: Path) -> None:
    folder = copied(issued, tmp_path / "class")
    before, sheets = contents(folder / "issued" / TASK), sheets_of(folder)
    write_students(folder, [("AA01", "Late Comer", "Low Wharf"), *STUDENTS])
    again = issue(folder, TASK, LATER)
    assert [sheet.student.code for sheet in again.new] == ["AA01"]
    after = contents(folder / "issued" / TASK)
    of_all = {"class-table.xlsx", LIST}
    assert {k: v for k, v in after.items() if k in before.keys() - of_all} == {
        k: v for k, v in before.items() if k not in of_all
    }
    for number, variant in enumerate(again.new[0].variants):
        assert variant.identity not in {sheet.variants[number].identity for sheet in sheets.values()}


def test_a_student_who_left_the_list_keeps_the_sheet(issued: Path, tmp_path: Path) -> None:
    folder = copied(issued, tmp_path / "class")
    write_students(folder, STUDENTS[1:])
    issue(folder, TASK, LATER)
    assert set(sheets_of(folder)) == {code for code, _, _ in STUDENTS}
    assert (folder / "issued" / TASK / "books" / "HB01.xlsx").is_file()


def test_a_later_edit_of_the_bank_changes_nothing_that_was_issued(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(BANK_FOLDER, bank)
    folder = small_class(tmp_path / "class", bank)
    issue(folder, TASK, NOW)
    before, first = contents(folder / "issued"), sheets_of(folder)
    question = bank / "shear" / "drain-hole.yaml"
    text = question.read_text(encoding="utf-8")
    changed = text.replace("answer: tau*A_s\n", "answer: 2*tau*A_s\n").replace(
        "one of: [10, 12, 16, 20, 25]", "one of: [40]"
    )
    assert changed != text
    question.write_text(changed.replace("Find the force needed", "Work out the force"), encoding="utf-8")
    issue(folder, TASK, LATER)
    assert contents(folder / "issued") == before
    assert [s.variants[0].expected_si for s in sheets_of(folder).values()] == [
        s.variants[0].expected_si for s in first.values()
    ]


def test_where_there_is_no_class_or_no_task_that_is_said(tmp_path: Path) -> None:
    assert problems_of(tmp_path / "nowhere") == [
        "CLASS: [no-class] expected a class folder, found no such folder; witnessmark start CLASS"
    ]
    folder = small_class(tmp_path / "class")
    assert problems_of(folder, "shear-2") == [
        "CLASS/tasks/shear-2.yaml: [no-task] expected a task file, found tasks: shear-1; write shear-2.yaml there"
    ]


def test_a_task_whose_name_is_not_that_of_its_file_is_told(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "class")
    (folder / "tasks" / f"{TASK}.yaml").rename(folder / "tasks" / "winter.yaml")
    (line,) = problems_of(folder, "winter")
    found = "CLASS/tasks/winter.yaml: [task-name] expected the task winter, found task: shear-1"
    assert line == f"{found}; type task: winter, or call the file shear-1.yaml"


def test_a_task_file_that_is_no_text_is_told_by_its_place(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "class")
    (folder / "tasks" / f"{TASK}.yaml").write_bytes(b"task: shear-1\ntitle: caf\xe9\n")
    (line,) = problems_of(folder)
    assert line.startswith("CLASS/tasks/shear-1.yaml:2:11: [not-utf-8] expected text in UTF-8, found the byte E9")


def test_every_problem_of_list_and_task_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "class")
    write_task(folder, "[drain-hole, dran-hole]")
    before = contents(folder)
    (line,) = problems_of(folder)
    assert "tasks/shear-1.yaml:3:25: [unknown-question]" in line
    write_students(folder, [*STUDENTS, ("HB01", "Twice", "Heron Boats"), ("", "Nobody", "")])
    lines = problems_of(folder)
    assert [line.split("[")[1].split("]")[0] for line in lines] == ["code-twice", "no-code"]
    write_students(folder, STUDENTS)
    assert contents(folder) == before


def test_a_question_with_too_few_variants_is_told_with_its_count_before_anything_is_written(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(BANK_FOLDER, bank)
    question = bank / "shear" / "drain-hole.yaml"
    few = question.read_text(encoding="utf-8")
    for wide, narrow in (
        ("one of: [10, 12, 16, 20, 25]", "one of: [25]"),
        ("from: 1, to: 8, step: 0.5", "one of: [3, 4]"),
        (", stainless steel, marine aluminium alloy, soft copper, naval brass,\n     phosphor bronze]", "]"),
        ("row of: tool-steels}", "row of: tool-steels, rows: [oil-hardened tool steel]}"),
    ):
        assert wide in few
        few = few.replace(wide, narrow)
    question.write_text(few, encoding="utf-8")
    folder = small_class(tmp_path / "class", bank)
    (line,) = problems_of(folder)
    assert line.startswith("CLASS: [too-few-variants] expected at least 4 variants that can be told apart, found ")
    assert (
        "of question drain-hole; widen the ranges of its givens, set another question, or issue with --repeats" in line
    )
    assert not (folder / "issued").exists()
    assert sheets_of(folder) == {}


def test_the_bank_has_enough_variants_for_a_class(issued: Path) -> None:
    for variant in next(iter(sheets_of(issued).values())).variants:
        assert count_allowed(variant.question) > 100
