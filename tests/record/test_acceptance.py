"""Slips that were accepted for a task after it was issued: kept with who and why, beside questions that stay."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, QUESTIONS, accepted, from_bundle, sheets, task
from witnessmark.maths.syntax import parse
from witnessmark.questions.checking.accepted_slips import AcceptedSlip, entry_text, with_accepted
from witnessmark.questions.model.parts import Slip
from witnessmark.questions.model.question import Question
from witnessmark.record.record import Record
from witnessmark.record.rows import Acceptance, Event
from witnessmark.words.errors import ProblemsFound

QUESTION = next(iter(QUESTIONS.values()))


def slips(question: Question) -> tuple[Slip, ...]:
    """The slips of the first part."""
    return question.quantity("a").slips


def test_an_accepted_slip_is_kept_with_who_when_and_why(issued: Record) -> None:
    issued.accept("shear-1", accepted(), " R.  Vos ", "four of them did so", LATER)
    assert issued.accepted("shear-1") == (Acceptance(accepted(), "R. Vos", "four of them did so", LATER),)
    last = issued.journal()[-1]
    assert (last.event, last.task, last.sheet, last.who, last.why) == (
        Event.ACCEPTED, "shear-1", "", "R. Vos", "four of them did so",
    )  # fmt: skip
    assert last.detail == "drain-hole a: both-faces, 2*tau*pi*d*t, keeps 1"


def test_the_sheets_of_its_task_are_marked_with_it_and_those_of_others_are_not(record: Record) -> None:
    record.add_sheets(sheets(), NOW)
    record.add_sheets(sheets(task("shear-2")), NOW)
    record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)
    for sheet in record.sheets("shear-1"):
        first, second = (v.question for v in sheet.variants)
        assert slips(first) == (Slip("both-faces", parse("2*tau*pi*d*t"), Decimal(1)),)
        assert first.misconceptions["both-faces"].say == "Count the edges that are cut."
        assert (first.source, first.fingerprint) == (QUESTION.source, QUESTION.fingerprint)
        assert slips(second) == ()
    assert record.sheets("shear-2") == sheets(task("shear-2"))
    code = sheets()[0].code
    assert record.sheet(code) == record.sheets("shear-1")[0]


def test_what_was_issued_stays_as_it_was(path: Path) -> None:
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets(), NOW)
        before = [line for line in record.export_jsonl() if '"journal"' not in line]
        record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)
        kept = [line for line in record.export_jsonl() if '"journal"' not in line and '"accepted"' not in line]
        assert kept == before
        assert record.add_sheets(record.sheets("shear-1"), LATER) == 0  # the same sheets, not others
        assert record.add_sheets(sheets(), LATER) == 0


def test_an_accepted_slip_can_be_taken_back_and_the_journal_keeps_both(issued: Record) -> None:
    issued.accept("shear-1", accepted(), "R. Vos", "four of them did so", NOW)
    assert issued.drop("shear-1", accepted(), "R. Vos", "they had misread the figure", LATER)
    assert issued.accepted("shear-1") == ()
    assert issued.sheets("shear-1") == sheets()
    assert [row.event for row in issued.journal()[-2:]] == [Event.ACCEPTED, Event.DROPPED]
    assert issued.journal()[-1].why == "they had misread the figure"
    assert not issued.drop("shear-1", accepted(), "R. Vos", "again", LATER)


@pytest.mark.parametrize(("who", "why"), [("", "seen"), ("R. Vos", " ")])
def test_without_a_name_or_a_reason_nothing_is_accepted(issued: Record, who: str, why: str) -> None:
    with pytest.raises(ProblemsFound) as raised:
        issued.accept("shear-1", accepted(), who, why, LATER)
    assert "[no-reason]" in str(raised.value)
    assert issued.accepted("shear-1") == ()


UNFIT = [
    accepted(answer="tau*pi*d*width"),
    replace(accepted(), part="b"),
    replace(accepted(), part="z"),
    accepted(line="B_s"),
    replace(accepted(), question="rivet"),
]


@pytest.mark.parametrize("slip", UNFIT, ids=["name", "judgement", "no part", "no line", "question"])
def test_a_version_of_the_question_that_cannot_have_the_slip_stays_without_it(slip: AcceptedSlip) -> None:
    assert with_accepted(QUESTION, [slip]) is QUESTION


def test_a_version_that_models_the_slip_already_keeps_its_own() -> None:
    once = with_accepted(QUESTION, [accepted()])
    assert with_accepted(once, [accepted(answer="3*tau*pi*d*t")]) is once


def test_a_slip_of_a_line_may_start_from_the_lines_right_value() -> None:
    (slip,) = slips(with_accepted(QUESTION, [accepted(answer="A_s/2", line="A_s")]))
    assert (slip.line, slip.answer) == ("A_s", parse("pi*d*t/2"))


def test_the_entry_for_the_bank_is_one_line_of_yaml() -> None:
    assert entry_text("both-faces", "2*tau*A_s", Decimal("1.5")) == (
        "- {misconception: both-faces, answer: 2*tau*A_s, keeps: 1.5}"
    )
    assert entry_text("x", "atan2(d, t)", Decimal(0), "A_s") == (
        "- {misconception: x, line: A_s, answer: 'atan2(d, t)', keeps: 0}"
    )
