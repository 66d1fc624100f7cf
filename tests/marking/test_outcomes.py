"""What an outcome may say of marks and how sure it is, and which outcomes wait for the teacher."""

from dataclasses import replace
from decimal import Decimal

import pytest

from witnessmark.marking.kinds.hand import for_the_teacher
from witnessmark.marking.kinds.without_numbers import blank, unreadable
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.questions.model.parts import HandPart

D = Decimal
SKETCH = HandPart("a", "Sketch the scarf.", D(3), criteria=(("the slope is shown", D(2)), ("it is named", D(1))))
RIGHT = Outcome(D(3), D(3), Verdict.RIGHT, "Right.")


def test_an_outcome_is_sure_unless_it_says_otherwise_and_an_explanation_is_not() -> None:
    assert RIGHT.sure == 1
    assert Explanation(Verdict.SLIP, ("lead-is-wood",), D(1), "so it arises").sure == 0


@pytest.mark.parametrize("marks", [D("-0.5"), D("3.5"), D("NaN"), D("Infinity"), 3.0])
def test_no_outcome_has_marks_below_nothing_or_above_what_there_are_or_that_are_inexact(marks: Decimal) -> None:
    with pytest.raises(ValueError, match="marks: expected"):
        replace(RIGHT, marks=marks)


@pytest.mark.parametrize("out_of", [D("NaN"), D("Infinity"), 3.0])
def test_no_outcome_is_out_of_marks_that_are_none(out_of: Decimal) -> None:
    with pytest.raises(ValueError, match="out_of: expected"):
        replace(RIGHT, marks=D(0), out_of=out_of)


@pytest.mark.parametrize("sure", [-0.01, 1.01, float("nan")])
def test_nothing_is_surer_than_sure_or_less_than_not_at_all(sure: float) -> None:
    explained = Explanation(Verdict.SLIP, (), D(1), "so it arises")
    for made in (RIGHT, explained):
        with pytest.raises(ValueError, match="sure: expected a number from 0 to 1"):
            replace(made, sure=sure)


def test_an_explanation_keeps_no_marks_below_nothing() -> None:
    with pytest.raises(ValueError, match="marks: expected"):
        Explanation(Verdict.SLIP, (), D(-1), "so it arises")


@pytest.mark.parametrize(("verdict", "tray", "waits"), [
    (Verdict.UNREADABLE, ("could not be read",), True), (Verdict.UNEXPLAINED, ("no known method",), True),
    (Verdict.OTHER_SHEET, ("equal to another sheet's",), True), (Verdict.UNEXPLAINED, (), False),
    (Verdict.SLIP, ("the name is only 60 % sure",), False), (Verdict.EDIT, ("a method not known",), False),
    (Verdict.RIGHT, (), False),
])  # fmt: skip
def test_an_answer_waits_while_it_lies_in_the_tray_and_only_the_teacher_can_mark_it(
    verdict: Verdict, tray: tuple[str, ...], waits: bool
) -> None:
    assert replace(RIGHT, verdict=verdict, in_tray=tray).is_waiting is waits


def test_what_has_no_mark_yet_earns_nothing_and_is_not_sure_and_a_blank_is_surely_blank() -> None:
    found = [for_the_teacher(SKETCH, " on paper "), unreadable(SKETCH, "?", "no sketch"), blank(SKETCH, " ")]
    assert [(out.marks, out.out_of, out.sure, out.is_waiting) for out in found] == [
        (D(0), D(3), 0, True), (D(0), D(3), 0, True), (D(0), D(3), 1, False),
    ]  # fmt: skip
    assert [(out.verdict, out.raw, out.read_as) for out in found] == [
        (Verdict.UNEXPLAINED, " on paper ", "on paper"), (Verdict.UNREADABLE, "?", ""), (Verdict.BLANK, " ", ""),
    ]  # fmt: skip
    assert found[1].in_tray == ("could not be read: no sketch",)
