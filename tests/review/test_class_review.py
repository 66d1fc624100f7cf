"""The review of a class: recurrences, facilities, the in-tray and who is out, from outcomes alone."""

from dataclasses import replace
from decimal import Decimal

import pytest

from bank_fixture import BANK
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.review.class_review import ClassReview, class_review

TASK = Task("winter-1", "Winter sheet 1", ("drain-hole",))
CODES = ("HB01", "HB02", "LW01", "LW02")
DRAWN = draw_class(BANK["drain-hole"], TASK, CODES, frozenset())
SHEETS = [
    Sheet(sheet_code(TASK.key, c, 1), TASK, Student(c, f"Name of {c}", c[:2]), (DRAWN[c],)) for c in CODES
]  # fmt: skip
FACE, RADIUS, EDGE = "face-area-for-sheared-edge", "radius-for-diameter", "sheared-edge-for-face-area"
RIGHT = Outcome(Decimal(3), Decimal(3), Verdict.RIGHT, "Right.", raw="94 kN")


def slip(*who: str, marks: str = "1") -> Outcome:
    """An outcome that names misconceptions."""
    return Outcome(Decimal(marks), Decimal(3), Verdict.SLIP, "A slip.", who, sure=0.97, raw="70 kN")


def waiting(reason: str) -> Outcome:
    """An outcome that waits for the teacher."""
    return Outcome(Decimal(0), Decimal(3), Verdict.UNEXPLAINED, "Not right.", raw="71 kN", in_tray=(reason,))


def reviewed(*rows: dict[str, Outcome]) -> ClassReview:
    """The review of the first sheets with these outcomes, by ask key; the rest did not come back."""
    outcomes = {sheet.code: row for sheet, row in zip(SHEETS, rows, strict=False)}
    return class_review("First years", SHEETS, outcomes, BANK.misconceptions)


def test_those_who_did_not_hand_in_are_named_and_count_for_nothing() -> None:
    found = reviewed({"1.a": RIGHT}, {"1.a": slip(FACE)})
    assert (found.issued, found.returned, found.outstanding) == (4, 2, ("LW01", "LW02"))
    assert found.facilities[0].facility == pytest.approx(4 / 6)


def test_misconceptions_stand_by_how_many_students_show_them_then_by_how_often() -> None:
    found = reviewed(
        {"1.a": slip(FACE), "1.b": slip(EDGE)}, {"1.a": slip(FACE), "1.b": slip(EDGE), "1.a.A_s": slip(FACE)},
        {"1.a": slip(RADIUS)}, {"1.a": RIGHT},
    )  # fmt: skip
    assert [(r.misconception.key, r.students) for r in found.recurrences] == [
        (FACE, ("HB01", "HB02")), (EDGE, ("HB01", "HB02")), (RADIUS, ("LW01",)),
    ]  # fmt: skip
    assert [len(r.seen) for r in found.recurrences] == [3, 2, 1]
    assert [r.share for r in found.recurrences] == [0.5, 0.5, 0.25]
    assert found.recurrences[0].misconception is BANK.misconceptions[FACE]


def test_a_student_who_shows_one_misconception_twice_counts_once() -> None:
    (found,) = reviewed({"1.a": slip(FACE), "1.a.A_s": slip(FACE)}).recurrences
    assert (found.students, [s.label for s in found.seen]) == (("HB01",), ["1a A_s", "1a"])


def test_two_slips_count_for_both() -> None:
    assert {r.misconception.key for r in reviewed({"1.a": slip(FACE, RADIUS)}).recurrences} == {FACE, RADIUS}


def test_a_misconception_that_the_bank_no_longer_has_keeps_its_key() -> None:
    (found,) = reviewed({"1.a": slip("gone-from-the-bank")}).recurrences
    assert found.misconception.key == "gone-from-the-bank"


def test_sightings_keep_group_label_and_certainty() -> None:
    (found,) = reviewed({"1.a": slip(FACE)}).recurrences
    (seen,) = found.seen
    assert (seen.student, seen.group, seen.label, seen.sure) == ("HB01", "HB", "1a", 0.97)


def test_facilities_stand_in_the_order_of_the_sheet_with_their_verdicts() -> None:
    blank = replace(RIGHT, marks=Decimal(0), verdict=Verdict.BLANK)
    found = reviewed({"1.c": RIGHT, "1.a": RIGHT, "1.a.A_s": blank}, {"1.a": slip(FACE), "1.c": blank}).facilities
    assert [f.label for f in found] == ["1a A_s", "1a", "1c"]
    assert [f.is_line for f in found] == [True, False, False]
    assert [f.facility for f in found] == [0.0, pytest.approx(2 / 3), 0.5]
    assert dict(found[1].verdicts) == {Verdict.RIGHT: 1, Verdict.SLIP: 1}
    assert found[1].out_of == Decimal(3)


def test_answers_that_wait_for_the_teacher_count_into_no_facility() -> None:
    some, none = reviewed({"1.a": waiting("x"), "1.b": waiting("x")}, {"1.a": slip(FACE)}).facilities
    assert some.facility == pytest.approx(1 / 3)
    assert some.waiting == 1
    assert (none.facility, none.waiting) == (None, 1)


def test_the_in_tray_holds_what_waits_and_why_and_no_more() -> None:
    found = reviewed({"1.a": waiting("no known method gives this number"), "1.b": RIGHT}, {"1.a": slip(FACE)})
    (item,) = found.in_tray
    assert (item.sheet_code, item.student, item.label, item.raw) == (SHEETS[0].code, "HB01", "1a", "71 kN")
    assert item.reasons == ("no known method gives this number",)
    assert item.proposal == "unexplained, 0 of 3"


def test_a_class_of_which_nothing_came_back_has_an_empty_review() -> None:
    found = reviewed()
    assert (found.returned, found.recurrences, found.facilities, found.in_tray) == (0, (), (), ())
    assert found.outstanding == CODES


def test_outcomes_of_asks_that_a_sheet_has_not_are_passed_over() -> None:
    assert reviewed({"9.z": RIGHT}).facilities == ()
