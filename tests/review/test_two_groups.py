"""Fisher's exact test, and what it says of a class whose variants were, or were not, equally hard."""

from datetime import date
from decimal import Decimal

import numpy as np
import pytest
import scipy.stats

from bank_fixture import BANK
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.sheet.task import Ask, Sheet, Student, Task
from witnessmark.review.statistics.two_groups import fisher_exact
from witnessmark.review.year.alike import Alike, alike
from witnessmark.review.year.history import SetTask

STUDENTS = 24
QUESTION = BANK["drain-hole"]
TASK = Task("t", "T", ("drain-hole",))
SHEETS = tuple(Sheet(f"{n:04}", TASK, Student(f"S{n:02}", ""), (QUESTION.draw(f"alike {n}"),)) for n in range(STUDENTS))
ASKED = [(1, part) for part in QUESTION.parts]


def test_the_lady_who_tastes_tea_first_or_milk() -> None:
    """R. A. Fisher (1935), The Design of Experiments, ch. 2: three of four or better comes in 16 + 1 of 70 ways."""
    assert fisher_exact(3, 4, 1, 4) == pytest.approx(34 / 70)  # both sides: 17 of 70 each
    assert fisher_exact(4, 4, 0, 4) == pytest.approx(2 / 70)


def test_every_table_of_two_small_groups_is_as_in_scipy() -> None:
    for n, m in ((1, 1), (3, 7), (12, 12), (9, 15)):
        for a in range(n + 1):
            for b in range(m + 1):
                expected = scipy.stats.fisher_exact([[a, n - a], [b, m - b]]).pvalue
                assert fisher_exact(a, n, b, m) == pytest.approx(expected, rel=1e-9), (a, n, b, m)


def test_more_than_there_are_is_refused() -> None:
    with pytest.raises(ValueError, match="5 of 4"):
        fisher_exact(5, 4, 1, 4)


def looked_at(full: np.ndarray) -> Alike:
    """A class in which these students (rows) have all marks at these parts (columns)."""
    outcomes = {
        sheet.code: {
            Ask(1, part).key: Outcome(part.marks * int(got), part.marks, Verdict.RIGHT if got else Verdict.SLIP, "")
            for part, got in zip(QUESTION.parts, row, strict=True)
        }
        for sheet, row in zip(SHEETS, full, strict=True)
    }
    return alike(SetTask("t", "T", date(2027, 1, 4), SHEETS, outcomes), ASKED, 20)


def test_numbers_that_were_harder_are_found_and_the_part_is_named() -> None:
    force = np.array([sheet.variants[0].expected_si["a"] for sheet in SHEETS])
    full = np.ones((STUDENTS, len(ASKED)), dtype=bool)
    full[:, 0] = force < np.median(force)
    found = looked_at(full)
    assert [one.label for one in found.apart] == ["1a"]
    assert (found.apart[0].smaller, found.apart[0].larger) == (12, 0)
    assert [one.label for one in found.halves] == ["1a", "1b"], "a yes or no has no size"


def test_where_all_numbers_are_equally_hard_at_most_one_task_in_20_says_otherwise() -> None:
    chance = np.random.default_rng(20271128)
    called = sum(bool(looked_at(chance.random((STUDENTS, len(ASKED))) < 0.5).apart) for _ in range(400))
    assert called <= 20


def test_of_fewer_than_twenty_nothing_is_said() -> None:
    outcomes = {s.code: {"1.a": Outcome(Decimal(3), Decimal(3), Verdict.RIGHT, "")} for s in SHEETS[:19]}
    assert alike(SetTask("t", "T", date(2027, 1, 4), SHEETS, outcomes), ASKED, 20).halves == ()
