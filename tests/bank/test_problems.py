"""Every problem of a bank, provoked through `load_bank` on a folder and compared by whole lines."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from bank_cases import CASES, SMALL_BANK, Case, problems_of, read_cases, small_bank
from witnessmark.files.shapes import yaml_text

FILES = Path(__file__).parents[2] / "src" / "witnessmark" / "files"
READERS = (
    "shapes/yaml_text", "shapes/placed", "shapes/problems", "bank/scope", "bank/given_text", "bank/working_text",
    "bank/part_text", "bank/question_text", "bank/bundle", "bank/tables_text", "bank/misconceptions_text",
    "bank/table_text", "bank/cells_text", "bank/quantity_text",
    "bank/folder", "class_folder/task_text",
)  # fmt: skip
ADDING = {"add", "add_key", "add_at", "_add", "Problem"}
BANK_PROBLEMS = read_cases((CASES / "bank_problems.txt").read_text(encoding="utf-8"))
QUESTION = (
    b"question: q\ntitle: T\ntopic: t\nlevel: 1\nsetting: S\nfind: {a: {ask: A, hand: [{criterion: C, marks: 1}]}}\n"
)


def test_the_small_bank_itself_has_no_problems() -> None:
    assert problems_of(SMALL_BANK) == []


@pytest.mark.parametrize("case", BANK_PROBLEMS, ids=[case.name for case in BANK_PROBLEMS])
def test_a_problem_says_where_what_was_expected_what_was_found_and_what_to_type(case: Case, tmp_path: Path) -> None:
    assert problems_of(small_bank(tmp_path, case)) == list(case.says)


@pytest.mark.parametrize("case", BANK_PROBLEMS, ids=[case.name for case in BANK_PROBLEMS])
def test_a_problem_stands_inside_its_file(case: Case, tmp_path: Path) -> None:
    bank = small_bank(tmp_path, case)
    for said in problems_of(bank):
        name, line, column = ([*said.split(" ")[0].split(":"), "", ""])[:3]
        if column:
            lines = ((bank / name).read_text(encoding="utf-8") + " ").split("\n")
            assert 1 <= int(line) <= len(lines)
            assert 1 <= int(column) <= len(lines[int(line) - 1]) + 1


def test_a_bank_that_is_not_there_is_one_problem(tmp_path: Path) -> None:
    said = "bank: [no-bank] expected a folder of question files, found nothing; type the path of the bank"
    assert problems_of(tmp_path / "nowhere") == [said]


def test_a_bank_that_is_a_file_is_one_problem(tmp_path: Path) -> None:
    (tmp_path / "b").write_text("")
    said = "bank: [no-bank] expected a folder of question files, found a file; type the path of the bank"
    assert problems_of(tmp_path / "b") == [said]


def test_a_folder_without_questions_is_one_problem(tmp_path: Path) -> None:
    said = "bank: [no-questions] expected question files (.yaml), found none; write the first one there"
    assert problems_of(tmp_path) == [said]


def test_a_file_that_is_not_utf_8_says_which_byte(tmp_path: Path) -> None:
    (tmp_path / "q.yaml").write_bytes(QUESTION.replace(b"title: T", b"title: T\xfcr"))
    said = "q.yaml:2:9: [not-utf-8] expected text in UTF-8, found the byte 0xfc; save the file as UTF-8"
    assert problems_of(tmp_path) == [said]


def test_a_mark_of_byte_order_and_windows_line_ends_are_read(tmp_path: Path) -> None:
    (tmp_path / "q.yaml").write_bytes(b"\xef\xbb\xbf" + QUESTION.replace(b"\n", b"\r\n"))
    assert problems_of(tmp_path) == []


def test_a_folder_with_the_name_of_a_file_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / "q.yaml").mkdir()
    assert problems_of(tmp_path) == [
        "q.yaml: [no-file] expected a file that can be read, found a folder; put an ordinary file there"
    ]


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "q.yaml").write_text("#" * (yaml_text.LARGEST + 1))
    said = "q.yaml: [file-too-large] expected at most 1000000 characters, found 1000001; split the file"
    assert problems_of(tmp_path) == [said]


def test_every_code_of_the_readers_is_provoked() -> None:
    told = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("*.py"))
    told += (Path(__file__).parents[1] / "jobs" / "test_authoring.py").read_text(encoding="utf-8")
    told += "".join((CASES / f"{name}_problems.txt").read_text(encoding="utf-8") for name in ("bank", "task", "table"))
    missing = {code for reader in READERS for code in _codes(FILES / f"{reader}.py") if f"[{code}]" not in told}
    assert missing == set()


def _codes(file: Path) -> Iterator[str]:
    """The first argument of every call that adds a problem, where it is written out."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and node.args:
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if name in ADDING:
                first = node.args[0]
                choices = [first.body, first.orelse] if isinstance(first, ast.IfExp) else [first]
                yield from (c.value for c in choices if isinstance(c, ast.Constant) and isinstance(c.value, str))
