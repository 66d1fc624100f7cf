"""Statistics of a class against published test data: section 6 of the Law School Admission Test, 1000 persons, 5 items.

Counts of the 32 patterns of right and wrong: R. D. Bock and M. Lieberman (1970), Psychometrika 35, 179-197, as in
vincentarelbundock/Rdatasets, csv/psych/bock.table.csv (confirmed). Shares right and the frequencies of totals: D.
Rizopoulos (2006), Journal of Statistical Software 17(5) (from memory; they follow from the confirmed counts).
"""

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest

from bank_fixture import BANK
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.review.class_review import ClassReview, class_review

# Patterns 00000 to 11111 in binary order, the first item first.
COUNTS = (
    3, 6, 2, 11, 1, 1, 3, 4, 1, 8, 0, 16, 0, 3, 2, 15, 10, 29, 14, 81, 3, 28, 15, 80, 16, 56, 21, 173, 11, 61, 28, 298,
)  # fmt: skip
RIGHT = ("0.924", "0.709", "0.553", "0.763", "0.870")
PERSONS = [pattern for pattern, count in zip(product((0, 1), repeat=5), COUNTS, strict=True) for _ in range(count)]

ITEM = BANK["air-receiver"].draw("an item with one part and no lines")
ITEMS = tuple(replace(ITEM, question=replace(ITEM.question, key=f"item-{n}")) for n in range(1, 6))
TASK = Task("items", "Five items", tuple(item.question.key for item in ITEMS))


def sheet(person: int) -> Sheet:
    """The sheet of one person: five questions of one kind, since only the marks matter here."""
    return Sheet(f"{person:04d}", TASK, Student(f"p{person:04d}", ""), ITEMS)


def outcome(right: int, out_of: Decimal = Decimal(1)) -> Outcome:
    """Everything or nothing."""
    return Outcome(out_of * right, out_of, Verdict.RIGHT if right else Verdict.UNEXPLAINED, "")


def reviewed(persons: list[tuple[int, ...]], absent: int = 0) -> ClassReview:
    """The review of these persons, and of as many more who returned nothing."""
    sheets = [sheet(i) for i in range(len(persons) + absent)]
    outcomes = {
        sheets[i].code: {ask.key: outcome(right) for ask, right in zip(sheets[i].asks, pattern, strict=True)}
        for i, pattern in enumerate(persons)
    }
    return class_review("Five items", sheets, outcomes, BANK.misconceptions)


REVIEW = reviewed(PERSONS)


@pytest.mark.parametrize(("item", "published"), list(enumerate(RIGHT)))
def test_the_facility_of_an_item_is_the_published_share_right(item: int, published: str) -> None:
    assert f"{REVIEW.facilities[item].facility:.3f}" == published


def test_each_item_stands_in_the_order_of_the_sheet_with_its_verdicts_counted() -> None:
    assert [f.label for f in REVIEW.facilities] == ["1a", "2a", "3a", "4a", "5a"]
    counts = [dict(f.verdicts) for f in REVIEW.facilities]
    assert [c[Verdict.RIGHT] for c in counts] == [924, 709, 553, 763, 870]
    assert all(sum(c.values()) == 1000 for c in counts)


def test_the_facilities_add_up_to_the_published_mean_total() -> None:
    assert f"{sum(f.facility or 0 for f in REVIEW.facilities):.3f}" == "3.819"


def test_the_totals_of_the_persons_are_the_published_frequencies() -> None:
    totals = Counter(sum(pattern) for pattern in PERSONS)
    assert [totals[score] for score in range(6)] == [3, 20, 85, 237, 357, 298]


def test_those_who_returned_nothing_do_not_change_a_facility() -> None:
    with_absent = reviewed(PERSONS[:100], absent=40)
    assert [f.facility for f in with_absent.facilities] == [f.facility for f in reviewed(PERSONS[:100]).facilities]
    assert (with_absent.issued, with_absent.returned, len(with_absent.outstanding)) == (140, 100, 40)


def test_a_facility_does_not_depend_on_how_many_marks_an_item_carries() -> None:
    sheets = [sheet(i) for i in range(200)]
    patterns = PERSONS[::5]
    outcomes = {
        s.code: {ask.key: outcome(right, Decimal("2.5")) for ask, right in zip(s.asks, pattern, strict=True)}
        for s, pattern in zip(sheets, patterns, strict=True)
    }
    heavy = class_review("Five items", sheets, outcomes, BANK.misconceptions)
    assert [f.facility for f in heavy.facilities] == pytest.approx([f.facility for f in reviewed(patterns).facilities])
    assert [f.out_of for f in heavy.facilities] == [Decimal("2.5")] * 5
