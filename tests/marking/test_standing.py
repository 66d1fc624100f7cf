"""Where a student stands in one task, worked by hand: states, attempts, days, what is taken off, what stays out."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.marking.standing import (
    AttemptStanding,
    State,
    TaskStanding,
    attempt_standing,
    counted,
    earned_marks,
    marks_available,
    marks_set_aside,
    task_standing,
)
from witnessmark.questions.sheet.arranged import Arranged, Arrangement, Arranging, Excuse
from witnessmark.questions.sheet.lateness import Each, Late
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Sheet, Student, Task, Which

D = Decimal
DUE = date(2027, 3, 5)
BEFORE, AFTER = date(2027, 3, 4), date(2027, 3, 6)
NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)
STUDENT = Student("HB01", "Idris Vael")
HOLE = wm.load_bank(SMALL_BANK)["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm")
TASK = Task("shear-1", "Shear", ("drain-hole",), DUE, late=Late(D(1), each=Each.DAY, most=D(3)))
"""Its one question has 6 marks: 3 of part a, 2 of part b, 1 of part c; a day late takes one off, at most three."""
FIRST, SECOND, THIRD = (Sheet(f"S{n}", TASK, STUDENT, (HOLE,), n) for n in (1, 2, 3))


def earning(*marks: int) -> dict[str, Outcome]:
    """Outcomes of parts a, b and c that earn so much."""
    parts = zip("abc", marks, (3, 2, 1), strict=False)
    return {f"1.{key}": Outcome(D(mark), D(of), Verdict.WRONG, "so") for key, mark, of in parts}


def given(kind: Arranging, value: str, sheet: str = "") -> Arrangement:
    """One thing arranged for the student; of the class where it is the leaving."""
    task = "" if kind is Arranging.LEFT else TASK.key
    return Arrangement(kind, task, STUDENT.code, value, "K. Lund", "told by the yard", NOON, sheet)


AGAIN = tuple(given(Arranging.ATTEMPT, str(s.attempt), s.code) for s in (SECOND, THIRD))


def stands(
    *arranged: Arrangement, sheets: Sequence[Sheet] = (FIRST,), today: date = AFTER,
    earned: Mapping[str, Mapping[str, Outcome]] | None = None, received: Mapping[str, date] | None = None,
    task: Task = TASK, aside: Mapping[str, Decimal] | None = None,
) -> TaskStanding:  # fmt: skip
    """Where the student stands who did this."""
    return task_standing(task, STUDENT, sheets, earned or {}, received or {}, Arranged(arranged), today, aside or {})


def back(*arranged: Arrangement, day: date = DUE) -> TaskStanding:
    """The first sheet came back on a day with five of six marks."""
    return stands(*arranged, earned={"S1": earning(3, 2, 0)}, received={"S1": day})


def test_marks_of_lines_are_held_in_those_of_their_part() -> None:
    line = {"1.a.A_s": Outcome(D(1), D(1), Verdict.RIGHT, "so")}
    assert earned_marks(FIRST, earning(3, 1, 0) | line) == D(4)
    assert earned_marks(FIRST, line) is None
    assert earned_marks(FIRST, earning(0)) == D(0)
    assert marks_available(FIRST, {}) == D(6)


def test_a_part_that_was_set_aside_gives_the_same_to_all_unless_each_sheet_asks_its_own() -> None:
    aside = earning(0, 2) | {"1.c": Outcome(D(1), D(1), Verdict.SET_ASIDE, "so")}
    found = marks_set_aside({"S1": earning(0, 0, 0), "S2": aside | {"1.b": Outcome(D(0), D(0), Verdict.SET_ASIDE, "")}})
    assert found == {"1.b": D(0), "1.c": D(1)}
    assert marks_available(FIRST, found) == D(4)
    own = replace(FIRST, task=replace(TASK, questions=EACH_ITS_OWN))
    assert marks_available(own, found) == D(6)


@pytest.mark.parametrize(("day", "state", "off", "counts"), [
    (BEFORE, State.IN_TIME, 0, 5), (DUE, State.IN_TIME, 0, 5), (AFTER, State.LATE, 1, 4),
    (date(2027, 3, 15), State.LATE, 3, 2),
])  # fmt: skip
def test_each_day_after_the_day_that_was_due_takes_off_what_the_rule_says(
    day: date, state: State, off: int, counts: int
) -> None:
    found = back(day=day)
    assert (found.state, found.marks, found.out_of) == (state, D(counts), D(6))
    assert (found.attempts[0].off, found.attempts[0].counts) == (D(off), D(counts))
    assert found.share == D(counts) / 6


def test_nothing_is_taken_off_what_earned_nothing_or_never_came() -> None:
    late = attempt_standing(FIRST, earning(0, 0, 0), AFTER, Arranged())
    assert (late.earned, late.days_late, late.off, late.counts) == (D(0), 1, D(0), D(0))
    nothing = attempt_standing(FIRST, {}, AFTER, Arranged())
    assert (nothing.earned, nothing.days_late, nothing.off, nothing.counts) == (None, 0, D(0), None)


def test_the_day_of_receiving_that_a_teacher_gave_counts_before_that_of_the_file() -> None:
    told = given(Arranging.RECEIVED, DUE.isoformat(), "S1")
    assert [back(*by, day=AFTER).state for by in ((), (told,))] == [State.LATE, State.IN_TIME]
    assert back(told, day=AFTER).attempts[0].received == DUE


def test_the_answers_that_wait_are_counted_over_all_attempts() -> None:
    waits = Outcome(D(0), D(3), Verdict.UNREADABLE, "so", in_tray=("could not be read",))
    found = stands(*AGAIN, sheets=(FIRST, SECOND), earned={"S1": {"1.a": waits}, "S2": {"1.a": waits, "1.b": waits}})
    assert ([one.waiting for one in found.attempts], found.waiting) == ([1, 2], 3)


def test_who_has_more_time_is_in_time_by_it_and_told_so_only_where_it_was_needed() -> None:
    longer = given(Arranging.EXTENDED, date(2027, 3, 9).isoformat())
    states = [back(longer, day=day).state for day in (BEFORE, AFTER, date(2027, 3, 10))]
    assert states == [State.IN_TIME, State.EXTENDED, State.LATE]


def test_a_further_attempt_alone_in_time_owes_nothing_to_an_extension() -> None:
    found = stands(*AGAIN, sheets=(FIRST, SECOND), earned={"S2": earning(3)}, received={"S2": date(2027, 4, 1)})
    assert found.state is State.IN_TIME


def test_one_late_attempt_of_several_makes_late() -> None:
    earned, received = {"S1": earning(3), "S2": earning(3)}, {"S1": AFTER, "S2": AFTER}
    found = stands(*AGAIN, sheets=(SECOND, FIRST), earned=earned, received=received)
    assert [one.days_late for one in found.attempts] == [1, 0]  # the second is due on no day
    assert found.state is State.LATE


def test_an_excuse_stays_out_an_absence_until_something_came() -> None:
    absent, exempt = (given(Arranging.EXCUSED, excuse.value) for excuse in (Excuse.ABSENT, Excuse.EXEMPT))
    found = [stands(absent), back(absent), stands(exempt), back(exempt)]
    assert [one.state for one in found] == [State.ABSENT, State.IN_TIME, State.EXEMPT, State.EXEMPT]
    assert [one.marks for one in found] == [None, D(5), None, None]
    assert [one.share for one in found] == [None, D(5) / 6, None, None]


@pytest.mark.parametrize(("today", "state", "marks"), [
    (BEFORE, State.OPEN, None), (DUE, State.OPEN, None), (AFTER, State.MISSING, D(0)),
])  # fmt: skip
def test_what_did_not_come_back_by_its_day_is_worth_nothing_and_open_until_then(
    today: date, state: State, marks: Decimal | None
) -> None:
    found = stands(today=today)
    assert (found.state, found.marks, found.out_of) == (state, marks, D(6))


def test_a_task_is_open_while_one_attempt_is_or_where_no_day_was_named() -> None:
    assert stands(*AGAIN, sheets=(FIRST, SECOND)).state is State.OPEN
    day_of_second = given(Arranging.EXTENDED, AFTER.isoformat(), "S2")
    twice = [stands(*AGAIN, day_of_second, sheets=(FIRST, SECOND), today=day) for day in (AFTER, date(2027, 3, 7))]
    assert [one.state for one in twice] == [State.OPEN, State.MISSING]
    no_day = replace(TASK, due=None)
    assert stands(task=no_day, sheets=(replace(FIRST, task=no_day),)).state is State.OPEN


@pytest.mark.parametrize(("day", "state"), [(BEFORE, State.LEFT), (DUE, State.LEFT), (AFTER, State.MISSING)])
def test_who_left_before_the_day_was_over_owes_nothing(day: date, state: State) -> None:
    assert stands(given(Arranging.LEFT, day.isoformat())).state is state


def test_who_left_after_one_of_two_days_owes_what_was_due_then() -> None:
    day_of_second = given(Arranging.EXTENDED, date(2027, 4, 1).isoformat(), "S2")
    left = given(Arranging.LEFT, AFTER.isoformat())
    assert stands(*AGAIN, day_of_second, left, sheets=(FIRST, SECOND), today=date(2027, 5, 1)).state is State.MISSING


def test_who_left_owes_nothing_that_was_due_on_no_day() -> None:
    no_day = replace(TASK, due=None)
    left = given(Arranging.LEFT, AFTER.isoformat())
    assert stands(left, task=no_day, sheets=(replace(FIRST, task=no_day),)).state is State.LEFT


def test_without_a_sheet_there_is_nothing_to_hand_in() -> None:
    found = stands(sheets=())
    assert (found.state, found.marks, found.out_of, found.share) == (State.NOT_ISSUED, None, D(0), None)
    assert stands(sheets=(SECOND,)).state is State.NOT_ISSUED  # an attempt that was taken back


def test_a_task_of_which_all_was_set_aside_stays_out() -> None:
    found = stands(aside={"1.a": D(0), "1.b": D(0), "1.c": D(0)}, earned={"S1": earning(0)}, received={"S1": DUE})
    assert (found.state, found.marks, found.out_of, found.share) == (State.IN_TIME, None, D(0), None)
    some = stands(aside={"1.a": D(0), "1.b": D(0)}, earned={"S1": earning(0)}, received={"S1": DUE})
    assert (some.marks, some.out_of) == (D(0), D(1))


def test_marks_of_nothing_are_no_share() -> None:
    found = TaskStanding(STUDENT.code, TASK.key, D(0), State.IN_TIME, (), D(0))
    assert (found.share, replace(found, out_of=D(4), marks=D(1)).share) == (None, D("0.25"))


def test_several_attempts_are_out_of_the_marks_of_one() -> None:
    found = stands(*AGAIN, sheets=(FIRST, SECOND, THIRD), earned={"S1": earning(1), "S3": earning(2)})
    assert (found.out_of, found.marks) == (D(6), D(2))


def tried(earned: int | None, off: int = 0) -> AttemptStanding:
    """An attempt that earned so much, less this for lateness."""
    return AttemptStanding(1, "S", None if earned is None else D(earned), DUE, DUE, 0, D(off), 0)


@pytest.mark.parametrize(("which", "marks"), [(Which.BEST, 4), (Which.LAST, 3), (Which.MEAN, D(8) / 3)])
def test_of_several_attempts_the_best_the_last_or_their_mean_counts(which: Which, marks: Decimal) -> None:
    """6 less 2, 1 and 3 marks, and one that never came."""
    assert counted(which, [tried(6, off=2), tried(1), tried(3), tried(None)]) == marks
    assert counted(which, [tried(None)]) == 0
    assert counted(which, [tried(5)]) == 5
