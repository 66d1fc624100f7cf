"""Task files of a class: values, defaults, and problems compared by whole lines."""

from datetime import date
from decimal import Decimal

import pytest

from bank_cases import CASES, Case, read_cases
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.questions.sheet.task import Rules, Task

KEYS = ("drain-hole", "keel-bolt")
PROBLEMS = read_cases((CASES / "task_problems.txt").read_text(encoding="utf-8"))
PLAIN = "task: shear-1\ntitle: Shear and punching\nquestions: [drain-hole]\n"


def _said(text: str) -> list[str]:
    task, problems = task_from_text(text, "t.yaml", KEYS)
    assert (task is None) == bool(problems)
    return [str(problem) for problem in problems]


def test_the_example_of_the_design_is_read() -> None:
    task, problems = task_from_text(PLAIN + "due: 2027-03-05\nrules: {figures: 3}\n", "t.yaml", KEYS)
    assert problems == ()
    assert task == Task("shear-1", "Shear and punching", ("drain-hole",), date(2027, 3, 5), Rules(figures=3))


def test_rules_left_out_are_those_of_the_design() -> None:
    task, _ = task_from_text(PLAIN, "t.yaml", KEYS)
    assert task is not None
    assert task.rules == Rules()
    assert task.due is None


def test_every_rule_can_be_set() -> None:
    rules = (
        "rules: {figures: 4, carried forward: false, unit missing: 1, rounded early: 0, wrong unit: 2,"
        " power of ten: 0.5, unknown method: 1.5, figures mark: 0.5, half marks: true, ask below: 0.75}\n"
    )
    task, problems = task_from_text(PLAIN + rules, "t.yaml", KEYS)
    assert problems == ()
    assert task is not None
    amounts = (Decimal(1), Decimal(0), Decimal(2), Decimal("0.5"), Decimal("1.5"), Decimal("0.5"))
    assert task.rules == Rules(4, False, *amounts, True, 0.75)


@pytest.mark.parametrize("case", PROBLEMS, ids=[case.name for case in PROBLEMS])
def test_a_problem_of_a_task_is_a_whole_line(case: Case) -> None:
    text = PLAIN
    for _, old, new in case.changes:
        assert old in text
        text = text.replace(old, new) if old else new
    assert _said(text) == list(case.says)
