"""Every problem of a table in a question file, at its place; made of the example of bank/README.md by one change."""

import pytest

from bank.test_format_page import EXAMPLES
from bank_cases import CASES as FOLDER
from bank_cases import Case, read_cases
from witnessmark.files.bank.question_text import question_from_text

CORD = EXAMPLES["testing/stretch-of-a-cord.yaml"]
CASES = read_cases((FOLDER / "table_problems.txt").read_text(encoding="utf-8"))


def problems(text: str) -> list[str]:
    return [str(problem) for problem in question_from_text(text, "q.yaml", {})[1]]


def test_the_example_has_no_problem() -> None:
    assert problems(CORD) == []


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_a_problem_of_a_table_is_told_once_at_its_place(case: Case) -> None:
    ((_, old, new),) = case.changes
    assert CORD.count(old) == 1
    assert problems(CORD.replace(old, new)) == list(case.says)


def test_a_find_for_each_row_without_a_table_is_told() -> None:
    start, end = CORD.index("table:\n"), CORD.index("keep:\n")
    alone = CORD[:start] + CORD[CORD.index("find:\n") :]
    assert end > start
    assert "q.yaml:12:5: [no-table] expected a table: with rows, found none; add table:" in problems(alone)


def test_what_nobody_is_told_cannot_be_asked_back() -> None:
    for name in ("k", "y_1_scatter"):
        said = problems(CORD.replace("answer: mean(u)", f"answer: mean(u) + 0*{name}"))
        assert len(said) == 1
        assert said[0].startswith("q.yaml:44:25: [unknown-name]"), said


def test_a_function_that_is_none_is_answered_with_all_that_there_are() -> None:
    said = problems(CORD.replace("answer: mean(u)", "answer: average(u)"))
    assert "log10, mean, median, slope, spread" in said[0]
