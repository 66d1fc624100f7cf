"""What coming late costs, worked by hand beside each case: invented rules, plain arithmetic."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from searching import examples
from witnessmark.questions.sheet.lateness import Each, Late, days_late

D = Decimal


@pytest.mark.parametrize(
    ("rule", "earned", "days", "off"),
    [
        (Late(), "7", 30, "0"),
        (Late(marks=D(2)), "7", 0, "0"),
        (Late(marks=D(2)), "7", 9, "2"),
        (Late(marks=D(2)), "1.5", 9, "1.5"),  # never more than was earned
        (Late(marks=D(1), each=Each.DAY), "7", 3, "3"),
        (Late(marks=D(1), each=Each.DAY, most=D("2.5")), "7", 3, "2.5"),
        (Late(marks=D(1), each=Each.WEEK), "7", 7, "1"),
        (Late(marks=D(1), each=Each.WEEK), "7", 8, "2"),  # the second week has begun
        (Late(share=D("0.1")), "7", 1, "0.5"),  # 0.7, rounded down to halves
        (Late(share=D("0.1"), each=Each.DAY), "10", 3, "3"),
        (Late(share=D("0.5"), each=Each.DAY), "10", 3, "10"),  # 150 % is all of it
    ],
)  # fmt: skip
def test_a_rule_takes_off_what_it_says(rule: Late, earned: str, days: int, off: str) -> None:
    assert rule.off(D(earned), days) == D(off)


def test_whole_marks_stay_whole() -> None:
    assert Late(share=D("0.25")).off(D(7), 1, half_marks=False) == 1  # 1.75


@pytest.mark.parametrize(
    "wrong", [{"marks": D(1), "share": D("0.1")}, {"share": D(2)}, {"marks": D(2), "most": D(1)}, {"marks": D(-1)}]
)
def test_a_rule_that_makes_no_sense_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="expected"):
        Late(**wrong)


@examples(100)
@given(
    st.sampled_from(Each), st.integers(0, 10), st.booleans(), st.integers(0, 40), st.integers(0, 60), st.integers(0, 9)
)
def test_a_later_day_never_earns_more(
    each: Each, tenths: int, by_share: bool, halves: int, days: int, more: int
) -> None:
    rule = Late(share=D(tenths) / 10, each=each) if by_share else Late(marks=D(tenths) / 2, each=each)
    earned = D(halves) / 2
    first, second = rule.off(earned, days), rule.off(earned, days + more)
    assert 0 <= first <= second <= earned
    assert first % D("0.5") == 0


def test_days_are_counted_over_months_and_leap_days() -> None:
    assert days_late(date(2028, 3, 1), date(2028, 2, 28)) == 2  # 2028 is a leap year
    assert days_late(date(2028, 2, 28), date(2028, 3, 1)) == 0
    assert days_late(None, date(2028, 3, 1)) == days_late(date(2028, 3, 1), None) == 0
