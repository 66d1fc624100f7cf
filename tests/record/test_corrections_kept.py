"""What a teacher corrected in a task after it was issued: kept beside what was issued, told, taken back."""

from dataclasses import replace
from decimal import Decimal

import pytest

from record.examples import LATER, NOW, accepted, sheets, task
from witnessmark.maths.syntax import parse
from witnessmark.questions.checking.corrections import Changes, Correction
from witnessmark.questions.sheet.task import Rules
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

TWICE = Correction("drain-hole", "a", Changes.ANSWER, "2*tau*A_s")
THRICE = Correction("drain-hole", "a", Changes.ANSWER, "3*tau*A_s")
WHO = ("R. Vos", "both edges are cut", LATER)


def answers(record: Record, task_key: str = "shear-1") -> set[tuple[str, object]]:
    """Question and right answer of the first part, over all sheets of a task."""
    questions = [variant.question for sheet in record.sheets(task_key) for variant in sheet.variants]
    return {(question.key, question.quantity("a").answer) for question in questions}


def test_a_correction_is_kept_in_order_and_the_sheets_of_its_task_are_marked_by_it(issued: Record) -> None:
    issued.add_sheets(sheets(task("shear-2")), NOW)
    for one in (THRICE, TWICE):
        issued.correct("shear-1", one, f"answer of drain-hole a: {one.text}", *WHO)
    assert issued.corrections("shear-1") == (THRICE, TWICE)
    assert issued.corrections("shear-2") == ()
    assert answers(issued) == {("drain-hole", parse("2*tau*A_s")), ("rivet", parse("tau*A_s"))}
    assert answers(issued, "shear-2") == {("drain-hole", parse("tau*A_s")), ("rivet", parse("tau*A_s"))}
    assert issued.verify() == ()


def test_the_journal_tells_a_correction_and_that_it_was_taken_back(issued: Record) -> None:
    with issued.step("correct", "shear-1", NOW, "R. Vos"):
        issued.correct("shear-1", TWICE, "answer of drain-hole a: 2*tau*A_s", *WHO)
    issued.undo("R. Vos", "one edge is cut", LATER)
    assert issued.corrections("shear-1") == ()
    told = [(row.event, row.task, row.detail) for row in issued.journal() if "correct" in row.event]
    assert told == [
        (Event.CORRECTED, "shear-1", "answer of drain-hole a: 2*tau*A_s"),
        (Event.UNCORRECTED, "shear-1", "answer of drain-hole a: 2*tau*A_s"),
    ]
    assert answers(issued) == {("drain-hole", parse("tau*A_s")), ("rivet", parse("tau*A_s"))}


def test_a_corrected_question_has_the_slips_that_were_accepted_beside_it(issued: Record) -> None:
    issued.correct("shear-1", TWICE, "answer of drain-hole a", *WHO)
    issued.accept("shear-1", accepted(), *WHO)
    first = issued.sheets("shear-1")[0].variants[0].question
    assert (first.quantity("a").answer, [slip.misconception for slip in first.quantity("a").slips]) == (
        parse("2*tau*A_s"), ["both-faces"],
    )  # fmt: skip


def test_sheets_of_one_text_share_the_corrected_question(issued: Record) -> None:
    issued.correct("shear-1", TWICE, "answer of drain-hole a", *WHO)
    first, second, _ = issued.sheets("shear-1")
    assert first.variants[0].question is second.variants[0].question
    assert issued.sheets("shear-1")[0].variants[0].question is first.variants[0].question


@pytest.mark.parametrize(("who", "why"), [("", "seen"), ("R. Vos", " ")])
def test_nothing_is_corrected_without_a_name_and_a_reason(issued: Record, who: str, why: str) -> None:
    before = issued.journal()
    with pytest.raises(ProblemsFound, match="for answer of drain-hole a"):
        issued.correct("shear-1", TWICE, "answer of drain-hole a", who, why, LATER)
    with pytest.raises(ProblemsFound, match="for other rules"):
        issued.change_rules(task(rules=Rules(figures=2)), who, why, LATER)
    assert issued.corrections("shear-1") == ()
    assert issued.journal() == before


def test_other_rules_stand_for_the_task_and_its_sheets_with_who_and_why(issued: Record) -> None:
    other = replace(task(), rules=Rules(unit_missing=Decimal(1)))
    issued.add_task(task("shear-2"), NOW)
    issued.change_rules(other, " R.  Vos", "agreed with the class", LATER)
    assert {sheet.task for sheet in issued.sheets("shear-1")} == {other}
    found = issued.task("shear-2")
    assert found is not None
    assert found.task == task("shear-2")
    row = issued.journal()[-1]
    assert (row.event, row.task, row.who, row.why) == (Event.TASK, "shear-1", "R. Vos", "agreed with the class")
    assert '"unit_missing":"1"' in row.detail
