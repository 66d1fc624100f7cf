"""Files of a class that want more than they may: each function spoils one of `folder`, a class, or of its `bank`."""

import os
import shutil
from pathlib import Path

TITLE = "t" * 100_000


def _students(folder: Path, text: str) -> None:
    (folder / "students.csv").write_text(text, encoding="utf-8")


def _task(folder: Path, more: str, title: str = "Shear") -> None:
    text = f"task: shear-1\ntitle: {title}\nquestions: [drain-hole]\n{more}"
    (folder / "tasks" / "shear-1.yaml").write_text(text, encoding="utf-8")


def students_a_pipe(folder: Path, bank: Path) -> None:
    (folder / "students.csv").unlink()
    os.mkfifo(folder / "students.csv")


def students_a_device(folder: Path, bank: Path) -> None:
    (folder / "students.csv").unlink()
    (folder / "students.csv").symlink_to("/dev/zero")


def students_of_eight_gigabytes(folder: Path, bank: Path) -> None:
    with (folder / "students.csv").open("r+b") as file:
        file.truncate(8_000_000_000)


def students_a_folder(folder: Path, bank: Path) -> None:
    (folder / "students.csv").unlink()
    (folder / "students.csv").mkdir()


def students_without_codes(folder: Path, bank: Path) -> None:
    _students(folder, "code,name,group\n" + "?,x,y\n" * 380_000)


def students_of_one_code(folder: Path, bank: Path) -> None:
    _students(folder, "code,name,group\n" + "A1,x,y\n" * 300_000)


def students_of_a_million_cells(folder: Path, bank: Path) -> None:
    _students(folder, "code,name,group\nA1" + "," * 2_000_000)


def a_name_of_a_million_letters(folder: Path, bank: Path) -> None:
    _students(folder, "code,name,group\nA1," + "n" * 1_000_000 + ",y\n")


def a_class_file_that_is_a_pipe(folder: Path, bank: Path) -> None:
    (folder / "class.yaml").unlink()
    os.mkfifo(folder / "class.yaml")


def a_class_file_without_end(folder: Path, bank: Path) -> None:
    (folder / "class.yaml").unlink()
    (folder / "class.yaml").symlink_to("/dev/zero")


def a_title_of_a_hundred_thousand_characters(folder: Path, bank: Path) -> None:
    text = (folder / "class.yaml").read_text(encoding="utf-8")
    (folder / "class.yaml").write_text(text.replace("First years", TITLE), encoding="utf-8")


def a_bank_that_is_a_device(folder: Path, bank: Path) -> None:
    (folder / "class.yaml").write_text("class: a\nbank: /dev/zero\n", encoding="utf-8")


def a_bank_with_a_path_too_long(folder: Path, bank: Path) -> None:
    (folder / "class.yaml").write_text(f"class: a\nbank: {'b' * 5000}\n", encoding="utf-8")


def a_task_that_is_a_pipe(folder: Path, bank: Path) -> None:
    (folder / "tasks" / "shear-1.yaml").unlink()
    os.mkfifo(folder / "tasks" / "shear-1.yaml")


def a_task_that_is_a_folder(folder: Path, bank: Path) -> None:
    (folder / "tasks" / "shear-1.yaml").unlink()
    (folder / "tasks" / "shear-1.yaml").mkdir()


def a_task_title_of_a_hundred_thousand_characters(folder: Path, bank: Path) -> None:
    _task(folder, "", TITLE)


def a_task_of_ten_thousand_questions(folder: Path, bank: Path) -> None:
    text = f"task: shear-1\ntitle: a\nquestions: [{', '.join(['drain-hole'] * 10_000)}]\n"
    (folder / "tasks" / "shear-1.yaml").write_text(text, encoding="utf-8")


def a_rule_without_end(folder: Path, bank: Path) -> None:
    _task(folder, "rules: {wrong unit: 1e99}\n")


def lists_inside_each_other(folder: Path, bank: Path) -> None:
    _task(folder, "rules: " + "[" * 100_000)


def aliases_that_multiply(folder: Path, bank: Path) -> None:
    _task(folder, "a: &a [x,x]\nb: &b [*a,*a]\nc: [*b,*b]\n")


def a_tag_that_makes_an_object(folder: Path, bank: Path) -> None:
    _task(folder, "due: !!python/object/apply:os.system ['touch /tmp/witnessmark-ran']\n")


def a_record_that_is_none(folder: Path, bank: Path) -> None:
    (folder / "record.db").write_bytes(b"no database" * 1000)


def a_record_that_is_a_folder(folder: Path, bank: Path) -> None:
    shutil.rmtree(folder / "record.db", ignore_errors=True)
    (folder / "record.db").unlink(missing_ok=True)
    (folder / "record.db").mkdir()
